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

from swaplint.engineering.guards import ImpossibleInput, finite, not_negative, positive, said, within_range

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


def direction_from_inclination(inclination: float, heading: float) -> Vector:
    """Return the direction of a shaft from its true inclination and its heading, rad.

    `inclination` is what an inclinometer laid on the shaft reads against the horizontal; `heading` is the
    angle in plan view. The two successive rotations give (cos e·cos h, cos e·sin h, sin e).

    >>> [round(part, 4) for part in direction_from_inclination(math.radians(30), 0.0)]
    [0.866, 0.0, 0.5]
    """
    for name, value in (("inclination", inclination), ("heading", heading)):
        if abs(finite(name, value)) >= math.pi / 2:
            raise ImpossibleInput(f"the {name} must be below a right angle, not {said(value, '°')}")
    flat = math.cos(inclination)
    return (flat * math.cos(heading), flat * math.sin(heading), math.sin(inclination))


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


def speed_ratio(rotation: float, angle: float) -> float:
    """Return driven speed over driving speed at one `rotation` of the driving shaft, 1.

    cos β / (1 - sin²β·cos²θ); between cos β and 1/cos β.

    >>> round(500 * speed_ratio(math.radians(90), math.radians(20)), 2)
    469.85
    """
    sine = math.sin(_joint_angle(angle))
    return math.cos(angle) / (1.0 - (sine * math.cos(finite("rotation", rotation))) ** 2)


def lead_angle(rotation: float, angle: float) -> float:
    """Return how far the driven shaft is ahead of the driving shaft, rad.

    The driven rotation φ obeys tan φ = tan θ / cos β; the lead φ - θ stays within `peak_lead_angle`.

    >>> round(math.degrees(lead_angle(math.radians(45), math.radians(20))), 3)
    1.781
    """
    c = math.cos(_joint_angle(angle))
    s, t = math.sin(finite("rotation", rotation)), math.cos(rotation)
    return math.atan2(s * t * (1.0 - c), c * t * t + s * s)


def driven_rotation(rotation: float, angle: float) -> float:
    """Return the rotation of the driven shaft, rad, from the same position; continuous over many turns.

    >>> round(math.degrees(driven_rotation(math.radians(45), math.radians(20))), 3)
    46.781
    """
    return rotation + lead_angle(rotation, angle)


def peak_lead_angle(angle: float) -> float:
    """Return the greatest lead or lag of the driven shaft, rad: atan((1 - cos β)/(2·√cos β)), about β²/4.

    >>> round(math.degrees(peak_lead_angle(math.radians(20))), 3)
    1.782
    """
    c = math.cos(_joint_angle(angle))
    return math.atan((1.0 - c) / (2.0 * math.sqrt(c)))


def speed_fluctuation(angle: float) -> float:
    """Return (greatest - least driven speed) / driving speed, 1: 1/cos β - cos β = tan β·sin β.

    >>> round(speed_fluctuation(math.radians(10)), 6)
    0.030619
    """
    return math.tan(_joint_angle(angle)) * math.sin(angle)


def angle_for_fluctuation(fluctuation: float) -> float:
    """Return the joint angle, rad, that gives a total speed fluctuation; the inverse of `speed_fluctuation`.

    >>> round(math.degrees(angle_for_fluctuation(100 / 1200)), 2)
    16.42
    """
    q = not_negative("fluctuation", fluctuation)
    # cos β = (-q + √(q² + 4))/2, so that 1 - cos β = q·(…) without loss of digits at small q.
    root = math.sqrt(q * q + 4.0)
    one_minus_cos = (q - q * q / (root + 2.0)) / 2.0
    return 2.0 * math.asin(math.sqrt(one_minus_cos / 2.0))


def angular_acceleration(rotation: float, angle: float, speed: float) -> float:
    """Return the angular acceleration of the driven shaft at constant driving speed, rad/s².

    -ω²·cos β·sin²β·sin 2θ / (1 - sin²β·cos²θ)².

    >>> round(angular_acceleration(math.radians(135), math.radians(3), 100 * math.pi), 1)
    270.7
    """
    sine = math.sin(_joint_angle(angle))
    denominator = (1.0 - (sine * math.cos(finite("rotation", rotation))) ** 2) ** 2
    return -(finite("speed", speed) ** 2) * math.cos(angle) * sine**2 * math.sin(2.0 * rotation) / denominator


def peak_angular_acceleration(angle: float, speed: float) -> float:
    """Return the greatest angular acceleration of the driven shaft of one joint, rad/s²; exact.

    The peak lies where cos 2θ = 2s/(1 - s/2 + √((1 - s/2)² + 2s²)) with s = sin²β (the derivative of
    `angular_acceleration` set to nothing). For small angles it is ω²·β².

    >>> round(peak_angular_acceleration(math.radians(3), 100 * math.pi), 1)
    270.7
    """
    s = math.sin(_joint_angle(angle)) ** 2
    k = 1.0 - s / 2.0
    rotation = 0.5 * math.acos(2.0 * s / (k + math.sqrt(k * k + 2.0 * s * s)))
    return abs(angular_acceleration(rotation, angle, speed))


def secondary_couples(torque: float, angle: float) -> tuple[float, float]:
    """Return the peak bending couple on the driving and on the driven shaft, N·m: T·tan β and T·sin β.

    `torque` in N·m is that of the driving shaft. Both couples swing between nothing and the peak twice a turn
    and load the bearings of gearbox and axle. Source: Seherr-Thoss (from memory).

    >>> [round(couple, 2) for couple in secondary_couples(800.0, math.radians(5))]
    [69.99, 69.72]
    """
    finite("torque", torque)
    return abs(torque) * math.tan(_joint_angle(angle)), abs(torque) * math.sin(angle)


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


def series_output_rotation(rotation: float, joints: Sequence[Joint]) -> float:
    """Return the rotation of the last shaft, rad, for a `rotation` of the first; exact, each joint in turn.

    Counted so that without any joint angle it equals `rotation`.

    >>> pair = [Joint(math.radians(20)), Joint(math.radians(20))]
    >>> round(math.degrees(series_output_rotation(math.radians(33), pair)), 9)
    33.0
    """
    turned = finite("rotation", rotation)
    for joint, phase in zip(joints, _phases(joints), strict=True):
        turned += lead_angle(turned + phase, joint.angle)
    return turned


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


def acceleration_amplitude(angle: float, speed: float) -> float:
    """Return the amplitude ω²·β² of the torsional acceleration, rad/s², small angles.

    With `equivalent_angle` it is the torsional excitation of what the last shaft drives; with the first
    joint's own angle, or with that of the last joint seen from the output, it is the inertial excitation by
    the shaft between. From peak to peak it is twice this value.

    >>> round(acceleration_amplitude(math.radians(3), 100 * math.pi), 2)
    270.58
    """
    return (finite("speed", speed) * _small_angle(angle)) ** 2


def angle_for_acceleration(acceleration: float, speed: float) -> float:
    """Return the (equivalent) joint angle, rad, at which the acceleration amplitude reaches a limit, rad/s².

    Raises OutsideRange where that angle is too large for the small-angle formula.

    >>> round(math.degrees(angle_for_acceleration(400.0, 100 * math.pi)), 2)
    3.65
    """
    return _small_angle(math.sqrt(not_negative("acceleration", acceleration)) / positive("speed", speed))
