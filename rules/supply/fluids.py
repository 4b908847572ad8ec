"""The rule about what is poured in: enough of it, of a standard that the maker allows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    at_least,
    does_not_apply,
    holds,
    is_fitted,
    needs_review,
    path_of,
    practice,
    rule,
    sheet,
    shown,
    stated_values,
)
from swaplint.spec.systems.gearing import Axle, Gearbox, Transfer
from swaplint.spec.systems.supply import QuotedFluid, SupplyLine

from .. import allowances, rounding
from ..gearing import chain
from .quoted import bought_lines, is_quoted, item_of

ONE_KIND = practice("coolant of the family of inhibitors that the spec states: two families are not mixed")
FULL = practice("a line that covers a fluid says how much of it is bought")

ALWAYS = ("engine-oil", "coolant")
"""Fluids that are functions of their own in the scope of supply; the others are judged where a line names them."""
NAMES = {
    "engine-oil": "engine oil",
    "coolant": "coolant",
    "gearbox-oil": "gearbox oil",
    "transfer-oil": "oil of the transfer case",
    "axle-oil": "axle oil",
}


@dataclass(frozen=True, slots=True)
class Pour:
    """One fluid, and the lines that hold it or ought to."""

    fluid: str
    holding: tuple[tuple[SupplyLine, int], ...]
    """Each with the place in its list, counted from 0."""
    covering: SupplyLine | None = None
    """The line that says it covers the fluid, where none holds any."""

    def __str__(self) -> str:
        """How results name it."""
        return self.fluid

    @property
    def fills(self) -> list[QuotedFluid]:
        """What the lines hold of it."""
        return [line.fills[place] for line, place in self.holding]


def pours(build: Build) -> Iterator[Pour]:
    """Every fluid that is bought; then engine oil and coolant where a line covers them and names none.

    Ends at the first line that covers one of them and does not say what it holds: one question, not one for each.
    """
    if not is_quoted(build):
        return
    bought = {path_of(line): line for line in bought_lines(build)}
    holding: dict[str, list[tuple[SupplyLine, int]]] = {}
    for path, stated, _ in stated_values(build, "supply"):
        line, _, rest = path.partition(".")
        if line in bought and rest.startswith("fills[") and rest.endswith("].fluid"):
            place = int(rest.removeprefix("fills[").removesuffix("].fluid")) - 1
            holding.setdefault(str(stated.value), []).append((bought[line], place))
    for fluid in NAMES:
        if fluid in holding:
            yield Pour(fluid, tuple(holding[fluid]))
    for covering in bought.values():
        for function in covering.functions:
            if function in ALWAYS and function not in holding:
                list(covering.fills)  # asks for them where they are not stated
                yield Pour(function, (), covering)


@rule(
    "supply.fluids",
    level="warning",
    due="quote",
    sources=[
        allowances.FILL.giving("limit", "5 % more than the fill", demands=["volume"]),
        ONE_KIND.giving("limit", "the same family", demands=["family"]),
        FULL.giving("limit", "some", demands=["named"]),
        sheet("engine.oil.fill.standards").giving("limit", demands=["standard"]),
        sheet("driveline.gearbox.oil.standards").giving("limit", demands=["standard"]),
        sheet("driveline.transfer.oil.standards").giving("limit", demands=["standard"]),
        sheet("driveline.axles.*.oil.standards").giving("limit", demands=["standard"]),
    ],
    about="supply",
    each=pours,
    bad=[
        {"supply[14].fills[1].fluid": "other"},
        {"supply[14].fills[1].volume": "7.8 L"},
        {"supply[14].fills[1].standards": ["API CF"]},
        {"supply[14].fills[2].volume": "8.3 L"},
        {"supply[14].fills[2].standards": ["silicate"]},
        {"supply[14].fills[3].volume": "2.6 L"},
    ],
    good=[{"supply[14].fills[1].volume": "7.9 L"}],
)
def fluids(build: Build, part: Pour) -> Verdict:
    """Is enough of each fluid bought, and of a standard that the maker allows?

    Computes: the litres of each fluid over all lines that hold it, against the fill of engine, gearbox, transfer case,
    axles or cooling system and a twentieth more; coolant concentrate counts for the mixture that it makes. Compares the
    standards on the cans with those that the maker allows, and the coolant's family of inhibitors with the spec's.
    Limit: the fill and 5 %; one standard in common. An engine oil of another standard is an error where the engine has
    a particulate filter, which ash clogs for good.
    Consequence: The wrong oil clogs the filter and ends the warranty; too little stops the first start.
    Remedy: the litres that are named, of one of the standards that are named.
    Cannot tell: what is used to flush; brake, clutch and steering fluid; whether what is in the can is what is on it.
    """
    line = part.covering
    if line is not None:
        says = f"{item_of(line)} covers {NAMES[part.fluid]} and names no litres of it."
        return all_of(named=lambda: holds(False, says, on=f"{path_of(line)}.fills"))
    kind = "family" if part.fluid == "coolant" else "standard"
    return all_of({"volume": lambda: _volume(build, part), kind: lambda: _standard(build, part)})


# -- how much ---------------------------------------------------------------------------------------------------------
def _volume(build: Build, part: Pour) -> Verdict:
    on, what = _about(part), NAMES[part.fluid]
    if part.fluid == "coolant":
        glycol = float(build.plumbing.cooling.coolant.glycol)
        concentrates = [fill for fill in part.fills if fill.concentrate]
        if concentrates and glycol <= 0:
            return needs_review("Coolant concentrate is bought, and the spec's coolant has no glycol.", on=on)
        bought = sum(float(fill.volume) / (glycol if fill.concentrate else 1.0) for fill in part.fills)
    else:
        bought = sum(float(fill.volume) for fill in part.fills)
    takes = _takes(build, part.fluid)
    if takes is None:
        return does_not_apply(f"Nothing in this build takes {what}.")
    mixed = ", as mixed" if part.fluid == "coolant" else ""
    wanted = allowances.bought(takes)
    says = f"{_litres(bought)} of {what}{mixed}; a fill takes {_litres(takes)}."
    if bought < wanted:
        says += f" Buy {_litres(rounding.up(wanted, 1e-4))}, so that some stays in hand."
    return at_least(bought, wanted, says, on=on, unit=("volume", "L"))


def _takes(build: Build, fluid: str) -> float | None:
    """What a fill takes; None where no such part is fitted."""
    if fluid == "engine-oil":
        return float(build.engine.oil.fill.volume)
    if fluid == "coolant":
        return float(build.plumbing.cooling.system_volume)
    parts = _oiled(build, fluid)
    return sum(float(part.oil.volume) for part in parts) if parts else None


def _oiled(build: Build, fluid: str) -> list[Gearbox | Transfer | Axle]:
    if fluid == "axle-oil":
        return list(chain.oiled_axles(build))
    part = build.driveline.gearbox if fluid == "gearbox-oil" else build.driveline.transfer
    return [part] if is_fitted(part) else []


def _litres(volume: float) -> str:
    return shown(volume, "volume", "L")


def _about(part: Pour) -> str:
    line, place = part.holding[0]
    return f"{path_of(line)}.fills[{place + 1}]"


# -- of which standard ------------------------------------------------------------------------------------------------
def _standard(build: Build, part: Pour) -> Verdict:
    allowed = _allowed(build, part.fluid)
    what = NAMES[part.fluid]
    if allowed is None:
        return does_not_apply(f"Nothing in this build takes {what}.")
    for fill in part.fills:
        meets = [str(name) for name in fill.standards]
        for wanted in allowed:
            if not {_squashed(name) for name in meets} & {_squashed(name) for name in wanted}:
                bought = _either(meets) or "What names no standard"
                says = f"{bought} is bought, and the {what} must be {_either(wanted)}."
                return holds(False, says, level=_level(build, part.fluid), on=_about(part))
    return holds(True, f"The {what} that is bought meets a standard that is allowed.", on=_about(part))


def _allowed(build: Build, fluid: str) -> list[list[str]] | None:
    """For each part that takes it the standards of which one must be met; None where no such part is fitted."""
    if fluid == "engine-oil":
        return [[str(name) for name in build.engine.oil.fill.standards]]
    if fluid == "coolant":
        return [[str(build.plumbing.cooling.coolant.chemistry)]]
    return [[str(name) for name in part.oil.standards] for part in _oiled(build, fluid)] or None


def _level(build: Build, fluid: str) -> Literal["error", "warning"]:
    """An oil of too much ash ends a particulate filter; elsewhere the wrong standard costs years, not the engine."""
    devices = build.engine.aftertreatment.devices.values() if fluid == "engine-oil" else ()
    return "error" if any(device.kind == "particulate-filter" for device in devices) else "warning"


def _squashed(name: str) -> str:
    """A standard's name as it is compared: 'API CK-4' and 'api ck4' are one."""
    return "".join(letter for letter in name.casefold() if letter.isalnum())


def _either(names: list[str]) -> str:
    return " or ".join(names)
