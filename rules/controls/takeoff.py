"""The holes and the extensions of the harness for the take-off."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Cells, given, is_fitted, listing, name_of, quantity

from .. import allowances


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
    """What is said to pass through a hole: stretches of harness, cables and hoses."""
    routes = [route for route in build.electrics.routes.values() if is_fitted(route)]
    by_name = [name_of(route) for route in routes if _opening_of(route) == name]
    cables = [cable for cable in given(lambda: list(build.electrics.cables.values())) or [] if is_fitted(cable)]
    by_name += [f"cable {name_of(cable)}" for cable in cables if _goes_through(cable) == name]
    hoses = [hose for hose in given(lambda: list(build.plumbing.hoses.values())) or [] if is_fitted(hose)]
    by_name += [f"hose {name_of(hose)}" for hose in hoses if _goes_through(hose) == name]
    return ", ".join(by_name)


def _goes_through(part: Any) -> str | None:
    return given(lambda: str(part.through))


def _opening_of(route: Any) -> str | None:
    return given(lambda: str(route.opening))


def _extensions(build: Build) -> list[Any]:
    """The extensions of harness leads; a harness that nobody says is lengthened has none."""
    stated = given(lambda: list(build.electrics.extensions.values())) or []
    return [extension for extension in stated if is_fitted(extension)]


@quantity(
    "controls.extension-to-cut",
    "length",
    "m",
    formula="L · 1.15",
    symbols={"L": "electrics.extensions.*.length"},
    sources=[allowances.CUT],
    each=_extensions,
)
def extension_to_cut(build: Build, extension: Any) -> float:
    """Length of each wire to cut for an extension of a harness lead."""
    return allowances.cut(extension.length)


@listing("controls.extensions", "cables", each=_extensions)
def extensions(build: Build, extension: Any) -> Cells:
    """An extension that is made for a lead of the harness."""
    return {
        "what": lambda: f"extension of lead {extension.lead}",
        "material": lambda: "wires as in the lead",
        "run": lambda: extension.length,
        "to_cut": lambda: extension_to_cut(build, extension),
    }
