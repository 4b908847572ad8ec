"""Rules about the tank: pick-up, slopes, vent, range, heat, and a change of fuel."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    all_of,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    or_practice,
    owner,
    practice,
    rule,
    sheet,
    shown,
    use_practice,
    within,
)
from swaplint.engineering import tanks

from .. import sources
from . import tank_quantities as q
from .quantities import DIESEL_DENSITY, PETROL_DENSITY, is_diesel

TANK, VENT = "plumbing.fuel.tank", "plumbing.fuel.vent"
CONVERSION = "plumbing.fuel.conversion"

PICK_UP = practice("a pick-up mouth 15 to 30 mm above the floor, within 15 % of the tank's middle")
COVER = practice("fuel that keeps the pick-up covered: 10 % of the tank on roads, 25 % off them; a swirl pot of 1 L")
TANK_VENT = practice("tank vent: 6 mm bore or more, at most 0.5 kPa, roll-over valve, end above the wading depth")
WARM_TANK = practice("fuel of at most 60 °C at the engine and in a plastic tank")
CHANGED_FUEL = practice("what a change between petrol and diesel leaves to be dealt with")

LOW_MOUTH, HIGH_MOUTH, OFF_CENTRE = 0.015, 0.030, 0.15
COVER_ROAD = Practice("fuel that covers the pick-up on slopes at most 10 % of the tank (road)", 0.10, COVER)
COVER_OFF_ROAD = Practice("fuel that covers the pick-up on slopes at most 25 % of the tank (off road)", 0.25, COVER)
SWIRL_POT = 1e-3
VENT_BORE, VENT_DROP = 0.006, 500.0
HOT_FUEL = Practice("fuel of at most 60 °C at the engine's inlet", 333.15, WARM_TANK)
PLASTIC_TANK = 333.15


@rule(
    "fuel.pickup-position",
    level="warning",
    due="build",
    sources=[PICK_UP],
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
    Remedy: a pipe that ends 20 mm above the floor in the middle of the tank; its length is in the sentence.
    Cannot tell: the shape of a real tank, whose deepest place may be elsewhere, and how good a swirl pot is.
    """
    tank = build.plumbing.fuel.tank
    return all_of(
        lambda: _mouth_height(build),
        lambda: _off_centre(tank.pickup_x, tank.length, "behind or ahead of", "length", f"{TANK}.pickup_x"),
        lambda: _off_centre(tank.pickup_y, tank.width, "beside", "width", f"{TANK}.pickup_y"),
        default="warning",
    )


def _mouth_height(build: Build) -> Verdict:
    tank = build.plumbing.fuel.tank
    pipe = max(0.0, tank.height - 0.020)
    says = (
        f"The mouth is {shown(tank.pickup_height)} above the floor and leaves {shown(q.unusable(build), digits=3)} in "
        f"the tank. A pipe of {shown(pipe, 'length', 'mm')} below the tank's top ends 20 mm above the floor."
    )
    return within(tank.pickup_height, LOW_MOUTH, HIGH_MOUTH, says, on=f"{TANK}.pickup_height")


def _off_centre(offset: float, size: float, where: str, of: str, on: str) -> Verdict:
    share = abs(offset) / size
    says = (
        f"The pick-up is {shown(abs(offset), 'length', 'mm')} {where} the tank's middle, {share:.0%} of the {of}. "
        f"Keep it within {shown(OFF_CENTRE * size, 'length', 'mm')}, or it draws air on slopes and in bends."
    )
    return at_most(share, OFF_CENTRE, says, on=on, unit=("share", "%"))


@rule(
    "fuel.tilt-uncovering",
    level="warning",
    due="build",
    sources=[owner("build.design.tilt_long"), sources.TANK_GEOMETRY, COVER],
    adjust=[f"{TANK}.pickup_x", f"{TANK}.low_level_lamp"],
    about=TANK,
    fallbacks=[COVER_ROAD, COVER_OFF_ROAD],
    bad=[{f"{TANK}.low_level_lamp": "5 L"}, {f"{TANK}.swirl_pot": {"volume": "0.4 L"}}],
    good=[{f"{TANK}.swirl_pot": {"volume": "1.5 L"}}],
)
def tilt_uncovering(build: Build) -> Verdict:
    """How much fuel must be aboard so that the pick-up stays covered on the steepest working slope?

    Computes: the volume under a level surface through the mouth of the pick-up, in the tank as a box tilted both ways
    lengthwise and sideways together.
    Limit: common practice: a quarter of the tank off the road and a tenth on it, or a swirl pot of 1 L or more. The
    low-fuel lamp must come on at or above that fuel.
    Consequence: On a slope the pump draws air while fuel is left: the engine stops and its pump runs dry.
    Remedy: the place in the tank that needs least is its middle; a swirl pot with a check valve; the lamp at the
    litres in the sentence.
    Cannot tell: sloshing in bends, which baffles damp, and the shape of a real tank.
    """
    tank, design = build.plumbing.fuel.tank, build.build.design
    off_road = build.build.duty.terrain == "off-road"
    litres, share = q.covering_volume(build), q.covering_share(build)
    says = f"With less than {shown(litres, digits=3)} aboard the steepest slopes uncover the pick-up."
    if tank.pickup_x != 0.0 or tank.pickup_y != 0.0:
        centred = tanks.PickUp(tank.pickup_height)
        least = tanks.worst_covering_volume(q.tank_box(build), centred, design.tilt_long, design.tilt_side)
        says += f" In the middle of the tank it would take {shown(least, 'volume', 'L', digits=3)}."

    def reserve() -> Verdict:
        if is_fitted(tank.swirl_pot):
            seconds = tank.swirl_pot.volume / build.engine.fuel.supply_flow
            return at_least(
                tank.swirl_pot.volume,
                SWIRL_POT,
                f"{says} The swirl pot lasts {seconds:.0f} s at full flow.",
                on=f"{TANK}.swirl_pot.volume",
            )
        most = use_practice(build, COVER_OFF_ROAD if off_road else COVER_ROAD)
        pot = " A swirl pot of 1 to 2 L with a check valve carries the engine over them."
        return at_most(share, most, says + pot if share > most else says, on=TANK)

    def lamp() -> Verdict:
        lit = (
            f"The low-fuel lamp comes on at {shown(tank.low_level_lamp)}; below {shown(litres, digits=3)} the steepest "
            "slopes uncover the pick-up"
        )
        lit += ": set it to that or more." if tank.low_level_lamp < litres else "."
        return at_least(tank.low_level_lamp, litres, lit, on=f"{TANK}.low_level_lamp")

    return all_of(reserve, lamp, default="warning")


@rule(
    "fuel.venting",
    level="error",
    due="quote",
    sources=[sources.US_FUEL_TANKS, sources.FIRE_RISKS, TANK_VENT],
    cautions=[cautions.FUEL_FIRE],
    adjust=[f"{VENT}.bore"],
    about=VENT,
    bad=[
        {VENT: {"fitted": False}},
        {f"{VENT}.path": "cap-only"},
        {f"{VENT}.bore": "3 mm"},
        {f"{VENT}.rollover_valve": False},
        {f"{VENT}.end_height": "200 mm"},
    ],
    good=[{f"{VENT}.bore": "10 mm"}],
)
def venting(build: Build) -> Verdict:
    """Does the tank breathe well enough for burning, filling and heating, and stay shut when rolled over?

    Computes: the pressure that the air takes through the vent, plus the opening pressure of its valve. The air is the
    burn, or the filling rate where the filler has no breather of its own.
    Limit: common practice: a vent of its own, not the cap alone, 6 mm bore or more, at most 0.5 kPa, a roll-over
    valve, an end above the wading depth and away from heat. Petrol breathes through a canister that the engine purges.
    Consequence: Vacuum starves the engine, water gets in, or fuel and vapour get out and can catch fire.
    Remedy: a vent line of the bore in the sentence, the missing valve or canister.
    Cannot tell: spit-back while filling, and what a vent filter full of dust adds to the suction.
    """
    vent = build.plumbing.fuel.vent
    if not is_fitted(vent):
        return holds(
            False,
            "The tank has no vent: vacuum starves the engine, heat presses fuel out. Fit a vent line of 6 mm bore or "
            "more with a roll-over valve" + (", through a canister." if not is_diesel(build) else "."),
            on=VENT,
        )
    return all_of(
        lambda: _vent_path(build),
        lambda: _vent_flow(build),
        lambda: holds(
            vent.rollover_valve,
            "The vent has a roll-over valve."
            if vent.rollover_valve
            else "The vent has no roll-over valve: a vehicle on its side spills its fuel. Fit one.",
            on=f"{VENT}.rollover_valve",
        ),
        lambda: _vent_end(build),
    )


def _vent_path(build: Build) -> Verdict:
    path = build.plumbing.fuel.vent.path
    if path == "cap-only":
        return holds(
            False,
            "The tank breathes through its cap only, which dust and a wrong cap shut: give it a vent line of its own.",
            on=f"{VENT}.path",
        )
    if is_diesel(build):
        return holds(True, "The tank breathes through a line of its own.", on=f"{VENT}.path")
    canister = build.plumbing.fuel.canister
    if path != "canister" or not is_fitted(canister):
        says = "Petrol vapour must go to a canister that the engine purges, as the engine was certified: fit it."
        return holds(False, says, on="plumbing.fuel.canister" if path == "canister" else f"{VENT}.path")
    return holds(
        canister.purged,
        "The tank breathes through a canister that the engine purges."
        if canister.purged
        else "The engine does not purge the canister, which then fills with petrol: join the purge valve.",
        on="plumbing.fuel.canister.purged",
    )


def _vent_flow(build: Build) -> Verdict:
    vent = build.plumbing.fuel.vent
    drop = q.vent_drop(build)
    says = f"{shown(q.vent_flow(build), digits=3)} of air through {shown(vent.bore)} take {shown(drop, digits=3)}."
    return all_of(
        at_most(drop, VENT_DROP, says, on=f"{VENT}.bore"),
        at_least(
            vent.bore, VENT_BORE, f"{says} A vent line has 6 mm bore or more.", level="warning", on=f"{VENT}.bore"
        ),
    )


def _vent_end(build: Build) -> Verdict:
    vent = build.plumbing.fuel.vent
    wade = given(lambda: build.build.design.wade_depth)
    clear = holds(
        vent.clear_of_heat,
        "The vent ends away from heat and sparks."
        if vent.clear_of_heat
        else "The vent ends near heat, sparks or the cab's air: lead its end elsewhere.",
        on=f"{VENT}.clear_of_heat",
    )
    if wade is None:
        return clear
    height = at_least(
        vent.end_height,
        wade,
        f"The vent ends {shown(vent.end_height)} above the ground; the vehicle wades {shown(wade)}.",
        on=f"{VENT}.end_height",
        scale=vent.end_height,
    )
    return all_of(height, clear)


@rule(
    "fuel.range-reserve",
    level="note",
    due="plan",
    sources=[owner("build.design.range_target"), sources.TANK_GEOMETRY],
    adjust=[f"{TANK}.capacity"],
    bad=[{"plumbing.fuel.consumption": "30 L/100 km"}],
    good=[{"plumbing.fuel.consumption": "8 L/100 km"}],
)
def range_reserve(build: Build) -> Verdict:
    """How far, and how long standing, does a tank go before slopes can uncover the pick-up?

    Computes: usable fuel = capacity less what must be aboard to keep the pick-up covered, which holds the unreachable
    fuel too; range = usable fuel/consumption; standing time = usable fuel/burn.
    Limit: the owner's range, and the time of standing work that one tank must last where it is stated.
    Consequence: The vehicle runs dry before it gets there, or its standing work stops half done.
    Remedy: a tank of the volume in the sentence, or a pick-up that reaches more of it.
    Cannot tell: the driver. Consumption is rarely known better than 20 % either way.
    """
    tank, target = build.plumbing.fuel.tank, build.build.design.range_target
    kept = tank.capacity - q.usable(build)
    wanted = kept + target * build.plumbing.fuel.consumption
    reach = at_least(
        q.driving_range(build),
        target,
        f"{shown(q.usable(build), digits=3)} of {shown(tank.capacity)} can be burnt. A tank of "
        f"{shown(wanted, 'volume', 'L', digits=3)} reaches {shown(target)}.",
        on=f"{TANK}.capacity",
    )
    hours = given(lambda: build.build.duty.stationary_hours)
    if hours is None:
        return reach

    def standing() -> Verdict:
        needed = kept + hours * build.plumbing.fuel.stationary_burn
        return at_least(
            q.standing_time(build),
            hours,
            f"Standing work lasts {shown(q.standing_time(build), digits=3)} on a tank; {shown(hours)} take one of "
            f"{shown(needed, 'volume', 'L', digits=3)}.",
            on=f"{TANK}.capacity",
        )

    return all_of(reach, standing, default="note")


@rule(
    "fuel.return-heating",
    level="warning",
    due="build",
    sources=[sheet("engine.fuel.inlet_temp_max"), sources.HEAT_TRANSFER],
    cautions=[cautions.FUEL_FIRE],
    adjust=["plumbing.fuel.cooler.duty"],
    about="plumbing.fuel.cooler",
    fallbacks=[q.RETURN_RISE, q.AIR_STILL, q.AIR_MOVING, DIESEL_DENSITY, PETROL_DENSITY, HOT_FUEL],
    bad=[
        {"engine.fuel.inlet_temp_max": "45 degC"},
        {f"{TANK}.material": "plastic", "engine.fuel.return_temp_rise": "35 K"},
    ],
    good=[{"plumbing.fuel.cooler": {"duty": "0.5 kW", "drop": "0.5 kPa"}}],
)
def return_heating(build: Build) -> Verdict:
    """Does hot return fuel overheat the tank?

    Computes: the heat that the return brings, less a cooler's duty; the temperature at which the tank gives that heat
    off to the hottest air, the fuel well mixed.
    Limit: the engine's hottest inlet, 60 °C where its sheet has none, and 60 °C for a plastic tank: common practice.
    Consequence: Fuel gets too hot: it no longer lubricates the pump, power drops, a plastic tank softens.
    Remedy: a cooler in the return of the duty in the sentence.
    Cannot tell: heat from an exhaust near the tank. Near empty less of the tank is wet and the fuel gets hotter yet;
    how much a tank gives off is known to a third either way.
    """
    wants = build.engine.fuel
    if wants.return_flow == 0.0:
        return does_not_apply("The engine sends no fuel back.")
    hottest = or_practice(lambda: wants.inlet_temp_max, HOT_FUEL)
    plastic = build.plumbing.fuel.tank.material == "plastic"
    limit = min(hottest, PLASTIC_TANK) if plastic else hottest
    ambient = build.build.design.ambient_max
    duty = tanks.cooler_duty(
        q.return_heat(build), q.tank_coefficient(build), q.tank_surface(build), max(0.0, limit - ambient)
    )
    says = (
        f"The return brings {shown(q.return_heat(build), digits=3)}; at {shown(ambient)} outside the tank settles at "
        f"{shown(q.tank_temperature(build), digits=3)}. "
    )
    says += (
        f"A return cooler of {shown(duty, 'power', 'kW', digits=2)} keeps it at the limit."
        if duty > 0.0
        else "It needs no return cooler."
    )
    return at_most(q.tank_temperature(build), limit, says, scale=max(1.0, abs(limit - ambient)))


_TO_BOTH = {
    "filler_suits_nozzle": "the filler does not suit the nozzle of the new fuel",
    "labelled": "the filler does not say which fuel goes in",
    "sender_matched": "gauge and level sender do not read right together",
    "seals_suit_fuel": "seals that are kept do not suit the new fuel",
    "papers_asked": "the registration authority was not asked",
}
_OLD_TANK = {
    "tank_cleaned": "the old tank was not cleaned and dried by a specialist",
    "pickup_renewed": "pick-up and strainer are the old ones",
}
_TO_PETROL = {
    "vapour_tight": "tank and cap do not hold petrol vapour",
    "filler_conductive": "filler neck and hose do not lead static charge to the bonded tank",
}


@rule(
    "fuel.tank-conversion",
    level="error",
    due="quote",
    sources=[sources.FIRE_RISKS, CHANGED_FUEL],
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
    Consequence: The vehicle is filled wrongly, clogs, runs dry, leaks or catches fire, or loses its registration.
    Remedy: the items in the sentence; each becomes a line of the supply or an entry of the inspection.
    Cannot tell: rust inside the tank, and the state of parts that are kept.
    """
    old, new = build.vehicle.original.fuel_type, build.engine.fuel_type
    if old == new:
        return does_not_apply(f"The vehicle burns {new} as before.")
    items = {
        **_TO_BOTH,
        **(_TO_PETROL if new == "petrol" else {}),
        **(_OLD_TANK if build.plumbing.fuel.tank.reused else {}),
    }
    demands: list[Callable[[], Verdict]] = [partial(_done, build, name, wrong) for name, wrong in items.items()]
    if new == "diesel":
        demands.append(partial(_no_canister, build))
    return all_of(*demands)


def _done(build: Build, name: str, wrong: str) -> Verdict:
    done: bool = getattr(build.plumbing.fuel.conversion, name)
    says = "Every leftover of the old fuel is dealt with." if done else f"{wrong[0].upper()}{wrong[1:]}."
    return holds(done, says, on=f"{CONVERSION}.{name}")


def _no_canister(build: Build) -> Verdict:
    left = is_fitted(build.plumbing.fuel.canister)
    says = "The old canister is still there: remove it and close its line." if left else "No canister is left."
    return holds(not left, says, on="plumbing.fuel.canister")
