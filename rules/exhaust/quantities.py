"""Derived numbers of the exhaust: gas flow and speed, back pressure, growth, weight on the flange, reductant."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from swaplint.api import (
    Build,
    Practice,
    each_of,
    given,
    is_fitted,
    or_practice,
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
from ..intake.quantities import altitude, cases, power_left
from ..mounts import movement as mounts
from ..mounts.quantities import vertical_shock
from ..needed import needed
from ..streams import streams

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


def pipes(build: Build) -> list[ExhaustPipe]:
    """The runs of pipe that are fitted, in the order of the gas."""
    stated = [pipe for pipe in each_of(build.plumbing.exhaust.pipes) if is_fitted(pipe)]
    return needed(build, "plumbing.exhaust.pipes", stated)


def devices(build: Build) -> list[ExhaustDevice]:
    """The devices that are fitted."""
    return [device for device in each_of(build.plumbing.exhaust.devices) if is_fitted(device)]


def filters(build: Build) -> list[CertifiedDevice]:
    """The particulate filters of the engine's certified aftertreatment."""
    return [d for d in each_of(build.engine.aftertreatment.devices) if d.kind == "particulate-filter"]


# -- gas --------------------------------------------------------------------------------------------------------------
@quantity(
    "exhaust.gas-flow",
    "mass_flow",
    "kg/s",
    formula="as the data sheet states it; at height times the share of power that the sheet leaves there",
    sources=[sheet("engine.exhaust.mass_flow")],
    each=cases,
)
def gas_mass_flow(build: Build, case: str) -> float:
    """Exhaust gas at full load."""
    return build.engine.exhaust.mass_flow * power_left(build, case)


def _outside(build: Build, case: str) -> float:
    return atmosphere.standard_pressure(altitude(build, case))


@quantity(
    "exhaust.gas-density",
    "density",
    "kg/m3",
    formula="ρ = p/(R·T), outside pressure, T behind the turbocharger, the gas taken as air",
    sources=[sources.GAS_PIPES, sources.ENGINES, sources.STANDARD_ATMOSPHERE],
    each=cases,
)
def gas_density(build: Build, case: str) -> float:
    """Density of the exhaust gas at outside pressure."""
    return atmosphere.air_density(_outside(build, case), build.engine.exhaust.temp)


def bore(pipe: ExhaustPipe) -> float:
    """Inside diameter of a pipe, m."""
    return pipe.tube_outer - 2.0 * pipe.tube_wall


@quantity(
    "exhaust.gas-velocity",
    "speed",
    "m/s",
    formula="v = ṁ/(n·ρ·A) of n alike pipes side by side, the greater of sea level and highest place, at outside "
    "pressure",
    sources=[sources.PIPE_FLOW],
    each=pipes,
)
def gas_velocity(build: Build, pipe: ExhaustPipe) -> float:
    """Speed of the gas in a pipe."""
    return max(
        gas_flow.duct_velocity(gas_mass_flow(build, case) / streams(pipe), bore(pipe), gas_density(build, case))
        for case in cases(build)
    )


# -- back pressure ----------------------------------------------------------------------------------------------------
class Run(NamedTuple):
    """A run of pipe: outside diameter, wall and length in m, its bends, and how many alike ones share the gas."""

    outer: float
    wall: float
    length: float
    bends: float
    streams: float


def _runs(build: Build) -> list[Run]:
    return [Run(pipe.tube_outer, pipe.tube_wall, pipe.length, pipe.bends_k, streams(pipe)) for pipe in pipes(build)]


def _drop(runs: list[Run], flow: float, temperature: float, outside: float) -> float:
    """Drop of all runs, Pa, taken from the tail upstream."""
    pressure = outside
    for run in reversed(runs):
        pressure += gas_flow.drop_to_outlet(
            mass_flow=flow / run.streams,
            bore=run.outer - 2.0 * run.wall,
            length=run.length,
            temperature=temperature,
            outlet_pressure=pressure,
            roughness=ROUGHNESS_COMMERCIAL_STEEL,
            loss_coefficient=run.bends,
        )
    return pressure - outside


@quantity(
    "exhaust.pipes-drop",
    "pressure_difference",
    "kPa",
    formula="p1² − p2² = (ṁ/A)²·R·T·(f·L/D + ΣK + 2·ln(p1/p2)) for each pipe from the tail, at the gas temperature "
    "behind the turbocharger; alike pipes side by side share ṁ",
    sources=[sources.GAS_PIPES, sources.FITTINGS],
    each=cases,
)
def pipes_drop(build: Build, case: str) -> float:
    """Pressure that all pipes together take."""
    return _drop(_runs(build), gas_mass_flow(build, case), build.engine.exhaust.temp, _outside(build, case))


def _device_drop(build: Build, device: ExhaustDevice, case: str) -> float:
    loads = device.kind == "particulate-filter"
    tested = device.drop_loaded if loads else device.drop
    flow, density = gas_mass_flow(build, case) / streams(device), gas_density(build, case)
    tested_density = atmosphere.air_density(atmosphere.SEA_LEVEL_PRESSURE, device.test_temp)
    turbulent = gas_flow.device_drop(
        tested,
        mass_flow_tested=device.test_flow,
        density_tested=tested_density,
        mass_flow=flow,
        density=density,
    )
    if device.kind not in SOLID:
        return turbulent
    laminar = gas_flow.substrate_drop(
        tested,
        mass_flow_tested=device.test_flow,
        density_tested=tested_density,
        temperature_tested=device.test_temp,
        mass_flow=flow,
        density=density,
        temperature=build.engine.exhaust.temp,
    )
    return max(turbulent, laminar)


@quantity(
    "exhaust.devices-drop",
    "pressure_difference",
    "kPa",
    formula="Σ Δp_test·(ṁ/ṁ_test)²·ρ_test/ρ at outside pressure; catalysts and filters the greater of that and "
    "Δp_test·(ṁ/ṁ_test)·(ρ_test/ρ)·(μ/μ_test); a particulate filter loaded; alike devices side by side share ṁ",
    sources=[sheet("plumbing.exhaust.devices.*.drop"), sources.PIPE_FLOW, sources.POROUS_FLOW],
    each=cases,
)
def devices_drop(build: Build, case: str) -> float:
    """Pressure that all devices together take, the particulate filter loaded."""
    return sum(_device_drop(build, device, case) for device in devices(build))


@quantity(
    "exhaust.back-pressure",
    "pressure_difference",
    "kPa",
    formula="pipes + devices",
    sources=[sources.GAS_PIPES],
    each=cases,
)
def back_pressure(build: Build, case: str) -> float:
    """Static pressure behind the engine's outlet, over the outside air."""
    return pipes_drop(build, case) + devices_drop(build, case)


def back_pressure_by_tube(build: Build) -> Callable[[float], float]:
    """What the greater exhaust.back-pressure would be with all pipes of one outside diameter [m]."""
    runs, temperature = _runs(build), build.engine.exhaust.temp
    known = [(devices_drop(build, case), gas_mass_flow(build, case), _outside(build, case)) for case in cases(build)]

    def pressure(outer: float) -> float:
        alike = [run._replace(outer=outer) for run in runs]
        return max(devices + _drop(alike, flow, temperature, outside) for devices, flow, outside in known)

    return pressure


# -- flexible piece ---------------------------------------------------------------------------------------------------
@quantity(
    "exhaust.growth",
    "length",
    "mm",
    formula="ΔL = α·L·(T_gas − 20 °C), L from the turbocharger to the first hanger that holds lengthwise",
    sources=[sources.MACHINE_DESIGN],
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
    sources=[sources.SPRINGS_AND_MASSES],
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
    sources=[sources.MACHINE_DESIGN],
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
    sources=[sources.STATICS],
)
def flange_force(build: Build) -> float:
    """Force on the outlet flange of what hangs on it, under a shock."""
    return exhausts.hung_force(build.plumbing.exhaust.support.hung_mass, vertical_shock(build))


@quantity(
    "exhaust.flange-moment",
    "torque",
    "N m",
    formula="M = m·g·n·x",
    sources=[sources.STATICS],
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
    sources=[COOLING, sources.HEAT_TRANSFER],
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
    formula="fuel tank · share of reductant",
    sources=[sheet("engine.reductant.share"), REDUCTANT_SHARE.source],
    each=lambda build: [()] if is_fitted(build.engine.reductant) else [],
)
def reductant_needed(build: Build) -> float:
    """Reductant that one tank of fuel uses."""
    share = or_practice(lambda: build.engine.reductant.share, REDUCTANT_SHARE)
    return build.plumbing.fuel.tank.capacity * share
