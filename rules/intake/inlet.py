"""The rule about the place where the engine draws its air."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    or_practice,
    owner,
    practice,
    rule,
    sheet,
    shown,
    told,
)

from .. import sources
from ..vegetation import over_vegetation
from . import quantities as q

Level = Literal["error", "warning", "note"]

INLET = "plumbing.intake.inlet"

RISE = Practice(
    "air at most 15 K above the outside air", 15.0, practice("an engine breathes air at most 10 to 15 K above outside")
)
WADING = 0.200
WADING_PRACTICE = practice("the inlet is 200 mm or more above the deepest water")


@rule(
    "intake.inlet-air",
    level="warning",
    due="build",
    sources=[
        sheet("engine.air.temp_rise_max"),
        owner("build.design.wade_depth"),
        WADING_PRACTICE.giving("limit", "200 mm above the water"),
        sources.APPARATUS_AIR.giving("limit", "a screen against embers"),
    ],
    cautions=[cautions.HOT],
    about=INLET,
    adjust=[f"{INLET}.height"],
    fallbacks=[RISE, q.UNDER_HOOD],
    bad=[
        {f"{INLET}.temp_rise": "20 K"},
        {f"{INLET}.height": "450 mm"},
        {f"{INLET}.drained": False},
        {f"{INLET}.clear_of_exhaust": False},
        {"build.duty.vegetation": True, f"{INLET}.ember_screen": False},
    ],
    good=[{f"{INLET}.place": "roof", f"{INLET}.height": "1900 mm"}],
)
def inlet_air(build: Build) -> Verdict:
    """Does the engine breathe cool, dry and clean air from outside?

    Computes: the rise of the air at the inlet over the outside air, as measured, else 30 K for an inlet under the hood
    (common practice: 25 to 40 K); the height of the inlet above the deepest water.
    Limit: the greatest rise of the engine's data sheet, 15 K without one; 200 mm above the wading depth (common
    practice). An inlet below the water is an error: an engine that draws water bends its rods. A drain ahead of the
    filter, no exhaust gas at the inlet, and where it works over grass or brush a screen against embers: a note.
    Consequence: The engine loses power in hot or fouled air, or draws in water or embers and is ruined.
    Remedy: a higher inlet, by a snorkel that is tight at every joint; a duct to cool air.
    Cannot tell: the bow wave, which rises above the water at rest; how hot it really gets under the hood. A vehicle
    that stays on roads is not judged for wading where its spec states no depth.
    """
    demands: dict[str, Callable[[], Verdict]] = {
        "temperature": lambda: _rise(build),
        "drain": lambda: _drain(build),
        "exhaust-gas": lambda: _exhaust_gas(build),
    }
    if given(lambda: build.build.design.wade_depth) is not None or given(lambda: build.build.duty.terrain) != "road":
        demands["height"] = lambda: _height(build)
    demands["embers"] = lambda: _embers(build)
    return all_of(demands)


def _rise(build: Build) -> Verdict:
    limit, found = or_practice(lambda: build.engine.air.temp_rise_max, RISE), q.inlet_rise(build)
    stated = given(lambda: build.plumbing.intake.inlet.temp_rise) is not None
    place = str(build.plumbing.intake.inlet.place).replace("-", " ")
    says = f"Air from the place '{place}' is {shown(found)} above the outside air; "
    says += f"{shown(limit, 'temperature_difference', 'K')} is allowed."
    if found > limit:
        says += told(" About 1 % of power goes for every 3 to 5 K beyond it: take the air from outside.")
    return at_most(found, limit, says, on=f"{INLET}.temp_rise" if stated else f"{INLET}.place")


def _drain(build: Build) -> Verdict:
    drained = build.plumbing.intake.inlet.drained
    says = (
        "Water that gets in runs out ahead of the filter."
        if drained
        else "Water that gets in reaches the filter: give the lowest point ahead of it a drain."
    )
    return holds(drained, says, on=f"{INLET}.drained")


def _exhaust_gas(build: Build) -> Verdict:
    clear = build.plumbing.intake.inlet.clear_of_exhaust
    says = (
        "No exhaust gas and no warm air reach the inlet."
        if clear
        else "Exhaust gas or warm air reaches the inlet: move one of the two."
    )
    return holds(clear, says, on=f"{INLET}.clear_of_exhaust")


def _height(build: Build) -> Verdict:
    water, height, on = build.build.design.wade_depth, build.plumbing.intake.inlet.height, f"{INLET}.height"
    above = shown(abs(height - water), "length", "mm")
    says = (
        f"The inlet is {shown(height)} above the ground, {above} {'above' if height >= water else 'below'} the top of "
    )
    says += f"water of {shown(water)}."
    if height < water + WADING:
        says += " The bow wave reaches it: lead it higher, by a snorkel that is tight at every joint."
    level: Level = "error" if height < water else "warning"
    return at_least(height, water + WADING, says, level=level, on=on, advice=advice(on, water + WADING))


def _embers(build: Build) -> Verdict:
    if given(lambda: build.plumbing.intake.inlet.ember_screen) is not True and not over_vegetation(build):
        return does_not_apply("It does not work over grass or brush, where embers fly.")
    screened: bool = build.plumbing.intake.inlet.ember_screen
    says = (
        "A screen keeps embers out."
        if screened
        else "Over grass or brush an ember can light the filter: fit a fine metal screen that can be cleaned."
    )
    return holds(screened, says, level="note", on=f"{INLET}.ember_screen")
