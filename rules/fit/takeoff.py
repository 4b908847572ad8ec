"""The propshafts of the take-off, and what must be reached for service."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Cells, given, is_fitted, listing, name_of

from .behind import shaft_distance


@listing("fit.shafts", "shafts", each=lambda build: build.driveline.shafts.values())
def shafts(build: Build, shaft: Any) -> Cells | None:
    """A propshaft, with the length that the spec states and the one that the places of its ends come to."""
    if not is_fitted(shaft):
        return None
    return {
        "what": lambda: name_of(shaft),
        "length": lambda: shaft.length,
        "distance": lambda: shaft_distance(build, shaft),
        "tube": lambda: shaft.tube_outer,
        "wall": lambda: shaft.tube_wall,
        "material": lambda: given(lambda: str(shaft.material)),
        "ends": lambda: f"{shaft.input_flange.pattern} / {shaft.output_flange.pattern}",
    }


@listing("fit.service-items", "service", each=lambda build: build.engine.service.values())
def service_items(build: Build, item: Any) -> Cells:
    """What the engine's sheet names as to be reached or taken out now and then."""
    return {
        "what": lambda: name_of(item).replace("_", " "),
        "interval": lambda: str(item.interval),
        "note": lambda: _reached(build, name_of(item)),
    }


def _reached(build: Build, name: str) -> str | None:
    """Where the vehicle lets one reach it from, where that is stated."""
    reaches = given(lambda: build.vehicle.bay.reach)
    reach = reaches.get(name) if reaches is not None else None
    if reach is None:
        return None
    side = given(lambda: str(reach.reached))
    return None if side is None else f"reached from {'the side' if side == 'side' else side}"
