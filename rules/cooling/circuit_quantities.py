"""Derived numbers of the coolant and of the circuit outside the engine."""

from __future__ import annotations

import math

from swaplint.api import Build, Practice, each_of, given, is_fitted, once, or_practice, practice, quantity, sheet
from swaplint.engineering import atmosphere, coolant, cooling_system, pipes
from swaplint.spec.systems.cooling import CoolantHose

from .. import sources
from ..needed import needed
from ..places import highest_place
from .pump import rated_flow

FILLED_AT = 293.15
"""Temperature at which a system is filled and its level read, K."""

HEAT_SOAK = 383.15
"""Hottest state that the expansion tank is sized for, K: after a stop the coolant goes on warming (common practice)."""

WARM = 353.15
"""Temperature of the coolant for its flow losses, K: warm, and on the side of more loss than at full heat."""

HEAT_SOAK_PRACTICE = practice("a tank is sized for coolant of 110 °C, which a hot engine reaches after a stop").giving(
    "formula", "coolant of 110 °C"
)
VAPOUR = sources.RAOULT.giving("formula", "vapour pressure of a mixture")
BOILING_WATER = sources.STEAM_TABLES.giving("formula", "boiling point of water under pressure")
THIN_AIR = sources.STANDARD_ATMOSPHERE.giving("formula", "air pressure at a height")
FREEZING = sources.GLYCOL_TABLES.giving("formula", "freezing point over the share of glycol")
DENSITY = sources.GLYCOL_TABLES.giving("formula", "density over temperature")
RESERVE = practice("coolant in hand of 10 % of the system for heavy and 5 % for light vehicles")
RESERVE_HEAVY = Practice("coolant in hand of 10 % of the system (heavy vehicle)", 0.10, RESERVE)
RESERVE_LIGHT = Practice("coolant in hand of 5 % of the system (light vehicle)", 0.05, RESERVE)


def hoses(build: Build) -> list[CoolantHose]:
    """The hoses between engine and radiator."""
    stated = [hose for hose in each_of(build.plumbing.cooling.hoses) if is_fitted(hose)]
    return needed(build, "plumbing.cooling.hoses", stated)


# -- boiling and freezing --------------------------------------------------------------------------------------------
@quantity(
    "cooling.boiling-point",
    "temperature",
    "degC",
    formula="T_sat,water((p_altitude + p_cap)/x_water), x_water the mole fraction of water",
    sources=[VAPOUR, BOILING_WATER, THIN_AIR],
)
def boiling_point(build: Build) -> float:
    """Boiling point of the coolant under its cap at the highest place."""
    cooling = build.plumbing.cooling
    ambient = atmosphere.standard_pressure(highest_place(build))
    return coolant.boiling_point(ambient + cooling.cap_pressure, cooling.coolant.glycol)


@quantity(
    "cooling.boil-margin",
    "temperature_difference",
    "K",
    formula="T_boil − T_top,max",
    sources=[
        VAPOUR,
        BOILING_WATER,
        THIN_AIR,
        sheet("engine.coolant.top_tank_max").giving("limit", "hottest coolant at the outlet"),
    ],
)
def boil_margin(build: Build) -> float:
    """How far the hottest coolant allowed is from boiling at the highest place."""
    cooling = build.plumbing.cooling
    ambient = atmosphere.standard_pressure(highest_place(build))
    return coolant.boil_margin(build.engine.coolant.top_tank_max, cooling.cap_pressure, ambient, cooling.coolant.glycol)


@quantity(
    "cooling.freezing-point",
    "temperature",
    "degC",
    formula="table of freezing onset over the share of glycol by volume",
    sources=[FREEZING],
)
def freezing_point(build: Build) -> float:
    """Temperature at which the first ice forms in the coolant."""
    return coolant.freezing_onset(build.plumbing.cooling.coolant.glycol)


# -- volume ----------------------------------------------------------------------------------------------------------
@quantity(
    "cooling.system-volume",
    "volume",
    "L",
    formula="as measured by filling, else engine + radiator + Σ π/4·d²·L of the hoses",
    sources=[sheet("engine.coolant.volume").giving("formula", "coolant in the engine")],
    instead={"plumbing.cooling.system_volume": "engine.coolant.volume"},
)
def system_volume(build: Build) -> float:
    """Coolant in the whole system."""
    measured = given(lambda: build.plumbing.cooling.system_volume)
    if measured is not None:
        return measured
    return build.engine.coolant.volume + build.plumbing.cooling.radiator.volume + in_hoses(build)


def in_hoses(build: Build) -> float:
    """Coolant in the hoses and pipes between engine and radiator, m³."""
    return sum(math.pi / 4.0 * hose.bore**2 * hose.length for hose in hoses(build))


def reserve_share(build: Build) -> float:
    """Coolant that the tank holds in hand, as a share of the system."""
    fallback = RESERVE_HEAVY if build.vehicle.weight_class == "heavy" else RESERVE_LIGHT
    stated = given(lambda: build.engine.coolant.reserve)
    return or_practice(lambda: build.engine.coolant.reserve, fallback) if stated is None else stated


def hottest(build: Build) -> float:
    """The hottest state that the tank is sized for, K."""
    return max(HEAT_SOAK, build.engine.coolant.top_tank_max)


@quantity(
    "cooling.expansion-need",
    "volume",
    "L",
    formula="V·(ρ(20 °C)/ρ(hot) − 1 + reserve), hot being 110 °C or the coolant's limit where that is more",
    sources=[
        DENSITY,
        HEAT_SOAK_PRACTICE,
        RESERVE.giving("fallback", "10 % heavy, 5 % light"),
    ],
)
def expansion_need(build: Build) -> float:
    """Volume that the expansion tank needs for growth and reserve."""
    return cooling_system.expansion_volume(
        system_volume(build),
        build.plumbing.cooling.coolant.glycol,
        FILLED_AT,
        hottest(build),
        reserve_share(build),
    )


# -- hoses -----------------------------------------------------------------------------------------------------------
def _use_of(build: Build, hose: CoolantHose) -> str | None:
    """What the port is for that a hose is on; None where that is not known."""
    port = given(lambda: build.engine.coolant.ports.get(str(hose.port)))
    return None if port is None else given(lambda: str(port.use))


def ports_beside(build: Build, hose: CoolantHose) -> int:
    """How many ports share the flow of a hose: an engine with two thermostats has two that lead to the radiator."""
    use = _use_of(build, hose)
    if use not in ("to-radiator", "from-radiator"):
        return 1
    return _ports_in_use(build, use)


@once
def _ports_in_use(build: Build, use: str) -> int:
    """How many ports of one use have a hose on them."""
    return len({str(other.port) for other in hoses(build) if _use_of(build, other) == use})


def flow_in(build: Build, hose: CoolantHose) -> float:
    """Coolant in a hose at rated flow, m³/s: ports of one use share it evenly."""
    return rated_flow(build) / ports_beside(build, hose)


@quantity(
    "cooling.hose-velocity",
    "speed",
    "m/s",
    formula="v = V̇/(π/4·d²), at rated flow; ports of one use share it evenly",
    symbols={"V̇": "engine.coolant.flow", "d": "plumbing.cooling.hoses.*.bore"},
    sources=[sources.PIPE_FLOW.giving("formula")],
    each=hoses,
)
def hose_velocity(build: Build, hose: CoolantHose) -> float:
    """Speed of the coolant in a hose at rated flow."""
    return pipes.mean_velocity(flow_in(build, hose), hose.bore)


@quantity(
    "cooling.hose-drop",
    "pressure_difference",
    "kPa",
    formula="Δp = (f·L/d + ΣK)·ρ·v²/2, coolant at 80 °C",
    sources=[
        sources.PIPE_FLOW.giving("formula", "pressure loss of pipe flow"),
        sources.FITTINGS.giving("formula", "pressure loss of bends and fittings"),
        sources.GLYCOL_TABLES.giving("formula", "density and viscosity of the coolant"),
    ],
    each=hoses,
)
def hose_drop(build: Build, hose: CoolantHose) -> float:
    """Pressure lost in a hose at rated flow."""
    glycol = build.plumbing.cooling.coolant.glycol
    return pipes.pressure_loss(
        flow=flow_in(build, hose),
        bore=hose.bore,
        length=hose.length,
        density=coolant.density(glycol, WARM),
        kinematic_viscosity=coolant.kinematic_viscosity(glycol, WARM),
        loss_coefficient=hose.fittings_k,
    )


@quantity(
    "cooling.radiator-drop",
    "pressure_difference",
    "kPa",
    formula="Δp = Δp_test·(V̇/V̇_test)²",
    symbols={
        "Δp_test": "plumbing.cooling.radiator.coolant_drop",
        "V̇": "engine.coolant.flow",
        "V̇_test": "plumbing.cooling.radiator.coolant_drop_flow",
    },
    sources=[
        sheet("plumbing.cooling.radiator.coolant_drop").giving("formula", "drop in its test"),
        sources.PIPE_FLOW.giving("formula", "drop with the square of the flow"),
    ],
)
def radiator_drop(build: Build) -> float:
    """Pressure lost in the radiator on the coolant side at rated flow."""
    radiator = build.plumbing.cooling.radiator
    return radiator.coolant_drop * (rated_flow(build) / radiator.coolant_drop_flow) ** 2


@quantity(
    "cooling.external-restriction",
    "pressure_difference",
    "kPa",
    formula="hoses + radiator, at rated flow; of ports that share the flow the one whose hoses take most",
    symbols={"radiator": "cooling.radiator-drop"},
    sources=[sources.PIPE_FLOW.giving("formula", "losses in a row add up")],
)
def external_restriction(build: Build) -> float:
    """Pressure that the pump loses outside the engine at rated flow."""
    return radiator_drop(build) + sum(max(lines.values()) for lines in _drops_by_use(build).values())


def _drops_by_use(build: Build) -> dict[str, dict[str, float]]:
    """What the hoses of each port take, Pa, by the use that ports have in common."""
    found: dict[str, dict[str, float]] = {}
    for hose in hoses(build):
        port = str(hose.port)
        lines = found.setdefault(_use_of(build, hose) or port, {})
        lines[port] = lines.get(port, 0.0) + hose_drop(build, hose)
    return found
