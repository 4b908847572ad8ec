"""What is done and measured on the fuel system before the hand-over."""

from __future__ import annotations

from swaplint_rules.fuel.quantities import suction_pressure_loss

from swaplint.api import Build, Expected, cautions, expect, sheet, step


@step(
    "fuel.inlet-depression",
    moment="first-drive",
    instrument="vacuum gauge, ±1 kPa, on a tee at the pump's inlet",
    write="measured.fuel.inlet_depression",
    sources=[sheet("engine.fuel.max_inlet_restriction")],
    cautions=[cautions.FUEL_FIRE, cautions.HIGH_PRESSURE_FUEL],
)
def inlet_depression(build: Build) -> Expected:
    """Measure the depression at the fuel inlet at rated speed and full load.

    How: warm fuel, clean filter, a clear hose in the supply line.
    Stop: air shows in the clear hose, or the engine loses power.
    """
    return expect(lambda: suction_pressure_loss(build), at_most=lambda: build.engine.fuel.max_inlet_restriction)
