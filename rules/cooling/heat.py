"""Rules of the heat: radiator, hot days, thin air, standing work, and heat that is easily forgotten."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import partial

from swaplint.api import (
    Build,
    OutsideRange,
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
    needs_review,
    or_practice,
    owner,
    path_of,
    practice,
    rule,
    sheet,
    shown,
    told,
)
from swaplint.engineering import cooling_system, heat_exchangers
from swaplint.spec.systems.cooling import HeatPoint

from .. import sources
from ..places import Place, places
from . import heat_quantities as q
from .points import air_at, brake_power, driving_points, stands_and_works, words
from .worst import worst_place

KILOWATTS = ("power", "kW")
FOULING = 1.10
"""A radiator is chosen for ten per cent more than clean heat, for dirt and scale: common practice."""
LITTLE_HEAT = 0.25
"""Share of the engine's power below which its heat to the coolant is seldom found: modern diesels give half, from
memory; old engines as much as their power."""
LITTLE_WARMING = 8.0
"""How far the air is warmed at full load by radiator and coolers together, K, below which its flow is seldom right:
cores are built for 15 to 50 K (common practice)."""
FOULING_PRACTICE = practice("a radiator is chosen for 10 % more than the engine's heat, for dirt and scale").giving(
    "limit", "10 % more than the heat"
)
EXCHANGER = sources.COMPACT_HEAT_EXCHANGERS.giving("formula", "effectiveness over transfer units, crossflow")
THIN_AIR = sources.STANDARD_ATMOSPHERE.giving("formula", "air pressure at a height")

AMBIENT = practice("cooling good to 43 °C (110 °F) on roads, 45 to 48 °C for slow or dusty work")
AMBIENT_ROAD = Practice("cooling good to 43 °C (road)", 43 + 273.15, AMBIENT)
AMBIENT_OFF_ROAD = Practice("cooling good to 47 °C (off road)", 47 + 273.15, AMBIENT)

GEARBOX_HEAT = Practice(
    "an automatic gearbox in slow, hard work gives 20 % of rated power to its oil",
    0.20,
    practice(
        "an automatic gearbox gives 5 to 8 % of the power to its oil when cruising, 20 to 25 % in slow, hard work"
    ),
    review=True,
)

STANDING_WORK = {
    "build.duty.stationary_power": "20 kW",
    "build.duty.stationary_speed": "1800 r/min",
    "engine.fuel.return_temp_rise": "15 K",  # a standing vehicle's tank is cooled by still air only
}


def _unless_guessed(build: Build, point: HeatPoint, verdict: Verdict) -> Verdict:
    """A verdict on a guessed heat is for a person, whichever way it falls out."""
    if verdict.kind != "fail" or not q.is_guessed(build, point):
        return verdict
    says = f"{verdict.says} The heat itself is a guess: ask the engine maker before buying anything on this number."
    return replace(verdict, kind="review", says=says, level=None)


def _larger_core(build: Build, point: HeatPoint, wanted: float, altitude: float, ambient: float) -> str:
    """Which radiator would give off the heat wanted at a height, m, in outside air of a temperature, K."""
    at, stacked = q.working(build, point, altitude), q.stacked_heat_at(build, point, altitude)
    limit = build.engine.coolant.top_tank_max
    try:
        reached = cooling_system.required_effectiveness(wanted, limit, ambient, at.coolant_rate, at.air_rate, stacked)
        ratio = heat_exchangers.capacity_ratio(at.coolant_rate, at.air_rate)
        if reached < 1.0:
            transfer_units = heat_exchangers.ntu_from_effectiveness(reached, ratio, q.CROSSFLOW)
            share = transfer_units * min(at.coolant_rate, at.air_rate) / at.ua
            return f"In the same air it would take a core with {math.ceil(100.0 * share)} % of the conductance."
    except OutsideRange:
        pass
    return "No core would do in this air: it takes more air, or coolers out of it."


@rule(
    "cooling.radiator-capacity",
    level="error",
    due="quote",
    sources=[
        sheet("engine.heat.rated.coolant"),
        sheet("engine.coolant.top_tank_max"),
        EXCHANGER,
        THIN_AIR,
        sheet("engine.derate.altitude_loss").giving("formula", "heat of the engine at a height"),
        FOULING_PRACTICE,
    ],
    cautions=[cautions.HOT],
    fallbacks=[q.COOLANT_DIESEL, q.COOLANT_PETROL, q.CHARGE_DIESEL, q.CHARGE_PETROL],
    each=driving_points,
    bad=[{"build.design.altitude_max": "0 m", "plumbing.cooling.radiator.tests.full.effectiveness": "50 %"}],
    good=[{"plumbing.cooling.radiator.tests.full.effectiveness": "75 %"}],
)
def radiator_capacity(build: Build, point: HeatPoint) -> Verdict:
    """Can the radiator give off the engine's heat on the hottest day, at every place of the work?

    Computes: at full load at rated speed and at peak torque Q = ε·C_min·(T_top,max − T_ambient − Q_stacked/C_air),
    with the effectiveness ε at the flows of that point, from the radiator's tests, the smaller capacity rate C_min, and
    the air as it comes from the coolers in front. Charge-air cooler and other coolers
    in front of the radiator warm its air; a cooler in the coolant adds to its load. All stated coolers count as working
    at once. At each place that the owner states (build.design.points), in its air and at its height; without places on
    the hottest day at sea level and, 6.5 K for each km cooler, at the highest place. At a height fan and wind move the
    same volume of thinner air, and the engine's heat goes with the power that its sheet leaves it there. The worst
    place counts.
    Limit: the heat of the engine's data sheet and 10 % for dirt and scale (common practice), at the sheet's hottest
    coolant. Without a sheet value a share of brake power stands in; the outcome is then for a person to review, and so
    it is where the sheet's heat is less than a quarter of the power, which is more often a slip than an engine, or
    where all the heat warms the stated air by less than 8 K.
    Consequence: The engine overheats at full load on a hot day; driven on, its head warps or it seizes.
    Remedy: a larger core or more air. More air lowers the effectiveness, so the two do not trade one for one.
    Cannot tell: hot air that flows back round the core, mud and chaff, a clogged core. Air flow under a bonnet is known
    to a quarter at best: only a trial proves it.
    """
    return worst_place([partial(_capacity, build, point, place) for place in places(build)])


def _capacity(build: Build, point: HeatPoint, place: Place) -> Verdict:
    altitude, ambient = place.altitude(), place.ambient()
    capacity, heat = q.heat_at(build, point, altitude, ambient), q.coolant_heat_at(build, point, altitude)
    wanted = FOULING * heat
    limit, stacked = build.engine.coolant.top_tank_max, q.stacked_heat_at(build, point, altitude)
    where = "" if place.demand == "sea-level" else f", {place.words()},"
    says = (
        f"{words(point)}{where} with coolant at {shown(limit)} the radiator gives off {shown(capacity, *KILOWATTS)}; "
        f"it must give off {shown(heat, *KILOWATTS)} and 10 % for dirt, behind {shown(stacked, *KILOWATTS)} of other "
        f"coolers in its air."
    )
    if capacity < wanted:
        says += " " + _larger_core(build, point, wanted, altitude, ambient)
    else:
        share = given(lambda: point.coolant / brake_power(build, point))
        if share is not None and share < LITTLE_HEAT:
            return _little_heat(point, share)
        warmed = (heat + stacked) / q.working(build, point, altitude).air_rate
        if warmed < LITTLE_WARMING:
            return _much_air(build, point, warmed)
    return _unless_guessed(build, point, at_least(capacity, wanted, says, unit=KILOWATTS))


def _much_air(build: Build, point: HeatPoint, warmed: float) -> Verdict:
    """What passes with more air than a vehicle moves passes by a slip of the pen."""
    air = air_at(build, point)
    says = f"{words(point)} {shown(air.flow)} of air are stated; all the heat would warm them by "
    says += f"{shown(warmed, 'temperature_difference', 'K', digits=2)}, and cores are built for {told('15 to 50 K')}. "
    says += "Look at the flow again: its decimal point, and whether it was read a second or a minute."
    return needs_review(says, on=f"{path_of(air)}.flow", found=air.flow)


def _little_heat(point: HeatPoint, share: float) -> Verdict:
    """What passes with a heat that no engine has passes by a slip of the pen."""
    percent = shown(share, "share", "%", digits=2)
    says = f"{words(point)} the sheet gives {shown(point.coolant)} to the coolant, {percent} "
    says += "of the engine's power; it is seldom below 25 %. Look at the sheet again, its unit and its decimal point."
    return needs_review(says, on=f"{path_of(point)}.coolant")


@rule(
    "cooling.ambient-capability",
    level="error",
    due="quote",
    sources=[
        owner("build.design.ambient_max"),
        sheet("engine.coolant.top_tank_max"),
        sources.COOLING_TRIALS.giving("formula", "limiting ambient temperature"),
        EXCHANGER,
        THIN_AIR,
        sheet("engine.derate.altitude_loss").giving("formula", "heat of the engine at a height"),
    ],
    cautions=[cautions.HOT],
    fallbacks=[AMBIENT_ROAD, AMBIENT_OFF_ROAD, *q.HEAT_FALLBACKS],
    each=driving_points,
    bad=[{"engine.coolant.top_tank_max": "88 degC"}],
    good=[{"build.design.ambient_max": "35 degC"}],
    stricter=["cooling.radiator-capacity"],
)
def ambient_capability(build: Build, point: HeatPoint) -> Verdict:
    """Up to which outside temperature does it cool at full load, also at the highest place?

    Computes: the rise of the coolant over the outside air, Q_stacked/C_air + Q/(ε·C_min): what the coolers in front
    add to the air, and the heat over effectiveness and the smaller capacity rate. From it the limiting ambient
    temperature, the hottest coolant allowed less that rise. At a height fan and wind move the same volume of thinner
    air, so its mass flow goes with the pressure of the standard atmosphere and the conductance falls with it; the
    engine's heat goes with the power that its sheet leaves it there, all of it where the sheet states no loss. Also
    the outside air in which the coolant would boil, with its true boiling point.
    Limit: the hottest air of each place that the owner states (build.design.points). Without places the hottest air at
    sea level, where no temperature is stated 43 °C on roads and 47 °C off them (common practice), and at the highest
    place that air less 6.5 K for each km, as in the standard atmosphere.
    Consequence: On a hot day or a high pass the engine overheats: it must stop to cool, or is destroyed.
    Remedy: a larger core, more air, or coolers moved out of the radiator's air.
    Cannot tell: short climbs use the heat that coolant and iron can store; this is steady state. High
    plains get hotter than the standard atmosphere has it: state them as places of their own.
    """
    off_road = given(lambda: build.build.duty.terrain) == "off-road"
    wanted = or_practice(lambda: build.build.design.ambient_max, AMBIENT_OFF_ROAD if off_road else AMBIENT_ROAD)
    limit = build.engine.coolant.top_tank_max

    def judged(place: Place) -> Verdict:
        altitude, air = place.altitude(), place.ambient()
        cools, boils = q.limiting_at(build, point, altitude), given(lambda: q.boiling_at(build, point, altitude))
        says = (
            f"{words(point)}, {place.words()}, the coolant runs "
            f"{shown(limit - cools, 'temperature_difference', 'K')} above the outside air; with {shown(limit)} allowed "
            f"it cools up to {shown(cools, *q.CELSIUS)}, and {shown(air, *q.CELSIUS)} is wanted"
        )
        says += "." if boils is None else f"; it would boil from {shown(boils, *q.CELSIUS)}."
        if cools < air:
            says += " It takes a larger core, or coolers out of its air."
        return _unless_guessed(build, point, at_least(cools, air, says, scale=limit - air, unit=q.CELSIUS))

    return all_of({place.demand: partial(judged, place) for place in places(build, lambda: wanted)})


@rule(
    "cooling.stationary-duty",
    level="error",
    due="quote",
    sources=[
        sheet("engine.coolant.top_tank_max"),
        EXCHANGER,
        THIN_AIR,
    ],
    cautions=[cautions.ROTATING, cautions.HOT],
    about="engine.heat.standing",
    fallbacks=[q.COOLANT_STANDING, q.CHARGE_DIESEL, q.CHARGE_PETROL],
    bad=[{**STANDING_WORK, "plumbing.cooling.air.standing.flow": "0.22 kg/s"}],
    good=[STANDING_WORK],
    without={
        "build.duty.stationary_power": "Standing work is what an owner asks for and names; idling in a queue, which "
        "every vehicle does, is judged by cooling.fan-flow.",
    },
)
def stationary_duty(build: Build) -> Verdict:
    """Does it also cool in standing work, with the fan alone?

    Computes: as the radiator rules, with the air of the fan alone: the coolant at each place that the owner states;
    without places on the hottest day at sea level and, 6.5 K for each km cooler, in the thin air of the highest place.
    Where the owner asks for more power than the sheet's point, its heat grows in proportion.
    Limit: the hottest coolant of the engine's data sheet.
    Consequence: The engine overheats while the vehicle stands and works: the work stops, or the engine does.
    Remedy: more air from the fan. See cooling.fan-flow for what the fan really moves.
    Cannot tell: hot air that flows back round the core of a standing vehicle: close the gaps beside it with baffles.
    How long an electric fan must run on after a stop. A spec that states no standing work is not judged; idling with
    air conditioning and crawling uphill ask for the same care.
    """
    if not stands_and_works(build):
        return does_not_apply("The spec states no standing work (build.duty.stationary_power).")
    point, limit = build.engine.heat.standing, build.engine.coolant.top_tank_max

    def judged(place: Place) -> Verdict:
        altitude, ambient = place.altitude(), place.ambient()
        top, duty = ambient + q.rise_at(build, point, altitude), build.build.duty
        air = shown(build.plumbing.cooling.air.standing.flow)
        says = f"Standing at {shown(duty.stationary_power)} and {shown(duty.stationary_speed)}, with {air} of air, "
        if place.demand == "sea-level":
            says += f"the coolant settles at {shown(top, *q.CELSIUS)} on the hottest day; {shown(limit)} is allowed."
        else:
            says += (
                f"{place.words()}, in {shown(ambient, *q.CELSIUS)} the coolant settles at {shown(top, *q.CELSIUS)}; "
                f"{shown(limit)} is allowed."
            )
        if top > limit:
            says += " " + _larger_core(build, point, q.coolant_heat_at(build, point, altitude), altitude, ambient)
        return _unless_guessed(build, point, at_most(top, limit, says, scale=limit - ambient, unit=q.CELSIUS))

    return all_of({place.demand: partial(judged, place) for place in places(build)})


@rule(
    "cooling.added-heat",
    level="warning",
    due="quote",
    sources=[sheet("driveline.gearbox.oil_heat")],
    cautions=[cautions.HOT],
    fallbacks=[GEARBOX_HEAT],
    about="plumbing.cooling.coolers",
    bad=[
        {
            "driveline.gearbox.kind": "automatic",
            "driveline.gearbox.controller": {"fitted": False},
            "driveline.gearbox.oil_heat": "12 kW",
            "plumbing.cooling.coolers.gearbox": {"cools": "gearbox-oil", "place": "elsewhere", "heat": "8 kW"},
            "electrics.start.interlock": "neutral",
        }
    ],
    good=[{"plumbing.cooling.coolers": {}}],
    instead={"driveline.converter.fitted": "driveline.gearbox.kind"},
)
def added_heat(build: Build) -> Verdict:
    """Is the heat of gearbox, air conditioning, oil coolers and retarder in the sum?

    Computes: what every stated cooler, and the condenser of the air conditioning, gives to the coolant or to the air in
    front of the radiator; the radiator rules count all of it. For an automatic gearbox or a torque converter, the heat
    that its coolers give off against the heat that it gives to its oil.
    Limit: the gearbox's data sheet; without one 20 % of rated power, for slow and hard work (common practice), which is
    for a person to review. The spec says which coolers there are: an empty table says that there are none.
    Consequence: The gearbox oil cooks: the gearbox slips, then fails.
    Remedy: an oil cooler in air of its own for that heat, or another order of the stack.
    Cannot tell: coolers that the spec does not name, the temperature of the oil, the driver's left foot on a stalled
    converter.
    """
    stated = build.plumbing.cooling.coolers
    named = q.coolers(build)
    in_coolant = sum(c.heat for c in named if c.place == "in-coolant")
    in_air = sum(c.heat for c in named if c.place == "before-radiator") + q.condenser_in_front(build)
    counted = (
        f"Coolers named besides radiator and charge-air cooler: {len(stated)}; with a condenser they give "
        f"{shown(in_coolant, 'power', 'kW')} to the coolant and {shown(in_air, 'power', 'kW')} to the radiator's air."
    )
    if build.driveline.gearbox.kind == "manual" and not given(lambda: is_fitted(build.driveline.converter)):
        return holds(True, f"{counted} The gearbox has no converter to cool.")
    oil_heat = given(lambda: build.driveline.gearbox.oil_heat)
    if oil_heat is None:
        share = or_practice(lambda: build.driveline.gearbox.oil_heat, GEARBOX_HEAT)
        oil_heat = share * brake_power(build, build.engine.heat.rated)
    cooled = sum(c.heat for c in named if c.cools == "gearbox-oil")
    return at_least(
        cooled,
        oil_heat,
        f"The gearbox gives up to {shown(oil_heat, 'power', 'kW')} to its oil, and the coolers for it take "
        f"{shown(cooled, 'power', 'kW')}. {counted}",
        unit=("power", "kW"),
    )
