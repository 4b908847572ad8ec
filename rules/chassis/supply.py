"""What brake assistance asks of its electric supply and its warning."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Verdict, holds, is_fitted, path_of


def warned(build: Build) -> Verdict:
    """The driver is warned before the assistance is gone."""
    lamp = build.vehicle.brakes.warning_lamp
    says = (
        "A lamp or buzzer warns of failing assistance."
        if lamp
        else "Nothing warns the driver that the assistance is failing: fit a lamp or buzzer with a switch of its own."
    )
    return holds(lamp, says, on="vehicle.brakes.warning_lamp")


def fed(build: Build, part: Any) -> Verdict:
    """An electric part of the brakes is among the consumers, and counts as essential."""
    name, on = str(part.load), f"{path_of(part)}.load"
    load = build.electrics.loads.get(name)
    if load is None or not is_fitted(load):
        says = f"The electrics list no consumer {name}: state its current there, so that cable and charging count it."
        return holds(False, says, on=on)
    at = f"{path_of(load)}.essential"
    if not load.essential:
        return holds(False, f"The consumer {name} feeds the brakes and is not stated as essential.", on=at)
    return holds(True, f"The consumer {name} feeds it, and counts as essential.", on=on)
