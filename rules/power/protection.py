"""Rules of what protects the cables: a fuse near the battery, and one that fits each cable."""

from __future__ import annotations

from typing import Any

from swaplint.api import (
    Build,
    OutsideRange,
    Verdict,
    all_of,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    path_of,
    practice,
    rule,
    shown,
)
from swaplint.engineering import conductors, fuses

from .. import sources
from . import network
from . import quantities as q

FUSE_PLACE = practice("a fuse within 450 mm of the source where the cable up to it is sleeved")
FUSE_LOAD = practice("continuous load of at most 75 to 80 % of a fuse's rating")
STARTER_FUSE = practice("a fuse in a starter cable is chosen for cranking and guards against a dead short only")

FUSE_DISTANCE = 0.200
"""ISO 10133: from memory."""
FUSE_DISTANCE_SLEEVED = 0.450
"""Common practice."""
FUSE_LOAD_MAX = 0.80


def smallest_for(cable: Any, current: float) -> str:
    """The smallest size that carries a current where the cable lies, as words."""
    size = conductors.smallest_size(
        conductors.METRIC_SERIES, length=1.0, current=current, installation=q.installation(cable)
    )
    return f"{size.label} or more" if size is not None else "no size of the table"


def largest_fuse_for(rating: float) -> str:
    """The largest fuse that protects a cable of a current rating, as words."""
    try:
        return f"at most {fuses.largest_fuse(rating):g} A"
    except OutsideRange:
        return "none of the series"


@rule(
    "power.main-fuse",
    level="error",
    due="quote",
    sources=[sources.SMALL_CRAFT_METRIC, FUSE_PLACE, sources.MINE_CABLES],
    cautions=[cautions.BATTERY_ARC, cautions.FUEL_FIRE],
    adjust=["electrics.cables.*.fuse_distance", "electrics.cables.*.sleeved"],
    each=network.live_cables,
    bad=[
        {"electrics.cables.ecm.fuse_distance": "600 mm"},
        {"electrics.cables.starter.sleeved": False},
    ],
    good=[{"electrics.cables.ecm.fuse_distance": "100 mm"}],
)
def main_fuse(build: Build, cable: Any) -> Verdict:
    """Has every cable that is live from a battery a fuse close to where its current comes from?

    Computes: which cables touch a battery, or a node with no fuse between it and a battery; for each, whether it
    has a fuse, and the length of cable up to it. A charge cable counts from its battery end. The batteries that start
    the engine are at battery-positive, others at auxiliary-positive.
    Limit: 200 mm of cable up to the fuse, 450 mm where that length is sleeved. A starter cable or a link between
    batteries may go without, sleeved along its whole length; some trades ask for a fuse even there. A cable from one
    battery to another is live from both ends and takes a fuse at each.
    Consequence: Nothing stops a short in that cable: the cable burns, and the vehicle with it.
    Remedy: a fuse at the battery of at least 1.25 times the continuous current and not above the cable's rating.
    Cannot tell: the real route up to the fuse; whether the fuse can break what the battery can deliver: ask for a
    breaking capacity of 2 kA or more.
    """
    path = path_of(cable)
    if network.is_battery(cable):
        return holds(
            False,
            f"No cable is stated to start at the node {network.AUXILIARY}, where this battery's positive is: state "
            "its cables, each with its fuse.",
            on="electrics.cables",
        )
    if {cable.start, cable.end} == {network.POSITIVE, network.AUXILIARY}:
        return holds(
            False,
            "The cable leads from one battery to another and is live from both ends: it takes a fuse at each. State "
            "it as two cables that meet at the separator, each with the fuse at its own battery.",
            on=f"{path}.end",
        )
    if not network.has_fuse(cable):
        if cable.role not in network.STARTING:
            return holds(
                False,
                f"The cable from {cable.start} to {cable.end} is live from the battery and has no fuse.",
                on=f"{path}.fused",
            )
        return holds(
            cable.sleeved,
            "A starter cable without a fuse: sleeve it along its whole length and keep it clear of edges, heat and "
            "moving parts, or fuse it at the battery.",
            on=f"{path}.sleeved",
        )
    limit = FUSE_DISTANCE_SLEEVED if given(lambda: cable.sleeved) else FUSE_DISTANCE
    return at_most(
        cable.fuse_distance,
        limit,
        f"{shown(cable.fuse_distance)} of the cable from {cable.start} to {cable.end} lie before its fuse.",
        on=f"{path}.fuse_distance",
    )


@rule(
    "power.fuse-cable-match",
    level="error",
    due="quote",
    sources=[
        sources.SMALL_CRAFT_CABLES,
        sources.SMALL_CRAFT_METRIC,
        sources.BOAT_BUNDLES,
        sources.FUSE_LINKS,
        FUSE_LOAD,
        STARTER_FUSE,
    ],
    cautions=[cautions.FUEL_FIRE],
    adjust=["electrics.cables.*.fuse", "electrics.cables.*.size"],
    each=network.cables,
    bad=[{"electrics.cables.ecm.fuse": "60 A"}, {"electrics.cables.cab.current": "45 A"}],
    good=[{"electrics.cables.ecm.fuse": "25 A"}],
)
def fuse_cable_match(build: Build, cable: Any) -> Verdict:
    """Will the fuse blow before the cable overheats, and not in normal duty?

    Computes: the cable's current rating from its size and insulation, times the factors for an engine space and for
    the loaded conductors bundled with it. A cable without a fuse of its own is protected by the next one towards the
    battery.
    Limit: the fuse's rating must not exceed the cable's: an error, but a note for a starter cable or a link between
    batteries, whose fuse must stand the cranking current. The continuous current may take 80 % of the fuse's
    rating, better 75 %: a warning. No road-vehicle standard prints a general table of ratings; those for small craft
    are used by analogy, which is common practice.
    Consequence: The cable overheats before the fuse blows and may catch fire, or the fuse blows in normal duty.
    Remedy: the smallest cable that takes the fuse, or the largest fuse that the cable takes; never a bigger fuse to
    stop it blowing. A thin cable that branches off a thick one takes a fuse of its own there.
    Cannot tell: inrush against the fuse's time curve.
    """
    guard = network.protecting(build, cable)
    if guard is None:
        return does_not_apply("No fuse protects this cable: see power.main-fuse.")
    if path_of(guard) != path_of(cable):
        return _behind(build, cable, guard)
    rating, fuse = q.cable_rating(build, cable), cable.fuse
    carries = f"The fuse is {shown(fuse)}; the {shown(cable.size)} cable may carry {shown(rating)} where it lies."
    if cable.role in network.STARTING:
        return at_most(
            fuse,
            rating,
            f"{carries} Cranking takes more than a starter cable carries for long, so that its fuse guards against a "
            "dead short, and not against a starter that sticks: have a main switch in reach.",
            level="note",
            on=f"{path_of(cable)}.fuse",
        )
    verdict = at_most(
        fuse,
        rating,
        f"{carries} It takes a fuse of {largest_fuse_for(rating)}; this fuse takes a cable of "
        f"{smallest_for(cable, fuse)}.",
        on=f"{path_of(cable)}.fuse",
    )
    if cable.role in (*network.OWN_RULES, "intake-heater"):
        return verdict
    return all_of(verdict, lambda: _load_on_fuse(cable, fuse))


def _behind(build: Build, cable: Any, guard: Any) -> Verdict:
    """The verdict on a cable that only the fuse of another one protects: that is wrong where this one is thinner."""
    fuse, rating = guard.fuse, q.cable_rating(build, cable)
    guards = given(lambda: q.cable_rating(build, guard))
    where = f"the cable from {guard.start} to {guard.end}"
    if guard.role in network.STARTING:
        if cable.role in network.STARTING:
            return does_not_apply(f"The fuse in {where} guards it against a dead short, as a starter cable's does.")
    elif guards is not None and fuse > guards:
        return does_not_apply(f"The fuse in {where}, which protects it, is too big for that cable already.")
    return at_most(
        fuse,
        rating,
        f"It has no fuse of its own, and the next one, in {where}, is {shown(fuse)}; this {shown(cable.size)} cable "
        f"may carry {shown(rating)} where it lies. It takes a fuse of {largest_fuse_for(rating)} where it branches "
        f"off, or {smallest_for(cable, fuse)}.",
        on=f"{path_of(cable)}.size",
    )


def _load_on_fuse(cable: Any, fuse: float) -> Verdict:
    try:
        smallest = f"at least {fuses.smallest_fuse(cable.current):g} A"
    except OutsideRange:
        smallest = "more than the largest of the series"
    return at_most(
        cable.current,
        FUSE_LOAD_MAX * fuse,
        f"{shown(cable.current)} run through a fuse of {shown(fuse)} continuously; that load takes a fuse of "
        f"{smallest}.",
        level="warning",
        on=f"{path_of(cable)}.fuse",
    )
