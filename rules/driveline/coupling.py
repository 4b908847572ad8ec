"""Rules about what carries the engine's torque first: clutch, damper, converter, gearbox."""

from __future__ import annotations

from collections.abc import Callable

from swaplint.api import (
    Build,
    OutsideRange,
    Practice,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    does_not_apply,
    given,
    holds,
    is_fitted,
    limit_or_none,
    needs_review,
    or_practice,
    practice,
    rule,
    sheet,
    shown,
    standard,
    use_practice,
    within,
)
from swaplint.engineering import clutch as clutches
from swaplint.engineering import converter as converters
from swaplint.engineering import curves

from .. import sources
from ..gearing import chain
from ..gearing import hills_quantities as hills
from ..gearing import quantities as gearing
from . import loads
from . import quantities as q
from .interfaces import AUTOMATIC

TORQUE = ("torque", "N m")
RPM = ("rotation", "r/min")

CLUTCH_FACTOR = practice(
    "clutch capacity of 1.3 times the engine's torque on the road, 1.5 for towing and off the road"
)
SLIPPING = practice("a clutch that carries less than 1.1 times the engine's torque slips before long")
DAMPER = practice("stops of the disc's damper at 1.2 times the engine's torque or more")
HUBS = practice("a damped hub behind every diesel, and none tuned for petrol behind one of up to four cylinders")
STALL = practice(
    "stall at 1.0 to 1.2 times the start of the torque plateau (diesel), 0.35 to 0.5 of rated speed (petrol)"
)
GEARBOX = practice("a tenth in hand over the engine's torque; 15 % where a rating for petrol serves a diesel")

FACTOR_ROAD = Practice("clutch capacity at least 1.3 times the engine's torque (road)", 1.3, CLUTCH_FACTOR)
FACTOR_HARD = Practice("clutch capacity at least 1.5 times the engine's torque (towing, off road)", 1.5, CLUTCH_FACTOR)
STOPS = Practice("damper stops at 1.2 times the engine's torque or more", 1.2, DAMPER)
STALL_DIESEL = Practice("stall up to 1.2 times the start of the torque plateau, not below it (diesel)", 1.2, STALL)
STALL_PETROL = Practice("stall at 0.35 to 0.5 of rated speed (petrol)", 0.5, STALL)

HEAT_PER_AREA = standard(
    "VDI 2241, friction clutches, heat of one engagement on the area of its faces", known="from memory"
)
HEAT_ORGANIC = Practice("heat of a start of at most 2 J on each mm² of organic facing", 2e6, HEAT_PER_AREA)
HEAT_SINTERED = Practice("heat of a start of at most 1 J on each mm² of sintered facing", 1e6, HEAT_PER_AREA)

NO_CLUTCH_OF_IT = 6.0
"""How many times the engine's torque no clutch holds that was chosen for it; two to three are a heavy one."""
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
    sources=[
        sheet("driveline.clutch.safety_factor_min"),
        sheet("driveline.clutch.launch_energy_max"),
        SLIPPING.giving("limit", "below which it is an error"),
        sources.MACHINE_DESIGN.giving("formula", "torque of a disc clutch by uniform wear, heat of a start"),
    ],
    instead={"driveline.clutch.torque_capacity": "driveline.clutch.clamp_load"},
    fallbacks=[
        FACTOR_ROAD,
        FACTOR_HARD,
        q.ORGANIC,
        q.SINTERED,
        HEAT_ORGANIC,
        HEAT_SINTERED,
        hills.START_ROAD,
        hills.START_OFF_ROAD,
    ],
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
    the engine's highest torque; and the heat of the hardest start that gearing.startability demands, laden on its slope
    or with trailer on 12 %, in high range where it moves off in that; a start that does not succeed is reported there.
    Limit: the clutch's sheet; where it is silent a factor of 1.3 on the road, 1.5 for towing and work off the road.
    An error below 1.1, a warning below the limit. Heat of a start where the sheet is silent: 2 J on each
    square millimetre of organic facings, 1 J of sintered ones, at the lower end of what VDI 2241 gives (from memory).
    Consequence: The clutch slips or overheats, burns out on a climb, and can start a fire.
    Remedy: more clamping force, larger facings, or facings that grip harder.
    Cannot tell: effort at the pedal, travel of the hydraulics, height of the release bearing, heat that is left from
    the start before. Friction when hot is known to 15 % at best.
    """
    if chain.has_converter(build):
        return does_not_apply("A torque converter takes the place of the clutch.")
    demands: dict[str, Callable[[], Verdict]] = {"capacity": lambda: _capacity(build)}
    if given(lambda: bool(q.starts(build))) is not False:
        demands["launch-heat"] = lambda: _launch_heat(build)
    return all_of(demands)


def _launch_heat(build: Build) -> Verdict:
    disc, heat = build.driveline.clutch, q.launch_energy(build)
    per_area = HEAT_SINTERED if given(lambda: disc.facing) == "sintered" else HEAT_ORGANIC
    stated = given(lambda: disc.launch_energy_max)
    most = use_practice(build, per_area) * q.facing_area(build) if stated is None else stated
    says = f"The hardest start, {q.hardest_start(build).name}, puts {shown(heat)} of heat into the clutch."
    says += " Fit lower gearing for the start, tow less, or fit a clutch with more facing." if heat > most else ""
    return at_most(heat, most, says, level="warning", on="driveline.clutch.launch_energy_max")


def _capacity(build: Build) -> Verdict:
    disc = build.driveline.clutch
    factor = q.clutch_factor(build)
    hard = build.build.duty.terrain == "off-road" or build.vehicle.mass.gcwr > build.vehicle.mass.gvwr
    wanted = or_practice(lambda: disc.safety_factor_min, FACTOR_HARD if hard else FACTOR_ROAD)
    says = f"The clutch slips at {shown(q.clutch_capacity(build))}; the engine gives {shown(q.peak_torque(build))}."
    needed = wanted * q.peak_torque(build)
    if factor > NO_CLUTCH_OF_IT:
        says += " No clutch of this engine has so much in hand: look at the decimal point, or it grabs at every start."
        return needs_review(says, found=factor)
    if given(lambda: disc.torque_capacity) is None:
        force = clutches.clamp_force_needed(needed, q.friction(build), int(disc.faces), q.friction_radius(build))
        remedy = advice("driveline.clutch.clamp_load", force)
    else:
        remedy = advice("driveline.clutch.torque_capacity", needed)
    return at_least(factor, wanted, says, level="warning" if SLIPS <= factor < wanted else "error", advice=remedy)


@rule(
    "driveline.damper-range",
    level="warning",
    due="quote",
    sources=[
        sheet("engine.torsional.damper_stop_torque_min"),
        sheet("engine.torsional.dual_mass_required"),
        HUBS.giving("limit", "kind of the hub, and what its damper was tuned for"),
    ],
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
    Remedy: a disc whose damper strikes its stops at 1.25 times the engine's torque, or a dual-mass flywheel.
    Cannot tell: the real torsional vibration, which takes the engine maker's analysis or a measurement.
    """
    if chain.has_converter(build):
        return does_not_apply("A torque converter takes the place of the clutch disc.")
    engine, disc = build.engine, build.driveline.clutch
    diesel, dual = engine.fuel_type == "diesel", engine.flywheel.kind == "dual-mass"
    demands: dict[str, Callable[[], Verdict]] = {}
    if not dual or given(lambda: engine.torsional.dual_mass_required):
        demands["dual-mass-flywheel"] = lambda: _dual_mass(build)
    if dual:
        return all_of(demands, stop_torque=lambda: _stops(build, "engine.flywheel.damper_stop_torque"))
    rigid = disc.hub == "rigid"
    if diesel:
        demands["damped-hub"] = lambda: _damped_hub(build)
        if not rigid and engine.cylinders <= FEW_CYLINDERS:
            demands["tuned-for-diesel"] = lambda: _tuned(build)
    if not rigid:
        demands["stop-torque"] = lambda: _stops(build, "driveline.clutch.damper_stop_torque")
    return all_of(demands)


def _dual_mass(build: Build) -> Verdict:
    on, kind = "engine.flywheel.kind", build.engine.flywheel.kind
    if not build.engine.torsional.dual_mass_required:
        return holds(True, f"The engine maker does not ask for a dual-mass flywheel; this one is {kind}.", on=on)
    says = f"The engine maker asks for a dual-mass flywheel; this one is {kind}."
    return holds(kind == "dual-mass", says, level="warning", on=on, advice=advice(on, "dual-mass"))


def _damped_hub(build: Build) -> Verdict:
    on, hub = "driveline.clutch.hub", build.driveline.clutch.hub
    says = f"The disc's hub is {hub}: behind a diesel it must be damped, or the flywheel dual-mass."
    return holds(hub != "rigid", says, level="error", on=on, advice=advice(on, "damped"))


def _tuned(build: Build) -> Verdict:
    on, tuned = "driveline.clutch.damper_for", build.driveline.clutch.damper_for
    says = f"The damper was tuned for a {tuned} engine; this is a diesel of {int(build.engine.cylinders)} cylinders."
    return holds(tuned == "diesel", says, level="warning", on=on, advice=advice(on, "diesel"))


def _stops(build: Build, on: str) -> Verdict:
    torque = q.peak_torque(build)
    sheet_min = given(lambda: build.engine.torsional.damper_stop_torque_min)
    wanted = use_practice(build, STOPS) if sheet_min is None else sheet_min / torque
    found = q.damper_factor(build)
    says = f"The damper strikes its stops at {found:.2f} times the engine's torque of {shown(torque)}."
    remedy = advice(on, max(STOPS_AIM, wanted) * torque)
    return at_least(found, wanted, says, level="warning", on=on, advice=remedy)


@rule(
    "driveline.converter-match",
    level="warning",
    due="quote",
    sources=[
        sheet("engine.speed.stall_low"),
        sheet("driveline.converter.torque_rating"),
        sources.VEHICLE_DYNAMICS.giving("formula", "speed at which a stalled converter takes the engine's torque"),
    ],
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
    Limit: the engine's sheet; an end that it does not give is 1.0 to 1.2 times the start of the torque plateau for a
    diesel and 0.35 to 0.5 of rated speed for petrol. The converter is rated for the engine's highest torque. It bolts
    to a flex-plate, and there is no clutch beside it.
    Consequence: It hardly moves off, or its converter slips, runs hot and fails.
    Remedy: a converter that stalls in the middle of the range behind this engine. Too tight a converter keeps a
    turbocharged engine off boost and it does not move off; too loose a one makes heat all day.
    Cannot tell: accessories ahead of the converter, turbo lag (a turbocharged engine first stalls on its torque without
    boost), shift points and lock-up. K spreads by about 5 %.
    """
    if not chain.has_converter(build):
        return does_not_apply("No torque converter is fitted.")
    return all_of(
        stall_speed=lambda: _stall_speed(build),
        torque_rating=lambda: _converter_rating(build),
        flex_plate=lambda: _flex_plate(build),
    )


def _flex_plate(build: Build) -> Verdict:
    kind, on = build.engine.flywheel.kind, "engine.flywheel.kind"
    if given(lambda: is_fitted(build.driveline.clutch)):
        says = "A clutch is stated and a torque converter too: one of the two is not there. State it as not fitted."
        return needs_review(says, on="driveline.clutch")
    right = kind == "flex-plate"
    says = "The converter bolts to a flex-plate."
    if not right:
        says = f"The flywheel is {kind.replace('-', ' ')}, as for a clutch; a converter bolts to a flex-plate."
    return holds(right, says, level="warning", on=on, advice=advice(on, "flex-plate"))


def _stall_speed(build: Build) -> Verdict:
    low, high = _stall_window(build)
    middle, past = 0.5 * (low + high), _past_the_curve(build)
    found = q.stall_speed(build) if past is None or past <= high else past
    factor = converters.capacity_factor(middle, curves.interpolate(gearing.torque_curve(build), middle, "r/min"))
    rated = factor * build.driveline.converter.rated_stall_torque**0.5
    says = f"It stalls at {'more than ' if found == past else ''}{shown(found, *RPM, digits=4)} behind this engine"
    says += ": a tighter one is needed." if found > high else ": a looser one is needed." if found < low else "."
    return within(
        found,
        low,
        high,
        says,
        level="warning",
        unit=RPM,
        advice=advice("driveline.converter.rated_stall_speed", rated),
    )


def _past_the_curve(build: Build) -> float | None:
    """The curve's last speed, where the engine still gives more there than the stalled converter takes."""
    converter = build.driveline.converter
    factor = converters.capacity_factor(converter.rated_stall_speed, converter.rated_stall_torque)
    speed, torque = gearing.torque_curve(build)[-1]
    return speed if torque > converters.absorbed_torque(speed, factor) else None


def _converter_rating(build: Build) -> Verdict:
    rating, torque = build.driveline.converter.torque_rating, q.peak_torque(build)
    says = f"The converter is rated for {shown(rating)}; the engine gives {shown(torque)}."
    says += " Fit one that is rated for it." if torque > rating else ""
    return at_most(torque, rating, says, level="warning", on="driveline.converter.torque_rating")


def _stall_window(build: Build) -> tuple[float, float]:
    """The speeds between which a converter may stall. An end that the sheet states stands; the other is practice."""
    speed = build.engine.speed
    low, high = given(lambda: speed.stall_low), given(lambda: speed.stall_high)
    if low is None or high is None:
        if build.engine.fuel_type == "diesel":
            plateau = build.engine.torque.plateau_low
            least, most = plateau, use_practice(build, STALL_DIESEL) * plateau
        else:
            least, most = STALL_PETROL_LOW * speed.rated, use_practice(build, STALL_PETROL) * speed.rated
        low, high = least if low is None else low, most if high is None else high
        if low > high:
            raise OutsideRange("the one end that the engine's sheet states lies beyond the usual other: ask for both")
    return low, high


@rule(
    "driveline.gearbox-torque",
    level="error",
    due="plan",
    sources=[
        sheet("driveline.gearbox.input_torque_rating"),
        sheet("driveline.gearbox.input_speed_max"),
        sheet("driveline.gearbox.output_torque_rating"),
        sheet("driveline.gearbox.gcw_rating"),
        GEARBOX.giving("limit", "what is in hand over the engine's torque"),
    ],
    adjust=["engine.torque.limit"],
    fallbacks=[loads.REVERSE],
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

    Computes: the rating over the engine's highest torque; the torque at its output in first gear, or in reverse where
    that is lower, the governed speed, and the mass of vehicle and trailer, each against its rating: a sheet that has
    none says so.
    Limit: the gearbox's sheet. An error below 1.0, a warning below 1.1, or below 1.15 where a rating given for petrol
    serves a diesel, whose torque comes in harder pulses. A rating in kilowatts is not a torque rating.
    Consequence: Gears or bearings of the gearbox give out, and the vehicle stands without drive.
    Remedy: a calibration with reduced torque, where the engine has one that passes; a torque limit in the low gears; or
    a stronger gearbox.
    Cannot tell: what duty the rating was given for, oil level and cooling at the new installed angle, wear.
    """
    return all_of(
        {
            "input-torque": lambda: _input_torque(build),
            "input-speed": lambda: _input_speed(build),
            "output-torque": lambda: _output_torque(build),
            "combination-mass": lambda: _combination_mass(build),
        }
    )


def _input_torque(build: Build) -> Verdict:
    gearbox, torque = build.driveline.gearbox, q.peak_torque(build)
    rating = gearbox.input_torque_rating
    diesel = build.engine.fuel_type == "diesel"
    # What it was rated behind is asked for only where it decides.
    decides = diesel and IN_HAND * torque <= rating < PETROL_BEHIND_DIESEL * torque
    behind = gearbox.rated_behind if decides else given(lambda: gearbox.rated_behind)
    petrol_rated = diesel and behind == "petrol"
    hand = PETROL_BEHIND_DIESEL if petrol_rated else IN_HAND
    says = f"Rated for {shown(rating)}; the engine gives {shown(torque)}, and {hand:g} times that is wanted."
    remedies = [advice("driveline.gearbox.input_torque_rating", hand * torque)]
    options = given(lambda: [(option.torque, option.name) for option in build.engine.torque_options]) or []
    passing = [option for option in options if option[0] * hand <= rating]
    if rating < hand * torque and passing:
        reduced, name = max(passing)
        says += f" Its calibration '{name}' gives less."
        remedies.insert(0, advice("engine.torque.limit", reduced))
    return at_least(
        rating,
        hand * torque,
        says,
        level="error" if rating < torque else "warning",
        unit=TORQUE,
        advice=remedies,
    )


def _input_speed(build: Build) -> Verdict:
    governed, most = build.engine.speed.governed_max, build.driveline.gearbox.input_speed_max
    says = f"The engine is governed at {shown(governed)}; the gearbox is rated for {shown(most)}."
    says += " Have the engine governed lower, or fit another gearbox." if governed > most else ""
    return at_most(governed, most, says, level="error", on="driveline.gearbox.input_speed_max")


def _output_torque(build: Build) -> Verdict:
    rating = limit_or_none(lambda: build.driveline.gearbox.output_torque_rating)
    if rating is None:
        return does_not_apply("The gearbox's maker limits no torque at its output.")
    found = loads.gearbox_output_torque(build)
    says = (
        f"In {loads.in_lowest_gear(build)} {shown(found)} leave the gearbox; its output is rated for {shown(rating)}."
    )
    return at_most(found, rating, says, level="error", on="driveline.gearbox.output_torque_rating")


def _combination_mass(build: Build) -> Verdict:
    rating = limit_or_none(lambda: build.driveline.gearbox.gcw_rating)
    if rating is None:
        return does_not_apply("The gearbox's maker limits no mass of the vehicle.")
    mass = build.vehicle.mass
    found = max(mass.gcwr, mass.gvwr)
    says = f"Vehicle and trailer may have {shown(found)}; the gearbox is rated for {shown(rating)}."
    says += " Plate it for a lighter trailer, or fit another gearbox." if found > rating else ""
    return at_most(found, rating, says, level="error", on="driveline.gearbox.gcw_rating")
