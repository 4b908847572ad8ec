"""The ducts, charge pipes and breather line of the take-off."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Cells, given, is_fitted, listing, name_of, quantity

from .. import allowances
from ..streams import streams
from .quantities import filter_life


def _ducts(build: Build) -> list[Any]:
    return [duct for duct in build.plumbing.intake.ducts.values() if is_fitted(duct)]


@quantity(
    "intake.duct-to-cut",
    "length",
    "m",
    formula="L · ducts side by side · 1.15",
    symbols={"L": "plumbing.intake.ducts.*.length"},
    sources=[allowances.CUT],
    each=_ducts,
)
def duct_to_cut(build: Build, duct: Any) -> float:
    """Length to cut for a duct, all of those side by side together."""
    return allowances.cut(duct.length, streams(duct))


@listing("intake.ducts", "lines", each=lambda build: build.plumbing.intake.ducts.values())
def ducts(build: Build, duct: Any) -> Cells | None:
    """A run of duct on the suction side."""
    if not is_fitted(duct):
        return None
    return {
        "what": lambda: f"air duct, {name_of(duct)}",
        "bore": lambda: duct.bore,
        "side_by_side": lambda: given(lambda: duct.side_by_side),
        "run": lambda: duct.length,
        "to_cut": lambda: duct_to_cut(build, duct),
    }


def _charge_pipes(build: Build) -> list[Any]:
    return [pipe for pipe in build.plumbing.charge_air.pipes.values() if is_fitted(pipe)]


@quantity(
    "intake.charge-pipe-to-cut",
    "length",
    "m",
    formula="L · pipes side by side · 1.15",
    symbols={"L": "plumbing.charge_air.pipes.*.length"},
    sources=[allowances.CUT],
    each=_charge_pipes,
)
def charge_pipe_to_cut(build: Build, pipe: Any) -> float:
    """Length to cut for a run of charge-air pipe, all of those side by side together."""
    return allowances.cut(pipe.length, streams(pipe))


@listing("intake.charge-pipes", "lines", each=lambda build: build.plumbing.charge_air.pipes.values())
def charge_pipes(build: Build, pipe: Any) -> Cells | None:
    """A run of charge-air pipe with its hoses."""
    if not is_fitted(pipe):
        return None
    return {
        "what": lambda: f"charge air, {name_of(pipe)}",
        "bore": lambda: pipe.bore,
        "side_by_side": lambda: given(lambda: pipe.side_by_side),
        "run": lambda: pipe.length,
        "to_cut": lambda: charge_pipe_to_cut(build, pipe),
    }


@quantity(
    "intake.breather-to-cut",
    "length",
    "m",
    formula="L · 1.15",
    symbols={"L": "plumbing.intake.breather.length"},
    sources=[allowances.CUT],
)
def breather_to_cut(build: Build) -> float:
    """Length to cut for the breather line."""
    return allowances.cut(build.plumbing.intake.breather.length)


@listing("intake.breather", "lines")
def breather(build: Build) -> Cells | None:
    """The line from the crankcase breather."""
    line = build.plumbing.intake.breather
    if not is_fitted(line):
        return None
    return {
        "what": lambda: "crankcase breather",
        "bore": lambda: line.bore,
        "run": lambda: line.length,
        "to_cut": lambda: breather_to_cut(build),
    }


@listing("intake.filter-service", "service")
def filter_service(build: Build) -> Cells | None:
    """How long the air filter lasts in the dust that the vehicle works in."""
    if not is_fitted(build.plumbing.intake.filter):
        return None
    return {
        "what": lambda: "air filter",
        "interval": lambda: "when its indicator shows",
        "lasts": lambda: filter_life(build),
        "note": lambda: "in the dust that it works in, at full load all the time",
    }


@listing("intake.owner-interval", "service")
def owner_interval(build: Build) -> Cells | None:
    """The time between two services that the owner asked for."""
    if given(lambda: build.build.duty.service_interval) is None:
        return None
    return {
        "what": lambda: "the whole vehicle",
        "interval": lambda: "as the owner asked for",
        "lasts": lambda: build.build.duty.service_interval,
    }
