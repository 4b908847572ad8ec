"""The cooling system against textbook radiators, hand arithmetic and its own energy balance."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.engineering import ImpossibleInput, OutsideRange, coolant, cooling_system, heat_exchangers
from swaplint.engineering.heat_exchangers import FlowArrangement

AMBIENTS = st.floats(250.0, 325.0)
HEATS = st.floats(1e3, 100e3)
EFFECTIVENESS = st.floats(0.3, 0.95)
COOLANT_RATES = st.floats(3000.0, 20000.0)
AIR_RATES = st.floats(1000.0, 6000.0)
STACKED = st.floats(0.0, 40e3)

# Cengel, Heat and Mass Transfer, example 11-6: water 0.6 kg/s (cp 4195) 90 -> 65 °C gives 62 925 W to air
# that enters at 20 and leaves at 40 °C; U = 3347 W/(m²·K) on 40·π·0.005·0.65 m².
CENGEL_HEAT = 62925.0
CENGEL_WATER_RATE = 0.6 * 4195.0
CENGEL_AIR_RATE = CENGEL_HEAT / 20.0


CENGEL_UA = 3347.0 * 40 * math.pi * 0.005 * 0.65
CENGEL_EFFECTIVENESS = 25.0 / 70.0


def celsius(value: float) -> float:
    return value + 273.15


def test_top_tank_of_cengel_radiator() -> None:
    top = cooling_system.top_tank_temperature(
        celsius(20), CENGEL_HEAT, CENGEL_EFFECTIVENESS, CENGEL_WATER_RATE, CENGEL_AIR_RATE
    )
    assert top == pytest.approx(celsius(90))


def test_heat_and_required_effectiveness_of_cengel_radiator() -> None:
    rates = (CENGEL_WATER_RATE, CENGEL_AIR_RATE)
    heat = cooling_system.radiator_heat(celsius(90), celsius(20), CENGEL_EFFECTIVENESS, *rates)
    assert heat == pytest.approx(62925.0)
    needed = cooling_system.required_effectiveness(62925.0, celsius(90), celsius(20), *rates)
    assert needed == pytest.approx(0.3571, abs=1e-4)


def test_iterated_point_of_cengel_radiator() -> None:
    # From UA alone, with this project's water properties: the printed temperatures must come out.
    flow = 0.6 / coolant.density(0.0, celsius(77.5))
    point = cooling_system.radiator_point(celsius(20), CENGEL_HEAT, CENGEL_UA, flow, 0.0, CENGEL_AIR_RATE)
    assert point.top_tank == pytest.approx(celsius(90), abs=0.6)
    assert point.bottom_tank == pytest.approx(celsius(65), abs=0.6)
    assert point.air_outlet == pytest.approx(celsius(40))
    assert point.effectiveness == pytest.approx(0.3571, rel=0.01)


def test_air_flow_of_cengel_radiator() -> None:
    mass_flow = cooling_system.air_mass_flow_needed(CENGEL_HEAT, celsius(90), celsius(20), CENGEL_UA, CENGEL_WATER_RATE)
    assert mass_flow * cooling_system.AIR_SPECIFIC_HEAT == pytest.approx(CENGEL_AIR_RATE, rel=0.03)


def test_stack_by_hand_arithmetic() -> None:
    # Air 2.6 kg/s·1006 = 2615.6 W/K; 27 kW in front warm it by 10.32 K; 78 kW at ε = 0.68 need 43.85 K.
    air = heat_exchangers.capacity_rate(2.6, 1006.0)
    top = cooling_system.top_tank_temperature(celsius(43), 78e3, 0.68, 11600.0, air, 27e3)
    assert top - 273.15 == pytest.approx(43.0 + 10.32 + 43.85, abs=0.01)
    limit = cooling_system.ambient_at_limit(celsius(43), top, celsius(105))
    assert limit - 273.15 == pytest.approx(105.0 - 10.32 - 43.85, abs=0.01)


@given(
    ambient=AMBIENTS,
    heat=HEATS,
    eps=EFFECTIVENESS,
    coolant_rate=COOLANT_RATES,
    air_rate=AIR_RATES,
    stacked=STACKED,
)
def test_top_tank_heat_and_effectiveness_are_one_relation(
    ambient: float, heat: float, eps: float, coolant_rate: float, air_rate: float, stacked: float
) -> None:
    top = cooling_system.top_tank_temperature(ambient, heat, eps, coolant_rate, air_rate, stacked)
    assert top >= cooling_system.preheated_air(ambient, stacked, air_rate) >= ambient
    back = cooling_system.radiator_heat(top, ambient, eps, coolant_rate, air_rate, stacked)
    assert back == pytest.approx(heat, rel=1e-6)
    needed = cooling_system.required_effectiveness(heat, top, ambient, coolant_rate, air_rate, stacked)
    assert needed == pytest.approx(eps, rel=1e-6)
    # At the limiting ambient the top tank stands at the limit, whatever the limit.
    limiting = cooling_system.ambient_at_limit(ambient, top, 390.0)
    if limiting > 0.0:
        again = cooling_system.top_tank_temperature(limiting, heat, eps, coolant_rate, air_rate, stacked)
        assert again == pytest.approx(390.0)


@given(ambient=st.floats(260.0, 320.0), heat=st.floats(5e3, 60e3), stacked=st.floats(0.0, 20e3), more=HEATS)
def test_hotter_air_and_more_heat_raise_the_top_tank(ambient: float, heat: float, stacked: float, more: float) -> None:
    def top(ambient: float, heat: float, stacked: float) -> float:
        return cooling_system.top_tank_temperature(ambient, heat, 0.7, 11000.0, 2500.0, stacked)

    base = top(ambient, heat, stacked)
    assert top(ambient + 1.0, heat, stacked) == pytest.approx(base + 1.0)
    assert top(ambient, heat + more, stacked) > base
    assert top(ambient, heat, stacked + more) > base


POINTS = {
    "ambient": st.floats(280.0, 320.0),
    "heat": st.floats(5e3, 60e3),
    "ua": st.floats(1500.0, 6000.0),
    "flow": st.floats(0.0015, 0.004),
    "glycol": st.floats(0.0, 0.6),
    "air": st.floats(2000.0, 5000.0),
    "stacked": st.floats(0.0, 10e3),
}


@given(**POINTS)
def test_iterated_point_keeps_the_energy_balance(
    ambient: float, heat: float, ua: float, flow: float, glycol: float, air: float, stacked: float
) -> None:
    point = cooling_system.radiator_point(ambient, heat, ua, flow, glycol, air, stacked)
    rate = coolant.capacity_rate(flow, glycol, 0.5 * (point.top_tank + point.bottom_tank))
    assert rate * (point.top_tank - point.bottom_tank) == pytest.approx(heat, rel=1e-5)
    assert air * (point.air_outlet - point.air_inlet) == pytest.approx(heat, rel=1e-6)
    assert air * (point.air_outlet - ambient) == pytest.approx(heat + stacked, rel=1e-6)
    moved = heat_exchangers.heat_flow(point.effectiveness, rate, air, point.top_tank, point.air_inlet)
    assert moved == pytest.approx(heat, rel=1e-5)
    assert point.bottom_tank > point.air_inlet


@given(**POINTS)
def test_limiting_ambient_is_the_inverse_of_the_point(
    ambient: float, heat: float, ua: float, flow: float, glycol: float, air: float, stacked: float
) -> None:
    top = cooling_system.radiator_point(ambient, heat, ua, flow, glycol, air, stacked).top_tank
    back = cooling_system.limiting_ambient(top, heat, ua, flow, glycol, air, stacked)
    assert back == pytest.approx(ambient, abs=1e-8)


@given(heat=st.floats(5e3, 60e3), ua=st.floats(2500.0, 6000.0), stacked=st.floats(0.0, 20e3))
def test_air_flow_needed_holds_the_limit(heat: float, ua: float, stacked: float) -> None:
    mass_flow = cooling_system.air_mass_flow_needed(heat, 378.15, 318.15, ua, 11000.0, stacked)
    rate = mass_flow * cooling_system.AIR_SPECIFIC_HEAT
    counted = min(ua, heat_exchangers.NTU_LIMIT * min(rate, 11000.0))
    eps = heat_exchangers.effectiveness_from_ua(counted, 11000.0, rate, FlowArrangement.CROSSFLOW_UNMIXED)
    top = cooling_system.top_tank_temperature(318.15, heat, eps, 11000.0, rate, stacked)
    assert top == pytest.approx(378.15, abs=1e-4)


def test_more_air_is_no_cure_for_a_small_radiator() -> None:
    # UA·ΔT = 500·60 W bounds the heat however much air blows.
    with pytest.raises(OutsideRange, match="no air flow"):
        cooling_system.air_mass_flow_needed(31e3, 378.15, 318.15, 500.0, 11000.0)


def test_air_a_little_colder_than_the_limit_and_air_as_warm() -> None:
    # coolant without end, 1 kg/s of air, as many transfer units as 2 kW/K make of it, half a kelvin between
    moved = (1.0 - math.exp(-2000.0 / 1006.0)) * 1006.0 * 0.5
    found = cooling_system.air_mass_flow_needed(moved, 360.5, 360.0, 2000.0, 1e12)
    assert found == pytest.approx(1.0, rel=1e-6)
    for ambient in (360.5, 361.0):
        with pytest.raises(OutsideRange, match="not colder than the top-tank limit"):
            cooling_system.air_mass_flow_needed(moved, 360.5, ambient, 2000.0, 1e12)


def test_a_hundred_kilograms_of_air_a_second_and_no_more() -> None:
    # the same, 100 kg/s and 60 K; a quarter of a watt to either side
    moved = (1.0 - math.exp(-1e5 / 100600.0)) * 100600.0 * 60.0
    found = cooling_system.air_mass_flow_needed(moved - 0.25, 360.0, 300.0, 1e5, 1e14)
    assert found == pytest.approx(100.0, rel=1e-6)
    with pytest.raises(OutsideRange, match="100 kg/s"):
        cooling_system.air_mass_flow_needed(moved + 0.25, 360.0, 300.0, 1e5, 1e14)


def test_the_least_of_heat_takes_air_too() -> None:
    # a radiator so large that the air leaves as hot as the coolant comes: Q/(c·ΔT)
    found = cooling_system.air_mass_flow_needed(0.1, 360.0, 300.0, 1e5, 1e14)
    assert found == pytest.approx(0.1 / (1006.0 * 60.0), rel=1e-6)


def test_nothing_stands_before_the_radiator_unless_it_is_said() -> None:
    radiator = (60e3, 3000.0, 3e-3, 0.5, 2600.0)
    assert cooling_system.limiting_ambient(370.0, *radiator) == cooling_system.limiting_ambient(370.0, *radiator, 0.0)
    assert cooling_system.radiator_point(300.0, *radiator) == cooling_system.radiator_point(300.0, *radiator, 0.0)
    one, other = (cooling_system.air_mass_flow_needed(6e4, 370.0, 300.0, 3e3, 1e4, *no) for no in ((), (0.0,)))
    assert one == other


def test_air_at_absolute_zero_is_the_end() -> None:
    # what stands before the radiator warms 2048 W/K of air by all that is left, and by half a kelvin more or less
    radiator = (370.0, 10e3, 3000.0, 3e-3, 0.5, 2048.0)
    left = cooling_system.limiting_ambient(*radiator)
    assert cooling_system.limiting_ambient(*radiator, (left - 0.5) * 2048.0) == pytest.approx(0.5)
    for more in (0.0, 0.5):
        with pytest.raises(OutsideRange, match="cold enough"):
            cooling_system.limiting_ambient(*radiator, (left + more) * 2048.0)


@pytest.mark.parametrize("limit", [273.1, 393.2])
def test_a_limit_beyond_what_is_known_of_coolant(limit: float) -> None:
    with pytest.raises(OutsideRange, match="table"):
        cooling_system.limiting_ambient(limit, 10e3, 3000.0, 3e-3, 0.0, 2600.0)


def test_a_fan_that_does_nothing() -> None:
    for heat_fan_on in (5e3, 4e3):
        with pytest.raises(ImpossibleInput, match="must raise the heat"):
            cooling_system.fan_on_share(4e3, 5e3, heat_fan_on)


def test_fan_runs_as_long_as_the_heat_asks() -> None:
    assert cooling_system.fan_on_share(4e3, 5e3, 30e3) == 0.0
    assert cooling_system.fan_on_share(30e3, 5e3, 30e3) == 1.0
    assert cooling_system.fan_on_share(36e3, 5e3, 30e3) > 1.0


@given(off=st.floats(0.0, 20e3), gain=st.floats(1e3, 50e3), part=st.floats(0.0, 1.0))
def test_mean_of_fan_states_is_the_heat(off: float, gain: float, part: float) -> None:
    heat = part * (off + gain) + (1 - part) * off
    assert cooling_system.fan_on_share(heat, off, off + gain) == pytest.approx(part, abs=1e-9)


@given(ambient=AMBIENTS, rise=st.floats(10.0, 200.0), eps=st.floats(0.0, 1.0))
def test_charge_air_cooler_and_its_inverse(ambient: float, rise: float, eps: float) -> None:
    outlet = cooling_system.charge_air_outlet(ambient + rise, ambient, eps)
    assert ambient - 1e-9 <= outlet <= ambient + rise
    if eps <= 0.999:
        back = cooling_system.charge_air_effectiveness(ambient + rise, ambient, outlet)
        assert back == pytest.approx(eps, abs=1e-9)


def test_charge_air_outlet_agrees_with_the_exchanger_relations() -> None:
    # Charge air 0.19 kg/s and cooling air 2.6 kg/s: the charge has the smaller capacity rate.
    charge, air = 0.19 * 1010.0, 2.6 * 1006.0
    eps = heat_exchangers.effectiveness_from_ua(600.0, charge, air, FlowArrangement.CROSSFLOW_UNMIXED)
    heat = heat_exchangers.heat_flow(eps, charge, air, celsius(165), celsius(25))
    expected = celsius(165) - heat / charge
    assert cooling_system.charge_air_outlet(celsius(165), celsius(25), eps) == pytest.approx(expected)


def test_expansion_volume_by_published_densities() -> None:
    # ASHRAE density table, 50 vol %: 67.08 lb/ft³ at 20 °C and 63.40 at 110 °C, so 31 L grow by 1.80 L; a
    # reserve of a tenth is 3.1 L.
    volume = cooling_system.expansion_volume(0.031, 0.5, celsius(20), celsius(110), 0.10)
    assert volume * 1000 == pytest.approx(31 * (67.08 / 63.40 - 1) + 3.1, abs=0.02)


@given(volume=st.floats(0.005, 0.1), glycol=st.floats(0.2, 0.6), reserve=st.floats(0.0, 0.5))
def test_expansion_volume_grows_with_system_and_heat(volume: float, glycol: float, reserve: float) -> None:
    warm = cooling_system.expansion_volume(volume, glycol, 293.15, 353.15, reserve)
    hot = cooling_system.expansion_volume(volume, glycol, 293.15, 383.15, reserve)
    assert reserve * volume < warm < hot
    double = cooling_system.expansion_volume(2 * volume, glycol, 293.15, 383.15, reserve)
    assert double == pytest.approx(2 * hot)


def test_energy_balance_of_an_engine() -> None:
    # Heywood, Internal Combustion Engine Fundamentals, energy balance of a diesel at full power: brake 34-38 %,
    # coolant 16-35 %, exhaust 22-35 %, miscellaneous 2-6 % (from memory); middle values leave the rest open.
    rest = cooling_system.unaccounted_heat(100.0, 36.0, 30.0, 0.0, 30.0)
    assert rest == pytest.approx(4.0)
    assert cooling_system.unaccounted_heat(100.0, 60.0, 30.0, 5.0, 30.0) < 0.0


def test_where_air_and_limits_are_as_warm_as_each_other() -> None:
    # 20 kW on 2 kW/K warm 300 K to 310 K
    assert cooling_system.required_effectiveness(10e3, 311.0, 300.0, 11000.0, 2000.0, 20e3) == pytest.approx(5.0)
    with pytest.raises(OutsideRange, match="not below the limit"):
        cooling_system.required_effectiveness(10e3, 310.0, 300.0, 11000.0, 2000.0, 20e3)
    # the coolant may be the smaller stream: 10 kW on 1 kW/K and 50 K are 0.2
    assert cooling_system.required_effectiveness(10e3, 350.0, 300.0, 1000.0, 2000.0) == pytest.approx(0.2)
    assert cooling_system.ambient_at_limit(300.0, 300.0, 378.0) == 378.0
    assert cooling_system.charge_air_outlet(300.0, 300.0, 0.7) == 300.0
    assert cooling_system.charge_air_effectiveness(440.0, 300.0, 450.0) == 0.0  # nothing to cool
    with pytest.raises(ImpossibleInput, match="must be hotter than the cooling air"):
        cooling_system.charge_air_effectiveness(300.0, 300.0, 290.0)
    with pytest.raises(ImpossibleInput, match="must be hotter than the cold one"):
        cooling_system.expansion_volume(0.03, 0.5, 293.15, 293.15)


def test_nothing_in_front_of_the_radiator_where_nothing_is_said() -> None:
    # 10 W on 1 W/K of either stream: 10 K at full effectiveness, and 20 K of stack more
    assert cooling_system.top_tank_temperature(300.0, 10.0, 1.0, 1.0, 1.0) == 310.0
    assert cooling_system.top_tank_temperature(300.0, 10.0, 1.0, 1.0, 1.0, 20.0) == 330.0
    assert cooling_system.radiator_heat(310.0, 300.0, 1.0, 1.0, 1.0) == 10.0
    assert cooling_system.radiator_heat(330.0, 300.0, 1.0, 1.0, 1.0, 20.0) == 10.0
    assert cooling_system.required_effectiveness(10.0, 310.0, 300.0, 1.0, 1.0) == 1.0
    assert cooling_system.required_effectiveness(10.0, 330.0, 300.0, 1.0, 1.0, 20.0) == 1.0


def test_expansion_without_reserve() -> None:
    # ASHRAE density table, 50 vol %: 67.08 lb/ft³ at 20 °C and 63.40 at 110 °C
    volume = cooling_system.expansion_volume(0.031, 0.5, celsius(20), celsius(110))
    assert volume * 1000 == pytest.approx(31 * (67.08 / 63.40 - 1), abs=0.02)


def test_unusable_input_is_refused() -> None:
    with pytest.raises(OutsideRange, match="not below the limit"):
        cooling_system.required_effectiveness(10e3, 310.0, 300.0, 11000.0, 1000.0, 20e3)
    with pytest.raises(ImpossibleInput):
        cooling_system.preheated_air(300.0, 1000.0, 0.0)
    with pytest.raises(ImpossibleInput):
        cooling_system.top_tank_temperature(300.0, 10e3, 0.0, 11000.0, 2500.0)
    with pytest.raises(ImpossibleInput):
        cooling_system.radiator_heat(300.0, 310.0, 0.7, 11000.0, 2500.0)
    with pytest.raises(ImpossibleInput):
        cooling_system.ambient_at_limit(320.0, 310.0, 378.0)
    with pytest.raises(ImpossibleInput):
        cooling_system.charge_air_outlet(300.0, 310.0, 0.7)
    with pytest.raises(OutsideRange):
        cooling_system.charge_air_effectiveness(440.0, 300.0, 300.0)
    with pytest.raises(ImpossibleInput):
        cooling_system.expansion_volume(0.03, 0.5, 383.0, 293.0)


def test_air_beyond_a_hundred_kilograms_a_second_is_not_looked_for() -> None:
    """However large the radiator, Q = m·c·ΔT: with 1006 J/(kg K) and 40 K, 95 kg/s are found and 105 are not."""
    limit, ambient = celsius(85.0), celsius(45.0)
    found = cooling_system.air_mass_flow_needed(95.0 * 1006.0 * 40.0, limit, ambient, 1e9, 1e12)
    assert found == pytest.approx(95.0, rel=1e-6)
    with pytest.raises(OutsideRange, match="100 kg/s"):
        cooling_system.air_mass_flow_needed(105.0 * 1006.0 * 40.0, limit, ambient, 1e9, 1e12)
