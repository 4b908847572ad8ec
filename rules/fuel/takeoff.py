"""The fuel lines of the take-off."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Cells, given, is_fitted, listing, quantity

from .. import allowances


@quantity(
    "fuel.supply-to-cut",
    "length",
    "m",
    formula="L · 1.15",
    symbols={"L": "plumbing.fuel.supply.length"},
    sources=[allowances.CUT],
)
def supply_to_cut(build: Build) -> float:
    """Length to cut for the fuel supply line."""
    return allowances.cut(build.plumbing.fuel.supply.length)


@quantity(
    "fuel.return-to-cut",
    "length",
    "m",
    formula="L · 1.15",
    symbols={"L": "plumbing.fuel.return_line.length"},
    sources=[allowances.CUT],
)
def return_to_cut(build: Build) -> float:
    """Length to cut for the fuel return line."""
    return allowances.cut(build.plumbing.fuel.return_line.length)


@quantity(
    "fuel.vent-to-cut",
    "length",
    "m",
    formula="L · 1.15",
    symbols={"L": "plumbing.fuel.vent.length"},
    sources=[allowances.CUT],
)
def vent_to_cut(build: Build) -> float:
    """Length to cut for the tank's vent line."""
    return allowances.cut(build.plumbing.fuel.vent.length)


@listing("fuel.supply", "lines")
def supply(build: Build) -> Cells | None:
    """The line from the tank to the engine."""
    line = build.plumbing.fuel.supply
    return _line("fuel supply", line, lambda: supply_to_cut(build)) if is_fitted(line) else None


@listing("fuel.return", "lines")
def back(build: Build) -> Cells | None:
    """The line from the engine back to the tank."""
    line = build.plumbing.fuel.return_line
    return _line("fuel return", line, lambda: return_to_cut(build)) if is_fitted(line) else None


def _line(what: str, line: Any, to_cut: Any) -> Cells:
    return {
        "what": lambda: what,
        "bore": lambda: line.bore,
        "material": lambda: _made_of(line),
        "run": lambda: line.length,
        "to_cut": to_cut,
    }


def _made_of(line: Any) -> str:
    """What the line is made of, with the class of the hose where it is one."""
    marked = given(lambda: line.hose_class)
    return f"{line.material}, {marked}" if line.material == "hose" and marked else str(line.material)


@listing("fuel.vent", "lines")
def vent(build: Build) -> Cells | None:
    """The vent line of the tank."""
    line = build.plumbing.fuel.vent
    if not is_fitted(line) or given(lambda: line.path) == "cap-only":
        return None
    return {
        "what": lambda: "tank vent",
        "bore": lambda: line.bore,
        "run": lambda: line.length,
        "to_cut": lambda: vent_to_cut(build),
    }
