"""What the gearing looks like: pull and engine speed against road speed."""

from __future__ import annotations

import math
from collections.abc import Sequence

from swaplint.api import Axis, Band, Build, Chart, Curve, Limit, Point, figure, given, shown
from swaplint.engineering import gears, road_load

from ..drawable import where_known
from . import hills_quantities as hills
from . import quantities as q
from . import rules

ROAD = Axis("road speed", "speed", "km/h")
GRADES = (0.0, 0.05, 0.10, 0.20)
"""The slopes whose resistance is drawn: level, a main road's, a pass's, a track's."""
STEEP = (0.0, 0.15, 0.30, 0.60)
"""And in the lowest range: up to what a track of the forest or a loading ramp may have."""
FORCE = Axis("force at the wheels", "force", "kN")
_STEPS = 60


def _name(number: int) -> str:
    return f"gear {number}"


@figure("gearing.pull")
def pull(build: Build) -> Chart:
    """Pull against road speed in each gear.

    Force of the driven wheels on the road at full load, high range, at sea level, and what the laden vehicle takes on
    the level and on slopes. Where a gear's line crosses the line of a slope, it climbs that slope at that speed. Grip
    is not drawn: on a poor road the tyres hold less. A converter is taken as locked.
    """
    ratios = [q.overall_ratio(build, gear) for gear in q.gear_ratios(build)]
    lines = _gears(build, q.torque_curve(build), ratios)
    lines += _slopes(q.road_resistance(build), lines, GRADES)
    return Chart(ROAD, FORCE, lines, points=_cruise_pull(build), limits=_fastest(build))


@figure("gearing.pull-at-height")
def pull_at_height(build: Build) -> Chart:
    """Pull at the highest place, in the lowest range.

    Force at the wheels with every gear of the lowest range that there is, the engine derated and the air thin as at
    the highest place of the design, and what the laden vehicle takes there on slopes. What stands above the line of
    grip the tyres cannot put on the ground, and on a slope they hold a little less than on the level. The dot is the
    steepest slope that first gear holds. A converter is taken as locked.
    """
    curve, resistance = hills.at_the_highest_place(build)
    first, lowest = q.gear_ratios(build)[0], q.lowest_ratio(build)
    lines = _gears(build, curve, [lowest * gear / first for gear in q.gear_ratios(build)])
    lines += _slopes(resistance, lines, STEEP)
    grip = where_known(lambda: hills.grip(build))
    held = where_known(lambda: hills.best_climb(build, lowest, low=True))
    steepest = where_known(lambda: hills.steepest_climb(build))
    points = []
    if held is not None and steepest is not None and math.isfinite(held.road_speed):
        name = f"first gear holds {shown(steepest, 'grade', '%')}"
        points.append(Point(name, held.road_speed, resistance.force(held.road_speed, steepest)))
    return Chart(ROAD, FORCE, lines, [] if grip is None else [Limit("grip of the driven tyres", grip)], points=points)


def _gears(build: Build, curve: Sequence[tuple[float, float]], ratios: Sequence[float]) -> list[Curve]:
    """The pull of an engine's full-load curve through each overall ratio."""
    efficiency, radius = build.driveline.drivetrain.efficiency, q.rolling_radius(build)
    lines = []
    for number, ratio in enumerate(ratios, 1):
        drive = road_load.Drive(tuple(curve), ratio, efficiency, radius)
        lines.append(Curve(_name(number), [(drive.road_speed(speed), drive.force(speed)) for speed, _ in curve]))
    return lines


def _slopes(resistance: road_load.Resistance, lines: Sequence[Curve], grades: Sequence[float]) -> list[Curve]:
    """What slopes take, up to the highest road speed of some lines."""
    fastest = max((speed for line in lines for speed, _ in line.points), default=0.0)
    speeds = [fastest * step / _STEPS for step in range(_STEPS + 1)]
    names = [f"slope of {grade * 100:g} %" if grade else "level road" for grade in grades]
    return [
        Curve(name, [(speed, resistance.force(speed, grade)) for speed in speeds], "other")
        for name, grade in zip(names, grades, strict=True)
    ]


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
