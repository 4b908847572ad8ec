"""The rule about what moves under the vehicle: slip joints, and the room to the ground."""

from __future__ import annotations

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
    name_of,
    needs_review,
    path_of,
    practice,
    rule,
    shown,
)

from .. import sources
from ..gearing import chain, places
from . import quantities as q

MM = ("length", "mm")
GROUND = "vehicle.ground_clearance"
SLIP = practice("a slip joint keeps 10 mm before it bottoms, and 15 mm and two thirds of its spline when drawn out")
CLEARANCE = practice("a swap takes at most a tenth of the ground clearance, unless a plate guards what hangs lower")
TO_BOTTOM, TO_APART, SPLINE_SHARE = 0.010, 0.015, 2 / 3
GROUND_SHARE = 0.10
HALF_MM = 0.0005
ODD_RISE = 2.5
"""How many times the wheels' bump travel, or what part of it, the driven end of a shaft may rise."""


def shafts_and_ground(build: Build) -> list[Any]:
    """The shafts that follow an axle, and the ground clearance."""
    return [*q.slipping_shafts(build), build.vehicle.ground_clearance]


@rule(
    "fit.shaft-plunge-ground",
    level="error",
    due="build",
    sources=[
        SLIP.giving("limit", "travel left both ways"),
        CLEARANCE.giving("limit", "a tenth"),
        sources.SOLID_GEOMETRY.giving("formula", "length of the shaft over the travel"),
    ],
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
    shaft lies level on the way, which is where it is shortest. A final drive that hangs on the frame does not move. A
    rise of less than 0.4 or more than 2.5 times the bump travel of the wheels there is looked at again.
    Limit: common practice: 10 mm before the slip joint bottoms; 15 mm and two thirds of the spline engaged when it is
    drawn out most (errors). A tenth of the ground clearance lost at most, unless a plate guards it (a note).
    Consequence: A shaft bottoms and breaks the gearbox or pulls out and thrashes, or low parts are torn off.
    Remedy: the shaft longer or shorter by what the sentence names, which leaves the same to spare both ways.
    Cannot tell: worn splines, and how leaf springs really move: measure with the axle jacked up and let down.
    """
    if path_of(part) == GROUND:
        return all_of(ground_clearance=lambda: _ground(build))
    odd = given(lambda: _odd_rise(build, part))
    return all_of(
        {"rise-sense": lambda: odd} if odd else {},
        slip_in=lambda: _slip_in(build, part),
        slip_out=lambda: _slip_out(build, part),
    )


def _odd_rise(build: Build, shaft: Any) -> Verdict | None:
    """The verdict on a rise that the wheels' bump travel does not make; None where it makes sense or is not known."""
    if not chain.moves_with_the_wheels(build, shaft):
        return None
    axle = build.driveline.axles.get(str(shaft.drives))
    if axle is None:  # driveline.housing-match says that no axle is called so
        return None
    end = places.end_of(build, axle)
    bump = getattr(build.vehicle.suspension, end).bump_clearance
    if bump / ODD_RISE <= shaft.bump_rise <= ODD_RISE * bump:
        return None
    says = f"{name_of(shaft)}: its driven end is said to rise by {shown(shaft.bump_rise)} to the bump stop, and the "
    says += f"{end} wheels have {shown(bump)}: measure both again."
    return needs_review(says, on=f"{path_of(shaft)}.bump_rise", found=shaft.bump_rise)


def _slip_in(build: Build, shaft: Any) -> Verdict:
    left = q.slip_in_left(build, shaft)
    says = f"{name_of(shaft)}: {shown(left)} to the bottom where it is shortest"
    if left < TO_BOTTOM:
        says += _another_length(build, shaft)
    return at_least(left, TO_BOTTOM, f"{says}.", on=f"{path_of(shaft)}.slip_in", unit=MM)


def _slip_out(build: Build, shaft: Any) -> Verdict:
    left = q.slip_out_left(build, shaft)
    # What is drawn out too far for any spline needs nobody to know its length.
    needed = TO_APART if left < TO_APART else max(TO_APART, SPLINE_SHARE * shaft.spline_length)
    if left >= needed and shaft.slip_out > shaft.spline_length:
        says = f"{name_of(shaft)}: {shown(shaft.slip_out)} of spline are said to be engaged at ride height, and it has "
        says += f"{shown(shaft.spline_length)} in all: measure both."
        return needs_review(says, on=f"{path_of(shaft)}.slip_out")
    says = f"{name_of(shaft)}: {shown(left)} engaged where it is longest"
    if left < needed:
        says += _another_length(build, shaft)
    return at_least(left, needed, f"{says}.", on=f"{path_of(shaft)}.slip_out", unit=MM)


def _engaged(shaft: Any) -> float:
    """The spline that must stay engaged."""
    spline = given(lambda: shaft.spline_length)
    return TO_APART if spline is None else max(TO_APART, SPLINE_SHARE * spline)


def _another_length(build: Build, shaft: Any) -> str:
    """What to say of a shaft of another length; nothing where one way is not known."""
    spare = given(lambda: (q.slip_in_left(build, shaft) - TO_BOTTOM, q.slip_out_left(build, shaft) - _engaged(shaft)))
    if spare is None:
        return ""
    longer, rest = (spare[0] - spare[1]) / 2.0, (spare[0] + spare[1]) / 2.0
    if rest < HALF_MM:
        return "; no other length does, it takes a longer slip joint"
    change = "longer" if longer > 0.0 else "shorter"
    length = shown(round(abs(longer) * 1000.0) / 1000.0, *MM)
    return f"; a shaft {length} {change} would have {shown(rest, *MM, digits=2)} more than it needs at either end"


def _ground(build: Build) -> Verdict:
    clearance, lost = build.vehicle.ground_clearance, q.ground_lost(build)
    says = f"{shown(clearance.before)} before, {shown(clearance.after)} after"
    if lost > GROUND_SHARE and clearance.guarded:
        return holds(True, f"{says}; a plate guards the lowest part.")
    guarded = advice(f"{GROUND}.guarded", True)
    return at_most(lost, GROUND_SHARE, f"{says}.", level="note", on=f"{GROUND}.after", advice=guarded)
