"""The bolts and dowels of the adapter for the take-off."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Cells, given, is_fitted, listing, name_of

METRIC = 0.02
"""How near to whole millimetres, in mm, the diameter of a metric thread is stated: 3/8 in is half a millimetre off."""


@listing("driveline.adapter-engine", "fasteners", each=lambda build: _pieces(build))
def to_the_engine(build: Build, piece: Any) -> Cells:
    """The bolts on the engine's side of an adapter or further piece."""
    return _bolts(piece, piece.engine_side, "engine side")


@listing("driveline.adapter-gearbox", "fasteners", each=lambda build: _pieces(build))
def to_the_gearbox(build: Build, piece: Any) -> Cells:
    """The bolts on the gearbox's side of an adapter or further piece."""
    return _bolts(piece, piece.gearbox_side, "gearbox side")


@listing("driveline.adapter-dowels", "fasteners", each=lambda build: _pieces(build))
def dowels(build: Build, piece: Any) -> Cells | None:
    """The dowels that locate an adapter or further piece."""
    if piece.dowels == 0:
        return None
    return {
        "what": lambda: f"{_name(piece)}",
        "kind": lambda: "dowel",
        "pieces": lambda: piece.dowels,
        "size": lambda: piece.dowel_diameter,
        "engaged": lambda: piece.dowel_engagement,
    }


def _pieces(build: Build) -> list[Any]:
    """The adapter, and the further pieces between engine and gearbox, which many builds do without."""
    adapter = build.driveline.adapter
    return [piece for piece in (adapter, *_further(build)) if is_fitted(piece)]


def _further(build: Build) -> list[Any]:
    return given(lambda: list(build.driveline.adapter_pieces.values())) or []


def _bolts(piece: Any, side: Any, where: str) -> Cells:
    return {
        "what": lambda: f"{_name(piece)}, {where}",
        "kind": lambda: "bolt",
        "pieces": lambda: side.holes,
        "size": lambda: _thread(piece.bolt_diameter),
        "engaged": lambda: piece.bolt_engagement,
        "circle": lambda: side.bolt_circle,
    }


def _thread(diameter: float) -> float | str:
    """The name of a metric thread; of another one its diameter."""
    millimetres = diameter * 1000.0
    return f"M{round(millimetres)}" if abs(millimetres - round(millimetres)) < METRIC else diameter


def _name(piece: Any) -> str:
    return name_of(piece).replace("_", " ")
