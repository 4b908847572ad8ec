"""What an inspection finds, in symbols: rules, field paths, SI values. Reports turn them into text, JSON and SARIF."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

from swaplint.declare.rule import Rule
from swaplint.declare.sources import Source
from swaplint.declare.verdicts import LEVELS, Kind, Level, Limit
from swaplint.host.packs import LoadedPack
from swaplint.host.problems import Problem
from swaplint.spec.fields import FieldFacts, Stated
from swaplint.spec.job import STAGES, Stage
from swaplint.spec.loading import LoadedSpec
from swaplint.spec.shape import facts_at
from swaplint.spec.systems import SYSTEMS
from swaplint.spec.toml_source import Place

KINDS: tuple[Kind, ...] = ("fail", "review", "open", "pass", "notApplicable", "informational")
"""The kinds of a result, in the order of a report."""


@dataclass(frozen=True, slots=True)
class Remedy:
    """A change of one field that makes the rule pass, tried on the whole build."""

    field: str
    before: float | str | None
    after: float | str
    unit: str
    quantity: str
    breaks: tuple[str, ...] = ()
    """Rules that the change newly breaks."""
    mends: tuple[str, ...] = ()
    """Other failing rules that the change mends."""
    written: str = ""
    """The new value as it would stand in the file."""
    fields: tuple[str, ...] = ()
    """The fields that the change puts the value in, where `field` names several alike."""


@dataclass(frozen=True, slots=True)
class Suppression:
    """A signed-off departure from a rule."""

    justification: str
    by: str = ""
    expires: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """The outcome of one rule on the build or on one of its parts."""

    rule: Rule
    kind: Kind
    level: Level | None
    """Only for a fail."""
    subject: str
    """The field path that the finding is about."""
    message: str
    found: float | None = None
    limit: Limit | None = None
    margin: float | None = None
    quantity: str = ""
    unit: str = ""
    inputs: tuple[str, ...] = ()
    """The stated fields that the rule read, in order."""
    unknown: tuple[str, ...] = ()
    """The fields that it lacked, or that a fallback stood in for."""
    optional: tuple[str, ...] = ()
    """The fields that it asked for and did without."""
    practices: tuple[str, ...] = ()
    """The common-practice fallbacks in use, by name."""
    deciding: tuple[str, ...] = ()
    remedies: tuple[Remedy, ...] = ()
    sources: tuple[Source, ...] = ()
    cautions: tuple[str, ...] = ()
    suppression: Suppression | None = None
    part: str = ""
    """What is judged where a rule judges several: a part's path, a gear."""

    @property
    def sort_key(self) -> tuple[int, int, int, float, str, str]:
        """What matters most first: kind, level, system, margin."""
        return (
            KINDS.index(self.kind),
            LEVELS.index(self.level) if self.level else 0,
            SYSTEMS.index(self.rule.system),
            round(self.margin, 9) if self.margin is not None else 0.0,  # parts alike in the order of their names
            self.rule.id,
            self.part,
        )


@dataclass(frozen=True, slots=True)
class Ask:
    """A field to find out next, and the rules that wait for it."""

    field: str
    rules: tuple[str, ...]
    where: str
    description: str


@dataclass(slots=True)
class Inspection:
    """One spec, inspected."""

    spec: LoadedSpec
    stage: Stage
    findings: list[Finding] = field(default_factory=list)
    ask_next: list[Ask] = field(default_factory=list)
    seconds: dict[str, float] = field(default_factory=dict)
    """What each rule cost, by id."""

    def counts(self) -> dict[str, int | dict[str, int]]:
        """How many results there are of each kind, and of each level of fail."""
        kinds = Counter(f.kind for f in self.findings)
        levels = Counter(f.level for f in self.findings if f.kind == "fail")
        out: dict[str, int | dict[str, int]] = {"fail": {level: levels[level] for level in LEVELS}}
        out.update({kind: kinds[kind] for kind in ("review", "open", "pass", "notApplicable", "informational")})
        return out

    def shuts(self, gate: str) -> bool:
        """Whether a fail shuts the gate."""
        if gate == "never":
            return False
        bound = LEVELS.index(gate)
        return any(
            f.kind == "fail" and f.level is not None and LEVELS.index(f.level) <= bound and f.suppression is None
            for f in self.findings
        )

    def facts_of(self, path: str) -> FieldFacts | None:
        """The facts of a field; None for a part."""
        return facts_at(type(self.spec.build), path)

    def stated(self, path: str) -> Stated | None:
        """The stated value of a field."""
        return self.spec.stated(path)


@dataclass(slots=True)
class Report:
    """A whole run: every spec, the packs that took part, and what went wrong."""

    version: str
    packs: Sequence[LoadedPack]
    inspections: list[Inspection] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)


def sheet_citation(inspection: Inspection, source: Source) -> tuple[str, Place | None]:
    """How a data-sheet source is cited in this build: the sheet's document, or the spec where it states the value."""
    if not source.field:
        return source.title, None
    document = inspection.spec.document(source.field)
    place = inspection.spec.place(source.field) if inspection.spec.has(source.field) else None
    if document is not None:
        return str(document), place
    return source.title, place


def due_passed(stage: Stage, due: Stage) -> bool:
    """Whether a rule is due at a stage: missing information is then a fail."""
    return STAGES.index(stage) >= STAGES.index(due)
