"""Rules about the place of the engine: room in the bay, tilt, and reach for those who service it."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import partial
from typing import Any

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    limit_or_none,
    name_of,
    needs_review,
    path_of,
    practice,
    rule,
    sheet,
    shown,
)
from swaplint.engineering import box_geometry
from swaplint.spec.systems.fit import ServiceItem

from .. import sources
from ..mounts.moving import Level, whole_mm
from ..mounts.quantities import AS_SPRINGS, facing
from . import quantities as q

MM = ("length", "mm")
DEG = ("angle", "deg")
PLACE = "vehicle.engine_place"
PITCH = f"{PLACE}.pitch"
ROUNDING = 1e-12
"""rad; what arithmetic leaves of an angle."""

ROOM = practice(
    "room left round an engine: 40 mm ahead for belts, 25 mm to rails, 50 mm on the exhaust side, else 15 mm"
)
AHEAD, RAILS, EXHAUST, ELSEWHERE = 0.040, 0.025, 0.050, 0.015

REACH = practice(
    "60 mm for hand and tool beyond what a part takes to be drawn out; daily checks from above; mounts stay in place"
)
HAND = 0.060

_AXES = {"front": "x", "rear": "x", "left": "y", "right": "y", "below": "z", "above": "z"}
_FACING = {"front": "rear", "rear": "front", "left": "right", "right": "left", "below": "above", "above": "below"}
_AWAY = {"front": 1.0, "rear": -1.0, "left": -1.0, "right": 1.0, "below": 1.0, "above": -1.0}
"""Which way along its axis the engine moves away from a side: to the rear, to the left and up are positive."""
_NAMES = {
    "front": "ahead of it",
    "rear": "behind it",
    "left": "on its left",
    "right": "on its right",
    "below": "below it",
    "above": "above it",
}


@rule(
    "fit.bay-box",
    level="error",
    due="plan",
    sources=[
        ROOM.giving("limit", "room on each side"),
        sources.SOLID_GEOMETRY.giving("formula", "box of the tilted engine"),
    ],
    cautions=[cautions.FRAME],
    fallbacks=[q.ALLOWED, *AS_SPRINGS],
    adjust=[f"{PLACE}.x", f"{PLACE}.y", f"{PLACE}.z"],
    about=PLACE,
    bad=[{"engine.envelope.ahead": "900 mm"}, {"vehicle.engine_place.y": "60 mm"}, {"vehicle.bay.bottom": "520 mm"}],
    good=[{"engine.envelope.ahead": "700 mm"}, {"vehicle.mounts": None}],
)
def bay_box(build: Build) -> Verdict:
    """Does the engine, with room to move and to work, go into the bay at all?

    Computes: the box round the engine package, turned by its installed angles and put where it shall stand, against the
    box of the bay; less its movement on each side.
    Limit: common practice: 40 mm ahead of the engine's own front for the belts, 25 mm to rails, 50 mm on the exhaust's
    side, 15 mm elsewhere. A warning; an error where it does not fit.
    Consequence: The engine does not go in, or strikes the bay, or leaves no room for a hand.
    Remedy: move the engine away from the side where room lacks, or fit another sump. Any change to a cross-member is a
    change to the frame.
    Cannot tell: corners and hollows: boxes have neither. Scan the bay or make a mock-up before the engine is ordered.
    The gearbox: where the crank lies across the vehicle, `behind` must take it in.
    """
    return all_of({f"room.{side}": partial(_side, build, side) for side in q.SIDES})


_ROUND = ("front", "left", "rear", "right")


def _needed(build: Build, side: str) -> float:
    least = RAILS if side in ("left", "right") else ELSEWHERE
    if side not in _ROUND:
        return least
    # The side of the engine that looks that way: turned to the left, its left looks to the rear.
    own = _ROUND[_ROUND.index(side) - _ROUND.index(facing(build))]
    if own == "front":
        return max(least, AHEAD)
    return max(least, EXHAUST) if own == build.engine.envelope.exhaust_side else least


def _side(build: Build, side: str) -> Verdict:
    room, need = q.room(build, side), _needed(build, side)
    says = f"{shown(room, *MM, digits=3)} is left {_NAMES[side]} when it moves; {shown(need, *MM)} is wanted."
    if room < 0.0:
        says = (
            f"What is {_NAMES[side]} is in its way by {shown(-room, *MM, digits=3)} when it moves; "
            f"{shown(need, *MM)} of "
            "room is wanted."
        )
    field = f"{PLACE}.{_AXES[side]}"
    to: float | None = None
    spare = given(lambda: q.room(build, _FACING[side]) - _needed(build, _FACING[side])) if room < need else None
    if spare is not None:
        lack = whole_mm(need - room)
        if spare >= lack:
            now: float = getattr(build.vehicle.engine_place, _AXES[side])
            to = now + lack * _AWAY[side]
        else:
            lacks = shown(whole_mm(need - room - spare), *MM)
            says += f" The other side has no room to give: the bay is {lacks} too small."
    level: Level = "error" if room < 0.0 else "warning"
    return at_least(room, need, says, level=level, on=field, unit=MM, advice=advice(field, to))


@rule(
    "fit.installed-angle",
    level="error",
    due="plan",
    sources=[
        sheet("engine.tilt.front_up_max"),
        sheet("engine.tilt.side_max"),
        sheet("engine.tilt.any_way_max"),
        sheet("engine.tilt.standing_max"),
        sources.SOLID_GEOMETRY.giving("formula", "tilt on slopes"),
    ],
    adjust=[PITCH],
    about=PITCH,
    bad=[
        {"engine.tilt.front_up_max": "22 deg"},
        {"engine.tilt.side_max": "10 deg"},
        {"engine.tilt.any_way_max": "24 deg"},
        {"engine.tilt.standing_max": "2 deg"},
    ],
    good=[{"engine.tilt.front_up_max": "25 deg"}, {"engine.tilt.any_way_max": "35 deg"}],
)
def installed_angle(build: Build) -> Verdict:
    """Does the engine, installed at its angle, find its oil on every slope that the vehicle works on?

    Computes: installed angle plus and minus the steepest of the design's tilt, climb, start and descent (45 % is
    24.2°); sideways the same; both slopes at once by tan² γ = tan² along + tan² across, as for ground that slopes both
    ways. Along and across are those of the crank: where it lies across the vehicle a grade leans the engine sideways.
    Limit: the engine's data sheet, for minutes on the slope and for any time as it is installed. Nothing else.
    Consequence: On a slope the pick-up draws air, oil pressure goes, and the bearings seize.
    Remedy: another installed angle; where none is left, the sump and pick-up for off-road work, or a gentler slope.
    Cannot tell: the surge of the oil in braking, as if the engine stood 39° front down at 0.8 g for a moment; whether
    gearbox and axles are oiled at that angle too.
    """
    return all_of(
        {
            "front-up": lambda: _front_up(build),
            "front-down": lambda: _front_down(build),
            "side": lambda: _to_a_side(build),
            "standing": lambda: _standing(build),
            "standing-side": lambda: _standing_side(build),
            "any-way": lambda: _any_way(build),
        }
    )


ONE_FOR_ANY_TIME = "The engine's maker states one limit for any time, which holds with the slope on top."


def _front_up(build: Build) -> Verdict:
    return _along(build, q.tilt_up(build), build.engine.tilt.front_up_max)


def _front_down(build: Build) -> Verdict:
    return _along(build, q.tilt_down(build), build.engine.tilt.front_down_max)


def _along(build: Build, found: float, most: float) -> Verdict:
    window = _window(build)
    none_does = found > most and window is not None and window[0] > window[1]
    says = _on_slope(build) + (": no installed angle does with this sump." if none_does else ".")
    angle = None if window is None or none_does else _inside(window[0], build.vehicle.engine_place.pitch, window[1])
    return at_most(found, most, says, unit=DEG, advice=advice(PITCH, angle if found > most else None))


def _on_slope(build: Build) -> str:
    """How it stands on the slope along the crank."""
    slope = q.slope_along(build)
    return f"Installed at {q.degrees(build.vehicle.engine_place.pitch)}, on slopes of {q.degrees(slope)}"


def _window(build: Build) -> tuple[float, float] | None:
    """The installed angles that do on the slope, least and greatest; None where one of the two limits is not known.

    The other limit is judged all the same.
    """
    tilt, slope = build.engine.tilt, q.slope_along(build)
    return given(lambda: box_geometry.installed_angle_window(tilt.front_up_max, tilt.front_down_max, slope))


def _inside(low: float, now: float, high: float) -> float:
    """The nearest angle of a window, in tenths of a degree where the window holds one."""
    nearest = min(max(now, low), high)
    tenths = math.degrees(nearest) * 10.0
    rounded = math.radians((math.floor(tenths + 1e-6) if nearest == high else math.ceil(tenths - 1e-6)) / 10.0)
    return rounded if low - ROUNDING <= rounded <= high + ROUNDING else 0.5 * (low + high)


def _to_a_side(build: Build) -> Verdict:
    tilt, roll, on = build.engine.tilt, build.vehicle.engine_place.roll, f"{PLACE}.roll"
    across = q.slope_across(build)
    says = f"Leaning {q.degrees(abs(roll))} as installed, on slopes of {q.degrees(across)} across the crank"
    spare = tilt.side_max - across
    if spare < 0.0:
        says += ": no lean does with this sump"
    lean = math.copysign(_inside(0.0, abs(roll), spare), roll) if spare >= 0.0 else None
    return at_most(q.tilt_side(build), tilt.side_max, f"{says}.", on=on, unit=DEG, advice=advice(on, lean))


def _standing(build: Build) -> Verdict:
    most = limit_or_none(lambda: build.engine.tilt.standing_max)
    if most is None:
        return does_not_apply(ONE_FOR_ANY_TIME)
    pitch = build.vehicle.engine_place.pitch
    says = f"Installed at {q.degrees(pitch)}, before any slope."
    return at_most(abs(pitch), most, says, unit=DEG, advice=advice(PITCH, math.copysign(most, pitch)))


def _standing_side(build: Build) -> Verdict:
    most = limit_or_none(lambda: build.engine.tilt.standing_side_max)
    if most is None:
        return does_not_apply(ONE_FOR_ANY_TIME)
    roll, on = build.vehicle.engine_place.roll, f"{PLACE}.roll"
    says = f"Leaning {q.degrees(abs(roll))} as installed, before any slope."
    return at_most(abs(roll), most, says, on=on, unit=DEG, advice=advice(on, math.copysign(most, roll)))


def _any_way(build: Build) -> Verdict:
    most = limit_or_none(lambda: build.engine.tilt.any_way_max)
    if most is None:
        return does_not_apply("The engine's maker limits each direction by itself.")
    found = q.tilt_any(build)
    says = f"{_on_slope(build)}: both slopes at once tilt it by {q.degrees(found)}."
    says += " Mount the engine with less tilt, or fit a sump that is made for it." if found > most else ""
    return at_most(found, most, says, unit=DEG)


def service_items(build: Build) -> list[ServiceItem]:
    """What must be reached or taken out now and then."""
    return list(build.engine.service.values())


@rule(
    "fit.service-access",
    level="warning",
    due="build",
    sources=[REACH.giving("limit", "room for a hand, daily checks from above, mounts in place")],
    about="vehicle.bay.reach",
    each=service_items,
    bad=[{"vehicle.bay.reach.oil_filter.room": "150 mm"}, {"vehicle.bay.reach.dipstick.reached": "below"}],
    good=[{"vehicle.bay.reach.oil_filter.room": "300 mm"}],
)
def service_access(build: Build, item: ServiceItem) -> Verdict:
    """Can what the engine needs be reached and drawn out with the engine in place?

    Computes: the room in the direction that it is drawn out, less what it takes.
    Limit: common practice: 60 mm more for hand and tool; daily checks from above; nothing asks for the mounts to come
    off. A warning; a note for what is needed once a year.
    Consequence: What cannot be reached is not serviced, or takes the engine out each time.
    Remedy: more room; a remote oil filter, a turned housing, a flap in the floor.
    Cannot tell: how awkward it really is. An engine that is hard to service is not serviced.
    """
    name = name_of(item)
    reach = build.vehicle.bay.reach.get(name)
    if reach is None:
        return needs_review(f"Nobody says how {name} is reached in this bay: measure the room to draw it out.")
    demands: dict[str, Callable[[], Verdict]] = {
        "room": lambda: _reach_room(item, reach),
        "mounts-stay": lambda: _mounts_stay(item, reach),
    }
    if item.interval == "daily":
        demands["from-above"] = lambda: _from_above(item, reach)
    return all_of(demands)


def _level(item: ServiceItem) -> Level:
    return "note" if item.interval == "yearly" else "warning"


def _reach_room(item: ServiceItem, reach: Any) -> Verdict:
    need, on = item.withdraw + HAND, f"{path_of(reach)}.room"
    says = f"The {name_of(item)} takes {shown(item.withdraw, *MM)} to be drawn out, and a hand {shown(HAND, *MM)}."
    return at_least(reach.room, need, says, level=_level(item), on=on, unit=MM, advice=advice(on, whole_mm(need)))


def _mounts_stay(item: ServiceItem, reach: Any) -> Verdict:
    kept = "with the mounts in place" if reach.mounts_stay else "only with the mounts off"
    says = f"The {name_of(item)} comes out {kept}."
    return holds(reach.mounts_stay, says, level=_level(item), on=f"{path_of(reach)}.mounts_stay")


def _from_above(item: ServiceItem, reach: Any) -> Verdict:
    where = "the side" if reach.reached == "side" else reach.reached
    says = f"The {name_of(item)} is a daily check and is reached from {where}."
    return holds(reach.reached == "above", says, level="warning", on=f"{path_of(reach)}.reached")
