"""What is read on the road: speedometer and engine speed."""

from __future__ import annotations

from swaplint.api import Build, Expected, at, cautions, expect, given, step
from swaplint.engineering import speedometer as speedometers

from .. import sources
from .quantities import cruise_speed_engine, speedometer_ratio

ROAD = "measured.road"
TRIAL_SPEED = 80.0 / 3.6
"""m/s: 80 km/h, at which a speedometer is tried where nothing else was held."""


def _held(build: Build) -> float:
    """True road speed that was held, m/s; before the trial the one to hold."""
    return given(lambda: build.measured.road.true_speed) or TRIAL_SPEED


@step(
    "gearing.true-speed",
    moment="first-drive",
    instrument="satellite receiver, or a watch over a measured distance",
    write=f"{ROAD}.true_speed",
    also=[f"{ROAD}.date", f"{ROAD}.by"],
    after=["chassis.brake-test", "chassis.parking-brake"],
)
def true_speed(build: Build) -> Expected:
    """Hold a steady road speed, and read what it truly is.

    How: Straight level road, both ways, tyres at their pressures; a second person reads.
    """
    return expect(TRIAL_SPEED, "or the nearest that road and law allow")


@step(
    "gearing.speedometer",
    moment="first-drive",
    instrument="the vehicle's own",
    write=f"{ROAD}.indicated_speed",
    sources=[
        sources.SPEEDOMETER_RULE.giving("limit", "never below the true speed, at most a tenth and 4 km/h above it"),
        sources.US_SPEEDOMETER.giving("limit", "8 km/h (5 mph) either way at 80 km/h"),
    ],
    cautions=[cautions.LAW],
    after=["gearing.true-speed"],
)
def speedometer(build: Build) -> Expected:
    """Read the speedometer at that speed.

    How: At the same moment. The prediction and the limits are for the true speed that was held, 80 km/h before.
    """
    if given(lambda: build.driveline.speedometer.rule) == "either-way":
        low, high = 1.0 - speedometers.US_SHARE, 1.0 + speedometers.US_SHARE
        return expect(
            lambda: _held(build) * speedometer_ratio(build),
            at_least=lambda: _held(build) * low,
            at_most=lambda: _held(build) * high,
        )
    return expect(
        lambda: _held(build) * speedometer_ratio(build),
        at_least=lambda: _held(build),
        at_most=lambda: _held(build) * speedometers.largest_r39_ratio(_held(build)),
    )


@step(
    "gearing.engine-speed",
    moment="first-drive",
    instrument="the control unit's own reading",
    write=f"{ROAD}.engine_speed",
    after=["gearing.true-speed"],
)
def engine_speed(build: Build) -> Expected:
    """Read the engine speed at that speed.

    How: Top gear, high range, nothing slipping. It tells the axle ratio and the tyres.
    """
    return expect(lambda: cruise_speed_engine(at(build, {"build.design.cruise_speed": _held(build)})))
