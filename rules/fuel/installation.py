"""Rules about what the fuel runs through and past: materials, routes, the injection side."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Literal

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    each_of,
    given,
    holds,
    is_fitted,
    only_asking,
    part_named,
    path_of,
    practice,
    rule,
    shown,
    standard,
)
from swaplint.spec.systems.fuel.lines import FuelLine, FuelRoute

from .. import sources
from ..mounts import movement
from . import quantities as q
from .tank_quantities import HOT_FUEL, RETURN_RISE, hottest_return

Level = Literal["error", "warning", "note"]

ROUTES = "plumbing.fuel.routes"
SUPPLY = "plumbing.fuel.supply"
HIGH_PRESSURE = "plumbing.fuel.high_pressure"

METALS = practice("no copper, brass or zinc in fuel lines; no zinc in diesel tanks; no lead-tin coat with biodiesel")
CLAMPING = practice("fuel hose under pressure is clamped all round, without the slots of a plain worm drive")
PETROL_HOSE = standard("ISO 19013-2, rubber hoses for fuel circuits, gasoline fuels")
ROUTING = practice(
    "100 mm to a bare turbocharger or manifold, clips every 450 mm, flexible ends at the engine, nothing in the cab"
)
RENEWED = practice("loosened high-pressure lines and washers are renewed and tightened as the engine maker says")

SHIELDED_TANK_GAP, EXHAUST_GAP, TURBO_GAP = 0.025, 0.050, 0.100
BELOW_TANK = 0.0508
CLIP_SPACING = 0.450
PRESSURE_LINE = 100e3
"""Pressure from which a plain worm-drive clamp is not enough, Pa: common practice."""

_BAD_LINE = ("copper", "brass", "galvanised-steel")
_HOSE_FOR = {
    "diesel under pressure": ("SAE J30R13", "SAE J30R9", "ISO 19013-1"),
    "diesel": ("SAE J30R13", "SAE J30R7", "SAE J30R9", "ISO 19013-1"),
    "injected petrol": ("SAE J30R9", "ISO 19013-2"),
    "carburettor petrol": ("SAE J30R6", "SAE J30R7", "SAE J30R9", "ISO 19013-2"),
}


# -- materials --------------------------------------------------------------------------------------------------------
@rule(
    "fuel.materials",
    level="error",
    due="quote",
    sources=[
        sources.FUEL_HOSE.giving("limit", "hose 30R6 to 30R13 by fuel and place", known="published"),
        sources.DIESEL_HOSE.giving("limit", "hose for diesel", known="second-hand"),
        PETROL_HOSE.giving("limit", "hose for petrol"),
        METALS.giving("limit", "metals that fuel and line must not meet"),
        CLAMPING.giving("limit", "no plain worm-drive clamp from 100 kPa on"),
    ],
    cautions=[cautions.FUEL_FIRE],
    about="plumbing.fuel.supply.hose_class",
    fallbacks=[HOT_FUEL, RETURN_RISE],
    without={
        "engine.fuel.inlet_temp_max": "What the supply holds is as warm as the tank, which fuel.return-heating "
        "keeps to 60 °C without a word from the engine's sheet, and fuel hose is rated for 100 °C and more."
    },
    bad=[
        {"plumbing.fuel.supply.hose_class": "SAE J30R6"},
        {"plumbing.fuel.return_line.material": "copper"},
        {"plumbing.fuel.supply.hose_temperature": "80 degC"},
        {
            "engine.fuel.return_temp_rise": "55 K",
            "engine.fuel.return_flow": "20 L/h",
            "engine.fuel.supply_flow": "45 L/h",
        },
        {"plumbing.fuel.tank.material": "galvanised-steel"},
    ],
    good=[{"plumbing.fuel.supply.hose_class": "ISO 19013-1"}],
)
def materials(build: Build) -> Verdict:
    """Do tank, lines, hoses and clamps suit the fuel, its pressure and the heat around them?

    Computes: nothing; a table of what goes with what. The fuel in the return is as hot as the engine takes it, and
    hotter by what the engine adds.
    Limit: hose: SAE J30R13, J30R9 or ISO 19013-1 for diesel, J30R7 too where no pump holds 100 kPa or more on it; J30R9
    or ISO 19013-2 for injected petrol, also J30R6 or R7 for a carburettor; J30R10 inside a tank with a pump; rated for
    the pump's pressure, the surroundings and the fuel in it: errors. Clamps above 100 kPa are no plain worm drives; no
    copper, brass or zinc in lines, no zinc in a diesel tank, no lead-tin coat with biodiesel: warnings, because they
    work slowly.
    Consequence: A hose or clamp gives way and fuel leaks, which can burn, or the injectors block.
    Remedy: the hose class, rating or material in the sentence.
    Cannot tell: the age of hoses and seals that are kept, and a hose that is not marked.
    """
    fuel = build.plumbing.fuel
    demands: dict[str, Callable[[], Verdict]] = {
        "tank": lambda: _tank_material(build),
        "line-material": lambda: _line_material(fuel.supply),
        "hose-class": lambda: _hose_class(build, fuel.supply),
        "hose-temperature": lambda: _hose_heat(fuel.supply),
    }
    if given(lambda: build.engine.fuel.inlet_temp_max) is not None:
        demands["hose-fuel"] = lambda: _fuel_heat(
            fuel.supply, build.engine.fuel.inlet_temp_max, ", the most that the engine takes"
        )
    if given(lambda: is_fitted(fuel.pump)) is not False:
        demands |= {
            "in-tank-hose": lambda: _inner_hose(build),
            "hose-pressure": lambda: _hose_pressure(build),
            "clamps": lambda: _clamps(build),
        }
    none_back = given(lambda: build.engine.fuel.return_flow) == 0.0
    if not none_back and given(lambda: is_fitted(fuel.return_line)) is not False:
        demands |= {
            "return-material": lambda: _on_return(build, _line_material),
            "return-hose-class": lambda: _on_return(build, partial(_hose_class, build)),
            "return-hose-temperature": lambda: _on_return(build, _hose_heat),
            "return-hose-fuel": lambda: _on_return(build, partial(_return_heat, build)),
        }
    return all_of(demands)


def _on_return(build: Build, demand: Callable[[FuelLine], Verdict]) -> Verdict:
    line = build.plumbing.fuel.return_line
    return demand(line) if is_fitted(line) else does_not_apply("There is no return line.")


def _tank_material(build: Build) -> Verdict:
    material, on = build.plumbing.fuel.tank.material, "plumbing.fuel.tank.material"
    if material == "galvanised-steel" and q.is_diesel(build):
        says = "Diesel takes up zinc, which then blocks the injectors: use a tank without it."
        return holds(False, says, level="warning", on=on)
    if material == "terne-steel" and build.plumbing.fuel.grade.biodiesel > 0.0:
        says = "Biodiesel attacks the lead-tin coat of the tank: use another tank."
        return holds(False, says, level="warning", on=on)
    return holds(True, "The tank suits the fuel.", on=on)


def _inner_hose(build: Build) -> Verdict:
    pump, on = build.plumbing.fuel.pump, "plumbing.fuel.tank.inner_hose"
    if not is_fitted(pump) or pump.kind != "in-tank-electric":
        return does_not_apply("There is no pump in the tank.")
    hose = build.plumbing.fuel.tank.inner_hose
    wrong = "Hose that lies in fuel is SAE J30R10, which resists it from outside too: change it."
    says = wrong if hose == "other" else "The hose in the tank is made for it."
    return holds(hose != "other", says, on=on, advice=advice(on, "SAE J30R10"))


def _line_material(line: FuelLine) -> Verdict:
    bad = line.material in _BAD_LINE
    says = (
        f"{str(line.material).replace('-', ' ').capitalize()} ages the fuel, and its salts block the injectors: "
        "use steel, aluminium, polyamide or fuel hose."
        if bad
        else "The line suits the fuel."
    )
    return holds(not bad, says, level="warning", on=f"{path_of(line)}.material")


def _hose_class(build: Build, line: FuelLine) -> Verdict:
    classes, on = _HOSE_FOR[fuel := _hose_for(build, line)], f"{path_of(line)}.hose_class"
    suits = line.hose_class in classes
    taken = " or ".join(filter(None, (", ".join(classes[:-1]), classes[-1])))
    hose = "Hose without a mark" if line.hose_class == "unmarked" else f"{line.hose_class} hose"
    says = f"{hose} suits {fuel}." if suits else f"{hose} is wrong here: {fuel} takes {taken}. Change it."
    return holds(suits, says, on=on, advice=advice(on, classes[0]))


def _hose_for(build: Build, line: FuelLine) -> str:
    """What a hose carries, as the table of classes has it. Nothing but the pump's pressure stands on a supply hose."""
    if q.is_diesel(build):
        return "diesel under pressure" if path_of(line) == SUPPLY and _pressed(build) else "diesel"
    return "carburettor petrol" if build.engine.fuel.injection == "carburettor" else "injected petrol"


def _pressed(build: Build) -> bool:
    """Whether a pump holds more on the supply line than low-pressure hose is for."""
    pump = build.plumbing.fuel.pump
    return is_fitted(pump) and pump.pressure >= PRESSURE_LINE


def _return_heat(build: Build, line: FuelLine) -> Verdict:
    return _fuel_heat(line, hottest_return(build), " as it comes back from the engine")


def _fuel_heat(line: FuelLine, inside: float, how: str) -> Verdict:
    rated, on = line.hose_temperature, f"{path_of(line)}.hose_temperature"
    says = (
        f"The hose is rated for {shown(rated)}; the fuel in it may reach {shown(inside, 'temperature', 'degC')}{how}."
    )
    return at_least(rated, inside, says, on=on, scale=100.0, advice=advice(on, inside))


def _hose_heat(line: FuelLine) -> Verdict:
    rated, around, on = line.hose_temperature, line.surroundings_max, f"{path_of(line)}.hose_temperature"
    says = f"The hose is rated for {shown(rated)}; around it are up to {shown(around)}."
    return at_least(rated, around, says, on=on, scale=100.0, advice=advice(on, around))


def _hose_pressure(build: Build) -> Verdict:
    line, pump = build.plumbing.fuel.supply, build.plumbing.fuel.pump
    if not is_fitted(pump):
        return does_not_apply("No pump presses on the supply line.")
    on = f"{path_of(line)}.hose_pressure"
    says = f"The hose is rated for {shown(line.hose_pressure)}; the pump holds {shown(pump.pressure)}."
    return at_least(line.hose_pressure, pump.pressure, says, on=on, advice=advice(on, pump.pressure))


def _clamps(build: Build) -> Verdict:
    line, pump = build.plumbing.fuel.supply, build.plumbing.fuel.pump
    if not is_fitted(pump):
        return does_not_apply("No pump presses on the supply line.")
    if pump.pressure < PRESSURE_LINE:
        return does_not_apply("The pump's pressure is one that any hose clamp holds.")
    plain, on = line.clamps == "worm-drive", f"{path_of(line)}.clamps"
    wrong = "Plain worm-drive clamps cut the hose and let go at this pressure: use fuel-injection clamps."
    says = wrong if plain else "The clamps hold the pressure."
    return holds(not plain, says, level="warning", on=on, advice=advice(on, "fuel-injection-clamp"))


# -- routes -----------------------------------------------------------------------------------------------------------
def stretches(build: Build) -> list[FuelRoute]:
    """The stretches that are stated; and one of which nothing is known for what must lie somewhere, and is in none."""
    stated = each_of(build.plumbing.fuel.routes)
    if only_asking(build) and len(stated) == 1:
        return stated  # where nobody lists any the host makes one up, and that one is asked for
    lines = [given(lambda route=route: list(route.lines)) for route in stated if _a_line(route)]  # type: ignore[misc]
    lost = [] if any(_carries(route) in ("tank", None) for route in stated) else ["tank"]
    if None not in lines:
        held = {str(name) for names in lines for name in names or ()}
        lost += [] if "supply" in held else ["supply"]
        returned = given(lambda: is_fitted(build.plumbing.fuel.return_line)) is True
        lost += ["return"] if returned and "return" not in held else []
        lost += _ends_left_out(stated, held)
    return [*stated, *(part_named(build.plumbing.fuel, "routes", name) for name in lost)]


def _ends_left_out(stated: Sequence[FuelRoute], held: set[str]) -> list[str]:
    """By the name of a stretch: at which ends supply or return lie in none; nowhere where a stretch does not say."""
    lines = [route for route in stated if _a_line(route)]
    reached = [given(lambda route=route: list(route.reaches)) for route in lines]  # type: ignore[misc]
    if None in reached:
        return []
    ends = {(line, end) for route, at in zip(lines, reached, strict=True) for line in route.lines for end in at or ()}
    there = [line for line in ("supply", "return") if line in held]
    return [f"at_{end}" for end in ("tank", "engine") if any((line, end) not in ends for line in there)]


def _carries(route: FuelRoute) -> str | None:
    return given(lambda: str(route.carries))


def _a_line(route: FuelRoute) -> bool:
    return is_fitted(route) and _carries(route) == "line"


@rule(
    "fuel.line-routing",
    level="error",
    due="build",
    sources=[
        sources.EXHAUST_GAPS.giving(
            "limit", "50 mm to exhaust parts, 25 mm for a diesel tank behind a shield", known="published"
        ),
        sources.US_FUEL_ROUTES.giving(
            "limit", "not ahead of the front axle or beyond the sides; 51 mm (2 in) below the tank", known="published"
        ),
        sources.FIRE_RISKS.giving("limit", "guards below the floor; no rubbing, no strain on lines", known="published"),
        ROUTING.giving("limit", "100 mm to a bare turbocharger or manifold, clips every 450 mm, nothing in the cab"),
    ],
    cautions=[cautions.FUEL_FIRE],
    adjust=[f"{ROUTES}.*.gap_to_exhaust", f"{ROUTES}.*.clip_spacing"],
    each=stretches,
    instead={f"{ROUTES}.*.clearance": f"{ROUTES}.*.gap_to_exhaust"},
    bad=[
        {f"{ROUTES}.engine-bay.gap_to_exhaust": "30 mm"},
        {f"{ROUTES}.engine-bay.through_cab": True},
        {f"{ROUTES}.frame.clip_spacing": "700 mm"},
    ],
    good=[{f"{ROUTES}.frame.clip_spacing": "300 mm"}],
)
def line_routing(build: Build, route: FuelRoute) -> Verdict:
    """Do fuel lines and tank keep away from heat, blows, moving parts and people?

    Computes: nothing; the gaps as measured. A gap to the exhaust that is named among `vehicle.clearances` is that one,
    less the engine's movement.
    Limit: 50 mm to exhaust parts, 25 mm for a diesel tank behind a shield; 100 mm to a bare turbocharger or manifold
    (common practice); nothing that moves may touch; never through the cab: errors. Not ahead of the front axle, not
    beyond the sides, not more than 51 mm (2 in) below the tank unguarded, clips every 450 mm, a flexible piece at the
    engine: warnings.
    Consequence: A line or the tank is burnt, rubbed or torn open, and fuel leaks where it can catch fire.
    Remedy: a wider gap or a heat shield; more clips; a guard.
    Supply, return and tank lie in some stretch, and the lines run from the tank up to the engine: a stretch that must
    be there and is not listed is asked for.
    Cannot tell: chafing, and how far a drawing is from the vehicle.
    """
    demands: dict[str, Callable[[], Verdict]] = {"exhaust-gap": lambda: _exhaust_gap(build, route)}
    demands |= {name: partial(_flag, route, *flag) for name, flag in _FLAGS.items()}
    if _carries(route) == "tank":
        del demands["flexible-end"]  # it does not reach the engine
    else:
        if "engine" not in (given(lambda: list(route.reaches)) or ["engine"]):
            del demands["flexible-end"]
        demands |= {
            "below-tank": lambda: _below_tank(route),
            "clip-spacing": lambda: _clips(route),
            "lines": lambda: _lines(route),
        }
    return all_of(demands)


_FLAGS: dict[str, tuple[str, bool, str, str, Level]] = {
    "moving-parts": (
        "clear_of_moving_parts",
        True,
        "Nothing that moves can touch this stretch.",
        "Something that moves can touch this stretch: clip it away or guard it.",
        "error",
    ),
    "outside-cab": (
        "through_cab",
        False,
        "This stretch stays out of the space for people.",
        "This stretch passes through the space for people, where a leak burns or chokes them: lay it under the floor, "
        "or in a closed pipe that drains outside.",
        "error",
    ),
    "behind-front-axle": (
        "ahead_of_front_axle",
        False,
        "This stretch is behind the front axle.",
        "This stretch is ahead of the front axle, where a crash reaches it first: lay it behind the axle.",
        "warning",
    ),
    "within-width": (
        "beyond_width",
        False,
        "This stretch is inside the vehicle's sides.",
        "This stretch is outside the vehicle's sides: bring it inside.",
        "warning",
    ),
    "flexible-end": (
        "flexible_to_engine",
        True,
        "A flexible piece takes up the engine's movement.",
        "No flexible piece takes up the engine's movement, and a rigid line breaks: put in a flexible piece.",
        "warning",
    ),
}
"""By demand: the field, what it should say, the sentence for right and for wrong, and the level of a fail."""


def _flag(route: FuelRoute, name: str, wanted: bool, right: str, wrong: str, level: Level) -> Verdict:
    good = getattr(route, name) == wanted
    return holds(good, right if good else wrong, level=level, on=f"{path_of(route)}.{name}")


def _exhaust_gap(build: Build, route: FuelRoute) -> Verdict:
    if route.shielded:
        limit = SHIELDED_TANK_GAP if route.carries == "tank" and q.is_diesel(build) else EXHAUST_GAP
    else:
        limit = TURBO_GAP if route.near_turbocharger else EXHAUST_GAP
    behind = "behind a shield" if route.shielded else "without a shield"
    name = given(lambda: route.clearance)
    if name is None:
        left, on, why = route.gap_to_exhaust, f"{path_of(route)}.gap_to_exhaust", ""
    elif name not in build.vehicle.clearances:
        says = f"No gap under vehicle.clearances is called {name}."
        return holds(False, says, level="error", on=f"{path_of(route)}.clearance")
    else:
        left, on = movement.gap_left(build, build.vehicle.clearances[name]), f"vehicle.clearances.{name}.gap"
        why = f" That is what the engine's movement leaves of the gap {name}."
    says = (
        f"{shown(left, 'length', 'mm', digits=3)} to the exhaust {behind}; {shown(limit, 'length', 'mm')} or more are "
        f"needed{' beside a turbocharger or manifold (common practice)' if limit == TURBO_GAP else ''}.{why}"
    )
    return at_least(left, limit, says, level="error", on=on, unit=("length", "mm"))


def _below_tank(route: FuelRoute) -> Verdict:
    if route.carries == "tank":
        return does_not_apply("It is the tank itself.")
    on = f"{path_of(route)}.below_tank"
    if route.guarded:
        return holds(True, "This stretch is guarded from below.", on=on)
    most = shown(BELOW_TANK, "length", "mm")
    says = f"An unguarded line hangs {shown(route.below_tank)} below the tank: {most} at most, or guard it."
    return at_most(route.below_tank, BELOW_TANK, says, level="warning", on=on)


def _lines(route: FuelRoute) -> Verdict:
    if route.carries == "tank":
        return does_not_apply("The tank lies here.")
    lines, ends = [str(line) for line in route.lines], [f"the {end}" for end in route.reaches]
    reach = f", up to {' and '.join(ends)}" if ends else ", between other stretches"
    says = (
        f"Here lie: {', '.join(lines)}{reach}."
        if lines
        else "No line lies in this stretch of line: name those that do."
    )
    return holds(bool(lines), says, level="note", on=f"{path_of(route)}.lines")


def _clips(route: FuelRoute) -> Verdict:
    if route.carries == "tank":
        return does_not_apply("A tank has no clips.")
    says = f"Clips every {shown(route.clip_spacing)}; {shown(CLIP_SPACING, 'length', 'mm')} at most."
    return at_most(route.clip_spacing, CLIP_SPACING, says, level="warning", on=f"{path_of(route)}.clip_spacing")


# -- high pressure ----------------------------------------------------------------------------------------------------
_LOOSENED = {
    "lines_renewed": (
        "Every line that was loosened is new.",
        "A loosened high-pressure line is not new: order it by position, and never bend it.",
    ),
    "washers_renewed": (
        "Every washer that was loosened is new.",
        "A loosened sealing washer is not new: order the set.",
    ),
    "tightened_to_sheet": (
        "It was tightened as the engine maker says.",
        "The joints were not tightened by the engine maker's torques and sequence, or nobody wrote it down: loosen "
        "them, tighten them by the sheet, and write it down.",
    ),
}
_NO_LEAK = (
    "The injectors' leak-off is complete and free.",
    "The injectors' leak-off is not complete and free: join all of it.",
)


@rule(
    "fuel.high-pressure",
    level="error",
    due="build",
    sources=[RENEWED.giving("limit", "no home-made line; what was loosened is renewed, tightened, written down")],
    cautions=[cautions.HIGH_PRESSURE_FUEL],
    about=HIGH_PRESSURE,
    bad=[
        {f"{HIGH_PRESSURE}.home_made_line": True},
        {f"{HIGH_PRESSURE}.opened": True, f"{HIGH_PRESSURE}.lines_renewed": False},
        {f"{HIGH_PRESSURE}.leak_off_connected": False},
    ],
    good=[{f"{HIGH_PRESSURE}.opened": False}],
)
def high_pressure(build: Build) -> Verdict:
    """Is the injection side left whole, or, if opened, renewed and tightened as the engine maker says?

    Computes: nothing; the workshop's record.
    Limit: common practice: no line made or bent in the workshop; the leak-off complete; and where anything was
    loosened, new lines and washers, and torque and sequence of the engine maker, written down. Mechanical injection
    takes its pipes again where cones and nuts are sound and nothing was bent.
    Consequence: A line or joint leaks or bursts: the fuel can catch fire, and a fine jet goes through skin.
    Remedy: the items in the sentence. Order one-use lines and washers by position from the engine maker's list.
    Cannot tell: damage inside, and what was loosened and not told.
    """
    side, injection = build.plumbing.fuel.high_pressure, build.engine.fuel.injection
    if injection in ("carburettor", "port-petrol"):
        return does_not_apply("The engine has no high-pressure fuel side.")
    demands: dict[str, Callable[[], Verdict]] = {"home-made": lambda: _home_made(build)}
    if given(lambda: q.is_diesel(build)) is not False:
        demands["leak-off"] = lambda: _leak_off(build)
    if given(lambda: side.opened) is not False:
        demands |= {name.replace("_", "-"): partial(_renewed, build, name, says) for name, says in _LOOSENED.items()}
    return all_of(demands)


def _home_made(build: Build) -> Verdict:
    made = build.plumbing.fuel.high_pressure.home_made_line
    says = (
        "A high-pressure line was made or bent in the workshop: it can burst. Fit a new one from the engine maker."
        if made
        else "No high-pressure line is home-made."
    )
    return holds(not made, says, on=f"{HIGH_PRESSURE}.home_made_line")


def _leak_off(build: Build) -> Verdict:
    if not q.is_diesel(build):
        return does_not_apply("Only diesel injectors leak fuel off.")
    return _closed(build, "leak_off_connected", _NO_LEAK)


def _renewed(build: Build, name: str, says: tuple[str, str]) -> Verdict:
    if not build.plumbing.fuel.high_pressure.opened:
        return does_not_apply("Nothing on the injection side was loosened.")
    if name == "lines_renewed" and build.engine.fuel.injection == "mechanical-injection":
        return _refitted(build)
    return _closed(build, name, says)


def _refitted(build: Build) -> Verdict:
    """Pipes of mechanical injection: new ones, or old ones that are sound."""
    side = build.plumbing.fuel.high_pressure
    if given(lambda: side.lines_renewed) is True:
        return _closed(build, "lines_renewed", _LOOSENED["lines_renewed"])
    says = (
        "Every injection pipe that was refitted is sound.",
        "A refitted injection pipe has a worn cone or nut, or was bent: order it by position.",
    )
    return _closed(build, "pipes_sound", says)


def _closed(build: Build, name: str, says: tuple[str, str]) -> Verdict:
    good: bool = getattr(build.plumbing.fuel.high_pressure, name)
    return holds(good, says[0] if good else says[1], on=f"{HIGH_PRESSURE}.{name}")
