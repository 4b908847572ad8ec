"""The rules about made brackets and cross-members: bending and welds."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Literal

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_least,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    name_of,
    needs_review,
    path_of,
    practice,
    quantity,
    rule,
    shown,
)
from swaplint.engineering import beams
from swaplint.spec.systems.brackets import Bracket, CrossMember, SteelSection
from swaplint.spec.systems.mounts import Mount

from .. import sources
from . import quantities as q

SAFETY = practice(
    "made brackets and cross-members with a safety of 2 on yield, and on the weld's strength, under shock"
)
WANTED, YIELDS = 2.0, 1.0
"""The safety that is wanted for what is not known; below the second it bends at the first hard blow."""
FRAME = "frame"
MPA = ("stress", "MPa")


# -- sections ---------------------------------------------------------------------------------------------------------
def modulus(section: SteelSection) -> float:
    """Section modulus of plates on edge or of a box."""
    if section.shape == "box":
        return beams.box_modulus(section.depth, section.width, section.wall)
    return beams.plate_modulus(section.depth, section.wall, int(section.plates))


def yield_strength(section: SteelSection) -> float:
    """Yield strength of the steel: as its certificate says, else the least that its class has."""
    if section.steel == "other":
        return section.yield_strength
    return beams.yield_of_steel(section.steel, section.wall)


def brackets(build: Build) -> list[Mount]:
    """The mounts whose bracket is not stated as one that nobody made."""
    return [mount for mount in q.mounts(build) if given(partial(is_fitted, mount.bracket)) is not False]


def cross_members(build: Build) -> list[CrossMember]:
    """The made cross-members."""
    listed = given(lambda: list(build.vehicle.cross_members.values())) or []
    return [member for member in listed if given(partial(is_fitted, member)) is not False]


def carried(build: Build, member: CrossMember) -> list[Mount]:
    """The mounts that sit on a cross-member."""
    return [mount for mount in q.mounts(build) if mount.sits_on == name_of(member)]


# -- numbers ----------------------------------------------------------------------------------------------------------
@quantity(
    "mounts.bracket-stress",
    "stress",
    "MPa",
    formula="σ = F·arm/W, F mounts.bracket-force: shock and the torque at which the tyres slip; W = n·t·h²/6 for "
    "plates, (b·h³ − b_i·h_i³)/(6·h) for a box",
    sources=[sources.MACHINE_DESIGN.giving("formula")],
    each=brackets,
)
def bracket_stress(build: Build, mount: Mount) -> float:
    """Bending stress at the root of a mount's bracket."""
    return q.bracket_force(build, mount) * mount.bracket.arm / modulus(mount.bracket)


@quantity(
    "mounts.bracket-weld-stress",
    "stress",
    "MPa",
    formula="√((F·arm/W)² + (F/A)²) over the upright runs, each counted two throats shorter",
    sources=[
        sources.MACHINE_DESIGN.giving("formula", "bending and shear in a weld's throat"),
        sources.WELDS.giving("formula", "runs counted two throats shorter"),
    ],
    each=brackets,
)
def weld_stress(build: Build, mount: Mount) -> float:
    """Stress in the welds at the root of a mount's bracket."""
    piece: Bracket = mount.bracket
    box = piece.shape == "box"
    runs, flange = (2, piece.width) if box else (2 * int(piece.plates), 0.0)
    force = q.bracket_force(build, mount)
    return beams.weld_stress(force, piece.arm, piece.depth, piece.weld_throat, runs, flange)


@quantity(
    "mounts.cross-member-stress",
    "stress",
    "MPa",
    formula="σ = M/W, M greatest moment of a beam on two supports under mounts.bracket-force of each mount on it, all "
    "at once and downwards",
    sources=[sources.MACHINE_DESIGN.giving("formula")],
    each=cross_members,
)
def cross_member_stress(build: Build, member: CrossMember) -> float:
    """Bending stress in a cross-member."""
    middle = given(lambda: member.middle) or 0.0
    loads = [(q.bracket_force(build, m), 0.5 * member.span + m.y - middle) for m in carried(build, member)]
    return beams.greatest_moment(member.span, loads) / modulus(member)


# -- rules ------------------------------------------------------------------------------------------------------------
@rule(
    "mounts.bracket-strength",
    level="error",
    due="build",
    sources=[
        sources.STEELS.giving("limit", "least yield and tensile strength by class"),
        sources.WELDS.giving("limit", "strength of a fillet weld"),
        SAFETY.giving("limit", "safety of 2: below it a warning"),
        sources.MACHINE_DESIGN.giving("formula", "bending of plates and boxes"),
    ],
    cautions=[cautions.FRAME],
    fallbacks=[q.SHOCK_ROAD, q.SHOCK_OFF_ROAD, q.SHOCK_ALONG, *q.AS_SPRINGS],
    about="vehicle.mounts",
    each=brackets,
    bad=[
        {"vehicle.mounts.front_left.bracket.wall": "3 mm"},
        {"vehicle.mounts.front_left.bracket.weld_throat": "1.5 mm"},
        {"vehicle.mounts.front_left.bracket.arm": "300 mm"},
    ],
    good=[
        {"vehicle.mounts.front_left.bracket.steel": "S355"},
        {"vehicle.mounts.front_left.bracket": {"fitted": False}},
    ],
)
def bracket_strength(build: Build, mount: Mount) -> Verdict:
    """Do made brackets bear shock and full torque without bending, and do their welds hold?

    Computes: the greater of vertical shock with the torque at which the tyres slip, and shock along the vehicle; the
    bending stress that it brings into plates or box at the root, and the stress in the upright fillet welds.
    Limit: yield of the steel's class by EN 10025-2, and the strength of a fillet weld by EN 1993-1-8, with a safety of
    2 for what is not known. Below the safety it is a warning, beyond yield or weld strength an error.
    Consequence: The bracket bends or its weld tears; the engine swings into fan, pipes or steering.
    Remedy: a deeper bracket, a shorter arm, a second plate, a larger throat. Let a licensed engineer judge it.
    Cannot tell: fatigue. Idle and road shake bend it millions of times, and a weld's toe or a notch then cracks far
    below yield; a safety on one hard blow says nothing of that. Nor quality of the welds, holes and sharp corners,
    buckling of thin plates, twist, the frame where the force enters it. A mount's bracket that its maker made and that
    is used as it is says fitted = false.
    """
    if not is_fitted(mount.bracket):
        return does_not_apply("Nobody made a bracket for it.")
    demands: dict[str, Callable[[], Verdict]] = {"bending": lambda: _bending(build, mount)}
    if given(lambda: mount.bracket.welded) is not False:
        demands["weld"] = lambda: _weld(build, mount)
    return all_of(demands)


def _bending(build: Build, mount: Mount) -> Verdict:
    stress, most = bracket_stress(build, mount), yield_strength(mount.bracket)
    says = (
        f"{shown(q.bracket_force(build, mount))} bring {shown(stress)} to its root; its steel yields at "
        f"{shown(most, *MPA)}."
    )
    on = f"{path_of(mount.bracket)}.depth"
    return _safe(most / stress if stress > 0.0 else None, says, on, mount.bracket)


def _weld(build: Build, mount: Mount) -> Verdict:
    piece = mount.bracket
    if not piece.welded:
        return does_not_apply("Its arm is not welded.")
    if piece.steel == "other":
        return needs_review("The weld of a steel outside EN 10025-2 is not judged here.", on=f"{path_of(piece)}.steel")
    stress, most = weld_stress(build, mount), beams.weld_strength(piece.steel)
    says = f"The welds at its root bear {shown(stress)}; their strength is {shown(most, *MPA)}."
    return _safe(most / stress, says, f"{path_of(piece)}.weld_throat")


def _safe(safety: float | None, says: str, on: str, section: SteelSection | None = None) -> Verdict:
    if safety is None:
        return holds(True, "Nothing bends it.", on=on)
    deeper = None
    if section is not None and safety < WANTED and section.shape == "plates":
        deeper = section.depth * (WANTED / safety) ** 0.5
    says = f"{says[:-1]}: a safety of {safety:.2f}."
    level: Literal["error", "warning"] = "error" if safety < YIELDS else "warning"
    return at_least(safety, WANTED, says, level=level, on=on, advice=advice(on, deeper))


def members_and_names(build: Build) -> list[CrossMember | str]:
    """The made cross-members, and the names of those that a mount sits on and that are not described."""
    found = cross_members(build)
    known = {FRAME, *(name_of(member) for member in found)}
    named = {given(partial(getattr, mount, "sits_on")) or FRAME for mount in q.mounts(build)}
    return [*found, *sorted(named - known)]


@rule(
    "mounts.cross-member",
    level="error",
    due="build",
    sources=[
        sources.STEELS.giving("limit", "least yield by class"),
        SAFETY.giving("limit", "safety of 2: below it a warning"),
        sources.MACHINE_DESIGN.giving("formula", "beam on two supports under point loads"),
    ],
    cautions=[cautions.FRAME],
    fallbacks=[q.SHOCK_ROAD, q.SHOCK_OFF_ROAD, q.SHOCK_ALONG, *q.AS_SPRINGS],
    about="vehicle.cross_members",
    each=members_and_names,
    bad=[{"vehicle.cross_members.rear.depth": "30 mm"}, {"vehicle.cross_members.rear.span": "1400 mm"}],
    good=[{"vehicle.cross_members.rear.steel": "S355"}],
)
def cross_member(build: Build, member: CrossMember | str) -> Verdict:
    """Does a made cross-member bear the mounts that sit on it, under shock and full torque?

    Computes: the force of each mount under shock and the torque at which the tyres slip, all at once and downwards, on
    a beam that only rests on the two rails; the greatest bending stress in it.
    Limit: yield of the steel's class by EN 10025-2, with a safety of 2 for what is not known. Below the safety it is a
    warning, beyond yield an error.
    Consequence: The cross-member bends or cracks, and gearbox and shafts drop out of line or onto the road.
    Remedy: a deeper section, a thicker wall, mounts nearer to the rails. Let a licensed engineer judge it.
    Cannot tell: its joints with the rails, welds, a bend in it or a notch for the shaft, twist of the frame; fatigue:
    what bends millions of times cracks far below yield.
    """
    if isinstance(member, str):
        return needs_review(f"A mount sits on '{member}', which is not described: add it, or say that it is the frame.")
    on = f"{path_of(member)}.depth"
    if not carried(build, member):
        return does_not_apply("No mount sits on it.")
    stress, most = cross_member_stress(build, member), yield_strength(member)
    says = f"{shown(stress)} where it is bent most; its steel yields at {shown(most, *MPA)}."
    return all_of(bending=_safe(most / stress if stress > 0.0 else None, says, on, member))
