"""Derived numbers of the driveline: the torque that reaches each part, and what shafts and joints make of it.

Torque is followed from the engine outwards. Low range multiplies it once, in the transfer case: a shaft ahead of the
transfer case does not see it, and the torque at which the tyres slip, led back from the wheels to a part, is divided
by the ratios between that part and the wheels only.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

from swaplint.api import (
    Build,
    ImpossibleInput,
    OutsideRange,
    Practice,
    given,
    is_fitted,
    once,
    or_practice,
    path_of,
    practice,
    quantity,
    shown,
)
from swaplint.engineering import gears, universal_joints
from swaplint.engineering import shafts as tubes
from swaplint.engineering.constants import G

from .. import axle_loads, sources
from ..gearing import chain, places
from ..gearing import quantities as gearing
from .quantities import multiplication, peak_torque

REVERSE_GEARS = practice("reverse gears have 0.8 to 1.1 times the ratio of first gear").giving(
    "fallback", "reverse as low as first gear"
)
REVERSE = Practice("ratio of reverse 1.0 times that of first gear (0.8 to 1.1)", 1.0, REVERSE_GEARS, between=(0.8, 1.1))
STRAIGHT = Practice("joint straight in plan view, 0°", 0.0, practice("most shafts run straight in plan view"))
GRIP = practice("friction between tyre and ground of up to 0.8 on dry roads and 1.0 on rock")
GRIP_ROAD = Practice("highest grip of the tyres 0.8 on a dry road (0.7 to 1.0)", 0.8, GRIP, between=(0.7, 1.0))
GRIP_ROCK = Practice("highest grip of the tyres 1.0 on rock (0.8 to 1.2)", 1.0, GRIP, between=(0.8, 1.2))


# -- torque from the engine -------------------------------------------------------------------------------------------
def gearbox_efficiency(build: Build) -> float:
    """Share of the torque that leaves the gearbox; all of it where nobody states it, which is on the safe side."""
    stated = given(lambda: build.driveline.gearbox.efficiency)
    return 1.0 if stated is None else stated


def efficiency_behind(build: Build) -> float:
    """Share of the torque that gets from the gearbox's output to the wheels."""
    whole, gearbox = build.driveline.drivetrain.efficiency, gearbox_efficiency(build)
    if not 0.0 < whole <= gearbox:
        shares = [shown(share, "share", "%", digits=3) for share in (whole, gearbox)]
        raise ImpossibleInput(f"the whole drivetrain passes {shares[0]} of the power, its gearbox alone {shares[1]}")
    return whole / gearbox


def reverse_share(build: Build) -> float:
    """Ratio of the reverse gear over that of first gear."""
    first = gearing.gear_ratios(build)[0]
    return or_practice(lambda: build.driveline.gearbox.reverse_ratio / first, REVERSE)


def in_lowest_gear(build: Build) -> str:
    """In which gear the gearbox gives its largest torque, for a sentence."""
    return "reverse" if reverse_share(build) > 1.0 else "first gear"


@quantity(
    "driveline.gearbox-output-torque",
    "torque",
    "N m",
    formula="T = T_max · stall ratio · i_lowest · η_gearbox, i_lowest of first gear, or of reverse where that is lower",
    symbols={
        "T_max": "driveline.peak-torque",
        "stall ratio": "driveline.converter.stall_ratio",
        "η_gearbox": "driveline.gearbox.efficiency",
    },
    sources=[sources.VEHICLE_DYNAMICS.giving("formula", "torque behind converter and gears"), REVERSE_GEARS],
)
def gearbox_output_torque(build: Build) -> float:
    """Largest torque at the gearbox's output, in first gear or in reverse."""
    lowest = gearing.gear_ratios(build)[0] * max(1.0, reverse_share(build))
    return peak_torque(build) * multiplication(build) * lowest * gearbox_efficiency(build)


def allowed_in_low(build: Build) -> float:
    """Share of the engine's torque that is allowed in low range."""
    limit = given(lambda: build.driveline.transfer.low_torque_limit)
    return 1.0 if limit is None else min(1.0, limit / peak_torque(build))


def range_ratio(build: Build, drive: chain.Drive) -> float:
    """Ratio of the transfer case in a state of drive."""
    return gearing.low_range(build) if drive.low else gearing.high_range(build)


def gearbox_torque_in(build: Build, drive: chain.Drive) -> float:
    """Torque at the gearbox's output in a state of drive."""
    return gearbox_output_torque(build) * (allowed_in_low(build) if drive.low else 1.0)


def transfer_torque_in(build: Build, drive: chain.Drive) -> float:
    """Torque that the engine can bring to the transfer case's outputs in a state of drive."""
    return gearbox_torque_in(build, drive) * range_ratio(build, drive)


@quantity(
    "driveline.transfer-driven-torque",
    "torque",
    "N m",
    formula="T_gearbox · i_range: the larger of high range, and low range with the torque allowed there",
    sources=[sources.VEHICLE_DYNAMICS.giving("formula")],
)
def transfer_driven_torque(build: Build) -> float:
    """Torque that the engine can bring to the transfer case's outputs together, in its lowest gear."""
    torque = gearbox_output_torque(build)
    return torque * max(gearing.high_range(build), gearing.low_range(build) * allowed_in_low(build))


# -- torque that the ground takes -------------------------------------------------------------------------------------
def grip(build: Build) -> float:
    """Highest coefficient of friction that the tyres will find."""
    fallback = GRIP_ROCK if given(lambda: build.build.duty.terrain) == "off-road" else GRIP_ROAD
    return or_practice(lambda: build.driveline.drivetrain.highest_grip, fallback)


@quantity(
    "driveline.axle-grip-torque",
    "torque",
    "N m",
    formula="T = μ · m_axle · g · r, with the axle at its rating",
    symbols={"μ": "driveline.drivetrain.highest_grip", "r": "gearing.rolling-radius"},
    sources=[sources.VEHICLE_DYNAMICS.giving("formula")],
    each=chain.powered_axles,
)
def axle_grip_torque(build: Build, axle: Any) -> float:
    """Torque at an axle's wheels at which its tyres slip."""
    radius = gearing.radius_of(build, axle)
    return grip(build) * places.axle_rating(build, axle) * G * radius


def carried(build: Build, axle: Any) -> float | None:
    """The most that an axle carries in any load case; None where that is not known."""

    def most() -> float:
        end = places.end_of(build, axle)
        share = places.share_of(build, end, axle)
        return share * axle_loads.heaviest(build, end)

    return given(most)


def _slip(build: Build, axle: Any, laden: bool) -> float:
    """Torque at which an axle's tyres slip: at its rating, or under the most that it is laden with."""
    torque = axle_grip_torque(build, axle)
    load = carried(build, axle) if laden else None
    return torque if load is None else torque * max(load, 0.0) / places.axle_rating(build, axle)


ALL_OF_IT = 0.98
"""What the largest shares of axles driven together must come to: three thirds may be stated as 33 % each."""


@once
def _shares_together(build: Build, low: bool, count: int) -> float:
    """The largest shares of all axles driven in a state, together; that of an axle which states none is all of it."""
    axles = chain.drive_of(build, low, count).axles
    shares = [given(lambda one=one: float(one.torque_share)) for one in axles]  # type: ignore[misc]
    return sum(1.0 if share is None else share for share in shares)


def share_in(build: Build, drive: chain.Drive, axle: Any) -> float:
    """Share of the drive torque that an axle can be given: all of it where no other is driven with it."""
    if len(drive.axles) < 2:
        return 1.0
    together = _shares_together(build, *drive.key)
    if together < ALL_OF_IT:
        raise ImpossibleInput(
            f"together the driven axles can be given {shown(together, 'share', '%')} of the torque, and all of it goes "
            "somewhere: what one axle cannot be given another is"
        )
    stated = given(lambda: axle.torque_share)
    return 1.0 if stated is None else float(stated)


def _brought_to(build: Build, axle: Any, *behind: Any) -> float:
    """Torque that the engine can bring to the shaft of an axle and those behind it, in the state with the most."""
    drives = chain.drives_of(build, axle)
    if not drives:
        raise ImpossibleInput(f"{path_of(axle)} is driven in no range: nothing brings the torque of the engine to it")
    return max(transfer_torque_in(build, drive) * _share_of(build, drive, [axle, *behind]) for drive in drives)


def _share_of(build: Build, drive: chain.Drive, axles: Iterable[Any]) -> float:
    """Share of the drive torque that axles on one shaft can be given together."""
    return min(1.0, sum(share_in(build, drive, axle) for axle in axles))


@quantity(
    "driveline.axle-driven-torque",
    "torque",
    "N m",
    formula="T_transfer · i_axle · η_behind the gearbox · largest share, in the range and with the axles engaged where "
    "that is most; low range is in T_transfer already",
    sources=[sources.VEHICLE_DYNAMICS.giving("formula")],
    each=chain.powered_axles,
)
def axle_driven_torque(build: Build, axle: Any) -> float:
    """Torque that the engine can bring to an axle's wheels."""
    return _brought_to(build, axle) * chain.fixed_ratio(axle) * efficiency_behind(build)


@quantity(
    "driveline.axle-torque",
    "torque",
    "N m",
    formula="the lesser of what the engine brings and what the tyres take",
    symbols={
        "what the engine brings": "driveline.axle-driven-torque",
        "what the tyres take": "driveline.axle-grip-torque",
    },
    sources=[sources.VEHICLE_DYNAMICS.giving("formula")],
    each=chain.powered_axles,
)
def axle_torque(build: Build, axle: Any) -> float:
    """Largest torque at an axle's wheels."""
    return axle_torque_under(build, axle, laden=False)


def axle_torque_under(build: Build, axle: Any, *, laden: bool) -> float:
    """The same with the axle at its rating, or under the most that it is laden with."""
    return min(axle_driven_torque(build, axle), _slip(build, axle, laden))


def _grip_led_back(build: Build, axles: Iterable[Any], laden: bool = False) -> float:
    """Torque on the propshaft side of axles, together, at which their tyres slip."""
    back = efficiency_behind(build)
    return sum((_slip(build, axle, laden) / (chain.fixed_ratio(axle) * back) for axle in axles), 0.0)


@quantity(
    "driveline.transfer-torque",
    "torque",
    "N m",
    formula="the lesser of T_transfer from the engine and Σ T_grip/(i_axle · η) over the axles that are engaged, in "
    "the range where that is most",
    sources=[sources.VEHICLE_DYNAMICS.giving("formula")],
)
def transfer_torque(build: Build) -> float:
    """Largest torque at the transfer case's outputs together."""
    return transfer_torque_under(build, laden=False)


def transfer_torque_under(build: Build, *, laden: bool) -> float:
    """The same with the axles at their ratings, or under the most that they are laden with."""
    return max(_held_at_the_outputs(build, drive, laden) for drive in chain.drives(build))


def _held_at_the_outputs(build: Build, drive: chain.Drive, laden: bool) -> float:
    """Largest torque at the transfer case's outputs in a state of drive: the engine's, or what the tyres take."""
    return min(transfer_torque_in(build, drive), _grip_led_back(build, drive.axles, laden))


@quantity(
    "driveline.gearbox-held-torque",
    "torque",
    "N m",
    formula="the lesser of T_gearbox and Σ T_grip/(i_axle · η · i_range) over the axles that are engaged, in the range "
    "where that is most",
    sources=[sources.VEHICLE_DYNAMICS.giving("formula")],
)
def gearbox_held_torque(build: Build) -> float:
    """Largest torque at the gearbox's output: from the engine, or from tyres that slip."""
    return _held_at_the_gearbox(build, laden=False)


def _held_at_the_gearbox(build: Build, laden: bool) -> float:
    return max(
        min(gearbox_torque_in(build, drive), _grip_led_back(build, drive.axles, laden) / range_ratio(build, drive))
        for drive in chain.drives(build)
    )


@quantity(
    "driveline.shaft-torque",
    "torque",
    "N m",
    formula="to an axle: the lesser of T_transfer · share, in the range where that is most, and T_grip/(i_axle · η); "
    "ahead of the transfer case: driveline.gearbox-held-torque",
    sources=[sources.VEHICLE_DYNAMICS.giving("formula")],
    each=chain.shafts,
)
def shaft_torque(build: Build, shaft: Any) -> float:
    """Largest torque on a propshaft."""
    return shaft_torque_under(build, shaft, laden=False)


def shaft_torque_under(build: Build, shaft: Any, *, laden: bool) -> float:
    """The same with the axles at their ratings, or under the most that they are laden with."""
    goal = chain.target(build, shaft)
    if goal == chain.TRANSFER:
        return _held_at_the_gearbox(build, laden)
    axles = chain.axles_behind(build, axle_named(build, goal))
    return min(_brought_to(build, *axles), _grip_led_back(build, axles, laden))


def axle_named(build: Build, name: str) -> Any:
    """The axle of a name. Raises `OutsideRange` where the build has none."""
    axle = build.driveline.axles.get(name)
    if axle is None:
        raise OutsideRange(f"a shaft drives '{name}', which is neither the transfer case nor an axle of the build")
    return axle


# -- shafts -----------------------------------------------------------------------------------------------------------
@quantity(
    "driveline.shaft-stress",
    "stress",
    "MPa",
    formula="τ = 16·T·D/(π·(D⁴ − d⁴))",
    symbols={
        "T": "driveline.shaft-torque",
        "D": "driveline.shafts.*.tube_outer",
    },
    sources=[sources.MACHINE_DESIGN.giving("formula")],
    each=chain.shafts,
)
def shaft_stress(build: Build, shaft: Any) -> float:
    """Shear stress in the skin of a propshaft's tube at its largest torque."""
    return tubes.torsional_stress(shaft_torque(build, shaft), shaft.tube_outer, shaft.tube_wall)


def highest_road_speed(build: Build) -> float:
    """The greatest of the speed reached on the level, the highest road speed wanted, and the governor's downhill.

    Downhill the governor lets the engine turn faster than its power would drive it on the level, up to what the tyres
    are rated for. A road speed limiter ends the first only: it takes the fuel away, and brakes nothing downhill.
    """
    limiter = build.driveline.speed_limiter
    reach = gearing.top_speed(build)
    limited = given(lambda: limiter.speed if is_fitted(limiter) else None)
    rated = given(lambda: gearing.tyre_speed(build))
    downhill = gearing.governed_road_speed(build)
    downhill = downhill if rated is None else min(downhill, rated)
    return max(reach if limited is None else min(reach, limited), downhill, build.build.design.road_speed_max)


def _speed_in_low(build: Build) -> float:
    """Highest speed of the transfer case's outputs in low range: the governor's in the tallest gear."""
    return build.engine.speed.governed_max / (min(gearing.gear_ratios(build)) * gearing.low_range(build))


@quantity(
    "driveline.shaft-speed",
    "rotation",
    "r/min",
    formula="to an axle that turns with the wheels: v · i_axle/(2π·r), v the greatest of top speed, governed speed "
    "downhill within the tyres' rating, and the highest road speed wanted; to one that can stand still: v the speed "
    "that it may be engaged at, and n_governed/(i_tallest · i_low) in low range; ahead of the transfer case: in high "
    "range at v, in low range n_governed/i_tallest, driving a pump at rest as stated",
    sources=[sources.KINEMATICS.giving("formula")],
    each=chain.shafts,
)
def shaft_speed(build: Build, shaft: Any) -> float:
    """Highest speed of a propshaft in the states in which it turns."""
    goal, road = chain.target(build, shaft), highest_road_speed(build)
    if goal == chain.TRANSFER:
        return _speed_ahead(build, road, gearing.rolling_radius(build))
    axle = axle_named(build, goal)
    radius = gearing.radius_of(build, axle)
    at_road_speed = gears.engine_speed(road, axle.ratio, radius)
    if chain.turns_with_the_wheels(build, axle):
        return at_road_speed
    in_low = min(_speed_in_low(build), at_road_speed)
    if chain.engaged(build, axle) == chain.LOW_ONLY:
        return in_low
    allowed = given(lambda: axle.engaged_speed_max)
    selected = road if allowed is None else min(road, allowed)
    return max(in_low, gears.engine_speed(selected, axle.ratio, radius))


def _speed_ahead(build: Build, road: float, radius: float) -> float:
    """Highest speed of the shaft ahead of the transfer case.

    In low range it turns as fast as the governor allows in the tallest gear, at a low road speed; with a range that
    is hardly lower the road speed limits it too.
    """
    low, high = gearing.low_range(build), gearing.high_range(build)
    axle = gearing.axle_ratio(build)
    in_high = gears.engine_speed(road, axle * high, radius)
    in_low = min(_speed_in_low(build) * low, gears.engine_speed(road, axle * low, radius))
    return max(in_high, in_low, build.driveline.transfer.pump_speed)


def material_of(shaft: Any) -> tuple[float, float]:
    """Young's modulus and density of a shaft's tube; steel where nobody says otherwise."""
    if given(lambda: shaft.material) == "aluminium":
        return tubes.ALUMINIUM_ELASTIC_MODULUS, tubes.ALUMINIUM_DENSITY
    return tubes.STEEL_ELASTIC_MODULUS, tubes.STEEL_DENSITY


@quantity(
    "driveline.critical-speed",
    "rotation",
    "r/min",
    formula="ω = (π/L)²·√(E·I/(ρ·A)): first bending mode of a slender tube on two hinges",
    sources=[sources.WHIRLING.giving("formula")],
    each=chain.shafts,
)
def critical_speed(build: Build, shaft: Any) -> float:
    """Speed at which a propshaft would whirl, by theory."""
    return tubes.critical_speed(shaft.length, shaft.tube_outer, shaft.tube_wall, *material_of(shaft))


@quantity(
    "driveline.whirl-share",
    "share",
    "%",
    formula="highest speed/whirling speed",
    symbols={
        "highest speed": "driveline.shaft-speed",
        "whirling speed": "driveline.critical-speed",
    },
    sources=[sources.WHIRLING.giving("formula", "whirling speed")],
    each=chain.shafts,
)
def whirl_share(build: Build, shaft: Any) -> float:
    """Highest speed of a propshaft as a share of its whirling speed."""
    return shaft_speed(build, shaft) / critical_speed(build, shaft)


# -- joints -----------------------------------------------------------------------------------------------------------
def joints_of(build: Build, shaft: Any) -> list[Any]:
    """The joints that are stated with a shaft: both, or the first where another shaft follows."""
    last = chain.shaft_behind(build, shaft) is None
    return [shaft.input_joint, shaft.output_joint] if last else [shaft.input_joint]


def plan_of(joint: Any) -> float:
    """Change of direction of a joint in plan view."""
    return or_practice(lambda: joint.plan, STRAIGHT)


def true_angle(joint: Any, side: float) -> float:
    """The angle of a joint in space from its angle in side view and in plan view."""
    return universal_joints.angle_from_projections(side, plan_of(joint))


def line_joints(build: Build, shaft: Any) -> tuple[universal_joints.Joint, ...]:
    """The universal joints of the line that a shaft ends, at ride height.

    A joint of another kind bends the line and does not fluctuate.
    """
    line = chain.line_to(build, shaft)
    stated = [*(piece.input_joint for piece in line), shaft.output_joint]
    side = plan = 0.0
    directions = [(1.0, 0.0, 0.0)]
    for joint in stated:
        side, plan = side + joint.ride, plan + plan_of(joint)
        directions.append(universal_joints.direction_from_projections(side, plan))
    made = universal_joints.joints_between(directions, [piece.yoke_offset for piece in line])
    return tuple(
        m if fluctuates(joint) else universal_joints.Joint(0.0, m.plane, m.yoke_offset)
        for m, joint in zip(made, stated, strict=True)
    )


def fluctuates(joint: Any) -> bool:
    """Whether a joint is a single universal joint, which turns unevenly."""
    return bool(joint.kind == "universal")


@quantity(
    "driveline.equivalent-angle",
    "angle",
    "deg",
    formula="β_eq = √|Σ β²·exp(2i·phase)|; two joints in phase and in one plane: √|β1² − β2²|",
    sources=[
        sources.DRIVESHAFT_MANUAL.giving("formula", "equivalent angle of joints in a row"),
        sources.UNIVERSAL_JOINTS.giving("formula", "joints out of phase or out of one plane"),
    ],
    each=chain.last_shafts,
)
def equivalent_angle(build: Build, shaft: Any) -> float:
    """Angle of the single joint that would make the part behind a line of shafts turn as unevenly."""
    return universal_joints.equivalent_angle(line_joints(build, shaft))


def in_plane(angle: float) -> float:
    """An angle between two planes, from 0 to a right angle: half a turn more is the same plane."""
    return abs(math.remainder(angle, math.pi))
