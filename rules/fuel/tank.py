"""Rules about the tank: pick-up, slopes, range, heat, and a change of fuel."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import partial

from swaplint.api import (
    Build,
    ImpossibleInput,
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
    is_fitted,
    owner,
    practice,
    rule,
    sheet,
    shown,
    told,
    use_practice,
    within,
)
from swaplint.engineering import tanks

from .. import sources
from ..places import hottest_of_all
from . import tank_quantities as q
from .quantities import DIESEL_DENSITY, PETROL_DENSITY, shown_amply

TANK = "plumbing.fuel.tank"
CONVERSION = "plumbing.fuel.conversion"

PICK_UP = practice("a pick-up mouth 15 to 30 mm above the floor, within 15 % of the tank's middle")
COVER = practice("fuel that keeps the pick-up covered: 10 % of the tank on roads, 25 % off them; a swirl pot of 1 L")
CHANGED_FUEL = practice("what a change between petrol and diesel leaves to be dealt with")

LOW_MOUTH, USUAL_MOUTH, HIGH_MOUTH, OFF_CENTRE = 0.015, 0.020, 0.030, 0.15
COVER_ROAD = Practice("fuel that covers the pick-up on slopes at most 10 % of the tank (road)", 0.10, COVER)
COVER_OFF_ROAD = Practice("fuel that covers the pick-up on slopes at most 25 % of the tank (off road)", 0.25, COVER)
SWIRL_POT = 1e-3
PLASTIC_TANK = 333.15


@rule(
    "fuel.pickup-position",
    level="warning",
    due="build",
    sources=[PICK_UP.giving("limit", "15 to 30 mm above the floor, within 15 % of the middle")],
    cautions=[cautions.FUEL_FIRE],
    adjust=[f"{TANK}.pickup_height", f"{TANK}.pickup_x", f"{TANK}.pickup_y"],
    bad=[
        {f"{TANK}.pickup_height": "5 mm"},
        {f"{TANK}.pickup_y": "-80 mm", f"{TANK}.swirl_pot": {"volume": "1.5 L"}, f"{TANK}.low_level_lamp": "35 L"},
    ],
    good=[{f"{TANK}.pickup_height": "28 mm"}],
)
def pickup_position(build: Build) -> Verdict:
    """Is the pick-up at the right height and near the middle of the tank?

    Computes: the offset from the middle as a share of the tank's length and width; the fuel that stays below the
    pick-up.
    Limit: a mouth 15 to 30 mm above the floor, so that water and dirt stay below it, and at most 15 % of the length
    and of the width off the middle: common practice.
    Consequence: The pump draws water, dirt or air: the engine stumbles on slopes and its injection wears.
    Remedy: a pipe that ends 20 mm above the floor in the middle of the tank; the sentence says how long it is.
    Cannot tell: the shape of a real tank, whose deepest place may be elsewhere, and how good a swirl pot is.
    """
    tank = build.plumbing.fuel.tank
    return all_of(
        height=lambda: _mouth_height(build),
        offset_along=lambda: _off_centre(tank.pickup_x, tank.length, "behind or ahead of", f"{TANK}.pickup_x"),
        offset_across=lambda: _off_centre(tank.pickup_y, tank.width, "beside", f"{TANK}.pickup_y"),
    )


def _mouth_height(build: Build) -> Verdict:
    tank = build.plumbing.fuel.tank
    says = (
        f"The mouth is {shown(tank.pickup_height)} above the floor and leaves {shown(q.unusable(build), digits=3)} in "
        "the tank."
    )
    if not LOW_MOUTH <= tank.pickup_height <= HIGH_MOUTH and tank.height > USUAL_MOUTH:
        pipe = shown(tank.height - USUAL_MOUTH, "length", "mm")
        says += f" A pipe of {pipe} below the tank's top ends {told('20 mm')} above the floor."
    on = f"{TANK}.pickup_height"
    return within(tank.pickup_height, LOW_MOUTH, HIGH_MOUTH, says, on=on, advice=advice(on, USUAL_MOUTH))


def _off_centre(offset: float, size: float, where: str, on: str) -> Verdict:
    share = abs(offset) / size
    says = f"The pick-up is {shown(abs(offset), 'length', 'mm')} {where} the tank's middle"
    says += "." if share <= OFF_CENTRE else ": it draws air on slopes and in bends."
    nearest = math.copysign(OFF_CENTRE * size, offset)
    return at_most(share, OFF_CENTRE, says, on=on, unit=("share", "%"), advice=advice(on, nearest))


@rule(
    "fuel.tilt-uncovering",
    level="warning",
    due="build",
    sources=[
        owner("build.design.tilt_long"),
        owner("build.design.grade_max"),
        owner("build.design.tilt_side"),
        sources.TANK_GEOMETRY.giving("formula", "volume under a tilted surface in a box"),
        COVER.giving("limit", "swirl pot of 1 L"),
    ],
    adjust=[f"{TANK}.pickup_x", f"{TANK}.low_level_lamp"],
    about=TANK,
    fallbacks=[COVER_ROAD, COVER_OFF_ROAD],
    bad=[{f"{TANK}.low_level_lamp": "5 L"}, {f"{TANK}.swirl_pot": {"volume": "0.4 L"}}],
    good=[{f"{TANK}.swirl_pot": {"volume": "1.5 L"}}],
)
def tilt_uncovering(build: Build) -> Verdict:
    """How much fuel must be aboard so that the pick-up stays covered on the steepest working slope?

    Computes: the volume under a level surface through the mouth of the pick-up, in the tank as a box tilted both ways
    lengthwise and sideways together; lengthwise by the steepest tilt, climb, start or descent.
    Limit: common practice: a quarter of the tank off the road and a tenth on it, or a swirl pot of 1 L or more. The
    low-fuel lamp must come on at or above that fuel.
    Consequence: On a slope the pump draws air while fuel is left: the engine stops and its pump runs dry.
    Remedy: the place in the tank that needs least is its middle; a swirl pot with a check valve; the lamp set
    higher.
    Cannot tell: sloshing in bends, which baffles damp, and the shape of a real tank.
    """
    tank = build.plumbing.fuel.tank
    demands: dict[str, Callable[[], Verdict]] = {"low-level-lamp": lambda: _lamp(build)}
    demands["covering-share"] = lambda: _covering_share(build)
    if given(lambda: is_fitted(tank.swirl_pot)):
        demands["swirl-pot"] = lambda: _swirl_pot(build)
    return all_of(demands)


def _uncovers(build: Build) -> str:
    least = shown_amply(q.covering_volume(build), "volume", "L")
    return f"With less than {least} aboard the steepest slopes uncover the pick-up."


def _swirl_pot(build: Build) -> Verdict:
    pot, on = build.plumbing.fuel.tank.swirl_pot, f"{TANK}.swirl_pot.volume"
    uncovers = given(lambda: _uncovers(build))
    seconds = given(lambda: pot.volume / build.engine.fuel.supply_flow)
    says = "" if uncovers is None else f"{uncovers} "
    says += (
        f"The swirl pot holds {shown(pot.volume)}."
        if seconds is None
        else (f"The swirl pot lasts {seconds:.0f} s at full flow.")
    )
    if pot.volume < SWIRL_POT:
        says += told(" Fit one of 1 L or more.")
    return at_least(pot.volume, SWIRL_POT, says, on=on, advice=advice(on, SWIRL_POT))


def _covering_share(build: Build) -> Verdict:
    tank = build.plumbing.fuel.tank
    if is_fitted(tank.swirl_pot):
        return holds(True, "A swirl pot carries the engine over slopes.", on=f"{TANK}.swirl_pot")
    off_road = build.build.duty.terrain == "off-road"
    share, most = q.covering_share(build), use_practice(build, COVER_OFF_ROAD if off_road else COVER_ROAD)
    says = _uncovers(build)
    if share > most:
        if tank.pickup_x != 0.0 or tank.pickup_y != 0.0:
            centred = shown(q.centred_covering_volume(build), "volume", "L", digits=3)
            says += f" In the middle of the tank it would take {centred}."
        says += told(" A swirl pot of 1 to 2 L with a check valve carries the engine over them.")
    pot = advice(f"{TANK}.swirl_pot.volume", SWIRL_POT) if share > most else None
    return at_most(share, most, says, on=TANK, advice=pot)


def _lamp(build: Build) -> Verdict:
    lit, litres, on = build.plumbing.fuel.tank.low_level_lamp, q.covering_volume(build), f"{TANK}.low_level_lamp"
    holds_at_most = build.plumbing.fuel.tank.capacity
    if lit >= holds_at_most:
        raise ImpossibleInput(f"the lamp comes on at {shown(lit)}, and the tank holds {shown(holds_at_most)}")
    says = f"The low-fuel lamp comes on at {shown(lit)}. {_uncovers(build)}"
    if lit < litres:
        says += " Set it higher."
    return at_least(lit, litres, says, on=on, advice=advice(on, litres))


@rule(
    "fuel.range-reserve",
    level="note",
    due="plan",
    sources=[
        owner("build.design.range_target"),
        owner("build.duty.stationary_hours"),
        sources.TANK_GEOMETRY.giving("formula", "volume under a tilted surface in a box"),
    ],
    adjust=[f"{TANK}.capacity"],
    without={"build.duty.stationary_hours": "Standing work is the owner's wish: unstated, none has to last a tank."},
    bad=[{"build.design.range_target": "600 km"}],
    good=[{"plumbing.fuel.consumption": "8 L/100 km"}],
)
def range_reserve(build: Build) -> Verdict:
    """How far, and how long standing, does a tank go before slopes can uncover the pick-up?

    Computes: usable fuel = capacity less what must be aboard to keep the pick-up covered, which holds the unreachable
    fuel too; range = usable fuel/consumption; standing time = usable fuel/burn.
    Limit: the owner's range, and the time of standing work that one tank must last where it is stated.
    Consequence: The vehicle runs dry before it gets there, or its standing work stops half done.
    Remedy: a larger tank, or a pick-up that reaches more of it.
    Cannot tell: the driver. Consumption is rarely known better than 20 % either way.
    """
    demands: dict[str, Callable[[], Verdict]] = {"range": lambda: _range(build)}
    if given(lambda: build.build.duty.stationary_hours) is not None:
        demands["standing-work"] = lambda: _standing(build)
    return all_of(demands)


def _larger_tank(build: Build, burnt: float) -> float:
    """What a tank of the same floor must hold, m³, for so much of it to be usable, m³."""
    return build.plumbing.fuel.tank.capacity - q.usable(build) + burnt


def _aboard(build: Build) -> str:
    """What the tanks hold, in words."""
    second = build.plumbing.fuel.second_tank
    main = shown(build.plumbing.fuel.tank.capacity)
    if given(lambda: is_fitted(second)) is not True:
        return main
    return f"{main} and {shown(second.reachable)} that the second tank gives"


def _range(build: Build) -> Verdict:
    target, fuel = build.build.design.range_target, build.plumbing.fuel
    says = f"{shown(q.usable(build), digits=3)} of {_aboard(build)} can be burnt on the way."
    on, wanted = f"{TANK}.capacity", _larger_tank(build, target * fuel.consumption)
    return at_least(q.driving_range(build), target, says, on=on, advice=advice(on, wanted))


def _standing(build: Build) -> Verdict:
    hours, fuel = build.build.duty.stationary_hours, build.plumbing.fuel
    says = f"{shown(q.usable(build), digits=3)} of {_aboard(build)} can be burnt in standing work."
    on, wanted = f"{TANK}.capacity", _larger_tank(build, hours * fuel.stationary_burn)
    return at_least(q.standing_time(build), hours, says, on=on, advice=advice(on, wanted))


@rule(
    "fuel.return-heating",
    level="warning",
    due="build",
    sources=[
        sheet("engine.fuel.inlet_temp_max"),
        sources.HEAT_TRANSFER.giving("formula", "heat that a flow brings and a surface gives off; c_p 2.0 kJ/(kg K)"),
        q.WARM_TANK.giving("limit", "60 °C in a plastic tank"),
    ],
    cautions=[cautions.FUEL_FIRE],
    adjust=["plumbing.fuel.cooler.duty"],
    about="plumbing.fuel.cooler",
    fallbacks=[q.RETURN_RISE, q.AIR_STILL, q.AIR_MOVING, DIESEL_DENSITY, PETROL_DENSITY, q.HOT_FUEL],
    bad=[
        {"engine.fuel.inlet_temp_max": "45 degC"},
        {f"{TANK}.material": "plastic", "engine.fuel.return_temp_rise": "35 K"},
    ],
    good=[{"plumbing.fuel.cooler": {"duty": "0.5 kW", "drop": "0.5 kPa"}}],
)
def return_heating(build: Build) -> Verdict:
    """Does hot return fuel overheat the tank?

    Computes: the heat that the return brings, less a cooler's duty; the temperature that a full tank comes to in the
    hottest air until it is empty, the fuel well mixed: on the road by consumption and cruising speed, standing by the
    burn of the work. Where these are not stated, the temperature at which it settles, however long that takes.
    Limit: the engine's hottest inlet, 60 °C where its sheet has none, and 60 °C for a plastic tank: common practice.
    Consequence: Fuel gets too hot: it no longer lubricates the pump, power drops, a plastic tank softens.
    Remedy: a cooler in the return.
    Cannot tell: heat from an exhaust near the tank. Near empty less of the tank is wet and the fuel gets hotter yet;
    how much a tank gives off is known to a third either way.
    """
    wants = build.engine.fuel
    if wants.return_flow == 0.0:
        return does_not_apply("The engine sends no fuel back.")
    hottest = q.hottest_inlet(build)
    plastic = build.plumbing.fuel.tank.material == "plastic"
    limit = min(hottest, PLASTIC_TANK) if plastic else hottest
    ambient, found = hottest_of_all(build), q.tank_temperature(build)
    says = (
        f"The return brings {shown(q.return_heat(build), digits=3)}; at "
        f"{shown(ambient, 'temperature', 'degC')} outside the tank comes to {shown(found, digits=3)}."
    )
    duty, cooler = None if found <= limit else _cooler_duty(build, limit), None
    if duty is not None:
        cooler = advice("plumbing.fuel.cooler.duty", duty)
    if duty is not None and not is_fitted(build.plumbing.fuel.cooler):
        says += f" A return cooler of {shown_amply(duty, 'power', 'kW')} would keep it at the limit."
    return at_most(found, limit, says, scale=max(1.0, abs(limit - ambient)), advice=cooler)


def _cooler_duty(build: Build, limit: float) -> float | None:
    """Heat, W, that a cooler must take for the tank to stay at the limit; None where the air alone is hotter."""
    left = limit - hottest_of_all(build)
    if left < 0.0:
        return None
    left /= q.share_of_settled(build)
    return tanks.cooler_duty(q.return_heat(build), q.tank_coefficient(build), q.tank_surface(build), left)


_TO_BOTH = {
    "filler_suits_nozzle": (
        "The filler suits the nozzle of the new fuel.",
        "The filler does not suit the nozzle of the new fuel: fit one that does.",
    ),
    "labelled": (
        "The filler says which fuel goes in.",
        "The filler does not say which fuel goes in: put a label on it.",
    ),
    "sender_matched": (
        "Gauge and level sender read right together.",
        "Gauge and level sender do not read right together: fit a pair that matches.",
    ),
    "seals_suit_fuel": (
        "Seals that are kept suit the new fuel.",
        "Seals that are kept do not suit the new fuel: renew them.",
    ),
    "papers_asked": (
        "The registration authority was asked.",
        "The registration authority was not asked: ask before the work.",
    ),
}
_OLD_TANK = {
    "tank_cleaned": (
        "A specialist has cleaned and dried the old tank.",
        "The old tank was not cleaned and dried by a specialist: have that done; its vapour explodes.",
    ),
    "pickup_renewed": ("Pick-up and strainer are new.", "Pick-up and strainer are the old ones: fit new ones."),
}
_TO_PETROL = {
    "vapour_tight": ("Tank and cap hold petrol vapour.", "Tank and cap do not hold petrol vapour: fit ones that do."),
    "filler_conductive": (
        "Filler neck and hose lead static charge to the bonded tank.",
        "Filler neck and hose do not lead static charge to the bonded tank, and a spark lights the vapour: "
        "fit ones that do.",
    ),
}


@rule(
    "fuel.tank-conversion",
    level="error",
    due="quote",
    sources=[
        sources.FIRE_RISKS.giving("limit", "no bonding of fuel with a flash point above 55 °C", known="second-hand"),
        CHANGED_FUEL.giving("limit", "the items that a change leaves open"),
    ],
    cautions=[cautions.FUEL_FIRE, cautions.LAW],
    about=CONVERSION,
    bad=[{f"{CONVERSION}.tank_cleaned": False}, {f"{CONVERSION}.labelled": False}],
    good=[{f"{TANK}.reused": False}],
)
def tank_conversion(build: Build) -> Verdict:
    """Where the fuel changes kind, is every leftover of the old one dealt with?

    Computes: nothing; every item must be answered.
    Limit: common practice. Both ways: the filler suits the nozzle and is labelled, gauge and sender match, seals suit,
    the authority was asked. A tank that is kept is cleaned and dried by a specialist and gets a new pick-up. To
    petrol: tank and cap hold vapour, filler neck and hose lead static charge to a bonded tank (for fuel with a flash
    point above 55 °C UN Regulation 34 does not ask for that, for petrol it does). To diesel: no canister is left.
    Consequence: It is filled wrongly, clogs, runs dry, leaks or catches fire, or loses its registration.
    Remedy: the items in the sentence; each becomes a line of the supply or an entry of the inspection.
    Cannot tell: rust inside the tank, and the state of parts that are kept.
    """
    old, new = build.vehicle.original.fuel_type, build.engine.fuel_type
    if old == new:
        return does_not_apply(f"The vehicle burns {new} as before.")
    items = {**_TO_BOTH, **(_TO_PETROL if new == "petrol" else {})}
    demands: dict[str, Callable[[], Verdict]] = {
        _demand(name): partial(_done, build, name, says) for name, says in items.items()
    }
    if given(lambda: build.plumbing.fuel.tank.reused) is not False:
        demands |= {_demand(name): partial(_kept, build, name, says) for name, says in _OLD_TANK.items()}
    if new == "diesel":
        demands["canister-gone"] = partial(_no_canister, build)
    return all_of(demands)


def _demand(name: str) -> str:
    return name.replace("_", "-")


def _kept(build: Build, name: str, says: tuple[str, str]) -> Verdict:
    if not build.plumbing.fuel.tank.reused:
        return does_not_apply("The tank is a new one.")
    return _done(build, name, says)


def _done(build: Build, name: str, says: tuple[str, str]) -> Verdict:
    done: bool = getattr(build.plumbing.fuel.conversion, name)
    return holds(done, says[0] if done else says[1], on=f"{CONVERSION}.{name}")


def _no_canister(build: Build) -> Verdict:
    left = is_fitted(build.plumbing.fuel.canister)
    says = "The old canister is still there: remove it and close its line." if left else "No canister is left."
    return holds(not left, says, on="plumbing.fuel.canister")
