"""The cooling system as a whole: radiator, air preheated by coolers in front of it, top tank, expansion.

Temperatures are in kelvin, heat in watts, capacity rates ρ·c_p·V̇ or ṁ·c_p in W/K. Everything is steady state
with the thermostat fully open: short climbs use heat storage and stand less in need, and hot air that flows
back round the core stands worse. Only a trial on the vehicle proves a cooling system.

Hot coolant under pressure and exhaust parts burn: let them cool before opening or touching.
"""

from __future__ import annotations

from typing import Final, NamedTuple

from swaplint.engineering import coolant, heat_exchangers
from swaplint.engineering.guards import (
    ImpossibleInput,
    OutsideRange,
    celsius,
    finite,
    not_negative,
    positive,
    share,
)
from swaplint.engineering.heat_exchangers import FlowArrangement
from swaplint.engineering.roots import crossing, settled

AIR_SPECIFIC_HEAT: Final = 1006.0
"""Specific heat of dry air near 25 °C, J/(kg·K) (tables of Incropera & DeWitt give 1007 at 300 K)."""


class RadiatorPoint(NamedTuple):
    """A radiator at work: effectiveness and the temperatures around it, K."""

    effectiveness: float
    top_tank: float
    bottom_tank: float
    air_inlet: float
    air_outlet: float


def preheated_air(ambient: float, stacked_heat: float, air_rate: float) -> float:
    """Return the temperature of the air at the radiator's face in K, T_ambient + ΣQ/C_air.

    Args:
        ambient: temperature of the outside air, K, greater than zero.
        stacked_heat: sum of the heat given off by charge-air cooler, condenser and oil cooler in front of the
            radiator, W, zero or more.
        air_rate: capacity rate of the air through the stack, W/K, greater than zero.

    Raises:
        ImpossibleInput: an impossible argument.

    Source: energy balance. It takes the coolers' warm air as spread over the whole core; behind a cooler that
    covers half of it, that half is warmer than this mean.

    >>> preheated_air(300.0, 20120.0, 2012.0)
    310.0
    """
    positive("ambient temperature", ambient)
    return ambient + not_negative("stacked heat", stacked_heat) / positive("air capacity rate", air_rate)


def top_tank_temperature(
    ambient: float,
    heat: float,
    effectiveness: float,
    coolant_rate: float,
    air_rate: float,
    stacked_heat: float = 0.0,
) -> float:
    """Return the top-tank temperature in K at which the radiator gives off `heat`.

    T_top = T_ambient + ΣQ_stacked/C_air + Q/(ε·C_min).

    Args:
        ambient: K, greater than zero.
        heat: heat to be given off by the radiator, W, zero or more.
        effectiveness: of the radiator at these very flows, above 0, up to 1.
        coolant_rate: capacity rate of the coolant, W/K, greater than zero.
        air_rate: capacity rate of the air, W/K, greater than zero.
        stacked_heat: see `preheated_air`.

    Raises:
        ImpossibleInput: an impossible argument.

    Source: definition of effectiveness (Kays & London) and `preheated_air`.

    >>> top_tank_temperature(310.0, 70000.0, 0.7, 11000.0, 2500.0, 25000.0)
    360.0
    """
    face = preheated_air(ambient, stacked_heat, air_rate)
    not_negative("heat", heat)
    positive("effectiveness", share("effectiveness", effectiveness))
    return face + heat / (effectiveness * min(positive("coolant capacity rate", coolant_rate), air_rate))


def radiator_heat(
    top_tank: float,
    ambient: float,
    effectiveness: float,
    coolant_rate: float,
    air_rate: float,
    stacked_heat: float = 0.0,
) -> float:
    """Return the heat in W that the radiator gives off at a given top-tank temperature.

    Negative would be heat taken up; that is refused.

    Args:
        top_tank: K, not below the air at the radiator's face.
        ambient: K, greater than zero.
        effectiveness: of the radiator at these very flows, 0 to 1.
        coolant_rate: capacity rate of the coolant, W/K, greater than zero.
        air_rate: capacity rate of the air, W/K, greater than zero.
        stacked_heat: see `preheated_air`.

    Raises:
        ImpossibleInput: an impossible argument, or air hotter than the coolant.

    Source: definition of effectiveness (Kays & London) and `preheated_air`.

    >>> round(radiator_heat(360.0, 310.0, 0.7, 11000.0, 2500.0, 25000.0), 6)
    70000.0
    """
    face = preheated_air(ambient, stacked_heat, air_rate)
    return heat_exchangers.heat_flow(effectiveness, coolant_rate, air_rate, top_tank, face)


def required_effectiveness(
    heat: float,
    top_tank_limit: float,
    ambient: float,
    coolant_rate: float,
    air_rate: float,
    stacked_heat: float = 0.0,
) -> float:
    """Return the effectiveness a radiator needs; above 1 no radiator can do it with these flows.

    ε = Q/(C_min·(T_top,max − T_ambient − ΣQ_stacked/C_air)).

    Args:
        heat: W, zero or more.
        top_tank_limit: highest permitted top-tank temperature, K.
        ambient: K, greater than zero.
        coolant_rate: capacity rate of the coolant, W/K, greater than zero.
        air_rate: capacity rate of the air, W/K, greater than zero.
        stacked_heat: see `preheated_air`.

    Raises:
        ImpossibleInput: an impossible argument.
        OutsideRange: the air reaches the radiator as hot as the limit or hotter.

    Source: definition of effectiveness (Kays & London).

    >>> round(required_effectiveness(70000.0, 360.0, 310.0, 11000.0, 2500.0, 25000.0), 6)
    0.7
    """
    face = preheated_air(ambient, stacked_heat, air_rate)
    difference = positive("top-tank limit", top_tank_limit) - face
    if difference <= 0.0:
        raise OutsideRange(
            f"the air reaches the radiator at {celsius(face)}, not below the limit of {celsius(top_tank_limit)}"
        )
    return not_negative("heat", heat) / (min(positive("coolant capacity rate", coolant_rate), air_rate) * difference)


def radiator_point(
    ambient: float,
    heat: float,
    ua: float,
    coolant_flow: float,
    glycol_share: float,
    air_rate: float,
    stacked_heat: float = 0.0,
    arrangement: FlowArrangement = FlowArrangement.CROSSFLOW_UNMIXED,
) -> RadiatorPoint:
    """Return the operating point of a radiator known by its conductance, found by iteration.

    The coolant's density and specific heat depend on its mean temperature, which depends on the top tank,
    which depends on them.

    Args:
        ambient: K, greater than zero.
        heat: W, zero or more.
        ua: conductance of the radiator at these flows, W/K, greater than zero.
        coolant_flow: volume flow through the radiator, m³/s, greater than zero.
        glycol_share: glycol by volume, 0 to 0.6.
        air_rate: capacity rate of the air, W/K, greater than zero.
        stacked_heat: see `preheated_air`.
        arrangement: how coolant and air run.

    Raises:
        ImpossibleInput: an impossible argument.
        OutsideRange: the mean coolant temperature leaves the property tables (0 to 120 °C) or the conductance
            means more than 100 transfer units.

    Source: `heat_exchangers.effectiveness_from_ua`, `coolant.capacity_rate`, energy balances.

    >>> point = radiator_point(316.15, 78000.0, 3000.0, 190 / 60000, 0.5, 2600.0, 27000.0)
    >>> round(point.top_tank - point.bottom_tank, 1), round(point.air_outlet - point.air_inlet, 1)
    (6.7, 30.0)
    """
    positive("conductance", ua)
    not_negative("heat", heat)
    air_inlet = preheated_air(ambient, stacked_heat, air_rate)

    def at(mean: float) -> RadiatorPoint:
        rate = coolant.capacity_rate(coolant_flow, glycol_share, mean)
        effectiveness = heat_exchangers.effectiveness_from_ua(ua, rate, air_rate, arrangement)
        top = air_inlet + heat / (effectiveness * min(rate, air_rate))
        return RadiatorPoint(effectiveness, top, top - heat / rate, air_inlet, air_inlet + heat / air_rate)

    def mean_of(point: RadiatorPoint) -> float:
        return 0.5 * (point.top_tank + point.bottom_tank)

    # any liquid state will do to begin with
    return at(settled(330.0, lambda mean: mean_of(at(mean))))


def ambient_at_limit(ambient: float, top_tank: float, limit: float) -> float:
    """Return the ambient temperature in K at which the top tank would reach `limit`.

    With the engine maker's highest top-tank temperature as `limit` this is the limiting ambient temperature;
    with the boiling point of the coolant it is the air-to-boil temperature (state which boiling point:
    `coolant.boiling_point` gives the true one; 100 °C is common practice in trials).

    Args:
        ambient: outside air in the calculation or trial, K, greater than zero.
        top_tank: top-tank temperature at that ambient, K, not below `ambient`.
        limit: K, greater than zero.

    Raises:
        ImpossibleInput: an impossible argument.

    Source: at constant heat and flows the rise of the top tank over ambient keeps its value; trade terms of
    SAE J1393 and J1004.

    >>> ambient_at_limit(300.0, 360.0, 378.0)
    318.0
    """
    positive("ambient temperature", ambient)
    positive("top-tank temperature", top_tank)
    if top_tank < ambient:
        raise ImpossibleInput(
            f"the top tank at {celsius(top_tank)} cannot be colder than the air at {celsius(ambient)}"
        )
    return ambient + (positive("limit", limit) - top_tank)


def limiting_ambient(
    limit: float,
    heat: float,
    ua: float,
    coolant_flow: float,
    glycol_share: float,
    air_rate: float,
    stacked_heat: float = 0.0,
    arrangement: FlowArrangement = FlowArrangement.CROSSFLOW_UNMIXED,
) -> float:
    """Return the ambient temperature in K at which the top tank of a radiator of known UA reaches `limit`.

    Args:
        limit: highest top-tank temperature, or the coolant's boiling point, K, up to 393.15.
        heat: W, zero or more.
        ua: conductance of the radiator at these flows, W/K, greater than zero.
        coolant_flow: volume flow through the radiator, m³/s, greater than zero.
        glycol_share: glycol by volume, 0 to 0.6.
        air_rate: capacity rate of the air, W/K, greater than zero.
        stacked_heat: see `preheated_air`.
        arrangement: how coolant and air run.

    Raises:
        ImpossibleInput: an impossible argument.
        OutsideRange: the coolant would leave the property tables before the limit is met.

    Source: inverse of `radiator_point` by iteration.

    >>> ambient = limiting_ambient(378.15, 78000.0, 3000.0, 190 / 60000, 0.5, 2600.0, 27000.0)
    >>> round(radiator_point(ambient, 78000.0, 3000.0, 190 / 60000, 0.5, 2600.0, 27000.0).top_tank, 3)
    378.15
    """
    not_negative("heat", heat)
    positive("conductance", ua)
    rate = settled(
        coolant.capacity_rate(coolant_flow, glycol_share, limit),
        lambda rate: coolant.capacity_rate(coolant_flow, glycol_share, limit - 0.5 * heat / rate),
    )
    effectiveness = heat_exchangers.effectiveness_from_ua(ua, rate, air_rate, arrangement)
    face = limit - heat / (effectiveness * min(rate, air_rate))
    ambient = face - not_negative("stacked heat", stacked_heat) / air_rate
    if ambient <= 0.0:
        raise OutsideRange("no ambient temperature is cold enough for this heat")
    return ambient


def air_mass_flow_needed(
    heat: float,
    top_tank_limit: float,
    ambient: float,
    ua: float,
    coolant_rate: float,
    stacked_heat: float = 0.0,
    arrangement: FlowArrangement = FlowArrangement.CROSSFLOW_UNMIXED,
) -> float:
    """Return the air mass flow in kg/s that keeps the top tank at its limit, at constant conductance.

    More air lowers the preheating and raises the heat moved, while the effectiveness falls. Holding the
    effectiveness instead would promise too much; holding UA, which grows a little with air flow, is on the
    safe side when more air than in the test is asked for.

    Args:
        heat: W, greater than zero.
        top_tank_limit: K, above `ambient`.
        ambient: K, greater than zero.
        ua: conductance of the radiator, W/K, greater than zero.
        coolant_rate: capacity rate of the coolant, W/K, greater than zero.
        stacked_heat: see `preheated_air`.
        arrangement: how coolant and air run.

    Raises:
        ImpossibleInput: an impossible argument.
        OutsideRange: no air flow up to 100 kg/s does it: the radiator or the coolant flow is too small.

    Source: `heat_exchangers.effectiveness_from_ua` solved for the air flow by `heat_exchangers.crossing`.

    >>> round(air_mass_flow_needed(60000.0, 378.15, 318.15, 1386.294, 1e9), 3)  # NTU = ln 2, ε = 0.5
    1.988
    """
    positive("heat", heat)
    positive("conductance", ua)
    difference = positive("top-tank limit", top_tank_limit) - positive("ambient temperature", ambient)
    if difference <= 0.0:
        raise OutsideRange("the outside air is not colder than the top-tank limit")

    not_negative("stacked heat", stacked_heat)
    positive("coolant capacity rate", coolant_rate)

    def surplus(mass_flow: float) -> float:
        air_rate = mass_flow * AIR_SPECIFIC_HEAT
        smaller = min(coolant_rate, air_rate)
        # Beyond the limit of transfer units more conductance changes nothing that matters.
        ntu = min(ua / smaller, heat_exchangers.NTU_LIMIT)
        ratio = heat_exchangers.capacity_ratio(coolant_rate, air_rate)
        effectiveness = heat_exchangers.effectiveness(ntu, ratio, arrangement)
        return effectiveness * smaller * (difference - stacked_heat / air_rate) - heat

    # All the heat leaves with the air, and the air cannot leave hotter than the limit: half of that is too little.
    least = 0.5 * heat / (AIR_SPECIFIC_HEAT * difference)
    most = 100.0
    if surplus(most) < 0.0:
        raise OutsideRange(f"no air flow up to {most:g} kg/s holds the limit: radiator or coolant flow is small")
    return crossing(surplus, least, most)


def fan_on_share(heat: float, heat_fan_off: float, heat_fan_on: float) -> float:
    """Return the share of time for which a switched fan must run so that the mean heat is given off.

    0 where the radiator does without the fan; above 1 where even a fan that never stops is not enough.

    Args:
        heat: mean heat to be given off, W, zero or more.
        heat_fan_off: heat given off at the switching temperature with the fan still, W, zero or more.
        heat_fan_on: the same with the fan running, W, above `heat_fan_off`.

    Raises:
        ImpossibleInput: an impossible argument, or a fan that does not help.

    Source: mean of two states in time. The fan's current times this share is its mean electrical load.

    >>> fan_on_share(20e3, 5e3, 35e3)
    0.5
    """
    not_negative("heat", heat)
    not_negative("heat with the fan off", heat_fan_off)
    if finite("heat with the fan on", heat_fan_on) <= heat_fan_off:
        raise ImpossibleInput("the fan must raise the heat given off")
    return max(0.0, (heat - heat_fan_off) / (heat_fan_on - heat_fan_off))


def charge_air_outlet(charge_inlet: float, cooling_air: float, effectiveness: float) -> float:
    """Return the temperature of the charge air behind its cooler in K, T₁ − ε·(T₁ − T_air).

    Args:
        charge_inlet: charge air out of the compressor, K, not below `cooling_air`.
        cooling_air: air at the face of the cooler, K, greater than zero.
        effectiveness: temperature effectiveness of the charge side, 0 to 1. It equals the ε of
            `heat_exchangers` while the charge air has the smaller capacity rate, as is usual.

    Raises:
        ImpossibleInput: an impossible argument, or cooling air hotter than the charge.

    Source: definition of effectiveness (Kays & London; Heywood, "Internal Combustion Engine Fundamentals").

    >>> charge_air_outlet(440.0, 300.0, 0.75)
    335.0
    """
    return charge_inlet - share("effectiveness", effectiveness) * _charge_difference(charge_inlet, cooling_air)


def charge_air_effectiveness(charge_inlet: float, cooling_air: float, charge_outlet_limit: float) -> float:
    """Return the effectiveness a charge-air cooler needs to hold its outlet at the limit; 0 if none.

    Args:
        charge_inlet: charge air out of the compressor, K, above `cooling_air`.
        cooling_air: air at the face of the cooler, K, greater than zero.
        charge_outlet_limit: highest permitted manifold temperature, K.

    Raises:
        ImpossibleInput: an impossible argument, or cooling air as hot as the charge.
        OutsideRange: the limit lies at or below the cooling air, which no cooler reaches.

    Source: inverse of `charge_air_outlet`.

    >>> charge_air_effectiveness(440.0, 300.0, 335.0)
    0.75
    """
    difference = _charge_difference(charge_inlet, cooling_air)
    if difference == 0.0:
        raise ImpossibleInput("the charge air must be hotter than the cooling air")
    if positive("charge outlet limit", charge_outlet_limit) <= cooling_air:
        raise OutsideRange("no cooler brings the charge down to the temperature of its cooling air")
    return max(0.0, (charge_inlet - charge_outlet_limit) / difference)


def expansion_volume(
    system_volume: float, glycol_share: float, cold: float, hot: float, reserve_share: float = 0.0
) -> float:
    """Return the volume in m³ that an expansion tank needs for growth of the coolant and reserve.

    V·(ρ_cold/ρ_hot − 1) + s·V.

    Args:
        system_volume: coolant in engine, radiator, heater and hoses when cold, m³, greater than zero.
        glycol_share: glycol by volume, 0 to 0.6.
        cold: coldest filled state, K, in the range of `coolant.density`.
        hot: hottest state, K, above `cold`, in the range of `coolant.density`.
        reserve_share: coolant kept in hand against loss, as a share of the system, 0 to 1. Common practice is
            0.05 for light and 0.10 for heavy vehicles where the engine maker gives nothing.

    Raises:
        ImpossibleInput: an impossible argument, or a hot state not hotter than the cold one.
        OutsideRange: outside the density table.

    Source: `coolant.expansion`; the reserve is a share as defined.

    >>> round(expansion_volume(0.031, 0.5, 293.15, 383.15, 0.10) * 1000, 1)
    4.9
    """
    positive("system volume", system_volume)
    share("reserve share", reserve_share)
    if finite("hot temperature", hot) <= finite("cold temperature", cold):
        raise ImpossibleInput(f"the hot state at {celsius(hot)} must be hotter than the cold one at {celsius(cold)}")
    return system_volume * (coolant.expansion(glycol_share, cold, hot) + reserve_share)


def unaccounted_heat(
    fuel_power: float, brake_power: float, coolant_heat: float, charge_air_heat: float, exhaust_heat: float
) -> float:
    """Return what is left in W of the fuel's energy after the named outflows.

    A small positive rest (surfaces, oil, unburnt fuel: some per cent of the fuel, common practice) is normal.
    A negative rest means that the data contradict each other.

    Args:
        fuel_power: fuel mass flow times lower heating value, W, greater than zero.
        brake_power: W, zero or more.
        coolant_heat: W, zero or more.
        charge_air_heat: W, zero or more.
        exhaust_heat: exhaust mass flow times specific heat times its temperature above the intake air, W,
            zero or more.

    Raises:
        ImpossibleInput: an impossible argument.

    Source: energy balance of an engine (Heywood, "Internal Combustion Engine Fundamentals").

    >>> unaccounted_heat(330e3, 130e3, 75e3, 25e3, 95e3)
    5000.0
    """
    positive("fuel power", fuel_power)
    outflows = {
        "brake power": brake_power,
        "coolant heat": coolant_heat,
        "charge-air heat": charge_air_heat,
        "exhaust heat": exhaust_heat,
    }
    return fuel_power - sum(not_negative(name, value) for name, value in outflows.items())


def _charge_difference(charge_inlet: float, cooling_air: float) -> float:
    positive("charge inlet temperature", charge_inlet)
    positive("cooling air temperature", cooling_air)
    if charge_inlet < cooling_air:
        raise ImpossibleInput(f"charge air at {celsius(charge_inlet)} is colder than its cooling air")
    return charge_inlet - cooling_air
