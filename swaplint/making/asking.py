"""Asking the steps of the checklist about one build: each within a time limit, on each of its parts."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from swaplint.build.nodes import NoLimit, NotFitted, Unknown, in_view
from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.declare.quantities import subject_text
from swaplint.declare.steps import Expected, Step
from swaplint.engineering import ImpossibleInput, OutsideRange
from swaplint.host.packs import LoadedPack
from swaplint.host.problems import first_line, raised_place
from swaplint.host.signs import stops
from swaplint.host.strangers import STRANGERS
from swaplint.host.watch import BadManners, TookTooLong, code_of
from swaplint.inspecting.running import RULE_SECONDS
from swaplint.making.steps import Entry, Figure, Noted, places_to_write
from swaplint.spec.facts import FieldFacts, Stated
from swaplint.spec.fields import Section
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.shape import facts_at
from swaplint.units.prose import told
from swaplint.units.showing import telling_of
from swaplint.units.value import Value


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
