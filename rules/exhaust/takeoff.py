"""The pipes of the exhaust, the reductant line and the reductant of the take-off."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Cells, given, is_fitted, listing, name_of, quantity

from .. import allowances
from ..streams import streams
from .quantities import pipes


@quantity(
    "exhaust.pipe-to-cut",
    "length",
    "m",
    formula="L · pipes side by side · 1.15",
    symbols={"L": "plumbing.exhaust.pipes.*.length"},
    sources=[allowances.CUT],
    each=pipes,
)
def pipe_to_cut(build: Build, pipe: Any) -> float:
    """Length to cut for a run of exhaust pipe, all of those side by side together."""
    return allowances.cut(pipe.length, streams(pipe))


@listing("exhaust.pipes", "lines", each=lambda build: build.plumbing.exhaust.pipes.values())
def exhaust_pipes(build: Build, pipe: Any) -> Cells | None:
    """A run of exhaust pipe."""
    if not is_fitted(pipe):
        return None
    return {
        "what": lambda: f"exhaust, {name_of(pipe)}",
        "outside": lambda: pipe.tube_outer,
        "wall": lambda: given(lambda: pipe.tube_wall),
        "side_by_side": lambda: given(lambda: pipe.side_by_side),
        "run": lambda: pipe.length,
        "to_cut": lambda: pipe_to_cut(build, pipe),
    }


def _uses_reductant(build: Build) -> bool:
    devices = build.engine.aftertreatment.devices.values()
    return any(device.kind == "selective-catalyst" for device in devices)


@quantity(
    "exhaust.reductant-line-to-cut",
    "length",
    "m",
    formula="L · 1.15",
    symbols={"L": "plumbing.reductant.line_length"},
    sources=[allowances.CUT],
)
def reductant_line_to_cut(build: Build) -> float:
    """Length to cut for the reductant line."""
    return allowances.cut(build.plumbing.reductant.line_length)


@listing("exhaust.reductant-line", "lines")
def reductant_line(build: Build) -> Cells | None:
    """The line from the reductant's tank to its doser."""
    if not _uses_reductant(build):
        return None
    return {
        "what": lambda: "reductant",
        "run": lambda: build.plumbing.reductant.line_length,
        "to_cut": lambda: reductant_line_to_cut(build),
    }


@quantity(
    "exhaust.reductant-to-buy",
    "volume",
    "L",
    formula="V · 1.05",
    symbols={"V": "plumbing.reductant.tank_volume"},
    sources=[allowances.FILL],
)
def reductant_to_buy(build: Build) -> float:
    """Reductant to buy for the first fill."""
    return allowances.bought(build.plumbing.reductant.tank_volume)


@listing("exhaust.reductant", "fluids")
def reductant(build: Build) -> Cells | None:
    """The reductant."""
    if not _uses_reductant(build):
        return None
    return {
        "what": lambda: "reductant (urea solution)",
        "fill": lambda: build.plumbing.reductant.tank_volume,
        "to_buy": lambda: reductant_to_buy(build),
    }
