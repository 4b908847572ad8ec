"""What assistance of brakes and steering asks of its electric supply and its warning."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Verdict, each_of, holds, is_fitted, path_of


def warned(build: Build) -> Verdict:
    """The driver is warned before the assistance is gone."""
    wanted = "vacuum" if build.vehicle.brakes.assist == "vacuum" else "brake-assist"
    there = any(lamp.function == wanted for lamp in each_of(build.electrics.lamps) if is_fitted(lamp))
    says = (
        "A lamp warns of failing assistance."
        if there
        else "Nothing warns the driver that the assistance is failing: fit a lamp with a switch of its own (function "
        f"{wanted})."
    )
    return holds(there, says, on="electrics.lamps")


def fed(build: Build, part: Any, what: str = "the brakes") -> Verdict:
    """An electric part of brakes or steering is among the consumers, and counts as essential."""
    name, on = str(part.load), f"{path_of(part)}.load"
    load = build.electrics.loads.get(name)
    if load is None or not is_fitted(load):
        says = f"The electrics list no consumer {name}: state its current there, so that cable and charging count it."
        return holds(False, says, on=on)
    at = f"{path_of(load)}.essential"
    if not load.essential:
        return holds(
            False,
            f"The consumer {name} feeds {what} and is not stated as essential: state it, so that it keeps its "
            "current in an emergency.",
            on=at,
        )
    return holds(True, f"The consumer {name} feeds it, and counts as essential.", on=on)
