"""Belt drives: wrap, length, grip, power, speeds.

Lengths in m, angles in rad, speeds in m/s and rad/s, tensions in N. A poly-V belt grips like a V-belt with
the included groove angle of its pulley, 40° and so half angle 20° for the common sections (ISO 9981, from
memory). Keep hands, hair and sleeves away from running belts. Sources: Khurmi and Gupta, *Theory of
Machines*, chapter 11; Shigley, *Mechanical Engineering Design*, chapter on flexible elements (from memory).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, NamedTuple

from swaplint.engineering.guards import (
    ROUNDING,
    ImpossibleInput,
    OutsideRange,
    finite,
    not_negative,
    positive,
    said,
    share,
)

POLY_V_HALF_GROOVE: Final = math.radians(20.0)
"""Half the groove angle of common ribbed pulleys, rad (ISO 9981, from memory)."""


@dataclass(frozen=True, slots=True)
class Pulley:
    """A pulley at x, y, m, with its effective diameter, m.

    `backside` marks a smooth idler that touches the back of the belt.
    """

    x: float
    y: float
    diameter: float
    backside: bool = False

    def __post_init__(self) -> None:
        finite("x", self.x)
        finite("y", self.y)
        positive("diameter", self.diameter)


class BeltLayout(NamedTuple):
    """A belt path: lap angle on each pulley, rad; each free span, m, and its direction, rad; the whole length, m."""

    laps: tuple[float, ...]
    spans: tuple[float, ...]
    headings: tuple[float, ...]
    length: float


def belt_layout(pulleys: Sequence[Pulley]) -> BeltLayout:
    """Return lap angles, spans and length of a belt around pulleys in its own order, counter-clockwise.

    Span i runs from pulley i to the next. Plane geometry of tangents to two circles: a directed tangent
    between circles of signed radius (positive inside the belt, negative for a backside idler) is turned
    from the line of centres by asin of the difference of radii over the distance. Lengths are those at the
    effective diameter.

    Raises ImpossibleInput for fewer than two pulleys, pulleys that overlap, or an order that does not close
    into one loop.

    >>> pair = [Pulley(0.0, 0.0, 0.9), Pulley(3.0, 0.0, 0.3)]
    >>> round(math.degrees(belt_layout(pair).laps[1]), 3)
    168.522
    """
    if len(pulleys) < 2:
        raise ImpossibleInput(f"a belt runs over at least two pulleys, not {len(pulleys)}")
    loop = [*pulleys, pulleys[0]]
    headings, spans = [], []
    for here, there in pairwise(loop):
        dx, dy = there.x - here.x, there.y - here.y
        distance = math.hypot(dx, dy)
        if distance <= (here.diameter + there.diameter) / 2.0:
            raise ImpossibleInput(f"pulleys {said(distance, 'mm')} apart overlap")
        step = _signed_radius(there) - _signed_radius(here)
        headings.append(math.atan2(dy, dx) - math.asin(step / distance))
        spans.append(math.sqrt(distance**2 - step**2))
    laps = []
    for index, pulley in enumerate(pulleys):
        turn = headings[index] - headings[index - 1]
        laps.append((-turn if pulley.backside else turn) % (2.0 * math.pi))
    turned = sum(-lap if p.backside else lap for lap, p in zip(laps, pulleys, strict=True))
    if round(turned / math.tau) != 1:
        raise ImpossibleInput("the pulleys, in this order, do not make one counter-clockwise loop of belt")
    arcs = sum(lap * p.diameter / 2.0 for lap, p in zip(laps, pulleys, strict=True))
    return BeltLayout(tuple(laps), tuple(spans), tuple(headings), math.fsum(spans) + arcs)


def belt_pull(layout: BeltLayout, index: int, arriving_tension: float, leaving_tension: float) -> tuple[float, float]:
    """Return the pull of the belt on pulley `index` of a layout, N, as its x and y parts.

    Both spans pull away from the pulley: the one that leaves it along its direction, the one that arrives against
    its direction. The size is that of `shaft_load`; parts of several belts on one shaft add up, sizes do not.
    Source: equilibrium of the pulley.

    >>> pair = belt_layout([Pulley(0.0, 0.0, 0.1), Pulley(0.5, 0.0, 0.1)])
    >>> round(belt_pull(pair, 0, 300.0, 300.0)[0], 6)
    600.0
    """
    arriving, leaving = layout.headings[index - 1], layout.headings[index]
    slack, tight = not_negative("arriving_tension", arriving_tension), not_negative("leaving_tension", leaving_tension)
    return (
        tight * math.cos(leaving) - slack * math.cos(arriving),
        tight * math.sin(leaving) - slack * math.sin(arriving),
    )


def _signed_radius(pulley: Pulley) -> float:
    return -pulley.diameter / 2.0 if pulley.backside else pulley.diameter / 2.0


def lap_angles(large_diameter: float, small_diameter: float, centre_distance: float) -> tuple[float, float]:
    """Return the lap on the large and on the small pulley of an open belt, rad: π ± 2·asin((D - d)/(2·C)).

    >>> [round(math.degrees(lap), 3) for lap in lap_angles(0.9, 0.3, 3.0)]
    [191.478, 168.522]
    """
    lean = _lean(large_diameter, small_diameter, centre_distance)
    return math.pi + 2.0 * lean, math.pi - 2.0 * lean


def open_belt_length(large_diameter: float, small_diameter: float, centre_distance: float) -> float:
    """Return the length of an open belt on two pulleys, m; exact.

    >>> round(open_belt_length(0.393, 0.105, 0.697), 5)
    2.20611
    """
    lean = _lean(large_diameter, small_diameter, centre_distance)
    big, small = lap_angles(large_diameter, small_diameter, centre_distance)
    return 2.0 * centre_distance * math.cos(lean) + (large_diameter * big + small_diameter * small) / 2.0


def crossed_belt_length(large_diameter: float, small_diameter: float, centre_distance: float) -> float:
    """Return the length of a crossed flat belt on two pulleys, m; exact.

    >>> round(crossed_belt_length(0.45, 0.2, 1.95), 3)
    4.975
    """
    _lean(large_diameter, small_diameter, centre_distance)
    lean = math.asin((large_diameter + small_diameter) / (2.0 * centre_distance))
    arcs = (large_diameter + small_diameter) / 2.0 * (math.pi + 2.0 * lean)
    return 2.0 * centre_distance * math.cos(lean) + arcs


def crossed_lap_angle(large_diameter: float, small_diameter: float, centre_distance: float) -> float:
    """Return the lap on each pulley of a crossed flat belt, rad: π + 2·asin((D + d)/(2·C)).

    >>> round(crossed_lap_angle(0.45, 0.2, 1.95), 3)
    3.476
    """
    _lean(large_diameter, small_diameter, centre_distance)
    return math.pi + 2.0 * math.asin((large_diameter + small_diameter) / (2.0 * centre_distance))


def _lean(large: float, small: float, distance: float) -> float:
    positive("small_diameter", small)
    if positive("large_diameter", large) < small:
        raise ImpossibleInput(
            f"the large diameter, {said(large, 'mm')}, is smaller than the small one, {said(small, 'mm')}"
        )
    if positive("centre_distance", distance) <= (large + small) / 2.0:
        raise ImpossibleInput(f"pulleys {said(distance, 'mm')} apart overlap")
    return math.asin((large - small) / (2.0 * distance))


def tension_ratio(friction: float, lap: float, half_groove: float = math.pi / 2) -> float:
    """Return the greatest tight over slack tension before slip, 1: exp(μ·θ/sin(half groove angle)).

    A flat belt has half groove angle π/2, the default. Centrifugal tension is not part of either tension.
    Source: Euler and Eytelwein's rope formula.

    >>> round(tension_ratio(0.3, 2.94126), 4)
    2.4166
    >>> round(tension_ratio(0.3, 2.94126, math.radians(20)), 3)
    13.196
    """
    if not 0.0 < finite("half_groove", half_groove) <= math.pi / 2:
        raise ImpossibleInput(
            f"half groove angle must lie above 0 and up to a right angle, not at {said(half_groove, '°')}"
        )
    return math.exp(not_negative("friction", friction) * not_negative("lap", lap) / math.sin(half_groove))


def belt_speed(speed: float, diameter: float) -> float:
    """Return the belt's speed, m/s, on a pulley of `diameter` m turning at `speed` rad/s.

    >>> belt_speed(300.0, 0.15)
    22.5
    """
    return abs(finite("speed", speed)) * positive("diameter", diameter) / 2.0


def power_capacity(
    tight_tension: float, belt_speed: float, tension_ratio: float, mass_per_length: float = 0.0
) -> float:
    """Return the power at the limit of slip, W: (T1 - m·v²)·(1 - 1/ratio)·v.

    `tight_tension` in N is the whole tension the belt may carry; `mass_per_length` in kg/m gives its
    centrifugal part m·v². Raises OutsideRange at a speed where centrifugal tension leaves nothing.

    >>> round(power_capacity(2500.0, 6.283, 2.01))
    7893
    """
    v = not_negative("belt_speed", belt_speed)
    centrifugal = not_negative("mass_per_length", mass_per_length) * v * v
    if positive("tight_tension", tight_tension) < centrifugal:
        raise OutsideRange(
            f"at a belt speed of {v:.4g} m/s centrifugal force alone takes more than the tension allowed"
        )
    if finite("tension_ratio", tension_ratio) < 1.0:
        raise ImpossibleInput(f"a tension ratio is at least 1, not {tension_ratio}")
    return (tight_tension - centrifugal) * (1.0 - 1.0 / tension_ratio) * v


def tensions_for_power(
    power: float, belt_speed: float, tension_ratio: float, mass_per_length: float = 0.0
) -> tuple[float, float]:
    """Return tight and slack tension, N, at the limit of slip for a power, W, centrifugal part included.

    >>> [round(tension) for tension in tensions_for_power(7893.0, 6.283, 2.01)]
    [2500, 1244]
    """
    if finite("tension_ratio", tension_ratio) <= 1.0:
        raise ImpossibleInput(f"no power passes at a tension ratio of {tension_ratio}")
    v = positive("belt_speed", belt_speed)
    slack = not_negative("power", power) / v / (tension_ratio - 1.0)
    centrifugal = not_negative("mass_per_length", mass_per_length) * v * v
    return slack * tension_ratio + centrifugal, slack + centrifugal


def shaft_load(tight_tension: float, slack_tension: float, lap: float) -> float:
    """Return the pull of the belt on a pulley's shaft, N: √(T1² + T2² - 2·T1·T2·cos θ).

    With equal tensions this is 2·T·sin(θ/2). Take the centrifugal part out of the tensions first: it does not
    load the shaft.

    >>> shaft_load(300.0, 100.0, math.pi)
    400.0
    """
    t1, t2 = not_negative("tight_tension", tight_tension), not_negative("slack_tension", slack_tension)
    # The same as the law of cosines, but exact where both tensions are nearly equal and the lap is small.
    return math.hypot(t1 - t2, 2.0 * math.sqrt(t1 * t2) * math.sin(not_negative("lap", lap) / 2.0))


def driven_speed(driver_speed: float, driver_diameter: float, driven_diameter: float, slip: float = 0.0) -> float:
    """Return the driven pulley's speed in the unit of the driver's: n·D/d·(1 - slip), `slip` a share.

    >>> driven_speed(750.0, 0.18, 0.06)
    2250.0
    """
    return (
        finite("driver_speed", driver_speed)
        * positive("driver_diameter", driver_diameter)
        / positive("driven_diameter", driven_diameter)
        * (1.0 - share("slip", slip))
    )


def driven_pulley_window(
    driver_diameter: float, idle_speed: float, top_speed: float, least_speed: float, greatest_speed: float
) -> tuple[float, float]:
    """Return the smallest and the largest driven pulley, m, that keep an accessory between two speeds.

    d_min = D·n_top/n_greatest and d_max = D·n_idle/n_least, all speeds in one unit. Where the smallest
    comes out larger than the largest, no fixed ratio serves both ends.

    >>> [round(d, 4) for d in driven_pulley_window(0.18, 750.0, 3000.0, 1800.0, 15000.0)]
    [0.036, 0.075]
    """
    positive("driver_diameter", driver_diameter)
    smallest = driver_diameter * positive("top_speed", top_speed) / positive("greatest_speed", greatest_speed)
    largest = driver_diameter * positive("idle_speed", idle_speed) / positive("least_speed", least_speed)
    return smallest, largest


def ribs_needed(power: float, service_factor: float, power_per_rib: float) -> int:
    """Return how many ribs (or belts) carry a power, W: power·service factor/power per rib, rounded up.

    `power_per_rib` in W comes from the belt's table at the small pulley's diameter and speed, corrected for
    lap.

    >>> ribs_needed(6000.0, 1.3, 1500.0)
    6
    """
    need = (
        not_negative("power", power)
        * positive("service_factor", service_factor)
        / positive("power_per_rib", power_per_rib)
    )
    return max(1, math.ceil(need - ROUNDING))


def misalignment_angle(offset: float, span: float) -> float:
    """Return the angle, rad, at which a belt enters a pulley `offset` m out of line over a span of belt, m.

    >>> round(math.degrees(misalignment_angle(0.003, 0.34)), 2)
    0.51
    """
    return math.atan(abs(finite("offset", offset)) / positive("span", span))
