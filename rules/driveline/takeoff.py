"""The bolts and dowels of the adapter for the take-off."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Cells, given, is_fitted, listing, name_of, quantity
from swaplint.engineering import housings

from .. import sources

METRIC = 0.02
"""How near to whole millimetres, in mm, the diameter of a metric thread is stated: 3/8 in is half a millimetre off."""


NAMED = [
    sources.FLYWHEEL_HOUSINGS.giving("formula", "holes and bolt circle of a housing by its number"),
    sources.FLYWHEELS.giving("formula", "holes and bolt circle of a flywheel by its size"),
]


def _faces(build: Build) -> list[Any]:
    return [side for piece in _pieces(build) for side in (piece.engine_side, piece.gearbox_side)]


@quantity(
    "driveline.adapter-holes",
    formula="as stated, else those of the pattern where its name is that of a standard",
    sources=NAMED,
    each=_faces,
)
def adapter_holes(build: Build, face: Any) -> float:
    """Bolt holes of a face of the adapter, or of a further piece between engine and gearbox."""
    stated = given(lambda: face.holes)
    named = _named(face) if stated is None else None
    return face.holes if named is None else named.holes


@quantity(
    "driveline.adapter-bolt-circle",
    "length",
    "mm",
    formula="as stated, else that of the pattern where its name is that of a standard",
    sources=NAMED,
    each=_faces,
)
def adapter_bolt_circle(build: Build, face: Any) -> float:
    """Bolt circle of a face of the adapter, or of a further piece between engine and gearbox."""
    stated = given(lambda: face.bolt_circle)
    named = _named(face) if stated is None else None
    return face.bolt_circle if named is None else named.bolt_circle


def _named(face: Any) -> housings.Flange | None:
    """The flange of a standard that a face is called by; None for any other name, or where none is stated."""
    found = housings.named_flange(given(lambda: str(face.pattern)) or "")
    return found[1] if found is not None else None


@listing("driveline.adapter-engine", "fasteners", each=lambda build: _pieces(build))
def to_the_engine(build: Build, piece: Any) -> Cells:
    """The bolts on the engine's side of an adapter or further piece."""
    return _bolts(build, piece, piece.engine_side, "engine side")


@listing("driveline.adapter-gearbox", "fasteners", each=lambda build: _pieces(build))
def to_the_gearbox(build: Build, piece: Any) -> Cells:
    """The bolts on the gearbox's side of an adapter or further piece."""
    return _bolts(build, piece, piece.gearbox_side, "gearbox side")


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


@listing("driveline.housing-bolts", "fasteners")
def to_the_housing(build: Build) -> Cells | None:
    """The bolts of a gearbox that is bolted straight to the flywheel housing."""
    if _pieces(build):
        return None
    housing = build.engine.flywheel_housing
    return {
        "what": lambda: "gearbox to flywheel housing",
        "kind": lambda: "bolt",
        "pieces": lambda: housing.holes,
        "size": lambda: _thread(housing.bolts.diameter),
        "strength": lambda: str(housing.bolts.property_class),
        "engaged": lambda: given(lambda: housing.bolts.engagement),
        "torque": lambda: housing.bolts.torque,
        "circle": lambda: housing.bolt_circle,
    }


def _pieces(build: Build) -> list[Any]:
    """The adapter, and the further pieces between engine and gearbox, which many builds do without."""
    adapter = build.driveline.adapter
    return [piece for piece in (adapter, *_further(build)) if is_fitted(piece)]


def _further(build: Build) -> list[Any]:
    return given(lambda: list(build.driveline.adapter_pieces.values())) or []


def _bolts(build: Build, piece: Any, side: Any, where: str) -> Cells:
    return {
        "what": lambda: f"{_name(piece)}, {where}",
        "kind": lambda: "bolt",
        "pieces": lambda: adapter_holes(build, side),
        "size": lambda: _thread(piece.bolt_diameter),
        "strength": lambda: str(piece.bolt_class),
        "torque": lambda: piece.bolt_torque,
        "engaged": lambda: piece.bolt_engagement,
        "circle": lambda: adapter_bolt_circle(build, side),
    }


def _thread(diameter: float) -> float | str:
    """The name of a metric thread; of another one its diameter."""
    millimetres = diameter * 1000.0
    return f"M{round(millimetres)}" if abs(millimetres - round(millimetres)) < METRIC else diameter


def _name(piece: Any) -> str:
    return name_of(piece).replace("_", " ")
