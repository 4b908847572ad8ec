"""Numbers for output: out of SI into the unit of the trade, and as people read them."""

from __future__ import annotations

import functools

from swaplint.units import KINDS, from_unit, show, to_unit
from swaplint.units.showing import SHOWING
from swaplint.units.value import Value


def shown(value: float, kind: str = "", unit: str = "", *, digits: int = 4, about: str = "") -> str:
    """A number as people read it, in the unit system in force.

    `kind` and `unit` are needed only where it was not read from a field or a quantity; `unit` is always the metric one.
    `about` is the path of the field, quantity or rule that it belongs to, for the caller who knows better.

    >>> shown(0.125, "grade", "%")
    '12.5 %'
    >>> shown(4.8800001)
    '4.88'
    """
    if isinstance(value, Value) and not kind:
        kind, unit = value.kind, value.unit
    if kind:
        if SHOWING.inch_pound:
            return _in_inch_pound(float(value), kind, unit, digits, about or path_of_number(value))
        return _shown(float(value), kind, unit, digits)
    return f"{value:.{digits}g}" if abs(value) < 10**digits else f"{value:.0f}"


@functools.lru_cache(maxsize=8192)
def _shown(value: float, kind: str, unit: str, digits: int) -> str:
    return show(value, unit, KINDS[kind], digits=digits)


@functools.lru_cache(maxsize=8192)
def _in_inch_pound(value: float, kind: str, unit: str, digits: int, about: str) -> str:
    # Imported only for who wants it: a metric workshop does without the table.
    from swaplint.units.unit_systems import in_inch_pound

    return in_inch_pound(value, kind, unit, digits, about)


def path_of_number(value: float) -> str:
    """The path of the field or quantity that a number is; else what is being told of."""
    return value.path if isinstance(value, Value) else SHOWING.about


def size_shown(value: float, kind: str, unit: str) -> str:
    """A size of a standard series as it is sold: where numbers are shown in inch-pound units, with its inch name.

    >>> size_shown(0.008, "length", "mm")
    '8 mm'
    """
    if not SHOWING.inch_pound:
        return shown(value, kind, unit)
    from swaplint.units.unit_systems import sold_as

    return sold_as(value, kind, unit) if kind else shown(value)


def unit_shown(kind: str, unit: str, about: str = "") -> str:
    """What stands behind a number of a kind that is measured in a metric unit.

    >>> unit_shown("length", "mm")
    'mm'
    """
    if not (SHOWING.inch_pound and kind):
        return unit
    from swaplint.units.unit_systems import unit_label

    return unit_label(kind, unit, about or SHOWING.about)


def in_unit_shown(value: float, kind: str, unit: str, about: str = "") -> float:
    """An SI value as a number in the unit that `unit_shown` names; a pure number as it is."""
    if not (SHOWING.inch_pound and kind):
        return in_unit(value, kind, unit)
    from swaplint.units.unit_systems import number_in_inch_pound

    return number_in_inch_pound(value, kind, unit, about or path_of_number(value))


def from_unit_shown(value: float, kind: str, unit: str, about: str = "") -> float:
    """The SI value of a number in the unit that `unit_shown` names; a pure number as it is."""
    if not kind:
        return value
    if not SHOWING.inch_pound:
        return from_unit(value, unit, KINDS[kind])
    from swaplint.units.unit_systems import si_of

    return si_of(value, kind, unit, about or SHOWING.about)


def written_as(value: float, kind: str, unit: str, about: str = "", *, exact: bool = False) -> str:
    """An SI value as a spec states it in the unit system in force: in ASCII, with a unit that can be read again.

    Without `exact`, an inch-pound number has as many digits as a typical value is worth.
    """
    if not SHOWING.inch_pound:
        return f"{in_unit(value, kind, unit):.12g} {unit}"
    from swaplint.units.unit_systems import written_in_inch_pound

    about = about or SHOWING.about
    return written_in_inch_pound(value, kind, unit, about, *([6] if exact else []))


def in_unit_as_written(width: float, written: str, kind: str) -> str:
    """The half width of a tolerance in the unit that its value is written in; empty where there is none to tell."""
    if not kind:
        return ""
    from swaplint.units.unit_systems import in_unit_written

    return in_unit_written(width, written, kind)


def in_unit(value: float, kind: str, unit: str) -> float:
    """An SI value in the unit that it is shown in; a pure number as it is.

    >>> in_unit(0.125, "grade", "%")
    12.5
    """
    return plain_number(to_unit(value, unit, KINDS[kind]) if kind else value)


def plain_number(value: float) -> float:
    """A number without the last digits that arithmetic leaves: twelve significant ones are enough.

    >>> plain_number(0.1 + 0.2)
    0.3
    """
    return float(f"{value:.12g}")
