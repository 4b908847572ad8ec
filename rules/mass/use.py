"""What the vehicle is built for, for the hand-over sheet: ratings, load, tyres, heat, height, speed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from swaplint.api import Build, Cells, given, is_fitted, listing

from ..gearing.fitted_tyres import unlike

ROWS: dict[str, tuple[Callable[[Build], Any], str]] = {
    "highest mass, laden": (lambda build: build.vehicle.mass.gvwr, ""),
    "front axle at most": (lambda build: build.vehicle.mass.gawr_front, ""),
    "rear axle at most": (lambda build: build.vehicle.mass.gawr_rear, ""),
    "with a trailer": (lambda build: build.vehicle.mass.gcwr, ""),
    "tyres, over the tread": (lambda build: build.driveline.tyres.overall_diameter, ""),
    "tyres": (lambda build: str(build.driveline.tyres.designation), ""),
    "tyres in front": (lambda build: str(build.driveline.front_tyres.designation), ""),
    "front tyres, cold": (lambda build: build.driveline.tyres.pressure_front, ""),
    "rear tyres, cold": (lambda build: build.driveline.tyres.pressure_rear, ""),
    "speed limiter set to": (lambda build: build.driveline.speed_limiter.speed, ""),
    "cruising speed": (lambda build: build.build.design.cruise_speed, ""),
    "hottest air": (lambda build: build.build.design.ambient_max, "at full load"),
    "coldest air": (lambda build: build.build.design.ambient_min, "at the start"),
    "highest place": (lambda build: build.build.design.altitude_max, "above the sea"),
    "fuel": (lambda build: str(build.engine.fuel_type), ""),
    "tank": (lambda build: build.plumbing.fuel.tank.capacity, ""),
}
"""What each line is called, with its value and a note."""


def _rows(build: Build) -> Iterator[str]:
    named = given(lambda: build.driveline.tyres.designation) is not None
    limited = given(lambda: is_fitted(build.driveline.speed_limiter))
    without = {
        "tyres, over the tread" if named else "tyres",
        *(() if limited else ("speed limiter set to",)),
        *(() if unlike(build) else ("tyres in front",)),
    }
    return (row for row in ROWS if row not in without)


@listing("mass.use", "use", each=_rows)
def use(build: Build, what: str) -> Cells:
    """What the vehicle is built for, line by line."""
    value, note = ROWS[what]
    return {"what": lambda: what, "value": lambda: value(build), "note": lambda: note or None}
