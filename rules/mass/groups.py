"""The rule about axles that share their end of the vehicle with others: a tandem behind, two steered axles in front."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Verdict, all_of, at_most, cautions, name_of, path_of, practice, rule, shown

from .. import sources
from ..gearing import places
from . import quantities as q
from .words import kg_up

PLATE = practice("what plate or maker rate one axle of a group for; a group's rating says nothing of its axles").giving(
    "limit", "rating of the axle"
)
TANDEM: dict[str, Any] = {
    "driveline.axles.rear.x": "2500 mm",
    "driveline.axles.rear.group_share": "50 %",
    "driveline.axles.rear.rating": "1000 kg",
    "driveline.axles.tag.driven": False,
    "driveline.axles.tag.x": "3300 mm",
    "driveline.axles.tag.group_share": "50 %",
    "driveline.axles.tag.rating": "1000 kg",
    "vehicle.wading.axle_breathers.tag.height": "700 mm",
}
"""Edits that put a second axle behind under the example vehicle."""


@rule(
    "mass.axle-group",
    level="error",
    due="quote",
    sources=[
        PLATE,
        sources.TYRE_MARKINGS.giving("limit", "mass of each load index"),
        sources.STATICS.giving("formula", "share of an axle in its group's load"),
    ],
    fallbacks=[q.FULL_PRESSURE],
    cautions=[cautions.LAW, cautions.TYRES],
    about="driveline.axles",
    each=q.grouped_axles_by_case,
    bad=[{**TANDEM, "driveline.axles.rear.group_share": "75 %", "driveline.axles.tag.group_share": "25 %"}],
    good=[TANDEM],
)
def axle_group(build: Build, case: Any, axle: Any) -> Verdict:
    """Where axles stand in a group, does each carry no more than it, and its tyres, are rated for?

    Computes: the load on the group by moments about the other end, from each axle's place and share, and each axle's
    share of it. Of a balanced pair each carries half; unequal levers, or springs that are not linked, share otherwise.
    Limit: the rating of the axle by itself, and what its tyres, two or four as twins, carry.
    Consequence: One axle of the group is overloaded though the group is not: a hub, a spring or a tyre fails.
    Remedy: carry less there, share the load more evenly, or stronger axles and tyres with their rating on paper.
    Cannot tell: how the group shares its load on uneven ground, when braking or with the lift axle up.
    """
    end = places.end_of(build, axle)
    found = q.grouped_axle_load(build, case, axle)

    def rating() -> Verdict:
        says = f"The axle {name_of(axle)} carries {shown(found)} in the load case {name_of(case)}."
        if found > axle.rating:
            says += f" {kg_up(found - axle.rating)} must go from it, to another axle or off the vehicle."
        return at_most(found, axle.rating, says, on=path_of(axle))

    def tyres() -> Verdict:
        count = q.tyre_count(build, end, axle)
        most = q.tyres_carry(build, end, count)
        says = f"The axle {name_of(axle)} carries {shown(found)}; its {count} tyres carry {shown(most, 'mass', 'kg')}."
        return at_most(found, most, says, on=path_of(axle))

    return all_of(rating=rating, tyres=tyres)
