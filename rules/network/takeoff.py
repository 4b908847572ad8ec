"""The cable of the data bus for the take-off."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Cells, given, is_fitted, listing, name_of, quantity

from .. import allowances


def _wires(build: Build) -> list[Any]:
    """The lengths of bus cable; none where there is no bus."""
    if not is_fitted(build.electrics.network):
        return []
    return [wire for wire in build.electrics.network.wires.values() if is_fitted(wire)]


@quantity(
    "network.cable-to-cut",
    "length",
    "m",
    formula="L · 1.15",
    symbols={"L": "electrics.network.wires.*.length"},
    sources=[allowances.CUT],
    each=_wires,
)
def cable_to_cut(build: Build, wire: Any) -> float:
    """Length of bus cable to cut; a stub is then trimmed to its run."""
    return allowances.cut(wire.length)


@listing("network.wires", "cables", each=_wires)
def wires(build: Build, wire: Any) -> Cells:
    """A length of bus cable, from point to point."""
    kind = given(lambda: str(build.electrics.network.cable))
    return {
        "what": lambda: f"bus {wire.kind}, {name_of(wire)}",
        "ends": lambda: f"{wire.start} to {wire.end}",
        "material": lambda: f"bus cable, {kind}" if kind else "bus cable",
        "run": lambda: wire.length,
        "to_cut": lambda: cable_to_cut(build, wire),
    }
