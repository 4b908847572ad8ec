"""Whether the engine stands where the mass ledger has it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from swaplint.api import Build, Verdict, given, holds, needs_review, path_of, practice, shown
from swaplint.spec.systems.mass import LedgerItem

from ..ledger_masses import item_mass

SAME_PLACE = practice("where a part stands is read to some centimetres: 150 mm is another place").giving(
    "limit", "150 mm between the ledger's place of the engine and the drawing's"
)
APART = 0.150

_ALONG = {"front": (1.0, 0.0), "rear": (-1.0, 0.0), "left": (0.0, 1.0), "right": (0.0, -1.0)}
"""What a metre behind the block, and a metre to the engine's left, are along the vehicle, by where its front faces."""


def drawn_and_listed(build: Build) -> bool:
    """Whether both the ledger and the drawing say where the new engine stands."""
    place, centre = build.vehicle.engine_place, build.engine.centre_of_gravity
    drawn = given(lambda: place.x) is not None and given(lambda: centre.x) is not None
    return drawn and given(lambda: new_engine(build)) not in (None, [])


def new_engine(build: Build) -> list[LedgerItem]:
    """The items of the ledger that the new engine is."""
    return [item for item in build.vehicle.ledger.values() if item.part == "engine" and item_mass(build, item) > 0.0]


def one_place(build: Build) -> Verdict:
    """The place of the new engine in the ledger against that of the drawing."""
    new = new_engine(build)
    listed, drawn = _in_the_ledger(build, new), _drawn(build)
    says = f"The mass ledger has the new engine {_place(listed)}"
    if abs(listed - drawn) <= APART:
        return holds(True, f"{says}, where it is drawn.")
    says += f"; where the engine is drawn its centre of gravity stands {_place(drawn)}. One of the two is wrong: axle "
    says += "loads follow from the ledger, room and shafts from the drawing."
    return needs_review(says, on=f"{path_of(new[0])}.x")


def _in_the_ledger(build: Build, new: Sequence[LedgerItem]) -> float:
    """Where the ledger has the new engine, of which several items may be parts."""
    masses = [item_mass(build, item) for item in new]
    return sum(mass * float(item.x) for mass, item in zip(masses, new, strict=True)) / sum(masses)


def _drawn(build: Build) -> float:
    """Where the engine's centre of gravity stands behind the front axle, as the engine is drawn into the vehicle."""
    place, centre = build.vehicle.engine_place, build.engine.centre_of_gravity
    behind, left = _ALONG[place.front_faces]
    leaned = float(centre.y) if left else 0.0
    level = math.cos(given(lambda: place.pitch) or 0.0)
    return float(place.x) + behind * float(centre.x) * level + left * leaned


def _place(x: float) -> str:
    where = "behind" if x >= 0.0 else "ahead of"
    return f"{shown(abs(x), 'length', 'mm')} {where} the front axle"
