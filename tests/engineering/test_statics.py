"""Axle, corner and mount loads against published statics problems and numpy."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.engineering import ImpossibleInput, statics
from swaplint.engineering.constants import G
from swaplint.engineering.statics import AxleLoads, PointMass, Support

numbers = st.floats(-3.0, 3.0)
point_masses = st.builds(PointMass, st.floats(1.0, 2000.0), numbers, numbers, st.floats(0.0, 2.0))
ledgers = st.lists(point_masses, min_size=1, max_size=6)


def test_delivery_truck_axle_loads() -> None:
    # Published statics problem (jiskha.com question 454089): 9155 kg, 2.3 m behind the front axle and 0.63 m
    # ahead of the rear one; arithmetic by hand with its g = 9.8 m/s²: 19 291 N front, 70 428 N rear.
    loads = statics.axle_loads([PointMass(9155.0, 2.3)], 2.93)
    assert loads.front * 9.8 == pytest.approx(19291.1, rel=5e-4)
    assert loads.rear * 9.8 == pytest.approx(70427.9, rel=5e-4)


def test_centre_of_gravity_from_axle_loads() -> None:
    # Published problem (physicsforums.com thread 493921): 18 kN front, 12 kN rear, wheelbase 5 m gives 2.0 m.
    assert statics.centre_of_gravity([PointMass(18e3 / G, 0.0), PointMass(12e3 / G, 5.0)])[0] == pytest.approx(2.0)


def test_pickup_axle_loads() -> None:
    # Published problem (writersanswers.com, empty pickup truck): 30 kN, wheelbase 2.8 m, 0.5 m behind the
    # front.
    loads = statics.axle_loads([PointMass(30e3 / G, 0.5)], 2.8)
    assert loads.front * G == pytest.approx(24643.0, rel=5e-4)
    assert loads.rear * G == pytest.approx(5357.0, rel=5e-4)


def test_mass_ahead_of_the_front_axle_relieves_the_rear() -> None:
    # Moments by hand: 120·(2.6 + 0.3)/2.6 = 133.85 kg, rear -13.85 kg.
    loads = statics.axle_loads([PointMass(120.0, -0.3)], 2.6)
    assert (loads.front, loads.rear) == pytest.approx((133.846, -13.846), rel=5e-4)


@given(ledgers, st.floats(1.5, 6.0))
def test_axles_carry_the_whole_mass_and_its_moment(ledger: list[PointMass], wheelbase: float) -> None:
    loads = statics.axle_loads(ledger, wheelbase)
    assert loads.total == pytest.approx(statics.total_mass(ledger))
    assert loads.rear * wheelbase == pytest.approx(sum(m.mass * m.x for m in ledger), abs=1e-6)


@given(ledgers, ledgers, st.floats(1.5, 6.0))
def test_ledgers_add_up(first: list[PointMass], second: list[PointMass], wheelbase: float) -> None:
    together = statics.axle_loads([*first, *second], wheelbase)
    apart = statics.axle_loads(first, wheelbase) + statics.axle_loads(second, wheelbase)
    assert (together.front, together.rear) == pytest.approx((apart.front, apart.rear), abs=1e-6)


def test_towbar_load_is_a_lever() -> None:
    # Front loses m·o/L, rear gains m·(L + o)/L: 80·1.2/3 = 32 kg.
    assert statics.towbar_loads(80.0, 1.2, 3.0) == AxleLoads(pytest.approx(-32.0), pytest.approx(112.0))  # type: ignore[arg-type]


@given(st.floats(1.0, 200.0), st.floats(10.0, 500.0), st.floats(1.5, 6.0), st.floats(-1.0, 4.0))
def test_shift_moves_that_load(load: float, mass: float, wheelbase: float, x: float) -> None:
    shift = statics.shift_to_move_load(load, mass, wheelbase)
    before = statics.axle_loads([PointMass(mass, x)], wheelbase)
    after = statics.axle_loads([PointMass(mass, x + shift)], wheelbase)
    assert after.rear - before.rear == pytest.approx(load, rel=1e-6)


@given(ledgers, st.floats(1.5, 6.0), st.floats(-0.5, 0.5))
def test_a_slope_is_like_an_acceleration(ledger: list[PointMass], wheelbase: float, slope: float) -> None:
    # D'Alembert: seen in the vehicle, a slope s and an acceleration g·tan s differ only by the size of
    # gravity.
    on_slope = statics.axle_forces_on_slope(ledger, wheelbase, slope)
    level = statics.axle_forces_on_slope(ledger, wheelbase, 0.0, G * math.tan(slope))
    assert on_slope == pytest.approx([force * math.cos(slope) for force in level], abs=1e-6)
    assert sum(on_slope) == pytest.approx(statics.total_mass(ledger) * G * math.cos(slope))


def test_braking_loads_the_front_axle() -> None:
    # m·a·h/L by hand: 1500·5·0.6/2.5 = 1800 N from the rear to the front axle.
    ledger = [PointMass(1500.0, 1.0, z=0.6)]
    level = statics.axle_forces_on_slope(ledger, 2.5)
    braking = statics.axle_forces_on_slope(ledger, 2.5, acceleration=-5.0)
    assert braking[0] - level[0] == pytest.approx(1800.0)


@given(ledgers, st.floats(1.5, 6.0), st.floats(1.0, 2.5), st.floats(1.0, 2.5))
def test_corners_add_up_to_axles(ledger: list[PointMass], wheelbase: float, front: float, rear: float) -> None:
    corners = statics.corner_loads(ledger, wheelbase, front, rear)
    axles = statics.axle_loads(ledger, wheelbase)
    assert corners.front_left + corners.front_right == pytest.approx(axles.front, abs=1e-6)
    assert corners.rear_left + corners.rear_right == pytest.approx(axles.rear, abs=1e-6)
    moment = (corners.front_left - corners.front_right) * front + (corners.rear_left - corners.rear_right) * rear
    assert moment / 2.0 == pytest.approx(sum(m.mass * m.y for m in ledger), abs=1e-6)


@given(ledgers)
def test_mirroring_swaps_the_sides(ledger: list[PointMass]) -> None:
    mirrored = [PointMass(m.mass, m.x, -m.y, m.z) for m in ledger]
    here, there = (statics.corner_loads(items, 2.5, 1.5, 1.6) for items in (ledger, mirrored))
    assert (here.front_left, here.rear_left) == pytest.approx((there.front_right, there.rear_right), abs=1e-6)
    assert statics.left_share(ledger, 1.5) + statics.left_share(mirrored, 1.5) == pytest.approx(1.0)


def test_side_difference_is_twice_the_moment_over_the_track() -> None:
    # left - right = 2·m·y/track: 2·1000·0.03/1.5 = 40 kg, 4 % of the axle.
    corners = statics.corner_loads([PointMass(1000.0, 0.0, 0.03), PointMass(800.0, 2.5)], 2.5, 1.5, 1.5)
    assert corners.front_left - corners.front_right == pytest.approx(40.0)
    assert corners.front_side_difference == pytest.approx(0.04)
    assert corners.rear_side_difference == 0.0


@given(ledgers, st.floats(5.0, 300.0))
def test_balancing_item_levels_the_vehicle(ledger: list[PointMass], mass: float) -> None:
    y = statics.balancing_position(ledger, mass)
    assert statics.centre_of_gravity([*ledger, PointMass(mass, 0.0, y)])[1] == pytest.approx(0.0, abs=1e-9)


@given(st.floats(100.0, 3000.0), st.floats(-0.4, 0.4), st.floats(20.0, 500.0), st.floats(1.0, 2.2))
def test_levelling_shift_takes_the_difference_away(axle: float, y: float, mass: float, track: float) -> None:
    def sides(item_y: float) -> statics.CornerLoads:
        return statics.corner_loads([PointMass(axle, 0.0, y), PointMass(mass, 0.0, item_y)], 2.5, track, track)

    before = sides(0.0)
    shift = statics.shift_to_level(before.front_left - before.front_right, mass, track)
    after = sides(-shift)
    assert after.front_left - after.front_right == pytest.approx(0.0, abs=1e-6)


def test_side_excess_is_signed_and_antisymmetric() -> None:
    assert statics.side_excess(480.0, 520.0) == -statics.side_excess(520.0, 480.0) == pytest.approx(-0.04)
    with pytest.raises(ImpossibleInput):
        statics.side_excess(-10.0, 5.0)


def test_spring_deflection_is_a_balance_of_work() -> None:
    # Hooke's law: a mass lowered on a spring pair loses m·g·z, of which the springs store half: 2·k·z²/2.
    z = statics.spring_deflection(162.8, 165e3)
    assert 162.8 * G * z / 2 == pytest.approx(2 * 165e3 * z**2 / 2)
    # By hand: 162.8·9.80665/(2·165) = 4.838 mm.
    assert z * 1000 == pytest.approx(4.838, abs=5e-4)
    assert statics.spring_deflection(-80.0, 28e3) == -statics.spring_deflection(80.0, 28e3)
    with pytest.raises(ImpossibleInput):
        statics.spring_deflection(100.0, 0.0)


stiffnesses = st.floats(1e4, 1e6)


@given(
    st.lists(stiffnesses, min_size=5, max_size=5),
    st.floats(-0.3, 0.3),
    st.floats(0.1, 0.9),
    st.floats(-3000.0, 3000.0),
    st.floats(-3000.0, 3000.0),
)
def test_reactions_against_numpy(k: list[float], y: float, x: float, roll: float, pitch: float) -> None:
    # Independent oracle: the 3 x 3 equations for displacement and two slopes, solved by numpy without
    # shifting axes.
    places = [(0.0, 0.35), (0.05, -0.3), (1.1, 0.2), (1.0, -0.25), (0.5, 0.02)]
    supports = [Support(px, py, stiff) for (px, py), stiff in zip(places, k, strict=True)]
    rows = np.array([[1.0, px, py] for px, py in places])
    matrix = rows.T @ np.diag(k) @ rows
    load = np.array([4000.0, 4000.0 * x + pitch, 4000.0 * y + roll])
    expected = np.array(k) * (rows @ np.linalg.solve(matrix, load))
    got = statics.support_reactions(supports, 4000.0, x, y, roll, pitch)
    assert got == pytest.approx(expected.tolist(), rel=1e-6, abs=1e-3)
    assert sum(got) == pytest.approx(4000.0)


@given(st.lists(stiffnesses, min_size=3, max_size=3))
def test_three_supports_do_not_ask_for_stiffness(k: list[float]) -> None:
    places = [(0.0, 0.3), (0.0, -0.3), (0.9, 0.0)]
    reactions = statics.support_reactions(
        [Support(px, py, stiff) for (px, py), stiff in zip(places, k, strict=True)], 4500.0, 0.3, 0.0
    )
    # By hand: rear 4500·0.3/0.9 = 1500 N, the rest shared by the front pair.
    assert reactions == pytest.approx((1500.0, 1500.0, 1500.0))


def test_torque_lifts_one_side() -> None:
    # By hand: two pairs 0.6 m apart, equal stiffness: 1200 N·m/(2·0.6 m) = 1000 N down on the left, up on
    # the right.
    supports = [Support(0.0, 0.3), Support(0.0, -0.3), Support(1.0, 0.3), Support(1.0, -0.3)]
    reactions = statics.support_reactions(supports, 2000.0, 0.5, 0.0, roll_torque=1200.0)
    assert reactions == pytest.approx((1500.0, -500.0, 1500.0, -500.0))


def test_thrust_presses_the_rear_supports() -> None:
    supports = [Support(0.0, 0.3), Support(0.0, -0.3), Support(1.0, 0.3), Support(1.0, -0.3)]
    reactions = statics.support_reactions(supports, 2000.0, 0.5, 0.0, pitch_torque=200.0)
    assert reactions == pytest.approx((400.0, 400.0, 600.0, 600.0))


@pytest.mark.parametrize(
    "places", [[(0.0, 0.0), (1.0, 0.0)], [(0.0, 0.0), (0.5, 0.0), (1.0, 0.0)], [(0.0, 0.1), (0.5, 0.6), (1.0, 1.1)]]
)
def test_supports_that_cannot_hold_are_refused(places: list[tuple[float, float]]) -> None:
    with pytest.raises(ImpossibleInput):
        statics.support_reactions([Support(x, y) for x, y in places], 100.0, 0.0, 0.0)


@given(
    st.floats(2000.0, 8000.0),
    st.floats(-0.4, -0.1),
    st.floats(500.0, 3000.0),
    st.floats(0.2, 0.9),
    st.floats(-0.8, -0.45),
)
def test_rear_support_without_bending(we: float, xe: float, wg: float, xg: float, front: float) -> None:
    # Independent check: put the rear mount there, find its load by moments about the front mount, take the
    # section.
    rear = statics.rear_support_without_bending(we, xe, wg, xg, front)
    force = (we * (xe - front) + wg * (xg - front)) / (rear - front)
    assert statics.bending_moment([(we, xe), (wg, xg)], [(we + wg - force, front), (force, rear)]) == pytest.approx(
        0.0, abs=1e-6
    )


def test_hanging_gearbox_without_rear_mount() -> None:
    # Cantilever by hand: 165 kg, centre 0.45 m behind the face: 728 N·m.
    assert statics.bending_moment([(165.0 * G, 0.45)], []) == pytest.approx(728.14, rel=1e-4)


def test_an_engine_on_its_own_turns_with_its_own_torque() -> None:
    assert statics.unit_reaction_torque(300.0) == 300.0


@pytest.mark.parametrize("slope", [math.pi / 2, -math.pi / 2, 2.0])
def test_a_wall_is_no_slope(slope: float) -> None:
    with pytest.raises(ImpossibleInput):
        statics.axle_forces_on_slope([PointMass(1000.0, 1.25, z=0.5)], 2.5, slope)


def test_impossible_inputs() -> None:
    with pytest.raises(ImpossibleInput):
        statics.axle_loads([PointMass(1.0, 0.0)], 0.0)
    with pytest.raises(ImpossibleInput):
        statics.centre_of_gravity([PointMass(-10.0, 1.0)])
    with pytest.raises(ImpossibleInput):
        PointMass(math.nan, 0.0)
    with pytest.raises(ImpossibleInput):
        _ = AxleLoads(0.0, 0.0).front_share


def test_stiff_supports_in_line_are_refused_though_the_last_bits_do_not_cancel() -> None:
    """Half as far across as along, on one line: what is left of the determinant is rounding alone."""
    line = [Support(0.0, 0.3, 2e5), Support(0.4, 0.1, 2e5), Support(0.6, 0.0, 2e5)]
    with pytest.raises(ImpossibleInput, match="one line"):
        statics.support_reactions(line, 3000.0, 0.3, 0.1)


@pytest.mark.parametrize("stiffness", [1e-14, 1.0, 1e14])
def test_only_how_stiff_supports_are_to_each_other_counts(stiffness: float) -> None:
    # by moments about the front pair: 3000·0.4/1 = 1200 N at the rear, the rest halved
    corners = [(0.0, 0.3), (0.0, -0.3), (1.0, 0.0)]
    reactions = statics.support_reactions([Support(x, y, stiffness) for x, y in corners], 3000.0, 0.4, 0.0)
    assert reactions == pytest.approx((900.0, 900.0, 1200.0))


def test_a_tenth_of_a_micrometre_beside_the_line_holds_nothing() -> None:
    with pytest.raises(ImpossibleInput, match="one line"):
        statics.support_reactions([Support(0.0, 0.0), Support(0.5, 1e-7), Support(1.0, 0.0)], 3000.0, 0.3, 0.1)


def test_share_of_the_front_axle() -> None:
    assert AxleLoads(600.0, 400.0).front_share == pytest.approx(0.6)
    assert AxleLoads(-50.0, 250.0).front_share == pytest.approx(-0.25)
    for loads in (AxleLoads(100.0, -100.0), AxleLoads(0.0, 0.0)):
        with pytest.raises(ImpossibleInput, match="total load"):
            _ = loads.front_share


def test_an_axle_is_lifted_by_less_than_the_wheelbase() -> None:
    # sin θ = 0.6, tan θ = 0.75: 0.3 + 45·2.5/(1500·0.75) = 0.4 m
    assert statics.height_by_lifting(1500.0, 45.0, 1.5, 2.5, 0.3) == pytest.approx(0.4)
    for lift in (2.5, 2.6):
        with pytest.raises(ImpossibleInput, match="cannot be lifted"):
            statics.height_by_lifting(1500.0, 45.0, lift, 2.5, 0.3)


def test_an_engine_that_balances_on_its_front_mount() -> None:
    # 1000 N half a metre ahead of the mount against 1000 N of gearbox half a metre behind it
    with pytest.raises(ImpossibleInput, match="tips forward"):
        statics.rear_support_without_bending(1000.0, -1.0, 1000.0, 0.4, -0.5)


def test_supports_are_alike_unless_said_otherwise() -> None:
    assert Support(0.4, 0.3).stiffness == 1.0


@pytest.mark.parametrize("scale", [1e-4, 1.0, 1e4])
def test_the_rear_support_hangs_on_no_unit_of_weight(scale: float) -> None:
    # 1500·0.4·0.5/(4000·0.1 + 1500·0.5) = 300/1150
    place = statics.rear_support_without_bending(4000.0 * scale, -0.4, 1500.0 * scale, 0.4, -0.5)
    assert place == pytest.approx(300.0 / 1150.0)
