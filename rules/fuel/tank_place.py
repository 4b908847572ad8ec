"""Rules about where tanks sit and what holds them, and about a second tank."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from swaplint.api import (
    Build,
    OutsideRange,
    Verdict,
    advice,
    all_of,
    at_least,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    path_of,
    practice,
    quantity,
    regulation,
    rule,
    sheet,
    shown,
    told,
)
from swaplint.engineering.constants import G
from swaplint.spec.systems.fuel.tank_place import PlacedTank

from .. import sources
from . import quantities as q
from .tank_quantities import lost_to_filling

TANK = "plumbing.fuel.tank"
SECOND = "plumbing.fuel.second_tank"

BUS_TANKS = regulation("UN Regulations on buses, place of fuel tanks, as quoted, by analogy", known="second-hand")
OUTSIDE_BODY = regulation(
    "Maryland, COMAR 11.19.03, fuel system of school vehicles, filled and vented outside the body, by analogy",
    known="published",
)
TANK_APART = regulation(
    "New Jersey, N.J.A.C. 16:53-8.14, tanks and fillers of autobuses outside the body, by analogy", known="published"
)
GAS_TANKS = regulation("UN Regulation No. 67, fastening of gas containers, by analogy", known="from memory")
SECOND_TANK = practice("a second tank: the return follows the supply, a pump that stops by itself, a vent of its own")

REAR_GAP = 0.300
CRASH = {"1": (20.0, 8.0), "2": (10.0, 5.0), "3": (6.6, 5.0)}
"""Accelerations that a full tank is held against, in g: lengthwise and across, by the last figure of the category."""


def tanks_of(build: Build) -> list[PlacedTank]:
    """The tanks of the build."""
    fuel = build.plumbing.fuel
    return [fuel.tank] + ([fuel.second_tank] if given(lambda: is_fitted(fuel.second_tank)) is True else [])


def _accelerations(build: Build) -> tuple[float, float]:
    """What a full tank is held against, in g, lengthwise and across."""
    category = str(build.vehicle.category)
    if category[-1:] not in CRASH:
        raise OutsideRange(f"no accelerations are known for category {category}")
    return CRASH[category[-1]]


@quantity(
    "fuel.full-tank",
    "mass",
    "kg",
    formula="m = empty tank + capacity·ρ, fuel at 40 °C",
    symbols={
        "empty tank": "plumbing.fuel.tank.empty_mass",
        "capacity": "plumbing.fuel.tank.capacity",
        "ρ": "fuel.density",
    },
    sources=[sources.DENSITY_TABLES.giving("formula", "density over temperature")],
    each=tanks_of,
)
def full_mass(build: Build, tank: PlacedTank) -> float:
    """Mass of a full tank."""
    return tank.empty_mass + tank.capacity * q.density(build, q.WARM)


@rule(
    "fuel.tank-place",
    level="error",
    due="build",
    sources=[
        BUS_TANKS.giving("limit", "300 mm from the rear end"),
        OUTSIDE_BODY.giving("limit", "a filler outside the body"),
        TANK_APART.giving("limit", "a tank outside the space for people"),
        GAS_TANKS.giving(
            "limit",
            "20 g and 8 g for M1 and N1, 10 and 5 for M2 and N2, 6.6 and 5 for M3 and N3",
            demands=["lengthwise", "across"],
        ),
        sources.STATICS.giving("formula", "force that holds a mass against an acceleration"),
        sheet("plumbing.fuel.tank.filling.suits_fuel"),
    ],
    cautions=[cautions.FUEL_FIRE, cautions.LAW],
    about=TANK,
    adjust=[f"{TANK}.holds_lengthwise", f"{TANK}.holds_across"],
    fallbacks=[q.DIESEL_DENSITY, q.PETROL_DENSITY],
    each=tanks_of,
    bad=[
        {f"{TANK}.parted": "nothing"},
        {f"{TANK}.filler": "cab"},
        {f"{TANK}.behind_rear_axle": True, f"{TANK}.to_rear": "200 mm"},
        {f"{TANK}.holds_lengthwise": "8 kN"},
        {f"{TANK}.holds_across": "3 kN"},
        {f"{TANK}.filling": {"kind": "foam", "displaced": "3 %", "held_back": "2 %", "suits_fuel": False}},
    ],
    good=[{f"{TANK}.behind_rear_axle": True, f"{TANK}.to_rear": "400 mm"}],
)
def tank_place(build: Build, tank: PlacedTank) -> Verdict:
    """Is each tank clear of a rear impact, shut off from people, filled from outside, and held in a crash?

    Computes: the full tank's mass, and the force with which it pulls at its straps, brackets and bolts in a crash, so
    many g times that mass.
    Limit: nothing open between tank and people, and a filler outside the body (rules for buses, taken as they stand):
    errors. Behind the rear axle 300 mm to the rear end (UN rules for buses); 20 g lengthwise and 8 g across in vehicles
    of category M1 and N1, 10 g and 5 g in M2 and N2, 6.6 g and 5 g in M3 and N3 (rule for gas containers, from
    memory): warnings.
    Consequence: In a crash the tank bursts or tears loose, or fuel runs in to the people: fire.
    Remedy: a tank between frame rails ahead of the rear axle, a closed metal wall, a filler outside, wider straps with
    larger bolts. Foam or a bladder that suits the fuel holds it when the shell splits.
    Cannot tell: how the structure around the tank crushes, and a corroded strap. Some places forbid a tank inside the
    body whatever parts it off: ask.
    """
    return all_of(
        {
            "rear-impact": lambda: _rear_impact(tank),
            "parted": lambda: _parted(tank),
            "filler": lambda: _filler(tank),
            "lengthwise": lambda: _held(build, tank, 0),
            "across": lambda: _held(build, tank, 1),
            "filling": lambda: _filling(tank),
        }
    )


def _rear_impact(tank: PlacedTank) -> Verdict:
    on = f"{path_of(tank)}.to_rear"
    if not tank.behind_rear_axle:
        return holds(True, "The tank is ahead of the rear axle.", on=f"{path_of(tank)}.behind_rear_axle")
    says = f"The tank is behind the rear axle, {shown(tank.to_rear)} from the rear end"
    says += "." if tank.to_rear >= REAR_GAP else told(": a blow from behind crushes it. Keep 300 mm, or move it ahead.")
    return at_least(tank.to_rear, REAR_GAP, says, level="warning", on=on, unit=("length", "mm"))


def _parted(tank: PlacedTank) -> Verdict:
    shut = tank.parted != "nothing"
    says = (
        "The tank is shut off from the people."
        if shut
        else "Nothing parts the tank from the people: fit a closed metal wall or box, tight against fuel and vapour."
    )
    return holds(shut, says, on=f"{path_of(tank)}.parted")


_FILLED_IN = {"cab": "in the cab", "luggage-space": "in the luggage space", "engine-space": "in the engine space"}


def _filler(tank: PlacedTank) -> Verdict:
    on = f"{path_of(tank)}.filler"
    if tank.filler == "outside":
        return holds(True, "It is filled from outside.", on=on)
    where = _FILLED_IN[str(tank.filler)]
    says = f"The filler opens {where}, where spilt fuel and vapour stay: lead it through the side of the body."
    return holds(False, says, on=on, advice=advice(on, "outside"))


def _held(build: Build, tank: PlacedTank, way: int) -> Verdict:
    times, mass = _accelerations(build)[way], full_mass(build, tank)
    name, words = ("holds_lengthwise", "lengthwise") if way == 0 else ("holds_across", "across")
    force, on = mass * times * G, f"{path_of(tank)}.{name}"
    found: float = getattr(tank, name)
    says = (
        f"Full, the tank is {shown(mass, digits=3)}; at {times:g} g {words} it pulls with "
        f"{q.shown_amply(force, 'force', 'kN')}, and what holds it lets go at {shown(found)}."
    )
    if found < force:
        says += " Fit wider straps, more brackets or larger bolts."
    return at_least(found, force, says, level="warning", on=on, advice=advice(on, force))


def _filling(tank: PlacedTank) -> Verdict:
    filling = tank.filling
    if not is_fitted(filling):
        return does_not_apply("There is no foam or bladder in the tank.")
    suits = filling.suits_fuel
    what = str(filling.kind).replace("-", " ")
    lost = shown(lost_to_filling(tank), "volume", "L", digits=2)
    says = f"The {what} takes and keeps {lost} of the tank."
    if not suits:
        says += " It does not suit this fuel or is too old: it falls apart, blocks the filter and no longer protects."
    return holds(suits, says, level="warning", on=f"{path_of(filling)}.suits_fuel")


# -- a second tank ----------------------------------------------------------------------------------------------------
_SWITCHED = {"joined": "valve", "reachable": "40 L", "capacity": "45 L", "own_vent": True, "return_follows": True}
_PLACED = {
    "empty_mass": "8 kg",
    "behind_rear_axle": False,
    "parted": "outside-body",
    "filler": "outside",
    "holds_lengthwise": "15 kN",
    "holds_across": "6 kN",
    "filling": {"fitted": False},
}


@rule(
    "fuel.second-tank",
    level="error",
    due="quote",
    sources=[
        sources.US_FUEL_TANKS.giving("limit", "no withdrawal below the fuel's surface, except diesel"),
        sources.US_FUEL_ROUTES.giving("limit", "a guarded line between two diesel tanks"),
        SECOND_TANK.giving("limit", "return, pump, valves and vent"),
    ],
    cautions=[cautions.FUEL_FIRE],
    about=SECOND,
    bad=[
        {SECOND: {**_SWITCHED, **_PLACED, "return_follows": False}},
        {SECOND: {**_SWITCHED, **_PLACED, "own_vent": False}},
        {SECOND: {**_SWITCHED, **_PLACED, "joined": "transfer-pump", "stops_when_full": False}},
        {SECOND: {**_SWITCHED, **_PLACED, "joined": "balance-line", "line_shuts": True, "line_guarded": False}},
    ],
    good=[{SECOND: {**_SWITCHED, **_PLACED}}],
    stricter=["mass.ledger-sense"],  # asks whether the ledger counts its fuel
)
def second_tank(build: Build) -> Verdict:
    """Can two tanks be used without one running over, running dry unseen, or emptying on the road?

    Computes: nothing; how the tanks are joined is compared with what goes wrong that way.
    Limit: common practice: a valve changes supply and return over together; a pump between the tanks stops by itself;
    each tank has a vent of its own. A line that joins both below: diesel only (US rule for trucks, second-hand),
    guarded along its whole way (California rule for trucks), with a valve at each tank.
    Consequence: The return fills the tank that is not in use until it runs over, or one leak empties both.
    Remedy: a valve with six ports; a pump that stops by a float; a guard and valves on the joining line.
    Cannot tell: whether the gauge shows the tank that is in use, and air drawn in while the valve changes over.
    """
    tank = build.plumbing.fuel.second_tank
    if not is_fitted(tank):
        return does_not_apply("There is no second tank.")
    demands: dict[str, Callable[[], Verdict]] = {"vent": lambda: _own_vent(build)}
    joined = given(lambda: tank.joined)
    if joined in (None, "valve"):
        demands["return"] = lambda: _return(build)
    if joined in (None, "transfer-pump"):
        demands["pump"] = lambda: _pump(build)
    if joined in (None, "balance-line"):
        demands["line-fuel"] = lambda: _line_fuel(build)
        demands |= {name: partial(_line, build, name) for name in _LINE}
    return all_of(demands)


def _own_vent(build: Build) -> Verdict:
    tank = build.plumbing.fuel.second_tank
    says = (
        "The second tank breathes by itself."
        if tank.own_vent
        else "The second tank has no vent of its own that closes when rolled over: fit one."
    )
    return holds(tank.own_vent, says, on=f"{SECOND}.own_vent")


def _return(build: Build) -> Verdict:
    tank = build.plumbing.fuel.second_tank
    if tank.joined != "valve":
        return does_not_apply("No valve changes the supply over.")
    if build.engine.fuel.return_flow == 0.0:
        return does_not_apply("The engine sends no fuel back.")
    says = (
        "The return goes to the tank that the fuel comes from."
        if tank.return_follows
        else f"The return of {shown(build.engine.fuel.return_flow)} stays on one tank while the other feeds the "
        "engine: that tank runs over. Fit a valve that changes both over."
    )
    return holds(tank.return_follows, says, on=f"{SECOND}.return_follows")


def _pump(build: Build) -> Verdict:
    tank = build.plumbing.fuel.second_tank
    if tank.joined != "transfer-pump":
        return does_not_apply("No pump moves fuel between the tanks.")
    says = (
        "The pump between the tanks stops by itself."
        if tank.stops_when_full
        else "The pump fills the main tank until it runs over: let a float or level switch stop it."
    )
    return holds(tank.stops_when_full, says, on=f"{SECOND}.stops_when_full")


def _line_fuel(build: Build) -> Verdict:
    if build.plumbing.fuel.second_tank.joined != "balance-line":
        return does_not_apply("No line joins the tanks below.")
    says = (
        "Diesel tanks may be joined below."
        if q.is_diesel(build)
        else "Petrol tanks are not joined below: a torn line empties both. Use a valve or a pump from above."
    )
    return holds(q.is_diesel(build), says, on=f"{SECOND}.joined")


_LINE = {
    "line-shuts": (
        "line_shuts",
        "The line can be shut at each tank.",
        "The line cannot be shut: one leak empties both tanks. Fit a valve at each tank.",
    ),
    "line-guard": (
        "line_guarded",
        "The line between the tanks is guarded.",
        "The line hangs unguarded between the tanks: put a guard around it.",
    ),
}


def _line(build: Build, name: str) -> Verdict:
    tank = build.plumbing.fuel.second_tank
    if tank.joined != "balance-line":
        return does_not_apply("No line joins the tanks below.")
    field, good, wrong = _LINE[name]
    done: bool = getattr(tank, field)
    return holds(done, good if done else wrong, on=f"{SECOND}.{field}")
