"""Viscosity and density of petroleum liquids against the standards' own forms and reference fluid data."""

from __future__ import annotations

import math

import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq  # type: ignore[import-untyped]

from swaplint.engineering.guards import ImpossibleInput, OutsideRange
from swaplint.engineering.liquids import (
    DIESEL_VISCOSITY_40C,
    DIESEL_VISCOSITY_POINTS,
    PETROL_DENSITY_15C,
    PETROL_VISCOSITY_20C,
    density_at,
    ethanol_volume_factor,
    thermal_expansion_15c,
    viscosity_from_points,
    walther_viscosity,
)

ZERO_C = 273.15
temperatures = st.floats(250.0, 380.0)
viscosities = st.floats(0.5e-6, 500e-6)
product_densities = st.floats(653.0, 1075.0)


# Viscosity


def test_published_d341_example() -> None:
    # Public D341 worksheet: 32 mm²/s at 40 °C and 5.4 mm²/s at 100 °C give 8.5 mm²/s at 80 °C (looked up).
    viscosity = walther_viscosity(ZERO_C + 80, (ZERO_C + 40, 32e-6), (ZERO_C + 100, 5.4e-6))
    assert viscosity == pytest.approx(8.5e-6, rel=0.006)


@pytest.mark.parametrize("celsius", [10, 20, 40, 60, 75, 90])
def test_normal_dodecane_lies_on_one_walther_line(celsius: float) -> None:
    """Reference data for a diesel-like hydrocarbon (CoolProp, n-dodecane) between and beyond 0 and 80 °C."""

    def reference(temperature: float) -> float:
        viscosity = PropsSI("V", "T", temperature, "P", 2e5, "n-Dodecane")
        return float(viscosity / PropsSI("D", "T", temperature, "P", 2e5, "n-Dodecane"))

    points = [(t, reference(t)) for t in (ZERO_C, ZERO_C + 80)]
    found = walther_viscosity(ZERO_C + celsius, points[0], points[1])
    assert found == pytest.approx(reference(ZERO_C + celsius), rel=0.01)


@given(st.floats(260.0, 380.0))
def test_agrees_with_the_explicit_inverse_of_the_standard(temperature: float) -> None:
    """ASTM D341's printed approximation of ν from Z (looked up), here from the Walther line itself."""
    cold, hot = (273.15, 8.5), (353.15, 1.6)
    z = [v + 0.7 + math.exp(-1.47 - 1.84 * v - 0.51 * v**2) for _, v in (cold, hot)]
    w = [math.log10(math.log10(value)) for value in z]
    slope = (w[0] - w[1]) / (math.log10(hot[0]) - math.log10(cold[0]))
    offset = w[0] + slope * math.log10(cold[0])
    excess = 10**10 ** (offset - slope * math.log10(temperature)) - 0.7
    expected = excess - math.exp(-0.7487 - 3.295 * excess + 0.6119 * excess**2 - 0.3193 * excess**3)
    assume(temperature <= hot[0] + 25)
    found = walther_viscosity(temperature, (cold[0], cold[1] * 1e-6), (hot[0], hot[1] * 1e-6))
    assert found * 1e6 == pytest.approx(expected, rel=0.003)


@given(temperatures, temperatures, viscosities, viscosities)
def test_line_passes_through_its_points_in_either_order(t1: float, t2: float, v1: float, v2: float) -> None:
    assume(abs(t1 - t2) > 1.0 and abs(v1 / v2 - 1) > 1e-3)
    cold, hot = (min(t1, t2), max(v1, v2)), (max(t1, t2), min(v1, v2))
    assert walther_viscosity(cold[0], cold, hot) == pytest.approx(cold[1], rel=1e-7)
    assert walther_viscosity(hot[0], cold, hot) == pytest.approx(hot[1], rel=1e-7)
    between = (t1 + t2) / 2
    assert walther_viscosity(between, cold, hot) == pytest.approx(walther_viscosity(between, hot, cold))


@given(st.floats(235.0, 317.0), st.floats(0.1, 10.0))
def test_viscosity_falls_with_temperature(temperature: float, step: float) -> None:
    assume(temperature + step <= 318.15)
    warmer = viscosity_from_points(temperature + step, DIESEL_VISCOSITY_POINTS)
    assert warmer < viscosity_from_points(temperature, DIESEL_VISCOSITY_POINTS)


@pytest.mark.parametrize(("temperature", "viscosity"), DIESEL_VISCOSITY_POINTS)
def test_points_are_given_back(temperature: float, viscosity: float) -> None:
    reversed_points = tuple(reversed(DIESEL_VISCOSITY_POINTS))
    assert viscosity_from_points(temperature, reversed_points) == pytest.approx(viscosity, rel=1e-9)


def test_middling_diesel_points_meet_en_590_at_40_degrees() -> None:
    least, greatest = DIESEL_VISCOSITY_40C
    assert least < viscosity_from_points(ZERO_C + 40, DIESEL_VISCOSITY_POINTS) < greatest


def test_line_ends_25_kelvin_beyond_its_points() -> None:
    assert viscosity_from_points(258.15 - 25.0, DIESEL_VISCOSITY_POINTS) > 14e-6
    with pytest.raises(OutsideRange):
        viscosity_from_points(258.15 - 25.1, DIESEL_VISCOSITY_POINTS)
    with pytest.raises(OutsideRange):
        viscosity_from_points(293.15 + 25.1, DIESEL_VISCOSITY_POINTS)


@pytest.mark.parametrize(
    "points",
    [
        [(293.15, 4.6e-6)],
        [(293.15, 4.6e-6), (293.15, 2.9e-6)],
        [(273.15, 4.6e-6), (293.15, 4.6e-6)],
        [(273.15, 4.6e-6), (293.15, 8.5e-6)],
        [(273.15, -4.6e-6), (293.15, 2e-6)],
        [(0.0, 4.6e-6), (293.15, 2e-6)],
        [(253.15, 20e-6), (273.15, 8e-6), (293.15, 9e-6)],
    ],
)
def test_refuses_points_of_no_liquid(points: list[tuple[float, float]]) -> None:
    with pytest.raises(ImpossibleInput):
        viscosity_from_points(270.0, points)


def test_refuses_liquids_thinner_than_the_standard_covers() -> None:
    with pytest.raises(OutsideRange):
        walther_viscosity(300.0, (290.0, 0.3e-6), (310.0, 0.2e-6))
    with pytest.raises(OutsideRange):
        walther_viscosity(330.0, (290.0, 0.3e-6), (310.0, 0.22e-6))


def test_viscosities_from_end_to_end_of_the_standard() -> None:
    # ASTM D341 covers 0.21 to 2e7 mm²/s: the stated ends are given back, and the line is not followed past them
    thin, thick = ((290.0, 0.22e-6), (310.0, 0.21e-6)), ((290.0, 20.0), (380.0, 19.0))
    assert walther_viscosity(310.0, *thin) == pytest.approx(0.21e-6, rel=1e-9)
    assert walther_viscosity(290.0, *thick) == pytest.approx(20.0, rel=1e-9)
    for temperature, points in ((310.1, thin), (289.9, thick)):
        with pytest.raises(OutsideRange, match=r"leaves the range of the formula: ASTM D341 covers 0\.21 to 2e7 mm²/s"):
            walther_viscosity(temperature, *points)
    for outside in (0.2099e-6, 20.01):
        with pytest.raises(OutsideRange, match="ASTM D341 covers"):
            walther_viscosity(300.0, (290.0, outside), (310.0, 0.9 * outside))


@pytest.mark.parametrize(("thick", "thin"), [(0.5, 0.25), (1.0, 0.4), (2.0, 0.8), (9.0, 2.0)])
def test_between_two_points_of_a_thin_liquid(thick: float, thin: float) -> None:
    """log10 log10 Z on a straight line in log10 T, Z = ν + 0.7 + exp(-1.47 - 1.84·ν - 0.51·ν²), solved by scipy."""

    def w(v: float) -> float:
        return math.log10(math.log10(v + 0.7 + math.exp(-1.47 - 1.84 * v - 0.51 * v * v)))

    share = (math.log10(310.0) - math.log10(280.0)) / (math.log10(350.0) - math.log10(280.0))
    wanted = (1.0 - share) * w(thick) + share * w(thin)
    expected = brentq(lambda v: w(v) - wanted, thin, thick, xtol=1e-15)
    found = walther_viscosity(310.0, (280.0, thick * 1e-6), (350.0, thin * 1e-6))
    assert found * 1e6 == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("thinnest", [0.22, 0.4, 0.7, 1.5, 6.0, 300.0])
def test_a_viscosity_comes_back_to_the_last_digits(thinnest: float) -> None:
    line = (300.0, 1.5 * thinnest * 1e-6), (360.0, thinnest * 1e-6)
    assert walther_viscosity(360.0, *line) * 1e6 == pytest.approx(thinnest, rel=1e-12)


# Density


@pytest.mark.parametrize(
    ("density_15c", "expected"),
    [
        # ASTM D1250, table 54B of 1980, K0/ρ² + K1/ρ on both sides of each join
        (653.0, 346.4228 / 653.0**2 + 0.4388 / 653.0),
        (770.4, 346.4228 / 770.4**2 + 0.4388 / 770.4),
        (770.6, 2680.3206 / 770.6**2 - 0.00336312),
        (787.4, 2680.3206 / 787.4**2 - 0.00336312),
        (787.6, 594.5418 / 787.6**2),
        (838.4, 594.5418 / 838.4**2),
        (838.6, 186.9696 / 838.6**2 + 0.4862 / 838.6),
        (1075.0, 186.9696 / 1075.0**2 + 0.4862 / 1075.0),
    ],
)
def test_groups_of_products(density_15c: float, expected: float) -> None:
    assert thermal_expansion_15c(density_15c) == pytest.approx(expected, rel=1e-12)


def test_density_far_from_15_degrees() -> None:
    # 840 kg/m³: α = 8.437891e-4 /K; at 95 °C α·ΔT = 0.0675031, times 1 + 0.8·0.0675031 it is 0.0711485, and
    # 840·e^-0.0711485 = 782.312; at -35 °C α·ΔT = -0.0421895, times 1 - 0.0337516 it is -0.0407655: 874.952
    assert density_at(ZERO_C + 95.0, 840.0) == pytest.approx(782.312, abs=2e-3)
    assert density_at(ZERO_C - 35.0, 840.0) == pytest.approx(874.952, abs=2e-3)


@pytest.mark.parametrize(
    ("density_15c", "per_kelvin"),
    [(840.0, 0.83e-3), (PETROL_DENSITY_15C, 1.2e-3)],
    ids=["diesel, common practice 0.83 per mille", "petrol, common practice 1.2 per mille"],
)
def test_expansion_near_the_trade_rules(density_15c: float, per_kelvin: float) -> None:
    assert thermal_expansion_15c(density_15c) == pytest.approx(per_kelvin, rel=0.05)


@pytest.mark.parametrize("celsius", [-20, 0, 30, 60])
def test_density_of_a_pure_hydrocarbon_within_one_percent(celsius: float) -> None:
    """The table is generalised over petroleum products; n-dodecane (CoolProp) is one they contain."""
    at_15c = PropsSI("D", "T", 288.15, "P", 101325, "n-Dodecane")
    expected = PropsSI("D", "T", ZERO_C + celsius, "P", 101325, "n-Dodecane")
    assert density_at(ZERO_C + celsius, at_15c) == pytest.approx(expected, rel=0.012)


@pytest.mark.parametrize("join", [770.5, 787.5, 838.5])
def test_expansion_hardly_jumps_between_product_groups(join: float) -> None:
    # The standard rounds the joins to half a kg/m³; its groups then meet to about one per mille.
    assert thermal_expansion_15c(join) == pytest.approx(thermal_expansion_15c(join + 1e-9), rel=1.5e-3)


@given(product_densities)
def test_density_at_15_degrees_is_the_stated_one(density: float) -> None:
    assert density_at(288.15, density) == density


@given(product_densities, st.floats(233.0, 367.0), st.floats(0.1, 1.0))
def test_warmer_is_lighter(density: float, temperature: float, step: float) -> None:
    assert density_at(temperature + step, density) < density_at(temperature, density)


@given(product_densities)
def test_slope_at_15_degrees_is_the_expansion_coefficient(density: float) -> None:
    slope = (density_at(288.15 - 0.01, density) - density_at(288.15 + 0.01, density)) / 0.02
    assert slope / density == pytest.approx(thermal_expansion_15c(density), rel=1e-5)


@pytest.mark.parametrize(("temperature", "density"), [(200.0, 830.0), (400.0, 830.0), (300.0, 600.0)])
def test_density_range(temperature: float, density: float) -> None:
    with pytest.raises(OutsideRange):
        density_at(temperature, density)


def test_reference_petrol_is_thinner_than_any_diesel() -> None:
    assert DIESEL_VISCOSITY_40C[0] > PETROL_VISCOSITY_20C


def test_petrol_with_ethanol_against_published_heating_values() -> None:
    # lower heating values in BTU for a US gallon, as quoted: petrol 114 000, E10 111 836, E85 81 800, ethanol 76 100
    for share, heat, close in ((0.10, 111_836, 0.02), (0.85, 81_800, 0.005), (1.0, 76_100, 0.005)):
        assert ethanol_volume_factor(share) == pytest.approx(114_000 / heat, rel=close)
    assert ethanol_volume_factor(0.0) == 1.0
    with pytest.raises(OutsideRange):
        ethanol_volume_factor(1.2)


def test_the_table_of_expansion_ends_where_it_is_said_to() -> None:
    # ASTM D1250, table 54B: 653 to 1075 kg/m³ at 15 °C
    for inside in (653.0, 1075.0):
        assert thermal_expansion_15c(inside) > 0.0
    for outside in (652.0, 1076.0):
        with pytest.raises(OutsideRange):
            thermal_expansion_15c(outside)


def test_two_points_make_a_viscosity_line_and_one_does_not() -> None:
    two = DIESEL_VISCOSITY_POINTS[:2]
    for temperature, viscosity in two:
        assert viscosity_from_points(temperature, two) == pytest.approx(viscosity)
    with pytest.raises(ImpossibleInput, match="at least two points"):
        viscosity_from_points(two[0][0], two[:1])
