"""Where the axles stand, whatever they are called: in front or behind, alone or in a group, and what each carries.

The masses, ratings and springs of a vehicle are stated for its front and its rear end. An end may have a group of
axles: a tandem behind, two steered axles in front. Each axle of a group carries its share of what the end carries.
"""

from __future__ import annotations

import re
from functools import partial
from typing import Any, Literal

from swaplint.api import Build, ImpossibleInput, OutsideRange, given, name_of, once, shown

from .chain import left_out

End = Literal["front", "rear"]

BY_NAME = "An axle's name, or the place of the other of two, says where it stands: where neither does, x is asked."
"""Why a rule may do without the place of an axle."""

SAME_PLACE = 0.02
"""How far the place of the only rear axle may be from the wheelbase: two readings of one tape."""

_NAMED = re.compile(r"(front|rear)(?![a-z])")


@once
def fitted_axles(build: Build) -> tuple[Any, ...]:
    """The axles that the spec lists and does not leave out."""
    return tuple(axle for axle in build.driveline.axles.values() if not left_out(axle))


def end_of(build: Build, axle: Any) -> End:
    """Where an axle stands. Its x says so; else the other of two axles does, or a name that begins with front or rear.

    Raises `Unknown`, naming its x, where nothing tells.
    """
    known = _known_end(build, axle)
    if known is None:
        others = [other for other in fitted_axles(build) if name_of(other) != name_of(axle)]
        opposite = _known_end(build, others[0]) if len(others) == 1 else None
        if opposite is not None:
            return "rear" if opposite == "front" else "front"
        return _end_at(build, axle.x)  # not stated: this is what must be found out
    return known


def _end_at(build: Build, x: float) -> End:
    return "front" if x == 0.0 or x < 0.5 * build.vehicle.wheelbase else "rear"


def _known_end(build: Build, axle: Any) -> End | None:
    x = given(lambda: axle.x)
    if x is not None:
        return _end_at(build, x)
    named = _NAMED.match(name_of(axle))
    if named is None:
        return None
    return "front" if named[1] == "front" else "rear"


@once
def axles_at(build: Build, end: End) -> tuple[Any, ...]:
    """The axles of an end, foremost first.

    Empty where the spec lists two axles at most and states nothing of each: what the vehicle states of its front and
    its rear is then true of the one axle there.
    """
    fitted = fitted_axles(build)
    if len(fitted) <= 2 and not any(_states_its_own(axle) for axle in fitted):
        return ()
    there = [axle for axle in fitted if end_of(build, axle) == end]
    return tuple(sorted(there, key=lambda axle: float(axle.x)) if len(there) > 1 else there)


def _states_its_own(axle: Any) -> bool:
    return given(lambda: axle.rating) is not None or given(lambda: axle.tyre_count) is not None


def count_at(build: Build, end: End) -> int:
    """Number of axles at an end."""
    return max(1, len(axles_at(build, end)))


@once
def share_of(build: Build, end: End, axle: Any) -> float:
    """Share of its end's load that an axle carries: all of it where it stands alone."""
    group = axles_at(build, end)
    if len(group) < 2:
        return 1.0
    total = sum(float(one.group_share) for one in group)
    if abs(total - 1.0) > 0.01:
        raise OutsideRange(f"the shares of the {end} axles in their load make {100 * total:.0f} % instead of 100 %")
    share: float = axle.group_share
    return share


@once
def middle_of(build: Build, end: End) -> float:
    """Where an end's load stands, behind the foremost axle: of a group, at the middle of what its axles carry, m."""
    group = axles_at(build, end)
    if len(group) < 2:
        return 0.0 if end == "front" else _wheelbase(build)
    return sum(share_of(build, end, axle) * float(axle.x) for axle in group)


def _wheelbase(build: Build) -> float:
    """The wheelbase, m; where the only rear axle states its place, both must say the same."""
    base: float = build.vehicle.wheelbase
    stated = [given(partial(getattr, axle, "x")) for axle in fitted_axles(build)]
    behind = [float(x) for x in stated if x is not None and _end_at(build, x) == "rear"]
    if len(behind) == 1 and abs(behind[0] / base - 1.0) > SAME_PLACE:
        where, apart = shown(behind[0], "length", "mm"), shown(base, "length", "mm")
        raise ImpossibleInput(f"the rear axle stands {where} behind the front one, and the wheelbase is {apart}")
    return base


def load_base(build: Build) -> float:
    """Distance between the places where front and rear carry: the wheelbase, or from middle to middle of groups, m."""
    base = middle_of(build, "rear") - middle_of(build, "front")
    if base <= 0.0:
        raise OutsideRange("the rear axles do not stand behind the front axles")
    return base


def end_rating(build: Build, end: End) -> float:
    """Mass that an end may carry: as stated for the end, but no more than its axles may, each rated by itself."""
    mass = build.vehicle.mass
    own = [given(partial(getattr, axle, "rating")) for axle in axles_at(build, end)]
    together = sum(float(rating) for rating in own if rating is not None) if own and None not in own else None
    stated = given(lambda: mass.gawr_front if end == "front" else mass.gawr_rear)
    if together is None:
        return mass.gawr_front if end == "front" else mass.gawr_rear
    return together if stated is None else min(stated, together)


def axle_rating(build: Build, axle: Any) -> float:
    """Mass that one axle may carry: what its end may, or in a group as stated for it."""
    end = end_of(build, axle)
    if count_at(build, end) == 1:
        return end_rating(build, end)
    rating: float = axle.rating
    return rating
