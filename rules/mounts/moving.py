"""Rules about how far the engine moves, what it strikes and what it pulls at."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import partial
from typing import Any, Literal

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    advice,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    informs,
    is_fitted,
    name_of,
    needs_review,
    or_practice,
    path_of,
    practice,
    rule,
    sheet,
    shown,
)
from swaplint.spec.systems.fit import Clearance
from swaplint.spec.systems.mounts import Bridge

from .. import rounding, sources
from ..driveline import loads
from . import movement as m
from . import quantities as q

MM = ("length", "mm")
Level = Literal["error", "warning", "note"]
KEPT = practice("10 mm kept to fixed parts and 25 mm to wires, fuel lines and, round the exhaust, anything")
TO_FIXED = Practice("10 mm kept to fixed parts", 0.010, KEPT)
TO_LINES = Practice("25 mm kept to wires and fuel lines", 0.025, KEPT)
HOT_TO_FIXED = Practice("25 mm kept from the exhaust to fixed parts", 0.025, KEPT)
HOT_TO_LINES = Practice("50 mm kept from the exhaust to wires and fuel lines", 0.050, sources.EXHAUST_GAPS)
OFF_BY = practice("brackets and measuring are off by 5 mm")
TOLERANCE = 0.005

FREE_LENGTH = practice("a hose or lead is free over at least four times the movement between its ends")
TIMES_MOVEMENT = 4.0
ALWAYS_THERE = ("fuel", "coolant", "exhaust", "wiring")
"""What runs between engine and frame in every vehicle."""
AND_BACK = "-and-back"
VITAL = ("fuel", "brake-vacuum", "clutch")


def no_gap(gap: Clearance | str) -> Verdict:
    """What to say of a kind of gap that nobody stated, or that an entry says why there is none of."""
    if isinstance(gap, str):
        return needs_review(
            f"No gap of the kind {gap} is stated: measure it, or state an entry of that kind that says why there is "
            "none (none_because)."
        )
    return does_not_apply(f"There is no gap of the kind {gap.kind}: {m.why_none(gap)}.")


def envelope(build: Build) -> list[Any]:
    """The gaps that no other rule judges, and the unit itself for its roll."""
    listed = m.gaps_of("fixed", "wiring", "fuel-line", asked=("fixed",))(build)
    judged_by_heat = _named_by_heat(build)
    listed = [gap for gap in listed if isinstance(gap, str) or path_of(gap) not in judged_by_heat]
    return [*listed, build.vehicle.engine_unit]


@rule(
    "mounts.movement-envelope",
    level="warning",
    due="build",
    sources=[
        sheet("vehicle.clearances.*.gap_min"),
        sheet("engine.mounting.roll_max"),
        sources.SPRINGS_AND_MASSES.giving("formula", "movement on the mounts"),
        m.SHAKEN.giving("formula", "what shakes the unit"),
        OFF_BY.giving("formula", "tolerance"),
    ],
    cautions=[cautions.FUEL_FIRE],
    fallbacks=[TO_FIXED, TO_LINES, HOT_TO_FIXED, HOT_TO_LINES, *q.AS_SPRINGS],
    adjust=["vehicle.clearances.*.gap"],
    about="vehicle.clearances",
    each=envelope,
    without={
        "engine.mounting.roll_max": "Where a sheet has no limit for the roll itself, each gap around the unit and the "
        "length of each line to it is still judged by the whole roll.",
        "plumbing.exhaust.heat_gaps": "A gap that no hot part names is judged by this rule itself.",
        "plumbing.fuel.routes": "A gap that no fuel line names is judged by this rule itself.",
    },
    bad=[
        {"vehicle.clearances.alternator.gap": "12 mm"},
        {"vehicle.clearances.fuel_line.gap": "20 mm"},
        {"engine.mounting.roll_max": "0.5 deg"},
    ],
    good=[{"vehicle.clearances.alternator.gap": "60 mm"}],
)
def movement_envelope(build: Build, gap: Any) -> Verdict:
    """How far does the engine move, and does anything lie within that reach?

    Computes: roll under full torque in the lowest gear about the elastic axis of the mounts; 3 times the weight up and
    down as far as the stops allow, once along, half to the side; of these what closes the gap, and 5 mm for tolerance.
    For all but the up and down, which last, the mounts are softer than when shaken.
    Limit: what the maker of engine or part asks for; else 10 mm kept to fixed parts, 25 mm to wires and fuel lines, and
    round the exhaust 25 and 50 mm. An error for fuel lines. The roll itself stays within what the engine's own hoses
    and belts allow, where its sheet says so.
    Consequence: The moving engine chafes through wires and fuel lines, or pulls off its own hoses and belts.
    Remedy: a wider gap, or stops that end the movement sooner.
    Cannot tell: the body's twist off the road; mounts that stiffen with travel move less. Gaps to fan, hood, axle,
    steering and brake pipes: see fit.
    """
    if not isinstance(gap, str) and path_of(gap) == "vehicle.engine_unit":
        return _roll(build)
    if isinstance(gap, str) or m.why_none(gap):
        return no_gap(gap)
    return left_over(build, gap, wanted(gap), tolerance=TOLERANCE, level="error" if gap.kind == "fuel-line" else None)


def _named_by_heat(build: Build) -> set[str]:
    """The paths of the gaps that exhaust.heat-clearance and fuel.line-routing judge, less the same movement."""
    heated = (given(lambda: build.plumbing.exhaust.heat_gaps) or {}).values()
    routes = (given(lambda: build.plumbing.fuel.routes) or {}).values()
    return {f"vehicle.clearances.{given(partial(getattr, near, 'clearance'))}" for near in [*heated, *routes]}


def _roll(build: Build) -> Verdict:
    roll, most = m.roll_angle(build), given(lambda: build.engine.mounting.roll_max)
    says = f"At full torque in {loads.in_lowest_gear(build)} the unit rolls by {shown(roll)}."
    if most is None:
        return informs(says, found=roll)
    if roll > most:
        stiffer = math.ceil(100.0 * roll / most) / 100.0
        says += f" Mounts {stiffer:.2f} times as stiff against roll would hold it: harder ones, or further apart."
    return at_most(roll, most, says, on="engine.mounting.roll_max")


def wanted(gap: Clearance) -> Practice:
    """What is kept of a gap to fixed parts, wires and fuel lines, where no maker says."""
    if gap.kind == "fixed":
        return HOT_TO_FIXED if gap.hot else TO_FIXED
    return HOT_TO_LINES if gap.hot else TO_LINES


def left_over(
    build: Build,
    gap: Clearance,
    wanted: Practice,
    *,
    tolerance: float = 0.0,
    for_what: str = "tolerance",
    level: Level | None = None,
) -> Verdict:
    """The verdict on what is left of a gap when the engine moves. Other packs judge their gaps with it."""
    least = or_practice(lambda: gap.gap_min, wanted)
    bumped = gap.kind in ("axle", "propshaft")
    if gap.kind == "axle" and given(lambda: gap.gap_at_bump > gap.gap):
        says = f"{name_of(gap)}: {shown(gap.gap_at_bump)} with the suspension on its stop, and {shown(gap.gap)} at "
        says += "ride height: the axle comes nearer on its way up. Measure both again."
        return needs_review(says, on=f"{path_of(gap)}.gap_at_bump", found=gap.gap_at_bump)
    rest, moves = m.gap_at_rest(gap), m.movement_or_allowed(build, gap)
    says = f"{name_of(gap)}: {shown(rest, *MM)}" + (" with the suspension on its stop" if bumped else "")
    says += f", less {shown(moves, *MM, digits=3)} of engine movement"
    says += f" and {shown(tolerance, *MM)} for {for_what}" if tolerance else ""
    on = f"{path_of(gap)}.{'gap_at_bump' if bumped else 'gap'}"
    wide = advice(on, whole_mm(least + moves + tolerance))
    return at_least(m.gap_left(build, gap) - tolerance, least, f"{says}.", level=level, on=on, unit=MM, advice=wide)


def whole_mm(length: float) -> float:
    """A length to give something, in whole millimetres, rounded up."""
    return rounding.up(length, 1e-3)


def lines(build: Build) -> Iterator[Bridge | str]:
    """The lines between engine and frame; one that this build must have and that is not stated, by what it carries."""
    found = list(build.vehicle.bridges.values())
    there = [bridge.carries for bridge in found]
    yield from found
    yield from (f"{what}{AND_BACK}" for what in _one_way_alone(build, found))
    yield from (what for what in ALWAYS_THERE if what not in there)
    if "clutch" not in there and is_fitted(build.driveline.clutch) and build.driveline.clutch.worked_by == "hydraulics":
        yield "clutch"
    if "brake-vacuum" not in there and _brakes_draw_on_the_engine(build):
        yield "brake-vacuum"
    if "oil" not in there and build.vehicle.steering.assist == "hydraulic" and is_fitted(build.vehicle.steering.pump):
        yield "oil"
    if "refrigerant" not in there and is_fitted(build.plumbing.air_conditioning):
        yield "refrigerant"
    if "ground" not in there and any(ground.start == "engine" for ground in build.electrics.grounds.values()):
        yield "ground"


def _one_way_alone(build: Build, found: Sequence[Bridge]) -> Iterator[str]:
    """What flows to the engine and back, and of which one line alone is listed."""
    there = [bridge.carries for bridge in found]
    alone = {bridge.carries for bridge in found if there.count(bridge.carries) == 1 and m.why_no_line(bridge) is None}
    if "coolant" in alone:
        yield "coolant"
    if "fuel" in alone and given(lambda: is_fitted(build.plumbing.fuel.return_line)) is True:
        yield "fuel"


def _brakes_draw_on_the_engine(build: Build) -> bool:
    """Whether the brake booster gets its vacuum from the engine: from its manifold, or a pump that it drives."""
    vacuum = build.plumbing.vacuum
    if build.vehicle.brakes.assist != "vacuum":
        return False
    if vacuum.supply == "pump":
        return bool(build.engine.vacuum.source == "pump" or vacuum.pump.drive == "engine")
    return bool(vacuum.supply == "manifold" and build.engine.vacuum.source == "manifold")


@rule(
    "mounts.flexible-bridges",
    level="warning",
    due="build",
    sources=[
        FREE_LENGTH.giving("limit", "four times the movement"),
        sources.SPRINGS_AND_MASSES.giving("formula", "movement on the mounts"),
    ],
    cautions=[cautions.FUEL_FIRE],
    fallbacks=q.AS_SPRINGS,
    adjust=["vehicle.bridges.*.free_length"],
    about="vehicle.bridges",
    each=lines,
    bad=[{"vehicle.bridges.fuel_feed.free_length": "0 mm"}, {"vehicle.bridges.upper_hose.free_length": "60 mm"}],
    good=[{"vehicle.bridges.upper_hose.free_length": "500 mm"}],
)
def flexible_bridges(build: Build, bridge: Bridge | str) -> Verdict:
    """Has everything that runs from engine to frame a flexible piece, long enough for the engine's movement?

    Computes: how far the line's end on the engine moves, in roll, bounce, sway and surge together.
    Limit: a flexible piece free over four times that movement: common practice. An error for fuel, brake vacuum and
    clutch, a warning otherwise. What this build must have, such as the clutch's fluid, the brakes' vacuum from the
    engine, the oil of a steering pump, refrigerant and the engine's ground, is asked for where no line carries it.
    Consequence: The line cracks or pulls off as the engine moves and leaks, or its wires break inside.
    Remedy: a longer hose or lead, with a bow in it and no pull at its ends.
    Cannot tell: a line that the list forgets: hold it against the list of what the engine is joined to; and how the
    line is laid and clipped.
    """
    if isinstance(bridge, str):
        if bridge.endswith(AND_BACK):
            bridge = bridge.removesuffix(AND_BACK)
            return needs_review(
                f"One line alone is listed that carries {bridge} between engine and frame, and {bridge} goes back too: "
                f"add the other, or state an entry that carries {bridge} and says why there is none (none_because)."
            )
        return needs_review(
            f"No line is listed that carries {bridge} between engine and frame: add it, or state an entry that carries "
            f"{bridge} and says why there is none (none_because)."
        )
    why = m.why_no_line(bridge)
    if why is not None:
        return does_not_apply(f"There is no line that carries {bridge.carries}: {why}.")
    length, moves = bridge.free_length, m.bridge_movement(build, bridge)
    level: Level = "error" if bridge.carries in VITAL else "warning"
    on = f"{path_of(bridge)}.free_length"
    wanted = TIMES_MOVEMENT * moves
    longer = advice(on, whole_mm(wanted))
    says = f"Its end on the engine moves by {shown(moves)}"
    if length == 0.0:
        return holds(False, f"{says} and it is rigid: give it a hose.", level=level, on=on, advice=longer)
    says += "; free over four times that it takes the movement" if length >= wanted else ": so short a piece tears off"
    return at_least(length, wanted, f"{says}.", level=level, on=on, unit=MM, advice=longer)
