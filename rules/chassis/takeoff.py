"""The belts, hoses and fluids of the take-off that belong to brakes, steering and cab."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Cells, given, is_fitted, listing, name_of, part_named, quantity, shown

from .. import allowances
from .belts_quantities import added_belts, belt_length
from .hoses import kind_of, known_to_be_needed


@listing("chassis.belts", "belts", each=added_belts)
def belts(build: Build, belt: Any) -> Cells:
    """A belt that the swap adds or changes."""
    return {
        "what": lambda: name_of(belt),
        "kind": lambda: f"{belt.profile}, {shown(belt.ribs)} {'ribs' if belt.profile == 'ribbed' else 'side by side'}",
        "length": lambda: belt_length(build, belt),
    }


def _new_hoses(build: Build) -> list[Any]:
    """The hoses that are got anew: a hose of which nobody says that it is kept is one of them."""
    stated = [hose for hose in build.plumbing.hoses.values() if is_fitted(hose)]
    return [hose for hose in stated if not given(lambda hose=hose: hose.kept)]  # type: ignore[misc]


@quantity(
    "chassis.hose-to-cut",
    "length",
    "m",
    formula="L · 1.15",
    symbols={"L": "plumbing.hoses.*.length"},
    sources=[allowances.CUT],
    each=_new_hoses,
)
def hose_to_cut(build: Build, hose: Any) -> float:
    """Length to cut for a hose of heater, brake vacuum, steering or air conditioning."""
    return allowances.cut(hose.length)


def _listed(build: Build) -> list[Any]:
    """The new hoses, and what is needed and not stated by what it carries."""
    stated = given(lambda: list(build.plumbing.hoses.values())) or []
    there = {given(lambda hose=hose: kind_of(hose)) for hose in stated}  # type: ignore[misc]
    return [*(_new_hoses(build) if stated else []), *(what for what in known_to_be_needed(build) if what not in there)]


@listing("chassis.hoses", "lines", each=_listed)
def hoses(build: Build, hose: Any) -> Cells:
    """A hose of heater, brake vacuum, steering or air conditioning."""
    if isinstance(hose, str):
        return {
            "what": lambda: f"{hose.replace('-', ' ')} hose",
            "bore": lambda: part_named(build.plumbing, "hoses", hose).bore,
            "run": lambda: part_named(build.plumbing, "hoses", hose).length,
        }
    return {
        "what": lambda: f"{kind_of(hose).replace('-', ' ')} hose",
        "bore": lambda: hose.bore,
        "material": lambda: str(hose.marked),
        "run": lambda: hose.length,
        "to_cut": lambda: hose_to_cut(build, hose),
    }
