"""Estimates of the power system: what a meter tells of batteries and of the way back through the frame."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, OutsideRange, book, practice, quantity

from .quantities import refuse_other_than_12_volts

OHM = practice("Ohm's law between two readings")
RESERVES = book(
    "Battery textbook pages and makers' figures: ampere-hours 0.6 of the reserve in minutes", known="second-hand"
)
WARM_RESISTANCE = book("Cold-cranking rating against the internal resistance of a warm battery", known="from memory")
USUAL_BATTERIES = book("Usual flooded batteries: cranking rating and mass for each ampere-hour", known="from memory")
LEAST_STEP = 50.0
"""Amperes between two loads, below which the voltages lie too near to each other."""


@quantity(
    "power.frame-resistance-by-drop",
    "resistance",
    "mohm",
    formula="R = ΔU/I",
    symbols={"ΔU": "electrics.frame_drop", "I": "electrics.frame_current"},
    sources=[OHM.giving("formula")],
    stands_in_for="electrics.frame_resistance",
    tolerance=0.2,
)
def frame_resistance_by_drop(build: Build) -> float:
    """Estimate the resistance of the frame from the voltage across it and the current through it."""
    return build.electrics.frame_drop / build.electrics.frame_current


@quantity(
    "power.capacity-by-reserve",
    "charge",
    "Ah",
    formula="C = 0.6 Ah for each minute of reserve capacity",
    sources=[RESERVES.giving("formula", "0.6 Ah for each minute")],
    stands_in_for="electrics.batteries.*.capacity",
    tolerance=0.3,
)
def capacity_by_reserve(build: Build, battery: Any) -> float:
    """Estimate the capacity from the reserve capacity on its label."""
    return float(battery.reserve / 60.0 * 0.6 * 3600.0)


@quantity(
    "power.cranking-by-two-loads",
    "current",
    "A",
    formula="CCA = 3 V · ΔI/ΔU, of a warm battery of 12 V",
    sources=[WARM_RESISTANCE.giving("formula", "3 V over the resistance of a warm battery")],
    stands_in_for="electrics.batteries.*.cca",
    tolerance=0.5,
)
def cranking_by_two_loads(build: Build, battery: Any) -> float:
    """Estimate the cold-cranking rating from the battery's voltage under two loads."""
    refuse_other_than_12_volts(battery)
    if battery.step_current < LEAST_STEP:
        raise OutsideRange("the two loads lie too near to each other")
    return float(3.0 * battery.step_current / battery.step_voltage)


@quantity(
    "power.cranking-from-capacity",  # by its name behind the one by two loads, which asks the battery itself
    "current",
    "A",
    formula="CCA = 8.5 A for each Ah of a flooded battery of 12 V, 7 to 10",
    sources=[USUAL_BATTERIES.giving("formula", "8.5 A for each Ah")],
    stands_in_for="electrics.batteries.*.cca",
    tolerance=0.5,
)
def cranking_from_capacity(build: Build, battery: Any) -> float:
    """Estimate the cold-cranking rating from the capacity, where the label says no more."""
    refuse_other_than_12_volts(battery)
    return float(8.5 * battery.capacity / 3600.0)


@quantity(
    "power.battery-mass-by-capacity",
    "mass",
    "kg",
    formula="m = 0.25 kg for each Ah at 12 V, 0.23 to 0.27",
    symbols={"Ah": "electrics.batteries.*.capacity"},
    sources=[USUAL_BATTERIES.giving("formula", "0.25 kg for each Ah at 12 V")],
    stands_in_for="electrics.batteries.*.mass",
    tolerance=0.5,
)
def battery_mass_by_capacity(build: Build, battery: Any) -> float:
    """Estimate the mass of a battery from its capacity."""
    return float(0.25 * battery.capacity / 3600.0 * battery.voltage / 12.0)
