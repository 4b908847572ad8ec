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
    holds,
    is_fitted,
    name_of,
    needs_review,
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

TURNED = practice("the wheels of a final drive on the frame move, and are turned by shafts with a joint at each end")


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
        TURNED.giving(
            "limit",
            "half-shafts, with a joint at each end where the final drive hangs on the frame",
            demands=["there", "joints"],
        ),
        sources.UNIVERSAL_JOINTS.giving("formula", "angle in space, cos β = cos slope · cos lock"),
    ],
    about="driveline.axles.*.half_shafts",
    each=chain.powered_axles,
    without={
        "driveline.axles.*.x": places.BY_NAME,
        "driveline.axles.*.final_drive_on": "Joints at none of its ends, or at the wheels alone, are a rigid axle's: "
        "whoever states them has seen it. Where half-shafts are said not to be there, it is asked.",
        "driveline.axles.*.integral": "A final drive on the axle stands in no gearbox's housing.",
    },
    bad=[
        {"driveline.axles.front.half_shafts.torque_rating": "2000 Nm"},
        {"driveline.axles.front.half_shafts.outer_joint.lock": "44 deg"},
        {"driveline.axles.front.half_shafts.outer_joint.torque_rating_at_lock": "1500 Nm"},
        {"driveline.axles.front.half_shafts.joints": "both", "driveline.axles.front.half_shafts.plunge": "10 mm"},
        {"driveline.axles.rear.half_shafts": {"fitted": False}, "driveline.axles.rear.final_drive_on": "frame"},
        {"driveline.axles.front.final_drive_on": "frame"},
    ],
    good=[
        {"driveline.axles.front.half_shafts.joints": "both"},
        {"driveline.axles.rear.half_shafts": {"fitted": False}, "driveline.axles.rear.final_drive_on": "axle"},
    ],
)
def half_shafts(build: Build, axle: Any) -> Verdict:
    """Do the half-shafts bear their torque, and do their joints reach full lock and droop without striking?

    Computes: the torque on one half-shaft, half of the axle's behind an open differential and all of it where one wheel
    can be given all, over the hub reduction; the angle of each joint in space at full lock and the steepest slope of
    the shaft; the change of length over the travel of the suspension.
    Limit: the sheets of shaft and joints. Full torque at full lock is a warning: a careful driver avoids it. A driven
    axle whose final drive hangs on the frame, or stands in the gearbox's housing, has half-shafts with a joint at each
    end; a rigid axle may carry its own. A driven front axle without joints at its wheels goes before a person.
    Consequence: A joint strikes its stop and breaks or pops out; the wheel locks or drive and steering fail.
    Remedy: steering stops that end the lock sooner, limiting straps, joints of a larger size or another kind.
    Cannot tell: the angle under torque, worn joints, boots that tear first; different shafts on the two sides.
    """
    shafts = axle.half_shafts
    if not is_fitted(shafts):
        if _on_the_frame(axle):
            return all_of(there=lambda: _not_there(axle))
        if places.end_of(build, axle) == "front":
            return all_of(joints=lambda: _does_it_steer(axle))
        return does_not_apply("The rigid axle carries its own half-shafts, and its rating counts for them.")
    demands: dict[str, Callable[[], Verdict]] = {"torque": lambda: _torque(build, axle)}
    if shafts.joints != "both" and given(lambda: _on_the_frame(axle)) and _sprung(build, axle):
        demands["joints"] = lambda: _joint_missing(axle)
    elif shafts.joints == "none" and places.end_of(build, axle) == "front":
        demands["joints"] = lambda: _does_it_steer(axle)
    if shafts.joints in ("outer", "both"):
        demands["angle.outer"] = partial(_angle, shafts.outer_joint)
        if given(lambda: shafts.outer_joint.lock) != 0.0:
            demands["torque-at-lock"] = lambda: _at_lock(build, axle)
    if shafts.joints == "both":
        demands["angle.inner"] = partial(_angle, shafts.inner_joint)
        demands["plunge"] = lambda: _plunge(shafts)
    return all_of(demands)


def _on_the_frame(axle: Any) -> bool:
    """Whether an axle's final drive stays where it is while its wheels move."""
    return given(lambda: axle.integral) is True or bool(axle.final_drive_on == "frame")


def _sprung(build: Build, axle: Any) -> bool:
    """Whether an axle's wheels move on springs. A tractor's do not."""
    suspension = build.vehicle.suspension
    springs = suspension.front if places.end_of(build, axle) == "front" else suspension.rear
    return given(lambda: is_fitted(springs)) is not False


def _not_there(axle: Any) -> Verdict:
    says = "The engine drives this axle, and there is no half-shaft to its wheels: fit both, and state them."
    return holds(False, says, on=path_of(axle.half_shafts))


def _joint_missing(axle: Any) -> Verdict:
    says = "Its final drive stays and its wheels move on springs: a half-shaft with fewer than two joints breaks. Fit "
    says += "half-shafts with a joint at each end, or state what joints they have."
    return holds(False, says, on=f"{path_of(axle.half_shafts)}.joints")


def _does_it_steer(axle: Any) -> Verdict:
    says = "A driven front axle that steers has a joint at each wheel, and none is stated: see whether it steers, and "
    says += "state its joints."
    return needs_review(says, on=path_of(axle.half_shafts))


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
