"""Coolant, air, heat exchangers, pipes and gas ducts against published and library values, each with its source.

Library values: CoolProp 8.0.0 (IAPWS-95 water; INCOMP::AEG, ethylene glycol by volume, ASHRAE data; air), fluids 1.3.1,
ht 1.2.0. The tolerance is that of the source, not of the code.
"""

from __future__ import annotations

import pytest

from swaplint.engineering import atmosphere, coolant, gas_flow, heat_exchangers, pipes
from swaplint.engineering.heat_exchangers import FlowArrangement

COUNTER, PARALLEL = FlowArrangement.COUNTERFLOW, FlowArrangement.PARALLEL_FLOW
UNMIXED, LARGER_MIXED = FlowArrangement.CROSSFLOW_UNMIXED, FlowArrangement.CROSSFLOW_LARGER_MIXED


def kelvin(celsius: float) -> float:
    return celsius + 273.15


# -- coolant ----------------------------------------------------------------------------------------------------------
def test_water_under_a_cap_at_altitude() -> None:
    # PropsSI("T", "P", ATMOSPHERE_1976(1500).P + 100e3, "Q", 0, "Water"): 117.689 °C
    found = coolant.boiling_point(atmosphere.standard_pressure(1500.0) + 100e3, 0.0)
    assert found - 273.15 == pytest.approx(117.689, rel=1e-3)


@pytest.mark.parametrize(("share", "freezes"), [(0.3, -15.7004), (0.4, -24.7954)])
def test_freezing_onset_by_volume(share: float, freezes: float) -> None:
    # PropsSI("T_FREEZE", "T", 300, "P", 101325, "INCOMP::AEG[share]")
    assert coolant.freezing_onset(share) - 273.15 == pytest.approx(freezes, rel=0.01)


@pytest.mark.parametrize(
    ("celsius", "density", "heat", "viscosity"),
    [(20.0, 1073.35, 3280.6, 3.88407), (80.0, 1038.46, 3512.33, 0.992795), (100.0, 1022.95, 3589.66, 0.686425)],
)
def test_half_glycol_by_volume(celsius: float, density: float, heat: float, viscosity: float) -> None:
    # PropsSI("D" | "C" | "V", "T", T, "P", 2e5, "INCOMP::AEG[0.5]"): kg/m³, J/(kg K), mPa s
    at = kelvin(celsius)
    assert coolant.density(0.5, at) == pytest.approx(density, rel=3e-3)
    assert coolant.specific_heat(0.5, at) == pytest.approx(heat, rel=5e-3)
    assert coolant.kinematic_viscosity(0.5, at) * density * 1e3 == pytest.approx(viscosity, rel=0.03)


def test_half_glycol_in_the_handbook_of_the_heating_trade() -> None:
    # ASHRAE Fundamentals, density of 50 % glycol by volume: 67.20 lb/ft³ at 60 °F, 67.05 at 70 °F (67.08 at 68 °F),
    # 63.40 at 230 °F
    pound_per_cubic_foot = 16.018463
    assert coolant.density(0.5, kelvin(140.0 / 9.0)) == pytest.approx(67.2 * pound_per_cubic_foot, rel=1e-3)
    assert coolant.expansion(0.5, kelvin(20.0), kelvin(110.0)) == pytest.approx(67.08 / 63.40 - 1.0, rel=0.03)


def test_water_grows_less() -> None:
    # PropsSI("D", "T", 293.15, "P", 2e5, "Water")/PropsSI("D", "T", 383.15, …) - 1: 4.97141 %
    assert coolant.expansion(0.0, kelvin(20.0), kelvin(110.0)) == pytest.approx(0.0497141, rel=2e-3)


# -- air --------------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(("celsius", "density"), [(20.0, 1.20458), (25.0, 1.18432), (550.0, 0.428676)])
def test_density_of_air(celsius: float, density: float) -> None:
    # PropsSI("D", "T", T, "P", 101325, "Air")
    assert atmosphere.air_density(101325.0, kelvin(celsius)) == pytest.approx(density, rel=2e-3)


def test_viscosity_of_hot_air() -> None:
    # PropsSI("V", "T", 823.15, "P", 101325, "Air"): 38.0839 µPa s
    assert gas_flow.air_viscosity(kelvin(550.0)) == pytest.approx(38.0839e-6, rel=0.01)


def test_standard_atmosphere() -> None:
    # ISO 2533 at geopotential altitude, p = 101325·(1 - 0.0065·H/288.15)^5.25588
    assert atmosphere.standard_pressure(1500.0) == pytest.approx(84556.0, rel=1e-4)
    assert atmosphere.standard_pressure(3000.0) == pytest.approx(70108.5, rel=1e-4)
    # a printed table: 10.108 psia at 10 000 ft, geometric altitude
    assert atmosphere.standard_pressure(3048.0) == pytest.approx(69692.2, rel=6e-4)


# -- heat exchangers --------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("ntu", "ratio", "arrangement", "expected"),
    [
        # ht.effectiveness_from_NTU, whose crossflow is the exact series (the printed 0.22/0.78 formula gives 0.7632)
        (2.5, 0.6, UNMIXED, 0.755718),
        (1.0, 0.5, UNMIXED, 0.54749),
        (1.0, 0.5, COUNTER, 0.564733),
        (2.0, 1.0, COUNTER, 0.666667),
        (2.5, 0.6, PARALLEL, 0.613553),
        (2.5, 0.6, LARGER_MIXED, 0.705804),
    ],
)
def test_effectiveness_and_back(ntu: float, ratio: float, arrangement: FlowArrangement, expected: float) -> None:
    assert heat_exchangers.effectiveness(ntu, ratio, arrangement) == pytest.approx(expected, rel=1e-4)
    reached = heat_exchangers.effectiveness(ntu, ratio, arrangement)
    assert heat_exchangers.ntu_from_effectiveness(reached, ratio, arrangement) == pytest.approx(ntu, rel=1e-12)


# -- pipes and ducts --------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("reynolds", "roughness", "expected", "tolerance"),
    [
        (1e5, 1e-4, 0.0185139, 1e-4),  # fluids.friction.Colebrook
        (1e5, 0.0, 0.0179898, 1e-4),
        (1e6, 0.01, 0.0379647, 1e-4),
        (83581.0, 0.046 / 60.0, 0.0217982, 1e-3),
        (100600.0, 0.0, 0.0179, 0.015),  # Crane TP-410, example 7-1, smooth plastic pipe
    ],
)
def test_friction_factor(reynolds: float, roughness: float, expected: float, tolerance: float) -> None:
    assert pipes.friction_factor(reynolds, roughness) == pytest.approx(expected, rel=tolerance)


@pytest.mark.parametrize(("bore", "drop"), [(0.060, 3442.41), (0.076, 1026.92)])
def test_exhaust_with_a_given_friction_factor(bore: float, drop: float) -> None:
    # fluids.isothermal_gas solved for P1: 0.15 kg/s, 550 °C, 3 m, f = 0.02, into 101 325 Pa, R = 287.05. The friction
    # is handed over as a loss coefficient, f·L/D.
    found = gas_flow.drop_to_outlet(
        mass_flow=0.15,
        bore=bore,
        length=0.0,
        temperature=kelvin(550.0),
        outlet_pressure=101325.0,
        loss_coefficient=0.02 * 3.0 / bore,
    )
    assert found == pytest.approx(drop, rel=2e-3)


def test_long_gas_pipe_of_the_library() -> None:
    # isothermal_gas(rho=11.3, fd=0.00185, P1=1e6, P2=9e5, L=1000, D=0.5): 145.485 kg/s; 11.3 kg/m³ at the inlet is air
    # of 1e6/(11.3·287.05287) K, f·L/D is 3.7
    found = gas_flow.drop_from_inlet(
        mass_flow=145.485,
        bore=0.5,
        length=0.0,
        temperature=1e6 / (11.3 * 287.05287),
        inlet_pressure=1e6,
        loss_coefficient=3.7,
    )
    assert found == pytest.approx(1e5, rel=1e-4)
