"""What is asked of the feeds of every control unit: where they come from, fuse, loss, life in cranking."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, Literal

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    does_not_apply,
    given,
    holds,
    name_of,
    needs_review,
    path_of,
    shown,
)

from ..power import key, units
from ..power import network as power
from ..power import quantities as power_quantities
from . import wiring

Level = Literal["error", "warning", "note"]


def way(build: Build, node: str) -> list[Any]:
    """The cables that feed a node; none where nothing leads there."""
    return wiring.feeding(build, node) or []


def where_from(build: Build, node: str) -> str:
    """Where a node is fed from, as words."""
    cables = way(build, node)
    terminal = key.terminal_on(cables)
    if terminal is not None:
        return f"terminal {terminal.removeprefix(f'{power.KEY}-')} of the key switch"
    if not cables:
        return "nowhere"
    other = power.AUXILIARY in (cables[0].start, cables[0].end)
    battery = power.AUXILIARY if other else power.POSITIVE
    relays = [closing for cable in cables for closing in wiring.closing(cable)]
    return f"{battery} through a relay closed by {' or '.join(relays)}" if relays else battery


def source_field(build: Build, node: str) -> str:
    """The field that says where a node's feed comes from."""
    cables = way(build, node) or wiring.cables_at(build, node)
    for cable in cables:
        if wiring.closing(cable):
            return f"{path_of(cable)}.switched_by"
        if any(end.startswith(f"{power.KEY}-") for end in (cable.start, cable.end)):
            return f"{path_of(cable)}.start"
    return f"{path_of(cables[-1])}.start"


def better(build: Build, dead_in: str = "") -> str:
    """Which terminal of the key switch is live in run and in crank, as words; or that the switch itself is not fed."""
    if dead_in and wiring.cables_at(build, power.KEY) and power.KEY not in wiring.live(build, dead_in):
        return f"The key switch itself gets no current then: lead it there from the battery, to the node {power.KEY}."
    both = [
        node.removeprefix(f"{power.KEY}-")
        for node, terminal in wiring.terminals(build).items()
        if {"run", "crank"} <= set(terminal.live_in)
    ]
    if both:
        return f"Live in both: terminal {' or '.join(both)}. Take it from there."
    return "No terminal is live in both: use a relay whose coil is fed from run or crank, each through a diode."


# -- is it alive when it must be --------------------------------------------------------------------------------------
def alive(build: Build, feed: Any, *, level: Level = "error") -> Verdict:
    """The verdict on a switched feed: live in run and crank, dead in off, and a short break between."""
    node, unit = wiring.pin_of(feed), units.unit_of(build, feed)
    if not wiring.cables_at(build, node):
        rule = "controls.ecm-feed" if path_of(unit) == units.ENGINE_UNIT else "controls.controller-feed"
        return does_not_apply(f"No cable leads to {node}: see {rule}.")
    on = source_field(build, node)
    positions = ["run", "crank"] if feed.live_in_crank else ["run"]
    dead = [position for position in positions if node not in wiring.live(build, position)]
    says = f"Fed from {where_from(build, node)}, the feed {name_of(feed)} is live in {' and '.join(positions)}."
    if dead:
        says = f"Fed from {where_from(build, node)}, the feed {name_of(feed)} is dead in {' and '.join(dead)}. "
        says += better(build, dead[0])
    demands: dict[str, Callable[[], Verdict]] = {"live": lambda: holds(not dead, says, level=level, on=on)}
    if not dead:
        demands["dead-in-off"] = lambda: _dead_in_off(build, feed, unit, node, on)
        if given(lambda: feed.live_in_crank) and _breaking(build, node) is not None:
            demands["break"] = lambda: _short_break(build, unit, node, level)
    return all_of(demands)


def _dead_in_off(build: Build, feed: Any, unit: Any, node: str, on: str) -> Verdict:
    drains = node in wiring.live(build, "off")
    says = f"The feed {name_of(feed)} is dead with the key off."
    engine = path_of(unit) == units.ENGINE_UNIT
    if drains:
        with_it = "the engine runs on" if engine else f"{units.called(unit)} with it"
        says = f"The feed {name_of(feed)} stays live with the key off, and {with_it}. {better(build)}"
    # An engine that the key does not stop is as bad as one that something else keeps running.
    return holds(not drains, says, level="error" if engine else "warning", on=on)


def _breaking(build: Build, node: str) -> str | None:
    """The terminal of the key switch whose break, as the key turns, is that of a node; None where it has none.

    The node hangs on the terminal itself, or on relays that terminals close. Of several that close one relay the one
    that breaks for the shortest time counts; one that is dead in run or in crank breaks as it hands over.
    """
    ways, known = way(build, node), wiring.terminals(build)
    terminal = key.terminal_on(ways)
    if terminal is not None:
        return terminal
    for cable in ways:
        coils = wiring.closing(cable)
        if coils and all(coil in known for coil in coils):
            through = [coil for coil in coils if {"run", "crank"} <= set(known[coil].live_in)]
            return min(through or coils, key=lambda coil: _gap_or_endless(known[coil]))
    return None


def _gap_or_endless(terminal: Any) -> float:
    gap: float | None = given(lambda: terminal.gap)
    return math.inf if gap is None else gap


def _short_break(build: Build, unit: Any, node: str, level: Level) -> Verdict:
    """The break in a feed against what the control unit rides through; open where nobody has measured it."""
    terminal = _breaking(build, node) or ""
    gap, limit = wiring.terminals(build)[terminal].gap, unit.hold_up_time
    who = "the control unit" if path_of(unit) == units.ENGINE_UNIT else units.called(unit)
    says = f"The feed is dead for {shown(gap)} while the key turns to crank; {who} rides through {shown(limit)}."
    if gap > limit:
        says += (
            " It restarts in every start: take a terminal that does not break, or a relay that run and crank close, "
        )
        says += "each through a diode."
    on = f"electrics.key_switch.terminals.{terminal.removeprefix(f'{power.KEY}-')}.gap"
    return at_most(gap, limit, says, level=level, on=on)


# -- is it fed as its data sheet asks ---------------------------------------------------------------------------------
def fed_rightly(build: Build, feed: Any, *, level: Level = "error") -> Verdict:
    """The verdict on a feed: a cable leads there, straight from the battery if it is constant; fuse and loss."""
    node, name = wiring.pin_of(feed), name_of(feed)
    at_pin, unit = wiring.cables_at(build, node), units.unit_of(build, feed)
    if not at_pin or not way(build, node):
        who = "The engine" if path_of(unit) == units.ENGINE_UNIT else _capital(units.called(unit))
        says = f"{who} asks for a feed {name}, and no cable leads from the battery or the key switch to {node}."
        on = "electrics.cables" if not at_pin else f"{path_of(at_pin[0])}.start"
        return all_of(fed=lambda: holds(False, says, level=level, on=on))
    demands: dict[str, Callable[[], Verdict]] = {}
    if given(lambda: feed.kind) != "switched":
        demands["constant"] = lambda: _constant(build, feed, node, level)
    demands["fuse"] = lambda: _right_fuse(build, feed, unit, node, level)
    demands["loss"] = lambda: _little_loss(build, feed, node, level)
    return all_of(demands)


def _capital(words: str) -> str:
    return words[0].upper() + words[1:]


def _constant(build: Build, feed: Any, node: str, level: Level) -> Verdict:
    if feed.kind != "constant":
        return does_not_apply(f"The key switches the feed {name_of(feed)}.")
    straight = wiring.direct(build, node)
    says = f"The constant feed {name_of(feed)} comes from {where_from(build, node)}."
    if not straight:
        says += " It must stay live whatever the key says: take it from the battery through its own fuse."
    return holds(straight, says, level=level, on=source_field(build, node))


def _right_fuse(build: Build, feed: Any, unit: Any, node: str, level: Level) -> Verdict:
    cable = way(build, node)[-1]
    guard = power.protecting(build, cable)
    if guard is None:
        says = f"The feed {name_of(feed)} has no fuse: it takes {shown(feed.fuse)}."
        return holds(False, says, level=level, on=f"{path_of(cable)}.fused")
    same = bool(guard.fuse == feed.fuse)
    if not same and given(lambda: guard.fuse > power_quantities.cable_rating(build, cable)):
        return does_not_apply("The fuse is too big for its cable already: see power.fuse-cable-match.")
    maker = "the engine maker" if path_of(unit) == units.ENGINE_UNIT else f"the maker of {units.called(unit)}"
    says = f"The feed {name_of(feed)} has a fuse of {shown(guard.fuse)}; {maker} asks for {shown(feed.fuse)}."
    on = f"{path_of(guard)}.fuse"
    return holds(same, says, level=level, on=on, advice=advice(on, feed.fuse))


def _little_loss(build: Build, feed: Any, node: str, level: Level) -> Verdict:
    found, limit = wiring.feed_drop(build, feed), wiring.drop_limit(build, feed)
    says = f"{shown(found)} are lost on the feed {name_of(feed)} at {shown(feed.current)}, there and back."
    if found > limit:
        says += " It takes more copper, or a shorter way."
    return at_most(found, limit, says, level=level, on=f"{path_of(way(build, node)[-1])}.size")


def grounds(used: float, pins: float, who: str, on: str, *, level: Level = "error") -> Verdict:
    """The verdict on the ground pins of a control unit: all of them are used."""
    if used > pins:
        says = f"{used:g} ground pins of {who} are said to be used, and its sheet has {pins:g}: count again."
        return needs_review(says, on=on, found=used)
    says = f"{used:g} of {who}'s {pins:g} ground pins are used; all of them must be, at the point that its sheet names."
    return at_least(used, pins, says, level=level, on=on, advice=advice(on, pins))
