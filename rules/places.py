"""The places that a build is judged at: height and hottest air that belong together, and the power left there."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import NamedTuple

from swaplint.api import Build, each_of, given, name_of, shown
from swaplint.engineering import atmosphere
from swaplint.spec.job import DesignPlace

SEA_LEVEL = 0.0


class Place(NamedTuple):
    """A place: its name among the demands, its height in m, its hottest air in K, and how it is called.

    What is not stated is asked for only where it is needed, so that it leaves only that demand open.
    """

    demand: str
    altitude: Callable[[], float]
    ambient: Callable[[], float]
    words: Callable[[], str]


def design_places(build: Build) -> list[DesignPlace]:
    """The places that the owner states; none where the spec states only extremes."""
    stated = given(lambda: build.build.design.points)
    return [] if stated is None else each_of(stated)


def cooler_by_height(ambient: float, altitude: float) -> float:
    """Air, K, at a height [m] on a day with air of a temperature [K] at sea level: 6.5 K less for each km (ISO 2533).

    >>> round(cooler_by_height(313.15, 2000.0), 2)
    300.15
    """
    return ambient - atmosphere.LAPSE_RATE * altitude


def hottest_at_height(build: Build) -> float:
    """Hottest air at the highest place, K, where only the hottest air of all and the height are known."""
    return cooler_by_height(build.build.design.ambient_max, build.build.design.altitude_max)


def places(build: Build, hottest: Callable[[], float] | None = None) -> list[Place]:
    """The stated places; without them sea level and the highest place.

    `hottest` is the hottest air at sea level, where it is not simply what the owner states.
    """
    stated = design_places(build)
    if stated:
        return [_stated(place) for place in stated]
    below = hottest or (lambda: build.build.design.ambient_max)
    return [
        Place("sea-level", lambda: SEA_LEVEL, below, lambda: "at sea level"),
        Place(
            "highest-place",
            lambda: build.build.design.altitude_max,
            lambda: cooler_by_height(below(), build.build.design.altitude_max),
            lambda: f"in the thin air at {shown(build.build.design.altitude_max)}",
        ),
    ]


def _stated(place: DesignPlace) -> Place:
    name = name_of(place)
    return Place(
        f"at.{name}", lambda: place.altitude, lambda: place.ambient, lambda: f"at {name}, {shown(place.altitude)} up"
    )


def hottest_air(build: Build) -> float:
    """Hottest air of all that the vehicle works in, K: of the stated places, else as the owner states it."""
    stated = design_places(build)
    return max(place.ambient for place in stated) if stated else build.build.design.ambient_max


def highest_place(build: Build) -> float:
    """Height, m, of the highest place that the vehicle works at: of the stated places, else as the owner states it."""
    stated = design_places(build)
    return max(place.altitude for place in stated) if stated else build.build.design.altitude_max


def hottest_of_all(build: Build) -> float:
    """Hottest air, K, that the owner asks for or that a stated place has, whichever is hotter."""
    stated = [given(partial(getattr, place, "ambient")) for place in design_places(build)]
    return max(float(ambient) for ambient in (build.build.design.ambient_max, *stated) if ambient is not None)


def highest_of_all(build: Build) -> float:
    """Height, m, of the highest place that the owner asks for or states, whichever is higher."""
    stated = [given(partial(getattr, place, "altitude")) for place in design_places(build)]
    return max(float(height) for height in (build.build.design.altitude_max, *stated) if height is not None)


def torque_left(build: Build, altitude: float) -> float:
    """Share of its torque that the engine has at a height [m], by the loss that its sheet states."""
    derate = build.engine.derate
    return atmosphere.altitude_derate(altitude, derate.altitude_loss / derate.altitude_step, derate.altitude_free)


def power_left(build: Build, altitude: float) -> float:
    """The same, and with it of its air, gas and heat; 1 where no loss is stated, which asks for the most of them."""
    if altitude <= SEA_LEVEL:
        return 1.0
    left = given(lambda: torque_left(build, altitude))
    return 1.0 if left is None else left
