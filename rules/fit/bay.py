"""Rules about the place of the engine: room in the bay, tilt, and reach for those who service it."""

from __future__ import annotations

from collections.abc import Callable

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    at_least,
    at_most,
    cautions,
    given,
    holds,
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
from ..mounts.moving import Level
from ..mounts.quantities import facing
from . import quantities as q

MM = ("length", "mm")
DEG = ("angle", "deg")
PLACE = "vehicle.engine_place"

ROOM = practice(
    "room left round an engine: 40 mm ahead for belts, 25 mm to rails, 50 mm on the exhaust side, else 15 mm"
)
AHEAD, RAILS, EXHAUST, ELSEWHERE = 0.040, 0.025, 0.050, 0.015

REACH = practice("60 mm for hand and tool beyond what a part takes to be drawn out; daily checks from above")
HAND = 0.060

_AXES = {"front": "x", "rear": "x", "left": "y", "right": "y", "below": "z", "above": "z"}
_FACING = {"front": "rear", "rear": "front", "left": "right", "right": "left", "below": "above", "above": "below"}
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
    sources=[sheet("engine.envelope.ahead"), sources.SOLID_GEOMETRY, sources.EXHAUST_GAPS, ROOM],
    cautions=[cautions.FRAME],
    fallbacks=[q.ALLOWED],
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
    Remedy: the sentence says how far to move it so that both sides come right, or how much the bay lacks; another sump.
    Any change to a cross-member is a change to the frame.
    Cannot tell: corners and hollows: boxes have neither. Scan the bay or make a mock-up before the engine is ordered.
    The gearbox: where the crank lies across the vehicle, `behind` must take it in.
    """
    return all_of(*(_side(build, side) for side in q.SIDES))


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
    says = f"{shown(room, *MM, digits=3)} is left {_NAMES[side]} when it moves, {shown(need, *MM)} is wanted."
    if room < 0.0:
        says = (
            f"It strikes by {shown(-room, *MM, digits=3)} {_NAMES[side]} when it moves, {shown(need, *MM)} is wanted."
        )
    if room < need:
        spare = q.room(build, _FACING[side]) - _needed(build, _FACING[side])
        lack = need - room
        if spare >= lack:
            says += f" Moved by {shown(lack, *MM, digits=3)}, it comes right: there is room {_NAMES[_FACING[side]]}."
        else:
            says += f" With the other side, the bay lacks {shown(lack - spare, *MM, digits=3)} in all."
    return at_least(room, need, says, level="error" if room < 0.0 else "warning", on=f"{PLACE}.{_AXES[side]}", unit=MM)


@rule(
    "fit.installed-angle",
    level="error",
    due="plan",
    sources=[sheet("engine.tilt.front_up_max"), sources.SOLID_GEOMETRY],
    adjust=[f"{PLACE}.pitch"],
    about=f"{PLACE}.pitch",
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

    Computes: installed angle plus and minus the steeper of the design's tilt and grade (45 % is 24.2°); sideways the
    same; both slopes at once by tan² γ = tan² along + tan² across, as for ground that slopes both ways. Along and
    across are those of the crank: where it lies across the vehicle a grade leans the engine sideways.
    Limit: the engine's data sheet, for minutes on the slope and for any time as it is installed. Nothing else.
    Consequence: On a slope the pick-up draws air, oil pressure goes, and the bearings seize.
    Remedy: the installed angle that the sentence names; where none is left, the sump and pick-up for off-road work, or
    a gentler slope.
    Cannot tell: the surge of the oil in braking, as if the engine stood 39° front down at 0.8 g for a moment; whether
    gearbox and axles are oiled at that angle too.
    """
    tilt, place = build.engine.tilt, build.vehicle.engine_place
    slope, across = q.slopes_of_the_engine(build)
    low, high = box_geometry.installed_angle_window(tilt.front_up_max, tilt.front_down_max, slope)
    window = "no installed angle does with this sump"
    if low <= high:
        alone = q.degrees(low) == q.degrees(high)
        angles = f"only {q.degrees(low)}" if alone else f"{q.degrees(low)} to {q.degrees(high)}"
        window = f"{angles} (front up positive) would do"
    on_slope = f"Installed at {q.degrees(place.pitch)}, on slopes of {q.degrees(slope)}: {window}."
    side = f"Leaning {q.degrees(abs(place.roll))} as installed, on slopes of {q.degrees(across)} across the crank."
    spare = given(lambda: tilt.side_max - across)
    if spare is not None:
        side = f"{side[:-1]}: {f'up to {q.degrees(spare)}' if spare >= 0.0 else 'no lean'} does with this sump."
    demands: list[Callable[[], Verdict]] = [
        lambda: at_most(q.tilt_up(build), tilt.front_up_max, on_slope, unit=DEG),
        lambda: at_most(q.tilt_down(build), tilt.front_down_max, on_slope, unit=DEG),
        lambda: at_most(q.tilt_side(build), tilt.side_max, side, on=f"{PLACE}.roll", unit=DEG),
    ]
    standing, leaning = given(lambda: tilt.standing_max), given(lambda: tilt.standing_side_max)
    any_way = given(lambda: tilt.any_way_max)
    if standing is not None:
        says = f"Installed at {q.degrees(place.pitch)}, before any slope."
        demands.append(lambda: at_most(abs(place.pitch), standing, says, unit=DEG))
    if leaning is not None:
        upright = f"Leaning {q.degrees(abs(place.roll))} as installed, before any slope."
        demands.append(lambda: at_most(abs(place.roll), leaning, upright, on=f"{PLACE}.roll", unit=DEG))
    if any_way is not None:
        both = f"{on_slope} Both slopes at once tilt it by {q.degrees(q.tilt_any(build))}."
        demands.append(lambda: at_most(q.tilt_any(build), any_way, both, unit=DEG))
    return all_of(*demands)


def service_items(build: Build) -> list[ServiceItem]:
    """What must be reached or taken out now and then."""
    return list(build.engine.service.values())


@rule(
    "fit.service-access",
    level="warning",
    due="build",
    sources=[sheet("engine.service.*.withdraw"), REACH],
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
    Remedy: the room that the sentence names; a remote oil filter, a turned housing, a flap in the floor.
    Cannot tell: how awkward it really is. An engine that is hard to service is not serviced.
    """
    name = name_of(item)
    reach = build.vehicle.bay.reach.get(name)
    if reach is None:
        return needs_review(f"Nobody says how {name} is reached in this bay: measure the room to draw it out.")
    path = path_of(reach)
    level: Level = "note" if item.interval == "yearly" else "warning"
    need = item.withdraw + HAND
    says = f"{name} takes {shown(item.withdraw, *MM)} and a hand, {shown(need, *MM)} in all."
    kept = "with the mounts in place" if reach.mounts_stay else "only with the mounts off"
    demands = [
        at_least(reach.room, need, says, level=level, on=f"{path}.room", unit=MM),
        holds(reach.mounts_stay, f"{name} comes out {kept}.", level=level, on=f"{path}.mounts_stay"),
    ]
    if item.interval == "daily":
        where = f"{name} is a daily check and is reached from {_from(reach.reached)}."
        demands.append(holds(reach.reached == "above", where, level="warning", on=f"{path}.reached"))
    return all_of(*demands, default="warning")


def _from(reached: str) -> str:
    return "the side" if reached == "side" else reached
