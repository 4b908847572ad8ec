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


def test_khurmi_intermediate_shaft() -> None:
    # Khurmi and Gupta, Theory of Machines, ex. 9.7: 500 rpm, 20°: 532.1 and 469.85 rpm between, 566.24 and
    # 441.5 after a second joint turned the wrong way.
    beta = 20.0 * DEG
    assert 500.0 * uj.speed_ratio(0.0, beta) == pytest.approx(532.1, abs=0.05)
    assert 500.0 * uj.speed_ratio(math.pi / 2, beta) == pytest.approx(469.85, abs=0.005)
    assert 500.0 * uj.speed_ratio(0.0, beta) ** 2 == pytest.approx(566.24, abs=0.005)
    assert 500.0 * uj.speed_ratio(math.pi / 2, beta) ** 2 == pytest.approx(441.5, abs=0.05)


@pytest.mark.parametrize(
    ("share", "degrees"),
    [
        pytest.param(0.12, 19.64, id="Khurmi and Gupta ex. 9.4"),
        pytest.param(100.0 / 1200.0, 16.4229, id="Khurmi and Gupta ex. 9.5, cos = 0.9592 before rounding"),
        pytest.param(0.10, 18.0, id="Khurmi and Gupta ex. 9.6, printed to 0.1"),
    ],
)
def test_khurmi_permitted_angle(share: float, degrees: float) -> None:
    assert uj.angle_for_fluctuation(share) / DEG == pytest.approx(degrees, abs=0.05)


def test_khurmi_unity_ratio() -> None:
    # Khurmi and Gupta ex. 9.3: at 18° the ratio is 1 where cos²θ = (1 - cos β)/sin²β; at cos²θ = 1/(1 + cos
    # β).
    theta = math.acos(math.sqrt(1.0 / (1.0 + math.cos(18.0 * DEG))))
    assert uj.speed_ratio(theta, 18.0 * DEG) == pytest.approx(1.0)


def test_khurmi_acceleration() -> None:
    # Khurmi and Gupta ex. 9.2: 1500 rpm, 20°: 3080 rad/s² in the worked notebook (its ω is rounded to 157
    # rad/s).
    assert uj.peak_angular_acceleration(20.0 * DEG, 157.0) == pytest.approx(3080.0, rel=2e-3)


def test_khurmi_acceleration_at_45_degrees() -> None:
    # Khurmi and Gupta ex. 9.6: 240 rpm, 20°, θ = 45°: I·α = 1.24·α, with T' = 102.7 N·m from T = 200 +
    # 1.24·α and T' = T·cos β/(1 - cos²θ·sin²β).
    alpha = uj.angular_acceleration(45.0 * DEG, 20.0 * DEG, 240.0 * RPM)
    assert (200.0 + 1.24 * alpha) * uj.speed_ratio(45.0 * DEG, 20.0 * DEG) == pytest.approx(102.7, abs=0.1)


@pytest.mark.parametrize(("degrees", "expected"), [(3.0, 0.00274281), (10.0, 0.0306189)])
def test_cyclic_irregularity(degrees: float, expected: float) -> None:
    # tan β·sin β by hand.
    assert uj.speed_fluctuation(degrees * DEG) == pytest.approx(expected, rel=2e-4)


def test_peak_acceleration_by_search() -> None:
    # Greatest value over 3601 positions of the exact formula at 3° and 3000 rpm, evaluated apart: 270.705
    # rad/s².
    assert uj.peak_angular_acceleration(3.0 * DEG, 3000.0 * RPM) == pytest.approx(270.705, rel=1e-5)
    assert uj.acceleration_amplitude(3.0 * DEG, 3000.0 * RPM) == pytest.approx(270.58, rel=1e-4)


def test_secondary_couples() -> None:
    # T·tan β and T·sin β for 800 N·m and 5° (Dubbel; VDI 2722), by hand.
    assert uj.secondary_couples(800.0, 5.0 * DEG) == pytest.approx((69.9909, 69.7246), rel=1e-5)


# --- published problems -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("angles", "expected"),
    # SAE AE-7 residual angle (from memory): √|β₁² - β₂² + β₃²|, by hand.
    [((4.0, 3.0, 2.5), 3.64005), ((3.0, 2.0), 2.23607), ((3.0, 3.0), 0.0), ((3.0,), 3.0)],
)
def test_residual_angle_in_one_plane(angles: tuple[float, ...], expected: float) -> None:
    got = uj.equivalent_angle([Joint(angle * DEG) for angle in angles])
    assert got / DEG == pytest.approx(expected, rel=1e-5, abs=1e-6)


@given(joint_angles)
def test_single_joint_against_vectors(beta: float) -> None:
    inputs, outputs = simulate([Joint(beta)], 180)
    expected = [uj.driven_rotation(float(theta), beta) for theta in inputs]
    assert outputs == pytest.approx(expected, abs=1e-9)
    assert max(abs(outputs - inputs)) <= uj.peak_lead_angle(beta) + 1e-9


@given(joint_angles, joint_angles, joint_angles, rotations, rotations, st.floats(-1.5, 1.5), st.floats(-1.5, 1.5))
def test_three_joints_against_vectors(
    b1: float, b2: float, b3: float, plane2: float, plane3: float, offset2: float, offset3: float
) -> None:
    joints = [Joint(b1), Joint(b2, plane2, offset2), Joint(b3, plane3, offset3)]
    inputs, outputs = simulate(joints, 24)
    start = uj.series_output_rotation(0.0, joints)
    expected = [uj.series_output_rotation(float(theta), joints) - start for theta in inputs]
    assert outputs == pytest.approx(expected, abs=1e-9)


# --- against the vector model -------------------------------------------------------------------------------


@given(st.floats(0.5 * DEG, 5.0 * DEG), st.floats(0.5 * DEG, 5.0 * DEG), rotations, st.floats(-math.pi, math.pi))
def test_equivalent_angle_against_vectors(b1: float, b2: float, plane: float, offset: float) -> None:
    # The second harmonic of the output's error has amplitude β²/4 for a single small joint.
    joints = [Joint(b1), Joint(b2, plane, offset)]
    simulated = 4.0 * second_harmonic(*simulate(joints, 48))
    assert uj.equivalent_angle(joints) ** 2 == pytest.approx(simulated, abs=0.01 * (b1**2 + b2**2))


def test_speed_ratio_against_vectors() -> None:
    beta, count = 25.0 * DEG, 3600
    inputs, outputs = simulate([Joint(beta)], count)
    slope = (np.roll(outputs, -1) - np.roll(outputs, 1))[1:-1] / (2.0 * (inputs[1] - inputs[0]))
    assert slope == pytest.approx([uj.speed_ratio(float(theta), beta) for theta in inputs[1:-1]], rel=1e-5)


@given(joint_angles, rotations)
def test_acceleration_is_the_slope_of_speed(beta: float, theta: float) -> None:
    step = 1e-5
    slope = (uj.speed_ratio(theta + step, beta) - uj.speed_ratio(theta - step, beta)) / (2.0 * step)
    assert uj.angular_acceleration(theta, beta, 100.0) == pytest.approx(slope * 1e4, abs=0.05)
    assert abs(uj.angular_acceleration(theta, beta, 100.0)) <= uj.peak_angular_acceleration(beta, 100.0) * (1 + 1e-12)


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


@given(joint_angles, rotations)
def test_equal_angles_in_phase_cancel_exactly(beta: float, theta: float) -> None:
    assert uj.series_output_rotation(theta, [Joint(beta), Joint(beta)]) == pytest.approx(theta, abs=1e-9)


@given(joint_angles, rotations, rotations)
def test_yokes_turned_with_the_planes_cancel_exactly(beta: float, plane: float, theta: float) -> None:
    joints = [Joint(beta), Joint(beta, plane=plane, yoke_offset=plane)]
    assert uj.series_output_rotation(theta, joints) == pytest.approx(theta, abs=1e-9)


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


@given(joint_angles)
def test_fluctuation_and_its_inverse(beta: float) -> None:
    assert uj.angle_for_fluctuation(uj.speed_fluctuation(beta)) == pytest.approx(beta, rel=1e-7)


@given(st.floats(1.0, 1000.0), st.floats(200.0, 700.0))
def test_acceleration_and_its_inverse(limit: float, speed: float) -> None:
    assert uj.acceleration_amplitude(uj.angle_for_acceleration(limit, speed), speed) == pytest.approx(limit)


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


@given(slopes, slopes)
def test_inclination_is_two_successive_rotations(inclination: float, heading: float) -> None:
    # scipy's rotations: first up about the across axis, then round about the upright.
    raised = Rotation.from_euler("y", -inclination).apply([1.0, 0.0, 0.0])
    turned = Rotation.from_euler("z", heading).apply(raised)
    assert uj.direction_from_inclination(inclination, heading) == pytest.approx(turned.tolist(), abs=1e-12)


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
