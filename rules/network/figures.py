"""What the data bus looks like: its trunk, its stubs and its terminators, to scale."""

from __future__ import annotations

from collections.abc import Sequence

from swaplint.api import Axis, Build, ImpossibleInput, Point, ScaleDrawing, Shape, Sketch, figure, given, shown
from swaplint.engineering import circuits

from . import line, topology
from . import quantities as q

LENGTH = ("length", "m")


@figure("network.bus")
def bus(build: Build) -> ScaleDrawing:
    """The data bus: trunk, stubs and terminators.

    To scale, as if the trunk lay straight: the trunk along, each stub across to its device, by turns up and down. The
    thin lines stand at the longest stub that is allowed.
    """
    sketches = []
    for first in topology.lines(build):
        one = topology.bus_of(build, first)
        places = _along(one)
        sketches.append(_sketch(build, one, places, q.trunk_length(build, first)))
    return ScaleDrawing(Axis("along the trunk", *LENGTH), Axis("stub", *LENGTH), sketches)


def _along(one: topology.Bus) -> dict[str, float]:
    """How far along the trunk each of its points lies."""
    ends = one.ends()
    if len(ends) != 2:
        raise ImpossibleInput("the trunk is not one line with two ends, so it cannot be drawn as one")
    way: Sequence[int] = circuits.route(one.trunk_pairs, ends[0], ends[1]) or []
    places, at = {ends[0]: 0.0}, ends[0]
    for position in way:
        start, end = one.trunk_pairs[position]
        behind = end if start == at else start
        places[behind] = places[at] + float(one.trunk[position].length)
        at = behind
    return places


def _sketch(build: Build, one: topology.Bus, places: dict[str, float], length: float) -> Sketch:
    allowed, _ = line.limits(build, one)
    shapes = [Shape("trunk", [(0.0, 0.0), (length, 0.0)], "line", f"trunk, {shown(length)}")]
    for side in (1.0, -1.0):
        label = f"longest stub, {shown(allowed.stub, *LENGTH)}" if side > 0 else ""
        shapes.append(Shape("limit", [(0.0, side * allowed.stub), (length, side * allowed.stub)], "limit", label))
    points = []
    for number, (point, device) in enumerate(one.devices.items()):
        joins = one.joins_at(point)
        if joins is None or joins not in places:
            continue
        stub = q.stub_length(build, device)
        side = 1.0 if number % 2 else -1.0
        shapes.append(Shape(point, [(places[joins], 0.0), (places[joins], side * stub)], "line"))
        points.append(Point(f"{point}, {shown(stub)}" if stub else point, places[joins], side * stub))
    for point, part in topology.terminators(build, one):
        where = one.joins_at(point)
        ohms = given(lambda part=part: shown(topology.resistance_of(part), "resistance", "ohm"))  # type: ignore[misc]
        if where in places:
            points.append(Point(f"terminator, {ohms}" if ohms else "terminator", places[where], 0.0))
    return Sketch(f"bus of {len(one.devices)} devices", shapes, points)
