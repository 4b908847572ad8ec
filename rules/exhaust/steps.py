"""What is looked at and measured of the exhaust and its aftertreatment."""

from __future__ import annotations

from swaplint.api import Build, Expected, cautions, expect, not_needed, sheet, step

from ..places import places
from .quantities import back_pressure, devices

GAS = [cautions.EXHAUST_GAS, cautions.HOT]


@step("exhaust.shields", moment="before-crank", write="measured.before_start.shields_fitted", cautions=[cautions.HOT])
def shields(build: Build) -> Expected:
    """Look at every heat shield and guard.

    How: Against the drawing: each bolted, with air behind it, nothing that burns or melts in the way of the heat.
    """
    return expect("all fitted, also those over belts, fan and shafts")


@step(
    "exhaust.leaks",
    moment="first-start",
    instrument="ears, soap water",
    cautions=GAS,
    after=["controls.first-start"],
)
def leaks(build: Build) -> Expected:
    """Look and listen for exhaust leaks from manifold to outlet.

    How: In the first minute, while the pipes are cold: soap water on the joints, and listen; close the outlet with a
    board for a moment, from the side.
    Stop: gas leaks ahead of the cab.
    """
    return expect("nothing blows at any joint")


@step(
    "exhaust.back-pressure",
    moment="first-drive",
    instrument="gauge, ±0.3 kPa, on a steel pipe close behind the turbine, a diameter from any change",
    write="measured.full_load.back_pressure",
    sources=[sheet("engine.exhaust.back_pressure_max")],
    cautions=GAS,
    accuracy=0.25,
)
def pressure_behind(build: Build) -> Expected:
    """Measure the back pressure at full load near rated speed.

    How: In the run for the intake; after a cleaning of the particulate filter it is lower than the prediction, which
    is for one that is loaded.
    """
    return expect(
        lambda: back_pressure(build, places(build)[0].demand), at_most=lambda: build.engine.exhaust.back_pressure_max
    )


@step(
    "exhaust.regeneration",
    moment="first-drive",
    instrument="thermometer at the outlet, ±5 K",
    write="measured.running.regeneration_watched",
    cautions=[*GAS, cautions.FUEL_FIRE],
    after=["exhaust.back-pressure"],
)
def regeneration(build: Build) -> Expected:
    """Watch one cleaning of the particulate filter from beginning to end.

    How: On bare ground, nothing dry within two metres of the outlet, nobody behind it, an extinguisher at hand.
    Stop: paint, undercoat or a hose smokes.
    """
    if not any(device.kind == "particulate-filter" for device in devices(build)):
        return not_needed("No particulate filter is fitted.")
    return expect(lambda: build.engine.regeneration.outlet_temp, "at the outlet at the hottest")


@step("exhaust.bolts", moment="first-hundred-hours", instrument="torque wrench", cautions=[cautions.HOT])
def bolts(build: Build) -> Expected:
    """Tighten manifold, turbine flange, clamps and hangers again, after 50 km and after 500 km.

    How: Cold.
    """
    return expect("no black streak at any joint")


@step("exhaust.aged", moment="yearly", cautions=[cautions.EXHAUST_GAS])
def aged(build: Build) -> Expected:
    """Look at the flexible piece, the hangers, the shields and every joint.

    How: Cold, from below; shake the pipe at each hanger.
    """
    return expect("no crack, no black streak, nothing loose")
