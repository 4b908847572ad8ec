"""Slips of the pen: how a number that makes no sense as it is written may have come about.

The commonest is a number in one unit with the sign of another; then a lost or an extra decimal place. Conversion
factors are those of NIST Special Publication 811, Appendix B: 1 lb = 0.453 592 37 kg, 1 in = 25.4 mm, 1 ft = 0.3048 m,
1 mi = 1.609 344 km, 1 imp gal = 4.546 09 L and 1 US gal = 3.785 411 784 L by definition; 1 psi = 6.894 757 kPa,
1 lb ft = 1.355 818 N m, 1 hp = 745.6999 W.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from swaplint.api import fields

ICE_POINT = 273.15

_KG = ("kg",)
_LB = ("lb", "lbs")
_MM = ("mm",)
_IN = ("in", "inch", "inches", '"')
_METRE = ("m",)
_FT = ("ft", "feet")
_KM = ("km",)
_MILE = ("mi", "mile", "miles")
_KPA, _BAR, _PSI = ("kpa",), ("bar",), ("psi",)
_NM = ("nm",)
_LBFT = ("lbft", "ftlb", "lbfft", "ftlbf")
_KMH, _MPH = ("km/h", "kmh", "kph"), ("mph",)
_LITRE, _GALLON = ("l",), ("usgal",)
_KW, _HP = ("kw",), ("hp",)
_CELSIUS, _FAHRENHEIT = ("degc", "°c"), ("degf", "°f")
_L_H, _L_MIN = ("l/h", "lph"), ("l/min", "lpm")
_PRESSURES = ("pressure", "gauge_pressure", "pressure_difference")
_VOLUME_FLOW = ("volume_flow",)

POUND, INCH, FOOT, MILE = 0.45359237, 25.4, 0.3048, 1.609344
PSI, POUND_FOOT, HORSEPOWER = 6.894757, 1.355818, 0.7456999
IMPERIAL_GALLON, US_GALLON = 4.54609, 3.785411784


@dataclass(frozen=True, slots=True)
class UnitSlip:
    """A number meant in one unit and written with the sign of another."""

    kinds: tuple[str, ...]
    """The kinds of quantity that it happens to."""
    written: tuple[str, ...]
    """The unit as written, in lower case without spaces."""
    meant: str
    """The unit that was meant, in words."""
    factor: float
    """How many of the written unit one of the meant unit is."""


UNIT_SLIPS = (
    UnitSlip(("mass",), _KG, "pounds", POUND),
    UnitSlip(("mass",), _LB, "kilograms", 1 / POUND),
    UnitSlip(("length",), _MM, "inches", INCH),
    UnitSlip(("length",), _IN, "millimetres", 1 / INCH),
    UnitSlip(("length",), _METRE, "feet", FOOT),
    UnitSlip(("length",), _FT, "metres", 1 / FOOT),
    UnitSlip(("length",), _KM, "miles", MILE),
    UnitSlip(("length",), _MILE, "kilometres", 1 / MILE),
    UnitSlip(_PRESSURES, _KPA, "psi", PSI),
    UnitSlip(_PRESSURES, _PSI, "kPa", 1 / PSI),
    UnitSlip(_PRESSURES, _BAR, "kPa", 0.01),
    UnitSlip(_PRESSURES, _KPA, "bar", 100.0),
    UnitSlip(_PRESSURES, _BAR, "psi", PSI / 100),
    UnitSlip(_PRESSURES, _PSI, "bar", 100 / PSI),
    UnitSlip(("torque",), _NM, "pound-feet", POUND_FOOT),
    UnitSlip(("torque",), _LBFT, "newton metres", 1 / POUND_FOOT),
    UnitSlip(("speed",), _KMH, "miles an hour", MILE),
    UnitSlip(("speed",), _MPH, "kilometres an hour", 1 / MILE),
    UnitSlip(("volume",), _LITRE, "imperial gallons", IMPERIAL_GALLON),
    UnitSlip(("volume",), _LITRE, "US gallons", US_GALLON),
    UnitSlip(("volume",), _GALLON, "litres", 1 / US_GALLON),
    UnitSlip(("power",), _KW, "horsepower", HORSEPOWER),
    UnitSlip(("power",), _HP, "kilowatts", 1 / HORSEPOWER),
    UnitSlip(_VOLUME_FLOW, _L_H, "litres a minute", 60.0),
    UnitSlip(_VOLUME_FLOW, _L_MIN, "litres an hour", 1 / 60),
)

DECIMAL_SLIPS = (
    (10.0, "one place to the right"),
    (0.1, "one place to the left"),
    (100.0, "two places to the right"),
    (0.01, "two places to the left"),
    (1000.0, "three places to the right"),
    (0.001, "three places to the left"),
)


@dataclass(frozen=True, slots=True)
class Explanation:
    """What the value would be, had it not slipped."""

    value: float
    """In SI, or a pure number."""
    how: str
    """What has to be read otherwise: 'in pounds'."""


def explain(value: float, written: str, facts: fields.FieldFacts) -> list[Explanation]:
    """The slips that make an implausible value plausible: a unit and a decimal place, if each does; nearest first.

    Near means near to the field's typical value. `value` is in SI. `written` is the value as it stands in the file:
    the unit in it decides which slips are possible, and without it the field's own unit does.
    """
    bounds = facts.plausible_si()
    assert bounds is not None
    low, high = bounds

    def distance(e: Explanation) -> float:
        return _distance(e.value, facts, low, high)

    unit = _unit(written) or _unit(facts.unit)
    found = []
    for candidates in (_unit_slips(value, unit, facts.kind_name), _decimal_slips(value, unit, facts.kind_name)):
        possible = [e for e in candidates if inside(e.value, low, high)]
        if possible:
            found.append(min(possible, key=distance))
    return sorted(found, key=distance)


def inside(value: float, low: float, high: float) -> bool:
    """Whether a value lies in a range; the rounding of a conversion does not put it outside."""
    slack = 1e-9 * max(abs(low), abs(high))
    return low - slack <= value <= high + slack


def _unit_slips(value: float, unit: str, kind: str) -> Iterator[Explanation]:
    for slip in UNIT_SLIPS:
        if kind in slip.kinds and unit in slip.written:
            yield Explanation(value * slip.factor, f"in {slip.meant}")
    for scale, units, how, convert in _SCALE_SLIPS:
        if kind == scale and unit in units:
            meant = convert(value)
            if meant is not None:
                yield Explanation(meant, how)


def _decimal_slips(value: float, unit: str, kind: str) -> Iterator[Explanation]:
    zero = 0.0
    if kind == "temperature":
        if unit not in _CELSIUS:
            return
        zero = ICE_POINT
    for factor, where in DECIMAL_SLIPS:
        yield Explanation((value - zero) * factor + zero, f"with the decimal point {where}")


def _fahrenheit(kelvin: float) -> float:
    return (kelvin - ICE_POINT - 32) / 1.8 + ICE_POINT


def _celsius(kelvin: float) -> float:
    return (kelvin - ICE_POINT) * 1.8 + 32 + ICE_POINT


def _angle_of_per_cent(radians: float) -> float:
    return math.atan(math.degrees(radians) / 100)


def _grade_of_degrees(grade: float) -> float | None:
    return math.tan(math.radians(100 * grade)) if abs(grade) < 0.89 else None


_SCALE_SLIPS: tuple[tuple[str, tuple[str, ...], str, Callable[[float], float | None]], ...] = (
    ("temperature", _CELSIUS, "in degrees Fahrenheit", _fahrenheit),
    ("temperature", _FAHRENHEIT, "in degrees Celsius", _celsius),
    ("angle", ("deg", "°"), "as a grade in per cent", _angle_of_per_cent),
    ("grade", ("%",), "as an angle in degrees", _grade_of_degrees),
)


def _unit(written: str) -> str:
    """The unit of a value as written, in lower case without spaces and signs of multiplication."""
    unit = re.sub(r"^[\s+−-]*[0-9][0-9.,/\s-]*(?:e[+-]?[0-9]+)?", "", written.strip().lower())
    return re.sub(r"[\s·*-]", "", unit)


def _distance(value: float, facts: fields.FieldFacts, low: float, high: float) -> float:
    typical = facts.typical_value()
    assert isinstance(typical, float)
    if value > 0 and typical > 0 and facts.kind_name != "temperature":
        return abs(math.log(value / typical))
    return abs(value - typical) / (high - low)
