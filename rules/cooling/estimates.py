"""Estimates of the cooling system: what a tape measure tells of a radiator's core and of a fan."""

from __future__ import annotations

import math

from swaplint.api import Build, OutsideRange, book, given, quantity
from swaplint.engineering import atmosphere, fans, radiators
from swaplint.spec.systems.cooling import RadiatorTest

from .. import sources
from .fan_quantities import turns

THROWN = book(
    "Electric cooling fans: the share of their power that is left in the air, and of their free flow behind a core",
    known="from memory",
)
BLADES = book("Flow coefficients of cooling fans with a shroud", known="from memory")
CORE_AIR = atmosphere.air_density(atmosphere.SEA_LEVEL_PRESSURE, 303.15)
"""Air of 30 °C, kg/m³, for which the fit of a core was made."""
PHI = 0.15
"""Flow of a fan with a shroud behind a core over the area of its blades and the speed of their tips: 0.10 to 0.20."""
LEFT_IN_AIR = 0.30
"""Power of the thrown air over that from the wires of an electric fan."""
FREE_OVER_REAL = 2.25
"""Flow of a fan in free air over that behind a core: 2 to 2.5."""


@quantity(
    "cooling.conductance-of-core",
    "power_per_temperature",
    "kW/K",
    formula="UA = 4.4 kW/(m²·K) · face · (depth/32 mm)^0.80 · (fins per inch/14)^0.83 · (air speed/4 m/s)^0.41",
    sources=[sources.LOUVRED.giving("formula", "conductance of brazed aluminium cores, coolant turbulent")],
    stands_in_for="plumbing.cooling.radiator.tests.*.ua",
    tolerance=0.6,
    example={"plumbing.cooling.radiator.tests.tested.air_flow": "1.1 kg/s"},
)
def conductance_of_core(build: Build, test: RadiatorTest) -> float:
    """Estimate the conductance of the radiator from the size of its core and its fins."""
    core = build.plumbing.cooling.radiator.core
    if core.kind != "aluminium-slit-fins":
        raise OutsideRange("plain fins of copper and brass are known too poorly")
    face = core.width * core.height
    return radiators.core_conductance(face, core.depth, core.fins_per_inch, test.air_flow / (CORE_AIR * face))


def _fans(build: Build) -> float:
    """How many fans stand side by side; one where that is not stated, which is the least air."""
    return given(lambda: build.plumbing.cooling.fan.side_by_side) or 1.0


def _air_by_fan(build: Build, speed: float) -> float:
    """Mass flow of air, kg/s, that the fan moves by itself at an engine speed, at sea level on the hottest day."""
    air = atmosphere.air_density(atmosphere.SEA_LEVEL_PRESSURE, build.build.design.ambient_max)
    return air * _fans(build) * fans.flow_by_size(build.plumbing.cooling.fan.diameter, speed * turns(build), PHI)


_FORMULA = "ṁ = N · ρ · 0.15 · (π/4)·D² · π·D·n, 0.10 to 0.20 behind a core and with a shroud"


@quantity(
    "cooling.air-by-fan-standing",
    "mass_flow",
    "kg/s",
    formula=_FORMULA,
    sources=[BLADES.giving("formula", "0.10 to 0.20 of area times tip speed")],
    stands_in_for="plumbing.cooling.air.standing.flow",
    tolerance=0.7,
)
def air_by_fan_standing(build: Build) -> float:
    """Estimate the air in standing work from the fan's diameter and speed."""
    return _air_by_fan(build, build.build.duty.stationary_speed)


@quantity(
    "cooling.air-by-fan-rated",
    "mass_flow",
    "kg/s",
    formula=f"{_FORMULA}; only where the fan alone moves it",
    sources=[BLADES.giving("formula", "0.10 to 0.20 of area times tip speed")],
    stands_in_for="plumbing.cooling.air.rated.flow",
    tolerance=0.7,
    example={"plumbing.cooling.air.rated.fan_only": True},
)
def air_by_fan_rated(build: Build) -> float:
    """Estimate the air at rated speed from the fan's diameter and speed, where it alone moves it."""
    if not build.plumbing.cooling.air.rated.fan_only:
        raise OutsideRange("the wind of driving is not known")
    return _air_by_fan(build, build.engine.speed.rated)


def _air_by_motor(build: Build) -> float:
    """Mass flow of air, kg/s, that an electric fan moves by itself, at sea level on the hottest day."""
    fan = build.plumbing.cooling.fan
    if fan.drive != "electric":
        raise OutsideRange("only the motor of an electric fan tells of its power")
    # several circles have the area of one of √N times the diameter, and share the power as they share the area
    across, load = fan.diameter * math.sqrt(_fans(build)), build.electrics.loads.get(str(fan.load))
    air = atmosphere.air_density(atmosphere.SEA_LEVEL_PRESSURE, build.build.design.ambient_max)
    if load is None:
        raise OutsideRange("the electrics list no such consumer as the fan")
    free = fans.free_flow_by_power(load.voltage * load.current, across, LEFT_IN_AIR, air)
    return air * free / FREE_OVER_REAL


_BY_MOTOR = "ṁ = ρ · A · (2·0.30·U·I/(ρ·A))^⅓/2.25, A = N · (π/4)·D², behind a core 2 to 2.5 times less"
_ELECTRIC = {"plumbing.cooling.fan.drive": "electric", "plumbing.cooling.fan.load": "fan"}


@quantity(
    "cooling.air-by-motor-standing",
    "mass_flow",
    "kg/s",
    formula=_BY_MOTOR,
    sources=[THROWN.giving("formula", "0.30 of the power, and 2 to 2.5 times the flow")],
    stands_in_for="plumbing.cooling.air.standing.flow",
    tolerance=0.65,
    example=_ELECTRIC,
)
def air_by_motor_standing(build: Build) -> float:
    """Estimate the air in standing work from an electric fan's diameter and the power that it takes."""
    return _air_by_motor(build)


@quantity(
    "cooling.air-by-motor-rated",
    "mass_flow",
    "kg/s",
    formula=f"{_BY_MOTOR}; only where the fan alone moves it",
    sources=[THROWN.giving("formula", "0.30 of the power, and 2 to 2.5 times the flow")],
    stands_in_for="plumbing.cooling.air.rated.flow",
    tolerance=0.65,
    example={**_ELECTRIC, "plumbing.cooling.air.rated.fan_only": True},
)
def air_by_motor_rated(build: Build) -> float:
    """Estimate the air at rated speed from an electric fan's size and power, where it alone moves it."""
    if not build.plumbing.cooling.air.rated.fan_only:
        raise OutsideRange("the wind of driving is not known")
    return _air_by_motor(build)
