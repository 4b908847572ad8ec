"""Estimates of the exhaust: its gas from the engine's air."""

from __future__ import annotations

from swaplint.api import Build, practice, quantity

AIR_AND_FUEL = practice("exhaust gas is the air and the fuel burnt in it: 21 to 1 in diesels, 13.5 to 1 in others")


@quantity(
    "exhaust.gas-by-air",
    "mass_flow",
    "kg/s",
    formula="ṁ = ṁ_air · (1 + 1/21) of a diesel, (1 + 1/13.5) of others",
    symbols={"ṁ_air": "engine.air.mass_flow"},
    sources=[AIR_AND_FUEL],
    stands_in_for="engine.exhaust.mass_flow",
    tolerance=0.3,
)
def gas_by_air(build: Build) -> float:
    """Estimate the exhaust gas from the air that the engine takes in."""
    ratio = 21.0 if build.engine.fuel_type == "diesel" else 13.5
    return build.engine.air.mass_flow * (1.0 + 1.0 / ratio)
