"""Derived numbers of the fan and of the charge-air cooler."""

from __future__ import annotations

from swaplint.api import Build, ImpossibleInput, OutsideRange, each_of, given, is_fitted, quantity, sheet
from swaplint.engineering import atmosphere, cooling_system, fans
from swaplint.engineering.cooling_system import AIR_SPECIFIC_HEAT
from swaplint.spec.systems.cooling import HeatPoint

from .. import sources
from .points import engine_speed, fan_points


# -- fan -------------------------------------------------------------------------------------------------------------
@quantity(
    "cooling.fan-speed",
    "rotation",
    "r/min",
    formula="n_fan = n_engine · ratio · (1 − slip)",
    sources=[sources.FAN_LAWS],
    each=fan_points,
)
def fan_speed(build: Build, point: HeatPoint) -> float:
    """Speed of a fan that the engine drives."""
    fan = build.plumbing.cooling.fan
    if fan.drive == "electric":
        raise OutsideRange("an electric fan has a speed of its own")
    slip = fan.slip if fan.drive == "viscous" else 0.0
    return engine_speed(build, point) * fan.ratio * (1.0 - slip)


def _speed_ratio(build: Build, point: HeatPoint) -> float:
    fan = build.plumbing.cooling.fan
    if fan.drive == "electric":
        return fan.motor_voltage / fan.curve_voltage
    return fan_speed(build, point) / fan.curve_speed


@quantity(
    "cooling.fan-air",
    "mass_flow",
    "kg/s",
    formula="fan curve, carried to the fan's speed (V̇ ∝ n, Δp ∝ n²; an electric fan's n ∝ U), against Δp = Σk·V̇², "
    "times the air's density on the hottest day at sea level",
    sources=[sources.FAN_LAWS, sheet("plumbing.cooling.fan.curve"), sources.STANDARD_ATMOSPHERE],
    each=fan_points,
)
def fan_air(build: Build, point: HeatPoint) -> float:
    """Air that the fan moves through core and grille."""
    path = [part for part in each_of(build.plumbing.cooling.air_path) if is_fitted(part)]
    if not path:
        raise ImpossibleInput("nothing is stated in the path of the air, and its resistance is never zero")
    resistance = sum(fans.resistance_coefficient(part.drop, part.flow) for part in path)
    curve = [(float(p.flow), float(p.pressure)) for p in build.plumbing.cooling.fan.curve]
    # Air of another density changes both pressures alike, so the volume moved stays the same.
    flow = fans.operating_point(fans.curve_at(curve, _speed_ratio(build, point)), resistance).flow
    return flow * atmosphere.air_density(atmosphere.SEA_LEVEL_PRESSURE, build.build.design.ambient_max)


# -- charge air ------------------------------------------------------------------------------------------------------
@quantity(
    "cooling.charge-inlet",
    "temperature",
    "degC",
    formula="T = T_stated · T_ambient/T_stated at, absolute temperatures: at one pressure ratio the compressor's rise "
    "grows with the temperature of its inlet",
    sources=[sheet("engine.charge_air.compressor_outlet"), sources.ENGINES],
)
def charge_inlet(build: Build) -> float:
    """Charge air that reaches the cooler at rated speed on the hottest day."""
    charge = build.engine.charge_air
    return charge.compressor_outlet * build.build.design.ambient_max / charge.stated_at


WATER = ("engine-coolant", "own-water")
"""Where the charge-air cooler is cooled by water."""


def water_cooled(build: Build) -> bool:
    """Whether water, and not air, cools the charge air."""
    cooler = build.plumbing.cooling.charge_cooler
    return is_fitted(cooler) and cooler.place in WATER


def cold_side(build: Build) -> float:
    """What cools the charge air, as it enters the cooler on the hottest day, K."""
    ambient = build.build.design.ambient_max
    if not water_cooled(build):
        return ambient
    water = build.plumbing.cooling.charge_cooler.water_temp
    if water < ambient:
        raise ImpossibleInput("the water that cools the charge air is stated as colder than the hottest air around it")
    return water


@quantity(
    "cooling.charge-outlet",
    "temperature",
    "degC",
    formula="T_out = T_in − ε·(T_in − T_cold), T_cold the outside air, or the water where water cools it; no fall "
    "without a cooler",
    sources=[sources.COMPACT_HEAT_EXCHANGERS],
)
def charge_outlet(build: Build) -> float:
    """Air in the manifold at rated speed on the hottest day."""
    cooler, hot, cold = build.plumbing.cooling.charge_cooler, charge_inlet(build), cold_side(build)
    reached = cooler.effectiveness if is_fitted(cooler) else 0.0
    out = cooling_system.charge_air_outlet(hot, cold, reached)
    if water_cooled(build):
        return out
    heat = given(lambda: build.engine.heat.rated.charge_air)
    air_flow = given(lambda: build.plumbing.cooling.air.rated.flow)
    if heat and air_flow is not None and hot > out and heat / (hot - out) > air_flow * AIR_SPECIFIC_HEAT:
        raise OutsideRange("the charge air has a greater capacity rate than the air that cools it")
    return out


@quantity(
    "cooling.charge-rise",
    "temperature_difference",
    "K",
    formula="T_out − T_ambient",
    sources=[sources.COOLING_TRIALS],
)
def charge_rise(build: Build) -> float:
    """Rise of the manifold air over the outside air."""
    return charge_outlet(build) - build.build.design.ambient_max


@quantity(
    "cooling.charge-drop",
    "pressure_difference",
    "kPa",
    formula="Δp = cooler + pipes, at rated air flow",
    sources=[sheet("plumbing.cooling.charge_cooler.drop")],
)
def charge_drop(build: Build) -> float:
    """Pressure lost between turbocharger and manifold."""
    cooler = build.plumbing.cooling.charge_cooler
    return cooler.drop + cooler.pipes_drop
