"""Rules about vibration: what mounts keep from the frame, and where the unit would shake by itself."""

from __future__ import annotations

import math

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    at_least,
    holds,
    path_of,
    practice,
    rule,
    shown,
)
from swaplint.engineering import vibration

from .. import sources
from . import quantities as q

ISOLATION = practice("idle firing at least twice the natural frequency on the mounts, two and a half times to be good")
ORDERS = practice("the roll mode keeps 15 % from half and whole turns of the crank at idle")

BEGINS, ENOUGH, GOOD = math.sqrt(2.0), 2.0, 2.5
LOWEST_BOUNCE = 6.0
"""Hz; below it the unit bounces with axles and body: common practice."""
ORDER_CLEAR = 0.15
HERTZ = ("frequency", "Hz")


@rule(
    "mounts.isolation",
    level="warning",
    due="build",
    sources=[sources.SPRINGS_AND_MASSES, sources.SHOCK_HANDBOOK, ISOLATION],
    adjust=["engine.speed.idle"],
    about="vehicle.mounts",
    bad=[
        {"vehicle.mounts.*.axial_stiffness": "700 N/mm", "vehicle.engine_unit.roll_inertia": "32 kg m2"},
        {"vehicle.mounts.rear_left.kind": "rigid"},
    ],
    good=[{"engine.speed.idle": "900 r/min"}],
)
def isolation(build: Build) -> Verdict:
    """Do the mounts keep the firing of the idling engine from the frame?

    Computes: bounce frequency f = √(Σk/M)/(2π) with dynamic stiffness, firing frequency at idle, and their ratio R;
    without damping 1/(R² − 1) of the shaking force comes through.
    Limit: R of 2 (a warning), 2.5 to be good; below √2 mounts make it worse than none (an error). Bounce above 6 Hz, to
    stay clear of axles and body (a note). Common practice. A rigid mount lets everything through.
    Consequence: The whole cab shakes at idle, or the engine heaves with every bump of the road.
    Remedy: mounts of the total stiffness in the sentence, shared by all of them as now, or a higher idle where the
    engine maker allows one. A diesel's lower idle and fewer cylinders make the mounts of a petrol engine too hard.
    Cannot tell: a soft cross-member, which undoes soft mounts: where they are bolted it should be five to ten times as
    stiff as they are; and pitch, yaw and roll, see mounts.roll-mode.
    """
    solid = [
        holds(False, "A rigid mount passes on all that shakes: use rubber here too.", on=f"{path_of(mount)}.kind")
        for mount in q.rigid_mounts(build)
    ]
    if solid:
        return all_of(*solid, default="warning")
    ratio, bounce = q.isolation_ratio(build), q.bounce_frequency(build)
    says = (
        f"Idle firing at {shown(q.firing_frequency(build))}, bounce at {shown(bounce)}: ratio {ratio:.2f}. "
        f"Together the mounts have {shown(q.vertical_stiffness(build))}"
    )
    return all_of(
        at_least(ratio, ENOUGH, f"{says}{_softer(build, ratio)}.", level="error" if ratio < BEGINS else "warning"),
        at_least(bounce, LOWEST_BOUNCE, f"{says}{_harder(build, bounce)}.", level="note"),
        default="warning",
    )


def _softer(build: Build, ratio: float) -> str:
    """Which stiffness, and which idle speed, would isolate; nothing where it is good as it is."""
    if ratio >= GOOD:
        return ""
    softest = vibration.stiffness_for_ratio(q.unit_mass(build), q.firing_frequency(build), GOOD)
    says = f"; {_in_all(softest)} would give 2.5"
    if ratio < ENOUGH:
        idle = build.engine.speed.idle * ENOUGH / ratio
        says += f". With these mounts an idle of {shown(idle, 'rotation', 'r/min', digits=3)} would give 2"
    return says


def _harder(build: Build, bounce: float) -> str:
    """Which stiffness would bring bounce clear of axles and body; nothing where it is clear."""
    if bounce >= LOWEST_BOUNCE:
        return ""
    hardest = vibration.stiffness_for_ratio(q.unit_mass(build), LOWEST_BOUNCE, 1.0)
    return (
        f". Below {LOWEST_BOUNCE:g} Hz bounce comes near the natural frequencies of axles and body; "
        f"{_in_all(hardest)} would lift it there"
    )


def _in_all(stiffness: float) -> str:
    return f"{shown(stiffness, 'stiffness', 'N/mm', digits=3)} in all"


@rule(
    "mounts.roll-mode",
    level="warning",
    due="build",
    sources=[sources.SPRINGS_AND_MASSES, ISOLATION, ORDERS],
    fallbacks=[q.GYRATION],
    adjust=["engine.speed.idle"],
    about="vehicle.mounts",
    bad=[{"vehicle.engine_unit.roll_inertia": "3 kg m2"}, {"vehicle.engine_unit.roll_inertia": "6.6 kg m2"}],
    good=[{"vehicle.engine_unit.roll_inertia": "20 kg m2"}],
)
def roll_mode(build: Build) -> Verdict:
    """Is the unit's roll mode clear of idle firing and of half and whole turns of the crank?

    Computes: the two coupled modes of bounce and roll about the centre of gravity; the one with most of its energy in
    roll counts.
    Limit: idle firing at least twice the roll mode; the mode not within 15 % of half a turn or a whole turn of the
    crank at idle, which uneven cylinders and an unbalanced crank excite. Common practice.
    Consequence: The engine rocks at idle and shakes the whole vehicle.
    Remedy: mounts further apart or harder raise the mode, nearer or softer ones lower it; the sentence says how much.
    Or another idle, where the engine maker allows one.
    Cannot tell: side, pitch and yaw, which couple too: six degrees of freedom in all. An estimated moment of inertia is
    good to a quarter.
    """
    mode, ratio = q.roll_mode(build), q.roll_ratio(build)
    both = f"Roll mode at {shown(mode)}, bounce mode at {shown(q.bounce_mode(build))}"
    says = f"{both}; idle firing at {shown(q.firing_frequency(build))}, {ratio:.2f} times the roll."
    if ratio < ENOUGH:
        says += f" Mounts {(ratio / ENOUGH) ** 2:.2f} times as stiff would make it 2."
    return all_of(
        at_least(ratio, ENOUGH, says),
        *(_clear_of(build, mode, order, both) for order in (0.5, 1.0)),
        default="warning",
    )


def _clear_of(build: Build, mode: float, order: float, both: str) -> Verdict:
    excited = vibration.order_frequency(build.engine.speed.idle, order)
    low, high = (1.0 - ORDER_CLEAR) * excited, (1.0 + ORDER_CLEAR) * excited
    turns = "half the speed" if order == 0.5 else "the speed"
    says = f"{both}; {turns} of the crank at idle is {shown(excited, *HERTZ)}."
    if low < mode < high:
        says += f" Mounts {(low / mode) ** 2:.2f} or {(high / mode) ** 2:.2f} times as stiff would clear it."
    return at_least(abs(mode - excited), ORDER_CLEAR * excited, says, unit=HERTZ)
