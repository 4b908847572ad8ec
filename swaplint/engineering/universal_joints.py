"""Kinematics of universal (cardan, Hooke's) joints, alone and in series.

Angles in rad, speeds in rad/s. The rotation of a joint is counted from the position in which the trunnion
axis of its driving yoke lies in the plane of the two shafts; there the driven shaft runs fastest.

Sources: Seherr-Thoss, Schmelz and Aucktor, *Universal Joints and Driveshafts*; SAE AE-7, *Universal Joint and
Driveshaft Design Manual* (both from memory); Khurmi and Gupta, *Theory of Machines*, chapter 9.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from swaplint.engineering.guards import ImpossibleInput, finite, positive, said, within_range

SMALL_ANGLE_LIMIT: Final = 0.35
"""Joint angle, rad (20°), up to which the squared-angle formulas are used; their error grows as angle squared
and is about 3 % there."""
ROUNDING: Final = 1e-14
"""What arithmetic leaves of squares that cancel, relative to their sum."""

Vector = tuple[float, float, float]


def _joint_angle(angle: float) -> float:
    if not 0.0 <= finite("joint angle", angle) < math.pi / 2:
        raise ImpossibleInput(f"a joint angle lies from 0 to below a right angle, not at {said(angle, '°')}")
    return angle


def _small_angle(angle: float) -> float:
    return within_range("joint angle", angle, 0.0, SMALL_ANGLE_LIMIT, "squared-angle formulas need small angles", "°")


# --- the angle of one joint in space ------------------------------------------------------------------------


def direction_from_projections(side_view: float, plan_view: float) -> Vector:
    """Return the direction of a shaft from its slopes as *drawn* in side view and in plan view, rad.

    Each is the angle of the shaft's projection against the vehicle's x axis, as read from a drawing. The
    result is a unit vector (along, across, up).

    >>> [round(part, 4) for part in direction_from_projections(math.radians(45), 0.0)]
    [0.7071, 0.0, 0.7071]
    """
    for name, value in (("angle in side view", side_view), ("angle in plan view", plan_view)):
        if abs(finite(name, value)) >= math.pi / 2:
            raise ImpossibleInput(f"the {name} must be below a right angle, not {said(value, '°')}")
    raw = (1.0, math.tan(plan_view), math.tan(side_view))
    length = math.hypot(*raw)
    return (raw[0] / length, raw[1] / length, raw[2] / length)


def _dot(first: Vector, second: Vector) -> float:
    return math.fsum(a * b for a, b in zip(first, second, strict=True))


def _cross(first: Vector, second: Vector) -> Vector:
    return (
        first[1] * second[2] - first[2] * second[1],
        first[2] * second[0] - first[0] * second[2],
        first[0] * second[1] - first[1] * second[0],
    )


def angle_between(first: Vector, second: Vector) -> float:
    """Return the true angle of the joint between two shafts from their directions, rad, 0 to π/2.

    The sense of a direction does not matter. Uses atan2(|a×b|, |a·b|), which keeps its digits at small
    angles. Raises ImpossibleInput for a direction without length.

    >>> round(math.degrees(angle_between((1.0, 0.0, 0.0), (1.0, 0.0, 1.0))), 6)
    45.0
    """
    for name, vector in (("first", first), ("second", second)):
        positive(f"length of the {name} direction", math.hypot(*vector))
    return math.atan2(math.hypot(*_cross(first, second)), abs(_dot(first, second)))


def angle_from_projections(side_view: float, plan_view: float) -> float:
    """Return the true angle, rad, of a joint with one shaft along x, from the two *drawn* angles, rad.

    tan²β = tan²(side) + tan²(plan). Where neither shaft lies along x, use `direction_from_projections` for
    each and `angle_between`.

    >>> round(math.degrees(angle_from_projections(math.radians(3), math.radians(4))), 3)
    4.994
    """
    side, plan = _joint_angle(abs(side_view)), _joint_angle(abs(plan_view))
    return math.atan(math.hypot(math.tan(side), math.tan(plan)))


def angle_from_inclination(inclination: float, heading: float) -> float:
    """Return the true angle, rad, of a joint with one shaft along x, from inclination and heading, rad.

    cos β = cos(inclination)·cos(heading): this holds where the inclination is that of the shaft itself, not
    of its projection on a side view (see `angle_from_projections`). The two agree to second order.

    >>> round(math.degrees(angle_from_inclination(math.radians(3), math.radians(4))), 3)
    4.999
    """
    e, h = _joint_angle(abs(inclination)), _joint_angle(abs(heading))
    # acos(cos e · cos h) loses half its digits near zero; this half-angle form does not.
    half = math.sin(e / 2) ** 2 + math.sin(h / 2) ** 2 - 2.0 * (math.sin(e / 2) * math.sin(h / 2)) ** 2
    return 2.0 * math.asin(math.sqrt(half))


# --- joints in series ---------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Joint:
    """One joint of a series, all angles in rad.

    `angle`: the true angle between its two shafts. `plane`: how far the plane of its two shafts is turned,
    in the sense of rotation, against the plane of the first joint. `yoke_offset`: how far the yoke at this
    end of the shaft ahead is turned, in the sense of rotation, against the yoke at its other end; 0 for
    yokes in phase. The first joint is the reference: both are 0.
    """

    angle: float
    plane: float = 0.0
    yoke_offset: float = 0.0

    def __post_init__(self) -> None:
        _joint_angle(self.angle)
        finite("plane", self.plane)
        finite("yoke_offset", self.yoke_offset)


def joints_between(directions: Sequence[Vector], yoke_offsets: Sequence[float] = ()) -> tuple[Joint, ...]:
    """Return the joints of a line of shafts from the direction of each shaft, from first driving to last driven.

    Directions point from input to output in a right-handed frame; the shafts turn clockwise as seen looking
    along them. `yoke_offsets` has one entry, rad, for each shaft between two joints (see `Joint`); left out,
    all yokes are in phase. Without offsets neither the hand of the frame nor the sense of rotation matters.
    Raises ImpossibleInput for fewer than two shafts or a joint bent by a right angle or more.

    >>> shafts = [direction_from_projections(math.radians(a), 0.0) for a in (4.0, 7.0, 4.0)]
    >>> [round(math.degrees(joint.angle), 6) for joint in joints_between(shafts)]
    [3.0, 3.0]
    >>> round(equivalent_angle(joints_between(shafts)), 6)
    0.0
    """
    if len(directions) < 2:
        raise ImpossibleInput(f"a joint lies between two shafts, not {len(directions)}")
    offsets = [0.0, *(yoke_offsets or [0.0] * (len(directions) - 2))]
    if len(offsets) != len(directions) - 1:
        raise ImpossibleInput("yoke_offsets needs one entry for each shaft between two joints")
    joints: list[Joint] = []
    plane: float = 0.0
    normal: Vector | None = None
    for here, there, offset in zip(directions, directions[1:], offsets, strict=False):
        angle = angle_between(here, there)
        if _dot(here, there) <= 0.0:
            raise ImpossibleInput("directions must point from input to output, bent by less than a right angle")
        bend = _cross(here, there)
        # A straight joint has no plane and stirs nothing: the plane before it stands.
        if math.hypot(*bend) > 0.0:
            if normal is not None:
                turned = _dot(_cross(normal, bend), here) / math.hypot(*here)
                plane += math.atan2(turned, _dot(normal, bend))
            normal = bend
        joints.append(Joint(angle, plane, offset))
    return tuple(joints)


def _phases(joints: Sequence[Joint]) -> list[float]:
    """Rotation of each driving yoke against its joint's own plane while the first joint's yoke is at 0."""
    if not joints:
        raise ImpossibleInput("a series needs at least one joint")
    if joints[0].yoke_offset != 0.0 or joints[0].plane != 0.0:
        raise ImpossibleInput("the first joint is the reference: its plane and its yoke_offset must be 0")
    phases = []
    yoke = 0.0
    for number, joint in enumerate(joints):
        if number:
            # The driven yoke of a joint stands at right angles to its driving yoke.
            yoke += math.pi / 2 + joint.yoke_offset
        phases.append(yoke - joint.plane)
    return phases


def equivalent_angle(joints: Sequence[Joint]) -> float:
    """Return the angle, rad, of the single joint that would give the last shaft the same irregularity.

    Each joint adds (β²/4)·sin 2(θ + phase) to the rotation, so that the vectors β²·exp(2i·phase) add up and
    the equivalent angle is the square root of the length of the sum. With all yokes in phase and all shafts
    in one plane this is √|β₁² - β₂² + β₃² …|; a shaft whose planes are turned against each other cancels
    when its yokes are turned by the same angle. Small angles only (SMALL_ANGLE_LIMIT), else OutsideRange.

    >>> round(math.degrees(equivalent_angle([Joint(math.radians(b)) for b in (4.0, 3.0, 2.5)])), 5)
    3.64005
    >>> equivalent_angle([Joint(0.03), Joint(0.03)])
    0.0
    """
    squares = [_small_angle(joint.angle) ** 2 for joint in joints]
    total = abs(sum(square * cmath.exp(2j * phase) for square, phase in zip(squares, _phases(joints), strict=True)))
    return math.sqrt(total) if total > ROUNDING * sum(squares) else 0.0
