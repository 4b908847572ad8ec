"""Stated values of tyres and engine that cannot all be true: a person finds out which is wrong."""

from __future__ import annotations

from itertools import pairwise

from swaplint.api import Build, Verdict, given, holds, needs_review, shown
from swaplint.engineering import tyres

MM, RPM = ("length", "mm"), ("rotation", "r/min")
SAME_TYRE = 0.05
"""How far a tyre may be from the diameter that its size gives: makes differ by some 2 %, worn ones by as much."""


def sizes_of_tyres(build: Build) -> tuple[float, float] | None:
    """The tyres' diameter as stated and as their size on the sidewall gives it, m; None where not both are known."""
    fitted = build.driveline.tyres
    stated, marked = given(lambda: float(fitted.overall_diameter)), given(lambda: fitted.designation)
    if stated is None or marked is None:
        return None
    try:
        named = tyres.read_designation(marked).overall_diameter
    except ValueError:
        return None
    return None if named is None else (stated, named)


def tyre_size(stated: float, named: float) -> Verdict:
    """The verdict on the two diameters: a person looks where they differ by more than makes and wear do."""
    on = "driveline.tyres.overall_diameter"
    says = f"By its sidewall the tyre is {shown(named, *MM)} across and {shown(stated, *MM)} are stated"
    if abs(stated / named - 1.0) <= SAME_TYRE:
        return holds(True, f"{says}.", on=on)
    return needs_review(f"{says}, on which every speed rests. Measure the tyre, and read its sidewall.", on=on)


def stated_speeds(build: Build) -> list[tuple[str, float]]:
    """The sheet's speeds that are stated, in the order in which they rise."""
    speed = build.engine.speed
    named = {
        "idle": given(lambda: speed.idle),
        "rated": given(lambda: speed.rated),
        "governed": given(lambda: speed.governed_max),
        "overspeed": given(lambda: speed.overspeed_max),
    }
    return [(name, float(value)) for name, value in named.items() if value is not None]


def speeds_in_order(build: Build) -> Verdict:
    """The verdict on them: a person looks where one lies above the next."""
    for (low, here), (high, there) in pairwise(stated_speeds(build)):
        if here > there:
            says = f"The {low} speed of {shown(here, *RPM)} is above the {high} speed of {shown(there, *RPM)}: one of "
            return needs_review(f"{says}the two is wrong. Look at the sheet.", on="engine.speed")
    return holds(True, "The engine's speeds rise from idle to the limit.", on="engine.speed")
