"""Values for output: out of SI into the unit of the trade, and as people read them."""

from __future__ import annotations

import math
from collections.abc import Callable

from swaplint.declare.verdicts import Limit
from swaplint.inspecting.results import Finding, Inspection
from swaplint.spec.facts import FieldFacts, Stated
from swaplint.spec.loaded import LoadedSpec
from swaplint.units import KINDS, from_unit, to_unit
from swaplint.units.output import in_unit, in_unit_as_written, plain_number, shown, size_shown
from swaplint.units.showing import SHOWING, UNIT_SYSTEMS, System

JsonValue = float | int | str | bool | None


def units_for(spec: LoadedSpec) -> System | None:
    """The units of one spec's report: those that the call asks for, else those that the spec asks for."""
    asked = spec.stated("build.units")
    if SHOWING.system is not None or asked is None:
        return SHOWING.system
    return next((system for system in UNIT_SYSTEMS if system == asked.value), None)


def whole(value: float) -> float | int:
    """A whole number as an integer, for formats where `5` reads better than `5.0`."""
    return int(value) if value == int(value) and abs(value) < 1e15 else value


def field_value(stated: Stated, facts: FieldFacts | None) -> JsonValue:
    """A stated value in the unit of its field."""
    if isinstance(stated.value, bool | str) or facts is None:
        return stated.value
    if facts.type == "count":
        return whole(stated.value)
    return in_unit(stated.value, facts.kind_name, facts.unit)


def field_tolerance(stated: Stated, facts: FieldFacts | None) -> float | None:
    """The half-width of a stated tolerance in the unit of its field, None where there is none."""
    if not stated.tol or isinstance(stated.value, bool | str):
        return None
    if facts is None or facts.kind is None:
        return plain_number(stated.tol)
    # A tolerance is a step: for a temperature the step in the field's unit, without the unit's zero point.
    upper = to_unit(stated.value + stated.tol, facts.unit, facts.kind)
    lower = to_unit(stated.value - stated.tol, facts.unit, facts.kind)
    return plain_number((upper - lower) / 2)


def limit_value(limit: Limit, quantity: str, unit: str) -> float | list[float]:
    """A limit in the unit that it is shown in; a pair for `within`."""
    if isinstance(limit.value, tuple):
        return [in_unit(end, quantity, unit) for end in limit.value]
    return in_unit(limit.value, quantity, unit)


def number_words(value: float, quantity: str, unit: str, about: str = "") -> str:
    """A number with its unit, for people. `about` is the path of what it belongs to, where the number knows none."""
    return shown(value, quantity, unit, about=about)


def indicated(value: float, quantity: str, unit: str, about: str) -> str:
    """A number that only says what is usual, for people."""
    return shown(value, quantity, unit, digits=3, about=about)


def size_words(value: float, facts: FieldFacts, about: str) -> str:
    """A value of a field for people; a size of its standard series as it is sold."""
    series = facts.series and any(abs(value - size) <= 1e-9 * size for size in series_sizes(facts))
    return size_shown(value, facts.kind_name, facts.unit) if series else _of_field(value, facts, about)


def _of_field(value: float, facts: FieldFacts, about: str) -> str:
    return number_words(value, facts.kind_name, facts.unit, about)


def series_sizes(facts: FieldFacts) -> list[float]:
    """The standard sizes of a field that are numbers, in SI."""
    numbers = [size for size in facts.series if not isinstance(size, str)]
    return [from_unit(size, facts.unit, facts.kind) if facts.kind is not None else size for size in numbers]


def limit_words(finding: Finding) -> str:
    """The limit of a finding as a phrase: 'at most 20 kPa', 'from 1500 r/min to 2200 r/min'."""
    if finding.limit is None:
        return ""
    return limit_phrase(finding.limit, finding.quantity, finding.unit, finding.rule.id)


def limit_phrase(limit: Limit, quantity: str, unit: str, about: str) -> str:
    """A limit as a phrase, rounded to the side on which what is printed, taken at its word, passes.

    >>> limit_phrase(Limit("at most", 20123.4), "pressure", "kPa", "fuel.suction-loss")
    'at most 20.12 kPa'
    """

    def end_words(end: float, side: Callable[[float], int]) -> str:
        return number_words(_rounded_to(side, end, quantity, unit), quantity, unit, about)

    if isinstance(limit.value, tuple):
        low, high = limit.value
        return f"from {end_words(low, math.ceil)} to {end_words(high, math.floor)}"
    return f"{limit.relation} {end_words(limit.value, math.ceil if limit.relation == 'at least' else math.floor)}"


_FIGURES = 4
"""As many as a number is shown with."""


def _rounded_to(side: Callable[[float], int], end: float, quantity: str, unit: str) -> float:
    """An end of what is allowed, rounded up or down to what a number is shown with."""
    if SHOWING.inch_pound:
        return end
    number = in_unit(end, quantity, unit)
    step = 10.0 ** (math.floor(math.log10(abs(number))) + 1 - _FIGURES) if number else 1.0
    if step >= 1.0:  # a larger number is shown whole, to the last digit
        return end
    # What arithmetic leaves of a round number does not push it to the next one.
    rounded = side(round(number / step, 6)) * step
    return from_unit(rounded, unit, KINDS[quantity]) if quantity else rounded


def margin_words(margin: float | None) -> str:
    """A margin in per cent, with its sign."""
    if margin is None:
        return ""
    percent = margin * 100
    if abs(percent) >= 1000:
        return f"more than {'+' if percent > 0 else '-'}1000 %"
    digits = 0 if abs(percent) >= 100 else 1
    return f"{percent:+.{digits}f} %"


def _width(tolerance: float, facts: FieldFacts | None) -> str:
    return f"{tolerance:.4g}{' ' + facts.unit if facts is not None and facts.unit else ''}"


def stated_words(inspection: Inspection, path: str) -> str:
    """A stated value as it is written, with its tolerance and basis where it has them."""
    stated = inspection.stated(path)
    if stated is None:
        return ""
    facts = inspection.facts_of(path)
    words = stated.written
    tolerance = field_tolerance(stated, facts)
    if tolerance and SHOWING.inch_pound and facts is not None:
        words += f" ± {in_unit_as_written(stated.tol, words, facts.kind_name) or _width(tolerance, facts)}"
    elif tolerance:
        words += f" ± {_width(tolerance, facts)}"
    if stated.basis:
        words += f" ({stated.basis})"
    return words
