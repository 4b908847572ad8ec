"""Rules of auxiliary batteries: what charges them, and what keeps them from the starting ones."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    name_of,
    path_of,
    practice,
    rule,
    sheet,
    shown,
)

from ..gearing.quantities import cruise_speed_engine
from . import charging_quantities as c
from . import key, network, unsaid

SPLIT = practice(
    "a separator that bears the alternator's current, closed in run only, with little voltage lost over it"
)
OWN_BALANCE = practice(
    "an alternator of its own covers the auxiliary consumers at idle, with a fifth in hand under way"
)
IN_HAND = 1.2
"""Output over demand at cruise: common practice."""
DROP = 0.25
"""Volts that may be lost over a separator in a 12 V system: as for a charge cable, common practice."""

DEVICE = "electrics.split_charging"
SECOND_BATTERY = {
    "electrics.batteries.main.mass": "18 kg",
    "electrics.batteries.second": {
        "use": "auxiliary",
        "voltage": "12 V",
        "cca": "300 A",
        "cca_standard": "EN 50342-1",
        "capacity": "30 Ah",
        "mass": "8 kg",
        "temperature_max": "60 degC",
        "place": "frame",
        "place_temperature": "40 degC",
        "hold_down_bolts": 2,
        "hold_down_bolt": "M8",
        "covered": True,
        "vented_outside": True,
        "relative_to_tank": "apart",
    },
    DEVICE: {
        "kind": "relay",
        "closed_by": ["key-accessory"],
        "rating": "150 A",
        "drop": "0.1 V",
        "sense_behind": False,
    },
}
"""A second battery behind a relay that the key closes, on a terminal that dies in crank."""


@rule(
    "power.split-charging",
    level="error",
    due="quote",
    sources=[
        sheet(f"{DEVICE}.rating"),
        sheet(f"{DEVICE}.drop"),
        sheet("engine.alternator.rated_current"),
        SPLIT.giving("limit", "open in off and in crank, 0.25 V lost at 12 V"),
    ],
    cautions=[cautions.BATTERY_ARC, cautions.FUEL_FIRE],
    adjust=[f"{DEVICE}.rating"],
    about=DEVICE,
    without={
        **unsaid.BATTERY_USE,
        **unsaid.NO_RELAY,
        "electrics.loads.*.bank": "A consumer that names no batteries hangs on those that start the engine.",
    },
    bad=[
        {**SECOND_BATTERY, DEVICE: {"fitted": False}},
        {**SECOND_BATTERY, f"{DEVICE}.rating": "70 A"},
        {**SECOND_BATTERY, f"{DEVICE}.closed_by": ["key-run"]},
        {**SECOND_BATTERY, f"{DEVICE}.kind": "diodes", f"{DEVICE}.drop": "0.8 V"},
        {**SECOND_BATTERY, f"{DEVICE}.kind": "converter", f"{DEVICE}.output_voltage": "24 V"},
    ],
    good=[
        SECOND_BATTERY,
        {**SECOND_BATTERY, f"{DEVICE}.kind": "diodes", f"{DEVICE}.drop": "0.8 V", f"{DEVICE}.sense_behind": True},
        {**SECOND_BATTERY, f"{DEVICE}.kind": "converter", f"{DEVICE}.output_voltage": "12 V"},
    ],
)
def split_charging(build: Build) -> Verdict:
    """Are the auxiliary batteries charged, and kept apart from the starting ones at rest and in cranking?

    Computes: in which positions of the key what closes the separator is live; its rating against what the alternators
    give.
    Limit: a separator, or an alternator of their own: an error without. Their voltage is what charges them: an error. A
    relay is closed in run, and open in off and in crank, where else the starter's current runs through its cable; it
    and a block of diodes bear the alternator's rated current, which a flat battery takes. No more than 0.25 V is lost
    over it at 12 V, 0.5 V at 24 V, unless the alternator makes good for it. Warnings, by common practice.
    Consequence: The auxiliary batteries stay flat, or take the starting ones down with them.
    Remedy: a relay that the charging voltage closes, or one closed by the alternator's excitation terminal; diodes of
    low loss; a converter for batteries of another kind or voltage.
    Cannot tell: batteries of another chemistry, which take a converter made for them. What a converter takes in counts
    in the charge balance with the consumers behind it. Each cable takes a fuse at each battery: see power.main-fuse.
    """
    batteries = network.auxiliaries(build)
    if not batteries:
        on_none = [load for load in given(lambda: c.loads(build)) or [] if c.on_auxiliary(load)]
        if on_none:
            says = f"The consumer {name_of(on_none[0])} is said to hang on auxiliary batteries, and none is stated."
            return all_of(there=lambda: holds(False, says, on=f"{path_of(on_none[0])}.bank"))
        return does_not_apply("No auxiliary battery is stated.")
    own = c.further_alternators(build, "auxiliary")
    device = build.electrics.split_charging
    if not is_fitted(device):
        says = (
            "An alternator of their own charges the auxiliary batteries."
            if own
            else ("Nothing charges the auxiliary batteries: fit a separator, or an alternator of their own.")
        )
        return all_of(
            charged=lambda: holds(bool(own), says, on=DEVICE),
            voltage=lambda: _right_voltage(
                build, batteries, own[0].voltage if own else build.electrics.nominal_voltage
            ),
        )
    kind = device.kind
    gives = device.output_voltage if kind == "converter" else build.electrics.nominal_voltage
    demands: dict[str, Callable[[], Verdict]] = {
        "charged": lambda: holds(True, "A separator lets the alternator charge the auxiliary batteries.", on=DEVICE),
        "voltage": lambda: _right_voltage(build, batteries, gives),
    }
    if kind in ("relay", "converter"):
        demands["closed"] = lambda: _closed_when_it_must(build, device)
    if kind != "converter":
        demands["rating"] = lambda: _bears(build, device)
        demands["drop"] = lambda: _little_lost(build, device)
    return all_of(demands)


def _right_voltage(build: Build, batteries: list[Any], gives: float) -> Verdict:
    """The auxiliary batteries for the voltage that charges them; several may stand in series."""
    first = batteries[0]
    series = max(1, round(gives / first.voltage))
    alike = all(c.same_voltage(battery.voltage * series, gives) for battery in batteries)
    says = f"{len(batteries)} of {shown(first.voltage)}, {series} in series, are charged with {shown(gives)} nominal."
    return holds(alike and len(batteries) % series == 0, says, on=f"{path_of(first)}.voltage")


def _closed_when_it_must(build: Build, device: Any) -> Verdict:
    """A relay, or a converter that something wakes: at work in run, not in off, a relay not in crank either."""
    coils = list(device.closed_by)
    at_work = [
        position
        for position in ("off", "run", "crank")
        if not key.live(build, position).isdisjoint(coils) or (position == "run" and key.EXCITATION in coils)
    ]
    what = "The separator" if device.kind == "relay" else "The converter"
    wrong = [position for position in at_work if position == "off" or (position == "crank" and device.kind == "relay")]
    on, named = f"{DEVICE}.closed_by", ", ".join(coils) or "nothing"
    if "run" not in at_work:
        return holds(False, f"{what} hangs on {named}, which is dead in run: it never works.", level="warning", on=on)
    says = f"{what} hangs on {named} and works in {', '.join(at_work)}."
    if wrong:
        must = "be open in off and in crank" if device.kind == "relay" else "rest in off"
        says += f" It must {must}: take the alternator's excitation terminal."
    return holds(not wrong, says, level="warning", on=on)


def _bears(build: Build, device: Any) -> Verdict:
    charging = [build.engine.alternator, *c.further_alternators(build, "starting")]
    gives = sum(alternator.rated_current for alternator in charging)
    says = f"The separator bears {shown(device.rating)}; the alternator gives {shown(gives, 'current', 'A')} at most."
    on = f"{DEVICE}.rating"
    return at_least(device.rating, gives, says, level="warning", on=on, unit=("current", "A"), advice=advice(on, gives))


def _little_lost(build: Build, device: Any) -> Verdict:
    limit, on = DROP * build.electrics.nominal_voltage / 12.0, f"{DEVICE}.drop"
    says = f"{shown(device.drop)} are lost over the separator"
    if device.drop > limit and device.sense_behind:
        return holds(True, f"{says}, for which the alternator makes good.", on=on)
    return at_most(device.drop, limit, f"{says}: so much less charges the batteries.", level="warning", on=on)


# -- an alternator for the auxiliary batteries ------------------------------------------------------------------------
ANOTHER = {
    **SECOND_BATTERY,
    DEVICE: {"fitted": False},
    "electrics.loads.fan.bank": "auxiliary",
    "electrics.alternators.second": {
        "charges": "auxiliary",
        "voltage": "12 V",
        "rated_current": "80 A",
        "pulley_ratio": 2.8,
        "speed_min": "1800 r/min",
        "speed_max": "18000 r/min",
        "output": [
            {"rotor_speed": "1500 r/min", "current": "0 A"},
            {"rotor_speed": "3000 r/min", "current": "55 A"},
            {"rotor_speed": "6000 r/min", "current": "80 A"},
        ],
    },
}

ELSEWHERE = {"electrics.loads.fan.fed_by": ["heater"]}
"""Names a cable that is thick enough for the consumer of the example."""


@rule(
    "power.auxiliary-balance",
    level="warning",
    due="quote",
    sources=[
        sheet("electrics.alternators.*.output"),
        c.HOT.giving("formula", "output of a hot alternator"),
        OWN_BALANCE.giving("limit", "not negative at idle, a fifth in hand else"),
    ],
    cautions=[cautions.ROTATING],
    about="electrics.alternators",
    without={
        **unsaid.STANDING_WORK,
        "electrics.alternators": "Where no other alternator is stated, power.split-charging asks what charges the "
        "auxiliary batteries.",
        "electrics.loads.*.bank": "A consumer that names no batteries counts with the starting ones, in "
        "power.charge-balance.",
    },
    bad=[{**ANOTHER, "electrics.loads.fan.current": "80 A", "electrics.loads.fan.duty_idle": "100 %", **ELSEWHERE}],
    good=[ANOTHER],
)
def auxiliary_balance(build: Build) -> Verdict:
    """Does the alternator of the auxiliary batteries cover the consumers that hang on them?

    Computes: output of the hot alternator, 0.85·curve(n·pulley ratio), against Σ I·duty of the consumers whose `bank`
    is auxiliary, where no separator joins the batteries. Else all count together in power.charge-balance.
    Limit: common practice: not negative at idle, 20 % in hand at cruise and, where the build has a stationary speed, in
    standing work.
    Consequence: The auxiliary batteries go flat at work or under way.
    Remedy: a larger alternator, a smaller pulley, a separator that lets the other alternator help.
    Cannot tell: what the batteries take to recover; consumers that are not listed.
    """
    if not c.charged_apart(build):
        return does_not_apply("No alternator charges auxiliary batteries alone.")
    duty = build.build.duty
    demands: dict[str, Callable[[], Verdict]] = {
        "idle": lambda: _covers(build, build.engine.speed.idle, "duty_idle", "At idle", 1.0),
        "cruise": lambda: _covers(build, cruise_speed_engine(build), "duty_cruise", "At cruising speed", IN_HAND),
    }
    if given(lambda: duty.stationary_speed) is not None:
        demands["standing-work"] = lambda: _covers(
            build, duty.stationary_speed, "duty_stationary", "In standing work", IN_HAND
        )
    return all_of(demands)


def _covers(build: Build, speed: float, duty: str, when: str, in_hand: float) -> Verdict:
    found, wanted = c.auxiliary_output(build, speed), c.auxiliary_demand(build, duty)
    says = f"{when} {shown(found, 'current', 'A')} are charged and {shown(wanted, 'current', 'A')} are wanted"
    says += "." if in_hand == 1.0 else " and a fifth more in hand."
    return at_least(found, in_hand * wanted, says, unit=("current", "A"), scale=max(found, 1.0))
