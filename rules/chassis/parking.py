"""The rule about the parking brake."""

from __future__ import annotations

import math
from collections.abc import Callable

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
    is_fitted,
    needs_review,
    practice,
    quantity,
    regulation,
    rule,
    sheet,
    shown,
)
from swaplint.engineering import road_load
from swaplint.engineering.constants import G

from .. import sources
from ..gearing.quantities import axle_ratio, finite_grade, high_range, rolling_radius, tyre_diameter
from ..mounts.moving import Level

PARKING = "vehicle.brakes.parking"
GRADE = ("grade", "%")

LEGAL_GRADE = {"M1": 0.20, "M2": 0.18, "M3": 0.18, "N1": 0.18, "N2": 0.18, "N3": 0.18}
"""Slope that the laden vehicle must be held on, by category (UN Regulations No. 13-H and No. 13, from memory)."""
COMBINATION_GRADE = 0.12
"""Slope that the towing vehicle's parking brake must hold the whole combination on (the same, from memory)."""
CONTROL_FORCE = {
    # at the hand, at the foot, N
    "M1": (400.0, 500.0),
    "M2": (600.0, 700.0),
    "M3": (600.0, 700.0),
    "N1": (600.0, 700.0),
    "N2": (600.0, 700.0),
    "N3": (600.0, 700.0),
}
"""Greatest force at the control, by category (the same, from memory)."""

PARKING_RULE = regulation(
    "UN Regulation No. 13, braking, parking braking system (one paragraph read where it is quoted)", known="second-hand"
)
PARKING_NUMBERS = regulation("UN Regulations No. 13 and No. 13-H, performance of the parking brake")
US_PARKING_RULE = regulation("US 49 CFR 393.41, parking brake system, as a summary gives it", known="second-hand")

FEEBLE = 60.0
"""Force at the control, N, below which no lever or pedal that pulls a cable holds a laden vehicle on a slope."""
IN_KILOGRAMS = practice("a lever or pedal that pulls a cable takes more than 60 N to hold a laden vehicle on a slope")

KEPT_AS_APPROVED = "A brake kept in the wheels holds what it was approved for; any other is asked for one of the two."

ON_A_SHAFT = ("gearbox-output", "transfer-output", "parking-lock")
PLACE_WORDS = {
    "wheels": "in the wheels",
    "gearbox-output": "on the gearbox's output",
    "transfer-output": "on the transfer case's output",
    "parking-lock": "in the automatic gearbox as its parking lock",
}
CARRIED_BY = {"gearbox-output": "gearbox", "transfer-output": "transfer-case", "parking-lock": "gearbox"}
"""The part that carries a parking brake on a shaft, by its word in the scope of supply."""


# -- what it holds ----------------------------------------------------------------------------------------------------
@quantity(
    "chassis.parking-force",
    "force",
    "kN",
    formula="measured: m·g·sin(atan(grade)); from its torque: M·i/r, i the axle ratio (and the high range) behind it; "
    "kept in the wheels as approved: m_approved·g·sin(atan(grade of the category))",
    sources=[
        sources.VEHICLE_DYNAMICS.giving("formula", "force of a grade, and of a torque at the wheels"),
        PARKING_NUMBERS.giving("formula", "18 and 20 %, what it was approved for"),
    ],
)
def parking_force(build: Build) -> float:
    """Force at the road that the parking brake holds, as long as the tyres grip."""
    brake = build.vehicle.brakes.parking
    held = given(lambda: brake.held_grade)
    if held is not None:
        return road_load.grade_force(build.vehicle.mass.gvwr, held)
    torque = given(lambda: brake.torque)
    if torque is not None:
        return torque * _ratio_behind(build) / rolling_radius(build)
    if brake.state == "kept" and brake.acts_on == "wheels" and brake.before == "wheels":
        legal = LEGAL_GRADE[build.vehicle.category]
        return road_load.grade_force(build.vehicle.original.gvwr, legal) * _smaller_tyres(build)
    return road_load.grade_force(build.vehicle.mass.gvwr, brake.held_grade)


def _ratio_behind(build: Build) -> float:
    """What the torque grows by between the brake and the wheels, at the least."""
    place = build.vehicle.brakes.parking.acts_on
    if place == "wheels":
        return 1.0
    return axle_ratio(build) * (1.0 if place == "transfer-output" else high_range(build))


def _smaller_tyres(build: Build) -> float:
    """How the force at the road changed with the tyres since the speedometer was right; 1 where it has none."""
    gauge = build.driveline.speedometer
    return gauge.calibrated_tyre_diameter / tyre_diameter(build) if is_fitted(gauge) else 1.0


@quantity(
    "chassis.parking-grade",
    "grade",
    "%",
    formula="tan(asin(F/(m·g))), F of chassis.parking-force, m the gross rating",
    symbols={"F": "chassis.parking-force", "m": "vehicle.mass.gvwr"},
    sources=[sources.VEHICLE_DYNAMICS.giving("formula")],
)
def parking_grade(build: Build) -> float:
    """Slope that the parking brake holds the laden vehicle on."""
    return _grade_of(build, build.vehicle.mass.gvwr)


def _grade_of(build: Build, mass: float) -> float:
    return finite_grade(road_load.climbable_grade(parking_force(build), mass, 0.0))


# -- the rule ---------------------------------------------------------------------------------------------------------
@rule(
    "chassis.parking-brake",
    level="error",
    due="quote",
    sources=[
        PARKING_RULE.giving("limit", "held on a slope with nobody in it, by mechanical means alone"),
        US_PARKING_RULE.giving("limit", "any slope that the vehicle is used on, laden"),
        PARKING_NUMBERS.giving(
            "limit",
            "18, 20 and 12 %; 400 to 700 N at the control",
            demands=["legal-grade", "combination", "control-force"],
        ),
        IN_KILOGRAMS.giving("limit", "at least 60 N at a lever or pedal", demands=["control-force"]),
        sheet(f"{PARKING}.torque"),
        sources.VEHICLE_DYNAMICS.giving("formula", "force on a slope"),
    ],
    cautions=[cautions.BRAKES, cautions.LAW],
    adjust=[f"{PARKING}.torque"],
    about=PARKING,
    without={
        f"{PARKING}.parked_grade": "A slope of its own is the owner's wish; 18 or 20 % are judged anyway.",
        f"{PARKING}.held_grade": KEPT_AS_APPROVED,
        f"{PARKING}.torque": KEPT_AS_APPROVED,
        f"{PARKING}.control_force": "It is measured once the brake is set: a brake that is kept takes what it took.",
        "vehicle.towbar.fitted": "A trailer hangs on a towbar, which mass.load-cases asks for where one is pulled.",
    },
    bad=[
        {f"{PARKING}.state": "gone"},
        {f"{PARKING}.held_grade": "16 %"},
        {f"{PARKING}.locked_mechanically": False},
        {f"{PARKING}.control_force": "650 N"},
        {f"{PARKING}.held_grade": None, f"{PARKING}.torque": "300 Nm", f"{PARKING}.acts_on": "transfer-output"},
    ],
    good=[
        {
            f"{PARKING}.held_grade": None,
            f"{PARKING}.torque": "900 Nm",
            f"{PARKING}.acts_on": "transfer-output",
            f"{PARKING}.state": "replaced",
        },
        {f"{PARKING}.held_grade": None, f"{PARKING}.torque": None, f"{PARKING}.control_force": None},
    ],
)
def parking_brake(build: Build) -> Verdict:
    """Has the vehicle a parking brake still, and does it hold the laden vehicle, and its trailer, on the slope?

    Computes: the slope that it holds: as measured; else from its torque, the ratios behind it and the tyre; a brake
    kept in the wheels holds what it was approved for, at the approved mass and tyres.
    Limit: the slope that the owner states (US 49 CFR 393.41 asks for any slope that a commercial vehicle is used on),
    held by mechanical means alone (UN Regulation No. 13): errors. 18 %, cars 20 %, and 12 % with the trailer, with at
    most 600 N at the hand or 700 N at the foot, cars 400 and 500 N (from memory): warnings. Less than 60 N at a lever
    or pedal that pulls a cable is looked at again: a spring balance shows kilograms.
    Consequence: The parked vehicle rolls away with nobody in it, onto whoever stands below.
    Remedy: a parking brake in the rear wheels, or a drum or disc on the output that now drives the axle, fitted and
    tested by a qualified person.
    Cannot tell: whether the tyres of the braked axle grip; worn linings. One on a shaft holds nothing once that shaft
    or a wheel is off, one wheel is lifted, or the transfer case behind it stands in neutral: chock the wheels.
    """
    brake = build.vehicle.brakes.parking
    if not is_fitted(brake):
        return all_of(there=_gone)
    if brake.state == "gone":
        return all_of(there=lambda: _left_with_it(build))
    demands: dict[str, Callable[[], Verdict]] = {
        "there": lambda: _there(build),
        "legal-grade": lambda: _legal(build),
        "mechanical": lambda: _mechanical(build),
    }
    if given(lambda: brake.parked_grade) is not None:
        demands["stated-grade"] = lambda: _stated(build)
    if given(lambda: is_fitted(build.vehicle.towbar)):
        demands["combination"] = lambda: _combination(build)
    if given(lambda: brake.control_force) is not None:
        demands["control-force"] = lambda: _control_force(build)
    return all_of(demands)


def _gone() -> Verdict:
    says = "The vehicle has no parking brake: fit one in the wheels or on the output that drives the axle."
    return holds(False, says, on=PARKING)


def _left_with_it(build: Build) -> Verdict:
    was = PLACE_WORDS[build.vehicle.brakes.parking.before]
    says = f"It acted {was} and is gone with what was taken out: fit one in the wheels or on the new output."
    return holds(False, says, on=f"{PARKING}.state")


def _there(build: Build) -> Verdict:
    brake, on = build.vehicle.brakes.parking, f"{PARKING}.state"
    if brake.acts_on == "parking-lock":
        if given(lambda: build.driveline.gearbox.kind) == "manual":
            says = "It is said to be a parking lock, which a manual gearbox has not: say where it acts, or fit a brake."
            return holds(False, says, on=f"{PARKING}.acts_on")
        says = "Only the automatic's parking lock holds it, which is no parking brake: fit one that brakes."
        return holds(False, says, level="warning", on=f"{PARKING}.acts_on")
    if brake.state == "kept" and brake.before != brake.acts_on:
        says = (
            f"It is stated as kept, but acted {PLACE_WORDS[brake.before]} and now acts {PLACE_WORDS[brake.acts_on]}: "
            "state it as replaced."
        )
        return holds(False, says, on=on)
    if brake.acts_on == "transfer-output" and not is_fitted(build.driveline.transfer):
        says = "It is said to act on the transfer case's output, and there is no transfer case: say where it acts."
        return holds(False, says, on=f"{PARKING}.acts_on")
    carrier = CARRIED_BY.get(brake.acts_on)
    if brake.state == "kept" and carrier is not None and given(lambda: _comes_new(build, carrier)):
        says = (
            f"It is stated as kept {PLACE_WORDS[brake.acts_on]}, and the scope of supply brings another "
            f"{carrier.replace('-', ' ')}: see "
            "whether that one carries a parking brake, and state it as replaced."
        )
        return holds(False, says, on=on)
    return holds(True, f"It acts {PLACE_WORDS[brake.acts_on]} and is {brake.state}.", on=on)


def _comes_new(build: Build, function: str) -> bool:
    """Whether somebody supplies a part anew."""
    return any(function in line.functions and line.by in ("kit", "shop", "owner") for line in build.supply)


def _on(build: Build) -> str:
    """The field that decides what it holds."""
    brake = build.vehicle.brakes.parking
    by_torque = given(lambda: brake.held_grade) is None and given(lambda: brake.torque) is not None
    return f"{PARKING}.torque" if by_torque else f"{PARKING}.held_grade"


def _held(build: Build, mass: float, least: float, says: str, *, level: Level) -> Verdict:
    found, on = _grade_of(build, mass), _on(build)
    more = None
    if on.endswith(".torque") and found < least:
        more = road_load.grade_force(mass, least) * rolling_radius(build) / _ratio_behind(build)
    return at_least(found, least, says, level=level, on=on, unit=GRADE, advice=advice(on, more))


def _legal(build: Build) -> Verdict:
    least, found = LEGAL_GRADE[build.vehicle.category], parking_grade(build)
    says = f"Laden it is held on {shown(found)}; {shown(least, *GRADE)} is the usual rule for {build.vehicle.category}."
    return _held(build, build.vehicle.mass.gvwr, least, says, level="warning")


def _stated(build: Build) -> Verdict:
    least, found = build.vehicle.brakes.parking.parked_grade, parking_grade(build)
    says = f"Laden it is held on {shown(found)}; it is left standing on {shown(least)}."
    return _held(build, build.vehicle.mass.gvwr, least, says, level="error")


def _combination(build: Build) -> Verdict:
    mass = build.vehicle.mass.gcwr
    found = math.floor(_grade_of(build, mass) * 1000.0 + 1e-9) / 1000.0
    says = (
        f"With the trailer, {shown(mass)} in all, it holds {shown(found, *GRADE, digits=3)}; "
        f"{shown(COMBINATION_GRADE, *GRADE)} is the usual rule."
    )
    return _held(build, mass, COMBINATION_GRADE, says, level="warning")


def _mechanical(build: Build) -> Verdict:
    kept: bool = build.vehicle.brakes.parking.locked_mechanically
    says = (
        "It stays set by mechanical means alone."
        if kept
        else "It is held by oil, air or current, which leak away while nobody is there: give it a mechanical catch."
    )
    return holds(kept, says, on=f"{PARKING}.locked_mechanically")


def _pulls_a_cable(build: Build) -> bool:
    """Whether the driver's own force sets it: a switch needs none, and a valve for spring brakes next to none."""
    brake = build.vehicle.brakes.parking
    return brake.control != "switch" and given(lambda: brake.kind) != "spring-brake"


def _feeble(build: Build) -> Verdict:
    found, on = build.vehicle.brakes.parking.control_force, f"{PARKING}.control_force"
    in_newtons = shown(found * G, "force", "N", digits=3)
    says = f"{shown(found)} at the {build.vehicle.brakes.parking.control} are less than a cable and its springs take. "
    says += f"Read in kilograms, as a spring balance shows them, it would be {in_newtons}: look at the scale again."
    return needs_review(says, on=on, found=found)


def _control_force(build: Build) -> Verdict:
    brake, on = build.vehicle.brakes.parking, f"{PARKING}.control_force"
    if brake.control == "switch":
        return holds(True, "It is set by a switch.", on=on)
    if brake.control_force < FEEBLE and _pulls_a_cable(build):
        return _feeble(build)
    hand, foot = CONTROL_FORCE[build.vehicle.category]
    most = hand if brake.control == "hand" else foot
    says = (
        f"It takes {shown(brake.control_force)} at the {brake.control}; {shown(most, 'force', 'N')} is the usual rule."
    )
    return at_most(brake.control_force, most, says, level="warning", on=on)
