"""The parts to get, for the take-off: what is on order, and what nobody supplies yet."""

from __future__ import annotations

from collections.abc import Iterator

from swaplint.api import Build, Cells, given, listing
from swaplint.spec.systems.supply import SupplyLine

from .rules import Coverage, coverages

NOBODY = "nobody yet"


def _uncovered(build: Build) -> Iterator[Coverage]:
    """The functions that no line of the scope of supply names and the engine package does not contain."""
    for found in coverages(build):
        if isinstance(found, Coverage) and not found.lines and not found.in_package:
            yield found


@listing("supply.missing", "parts", each=_uncovered)
def missing(build: Build, found: Coverage) -> Cells | None:
    """What the build needs and nobody supplies yet."""
    needed = given(lambda: found.function.needed(build))
    if needed is False:
        return None
    return {
        "what": lambda: found.function.what,
        "by": lambda: NOBODY if found.function.needed(build) else None,
    }


BRINGS = ("owner", "shop", "kit")


def _by_supplier(build: Build) -> list[SupplyLine]:
    """The lines of the scope of supply, those of one supplier together."""
    return sorted(build.supply, key=lambda line: BRINGS.index(by) if (by := given(lambda: line.by)) in BRINGS else -1)


@listing("supply.ordered", "parts", each=_by_supplier)
def ordered(build: Build, line: SupplyLine) -> Cells | None:
    """A line of the scope of supply that somebody brings."""
    if line.by in ("existing", "not-required"):
        return None
    return {
        "what": lambda: line.item,
        "by": lambda: str(line.by),
        "pieces": lambda: given(lambda: line.quantity),
        "lead_time": lambda: given(lambda: line.lead_time),
        "needed_on": lambda: given(lambda: str(line.needed_on)),
    }
