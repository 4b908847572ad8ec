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
        raise ImpossibleInput(f"{name} must be a finite number, not {value}")
    return value


def positive(name: str, value: float) -> float:
    """Return `value` if it is finite and greater than zero.

    >>> positive("bore", 0.0)
    Traceback (most recent call last):
        ...
    swaplint.engineering.guards.ImpossibleInput: bore must be greater than zero, not 0.0
    """
    if not 0.0 < value < math.inf:
        raise ImpossibleInput(f"{name} must be greater than zero, not {finite(name, value)}")
    return value


def not_negative(name: str, value: float) -> float:
    """Return `value` if it is finite and zero or more.

    >>> not_negative("length", 0.0)
    0.0
    """
    if not 0.0 <= value < math.inf:
        raise ImpossibleInput(f"{name} must not be negative, not {finite(name, value)}")
    return value


def share(name: str, value: float) -> float:
    """Return `value` if it is a share of a whole, from 0 to 1.

    >>> share("efficiency", 0.95)
    0.95
    """
    if not 0.0 <= value <= 1.0:
        raise ImpossibleInput(f"{name} must lie between 0 and 1, not {finite(name, value)}")
    return value


def within_range(name: str, value: float, low: float, high: float, why: str) -> float:
    """Return `value` if the formula holds there; `why` says what ends the range.

    >>> within_range("altitude", 500.0, 0.0, 11000.0, "the troposphere model ends there")
    500.0
    """
    if not low <= finite(name, value) <= high:
        raise OutsideRange(f"{name} {value:g} is outside {low:g} to {high:g}: {why}")
    return value


def celsius(kelvin: float) -> str:
    """A temperature for a sentence, as people know it.

    >>> celsius(373.15)
    '100 °C'
    """
    return f"{round(kelvin - 273.15, 1):g} °C"
