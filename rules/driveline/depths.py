"""Rules about how gearbox and crank meet along their axis: depths, and the pilot that carries the input shaft."""

from __future__ import annotations

from collections.abc import Callable

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    advice,
    all_of,
    at_least,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    or_practice,
    practice,
    rule,
    sheet,
    shown,
    use_practice,
    within,
)
from swaplint.engineering import housings
from swaplint.spec.systems.driveline import ADAPTER_THICKNESSES_MM

from .. import sources
from ..gearing import chain
from . import quantities as q
from .interfaces import AUTOMATIC, MM, PLAY, Level

DEPTHS = practice(
    "nose 10 mm or 0.7 of its diameter in the bush, over the whole width of a bearing, and 2 mm short of striking; "
    "converter gap 2 to 5 mm; the hub on full spline"
)
BUSH_FIT = practice("sintered bronze pilot bush: pressed in with 0.02 to 0.06 mm, running clearance 0.03 to 0.10 mm")

NOSE = Practice("nose of the input shaft at least 10 mm in the pilot bush", 0.010, DEPTHS)
NOSE_ROOM = Practice("input shaft at least 2 mm from striking with its tip or shoulder", 0.002, DEPTHS)
GAP_MIN = Practice("converter pulled forward by at least 2 mm", 0.002, DEPTHS)
GAP_MAX = Practice("converter pulled forward by at most 5 mm", 0.005, DEPTHS)
PRESS_MIN = Practice("pilot bush pressed in with at least 0.02 mm", 0.02e-3, BUSH_FIT)
PRESS_MAX = Practice("pilot bush pressed in with at most 0.06 mm", 0.06e-3, BUSH_FIT)
RUNNING_MIN = Practice("running clearance in the pilot bush of at least 0.03 mm", 0.03e-3, BUSH_FIT)
RUNNING_MAX = Practice("running clearance in the pilot bush of at most 0.10 mm", 0.10e-3, BUSH_FIT)

THICKNESS = "driveline.adapter.thickness"
NOSE_IN_DIAMETERS = 0.7
MICROMETRE = 1e-6
"""m; nobody makes an adapter finer: within it a stock thickness is the one that is wanted."""
BUSH_PRESS_AIM, BUSH_CLEARANCE_AIM = 0.04e-3, 0.06e-3


# -- depths -----------------------------------------------------------------------------------------------------------
@rule(
    "driveline.depth-stack",
    level="error",
    due="quote",
    sources=[
        sheet("driveline.gearbox.nose_engagement_min"),
        sheet("driveline.converter.gap_min"),
        sheet("driveline.gearbox.nose_room_min"),
        DEPTHS.giving("limit", "2 mm before striking where the sheet is silent, hub on full spline"),
    ],
    cautions=[cautions.CRUSH],
    fallbacks=[NOSE, NOSE_ROOM, GAP_MIN, GAP_MAX],
    adjust=["driveline.adapter.thickness"],
    bad=[
        {"driveline.gearbox.input_shaft_length": "256 mm"},
        {"driveline.gearbox.input_shaft_length": "271 mm"},
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
    diameter, or the whole width of a needle or ball bearing; a gap of 2 to 5 mm; 2 mm before tip or shoulder strikes.
    The hub stays on full spline. Further pieces of the stack count: rings, crank spacers, spacers at the converter.
    Consequence: Pilot, hub spline or the crank's thrust bearing is destroyed within the first miles.
    Remedy: an adapter of another thickness, or a longer pilot bush. Never draw a joint together with its bolts.
    Cannot tell: travel of the release bearing; tolerance of measured depths, about 0.5 mm each.
    """
    on = THICKNESS if is_fitted(build.driveline.adapter) else "driveline.gearbox.bellhousing_depth"
    if chain.has_converter(build):
        return all_of(converter_gap=lambda: _converter_depth(build, on))
    demands: dict[str, Callable[[], Verdict]] = {}
    if given(lambda: build.driveline.gearbox.pilot_required) is not False and not chain.left_out(build.driveline.pilot):
        demands["nose-in-pilot"] = lambda: _nose_depth(build, on)
        demands["nose-room"] = lambda: _nose_room(build, on)
    demands["hub-on-spline"] = lambda: _hub_depth(build)
    return all_of(demands)


def _nose_needed(build: Build) -> float:
    gearbox, pilot = build.driveline.gearbox, build.driveline.pilot
    # A needle or ball bearing carries the nose over its whole width, which may be less than a bush needs.
    if given(lambda: pilot.kind) not in (None, "bush"):
        stated = given(lambda: gearbox.nose_engagement_min)
        return float(pilot.length) if stated is None else stated
    stated = given(lambda: gearbox.nose_engagement_min)
    if stated is not None:
        return stated
    return max(use_practice(build, NOSE), NOSE_IN_DIAMETERS * gearbox.nose_diameter)


def _room_needed(build: Build) -> float:
    return or_practice(lambda: build.driveline.gearbox.nose_room_min, NOSE_ROOM)


def _nose_remedy(build: Build) -> tuple[float | None, str]:
    """The thickness that puts the nose in the middle of its range; what to say where no stock adapter does."""
    reach = q.nose_reach(build)
    low, high = _nose_needed(build), reach + q.nose_room(build) - _room_needed(build)
    thickness = q.adapter_thickness(build) + reach - 0.5 * (low + high)
    if low > high or thickness <= 0.0:
        return None, " No adapter makes this nose fit: another bush, pilot bore or input shaft is needed."
    return _other_adapter(build, thickness, 0.5 * (high - low))


def _other_adapter(build: Build, thickness: float, play: float) -> tuple[float | None, str]:
    """The adapter that brings the stack to a thickness, good to `play` either way; what to say where none is stock."""
    if not is_fitted(build.driveline.adapter):
        return None, f" An adapter of {shown(thickness, *MM, digits=3)} would put it in the middle of its range."
    # What the further pieces take is not the adapter's.
    own = thickness - chain.thickness_on(build, chain.HOUSING_SIDE)
    if own <= 0.0 or any(abs(own - 1e-3 * size) <= play + MICROMETRE for size in ADAPTER_THICKNESSES_MM):
        return own, ""
    return own, f" No stock thickness does: an adapter made to {shown(own, *MM, digits=5)} would."


def _nose_depth(build: Build, on: str) -> Verdict:
    found, needed = q.pilot_engagement(build), _nose_needed(build)
    says = f"{shown(found)} of the input shaft's nose stands in the pilot bush."
    if found < 0.0:
        says = f"The input shaft's nose ends {shown(-found, *MM)} short of the pilot bush."
    thickness, also = (given(lambda: _nose_remedy(build)) if found < needed else None) or (None, "")
    return at_least(found, needed, says + also, on=on, unit=MM, advice=advice(THICKNESS, thickness))


def _nose_room(build: Build, on: str) -> Verdict:
    found = q.nose_room(build)
    says = f"{shown(max(found, 0.0), *MM)} are left before the input shaft's tip or shoulder strikes."
    if found < 0.0:
        says = f"The input shaft's tip or shoulder strikes {shown(-found, *MM)} before the joint closes."
    needed = _room_needed(build)
    thickness, also = (given(lambda: _nose_remedy(build)) if found < needed else None) or (None, "")
    return at_least(found, needed, says + also, on=on, advice=advice(THICKNESS, thickness))


def _hub_depth(build: Build) -> Verdict:
    disc = build.driveline.clutch
    found = q.hub_on_spline(build)
    says = f"{shown(found)} of full spline are left beyond the disc's hub at the tighter end, over its wear travel."
    if found < 0.0:
        says = f"The disc's hub leaves the full spline by {shown(-found, *MM)}, over its wear travel."
    says += " Fit a disc with another offset, or another adapter." if found < 0.0 else ""
    return at_least(found, 0.0, says, on="driveline.gearbox.spline_end", scale=disc.hub_rear - disc.hub_front)


def _converter_depth(build: Build, on: str) -> Verdict:
    converter = build.driveline.converter
    low = or_practice(lambda: converter.gap_min, GAP_MIN)
    high = or_practice(lambda: converter.gap_max, GAP_MAX)
    found = q.converter_gap(build)
    middle = q.adapter_thickness(build) + 0.5 * (low + high) - found
    says = f"The seated converter is pulled forward by {shown(found)}."
    if found < 0.0:
        says = f"There is {shown(-found, *MM)} too little room: the converter is pressed into the gearbox's pump."
    helps = middle > 0.0 and not low <= found <= high
    thickness, also = _other_adapter(build, middle, 0.5 * (high - low)) if helps else (None, "")
    return within(found, low, high, says + also, on=on, unit=MM, advice=advice(THICKNESS, thickness))


# -- pilot ------------------------------------------------------------------------------------------------------------
@rule(
    "driveline.pilot-fit",
    level="error",
    due="quote",
    sources=[
        sheet("driveline.pilot.press_fit_min"),
        sheet("driveline.pilot.running_clearance_min"),
        PLAY.giving("limit", "play of a converter's spigot in the crank"),
        sources.MACHINE_DESIGN.giving("formula", "how much pressing in closes a bush, thick cylinders"),
    ],
    fallbacks=[PRESS_MIN, PRESS_MAX, RUNNING_MIN, RUNNING_MAX, q.SINTERED_BRONZE],
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

    Computes: interference of the bush in the bore, and running clearance of the nose in the bush: measured before it is
    pressed in, less what pressing in closes it by, as thick cylinders do. A bearing's sheet allows for that itself. For
    an automatic the clearance of the converter's spigot in the crank.
    Limit: the bearing's own sheet; a bush whose sheet is silent is pressed in with 0.02 to 0.06 mm and runs with 0.03
    to 0.10 mm. None fitted, loose in the bore or tight on the shaft is an error, outside the range a warning.
    Consequence: The input shaft or converter runs out of centre or seizes, and ruins clutch, seals or gearbox.
    Remedy: a bush of sintered bronze, turned to fit bore and shaft. It is the part most often forgotten.
    Cannot tell: concentricity (see driveline.runout), and wear of a used bore. Measure both bores to 0.01 mm.
    """
    if chain.has_converter(build):
        return all_of(converter_spigot=lambda: _spigot(build))
    if given(lambda: build.driveline.gearbox.pilot_required) is False:
        return does_not_apply("The gearbox carries its input shaft without a pilot.")
    if not is_fitted(build.driveline.pilot):
        return all_of(fitted=lambda: _not_fitted(build))
    return all_of(press=lambda: _press(build), running=lambda: _running(build))


def _spigot(build: Build) -> Verdict:
    clearance = q.spigot_clearance(build)
    low, high = housings.MIN_PILOT_CLEARANCE, housings.MAX_PILOT_CLEARANCE
    says = f"The converter's spigot has {shown(clearance)} of play in the crank."
    if clearance < 0.0:
        says = f"The converter's spigot is {shown(-clearance, *MM)} too large for the crank and does not go in."
    return within(clearance, low, high, says, on="driveline.converter.spigot_diameter")


def _turned_to(build: Build) -> tuple[float, float]:
    """The outside and the inside diameter of a bronze bush that fits this bore and this shaft."""
    bore, nose = build.engine.crank.pilot_bore, build.driveline.gearbox.nose_diameter
    outer, inner = bore + BUSH_PRESS_AIM, nose + BUSH_CLEARANCE_AIM
    return outer, inner + q.closing(build, BUSH_PRESS_AIM, inner, outer)


def _not_fitted(build: Build) -> Verdict:
    outer, inner = _turned_to(build)
    says = f"Nothing carries the input shaft's nose. A bronze bush of {shown(outer, *MM, digits=5)} outside and "
    says += f"{shown(inner, *MM, digits=5)} inside would."
    turned = {"driveline.pilot.outer": outer, "driveline.pilot.inner": inner}
    return holds(False, says, on="driveline.pilot", advice=advice("driveline.pilot.fitted", True, turned))


def _is_bush(build: Build) -> bool:
    # A needle or ball bearing is bought by its own sheet, not turned to size.
    return given(lambda: build.driveline.pilot.kind) == "bush"


def _fit_limit(build: Build, name: str, fallback: Practice) -> float:
    pilot = build.driveline.pilot
    if pilot.kind == "bush":
        return or_practice(lambda: float(getattr(pilot, name)), fallback)
    return float(getattr(pilot, name))


def _press(build: Build) -> Verdict:
    low = _fit_limit(build, "press_fit_min", PRESS_MIN)
    high = _fit_limit(build, "press_fit_max", PRESS_MAX)
    found = q.pilot_press(build)
    says = f"The pilot is {shown(found)} larger than its bore."
    if found < 0.0:
        says = f"The pilot is {shown(-found, *MM)} smaller than its bore and falls out of it."
    fits, on = low <= found <= high, "driveline.pilot.outer"
    level: Level = "warning" if found >= 0.0 and not fits else "error"
    turned = _turned_to(build)[0] if not fits and _is_bush(build) else None
    return within(found, low, high, says, level=level, on=on, advice=advice(on, turned))


def _running(build: Build) -> Verdict:
    low = _fit_limit(build, "running_clearance_min", RUNNING_MIN)
    high = _fit_limit(build, "running_clearance_max", RUNNING_MAX)
    found = q.pilot_clearance(build)
    says = f"The pilot's clearance on the shaft is {shown(found, digits=3)}"
    if found < 0.0:
        says = f"The pilot is {shown(-found, *MM, digits=3)} too narrow for the shaft's nose"
    closing = shown(q.pilot_closing(build), *MM, digits=2)
    says += f"; pressing it in takes {closing}." if _is_bush(build) else "."
    fits, on = low <= found <= high, "driveline.pilot.inner"
    level: Level = "warning" if found > 0.0 and not fits else "error"
    turned = _turned_to(build)[1] if not fits and _is_bush(build) else None
    return within(found, low, high, says, level=level, on=on, advice=advice(on, turned))
