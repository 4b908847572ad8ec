"""What is driven at a ratio of its own while no belt pulley is stated for it: a gear drive, or a belt left out."""

from __future__ import annotations

from typing import Any

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    given,
    holds,
    is_fitted,
    name_of,
    needs_review,
    or_practice,
    path_of,
    shown,
)

from . import belts_quantities as q


def without_pulley(build: Build) -> list[Any]:
    """Alternators, and steering pump and compressor of a stated ratio, that no pulley of the stated belts drives."""
    driven = {path_of(q.accessory(build, pulley)) for pulley in q.accessories(build) if _names_one(build, pulley)}
    by_ratio = [build.vehicle.steering.pump, build.plumbing.air_conditioning.compressor]
    parts = [
        build.engine.alternator,
        *(given(lambda: list(build.electrics.alternators.values())) or []),
        *(part for part in by_ratio if given(lambda part=part: part.ratio) is not None),  # type: ignore[misc]
    ]
    there = [part for part in parts if given(lambda part=part: is_fitted(part))]  # type: ignore[misc]
    return [part for part in there if path_of(part) not in driven]


def _names_one(build: Build, pulley: Any) -> bool:
    """Whether it is known what a pulley drives; where it is not, the pulley itself asks."""
    try:
        return given(lambda: q.accessory(build, pulley)) is not None
    except ValueError:
        return False


def _driven(part: Any) -> Verdict:
    """What turns a part that no stated belt has a pulley for."""
    name, on = name_of(part), f"{path_of(part)}.driven_by"
    if part.driven_by == "gears":
        return holds(True, f"Gears in the engine turn the {name}.", on=on)
    says = f"A belt is said to drive the {name}, and no stated belt has a pulley for it: state the pulley, or the belt "
    return needs_review(f"{says}that was left out.", on=on)


def speed_of(build: Build, part: Any, most: Practice | None, least: Practice | None) -> Verdict:
    """The verdict on the highest and lowest speed of such a part; the practices stand in where its sheet is silent."""
    alternator = least is not None
    ratio = float(part.pulley_ratio if alternator else part.ratio)
    on = f"{path_of(part)}.{'pulley_ratio' if alternator else 'ratio'}"

    def highest() -> Verdict:
        engine = build.engine.speed.governed_max
        limit = float(part.speed_max) if most is None else or_practice(lambda: part.speed_max, most)
        says = f"At governed speed the {name_of(part)} turns at {shown(engine * ratio, 'rotation', 'r/min')} by its "
        says += f"ratio; {shown(limit, 'rotation', 'r/min')} are allowed. No pulley is stated for it."
        help = advice(on, limit / engine)
        return at_most(engine * ratio, limit, says, unit=("rotation", "r/min"), on=on, advice=help)

    def lowest() -> Verdict:
        engine = build.engine.speed.idle
        limit = float(part.speed_min) if least is None else or_practice(lambda: part.speed_min, least)
        found = engine * ratio
        says = f"At idle the {name_of(part)} turns at {shown(found, 'rotation', 'r/min')} by its ratio; it needs "
        says += f"{shown(limit, 'rotation', 'r/min')}. No pulley is stated for it."
        level: Any = "warning" if found < limit else None
        help = advice(on, limit / engine)
        return at_least(found, limit, says, unit=("rotation", "r/min"), level=level, on=on, advice=help)

    demands = {"highest-speed": highest}
    if given(lambda: q.fitted_belts(build)):
        demands["driven"] = lambda: _driven(part)
    if alternator or given(lambda: part.speed_min) is not None:
        demands["idle-speed"] = lowest
    return all_of(demands)
