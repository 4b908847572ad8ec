"""Derived numbers of the fuel system: the pressure budget of its lines first."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from typing import Any

from swaplint.api import (
    Build,
    ImpossibleInput,
    Practice,
    book,
    given,
    is_fitted,
    or_practice,
    practice,
    quantity,
    sheet,
    shown,
    use_practice,
)
from swaplint.engineering import curves, liquids, pipes

from .. import sources
from ..streams import streams

WARM, COLD = "warm", "cold"
WARM_FUEL = 313.15
"""Temperature of warm fuel, K: 40 °C, at which EN 590 states the viscosity of diesel fuel."""
LOW_VOLTAGE_SHARE = 11.5 / 12.0
"""Voltage at a pump on a bad day over the nominal voltage: 11.5 V in a 12 V system, common practice."""

DIESEL_VISCOSITY = Practice(
    "diesel viscosity 14 mm²/s at -15 °C, 8.5 at 0 °C, 4.6 at 20 °C, with 30 % either way",
    14e-6,
    practice("viscosity of a middling winter diesel fuel"),
)
PETROL_VISCOSITY = Practice(
    "petrol viscosity 0.6 mm²/s", liquids.PETROL_VISCOSITY_20C, practice("viscosity of a middling petrol")
)
DIESEL_DENSITY = Practice("diesel density 832 kg/m³ at 15 °C", 832.0, sources.DIESEL_GRADES)
PETROL_DENSITY = Practice("petrol density 745 kg/m³ at 15 °C", liquids.PETROL_DENSITY_15C, sources.PETROL_GRADES)
ETHANOL_HEAT = book(
    "US Department of Energy, heating values of petrol, E85 and ethanol, by volume", known="second-hand"
)
ORDINARY_ETHANOL = 0.10
"""Share of ethanol that ordinary petrol may hold, and petrol systems of ordinary make take: E10."""
MARGIN_DIESEL = Practice(
    "feed pump flow of 1.2 times the engine's supply flow (diesel)", 1.2, practice("margin of a diesel feed pump")
)
MARGIN_PETROL = Practice(
    "feed pump flow of 1.3 times the burn at full load (petrol)", 1.3, practice("margin of a petrol feed pump")
)


def fuel_cases(build: Build) -> Iterable[str]:
    """The two states of the fuel that the lines are judged in."""
    return (WARM, COLD)


def is_diesel(build: Build) -> bool:
    """Whether the new engine burns diesel."""
    return build.engine.fuel_type == "diesel"


def shown_amply(value: float, kind: str, unit: str) -> str:
    """A number to order by, in four digits: never less than what is needed, and a thousandth more at most.

    >>> shown_amply(47.7149 / 3.6e6, "volume_flow", "L/h")
    '47.74 L/h'
    """
    return shown(1.0005 * value, kind, unit)


# -- the fuel ---------------------------------------------------------------------------------------------------------
@quantity(
    "fuel.temperature",
    "temperature",
    "degC",
    formula="warm: 40 °C; cold: the coldest air that the vehicle must start in",
    sources=[sources.DIESEL_GRADES.giving("formula", "40 °C, at which viscosity is stated")],
    each=fuel_cases,
)
def fuel_temperature(build: Build, case: str) -> float:
    """Temperature of the fuel in the lines."""
    return WARM_FUEL if case == WARM else build.build.design.ambient_min


@quantity(
    "fuel.density",
    "density",
    "kg/m3",
    formula="ρ = ρ15·exp(-α·ΔT·(1 + 0.8·α·ΔT)), ΔT from 15 °C",
    sources=[
        sources.DENSITY_TABLES.giving("formula", "density over temperature"),
        DIESEL_DENSITY.cited,
        PETROL_DENSITY.cited,
    ],
    each=fuel_cases,
)
def density(build: Build, case: str) -> float:
    """Density of the fuel in the lines."""
    return density_at(build, fuel_temperature(build, case))


def density_at(build: Build, temperature: float) -> float:
    """The same, kg/m³, at a temperature, K."""
    fallback = DIESEL_DENSITY if is_diesel(build) else PETROL_DENSITY
    return liquids.density_at(temperature, or_practice(lambda: build.plumbing.fuel.grade.density, fallback))


@quantity(
    "fuel.viscosity",
    "kinematic_viscosity",
    "mm2/s",
    formula="log log Z straight in log T between the nearest points of the viscosity line (Walther), Z ≈ ν + 0.7",
    sources=[sources.VISCOSITY_LINE.giving("formula")],
    each=fuel_cases,
)
def viscosity(build: Build, case: str) -> float:
    """Kinematic viscosity of the fuel in the lines."""
    return viscosity_at(build, fuel_temperature(build, case))


def viscosity_at(build: Build, temperature: float) -> float:
    """The same, m²/s, at a temperature, K."""
    stated = given(lambda: build.plumbing.fuel.grade.viscosity)
    if stated is not None:
        points = [(float(point.temperature), float(point.viscosity)) for point in stated]
        return liquids.viscosity_from_points(temperature, points)
    if is_diesel(build):
        use_practice(build, DIESEL_VISCOSITY)
        return liquids.viscosity_from_points(temperature, liquids.DIESEL_VISCOSITY_POINTS)
    return use_practice(build, PETROL_VISCOSITY)


# -- the supply line --------------------------------------------------------------------------------------------------
def supply_flow(build: Build) -> float:
    """Flow through the supply line, m³/s. What the engine burns and what it sends back have both come through it."""
    wants = build.engine.fuel
    flow: float = wants.supply_flow
    for what, least in (("burn", given(lambda: wants.burn)), ("send back", given(lambda: wants.return_flow))):
        if least is not None and least > flow:
            through, needs = shown(flow, "volume_flow", "L/h"), shown(least, "volume_flow", "L/h")
            raise ImpossibleInput(f"the engine is said to draw {through} of fuel and to {what} {needs}")
    return flow


@quantity(
    "fuel.supply-velocity",
    "speed",
    "m/s",
    formula="v = Q/(π/4·D²)",
    symbols={"Q": "engine.fuel.supply_flow", "D": "plumbing.fuel.supply.bore"},
    sources=[sources.PIPE_FLOW.giving("formula")],
)
def supply_velocity(build: Build) -> float:
    """Velocity in the supply line at the engine's supply flow."""
    return pipes.mean_velocity(supply_flow(build), build.plumbing.fuel.supply.bore)


@quantity(
    "fuel.supply-reynolds",
    formula="Re = v·D/ν; below 2000 the flow is laminar",
    symbols={"v": "fuel.supply-velocity", "D": "plumbing.fuel.supply.bore", "ν": "fuel.viscosity"},
    sources=[sources.PIPE_FLOW.giving("formula")],
    each=fuel_cases,
)
def supply_reynolds(build: Build, case: str) -> float:
    """Reynolds number in the supply line."""
    return pipes.reynolds_number(supply_velocity(build), build.plumbing.fuel.supply.bore, viscosity(build, case))


@quantity(
    "fuel.supply-friction",
    "pressure_difference",
    "kPa",
    formula="Δp = f·L/D·ρ·v²/2, f = 64/Re when laminar, else Colebrook-White",
    symbols={"L": "plumbing.fuel.supply.length", "D": "plumbing.fuel.supply.bore", "ρ": "fuel.density"},
    sources=[sources.PIPE_FLOW.giving("formula")],
    each=fuel_cases,
)
def supply_friction(build: Build, case: str) -> float:
    """Wall friction of the supply line."""
    line = build.plumbing.fuel.supply
    return pipes.friction_loss(
        flow=supply_flow(build),
        bore=line.bore,
        length=line.length,
        density=density(build, case),
        kinematic_viscosity=viscosity(build, case),
    )


@quantity(
    "fuel.supply-fittings",
    "pressure_difference",
    "kPa",
    formula="Δp = ΣK·ρ·v²/2",
    symbols={"ΣK": "plumbing.fuel.supply.fittings_k", "ρ": "fuel.density"},
    sources=[
        sources.PIPE_FLOW.giving("formula", "mean speed in the bore"),
        sources.FITTINGS.giving("formula", "pressure loss of bends and fittings"),
    ],
    each=fuel_cases,
)
def supply_fittings(build: Build, case: str) -> float:
    """Loss of the fittings of the supply line."""
    line = build.plumbing.fuel.supply
    return pipes.fittings_loss(
        flow=supply_flow(build),
        bore=line.bore,
        density=density(build, case),
        loss_coefficient=line.fittings_k,
    )


@quantity(
    "fuel.supply-lift",
    "pressure_difference",
    "kPa",
    formula="Δp = ρ·g·h, from the lowest fuel level up to the engine's fuel inlet",
    symbols={"ρ": "fuel.density", "h": "plumbing.fuel.supply.lift"},
    sources=[sources.PIPE_FLOW.giving("formula")],
    each=fuel_cases,
)
def supply_lift(build: Build, case: str) -> float:
    """Pressure that raising the fuel takes."""
    return pipes.lift_pressure(build.plumbing.fuel.supply.lift, density(build, case))


@quantity(
    "fuel.filter-drop",
    "pressure_difference",
    "kPa",
    formula="sum over the filters ahead of the engine's inlet, due to be changed; cold as stated, "
    "else warm drop · μ_cold/μ_warm (Darcy); alike filters side by side share the flow, and the drop goes with it",
    sources=[
        sheet("plumbing.fuel.filters.primary.drop_dirty").giving(
            "formula", "drop of a filter that is due to be changed"
        ),
        sources.POROUS_FLOW.giving("formula", "drop with the viscosity of the fuel"),
    ],
    each=fuel_cases,
)
def filter_drop(build: Build, case: str) -> float:
    """Pressure that the filters ahead of the engine's fuel inlet take."""
    elements = [element for element in build.plumbing.fuel.filters.values() if is_fitted(element)]
    return sum(_drop_of(build, element, case) for element in elements if element.place != "engine")


def _drop_of(build: Build, element: Any, case: str) -> float:
    warm: float = element.drop_dirty / streams(element)
    if case == WARM:
        return warm
    stated = given(lambda: element.drop_cold)
    if stated is not None:
        return float(stated) / streams(element)
    warm_mu, cold_mu = (density(build, c) * viscosity(build, c) for c in (WARM, COLD))
    return pipes.porous_drop(warm, warm_mu, cold_mu)


@quantity(
    "fuel.supply-loss",
    "pressure_difference",
    "kPa",
    formula="friction + fittings + lift + filters",
    symbols={
        "friction": "fuel.supply-friction",
        "fittings": "fuel.supply-fittings",
        "lift": "fuel.supply-lift",
        "filters": "fuel.filter-drop",
    },
    sources=[sources.PIPE_FLOW.giving("formula", "losses in a row add up")],
    each=fuel_cases,
)
def supply_loss(build: Build, case: str) -> float:
    """Pressure lost between the fuel in the tank and the engine's fuel inlet."""
    return (
        supply_friction(build, case)
        + supply_fittings(build, case)
        + supply_lift(build, case)
        + filter_drop(build, case)
    )


def sucks(build: Build) -> bool:
    """Whether the engine's own pump draws the fuel from the tank with no pump ahead of it."""
    return build.engine.fuel.feed == "suction" and not is_fitted(build.plumbing.fuel.pump)


@quantity(
    "fuel.suction-loss",
    "pressure_difference",
    "kPa",
    formula="the greater of fuel.supply-loss warm and cold",
    sources=[sources.PIPE_FLOW.giving("formula", "losses in a row add up")],
    each=lambda build: [()] if sucks(build) else [],
)
def suction_pressure_loss(build: Build) -> float:
    """Depression at the engine's fuel inlet."""
    return max(supply_loss(build, case) for case in (WARM, COLD))


def pump_sucks(build: Build) -> bool:
    """Whether a pump at the engine's end of the line draws the fuel from the tank through it."""
    pump = build.plumbing.fuel.pump
    if not is_fitted(pump) or pump.kind == "in-tank-electric":
        return False
    return bool(pump.kind == "mechanical" or pump.place == "engine-space")


def loss_ahead_of_pump(build: Build) -> float:
    """Pressure that line, lift and the filters ahead of a pump at the engine take of warm fuel, Pa."""
    return loss_ahead_by_bore(build)(build.plumbing.fuel.supply.bore)


def loss_ahead_by_bore(build: Build) -> Callable[[float], float]:
    """The same in another bore [m]: for naming the bore that would pass."""
    elements = [element for element in build.plumbing.fuel.filters.values() if is_fitted(element)]
    return _by_bore(build, WARM, sum(_drop_of(build, one, WARM) for one in elements if one.place == "suction"))


def loss_by_bore(build: Build, case: str) -> Callable[[float], float]:
    """What fuel.supply-loss would be in another bore [m], warm or cold: for naming the bore that would pass."""
    return _by_bore(build, case, filter_drop(build, case))


def _by_bore(build: Build, case: str, filters: float) -> Callable[[float], float]:
    line = build.plumbing.fuel.supply
    loss = partial(
        pipes.pressure_loss,
        flow=supply_flow(build),
        length=line.length,
        density=density(build, case),
        kinematic_viscosity=viscosity(build, case),
        loss_coefficient=line.fittings_k,
        lift=line.lift,
    )
    return lambda bore: filters + loss(bore=bore)


# -- the feed pump ----------------------------------------------------------------------------------------------------
def pumps_asked_for(build: Build) -> list[tuple[()]]:
    """One empty tuple where a feed pump is fitted or needed, for the quantities that only then mean something."""
    wants = build.engine.fuel
    asked = wants.feed == "pressure" or wants.feed_pump == "required" or is_fitted(build.plumbing.fuel.pump)
    return [()] if asked else []


@quantity(
    "fuel.feed-flow-needed",
    "volume_flow",
    "L/h",
    formula="margin · supply flow for a diesel, margin · burn at full load · n for a petrol engine, n the volume of "
    "petrol with more than 10 % of ethanol for the heat of petrol without",
    sources=[
        sheet("engine.fuel.feed_flow_margin").giving("formula", "margin over the flow that the engine takes"),
        ETHANOL_HEAT.giving("formula", "heat of petrol with and without ethanol, by volume"),
    ],
    each=pumps_asked_for,
)
def feed_flow_needed(build: Build) -> float:
    """Flow that a feed pump must be able to give."""
    wants, diesel = build.engine.fuel, is_diesel(build)
    margin = or_practice(lambda: wants.feed_flow_margin, MARGIN_DIESEL if diesel else MARGIN_PETROL)
    return margin * (supply_flow(build) if diesel else wants.burn * ethanol_factor(build))


def ethanol_factor(build: Build) -> float:
    """How much more of the petrol is burnt for its ethanol; 1 for ordinary petrol, which sheets speak of."""
    share = given(lambda: build.plumbing.fuel.grade.ethanol)
    return 1.0 if share is None or share <= ORDINARY_ETHANOL else liquids.ethanol_volume_factor(share)


@quantity(
    "fuel.feed-pressure-needed",
    "gauge_pressure",
    "kPa",
    formula="least feed pressure at the engine + the greater fuel.supply-loss",
    sources=[
        sheet("engine.fuel.inlet_pressure_min").giving("limit", "least feed pressure at the engine"),
        sources.PIPE_FLOW.giving("formula", "losses of the supply line"),
    ],
    each=pumps_asked_for,
)
def feed_pressure_needed(build: Build) -> float:
    """Pressure that a feed pump must hold at its outlet for the engine to get what it needs."""
    return build.engine.fuel.inlet_pressure_min + max(supply_loss(build, case) for case in (WARM, COLD))


@quantity(
    "fuel.feed-pressure",
    "gauge_pressure",
    "kPa",
    formula="pressure of the pump or its regulator - the greater fuel.supply-loss",
    sources=[sources.PIPE_FLOW.giving("formula", "losses of the supply line")],
    each=lambda build: [()] if is_fitted(build.plumbing.fuel.pump) else [],
)
def feed_pressure(build: Build) -> float:
    """Feed pressure that reaches the engine at full flow."""
    return build.plumbing.fuel.pump.pressure - max(supply_loss(build, case) for case in (WARM, COLD))


@quantity(
    "fuel.pump-flow",
    "volume_flow",
    "L/h",
    formula="flow at fuel.feed-pressure-needed, straight lines between the points of the curve; below its first "
    "pressure as there, beyond one at which it is 0 none; electric pumps times low voltage/voltage of the curve, with "
    "11.5 V low in a 12 V system",
    sources=[
        sheet("plumbing.fuel.pump.curve").giving("formula", "flow over pressure"),
        practice("the flow of an electric fuel pump goes with its voltage").giving("formula", "flow with the voltage"),
    ],
    each=lambda build: [()] if is_fitted(build.plumbing.fuel.pump) else [],
)
def pump_flow(build: Build) -> float:
    """Flow that the feed pump gives at the pressure that is needed, at low voltage."""
    pump = build.plumbing.fuel.pump
    points = curves.checked_curve([(float(point.pressure), float(point.flow)) for point in pump.curve], "kPa")
    needed = max(feed_pressure_needed(build), points[0][0])
    shut_off = next((pressure for pressure, flow in points if flow == 0.0), None)
    flow = 0.0 if shut_off is not None and needed >= shut_off else curves.interpolate(points, needed, "kPa")
    if pump.kind == "mechanical":
        return flow
    return flow * min(1.0, LOW_VOLTAGE_SHARE * build.electrics.nominal_voltage / pump.curve_voltage)


# -- the return line --------------------------------------------------------------------------------------------------
@quantity(
    "fuel.return-friction",
    "pressure_difference",
    "kPa",
    formula="as fuel.supply-friction, with the return flow in the return line",
    sources=[sources.PIPE_FLOW.giving("formula")],
    each=fuel_cases,
)
def return_friction(build: Build, case: str) -> float:
    """Wall friction of the return line."""
    line = build.plumbing.fuel.return_line
    return pipes.friction_loss(
        flow=build.engine.fuel.return_flow,
        bore=line.bore,
        length=line.length,
        density=density(build, case),
        kinematic_viscosity=viscosity(build, case),
    )


@quantity(
    "fuel.return-pressure",
    "pressure_difference",
    "kPa",
    formula="friction + ΣK·ρ·v²/2 + ρ·g·lift + check valve + cooler",
    sources=[
        sources.PIPE_FLOW.giving("formula", "friction and lift"),
        sources.FITTINGS.giving("formula", "pressure loss of bends and fittings"),
    ],
    each=fuel_cases,
)
def return_pressure(build: Build, case: str) -> float:
    """Pressure where fuel leaves the engine for the tank."""
    return return_by_bore(build, case)(build.plumbing.fuel.return_line.bore)


def return_by_bore(build: Build, case: str) -> Callable[[float], float]:
    """What fuel.return-pressure is in a bore [m], warm or cold: also for naming the bore that would pass."""
    line = build.plumbing.fuel.return_line
    cooler = build.plumbing.fuel.cooler.drop if is_fitted(build.plumbing.fuel.cooler) else 0.0
    others = line.check_valve_drop + cooler
    loss = partial(
        pipes.pressure_loss,
        flow=build.engine.fuel.return_flow,
        length=line.length,
        density=density(build, case),
        kinematic_viscosity=viscosity(build, case),
        loss_coefficient=line.fittings_k,
        lift=line.lift,
    )
    return lambda bore: loss(bore=bore) + others
