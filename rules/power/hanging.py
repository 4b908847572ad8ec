"""Which consumers hang on which cables: the links between the list of consumers and the drawing."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from swaplint.api import Build, given, is_fitted, name_of, once

from . import charging_quantities as charge
from . import network
from .quantities import current_in


def feeding(build: Build, load: Any) -> list[str] | None:
    """The names of the cables that bring a consumer its current; None where nobody says.

    Where it names none, those that end at a node of its own name do: a dash in the one is an underline in the other.
    """
    named = given(lambda: list(dict.fromkeys(str(name) for name in load.fed_by)))
    if named is not None:
        return named
    return [name_of(cable) for cable in network.cables(build) if _alike(cable.end) == _alike(name_of(load))] or None


def _alike(name: str) -> str:
    return name.replace("_", "-").lower()


@once
def _hanging(build: Build) -> Mapping[str, tuple[Any, ...]]:
    """The consumers on each cable, by the name of the cable."""
    found: dict[str, list[Any]] = {}
    for load in given(lambda: charge.loads(build)) or []:
        for name in feeding(build, load) or []:
            found.setdefault(name, []).append(load)
    return {name: tuple(some) for name, some in found.items()}


def on_cable(build: Build, cable: Any) -> tuple[Any, ...]:
    """The consumers that hang on a cable itself, not on a branch behind it."""
    return _hanging(build).get(name_of(cable), ())


def hung(build: Build, cable: Any) -> float:
    """Current of the consumers that hang on a cable itself.

    Of several cables that a consumer names each takes what it is said to carry, and the last one all the rest.
    """
    return sum(_share(build, load, cable) for load in on_cable(build, cable))


def current_of(build: Build, load: Any) -> float:
    """Current of a consumer in its cable; where a converter feeds it, on the side of the smaller current."""
    through = given(lambda: charge.vehicle_current(build, load))
    return float(load.current if through is None else min(load.current, through))


def _share(build: Build, load: Any, cable: Any) -> float:
    names = [name for name in feeding(build, load) or [] if _is_there(build, name)]
    place = names.index(name_of(cable))
    left = current_of(build, load) - sum(current_in(build, build.electrics.cables[name]) for name in names[:place])
    return max(0.0, left if place == len(names) - 1 else min(left, current_in(build, cable)))


def _is_there(build: Build, name: str) -> bool:
    cable = build.electrics.cables.get(name)
    return cable is not None and is_fitted(cable)


def missing(build: Build, load: Any) -> list[str]:
    """The cables that a consumer names and that are not listed."""
    return [name for name in feeding(build, load) or [] if not _is_there(build, name)]
