"""What is made safe, bled, watched and measured of the fuel system."""

from __future__ import annotations

from swaplint.api import Build, Expected, cautions, expect, given, is_fitted, not_needed, practice, sheet, step

from .quantities import WARM, is_diesel, return_pressure, sucks, supply_loss

TRIAL, START = "measured.fuel", "measured.before_start"
FIRE = [cautions.FUEL_FIRE]
FED = {
    "engine.fuel.feed": "pressure",
    "engine.fuel.inlet_pressure_min": "300 kPa",
    "engine.fuel.inlet_pressure_max": "400 kPa",
}
"""An engine that a pump feeds."""
HAND_PUMPED = practice("a supply line under 51 to 68 kPa of vacuum loses at most 0.34 kPa (0.1 inHg) in a minute")
HELD = practice("petrol injection loses at most 55 kPa (8 psi) in five minutes after the pump stops")


def _pressed(build: Build) -> list[str]:
    """The caution about high-pressure lines, unless the engine is known to have none."""
    injection = given(lambda: build.engine.fuel.injection)
    return [] if injection in ("port-petrol", "carburettor") else [cautions.HIGH_PRESSURE_FUEL]


@step(
    "fuel.relieved",
    moment="before-lifting",
    cautions=[*FIRE, cautions.HIGH_PRESSURE_FUEL],
    after=["compliance.approved-before", "mass.old-rear"],
)
def relieved(build: Build) -> Expected:
    """Relieve the fuel pressure and drain what must come out, in the open.

    How: Pump fuse out, engine run until it stops, battery off; then a rag around the first joint.
    """
    return expect("no pressure, lines capped, fuel in closed cans away from the work")


@step("fuel.extinguisher", moment="before-crank", write=f"{START}.extinguisher_ready", cautions=[cautions.EXHAUST_GAS])
def extinguisher(build: Build) -> Expected:
    """Put an extinguisher at hand and lead the exhaust gas outside.

    How: Foam or powder, its pin known to both people; extraction on the pipe, doors open.
    """
    return expect("two people, one at the main switch")


@step(
    "fuel.suction-tight",
    moment="before-crank",
    instrument="hand vacuum pump with gauge, watch",
    write=f"{TRIAL}.suction_loss",
    sources=[HAND_PUMPED.giving("limit")],
    cautions=FIRE,
    after=["fuel.extinguisher"],
)
def suction_tight(build: Build) -> Expected:
    """Pull a vacuum on the supply line.

    How: From the engine's end, the pick-up closed: 51 to 68 kPa held five minutes, then read what is lost in one.
    """
    if not sucks(build):
        return not_needed("A pump presses the fuel to the engine: a leak shows.")
    return expect("holds", at_most=338.64)


@step(
    "fuel.bled",
    moment="before-crank",
    instrument="clear hose in the line",
    write=f"{START}.fuel_bled",
    cautions=FIRE,
    after=["fuel.suction-tight"],
)
def bled(build: Build) -> Expected:
    """Bleed the low-pressure side.

    How: With the hand pump or the electric pump, key on, the bleed screws in the order of the flow. Never open a
    high-pressure line for it.
    Stop: fuel drips on anything hot or electric.
    """
    return expect("no bubbles in the clear hose", cautions=_pressed(build))


@step(
    "fuel.no-leaks",
    moment="first-start",
    instrument="lamp and dry paper",
    write=f"{TRIAL}.no_leaks",
    also=[f"{TRIAL}.date", f"{TRIAL}.by"],
    cautions=[*FIRE, cautions.ROTATING],
    after=["controls.first-start"],
)
def no_leaks(build: Build) -> Expected:
    """Look along the whole fuel system while the engine idles: tank, lines, filters, pump.

    How: In the first three to five minutes; paper, never a hand, near the high-pressure side.
    Stop: any drop, any mist, any smell that grows: main switch off.
    """
    return expect("dry on the outside", cautions=_pressed(build))


@step("fuel.no-air", moment="first-hour", instrument="clear hose in the line", write=f"{TRIAL}.no_air")
def no_air(build: Build) -> Expected:
    """Look at the clear hose at idle and at governed speed.

    How: Two minutes each; then the hose comes out again.
    """
    if not sucks(build):
        return not_needed("A pump presses the fuel to the engine: air does not get in.")
    return expect("no air runs along in it")


@step(
    "fuel.pressure-held",
    moment="first-hour",
    instrument="gauge on the rail's test valve",
    sources=[HELD.giving("limit")],
    cautions=FIRE,
    example={"engine.fuel_type": "petrol", **FED},
)
def pressure_held(build: Build) -> Expected:
    """Read what pressure the fuel rail loses after the pump stops.

    How: Pump off, five minutes; stone cold some designs fall to nothing, so warm.
    """
    if is_diesel(build) or sucks(build):
        return not_needed("It is no petrol injection fed by a pump.")
    return expect("holds", at_most=55.1581e3, unit=("gauge_pressure", "kPa"))


@step(
    "fuel.inlet-depression",
    moment="first-drive",
    instrument="vacuum gauge, ±1 kPa, on a tee at the engine's inlet",
    write=f"{TRIAL}.inlet_depression",
    also=[f"{TRIAL}.temperature", f"{TRIAL}.filter_drop"],
    sources=[sheet("engine.fuel.max_inlet_restriction")],
    cautions=FIRE,
    after=["chassis.brake-test"],
    accuracy=0.2,
)
def inlet_depression(build: Build) -> Expected:
    """Measure the depression at the fuel inlet at rated speed and full load.

    How: Low-pressure side only, a long hose to the gauge, warm fuel. New filters take less than the prediction, which
    is for filters that are due, in fuel of 40 °C.
    Stop: air shows, or the engine loses power.
    """
    if not sucks(build):
        return not_needed("A pump presses the fuel to the engine.")
    return expect(
        lambda: supply_loss(build, WARM),
        at_most=lambda: build.engine.fuel.max_inlet_restriction,
        cautions=_pressed(build),
    )


@step(
    "fuel.inlet-pressure",
    moment="first-drive",
    instrument="gauge, ±2 kPa, on a tee at the engine's inlet",
    write=f"{TRIAL}.inlet_pressure",
    also=[f"{TRIAL}.temperature", f"{TRIAL}.filter_drop"],
    sources=[sheet("engine.fuel.inlet_pressure_min"), sheet("engine.fuel.inlet_pressure_max")],
    cautions=FIRE,
    after=["chassis.brake-test"],
    example=FED,
)
def inlet_pressure(build: Build) -> Expected:
    """Measure the pressure at the fuel inlet at rated speed and full load.

    How: Low-pressure side only, a long hose to the gauge, warm fuel.
    Stop: the engine loses power, or the joint of the gauge weeps.
    """
    if sucks(build):
        return not_needed("The engine draws its fuel itself.")
    asked = build.engine.fuel
    return expect(
        "steady at full load",
        at_least=lambda: asked.inlet_pressure_min,
        at_most=lambda: asked.inlet_pressure_max,
        cautions=_pressed(build),
    )


@step(
    "fuel.return-pressure",
    moment="first-drive",
    instrument="gauge, ±1 kPa, on a tee at the engine's return",
    write=f"{TRIAL}.return_pressure",
    sources=[sheet("engine.fuel.max_return_pressure")],
    cautions=FIRE,
    accuracy=0.2,
)
def pressure_in_return(build: Build) -> Expected:
    """Measure the pressure in the return line in the same run.

    How: As the inlet.
    """
    if not is_fitted(build.plumbing.fuel.return_line):
        return not_needed("The engine returns no fuel.")
    return expect(
        lambda: return_pressure(build, WARM),
        at_most=lambda: build.engine.fuel.max_return_pressure,
        cautions=_pressed(build),
    )


@step("fuel.filters-first", moment="first-hundred-hours", cautions=FIRE)
def filters_first(build: Build) -> Expected:
    """Drain the water and change the first filter after 50 hours: what was in the tank is in it.

    How: Cold, battery off; cut the old element open and look.
    """
    len(build.plumbing.fuel.filters)
    return expect("no rust, no rubber, no water")


@step("fuel.hoses-aged", moment="yearly", cautions=FIRE)
def hoses_aged(build: Build) -> Expected:
    """Look at fuel hoses, clamps, tank straps, vent and cap.

    How: Bend every hose; look at the ends under the clamps and where a line passes an edge.
    """
    return expect("no crack, no damp place, no smell")
