"""Rules about vibration: what mounts keep from the frame, and where the unit would shake by itself."""

from __future__ import annotations

import math
from functools import partial
from typing import Literal

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    given,
    holds,
    name_of,
    needs_review,
    path_of,
    practice,
    rule,
    shown,
)
from swaplint.engineering import vibration
from swaplint.spec.systems.mounts import Mount

from .. import sources
from . import quantities as q

ISOLATION = practice("idle firing at least twice the natural frequency on the mounts, two and a half times to be good")
BOUNCE = practice("bounce at 6 Hz or more, clear of axles and body; no rigid mount among soft ones")
ORDERS = practice("the roll mode keeps 15 % from half and whole turns of the crank at idle")

BEGINS, ENOUGH, GOOD = math.sqrt(2.0), 2.0, 2.5
ODD = 3.0
"""How many times the usual moment of inertia, or what part of it, a unit may have; the estimate is within a quarter."""
LOWEST_BOUNCE = 6.0
"""Hz; below it the unit bounces with axles and body."""
ORDER_CLEAR = 0.15
HERTZ = ("frequency", "Hz")
STEP = 1000.0
"""N/m: a stiffness to aim at is said in whole N/mm, rounded so that it is enough."""
Level = Literal["error", "warning"]


@rule(
    "mounts.isolation",
    level="warning",
    due="build",
    sources=[
        ISOLATION.giving("limit", "idle firing over bounce"),
        BOUNCE.giving("limit", "lowest bounce, rigid mounts"),
        sources.SPRINGS_AND_MASSES.giving("formula", "natural frequency, isolation from √2 on"),
    ],
    fallbacks=[q.UPRIGHT],
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
    Remedy: mounts of the total stiffness that the sentence names, shared by all of them as now, or a higher idle where
    the engine maker allows one. A diesel's lower idle and fewer cylinders make the mounts of a petrol engine too hard.
    Cannot tell: a soft cross-member, which undoes soft mounts: where they are bolted it should be five to ten times as
    stiff as they are; and pitch, yaw and roll, see mounts.roll-mode.
    """
    solid = {f"no-rigid.{name_of(mount)}": partial(_rigid, mount) for mount in q.rigid_mounts(build)}
    return all_of(solid or {"idle-firing": lambda: _idle_firing(build), "bounce": lambda: _bounce(build)})


def _rigid(mount: Mount) -> Verdict:
    return holds(False, "A rigid mount passes on all that shakes: use rubber here too.", on=f"{path_of(mount)}.kind")


def _idle_firing(build: Build) -> Verdict:
    ratio = q.isolation_ratio(build)
    says = (
        f"Idle firing at {shown(q.firing_frequency(build))}, bounce at {shown(q.bounce_frequency(build))}: ratio "
        f"{ratio:.2f}. {_together(build)}"
    )
    if ratio < GOOD:
        softest = vibration.stiffness_for_ratio(q.unit_mass(build), q.firing_frequency(build), GOOD)
        says += f"; {_in_all(math.floor(softest / STEP) * STEP)} would give {GOOD:g}"
    on = "engine.speed.idle"
    idle = build.engine.speed.idle * ENOUGH / ratio
    level: Level = "error" if ratio < BEGINS else "warning"
    return at_least(ratio, ENOUGH, f"{says}.", level=level, advice=advice(on, idle))


def _bounce(build: Build) -> Verdict:
    bounce = q.bounce_frequency(build)
    says = f"Bounce at {shown(bounce)}. {_together(build)}"
    if bounce < LOWEST_BOUNCE:
        hardest = vibration.stiffness_for_ratio(q.unit_mass(build), LOWEST_BOUNCE, 1.0)
        says += f". Below {LOWEST_BOUNCE:g} Hz bounce comes near the natural frequencies of axles and body; "
        says += f"{_in_all(math.ceil(hardest / STEP) * STEP)} would lift it there"
    return at_least(bounce, LOWEST_BOUNCE, f"{says}.", level="note")


def _together(build: Build) -> str:
    return f"Together the mounts have {shown(q.vertical_stiffness(build))}"


def _in_all(stiffness: float) -> str:
    return f"{shown(stiffness, 'stiffness', 'N/mm')} in all"


@rule(
    "mounts.roll-mode",
    level="warning",
    due="build",
    sources=[
        ISOLATION.giving("limit", "idle firing over roll"),
        ORDERS.giving("limit", "15 %"),
        sources.SPRINGS_AND_MASSES.giving("formula", "coupled modes of bounce and roll"),
    ],
    fallbacks=[q.GYRATION, q.UPRIGHT],
    about="vehicle.mounts",
    bad=[{"vehicle.engine_unit.roll_inertia": "3 kg m2"}, {"vehicle.engine_unit.roll_inertia": "6.6 kg m2"}],
    good=[{"vehicle.engine_unit.roll_inertia": "20 kg m2"}],
)
def roll_mode(build: Build) -> Verdict:
    """Is the unit's roll mode clear of idle firing and of half and whole turns of the crank?

    Computes: the two coupled modes of bounce and roll about the centre of gravity; the one with most of its energy in
    roll counts.
    Limit: idle firing at least twice the roll mode; the mode not within 15 % of half a turn or a whole turn of the
    crank at idle, which uneven cylinders and an unbalanced crank excite. Common practice. A stated moment of inertia
    of three times what mass and width make, or a third of it, is looked at again.
    Consequence: The engine rocks at idle and shakes the whole vehicle.
    Remedy: mounts further apart or harder raise the mode, nearer or softer ones lower it; the sentence says how much.
    Or another idle, where the engine maker allows one.
    Cannot tell: side, pitch and yaw, which couple too: six degrees of freedom in all. An estimated moment of inertia is
    good to a quarter.
    """
    odd = given(lambda: _odd_inertia(build))
    return all_of(
        {"inertia-sense": lambda: odd} if odd else {},
        idle_firing=lambda: _clear_of_firing(build),
        half_turn=lambda: _clear_of_order(build, 0.5),
        whole_turn=lambda: _clear_of_order(build, 1.0),
    )


def _odd_inertia(build: Build) -> Verdict | None:
    """The verdict on a stated inertia that no unit of this mass and width has; None where it makes sense."""
    unit = build.vehicle.engine_unit
    stated, usual = unit.roll_inertia, q.unit_mass(build) * (q.GYRATION.value * unit.width) ** 2
    if usual / ODD <= stated <= ODD * usual:
        return None
    says = f"A unit of {shown(q.unit_mass(build))} and {shown(unit.width)} across has about "
    says += f"{shown(usual, 'inertia', 'kg m2', digits=2)} in roll; {shown(stated)} are stated: look at it again."
    return needs_review(says, on="vehicle.engine_unit.roll_inertia", found=stated)


def _clear_of_firing(build: Build) -> Verdict:
    ratio = q.roll_ratio(build)
    says = f"{_modes(build)}; idle firing at {shown(q.firing_frequency(build))}, {ratio:.2f} times the roll."
    if ratio < ENOUGH:
        says += (
            f" Mounts {_less((ratio / ENOUGH) ** 2)} times as stiff would make it {ENOUGH:g}; {SOFTER}: look again at "
        )
        says += "every gap around it, at its hoses and at what carries its torque."
    return at_least(ratio, ENOUGH, says)


def _clear_of_order(build: Build, order: float) -> Verdict:
    mode, excited = q.roll_mode(build), vibration.order_frequency(build.engine.speed.idle, order)
    low, high = (1.0 - ORDER_CLEAR) * excited, (1.0 + ORDER_CLEAR) * excited
    turns = "half as fast as the crank turns" if order == 0.5 else "as fast as the crank turns"
    says = f"{_modes(build)}; the engine shakes it at {shown(excited, *HERTZ)}, {turns} at idle."
    if low < mode < high:
        more = math.ceil(100.0 * (high / mode) ** 2) / 100.0
        says += f" So near together it rocks. Mounts {_less((low / mode) ** 2)} or {more:.2f} times as stiff clear it; "
        says += (
            f"{SOFTER} and harder ones pass on more of its shaking: look again at every gap and at what else mounts do."
        )
    return at_least(mode, high, says, unit=HERTZ) if mode >= excited else at_most(mode, low, says, unit=HERTZ)


SOFTER = "softer ones let the unit move further"


def _modes(build: Build) -> str:
    return f"Left to itself the unit rolls at {shown(q.roll_mode(build))} and bounces at {shown(q.bounce_mode(build))}"


def _less(factor: float) -> str:
    """A factor that must not be exceeded, in hundredths rounded down."""
    return f"{math.floor(100.0 * factor) / 100.0:.2f}"
