"""The coolant followed from port to port, run by run."""

from __future__ import annotations

from collections.abc import Collection
from typing import NamedTuple

from swaplint.spec.systems.cooling import CircuitBranch


class Way(NamedTuple):
    """What coolant passes from one place on: parts, the engine's ports that it ends at, and the runs between."""

    parts: set[str]
    ports: set[str]
    runs: list[CircuitBranch]


def followed(begin: str, runs: list[CircuitBranch], ports: Collection[str], *, upstream: bool = False) -> Way:
    """All that coolant gets to from a place, or comes from; the engine's ports end the way."""
    way, ahead = Way(set(), set(), []), [begin]
    while ahead:
        place = ahead.pop()
        for run in runs:
            here, there = (str(run.end), str(run.start)) if upstream else (str(run.start), str(run.end))
            if here != place:
                continue
            way.runs.append(run)
            if there in ports:
                way.ports.add(there)
            elif there not in way.parts:
                way.parts.add(there)
                ahead.append(there)
    return way
