"""Derived numbers of the charge balance."""

from __future__ import annotations

from typing import Any

from swaplint.api import (
    Build,
    Practice,
    given,
    is_fitted,
    name_of,
    once,
    only_asking,
    or_practice,
    part_named,
    practice,
    quantity,
)
from swaplint.engineering import charging

from ..gearing.quantities import cruise_speed_engine

RECOVERY_PRACTICE = practice("charging current that a battery takes to recover from starts, 5 to 10 A")
RECOVERY = Practice("battery recovery 5 A (5 to 10 A)", 5.0, RECOVERY_PRACTICE, between=(5.0, 10.0))
HOT = practice("a hot alternator gives 85 % of its cold output curve")
CONVERTERS = practice("a converter takes in a ninth more than it gives")

UNIT = "control_unit"
ALWAYS = ("lamps", UNIT, "wipers")
"""Consumers that no other part of the spec names and that a vehicle has all the same, by the name they are asked by."""
NAMES = {
    "lamps": {"lamps", "lights", "lighting", "headlamps", "headlights", "roadlamps", "roadlights", "mainlamps"},
    "control_unit": {
        "engine",
        "ecm",
        "ecu",
        "controlunit",
        "enginecontrol",
        "enginecontrolunit",
        "engineecm",
        "engineecu",
        "enginemanagement",
        "engineelectronics",
    },
    "wipers": {"wipers", "wiper", "windscreenwipers", "windscreenwiper", "frontwipers"},
}
"""Names of consumers that say what they are, without dashes and underlines."""

OUTPUT_SOURCES = [HOT.giving("formula", "85 % of the cold curve")]
DEMAND_SOURCES = [RECOVERY.cited, CONVERTERS.giving("formula", "current through a converter")]


def loads(build: Build) -> list[Any]:
    """Every consumer that is fitted."""
    return [load for load in build.electrics.loads.values() if is_fitted(load)]


def is_always(load: Any, kind: str) -> bool:
    """Whether a consumer is, or counts, one of those that every vehicle has: by its name, or by what it says."""
    stated = given(lambda: [str(what).replace("-", "_") for what in load.stands_for]) or []
    return kind in stated or name_of(load).lower().replace("_", "").replace("-", "") in NAMES[kind]


@once
def left_out(build: Build) -> tuple[Any, ...]:
    """The consumers that such a vehicle has and that the list neither counts nor says are not there.

    A control unit counts where the engine has one; the list may name it by a cable of its feeds.
    """
    listed = list(build.electrics.loads.values())
    if only_asking(build) and len(listed) == 1:
        return ()  # where nobody lists any the host makes one up, and that one is asked for
    lacking = [kind for kind in ALWAYS if not any(is_always(load, kind) for load in listed)]
    if UNIT in lacking and (any(feeds_unit(build, load) for load in listed) or not _has_unit(build)):
        lacking.remove(UNIT)
    return tuple(part_named(build.electrics, "loads", kind) for kind in lacking)


def _has_unit(build: Build) -> bool:
    return given(lambda: is_fitted(build.engine.ecm)) is True


def feeds_unit(build: Build, load: Any) -> bool:
    """Whether a consumer hangs on a cable that feeds the engine's control unit."""
    names = given(lambda: [str(name) for name in load.fed_by]) or []
    cables = [build.electrics.cables.get(name) for name in names]
    return any(given(lambda cable=cable: cable.role == "ecm-feed") for cable in cables if cable is not None)  # type: ignore[misc]


def same_voltage(stated: float, nominal: float) -> bool:
    """Whether a part of a stated voltage suits a system: parts are marked 12 V or 14 V, 24 V or 28 V."""
    return 0.9 <= stated / nominal <= 1.2


def is_odd(build: Build, load: Any) -> bool:
    """Whether a consumer needs another voltage than the vehicle's."""
    return not same_voltage(load.voltage, build.electrics.nominal_voltage)


def vehicle_current(build: Build, load: Any) -> float:
    """Current that a consumer takes from the vehicle's own voltage, through a converter where one feeds it.

    One feeds what needs another voltage, and what hangs on auxiliary batteries that a converter charges.
    """
    if not is_odd(build, load) and not (on_auxiliary(load) and has_charging_converter(build)):
        return float(load.current)
    taken_in = charging.converter_power([charging.Load(load.current, voltage=load.voltage)])
    return taken_in / build.electrics.nominal_voltage


def demand(build: Build, duty: str, *, essential_only: bool = False) -> float:
    """Average current of the consumers in one kind of running, and of the battery's recovery.

    Consumers on auxiliary batteries that an alternator of their own charges are left out.
    """
    apart = charged_apart(build)
    # what is left out is asked for: no balance comes out right without it
    wanted = [load for load in [*loads(build), *left_out(build)] if not essential_only or load.essential]
    wanted = [load for load in wanted if not (apart and on_auxiliary(load))]
    return _average(build, wanted, duty) + or_practice(lambda: build.electrics.battery_recovery, RECOVERY)


def _average(build: Build, wanted: list[Any], duty: str) -> float:
    return charging.average_current(
        [charging.Load(vehicle_current(build, load), getattr(load, duty)) for load in wanted]
    )


def on_auxiliary(load: Any) -> bool:
    """Whether a consumer hangs on the auxiliary batteries."""
    return given(lambda: load.bank) == "auxiliary"


def further_alternators(build: Build, charges: str) -> list[Any]:
    """The alternators besides the engine package's that charge one kind of batteries."""
    stated = given(lambda: list(build.electrics.alternators.values())) or []
    return [alternator for alternator in stated if is_fitted(alternator) and alternator.charges == charges]


def has_split_charging(build: Build) -> bool:
    """Whether something lets the engine's alternator charge the auxiliary batteries."""
    return (
        given(lambda: is_fitted(build.electrics.split_charging) and bool(build.electrics.split_charging.kind)) is True
    )


def has_charging_converter(build: Build) -> bool:
    """Whether a converter charges the auxiliary batteries, which takes in more than it gives."""
    return (
        given(lambda: is_fitted(build.electrics.split_charging) and build.electrics.split_charging.kind) == "converter"
    )


def charged_apart(build: Build) -> bool:
    """Whether the auxiliary batteries have an alternator of their own and nothing joins them to the starting ones."""
    return bool(further_alternators(build, "auxiliary")) and not has_split_charging(build)


def alternators(build: Build) -> list[Any]:
    """The alternators that feed the vehicle's main system together."""
    further = further_alternators(build, "starting")
    own = further if further and not is_fitted(build.engine.alternator) else [build.engine.alternator, *further]
    return own if charged_apart(build) else [*own, *further_alternators(build, "auxiliary")]


def has_electric_fan(build: Build) -> bool:
    """Whether a motor turns the radiator's fan."""
    fan = build.plumbing.cooling.fan
    return is_fitted(fan) and fan.drive == "electric"


def fan_loads(build: Build) -> list[Any]:
    """The consumers that are the radiator's electric fans, as far as there are any and the list counts them."""
    cooling = build.plumbing.cooling
    fans: list[Any] = [cooling.fan] if given(lambda: has_electric_fan(build)) else []
    fans += [cooling.second_fan] if given(lambda: is_fitted(cooling.second_fan)) else []
    names = {given(lambda fan=fan: str(fan.load)) for fan in fans}  # type: ignore[misc]
    listed = [build.electrics.loads.get(name) for name in sorted(filter(None, names))]
    return [load for load in listed if load is not None and is_fitted(load)]


def with_fan_running(build: Build, duty: str) -> float:
    """Average current wanted while the radiator's electric fans run without a pause."""
    always: list[float] = [vehicle_current(build, load) * (1.0 - getattr(load, duty)) for load in fan_loads(build)]
    return demand(build, duty) + sum(always)


def curve_of(alternator: Any) -> list[tuple[float, float]]:
    """An alternator's cold output curve as (rotor speed, current)."""
    return [(point.rotor_speed, point.current) for point in alternator.output]


def hot_output(build: Build, engine_speed: float) -> float:
    """Output of the hot alternators together at an engine speed."""
    return sum(output_of(alternator, engine_speed) for alternator in alternators(build))


def output_of(alternator: Any, engine_speed: float) -> float:
    """Output of one hot alternator at an engine speed."""
    return charging.charge_balance(engine_speed, alternator.pulley_ratio, curve_of(alternator), 0.0)


def auxiliary_output(build: Build, engine_speed: float) -> float:
    """Output of the hot alternators that charge the auxiliary batteries alone."""
    return sum(output_of(alternator, engine_speed) for alternator in further_alternators(build, "auxiliary"))


def auxiliary_demand(build: Build, duty: str) -> float:
    """Average current of the consumers on the auxiliary batteries in one kind of running."""
    return _average(build, [load for load in loads(build) if on_auxiliary(load)], duty)


@quantity(
    "power.output-idle",
    "current",
    "A",
    formula="0.85 · curve(n_idle · pulley ratio)",
    symbols={"n_idle": "engine.speed.idle", "pulley ratio": "engine.alternator.pulley_ratio"},
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
    symbols={"pulley ratio": "engine.alternator.pulley_ratio"},
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
    symbols={"n_stationary": "build.duty.stationary_speed", "pulley ratio": "engine.alternator.pulley_ratio"},
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


@quantity(
    "power.balance-idle",
    "current",
    "A",
    formula="output - demand",
    symbols={"output": "power.output-idle", "demand": "power.demand-idle"},
    sources=[*OUTPUT_SOURCES, *DEMAND_SOURCES],
)
def balance_idle(build: Build) -> float:
    """Charging current over (positive) or short (negative) at idle."""
    return output_idle(build) - demand_idle(build)


@quantity(
    "power.balance-cruise",
    "current",
    "A",
    formula="output - demand",
    symbols={"output": "power.output-cruise", "demand": "power.demand-cruise"},
    sources=[*OUTPUT_SOURCES, *DEMAND_SOURCES],
)
def balance_cruise(build: Build) -> float:
    """Charging current over (positive) or short (negative) under way."""
    return output_cruise(build) - demand_cruise(build)


@quantity(
    "power.balance-stationary",
    "current",
    "A",
    formula="output - demand",
    symbols={"output": "power.output-stationary", "demand": "power.demand-stationary"},
    sources=[*OUTPUT_SOURCES, *DEMAND_SOURCES],
)
def balance_stationary(build: Build) -> float:
    """Charging current over (positive) or short (negative) in standing work."""
    return output_stationary(build) - demand_stationary(build)


@quantity(
    "power.converter-demand",
    "power",
    "W",
    formula="Σ I · U/0.9 over the consumers of another voltage, all on together",
    sources=[CONVERTERS.giving("formula")],
)
def converter_demand(build: Build) -> float:
    """Power that converters must take in to feed the consumers of another voltage."""
    return taken_in([load for load in loads(build) if is_odd(build, load)])


def taken_in(fed: list[Any]) -> float:
    """Power that converters take in to feed some consumers, all on together."""
    return charging.converter_power([charging.Load(load.current, voltage=load.voltage) for load in fed])
