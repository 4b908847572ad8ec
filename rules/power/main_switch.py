"""The rule of what a main switch bears."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_least,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    needs_review,
    quantity,
    rule,
    sheet,
    shown,
)

from . import network
from . import quantities as q

SWITCH = "electrics.isolator"


def in_the_ground(build: Build) -> bool:
    """Whether the main switch stands in the way back to the battery."""
    return network.passes(network.grounds(build), network.ISOLATOR)


def cuts(build: Build) -> Verdict:
    """The verdict on what an open main switch parts from the battery; one that a cable or ground leads to is asked."""
    cables, grounds, on = network.cables(build), network.grounds(build), "electrics.isolator"
    if in_the_ground(build):
        metal = (network.ENGINE, network.FRAME, network.CAB)
        joined = [node for node in metal if network.return_path(build, node) is not None]
        left = [node for node in joined if not network.is_cut_off(grounds, node, network.NEGATIVE)]
        if not left:
            return holds(True, "Open, the main switch parts all metal of the vehicle from the battery.", on=on)
        says = f"With the main switch open a ground still leads from the {left[0]} to the battery: it cuts less than "
        says += "it should, and what is left joined draws through thin wires. Lead every ground but a control unit's "
        return holds(False, f"{says}to the switch.", on=on)
    nodes = {node for cable in cables for node in (cable.start, cable.end)} - {network.ISOLATOR}
    fed = [node for node in sorted(nodes) if network.path(cables, network.POSITIVE, node) is not None]
    cut = any(network.is_cut_off(cables, network.POSITIVE, node) for node in fed)
    says = "Open, the main switch parts what is behind it from the battery."
    if not cut:
        says = "Open, the main switch cuts nothing off: every cable has a way to the battery around it. Lead the "
        says += "cable from the battery to the switch, and starter and fuses from there."
    return holds(cut, says, on=on)


@quantity(
    "power.main-switch-current",
    "current",
    "A",
    formula="Σ I of the cables that start at the main switch, of all that start at the battery where it stands in the "
    "way back; the alternators' rated current where that is more and runs through it",
    sources=[q.FEEDERS],
)
def main_switch_current(build: Build) -> float:
    """Current that runs through the main switch without a pause."""
    back = in_the_ground(build)
    ahead = network.reached_unfused(build) if back else {network.ISOLATOR}
    behind = [cable for cable in network.consumer_cables(build) if cable.start in ahead]
    found = sum(q.carried(build, cable) for cable in behind if cable.role not in network.HEATERS)
    charging = sum(alternator.rated_current for alternator in _alternators_through(build, back))
    return float(max(found, charging))


def _alternators_through(build: Build, back: bool) -> list[Any]:
    """The alternators whose current runs through the main switch: all of them where it stands in the way back."""
    cables = network.cables(build)
    every = [build.engine.alternator, *network.further_alternators(build)]
    nodes = [network.node_of(build, alternator) for alternator in every]
    return [
        alternator
        for alternator, node in zip(every, nodes, strict=True)
        if network.passes(cables, node)
        and (back or network.is_cut_off(cables, network.POSITIVE, node))
        and is_fitted(alternator)
    ]


@rule(
    "power.main-switch-rating",
    level="error",
    due="quote",
    sources=[sheet(f"{SWITCH}.rating"), sheet(f"{SWITCH}.rating_cranking")],
    cautions=[cautions.BATTERY_ARC, cautions.FUEL_FIRE],
    adjust=[f"{SWITCH}.rating", f"{SWITCH}.rating_cranking"],
    about=SWITCH,
    bad=[{f"{SWITCH}.rating": "25 A"}, {f"{SWITCH}.rating_cranking": "300 A"}],
    good=[{f"{SWITCH}.rating": "60 A"}],
)
def main_switch_rating(build: Build) -> Verdict:
    """Does the main switch bear what runs through it, without a pause and in a start?

    Computes: the currents of the cables that start at it, feeders with all their branches; of all cables at the battery
    where it stands in the way back; the alternators' rated current where that is more and runs through it.
    Limit: the switch's ratings, without a pause and for the few seconds of a start. Where cables lead to a switch that
    is said not to be fitted a person finds out which of the two is so.
    Consequence: The switch runs hot, burns or welds shut, and then cuts nothing off.
    Remedy: a switch of the next rating.
    Cannot tell: how long somebody cranks; what is drawn by more than the stated cables.
    """
    fitted = is_fitted(build.electrics.isolator)
    cables, grounds = network.cables(build), network.grounds(build)
    drawn = network.passes([*cables, *grounds], network.ISOLATOR)
    if not fitted:
        if not drawn:
            return does_not_apply("The vehicle has no main switch.")
        says = "The drawing leads cables to the node isolator, and no main switch is said to be fitted: state the "
        says += "switch with its ratings, or name the stud that joins them otherwise."
        return all_of(there=needs_review(says, on=SWITCH))
    if not drawn:
        return does_not_apply("No cable or ground leads through it: see power.isolation-shutdown.")
    demands: dict[str, Callable[[], Verdict]] = {"lasting": lambda: _lasting(build)}
    feed, back = given(lambda: network.starter_feed(build)), given(lambda: network.return_path(build, network.ENGINE))
    if any(network.passes(way, network.ISOLATOR) for way in (feed, back) if way):
        demands["cranking"] = lambda: _cranking(build)
    return all_of(demands)


def _lasting(build: Build) -> Verdict:
    found, rating, on = main_switch_current(build), build.electrics.isolator.rating, f"{SWITCH}.rating"
    says = f"The main switch bears {shown(rating)}; {shown(found)} run through it without a pause."
    return at_least(rating, found, says, on=on, advice=advice(on, found))


def _cranking(build: Build) -> Verdict:
    drawn, rating = build.engine.starter.cranking_current, build.electrics.isolator.rating_cranking
    on = f"{SWITCH}.rating_cranking"
    says = f"The main switch bears {shown(rating)} in a start; the starter takes {shown(drawn)}."
    return at_least(rating, drawn, says, on=on, advice=advice(on, drawn))
