"""The rule of the cooling run: the only proof of the cooling."""

from __future__ import annotations

from collections.abc import Callable

from swaplint.api import (
    Build,
    ImpossibleInput,
    Verdict,
    all_of,
    at_least,
    at_most,
    cautions,
    given,
    holds,
    needs_review,
    quantity,
    rule,
    sheet,
    shown,
)

from .. import sources
from ..cooling import heat_quantities as heat
from ..places import hottest_air
from . import air_and_heat as reckoned
from . import compared, documents
from .trials import RUN

KELVIN = reckoned.KELVIN
STEADY = 1.0
"""How far the coolant may move in the last three minutes of a run, K: from memory."""
LOADED_ENOUGH = 0.9
"""Share of the power from which a run is taken up to the whole: below it other things matter more."""
RECIRCULATES = 5.0
"""How much warmer than outside the air ahead of the core may be, K, before it is worth sealing: common practice."""


@quantity(
    "commissioning.limiting-ambient",
    "temperature",
    "degC",
    formula="T = T_top,max − (T_top − T_air)/power share · rise at sea level/rise at the height of the run",
    symbols={
        "T_top,max": "engine.coolant.top_tank_max",
        "T_top": f"{RUN}.top_tank",
        "T_air": f"{RUN}.air",
        "power share": f"{RUN}.power_share",
    },
    sources=[
        sources.COOLING_TRIALS.giving("formula", "limiting ambient temperature from a trial"),
        sources.COMPACT_HEAT_EXCHANGERS.giving("formula", "rise at sea level over that at the height of the run"),
    ],
)
def measured_limiting_ambient(build: Build) -> float:
    """Hottest outside air, at sea level, in which the coolant stays within its limit, by the run that was measured."""
    trial, point = build.measured.cooling, reckoned.point_of(build)
    if trial.power_share <= 0.0:
        raise ImpossibleInput("a run without load proves nothing")
    if trial.top_tank <= trial.air:
        raise ImpossibleInput("the coolant of a loaded engine is stated as no warmer than the air around it")
    rise = (trial.top_tank - trial.air) / trial.power_share
    to_sea_level = heat.rise_at(build, point, 0.0) / heat.rise_at(build, point, trial.altitude)
    return build.engine.coolant.top_tank_max - rise * to_sea_level


@rule(
    "commissioning.cooling-trial",
    level="error",
    due="commission",
    sources=[
        sheet("engine.coolant.top_tank_max").giving("limit", demands=["hot-day"]),
        sources.COOLING_TRIALS.giving("formula", "limiting ambient temperature", known="second-hand"),
        documents.STEADY_PRACTICE.giving("limit", "less than 1 K in three minutes", demands=["steady"]),
        documents.RECIRCULATION_PRACTICE.giving("limit", "5 K", demands=["recirculation"]),
        *compared.sources_of("top-tank-as-reckoned"),
    ],
    cautions=[cautions.HOT, cautions.ROTATING],
    about=RUN,
    fallbacks=[*heat.HEAT_FALLBACKS, compared.READING, compared.THERMOMETER],
    without={
        f"{RUN}.core_air": "The coolant itself is judged, whatever warms the air ahead of the core; where it is hotter "
        "than reckoned the sentence asks for that air.",
    },
    bad=[
        {f"{RUN}.top_tank": "104 degC"},
        {f"{RUN}.core_air": "36 degC"},
    ],
    good=[{f"{RUN}.top_tank": {"value": "75 degC", "tol": "2 K"}}],
)
def cooling_trial(build: Build) -> Verdict:
    """Does a hot run under load prove that the vehicle stays cool on its hottest day?

    Computes: limiting ambient temperature = T_top,max − T_top + T_air, the rise taken up in proportion to the power and
    to the height of the run as it is reckoned. The hottest coolant against what was reckoned for load, air and height.
    Limit: the hottest air that the owner asks for, with the hottest coolant of the engine's data sheet. A run counts if
    the coolant moved by less than 1 K in the last three minutes, the thermostat was open and the fan at full speed,
    and 90 % of the power was held: else a person decides. Air ahead of the core more than 5 K warmer than outside
    (common practice): a warning.
    Consequence: The engine overheats on the first hot day with a load, far from the workshop.
    Remedy: seal the gaps round the core first, then the shroud, then fan speed, then a larger core.
    Cannot tell: a core that fouls in service, a thermostat that sticks later.
    """
    trial = build.measured.cooling
    top = trial.top_tank

    def hot_day() -> Verdict:
        found, wanted = measured_limiting_ambient(build), hottest_air(build)
        says = (
            f"{shown(top)} with {shown(trial.power_share)} of the load in air of {shown(trial.air)}: good up to "
            f"{shown(found)} of outside air."
        )
        return at_least(found, wanted, says, on=f"{RUN}.top_tank", unit=("temperature", "degC"), scale=10.0)

    demands: dict[str, Callable[[], Verdict]] = {
        "hot-day": hot_day,
        "steady": lambda: _steady(build),
        "top-tank-as-reckoned": lambda: reckoned.top_tank(build),
    }
    if given(lambda: trial.core_air) is not None:
        demands["recirculation"] = lambda: _recirculation(build)
    return all_of(demands)


def _steady(build: Build) -> Verdict:
    trial = build.measured.cooling
    wrong = [
        words
        for words, good in (
            (f"the coolant still moved by {shown(trial.drift)} in three minutes", trial.drift <= STEADY),
            ("the thermostat was not fully open", trial.thermostat_open),
            ("the fan was not at its full speed", trial.fan_locked),
            ("the coolant left the radiator hotter than the engine", not _warmed(build)),
            (f"only {shown(trial.power_share)} of the load was held", trial.power_share >= LOADED_ENOUGH),
        )
        if not good
    ]
    if wrong:
        return needs_review(f"The run proves little: {' and '.join(wrong)}.", on=f"{RUN}.drift", found=trial.drift)
    return holds(True, "The run was steady, loaded, its thermostat open and its fan at full speed.", on=f"{RUN}.drift")


def _warmed(build: Build) -> bool:
    """Whether the coolant is said to leave the radiator hotter than it comes in, which no radiator does."""
    trial = build.measured.cooling
    outlet = given(lambda: trial.radiator_outlet)
    return outlet is not None and outlet > trial.top_tank


def _recirculation(build: Build) -> Verdict:
    trial = build.measured.cooling
    found = trial.core_air - trial.air
    says = f"The air ahead of the core has {shown(trial.core_air)}, outside {shown(trial.air)}."
    if found > RECIRCULATES:
        says += " It comes back round the core from behind it, or from the exhaust: close the gaps round the core."
    return at_most(found, RECIRCULATES, says, level="warning", on=f"{RUN}.core_air", unit=KELVIN)
