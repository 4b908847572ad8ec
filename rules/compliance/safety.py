"""The rule of safety at work: lifting gear, and what else is at hand."""

from __future__ import annotations

import functools
import math
from collections.abc import Callable

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
    holds,
    practice,
    quantity,
    regulation,
    rule,
    sheet,
    shown,
)

from ..mounts.quantities import unit_mass

SAFETY = "build.safety"
HOIST_FACTOR = 1.5
HOIST = practice("a hoist is rated for half as much again as what it lifts")
SLINGS = regulation("BG BAU, German trade insurance for building, guidance on slings (undated copy)", known="published")
SLING_STATICS = practice("a leg of a sling carries its share over the cosine of its angle from the vertical")
STEEPEST = math.radians(60.0)
LEGS_COUNTED = 2
"""How many legs of a sling are taken to carry, however many it has."""
AT_HAND = practice("rated stands, a fire extinguisher, ventilation, and protection of eyes and ears are at hand")

_AT_HAND = {
    "stands": "rated stands under the vehicle",
    "extinguisher": "a fire extinguisher for fuel",
    "ventilation": "what draws off exhaust gas and fuel vapour",
    "eyes_and_ears": "protection for eyes and ears",
}


@quantity(
    "compliance.lifted-mass",
    "mass",
    "kg",
    formula="m = engine, wet; with all that is bolted to it where they are lifted as one",
    sources=[practice("what hangs on the hoist is weighed with its fluids").giving("formula")],
)
def lifted_mass(build: Build) -> float:
    """Mass that hangs on the hoist."""
    return unit_mass(build) if build.build.safety.lifted_together else build.engine.mass.wet


@quantity(
    "compliance.sling-leg-load",
    "mass",
    "kg",
    formula="m_leg = m/(n·cos α), n the legs, two where there are more",
    sources=[SLING_STATICS.giving("formula")],
)
def sling_leg_load(build: Build) -> float:
    """What one leg of the sling carries."""
    safety = build.build.safety
    carrying = min(safety.sling_legs, LEGS_COUNTED)
    return lifted_mass(build) / (carrying * math.cos(min(safety.sling_angle, STEEPEST)))


@rule(
    "compliance.safety-equipment",
    level="warning",
    due="build",
    sources=[
        HOIST.giving("limit", "1.5 times what it lifts", demands=["hoist"]),
        sheet(f"{SAFETY}.sling_leg_capacity").giving("limit", "what a leg may carry", demands=["sling"]),
        SLINGS.giving("limit", "60° from the vertical", demands=["angle"]),
        SLINGS.giving("formula", "two legs carry, however many there are"),
        SLINGS.giving("limit", "looked over every year", demands=["checked"]),
        SLING_STATICS.giving("formula", "load of a leg"),
        AT_HAND.giving("limit", "all of it", demands=["stands", "extinguisher", "ventilation", "eyes-and-ears"]),
    ],
    cautions=[cautions.CRUSH, cautions.FUEL_FIRE, cautions.BATTERY_ARC, cautions.EXHAUST_GAS],
    adjust=[f"{SAFETY}.sling_angle"],
    about=SAFETY,
    bad=[
        {f"{SAFETY}.hoist_capacity": "500 kg"},
        {f"{SAFETY}.sling_leg_capacity": "200 kg"},
        {f"{SAFETY}.sling_angle": "65 deg"},
        {f"{SAFETY}.gear_checked": False},
        {f"{SAFETY}.stands": False},
        {f"{SAFETY}.extinguisher": False},
        {f"{SAFETY}.ventilation": False},
        {f"{SAFETY}.eyes_and_ears": False},
    ],
    good=[{f"{SAFETY}.lifted_together": False, f"{SAFETY}.hoist_capacity": "400 kg"}],
)
def safety_equipment(build: Build) -> Verdict:
    """Do hoist and sling carry what is lifted, and is the rest at hand that keeps people safe?

    Computes: what hangs on the hoist; what a leg of the sling carries, m/(n·cos α), with α from the vertical and
    two legs counted where there are more.
    Limit: the hoist's rating, half as much again as what it lifts (common practice); the rating of a leg; at most 60°
    from the vertical; hoist and sling looked over every year.
    Consequence: An engine that falls, a jet of fuel or a fire hurts or kills whoever stands there.
    Remedy: the hoist's rating that the result names, longer legs, what is missing.
    Cannot tell: what people do. Nobody stands or reaches under a hanging load.
    """
    demands: dict[str, Callable[[], Verdict]] = {
        "hoist": lambda: _hoist(build),
        "sling": lambda: _sling(build),
        "angle": lambda: _angle(build),
        "checked": lambda: _checked(build),
    }
    for name in _AT_HAND:
        demands[name.replace("_", "-")] = functools.partial(_at_hand, build, name)
    return all_of(demands)


def _hoist(build: Build) -> Verdict:
    lifted, on = lifted_mass(build), f"{SAFETY}.hoist_capacity"
    least = HOIST_FACTOR * lifted
    says = f"It lifts {shown(lifted)}: a hoist of {shown(least, 'mass', 'kg', digits=3)} at the reach in use is enough."
    return at_least(build.build.safety.hoist_capacity, least, says, on=on)


def _sling(build: Build) -> Verdict:
    safety, on = build.build.safety, f"{SAFETY}.sling_leg_capacity"
    found = sling_leg_load(build)
    says = f"At {shown(safety.sling_angle)} from the vertical one leg carries {shown(found, digits=3)}."
    return at_most(found, safety.sling_leg_capacity, says, on=on)


def _angle(build: Build) -> Verdict:
    on = f"{SAFETY}.sling_angle"
    says = "The flatter the legs, the more each carries: twice its share at 60° from the vertical."
    return at_most(build.build.safety.sling_angle, STEEPEST, says, on=on, advice=advice(on, STEEPEST))


def _checked(build: Build) -> Verdict:
    good, on = build.build.safety.gear_checked, f"{SAFETY}.gear_checked"
    says = "Hoist and sling were looked over within the year." if good else "Have hoist and sling looked over first."
    return holds(good, says, on=on)


def _at_hand(build: Build, name: str) -> Verdict:
    there, what = bool(getattr(build.build.safety, name)), _AT_HAND[name]
    return holds(there, f"{'At hand' if there else 'Not at hand'}: {what}.", on=f"{SAFETY}.{name}")
