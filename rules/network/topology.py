"""The bus as it is wired, walked: which lines there are, what hangs on each and by how long a branch."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from swaplint.api import Build, given, is_fitted, name_of, path_of
from swaplint.engineering import circuits
from swaplint.spec.systems.network import J1939

ENGINE = "engine"
"""The engine package's point on the bus."""

TRUNK = "trunk"


def wires(build: Build) -> list[Any]:
    """Every length of bus cable that is fitted."""
    return [wire for wire in build.electrics.network.wires.values() if is_fitted(wire)]


def ends(parts: Sequence[Any]) -> list[tuple[str, str]]:
    """The two points that each length of cable joins."""
    return [(part.start, part.end) for part in parts]


def lines(build: Build) -> list[Any]:
    """The trunks, each named by its first length of cable: one for every bus."""
    return [trunk[0] for trunk in _trunks(build)]


def _trunks(build: Build) -> list[list[Any]]:
    parts = [wire for wire in wires(build) if wire.kind == TRUNK]
    return [[parts[position] for position in group] for group in circuits.joined(ends(parts))]


def trunk_of(build: Build, line: Any) -> list[Any]:
    """The lengths of cable of one trunk."""
    return next(trunk for trunk in _trunks(build) if name_of(trunk[0]) == name_of(line))


def points_on(build: Build, line: Any) -> set[str]:
    """All the points of a bus: along its trunk, and at the ends of its stubs."""
    parts = wires(build)
    start = line.start
    group = next(g for g in circuits.joined(ends(parts)) if any(start in ends([parts[p]])[0] for p in g))
    return {point for position in group for point in ends([parts[position]])[0]}


def trunk_points(build: Build, line: Any) -> set[str]:
    """The points along a trunk."""
    return {point for pair in ends(trunk_of(build, line)) for point in pair}


def trunk_ends(build: Build, line: Any) -> list[str]:
    """The points where a trunk ends, in the order in which they are stated."""
    ways = circuits.ways_at(ends(trunk_of(build, line)))
    return [point for point, number in ways.items() if number == 1]


# -- devices ----------------------------------------------------------------------------------------------------------
def devices(build: Build) -> dict[str, Any]:
    """The devices of all buses by the point that each stands at; the engine package first, where it is on a bus."""
    build.electrics.network.nodes  # noqa: B018  # the bus must exist before the engine can be on it
    found: dict[str, Any] = {}
    if is_fitted(build.engine.network):
        found[ENGINE] = build.engine.network
    for name, node in build.electrics.network.nodes.items():
        if is_fitted(node):
            found[name] = node
    return found


def nodes(build: Build) -> list[Any]:
    """The devices of all buses."""
    return list(devices(build).values())


def point_of(build: Build, node: Any) -> str:
    """The point that a device stands at."""
    return next(point for point, device in devices(build).items() if path_of(device) == path_of(node))


def on_line(build: Build, line: Any) -> dict[str, Any]:
    """The devices of one bus, by the point that each stands at."""
    points = points_on(build, line)
    return {point: device for point, device in devices(build).items() if point in points}


def line_of(build: Build, node: Any) -> Any | None:
    """The bus that a device hangs on; None where it is not wired to a trunk."""
    point = point_of(build, node)
    return next((line for line in lines(build) if point in points_on(build, line)), None)


def same_bus(build: Build, node: Any) -> dict[str, Any]:
    """The devices on the same bus as a device, itself included; itself alone where it is not wired."""
    line = line_of(build, node)
    return {point_of(build, node): node} if line is None else on_line(build, line)


def branch(build: Build, point: str, line: Any) -> list[Any] | None:
    """The stub cables from a point to the trunk, none where it stands on the trunk; None where none lead there."""
    stubs = [wire for wire in wires(build) if wire.kind != TRUNK]
    lengths = [wire.length for wire in stubs]
    ways = [circuits.shortest_way(ends(stubs), lengths, point, goal) for goal in sorted(trunk_points(build, line))]
    found = [[stubs[position] for position in way] for way in ways if way is not None]
    return min(found, key=lambda way: sum(wire.length for wire in way), default=None)


def joins_at(build: Build, point: str, line: Any) -> str | None:
    """The point of the trunk where what stands at a point joins it."""
    if point in trunk_points(build, line):
        return point
    way = branch(build, point, line)
    if not way:
        return None
    pairs = ends(way)
    return circuits.nodes_along(pairs, range(len(pairs)), point)[-1]


# -- terminators ------------------------------------------------------------------------------------------------------
def terminators(build: Build, line: Any) -> list[tuple[str, Any]]:
    """The terminators of a bus: the point of each, and the part that it is or is inside of."""
    found = [(point, device) for point, device in on_line(build, line).items() if device.terminated]
    points = points_on(build, line)
    stated = given(lambda: list(build.electrics.network.terminators.values())) or []
    return found + [(part.at, part) for part in stated if is_fitted(part) and part.at in points]


def is_inside(part: Any) -> bool:
    """Whether a terminator is inside a device, and not in the wiring."""
    return not path_of(part).startswith("electrics.network.terminators.")


def resistance_of(part: Any) -> float:
    """Resistance of the terminator that a part is or has inside."""
    return float(part.terminator if is_inside(part) else part.resistance)


# -- protocol ---------------------------------------------------------------------------------------------------------
def speaks_j1939(node: Any) -> bool:
    """Whether a device speaks SAE J1939."""
    return bool(node.protocol == J1939)


def is_extended(node: Any) -> bool:
    """Whether a device sends identifiers of 29 bits."""
    return bool(node.protocol != "other-11-bit")
