"""The cables, fuses and relays of the take-off."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Cells, given, is_fitted, listing, name_of, practice, quantity

from .. import allowances
from . import network

CRIMPS = practice("a cable is crimped and bolted at its two ends")


def _fitted(parts: Any) -> list[Any]:
    return [part for part in parts.values() if is_fitted(part)]


def _returning(build: Build) -> list[Any]:
    """The cables that have a return conductor of their own."""
    return [cable for cable in network.consumer_cables(build) if _has_own_return(cable)]


def _has_own_return(cable: Any) -> bool:
    return bool(given(lambda: cable.returns_by) == "own-conductor")


def _conductors(build: Build) -> list[Any]:
    return [*_fitted(build.electrics.cables), *_fitted(build.electrics.grounds)]


@quantity(
    "power.cable-to-cut",
    "length",
    "m",
    formula="L · 1.15",
    sources=[allowances.CUT],
    each=_conductors,
)
def cable_to_cut(build: Build, cable: Any) -> float:
    """Length of cable to cut for a conductor."""
    return allowances.cut(cable.length)


@quantity(
    "power.return-to-cut",
    "length",
    "m",
    formula="L_return · 1.15",
    symbols={"L_return": "electrics.cables.*.return_length"},
    sources=[allowances.CUT],
    each=_returning,
)
def return_to_cut(build: Build, cable: Any) -> float:
    """Length of cable to cut for a return conductor of its own."""
    return allowances.cut(cable.return_length)


@quantity(
    "power.crimps",
    formula="as stated; the two ends where nothing else is stated",
    sources=[CRIMPS.giving("formula", "two crimped ends")],
    each=_conductors,
)
def crimps(build: Build, cable: Any) -> float:
    """Crimped, bolted ends along a conductor."""
    return network.joints_of(cable)


@listing("power.cables", "cables", each=lambda build: build.electrics.cables.values())
def cables(build: Build, cable: Any) -> Cells | None:
    """A cable on the positive side."""
    return _cable(build, cable, name_of(cable)) if is_fitted(cable) else None


@listing("power.grounds", "cables", each=lambda build: build.electrics.grounds.values())
def grounds(build: Build, ground: Any) -> Cells | None:
    """A conductor on the return side."""
    return _cable(build, ground, f"ground, {name_of(ground)}") if is_fitted(ground) else None


def _cable(build: Build, cable: Any, what: str) -> Cells:
    return {
        "what": lambda: what,
        "ends": lambda: f"{cable.start} to {cable.end}",
        "size": lambda: cable.size,
        "material": lambda: given(lambda: cable.material),
        "run": lambda: cable.length,
        "to_cut": lambda: cable_to_cut(build, cable),
        "lugs": lambda: crimps(build, cable),
    }


@listing("power.returns", "cables", each=network.consumer_cables)
def returns(build: Build, cable: Any) -> Cells | None:
    """The return conductor of a consumer's cable, where it has one of its own."""
    if cable.returns_by != "own-conductor":
        return None
    own_size = given(lambda: cable.return_size)
    return {
        "what": lambda: f"{name_of(cable)}, return",
        "ends": lambda: f"back from {cable.end}",
        "size": lambda: cable.size if own_size is None else own_size,
        "material": lambda: given(lambda: cable.material),
        "run": lambda: cable.return_length,
        "to_cut": lambda: return_to_cut(build, cable),
    }


@listing("power.fuses", "fuses", each=lambda build: build.electrics.cables.values())
def fuses(build: Build, cable: Any) -> Cells | None:
    """A fuse or relay in a cable, or one of which nobody has said whether it is there."""
    if not is_fitted(cable) or cable.role == "battery-link":
        return None
    relayed = given(lambda: cable.relay_rating) is not None or given(lambda: cable.switched_by) is not None
    if given(lambda: network.has_fuse(cable)) is False and not relayed:
        return None
    return {
        "what": lambda: name_of(cable),
        "fuse": lambda: _fuse(cable),
        "after": lambda: given(lambda: cable.fuse_distance),
        "relay": lambda: cable.relay_rating if relayed else None,
        "coil": lambda: given(lambda: cable.coil_current),
        "switched_by": lambda: given(lambda: tuple(str(node) for node in cable.switched_by)),
    }


def _fuse(cable: Any) -> Any:
    """Its fuse; where nobody states one, and nobody says that there is none, that is asked for."""
    return cable.fuse if given(lambda: network.has_fuse(cable)) is not False else None
