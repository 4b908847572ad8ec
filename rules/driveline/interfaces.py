"""Rules about what bolts to what, and how true it runs. Splines have a file of their own."""

from __future__ import annotations

from functools import partial
from typing import Any, Literal

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    all_of,
    at_most,
    given,
    holds,
    needs_review,
    or_practice,
    path_of,
    practice,
    rule,
    sheet,
    shown,
    use_practice,
    within,
)
from swaplint.engineering import housings

from .. import rounding, sources
from ..gearing import chain
from . import quantities as q

Level = Literal["error", "warning"]
MM = ("length", "mm")
OWN_PATTERN = "own pattern"
SAME_SIZE = 0.001
"""How far a measured pilot or bolt circle may be from that of its size: a ruler's error. Sizes differ by 19 mm."""
UNREAD_SIZES = ("SAE 3", "SAE 5")
"""Housing sizes whose dimensions are known from memory."""

PLAY = practice("play of a spigot in its bore of 0.02 to 0.15 mm; bolt circles alike within 0.3 mm")
RUNOUT = practice("light gearbox: runout of its bore 0.20 mm, of its face 0.15 mm on 300 mm, total indicator reading")

BORE_RUNOUT = Practice("runout of the gearbox's bore of at most 0.20 mm", 0.20e-3, RUNOUT)
FACE_RUNOUT = Practice("runout of the gearbox's face of at most 0.15 mm on 300 mm", 0.15 / 300, RUNOUT)

# What makes the sound spec an automatic: for the examples of rules that judge both kinds.
AUTOMATIC: dict[str, Any] = {
    "driveline.gearbox.kind": "automatic",
    "engine.flywheel.kind": "flex-plate",
    "driveline.clutch": {"fitted": False},
    "driveline.pilot": {"fitted": False},
    "driveline.converter": {
        "fitted": True,
        "stall_ratio": 1.2,
        "torque_rating": "450 Nm",
        "speed_max": "6000 r/min",
        "rated_stall_speed": "1600 r/min",
        "rated_stall_torque": "340 Nm",
        "spigot_diameter": "27.93 mm",
        "seating_depth": "-42 mm",
        "gap_min": "2 mm",
        "gap_max": "5 mm",
        "flex_plate_side": {"pattern": "Sound cover 250 (invented)"},
        "hub_spline": {"teeth": 21, "outer_diameter": "29 mm", "standard": "involute 30 deg"},
    },
    "driveline.gearbox.oil_heat": "12 kW",
    "driveline.gearbox.controller": {"fitted": False},
    "electrics.start.interlock": "neutral",
    "plumbing.cooling.coolers.gearbox": {"cools": "gearbox-oil", "place": "elsewhere", "heat": "14 kW"},
    "engine.speed.stall_low": "1400 r/min",
    "engine.speed.stall_high": "1700 r/min",
}


MEASURED_FACES = {
    "engine.flywheel_housing": ("pilot", "bolt_circle", "holes", "centred_by"),
    "driveline.adapter.engine_side": ("pilot", "bolt_circle", "holes"),
    "driveline.adapter.gearbox_side": ("pilot", "bolt_circle", "holes", "centred_by"),
    "driveline.gearbox.front_face": ("pilot", "bolt_circle", "holes", "centred_by"),
}
"""What a joint may do without where both faces have one name."""
NAMED = "Faces of one named pattern are made to one drawing, which has its dimensions: they are compared where stated."


# -- bolted joints ----------------------------------------------------------------------------------------------------
@rule(
    "driveline.housing-match",
    level="error",
    due="quote",
    sources=[
        PLAY.giving("limit", "play of the spigot, bolt circles alike"),
        sources.FLYWHEEL_HOUSINGS.giving("limit", "sizes by number; no. 3 and no. 5 are from memory"),
        sources.FLYWHEELS.giving("limit", "sizes by number"),
    ],
    about="driveline.adapter",
    each=chain.joints,
    without={f"{face}.{fact}": NAMED for face, facts in MEASURED_FACES.items() for fact in facts},
    bad=[
        {"engine.flywheel_housing.pattern": "SAE 5"},
        {"driveline.gearbox.front_face.pilot": "310.3 mm"},
        {"driveline.shafts.rear.output_flange.pattern": "Other flange 110 (invented)"},
        {"driveline.axles.front.driven": True, "driveline.shafts.front.drives": "transfer"},
    ],
    good=[
        {"engine.flywheel_housing.pattern": "SAE no. 4M"},
        {
            "driveline.adapter": {"fitted": False},
            "driveline.gearbox.front_face": {
                "pattern": "SAE 4",
                "pilot": "361.9 mm",
                "bolt_circle": "381 mm",
                "holes": 12,
            },
            "driveline.gearbox.bellhousing_depth": "210 mm",
        },
        AUTOMATIC,
    ],
)
def housing_match(build: Build, joint: chain.Joint) -> Verdict:
    """Does each bolted joint from the crank to the axles have the same size and pattern on both sides?

    Computes: nothing for equal names; SAE numbers are read however they are written. Where both sides state pilot,
    bolt circle and holes, the play of the spigot and the difference of the bolt circles.
    Limit: the same pattern on both sides; where measured, 0.02 to 0.15 mm of play and bolt circles within 0.3 mm. A
    face that is called by a standard size has the pilot, bolt circle and holes of that size, within 1 mm.
    Consequence: The parts do not go together, or run out of true and shake their bolts loose.
    Remedy: an adapter whose two sides match both, as a line of the scope of supply, or a companion flange. A break is
    reported at the joint where it is, on the side further from the crank.
    Cannot tell: position of dowels, starter pocket, strength of the adapter, bolts. The M of a housing number means
    metric threads in the same pattern: the bolts differ, the joint does not.
    """
    other = joint.ahead()
    if other is None:
        return all_of(joined=holds(False, f"The chain is broken here: {joint.gap}."))
    on = f"{joint}.pattern"
    side = joint.side
    names = f"'{other.pattern}' at {path_of(other)} meets '{side.pattern}' at {joint}"
    measured = _measured_fit(other, side, names, f"{joint}")
    named = _as_named("ahead", other) | _as_named("here", side) | _alone(build, f"{joint}") | _driven(build, f"{joint}")
    here, there = name_of_pattern(side.pattern), name_of_pattern(other.pattern)
    if here == there and here != OWN_PATTERN:
        return all_of(named, measured, pattern=holds(True, f"{names}.", on=on))
    if _whole(other, side) and all(verdict.kind == "pass" for verdict in measured.values()):
        says = f"{names}: the dimensions agree, the names do not. Compare the drawings."
        return all_of(named, measured, pattern=needs_review(says, on=on))
    if OWN_PATTERN in (here, there) and not (_is_standard(here) or _is_standard(there)):
        says = f"{names}: give both patterns a name or a drawing number, and compare them."
        return all_of(named, pattern=needs_review(says, on=on))
    sizes = "; ".join(size for size in (_size(other.pattern), _size(side.pattern)) if size)
    says = f"{names}: they do not bolt together{f' ({sizes})' if sizes else ''}."
    return all_of(named, pattern=holds(False, says, on=on))


def _alone(build: Build, flange: str) -> dict[str, Verdict]:
    """Whether no other shaft is said to bolt to the face that drives this one."""
    if ".shafts." not in flange:
        return {}
    drivers = {path_of(shaft): given(partial(getattr, shaft, "driven_by")) for shaft in chain.shafts(build)}
    own = flange.removesuffix(".input_flange")
    others = [path for path, driver in drivers.items() if driver == drivers[own] and path != own]
    if drivers[own] is None or not others:
        return {}
    names = " and ".join(path.rpartition(".")[2] for path in (own, *others))
    says = f"The shafts {names} are said to be driven by {drivers[own]}: a flange carries one. Where one shaft stands "
    return {"alone": needs_review(f"{says}there twice, take one out.", on=f"{own}.driven_by")}


def _driven(build: Build, flange: str) -> dict[str, Verdict]:
    """Whether the axle that a shaft leads to is one that is driven."""
    if ".shafts." not in flange:
        return {}
    own = flange.removesuffix(".input_flange")
    to = next(given(partial(getattr, shaft, "drives")) for shaft in chain.shafts(build) if path_of(shaft) == own)
    axle = build.driveline.axles[to] if to in (given(lambda: list(build.driveline.axles)) or []) else None
    if axle is None or given(lambda: axle.driven) is not False or given(lambda: axle.engaged) is not None:
        return {}
    says = f"The shaft {own.rpartition('.')[2]} leads to the axle {to}, which is said not to be driven: take the shaft "
    return {"driven": needs_review(f"{says}out, or state the axle as driven.", on=f"driveline.axles.{to}.driven")}


def _as_named(which: str, face: Any) -> dict[str, Verdict]:
    """Whether a face that is called by a standard size has the dimensions of that size, where they are stated."""
    standard = housings.named_flange(face.pattern)
    if standard is None:
        return {}
    name, size = standard
    stated = [
        (what, given(partial(getattr, face, field)), right)
        for what, field, right in (("pilot", "pilot", size.pilot), ("bolt circle", "bolt_circle", size.bolt_circle))
    ]
    if given(lambda: face.centred_by) == "dowels":
        stated = stated[1:]
    found = [(what, value, right) for what, value, right in stated if value is not None]
    holes = given(lambda: int(face.holes))
    if not found and holes is None:
        return {}
    off = [
        f"a {what} of {shown(value, *MM, digits=6)} where {name} has {shown(right, *MM, digits=6)}"
        for what, value, right in found
        if abs(value - right) > SAME_SIZE
    ]
    if holes is not None and holes != size.holes:
        off.append(f"{holes} holes where {name} has {size.holes}")
    on = f"{path_of(face)}.pattern"
    if not off:
        return {f"size.{which}": holds(True, f"It is called '{face.pattern}', and measures so.", on=on)}
    says = f"It is called '{face.pattern}', and is stated with {' and '.join(off)}: measure again."
    if name in UNREAD_SIZES:
        return {f"size.{which}": needs_review(says, on=on)}
    return {f"size.{which}": holds(False, says, on=on)}


def name_of_pattern(pattern: str) -> str:
    """The name of a pattern or standard such that two ways of writing it compare equal."""
    standard = housings.named_flange(pattern)
    return standard[0] if standard is not None else " ".join(pattern.casefold().split())


def _is_standard(name: str) -> bool:
    return housings.named_flange(name) is not None


def _size(pattern: str) -> str:
    standard = housings.named_flange(pattern)
    if standard is None:
        return ""
    name, flange = standard
    circle = shown(flange.bolt_circle, *MM, digits=6)
    return f"{name}: pilot {shown(flange.pilot, *MM, digits=6)}, bolt circle {circle}, {flange.holes} holes"


def _whole(ahead: Any, side: Any) -> bool:
    """Whether both sides state all that a joint is measured by."""
    ways = given(lambda: (ahead.centred_by, side.centred_by))
    if ways is None:
        return False
    measured = ["bolt_circle", "holes"] if "dowels" in ways else ["bolt_circle", "holes", "pilot"]
    return all(given(partial(getattr, face, field)) is not None for face in (ahead, side) for field in measured)


def _measured_fit(ahead: Any, side: Any, names: str, at: str) -> dict[str, Verdict]:
    """The verdicts on what both sides of a joint state of their dimensions; none where they state nothing."""
    fits: dict[str, Verdict] = {}
    circles = given(lambda: (float(ahead.bolt_circle), float(side.bolt_circle)))
    holes = given(lambda: (int(ahead.holes), int(side.holes)))
    if circles is not None or holes is not None:
        apart = 0.0 if circles is None else abs(housings.stack_gap(circles[0], -circles[1]))
        same = holes is None or holes[0] == holes[1]
        says = [] if holes is None else [f"{holes[0]} and {holes[1]} holes"]
        says += [] if circles is None else [f"bolt circles that differ by {shown(apart, *MM)}"]
        meets = same and apart <= housings.BOLT_CIRCLE_TOLERANCE
        says += [] if meets else ["so that they do not bolt together"]
        fits["bolt-circle"] = holds(meets, f"{names}: {', '.join(says)}.", on=f"{at}.bolt_circle")
    ways = given(lambda: (ahead.centred_by, side.centred_by))
    if ways is None or "dowels" in ways:
        return fits
    if ways[0] == ways[1]:
        says_so = f"{names}: both sides have a {ways[0]}, so that nothing centres them."
        return fits | {"centring": holds(False, says_so, on=f"{at}.pilot")}
    pilots = given(lambda: {ahead.centred_by: float(ahead.pilot), side.centred_by: float(side.pilot)})
    if pilots is None:
        return fits
    play = housings.stack_gap(pilots["bore"], -pilots["spigot"])
    return fits | {
        "centring": within(
            play,
            housings.MIN_PILOT_CLEARANCE,
            housings.MAX_PILOT_CLEARANCE,
            f"{names}: the spigot has {shown(play, *MM)} of play in its bore."
            if play >= 0.0
            else f"{names}: the spigot is {shown(-play, *MM)} too large for its bore.",
            on=f"{at}.pilot",
            unit=MM,
        )
    }


# -- concentricity ----------------------------------------------------------------------------------------------------
@rule(
    "driveline.runout",
    level="warning",
    due="build",
    sources=[
        sheet("driveline.gearbox.runout_bore_max"),
        sheet("driveline.gearbox.runout_face_max"),
        sources.FLYWHEEL_HOUSINGS.giving("fallback", "bolt circle of a housing by its number"),
    ],
    fallbacks=[BORE_RUNOUT, FACE_RUNOUT],
    adjust=["driveline.adapter.runout_bore", "driveline.adapter.runout_face"],
    instead={
        "driveline.alignment.bore_runout": "engine.flywheel_housing.runout_bore",
        "driveline.alignment.face_runout": "engine.flywheel_housing.runout_face",
    },
    bad=[
        {"driveline.alignment.bore_runout": "0.30 mm"},
        {"driveline.alignment.face_runout": "0.25 mm"},
        {"driveline.alignment": None, "driveline.adapter.runout_bore": "0.20 mm"},
    ],
    good=[{"driveline.alignment.bore_runout": "0.05 mm"}, {"driveline.alignment": None}],
)
def runout(build: Build) -> Verdict:
    """Will the gearbox sit concentric and square to the crank, through adapter and housing?

    Computes: the runout of bore and face at the gearbox's seat as the dial indicator shows it; before that can be
    measured, the sum of what housing, adapter and further rings allow, which is the worst case.
    Limit: the gearbox's sheet; where it is silent 0.20 mm for the bore and 0.15 mm on 300 mm for the face, total
    indicator reading. SAE J617 allows the housing itself 0.18 mm for the smallest size and more for larger ones. A
    warning as long as it is a sum, an error when measured.
    Consequence: The gearbox sits askew: pilot, input spline and front bearing wear out early.
    Remedy: offset dowels of half the excess, or a dressed face. Misalignment wears pilot, spline and front bearing.
    Cannot tell: end float of the crank during the reading, and a housing that twists when it is bolted to its mounts.
    """
    return all_of(bore=lambda: _bore(build), face=lambda: _face(build))


def _bore(build: Build) -> Verdict:
    found, most = q.bore_runout(build), or_practice(lambda: build.driveline.gearbox.runout_bore_max, BORE_RUNOUT)
    measured = given(lambda: build.driveline.alignment.bore_runout) is not None
    says = f"The gearbox's bore runs out by {shown(found)}{'' if measured else ' at worst'}."
    if found > most:
        # Half of the excess, rounded up to hundredths of a millimetre so that it is enough.
        dowels = rounding.up((found - most) / 2, 1e-5)
        says += f" Dowels offset by {shown(dowels, *MM)} would bring it within its limit."
    return at_most(found, most, says, level="error" if measured else "warning", on=_seat(measured, "bore"))


def _face(build: Build) -> Verdict:
    found, most = q.face_runout(build), _face_limit(build)
    measured = given(lambda: build.driveline.alignment.face_runout) is not None
    says = f"The gearbox's face runs out by {shown(found)}{'' if measured else ' at worst'}."
    return at_most(found, most, says, level="error" if measured else "warning", on=_seat(measured, "face"))


def _seat(measured: bool, what: str) -> str:
    return f"driveline.alignment.{what}_runout" if measured else f"driveline.adapter.runout_{what}"


def _face_limit(build: Build) -> float:
    gearbox = build.driveline.gearbox
    stated = given(lambda: gearbox.runout_face_max)
    if stated is not None:
        return stated
    circle = given(lambda: gearbox.front_face.bolt_circle)
    if circle is None:
        named = housings.named_flange(given(lambda: gearbox.front_face.pattern) or "")
        circle = named[1].bolt_circle if named is not None else gearbox.front_face.bolt_circle
    return use_practice(build, FACE_RUNOUT) * circle
