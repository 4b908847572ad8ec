"""Derived numbers of the vacuum for the brake booster."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, OutsideRange, Practice, is_fitted, or_practice, practice, quantity, sheet
from swaplint.engineering import atmosphere, vacuum
from swaplint.engineering.atmosphere import SEA_LEVEL_PRESSURE

from .. import sources
from ..places import highest_of_all

BOOSTER_NEED = practice("a vacuum booster wants a depression of 60 to 67 kPa at sea level, and at least 50 kPa")
REQUIRED = Practice(
    "booster needs a depression of 60 kPa at sea level (60 to 67 kPa)", 60e3, BOOSTER_NEED, between=(60e3, 67e3)
)
FLOOR = Practice("booster needs a depression of 50 kPa or more anywhere", 50e3, BOOSTER_NEED)
THROTTLED = practice("an idling engine needs the same absolute manifold pressure at any altitude").giving(
    "formula", "manifold pressure at a height"
)
HEIGHT = sources.STANDARD_ATMOSPHERE.giving("formula", "air pressure at a height")
RESERVE_SOURCES = [sources.GAS_LAW.giving("formula", "air that spreads at constant temperature")]
APPLICATIONS = {"pump": 8, "manifold": 4}
"""Full applications after a failed source, before the one that must still give secondary braking, by what the source
is: a pump, or the engine's own manifold (UN Regulation No. 13, annex 7, from memory)."""


def pump(build: Build) -> Any:
    """The vacuum pump: the one that the swap adds, else the engine package's own."""
    if build.engine.vacuum.source == "pump":
        added = build.plumbing.vacuum.pump
        return added if is_fitted(added) else build.engine.vacuum.pump
    return build.plumbing.vacuum.pump


def has_source(build: Build) -> bool:
    """Whether the booster is connected to something that makes vacuum in this engine at all."""
    supply = build.plumbing.vacuum.supply
    if supply == "pump":
        return is_fitted(pump(build))
    return supply == "manifold" and build.engine.vacuum.source == "manifold"


def required_depression(build: Build) -> float:
    """Depression that the booster must get at the highest place, Pa: as it needs it, at least the floor."""
    return or_practice(lambda: build.vehicle.brakes.vacuum_required, FLOOR)


@quantity(
    "chassis.air-pressure",
    "pressure",
    "kPa",
    formula="p = 101.325·(1 − 2.25577e-5·h)^5.2559 at the highest place",
    sources=[HEIGHT],
)
def air_pressure(build: Build) -> float:
    """Air pressure at the highest place."""
    return atmosphere.standard_pressure(highest_of_all(build))


@quantity(
    "chassis.source-pressure",
    "pressure",
    "kPa",
    formula="of a pump its end pressure; of a manifold 101.325 kPa − its depression at idle at sea level",
    sources=[
        sheet("plumbing.vacuum.pump.end_pressure").giving("formula", "end pressure of the pump"),
        THROTTLED,
    ],
)
def source_pressure(build: Build) -> float:
    """Lowest absolute pressure that the source of the vacuum reaches."""
    supply = build.plumbing.vacuum.supply
    if supply == "intake-pipe":
        raise OutsideRange("an intake or charge pipe holds no vacuum")
    if supply == "pump":
        return float(pump(build).end_pressure)
    return max(0.0, SEA_LEVEL_PRESSURE - build.engine.vacuum.depression_idle)


@quantity(
    "chassis.available-depression",
    "pressure_difference",
    "kPa",
    formula="d = p_air − p_source, at the highest place",
    symbols={"p_air": "chassis.air-pressure", "p_source": "chassis.source-pressure"},
    sources=[HEIGHT, THROTTLED],
)
def available_depression(build: Build) -> float:
    """Deepest depression that the source reaches at the highest place."""
    return vacuum.available_depression(air_pressure(build), source_pressure(build))


@quantity(
    "chassis.vacuum-volume",
    "volume",
    "L",
    formula="V = V_booster + V_reservoir",
    symbols={"V_booster": "vehicle.brakes.booster.volume", "V_reservoir": "plumbing.vacuum.reservoir.volume"},
    sources=[practice("vessels that stand open to each other hold their air as one").giving("formula")],
)
def vacuum_volume(build: Build) -> float:
    """Volume of booster and reservoir."""
    reservoir = build.plumbing.vacuum.reservoir
    return build.vehicle.brakes.booster.volume + (reservoir.volume if is_fitted(reservoir) else 0.0)


def recovery_time(build: Build, depression: float) -> float:
    """Time that the pump takes from empty to a depression, s."""
    air = air_pressure(build)
    return vacuum.pump_down_time(
        vacuum_volume(build), pump(build).free_flow, air, air - depression, source_pressure(build)
    )


def recovery_flow(build: Build, depression: float, time: float) -> float:
    """Pump flow that reaches a depression in a time, m³/s."""
    air = air_pressure(build)
    return vacuum.pump_speed_needed(vacuum_volume(build), time, air, air - depression, source_pressure(build))


PUMP_DOWN = "t = V/S·ln((p_air − p_end)/(p_air − d − p_end)), from the air's pressure, at the highest place"
PUMPED = {
    "V": "chassis.vacuum-volume",
    "S": "plumbing.vacuum.pump.free_flow",
    "p_air": "chassis.air-pressure",
    "p_end": "chassis.source-pressure",
}
"""What the symbols of that formula stand for, but for the depression."""


@quantity(
    "chassis.warning-time",
    "time",
    "s",
    formula=f"{PUMP_DOWN}; d of the warning lamp",
    symbols={**PUMPED, "d": "vehicle.brakes.vacuum_warning"},
    sources=[sources.VACUUM_TECHNIQUE.giving("formula")],
)
def warning_time(build: Build) -> float:
    """Time until the warning lamp goes out after the vacuum was used up."""
    return recovery_time(build, build.vehicle.brakes.vacuum_warning)


@quantity(
    "chassis.recovery-time",
    "time",
    "s",
    formula=f"{PUMP_DOWN}; d that the booster needs",
    symbols={**PUMPED, "d": "vehicle.brakes.vacuum_required"},
    sources=[sources.VACUUM_TECHNIQUE.giving("formula")],
)
def full_recovery_time(build: Build) -> float:
    """Time until the booster has its full vacuum again after it was used up."""
    return recovery_time(build, required_depression(build))


@quantity(
    "chassis.reserve-start",
    "pressure_difference",
    "kPa",
    formula="of an electric pump the depression at which it starts, at most chassis.available-depression; else that",
    sources=[sheet("plumbing.vacuum.pump.cut_in").giving("formula", "depression at which an electric pump starts")],
)
def reserve_start(build: Build) -> float:
    """Depression that is sure to be there when the source fails."""
    available = available_depression(build)
    if build.plumbing.vacuum.supply == "pump" and pump(build).drive == "electric":
        return min(available, float(pump(build).cut_in))
    return available


def applications(build: Build) -> int:
    """How many full applications the vacuum must last for after its source failed."""
    return APPLICATIONS.get(build.plumbing.vacuum.supply, 8)


def depression_after(build: Build, times: int) -> float:
    """Depression after full applications with the source stopped, Pa."""
    booster = build.vehicle.brakes.booster
    return vacuum.depression_after(
        times,
        depression=reserve_start(build),
        ambient_pressure=air_pressure(build),
        volume=vacuum_volume(build),
        swept_volume=booster.swept_volume,
        dead_volume=booster.dead_volume,
    )


@quantity(
    "chassis.reserve-share",
    "share",
    "%",
    formula="(d₀·(1 − V_dead/V) − p_air·V_swept/V)/d₀, at the highest place",
    symbols={
        "d₀": "chassis.reserve-start",
        "V": "chassis.vacuum-volume",
        "p_air": "chassis.air-pressure",
        "V_dead": "vehicle.brakes.booster.dead_volume",
        "V_swept": "vehicle.brakes.booster.swept_volume",
    },
    sources=RESERVE_SOURCES,
)
def reserve_share(build: Build) -> float:
    """Share of the vacuum that is left after one full application with the source stopped."""
    start = reserve_start(build)
    if start <= 0.0:
        raise OutsideRange("there is no vacuum to begin with")
    return depression_after(build, 1) / start


@quantity(
    "chassis.reserve-eighth",
    "pressure_difference",
    "kPa",
    formula="the step of chassis.reserve-share eight times, four where the manifold is the source; never below 0",
    sources=RESERVE_SOURCES,
)
def reserve_after_eight(build: Build) -> float:
    """Depression left after the full applications that it must last for, with the source stopped."""
    return depression_after(build, applications(build))


def reservoir_for(build: Build, share_left: float) -> float:
    """Reservoir that keeps a share of the vacuum after one full application, m³."""
    booster = build.vehicle.brakes.booster
    whole = vacuum.volume_for_reserve(
        share_left,
        depression=reserve_start(build),
        ambient_pressure=air_pressure(build),
        swept_volume=booster.swept_volume,
        dead_volume=booster.dead_volume,
    )
    return max(0.0, whole - booster.volume)
