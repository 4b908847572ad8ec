"""Rules about gaps that the moving engine must not close: fan, hood, axle, steering."""

from __future__ import annotations

import math
from collections.abc import Callable

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
    given,
    name_of,
    or_practice,
    path_of,
    practice,
    rule,
    sheet,
    shown,
    within,
)
from swaplint.spec.systems.fit import Clearance

from .. import sources
from ..mounts import movement as m
from ..mounts import quantities as mounts
from ..mounts.moving import left_over, no_gap, whole_mm

MM = ("length", "mm")
GAP_MIN = sheet("vehicle.clearances.*.gap_min")
MOVES = sources.SPRINGS_AND_MASSES.giving("formula", "movement on the mounts")

FANS = practice("fan on the engine 50 mm from the core as drawn and 25 mm when it moves; electric fan 10 mm")
TIPS = practice(
    "gap at the blades' tips 2.5 % of the diameter, 20 mm where fan and shroud move apart, else 6 mm at most"
)
DEPTH = practice("half to two thirds of the blades' depth stands in the shroud")
CORE_MOVING = Practice("fan on the engine 25 mm from the core when it moves", 0.025, FANS)
CORE_ELECTRIC = Practice("electric fan 10 mm from the core", 0.010, FANS)
CORE_DRAWN = 0.050
TIP_SHARE, TIP_LEAST, TIP_TOGETHER = 0.025, 0.020, 0.006
DEPTH_LOW, DEPTH_HIGH = 0.5, 2 / 3

HOODS = practice("20 mm kept to the hood and 5 mm for its flexing")
HOOD = Practice("20 mm kept to the hood", 0.020, HOODS)
HOOD_FLEX = 0.005

AXLES = practice("25 mm kept to the axle at full bump, 15 mm to a turning propshaft")
AXLE = Practice("25 mm kept to axle and steering linkage at full bump", 0.025, AXLES)
PROPSHAFT = Practice("15 mm kept to a turning propshaft", 0.015, AXLES)

STEERINGS = practice("20 mm kept to steering shaft, brake pipes and pedals")
STEERING = Practice("20 mm kept to steering, brake pipes and pedals", 0.020, STEERINGS)
STEERING_HOT = Practice("50 mm kept from the exhaust to steering, brake pipes and pedals", 0.050, sources.EXHAUST_GAPS)


# -- fan ------------------------------------------------------------------------------------------------------------
def fan_gaps(build: Build) -> list[Clearance | str]:
    """The gaps between fan and radiator, and between fan and shroud."""
    if not m.has_fan(build):
        return []
    return m.gaps_of("fan-core", "fan-shroud", asked=("fan-core", "fan-shroud"))(build)


@rule(
    "fit.fan-gap",
    level="warning",
    due="build",
    sources=[
        GAP_MIN,
        FANS.giving("limit", "50 mm as drawn"),
        TIPS.giving("limit", "gap at the blades' tips"),
        DEPTH.giving("limit", "depth in the shroud"),
        MOVES,
    ],
    cautions=[cautions.ROTATING],
    fallbacks=[CORE_MOVING, CORE_ELECTRIC, *mounts.AS_SPRINGS],
    without={
        "driveline.axles.*.x": "An axle called front or rear stands there; where its name says neither, its place is "
        "asked for."
    },
    adjust=["vehicle.clearances.*.gap"],
    about="vehicle.clearances",
    each=fan_gaps,
    bad=[
        {"vehicle.clearances.fan_core.gap": "45 mm", "vehicle.clearances.fan_core.gap_min": None},
        {"vehicle.clearances.fan_shroud.gap": "14 mm"},
        {"plumbing.cooling.fan.projection": "20 %"},
    ],
    good=[
        {"vehicle.clearances.fan_core.gap": "70 mm"},
        {"plumbing.cooling.fan.drive": "electric", "vehicle.clearances.fan_shroud.gap": "5 mm"},
    ],
)
def fan_gap(build: Build, gap: Clearance | str) -> Verdict:
    """Are the gaps from fan to core and from blades to shroud right, also when the engine moves?

    Computes: the gap less the engine's movement in that direction, where the fan is on the engine; at the tips up and
    down or to the side, whichever is more, because the shroud stands all round. An electric fan
    hangs on the radiator and does not move against it.
    Limit: the maker's gap, else common practice: a fan on the engine 50 mm from the core as drawn and 25 mm when it
    moves, an electric one 10 mm. Tips: 2.5 % of the diameter and 20 mm at least where fan and shroud move apart, 6 mm
    at most where they move together. Half to two thirds of the blades' depth in the shroud. A warning; an error where
    the fan strikes.
    Consequence: The fan cuts into core or shroud, or its air slips back past the tips and the engine runs hot.
    Remedy: a spacer, or the core moved; a smaller fan; the shroud on the engine.
    Cannot tell: water when wading, which bends the blades of a driven fan forward into the core.
    """
    if isinstance(gap, str) or m.why_none(gap):
        return no_gap(gap)
    return all_of(_tips(build, gap) if gap.kind == "fan-shroud" else _core(build, gap))


def _core(build: Build, gap: Clearance) -> dict[str, Callable[[], Verdict]]:
    if build.plumbing.cooling.fan.drive == "electric":
        return {"core-gap": lambda: _electric(gap)}
    moving: dict[str, Callable[[], Verdict]] = {"core-gap": lambda: _moving(build, gap)}
    if given(lambda: gap.gap_min) is not None:
        return moving
    return moving | {"core-gap-as-drawn": lambda: _as_drawn(gap)}


def _electric(gap: Clearance) -> Verdict:
    least, on = or_practice(lambda: gap.gap_min, CORE_ELECTRIC), f"{path_of(gap)}.gap"
    says = "The fan hangs on the radiator and keeps its gap."
    return at_least(gap.gap, least, says, on=on, unit=MM, advice=advice(on, least))


def _moving(build: Build, gap: Clearance) -> Verdict:
    return left_over(build, gap, CORE_MOVING, level="error" if m.gap_left(build, gap) <= 0.0 else "warning")


def _as_drawn(gap: Clearance) -> Verdict:
    on = f"{path_of(gap)}.gap"
    says = f"{name_of(gap)}: {shown(gap.gap, *MM)} as drawn."
    return at_least(gap.gap, CORE_DRAWN, says, level="warning", on=on, unit=MM, advice=advice(on, CORE_DRAWN))


def _tips(build: Build, gap: Clearance) -> dict[str, Callable[[], Verdict]]:
    demands: dict[str, Callable[[], Verdict]] = {}
    if m.on_the_frame(build, gap):
        demands["tips-together"] = lambda: _together(gap)
    else:
        demands["tips-moving"] = lambda: _tips_moving(build, gap)
        demands["tips-apart"] = lambda: _apart(build, gap)
    demands["projection"] = lambda: _projection(build)
    return demands


def _together(gap: Clearance) -> Verdict:
    on = f"{path_of(gap)}.gap"
    says = f"{name_of(gap)}: fan and shroud move together, so that a narrow gap keeps the air from going back."
    return at_most(gap.gap, TIP_TOGETHER, says, on=on, unit=MM, advice=advice(on, TIP_TOGETHER))


def _tips_moving(build: Build, gap: Clearance) -> Verdict:
    moves, on = _apart_by(build, gap), f"{path_of(gap)}.gap"
    says = f"{name_of(gap)}: {shown(gap.gap, *MM)}, the engine moves by {shown(moves, *MM, digits=3)} there."
    if moves > gap.gap:
        says += " The fan strikes the shroud."
    left, scale, wider = gap.gap - moves, gap.gap or None, advice(on, whole_mm(moves))
    return at_least(left, 0.0, says, level="error", on=on, scale=scale, unit=MM, advice=wider)


def _apart_by(build: Build, gap: Clearance) -> float:
    """How far fan and shroud move against each other: a shroud stands all round, so that the worse way counts."""
    sideways = m.moved_along(build) if mounts.stands_across(build) else m.moved_across(build, gap.z)
    return max(m.moved_up(build, gap.y), sideways)


def _apart(build: Build, gap: Clearance) -> Verdict:
    fan, on = build.plumbing.cooling.fan, f"{path_of(gap)}.gap"
    least = max(TIP_LEAST, TIP_SHARE * fan.diameter)
    says = f"{name_of(gap)}: fan and shroud move apart."
    if gap.gap < least:
        # A smaller fan needs less, so that what the present one needs is on the safe side.
        largest = math.floor((fan.diameter + 2.0 * (gap.gap - least)) * 1000.0 + 1e-6) / 1000.0
        says += f" A fan of {shown(largest, *MM)} would leave enough."
    return at_least(gap.gap, least, says, on=on, unit=MM, advice=advice(on, whole_mm(least)))


def _projection(build: Build) -> Verdict:
    depth, on = build.plumbing.cooling.fan.projection, "plumbing.cooling.fan.projection"
    says = f"{shown(depth)} of the blades' depth stands in the shroud."
    nearer = advice(on, DEPTH_LOW if depth < DEPTH_LOW else DEPTH_HIGH)
    return within(depth, DEPTH_LOW, DEPTH_HIGH, says, on=on, unit=("share", "%"), advice=nearer)


# -- hood -----------------------------------------------------------------------------------------------------------
@rule(
    "fit.hood-clearance",
    level="warning",
    due="plan",
    sources=[GAP_MIN, HOODS.giving("formula", "flexing of the hood"), MOVES],
    fallbacks=[HOOD, m.ALLOWED, *mounts.AS_SPRINGS],
    adjust=["vehicle.clearances.*.gap"],
    about="vehicle.clearances",
    each=m.gaps_of("hood", asked=("hood",)),
    bad=[{"vehicle.clearances.hood.gap": "25 mm"}],
    good=[{"vehicle.clearances.hood.gap": "60 mm"}, {"vehicle.mounts": None}],
)
def hood_clearance(build: Build, gap: Clearance | str) -> Verdict:
    """Does the hood close over the engine with the engine rocking?

    Computes: the gap over the tallest part, less bounce and roll there, and 5 mm for the flexing of the hood.
    Limit: 20 mm left: common practice. Measure with modelling clay on the part and the hood shut, insulation in place.
    Consequence: The hood does not shut, or the rocking engine beats it from below.
    Remedy: a wider gap: lower the unit, which takes the same from the gap to the axle, or a bulge.
    Cannot tell: rules for the protection of people on foot, which newer vehicles must meet.
    """
    if isinstance(gap, str) or m.why_none(gap):
        return no_gap(gap)
    return left_over(build, gap, HOOD, tolerance=HOOD_FLEX, for_what="the flexing of the hood")


# -- axle -----------------------------------------------------------------------------------------------------------
@rule(
    "fit.sump-axle",
    level="error",
    due="quote",
    sources=[GAP_MIN, MOVES],
    cautions=[cautions.CRUSH],
    fallbacks=[AXLE, PROPSHAFT, m.ALLOWED, *mounts.AS_SPRINGS],
    adjust=["vehicle.clearances.*.gap_at_bump"],
    about="vehicle.clearances",
    each=m.gaps_of("axle", "propshaft", asked=("axle",)),
    bad=[{"vehicle.clearances.sump_axle.gap_at_bump": "20 mm"}],
    good=[{"vehicle.clearances.sump_axle.gap_at_bump": "80 mm"}],
)
def sump_axle(build: Build, gap: Clearance | str) -> Verdict:
    """Do sump, housing and starter clear axle, propshaft and steering linkage at full bump?

    Computes: the gap with the suspension on its stop, rubber pressed flat, less the drop and roll of the engine.
    Limit: 25 mm left to axle and linkage, 15 mm to a turning propshaft: common practice.
    Consequence: At full bump axle or propshaft strikes the engine: a holed sump loses all its oil at speed.
    Remedy: a spacer on the bump stop, a lift of the mounts, or the sump for it; each takes from the gap to the hood or
    adds to joint angles.
    Cannot tell: what worn stops give way, about 10 mm more; one wheel up and the other down: measure that too. A holed
    sump loses all its oil at speed.
    """
    if isinstance(gap, str) or m.why_none(gap):
        return no_gap(gap)
    return left_over(build, gap, to_axle(gap))


def to_axle(gap: Clearance) -> Practice:
    """What is kept of a gap to axle, linkage and propshaft, where no maker says."""
    return AXLE if gap.kind == "axle" else PROPSHAFT


# -- steering -------------------------------------------------------------------------------------------------------
@rule(
    "fit.steering-shaft-clearance",
    level="error",
    due="build",
    sources=[GAP_MIN, MOVES],
    cautions=[cautions.STEERING, cautions.BRAKES],
    fallbacks=[STEERING, STEERING_HOT, *mounts.AS_SPRINGS],
    adjust=["vehicle.clearances.*.gap"],
    about="vehicle.clearances",
    each=m.gaps_of("steering", "brake-pipe", "pedal", asked=("steering", "brake-pipe")),
    bad=[{"vehicle.clearances.steering_shaft.gap": "25 mm"}, {"vehicle.clearances.steering_shaft.gap_min": "53 mm"}],
    good=[{"vehicle.clearances.steering_shaft.gap": "80 mm"}],
)
def steering_shaft_clearance(build: Build, gap: Clearance | str) -> Verdict:
    """Does nothing on the engine come near steering shaft, brake pipes and pedals, however it moves?

    Computes: the gap less the engine's movement in that direction.
    Limit: what a maker asks for, else 20 mm left, 50 mm where it is the exhaust that comes near.
    Consequence: What the engine touches or heats there jams or leaks: steering or brakes are lost.
    Remedy: a wider gap: another manifold or outlet, pipes laid anew, an intermediate joint in the steering shaft of at
    most 30° with its yokes in phase and a bearing beside it.
    Cannot tell: play and crush zone of the steering column. Contact here is loss of steering or brakes.
    """
    if isinstance(gap, str) or m.why_none(gap):
        return no_gap(gap)
    return left_over(build, gap, to_steering(gap))


def to_steering(gap: Clearance) -> Practice:
    """What is kept of a gap to steering, brake pipes and pedals, where no maker says."""
    return STEERING_HOT if gap.hot else STEERING
