"""What the gearing looks like: pull and engine speed against road speed."""

from __future__ import annotations

from swaplint.api import Axis, Band, Build, Chart, Curve, Limit, Point, figure, given
from swaplint.engineering import gears, road_load

from ..drawable import where_known
from . import quantities as q
from . import rules

ROAD = Axis("road speed", "speed", "km/h")
GRADES = (0.0, 0.05, 0.10, 0.20)
"""The slopes whose resistance is drawn: level, a main road's, a pass's, a track's."""
_STEPS = 60


def _name(number: int) -> str:
    return f"gear {number}"


@figure("gearing.pull")
def pull(build: Build) -> Chart:
    """Pull against road speed in each gear.

    Force of the driven wheels on the road at full load, high range, at sea level, and what the laden vehicle takes on
    the level and on slopes. Where a gear's line crosses the line of a slope, it climbs that slope at that speed. Grip
    is not drawn: the tyres may hold less. A converter is taken as locked.
    """
    curve, radius = q.torque_curve(build), q.rolling_radius(build)
    efficiency = build.driveline.drivetrain.efficiency
    resistance = q.road_resistance(build)
    lines, fastest = [], 0.0
    for number, gear in enumerate(q.gear_ratios(build), 1):
        drive = road_load.Drive(curve, q.overall_ratio(build, gear), efficiency, radius)
        points = [(drive.road_speed(speed), drive.force(speed)) for speed, _ in drive.torque_curve]
        lines.append(Curve(_name(number), points))
        fastest = max(fastest, points[-1][0])
    speeds = [fastest * step / _STEPS for step in range(_STEPS + 1)]
    for grade in GRADES:
        name = f"slope of {grade * 100:g} %" if grade else "level road"
        lines.append(Curve(name, [(speed, resistance.force(speed, grade)) for speed in speeds], "other"))
    return Chart(
        ROAD, Axis("force at the wheels", "force", "kN"), lines, points=_cruise_pull(build), limits=_fastest(build)
    )


def _cruise_pull(build: Build) -> list[Point]:
    """What the level road takes at cruising speed, and what top gear can do there."""
    speed = given(lambda: build.build.design.cruise_speed)
    needed = where_known(lambda: q.cruise_road_power(build))
    there = where_known(lambda: q.cruise_available_power(build))
    points = []
    if speed and needed is not None:
        points.append(Point("cruise, needed", speed, needed / speed))
    if speed and there is not None:
        points.append(Point("cruise, top gear", speed, there / speed))
    return points


def _fastest(build: Build) -> list[Limit]:
    speed = given(lambda: build.build.design.road_speed_max)
    return [] if speed is None else [Limit("highest road speed wanted", speed, "x")]


@figure("gearing.engine-speed")
def engine_speed(build: Build) -> Chart:
    """Engine speed against road speed in each gear.

    High range, the clutch or converter locked. The band is where the engine is to run at cruise.
    """
    radius, speeds = q.rolling_radius(build), build.engine.speed
    top = given(lambda: speeds.governed_max) or speeds.rated
    idle = given(lambda: speeds.idle) or 0.0
    lines = []
    for number, gear in enumerate(q.gear_ratios(build), 1):
        ratio = q.overall_ratio(build, gear)
        ends = [(gears.road_speed(speed, ratio, radius), float(speed)) for speed in (idle, top)]
        lines.append(Curve(_name(number), ends))
    limits = [Limit("rated speed", speeds.rated)]
    governed = given(lambda: speeds.governed_max)
    if governed is not None:
        limits.append(Limit("governed speed", governed))
    points = []
    cruise = given(lambda: build.build.design.cruise_speed)
    turns = where_known(lambda: q.cruise_speed_engine(build))
    if cruise is not None and turns is not None:
        points.append(Point("cruise, top gear", cruise, turns))
    fastest = given(lambda: build.build.design.road_speed_max)
    at_fastest = where_known(lambda: q.engine_speed_at_road_max(build))
    if fastest is not None and at_fastest is not None:
        points.append(Point("highest road speed", fastest, at_fastest))
    return Chart(ROAD, Axis("engine speed", "rotation", "r/min"), lines, limits, _band(build), points)


def _band(build: Build) -> list[Band]:
    band = where_known(lambda: rules.cruise_band(build))
    return [] if band is None else [Band("cruise band", *band)]
