import math

import pytest
from fluids import ATMOSPHERE_1976
from hypothesis import given
from hypothesis import strategies as st

from swaplint.engineering.atmosphere import (
    air_density,
    altitude_derate,
    geopotential_altitude,
    standard_density,
    standard_pressure,
    standard_temperature,
)
from swaplint.engineering.guards import ImpossibleInput, OutsideRange

ALTITUDES = st.floats(-2000.0, 11000.0)

# Geopotential altitude m, temperature K, pressure Pa, density kg/m³: ISO 2533 / US Standard Atmosphere 1976
# tables by geopotential altitude (from memory).
ISO_2533 = [
    (0.0, 288.15, 101_325.0, 1.2250),
    (1000.0, 281.65, 89_874.6, 1.11164),
    (2000.0, 275.15, 79_495.2, 1.00649),
    (3000.0, 268.65, 70_108.5, 0.909122),
    (5000.0, 255.65, 54_019.9, 0.736116),
    (11000.0, 216.65, 22_632.1, 0.363918),
]

# Geometric altitude m, temperature K, pressure bar, as printed in a public engineering table of the
# international standard atmosphere (engineeringtoolbox.com, international-standard-atmosphere).
PUBLIC_TABLE = [
    (-1000.0, 294.7, 1.1393),
    (1000.0, 281.7, 0.8988),
    (3000.0, 268.7, 0.7012),
    (5000.0, 255.7, 0.5405),
]


@pytest.mark.parametrize(("altitude", "temperature", "pressure", "density"), ISO_2533)
def test_iso_2533_table(altitude, temperature, pressure, density):
    assert standard_temperature(altitude) == pytest.approx(temperature, abs=1e-9)
    # The gas constants of the two standards differ in the seventh digit, which shows at 11 km.
    assert standard_pressure(altitude) == pytest.approx(pressure, rel=5e-6)
    assert standard_density(altitude) == pytest.approx(density, rel=1e-5)


@pytest.mark.parametrize(("altitude", "temperature", "pressure"), PUBLIC_TABLE)
def test_public_table_by_geometric_altitude(altitude, temperature, pressure):
    level = geopotential_altitude(altitude)
    assert standard_temperature(level) == pytest.approx(temperature, abs=0.06)
    assert standard_pressure(level) == pytest.approx(pressure * 1e5, abs=6.0)


def test_tabulated_pressure_at_10000_feet():
    # 10.108 psi at 3048 m (public standard atmosphere table, engineersedge.com), one unit of the last digit.
    assert standard_pressure(geopotential_altitude(3048.0)) == pytest.approx(10.108 * 6894.757, rel=6e-4)


@given(st.floats(-1999.0, 11000.0))
def test_fluids_library(altitude):
    air = ATMOSPHERE_1976(altitude)  # takes geometric altitude
    level = geopotential_altitude(altitude)
    assert level == pytest.approx(air.H, rel=1e-6, abs=1e-3)
    assert standard_temperature(level) == pytest.approx(air.T, rel=1e-6)
    assert standard_pressure(level) == pytest.approx(air.P, rel=1e-5)
    assert standard_density(level) == pytest.approx(air.rho, rel=1e-5)


@given(ALTITUDES, ALTITUDES)
def test_air_gets_thinner_with_altitude(one, other):
    low, high = sorted((one, other))
    assert standard_pressure(low) >= standard_pressure(high)
    assert standard_density(low) >= standard_density(high)


@pytest.mark.parametrize("altitude", [-2000.1, 11000.1])
@pytest.mark.parametrize("model", [standard_pressure, standard_temperature, standard_density, geopotential_altitude])
def test_outside_the_lowest_layer_is_refused(model, altitude):
    with pytest.raises(OutsideRange):
        model(altitude)


@given(st.floats(1e4, 2e5), st.floats(220.0, 330.0), st.floats(0.5, 2.0))
def test_density_follows_the_ideal_gas(pressure, temperature, factor):
    assert air_density(pressure * factor, temperature) == pytest.approx(factor * air_density(pressure, temperature))
    assert air_density(pressure, temperature * factor) == pytest.approx(air_density(pressure, temperature) / factor)


def test_density_of_dry_air_at_20_degrees():
    # 1.2041 kg/m³ at 20 °C and 101.325 kPa (CRC handbook value for dry air, from memory).
    assert air_density(101_325.0, 293.15) == pytest.approx(1.2041, abs=1e-4)


@pytest.mark.parametrize(("pressure", "temperature"), [(0.0, 288.0), (-1.0, 288.0), (1e5, 0.0), (math.nan, 288.0)])
def test_impossible_air_is_refused(pressure, temperature):
    with pytest.raises(ImpossibleInput):
        air_density(pressure, temperature)


@pytest.mark.parametrize(
    ("altitude", "left"),
    [(-100.0, 1.0), (0.0, 1.0), (600.0, 1.0), (900.0, 0.97), (1200.0, 0.94), (1e5, 0.0)],
)
def test_derate_of_three_percent_per_300_m_above_600_m(altitude, left):
    # By hand: 1 - 0.03·(h - 600)/300, nothing gained below 600 m, never negative.
    assert altitude_derate(altitude, 0.03 / 300.0, reference_altitude=600.0) == pytest.approx(left)


@given(st.floats(-500.0, 5000.0), st.floats(-500.0, 5000.0), st.floats(0.0, 1e-3))
def test_derate_never_rises_with_altitude(one, other, loss):
    low, high = sorted((one, other))
    assert 0.0 <= altitude_derate(high, loss) <= altitude_derate(low, loss) <= 1.0


def test_a_derate_counts_from_the_sea_where_nothing_is_said():
    # 1 % for each 100 m: 90 % at 1000 m
    assert altitude_derate(1000.0, 1e-4) == pytest.approx(0.9, rel=1e-9)


def test_a_negative_loss_is_refused():
    with pytest.raises(ImpossibleInput):
        altitude_derate(1000.0, -1e-4)
