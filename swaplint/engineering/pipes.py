"""Pressure loss of liquids and slow gases in round pipes, bores that meet a limit.

Darcy-Weisbach: loss = (f·L/D + ΣK)·ρ·v²/2 + ρ·g·lift. The density is taken as constant along the pipe, which
holds for liquids and for gases whose pressure changes by less than about a tenth.

Sources: White, Fluid Mechanics, chapter 6 (friction factor, Moody chart, roughness, minor losses);
Idelchik, Handbook of Hydraulic Resistance (loss coefficients). Both from memory.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import NamedTuple

from swaplint.engineering.constants import G
from swaplint.engineering.curves import checked_curve, interpolate
from swaplint.engineering.guards import (
    ImpossibleInput,
    OutsideRange,
    finite,
    not_negative,
    positive,
    said,
    within_range,
)
from swaplint.engineering.roots import crossing, settled

LAMINAR_END = 2000.0
"""Reynolds number up to which the flow is taken as laminar (White: transition near 2300)."""

TURBULENT_START = 4000.0
"""Reynolds number from which the flow is taken as fully turbulent (White)."""

ROUGHNESS_DRAWN_TUBE = 1.5e-6
"""Roughness of drawn tube and of smooth hose, m (Moody 1944, from memory)."""

ROUGHNESS_COMMERCIAL_STEEL = 4.6e-5
"""Roughness of welded and commercial steel pipe, m (Moody 1944, from memory; ± 60 % after White)."""

K_SHARP_ENTRY = 0.5
"""Loss coefficient of a sharp-edged entry (White, Idelchik, from memory; other texts give 0.57)."""

K_EXIT = 1.0
"""Loss coefficient of an exit into a large space: the whole velocity head is lost (White)."""

HOSE_BORES = tuple(
    bore * 1e-3 for bore in (5, 6, 8, 10, 12, 13, 16, 19, 22, 25, 28, 32, 35, 38, 42, 45, 50, 57, 63, 70, 76)
)
"""Bores of fuel, coolant and vacuum hose as sold, m (common practice)."""


def flow_area(bore: float) -> float:
    """Cross-section of a round bore [m²]; `bore` in m, greater than zero.

    >>> round(flow_area(0.010) * 1e6, 2)
    78.54
    """
    return math.pi / 4.0 * positive("bore", bore) ** 2


def mean_velocity(flow: float, bore: float) -> float:
    """Mean velocity [m/s] of the volume flow `flow` [m³/s, zero or more] in `bore` [m].

    >>> round(mean_velocity(130 / 3.6e6, 0.010), 3)
    0.46
    """
    return not_negative("flow", flow) / flow_area(bore)


def reynolds_number(velocity: float, bore: float, kinematic_viscosity: float) -> float:
    """Reynolds number v·D/ν of a pipe flow; `velocity` m/s, `bore` m, `kinematic_viscosity` m²/s.

    >>> round(reynolds_number(0.46, 0.010, 3.0e-6))
    1533
    """
    inertia = not_negative("velocity", velocity) * positive("bore", bore)
    return inertia / positive("kinematic viscosity", kinematic_viscosity)


def friction_factor(reynolds: float, relative_roughness: float = 0.0) -> float:
    """Darcy friction factor of a round pipe.

    Laminar, up to Reynolds number 2000: 64/Re. Turbulent, from 4000: the Colebrook-White equation
    1/√f = -2·log10(k/(3.7·D) + 2.51/(Re·√f)), solved step by step. In between, where the flow has no
    settled value, a straight line in Re joins both, so that the loss is continuous and grows with the flow.

    `reynolds` greater than zero, up to 1e8; `relative_roughness` k/D from 0 to 0.05 (the Moody chart).
    The equation reproduces measurements within about 15 % (White).

    >>> round(friction_factor(1000.0), 3)
    0.064
    >>> round(friction_factor(1e5, 1e-4), 4)
    0.0185
    """
    positive("Reynolds number", reynolds)
    within_range("Reynolds number", reynolds, 0.0, 1e8, "the Moody chart ends there")
    within_range("relative roughness", relative_roughness, 0.0, 0.05, "the Moody chart ends there")
    if reynolds <= LAMINAR_END:
        return 64.0 / reynolds
    if reynolds >= TURBULENT_START:
        return _colebrook_white(reynolds, relative_roughness)
    turbulent_share = (reynolds - LAMINAR_END) / (TURBULENT_START - LAMINAR_END)
    laminar_end = 64.0 / LAMINAR_END
    turbulent_start = _colebrook_white(TURBULENT_START, relative_roughness)
    return laminar_end + turbulent_share * (turbulent_start - laminar_end)


def _colebrook_white(reynolds: float, relative_roughness: float) -> float:
    wall = relative_roughness / 3.7
    viscous = 2.51 / reynolds
    # 1/√f: each step leaves at most a fifth of the error
    root = settled(1.0, lambda root: -2.0 * math.log10(wall + viscous * root))
    return 1.0 / root**2


def friction_loss(
    *,
    flow: float,
    bore: float,
    length: float,
    density: float,
    kinematic_viscosity: float,
    roughness: float = ROUGHNESS_DRAWN_TUBE,
) -> float:
    """Wall friction loss [Pa] of a straight round pipe: f·L/D·ρ·v²/2.

    `flow` m³/s, `bore` m, `length` m, `density` kg/m³, `kinematic_viscosity` m²/s, `roughness` m.
    Range: that of `friction_factor`. No flow, no loss.

    >>> round(friction_loss(flow=0.5 / 6e4, bore=0.006, length=1.0, density=830.0, kinematic_viscosity=3e-6))
    652
    """
    positive("density", density)
    not_negative("length", length)
    not_negative("roughness", roughness)
    velocity = mean_velocity(flow, bore)
    reynolds = reynolds_number(velocity, bore, kinematic_viscosity)
    if velocity == 0.0:
        return 0.0
    factor = friction_factor(reynolds, roughness / bore)
    return factor * length / bore * density * velocity**2 / 2.0


def fittings_loss(*, flow: float, bore: float, density: float, loss_coefficient: float) -> float:
    """Loss [Pa] of fittings, valves, bends, entry and exit: ΣK·ρ·v²/2.

    `loss_coefficient` is the sum ΣK, referred to the velocity in `bore` [m]; `flow` m³/s, `density` kg/m³.
    Handbook coefficients hold for turbulent flow; in laminar flow (Re below about 1000) real fittings lose
    more (Idelchik).

    >>> round(fittings_loss(flow=1e-4, bore=0.010, density=830.0, loss_coefficient=3.6))
    2422
    """
    not_negative("loss coefficient", loss_coefficient)
    return loss_coefficient * positive("density", density) * mean_velocity(flow, bore) ** 2 / 2.0


def porous_drop(drop_tested: float, viscosity_tested: float, viscosity: float) -> float:
    """Pressure [Pa] that a filter element takes in another liquid at the same volume flow: Δp·μ/μ_tested.

    Laminar flow through pores (Darcy's law): the drop goes with the dynamic viscosity. `drop_tested` Pa, both
    viscosities in the same unit, dynamic. The housing's share, which goes with the density, is counted as element, so
    that in a thicker liquid the result is a little too high. Wax, which clogs an element, is not in it.

    >>> round(porous_drop(3e3, 2.4e-3, 12e-3))
    15000
    """
    ratio = positive("viscosity", viscosity) / positive("tested viscosity", viscosity_tested)
    return not_negative("tested drop", drop_tested) * ratio


def lift_pressure(lift: float, density: float) -> float:
    """Pressure [Pa] needed to raise a liquid by `lift` [m]: ρ·g·lift; negative `lift` gives a gain.

    >>> round(lift_pressure(0.38, 830.0))
    3093
    """
    return positive("density", density) * G * finite("lift", lift)


def pressure_loss(
    *,
    flow: float,
    bore: float,
    length: float,
    density: float,
    kinematic_viscosity: float,
    roughness: float = ROUGHNESS_DRAWN_TUBE,
    loss_coefficient: float = 0.0,
    lift: float = 0.0,
) -> float:
    """Pressure [Pa] lost between the ends of a pipe: wall friction, fittings and lift (Darcy-Weisbach).

    `flow` m³/s; `bore`, `length`, `roughness` and `lift` (outlet above inlet, negative when below) m;
    `density` kg/m³; `kinematic_viscosity` m²/s; `loss_coefficient` the sum ΣK of all fittings.
    Range: that of `friction_factor`.

    >>> round(pressure_loss(flow=130 / 3.6e6, bore=0.010, length=4.6, density=830.0, kinematic_viscosity=3e-6,
    ...                     loss_coefficient=3.6, lift=0.38))
    5094
    """
    friction = friction_loss(
        flow=flow,
        bore=bore,
        length=length,
        density=density,
        kinematic_viscosity=kinematic_viscosity,
        roughness=roughness,
    )
    fittings = fittings_loss(flow=flow, bore=bore, density=density, loss_coefficient=loss_coefficient)
    return friction + fittings + lift_pressure(lift, density)


def smallest_bore(loss: Callable[[float], float], limit: float, low: float = 1e-3, high: float = 0.5) -> float | None:
    """Smallest bore [m] between `low` and `high` whose loss stays within `limit`, or None where no bore does.

    `loss` gives the loss [Pa] of a bore [m] and must not rise with the bore; a bore for which it raises
    `OutsideRange` (choked gas flow, say) counts as too small. Found by bisection to one part in a million and
    rounded to the passing side, so that `loss(result) <= limit` always holds.

    >>> def loss(bore):
    ...     return friction_loss(flow=4e-5, bore=bore, length=4.6, density=830.0, kinematic_viscosity=3e-6)
    >>> round(smallest_bore(loss, limit=5e3) * 1e3, 2)
    7.97
    """
    finite("limit", limit)
    if not positive("low", low) < positive("high", high):
        raise ImpossibleInput(f"the bore range {said(low, 'mm')} to {said(high, 'mm')} is empty")
    if loss(high) > limit:
        return None
    if _holds(loss, low, limit):
        return low
    fails, passes = low, high
    while passes - fails > 1e-6 * passes:
        middle = (fails + passes) / 2.0
        if _holds(loss, middle, limit):
            passes = middle
        else:
            fails = middle
    return passes


def smallest_bore_in_series(loss: Callable[[float], float], limit: float, series: Sequence[float]) -> float | None:
    """Smallest bore [m] of the `series` whose loss stays within `limit`, or None where no bore of it does.

    `loss` gives the loss [Pa] of a bore [m] and must not rise with the bore, so that halving the series finds it; a
    bore for which it raises `OutsideRange` counts as too small. The series may be in any order and must hold positive
    bores.

    >>> def loss(bore):
    ...     return friction_loss(flow=4e-5, bore=bore, length=4.6, density=830.0, kinematic_viscosity=3e-6)
    >>> smallest_bore_in_series(loss, limit=5e3, series=[0.006, 0.008, 0.010])
    0.008
    """
    finite("limit", limit)
    if not series:
        raise ImpossibleInput("the series of bores is empty")
    bores = sorted(positive("bore", bore) for bore in series)
    first = bisect_left(bores, True, key=lambda bore: _holds(loss, bore, limit))
    return bores[first] if first < len(bores) else None


def _holds(loss: Callable[[float], float], bore: float, limit: float) -> bool:
    try:
        return loss(bore) <= limit
    except OutsideRange:
        return False


class OperatingPoint(NamedTuple):
    """Where pump and system meet: `flow` m³/s at a `pressure` rise of Pa."""

    flow: float
    pressure: float


def pump_pressure(curve: Sequence[tuple[float, float]], flow: float) -> float:
    """Pressure rise [Pa] of a pump at `flow` [m³/s], on straight lines between the points of its `curve`.

    `curve` holds (flow m³/s, pressure Pa) points, flow rising, pressure not rising. Outside the curve:
    `OutsideRange`.

    >>> pump_pressure([(0.0, 50e3), (1e-4, 30e3)], 0.5e-4)
    40000.0
    """
    _check_curve(curve)
    within_range("flow", flow, curve[0][0], curve[-1][0], "the pump curve ends there", "L/min")
    return interpolate(curve, flow)


def operating_point(curve: Sequence[tuple[float, float]], system: Callable[[float], float]) -> OperatingPoint:
    """Flow and pressure at which a pump's curve meets the curve of the system it feeds.

    `curve` as in `pump_pressure`; `system` gives the pressure [Pa] the system needs at a flow [m³/s] and must
    not fall with it. A pump that cannot raise the liquid at all gives zero flow at its shut-off pressure.
    Curves that meet beyond either end of the pump curve raise `OutsideRange`: the pump is not known there.

    >>> point = operating_point([(0.0, 50e3), (1e-4, 30e3)], lambda flow: 10e3 + 1e12 * flow**2 * 2)
    >>> round(point.flow * 1e4, 3), round(point.pressure)
    (1.0, 30000)
    """
    _check_curve(curve)
    low, high = curve[0][0], curve[-1][0]
    if system(low) > curve[0][1]:
        if low == 0.0:
            return OperatingPoint(0.0, curve[0][1])
        raise OutsideRange(f"the operating point lies below the first flow of the pump curve, {said(low, 'L/min')}")
    if system(high) < curve[-1][1]:
        raise OutsideRange(f"the operating point lies beyond the last flow of the pump curve, {said(high, 'L/min')}")
    flow = crossing(lambda flow: system(flow) - pump_pressure(curve, flow), low, high)
    return OperatingPoint(flow, pump_pressure(curve, flow))


def _check_curve(curve: Sequence[tuple[float, float]]) -> None:
    for flow, pressure in checked_curve(curve, "L/min"):
        not_negative("flow of the pump curve", flow)
        not_negative("pressure of the pump curve", pressure)
    if any(after > before for (_, before), (_, after) in pairwise(curve)):
        raise ImpossibleInput("the pressures of a pump curve must not rise with the flow")
