"""Rules of the vehicle's voltage and its charge balance."""

from __future__ import annotations

import math
from typing import Any

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_least,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    name_of,
    owner,
    path_of,
    practice,
    rule,
    sheet,
    shown,
)
from swaplint.engineering import charging as balance

from . import charging_quantities as c
from . import network, units, unsaid
from . import quantities as q

ONE_VOLTAGE = practice("all parts share the vehicle's nominal voltage, or a converter feeds the odd ones")
BALANCE = practice("charge balance not negative at idle, 20 % in hand at cruise and in standing work")
IN_HAND = 1.2
"""Output over demand at cruise and in standing work: common practice."""


@rule(
    "power.system-voltage",
    level="error",
    due="plan",
    sources=[
        ONE_VOLTAGE.giving("limit", "one voltage; parts marked 14 V in a 12 V system, 28 V in a 24 V one"),
        c.CONVERTERS.giving("formula", "power that a converter takes in"),
    ],
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
    be the consumer's, and the power of the converters of one voltage at least what the consumers of that voltage take.
    One may feed the control unit, too, which then stands in the list of consumers; else the currents of its feeds
    count.
    Consequence: Parts burn out on too high a voltage, or do not work on too low a one.
    Remedy: change the part, or fit a converter of the power that its consumers take; never a dropper resistor, and no
    tap between two batteries in series.
    Cannot tell: the voltage of old parts without a mark. Measure the resistance of the coil.
    """
    nominal = build.electrics.nominal_voltage

    def suits(what: str, stated: float, on: str) -> Verdict:
        same = c.same_voltage(stated, nominal)
        says = f"{what} is for {shown(stated)}, the vehicle has {shown(nominal)}"
        return holds(same, f"{says}." if same else f"{says}: fit one for {shown(nominal)}, or a converter.", on=on)

    engine, demands = build.engine, {"batteries": lambda: _bank_suits(build)}
    if given(lambda: is_fitted(engine.starter)) is not False:
        demands["starter"] = lambda: suits("The starter", engine.starter.voltage, "engine.starter.voltage")
    if given(lambda: is_fitted(engine.alternator)) is not False:
        demands["alternator"] = lambda: suits("The alternator", engine.alternator.voltage, "engine.alternator.voltage")
    for further in network.further_alternators(build):
        on = f"{path_of(further)}.voltage"
        if further.charges == "starting":  # that of auxiliary batteries: see power.split-charging
            demands[f"alternator.{name_of(further)}"] = lambda further=further, on=on: suits(  # type: ignore[misc]
                f"The alternator {name_of(further)}", further.voltage, on
            )
    if given(lambda: is_fitted(engine.ecm)) is not False:
        demands["control-unit"] = lambda: (
            _fed_by_converter(build) or suits("The engine's control unit", engine.ecm.voltage, "engine.ecm.voltage")
        )
    for unit in units.others(build):
        if not units.is_kept(unit) and given(lambda unit=unit: unit.voltage) is not None:  # type: ignore[misc]
            called = units.called(unit)
            demands[f"controller.{name_of(unit)}"] = (
                lambda unit=unit, called=called: (  # type: ignore[misc]
                    _given_by_converter(build, unit, called)
                    or suits(f"{called[0].upper()}{called[1:]}", unit.voltage, f"{path_of(unit)}.voltage")
                )
            )
    demands["consumers"] = lambda: _odd_loads_are_fed(build)
    if given(lambda: _fed_by_converter(build) is not None and not _listed(build)):
        demands["control-unit-power"] = lambda: _bears_control_unit(build)
    if given(lambda: bool(_odd_loads(build)) and bool(_converters(build))):
        demands["converter-power"] = lambda: _strong_enough(build)
    return all_of(demands)


def _bank_suits(build: Build) -> Verdict:
    found = q.starting_batteries(build)
    nominal = build.electrics.nominal_voltage
    series = max(1, round(nominal / found[0].voltage))
    alike = all(c.same_voltage(battery.voltage * series, nominal) for battery in found)
    volts = " and ".join(dict.fromkeys(f"{shown(battery.voltage)}" for battery in found))
    says = f"{len(found)} of {volts}, {series} in series, in a vehicle of {shown(nominal)}."
    return holds(alike and len(found) % series == 0, f"Starting batteries: {says}", on="electrics.batteries")


def _converters(build: Build) -> list[Any]:
    return [part for part in build.electrics.converters.values() if is_fitted(part)]


def _fed_by_converter(build: Build) -> Verdict | None:
    """The verdict where the engine's control unit is for another voltage and a converter gives it."""
    return _given_by_converter(build, build.engine.ecm, "the engine's control unit")


def _given_by_converter(build: Build, unit: Any, called: str) -> Verdict | None:
    """The verdict where a control unit is for another voltage and a converter gives it."""
    wanted = unit.voltage
    if c.same_voltage(wanted, build.electrics.nominal_voltage):
        return None
    stated = given(lambda: _converters(build)) or []
    if not any(c.same_voltage(part.output_voltage, wanted) for part in stated):
        return None
    return holds(True, f"A converter gives {called} its {shown(wanted)}.")


def _listed(build: Build) -> bool:
    """Whether the list of consumers has one of the control unit's voltage, which stands for it."""
    return any(c.same_voltage(load.voltage, build.engine.ecm.voltage) for load in _odd_loads(build))


def _bears_control_unit(build: Build) -> Verdict:
    """The converters that feed the control unit alone against the current of its feeds."""
    unit = build.engine.ecm
    feeding = [part for part in _converters(build) if c.same_voltage(part.output_voltage, unit.voltage)]
    takes = sum(feed.current for feed in unit.feeds.values())
    needed = balance.converter_power([balance.Load(takes, voltage=unit.voltage)])
    power, on = sum(part.power for part in feeding), f"{path_of(feeding[0])}.power"
    says = (
        f"The engine's control unit takes {shown(needed, 'power', 'W')} through its converter, made for "
        f"{shown(power, 'power', 'W')}: and no consumer of {shown(unit.voltage)} counts it in the charge balance."
    )
    help = advice(on, needed) if len(feeding) == 1 else None
    return at_least(power, needed, says, on=on, unit=("power", "W"), advice=help)


def _odd_loads(build: Build) -> list[Any]:
    return [load for load in c.loads(build) if c.is_odd(build, load)]


def _odd_loads_are_fed(build: Build) -> Verdict:
    nominal, odd = build.electrics.nominal_voltage, _odd_loads(build)
    if not odd:
        return holds(True, f"Every consumer is for {shown(nominal)}.")
    converters = _converters(build)
    unfed = [load for load in odd if not any(c.same_voltage(part.output_voltage, load.voltage) for part in converters)]
    if not unfed:
        return holds(True, f"Converters give the consumers that are not for {shown(nominal)} their voltage.")
    listed = ", ".join(f"{name_of(load)} for {shown(load.voltage)}" for load in unfed)
    says = f"The vehicle has {shown(nominal)}, and no converter gives other consumers their voltage: {listed}."
    if not converters:
        says += f" They take {shown(math.ceil(c.converter_demand(build)), 'power', 'W')} through one, all on together."
    return holds(False, says, on=f"{path_of(unfed[0])}.voltage")


def _fed_alike(build: Build) -> list[tuple[list[Any], list[Any]]]:
    """Converters that give the same voltage, with the consumers of that voltage."""
    found: list[tuple[list[Any], list[Any]]] = []
    for part in _converters(build):
        group = next((g for g, _ in found if c.same_voltage(part.output_voltage, g[0].output_voltage)), None)
        if group is not None:
            group.append(part)
            continue
        fed = [load for load in _odd_loads(build) if c.same_voltage(part.output_voltage, load.voltage)]
        found.append(([part], fed))
    return [(converters, fed) for converters, fed in found if fed]


def _strong_enough(build: Build) -> Verdict:
    """The verdict on the converters of the voltage that has the least power in hand."""
    groups = _fed_alike(build)
    if not groups:
        return does_not_apply("No converter gives a voltage that a consumer needs.")
    converters, fed = min(groups, key=lambda group: sum(part.power for part in group[0]) / c.taken_in(group[1]))
    needed, power = c.taken_in(fed), sum(part.power for part in converters)
    first, on = converters[0], f"{path_of(converters[0])}.power"
    return at_least(
        power,
        needed,
        f"The consumers for {shown(fed[0].voltage)} take {shown(needed, 'power', 'W')} through their converters, all "
        f"on together; those are made for {shown(power, 'power', 'W')}.",
        on=on,
        unit=("power", "W"),
        advice=advice(on, first.power + needed - power),
    )


@rule(
    "power.charge-balance",
    level="error",
    due="quote",
    sources=[
        sheet("engine.alternator.output"),
        owner("build.duty.stationary_speed"),
        c.HOT.giving("formula", "output of a hot alternator"),
        BALANCE.giving("limit", "not negative at idle, a fifth in hand else"),
    ],
    cautions=[cautions.ROTATING],
    fallbacks=[c.RECOVERY],
    adjust=["engine.alternator.pulley_ratio", "engine.speed.idle"],
    about="electrics.loads",
    without=unsaid.STANDING_WORK,
    instead=unsaid.TYRES,
    bad=[
        {"electrics.loads.lamps.current": "60 A", "electrics.loads.lamps.fed_by": ["heater"]},
        {"electrics.battery_recovery": "28 A"},
    ],
    good=[{"electrics.loads.lamps.current": "10 A"}],
)
def charge_balance(build: Build) -> Verdict:
    """Does the alternator cover the consumers at idle, at cruise and in standing work?

    Computes: output of the hot alternators, 0.85·curve(n·pulley ratio) each, against Σ I·duty and the battery's
    recovery, with the consumers of a wet night, those behind a converter with what that takes for itself; at idle and
    in standing work also while an electric radiator fan runs without a pause, as in a queue on a hot day.
    Limit: common practice: not negative at idle (a warning) or with the fan running, 20 % in hand at cruising speed
    and, where the build has a stationary speed, in standing work (an error): the battery goes flat otherwise.
    Consequence: The battery goes flat under way, in a queue or at work, and the next start fails.
    Remedy: a higher idle speed, a smaller alternator pulley, a larger alternator, or consumers that
    are shed at idle. The rated output is never reached at idle.
    Lamps, wipers and the engine's control unit are asked for where the list has none of them: see
    power.consumers-counted.
    Cannot tell: belt slip, and duties other than those stated; other consumers that are not listed.
    """
    demands = {"idle": lambda: _at_idle(build), "cruise": lambda: _at_cruise(build)}
    fan = next(iter(c.fan_loads(build)), None)
    if fan is None and given(lambda: c.has_electric_fan(build)) is None:
        demands["idle-with-fan"] = lambda: _fan_unknown(build)
    if fan is not None:
        demands["idle-with-fan"] = lambda: _at_idle(build, fan)
    if given(lambda: build.build.duty.stationary_speed) is not None:
        if fan is not None:
            demands["standing-work-with-fan"] = lambda: _in_standing_work_with(build, fan)
        demands["standing-work"] = lambda: _in_standing_work(build)
    return all_of(demands)


def _fan_unknown(build: Build) -> Verdict:
    """Asks what drives the radiator's fan, which ends the demand."""
    c.has_electric_fan(build)
    return does_not_apply("No motor turns the fan.")


def _at_idle(build: Build, fan: Any | None = None) -> Verdict:
    """The balance at idle; with the radiator's electric fan running all the time where that is given."""
    found, wanted = c.output_idle(build), c.demand_idle(build) if fan is None else c.demand_idle_hot(build)
    running = "" if fan is None else " with the radiator's fan running"
    return at_least(
        found,
        wanted,
        f"At idle{running} {_balance(found, wanted)}.{_idle_help(build, wanted)}",
        level="warning",
        on="" if fan is None else f"{path_of(fan)}.current",
        advice=advice("engine.speed.idle", _covering_speed(build, wanted) or None),
    )


def _at_cruise(build: Build) -> Verdict:
    found, wanted = c.output_cruise(build), c.demand_cruise(build)
    says = f"At cruising speed {_balance(found, wanted)}, and a fifth more in hand."
    return at_least(found, IN_HAND * wanted, says)


def _in_standing_work(build: Build) -> Verdict:
    found, wanted = c.output_stationary(build), c.demand_stationary(build)
    says = f"In standing work {_balance(found, wanted)}, and a fifth more in hand."
    return at_least(found, IN_HAND * wanted, says)


def _in_standing_work_with(build: Build, fan: Any) -> Verdict:
    found, wanted = c.output_stationary(build), c.demand_stationary_hot(build)
    says = f"In standing work with the radiator's fan running {_balance(found, wanted)}."
    return at_least(found, wanted, says, on=f"{path_of(fan)}.current")


def _balance(found: float, wanted: float) -> str:
    return f"{shown(found, 'current', 'A')} are charged and {shown(wanted, 'current', 'A')} are wanted"


def _covering_speed(build: Build, wanted: float) -> float | None:
    """The engine speed from which the alternator covers a current; None where none does."""
    alternator = build.engine.alternator
    if len(c.alternators(build)) > 1:
        return None  # several curves add up: the search for remedies finds the speed
    return balance.balance_speed(alternator.pulley_ratio, c.curve_of(alternator), wanted)


def _idle_help(build: Build, wanted: float) -> str:
    lone = len(c.alternators(build)) == 1
    says = " The alternator covers that at no engine speed." if lone and _covering_speed(build, wanted) is None else ""
    shed = given(lambda: c.demand_idle(build) - c.demand(build, "duty_idle", essential_only=True))
    return says if not shed else f"{says} {shown(shed, 'current', 'A')} of it are not essential."
