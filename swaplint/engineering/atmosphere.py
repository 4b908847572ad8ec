"""Standard atmosphere and what altitude costs an engine.

Source: ISO 2533, standard atmosphere, lowest layer (from -2 km to 11 km geopotential altitude; the same
numbers as the ICAO and the 1976 US standard atmosphere there). It is a reference, not the weather: on a hot
day the air is thinner at the same pressure, so use `air_density` with the day's temperature where that
matters.
"""

from __future__ import annotations

import math
from typing import Final

from swaplint.engineering.constants import R_DRY_AIR, G
from swaplint.engineering.guards import finite, not_negative, positive, within_range

SEA_LEVEL_PRESSURE: Final = 101_325.0
"""Standard pressure at sea level, Pa (ISO 2533)."""

SEA_LEVEL_TEMPERATURE: Final = 288.15
"""Standard temperature at sea level, K (ISO 2533)."""

LAPSE_RATE: Final = 0.0065
"""Fall of standard temperature with geopotential altitude below 11 km, K/m (ISO 2533)."""

EARTH_RADIUS: Final = 6_356_766.0
"""Nominal radius of the earth in the geopotential formula, m (ISO 2533)."""

_EXPONENT: Final = G / (LAPSE_RATE * R_DRY_AIR)
_LOWEST: Final = -2_000.0
_TROPOPAUSE: Final = 11_000.0


def geopotential_altitude(altitude: float) -> float:
    """Return the geopotential altitude, m, of a geometric (surveyed) altitude in m.

    H = r·z/(r + z) with r = 6 356 766 m (ISO 2533). At 3000 m the two differ by 1.4 m, so on the road either
    may be used. Geometric altitude from -2 km to 11 km, else `OutsideRange`.

    >>> round(geopotential_altitude(3000.0), 1)
    2998.6
    """
    within_range("altitude", altitude, _LOWEST, _TROPOPAUSE, "the model here ends at 11 km", "m")
    return EARTH_RADIUS * altitude / (EARTH_RADIUS + altitude)


def standard_temperature(altitude: float) -> float:
    """Return the standard air temperature, K, at a geopotential altitude in m from -2 km to 11 km.

    T = 288.15 - 0.0065·H (ISO 2533). `OutsideRange` beyond.

    >>> standard_temperature(1000.0)
    281.65
    """
    within_range("altitude", altitude, _LOWEST, _TROPOPAUSE, "the linear temperature layer ends there", "m")
    return SEA_LEVEL_TEMPERATURE - LAPSE_RATE * altitude


def standard_pressure(altitude: float) -> float:
    """Return the standard air pressure, Pa, at a geopotential altitude in m from -2 km to 11 km.

    p = 101 325·(T/288.15)^(g/(0.0065·R)) (ISO 2533), exponent 5.25588. `OutsideRange` beyond.

    >>> round(standard_pressure(1000.0))
    89875
    """
    # math.pow and not **, whose result type may be complex: here the base is always positive.
    return SEA_LEVEL_PRESSURE * math.pow(standard_temperature(altitude) / SEA_LEVEL_TEMPERATURE, _EXPONENT)


def standard_density(altitude: float) -> float:
    """Return the standard air density, kg/m³, at a geopotential altitude in m from -2 km to 11 km.

    `OutsideRange` beyond. Source: ISO 2533.

    >>> round(standard_density(0.0), 4)
    1.225
    """
    return air_density(standard_pressure(altitude), standard_temperature(altitude))


def air_density(pressure: float, temperature: float) -> float:
    """Return the density of dry air, kg/m³, at an absolute pressure in Pa and a temperature in K.

    Ideal gas, ρ = p/(R·T) with R = 287.05287 J/(kg·K) (ISO 2533). Pressure and temperature above zero, else
    `ImpossibleInput`. Moist air is lighter: by about 1 % at 30 °C and 60 % relative humidity, so this is the
    safe side for drag and the unsafe side for engine air flow.

    >>> round(air_density(101325.0, 313.15), 3)
    1.127
    """
    return positive("pressure", pressure) / (R_DRY_AIR * positive("temperature", temperature))


def altitude_derate(altitude: float, loss_per_metre: float, reference_altitude: float = 0.0) -> float:
    """Return the share of rated torque that is left at an altitude, from 1 down to 0.

    d = 1 - a·(h - h0) above the reference altitude h0, 1 at and below it, and never under 0.
    `altitude` and `reference_altitude` in m, `loss_per_metre` the share lost per metre (3 % per 300 m is
    0.0001), 0 or more, else `ImpossibleInput`. The loss and the reference altitude come from the engine's
    data sheet: a turbocharged engine holds its torque up to an altitude and then falls off. The straight line
    is common practice of data sheets.

    >>> round(altitude_derate(1200.0, 0.0001, reference_altitude=600.0), 3)
    0.94
    """
    above = max(0.0, finite("altitude", altitude) - finite("reference altitude", reference_altitude))
    return max(0.0, 1.0 - not_negative("loss per metre", loss_per_metre) * above)
