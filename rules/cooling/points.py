"""The operating points of the engine that its cooling is judged at."""

from __future__ import annotations

from swaplint.api import Build, given, name_of
from swaplint.engineering import curves
from swaplint.spec.systems.cooling import DrivingAirFlow, HeatPoint

WORDS = {"rated": "At rated speed", "peak_torque": "At peak torque", "standing": "In standing work"}
"""How each point is called in a sentence."""


def driving_points(build: Build) -> list[HeatPoint]:
    """The points of the driving vehicle: full load at rated speed and at peak torque."""
    return [build.engine.heat.rated, build.engine.heat.peak_torque]


def stands_and_works(build: Build) -> bool:
    """Whether the spec states standing work. One that says nothing of it has none."""
    return given(lambda: build.build.duty.stationary_power) is not None


def points(build: Build) -> list[HeatPoint]:
    """All the points that this build has."""
    return driving_points(build) + ([build.engine.heat.standing] if stands_and_works(build) else [])


def fan_points(build: Build) -> list[HeatPoint]:
    """The points at which the fan alone moves the air."""
    return [point for point in points(build) if name_of(point) == "standing" or air_at(build, point).fan_only]


def words(point: HeatPoint) -> str:
    """The point as the beginning of a sentence."""
    return WORDS[name_of(point)]


def air_at(build: Build, point: HeatPoint) -> DrivingAirFlow:
    """The air through the radiator at a point."""
    flow: DrivingAirFlow = getattr(build.plumbing.cooling.air, name_of(point))
    return flow


def _torque_curve(build: Build) -> list[tuple[float, float]]:
    return [(float(p.speed), float(p.torque)) for p in build.engine.torque_curve]


def engine_speed(build: Build, point: HeatPoint) -> float:
    """Engine speed at a point, rad/s."""
    match name_of(point):
        case "rated":
            return build.engine.speed.rated
        case "peak_torque":
            return curves.maximum(_torque_curve(build))[0]
        case _:
            return build.build.duty.stationary_speed


def brake_power(build: Build, point: HeatPoint) -> float:
    """Engine power at a point, W: from the torque curve at full load, else the standing work itself."""
    if name_of(point) == "standing":
        return build.build.duty.stationary_power
    speed = engine_speed(build, point)
    return speed * curves.interpolate(_torque_curve(build), speed, "r/min")
