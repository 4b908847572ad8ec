"""Rules about the vacuum for the brake booster."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Literal

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    path_of,
    practice,
    regulation,
    rule,
    sheet,
    shown,
    use_practice,
)
from swaplint.engineering import brakes as brake_chain
from swaplint.engineering import vacuum
from swaplint.engineering.atmosphere import SEA_LEVEL_PRESSURE

from .. import sources
from ..places import highest_of_all
from . import brakes_quantities as b
from . import vacuum_quantities as q
from .supply import fed, warned

NO_VACUUM_ASSIST = "The brakes have no vacuum booster; chassis.booster-conversion judges other assistance."
VALVES = practice(
    "a vacuum booster has a source, a check valve, a hose that vacuum does not flatten, and with a pump a lamp"
).giving("limit", "source, check valve, hose, lamp, oil and current of the pump")

WARNING_RULE = regulation(
    "California Vehicle Code 26521, warning of low vacuum, vacuum and vacuum-assisted power brakes", known="published"
)
OFF_WARNING, NORMAL = 30.0, 60.0
"""Times from empty to the warning level and to the normal level, s (Western Australia, vacuum brakes)."""
LEFT_AFTER_ONE = 0.70
"""Share of the vacuum after one full application (US 49 CFR 393.50, older text)."""
HEAVY_GOODS = 4536.0
"""Gross rating from which that rule is one, kg: 10 001 lb."""
WARNED_AT = 27.1e3
"""Depression at which the driver is warned at the latest, Pa: 8 inHg (California Vehicle Code 26521)."""


def _has_vacuum_booster(build: Build) -> bool:
    return build.vehicle.brakes.assist == "vacuum"


def _flow(value: float) -> str:
    return shown(value, "volume_flow", "L/min", digits=3)


def _pressure(value: float) -> str:
    return shown(value, "pressure_difference", "kPa", digits=3)


# -- source -----------------------------------------------------------------------------------------------------------
@rule(
    "chassis.vacuum-source",
    level="error",
    due="plan",
    changed={"0.2.0": "Warns where the lamp for low vacuum comes on too late."},
    sources=[
        sheet("vehicle.brakes.vacuum_required"),
        sheet("engine.vacuum.source"),
        sheet("plumbing.vacuum.pump.cut_in"),
        VALVES,
        sources.VACUUM_HOSE.giving("limit", "hose made for brake vacuum"),
        WARNING_RULE.giving("limit", "a warning at 27.1 kPa (8 inHg) at the latest"),
        q.HEIGHT,
        q.THROTTLED,
    ],
    cautions=[cautions.BRAKES],
    adjust=["plumbing.vacuum.supply", "plumbing.vacuum.pump.end_pressure"],
    fallbacks=[q.REQUIRED, q.FLOOR],
    without={
        "vehicle.brakes.vacuum_warning": "Only a pump asks for a lamp: a manifold has vacuum while the engine runs."
    },
    bad=[
        {"plumbing.vacuum.supply": "intake-pipe"},
        {"plumbing.vacuum": {"fitted": False}},
        {"plumbing.vacuum.supply": "manifold"},
        {"plumbing.vacuum.check_valve.fitted": False},
        {"electrics.lamps.vacuum": None},
        {"plumbing.vacuum.pump.oil_return_free": False},
        {"vehicle.brakes.vacuum_warning": "20 kPa"},
    ],
    good=[
        {"plumbing.vacuum.pump.end_pressure": "20 kPa"},
        {
            "engine.vacuum.source": "manifold",
            "engine.vacuum.depression_idle": "80 kPa",
            "engine.vacuum.boosted": True,
            "plumbing.vacuum.supply": "manifold",
        },
    ],
)
def vacuum_source(build: Build) -> Verdict:
    """Has the brake booster a vacuum source that works with this engine?

    Computes: the depression that the source reaches at the highest place: the pressure of the air there less the end
    pressure of the pump, or less the absolute pressure that the manifold has at idle.
    Limit: what the booster needs; where that is not stated 60 kPa at sea level and 50 kPa at the highest place (common
    practice: 60 to 67 kPa at sea level, never less than 50).
    A diesel, or any engine whose data sheet gives no vacuum, needs a pump; an intake or charge pipe is no source, and
    under boost it presses the booster the wrong way. A check valve, a hose that does not collapse; with a pump a
    warning lamp, its oil return, and for an electric pump a supply that counts as essential, and a switch that starts
    it before the booster lacks vacuum; one that never stops it is a warning. A lamp that comes on at
    27.1 kPa at the latest (8 inHg, California; other places differ): a warning.
    Consequence: The brake pedal goes hard, perhaps without warning, and the vehicle takes far longer to stop.
    Remedy: a vacuum pump with a lower end pressure, or a hydraulic or electric booster instead, which
    `vehicle.brakes.assist` states and chassis.booster-conversion judges.
    Cannot tell: the health of booster, valve and hoses; leaks. Only a test on the vehicle does.
    """
    if not _has_vacuum_booster(build):
        return does_not_apply(NO_VACUUM_ASSIST)
    if given(lambda: is_fitted(build.plumbing.vacuum)) is False:
        says = (
            "The brakes are assisted by vacuum and nothing brings it to the booster: fit a pump or a line from the "
            "manifold, or a hydraulic or electric booster."
        )
        return all_of(source=holds(False, says, on="plumbing.vacuum"))
    demands: dict[str, Callable[[], Verdict]] = {"source": lambda: _source(build)}
    if q.has_source(build):
        demands["depression"] = lambda: _reaches(build)
        if given(lambda: build.vehicle.brakes.vacuum_required) is None:
            demands["depression-at-sea-level"] = lambda: _reaches_below(build)
        demands["check-valve"] = lambda: _check_valve(build)
        demands["hose"] = lambda: _hose(build)
        if build.plumbing.vacuum.supply == "pump":
            demands |= _pump_demands(build)
        if build.plumbing.vacuum.supply == "pump" or given(lambda: build.vehicle.brakes.vacuum_warning) is not None:
            demands["warning-level"] = lambda: _early_enough(build)
    return all_of(demands)


def _early_enough(build: Build) -> Verdict:
    found, on = build.vehicle.brakes.vacuum_warning, "vehicle.brakes.vacuum_warning"
    says = f"The lamp comes on at {shown(found)}; {_pressure(WARNED_AT)} or more still leave some assistance."
    return at_least(found, WARNED_AT, says, level="warning", on=on, advice=advice(on, WARNED_AT))


def _source(build: Build) -> Verdict:
    supply, on = build.plumbing.vacuum.supply, "plumbing.vacuum.supply"
    if supply == "intake-pipe":
        says = (
            "An intake or charge pipe gives no vacuum, and boost there presses air into the booster: the brakes lose "
            "their assistance. Connect the booster to a vacuum pump, or fit a hydraulic or electric booster."
        )
        return holds(False, says, on=on)
    if supply == "manifold" and build.engine.vacuum.source != "manifold":
        says = (
            "The manifold of this engine holds no vacuum: the brakes have no assistance. Fit a vacuum pump, or a "
            "hydraulic or electric booster."
        )
        return holds(False, says, on=on)
    if supply == "pump" and not is_fitted(q.pump(build)):
        says = "The booster's hose leads to a pump, and there is none: fit one, or connect the engine's own."
        on = path_of(q.pump(build))
        return holds(False, says, on=on, advice=advice(f"{on}.drive", "engine"))
    return holds(True, f"The booster is connected to the {'vacuum pump' if supply == 'pump' else 'manifold'}.", on=on)


def _reaches(build: Build) -> Verdict:
    found, needed = q.available_depression(build), q.required_depression(build)
    air, on, better = q.air_pressure(build), _strength(build), None
    says = (
        f"At {shown(highest_of_all(build), 'length', 'm')} the air has {shown(air)}, so that the source reaches "
        f"{shown(found)}; the booster needs {_pressure(needed)}."
    )
    if found < needed:
        if air <= needed:
            says += " No vacuum source can do that up there: a hydraulic or electric booster can."
        elif build.plumbing.vacuum.supply == "pump":
            says += " A pump that ends at a lower pressure does."
            better = advice(on, air - needed)
        else:
            says += " Fit a vacuum pump, or a hydraulic or electric booster."
    return at_least(found, needed, says, on=on, advice=better)


def _reaches_below(build: Build) -> Verdict:
    """What stands in for the booster's need is a number of the sea level."""
    needed = use_practice(build, q.REQUIRED)
    found = vacuum.available_depression(SEA_LEVEL_PRESSURE, q.source_pressure(build))
    says = f"At sea level the source reaches {_pressure(found)}; a booster needs {_pressure(needed)}."
    return at_least(found, needed, says, on=_strength(build), unit=("pressure_difference", "kPa"))


def _strength(build: Build) -> str:
    """The field that says how much vacuum the source makes."""
    if build.plumbing.vacuum.supply == "pump":
        return f"{path_of(q.pump(build))}.end_pressure"
    return "engine.vacuum.depression_idle"


def _check_valve(build: Build) -> Verdict:
    there = is_fitted(build.plumbing.vacuum.check_valve)
    boosted = build.plumbing.vacuum.supply == "manifold" and build.engine.vacuum.boosted
    why = (
        "under boost the manifold blows air into the booster"
        if boosted
        else "the vacuum is lost as soon as the source stops"
    )
    says = "A check valve keeps the vacuum." if there else f"Without a check valve {why}: fit one at the booster."
    on = "plumbing.vacuum.check_valve"
    return holds(there, says, on=on, advice=None if there else advice(f"{on}.fitted", True))


def _hose(build: Build) -> Verdict:
    good = build.plumbing.vacuum.hose_holds_shape
    says = (
        "The hose is made for brake vacuum."
        if good
        else "Vacuum flattens this hose, and the booster gets none: use hose made for brake vacuum, like SAE J1403."
    )
    return holds(good, says, on="plumbing.vacuum.hose_holds_shape")


def _pump_demands(build: Build) -> dict[str, Callable[[], Verdict]]:
    pump = q.pump(build)
    demands: dict[str, Callable[[], Verdict]] = {"lamp": lambda: warned(build)}
    if pump.drive == "electric":
        demands["pump-supply"] = lambda: fed(build, pump)
        demands["pump-cut-in"] = lambda: _cut_in(build)
        demands["pump-stops"] = lambda: _cuts_out(build)
    else:
        demands["pump-oil"] = lambda: _oil(build)
    return demands


def _cut_in(build: Build) -> Verdict:
    """An electric pump stands still until the vacuum has fallen to where its switch starts it."""
    pump, needed = q.pump(build), q.required_depression(build)
    on = f"{path_of(pump)}.cut_in"
    says = f"The pump starts when the vacuum has fallen to {shown(pump.cut_in)}; the booster needs {_pressure(needed)}."
    if pump.cut_in < needed:
        says += " Between two starts of the pump the pedal gets hard: set its switch higher."
    reaches = needed <= q.available_depression(build)
    return at_least(pump.cut_in, needed, says, on=on, advice=advice(on, needed) if reaches else None)


def _cuts_out(build: Build) -> Verdict:
    pump, reaches = q.pump(build), q.available_depression(build)
    on = f"{path_of(pump)}.cut_in"
    says = f"The pump starts below {shown(pump.cut_in)} and reaches {shown(reaches)} at the highest place"
    says += "." if pump.cut_in < reaches else ": it never stops there, and wears out."
    level: Literal["error", "warning"] = "warning"
    return at_most(pump.cut_in, reaches, says, level=level, on=on)


def _oil(build: Build) -> Verdict:
    pump = q.pump(build)
    if not pump.oil_fed:
        return holds(True, "The pump needs no oil from the engine.")
    good = pump.oil_return_free
    says = (
        "The pump's oil runs in and back freely."
        if good
        else "The pump's oil cannot run back to the sump, or does not reach it: the pump seizes or fills the "
        "booster. Give it "
        "a feed under pressure and a return that falls freely."
    )
    return holds(good, says, on=f"{path_of(pump)}.oil_return_free")


# -- recovery ---------------------------------------------------------------------------------------------------------
@rule(
    "chassis.vacuum-recovery",
    level="error",
    due="quote",
    sources=[
        sources.VACUUM_RECOVERY_RULE.giving("limit", "lamp out in 30 s, normal level in 60 s"),
        sources.VACUUM_TECHNIQUE.giving("formula", "time to pump a vessel down"),
    ],
    cautions=[cautions.BRAKES],
    adjust=["plumbing.vacuum.pump.free_flow", "plumbing.vacuum.reservoir.volume"],
    fallbacks=[q.FLOOR],
    bad=[{"plumbing.vacuum.pump.free_flow": "10 L/min"}, {"plumbing.vacuum.reservoir.volume": "60 L"}],
    good=[{"plumbing.vacuum.pump.free_flow": "150 L/min"}],
)
def vacuum_recovery(build: Build) -> Verdict:
    """How fast is the vacuum back after it was used up?

    Computes: the time that the pump takes to empty booster and reservoir, at the highest place: constant temperature,
    a pump whose flow falls to nothing at its end pressure.
    Limit: the warning lamp out within 30 s and the normal level within 60 s after the vacuum was used up (Western
    Australia). A throttled engine draws its manifold empty within a few turns and is not asked.
    Consequence: After one hard stop the next has little assistance: the pedal is hard and the stop long.
    Remedy: a pump of more flow, or a smaller reservoir where chassis.vacuum-reserve allows it.
    Cannot tell: leaks and narrow hoses. Stamp the brake empty and take the time on the vehicle.
    """
    if not _has_vacuum_booster(build):
        return does_not_apply(NO_VACUUM_ASSIST)
    if build.plumbing.vacuum.supply != "pump":
        return does_not_apply("No pump fills the booster; chassis.vacuum-source judges the source.")
    if not q.has_source(build) or q.available_depression(build) <= q.required_depression(build):
        return does_not_apply("The pump never reaches what the booster needs: see chassis.vacuum-source.")
    return all_of(normal_level=lambda: _normal_level(build), warning_level=lambda: _warning_level(build))


def _pump_for_both(build: Build) -> float:
    """The flow at which the lamp goes out and the vacuum is back, each in its time."""
    back = q.recovery_flow(build, q.required_depression(build), NORMAL)
    lamp = given(lambda: q.recovery_flow(build, build.vehicle.brakes.vacuum_warning, OFF_WARNING))
    return back if lamp is None else max(back, lamp)


def _within(build: Build, found: float, limit: float, what: str) -> Verdict:
    field = f"{path_of(q.pump(build))}.free_flow"
    says = (
        f"{what} in {shown(found, 'time', 's', digits=3)}; {limit:.0f} s are allowed. The pump of "
        f"{_flow(q.pump(build).free_flow)} empties {shown(q.vacuum_volume(build))} of booster and reservoir."
    )
    more = _pump_for_both(build) if found > limit else None
    return at_most(found, limit, says, on=field, unit=("time", "s"), advice=advice(field, more))


def _normal_level(build: Build) -> Verdict:
    return _within(build, q.full_recovery_time(build), NORMAL, "From empty the vacuum is back")


def _warning_level(build: Build) -> Verdict:
    if build.vehicle.brakes.vacuum_warning >= q.required_depression(build):
        return holds(
            False,
            "The warning lamp is set at or above what the booster needs, so that it never goes out: set it lower.",
            level="warning",
            on="vehicle.brakes.vacuum_warning",
        )
    return _within(build, q.warning_time(build), OFF_WARNING, "From empty the warning lamp is out")


# -- reserve ----------------------------------------------------------------------------------------------------------
@rule(
    "chassis.vacuum-reserve",
    level="error",
    due="quote",
    changed={
        "0.2.0": "Of light vehicles it warns where less than 70 % is left; of cars it asks no eight applications.",
    },
    sources=[
        sources.US_VACUUM_RESERVE.giving("limit", "70 % left after one application", demands=["one-application"]),
        sources.BRAKING_RULE.giving(
            "limit",
            "secondary braking after eight or four applications",
            known="from memory",
            demands=["eight-applications"],
        ),
        *q.RESERVE_SOURCES,
    ],
    cautions=[cautions.BRAKES],
    adjust=["plumbing.vacuum.reservoir.volume"],
    bad=[{"plumbing.vacuum.reservoir.fitted": False}],
    good=[{"plumbing.vacuum.reservoir.volume": "12 L"}],
)
def vacuum_reserve(build: Build) -> Verdict:
    """How many assisted stops remain after the source fails?

    Computes: what each full application costs: the swept volume fills with outside air, which on release spreads into
    booster and reservoir. At the highest place; of an electric pump from the depression at which it would start.
    Limit: 70 % of the vacuum left after one full application (US 49 CFR 393.50, older text; some states allow 60 %): an
    error from 10 001 lb of gross rating on, where that rule is one, a warning below. In goods vehicles and buses, after
    eight full applications, four where the engine's manifold is the source, the next still reaches secondary braking
    with the allowed pedal force (UN Regulation No. 13, for vacuum from memory): warning, and only where the brakes do
    not reach it without any vacuum. That they do is an error of chassis.unassisted-stop.
    Consequence: If the engine stalls, the pedal goes hard after a stop or a few and the vehicle runs on.
    Remedy: a larger reservoir.
    Cannot tell: a check valve that leaks: have one at the booster and one at the reservoir, and look at the gauge
    after an hour.
    """
    if not _has_vacuum_booster(build):
        return does_not_apply(NO_VACUUM_ASSIST)
    if not q.has_source(build) or q.available_depression(build) <= 0.0:
        return does_not_apply("There is no vacuum to keep: see chassis.vacuum-source.")
    return all_of(
        one_application=lambda: _one_application(build),
        eight_applications=lambda: _eight_applications(build),
    )


def _one_application(build: Build) -> Verdict:
    found, field = q.reserve_share(build), "plumbing.vacuum.reservoir.volume"
    says = (
        f"From {shown(q.reserve_start(build))} at the highest place one full application leaves {shown(found)} of the "
        f"vacuum in {shown(q.vacuum_volume(build))} of booster and reservoir; 70 % are needed."
    )
    heavy, larger = build.vehicle.mass.gvwr >= HEAVY_GOODS, None
    level: Literal["error", "warning"] = "error" if heavy else "warning"
    if not heavy and found < LEFT_AFTER_ONE:
        says += " That is a rule for heavier vehicles, taken as it stands."
    if found < LEFT_AFTER_ONE:
        larger = reservoir = q.reservoir_for(build, LEFT_AFTER_ONE)
        if not is_fitted(build.plumbing.vacuum.reservoir):
            says += f" A reservoir of {shown(math.ceil(1e5 * reservoir) / 1e5, 'volume', 'L')} or more keeps that."
    return at_least(found, LEFT_AFTER_ONE, says, level=level, on=field, advice=advice(field, larger))


def _eight_applications(build: Build) -> Verdict:
    if build.vehicle.category == "M1":
        return does_not_apply("The rule of eight or four applications is one for goods vehicles and buses.")
    needed = b.assist_needed(build)
    on = "plumbing.vacuum.reservoir.volume"
    if needed <= 0.0:
        return holds(True, "Secondary braking is reached without any vacuum.", on=on)
    left, times = q.reserve_after_eight(build), "four" if q.applications(build) == 4 else "eight"
    area = build.vehicle.brakes.booster.diaphragm_area
    found = brake_chain.vacuum_booster_force(left, area, b.BOOSTER_EFFICIENCY)
    says = (
        f"After {times} full applications {shown(left)} are left, which push with "
        f"{shown(found, 'force', 'N', digits=3)}; secondary braking takes {shown(needed, 'force', 'N', digits=3)} "
        "from the booster."
    )
    if found < needed:
        says += " A larger reservoir keeps more."
    return at_least(found, needed, says, level="warning", on=on, unit=("force", "N"))
