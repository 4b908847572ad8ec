"""The rule about the charge air."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    advice,
    all_of,
    at_most,
    cautions,
    does_not_apply,
    given,
    is_fitted,
    limit_or_none,
    needs_review,
    practice,
    rule,
    sheet,
    shown,
    use_practice,
)
from swaplint.engineering import OutsideRange, cooling_system

from .. import sources
from ..places import hottest_air
from . import charge_quantities as q

CHARGE = practice("manifold air at most 30 K above the outside air, cooler and pipes together at most 12 kPa")
CHARGE_RISE = Practice("manifold air at most 30 K above the outside air", 30.0, CHARGE)
CHARGE_DROP = Practice("charge-air cooler and pipes together at most 12 kPa", 12e3, CHARGE)


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
    instead={
        "engine.charge_air.rise_max": "engine.charge_air.manifold_temp_max",
        "engine.charge_air.manifold_temp_max": "engine.charge_air.rise_max",
    },
)
def charge_air(build: Build) -> Verdict:
    """Does the charge-air cooler meet the engine's limits on manifold temperature and pressure drop?

    Computes: T_out = T_in − ε·(T_in − T_cold) at rated speed on the hottest day, ε the cooler's effectiveness and
    T_cold the outside air, or the water that enters a cooler cooled by water; the compressor's outlet carried from the
    sheet's outside air to that day; its rise over the outside air; the pressure that cooler and pipes take. The
    formula holds while the charge air has the smaller capacity rate of the two.
    Limit: the engine's data sheet: greatest rise, hottest manifold air, greatest drop. Where it states neither rise nor
    temperature 30 K, where it states no drop 12 kPa (common practice): then a warning. A cooler cooled by water is held
    against the hottest manifold air and not against a rise over air that it never meets. A cooler behind an engine that
    is said not to be charged goes before a person.
    Consequence: The engine loses power and runs too hot inside: pistons, valves and turbocharger die early.
    Remedy: a cooler of greater effectiveness, colder water, or wider pipes. Hot manifold air may also break the
    conditions of the engine's emission certificate.
    Cannot tell: leaks at joints, hot air at the face of the cooler, thin air that makes the compressor work harder.
    """
    limits, fitted = build.engine.charge_air, is_fitted(build.plumbing.cooling.charge_cooler)
    rise_max = given(lambda: limits.rise_max)
    hottest = given(lambda: limits.manifold_temp_max)
    if not fitted and rise_max is None and hottest is None and not _asks_for_limit(build):
        return does_not_apply("There is no charge-air cooler, and the engine asks for no limit on its manifold air.")
    if fitted and given(lambda: build.engine.charged) is False:
        says = "The engine is said not to be charged, and the build has a charge-air cooler: "
        return needs_review(f"{says}put right which of the two is wrong.", on="engine.charged")
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


def _asks_for_limit(build: Build) -> bool:
    """Whether the maker of a charged engine limits its manifold air. Raises `Unknown` where nobody has looked."""
    limits = build.engine.charge_air
    if given(lambda: build.engine.charged) is False:
        return False
    return [limit_or_none(lambda: limits.rise_max), limit_or_none(lambda: limits.manifold_temp_max)] != [None, None]


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
    limits, ambient = build.engine.charge_air, hottest_air(build)
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
    if found > (CHARGE_DROP.value if most is None else most):
        says += " It takes wider pipes with fewer bends, or a cooler of lower loss."
    if most is None:
        return at_most(found, use_practice(build, CHARGE_DROP), says, on=on, level="warning")
    return at_most(found, most, says, on=on)
