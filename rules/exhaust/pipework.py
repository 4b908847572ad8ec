"""Rules of the pipework: back pressure, the flexible piece, the weight on the outlet flange."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
    given,
    holds,
    is_fitted,
    needs_review,
    or_practice,
    path_of,
    practice,
    rule,
    sheet,
    shown,
    told,
    use_practice,
)
from swaplint.engineering.gas_flow import Choked
from swaplint.engineering.pipes import smallest_bore_in_series
from swaplint.spec.systems.exhaust import TUBE_OUTSIDES_MM

from .. import sources
from ..intake.quantities import cases, is_diesel, place
from ..mounts.movement import ALLOWED
from ..mounts.quantities import AS_SPRINGS, SHOCK_OFF_ROAD, SHOCK_ROAD
from ..streams import streams
from . import quantities as q

Level = Literal["error", "warning", "note"]

TUBES = "plumbing.exhaust.pipes.*.tube_outer"
FLEX, SUPPORT = "plumbing.exhaust.flex", "plumbing.exhaust.support"

BACK_PRESSURE = practice(
    "back pressure of turbo-diesels 10 kPa without, 20 kPa with a loaded filter, of turbo petrol engines 30 to 40 kPa"
)
BACK_DIESEL = Practice("back pressure of at most 10 kPa (diesel without a particulate filter)", 10e3, BACK_PRESSURE)
BACK_FILTER = Practice("back pressure of at most 20 kPa (diesel with a loaded particulate filter)", 20e3, BACK_PRESSURE)
BACK_PETROL = Practice("back pressure of at most 30 kPa (petrol)", 30e3, BACK_PRESSURE)

GAS_SPEED = practice("exhaust gas up to 90 m/s behind a diesel and 130 m/s behind a petrol engine")
SPEED_DIESEL, SPEED_PETROL = 90.0, 130.0
OUTLETS = Practice("one outlet for the exhaust", 1.0, practice("most engines have one outlet for the exhaust"))
STEP = practice("no step down in bore near the turbocharger's outlet")

FLEX_PLACE = practice("a bellows or braided piece 0.3 to 0.6 m from the turbocharger, straight at rest, never twisted")
FLEX_NEAR = 0.600

SUPPORTED = practice("the down-pipe is held from engine or gearbox within 300 to 500 mm of the turbocharger")
SUPPORT_NEAR = Practice("first support within 500 mm of the outlet flange", 0.500, SUPPORTED)


def _kpa(pressure: float) -> str:
    return shown(pressure, "pressure_difference", "kPa", digits=3)


def _mm(length: float) -> str:
    return shown(length, "length", "mm", digits=3)


# -- back pressure ----------------------------------------------------------------------------------------------------
LEAST_OF_AIR, MOST_OF_AIR = 0.99, 1.15
"""Exhaust gas over the air that an engine draws: the fuel is added, 1 part to 14.7 of air and more."""


@rule(
    "exhaust.back-pressure",
    level="error",
    due="quote",
    sources=[
        sheet("engine.exhaust.back_pressure_max").giving("limit", demands=["pressure"]),
        sources.GAS_PIPES.giving("formula", "isothermal flow of gas with friction"),
        sources.STANDARD_ATMOSPHERE.giving("formula", "pressure of the air at a height"),
        GAS_SPEED.giving("limit", "90 m/s behind a diesel, 130 m/s behind a petrol engine", demands=["gas-speed"]),
        STEP.giving("limit", "a first pipe no narrower than the outlet", demands=["first-pipe"]),
    ],
    cautions=[cautions.HOT, cautions.EXHAUST_GAS],
    adjust=[TUBES],
    about="plumbing.exhaust.pipes",
    fallbacks=[BACK_DIESEL, BACK_FILTER, BACK_PETROL, OUTLETS],
    bad=[{"engine.exhaust.back_pressure_max": "12 kPa"}, {TUBES: "63.5 mm"}, {"engine.exhaust.outlet_bore": "90 mm"}],
    good=[{TUBES: "101.6 mm"}],
    without={
        "engine.exhaust.outlet_bore": "A step at the outlet is worth a note; what it does to the gas is in the back "
        "pressure, which is judged whole.",
    },
)
def back_pressure(build: Build) -> Verdict:
    """Is the back pressure within the engine's limit with the filter loaded, and does the bore suit the gas?

    Computes: pipes, from the tail upstream as isothermal flow with friction, and devices, at full load, at each place
    that the owner states (build.design.points), else at sea level and at the highest place: the gas is thinner there,
    and as much as the power that the sheet leaves. The greatest counts. The gas keeps the temperature that it has
    behind the turbocharger and devices stand at outside pressure: both a little too much. A particulate filter counts
    as loaded with soot. The gas is fastest at the end of a pipe; pipes and devices behind it keep it under pressure.
    Limit: the engine's data sheet: an error; where it is kept at sea level and passed in thin air only, a person
    decides, for the sheet does not say for which air it holds. Without a sheet 10 kPa for a diesel without and 20 kPa
    with a filter, 30 kPa for a petrol engine (common practice): a warning. Gas up to 90 m/s behind a diesel and 130 m/s
    behind a petrol engine, and a first pipe no narrower than the outlet: notes. Gas that is less than the air that the
    engine draws, or more than 1.15 times that, goes before a person.
    Consequence: The engine chokes on its own gas: it runs hot, loses power and burns more fuel.
    Remedy: the smallest tube of the series that passes; two alike pipes side by side; fewer and wider bends; larger
    devices. Back pressure beyond the sheet's may end the engine's certificate.
    Cannot tell: the drop of a device at its true load of soot; an outlet under water.
    """
    demands: dict[str, Callable[[], Verdict]] = {"pressure": lambda: _pressure(build)}
    demands["gas-speed"] = lambda: _speed(build)
    if given(lambda: build.engine.exhaust.outlet_bore) is not None:
        demands["first-pipe"] = lambda: _step(build)
    if given(lambda: _unlike_the_air(build)):
        demands["gas-flow"] = lambda: _gas_of_air(build)
    return all_of(demands)


def _unlike_the_air(build: Build) -> bool:
    """Whether the sheet's gas is not its air and the fuel, which adds 3 to 7 per cent."""
    air, gas = build.engine.air.mass_flow, build.engine.exhaust.mass_flow
    return bool(gas < LEAST_OF_AIR * air or gas > MOST_OF_AIR * air)


def _gas_of_air(build: Build) -> Verdict:
    air, gas = build.engine.air.mass_flow, build.engine.exhaust.mass_flow
    says = (
        f"The sheet has {shown(gas)} of exhaust gas and {shown(air)} of air: what the engine draws in leaves it, with "
    )
    says += "3 to 7 % of fuel. One of the two is wrong, or of another rating."
    return needs_review(says, on="engine.exhaust.mass_flow", found=gas)


def usual_limit(build: Build) -> Practice:
    """What stands in for a back pressure that the engine's sheet does not state."""
    if not is_diesel(build):
        return BACK_PETROL
    return BACK_FILTER if any(d.kind == "particulate-filter" for d in q.devices(build)) else BACK_DIESEL


def _limit(build: Build) -> tuple[float, Level | None]:
    stated = given(lambda: build.engine.exhaust.back_pressure_max)
    if stated is not None:
        return stated, None
    return or_practice(lambda: build.engine.exhaust.back_pressure_max, usual_limit(build)), "warning"


def _some_tube_does(build: Build, limit: float) -> bool:
    """Whether the back pressure keeps to the limit with some tube of the series for all pipes."""
    tubes = [outer / 1e3 for outer in TUBE_OUTSIDES_MM]
    walls = max(float(pipe.tube_wall) for pipe in q.pipes(build))
    by_tube = q.back_pressure_by_tube(build)
    return smallest_bore_in_series(by_tube, limit, [t for t in tubes if t > 2.0 * walls]) is not None


def _pressure(build: Build) -> Verdict:
    limit, level = _limit(build)
    try:
        by_place = {case: q.back_pressure(build, case) for case in cases(build)}
        low = q.back_pressure_of(build, q.sea_level_gas(build))
    except Choked:
        says = "The pipes are far too narrow: the gas would come near to the speed of sound."
        return holds(False, says, level=level)
    case = max(by_place, key=lambda name: float(by_place[name]))
    found = by_place[case]
    says = (
        f"{_kpa(found)} {place(build, case).words()}: the pipes take {_kpa(q.pipes_drop(build, case))} and the devices "
        f"{_kpa(q.devices_drop(build, case))}."
    )
    if found <= limit:
        return at_most(found, limit, says, level=level)
    if level is None and low <= limit:
        says += (
            f" At sea level it is {_kpa(low)}, within the sheet's {_kpa(limit)}; whether that limit holds in thinner "
            f"air its maker must say."
        )
        return needs_review(says, found=found)
    if _some_tube_does(build, limit):
        says += " It takes wider pipes, or devices of lower loss."
    else:
        says += f" No tube of the series would do: the devices alone take {_kpa(q.devices_drop(build, case))}."
    return at_most(found, limit, says, level=level)


def _speed(build: Build) -> Verdict:
    usual = SPEED_DIESEL if is_diesel(build) else SPEED_PETROL
    fastest = max(q.pipes(build), key=lambda pipe: float(q.gas_velocity(build, pipe)))
    speed, on = q.gas_velocity(build, fastest), f"{path_of(fastest)}.tube_outer"
    needed = q.bore(fastest) * (speed / usual) ** 0.5 + 2.0 * fastest.tube_wall
    fits = next((outer / 1e3 for outer in TUBE_OUTSIDES_MM if outer / 1e3 >= needed), None)
    says = f"The gas passes {shown(fastest.tube_outer)} tube at {shown(speed, digits=3)}; "
    says += f"{shown(usual, 'speed', 'm/s')} is usual."
    return at_most(speed, usual, says, level="note", on=on, advice=advice(on, fits))


def _step(build: Build) -> Verdict:
    outlet, pipe = build.engine.exhaust.outlet_bore, q.pipes(build)[0]
    first, on, count = q.bore(pipe), f"{path_of(pipe)}.tube_outer", streams(pipe)
    outlets = or_practice(lambda: build.engine.exhaust.outlets, OUTLETS)
    wanted = outlet * (outlets / count) ** 0.5
    says = f"The first pipe has a bore of {_mm(first)}; the engine's outlet has {shown(outlet)}."
    if (outlets, count) != (1.0, 1.0):
        says += (
            f" {outlets:g} of these lead into {count:g} {'pipe' if count == 1.0 else 'pipes'}, each of "
            f"{_mm(wanted)} or more."
        )
    return at_least(first, wanted, says, level="note", on=on, unit=("length", "mm"))


# -- flexible piece ---------------------------------------------------------------------------------------------------
@rule(
    "exhaust.flex-section",
    level="error",
    due="build",
    sources=[
        sheet("plumbing.exhaust.flex.offset_max"),
        sources.MACHINE_DESIGN.giving("formula", "growth of a hot pipe, α·L·ΔT"),
        FLEX_PLACE.giving("limit", "600 mm from the turbocharger, straight, not twisted"),
    ],
    cautions=[cautions.EXHAUST_GAS],
    about=FLEX,
    adjust=[f"{FLEX}.offset_max"],
    fallbacks=[ALLOWED, *AS_SPRINGS],
    bad=[
        {FLEX: {"fitted": False}},
        {f"{FLEX}.offset_max": "8 mm"},
        {f"{FLEX}.distance_from_turbo": "900 mm"},
        {f"{FLEX}.twisted": True},
        {f"{FLEX}.straight_at_rest": False},
    ],
    good=[{f"{FLEX}.offset_max": "80 mm"}],
)
def flex_section(build: Build) -> Verdict:
    """Can the exhaust follow the engine's movement and its own growth without loading the turbocharger?

    Computes: how far the engine's end of the exhaust moves with the engine on its mounts (20 mm while the mounts are
    not known), and how much the hot pipe grows up to the first hanger that holds it lengthwise, α·L·ΔT with the gas
    temperature for the pipe's: the pipe is a little cooler. Both are added.
    Limit: the offset that the maker of the flexible piece allows. It sits within 600 mm of the turbocharger, lies
    straight and without twist at rest, and is not twisted by the engine's roll unless it is interlocked: warnings,
    common practice. None at all is an error, except where the whole exhaust hangs on rubber (`hangs_on`) that lets it
    move as far as the engine does.
    Consequence: Manifold, turbocharger or flexible piece cracks, and exhaust gas leaks out under the cab.
    Remedy: the smallest flexible piece of a maker's table whose offset covers the sum of both; a hanger that slides.
    Never bend it to make up for pipes that do not meet.
    Cannot tell: how many million movements it lasts.
    """
    flex = build.plumbing.exhaust.flex
    demands: dict[str, Callable[[], Verdict]] = {"piece": lambda: _piece(build)}
    if given(lambda: is_fitted(flex)) is False and given(lambda: build.plumbing.exhaust.hangs_on) == "rubber":
        demands["hangers"] = lambda: _hangers(build)
    if given(lambda: is_fitted(flex)):
        demands |= {
            "offset": lambda: _offset(build),
            "place": lambda: _flex_place(build),
            "straight": lambda: _straight(build),
            "twist": lambda: _twist(build),
        }
    return all_of(demands)


def _hangers(build: Build) -> Verdict:
    travel, moves = build.plumbing.exhaust.rubber_travel, q.engine_movement(build)
    on = "plumbing.exhaust.rubber_travel"
    says = f"The engine takes the exhaust {shown(moves, digits=3)} along; its rubber lets it move {shown(travel)}."
    if travel < moves:
        says += " It pulls at manifold and turbocharger: fit longer rubber, or a flexible piece."
    return at_least(travel, moves, says, on=on, advice=advice(on, moves))


def _piece(build: Build) -> Verdict:
    fitted = is_fitted(build.plumbing.exhaust.flex)
    if not fitted and build.plumbing.exhaust.hangs_on == "rubber":
        return holds(True, "The whole exhaust hangs on rubber and moves with the engine.", on=FLEX)
    says = (
        "A flexible piece takes up the engine's movement."
        if fitted
        else told("Nothing takes up the engine's movement: fit a bellows or braided piece within 600 mm of the outlet.")
    )
    return holds(fitted, says, on=FLEX)


def _offset(build: Build) -> Verdict:
    allowed, needed, on = build.plumbing.exhaust.flex.offset_max, q.flex_offset(build), f"{FLEX}.offset_max"
    says = (
        f"The engine moves {shown(q.engine_movement(build), digits=3)} and the pipe grows "
        f"{shown(q.growth(build), digits=3)}; the flexible piece allows {shown(allowed)} in all."
    )
    if allowed < needed:
        says += " It tears, or pulls at the turbocharger: fit a longer one, or a hanger that slides."
    return at_least(allowed, needed, says, on=on, advice=advice(on, needed))


def _straight(build: Build) -> Verdict:
    straight = build.plumbing.exhaust.flex.straight_at_rest
    says = (
        "The flexible piece lies straight at rest."
        if straight
        else "The flexible piece is bent or twisted at rest, which uses up its travel: let the pipes meet first."
    )
    return holds(straight, says, level="warning", on=f"{FLEX}.straight_at_rest")


def _flex_place(build: Build) -> Verdict:
    found = build.plumbing.exhaust.flex.distance_from_turbo
    says = f"The flexible piece is {shown(found)} from the engine's outlet; {_mm(FLEX_NEAR)} is usual."
    if found > FLEX_NEAR:
        says += " What is ahead of it hangs on the flange and shakes with the engine."
    return at_most(found, FLEX_NEAR, says, level="warning", on=f"{FLEX}.distance_from_turbo")


def _twist(build: Build) -> Verdict:
    flex = build.plumbing.exhaust.flex
    good = not flex.twisted or flex.kind == "interlocked"
    says = (
        "The engine's roll does not twist the flexible piece, or it is made for that."
        if good
        else f"The engine's roll twists a {flex.kind} piece and tears it: turn it across, or use an interlocked one."
    )
    return holds(good, says, level="warning", on=f"{FLEX}.twisted")


# -- weight on the flange ---------------------------------------------------------------------------------------------
@rule(
    "exhaust.turbo-load",
    level="error",
    due="build",
    sources=[
        sheet("engine.exhaust.load_max"),
        sheet("engine.exhaust.moment_max"),
        sources.STATICS.giving("formula", "force and moment of a hung mass"),
        SUPPORTED.giving("limit", "first support on engine or gearbox"),
    ],
    cautions=[cautions.HOT],
    about=SUPPORT,
    adjust=[f"{SUPPORT}.hung_centre", f"{SUPPORT}.support_distance"],
    fallbacks=[SUPPORT_NEAR, SHOCK_ROAD, SHOCK_OFF_ROAD],
    bad=[
        {f"{SUPPORT}.hung_mass": "30 kg", f"{SUPPORT}.hung_centre": "20 mm"},
        {f"{SUPPORT}.hung_centre": "450 mm"},
        {f"{SUPPORT}.support_on": "frame"},
    ],
    good=[{f"{SUPPORT}.hung_mass": "1.5 kg"}],
    instead={
        "engine.exhaust.load_max": ("engine.exhaust.moment_max", f"{SUPPORT}.support_distance"),
        "engine.exhaust.moment_max": ("engine.exhaust.load_max", f"{SUPPORT}.support_distance"),
    },
)
def turbo_load(build: Build) -> Verdict:
    """Is the weight that hangs on the turbocharger's outlet within what it bears?

    Computes: the force m·g·n with which what hangs on the outlet flange ahead of the first support pulls in a shock,
    and that force times its distance. The vertical shock n is that of the engine's sheet, else 3 times the weight on
    roads and 5 times off them (common practice).
    Limit: force and moment of the engine's data sheet, errors. Where it states neither, the first support is within
    500 mm of the flange: a warning. It is bolted to engine or gearbox, which move with the turbocharger.
    Consequence: The turbocharger's housing or its flange cracks, and hot gas leaks out in the engine bay.
    Remedy: a support nearer to the flange, so that less hangs on it, and nearer.
    Cannot tell: how stiff the support really is, and resonance of a long pipe.
    """
    limits = build.engine.exhaust
    force, moment = given(lambda: limits.load_max), given(lambda: limits.moment_max)
    demands: dict[str, Callable[[], Verdict]] = {}
    if force is not None:
        demands["force"] = lambda: _force(build)
    if moment is not None:
        demands["moment"] = lambda: _moment(build)
    if not demands:
        demands["support-distance"] = lambda: _near(build)
    demands["support-on"] = lambda: _support_on(build)
    return all_of(demands)


def _support_on(build: Build) -> Verdict:
    frame = build.plumbing.exhaust.support.support_on == "frame"
    says = (
        "The first support is bolted to the frame, so that the moving engine pulls at the flange: hold the pipe from "
        "engine or gearbox."
        if frame
        else "The first support moves with the engine."
    )
    return holds(not frame, says, level="warning", on=f"{SUPPORT}.support_on")


def _force(build: Build) -> Verdict:
    found, limit = q.flange_force(build), build.engine.exhaust.load_max
    mass = build.plumbing.exhaust.support.hung_mass
    says = f"{shown(mass)} pull at the flange with {shown(found, digits=3)} in a shock."
    if found > limit:
        says += " Hold the pipe nearer to the flange, so that less hangs on it."
    return at_most(found, limit, says, on=f"{SUPPORT}.hung_mass")


def _moment(build: Build) -> Verdict:
    found, limit, support = q.flange_moment(build), build.engine.exhaust.moment_max, build.plumbing.exhaust.support
    on, mass = f"{SUPPORT}.hung_centre", shown(support.hung_mass)
    says = f"{mass} at {shown(support.hung_centre)} bend the flange with {shown(found, digits=3)} in a shock."
    if found > limit:
        says += " Hold the pipe nearer to the flange."
    nearest = support.hung_centre * limit / found if found > limit else None
    return at_most(found, limit, says, on=on, advice=advice(on, nearest))


def _near(build: Build) -> Verdict:
    most = use_practice(build, SUPPORT_NEAR)
    found = build.plumbing.exhaust.support.support_distance
    says = f"The first support is {shown(found)} from the flange. The engine's sheet states no load: ask for it."
    return at_most(found, most, says, level="warning", on=f"{SUPPORT}.support_distance", unit=("length", "mm"))
