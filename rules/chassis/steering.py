"""Rules about the power steering."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
    Practice,
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
    needs_review,
    path_of,
    practice,
    rule,
    sheet,
    shown,
    use_practice,
)

from .. import sources
from . import steering_quantities as q
from .supply import fed

PUMP, GEAR = "vehicle.steering.pump", "vehicle.steering.gear"
HEAVY = 3500.0
"""Mass above which steering without assistance is unsafe and not only heavy, kg."""

UNASSISTED_EFFORT = {"M1": 300.0, "M2": 300.0, "M3": 450.0, "N1": 300.0, "N2": 400.0, "N3": 450.0}
"""Greatest effort at the rim with failed assistance, N (UN Regulation No. 79)."""
INTACT_EFFORT = {"M1": 150.0, "M2": 150.0, "M3": 200.0, "N1": 200.0, "N2": 250.0, "N3": 200.0}
"""Greatest effort at the rim of a steering that is in order, N (the same): what one without assistance is held to."""
FULL_ASSISTANCE = practice("a steering gear assists fully from half of the pressure that it stands on").giving(
    "fallback", "half of the pressure that the gear stands"
)
HALF = Practice(
    "steering gear needs half of the pressure that it stands (0.4 to 0.8)", 0.5, FULL_ASSISTANCE, between=(0.4, 0.8)
)
BURST = practice("a pressure hose is rated for the relief pressure").giving(
    "limit", "hose rated for the relief pressure"
)


def _hydraulic(build: Build) -> bool:
    return build.vehicle.steering.assist == "hydraulic"


@rule(
    "chassis.steering-flow",
    level="warning",
    due="quote",
    sources=[
        sheet(f"{GEAR}.flow_required"),
        sheet(f"{GEAR}.flow_max"),
        sources.FLUID_POWER.giving("formula", "flow of a displacement pump"),
        q.BRISK.giving("formula", "1.25 turns in a second, 15 % lost"),
    ],
    cautions=[cautions.STEERING],
    adjust=[f"{PUMP}.displacement", f"{PUMP}.ratio"],
    instead={f"{GEAR}.flow_required": f"{GEAR}.cylinder_volume"},
    without={
        f"{GEAR}.flow_max": "Too much oil only warms and wears the gear: many sheets limit its pressure alone.",
    },
    fallbacks=[q.FLOW_LIGHT, q.FLOW_HEAVY, q.EFFICIENCY],
    bad=[{f"{PUMP}.displacement": "4 cm3/rev"}, {f"{PUMP}.flow_limit": "14 L/min"}, {PUMP: {"fitted": False}}],
    good=[{f"{PUMP}.displacement": "11 cm3/rev"}],
)
def steering_flow(build: Build) -> Verdict:
    """Is there a power-steering pump, and does it give enough oil at idle for a brisk turn; or has it its current?

    Computes: the pump's flow at idle, and what the gear takes for 1.25 turns of the hand wheel in a second.
    Limit: the gear's data sheet, or its cylinder volume and turns; where neither is stated 6 L/min light, 10 L/min
    heavy (common practice). Above 3.5 t an error, because nobody holds that wheel by hand. At rated speed no more than
    the gear stands. Electric assistance is among the consumers, and counts as essential.
    Consequence: The wheel goes heavy in a quick turn at idle, or too much oil wears out the steering gear.
    Remedy: a pump of more displacement, or a smaller pulley on it; a flow control valve.
    Cannot tell: the heat of the oil when the vehicle stands and turns: a cooler helps.
    """
    if build.vehicle.steering.assist == "electric":
        return all_of(supply=lambda: fed(build, build.vehicle.steering, "the steering"))
    if not _hydraulic(build):
        return does_not_apply("The steering has no hydraulic assistance.")
    for part, what in ((build.vehicle.steering.pump, "pump"), (build.vehicle.steering.gear, "gear that it works")):
        if given(lambda part=part: is_fitted(part)) is False:  # type: ignore[misc]
            says = f"The steering is assisted by oil and has no {what}: fit one, or state how it is assisted."
            on = path_of(part)
            return all_of(there=holds(False, says, level="error", on=on, advice=advice(f"{on}.fitted", True)))
    demands: dict[str, Callable[[], Verdict]] = {"idle-flow": lambda: _idle(build)}
    most = given(lambda: build.vehicle.steering.gear.flow_max)
    if most is not None:
        demands["rated-flow"] = lambda: _rated(build, most)
    return all_of(demands)


def _idle(build: Build) -> Verdict:
    found, needed = q.flow_at_idle(build), q.flow_needed(build)
    says = (
        f"At idle the pump gives {shown(found, digits=3)}; the gear needs "
        f"{shown(needed, 'volume_flow', 'L/min', digits=3)} for a brisk turn."
    )
    gross = given(lambda: build.vehicle.mass.gvwr)
    level: Any = "error" if gross is not None and gross > HEAVY else "warning"
    more = advice(*q.more_flow(build, needed)) if found < needed else None
    return at_least(found, needed, says, level=level, on=f"{PUMP}.displacement", advice=more)


def _rated(build: Build, most: float) -> Verdict:
    found = q.flow_at_rated(build)
    if found > most:
        _ = build.vehicle.steering.pump.flow_limit  # the valve that nobody states may keep it below: asked for
    says = f"At rated speed {shown(found, digits=3)} reach the gear, which bears {shown(most)}"
    says += ": limit it by a valve." if found > most else "."
    level: Any = "warning" if found > most else None
    return at_most(found, most, says, level=level, on=f"{PUMP}.flow_limit", advice=advice(f"{PUMP}.flow_limit", most))


@rule(
    "chassis.steering-pressure",
    level="error",
    due="quote",
    sources=[
        sheet(f"{GEAR}.pressure_max"),
        sheet(f"{GEAR}.pressure_required"),
        sheet("vehicle.steering.hose_rating"),
        BURST,
        FULL_ASSISTANCE,
        sources.STEERING_RULE.giving("limit", "300, 400 and 450 N with failed assistance; 150, 200 and 250 N in order"),
        sources.PARKING_EFFORT.giving("formula", "effort over front axle load, to the power 1.5"),
    ],
    cautions=[cautions.STEERING],
    adjust=[f"{PUMP}.relief_pressure", "vehicle.steering.hose_rating"],
    fallbacks=[HALF],
    bad=[
        {f"{PUMP}.relief_pressure": "7 MPa"},
        {f"{PUMP}.relief_pressure": "11 MPa"},
        {"vehicle.steering.effort": "380 N"},
        {"vehicle.steering.assist": "none", "vehicle.steering.assist_before": "hydraulic"},
    ],
    good=[{f"{PUMP}.relief_pressure": "8 MPa"}],
)
def steering_pressure(build: Build) -> Verdict:
    """Is the pump's relief pressure right for the steering gear, and its unassisted effort lawful?

    Computes: how the effort without assistance grows with the front axle: with the load to the power 1.5 at equal
    tyres, standing; that is more than it grows under way.
    Limit: relief pressure up to what the gear stands and what the hose is rated for: error; no less than the gear needs
    for its assistance: warning; where its sheet does not say that, half of what it stands (common practice). Effort
    without assistance 300 N for cars and light goods vehicles, 400 N up to 12 t, 450 N above (UN Regulation No. 79):
    warning. Where there is no assistance that could fail, the effort of a steering in order: 150 N for cars, 200 N for
    light goods vehicles and above 12 t, 250 N between: warning, an error where the swap took the assistance away.
    Consequence: A hose or the steering gear bursts, or the wheel is too heavy to turn once assistance fails.
    Remedy: a lower relief setting; a cylinder of larger area, or less on the front axle.
    Cannot tell: the geometry of the axle. Where the front axle gets heavier and nobody has measured the effort, a
    person decides.
    """
    pressures: dict[str, Callable[[], Verdict]] = {
        "gear-pressure": lambda: _gear_pressure(build),
        "hose-pressure": lambda: _hose_pressure(build),
        "assistance": lambda: _assists(build),
    }
    return all_of(pressures if _hydraulic(build) else {}, effort=lambda: _effort(build))


def _gear_pressure(build: Build) -> Verdict:
    relief, most = build.vehicle.steering.pump.relief_pressure, build.vehicle.steering.gear.pressure_max
    says = f"The relief valve opens at {shown(relief)}; the steering gear bears {shown(most)}."
    field = f"{PUMP}.relief_pressure"
    return at_most(relief, most, says, on=field, advice=advice(field, most))


def _assists(build: Build) -> Verdict:
    relief, gear = build.vehicle.steering.pump.relief_pressure, build.vehicle.steering.gear
    least = given(lambda: gear.pressure_required)
    if least is None:
        least = use_practice(build, HALF) * gear.pressure_max
    least_shown = shown(least, "gauge_pressure", "MPa")
    says = f"The relief valve opens at {shown(relief)}; the steering gear needs {least_shown} for its full assistance."
    field = f"{PUMP}.relief_pressure"
    level: Any = "warning" if relief < least else None
    return at_least(relief, least, says, level=level, on=field, advice=advice(field, least))


def _hose_pressure(build: Build) -> Verdict:
    relief, most = build.vehicle.steering.pump.relief_pressure, build.vehicle.steering.hose_rating
    says = f"The pressure hose is rated for {shown(most)}; the relief valve opens at {shown(relief)}."
    field, borne = "vehicle.steering.hose_rating", given(lambda: build.vehicle.steering.gear.pressure_max)
    stronger = None if borne is not None and relief > borne else relief  # a lower relief pressure mends both
    return at_least(most, relief, says, on=field, advice=advice(field, stronger))


def _effort(build: Build) -> Verdict:
    steering = build.vehicle.steering
    unassisted = steering.assist == "none"
    taken_away = unassisted and steering.assist_before != "none"
    if given(lambda: steering.effort) is None and (taken_away or given(lambda: steering.effort_before) is None):
        return _not_measured(build, taken_away=taken_away)
    measured = given(lambda: steering.effort) is not None
    found = q.effort(build)
    most = (INTACT_EFFORT if unassisted else UNASSISTED_EFFORT)[build.vehicle.category]
    how = "Measured" if measured else f"Measured before the swap, times {shown(q.effort_ratio(build), digits=3)}"
    says = f"{how}, the effort without assistance is {shown(found, digits=3)}; {shown(most, 'force', 'N')} are lawful"
    says += " for a steering without any." if unassisted else "."
    if found > most:
        says += (
            f" A steering gear of {shown(math.ceil(100.0 * found / most) / 100.0)} times the reduction brings it back."
        )
    on = "vehicle.steering.effort" if measured else "vehicle.steering.effort_before"
    return at_most(found, most, says, level="error" if taken_away else "warning", on=on)


def _not_measured(build: Build, *, taken_away: bool) -> Verdict:
    """What to say where nobody measured the effort that counts."""
    if taken_away:
        return needs_review(
            "The assistance was taken away and nobody has measured the effort at the rim: have it measured.",
            on="vehicle.steering.effort",
        )
    ratio = q.effort_ratio(build)
    if ratio <= 1.0:
        return holds(True, "The front axle gets no heavier, and neither does the hand wheel.")
    return needs_review(
        f"The front axle gets heavier: without assistance the effort grows {shown(ratio, digits=3)} times. Have it "
        "measured.",
        on="vehicle.steering.effort",
    )
