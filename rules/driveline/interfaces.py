"""Rules about what meets what: bolted joints, depths, the pilot, concentricity and splines."""

from __future__ import annotations

from typing import Any

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    all_of,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
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

from .. import sources
from . import chain
from . import quantities as q

MM = ("length", "mm")
OWN_PATTERN = "own pattern"

PLAY = practice("play of a spigot in its bore of 0.02 to 0.15 mm; bolt circles alike within 0.3 mm")
DEPTHS = practice("nose 10 mm or 0.7 of its diameter in the bush and 2 mm short of striking; converter gap 2 to 5 mm")
BUSH_FIT = practice("sintered bronze pilot bush: pressed in with 0.02 to 0.06 mm, running clearance 0.03 to 0.10 mm")
RUNOUT = practice("light gearbox: runout of its bore 0.20 mm, of its face 0.15 mm on 300 mm, total indicator reading")
SPLINES = practice("a hub fits a shaft of the same number of teeth, standard and major diameter, 0.2 mm for rounding")

NOSE = Practice("nose of the input shaft at least 10 mm in the pilot bush", 0.010, DEPTHS)
GAP_MIN = Practice("converter pulled forward by at least 2 mm", 0.002, DEPTHS)
GAP_MAX = Practice("converter pulled forward by at most 5 mm", 0.005, DEPTHS)
PRESS_MIN = Practice("pilot bush pressed in with at least 0.02 mm", 0.02e-3, BUSH_FIT)
PRESS_MAX = Practice("pilot bush pressed in with at most 0.06 mm", 0.06e-3, BUSH_FIT)
RUNNING_MIN = Practice("running clearance in the pilot bush of at least 0.03 mm", 0.03e-3, BUSH_FIT)
RUNNING_MAX = Practice("running clearance in the pilot bush of at most 0.10 mm", 0.10e-3, BUSH_FIT)
BORE_RUNOUT = Practice("runout of the gearbox's bore of at most 0.20 mm", 0.20e-3, RUNOUT)
FACE_RUNOUT = Practice("runout of the gearbox's face of at most 0.15 mm on 300 mm", 0.15 / 300, RUNOUT)

NOSE_IN_DIAMETERS = 0.7
NOSE_ROOM = 0.002
BUSH_PRESS_AIM, BUSH_CLEARANCE_AIM = 0.04e-3, 0.06e-3
SPLINE_ROUNDING = 0.0002

# What makes the sound spec an automatic: for the examples of rules that judge both kinds.
AUTOMATIC: dict[str, Any] = {
    "driveline.gearbox.kind": "automatic",
    "driveline.clutch": {"fitted": False},
    "driveline.pilot": {"fitted": False},
    "driveline.converter": {
        "fitted": True,
        "stall_ratio": 1.2,
        "torque_rating": "450 Nm",
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
    sources=[sources.FLYWHEEL_HOUSINGS, sources.FLYWHEELS, PLAY],
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
    Remedy: an adapter whose two sides match both, as a line of the scope of supply, or a companion flange. A break is
    reported at the joint where it is, on the side further from the crank.
    Cannot tell: position of dowels, starter pocket, strength of the adapter, bolts. The M of a housing number means
    metric threads in the same pattern: the bolts differ, the joint does not.
    """
    other = joint.ahead()
    if other is None:
        return holds(False, f"The chain is broken here: {joint.gap}.")
    on = f"{joint}.pattern"
    side = joint.side
    names = f"'{other.pattern}' at {path_of(other)} meets '{side.pattern}' at {joint}"
    measured = given(lambda: _measured_fit(other, side, names, f"{joint}.pilot"))
    here, there = _name(side.pattern), _name(other.pattern)
    if here == there and here != OWN_PATTERN:
        return measured or holds(True, f"{names}.", on=on)
    if measured is not None and measured.kind == "pass":
        return needs_review(f"{names}: the dimensions agree, the names do not. Compare the drawings.", on=on)
    if OWN_PATTERN in (here, there) and not (_is_standard(here) or _is_standard(there)):
        return needs_review(f"{names}: give both patterns a name or a drawing number, and compare them.", on=on)
    sizes = "; ".join(size for size in (_size(other.pattern), _size(side.pattern)) if size)
    return holds(False, f"{names}: they do not bolt together{f' ({sizes})' if sizes else ''}.", on=on)


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


def _measured_fit(ahead: Any, side: Any, names: str, on: str) -> Verdict:
    """The verdict on two faces whose dimensions are stated. Raises `Unknown` where they are not."""
    centring = {ahead.centred_by, side.centred_by}
    bore, spigot = (ahead, side) if ahead.centred_by == "bore" else (side, ahead)
    bores = [housings.Flange(face.pilot, face.bolt_circle, int(face.holes)) for face in (bore, spigot)]
    match = housings.match_flanges(*bores)
    difference = shown(abs(match.bolt_circle_difference), *MM)
    holes = f"{int(ahead.holes)} and {int(side.holes)} holes, bolt circles {difference} apart"
    bolts = holds(match.bolts_up, f"{names}: {holes}.", on=on.replace(".pilot", ".bolt_circle"))
    if "dowels" in centring:
        return bolts
    if len(centring) == 1:
        return holds(False, f"{names}: both sides have a {side.centred_by}, so that nothing centres them.", on=on)
    return all_of(
        bolts,
        within(
            match.pilot_clearance,
            housings.MIN_PILOT_CLEARANCE,
            housings.MAX_PILOT_CLEARANCE,
            f"{names}: the spigot has {shown(match.pilot_clearance, *MM)} of play in its bore.",
            on=on,
            unit=MM,
        ),
    )


# -- depths -----------------------------------------------------------------------------------------------------------
@rule(
    "driveline.depth-stack",
    level="error",
    due="quote",
    sources=[sources.FLYWHEELS, DEPTHS],
    cautions=[cautions.CRUSH],
    fallbacks=[NOSE, GAP_MIN, GAP_MAX],
    adjust=["driveline.adapter.thickness"],
    bad=[
        {"driveline.adapter.thickness": "30 mm"},
        {"driveline.adapter.thickness": "12 mm"},
        {"driveline.gearbox.spline_end": "228 mm"},
        {**AUTOMATIC, "driveline.adapter.thickness": "17 mm"},
    ],
    good=[{"driveline.adapter.thickness": "22 mm"}, AUTOMATIC, {"driveline.gearbox.pilot_required": False}],
)
def depth_stack(build: Build) -> Verdict:
    """Do clutch, input shaft and pilot line up axially, or has the converter its gap?

    Computes: with a clutch, how far the input shaft's nose stands in the pilot bush, what is left before its tip or
    shoulder strikes, and how much full spline is left beyond the disc's hub over its wear travel. With a converter,
    the gap by which the fully seated converter is pulled forward to the flex-plate.
    Limit: the gearbox's and converter's sheets; where they are silent 10 mm of nose in a bush, not less than 0.7 of its
    diameter, or the whole width of a needle or ball bearing; a gap of 2 to 5 mm. 2 mm before tip or shoulder strikes.
    The hub stays on full spline.
    Remedy: an adapter of the thickness that the sentence names, or a longer pilot bush. Never draw a joint together
    with its bolts: too little depth destroys the pilot or the crank's thrust bearing.
    Cannot tell: travel of the release bearing; tolerance of measured depths, about 0.5 mm each.
    """
    on = "driveline.adapter.thickness" if is_fitted(build.driveline.adapter) else "driveline.gearbox.bellhousing_depth"
    if chain.has_converter(build):
        return _converter_depth(build, on)
    demands = [lambda: _hub_depth(build)]
    if given(lambda: build.driveline.gearbox.pilot_required) is not False and not chain.left_out(build.driveline.pilot):
        demands = [lambda: _nose_depth(build, on), lambda: _nose_room(build, on), *demands]
    return all_of(*demands)


def _nose_needed(build: Build) -> float:
    gearbox, pilot = build.driveline.gearbox, build.driveline.pilot
    # A needle or ball bearing carries the nose over its whole width, which may be less than a bush needs.
    width = given(lambda: pilot.length if pilot.kind != "bush" else None)
    if width is not None:
        stated = given(lambda: gearbox.nose_engagement_min)
        return width if stated is None else stated
    return max(or_practice(lambda: gearbox.nose_engagement_min, NOSE), NOSE_IN_DIAMETERS * gearbox.nose_diameter)


def _nose_remedy(build: Build) -> str:
    reach = q.nose_reach(build)
    low, high = _nose_needed(build), reach + q.nose_room(build) - NOSE_ROOM
    thickness = q.adapter_thickness(build) + reach - 0.5 * (low + high)
    if low > high or thickness <= 0.0:
        return "No adapter makes this nose fit: another bush, pilot bore or input shaft is needed."
    spare = shown(0.5 * (high - low), *MM, digits=3)
    return (
        f"An adapter of {shown(thickness, *MM, digits=3)} would put the nose in the middle of its range, with {spare} "
        "to spare either way."
    )


def _nose_depth(build: Build, on: str) -> Verdict:
    found = q.pilot_engagement(build)
    says = f"{shown(found)} of the input shaft's nose stands in the pilot bush. {_nose_remedy(build)}"
    return at_least(found, _nose_needed(build), says, on=on, unit=MM)


def _nose_room(build: Build, on: str) -> Verdict:
    found = q.nose_room(build)
    says = f"{shown(found)} are left before the input shaft's tip or shoulder strikes."
    if found < 0.0:
        says = f"The input shaft's tip or shoulder strikes {shown(-found, *MM)} before the joint closes."
    says += f" {_nose_remedy(build)}"
    return at_least(found, NOSE_ROOM, says, on=on)


def _hub_depth(build: Build) -> Verdict:
    disc = build.driveline.clutch
    found = q.hub_on_spline(build)
    says = f"{shown(found)} of full spline are left beyond the disc's hub at the tighter end, over its wear travel."
    if found < 0.0:
        says = f"The disc's hub leaves the full spline by {shown(-found, *MM)}, over its wear travel."
    return at_least(found, 0.0, says, on="driveline.gearbox.spline_end", scale=disc.hub_rear - disc.hub_front)


def _converter_depth(build: Build, on: str) -> Verdict:
    converter = build.driveline.converter
    low = or_practice(lambda: converter.gap_min, GAP_MIN)
    high = or_practice(lambda: converter.gap_max, GAP_MAX)
    found = q.converter_gap(build)
    thickness = q.adapter_thickness(build) + 0.5 * (low + high) - found
    says = f"The seated converter is pulled forward by {shown(found)}."
    if thickness > 0.0:
        says += f" An adapter of {shown(thickness, *MM, digits=3)} would give the middle of the range."
    return within(found, low, high, says, on=on, unit=MM)


# -- pilot ------------------------------------------------------------------------------------------------------------
@rule(
    "driveline.pilot-fit",
    level="error",
    due="quote",
    sources=[BUSH_FIT, sources.MACHINE_DESIGN],
    fallbacks=[PRESS_MIN, PRESS_MAX, RUNNING_MIN, RUNNING_MAX],
    adjust=["driveline.pilot.outer", "driveline.pilot.inner"],
    bad=[
        {"driveline.pilot": {"fitted": False}},
        {"driveline.pilot.outer": "27.99 mm"},
        {"driveline.pilot.inner": "14.98 mm"},
        {"driveline.pilot.inner": "15.20 mm"},
        {**AUTOMATIC, "driveline.converter.spigot_diameter": "28.05 mm"},
    ],
    good=[{"driveline.pilot.inner": "15.08 mm"}, AUTOMATIC],
)
def pilot_fit(build: Build) -> Verdict:
    """Is the input shaft's nose carried: is there a pilot bush or bearing that fits crank and shaft?

    Computes: interference of the bush in the bore, and running clearance of the nose in the bush, both as measured
    before pressing in. For an automatic the clearance of the converter's spigot in the crank.
    Limit: the bearing's own sheet; a bush whose sheet is silent is pressed in with 0.02 to 0.06 mm and runs with 0.03
    to 0.10 mm. None fitted, loose in the bore or tight on the shaft is an error, outside the range a warning.
    Remedy: a bush of sintered bronze turned to the two diameters in the sentence. An input shaft that nothing carries
    destroys gearbox and clutch; the bush is the part most often forgotten.
    Cannot tell: concentricity (see driveline.runout), and wear of a used bore. Measure both bores to 0.01 mm.
    """
    if chain.has_converter(build):
        clearance = q.spigot_clearance(build)
        low, high = housings.MIN_PILOT_CLEARANCE, housings.MAX_PILOT_CLEARANCE
        says = f"The converter's spigot has {shown(clearance)} of play in the crank."
        return within(clearance, low, high, says, on="driveline.converter.spigot_diameter")
    if given(lambda: build.driveline.gearbox.pilot_required) is False:
        return does_not_apply("The gearbox carries its input shaft without a pilot.")
    pilot = build.driveline.pilot
    bore, nose = build.engine.crank.pilot_bore, build.driveline.gearbox.nose_diameter
    outer, inner = shown(bore + BUSH_PRESS_AIM, *MM, digits=5), shown(nose + BUSH_CLEARANCE_AIM, *MM, digits=5)
    aim = f"A bronze bush of {outer} outside and {inner} inside fits this bore and shaft."
    if not is_fitted(pilot):
        return holds(False, f"Nothing carries the input shaft's nose. {aim}", on="driveline.pilot")
    # A needle or ball bearing is bought by its own sheet, not turned to size.
    aim = f" {aim}" if pilot.kind == "bush" else ""
    return all_of(lambda: _press(build, aim), lambda: _running(build, aim))


def _fit_limit(build: Build, name: str, fallback: Practice) -> float:
    pilot = build.driveline.pilot
    if pilot.kind == "bush":
        return or_practice(lambda: float(getattr(pilot, name)), fallback)
    return float(getattr(pilot, name))


def _press(build: Build, aim: str) -> Verdict:
    low = _fit_limit(build, "press_fit_min", PRESS_MIN)
    high = _fit_limit(build, "press_fit_max", PRESS_MAX)
    found = q.pilot_press(build)
    says = f"The pilot's interference in its bore is {shown(found)}.{aim}"
    tolerable = found >= 0.0 and not low <= found <= high
    on = "driveline.pilot.outer"
    return within(found, low, high, says, level="warning" if tolerable else "error", on=on)


def _running(build: Build, aim: str) -> Verdict:
    low = _fit_limit(build, "running_clearance_min", RUNNING_MIN)
    high = _fit_limit(build, "running_clearance_max", RUNNING_MAX)
    found = q.pilot_clearance(build)
    says = f"The pilot's clearance on the shaft is {shown(found)}.{aim}"
    tolerable = found > 0.0 and not low <= found <= high
    on = "driveline.pilot.inner"
    return within(found, low, high, says, level="warning" if tolerable else "error", on=on)


# -- concentricity ----------------------------------------------------------------------------------------------------
@rule(
    "driveline.runout",
    level="warning",
    due="build",
    sources=[sheet("driveline.gearbox.runout_bore_max"), sources.FLYWHEEL_HOUSINGS],
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
    Remedy: offset dowels of half the excess, or a dressed face. Misalignment wears pilot, spline and front bearing.
    Cannot tell: end float of the crank during the reading, and a housing that twists when it is bolted to its mounts.
    """
    gearbox, alignment = build.driveline.gearbox, build.driveline.alignment
    bore_max = or_practice(lambda: gearbox.runout_bore_max, BORE_RUNOUT)

    def bore() -> Verdict:
        found = q.bore_runout(build)
        measured = given(lambda: alignment.bore_runout) is not None
        dowels = max(0.0, found - bore_max) / 2
        says = f"The gearbox's bore runs out by {shown(found)}{'' if measured else ' at worst'}."
        if dowels:
            says += f" Dowels offset by {shown(dowels, *MM, digits=2)} would bring it to the limit."
        return at_most(found, bore_max, says, level="error" if measured else "warning", on=_seat(measured, "bore"))

    def face() -> Verdict:
        found = q.face_runout(build)
        measured = given(lambda: alignment.face_runout) is not None
        says = f"The gearbox's face runs out by {shown(found)}{'' if measured else ' at worst'}."
        limit = _face_limit(build)
        return at_most(found, limit, says, level="error" if measured else "warning", on=_seat(measured, "face"))

    return all_of(bore, face, default="warning")


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
    sources=[SPLINES],
    about="driveline.clutch.hub_spline",
    each=chain.splines,
    bad=[
        {"driveline.clutch.hub_spline.teeth": 24},
        {"driveline.clutch.hub_spline.outer_diameter": "28.4 mm"},
        {"driveline.transfer.input_spline.standard": "straight"},
    ],
    good=[{"driveline.clutch.hub_spline.outer_diameter": "28.9 mm"}, AUTOMATIC],
)
def spline_match(build: Build, joint: chain.Joint) -> Verdict:
    """Does the hub of the clutch disc fit the input shaft, and the transfer case the gearbox's output?

    Computes: equality of the number of teeth and of the standard, and the difference of the major diameters.
    Limit: identical; 0.2 mm of difference is taken as rounding of inch sizes.
    Remedy: a disc with the hub that the sentence names. The same diameter with another number of teeth, or the same
    number in another module, is a look-alike: it goes on by force, and strips.
    Cannot tell: length of the hub, to which side it is offset, and wear of a used shaft.
    """
    hub, shaft = joint.side, joint.ahead()
    if shaft is None:
        return does_not_apply(f"{joint.gap[0].upper()}{joint.gap[1:]}.")
    teeth, wanted = int(hub.teeth), int(shaft.teeth)
    on = str(joint)
    sizes = f"{teeth} x {shown(hub.outer_diameter)} at {joint}"
    says = f"{sizes} meets {wanted} x {shown(shaft.outer_diameter)} at {path_of(shaft)}."
    difference = abs(hub.outer_diameter - shaft.outer_diameter)
    near = difference <= SPLINE_ROUNDING
    demands = [
        holds(teeth == wanted, f"{says}{' A look-alike.' if near and teeth != wanted else ''}", on=f"{on}.teeth"),
        at_most(difference, SPLINE_ROUNDING, says, on=f"{on}.outer_diameter", unit=MM),
    ]
    standards = given(lambda: (hub.standard, shaft.standard))
    if standards is not None:
        alike = _name(standards[0]) == _name(standards[1])
        also = "" if alike else f" '{standards[0]}' does not go into '{standards[1]}'."
        demands.append(holds(alike, f"{says}{also}", on=f"{on}.standard"))
    return all_of(*demands)
