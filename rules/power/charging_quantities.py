"""Derived numbers of the charge balance."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Practice, given, is_fitted, or_practice, practice, quantity
from swaplint.engineering import charging

from ..gearing.quantities import cruise_speed_engine

RECOVERY_PRACTICE = practice("charging current that a battery takes to recover from starts, 5 to 10 A")
RECOVERY = Practice("battery recovery 5 A (5 to 10 A)", 5.0, RECOVERY_PRACTICE)
HOT = practice("a hot alternator gives 85 % of its cold output curve")
CONVERTERS = practice("a converter takes in a ninth more than it gives")

OUTPUT_SOURCES = [HOT]
DEMAND_SOURCES = [RECOVERY_PRACTICE, CONVERTERS]


def loads(build: Build) -> list[Any]:
    """Every consumer that is fitted."""
    return [load for load in build.electrics.loads.values() if is_fitted(load)]


def same_voltage(stated: float, nominal: float) -> bool:
    """Whether a part of a stated voltage suits a system: parts are marked 12 V or 14 V, 24 V or 28 V."""
    return 0.9 <= stated / nominal <= 1.2


def is_odd(build: Build, load: Any) -> bool:
    """Whether a consumer needs another voltage than the vehicle's."""
    return not same_voltage(load.voltage, build.electrics.nominal_voltage)


def vehicle_current(build: Build, load: Any) -> float:
    """Current that a consumer takes from the vehicle's own voltage, through a converter where it needs another."""
    if not is_odd(build, load):
        return float(load.current)
    taken_in = charging.converter_power([charging.Load(load.current, voltage=load.voltage)])
    return taken_in / build.electrics.nominal_voltage


def demand(build: Build, duty: str, *, essential_only: bool = False) -> float:
    """Average current of the consumers in one kind of running, and of the battery's recovery."""
    wanted = [load for load in loads(build) if not essential_only or load.essential]
    consumers = [charging.Load(vehicle_current(build, load), getattr(load, duty)) for load in wanted]
    return charging.average_current(consumers) + or_practice(lambda: build.electrics.battery_recovery, RECOVERY)


def has_electric_fan(build: Build) -> bool:
    """Whether a motor turns the radiator's fan."""
    fan = build.plumbing.cooling.fan
    return is_fitted(fan) and fan.drive == "electric"


def fan_load(build: Build) -> Any | None:
    """The consumer that is the radiator's electric fan; None where there is none, or the list does not count it."""
    if given(lambda: has_electric_fan(build)) is not True:
        return None
    name = given(lambda: str(build.plumbing.cooling.fan.load))
    load = build.electrics.loads.get(name) if name is not None else None
    return load if load is not None and is_fitted(load) else None


def with_fan_running(build: Build, duty: str) -> float:
    """Average current wanted while the radiator's electric fan runs without a pause."""
    load = fan_load(build)
    extra = vehicle_current(build, load) * (1.0 - getattr(load, duty)) if load is not None else 0.0
    return demand(build, duty) + extra


def output_table(build: Build) -> list[tuple[float, float]]:
    """The alternator's cold output curve as (rotor speed, current)."""
    return [(point.rotor_speed, point.current) for point in build.engine.alternator.output]


def hot_output(build: Build, engine_speed: float) -> float:
    """Output of the hot alternator at an engine speed."""
    return charging.charge_balance(engine_speed, build.engine.alternator.pulley_ratio, output_table(build), 0.0)


@quantity(
    "power.output-idle",
    "current",
    "A",
    formula="0.85 · curve(n_idle · pulley ratio)",
    sources=OUTPUT_SOURCES,
)
def output_idle(build: Build) -> float:
    """Output of the hot alternator at idle."""
    return hot_output(build, build.engine.speed.idle)


@quantity(
    "power.output-cruise",
    "current",
    "A",
    formula="0.85 · curve(n_cruise · pulley ratio)",
    sources=OUTPUT_SOURCES,
)
def output_cruise(build: Build) -> float:
    """Output of the hot alternator at cruising speed in top gear."""
    return hot_output(build, cruise_speed_engine(build))


@quantity(
    "power.output-stationary",
    "current",
    "A",
    formula="0.85 · curve(n_stationary · pulley ratio)",
    sources=OUTPUT_SOURCES,
)
def output_stationary(build: Build) -> float:
    """Output of the hot alternator in standing work."""
    return hot_output(build, build.build.duty.stationary_speed)


@quantity("power.demand-idle", "current", "A", formula="Σ I · duty + battery recovery", sources=DEMAND_SOURCES)
def demand_idle(build: Build) -> float:
    """Average current wanted at idle, at night."""
    return demand(build, "duty_idle")


@quantity("power.demand-cruise", "current", "A", formula="Σ I · duty + battery recovery", sources=DEMAND_SOURCES)
def demand_cruise(build: Build) -> float:
    """Average current wanted under way, at night."""
    return demand(build, "duty_cruise")


@quantity(
    "power.demand-idle-hot",
    "current",
    "A",
    formula="power.demand-idle + I_fan · (1 - duty of the fan)",
    sources=DEMAND_SOURCES,
)
def demand_idle_hot(build: Build) -> float:
    """Average current wanted at idle while the radiator's electric fan runs without a pause."""
    return with_fan_running(build, "duty_idle")


@quantity(
    "power.demand-stationary-hot",
    "current",
    "A",
    formula="power.demand-stationary + I_fan · (1 - duty of the fan)",
    sources=DEMAND_SOURCES,
)
def demand_stationary_hot(build: Build) -> float:
    """Average current wanted in standing work while the radiator's electric fan runs without a pause."""
    return with_fan_running(build, "duty_stationary")


@quantity("power.demand-stationary", "current", "A", formula="Σ I · duty + battery recovery", sources=DEMAND_SOURCES)
def demand_stationary(build: Build) -> float:
    """Average current wanted in standing work, at night."""
    return demand(build, "duty_stationary")


@quantity("power.balance-idle", "current", "A", formula="output - demand", sources=[*OUTPUT_SOURCES, *DEMAND_SOURCES])
def balance_idle(build: Build) -> float:
    """Charging current over (positive) or short (negative) at idle."""
    return output_idle(build) - demand_idle(build)


@quantity("power.balance-cruise", "current", "A", formula="output - demand", sources=[*OUTPUT_SOURCES, *DEMAND_SOURCES])
def balance_cruise(build: Build) -> float:
    """Charging current over (positive) or short (negative) under way."""
    return output_cruise(build) - demand_cruise(build)


@quantity(
    "power.balance-stationary", "current", "A", formula="output - demand", sources=[*OUTPUT_SOURCES, *DEMAND_SOURCES]
)
def balance_stationary(build: Build) -> float:
    """Charging current over (positive) or short (negative) in standing work."""
    return output_stationary(build) - demand_stationary(build)


@quantity(
    "power.converter-demand",
    "power",
    "W",
    formula="Σ I · U/0.9 over the consumers of another voltage, all on together",
    sources=[CONVERTERS],
)
def converter_demand(build: Build) -> float:
    """Power that converters must take in to feed the consumers of another voltage."""
    odd = [charging.Load(load.current, voltage=load.voltage) for load in loads(build) if is_odd(build, load)]
    return charging.converter_power(odd)
