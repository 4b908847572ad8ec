"""Vibration of a unit on mounts: natural frequencies, isolation, movement.

Frequencies in Hz, stiffness in N/m and N·m/rad, masses in kg, inertias in kg·m². Use the *dynamic*
stiffness of rubber, 1.2 to 1.6 times the static one (common practice), for everything that shakes, and the
static one for sag. Sources: Den Hartog, *Mechanical Vibrations*; Harris, *Shock and Vibration Handbook*;
Ogata, *System Dynamics* (all from memory).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from swaplint.engineering.constants import G
from swaplint.engineering.guards import (
    ImpossibleInput,
    OutsideRange,
    finite,
    not_negative,
    positive,
    within_range,
)


def natural_frequency(stiffness: float, inertia: float) -> float:
    """Return √(k/m)/(2π), Hz: stiffness N/m with mass kg, or N·m/rad with inertia kg·m².

    >>> round(natural_frequency(1.64e6, 653.0), 2)
    7.98
    """
    return math.sqrt(positive("stiffness", stiffness) / positive("inertia", inertia)) / (2.0 * math.pi)


def natural_frequency_from_deflection(deflection: float) -> float:
    """Return the bounce frequency, Hz, from the deflection under the unit's weight, m: √(g/δ)/(2π).

    Linear mounts only; divide a measured static sag by the ratio of dynamic to static stiffness first.

    >>> round(natural_frequency_from_deflection(0.001), 2)
    15.76
    """
    return math.sqrt(G / positive("deflection", deflection)) / (2.0 * math.pi)


def static_deflection(frequency: float) -> float:
    """Return the deflection under the unit's weight, m, that belongs to a bounce frequency, Hz.

    >>> round(static_deflection(15.76), 6)
    0.001
    """
    return G / (2.0 * math.pi * positive("frequency", frequency)) ** 2


def firing_frequency(speed: float, cylinders: int, two_stroke: bool = False) -> float:
    """Return the firing frequency of an evenly firing engine, Hz; `speed` in rad/s.

    Cylinders/2 firings a turn for a four-stroke, cylinders for a two-stroke.

    >>> round(firing_frequency(750 * 2 * math.pi / 60, 6), 6)
    37.5
    """
    if cylinders < 1:
        raise ImpossibleInput(f"an engine has at least one cylinder, not {cylinders}")
    turns = not_negative("speed", speed) / (2.0 * math.pi)
    return turns * cylinders * (1.0 if two_stroke else 0.5)


def order_frequency(speed: float, order: float) -> float:
    """Return the frequency of an engine order, Hz: `order` times turns a second; `speed` in rad/s.

    >>> round(order_frequency(750 * 2 * math.pi / 60, 0.5), 6)
    6.25
    """
    return not_negative("speed", speed) / (2.0 * math.pi) * positive("order", order)


def transmissibility(frequency_ratio: float, damping: float = 0.0) -> float:
    """Return force passed on / exciting force, 1, of a single mass on a damped spring.

    √((1 + (2ζr)²)/((1 - r²)² + (2ζr)²)) with r = exciting / natural frequency and ζ the damping ratio.
    Below 1, which is isolation, only above r = √2. Raises OutsideRange at resonance without damping.

    >>> round(transmissibility(3.0), 6)
    0.125
    """
    r = not_negative("frequency_ratio", frequency_ratio)
    damped = (2.0 * not_negative("damping", damping) * r) ** 2
    denominator = (1.0 - r * r) ** 2 + damped
    if denominator == 0.0:
        raise OutsideRange("at resonance without damping the shaking grows without end")
    return math.sqrt((1.0 + damped) / denominator)


def frequency_ratio_for(transmissibility: float, damping: float = 0.0) -> float:
    """Return the frequency ratio above √2 at which the transmissibility falls to a wanted value below 1.

    The square of the formula of `transmissibility` is a quadratic in r²; its positive root is returned.

    >>> round(frequency_ratio_for(1 / 30), 5)
    5.56776
    """
    if not 0.0 < finite("transmissibility", transmissibility) < 1.0:
        raise OutsideRange(f"mounts that isolate let through a share between 0 and 1, not {transmissibility:g}")
    t2 = transmissibility**2
    d = (2.0 * not_negative("damping", damping)) ** 2
    # t²·((1-x)² + d·x) = 1 + d·x with x = r²
    half = 1.0 + d * (1.0 / t2 - 1.0) / 2.0
    return math.sqrt(half + math.sqrt(half * half + 1.0 / t2 - 1.0))


def stiffness_for_ratio(mass: float, exciting_frequency: float, frequency_ratio: float) -> float:
    """Return the total stiffness, N/m, that puts bounce at exciting frequency / ratio: m·(2π·f/R)².

    >>> round(stiffness_for_ratio(653.0, 37.5, 2.5) / 1e6, 2)
    5.8
    """
    frequency = positive("exciting_frequency", exciting_frequency) / positive("frequency_ratio", frequency_ratio)
    return positive("mass", mass) * (2.0 * math.pi * frequency) ** 2


@dataclass(frozen=True, slots=True)
class Mount:
    """A mount's stiffness, N/m, and place relative to the roll axis through the centre of gravity, m.

    `lateral` to one side (left positive), `height` over the axis; `vertical` and `transverse` stiffness. `cross` is the
    upward force for a movement to the left, which a mount that stands at a slant has: see `inclined_mount`.
    """

    lateral: float
    vertical: float
    height: float = 0.0
    transverse: float = 0.0
    cross: float = 0.0

    def __post_init__(self) -> None:
        finite("lateral", self.lateral)
        positive("vertical", self.vertical)
        finite("height", self.height)
        not_negative("transverse", self.transverse)
        finite("cross", self.cross)


def stiffness_between_readings(load: float, give: float) -> float:
    """Static stiffness of a spring from two readings: by how much the load differs, and how much further it gives way.

    The jack is eased off between the two, so that both lie near the load that the spring works under: from no load
    rubber gives way more. Gives of less than 3 mm are refused, for reading them to half a millimetre is too coarse.

    >>> round(stiffness_between_readings(60.0 * 9.80665, 0.0032) / 1e3)
    184
    """
    positive("load", load), positive("give", give)
    within_range("give", give, LEAST_GIVE, math.inf, "less than 3 mm cannot be read well enough", "mm")
    return load / give


LEAST_GIVE = 0.003
"""Metres: read to half a millimetre, less gives no stiffness worth having."""


def inertia_by_swing(mass: float, radius: float, period: float, length: float) -> float:
    """Moment of inertia about an upright axis of what hangs from three equal upright ropes at a radius and is swung.

    I = m·g·r²·T²/(4π²·L), for small swings of rigid bodies on light ropes (trifilar pendulum).

    >>> round(inertia_by_swing(250.0, 0.35, 2.4, 2.0), 1)
    21.9
    """
    positive("mass", mass), positive("radius", radius), positive("period", period), positive("length", length)
    return mass * G * radius**2 * period**2 / (4.0 * math.pi**2 * length)


def inclined_mount(lateral: float, height: float, axial: float, shear: float, lean: float = 0.0) -> Mount:
    """Return a mount of `axial` stiffness along its axis and `shear` stiffness across it, N/m, whose axis leans.

    `lean` is the angle of the axis from the upright, rad, positive where its top leans to the left. The stiffness
    turned into upright axes is k_v = k_a·cos² + k_s·sin², k_t = k_a·sin² + k_s·cos², cross = (k_a - k_s)·sin·cos.
    Source: rotation of a symmetric tensor; Harris, chapter on isolators inclined to the axes (from memory).

    >>> mount = inclined_mount(0.3, 0.0, axial=4e5, shear=1e5, lean=math.radians(-45))
    >>> round(mount.vertical), round(mount.transverse), round(mount.cross)
    (250000, 250000, -150000)
    """
    sine, cosine = math.sin(finite("lean", lean)), math.cos(lean)
    along, across = positive("axial", axial), positive("shear", shear)
    return Mount(
        lateral,
        along * cosine**2 + across * sine**2,
        height,
        along * sine**2 + across * cosine**2,
        (along - across) * sine * cosine,
    )


def roll_stiffness(mounts: Sequence[Mount]) -> float:
    """Return the stiffness against roll about the axis, N·m/rad: Σ(k_vertical·y² + k_transverse·h² - 2·cross·y·h).

    >>> roll_stiffness([Mount(0.3, 4e5), Mount(-0.3, 4e5)])
    72000.0
    """
    return math.fsum(
        m.vertical * m.lateral**2 + m.transverse * m.height**2 - 2.0 * m.cross * m.lateral * m.height for m in mounts
    )


class FreeRoll(NamedTuple):
    """How a unit rolls under a torque alone: stiffness, N·m/rad, and the axis that it rolls about, m."""

    stiffness: float
    axis_lateral: float
    axis_height: float


def free_roll(mounts: Sequence[Mount]) -> FreeRoll:
    """Return stiffness and axis of the roll under a pure torque, the unit being free to shift.

    A torque turns the unit about the elastic axis of its mounts, wherever the centre of gravity is. Of all axes it is
    the one with the least stiffness. Lateral and vertical shift are eliminated from the three equations of
    equilibrium. Raises ImpossibleInput where the mounts do not hold the unit. Source: Hooke's law and equilibrium.

    >>> free = free_roll([Mount(0.4, 4e5, 0.1, 1e5), Mount(-0.2, 4e5, 0.1, 1e5)])
    >>> round(free.stiffness), round(free.axis_lateral, 6), round(free.axis_height, 6)
    (72000, 0.1, 0.1)
    """
    across = math.fsum(m.transverse for m in mounts)
    upward = math.fsum(m.vertical for m in mounts)
    cross = math.fsum(m.cross for m in mounts)
    side = math.fsum(m.cross * m.lateral - m.transverse * m.height for m in mounts)
    lift = math.fsum(m.vertical * m.lateral - m.cross * m.height for m in mounts)
    determinant = across * upward - cross * cross
    if determinant <= 1e-12 * upward * upward:
        raise ImpossibleInput("the mounts do not hold the unit sideways")
    shift_left = (lift * cross - side * upward) / determinant
    shift_up = (side * cross - lift * across) / determinant
    stiffness = roll_stiffness(mounts) + side * shift_left + lift * shift_up
    if stiffness <= 1e-12 * (roll_stiffness(mounts) or 1.0):
        raise ImpossibleInput("the mounts do not hold the unit against roll")
    return FreeRoll(stiffness, -shift_up, shift_left)


class Modes(NamedTuple):
    """The two natural frequencies of a coupled system, Hz, lower first, each with its shape.

    A shape is the second coordinate over the first; infinite for a mode in the second coordinate alone.
    """

    lower: float
    upper: float
    lower_shape: float
    upper_shape: float


def coupled_modes(first_inertia: float, second_inertia: float, k11: float, k12: float, k22: float) -> Modes:
    """Return the modes of two coupled coordinates without damping.

    m·x'' + k11·x + k12·θ = 0 and I·θ'' + k12·x + k22·θ = 0. The squares of the circular frequencies are the
    roots of λ² - (a + b)·λ + (a·b - c²) = 0 with a = k11/m, b = k22/I, c² = k12²/(m·I). Raises
    ImpossibleInput where the stiffness does not hold the system (k11·k22 <= k12²). Source: Den Hartog,
    chapter on two degrees of freedom (from memory).

    >>> modes = coupled_modes(100.0, 1000.0, 4000.0, -4000.0, 104000.0)
    >>> round(2 * math.pi * modes.lower, 2), round(2 * math.pi * modes.upper, 2)
    (6.13, 10.32)
    """
    m, inertia = positive("first_inertia", first_inertia), positive("second_inertia", second_inertia)
    determinant = (
        positive("stiffness of the springs", k11) * positive("stiffness of the springs", k22)
        - finite("stiffness of the springs", k12) ** 2
    )
    if determinant <= 0.0:
        raise ImpossibleInput("the springs do not hold the unit: it would fall over between them")
    a, b, c2 = k11 / m, k22 / inertia, k12 * k12 / (m * inertia)
    upper = (a + b) / 2.0 + math.hypot((a - b) / 2.0, math.sqrt(c2))
    lower = determinant / (m * inertia) / upper
    return Modes(
        math.sqrt(lower) / (2.0 * math.pi),
        math.sqrt(upper) / (2.0 * math.pi),
        _shape(lower, a, b, m, inertia, k12, upper_mode=False),
        _shape(upper, a, b, m, inertia, k12, upper_mode=True),
    )


def _shape(square: float, a: float, b: float, m: float, inertia: float, k12: float, *, upper_mode: bool) -> float:
    if k12 == 0.0:
        return 0.0 if (a > b) == upper_mode else math.inf  # in the first coordinate alone, or in the second
    # Of the two equations take the one whose difference is not a small number left over from two large ones.
    if abs(square - a) >= abs(square - b):
        return (square - a) * m / k12
    return k12 / ((square - b) * inertia)


def bounce_roll_modes(mass: float, roll_inertia: float, mounts: Sequence[Mount]) -> Modes:
    """Return the coupled modes of bounce and roll; a shape is roll in rad over bounce in m.

    They are coupled by Σ k·y: mounts whose elastic centre is off the centre of gravity tilt the unit as it
    bounces. Raises ImpossibleInput without mounts or without roll stiffness. Lateral motion, pitch and yaw
    are left out; a complete answer has six coupled modes.

    >>> modes = bounce_roll_modes(200.0, 8.0, [Mount(0.3, 4e5), Mount(-0.3, 4e5)])
    >>> round(modes.lower, 3), round(modes.upper, 3)
    (10.066, 15.099)
    """
    bounce = math.fsum(m.vertical for m in mounts)
    coupling = math.fsum(m.vertical * m.lateral - m.cross * m.height for m in mounts)
    return coupled_modes(mass, roll_inertia, bounce, coupling, roll_stiffness(mounts))


def second_coordinate_share(first_inertia: float, second_inertia: float, shape: float) -> float:
    """Return the share of a mode's kinetic energy that is in the second coordinate, 1.

    I·s²/(m + I·s²) with the shape s, second over first. The shares of the two modes of `coupled_modes` add up to 1, so
    that exactly one of them is mostly in the second coordinate unless both are half and half.

    >>> second_coordinate_share(200.0, 8.0, 5.0)
    0.5
    """
    m, inertia = positive("first_inertia", first_inertia), positive("second_inertia", second_inertia)
    weighted = abs(shape) * math.sqrt(inertia / m)
    if weighted <= 1.0:
        return weighted**2 / (1.0 + weighted**2)
    # The square of a large shape would overflow; that of its inverse only goes to zero.
    inverse = 1.0 / weighted
    return 1.0 / (1.0 + inverse * inverse)


def roll_angle(torque: float, stiffness: float) -> float:
    """Return the roll of the unit under a reaction torque, rad: T/k, before any bump stop is reached.

    >>> round(math.degrees(roll_angle(1200.0, 72000.0)), 3)
    0.955
    """
    return finite("torque", torque) / positive("stiffness", stiffness)


def shock_movement(mass: float, acceleration: float, stiffness: float, free_travel: float = math.inf) -> float:
    """Return the movement under a quasi-static shock, m: m·a/k, at most the free travel to the stop.

    `acceleration` in m/s² beyond gravity. A real shock on soft mounts can move the unit up to twice as far,
    so that the travel to the stops is what decides.

    >>> round(shock_movement(653.0, 3 * 9.80665, 1.64e6) * 1000, 1)
    11.7
    """
    if free_travel != math.inf:
        not_negative("free_travel", free_travel)
    moved = positive("mass", mass) * not_negative("acceleration", acceleration) / positive("stiffness", stiffness)
    return min(moved, free_travel)


def edge_movement(roll: float, distance: float, bounce: float = 0.0) -> float:
    """Return how far a part moves at most, m: roll (rad) times distance from the roll axis, plus bounce (m).

    The chord 2·d·sin(φ/2) is used for the roll; bounce is added in full, which is the worst direction.

    >>> round(edge_movement(math.radians(2), 0.4, 0.005), 5)
    0.01896
    """
    chord = 2.0 * not_negative("distance", distance) * abs(math.sin(finite("roll", roll) / 2.0))
    return chord + not_negative("bounce", bounce)
