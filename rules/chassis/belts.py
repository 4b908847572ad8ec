"""Rules about belts and what they drive."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import partial
from typing import Any

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    limit_or_none,
    name_of,
    needs_review,
    or_practice,
    path_of,
    practice,
    rule,
    sheet,
    shown,
)
from swaplint.engineering import belts as drives
from swaplint.spec.systems.chassis import Belt, BeltPulley

from .. import sources
from . import belts_quantities as q
from . import by_ratio

BELTS = "plumbing.belts"

LAPS = practice("a belt laps 150 degrees on the crankshaft pulley and 120 on an alternator").giving(
    "limit", "laps of 150 and 120 degrees"
)
LAP_MIN = {"crank": math.radians(150.0), "alternator": math.radians(120.0)}
LINE = practice("pulleys of a ribbed belt stand in line within 0.5 degrees, 3 mm in 340 mm").giving(
    "limit", "0.5 degrees out of line"
)
TIGHTENED = practice("a belt has a tensioner or an adjuster").giving("limit", "a tensioner or an adjuster")
OUT_OF_LINE = math.radians(0.5)
BELT_SPEEDS = practice("belts run at up to 45 to 50 m/s")
BELT_SPEED = Practice("belt speed up to 45 m/s (45 to 50)", 45.0, BELT_SPEEDS, between=(45.0, 50.0))


HALF = 0.5
"""Power of a pulley over what its part takes by its own numbers, below which one of the two is wrong."""
RPM = 2.0 * math.pi / 60.0


ROTORS = practice("alternators turn at up to 15 000 to 18 000 r/min and charge from 1 800 to 2 000; compressors 6 000")
ALTERNATOR_MAX = Practice(
    "alternator up to 15 000 r/min (15 000 to 18 000)", 15000 * RPM, ROTORS, between=(15000 * RPM, 18000 * RPM)
)
ALTERNATOR_MIN = Practice(
    "alternator charges from 1 800 r/min (1 800 to 2 000)", 1800 * RPM, ROTORS, between=(1800 * RPM, 2000 * RPM)
)
COMPRESSOR_MAX = Practice(
    "compressor up to 6 000 r/min (6 000 to 7 000)", 6000 * RPM, ROTORS, between=(6000 * RPM, 7000 * RPM)
)
SAME_RATIO = 0.03
"""How far a stated diameter may differ from the one that the accessory's ratio asks for."""
SAME = practice("a pulley's diameter agrees with its accessory's ratio within 3 %").giving(
    "limit", "3 % between diameter and ratio"
)


# -- belt drive -------------------------------------------------------------------------------------------------------
@rule(
    "chassis.belt-drive",
    level="warning",
    due="build",
    sources=[sheet(f"{BELTS}.*.rib_power"), sheet(f"{BELTS}.*.speed_max"), LAPS, LINE, TIGHTENED, *q.GRIP_SOURCES],
    cautions=[cautions.ROTATING],
    adjust=[f"{BELTS}.*.ribs", f"{BELTS}.*.tension"],
    each=q.fitted_belts,
    fallbacks=[BELT_SPEED, q.SERVICE_FACTOR],
    without={
        f"{BELTS}.*.pulleys.*.backside": "Idlers, tensioners and coolant pumps of ribbed belts are asked for it; what "
        "pulls harder sits in the grooves, and a V-belt has no other side."
    },
    bad=[
        {f"{BELTS}.accessory.pulleys.pump.offset": "4 mm"},
        {f"{BELTS}.accessory.ribs": 2},
        {f"{BELTS}.accessory.tensioner": "none"},
    ],
    good=[{f"{BELTS}.accessory.ribs": 8}],
)
def belt_drive(build: Build, belt: Belt) -> Verdict:
    """Do belts have wrap, alignment, tension and adjusters for the accessory power?

    Computes: the way of the belt around its pulleys, and from it laps, free spans and length; the power that it
    carries; the tension at which no pulley slips, at rated speed and at idle.
    Limit: common practice: 150 degrees of lap on the crankshaft pulley, 120 on the alternator; pulleys in line within
    0.5 degrees; up to 45 m/s where the belt's data sheet states nothing; a tensioner or an adjuster. The belt's data
    sheet for the power of one rib. A belt that runs as the engine maker built it is not judged.
    Consequence: A slipping or thrown belt takes charging, coolant pump or steering assistance with it.
    Remedy: more ribs, or more tension; an idler that gives the lap; washers or a machined pulley for the line.
    Cannot tell: noise, flutter, and the torsional vibration of engines with three or four cylinders.
    """
    if belt.as_supplied:
        return does_not_apply("The belt runs as the engine maker built it.")
    laps = {f"lap.{name_of(pulley)}": partial(_lap, build, pulley) for pulley in q.path(belt) if pulley.role in LAP_MIN}
    powers = {f"power.{name_of(one)}": partial(_power, build, one) for one in _other_powers(build, belt)}
    return all_of(
        laps | powers,
        tensioner=lambda: _tensioner(belt),
        alignment=lambda: _line(build, belt),
        ribs=lambda: _ribs(build, belt),
        tension=lambda: _tension(build, belt),
        belt_speed=lambda: _belt_speed(build, belt),
    )


def _hydraulic_power(build: Build) -> float:
    """What the steering pump takes at its relief valve, with what its flow valve lets pass."""
    pump = build.vehicle.steering.pump
    return float(pump.relief_pressure * pump.flow_limit)


def _other_powers(build: Build, belt: Belt) -> list[BeltPulley]:
    """The pulleys whose power is less than half of what their own part says that it takes."""
    return [pulley for pulley in q.path(belt) if given(partial(_half_of_it, build, pulley))]


def _half_of_it(build: Build, pulley: BeltPulley) -> bool:
    return pulley.power < HALF * _own_power(build, pulley)


def _own_power(build: Build, pulley: BeltPulley) -> float:
    if pulley.role == "compressor":
        return float(build.plumbing.air_conditioning.compressor.power)
    return _hydraulic_power(build) if pulley.role == "steering-pump" else 0.0


def _power(build: Build, pulley: BeltPulley) -> Verdict:
    own = shown(_own_power(build, pulley), "power", "kW", digits=3)
    says = f"The pulley {name_of(pulley)} is said to take {shown(pulley.power)}, and what it drives takes {own} by its "
    says += "own numbers: one of the two is wrong."
    return needs_review(says, on=f"{path_of(pulley)}.power", found=pulley.power)


def _tensioner(belt: Belt) -> Verdict:
    none = belt.tensioner == "none"
    says = "The belt can be kept tight." if not none else "Nothing tightens the belt: fit a tensioner or an adjuster."
    return holds(not none, says, on=f"{path_of(belt)}.tensioner")


def _lap(build: Build, pulley: BeltPulley) -> Verdict:
    found, least = q.lap(build, pulley), LAP_MIN[pulley.role]
    says = (
        f"The belt laps {shown(found, digits=3)} of the pulley {name_of(pulley)}; "
        f"{shown(least, 'angle', 'deg', digits=3)} are "
        "wanted."
    )
    if found < least:
        says += " An idler beside it gives more."
    return at_least(found, least, says, on=path_of(pulley))


def _line(build: Build, belt: Belt) -> Verdict:
    found, bend = q.misalignment(build, belt), q.worst_bend(build, belt)
    says = (
        f"From the pulley {bend.start} to {bend.end} the belt runs {shown(found, digits=2)} out of line; "
        f"{shown(OUT_OF_LINE, 'angle', 'deg')} are allowed."
    )
    return at_most(found, OUT_OF_LINE, says, on=f"{path_of(belt)}.pulleys.{bend.end}.offset")


def _ribs(build: Build, belt: Belt) -> Verdict:
    need = drives.ribs_needed(q.belt_power(build, belt), q.service_factor(belt), belt.rib_power)
    what = "V-belts" if belt.profile == "V" else "ribs"
    says = (
        f"{shown(q.belt_power(build, belt), digits=3)} at {shown(belt.rib_power)} each and a service factor of "
        f"{shown(q.service_factor(belt))} take {need} {what}; there are {belt.ribs:.0f}."
    )
    field = f"{path_of(belt)}.ribs"
    return at_least(belt.ribs, need, says, on=field, advice=advice(field, need))


def _tension(build: Build, belt: Belt) -> Verdict:
    need = q.tension_needed(build, belt)
    enough = shown(math.ceil(need), "force", "N")
    says = f"No pulley slips from a tension of {enough} on; the belt has {shown(belt.tension)}."
    field = f"{path_of(belt)}.tension"
    return at_least(belt.tension, need, says, on=field, advice=advice(field, need))


def _belt_speed(build: Build, belt: Belt) -> Verdict:
    found, most = q.belt_speed(build, belt), or_practice(lambda: belt.speed_max, BELT_SPEED)
    says = f"At governed speed the belt runs at {shown(found, digits=3)}; {shown(most, 'speed', 'm/s')} are allowed."
    return at_most(found, most, says, on=f"{path_of(q.crank(belt))}.diameter")


# -- speeds -----------------------------------------------------------------------------------------------------------
@rule(
    "chassis.accessory-speed",
    level="error",
    due="build",
    sources=[
        sheet("engine.alternator.speed_max"),
        sheet("engine.alternator.speed_min"),
        sheet("vehicle.steering.pump.speed_max"),
        sheet("plumbing.air_conditioning.compressor.speed_max"),
        sources.KINEMATICS.giving("formula", "speeds behind a pair of pulleys"),
        SAME,
    ],
    cautions=[cautions.ROTATING],
    adjust=[f"{BELTS}.*.pulleys.*.diameter"],
    each=lambda build: [*q.accessories(build), *by_ratio.without_pulley(build)],
    instead={
        f"{BELTS}.*.pulleys.*.diameter": [
            "engine.alternator.pulley_ratio",
            "vehicle.steering.pump.ratio",
            "plumbing.air_conditioning.compressor.ratio",
        ]
    },
    without={
        f"{BELTS}.*.pulleys.*.speed_min": "What a pump must do at idle its own rule judges: coolant, vacuum, oil.",
        "vehicle.steering.pump.speed_min": "What the steering pump gives at idle chassis.steering-flow judges.",
        "plumbing.air_conditioning.compressor.speed_min": "Below its lowest speed it only cools less at idle.",
    },
    fallbacks=[ALTERNATOR_MAX, ALTERNATOR_MIN, COMPRESSOR_MAX],
    bad=[
        {"vehicle.steering.pump.speed_max": "3000 r/min"},
        {f"{BELTS}.engine.pulleys.alternator.diameter": "70 mm"},
    ],
    good=[{"vehicle.steering.pump.speed_max": "6000 r/min"}],
)
def accessory_speed(build: Build, piece: Any) -> Verdict:
    """Do accessory speeds stay inside limits at idle and at maximum engine speed?

    Computes: the speed of each accessory at the engine's governed speed and at idle. Alternator, steering pump and
    compressor have their ratio in their own part, and are judged by that where no pulley is stated for them, which is
    right of a gear drive alone: what turns them is then asked. A diameter stated beside the ratio must agree within
    3 %.
    Limit: the accessory's data sheet; where it is silent alternators 1 800 to 15 000 r/min, compressors 6 000 r/min
    (common practice). Above: error. Below at idle: warning. A diameter that disagrees with the ratio: warning.
    Consequence: The alternator, pump or compressor bursts or seizes at speed, or does too little at idle.
    Remedy: a pulley of another diameter, which is another ratio.
    Cannot tell: belt slip, the balance of a rotor, and the engine over-run in a wrong gear.
    """
    if ".pulleys." not in path_of(piece):
        alternator = "alternator" in path_of(piece)
        most = ALTERNATOR_MAX if alternator else COMPRESSOR_MAX if "compressor" in path_of(piece) else None
        return by_ratio.speed_of(build, piece, most, ALTERNATOR_MIN if alternator else None)
    demands: dict[str, Callable[[], Verdict]] = {"highest-speed": lambda: _too_fast(build, piece)}
    if _has_least(build, piece):
        demands["idle-speed"] = lambda: _too_slow(build, piece)
    if q.ratio_field(build, piece) and given(lambda: piece.diameter) is not None:
        demands["diameter"] = lambda: _agrees(build, piece)
    return all_of(demands)


def _about(build: Build, pulley: BeltPulley) -> str:
    return q.ratio_field(build, pulley) or f"{path_of(pulley)}.diameter"


def _pulley_for(build: Build, pulley: BeltPulley, limit: float, engine: float) -> float:
    """The ratio, or the diameter, at which an accessory turns at its limit when the engine turns at `engine`."""
    if q.ratio_field(build, pulley):
        return limit / engine
    return q.crank(q.belt_of(build, pulley)).diameter * engine / limit


def _most(build: Build, pulley: BeltPulley) -> float:
    part = q.accessory(build, pulley)
    if pulley.role == "alternator":
        return or_practice(lambda: part.speed_max, ALTERNATOR_MAX)
    if pulley.role == "compressor":
        return or_practice(lambda: part.speed_max, COMPRESSOR_MAX)
    return float(part.speed_max)


def _least(build: Build, pulley: BeltPulley) -> float:
    part = q.accessory(build, pulley)
    if pulley.role == "alternator":
        return or_practice(lambda: part.speed_min, ALTERNATOR_MIN)
    return float(part.speed_min)


def _has_least(build: Build, pulley: BeltPulley) -> bool:
    part = q.accessory(build, pulley)
    return pulley.role == "alternator" or given(lambda: part.speed_min) is not None


def _too_fast(build: Build, pulley: BeltPulley) -> Verdict:
    found, most = q.accessory_speed(build, pulley), _most(build, pulley)
    says = (
        f"At governed speed the {name_of(pulley)} pulley turns at {shown(found)}; "
        f"{shown(most, 'rotation', 'r/min')} are allowed."
    )
    field, slower = _about(build, pulley), _pulley_for(build, pulley, most, build.engine.speed.governed_max)
    return at_most(found, most, says, on=field, advice=advice(field, slower))


def _too_slow(build: Build, pulley: BeltPulley) -> Verdict:
    found, least = q.accessory_idle_speed(build, pulley), _least(build, pulley)
    says = (
        f"At idle the {name_of(pulley)} pulley turns at {shown(found)}; it needs {shown(least, 'rotation', 'r/min')}."
    )
    field, faster = _about(build, pulley), _pulley_for(build, pulley, least, build.engine.speed.idle)
    # A level only where it fails: a pass that rests on a fallback is accepted as an error asks.
    level: Any = "warning" if found < least else None
    return at_least(found, least, says, level=level, on=field, advice=advice(field, faster))


def _agrees(build: Build, pulley: BeltPulley) -> Verdict:
    wanted, field = q.diameter(build, pulley), q.ratio_field(build, pulley)
    good, at = abs(pulley.diameter / wanted - 1.0) <= SAME_RATIO, f"{path_of(pulley)}.diameter"
    says = (
        f"The pulley's diameter of {shown(pulley.diameter)} agrees with the ratio in {field}."
        if good
        else f"The pulley has {shown(pulley.diameter)}, which disagrees with the ratio in {field}: one is wrong. "
        "Measure both pulleys."
    )
    return holds(good, says, level="warning", on=at, advice=advice(at, wanted))


# -- crankshaft nose --------------------------------------------------------------------------------------------------
@rule(
    "chassis.crank-nose-load",
    level="error",
    due="quote",
    sources=[
        sheet("engine.crank_nose.side_load_max"),
        sheet("engine.crank_nose.torque_max"),
        sheet("engine.crank_nose.bending_moment_max"),
        sources.BELT_THEORY.giving("formula", "pull of a belt on its pulley"),
    ],
    cautions=[cautions.ROTATING],
    adjust=[f"{BELTS}.*.tension", f"{BELTS}.*.overhang"],
    about="engine.crank_nose",
    bad=[{"engine.crank_nose.torque_max": "10 Nm"}, {"engine.crank_nose.side_load_max": "200 N"}],
    good=[{"engine.crank_nose.side_load_max": "4000 N"}],
)
def crank_nose_load(build: Build) -> Verdict:
    """Is what is hung on the crank nose within the engine's side-load and torque limit?

    Computes: the pull of every belt that the swap adds or changes, as vectors, and the weight of added pulleys; the
    bending moment about the front main bearing; the torque that is taken off.
    Limit: the engine package's data sheet only. A sheet that limits no bending moment says so.
    Consequence: The crankshaft's nose bends or breaks, and with it goes everything that the belts drive.
    Remedy: take off less power; belts on opposite sides cancel; a pump on the gearbox's or transfer case's power
    take-off instead.
    Cannot tell: the tension of a belt to better than a quarter, and the life of the torsional damper.
    """
    if not q.added_belts(build):
        return does_not_apply("The swap hangs nothing on the crankshaft's nose.")
    return all_of(
        {
            "side-load": lambda: _side_load(build),
            "torque": lambda: _torque(build),
            "bending": lambda: _bending(build),
        }
    )


def _side_load(build: Build) -> Verdict:
    found, most = q.nose_side_load(build), build.engine.crank_nose.side_load_max
    says = f"Belts and added pulleys pull with {shown(found)} at the crankshaft's nose; it bears {shown(most)}."
    return at_most(found, most, says, on=_tightest(build))


def _tightest(build: Build) -> str:
    belt: Any = max(q.added_belts(build), key=lambda b: float(b.tension))
    return f"{path_of(belt)}.tension"


def _torque(build: Build) -> Verdict:
    found, most = q.nose_torque(build), build.engine.crank_nose.torque_max
    says = f"{shown(found)} are taken off at the crankshaft's nose; it gives {shown(most)}."
    if found > most:
        says += " Drive the rest from a power take-off."
    return at_most(found, most, says, on="engine.crank_nose.torque_max")


def _bending(build: Build) -> Verdict:
    most = limit_or_none(lambda: build.engine.crank_nose.bending_moment_max)
    if most is None:
        return does_not_apply("The engine's maker limits side load and torque alone.")
    found = q.nose_bending(build)
    says = f"Belts and added pulleys bend the crankshaft's nose with {shown(found)}; it bears {shown(most)}."
    return at_most(found, most, says, on="engine.crank_nose.bending_moment_max")
