"""Universal joints against published problems and a vector model of the cross in three dimensions."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation  # type: ignore[import-untyped]

from swaplint.engineering import ImpossibleInput, OutsideRange
from swaplint.engineering import universal_joints as uj
from swaplint.engineering.universal_joints import Joint

DEG = math.radians(1.0)
RPM = 2.0 * math.pi / 60.0
Array = npt.NDArray[np.float64]

joint_angles = st.floats(0.5 * DEG, 40.0 * DEG)
rotations = st.floats(-10.0, 10.0)


def turn(vector: Array, axis: Array, angle: float) -> Array:
    return np.asarray(Rotation.from_rotvec(angle * axis).apply(vector))


def shaft_directions(joints: Sequence[Joint]) -> list[Array]:
    """The direction of each shaft of a series, the first along z and its first bend towards x."""
    directions = [np.array([0.0, 0.0, 1.0])]
    bend = np.array([1.0, 0.0, 0.0])
    plane = 0.0
    for joint in joints:
        here = directions[-1]
        bend = turn(bend, here, joint.plane - plane)
        plane = joint.plane
        axis = np.cross(here, bend)
        directions.append(turn(here, axis, joint.angle))
        bend = turn(bend, axis, joint.angle)  # carried over to the next shaft
    return directions


def simulate(joints: Sequence[Joint], count: int = 720) -> tuple[Array, Array]:
    """Input and output rotation over one turn from vectors alone: each cross joins two pins at right angles.

    No formula of the module is used: the pin of a driven yoke is at right angles to its own shaft and to
    the pin of the driving yoke, which is a vector product.
    """
    directions = shaft_directions(joints)
    inputs = np.linspace(0.0, 2.0 * math.pi, count, endpoint=False)
    outputs = []
    reference: tuple[Array, Array] | None = None
    for angle in inputs:
        pin = turn(np.array([1.0, 0.0, 0.0]), directions[0], angle)
        for number, joint in enumerate(joints):
            if number:
                pin = turn(pin, directions[number], joint.yoke_offset)
            pin = np.cross(directions[number + 1], pin)
            pin = pin / np.linalg.norm(pin)
        if reference is None:
            reference = (pin, np.cross(directions[-1], pin))
        outputs.append(math.atan2(float(pin @ reference[1]), float(pin @ reference[0])))
    return inputs, np.unwrap(np.array(outputs))


def second_harmonic(inputs: Array, outputs: Array) -> float:
    error = outputs - inputs
    return float(abs(2.0 * np.mean(error * np.exp(-2j * inputs))))


# --- published problems -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("angles", "expected"),
    # SAE AE-7 residual angle (from memory): √|β₁² - β₂² + β₃²|, by hand.
    [((4.0, 3.0, 2.5), 3.64005), ((3.0, 2.0), 2.23607), ((3.0, 3.0), 0.0), ((3.0,), 3.0)],
)
def test_residual_angle_in_one_plane(angles: tuple[float, ...], expected: float) -> None:
    got = uj.equivalent_angle([Joint(angle * DEG) for angle in angles])
    assert got / DEG == pytest.approx(expected, rel=1e-5, abs=1e-6)


# --- against the vector model -------------------------------------------------------------------------------


@given(st.floats(0.5 * DEG, 5.0 * DEG), st.floats(0.5 * DEG, 5.0 * DEG), rotations, st.floats(-math.pi, math.pi))
def test_equivalent_angle_against_vectors(b1: float, b2: float, plane: float, offset: float) -> None:
    # The second harmonic of the output's error has amplitude β²/4 for a single small joint.
    joints = [Joint(b1), Joint(b2, plane, offset)]
    simulated = 4.0 * second_harmonic(*simulate(joints, 48))
    assert uj.equivalent_angle(joints) ** 2 == pytest.approx(simulated, abs=0.01 * (b1**2 + b2**2))


@given(joint_angles, joint_angles, joint_angles, st.floats(-3.0, 3.0), st.floats(-3.0, 3.0), st.floats(-1.5, 1.5))
def test_joints_from_shaft_directions(
    b1: float, b2: float, b3: float, plane2: float, step: float, turned: float
) -> None:
    joints = [Joint(b1), Joint(b2, plane2, turned), Joint(b3, plane2 + step)]
    directions = [(float(d[0]), float(d[1]), float(d[2])) for d in shaft_directions(joints)]
    found = uj.joints_between(directions, [turned, 0.0])
    for got, expected in zip(found, joints, strict=True):
        assert got.angle == pytest.approx(expected.angle)
        assert math.remainder(got.plane - expected.plane, 2.0 * math.pi) == pytest.approx(0.0, abs=1e-7)
        assert got.yoke_offset == expected.yoke_offset


def test_mirrored_shafts_without_offsets_are_alike() -> None:
    slopes_in_both_views = [(2.0, 1.0), (6.0, -2.0), (1.0, 0.5), (4.0, 3.0)]
    here, mirrored = (
        uj.joints_between([uj.direction_from_projections(v * DEG, sign * h * DEG) for v, h in slopes_in_both_views])
        for sign in (1.0, -1.0)
    )
    assert uj.equivalent_angle(here) == pytest.approx(uj.equivalent_angle(mirrored))


def test_straight_joint_stirs_nothing() -> None:
    shafts = [(1.0, 0.0, 0.0), (1.0, 0.0, 0.05), (1.0, 0.0, 0.05), (1.0, 0.0, 0.0)]
    joints = uj.joints_between(shafts)
    assert joints[1].angle == 0.0
    # The straight joint still turns the yokes by a right angle, so that the outer two now add up.
    assert uj.equivalent_angle(joints) == pytest.approx(math.hypot(joints[0].angle, joints[2].angle))


def test_the_plane_before_a_straight_joint_stands() -> None:
    # up, straight on, then to the left: the planes of the outer two are a right angle apart; seen along the shafts
    # in a right-handed frame (along, left, up) from up to left is against the clock
    up, left = 0.1, 0.2
    shafts = [(1.0, 0.0, 0.0), (math.cos(up), 0.0, math.sin(up)), (math.cos(up), 0.0, math.sin(up))]
    across = (math.cos(up) * math.cos(left), math.sin(left), math.sin(up) * math.cos(left))
    planes = [joint.plane for joint in uj.joints_between([*shafts, across])]
    assert planes == pytest.approx([0.0, 0.0, -math.pi / 2])


@given(st.lists(st.floats(0.1, 10.0), min_size=4, max_size=4))
def test_how_long_a_direction_is_drawn_does_not_matter(lengths: list[float]) -> None:
    unit = [uj.direction_from_projections(v * DEG, h * DEG) for v, h in ((2, 1), (6, -2), (1, 5), (4, 3))]
    drawn = [(a * times, b * times, c * times) for (a, b, c), times in zip(unit, lengths, strict=True)]
    for one, other in zip(uj.joints_between(unit), uj.joints_between(drawn), strict=True):
        assert (one.angle, one.plane) == pytest.approx((other.angle, other.plane), abs=1e-9)


def test_what_is_left_of_two_angles_that_all_but_cancel() -> None:
    # β₁² = 0.01 and β₂² = 0.01 + 1e-15: √1e-15 is no rounding; two that are alike leave nothing at all
    left = uj.equivalent_angle([Joint(0.1), Joint(math.sqrt(0.01 + 1e-15))])
    assert left == pytest.approx(math.sqrt(1e-15), rel=0.02)
    assert uj.equivalent_angle([Joint(0.1), Joint(0.1)]) == 0.0


# --- arrangement of two joints ------------------------------------------------------------------------------


@given(st.floats(0.5 * DEG, 10.0 * DEG), st.floats(0.5 * DEG, 10.0 * DEG))
def test_yokes_out_of_phase_add(b1: float, b2: float) -> None:
    wrong = [Joint(b1), Joint(b2, yoke_offset=math.pi / 2)]
    crossed_planes = [Joint(b1), Joint(b2, plane=math.pi / 2)]
    assert uj.equivalent_angle(wrong) == pytest.approx(math.hypot(b1, b2))
    assert uj.equivalent_angle(crossed_planes) == pytest.approx(math.hypot(b1, b2))


# --- true angle ---------------------------------------------------------------------------------------------

slopes = st.floats(-60.0 * DEG, 60.0 * DEG)


@given(slopes, slopes)
def test_two_definitions_of_plane_angles(vertical: float, horizontal: float) -> None:
    along = (1.0, 0.0, 0.0)
    drawn = uj.direction_from_projections(vertical, horizontal)
    assert math.atan2(drawn[2], drawn[0]) == pytest.approx(vertical)
    assert math.atan2(drawn[1], drawn[0]) == pytest.approx(horizontal)
    # scipy's rotations: first up about the across axis, then round about the upright
    raised = Rotation.from_euler("y", -vertical).apply([1.0, 0.0, 0.0])
    measured = tuple(float(part) for part in Rotation.from_euler("z", horizontal).apply(raised))
    assert uj.angle_between(along, drawn) == pytest.approx(uj.angle_from_projections(vertical, horizontal), abs=1e-12)
    assert uj.angle_between(along, measured) == pytest.approx(
        uj.angle_from_inclination(vertical, horizontal), abs=1e-12
    )


def test_small_angles_add_like_a_right_triangle() -> None:
    for true_angle in (uj.angle_from_projections, uj.angle_from_inclination):
        assert true_angle(3.0 * DEG, 4.0 * DEG) / DEG == pytest.approx(5.0, rel=2e-3)
        assert true_angle(7.0 * DEG, 0.0) == pytest.approx(7.0 * DEG)


def test_ranges() -> None:
    for angle in (math.pi / 2, 2.0, 3.5, -0.01):
        with pytest.raises(ImpossibleInput, match="below a right angle"):
            Joint(angle)
    for angle in (math.pi / 2, -math.pi / 2, 1.58, -2.1, 3.5):
        with pytest.raises(ImpossibleInput, match="the angle in side view must be below a right angle"):
            uj.direction_from_projections(angle, 0.0)
        with pytest.raises(ImpossibleInput, match="the angle in plan view must be below a right angle"):
            uj.direction_from_projections(0.0, angle)
    assert uj.direction_from_projections(1.57, 0.0)[2] == pytest.approx(1.0, abs=1e-6)
    with pytest.raises(ImpossibleInput):
        uj.angle_between((0.0, 0.0, 0.0), (1.0, 0.0, 0.0))
    with pytest.raises(ImpossibleInput):
        uj.equivalent_angle([])
    with pytest.raises(ImpossibleInput):
        uj.equivalent_angle([Joint(0.05, plane=0.1)])
    for square_or_more in ((-1.0, 0.0, 0.1), (0.0, 1.0, 0.0)):
        with pytest.raises(ImpossibleInput, match="bent by less than a right angle"):
            uj.joints_between([(1.0, 0.0, 0.0), square_or_more])
    with pytest.raises(ImpossibleInput):
        uj.joints_between([(1.0, 0.0, 0.0)])
    with pytest.raises(ImpossibleInput):
        uj.joints_between([(1.0, 0.0, 0.0), (1.0, 0.0, 0.1)], [0.1])
    with pytest.raises(OutsideRange):
        uj.equivalent_angle([Joint(25.0 * DEG)])
    assert uj.equivalent_angle([Joint(0.35)]) == pytest.approx(0.35)
    with pytest.raises(OutsideRange):
        uj.equivalent_angle([Joint(0.351)])


def test_two_shafts_have_one_joint_between_them_and_one_shaft_none() -> None:
    two = [uj.direction_from_projections(math.radians(a), 0.0) for a in (4.0, 7.0)]
    (joint,) = uj.joints_between(two)
    assert math.degrees(joint.angle) == pytest.approx(3.0)
    with pytest.raises(ImpossibleInput, match="between two shafts, not 1"):
        uj.joints_between(two[:1])
