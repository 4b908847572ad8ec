"""Rules of the first drive: marks in the gaps around the engine, laden shaft angles, shift points, the noise test."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, Literal

from swaplint.api import (
    Build,
    ImpossibleInput,
    Practice,
    Verdict,
    all_of,
    at,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    name_of,
    needs_review,
    or_practice,
    part_named,
    path_of,
    practice,
    quantity,
    rule,
    sheet,
    shown,
)
from swaplint.spec.systems.fit import Clearance

from .. import sources
from ..compliance.law import places
from ..controls.signals import AUTOMATIC
from ..driveline import angles
from ..driveline import loads as shafts
from ..driveline.quantities import in_degrees
from ..fit import gaps as fit
from ..gearing import chain
from ..gearing import quantities as gearing
from ..mounts import movement as mounts
from ..mounts import moving
from ..mounts import quantities as springs
from . import compared, documents
from . import first_drive_reckoned as reckoned
from .trials import LADEN, LAUNCH, NOISE, SHIFTING

MM = ("length", "mm")
DEG = ("angle", "deg")
DB = ("sound_difference", "dB")
DECIBEL_SCALE = 10.0
"""dB that count as a whole margin."""
Demands = dict[str, Callable[[], Verdict]]
Level = Literal["error", "warning", "note"]


# -- marks in the gaps ------------------------------------------------------------------------------------------------
VITAL = ("fuel-line", "steering", "brake-pipe", "pedal", "fan-core", "fan-shroud")
"""What the engine must not touch even once."""


def _marked(build: Build) -> list[Clearance | str]:
    """The gaps around the engine, and the names in the trial that are none of theirs."""
    named = given(lambda: list(build.measured.launch.gaps)) or []
    return [*mounts.gaps(build), *(name for name in named if name not in build.vehicle.clearances)]


def _misnamed(says: str, on: str) -> Verdict:
    """A reading for a part that is not there: somebody took it, and it is of another one."""
    return needs_review(f"{says} is called so: put the name right.", on=on)


def kept(build: Build, gap: Clearance) -> Practice | None:
    """What is kept of a gap while the engine moves, where no maker says; None where that is not to touch."""
    if gap.kind in ("fixed", "wiring", "fuel-line"):
        return moving.wanted(gap)
    if gap.kind in ("axle", "propshaft"):
        return fit.to_axle(gap)
    if gap.kind == "fan-core":
        return fit.CORE_ELECTRIC if build.plumbing.cooling.fan.drive == "electric" else fit.CORE_MOVING
    if gap.kind == "fan-shroud":
        return None
    return fit.HOOD if gap.kind == "hood" else fit.to_steering(gap)


@rule(
    "commissioning.gap-marks",
    level="error",
    due="commission",
    sources=[
        sheet("vehicle.clearances.*.gap_min").giving("limit", demands=["kept"]),
        documents.MARKED.giving("limit", "a mark that shows more than 0", demands=["touched"]),
        sources.SPRINGS_AND_MASSES.giving("formula", "movement on the mounts"),
        mounts.SHAKEN.giving("formula", "what shakes the unit"),
        *compared.sources_of("as-reckoned"),
    ],
    cautions=[cautions.ROTATING],
    about=LAUNCH,
    fallbacks=[
        moving.TO_FIXED,
        moving.TO_LINES,
        moving.HOT_TO_FIXED,
        moving.HOT_TO_LINES,
        fit.HOOD,
        fit.AXLE,
        fit.PROPSHAFT,
        fit.STEERING,
        fit.STEERING_HOT,
        fit.CORE_ELECTRIC,
        fit.CORE_MOVING,
        mounts.ALLOWED,
        compared.READING,
        *springs.AS_SPRINGS,
    ],
    each=_marked,
    without={
        "vehicle.clearances.*.gap_min": "Blades and shroud are only kept from touching, which is judged; to all else "
        "common practice stands in.",
    },
    bad=[
        {f"{LAUNCH}.gaps.fuel_line.least": "0 mm"},
        {f"{LAUNCH}.gaps.hood.least": "12 mm"},
    ],
    good=[{f"{LAUNCH}.gaps.alternator.least": "30 mm"}],
)
def gap_marks(build: Build, gap: Clearance | str) -> Verdict:
    """After a hard start, a hard stop and rough ground, is enough left of every gap around the engine?

    Computes: nothing for the limit; what was reckoned as left in the worst case, for the comparison.
    Limit: nothing touched: an error for fuel lines, steering, brakes, pedals and the fan, else a warning. What the
    maker asks to be kept, else the room that common practice keeps: a warning. The engine moves no further than was
    reckoned for the worst case: a warning.
    Consequence: What the engine touches is chafed through: fuel or brake fluid leaks, or the steering jams.
    Remedy: the sentence says whether the mounts give way more than was reckoned or the gap was smaller at rest; stiffer
    mounts, a stop, or a wider gap.
    Cannot tell: what a harder shock does than those of the trial; mounts as they soften with age.
    """
    if isinstance(gap, str):
        return _misnamed(f"A mark is stated for {gap}, and no gap in vehicle.clearances", f"{LAUNCH}.gaps.{gap}")
    mark = part_named(build.measured.launch, "gaps", name_of(gap))
    least, on = mark.least, f"{LAUNCH}.gaps.{name_of(gap)}.least"
    vital: Level = "error" if gap.kind in VITAL else "warning"

    def touched() -> Verdict:
        says = f"{name_of(gap)}: the mark shows {shown(least, *MM)}" + ("." if least > 0.0 else ": it was touched.")
        return holds(least > 0.0, says, level=vital, on=on)

    def enough() -> Verdict:
        stand_in = kept(build, gap)
        if stand_in is None:
            stated = given(lambda: gap.gap_min)
            if stated is None:
                return does_not_apply(f"{name_of(gap)}: no maker asks for more than that it does not touch.")
        else:
            stated = or_practice(lambda: gap.gap_min, stand_in)
        says = f"{name_of(gap)}: at the least {shown(least, *MM)} were left."
        return at_least(least, stated, says, level="warning", on=on, unit=MM)

    demands: Demands = {"touched": touched}
    if least > 0.0:
        demands |= {"kept": enough, "as-reckoned": lambda: reckoned.gap_left(build, gap)}
    return all_of(demands)


# -- angles of the shafts ---------------------------------------------------------------------------------------------
ENDS = {"input_joint": "input", "output_joint": "output"}
"""The field of the trial for each joint of a shaft."""


@quantity(
    "commissioning.laden-shaft-angle",
    "angle",
    "deg",
    formula="β_eq as driveline.equivalent-angle, with the angles that were measured laden",
    sources=[sources.DRIVESHAFT_MANUAL.giving("formula")],
    each=chain.last_shafts,
)
def laden_equivalent_angle(build: Build, shaft: Any) -> float:
    """Angle of the single joint that would turn as unevenly as the line does, by the angles measured laden."""
    measured = {
        f"{path_of(joint)}.ride": _laden(build, piece, joint)
        for piece in chain.line_to(build, shaft)
        for joint in shafts.joints_of(build, piece)
    }
    other = at(build, measured)
    return shafts.equivalent_angle(other, other.driveline.shafts[name_of(shaft)])


def _laden(build: Build, shaft: Any, joint: Any) -> float:
    trial = part_named(build.measured.laden, "shafts", name_of(shaft))
    return float(trial.input if ENDS[name_of(joint)] == "input" else trial.output)


def _laden_shafts(build: Build) -> list[Any]:
    """The propshafts, and the names in the trial that are none of theirs."""
    named = given(lambda: list(build.measured.laden.shafts)) or []
    return [*chain.shafts(build), *(name for name in named if name not in build.driveline.shafts)]


@rule(
    "commissioning.laden-angles",
    level="warning",
    due="commission",
    sources=[
        sheet("driveline.shafts.*.input_joint.running_angle_max"),
        angles.ANGLES.giving("limit", "least angle, equivalent angle"),
        sources.DRIVESHAFT_MANUAL.giving("formula", "equivalent angle of a line of joints"),
        sources.UNIVERSAL_JOINTS.giving("formula", "angle in space"),
        *compared.sources_of("as-reckoned.input", "as-reckoned.output"),
    ],
    cautions=[cautions.ROTATING],
    about=LADEN,
    fallbacks=[angles.RUNNING, shafts.STRAIGHT, compared.INCLINOMETER],
    each=_laden_shafts,
    bad=[
        {f"{LADEN}.shafts.rear.input": "-8.5 deg", f"{LADEN}.shafts.rear.output": "8.5 deg"},
        {f"{LADEN}.shafts.rear.input": "-5.5 deg"},
        {f"{LADEN}.shafts.front.output": "0.2 deg", f"{LADEN}.shafts.front.input": "0.2 deg"},
    ],
    good=[{f"{LADEN}.shafts.rear.input": "-2.8 deg"}],
)
def laden_angles(build: Build, shaft: Any) -> Verdict:
    """On the laden vehicle, do the joints of the propshafts run at angles that they stand, and as they were planned?

    Computes: the angle of each joint in space, of the side view as measured and the plan view as planned; the
    equivalent angle of the line with the measured angles.
    Limit: the joint's running angle, 7 degrees for a universal joint whose sheet is silent; 0.5 degrees at least, for
    its needles to move; an equivalent angle of 3 degrees (common practice). Each angle against the planned one at laden
    ride height.
    Consequence: The driveline shakes when laden, and its joints wear early.
    Remedy: the sentence says whether the ride height or the mounting is off: springs, or a shim at pinion or gearbox.
    Cannot tell: the angle under torque, when the axle winds up by 1 to 3 degrees.
    """
    if isinstance(shaft, str):
        return _misnamed(f"Angles are stated for {shaft}, and no shaft in driveline.shafts", f"{LADEN}.shafts.{shaft}")
    demands: Demands = {}
    for joint in shafts.joints_of(build, shaft):
        end = ENDS[name_of(joint)]
        demands[f"running-angle.{end}"] = lambda joint=joint: _running(build, shaft, joint)  # type: ignore[misc]
        if given(lambda joint=joint: shafts.fluctuates(joint)) is not False:  # type: ignore[misc]
            demands[f"needles.{end}"] = lambda joint=joint: _needles(build, shaft, joint)  # type: ignore[misc]
        demands[f"as-reckoned.{end}"] = lambda joint=joint: _as_planned(build, shaft, joint)  # type: ignore[misc]
    if chain.shaft_behind(build, shaft) is None:
        demands["cancelling"] = lambda: _cancelling(build, shaft)
    return all_of(demands)


def _on(shaft: Any, joint: Any) -> str:
    return f"{LADEN}.shafts.{name_of(shaft)}.{ENDS[name_of(joint)]}"


def _says(angle: float, joint: Any) -> str:
    return f"Laden, the joint at the {'driving' if name_of(joint) == 'input_joint' else 'driven'} end runs at " + (
        f"{in_degrees(angle)}."
    )


def _running(build: Build, shaft: Any, joint: Any) -> Verdict:
    angle = shafts.true_angle(joint, _laden(build, shaft, joint))
    universal = shafts.fluctuates(joint)
    most = or_practice(lambda: joint.running_angle_max, angles.RUNNING) if universal else joint.running_angle_max
    return at_most(angle, most, _says(angle, joint), on=_on(shaft, joint), unit=DEG)


def _needles(build: Build, shaft: Any, joint: Any) -> Verdict:
    angle = shafts.true_angle(joint, _laden(build, shaft, joint))
    return at_least(angle, angles.LEAST_ANGLE, _says(angle, joint), on=_on(shaft, joint), unit=DEG)


def _as_planned(build: Build, shaft: Any, joint: Any) -> Verdict:
    _laden(build, shaft, joint)
    return reckoned.joint_angle(build, shaft, joint, _on(shaft, joint))


def _cancelling(build: Build, shaft: Any) -> Verdict:
    found = laden_equivalent_angle(build, shaft)
    says = f"With the angles as measured, what follows turns as unevenly as behind one joint at {in_degrees(found)}."
    on = _on(shaft, shafts.joints_of(build, shaft)[-1])
    return at_most(found, angles.EQUIVALENT, says, on=on, unit=DEG)


# -- shifting ---------------------------------------------------------------------------------------------------------
def shifted(build: Build) -> tuple[float, float]:
    """Ratio of the gear that was left in the trial, and of the next."""
    ratios, gear = gearing.gear_ratios(build), round(build.measured.shifting.gear)
    if not 1 <= gear < len(ratios):
        raise ImpossibleInput(f"there is no shift up out of gear {gear}: the gearbox has {len(ratios)} gears")
    return ratios[gear - 1], ratios[gear]


@rule(
    "commissioning.shift-points",
    level="warning",
    due="commission",
    sources=[
        sheet("engine.speed.rated").giving("limit", demands=["not-beyond"]),
        sheet("engine.torque.plateau_low").giving("limit", demands=["lands"]),
        sources.VEHICLE_DYNAMICS.giving("formula", "engine speed after a shift"),
        *compared.sources_of("lands-as-reckoned", "map-as-reckoned"),
    ],
    cautions=[cautions.ROTATING],
    about=SHIFTING,
    fallbacks=[gearing.SHIFT_LOSS, compared.READING],
    bad=[
        {f"{SHIFTING}.after": "1350 r/min"},
        {f"{SHIFTING}.after": "2700 r/min"},
        {**AUTOMATIC, f"{SHIFTING}.before": "3600 r/min", f"{SHIFTING}.after": "2815 r/min"},
    ],
    good=[{f"{SHIFTING}.before": "2900 r/min", f"{SHIFTING}.after": "2120 r/min"}],
)
def shift_points(build: Build) -> Verdict:
    """After an up-shift at full load on the road, does the engine pull from its plateau, and land where it should?

    Computes: the speed at which it should land: the speed at which the shift began times the next ratio over this one,
    less what a manual shift loses.
    Limit: the lower end of the torque plateau, as gearing.shift-step asks. An automatic shifts at rated speed at the
    latest. Both speeds against what was reckoned.
    Consequence: The engine falls below its pull after each shift and hangs there, or races before it.
    Remedy: the sentence says what is off: the gear, the clutch or the map.
    Cannot tell: other gears than the one that was tried.
    """
    trial = build.measured.shifting
    before = trial.before
    demands: Demands = {
        "lands": lambda: _lands(build),
        "lands-as-reckoned": lambda: reckoned.landing(build, shifted(build)),
    }
    if build.driveline.gearbox.kind == "automatic":
        demands["not-beyond"] = lambda: _not_beyond(build, before)
        if is_fitted(build.driveline.gearbox.controller):
            demands["map-as-reckoned"] = lambda: reckoned.shift_map(build)
    return all_of(demands)


def _lands(build: Build) -> Verdict:
    trial = build.measured.shifting
    shifted(build)
    gear, after = round(trial.gear), trial.after
    says = f"Gear {gear} to {gear + 1} at {shown(trial.before)}: the engine lands at {shown(after)}."
    level: Level = "warning" if gear + 2 >= len(gearing.gear_ratios(build)) else "note"
    return at_least(after, build.engine.torque.plateau_low, says, level=level, on=f"{SHIFTING}.after")


def _not_beyond(build: Build, before: float) -> Verdict:
    says = f"It shifts up at {shown(before)}."
    return at_most(before, build.engine.speed.rated, says, on=f"{SHIFTING}.before")


# -- noise ------------------------------------------------------------------------------------------------------------
APART, ABOVE, DRIFT, SPEED_SHARE, ROUNDED = 2.0, 10.0, 0.5, 0.05, 0.5
"""dB between readings, above the background, of the meter; share of the engine speed; dB that rounding takes."""
CALIBRATED = practice("a sound level meter is set by its calibrator before the test")
FAST, OF_FAST, OF_SLOW = 5000.0 * math.pi / 30.0, 0.5, 0.75
"""Rated speed of 5000 r/min, rad/s, and the share of it that is held above and up to that."""


@quantity(
    "commissioning.noise-speed",
    "rotation",
    "r/min",
    formula="¾ of rated speed; ½ of it above 5000 r/min",
    sources=[documents.NOISE_SPEED.giving("formula", "three quarters of rated speed, half of it above 5000 r/min")],
)
def noise_speed(build: Build) -> float:
    """Engine speed that is held in the stationary test of noise."""
    rated = build.engine.speed.rated
    return rated * (OF_FAST if rated > FAST * (1.0 + 1e-9) else OF_SLOW)


@rule(
    "commissioning.noise-test",
    level="warning",
    due="commission",
    sources=[
        documents.NOISE_READINGS.giving("limit", "2 dB, 10 dB, 5 %", demands=["agree", "background", "speed"]),
        documents.NOISE_METER.giving("limit", "0.5 dB", demands=["meter"]),
        CALIBRATED.giving("limit", "0.5 dB of what it is marked with", demands=["calibrator"]),
        documents.NOISE_READINGS.giving("limit", "the highest reading counts", demands=["noted"]),
        documents.NOISE_SPEED.giving("formula", "engine speed of the test"),
    ],
    cautions=[cautions.LAW],
    about=NOISE,
    bad=[
        {f"{NOISE}.quietest": "82.4 dB(A)"},
        {f"{NOISE}.background": "79 dB(A)"},
        {f"{NOISE}.calibrated_after": "94.8 dB(A)"},
        {f"{NOISE}.calibrator": "114 dB(A)"},
        {f"{NOISE}.speed": "1500 r/min"},
        {"vehicle.noise.now": "83 dB(A)"},
    ],
    good=[{f"{NOISE}.loudest": "85.4 dB(A)"}],
)
def noise_test(build: Build) -> Verdict:
    """Is the figure of the stationary noise test one that holds?

    Computes: how far the readings lie apart, how far the highest stands above the background, how far the meter moved.
    Limit: readings within 2 dB, the highest 10 dB above the background, the engine within 5 % of the speed of the test
    (from memory); the meter within 0.5 dB of what it showed of its calibrator before, and that within 0.5 dB of the
    calibrator's mark (common practice); the highest reading is the figure in `vehicle.noise.now`. Whether that is low
    enough is for compliance.noise-emc.
    Consequence: The inspector's figure is another one, and the vehicle is turned away.
    Remedy: another place or hour, a meter that holds, and the test again.
    Cannot tell: echo from walls, wind, and where the microphone stood; a place that tests otherwise.
    """
    if all(place.noise.asked == "nothing" for place in places(build)):
        return does_not_apply("No place asks anything of the noise.")
    trial = build.measured.noise
    highest = trial.loudest

    def agree() -> Verdict:
        says = f"The readings lie between {shown(trial.quietest)} and {shown(highest)}."
        return at_most(highest - trial.quietest, APART, says, on=f"{NOISE}.quietest", unit=DB, scale=DECIBEL_SCALE)

    def background() -> Verdict:
        says = f"The loudest reading is {shown(highest)}, and {shown(trial.background)} are all around."
        return at_least(highest - trial.background, ABOVE, says, on=f"{NOISE}.background", unit=DB, scale=DECIBEL_SCALE)

    def meter() -> Verdict:
        before, after = trial.calibrated_before, trial.calibrated_after
        says = f"The meter showed {shown(before)} and then {shown(after)} of its calibrator."
        return at_most(abs(after - before), DRIFT, says, on=f"{NOISE}.calibrated_after", unit=DB, scale=DECIBEL_SCALE)

    def calibrator() -> Verdict:
        marked, before = trial.calibrator, trial.calibrated_before
        says = f"Before the test the meter showed {shown(before)} of a calibrator marked {shown(marked)}."
        if abs(before - marked) > DRIFT:
            says += " Every reading is off by as much: set the meter by its calibrator and test again."
        on = f"{NOISE}.calibrated_before"
        return at_most(abs(before - marked), DRIFT, says, on=on, unit=DB, scale=DECIBEL_SCALE)

    def speed() -> Verdict:
        wanted = noise_speed(build)
        says = f"Held at {shown(trial.speed)}; the test wants {shown(wanted)}."
        return at_most(abs(trial.speed - wanted) / wanted, SPEED_SHARE, says, on=f"{NOISE}.speed", unit=("share", "%"))

    def noted() -> Verdict:
        now = build.vehicle.noise.now
        says = f"The loudest reading is {shown(highest)}, and {shown(now)} are noted as the vehicle's figure."
        return at_most(abs(now - highest), ROUNDED, says, on="vehicle.noise.now", unit=DB, scale=DECIBEL_SCALE)

    return all_of(agree=agree, background=background, meter=meter, calibrator=calibrator, speed=speed, noted=noted)
