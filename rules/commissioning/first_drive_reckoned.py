"""What was reckoned for the first drive, at the conditions in which it was measured."""

from __future__ import annotations

import math
from typing import Any

from swaplint.api import Build, Verdict, given, name_of, path_of, shown
from swaplint.engineering import gears
from swaplint.spec.systems.fit import Clearance

from ..driveline.quantities import in_degrees
from ..gearing import quantities as gearing
from ..mounts import movement as mounts
from .compared import Assumption, compare, of_field
from .trials import LAUNCH, SHIFTING

MM = ("length", "mm")
DEG = ("angle", "deg")
STIFF_SHARE = 0.25
"""How far the stiffness of rubber mounts is usually off: common practice, estimates of dynamic stiffness ±25 %."""
SOFTEST = 0.05
"""As what share of its stiffness a mount that gives way may act; more room than in the worst case needs no words."""
GAP_SHARE = 0.1
SET = math.radians(0.5)
"""How far gearbox and pinion are usually set off their planned slopes."""
SUNK = 0.1
"""How far a laden vehicle usually stands off its planned height, as a share of the way to the stop."""
LEAST_STEP = 0.99
"""The next ratio over this one at the most: with less of a step there is no shift."""
LOSS_SPREAD, STEP_SHARE, MAP_SHARE = 5.24, 0.01, 0.02
"""Spread of the speed lost in a shift, 50 r/min in rad/s; how far the step of two gears and a shift map are off."""


# -- gaps -------------------------------------------------------------------------------------------------------------
def gap_left(build: Build, gap: Clearance) -> Verdict:
    """The least gap in the trial, against what is reckoned to be left in the worst case."""
    rest, moves = mounts.gap_at_rest(gap), mounts.movement_or_allowed(build, gap)
    at_bump = gap.kind in ("axle", "propshaft")
    field = f"{path_of(gap)}.{'gap_at_bump' if at_bump else 'gap'}"
    assumptions = [
        of_field(
            build,
            field,
            lambda other: mounts.gap_at_rest(other.vehicle.clearances[name_of(gap)]) - moves,
            lambda x: f"a gap at rest of {shown(x, *MM, digits=2)}",
            GAP_SHARE,
            f"that gap again at rest, into {field}",
        ),
        Assumption(
            lambda x: f"mounts that give way as if {x:.2g} times as stiff as stated",
            lambda x: rest - moves / x,
            1.0,
            STIFF_SHARE,
            (SOFTEST, 1.0),
            "how far the engine sinks on its mounts, and whether a bolt, stop or bracket gives way",
        ),
    ]
    return compare(
        build,
        f"{LAUNCH}.gaps.{name_of(gap)}.least",
        rest - moves,
        assumptions,
        what=f"Least gap {name_of(gap)}",
        when=" for the worst case",
        never_less=True,
    )


# -- shafts -----------------------------------------------------------------------------------------------------------
def joint_angle(build: Build, shaft: Any, joint: Any, on: str) -> Verdict:
    """The angle of a joint, laden, against the planned one at laden ride height."""
    planned = joint.ride
    bump, droop = given(lambda: joint.bump), given(lambda: joint.droop)

    def on_the_way(share: float) -> float:
        end = bump if share > 0.0 else droop
        return float(planned if end is None else planned + abs(share) * (end - planned))

    sunk = Assumption(
        lambda x: (
            f"a vehicle that stands {shown(abs(x), 'share', '%', digits=2)} of the way to its "
            f"{'bump' if x > 0.0 else 'droop'} stop beyond the planned height"
        ),
        on_the_way,
        0.0,
        SUNK,
        (-1.0, 1.0),
        "the height of the frame over that axle, laden as in the trial",
    )
    turned = Assumption(
        lambda x: f"a gearbox or pinion that is set {in_degrees(abs(x))} off its planned slope",
        lambda x: planned + x,
        0.0,
        SET,
        (-math.radians(30.0), math.radians(30.0)),
        f"the slopes at trial fit again, into {path_of(joint)}.ride",
    )
    moves = bump is not None and droop is not None and bump != droop
    return compare(
        build,
        on,
        planned,
        [turned, sunk if moves else None],
        what=f"Angle of the {name_of(joint).replace('_', ' ')} of {name_of(shaft)}",
        when=" at laden ride height",
        kind=DEG,
    )


# -- shifting ---------------------------------------------------------------------------------------------------------
def landing(build: Build, ratios: tuple[float, float]) -> Verdict:
    """Engine speed after the up-shift."""
    trial = build.measured.shifting
    (first, second), loss, before = ratios, gearing.shift_loss(build), trial.before

    def lands(step: float, lost: float) -> float:
        return gears.speed_after_upshift(before, 1.0, step, lost)

    step = second / first
    assumptions = [
        Assumption(
            lambda x: (
                f"a shift that loses {shown(x, 'rotation', 'r/min', digits=2)}: the driver, or a clutch that drags"
            ),
            lambda x: lands(step, x),
            loss,
            LOSS_SPREAD,
            (0.0, 0.9 * before * step),
            "the same shift again, by another driver",
        )
        if loss > 0.0
        else Assumption(
            lambda x: f"a clutch or converter that slips by {shown(x, 'share', '%', digits=2)} after the shift",
            lambda x: lands(step, 0.0) * (1.0 + x),
            0.0,
            0.05,
            (0.0, 0.9),
            "the speed of the gearbox's output at the same moment",
        ),
        Assumption(
            lambda x: f"a next gear of {x * first:.3g} instead of {second:.3g}, or another shift than the one noted",
            lambda x: lands(x, loss),
            step,
            STEP_SHARE * step,
            (0.2 * step, LEAST_STEP),
            "the turns of the gearbox's input for one of its output in both gears, by hand",
        ),
    ]
    when = f" for a shift at {shown(before)}"
    return compare(build, f"{SHIFTING}.after", lands(step, loss), assumptions, what="Speed after the shift", when=when)


def shift_map(build: Build) -> Verdict:
    """Engine speed at which an automatic shifts, against its map."""
    path = "driveline.gearbox.controller.shift_speed_max"
    assumptions = [
        of_field(
            build,
            path,
            lambda other: other.driveline.gearbox.controller.shift_speed_max,
            lambda x: f"a map that shifts at {shown(x, 'rotation', 'r/min', digits=3)}",
            MAP_SHARE,
            "the map in the gearbox's controller, with its maker's tool",
        )
    ]
    speed = build.driveline.gearbox.controller.shift_speed_max
    return compare(build, f"{SHIFTING}.before", speed, assumptions, what="Speed of the shift", when=" by its map")
