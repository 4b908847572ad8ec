"""What is read, tried and watched of control units, lamps and the stop."""

from __future__ import annotations

from swaplint.api import Build, Expected, cautions, expect, is_fitted, not_needed, sheet, step

START, RUNNING, CRANKING = "measured.before_start", "measured.running", "measured.cranking"
RUN_ON = "An engine that does not stop: know how to shut its fuel or air off before it is first started."


@step("controls.codes-read", moment="before-crank", instrument="diagnostic reader", write=f"{START}.codes_read")
def codes_read(build: Build) -> Expected:
    """Read the fault codes with the key on, and write them down before any is erased.

    How: Every control unit that answers; a unit that does not answer is a finding, too.
    """
    if not is_fitted(build.engine.ecm):
        return not_needed("The engine has no control unit.")
    return expect("none but those of a new unit, each explained")


@step("controls.stop-tried", moment="before-crank", write=f"{START}.stop_tried", cautions=[RUN_ON])
def stop_tried(build: Build) -> Expected:
    """Try the stop control and the main switch with the key on, and say who works which.

    How: Watch the feed or the solenoid drop; have the way to shut fuel or air off by hand at hand.
    """
    return expect("both take the current away")


@step("controls.pedal-tried", moment="before-crank", instrument="diagnostic reader")
def pedal_tried(build: Build) -> Expected:
    """Press the accelerator slowly with the key on.

    How: Read both tracks from rest to full, twice; wheels chocked.
    Stop: it sticks or jumps: no start before it is mended.
    """
    if not is_fitted(build.electrics.pedal):
        return not_needed("No electronic pedal is fitted.")
    return expect("0 % at rest, 100 % at full travel, without a jump")


@step(
    "controls.unit-voltage",
    moment="first-start",
    instrument="multimeter that keeps the lowest value, at the unit's pins, ±0.05 V",
    write=f"{CRANKING}.unit_voltage",
    sources=[sheet("engine.ecm.min_voltage_crank")],
    after=["power.crank-battery"],
)
def unit_voltage(build: Build) -> Expected:
    """Measure the voltage at the engine control unit's pins while the starter turns.

    How: In the same turns as the drops of the starting circuit.
    """
    if not is_fitted(build.engine.ecm):
        return not_needed("The engine has no control unit.")
    return expect(at_least=lambda: build.engine.ecm.min_voltage_crank)


@step(
    "controls.first-start",
    moment="first-start",
    instrument="oil pressure gauge, watch",
    cautions=[RUN_ON, cautions.ROTATING, cautions.EXHAUST_GAS],
    after=["controls.unit-voltage"],
)
def first_start(build: Build) -> Expected:
    """Start the engine with fuel, one person at the key and one at the engine.

    How: No throttle; idle at once, never above 1000 r/min before oil pressure shows; three to five minutes, all eyes.
    Stop: no oil pressure within the seconds of the step for it, a knock, a red lamp, any leak, any smoke but the first
    puff.
    """
    return expect("it idles, oil pressure shows, no lamp stays on")


@step(
    "controls.lamps",
    moment="first-start",
    write=f"{RUNNING}.lamps_tried",
    after=["controls.first-start"],
)
def lamps(build: Build) -> Expected:
    """See every warning lamp light with the key on and go out with the engine running.

    How: Oil pressure, charge, coolant, brake; make each sender light its lamp once.
    """
    return expect("each lights, and goes out by itself")


@step(
    "controls.stop-running",
    moment="first-start",
    write=f"{RUNNING}.stop_tried",
    after=["controls.lamps", "fuel.no-leaks", "exhaust.leaks"],
)
def stop_running(build: Build) -> Expected:
    """Stop the engine with its stop control, from the driver's seat.

    How: At idle and once at 1500 r/min; with the main switch afterwards only if the maker allows it.
    Stop: it runs on: shut the fuel or the air off by hand.
    """
    return expect("it stands still within some seconds")


@step(
    "controls.idle-speed",
    moment="first-hour",
    instrument="the control unit's own reading, or a tachometer, ±10 r/min",
    write=f"{RUNNING}.idle_speed",
    cautions=[cautions.ROTATING],
)
def idle_speed(build: Build) -> Expected:
    """Read the idle speed, warm.

    How: Without consumers, then with all of them.
    """
    return expect(lambda: build.engine.speed.idle)


@step(
    "controls.governed-speed",
    moment="first-hour",
    instrument="as for idle",
    write=f"{RUNNING}.governed_speed",
    sources=[sheet("engine.speed.overspeed_max")],
    cautions=[cautions.ROTATING],
    after=["controls.idle-speed"],
)
def governed_speed(build: Build) -> Expected:
    """Read the highest speed without load, warm, for some seconds only.

    How: Raised slowly, nobody beside fan or flywheel.
    Stop: it goes on climbing past the prediction.
    """
    return expect(lambda: build.engine.speed.governed_max, at_most=lambda: build.engine.speed.overspeed_max)


@step("controls.codes-again", moment="first-hundred-hours", instrument="diagnostic reader")
def codes_again(build: Build) -> Expected:
    """Read the fault codes again, active and stored.

    How: After 50 hours; each code explained before it is erased.
    """
    if not is_fitted(build.engine.ecm):
        return not_needed("The engine has no control unit.")
    return expect("none")
