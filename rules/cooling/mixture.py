"""Rules of the coolant: boiling, expansion, freezing."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

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
    needs_review,
    or_practice,
    practice,
    rule,
    sheet,
    shown,
    told,
    within,
)
from swaplint.engineering import OutsideRange, atmosphere, coolant

from ..places import highest_place
from . import circuit_quantities as q

POISON = "Glycol is poisonous: keep it from people and animals, and take up what is spilt."
CAP_FIELD, SHARE_FIELD = "plumbing.cooling.cap_pressure", "plumbing.cooling.coolant.glycol"
BOIL_MARGIN = 8.0
"""Least distance between the hottest coolant and boiling, K: common practice."""
BOIL_PRACTICE = practice("at least 8 K between the hottest coolant and boiling").giving("limit", "8 K")
RATED = practice("no part is rated for less than the pressure of the cap").giving("limit", "rating of each part")
CAP = Practice("cap of at least 90 kPa", 90e3, practice("caps of 90 to 110 kPa on engines of today"))
GLYCOL = practice("40 to 60 % of glycol by volume")
ROUNDED = 0.999
"""Shares of litres are no contradiction: both are printed rounded."""
GLYCOL_LEAST = Practice("glycol of at least 40 %", 0.40, GLYCOL)
GLYCOL_MOST = Practice("glycol of at most 60 %", 0.60, GLYCOL)
FREEZE_MARGIN = 5.0
"""How far the freezing point lies below the coldest air, K: common practice."""
FREEZE_PRACTICE = practice("a freezing point 5 K below the coldest air").giving("limit", "5 K")
MEASURED = 0.85
"""Share of the sum of engine, radiator and hoses that a filled system may be found to hold: hoses are measured by tape,
and some coolant stays in an engine that was drained."""


@rule(
    "cooling.boil-margin",
    level="error",
    due="quote",
    sources=[
        sheet("engine.coolant.top_tank_max"),
        sheet("engine.coolant.cap_pressure_min"),
        sheet("plumbing.cooling.radiator.pressure_max"),
        sheet("plumbing.cooling.expansion_tank.pressure_max"),
        sheet("plumbing.cooling.heater.pressure_max"),
        q.VAPOUR,
        q.BOILING_WATER,
        q.THIN_AIR,
        BOIL_PRACTICE,
        RATED,
    ],
    cautions=[cautions.HOT],
    adjust=["plumbing.cooling.cap_pressure"],
    fallbacks=[CAP],
    bad=[
        {"engine.coolant.cap_pressure_min": "115 kPa"},
        {"plumbing.cooling.heater.pressure_max": "80 kPa"},
        {"plumbing.cooling.cap_pressure": "25 kPa", "engine.coolant.cap_pressure_min": "20 kPa"},
    ],
    good=[{"plumbing.cooling.cap_pressure": "110 kPa"}],
)
def boil_margin(build: Build) -> Verdict:
    """How far is the hottest coolant from boiling at the highest place, and does every part stand the cap's pressure?

    Computes: the boiling point of water at the pressure of air and cap over the share of water in the mixture's
    molecules (Raoult's law), less the hottest coolant allowed.
    Limit: 8 K (common practice; a warning), and never boiling (an error); the engine's least cap pressure, where its
    data sheet has none 90 kPa (common practice); and the ratings of radiator, expansion tank and heater core.
    Consequence: The coolant boils over and scalds, or a part bursts under the pressure of the cap.
    Remedy: a cap that gives the margin. Never a higher cap than the weakest part bears: old heater cores and hoses
    burst. Where nobody knows the rating of an old core or radiator, a pressure test on the bench tells.
    Cannot tell: the age of a heater core, and cavitation at the pump's inlet, where the pressure is lowest.
    """
    cooling = build.plumbing.cooling
    cap = cooling.cap_pressure

    def boiling() -> Verdict:
        margin, place, limit = q.boil_margin(build), highest_place(build), build.engine.coolant.top_tank_max
        above = f"{shown(abs(margin), 'temperature_difference', 'K')} {'above' if margin >= 0.0 else 'below'}"
        says = (
            f"Under {shown(cap)} at {shown(place)} the coolant boils at {shown(q.boiling_point(build))}, {above} the "
            f"{shown(limit)} that the engine may reach."
        )
        higher = None
        if margin < BOIL_MARGIN:
            says += " It takes a cap of higher pressure, which every part must bear."
            inside = coolant.vapour_pressure(limit + BOIL_MARGIN, cooling.coolant.glycol)
            asked = given(lambda: build.engine.coolant.cap_pressure_min) or 0.0
            higher = max(inside - atmosphere.standard_pressure(place), asked)
        level: Any = "error" if margin < 0.0 else "warning"
        return at_least(margin, BOIL_MARGIN, says, level=level, advice=advice(CAP_FIELD, higher))

    def cap_of_sheet() -> Verdict:
        least = or_practice(lambda: build.engine.coolant.cap_pressure_min, CAP)
        says = f"The cap opens at {shown(cap)}; the engine asks for {_kpa(least)} or more."
        if cap < least:
            says += " Fit a cap of that pressure, which every part must bear."
        return at_least(cap, least, says, advice=advice(CAP_FIELD, least))

    def rating(name: str, part: Any) -> Verdict:
        most = part.pressure_max
        says = f"The cap opens at {shown(cap)}; the {name} is rated for {shown(most)}."
        if cap > most:
            says += " It bursts before the cap opens: fit a stronger one, or a weaker cap if the engine allows it."
        return at_most(cap, most, says, advice=advice(CAP_FIELD, most))

    bearing = {"radiator": cooling.radiator, "expansion tank": cooling.expansion_tank, "heater core": cooling.heater}
    borne = {
        f"borne.{name.replace(' ', '-')}": partial(rating, name, part)
        for name, part in bearing.items()
        if given(partial(is_fitted, part)) is not False
    }
    return all_of(borne, boiling=boiling, least_cap=cap_of_sheet)


def _kpa(pressure: float) -> str:
    return shown(pressure, "gauge_pressure", "kPa")


@rule(
    "cooling.expansion-volume",
    level="warning",
    due="quote",
    sources=[
        sheet("engine.coolant.reserve"),
        q.DENSITY,
        q.HEAT_SOAK_PRACTICE,
    ],
    cautions=[cautions.HOT],
    adjust=["plumbing.cooling.expansion_tank.volume"],
    fallbacks=[q.RESERVE_HEAVY, q.RESERVE_LIGHT],
    without={"plumbing.cooling.hoses": "Hoses only add to what engine and radiator hold; others ask for them."},
    bad=[{"plumbing.cooling.expansion_tank.volume": "1.5 L"}],
    good=[{"plumbing.cooling.expansion_tank.volume": "5 L"}],
)
def expansion_volume(build: Build) -> Verdict:
    """Is there room for the coolant to expand, and a reserve?

    Computes: V·(ρ(20 °C)/ρ(hot) − 1), with hot at 110 °C or at the engine's limit where that is more; a mixture of half
    glycol by volume grows by 4.9 % up to 100 °C and by 5.8 % up to 110 °C. Plus the reserve. The empty room that the
    growth fills is the air in which the pressure builds up.
    Limit: the volume of the expansion tank above its outlet; that there is one. The reserve is that of the engine's
    data sheet, else 10 % of the system for heavy and 5 % for light vehicles (common practice).
    Consequence: Hot coolant is pushed out and air drawn in as it cools, until the engine overheats.
    Remedy: a larger tank.
    Cannot tell: where the level sensor sits, and how much a filler fills in. In the cold the coolant shrinks by one or
    two per cent of the system, which the reserve covers.
    """
    tank, field = build.plumbing.cooling.expansion_tank, "plumbing.cooling.expansion_tank.volume"
    if given(lambda: is_fitted(build.engine.coolant)) is False:
        return does_not_apply("The engine is cooled by air: see supply.needed-parts.")
    if given(lambda: is_fitted(tank)) is False:
        says = (
            "There is no expansion tank, and hot coolant is pushed out: fit one. Where the radiator has a header tank "
        )
        says += "that is filled with room above the coolant, state that as the expansion tank."
        return holds(False, says, on="plumbing.cooling.expansion_tank")
    need, system = q.expansion_need(build), q.system_volume(build)
    inside = [given(lambda: build.engine.coolant.volume), given(lambda: build.plumbing.cooling.radiator.volume)]
    parts = sum(volume or 0.0 for volume in inside)
    with_hoses = parts + (given(lambda: q.in_hoses(build)) or 0.0)
    if system < ROUNDED * parts and tank.volume >= need:
        says = f"The system is said to hold {shown(system, 'volume', 'L')}, and engine and radiator alone hold "
        says += f"{shown(parts, 'volume', 'L')}: look up both, for the growth is reckoned from it."
        return needs_review(says, on="plumbing.cooling.system_volume")
    if system < MEASURED * with_hoses and tank.volume >= need:
        says = f"The system is said to hold {shown(system, 'volume', 'L')}; engine, radiator and hoses hold "
        says += f"{shown(with_hoses, 'volume', 'L')}: long pipes take more coolant. Fill it and measure."
        return needs_review(says, on="plumbing.cooling.system_volume")
    says = (
        f"A system of {shown(system)} grows by "
        f"{shown(need - system * q.reserve_share(build), 'volume', 'L', digits=3)} from {told('20 °C')} to "
        f"{shown(q.hottest(build), 'temperature', 'degC')} and keeps "
        f"{shown(system * q.reserve_share(build), 'volume', 'L', digits=3)} in hand."
    )
    return at_least(tank.volume, need, says, advice=advice(field, need))


@rule(
    "cooling.freeze-protection",
    level="warning",
    due="build",
    sources=[
        sheet("engine.coolant.glycol_min"),
        sheet("engine.coolant.glycol_max"),
        sheet("engine.coolant.chemistries"),
        q.FREEZING,
        FREEZE_PRACTICE,
    ],
    cautions=[POISON],
    adjust=["plumbing.cooling.coolant.glycol"],
    fallbacks=[GLYCOL_LEAST, GLYCOL_MOST],
    bad=[
        {"plumbing.cooling.coolant.glycol": "30 %", "engine.coolant.glycol_min": "25 %"},
        {
            "plumbing.cooling.coolant.glycol": "58 %",
            "engine.coolant.glycol_max": "55 %",
            "supply[14].fills[2].volume": "10 L",
        },
        {"plumbing.cooling.coolant.chemistry": "inorganic", "supply[14].fills[2].standards": ["inorganic"]},
    ],
    good=[{"plumbing.cooling.coolant.glycol": "45 %"}],
)
def freeze_protection(build: Build) -> Verdict:
    """Does the coolant protect down to the coldest air, and does the engine allow its mixture and kind?

    Computes: the freezing point of the mixture from its share of ethylene glycol by volume.
    Limit: 5 K below the coldest air (common practice); a freezing point above the coldest air is an error. The share
    within the range of the engine's data sheet, else 40 to 60 % (common practice): more glycol than that carries less
    heat, and beyond about 68 % it freezes sooner again. A family of inhibitors that the engine allows.
    Consequence: The coolant freezes and cracks the block, or eats away the engine, or lets it overheat.
    Remedy: another share of glycol, measured with a refractometer, not mixed by eye.
    Cannot tell: what mixing kinds of coolant does to their inhibitors: drain and flush when in doubt.
    """
    mixture, asks = build.plumbing.cooling.coolant, build.engine.coolant
    share = mixture.glycol

    def coldest() -> float:
        return build.build.design.ambient_min

    def in_range() -> Verdict:
        low = or_practice(lambda: asks.glycol_min, GLYCOL_LEAST)
        high = or_practice(lambda: asks.glycol_max, GLYCOL_MOST)
        ends = f"{shown(low, 'share', '%')} to {shown(high, 'share', '%')}"
        says = f"The coolant is {shown(share)} glycol; {ends} are allowed."
        if not low <= share <= high:
            says += f" It takes {'more' if share < low else 'less'} glycol."
        return within(share, low, high, says, advice=advice(SHARE_FIELD, low if share < low else high))

    def protection() -> Verdict:
        freezes, wanted = q.freezing_point(build), coldest() - FREEZE_MARGIN
        says = (
            f"With {shown(share)} glycol the coolant protects to {shown(freezes)}; the coldest air has "
            f"{shown(coldest())}."
        )
        more = None
        if freezes > wanted:
            try:
                more = advice(SHARE_FIELD, coolant.share_for_freezing_onset(wanted))
            except OutsideRange:
                says += " No usual mixture of ethylene glycol and water protects so far."
        level: Any = "error" if freezes > coldest() else "warning"
        return at_most(freezes, wanted, says, level=level, scale=FREEZE_MARGIN, advice=more)

    def kind() -> Verdict:
        allowed = [str(family) for family in asks.chemistries]
        says = f"The coolant is of the {mixture.chemistry} family; the engine allows {', '.join(allowed)}."
        if mixture.chemistry not in allowed:
            says += " Drain it, flush with water and fill in one of these."
        return holds(mixture.chemistry in allowed, says, on="plumbing.cooling.coolant.chemistry")

    demands: dict[str, Callable[[], Verdict]] = {"share": in_range, "kind": kind}
    # The table ends where hardly an engine allows more; of one that does the table says nothing, and a person decides.
    if share <= coolant.LARGEST_SHARE or given(lambda: asks.glycol_max >= share):
        demands["protection"] = protection
    return all_of(demands)
