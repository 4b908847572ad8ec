"""What is made safe, tightened, tried and measured of brakes, steering, belts and air conditioning."""

from __future__ import annotations

from swaplint.api import Build, Expected, cautions, expect, is_fitted, not_needed, practice, sheet, step

from .. import sources
from .parking import parking_grade
from .vacuum import OFF_WARNING
from .vacuum_quantities import available_depression, warning_time

VACUUM, BRAKES = "measured.vacuum", "measured.brakes"
HOLDS = practice("a tight booster loses at most 3.3 kPa in 15 s after the engine was stopped, from 67 kPa")


def _without_vacuum(build: Build) -> bool:
    return build.vehicle.brakes.assist != "vacuum"


@step("chassis.refrigerant", moment="before-lifting", cautions=[cautions.REFRIGERANT])
def refrigerant(build: Build) -> Expected:
    """Have the refrigerant taken out by a certified person before any joint is opened.

    How: With recovery equipment; cap every end at once.
    """
    if not is_fitted(build.plumbing.air_conditioning):
        return not_needed("The vehicle has no air conditioning.")
    return expect("the paper of whoever did it")


@step("chassis.belts", moment="before-crank", write="measured.before_start.belts_tight", cautions=[cautions.ROTATING])
def belts(build: Build) -> Expected:
    """Look at every belt: on all its pulleys, in line, tight, its tensioner within its marks.

    How: Main switch off; a straight edge over the pulleys.
    """
    if not len(build.plumbing.belts):
        return not_needed("The engine has no belts.")
    return expect("in line, tight, nothing near it")


@step(
    "chassis.vacuum-idle",
    moment="first-hour",
    instrument="vacuum gauge at the booster, ±1 kPa",
    write=f"{VACUUM}.idle",
    also=[f"{VACUUM}.altitude", f"{VACUUM}.date", f"{VACUUM}.by"],
    sources=[sheet("vehicle.brakes.vacuum_required")],
    cautions=[cautions.BRAKES],
)
def vacuum_idle(build: Build) -> Expected:
    """Measure the depression at the booster at idle.

    How: After some minutes without the pedal. The prediction is for the highest place; lower down it is deeper.
    """
    if _without_vacuum(build):
        return not_needed("No vacuum helps the brakes.")
    return expect(lambda: available_depression(build), at_least=lambda: build.vehicle.brakes.vacuum_required)


@step(
    "chassis.vacuum-recovery",
    moment="first-hour",
    instrument="watch",
    write=f"{VACUUM}.recovery_time",
    sources=[sources.VACUUM_RECOVERY_RULE.giving("limit", "30 s until the warning goes out")],
    cautions=[cautions.BRAKES],
    after=["chassis.vacuum-idle"],
)
def vacuum_recovery(build: Build) -> Expected:
    """Use the vacuum up with the pedal, engine off, start, and time until the brake warning goes out.

    How: At idle, wheels chocked. The prediction is for the highest place; lower down it is quicker.
    Stop: the warning does not come on at all: the lamp or its switch is wrong.
    """
    if _without_vacuum(build):
        return not_needed("No vacuum helps the brakes.")
    return expect(lambda: warning_time(build), at_most=OFF_WARNING)


@step(
    "chassis.vacuum-hold",
    moment="first-hour",
    instrument="vacuum gauge at the booster, watch",
    write=f"{VACUUM}.hold_loss",
    also=[f"{VACUUM}.hold_time"],
    sources=[HOLDS.giving("limit")],
    cautions=[cautions.BRAKES],
    after=["chassis.vacuum-recovery"],
)
def vacuum_hold(build: Build) -> Expected:
    """Stop the engine and read what vacuum is lost in 15 seconds.

    How: From full vacuum, pedal free; then again with the pedal held.
    """
    if _without_vacuum(build):
        return not_needed("No vacuum helps the brakes.")
    return expect(at_most=3.3e3)


@step(
    "chassis.vacuum-reserve",
    moment="first-hour",
    instrument="the pedal, and somebody at the warning lamp",
    write=f"{VACUUM}.applications_left",
    sources=[sources.US_VACUUM_CHECK.giving("limit", "one full application with the engine stopped")],
    cautions=[cautions.BRAKES],
    after=["chassis.vacuum-hold"],
)
def vacuum_reserve(build: Build) -> Expected:
    """Stop the engine and count the full applications of the brakes until the warning comes on.

    How: From full vacuum, the whole way of the pedal each time, the vehicle standing on the level.
    """
    if _without_vacuum(build):
        return not_needed("No vacuum helps the brakes.")
    return expect(at_least=1.0)


@step("chassis.steering", moment="first-hour", cautions=[cautions.STEERING, cautions.ROTATING])
def steering(build: Build) -> Expected:
    """Turn the steering from lock to lock at idle, standing on the road.

    How: Briskly, then slowly into each lock, not longer than some seconds; look at the oil level and the belt.
    Stop: it goes hard on the way, or the belt slips.
    """
    if build.vehicle.steering.assist == "none":
        return expect("the same effort both ways")
    return expect("help all the way, no belt squeals, the idle holds")


@step(
    "chassis.brake-test",
    moment="first-drive",
    instrument="roller test bench, or a decelerometer",
    write=f"{BRAKES}.efficiency",
    also=[f"{BRAKES}.{field}" for field in ("imbalance", "report", "date", "by")],
    cautions=[cautions.BRAKES],
)
def brake_test(build: Build) -> Expected:
    """Have the brakes tested by a qualified person before the vehicle goes on the road.

    How: Service brake, parking brake, and the stop after the assistance has failed; what is asked for is the local
    inspection's to say.
    Stop: it pulls to a side, the pedal sinks, or a lamp lights: no drive.
    """
    return expect("a report that allows the road")


@step(
    "chassis.parking-brake",
    moment="first-drive",
    instrument="a slope of known grade",
    write="vehicle.brakes.parking.held_grade",
    cautions=[cautions.BRAKES],
    after=["chassis.brake-test"],
)
def parking_brake(build: Build) -> Expected:
    """Set the parking brake on a slope, laden, uphill and downhill.

    How: Gear out, a chock a hand's breadth behind a wheel, nobody behind the vehicle.
    Stop: it creeps.
    """
    return expect(lambda: parking_grade(build), "or more")


@step("chassis.belts-again", moment="first-hundred-hours", cautions=[cautions.ROTATING])
def belts_again(build: Build) -> Expected:
    """Look at tension and line of the belts again, after one hour and after 50 hours.

    How: Engine off; a new belt gives most in its first hour.
    """
    if not len(build.plumbing.belts):
        return not_needed("The engine has no belts.")
    return expect("no dust at the pulleys, no edge frayed")


@step("chassis.vacuum-aged", moment="yearly", cautions=[cautions.BRAKES])
def vacuum_aged(build: Build) -> Expected:
    """Measure the vacuum for the brakes again, how long it lasts, and look at hose and check valve.

    How: As in the first hour: depression at idle, seconds until the warning goes out, loss in 15 s.
    """
    if _without_vacuum(build):
        return not_needed("No vacuum helps the brakes.")
    return expect("as it was measured when the vehicle was handed over")
