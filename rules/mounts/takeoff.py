"""The bolts, brackets and cross-members of the mounts, and the gaps around the engine, for the take-off."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Cells, given, is_fitted, listing, name_of

from . import movement


@listing("mounts.bolts", "fasteners", each=lambda build: build.vehicle.mounts.values())
def bolts(build: Build, mount: Any) -> Cells | None:
    """The bolts that hold a mount's bracket."""
    if not is_fitted(mount):
        return None
    return {
        "what": lambda: f"mount {name_of(mount)}",
        "kind": lambda: "bolt",
        "pieces": lambda: mount.bolts.pieces,
        "size": lambda: str(mount.bolts.size),
        "strength": lambda: str(mount.bolts.property_class),
        "engaged": lambda: given(lambda: mount.bolts.engagement),
        "torque": lambda: mount.bolts.torque,
    }


@listing("mounts.brackets", "steel", each=lambda build: build.vehicle.mounts.values())
def brackets(build: Build, mount: Any) -> Cells | None:
    """The bracket that holds a mount, where one is made."""
    if not is_fitted(mount) or not is_fitted(mount.bracket):
        return None
    cells = _steel(f"bracket of mount {name_of(mount)}", mount.bracket)
    welded = given(lambda: mount.bracket.welded)
    return {
        **cells,
        "length": lambda: mount.bracket.arm,
        "throat": lambda: mount.bracket.weld_throat if welded else None,
    }


@listing("mounts.cross-members", "steel", each=lambda build: build.vehicle.cross_members.values())
def cross_members(build: Build, member: Any) -> Cells | None:
    """A cross-member that is made."""
    if not is_fitted(member):
        return None
    return {**_steel(f"cross-member {name_of(member)}", member), "length": lambda: member.span}


def _steel(what: str, piece: Any) -> Cells:
    box = given(lambda: piece.shape) == "box"
    return {
        "what": lambda: what,
        "shape": lambda: str(piece.shape),
        "pieces": lambda: None if box else piece.plates,
        "depth": lambda: piece.depth,
        "width": lambda: piece.width if box else None,
        "wall": lambda: piece.wall,
        "steel": lambda: str(piece.steel),
    }


@listing("mounts.gaps", "gaps", each=lambda build: build.vehicle.clearances.values())
def gaps(build: Build, gap: Any) -> Cells | None:
    """A gap between the engine unit and what does not move with it."""
    if movement.why_none(gap) is not None:
        return None
    return {
        "what": lambda: name_of(gap),
        "kind": lambda: str(gap.kind),
        "at_rest": lambda: movement.gap_at_rest(gap),
        "moves": lambda: movement.movement(build, gap),
        "left": lambda: movement.gap_left(build, gap),
        "least": lambda: given(lambda: gap.gap_min),
    }
