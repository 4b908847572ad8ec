"""Vacuum for a brake booster: pump-down time, what altitude leaves, and the reserve after the source fails.

Gas at constant temperature throughout: Boyle's law. Air that fills a chamber quickly is warmed, so that a
little less of it enters than these functions say. Pressures are absolute, Pa, unless called a depression
(below ambient).

Brake work goes before a licensed engineer or inspector before road use; these functions prove no brake.
"""

from __future__ import annotations

import math

from swaplint.engineering.guards import (
    ImpossibleInput,
    OutsideRange,
    finite,
    not_negative,
    positive,
    said,
    share,
    within_range,
)

MOST_APPLICATIONS = 1000
"""Applications after which counting stops: no brake test asks for more."""


def available_depression(ambient_pressure: float, end_pressure: float) -> float:
    """Deepest depression [Pa] a pump can hold: ambient pressure less its end pressure, at least 0.

    At altitude the ambient pressure falls and the end pressure does not: the depression shrinks by as much.

    >>> available_depression(ambient_pressure=87.7e3, end_pressure=12e3)
    75700.0
    """
    ambient = positive("ambient pressure", ambient_pressure)
    return max(0.0, ambient - not_negative("end pressure", end_pressure))


def pump_down_time(
    volume: float,
    pump_speed: float,
    start_pressure: float,
    target_pressure: float,
    end_pressure: float = 0.0,
) -> float:
    """Time [s] a pump needs to empty a tight vessel: t = (V/S)·ln((p0 - pe)/(p - pe)).

    `volume` m³; `pump_speed` S the volume swept at the inlet, m³/s, constant (free flow at ambient pressure);
    `end_pressure` pe the lowest pressure the pump reaches, where its speed S·(1 - pe/p) has fallen to
    nothing. A target at or above the start takes no time. A target the pump never reaches raises
    `OutsideRange`. Source: gas law; O'Hanlon, A User's Guide to Vacuum Technology. Leaks and hose resistance
    are left out.

    >>> round(pump_down_time(5e-3, 1e-3, 101325.0, 30e3), 2)
    6.09
    """
    positive("volume", volume)
    return volume / positive("pump speed", pump_speed) * _decay(start_pressure, target_pressure, end_pressure)


def pump_speed_needed(
    volume: float, time: float, start_pressure: float, target_pressure: float, end_pressure: float = 0.0
) -> float:
    """Pump speed [m³/s] that empties `volume` [m³] to the target within `time` [s]; see `pump_down_time`.

    >>> round(pump_speed_needed(5e-3, 6.0857, 101325.0, 30e3) * 1e3, 3)
    1.0
    """
    positive("volume", volume)
    return volume / positive("time", time) * _decay(start_pressure, target_pressure, end_pressure)


def _decay(start: float, target: float, end: float) -> float:
    positive("start pressure", start)
    positive("target pressure", target)
    not_negative("end pressure", end)
    if target >= start:
        return 0.0
    if target <= end:
        raise OutsideRange(f"the pump ends at {said(end, 'kPa')} absolute and never reaches {said(target, 'kPa')}")
    return math.log((start - end) / (target - end))


def pressure_after_pumping(
    time: float, volume: float, pump_speed: float, start_pressure: float, end_pressure: float = 0.0
) -> float:
    """Pressure [Pa] after pumping for `time` [s]: pe + (p0 - pe)·exp(-S·t/V); see `pump_down_time`.

    The start must not lie below the end pressure: pumps of this kind have a check valve.

    >>> round(pressure_after_pumping(6.0857, 5e-3, 1e-3, 101325.0))
    30000
    """
    positive("volume", volume)
    positive("start pressure", start_pressure)
    if start_pressure < not_negative("end pressure", end_pressure):
        raise ImpossibleInput("the start pressure lies below the pump's end pressure")
    exponent = not_negative("pump speed", pump_speed) * not_negative("time", time) / volume
    return end_pressure + (start_pressure - end_pressure) * math.exp(-exponent)


def depression_after(
    applications: int,
    *,
    depression: float,
    ambient_pressure: float,
    volume: float,
    swept_volume: float,
    dead_volume: float = 0.0,
) -> float:
    """Depression [Pa] left after a number of full applications with the source stopped.

    Model, per application: the working chamber, at rest `dead_volume` at reservoir pressure, is cut off,
    filled with ambient air and enlarged by `swept_volume`; on release that air mixes into the whole `volume`,
    booster and reservoir with the dead volume in it. Isothermal: p' = p + (pa·Vs + (pa - p)·Vd)/V. The
    depression d therefore becomes d·(1 - Vd/V) - pa·Vs/V, and never less than 0. Volumes m³, pressures Pa;
    the `depression` must be below ambient pressure, swept and dead volume together within the volume.

    >>> reserve = dict(depression=71325.0, ambient_pressure=101325.0, volume=4e-3, swept_volume=0.5e-3)
    >>> round(101325.0 - depression_after(1, **reserve))
    42666
    """
    if applications < 0:
        raise ImpossibleInput(f"the number of applications must not be negative, not {applications}")
    within_range("number of applications", applications, 0, MOST_APPLICATIONS, "no brake test asks for more")
    kept, lost = _application(ambient_pressure, volume, swept_volume, dead_volume)
    left = _depression("depression", depression, ambient_pressure)
    for _ in range(applications):
        left = max(0.0, left * kept - lost)
    return left


def applications_left(
    *,
    depression: float,
    required_depression: float,
    ambient_pressure: float,
    volume: float,
    swept_volume: float,
    dead_volume: float = 0.0,
) -> int:
    """Number of full applications after which the depression still is `required_depression` [Pa] or more.

    Model and other arguments as `depression_after`. 0 when the first application, or the start, falls short.

    >>> applications_left(depression=75e3, required_depression=40e3, ambient_pressure=100e3, volume=29e-3,
    ...                   swept_volume=2.0e-3)
    5
    """
    kept, lost = _application(ambient_pressure, volume, swept_volume, dead_volume)
    left = _depression("depression", depression, ambient_pressure)
    required = _depression("required depression", required_depression, ambient_pressure)
    for count in range(MOST_APPLICATIONS):
        left = max(0.0, left * kept - lost)
        if left < required or left == 0.0:
            return count
    raise OutsideRange(f"more than {MOST_APPLICATIONS} applications: check the swept volume")


def volume_for_reserve(
    share_left: float,
    *,
    depression: float,
    ambient_pressure: float,
    swept_volume: float,
    dead_volume: float = 0.0,
) -> float:
    """Volume [m³] of booster and reservoir together that keeps `share_left` of the depression after one application.

    Model and other arguments as `depression_after`: V = (pa·Vs + d·Vd)/((1 - share)·d). `share_left` from 0
    to below 1. Take the booster's own volume off to get the reservoir.

    >>> round(volume_for_reserve(0.7, depression=70e3, ambient_pressure=100e3, swept_volume=2.1e-3) * 1e3, 1)
    10.0
    """
    if share("share left", share_left) == 1.0:
        raise OutsideRange("no volume keeps the whole depression")
    drawn = positive("depression", _depression("depression", depression, ambient_pressure))
    air = ambient_pressure * positive("swept volume", swept_volume)
    air += drawn * not_negative("dead volume", dead_volume)
    return air / ((1.0 - share_left) * drawn)


def _application(ambient: float, volume: float, swept: float, dead: float) -> tuple[float, float]:
    """Factor on the depression and loss [Pa] of one application."""
    positive("ambient pressure", ambient)
    positive("volume", volume)
    positive("swept volume", swept)
    not_negative("dead volume", dead)
    if swept + dead > volume:
        raise ImpossibleInput("swept and dead volume are more than booster and reservoir together")
    return 1.0 - dead / volume, ambient * swept / volume


def _depression(name: str, value: float, ambient: float) -> float:
    if finite(name, not_negative(name, value)) > positive("ambient pressure", ambient):
        raise ImpossibleInput(
            f"a {name} of {said(value, 'kPa')} is more than the pressure of the air, {said(ambient, 'kPa')}"
        )
    return value
