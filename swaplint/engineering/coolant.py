"""Engine coolant: mixtures of ethylene glycol and water, named by the volume share of glycol.

The share is the volume of pure ethylene glycol over the sum of the volumes before mixing, as workshops and
the ASHRAE tables count it; `mass_share` gives the share by mass. Temperatures are in kelvin, pressures
absolute unless stated as gauge. Additives move these values slightly; the coolant's data sheet comes first.

Hot coolant under pressure burns: let a system cool before it is opened. Ethylene glycol is poisonous to
people and animals. A higher cap pressure loads radiator, heater core and hoses, which must be rated for it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from swaplint.engineering.curves import interpolate
from swaplint.engineering.guards import OutsideRange, not_negative, positive, reaches, share, within_range

MOLAR_MASS_WATER: Final = 0.018015
"""kg/mol."""

MOLAR_MASS_GLYCOL: Final = 0.062068
"""Ethylene glycol C₂H₆O₂, kg/mol."""

DENSITY_WATER_20C: Final = 998.2
"""Water at 20 °C, kg/m³ (CRC Handbook of Chemistry and Physics)."""

DENSITY_GLYCOL_20C: Final = 1113.5
"""Ethylene glycol at 20 °C, kg/m³ (CRC Handbook of Chemistry and Physics)."""

LARGEST_SHARE: Final = 0.6
"""Largest glycol share by volume that the tables of this module cover."""

_ZERO_CELSIUS: Final = 273.15
_POUND_PER_CUBIC_FOOT: Final = 0.45359237 / 0.3048**3  # exact, kg/m³

_SHARES: Final = (0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6)

# Density in lb/ft³ at °F, as printed in the ASHRAE Handbook - Fundamentals, chapter "Physical properties of
# secondary coolants (brines)", table "Density of aqueous solutions of ethylene glycol"; columns are _SHARES,
# a blank is a frozen mixture. Water at 220 °F and above is left out there (it boils at 1 atm) and was
# computed with IAPWS-95 in CoolProp 8.0.0 at 300 kPa.
_DENSITY: Final[Sequence[tuple[float, tuple[float | None, ...]]]] = (
    (-30.0, (None, None, None, None, None, 68.12, 69.03)),
    (-20.0, (None, None, None, None, None, 68.05, 68.96)),
    (-10.0, (None, None, None, None, 67.04, 67.98, 68.87)),
    (0.0, (None, None, None, None, 66.97, 67.90, 68.78)),
    (10.0, (None, None, None, 65.93, 66.89, 67.80, 68.67)),
    (20.0, (None, None, 64.83, 65.85, 66.80, 67.70, 68.56)),
    (30.0, (None, 63.69, 64.75, 65.76, 66.70, 67.59, 68.44)),
    (40.0, (62.42, 63.61, 64.66, 65.66, 66.59, 67.47, 68.31)),
    (60.0, (62.38, 63.42, 64.45, 65.43, 66.34, 67.20, 68.02)),
    (80.0, (62.23, 63.19, 64.21, 65.17, 66.05, 66.90, 67.69)),
    (100.0, (62.00, 62.93, 63.93, 64.86, 65.73, 66.55, 67.32)),
    (120.0, (61.73, 62.63, 63.61, 64.52, 65.37, 66.17, 66.92)),
    (140.0, (61.39, 62.30, 63.25, 64.15, 64.98, 65.75, 66.48)),
    (160.0, (61.01, 61.92, 62.86, 63.73, 64.54, 65.30, 66.00)),
    (180.0, (60.57, 61.51, 62.42, 63.28, 64.07, 64.80, 65.49)),
    (200.0, (60.13, 61.06, 61.95, 62.79, 63.56, 64.27, 64.93)),
    (220.0, (59.63, 60.57, 61.45, 62.27, 63.01, 63.70, 64.34)),
    (240.0, (59.10, 60.05, 60.90, 61.70, 62.43, 63.10, 63.71)),
    (250.0, (58.82, 59.77, 60.62, 61.40, 62.12, 62.78, 63.39)),
)

# Specific heat in J/(kg·K) at °C, computed with CoolProp 8.0.0: mixtures with INCOMP::AEG (which fits the
# ASHRAE tables and is straight in temperature; it ends at 100 °C and its line is drawn on to 120 °C here),
# water with IAPWS-95 at 300 kPa.
_SPECIFIC_HEAT: Final[Sequence[tuple[float, tuple[float, ...]]]] = (
    (0.0, (4218.4, 3937.0, 3768.7, 3588.6, 3401.0, 3203.4, 2996.6)),
    (20.0, (4183.4, 3971.9, 3814.7, 3645.4, 3468.1, 3280.6, 3083.8)),
    (40.0, (4178.9, 4006.7, 3860.8, 3702.1, 3535.2, 3357.8, 3171.0)),
    (80.0, (4196.3, 4076.6, 3952.8, 3815.5, 3669.3, 3512.3, 3345.4)),
    (100.0, (4215.2, 4111.8, 3998.9, 3872.2, 3736.4, 3589.7, 3432.8)),
    (120.0, (4243.3, 4147.0, 4045.0, 3928.9, 3803.5, 3667.1, 3520.2)),
)

# Kinematic viscosity in mm²/s at °C, computed with CoolProp 8.0.0: mixtures with INCOMP::AEG, water with IAPWS-95 at
# 300 kPa. Straight lines between the rows overstate it by a few per cent, on the side of more pressure loss.
_VISCOSITY: Final[Sequence[tuple[float, tuple[float, ...]]]] = (
    (0.0, (1.791, 2.019, 2.905, 3.950, 5.580, 7.658, 10.992)),
    (20.0, (1.003, 1.205, 1.618, 2.063, 2.765, 3.619, 4.885)),
    (40.0, (0.658, 0.794, 1.037, 1.279, 1.658, 2.081, 2.620)),
    (60.0, (0.474, 0.571, 0.736, 0.889, 1.125, 1.364, 1.606)),
    (80.0, (0.364, 0.443, 0.555, 0.653, 0.810, 0.956, 1.066)),
    (100.0, (0.294, 0.366, 0.428, 0.480, 0.578, 0.671, 0.726)),
)

# Freezing onset (first ice) in °C at the volume share, computed with CoolProp 8.0.0 INCOMP::AEG.
_FREEZING_ONSET: Final = (
    (0.0, 0.0),
    (0.10, -3.62),
    (0.15, -6.15),
    (0.20, -8.98),
    (0.25, -12.12),
    (0.30, -15.70),
    (0.35, -19.88),
    (0.40, -24.80),
    (0.45, -30.54),
    (0.50, -37.11),
    (0.55, -44.37),
    (0.60, -52.02),
)

# IAPWS-IF97, region 4, coefficients n1 to n10 of the saturation line (IAPWS R7-97, table 34).
_SATURATION: Final = (
    0.11670521452767e4,
    -0.72421316703206e6,
    -0.17073846940092e2,
    0.12020824702470e5,
    -0.32325550322333e7,
    0.14915108613530e2,
    -0.48232657361591e4,
    0.40511340542057e6,
    -0.23855557567849,
    0.65017534844798e3,
)


def water_saturation_pressure(temperature: float) -> float:
    """Return the absolute pressure in Pa at which water boils at `temperature`.

    Args:
        temperature: K, 273.15 to 647.096 (the critical point).

    Raises:
        ImpossibleInput: not a finite number.
        OutsideRange: outside the range.

    Source: IAPWS-IF97, region 4, basic equation (IAPWS R7-97).

    >>> round(water_saturation_pressure(373.15))
    101418
    """
    within_range("temperature", temperature, 273.15, 647.096, "water has no boiling curve there", "°C")
    n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 = _SATURATION
    theta = temperature + n9 / (temperature - n10)
    a = theta * theta + n1 * theta + n2
    b = n3 * theta * theta + n4 * theta + n5
    c = n6 * theta * theta + n7 * theta + n8
    root: float = 2.0 * c / (-b + math.sqrt(b * b - 4.0 * a * c))
    return 1e6 * root * root * root * root


def water_saturation_temperature(pressure: float) -> float:
    """Return the temperature in K at which water boils under the absolute `pressure`.

    Args:
        pressure: Pa absolute, 611.213 to 22.064e6.

    Raises:
        ImpossibleInput: not a finite number.
        OutsideRange: outside the range.

    Source: IAPWS-IF97, region 4, backward equation (IAPWS R7-97).

    >>> round(water_saturation_temperature(101325.0) - 273.15, 2)
    99.97
    """
    within_range("pressure", pressure, 611.213, 22.064e6, "water has no boiling curve there", "kPa")
    n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 = _SATURATION
    beta = math.sqrt(math.sqrt(pressure / 1e6))
    e = beta * beta + n3 * beta + n6
    f = n1 * beta * beta + n4 * beta + n7
    g = n2 * beta * beta + n5 * beta + n8
    d = 2.0 * g / (-f - math.sqrt(f * f - 4.0 * e * g))
    return 0.5 * (n10 + d - math.sqrt((n10 + d) ** 2 - 4.0 * (n9 + n10 * d)))


def mass_share(glycol_share: float) -> float:
    """Return the share of glycol by mass of a mixture with the volume share `glycol_share`.

    Args:
        glycol_share: glycol by volume before mixing at 20 °C, 0 to 1.

    Raises:
        ImpossibleInput: outside 0 to 1.

    Source: definition, with the densities of the pure liquids at 20 °C (CRC Handbook).

    >>> round(mass_share(0.5), 4)
    0.5273
    """
    share("glycol share", glycol_share)
    glycol = glycol_share * DENSITY_GLYCOL_20C
    return glycol / (glycol + (1.0 - glycol_share) * DENSITY_WATER_20C)


def water_mole_fraction(glycol_share: float) -> float:
    """Return the mole fraction of water in a mixture with the volume share `glycol_share` of glycol.

    Args:
        glycol_share: glycol by volume before mixing at 20 °C, 0 to 1.

    Raises:
        ImpossibleInput: outside 0 to 1.

    Source: definition, with the densities of `mass_share` and the molar masses of both.

    >>> round(water_mole_fraction(0.5), 4)
    0.7554
    """
    glycol = mass_share(glycol_share)
    water_moles = (1.0 - glycol) / MOLAR_MASS_WATER
    return water_moles / (water_moles + glycol / MOLAR_MASS_GLYCOL)


def vapour_pressure(temperature: float, glycol_share: float) -> float:
    """Return the absolute pressure in Pa under which the coolant would boil at `temperature`.

    Less the ambient pressure this is the gauge pressure a cap must hold.

    Args:
        temperature: K, 273.15 to 433.15.
        glycol_share: glycol by volume, 0 to 0.6.

    Raises:
        ImpossibleInput: an impossible argument.
        OutsideRange: outside the range.

    Source: Raoult's law, p = x_water·p_sat(T), with glycol taken as not volatile and IAPWS-IF97 for water. It
    agrees with published boiling points of these mixtures within about 1 K; additives are not counted.

    >>> round(vapour_pressure(373.15, 0.0))
    101418
    """
    within_range("temperature", temperature, 273.15, 433.15, "no coolant circuit runs there", "°C")
    _covered(glycol_share)
    return water_mole_fraction(glycol_share) * water_saturation_pressure(temperature)


def boiling_point(pressure: float, glycol_share: float) -> float:
    """Return the temperature in K at which the coolant begins to boil under the absolute `pressure`.

    Args:
        pressure: Pa absolute, 20e3 to 400e3.
        glycol_share: glycol by volume, 0 to 0.6.

    Raises:
        ImpossibleInput: an impossible argument.
        OutsideRange: outside the range.

    Source: Raoult's law, T = T_sat,water(p/x_water); see `vapour_pressure` for what it leaves out.

    >>> round(boiling_point(101325.0, 0.5) - 273.15, 1)
    108.0
    """
    positive("pressure", pressure)
    within_range("pressure", pressure, 20e3, 400e3, "no coolant circuit runs there", "kPa")
    _covered(glycol_share)
    return water_saturation_temperature(pressure / water_mole_fraction(glycol_share))


def boil_margin(coolant_temperature: float, cap_pressure: float, ambient_pressure: float, glycol_share: float) -> float:
    """Return how far in K the coolant is below boiling; negative when it boils.

    Args:
        coolant_temperature: hottest coolant, usually the top tank at full load, K, greater than zero.
        cap_pressure: opening pressure of the cap, Pa gauge, zero or more (zero for an open system).
        ambient_pressure: Pa absolute at the altitude in question; the sum with `cap_pressure` must lie in the
            range of `boiling_point`.
        glycol_share: glycol by volume, 0 to 0.6.

    Raises:
        ImpossibleInput: an impossible argument.
        OutsideRange: outside the range of `boiling_point`.

    Source: `boiling_point` at the sum of ambient and cap pressure. Pressure that the pump adds or takes away
    locally is not counted: at the pump inlet the margin is smaller.

    >>> round(boil_margin(378.15, 100e3, 101325.0, 0.5), 1)
    24.5
    """
    positive("coolant temperature", coolant_temperature)
    not_negative("cap pressure", cap_pressure)
    positive("ambient pressure", ambient_pressure)
    return boiling_point(ambient_pressure + cap_pressure, glycol_share) - coolant_temperature


def freezing_onset(glycol_share: float) -> float:
    """Return the temperature in K at which the first ice forms in the coolant.

    Args:
        glycol_share: glycol by volume, 0 to 0.6. Beyond about 0.68 more glycol raises the freezing
            point again.

    Raises:
        ImpossibleInput: outside 0 to 1.
        OutsideRange: above 0.6.

    Source: CoolProp 8.0.0, fluid AEG (aqueous ethylene glycol by volume, ASHRAE data), straight lines between
    table points. Tables by volume agree within 1 K; Melinder's data for glycol without inhibitors (by mass)
    lie up to 3.5 K lower, so this is the cautious one.

    >>> round(freezing_onset(0.4) - 273.15, 1)
    -24.8
    """
    _covered(glycol_share)
    return interpolate(_FREEZING_ONSET, glycol_share) + _ZERO_CELSIUS


def share_for_freezing_onset(temperature: float) -> float:
    """Return the glycol share by volume whose freezing onset is `temperature`; 0 for 0 °C or warmer.

    Args:
        temperature: K, from 221.13 (the freezing onset at a share of 0.6).

    Raises:
        ImpossibleInput: zero, negative or not finite.
        OutsideRange: colder than the table protects.

    Source: inverse of `freezing_onset`.

    >>> round(share_for_freezing_onset(248.35), 3)
    0.4
    """
    positive("temperature", temperature)
    celsius = min(temperature - _ZERO_CELSIUS, 0.0)
    if not reaches(celsius, _FREEZING_ONSET[-1][1]):
        raise OutsideRange(f"no mixture of up to {100.0 * LARGEST_SHARE:.0f} % glycol protects to {celsius:.1f} °C")
    inverse = tuple((onset, glycol) for glycol, onset in reversed(_FREEZING_ONSET))
    return interpolate(inverse, celsius)


def density(glycol_share: float, temperature: float) -> float:
    """Return the density of the coolant in kg/m³.

    Args:
        glycol_share: glycol by volume, 0 to 0.6.
        temperature: K, from the freezing point of the next leaner tabled mixture (steps of 0.1), at the
            coldest 238.71 (-34 °C), to 394.26 (121 °C). The liquid is under enough pressure not to boil.

    Raises:
        ImpossibleInput: an impossible argument.
        OutsideRange: outside the table, or frozen.

    Source: ASHRAE Handbook - Fundamentals, density of aqueous solutions of ethylene glycol (industrially
    inhibited), straight lines between table points.

    >>> round(density(0.5, 288.70556), 1)
    1076.4
    """
    positive("temperature", temperature)
    within_range("coolant temperature", temperature, 238.706, 394.261, "the density table ends there", "°C")
    fahrenheit = (temperature - _ZERO_CELSIUS) * 1.8 + 32.0
    return _POUND_PER_CUBIC_FOOT * _between_columns(_DENSITY, glycol_share, fahrenheit)


def specific_heat(glycol_share: float, temperature: float) -> float:
    """Return the specific heat of the coolant in J/(kg·K).

    Args:
        glycol_share: glycol by volume, 0 to 0.6.
        temperature: K, 273.15 to 393.15 (0 to 120 °C).

    Raises:
        ImpossibleInput: an impossible argument.
        OutsideRange: outside the table.

    Source: CoolProp 8.0.0, fluid AEG (aqueous ethylene glycol by volume, ASHRAE data), drawn on in a straight
    line from 100 to 120 °C; water by IAPWS-95.

    >>> round(specific_heat(0.5, 353.15))
    3512
    """
    positive("temperature", temperature)
    within_range("coolant temperature", temperature, 273.15, 393.15, "the specific heat table ends there", "°C")
    celsius = temperature - _ZERO_CELSIUS
    return _between_columns(_SPECIFIC_HEAT, glycol_share, celsius)


def kinematic_viscosity(glycol_share: float, temperature: float) -> float:
    """Return the kinematic viscosity of the coolant in m²/s.

    Args:
        glycol_share: glycol by volume, 0 to 0.6.
        temperature: K, 273.15 to 373.15 (0 to 100 °C).

    Raises:
        ImpossibleInput: an impossible argument.
        OutsideRange: outside the table.

    Source: CoolProp 8.0.0, fluid AEG (aqueous ethylene glycol by volume, ASHRAE data), straight lines between table
    points; water by IAPWS-95.

    >>> round(kinematic_viscosity(0.5, 353.15) * 1e6, 3)
    0.956
    """
    positive("temperature", temperature)
    within_range("coolant temperature", temperature, 273.15, 373.15, "the viscosity table ends there", "°C")
    return 1e-6 * _between_columns(_VISCOSITY, glycol_share, temperature - _ZERO_CELSIUS)


def capacity_rate(volume_flow: float, glycol_share: float, temperature: float) -> float:
    """Return the heat capacity rate ρ·c_p·V̇ of a coolant flow in W/K.

    Args:
        volume_flow: m³/s, greater than zero.
        glycol_share: glycol by volume, 0 to 0.6.
        temperature: K, 273.15 to 393.15 and not frozen.

    Raises:
        ImpossibleInput: an impossible argument.
        OutsideRange: outside the property tables.

    Source: definition, with `density` and `specific_heat`.

    >>> round(capacity_rate(0.001, 0.5, 333.15), 1)
    3617.8
    """
    positive("volume flow", volume_flow)
    return volume_flow * density(glycol_share, temperature) * specific_heat(glycol_share, temperature)


def expansion(glycol_share: float, cold: float, hot: float) -> float:
    """Return the growth in volume from `cold` to `hot` as a share of the cold volume, ρ_cold/ρ_hot − 1.

    Args:
        glycol_share: glycol by volume, 0 to 0.6.
        cold: temperature of the filled system, K, in the range of `density`.
        hot: K, in the range of `density`. Below `cold` the result is negative (contraction).

    Raises:
        ImpossibleInput: an impossible argument.
        OutsideRange: outside the range of `density`.

    Source: conservation of mass. The metal around the coolant grows too, so the need is slightly overstated.

    >>> round(expansion(0.5, 293.15, 383.15), 3)
    0.058
    """
    return density(glycol_share, cold) / density(glycol_share, hot) - 1.0


def _covered(glycol_share: float) -> float:
    share("glycol share", glycol_share)
    return within_range("glycol share", glycol_share, 0.0, LARGEST_SHARE, "the tables end there", "%")


def _between_columns(
    table: Sequence[tuple[float, Sequence[float | None]]], glycol_share: float, temperature: float
) -> float:
    """Read a table of temperature rows and share columns by straight lines both ways."""
    _covered(glycol_share)
    right = next(i for i in range(1, len(_SHARES)) if glycol_share <= _SHARES[i])
    weight = (glycol_share - _SHARES[right - 1]) / (_SHARES[right] - _SHARES[right - 1])
    columns = [(right - 1, 1.0 - weight), (right, weight)]
    total = 0.0
    for column, part in columns:
        if part == 0.0:
            continue
        total += part * _down_column(table, column, temperature)
    return total


def _down_column(table: Sequence[tuple[float, Sequence[float | None]]], column: int, temperature: float) -> float:
    points = [(row_temperature, value) for row_temperature, row in table if (value := row[column]) is not None]
    if temperature < points[0][0]:
        raise OutsideRange(
            f"a mixture with {100.0 * _SHARES[column]:.0f} % of glycol is frozen or not in the table so cold"
        )
    return interpolate(points, temperature)
