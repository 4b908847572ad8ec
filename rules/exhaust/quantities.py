"""Derived numbers of the exhaust: gas flow and speed, back pressure, growth, weight on the flange, reductant."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from swaplint.api import (
    Build,
    ImpossibleInput,
    Practice,
    each_of,
    given,
    is_fitted,
    once,
    or_practice,
    path_of,
    practice,
    quantity,
    sheet,
    use_practice,
)
from swaplint.engineering import atmosphere, exhausts, gas_flow
from swaplint.engineering.pipes import ROUGHNESS_COMMERCIAL_STEEL
from swaplint.spec.systems.exhaust import CertifiedDevice, ExhaustDevice, ExhaustPipe
from swaplint.spec.systems.mounts import Bridge

from .. import sources
from ..intake.quantities import altitude, cases
from ..mounts import movement as mounts
from ..mounts.quantities import vertical_shock
from ..needed import needed
from ..places import power_left
from ..streams import streams

SEA = atmosphere.SEA_LEVEL_PRESSURE

COLD = 293.15
"""A cold exhaust, K."""

SOLID = ("oxidation-catalyst", "three-way-catalyst", "particulate-filter", "selective-catalyst")
"""Devices of fine channels or pores."""

COOLING = practice(
    "exhaust gas loses 25 to 60 K for each metre of bare pipe, 10 to 20 K for each metre of insulated pipe"
)
LOSS_BARE, LOSS_INSULATED = 60.0, 20.0
"""K/m, the unfavourable ends of what is usual."""

REDUCTANT_SHARE = Practice(
    "reductant use of 6 % of the fuel (3 to 6 %)",
    0.06,
    practice("an engine uses 3 to 6 L of reductant for 100 L of fuel"),
    between=(0.03, 0.06),
)


@once
def pipes(build: Build) -> tuple[ExhaustPipe, ...]:
    """The runs of pipe that are fitted, in the order of the gas."""
    stated = [pipe for pipe in each_of(build.plumbing.exhaust.pipes) if is_fitted(pipe)]
    return tuple(needed(build, "plumbing.exhaust.pipes", stated))


def devices(build: Build) -> list[ExhaustDevice]:
    """The devices that are fitted. There is always one, a silencer at least."""
    stated = [device for device in each_of(build.plumbing.exhaust.devices) if is_fitted(device)]
    return needed(build, "plumbing.exhaust.devices", stated)


def filters(build: Build) -> list[CertifiedDevice]:
    """The particulate filters of the engine's certified aftertreatment."""
    return [d for d in each_of(build.engine.aftertreatment.devices) if d.kind == "particulate-filter"]


# -- gas --------------------------------------------------------------------------------------------------------------
@quantity(
    "exhaust.gas-flow",
    "mass_flow",
    "kg/s",
    formula="as the data sheet states it; at height times the share of power that the sheet leaves there",
    sources=[sheet("engine.exhaust.mass_flow").giving("formula", "gas at rated speed")],
    each=cases,
)
def gas_mass_flow(build: Build, case: str) -> float:
    """Exhaust gas at full load."""
    return build.engine.exhaust.mass_flow * power_left(build, altitude(build, case))


class Gas(NamedTuple):
    """The exhaust gas: its mass flow in kg/s, its temperature in K, and the pressure of the air outside in Pa."""

    flow: float
    temperature: float
    outside: float

    @property
    def density(self) -> float:
        """At outside pressure, kg/m³."""
        return self.density_at(self.outside)

    def density_at(self, pressure: float) -> float:
        """At some pressure [Pa], kg/m³; the gas is taken as air."""
        return atmosphere.air_density(pressure, self.temperature)


def gas_at(build: Build, case: str) -> Gas:
    """The gas at a place, at full load."""
    outside = atmosphere.standard_pressure(altitude(build, case))
    return Gas(gas_mass_flow(build, case), build.engine.exhaust.temp, outside)


def sea_level_gas(build: Build) -> Gas:
    """The gas at sea level, where the engine has all of its power."""
    exhaust = build.engine.exhaust
    return Gas(exhaust.mass_flow, exhaust.temp, atmosphere.SEA_LEVEL_PRESSURE)


@quantity(
    "exhaust.gas-density",
    "density",
    "kg/m3",
    formula="ρ = p/(R·T), outside pressure, T behind the turbocharger, the gas taken as air",
    sources=[
        sources.GAS_PIPES.giving("formula", "density of a gas"),
        sources.ENGINES.giving("formula", "exhaust gas taken as air"),
        sources.STANDARD_ATMOSPHERE.giving("formula", "air pressure at a height"),
    ],
    each=cases,
)
def gas_density(build: Build, case: str) -> float:
    """Density of the exhaust gas at outside pressure."""
    return gas_at(build, case).density


def bore(pipe: ExhaustPipe) -> float:
    """Inside diameter of a pipe, m."""
    return pipe.tube_outer - 2.0 * pipe.tube_wall


# -- back pressure ----------------------------------------------------------------------------------------------------
class Run(NamedTuple):
    """A run of pipe: outside diameter, wall and length in m, its bends, and how many alike ones share the gas."""

    outer: float
    wall: float
    length: float
    bends: float
    streams: float


@once
def _runs(build: Build) -> tuple[Run, ...]:
    return tuple(
        Run(pipe.tube_outer, pipe.tube_wall, pipe.length, pipe.bends_k, streams(pipe)) for pipe in pipes(build)
    )


def _pressures(runs: Sequence[Run], gas: Gas) -> tuple[list[float], float]:
    """Pressure at the end of each run, Pa, and that ahead of the first."""
    pressure, ends = gas.outside, []
    for run in reversed(runs):
        ends.append(pressure)
        pressure += gas_flow.drop_to_outlet(
            mass_flow=gas.flow / run.streams,
            bore=run.outer - 2.0 * run.wall,
            length=run.length,
            temperature=gas.temperature,
            outlet_pressure=pressure,
            roughness=ROUGHNESS_COMMERCIAL_STEEL,
            loss_coefficient=run.bends,
        )
    return ends[::-1], pressure


@once
def _ends(build: Build, case: str) -> tuple[float, ...]:
    """Pressure at the end of each run in a case, Pa."""
    return tuple(_pressures(_runs(build), gas_at(build, case))[0])


def _drop(runs: Sequence[Run], gas: Gas) -> float:
    """Drop of all runs, Pa, taken from the tail upstream."""
    return _pressures(runs, gas)[1] - gas.outside


@quantity(
    "exhaust.pipes-drop",
    "pressure_difference",
    "kPa",
    formula="p1² − p2² = (ṁ/A)²·R·T·(f·L/D + ΣK + 2·ln(p1/p2)) for each pipe from the tail, at the gas temperature "
    "behind the turbocharger; alike pipes side by side share ṁ",
    sources=[
        sources.GAS_PIPES.giving("formula", "pressure loss of gas in a pipe, with its acceleration"),
        sources.FITTINGS.giving("formula", "pressure loss of bends and fittings"),
    ],
    each=cases,
)
def pipes_drop(build: Build, case: str) -> float:
    """Pressure that all pipes together take."""
    return _drop(_runs(build), gas_at(build, case))


def _device_drop(device: ExhaustDevice, gas: Gas) -> float:
    loads = device.kind == "particulate-filter"
    tested = device.drop_loaded if loads else device.drop
    clean = given(lambda: device.drop)
    if loads and clean is not None and tested < clean:
        raise ImpossibleInput(f"{path_of(device)} takes less loaded with soot than clean: look both drops up")
    flow, tested_density = gas.flow / streams(device), atmosphere.air_density(SEA, device.test_temp)
    turbulent = gas_flow.device_drop(
        tested,
        mass_flow_tested=device.test_flow,
        density_tested=tested_density,
        mass_flow=flow,
        density=gas.density,
    )
    if device.kind not in SOLID:
        return turbulent
    laminar = gas_flow.substrate_drop(
        tested,
        mass_flow_tested=device.test_flow,
        density_tested=tested_density,
        temperature_tested=device.test_temp,
        mass_flow=flow,
        density=gas.density,
        temperature=gas.temperature,
    )
    return max(turbulent, laminar)


@quantity(
    "exhaust.devices-drop",
    "pressure_difference",
    "kPa",
    formula="Σ Δp_test·(ṁ/ṁ_test)²·ρ_test/ρ at outside pressure; catalysts and filters the greater of that and "
    "Δp_test·(ṁ/ṁ_test)·(ρ_test/ρ)·(μ/μ_test); a particulate filter loaded; alike devices side by side share ṁ",
    sources=[
        sheet("plumbing.exhaust.devices.*.drop").giving("formula", "drop of each device in its test"),
        sources.PIPE_FLOW.giving("formula", "drop with the square of the flow"),
        sources.POROUS_FLOW.giving("formula", "drop with flow and viscosity in pores"),
    ],
    each=cases,
)
def devices_drop(build: Build, case: str) -> float:
    """Pressure that all devices together take, the particulate filter loaded."""
    return _devices_drop(build, gas_at(build, case))


def _devices_drop(build: Build, gas: Gas) -> float:
    return sum(_device_drop(device, gas) for device in devices(build))


@quantity(
    "exhaust.back-pressure",
    "pressure_difference",
    "kPa",
    formula="pipes + devices",
    sources=[sources.GAS_PIPES.giving("formula", "losses in a row add up")],
    each=cases,
)
def back_pressure(build: Build, case: str) -> float:
    """Static pressure behind the engine's outlet, over the outside air."""
    return back_pressure_of(build, gas_at(build, case))


def back_pressure_of(build: Build, gas: Gas) -> float:
    """The same, Pa, of some gas."""
    return _drop(_runs(build), gas) + _devices_drop(build, gas)


def back_pressure_by_tube(build: Build) -> Callable[[float], float]:
    """What the greatest exhaust.back-pressure would be with all pipes of one outside diameter [m]."""
    runs, gases = _runs(build), [gas_at(build, case) for case in cases(build)]
    known = [(_devices_drop(build, gas), gas) for gas in gases]

    def pressure(outer: float) -> float:
        alike = [run._replace(outer=outer) for run in runs]
        return max(devices + _drop(alike, gas) for devices, gas in known)

    return pressure


def _place_of(device: ExhaustDevice) -> float:
    """Length of pipe, m, from the engine's outlet to a device; one whose place is not known is taken as far ahead."""
    found = given(lambda: device.distance_from_turbo)
    return -1.0 if found is None else found


@quantity(
    "exhaust.gas-velocity",
    "speed",
    "m/s",
    formula="v = ṁ/(n·ρ·A) of n alike pipes side by side at the end of the pipe, where it is fastest: ρ at the outside "
    "pressure and what the pipes and the devices behind it take; the greatest of all places",
    sources=[
        sources.PIPE_FLOW.giving("formula", "speed from flow and bore"),
        sources.GAS_PIPES.giving("formula", "pressure along the pipe"),
    ],
    each=pipes,
)
def gas_velocity(build: Build, pipe: ExhaustPipe) -> float:
    """Greatest speed of the gas in a pipe."""
    runs, order = _runs(build), [path_of(other) for other in pipes(build)]
    here = order.index(path_of(pipe))
    length = sum(run.length for run in runs[: here + 1])
    behind = [device for device in devices(build) if _place_of(device) >= length]
    found = []
    for case in cases(build):
        gas = gas_at(build, case)
        pressure = _ends(build, case)[here] + sum(_device_drop(device, gas) for device in behind)
        found.append(gas_flow.duct_velocity(gas.flow / streams(pipe), bore(pipe), gas.density_at(pressure)))
    return max(found)


# -- flexible piece ---------------------------------------------------------------------------------------------------
@quantity(
    "exhaust.growth",
    "length",
    "mm",
    formula="ΔL = α·L·(T_gas − 20 °C), L from the turbocharger to the first hanger that holds lengthwise",
    symbols={"L": "plumbing.exhaust.flex.fixed_length", "T_gas": "engine.exhaust.temp"},
    sources=[sources.MACHINE_DESIGN.giving("formula", "expansion of steel with heat")],
)
def growth(build: Build) -> float:
    """How much the hot pipe ahead of its first fixed hanger grows."""
    exhaust = build.plumbing.exhaust
    expansion = exhausts.EXPANSION[exhaust.material]
    return exhausts.thermal_growth(exhaust.flex.fixed_length, expansion, build.engine.exhaust.temp - COLD)


def _exhaust_bridges(build: Build) -> list[Bridge]:
    return [bridge for bridge in mounts.bridges(build) if bridge.carries == "exhaust"]


@quantity(
    "exhaust.engine-movement",
    "length",
    "mm",
    formula="mounts.bridge-movement of the line that carries exhaust; 20 mm while that is not known",
    sources=[sources.SPRINGS_AND_MASSES.giving("formula", "movement of the engine on its mounts")],
)
def engine_movement(build: Build) -> float:
    """How far the engine's end of the flexible piece moves."""
    found = given(lambda: _exhaust_bridges(build))
    if not found:
        return use_practice(build, mounts.ALLOWED)
    return or_practice(lambda: max(mounts.bridge_movement(build, bridge) for bridge in found), mounts.ALLOWED)


@quantity(
    "exhaust.flex-offset",
    "length",
    "mm",
    formula="engine movement + growth",
    symbols={
        "engine movement": "exhaust.engine-movement",
        "growth": "exhaust.growth",
    },
    sources=[sources.MACHINE_DESIGN.giving("formula", "expansion of steel with heat")],
)
def flex_offset(build: Build) -> float:
    """How far the ends of the flexible piece move against each other."""
    return engine_movement(build) + growth(build)


# -- weight on the flange ---------------------------------------------------------------------------------------------
@quantity(
    "exhaust.flange-force",
    "force",
    "N",
    formula="F = m·g·n, n the vertical shock of the engine's sheet, else 3 on roads and 5 off them",
    symbols={"m": "plumbing.exhaust.support.hung_mass", "n": "engine.mounting.shock_vertical"},
    sources=[sources.STATICS.giving("formula")],
)
def flange_force(build: Build) -> float:
    """Force on the outlet flange of what hangs on it, under a shock."""
    return exhausts.hung_force(build.plumbing.exhaust.support.hung_mass, vertical_shock(build))


@quantity(
    "exhaust.flange-moment",
    "torque",
    "N m",
    formula="M = m·g·n·x",
    symbols={
        "m": "plumbing.exhaust.support.hung_mass",
        "n": "engine.mounting.shock_vertical",
        "x": "plumbing.exhaust.support.hung_centre",
    },
    sources=[sources.STATICS.giving("formula")],
)
def flange_moment(build: Build) -> float:
    """Bending moment on the outlet flange of what hangs on it, under a shock."""
    support = build.plumbing.exhaust.support
    return exhausts.hung_moment(support.hung_mass, vertical_shock(build), support.hung_centre)


# -- devices ----------------------------------------------------------------------------------------------------------
@quantity(
    "exhaust.inlet-temperature",
    "temperature",
    "degC",
    formula="T = T_turbo − k·L, k = 60 K/m bare and 20 K/m insulated",
    symbols={"T_turbo": "engine.exhaust.temp", "L": "plumbing.exhaust.devices.*.distance_from_turbo"},
    sources=[
        COOLING.giving("formula", "60 K for each metre of bare pipe, 20 K insulated"),
        sources.HEAT_TRANSFER.giving("formula", "fall along a pipe, taken as a straight line"),
    ],
    each=lambda build: certified_and_fitted(build),
)
def inlet_temperature(build: Build, device: ExhaustDevice) -> float:
    """Gas at the inlet of a device at rated power, at the unfavourable end of what is usual."""
    loss = LOSS_INSULATED if device.pipe_insulated else LOSS_BARE
    return exhausts.gas_temperature_after(build.engine.exhaust.temp, loss, device.distance_from_turbo)


def certified_and_fitted(build: Build) -> list[ExhaustDevice]:
    """The devices of the build that the engine's sheet names."""
    names = build.engine.aftertreatment.devices
    return [device for name, device in build.plumbing.exhaust.devices.items() if name in names and is_fitted(device)]


# -- reductant --------------------------------------------------------------------------------------------------------
@quantity(
    "exhaust.reductant-needed",
    "volume",
    "L",
    formula="(fuel tank + what a second one gives) · share of reductant",
    symbols={
        "fuel tank": "plumbing.fuel.tank.capacity",
        "share of reductant": "engine.reductant.share",
    },
    sources=[
        sheet("engine.reductant.share").giving("formula", "share of reductant in the fuel"),
        REDUCTANT_SHARE.cited,
    ],
    each=lambda build: [()] if is_fitted(build.engine.reductant) else [],
)
def reductant_needed(build: Build) -> float:
    """Reductant that one filling of all tanks of fuel uses."""
    share = or_practice(lambda: build.engine.reductant.share, REDUCTANT_SHARE)
    second = build.plumbing.fuel.second_tank
    more = second.reachable if given(lambda: is_fitted(second)) else 0.0
    return (build.plumbing.fuel.tank.capacity + more) * share
