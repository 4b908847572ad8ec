"""Refusal of arguments before a formula sees them.

Every engineering function guards its arguments with these, so that a zero bore or a negative mass ends in a
sentence and never in a division by zero, and so that a number from outside a formula's range is never mistaken
for one from inside it.
"""

from __future__ import annotations

import math


class ImpossibleInput(ValueError):
    """An argument that cannot describe a real thing: zero bore, negative mass, not finite."""


class OutsideRange(ValueError):
    """Arguments that are possible, but for which the formula is not known to hold."""


def finite(name: str, value: float) -> float:
    """Return `value` if it is a finite number.

    >>> finite("torque", 250.0)
    250.0
    """
    if not math.isfinite(value):
        raise ImpossibleInput(f"{_words(name)} must be a finite number, not {value}")
    return value


def positive(name: str, value: float) -> float:
    """Return `value` if it is finite and greater than zero.

    >>> positive("bore", 0.0)
    Traceback (most recent call last):
        ...
    swaplint.engineering.guards.ImpossibleInput: bore must be greater than zero, not zero
    """
    if not 0.0 < value < math.inf:
        raise ImpossibleInput(f"{_words(name)} must be greater than zero, {_not(finite(name, value))}")
    return value


def not_negative(name: str, value: float) -> float:
    """Return `value` if it is finite and zero or more.

    >>> not_negative("length", 0.0)
    0.0
    """
    if not 0.0 <= value < math.inf:
        finite(name, value)
        raise ImpossibleInput(f"{_words(name)} must not be negative")
    return value


def share(name: str, value: float) -> float:
    """Return `value` if it is a share of a whole, from 0 to 1.

    >>> share("efficiency", 0.95)
    0.95
    """
    if not 0.0 <= value <= 1.0:
        raise ImpossibleInput(f"{_words(name)} must lie between 0 and 100 %, not at {said(finite(name, value), '%')}")
    return value


def within_range(name: str, value: float, low: float, high: float, why: str, unit: str = "") -> float:
    """Return `value` if the formula holds there; `why` says what ends the range, `unit` how a sentence tells it.

    >>> within_range("altitude", 500.0, 0.0, 11000.0, "the troposphere model ends there", "m")
    500.0
    >>> within_range("temperature", 73.15, 233.15, 368.15, "the table ends there", "°C")
    Traceback (most recent call last):
        ...
    swaplint.engineering.guards.OutsideRange: temperature -200 °C is outside -40 to 95 °C: the table ends there
    """
    if not low <= finite(name, value) <= high:
        if high == math.inf:
            raise OutsideRange(f"{_words(name)} {said(value, unit)} is below {said(low, unit)}: {why}")
        ends = f"{said(low, unit).removesuffix(unit).strip()} to {said(high, unit)}"
        raise OutsideRange(f"{_words(name)} {said(value, unit)} is outside {ends}: {why}")
    return value


ROUNDING = 1e-9
"""What units and arithmetic may do to a number, as a share of it."""


def reaches(value: float, limit: float) -> bool:
    """Whether a value is at or above a limit; one that misses it by no more than rounding is at it.

    >>> 0.1 + 0.2 > 0.3, reaches(0.3, 0.1 + 0.2)
    (True, True)
    """
    return value > limit or math.isclose(value, limit, rel_tol=ROUNDING)


_WORKSHOP = {
    "": (1.0, 0.0),
    "m": (1.0, 0.0),
    "mm": (1e3, 0.0),
    "mm²": (1e6, 0.0),
    "mm²/s": (1e6, 0.0),
    "°C": (1.0, -273.15),
    "°": (180.0 / math.pi, 0.0),
    "%": (100.0, 0.0),
    "V": (1.0, 0.0),
    "kPa": (1e-3, 0.0),
    "Pa": (1.0, 0.0),
    "kg/m³": (1.0, 0.0),
    "L": (1e3, 0.0),
    "L/min": (6e4, 0.0),
    "m³/h": (3600.0, 0.0),
    "km/h": (3.6, 0.0),
    "m/s": (1.0, 0.0),
    "kW": (1e-3, 0.0),
    "r/min": (30.0 / math.pi, 0.0),
    "N m": (1.0, 0.0),
}
"""The units in which a sentence tells an SI number: by how much it is multiplied, and what is then added."""


def said(value: float, unit: str) -> str:
    """An SI number for a sentence, in a unit of the workshop: nobody measures in kelvin or radians.

    >>> said(373.15, "°C"), said(157.08, "r/min"), said(0.5, "°")
    ('100 °C', '1500 r/min', '28.65°')
    """
    times, plus = _WORKSHOP[unit]
    number = value * times + plus
    # Tenths of a degree are as much as a thermometer shows; what arithmetic leaves is none.
    figures = f"{number:.0f}" if abs(number) >= 1e4 else f"{(round(number, 1) if unit == '°C' else number):.4g}"
    return f"{figures}°" if unit == "°" else f"{figures} {unit}".strip()


def celsius(kelvin: float) -> str:
    """A temperature for a sentence, as people know it.

    >>> celsius(373.15)
    '100 °C'
    """
    return said(kelvin, "°C")


def _not(value: float) -> str:
    """What a number is instead of greater than zero. In SI it would say nothing to whoever typed another unit."""
    return "not negative" if value < 0.0 else "not zero"


def _words(name: str) -> str:
    """The name of an argument as words of a sentence."""
    return name.replace("_", " ")
