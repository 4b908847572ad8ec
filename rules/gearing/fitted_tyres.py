"""Which tyres stand where: all alike, or the front ones of another size than those behind."""

from __future__ import annotations

from swaplint.api import Build, OutsideRange, given, is_fitted, once
from swaplint.spec.systems.gearing import TyreMake

from . import chain, places


@once
def unlike(build: Build) -> bool:
    """Whether the front tyres are stated by themselves. Where they are not all tyres are of one size."""
    return given(lambda: is_fitted(build.driveline.front_tyres)) is True


def tyres_at(build: Build, end: places.End) -> TyreMake:
    """The tyres in front or behind."""
    return build.driveline.front_tyres if end == "front" and unlike(build) else build.driveline.tyres


@once
def driven_tyres(build: Build) -> TyreMake:
    """The tyres that the engine drives, by which speed and pull are reckoned."""
    if not unlike(build):
        return build.driveline.tyres
    ends = {places.end_of(build, axle) for axle in chain.powered_axles(build)}
    if len(ends) > 1:
        raise OutsideRange(
            "the engine can drive front and rear, and the front tyres are stated apart from those behind: with both "
            "driven they must roll alike, or the gears between them break"
        )
    return tyres_at(build, ends.pop() if ends else "rear")
