"""The rule about what is used up: small parts, cable and hose by the metre."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    at_least,
    does_not_apply,
    given,
    holds,
    is_fitted,
    needs_review,
    path_of,
    practice,
    rule,
    shown,
)
from swaplint.spec.systems.supply import SMALL_PARTS

from .. import allowances, rounding
from .quoted import NONE, bought_lines, is_quoted, item_of

COUNTED = practice("small parts are counted before the job: gaskets, clamps, one-use bolts, lugs")

FUNCTION = "consumables"
BY_THE_FRAME = ("starter", "battery-link")
"""Roles of cables that have no way back of their own; the grounds are listed apart."""


class Run(NamedTuple):
    """A length of cable or hose that the spec has."""

    size: float
    length: float
    about: str = ""
    """The field that states it on the quote."""


@rule(
    "supply.consumables",
    level="warning",
    due="quote",
    sources=[
        COUNTED.giving("limit", "every kind of small part that the build needs", demands=["small-parts"]),
        allowances.CUT.giving(
            "limit", "15 % more than the spec's lengths", demands=["cable", "coolant-hose", "fuel-hose"]
        ),
    ],
    about="supply",
    without={
        "supply[].metres_of_cable": "What is not quoted by the metre, 0 m of it, comes made up with its line.",
        "supply[].metres_of_hose": "What is not quoted by the metre, 0 m of it, comes to length with its line.",
    },
    bad=[
        {"supply[14].small_parts": [name for name in SMALL_PARTS if name != "hose-clamps"]},
        {"supply[13].metres_of_cable[1].length": "3.1 m"},
        {"supply[10].metres_of_hose[1].length": "1.6 m"},
        {
            "plumbing.fuel.supply.material": "hose",
            "supply[11].metres_of_hose": [{"carries": "fuel", "inner": "10 mm", "length": "4.3 m"}],
        },
    ],
    good=[{"supply[13].metres_of_cable[1].length": "20 m"}],
)
def consumables(build: Build) -> Verdict:
    """Are small parts counted, and is there enough cable and hose where it is bought by the metre?

    Computes: which kinds of small parts no line names, where a line covers the consumables. For each size of cable, and
    each bore of coolant and fuel hose, that a line holds by the metre: the spec's lengths of that size, and 15 % more.
    Limit: every kind that the build needs; the length that is computed; no bore of hose that the spec has none of.
    Consequence: A gasket or a clamp that nobody ordered stops the job for days.
    Remedy: have the kinds that are named taken into the quote, and the metres that are named of each size.
    Cannot tell: what lies on the shop's shelf; how many of each small part there are; what comes made up.
    """
    if not is_quoted(build):
        return does_not_apply(NONE)
    return all_of(
        {
            "small-parts": lambda: _small_parts(build),
            "cable": lambda: _cable(build),
            "coolant-hose": lambda: _hose(build, "coolant"),
            "fuel-hose": lambda: _hose(build, "fuel"),
        }
    )


# -- small parts ------------------------------------------------------------------------------------------------------
def _small_parts(build: Build) -> Verdict:
    covering = [line for line in bought_lines(build) if FUNCTION in line.functions]
    if not covering:
        return does_not_apply("No line that is bought covers the consumables; supply.function-coverage asks who does.")
    held = {name for line in bought_lines(build) for name in given(lambda line=line: line.small_parts) or ()}  # type: ignore[misc]
    held |= {name for line in covering for name in line.small_parts}
    missing = [name for name in _needed(build) if name not in held]
    on = f"{path_of(covering[0])}.small_parts"
    if not missing:
        return holds(True, "Every kind of small part that the build needs is on the quote.", on=on)
    what = "; ".join(f"{name}: {SMALL_PARTS[name]}" for name in missing)
    return holds(False, f"{item_of(covering[0])} covers the consumables and does not name {what}.", on=on)


def _needed(build: Build) -> list[str]:
    lines = build.plumbing.fuel.supply
    return [name for name in SMALL_PARTS if name != "fuel-washers" or is_fitted(lines)]


# -- by the metre -----------------------------------------------------------------------------------------------------
def _cable(build: Build) -> Verdict:
    bought = [
        Run(float(each.size), float(each.length), f"{path_of(each)}.length")
        for line in bought_lines(build)
        for each in given(lambda line=line: line.metres_of_cable) or ()  # type: ignore[misc]
    ]
    if not bought:
        return does_not_apply("No cable is quoted by the metre.")
    return _enough(bought, list(_cables(build)), "cable", ("conductor", "mm2"))


def _cables(build: Build) -> Iterator[Run]:
    """Every conductor with its way back, or its lead to the frame: that is cable, too."""
    for cable in build.electrics.cables.values():
        if is_fitted(cable):
            there_and_back = float(cable.length)
            if cable.role not in BY_THE_FRAME:
                there_and_back += float(cable.return_length)
            yield Run(float(cable.size), there_and_back)
    for ground in build.electrics.grounds.values():
        if is_fitted(ground):
            yield Run(float(ground.size), float(ground.length))


def _hose(build: Build, carries: str) -> Verdict:
    bought = [
        Run(float(each.inner), float(each.length), f"{path_of(each)}.length")
        for line in bought_lines(build)
        for each in given(lambda line=line: line.metres_of_hose) or ()  # type: ignore[misc]
        if each.carries == carries
    ]
    if not bought:
        return does_not_apply(f"No {carries} hose is quoted by the metre.")
    runs = _coolant_hoses(build) if carries == "coolant" else _fuel_hoses(build)
    return _enough(bought, list(runs), f"{carries} hose", ("length", "mm"))


def _coolant_hoses(build: Build) -> Iterator[Run]:
    for hose in build.plumbing.cooling.hoses.values():
        if is_fitted(hose):
            yield Run(float(hose.bore), float(hose.length))


def _fuel_hoses(build: Build) -> Iterator[Run]:
    for line in (build.plumbing.fuel.supply, build.plumbing.fuel.return_line):
        if is_fitted(line) and line.material == "hose":
            yield Run(float(line.bore), float(line.length))


def _enough(bought: list[Run], runs: list[Run], what: str, unit: tuple[str, str]) -> Verdict:
    """Of the sizes that are bought by the metre the one that is shortest."""
    if not runs:
        return needs_review(
            f"{what.capitalize()} is quoted by the metre, and the spec has none of it: ask what it is for."
        )
    worst: Verdict | None = None
    for size in dict.fromkeys(run.size for run in bought):
        on = next(run.about for run in bought if run.size == size)
        metres = sum(run.length for run in bought if run.size == size)
        routes = sum(run.length for run in runs if math.isclose(run.size, size, rel_tol=0.01))
        if not routes and what == "cable":
            continue  # a thicker one does as well
        if not routes:
            sizes = ", ".join(dict.fromkeys(shown(run.size, *unit) for run in sorted(runs)))
            says = (
                f"{shown(size, *unit)} is quoted by the metre, and the spec has no {what} of that size, but {sizes}: "
            )
            return holds(False, f"{says}ask for the right one, or what it is for.", on=on)
        says = f"{shown(metres, 'length', 'm')} of {what} of {shown(size, *unit)}; "
        says += f"the spec's come to {shown(routes, 'length', 'm')}."
        wanted = allowances.cut(routes)
        if metres < wanted:
            says += f" Buy {shown(rounding.up(wanted, 0.1), 'length', 'm')}, for some is cut away."
        verdict = at_least(metres, wanted, says, on=on, unit=("length", "m"))
        if worst is None or (verdict.margin or 0.0) < (worst.margin or 0.0):
            worst = verdict
    return worst or does_not_apply(f"The spec has no {what} of a size that is quoted by the metre.")
