"""Derived numbers of cab heater and air conditioning."""

from __future__ import annotations

from swaplint.api import Build, Practice, given, or_practice, practice, quantity, sheet
from swaplint.engineering import atmosphere, coolant, heat_exchangers
from swaplint.engineering.atmosphere import SEA_LEVEL_PRESSURE
from swaplint.engineering.cooling_system import AIR_SPECIFIC_HEAT

from .. import sources
from ..gearing.quantities import cruise_speed_engine

HEATER_TEMPERATURE = practice("coolant reaches the heater at about 80 °C from a warm idling engine")
COOLANT_TEMPERATURE = Practice("coolant at the heater feed 80 °C", 353.15, HEATER_TEMPERATURE)
IDLE_HEAT_PRACTICE = practice(
    "a warm idling diesel gives its coolant 0.5 to 1 kW per litre of swept volume, a petrol more"
)
IDLE_HEAT = Practice("idle heat of 0.8 kW per litre of swept volume (0.5 to 1)", 0.8e6, IDLE_HEAT_PRACTICE, review=True)


@quantity(
    "chassis.heater-core",
    "power",
    "kW",
    formula="Q = ε·C_min·(T_coolant − T_outside), C = flow · density · specific heat, C_min mostly that of the air",
    sources=[
        sources.HEAT_TRANSFER.giving("formula", "effectiveness of a heat exchanger"),
        sources.GLYCOL_TABLES.giving("formula", "density and specific heat of the coolant"),
        HEATER_TEMPERATURE.giving("fallback", "coolant of 80 °C"),
    ],
)
def core_heat(build: Build) -> float:
    """Heat that the heater core can move into the coldest air."""
    feed, outside = heater_feed(build), build.build.design.ambient_min
    hot, cold = heater_rates(build)
    return heat_exchangers.heat_flow(build.plumbing.cooling.heater.effectiveness, hot, cold, feed, outside)


def heater_feed(build: Build) -> float:
    """Temperature of the coolant at the heater, K."""
    return or_practice(lambda: build.plumbing.cooling.heater.coolant_temp, COOLANT_TEMPERATURE)


def heater_rates(build: Build) -> tuple[float, float]:
    """Capacity rates of the heater's coolant and of its air on the coldest day, W/K."""
    heater = build.plumbing.cooling.heater
    hot = coolant.capacity_rate(heater.coolant_flow, build.plumbing.cooling.coolant.glycol, heater_feed(build))
    density = atmosphere.air_density(SEA_LEVEL_PRESSURE, build.build.design.ambient_min)
    return hot, heat_exchangers.capacity_rate(density * heater.air_flow, AIR_SPECIFIC_HEAT)


@quantity(
    "chassis.idle-heat",
    "power",
    "kW",
    formula="as the engine's data sheet states it, else a share of the swept volume",
    sources=[
        sheet("engine.heat.idle.coolant").giving("formula", "heat of the idling engine"),
        IDLE_HEAT_PRACTICE.giving("fallback", "0.8 kW per litre of swept volume"),
    ],
)
def idle_heat(build: Build) -> float:
    """Heat that the idling engine gives to its coolant."""
    stated = given(lambda: build.engine.heat.idle.coolant)
    if stated is not None:
        return stated
    return or_practice(lambda: build.engine.heat.idle.coolant, IDLE_HEAT) * build.engine.displacement


@quantity(
    "chassis.cab-heat",
    "power",
    "kW",
    formula="the smaller of chassis.heater-core and (chassis.idle-heat + auxiliary heat)",
    sources=[sources.HEAT_TRANSFER.giving("formula", "heat that the heater core gives off")],
)
def cab_heat(build: Build) -> float:
    """Heat that reaches the cab at idle on the coldest day."""
    auxiliary = given(lambda: build.plumbing.cooling.heater.aux_power) or 0.0
    return min(core_heat(build), idle_heat(build) + auxiliary)


@quantity(
    "chassis.refrigerant-flow-ratio",
    formula="(q·ratio·n)_new/(q·ratio·n)_old at cruise",
    sources=[sources.KINEMATICS.giving("formula", "turns of the compressor from those of the engine")],
)
def refrigerant_flow_ratio(build: Build) -> float:
    """Swept flow of the compressor at cruise over that before the swap."""
    compressor, old = build.plumbing.air_conditioning.compressor, build.plumbing.air_conditioning.original
    before = old.displacement * old.ratio * old.cruise_speed
    return compressor.displacement * compressor.ratio * cruise_speed_engine(build) / before


@quantity(
    "chassis.condenser-heat",
    "power",
    "kW",
    formula="Q = cooling power + compressor power",
    symbols={
        "cooling power": "plumbing.air_conditioning.cooling_power",
        "compressor power": "plumbing.air_conditioning.compressor.power",
    },
    sources=[practice("energy balance of a refrigerant circuit").giving("formula")],
)
def condenser_heat(build: Build) -> float:
    """Heat that the condenser must give off."""
    system = build.plumbing.air_conditioning
    return system.cooling_power + system.compressor.power
