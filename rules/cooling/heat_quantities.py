"""Derived numbers of the heat that the engine gives off, and of the radiator."""

from __future__ import annotations

from typing import NamedTuple

from swaplint.api import (
    Build,
    Practice,
    each_of,
    given,
    is_fitted,
    name_of,
    or_practice,
    practice,
    quantity,
    sheet,
)
from swaplint.engineering import atmosphere, coolant, cooling_system, heat_exchangers, radiators
from swaplint.engineering.cooling_system import AIR_SPECIFIC_HEAT
from swaplint.engineering.heat_exchangers import FlowArrangement
from swaplint.spec.job import DesignPlace
from swaplint.spec.systems.cooling import Cooler, HeatPoint, RadiatorTest

from .. import sources
from ..chassis.cab_quantities import condenser_heat
from ..needed import needed
from ..places import SEA_LEVEL, design_places, hottest_at_height, power_left
from . import pump
from .points import air_at, brake_power, driving_points, engine_speed, points

CELSIUS = ("temperature", "degC")
CROSSFLOW = FlowArrangement.CROSSFLOW_UNMIXED

HEAT_SHARE = practice(
    "turbo-diesel heat to coolant 50 to 65 % and to the charge-air cooler 18 to 25 % of brake power at full load, "
    "petrol 55 to 75 % and 8 to 12 %, give or take a fifth"
)
COOLANT_DIESEL = Practice("heat to the coolant of 58 % of brake power (diesel)", 0.58, HEAT_SHARE, review=True)
COOLANT_PETROL = Practice("heat to the coolant of 65 % of brake power (petrol)", 0.65, HEAT_SHARE, review=True)
COOLANT_STANDING = Practice("heat to the coolant of 65 % of the standing work", 0.65, HEAT_SHARE, review=True)
CHARGE_DIESEL = Practice("heat to the charge-air cooler of 22 % of brake power (diesel)", 0.22, HEAT_SHARE, review=True)
CHARGE_PETROL = Practice("heat to the charge-air cooler of 10 % of brake power (petrol)", 0.10, HEAT_SHARE, review=True)
HEAT_FALLBACKS = [COOLANT_DIESEL, COOLANT_PETROL, COOLANT_STANDING, CHARGE_DIESEL, CHARGE_PETROL]


# -- heat ------------------------------------------------------------------------------------------------------------
@quantity(
    "cooling.coolant-heat",
    "power",
    "kW",
    formula="as the data sheet states it (standing work: in proportion to the power, where more is asked for than the "
    "sheet's point), else a share of brake power; plus what other coolers give to the coolant, and the "
    "charge-air cooler where the coolant cools it",
    sources=[
        sheet("engine.heat.rated.coolant").giving("formula", "heat to the coolant"),
        HEAT_SHARE.giving("fallback", "share of brake power"),
    ],
    each=points,
)
def coolant_heat(build: Build, point: HeatPoint) -> float:
    """Heat that the radiator must give off, sea level."""
    return coolant_heat_at(build, point, SEA_LEVEL)


def _full_load_left(build: Build, point: HeatPoint, altitude: float) -> float:
    """Share of the engine's heat that is left at a height. Standing work takes its power there too."""
    return 1.0 if name_of(point) == "standing" else power_left(build, altitude)


def coolant_heat_at(build: Build, point: HeatPoint, altitude: float) -> float:
    """Heat, W, that the radiator must give off at a height: the engine's goes with the power that it has there."""
    engine = _engine_heat(build, point)
    cooler = build.plumbing.cooling.charge_cooler
    if given(lambda: is_fitted(cooler) and cooler.place) == "engine-coolant":
        engine += charge_heat(build, point)
    others = sum(c.heat for c in coolers(build) if c.place == "in-coolant")
    return engine * _full_load_left(build, point, altitude) + others


def _engine_heat(build: Build, point: HeatPoint) -> float:
    stated = given(lambda: point.coolant)
    if stated is None:
        fallback = COOLANT_DIESEL if build.engine.fuel_type == "diesel" else COOLANT_PETROL
        if name_of(point) == "standing":
            fallback = COOLANT_STANDING
        return or_practice(lambda: point.coolant, fallback) * brake_power(build, point)
    if name_of(point) != "standing":
        return stated
    return stated * max(1.0, build.build.duty.stationary_power / build.engine.heat.standing.power)


def charge_heat(build: Build, point: HeatPoint) -> float:
    """Heat taken from the charge air, W; 0 where there is no cooler."""
    if not is_fitted(build.plumbing.cooling.charge_cooler):
        return 0.0
    stated = given(lambda: point.charge_air)
    if stated is not None:
        return stated
    fallback = CHARGE_DIESEL if build.engine.fuel_type == "diesel" else CHARGE_PETROL
    return or_practice(lambda: point.charge_air, fallback) * brake_power(build, point)


def coolers(build: Build) -> list[Cooler]:
    """The other coolers of the build; an empty table says that there are none."""
    return [cooler for cooler in each_of(build.plumbing.cooling.coolers) if is_fitted(cooler)]


def condenser_in_front(build: Build) -> float:
    """Heat that the condenser of the air conditioning gives to the air in front of the radiator."""
    system = build.plumbing.air_conditioning
    if not is_fitted(system) or system.condenser_place != "before-radiator":
        return 0.0
    return condenser_heat(build)


@quantity(
    "cooling.stacked-heat",
    "power",
    "kW",
    formula="heat of the charge-air cooler, of the condenser (chassis.condenser-heat) and of every other cooler that "
    "stands in the air in front of the radiator",
    sources=[
        sheet("engine.heat.rated.charge_air").giving("formula", "heat of the charge air"),
        HEAT_SHARE.giving("fallback", "share of brake power"),
    ],
    each=points,
)
def stacked_heat(build: Build, point: HeatPoint) -> float:
    """Heat that warms the air before it reaches the radiator, sea level."""
    return stacked_heat_at(build, point, SEA_LEVEL)


def stacked_heat_at(build: Build, point: HeatPoint, altitude: float) -> float:
    """Heat, W, that warms the air before it reaches the radiator at a height."""
    total: float = sum(c.heat for c in coolers(build) if c.place == "before-radiator") + condenser_in_front(build)
    heat = charge_heat(build, point)
    if heat and _charge_in_front(build):
        total += heat * _full_load_left(build, point, altitude)
    return total


def _charge_in_front(build: Build) -> bool:
    """Whether the heat of the charge air goes into the air in front of the radiator."""
    cooler = build.plumbing.cooling.charge_cooler
    if cooler.place == "own-water":
        return cooler.water_radiator == "before-radiator"
    return cooler.place == "before-radiator"


def is_guessed(build: Build, point: HeatPoint) -> bool:
    """Whether a heat of this point is a fallback, because the data sheet does not state it."""
    if given(lambda: point.coolant) is None:
        return True
    return is_fitted(build.plumbing.cooling.charge_cooler) and given(lambda: point.charge_air) is None


# -- radiator --------------------------------------------------------------------------------------------------------
@quantity(
    "cooling.coolant-flow",
    "volume_flow",
    "L/min",
    formula="V̇ = V̇_rated · n/n_rated: the pump turns with the engine and the circuit is quadratic; an electric pump's "
    "flow is the same at every speed",
    sources=[
        sheet("engine.coolant.flow").giving("formula", "flow at rated speed"),
        sources.PUMP_LAWS.giving("formula", "flow with the speed of the pump"),
    ],
    each=points,
)
def coolant_flow(build: Build, point: HeatPoint) -> float:
    """Coolant through the radiator, thermostat open."""
    return pump.flow_at(build, engine_speed(build, point))


def _coolant_rate(build: Build, flow: float) -> float:
    """Capacity rate of the coolant, W/K, with its properties at the hottest temperature allowed."""
    return coolant.capacity_rate(flow, build.plumbing.cooling.coolant.glycol, build.engine.coolant.top_tank_max)


def radiator_tests(build: Build) -> list[RadiatorTest]:
    """The tested points of the radiator."""
    return needed(build, "plumbing.cooling.radiator.tests", each_of(build.plumbing.cooling.radiator.tests))


@quantity(
    "cooling.tested-conductance",
    "power_per_temperature",
    "kW/K",
    formula="UA as stated, else NTU(ε, C_min/C_max)·C_min, crossflow with both fluids unmixed; ε as stated, else "
    "Q/(C_min·ΔT_inlets)",
    sources=[
        sheet("plumbing.cooling.radiator.tests").giving("formula", "what the radiator did in its tests"),
        sources.COMPACT_HEAT_EXCHANGERS.giving("formula", "conductance from effectiveness, crossflow"),
    ],
    each=radiator_tests,
    instead={
        "plumbing.cooling.radiator.tests.*.ua": (
            "plumbing.cooling.radiator.tests.*.effectiveness",
            "plumbing.cooling.radiator.tests.*.heat",
        )
    },
)
def tested_conductance(build: Build, test: RadiatorTest) -> float:
    """Conductance of the radiator in one of its maker's tests."""
    ua = given(lambda: test.ua)
    if ua is not None:
        return ua
    air_rate = heat_exchangers.capacity_rate(test.air_flow, AIR_SPECIFIC_HEAT)
    coolant_rate = _coolant_rate(build, test.coolant_flow)
    smaller, ratio = min(air_rate, coolant_rate), heat_exchangers.capacity_ratio(air_rate, coolant_rate)
    reached = given(lambda: test.effectiveness)
    if reached is None:
        heat = given(lambda: test.heat)
        reached = test.effectiveness if heat is None else heat / (smaller * test.inlet_difference)
    return smaller * heat_exchangers.ntu_from_effectiveness(reached, ratio, CROSSFLOW)


class Working(NamedTuple):
    """A radiator with the flows through it: conductance and capacity rates in W/K, and effectiveness."""

    ua: float
    effectiveness: float
    coolant_rate: float
    air_rate: float


def working(build: Build, point: HeatPoint, altitude: float = SEA_LEVEL) -> Working:
    """The radiator at a point. Fan and wind move the same volume of thinner air at altitude."""
    thin = atmosphere.standard_pressure(altitude) / atmosphere.SEA_LEVEL_PRESSURE
    return working_with(build, air_at(build, point).flow * thin, coolant_flow(build, point))


def working_with(build: Build, air_flow: float, flow: float) -> Working:
    """The radiator with a mass flow of air, kg/s, and a flow of coolant, m³/s, through it."""
    tests = [
        radiators.RadiatorTest(test.air_flow, test.coolant_flow, tested_conductance(build, test))
        for test in radiator_tests(build)
    ]
    ua = radiators.conductance(tests, air_flow, flow)
    coolant_rate = _coolant_rate(build, flow)
    air_rate = heat_exchangers.capacity_rate(air_flow, AIR_SPECIFIC_HEAT)
    reached = heat_exchangers.effectiveness_from_ua(ua, coolant_rate, air_rate, CROSSFLOW)
    return Working(ua, reached, coolant_rate, air_rate)


@quantity(
    "cooling.radiator-conductance",
    "power_per_temperature",
    "kW/K",
    formula="1/UA = (1/UA_test)·[0.8·(ṁ/ṁ_test)^−0.51 + 0.2·(V̇/V̇_test)^−0.8], straight lines between tests",
    sources=[
        sources.COMPACT_HEAT_EXCHANGERS.giving("formula", "conductance over the flows of air and coolant"),
        practice("a radiator has about 80 % of its resistance on the air side").giving(
            "formula", "80 % of the resistance on the air side"
        ),
    ],
    each=points,
)
def radiator_conductance(build: Build, point: HeatPoint) -> float:
    """Conductance of the radiator at the flows of the point, sea level."""
    return working(build, point).ua


@quantity(
    "cooling.radiator-effectiveness",
    "share",
    "%",
    formula="ε(UA/C_min, C_min/C_max), crossflow with both fluids unmixed",
    sources=[
        sources.COMPACT_HEAT_EXCHANGERS.giving("formula", "effectiveness in crossflow"),
        sources.HEAT_TRANSFER.giving("formula", "effectiveness and number of transfer units"),
    ],
    each=points,
)
def radiator_effectiveness(build: Build, point: HeatPoint) -> float:
    """Effectiveness of the radiator at the flows of the point, sea level."""
    return working(build, point).effectiveness


@quantity(
    "cooling.radiator-heat",
    "power",
    "kW",
    formula="Q = ε·C_min·(T_top,max − T_ambient − Q_stacked/C_air)",
    sources=[sources.COMPACT_HEAT_EXCHANGERS.giving("formula")],
    each=points,
)
def radiator_heat(build: Build, point: HeatPoint) -> float:
    """Heat that the radiator gives off on the hottest day with the coolant at its limit, sea level."""
    return heat_at(build, point, SEA_LEVEL, build.build.design.ambient_max)


def heat_at(build: Build, point: HeatPoint, altitude: float, ambient: float) -> float:
    """Heat, W, that the radiator gives off at a height in outside air of a temperature, the coolant at its limit."""
    at, limit = working(build, point, altitude), build.engine.coolant.top_tank_max
    stacked = stacked_heat_at(build, point, altitude)
    if cooling_system.preheated_air(ambient, stacked, at.air_rate) >= limit:
        return 0.0
    return cooling_system.radiator_heat(limit, ambient, at.effectiveness, at.coolant_rate, at.air_rate, stacked)


def rise_at(build: Build, point: HeatPoint, altitude: float) -> float:
    """Rise of the hottest coolant over the outside air at a height, K."""
    at, any_ambient = working(build, point, altitude), 300.0
    top = cooling_system.top_tank_temperature(
        any_ambient,
        coolant_heat_at(build, point, altitude),
        at.effectiveness,
        at.coolant_rate,
        at.air_rate,
        stacked_heat_at(build, point, altitude),
    )
    return top - any_ambient


@quantity(
    "cooling.top-tank-rise",
    "temperature_difference",
    "K",
    formula="ΔT = Q_stacked/C_air + Q/(ε·C_min), steady state, thermostat open",
    sources=[sources.COMPACT_HEAT_EXCHANGERS.giving("formula")],
    each=points,
)
def top_tank_rise(build: Build, point: HeatPoint) -> float:
    """Rise of the hottest coolant over the outside air, sea level."""
    return rise_at(build, point, SEA_LEVEL)


@quantity(
    "cooling.top-tank-rise-high",
    "temperature_difference",
    "K",
    formula="as cooling.top-tank-rise, with the air flow times p(altitude)/p(0), UA at that flow, and the "
    "engine's heat times the share of power that its sheet leaves there",
    sources=[
        sources.COMPACT_HEAT_EXCHANGERS.giving("formula", "rise over the outside air"),
        sources.STANDARD_ATMOSPHERE.giving("formula", "air pressure at a height"),
    ],
    each=points,
)
def top_tank_rise_high(build: Build, point: HeatPoint) -> float:
    """Rise of the hottest coolant over the outside air at the highest place."""
    return rise_at(build, point, build.build.design.altitude_max)


@quantity(
    "cooling.top-tank",
    "temperature",
    "degC",
    formula="T_top = T_ambient + rise",
    symbols={
        "T_ambient": "build.design.ambient_max",
        "rise": "cooling.top-tank-rise",
    },
    sources=[sources.COMPACT_HEAT_EXCHANGERS.giving("formula", "rise over the outside air")],
    each=points,
)
def top_tank(build: Build, point: HeatPoint) -> float:
    """Hottest coolant on the hottest day, sea level."""
    return build.build.design.ambient_max + top_tank_rise(build, point)


@quantity(
    "cooling.top-tank-high",
    "temperature",
    "degC",
    formula="T_top = T_ambient + rise at the highest place; T_ambient = hottest day − 6.5 K for each km of height",
    sources=[
        sources.COMPACT_HEAT_EXCHANGERS.giving("formula", "rise over the outside air"),
        sources.STANDARD_ATMOSPHERE.giving("formula", "6.5 K colder for each km of height, air pressure there"),
    ],
    each=points,
)
def top_tank_high(build: Build, point: HeatPoint) -> float:
    """Hottest coolant at the highest place on the day that is the hottest below."""
    return hottest_at_height(build) + top_tank_rise_high(build, point)


@quantity(
    "cooling.top-tank-at",
    "temperature",
    "degC",
    formula="T_top = T_ambient + rise in the air of that place, the hotter of rated speed and peak torque",
    sources=[
        sources.COMPACT_HEAT_EXCHANGERS.giving("formula", "rise over the outside air"),
        sources.STANDARD_ATMOSPHERE.giving("formula", "air pressure at a height"),
    ],
    each=design_places,
)
def top_tank_at(build: Build, place: DesignPlace) -> float:
    """Hottest coolant at a place of the work, driving."""
    return place.ambient + max(rise_at(build, point, place.altitude) for point in driving_points(build))


LIMITING = sources.COOLING_TRIALS.giving("formula", "limiting ambient temperature")


def limiting_at(build: Build, point: HeatPoint, altitude: float) -> float:
    """Hottest outside air, K, in which the coolant stays within its limit at a height."""
    return _ambient_at(build.engine.coolant.top_tank_max, rise_at(build, point, altitude))


def _ambient_at(limit: float, rise: float) -> float:
    any_ambient = 300.0
    return cooling_system.ambient_at_limit(any_ambient, any_ambient + rise, limit)


@quantity(
    "cooling.limiting-ambient",
    "temperature",
    "degC",
    formula="T_limiting = T_top,max − rise",
    symbols={
        "T_top,max": "engine.coolant.top_tank_max",
        "rise": "cooling.top-tank-rise",
    },
    sources=[LIMITING, sheet("engine.coolant.top_tank_max").giving("limit", "hottest coolant at the outlet")],
    each=points,
)
def limiting_ambient(build: Build, point: HeatPoint) -> float:
    """Hottest outside air in which the coolant stays within its limit, sea level."""
    return _ambient_at(build.engine.coolant.top_tank_max, top_tank_rise(build, point))


@quantity(
    "cooling.limiting-ambient-high",
    "temperature",
    "degC",
    formula="T_limiting = T_top,max − rise, at the highest place",
    symbols={"T_top,max": "engine.coolant.top_tank_max", "rise": "cooling.top-tank-rise-high"},
    sources=[
        LIMITING,
        sheet("engine.coolant.top_tank_max").giving("limit", "hottest coolant at the outlet"),
        sources.STANDARD_ATMOSPHERE.giving("formula", "air pressure at a height"),
    ],
    each=points,
)
def limiting_ambient_high(build: Build, point: HeatPoint) -> float:
    """Hottest outside air in which the coolant stays within its limit at the highest place."""
    return _ambient_at(build.engine.coolant.top_tank_max, top_tank_rise_high(build, point))


@quantity(
    "cooling.air-to-boil",
    "temperature",
    "degC",
    formula="T = T_boil(p_0 + p_cap, glycol) − rise, with the true boiling point",
    sources=[
        sources.COOLING_TRIALS.giving("formula", "air to boil"),
        sources.RAOULT.giving("formula", "vapour pressure of a mixture"),
    ],
    each=points,
)
def air_to_boil(build: Build, point: HeatPoint) -> float:
    """Outside air in which the coolant would begin to boil, sea level."""
    return boiling_at(build, point, SEA_LEVEL)


def boiling_at(build: Build, point: HeatPoint, altitude: float) -> float:
    """Outside air, K, in which the coolant would begin to boil at a height."""
    cooling = build.plumbing.cooling
    boils = coolant.boiling_point(atmosphere.standard_pressure(altitude) + cooling.cap_pressure, cooling.coolant.glycol)
    return _ambient_at(boils, rise_at(build, point, altitude))
