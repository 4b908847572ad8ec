"""Rules about climbing, moving off and crawling."""

from __future__ import annotations

import math
from typing import Literal

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    book,
    does_not_apply,
    holds,
    is_fitted,
    or_practice,
    owner,
    practice,
    rule,
    shown,
)

from .. import sources
from . import chain
from . import hills_quantities as hills
from . import quantities as q
from .contradictions import wishes

Level = Literal["error", "warning", "note"]
AXLE_RATIO = "driveline.axles.*.ratio"

CRAWL = practice("crawl speed of 3 km/h for work off the road, 8 km/h for road vehicles")

CRAWL_ROAD = Practice("crawl speed of at most 8 km/h (road)", 8 / 3.6, CRAWL)
CRAWL_OFF_ROAD = Practice("crawl speed of at most 3 km/h (off road)", 3 / 3.6, CRAWL)

TRAILER_START = book(
    "Owner's handbooks of vehicle makers: trailer loads hold for gradients of up to 12 %", known="second-hand"
)


@rule(
    "gearing.gradeability",
    level="error",
    due="plan",
    sources=[
        owner("build.design.grade_max"),
        sources.VEHICLE_DYNAMICS.giving("formula", "grade from pull, drag and rolling resistance"),
        sources.TERRAMECHANICS.giving("formula", "pull that the tyres grip"),
    ],
    fallbacks=[hills.LADEN_HEIGHT],
    without=q.NO_LIMIT,
    adjust=[AXLE_RATIO, "driveline.transfer.low"],
    bad=[
        {
            "build.design.grade_max": "95 %",
            "engine.tilt.front_up_max": "60 deg",
            "engine.tilt.front_down_max": "60 deg",
            "engine.tilt.any_way_max": "none",
            "plumbing.fuel.tank.swirl_pot": {"volume": "1.5 L"},
            "plumbing.fuel.tank.low_level_lamp": "50 L",
        },
        {"driveline.drivetrain.traction_coefficient": 0.3},
    ],
    good=[{"build.design.grade_max": "20 %"}],
)
def gradeability(build: Build) -> Verdict:
    """Does it climb the design grade at full load, laden, at the highest place?

    Computes: for every gear the steepest grade over the torque curve, sin θ + C_r·cos θ = (T·d·i·η/r − drag)/(m·g),
    with the altitude derate d and thinner air, never more than the tyres grip; here in first gear, lowest range. Where
    the front axle alone is driven, it loses μ·h/L of its grip to the slope; a driven rear axle gains it, where the
    height h of the centre of gravity is stated.
    Limit: the owner's steepest grade. Per cent is rise over run: 45 % is 24 degrees.
    Consequence: It stops on the steepest slope of its job and has to go back down.
    Remedy: a lower first gear, transfer range or final drive, which make the overall ratio that the sentence names.
    Where the tyres slip first, more grip or more driven axles.
    Cannot tell: wheel lift, lockers, and the ground: soft ground changes the rolling resistance more than all else.
    """
    climb, wanted = hills.steepest_climb(build), build.build.design.grade_max
    drivetrain = build.driveline.drivetrain
    share, grip = hills.driven_share(build), hills.grip_grade(build)
    by_gear = ", ".join(_climbs(hills.climb_in_gear(build, gear)) for gear in q.gear_ratios(build))
    says = f"Lowest gear of all: {shown(climb)}; by gear in high range: {by_gear}."
    if climb < wanted and grip < wanted:
        says += f" The tyres slip at {shown(grip, 'grade', '%')}, whatever the ratio."
        if hills.load_shift(build) < 0.0:
            says += " Uphill the driven front wheels lose load to the rear ones."
        if share < drivetrain.driven_mass_share:
            says += (
                f" The driven axles are rated for {shown(share, 'share', '%', digits=3)} of the laden mass, no more."
            )
    elif climb < wanted:
        takes, lower = _lower_gear(build, hills.ratio_to_climb(build, wanted))
        return at_least(climb, wanted, says + takes, advice=[advice(field, value) for field, value in lower.items()])
    return at_least(climb, wanted, says)


def _lower_gear(build: Build, ratio: float, *, reverse: bool = False) -> tuple[str, dict[str, float]]:
    """What to say of the overall ratio that it takes, which must not be rounded down; the fields that can make it."""
    ratio, now = math.ceil(10.0 * ratio) / 10.0, hills.reverse_ratio(build) if reverse else q.lowest_ratio(build)
    gear = "reverse" if reverse else "the lowest gear of all"
    says = f" It takes an overall ratio of {ratio:.1f}; {gear} has {now:.1f}."
    axles = {q.final_drive(build): q.axle_ratio(build) * ratio / now}
    if not is_fitted(build.driveline.transfer):
        return says, axles
    return says, {"driveline.transfer.low": build.driveline.transfer.low * ratio / now, **axles}


@rule(
    "gearing.startability",
    level="warning",
    due="plan",
    sources=[
        owner("build.design.start_grade"),
        TRAILER_START.giving("limit", "12 % with trailer"),
        hills.LAUNCH.giving("formula", "share of the launch torque"),
        sources.VEHICLE_DYNAMICS.giving("formula", "grade on which it moves off"),
        sources.TERRAMECHANICS.giving("formula", "pull that the tyres grip"),
    ],
    fallbacks=[hills.START_ROAD, hills.START_OFF_ROAD, hills.LADEN_HEIGHT],
    without={
        "engine.torque_curve": "The launch torque of the sheet decides; a curve that is there is held against it."
    },
    adjust=[AXLE_RATIO, "driveline.transfer.low"],
    bad=[
        {
            "engine.torque.launch": "50 N m",
            "driveline.gearbox.reverse_ratio": 18,
            "driveline.gearbox.output_torque_rating": "none",
        },
        {
            "vehicle.mass.gcwr": "14000 kg",
            "engine.calibration.combination_mass_max": "40000 kg",
            "vehicle.brakes.parking.held_grade": "80 %",
        },
    ],
    good=[{"build.design.start_grade": "14 %"}],
)
def startability(build: Build) -> Verdict:
    """Can it move off, laden and with trailer, on the start grade without burning the clutch?

    Computes: sin θ + C_r·cos θ = 0.85·T_launch·d·i·η/(r·m·g) in first gear and lowest range, solo at the gross rating
    and, where it may tow, with trailer at the combination rating. The launch torque is what the engine gives off boost,
    d the sheet's derate at the highest place.
    Limit: the owner's start grade; where none is stated 20 % solo on roads, 30 % off them. With trailer 12 %, which
    vehicle makers state their trailer loads for: an error where it is missed in dense air already, a warning where the
    driven tyres do not grip so far, for the trailer rests on none of them.
    Consequence: It does not move off on a slope, or only by slipping a clutch that soon burns out.
    Remedy: a lower first gear, transfer range or final drive, which make the overall ratio that the sentence names; or
    a torque converter; never more slip.
    Cannot tell: the heat of the start (see driveline.clutch-capacity), and tyres that slip solo: see
    gearing.gradeability.
    """
    if hills.may_tow(build):
        return all_of(
            wishes(build),
            solo=lambda: _solo(build),
            with_trailer=lambda: _with_trailer(build),
            trailer_grip=lambda: _trailer_grip(build),
        )
    return all_of(wishes(build), solo=lambda: _solo(build))


def _up_any_slope(build: Build, ratio: float, mass: float) -> bool:
    """Whether the engine would move off on any slope, so that the tyres set the limit and there is no grade to tell."""
    return math.isinf(hills.starts_on(build, ratio, mass))


def _solo(build: Build) -> Verdict:
    wanted = hills.start_wanted(build)
    if _up_any_slope(build, q.lowest_ratio(build), build.vehicle.mass.gvwr):
        return holds(True, "Laden and solo the engine moves it off on any slope: the tyres slip first.")
    found = hills.start_grade(build)
    says = f"Laden and solo it moves off on slopes up to {shown(found)}."
    if found >= wanted:
        return at_least(found, wanted, says, level="warning")
    takes, lower = _lower_gear(build, hills.ratio_to_start(build, wanted, build.vehicle.mass.gvwr))
    return at_least(
        found, wanted, says + takes, level="warning", advice=[advice(field, value) for field, value in lower.items()]
    )


def _trailer_grip(build: Build) -> Verdict:
    found = hills.trailer_grip_grade(build)
    slope = f"up to {shown(found)}" if found > 0.0 else "of no kind"
    says = f"With trailer the driven tyres grip on slopes {slope}."
    if found < hills.HILL_START:
        says += " Tow less, put more of the load over the driven axles, or drive another one."
    return at_least(found, hills.HILL_START, says, level="warning")


def _with_trailer(build: Build) -> Verdict:
    if _up_any_slope(build, q.lowest_ratio(build), build.vehicle.mass.gcwr):
        return holds(True, "With trailer the engine moves it off on any slope: the tyres slip first.")
    found = hills.start_grade_with_trailer(build)
    says = f"With trailer it moves off on slopes up to {shown(found)}."
    if found >= hills.HILL_START:
        return at_least(found, hills.HILL_START, says, level="error")
    low = hills.starts_on(build, q.lowest_ratio(build), build.vehicle.mass.gcwr, thin_air=False)
    level: Level = "error" if low < hills.HILL_START else "warning"
    if level == "warning":
        says = f"{says[:-1]} at the highest place, on {shown(low, 'grade', '%')} in dense air."
    takes, lower = _lower_gear(build, hills.ratio_to_start(build, hills.HILL_START, build.vehicle.mass.gcwr))
    return at_least(
        found,
        hills.HILL_START,
        says + takes,
        level=level,
        advice=[advice(field, value) for field, value in lower.items()],
    )


@rule(
    "gearing.reverse",
    level="warning",
    due="quote",
    sources=[
        owner("build.design.start_grade"),
        hills.LAUNCH.giving("formula", "share of the launch torque"),
        sources.VEHICLE_DYNAMICS.giving("formula", "grade on which it moves off"),
    ],
    fallbacks=[hills.START_ROAD, hills.START_OFF_ROAD],
    adjust=[AXLE_RATIO, "driveline.transfer.low"],
    about="driveline.gearbox.reverse_ratio",
    bad=[{"driveline.gearbox.reverse_ratio": 1.2}],
    good=[{"driveline.gearbox.reverse_ratio": 3.6}],
)
def reverse(build: Build) -> Verdict:
    """Can it back up the start grade, laden, without burning the clutch?

    Computes: sin θ + C_r·cos θ = 0.85·T_launch·d·i·η/(r·m·g) with the reverse gear in the lowest range, solo at the
    gross rating, as gearing.startability does for first gear.
    Limit: the owner's start grade; where none is stated 20 % on roads, 30 % off them: common practice.
    Consequence: Turned back on a slope it cannot reverse out, or only by slipping the clutch until it burns.
    Remedy: a gearbox with a lower reverse gear, a lower transfer range or final drive.
    Cannot tell: tyres that slip; backing a trailer; how fast it creeps backwards at idle; a transfer case or reverser
    that turns the whole driveline round.
    """
    wanted = hills.start_wanted(build)
    mass, ratio = build.vehicle.mass.gvwr, hills.reverse_ratio(build)
    if _up_any_slope(build, ratio, mass):
        return holds(True, "Laden the engine moves it off backwards on any slope: the tyres slip first.")
    found = hills.reverse_start_grade(build)
    says = f"Laden it backs up slopes of up to {shown(found)} with an overall ratio of {ratio:.1f} in reverse."
    if found >= wanted:
        return at_least(found, wanted, says)
    takes, lower = _lower_gear(build, hills.ratio_to_start(build, wanted, mass), reverse=True)
    says = f"Laden it backs up slopes of up to {shown(found)}.{takes}"
    return at_least(found, wanted, says, advice=[advice(field, value) for field, value in lower.items()])


@rule(
    "gearing.crawl",
    level="note",
    due="plan",
    sources=[
        owner("build.design.crawl_speed"),
        sources.KINEMATICS.giving("formula", "road speed at idle"),
    ],
    fallbacks=[CRAWL_ROAD, CRAWL_OFF_ROAD],
    adjust=["driveline.transfer.low", AXLE_RATIO],
    bad=[{"build.design.crawl_speed": "0.5 km/h"}],
    good=[{"build.design.crawl_speed": "6 km/h"}],
)
def crawl(build: Build) -> Verdict:
    """How slowly does it crawl at idle in the lowest gear, and does that suit the job?

    Computes: v = n_idle·2π·r/i in first gear and lowest range. A torque converter slips at idle: v is then the most,
    and where that is too much nothing is said.
    Limit: the owner's crawl speed; where none is stated 3 km/h off the road and 8 km/h on it. A warning for work off
    the road, a note otherwise.
    Consequence: It creeps too fast at idle: the driver rides clutch and brakes at walking pace.
    Remedy: a lower transfer range or first gear. A diesel pulls at idle, so it needs less ratio than petrol did.
    Cannot tell: whether the engine stalls at an obstacle.
    """
    off_road = build.build.duty.terrain == "off-road"
    wanted = or_practice(lambda: build.build.design.crawl_speed, CRAWL_OFF_ROAD if off_road else CRAWL_ROAD)
    speed, ratio = q.crawl_speed(build), q.lowest_ratio(build)
    says = f"{shown(speed)} at idle with an overall ratio of {ratio:.1f}."
    level: Level = "warning" if off_road else "note"
    if speed <= wanted:
        return at_most(speed, wanted, says, level=level)
    if chain.has_converter(build):
        return does_not_apply(
            "The torque converter slips at idle: the brakes, not the gears, set how slowly it creeps."
        )
    takes, lower = _lower_gear(build, ratio * speed / wanted)
    return at_most(
        speed,
        wanted,
        f"{shown(speed)} at idle.{takes}",
        level=level,
        advice=[advice(field, value) for field, value in lower.items()],
    )


def _climbs(grade: float) -> str:
    """The slope that a gear climbs; one that does not hold the vehicle on the level has none."""
    return shown(grade, "grade", "%", digits=3) if grade >= 0.0 else "none"
