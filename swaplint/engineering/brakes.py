"""Hydraulic brakes: the force chain from pedal to road, energy, and what is left without assistance.

A calculated deceleration never replaces a brake test. Changes to brakes go before a licensed engineer or
inspector before road use, and local rules decide what must be shown.

Forces in N, areas in m², lengths in m, pressures in Pa. Source: Limpert, *Brake Design and Safety* (from
memory), where not said otherwise. Friction of linings spreads by ±20 % and fades with heat: carry that as a
tolerance.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from swaplint.engineering.constants import G
from swaplint.engineering.guards import ImpossibleInput, OutsideRange, finite, not_negative, positive, said, share

DISC_BRAKE_FACES: Final = 2
"""A disc is gripped from both sides: its brake factor is twice the lining's friction coefficient."""


def disc_brake_factor(friction: float) -> float:
    """Return drag over clamping force of one disc brake, 1: 2·μ.

    >>> disc_brake_factor(0.38)
    0.76
    """
    return DISC_BRAKE_FACES * positive("friction", friction)


def piston_area(diameter: float, count: int = 1) -> float:
    """Return the area of `count` equal pistons, m². For a caliper count one side only.

    >>> round(piston_area(0.060) * 1e6, 1)
    2827.4
    """
    if count < 1:
        raise ImpossibleInput(f"there is at least one piston, not {count}")
    return count * math.pi / 4.0 * positive("diameter", diameter) ** 2


@dataclass(frozen=True, slots=True)
class WheelBrake:
    """`count` equal brakes: piston area of one, m²; brake factor (drag over piston force), 1; radius, m.

    `piston_area` is that of one side of a caliper, or of one end of a drum's wheel cylinder. `brake_factor`
    of a drum is its shoe factor (2 to 5 by design). `effective_radius` is where the drag acts: middle of
    the pads, or the drum's radius. `push_out_pressure`, Pa, is spent before the linings touch (drums, some
    hundred kPa).
    """

    piston_area: float
    brake_factor: float
    effective_radius: float
    count: int = 2
    push_out_pressure: float = 0.0

    def __post_init__(self) -> None:
        positive("piston_area", self.piston_area)
        positive("brake_factor", self.brake_factor)
        positive("effective_radius", self.effective_radius)
        not_negative("push_out_pressure", self.push_out_pressure)
        if self.count < 1:
            raise ImpossibleInput(f"there is at least one brake, not {self.count}")


def vacuum_booster_force(depression: float, diaphragm_area: float, efficiency: float = 0.95) -> float:
    """Return the greatest assisting force of a vacuum booster, N: Δp·A·η.

    `depression` in Pa is air pressure less the absolute pressure in the booster; at altitude both ends sink.

    >>> round(vacuum_booster_force(65e3, 0.04))
    2470
    """
    return (
        not_negative("depression", depression)
        * positive("diaphragm_area", diaphragm_area)
        * share("efficiency", efficiency)
    )


def boosted_push(pedal_push: float, gain: float, greatest_assist: float) -> float:
    """Return the force on the master cylinder's rod, N, behind a booster.

    `pedal_push` is pedal force·pedal ratio·efficiency. The booster multiplies it by `gain` until its
    assisting force reaches `greatest_assist`, the run-out point; beyond it only the leg adds.

    >>> boosted_push(500.0, 4.0, 2400.0), boosted_push(1000.0, 4.0, 2400.0)
    (2000.0, 3400.0)
    """
    if finite("gain", gain) < 1.0:
        raise ImpossibleInput(f"a booster's gain is at least 1, not {gain}")
    push = not_negative("pedal_push", pedal_push)
    return push + min((gain - 1.0) * push, not_negative("greatest_assist", greatest_assist))


def pedal_push(pedal_force: float, pedal_ratio: float, efficiency: float = 0.8) -> float:
    """Return the force behind the pedal's lever, N: F·i·η.

    `efficiency` covers lever, master cylinder and return springs, 0.8 as a rule (Limpert, from memory).

    >>> pedal_push(500.0, 4.0, 0.8)
    1600.0
    """
    return (
        not_negative("pedal_force", pedal_force)
        * positive("pedal_ratio", pedal_ratio)
        * share("efficiency", efficiency)
    )


def line_pressure(push: float, master_bore: float) -> float:
    """Return the pressure in the lines, Pa, from the force on the master cylinder's rod and its bore, m.

    >>> round(line_pressure(3400.0, 0.0254) / 1e6, 2)
    6.71
    """
    return not_negative("push", push) / piston_area(master_bore)


def brake_force(pressure: float, brakes: Sequence[WheelBrake], tyre_radius: float, efficiency: float = 0.96) -> float:
    """Return the braking force of all wheels at the road, N: Σ (p - p_o)·A·η·C·r_eff/r_tyre.

    `efficiency` is that of the wheel cylinders. No limit of grip is applied.

    >>> front = WheelBrake(piston_area(0.060), 0.76, 0.12)
    >>> round(brake_force(5e6, [front], 0.32, efficiency=1.0))
    8058
    """
    not_negative("pressure", pressure)
    positive("tyre_radius", tyre_radius)
    share("efficiency", efficiency)
    return math.fsum(
        max(0.0, pressure - brake.push_out_pressure) * _force_per_pressure(brake, tyre_radius, efficiency)
        for brake in brakes
    )


def _force_per_pressure(brake: WheelBrake, tyre_radius: float, efficiency: float) -> float:
    drag = brake.count * brake.piston_area * efficiency * brake.brake_factor
    return drag * brake.effective_radius / tyre_radius


def pressure_for_brake_force(
    force: float, brakes: Sequence[WheelBrake], tyre_radius: float, efficiency: float = 0.96
) -> float:
    """Return the line pressure, Pa, that gives a braking force, N; the inverse of `brake_force`.

    Solved piece by piece: each push-out pressure starts another straight piece.

    >>> front = WheelBrake(piston_area(0.060), 0.76, 0.12)
    >>> round(pressure_for_brake_force(8058.0, [front], 0.32, efficiency=1.0) / 1e6, 3)
    5.0
    """
    not_negative("force", force)
    if not brakes:
        raise ImpossibleInput("without brakes there is no braking force")
    if share("efficiency", efficiency) == 0.0:
        raise ImpossibleInput("efficiency must be greater than zero")
    if force == 0.0:
        return 0.0
    starts = sorted({brake.push_out_pressure for brake in brakes})
    for start, end in zip(starts, [*starts[1:], math.inf], strict=True):
        slope = math.fsum(
            _force_per_pressure(brake, tyre_radius, efficiency) for brake in brakes if brake.push_out_pressure <= start
        )
        pressure = start + (force - brake_force(start, brakes, tyre_radius, efficiency)) / slope
        if pressure <= end:
            break
    return pressure


def deceleration(force: float, mass: float) -> float:
    """Return force/mass, m/s²; what the brakes can do, not what the tyres can hold (`grip_deceleration`).

    >>> deceleration(8000.0, 2000.0)
    4.0
    """
    return not_negative("force", force) / positive("mass", mass)


def grip_deceleration(friction: float) -> float:
    """Return the greatest deceleration that the tyres can hold on the level, m/s²: μ·g.

    >>> round(grip_deceleration(0.8), 3)
    7.845
    """
    return not_negative("friction", friction) * G


def pedal_force_without_assist(
    force: float,
    brakes: Sequence[WheelBrake],
    tyre_radius: float,
    master_bore: float,
    pedal_ratio: float,
    *,
    pedal_efficiency: float = 0.8,
    wheel_efficiency: float = 0.96,
) -> float:
    """Return the pedal force, N, that gives a braking force with no booster, for a failed or empty one.

    With `force` = mass·deceleration it is the unassisted stop; with the drive force of an engine that does
    not let go added, it is what holds the vehicle against it.

    >>> brakes = [WheelBrake(piston_area(0.060), 0.76, 0.12), WheelBrake(piston_area(0.022), 2.5, 0.13)]
    >>> round(pedal_force_without_assist(2000.0 * 2.44, brakes, 0.32, 0.0254, 4.0))
    338
    """
    pressure = pressure_for_brake_force(force, brakes, tyre_radius, wheel_efficiency)
    push = pressure * piston_area(master_bore)
    lever = positive("pedal_ratio", pedal_ratio) * share("pedal_efficiency", pedal_efficiency)
    return push / positive("pedal_ratio times efficiency", lever)


def largest_master_bore(push: float, pressure: float) -> float:
    """Return the bore, m, up to which `push` N still makes `pressure` Pa. A smaller bore needs more travel.

    >>> round(largest_master_bore(1600.0, 4e6) * 1000, 2)
    22.57
    """
    return math.sqrt(4.0 / math.pi * positive("push", push) / positive("pressure", pressure))


def stop_energy(mass: float, speed: float, final_speed: float = 0.0, rotating_factor: float = 1.0) -> float:
    """Return the energy that the brakes take from `speed` to `final_speed`, m/s, J: ½·k·m·(v₁² - v₂²).

    `rotating_factor` k covers wheels and shafts, 1.05 to 1.15 in high gear (Limpert, from memory).

    >>> stop_energy(2000.0, 25.0)
    625000.0
    """
    v1, v2 = not_negative("speed", speed), not_negative("final_speed", final_speed)
    if v2 > v1:
        raise ImpossibleInput(f"braking from {said(v1, 'km/h')} to {said(v2, 'km/h')} would add energy")
    if finite("rotating_factor", rotating_factor) < 1.0:
        raise ImpossibleInput(f"rotating parts add inertia: the factor is at least 1, not {rotating_factor}")
    return 0.5 * rotating_factor * positive("mass", mass) * (v1 - v2) * (v1 + v2)


def energy_ratio(mass: float, speed: float, old_mass: float, old_speed: float) -> float:
    """Return the energy of a stop over that of the vehicle as approved, 1: m·v²/(m_old·v_old²).

    >>> energy_ratio(2200.0, 25.0, 2000.0, 25.0)
    1.1
    """
    return stop_energy(mass, positive("speed", speed)) / stop_energy(old_mass, positive("old_speed", old_speed))


def speed_for_energy_ratio(ratio: float, mass: float, old_mass: float, old_speed: float) -> float:
    """Return the speed, in the unit of `old_speed`, at which a stop takes `ratio` times the old energy.

    >>> round(speed_for_energy_ratio(1.1, 2200.0, 2000.0, 85.0), 6)
    85.0
    """
    return positive("old_speed", old_speed) * math.sqrt(
        positive("ratio", ratio) * positive("old_mass", old_mass) / positive("mass", mass)
    )


def stopping_distance(speed: float, deceleration: float, reaction_time: float = 0.0) -> float:
    """Return v·t + v²/(2·a), m, at constant deceleration.

    >>> stopping_distance(20.0, 5.0, 1.0)
    60.0
    """
    v = not_negative("speed", speed)
    return v * not_negative("reaction_time", reaction_time) + v * v / (2.0 * positive("deceleration", deceleration))


def descent_brake_power(
    mass: float, speed: float, slope: float, resistance: float = 0.0, engine_braking: float = 0.0
) -> float:
    """Return the power, W, that the brakes must take to hold a speed downhill; 0 where none is left over.

    (m·g·sin slope - resistance)·v - engine braking: `slope` an angle in rad, `resistance` rolling and air
    in N, `engine_braking` in W.

    >>> round(descent_brake_power(7000.0, 10.0, math.atan(0.08), resistance=1500.0, engine_braking=25e3))
    14742
    """
    if not 0.0 <= finite("slope", slope) < math.pi / 2:
        raise OutsideRange(f"a descent has a slope angle from 0 to below a right angle, not {said(slope, '°')}")
    left = positive("mass", mass) * G * math.sin(slope) - not_negative("resistance", resistance)
    return max(0.0, left * not_negative("speed", speed) - not_negative("engine_braking", engine_braking))


def mean_temperature_rise(energy: float, mass: float, specific_heat: float = 500.0) -> float:
    """Return the mean rise of discs or drums in one stop without cooling, K: E/(m·c).

    `specific_heat` in J/(kg·K), about 500 for cast iron near 100 °C (handbook value, from memory).

    >>> mean_temperature_rise(625e3, 50.0)
    25.0
    """
    return not_negative("energy", energy) / positive("mass", mass) / positive("specific_heat", specific_heat)
