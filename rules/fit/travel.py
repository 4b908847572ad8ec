"""The rule about what moves under the vehicle: slip joints, and the room to the ground."""

from __future__ import annotations

from typing import Any

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    at_least,
    at_most,
    cautions,
    given,
    holds,
    name_of,
    path_of,
    practice,
    rule,
    shown,
)

from .. import sources
from . import quantities as q

MM = ("length", "mm")
GROUND = "vehicle.ground_clearance"
SLIP = practice("a slip joint keeps 10 mm before it bottoms, and 15 mm and two thirds of its spline when drawn out")
CLEARANCE = practice("a swap takes at most a tenth of the ground clearance, unless a plate guards what hangs lower")
TO_BOTTOM, TO_APART, SPLINE_SHARE = 0.010, 0.015, 2 / 3
GROUND_SHARE = 0.10


def shafts_and_ground(build: Build) -> list[Any]:
    """The shafts that follow an axle, and the ground clearance."""
    return [*q.slipping_shafts(build), build.vehicle.ground_clearance]


@rule(
    "fit.shaft-plunge-ground",
    level="error",
    due="build",
    sources=[sources.SOLID_GEOMETRY, SLIP, CLEARANCE],
    cautions=[cautions.ROTATING, cautions.CRUSH],
    about="driveline.shafts",
    each=shafts_and_ground,
    bad=[
        {"driveline.shafts.rear.slip_in": "8 mm"},
        {"driveline.shafts.rear.slip_out": "20 mm"},
        {"vehicle.ground_clearance.after": "150 mm"},
    ],
    good=[
        {"driveline.shafts.rear.slip_in": "60 mm"},
        {"vehicle.ground_clearance.after": "150 mm", "vehicle.ground_clearance.guarded": True},
    ],
)
def shaft_plunge_ground(build: Build, part: Any) -> Verdict:
    """Has each propshaft slip travel left at bump and droop, and is the room to the ground kept?

    Computes: how the shaft's length changes as its driven end rises, falls and moves along the vehicle; also where the
    shaft lies level on the way, which is where it is shortest.
    Limit: common practice: 10 mm before the slip joint bottoms; 15 mm and two thirds of the spline engaged when it is
    drawn out most (errors). A tenth of the ground clearance lost at most, unless a plate guards it (a note).
    Consequence: A shaft bottoms and breaks the gearbox or pulls out and thrashes, or low parts are torn off.
    Remedy: the shaft longer or shorter by what the sentence names, which leaves the same to spare both ways.
    Cannot tell: worn splines, and how leaf springs really move: measure with the axle jacked up and let down. A shaft
    that bottoms breaks the gearbox; one that pulls out is lost, and thrashes.
    """
    if path_of(part) == GROUND:
        return _ground(build)
    path, name = path_of(part), name_of(part)
    inward, outward = q.slip_in_left(build, part), q.slip_out_left(build, part)
    spline = given(lambda: part.spline_length)
    engaged = max(TO_APART, SPLINE_SHARE * spline) if spline is not None else TO_APART
    longer = ((inward - TO_BOTTOM) - (outward - engaged)) / 2.0
    says = f"{name}: {shown(inward)} to the bottom where it is shortest, {shown(outward)} engaged where it is longest"
    if inward < TO_BOTTOM or outward < engaged:
        change = "longer" if longer > 0.0 else "shorter"
        says += f"; {shown(abs(longer), *MM, digits=3)} {change}, it would have the same to spare both ways"
    return all_of(
        at_least(inward, TO_BOTTOM, f"{says}.", on=f"{path}.slip_in", unit=MM),
        at_least(outward, engaged, f"{says}.", on=f"{path}.slip_out", unit=MM),
    )


def _ground(build: Build) -> Verdict:
    clearance, lost = build.vehicle.ground_clearance, q.ground_lost(build)
    says = f"{shown(clearance.before)} before, {shown(clearance.after)} after"
    if lost > GROUND_SHARE and clearance.guarded:
        return holds(True, f"{says}; a plate guards the lowest part.")
    return at_most(lost, GROUND_SHARE, f"{says}.", level="note", on=f"{GROUND}.after")
