"""Lead-acid starter batteries: internal resistance, cranking voltage, rating, charge.

Per battery means per 12 V battery of six cells. The internal resistance here is the effective one of the
rating test, polarisation included; it describes a cranking battery, not a small load. A cold-cranking rating
is a current under one standard's time and voltage: ratings of different standards are never converted into
each other.

A battery can deliver a thousand amperes and gives off hydrogen: remove rings, disconnect negative first.
"""

from __future__ import annotations

import math
from enum import Enum
from typing import Final, NamedTuple

from .curves import interpolate
from .guards import ImpossibleInput, OutsideRange, not_negative, positive, reaches, share, within_range

RATING_TEMPERATURE: Final = 255.15
"""Temperature, K, of the cold-cranking tests: −18 °C."""

FULL_CHARGE_VOLTAGE: Final = 12.6
"""Open-circuit voltage, V, of a rested, fully charged battery at room temperature. Common practice."""

OPEN_CIRCUIT_VOLTAGES: Final[tuple[tuple[float, float], ...]] = (
    (0.25, 12.0),
    (0.50, 12.2),
    (0.75, 12.4),
    (1.00, 12.6),
)
"""State of charge to open-circuit voltage, V, of a rested flooded battery. Common practice.

A finer published list (12.06, 12.24, 12.45, 12.65 V) lies within 0.06 V; sources disagree by 0.3 V below a
quarter charge, so that this table ends there.
"""

WARM_RESISTANCE_RATIO: Final = 0.6
"""Internal resistance at +20 °C over that at −18 °C. Common practice."""

CURRENT_SLOPE: Final = 0.012
"""Gain of available cranking current per kelvin above −18 °C, as a share of the rating. Common practice."""

COLD_CURRENT_SLOPE: Final = 0.034
"""Loss of available cranking current per kelvin below −18 °C, as a share of the rating. Common practice.

From the widely printed table of available cranking power, 40 % at −18 °C and 25 % at −29 °C.
"""

LOST_WITH_CHARGE: Final = 0.6
"""Share of the cranking current that is lost for each share of the charge: see `cranking_share`."""

AGED_SHARE: Final = 0.75
"""Share of its rating that an old battery still has. Common practice."""

COLDEST: Final = 244.15
"""Lowest temperature, K, of the temperature laws here: −29 °C, where the printed table ends."""


class CrankingStandard(Enum):
    """The standard that a cold-cranking rating was measured to, all at −18 °C."""

    EN_50342_1 = "EN 50342-1"
    SAE_J537 = "SAE J537"
    DIN_43539_2 = "DIN 43539-2"


class CrankingTest(NamedTuple):
    """A 12 V battery at its rated current still has `voltage`, V, after `time`, s."""

    voltage: float
    time: float


CRANKING_TESTS: Final[dict[CrankingStandard, CrankingTest]] = {
    CrankingStandard.EN_50342_1: CrankingTest(7.5, 10.0),
    CrankingStandard.SAE_J537: CrankingTest(7.2, 30.0),
    CrankingStandard.DIN_43539_2: CrankingTest(9.0, 30.0),
}
"""The tests, looked up in public summaries that agree for these three; one glossary gives EN the SAE figures.

The IEC rating is left out: its editions differ and the summaries contradict each other.
"""


def resistance_factor(temperature: float) -> float:
    """Ratio of the internal resistance at a battery temperature, K, to that at −18 °C.

    Straight line from 1 at −18 °C to 0.6 at +20 °C, constant above; below −18 °C, to −29 °C, the reciprocal
    of the fall in available current. Common practice.

    >>> round(resistance_factor(265.15), 3)
    0.895
    """
    _known_temperature(temperature)
    above = temperature - RATING_TEMPERATURE
    if above < 0.0:
        return 1.0 / (1.0 + COLD_CURRENT_SLOPE * above)
    return 1.0 - (1.0 - WARM_RESISTANCE_RATIO) * min(above / 38.0, 1.0)


def internal_resistance(
    rating: float, standard: CrankingStandard, temperature: float = RATING_TEMPERATURE, charge: float = 1.0
) -> float:
    """Effective internal resistance, Ω, of one 12 V battery from its cold-cranking rating, A, at a state of charge.

    (U_oc − test voltage) / (share · rating) at −18 °C, times `resistance_factor`: the test is made with a full battery,
    and one that is not gives less current down to the test voltage. Sources: EN 50342-1 (7.5 V at 10 s), SAE J537
    (7.2 V at 30 s), DIN 43539-2 (9.0 V at 30 s); the method, the temperature law and `cranking_share` are common
    practice.

    >>> round(internal_resistance(850.0, CrankingStandard.EN_50342_1) * 1000, 2)
    6.0
    >>> round(internal_resistance(850.0, CrankingStandard.EN_50342_1, charge=0.75) * 1000, 2)
    6.78
    """
    drop = open_circuit_voltage(charge) - CRANKING_TESTS[standard].voltage
    return drop / (cranking_share(charge) * positive("cold-cranking rating", rating)) * resistance_factor(temperature)


def cranking_share(charge: float) -> float:
    """Share of its cold-cranking rating that a battery still gives at a state of charge: 1 − 0.6 · (1 − charge).

    85 % at three quarters. Common practice, from memory, 75 to 95 % there: US Army TM 5-1185 prints 75 % of the
    cranking power for 75 % of the charge (second-hand). Below half charge `OutsideRange`.

    >>> round(cranking_share(0.75), 2), cranking_share(1.0)
    (0.85, 1.0)
    """
    within_range("state of charge", charge, 0.5, 1.0, "no practice is known below half charge", "%")
    return 1.0 - LOST_WITH_CHARGE * (1.0 - charge)


def available_cranking_current(rating: float, temperature: float) -> float:
    """Rating, A, that the cranking test would find at another battery temperature, K, than −18 °C.

    Rating × [1 + 0.012/K · (T − (−18 °C))] above −18 °C, constant from 27 °C; 0.034/K below, to −29 °C.
    Common practice; printed tables differ widely and most give a steeper rise with temperature.

    >>> available_cranking_current(600.0, 255.15)
    600.0
    >>> round(available_cranking_current(600.0, 265.15))
    672
    """
    positive("cold-cranking rating", rating)
    _known_temperature(temperature)
    above = temperature - RATING_TEMPERATURE
    slope = CURRENT_SLOPE if above >= 0.0 else COLD_CURRENT_SLOPE
    return rating * (1.0 + slope * min(above, 45.0))


def bank_resistance(resistance: float, in_series: int = 1, in_parallel: int = 1) -> float:
    """Resistance, Ω, of equal batteries, Ω each: `in_parallel` strings of `in_series`.

    >>> bank_resistance(6.0e-3, in_series=2)
    0.012
    """
    _count("batteries in series", in_series)
    _count("strings in parallel", in_parallel)
    return positive("internal resistance", resistance) * in_series / in_parallel


def open_circuit_voltage(state_of_charge: float, in_series: int = 1) -> float:
    """Open-circuit voltage, V, of rested 12 V batteries in series at a state of charge from 0.25 to 1.

    Straight between the points of `OPEN_CIRCUIT_VOLTAGES`; common practice. Below 0.25 `OutsideRange`.

    >>> round(open_circuit_voltage(0.75, in_series=2), 1)
    24.8
    """
    charge, lowest = share("state of charge", state_of_charge), OPEN_CIRCUIT_VOLTAGES[0][0]
    within_range("state of charge", charge, lowest, math.inf, "sources disagree below a quarter charge", "%")
    _count("batteries in series", in_series)
    return in_series * interpolate(OPEN_CIRCUIT_VOLTAGES, state_of_charge)


def state_of_charge(voltage: float) -> float:
    """State of charge of one rested 12 V battery from its open-circuit voltage, V; 1 above 12.6 V.

    Inverse of `open_circuit_voltage`. Below 12.0 V and above 13.0 V (surface charge) `OutsideRange`.

    >>> round(state_of_charge(12.3), 3)
    0.625
    """
    within_range("open-circuit voltage", voltage, 12.0, 13.0, "the battery is flat, not rested, or not 12 V", "V")
    swapped = tuple((volts, charge) for charge, volts in OPEN_CIRCUIT_VOLTAGES)
    return interpolate(swapped, min(voltage, FULL_CHARGE_VOLTAGE))


def cranking_voltage(
    open_circuit: float, current: float, battery_resistance: float, circuit_resistance: float = 0.0
) -> float:
    """Voltage, V, left while cranking: U_oc − I·(R_battery + R_circuit).

    With the circuit's resistance 0 it is the voltage at the battery terminals. A current that the circuit
    cannot carry (voltage below zero) is `OutsideRange`. Ohm's law.

    >>> round(cranking_voltage(25.2, 520.0, 12.0e-3, 1.5e-3), 2)
    18.18
    """
    positive("open-circuit voltage", open_circuit)
    total = positive("battery resistance", battery_resistance) + not_negative("circuit resistance", circuit_resistance)
    left = open_circuit - not_negative("cranking current", current) * total
    if left < 0.0:
        raise OutsideRange(f"the circuit can carry at most {open_circuit / total:.0f} A, not {current:g} A")
    return left


def rating_needed(
    lowest_voltage: float,
    current: float,
    circuit_resistance: float,
    standard: CrankingStandard,
    *,
    temperature: float = RATING_TEMPERATURE,
    charge: float = 1.0,
    in_series: int = 1,
    in_parallel: int = 1,
) -> float:
    """Cold-cranking rating, A, to `standard`, that each battery needs to hold a voltage, V, at a current, A.

    Inverse of `internal_resistance` and `cranking_voltage`. When the circuit alone already takes too much,
    no battery helps: `OutsideRange`.

    >>> round(rating_needed(7.5, 320.0, 2.0e-3, CrankingStandard.EN_50342_1))
    366
    """
    spare = open_circuit_voltage(charge, in_series) - not_negative("lowest voltage", lowest_voltage)
    bank = spare / positive("cranking current", current) - not_negative("circuit resistance", circuit_resistance)
    if bank <= 0.0:
        raise OutsideRange("the circuit's resistance alone drops too much; no battery helps")
    per_ampere = internal_resistance(1.0, standard, temperature, charge)
    return bank_resistance(per_ampere, in_series, in_parallel) / bank


def next_en_rating(current: float) -> float:
    """Next cold-cranking rating, A, in the steps in which EN ratings are sold, at or above a current, A.

    Steps of 10 A to 200 A, 20 to 300, 30 to 600, 40 to 800, 50 above. Source: public summaries of EN 50342.

    >>> next_en_rating(365.0), next_en_rating(761.0)
    (390.0, 800.0)
    """
    positive("current", current)
    rating = 0.0
    for top, step in ((200.0, 10.0), (300.0, 20.0), (600.0, 30.0), (800.0, 40.0), (float("inf"), 50.0)):
        while rating < top:
            if reaches(rating, current):
                return rating
            rating += step
    raise AssertionError("the last range has no end")


def standing_charge(current: float, time: float) -> float:
    """Charge, C, that a key-off current, A, takes in a time, s; self-discharge is not in it.

    >>> standing_charge(0.030, 14 * 86400) / 3600
    10.08
    """
    return not_negative("key-off current", current) * not_negative("standing time", time)


def charge_left(capacity: float, current: float, time: float, start: float = 1.0) -> float:
    """State of charge after standing: start − I·t/capacity (C), not below 0.

    Small currents get at least the rated capacity, so that no correction for the rate is made.

    >>> round(charge_left(110 * 3600, 0.030, 14 * 86400), 3)
    0.908
    """
    lost = standing_charge(current, time) / positive("capacity", capacity)
    return max(share("state of charge", start) - lost, 0.0)


def _count(name: str, number: int) -> None:
    if number < 1:
        raise ImpossibleInput(f"number of {name} must be at least 1, not {number}")


def _known_temperature(temperature: float) -> None:
    within_range("battery temperature", temperature, COLDEST, 333.15, "no practice is known there", "°C")
