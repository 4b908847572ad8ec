"""Boxes and tilts against scipy rotations, a theorem on rectangles and hand geometry."""

from __future__ import annotations

import math
from itertools import product

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq, minimize_scalar  # type: ignore[import-untyped]
from scipy.spatial.transform import Rotation  # type: ignore[import-untyped]

from swaplint.engineering import ImpossibleInput, box_geometry
from swaplint.engineering.box_geometry import Box, Gaps, Point

DEG = math.radians(1.0)
angles = st.floats(-80.0 * DEG, 80.0 * DEG)
edges = st.floats(0.1, 2.0)
coordinates = st.floats(-2.0, 2.0)
points = st.tuples(coordinates, coordinates, coordinates)


@given(points, angles, angles, angles)
def test_turning_against_scipy(point: Point, roll: float, pitch: float, yaw: float) -> None:
    # scipy works in a right-handed frame: x forward, y left, z up. Lifting the front is then a negative
    # turn about y.
    forward = Rotation.from_euler("xyz", [roll, -pitch, yaw]).apply([-point[0], point[1], point[2]])
    expected = (-forward[0], forward[1], forward[2])
    assert box_geometry.turn_point(point, roll=roll, pitch=pitch, yaw=yaw) == pytest.approx(expected, abs=1e-12)


def test_senses() -> None:
    # Positive roll lifts the left side, positive pitch lifts the front, positive yaw turns the front to the
    # left.
    small = 1.0 * DEG
    assert box_geometry.turn_point((0.0, 1.0, 0.0), roll=small)[2] > 0.0
    assert box_geometry.turn_point((-1.0, 0.0, 0.0), pitch=small)[2] > 0.0
    assert box_geometry.turn_point((-1.0, 0.0, 0.0), yaw=small)[1] > 0.0


@given(points, points, angles, angles)
def test_turning_keeps_distances(point: Point, about: Point, roll: float, pitch: float) -> None:
    turned = box_geometry.turn_point(point, roll=roll, pitch=pitch, about=about)
    assert math.dist(turned, about) == pytest.approx(math.dist(point, about), abs=1e-12)


def test_what_is_not_turned_stays_where_it_is() -> None:
    assert box_geometry.turn_point((1.0, 2.0, 3.0)) == (1.0, 2.0, 3.0)
    assert box_geometry.turned_box_size((1.0, 2.0, 3.0)) == (1.0, 2.0, 3.0)
    assert box_geometry.roll_and_bounce((1.0, 2.0, 3.0), 0.5, 0.25, 0.0) == (1.0, 2.0, 3.0)
    # a quarter turn of roll lifts the left side: (y, z) becomes (-z, y), about (0.5, 0.25) here
    moved = box_geometry.roll_and_bounce((1.0, 2.0, 3.0), 0.5, 0.25, math.pi / 2, 0.125)
    assert moved == pytest.approx((1.0, 0.5 - 2.75, 0.25 + 1.5 + 0.125))
    # a quarter turn of pitch lifts the front, of yaw turns it to the left, about one point
    about = (4.0, 5.0, 6.0)
    assert box_geometry.turn_point((1.0, 2.0, 3.0), pitch=math.pi / 2, about=about) == pytest.approx((1.0, 2.0, 9.0))
    assert box_geometry.turn_point((1.0, 2.0, 3.0), yaw=math.pi / 2, about=about) == pytest.approx((1.0, 8.0, 3.0))


@given(st.tuples(edges, edges, edges), angles, angles, angles)
def test_turned_box_holds_its_corners(size: Point, roll: float, pitch: float, yaw: float) -> None:
    # Independent oracle: turn the eight corners and take the spread.
    halves = [(sx * size[0] / 2, sy * size[1] / 2, sz * size[2] / 2) for sx, sy, sz in product((-1.0, 1.0), repeat=3)]
    corners = np.array([box_geometry.turn_point(half, roll=roll, pitch=pitch, yaw=yaw) for half in halves])
    got = box_geometry.turned_box_size(size, roll=roll, pitch=pitch, yaw=yaw)
    assert got == pytest.approx((corners.max(axis=0) - corners.min(axis=0)).tolist(), abs=1e-12)


def test_pitched_engine_longhand() -> None:
    # L·cos 4° + H·sin 4° = 0.99756 + 0.05581 and L·sin 4° + H·cos 4° = 0.06976 + 0.79805.
    length, _, height = box_geometry.turned_box_size((1.0, 0.6, 0.8), pitch=4.0 * DEG)
    assert (length, height) == pytest.approx((1.05337, 0.86781), abs=1e-5)


@given(st.floats(1.01, 1.4), st.floats(0.05, 0.4))
def test_slanted_rectangle_against_carver(long: float, short: float) -> None:
    # Carver's theorem (Wetzel, "Rectangles and Rectangles", from memory): a rectangle p x q that is longer
    # than a fits into a x b if b >= (2·p·q·a + (p² - q²)·√(p² + q² - a²))/(p² + q²).
    a, p, q = 1.0, long, short
    bound = (2 * p * q * a + (p * p - q * q) * math.sqrt(p * p + q * q - a * a)) / (p * p + q * q)

    def excess(angle: float) -> float:
        return box_geometry.turned_box_size((p, q, 1.0), yaw=angle)[0] - a

    # The length first grows with the angle, up to the diagonal, then shrinks: the fit is on the falling side.
    slant = brentq(excess, math.atan2(q, p), math.pi / 2)
    assert box_geometry.turned_box_size((p, q, 1.0), yaw=slant)[1] == pytest.approx(bound, rel=1e-9)


def test_gaps_by_hand() -> None:
    bay = Box((0.0, -0.4, 0.0), (1.1, 0.4, 0.9))
    engine = Box((0.06, -0.28, 0.02), (1.0, 0.30, 0.85))
    room = box_geometry.gaps(engine, bay, movement=(0.005, 0.02, 0.01))
    assert [room.front, room.rear, room.right, room.left, room.below, room.above] == pytest.approx(
        [0.055, 0.095, 0.10, 0.08, 0.01, 0.04]
    )
    side, least = room.smallest()
    assert side == "below"
    assert least == pytest.approx(0.01)
    short = room.shortfalls(Gaps(0.04, 0.04, 0.025, 0.09, 0.015, 0.02))
    assert short == pytest.approx({"left": 0.01, "below": 0.005})


def test_a_box_that_does_not_move_and_has_just_the_room() -> None:
    room = box_geometry.gaps(Box((1.0, 2.0, 3.0), (5.0, 6.0, 7.0)), Box((0.0, 0.0, 0.0), (10.0, 12.0, 14.0)))
    assert room == Gaps(front=1.0, rear=5.0, right=2.0, left=6.0, below=3.0, above=7.0)
    assert room.shortfalls(room) == {}
    assert room.shortfalls(room._replace(above=7.25)) == {"above": 0.25}


@given(points, st.tuples(edges, edges, edges), points)
def test_centring_shift_equalises(centre: Point, size: Point, place: Point) -> None:
    bay = box_geometry.box_around((0.0, 0.0, 0.0), (3.0, 3.0, 3.0))
    shift = box_geometry.centring_shift(box_geometry.gaps(box_geometry.box_around(place, size), bay))
    moved = (place[0] + shift[0], place[1] + shift[1], place[2] + shift[2])
    room = box_geometry.gaps(box_geometry.box_around(moved, size), bay)
    assert room.front == pytest.approx(room.rear, abs=1e-12)
    assert room.right == pytest.approx(room.left, abs=1e-12)
    assert room.below == pytest.approx(room.above, abs=1e-12)


@given(points, st.tuples(edges, edges, edges))
def test_distance_to_box_is_that_to_its_nearest_point(point: Point, size: Point) -> None:
    box = box_geometry.box_around((0.1, -0.2, 0.3), size)
    nearest = np.clip(point, box.lower, box.upper)
    assert box_geometry.distance_to_box(point, box) == pytest.approx(math.dist(point, nearest), abs=1e-12)


@given(points, points, points)
def test_distance_to_line_against_a_search(point: Point, start: Point, end: Point) -> None:
    assume(math.dist(start, end) > 0.01)

    def distance(share: float) -> float:
        return math.dist(point, [s + share * (e - s) for s, e in zip(start, end, strict=True)])

    found = minimize_scalar(distance, bounds=(0.0, 1.0), method="bounded", options={"xatol": 1e-9})
    best = min(float(found.fun), distance(0.0), distance(1.0))
    assert box_geometry.distance_to_line(point, start, end) == pytest.approx(best, abs=1e-6)


@given(coordinates, coordinates, st.floats(-5.0 * DEG, 5.0 * DEG))
def test_roll_moves_a_part_by_its_chord(y: float, z: float, roll: float) -> None:
    moved = box_geometry.roll_and_bounce((0.0, y, z), 0.1, -0.2, roll)
    chord = 2.0 * math.hypot(y - 0.1, z + 0.2) * abs(math.sin(roll / 2.0))
    assert math.dist(moved, (0.0, y, z)) == pytest.approx(chord, abs=1e-12)


@given(angles, angles)
def test_three_kinds_of_tilt_against_vectors(first: float, second: float) -> None:
    def lean(upright: Point) -> float:
        return math.atan2(math.hypot(upright[0], upright[1]), upright[2])

    # Pitch and then roll about the body's axes is roll and then pitch about the fixed ones, as turn_point
    # does it.
    body = box_geometry.turn_point((0.0, 0.0, 1.0), roll=second, pitch=first)
    assert box_geometry.compound_tilt(first, second) == pytest.approx(lean(body), abs=1e-9)
    # Ground with slopes along and across: its normal is (-tan a, -tan b, 1).
    ground = (-math.tan(first), -math.tan(second), 1.0)
    assert box_geometry.tilt_from_slopes(first, second) == pytest.approx(lean(ground), abs=1e-9)


@given(st.floats(-60.0 * DEG, 60.0 * DEG), st.floats(-40.0 * DEG, 40.0 * DEG))
def test_inclinometers_against_vectors(pitch: float, roll: float) -> None:
    # Turn a body, read both inclinometers off its turned axes, and recover its tilt.
    along = box_geometry.turn_point((-1.0, 0.0, 0.0), roll=roll, pitch=pitch)[2]
    across = box_geometry.turn_point((0.0, 1.0, 0.0), roll=roll, pitch=pitch)[2]
    tilt = box_geometry.tilt_from_inclinometers(math.asin(along), math.asin(across))
    assert tilt == pytest.approx(box_geometry.compound_tilt(pitch, roll), abs=1e-7)


@given(st.floats(0.0, 0.6), st.floats(0.0, 0.6), st.floats(0.0, 0.3))
def test_window_and_envelope_agree(up: float, down: float, slope: float) -> None:
    least, greatest = box_geometry.installed_angle_window(up, down, slope)
    assert box_geometry.tilt_envelope(least, slope)[0] == pytest.approx(-down, abs=1e-12)
    assert box_geometry.tilt_envelope(greatest, slope)[1] == pytest.approx(up, abs=1e-12)


def test_slopes_and_surge_by_hand() -> None:
    # atan 0.45 = 24.23°, atan 0.8 = 38.66°.
    assert box_geometry.grade_angle(0.45) / DEG == pytest.approx(24.228, abs=1e-3)
    assert box_geometry.surge_angle(-0.8 * 9.80665) / DEG == pytest.approx(38.660, abs=1e-3)


def test_refusals() -> None:
    with pytest.raises(ImpossibleInput):
        Box((0.0, 0.0, 0.0), (1.0, -1.0, 1.0))
    with pytest.raises(ImpossibleInput):
        box_geometry.tilt_from_inclinometers(60.0 * DEG, 60.0 * DEG)
    # sin²46° + sin²45° = 1.0174; two readings of 45° are a body on its side, as is one of all but 90°
    with pytest.raises(ImpossibleInput, match="no body leans that far along and across at once"):
        box_geometry.tilt_from_inclinometers(46.0 * DEG, 45.0 * DEG)
    for along, across in ((44.9999 * DEG, 45.0 * DEG), (math.pi / 2 - 1e-9, 0.0)):
        assert box_geometry.tilt_from_inclinometers(along, across) == pytest.approx(math.pi / 2, abs=0.002)
    with pytest.raises(ImpossibleInput):
        box_geometry.distance_to_line((0.0, 0.0, 0.0), (1.0, 1.0, 1.0), (1.0, 1.0, 1.0))
    with pytest.raises(ImpossibleInput):
        box_geometry.turned_box_size((-1.0, 1.0, 1.0))
    with pytest.raises(ImpossibleInput):
        box_geometry.compound_tilt(math.pi / 2, 0.0)
