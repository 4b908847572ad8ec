"""Rules of the control unit's feeds, and of the start circuit."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    name_of,
    or_practice,
    path_of,
    practice,
    rule,
    sheet,
    shown,
)

from ..power import network as power
from ..power import quantities as power_quantities
from . import wiring

KEY_TRUTH = practice("a switched feed of the engine comes from a terminal that is live in run and in crank")
DIRECT_FEED = practice("a control unit's constant feed comes from the battery through a fuse of its own")
ALL_GROUNDS = practice("every ground pin of a control unit is connected")
STARTER_RELAY = practice(
    "the starter's solenoid is switched by a relay, its coil in series with a neutral or clutch switch"
)
KEY_RATING = Practice("old key switch carries at most 10 A", 10.0, practice("an old key switch carries at most 10 A"))

RELAY_SIZE = practice("a relay rated at one and a half times the current of the starter's solenoid")

RELAY_RESERVE = 1.5
"""Relay rating over the solenoid's current that is advised: common practice."""


# -- feeds ------------------------------------------------------------------------------------------------------------
def switched_feeds(build: Build) -> list[Any]:
    """The feeds that the key switches."""
    return [feed for feed in wiring.feeds(build) if feed.kind == "switched"]


@rule(
    "controls.key-feed-crank",
    level="error",
    due="quote",
    sources=[
        sheet("engine.ecm.feeds"),
        sheet("engine.ecm.hold_up_time"),
        KEY_TRUTH.giving("limit", "live in run and in crank, dead in off"),
    ],
    adjust=["electrics.cables.*.start"],
    each=switched_feeds,
    bad=[
        {"electrics.cables.ecm_switched.start": "key-accessory"},
        {"electrics.key_switch.terminals.run.gap": "400 ms"},
        {"electrics.cables.ecm_switched.start": "cab-fuses"},
    ],
    good=[
        {
            "electrics.cables.ecm_switched.start": "cab-fuses",
            "electrics.cables.ecm_switched.switched_by": ["key-run", "key-start"],
            "electrics.cables.ecm_switched.relay_rating": "20 A",
        }
    ],
)
def key_feed_crank(build: Build, feed: Any) -> Verdict:
    """Is the engine's switched feed alive in both run and crank?

    Computes: which nodes are live in each position of the key, from the battery through cables, relays that a live
    node closes, and the terminals of the key switch.
    Limit: live in run, and in crank where the engine's data sheet asks for it: errors. Dead in off, or it drains the
    battery: a warning. The break while the key turns from run to crank is at most the time that the sheet says the
    control unit rides through. Accessory terminals as a rule die in crank: the engine cranks and does not start.
    Consequence: The engine cranks and does not start, or stays live with the key off and flattens the battery.
    Remedy: a terminal that is live in both, or a relay whose coil is fed from run or crank through diodes.
    Cannot tell: a worn switch, and an old one that nobody has measured: take a meter to it in all four positions.
    """
    node = wiring.pin_of(feed)
    if not wiring.cables_at(build, node):
        return does_not_apply(f"No cable leads to {node}: see controls.ecm-feed.")
    on = _source_field(build, node)
    positions = ["run", "crank"] if feed.live_in_crank else ["run"]
    dead = [position for position in positions if node not in wiring.live(build, position)]
    where = _where_from(build, node)
    says = f"Fed from {where}, the feed {name_of(feed)} is live in {' and '.join(positions)}."
    if dead:
        says = f"Fed from {where}, the feed {name_of(feed)} is dead in {' and '.join(dead)}. {_better(build)}"
    demands: dict[str, Callable[[], Verdict]] = {"live": lambda: holds(not dead, says, on=on)}
    if not dead:
        demands["dead-in-off"] = lambda: _dead_in_off(build, feed, node, on)
        gap = _stated_gap(build, node)
        limit = given(lambda: build.engine.ecm.hold_up_time)
        if gap is not None and limit is not None:
            demands["break"] = lambda: _short_break(build, node, gap, limit)
    return all_of(demands)


def _way(build: Build, node: str) -> list[Any]:
    return wiring.feeding(build, node) or []


def _terminal_on(build: Build, node: str) -> str | None:
    """The terminal of the key switch that a node is fed from."""
    for cable in _way(build, node):
        for end in (cable.start, cable.end):
            if end.startswith(f"{power.KEY}-"):
                return str(end)
    return None


def _where_from(build: Build, node: str) -> str:
    terminal = _terminal_on(build, node)
    if terminal is not None:
        return f"terminal {terminal.removeprefix(f'{power.KEY}-')} of the key switch"
    way = _way(build, node)
    relays = [closing for cable in way for closing in wiring.closing(cable)]
    if relays:
        return f"{power.POSITIVE} through a relay closed by {' or '.join(relays)}"
    return power.POSITIVE if way else "nowhere"


def _source_field(build: Build, node: str) -> str:
    """The field that says where a node's feed comes from."""
    way = _way(build, node) or wiring.cables_at(build, node)
    for cable in way:
        if wiring.closing(cable):
            return f"{path_of(cable)}.switched_by"
        if any(end.startswith(f"{power.KEY}-") for end in (cable.start, cable.end)):
            return f"{path_of(cable)}.start"
    return f"{path_of(way[-1])}.start"


def _better(build: Build) -> str:
    both = [
        node.removeprefix(f"{power.KEY}-")
        for node, terminal in wiring.terminals(build).items()
        if {"run", "crank"} <= set(terminal.live_in)
    ]
    if both:
        return f"Live in both: terminal {' or '.join(both)}. Take it from there."
    return "No terminal is live in both: use a relay whose coil is fed from run or crank, each through a diode."


def _dead_in_off(build: Build, feed: Any, node: str, on: str) -> Verdict:
    drains = node in wiring.live(build, "off")
    says = f"The feed {name_of(feed)} is dead with the key off."
    if drains:
        says = f"The feed {name_of(feed)} stays live with the key off, and the engine with it. {_better(build)}"
    return holds(not drains, says, level="warning", on=on)


def _stated_gap(build: Build, node: str) -> float | None:
    """How long the terminal that feeds a node is dead while the key turns; None where there is none, or none stated."""
    terminal = _terminal_on(build, node)
    return None if terminal is None else given(lambda: wiring.terminals(build)[terminal].gap)


def _short_break(build: Build, node: str, gap: float, limit: float) -> Verdict:
    terminal = _terminal_on(build, node) or ""
    return at_most(
        gap,
        limit,
        f"The feed is dead for {shown(gap)} while the key turns to crank; the control unit rides through "
        f"{shown(limit)}.",
        on=f"electrics.key_switch.terminals.{terminal.removeprefix(f'{power.KEY}-')}.gap",
    )


def feeds_and_unit(build: Build) -> list[Any]:
    """The feeds of the control unit, and the unit itself for its grounds."""
    if not is_fitted(build.engine.ecm):
        return []
    return [*wiring.feeds(build), build.engine.ecm]


@rule(
    "controls.ecm-feed",
    level="error",
    due="quote",
    sources=[
        sheet("engine.ecm.feeds"),
        DIRECT_FEED.giving("limit", "fed from the battery, with no key switch and no relay between"),
        ALL_GROUNDS.giving("limit", "every ground pin"),
        power_quantities.RESISTANCE,
    ],
    cautions=[cautions.FUEL_FIRE, cautions.BATTERY_ARC],
    fallbacks=[wiring.FEED_DROP, power_quantities.FRAME_RETURN, power_quantities.SWITCH],
    adjust=["electrics.cables.*.size", "electrics.cables.*.fuse"],
    each=feeds_and_unit,
    bad=[
        {"electrics.cables.ecm.fuse": "25 A"},
        {"electrics.ecm.ground_pins_used": 1},
        {"engine.ecm.feeds.main.current": "40 A"},
        {"engine.ecm.feeds.second": {"kind": "constant", "current": "5 A", "fuse": "7.5 A", "live_in_crank": True}},
    ],
    good=[{"engine.ecm.feeds.main.current": "18 A"}],
)
def ecm_feed(build: Build, feed: Any) -> Verdict:
    """Has the control unit its feeds from the right place, with the right fuse and little loss, and all its grounds?

    Computes: the way from the battery to each pin that the engine's data sheet names; the voltage lost on it at the
    pin's highest current, there and back.
    Limit: every pin is fed; a constant feed comes from the battery with no relay and no key switch between; its fuse
    is the one that the sheet asks for; 0.5 V is lost at most at 12 V where the sheet says nothing (common practice);
    every ground pin is used.
    Consequence: The control unit loses its supply and the engine cuts out or will not start, or a wire burns.
    Remedy: a cable from the battery's positive through the fuse of the engine's data sheet; more copper. A main switch
    in the feed is judged by power.isolation-shutdown.
    Cannot tell: what else shares the feed, and what ahead of the key switch is lost on a switched one; short peaks of
    the injectors.
    """
    if path_of(feed) == path_of(build.engine.ecm):
        return all_of(ground_pins=lambda: _grounds(build))
    node, name = wiring.pin_of(feed), name_of(feed)
    at_pin = wiring.cables_at(build, node)
    if not at_pin or not _way(build, node):
        says = f"The engine asks for a feed {name}, and no cable leads from the battery or the key switch to {node}."
        on = "electrics.cables" if not at_pin else f"{path_of(at_pin[0])}.start"
        return all_of(fed=lambda: holds(False, says, on=on))
    demands: dict[str, Callable[[], Verdict]] = {}
    if given(lambda: feed.kind) != "switched":
        demands["constant"] = lambda: _constant(build, feed, node)
    demands["fuse"] = lambda: _right_fuse(build, feed, node)
    demands["loss"] = lambda: _little_loss(build, feed, node)
    return all_of(demands)


def _constant(build: Build, feed: Any, node: str) -> Verdict:
    if feed.kind != "constant":
        return does_not_apply(f"The key switches the feed {name_of(feed)}.")
    straight = wiring.direct(build, node)
    says = f"The constant feed {name_of(feed)} comes from {_where_from(build, node)}."
    if not straight:
        says += " It must stay live whatever the key says: take it from the battery through its own fuse."
    return holds(straight, says, on=_source_field(build, node))


def _right_fuse(build: Build, feed: Any, node: str) -> Verdict:
    cable = _way(build, node)[-1]
    guard = power.protecting(build, cable)
    if guard is None:
        return holds(
            False, f"The feed {name_of(feed)} has no fuse: it takes {shown(feed.fuse)}.", on=f"{path_of(cable)}.fused"
        )
    rating = given(lambda: power_quantities.cable_rating(build, cable))
    if rating is not None and guard.fuse > rating:
        return does_not_apply("The fuse is too big for its cable already: see power.fuse-cable-match.")
    says = f"The feed {name_of(feed)} has a fuse of {shown(guard.fuse)}; the engine maker asks for {shown(feed.fuse)}."
    on = f"{path_of(guard)}.fuse"
    return holds(abs(guard.fuse - feed.fuse) < 0.5, says, on=on, advice=advice(on, feed.fuse))


def _little_loss(build: Build, feed: Any, node: str) -> Verdict:
    found, limit = wiring.feed_drop(build, feed), wiring.drop_limit(build, feed)
    says = f"{shown(found)} are lost on the feed {name_of(feed)} at {shown(feed.current)}, there and back."
    if found > limit:
        says += " It takes more copper, or a shorter way."
    return at_most(found, limit, says, on=f"{path_of(_way(build, node)[-1])}.size")


def _grounds(build: Build) -> Verdict:
    used, pins = build.electrics.ecm.ground_pins_used, build.engine.ecm.ground_pins
    return at_least(
        used,
        pins,
        f"{used:g} of the control unit's {pins:g} ground pins are used; all of them must be, at the point that its "
        "sheet "
        "names.",
        on="electrics.ecm.ground_pins_used",
        advice=advice("electrics.ecm.ground_pins_used", pins),
    )


# -- start circuit ----------------------------------------------------------------------------------------------------
@rule(
    "controls.start-interlock",
    level="error",
    due="quote",
    sources=[
        sheet("engine.starter.solenoid_current"),
        STARTER_RELAY.giving("limit", "live in crank only, with an interlock"),
        RELAY_SIZE.giving("formula", "relay rating that is advised"),
    ],
    cautions=[
        "A vehicle that starts in gear jumps: nobody in front of it or under it while the start circuit is tried."
    ],
    fallbacks=[KEY_RATING],
    adjust=["electrics.cables.*.relay_rating", "electrics.start.interlock"],
    about="electrics.start",
    bad=[
        {"electrics.start.interlock": "none"},
        {"electrics.cables.solenoid.relay_rating": "15 A"},
        {"electrics.cables.solenoid.switched_by": ["key-run"]},
    ],
    good=[{"electrics.start.interlock": "neutral"}],
)
def start_interlock(build: Build) -> Verdict:
    """Does the starter turn only when it may, and does what switches its solenoid bear the current?

    Computes: whether the starter's solenoid is live in crank and in no other position of the key; the rating of the
    relay on its way, or of the key switch's terminal, against the solenoid's pull-in current.
    Limit: live in crank only; relay or terminal rated for the current, 10 A for a key switch of no known rating:
    errors. A neutral switch on an automatic gearbox (an error), a neutral or clutch switch on a manual one (a
    warning).
    Consequence: The vehicle jumps as the key is turned, the starter does not turn, or it does not stop turning.
    Remedy: a relay rated at one and a half times the solenoid's current, its coil in series with the switch. Pull-in
    takes up to three times the current that holds.
    Cannot tell: a switch that somebody has bridged.
    """
    ways = wiring.cables_at(build, wiring.SOLENOID)
    demands: dict[str, Callable[[], Verdict]] = {"interlock": lambda: _interlock(build)}
    if not ways:
        says = f"No cable ends at the node {wiring.SOLENOID}: the start circuit is not stated."
        demands["stated"] = lambda: holds(False, says, on="electrics.cables")
    else:
        demands["only-in-crank"] = lambda: _only_in_crank(build)
        demands["switch-rating"] = lambda: _switch_bears(build)
    return all_of(demands)


def _interlock(build: Build) -> Verdict:
    kind = build.electrics.start.interlock
    automatic = build.driveline.gearbox.kind == "automatic"
    enough = kind == "neutral" or (kind == "clutch" and not automatic)
    has = "none" if kind == "none" else f"a {kind} switch"
    says = f"Interlock of the starter: {has}, on {'an automatic' if automatic else 'a manual'} gearbox."
    if not enough:
        says += (
            f" Put a {'neutral' if automatic else 'clutch or neutral'} switch in the coil circuit of the start relay."
        )
    return holds(enough, says, level="error" if automatic else "warning", on="electrics.start.interlock")


def _only_in_crank(build: Build) -> Verdict:
    live_in = [p for p in ("off", "accessory", "run", "crank") if wiring.SOLENOID in wiring.live(build, p)]
    right = live_in == ["crank"]
    says = f"The solenoid is live in {', '.join(live_in) or 'no position'} of the key"
    says += "." if right else "; it must be live in crank and nowhere else."
    return holds(right, says, on=_source_field(build, wiring.SOLENOID))


def _switch_bears(build: Build) -> Verdict:
    current = build.engine.starter.solenoid_current
    relays = [cable for cable in _way(build, wiring.SOLENOID) if wiring.closing(cable)]
    if relays:
        weakest = min(relays, key=lambda cable: cable.relay_rating)
        rating = weakest.relay_rating
        says = f"The relay is rated {shown(rating)}, the solenoid pulls in with {shown(current)}."
        on = f"{path_of(weakest)}.relay_rating"
        return at_least(rating, current, says, on=on, advice=advice(on, RELAY_RESERVE * current))
    terminal = _terminal_on(build, wiring.SOLENOID)
    if terminal is None:
        says = "Nothing switches the solenoid: it takes a relay."
        return holds(False, says, on=_source_field(build, wiring.SOLENOID))
    rating = or_practice(lambda: wiring.terminals(build)[terminal].rating, KEY_RATING)
    says = (
        f"The solenoid is fed by the key switch itself, rated {shown(rating, 'current', 'A')}, and pulls in with "
        f"{shown(current)}."
    )
    return at_least(rating, current, says, on=_source_field(build, wiring.SOLENOID))
