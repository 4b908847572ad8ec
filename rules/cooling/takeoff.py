"""The coolant hoses, oil lines and coolant of the take-off."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Cells, given, is_fitted, listing, name_of, practice, quantity, shown

from .. import allowances
from .circuit_quantities import hoses, system_volume

BY_VOLUME = practice("the share of glycol in a coolant is meant by volume")


@quantity(
    "cooling.hose-to-cut",
    "length",
    "m",
    formula="L · 1.15",
    symbols={"L": "plumbing.cooling.hoses.*.length"},
    sources=[allowances.CUT],
    each=hoses,
)
def hose_to_cut(build: Build, hose: Any) -> float:
    """Length to cut for a coolant hose."""
    return allowances.cut(hose.length)


@listing("cooling.hoses", "lines", each=lambda build: build.plumbing.cooling.hoses.values())
def coolant_hoses(build: Build, hose: Any) -> Cells | None:
    """A hose between engine and radiator."""
    if not is_fitted(hose):
        return None
    return {
        "what": lambda: f"coolant, {name_of(hose)}",
        "bore": lambda: hose.bore,
        "material": lambda: "coolant hose",
        "run": lambda: hose.length,
        "to_cut": lambda: hose_to_cut(build, hose),
    }


@quantity(
    "cooling.fill-line-to-cut",
    "length",
    "m",
    formula="L · 1.15",
    symbols={"L": "plumbing.cooling.expansion_tank.fill_line_length"},
    sources=[allowances.CUT],
)
def fill_line_to_cut(build: Build) -> float:
    """Length to cut for the line from the expansion tank to the pump."""
    return allowances.cut(build.plumbing.cooling.expansion_tank.fill_line_length)


@listing("cooling.fill-line", "lines")
def fill_line(build: Build) -> Cells | None:
    """The line from the expansion tank to the pump."""
    tank = build.plumbing.cooling.expansion_tank
    if not is_fitted(tank):
        return None
    return {
        "what": lambda: "coolant, fill line",
        "bore": lambda: tank.fill_line_bore,
        "material": lambda: "coolant hose",
        "run": lambda: tank.fill_line_length,
        "to_cut": lambda: fill_line_to_cut(build),
    }


def _automatic(build: Build) -> bool:
    return bool(build.driveline.gearbox.kind == "automatic")


@quantity(
    "cooling.oil-line-to-cut",
    "length",
    "m",
    formula="L · 1.15",
    symbols={"L": "plumbing.cooling.gearbox_oil.length"},
    sources=[allowances.CUT],
)
def oil_line_to_cut(build: Build) -> float:
    """Length to cut for the lines to the gearbox's oil cooler, there and back."""
    return allowances.cut(build.plumbing.cooling.gearbox_oil.length)


@listing("cooling.oil-lines", "lines")
def oil_lines(build: Build) -> Cells | None:
    """The lines between an automatic gearbox and its cooler."""
    if not _automatic(build):
        return None
    return {
        "what": lambda: "gearbox oil, both ways",
        "bore": lambda: build.plumbing.cooling.gearbox_oil.bore,
        "material": lambda: "hose for hot gearbox oil",
        "run": lambda: build.plumbing.cooling.gearbox_oil.length,
        "to_cut": lambda: oil_line_to_cut(build),
    }


@quantity(
    "cooling.coolant-to-buy",
    "volume",
    "L",
    formula="V · 1.05",
    symbols={"V": "cooling.system-volume"},
    sources=[allowances.FILL],
)
def coolant_to_buy(build: Build) -> float:
    """Coolant to buy, mixed."""
    return allowances.bought(system_volume(build))


@quantity(
    "cooling.glycol-fill",
    "volume",
    "L",
    formula="glycol · V",
    symbols={"glycol": "plumbing.cooling.coolant.glycol", "V": "cooling.system-volume"},
    sources=[BY_VOLUME.giving("formula")],
)
def glycol_fill(build: Build) -> float:
    """Glycol in the whole system, unmixed."""
    return build.plumbing.cooling.coolant.glycol * system_volume(build)


@quantity(
    "cooling.glycol-to-buy",
    "volume",
    "L",
    formula="V_glycol · 1.05",
    symbols={"V_glycol": "cooling.glycol-fill"},
    sources=[allowances.FILL],
)
def glycol_to_buy(build: Build) -> float:
    """Glycol to buy, where it is bought unmixed."""
    return allowances.bought(glycol_fill(build))


@listing("cooling.coolant", "fluids")
def coolant(build: Build) -> Cells:
    """The coolant, mixed."""
    mixture = build.plumbing.cooling.coolant
    return {
        "what": lambda: "coolant, mixed",
        "kind": lambda: f"{mixture.chemistry}, {shown(mixture.glycol)} glycol",
        "fill": lambda: system_volume(build),
        "to_buy": lambda: coolant_to_buy(build),
    }


@listing("cooling.glycol", "fluids")
def glycol(build: Build) -> Cells:
    """What of it is glycol, for who mixes it."""
    return {
        "what": lambda: "of it glycol",
        "kind": lambda: given(lambda: str(build.plumbing.cooling.coolant.chemistry)),
        "fill": lambda: glycol_fill(build),
        "to_buy": lambda: glycol_to_buy(build),
    }
