"""The holes of the harness for the take-off."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Cells, given, is_fitted, listing, name_of


@listing("controls.openings", "holes", each=lambda build: build.electrics.openings.values())
def openings(build: Build, opening: Any) -> Cells | None:
    """A hole that a harness passes through."""
    if not is_fitted(opening):
        return None
    return {
        "what": lambda: name_of(opening),
        "hole": lambda: opening.hole,
        "grommet": lambda: str(opening.grommet),
        "passes": lambda: _passing(build, name_of(opening)),
    }


def _passing(build: Build, name: str) -> str:
    """The stretches of harness that are said to pass through a hole."""
    routes = [route for route in build.electrics.routes.values() if is_fitted(route)]
    return ", ".join(name_of(route) for route in routes if _opening_of(route) == name)


def _opening_of(route: Any) -> str | None:
    return given(lambda: str(route.opening))
