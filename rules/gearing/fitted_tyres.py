"""Which tyres stand where: all alike, or the front ones of another size than those behind."""

from __future__ import annotations

from swaplint.api import Build, given, is_fitted, once
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
def reckoned_end(build: Build) -> places.End:
    """The end by whose tyres speed and pull are reckoned where front and rear tyres are unlike.

    That of the axles that are driven on the road; the rear where both are: by how much the front rolls otherwise is
    judged by gearing.axles-alike.
    """
    powered = chain.powered_axles(build)
    road = [axle for axle in powered if chain.engaged(build, axle) == chain.ALWAYS]
    ends = {places.end_of(build, axle) for axle in road or powered}
    return "front" if ends == {"front"} else "rear"


@once
def driven_tyres(build: Build) -> TyreMake:
    """The tyres that the engine drives, by which speed and pull are reckoned."""
    return tyres_at(build, reckoned_end(build)) if unlike(build) else build.driveline.tyres
