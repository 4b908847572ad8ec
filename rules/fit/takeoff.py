"""The propshafts of the take-off."""

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
