"""Fuel tanks: what the pick-up cannot reach, how much fuel keeps it covered on a slope, and heat in the tank.

The tank is a rectangular box without baffles and the fuel at rest, so that its surface is a plane square to
gravity. Sloshing and swirl pots are not modelled. The geometry is exact, with the fuel touching any wall, the
floor or the ceiling.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from swaplint.engineering.guards import ImpossibleInput, finite, not_negative, positive, said, within_range

FIFTHS = (0.0, 0.2, 0.4, 0.6, 0.8, 1.0)
STEPS = (-1.0, 0.0, 1.0)

_Corner = tuple[float, float, float]
"""A point of the floor plan, x and y, and the height of the fuel surface above the floor there, m."""


@dataclass(frozen=True)
class BoxTank:
    """Inside of a rectangular tank, m: `length` along the vehicle, `width` across it, `height`.

    >>> round(BoxTank(0.950, 0.420, 0.360).volume * 1e3, 1)
    143.6
    """

    length: float
    width: float
    height: float

    def __post_init__(self) -> None:
        positive("tank length", self.length)
        positive("tank width", self.width)
        positive("tank height", self.height)

    @property
    def volume(self) -> float:
        """Whole inside volume, m³."""
        return self.length * self.width * self.height


@dataclass(frozen=True)
class PickUp:
    """Mouth of the suction pipe, m: `height` above the floor, `x` ahead and `y` left of the tank's middle."""

    height: float
    x: float = 0.0
    y: float = 0.0

    def __post_init__(self) -> None:
        not_negative("pick-up height", self.height)
        finite("pick-up x", self.x)
        finite("pick-up y", self.y)


def unusable_volume(tank: BoxTank, pickup_height: float) -> float:
    """Fuel [m³] that stays below the pick-up in a level tank; `pickup_height` in m, within the tank.

    >>> round(unusable_volume(BoxTank(0.950, 0.420, 0.360), 0.025) * 1e3, 1)
    10.0
    """
    if not_negative("pick-up height", pickup_height) > tank.height:
        raise ImpossibleInput(
            f"the pick-up at {said(pickup_height, 'mm')} is above the tank, which is {said(tank.height, 'mm')} high"
        )
    return tank.length * tank.width * pickup_height


def surface_slopes(tilt_long: float, tilt_side: float) -> tuple[float, float]:
    """Slopes of the fuel surface along and across the tank, rise per run in the tank's own frame.

    `tilt_long` and `tilt_side` [rad] are the angles of the tank's long and cross axis to the horizontal, as
    an inclinometer laid along each axis reads them; positive raises the tank's rear or its right side, so
    that fuel runs ahead or to the left. Each alone gives its tangent. Together their sines squared must stay
    below one (a floor cannot be steeper than upright): `ImpossibleInput`.

    >>> slope_x, slope_y = surface_slopes(math.radians(30.0), 0.0)
    >>> round(slope_x, 3), slope_y
    (0.577, 0.0)
    """
    sine_long, sine_side = math.sin(_tilt("tilt lengthwise", tilt_long)), math.sin(_tilt("tilt sideways", tilt_side))
    upright = 1.0 - sine_long**2 - sine_side**2
    if upright <= 1e-12:
        raise ImpossibleInput("these two tilts together stand the tank on edge or are impossible")
    return sine_long / math.sqrt(upright), sine_side / math.sqrt(upright)


def _tilt(name: str, value: float) -> float:
    return within_range(name, value, -math.pi / 2, math.pi / 2, "a tilt is an angle to the horizontal", "°")


def volume_below_surface(tank: BoxTank, height: float, slope_x: float, slope_y: float) -> float:
    """Fuel [m³] in the tank when its surface plane stands `height` [m] above the floor at the tank's middle.

    `slope_x`, `slope_y`: rise of the surface per metre ahead and per metre to the left. `height` may be any
    finite number: a plane wholly below the floor gives an empty, wholly above the ceiling a full tank.

    Exact: the part of the floor plan over which the plane lies above the floor is a polygon, over which a
    plane is integrated in closed form; the same part above the ceiling is taken off.

    >>> tank = BoxTank(2.0, 1.0, 1.0)
    >>> round(volume_below_surface(tank, 0.5, 0.5, 0.0), 6)  # from corner to corner: half the tank
    1.0
    """
    return _below_plane(tank, finite("height", height), finite("slope_x", slope_x), finite("slope_y", slope_y))


def _below_plane(tank: BoxTank, height: float, slope_x: float, slope_y: float) -> float:
    half_length, half_width = tank.length / 2.0, tank.width / 2.0
    plan = [
        (x, y, height + slope_x * x + slope_y * y)
        for x, y in (
            (-half_length, -half_width),
            (half_length, -half_width),
            (half_length, half_width),
            (-half_length, half_width),
        )
    ]
    above_floor = _volume_under(plan)
    above_ceiling = _volume_under([(x, y, z - tank.height) for x, y, z in plan])
    return min(max(above_floor - above_ceiling, 0.0), tank.volume)


def surface_height(tank: BoxTank, volume: float, slope_x: float, slope_y: float) -> float:
    """Height [m] above the floor, at the tank's middle, at which a surface of these slopes holds a volume [m³].

    The inverse of `volume_below_surface`, found by bisection; the volume within the tank's, else `ImpossibleInput`.

    >>> tank = BoxTank(2.0, 1.0, 1.0)
    >>> round(surface_height(tank, 1.0, 0.5, 0.0), 6), round(surface_height(tank, 0.5, 0.0, 0.0), 6)
    (0.5, 0.25)
    """
    if not_negative("volume", volume) > tank.volume * (1.0 + 1e-9):
        raise ImpossibleInput(f"{said(volume, 'L')} do not go into a tank of {said(tank.volume, 'L')}")
    reach = abs(finite("slope_x", slope_x)) * tank.length + abs(finite("slope_y", slope_y)) * tank.width
    low, high = -reach, tank.height + reach
    for _ in range(60):
        middle = 0.5 * (low + high)
        if volume_below_surface(tank, middle, slope_x, slope_y) < volume:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def _volume_under(plan: list[_Corner]) -> float:
    """Volume between the zero plane and that part of a plane over `plan` which lies above it."""
    wet = _part_above_zero(plan)
    return sum(_volume_under_triangle(wet[0], second, third) for second, third in pairwise(wet[1:]))


def _volume_under_triangle(first: _Corner, second: _Corner, third: _Corner) -> float:
    area = (second[0] - first[0]) * (third[1] - first[1]) - (third[0] - first[0]) * (second[1] - first[1])
    return area / 2.0 * (first[2] + second[2] + third[2]) / 3.0


def _part_above_zero(plan: list[_Corner]) -> list[_Corner]:
    part: list[_Corner] = []
    for start, end in pairwise([*plan, plan[0]]):
        if start[2] >= 0.0:
            part.append(start)
        if start[2] * end[2] < 0.0:
            share = start[2] / (start[2] - end[2])
            part.append((start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]), 0.0))
    return part


def covering_volume(tank: BoxTank, pickup: PickUp, tilt_long: float, tilt_side: float) -> float:
    """Fuel [m³] that just covers the pick-up at one tilt; signs of the tilts as in `surface_slopes`.

    The surface plane passes through the pick-up. With a pick-up at the ceiling of a level tank this is the
    whole tank. A pick-up outside the tank raises `ImpossibleInput`.

    >>> tank = BoxTank(0.950, 0.420, 0.360)
    >>> round(covering_volume(tank, PickUp(height=0.025), math.radians(30.0), 0.0) * 1e3, 1)
    32.6
    """
    _check_inside(tank, pickup)
    slope_x, slope_y = surface_slopes(tilt_long, tilt_side)
    at_middle = pickup.height - slope_x * pickup.x - slope_y * pickup.y
    return volume_below_surface(tank, at_middle, slope_x, slope_y)


def worst_covering_volume(tank: BoxTank, pickup: PickUp, tilt_long: float, tilt_side: float) -> float:
    """Fuel [m³] that keeps the pick-up covered at every attitude up to the steepest tilts, either way.

    `tilt_long` and `tilt_side` [rad] are the steepest tilts, zero or more; they may occur together. Of two opposite
    tilts the one that runs the fuel away from the pick-up needs more: both have mirror-image surfaces, and its own
    stands higher at the middle. Once the fuel touches the ceiling more tilt can need less: each tilt is tried in fifths
    of its range, and around the worst of these in ever smaller steps.

    >>> tank = BoxTank(0.950, 0.420, 0.360)
    >>> behind = PickUp(height=0.025, x=-0.30)
    >>> round(worst_covering_volume(tank, behind, math.radians(30.0), 0.0) * 1e3, 1)
    76.6
    """
    _check_inside(tank, pickup)
    not_negative("tilt_long", tilt_long)
    not_negative("tilt_side", tilt_side)

    @functools.cache  # the steps around one attitude come back to those around another
    def needed(long: float, side: float) -> float:
        slope_x, slope_y = surface_slopes(long * tilt_long, side * tilt_side)
        rises = slope_x * abs(pickup.x) + slope_y * abs(pickup.y)
        return _below_plane(tank, pickup.height + rises, slope_x, slope_y)

    return _greatest(needed)


def _greatest(needed: Callable[[float, float], float]) -> float:
    """The greatest of a function over two shares from 0 to 1: the greatest on a grid, climbed from in smaller steps."""
    worst, long, side = max((needed(long, side), long, side) for long in FIFTHS for side in FIFTHS)
    step = 0.1
    while step > 0.002:
        around = [
            (needed(a, b), a, b)
            for a, b in ((long + up * step, side + over * step) for up in STEPS for over in STEPS)
            if max(a, b) <= 1.0  # below nought is the opposite tilt, which needs no more
        ]
        better = max(around)
        if better[0] <= worst:
            step /= 2.0
        else:
            worst, long, side = better
    return worst


def _check_inside(tank: BoxTank, pickup: PickUp) -> None:
    inside = abs(pickup.x) <= tank.length / 2.0 and abs(pickup.y) <= tank.width / 2.0 and pickup.height <= tank.height
    if not inside:
        raise ImpossibleInput("the pick-up lies outside the tank")


def heating_power(mass_flow: float, heat_capacity: float, temperature_rise: float) -> float:
    """Heat flow [W] that warms a flow, or that a warm flow brings: ṁ·c_p·ΔT.

    `mass_flow` kg/s, `heat_capacity` J/(kg·K), `temperature_rise` K, all zero or more (heat capacity above
    zero). First law at constant pressure (Incropera).

    >>> round(heating_power(130 / 3.6e6 * 830.0, 2000.0, 20.0))
    1199
    """
    positive("heat capacity", heat_capacity)
    return not_negative("mass flow", mass_flow) * heat_capacity * not_negative("temperature rise", temperature_rise)


def steady_temperature_rise(heat: float, heat_transfer_coefficient: float, area: float) -> float:
    """Temperature [K] above ambient at which a tank gives off `heat` [W]: Q/(U·A) (Incropera).

    `heat_transfer_coefficient` U in W/(m²·K), `area` of the outer surface in m². The whole fuel is taken as
    mixed; a nearly empty tank wets less surface than it has, so that the true rise is higher.

    >>> steady_temperature_rise(600.0, 10.0, 1.5)
    40.0
    """
    loss_per_kelvin = positive("heat transfer coefficient", heat_transfer_coefficient) * positive("area", area)
    return not_negative("heat", heat) / loss_per_kelvin


def share_of_settled_rise(left: float, loss_per_kelvin: float, burnt: float, heat_capacity: float) -> float:
    """Share of its settled rise that the fuel of a tank makes while it is burnt down, 1: 1 - left^(U·A/(c_p·ṁ)).

    `left` is the share of the full tank that is left at the end, from 0 to 1; `loss_per_kelvin` U·A in W/K, `burnt` ṁ
    in kg/s, `heat_capacity` in J/(kg·K), above zero. From m·c_p·dT/dt = Q - U·A·(T - T_air) with m falling steadily and
    the fuel at the air's temperature at first; the wetted surface is taken as the whole one (Incropera, lumped heat).

    >>> round(share_of_settled_rise(0.1, 13.3, 20 / 3.6e6 * 820.0, 2000.0), 3)
    0.965
    """
    within_range("share left", left, 0.0, 1.0, "it is a share of the full tank", "%")
    carried = positive("mass burnt", burnt) * positive("heat capacity", heat_capacity)
    return 1.0 - float(left ** (positive("loss per kelvin", loss_per_kelvin) / carried))


def cooler_duty(heat: float, heat_transfer_coefficient: float, area: float, allowed_rise: float) -> float:
    """Heat [W] a cooler must take so that the tank stays within `allowed_rise` [K]: Q - U·A·ΔT, at least 0.

    Other arguments as `steady_temperature_rise`.

    >>> cooler_duty(600.0, 10.0, 1.5, 20.0)
    300.0
    """
    loss_per_kelvin = positive("heat transfer coefficient", heat_transfer_coefficient) * positive("area", area)
    return max(0.0, not_negative("heat", heat) - loss_per_kelvin * not_negative("allowed rise", allowed_rise))
