"""Rules about keeping the fuel clean and flowing: filters and cold."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

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
    path_of,
    practice,
    rule,
    sheet,
    shown,
    within,
)

from .. import sources
from . import quantities as q
from .tank_quantities import heater_power_needed

FILTERS = "plumbing.fuel.filters"

FILTRATION = practice(
    "common rail: a final filter of 5 µm, a primary of 10 to 30 µm with a water bowl; petrol: 10 to 40 µm"
)
FINAL_DIESEL = Practice("final filter of 5 µm or finer (common rail)", 5e-6, FILTRATION)
FINAL_OTHER = Practice("final filter of 40 µm or finer", 40e-6, FILTRATION)
PRIMARY_FINE, PRIMARY_COARSE = 10e-6, 30e-6
HEATING = practice("a heated filter and line, or a grade whose plugging point is below the coldest air")


def _common_rail(build: Build) -> bool:
    return q.is_diesel(build) and build.engine.fuel.injection == "common-rail"


# -- filters ----------------------------------------------------------------------------------------------------------
@rule(
    "fuel.filtration",
    level="warning",
    due="quote",
    sources=[sheet("engine.fuel.final_filter_fineness"), FILTRATION],
    cautions=[cautions.FUEL_FIRE],
    about=FILTERS,
    fallbacks=[FINAL_DIESEL, FINAL_OTHER],
    bad=[
        {f"{FILTERS}.primary.water_separator": False},
        {f"{FILTERS}.primary.rated_flow": "30 L/h"},
        {f"{FILTERS}.final.fineness": "15 µm"},
        {f"{FILTERS}.primary.fineness": "60 µm"},
    ],
    good=[{f"{FILTERS}.final.fineness": "2 µm"}],
)
def filtration(build: Build) -> Verdict:
    """Do the filters keep dirt and water from the injection, and let the whole supply flow through?

    Computes: nothing; the filters are compared with what the engine asks for. A filter passes the supply flow, of
    which the engine sends most back, not only what is burnt.
    Limit: fineness of the final filter and filters behind it: the engine's data sheet, else 5 µm for a common rail
    and 40 µm for others. A diesel common rail needs a water separator ahead of its pump, which is an error where it
    lacks; its primary filter keeps back 10 to 30 µm and its water sensor is wired: common practice.
    Consequence: Dirt or water ruins pump and injectors, or a filter that is too small chokes the engine.
    Remedy: the filter in the sentence, by fineness and flow.
    Cannot tell: the quality of the fuel, and whether a fineness is nominal or absolute.
    """
    fitted = [element for element in build.plumbing.fuel.filters.values() if is_fitted(element)]
    demands: list[Callable[[], Verdict]] = [lambda: _final_filter(build, fitted)]
    demands += [partial(_filter_flow, build, element) for element in fitted]
    demands += [partial(_filter_order, build, element) for element in fitted]
    if _common_rail(build):
        demands.append(lambda: _water(build, fitted))
        demands += [partial(_primary, element) for element in fitted]
    return all_of(*demands, default="warning")


def _final_filter(build: Build, fitted: list[Any]) -> Verdict:
    finals = [element for element in fitted if element.stage == "final"]
    coarsest = or_practice(
        lambda: build.engine.fuel.final_filter_fineness, FINAL_DIESEL if _common_rail(build) else FINAL_OTHER
    )
    wanted = shown(coarsest, "length", "µm")
    if not finals:
        return holds(False, f"There is no final filter: fit one of {wanted} or finer ahead of the pump.", on=FILTERS)
    worst = max(finals, key=lambda element: float(element.fineness))
    says = f"The final filter keeps back {shown(worst.fineness)}; the engine asks for {wanted} or finer."
    return at_most(worst.fineness, coarsest, says, on=f"{path_of(worst)}.fineness")


def _filter_flow(build: Build, element: Any) -> Verdict:
    wants = build.engine.fuel
    says = f"This filter is rated for {shown(element.rated_flow)}; {shown(wants.supply_flow)} go through it."
    burn = given(lambda: wants.burn)
    if burn is not None and element.rated_flow < wants.supply_flow:
        says += f" The engine burns only {shown(burn)}, but a filter passes all that it draws."
    return at_least(element.rated_flow, wants.supply_flow, says, on=f"{path_of(element)}.rated_flow")


def _filter_order(build: Build, element: Any) -> Verdict:
    on = f"{path_of(element)}.stage"
    if element.stage != "extra":
        return holds(True, "No filter stands behind the final one.", on=on)
    allowed = build.engine.fuel.extra_filter_allowed
    says = (
        "The engine maker allows a filter behind the final one."
        if allowed
        else "A filter stands behind the final one, where it sheds fibres into the injection: take it out."
    )
    return holds(allowed, says, on=on)


def _water(build: Build, fitted: list[Any]) -> Verdict:
    bowls = [element for element in fitted if element.place != "engine" and element.water_separator]
    if not bowls:
        first = next((element for element in fitted if element.stage == "primary"), None)
        flow = shown(build.engine.fuel.supply_flow)
        return holds(
            False,
            "Nothing parts water off ahead of the high-pressure pump, and water kills it first: fit a primary filter "
            f"of 10 to 30 µm with a water bowl and sensor for {flow} or more.",
            level="error",
            on=f"{path_of(first)}.water_separator" if first is not None else FILTERS,
        )
    wired = any(element.water_sensor for element in bowls)
    says = (
        "Water is parted off, and a sensor tells of it."
        if wired
        else "The water bowl has no sensor that is wired: connect it, so that somebody learns of the water."
    )
    return holds(wired, says, on=f"{path_of(bowls[0])}.water_sensor")


def _primary(element: Any) -> Verdict:
    if element.stage != "primary":
        return does_not_apply("Not a primary filter.")
    says = f"The primary filter keeps back {shown(element.fineness)}: coarser than 30 µm it protects little, finer "
    says += "than 10 µm it clogs early."
    return within(element.fineness, PRIMARY_FINE, PRIMARY_COARSE, says, on=f"{path_of(element)}.fineness")


# -- cold -------------------------------------------------------------------------------------------------------------
@rule(
    "fuel.cold-flow",
    level="warning",
    due="build",
    sources=[sources.DIESEL_GRADES, sources.COLD_FILTER_TEST, HEATING],
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
    Remedy: a winter grade, or the heater power in the sentence.
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
        f"{stays} Fill a grade with a plugging point of {shown(coldest)} or lower; to heat the whole supply flow "
        f"instead takes {shown(needed, digits=3)}, and {shown(power, 'power', 'W')} are fitted."
    )
    return at_least(power, needed, says, unit=("power", "W"))
