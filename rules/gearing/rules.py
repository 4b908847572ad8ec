"""Rules of the gearing system."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import partial
from typing import Literal

from swaplint.api import (
    Build,
    OutsideRange,
    Practice,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
    given,
    in_unit_shown,
    is_fitted,
    needs_review,
    owner,
    practice,
    rule,
    sheet,
    shown,
    told,
    unit_shown,
    use_practice,
    within,
)
from swaplint.engineering import gears, tyres
from swaplint.engineering import speedometer as speedometers

from .. import rounding, sources
from . import quantities as q
from .contradictions import sizes_of_tyres, speeds_in_order, stated_speeds, torque_curve, tyre_size, unreadable
from .hills import AXLE_RATIO

CRUISE_BAND = practice(
    "diesel cruise band of 55 to 80 % of rated speed, petrol up to 60 %, not below the torque plateau"
)
RESERVE = practice("power reserve at cruise of 50 % for light and 30 % for heavy vehicles, grade in top 2 and 1 %")
PLATEAU = practice("after a full-load up-shift the engine should still pull from its torque plateau")
DESCENT = practice("top gear keeps 5 %, the gear for long descents 10 % clear of the engine's overspeed limit")

RESERVE_LIGHT = Practice("power reserve at cruise of at least 50 % (light vehicle)", 0.50, RESERVE)
RESERVE_HEAVY = Practice("power reserve at cruise of at least 30 % (heavy vehicle)", 0.30, RESERVE)
GRADE_LIGHT = Practice("grade held in top of at least 2 % (light vehicle)", 0.02, RESERVE)
GRADE_HEAVY = Practice("grade held in top of at least 1 % (heavy vehicle)", 0.01, RESERVE)
BAND_DIESEL = Practice(
    "cruise band of 55 to 80 % of rated speed, not below the torque plateau (diesel)", 0.80, CRUISE_BAND
)
BAND_PETROL = Practice(
    "cruise band up to 60 % of rated speed, not below the torque plateau (petrol)", 0.60, CRUISE_BAND
)

Level = Literal["error", "warning"]
RPM = ("rotation", "r/min")
KMH = ("speed", "km/h")
RPM_STEP = math.tau / 60
"""One turn a minute: a speed for the driver is said in whole ones."""

DIESEL_BAND_LOW = 0.55
TOP_GEAR_CLEAR = 1.05
DESCENT_CLEAR = 1.10
AIM = practice("a corrected speedometer aims two per cent high, to cover the spread of the rolling radius")
CORRECTION = "driveline.speedometer.correction"
SPEEDOMETER_AIM = 1.02
TEST_SPEED = 120 / 3.6
"""The highest speed at which a speedometer is tested, where the band is tightest."""


def cruise_band(build: Build) -> tuple[float, float]:
    """The engine speeds that it is to cruise at: of its data sheet, an end that it does not give by common practice."""
    low = given(lambda: build.engine.speed.cruise_low)
    high = given(lambda: build.engine.speed.cruise_high)
    if low is None or high is None:
        rated, diesel = build.engine.speed.rated, build.engine.fuel_type == "diesel"
        most = use_practice(build, BAND_DIESEL if diesel else BAND_PETROL) * rated
        least = max(DIESEL_BAND_LOW * rated if diesel else 0.0, build.engine.torque.plateau_low)
        low, high = least if low is None else low, most if high is None else high
        if low > high:
            raise OutsideRange("the torque plateau begins above the usual cruise band: ask for the engine's own band")
    return low, high


@rule(
    "gearing.cruise-rpm",
    level="warning",
    due="plan",
    changed={"0.2.0": "Beyond the rated speed it warns; an error is only what lies beyond the governed speed."},
    sources=[
        sheet("engine.speed.cruise_low"),
        sheet("engine.speed.rated"),
        sheet("engine.speed.governed_max"),
        sources.VEHICLE_DYNAMICS.giving("formula", "engine speed from road speed, ratio and rolling radius"),
    ],
    fallbacks=[BAND_DIESEL, BAND_PETROL],
    adjust=[AXLE_RATIO, "driveline.tyres.overall_diameter"],
    bad=[{"engine.speed.cruise_high": "1800 r/min"}, {"build.design.road_speed_max": "131 km/h"}],
    good=[{"engine.speed.cruise_low": "1800 r/min"}],
)
def cruise_rpm(build: Build) -> Verdict:
    """At cruising speed in top gear, does the engine run in its cruise band?

    Computes: engine speed n = v·i/(2π·r) from cruising speed, top overall ratio and rolling radius; the same at the
    highest road speed.
    Limit: the cruise band of the engine's data sheet; an end that it does not give is 55 and 80 % of rated speed for a
    diesel and up to 60 % for petrol, not below the torque plateau. At the highest road speed the engine should not pass
    its rated speed, and cannot pass its governed speed, which is an error.
    Consequence: The engine lugs or races at cruise: noise, thirst and wear for as long as it is driven.
    Remedy: another final drive ratio, a taller or shorter top gear, or other tyres. This decides noise, fuel and
    engine life and cannot be mended later.
    Cannot tell: wind and load, see gearing.cruise-reserve; a torque converter that is not locked, which lets the engine
    turn faster by its slip.
    """
    return all_of(cruise_band=lambda: _cruises(build), rated_speed=lambda: _fast(build))


def _cruises(build: Build) -> Verdict:
    low, high = cruise_band(build)
    found, speed = q.cruise_speed_engine(build), build.build.design.cruise_speed
    middle = gears.ratio_for_engine_speed(0.5 * (low + high), speed, q.rolling_radius(build))
    axle = middle * q.axle_ratio(build) / q.top_ratio(build)
    says = (
        ": it races, above its cruise band"
        if found > high
        else ": it lugs, below its cruise band"
        if found < low
        else ""
    )
    return within(
        found,
        low,
        high,
        f"The engine turns {shown(found)} at {shown(speed)} in top gear{says}.",
        level="warning",
        unit=RPM,
        advice=advice(q.final_drive(build), axle),
    )


def _fast(build: Build) -> Verdict:
    turns, rated = q.engine_speed_at_road_max(build), build.engine.speed.rated
    says = (
        f"At {shown(build.build.design.road_speed_max)} in top gear the engine turns {shown(turns)}; its rated speed "
        f"is {shown(rated)}."
    )
    tallest = math.floor(100.0 * q.axle_ratio(build) * rated / turns) / 100.0
    governed = given(lambda: build.engine.speed.governed_max) if turns > rated else None
    beyond = governed is not None and turns > governed
    if governed is not None:
        says += f" Its governor ends it at {shown(governed)}" if beyond else f" Its governor allows {shown(governed)}"
        says += ": it cannot go so fast in that gear." if beyond else ", with less and less power."
    level: Level = "error" if beyond else "warning"
    return at_most(turns, rated, says, level=level, advice=advice(q.final_drive(build), tallest))


@rule(
    "gearing.cruise-reserve",
    level="warning",
    due="plan",
    sources=[sources.VEHICLE_DYNAMICS.giving("formula", "road load, power at the wheels, grade held")],
    fallbacks=[RESERVE_LIGHT, RESERVE_HEAVY, GRADE_LIGHT, GRADE_HEAVY],
    without=q.NO_LIMIT,
    adjust=[AXLE_RATIO],
    bad=[
        {
            "vehicle.aero.drag_coefficient": 1.3,
            "vehicle.aero.frontal_area": "9 m2",
            "build.design.road_speed_max": "60 km/h",
        }
    ],
    good=[{"vehicle.aero.frontal_area": "2.4 m2"}],
)
def cruise_reserve(build: Build) -> Verdict:
    """Can it hold cruising speed in top gear with wind and small hills, without constant down-shifts?

    Computes: power at the wheels at full load over the power that the level road takes, less one; and the grade that
    is held at cruising speed in top gear. Laden to the gross rating, sea-level air.
    Limit: common practice: a reserve of 50 % for light and 30 % for heavy vehicles, and a grade of 2 % or 1 %.
    Consequence: It drops a gear at each rise and head wind, and cannot hold its speed on the road.
    Remedy: the numerically smallest final drive change that meets it; look at gearing.cruise-rpm at the same time.
    Cannot tell: turbo lag, altitude (see gearing.gradeability), head wind beyond what the reserve covers.
    """
    return all_of(power=lambda: _power(build), grade=lambda: _grade(build))


def _power(build: Build) -> Verdict:
    heavy = build.vehicle.weight_class == "heavy"
    available, needed = shown(q.cruise_available_power(build)), shown(q.cruise_road_power(build))
    says = f"At cruise: {available} at the wheels against {needed} of road load."
    return at_least(q.cruise_reserve(build), use_practice(build, RESERVE_HEAVY if heavy else RESERVE_LIGHT), says)


def _grade(build: Build) -> Verdict:
    heavy = build.vehicle.weight_class == "heavy"
    held = q.cruise_grade(build)
    slope = f"on slopes up to {shown(held)}" if held >= 0.0 else ""
    least = use_practice(build, GRADE_HEAVY if heavy else GRADE_LIGHT)
    says = (
        f"In top gear cruising speed is held {slope}."
        if slope
        else "Top gear does not hold cruising speed on the level."
    )
    return at_least(held, least, says)


SHIFT_SPEED = "driveline.gearbox.shift_speed"


@rule(
    "gearing.shift-step",
    level="warning",
    due="plan",
    sources=[
        sheet("engine.torque.plateau_low"),
        PLATEAU.giving("limit", "the start of the torque plateau"),
        sources.VEHICLE_DYNAMICS.giving("formula", "engine speed after a shift"),
    ],
    fallbacks=[q.SHIFT_LOSS],
    adjust=[SHIFT_SPEED],
    about="driveline.gearbox.ratios",
    each=q.shifts,
    bad=[
        {"engine.torque.plateau_low": "2350 r/min"},
        {"driveline.gearbox.ratios": [4.3, 1.4, 1.2, 1.0, 0.9], "engine.overrun.braking_power": "40 kW"},
    ],
    good=[{"driveline.gearbox.ratios": [4.2, 2.6, 1.7, 1.25, 1.0]}],
)
def shift_step(build: Build, before: float, after: float) -> Verdict:
    """After a full-load up-shift, does the engine still pull from its torque plateau?

    Computes: the speed at which it is shifted up, times the next ratio over this one, less the speed that a manual
    shift loses. It is shifted at the rated speed where the spec states no other.
    Limit: the lower end of the torque plateau. A warning for the two highest shifts, a note below them.
    Consequence: After the shift the engine falls below its pull and hangs there, worst of all on a climb.
    Remedy: closer ratios, or a later shift: the sentence says the lowest speed that works. Above the governed speed the
    pair of gears cannot work.
    Cannot tell: the driver's habit, and the shift map of an automatic.
    """
    ratios = q.gear_ratios(build)
    position = ratios.index(before)
    landing, plateau = q.speed_after_shift(build, before, after), build.engine.torque.plateau_low
    lowest = gears.lowest_shift_speed(plateau, before, after, q.shift_loss(build))
    lowest = rounding.up(lowest, RPM_STEP)  # a speed rounded down would not do
    governed = given(lambda: build.engine.speed.governed_max)
    beyond = governed is not None and lowest > governed * (1.0 + 1e-9)  # the governed speed itself can be driven
    works = ", which is beyond the governor: this pair cannot work" if beyond else ""
    says = (
        f"Gear {position + 1} to {position + 2}: the engine lands at {shown(landing)}. To land on the plateau, shift "
        f"at {shown(lowest, 'rotation', 'r/min')} or more{works}."
    )
    later = None if beyond else advice(SHIFT_SPEED, lowest)
    return at_least(landing, plateau, says, level="warning" if position + 3 >= len(ratios) else "note", advice=later)


@rule(
    "gearing.top-speed",
    level="error",
    due="quote",
    changed={"0.2.0": "Looks at the tyres down a long hill of 6 % in top gear, too, which a limiter does not brake."},
    sources=[
        sources.TYRE_MARKINGS.giving("limit", "speed of each speed symbol"),
        owner("build.design.road_speed_max"),
        sources.VEHICLE_DYNAMICS.giving("formula", "speed at which power and road load are equal"),
    ],
    cautions=[cautions.TYRES],
    adjust=["driveline.speed_limiter.speed"],
    without=q.NO_LIMIT,
    bad=[{"driveline.tyres.speed_symbol": "B"}],
    good=[{"driveline.tyres.speed_symbol": "T"}],
)
def top_speed(build: Build) -> Verdict:
    """Are the tyres rated for the speed that the vehicle can reach, and does it reach the speed that is wanted?

    Computes: the highest speed on the level, in top gear or in one below it that is faster, where the power at the
    wheels equals the road load, the torque falling to zero at the governed speed.
    Limit: the speed of the tyres' speed symbol, unless a limiter holds the vehicle below it: an error. Rolling
    down a long hill of 6 % in top gear, at most to the governed speed, it should not pass it either: a warning; a
    limiter brakes nothing there. The road speed that is wanted must be reached: a note. A stated diameter that is
    5 % off what the size on the sidewall gives goes before a person.
    Consequence: A tyre can fail at speed, or the vehicle never reaches the speed that it was built for.
    Remedy: a limiter set to the tyres' speed, or tyres with a higher symbol.
    Cannot tell: brakes and stability at that speed, which may be more than the vehicle was approved for; wind; a hill
    that drives the engine beyond its governor, which brakes nothing.
    """
    sizes, slip, odd = sizes_of_tyres(build), torque_curve(build), unreadable(build)
    return all_of(
        ({} if sizes is None else {"tyre-size": partial(tyre_size, *sizes)})
        | ({} if slip is None else {"torque-curve": lambda: slip})
        | ({} if odd is None else {"tyre-size": lambda: odd}),
        tyres=lambda: _tyres(build),
        tyres_downhill=lambda: _tyres_downhill(build),
        speed_wanted=lambda: _speed_wanted(build),
    )


def _limited(build: Build) -> float | None:
    """The speed that a limiter holds the vehicle to, if it has one."""
    limiter = build.driveline.speed_limiter
    return given(lambda: limiter.speed if is_fitted(limiter) else None)


def _fastest(build: Build) -> float:
    reach, limited = q.top_speed(build), _limited(build)
    return reach if limited is None else min(reach, limited)


def _tyres(build: Build) -> Verdict:
    reach, gear = q.top_speed(build), q.fastest_gear(build)[1]
    fastest, rated, limited = _fastest(build), q.tyre_speed(build), _limited(build)
    held = f", held to {shown(limited)} by the limiter" if limited is not None and limited < reach else ""
    says = f"The vehicle can reach {shown(reach)} in gear {gear}{held}; its tyres are rated for {shown(rated)}."
    remedies = [advice("driveline.tyres.speed_symbol", tyres.slowest_speed_symbol(fastest))] if fastest > rated else []
    remedies.insert(0, advice("driveline.speed_limiter.speed", rated))
    if limited is None and fastest > rated:
        says += " A limiter set to the tyres' speed would hold it on the level."
    return at_most(fastest, rated, says, level="error", unit=KMH, advice=remedies)


def _tyres_downhill(build: Build) -> Verdict:
    downhill, rated, limited = q.downhill_speed(build), q.tyre_speed(build), _limited(build)
    says = f"Down a long hill of 6 % in top gear it runs to {shown(downhill)} where nobody brakes"
    says += f"; its tyres are rated for {shown(rated)}."
    if downhill > rated:
        if limited is not None and limited < downhill:
            says += " The limiter takes the fuel away and brakes nothing."
        says += " Take such hills in a lower gear."
    fits = advice("driveline.tyres.speed_symbol", tyres.slowest_speed_symbol(downhill)) if downhill > rated else None
    return at_most(downhill, rated, says, level="warning", unit=KMH, advice=fits)


def _speed_wanted(build: Build) -> Verdict:
    fastest, wanted, limited = _fastest(build), build.build.design.road_speed_max, _limited(build)
    says = f"It reaches {shown(fastest, *KMH)}; {shown(wanted)} is wanted."
    if limited == fastest < wanted:
        says += " Its limiter holds it to that: want no more, or do without the limiter if nothing else needs it."
    return at_least(fastest, wanted, says, level="note", unit=KMH)


@rule(
    "gearing.engine-overspeed",
    level="warning",
    due="plan",
    changed={
        "0.2.0": "Takes long descents in the lowest gear that keeps the governed speed, not in the one below top.",
    },
    sources=[
        sheet("engine.speed.overspeed_max"),
        DESCENT.giving("limit", "how far to keep clear of it"),
        sources.KINEMATICS.giving("formula", "road speed from engine speed"),
    ],
    adjust=[AXLE_RATIO],
    bad=[{"engine.speed.overspeed_max": "2900 r/min"}],
    good=[{"engine.speed.overspeed_max": "4100 r/min"}],
)
def engine_overspeed(build: Build) -> Verdict:
    """Does top gear, and the gear for long descents, keep road speed clear of the engine's overspeed limit?

    Computes: the road speed at which each gear drives the engine to its limit, v = n_overspeed·2π·r/i.
    Limit: in top gear 5 % above the highest speed on the level (a warning); in the gear for long descents 10 % above
    their speed, where one is stated (a note): common practice. That gear is the lowest one that holds the engine within
    its governed speed, in low range too off the road. Speeds of the sheet that do not rise from idle over rated and
    governed speed to the limit go before a person.
    Consequence: Downhill or after a wrong down-shift the wheels over-rev the engine until it breaks.
    Remedy: a plate on the dash with the highest speed in each gear, as listed; a taller final drive.
    Cannot tell: what the driver does. The governor cannot stop it: cutting the fuel does not brake an engine that the
    vehicle drives.
    """
    demands: dict[str, Callable[[], Verdict]] = {"top-gear": lambda: _top_gear(build)}
    if len(stated_speeds(build)) > 1:
        demands["in-order"] = lambda: speeds_in_order(build)
    if given(lambda: build.build.design.descent_speed) is not None:
        demands["descent-gear"] = lambda: _descent_gear(build)
    return all_of(demands)


def _top_gear(build: Build) -> Verdict:
    speeds = _overspeeds(build)
    says = f"Never faster than, by gear in high range: {_plate(speeds)}"
    low = given(lambda: q.low_range(build) / q.high_range(build))
    if low is not None and low > 1.0:
        says += f"; in low range: {_plate([speed / low for speed in speeds])}"
    return at_least(speeds[-1], TOP_GEAR_CLEAR * q.top_speed(build), f"{says}.", level="warning")


def _descent_gear(build: Build) -> Verdict:
    gear, descent = q.descent_gear(build), build.build.design.descent_speed
    limit = gears.road_speed(build.engine.speed.overspeed_max, gear.ratio, q.rolling_radius(build))
    turns = gears.engine_speed(descent, gear.ratio, q.rolling_radius(build))
    says = f"Long descents at {shown(descent)} take {gear.name}, where the engine turns {shown(turns, *RPM)}; "
    says += f"it is at its limit at {shown(limit, *KMH)}."
    return at_least(limit, DESCENT_CLEAR * descent, says, level="note", unit=KMH)


def _overspeeds(build: Build) -> list[float]:
    return [q.overspeed_road_speed(build, gear) for gear in q.gear_ratios(build)]


def _plate(speeds: Sequence[float]) -> str:
    """The highest speed in each gear as a plate on the dash has it: whole km/h or mph, never rounded up."""
    return ", ".join(
        f"{number}: {math.floor(in_unit_shown(speed, *KMH))} {unit_shown(*KMH)}"
        for number, speed in enumerate(speeds, 1)
    )


@rule(
    "gearing.speedometer",
    level="error",
    due="build",
    changed={
        "0.2.0": "Goes by a measured rolling circumference before the tyre's diameter, by the rule of its place, and "
        "by the highest speed that the vehicle can be driven at, not by the one that its owner wants.",
    },
    sources=[
        sources.SPEEDOMETER_RULE.giving("limit", "a tenth and 4 km/h; its test speed of 120 km/h is from memory"),
        sources.US_SPEEDOMETER.giving("limit", "8 km/h (5 mph) either way at 80 km/h"),
        sources.KINEMATICS.giving("formula", "speed shown over true speed"),
        AIM.giving("formula", "the correction to put in"),
    ],
    cautions=[cautions.LAW],
    adjust=["driveline.speedometer.correction"],
    without={
        "engine.torque_curve": "What it reaches without one is taken as the governed speed in top gear, and no less."
    },
    bad=[
        {"driveline.speedometer.correction": 0.9, "build.places.state.odometer.error_max": "20 %"},
        {"driveline.speedometer.calibrated_axle_ratio": 3.8, "build.places.state.odometer.error_max": "20 %"},
    ],
    good=[{"driveline.speedometer.correction": 1.03}],
)
def speedometer(build: Build) -> Verdict:
    """After changes to tyre, axle, transfer or sender, is the speed that is shown lawful?

    Computes: V1/V2 = (i_now·D_then)/(i_then·D_now) times the reading then and the correction put in; a sensor at a
    wheel sees the tyre only. A measured rolling circumference counts before the tyre's diameter.
    Limit: UN Regulation 39: never below the true speed (an error) and at most a tenth plus 4 km/h above it, which is
    tightest at the highest speed that the vehicle can be driven at, and is tried up to 120 km/h (a warning). Where
    `driveline.speedometer.rule` says so, the rule of the United States for buses and trucks: 8 km/h (5 mph) either way
    at 80 km/h (49 CFR 393.82). Where nothing is said the first is taken: no rule is known that is stricter below the
    true speed.
    Consequence: The driver speeds without knowing it, or the vehicle is turned away at inspection.
    Remedy: a correction by gear, adapter or setting; it aims 2 % high.
    Cannot tell: the law on odometers and tachographs; a change of the transfer case's high range behind a sender on the
    gearbox: it goes into the correction.
    """
    demands = {"never-low": lambda: _never_low(build), "not-too-high": lambda: _not_too_high(build)}
    if build.driveline.speedometer.source == "gearbox-output" and given(
        lambda: q.low_range(build) > q.high_range(build)
    ):
        demands["low-range"] = lambda: _ahead_of_the_range(build)
    return all_of(demands)


def _ahead_of_the_range(build: Build) -> Verdict:
    times = q.low_range(build) / q.high_range(build)
    says = (
        f"The signal is taken ahead of the transfer case: in low range it shows {times:.2f} times the true speed. Take "
    )
    return needs_review(f"{says}it behind the case, or have the law asked.", on="driveline.speedometer.source")


def _either_way(build: Build) -> bool:
    return given(lambda: build.driveline.speedometer.rule) == "either-way"


def _never_low(build: Build) -> Verdict:
    least = 1.0 - speedometers.US_SHARE if _either_way(build) else 1.0
    found, right = q.speedometer_ratio(build), advice(CORRECTION, _correction(build))
    return at_least(found, least, _shows(build), level="error", advice=right)


def _not_too_high(build: Build) -> Verdict:
    most = 1.0 + speedometers.US_SHARE if _either_way(build) else speedometers.largest_r39_ratio(_shown_at(build))
    found, right = q.speedometer_ratio(build), advice(CORRECTION, _correction(build))
    return at_most(found, most, _shows(build), level="warning", advice=right)


def _shown_at(build: Build) -> float:
    """The speed at which it may show least too much: the highest that the vehicle can be driven at, wished for or not.

    Where too little is known for what it reaches, that of the governed engine in top gear, which is no less.
    """
    reach = given(lambda: _fastest(build))
    return min(q.governed_road_speed(build) if reach is None else reach, TEST_SPEED)


def _shows(build: Build) -> str:
    ratio, true = q.speedometer_ratio(build), given(lambda: _shown_at(build)) or TEST_SPEED
    rule = (
        told("8 km/h (5 mph) either way at 80 km/h (50 mph) are lawful there")
        if _either_way(build)
        else "it may never show less than the true speed, and little more (UN Regulation No. 39)"
    )
    return f"At {shown(true, *KMH)} it shows {shown(ratio * true, 'speed', 'km/h', digits=3)}; {rule}."


def _correction(build: Build) -> float:
    factor = speedometers.correction_factor(q.speedometer_ratio(build), SPEEDOMETER_AIM)
    return factor * build.driveline.speedometer.correction
