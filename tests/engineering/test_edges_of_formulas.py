"""Formulas at the edge of what they hold for, and with their defaults. Each number with its working."""

from __future__ import annotations

import math

import pytest

from swaplint.engineering.can_bus import J1939Identifier, compose_identifier, split_identifier
from swaplint.engineering.converter import stall_speed
from swaplint.engineering.guards import ImpossibleInput, OutsideRange
from swaplint.engineering.pipes import friction_factor
from swaplint.engineering.road_load import Drive, Resistance, power_reserve, ratio_for_grade
from swaplint.engineering.statics import PointMass, axle_forces_on_slope, bending_moment, unit_reaction_torque
from swaplint.engineering.tanks import BoxTank, surface_height
from swaplint.engineering.vibration import Mount, bounce_roll_modes, coupled_modes, free_roll, roll_stiffness


# -- mounts -----------------------------------------------------------------------------------------------------------
def test_a_mount_of_which_only_place_and_stiffness_are_said() -> None:
    mount = Mount(0.3, 4e5)
    assert (mount.height, mount.transverse, mount.cross) == (0.0, 0.0, 0.0)


def test_a_slanted_mount_couples_bounce_and_roll() -> None:
    # Both 4e5 N/m at 0.3 m to a side and 0.1 m up, 1e5 N/m across; one of them slanted: 5e4 N/m of cross stiffness.
    # Roll 2·4e5·0.09 + 2·1e5·0.01 - 2·5e4·0.3·0.1 = 72 000 + 2000 - 3000 = 71 000 N·m/rad, coupling -5e4·0.1 = -5000.
    mounts = [Mount(0.3, 4e5, 0.1, 1e5, 5e4), Mount(-0.3, 4e5, 0.1, 1e5)]
    assert roll_stiffness(mounts) == pytest.approx(71000.0)
    # 200 kg and 8 kg·m²: a = 8e5/200 = 4000, b = 71 000/8 = 8875, c² = 25e6/1600 = 15 625;
    # λ = 6437.5 ± √(2437.5² + 15 625) = 6437.5 ± 2440.7030
    modes = bounce_roll_modes(200.0, 8.0, mounts)
    lower, upper = 6437.5 - 2440.7030, 6437.5 + 2440.7030
    assert (modes.lower, modes.upper) == pytest.approx(
        (math.sqrt(lower) / 2 / math.pi, math.sqrt(upper) / 2 / math.pi), rel=1e-6
    )
    # of the first equation: -λ·m·x + k11·x + k12·θ = 0, so θ/x = (λ - a)·m/k12
    assert modes.upper_shape == pytest.approx((upper - 4000.0) * 200.0 / -5000.0, rel=1e-6)
    assert modes.lower_shape == pytest.approx((lower - 4000.0) * 200.0 / -5000.0, rel=1e-4)


def test_shapes_of_modes_that_are_hardly_coupled() -> None:
    # 1 kg on 2 N/m, 1 kg·m² on 1 N·m/rad, coupled by 1e-9 N: λ = 2 and 1 but for 1e-18, and
    # θ/x = k12/((λ - b)·I) = 1e-9/(2 - 1) for the one, (λ - a)·m/k12 = (1 - 2)/1e-9 for the other
    modes = coupled_modes(1.0, 1.0, 2.0, 1e-9, 1.0)
    assert modes.upper_shape == pytest.approx(1e-9, rel=1e-9)
    assert modes.lower_shape == pytest.approx(-1e9, rel=1e-9)
    other = coupled_modes(1.0, 1.0, 1.0, 1e-9, 2.0)
    assert (other.upper_shape, other.lower_shape) == pytest.approx((1e9, -1e-9), rel=1e-9)


@pytest.mark.parametrize("k12", [2.0, 2.1])
def test_springs_that_do_not_hold(k12: float) -> None:
    coupled_modes(1.0, 1.0, 4.0, 1.99, 1.0)  # 4·1 > 1.99²
    with pytest.raises(ImpossibleInput, match="fall over between them"):
        coupled_modes(1.0, 1.0, 4.0, k12, 1.0)


def test_mounts_in_one_line_hold_nothing_against_roll() -> None:
    # all of them in one point: the unit turns about it, and what is left is the last bit of 3e5
    mounts = [Mount(0.1, 3e5, 0.7, 1.3e5), Mount(0.1, 3.3e5, 0.7, 1.17e5)]
    with pytest.raises(ImpossibleInput, match="against roll"):
        free_roll(mounts)
    with pytest.raises(ImpossibleInput, match="against roll"):
        free_roll([Mount(0.0, 3e5, 0.0, 1e5)])
    with pytest.raises(ImpossibleInput, match="sideways"):
        free_roll([Mount(0.3, 3e5), Mount(-0.3, 3e5)])
    # 0.2 m apart each holds 3e5·0.1² of it
    assert free_roll([Mount(0.1, 3e5, 0.7, 1e5), Mount(-0.1, 3e5, 0.7, 1e5)]).stiffness == pytest.approx(6000.0)


# -- a bus ------------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("field", ["priority", "group", "source", "destination"])
def test_the_largest_and_the_smallest_of_each_part(field: str) -> None:
    sound = {"priority": 6, "group": 0xEF00, "source": 1, "destination": 2}
    most = {"priority": 7, "group": 0x3EF00, "source": 255, "destination": 255}[field]
    beyond = {"priority": 8, "group": 0x40000, "source": 256, "destination": 256}[field]
    for value in (most, 0):
        parts = J1939Identifier(**{**sound, field: value})
        assert split_identifier(compose_identifier(parts)) == parts
    for value in (beyond, -1):
        with pytest.raises((ImpossibleInput, OutsideRange)):
            compose_identifier(J1939Identifier(**{**sound, field: value}))


# -- on the road ------------------------------------------------------------------------------------------------------
def test_the_smallest_road_load_can_be_compared_with() -> None:
    # a quarter of a newton: 0.5·1.25·0.004·100 at 10 m/s, on 500·5·0.9/0.5 = 4500 N of force
    gear = Drive(((50.0, 500.0), (200.0, 500.0)), overall_ratio=5.0, efficiency=0.9, rolling_radius=0.5)
    assert power_reserve(gear, Resistance(1000.0, 0.0, 0.004, 1.25), 10.0) == pytest.approx(4500 / 0.25 - 1)
    with pytest.raises(OutsideRange, match="no road load"):
        power_reserve(gear, Resistance(1000.0, 0.0, 0.0, 1.25), 10.0)


def test_the_smallest_force_takes_a_ratio() -> None:
    # on the level, without rolling resistance, half a newton of drag: 0.5·0.5/(100·0.5) = 0.005
    assert ratio_for_grade(0.0, 100.0, 0.5, 0.5, 1000.0, 0.0, drag=0.5) == pytest.approx(0.005)
    for downhill, drag in ((0.0, 0.0), (-0.1, 10.0)):
        with pytest.raises(OutsideRange, match="needs no driving force"):
            ratio_for_grade(downhill, 100.0, 0.5, 0.5, 1000.0, 0.0, drag=drag)


@pytest.mark.parametrize("slope", [math.pi / 2, -math.pi / 2, 1.6, 4.0])
def test_no_slope_is_as_steep_as_a_wall(slope: float) -> None:
    with pytest.raises(ImpossibleInput, match="less steep than a wall"):
        axle_forces_on_slope([PointMass(1000.0, 1.0)], 2.5, slope=slope)


@pytest.mark.parametrize("slope", [1.57, -1.57])
def test_all_but_a_wall(slope: float) -> None:
    # with the mass on the ground it is m·g·cos(slope), 1 m of 2.5 m behind the front axle
    weight = 1000 * 9.80665 * math.cos(1.57)
    forces = axle_forces_on_slope([PointMass(1000.0, 1.0)], 2.5, slope=slope)
    assert forces == pytest.approx((0.6 * weight, 0.4 * weight))


def test_an_engine_on_its_own() -> None:
    assert unit_reaction_torque(300.0) == 300.0
    assert unit_reaction_torque(300.0, 4.0, 1.9) == pytest.approx(300 * 4 * 1.9)


def test_what_lies_ahead_of_the_face_or_in_it_bends_nothing_there() -> None:
    assert bending_moment([(1500.0, 0.4), (900.0, -0.1), (900.0, 0.0)], [(800.0, 0.6), (700.0, -0.2)]) == pytest.approx(
        1500 * 0.4 - 800 * 0.6
    )


# -- a converter ------------------------------------------------------------------------------------------------------
def test_an_engine_that_just_turns_the_converter_at_its_first_speed() -> None:
    # (80/8)² = 100 N·m are taken at 80 rad/s, as much as it gives; (150/8)² = 351.6 of 500 at 150 rad/s; and with 500
    # all the way to 250 rad/s it comes to 8·√500 = 178.885 rad/s
    curve = [(80.0, 100.0), (150.0, 500.0), (250.0, 500.0)]
    assert stall_speed(curve, 8.0) == pytest.approx(8 * math.sqrt(500.0))
    with pytest.raises(OutsideRange, match="below the curve's first speed"):
        stall_speed(curve, 8.0, 0.01)
    # as much as it gives at the last speed, too: it runs on
    with pytest.raises(OutsideRange, match="past the curve's last speed"):
        stall_speed([(80.0, 200.0), (100.0, 156.25)], 8.0)
    assert stall_speed([(80.0, 200.0), (100.0, 156.0)], 8.0) == pytest.approx(99.95, abs=0.1)


# -- pipes and tanks --------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(("reynolds", "roughness"), [(1e8, 0.05), (1e8, 0.0), (1.0, 0.05)])
def test_as_far_as_the_chart_goes(reynolds: float, roughness: float) -> None:
    assert friction_factor(reynolds, roughness) > 0.0


@pytest.mark.parametrize(("reynolds", "roughness"), [(1.001e8, 0.0), (1e5, 0.0501), (1e5, -0.001)])
def test_beyond_the_chart(reynolds: float, roughness: float) -> None:
    with pytest.raises((OutsideRange, ImpossibleInput)):
        friction_factor(reynolds, roughness)


def test_a_full_tank() -> None:
    # 2 m³ and no more, but for a billionth that rounding adds
    tank = BoxTank(2.0, 1.0, 1.0)
    for volume in (2.0, 2.0 * (1 + 0.9e-9)):
        assert surface_height(tank, volume, 0.0, 0.0) == pytest.approx(1.0)
    with pytest.raises(ImpossibleInput, match="do not go into a tank"):
        surface_height(tank, 2.0 * (1 + 1.1e-9), 0.0, 0.0)
