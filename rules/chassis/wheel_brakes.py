"""What the stated wheel brakes leave in doubt: an end, a side, a size that no wheel holds."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import partial
from typing import Any

from swaplint.api import Build, ImpossibleInput, Verdict, given, is_fitted, name_of, needs_review, path_of, shown
from swaplint.engineering import tyres

from ..gearing.fitted_tyres import tyres_at

WHEELS = "vehicle.brakes.wheels"


def doubts(build: Build) -> dict[str, Callable[[], Verdict]]:
    """The demands that a person has to look at; none where the wheel brakes make sense together."""
    found: dict[str, Callable[[], Verdict]] = {}
    if given(lambda: len(_braked(build)) < 2):
        found["both-ends"] = lambda: _one_end(build)
    for wheel in given(lambda: list(build.vehicle.brakes.wheels.values())) or []:
        if not is_fitted(wheel):
            continue
        if given(partial(_alone, wheel)):
            found[f"both-sides.{name_of(wheel)}"] = partial(_one_side, wheel)
        if given(partial(_too_large, build, wheel)):
            found[f"inside-the-rim.{name_of(wheel)}"] = partial(_beyond_the_rim, build, wheel)
    return found


def _alone(wheel: Any) -> bool:
    return bool(wheel.count_per_axle == 1.0)


def _too_large(build: Build, wheel: Any) -> bool:
    return bool(wheel.effective_radius >= _largest_rim(build))


def _braked(build: Build) -> list[str]:
    """The names of the wheel brakes that are fitted; those of a group of axles may be stated together."""
    return [name_of(wheel) for wheel in build.vehicle.brakes.wheels.values() if is_fitted(wheel)]


def _one_end(build: Build) -> Verdict:
    """One end may be strong enough by itself, and still lock first."""
    named = " and ".join(_braked(build)) or "none"
    says = f"Brakes are stated for {named} alone: state those of the other end, too. Without them the braked wheels "
    return needs_review(f"{says}lock and slide.", on=WHEELS)


def _one_side(wheel: Any) -> Verdict:
    says = f"One brake is stated for the axle {name_of(wheel)}: a brake on one side pulls the vehicle across the road. "
    return needs_review(f"{says}State how many the axle has.", on=f"{path_of(wheel)}.count_per_axle")


def _largest_rim(build: Build) -> float:
    """Half the diameter of the largest rim that the tyres' designations name, m."""
    rims = [_rim(tyres_at(build, end)) for end in ("front", "rear")]
    return max(rims) / 2.0


def _rim(fitted: Any) -> float:
    """Diameter of the rim that a tyre's designation names, m; endless where it names none that can be read."""
    named = given(lambda: fitted.designation)
    try:
        return math.inf if named is None else tyres.read_designation(named).rim_diameter
    except ImpossibleInput:
        return math.inf


def _beyond_the_rim(build: Build, wheel: Any) -> Verdict:
    says = f"The brakes of {name_of(wheel)} are said to act at {shown(wheel.effective_radius)} from the middle of the "
    says += f"wheel, and its rim has {shown(_largest_rim(build), 'length', 'mm', digits=3)}: a radius, or the diameter?"
    return needs_review(says, on=f"{path_of(wheel)}.effective_radius", found=wheel.effective_radius)
