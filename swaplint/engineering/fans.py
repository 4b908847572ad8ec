"""Fans: operating point against the resistance of core, grille and ducts; fan laws; power.

Flow is volume flow, m³/s, of the air that passes the fan; pressure is the rise across the fan, Pa. Keep
hands, hair and sleeves away: an electric fan can start by itself.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import NamedTuple

from swaplint.engineering.curves import Curve, checked_curve, product_maxima
from swaplint.engineering.guards import ImpossibleInput, OutsideRange, not_negative, positive, said, share


class FanPoint(NamedTuple):
    """Volume flow in m³/s, pressure rise in Pa and shaft power in W of a fan."""

    flow: float
    pressure: float
    power: float


class OperatingPoint(NamedTuple):
    """Volume flow in m³/s and pressure in Pa at which fan and system agree."""

    flow: float
    pressure: float


def flow_by_size(diameter: float, speed: float, coefficient: float) -> float:
    """Return the volume flow, m³/s, of a fan from its diameter, m, speed, rad/s, and flow coefficient.

    Q = φ·(π/4)·D²·(π·D·n): the area across the blades times a share φ of the speed of their tips.

    >>> round(flow_by_size(0.45, 2200 * math.tau / 60, 0.15), 2)
    1.24
    """
    tips = positive("diameter", diameter) / 2.0 * positive("speed", speed)
    return positive("coefficient", coefficient) * math.pi / 4.0 * diameter**2 * tips


def free_flow_by_power(power: float, diameter: float, efficiency: float, density: float) -> float:
    """Return the volume flow, m³/s, that a fan throws in free air for the power that it takes.

    The power left in the air is its kinetic energy, η·P = ½·ρ·A·v³ with A = (π/4)·D²; the flow is A·v.

    Args:
        power: W, greater than zero; with the efficiency of motor and fan together that from the wires.
        diameter: over the blades, m, greater than zero.
        efficiency: above 0, up to 1.
        density: of the air, kg/m³, greater than zero.

    Raises:
        ImpossibleInput: an impossible argument.

    Source: energy of a stream (White, "Fluid Mechanics"). The air is taken to leave over the whole circle at one speed.

    >>> round(free_flow_by_power(240.0, 0.40, 0.30, 1.2), 2)
    1.24
    """
    given = positive("efficiency", share("efficiency", efficiency)) * positive("power", power)
    area = math.pi / 4.0 * positive("diameter", diameter) ** 2
    return float(area * (2.0 * given / (positive("density", density) * area)) ** (1.0 / 3.0))


def resistance_coefficient(pressure: float, flow: float) -> float:
    """Return k of the quadratic resistance Δp = k·V̇², in Pa·s²/m⁶, from one known point.

    Coefficients of parts passed one after another by the same air add up.

    Args:
        pressure: pressure drop at `flow`, Pa, zero or more.
        flow: m³/s, greater than zero.

    Raises:
        ImpossibleInput: an impossible argument.

    Source: turbulent losses go with the square of the flow (White, "Fluid Mechanics"). Closely finned cores
    at low air speed follow a lower power, 1.5 to 1.8 (common practice), so a k from a high flow understates
    the drop at a low one.

    >>> resistance_coefficient(200.0, 2.0)
    50.0
    """
    return not_negative("pressure", pressure) / positive("flow", flow) ** 2


def operating_point(curve: Curve, resistance: float) -> OperatingPoint:
    """Return where a fan curve meets the resistance Δp = k·V̇².

    A curve with a stall dip can meet the resistance more than once; the point with the least flow is
    returned, because the fan may settle there.

    Args:
        curve: (flow, pressure) points of the fan at the speed and air density in question, in order of rising
            flow, the first at zero flow; pressures zero or more.
        resistance: coefficient k of the system, Pa·s²/m⁶, zero or more.

    Raises:
        ImpossibleInput: not a curve, a curve that does not begin at zero flow, or a negative argument.
        OutsideRange: the curve ends before it meets the resistance.

    Source: fan and system in series move the same flow at the same pressure (White, "Fluid Mechanics",
    matching of pump and system); the curve is straight between its points, so the meeting is a quadratic.

    >>> operating_point([(0.0, 200.0), (2.0, 200.0), (4.0, 0.0)], 50.0)
    OperatingPoint(flow=2.0, pressure=200.0)
    """
    points = checked_curve(curve)
    not_negative("resistance", resistance)
    for _, pressure in points:
        not_negative("fan pressure", pressure)
    if points[0][0] != 0.0:
        raise ImpossibleInput(f"a fan curve begins at zero flow, not at {said(points[0][0], 'm³/h')}")
    for (flow0, pressure0), (flow1, pressure1) in pairwise(points):
        if pressure1 > resistance * flow1 * flow1:
            continue
        # On this segment p0 + b·x = k·(flow0 + x)², x from 0 to the width; written so that k = 0 is no
        # special case: c + b'·x − k·x² = 0 with c ≥ 0 has its positive root at 2c/(−b' + √(b'² + 4kc)).
        slope = (pressure1 - pressure0) / (flow1 - flow0) - 2.0 * resistance * flow0
        excess = pressure0 - resistance * flow0 * flow0
        flow = flow0
        if excess > 0.0:
            falls = -slope + math.sqrt(slope * slope + 4.0 * resistance * excess)
            # Numbers so small that nothing is left of their product meet at the end of the segment.
            flow = min(flow0 + 2.0 * excess / falls, flow1) if falls > 0.0 else flow1
        on_curve = pressure0 + (pressure1 - pressure0) * (flow - flow0) / (flow1 - flow0)
        return OperatingPoint(flow, on_curve)
    last_flow, last_pressure = points[-1]
    raise OutsideRange(
        f"the fan curve ends at {said(last_flow, 'm³/h')} and {said(last_pressure, 'Pa')}, "
        "before it meets the resistance"
    )


def fan_at(
    point: FanPoint, speed_ratio: float = 1.0, density_ratio: float = 1.0, diameter_ratio: float = 1.0
) -> FanPoint:
    """Return a fan's point carried to another speed, air density or size by the fan laws.

    V̇ ∝ n·D³, Δp ∝ ρ·n²·D², P ∝ ρ·n³·D⁵. The new point lies on the new fan curve; against a quadratic
    system it is again the operating point if only speed or density change.

    Args:
        point: flow, pressure and power, each zero or more.
        speed_ratio: new rotational speed over old, greater than zero.
        density_ratio: new air density over old, greater than zero.
        diameter_ratio: new diameter over old of a geometrically similar fan, greater than zero.

    Raises:
        ImpossibleInput: an impossible argument.

    Source: similarity laws for pumps and fans (Fox & McDonald, "Introduction to Fluid Mechanics"; AMCA
    Publication 201). They hold while efficiency keeps its value, which small changes of Reynolds number
    hardly disturb; the blades' permitted speed is a separate limit.

    >>> fan_at(FanPoint(1.0, 100.0, 200.0), speed_ratio=2.0)
    FanPoint(flow=2.0, pressure=400.0, power=1600.0)
    """
    not_negative("flow", point.flow)
    not_negative("pressure", point.pressure)
    not_negative("power", point.power)
    n = positive("speed ratio", speed_ratio)
    rho = positive("density ratio", density_ratio)
    d = positive("diameter ratio", diameter_ratio)
    return FanPoint(point.flow * n * d**3, point.pressure * rho * n**2 * d**2, point.power * rho * n**3 * d**5)


def curve_at(
    curve: Curve, speed_ratio: float = 1.0, density_ratio: float = 1.0, diameter_ratio: float = 1.0
) -> tuple[tuple[float, float], ...]:
    """Return a whole (flow, pressure) fan curve carried to another speed, air density or size.

    Arguments, errors and source as for `fan_at`.

    >>> curve_at([(0.0, 200.0), (3.0, 0.0)], density_ratio=0.5)
    ((0.0, 100.0), (3.0, 0.0))
    """
    moved = (
        fan_at(FanPoint(flow, pressure, 0.0), speed_ratio, density_ratio, diameter_ratio)
        for flow, pressure in checked_curve(curve)
    )
    return tuple((point.flow, point.pressure) for point in moved)


def speed_ratio_for_flow(flow: float, wanted_flow: float) -> float:
    """Return how many times faster a fan must turn to move `wanted_flow` through the same quadratic system.

    The pressure goes up with the square and the power with the cube of this ratio (`fan_at`).

    Args:
        flow: flow at the present operating point, m³/s, greater than zero.
        wanted_flow: m³/s, greater than zero.

    Raises:
        ImpossibleInput: an impossible argument.

    Source: fan law V̇ ∝ n, which a quadratic resistance keeps exactly.

    >>> speed_ratio_for_flow(2.0, 2.5)
    1.25
    """
    return positive("wanted flow", wanted_flow) / positive("flow", flow)


def air_power(flow: float, pressure: float) -> float:
    """Return the power given to the air, V̇·Δp, in W.

    Args:
        flow: m³/s, zero or more.
        pressure: rise across the fan, Pa, zero or more; below about 2.5 kPa air counts as incompressible.

    Raises:
        ImpossibleInput: an impossible argument.

    Source: work of an incompressible stream (White, "Fluid Mechanics").

    >>> air_power(2.0, 200.0)
    400.0
    """
    return not_negative("flow", flow) * not_negative("pressure", pressure)


def greatest_air_power(curve: Curve) -> float:
    """Return the most power, W, that a (flow, pressure) curve, straight between its points, gives to the air.

    On each straight piece the product of flow and pressure is a parabola with its top inside or at an end.
    Errors as for `operating_point`.

    >>> greatest_air_power([(0.0, 200.0), (3.0, 0.0)])
    150.0
    """
    for flow, pressure in curve:
        not_negative("flow", flow)
        not_negative("fan pressure", pressure)
    _, power = product_maxima(curve)[0]
    return power


def fan_power(flow: float, pressure: float, efficiency: float) -> float:
    """Return the power a fan takes, V̇·Δp/η, in W.

    Args:
        flow: m³/s, zero or more.
        pressure: Pa, zero or more.
        efficiency: above 0, up to 1. With the fan's own efficiency the result is shaft power; with the
            product of fan and motor efficiency it is electrical power.

    Raises:
        ImpossibleInput: an impossible argument.

    Source: definition of fan efficiency (White, "Fluid Mechanics").

    >>> fan_power(2.0, 200.0, 0.5)
    800.0
    """
    positive("efficiency", share("efficiency", efficiency))
    return air_power(flow, pressure) / efficiency
