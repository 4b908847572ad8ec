"""What the vehicle is built for, for the hand-over sheet: ratings, load, tyres, heat, height, speed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from swaplint.api import Build, Cells, given, is_fitted, listing

from ..gearing.fitted_tyres import unlike

Row = tuple[str, Callable[[], Any], str]


def _rows(build: Build) -> Iterator[Row]:
    mass, design, tyres = build.vehicle.mass, build.build.design, build.driveline.tyres
    yield "highest mass, laden", lambda: mass.gvwr, ""
    yield "front axle at most", lambda: mass.gawr_front, ""
    yield "rear axle at most", lambda: mass.gawr_rear, ""
    yield "with a trailer", lambda: mass.gcwr, ""
    if given(lambda: tyres.designation) is None:
        yield "tyres, over the tread", lambda: tyres.overall_diameter, ""
    else:
        yield "tyres", lambda: str(tyres.designation), ""
    if unlike(build):
        yield "tyres in front", lambda: str(build.driveline.front_tyres.designation), ""
    yield "front tyres, cold", lambda: tyres.pressure_front, ""
    yield "rear tyres, cold", lambda: tyres.pressure_rear, ""
    if given(lambda: is_fitted(build.driveline.speed_limiter)):
        yield "speed limiter set to", lambda: build.driveline.speed_limiter.speed, ""
    yield "cruising speed", lambda: design.cruise_speed, ""
    yield "hottest air", lambda: design.ambient_max, "at full load"
    yield "coldest air", lambda: design.ambient_min, "at the start"
    yield "highest place", lambda: design.altitude_max, "above the sea"
    yield "fuel", lambda: str(build.engine.fuel_type), ""
    yield "tank", lambda: build.plumbing.fuel.tank.capacity, ""


@listing("mass.use", "use", each=_rows)
def use(build: Build, what: str, value: Callable[[], Any], note: str) -> Cells:
    """What the vehicle is built for, line by line."""
    return {"what": lambda: what, "value": value, "note": lambda: note or None}
