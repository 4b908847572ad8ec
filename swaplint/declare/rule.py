"""Rules: one question about the build each, answered by a pure function of the build.

    @rule(
        "fuel.suction-loss",
        level="error",
        due="quote",
        sources=[sheet("engine.fuel.max_inlet_restriction")],
        cautions=[FUEL_FIRE],
        adjust=["plumbing.fuel.supply.bore"],
        bad=[{"plumbing.fuel.supply.bore": "5 mm"}],
        good=[{"plumbing.fuel.supply.bore": "12 mm"}],
    )
    def suction_loss(build: Build) -> Verdict:
        '''Can the pump draw fuel through this line without exceeding its inlet restriction?

        Computes: …
        Limit: …
        Consequence: …
        Remedy: …
        Cannot tell: …
        '''
        return at_most(suction_pressure_loss(build), build.engine.fuel.max_inlet_restriction)

All that the tool says of a rule is read from here: the rulebook page, the texts in SARIF, the tests.
"""

from __future__ import annotations

import functools
import inspect
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from swaplint.declare.practices import Practice
from swaplint.declare.quantities import ID
from swaplint.declare.silence import NO_SILENCE, NOTHING, Silence, silence_of, wrong_with_silence
from swaplint.declare.sources import Source
from swaplint.declare.verdicts import LEVELS, Level, Verdict, is_demand_name
from swaplint.declare.versions import VERSION
from swaplint.spec.job import STAGES, Stage
from swaplint.spec.paths import without_conditions
from swaplint.spec.systems import SYSTEMS

PARAGRAPHS = ("Computes", "Limit", "Consequence", "Remedy", "Cannot tell")
"""The paragraphs that every rule's docstring has after its question."""
_PARAGRAPH = re.compile(rf"({'|'.join(PARAGRAPHS)}):\s*(.*)")
LONGEST_CONSEQUENCE = 96
"""A consequence is read beside the vehicle: one line."""

Edits = Mapping[str, Any]
"""Changes to a spec: field path to the value as TOML would hold it; None takes the field or part away."""


class RuleError(ValueError):
    """A rule that is not declared as the interface asks."""


@dataclass(frozen=True)
class Rule:
    """A rule as its pack declares it."""

    id: str
    level: Level
    due: Stage
    function: Callable[..., Verdict]
    sources: tuple[Source, ...]
    cautions: tuple[str, ...] = ()
    adjust: tuple[str, ...] = ()
    """Fields that a builder may choose to make the rule pass; `*` stands for the part in question, or for all alike,
    `*[role=starter]` for those alike whose field `role` says so."""
    about: str = ""
    """The field or part that the rule is about, where findings point; the first of `adjust` if empty."""
    each: Callable[[Any], Iterable[Any]] | None = None
    """The parts that the rule judges one by one."""
    bad: tuple[Edits, ...] = ()
    good: tuple[Edits, ...] = ()
    aliases: tuple[str, ...] = ()
    """Ids that the rule had before."""
    fallbacks: tuple[Practice, ...] = ()
    """The common-practice fallbacks that it may use, for the rulebook."""
    bad_ends: Literal["fail", "review"] = "fail"
    """What its bad examples end in."""
    silence: Silence = NO_SILENCE
    """Which facts it may do without, and why."""
    later: tuple[tuple[str, Stage], ...] = ()
    """The demands that nobody can answer when the rule is due, each with the stage from which its answer is owed."""
    stricter: tuple[str, ...] = ()
    """Rules that judge the same with a reserve, and so fail with its bad examples too."""
    changed: tuple[tuple[str, str], ...] = ()
    """The versions of its pack since which it judges otherwise, each with what changed, as a sentence."""

    @functools.cached_property
    def texts(self) -> tuple[str, dict[str, str]]:
        """The question and the labelled paragraphs of the docstring. Raises `RuleError` where one is missing."""
        return read_docstring(self.id, self.function)

    @property
    def question(self) -> str:
        """The question that the rule answers."""
        return self.texts[0]

    @property
    def consequence(self) -> str:
        """What goes wrong on the vehicle if a fail of the rule stays."""
        return self.texts[1]["Consequence"]

    @property
    def remedy(self) -> str:
        """What to do about a fail of the rule, in words."""
        return self.texts[1]["Remedy"]

    @functools.cached_property
    def common_sources(self) -> tuple[Source, ...] | None:
        """The sources, each once, where each is of every demand; None where one gives the limit of some only."""
        return None if any(source.demands for source in self.sources) else tuple(dict.fromkeys(self.sources))

    def due_of(self, demand: str) -> Stage:
        """The stage from which the answer to a demand is owed."""
        return next((stage for name, stage in self.later if name == demand), self.due)

    @functools.cached_property
    def system(self) -> str:
        """The system that the rule belongs to."""
        return self.id.split(".", 1)[0]

    @property
    def as_built(self) -> bool:
        """Whether it judges what was measured on the finished vehicle: with other parts that is another vehicle."""
        return self.system == "commissioning" and self.due == STAGES[-1]

    @property
    def name(self) -> str:
        """The id in PascalCase, for formats that want a name without dots."""
        return "".join(word.capitalize() for word in re.split(r"[.-]", self.id))

    @property
    def subject(self) -> str:
        """The field path that findings point at, before a verdict says otherwise."""
        return self.about or (without_conditions(self.adjust[0]) if self.adjust else "")


def rule(
    id: str,
    *,
    level: Level,
    due: Stage,
    sources: Sequence[Source],
    cautions: Sequence[str] = (),
    adjust: Sequence[str] = (),
    about: str = "",
    each: Callable[[Any], Iterable[Any]] | None = None,
    bad: Sequence[Edits] = (),
    good: Sequence[Edits] = (),
    aliases: Sequence[str] = (),
    fallbacks: Sequence[Practice] = (),
    bad_ends: Literal["fail", "review"] = "fail",
    without: Mapping[str, str] = NOTHING,
    instead: Mapping[str, str | Sequence[str]] = NOTHING,
    later: Mapping[str, Stage] = NOTHING,
    stricter: Sequence[str] = (),
    changed: Mapping[str, str] = NOTHING,
) -> Callable[[Callable[..., Verdict]], Rule]:
    """Declare a rule. The decorated function is a pure function of the build, and of one part where `each` is given.

    The declaration is checked when the pack is loaded. `level` is the level of a fail unless the verdict names
    another. `due` is the stage from which an answer is owed: what is still open then is due. `fallbacks` are the
    common-practice fallbacks that the rule may use. `bad` and `good` are edits to the shared sound spec that make this
    rule fail, and pass; a rule that never fails, because only a person can decide, says so with `bad_ends="review"`.
    `without` says of a field why the rule may pass although nobody states it and a value of it could turn that, and
    `instead` which other stated field then takes its place; both name fields as `adjust` does, `[]` for an item.
    `later` says of demands that can only be answered once the vehicle is built or runs from which stage they are owed.
    No other rule may speak up with a bad example but those named in `stricter`, which judge the same with a reserve.
    `changed` says of each version of the pack since which the rule judges otherwise what changed, in a sentence: it is
    read by whoever compares two inspections.
    """

    def declare(function: Callable[..., Verdict]) -> Rule:
        return Rule(
            id,
            level,
            due,
            function,
            tuple(sources),
            tuple(cautions),
            tuple(adjust),
            about,
            each,
            tuple(bad),
            tuple(good),
            tuple(aliases),
            tuple(fallbacks),
            bad_ends,
            silence_of(without, instead),
            tuple(later.items()),
            tuple(stricter),
            tuple(changed.items()),
        )

    return declare


def read_docstring(id: str, function: Callable[..., Any]) -> tuple[str, dict[str, str]]:
    """The question and the labelled paragraphs of a rule's docstring. Raises `RuleError` where one is missing."""
    doc = inspect.getdoc(function) or ""
    head, _, rest = doc.partition("\n\n")
    question = " ".join(head.split())
    paragraphs: dict[str, str] = {}
    label = ""
    for line in rest.splitlines():
        match = _PARAGRAPH.match(line)
        if match:
            label = match.group(1)
            paragraphs[label] = match.group(2)
        elif label:
            paragraphs[label] = f"{paragraphs[label]} {line.strip()}".strip()
    missing = [name for name in PARAGRAPHS if not paragraphs.get(name)]
    if not question.endswith("?"):
        raise RuleError(f"{id}: the docstring starts with the question that the rule answers, ending in '?'")
    if missing:
        raise RuleError(f"{id}: the docstring lacks the paragraphs {', '.join(f'{m}:' for m in missing)}")
    if len(paragraphs["Consequence"]) > LONGEST_CONSEQUENCE:
        raise RuleError(f"{id}: the consequence is one line of at most {LONGEST_CONSEQUENCE} characters")
    return question, paragraphs


def _check_demands(id: str, source: Source) -> None:
    if not source.demands:
        return
    if isinstance(source.demands, str) or not isinstance(source.demands, Sequence):
        raise RuleError(f"{id}: '{source.title:.80}' names its demands in a list, like demands=['one-application']")
    if source.gives != "limit":
        raise RuleError(f"{id}: '{source.title:.80}' gives a {source.gives}; only a limit is that of a demand")
    for name in source.demands:
        if not is_demand_name(name):
            raise RuleError(f"{id}: '{source.title:.80}' names {name!r:.60}, which no demand can be called")


def check_rule(made: Rule) -> None:
    """Check all that a rule declares. Raises `RuleError` with a sentence."""
    if not isinstance(made.id, str) or not ID.fullmatch(made.id):
        raise RuleError(f"'{made.id}' is not a rule id; one looks like fuel.suction-loss")
    if made.system not in SYSTEMS:
        raise RuleError(f"{made.id}: '{made.system}' is not a system; systems are {', '.join(SYSTEMS)}")
    if made.level not in LEVELS:
        raise RuleError(f"{made.id}: level '{made.level}' is not one of {', '.join(LEVELS)}")
    if made.due not in STAGES or made.due == STAGES[0]:
        raise RuleError(f"{made.id}: due stage '{made.due}' is not one of {', '.join(STAGES[1:])}")
    if not made.sources or not all(isinstance(source, Source) for source in made.sources):
        raise RuleError(f"{made.id}: a rule cites at least one source")
    if not all(isinstance(text, str) and text for text in made.cautions):
        raise RuleError(f"{made.id}: cautions are lines of text")
    if not all(isinstance(text, str) for text in (made.about, *made.adjust, *made.aliases, *made.stricter)):
        raise RuleError(f"{made.id}: `about`, `adjust`, `aliases` and `stricter` name fields and ids as texts")
    if not all(isinstance(source.field, str) and isinstance(source.title, str) for source in made.sources):
        raise RuleError(f"{made.id}: a source has a title, and a data sheet the path of a field")
    silent = next((source for source in made.sources if not source.gives), None)
    if silent is not None:
        what = "say which number a source gives, like .giving('limit', 'at most 300 N at the pedal')"
        raise RuleError(f"{made.id}: '{silent.title:.80}' gives nothing; {what}")
    for source in made.sources:
        _check_demands(made.id, source)
    if made.each is not None and not callable(made.each):
        raise RuleError(f"{made.id}: `each` is a function of the build that lists the parts")
    if not made.subject and made.each is None:
        raise RuleError(f"{made.id}: a rule says with `about` or `adjust` which field its findings point at")
    for edits in (*made.bad, *made.good):
        if not isinstance(edits, Mapping) or not all(isinstance(path, str) for path in edits):
            raise RuleError(f"{made.id}: an example is a mapping from field path to value")
    _ = made.texts  # raises where the docstring lacks something
    if not made.bad or not made.good:
        raise RuleError(f"{made.id}: a rule carries at least one bad and one good example")
    if made.bad_ends not in ("fail", "review"):
        raise RuleError(f"{made.id}: bad examples end in fail or review, not '{made.bad_ends}'")
    if not all(isinstance(fallback, Practice) for fallback in made.fallbacks):
        raise RuleError(f"{made.id}: fallbacks are declared with Practice")
    wrong = wrong_with_silence(made.silence)
    if wrong:
        raise RuleError(f"{made.id}: {wrong}")
    for name, stage in made.later:
        if not is_demand_name(name) or stage not in STAGES or STAGES.index(stage) <= STAGES.index(made.due):
            raise RuleError(f"{made.id}: `later` names demands, each with a stage after '{made.due}'")
    for version, what in made.changed:
        if not (isinstance(version, str) and VERSION.fullmatch(version) and isinstance(what, str) and what.strip()):
            raise RuleError(
                f"{made.id}: `changed` names versions, each with a sentence, like {{'0.2.0': 'Looks at …'}}"
            )
    for alias in made.aliases:
        if not ID.fullmatch(alias):
            raise RuleError(f"{made.id}: the alias '{alias}' is not a rule id")
