"""Rules of the finished vehicle: engine without load, weighbridge, brakes and their vacuum, speedometer."""

from __future__ import annotations

from collections.abc import Callable

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    limit_or_none,
    name_of,
    or_practice,
    practice,
    quantity,
    rule,
    sheet,
    shown,
    within,
)
from swaplint.engineering import atmosphere
from swaplint.engineering import speedometer as speedometers

from .. import sources
from ..axle_loads import load, load_cases
from ..chassis import vacuum_quantities as vacuum
from ..chassis.vacuum import OFF_WARNING
from ..fuel import quantities as fuel
from ..mass import quantities as mass
from . import compared, documents
from . import vehicle_reckoned as reckoned
from .trials import BRAKES, ROAD, VACUUM, WEIGHED

RUNNING = "measured.running"
KILOGRAMS = ("mass", "kg")
SPEEDS = practice("idle and governed speed within 7 % of the sheet's")
SPEED_SHARE = 0.07
LOOKED_AT = practice("what is looked at before a vehicle leaves: lamps, stop control, leaks warm and cold")
SUM = practice("axle by axle and whole agree within 20 kg where approach and plate are level")
SUM_KG = 20.0
EFFICIENCY, IMBALANCE = 0.58, 0.30
"""Braking forces over weight, and their difference left to right (UK MOT inspection manual, cars since 2010)."""
HOLD_RATE = 3.3e3 / 15.0
"""Depression that a tight booster loses, Pa/s."""


# -- without load -----------------------------------------------------------------------------------------------------
@rule(
    "commissioning.running",
    level="warning",
    due="commission",
    sources=[
        sheet("engine.speed.overspeed_max").giving("limit", demands=["never-over"]),
        SPEEDS.giving("limit", "7 %", demands=["idle", "governed"]),
        LOOKED_AT.giving("limit", "each seen and found good", demands=["looked-at"]),
    ],
    cautions=[cautions.EXHAUST_GAS, cautions.HOT, cautions.ROTATING],
    about=RUNNING,
    bad=[
        {f"{RUNNING}.idle_speed": "1050 r/min"},
        {f"{RUNNING}.governed_speed": "3000 r/min"},
        {f"{RUNNING}.lamps_tried": False},
        {f"{RUNNING}.no_leaks_cold": False},
    ],
    good=[{f"{RUNNING}.idle_speed": "790 r/min"}],
)
def running(build: Build) -> Verdict:
    """Does the engine idle and govern as its sheet says, and is all found good that is looked at while it runs?

    Computes: nothing; the readings are compared.
    Limit: idle and governed speed within 7 % of the engine's data sheet (common practice), and never above the speed
    that it must not exceed: an error. Lamps and stop control tried, no leak warm and none cold; where there is a
    particulate filter, one cleaning of it watched on bare ground.
    Consequence: What shows itself on the first run is found by the owner, on the road.
    Remedy: what the sentence names.
    Cannot tell: what shows only under load.
    """
    trial, speeds = build.measured.running, build.engine.speed
    idle = trial.idle_speed

    def near(found: float, wanted: float, what: str, field: str) -> Verdict:
        says = f"{what} is {shown(found)}; the sheet says {shown(wanted)}."
        low, high = (1.0 - SPEED_SHARE) * wanted, (1.0 + SPEED_SHARE) * wanted
        return within(found, low, high, says, on=f"{RUNNING}.{field}")

    def never_over() -> Verdict:
        limit = limit_or_none(lambda: speeds.overspeed_max)
        if limit is None:
            return does_not_apply("The engine's maker states no speed that it must never exceed.")
        says = f"Without load it goes up to {shown(trial.governed_speed)}."
        return at_most(trial.governed_speed, limit, says, level="error", on=f"{RUNNING}.governed_speed")

    return all_of(
        idle=lambda: near(idle, speeds.idle, "Warm idle", "idle_speed"),
        governed=lambda: near(trial.governed_speed, speeds.governed_max, "Governed speed", "governed_speed"),
        never_over=never_over,
        looked_at=lambda: _looked_at(build),
    )


def _looked_at(build: Build) -> Verdict:
    trial = build.measured.running
    seen = {
        "every warning lamp": trial.lamps_tried,
        "the stop control": trial.stop_tried,
        "leaks while warm": trial.no_leaks_warm,
        "leaks once cold": trial.no_leaks_cold,
    }
    devices = given(lambda: list(build.engine.aftertreatment.devices.values())) or []
    if any(given(lambda device=device: device.kind) == "particulate-filter" for device in devices):  # type: ignore[misc]
        seen["cleaning the particulate filter"] = trial.regeneration_watched
    wrong = [words for words, good in seen.items() if not good]
    says = f"Not found good yet: {', '.join(wrong)}." if wrong else "All that is looked at was found good."
    return holds(not wrong, says, on=RUNNING)


# -- weighbridge ------------------------------------------------------------------------------------------------------
@quantity(
    "commissioning.empty-axle",
    "mass",
    "kg",
    formula="reading + what is missing of a full tank, split over the axles by where the tank stands",
    sources=[sources.STATICS.giving("formula")],
    each=mass.axles,
)
def weighed_axle(build: Build, axle: str) -> float:
    """What an axle carries by the weighbridge: tank full, nobody in it, nothing loaded."""
    front, rear = reckoned.missing_fuel(build)
    trial = build.measured.weighing
    return mass.of_axle(axle, trial.front + front, trial.rear + rear)  # type: ignore[arg-type]


@rule(
    "commissioning.weighed-masses",
    level="error",
    due="commission",
    sources=[
        sheet("vehicle.mass.gawr_front").giving("limit", demands=["front"]),
        sheet("vehicle.mass.gawr_rear").giving("limit", demands=["rear"]),
        sheet("vehicle.mass.gvwr").giving("limit", demands=["gross"]),
        SUM.giving("limit", "20 kg", demands=["sum"]),
        sources.STATICS.giving("formula", "loads on two axles"),
        *compared.sources_of("front-as-reckoned", "rear-as-reckoned"),
    ],
    cautions=[cautions.LAW],
    about=WEIGHED,
    fallbacks=[fuel.DIESEL_DENSITY, fuel.PETROL_DENSITY, compared.READING],
    bad=[
        {f"{WEIGHED}.front": "1500 kg", f"{WEIGHED}.whole": None},
        {f"{WEIGHED}.rear": "1400 kg", f"{WEIGHED}.whole": None},
        {f"{WEIGHED}.whole": "2600 kg"},
    ],
    good=[{f"{WEIGHED}.whole": None}],
    without={f"{WEIGHED}.whole": "The two axles give the whole; a reading on one plate only checks them."},
)
def weighed_masses(build: Build) -> Verdict:
    """By the weighbridge, does the vehicle keep its ratings in every load case?

    Computes: each load case as it is reckoned, with what the weighbridge found, the tank filled up, in the place of the
    empty vehicle.
    Limit: the ratings of axles and vehicle. Front and rear add up to the reading of the whole within 20 kg (common
    practice): a warning. Each axle against what the ledger makes of it: a warning.
    Consequence: An overloaded axle breaks springs, bearings and tyres, and fails the first check.
    Remedy: weigh again on a level plate; then move or leave out load, or a stronger axle with papers for it.
    Cannot tell: loads of other cases than those stated; left and right.
    """
    trial = build.measured.weighing
    front = trial.front
    demands: dict[str, Callable[[], Verdict]] = {
        "front": lambda: _axle(build, "front"),
        "rear": lambda: _axle(build, "rear"),
        "gross": lambda: _gross(build),
        "front-as-reckoned": lambda: reckoned.front_axle(build),
        "rear-as-reckoned": lambda: reckoned.rear_axle(build),
    }
    whole = given(lambda: trial.whole)
    if whole is not None:
        demands["sum"] = lambda: _sum(build, front, whole)
    return all_of(demands)


def _axle(build: Build, axle: str) -> Verdict:
    weighed = weighed_axle(build, axle)
    case = max(load_cases(build), key=lambda one: getattr(load(build, one), axle))
    found, rating = weighed + getattr(load(build, case), axle), mass.end_rating(build, axle)  # type: ignore[arg-type]
    says = (
        f"{shown(weighed, *KILOGRAMS)} empty by the weighbridge on the {axle} axle, {shown(found, *KILOGRAMS)} in "
        f"the load case {name_of(case)}."
    )
    return at_most(found, rating, says, on=f"{WEIGHED}.{axle}", unit=KILOGRAMS)


def _gross(build: Build) -> Verdict:
    weighed = weighed_axle(build, "front") + weighed_axle(build, "rear")
    case = max(load_cases(build), key=lambda one: load(build, one).total)
    found = weighed + load(build, case).total
    says = (
        f"{shown(weighed, *KILOGRAMS)} empty by the weighbridge, {shown(found, *KILOGRAMS)} in the load case "
        f"{name_of(case)}."
    )
    return at_most(found, build.vehicle.mass.gvwr, says, on=WEIGHED, unit=KILOGRAMS)


def _sum(build: Build, front: float, whole: float) -> Verdict:
    rear = build.measured.weighing.rear
    apart = abs(front + rear - whole)
    says = f"{shown(front)} and {shown(rear)} axle by axle, {shown(whole)} on one plate."
    return at_most(apart, SUM_KG, says, level="warning", on=f"{WEIGHED}.whole", unit=KILOGRAMS)


# -- brakes -----------------------------------------------------------------------------------------------------------
@rule(
    "commissioning.vacuum-brake-test",
    level="error",
    due="commission",
    sources=[
        sheet("vehicle.brakes.vacuum_required").giving("limit", demands=["level", "level-high"]),
        sources.STANDARD_ATMOSPHERE.giving("formula", "outside pressure at both heights"),
        sources.VACUUM_RECOVERY_RULE.giving("limit", "lamp out in 30 s", demands=["recovery"]),
        sources.US_VACUUM_CHECK.giving("limit", "one full application with the engine stopped", demands=["reserve"]),
        documents.VACUUM_PRACTICE.giving("limit", "3.3 kPa in 15 s", demands=["hold"]),
        documents.BRAKE_INSPECTION.giving(
            "limit", "58 % efficiency, 30 % imbalance", demands=["efficiency", "imbalance"]
        ),
        practice("a changed vehicle is brake-tested by a qualified person").giving(
            "limit", "a report", demands=["tested"]
        ),
        *compared.sources_of("level-as-reckoned", "recovery-as-reckoned"),
    ],
    cautions=[cautions.BRAKES],
    about=BRAKES,
    fallbacks=[vacuum.FLOOR, compared.READING],
    bad=[
        {f"{VACUUM}.idle": "45 kPa"},
        {f"{VACUUM}.recovery_time": "40 s"},
        {f"{VACUUM}.hold_loss": "20 kPa"},
        {f"{VACUUM}.applications_left": 0},
        {f"{BRAKES}.efficiency": "48 %"},
        {f"{BRAKES}.imbalance": "38 %"},
    ],
    good=[{f"{BRAKES}.efficiency": "66 %"}],
)
def vacuum_brake_test(build: Build) -> Verdict:
    """Do the brakes stop the vehicle evenly, and does their vacuum come, hold and come back?

    Computes: the depression lost in the time that was waited, as a rate; the depression that is left at the highest
    place, where the outside air presses less and the source leaves the same behind; depression and time from empty
    against what was reckoned at that height.
    Limit: the depression that the booster needs, also at the highest place: an error. The warning out within 30 s from
    empty (Western Australia): an error. One full application with the engine stopped (US 49 CFR 570.56): an error. A
    loss of at most 3.3 kPa in 15 s with the engine stopped (common practice), 58 % efficiency and 30 % imbalance (UK
    inspection of cars; other places and classes have other numbers): warnings. A report of a brake test.
    Consequence: The pedal goes hard or the vehicle pulls to one side in the first emergency.
    Remedy: check valve, hose and booster in that order; a pump of more flow if only the recovery is slow.
    Cannot tell: fade on long descents; whether the inspector of the place asks for more.
    """
    test = build.measured.brakes
    report = test.report
    demands: dict[str, Callable[[], Verdict]] = {
        "tested": lambda: holds(True, f"Brake test {report}.", on=f"{BRAKES}.report"),
        "efficiency": lambda: at_least(
            test.efficiency,
            EFFICIENCY,
            f"Braking forces of {shown(test.efficiency)} of the weight.",
            level="warning",
            on=f"{BRAKES}.efficiency",
        ),
        "imbalance": lambda: at_most(
            test.imbalance,
            IMBALANCE,
            f"The worst axle is {shown(test.imbalance)} out of balance.",
            level="warning",
            on=f"{BRAKES}.imbalance",
        ),
    }
    if build.vehicle.brakes.assist == "vacuum":
        demands |= {
            "level": lambda: _level(build),
            "level-high": lambda: _level_high(build),
            "hold": lambda: _hold(build),
            "recovery": lambda: _recovery(build),
            "reserve": lambda: _reserve(build),
            "level-as-reckoned": lambda: reckoned.vacuum_level(build),
        }
        if build.plumbing.vacuum.supply == "pump":
            demands["recovery-as-reckoned"] = lambda: reckoned.vacuum_recovery(build)
    return all_of(demands)


def _level(build: Build) -> Verdict:
    trial = build.measured.vacuum
    least = or_practice(lambda: build.vehicle.brakes.vacuum_required, vacuum.FLOOR)
    says = f"{shown(trial.idle)} of depression at idle, {shown(trial.altitude)} up."
    return at_least(trial.idle, least, says, on=f"{VACUUM}.idle")


def _level_high(build: Build) -> Verdict:
    trial, highest = build.measured.vacuum, build.build.design.altitude_max
    thinner = atmosphere.standard_pressure(trial.altitude) - atmosphere.standard_pressure(highest)
    if thinner <= 0.0:
        return does_not_apply("It was read no lower than the highest place of the work.")
    least = or_practice(lambda: build.vehicle.brakes.vacuum_required, vacuum.FLOOR)
    found = max(0.0, trial.idle - thinner)
    says = f"{shown(trial.idle)} of depression {shown(trial.altitude)} up come to "
    says += f"{shown(found, 'pressure_difference', 'kPa', digits=3)} in the thinner air at {shown(highest)}."
    return at_least(found, least, says, on=f"{VACUUM}.idle", unit=("pressure_difference", "kPa"))


def _hold(build: Build) -> Verdict:
    trial = build.measured.vacuum
    allowed = HOLD_RATE * trial.hold_time
    says = f"{shown(trial.hold_loss)} lost in {shown(trial.hold_time)} with the engine stopped."
    return at_most(trial.hold_loss, allowed, says, level="warning", on=f"{VACUUM}.hold_loss")


def _reserve(build: Build) -> Verdict:
    left = build.measured.vacuum.applications_left
    says = f"With the engine stopped the pedal can be applied {left:.0f} times before the warning comes on."
    return at_least(left, 1.0, says, on=f"{VACUUM}.applications_left")


def _recovery(build: Build) -> Verdict:
    trial = build.measured.vacuum
    says = f"From empty the warning went out after {shown(trial.recovery_time)}."
    return at_most(trial.recovery_time, OFF_WARNING, says, on=f"{VACUUM}.recovery_time")


# -- speedometer ------------------------------------------------------------------------------------------------------
@rule(
    "commissioning.speedometer",
    level="error",
    due="commission",
    sources=[
        sources.SPEEDOMETER_RULE.giving("limit", "never below the true speed, a tenth and 4 km/h above it at most"),
        sources.US_SPEEDOMETER.giving("limit", "8 km/h (5 mph) either way at 80 km/h"),
        *compared.sources_of("shown-as-reckoned", "engine-speed-as-reckoned"),
    ],
    cautions=[cautions.LAW],
    about=ROAD,
    fallbacks=[compared.READING],
    bad=[{f"{ROAD}.indicated_speed": "76 km/h"}, {f"{ROAD}.indicated_speed": "95 km/h"}],
    good=[{f"{ROAD}.indicated_speed": "84 km/h"}],
    without={"driveline.tyres.construction": compared.UNSAID},
)
def speedometer_tried(build: Build) -> Verdict:
    """Does the speedometer show a lawful speed on the road?

    Computes: what it shows against the true speed; that and the engine speed against what tyre and gears make of it.
    Limit: UN Regulation 39: never below the true speed (an error), at most a tenth and 4 km/h above it (a warning);
    where `driveline.speedometer.rule` says so 8 km/h (5 mph) in 80 km/h either way (49 CFR 393.82).
    Consequence: The driver speeds without knowing it, or the vehicle is turned away at inspection.
    Remedy: the sentence says whether tyre and gears or the drive of the speedometer is off: correct that.
    Cannot tell: other speeds than the one that was held.
    """
    trial = build.measured.road
    true, indicated = trial.true_speed, trial.indicated_speed
    either_way = given(lambda: build.driveline.speedometer.rule) == "either-way"
    low, high = speedometers.r39_band(true)
    if either_way:
        low, high = (1.0 - speedometers.US_SHARE) * true, (1.0 + speedometers.US_SHARE) * true
    says = f"It shows {shown(indicated)} at a true {shown(true)}."
    return all_of(
        never_low=at_least(indicated, low, says, on=f"{ROAD}.indicated_speed"),
        not_too_high=at_most(indicated, high, says, level="warning", on=f"{ROAD}.indicated_speed"),
        shown_as_reckoned=lambda: reckoned.speedometer(build),
        engine_speed_as_reckoned=lambda: reckoned.engine_speed(build),
    )
