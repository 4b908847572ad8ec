"""Estimates of the exhaust: its gas from the engine's air."""

from __future__ import annotations

from swaplint.api import Build, book, practice, quantity
from swaplint.engineering import curves

AIR_AND_FUEL = practice("exhaust gas is the air and the fuel burnt in it: 21 to 1 in diesels, 13.5 to 1 in others")

HEAT_IN_GAS = book(
    "Heat in the exhaust over the power of an engine: 0.7 to 0.9 of today's diesels, 1.0 to 1.4 of petrol engines",
    known="from memory",
)
AIR_IN = 298.15
"""Air that the engine takes in, K."""
HEAT_DIESEL, HEAT_PETROL = 0.8, 1.18
"""Heat in the exhaust over the power at the crank; of petrol engines 30 to 35 % of the fuel against 25 to 30 %."""
WARMED_DIESEL, WARMED_PETROL = 1100.0, 1200.0
"""Mean specific heat of the gas from the cold to what it leaves with, J/(kg·K): lean, and burnt without spare air."""


@quantity(
    "exhaust.gas-by-air",
    "mass_flow",
    "kg/s",
    formula="ṁ = ṁ_air · (1 + 1/21) of a diesel, (1 + 1/13.5) of others",
    symbols={"ṁ_air": "engine.air.mass_flow"},
    sources=[AIR_AND_FUEL.giving("formula", "21 or 13.5 of air to one of fuel")],
    stands_in_for="engine.exhaust.mass_flow",
    tolerance=0.3,
)
def gas_by_air(build: Build) -> float:
    """Estimate the exhaust gas from the air that the engine takes in."""
    ratio = 21.0 if build.engine.fuel_type == "diesel" else 13.5
    return build.engine.air.mass_flow * (1.0 + 1.0 / ratio)


@quantity(
    "exhaust.temperature-by-power",
    "temperature",
    "degC",
    formula="T = 25 °C + 0.8·P/(ṁ·1.10 kJ/(kg·K)) of a diesel, 25 °C + 1.18·P/(ṁ·1.20 kJ/(kg·K)) of others",
    symbols={"ṁ": "engine.exhaust.mass_flow"},
    sources=[HEAT_IN_GAS.giving("formula", "0.8 of the power of a diesel, 1.18 of others")],
    stands_in_for="engine.exhaust.temp",
    tolerance=0.2,
)
def temperature_by_power(build: Build) -> float:
    """Estimate the temperature of the exhaust gas from rated power and the flow of the gas."""
    gas, diesel = build.engine.exhaust.mass_flow, build.engine.fuel_type == "diesel"
    speed = build.engine.speed.rated
    curve = [(float(point.speed), float(point.torque)) for point in build.engine.torque_curve]
    power = speed * curves.interpolate(curve, speed, "r/min")
    heat, warmed = (HEAT_DIESEL, WARMED_DIESEL) if diesel else (HEAT_PETROL, WARMED_PETROL)
    return AIR_IN + heat * power / (gas * warmed)
