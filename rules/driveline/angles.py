"""The rule about the angles of universal joints."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import partial
from typing import Any

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
    given,
    name_of,
    needs_review,
    or_practice,
    path_of,
    practice,
    rule,
    sheet,
    shown,
)
from swaplint.engineering import universal_joints

from .. import sources
from ..gearing import chain
from . import loads as q
from .quantities import in_degrees

Demands = dict[str, Callable[[], Verdict]]
ACCELERATION = ("angular_acceleration", "rad/s2")
DEG = ("angle", "deg")

ANGLES = practice(
    "running joint angle of 0.5 to 7 degrees; yokes in phase within 3 degrees; two joints cancel to 3 degrees, "
    "400 rad/s² torsional and 1000 rad/s² inertial acceleration"
)

RUNNING = Practice("universal joint runs at 7 degrees at most", math.radians(7), ANGLES)

LEAST_ANGLE = math.radians(0.5)
EQUIVALENT = math.radians(3)
TORSIONAL, INERTIAL = 400.0, 1000.0
NEARLY_STRAIGHT = math.radians(1)
"""Where a joint is set that has little to cancel, as opposite a double one: its needles roll, and it hardly stirs
what it drives."""
PHASE = math.radians(3)
"""How exactly yokes can be set, and read off."""


@rule(
    "driveline.joint-angles",
    level="warning",
    due="build",
    sources=[
        sheet("driveline.shafts.*.input_joint.angle_max"),
        ANGLES.giving("limit", "least angle, phase, equivalent angle and accelerations"),
        sources.DRIVESHAFT_MANUAL.giving("formula", "equivalent angle of a line of joints"),
        sources.UNIVERSAL_JOINTS.giving("formula", "angle in space, acceleration behind a joint"),
    ],
    cautions=[cautions.ROTATING],
    fallbacks=[RUNNING, q.STRAIGHT],
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
    for two joints in phase and in one plane; how unevenly the end of the line and the shaft itself then turn,
    ω²·β², at the highest speed of the shaft. A joint whose angle in plan view nobody states is taken as straight there.
    Limit: at ride 0.5 degrees, so that the needles move, up to the joint's running angle, 7 degrees for a universal
    joint whose sheet is silent; at bump and droop the joint's stop, which is an error. Yokes in phase within 3 degrees;
    an equivalent angle of 3 degrees, 400 rad/s² and 1000 rad/s². Double universal and constant-velocity joints turn
    evenly; their angles are those of their sheets. A piece with both ends on the frame has no bump and droop.
    Consequence: The driveline shakes, its joints wear early, and a joint that reaches its stop breaks.
    Remedy: turn the yokes into phase; shim the axle's pinion or the gearbox's mount until the angles at both ends are
    alike.
    Cannot tell: the angle under torque, when the axle winds up by 1 to 3 degrees.
    """
    joints, moving = q.joints_of(build, shaft), chain.moves_with_the_wheels(build, shaft)
    demands: Demands = {}
    for joint in joints:
        at = name_of(joint)
        if moving:
            demands[f"bump.{at}"] = partial(_stop, joint, "bump")
            demands[f"droop.{at}"] = partial(_stop, joint, "droop")
        else:
            demands[f"stop.{at}"] = partial(_stop, joint, "ride")
        demands[f"running-angle.{at}"] = partial(_running, joint)
        if given(partial(q.fluctuates, joint)) is not False:
            demands[f"needles.{at}"] = partial(_needles, joint)
            demands[f"inertia.{at}"] = partial(_inertial, build, shaft, joint)
    if chain.shaft_behind(build, shaft) is None:
        demands |= _of_the_line(build, shaft)
    return all_of(demands)


def _stop(joint: Any, travel: str) -> Verdict:
    angle = q.true_angle(joint, getattr(joint, travel))
    stop = in_degrees(joint.angle_max)
    when = "ride height" if travel == "ride" else travel
    says = f"At {when} the {_place(joint)} stands at {in_degrees(angle)}; its stop is at {stop}."
    if angle > joint.angle_max:
        says += " Fit a joint that bends further" + ("." if travel == "ride" else ", or strap the travel.")
    return at_most(angle, joint.angle_max, says, level="error", on=f"{path_of(joint)}.{travel}")


def _running(joint: Any) -> Verdict:
    angle = q.true_angle(joint, joint.ride)
    universal = q.fluctuates(joint)
    most = or_practice(lambda: joint.running_angle_max, RUNNING) if universal else joint.running_angle_max
    says = f"At ride height the {_place(joint)} runs at {in_degrees(angle)}."
    return at_most(angle, most, says, level="warning", on=f"{path_of(joint)}.ride", unit=DEG)


def _needles(joint: Any) -> Verdict:
    angle = q.true_angle(joint, joint.ride)
    says = f"At ride height the {_place(joint)} runs at {in_degrees(angle)}"
    least = in_degrees(LEAST_ANGLE)
    says += "." if angle >= LEAST_ANGLE else f": its needles do not roll and wear in. Give it {least} or more."
    return at_least(angle, LEAST_ANGLE, says, level="warning", on=f"{path_of(joint)}.ride", unit=DEG)


def _inertial(build: Build, shaft: Any, joint: Any) -> Verdict:
    speed = q.shaft_speed(build, shaft)
    angle = q.true_angle(joint, joint.ride)
    found = (speed * angle) ** 2
    most = math.sqrt(INERTIAL) / speed
    says = f"At {shown(speed)} the {_place(joint)} runs at {in_degrees(angle)}"
    says += f"; beyond {in_degrees(most)} the shaft shakes." if most < universal_joints.SMALL_ANGLE_LIMIT else "."
    return at_most(found, INERTIAL, says, level="warning", on=f"{path_of(joint)}.ride", unit=ACCELERATION)


def _place(joint: Any) -> str:
    return name_of(joint).replace("_", " ")


# -- the line of shafts that one ends ---------------------------------------------------------------------------------
def _of_the_line(build: Build, shaft: Any) -> Demands:
    """Whether the joints of the line that a shaft ends cancel. Where the yokes are out of phase that says it all."""
    off = given(lambda: _out_of_phase(build, shaft))
    phase: Demands = {} if off is None else {"phase": partial(_in_phase, build, shaft)}
    if off is not None and off > PHASE:
        return phase
    return phase | {
        "cancelling": partial(_cancelling, build, shaft),
        "torsional-acceleration": partial(_torsional, build, shaft),
    }


def _out_of_phase(build: Build, shaft: Any) -> float | None:
    """The angle between the yokes of two joints at their own planes; None where the line has no two that turn it."""
    made = q.line_joints(build, shaft)
    if len(made) != 2 or any(not 0.0 < joint.angle <= universal_joints.SMALL_ANGLE_LIMIT for joint in made):
        return None
    return q.in_plane(made[1].yoke_offset - made[1].plane)


def _in_phase(build: Build, shaft: Any) -> Verdict:
    off = _out_of_phase(build, shaft) or 0.0
    says = f"The yokes are out of phase by {in_degrees(off)}."
    if off > PHASE:
        says = f"{says[:-1]}: the joints add up instead of cancelling."
    field = f"{path_of(shaft)}.yoke_offset"
    needed = math.remainder(q.line_joints(build, shaft)[1].plane, math.pi)
    return at_most(off, PHASE, says, level="warning", on=field, unit=DEG, advice=advice(field, needed))


def _too_steep(build: Build, shaft: Any) -> Verdict | None:
    """A question for a person where a joint of the line is too steep for the formula; else None."""
    angles = [joint.angle for joint in q.line_joints(build, shaft)]
    if max(angles) <= universal_joints.SMALL_ANGLE_LIMIT:
        return None
    says = f"Its joints run at {' and '.join(in_degrees(angle) for angle in angles)}: whether they cancel beyond "
    says += f"{in_degrees(universal_joints.SMALL_ANGLE_LIMIT)} is not judged here. Bring the steep one down first."
    return needs_review(says, on=path_of(shaft))


def _cancelling(build: Build, shaft: Any) -> Verdict:
    steep = _too_steep(build, shaft)
    if steep is not None:
        return steep
    found = q.equivalent_angle(build, shaft)
    says = f"{_uneven(build, shaft)}."
    return at_most(
        found,
        EQUIVALENT,
        says,
        level="warning",
        on=_last_ride(shaft),
        unit=DEG,
        advice=advice(_last_ride(shaft), _shim(build, shaft)),
    )


def _torsional(build: Build, shaft: Any) -> Verdict:
    steep = _too_steep(build, shaft)
    if steep is not None:
        return steep
    found, speed = q.equivalent_angle(build, shaft), q.shaft_speed(build, shaft)
    says = f"{_uneven(build, shaft)}, at up to {shown(speed)}."
    return at_most(
        (speed * found) ** 2,
        TORSIONAL,
        says,
        level="warning",
        on=_last_ride(shaft),
        unit=ACCELERATION,
        advice=advice(_last_ride(shaft), _shim(build, shaft)),
    )


def _uneven(build: Build, shaft: Any) -> str:
    angles = " and ".join(in_degrees(joint.angle) for joint in q.line_joints(build, shaft))
    found = in_degrees(q.equivalent_angle(build, shaft))
    return f"Joints at {angles}: what follows turns as unevenly as behind one joint at {found}"


def _last_ride(shaft: Any) -> str:
    return f"{path_of(shaft)}.output_joint.ride"


def _shim(build: Build, shaft: Any) -> float | None:
    """The angle in side view at which the last joint of two cancels the first; None where it may not run so steep.

    Where the first turns evenly or hardly bends there is little to cancel: the last should run nearly straight. Where
    the first is steeper than the last may run, that one must come down, and no shim at the last helps.
    """
    made = q.line_joints(build, shaft)
    joint = shaft.output_joint
    in_plan = math.cos(q.plan_of(joint))
    most = or_practice(lambda: joint.running_angle_max, RUNNING)
    if len(made) != 2 or math.cos(made[0].angle) > in_plan or made[0].angle > most:
        return None
    return math.copysign(max(math.acos(math.cos(made[0].angle) / in_plan), NEARLY_STRAIGHT), joint.ride)
