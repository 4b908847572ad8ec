"""Rules that hold in every place: parts that are made for the road, and who must be told."""

from __future__ import annotations

import functools

from swaplint.api import Build, Verdict, all_of, holds, practice, rule
from swaplint.spec.systems.compliance import TOLD

from .law import CAUTIONS

FOR_THE_ROAD = practice("a part that its maker sells for use off the road only is not fitted to a road vehicle")
ALL_TOLD = practice("who registers, insures and taxes a vehicle is told of another engine, its power and its fuel")

_WHO = {
    "registration-office": "the registration office",
    "insurer": "the insurer",
    "tax-office": "the office that taxes it",
}


@rule(
    "compliance.road-parts",
    level="warning",
    due="build",
    sources=[FOR_THE_ROAD.giving("limit", "none")],
    cautions=CAUTIONS,
    about="build.off_road_parts",
    bad=[{"build.off_road_parts": ["air cleaner without a housing"]}],
    good=[{"build.off_road_parts": []}],
)
def road_parts(build: Build) -> Verdict:
    """Is every part that the swap fits made for a road vehicle?

    Computes: nothing; the spec says which parts their maker sells for use off the road only.
    Limit: none of them, common practice; most places refuse them.
    Consequence: The vehicle is refused at inspection, or the insurer does not pay.
    Remedy: the part that its maker sells for the road, with its mark or paper.
    Cannot tell: parts that do not say what they are for.
    """
    parts = [str(part) for part in build.build.off_road_parts]
    says = "No part is sold for use off the road only."
    if parts:
        says = f"Sold for use off the road only: {', '.join(parts)}. Fit parts that are made for the road."
    return holds(not parts, says, on="build.off_road_parts")


@rule(
    "compliance.told",
    level="warning",
    due="commission",
    sources=[ALL_TOLD.giving("limit", "all of them")],
    cautions=CAUTIONS,
    about="build.told",
    bad=[{"build.told": ["registration-office"]}],
    good=[{"build.told": ["insurer", "registration-office", "tax-office"]}],
)
def told(build: Build) -> Verdict:
    """Do those who register, insure and tax the vehicle know of the other engine?

    Computes: who of them the spec does not name as told.
    Limit: all of them, common practice; what each must be told is theirs to say.
    Consequence: The vehicle is driven without cover, with papers that do not fit it.
    Remedy: a letter or form to each, with the engine's number, power, displacement and fuel; keep the answer.
    Cannot tell: whether they accept it.
    """
    named = [str(one) for one in build.build.told]
    return all_of({who: functools.partial(_was_told, who, who in named) for who in TOLD})


def _was_told(who: str, named: bool) -> Verdict:
    whom = _WHO[who]
    says = f"Told: {whom}." if named else f"Not told: {whom}. Write before the vehicle is driven."
    return holds(named, says, on="build.told")
