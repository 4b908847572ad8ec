"""What is filled, primed and read of the engine's oil at the first start and after."""

from __future__ import annotations

from swaplint.api import (
    Build,
    Expected,
    book,
    cautions,
    expect,
    is_fitted,
    not_needed,
    or_practice,
    practice,
    sheet,
    step,
)

from .starting import IDLE, LOADED, RISE

START, OIL = "measured.before_start", "measured.oil"
RUN_IN = book("US Army TM 5-3805-254-14P-1, the first 100 hours of an engine", known="published")
GAUGE = "mechanical gauge on the main gallery, ±10 kPa"


@step(
    "commissioning.oil-filled",
    moment="before-crank",
    write=f"{START}.oil_filled",
    also=[f"{START}.date", f"{START}.by"],
)
def oil_filled(build: Build) -> Expected:
    """Fill the engine oil to its mark.

    How: Filter filled first where it stands upright; look again after the priming.
    """
    return expect(lambda: build.engine.oil.fill.volume, "of a standard that the maker allows")


@step(
    "commissioning.oil-primed",
    moment="before-crank",
    write=f"{START}.oil_primed",
    after=["commissioning.oil-filled"],
)
def oil_primed(build: Build) -> Expected:
    """Prime the oil system as the engine's maker says.

    How: Through the gallery with a priming pump, or by turning the engine without fuel; oil to the turbocharger, too.
    """
    return expect("oil at the gauge's tap and at the turbocharger's feed")


@step(
    "commissioning.oil-rise",
    moment="first-start",
    instrument=f"{GAUGE}, watch",
    write=f"{OIL}.rise_time",
    also=[f"{OIL}.date", f"{OIL}.by"],
    sources=[sheet("engine.oil.rise_time_max")],
    cautions=[cautions.ROTATING],
    after=["controls.first-start"],
)
def oil_rise(build: Build) -> Expected:
    """Time from the first turn of the engine until its oil pressure shows.

    How: One person does nothing but this.
    Stop: the limit has passed: engine off at once, prime again, look for the leak of air.
    """
    return expect("within the first seconds", at_most=lambda: or_practice(lambda: build.engine.oil.rise_time_max, RISE))


@step(
    "commissioning.oil-idle",
    moment="first-hour",
    instrument=GAUGE,
    write=f"{OIL}.idle_pressure",
    also=[f"{OIL}.oil"],
    sources=[sheet("engine.oil.idle_pressure_min")],
    cautions=[cautions.HOT, cautions.ROTATING],
)
def oil_idle(build: Build) -> Expected:
    """Read the oil pressure at hot idle.

    How: Oil above 80 °C, after the warm-up.
    Stop: it falls below the limit.
    """
    return expect("steady", at_least=lambda: or_practice(lambda: build.engine.oil.idle_pressure_min, IDLE))


@step(
    "commissioning.oil-rated",
    moment="first-hour",
    instrument=GAUGE,
    write=f"{OIL}.loaded_pressure",
    also=[f"{OIL}.loaded_speed"],
    sources=[sheet("engine.oil.rated_pressure_min")],
    cautions=[cautions.HOT, cautions.ROTATING],
    after=["commissioning.oil-idle"],
)
def oil_rated(build: Build) -> Expected:
    """Read the oil pressure near rated speed, hot.

    How: Raised slowly, for some seconds only; the speed noted.
    Stop: it falls while the speed rises.
    """
    return expect(
        "rises with the speed", at_least=lambda: or_practice(lambda: build.engine.oil.rated_pressure_min, LOADED)
    )


@step(
    "commissioning.oil-bus",
    moment="first-hour",
    instrument="diagnostic reader",
    write=f"{OIL}.bus_pressure",
    after=["commissioning.oil-idle"],
)
def oil_bus(build: Build) -> Expected:
    """Read what the engine's control unit takes for its oil pressure at hot idle.

    How: At the same moment as the gauge.
    """
    if not is_fitted(build.engine.ecm):
        return not_needed("The engine has no control unit.")
    return expect(lambda: build.measured.oil.idle_pressure, "as the gauge reads")


VALVES = practice("valves wear in: their clearance is looked at once after 500 hours, unless the maker says otherwise")


@step("commissioning.valves", moment="yearly", sources=[VALVES.giving("formula", "500 hours")])
def valves(build: Build) -> Expected:
    """Have the valve clearance looked at, once after 500 hours and then as the engine's maker says.

    How: Cold or warm, as the sheet says; valves that set themselves need nothing.
    """
    return expect("within what the engine's data sheet says")


@step(
    "commissioning.run-in",
    moment="first-hundred-hours",
    sources=[RUN_IN.giving("formula", "half to three quarters of the throttle, easing off above 88 °C")],
)
def run_in(build: Build) -> Expected:
    """Run the engine in as its maker says.

    How: Mostly half to three quarters of the load, no long idling, no lugging, no hard braking at first; ease off when
    the coolant passes 88 °C. The first oil and filter by the maker's book, of a rebuilt engine after 20 to 50 hours.
    """
    return expect("no oil is used up, no pressure changes")
