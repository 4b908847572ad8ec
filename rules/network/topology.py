"""The bus as it is wired, walked: which lines there are, what hangs on each and by which branch."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from swaplint.api import Build, given, is_fitted, name_of, path_of
from swaplint.engineering import circuits
from swaplint.spec.systems.network import J1939

ENGINE = "engine"
"""The engine package's point on the bus."""

TRUNK = "trunk"
_THE_TRUNK = ""
"""All points of a trunk taken as one: no point of a spec has this name."""


@dataclass(frozen=True)
class Bus:
    """One bus: a trunk, what branches off it, and the devices on both."""

    trunk: Sequence[Any]
    """The lengths of trunk cable."""
    stubs: Sequence[Any]
    """The lengths of stub cable."""
    devices: Mapping[str, Any]
    """The devices by the point that each stands at, the engine package first."""
    trunk_pairs: Sequence[tuple[str, str]]
    """The two points that each length of trunk joins."""
    stub_pairs: Sequence[tuple[str, str]]
    trunk_points: frozenset[str]
    points: frozenset[str]

    def ends(self) -> list[str]:
        """The points where the trunk ends, in the order in which they are stated."""
        return [point for point, ways in circuits.ways_at(self.trunk_pairs).items() if ways == 1]

    def branch(self, point: str) -> list[Any] | None:
        """The stub cables from a point to the trunk, none where it stands on it; None where none lead there."""
        joints = [
            (_THE_TRUNK if one in self.trunk_points else one, _THE_TRUNK if other in self.trunk_points else other)
            for one, other in self.stub_pairs
        ]
        start = _THE_TRUNK if point in self.trunk_points else point
        way = circuits.route(joints, start, _THE_TRUNK)
        return None if way is None else [self.stubs[position] for position in way]

    def joins_at(self, point: str) -> str | None:
        """The point of the trunk where what stands at a point joins it."""
        if point in self.trunk_points:
            return point
        way = self.branch(point)
        return next((end for end in pairs_of(way[-1:])[0] if end in self.trunk_points), None) if way else None


def pairs_of(wires: Sequence[Any]) -> list[tuple[str, str]]:
    """The two points that each length of cable joins."""
    return [(wire.start, wire.end) for wire in wires]


def buses(build: Build) -> list[Bus]:
    """Every bus, one for each trunk."""
    wires = _wires(build)
    everything = devices(build)
    pairs = pairs_of(wires)
    groups = circuits.joined(pairs)
    found: list[Bus] = []
    trunk = [place for place, wire in enumerate(wires) if wire.kind == TRUNK]
    for line in circuits.joined([pairs[place] for place in trunk]):
        places = [trunk[position] for position in line]
        group = next(group for group in groups if places[0] in group)
        stubs = [place for place in group if place not in trunk]
        points = frozenset(point for place in group for point in pairs[place])
        found.append(
            Bus(
                [wires[place] for place in places],
                [wires[place] for place in stubs],
                {point: device for point, device in everything.items() if point in points},
                [pairs[place] for place in places],
                [pairs[place] for place in stubs],
                frozenset(point for place in places for point in pairs[place]),
                points,
            )
        )
    return found


def bus_of(build: Build, line: Any) -> Bus:
    """The bus that is named by the first length of its trunk."""
    return next(bus for bus in buses(build) if name_of(bus.trunk[0]) == name_of(line))


def bus_with(build: Build, node: Any) -> Bus | None:
    """The bus that a device hangs on; None where it is not wired to a trunk."""
    point = point_of(build, node)
    return next((bus for bus in buses(build) if point in bus.points), None)


def lines(build: Build) -> list[Any]:
    """The first length of cable of each trunk, which names the bus."""
    trunk = [wire for wire in _wires(build) if wire.kind == TRUNK]
    return [trunk[line[0]] for line in circuits.joined(pairs_of(trunk))]


def _wires(build: Build) -> list[Any]:
    return [wire for wire in build.electrics.network.wires.values() if is_fitted(wire)]


# -- devices ----------------------------------------------------------------------------------------------------------
def devices(build: Build) -> dict[str, Any]:
    """The devices of all buses by the point that each stands at; the engine package first, where it is on a bus."""
    others = build.electrics.network.nodes
    found: dict[str, Any] = {}
    if is_fitted(build.engine.network):
        found[ENGINE] = build.engine.network
    for name, node in others.items():
        if is_fitted(node):
            found[name] = node
    return found


def nodes(build: Build) -> list[Any]:
    """The devices of all buses."""
    return list(devices(build).values())


def point_of(build: Build, node: Any) -> str:
    """The point that a device stands at."""
    return ENGINE if path_of(node) == path_of(build.engine.network) else name_of(node)


# -- terminators ------------------------------------------------------------------------------------------------------
def terminators(build: Build, bus: Bus) -> list[tuple[str, Any]]:
    """The terminators of a bus: the point of each, and the part that it is or is inside of."""
    found = [(point, device) for point, device in bus.devices.items() if device.terminated]
    stated = given(lambda: list(build.electrics.network.terminators.values())) or []
    return found + [(part.at, part) for part in stated if is_fitted(part) and part.at in bus.points]


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
