"""Rules about keeping the fuel clean and flowing: filters and cold."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
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
    does_not_apply,
    given,
    holds,
    is_fitted,
    name_of,
    needs_review,
    or_practice,
    owner,
    path_of,
    practice,
    rule,
    sheet,
    shown,
    within,
)
from swaplint.spec.systems.fuel.pumps import FuelFilter

from .. import sources
from ..streams import streams
from . import quantities as q
from .tank_quantities import heater_power_needed

Level = Literal["error", "warning", "note"]

FILTERS = "plumbing.fuel.filters"

FILTRATION = practice(
    "common rail: a final filter of 5 µm, a primary of 10 to 30 µm with a water bowl; carburettor and port injection: "
    "10 to 40 µm"
)
PUMP_FILTERS = practice("filters of diesel plunger and distributor pumps: 10 to 12 µm, with a chamber for water")
DIRECT_FILTERS = practice("filters ahead of the high-pressure pump of direct petrol injection: 5 to 10 µm")
FINAL_DIESEL = Practice("final filter of 5 µm or finer (common rail)", 5e-6, FILTRATION)
FINAL_PLUNGER = Practice("final filter of 12 µm or finer (diesel plunger or distributor pump)", 12e-6, PUMP_FILTERS)
FINAL_DIRECT = Practice("final filter of 10 µm or finer (direct petrol injection)", 10e-6, DIRECT_FILTERS)
FINAL_OTHER = Practice("final filter of 40 µm or finer (carburettor or port injection)", 40e-6, FILTRATION)
PRIMARY_FINE, PRIMARY_COARSE = 10e-6, 30e-6
HEATING = practice("a heated filter and line, or a grade whose plugging point is below the coldest air")


def _common_rail(build: Build) -> bool:
    return q.is_diesel(build) and build.engine.fuel.injection == "common-rail"


def _final_practice(build: Build) -> Practice:
    """The final filter that stands in where the engine's sheet is silent, by what it protects."""
    if q.is_diesel(build):
        return FINAL_DIESEL if build.engine.fuel.injection == "common-rail" else FINAL_PLUNGER
    return FINAL_DIRECT if build.engine.fuel.injection == "direct-petrol" else FINAL_OTHER


# -- filters ----------------------------------------------------------------------------------------------------------
@rule(
    "fuel.filtration",
    level="warning",
    due="quote",
    sources=[
        sheet("engine.fuel.final_filter_fineness"),
        sheet("engine.fuel.extra_filter_allowed"),
        FILTRATION.giving("limit", "primary filter of 10 to 30 µm with a water bowl and sensor"),
        PUMP_FILTERS.giving("limit", "a chamber for water ahead of a diesel plunger or distributor pump"),
    ],
    cautions=[cautions.FUEL_FIRE],
    about=FILTERS,
    fallbacks=[FINAL_DIESEL, FINAL_PLUNGER, FINAL_DIRECT, FINAL_OTHER],
    bad=[
        {f"{FILTERS}.primary.water_separator": False},
        {f"{FILTERS}.primary.rated_flow": "30 L/h"},
        {f"{FILTERS}.final.fineness": "15 µm"},
        {f"{FILTERS}.primary.fineness": "8 µm"},
    ],
    good=[{f"{FILTERS}.final.fineness": "2 µm"}],
)
def filtration(build: Build) -> Verdict:
    """Do the filters keep dirt and water from the injection, and let the whole supply flow through?

    Computes: nothing; the filters are compared with what the engine asks for. A filter passes the supply flow, of
    which the engine sends most back, not only what is burnt.
    Limit: fineness of the final filter and filters behind it: the engine's data sheet, else 5 µm for a common rail,
    12 µm for other diesel pumps, 10 µm for direct petrol injection and 40 µm for other petrol engines (common
    practice). A final filter that the engine package brings counts. Diesel needs a water separator ahead of its pump:
    for a common rail an error where it lacks, else a warning; a common rail's primary filter keeps back 10 to 30 µm and
    its water sensor is wired: common practice. An injection that engines of that fuel have not goes before a person.
    Consequence: Dirt or water ruins pump and injectors, or a filter that is too small chokes the engine.
    Remedy: the filter in the sentence, by fineness and flow.
    Cannot tell: the quality of the fuel, and whether a fineness is nominal or absolute.
    """
    fitted = {name_of(element): element for element in build.plumbing.fuel.filters.values() if is_fitted(element)}
    demands: dict[str, Callable[[], Verdict]] = {"final-fitted": lambda: _final_fitted(build, fitted.values())}
    stages = {name: given(partial(getattr, element, "stage")) for name, element in fitted.items()}
    for name, element in fitted.items():
        demands[f"flow.{name}"] = partial(_flow, build, element)
        if stages[name] == "final":
            demands[f"final-fineness.{name}"] = partial(_final_fineness, build, element)
        if stages[name] == "extra":
            demands[f"behind-final.{name}"] = partial(_behind_final, build, element)
    if given(lambda: _contradicts(build)):
        demands["injection"] = lambda: _injection(build)
    if given(lambda: q.is_diesel(build)) is not False:
        demands["water-separator"] = lambda: _water_separator(build, fitted.values())
    if given(lambda: _common_rail(build)) is not False:
        demands["water-sensor"] = lambda: _water_sensor(build, fitted.values())
        for name, element in fitted.items():
            if stages[name] == "primary":
                demands[f"primary-fineness.{name}"] = partial(_primary, build, element)
    return all_of(demands)


DIESEL_INJECTION = ("common-rail", "mechanical-injection")


def _contradicts(build: Build) -> bool:
    """Whether the engine is said to burn one fuel and to inject it as engines of the other do."""
    return q.is_diesel(build) != (build.engine.fuel.injection in DIESEL_INJECTION)


def _injection(build: Build) -> Verdict:
    injection, fuel = str(build.engine.fuel.injection).replace("-", " "), build.engine.fuel_type
    says = f"The engine is said to burn {fuel}, and its injection to be: {injection}. No {fuel} engine has that: put "
    return needs_review(f"{says}right which of the two is wrong.", on="engine.fuel.injection")


def _coarsest(build: Build) -> float:
    """The coarsest final filter, m, that the engine takes."""
    return or_practice(lambda: build.engine.fuel.final_filter_fineness, _final_practice(build))


def _final_fitted(build: Build, fitted: Iterable[FuelFilter]) -> Verdict:
    if given(lambda: build.engine.fuel.own_final_filter) is True:
        return holds(True, "The engine package brings its own final filter.", on=FILTERS)
    there = any(element.stage == "final" for element in list(fitted))
    says = (
        "A final filter stands ahead of the pump." if there else "There is no final filter ahead of the pump: fit one."
    )
    return holds(there, says, on=FILTERS)


def _final_fineness(build: Build, element: FuelFilter) -> Verdict:
    coarsest, on = _coarsest(build), f"{path_of(element)}.fineness"
    says = f"The final filter keeps back {shown(element.fineness)}; the engine asks for "
    says += f"{shown(coarsest, 'length', 'µm')} or finer."
    says += " Fit a finer one." if element.fineness > coarsest else ""
    return at_most(element.fineness, coarsest, says, on=on)


def _flow(build: Build, element: FuelFilter) -> Verdict:
    wants, count = build.engine.fuel, streams(element)
    through = wants.supply_flow / count
    says = (
        f"This filter is rated for {shown(element.rated_flow)}; {shown(through, 'volume_flow', 'L/h')} go through it."
    )
    burn = given(lambda: wants.burn)
    if burn is not None and element.rated_flow < through:
        says += f" The engine burns only {shown(burn)}, but a filter passes all that it draws."
    return at_least(element.rated_flow, through, says, on=f"{path_of(element)}.rated_flow", unit=("volume_flow", "L/h"))


def _behind_final(build: Build, element: FuelFilter) -> Verdict:
    allowed = build.engine.fuel.extra_filter_allowed
    says = (
        "The engine maker allows a filter behind the final one."
        if allowed
        else "A filter stands behind the final one, where it sheds fibres into the injection: take it out."
    )
    return holds(allowed, says, on=f"{path_of(element)}.stage")


def _bowls(fitted: Iterable[FuelFilter]) -> list[FuelFilter]:
    """The filters that part water off ahead of the engine."""
    return [element for element in fitted if element.place != "engine" and element.water_separator]


def _water_separator(build: Build, fitted: Iterable[FuelFilter]) -> Verdict:
    if not q.is_diesel(build):
        return does_not_apply("The engine burns petrol.")
    common_rail = build.engine.fuel.injection == "common-rail"
    bowls, first = _bowls(fitted), next((element for element in fitted if element.stage == "primary"), None)
    on = FILTERS if first is None else f"{path_of(first)}.water_separator"
    wrong = (
        "Nothing parts water off ahead of the high-pressure pump, and water kills it first: fit a primary filter with "
        "a water bowl and sensor."
        if common_rail
        else "Nothing parts water off ahead of the injection pump, which rusts and seizes: fit a filter with a chamber "
        "for water that can be drained."
    )
    level: Level = "error" if common_rail else "warning"
    bowl = None if bowls or first is None else advice(f"{path_of(first)}.water_separator", True)
    says = "Water is parted off ahead of the pump." if bowls else wrong
    return holds(bool(bowls), says, level=level, on=on, advice=bowl)


def _water_sensor(build: Build, fitted: Iterable[FuelFilter]) -> Verdict:
    if not _common_rail(build):
        return does_not_apply("The engine has no diesel common rail.")
    bowls = _bowls(fitted)
    if not bowls:
        return does_not_apply("There is no water bowl.")
    wired = any(element.water_sensor for element in bowls)
    says = (
        "A sensor tells of water in the bowl."
        if wired
        else "The water bowl has no sensor that is wired: connect it, so that somebody learns of the water."
    )
    return holds(wired, says, on=f"{path_of(bowls[0])}.water_sensor")


def _primary(build: Build, element: FuelFilter) -> Verdict:
    if not _common_rail(build):
        return does_not_apply("The engine has no diesel common rail.")
    says = f"The primary filter keeps back {shown(element.fineness)}: coarser than 30 µm it protects little, finer "
    says += "than 10 µm it clogs early."
    return within(element.fineness, PRIMARY_FINE, PRIMARY_COARSE, says, on=f"{path_of(element)}.fineness")


# -- cold -------------------------------------------------------------------------------------------------------------
@rule(
    "fuel.cold-flow",
    level="warning",
    due="build",
    sources=[
        owner("build.design.ambient_min"),
        sources.COLD_FILTER_TEST.giving("formula", "plugging point of a fuel grade, by its test"),
        sources.HEAT_TRANSFER.giving("formula", "power that heats a flow; c_p 2.0 kJ/(kg K)"),
        HEATING.giving("limit", "heaters for the whole supply flow where the grade does not do"),
    ],
    about="plumbing.fuel.grade.cfpp",
    fallbacks=[q.DIESEL_DENSITY],
    bad=[{"plumbing.fuel.grade.cfpp": "-5 degC"}],
    good=[{"plumbing.fuel.grade.cfpp": "-30 degC"}],
)
def cold_flow(build: Build) -> Verdict:
    """Does the fuel still pass its filter in the coldest air?

    Computes: the difference between the coldest air and the plugging point of the fuel grade; where the grade alone
    does not do, the power that warms the whole supply flow to its plugging point.
    Limit: the plugging point is at or below the coldest air, or the heaters of filters and line have that power.
    Consequence: In the cold wax blocks the filter: the engine does not start, or stops on the road.
    Remedy: a winter grade, or heaters of that power.
    Cannot tell: summer fuel that is still in the tank in winter, and wax that settles overnight.
    """
    if not q.is_diesel(build):
        return does_not_apply("Petrol does not wax.")
    grade, coldest = build.plumbing.fuel.grade, build.build.design.ambient_min
    stays = f"The filter stays open down to {shown(grade.cfpp)}; the coldest air is {shown(coldest)}."
    if grade.cfpp <= coldest:
        return at_most(grade.cfpp, coldest, stays, scale=10.0)
    fuel = build.plumbing.fuel
    heated = [fuel.supply, *fuel.filters.values()]
    heaters = [given(partial(getattr, place, "heater_power")) for place in heated]
    power = sum(heater or 0.0 for heater in heaters)
    needed = heater_power_needed(build)
    says = (
        f"{stays} To heat the whole supply flow takes {q.shown_amply(needed, 'power', 'W')}, and "
        f"{shown(power, 'power', 'W')} are fitted."
    )
    return at_least(power, needed, says, unit=("power", "W"), advice=advice("plumbing.fuel.grade.cfpp", coldest))
