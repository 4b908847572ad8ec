"""Dry plate clutches: torque capacity, clamp force and the heat of one launch.

Forces in N, radii in m, torques in N·m. The friction coefficient is the one that remains hot; its spread is
the largest uncertainty of every result here. Source: Shigley, *Mechanical Engineering Design*, chapter on
clutches (from memory); Khurmi and Gupta, *Theory of Machines*, chapter 10.
"""

from __future__ import annotations

import math

from swaplint.engineering.guards import ImpossibleInput, OutsideRange, finite, not_negative, positive, said


def _ring(outer_radius: float, inner_radius: float) -> None:
    positive("inner_radius", inner_radius)
    if not finite("outer_radius", outer_radius) > inner_radius:
        raise ImpossibleInput(
            f"the outer radius of {said(outer_radius, 'mm')} must be greater than the inner one of "
            f"{said(inner_radius, 'mm')}"
        )


def _faces(faces: int) -> int:
    if faces < 1:
        raise ImpossibleInput(f"a clutch has at least one friction face, not {faces}")
    return faces


def effective_radius_uniform_wear(outer_radius: float, inner_radius: float) -> float:
    """Return the radius at which friction acts in a clutch that has bedded in, m: (ro + ri)/2.

    >>> round(effective_radius_uniform_wear(0.165, 0.1025), 5)
    0.13375
    """
    _ring(outer_radius, inner_radius)
    return (outer_radius + inner_radius) / 2.0


def effective_radius_uniform_pressure(outer_radius: float, inner_radius: float) -> float:
    """Return the radius at which friction acts in a new, stiff clutch, m: ⅔·(ro³ - ri³)/(ro² - ri²).

    Never smaller than the uniform-wear radius, so that uniform wear is the safe choice.

    >>> round(effective_radius_uniform_pressure(0.165, 0.1025), 5)
    0.13618
    """
    _ring(outer_radius, inner_radius)
    o, i = outer_radius, inner_radius
    # (o³ - i³)/(o² - i²) with the common factor (o - i) taken out.
    return 2.0 / 3.0 * (o * o + o * i + i * i) / (o + i)


def torque_capacity(friction: float, clamp_force: float, faces: int, effective_radius: float) -> float:
    """Return the torque at which the clutch slips, N·m: μ·F·N·r.

    `faces` counts friction faces: two for a single plate. `effective_radius` comes from one of the two
    functions above.

    >>> round(torque_capacity(0.27, 14500.0, 2, 0.13375), 1)
    1047.3
    """
    return (
        positive("friction", friction)
        * positive("clamp_force", clamp_force)
        * _faces(faces)
        * positive("effective_radius", effective_radius)
    )


def clamp_force_needed(torque: float, friction: float, faces: int, effective_radius: float) -> float:
    """Return the clamp force, N, that carries `torque` N·m; multiply the torque by the safety factor first.

    >>> round(clamp_force_needed(1.5 * 600.0, 0.27, 2, 0.13375))
    12461
    """
    return positive("torque", torque) / torque_capacity(friction, 1.0, faces, effective_radius)


def safety_factor(capacity: float, torque: float) -> float:
    """Return torque capacity over the greatest engine torque, both N·m.

    >>> safety_factor(900.0, 600.0)
    1.5
    """
    return positive("capacity", capacity) / positive("torque", torque)


def peak_pressure_uniform_wear(clamp_force: float, outer_radius: float, inner_radius: float) -> float:
    """Return the lining pressure at the inner radius, Pa: F/(2π·ri·(ro - ri)).

    >>> round(peak_pressure_uniform_wear(14500.0, 0.165, 0.1025) / 1e6, 3)
    0.36
    """
    _ring(outer_radius, inner_radius)
    return positive("clamp_force", clamp_force) / (2.0 * math.pi * inner_radius * (outer_radius - inner_radius))


def reflected_inertia(mass: float, rolling_radius: float, ratio: float) -> float:
    """Return the inertia of the vehicle as the clutch feels it, kg·m²: m·r²/i², `ratio` from clutch to wheel.

    >>> round(reflected_inertia(7000.0, 0.5, 28.0), 3)
    2.232
    """
    return positive("mass", mass) * (positive("rolling_radius", rolling_radius) / positive("ratio", ratio)) ** 2


def launch_slip_time(inertia: float, engine_speed: float, clutch_torque: float, load_torque: float = 0.0) -> float:
    """Return how long the clutch slips in a launch at constant engine speed, s: J·ω/(T - T_load).

    `load_torque` is slope and rolling resistance at the clutch, N·m. Raises OutsideRange if the clutch
    torque does not exceed it: then the vehicle never moves off.

    >>> round(launch_slip_time(2.0, 150.0, 400.0, 100.0), 3)
    1.0
    """
    positive("clutch_torque", clutch_torque)
    if clutch_torque <= finite("load_torque", load_torque):
        raise OutsideRange(
            f"a clutch torque of {said(clutch_torque, 'N m')} does not exceed the load of "
            f"{said(load_torque, 'N m')}: nothing moves off"
        )
    return positive("inertia", inertia) * positive("engine_speed", engine_speed) / (clutch_torque - load_torque)


def launch_slip_energy(inertia: float, engine_speed: float, clutch_torque: float, load_torque: float = 0.0) -> float:
    """Return the heat of one launch at constant engine speed and clutch torque, J: ½·J·ω²·T/(T - T_load).

    `inertia` in kg·m² is that of the vehicle at the clutch, `engine_speed` in rad/s. Half the engine's work
    becomes heat on the level; a slope multiplies it. Source: integration of torque times slip speed.

    >>> launch_slip_energy(2.0, 150.0, 400.0)
    22500.0
    >>> round(launch_slip_energy(2.0, 150.0, 400.0, 100.0))
    30000
    """
    time = launch_slip_time(inertia, engine_speed, clutch_torque, load_torque)
    return 0.5 * clutch_torque * engine_speed * time


def coupling_slip_energy(driving_inertia: float, driven_inertia: float, speed_difference: float) -> float:
    """Return the heat when two free rotors are clutched together, J: ½·J₁·J₂/(J₁ + J₂)·Δω².

    It does not depend on the clutch torque. Source: Shigley (from memory); momentum balance.

    >>> coupling_slip_energy(2.0, 2.0, 100.0)
    5000.0
    """
    j1 = positive("driving_inertia", driving_inertia)
    j2 = positive("driven_inertia", driven_inertia)
    return 0.5 * j1 * j2 / (j1 + j2) * finite("speed_difference", speed_difference) ** 2


def temperature_rise(energy: float, mass: float, specific_heat: float = 500.0) -> float:
    """Return the mean rise of the metal that takes the heat of one slip, K: E/(m·c).

    `mass` in kg is flywheel and pressure plate; `specific_heat` in J/(kg·K), about 500 for cast iron. Real
    surfaces get hotter than this mean. Source: Shigley (from memory).

    >>> temperature_rise(30000.0, 12.0)
    5.0
    """
    return not_negative("energy", energy) / positive("mass", mass) / positive("specific_heat", specific_heat)
