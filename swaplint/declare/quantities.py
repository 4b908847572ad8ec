"""Quantities: the derived numbers of a build, each computed once per view and listed on the worksheet.

    PIPES = book("A handbook of pipes").giving("formula", "pressure loss of pipe flow")

    @quantity("fuel.suction-loss", "pressure_difference", "kPa", formula="Δp = …", sources=[PIPES])
    def suction_pressure_loss(build: Build) -> float:
        '''Depression at the engine's fuel inlet.'''

A quantity is a plain function of the build that returns a number in SI. One about many alike parts takes the part as
its second argument and says with `each` which parts there are.
"""

from __future__ import annotations

import functools
import math
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Generic, ParamSpec

from swaplint.build.estimates import about_a_part
from swaplint.build.nodes import ASKING, Node, NoLimit, NotFitted, Unknown
from swaplint.build.reading import argument_key, path_of
from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.declare.silence import NO_SILENCE, NOTHING, Silence, silence_of, wrong_with_silence
from swaplint.declare.sources import Source
from swaplint.units import KINDS, from_unit
from swaplint.units.value import Value

P = ParamSpec("P")

ID = re.compile(r"[a-z][a-z0-9]*\.[a-z][a-z0-9]*(-[a-z0-9]+)*")
"""An id: system.short-name."""


class Nonsense(Exception):
    """A rule or quantity returned something that is not what it promised: a fault of the rule, not of the spec."""

    def __init__(self, what: str, function: Callable[..., Any]) -> None:
        """A sentence, and the function that returned it."""
        super().__init__(what)
        self.function = function


@dataclass(slots=True)
class Computed:
    """What computing a quantity led to."""

    name: str
    """Of the quantity and the parts that it is about, see `quantity_key`."""
    value: Value | None
    problem: Exception | None
    """Why there is no value: an input is unknown, a part is not fitted, the formula does not hold."""
    reads: Reads


class Quantity(Generic[P]):
    """A derived number with its id, unit, formula and sources. Calling it computes it, or takes it from the view."""

    def __init__(
        self,
        function: Callable[P, float],
        id: str,
        kind: str,
        unit: str,
        formula: str,
        sources: Sequence[Source],
        each: Callable[[Any], Iterable[Any]] | None,
        silence: Silence = NO_SILENCE,
        symbols: Mapping[str, str] = NOTHING,
    ) -> None:
        self.function = function
        self.id = id
        self.kind = kind
        self.unit = unit
        self.formula = formula
        self.sources = tuple(sources)
        self.each = each
        self.silence = silence
        self.symbols = dict(symbols)
        """What symbols of the formula stand for: the path of a field, or the id of a quantity."""
        self.stands_in_for = ""
        """The field that it is an estimate of, where that is not stated; `*` stands for a part's name."""
        self.tolerance = 0.0
        """Of an estimate: half-width of its tolerance as a share of the value."""
        self.example: dict[str, Any] = {}
        """Of an estimate: edits to the sound spec that its derived test tries it with, beside typical values."""
        functools.update_wrapper(self, function)

    @property
    def title(self) -> str:
        """What the number is: the first line of the function's docstring."""
        return (self.function.__doc__ or "").strip().split("\n", 1)[0].rstrip(".")

    @property
    def within(self) -> str:
        """The tolerance of an estimate in words: a share of a temperature is one of what is above absolute zero."""
        return f"{self.tolerance * 100:.3g} %" + (" of the absolute temperature" if self.kind == "temperature" else "")

    @property
    def from_memory(self) -> bool:
        """Whether nobody looked up what it rests on."""
        return all(source.known == "from memory" for source in self.sources)

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> Value:
        """The value, in SI. Raises `Unknown` where an input is not stated."""
        build: Any = args[0] if args and not kwargs else None
        if not isinstance(build, Node):
            raise TypeError(f"{self.id}: call a quantity with the build first and without keywords")
        view: Any = build._view
        key: Any = self.id if len(args) == 1 else (self.id, *map(argument_key, args[1:]))
        optional = ASKING.optionally > 0
        # A probing view goes on with typical values, but not where the rule can do without the quantity.
        alone = optional and view.probing
        outcome = None if alone else view.computed(key)
        if outcome is None:
            outcome = self._compute(view, args, alone)
            if not alone and not outcome.reads.circular and (outcome.problem is None or not view.probing):
                view.quantity_cache[key] = outcome
        if view.stack:
            reads = view.stack[-1]
            if optional and isinstance(outcome.problem, Unknown):
                reads.add_as_optional(outcome.reads)
            else:
                reads.add(outcome.reads)
            reads.quantities[self.id] = None
            reads.uses[outcome.name] = outcome
        if outcome.problem is not None:
            # Anew for this view: what is kept may come from another one.
            problem = outcome.problem
            if isinstance(problem, Unknown | NoLimit):
                raise type(problem)(problem.path, view)
            raise problem.with_traceback(None)  # else it would hold the frames of all who asked before
        assert outcome.value is not None
        return outcome.value

    def _compute(self, view: View, args: tuple[Any, ...], optional: bool) -> Computed:
        reads, name = Reads(), quantity_key(self.id, args[1:])
        # What is kept for the next caller must not depend on whether this one could do without it.
        depth, ASKING.optionally = ASKING.optionally, 1 if optional else 0
        view.stack.append(reads)
        try:
            number = self.function(*args)  # type: ignore[call-arg]
        except (Unknown, NotFitted, NoLimit, ValueError) as problem:
            return Computed(name, None, problem.with_traceback(None), reads)
        finally:
            view.stack.pop()
            ASKING.optionally = depth
        if isinstance(number, bool) or not isinstance(number, int | float) or not math.isfinite(number):
            shown = f"{number!r:.60}" if isinstance(number, float | str | None) else f"a {type(number).__name__}"
            raise Nonsense(f"the quantity {self.id} returned {shown}, which is not a finite number", self.function)
        if self.kind and self.kind not in KINDS:
            what = f"the quantity {self.id} is not declared soundly: {self.kind!r:.40} is no kind of value"
            raise Nonsense(what, self.function)
        if isinstance(number, Value) and self.kind and number.kind:
            # Only a value that is handed on as it is knows its kind; of what was computed the dimension is not known.
            returned, declared = KINDS[number.kind], KINDS[self.kind]
            if returned.dimension != declared.dimension:
                what = f"{number.path}, which is {returned.words} and not {declared.words}"
                raise Nonsense(f"the quantity {self.id} returned {what}", self.function)
        return Computed(name, Value.of(number, self.kind, self.unit, self.id), None, reads)

    def subjects(self, view: View) -> list[tuple[Any, ...]]:
        """The arguments to call it with, besides the build: one empty tuple, or one per part."""
        if self.stands_in_for:
            return [(part,) for part in _holders(view.build, self.stands_in_for)] or [()]
        if self.each is None:
            return [()]
        return [part if isinstance(part, tuple) else (part,) for part in self.each(view.build)]


def _holders(build: Any, pattern: str) -> list[Any]:
    """The parts that hold a field, where there are several; none for a field that a build has but once."""
    found = [build]
    for piece in pattern.split(".")[:-1]:
        if piece == "*":
            found = [part for parts in found for part in parts.values()]
        elif piece.endswith("[]"):
            found = [item for part in found for item in getattr(part, piece.removesuffix("[]"))]
        else:
            found = [getattr(part, piece) for part in found]
    return found if about_a_part(pattern) else []


def quantity_key(id: str, arguments: Sequence[Any]) -> str:
    """The name of a quantity for one subject: 'power.cable-drop electrics.cables.starter'."""
    return " ".join([id, *(subject_text(a) for a in arguments)])


def subject_text(argument: object) -> str:
    """How a part, gear or case is named in output."""
    return path_of(argument) if isinstance(argument, Node | Value) else str(argument)


def quantity(
    id: str,
    kind: str = "",
    unit: str = "",
    *,
    formula: str,
    sources: Sequence[Source],
    each: Callable[[Any], Iterable[Any]] | None = None,
    without: Mapping[str, str] = NOTHING,
    instead: Mapping[str, str | Sequence[str]] = NOTHING,
    symbols: Mapping[str, str] = NOTHING,
    stands_in_for: str = "",
    tolerance: float = 0.0,
    example: Mapping[str, Any] = NOTHING,
) -> Callable[[Callable[P, float]], Quantity[P]]:
    """Declare a derived quantity.

    `kind` and `unit` say what the number is and in which unit of the trade it is shown; both empty for a pure number.
    `formula` is the formula in words or symbols, so that a person can redo it by hand from the inputs. Each source says
    with `giving` which number or relation comes from it; where the whole formula does, no more words. `without` and
    `instead` say of fields that it does without what a rule says of them, for all rules that use it. `symbols` says
    what stands for what in the formula, `{"D": "plumbing.fuel.supply.bore"}`: the worksheet then writes the numbers
    into it. A quantity that the formula names by its id needs no symbol.

    `stands_in_for` makes it an estimate: where that field is read and not stated, its value is used. A field of one of
    several parts is written with `*`, and the function takes the part as its second argument. `tolerance` is then the
    half-width of its tolerance as a share of the value: twice the accuracy, if that is about one standard deviation.
    `example` holds edits to the sound spec that its derived test tries it with, beside typical values.
    """

    def declare(function: Callable[P, float]) -> Quantity[P]:
        made = Quantity(function, id, kind, unit, formula, sources, each, silence_of(without, instead), symbols)
        made.stands_in_for, made.tolerance, made.example = stands_in_for, tolerance, dict(example)
        return made

    return declare


_BEFORE, _AFTER = r"[\w.-]", r"[A-Za-zΑ-ω0-9_-]|\.\w"
"""What makes a symbol the part of another one that stands before it, or behind it."""
_GOES_BEFORE, _GOES_ON = re.compile(_BEFORE), re.compile(_AFTER)


def symbols_in(symbols: Iterable[str]) -> re.Pattern[str]:
    """Finds symbols where they stand for themselves in a formula: not as a part of another one."""
    either = "|".join(re.escape(symbol) for symbol in sorted(symbols, key=len, reverse=True))
    return re.compile(rf"(?<!{_BEFORE})(?:{either})(?!{_AFTER})")


def _stands_in(symbol: str, formula: str) -> bool:
    """Whether `symbols_in` finds a symbol in a formula: to compile a pattern for each takes longer than all else."""
    at = formula.find(symbol)
    while at >= 0:
        begins = not at or _GOES_BEFORE.match(formula, at - 1) is None
        if begins and _GOES_ON.match(formula, at + len(symbol)) is None:
            return True
        at = formula.find(symbol, at + 1)
    return False


def check_quantity(made: Quantity[Any]) -> None:
    """Check all that a quantity declares. Raises `ValueError` with a sentence."""
    if not isinstance(made.id, str) or not ID.fullmatch(made.id):
        raise ValueError(f"'{made.id}' is not a quantity id; one looks like fuel.suction-loss")
    if made.kind and made.kind not in KINDS:
        raise ValueError(f"{made.id}: '{made.kind}' is not a kind of quantity; known: {', '.join(sorted(KINDS))}")
    if made.kind:
        from_unit(1.0, made.unit, KINDS[made.kind])
    elif made.unit:
        raise ValueError(f"{made.id}: a quantity with a unit names its kind of quantity too")
    if not made.title:
        raise ValueError(f"{made.id}: a quantity needs a docstring that says what the number is")
    for symbol, meaning in made.symbols.items():
        if not _stands_in(symbol, made.formula):
            raise ValueError(f"{made.id}: {symbol!r:.40}, said to be {meaning!r:.80}, is no symbol of its formula")

    if not made.formula or not made.sources or not all(isinstance(s, Source) for s in made.sources):
        raise ValueError(f"{made.id}: a quantity states its formula and its sources")
    silent = next((source for source in made.sources if not source.gives), None)
    if silent is not None:
        what = "say which number a source gives, like .giving('formula', 'pressure loss of pipe flow')"
        raise ValueError(f"{made.id}: '{silent.title:.80}' gives nothing; {what}")
    wrong = wrong_with_silence(made.silence) or _wrong_with_estimate(made)
    if wrong:
        raise ValueError(f"{made.id}: {wrong}")


WIDEST_TOLERANCE = 0.7
"""An estimate that may be out by more is no answer: ask for the field, or have it measured."""


def _wrong_with_estimate(made: Quantity[Any]) -> str:
    """What is wrong with a quantity as an estimate, as the end of a sentence; empty where it is sound or is none."""
    if not isinstance(made.stands_in_for, str):
        return "`stands_in_for` names a field as a text"
    if not made.stands_in_for:
        return "`tolerance` is that of an estimate: say with `stands_in_for` of which field" if made.tolerance else ""
    if made.each is not None:
        return "an estimate is made for each part that holds its field; it takes no `each`"
    if isinstance(made.tolerance, bool) or not isinstance(made.tolerance, int | float):
        return f"its tolerance is a share of the value, like 0.3, not {made.tolerance!r:.40}"
    if not 0.0 < made.tolerance <= WIDEST_TOLERANCE:
        return f"the tolerance of an estimate is a share of its value up to {WIDEST_TOLERANCE:g}, like 0.3"
    return ""
