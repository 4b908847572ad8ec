"""Boxes, points and tilts: does it fit, how near does it come, how far does it lean.

Lengths in m, angles in rad. Axes as in the vehicle: x rearward, y left, z up. Turns are applied in the
order roll, pitch, yaw: positive roll lifts the left side, positive pitch lifts the front, positive yaw
turns the front to the left. Source: solid geometry.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

from swaplint.engineering.constants import G
from swaplint.engineering.guards import ImpossibleInput, finite, not_negative, positive, said

Point = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Box:
    """A box along the axes, from its lower to its upper bound on each axis, m."""

    lower: Point
    upper: Point

    def __post_init__(self) -> None:
        for axis, low, high in zip("xyz", self.lower, self.upper, strict=True):
            if finite(axis, high) < finite(axis, low):
                raise ImpossibleInput(
                    f"a box cannot end at {said(high, 'mm')} before it begins at {said(low, 'mm')}, along {axis}"
                )


class Gaps(NamedTuple):
    """Room on the six sides of a box inside another, m; negative where it sticks out."""

    front: float
    rear: float
    right: float
    left: float
    below: float
    above: float

    def smallest(self) -> tuple[str, float]:
        """Return the side with the least room, and that room, m."""
        sides = {side: float(getattr(self, side)) for side in _SIDES}
        side = min(sides, key=sides.__getitem__)
        return side, sides[side]

    def shortfalls(self, required: Gaps) -> dict[str, float]:
        """Return the sides that have less room than `required`, each with what is missing, m."""
        missing = {side: getattr(required, side) - getattr(self, side) for side in _SIDES}
        return {side: lack for side, lack in missing.items() if lack > 0.0}


_SIDES = ("front", "rear", "right", "left", "below", "above")


def turn_point(
    point: Point, *, roll: float = 0.0, pitch: float = 0.0, yaw: float = 0.0, about: Point = (0.0, 0.0, 0.0)
) -> Point:
    """Return where a point goes when the body turns about a fixed point; order and senses as above.

    >>> [round(part, 6) for part in turn_point((-1.0, 0.0, 0.0), pitch=math.radians(30))]
    [-0.866025, 0.0, 0.5]
    """
    for name, value in (("roll", roll), ("pitch", pitch), ("yaw", yaw)):
        finite(name, value)
    x, y, z = (finite("point", p) - finite("about", a) for p, a in zip(point, about, strict=True))
    y, z = y * math.cos(roll) - z * math.sin(roll), z * math.cos(roll) + y * math.sin(roll)
    x, z = x * math.cos(pitch) + z * math.sin(pitch), z * math.cos(pitch) - x * math.sin(pitch)
    x, y = x * math.cos(yaw) + y * math.sin(yaw), y * math.cos(yaw) - x * math.sin(yaw)
    return (x + about[0], y + about[1], z + about[2])


def turned_box_size(size: Point, *, roll: float = 0.0, pitch: float = 0.0, yaw: float = 0.0) -> Point:
    """Return length, width and height, m, of the smallest box along the axes around a turned box of a `size`.

    Each extent is the sum of the projections of the three edges; in pitch alone L' = L·cos θ + H·sin θ and
    H' = L·sin θ + H·cos θ.

    >>> [round(edge, 4) for edge in turned_box_size((1.0, 0.6, 0.8), pitch=math.radians(4))]
    [1.0534, 0.6, 0.8678]
    """
    length, width, height = (not_negative("size", edge) for edge in size)
    edges = [
        turn_point(edge, roll=roll, pitch=pitch, yaw=yaw)
        for edge in ((length, 0.0, 0.0), (0.0, width, 0.0), (0.0, 0.0, height))
    ]
    first, second, third = (math.fsum(abs(edge[axis]) for edge in edges) for axis in range(3))
    return (first, second, third)


def box_around(centre: Point, size: Point) -> Box:
    """Return the box of a `size` about a centre, m.

    >>> box_around((0.0, 0.0, 0.5), (2.0, 1.0, 1.0))
    Box(lower=(-1.0, -0.5, 0.0), upper=(1.0, 0.5, 1.0))
    """
    half = [not_negative("size", edge) / 2.0 for edge in size]
    return Box(
        (centre[0] - half[0], centre[1] - half[1], centre[2] - half[2]),
        (centre[0] + half[0], centre[1] + half[1], centre[2] + half[2]),
    )


def gaps(box: Box, bay: Box, movement: Point = (0.0, 0.0, 0.0)) -> Gaps:
    """Return the room on each side of a box in a bay, m, less its movement either way along x, y and z.

    Both are boxes: real parts have corners that a box does not see, so that a positive gap is not yet a
    fit, while a negative gap may still be saved by a hollow. Turn the box first with `turned_box_size`.

    >>> engine = box_around((0.0, 0.0, 0.0), (0.9, 0.6, 0.7))
    >>> bay = box_around((0.0, 0.0, 0.0), (1.0, 0.8, 0.8))
    >>> side, room = gaps(engine, bay, movement=(0.01, 0.03, 0.01)).smallest()
    >>> side, round(room, 6)
    ('front', 0.04)
    """
    by_x, by_y, by_z = (not_negative("movement", part) for part in movement)
    return Gaps(
        front=box.lower[0] - bay.lower[0] - by_x,
        rear=bay.upper[0] - box.upper[0] - by_x,
        right=box.lower[1] - bay.lower[1] - by_y,
        left=bay.upper[1] - box.upper[1] - by_y,
        below=box.lower[2] - bay.lower[2] - by_z,
        above=bay.upper[2] - box.upper[2] - by_z,
    )


def centring_shift(room: Gaps) -> Point:
    """Return how far to move a box along x, y and z, m, so that opposite gaps become equal.

    >>> centring_shift(Gaps(front=0.25, rear=0.0, right=0.0, left=0.0, below=0.0, above=0.5))
    (-0.125, 0.0, 0.25)
    """
    return (
        (room.rear - room.front) / 2.0,
        (room.left - room.right) / 2.0,
        (room.above - room.below) / 2.0,
    )


def distance_to_box(point: Point, box: Box) -> float:
    """Return the distance from a point to a box, m; 0 inside or on it.

    >>> distance_to_box((3.0, 4.0, 0.5), box_around((0.0, 0.0, 0.5), (0.0, 0.0, 1.0)))
    5.0
    """
    outside = (
        max(low - finite("point", p), p - high, 0.0) for p, low, high in zip(point, box.lower, box.upper, strict=True)
    )
    return math.hypot(*outside)


def distance_to_line(point: Point, start: Point, end: Point) -> float:
    """Return the distance from a point to the straight piece between two points, m.

    For the gap to a shaft take off its radius. Raises ImpossibleInput if both ends are one point.

    >>> distance_to_line((0.5, 0.25, 0.0), (0.0, 0.0, 0.0), (1.0, 0.0, 0.0))
    0.25
    """
    axis = [finite("end", e) - finite("start", s) for s, e in zip(start, end, strict=True)]
    to_point = [finite("point", p) - s for p, s in zip(point, start, strict=True)]
    length = positive("length of the line", math.hypot(*axis))
    unit = [part / length for part in axis]
    along = math.fsum(a * b for a, b in zip(unit, to_point, strict=True))
    along = min(max(along, 0.0), length)
    return math.hypot(*(p - along * u for p, u in zip(to_point, unit, strict=True)))


def roll_and_bounce(point: Point, axis_y: float, axis_z: float, roll: float, bounce: float = 0.0) -> Point:
    """Return where a part of the engine goes, m, when the unit rolls about a fore-and-aft axis and rises.

    Roll as in `turn_point`, about the line y = axis_y, z = axis_z; `bounce` positive upward.

    >>> [round(part, 4) for part in roll_and_bounce((0.2, 0.3, 0.0), 0.0, 0.0, math.radians(3), 0.01)]
    [0.2, 0.2996, 0.0257]
    """
    x, y, z = turn_point(point, roll=roll, about=(0.0, axis_y, axis_z))
    return (x, y, z + finite("bounce", bounce))


# --- tilt ---------------------------------------------------------------------------------------------------


def grade_angle(grade: float) -> float:
    """Return the angle of a slope given as rise over run, rad; 0.45 is a 45 % grade.

    >>> round(math.degrees(grade_angle(0.45)), 2)
    24.23
    """
    return math.atan(finite("grade", grade))


def _lean(name: str, angle: float) -> float:
    if abs(finite(name, angle)) >= math.pi / 2:
        raise ImpossibleInput(f"{name} must be below a right angle, not {said(angle, '°')}")
    return abs(angle)


def compound_tilt(pitch: float, roll: float) -> float:
    """Return the angle between the body's upright and the vertical after pitch *and then* roll, rad.

    cos γ = cos(pitch)·cos(roll), for one turn made after the other about the body's axes. Where both are
    slopes of a surface, or both inclinometer readings, use the two functions below; all three agree to
    second order.

    >>> round(math.degrees(compound_tilt(math.radians(30), math.radians(20))), 2)
    35.53
    """
    p, r = math.sin(_lean("pitch", pitch) / 2.0), math.sin(_lean("roll", roll) / 2.0)
    # acos(cos p · cos r) loses half its digits near zero; this half-angle form does not.
    return 2.0 * math.asin(math.sqrt(p * p + r * r - 2.0 * (p * r) ** 2))


def tilt_from_slopes(along: float, across: float) -> float:
    """Return the steepest tilt, rad, of a plane from its slope angles along and across, rad.

    tan²γ = tan²(along) + tan²(across), as for the ground under a vehicle.

    >>> round(math.degrees(tilt_from_slopes(math.radians(30), math.radians(20))), 2)
    34.31
    """
    return math.atan(math.hypot(math.tan(_lean("along", along)), math.tan(_lean("across", across))))


def tilt_from_inclinometers(along: float, across: float) -> float:
    """Return the tilt, rad, of a body from inclinometers laid along and across it, rad.

    sin²γ = sin²(along) + sin²(across). Raises ImpossibleInput for two readings that no body can show at once.

    >>> round(math.degrees(tilt_from_inclinometers(math.radians(30), math.radians(20))), 2)
    37.29
    """
    sine = math.hypot(math.sin(_lean("along", along)), math.sin(_lean("across", across)))
    if sine > 1.0:
        raise ImpossibleInput("no body leans that far along and across at once")
    return math.asin(sine)


def tilt_envelope(installed: float, slope: float) -> tuple[float, float]:
    """Return least and greatest tilt about one axis, rad, of a unit installed at an angle, on ± a slope.

    >>> tilt_envelope(0.0625, 0.25)
    (-0.1875, 0.3125)
    """
    reach = not_negative("slope", slope)
    return finite("installed", installed) - reach, installed + reach


def installed_angle_window(limit_up: float, limit_down: float, slope: float) -> tuple[float, float]:
    """Return the least and the greatest installed angle, rad, that keep within both limits on ± a slope.

    `limit_up` and `limit_down` are the engine's limits for front up and front down, both as positive
    angles. Where the least comes out above the greatest there is no such angle: the slope asks for another
    sump.

    >>> installed_angle_window(0.5, 0.375, 0.25)
    (-0.125, 0.25)
    """
    reach = not_negative("slope", slope)
    return reach - not_negative("limit_down", limit_down), not_negative("limit_up", limit_up) - reach


def surge_angle(acceleration: float) -> float:
    """Return the lean of a liquid's surface under a steady acceleration, m/s², in rad: atan(a/g).

    >>> round(math.degrees(surge_angle(0.8 * 9.80665)), 1)
    38.7
    """
    return math.atan(abs(finite("acceleration", acceleration)) / G)
