"""The checklist of a build: what is done and measured at which moment of the job, what to expect and what is allowed.

Each step of each pack is asked once for the build, or for each of its parts. A step about a part that is not fitted is
left out; one of which it is not known whether the build has its part stays, and says so.
"""

from __future__ import annotations

import graphlib
import itertools
import math
import re
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from swaplint.build.nodes import NoLimit, NotFitted, Unknown, in_view
from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.declare.quantities import subject_text
from swaplint.declare.sources import Source
from swaplint.declare.steps import MOMENTS, Expected, Step
from swaplint.declare.verdicts import Limit
from swaplint.engineering import ImpossibleInput, OutsideRange
from swaplint.host.packs import LoadedPack, RuleBase
from swaplint.host.problems import Problem, first_line, raised_place
from swaplint.host.signs import stops
from swaplint.host.strangers import STRANGERS
from swaplint.host.watch import BadManners, TookTooLong, code_of
from swaplint.inspecting.running import RULE_SECONDS
from swaplint.spec.fields import FieldFacts, Section, Stated
from swaplint.spec.job import Stage
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.shape import facts_at
from swaplint.spec.systems import SYSTEMS
from swaplint.units.prose import told
from swaplint.units.showing import telling_of
from swaplint.units.value import Value


@dataclass(frozen=True, slots=True)
class Figure:
    """A number on the list, in SI, or why there is none."""

    value: float | None = None
    about: str = ""
    """The field or quantity that it is, where it is one."""
    kind: str = ""
    unit: str = ""
    unknown: tuple[str, ...] = ()
    """The fields that are not stated and that it takes."""
    why: str = ""
    """Why there is no number, where it is not for want of a field: a sentence."""
    not_fitted: bool = False
    """Whether it is one of a part that the build does not have."""
    no_limit: bool = False
    """Whether its maker states that there is no such limit."""
    rests_on: tuple[str, ...] = ()
    """What of it nobody stated: practices that stand in, estimates, assumed values."""
    sources: tuple[Source, ...] = ()
    """Those of the practices that stand in."""


@dataclass(frozen=True, slots=True)
class Noted:
    """A field that takes what is found, or what it depends on."""

    field: str
    facts: FieldFacts | None
    """What it takes; None for a part."""
    stated: Stated | None
    """What the spec states already."""

    @property
    def answer(self) -> Stated | None:
        """What was found already; what is stated elsewhere than among the measurements may only be planned."""
        planned = not self.field.startswith("measured.") and self.stated is not None and self.stated.basis != "measured"
        return None if planned else self.stated


@dataclass(frozen=True, slots=True)
class Entry:
    """A step on the list of one build."""

    pack: LoadedPack
    step: Step
    number: int
    part: str
    """The part's path or name, where the step is done on several."""
    found: Noted
    """Where the answer is written."""
    also: tuple[Noted, ...]
    """What is noted with it, without what an earlier step of the list takes."""
    kind: str
    unit: str
    """The kind of quantity of its numbers, and the unit that they are shown in; empty for pure numbers."""
    says: str = ""
    """What is seen where all is well."""
    cautions: tuple[str, ...] = ()
    expected: Figure | None = None
    low: float | None = None
    high: float | None = None
    """Within what the prediction lies, by the tolerances of what it rests on and its own accuracy; None where neither
    is known."""
    least: Figure | None = None
    most: Figure | None = None
    unsure: tuple[str, ...] = ()
    """Fields that are not stated and on which it hangs whether this build has what the step is about."""

    @property
    def field(self) -> str:
        """Where the answer is written."""
        return self.found.field

    @property
    def about(self) -> str:
        """What its numbers are about: the field that takes the answer, where that is a number of their kind."""
        return self.step.id if self.found.facts is None or not self.found.facts.unit else self.field

    @property
    def answered(self) -> bool:
        """Whether the spec states the answer already."""
        return self.found.answer is not None

    @property
    def about_nothing(self) -> bool:
        """Whether all that it measures is of parts that the build does not have."""
        figures = [figure for figure in (self.expected, self.least, self.most) if figure is not None]
        return bool(figures) and all(figure.not_fitted for figure in figures)

    @property
    def limit(self) -> Limit | None:
        """What is allowed, as far as it is known."""
        low = None if self.least is None else self.least.value
        high = None if self.most is None else self.most.value
        if low is not None and high is not None:
            return Limit("within", (low, high))
        if low is not None:
            return Limit("at least", low)
        return None if high is None else Limit("at most", high)

    @property
    def beyond(self) -> bool:
        """Whether what was found lies beyond the limit by more than its own tolerance.

        How it compares with the prediction is for the rules to say, which know the conditions.
        """
        answer = self.found.answer
        if answer is None or isinstance(answer.value, bool | str):
            return False
        least = None if self.least is None else self.least.value
        most = None if self.most is None else self.most.value
        above = most is not None and answer.value - answer.tol > most
        return above or (least is not None and answer.value + answer.tol < least)

    @property
    def limit_sources(self) -> tuple[Source, ...]:
        """Where the limit comes from."""
        own = tuple(source for source in self.step.sources if source.gives == "limit")
        stand_in = tuple(source for figure in (self.least, self.most) if figure for source in figure.sources)
        return tuple(dict.fromkeys((*own, *stand_in)))


@dataclass(slots=True)
class Checklist:
    """The steps of one build, in working order."""

    spec: LoadedSpec
    packs: list[LoadedPack]
    stages: tuple[Stage, ...]
    """The stages whose steps it holds."""
    entries: list[Entry] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    def moments(self) -> Iterator[tuple[str, list[list[Entry]]]]:
        """The moments that have steps, in working order; the entries of one step together."""
        for moment in MOMENTS:
            found = [entry for entry in self.entries if entry.step.moment == moment]
            if found:
                yield moment, [list(group) for _, group in itertools.groupby(found, key=lambda entry: entry.step.id)]


STAGES_WITH_STEPS: tuple[Stage, ...] = tuple(dict.fromkeys(moment.stage for moment in MOMENTS.values()))


def checklist(base: RuleBase, spec: LoadedSpec, stages: Collection[Stage] = STAGES_WITH_STEPS) -> Checklist:
    """The steps that a build asks for at some stages of the job."""
    made = Checklist(spec, list(base.packs), tuple(stage for stage in STAGES_WITH_STEPS if stage in stages))
    asking = Asking(spec, base.model)
    for pack, step in in_working_order(base.steps):
        if MOMENTS[step.moment].stage in made.stages:
            try:
                for entry in asking.entries(pack, step, len(made.entries)):
                    made.entries.append(entry)
            except StepBroke as broke:
                what = f"the step {step.id} {broke.what}; the checklist of {spec.label} is without it"
                made.problems.append(Problem(what, "rule", pack.name, step.id, broke.file, broke.line))
    return made


def in_working_order(steps: Iterable[tuple[LoadedPack, Step]]) -> list[tuple[LoadedPack, Step]]:
    """Steps by moment; in one moment by system and as declared, but for those that go after others."""
    given = list(steps)
    moments = list(MOMENTS)
    given.sort(key=lambda one: (moments.index(one[1].moment), SYSTEMS.index(one[1].system)))
    moment_of = {step.id: step.moment for _, step in given}
    placed: dict[str, tuple[LoadedPack, Step]] = {}
    waiting = {step.id: (pack, step) for pack, step in given}

    def place(id: str, above: tuple[str, ...]) -> None:
        if id in placed or id in above:
            return
        pack, step = waiting[id]
        for before in step.after:
            if moment_of.get(before) == step.moment:
                place(before, (*above, id))
        placed[id] = pack, step

    for _, step in given:
        place(step.id, ())
    return list(placed.values())


def runs_in_circles(steps: Iterable[Step]) -> list[str]:
    """The ids of steps that go after each other in a circle; empty where there is none.

    >>> runs_in_circles([])
    []
    """
    try:
        graphlib.TopologicalSorter({step.id: step.after for step in steps}).prepare()
    except graphlib.CycleError as circle:
        return list(dict.fromkeys(circle.args[1]))
    return []


class StepBroke(Exception):
    """A step did something that no spec can be blamed for."""

    def __init__(self, what: str, file: str | None = None, line: int | None = None) -> None:
        """What it did, as the end of a sentence, and the place in the step."""
        super().__init__(what)
        self.what, self.file, self.line = what, file, line


class Asking:
    """Asks steps about one build."""

    def __init__(self, spec: LoadedSpec, model: type[Section], view: View | None = None) -> None:
        """`view` is the build to ask about, where that is not the one as stated."""
        self.spec, self.model = spec, model
        self.view = view or View(spec.build)
        self.probe = View(spec.build, self.view.changes, probing=True)
        self.taken: set[str] = set()
        """The fields that steps of the list take already."""
        self.fields: dict[str, None] = {}
        """What steps have read themselves so far, and not by a quantity."""

    def entries(self, pack: LoadedPack, step: Step, before: int = 0) -> list[Entry]:
        """A step's entries on the list, none where the build has nothing that it is about. Raises `StepBroke`.

        `before` says how many entries stand before them.
        """
        aside = STRANGERS.why_aside(f"step {step.id}")
        if aside is not None:
            raise StepBroke(aside)
        try:
            with code_of(f"step {step.id}", RULE_SECONDS), telling_of(step.id):
                return self._told(pack, step, before)
        except TookTooLong:
            raise StepBroke(f"ran longer than {RULE_SECONDS:g} s and was stopped") from None
        except BadManners as changed:
            raise StepBroke(str(changed)) from None
        finally:
            self.view.settle()
            self.probe.settle()

    def _told(self, pack: LoadedPack, step: Step, before: int) -> list[Entry]:
        """The entries of a step; what it raises is put into words."""
        try:
            out: list[Entry] = []
            for arguments in self._parts(step):
                asked = _Asked(self, step, arguments)
                if asked.listed:
                    entry = asked.entry(pack, before + len(out) + 1)
                    if not entry.about_nothing:
                        out.append(entry)
                        self.taken.update(noted.field for noted in (entry.found, *entry.also))
            return out
        except (TookTooLong, StepBroke):
            raise
        except BaseException as error:
            if stops(error):
                raise
            place = raised_place(error.__traceback__, step.function)
            raise StepBroke(f"raised {first_line(error)}", *place) from None

    def _parts(self, step: Step) -> list[tuple[Any, ...] | Unknown]:
        """What the step is done on: the parts that the build has, or what is not stated of them."""
        if step.each is None:
            return [()]
        reads = Reads()
        self.view.stack.append(reads)
        try:
            return [part if isinstance(part, tuple) else (part,) for part in step.each(self.view.build)]
        except NotFitted:
            return []
        except Unknown as unknown:
            return [unknown]
        finally:
            self.view.stack.pop()
            self.fields.update(reads.own)


class _Asked:
    """A step that is asked about one part, or about the build as a whole."""

    def __init__(self, asking: Asking, step: Step, arguments: tuple[Any, ...] | Unknown) -> None:
        self.asking, self.step = asking, step
        self.arguments: tuple[Any, ...] = () if isinstance(arguments, Unknown) else arguments
        self.listed = True
        self.unsure: tuple[str, ...] = ()
        self.expected: Expected | None = None
        if isinstance(arguments, Unknown):
            self.unsure = (arguments.path,)
            return
        try:
            self.expected, _ = self._expects(asking.view)
            self.listed = self.expected is not None
        except (NotFitted, ImpossibleInput, OutsideRange):
            self.listed = False
        except (Unknown, NoLimit) as unknown:
            self.unsure = (unknown.path,)

    def _expects(self, view: View) -> tuple[Expected | None, Reads]:
        """What the step expects on a view, with what was read for that; None where it does not apply."""
        reads = Reads()
        view.stack.append(reads)
        try:
            found = self.step.function(view.build, *(in_view(one, view) for one in self.arguments))
        finally:
            view.stack.pop()
            self.asking.fields.update(reads.own)
        if not isinstance(found, Expected):
            raise StepBroke(f"returned a {type(found).__name__} instead of what it expects")
        return found if found.needed else None, reads

    def entry(self, pack: LoadedPack, number: int) -> Entry:
        """The step as it stands on the list."""
        asking, step = self.asking, self.step
        where = places_to_write(step, self.arguments)
        found, *also = (Noted(field, facts_at(asking.model, field), asking.spec.stated(field)) for field in where)
        also = [noted for noted in also if noted.field not in asking.taken]
        predicted, reads = self._figure("value")
        least, most = self._figure("at_least")[0], self._figure("at_most")[0]
        low, high = self._range(predicted, reads)
        kind, unit = _shown_in(self.expected, found.facts, predicted, most, least)
        return Entry(
            pack=pack,
            step=step,
            number=number,
            part=" ".join(subject_text(one) for one in self.arguments),
            found=found,
            also=tuple(also),
            kind=kind,
            unit=unit,
            says=(self.expected or Expected()).says,
            cautions=tuple(dict.fromkeys((*step.cautions, *(self.expected or Expected()).cautions))),
            expected=predicted,
            low=low,
            high=high,
            least=least,
            most=most,
            unsure=self.unsure,
        )

    # -- numbers -----------------------------------------------------------------------------------------------
    def _figure(self, which: str) -> tuple[Figure | None, Reads]:
        """The prediction or a limit, with all that it lacks, and what was read for it."""
        nothing = Reads()
        if self.expected is None or getattr(self.expected, which) is None:
            return None, nothing
        found, reads = self._number(which, self.asking.view)
        if isinstance(found, Unknown):
            return Figure(unknown=tuple({**reads.unknown, **self._number(which, self.asking.probe)[1].unknown})), reads
        if isinstance(found, NoLimit):
            return Figure(no_limit=True, about=found.path), reads
        if isinstance(found, NotFitted):
            return Figure(why=f"{found.path} is not fitted.", not_fitted=True), reads
        if isinstance(found, Exception):
            return Figure(why=f"{told(str(found))}."), reads
        value = found if isinstance(found, Value) else None
        return (
            Figure(
                float(found),
                value.path if value is not None else "",
                value.kind if value is not None else "",
                value.unit if value is not None else "",
                rests_on=tuple(dict.fromkeys(self._not_stated(reads))),
                sources=tuple(practice.cited for practice in reads.practices.values()),
            ),
            reads,
        )

    def _not_stated(self, reads: Reads) -> Iterator[str]:
        """What a number rests on that nobody has stated for certain."""
        yield from reads.practices
        yield from (f"{path}, estimated" for path in reads.estimates)
        for path in reads.fields:
            stated = self.asking.spec.stated(path)
            if stated is not None and stated.basis == "assumed":
                yield f"{path}, assumed"

    def _number(self, which: str, view: View) -> tuple[Any, Reads]:
        """A number on a view, or what is raised instead of one, with what was read for it."""
        reads = Reads()
        try:
            expected, _ = self._expects(view)
            number = getattr(expected, which) if expected is not None else None
            view.stack.append(reads)
            try:
                found = number() if callable(number) else number
            finally:
                view.stack.pop()
                self.asking.fields.update(reads.own)
        except (Unknown, NoLimit, NotFitted, ImpossibleInput, OutsideRange) as problem:
            return problem.with_traceback(None), reads
        if isinstance(found, bool) or not isinstance(found, int | float) or not math.isfinite(found):
            raise StepBroke(f"gave {found!r:.60} where a finite number belongs")
        return found, reads

    def _range(self, predicted: Figure | None, reads: Reads) -> tuple[float | None, float | None]:
        """Within what a prediction lies: at the ends of what it rests on, all off the same way, and by its accuracy."""
        if predicted is None or predicted.value is None:
            return None, None
        inputs = self._uncertain(reads)
        accuracy = self.step.accuracy
        if not inputs and not accuracy:
            return None, None
        seen = [predicted.value]
        downward: list[_Off] = []
        upward: list[_Off] = []
        for ends in inputs:
            found = [(value, end) for end in ends if (value := self._at([end])) is not None]
            if found:
                seen += [value for value, _ in found]
                downward.append(min(found, key=lambda one: one[0])[1])
                upward.append(max(found, key=lambda one: one[0])[1])
        corners = [self._at(downward), self._at(upward)] if len(inputs) > 1 else []
        seen += [value for value in corners if value is not None]
        low, high = min(seen), max(seen)
        return low - accuracy * abs(low), high + accuracy * abs(high)

    def _uncertain(self, reads: Reads) -> list[tuple[_Off, _Off]]:
        """What a prediction rests on and may be otherwise, each at both its ends; the first hundred."""
        out: list[tuple[_Off, _Off]] = []
        for path in reads.fields:
            stated = self.asking.spec.stated(path)
            if stated is not None and stated.tol and not isinstance(stated.value, bool | str):
                facts = facts_at(self.asking.model, path)
                low = stated.value - stated.tol
                if facts is not None and not facts.signed and low <= 0 < stated.value:
                    low = 1e-3 * stated.value  # a tolerance never makes a length or mass negative
                out.append((_Off(path, low), _Off(path, stated.value + stated.tol)))
        for path, estimated in reads.estimates.items():
            out.append((_Off(path, estimated.value - estimated.tol), _Off(path, estimated.value + estimated.tol)))
        for name, practice in reads.practices.items():
            if practice.between is not None:
                out.append((_Off(name, practice.between[0], True), _Off(name, practice.between[1], True)))
        return out[:MOST_UNCERTAIN]

    def _at(self, off: Sequence[_Off]) -> float | None:
        """The prediction with some of what it rests on at an end; None where there is none."""
        view = self.asking.view.changed({one.name: Stated(one.value) for one in off if not one.stands_in})
        stand_ins = {one.name: one.value for one in off if one.stands_in}
        found, _ = self._number("value", view.with_stand_ins(stand_ins) if stand_ins else view)
        return None if isinstance(found, Exception) else float(found)


class _Off(NamedTuple):
    """Something at an end of what it may be, in SI."""

    name: str
    """A field, or a practice that stands in for one."""
    value: float
    stands_in: bool = False


def _shown_in(expected: Expected | None, facts: FieldFacts | None, *figures: Figure | None) -> tuple[str, str]:
    """The kind of quantity and the unit of a step's numbers: those of the field that takes the answer, if it is one."""
    if expected is not None and expected.unit[0]:
        return expected.unit
    if facts is not None and facts.type in ("measure", "number", "count"):
        return facts.kind_name, facts.unit
    return next(((figure.kind, figure.unit) for figure in figures if figure is not None and figure.kind), ("", ""))


MOST_UNCERTAIN = 100
"""How many uncertain inputs of a prediction are looked through."""


def places_to_write(step: Step, arguments: tuple[Any, ...]) -> list[str]:
    """The field that takes the answer to a step, for the part that it is done on, and those that are noted with it.

    A step without a reading is noted as done on a day, under its own name.
    """
    part = subject_text(arguments[0]) if arguments else ""
    name = "-".join(re.findall(r"[A-Za-z0-9_]+", f"{step.id} {part.rsplit('.', 1)[-1]}"))
    named = (step.write or f"measured.done.{name}.date", *step.also)
    return [_of_part(path, part) if part else path for path in named]


def _of_part(pattern: str, part: str) -> str:
    """A pattern for a part: what stands in the part's own path at that place, elsewhere its name.

    >>> _of_part("build.places.*.noise.*.now", "build.places.state.noise.idle")
    'build.places.state.noise.idle.now'
    >>> _of_part("vehicle.clearances.*.gap", "fan")
    'vehicle.clearances.fan.gap'
    """
    pieces, own = pattern.split("."), part.split(".")
    out: list[str] = []
    for place, piece in enumerate(pieces):
        along = place < len(own) and out == own[:place]
        out.append(piece if piece != "*" else own[place] if along else own[-1])
    return ".".join(out)
