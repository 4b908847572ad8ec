"""Routes through a network of conductors, each of which joins two named nodes."""

from __future__ import annotations

import heapq
import itertools
from collections import deque
from collections.abc import Collection, Sequence

from .guards import not_negative


def route(
    conductors: Sequence[tuple[str, str]], start: str, end: str, avoiding: Collection[str] = ()
) -> tuple[int, ...] | None:
    """The conductors, by position, that lead from one node to another; None where none do.

    The route with the fewest conductors, and of those the one that is stated first. Direction does not matter; nodes
    in `avoiding` are not passed through. Breadth-first search. From a node to itself the route is empty.

    >>> route([("battery", "isolator"), ("isolator", "starter"), ("battery", "fuses")], "battery", "starter")
    (0, 1)
    >>> route([("battery", "isolator"), ("isolator", "starter")], "battery", "starter", avoiding=["isolator"])
    """
    if start in avoiding:
        return None
    before: dict[str, tuple[str, int]] = {}
    reached = {start}
    waiting = deque([start])
    while waiting and end not in reached:
        node = waiting.popleft()
        for position, (one, other) in enumerate(conductors):
            if node not in (one, other):
                continue
            following = other if node == one else one
            if following not in reached and following not in avoiding:
                reached.add(following)
                before[following] = (node, position)
                waiting.append(following)
    if end not in reached:
        return None
    found: list[int] = []
    node = end
    while node != start:
        node, position = before[node]
        found.append(position)
    return tuple(reversed(found))


def nodes_along(conductors: Sequence[tuple[str, str]], path: Sequence[int], start: str) -> tuple[str, ...]:
    """The nodes that a route from `start` passes, both ends included.

    >>> nodes_along([("engine", "frame"), ("battery", "frame")], (0, 1), "engine")
    ('engine', 'frame', 'battery')
    """
    nodes = [start]
    for position in path:
        one, other = conductors[position]
        nodes.append(other if nodes[-1] == one else one)
    return tuple(nodes)


def shortest_way(
    conductors: Sequence[tuple[str, str]], lengths: Sequence[float], start: str, end: str
) -> tuple[int, ...] | None:
    """The conductors, by position, of the shortest way from one node to another; None where none leads there.

    `lengths` holds the length of each conductor, m. Direction does not matter; of equal ways the one found first is
    taken. Dijkstra's algorithm.

    >>> shortest_way([("ecm", "cab"), ("ecm", "bulkhead"), ("bulkhead", "cab")], [3.0, 1.0, 1.5], "ecm", "cab")
    (1, 2)
    """
    for length in lengths:
        not_negative("length", length)
    found = itertools.count()
    waiting: list[tuple[float, int, str, tuple[int, ...]]] = [(0.0, next(found), start, ())]
    done: set[str] = set()
    while waiting:
        far, _, node, way = heapq.heappop(waiting)
        if node == end:
            return way
        if node in done:
            continue
        done.add(node)
        for position, (pair, length) in enumerate(zip(conductors, lengths, strict=True)):
            if node in pair:
                following = pair[1] if node == pair[0] else pair[0]
                if following not in done:
                    heapq.heappush(waiting, (far + length, next(found), following, (*way, position)))
    return None


def live_nodes(
    conductors: Sequence[tuple[str, str]],
    sources: Collection[str],
    closed_by: Sequence[Collection[str]] = (),
    one_way: Sequence[bool] = (),
) -> frozenset[str]:
    """The nodes that are joined to a source.

    `closed_by` says for each conductor which nodes close the relay in it: it conducts while any of them is live; one
    with none always conducts. `one_way` says for each whether a diode lets current through it from its first node to
    its second only; else direction does not matter.

    >>> wires = [("battery", "fuse"), ("fuse", "ecm"), ("key-run", "lamp")]
    >>> sorted(live_nodes(wires, ["battery"], [[], ["key-run"], []]))
    ['battery', 'fuse']
    >>> "ecm" in live_nodes(wires, ["battery", "key-run"], [[], ["key-run"], []])
    True
    >>> sorted(live_nodes([("key-run", "field")], ["field"], one_way=[True]))
    ['field']
    """
    live = set(sources)
    coils = list(closed_by) or [()] * len(conductors)
    diodes = list(one_way) or [False] * len(conductors)
    found = True
    while found:
        found = False
        for (start, end), closing, diode in zip(conductors, coils, diodes, strict=True):
            reaches = (start in live) != (end in live) and (start in live or not diode)
            if reaches and (not closing or not live.isdisjoint(closing)):
                live.update((start, end))
                found = True
    return frozenset(live)


def held_nodes(
    conductors: Sequence[tuple[str, str]],
    sources: Collection[str],
    before: Collection[str],
    closed_by: Sequence[Collection[str]] = (),
    one_way: Sequence[bool] = (),
) -> frozenset[str]:
    """The nodes that stay live after a source has gone, where relays stay closed as long as their coils are fed.

    `before` are the nodes that were live until then. A relay opens once no node that closes it is live any more, which
    may let others open in turn; what hangs on a relay that feeds its own coil stays live. The other arguments are
    those of `live_nodes`, whose nodes are always among the answer.

    >>> wires = [("battery", "unit"), ("key-run", "coil"), ("unit", "coil")]
    >>> sorted(held_nodes(wires, ["battery"], ["battery", "unit", "key-run", "coil"], [["coil"], [], []]))
    ['battery', 'coil', 'key-run', 'unit']
    >>> sorted(held_nodes(wires[:2], ["battery"], ["battery", "unit", "key-run", "coil"], [["coil"], []]))
    ['battery']
    """
    coils = list(closed_by) or [()] * len(conductors)
    diodes = list(one_way) or [False] * len(conductors)
    live = frozenset(before) | live_nodes(conductors, sources, coils, diodes)
    while True:
        closed = [not closing or not live.isdisjoint(closing) for closing in coils]
        left = live_nodes(
            [pair for pair, shut in zip(conductors, closed, strict=True) if shut],
            sources,
            one_way=[diode for diode, shut in zip(diodes, closed, strict=True) if shut],
        )
        if live <= left:
            return live
        live &= left


def joined(conductors: Sequence[tuple[str, str]]) -> list[tuple[int, ...]]:
    """The conductors, by position, in groups that hang together, in the order in which they are stated.

    >>> joined([("a", "b"), ("x", "y"), ("b", "c")])
    [(0, 2), (1,)]
    """
    groups: list[tuple[set[str], list[int]]] = []
    for position, pair in enumerate(conductors):
        touching = [group for group in groups if not group[0].isdisjoint(pair)]
        nodes, members = set(pair), [position]
        for group in touching:
            nodes |= group[0]
            members += group[1]
            groups.remove(group)
        groups.append((nodes, sorted(members)))
    return sorted(tuple(members) for _, members in groups)


def ways_at(conductors: Sequence[tuple[str, str]]) -> dict[str, int]:
    """How many conductors meet at each node: one at an end, two along a line, more at a star.

    >>> ways_at([("a", "b"), ("b", "c"), ("b", "d")])
    {'a': 1, 'b': 3, 'c': 1, 'd': 1}
    """
    ways: dict[str, int] = {}
    for pair in conductors:
        for node in pair:
            ways[node] = ways.get(node, 0) + 1
    return ways


def is_line(conductors: Sequence[tuple[str, str]]) -> bool:
    """Whether conductors that hang together form one line with two ends: no star, no ring.

    >>> is_line([("a", "b"), ("c", "b")]), is_line([("a", "b"), ("b", "c"), ("c", "a")])
    (True, False)
    """
    ways = ways_at(conductors)
    return all(n <= 2 for n in ways.values()) and sum(n == 1 for n in ways.values()) == 2
