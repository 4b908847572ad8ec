"""What the items of the mass ledger weigh: as stated, or as the parts that they name weigh.

A mass has one place: the engine's stands in its data sheet, a battery's and the gearbox's in theirs, that of a supplied
part in its line of the scope of supply. The ledger names them, and what is bolted to the engine names its item of the
ledger.
"""

from __future__ import annotations

from collections.abc import Iterator

from swaplint.api import Build, given, is_fitted, name_of, once
from swaplint.spec.systems.mass import LedgerItem
from swaplint.spec.systems.mounts import UnitPart
from swaplint.spec.systems.supply import SupplyLine


@once
def item_mass(build: Build, item: LedgerItem) -> float:
    """What an item of the ledger weighs; negative for what is taken out."""
    stated = stated_mass(item)
    if stated is not None:
        return stated
    named = named_mass(build, item)
    return item.mass if named is None else named


def stated_mass(one: LedgerItem | UnitPart | SupplyLine) -> float | None:
    """The mass that is stated of it itself."""
    return given(lambda: one.mass)


def named_mass(build: Build, item: LedgerItem) -> float | None:
    """What the parts weigh that an item names; None where it names none."""
    named = parts_named(item)
    return sum(_masses(build, item, what) for what in named) if named else None


def parts_named(item: LedgerItem) -> list[str]:
    """The kinds of parts whose mass an item has."""
    return given(lambda: list(item.mass_of)) or []


def _masses(build: Build, item: LedgerItem, what: str) -> float:
    if what == "engine":
        return build.engine.mass.wet
    if what == "gearbox":
        return build.driveline.gearbox.mass
    if what == "batteries":
        return sum(battery.mass for battery in build.electrics.batteries.values() if is_fitted(battery))
    lines = [line for line in lines_that_bring(build) if counted_by(line) == name_of(item)]
    return sum(line.mass for line in lines) if lines else item.mass


def counted_by(line: SupplyLine) -> str:
    """The item of the ledger that counts a line of the scope of supply; empty where it says none."""
    return given(lambda: line.ledger) or ""


def lines_that_bring(build: Build) -> Iterator[SupplyLine]:
    """The lines of the scope of supply that bring something into the vehicle."""
    return (line for line in build.supply if _brings(line))


def _brings(line: SupplyLine) -> bool:
    return given(lambda: line.by) not in ("existing", "not-required")


@once
def unit_part_mass(build: Build, part: UnitPart) -> float:
    """What something weighs that is bolted to the engine: as stated, else as its item of the ledger."""
    stated = stated_mass(part)
    if stated is not None:
        return stated
    item = counted_as(build, part)
    return part.mass if item is None else item_mass(build, item)


def counted_as(build: Build, part: UnitPart) -> LedgerItem | None:
    """The item of the ledger that a part names; None where it names none, or one that is not there."""
    name = item_named(part)
    return build.vehicle.ledger.get(name) if name else None


def item_named(part: UnitPart) -> str:
    """The item of the ledger that a part names; empty where it names none."""
    return given(lambda: part.ledger) or ""
