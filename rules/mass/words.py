"""How masses and distances are called in the sentences of the mass rules."""

from __future__ import annotations

import math

from swaplint.api import Build, shown
from swaplint.engineering import statics

from .. import rounding
from ..gearing import places

HANDY = 50.0
"""kg of something that can be moved, for telling how far: a battery, a spare wheel, a box of tools."""


POUND = 0.45359237
"""kg in a pound, by definition."""


def kg(mass: float) -> str:
    """A mass as people read it."""
    return shown(mass, "mass", "kg", digits=3)


def kg_up(mass: float) -> str:
    """A mass that must go, rounded up."""
    return shown(up(mass), "mass", "kg", digits=3)


def up(value: float) -> float:
    """The next number of three digits that is no smaller: what is asked for must be enough as it is printed."""
    if value <= 0.0:
        return value
    step = 10.0 ** (math.floor(math.log10(value)) - 2)
    return rounding.up(value, step)


def mm(length: float) -> str:
    """A length as people read it."""
    return shown(length, "length", "mm", digits=3)


def shift(build: Build, mass: float, axle: str) -> str:
    """How far something handy must move to take a mass off an axle."""
    wheelbase = places.load_base(build)
    distance = statics.shift_to_move_load(mass, HANDY, wheelbase)
    way = "back" if axle == "front" else "forward"
    if distance <= wheelbase:
        return f"{kg(HANDY)} moved {mm(up(distance))} {way} would do it, or more mass less far."
    return f"moving {kg_up(2 * mass)} {way} by half the wheelbase, or carrying less on that axle."


def named(build: Build, end: places.End) -> str:
    """What stands in front or behind, as the subject of a sentence with its verb still to come."""
    return f"The {end} axle" if places.count_at(build, end) == 1 else f"The group of {end} axles"


def as_pounds(mass: float, lowest: float, highest: float) -> str:
    """A hint for a mass that is out of proportion, where the same number of pounds would not be; else nothing."""
    in_pounds = mass * POUND
    if not lowest <= in_pounds <= highest:
        return ""
    return f" As pounds the number would be {kg(in_pounds)}, which fits: was it read from a plate or scale in pounds?"
