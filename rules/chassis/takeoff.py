"""The belts of the take-off."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Cells, listing, name_of, shown

from .belts_quantities import added_belts, belt_length


@listing("chassis.belts", "belts", each=added_belts)
def belts(build: Build, belt: Any) -> Cells:
    """A belt that the swap adds or changes."""
    return {
        "what": lambda: name_of(belt),
        "kind": lambda: f"{belt.profile}, {shown(belt.ribs)} {'ribs' if belt.profile == 'ribbed' else 'side by side'}",
        "length": lambda: belt_length(build, belt),
    }
