"""Derived numbers of the charge-air cooler."""

from __future__ import annotations

from swaplint.api import Build, ImpossibleInput, OutsideRange, given, is_fitted, quantity, sheet
from swaplint.engineering import cooling_system
from swaplint.engineering.cooling_system import AIR_SPECIFIC_HEAT

from .. import sources
from ..places import hottest_air


@quantity(
    "cooling.charge-inlet",
    "temperature",
    "degC",
    formula="T = T_stated · T_ambient/T_stated at, absolute temperatures: at one pressure ratio the compressor's rise "
    "grows with the temperature of its inlet",
    sources=[
        sheet("engine.charge_air.compressor_outlet").giving(
            "formula", "air behind the compressor, and at what outside air"
        ),
        sources.ENGINES.giving("formula", "rise in a compressor over its inlet temperature"),
    ],
)
def charge_inlet(build: Build) -> float:
    """Charge air that reaches the cooler at rated speed on the hottest day."""
    return charge_inlet_in(build, hottest_air(build))


def charge_inlet_in(build: Build, ambient: float) -> float:
    """Charge air, K, that reaches the cooler at rated speed in outside air of a temperature, K."""
    charge = build.engine.charge_air
    return charge.compressor_outlet * ambient / charge.stated_at


WATER = ("engine-coolant", "own-water")
"""Where the charge-air cooler is cooled by water."""


def water_cooled(build: Build) -> bool:
    """Whether water, and not air, cools the charge air."""
    cooler = build.plumbing.cooling.charge_cooler
    return is_fitted(cooler) and cooler.place in WATER


def cold_side(build: Build) -> float:
    """What cools the charge air, as it enters the cooler on the hottest day, K."""
    return _cold_side_in(build, hottest_air(build))


def _cold_side_in(build: Build, ambient: float) -> float:
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
    sources=[sources.COMPACT_HEAT_EXCHANGERS.giving("formula")],
)
def charge_outlet(build: Build) -> float:
    """Air in the manifold at rated speed on the hottest day."""
    return charge_outlet_in(build, hottest_air(build))


def charge_outlet_in(build: Build, ambient: float) -> float:
    """Air, K, in the manifold at rated speed in outside air of a temperature, K."""
    cooler, hot = build.plumbing.cooling.charge_cooler, charge_inlet_in(build, ambient)
    cold = _cold_side_in(build, ambient)
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
    symbols={"T_out": "cooling.charge-outlet", "T_ambient": "build.design.ambient_max"},
    sources=[sources.COOLING_TRIALS.giving("formula")],
)
def charge_rise(build: Build) -> float:
    """Rise of the manifold air over the outside air."""
    return charge_outlet(build) - hottest_air(build)


@quantity(
    "cooling.charge-drop",
    "pressure_difference",
    "kPa",
    formula="Δp = cooler + pipes, at rated air flow",
    symbols={
        "cooler": "plumbing.cooling.charge_cooler.drop",
        "pipes": "plumbing.cooling.charge_cooler.pipes_drop",
    },
    sources=[sheet("plumbing.cooling.charge_cooler.drop").giving("formula", "drop of the cooler at rated air flow")],
)
def charge_drop(build: Build) -> float:
    """Pressure lost between turbocharger and manifold."""
    cooler = build.plumbing.cooling.charge_cooler
    return cooler.drop + cooler.pipes_drop
