"""Brakes against published stopping distances, longhand force chains and a numerical root finder."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq  # type: ignore[import-untyped]

from swaplint.engineering import ImpossibleInput, OutsideRange, brakes
from swaplint.engineering.brakes import WheelBrake

MPH = 0.44704

wheel_brakes = st.lists(
    st.builds(
        WheelBrake,
        st.floats(2e-4, 4e-3),
        st.floats(0.5, 4.0),
        st.floats(0.08, 0.2),
        st.integers(1, 4),
        st.sampled_from([0.0, 2e5, 5e5, 7e5]),
    ),
    min_size=1,
    max_size=3,
)


@pytest.mark.parametrize(
    ("mph", "thinking", "braking"),
    [(20, 6, 6), (30, 9, 14), (40, 12, 24), (50, 15, 38), (60, 18, 55), (70, 21, 75)],
)
def test_highway_code_stopping_distances(mph: float, thinking: float, braking: float) -> None:
    # UK Highway Code, table of typical stopping distances, m (from memory). One reaction time and one
    # deceleration, taken from its 60 mph row, must give all other rows to the metre.
    reaction = 18.0 / (60.0 * MPH)
    rate = (60.0 * MPH) ** 2 / (2.0 * 55.0)
    speed = mph * MPH
    assert brakes.stopping_distance(speed, rate) == pytest.approx(braking, abs=0.51)
    assert brakes.stopping_distance(speed, rate, reaction) == pytest.approx(thinking + braking, abs=0.51)


def test_pedal_lever() -> None:
    # Published trade article (brakeandfrontend.com, "Brake Math"): 70 lbf through a ratio of 6.2 is 434 lbf.
    assert brakes.pedal_push(70.0, 6.2, efficiency=1.0) == pytest.approx(434.0)


def test_whole_chain_longhand() -> None:
    # Longhand: 500 N · 4.0 · 0.8 = 1600 N; ÷ (π/4·0.0254² = 5.0671e-4 m²) = 3.1576 MPa; front 2 discs of 60
    # mm, μ 0.38, 0.12 m: 2·3.1576e6·2.8274e-3·0.96·0.76·0.12/0.32 = 4885 N; rear 2 drums of 22 mm, factor
    # 2.5, 0.13 m: 2·3.1576e6·3.8013e-4·0.96·2.5·0.13/0.32 = 2341 N.
    front = WheelBrake(brakes.piston_area(0.060), brakes.disc_brake_factor(0.38), 0.12)
    rear = WheelBrake(brakes.piston_area(0.022), 2.5, 0.13)
    pressure = brakes.line_pressure(brakes.pedal_push(500.0, 4.0), 0.0254)
    assert pressure == pytest.approx(3.1576e6, rel=1e-4)
    assert brakes.brake_force(pressure, [front], 0.32) == pytest.approx(4885.0, rel=1e-3)
    force = brakes.brake_force(pressure, [front, rear], 0.32)
    assert force == pytest.approx(7226.0, rel=1e-3)
    assert brakes.deceleration(force, 2000.0) == pytest.approx(3.613, rel=1e-3)
    assert brakes.pedal_force_without_assist(force, [front, rear], 0.32, 0.0254, 4.0) == pytest.approx(500.0)


@given(wheel_brakes, st.floats(100.0, 40e3))
def test_pressure_against_a_root_finder(brake_set: list[WheelBrake], force: float) -> None:
    expected = brentq(lambda p: brakes.brake_force(p, brake_set, 0.33) - force, 0.0, 1e10, xtol=1e-6)
    assert brakes.pressure_for_brake_force(force, brake_set, 0.33) == pytest.approx(expected, rel=1e-6)


@given(wheel_brakes, st.floats(0.0, 15e6), st.floats(1e3, 1e6))
def test_more_pressure_never_brakes_less(brake_set: list[WheelBrake], pressure: float, more: float) -> None:
    less = brakes.brake_force(pressure, brake_set, 0.33)
    assert brakes.brake_force(pressure + more, brake_set, 0.33) >= less


def test_nothing_below_the_push_out_pressure() -> None:
    drum = WheelBrake(4e-4, 2.5, 0.13, push_out_pressure=4e5)
    assert brakes.brake_force(4e5, [drum], 0.33) == 0.0
    assert brakes.pressure_for_brake_force(1.0, [drum], 0.33) > 4e5
    assert brakes.pressure_for_brake_force(0.0, [drum], 0.33) == 0.0


@given(st.floats(10.0, 3000.0), st.floats(1.0, 6.0), st.floats(0.0, 5000.0))
def test_booster_runs_out(push: float, gain: float, assist: float) -> None:
    out = brakes.boosted_push(push, gain, assist)
    assert push <= out <= push + assist + 1e-9
    assert out == pytest.approx(min(gain * push, push + assist))
    # A failed booster leaves the leg alone.
    assert brakes.boosted_push(push, gain, 0.0) == push


def test_vacuum_booster_longhand() -> None:
    # 9 in diaphragm: π/4·0.2286² = 0.041043 m²; at 67 kPa depression and full efficiency 2750 N.
    assert brakes.vacuum_booster_force(67e3, math.pi / 4 * 0.2286**2, 1.0) == pytest.approx(2749.9, rel=1e-4)


@given(st.floats(100.0, 3000.0), st.floats(1e6, 1e7))
def test_largest_master_bore_is_the_inverse(push: float, pressure: float) -> None:
    assert brakes.line_pressure(push, brakes.largest_master_bore(push, pressure)) == pytest.approx(pressure)


@given(st.floats(500.0, 20000.0), st.floats(1.0, 50.0), st.floats(1.0, 12.0))
def test_energy_is_force_times_distance(mass: float, speed: float, rate: float) -> None:
    assert brakes.stop_energy(mass, speed) == pytest.approx(mass * rate * brakes.stopping_distance(speed, rate))


@given(st.floats(500.0, 20000.0), st.floats(10.0, 50.0), st.floats(0.0, 1.0))
def test_energy_in_two_steps(mass: float, speed: float, share: float) -> None:
    middle = share * speed
    steps = brakes.stop_energy(mass, speed, middle) + brakes.stop_energy(mass, middle)
    assert steps == pytest.approx(brakes.stop_energy(mass, speed))


@given(st.floats(0.5, 2.0), st.floats(1000.0, 8000.0), st.floats(1000.0, 8000.0), st.floats(10.0, 40.0))
def test_speed_for_energy_ratio_is_the_inverse(ratio: float, mass: float, old_mass: float, old: float) -> None:
    speed = brakes.speed_for_energy_ratio(ratio, mass, old_mass, old)
    assert brakes.energy_ratio(mass, speed, old_mass, old) == pytest.approx(ratio)


@given(st.floats(1000.0, 10000.0), st.floats(1.0, 20.0), st.floats(0.0, 0.3))
def test_descent_power_is_lost_height(mass: float, speed: float, slope: float) -> None:
    # In one second the vehicle loses v·sin slope of height.
    assert brakes.descent_brake_power(mass, speed, slope) == pytest.approx(mass * 9.80665 * speed * math.sin(slope))
    assert brakes.descent_brake_power(mass, speed, slope, engine_braking=1e9) == 0.0


def test_heat_into_discs() -> None:
    # 2000 kg from 25 m/s into 50 kg of iron at 500 J/(kg·K): 625 kJ, 25 K, by hand.
    assert brakes.mean_temperature_rise(brakes.stop_energy(2000.0, 25.0), 50.0) == pytest.approx(25.0)


def test_the_usual_efficiencies_where_none_is_said() -> None:
    # 0.95 of a booster, 0.8 behind the pedal, 0.96 of wheel cylinders, two brakes on an axle (Limpert, from memory)
    assert brakes.vacuum_booster_force(70e3, 0.04) == pytest.approx(70e3 * 0.04 * 0.95)
    assert brakes.pedal_push(400.0, 5.0) == pytest.approx(1600.0)
    # two brakes of 10 cm², factor 0.8, 0.1 m in a tyre of 0.3 m at 3 MPa: 2·3000·0.96·0.8/3 = 1536 N
    pair = WheelBrake(1e-3, 0.8, 0.1)
    assert brakes.brake_force(3e6, [pair], 0.3) == pytest.approx(1536.0)
    assert brakes.pressure_for_brake_force(1536.0, [pair], 0.3) == pytest.approx(3e6)
    assert brakes.piston_area(0.02) == pytest.approx(math.pi * 1e-4)
    assert brakes.piston_area(0.02, 3) == pytest.approx(3 * math.pi * 1e-4)
    # 3 MPa on a bore of 20 mm take 942.5 N, through 5 times 0.8 at the pedal 235.6 N; through 5 times 0.6 a third more
    needed = brakes.pedal_force_without_assist(1536.0, [pair], 0.3, 0.02, 5.0)
    assert needed == pytest.approx(3e6 * math.pi * 1e-4 / 4.0)
    worn = brakes.pedal_force_without_assist(
        1536.0, [pair], 0.3, 0.02, 5.0, pedal_efficiency=0.6, wheel_efficiency=0.48
    )
    assert worn == pytest.approx(6e6 * math.pi * 1e-4 / 3.0)


def test_two_push_out_pressures_by_hand() -> None:
    # discs press at once, drums from 0.5 MPa: 2·10 cm²·0.3/3 = 2e-4 N/Pa and 2·10 cm²·0.6/3 = 4e-4 N/Pa. Up to 100 N
    # the discs do it alone, then both: 700 N are 0.5 MPa + 600/6e-4 = 1.5 MPa
    both = [WheelBrake(1e-3, 0.3, 0.1), WheelBrake(1e-3, 0.6, 0.1, push_out_pressure=5e5)]
    for force, pressure in ((60.0, 0.3e6), (100.0, 0.5e6), (700.0, 1.5e6)):
        assert brakes.pressure_for_brake_force(force, both, 0.3, efficiency=1.0) == pytest.approx(pressure)
        assert brakes.pressure_for_brake_force(force, both[::-1], 0.3, efficiency=1.0) == pytest.approx(pressure)


def test_wheels_and_shafts_stop_with_the_vehicle() -> None:
    # ½·1.1·2000 kg·(30² - 10²) m²/s² = 880 kJ; from 30 to 30 m/s nothing
    assert brakes.stop_energy(2000.0, 30.0, 10.0, 1.1) == pytest.approx(880e3)
    assert brakes.stop_energy(2000.0, 30.0, 30.0) == 0.0
    with pytest.raises(ImpossibleInput, match=r"from 36 km/h to 39\.6 km/h would add energy"):
        brakes.stop_energy(2000.0, 10.0, 11.0)
    with pytest.raises(ImpossibleInput, match=r"at least 1, not 0\.99"):
        brakes.stop_energy(2000.0, 10.0, rotating_factor=0.99)


def test_the_least_that_brakes_can_be() -> None:
    assert brakes.boosted_push(100.0, 1.0, 500.0) == 100.0  # a booster that adds nothing
    assert brakes.boosted_push(100.0, 3.0, 500.0) == 300.0
    assert brakes.boosted_push(400.0, 3.0, 500.0) == 900.0  # run out
    with pytest.raises(ImpossibleInput, match=r"at least 1, not 0\.99"):
        brakes.boosted_push(100.0, 0.99, 500.0)
    assert WheelBrake(1e-3, 0.7, 0.1, count=1).count == 1
    with pytest.raises(ImpossibleInput, match="at least one brake, not 0"):
        WheelBrake(1e-3, 0.7, 0.1, count=0)
    with pytest.raises(ImpossibleInput, match="at least one piston, not 0"):
        brakes.piston_area(0.02, 0)


def test_a_descent_by_hand() -> None:
    # 1000 kg·9.80665·sin 0.1 = 979.03 N; less 79.03 N of resistance 900 N at 10 m/s, 9 kW, of which the engine holds 4
    slope = 0.1
    resistance = 1000 * 9.80665 * math.sin(slope) - 900.0
    assert brakes.descent_brake_power(1000.0, 10.0, slope, resistance, 4e3) == pytest.approx(5e3)
    assert brakes.descent_brake_power(1000.0, 10.0, slope, resistance) == pytest.approx(9e3)
    assert brakes.descent_brake_power(1000.0, 10.0, 0.0) == 0.0
    assert brakes.descent_brake_power(1000.0, 10.0, 1.57) == pytest.approx(98066.5, rel=1e-5)
    for steep in (math.pi / 2, 1.6, -0.001):
        with pytest.raises(OutsideRange, match="from 0 to below a right angle"):
            brakes.descent_brake_power(1000.0, 10.0, steep)


def test_grip() -> None:
    assert brakes.grip_deceleration(1.0) == 9.80665


def test_refusals() -> None:
    brake = WheelBrake(1e-3, 0.7, 0.1)
    with pytest.raises(ImpossibleInput):
        brakes.pressure_for_brake_force(100.0, [], 0.3)
    with pytest.raises(ImpossibleInput):
        brakes.pressure_for_brake_force(100.0, [brake], 0.3, efficiency=0.0)
    with pytest.raises(ImpossibleInput):
        brakes.boosted_push(100.0, 0.5, 100.0)
    with pytest.raises(ImpossibleInput):
        brakes.stop_energy(1000.0, 10.0, 20.0)
    with pytest.raises(OutsideRange):
        brakes.descent_brake_power(1000.0, 10.0, -0.1)
    with pytest.raises(ImpossibleInput):
        WheelBrake(1e-3, 0.7, 0.1, count=0)
