"""The parts to get and the oils, for the take-off: what is on order, and what nobody supplies yet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from swaplint.api import Build, Cells, given, is_fitted, listing, name_of, path_of, quantity
from swaplint.spec.systems.supply import SupplyLine

from .. import allowances
from ..gearing import chain
from .rules import Coverage, coverages

NOBODY = "nobody yet"
NAMES = {"gearbox": "gearbox oil", "transfer": "transfer case oil"}


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
        "note": lambda: found.function.source,
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


# -- oils -------------------------------------------------------------------------------------------------------------
def _gear_oils(build: Build) -> list[Any]:
    """The parts of the driveline that hold oil."""
    boxes = [part for part in (build.driveline.gearbox, build.driveline.transfer) if is_fitted(part)]
    return [*boxes, *chain.oiled_axles(build)]


@quantity(
    "supply.engine-oil-to-buy",
    "volume",
    "L",
    formula="V · 1.05",
    symbols={"V": "engine.oil.fill.volume"},
    sources=[allowances.FILL],
)
def engine_oil_to_buy(build: Build) -> float:
    """Engine oil to buy for the first fill."""
    return allowances.bought(build.engine.oil.fill.volume)


@quantity("supply.gear-oil-to-buy", "volume", "L", formula="V · 1.05", sources=[allowances.FILL], each=_gear_oils)
def gear_oil_to_buy(build: Build, part: Any) -> float:
    """Oil to buy for a fill of gearbox, transfer case or axle."""
    return allowances.bought(part.oil.volume)


@listing("supply.engine-oil", "fluids")
def engine_oil(build: Build) -> Cells:
    """The engine's oil."""
    fill = build.engine.oil.fill
    return {
        "what": lambda: "engine oil",
        "kind": lambda: _one_of(fill),
        "fill": lambda: fill.volume,
        "to_buy": lambda: engine_oil_to_buy(build),
    }


@listing("supply.gear-oils", "fluids", each=_gear_oils)
def gear_oils(build: Build, part: Any) -> Cells:
    """The oil of gearbox, transfer case and each axle."""
    axle = path_of(part).startswith("driveline.axles.")
    return {
        "what": lambda: f"{name_of(part)} axle oil" if axle else NAMES[name_of(part)],
        "kind": lambda: _one_of(part.oil),
        "fill": lambda: part.oil.volume,
        "to_buy": lambda: gear_oil_to_buy(build, part),
    }


def _one_of(oil: Any) -> str:
    """The standards of which one must be met."""
    return " or ".join(str(name) for name in oil.standards)
