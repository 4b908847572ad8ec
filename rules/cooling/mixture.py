"""Rules of the coolant: boiling, expansion, freezing."""

from __future__ import annotations

from collections.abc import Callable

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    all_of,
    at_least,
    at_most,
    cautions,
    given,
    holds,
    or_practice,
    practice,
    rule,
    sheet,
    shown,
    within,
)
from swaplint.engineering import OutsideRange, atmosphere, coolant

from .. import sources
from . import circuit_quantities as q

POISON = "Glycol is poisonous: keep it from people and animals, and take up what is spilt."
BOIL_MARGIN = 8.0
"""Least distance between the hottest coolant and boiling, K: common practice."""
BOIL_PRACTICE = practice("at least 8 K between the hottest coolant and boiling")
CAP = Practice("cap of at least 90 kPa", 90e3, practice("caps of 90 to 110 kPa on engines of today"))
GLYCOL = practice("40 to 60 % of glycol by volume")
GLYCOL_LEAST = Practice("glycol of at least 40 %", 0.40, GLYCOL)
GLYCOL_MOST = Practice("glycol of at most 60 %", 0.60, GLYCOL)
FREEZE_MARGIN = 5.0
"""How far the freezing point lies below the coldest air, K: common practice."""
FREEZE_PRACTICE = practice("a freezing point 5 K below the coldest air")


@rule(
    "cooling.boil-margin",
    level="error",
    due="quote",
    sources=[
        sheet("engine.coolant.cap_pressure_min"),
        sources.RAOULT,
        sources.STEAM_TABLES,
        sources.STANDARD_ATMOSPHERE,
        sources.PRESSURE_CAPS,
        BOIL_PRACTICE,
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

    Computes: T_boil = T_sat,water((p_altitude + p_cap)/x_water) by Raoult's law, less the hottest coolant allowed.
    Limit: 8 K (common practice; a warning), and never boiling (an error); the engine's least cap pressure, where its
    data sheet has none 90 kPa (common practice); and the stated ratings of radiator, expansion tank and heater core.
    Consequence: The coolant boils over and scalds, or a part bursts under the pressure of the cap.
    Remedy: the cap that gives the margin, named in the sentence. Never a higher cap than the weakest part stands: old
    heater cores and hoses burst.
    Cannot tell: the age of a heater core, and cavitation at the pump's inlet, where the pressure is lowest. A rating
    that is not stated is not judged.
    """
    cooling, limit = build.plumbing.cooling, build.engine.coolant.top_tank_max
    cap = cooling.cap_pressure

    def picture() -> str:
        place = build.build.design.altitude_max
        ambient = atmosphere.standard_pressure(place)
        needed = coolant.vapour_pressure(limit + BOIL_MARGIN, cooling.coolant.glycol) - ambient
        return (
            f"Under {shown(cap)} at {shown(place)} the coolant boils at {shown(q.boiling_point(build))}, "
            f"{shown(q.boil_margin(build))} above the {shown(limit)} that the engine may reach; a cap of "
            f"{shown(max(0.0, needed), 'gauge_pressure', 'kPa', digits=3)} keeps 8 K."
        )

    def told() -> str:
        """The picture beside another demand; a margin that fails tells it by itself."""
        return given(lambda: picture() if q.boil_margin(build) >= BOIL_MARGIN else "") or ""

    def boiling() -> Verdict:
        margin = q.boil_margin(build)
        return at_least(margin, BOIL_MARGIN, picture(), level="error" if margin < 0.0 else "warning")

    def cap_of_sheet() -> Verdict:
        least = or_practice(lambda: build.engine.coolant.cap_pressure_min, CAP)
        says = f"The cap opens at {shown(cap)}; the engine asks for {_kpa(least)} or more."
        return at_least(cap, least, f"{says} {told()}".strip())

    def rating(name: str, read: Callable[[], float]) -> Verdict:
        most = given(read)
        if most is None:
            return holds(True)
        says = f"The cap opens at {shown(cap)}; the {name} is rated for {shown(most)}. {told()}"
        return at_most(cap, most, says.strip())

    return all_of(
        boiling,
        cap_of_sheet,
        rating("radiator", lambda: cooling.radiator.pressure_max),
        rating("expansion tank", lambda: cooling.expansion_tank.pressure_max),
        rating("heater core", lambda: cooling.heater.pressure_max),
    )


def _kpa(pressure: float) -> str:
    return shown(pressure, "gauge_pressure", "kPa")


@rule(
    "cooling.expansion-volume",
    level="warning",
    due="quote",
    sources=[sheet("engine.coolant.reserve"), sources.GLYCOL_TABLES, sources.FILL_TESTS],
    cautions=[cautions.HOT],
    adjust=["plumbing.cooling.expansion_tank.volume"],
    fallbacks=[q.RESERVE_HEAVY, q.RESERVE_LIGHT],
    bad=[{"plumbing.cooling.expansion_tank.volume": "1.5 L"}],
    good=[{"plumbing.cooling.expansion_tank.volume": "5 L"}],
)
def expansion_volume(build: Build) -> Verdict:
    """Is there room for the coolant to expand, and a reserve?

    Computes: V·(ρ(20 °C)/ρ(hot) − 1), with hot at 110 °C or at the engine's limit where that is more; a mixture of half
    glycol by volume grows by 4.9 % up to 100 °C and by 5.8 % up to 110 °C. Plus the reserve. The empty room that the
    growth fills is the air in which the pressure builds up.
    Limit: the volume of the expansion tank above its outlet. The reserve is that of the engine's data sheet, else 10 %
    of the system for heavy and 5 % for light vehicles (common practice).
    Consequence: Hot coolant is pushed out and air drawn in as it cools, until the engine overheats.
    Remedy: a tank of the volume that the sentence names. Without the room hot coolant is pushed out, and air drawn in
    when it cools.
    Cannot tell: where the level sensor sits, and how much a filler fills in. In the cold the coolant shrinks by one or
    two per cent of the system, which the reserve covers.
    """
    need, system = q.expansion_need(build), q.system_volume(build)
    return at_least(
        build.plumbing.cooling.expansion_tank.volume,
        need,
        f"A system of {shown(system)} needs a tank of {shown(need, digits=3)}: it grows by "
        f"{shown(need - system * q.reserve_share(build), 'volume', 'L', digits=3)} from 20 °C to "
        f"{shown(q.hottest(build), 'temperature', 'degC')} and keeps "
        f"{shown(system * q.reserve_share(build), 'volume', 'L', digits=3)} in hand.",
    )


@rule(
    "cooling.freeze-protection",
    level="warning",
    due="build",
    sources=[sheet("engine.coolant.glycol_min"), sources.GLYCOL_TABLES, sources.COOLANTS, FREEZE_PRACTICE],
    cautions=[POISON],
    adjust=["plumbing.cooling.coolant.glycol"],
    fallbacks=[GLYCOL_LEAST, GLYCOL_MOST],
    bad=[
        {"plumbing.cooling.coolant.glycol": "30 %", "engine.coolant.glycol_min": "25 %"},
        {"plumbing.cooling.coolant.glycol": "58 %", "engine.coolant.glycol_max": "55 %"},
        {"plumbing.cooling.coolant.chemistry": "inorganic"},
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
    Remedy: the share named in the sentence, measured with a refractometer, not mixed by eye.
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
        protects = given(picture) if share <= coolant.LARGEST_SHARE else None
        return within(share, low, high, says if protects is None else f"{says} {protects}")

    def picture() -> str:
        return f"It protects to {shown(q.freezing_point(build))}; the coldest air has {shown(coldest())}."

    def protection() -> Verdict:
        freezes, wanted = q.freezing_point(build), coldest() - FREEZE_MARGIN
        says = f"The coolant is {shown(share)} glycol. {picture()}"
        if freezes > wanted:
            try:
                needed = shown(coolant.share_for_freezing_onset(wanted), "share", "%", digits=3)
                says += f" {needed} would keep 5 K of distance."
            except OutsideRange:
                says += " No usual mixture of ethylene glycol and water protects so far."
        return at_most(freezes, wanted, says, level="error" if freezes > coldest() else "warning", scale=FREEZE_MARGIN)

    def kind() -> Verdict:
        allowed = [str(family) for family in asks.chemistries]
        says = f"The coolant is of the {mixture.chemistry} family; the engine allows {', '.join(allowed)}."
        return holds(mixture.chemistry in allowed, says, on="plumbing.cooling.coolant.chemistry")

    if share > coolant.LARGEST_SHARE:  # the table ends there, and no engine allows so much
        return all_of(in_range, kind, default="warning")
    return all_of(in_range, protection, kind, default="warning")
