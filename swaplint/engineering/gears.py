"""Gear ratios, engine speed and road speed.

Angular speeds are in rad/s, road speeds in m/s, radii in m; a ratio is the speed of the driving shaft over
that of the driven shaft, so a reduction is above 1. The wheel is taken to roll without slip and a clutch to
be closed: an unlocked torque converter runs the engine faster than these formulas say, by its slip.

Source: kinematics of a rolling wheel, v = ω·r/i (Gillespie, Fundamentals of Vehicle Dynamics; Wong, Theory of
Ground Vehicles). Every speed, ratio and radius must be above zero, else `ImpossibleInput`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from swaplint.engineering.guards import ImpossibleInput, OutsideRange, not_negative, positive, said


def overall_ratio(ratios: Sequence[float]) -> float:
    """Return the product of the ratios in series: gearbox, transfer or auxiliary box, axle, hub reduction.

    Each stage once: a published low-range ratio that already contains the gearbox or the axle must not be
    multiplied by it again.

    >>> round(overall_ratio([6.40, 1.96, 4.88]), 2)
    61.21
    """
    if not ratios:
        raise ImpossibleInput("an overall ratio needs at least one ratio")
    return math.prod(positive("ratio", ratio) for ratio in ratios)


def engine_speed(road_speed: float, overall_ratio: float, rolling_radius: float) -> float:
    """Return the engine speed, rad/s, at a road speed in m/s (0 or more): ω = v·i/r.

    >>> round(engine_speed(75 / 3.6, 4.88, 0.5) * 60 / (2 * math.pi))
    1942
    """
    not_negative("road speed", road_speed)
    return road_speed * positive("overall ratio", overall_ratio) / positive("rolling radius", rolling_radius)


def road_speed(engine_speed: float, overall_ratio: float, rolling_radius: float) -> float:
    """Return the road speed, m/s, at an engine speed in rad/s (0 or more): v = ω·r/i.

    With the overspeed limit of the engine this is the road speed that no gear may be driven past downhill.

    >>> round(road_speed(2600 * 2 * math.pi / 60, 4.88, 0.5) * 3.6, 1)
    100.4
    """
    not_negative("engine speed", engine_speed)
    return engine_speed * positive("rolling radius", rolling_radius) / positive("overall ratio", overall_ratio)


def crawl_speed(idle_speed: float, lowest_overall_ratio: float, rolling_radius: float) -> float:
    """Return the road speed, m/s, at idle (rad/s) in the lowest gear and range with the clutch closed.

    >>> round(crawl_speed(750 * 2 * math.pi / 60, 61.2, 0.5) * 3.6, 2)
    2.31
    """
    return road_speed(positive("idle speed", idle_speed), lowest_overall_ratio, rolling_radius)


def ratio_for_engine_speed(engine_speed: float, road_speed: float, rolling_radius: float) -> float:
    """Return the overall ratio that gives an engine speed (rad/s) at a road speed (m/s): i = ω·r/v.

    Divide by the other ratios in series to get the one that is to be chosen, for example the axle's.

    >>> round(ratio_for_engine_speed(1850 * 2 * math.pi / 60, 75 / 3.6, 0.5), 2)
    4.65
    """
    speed, radius = positive("engine speed", engine_speed), positive("rolling radius", rolling_radius)
    return speed * radius / positive("road speed", road_speed)


def radius_for_engine_speed(engine_speed: float, road_speed: float, overall_ratio: float) -> float:
    """Return the rolling radius, m, that gives an engine speed (rad/s) at a road speed (m/s): r = v·i/ω.

    >>> round(radius_for_engine_speed(1850 * 2 * math.pi / 60, 75 / 3.6, 4.88), 3)
    0.525
    """
    speed, ratio = positive("road speed", road_speed), positive("overall ratio", overall_ratio)
    return speed * ratio / positive("engine speed", engine_speed)


def gear_step(ratio_before: float, ratio_after: float) -> float:
    """Return the step of an up-shift, the ratio of the lower gear over that of the higher one (above 1).

    `ImpossibleInput` if the ratio does not fall: that is no up-shift.

    >>> gear_step(6.0, 3.0)
    2.0
    """
    if not positive("ratio before", ratio_before) > positive("ratio after", ratio_after):
        raise ImpossibleInput(
            f"an up-shift needs a falling ratio, but {ratio_after:g} does not lie below {ratio_before:g}"
        )
    return ratio_before / ratio_after


def speed_after_upshift(engine_speed: float, ratio_before: float, ratio_after: float, speed_lost: float = 0.0) -> float:
    """Return the engine speed, rad/s, with the clutch closed again after an up-shift.

    ω2 = ω1·i2/i1 - lost. `speed_lost` (rad/s, 0 or more) is what the engine loses because the vehicle slows
    while no torque reaches the wheels; 100 to 200 rpm in a manual shift is common practice, and it grows with
    the grade. `OutsideRange` if nothing would be left.

    >>> round(speed_after_upshift(2600.0, 3.52, 1.98, speed_lost=150.0), 1)
    1312.5
    """
    speed = positive("engine speed", engine_speed) / gear_step(ratio_before, ratio_after)
    after = speed - not_negative("speed lost", speed_lost)
    if after <= 0.0:
        raise OutsideRange(
            f"the shift would lose {said(speed_lost, 'r/min')} of the {said(speed, 'r/min')} left after it"
        )
    return after


def lowest_shift_speed(wanted_speed: float, ratio_before: float, ratio_after: float, speed_lost: float = 0.0) -> float:
    """Return the engine speed, rad/s, to shift at so that the engine lands on `wanted_speed` (rad/s).

    The inverse of `speed_after_upshift`: ω1 = (ω2 + lost)·i1/i2. If it lies above the governed speed the
    pair of ratios cannot work.

    >>> round(lowest_shift_speed(1400.0, 3.52, 1.98), 1)
    2488.9
    """
    landing = positive("wanted speed", wanted_speed) + not_negative("speed lost", speed_lost)
    return landing * gear_step(ratio_before, ratio_after)


def largest_usable_step(shift_speed: float, wanted_speed: float, speed_lost: float = 0.0) -> float:
    """Return the widest step whose up-shift at `shift_speed` still lands on `wanted_speed` (both rad/s).

    i1/i2 = ω1/(ω2 + lost). Leaving out the speed lost in the shift makes the result too wide.
    `OutsideRange` if no up-shift can land there, that is if the result would not exceed 1.

    >>> round(largest_usable_step(2600.0, 1400.0, speed_lost=150.0), 3)
    1.677
    """
    landing = positive("wanted speed", wanted_speed) + not_negative("speed lost", speed_lost)
    if positive("shift speed", shift_speed) <= landing:
        raise OutsideRange(f"no up-shift at {said(shift_speed, 'r/min')} lands on {said(wanted_speed, 'r/min')}")
    return shift_speed / landing


def chain_wheel_radius(pitch: float, teeth: float) -> float:
    """Return the radius, m, at which a roller chain pulls at a chain wheel: p/(2·sin(π/z)).

    The radius through the pins, as ISO 606 and any text on machine design have it. A toothed belt bends without
    corners: see `belt_pulley_radius`.

    >>> round(chain_wheel_radius(0.0127, 20) * 2e3, 2)
    81.18
    """
    return positive("pitch", pitch) / (2.0 * math.sin(math.pi / _teeth(teeth)))


def belt_pulley_radius(pitch: float, teeth: float) -> float:
    """Return the radius, m, at which a toothed belt pulls at its pulley: z·p/(2π).

    >>> round(belt_pulley_radius(0.008, 30) * 2e3, 2)
    76.39
    """
    return _teeth(teeth) * positive("pitch", pitch) / (2.0 * math.pi)


def _teeth(teeth: float) -> float:
    if positive("teeth", teeth) < 6.0:
        raise ImpossibleInput(f"no chain or belt runs on a wheel of {teeth:g} teeth")
    return teeth
