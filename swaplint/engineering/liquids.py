"""Fuels and oils against temperature: kinematic viscosity (Walther, ASTM D341) and density (ASTM D1250).

Both hold for petroleum liquids that are one clear phase: below the cloud point wax crystals form, and the
liquid is thicker than these functions say.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from swaplint.engineering.guards import ImpossibleInput, OutsideRange, positive, within_range
from swaplint.engineering.roots import settled

VISCOSITY_REACH = 25.0
"""How far outside the stated points a Walther line is followed, K (own convention; D341 sets no number)."""

DENSITY_REFERENCE_TEMPERATURE = 288.15
"""Temperature to which densities of petroleum products are referred, K: 15 °C (ASTM D1250, EN 590)."""

DIESEL_DENSITY_15C = (820.0, 845.0)
"""Density of diesel fuel at 15 °C, kg/m³, least and greatest, temperate grades (EN 590, from extracts)."""

DIESEL_VISCOSITY_40C = (2.0e-6, 4.5e-6)
"""Kinematic viscosity of diesel fuel at 40 °C, m²/s, least and greatest, temperate grades (EN 590, as above).

Arctic grades are thinner: 1.2e-6 to 4.0e-6 m²/s (EN 590, looked up in an extract)."""

DIESEL_VISCOSITY_POINTS = ((258.15, 14e-6), (273.15, 8.5e-6), (293.15, 4.6e-6))
"""Middling diesel fuel: (temperature K, kinematic viscosity m²/s) at -15, 0 and 20 °C.

Common practice, ± 30 % in the cold; the line through them meets 40 °C at 2.9e-6 m²/s, inside EN 590."""

PETROL_DENSITY_15C = 745.0
"""Middling density of petrol at 15 °C, kg/m³ (EN 228 allows 720 to 775; from memory)."""

PETROL_VISCOSITY_20C = 0.6e-6
"""Middling kinematic viscosity of petrol near 20 °C, m²/s (common practice; EN 228 sets none)."""

PSI = 6894.757
"""A pound on a square inch, Pa."""

_LEAST_VISCOSITY = 0.21e-6
_GREATEST_VISCOSITY = 2.0e1
_D341_SPAN = "ASTM D341 covers 0.21 to 2e7 mm²/s"


def walther_viscosity(temperature: float, point_1: tuple[float, float], point_2: tuple[float, float]) -> float:
    """Kinematic viscosity [m²/s] at `temperature` [K] on the Walther line through two known points.

    ASTM D341: log10 log10 Z is a straight line in log10 T, Z = ν + 0.7 + exp(-1.47 - 1.84·ν - 0.51·ν²), ν in
    mm²/s. Each point is (temperature K, kinematic viscosity m²/s); viscosities from 0.21 to 2e7 mm²/s, the
    hotter point having the smaller. Outside the points the line is followed for 25 K, no farther.

    >>> diesel_40, diesel_minus_15 = (313.15, 2.9e-6), (258.15, 14e-6)
    >>> round(walther_viscosity(273.15, diesel_40, diesel_minus_15) * 1e6, 1)
    8.0
    """
    (cold, thick), (hot, thin) = _line(point_1, point_2)
    positive("temperature", temperature)
    why = "the Walther line is followed for 25 K outside its points"
    within_range("temperature", temperature, cold - VISCOSITY_REACH, hot + VISCOSITY_REACH, why, "°C")
    position = math.log(temperature / cold) / math.log(hot / cold)
    w_cold, w_hot = _walther_scale(thick * 1e6), _walther_scale(thin * 1e6)
    return _viscosity_at_scale(w_cold + position * (w_hot - w_cold)) * 1e-6


def viscosity_from_points(temperature: float, points: Sequence[tuple[float, float]]) -> float:
    """Kinematic viscosity [m²/s] at `temperature` [K] from two or more known points (temperature K, m²/s).

    Between two neighbours, and up to 25 K beyond either end, on their Walther line (see `walther_viscosity`).
    Points in any order, each temperature once, viscosity falling with temperature.

    >>> round(viscosity_from_points(253.15, DIESEL_VISCOSITY_POINTS) * 1e6, 1)
    17.0
    """
    if len(points) < 2:
        raise ImpossibleInput("a viscosity line needs at least two points")
    pairs = list(pairwise(sorted(points)))
    for pair in pairs:
        _line(*pair)  # refuses points that repeat or rise, wherever `temperature` lies
    chosen = next((pair for pair in pairs if temperature <= pair[1][0]), pairs[-1])
    return walther_viscosity(temperature, *chosen)


def _line(point_1: tuple[float, float], point_2: tuple[float, float]) -> list[tuple[float, float]]:
    """Two points that a Walther line may run through, the colder one first."""
    (cold, thick), (hot, thin) = line = sorted((_known_point(point_1), _known_point(point_2)))
    if cold == hot:
        raise ImpossibleInput("the two viscosity points have the same temperature")
    if thin >= thick:
        raise ImpossibleInput("the viscosity of a liquid falls with temperature; these points do not")
    return line


def _known_point(point: tuple[float, float]) -> tuple[float, float]:
    temperature, viscosity = point
    positive("temperature of a viscosity point", temperature)
    positive("viscosity of a viscosity point", viscosity)
    within_range("viscosity", viscosity, _LEAST_VISCOSITY, _GREATEST_VISCOSITY, _D341_SPAN, "mm²/s")
    return temperature, viscosity


def _walther_scale(viscosity: float) -> float:
    return math.log10(math.log10(viscosity + 0.7 + _small(viscosity)))


def _viscosity_at_scale(scale: float) -> float:
    if not _walther_scale(_LEAST_VISCOSITY * 1e6) <= scale <= _walther_scale(_GREATEST_VISCOSITY * 1e6):
        raise OutsideRange(f"the viscosity leaves the range of the formula: {_D341_SPAN}")
    # The standard's explicit inverse is good to 0.2 % only; this way the stated points come back exactly. A third of
    # the error is left by each step for the thinnest liquid, less for all others.
    excess = math.pow(10.0, math.pow(10.0, scale)) - 0.7
    return settled(excess, lambda viscosity: excess - _small(viscosity))


def _small(viscosity: float) -> float:
    """What the standard adds to the viscosity of thin liquids, mm²/s."""
    return math.exp(-1.47 - 1.84 * viscosity - 0.51 * viscosity**2)


def thermal_expansion_15c(density_15c: float) -> float:
    """Thermal expansion coefficient [1/K] at 15 °C of a petroleum product of density `density_15c` [kg/m³].

    ASTM D1250 (API 11.1, table 54B of 1980): K0/ρ² + K1/ρ for petrol, jet fuel and fuel oils, with a
    transition between petrol and jet fuel. Range 653 to 1075 kg/m³. Constants from memory, agreeing with
    public programs.

    >>> round(thermal_expansion_15c(840.0), 6)
    0.000844
    """
    within_range("density at 15 °C", density_15c, 653.0, 1075.0, "ASTM D1250 table 54B ends there", "kg/m³")
    if density_15c <= 770.5:
        return 346.4228 / density_15c**2 + 0.4388 / density_15c
    if density_15c <= 787.5:
        return 2680.3206 / density_15c**2 - 0.00336312
    if density_15c <= 838.5:
        return 594.5418 / density_15c**2
    return 186.9696 / density_15c**2 + 0.4862 / density_15c


def density_at(temperature: float, density_15c: float) -> float:
    """Density [kg/m³] of a petroleum product at `temperature` [K] from its density at 15 °C [kg/m³].

    ASTM D1250: ρ = ρ15·exp(-α·ΔT·(1 + 0.8·α·ΔT)), α from `thermal_expansion_15c`. Range 233 to 368 K: the
    printed tables start at -18 °C, so that below it the formula is extended (by at most 22 K).

    >>> round(density_at(313.15, 832.0), 1)
    814.0
    """
    within_range("temperature", temperature, 233.0, 368.15, "ASTM D1250 table 54B, extended to -40 °C", "°C")
    step = thermal_expansion_15c(density_15c) * (temperature - DENSITY_REFERENCE_TEMPERATURE)
    return density_15c * math.exp(-step * (1.0 + 0.8 * step))


PETROL_HEAT = 31.8e9
"""Lower heating value of petrol without ethanol by volume, J/m³: 114 000 BTU for a US gallon (second-hand)."""

ETHANOL_HEAT = 21.2e9
"""Lower heating value of ethanol by volume, J/m³: 76 100 BTU for a US gallon; 26.8 MJ/kg (second-hand)."""


def petrol_vapour_pressure(temperature: float, reid: float) -> float:
    """Pressure [Pa] below which petrol of a Reid vapour pressure [Pa, at 37.8 °C] boils at a temperature [K].

    ln p = A - B/T with T in °R, p and RVP in psi, A = 15.64 - 1.854·√S - (0.8742 - 0.3280·√S)·ln RVP and B = 8742 -
    1042·√S - (1049 - 179.4·√S)·ln RVP, S = 3 for motor petrol: US EPA AP-42, figure 7.1-15 (as public code has it). For
    RVP of 30 to 110 kPa and -20 to 80 °C, else `OutsideRange`. The true pressure at 37.8 °C lies a few per cent above
    the Reid one, whose test lets some of the petrol evaporate.

    >>> round(petrol_vapour_pressure(311.0, 60e3) / 1e3, 1)
    64.0
    """
    within_range("Reid vapour pressure", reid, 30e3, 110e3, "the formula is for motor petrol", "kPa")
    within_range("temperature", temperature, 253.15, 353.15, "the formula is for stored petrol", "°C")
    root, log_reid = math.sqrt(3.0), math.log(reid / PSI)
    a = 15.64 - 1.854 * root - (0.8742 - 0.3280 * root) * log_reid
    b = 8742.0 - 1042.0 * root - (1049.0 - 179.4 * root) * log_reid
    return PSI * math.exp(a - b / (1.8 * temperature))


def ethanol_volume_factor(share: float) -> float:
    """Return how much more petrol with ethanol by volume carries the heat of petrol without.

    n = H_petrol/(x·H_ethanol + (1 - x)·H_petrol), x the share of ethanol by volume, 0 to 1, else `OutsideRange`. Equal
    heat, not equal efficiency: engines that are tuned for ethanol use a little less, and cold starts a little more.

    >>> round(ethanol_volume_factor(0.85), 3)
    1.395
    """
    within_range("share of ethanol", share, 0.0, 1.0, "it is a share of the whole", "%")
    return PETROL_HEAT / (share * ETHANOL_HEAT + (1.0 - share) * PETROL_HEAT)
