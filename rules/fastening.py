"""How tight bolts are, and how far they are screwed in: for the packs whose parts are held by bolts."""

from __future__ import annotations

from collections.abc import Callable

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    advice,
    at_least,
    at_most,
    does_not_apply,
    practice,
    shown,
    use_practice,
)
from swaplint.engineering import bolts

THREADS = practice("thread engagement of 1 diameter in steel, 1.25 in cast iron, 2 in aluminium")
ENGAGEMENT = {"steel": 1.0, "cast-iron": 1.25, "aluminium": 2.0}
"""Least length of thread that is screwed in, in thread diameters, by what the threads are cut in."""
TIGHT = practice("a joint is tightened to between 40 and 90 % of its bolts' yield strength")
LEAST, MOST, USUAL = 0.40, 0.90, 0.65
NUT_FACTOR = Practice(
    "nut factor 0.2 of a bolt as it comes (0.14 to 0.25)",
    0.2,
    practice("torque of a bolt as it comes: 0.2 times its preload times its diameter"),
    between=(0.14, 0.25),
)
SHARE = ("share", "%")
MM = ("length", "mm")


def preload(build: Build, torque: float, diameter: float) -> float:
    """Force that a tightening torque stretches a bolt with, N."""
    return bolts.preload(torque, diameter, use_practice(build, NUT_FACTOR))


def tightened(
    build: Build, torque: float, diameter: float, property_class: str, on: str
) -> dict[str, Callable[[], Verdict]]:
    """The demands on how tight bolts are: neither so little that they work loose nor so much that they stretch."""
    area, strength = bolts.stress_area(diameter), bolts.yield_of_class(property_class)
    share = preload(build, torque, diameter) / (area * strength)
    usual = USUAL * area * strength * use_practice(build, NUT_FACTOR) * diameter
    says = (
        f"{shown(torque)} on bolts of {shown(diameter, *MM)} and class {property_class} use "
        f"{shown(share, *SHARE, digits=2)} of their yield strength; "
        f"{shown(usual, 'torque', 'N m', digits=2)} is usual."
    )
    better = advice(on, round(usual))
    return {
        "tight-enough": lambda: at_least(share, LEAST, says, on=on, unit=SHARE, advice=better),
        "not-stretched": lambda: at_most(share, MOST, says, on=on, unit=SHARE, advice=better),
    }


def engaged(screwed_in: Callable[[], float], diameter: float, threads_in: str, on: str) -> Verdict:
    """The demand on how far bolts are screwed in; a nut of their class is as strong: nobody asks."""
    if threads_in == "nut":
        return does_not_apply("They are held by nuts of their class.")
    length = screwed_in()
    least = ENGAGEMENT[threads_in] * diameter
    says = f"Bolts of {shown(diameter, *MM)} are screwed {shown(length, *MM)} into {threads_in.replace('-', ' ')}."
    return at_least(length, least, says, on=on, unit=MM, advice=advice(on, least))
