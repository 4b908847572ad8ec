"""Routes through a network of conductors, each of which joins two named nodes."""

from __future__ import annotations

from collections import deque
from collections.abc import Collection, Sequence


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
    if start in avoiding or end in avoiding:
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
