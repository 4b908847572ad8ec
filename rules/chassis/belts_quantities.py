"""Derived numbers of the belt drives."""

from __future__ import annotations

import math
from typing import Any, NamedTuple

from swaplint.api import (
    Build,
    ImpossibleInput,
    OutsideRange,
    Practice,
    given,
    is_fitted,
    name_of,
    once,
    or_practice,
    path_of,
    practice,
    quantity,
    sheet,
)
from swaplint.engineering import belts
from swaplint.engineering.belts import BeltLayout, Pulley
from swaplint.engineering.constants import G
from swaplint.spec.systems.chassis import Belt, BeltPulley

from .. import sources
from ..needed import needed

ACCESSORIES = ("alternator", "coolant-pump", "steering-pump", "compressor", "vacuum-pump", "hydraulic-pump", "other")
"""Roles of pulleys whose shafts have a lowest or highest speed. Fans are the cooling system's."""

OFTEN_ON_THE_BACK = ("idler", "tensioner", "coolant-pump")
"""Roles of pulleys that often run on the smooth back of a belt; the others pull hard and sit in the grooves."""

FRICTION = 0.3
GRIP = practice("a ribbed or V-belt grips with a coefficient of friction of 0.3")
SERVICE = practice("service factor of 1.3 for belts on piston engines, 1.2 to 1.5")
SERVICE_FACTOR = Practice("belt service factor 1.3 (1.2 to 1.5)", 1.3, SERVICE, between=(1.2, 1.5))
GEOMETRY = practice("tangents to circles").giving("formula", "way of a belt around its pulleys")
GRIP_SOURCES = [
    sources.BELT_THEORY.giving("formula", "tensions on both sides of a pulley"),
    sources.RIBBED_BELTS.giving("formula", "grooves of 40 degrees"),
    GRIP.giving("formula", "friction of 0.3"),
]


# -- what there is ----------------------------------------------------------------------------------------------------
def pulleys_of(belt: Belt) -> dict[str, BeltPulley]:
    """The pulleys of a belt that are there, by name."""
    return {name: pulley for name, pulley in belt.pulleys.items() if is_fitted(pulley)}


@once
def fitted_belts(build: Build) -> tuple[Belt, ...]:
    """The belts that are there. An empty table says nothing of them where something needs one: it is asked for."""
    belts_there = [belt for belt in build.plumbing.belts.values() if is_fitted(belt)]
    return tuple(needed(build, "plumbing.belts", belts_there) if _driven_by_belt(build) else belts_there)


def _driven_by_belt(build: Build) -> bool:
    """Whether the build has something that a belt of the crankshaft drives."""
    return any(
        (
            given(lambda: is_fitted(build.engine.alternator)),
            given(lambda: build.vehicle.steering.assist) == "hydraulic",
            given(lambda: is_fitted(build.plumbing.air_conditioning)),
        )
    )


def added_belts(build: Build) -> list[Belt]:
    """The belts that the swap adds or changes."""
    return [belt for belt in fitted_belts(build) if not belt.as_supplied]


def accessories(build: Build) -> list[BeltPulley]:
    """Every pulley that drives something with a lowest or highest speed."""
    pulleys = [pulley for belt in fitted_belts(build) for pulley in pulleys_of(belt).values()]
    return [pulley for pulley in pulleys if pulley.role in ACCESSORIES]


@once
def belt_of(build: Build, pulley: BeltPulley) -> Belt:
    """The belt that a pulley is on."""
    path = path_of(pulley).rpartition(".pulleys.")[0]
    return next(belt for belt in fitted_belts(build) if path_of(belt) == path)


def crank(belt: Belt) -> BeltPulley:
    """The belt's pulley on the crankshaft."""
    for pulley in pulleys_of(belt).values():
        if pulley.role == "crank":
            return pulley
    raise OutsideRange(f"none of the pulleys of {path_of(belt)} has the role crank")


# -- ratios and speeds ------------------------------------------------------------------------------------------------
def accessory(build: Build, pulley: BeltPulley) -> Any:
    """The part that a pulley drives, which knows its speed limits: a part of its own, else the pulley."""
    match pulley.role:
        case "alternator":
            return _alternator(build, pulley)
        case "steering-pump":
            return build.vehicle.steering.pump
        case "compressor":
            return build.plumbing.air_conditioning.compressor
        case "fan":
            return build.plumbing.cooling.fan
        case _:
            return pulley


def _alternator(build: Build, pulley: BeltPulley) -> Any:
    """The alternator on a pulley: the engine package's own, or one of the further ones, as the pulley says."""
    further = given(lambda: dict(build.electrics.alternators)) or {}
    if not further or belt_of(build, pulley).as_supplied or pulley.drives == "own":
        return build.engine.alternator
    if pulley.drives not in further:
        raise ImpossibleInput(f"no alternator under electrics.alternators is called {pulley.drives}")
    return further[pulley.drives]


def ratio_field(build: Build, pulley: BeltPulley) -> str:
    """The field in which an accessory's ratio stands; empty where the pulleys give it."""
    part = accessory(build, pulley)
    if part is pulley:
        return ""
    return f"{path_of(part)}.{'pulley_ratio' if pulley.role == 'alternator' else 'ratio'}"


@quantity(
    "chassis.accessory-ratio",
    formula="of alternator, steering pump, compressor and fan as their own part states it, else D_crank/d",
    sources=[sources.KINEMATICS.giving("formula")],
    each=accessories,
)
def accessory_ratio(build: Build, pulley: BeltPulley) -> float:
    """Turns of an accessory for one turn of the engine."""
    part = accessory(build, pulley)
    if part is pulley:
        return belts.driven_speed(1.0, crank(belt_of(build, pulley)).diameter, pulley.diameter)
    return float(part.pulley_ratio if pulley.role == "alternator" else part.ratio)


@quantity(
    "chassis.accessory-speed",
    "rotation",
    "r/min",
    formula="n_governed · chassis.accessory-ratio",
    symbols={"n_governed": "engine.speed.governed_max"},
    sources=[sources.KINEMATICS.giving("formula")],
    each=accessories,
)
def accessory_speed(build: Build, pulley: BeltPulley) -> float:
    """Speed of an accessory at the engine's governed speed."""
    return build.engine.speed.governed_max * accessory_ratio(build, pulley)


@quantity(
    "chassis.accessory-idle-speed",
    "rotation",
    "r/min",
    formula="n_idle · chassis.accessory-ratio",
    symbols={"n_idle": "engine.speed.idle"},
    sources=[sources.KINEMATICS.giving("formula")],
    each=accessories,
)
def accessory_idle_speed(build: Build, pulley: BeltPulley) -> float:
    """Speed of an accessory at idle."""
    return build.engine.speed.idle * accessory_ratio(build, pulley)


def diameter(build: Build, pulley: BeltPulley) -> float:
    """Effective diameter of a pulley, m: stated, or from the ratio that its accessory states."""
    if ratio_field(build, pulley):
        return float(crank(belt_of(build, pulley)).diameter / accessory_ratio(build, pulley))
    return pulley.diameter


# -- geometry ---------------------------------------------------------------------------------------------------------
def path(belt: Belt) -> list[BeltPulley]:
    """The pulleys in the order of the belt, but for those that are stated as not fitted."""
    known = pulleys_of(belt)
    names = [str(name) for name in belt.path if name in known or name not in belt.pulleys]
    strangers = [name for name in names if name not in known]
    left_out = [name for name in known if name not in names]
    if strangers or left_out or len(set(names)) != len(names):
        raise ImpossibleInput(
            f"{path_of(belt)}.path names each of its pulleys once: {', '.join(strangers + left_out) or 'some twice'}"
        )
    return [known[name] for name in names]


def layout(build: Build, belt: Belt) -> BeltLayout:
    """The way of the belt around its pulleys."""
    around = path(belt)
    return belts.belt_layout([Pulley(p.x, p.y, diameter(build, p), on_the_back(belt, p)) for p in around])


def on_the_back(belt: Belt, pulley: BeltPulley) -> bool:
    """Whether a pulley runs on the smooth back of a ribbed belt: asked for where it may well be so."""
    if pulley.role in OFTEN_ON_THE_BACK and belt.profile == "ribbed":
        return bool(pulley.backside)
    return given(lambda: pulley.backside) is True


def pulleys_on_path(build: Build) -> list[BeltPulley]:
    """Every pulley of the belts that the swap adds or changes."""
    return [pulley for belt in added_belts(build) for pulley in path(belt)]


@quantity(
    "chassis.belt-length",
    "length",
    "mm",
    formula="Σ free spans + Σ lap · d/2, at the effective diameters",
    sources=[GEOMETRY],
    each=added_belts,
)
def belt_length(build: Build, belt: Belt) -> float:
    """Length of a belt that the swap adds or changes."""
    return layout(build, belt).length


@quantity(
    "chassis.belt-lap",
    "angle",
    "deg",
    formula="turn of the belt's direction between the spans before and behind the pulley",
    sources=[GEOMETRY],
    each=pulleys_on_path,
)
def lap(build: Build, pulley: BeltPulley) -> float:
    """Lap of the belt on a pulley."""
    belt = belt_of(build, pulley)
    index = [path_of(p) for p in path(belt)].index(path_of(pulley))
    return layout(build, belt).laps[index]


@quantity(
    "chassis.belt-speed",
    "speed",
    "m/s",
    formula="v = 2π·n_governed·D_crank/2",
    symbols={"n_governed": "engine.speed.governed_max", "D_crank": "plumbing.belts.*.pulleys.*.diameter"},
    sources=[sources.KINEMATICS.giving("formula")],
    each=added_belts,
)
def belt_speed(build: Build, belt: Belt) -> float:
    """Speed of a belt at the engine's governed speed."""
    return belts.belt_speed(build.engine.speed.governed_max, crank(belt).diameter)


class Bend(NamedTuple):
    """The belt's run from one pulley to the next."""

    start: str
    end: str
    angle: float
    """Angle at which it enters the next pulley, rad."""


def worst_bend(build: Build, belt: Belt) -> Bend:
    """The span whose pulleys stand most out of line."""
    around, spans = path(belt), layout(build, belt).spans
    pairs = zip(around, [*around[1:], around[0]], spans, strict=True)
    bends = [
        Bend(name_of(here), name_of(there), belts.misalignment_angle(there.offset - here.offset, span))
        for here, there, span in pairs
    ]
    return max(bends, key=lambda bend: bend.angle)


@quantity(
    "chassis.belt-misalignment",
    "angle",
    "deg",
    formula="atan(difference of the pulleys' offsets/free span), the worst span",
    sources=[GEOMETRY],
    each=added_belts,
)
def misalignment(build: Build, belt: Belt) -> float:
    """Greatest angle at which a belt runs out of line into a pulley."""
    return worst_bend(build, belt).angle


# -- power ------------------------------------------------------------------------------------------------------------
def powers(belt: Belt, idle: bool) -> dict[str, float]:
    """Power that each pulley takes, W, by name; idlers and tensioners take none."""
    driven = {n: p for n, p in pulleys_of(belt).items() if p.role not in ("crank", "idler", "tensioner")}
    return {name: float(pulley.power_idle if idle else pulley.power) for name, pulley in driven.items()}


@quantity(
    "chassis.belt-power",
    "power",
    "kW",
    formula="Σ P at rated engine speed",
    sources=[sheet("plumbing.belts.*.pulleys.*.power").giving("formula", "power of each accessory")],
    each=added_belts,
)
def belt_power(build: Build, belt: Belt) -> float:
    """Power that a belt carries at rated engine speed."""
    del build
    return sum(powers(belt, idle=False).values())


def service_factor(belt: Belt) -> float:
    """Factor on the belt's power."""
    return or_practice(lambda: belt.service_factor, SERVICE_FACTOR)


@quantity(
    "chassis.belt-tension-needed",
    "force",
    "N",
    formula="the greatest of P·s/v/(e^(μ·θ/sin 20°) − 1) over pulleys, at rated speed and at idle: slack side of an "
    "automatic tensioner; of a set belt the mean of slack and tight side",
    sources=[*GRIP_SOURCES, SERVICE.giving("fallback", "service factor of 1.3")],
    each=added_belts,
)
def tension_needed(build: Build, belt: Belt) -> float:
    """Tension at which no pulley of a belt slips."""
    way, around, factor = layout(build, belt), path(belt), service_factor(belt)
    needs = [0.0]
    for idle in (False, True):
        taken = powers(belt, idle)
        speed = belts.belt_speed(build.engine.speed.idle if idle else build.engine.speed.rated, crank(belt).diameter)
        for pulley, angle in zip(around, way.laps, strict=True):
            power = sum(taken.values()) if pulley.role == "crank" else taken.get(name_of(pulley), 0.0)
            if power <= 0.0:
                continue
            half_groove = math.pi / 2 if on_the_back(belt, pulley) else belts.POLY_V_HALF_GROOVE
            grip = belts.tension_ratio(FRICTION, angle, half_groove)
            tight, slack = belts.tensions_for_power(power * factor, speed, grip)
            needs.append(slack if belt.tensioner == "automatic" else (tight + slack) / 2.0)
    return max(needs)


# -- crankshaft nose --------------------------------------------------------------------------------------------------
def nose_pulls(build: Build) -> list[tuple[Belt, float, float]]:
    """Each added belt with the x and y parts of its pull on the crankshaft, N."""
    out = []
    for belt in added_belts(build):
        around = path(belt)
        index = next((i for i, p in enumerate(around) if p.role == "crank"), None)
        if index is None:
            raise OutsideRange(f"none of the pulleys of {path_of(belt)} has the role crank")
        arriving, leaving = span_tensions(build, belt)
        out.append((belt, *belts.belt_pull(layout(build, belt), index, arriving, leaving)))
    return out


def span_tensions(build: Build, belt: Belt) -> tuple[float, float]:
    """Tension of the spans that arrive at and leave the crankshaft's pulley, N, where the belt pulls hardest.

    An automatic tensioner holds the slack span; the other has the pull of the power besides, which is greatest where
    the belt runs slowly. A belt that was set standing gains on one span what it loses on the other.
    """
    if belt.tensioner != "automatic":
        return belt.tension, belt.tension
    at_idle = sum(powers(belt, idle=True).values()) / belts.belt_speed(build.engine.speed.idle, crank(belt).diameter)
    rated = sum(powers(belt, idle=False).values()) / belts.belt_speed(build.engine.speed.rated, crank(belt).diameter)
    return belt.tension + max(at_idle, rated), belt.tension


def nose_mass(belt: Belt) -> float:
    """Mass that a belt's extra pulley hangs on the crankshaft, kg."""
    return given(lambda: belt.added_mass) or 0.0


@quantity(
    "chassis.nose-side-load",
    "force",
    "N",
    formula="|Σ pull vectors of the added belts, both spans of each| + m·g of the added pulleys; behind an automatic "
    "tensioner the tight span has P/v more, the greater of idle and rated speed",
    sources=[
        sources.BELT_THEORY.giving("formula", "pull of both spans, P/v more in the tight one"),
        sources.STATICS.giving("formula", "sum of pulls and weights"),
    ],
)
def nose_side_load(build: Build) -> float:
    """Side load that the swap adds at the crankshaft's nose."""
    pulls = nose_pulls(build)
    weight = sum(nose_mass(belt) for belt, _, _ in pulls) * G
    return math.hypot(sum(x for _, x, _ in pulls), sum(y for _, _, y in pulls)) + weight


@quantity(
    "chassis.nose-bending",
    "torque",
    "N m",
    formula="|Σ pull vectors · overhang| + Σ m·g·overhang, about the front main bearing",
    sources=[sources.STATICS.giving("formula")],
)
def nose_bending(build: Build) -> float:
    """Bending moment that the swap adds about the front main bearing."""
    pulls = nose_pulls(build)
    weight = sum(nose_mass(belt) * belt.overhang for belt, _, _ in pulls) * G
    x = sum(pull * belt.overhang for belt, pull, _ in pulls)
    return math.hypot(x, sum(pull * belt.overhang for belt, _, pull in pulls)) + weight


@quantity(
    "chassis.nose-torque",
    "torque",
    "N m",
    formula="Σ P/(2π·n) over the added belts, the greater of rated speed and idle",
    sources=[sources.POWER.giving("formula")],
)
def nose_torque(build: Build) -> float:
    """Torque that the swap takes off at the crankshaft's nose."""
    speed = build.engine.speed
    added = added_belts(build)
    rated = sum(sum(powers(belt, idle=False).values()) for belt in added) / speed.rated
    return max(rated, sum(sum(powers(belt, idle=True).values()) for belt in added) / speed.idle)
