"""The rule about the angles of universal joints."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    all_of,
    at_least,
    at_most,
    cautions,
    name_of,
    needs_review,
    or_practice,
    path_of,
    practice,
    rule,
    shown,
)
from swaplint.engineering import universal_joints

from .. import sources
from . import chain
from . import loads as q
from .quantities import in_degrees

ACCELERATION = ("angular_acceleration", "rad/s2")

ANGLES = practice(
    "running joint angle of 0.5 to 7 degrees; two joints cancel to 3 degrees, 400 rad/s² torsional and 1000 rad/s² "
    "inertial acceleration"
)

RUNNING = Practice("universal joint runs at 7 degrees at most", math.radians(7), ANGLES)

LEAST_ANGLE = math.radians(0.5)
EQUIVALENT = math.radians(3)
TORSIONAL, INERTIAL = 400.0, 1000.0
PHASE = math.radians(3)
"""How exactly yokes can be set, and read off."""


@rule(
    "driveline.joint-angles",
    level="warning",
    due="build",
    sources=[sources.DRIVESHAFT_MANUAL, sources.UNIVERSAL_JOINTS, ANGLES],
    cautions=[cautions.ROTATING],
    fallbacks=[RUNNING],
    about="driveline.shafts.*.yoke_offset",
    each=chain.shafts,
    bad=[
        {"driveline.shafts.rear.yoke_offset": "90 deg"},
        {"driveline.shafts.rear.input_joint.droop": "-24 deg"},
        {"driveline.shafts.rear.input_joint.ride": "9 deg"},
        {"driveline.shafts.rear.input_joint.ride": "0 deg", "driveline.shafts.rear.output_joint.ride": "0 deg"},
        {"driveline.shafts.front.output_joint.ride": "6.5 deg"},
    ],
    good=[{"driveline.shafts.rear.input_joint.ride": "3.5 deg"}, {"driveline.shafts.rear.output_joint.ride": "3 deg"}],
)
def joint_angles(build: Build, shaft: Any) -> Verdict:
    """Are the angles of the joints acceptable at ride, bump and droop, and do the joints of a line cancel?

    Computes: the angle of each joint in space from side and plan view; the equivalent angle of the line, √|β1² − β2²|
    for two joints in phase and in one plane; ω²·β_eq² at the end of the line and ω²·β² for the shaft itself, at the
    highest speed of the shaft.
    Limit: at ride 0.5 degrees, so that the needles move, up to the joint's running angle, 7 degrees for a universal
    joint whose sheet is silent; at bump and droop the joint's stop, which is an error. Yokes in phase within 3 degrees;
    an equivalent angle of 3 degrees, 400 rad/s² and 1000 rad/s². Other joints than universal ones turn evenly.
    Consequence: The driveline shakes, its joints wear early, and a joint that reaches its stop breaks.
    Remedy: turn the yokes into phase; shim the axle's pinion or the gearbox's mount by the angle that the sentence
    names.
    Cannot tell: the angle under torque, when the axle winds up by 1 to 3 degrees. An angle in plan view that is not
    stated counts as none.
    """
    joints = q.joints_of(build, shaft)
    demands: list[Callable[[], Verdict]] = []
    for joint in joints:
        demands += [_stop(joint, "bump"), _stop(joint, "droop"), _running(joint)]
        if q.fluctuates(joint):
            demands += [_needles(joint), _inertial(build, shaft, joint)]
    if chain.shaft_behind(build, shaft) is None:
        demands.append(lambda: _cancelling(build, shaft))
    return all_of(*demands, default="warning")


def _stop(joint: Any, travel: str) -> Callable[[], Verdict]:
    def judge() -> Verdict:
        angle = q.true_angle(joint, getattr(joint, travel))
        stop = in_degrees(joint.angle_max)
        says = f"At {travel} the {_place(joint)} stands at {in_degrees(angle)}; its stop is at {stop}."
        return at_most(angle, joint.angle_max, says, level="error", on=f"{path_of(joint)}.{travel}")

    return judge


def _running(joint: Any) -> Callable[[], Verdict]:
    def judge() -> Verdict:
        angle = q.true_angle(joint, joint.ride)
        universal = q.fluctuates(joint)
        most = or_practice(lambda: joint.running_angle_max, RUNNING) if universal else joint.running_angle_max
        says = f"At ride height the {_place(joint)} runs at {in_degrees(angle)}."
        return at_most(angle, most, says, level="warning", on=f"{path_of(joint)}.ride", unit=("angle", "deg"))

    return judge


def _needles(joint: Any) -> Callable[[], Verdict]:
    def judge() -> Verdict:
        angle = q.true_angle(joint, joint.ride)
        says = f"At ride height the {_place(joint)} runs at {in_degrees(angle)}; its needles must roll to last."
        return at_least(angle, LEAST_ANGLE, says, level="warning", on=f"{path_of(joint)}.ride", unit=("angle", "deg"))

    return judge


def _inertial(build: Build, shaft: Any, joint: Any) -> Callable[[], Verdict]:
    def judge() -> Verdict:
        speed = q.shaft_speed(build, shaft)
        angle = q.true_angle(joint, joint.ride)
        found = (speed * angle) ** 2
        most = math.sqrt(INERTIAL) / speed
        says = f"At {shown(speed)} the {_place(joint)} runs at {in_degrees(angle)}"
        says += f"; beyond {in_degrees(most)} the shaft shakes." if most < universal_joints.SMALL_ANGLE_LIMIT else "."
        return at_most(found, INERTIAL, says, level="warning", on=f"{path_of(joint)}.ride", unit=ACCELERATION)

    return judge


def _place(joint: Any) -> str:
    return name_of(joint).replace("_", " ")


def _cancelling(build: Build, shaft: Any) -> Verdict:
    """Whether the joints of the line that a shaft ends cancel. Where the yokes are out of phase that says it all."""
    made = q.line_joints(build, shaft)
    path = path_of(shaft)
    if any(joint.angle > universal_joints.SMALL_ANGLE_LIMIT for joint in made):
        steep = in_degrees(universal_joints.SMALL_ANGLE_LIMIT)
        return needs_review(f"A joint runs beyond {steep}, where cancelling is not judged here.", on=path)
    if len(made) == 2 and all(joint.angle > 0.0 for joint in made):
        off = q.in_plane(made[1].yoke_offset - made[1].plane)
        if off > PHASE:
            needed = in_degrees(math.remainder(made[1].plane, math.pi))
            says = f"The yokes are out of phase by {in_degrees(off)}: the joints add up. Set the offset to {needed}."
            return at_most(off, PHASE, says, level="warning", on=f"{path}.yoke_offset", unit=("angle", "deg"))
    found, speed = q.equivalent_angle(build, shaft), q.shaft_speed(build, shaft)
    angles = " and ".join(in_degrees(joint.angle) for joint in made)
    says = f"Joints at {angles}: what follows turns as unevenly as behind one joint at {in_degrees(found)}."
    if len(made) == 2:
        says += f" A shim of {in_degrees(abs(made[0].angle - made[1].angle))} would make them cancel."
    on = f"{path}.output_joint.ride"
    acceleration = (speed * found) ** 2
    return all_of(
        at_most(found, EQUIVALENT, says, level="warning", on=on),
        at_most(acceleration, TORSIONAL, says, level="warning", on=on, unit=ACCELERATION),
        default="warning",
    )
