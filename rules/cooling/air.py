"""Rules of the air: what the fan moves, and the charge air."""

from __future__ import annotations

import math
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
    name_of,
    practice,
    rule,
    sheet,
    shown,
    use_practice,
)
from swaplint.engineering import OutsideRange, cooling_system, fans
from swaplint.spec.systems.cooling import HeatPoint

from .. import sources
from . import air_quantities as q
from .points import air_at, fan_points, words

FAN_RATIO = "plumbing.cooling.fan.ratio"
COVERAGE = 0.85
"""Least share of the core under the shroud: common practice."""
COVERAGE_PRACTICE = practice("a shroud covers at least 85 % of the core").giving("limit", "85 % of the core")
COUNTED_ON = practice("a fan moves the air that the radiator is counted on").giving("limit", "air counted on")

CHARGE = practice("manifold air at most 30 K above the outside air, cooler and pipes together at most 12 kPa")
CHARGE_RISE = Practice("manifold air at most 30 K above the outside air", 30.0, CHARGE)
CHARGE_DROP = Practice("charge-air cooler and pipes together at most 12 kPa", 12e3, CHARGE)


@rule(
    "cooling.fan-flow",
    level="warning",
    due="build",
    sources=[
        sheet("plumbing.cooling.fan.speed_max"),
        sheet("engine.fan.electric_allowed"),
        COUNTED_ON,
        COVERAGE_PRACTICE,
        sheet("plumbing.cooling.fan.curve").giving("formula", "curve of the fan"),
        sources.FAN_LAWS.giving("formula", "flow and pressure at another speed"),
    ],
    cautions=[cautions.ROTATING],
    about="plumbing.cooling.fan",
    adjust=["plumbing.cooling.fan.ratio", "plumbing.cooling.fan.shroud_coverage"],
    bad=[
        {"plumbing.cooling.fan.ratio": 0.7},
        {"plumbing.cooling.fan.shroud_coverage": "60 %"},
        {"plumbing.cooling.air_path.core.drop": "1500 Pa"},
    ],
    good=[{"plumbing.cooling.fan.ratio": 1.35}],
)
def fan_flow(build: Build) -> Verdict:
    """Does the fan with its shroud really move the air that the radiator is counted on?

    Computes: where the fan has to do without the wind of driving, the meeting of its curve, carried to its speed there,
    with the resistance of core, grille and condenser, Δp = Σk·V̇²; times the density of the air on the hottest day.
    Limit: the air flow that the radiator rules count on at that operating point. A shroud over at least 85 % of the
    core (common practice), the fan maker's highest speed, and an electric fan only where the engine maker allows it.
    Consequence: Too little air passes and the engine overheats, or the fan turns too fast and bursts.
    Remedy: a faster or larger fan: flow goes with its speed, pressure with the square and power with the cube of it.
    Cannot tell: a blocked grille, blades too near to an edge, air that flows back round the core. The current of an
    electric fan is judged with its cable and fuse.
    """
    fan = build.plumbing.cooling.fan
    alone = fan_points(build)
    if not is_fitted(fan):
        return all_of(fitted=lambda: _fan_fitted(not alone))
    demands: dict[str, Callable[[], Verdict]] = {
        f"flow.{name_of(point).replace('_', '-')}": partial(_fan_flow, build, point) for point in alone
    }
    demands["fitted"] = lambda: _fan_fitted(True)
    demands["shroud"] = lambda: _shroud(build)
    if fan.drive == "electric":
        demands["electric"] = lambda: _electric(build)
    elif (fastest := given(lambda: fan.speed_max)) is not None:
        demands["speed"] = lambda: _fan_speed(build, fastest)
    return all_of(demands)


def _fan_fitted(enough: bool) -> Verdict:
    """Whether there is a fan where nothing else moves the air."""
    says = (
        "Where the wind of driving is too little, a fan moves the air."
        if enough
        else ("Without a fan only the wind of driving moves the air: nothing may rest on the fan alone.")
    )
    return holds(enough, says)


def _fan_flow(build: Build, point: HeatPoint) -> Verdict:
    moved, wanted, fan = q.fan_air(build, point), air_at(build, point).flow, build.plumbing.cooling.fan
    says = f"{words(point)} the fan moves {shown(moved)}; the radiator is counted on {shown(wanted)}."
    faster = None
    if 0.0 < moved < wanted:
        says += " It would have to turn faster, or be a larger one."
        if fan.drive != "electric":
            faster = advice(FAN_RATIO, fan.ratio * fans.speed_ratio_for_flow(moved, wanted))
    return at_least(moved, wanted, says, advice=faster)


def _shroud(build: Build) -> Verdict:
    coverage, field = build.plumbing.cooling.fan.shroud_coverage, "plumbing.cooling.fan.shroud_coverage"
    says = f"The shroud covers {shown(coverage)} of the core; {shown(COVERAGE, 'share', '%')} are wanted."
    return at_least(coverage, COVERAGE, says, on=field, advice=advice(field, COVERAGE))


def _electric(build: Build) -> Verdict:
    allowed = build.engine.fan.electric_allowed
    says = f"The fan is electric, which the engine maker {'allows' if allowed else 'does not allow'}."
    return holds(allowed, says, on="plumbing.cooling.fan.drive")


def _fan_speed(build: Build, fastest: float) -> Verdict:
    fan = build.plumbing.cooling.fan
    turns = fan.ratio * (1.0 - (fan.slip if fan.drive == "viscous" else 0.0))
    speed = build.engine.speed.governed_max * turns
    says = (
        f"At the engine's highest speed the fan turns {shown(speed, 'rotation', 'r/min')}; beyond its limit of "
        f"{shown(fastest)} a fan can burst."
    )
    slower = advice(FAN_RATIO, fan.ratio * fastest / speed) if speed > fastest else None
    return at_most(speed, fastest, says, level="error", on=FAN_RATIO, advice=slower)


@rule(
    "cooling.charge-air",
    level="error",
    due="quote",
    sources=[
        sheet("engine.charge_air.rise_max"),
        sheet("engine.charge_air.manifold_temp_max"),
        sheet("engine.charge_air.drop_max"),
        sources.COMPACT_HEAT_EXCHANGERS.giving("formula", "outlet temperature over effectiveness"),
        sources.ENGINES.giving("formula", "compressor outlet on a hotter day"),
    ],
    cautions=[cautions.HOT],
    about="plumbing.cooling.charge_cooler",
    adjust=["plumbing.cooling.charge_cooler.effectiveness"],
    fallbacks=[CHARGE_RISE, CHARGE_DROP],
    bad=[
        {"plumbing.cooling.charge_cooler.effectiveness": "70 %"},
        {"plumbing.cooling.charge_cooler.drop": "12 kPa"},
        {"plumbing.cooling.charge_cooler.pipes_drop": "9 kPa"},
    ],
    good=[{"plumbing.cooling.charge_cooler.effectiveness": "90 %"}],
)
def charge_air(build: Build) -> Verdict:
    """Does the charge-air cooler meet the engine's limits on manifold temperature and pressure drop?

    Computes: T_out = T_in − ε·(T_in − T_cold) at rated speed on the hottest day, T_cold the outside air, or the water
    that enters a cooler cooled by water; the compressor's outlet carried from the sheet's outside air to that day; its
    rise over the outside air; the pressure that cooler and pipes take. The formula holds while the charge air has the
    smaller capacity rate of the two.
    Limit: the engine's data sheet: greatest rise, hottest manifold air, greatest drop. Where it states neither rise nor
    temperature 30 K, where it states no drop 12 kPa (common practice): then a warning. A cooler cooled by water is held
    against the hottest manifold air and not against a rise over air that it never meets.
    Consequence: The engine loses power and runs too hot inside: pistons, valves and turbocharger die early.
    Remedy: a cooler of greater effectiveness, colder water, or wider pipes. Hot manifold air may also break the
    conditions of the engine's emission certificate.
    Cannot tell: leaks at joints, hot air at the face of the cooler, thin air that makes the compressor work harder.
    """
    limits, fitted = build.engine.charge_air, is_fitted(build.plumbing.cooling.charge_cooler)
    rise_max = given(lambda: limits.rise_max)
    hottest = given(lambda: limits.manifold_temp_max)
    if not fitted and rise_max is None and hottest is None:
        return does_not_apply("There is no charge-air cooler, and the engine asks for no limit on its manifold air.")
    demands: dict[str, Callable[[], Verdict]] = {}
    water = given(lambda: q.water_cooled(build)) is True
    if (not water and hottest is None) or (rise_max is not None and (hottest is None or not water)):
        demands["rise"] = lambda: _rise(build, rise_max)
    if water and hottest is None and rise_max is None:
        demands["temperature"] = lambda: _manifold(build, limits.manifold_temp_max)
    if hottest is not None:
        demands["temperature"] = lambda: _manifold(build, hottest)
    if fitted:
        demands["drop"] = lambda: _drop(build)
    return all_of(demands)


def _judged(
    build: Build, found: float, most: float, reached: str, *, scale: float | None = None, level: Any = None
) -> Verdict:
    """A verdict on the charge air, with the cooler that keeps it within its limit."""
    fitted, better = is_fitted(build.plumbing.cooling.charge_cooler), None
    if fitted:
        inlet = shown(q.charge_inlet(build))
        says = f"On the hottest day the charge reaches the cooler at {inlet} and the manifold {reached}."
        if q.water_cooled(build):
            says += f" Water of {shown(q.cold_side(build), 'temperature', 'degC')} cools it."
    else:
        says = f"There is no charge-air cooler; on the hottest day the charge reaches the manifold {reached}."
    on = "plumbing.cooling.charge_cooler.effectiveness" if fitted else "plumbing.cooling.charge_cooler"
    if found > most:
        try:
            needed = _effectiveness(build)
        except OutsideRange:
            says += " No cooler keeps the engine's limits with what cools it: it must be colder."
        else:
            if fitted:
                better = advice(on, needed)
            else:
                says += f" A cooler with an effectiveness of {math.ceil(100.0 * needed)} % would do."
    return at_most(found, most, says, on=on, scale=scale, level=level, advice=better)


def _effectiveness(build: Build) -> float:
    """The effectiveness of a cooler that keeps the manifold air within the limits on its temperature and its rise."""
    limits, ambient = build.engine.charge_air, build.build.design.ambient_max
    rise, hottest = given(lambda: limits.rise_max), given(lambda: limits.manifold_temp_max)
    if rise is None and hottest is None:
        rise = CHARGE_RISE.value
    if hottest is not None and q.water_cooled(build):
        rise = None
    most = min(limit for limit in (hottest, None if rise is None else ambient + rise) if limit is not None)
    return cooling_system.charge_air_effectiveness(q.charge_inlet(build), q.cold_side(build), most)


def _rise(build: Build, stated: float | None) -> Verdict:
    most = use_practice(build, CHARGE_RISE) if stated is None else stated
    rise = q.charge_rise(build)
    reached = f"at {shown(q.charge_outlet(build))}, {shown(rise)} above the outside air"
    return _judged(build, rise, most, reached, level="warning" if stated is None else None)


def _manifold(build: Build, hottest: float) -> Verdict:
    outlet = q.charge_outlet(build)
    scale = max(1.0, hottest - q.cold_side(build))
    return _judged(build, outlet, hottest, f"at {shown(outlet)}", scale=scale)


def _drop(build: Build) -> Verdict:
    found, most = q.charge_drop(build), given(lambda: build.engine.charge_air.drop_max)
    says, on = f"Cooler and pipes take {shown(found)} at rated air flow.", "plumbing.cooling.charge_cooler.drop"
    if most is None:
        return at_most(found, use_practice(build, CHARGE_DROP), says, on=on, level="warning")
    return at_most(found, most, says, on=on)
