"""Vibration against published examples and scipy's generalised eigenproblem."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.linalg import eigh  # type: ignore[import-untyped]

from swaplint.engineering import ImpossibleInput, OutsideRange, vibration
from swaplint.engineering.vibration import Mount

RPM = 2.0 * math.pi / 60.0


@pytest.mark.parametrize(
    ("deflection", "frequency"),
    [
        pytest.param(0.001, 15.7609, id="15.76/sqrt(mm), any vibration text"),
        pytest.param(0.010, 4.98403, id="by hand"),
        pytest.param(0.025, 3.15, id="public table page: 3.15 Hz at 25 mm"),
    ],
)
def test_frequency_from_deflection(deflection: float, frequency: float) -> None:
    # The page prints two decimals; so does the tolerance.
    assert vibration.natural_frequency_from_deflection(deflection) == pytest.approx(frequency, abs=0.005)
    assert vibration.static_deflection(frequency) == pytest.approx(deflection, rel=2e-3)


def test_sarkar_cantilever() -> None:
    # Sarkar, Theory of Machines, ch. 11 ill. 1: cantilever 100 mm diameter, 1.1 m, 450 N at the end, 200
    # GPa: 34.99 Hz.
    stiffness = 3.0 * 200e9 * math.pi / 64.0 * 0.1**4 / 1.1**3
    assert vibration.natural_frequency(stiffness, 450.0 / 9.81) == pytest.approx(34.99, rel=2e-3)


@pytest.mark.parametrize(
    ("ratio", "damping", "expected"),
    # T = √((1 + (2ζr)²)/((1 - r²)² + (2ζr)²)), Ogata, System Dynamics, eq. 9-14, evaluated by hand; the
    # last row is also printed as 0.0206 by a public table page.
    [(3.0, 0.0, 0.125), (2.0, 0.1, 0.355862), (1.0, 0.1, 5.09902), (7.93, 0.05, 0.0206215)],
)
def test_transmissibility(ratio: float, damping: float, expected: float) -> None:
    assert vibration.transmissibility(ratio, damping) == pytest.approx(expected, rel=5e-4)


def test_bevan_resonance_speed() -> None:
    # Bevan, Theory of Machines, ex. 7 p. 563: transmissibility 1/30 at 1200 rpm puts resonance at 215.5 rpm.
    assert 1200.0 / vibration.frequency_ratio_for(1.0 / 30.0) == pytest.approx(215.5, abs=0.05)


@given(st.floats(0.0, 2.0))
def test_all_damping_crosses_at_root_two(damping: float) -> None:
    assert vibration.transmissibility(math.sqrt(2.0), damping) == pytest.approx(1.0, rel=1e-9)


@given(st.floats(0.01, 0.95), st.floats(0.0, 0.5))
def test_frequency_ratio_is_the_inverse(wanted: float, damping: float) -> None:
    ratio = vibration.frequency_ratio_for(wanted, damping)
    assert ratio > math.sqrt(2.0)
    assert vibration.transmissibility(ratio, damping) == pytest.approx(wanted, rel=1e-6)


@given(st.floats(1.5, 10.0), st.floats(0.0, 0.4))
def test_damping_spoils_isolation(ratio: float, damping: float) -> None:
    assert vibration.transmissibility(ratio, damping + 0.1) > vibration.transmissibility(ratio, damping)


@pytest.mark.parametrize(
    ("cylinders", "rpm", "expected"),
    [(6, 700, 35.0), (4, 750, 25.0), (4, 3000, 100.0), (8, 2000, 133.3333), (1, 3000, 25.0)],
)
def test_firing_frequency(cylinders: int, rpm: float, expected: float) -> None:
    # rpm/60·cylinders/2 by hand, even firing.
    assert vibration.firing_frequency(rpm * RPM, cylinders) == pytest.approx(expected, rel=1e-6)
    assert vibration.firing_frequency(rpm * RPM, cylinders, two_stroke=True) == pytest.approx(2 * expected, rel=1e-6)
    # A four-stroke fires at the order of half its cylinders.
    assert vibration.order_frequency(rpm * RPM, cylinders / 2) == pytest.approx(expected, rel=1e-6)


@given(st.floats(50.0, 1500.0), st.floats(15.0, 60.0), st.floats(1.5, 5.0))
def test_stiffness_for_ratio(mass: float, frequency: float, ratio: float) -> None:
    stiffness = vibration.stiffness_for_ratio(mass, frequency, ratio)
    assert frequency / vibration.natural_frequency(stiffness, mass) == pytest.approx(ratio)


def test_edwards_and_penney_two_axle_car() -> None:
    # Edwards and Penney, Differential Equations, problem 7.4-24 (published solution at math.utah.edu):
    # frequencies about 6.13 and 10.31 rad/s (10.315).
    modes = vibration.coupled_modes(100.0, 1000.0, 4000.0, -4000.0, 104000.0)
    assert 2 * math.pi * modes.lower == pytest.approx(6.13, abs=0.006)
    assert 2 * math.pi * modes.upper == pytest.approx(10.31, abs=0.006)


@given(
    st.floats(50.0, 1500.0),
    st.floats(2.0, 100.0),
    st.floats(1e5, 5e6),
    st.floats(-0.95, 0.95),
    st.floats(1e3, 5e5),
)
def test_coupled_modes_against_scipy(m: float, inertia: float, k11: float, share: float, k22: float) -> None:
    k12 = share * math.sqrt(k11 * k22)
    modes = vibration.coupled_modes(m, inertia, k11, k12, k22)
    squares, vectors = eigh([[k11, k12], [k12, k22]], np.diag([m, inertia]))
    assert (2 * math.pi * modes.lower) ** 2 == pytest.approx(squares[0], rel=1e-9)
    assert (2 * math.pi * modes.upper) ** 2 == pytest.approx(squares[1], rel=1e-9)
    assume(abs(share) > 1e-3)
    for shape, column in ((modes.lower_shape, 0), (modes.upper_shape, 1)):
        assert shape * vectors[0, column] == pytest.approx(vectors[1, column], rel=1e-6, abs=1e-9)


def test_uncoupled_modes_are_the_single_ones() -> None:
    mounts = [Mount(0.3, 4e5), Mount(-0.3, 4e5)]
    modes = vibration.bounce_roll_modes(200.0, 8.0, mounts)
    assert modes.lower == pytest.approx(vibration.natural_frequency(8e5, 200.0))
    assert modes.upper == pytest.approx(vibration.natural_frequency(vibration.roll_stiffness(mounts), 8.0))
    assert (modes.lower_shape, modes.upper_shape) == (0.0, math.inf)


def test_slanted_mounts_couple_by_their_height_too() -> None:
    assert Mount(0.3, 4e5).cross == 0.0
    mounts = [Mount(0.3, 4e5, 0.2, 1e5, 5e4), Mount(-0.3, 4e5, 0.1, 1e5, -5e4)]
    # Σ(k·y − c·h): 4e5·0.3 − 5e4·0.2 − 4e5·0.3 + 5e4·0.1 = −5000 N
    k22 = vibration.roll_stiffness(mounts)
    squares = eigh(np.array([[8e5, -5e3], [-5e3, k22]]), np.diag([200.0, 8.0]), eigvals_only=True)
    modes = vibration.bounce_roll_modes(200.0, 8.0, mounts)
    assert [(2 * math.pi * f) ** 2 for f in (modes.lower, modes.upper)] == pytest.approx(squares, rel=1e-9)


def test_the_shape_of_a_mode_that_is_hardly_coupled_keeps_its_digits() -> None:
    # (k22 − λ·I)·θ = −k12·x with λ = 1e4: θ/x = −1e-6/3e4
    modes = vibration.coupled_modes(1.0, 1.0, 1e4, 1e-6, 4e4)
    assert modes.lower_shape == pytest.approx(-1e-6 / 3e4, rel=1e-6, abs=0.0)


@given(st.floats(0.05, 0.25))
def test_coupling_drives_the_modes_apart(offset: float) -> None:
    mounts = [Mount(0.3 + offset, 4e5, 0.1, 1e5), Mount(-0.3 + offset, 4e5, 0.1, 1e5)]
    modes = vibration.bounce_roll_modes(200.0, 8.0, mounts)
    bounce = vibration.natural_frequency(8e5, 200.0)
    roll = vibration.natural_frequency(vibration.roll_stiffness(mounts), 8.0)
    assert modes.lower < min(bounce, roll)
    assert modes.upper > max(bounce, roll)


def test_a_leaning_mount_couples_bounce_and_roll_by_how_high_it_stands() -> None:
    # at the height of the axis its cross stiffness turns nothing; 0.1 m above it 1e5 N/m take 1e4 N for each metre
    level = vibration.bounce_roll_modes(200.0, 8.0, [Mount(0.3, 4e5, 0.0, 2e5, 1e5), Mount(-0.3, 4e5, 0.0, 2e5, 1e5)])
    assert level == vibration.bounce_roll_modes(200.0, 8.0, [Mount(0.3, 4e5, 0.0, 2e5), Mount(-0.3, 4e5, 0.0, 2e5)])


def test_roll_stiffness_by_hand() -> None:
    # 2·460 N/mm at ±310 mm and 2·360 N/mm at ±250 mm: 88 412 + 45 000 N·m/rad, plus 2·1e5·0.2² of one pair.
    mounts = [Mount(0.31, 460e3), Mount(-0.31, 460e3), Mount(0.25, 360e3, 0.2, 1e5), Mount(-0.25, 360e3, 0.2, 1e5)]
    assert vibration.roll_stiffness(mounts) == pytest.approx(88412.0 + 45000.0 + 8000.0)


def test_edge_movement_of_roll_alone() -> None:
    # the chord of 60° is the radius
    assert vibration.edge_movement(math.pi / 3, 0.4) == pytest.approx(0.4)
    assert vibration.edge_movement(math.pi / 3, 0.4, 0.01) == pytest.approx(0.41)


@given(st.floats(100.0, 5000.0), st.floats(1e4, 1e6), st.floats(0.0, 1.0))
def test_edge_movement_is_near_arc(torque: float, stiffness: float, distance: float) -> None:
    roll = vibration.roll_angle(torque, stiffness)
    assert roll * stiffness == pytest.approx(torque)
    moved = vibration.edge_movement(roll, distance, 0.002)
    assert moved <= abs(roll) * distance + 0.002 + 1e-15
    assert vibration.edge_movement(-roll, distance, 0.002) == moved


def test_shock_stops_at_the_snubber() -> None:
    # 653 kg·3·9.80665/1.64e6 N/m = 11.7 mm by hand; a snubber at 8 mm takes the rest.
    free = vibration.shock_movement(653.0, 3 * 9.80665, 1.64e6)
    assert free == pytest.approx(0.011714, rel=1e-3)
    assert vibration.shock_movement(653.0, 3 * 9.80665, 1.64e6, free_travel=0.008) == 0.008


def test_refusals() -> None:
    with pytest.raises(OutsideRange):
        vibration.transmissibility(1.0)
    with pytest.raises(OutsideRange):
        vibration.frequency_ratio_for(1.0)
    with pytest.raises(ImpossibleInput):
        vibration.coupled_modes(1.0, 1.0, 1.0, 1.0, 1.0)
    with pytest.raises(ImpossibleInput):
        vibration.bounce_roll_modes(200.0, 8.0, [])
    with pytest.raises(ImpossibleInput):
        vibration.firing_frequency(80.0, 0)


MOUNTS = st.lists(
    st.builds(
        vibration.inclined_mount,
        st.floats(-0.5, 0.5),
        st.floats(-0.3, 0.3),
        st.floats(1e5, 1e6),
        st.floats(2e4, 1e6),
        st.floats(-1.0, 1.0),
    ),
    min_size=2,
    max_size=5,
)


def test_inclined_mount_at_its_ends_and_in_between() -> None:
    # Rotation of a symmetric tensor: its trace and determinant stay; at a right angle the two change places.
    mount = vibration.inclined_mount(0.0, 0.0, 4e5, 1e5, math.radians(30))
    assert mount.vertical + mount.transverse == pytest.approx(5e5)
    assert mount.vertical * mount.transverse - mount.cross**2 == pytest.approx(4e10)
    lying = vibration.inclined_mount(0.0, 0.0, 4e5, 1e5, math.pi / 2)
    assert (lying.vertical, lying.transverse) == pytest.approx((1e5, 4e5))


@given(MOUNTS)
def test_free_roll_against_the_inverse_of_the_whole_matrix(mounts: list[Mount]) -> None:
    # numpy as the reference: shift left, shift up and roll under a unit torque, all three at once.
    matrix = np.zeros((3, 3))
    for m in mounts:
        at = np.array([[1.0, 0.0, -m.height], [0.0, 1.0, m.lateral]])
        matrix += at.T @ np.array([[m.transverse, m.cross], [m.cross, m.vertical]]) @ at
    assume(np.linalg.cond(matrix) < 1e8)
    left, up, roll = np.linalg.solve(matrix, [0.0, 0.0, 1.0])
    free = vibration.free_roll(mounts)
    assert free.stiffness == pytest.approx(1.0 / roll, rel=1e-5)
    assert (free.axis_lateral, free.axis_height) == pytest.approx((-up / roll, left / roll), rel=1e-5, abs=1e-6)
    assert free.stiffness <= vibration.roll_stiffness(mounts) * (1.0 + 1e-9)


def test_leaning_pair_turns_about_the_point_where_its_axes_meet() -> None:
    # Limiting case of every text on focused mounts: without shear stiffness two mounts are two links, and the body
    # turns about the crossing of their lines. At 0.3 m each side, leaning in by 45 degrees: 0.3 m above them.
    pair = [vibration.inclined_mount(y, 0.0, 4e5, 4e-2, math.radians(-45 if y > 0 else 45)) for y in (0.3, -0.3)]
    free = vibration.free_roll(pair)
    assert (free.axis_lateral, free.axis_height) == pytest.approx((0.0, 0.3), abs=1e-6)
    assert free.stiffness < 1e-6 * 4e5 * 0.3**2


@given(st.floats(50.0, 500.0), st.floats(1.0, 50.0), MOUNTS)
def test_shares_of_the_two_modes_add_up(mass: float, inertia: float, mounts: list[Mount]) -> None:
    # Orthogonality of normal modes with respect to the masses (Den Hartog, from memory).
    try:
        modes = vibration.bounce_roll_modes(mass, inertia, mounts)
    except ImpossibleInput:
        assume(False)
        raise
    shares = [vibration.second_coordinate_share(mass, inertia, s) for s in (modes.lower_shape, modes.upper_shape)]
    assert sum(shares) == pytest.approx(1.0, abs=1e-6)


def test_share_of_a_mode_that_is_almost_pure_does_not_overflow() -> None:
    # Two mounts that all but stack: one mode's shape is near the largest number, and its square is beyond it.
    mounts = [
        vibration.inclined_mount(0.0, 0.0, 1e5, 2e4, 0.0),
        vibration.inclined_mount(7.521696104301525e-282, 0.25, 1e5, 2e4, 0.0),
    ]
    modes = vibration.bounce_roll_modes(50.0, 1.0, mounts)
    shares = [vibration.second_coordinate_share(50.0, 1.0, s) for s in (modes.lower_shape, modes.upper_shape)]
    assert sorted(shares) == pytest.approx([0.0, 1.0], abs=1e-12)
    assert vibration.second_coordinate_share(50.0, 1.0, -1e300) == 1.0
    assert vibration.second_coordinate_share(50.0, 1.0, 1e-300) == 0.0


def test_free_roll_refuses_what_does_not_hold() -> None:
    with pytest.raises(ImpossibleInput):
        vibration.free_roll([Mount(0.3, 4e5), Mount(-0.3, 4e5)])
    with pytest.raises(ImpossibleInput):
        vibration.free_roll([Mount(0.0, 4e5, 0.0, 1e5)])
    # Stiff mounts above the axis of their own: what is left against roll is lost in the digits of 1e12 N m/rad.
    with pytest.raises(ImpossibleInput):
        vibration.free_roll([Mount(0.0, 4e12, 1.0, 1e12)])


def test_a_mount_that_is_not_said_to_lean_stands_upright() -> None:
    assert vibration.inclined_mount(0.3, 0.1, axial=4e5, shear=1e5) == Mount(0.3, 4e5, 0.1, 1e5, 0.0)


@pytest.mark.parametrize("scale", [1e-3, 1.0, 1e3])
def test_how_soft_mounts_may_be_sideways(scale: float) -> None:
    # free to shift sideways, the pair turns about its own middle: 2·k·0.3² with k = 1e5, however soft it is across
    soft, none = ([Mount(side, 1e5 * scale, 0.0, across * scale) for side in (0.3, -0.3)] for across in (0.5, 1e-8))
    assert vibration.free_roll(soft).stiffness == pytest.approx(18e3 * scale)
    # a ten-millionth of a millionth of the upright stiffness is what arithmetic leaves
    with pytest.raises(ImpossibleInput, match="do not hold the unit sideways"):
        vibration.free_roll(none)


def test_bounce_and_roll_of_two_unlike_mounts() -> None:
    # 4e5 and 2e5 N/m, 0.3 m to the left and to the right: bounce 6e5 N/m, coupling 6e4 N, roll 54 000 N·m/rad.
    # 200 kg and 8 kg·m²: a = 3000, b = 6750, c² = 36e8/1600 = 2.25e6; λ = 4875 ± √(1875² + 2.25e6) = 4875 ± 2401.1716
    modes = vibration.bounce_roll_modes(200.0, 8.0, [Mount(0.3, 4e5), Mount(-0.3, 2e5)])
    assert (2 * math.pi * modes.lower) ** 2 == pytest.approx(2473.8284, rel=1e-6)
    assert (2 * math.pi * modes.upper) ** 2 == pytest.approx(7276.1716, rel=1e-6)
    # of m·x'' + k11·x + k12·θ = 0: θ/x = (λ - a)·m/k12
    assert modes.lower_shape == pytest.approx((2473.8284 - 3000.0) * 200.0 / 6e4, rel=1e-6)
    assert modes.upper_shape == pytest.approx((7276.1716 - 3000.0) * 200.0 / 6e4, rel=1e-6)


@pytest.mark.parametrize(("k11", "k22", "lower", "upper"), [(4.0, 1.0, math.inf, 0.0), (1.0, 4.0, 0.0, math.inf)])
def test_shapes_of_modes_that_are_not_coupled(k11: float, k22: float, lower: float, upper: float) -> None:
    # the mode of the stiffer coordinate is the upper one, and is in that coordinate alone
    modes = vibration.coupled_modes(1.0, 1.0, k11, 0.0, k22)
    assert (modes.lower_shape, modes.upper_shape) == (lower, upper)
    assert (2 * math.pi * modes.lower, 2 * math.pi * modes.upper) == pytest.approx((1.0, 2.0))
    # where both are as stiff one mode is of each
    alike = vibration.coupled_modes(1.0, 1.0, 1.0, 0.0, 1.0)
    assert sorted((alike.lower_shape, alike.upper_shape)) == [0.0, math.inf]
