"""What is drained, filled, watched and measured of the cooling system and the charge-air cooler."""

from __future__ import annotations

from swaplint.api import Build, Expected, cautions, expect, given, is_fitted, not_needed, owner, practice, sheet, step

from .charge_quantities import charge_outlet_in
from .circuit_quantities import freezing_point, system_volume
from .heat_quantities import top_tank_rise

RUN, LOAD, START, RUNNING = "measured.cooling", "measured.full_load", "measured.before_start", "measured.running"
MILD = 293.15
"""K: 20 °C, the outside air that a prediction is for before anybody has read it."""
TIGHT = practice("a charge-air cooler under 207 kPa (30 psi), shut off, loses at most 34 kPa (5 psi) in 15 s")


def _air(stated: float | None) -> float:
    return MILD if stated is None else stated


@step(
    "cooling.drained",
    moment="before-lifting",
    instrument="can of known size",
    cautions=[cautions.HOT],
    after=["power.battery-off"],
)
def drained(build: Build) -> Expected:
    """Drain the coolant of the old engine, cold.

    How: Cap off only when the radiator can be held by hand; catch it all, it is poison.
    """
    return expect("what comes out is as much as the old system holds")


@step("cooling.coolant-filled", moment="before-crank", instrument="measured cans", write=f"{START}.coolant_bled")
def coolant_filled(build: Build) -> Expected:
    """Fill and bleed the coolant, the heater open.

    How: Slowly, at the highest point, every vent open; count what goes in: what is missing is air.
    """
    return expect(lambda: system_volume(build), "a steady stream without bubbles at every vent")


@step("cooling.fan-free", moment="before-crank", write=f"{START}.fan_free", cautions=[cautions.ROTATING])
def fan_free(build: Build) -> Expected:
    """Turn the fan by hand.

    How: Main switch off; a whole turn, while somebody pulls the engine towards the radiator.
    """
    if not is_fitted(build.plumbing.cooling.fan):
        return not_needed("No fan is fitted.")
    return expect("it turns freely and touches nothing")


@step("cooling.hoses", moment="before-crank", write=f"{START}.hoses_tight")
def hoses(build: Build) -> Expected:
    """Go over every hose and clamp by hand: coolant, oil, charge air, vacuum, fuel.

    How: Along each from end to end; pull at each, turn at each clamp.
    """
    return expect("no hose moves on its pipe, none touches anything hot, sharp or turning")


@step(
    "cooling.charge-air-tight",
    moment="before-crank",
    instrument="test plugs, pressure gauge, watch",
    write=f"{LOAD}.charge_leak",
    sources=[TIGHT.giving("limit")],
)
def charge_air_tight(build: Build) -> Expected:
    """Press the charge-air cooler and its pipes.

    How: To 207 kPa (30 psi) with plugs that are held, then shut off; read what is lost in 15 s. Nobody before a plug.
    Stop: a plug moves.
    """
    if not is_fitted(build.plumbing.cooling.charge_cooler):
        return not_needed("The engine has no charge-air cooler.")
    return expect("holds its pressure", at_most=34.4738e3)


@step(
    "cooling.no-leaks-warm",
    moment="first-hour",
    write=f"{RUNNING}.no_leaks_warm",
    also=[f"{RUNNING}.date", f"{RUNNING}.by"],
    cautions=[cautions.HOT, cautions.ROTATING],
)
def no_leaks_warm(build: Build) -> Expected:
    """Look for leaks after 20 minutes of running: coolant, oil, fuel, exhaust.

    How: With a lamp and white paper, from above and below; ears and nose too.
    Stop: fuel or hot coolant runs out anywhere.
    """
    return expect("dry everywhere")


@step(
    "cooling.fan-on",
    moment="first-hour",
    instrument="the control unit's own reading, and a thermometer at the thermostat housing",
    write=f"{RUNNING}.fan_on",
    sources=[sheet("engine.coolant.top_tank_max")],
    cautions=[cautions.ROTATING, cautions.HOT],
)
def fan_on(build: Build) -> Expected:
    """Let the engine warm up until the fan comes on.

    How: Standing, bonnet open; the thermostat opens first: the upper hose gets hot at once.
    Stop: the coolant comes to its limit and the fan stands still.
    """
    fan = build.plumbing.cooling.fan
    if not is_fitted(fan) or fan.drive == "engine":
        return not_needed("The fan turns whenever the engine does.")
    return expect("it comes on below the hottest coolant allowed", at_most=lambda: build.engine.coolant.top_tank_max)


@step(
    "cooling.no-leaks-cold",
    moment="first-hour",
    write=f"{RUNNING}.no_leaks_cold",
    after=["cooling.no-leaks-warm", "cooling.fan-on"],
)
def no_leaks_cold(build: Build) -> Expected:
    """Look for leaks again when the engine has cooled, and at every level.

    How: After some hours: clamps that were tight hot may drip cold.
    """
    return expect("dry everywhere; coolant and oil at their marks")


@step(
    "cooling.top-tank",
    moment="first-drive",
    instrument="thermometers at the engine's outlet and in the outside air, ±2 K",
    write=f"{RUN}.top_tank",
    also=[
        f"{RUN}.{field}"
        for field in (
            "point", "power_share", "air", "altitude", "core_air", "radiator_outlet", "drift", "thermostat_open",
            "fan_locked", "date", "by",
        )
    ],
    sources=[sheet("engine.coolant.top_tank_max")],
    cautions=[cautions.HOT],
    after=["chassis.brake-test"],
)  # fmt: skip
def top_tank(build: Build) -> Expected:
    """Drive the cooling run: full load at rated speed until no temperature moves any more.

    How: Rolling road or a long hill, not the public road at first; at least ten minutes, less than 1 K in the last
    three; thermostat open, fan locked. The prediction is for the outside air read here, 20 °C before, at sea level.
    Stop: the coolant comes to its limit, the lamp lights, or the cap blows off.
    """
    rated = build.engine.heat.rated
    return expect(
        lambda: _air(given(lambda: build.measured.cooling.air)) + top_tank_rise(build, rated),
        at_most=lambda: build.engine.coolant.top_tank_max,
    )


@step(
    "cooling.manifold-air",
    moment="first-drive",
    instrument="thermometer in the manifold, ±2 K",
    write=f"{LOAD}.manifold_air",
    sources=[sheet("engine.charge_air.manifold_temp_max")],
    after=["cooling.top-tank"],
)
def manifold_air(build: Build) -> Expected:
    """Read the air in the manifold at full load.

    How: In the same run, near rated speed. The prediction is for the outside air read here, 20 °C before.
    Stop: it comes to its limit.
    """
    if not is_fitted(build.plumbing.cooling.charge_cooler):
        return not_needed("The engine has no charge-air cooler.")
    return expect(
        lambda: charge_outlet_in(build, _air(given(lambda: build.measured.full_load.air))),
        at_most=lambda: build.engine.charge_air.manifold_temp_max,
    )


@step("cooling.clamps", moment="first-hundred-hours", cautions=[cautions.HOT])
def clamps(build: Build) -> Expected:
    """Tighten the hose clamps again, after 50 km and after 500 km, and look at the level.

    How: Cold; worm-drive clamps give as the hose settles, spring clamps do not.
    """
    return expect("the level as it was filled")


@step(
    "cooling.frost",
    moment="yearly",
    instrument="refractometer, ±1 K",
    sources=[owner("build.design.ambient_min")],
    cautions=[cautions.HOT],
)
def frost(build: Build) -> Expected:
    """Read the coolant's freezing point.

    How: Mixed by a run, drawn from the expansion tank, cold.
    """
    return expect(
        lambda: freezing_point(build),
        at_most=lambda: build.build.design.ambient_min,
        unit=("temperature", "degC"),
    )


@step("cooling.hoses-aged", moment="yearly", cautions=[cautions.HOT])
def hoses_aged(build: Build) -> Expected:
    """Look at hoses, cap, core and fan.

    How: Cold; bend each hose, press the cap's seal, look through the core against the light.
    """
    return expect("no crack, no swelling, no soft hose, no fin full of dirt")
