"""Derived numbers of the fit system: room in the bay, tilt, and the travel of slip joints."""

from __future__ import annotations

import math
from typing import Any

from swaplint.api import Build, Practice, or_practice, practice, quantity
from swaplint.engineering import box_geometry
from swaplint.engineering import shafts as tubes
from swaplint.engineering.box_geometry import Box, Point

from .. import slopes, sources
from ..gearing import chain
from ..mounts import movement
from ..mounts import quantities as mounts
from ..needed import needed

YAW = {"front": 0.0, "left": math.pi / 2.0, "right": -math.pi / 2.0, "rear": math.pi}
"""How the engine is turned, rad, by which way its own front faces."""

SIDES = ("front", "rear", "right", "left", "below", "above")
ALLOWED = Practice(
    "engine movement of 20 mm either way, while the mounts are not chosen",
    0.020,
    practice("20 mm of engine movement is allowed for on a first layout"),
)


# -- room -----------------------------------------------------------------------------------------------------------
def sides(build: Build) -> tuple[str, ...]:
    """The six sides of the bay."""
    del build
    return SIDES


def engine_box(build: Build) -> Box:
    """The box along the vehicle's axes around the engine package, turned as it is installed."""
    hull, place, yaw = build.engine.envelope, build.vehicle.engine_place, YAW[mounts.facing(build)]
    size = (hull.ahead + hull.behind, hull.left + hull.right, hull.above + hull.below)
    middle = ((hull.behind - hull.ahead) / 2.0, (hull.left - hull.right) / 2.0, (hull.above - hull.below) / 2.0)
    x, y, z = box_geometry.turn_point(middle, roll=place.roll, pitch=place.pitch, yaw=yaw)
    return box_geometry.box_around(
        (x + place.x, y + place.y, z + place.z),
        box_geometry.turned_box_size(size, roll=place.roll, pitch=place.pitch, yaw=yaw),
    )


def engine_movement(build: Build) -> Point:
    """How far the outermost places of the engine move along and across the vehicle and up, or what is allowed for."""
    hull = build.engine.envelope
    along = or_practice(lambda: movement.moved_along(build), ALLOWED)
    across = or_practice(lambda: max(movement.moved_across(build, z) for z in (hull.above, -hull.below)), ALLOWED)
    up = or_practice(lambda: max(movement.moved_up(build, y) for y in (hull.left, -hull.right)), ALLOWED)
    return (across, along, up) if mounts.stands_across(build) else (along, across, up)


_WALLS = {
    "front": (0, False, "front"),
    "rear": (0, True, "rear"),
    "right": (1, False, "right"),
    "left": (1, True, "left"),
    "below": (2, False, "bottom"),
    "above": (2, True, "top"),
}
"""Of each side: its axis, whether it is the upper end of it, and the wall of the bay there."""


@quantity(
    "fit.room",
    "length",
    "mm",
    formula="gap between bay and engine, L' = L·cos θ + H·sin θ and H' = L·sin θ + H·cos θ when pitched, − movement",
    sources=[sources.SOLID_GEOMETRY.giving("formula")],
    each=sides,
)
def room(build: Build, side: str) -> float:
    """Room that is left on a side of the engine when it moves; negative where it does not fit.

    Only the wall on that side is read: one that nobody has measured hides no other.
    """
    axis, upper, wall = _WALLS[side]
    box, moves, bay = engine_box(build), engine_movement(build)[axis], build.vehicle.bay
    stands = -bay.right if side == "right" else float(getattr(bay, wall))
    return (stands - box.upper[axis] if upper else box.lower[axis] - stands) - moves


# -- tilt -----------------------------------------------------------------------------------------------------------
@quantity(
    "fit.working-slope",
    "angle",
    "deg",
    formula="the steepest of the fore-and-aft tilt and atan(grade) of climb, start and long descent",
    sources=[sources.SOLID_GEOMETRY.giving("formula")],
    without={"build.design.start_grade": slopes.GENTLER},
)
def working_slope(build: Build) -> float:
    """Steepest slope along the vehicle that it works on."""
    return slopes.steepest_along(build)


def slope_along(build: Build) -> float:
    """The steepest slope along the crank that the engine works on."""
    return build.build.design.tilt_side if mounts.stands_across(build) else working_slope(build)


def slope_across(build: Build) -> float:
    """The steepest slope across the crank that it works on."""
    return working_slope(build) if mounts.stands_across(build) else build.build.design.tilt_side


@quantity(
    "fit.tilt-up",
    "angle",
    "deg",
    formula="installed angle + slope along the crank: the working slope, or the sideways tilt where the crank lies "
    "across",
    sources=[sources.SOLID_GEOMETRY.giving("formula")],
)
def tilt_up(build: Build) -> float:
    """Greatest tilt of the engine with its front up."""
    return box_geometry.tilt_envelope(build.vehicle.engine_place.pitch, slope_along(build))[1]


@quantity(
    "fit.tilt-down",
    "angle",
    "deg",
    formula="slope along the crank − installed angle",
    sources=[sources.SOLID_GEOMETRY.giving("formula")],
)
def tilt_down(build: Build) -> float:
    """Greatest tilt of the engine with its front down."""
    return -box_geometry.tilt_envelope(build.vehicle.engine_place.pitch, slope_along(build))[0]


@quantity(
    "fit.tilt-side",
    "angle",
    "deg",
    formula="|installed lean| + slope across the crank: the sideways tilt, or the working slope where the crank lies "
    "across",
    sources=[sources.SOLID_GEOMETRY.giving("formula")],
)
def tilt_side(build: Build) -> float:
    """Greatest tilt of the engine to a side."""
    return box_geometry.tilt_envelope(abs(build.vehicle.engine_place.roll), slope_across(build))[1]


@quantity(
    "fit.tilt-any",
    "angle",
    "deg",
    formula="tan² γ = tan² along + tan² across, as for a plane with two slopes",
    sources=[sources.SOLID_GEOMETRY.giving("formula")],
)
def tilt_any(build: Build) -> float:
    """Greatest tilt of the engine in any direction, both slopes at once."""
    return box_geometry.tilt_from_slopes(max(tilt_up(build), tilt_down(build)), tilt_side(build))


# -- slip joints ----------------------------------------------------------------------------------------------------
def propshafts(build: Build) -> list[Any]:
    """Every piece of propshaft. There are some unless something else drives each driven axle."""
    found = chain.shafts(build)
    if found or all(chain.needs_no_shaft(axle) for axle in chain.powered_axles(build)):
        return list(found)
    return needed(build, "driveline.shafts", found)


def slipping_shafts(build: Build) -> list[Any]:
    """The last shaft of every line: the one that follows the axle."""
    return chain.last_shafts(build) or propshafts(build)


def length_changes(build: Build, shaft: Any) -> tuple[float, float]:
    """How much longer than at ride height a shaft is where it is shortest, and where it is longest.

    One whose final drive hangs on the frame, or that drives a transfer case, follows no wheel and keeps its length.
    """
    if not chain.moves_with_the_wheels(build, shaft):
        return 0.0, 0.0
    up = tubes.plunge_range(shaft.length, shaft.drop, shaft.bump_rise, shaft.bump_shift)
    down = tubes.plunge_range(shaft.length, shaft.drop, -shaft.droop_fall, shaft.droop_shift)
    return min(*up, *down), max(*up, *down)


@quantity(
    "fit.slip-in-left",
    "length",
    "mm",
    formula="slip in at ride height + least of √((√(L² − drop²) + shift)² + (rise − drop)²) − L over the travel",
    sources=[sources.SOLID_GEOMETRY.giving("formula")],
    each=slipping_shafts,
)
def slip_in_left(build: Build, shaft: Any) -> float:
    """What is left before a shaft's slip joint bottoms, where the shaft is shortest."""
    left: float = shaft.slip_in + length_changes(build, shaft)[0]
    return left


@quantity(
    "fit.slip-out-left",
    "length",
    "mm",
    formula="spline engaged at ride height − greatest change of length over the travel",
    sources=[sources.SOLID_GEOMETRY.giving("formula")],
    each=slipping_shafts,
)
def slip_out_left(build: Build, shaft: Any) -> float:
    """Spline of a shaft's slip joint that stays engaged where the shaft is longest."""
    left: float = shaft.slip_out - length_changes(build, shaft)[1]
    return left


@quantity(
    "fit.ground-lost",
    "share",
    "%",
    formula="1 − clearance after/clearance before",
    symbols={
        "clearance after": "vehicle.ground_clearance.after",
        "clearance before": "vehicle.ground_clearance.before",
    },
    sources=[practice("a tape measure under the vehicle, before and after").giving("formula")],
)
def ground_lost(build: Build) -> float:
    """Share of the ground clearance that the new parts take."""
    clearance = build.vehicle.ground_clearance
    return 1.0 - clearance.after / clearance.before


def degrees(angle: float) -> str:
    """An angle in degrees, for a sentence."""
    return f"{math.degrees(angle):.1f}°"
