"""Torque converter matched to an engine: where it stalls.

The capacity factor K is impeller speed over the square root of impeller torque at one speed ratio; here in
rad/s per √(N·m). It falls slightly with oil viscosity and varies by about 5 % between units (common
practice). Source: Gillespie, *Fundamentals of Vehicle Dynamics*, chapter 2 (from memory).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from swaplint.engineering.guards import ImpossibleInput, OutsideRange, finite, not_negative, positive, said


def absorbed_torque(speed: float, capacity_factor: float) -> float:
    """Return the torque that the converter takes from the engine, N·m: (ω/K)².

    >>> absorbed_torque(200.0, 10.0)
    400.0
    """
    return (not_negative("speed", speed) / positive("capacity_factor", capacity_factor)) ** 2


def capacity_factor(speed: float, torque: float) -> float:
    """Return K, rad/s per √(N·m), of a converter that takes `torque` N·m at `speed` rad/s.

    With the wanted stall speed and the engine's torque there, it is the converter to ask for.

    >>> capacity_factor(200.0, 400.0)
    10.0
    """
    return positive("speed", speed) / math.sqrt(positive("torque", torque))


def stall_speed(torque_curve: Sequence[tuple[float, float]], capacity_factor: float, drag_torque: float = 0.0) -> float:
    """Return the engine speed at stall, rad/s: where the engine's torque equals what the converter takes.

    `torque_curve` is pairs of speed in rad/s and full-load torque in N·m in rising speed, straight between;
    `drag_torque` in N·m goes to accessories ahead of the converter. Each straight piece against the
    parabola (ω/K)² is a quadratic, solved in closed form; the first speed at which the engine can no longer
    gain on the converter is returned. A turbocharged engine held at stall reaches its curve only after a
    while: check the torque without boost first.

    Raises OutsideRange if the converter holds the engine below the curve's first speed, or lets it run past
    the last; ImpossibleInput for a curve that is not in rising order or has fewer than two points.

    >>> round(stall_speed([(80.0, 300.0), (150.0, 500.0), (250.0, 500.0)], 9.0), 2)
    201.25
    """
    k = positive("capacity_factor", capacity_factor)
    drag = not_negative("drag_torque", drag_torque)
    if len(torque_curve) < 2:
        raise ImpossibleInput("a torque curve needs at least two points")
    for speed, torque in torque_curve:
        not_negative("speed", speed)
        finite("torque", torque)
    for (low, _), (high, _) in pairwise(torque_curve):
        if not low < high:
            raise ImpossibleInput(
                f"speeds of the torque curve must rise, but {said(high, 'r/min')} follows {said(low, 'r/min')}"
            )

    first_speed, first_torque = torque_curve[0]
    if first_torque - drag < absorbed_torque(first_speed, k):
        raise OutsideRange(
            f"the converter holds the engine below the curve's first speed, {said(first_speed, 'r/min')}"
        )
    for (low, low_torque), (high, high_torque) in pairwise(torque_curve):
        if high_torque - drag >= absorbed_torque(high, k):
            continue
        # x²/K² - s·x - c = 0 with torque - drag = s·x + c on this piece; the engine loses ground past the
        # greater root.
        slope = (high_torque - low_torque) / (high - low)
        offset = low_torque - drag - slope * low
        half = slope * k * k / 2.0
        speed = half + math.sqrt(max(0.0, half * half + offset * k * k))
        return min(max(speed, low), high)
    raise OutsideRange(
        f"the engine runs past the curve's last speed, {said(torque_curve[-1][0], 'r/min')}, "
        "before the converter holds it"
    )


def stalled_output_torque(speed: float, capacity_factor: float, stall_ratio: float) -> float:
    """Return the torque at the turbine at stall, N·m: stall ratio times the absorbed torque.

    >>> stalled_output_torque(200.0, 10.0, 2.0)
    800.0
    """
    return absorbed_torque(speed, capacity_factor) * positive("stall_ratio", stall_ratio)


def stall_heat(speed: float, capacity_factor: float) -> float:
    """Return the power that heats the oil at stall, W: all that the impeller takes.

    >>> stall_heat(200.0, 10.0)
    80000.0
    """
    return absorbed_torque(speed, capacity_factor) * speed
