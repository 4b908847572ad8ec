"""The rule of wire gauges: a number that is no area until its series is known."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, OutsideRange, Verdict, cautions, given, holds, needs_review, path_of, rule, shown
from swaplint.engineering import conductors

from .. import sources
from . import network


def gauged(build: Build) -> list[Any]:
    """The cables and grounds whose size is the area of an AWG number."""
    return [
        part
        for part in [*network.cables(build), *network.grounds(build)]
        if given(lambda part=part: conductors.awg_of(part.size)) is not None  # type: ignore[misc]
    ]


@rule(
    "power.wire-gauge",
    level="warning",
    due="quote",
    sources=[sources.VEHICLE_CABLE.giving("limit", "least area of a gauge number", known="second-hand")],
    cautions=[cautions.FUEL_FIRE],
    about="electrics.cables",
    each=gauged,
    bad=[{"electrics.cables.lamps.size": "12 AWG", "electrics.cables.lamps.gauge": "SAE"}],
    good=[{"electrics.cables.lamps.size": "12 AWG", "electrics.cables.lamps.gauge": "AWG"}],
)
def wire_gauge(build: Build, part: Any) -> Verdict:
    """Has a cable that is sold by a gauge number as much copper as its size says?

    Computes: the least copper of US vehicle cable of that number, from a table, against the area of the number by AWG.
    Limit: no less than the size stated. A size such as 4 SAE states vehicle cable, and every rule then takes its area.
    Consequence: Up to a ninth less copper than reckoned with: more is lost, and the fuse may be too big.
    Remedy: write the size as 4 SAE instead of 4 AWG, or the mm² that its maker prints.
    Cannot tell: a cable of less copper than its standard asks for; the numbers 20, 3, 1 and 3/0 of vehicle cable.
    """
    gauge, on = conductors.awg_of(part.size), f"{path_of(part)}.size"
    if part.gauge == "AWG" or gauge is None:
        return holds(True, f"{shown(part.size)}: the cable goes by the area of its number.", on=on)
    try:
        copper = conductors.sae_area(gauge)
    except OutsideRange:
        return needs_review(
            f"{shown(part.size)} of vehicle cable: ask for its mm², the table has no such number.", on=on
        )
    return holds(
        copper >= part.size,
        f"{shown(part.size)} is stated, and vehicle cable of that number has {shown(copper, 'conductor', 'mm2')}: "
        "write the size as such.",
        on=on,
    )
