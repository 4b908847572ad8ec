"""Values for output: out of SI into the unit of the trade, and as people read them."""

from __future__ import annotations

from swaplint.declare.verdicts import Limit
from swaplint.inspecting.results import Finding, Inspection
from swaplint.spec.fields import FieldFacts, Stated
from swaplint.units import to_unit
from swaplint.units.output import in_unit, plain_number, shown

JsonValue = float | int | str | bool | None


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


def number_words(value: float, quantity: str, unit: str) -> str:
    """A number with its unit, for people."""
    return shown(value, quantity, unit)


def limit_words(finding: Finding) -> str:
    """A limit as a phrase: 'at most 20 kPa', 'from 1500 r/min to 2200 r/min'."""
    limit = finding.limit
    if limit is None:
        return ""
    if isinstance(limit.value, tuple):
        low, high = (number_words(end, finding.quantity, finding.unit) for end in limit.value)
        return f"from {low} to {high}"
    return f"{limit.relation} {number_words(limit.value, finding.quantity, finding.unit)}"


def margin_words(margin: float | None) -> str:
    """A margin in per cent, with its sign."""
    if margin is None:
        return ""
    percent = margin * 100
    if abs(percent) >= 1000:
        return f"more than {'+' if percent > 0 else '-'}1000 %"
    digits = 0 if abs(percent) >= 100 else 1
    return f"{percent:+.{digits}f} %"


def stated_words(inspection: Inspection, path: str) -> str:
    """A stated value as it is written, with its tolerance and basis where it has them."""
    stated = inspection.stated(path)
    if stated is None:
        return ""
    facts = inspection.facts_of(path)
    words = stated.written
    tolerance = field_tolerance(stated, facts)
    if tolerance:
        words += f" ± {tolerance:.4g}{' ' + facts.unit if facts is not None and facts.unit else ''}"
    if stated.basis:
        words += f" ({stated.basis})"
    return words
