"""Rules of the fan: the air that it moves under way, in standing work and in a queue, and the speed that it stands."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
    given,
    holds,
    is_fitted,
    name_of,
    needs_review,
    path_of,
    practice,
    rule,
    sheet,
    shown,
)
from swaplint.engineering import fans
from swaplint.spec.systems.cooling import HeatPoint

from .. import sources
from ..places import Place, places
from . import fan_quantities as q
from .heat_quantities import CELSIUS
from .points import air_at, fan_points, words
from .worst import worst_place

FAN = "plumbing.cooling.fan"
FAN_RATIO = f"{FAN}.ratio"
COVERAGE = 0.85
"""Least share of the core under the shroud: common practice."""
COVERAGE_PRACTICE = practice("a shroud covers at least 85 % of the core").giving("limit", "85 % of the core")
CHARGING = 1.25
"""How many times its nominal voltage a system has at most while the alternator charges: 15 V of 12 V."""
CHARGED = practice("a 12 V system has 15 V at most while it charges, a 24 V one 30 V").giving(
    "limit", "15 V of 12 V, 30 V of 24 V", demands=["voltage"]
)
COUNTED_ON = practice("a fan moves the air that the radiator is counted on").giving("limit", "air counted on")
QUEUE = practice("every engine that drives on roads stands idling in queues, hot from the drive")


@rule(
    "cooling.fan-flow",
    level="error",
    due="build",
    sources=[
        sheet("plumbing.cooling.fan.speed_max"),
        sheet("engine.speed.overspeed_max").giving("formula", "highest speed that the engine is driven to"),
        sheet("engine.fan.electric_allowed"),
        sheet("engine.coolant.top_tank_max"),
        COUNTED_ON,
        CHARGED,
        COVERAGE_PRACTICE,
        QUEUE.giving("limit", "a fan, or air that passes without one"),
        sheet("plumbing.cooling.fan.curve").giving("formula", "curve of the fan"),
        sources.FAN_LAWS.giving("formula", "flow and pressure at another speed"),
        sources.COMPACT_HEAT_EXCHANGERS.giving("formula", "effectiveness over transfer units, crossflow"),
    ],
    cautions=[cautions.ROTATING],
    about=FAN,
    adjust=[FAN_RATIO, f"{FAN}.shroud_coverage"],
    fallbacks=[q.IDLE_HEAT],
    bad=[
        {FAN_RATIO: 0.7},
        {f"{FAN}.drive": "engine"},
        {f"{FAN}.shroud_coverage": "60 %"},
        {"plumbing.cooling.air_path.core.drop": "1500 Pa"},
        {"plumbing.cooling.air.idle.flow": "0.07 kg/s"},
    ],
    good=[
        {FAN_RATIO: 1.35},
        {
            f"{FAN}.drive": "electric",
            f"{FAN}.curve_voltage": "13 V",
            f"{FAN}.motor_voltage": "14 V",
            "electrics.loads.fan.current": "40 A",
        },
    ],
    without={
        "engine.heat.idle.charge_air": "An idling engine has no boost: its charge air has less than 1 kW to give off.",
    },
)
def fan_flow(build: Build) -> Verdict:
    """Does the fan move the air that the radiator is counted on, also idling in a queue, and stand its highest speed?

    Computes: where the fan has to do without the wind of driving, the meeting of its curve, carried to its speed there,
    with the resistance of core and grille, and of condenser and charge cooler where they stand in front, Δp = Σk·V̇²;
    times the density of the air on the hottest day.
    Idling, the coolant at each place of the work, with the heat of the idling engine (2 kW per litre of swept volume
    where its sheet states none: common practice, on the high side), the air that the fan moves at
    idle and the coolant that the pump sends then; once more with the air conditioning: the whole heat of a condenser in
    front of the radiator, and 65 % of the compressor's power in the coolant. The highest speed of a fan that the engine
    drives: a rigid drive follows the engine up to the speed that it must never exceed; a viscous coupling lags the more
    the faster it is driven, and is taken at the governed speed with its stated lag.
    Limit: the air flow that the radiator rules count on at that operating point: a warning. Idling the engine's hottest
    coolant, and the fan maker's highest speed: errors. A shroud over at least 85 % of the core (common practice), and
    an electric fan only where the engine maker allows it: warnings. A curve that gives more power to the air than the
    motor takes in goes before a person. No fan is an error, unless the spec states the air
    that passes the core of the idling vehicle without one (`plumbing.cooling.air.idle.flow`) and it is enough.
    Consequence: Too little air passes and the engine overheats, or the fan turns too fast and bursts.
    Remedy: a faster or larger fan: flow goes with its speed, pressure with the square and power with the cube of it.
    Cannot tell: a blocked grille, blades too near to an edge, air that flows back round the core; the oil of a gearbox
    that is held in gear. The current of an electric fan is judged with its cable and fuse.
    """
    fan = build.plumbing.cooling.fan
    alone = fan_points(build)
    demands: dict[str, Callable[[], Verdict]] = {"fitted": lambda: _fan_fitted(build, alone)}
    if is_fitted(fan) or q.idle_air_stated(build):
        demands["idle"] = lambda: _idle(build, conditioned=False)
        if given(lambda: is_fitted(build.plumbing.air_conditioning)) is not False:
            demands["idle-air-conditioning"] = lambda: _idle(build, conditioned=True)
    if not is_fitted(fan):
        return all_of(demands)
    demands |= {f"flow.{name_of(point).replace('_', '-')}": partial(_fan_flow, build, point) for point in alone}
    demands["shroud"] = lambda: _shroud(build)
    if given(lambda: fan.drive) == "electric":
        demands["electric"] = lambda: _electric(build)
        demands["voltage"] = lambda: _voltage(build)
        if given(lambda: str(fan.load) in build.electrics.loads):
            demands["motor-power"] = lambda: _motor_power(build)
    else:
        demands["speed"] = lambda: _fan_speed(build)
        if given(lambda: fan.motor_voltage) is not None:
            demands["drive"] = lambda: _driven_twice(build)
    return all_of(demands)


def _driven_twice(build: Build) -> Verdict:
    fan = build.plumbing.cooling.fan
    says = f"The fan's drive is said to be {fan.drive}, and a voltage at its motor is stated: put right which is wrong."
    return needs_review(says, on=f"{FAN}.drive")


def _voltage(build: Build) -> Verdict:
    """Whether the vehicle can give the fan's motor the voltage that its flow is reckoned with."""
    found, on = build.plumbing.cooling.fan.motor_voltage, f"{FAN}.motor_voltage"
    most = CHARGING * build.electrics.nominal_voltage
    says = (
        f"Its flow is reckoned with {shown(found)} at the motor; the vehicle has {shown(most, 'voltage', 'V')} at most."
    )
    if found > most:
        return needs_review(f"{says} Measure at the motor while it runs.", on=on, found=found)
    return at_most(found, most, says, on=on)


def _motor_power(build: Build) -> Verdict:
    """Whether the motor takes in at least the power that its curve says it gives to the air."""
    load, on = build.electrics.loads[str(build.plumbing.cooling.fan.load)], f"{FAN}.curve"
    taken = load.voltage * load.current
    curve = [(float(point.flow), float(point.pressure)) for point in build.plumbing.cooling.fan.curve]
    given_to_air = fans.greatest_air_power(curve)
    says = (
        f"By its curve the fan gives {shown(given_to_air, 'power', 'W')} to the air; its motor takes "
        f"{shown(taken, 'power', 'W')}."
    )
    if given_to_air > taken:
        says += f" No motor does that: look at the curve, and at the current of {path_of(load)}."
        return needs_review(says, on=on, found=given_to_air)
    return holds(True, says, on=on)


def _fan_fitted(build: Build, alone: list[HeatPoint]) -> Verdict:
    """Whether there is a fan where nothing else moves the air."""
    if is_fitted(build.plumbing.cooling.fan):
        return holds(True, "Where the wind of driving is too little, a fan moves the air.")
    if alone:
        says = f"{words(alone[0])} the fan alone is to move the air, and there is none: fit one."
        return holds(False, says)
    if q.idle_air_stated(build):
        return holds(True, "There is no fan; the spec states the air that passes the core of the idling vehicle.")
    says = "There is no fan: in a queue nothing moves air through the radiator, and the engine boils. Fit one."
    return holds(False, says)


def _idle(build: Build, *, conditioned: bool) -> Verdict:
    guessed = given(lambda: build.engine.heat.idle.coolant) is None
    limit = build.engine.coolant.top_tank_max

    def judged(place: Place) -> Verdict:
        ambient = place.ambient()
        try:
            top = ambient + q.idle_rise(build, place.altitude(), conditioned=conditioned)
        except q.TooLittleAir as little:
            top = ambient + little.least
            if top <= limit:
                raise
        with_it = "with the air conditioning at work" if conditioned else "without air conditioning"
        says = (
            f"Idling in a queue {with_it}, {place.words()} in air of {shown(ambient, *CELSIUS, digits=3)}, "
            f"{shown(q.idle_air(build), digits=3)} of it pass and the coolant gets to "
            f"{shown(top, *CELSIUS, digits=3)}; "
            f"{shown(limit)} is allowed."
        )
        found = at_most(top, limit, says, scale=limit - ambient, unit=CELSIUS)
        if found.kind == "pass":
            return found
        says += " It takes a fan that moves more air at idle"
        says += ", or a condenser out of the radiator's air." if conditioned else " or a larger core."
        if guessed:
            says += " The heat itself is a guess: ask the engine maker for its heat at idle."
            return replace(found, kind="review", says=says, level=None)
        return replace(found, says=says)

    return worst_place([partial(judged, place) for place in places(build)])


def _fan_flow(build: Build, point: HeatPoint) -> Verdict:
    moved, wanted, fan = q.fan_air(build, point), air_at(build, point).flow, build.plumbing.cooling.fan
    says = f"{words(point)} the fan moves {shown(moved)}; the radiator is counted on {shown(wanted)}."
    faster = None
    if 0.0 < moved < wanted:
        says += " It would have to turn faster, or be a larger one."
        if fan.drive != "electric":
            faster = advice(FAN_RATIO, fan.ratio * fans.speed_ratio_for_flow(moved, wanted))
    return at_least(moved, wanted, says, level="warning", advice=faster)


def _shroud(build: Build) -> Verdict:
    coverage, field = build.plumbing.cooling.fan.shroud_coverage, f"{FAN}.shroud_coverage"
    says = f"The shroud covers {shown(coverage)} of the core; {shown(COVERAGE, 'share', '%')} are wanted."
    if coverage < COVERAGE:
        says += " The fan draws its air past the core: close the gaps."
    return at_least(coverage, COVERAGE, says, level="warning", on=field, advice=advice(field, COVERAGE))


def _electric(build: Build) -> Verdict:
    allowed = build.engine.fan.electric_allowed
    says = (
        f"The fan is electric, which the engine maker "
        f"{'allows' if allowed else 'does not allow: fit one that the engine drives'}."
    )
    return holds(allowed, says, level="warning", on=f"{FAN}.drive")


def _fan_speed(build: Build) -> Verdict:
    fan, speed = build.plumbing.cooling.fan, q.fan_speed_max(build)
    most, rigid = fan.speed_max, fan.drive == "engine"
    when = "Driven to the highest speed that the engine stands" if rigid else "At the engine's governed speed"
    says = f"{when} the fan turns {shown(speed)}; its maker allows {shown(most)}."
    slower = None
    if speed > most:
        says += " Beyond that it can burst: gear it slower, or fit one that is made for the speed."
        slower = advice(FAN_RATIO, fan.ratio * most / speed)
    return at_most(speed, most, says, on=FAN_RATIO, advice=slower)
