"""Rules about what the brakes must do: without assistance, from higher speeds, with another booster."""

from __future__ import annotations

import math
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
    needs_review,
    practice,
    rule,
    sheet,
    shown,
)
from swaplint.engineering import brakes as chain

from .. import sources
from . import brakes_quantities as q
from .steering_quantities import VALVE_LETS_PASS, flow_at_idle, flow_needed, more_flow
from .supply import fed, warned
from .wheel_brakes import doubts

BRAKES, BOOSTER = "vehicle.brakes", "vehicle.brakes.booster"
RELIEF = "vehicle.steering.pump.relief_pressure"

ENERGY = practice(
    "brakes stand 1.10 times the energy of a stop that they were approved for; above 1.25 they fade"
).giving("limit", "1.10 times the energy, 1.25 for an error")
ENERGY_RATIO, ENERGY_RATIO_UNSAFE = 1.10, 1.25
HEAT = practice("brakes take 5 to 7 kW for each tonne continuously").giving("limit", "5 kW for each tonne")
CONTINUOUS_POWER = 5.0
"""Continuous brake power, W/kg: the careful end of common practice."""
MOST_HELD_BACK = 1.25
"""What an engine holds back over its highest power, at the most: with the strongest engine brakes, from memory."""
STORED = practice("a booster without vacuum stores two assisted applications or more").giving(
    "limit", "two stored applications"
)
CONNECTED = practice("assistance that can fail has a lamp of its own, and current that is never switched off").giving(
    "limit", "a lamp, and an essential consumer"
)
STORED_APPLICATIONS = 2
STOPPED = practice(
    "with the engine stopped a 12 V system holds 11.5 V at a consumer, 10.5 V with a tired battery, 24 V twice that"
).giving("limit", "11.5 V of a 12 V system with the engine stopped")
STOPPED_SHARE, TIRED_SHARE = 11.5 / 12.0, 10.5 / 12.0
"""Voltage at a consumer over the nominal one, engine stopped: of an ordinary battery, and of a tired one."""
LAMP = {"function": "brake-assist", "driven_by": "own-switch", "colour": "red"}


# -- without assistance -----------------------------------------------------------------------------------------------
@rule(
    "chassis.unassisted-stop",
    level="error",
    due="quote",
    sources=[
        sources.BRAKING_RULE.giving("limit", "2.2 and 2.5 m/s² with at most 700 N, goods and buses", known="published"),
        sources.CAR_BRAKING_RULE.giving("limit", "2.44 m/s² with at most 500 N, cars"),
        q.SERVICE_RULE,
        *q.CHAIN_SOURCES,
    ],
    cautions=[cautions.BRAKES],
    adjust=[f"{BRAKES}.master_bore", f"{BRAKES}.pedal_ratio"],
    without={
        f"{BRAKES}.unassisted_test.fitted": "Without a measured stop the sum of all wheel brakes counts.",
        f"{BOOSTER}.fitted": "What helps the foot is asked for by itself, and each kind of booster by its own rule.",
    },
    bad=[
        {f"{BRAKES}.assist": "none", f"{BRAKES}.assist_before": "vacuum"},
        {f"{BRAKES}.master_bore": "31.75 mm", "plumbing.vacuum.reservoir.volume": "15 L"},
        {f"{BRAKES}.unassisted_test": {"pedal_force": "650 N", "deceleration": "1.9 m/s2"}},
    ],
    good=[
        {f"{BRAKES}.master_bore": "22.2 mm"},
        {f"{BRAKES}.unassisted_test": {"pedal_force": "650 N", "deceleration": "2.9 m/s2"}},
    ],
)
def unassisted_stop(build: Build) -> Verdict:
    """Can the driver still stop with no assist?

    Computes: the pedal force that secondary braking takes, laden, without any assistance: line pressure from the
    force chain of all wheel brakes, force from master cylinder and pedal ratio. A measured stop takes its place.
    Limit: goods vehicles 2.2 m/s² with at most 700 N, buses 2.5 m/s² with 700 N (UN Regulation No. 13); cars 2.44 m/s²
    with 500 N (No. 13-H). Where the swap takes the assistance away the pedal alone is the service brake: 5.0 m/s² with
    700 N, cars 6.43 m/s² with 500 N.
    Consequence: Once the assistance is gone, no driver can push hard enough to stop the vehicle in time.
    Remedy: a master cylinder of smaller bore (it lengthens the travel: ask whether the stroke is enough), or another
    pedal ratio.
    Cannot tell: linings spread by a fifth, and fade or get wet: state the tolerance. A calculation replaces no test.
    Air brakes, which no foot can apply without air.
    """
    if build.vehicle.brakes.assist == "air":
        return all_of(pedal_force=_air_brakes)
    if build.vehicle.brakes.assist == "none" and build.vehicle.brakes.assist_before == "none":
        return does_not_apply("The pedal never had assistance; chassis.brake-duty judges what mass and speed change.")
    test = build.vehicle.brakes.unassisted_test
    wanted, force = q.secondary(build)
    if given(lambda: is_fitted(test)):
        return _measured(test, wanted, force)
    return all_of(doubts(build), pedal_force=lambda: _computed(build, wanted, force))


def _deceleration(value: float) -> str:
    return shown(value, "acceleration", "m/s2")


def _force(value: float, digits: int = 4) -> str:
    return shown(value, "force", "N", digits=digits)


def _computed(build: Build, wanted: float, force: float) -> Verdict:
    found, pressure, field = q.unassisted_pedal_force(build), q.line_pressure(build), f"{BRAKES}.master_bore"
    says = (
        f"{_deceleration(wanted)} take {shown(pressure)} in the lines and {_force(found, digits=3)} at the pedal "
        f"without assistance; {_force(force)} are allowed."
    )
    push = chain.pedal_push(force, build.vehicle.brakes.pedal_ratio, q.PEDAL_EFFICIENCY)
    bore = chain.largest_master_bore(push, pressure) if found > force else None
    return at_most(found, force, says, on=field, advice=None if bore is None else advice(field, bore))


def _measured(test: Any, wanted: float, force: float) -> Verdict:
    at = f"{BRAKES}.unassisted_test"

    def pedal_force() -> Verdict:
        says = f"Measured without assistance with {shown(test.pedal_force)} at the pedal; {_force(force)} are allowed."
        return at_most(test.pedal_force, force, says, on=f"{at}.pedal_force")

    def deceleration() -> Verdict:
        says = f"Measured without assistance: {shown(test.deceleration)}; {_deceleration(wanted)} are needed."
        return at_least(test.deceleration, wanted, says, on=f"{at}.deceleration")

    return all_of(pedal_force=pedal_force, deceleration=deceleration)


# -- energy -----------------------------------------------------------------------------------------------------------
@rule(
    "chassis.brake-duty",
    level="warning",
    due="quote",
    sources=[
        sources.BRAKE_DESIGN.giving("formula", "energy of a stop, power on a descent"),
        sources.VEHICLE_DYNAMICS.giving("formula", "road resistance and highest speed"),
        ENERGY,
        HEAT,
    ],
    cautions=[cautions.BRAKES],
    adjust=["driveline.speed_limiter.speed", "engine.overrun.braking_power"],
    without={
        "build.design.descent_grade": "A long descent is one that the owner states; the stop from the highest speed is "
        "judged in any case."
    },
    bad=[{"vehicle.original.top_speed": "125 km/h"}, {"engine.overrun.braking_power": "2 kW"}],
    good=[{"vehicle.original.top_speed": "150 km/h"}],
)
def brake_duty(build: Build) -> Verdict:
    """Do mass and speed after the swap stay within what the brakes were approved for?

    Computes: the energy of a stop from the highest speed at the gross rating over that of the vehicle as approved: the
    highest that it reaches on the level, or that the owner states where a slope helps, at most a limiter's;
    where a long descent is stated, the power that is left for the brakes on it, with what the engine holds back in the
    gear for that speed.
    Limit: common practice: up to 1.10 times the energy; above it uprated brakes (warning), above 1.25 an error. On the
    descent 5 kW for each tonne (common practice: 5 to 7 kW for each tonne); the heaviest trailer without brakes pushes,
    too. An engine that is said to hold back more than 1.25 times its highest power goes before a person.
    Consequence: The brakes overheat and fade in a fast stop or on a long descent, when they are needed most.
    Remedy: a road speed limiter, uprated brakes, or an exhaust brake of the missing power.
    Cannot tell: the grip of the tyres, and whether the old brakes were good for what they were approved for.
    """
    demands: dict[str, Callable[[], Verdict]] = {"energy": lambda: _energy(build)}
    if given(lambda: build.build.design.descent_grade) is not None:
        demands["descent"] = lambda: _descent(build)
    return all_of(demands)


def _energy(build: Build) -> Verdict:
    ratio, old, field = q.energy_ratio(build), build.vehicle.original, "driveline.speed_limiter.speed"
    says = (
        f"A stop from {shown(q.reachable_speed(build), digits=3)} at the gross rating takes {shown(ratio, digits=3)} "
        f"times the energy of one from {shown(old.top_speed)}, which the vehicle was approved for."
    )
    if ratio > ENERGY_RATIO_UNSAFE:
        says += f" Above {ENERGY_RATIO_UNSAFE:g} times brakes fade in one stop (common practice)."
    slower = None
    if ratio > ENERGY_RATIO:
        speed = chain.speed_for_energy_ratio(ENERGY_RATIO, build.vehicle.mass.gvwr, old.gvwr, old.top_speed)
        slower = speed
        if not is_fitted(build.driveline.speed_limiter):
            says += f" A limiter at {shown(math.floor(3.6 * speed) / 3.6, 'speed', 'km/h')} or less would do."
    level: Any = "error" if ratio > ENERGY_RATIO_UNSAFE else "warning"
    return at_most(ratio, ENERGY_RATIO, says, level=level, on=field, advice=advice(field, slower))


def _power(value: float) -> str:
    return shown(value, "power", "kW", digits=3)


def _descent(build: Build) -> Verdict:
    found, design = q.descent_power(build), build.build.design
    field = "engine.overrun.braking_power"
    says = (
        f"Down {shown(design.descent_grade)} at {shown(design.descent_speed)} the brakes take "
        f"{shown(found, digits=3)}; {shown(CONTINUOUS_POWER, 'specific_power', 'kW/t')} do not overheat them."
    )
    if found > CONTINUOUS_POWER:
        says += " An exhaust brake, or a lower gear, takes the rest."
    rated = given(lambda: q.max_power(build))
    if found <= CONTINUOUS_POWER and rated is not None and build.engine.overrun.braking_power > MOST_HELD_BACK * rated:
        says = f"The engine is said to hold back {shown(build.engine.overrun.braking_power)} and gives {_power(rated)} "
        return needs_review(f"{says}at most: not even an exhaust brake holds so much. Look at the number.", on=field)
    missing, stated = max(0.0, found - CONTINUOUS_POWER) * build.vehicle.mass.gvwr, build.engine.overrun.braking_power
    share = q.engine_braking(build) / stated
    more = advice(field, stated + missing / share) if share > 0.0 else None
    return at_most(found, CONTINUOUS_POWER, says, level="warning", on=field, advice=more)


# -- another booster --------------------------------------------------------------------------------------------------
@rule(
    "chassis.booster-conversion",
    level="error",
    due="quote",
    sources=[
        sheet(f"{BOOSTER}.flow_required"),
        sheet(f"{BOOSTER}.pressure_required"),
        sheet(f"{BOOSTER}.pressure_max"),
        sheet(f"{BOOSTER}.min_voltage"),
        sources.FLUID_POWER.giving("formula", "flow of a displacement pump"),
        STORED,
        CONNECTED,
        STOPPED,
    ],
    cautions=[cautions.BRAKES, cautions.STEERING],
    about=BOOSTER,
    instead={"vehicle.steering.gear.flow_required": "vehicle.steering.gear.cylinder_volume"},
    without={"vehicle.steering.pump.flow_limit": VALVE_LETS_PASS},
    bad=[
        {
            f"{BRAKES}.assist": "hydraulic",
            "electrics.lamps.assist": LAMP,
            f"{BOOSTER}.flow_required": "15 L/min",
            f"{BOOSTER}.pressure_required": "6 MPa",
            f"{BOOSTER}.pressure_max": "12 MPa",
            f"{BOOSTER}.stored_applications": 2,
        },
        {
            f"{BRAKES}.assist": "electric",
            "electrics.lamps.assist": LAMP,
            f"{BOOSTER}.load": "radio",
            f"{BOOSTER}.min_voltage": "9 V",
            f"{BOOSTER}.stored_applications": 2,
        },
    ],
    good=[
        {
            f"{BRAKES}.assist": "hydraulic",
            "electrics.lamps.assist": LAMP,
            f"{BOOSTER}.flow_required": "5 L/min",
            f"{BOOSTER}.pressure_required": "6 MPa",
            f"{BOOSTER}.pressure_max": "12 MPa",
            f"{BOOSTER}.stored_applications": 2,
        },
        {
            f"{BRAKES}.assist": "electric",
            "electrics.lamps.assist": LAMP,
            f"{BOOSTER}.load": "lamps",
            f"{BOOSTER}.min_voltage": "9 V",
            f"{BOOSTER}.stored_applications": 3,
        },
    ],
)
def booster_conversion(build: Build) -> Verdict:
    """Does a hydraulic or electric booster get the oil or the current that it needs, and what if that fails?

    Computes: the flow of the steering pump at idle, which first passes the booster and then the steering gear.
    Limit: the booster's data sheet: a hydraulic one gets its flow at idle, and the pump's relief pressure lies between
    what it needs and what it stands; an electric one is among the essential consumers and works at the voltage that
    is left with the engine stopped, 11.5 V of a 12 V system (common practice; a tired battery holds 10.5, and between
    the two a person decides). Each stores two assisted applications (common practice), and a lamp warns.
    Consequence: The pedal goes hard at idle or when the supply fails, perhaps unwarned, and stops get long.
    Remedy: a pump or pulley of more flow; another relief pressure; a consumer that counts as essential.
    Cannot tell: whether the booster fits pedal, master cylinder and its stroke, and air brakes: a person decides
    those. The whole change goes before a licensed engineer.
    """
    own: dict[str, Callable[[], Verdict]]
    match build.vehicle.brakes.assist:
        case "vacuum" | "none":
            return does_not_apply("The brakes have no hydraulic or electric booster.")
        case "air":
            return all_of(air_brakes=_air_brakes)
        case "hydraulic":
            own = {"flow": lambda: _booster_flow(build)}
            if build.vehicle.steering.assist == "hydraulic":
                own["pressure-reached"] = lambda: _pressure_reached(build)
                own["pressure-borne"] = lambda: _pressure_borne(build)
        case _:
            own = {"supply": lambda: fed(build, build.vehicle.brakes.booster), "voltage": lambda: _voltage(build)}
    return all_of(own, stored=lambda: _stored(build), lamp=lambda: warned(build))


def _air_brakes() -> Verdict:
    says = "Air brakes are not judged here: compressor, reservoirs and valves go before a licensed engineer."
    return needs_review(says, on=f"{BRAKES}.assist")


def _booster_flow(build: Build) -> Verdict:
    booster, steering = build.vehicle.brakes.booster, build.vehicle.steering
    if steering.assist != "hydraulic":
        says = (
            "A hydraulic booster needs a hydraulic pump, and the steering has none: state one, or fit another booster."
        )
        return holds(False, says, on="vehicle.steering.assist")
    found, needed = flow_at_idle(build), max(booster.flow_required, flow_needed(build))
    says = (
        f"At idle {shown(found, digits=3)} pass the booster, which needs {shown(booster.flow_required)}, and go on to "
        f"the steering gear, which needs {shown(flow_needed(build), digits=3)}."
    )
    more = advice(*more_flow(build, needed)) if found < needed else None
    return at_least(found, needed, says, on="vehicle.steering.pump.displacement", advice=more)


def _pressure_reached(build: Build) -> Verdict:
    needed, relief = build.vehicle.brakes.booster.pressure_required, build.vehicle.steering.pump.relief_pressure
    says = f"The pump's relief valve opens at {shown(relief)}; the booster needs {shown(needed)}."
    return at_least(relief, needed, says, on=RELIEF, advice=advice(RELIEF, needed))


def _pressure_borne(build: Build) -> Verdict:
    most, relief = build.vehicle.brakes.booster.pressure_max, build.vehicle.steering.pump.relief_pressure
    says = f"The pump's relief valve opens at {shown(relief)}; the booster bears {shown(most)}."
    return at_most(relief, most, says, on=RELIEF, advice=advice(RELIEF, most))


def _voltage(build: Build) -> Verdict:
    least, nominal = build.vehicle.brakes.booster.min_voltage, build.electrics.nominal_voltage
    stopped, tired = STOPPED_SHARE * nominal, TIRED_SHARE * nominal
    on, volts = f"{BOOSTER}.min_voltage", ("voltage", "V")
    says = (
        f"The booster needs {shown(least)} or more; with the engine stopped about {shown(stopped, *volts)} are left "
        "(common practice)"
    )
    if tired < least <= stopped:
        says += (
            f", with a tired battery {shown(tired, *volts)}: then the pedal goes hard. Have the battery tested often."
        )
        return needs_review(says, on=on, found=least)
    says += (
        ": the pedal goes hard as soon as the engine stops. Fit a booster that works below." if least > stopped else "."
    )
    return at_most(least, stopped, says, on=on)


def _stored(build: Build) -> Verdict:
    found = build.vehicle.brakes.booster.stored_applications
    says = (
        f"Assisted applications left when the supply fails: {found:.0f}; {STORED_APPLICATIONS} are needed to come to a "
        "stop (common practice)."
    )
    return at_least(found, STORED_APPLICATIONS, says, on=f"{BOOSTER}.stored_applications")
