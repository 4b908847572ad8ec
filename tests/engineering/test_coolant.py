"""Coolant properties against steam tables, CoolProp and published antifreeze values."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.engineering import ImpossibleInput, OutsideRange, coolant
from swaplint.engineering.atmosphere import geopotential_altitude, standard_pressure

SHARES = st.floats(0.0, 0.6)
PSI = 6894.757


def celsius(value: float) -> float:
    return value + 273.15


@pytest.mark.parametrize(
    ("temperature", "pressure"),
    # IAPWS R7-97 (IF97), table 35: check values of the saturation-pressure equation
    [(300.0, 0.353658941e4), (500.0, 0.263889776e7), (600.0, 0.123443146e8)],
)
def test_saturation_pressure_against_iapws_check_values(temperature: float, pressure: float) -> None:
    assert coolant.water_saturation_pressure(temperature) == pytest.approx(pressure, rel=2e-9)


@pytest.mark.parametrize(
    ("pressure", "temperature"),
    # IAPWS R7-97 (IF97), table 36: check values of the saturation-temperature equation
    [(1e5, 372.755919), (1e6, 453.035632), (1e7, 584.149488)],
)
def test_saturation_temperature_against_iapws_check_values(pressure: float, temperature: float) -> None:
    assert coolant.water_saturation_temperature(pressure) == pytest.approx(temperature, abs=1e-6)


@given(pressure=st.floats(20e3, 400e3))
def test_both_saturation_equations_agree(pressure: float) -> None:
    temperature = coolant.water_saturation_temperature(pressure)
    assert coolant.water_saturation_pressure(temperature) == pytest.approx(pressure, rel=2e-6)


@pytest.mark.parametrize(
    ("gauge_kpa", "altitude", "expected"),
    [
        # CoolProp 8.0.0 (IAPWS-95) at the pressure of fluids 1.3.1 ATMOSPHERE_1976, altitude geometric
        (0.0, 0.0, 99.9743),
        (50.0, 0.0, 111.614),
        (100.0, 0.0, 120.419),
        (103.421359, 0.0, 120.953),
        (0.0, 1500.0, 94.9843),
        (0.0, 3000.0, 89.9773),
        (100.0, 1500.0, 117.689),
        (100.0, 3000.0, 115.17),
    ],
)
def test_boiling_water_under_cap_and_altitude(gauge_kpa: float, altitude: float, expected: float) -> None:
    ambient = standard_pressure(geopotential_altitude(altitude))
    margin = coolant.boil_margin(celsius(90.0), gauge_kpa * 1e3, ambient, 0.0)
    assert margin + 90.0 == pytest.approx(expected, abs=0.01)


@pytest.mark.parametrize(
    ("pressure", "glycol", "expected", "tolerance"),
    [
        # Raoult with IAPWS-95 from CoolProp 8.0.0
        pytest.param(201325.0, 0.5, 129.531, 0.05, id="Raoult 1 bar gauge"),
        pytest.param(204746.359, 0.5, 130.094, 0.05, id="Raoult 15 psi gauge"),
        # Workshop rule for 50/50 at 15 psi: 265 to 268 °F
        pytest.param(101325.0 + 15 * PSI, 0.5, 130.25, 0.9, id="workshop rule 15 psi"),
        # ASTM D3306, boiling point of the 50 vol % dilution at least 107.8 °C (from memory)
        pytest.param(101325.0, 0.5, 107.8, 0.5, id="ASTM D3306"),
        # ASHRAE Handbook, 50 % by mass (47.3 vol %) boils at 107.2 °C at 100.7 kPa (from memory)
        pytest.param(100700.0, 0.4727, 107.2, 0.5, id="ASHRAE 50 mass %"),
        # ASHRAE Handbook, 60 % by mass (57.3 vol %) boils at 110.0 °C at 100.7 kPa (from memory)
        pytest.param(100700.0, 0.5735, 110.0, 0.8, id="ASHRAE 60 mass %"),
    ],
)
def test_boiling_point_of_mixtures(pressure: float, glycol: float, expected: float, tolerance: float) -> None:
    assert coolant.boiling_point(pressure, glycol) - 273.15 == pytest.approx(expected, abs=tolerance)


def test_mass_share_of_equal_volumes() -> None:
    # 1113.5/(1113.5 + 998.2), densities of the CRC Handbook
    assert coolant.mass_share(0.5) == pytest.approx(0.5273, abs=5e-5)
    assert coolant.water_mole_fraction(0.5) == pytest.approx(0.75542, abs=5e-5)
    assert coolant.mass_share(0.4727) == pytest.approx(0.5, abs=1e-4)


@pytest.mark.parametrize(
    ("glycol", "expected", "tolerance"),
    [
        # Public freeze-point table for ethylene glycol (equipment makers' coolant tables)
        pytest.param(0.40, -24.0, 1.0, id="public table 40 %"),
        pytest.param(0.50, -37.0, 0.5, id="public table 50 %"),
        pytest.param(0.60, -52.0, 0.5, id="public table 60 %"),
        pytest.param(0.50, -36.8, 0.5, id="ASHRAE 50 %"),
        # ASTM D3306: the 50 vol % dilution freezes at -36.4 °C or colder (from memory)
        pytest.param(0.50, -36.4, 1.0, id="ASTM D3306"),
    ],
)
def test_freezing_onset_against_published_tables(glycol: float, expected: float, tolerance: float) -> None:
    assert coolant.freezing_onset(glycol) - 273.15 == pytest.approx(expected, abs=tolerance)


@pytest.mark.parametrize("glycol", [0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.55, 0.6])
def test_freezing_onset_is_read_right(glycol: float) -> None:
    # CoolProp 8.0.0 AEG, by volume: the table is its own, so this is the reading, to the second decimal place
    coolprop = pytest.importorskip("CoolProp.CoolProp")
    expected = coolprop.PropsSI("T_FREEZE", "T", 300, "P", 1e5, f"INCOMP::AEG[{glycol}]")
    assert coolant.freezing_onset(glycol) == pytest.approx(expected, abs=0.006)


@pytest.mark.parametrize("glycol", [0.12, 0.175, 0.33, 0.42, 0.475, 0.525, 0.575])
def test_straight_lines_between_the_freezing_points(glycol: float) -> None:
    # the curve bends downwards: a straight line lies below it, by a tenth of a kelvin at most
    coolprop = pytest.importorskip("CoolProp.CoolProp")
    expected = coolprop.PropsSI("T_FREEZE", "T", 300, "P", 1e5, f"INCOMP::AEG[{glycol}]")
    assert expected - 0.11 <= coolant.freezing_onset(glycol) <= expected


@pytest.mark.parametrize(("mass", "above"), [(0.2, 0.0), (0.3, 0.5), (0.4, 1.6), (0.5, 2.5), (0.6, 3.2)])
def test_freezing_onset_is_the_cautious_one_of_two_data_sets(mass: float, above: float) -> None:
    # CoolProp MEG (Melinder), glycol without inhibitors, by mass: the two sets part by so much, the more the richer
    # the mixture, and the higher freezing point is the safe one
    coolprop = pytest.importorskip("CoolProp.CoolProp")
    expected = coolprop.PropsSI("T_FREEZE", "T", 300, "P", 1e5, f"INCOMP::MEG[{mass}]")
    volume = (mass / 1113.5) / (mass / 1113.5 + (1 - mass) / 998.2)
    assert coolant.freezing_onset(volume) - expected == pytest.approx(above, abs=0.1)


@pytest.mark.parametrize(
    ("glycol", "temperature"),
    [
        (0.3, -10.0),
        (0.3, 0.0),
        (0.4, -20.0),
        (0.4, -5.0),
        (0.5, -30.0),
        (0.5, -15.0),
        (0.5, 0.0),
        (0.6, -30.0),
        (0.6, -5.0),
    ],
)
def test_density_in_the_cold(glycol: float, temperature: float) -> None:
    # CoolProp 8.0.0 AEG
    coolprop = pytest.importorskip("CoolProp.CoolProp")
    expected = coolprop.PropsSI("D", "T", celsius(temperature), "P", 2e5, f"INCOMP::AEG[{glycol}]")
    assert coolant.density(glycol, celsius(temperature)) == pytest.approx(expected, rel=0.0015)


@pytest.mark.parametrize("glycol", [0.2, 0.33, 0.4, 0.5, 0.6])
@pytest.mark.parametrize("temperature", [5.0, 20.0, 50.0, 80.0, 100.0])
def test_properties_against_coolprop(glycol: float, temperature: float) -> None:
    coolprop = pytest.importorskip("CoolProp.CoolProp")
    state = ("T", celsius(temperature), "P", 2e5, f"INCOMP::AEG[{glycol}]")
    # The density table is ASHRAE's own, so this compares two sources; specific heat checks the reading only.
    assert coolant.density(glycol, celsius(temperature)) == pytest.approx(coolprop.PropsSI("D", *state), rel=0.003)
    assert coolant.specific_heat(glycol, celsius(temperature)) == pytest.approx(
        coolprop.PropsSI("C", *state), rel=0.003
    )


@pytest.mark.parametrize("mass", [0.3, 0.5, 0.6])
@pytest.mark.parametrize("temperature", [20.0, 60.0, 90.0])
def test_properties_against_uninhibited_glycol_by_mass(mass: float, temperature: float) -> None:
    # CoolProp MEG (Melinder), pure glycol by mass: an independent data set, so the tolerance is wider.
    coolprop = pytest.importorskip("CoolProp.CoolProp")
    volume = (mass / 1113.5) / (mass / 1113.5 + (1 - mass) / 998.2)
    state = ("T", celsius(temperature), "P", 2e5, f"INCOMP::MEG[{mass}]")
    assert coolant.density(volume, celsius(temperature)) == pytest.approx(coolprop.PropsSI("D", *state), rel=0.012)
    assert coolant.specific_heat(volume, celsius(temperature)) == pytest.approx(coolprop.PropsSI("C", *state), rel=0.03)


@pytest.mark.parametrize(
    ("temperature", "density", "heat"),
    [
        # Incropera & DeWitt, table A.6, saturated water (300 K, 350 K): specific volume 1.003e-3 and
        # 1.027e-3 m³/kg, specific heat 4179 and 4195 J/(kg·K)
        (300.0, 1 / 1.003e-3, 4179.0),
        (350.0, 1 / 1.027e-3, 4195.0),
    ],
)
def test_water_against_saturated_water_table(temperature: float, density: float, heat: float) -> None:
    assert coolant.density(0.0, temperature) == pytest.approx(density, rel=1e-3)
    assert coolant.specific_heat(0.0, temperature) == pytest.approx(heat, rel=3e-3)


@pytest.mark.parametrize(
    ("glycol", "cold", "hot", "expected", "tolerance"),
    [
        # CoolProp 8.0.0 AEG: 4.926 % from 20 to 100 °C at 50 vol %
        pytest.param(0.5, 20.0, 100.0, 0.0492621, 0.02, id="AEG 50 vol %"),
        # ASHRAE density table: 67.08/63.40 lb/ft³ from 20 to 110 °C at 50 vol %
        pytest.param(0.5, 20.0, 110.0, 0.0580442, 0.01, id="ASHRAE 50 vol %"),
        # IAPWS-95: water from 20 to 110 °C at 2 bar
        pytest.param(0.0, 20.0, 110.0, 0.0497141, 0.005, id="water"),
    ],
)
def test_expansion(glycol: float, cold: float, hot: float, expected: float, tolerance: float) -> None:
    assert coolant.expansion(glycol, celsius(cold), celsius(hot)) == pytest.approx(expected, rel=tolerance)


@given(glycol=SHARES, more=SHARES, temperature=st.floats(celsius(5), celsius(119)), step=st.floats(0.1, 50.0))
def test_directions_of_properties(glycol: float, more: float, temperature: float, step: float) -> None:
    glycol, more = sorted((glycol, more))
    hotter = min(temperature + step, celsius(120))
    assert coolant.density(more, temperature) >= coolant.density(glycol, temperature) - 1e-9
    assert coolant.specific_heat(more, temperature) <= coolant.specific_heat(glycol, temperature) + 1e-9
    assert coolant.density(glycol, hotter) < coolant.density(glycol, temperature)
    assert coolant.freezing_onset(more) <= coolant.freezing_onset(glycol)


@given(temperature=st.floats(celsius(-33), celsius(119)), step=st.floats(0.1, 50.0))
def test_cold_coolant_is_denser(temperature: float, step: float) -> None:
    assert coolant.density(0.5, temperature) > coolant.density(0.5, min(temperature + step, celsius(120)))


@given(glycol=SHARES, pressure=st.floats(60e3, 350e3), cap=st.floats(100.0, 50e3))
def test_boiling_rises_with_pressure_and_glycol(glycol: float, pressure: float, cap: float) -> None:
    temperature = coolant.boiling_point(pressure, glycol)
    assert temperature >= coolant.water_saturation_temperature(pressure) - 1e-9
    assert coolant.boil_margin(temperature, cap, pressure, glycol) > 0.0
    assert coolant.boil_margin(temperature, 0.0, pressure, glycol) == pytest.approx(0.0, abs=1e-9)
    assert coolant.vapour_pressure(temperature, glycol) == pytest.approx(pressure, rel=1e-5)


@given(glycol=st.floats(0.001, 0.6))
def test_freezing_onset_and_its_inverse_agree(glycol: float) -> None:
    assert coolant.share_for_freezing_onset(coolant.freezing_onset(glycol)) == pytest.approx(glycol, abs=1e-9)


def test_the_coldest_that_a_mixture_protects_from() -> None:
    # 60 % by volume: -52.02 °C; 30 %: -15.70 °C (CoolProp 8.0.0, AEG)
    assert coolant.share_for_freezing_onset(celsius(-52.02)) == pytest.approx(0.6)
    assert coolant.share_for_freezing_onset(221.13 - 1e-8) == pytest.approx(0.6)  # by rounding
    assert coolant.share_for_freezing_onset(celsius(-15.70)) == pytest.approx(0.3)
    assert coolant.share_for_freezing_onset(celsius(-1.81)) == pytest.approx(0.05)
    with pytest.raises(OutsideRange, match=r"no mixture of up to 60 % glycol protects to -52\.1 °C"):
        coolant.share_for_freezing_onset(celsius(-52.1))


def test_share_for_mild_weather_is_nothing() -> None:
    assert coolant.share_for_freezing_onset(celsius(0.0)) == 0.0
    assert coolant.share_for_freezing_onset(celsius(3.0)) == 0.0


@given(glycol=SHARES, cold=st.floats(celsius(5), celsius(60)), hot=st.floats(celsius(61), celsius(120)))
def test_contraction_undoes_expansion(glycol: float, cold: float, hot: float) -> None:
    grown = coolant.expansion(glycol, cold, hot)
    assert grown > 0.0
    assert (1 + grown) * (1 + coolant.expansion(glycol, hot, cold)) == pytest.approx(1.0)


def test_capacity_rate_is_flow_times_density_times_specific_heat() -> None:
    # 190 L/min of water at 350 K with the table values of Incropera & DeWitt
    expected = 190 / 60000 / 1.027e-3 * 4195.0
    assert coolant.capacity_rate(190 / 60000, 0.0, 350.0) == pytest.approx(expected, rel=3e-3)


def test_outside_the_tables_is_refused() -> None:
    with pytest.raises(OutsideRange):
        coolant.density(0.61, celsius(20))
    with pytest.raises(OutsideRange):
        coolant.density(0.5, celsius(125))
    with pytest.raises(OutsideRange, match="frozen"):
        coolant.density(0.3, celsius(-20))
    with pytest.raises(OutsideRange, match=r"-34\.5 °C is outside -34\.4 to 121\.1 °C: the density table ends there"):
        coolant.density(0.5, celsius(-34.5))
    with pytest.raises(OutsideRange, match="the density table ends there"):
        coolant.density(0.5, celsius(121.2))
    for degrees in (-0.1, 120.1):
        with pytest.raises(OutsideRange, match="0 to 120 °C: the specific heat table ends there"):
            coolant.specific_heat(0.5, celsius(degrees))
    for degrees in (-0.1, 100.1):
        with pytest.raises(OutsideRange, match="0 to 100 °C: the viscosity table ends there"):
            coolant.kinematic_viscosity(0.5, celsius(degrees))
    with pytest.raises(OutsideRange):
        coolant.specific_heat(0.5, celsius(-5))
    with pytest.raises(OutsideRange):
        coolant.freezing_onset(0.7)
    with pytest.raises(OutsideRange):
        coolant.share_for_freezing_onset(celsius(-60))
    with pytest.raises(OutsideRange):
        coolant.boiling_point(10e3, 0.5)
    with pytest.raises(OutsideRange):
        coolant.water_saturation_pressure(200.0)


@pytest.mark.parametrize("bad", [-0.1, 1.01, math.nan])
def test_impossible_shares_are_refused(bad: float) -> None:
    for function in (coolant.mass_share, coolant.water_mole_fraction, coolant.freezing_onset):
        with pytest.raises(ImpossibleInput):
            function(bad)


def test_impossible_pressures_and_flows_are_refused() -> None:
    with pytest.raises(ImpossibleInput):
        coolant.boil_margin(370.0, -1.0, 101325.0, 0.5)
    with pytest.raises(ImpossibleInput):
        coolant.boiling_point(0.0, 0.5)
    with pytest.raises(ImpossibleInput):
        coolant.capacity_rate(0.0, 0.5, 350.0)
    with pytest.raises(ImpossibleInput):
        coolant.density(0.5, -10.0)


@pytest.mark.parametrize("share", [0.1, 0.3, 0.5, 0.6])
@pytest.mark.parametrize("degrees", [5.0, 30.0, 50.0, 80.0, 95.0])
def test_viscosity_against_a_reference_library(share: float, degrees: float) -> None:
    # CoolProp, INCOMP::AEG (ASHRAE data): straight lines lie at most 13 % above the curve, never below it
    coolprop = pytest.importorskip("CoolProp.CoolProp")
    kelvin = celsius(degrees)
    dynamic = coolprop.PropsSI("V", "T", kelvin, "P", 3e5, f"INCOMP::AEG[{share}]")
    expected = dynamic / coolprop.PropsSI("D", "T", kelvin, "P", 3e5, f"INCOMP::AEG[{share}]")
    found = coolant.kinematic_viscosity(share, kelvin)
    assert 0.998 * expected <= found <= 1.13 * expected


def test_viscosity_of_half_glycol_at_80_celsius() -> None:
    # 0.992795 mPa·s over 1038.46 kg/m³ (CoolProp 8.0.0, INCOMP::AEG) = 0.95603 mm²/s
    assert coolant.kinematic_viscosity(0.5, 353.15) == pytest.approx(0.95603e-6, rel=1e-3)
