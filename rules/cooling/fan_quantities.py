"""Derived numbers of the fan: its speed, the air that it moves, and the coolant of an engine that idles in a queue."""

from __future__ import annotations

from swaplint.api import (
    Build,
    OutsideRange,
    Practice,
    each_of,
    given,
    is_fitted,
    name_of,
    or_practice,
    part_named,
    practice,
    quantity,
    sheet,
)
from swaplint.engineering import atmosphere, cooling_system, fans, heat_exchangers
from swaplint.engineering.cooling_system import AIR_SPECIFIC_HEAT
from swaplint.spec.systems.cooling import AirResistance, HeatPoint

from .. import sources
from ..chassis.cab_quantities import condenser_heat
from ..needed import needed
from ..places import hottest_air
from . import heat_quantities as heat
from . import pump
from .points import engine_speed, fan_points


def turns(build: Build) -> float:
    """Turns of a fan that the engine drives, for one turn of the engine."""
    fan = build.plumbing.cooling.fan
    if fan.drive == "electric":
        raise OutsideRange("an electric fan has a speed of its own")
    return fan.ratio * (1.0 - (fan.slip if fan.drive == "viscous" else 0.0))


@quantity(
    "cooling.fan-speed",
    "rotation",
    "r/min",
    formula="n_fan = n_engine · ratio · (1 − slip)",
    sources=[sources.KINEMATICS.giving("formula")],
    each=fan_points,
)
def fan_speed(build: Build, point: HeatPoint) -> float:
    """Speed of a fan that the engine drives."""
    return engine_speed(build, point) * turns(build)


def _driven_by_engine(build: Build) -> list[tuple[()]]:
    return [()] if given(lambda: build.plumbing.cooling.fan.drive != "electric") else []


@quantity(
    "cooling.fan-speed-max",
    "rotation",
    "r/min",
    formula="n_fan = n_overspeed · ratio of a rigid drive, n_governed · ratio · (1 − slip) of a viscous coupling",
    sources=[
        sheet("engine.speed.overspeed_max").giving("limit", "highest speed of the engine"),
        sources.KINEMATICS.giving("formula", "turns of the fan from those of the engine"),
    ],
    each=_driven_by_engine,
)
def fan_speed_max(build: Build) -> float:
    """Highest speed that the engine drives the fan to."""
    speeds = build.engine.speed
    rigid = build.plumbing.cooling.fan.drive == "engine"
    return (speeds.overspeed_max if rigid else speeds.governed_max) * turns(build)


def in_the_way(build: Build) -> list[AirResistance]:
    """All that the cooling air passes; what must stand in its way and is not listed is asked for."""
    path, listed = "plumbing.cooling.air_path", build.plumbing.cooling.air_path
    fitted = [part for part in each_of(listed) if is_fitted(part)]
    if not fitted:
        return needed(build, path, fitted)
    counted = {what for part in fitted for what in given(lambda part=part: part.stands_for) or [_plain(name_of(part))]}  # type: ignore[misc]
    for what in _must_pass(build):
        name = what.replace("-", "_")
        if what in counted or (what == "grille" and name in listed):  # a vehicle may say that it has none
            continue
        if name in listed:
            raise OutsideRange(f"{path}.{name} says that there is none, and the air of the radiator passes one")
        float(part_named(build.plumbing.cooling, "air_path", name).drop)
    return fitted


def _plain(name: str) -> str:
    return name.replace("_", "-").lower()


def _must_pass(build: Build) -> list[str]:
    """What the air of every radiator passes, and what this build has in front of it besides."""
    cooler, conditioning = build.plumbing.cooling.charge_cooler, build.plumbing.air_conditioning
    found = ["core", "grille"]
    if given(lambda: build.engine.charged) is not False and is_fitted(cooler) and cooler.place == "before-radiator":
        found.append("charge-cooler")
    if is_fitted(conditioning) and conditioning.condenser_place == "before-radiator":
        found.append("condenser")
    return found


def with_another(build: Build) -> bool:
    """Whether the spec says that a second fan works beside the first."""
    return given(lambda: is_fitted(build.plumbing.cooling.second_fan)) is True


def _moved(build: Build, engine: float) -> float:
    """Air, kg/s, that the fan moves at an engine speed, rad/s; of two unlike ones what is stated of both at idle."""
    if with_another(build):
        together = given(lambda: build.plumbing.cooling.second_fan.air)
        if together is None:
            raise OutsideRange(
                "two unlike fans work on one core, and two curves do not tell what they move together: measure it with "
                "the engine idling, into plumbing.cooling.second_fan.air"
            )
        return together
    path = in_the_way(build)
    fan = build.plumbing.cooling.fan
    electric = fan.drive == "electric"
    ratio = fan.motor_voltage / fan.curve_voltage if electric else engine * turns(build) / fan.curve_speed
    resistance = sum(fans.resistance_coefficient(part.drop, part.flow) for part in path)
    curve = [(float(p.flow), float(p.pressure)) for p in fan.curve]
    # Air of another density changes both pressures alike, so the volume moved stays the same.
    flow = fans.operating_point(fans.curve_at(curve, ratio), resistance).flow
    return flow * atmosphere.air_density(atmosphere.SEA_LEVEL_PRESSURE, hottest_air(build))


AIR_SOURCES = [
    sources.FAN_LAWS.giving("formula", "flow with the fan's speed, pressure with its square"),
    sheet("plumbing.cooling.fan.curve").giving("formula", "pressure of the fan over its flow"),
    sources.STANDARD_ATMOSPHERE.giving("formula", "air pressure at sea level"),
]


@quantity(
    "cooling.fan-air",
    "mass_flow",
    "kg/s",
    formula="fan curve, carried to the fan's speed (V̇ ∝ n, Δp ∝ n²; an electric fan's n ∝ U), against Δp = Σk·V̇², "
    "times the air's density on the hottest day at sea level",
    sources=AIR_SOURCES,
    each=fan_points,
)
def fan_air(build: Build, point: HeatPoint) -> float:
    """Air that the fan moves through core and grille."""
    return _moved(build, engine_speed(build, point))


# -- idling in a queue -------------------------------------------------------------------------------------------------
COMPRESSOR_SHARE = 0.65
"""Share of the compressor's power that the engine gives to its coolant besides, as of standing work."""


IDLE_HEAT = Practice(
    "idle heat of at most 2 kW per litre of swept volume",
    2e6,
    practice("a warm idling diesel gives its coolant 0.5 to 1 kW per litre of swept volume, a petrol engine up to 2"),
)


def idle_heat(build: Build) -> float:
    """Heat, W, that the idling engine gives to its coolant: as stated, else the most that is usual."""
    stated = given(lambda: build.engine.heat.idle.coolant)
    if stated is not None:
        return stated
    return or_practice(lambda: build.engine.heat.idle.coolant, IDLE_HEAT) * build.engine.displacement


def idle_air_stated(build: Build) -> bool:
    """Whether the spec itself states the air through the core of the idling vehicle."""
    return given(lambda: build.plumbing.cooling.air.idle.flow) is not None


@quantity(
    "cooling.idle-air",
    "mass_flow",
    "kg/s",
    formula="as stated, else as cooling.fan-air with the engine at idle",
    sources=AIR_SOURCES,
)
def idle_air(build: Build) -> float:
    """Air through the radiator of the vehicle that idles in a queue, on the hottest day at sea level."""
    if idle_air_stated(build):
        return build.plumbing.cooling.air.idle.flow
    return _moved(build, build.engine.speed.idle)


class TooLittleAir(OutsideRange):
    """So little air passes that the laws of the radiator do not reach; `least` is the rise, K, of the best of cores."""

    def __init__(self, least: float, why: str) -> None:
        """Keep the least rise beside the reason."""
        super().__init__(why)
        self.least = least


def idle_rise(build: Build, altitude: float, *, conditioned: bool) -> float:
    """Rise of the hottest coolant over the outside air, K, at idle in a queue, with or without air conditioning."""
    system = build.plumbing.air_conditioning
    to_coolant: float = idle_heat(build)
    in_front: float = given(lambda: build.engine.heat.idle.charge_air) or 0.0
    if conditioned:
        to_coolant += COMPRESSOR_SHARE * system.compressor.power
        in_front += condenser_heat(build) if system.condenser_place == "before-radiator" else 0.0
    thin = atmosphere.standard_pressure(altitude) / atmosphere.SEA_LEVEL_PRESSURE
    air, flow = idle_air(build) * thin, pump.flow_at(build, build.engine.speed.idle)
    try:
        at = heat.working_with(build, air, flow)
    except OutsideRange as outside:
        # Air cannot take up more than warms it to the coolant, however large the core.
        least = (in_front + to_coolant) / heat_exchangers.capacity_rate(air, AIR_SPECIFIC_HEAT)
        raise TooLittleAir(least, str(outside)) from outside
    any_ambient = 300.0
    top = cooling_system.top_tank_temperature(
        any_ambient, to_coolant, at.effectiveness, at.coolant_rate, at.air_rate, in_front
    )
    return top - any_ambient


IDLE_FORMULA = "ΔT = Q_stacked/C_air + Q/(ε·C_min), with the air and the coolant that pass at idle"


@quantity(
    "cooling.idle-rise",
    "temperature_difference",
    "K",
    formula=IDLE_FORMULA,
    sources=[*AIR_SOURCES, sources.COMPACT_HEAT_EXCHANGERS.giving("formula", "rise by effectiveness")],
)
def rise_idling(build: Build) -> float:
    """Rise of the hottest coolant over the outside air at idle in a queue, sea level."""
    return idle_rise(build, 0.0, conditioned=False)


def _conditioned(build: Build) -> list[tuple[()]]:
    return [()] if given(lambda: is_fitted(build.plumbing.air_conditioning)) else []


@quantity(
    "cooling.idle-rise-conditioned",
    "temperature_difference",
    "K",
    formula=IDLE_FORMULA + "; the condenser's heat in Q_stacked where it stands in front, 65 % of the compressor's "
    "power in Q",
    sources=[
        *AIR_SOURCES,
        sources.COMPACT_HEAT_EXCHANGERS.giving("formula", "rise by effectiveness"),
        heat.HEAT_SHARE.giving("formula", "65 % of the compressor's power to the coolant"),
    ],
    each=_conditioned,
)
def rise_idling_conditioned(build: Build) -> float:
    """The same with the air conditioning at work."""
    return idle_rise(build, 0.0, conditioned=True)
