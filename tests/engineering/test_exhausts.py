"""Exhaust pipes: handbook values, worked by hand, limiting cases."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.engineering.exhausts import EXPANSION, gas_temperature_after, hung_force, hung_moment, thermal_growth
from swaplint.engineering.guards import ImpossibleInput, OutsideRange

HANDBOOK = {
    # Shigley, table of physical constants of materials (from memory), and common tables of metals
    "mild-steel": (10.8e-6, 12.5e-6),
    "aluminised-steel": (10.8e-6, 12.5e-6),
    "ferritic-stainless": (9.9e-6, 11.7e-6),
    "austenitic-stainless": (16.0e-6, 17.8e-6),
}


@pytest.mark.parametrize("material", sorted(EXPANSION))
def test_expansion_against_handbook_ranges(material: str) -> None:
    low, high = HANDBOOK[material]
    assert low <= EXPANSION[material] <= high


def test_growth_by_hand() -> None:
    # 2 m of mild steel at 12e-6 1/K, 400 K hotter: 9.6 mm
    assert thermal_growth(2.0, 12e-6, 400.0) == pytest.approx(9.6e-3)
    assert thermal_growth(2.0, 12e-6, 0.0) == 0.0
    assert thermal_growth(0.0, 12e-6, 400.0) == 0.0


@given(st.floats(0.01, 20.0), st.floats(-200.0, 900.0))
def test_growth_is_linear(length: float, rise: float) -> None:
    assert thermal_growth(2 * length, 12e-6, rise) == pytest.approx(2 * thermal_growth(length, 12e-6, rise))


def test_gas_temperature() -> None:
    assert gas_temperature_after(800.0, 40.0, 0.5) == pytest.approx(780.0)
    assert gas_temperature_after(800.0, 40.0, 0.0) == 800.0
    with pytest.raises(OutsideRange):
        gas_temperature_after(600.0, 60.0, 10.0)
    with pytest.raises(ImpossibleInput):
        gas_temperature_after(600.0, -1.0, 1.0)


def test_gas_hotter_than_any_exhaust_is_refused() -> None:
    assert gas_temperature_after(2000.0, 0.0, 1.0) == 2000.0
    with pytest.raises(OutsideRange):
        gas_temperature_after(2001.0, 0.0, 1.0)


def test_hung_mass_by_hand() -> None:
    # 4 kg under 3 times its weight: 4·9.80665·3 = 117.7 N; at 0.2 m 23.54 N·m
    assert hung_force(4.0, 3.0) == pytest.approx(117.68, abs=0.01)
    assert hung_moment(4.0, 3.0, 0.2) == pytest.approx(23.536, abs=0.001)
    assert hung_moment(4.0, 3.0, 0.0) == 0.0
