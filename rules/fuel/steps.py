"""What is done and measured on the fuel system before the hand-over."""

from __future__ import annotations

from swaplint.api import Build, Expected, cautions, expect, not_needed, sheet, step

from .quantities import WARM, sucks, supply_loss


@step(
    "fuel.inlet-depression",
    moment="first-drive",
    instrument="vacuum gauge, ±1 kPa, on a tee at the pump's inlet",
    write="measured.fuel.inlet_depression",
    sources=[sheet("engine.fuel.max_inlet_restriction")],
    cautions=[cautions.FUEL_FIRE, cautions.HIGH_PRESSURE_FUEL],
    accuracy=0.2,
)
def inlet_depression(build: Build) -> Expected:
    """Measure the depression at the fuel inlet at rated speed and full load.

    How: Warm fuel, clean filter, a clear hose in the supply line; the low-pressure side only.
    Stop: air shows in the clear hose, or the engine loses power.
    """
    if not sucks(build):
        return not_needed("A pump feeds the engine.")
    return expect(lambda: supply_loss(build, WARM), at_most=lambda: build.engine.fuel.max_inlet_restriction)
