"""The rule about the pieces between engine and gearbox: how each is located and held."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
    given,
    holds,
    path_of,
    practice,
    rule,
    shown,
)

from ..fastening import THREADS, engaged
from ..gearing import chain

MM = ("length", "mm")
LOCATED = practice(
    "an adapter is located by a bore or spigot, or by two dowels that stand in each side by their radius"
)
LEAST_DOWELS = 2
DOWEL_IN_DIAMETERS = 0.5


def stack(build: Build) -> list[Any]:
    """The adapter, where one is fitted, and the further pieces of the stack."""
    adapter = build.driveline.adapter
    return [*([] if chain.left_out(adapter) else [adapter]), *chain.pieces(build)]


@rule(
    "driveline.adapter-pieces",
    level="warning",
    due="build",
    sources=[LOCATED.giving("limit", "dowels"), THREADS.giving("limit", "length of thread")],
    cautions=[cautions.CRUSH],
    about="driveline.adapter",
    each=stack,
    bad=[
        {"driveline.adapter.dowels": 1, "driveline.adapter.engine_side.centred_by": "dowels"},
        {"driveline.adapter.dowel_engagement": "4 mm"},
        {"driveline.adapter.bolt_engagement": "8 mm"},
        {"driveline.adapter.thread_depth": "15 mm"},
    ],
    good=[{"driveline.adapter.threads_in": "steel"}, {"driveline.adapter.dowels": 0}],
)
def adapter_pieces(build: Build, piece: Any) -> Verdict:
    """Is each piece of the stack between engine and gearbox located and held: dowels, spigot, length of thread?

    Computes: how far dowels stand in, and how much thread is screwed in, each in its own diameters.
    Limit: a bore or a spigot on each side, or two dowels that stand in each side by half of their diameter; thread of
    one diameter in steel, 1.25 in cast iron and 2 in aluminium: common practice. A bolt that bottoms is an error.
    Consequence: The gearbox sits out of line and works loose; bolts pull their threads out or never clamp.
    Remedy: a second dowel, longer dowels or bolts, inserts in aluminium; shorter bolts where they bottom.
    Cannot tell: strength of the piece, the class of the bolts, threads that are already worn. Thickness: see
    driveline.depth-stack; patterns and spigots: driveline.housing-match.
    """
    demands: dict[str, Callable[[], Verdict]] = {"located": lambda: _located(piece)}
    if given(lambda: piece.dowels) not in (None, 0.0):
        demands["dowel-engagement"] = lambda: _dowels_stand(piece)
    demands["thread-engagement"] = lambda: _thread(piece)
    demands["bottoming"] = lambda: _bottoms(piece)
    return all_of(demands)


def _located(piece: Any) -> Verdict:
    on, dowels = f"{path_of(piece)}.dowels", int(piece.dowels)
    sides = [piece.engine_side, piece.gearbox_side]
    if dowels >= LEAST_DOWELS:
        return holds(True, f"{dowels} dowels locate it.", on=on)
    if all(side.centred_by in ("bore", "spigot") for side in sides):
        return holds(True, "A bore or spigot on each side locates it.", on=on)
    says = f"{dowels} dowel{'' if dowels == 1 else 's'} and no bore or spigot on one side: nothing keeps it in line."
    return holds(False, f"{says} Fit two dowels.", on=on, advice=advice(on, LEAST_DOWELS))


def _dowels_stand(piece: Any) -> Verdict:
    stands, on = piece.dowel_engagement, f"{path_of(piece)}.dowel_engagement"
    least = DOWEL_IN_DIAMETERS * piece.dowel_diameter
    says = (
        f"Its dowels of {shown(piece.dowel_diameter, *MM)} stand in by {shown(stands, *MM)} where they stand in least."
    )
    return at_least(stands, least, says, on=on, unit=MM, advice=advice(on, piece.dowel_diameter))


def _thread(piece: Any) -> Verdict:
    on = f"{path_of(piece)}.bolt_engagement"
    return engaged(lambda: piece.bolt_engagement, piece.bolt_diameter, str(piece.threads_in), on)


def _bottoms(piece: Any) -> Verdict:
    screwed, deep = piece.bolt_engagement, piece.thread_depth
    says = f"Its bolts are screwed in by {shown(screwed, *MM)}; the holes take {shown(deep, *MM)} before they bottom."
    says += " Fit shorter bolts." if screwed > deep else ""
    return at_most(screwed, deep, says, level="error", on=f"{path_of(piece)}.bolt_engagement", unit=MM)
