"""The rule about half-shafts and their joints, at full lock and hanging free."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    at_most,
    does_not_apply,
    given,
    is_fitted,
    name_of,
    path_of,
    practice,
    quantity,
    rule,
    sheet,
    shown,
)
from swaplint.engineering import universal_joints

from .. import sources
from ..gearing import chain, places
from . import loads
from .quantities import in_degrees

DEG, MM = ("angle", "deg"), ("length", "mm")
SHARES = practice(
    "an open differential halves the torque; a limited slip or a lock can send all of it to one wheel that grips"
)


@quantity(
    "driveline.half-shaft-torque",
    "torque",
    "N m",
    formula="T = share · T_axle/i_hub: half of it behind an open differential, all of it behind one that can lock",
    symbols={"T_axle": "driveline.axle-torque", "i_hub": "driveline.axles.*.hub_reduction"},
    sources=[SHARES.giving("formula")],
    each=chain.powered_axles,
)
def half_shaft_torque(build: Build, axle: Any) -> float:
    """Largest torque on one half-shaft of an axle: from the engine, or from tyres that slip."""
    hub = given(lambda: axle.hub_reduction)
    share = 0.5 if axle.half_shafts.differential == "open" else 1.0
    return share * loads.axle_torque(build, axle) / (1.0 if hub is None else float(hub))


def joint_angle(joint: Any) -> float:
    """Angle in space of a half-shaft's joint with the wheel at full lock and the suspension at its worst."""
    return universal_joints.angle_from_inclination(joint.slope, joint.lock)


@rule(
    "driveline.half-shafts",
    level="error",
    due="build",
    sources=[
        sheet("driveline.axles.front.half_shafts.torque_rating"),
        sheet("driveline.axles.front.half_shafts.outer_joint.angle_max"),
        sheet("driveline.axles.front.half_shafts.plunge"),
        SHARES.giving("formula", "share of one wheel"),
        sources.UNIVERSAL_JOINTS.giving("formula", "angle in space, cos β = cos slope · cos lock"),
    ],
    about="driveline.axles.*.half_shafts",
    each=chain.powered_axles,
    without={"driveline.axles.*.x": places.BY_NAME},
    bad=[
        {"driveline.axles.front.half_shafts.torque_rating": "2000 Nm"},
        {"driveline.axles.front.half_shafts.outer_joint.lock": "44 deg"},
        {"driveline.axles.front.half_shafts.outer_joint.torque_rating_at_lock": "1500 Nm"},
        {"driveline.axles.front.half_shafts.joints": "both", "driveline.axles.front.half_shafts.plunge": "10 mm"},
    ],
    good=[
        {"driveline.axles.front.half_shafts.joints": "both"},
        {"driveline.axles.front.half_shafts": {"fitted": False}},
    ],
)
def half_shafts(build: Build, axle: Any) -> Verdict:
    """Do the half-shafts bear their torque, and do their joints reach full lock and droop without striking?

    Computes: the torque on one half-shaft, half of the axle's behind an open differential and all of it where one wheel
    can be given all, over the hub reduction; the angle of each joint in space at full lock and the steepest slope of
    the shaft; the change of length over the travel of the suspension.
    Limit: the sheets of shaft and joints. Full torque at full lock is a warning: a careful driver avoids it.
    Consequence: A joint strikes its stop and breaks or pops out; the wheel locks or drive and steering fail.
    Remedy: steering stops that end the lock sooner, limiting straps, joints of a larger size or another kind.
    Cannot tell: the angle under torque, worn joints, boots that tear first; different shafts on the two sides.
    """
    shafts = axle.half_shafts
    if not is_fitted(shafts):
        return does_not_apply("This axle has no half-shafts.")
    demands: dict[str, Callable[[], Verdict]] = {"torque": lambda: _torque(build, axle)}
    if shafts.joints in ("outer", "both"):
        demands["angle.outer"] = partial(_angle, shafts.outer_joint)
        if given(lambda: shafts.outer_joint.lock) != 0.0:
            demands["torque-at-lock"] = lambda: _at_lock(build, axle)
    if shafts.joints == "both":
        demands["angle.inner"] = partial(_angle, shafts.inner_joint)
        demands["plunge"] = lambda: _plunge(shafts)
    return all_of(demands)


def _torque(build: Build, axle: Any) -> Verdict:
    torque, shafts = half_shaft_torque(build, axle), axle.half_shafts
    says = f"{shown(torque)} can reach one half-shaft, with a differential that is {_kind(shafts.differential)}."
    says += " Fit stronger ones, or limit the torque in low range." if torque > shafts.torque_rating else ""
    return at_most(torque, shafts.torque_rating, says, on=f"{path_of(shafts)}.torque_rating")


def _kind(differential: str) -> str:
    return {"limited-slip": "of limited slip", "locking": "lockable"}.get(differential, differential)


def _angle(joint: Any) -> Verdict:
    angle, place = joint_angle(joint), name_of(joint).replace("_", " ")
    says = f"With {in_degrees(joint.lock)} of lock on a slope of {in_degrees(joint.slope)} the {place} stands at "
    says += f"{in_degrees(angle)}."
    says += " Stop the lock sooner, or strap the droop." if angle > joint.angle_max else ""
    return at_most(angle, joint.angle_max, says, on=path_of(joint), unit=DEG)


def _at_lock(build: Build, axle: Any) -> Verdict:
    torque, joint = half_shaft_torque(build, axle), axle.half_shafts.outer_joint
    says = (
        f"{shown(torque)} can reach the outer joint at full lock, where it bears {shown(joint.torque_rating_at_lock)}."
    )
    on = f"{path_of(joint)}.torque_rating_at_lock"
    return at_most(torque, joint.torque_rating_at_lock, says, level="warning", on=on)


def _plunge(shafts: Any) -> Verdict:
    says = f"The half-shafts change their length by {shown(shafts.length_change, *MM)} over the travel."
    says += " Fit joints with more, or strap the travel." if shafts.length_change > shafts.plunge else ""
    return at_most(shafts.length_change, shafts.plunge, says, on=f"{path_of(shafts)}.plunge", unit=MM)
