"""The rule about reductant: tank, line, lift, heating and temperature."""

from __future__ import annotations

from collections.abc import Callable

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    does_not_apply,
    given,
    holds,
    is_fitted,
    practice,
    rule,
    sheet,
    shown,
    told,
)

from .. import sources
from . import quantities as q

REDUCTANT = "plumbing.reductant"

FREEZES = -11.0 + 273.15
STORED = 30.0 + 273.15
REDUCTANT_PRACTICE = practice("the reductant lasts at least as long as the fuel in the tank")


@rule(
    "exhaust.reductant",
    level="error",
    due="quote",
    sources=[
        sheet("engine.reductant.line_length_max"),
        sheet("engine.reductant.lift_max"),
        sheet("engine.reductant.heater_power_min"),
        sheet("engine.reductant.heating_below"),
        sources.REDUCTANT.giving(
            "limit",
            "freezing at -11 °C, kept at 30 °C or less",
            demands=["tank-heating", "line-heating", "tank-temperature"],
        ),
        REDUCTANT_PRACTICE.giving("limit", "reductant for one tank of fuel"),
    ],
    adjust=[f"{REDUCTANT}.tank_volume", f"{REDUCTANT}.line_length"],
    about=REDUCTANT,
    fallbacks=[q.REDUCTANT_SHARE],
    bad=[
        {f"{REDUCTANT}.line_length": "8 m"},
        {f"{REDUCTANT}.lift": "2.5 m"},
        {f"{REDUCTANT}.tank_volume": "3 L"},
        {f"{REDUCTANT}.heater_power": "0 W"},
        {f"{REDUCTANT}.tank_heated": False},
        {f"{REDUCTANT}.tank_temp_max": "45 degC"},
    ],
    good=[{f"{REDUCTANT}.tank_volume": "20 L"}],
)
def reductant(build: Build) -> Verdict:
    """Where the engine needs reductant: are tank, line, lift, heating and temperature within its limits?

    Computes: reductant for one tank of fuel, at the sheet's share, 6 % without one (common practice: 3 to 6 %).
    Limit: line length, lift, power of the line heaters, and below which cold tank and lines are heated: the engine's
    data sheet. Where that names no cold, it is -11 °C, where the solution freezes. Above 30 °C it does not keep: a
    warning. The tank lasts as long as the fuel.
    Consequence: The engine runs out of sound reductant or cannot dose it, and cuts its power as the law asks.
    Remedy: a tank, line, lift or heater within what the sentence asks for.
    Cannot tell: how good the solution is, and where its sensor sits.
    """
    wants, has = build.engine.reductant, build.plumbing.reductant
    if not is_fitted(wants):
        return does_not_apply("The engine uses no reductant.")
    demands: dict[str, Callable[[], Verdict]] = {
        "line-length": lambda: at_most(
            has.line_length,
            wants.line_length_max,
            f"The line is {shown(has.line_length)} long; {shown(wants.line_length_max)} is allowed."
            + ("" if has.line_length <= wants.line_length_max else " Put tank and doser nearer to each other."),
            on=f"{REDUCTANT}.line_length",
        ),
        "lift": lambda: at_most(
            has.lift,
            wants.lift_max,
            f"The doser is {shown(has.lift)} above the tank; {shown(wants.lift_max)} is allowed."
            + ("" if has.lift <= wants.lift_max else " Put the tank higher."),
            on=f"{REDUCTANT}.lift",
        ),
        "volume": lambda: _volume(build),
        "tank-temperature": lambda: at_most(
            has.tank_temp_max,
            STORED,
            f"The tank gets up to {shown(has.tank_temp_max)}; above {told('30 °C')} the solution does not keep."
            + (" Shield it, or put it in a cooler place." if has.tank_temp_max > STORED else ""),
            level="warning",
            on=f"{REDUCTANT}.tank_temp_max",
            scale=20.0,
        ),
    }
    if given(lambda: _freezes(build)) is not False:
        demands |= {"tank-heating": lambda: _thawed(build), "line-heating": lambda: _line_heat(build)}
    return all_of(demands)


def _volume(build: Build) -> Verdict:
    volume, needed, on = build.plumbing.reductant.tank_volume, q.reductant_needed(build), f"{REDUCTANT}.tank_volume"
    says = f"The tank holds {shown(volume)}; one tank of fuel uses {shown(needed)}."
    if volume < needed:
        says += " It runs dry before the fuel does, and the engine cuts its power: fit a larger tank."
    return at_least(volume, needed, says, on=on, advice=advice(on, needed))


def _heated_below(build: Build) -> float:
    """How cold it must get for tank and lines to be heated."""
    stated: float | None = given(lambda: build.engine.reductant.heating_below)
    return FREEZES if stated is None else stated


def _freezes(build: Build) -> bool:
    return build.build.design.ambient_min <= _heated_below(build)


def _thawed(build: Build) -> Verdict:
    if not _freezes(build):
        return does_not_apply("It does not get cold enough for the solution to freeze.")
    heated: bool = build.plumbing.reductant.tank_heated
    below = shown(_heated_below(build), "temperature", "degC")
    says = f"It gets as cold as {shown(build.build.design.ambient_min)}; from {below} down the tank is to be heated"
    says += ", and it is." if heated else ": fit coolant hoses or a heater to it."
    return holds(heated, says, on=f"{REDUCTANT}.tank_heated")


def _line_heat(build: Build) -> Verdict:
    if not _freezes(build):
        return does_not_apply("It does not get cold enough for the line to freeze.")
    found, least = build.plumbing.reductant.heater_power, build.engine.reductant.heater_power_min
    says = f"The heaters of the lines have {shown(found)}; the engine maker asks for {shown(least)}."
    if found < least:
        says += " The lines stay frozen: fit stronger heaters."
    return at_least(found, least, says, on=f"{REDUCTANT}.heater_power")
