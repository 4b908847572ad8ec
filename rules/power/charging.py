"""Rules of the vehicle's voltage and its charge balance."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    at_least,
    cautions,
    given,
    holds,
    is_fitted,
    owner,
    path_of,
    practice,
    rule,
    sheet,
    shown,
)
from swaplint.engineering import charging as balance

from .. import sources
from . import charging_quantities as c
from . import quantities as q

ONE_VOLTAGE = practice("all parts share the vehicle's nominal voltage, or a converter feeds the odd ones")
BALANCE = practice("charge balance not negative at idle, 20 % in hand at cruise and in standing work")
IN_HAND = 1.2
"""Output over demand at cruise and in standing work: common practice."""


@rule(
    "power.system-voltage",
    level="error",
    due="plan",
    sources=[ONE_VOLTAGE, c.CONVERTERS],
    cautions=[cautions.BATTERY_ARC],
    about="electrics.nominal_voltage",
    bad=[
        {"engine.starter.voltage": "24 V"},
        {"electrics.loads.radio.voltage": "24 V", "electrics.converters": {}},
        {
            "electrics.loads.radio.voltage": "24 V",
            "electrics.converters": {"radio": {"output_voltage": "24 V", "power": "20 W"}},
        },
    ],
    good=[
        {"engine.alternator.voltage": "14 V"},
        {
            "electrics.loads.radio.voltage": "24 V",
            "electrics.converters": {"radio": {"output_voltage": "24 V", "power": "120 W"}},
        },
    ],
)
def system_voltage(build: Build) -> Verdict:
    """Do all parts share the vehicle's nominal voltage, or does a converter feed those that do not?

    Computes: each part's voltage against the vehicle's; batteries in series; for consumers of another voltage the
    power that a converter takes in, Σ I·U/0.9.
    Limit: equal. Parts marked 14 V suit a 12 V system and parts marked 28 V a 24 V system. A converter's voltage must
    be the consumer's, and the converters' power at least what their consumers take. One may feed the control unit, too,
    which then stands in the list of consumers.
    Consequence: Parts burn out on too high a voltage, or do not work on too low a one.
    Remedy: change the part, or fit a converter of the power that the sentence names; never a dropper resistor, and no
    tap between two batteries in series.
    Cannot tell: the voltage of old parts without a mark. Measure the resistance of the coil.
    """
    nominal = build.electrics.nominal_voltage
    demands: list[Verdict | Callable[[], Verdict]] = []

    def suits(what: str, stated: float, on: str) -> Verdict:
        return holds(
            c.same_voltage(stated, nominal), f"{what} is for {shown(stated)}, the vehicle has {shown(nominal)}.", on=on
        )

    demands.append(lambda: _bank_suits(build))
    engine = build.engine
    if given(lambda: is_fitted(engine.starter)) is not False:
        demands.append(lambda: suits("The starter", engine.starter.voltage, "engine.starter.voltage"))
    if given(lambda: is_fitted(engine.alternator)) is not False:
        demands.append(lambda: suits("The alternator", engine.alternator.voltage, "engine.alternator.voltage"))
    if given(lambda: is_fitted(engine.ecm)) is not False:
        demands.append(
            lambda: (
                _fed_by_converter(build) or suits("The engine's control unit", engine.ecm.voltage, "engine.ecm.voltage")
            )
        )
    demands.append(lambda: _odd_loads_are_fed(build))
    return all_of(*demands)


def _bank_suits(build: Build) -> Verdict:
    found = q.starting_batteries(build)
    nominal = build.electrics.nominal_voltage
    series = max(1, round(nominal / found[0].voltage))
    alike = all(c.same_voltage(battery.voltage * series, nominal) for battery in found)
    says = f"{len(found)} of {shown(found[0].voltage)}, {series} in series, in a vehicle of {shown(nominal)}."
    return holds(alike and len(found) % series == 0, f"Starting batteries: {says}", on="electrics.batteries")


def _converters(build: Build) -> list[Any]:
    return [part for part in build.electrics.converters.values() if is_fitted(part)]


def _fed_by_converter(build: Build) -> Verdict | None:
    """The verdict where the control unit is for another voltage and a converter gives it."""
    wanted = build.engine.ecm.voltage
    if c.same_voltage(wanted, build.electrics.nominal_voltage):
        return None
    stated = given(lambda: _converters(build)) or []
    if not any(c.same_voltage(part.output_voltage, wanted) for part in stated):
        return None
    return holds(True, f"A converter gives the engine's control unit its {shown(wanted)}.")


def _odd_loads_are_fed(build: Build) -> Verdict:
    odd = [load for load in c.loads(build) if c.is_odd(build, load)]
    if not odd:
        return holds(True, f"Every consumer is for {shown(build.electrics.nominal_voltage)}.")
    converters = _converters(build)
    needed = c.converter_demand(build)
    for load in odd:
        if not any(c.same_voltage(part.output_voltage, load.voltage) for part in converters):
            return holds(
                False,
                f"The consumer is for {shown(load.voltage)}, the vehicle has {shown(build.electrics.nominal_voltage)}, "
                f"and no converter gives it. All such consumers together take {shown(needed)} through one.",
                on=f"{path_of(load)}.voltage",
            )
    return at_least(
        sum(part.power for part in converters),
        needed,
        f"The consumers of another voltage take {shown(needed)} through their converters, all on together.",
        on=f"{path_of(converters[0])}.power",
        unit=("power", "W"),
    )


@rule(
    "power.charge-balance",
    level="error",
    due="quote",
    sources=[
        sheet("engine.alternator.output"),
        owner("build.duty.stationary_speed"),
        sources.ALTERNATOR_CURVE,
        c.HOT,
        BALANCE,
    ],
    cautions=[cautions.ROTATING],
    fallbacks=[c.RECOVERY],
    adjust=["engine.alternator.pulley_ratio", "engine.speed.idle"],
    about="electrics.loads",
    bad=[{"electrics.loads.lamps.current": "60 A"}, {"electrics.battery_recovery": "28 A"}],
    good=[{"electrics.loads.lamps.current": "10 A"}],
)
def charge_balance(build: Build) -> Verdict:
    """Does the alternator cover the consumers at idle, at cruise and in standing work?

    Computes: output of the hot alternator, 0.85·curve(n·pulley ratio), against Σ I·duty and the battery's recovery,
    with the consumers of a wet night; at idle and in standing work also while an electric radiator fan runs without a
    pause, as in a queue on a hot day.
    Limit: common practice: not negative at idle (a warning) or with the fan running, 20 % in hand at cruising speed
    and, where the build has a stationary speed, in standing work (an error): the battery goes flat otherwise.
    Consequence: The battery goes flat under way, in a queue or at work, and the next start fails.
    Remedy: the idle speed that the sentence names, a smaller alternator pulley, a larger alternator, or consumers that
    are shed at idle. The rated output is never reached at idle.
    Cannot tell: belt slip, and duties other than those stated; consumers that are not listed: see
    power.consumers-counted.
    """
    demands: list[Verdict | Callable[[], Verdict]] = [
        lambda: at_least(
            c.output_idle(build),
            c.demand_idle(build),
            f"At idle {shown(c.output_idle(build))} against {shown(c.demand_idle(build))} wanted. "
            f"{_idle_help(build, c.demand_idle(build))}",
            level="warning",
        ),
        lambda: at_least(
            c.output_cruise(build),
            IN_HAND * c.demand_cruise(build),
            f"At cruising speed {shown(c.output_cruise(build))} against {shown(c.demand_cruise(build))} wanted and a "
            "fifth more in hand.",
        ),
    ]
    fan = c.fan_load(build)
    if fan is not None:
        on = f"{path_of(fan)}.current"
        demands.append(
            lambda: at_least(
                c.output_idle(build),
                c.demand_idle_hot(build),
                f"At idle with the radiator's fan running {shown(c.output_idle(build))} against "
                f"{shown(c.demand_idle_hot(build))} wanted. {_idle_help(build, c.demand_idle_hot(build))}",
                level="warning",
                on=on,
            )
        )
    if given(lambda: build.build.duty.stationary_speed) is not None:
        if fan is not None:
            demands.append(
                lambda: at_least(
                    c.output_stationary(build),
                    c.demand_stationary_hot(build),
                    f"In standing work with the radiator's fan running {shown(c.output_stationary(build))} against "
                    f"{shown(c.demand_stationary_hot(build))} wanted.",
                    on=on,
                )
            )
        demands.append(
            lambda: at_least(
                c.output_stationary(build),
                IN_HAND * c.demand_stationary(build),
                f"In standing work {shown(c.output_stationary(build))} against {shown(c.demand_stationary(build))} "
                "wanted and a fifth more in hand.",
            )
        )
    return all_of(*demands)


def _idle_help(build: Build, wanted: float) -> str:
    covers = balance.balance_speed(build.engine.alternator.pulley_ratio, c.output_table(build), wanted)
    says = (
        f"The alternator covers that from {shown(covers, 'rotation', 'r/min')} of the engine on."
        if covers is not None and covers * 30 / math.pi >= 1.0
        else "The alternator covers that at no engine speed."
    )
    shed = given(lambda: c.demand_idle(build) - c.demand(build, "duty_idle", essential_only=True))
    return says if not shed else f"{says} {shown(shed, 'current', 'A')} of it are not essential."
