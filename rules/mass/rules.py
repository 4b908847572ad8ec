"""Rules of the mass system: ratings, axles, springs, tyres and sides. The ledger itself: `ledger.py`."""

from __future__ import annotations

import math
from collections.abc import Callable
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
    does_not_apply,
    given,
    is_fitted,
    name_of,
    needs_review,
    path_of,
    practice,
    rule,
    sheet,
    shown,
    standard,
    use_practice,
    within,
)
from swaplint.engineering import statics, tyres
from swaplint.spec.systems.mass import AxleSprings, LoadCase

from .. import axle_loads, sources
from ..gearing.fitted_tyres import tyres_at, unlike
from . import quantities as q
from .words import HANDY, kg, kg_up, mm, named, shift, up

STEERED_AXLE = sources.MASSES_RULE.giving("limit", "20 % of the mass on the steered axle", known="second-hand")
STEERED_SOLO = sources.MASSES_RULE.giving(
    "limit", "30 % of the mass in front without a trailer (M1)", known="second-hand", demands=["solo-share"]
)
STEERED_SOLO_GOODS = sources.MASSES_RULE.giving(
    "limit", "30 % of the mass in front without a trailer, for N1 too", demands=["solo-share-goods"]
)
FIRE_APPARATUS = standard("NFPA 1906, Standard for Wildland Fire Apparatus, since taken up in NFPA 1900")
PLATE = practice("the plate is the limit: overload is unlawful, and the brakes were sized for the rating")

HARDEST = 4.0
"""Bounce of a laden axle on its springs, Hz, above which the rate is looked at again: common are 1 to 3."""
STEERED_LEAST, SOLO_LEAST = 0.20, 0.30
STEERED_LIGHT = Practice(
    "at least 25 % of the mass on the steered axle (light vehicle)",
    0.25,
    practice("a light vehicle keeps a quarter of its mass on the steered axle"),
)
HEIGHT = Practice(
    "ride height changed by at most 15 mm without new springs",
    0.015,
    practice("15 mm of ride height is what headlamps, joints and steering geometry take without new springs"),
)
BUMP = Practice(
    "at least two thirds of the bump travel kept",
    2 / 3,
    practice("a swap takes no more than a third of the bump travel that the load leaves"),
)
SIDES_HEAVY = Practice("sides of an axle at most 7 % of its load apart (heavy vehicle)", 0.07, FIRE_APPARATUS)
SIDES_LIGHT = Practice(
    "sides of an axle at most 5 % of its load apart (light vehicle)",
    0.05,
    practice("a light vehicle stands even within 5 % of each axle's load"),
)


@rule(
    "mass.calibration-window",
    level="error",
    due="plan",
    sources=[
        sheet("engine.calibration.vehicle_mass_min"),
        sheet("engine.calibration.vehicle_mass_max"),
        sheet("engine.calibration.combination_mass_max"),
    ],
    cautions=[cautions.LAW],
    about="vehicle.mass.gvwr",
    bad=[
        {"engine.calibration.vehicle_mass_max": "2700 kg"},
        {"engine.calibration.vehicle_mass_min": "2900 kg"},
        {"engine.calibration.combination_mass_max": "3500 kg"},
    ],
    good=[{"engine.calibration.vehicle_mass_min": "2000 kg"}],
)
def calibration_window(build: Build) -> Verdict:
    """Is the loaded vehicle inside the range of mass that this engine calibration was made for?

    Computes: nothing. The gross rating, as the vehicle will be plated, is compared with the range; where a trailer may
    be towed, the combination rating too.
    Limit: the engine package's data sheet only. Outside it the certificate, the limits of fuelling and torque and often
    the warranty do not apply.
    Consequence: The engine's certificate, and often its warranty, no longer holds for this vehicle.
    Remedy: another calibration of the same engine; or a lower plate, if the vehicle still carries its load. A plate is
    never raised so that a calibration fits: what the vehicle may weigh is for its axles and brakes to say.
    Cannot tell: whether the work inside the range is what the calibration expects: stop and go, pumping, idling.
    """
    mass, window = build.vehicle.mass, build.engine.calibration

    def alone() -> Verdict:
        low, high = window.vehicle_mass_min, window.vehicle_mass_max
        says = (
            f"The calibration was made for vehicles of {shown(low)} to {shown(high)} laden; this one is plated at "
            f"{shown(mass.gvwr)}."
        )
        if mass.gvwr < low:
            says += " It takes a calibration for lighter vehicles: a higher plate is no remedy."
        elif mass.gvwr > high:
            says += " It takes a calibration for heavier vehicles."
        return within(mass.gvwr, low, high, says)

    def towing() -> Verdict:
        most, field = window.combination_mass_max, "vehicle.mass.gcwr"
        says = f"With trailer it is plated at {shown(mass.gcwr)}; the calibration was made for {shown(most)} at most."
        if mass.gcwr > most:
            says += " It takes a calibration for heavier combinations."
        return at_most(mass.gcwr, most, says, on=field)

    demands: dict[str, Callable[[], Verdict]] = {"vehicle": alone}
    if mass.gcwr > mass.gvwr:
        demands["combination"] = towing
    return all_of(demands)


@rule(
    "mass.gross-rating",
    level="error",
    due="quote",
    sources=[PLATE.giving("limit", "gross and combination rating"), sources.STATICS.giving("formula", "sum of masses")],
    cautions=[cautions.LAW],
    about="vehicle.load_cases",
    each=q.load_cases,
    bad=[
        {"vehicle.load_cases.laden.items.cargo.mass": "740 kg"},
        {"vehicle.load_cases.laden.trailer_mass": "1100 kg"},
    ],
    good=[{"vehicle.load_cases.laden.items.cargo.mass": "300 kg"}],
)
def gross_rating(build: Build, case: LoadCase) -> Verdict:
    """Does the finished vehicle, loaded as it will be used, stay within its gross and combination ratings?

    Computes: mass at the kerb before the swap + ledger, removed items negative, + everything in the load case + nose
    load; with a towbar, vehicle and trailer together.
    Limit: the ratings on the plate. For a fire or work body count full tanks, hose, kit and somebody on each seat.
    Consequence: It is overloaded: unlawful on the road, and the brakes are too small for what it weighs.
    Remedy: carry less: the sentence says how much is left. A litre of water is a kilogram.
    Cannot tell: overload of one axle (mass.axle-rating), and what is put in later.
    """
    mass = build.vehicle.mass

    def alone() -> Verdict:
        found = q.laden(build, case)
        room = mass.gvwr - found
        says = (
            f"{shown(found)} laden, rated for {shown(mass.gvwr)}: "
            f"{f'room for another {kg(room)}' if room >= 0 else f'{kg_up(-room)} too much'}. Empty it weighs "
            f"{shown(q.empty(build))}, which leaves {shown(q.payload(build))} for people and load."
        )
        return at_most(found, mass.gvwr, says)

    def towing() -> Verdict:
        both = q.combination(build, case)
        over = f": {kg_up(both - mass.gcwr)} too much, tow less" if both > mass.gcwr else ""
        return at_most(both, mass.gcwr, f"With trailer {shown(both)}, rated for {shown(mass.gcwr)}{over}.")

    demands: dict[str, Callable[[], Verdict]] = {"vehicle": alone}
    if given(lambda: case.trailer_mass) != 0.0 and is_fitted(build.vehicle.towbar):
        demands["combination"] = towing
    return all_of(demands)


@rule(
    "mass.axle-rating",
    level="error",
    due="quote",
    sources=[
        PLATE.giving("limit", "axle rating"),
        sources.VEHICLE_DYNAMICS.giving("formula", "axle loads from moments"),
    ],
    cautions=[cautions.LAW],
    about="vehicle.load_cases",
    each=q.axles_by_case,
    bad=[
        {"vehicle.mass.gawr_front": "1200 kg"},
        {"vehicle.mass.gawr_rear": "1350 kg", "vehicle.mass.gawr_front": "1450 kg"},
    ],
    good=[{"vehicle.mass.gawr_front": "1350 kg"}],
)
def axle_rating(build: Build, case: LoadCase, axle: q.Axle) -> Verdict:
    """Does an axle carry more than its rating in any load case?

    Computes: by moments about the front axle R = R_kerb + Σ m·x/L and F = m − R over ledger and load; a nose load at
    the overhang o puts m·(L + o)/L on the rear axle and takes m·o/L off the front.
    Limit: the axle rating on the plate, the lowest of axle, springs, wheels and tyres; of a group of axles that of the
    group, or the sum of what its axles are rated for by themselves where that is less. Distances are then taken from
    where the group carries: each axle's place times its share.
    Consequence: The overloaded axle, a spring or a wheel breaks in service; on the road it is unlawful.
    Remedy: move the battery, the tank or the spare wheel: the sentence says how far; or a stronger axle and springs,
    with a rating on paper.
    Cannot tell: the difference between left and right; the single axles of a group, see mass.axle-group; whether the
    frame is strong enough where the load enters.
    """
    rating = q.end_rating(build, axle)
    found, change = q.axle_load(build, case, axle), q.axle_change(build, axle)
    says = (
        f"{named(build, axle)} carries {shown(found)}, rated for {shown(rating)}; empty it carries "
        f"{shown(q.empty_axle(build, axle))} after the swap, {kg(abs(change))} "
        f"{'more' if change >= 0 else 'less'} than before."
    )
    if found > rating:
        says += f" {kg_up(found - rating)} must go: {shift(build, found - rating, axle)}"
    return at_most(found, rating, says)


@rule(
    "mass.steering-axle-share",
    level="error",
    due="quote",
    changed={"0.2.0": "Asks for 30 % in front of a car without a trailer; 20 % was asked for in every load case."},
    sources=[STEERED_AXLE, STEERED_SOLO, STEERED_SOLO_GOODS],
    fallbacks=[STEERED_LIGHT],
    cautions=[cautions.STEERING],
    about="vehicle.load_cases",
    each=q.load_cases,
    bad=[
        {
            "vehicle.load_cases.laden.items.cargo.x": "6 m",
            "vehicle.mass.gawr_rear": "2200 kg",
            "driveline.tyres.pressure_rear": "550 kPa",
        }
    ],
    good=[
        {"vehicle.load_cases.laden.items.cargo.x": "2 m", "vehicle.mass.gawr_front": "1400 kg"},
        {"vehicle.category": "M1"},
    ],
)
def steering_axle_share(build: Build, case: LoadCase) -> Verdict:
    """Does enough of the mass stay on the steered axle in every load case?

    Computes: s = F/(F + R) in each load case, nose load included. State the worst one too: rear axle at its limit,
    driver alone in front.
    Limit: 20 %, and 30 % of cars (M1) without a trailer, below which it is an error. The regulation demands that of the
    highest laden mass with the rear axle at its limit; here each load case is held to it. That 30 % holds for light
    goods vehicles (N1) too is from memory: below it the question is open. For light vehicles 25 % is common practice:
    a warning.
    Consequence: The front wheels grip too little: the vehicle runs straight on in bends and when it brakes.
    Remedy: bring mass forward: the sentence says how far. It happens where a light engine replaces a heavy one.
    Cannot tell: how it steers and brakes: this is a floor, not a target.
    """

    def demand(least: float, level: Literal["error", "warning"]) -> Verdict:
        share, mass = q.front_share(build, case), q.laden(build, case)
        says = f"{shown(share)} of {shown(mass)} stands on the front axle; {shown(least, 'share', '%')} are wanted."
        if share < 0.0:
            says = (
                f"The load lifts the front axle off the road; {shown(least, 'share', '%')} of {shown(mass)} are "
                "wanted on it."
            )
        if share < least:
            says += (
                f" {kg_up((least - share) * mass)} must come forward: {shift(build, (least - share) * mass, 'rear')}"
            )
        return at_least(share, least, says, level=level)

    demands: dict[str, Callable[[], Verdict]] = {"lawful-share": lambda: demand(STEERED_LEAST, "error")}
    category = build.vehicle.category
    if category in ("M1", "N1") and q.nose_load(build, case) == 0.0:
        name = "solo-share" if category == "M1" else "solo-share-goods"
        demands[name] = lambda: demand(SOLO_LEAST, "error")
    if build.vehicle.weight_class == "light":
        demands["usual-share"] = lambda: demand(use_practice(build, STEERED_LIGHT), "warning")
    return all_of(demands)


@rule(
    "mass.ride-height",
    level="warning",
    due="build",
    sources=[sources.SPRINGS.giving("formula", "height over load and spring rate")],
    fallbacks=[HEIGHT, BUMP],
    adjust=["vehicle.suspension.front.rate", "vehicle.suspension.rear.rate"],
    each=lambda build: (build.vehicle.suspension.front, build.vehicle.suspension.rear),
    bad=[{"vehicle.suspension.front.rate": "20 N/mm"}, {"vehicle.suspension.front.bump_clearance": "37 mm"}],
    good=[{"vehicle.suspension.front.rate": "60 N/mm"}],
)
def ride_height(build: Build, springs: AxleSprings) -> Verdict:
    """How far does the axle sink or rise with the swap, and is there bump travel left?

    Computes: Δz = Δm·g/(2·k) from what the swap puts on the axle and the spring rate of one side at the wheel; bump
    travel left in each load case, before and after the swap.
    Limit: common practice: 15 mm up or down without new springs, and two thirds of the bump travel that the same load
    left before; never on the stops. Springs so hard that the laden axle bounces at more than 4 Hz are looked at
    again. Ride height moves headlamps, joint angles and steering geometry with it.
    Consequence: It bottoms out or stands askew: headlamps, joint angles and steering geometry are out.
    Remedy: springs or spacers that bring the height back (`restored = true`); the sentence says which rate restores it
    without a spacer: k·m_after/m_before.
    Cannot tell: dampers, friction of leaf springs, and whether the rate was really taken at the wheel: a rate at the
    spring is to be multiplied by the square of the motion ratio. The rate that restores the height counts the axle's
    own mass as sprung, which puts it a little too near the present one.
    """
    if given(lambda: springs.restored):
        return does_not_apply("New springs or spacers restore the height; measure it on the finished vehicle.")
    axle: q.Axle = "front" if name_of(springs) == "front" else "rear"

    def height() -> Verdict:
        sink, most = q.sink(build, axle), use_practice(build, HEIGHT)
        says = f"The {axle} {'sinks' if sink >= 0 else 'rises'} by {mm(abs(sink))} with the swap."
        if abs(sink) > most:
            restoring = springs.rate * q.empty_axle(build, axle) / q.kerb_on(build, axle)
            says += (
                f" New springs of {shown(restoring, 'stiffness', 'N/mm')} a side, or spacers, would restore the height."
            )
        return within(sink, -most, most, says, on=f"{path_of(springs)}.rate")

    def travel(case: LoadCase) -> Verdict:
        was, left = q.bump_travel_before(build, case, axle), q.bump_travel(build, case, axle)
        least = max(0.0, use_practice(build, BUMP) * was)
        says = (
            f"In the load case {name_of(case)} the {axle} has {mm(left)} of bump travel left; before the swap it had "
            f"{mm(was)}."
            if left >= 0.0
            else f"In the load case {name_of(case)} the {axle} rests on its bump stops, {mm(-left)} beyond the travel."
        )
        scale = None if least > 0.0 else springs.bump_clearance
        return at_least(left, least, says, on=f"{path_of(springs)}.bump_clearance", scale=scale)

    demands: dict[str, Callable[[], Verdict]] = {
        f"travel.{name_of(case)}": partial(travel, case) for case in q.load_cases(build)
    }
    carried = given(lambda: axle_loads.heaviest(build, axle)) or 0.0
    bounce = math.sqrt(2.0 * springs.rate / carried) / (2.0 * math.pi) if carried > 0.0 else 0.0
    if bounce > HARDEST:
        demands["rate-sense"] = lambda: _too_hard(springs, bounce)
    return all_of(demands, height=height)


def _too_hard(springs: AxleSprings, bounce: float) -> Verdict:
    says = f"On {shown(springs.rate)} a side the {name_of(springs)} would bounce at "
    says += f"{shown(bounce, 'frequency', 'Hz', digits=2)} fully laden; vehicles bounce at 1 to 3 Hz. Look at the rate "
    says += "again: its decimal point, and whether it was taken at the wheel."
    return needs_review(says, on=f"{path_of(springs)}.rate", found=springs.rate)


@rule(
    "mass.tyre-load",
    level="error",
    due="quote",
    sources=[
        sources.TYRE_MARKINGS.giving("limit", "mass of each load index"),
        sources.TYRE_PRESSURE.giving("formula", "load over pressure, to the power 0.8"),
    ],
    fallbacks=[q.FULL_PRESSURE],
    cautions=[cautions.TYRES],
    adjust=[
        "driveline.tyres.load_index_single",
        "driveline.tyres.load_index_dual",
        "driveline.front_tyres.load_index_single",
        "driveline.tyres.pressure_front",
        "driveline.tyres.pressure_rear",
    ],
    each=q.axles_by_case,
    bad=[{"driveline.tyres.load_index_single": 97}, {"driveline.tyres.pressure_rear": "280 kPa"}],
    good=[{"driveline.tyres.load_index_single": 123}],
)
def tyre_load(build: Build, case: LoadCase, axle: q.Axle) -> Verdict:
    """Are the tyres rated for the axle loads at the pressure that is kept?

    Computes: tyres on the axle times the mass of the load index, by the printed table; times (p/p_ref)^0.8 where the
    pressure is below the tyre's reference pressure. Where none is stated the full load counts, and the result says so.
    The front tyres are those behind, unless `driveline.front_tyres` states others.
    Limit: the load in the case must not exceed it. The load index holds up to the speed of the speed symbol.
    Consequence: An overloaded tyre overheats and bursts at speed.
    Remedy: the lowest load index that carries the axle, or more pressure where the tyre and wheel allow it.
    Cannot tell: the rating of the wheel, the age of the tyre, and the pressure that is really kept.
    """
    found = q.axle_load(build, case, axle)
    try:
        capacity = q.tyre_capacity(build, axle)
    except OutsideRange:
        most = q.most_at_half(build, axle)
        if found <= most:
            raise
        says = (
            f"{named(build, axle)} carries {shown(found)}; its tyres carry {shown(most, 'mass', 'kg')} at half of the "
        )
        return at_most(found, most, f"{says}pressure of their load index, and are kept at less.")
    counts, share = q.tyre_counts(build, axle), q.pressure_share(build, axle)
    kinds = [twins for twins in (False, True) if (4 if twins else 2) in counts]
    percent = shown(share, "share", "%", digits=2)
    indices = " and ".join(str(q.load_index(build, axle, twins=twins)) for twins in kinds)
    alike = " as behind" if axle == "front" and not unlike(build) else ""
    says = (
        f"{named(build, axle)} carries {shown(found)}; its {sum(counts)} tyres of load index {indices}{alike} carry "
        f"{shown(capacity)}"
        f"{f' at {percent} of their rated load for the pressure' if share < 1.0 else ''}."
    )
    stronger = None
    if found > capacity and len(kinds) == 1:
        field = f"{path_of(tyres_at(build, axle))}.load_index_{'dual' if kinds[0] else 'single'}"
        try:
            stronger = advice(field, tyres.smallest_load_index(found / (sum(counts) * share)))
        except OutsideRange:
            says += " No load index of the table carries this load."
    return at_most(found, capacity, says, advice=stronger)


@rule(
    "mass.side-balance",
    level="warning",
    due="build",
    sources=[sources.STATICS.giving("formula", "moments about the middle of the vehicle")],
    fallbacks=[SIDES_HEAVY, SIDES_LIGHT, q.EVEN_BEFORE],
    about="vehicle.load_cases",
    each=q.axles_by_case,
    bad=[{"vehicle.mass.kerb_left_share": "54 %"}, {"vehicle.ledger.tank.y": "-1200 mm"}],
    good=[{"vehicle.mass.kerb_left_share": "50 %"}],
)
def side_balance(build: Build, case: LoadCase, axle: q.Axle) -> Verdict:
    """Does the vehicle stand even on its left and right wheels after moving battery, tank and engine?

    Computes: left − right = 2·M/track for each axle, with the side moment M = Σ m·y split between the axles by x/L;
    starting from the weighed sides before the swap, else from an even vehicle.
    Limit: 7 % of the axle's load for heavy vehicles, as for fire apparatus, and 5 % for light ones: common practice.
    Consequence: The vehicle leans, pulls to one side when it brakes and wears its tyres unevenly.
    Remedy: move something across; the sentence says how far. An uneven vehicle leans and brakes unevenly.
    Cannot tell: twist of the frame, which shifts load between the diagonals: weigh four wheels.
    """
    heavy = build.vehicle.weight_class == "heavy"
    most = use_practice(build, SIDES_HEAVY if heavy else SIDES_LIGHT)
    share, mass = q.side_difference(build, case, axle), q.axle_load(build, case, axle)
    track = build.vehicle.track_front if axle == "front" else build.vehicle.track_rear
    across = statics.shift_to_level(abs(share) * mass, HANDY, track)
    heavier, lighter = ("left", "right") if share >= 0 else ("right", "left")
    says = f"On the {axle} axle the {heavier} side carries {kg(abs(share) * mass)} more."
    if abs(share) > most and across <= track:
        says += f" To level it, move {kg(HANDY)} over that axle {mm(up(across))} to the {lighter}, or more less far."
    elif abs(share) > most:
        says += f" To level it, {kg_up(abs(share) * mass)} over that axle must move {mm(track / 2.0)} to the {lighter}."
    return within(share, -most, most, says, unit=("share", "%"))
