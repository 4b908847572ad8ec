"""Derived numbers of the power steering."""

from __future__ import annotations

import math

from swaplint.api import Build, Practice, given, or_practice, practice, quantity, sheet
from swaplint.engineering import hydraulics

from .. import sources
from ..mass.quantities import empty_axle, kerb_on

TURN = 2.0 * math.pi
HAND_WHEEL_RATE = 1.25
"""Turns of the hand wheel in a second that a brisk turn takes: common practice, 1.25 to 1.5."""
LEAKAGE = 1.15
"""Oil that valve and gear lose: common practice, 15 %."""

VALVE_LETS_PASS = "A control valve is set above what the pump gives at idle: it takes away what is too much at speed."
"""Why a valve that nobody states changes nothing at idle."""

BRISK = practice("a brisk turn is 1.25 to 1.5 turns of the hand wheel in a second; valve and gear lose 15 % of the oil")
STEERING_FLOWS = practice("steering gears take 6 to 8 L/min on light vehicles, 10 to 16 L/min on heavy ones")
FLOW_LIGHT = Practice(
    "steering gear of a light vehicle needs 6 L/min (6 to 8)",
    6.0 / 60000.0,
    STEERING_FLOWS,
    between=(6.0 / 60000.0, 8.0 / 60000.0),
)
FLOW_HEAVY = Practice(
    "steering gear of a heavy vehicle needs 10 L/min (10 to 16)",
    10.0 / 60000.0,
    STEERING_FLOWS,
    between=(10.0 / 60000.0, 16.0 / 60000.0),
)
HOT_OIL = practice("a steering pump delivers 80 to 92 % of its displacement with hot oil at idle")
EFFICIENCY = Practice(
    "steering pump delivers 85 % of its displacement at idle (80 to 92 %)", 0.85, HOT_OIL, between=(0.80, 0.92)
)


def flow_fallback(build: Build) -> Practice:
    """The fallback for the gear's flow."""
    return FLOW_HEAVY if build.vehicle.weight_class == "heavy" else FLOW_LIGHT


@quantity(
    "chassis.steering-flow-needed",
    "volume_flow",
    "L/min",
    formula="as the gear's data sheet states it, else Q = 1.15·1.25 1/s·V/turns",
    sources=[
        sheet("vehicle.steering.gear.flow_required").giving("formula", "flow that the gear needs, where it is stated"),
        BRISK.giving("formula", "1.25 turns in a second, 15 % lost"),
        STEERING_FLOWS.giving("fallback", "6 L/min light, 10 L/min heavy"),
    ],
)
def flow_needed(build: Build) -> float:
    """Oil flow that the steering gear needs for a brisk turn."""
    gear = build.vehicle.steering.gear
    stated = given(lambda: gear.flow_required)
    if stated is not None:
        return stated
    computed = given(
        lambda: hydraulics.steering_flow_needed(gear.cylinder_volume, gear.turns, HAND_WHEEL_RATE, LEAKAGE)
    )
    if computed is not None:
        return computed
    return or_practice(lambda: gear.flow_required, flow_fallback(build))


def efficiency(build: Build) -> float:
    """Volumetric efficiency of the pump at idle."""
    return or_practice(lambda: build.vehicle.steering.pump.volumetric_efficiency, EFFICIENCY)


@quantity(
    "chassis.steering-flow",
    "volume_flow",
    "L/min",
    formula="Q = q·n_idle·ratio·η_v, at most what the control valve lets through",
    symbols={
        "q": "vehicle.steering.pump.displacement",
        "n_idle": "engine.speed.idle",
        "ratio": "vehicle.steering.pump.ratio",
        "η_v": "vehicle.steering.pump.volumetric_efficiency",
        "what the control valve lets through": "vehicle.steering.pump.flow_limit",
    },
    sources=[
        sources.FLUID_POWER.giving("formula", "flow of a pump at a speed"),
        HOT_OIL.giving("fallback", "85 % of the displacement"),
    ],
)
def flow_at_idle(build: Build) -> float:
    """Oil flow of the steering pump at idle."""
    pump = build.vehicle.steering.pump
    flow = hydraulics.pump_flow(pump.displacement * TURN, build.engine.speed.idle * pump.ratio, efficiency(build))
    limit = given(lambda: pump.flow_limit)
    return flow if limit is None else min(flow, limit)


def more_flow(build: Build, needed: float) -> tuple[str, float]:
    """What to choose for a flow at idle: the valve that lets it through, or the pump that gives it. Field and value."""
    pump = build.vehicle.steering.pump
    limit = given(lambda: pump.flow_limit)
    if limit is not None and limit < needed:
        return "vehicle.steering.pump.flow_limit", needed
    displacement = hydraulics.displacement_needed(needed, build.engine.speed.idle * pump.ratio, efficiency(build))
    return "vehicle.steering.pump.displacement", displacement / TURN


@quantity(
    "chassis.steering-flow-rated",
    "volume_flow",
    "L/min",
    formula="Q = q·n_rated·ratio, at most what the control valve lets through",
    symbols={
        "q": "vehicle.steering.pump.displacement",
        "n_rated": "engine.speed.rated",
        "ratio": "vehicle.steering.pump.ratio",
        "what the control valve lets through": "vehicle.steering.pump.flow_limit",
    },
    sources=[sources.FLUID_POWER.giving("formula")],
)
def flow_at_rated(build: Build) -> float:
    """Oil flow of the steering pump at rated engine speed."""
    pump = build.vehicle.steering.pump
    flow = hydraulics.pump_flow(pump.displacement * TURN, build.engine.speed.rated * pump.ratio)
    limit = given(lambda: pump.flow_limit)
    return flow if limit is None else min(flow, limit)


@quantity(
    "chassis.steering-effort-ratio",
    formula="(F/F_old)^1.5, F the empty front axle after the swap, F_old before it; M = μ/3·√(F³/p) at equal tyres",
    symbols={"F": "mass.empty-axle", "F_old": "vehicle.mass.kerb_front"},
    sources=[sources.PARKING_EFFORT.giving("formula", "torque of a standing tyre over its load")],
)
def effort_ratio(build: Build) -> float:
    """Steering effort without assistance over that before the swap, standing."""
    return hydraulics.parking_effort_ratio(empty_axle(build, "front"), kerb_on(build, "front"))


@quantity(
    "chassis.steering-effort",
    "force",
    "N",
    formula="measured after the swap, else the effort measured before it · chassis.steering-effort-ratio",
    sources=[sources.PARKING_EFFORT.giving("formula", "effort of a standing tyre over its load")],
)
def effort(build: Build) -> float:
    """Effort at the rim without assistance."""
    steering = build.vehicle.steering
    measured = given(lambda: steering.effort)
    return measured if measured is not None else steering.effort_before * effort_ratio(build)
