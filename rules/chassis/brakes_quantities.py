"""Derived numbers of the brakes."""

from __future__ import annotations

import math

from swaplint.api import (
    Build,
    OutsideRange,
    given,
    is_fitted,
    name_of,
    only_asking,
    part_named,
    practice,
    quantity,
    sheet,
)
from swaplint.engineering import brakes, curves, tyres

from .. import sources
from ..gearing.fitted_tyres import tyres_at, unlike
from ..gearing.quantities import descent_gear, road_resistance, rolling_radius, top_speed, torque_curve

SECONDARY = {
    # deceleration, m/s², at a pedal force, N
    "M1": (2.44, 500.0),
    "M2": (2.5, 700.0),
    "M3": (2.5, 700.0),
    "N1": (2.2, 700.0),
    "N2": (2.2, 700.0),
    "N3": (2.2, 700.0),
}
"""Secondary braking, by category (UN Regulation No. 13; cars No. 13-H, second-hand)."""

SERVICE = {
    "M1": (6.43, 500.0),
    "M2": (5.0, 700.0),
    "M3": (5.0, 700.0),
    "N1": (5.0, 700.0),
    "N2": (5.0, 700.0),
    "N3": (5.0, 700.0),
}
"""Service braking, by category (UN Regulations No. 13 and 13-H, second-hand): what an unassisted pedal must reach."""

PEDAL_EFFICIENCY, WHEEL_EFFICIENCY, BOOSTER_EFFICIENCY = 0.8, 0.96, 0.95
EFFICIENCIES = practice("80 % of the foot's force reaches the master cylinder, 96 % of the line's the linings")
CHAIN_SOURCES = [
    sources.BRAKE_DESIGN.giving("formula", "force chain from pedal to wheel"),
    EFFICIENCIES.giving("formula", "efficiencies of 80 and 96 %"),
]


SERVICE_RULE = sources.SERVICE_BRAKING_RULE.giving("limit", "5.0 m/s² with 700 N, cars 6.43 m/s² with 500 N")


def secondary(build: Build) -> tuple[float, float]:
    """Deceleration that must be reached without assistance, m/s², and the greatest pedal force for it, N.

    Secondary braking where assistance can fail; service braking where the pedal has none.
    """
    by_category = SERVICE if without_assistance(build) else SECONDARY
    return by_category[build.vehicle.category]


def without_assistance(build: Build) -> bool:
    """Whether nothing helps the driver's foot: so stated, or its booster is stated as not fitted."""
    brakes_now = build.vehicle.brakes
    return brakes_now.assist == "none" or given(lambda: is_fitted(brakes_now.booster)) is False


def wheel_brakes(build: Build) -> list[brakes.WheelBrake]:
    """All wheel brakes, as the force chain takes them; of those listed for one end alone the others are asked for."""
    listed = list(build.vehicle.brakes.wheels.values())
    if len(listed) == 1 and is_fitted(listed[0]) and not only_asking(build):
        other = "rear" if name_of(listed[0]).startswith("front") else "front"
        listed.append(part_named(build.vehicle.brakes, "wheels", other))
    return [
        brakes.WheelBrake(
            wheel.piston_area,
            wheel.brake_factor,
            wheel.effective_radius,
            int(wheel.count_per_axle),
            given(lambda wheel=wheel: wheel.push_out_pressure) or 0.0,  # type: ignore[misc]
        )
        for wheel in listed
        if is_fitted(wheel)
    ]


def braked_radius(build: Build) -> float:
    """Rolling radius, m, of the wheels that are braked: of the larger ones where front and rear are unlike."""
    driven = rolling_radius(build)
    if not unlike(build):
        return driven
    both = (tyres_at(build, end).overall_diameter for end in ("front", "rear"))
    return max(driven, *(tyres.rolling_radius(diameter) for diameter in both))


@quantity(
    "chassis.line-pressure",
    "gauge_pressure",
    "MPa",
    formula="p from m·a = Σ n·(p − p_push-out)·A·0.96·C·r_eff/r_tyre, m the gross rating, a as secondary braking asks; "
    "without any assistance as service braking asks",
    sources=[
        *CHAIN_SOURCES,
        sources.BRAKING_RULE.giving("limit", "2.2 and 2.5 m/s², goods and buses", known="published"),
        sources.CAR_BRAKING_RULE.giving("limit", "2.44 m/s², cars"),
        SERVICE_RULE,
    ],
)
def line_pressure(build: Build) -> float:
    """Pressure in the brake lines that secondary braking takes, laden; service braking where there is no assistance."""
    wanted, _ = secondary(build)
    return brakes.pressure_for_brake_force(
        build.vehicle.mass.gvwr * wanted, wheel_brakes(build), braked_radius(build), WHEEL_EFFICIENCY
    )


@quantity(
    "chassis.unassisted-pedal-force",
    "force",
    "N",
    formula="F = p·A_master/(pedal ratio · 0.8) with chassis.line-pressure",
    sources=CHAIN_SOURCES,
)
def unassisted_pedal_force(build: Build) -> float:
    """Pedal force that the same takes without any assistance, laden."""
    wanted, _ = secondary(build)
    return brakes.pedal_force_without_assist(
        build.vehicle.mass.gvwr * wanted,
        wheel_brakes(build),
        braked_radius(build),
        build.vehicle.brakes.master_bore,
        build.vehicle.brakes.pedal_ratio,
        pedal_efficiency=PEDAL_EFFICIENCY,
        wheel_efficiency=WHEEL_EFFICIENCY,
    )


def assist_needed(build: Build) -> float:
    """Force that the booster must add at the allowed pedal force for secondary braking, N; 0 where none is needed."""
    _, force = secondary(build)
    push = line_pressure(build) * brakes.piston_area(build.vehicle.brakes.master_bore)
    return max(0.0, push - brakes.pedal_push(force, build.vehicle.brakes.pedal_ratio, PEDAL_EFFICIENCY))


@quantity(
    "chassis.top-speed",
    "speed",
    "km/h",
    formula="gearing.top-speed, or the owner's highest speed where that is more; at most what the limiter allows",
    sources=[
        sources.VEHICLE_DYNAMICS.giving("formula", "top speed on the level"),
        sheet("driveline.speed_limiter.speed").giving("limit", "speed that the limiter allows"),
    ],
)
def reachable_speed(build: Build) -> float:
    """Highest speed that the brakes may be used from."""
    limiter, fastest = build.driveline.speed_limiter, max(top_speed(build), build.build.design.road_speed_max)
    return min(fastest, limiter.speed) if is_fitted(limiter) else fastest


@quantity(
    "chassis.energy-ratio",
    formula="K = m·v²/(m_old·v_old²), m the gross rating, v the highest speed",
    symbols={
        "m": "vehicle.mass.gvwr",
        "v": "chassis.top-speed",
        "m_old": "vehicle.original.gvwr",
        "v_old": "vehicle.original.top_speed",
    },
    sources=[sources.BRAKE_DESIGN.giving("formula")],
)
def energy_ratio(build: Build) -> float:
    """Energy of a stop from the highest speed over that of the vehicle as it was approved."""
    old = build.vehicle.original
    return brakes.energy_ratio(build.vehicle.mass.gvwr, reachable_speed(build), old.gvwr, old.top_speed)


ENGINE_BRAKING = practice("what an engine holds back falls with the square of its speed, on the careful side")


@quantity(
    "chassis.engine-braking",
    "power",
    "kW",
    formula="P = P_governed·(n/n_governed)², n in the lowest gear that does not exceed n_governed; "
    "off the road in the low range too",
    sources=[
        ENGINE_BRAKING.giving("formula", "fall with the square of the speed"),
        sheet("engine.overrun.braking_power").giving("formula", "braking power at governed speed"),
    ],
)
def engine_braking(build: Build) -> float:
    """Power that the engine takes up on the long descent, in the gear for it."""
    governed = build.engine.speed.governed_max
    turns = build.build.design.descent_speed / rolling_radius(build) * descent_gear(build).ratio
    if turns > governed:
        raise OutsideRange("at the speed of the descent every gear drives the engine beyond its governed speed")
    return build.engine.overrun.braking_power * (turns / governed) ** 2


def pushing_trailer(build: Build) -> float:
    """Mass of the heaviest trailer that has no brakes of its own, kg; 0 where none is pulled."""
    if not given(lambda: is_fitted(build.vehicle.towbar)):
        return 0.0
    cases = build.vehicle.load_cases.values()
    loose = [case for case in cases if given(lambda case=case: case.trailer_brakes) == "none"]  # type: ignore[misc]
    return max((given(lambda case=case: case.trailer_mass) or 0.0 for case in loose), default=0.0)  # type: ignore[misc]


def max_power(build: Build) -> float:
    """Highest power of the engine, W."""
    return curves.product_maxima(torque_curve(build))[0][1]


@quantity(
    "chassis.descent-power",
    "specific_power",
    "kW/t",
    formula="((m·g·sin θ + m_t·g·sin θ − road resistance)·v − engine braking)/m, m the gross rating, m_t the heaviest "
    "trailer without brakes",
    sources=[
        sources.BRAKE_DESIGN.giving("formula", "power that the brakes take on a descent"),
        sources.VEHICLE_DYNAMICS.giving("formula", "road resistance"),
        ENGINE_BRAKING.giving("formula", "engine braking below governed speed"),
        sheet("engine.overrun.braking_power").giving("formula", "braking power at governed speed"),
    ],
)
def descent_power(build: Build) -> float:
    """Power that the brakes take on the long descent, for each tonne."""
    design, mass = build.build.design, build.vehicle.mass.gvwr
    speed = design.descent_speed
    if speed <= 0.0:
        raise OutsideRange("a descent at no speed")
    taken = brakes.descent_brake_power(
        mass + pushing_trailer(build),
        speed,
        math.atan(design.descent_grade),
        road_resistance(build).power(speed) / speed,
        engine_braking(build),
    )
    return taken / mass
