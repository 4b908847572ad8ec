"""The places that the cooling is judged at: height and hottest air that belong together."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from swaplint.api import Build, each_of, given, name_of, shown
from swaplint.engineering.atmosphere import LAPSE_RATE
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
    return ambient - LAPSE_RATE * altitude


def hottest_at_height(build: Build) -> float:
    """Hottest air at the highest place, K, where only the hottest air of all and the height are known."""
    return cooler_by_height(build.build.design.ambient_max, build.build.design.altitude_max)


def places(build: Build, hottest: Callable[[], float]) -> list[Place]:
    """The stated places; without them sea level and the highest place, `hottest` being the hottest air at sea level."""
    stated = design_places(build)
    if stated:
        return [_stated(place) for place in stated]
    return [
        Place("sea-level", lambda: SEA_LEVEL, hottest, lambda: "at sea level"),
        Place(
            "highest-place",
            lambda: build.build.design.altitude_max,
            lambda: cooler_by_height(hottest(), build.build.design.altitude_max),
            lambda: f"in the thin air at {shown(build.build.design.altitude_max)}",
        ),
    ]


def hottest_place(build: Build) -> Place:
    """The stated place with the hottest air; without stated places sea level on the hottest day."""
    stated = design_places(build)
    if stated:
        return _stated(max(stated, key=lambda place: float(place.ambient)))
    return places(build, lambda: build.build.design.ambient_max)[0]


def _stated(place: DesignPlace) -> Place:
    name = name_of(place)
    return Place(
        f"at.{name}", lambda: place.altitude, lambda: place.ambient, lambda: f"at {name}, {shown(place.altitude)} up"
    )
