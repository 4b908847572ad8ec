"""What the mass system looks like: axle loads against their ratings."""

from __future__ import annotations

from swaplint.api import Axis, Bar, Bars, Build, figure, given, name_of

from ..drawable import where_known
from . import quantities as q


@figure("mass.axle-loads")
def axle_loads(build: Build) -> Bars:
    """Axle loads against their ratings in each load case.

    On level ground after the swap, people, load and nose load included. The whole vehicle stands beside its gross
    rating.
    """
    ratings = {axle: where_known(lambda axle=axle: q.end_rating(build, axle)) for axle in q.axles(build)}  # type: ignore[misc]
    gross = given(lambda: build.vehicle.mass.gvwr)
    groups = []
    for case in q.load_cases(build):
        bars = [Bar(f"{axle} axle", q.axle_load(build, case, axle), ratings[axle]) for axle in q.axles(build)]
        groups.append((name_of(case).replace("_", " "), [*bars, Bar("vehicle", q.laden(build, case), gross)]))
    return Bars(Axis("mass on the ground", "mass", "kg"), groups, "load", "rating")
