"""Hydraulic pumps and cylinders, and what power steering needs.

Displacement in m³ per turn, speeds in rad/s, flow in m³/s, pressure in Pa. Changes to steering go before a
licensed engineer or inspector before road use. Sources: displacement machine equations as in any
fluid-power text; parking torque by Gough's formula as quoted by Reimpell, *The Automotive Chassis* (from
memory).
"""

from __future__ import annotations

import math

from swaplint.engineering.guards import ImpossibleInput, finite, not_negative, positive, said, share

_TURN = 2.0 * math.pi


def _efficiency(name: str, value: float) -> float:
    if share(name, value) == 0.0:
        raise ImpossibleInput(f"{name} must be greater than zero")
    return value


def pump_flow(displacement: float, speed: float, volumetric_efficiency: float = 1.0) -> float:
    """Return the flow of a pump, m³/s: q·n·η_v. Hot oil at idle leaves 0.80 to 0.92 (common practice).

    >>> round(pump_flow(12e-6, 750 * 2 * math.pi / 60, 0.85) * 60000, 2)
    7.65
    """
    turns = not_negative("speed", speed) / _TURN
    return positive("displacement", displacement) * turns * share("volumetric_efficiency", volumetric_efficiency)


def displacement_needed(flow: float, speed: float, volumetric_efficiency: float = 1.0) -> float:
    """Return the displacement, m³ per turn, that delivers a flow at a pump speed.

    >>> round(displacement_needed(6.8 / 60000, 750 * 2 * math.pi / 60, 0.85) * 1e6, 2)
    10.67
    """
    turns = positive("speed", speed) / _TURN
    return not_negative("flow", flow) / turns / _efficiency("volumetric_efficiency", volumetric_efficiency)


def fluid_power(flow: float, pressure: float) -> float:
    """Return flow times pressure rise, W. Through a relief valve all of it becomes heat.

    >>> round(fluid_power(10 / 60000, 10e6))
    1667
    """
    return not_negative("flow", flow) * not_negative("pressure", pressure)


def shaft_power(flow: float, pressure: float, efficiency: float) -> float:
    """Return the power, W, that the pump takes from its belt or gear: Q·p/η with the overall efficiency.

    >>> round(shaft_power(10 / 60000, 10e6, 0.8))
    2083
    """
    return fluid_power(flow, pressure) / _efficiency("efficiency", efficiency)


def shaft_torque(displacement: float, pressure: float, mechanical_efficiency: float = 1.0) -> float:
    """Return the torque at the pump's shaft, N·m: q·p/(2π·η_m).

    >>> round(shaft_torque(12e-6, 10e6), 2)
    19.1
    """
    return (
        positive("displacement", displacement)
        * not_negative("pressure", pressure)
        / _TURN
        / _efficiency("mechanical_efficiency", mechanical_efficiency)
    )


def cylinder_area(bore: float, rod: float = 0.0) -> float:
    """Return the area that pressure acts on, m²: bore less rod, both diameters in m.

    >>> round(cylinder_area(0.050, 0.025) * 1e6, 1)
    1472.6
    """
    if not_negative("rod", rod) >= positive("bore", bore):
        raise ImpossibleInput(f"a rod of {said(rod, 'mm')} does not fit into a bore of {said(bore, 'mm')}")
    return math.pi / 4.0 * (bore - rod) * (bore + rod)


def cylinder_volume(bore: float, stroke: float, rod: float = 0.0) -> float:
    """Return the oil that one full stroke takes, m³; for a steering gear the stroke from lock to lock.

    >>> round(cylinder_volume(0.044, 0.15, 0.024) * 1e6, 1)
    160.2
    """
    return cylinder_area(bore, rod) * positive("stroke", stroke)


def pressure_for_force(force: float, area: float, back_pressure: float = 0.0) -> float:
    """Return the pressure, Pa, at which a piston pushes with `force` N, over any pressure in the return.

    >>> round(pressure_for_force(10e3, 0.0014726) / 1e6, 2)
    6.79
    """
    return not_negative("force", force) / positive("area", area) + not_negative("back_pressure", back_pressure)


def steering_flow_needed(
    cylinder_volume: float, turns_lock_to_lock: float, hand_wheel_rate: float, leakage_factor: float = 1.15
) -> float:
    """Return the flow, m³/s, for turning the hand wheel at a rate: V·n/turns·leakage factor.

    `cylinder_volume` in m³ is the oil from lock to lock, `turns_lock_to_lock` turns of the hand wheel,
    `hand_wheel_rate` in turns per second: 1.25 to 1.5 for a brisk turn (common practice), `leakage_factor`
    the oil lost in valve and gear (common practice).

    >>> round(steering_flow_needed(160e-6, 3.5, 1.5) * 60000, 2)
    4.73
    """
    if finite("leakage_factor", leakage_factor) < 1.0:
        raise ImpossibleInput(f"leakage only adds: the factor is at least 1, not {leakage_factor}")
    return (
        positive("cylinder_volume", cylinder_volume)
        * not_negative("hand_wheel_rate", hand_wheel_rate)
        / positive("turns_lock_to_lock", turns_lock_to_lock)
        * leakage_factor
    )


def hand_wheel_rate(
    flow: float, cylinder_volume: float, turns_lock_to_lock: float, leakage_factor: float = 1.15
) -> float:
    """Return the rate, turns per second, up to which a flow still assists; the inverse of the function above.

    >>> round(hand_wheel_rate(4.73 / 60000, 160e-6, 3.5), 2)
    1.5
    """
    per_turn = steering_flow_needed(cylinder_volume, turns_lock_to_lock, 1.0, leakage_factor)
    return not_negative("flow", flow) / per_turn


def parking_torque(load: float, tyre_pressure: float, friction: float = 0.7) -> float:
    """Return the torque, N·m, to turn one standing tyre about its steering axis: (μ/3)·√(F³/p).

    `load` in N on the tyre, `tyre_pressure` in Pa. Kingpin offset and caster add to it. An estimate: Gough's
    formula, quoted by Reimpell (from memory).

    >>> round(parking_torque(5000.0, 220e3), 1)
    175.9
    """
    f = not_negative("load", load)
    return positive("friction", friction) / 3.0 * f * math.sqrt(f / positive("tyre_pressure", tyre_pressure))


def parking_effort_ratio(load: float, old_load: float) -> float:
    """Return new over old parking effort at equal tyre pressure, 1: (F/F_old)^1.5, from `parking_torque`.

    >>> round(parking_effort_ratio(1210.0, 1000.0), 3)
    1.331
    """
    return float((not_negative("load", load) / positive("old_load", old_load)) ** 1.5)


def line_velocity(flow: float, bore: float) -> float:
    """Return the mean speed of oil in a line, m/s; suction lines are kept near 1 m/s (common practice).

    >>> round(line_velocity(8 / 60000, 0.016), 2)
    0.66
    """
    return not_negative("flow", flow) / cylinder_area(bore)
