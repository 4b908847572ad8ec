"""Rules of the engine's harness: does it reach, and does it pass through."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
    OutsideRange,
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
    name_of,
    path_of,
    practice,
    quantity,
    rule,
    sheet,
    shown,
)
from swaplint.engineering import circuits

SLACK = practice("5 % and 0.15 m of slack on a harness, at most 0.5 m coiled up")
PASSING = practice("a hole 2 mm wider than the connector's diagonal, with a split grommet of that size")
BENDING = practice("a harness bent to five times its diameter, ten times where it moves; 30 mm straight at a connector")

SLACK_SHARE, SLACK_FIXED, COILED = 0.05, 0.15, 0.5
HOLE_CLEARANCE = 2e-3
BEND_FIXED, BEND_MOVING = 5.0, 10.0
STRAIGHT = 30e-3


def leads(build: Build) -> list[Any]:
    """The leads of the engine's harness that are there; an engine without a control unit may well have none."""
    if given(lambda: is_fitted(build.engine.ecm)) is False and given(lambda: build.engine.harness) is None:
        return []
    return [lead for lead in build.engine.harness.values() if is_fitted(lead)]


def way_of(build: Build, lead: Any) -> list[Any] | None:
    """The routes of the shortest way from a lead's start to its end; None where none lead there."""
    routes = [route for route in build.electrics.routes.values() if is_fitted(route)]
    joints = [(route.start, route.end) for route in routes]
    found = circuits.shortest_way(joints, [route.length for route in routes], lead.start, lead.end)
    return None if found is None else [routes[position] for position in found]


def extensions(build: Build, lead: Any) -> list[Any]:
    """The extensions that lengthen a lead."""
    stated = given(lambda: list(build.electrics.extensions.values())) or []
    return [extension for extension in stated if is_fitted(extension) and extension.lead == name_of(lead)]


@quantity(
    "controls.lead-way",
    "length",
    "m",
    formula="shortest way over the routes from the lead's start to its end, Σ L",
    sources=[practice("lengths along the real run add up").giving("formula")],
    each=leads,
)
def lead_way(build: Build, lead: Any) -> float:
    """Length of the shortest way that a lead can take."""
    way = way_of(build, lead)
    if way is None:
        raise OutsideRange(f"no route leads from '{lead.start}' to '{lead.end}'")
    return float(sum(route.length for route in way))


@quantity(
    "controls.lead-slack",
    "length",
    "m",
    formula="L_lead + L_extensions - (1.05 · way + 0.15 m)",
    symbols={
        "L_lead": "engine.harness.*.length",
        "L_extensions": "electrics.extensions.*.length",
        "way": "controls.lead-way",
    },
    sources=[SLACK.giving("formula", "5 % of the way and 0.15 m")],
    each=leads,
)
def lead_slack(build: Build, lead: Any) -> float:
    """Length of a lead beyond its way and the usual slack; negative where it is short."""
    added = sum(extension.length for extension in extensions(build, lead))
    return float(lead.length + added - ((1.0 + SLACK_SHARE) * lead_way(build, lead) + SLACK_FIXED))


@rule(
    "controls.harness-reach",
    level="error",
    due="quote",
    sources=[sheet("engine.harness"), SLACK.giving("limit", "slack of a lead, and what can be coiled up")],
    cautions=[cautions.ROTATING],
    adjust=["electrics.extensions.*.length"],
    about="electrics.routes",
    each=leads,
    without={
        "electrics.extensions": "A lead that no extension is stated for is as long as its sheet says, and short where "
        "that does not reach."
    },
    bad=[
        {"electrics.routes.bulkhead-pedal.length": "1.4 m"},
        {"electrics.routes.bulkhead-pedal.length": "0.2 m"},
        {"engine.harness.cluster.end": "roof"},
    ],
    good=[
        {
            "electrics.routes.bulkhead-pedal.length": "1.4 m",
            "electrics.extensions.pedal": {"lead": "pedal", "length": "0.5 m"},
        }
    ],
)
def harness_reach(build: Build, lead: Any) -> Verdict:
    """Does each lead of the harness reach along its real run, with slack and without cutting?

    Computes: the shortest way over the stated routes from where the lead starts to what it plugs into; slack = length
    - (1.05·way + 0.15 m).
    Limit: no lead is short (an error); no more than 0.5 m is left to coil up (a note). Common practice.
    Consequence: A lead that is short tears at its plugs and cuts the engine out; one left long chafes through.
    Remedy: an extension with matching connectors, as long as the lead is short, or the control unit nearer. Never cut
    a harness to lengthen it, least of all the shielded wires of a sensor.
    Cannot tell: pull and rubbing while the engine moves; a run guessed from a drawing is 20 % off.
    """
    way = way_of(build, lead)
    if way is None:
        says = f"No route leads from '{lead.start}' to '{lead.end}', where the lead {name_of(lead)} goes."
        return all_of(route=lambda: holds(False, says, on=f"{path_of(lead)}.end"))
    return all_of(reach=lambda: _reaches(build, lead, way), coil=lambda: _no_heap(build, lead, way))


def _reaches(build: Build, lead: Any, way: list[Any]) -> Verdict:
    slack = lead_slack(build, lead)
    longest = max(way, key=lambda route: route.length, default=None)
    says = f"The lead {name_of(lead)} has {shown(lead.length)} for a way of {shown(lead_way(build, lead))}"
    if slack < 0.0:
        # Rounded up to whole millimetres: an extension of that length reaches.
        missing = math.ceil(-slack * 1000.0 - 1e-6) / 1000.0
        says += f": with the usual slack it is short by {shown(missing, 'length', 'm')}"
    return at_least(
        slack,
        0.0,
        f"{says}.",
        on=f"{path_of(longest)}.length" if longest is not None else path_of(lead),
        scale=float(lead.length),
        advice=[advice(f"{path_of(one)}.length", one.length - slack) for one in extensions(build, lead)[:1]],
    )


def _no_heap(build: Build, lead: Any, way: list[Any]) -> Verdict:
    slack = lead_slack(build, lead)
    return at_most(
        slack,
        COILED,
        f"The lead {name_of(lead)} has {shown(lead.length)} for a way of {shown(lead_way(build, lead))}; beyond the "
        f"usual slack {shown(max(0.0, slack), 'length', 'm')} are left, {shown(COILED, 'length', 'm')} can be coiled "
        "up.",
        level="note",
        on=f"{path_of(way[-1])}.length" if way else path_of(lead),
        unit=("length", "m"),
    )


# -- through the bulkhead ---------------------------------------------------------------------------------------------
def passing_leads(build: Build) -> list[Any]:
    """The leads whose way passes through an opening, or has a bend or a straight end stated."""
    return [lead for lead in leads(build) if way_of(build, lead)]


@rule(
    "controls.bulkhead-pass",
    level="warning",
    due="build",
    sources=[
        sheet("engine.harness"),
        PASSING.giving("limit", "hole 2 mm wider than the connector, split grommet"),
        BENDING.giving("limit", "bends of 5 and 10 diameters, 30 mm straight"),
    ],
    cautions=[cautions.FRAME],
    adjust=["electrics.openings.*.hole", "electrics.openings.*.grommet", "electrics.routes.*.bend_radius"],
    about="electrics.openings",
    each=passing_leads,
    without={
        "electrics.routes.*.opening": "A stretch that names no opening passes through none: panels are drawn with the "
        "route.",
        "electrics.routes.*.straight_end": "A stretch with no connector at its end has no straight length to measure.",
    },
    instead={
        "engine.harness.*.connector.diameter": (
            "engine.harness.*.connector.width",
            "engine.harness.*.connector.height",
        )
    },
    bad=[
        {"engine.harness.cluster.connector.width": "60 mm"},
        {"electrics.openings.bulkhead.grommet": "none"},
        {"electrics.routes.bulkhead-pedal.bend_radius": "40 mm"},
        {"electrics.routes.ecm-bulkhead.straight_end": "10 mm"},
    ],
    good=[
        {
            "electrics.openings.bulkhead.hole": "30 mm",
            "electrics.openings.bulkhead.grommet": "plain",
            "engine.harness.*.pre_terminated": False,
        }
    ],
)
def bulkhead_pass(build: Build, lead: Any) -> Verdict:
    """Does the connector pass through every hole on its way, and can the harness bend behind it?

    Computes: the diagonal of the connector's outside, √(w² + h²), or the diameter of a round one; the openings and
    bends of the shortest way.
    Limit: the hole is 2 mm wider than that and has a split grommet; a lead whose end is finished in the vehicle needs
    only room for itself. Never a bare edge. A bend of five times the harness's diameter, ten times where one end moves
    with the engine; 30 mm straight behind a connector. Common practice.
    Consequence: The plug does not go through, or the harness chafes there until a wire breaks or shorts.
    Remedy: a hole that the connector passes, with a split grommet of that size; or the loose end pushed through from
    the other side.
    Cannot tell: what lies behind the panel; a lock lever that stands open makes a connector larger than its drawing.
    """
    demands: dict[str, Callable[[], Verdict]] = {}
    for route in way_of(build, lead) or []:
        on_route = name_of(route)
        demands[f"bend.{on_route}"] = lambda route=route: _bend(lead, route)  # type: ignore[misc]
        tells = given(lambda route=route: _tells(build, lead, route)) is not False  # type: ignore[misc]
        if tells and given(lambda route=route: route.straight_end) is not None:  # type: ignore[misc]
            demands[f"straight.{on_route}"] = lambda route=route: _straight(route)  # type: ignore[misc]
        name = given(lambda route=route: route.opening)  # type: ignore[misc]
        if name is not None:
            demands.update(_through(build, lead, name, route, tells))
    return all_of(demands)


def _through(build: Build, lead: Any, name: str, route: Any, tells: bool) -> dict[str, Callable[[], Verdict]]:
    """The demands on an opening that a lead passes; what is wrong with the opening itself only one lead tells."""
    opening = build.electrics.openings.get(name)
    if opening is None:
        says = f"The opening '{name}' is not stated."
        stated = {f"opening.{name_of(route)}": lambda: holds(False, says, on=f"{path_of(route)}.opening")}
        return stated if tells else {}
    edge = {f"edge.{name}": lambda: _edge(opening, name)} if tells else {}
    if given(lambda: opening.grommet) == "none":
        return edge
    demands = {**edge, f"hole.{name}": lambda: _passes(lead, opening, name)}
    if given(lambda: lead.pre_terminated) is not False:
        demands[f"split.{name}"] = lambda: _closes_round(lead, opening)
    return demands


def _edge(opening: Any, name: str) -> Verdict:
    bare, on = opening.grommet == "none", f"{path_of(opening)}.grommet"
    says = f"The opening {name} has a {'bare edge: line it with a grommet' if bare else f'{opening.grommet} grommet'}."
    return holds(not bare, says, on=on, advice=advice(on, "split"))


def _passes(lead: Any, opening: Any, name: str) -> Verdict:
    on = f"{path_of(opening)}.hole"
    if not lead.pre_terminated:
        says = f"The lead {name_of(lead)} is finished in the vehicle: its loose end passes {shown(opening.hole)}."
        needed = lead.diameter + HOLE_CLEARANCE
    else:
        needed = _across(lead.connector) + HOLE_CLEARANCE
        says = (
            f"The connector of the lead {name_of(lead)} takes a hole of {shown(needed, 'length', 'mm')}; the opening "
            f"{name} has {shown(opening.hole)}."
        )
    return at_least(opening.hole, needed, says, on=on, advice=advice(on, needed))


def _across(connector: Any) -> float:
    """The widest measure of a connector: the diameter of a round one, the diagonal of any other."""
    diameter = given(lambda: connector.diameter)
    return float(diameter) if diameter is not None else math.hypot(connector.width, connector.height)


def _closes_round(lead: Any, opening: Any) -> Verdict:
    on = f"{path_of(opening)}.grommet"
    if not lead.pre_terminated:
        return does_not_apply(f"The lead {name_of(lead)} is finished in the vehicle.")
    split = opening.grommet == "split"
    says = f"A split grommet closes round the lead {name_of(lead)} behind its connector."
    if not split:
        says = f"No grommet but a split one closes round the lead {name_of(lead)} behind its connector: fit one."
    return holds(split, says, on=on, advice=advice(on, "split"))


def _tells(build: Build, lead: Any, route: Any) -> bool:
    """Whether a lead is the first that takes a route: what is wrong with the route itself is told once."""
    takers = (other for other in leads(build) if path_of(route) in map(path_of, way_of(build, other) or []))
    return path_of(next(takers)) == path_of(lead)


def _bend(lead: Any, route: Any) -> Verdict:
    times = BEND_MOVING if route.moves_with_engine else BEND_FIXED
    needed = times * lead.diameter
    says = (
        f"The tightest bend on the route {name_of(route)} is {shown(route.bend_radius)}; the lead {name_of(lead)} of "
        f"{shown(lead.diameter)} needs "
        f"{shown(needed, 'length', 'mm')}{' where it moves' if times == BEND_MOVING else ''}."
    )
    on = f"{path_of(route)}.bend_radius"
    return at_least(route.bend_radius, needed, says, on=on, advice=advice(on, needed))


def _straight(route: Any) -> Verdict:
    usual = shown(STRAIGHT, "length", "mm")
    says = (
        f"{shown(route.straight_end)} of {name_of(route)} are straight behind a connector; {usual} or more are usual."
    )
    return at_least(route.straight_end, STRAIGHT, says, on=f"{path_of(route)}.straight_end")
