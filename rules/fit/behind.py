"""Rules about what stands behind the engine: gearbox, levers and tunnel, and the propshafts that follow from them."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from swaplint.api import (
    Build,
    ImpossibleInput,
    OutsideRange,
    Verdict,
    advice,
    all_of,
    at_least,
    cautions,
    given,
    is_fitted,
    name_of,
    path_of,
    practice,
    quantity,
    rule,
    shown,
    within,
)

from .. import sources
from ..driveline.quantities import adapter_thickness
from ..gearing import chain
from ..mounts import quantities as mounts
from ..mounts.moving import Level
from .quantities import propshafts

MM = ("length", "mm")
PLACE = "vehicle.driveline_place"

ROOM = practice("25 mm are kept between gearbox or bell housing and tunnel, as drawn")
IN_TUNNEL = 0.025
ORDERED = practice("a propshaft is ordered to 5 mm of the distance between its joints at ride height")
SHAFT_OFF = 0.005

Reading = Callable[[], float]


# -- how far behind ---------------------------------------------------------------------------------------------------
def behind(build: Build, length: float) -> float:
    """Where along the vehicle a place on the gearbox stands, so far behind the front edge of its bell housing, m.

    Where the engine faces the rear, as behind a driven rear axle, the gearbox stands ahead of it.
    """
    if mounts.stands_across(build):
        raise OutsideRange(
            "the engine stands across the vehicle, so that nothing is bolted behind it along the vehicle"
        )
    along = (_to_the_gearbox(build) + length) * math.cos(build.vehicle.engine_place.pitch)
    return build.vehicle.engine_place.x + (along if mounts.facing(build) == "front" else -along)


def _to_the_gearbox(build: Build) -> float:
    """From the rear face of the block to the gearbox: its housing, the adapter and every further ring of the stack."""
    return build.vehicle.driveline_place.housing_length + adapter_thickness(build)


@quantity(
    "fit.lever-place",
    "length",
    "mm",
    formula="x = x_engine + (housing + adapters + lever)·cos(pitch)",
    symbols={
        "x_engine": "vehicle.engine_place.x",
        "housing": "vehicle.driveline_place.housing_length",
        "adapters": "driveline.adapter.thickness",
        "pitch": "vehicle.engine_place.pitch",
        "lever": "vehicle.driveline_place.lever",
    },
    sources=[sources.SOLID_GEOMETRY.giving("formula")],
)
def lever_place(build: Build) -> float:
    """Where the gear lever stands behind the front axle."""
    return behind(build, build.vehicle.driveline_place.lever)


@quantity(
    "fit.gearbox-mount-place",
    "length",
    "mm",
    formula="x = x_engine + (housing + adapters + mount)·cos(pitch)",
    symbols={
        "x_engine": "vehicle.engine_place.x",
        "housing": "vehicle.driveline_place.housing_length",
        "adapters": "driveline.adapter.thickness",
        "pitch": "vehicle.engine_place.pitch",
        "mount": "vehicle.driveline_place.gearbox_mount",
    },
    sources=[sources.SOLID_GEOMETRY.giving("formula")],
)
def mount_place(build: Build) -> float:
    """Where the mount of the gearbox stands behind the front axle."""
    return behind(build, build.vehicle.driveline_place.gearbox_mount)


@quantity(
    "fit.tunnel-roof-gap",
    "length",
    "mm",
    formula="roof − (z_engine − (housing + adapters)·sin(pitch) + reach above the shaft), at the bell housing's front",
    symbols={
        "roof": "vehicle.driveline_place.tunnel_roof",
        "z_engine": "vehicle.engine_place.z",
        "housing": "vehicle.driveline_place.housing_length",
        "adapters": "driveline.adapter.thickness",
        "pitch": "vehicle.engine_place.pitch",
        "reach above the shaft": "vehicle.driveline_place.gearbox_above",
    },
    sources=[sources.SOLID_GEOMETRY.giving("formula")],
)
def roof_gap(build: Build) -> float:
    """Room between bell housing and tunnel or floor; negative where it does not fit."""
    place, room = build.vehicle.engine_place, build.vehicle.driveline_place
    fall = _to_the_gearbox(build) * math.sin(place.pitch)
    return room.tunnel_roof - (place.z - fall + room.gearbox_above)


@quantity(
    "fit.tunnel-side-gap",
    "length",
    "mm",
    formula="half width of the tunnel − |y_engine| − half width of the gearbox",
    symbols={
        "half width of the tunnel": "vehicle.driveline_place.tunnel_half_width",
        "y_engine": "vehicle.engine_place.y",
        "half width of the gearbox": "vehicle.driveline_place.gearbox_half_width",
    },
    sources=[sources.SOLID_GEOMETRY.giving("formula")],
)
def side_gap(build: Build) -> float:
    """Room between gearbox and the nearer wall of the tunnel; negative where it does not fit."""
    room = build.vehicle.driveline_place
    return room.tunnel_half_width - abs(build.vehicle.engine_place.y) - room.gearbox_half_width


@quantity(
    "fit.transfer-floor-gap",
    "length",
    "mm",
    formula="floor − (z_engine − (housing + adapters + gearbox)·sin(pitch) + reach above the shaft)",
    symbols={
        "floor": "vehicle.driveline_place.floor_over_transfer",
        "z_engine": "vehicle.engine_place.z",
        "housing": "vehicle.driveline_place.housing_length",
        "adapters": "driveline.adapter.thickness",
        "pitch": "vehicle.engine_place.pitch",
        "gearbox": "vehicle.driveline_place.gearbox_length",
        "reach above the shaft": "vehicle.driveline_place.transfer_above",
    },
    sources=[sources.SOLID_GEOMETRY.giving("formula")],
)
def transfer_gap(build: Build) -> float:
    """Room between a bolted transfer case and the floor; negative where it does not fit."""
    place, room = build.vehicle.engine_place, build.vehicle.driveline_place
    fall = (_to_the_gearbox(build) + room.gearbox_length) * math.sin(place.pitch)
    return room.floor_over_transfer - (place.z - fall + room.transfer_above)


@quantity(
    "fit.transfer-left-gap",
    "length",
    "mm",
    formula="wall on the left − y_engine − reach of the case there: its own right where the engine faces the rear",
    sources=[sources.SOLID_GEOMETRY.giving("formula")],
)
def transfer_left_gap(build: Build) -> float:
    """Room between a bolted transfer case and what stands to its left; negative where it does not fit."""
    room = build.vehicle.driveline_place
    return room.wall_left_of_transfer - build.vehicle.engine_place.y - reach(build, "left")


def reach(build: Build, side: str) -> float:
    """How far the transfer case reaches to a side of the vehicle, m: its own left is the right where it is turned."""
    room = build.vehicle.driveline_place
    match mounts.facing(build):
        case "front":
            return room.transfer_left if side == "left" else room.transfer_right
        case "rear":
            return room.transfer_right if side == "left" else room.transfer_left
        case _:
            raise OutsideRange("the engine stands across the vehicle, and its transfer case reaches along it")


@quantity(
    "fit.transfer-right-gap",
    "length",
    "mm",
    formula="wall on the right + y_engine − reach of the case there: its own left where the engine faces the rear",
    sources=[sources.SOLID_GEOMETRY.giving("formula")],
)
def transfer_right_gap(build: Build) -> float:
    """Room between a bolted transfer case and what stands to its right; negative where it does not fit."""
    room = build.vehicle.driveline_place
    return room.wall_right_of_transfer + build.vehicle.engine_place.y - reach(build, "right")


@quantity(
    "fit.transfer-lever-place",
    "length",
    "mm",
    formula="x = x_engine + (housing + adapters + gearbox + lever)·cos(pitch)",
    symbols={
        "x_engine": "vehicle.engine_place.x",
        "housing": "vehicle.driveline_place.housing_length",
        "adapters": "driveline.adapter.thickness",
        "pitch": "vehicle.engine_place.pitch",
        "gearbox": "vehicle.driveline_place.gearbox_length",
        "lever": "vehicle.driveline_place.transfer_lever",
    },
    sources=[sources.SOLID_GEOMETRY.giving("formula")],
)
def transfer_lever_place(build: Build) -> float:
    """Where the lever of a bolted transfer case stands behind the front axle."""
    room = build.vehicle.driveline_place
    return behind(build, room.gearbox_length + room.transfer_lever)


@rule(
    "fit.gearbox-place",
    level="warning",
    due="build",
    sources=[ROOM.giving("limit", "25 mm to the tunnel"), sources.SOLID_GEOMETRY.giving("formula", "places")],
    cautions=[cautions.FRAME],
    about=PLACE,
    adjust=["vehicle.engine_place.x"],
    bad=[
        {f"{PLACE}.lever": "700 mm"},
        {f"{PLACE}.gearbox_mount": "400 mm"},
        {f"{PLACE}.tunnel_roof": "890 mm"},
        {f"{PLACE}.tunnel_half_width": "210 mm"},
        {f"{PLACE}.floor_over_transfer": "830 mm"},
        {f"{PLACE}.wall_left_of_transfer": "160 mm"},
        {f"{PLACE}.transfer_right": "310 mm"},
        {f"{PLACE}.transfer_lever": "400 mm"},
    ],
    good=[{f"{PLACE}.tunnel_roof": "1000 mm"}],
)
def gearbox_place(build: Build) -> Verdict:
    """Do gearbox, transfer case, mount and levers end up where tunnel, cross-member and floor want them?

    Computes: places behind the front axle, from the engine's place and angle, housing, adapter and the gearbox's own
    lengths; the room over and beside bell housing and gearbox, and over and on both sides of a transfer case that is
    bolted to it: such a case reaches further to the side of its front output, so each side is judged by itself.
    Levers that work the gearbox from elsewhere, through rods or cables (`levers = "remote"`), have no place here.
    Limit: the lever inside its opening, the mount where the cross-member can take it; 25 mm to the tunnel (common
    practice). A warning; an error where gearbox or transfer case does not fit.
    Consequence: The lever comes up beside its hole, the mount misses its cross-member, or the tunnel is struck.
    Remedy: move the engine along or across the vehicle; another adapter or lever; a cross-member made anew, an opening
    cut and closed again. Any change to frame, tunnel or floor is a change to the structure.
    Cannot tell: how far the lever swings in its gears, and the seat and heater behind it; try it in a mock-up.
    """
    place = build.vehicle.driveline_place
    stands_on_it = given(lambda: place.levers) != "remote"
    levers: dict[str, Callable[[], Verdict]] = {
        "lever": lambda: _between(
            "The gear lever", lever_place(build), place.lever_opening_front, place.lever_opening_rear, f"{PLACE}.lever"
        ),
    }
    demands: dict[str, Callable[[], Verdict]] = {
        **(levers if stands_on_it else {}),
        "mount": lambda: _between(
            "The gearbox's mount",
            mount_place(build),
            place.crossmember_front,
            place.crossmember_rear,
            f"{PLACE}.gearbox_mount",
        ),
        "tunnel-roof": lambda: _room(roof_gap(build), "over bell housing and gearbox", f"{PLACE}.tunnel_roof"),
        "tunnel-side": lambda: _room(side_gap(build), "beside the gearbox", f"{PLACE}.tunnel_half_width"),
    }
    transfer = build.driveline.transfer
    if is_fitted(transfer) and transfer.mounting == "bolted":
        demands["transfer-floor"] = lambda: _room(
            transfer_gap(build), "over the transfer case", f"{PLACE}.floor_over_transfer"
        )
        demands["transfer-left"] = lambda: _room(
            transfer_left_gap(build), "to the left of the transfer case", f"{PLACE}.wall_left_of_transfer"
        )
        demands["transfer-right"] = lambda: _room(
            transfer_right_gap(build), "to the right of the transfer case", f"{PLACE}.wall_right_of_transfer"
        )
        if stands_on_it:
            demands["transfer-lever"] = lambda: _between(
                "The lever of the transfer case",
                transfer_lever_place(build),
                place.transfer_opening_front,
                place.transfer_opening_rear,
                f"{PLACE}.transfer_lever",
            )
    return all_of(demands)


def _between(what: str, found: float, front: float, rear: float, on: str) -> Verdict:
    says = f"{what} stands {shown(found, *MM, digits=4)} behind the front axle; from {shown(front)} to {shown(rear)} "
    says += "there is a place for it."
    if found < front:
        says += f" It is {shown(front - found, *MM, digits=3)} too far forward."
    elif found > rear:
        says += f" It is {shown(found - rear, *MM, digits=3)} too far back."
    return within(found, front, rear, says, on=on, scale=1.0, unit=MM)


def _room(found: float, where: str, on: str) -> Verdict:
    found = found if abs(found) > 1e-9 else 0.0  # what remains of sums in floating point is no room that lacks
    says = f"{shown(found, *MM, digits=3)} are left {where}; {shown(IN_TUNNEL, *MM)} are wanted."
    if found < 0.0:
        says = f"The tunnel lacks {shown(-found, *MM, digits=3)} {where}; {shown(IN_TUNNEL, *MM)} of room are wanted."
    if found < IN_TUNNEL:
        says += " Move the engine, or have the floor altered."
    level: Level = "error" if found < 0.0 else "warning"
    return at_least(found, IN_TUNNEL, says, level=level, on=on, unit=MM)


# -- propshafts -------------------------------------------------------------------------------------------------------
@dataclass(frozen=True, slots=True)
class End:
    """One end of a propshaft along the vehicle: where its joint's centre stands, or the flange that it bolts to."""

    x: float
    """Behind the front axle, m."""
    yoke: float = 0.0
    """How far the joint's centre stands from there towards the shaft, m: the yoke's depth where x is the flange's."""


def driving_end(build: Build, shaft: Any) -> End:
    """The driving end of a shaft, as it is measured or as it follows from what drives it."""
    measured = _measured(lambda: shaft.driving_x, lambda: shaft.driving_flange_x, lambda: shaft.driving_yoke_depth)
    if measured is not None:
        return measured
    room, driver = build.vehicle.driveline_place, str(shaft.driven_by)
    if chain.axle_ahead(build, shaft) is not None:
        return End(float(shaft.driving_x))
    ahead = chain.shaft_named(build, driver)
    if ahead is not None:
        # Both shafts bolt to one face there, each with a yoke of its own.
        return _end(lambda: ahead.driven_x, lambda: ahead.driven_flange_x, lambda: shaft.driving_yoke_depth)
    before, joint, flange = 0.0, lambda: room.gearbox_length, lambda: room.gearbox_flange
    if driver != "gearbox":
        if build.driveline.transfer.mounting != "bolted":
            return End(float(shaft.driving_x))
        before = room.gearbox_length
        joint, flange = lambda: room.transfer_front, lambda: room.transfer_front_flange
        if driver == "transfer-rear":
            joint, flange = lambda: room.transfer_rear, lambda: room.transfer_rear_flange
    end = _end(joint, flange, lambda: shaft.driving_yoke_depth)
    return End(behind(build, before + end.x), end.yoke)


def driven_end(shaft: Any) -> End:
    """The driven end of a shaft at ride height."""
    return _end(lambda: shaft.driven_x, lambda: shaft.driven_flange_x, lambda: shaft.driven_yoke_depth)


def _measured(joint: Reading, flange: Reading, yoke: Reading) -> End | None:
    """An end by its joint's centre or by its flange's face; None where neither is stated."""
    centre, face = given(joint), given(flange)
    if centre is not None and face is not None:
        raise ImpossibleInput(
            "an end of the propshaft is stated to its joint's centre and to its flange: leave out one"
        )
    if centre is not None:
        return End(centre)
    return None if face is None else End(face, yoke())


def _end(joint: Reading, flange: Reading, yoke: Reading) -> End:
    """The same; where neither is stated the joint's centre is asked for."""
    return _measured(joint, flange, yoke) or End(joint())


@quantity(
    "fit.shaft-distance",
    "length",
    "mm",
    formula="L = √((|x_driven − x_driving| − yokes)² + drop² + side²); x_driving from the engine's place, housing, "
    "adapter, gearbox and transfer case; yokes: the depth of the flange yoke at each end that is stated to its flange",
    sources=[sources.SOLID_GEOMETRY.giving("formula")],
    each=propshafts,
)
def shaft_distance(build: Build, shaft: Any) -> float:
    """Distance between the joints' centres of a propshaft at ride height: the length to order."""
    driving, driven = driving_end(build, shaft), driven_end(shaft)
    run = abs(driven.x - driving.x) - driving.yoke - driven.yoke
    if run < 0.0:
        raise ImpossibleInput("the flange yokes of the propshaft take more than the distance between its flanges")
    return math.hypot(run, shaft.drop, shaft.side_offset)


@rule(
    "fit.shaft-length",
    level="warning",
    due="build",
    sources=[
        ORDERED.giving("limit", "5 mm either way"),
        sources.SOLID_GEOMETRY.giving("formula", "distance between the joints"),
    ],
    cautions=[cautions.ROTATING, cautions.CRUSH],
    about="driveline.shafts",
    adjust=["driveline.shafts.*.length"],
    instead={"driveline.shafts.*.driving_x": f"{PLACE}.gearbox_length"},
    each=propshafts,
    bad=[
        {"driveline.shafts.rear.driven_x": "2480 mm"},
        {f"{PLACE}.gearbox_length": "600 mm"},
        {
            "driveline.shafts.rear.driven_x": None,
            "driveline.shafts.rear.driven_flange_x": "2453 mm",
            "driveline.shafts.rear.driven_yoke_depth": "47 mm",
        },
    ],
    good=[
        {"driveline.shafts.front.length_before": "760 mm"},
        {
            "driveline.shafts.rear.driven_x": None,
            "driveline.shafts.rear.driven_flange_x": "2500 mm",
            "driveline.shafts.rear.driven_yoke_depth": "47 mm",
        },
    ],
)
def shaft_length(build: Build, shaft: Any) -> Verdict:
    """Has each propshaft the length that the new place of gearbox and transfer case asks for?

    Computes: the distance between its joints' centres at ride height, from the engine's place, the lengths behind it,
    and where the driven end stands. Where an end is stated to its flange's face, the depth of the shaft's flange yoke
    there is taken off, along the vehicle: a flange that leans by 5° changes that by less than 1 % of the depth.
    Limit: the stated length within 5 mm of it: common practice.
    Consequence: The shaft cannot be fitted, bottoms in its slip joint, or stands almost drawn out of it.
    Remedy: order the length that the sentence names, and have it balanced; measure again before the tube is cut, with
    engine and gearbox on their mounts and the vehicle on its wheels.
    Cannot tell: travel of the slip joint, which fit.shaft-plunge-ground judges; a place that is stated as
    a joint's centre and was measured to a flange, or with a yoke of another depth than the new shaft has.
    """
    return all_of(length=lambda: _length(build, shaft))


def _length(build: Build, shaft: Any) -> Verdict:
    needed, on = shaft_distance(build, shaft), f"{path_of(shaft)}.length"
    order = round(needed * 1000.0) / 1000.0
    says = f"{name_of(shaft)}: {shown(order, *MM, digits=4)} from joint to joint is the length to order"
    before = given(lambda: shaft.length_before)
    if before is not None:
        change = order - before
        says += f"; it was {shown(before)}"
        if abs(change) >= 0.0005:
            says += f", {shown(abs(change), *MM, digits=4)} {'longer' if change > 0.0 else 'shorter'} now"
    off = abs(shaft.length - needed)
    says += f"; {shown(shaft.length)} is stated." if off > SHAFT_OFF else "."
    spare = needed - SHAFT_OFF, needed + SHAFT_OFF
    return within(shaft.length, *spare, says, on=on, unit=MM, advice=advice(on, order))
