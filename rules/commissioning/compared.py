"""A measured value against what was reckoned: how far apart they may be, and which assumption explains it best.

Everything that a prediction takes for granted is an `Assumption`: what it is, how far it is usually off, and what the
prediction would be with another value. The two numbers may differ by what the instrument may be off and by what all
assumptions together may move the prediction, as independent errors add up: √(u_m² + Σ u_i²). Beyond that each
assumption is solved for the value that it would need to explain the reading alone; the one that would need the least
of its usual spread is named, with the measurement that settles it. Where that was made, it says whether it was right.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from swaplint.api import (
    Build,
    ImpossibleInput,
    OutsideRange,
    Practice,
    Source,
    Value,
    Verdict,
    as_stated,
    at,
    at_least,
    carried,
    only_asking,
    practice,
    regulation,
    shown,
    use_practice,
    value_at,
    within,
)

READING = Practice(
    "a reading without a stated tolerance is right within 3 %",
    0.03,
    practice("gauges and meters of a workshop are right within 3 % of the reading"),
)
THERMOMETER = Practice(
    "a thermometer without a stated tolerance is right within 2 K",
    2.0,
    regulation("US 30 CFR 7.101, tests of diesel engine packages, by analogy", known="published"),
)
INCLINOMETER = Practice(
    "an angle without a stated tolerance is read within 0.2 degrees",
    math.radians(0.2),
    practice("two slopes of a shaft are read within 0.2 degrees together"),
)
AGREES = practice("measured and reckoned differ by no more than instrument and assumptions may be off together")
UNSAID = (
    "What is not stated is taken as usual: were it otherwise, measured and reckoned would differ, as is tested here."
)
MEASURED_SHARE = 0.02
"""How far a measured input without a stated tolerance may be off, as a share: common practice, as are all spreads."""
CLEARLY = 2.0
"""An explanation that needs so many times more of its usual spread than the best is not worth a word."""


def sources_of(*demands: str) -> list[Source]:
    """What a comparison rests on, for the demands of a rule that make one."""
    return [AGREES.giving("limit", "√(u_m² + Σ u_i²), as independent errors add up", demands=demands)]


@dataclass(frozen=True)
class Assumption:
    """Something that a prediction takes for granted."""

    says: Callable[[float], str]
    """What would explain the reading, with the value that it would need: the end of 'Most likely …'."""
    predicted: Callable[[float], float]
    """What would be predicted with another value."""
    expected: float
    spread: float
    """How far it is usually off, to either side, as a tolerance is stated."""
    between: tuple[float, float]
    """What it may be at all."""
    settle: str
    """What to measure, after 'To settle it: '."""
    fact: float | None = None
    """What it was measured as, where it was."""


@dataclass(frozen=True)
class Explanation:
    """An assumption with the value that it would need to explain a reading alone."""

    assumption: Assumption
    needed: float
    spreads: float
    """How many times its usual spread that is off."""


def of_field(
    build: Build,
    path: str,
    predicted: Callable[[Build], float],
    says: Callable[[float], str],
    share: float,
    settle: str,
    fact: float | None = None,
) -> Assumption | None:
    """The assumption that a field is what it is stated as. None where nobody states it, and another value stands in.

    `share` is how far it is usually off where no tolerance is stated.
    """
    stated = as_stated(build, path)
    if stated is None or isinstance(stated.value, bool | str) or stated.value == 0.0:
        return None
    value, taken = stated.value, shown(value_at(build, path))
    usual = MEASURED_SHARE if stated.basis == "measured" else share
    return Assumption(
        lambda new: f"{says(new)} instead of {taken}",
        lambda new: predicted(at(build, {path: new})),
        value,
        stated.tol or usual * abs(value),
        (0.1 * value, 10.0 * value),
        settle,
        fact,
    )


def instrument(build: Build, path: str) -> float:
    """What a reading may be off, in SI: as stated, else by a named practice."""
    stated = as_stated(build, path)
    if stated is not None and stated.tol:
        return stated.tol
    kind = value_at(build, path).kind
    if kind == "temperature":
        return use_practice(build, THERMOMETER)
    if kind == "angle":
        return use_practice(build, INCLINOMETER)
    return abs(float(value_at(build, path))) * use_practice(build, READING)


def compare(
    build: Build,
    path: str,
    predicted: float,
    assumptions: Sequence[Assumption | None],
    *,
    what: str,
    when: str = "",
    kind: tuple[str, str] | None = None,
    step: tuple[str, str] | None = None,
    never_less: bool = False,
) -> Verdict:
    """A verdict on a measured field against what was reckoned for it.

    `kind` is the kind and unit that it is shown in, `step` those of a difference, where they are others. With
    `never_less` the prediction is that of the worst case, and more than that agrees with it.
    """
    found: Value = value_at(build, path)
    kind = kind or (found.kind, found.unit)
    known = [one for one in assumptions if one is not None]
    allowed = math.hypot(instrument(build, path), *(_effect(one, predicted) for one in known))
    says = (
        f"{what}: {shown(found, *kind, digits=3)} measured, {shown(predicted, *kind, digits=3)} reckoned{when}; "
        f"{'it may be less by' if never_less else 'they may differ by'} {shown(allowed, *(step or kind), digits=2)}."
    )
    differ = abs(found - predicted) > allowed and not (never_less and found > predicted)
    if differ and not only_asking(build):
        says += explained(found, predicted, allowed, known)
    low = predicted - allowed
    if predicted > 0.0 > low:
        low = 0.0  # what cannot be negative is not allowed to be
    if never_less:
        return carried(at_least(found, low, says, level="warning", on=path, unit=kind, scale=allowed or None))
    verdict = within(found, low, predicted + allowed, says, level="warning", on=path, unit=kind, scale=allowed or None)
    return carried(verdict)


def explained(found: float, predicted: float, allowed: float, assumptions: Sequence[Assumption]) -> str:
    """What explains a reading best, and what would settle it."""
    proven = [one for one in assumptions if one.fact is not None and _near(one, one.fact, found, predicted, allowed)]
    if proven:
        fact = proven[0].fact
        assert fact is not None
        return f" As measured it is {proven[0].says(fact)}."
    open_ones = [one for one in assumptions if one.fact is None]
    ranked = sorted(filter(None, (_needed(one, found, predicted) for one in open_ones)), key=lambda one: one.spreads)
    if not ranked:
        return (
            " Nothing that the prediction takes for granted explains it alone: look for two faults, or a wrong gauge."
        )
    best = ranked[0]
    says = f" Most likely {best.assumption.says(best.needed)}."
    rivals = [one for one in ranked[1:] if one.spreads <= CLEARLY * best.spreads]
    if rivals:
        says += f" Or {rivals[0].assumption.says(rivals[0].needed)}."
    return f"{says} To settle it: {best.assumption.settle}."


def _effect(one: Assumption, predicted: float) -> float:
    """How far the usual spread of an assumption moves the prediction."""
    value = _at(one, one.expected + one.spread)
    return 0.0 if value is None else abs(value - predicted)


def _at(one: Assumption, value: float) -> float | None:
    try:
        return one.predicted(value)
    except (OutsideRange, ImpossibleInput):
        return None


def _near(one: Assumption, fact: float, found: float, predicted: float, allowed: float) -> bool:
    """Whether a fact takes the prediction to the reading, from further away than both may be off."""
    there = _at(one, fact)
    return there is not None and abs(there - found) <= allowed < abs(found - predicted)


STEPS = 12
"""How often a stretch in which a value must lie is cut: well beyond the digits that are shown."""


def _needed(one: Assumption, found: float, predicted: float) -> Explanation | None:
    """The value with which an assumption alone would explain a reading; None where none does."""
    for far in one.between:
        end, there = _towards(one, far)
        if there is not None and (there - found) * (predicted - found) <= 0.0:
            value = _crossing(one, found, (one.expected, predicted - found), (end, there - found))
            return None if value is None else Explanation(one, value, _spreads(one, value))
    return None


def _towards(one: Assumption, end: float) -> tuple[float, float | None]:
    """An end of what a value may be, and the prediction there; where none can be made, as far out as one can."""
    for _ in range(STEPS):
        there = _at(one, end)
        if there is not None:
            return end, there
        end = 0.5 * (end + one.expected)
    return end, None


def _crossing(one: Assumption, found: float, near: tuple[float, float], far: tuple[float, float]) -> float | None:
    """Where between two values the prediction is the reading, by the Illinois form of the false position."""
    for _ in range(STEPS):
        (a, fa), (b, fb) = near, far
        if fa == fb:
            break
        x = b - fb * (b - a) / (fb - fa)
        value = _at(one, x)
        if value is None:
            return None
        fx = value - found
        if abs(fx) <= 1e-4 * abs(found):
            return x
        near = (b, fb) if fx * fb < 0.0 else (a, 0.5 * fa)
        far = (x, fx)
    return far[0]


def _spreads(one: Assumption, needed: float) -> float:
    """How many times its usual spread an assumption is off: of a size by ratio, for half and double are as far off."""
    if one.expected > 0.0 and needed > 0.0:
        return abs(math.log(needed / one.expected)) / math.log1p(one.spread / one.expected)
    return abs(needed - one.expected) / one.spread
