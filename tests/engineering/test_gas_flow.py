"""Gas flow against handbook examples, fluids, CoolProp and limiting cases."""

from __future__ import annotations

import math

import fluids
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq  # type: ignore[import-untyped]

from swaplint.engineering.atmosphere import air_density
from swaplint.engineering.constants import R_DRY_AIR
from swaplint.engineering.gas_flow import (
    air_viscosity,
    bend_loss_coefficient,
    compressor_outlet_temperature,
    device_drop,
    drop_from_inlet,
    drop_to_outlet,
    duct_velocity,
    mach_number,
    substrate_drop,
    vent_pressure_drop,
)
from swaplint.engineering.guards import ImpossibleInput, OutsideRange
from swaplint.engineering.pipes import pressure_loss

ATMOSPHERE = 101325.0
HOT = 823.15

duct = st.fixed_dictionaries(
    {
        "mass_flow": st.floats(0.001, 0.25),
        "bore": st.floats(0.04, 0.13),
        "length": st.floats(0.1, 8.0),
        "temperature": st.floats(250.0, 1100.0),
        "roughness": st.floats(0.0, 1e-4),
        "loss_coefficient": st.floats(0.0, 5.0),
    }
)


def slow(case: dict[str, float], mach: float) -> bool:
    density = ATMOSPHERE / (R_DRY_AIR * case["temperature"])
    velocity = duct_velocity(case["mass_flow"], case["bore"], density)
    return mach_number(velocity, case["temperature"]) < mach


# Properties


@pytest.mark.parametrize("celsius", [-40, 0, 25, 100, 300, 550, 750, 1000])
def test_viscosity_of_air(celsius: float) -> None:
    expected = PropsSI("V", "T", celsius + 273.15, "P", ATMOSPHERE, "Air")
    assert air_viscosity(celsius + 273.15) == pytest.approx(expected, rel=0.002)


@pytest.mark.parametrize(("kelvin", "micro_pascal_second"), [(300.0, 18.46), (500.0, 27.01), (800.0, 36.98)])
def test_viscosity_of_air_in_incropera_table_a4(kelvin: float, micro_pascal_second: float) -> None:
    # Incropera and DeWitt, table A.4, air at atmospheric pressure (from memory); older data, 1.2 % apart.
    assert air_viscosity(kelvin) * 1e6 == pytest.approx(micro_pascal_second, rel=0.012)


def test_sutherland_falls_short_when_hot() -> None:
    """Sutherland's formula with the constants of the U.S. Standard Atmosphere 1976: close when cold, 3 % low hot."""

    def sutherland(temperature: float) -> float:
        return 1.458e-6 * math.pow(temperature, 1.5) / (temperature + 110.4)

    assert air_viscosity(288.15) == pytest.approx(sutherland(288.15), rel=0.005)
    assert 1.02 < air_viscosity(HOT) / sutherland(HOT) < 1.04


@pytest.mark.parametrize("celsius", [20, 550])
def test_density_of_hot_air_against_real_gas(celsius: float) -> None:
    expected = PropsSI("D", "T", celsius + 273.15, "P", ATMOSPHERE, "Air")
    assert air_density(ATMOSPHERE, celsius + 273.15) == pytest.approx(expected, rel=0.001)


@pytest.mark.parametrize("kelvin", [250.0, 300.0, 400.0])
def test_mach_number_against_real_speed_of_sound(kelvin: float) -> None:
    sound = PropsSI("A", "T", kelvin, "P", ATMOSPHERE, "Air")
    assert mach_number(sound, kelvin) == pytest.approx(1.0, rel=0.003)


# Duct losses: published examples


def test_crane_tp_410_example_7_16_compressed_air_line() -> None:
    """Crane TP-410 example 7-16: 100 standard ft³/min in 75 ft of 1 inch schedule 40 at 65 psi gauge, 115 °F.

    Printed: 2.61 psi, from a table of limited accuracy; isothermal flow gives 2.71 psi.
    """
    psi = 6894.757
    drop = drop_from_inlet(
        mass_flow=100 * 0.3048**3 / 60 * air_density(ATMOSPHERE, 288.71),
        bore=1.049 * 0.0254,
        length=75 * 0.3048,
        temperature=319.26,
        inlet_pressure=65 * psi + ATMOSPHERE,
        roughness=0.0018 * 0.0254,
    )
    assert drop / psi == pytest.approx(2.61, rel=0.05)


def test_crane_tp_410_example_7_22_air_to_atmosphere() -> None:
    """Crane TP-410 example 7-22: 19.3 psi through 10 ft of 1/2 inch schedule 80 with one exit loss.

    Printed: 3762 standard ft³/h; the given flow must need the given pressure.
    """
    psi = 6894.757
    drop = drop_to_outlet(
        mass_flow=3762 * 0.3048**3 / 3600 * air_density(ATMOSPHERE, 288.71),
        bore=0.546 * 0.0254,
        length=10 * 0.3048,
        temperature=310.93,
        outlet_pressure=ATMOSPHERE,
        roughness=0.0018 * 0.0254,
        loss_coefficient=1.0,
    )
    assert drop / psi == pytest.approx(19.3, rel=0.02)


def test_hot_exhaust_pipe() -> None:
    # fluids 1.3.1 isothermal_gas: 60 mm steel, 3 m, 0.15 kg/s, 550 °C to atmosphere: 3745.67 Pa.
    drop = drop_to_outlet(
        mass_flow=0.15, bore=0.06, length=3.0, temperature=HOT, outlet_pressure=ATMOSPHERE, roughness=46e-6
    )
    assert drop == pytest.approx(3745.67, rel=0.002)
    assert duct_velocity(0.15, 0.06, air_density(ATMOSPHERE, HOT)) == pytest.approx(123.714, rel=1e-4)


# Duct losses: properties


@given(duct)
def test_outlet_form_agrees_with_fluids(case: dict[str, float]) -> None:
    assume(slow(case, 0.5))
    drop = drop_to_outlet(**case, outlet_pressure=ATMOSPHERE)
    inlet = ATMOSPHERE + drop
    flux = case["mass_flow"] / (math.pi / 4 * case["bore"] ** 2)
    reynolds = flux * case["bore"] / air_viscosity(case["temperature"])
    assume(not 2000 < reynolds < 4000)
    fd = fluids.friction_factor(Re=reynolds, eD=case["roughness"] / case["bore"])
    fd_total = fd + case["loss_coefficient"] * case["bore"] / case["length"]
    flow = fluids.isothermal_gas(
        rho=inlet / (R_DRY_AIR * case["temperature"]),
        fd=fd_total,
        P1=inlet,
        P2=ATMOSPHERE,
        L=case["length"],
        D=case["bore"],
    )
    assert flow == pytest.approx(case["mass_flow"], rel=1e-4)


@given(duct)
def test_both_forms_undo_each_other(case: dict[str, float]) -> None:
    assume(slow(case, 0.6))
    drop = drop_to_outlet(**case, outlet_pressure=ATMOSPHERE)
    back = drop_from_inlet(**case, inlet_pressure=ATMOSPHERE + drop)
    assert back == pytest.approx(drop, rel=1e-6, abs=1e-4)


@given(duct)
def test_slow_gas_behaves_as_a_liquid(case: dict[str, float]) -> None:
    """Friction alone, without the acceleration term, at low Mach number: Darcy-Weisbach at the mean density."""
    assume(slow(case, 0.1) and case["loss_coefficient"] > 1.0)
    drop = drop_to_outlet(**case, outlet_pressure=ATMOSPHERE)
    density = air_density(ATMOSPHERE + drop / 2, case["temperature"])
    expected = pressure_loss(
        flow=case["mass_flow"] / density,
        bore=case["bore"],
        length=case["length"],
        density=density,
        kinematic_viscosity=air_viscosity(case["temperature"]) / density,
        roughness=case["roughness"],
        loss_coefficient=case["loss_coefficient"],
    )
    assert drop == pytest.approx(expected, rel=0.03)


@given(duct, st.floats(1.001, 1.3))
def test_duct_drop_rises_with_flow_heat_and_length_and_falls_with_bore(case: dict[str, float], factor: float) -> None:
    assume(slow(case, 0.3))
    drop = drop_to_outlet(**case, outlet_pressure=ATMOSPHERE)
    for name in ("mass_flow", "length"):
        assert drop_to_outlet(**{**case, name: case[name] * factor}, outlet_pressure=ATMOSPHERE) > drop
    assert drop_to_outlet(**{**case, "bore": case["bore"] * factor}, outlet_pressure=ATMOSPHERE) < drop
    assert drop_to_outlet(**case, outlet_pressure=ATMOSPHERE * factor) < drop


def test_two_ducts_in_a_row_equal_one() -> None:
    half = {"mass_flow": 0.15, "bore": 0.06, "length": 1.5, "temperature": HOT}
    tail = drop_to_outlet(**half, outlet_pressure=ATMOSPHERE)
    front = drop_to_outlet(**half, outlet_pressure=ATMOSPHERE + tail)
    whole = drop_to_outlet(**{**half, "length": 3.0}, outlet_pressure=ATMOSPHERE)
    assert front + tail == pytest.approx(whole, rel=1e-9)


def test_no_flow_no_drop() -> None:
    still = {"mass_flow": 0.0, "bore": 0.06, "length": 3.0, "temperature": HOT, "loss_coefficient": 1.5}
    assert drop_to_outlet(**still, outlet_pressure=ATMOSPHERE) == 0.0
    assert drop_from_inlet(**still, inlet_pressure=ATMOSPHERE) == 0.0


def test_refuses_choking_ducts() -> None:
    tight = {"mass_flow": 0.15, "bore": 0.03, "length": 3.0, "temperature": HOT}
    with pytest.raises(OutsideRange, match="Mach"):
        drop_to_outlet(**tight, outlet_pressure=ATMOSPHERE)
    with pytest.raises(OutsideRange, match="Mach"):
        drop_from_inlet(**tight, inlet_pressure=ATMOSPHERE)
    with pytest.raises(OutsideRange, match="before the end"):
        drop_from_inlet(**{**tight, "bore": 0.06, "length": 60.0}, inlet_pressure=ATMOSPHERE)


@pytest.mark.parametrize(
    ("name", "value", "error"),
    [
        ("mass_flow", -0.1, ImpossibleInput),
        ("bore", 0.0, ImpossibleInput),
        ("length", -1.0, ImpossibleInput),
        ("temperature", 0.0, ImpossibleInput),
        ("temperature", 100.0, OutsideRange),
        ("roughness", -1e-6, ImpossibleInput),
        ("loss_coefficient", -1.0, ImpossibleInput),
        ("outlet_pressure", 0.0, ImpossibleInput),
    ],
)
def test_refuses_impossible_ducts(name: str, value: float, error: type[ValueError]) -> None:
    case = {"mass_flow": 0.1, "bore": 0.06, "length": 1.0, "temperature": 600.0, "outlet_pressure": 1e5}
    with pytest.raises(error):
        drop_to_outlet(**{**case, name: value})


def at_mach(mach: float) -> dict[str, float]:
    """A short duct of such losses that 150 kPa at its inlet leave 100 kPa at its outlet, at this Mach number there.

    p1² - p2² = s·(K + 2·ln(p1/p2)) with s = (ṁ/A)²·R·T = 1.4·(Mach·p2)², so that K = 1.25/(1.4·Mach²) - 2·ln 1.5.
    """
    flux = mach * 1e5 * math.sqrt(1.4 / (R_DRY_AIR * 600.0))
    loss = 1.25 / (1.4 * mach**2) - 2.0 * math.log(1.5)
    area = math.pi / 4.0 * 0.05**2
    return {"mass_flow": flux * area, "bore": 0.05, "length": 0.0, "temperature": 600.0, "loss_coefficient": loss}


@pytest.mark.parametrize("mach", [0.05, 0.3, 0.6, 0.699])
def test_drop_of_half_the_outlet_pressure(mach: float) -> None:
    assert drop_to_outlet(**at_mach(mach), outlet_pressure=1e5) == pytest.approx(5e4, rel=1e-11)
    assert drop_from_inlet(**at_mach(mach), inlet_pressure=1.5e5) == pytest.approx(5e4, rel=1e-11)


def test_gas_beyond_mach_seven_tenths() -> None:
    with pytest.raises(OutsideRange, match=r"^Mach 0\.70 in the duct: above 0\.7 the formula does not hold$"):
        drop_to_outlet(**at_mach(0.701), outlet_pressure=1e5)
    with pytest.raises(OutsideRange, match=r"^the gas would pass Mach 0\.7 before the end of the duct$"):
        drop_from_inlet(**at_mach(0.701), inlet_pressure=1.5e5)


def test_a_drop_of_less_than_a_pascal() -> None:
    # K·½ρ·v² of 1 m/s at 1.2 kg/m³: 0.6 Pa, all but the density's change
    air = {"bore": 0.05, "length": 0.0, "temperature": 1e5 / (1.2 * R_DRY_AIR), "loss_coefficient": 1.0}
    flow = 1.2 * math.pi / 4.0 * 0.05**2
    assert drop_to_outlet(**air, mass_flow=flow, outlet_pressure=1e5) == pytest.approx(0.6, rel=2e-5)
    assert drop_from_inlet(**air, mass_flow=flow, inlet_pressure=1e5) == pytest.approx(0.6, rel=2e-5)


# Bends


@pytest.mark.parametrize(
    ("ratio", "degrees", "expected"),
    [
        # Idelchik, diagram 6-1: 0.21/√(R/D) or 0.21/(R/D)^2.5, times 0.9·sin to 70°, 1 at 90°, 0.7 + 0.35·angle/90°
        # from 100°: 0.9·sin 70° = 0.845723 and 1.088889 at 100°, straight lines between
        (1.0, 30.0, 0.21 * 0.45),
        (1.0, 75.0, 0.21 * (0.845723 + 0.25 * (1.0 - 0.845723))),
        (1.0, 95.0, 0.21 * 1.0444444),
        (1.0, 105.0, 0.21 * (0.7 + 0.35 * 105.0 / 90.0)),
        (1.0, 135.0, 0.21 * 1.225),
        (4.0, 90.0, 0.105),
        (1.05, 90.0, 0.21 / math.sqrt(1.05)),
        (0.64, 90.0, 0.21 / 0.8**5),
    ],
)
def test_bends_of_the_diagram(ratio: float, degrees: float, expected: float) -> None:
    assert bend_loss_coefficient(ratio, math.radians(degrees)) == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize("ratio", [1.0, 1.5, 2.0, 3.0])
def test_bend_lies_among_the_handbooks(ratio: float) -> None:
    """Right-angle bend with its own friction, against three handbook methods in fluids; they scatter by 1.5."""
    friction = fluids.friction_factor(Re=2e5, eD=5e-4)
    found = bend_loss_coefficient(ratio) + friction * ratio * math.pi / 2
    for method in ("Rennels", "Crane", "Miller"):
        other = fluids.bend_rounded(
            Di=0.08, angle=90, bend_diameters=ratio, fd=friction, Re=2e5, roughness=4e-5, method=method
        )
        assert found / 1.6 < other < found * 1.6, method


@given(st.floats(0.5, 10.0), st.floats(0.0, 3.1), st.floats(0.001, 0.04))
def test_sharper_and_longer_bends_lose_more(ratio: float, angle: float, step: float) -> None:
    assert bend_loss_coefficient(ratio, angle + step) > bend_loss_coefficient(ratio, angle)
    assume(ratio + step <= 10.0 and angle > 0.01)
    assert bend_loss_coefficient(ratio + step, angle) < bend_loss_coefficient(ratio, angle)


def test_bend_limits() -> None:
    assert bend_loss_coefficient(1.0) == pytest.approx(0.21)
    assert bend_loss_coefficient(1.0, math.pi) == pytest.approx(0.21 * 1.4)
    assert bend_loss_coefficient(1.0, 0.0) == 0.0
    assert bend_loss_coefficient(0.999999) == pytest.approx(0.21, rel=1e-5)
    with pytest.raises(OutsideRange):
        bend_loss_coefficient(0.4)
    with pytest.raises(OutsideRange):
        bend_loss_coefficient(1.0, 4.0)


# Vents


@given(st.floats(1e-6, 1e-3), st.floats(0.005, 0.02), st.floats(0.0, 3.0))
def test_vent_agrees_with_fluids(flow: float, bore: float, length: float) -> None:
    velocity = flow / (math.pi / 4 * bore**2)
    assume(velocity < 100.0)
    density = PropsSI("D", "T", 288.15, "P", ATMOSPHERE, "Air")
    reynolds = density * velocity * bore / PropsSI("V", "T", 288.15, "P", ATMOSPHERE, "Air")
    assume(not 1900 < reynolds < 4200)
    fd = fluids.friction_factor(Re=reynolds, eD=1.5e-6 / bore)
    expected = fluids.dP_from_K(K=fd * length / bore + 1.5, rho=density, V=velocity)
    assert vent_pressure_drop(flow=flow, bore=bore, length=length) == pytest.approx(expected, rel=0.005)


def test_vent_refuses_fast_air() -> None:
    # three tenths of √(1.4·287.053·288.15) = 340.29 m/s are 102.09 m/s
    area = math.pi / 4.0 * 0.006**2
    assert vent_pressure_drop(flow=102.0 * area, bore=0.006, length=1.0) > 0.0
    with pytest.raises(OutsideRange, match="Mach"):
        vent_pressure_drop(flow=102.2 * area, bore=0.006, length=1.0)
    with pytest.raises(OutsideRange, match="Mach"):
        vent_pressure_drop(flow=0.01, bore=0.006, length=1.0)
    with pytest.raises(ImpossibleInput):
        vent_pressure_drop(flow=-0.01, bore=0.006, length=1.0)
    assert vent_pressure_drop(flow=0.0, bore=0.006, length=1.0) == 0.0


# Devices

TESTED = {"mass_flow_tested": 0.1, "density_tested": 0.8}


@given(st.floats(0.01, 0.4), st.floats(0.3, 1.3))
def test_device_drop_goes_with_density_and_velocity_squared(mass_flow: float, density: float) -> None:
    found = device_drop(3e3, **TESTED, mass_flow=mass_flow, density=density)
    velocity_ratio = (mass_flow / density) / (0.1 / 0.8)
    assert found == pytest.approx(3e3 * density / 0.8 * velocity_ratio**2)


@given(st.floats(0.01, 0.4), st.floats(300.0, 900.0))
def test_substrate_drop_goes_with_viscosity_and_velocity(mass_flow: float, temperature: float) -> None:
    density = air_density(110e3, temperature)
    found = substrate_drop(
        3e3, **TESTED, temperature_tested=500.0, mass_flow=mass_flow, density=density, temperature=temperature
    )
    viscosity = PropsSI("V", "T", temperature, "P", 110e3, "Air") / PropsSI("V", "T", 500.0, "P", 110e3, "Air")
    velocity = (mass_flow / density) / (0.1 / 0.8)
    assert found == pytest.approx(3e3 * viscosity * velocity, rel=0.002)


def test_devices_give_back_the_test_point() -> None:
    assert device_drop(3e3, **TESTED, mass_flow=0.1, density=0.8) == 3e3
    same = substrate_drop(3e3, **TESTED, temperature_tested=500.0, mass_flow=0.1, density=0.8, temperature=500.0)
    assert same == 3e3


@pytest.mark.parametrize("wrong", [{"mass_flow_tested": 0.0}, {"density_tested": -1.0}])
def test_refuses_impossible_test_points(wrong: dict[str, float]) -> None:
    with pytest.raises(ImpossibleInput):
        device_drop(3e3, **{**TESTED, **wrong}, mass_flow=0.1, density=0.8)
    with pytest.raises(ImpossibleInput):
        substrate_drop(
            3e3,
            **{**TESTED, **wrong},
            temperature_tested=500.0,
            mass_flow=0.1,
            density=0.8,
            temperature=500.0,
        )


# Compressor


def test_saravanamuttoo_example_2_1() -> None:
    # Saravanamuttoo, Gas Turbine Theory, example 2.1 (from memory): 288 K, ratio 4, efficiency 0.85: rise 164.7 K.
    assert compressor_outlet_temperature(288.0, 4.0, 0.85) - 288.0 == pytest.approx(164.7, abs=0.1)


@pytest.mark.parametrize("ratio", [1.5, 2.5, 3.5])
def test_reversible_compression_against_real_air(ratio: float) -> None:
    entropy = PropsSI("S", "T", 300.0, "P", 1e5, "Air")
    expected = PropsSI("T", "S", entropy, "P", ratio * 1e5, "Air")
    assert compressor_outlet_temperature(300.0, ratio, 1.0) == pytest.approx(expected, rel=0.004)


@given(st.floats(1.0, 9.9), st.floats(0.3, 0.99), st.floats(0.001, 0.01))
def test_worse_or_harder_compression_is_hotter(ratio: float, efficiency: float, step: float) -> None:
    outlet = compressor_outlet_temperature(300.0, ratio, efficiency)
    assert compressor_outlet_temperature(300.0, ratio + step, efficiency) > outlet >= 300.0
    assert compressor_outlet_temperature(300.0, ratio, efficiency + step) <= outlet


def test_inverse_of_the_compressor_formula() -> None:
    ratio = brentq(lambda r: compressor_outlet_temperature(300.0, r, 1.0) - 300.0 * 2**0.4, 1.0, 5.0)
    assert ratio == pytest.approx(2**1.4, rel=1e-9)  # isentrope: T2/T1 = (p2/p1)^(1 - 1/γ)


@pytest.mark.parametrize(
    ("arguments", "error"),
    [
        ((0.0, 2.0, 0.7), ImpossibleInput),
        ((300.0, 0.9, 0.7), OutsideRange),
        ((300.0, 2.0, 0.0), ImpossibleInput),
        ((300.0, 2.0, 1.1), ImpossibleInput),
    ],
)
def test_refuses_impossible_compressors(arguments: tuple[float, float, float], error: type[ValueError]) -> None:
    with pytest.raises(error):
        compressor_outlet_temperature(*arguments)


@pytest.mark.parametrize(
    ("degrees", "share"),
    # Idelchik's A: 0.9·sin 70° = 0.8457 at 70°, 1 at 90°, 0.7 + 0.35·100/90 = 1.0889 at 100°, straight between
    [(70.0, 0.84572), (80.0, 0.92286), (90.0, 1.0), (95.0, 1.04444), (100.0, 1.08889), (135.0, 1.225)],
)
def test_bends_between_the_points_of_the_diagram(degrees: float, share: float) -> None:
    assert bend_loss_coefficient(1.0, math.radians(degrees)) == pytest.approx(0.21 * share, rel=1e-4)


def test_a_vent_is_reckoned_up_to_three_tenths_of_the_speed_of_sound() -> None:
    # at 20 °C sound runs 343.2 m/s: 0.29 of it through 6 mm is 2.8141 L/s, 0.31 of it 3.0082
    area = math.pi / 4 * 0.006**2
    assert vent_pressure_drop(flow=0.29 * 343.2 * area, bore=0.006, length=1.0) > 0.0
    with pytest.raises(OutsideRange, match="Mach number"):
        vent_pressure_drop(flow=0.31 * 343.2 * area, bore=0.006, length=1.0)
