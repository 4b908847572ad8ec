"""What an inspection finds, in symbols: rules, field paths, SI values. Reports turn them into text, JSON and SARIF."""

from __future__ import annotations

import functools
import itertools
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from swaplint.build.estimates import Estimated
from swaplint.declare.rule import Rule
from swaplint.declare.sources import Source
from swaplint.declare.verdicts import LEVELS, Advice, Kind, Level, Limit
from swaplint.host.packs import LoadedPack
from swaplint.host.problems import Problem
from swaplint.inspecting.baseline import Baseline
from swaplint.inspecting.selection import EVERYTHING, Selection
from swaplint.spec.facts import FieldFacts, Stated
from swaplint.spec.job import STAGES, Stage
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.shape import facts_at
from swaplint.spec.systems import SYSTEMS
from swaplint.spec.toml_source import Place

KINDS: tuple[Kind, ...] = ("fail", "review", "open", "pass", "notApplicable", "informational")
"""The kinds of a result, in the order of a report."""
_KIND_AT = {kind: at for at, kind in enumerate(KINDS)}
_LEVEL_AT = {level: at for at, level in enumerate(LEVELS)}
_SYSTEM_AT = {system: at for at, system in enumerate(SYSTEMS)}


MOST_INPUTS = 120
"""How many inputs of a result a report lists. What rests on more rests on all parts of a kind, however many."""
MOST_INPUTS_IN_ALL = 60_000
"""How many inputs the results of one spec list together: five times those of a build of ordinary size."""
FEW_INPUTS = 20
"""How many each result lists where there would be more."""


def first_of(paths: tuple[str, ...], most: int, part: str) -> tuple[str, ...]:
    """So many of some fields: those of a part, or of several with spaces between, first where there are more."""
    if len(paths) <= most:
        return paths
    below = tuple(f"{path}." for path in part.split())
    own = [path for path in paths if below and path.startswith(below)]
    return tuple(itertools.islice(dict.fromkeys((*own, *paths)), most))


class Remedy(NamedTuple):
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
    advised: bool = False
    """Whether the rule's author advises it, rather than the search for the nearest value."""
    drops: tuple[str, ...] = ()
    """Fields that are of what stood there before, and that the change takes out of the spec: to be stated anew."""
    fits: tuple[tuple[str, str], ...] = ()
    """Of a part that is not fitted now: what the spec then says of it besides, each field with its value as written."""
    other_part: bool = False
    """Whether the field is what a part was made as: its new value is that of another part."""


class Suppression(NamedTuple):
    """A signed-off departure from a rule."""

    justification: str
    by: str = ""
    expires: str = ""
    """The last day, or the last stage of the job, that it holds for."""
    date: str = ""
    """The day on which it was signed."""
    up_to: str = ""
    """The worst value that is accepted, as it was written; empty where the result has no number."""
    place: Place | None = None
    """Where it is written."""
    external: bool = False
    """Whether that is a file of the shop's own, not the spec."""


class Reweighed(NamedTuple):
    """What a shop's policy made of the level of a finding."""

    before: Level
    """What it would be without the policy: of a fail its own level, else that of its rule."""
    rule: Level
    """What it makes of the level of the rule."""
    to: Level
    """The level that the policy names."""
    raised: bool
    reason: str = ""
    """Why it was lowered."""

    @property
    def words(self) -> str:
        """As a report says it."""
        if self.raised:
            return f"raised from {self.before} to {self.to} by the policy"
        return f"lowered from {self.before} to {self.to} by the policy: {self.reason}"


class PolicyCited(NamedTuple):
    """A shop's policy, as a report names it."""

    name: str
    revision: str
    date: str
    file: str
    sha256: str

    def __str__(self) -> str:
        """As people cite it."""
        return f"{self.name}, revision {self.revision} of {self.date}"


@dataclass(slots=True)
class Terms:
    """What a spec is judged by besides the rules: the day, the shop's policy, the departures that were signed for."""

    on: str = ""
    """The day; empty where nothing depends on it and the call names none."""
    policy: PolicyCited | None = None
    reviews_gate: bool = False
    """Whether reviews of error-level rules shut the gate."""
    lowered: tuple[tuple[str, Level, str], ...] = ()
    """The rules whose level the policy lowers for this spec, each with the level and the reason."""
    raised: tuple[tuple[str, Level], ...] = ()
    """The rules whose level it raises."""
    packs_wanted: tuple[str, ...] = ()
    """Packs that the policy asks for and that are not there, or in another version, each in words."""
    deviations_wrong: tuple[Problem, ...] = ()
    """The deviations that are not signed for as they must be, or accept nothing that there is."""
    files: dict[str, str] = field(default_factory=dict)
    """The files with deviations that the call names, and the hash of each."""


@dataclass(slots=True)  # not frozen, for that takes five times as long to make; changed ones are made anew
class Finding:
    """The outcome of one rule on the build or on one of its parts."""

    rule: Rule
    kind: Kind
    level: Level | None
    """Only for a fail."""
    subject: str
    """The field path that the finding is about."""
    message: str
    demand: str = ""
    """Which of the rule's demands, by its name; empty where it makes but one, or came to none."""
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
    quantities: tuple[str, ...] = ()
    """The quantities that it rests on, those beneath before those above, each by its id and what it is of."""
    due: bool = False
    """Of an open finding: whether the answer is owed at this stage."""
    usually_passes: bool = False
    """Of an open finding: whether it passes with typical values for the few fields that it lacks. No verdict."""
    why: str = ""
    """Why it is left to a person, or to be looked up, where its numbers alone would be a verdict."""
    from_memory: bool = False
    """Whether it would be an error, but its limit is known from memory alone."""
    practices: tuple[str, ...] = ()
    """The common-practice fallbacks in use, by name."""
    estimates: tuple[Estimated, ...] = ()
    """The fields that nobody states and that were estimated from others."""
    deciding: tuple[str, ...] = ()
    advice: tuple[Advice, ...] = ()
    """What its rule's author would choose instead; not tried yet, see `remedies`."""
    remedies: tuple[Remedy, ...] = ()
    sources: tuple[Source, ...] = ()
    cautions: tuple[str, ...] = ()
    suppression: Suppression | None = None
    not_accepted: str = ""
    """Why a deviation that was signed for it does not hold: a sentence."""
    reweighed: Reweighed | None = None
    """What a policy made of its level; None where it leaves that as it is."""
    part: str = ""
    """What is judged where a rule judges several: a part's path, a gear."""
    carried: bool = False
    """Whether the tolerances are in its limit already."""

    @property
    def key(self) -> tuple[str, str, str]:
        """What tells it from every other finding about the same build: rule, part and demand."""
        return self.rule.id, self.part, self.demand

    @property
    def rule_level(self) -> Level:
        """The level of its rule, as a policy may have changed it."""
        return self.rule.level if self.reweighed is None else self.reweighed.rule

    def first(self, most: int, paths: tuple[str, ...]) -> tuple[str, ...]:
        """So many of some fields: those of the part that is judged first, where there are more."""
        return first_of(paths, most, self.part)

    @property
    def sort_key(self) -> tuple[int, bool, int, int, float, str, str, str]:
        """What matters most first: kind, what is due, level, system, margin."""
        return (
            _KIND_AT[self.kind],
            not self.due,
            _LEVEL_AT[self.level or (self.rule_level if self.due else LEVELS[0])],
            _SYSTEM_AT[self.rule.system],
            round(self.margin, 9) if self.margin is not None else 0.0,  # parts alike in the order of their names
            self.rule.id,
            self.part,
            self.demand,
        )


class Ask(NamedTuple):
    """A field to find out next, and the rules that wait for it."""

    field: str
    rules: tuple[str, ...]
    where: str
    description: str
    typical: str = ""
    """A typical value, as the spec would state it."""


@dataclass
class Inspection:
    """One spec, inspected."""

    spec: LoadedSpec
    stage: Stage
    selection: Selection = EVERYTHING
    """The rules that were asked for."""
    assumed_stage: bool = False
    """Whether neither the spec nor the caller states the stage."""
    findings: list[Finding] = field(default_factory=list)
    ask_next: list[Ask] = field(default_factory=list)
    seconds: dict[str, float] = field(default_factory=dict)
    """What each rule cost, by id."""
    broken: list[str] = field(default_factory=list)
    """Rules that broke, whose results are missing."""
    not_loaded: list[tuple[str, str | None]] = field(default_factory=list)
    """Packs that could not be loaded, by name, and rules of the others that were left out, each with its pack."""
    terms: Terms = field(default_factory=Terms)
    """What it is judged by besides the rules."""
    baseline: Baseline | None = None
    """How it stands to an earlier inspection, where the call names one."""

    @property
    def accepted(self) -> list[Finding]:
        """What somebody signed for, worst first."""
        return [finding for finding in self.findings if finding.suppression is not None]

    def counts(self) -> dict[str, int | dict[str, int]]:
        """How many results there are of each kind, of each level of fail, and of each level that is still owed."""
        standing = [f for f in self.findings if f.suppression is None]
        kinds = Counter(f.kind for f in standing)
        fails = Counter(f.level for f in standing if f.kind == "fail")
        owed = Counter(f.rule_level for f in standing if f.due)
        out: dict[str, int | dict[str, int]] = {
            "fail": {level: fails[level] for level in LEVELS},
            "due": {level: owed[level] for level in LEVELS},
        }
        out.update({kind: kinds[kind] for kind in KINDS if kind != "fail"})
        out["suppressed"] = len(self.findings) - len(standing)
        return out

    @functools.cached_property
    def most_inputs(self) -> int:
        """How many inputs, unknown fields and fields that decide a report lists of each result."""
        lists = ((one.inputs, one.unknown, one.deciding) for one in self.findings)
        in_all = sum(min(MOST_INPUTS, len(paths)) for of_one in lists for paths in of_one)
        return MOST_INPUTS if in_all <= MOST_INPUTS_IN_ALL else FEW_INPUTS

    def listed_inputs(self, finding: Finding) -> tuple[str, ...]:
        """The inputs of a result that a report lists: all, or where there are too many those of the part first."""
        return finding.first(self.most_inputs, finding.inputs)

    def more_inputs(self, finding: Finding) -> int:
        """How many inputs of a result a report leaves out."""
        return max(0, len(finding.inputs) - self.most_inputs)

    def listed_unknown(self, finding: Finding) -> tuple[str, ...]:
        """The unknown fields of a result that a report lists."""
        return finding.first(self.most_inputs, finding.unknown)

    def more_unknown(self, finding: Finding) -> int:
        """How many unknown fields of a result a report leaves out."""
        return max(0, len(finding.unknown) - self.most_inputs)

    def listed_deciding(self, finding: Finding) -> tuple[str, ...]:
        """The fields that decide a result that a report lists: those that weigh most come first."""
        return finding.deciding[: self.most_inputs]

    def more_deciding(self, finding: Finding) -> int:
        """How many fields that decide a result a report leaves out."""
        return max(0, len(finding.deciding) - self.most_inputs)

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
    selection: Selection = EVERYTHING
    """The rules that were asked for."""


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
    """Whether a rule is due at a stage: what is still open then is owed."""
    return STAGES.index(stage) >= STAGES.index(due)
