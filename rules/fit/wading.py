"""The rule about water: what hangs lower than the water that the vehicle crosses."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import partial

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_least,
    does_not_apply,
    given,
    holds,
    is_fitted,
    name_of,
    needs_review,
    part_named,
    path_of,
    practice,
    rule,
    shown,
)
from swaplint.engineering import ip_codes
from swaplint.spec.systems.fit import Breather, WetPart

from .. import sources
from ..mounts.moving import Level

MM = ("length", "mm")
WADING = "vehicle.wading"
FAN = "plumbing.cooling.fan"
ABOVE = practice("breathers end 100 mm or more above the water at rest, for the bow wave")
FANS = practice("a fan stands still in water: its blades bend into the core, its motor stalls")
BOW_WAVE = 0.100


@rule(
    "fit.wading",
    level="error",
    due="build",
    sources=[
        ABOVE.giving("limit", "100 mm above the water"),
        FANS.giving("limit", "a fan that is stopped"),
        sources.PROTECTION_CODES.giving("limit", "IPX7 for what is under water", demands=["electrical"]),
    ],
    about=WADING,
    adjust=[
        f"{WADING}.gearbox_breather.height",
        f"{WADING}.transfer_breather.height",
        f"{WADING}.axle_breathers.*.height",
    ],
    bad=[
        {f"{WADING}.gearbox_breather.height": "250 mm"},
        {f"{WADING}.axle_breathers.rear.height": "350 mm"},
        {f"{WADING}.electrical.starter.ip_codes": ["IP54"]},
        {f"{FAN}.lowest_tip": "280 mm", f"{FAN}.stopped_in_water": False},
    ],
    good=[
        {f"{WADING}.transfer_breather": {"fitted": False}},
        {f"{FAN}.lowest_tip": "280 mm", f"{FAN}.stopped_in_water": True},
    ],
)
def wading(build: Build) -> Verdict:
    """Does water stay out of gearbox, axles, connectors and fan at the depth that the vehicle wades?

    Computes: the height of each above the water at rest.
    Limit: common practice: breathers 100 mm above the water (a warning; below the water an error, because a hot
    gearbox that cools draws it in). What is electric and hangs under water is protected for it, IPX7 or IPX8 (ISO
    20653, from memory: a warning); the starter hangs low on every engine and is asked for. A fan that the water reaches
    stands still (a warning).
    Consequence: Water ruins gears unseen, stops the engine on the way, or bends the fan into the core.
    Remedy: breather hoses led up together under the hood; connectors moved up or sealed ones; a switch for the fan.
    Cannot tell: the bow wave and how deep the vehicle sinks in; worn seals. Air inlet: intake.inlet-air; tank vent:
    fuel.venting; the engine's control unit: controls.ecm-environment. After wading look at the oils, and dry the brakes
    before they are needed.
    """
    if build.build.design.wade_depth == 0.0:
        return does_not_apply("The vehicle is not meant to wade.")
    place = build.vehicle.wading
    demands: dict[str, Callable[[], Verdict]] = {"gearbox": lambda: _breather(build, place.gearbox_breather)}
    if given(lambda: is_fitted(build.driveline.transfer)) is not False:
        demands["transfer"] = lambda: _breather(build, place.transfer_breather)
    for axle in build.driveline.axles.values():
        if given(partial(is_fitted, axle)) is not False:
            demands[f"axle.{name_of(axle)}"] = partial(_axle, build, name_of(axle))
    if given(lambda: is_fitted(place.crankcase_breather)) is not False:
        demands["crankcase"] = lambda: _breather(build, place.crankcase_breather)
    wet = given(lambda: list(place.electrical.values()))
    if wet:
        if not any("starter" in name_of(piece) for piece in wet) and given(lambda: is_fitted(build.engine.starter)):
            wet.append(part_named(place, "electrical", "starter"))  # it hangs low on every engine
        demands |= {f"electrical.{name_of(piece)}": partial(_electrical, build, piece) for piece in wet}
    else:
        demands["electrical"] = lambda: _nothing_electrical(build)
    if given(lambda: is_fitted(build.plumbing.cooling.fan)) is not False:
        demands["fan"] = lambda: _fan(build)
    return all_of(demands)


def _axle(build: Build, name: str) -> Verdict:
    breather = build.vehicle.wading.axle_breathers.get(name)
    if breather is None:
        says = f"Nobody says where the axle {name} breathes: follow its hose, or state its breather as not fitted."
        return needs_review(says, on=f"{WADING}.axle_breathers")
    return _breather(build, breather)


def _above(height: float, water: float) -> str:
    """Where something is, against the water."""
    apart = shown(abs(height - water), *MM)
    return f"{shown(height, *MM)} above the ground, {apart} {'above' if height >= water else 'below'} the water"


def _breather(build: Build, breather: Breather) -> Verdict:
    if not is_fitted(breather):
        return does_not_apply("It has no breather that opens to the air.")
    water, height, on = build.build.design.wade_depth, breather.height, f"{path_of(breather)}.height"
    wanted = math.ceil((water + BOW_WAVE) * 1000.0 - 1e-6) / 1000.0
    says = f"The breather opens {_above(height, water)} of {shown(water, *MM)}."
    if height < wanted:
        says += f" Lead it up to {shown(wanted, *MM)} or more by a hose."
    level: Level = "error" if height < water else "warning"
    return at_least(height, wanted, says, level=level, on=on, unit=MM, advice=advice(on, wanted))


def _electrical(build: Build, piece: WetPart) -> Verdict:
    if not is_fitted(piece):
        return does_not_apply("It is not fitted.")
    water, height, path = build.build.design.wade_depth, piece.height, path_of(piece)
    where = f"{name_of(piece)} hangs {_above(height, water)} of {shown(water, *MM)}"
    if height >= water:
        return holds(True, f"{where}.", on=f"{path}.height")
    codes = [str(code) for code in piece.ip_codes]
    tight = ip_codes.keeps_out(codes, dust=0, water=ip_codes.IMMERSION)
    says = f"{where}, protected to {', '.join(codes) or 'nothing'}"
    says += "." if tight else ": under water it takes IPX7 or IPX8. Move it up, or fit one that is."
    return holds(tight, says, level="warning", on=f"{path}.ip_codes")


def _nothing_electrical(build: Build) -> Verdict:
    there = len(build.vehicle.wading.electrical)
    return holds(there == 0, "Nothing electrical is listed that hangs low.", on=f"{WADING}.electrical")


def _fan(build: Build) -> Verdict:
    fan, water = build.plumbing.cooling.fan, build.build.design.wade_depth
    where = f"The fan's blades reach down to {_above(fan.lowest_tip, water)} of {shown(water, *MM)}"
    if fan.lowest_tip >= water:
        return holds(True, f"{where}.", on=f"{FAN}.lowest_tip")
    stopped: bool = fan.stopped_in_water
    says = f"{where}, and it stands still there." if stopped else f"{where}: give it a switch, or take its belt off."
    return holds(stopped, says, level="warning", on=f"{FAN}.stopped_in_water")
