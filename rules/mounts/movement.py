"""How far the engine unit moves, and what is left of the gaps around it. Other packs use these numbers too.

The unit rolls under full torque about the elastic axis of its mounts, leans to the side on a slope, surges when the
vehicle brakes, and is shaken up and down. Rubber is softer under what lasts than under what shakes. What a place on the
unit moves depends on where it is and which way counts.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from swaplint.api import Build, OutsideRange, Practice, given, is_fitted, or_practice, practice, quantity
from swaplint.engineering import vibration
from swaplint.engineering.constants import G
from swaplint.spec.systems.fit import Clearance
from swaplint.spec.systems.mounts import Bridge, Mount

from .. import sources
from . import quantities as q

BOUNCE, BRAKING, SWAY = 3.0, 1.0, 0.5
"""Shocks that move the unit, in times its weight: up and down, along, to the side (common practice)."""

SHAKEN = practice("the unit is shaken by 3 times its weight up and down, once along and half of it to the side")
ALLOWED = Practice(
    "engine movement of 20 mm, while the mounts are not chosen",
    0.020,
    practice("20 mm of engine movement is allowed for on a first layout"),
)

BEFORE_THE_MOUNTS = ("hood", "axle", "propshaft")
"""Gaps that must be judged before the mounts are chosen."""

GapsOf = Callable[[Build], list[Clearance | str]]


def gaps(build: Build) -> list[Clearance]:
    """All gaps around the engine unit that there are."""
    return [gap for gap in build.vehicle.clearances.values() if why_none(gap) is None]


def why_none(gap: Clearance) -> str | None:
    """Why there is no gap of its kind, where an entry says that; None for a real gap."""
    return given(lambda: gap.none_because)


def gaps_of(*kinds: str, asked: tuple[str, ...] = ()) -> GapsOf:
    """What lists the gaps of some kinds, and the entries that say why there is none.

    A kind that is `asked` for and not stated stands there by its name.
    """

    def listed(build: Build) -> list[Clearance | str]:
        found = [gap for gap in build.vehicle.clearances.values() if gap.kind in kinds]
        there = {gap.kind for gap in found}
        return [*found, *(kind for kind in asked if kind not in there)]

    return listed


# -- movement -------------------------------------------------------------------------------------------------------
def free_roll(build: Build) -> vibration.FreeRoll:
    """How the unit rolls under a torque, which lasts."""
    return vibration.free_roll(q.springs(build, lasting=True))


@quantity(
    "mounts.free-roll-stiffness",
    "rotational_stiffness",
    "N m/deg",
    formula="k_roll under a lasting load, with the unit free to shift: about the elastic axis of the mounts",
    sources=[sources.SPRINGS_AND_MASSES.giving("formula")],
)
def free_roll_stiffness(build: Build) -> float:
    """Stiffness of the mounts against a torque along the crank."""
    return free_roll(build).stiffness


@quantity(
    "mounts.roll-axis-side",
    "length",
    "mm",
    formula="Σ(k_vertical·y)/Σk_vertical where the mounts stand upright; leaning ones shift it; negative to the right",
    sources=[sources.SPRINGS_AND_MASSES.giving("formula")],
)
def roll_axis_side(build: Build) -> float:
    """How far to the left of the crank the axis lies about which the unit rolls under a torque."""
    return free_roll(build).axis_lateral


@quantity(
    "mounts.roll-axis-height",
    "length",
    "mm",
    formula="Σ(k_transverse·z)/Σk_transverse where the mounts stand upright; leaning ones shift it; negative below",
    sources=[sources.SPRINGS_AND_MASSES.giving("formula")],
)
def roll_axis_height(build: Build) -> float:
    """How far above the crank the axis lies about which the unit rolls under a torque."""
    return free_roll(build).axis_height


@quantity(
    "mounts.roll-angle",
    "angle",
    "deg",
    formula="φ = reaction torque/k_roll, before any stop is reached; with a torque rod no more than the free travel of "
    "rod and mounts over the height between them",
    symbols={
        "reaction torque": "mounts.reaction-torque",
        "k_roll": "mounts.free-roll-stiffness",
    },
    sources=[sources.SPRINGS_AND_MASSES.giving("formula")],
)
def roll_angle(build: Build) -> float:
    """Roll of the unit at full torque in the lowest gear."""
    return min(vibration.roll_angle(q.reaction_torque(build), free_roll_stiffness(build)), _to_the_stops(build))


def _to_the_stops(build: Build) -> float:
    """How far the unit can turn until stops of torque rod and mounts hold it, which such a unit is built to reach."""
    rods, bearing = [mount for mount in q.mounts(build) if q.is_rod(mount)], q.bearing(build)
    if not rods:
        return math.inf
    if not bearing:
        raise OutsideRange("torque rods alone carry no engine")
    height = min(abs(rod.z - mount.z) for rod in rods for mount in bearing)
    if height == 0.0:
        raise OutsideRange("a torque rod at the height of the mounts holds no torque")
    travel = max(rod.free_travel for rod in rods) + max(mount.free_travel for mount in bearing)
    return float(travel / height)


@quantity(
    "mounts.bounce-travel",
    "length",
    "mm",
    formula="3·M·g/Σk_vertical, at most the free travel to the stops",
    symbols={"M": "mounts.unit-mass", "Σk_vertical": "mounts.vertical-stiffness"},
    sources=[
        sources.SPRINGS_AND_MASSES.giving("formula", "movement of a mass on springs"),
        SHAKEN.giving("formula", "3 times the weight up and down"),
    ],
)
def bounce_travel(build: Build) -> float:
    """Movement of the unit up or down on rough ground."""
    stop = max((_free_travel(mount) for mount in q.bearing(build)), default=math.inf)
    return vibration.shock_movement(q.unit_mass(build), BOUNCE * G, q.vertical_stiffness(build), stop)


def _free_travel(mount: Mount) -> float:
    """How far a mount gives way before its stop; any way where nobody states a stop."""
    stated = given(lambda: mount.free_travel)
    return math.inf if stated is None else stated


@quantity(
    "mounts.sway-travel",
    "length",
    "mm",
    formula="½·M·g/Σk_transverse under a lasting load; over Σk_shear where the crank lies across the vehicle",
    sources=[
        sources.SPRINGS_AND_MASSES.giving("formula", "movement of a mass on springs"),
        SHAKEN.giving("formula", "half of the weight to the side"),
    ],
)
def sway_travel(build: Build) -> float:
    """Movement of the unit to the side on a slope or in a bend."""
    stiffness = _along_the_crank(build) if q.stands_across(build) else _across_the_crank(build)
    return vibration.shock_movement(q.unit_mass(build), SWAY * G, stiffness)


@quantity(
    "mounts.surge-travel",
    "length",
    "mm",
    formula="M·g/Σk_shear, under a lasting load; over Σk_transverse where the crank lies across the vehicle",
    symbols={"M": "mounts.unit-mass"},
    sources=[
        sources.SPRINGS_AND_MASSES.giving("formula", "movement of a mass on springs"),
        SHAKEN.giving("formula", "once the weight along"),
    ],
)
def surge_travel(build: Build) -> float:
    """Movement of the unit along the vehicle in hard braking."""
    stiffness = _across_the_crank(build) if q.stands_across(build) else _along_the_crank(build)
    return vibration.shock_movement(q.unit_mass(build), BRAKING * G, stiffness)


def _along_the_crank(build: Build) -> float:
    return sum(q.shear(build, mount, lasting=True) for mount in q.bearing(build))


def _across_the_crank(build: Build) -> float:
    return sum(spring.transverse for spring in q.springs(build, lasting=True))


def moved_up(build: Build, y: float) -> float:
    """How far a place moves up or down, y to the left of the crank."""
    return vibration.edge_movement(roll_angle(build), abs(y - roll_axis_side(build)), bounce_travel(build))


def moved_across(build: Build, z: float) -> float:
    """How far a place moves across the crank, z above it."""
    shaken = surge_travel(build) if q.stands_across(build) else sway_travel(build)
    return vibration.edge_movement(roll_angle(build), abs(z - roll_axis_height(build)), shaken)


def moved_along(build: Build) -> float:
    """How far the unit moves along the crank."""
    return sway_travel(build) if q.stands_across(build) else surge_travel(build)


def on_the_frame(build: Build, gap: Clearance) -> bool:
    """Whether both sides of a fan's gap move together: an electric fan, or a shroud on the engine."""
    fan = build.plumbing.cooling.fan
    if fan.drive == "electric":
        return True
    return gap.kind == "fan-shroud" and fan.shroud_on == "engine"


@quantity(
    "mounts.movement",
    "length",
    "mm",
    formula="up or down φ·|y − y_axis| + bounce; to the side φ·|z − z_axis| + sway; along the vehicle surge, and where "
    "the crank lies across it φ·|z − z_axis| + surge, with sway alone to the side",
    sources=[
        sources.SPRINGS_AND_MASSES.giving("formula", "roll and movement on springs"),
        SHAKEN.giving("formula", "what shakes the unit"),
    ],
    each=gaps,
)
def movement(build: Build, gap: Clearance) -> float:
    """How far the engine unit closes a gap."""
    if gap.kind.startswith("fan") and on_the_frame(build, gap):
        return 0.0
    if gap.direction == "up-down":
        return moved_up(build, gap.y)
    along = (gap.direction == "fore-aft") != q.stands_across(build)
    return moved_along(build) if along else moved_across(build, gap.z)


@quantity(
    "mounts.gap-left",
    "length",
    "mm",
    formula="gap − mounts.movement, the gap at rest, or with the suspension on its bump stop (axle, propshaft)",
    symbols={"gap": "vehicle.clearances.*.gap"},
    sources=[sources.SPRINGS_AND_MASSES.giving("formula", "roll and movement on springs")],
    each=gaps,
)
def gap_left(build: Build, gap: Clearance) -> float:
    """What is left of a gap when the engine moves; negative where it strikes."""
    return gap_at_rest(gap) - movement_or_allowed(build, gap)


def gap_at_rest(gap: Clearance) -> float:
    """A gap before the engine moves, at the worst place of the suspension."""
    return gap.gap_at_bump if gap.kind in ("axle", "propshaft") else gap.gap


def movement_or_allowed(build: Build, gap: Clearance) -> float:
    """How far the engine unit closes a gap; what is allowed for where it must be judged before mounts are chosen."""
    if gap.kind in BEFORE_THE_MOUNTS:
        return or_practice(lambda: movement(build, gap), ALLOWED)
    return movement(build, gap)


# -- lines between engine and frame -----------------------------------------------------------------------------------
def bridges(build: Build) -> list[Bridge]:
    """All lines between engine and frame that there are."""
    return [bridge for bridge in build.vehicle.bridges.values() if why_no_line(bridge) is None]


def why_no_line(bridge: Bridge) -> str | None:
    """Why there is no line of its kind, where an entry says that; None for a real line."""
    return given(lambda: bridge.none_because)


@quantity(
    "mounts.bridge-movement",
    "length",
    "mm",
    formula="√(up² + side² + along²) of its end on the engine",
    sources=[
        sources.SPRINGS_AND_MASSES.giving("formula", "roll and movement on springs"),
        SHAKEN.giving("formula", "what shakes the unit"),
    ],
    each=bridges,
)
def bridge_movement(build: Build, bridge: Bridge) -> float:
    """How far the engine's end of a line moves."""
    return math.hypot(moved_up(build, bridge.y), moved_across(build, bridge.z), moved_along(build))


def has_fan(build: Build) -> bool:
    """Whether the radiator has a fan."""
    return is_fitted(build.plumbing.cooling.fan)
