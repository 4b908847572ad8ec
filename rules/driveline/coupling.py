"""Rules about what carries the engine's torque first: clutch, damper, converter, gearbox."""

from __future__ import annotations

from collections.abc import Callable

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    all_of,
    at_least,
    at_most,
    does_not_apply,
    given,
    holds,
    or_practice,
    practice,
    rule,
    sheet,
    shown,
    use_practice,
    within,
)
from swaplint.engineering import clutch as clutches
from swaplint.engineering import converter as converters
from swaplint.engineering import curves

from .. import sources
from ..gearing import quantities as gearing
from . import chain, loads
from . import quantities as q
from .interfaces import AUTOMATIC

TORQUE = ("torque", "N m")
RPM = ("rotation", "r/min")

CLUTCH_FACTOR = practice(
    "clutch capacity of 1.3 times the engine's torque on the road, 1.5 for towing and off the road"
)
DAMPER = practice("a damped hub behind every diesel, its stops at 1.2 times the engine's torque or more")
STALL = practice(
    "stall at 1.0 to 1.2 times the start of the torque plateau (diesel), 0.35 to 0.5 of rated speed (petrol)"
)
GEARBOX = practice("a tenth in hand over the engine's torque; 15 % where a rating for petrol serves a diesel")

FACTOR_ROAD = Practice("clutch capacity at least 1.3 times the engine's torque (road)", 1.3, CLUTCH_FACTOR)
FACTOR_HARD = Practice("clutch capacity at least 1.5 times the engine's torque (towing, off road)", 1.5, CLUTCH_FACTOR)
STOPS = Practice("damper stops at 1.2 times the engine's torque or more", 1.2, DAMPER)
STALL_DIESEL = Practice("stall up to 1.2 times the start of the torque plateau, not below it (diesel)", 1.2, STALL)
STALL_PETROL = Practice("stall at 0.35 to 0.5 of rated speed (petrol)", 0.5, STALL)

SLIPS = 1.1
"""Below this ratio of capacity to torque a clutch will slip before long: common practice."""
STOPS_AIM = 1.25
STALL_PETROL_LOW = 0.35
IN_HAND, PETROL_BEHIND_DIESEL = 1.1, 1.15
FEW_CYLINDERS = 4


@rule(
    "driveline.clutch-capacity",
    level="error",
    due="quote",
    sources=[sheet("driveline.clutch.safety_factor_min"), sources.MACHINE_DESIGN],
    fallbacks=[FACTOR_ROAD, FACTOR_HARD, q.ORGANIC, q.SINTERED],
    adjust=["driveline.clutch.clamp_load", "driveline.clutch.friction_outer"],
    bad=[
        {"driveline.clutch.clamp_load": "4000 N"},
        {"driveline.clutch.torque_capacity": "400 Nm"},
        {"driveline.clutch.launch_energy_max": "4 kJ"},
    ],
    good=[{"driveline.clutch.torque_capacity": "600 Nm"}, {"driveline.clutch.clamp_load": "9500 N"}],
)
def clutch_capacity(build: Build) -> Verdict:
    """Can the clutch carry the engine's torque hot, with margin?

    Computes: the torque at which it slips, as its maker states it or μ·F·N·(r_o + r_i)/2 with worn-in facings, over
    the engine's highest torque; and the heat of one start on the level in first gear.
    Limit: the clutch's sheet; where it is silent a factor of 1.3 on the road, 1.5 for towing and work off the road.
    An error below 1.1, a warning below the limit. The heat of a start is limited by the sheet alone.
    Consequence: The clutch slips or overheats, burns out on a climb, and can start a fire.
    Remedy: the clamping force that the sentence names, or larger facings. A clutch that slips burns out, and can start
    a fire.
    Cannot tell: effort at the pedal, travel of the hydraulics, height of the release bearing. Friction when hot is
    known to 15 % at best.
    """
    if chain.has_converter(build):
        return does_not_apply("A torque converter takes the place of the clutch.")
    disc = build.driveline.clutch
    factor = q.clutch_factor(build)
    hard = build.build.duty.terrain == "off-road" or build.vehicle.mass.gcwr > build.vehicle.mass.gvwr
    wanted = or_practice(lambda: disc.safety_factor_min, FACTOR_HARD if hard else FACTOR_ROAD)
    says = f"The clutch slips at {shown(q.clutch_capacity(build))}; the engine gives {shown(q.peak_torque(build))}."
    if given(lambda: disc.torque_capacity) is None:
        force = clutches.clamp_force_needed(
            wanted * q.peak_torque(build), q.friction(build), int(disc.faces), q.friction_radius(build)
        )
        says += f" A clamping force of {shown(force, 'force', 'N')} gives a factor of {wanted:.2f}."
    demands: list[Verdict | Callable[[], Verdict]] = [
        at_least(factor, wanted, says, level="warning" if SLIPS <= factor < wanted else "error")
    ]
    most = given(lambda: disc.launch_energy_max)
    if most is not None:
        on = "driveline.clutch.launch_energy_max"
        demands.append(lambda: at_most(q.launch_energy(build), most, _heat(build), level="warning", on=on))
    return all_of(*demands)


def _heat(build: Build) -> str:
    return f"One start on the level puts {shown(q.launch_energy(build))} of heat into the clutch."


@rule(
    "driveline.damper-range",
    level="warning",
    due="quote",
    sources=[sheet("engine.torsional.damper_stop_torque_min"), DAMPER],
    fallbacks=[STOPS],
    adjust=["driveline.clutch.damper_stop_torque"],
    bad=[
        {"driveline.clutch.damper_stop_torque": "350 Nm"},
        {"driveline.clutch.hub": "rigid"},
        {"driveline.clutch.damper_for": "petrol"},
        {"engine.torsional.dual_mass_required": True},
    ],
    good=[
        {"driveline.clutch.damper_stop_torque": "500 Nm"},
        {
            "engine.torsional.dual_mass_required": True,
            "engine.flywheel.kind": "dual-mass",
            "engine.flywheel.damper_stop_torque": "480 Nm",
            "driveline.clutch.hub": "rigid",
        },
    ],
)
def damper_range(build: Build) -> Verdict:
    """Does the disc's torsional damper, or the dual-mass flywheel, suit the engine's torque and firing order?

    Computes: the torque at which the damper strikes its stops over the engine's highest torque.
    Limit: the engine's sheet; where it is silent the stops at 1.2 times the engine's torque. A rigid hub behind a
    diesel without a dual-mass flywheel is an error. A disc tuned for petrol behind a diesel of up to four cylinders,
    and a solid flywheel where the engine maker asks for a dual-mass one, are warnings.
    Consequence: The gearbox rattles, and in time its synchronisers, input shaft or damper springs break.
    Remedy: a disc with the stop torque that the sentence names, 1.25 times the engine's torque. The wrong damper shows
    as gear rattle, then as broken synchronisers and input shafts.
    Cannot tell: the real torsional vibration, which takes the engine maker's analysis or a measurement.
    """
    if chain.has_converter(build):
        return does_not_apply("A torque converter takes the place of the clutch disc.")
    engine, disc = build.engine, build.driveline.clutch
    diesel, dual = engine.fuel_type == "diesel", engine.flywheel.kind == "dual-mass"
    demands: list[Verdict | Callable[[], Verdict]] = []
    if given(lambda: engine.torsional.dual_mass_required):
        says = f"The engine maker asks for a dual-mass flywheel; this one is {engine.flywheel.kind}."
        demands.append(holds(dual, says, level="warning", on="engine.flywheel.kind"))
    if dual:
        return all_of(*demands, lambda: _stops(build, "engine.flywheel.damper_stop_torque"), default="warning")
    rigid = disc.hub == "rigid"
    if diesel:
        says = f"The disc's hub is {disc.hub}: behind a diesel it must be damped, or the flywheel dual-mass."
        demands.append(holds(not rigid, says, level="error", on="driveline.clutch.hub"))
        tuned = given(lambda: disc.damper_for)
        few = engine.cylinders <= FEW_CYLINDERS
        if tuned is not None and few and not rigid:
            says = f"The damper was tuned for a {tuned} engine; this is a diesel of {int(engine.cylinders)} cylinders."
            demands.append(holds(tuned == "diesel", says, level="warning", on="driveline.clutch.damper_for"))
    if not rigid:
        demands.append(lambda: _stops(build, "driveline.clutch.damper_stop_torque"))
    if not demands:
        return does_not_apply("A rigid hub behind a petrol engine has no damper to judge.")
    return all_of(*demands, default="warning")


def _stops(build: Build, on: str) -> Verdict:
    torque = q.peak_torque(build)
    sheet_min = given(lambda: build.engine.torsional.damper_stop_torque_min)
    wanted = use_practice(build, STOPS) if sheet_min is None else sheet_min / torque
    aim = shown(max(STOPS_AIM, wanted) * torque, *TORQUE)
    says = f"The damper strikes its stops at {q.damper_factor(build):.2f} times the engine's torque; {aim} is good."
    return at_least(q.damper_factor(build), wanted, says, level="warning", on=on)


@rule(
    "driveline.converter-match",
    level="warning",
    due="quote",
    sources=[sheet("engine.speed.stall_low"), sheet("driveline.converter.torque_rating"), sources.VEHICLE_DYNAMICS],
    fallbacks=[STALL_DIESEL, STALL_PETROL],
    adjust=["driveline.converter.rated_stall_speed"],
    bad=[
        {**AUTOMATIC, "driveline.converter.rated_stall_speed": "2200 r/min"},
        {**AUTOMATIC, "driveline.converter.torque_rating": "300 Nm"},
    ],
    good=[AUTOMATIC, {**AUTOMATIC, "engine.speed.stall_low": None}],
)
def converter_match(build: Build) -> Verdict:
    """Does the torque converter stall inside the speeds that the engine allows?

    Computes: the speed at which the full-load torque equals what the stalled converter takes, (n/K)², with K from its
    rated stall speed and torque.
    Limit: the engine's sheet; where it is silent 1.0 to 1.2 times the start of the torque plateau for a diesel and 0.35
    to 0.5 of rated speed for petrol. The converter is rated for the engine's highest torque.
    Consequence: It hardly moves off, or its converter slips, runs hot and fails.
    Remedy: a converter that stalls at the speed which the sentence names. Too tight a converter keeps a turbocharged
    engine off boost and it does not move off; too loose a one makes heat all day.
    Cannot tell: accessories ahead of the converter, turbo lag (a turbocharged engine first stalls on its torque without
    boost), shift points and lock-up. K spreads by about 5 %.
    """
    if not chain.has_converter(build):
        return does_not_apply("No torque converter is fitted.")
    converter = build.driveline.converter
    low, high = _stall_window(build)
    found = q.stall_speed(build)
    middle = 0.5 * (low + high)
    torque = curves.interpolate(gearing.torque_curve(build), middle)
    factor = converters.capacity_factor(middle, torque)
    rated = factor * converter.rated_stall_torque**0.5
    aim = f"One that stalls at {shown(rated, *RPM)} with {shown(converter.rated_stall_torque)}"
    says = f"It stalls at {shown(found)}. {aim} would stall in the middle of the range behind this engine."
    return all_of(
        within(found, low, high, says, level="warning", unit=RPM),
        lambda: at_most(
            q.peak_torque(build),
            converter.torque_rating,
            f"Rated for {shown(converter.torque_rating)}; the engine gives {shown(q.peak_torque(build))}.",
            level="warning",
            on="driveline.converter.torque_rating",
        ),
        default="warning",
    )


def _stall_window(build: Build) -> tuple[float, float]:
    speed = build.engine.speed
    stated = given(lambda: (speed.stall_low, speed.stall_high))
    if stated is not None:
        return stated
    if build.engine.fuel_type == "diesel":
        plateau = build.engine.torque.plateau_low
        return plateau, use_practice(build, STALL_DIESEL) * plateau
    return STALL_PETROL_LOW * speed.rated, use_practice(build, STALL_PETROL) * speed.rated


@rule(
    "driveline.gearbox-torque",
    level="error",
    due="plan",
    sources=[sheet("driveline.gearbox.input_torque_rating"), GEARBOX],
    adjust=["engine.torque.limit"],
    about="driveline.gearbox.input_torque_rating",
    bad=[
        {"driveline.gearbox.input_torque_rating": "350 Nm"},
        {"driveline.gearbox.input_torque_rating": "385 Nm", "driveline.gearbox.rated_behind": "petrol"},
        {"driveline.gearbox.input_speed_max": "3600 r/min"},
        {"driveline.gearbox.gcw_rating": "3500 kg"},
        {"driveline.gearbox.output_torque_rating": "1300 Nm"},
    ],
    good=[{"driveline.gearbox.input_torque_rating": "400 Nm"}, {"driveline.gearbox.gcw_rating": "3700 kg"}],
)
def gearbox_torque(build: Build) -> Verdict:
    """Is the gearbox rated for the engine's torque and speed, and for this vehicle's mass?

    Computes: the rating over the engine's highest torque; the torque at its output in first gear, where the sheet
    limits it; the governed speed and the mass of vehicle and trailer against their ratings.
    Limit: the gearbox's sheet. An error below 1.0, a warning below 1.1, or below 1.15 where a rating given for petrol
    serves a diesel, whose torque comes in harder pulses. A rating in kilowatts is not a torque rating.
    Consequence: Gears or bearings of the gearbox give out, and the vehicle stands without drive.
    Remedy: a calibration with reduced torque, which the sentence names where the engine has one that passes; a torque
    limit in the low gears; or a gearbox rated for the torque that it names.
    Cannot tell: what duty the rating was given for, oil level and cooling at the new installed angle, wear.
    """
    gearbox, mass = build.driveline.gearbox, build.vehicle.mass
    return all_of(
        lambda: _input_torque(build),
        lambda: at_most(
            build.engine.speed.governed_max,
            gearbox.input_speed_max,
            f"The engine is governed at {shown(build.engine.speed.governed_max)}; the gearbox is rated for "
            f"{shown(gearbox.input_speed_max)}.",
            level="error",
            on="driveline.gearbox.input_speed_max",
        ),
        *_if_rated(
            given(lambda: gearbox.output_torque_rating),
            lambda: loads.gearbox_output_torque(build),
            "driveline.gearbox.output_torque_rating",
            "Torque at its output in first gear",
        ),
        *_if_rated(
            given(lambda: gearbox.gcw_rating),
            lambda: max(mass.gcwr, mass.gvwr),
            "driveline.gearbox.gcw_rating",
            "Mass of vehicle and trailer",
        ),
    )


def _if_rated(limit: float | None, found: Callable[[], float], on: str, what: str) -> list[Callable[[], Verdict]]:
    if limit is None:
        return []
    return [lambda: at_most(found(), limit, f"{what} {shown(found())}, rated {shown(limit)}.", level="error", on=on)]


def _input_torque(build: Build) -> Verdict:
    gearbox, torque = build.driveline.gearbox, q.peak_torque(build)
    rating = gearbox.input_torque_rating
    petrol_rated = build.engine.fuel_type == "diesel" and given(lambda: gearbox.rated_behind) == "petrol"
    hand = PETROL_BEHIND_DIESEL if petrol_rated else IN_HAND
    says = f"Rated for {shown(rating)}; the engine gives {shown(torque)}."
    options = given(lambda: [(option.torque, option.name) for option in build.engine.torque_options]) or []
    passing = [option for option in options if option[0] * hand <= rating]
    if rating < hand * torque:
        if passing:
            says += f" The calibration '{max(passing)[1]}' gives {shown(max(passing)[0])} and would pass."
        says += f" A gearbox rated for {shown(hand * torque, *TORQUE)} would pass."
    return at_least(
        rating,
        hand * torque,
        says,
        level="error" if rating < torque else "warning",
        unit=TORQUE,
    )
