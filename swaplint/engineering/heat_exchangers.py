"""Heat exchangers by effectiveness and number of transfer units.

Effectiveness ε is the heat moved over the most that could be moved between the same two inlet temperatures;
the number of transfer units NTU = UA/C_min is the size of the exchanger against the smaller of the two
capacity rates C = ṁ·c_p; the capacity ratio C_r = C_min/C_max lies between 0 and 1.

The formulas are those of Kays & London, "Compact Heat Exchangers", and of Bergman, Lavine, Incropera &
DeWitt, "Fundamentals of Heat and Mass Transfer", chapter on heat exchangers. Temperatures are in kelvin.
"""

from __future__ import annotations

import math
from enum import StrEnum
from typing import NamedTuple, assert_never

from swaplint.engineering.guards import (
    ImpossibleInput,
    OutsideRange,
    celsius,
    not_negative,
    positive,
    said,
    share,
    within_range,
)
from swaplint.engineering.roots import crossing

NTU_LIMIT = 100.0
"""Transfer units above which no real exchanger lies and beyond which this module does not compute."""

TURBULENT_TUBE_EXPONENT = 0.8
"""Exponent of flow in the film coefficient of turbulent flow in a tube (Dittus-Boelter, Nu ∝ Re^0.8)."""

LOUVRED_FIN_EXPONENT = 0.51
"""Exponent of flow in the film coefficient of air over louvred fins (Chang & Wang 1997, j ∝ Re^-0.49)."""


class FlowArrangement(StrEnum):
    """How the two fluids of an exchanger run past each other.

    "Larger" and "smaller" are the fluids of larger and smaller capacity rate. A radiator, charge-air cooler
    or heater core with fins on the air side and separate tubes is crossflow with both fluids unmixed.
    """

    COUNTERFLOW = "counterflow"
    PARALLEL_FLOW = "parallel flow"
    CROSSFLOW_UNMIXED = "crossflow, both fluids unmixed"
    CROSSFLOW_LARGER_MIXED = "crossflow, larger capacity rate mixed"
    CROSSFLOW_SMALLER_MIXED = "crossflow, smaller capacity rate mixed"
    SHELL_AND_TUBE = "one shell pass, two tube passes"


class OutletTemperatures(NamedTuple):
    """Outlet temperatures of the two fluids, K."""

    hot: float
    cold: float


def capacity_rate(mass_flow: float, specific_heat: float) -> float:
    """Return the capacity rate C = ṁ·c_p in W/K.

    Args:
        mass_flow: kg/s, greater than zero.
        specific_heat: J/(kg·K), greater than zero.

    Raises:
        ImpossibleInput: an argument is zero, negative or not finite.

    Source: definition.

    >>> capacity_rate(2.0, 1006.0)
    2012.0
    """
    return positive("mass flow", mass_flow) * positive("specific heat", specific_heat)


def effectiveness(ntu: float, capacity_ratio: float, arrangement: FlowArrangement) -> float:
    """Return the effectiveness ε of an exchanger.

    Args:
        ntu: number of transfer units UA/C_min, 0 to 100.
        capacity_ratio: C_min/C_max, 0 to 1. Zero stands for a condenser or an evaporator, whose boiling or
            condensing fluid keeps its temperature; ε is then 1 − exp(−NTU) in every arrangement.
        arrangement: how the fluids run.

    Raises:
        ImpossibleInput: negative or not finite `ntu`, `capacity_ratio` outside 0 to 1.
        OutsideRange: `ntu` above 100.

    Source: Kays & London; Incropera & DeWitt, table of effectiveness relations. Crossflow with both fluids
    unmixed uses Mason's series (1955), which is exact; the printed formula with the exponents 0.22 and 0.78
    approximates it within 4 %.

    >>> round(effectiveness(1.0, 0.5, FlowArrangement.COUNTERFLOW), 4)
    0.5647
    >>> round(effectiveness(1.0, 0.0, FlowArrangement.CROSSFLOW_UNMIXED), 4)
    0.6321
    """
    not_negative("number of transfer units", ntu)
    within_range("number of transfer units", ntu, 0.0, NTU_LIMIT, "no real heat exchanger is that large")
    ratio = share("capacity ratio", capacity_ratio)
    if ratio * ntu < 1e-12:  # the formulas divide by both; their common limit is the condenser's
        return -math.expm1(-ntu)
    match arrangement:
        case FlowArrangement.COUNTERFLOW:
            if ratio == 1.0:
                return ntu / (1.0 + ntu)
            approach = -math.expm1(-ntu * (1.0 - ratio))
            return approach / ((1.0 - ratio) + ratio * approach)
        case FlowArrangement.PARALLEL_FLOW:
            return -math.expm1(-ntu * (1.0 + ratio)) / (1.0 + ratio)
        case FlowArrangement.CROSSFLOW_UNMIXED:
            return _crossflow_unmixed(ntu, ratio)
        case FlowArrangement.CROSSFLOW_LARGER_MIXED:
            return -math.expm1(ratio * math.expm1(-ntu)) / ratio
        case FlowArrangement.CROSSFLOW_SMALLER_MIXED:
            return -math.expm1(math.expm1(-ratio * ntu) / ratio)
        case FlowArrangement.SHELL_AND_TUBE:
            root = math.hypot(1.0, ratio)
            return 2.0 / (1.0 + ratio + root / math.tanh(0.5 * ntu * root))
        case _:
            assert_never(arrangement)


def _crossflow_unmixed(ntu: float, ratio: float) -> float:
    """Mason's series: ε = Σ P(n, NTU)·P(n, C_r·NTU) / (C_r·NTU), P(n, a) = 1 − e^(−a)·Σ_{m≤n} a^m/m!.

    P(n, a) is the chance that a Poisson count of mean `a` exceeds n, so every term is positive and falls
    faster than geometrically once n passes C_r·NTU.
    """
    small = ratio * ntu
    weight_ntu, weight_small = math.exp(-ntu), math.exp(-small)
    tail_ntu, tail_small = -math.expm1(-ntu), -math.expm1(-small)
    total, n = 0.0, 0
    while (more := total + tail_ntu * tail_small) > total:
        total = more
        n += 1
        weight_ntu *= ntu / n
        weight_small *= small / n
        tail_ntu = max(tail_ntu - weight_ntu, 0.0)
        tail_small = max(tail_small - weight_small, 0.0)
    return min(total / small, 1.0)


def effectiveness_limit(capacity_ratio: float, arrangement: FlowArrangement) -> float:
    """Return the effectiveness that an endlessly large exchanger of this arrangement would approach.

    Args:
        capacity_ratio: C_min/C_max, 0 to 1.
        arrangement: how the fluids run.

    Raises:
        ImpossibleInput: `capacity_ratio` outside 0 to 1.

    Source: limits of the relations of `effectiveness` for NTU without bound.

    >>> effectiveness_limit(1.0, FlowArrangement.PARALLEL_FLOW)
    0.5
    """
    ratio = share("capacity ratio", capacity_ratio)
    if ratio == 0.0:  # two of the formulas divide by it
        return 1.0
    match arrangement:
        case FlowArrangement.COUNTERFLOW | FlowArrangement.CROSSFLOW_UNMIXED:
            return 1.0
        case FlowArrangement.PARALLEL_FLOW:
            return 1.0 / (1.0 + ratio)
        case FlowArrangement.CROSSFLOW_LARGER_MIXED:
            return -math.expm1(-ratio) / ratio
        case FlowArrangement.CROSSFLOW_SMALLER_MIXED:
            return -math.expm1(-1.0 / ratio)
        case FlowArrangement.SHELL_AND_TUBE:
            return 2.0 / (1.0 + ratio + math.hypot(1.0, ratio))
        case _:
            assert_never(arrangement)


def ntu_from_effectiveness(target: float, capacity_ratio: float, arrangement: FlowArrangement) -> float:
    """Return the number of transfer units that gives the effectiveness `target`.

    Args:
        target: effectiveness wanted, 0 to below 1.
        capacity_ratio: C_min/C_max, 0 to 1.
        arrangement: how the fluids run.

    Raises:
        ImpossibleInput: an argument outside 0 to 1.
        OutsideRange: this arrangement does not reach `target` within 100 transfer units.

    Source: inverse of `effectiveness` by bracketing and `crossing`.

    >>> round(ntu_from_effectiveness(0.5, 1.0, FlowArrangement.COUNTERFLOW), 9)
    1.0
    """
    share("effectiveness", target)
    share("capacity ratio", capacity_ratio)
    reached = effectiveness(NTU_LIMIT, capacity_ratio, arrangement)
    if reached <= target:
        raise OutsideRange(
            f"effectiveness {target:g} is out of reach in {arrangement.value} at capacity ratio "
            f"{capacity_ratio:g}: it is {reached:.4g} even at {NTU_LIMIT:g} transfer units"
        )
    return crossing(lambda ntu: effectiveness(ntu, capacity_ratio, arrangement) - target, 0.0, NTU_LIMIT)


def capacity_ratio(one_rate: float, other_rate: float) -> float:
    """Return C_min/C_max of two capacity rates in W/K.

    Raises:
        ImpossibleInput: a rate is zero, negative or not finite.

    Source: definition.

    >>> capacity_ratio(4000.0, 1000.0)
    0.25
    """
    positive("capacity rate", one_rate)
    positive("capacity rate", other_rate)
    return min(one_rate, other_rate) / max(one_rate, other_rate)


def effectiveness_from_ua(ua: float, one_rate: float, other_rate: float, arrangement: FlowArrangement) -> float:
    """Return the effectiveness of an exchanger of conductance `ua` between two capacity rates.

    Args:
        ua: overall conductance, W/K, zero or more.
        one_rate: capacity rate of one fluid, W/K, greater than zero.
        other_rate: capacity rate of the other fluid, W/K, greater than zero.
        arrangement: how the fluids run.

    Raises:
        ImpossibleInput: an impossible argument.
        OutsideRange: more than 100 transfer units.

    Source: Kays & London; Incropera & DeWitt.

    >>> round(effectiveness_from_ua(75.0, 50.0, 30.0, FlowArrangement.CROSSFLOW_UNMIXED), 4)
    0.7557
    """
    ratio = capacity_ratio(one_rate, other_rate)
    return effectiveness(not_negative("conductance", ua) / min(one_rate, other_rate), ratio, arrangement)


def heat_flow(effectiveness: float, hot_rate: float, cold_rate: float, hot_inlet: float, cold_inlet: float) -> float:
    """Return the heat moved, Q = ε·C_min·(T_hot,in − T_cold,in), in W.

    Args:
        effectiveness: 0 to 1.
        hot_rate: capacity rate of the hot fluid, W/K, greater than zero.
        cold_rate: capacity rate of the cold fluid, W/K, greater than zero.
        hot_inlet: K, not below `cold_inlet`.
        cold_inlet: K, greater than zero.

    Raises:
        ImpossibleInput: an impossible argument, or a hot inlet colder than the cold one.

    Source: definition of effectiveness (Kays & London).

    >>> round(heat_flow(0.7, 11000.0, 2000.0, 373.15, 313.15), 3)
    84000.0
    """
    share("effectiveness", effectiveness)
    positive("capacity rate of the hot fluid", hot_rate)
    positive("capacity rate of the cold fluid", cold_rate)
    return effectiveness * min(hot_rate, cold_rate) * _inlet_difference(hot_inlet, cold_inlet)


def outlet_temperatures(
    heat: float, hot_rate: float, cold_rate: float, hot_inlet: float, cold_inlet: float
) -> OutletTemperatures:
    """Return both outlet temperatures in K when the exchanger moves `heat`.

    Args:
        heat: heat moved, W, zero up to C_min times the difference of the inlets.
        hot_rate: capacity rate of the hot fluid, W/K, greater than zero.
        cold_rate: capacity rate of the cold fluid, W/K, greater than zero.
        hot_inlet: K, not below `cold_inlet`.
        cold_inlet: K, greater than zero.

    Raises:
        ImpossibleInput: an impossible argument, or more heat than any exchanger could move.

    Source: energy balance on each fluid.

    >>> outlet_temperatures(84000.0, 10500.0, 2000.0, 373.0, 313.0)
    OutletTemperatures(hot=365.0, cold=355.0)
    """
    not_negative("heat", heat)
    positive("capacity rate of the hot fluid", hot_rate)
    positive("capacity rate of the cold fluid", cold_rate)
    most = min(hot_rate, cold_rate) * _inlet_difference(hot_inlet, cold_inlet)
    if heat > most:
        raise ImpossibleInput(
            f"heat of {said(heat, 'kW')} is more than {said(most, 'kW')}, which the inlet temperatures allow"
        )
    return OutletTemperatures(hot_inlet - heat / hot_rate, cold_inlet + heat / cold_rate)


def ua_from_test(
    heat: float,
    hot_rate: float,
    cold_rate: float,
    hot_inlet: float,
    cold_inlet: float,
    arrangement: FlowArrangement,
) -> float:
    """Return the overall conductance UA in W/K of an exchanger from one measured point.

    Args:
        heat: heat moved in the test, W, greater than zero.
        hot_rate: capacity rate of the hot fluid, W/K, greater than zero.
        cold_rate: capacity rate of the cold fluid, W/K, greater than zero.
        hot_inlet: K, above `cold_inlet`.
        cold_inlet: K, greater than zero.
        arrangement: how the fluids run.

    Raises:
        ImpossibleInput: an impossible argument, or more heat than the inlet temperatures allow.
        OutsideRange: this arrangement cannot move so much heat.

    Source: Kays & London; Incropera & DeWitt (rating by effectiveness and transfer units).

    >>> round(ua_from_test(1000.0, 100.0, 100.0, 360.0, 340.0, FlowArrangement.COUNTERFLOW), 6)
    100.0
    """
    positive("heat", heat)
    outlet_temperatures(heat, hot_rate, cold_rate, hot_inlet, cold_inlet)
    smaller = min(hot_rate, cold_rate)
    reached = heat / (smaller * _inlet_difference(hot_inlet, cold_inlet))
    ratio = capacity_ratio(hot_rate, cold_rate)
    return smaller * ntu_from_effectiveness(reached, ratio, arrangement)


def ua_at_flow(
    ua_test: float,
    one_flow_ratio: float,
    other_flow_ratio: float,
    one_exponent: float,
    other_exponent: float,
    one_resistance_share: float,
) -> float:
    """Return the conductance UA in W/K at other flows than those of the test.

    The two films lie in series and each film coefficient goes with a power of its own flow:
    1/UA = (1/UA_test)·[s·r₁^(−n₁) + (1 − s)·r₂^(−n₂)]. Fouling and the wall count with the side they are put
    to. At flows where the two capacity rates change rank, the arrangements that name the larger or the
    smaller rate must be chosen anew.

    Args:
        ua_test: conductance at the test flows, W/K, greater than zero.
        one_flow_ratio: flow of one fluid over its flow in the test, 0.2 to 5.
        other_flow_ratio: the same for the other fluid.
        one_exponent: exponent of flow in the film coefficient of the first fluid, 0 to 1
            (`LOUVRED_FIN_EXPONENT` for the air side of a radiator).
        other_exponent: the same for the other fluid (`TURBULENT_TUBE_EXPONENT` while its flow is turbulent).
        one_resistance_share: share of the whole thermal resistance that lies on the first fluid's side in the
            test, 0 to 1. With 1 the law is a plain power of the first flow.

    Raises:
        ImpossibleInput: an impossible argument.
        OutsideRange: a flow ratio outside 0.2 to 5, where the flow may change its kind.

    Source: resistances in series and power-law film coefficients, Kays & London; exponents from the
    correlations named with the constants. The range of flow ratios is common practice.

    >>> round(ua_at_flow(2500.0, 0.5, 1.0, 0.51, 0.8, 1.0), 1)
    1755.6
    """
    positive("conductance", ua_test)
    for name, ratio in (("first flow ratio", one_flow_ratio), ("second flow ratio", other_flow_ratio)):
        positive(name, ratio)
        within_range(name, ratio, 0.2, 5.0, "the power laws do not reach so far from the test")
    share("first exponent", one_exponent)
    share("second exponent", other_exponent)
    part = share("share of resistance", one_resistance_share)
    one_side = part * math.pow(one_flow_ratio, -one_exponent)
    other_side = (1.0 - part) * math.pow(other_flow_ratio, -other_exponent)
    return ua_test / (one_side + other_side)


def _inlet_difference(hot_inlet: float, cold_inlet: float) -> float:
    positive("hot inlet temperature", hot_inlet)
    positive("cold inlet temperature", cold_inlet)
    if hot_inlet < cold_inlet:
        raise ImpossibleInput(f"hot inlet {celsius(hot_inlet)} is colder than cold inlet {celsius(cold_inlet)}")
    return hot_inlet - cold_inlet
