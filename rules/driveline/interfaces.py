"""Rules about what meets what: bolted joints, concentricity and splines."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, Literal

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    advice,
    all_of,
    at_most,
    does_not_apply,
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
from swaplint.engineering import housings, splines

from .. import sources
from ..gearing import chain
from . import quantities as q

Level = Literal["error", "warning"]
MM = ("length", "mm")
OWN_PATTERN = "own pattern"

PLAY = practice("play of a spigot in its bore of 0.02 to 0.15 mm; bolt circles alike within 0.3 mm")
RUNOUT = practice("light gearbox: runout of its bore 0.20 mm, of its face 0.15 mm on 300 mm, total indicator reading")
SPLINES = practice("a hub fits a shaft of the same number of teeth and standard; 0.2 mm of its diameter is rounding")

BORE_RUNOUT = Practice("runout of the gearbox's bore of at most 0.20 mm", 0.20e-3, RUNOUT)
FACE_RUNOUT = Practice("runout of the gearbox's face of at most 0.15 mm on 300 mm", 0.15 / 300, RUNOUT)

SPLINE_ROUNDING = 0.0002
"""How far a hub's major diameter may be stated above what it is by design: inch sizes rounded to tenths."""
LARGEST_ROOM = 0.8
"""The most room at the major diameter that any side fit has, in modules."""
ANGLES = ("37.5", "45", "30")
"""Pressure angles of involute splines, in degrees, as a standard's name states them."""

# What makes the sound spec an automatic: for the examples of rules that judge both kinds.
AUTOMATIC: dict[str, Any] = {
    "driveline.gearbox.kind": "automatic",
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
            "driveline.gearbox.front_face.pattern": "SAE 4",
            "driveline.gearbox.bellhousing_depth": "210 mm",
        },
        AUTOMATIC,
    ],
)
def housing_match(build: Build, joint: chain.Joint) -> Verdict:
    """Does each bolted joint from the crank to the axles have the same size and pattern on both sides?

    Computes: nothing for equal names; SAE numbers are read however they are written. Where both sides state pilot,
    bolt circle and holes, the play of the spigot and the difference of the bolt circles.
    Limit: the same pattern on both sides; where measured, 0.02 to 0.15 mm of play and bolt circles within 0.3 mm.
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
    measured = given(lambda: _measured_fit(other, side, names, f"{joint}")) or {}
    here, there = _name(side.pattern), _name(other.pattern)
    if here == there and here != OWN_PATTERN:
        return all_of(measured, pattern=holds(True, f"{names}.", on=on))
    if measured and all(verdict.kind == "pass" for verdict in measured.values()):
        says = f"{names}: the dimensions agree, the names do not. Compare the drawings."
        return all_of(measured, pattern=needs_review(says, on=on))
    if OWN_PATTERN in (here, there) and not (_is_standard(here) or _is_standard(there)):
        says = f"{names}: give both patterns a name or a drawing number, and compare them."
        return all_of(pattern=needs_review(says, on=on))
    sizes = "; ".join(size for size in (_size(other.pattern), _size(side.pattern)) if size)
    says = f"{names}: they do not bolt together{f' ({sizes})' if sizes else ''}."
    return all_of(pattern=holds(False, says, on=on))


def _name(pattern: str) -> str:
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


def _measured_fit(ahead: Any, side: Any, names: str, at: str) -> dict[str, Verdict]:
    """The verdicts on two faces whose dimensions are stated. Raises `Unknown` where they are not."""
    centring = {ahead.centred_by, side.centred_by}
    bore, spigot = (ahead, side) if ahead.centred_by == "bore" else (side, ahead)
    bores = [housings.Flange(face.pilot, face.bolt_circle, int(face.holes)) for face in (bore, spigot)]
    match = housings.match_flanges(*bores)
    difference = shown(abs(match.bolt_circle_difference), *MM)
    holes = f"{int(ahead.holes)} and {int(side.holes)} holes, bolt circles {difference} apart"
    fits = {"bolt-circle": holds(match.bolts_up, f"{names}: {holes}.", on=f"{at}.bolt_circle")}
    if "dowels" in centring:
        return fits
    if len(centring) == 1:
        says = f"{names}: both sides have a {side.centred_by}, so that nothing centres them."
        return fits | {"centring": holds(False, says, on=f"{at}.pilot")}
    play = within(
        match.pilot_clearance,
        housings.MIN_PILOT_CLEARANCE,
        housings.MAX_PILOT_CLEARANCE,
        f"{names}: the spigot has {shown(match.pilot_clearance, *MM)} of play in its bore.",
        on=f"{at}.pilot",
        unit=MM,
    )
    return fits | {"centring": play}


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
    measured, the sum of what housing and adapter allow, which is the worst case.
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
        dowels = math.ceil((found - most) / 2 * 1e5 - 1e-6) / 1e5
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


# -- splines ----------------------------------------------------------------------------------------------------------
@rule(
    "driveline.spline-match",
    level="error",
    due="quote",
    sources=[
        SPLINES.giving("limit", "teeth and standard alike, rounding"),
        sources.INCH_SPLINES.giving("limit", "room at the major diameter of a side fit"),
        sources.METRIC_SPLINES.giving("limit", "room at the major diameter of a side fit"),
        sources.DIN_SPLINES.giving("limit", "room at the major diameter: beyond it a review"),
    ],
    about="driveline.clutch.hub_spline",
    each=chain.splines,
    bad=[
        {"driveline.clutch.hub_spline.teeth": 24},
        {"driveline.clutch.hub_spline.outer_diameter": "28.4 mm"},
        {"driveline.clutch.hub_spline.outer_diameter": "30.5 mm"},
        {"driveline.transfer.input_spline.standard": "straight"},
    ],
    good=[
        {"driveline.clutch.hub_spline.outer_diameter": "29.1 mm"},
        {"driveline.clutch.hub_spline.outer_diameter": "29.6 mm"},
        AUTOMATIC,
    ],
)
def spline_match(build: Build, joint: chain.Joint) -> Verdict:
    """Does the hub of the clutch disc fit the input shaft, and the transfer case the gearbox's output?

    Computes: equality of the number of teeth and of the standard; the room between the hub's root and the shaft's tip,
    on the diameter.
    Limit: identical teeth and standard. The hub is never smaller than its shaft. A side fit has room by design: 0.35
    of a module with a flat root by ANSI B92.1, 0.5 metric, 0.8, 0.6 or 0.4 with a fillet root at 30, 37.5 or 45
    degrees; other splines have none. 0.2 mm more is taken as rounding of inch sizes.
    Consequence: The hub does not go on, or goes on by force and strips under load.
    Remedy: a disc with the hub that fits. The same diameter with another number of teeth, or the same
    number in another module, is a look-alike: it goes on by force, and strips.
    Cannot tell: length of the hub, to which side it is offset, and wear of a used shaft.
    """
    hub, shaft = joint.side, joint.ahead()
    if shaft is None:
        return does_not_apply(f"{joint.gap[0].upper()}{joint.gap[1:]}.")
    demands: dict[str, Callable[[], Verdict]] = {
        "teeth": lambda: _teeth(hub, shaft),
        "diameter": lambda: _diameter(hub, shaft),
    }
    if given(lambda: (hub.standard, shaft.standard)) is not None:
        demands["standard"] = lambda: _same_standard(hub, shaft)
    return all_of(demands)


def _teeth(hub: Any, shaft: Any) -> Verdict:
    same, on = int(hub.teeth) == int(shaft.teeth), f"{path_of(hub)}.teeth"
    says = f"{int(hub.teeth)} teeth at {path_of(hub)} meet {int(shaft.teeth)} at {path_of(shaft)}."
    if not same and given(lambda: abs(hub.outer_diameter - shaft.outer_diameter) <= SPLINE_ROUNDING):
        says += " Of one diameter, they are look-alikes."
    return holds(same, says, on=on, advice=advice(on, shaft.teeth))


def _diameter(hub: Any, shaft: Any) -> Verdict:
    room, on = hub.outer_diameter - shaft.outer_diameter, f"{path_of(hub)}.outer_diameter"
    says = f"{shown(hub.outer_diameter)} at {path_of(hub)} meets {shown(shaft.outer_diameter)} at {path_of(shaft)}"
    right = advice(on, shaft.outer_diameter)
    if room < 0.0:
        return holds(False, f"{says}: the hub is smaller than its shaft and does not go on.", on=on, advice=right)
    if room <= SPLINE_ROUNDING:
        return at_most(room, SPLINE_ROUNDING, f"{says}.", on=on, unit=MM)
    by_design = _room_by_design(hub, shaft)
    says += f"; by design there are {shown(by_design, *MM)} of room." if by_design else "."
    if _family(hub.standard) == DIN and room > by_design + SPLINE_ROUNDING:
        return needs_review(f"{says} Hold both against their drawings.", on=on)
    return at_most(room, by_design + SPLINE_ROUNDING, says, on=on, unit=MM, advice=right)


INCH, METRIC, DIN = "B92.1", "B92.2M", "DIN 5480"


def _family(standard: str) -> str:
    """The family of standards that a spline's standard belongs to; the metric one where its name does not tell."""
    name = standard.casefold()
    if "5480" in name:
        return DIN
    return INCH if "b92.1" in name or "j498" in name or "inch" in name else METRIC


def _room_by_design(hub: Any, shaft: Any) -> float:
    """Room that the hub's root has above the shaft's tip by design, on the diameter."""
    name, teeth = hub.standard.casefold(), int(shaft.teeth)
    most = LARGEST_ROOM * splines.module_of_shaft(shaft.outer_diameter, teeth) + SPLINE_ROUNDING
    if "straight" in name or hub.outer_diameter - shaft.outer_diameter > most or hub.fit == "major-diameter":
        return 0.0
    angle = next((float(a) for a in ANGLES if a in name.replace("5480", "").replace(",", ".")), 30.0)
    # Only 30 degrees has a flat root; B92.2M has the other angles as B92.1 has them.
    root = hub.root if angle == 30.0 else "fillet"
    family = _family(hub.standard) if angle == 30.0 else INCH
    return splines.side_fit_room(shaft.outer_diameter, teeth, family, angle, root)


def _same_standard(hub: Any, shaft: Any) -> Verdict:
    alike, on = _name(hub.standard) == _name(shaft.standard), f"{path_of(hub)}.standard"
    says = f"'{hub.standard}' at {path_of(hub)} {'goes' if alike else 'does not go'} into '{shaft.standard}' at "
    return holds(alike, f"{says}{path_of(shaft)}.", on=on, advice=advice(on, shaft.standard))
