"""Rules of what lets the engine idle and stop: throttle cable, stop device, and the key turned to off."""

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
    path_of,
    practice,
    rule,
    sheet,
    shown,
)

from .. import sources
from ..power import key, unsaid
from ..power import network as power
from . import feeding, switching, wiring

RUN_ON = "An engine that does not stop: know how to shut its fuel or air off before it is first started."
BACK_FEED = practice("with the key off nothing feeds the ignition circuit backwards")
STOP_DEVICE = practice(
    "an engine is stopped from the driver's seat, and by hand where its solenoid needs current to stop"
)
CABLE_FIT = practice("a throttle cable that gives the lever its whole travel and is slack at idle")

STOP_SOLENOID = "stop-solenoid"
IGNITION = "ignition"
FEEDS = "engine.ecm.feeds"
STOP_NODES = {"solenoid-to-run": STOP_SOLENOID, "ignition": IGNITION}
"""The node that must lose its current for the engine to stop, by the kind of its stop device."""


# -- key off ----------------------------------------------------------------------------------------------------------
def must_die(build: Build) -> list[str]:
    """The nodes that must be dead for the engine to stop."""
    kind = given(lambda: build.engine.stop.kind)
    if kind is None and not is_fitted(build.engine.ecm):
        kind = build.engine.stop.kind
    return [*key.awake_pins(build), *([STOP_NODES[kind]] if kind in STOP_NODES else [])]


HOLDING_RELAY = {
    "role": "switched-feed",
    "start": "cab-fuses",
    "end": "key-run",
    "switched_by": ["key-run"],
    "relay_rating": "40 A",
    "coil_current": "0.15 A",
    "size": "2.5 mm2",
    "length": "0.5 m",
    "current": "5 A",
    "returns_by": "frame",
    "return_length": "0.4 m",
    "insulation_temp": "105 degC",
    "place": "cab",
    "bundled_with": 0,
    "fuse": "15 A",
}
CHARGE_LAMP = {
    "role": "other",
    "start": "key-run",
    "end": key.EXCITATION,
    "size": "1 mm2",
    "length": "2 m",
    "current": "0.2 A",
    "returns_by": "engine",
    "return_length": "0 m",
    "insulation_temp": "105 degC",
    "place": "engine-space",
    "bundled_with": 0,
    "fuse": "5 A",
    "diode": False,
}


@rule(
    "controls.key-off-stops",
    level="error",
    due="quote",
    sources=[
        sheet("engine.ecm.feeds").giving("limit", "which feeds the key switches"),
        BACK_FEED.giving("limit", "no current backwards from alternator or fan; a fuel pump that stops"),
    ],
    cautions=[RUN_ON, cautions.FUEL_FIRE],
    adjust=["electrics.cables.*.diode"],
    about="electrics.key_switch",
    without=unsaid.NO_RELAY,
    bad=[
        {"electrics.cables.helper": HOLDING_RELAY},
        {"electrics.cables.excitation": CHARGE_LAMP},
        {"electrics.cables.fan_too": {**CHARGE_LAMP, "end": "fan"}},
        {"electrics.cables.pump": {**CHARGE_LAMP, "role": "fuel-pump", "start": "cab-fuses", "end": "lift-pump"}},
    ],
    good=[{"electrics.cables.excitation": {**CHARGE_LAMP, "diode": True}}],
)
def key_off_stops(build: Build) -> Verdict:
    """Does the engine stop when the key is turned off, or does something keep its feeds alive?

    Computes: which nodes stay live as the key goes from run to off, walked through cables and relays: a relay that was
    closed stays closed while its coil is fed, even from what it feeds itself. Then the same with the alternator's
    excitation terminal live, which it is while the engine turns, and with the feed of an electric fan live, which runs
    on or is turned by the wind. A diode lets current through one way.
    Limit: the switched feeds of the engine's control unit, the feed of its ignition or of a solenoid that needs current
    to run are dead in off: an error where the battery holds them, a warning where alternator or fan may, for a lamp
    passes little current and a fan gives it for seconds. An electric fuel pump stops with the key: a warning.
    Consequence: The engine runs on with the key off and cannot be stopped from the seat.
    Remedy: a diode in the wire of the charge lamp, from the key towards the alternator; the coil of every relay from
    the key itself and not from what it feeds; the fan's relay from the battery, not from the ignition circuit.
    Cannot tell: whether so little current is enough to hold a relay or wake a control unit; wires that nobody states.
    """
    if not build.electrics.cables:
        return needs_review("No cable is stated, so that nothing can be walked: state the wiring of the key.")
    nodes, pumps = must_die(build), power.cables_for(build, "fuel-pump")
    cold = key.live(build, "off")
    alive = [node for node in nodes if node in cold]
    nodes = [node for node in nodes if node not in cold]
    if not nodes and not pumps:
        says = f"Live with the key off in any case is {' and '.join(alive)}: see controls.key-feed-crank."
        return does_not_apply(says if alive else "The engine has no feed that the key switches.")
    demands: dict[str, Callable[[], Verdict]] = {}
    if pumps:
        demands["fuel-pump"] = lambda: _pump_stops(build, pumps)
    if not nodes:
        return all_of(demands)
    demands["held"] = lambda: _not_held(build, nodes)
    if given(lambda: is_fitted(build.engine.alternator)) is not False:
        demands["alternator"] = lambda: _no_back_feed(build, nodes)
    if power.cables_for(build, "fan"):
        demands["fan"] = lambda: _no_fan(build, nodes)
    return all_of(demands)


def _kept(build: Build, nodes: list[str], also: frozenset[str] = frozenset()) -> list[str]:
    alive = key.held(build, also)
    return [node for node in nodes if node in alive]


def _not_held(build: Build, nodes: list[str]) -> Verdict:
    kept = _kept(build, nodes)
    if not kept:
        return holds(
            True, f"As the key is turned off {', '.join(nodes)} {'lose their' if len(nodes) > 1 else 'loses its'} feed."
        )
    relays = _holding(build, kept)
    says = f"{', '.join(kept)} stay{'' if len(kept) > 1 else 's'} live as the key is turned off: "
    if relays:
        first = relays[0]
        says += f"the relay between {first.start} and {first.end} feeds what closes it. Close it by the key itself."
    else:
        says += "relays hold each other closed. Close one of them by the key itself."
    return holds(False, says, on=f"{path_of(relays[0])}.switched_by" if relays else "electrics.cables")


def _holding(build: Build, nodes: list[str]) -> list[Any]:
    """The cables with a relay without any one of which the nodes would be dead in off."""
    relays = [cable for cable in power.cables(build) if key.closing(cable)]
    return [cable for cable in relays if key.held(build, without=path_of(cable)).isdisjoint(nodes)]


def _pump_stops(build: Build, pumps: list[Any]) -> Verdict:
    alive = key.held(build)
    running = [cable for cable in pumps if cable.end in alive]
    says = "The fuel pump loses its feed as the key is turned off."
    if running:
        says = f"The fuel pump at {running[0].end} runs on with the key off. Feed it through a relay that the engine's "
        says += "control unit or the key closes: a pump that runs on empties the tank through a torn hose."
    on = f"{path_of((running or pumps)[0])}.switched_by"
    return holds(not running, says, level="warning", on=on)


def _no_back_feed(build: Build, nodes: list[str]) -> Verdict:
    at = wiring.cables_at(build, key.EXCITATION)
    if not at:
        kind = build.engine.alternator.excitation
        if kind != "lamp-wire":
            return holds(True, "No wire leads from the ignition circuit to the alternator's excitation terminal.")
        return needs_review(
            f"The alternator is excited through a wire with the charge lamp, and no cable ends at {key.EXCITATION}: "
            "state it, with its diode."
        )
    before = _kept(build, nodes)
    kept = [node for node in _kept(build, nodes, frozenset({key.EXCITATION})) if node not in before]
    on = f"{path_of(at[0])}.diode"
    if not kept:
        return holds(True, "What the alternator gives at its excitation terminal does not reach back.", on=on)
    says = f"While it turns the alternator feeds {', '.join(kept)} backwards through its excitation wire, key off. A "
    says += "diode in that wire, towards the alternator, stops it."
    help = advice(on, True) if all(cable.end == key.EXCITATION for cable in at) else None
    return holds(False, says, level="warning", on=on, advice=help)


def _no_fan(build: Build, nodes: list[str]) -> Verdict:
    cables = power.cables_for(build, "fan")
    ends = frozenset(cable.end for cable in cables)
    before = _kept(build, nodes)
    kept = [node for node in _kept(build, nodes, ends) if node not in before]
    says = "A fan that runs on feeds nothing that must be dead."
    if kept:
        says = (
            f"A fan that runs on, or is turned by the wind, feeds {', '.join(kept)} backwards with the key off. Feed "
        )
        says += "it through a relay from the battery, not from the ignition circuit."
    return holds(not kept, says, level="warning", on=f"{path_of(cables[0])}.start")


# -- stop device ------------------------------------------------------------------------------------------------------
@rule(
    "controls.engine-stop",
    level="error",
    due="quote",
    sources=[
        sheet("engine.stop.kind"),
        sheet("engine.stop.pull_current").giving("limit", "current that the switch must bear"),
        STOP_DEVICE.giving("limit", "what the driver must be able to do"),
    ],
    cautions=[RUN_ON],
    fallbacks=[switching.KEY_RATING],
    about="engine.stop",
    without={
        "engine.stop.kind": "An engine with a control unit is stopped by it, unless its sheet names another device."
    },
    bad=[
        {"engine.stop.kind": "lever", "electrics.stop.cable": False, "electrics.stop.in_reach": True},
        {"engine.stop.kind": "solenoid-to-run", "engine.stop.pull_current": "10 A"},
    ],
    good=[
        {"engine.stop.kind": "lever", "electrics.stop.cable": True, "electrics.stop.in_reach": True},
        {"engine.stop.kind": "control-unit"},
    ],
)
def engine_stop(build: Build) -> Verdict:
    """Can the driver stop the engine: has its stop device what it needs?

    Computes: in which positions of the key the solenoid's or the ignition's feed is live; the rating of relay or key
    terminal on its way against the current that the solenoid pulls in with.
    Limit: a solenoid that needs current to run, and an ignition, are live in run and in crank and dead in off; one that
    needs current to stop has a feed that does not die with the key; its switch bears the pull-in current, 10 A for a
    key switch of no known rating. A lever has its cable, in the driver's reach. A solenoid that needs current to stop
    has a cable as well, or a flat battery leaves the engine running: a warning. A control unit that the key takes no
    feed from goes before a person.
    Consequence: The engine does not start, or nobody can stop it from the seat.
    Remedy: a fused feed from run through a relay; a pull cable to the stop lever.
    Cannot tell: a lever that is seized; an engine that runs on its own oil, which only shutting its air stops.
    """
    kind = given(lambda: build.engine.stop.kind)
    if given(lambda: is_fitted(build.engine.stop)) is False and not is_fitted(build.engine.ecm):
        says = "Nothing stops the engine: it has neither a control unit nor a stop device. Fit a solenoid or a cable."
        return all_of(device=holds(False, says, on="engine.stop"))
    if kind is None and not is_fitted(build.engine.ecm):
        kind = build.engine.stop.kind
    if kind in (None, "control-unit"):
        return _by_its_unit(build, stated=kind is not None)
    if kind == "lever":
        return all_of(cable=lambda: _by_hand(build))
    node = IGNITION if kind == "ignition" else STOP_SOLENOID
    demands: dict[str, Callable[[], Verdict]] = {"fed": lambda: _stop_is_fed(build, kind, node)}
    if feeding.way(build, node) and kind != "ignition":
        demands["switch-rating"] = lambda: switching.bears(
            build, node, build.engine.stop.pull_current, "the stop solenoid"
        )
    if kind == "solenoid-to-stop":
        demands["cable"] = lambda: _by_hand(build, level="warning")
    return all_of(demands)


def _by_its_unit(build: Build, *, stated: bool) -> Verdict:
    """A control unit stops the engine once the key has taken a feed from it."""
    if not is_fitted(build.engine.ecm):
        says = "Its control unit stops the engine, and the engine has none."
        return all_of(device=holds(False, says, on="engine.stop.kind"))
    kinds = {given(lambda feed=feed: feed.kind) for feed in given(lambda: wiring.feeds(build)) or []}  # type: ignore[misc]
    if kinds == {"constant"}:
        says = "The engine's control unit stops it, and the key switches none of its feeds: state the one that it does,"
        return all_of(told=needs_review(f"{says} or ask the maker what tells it that the key is off.", on=FEEDS))
    says = "The engine's control unit stops it."
    return all_of(device=holds(True, says, on="engine.stop.kind")) if stated else does_not_apply(says)


def _by_hand(build: Build, level: feeding.Level = "error") -> Verdict:
    stop = build.electrics.stop
    there = is_fitted(stop) and stop.cable
    on = "electrics.stop.cable"
    if not there:
        return holds(False, "No cable works the engine's stop lever from the seat: fit one.", level=level, on=on)
    says = "A cable works the engine's stop lever"
    says += ", in the driver's reach." if stop.in_reach else "; it is out of the driver's reach."
    return holds(stop.in_reach, says, level=level, on="electrics.stop.in_reach")


def _stop_is_fed(build: Build, kind: str, node: str) -> Verdict:
    if not feeding.way(build, node):
        says = f"No cable leads from the battery or the key switch to the node {node}."
        return holds(False, says, on="electrics.cables")
    on = feeding.source_field(build, node)
    live_in = [position for position in ("off", "run", "crank") if node in wiring.live(build, position)]
    if kind == "solenoid-to-stop":
        terminal = key.terminal_on(feeding.way(build, node))
        dies = terminal is not None and "off" not in tuple(wiring.terminals(build)[terminal].live_in)
        says = f"The stop solenoid is fed from {feeding.where_from(build, node)}"
        stops = [position for position in ("run", "crank") if position in live_in and "off" not in live_in]
        if dies:
            says += ", which is dead with the key off: it needs current just then."
        elif stops:
            says += (
                f", live in {' and '.join(stops)} and dead with the key off: it stops the engine when it should run, "
            )
            says += "and lets it run on with the key off. Let a button, or a relay that rests closed, feed it."
        else:
            says += "."
        return holds(not dies and not stops, says, on=on)
    right = live_in == ["run", "crank"]
    says = f"The node {node} is live in {', '.join(live_in) or 'no position'} of the key"
    says += "." if right else "; it must be live in run and in crank, and dead in off, where the engine stops."
    return holds(right, says, on=on)


# -- throttle cable ---------------------------------------------------------------------------------------------------
BY_CABLE = {
    "engine.pedal.fitted": False,
    "electrics.pedal.fitted": False,
    "engine.throttle.travel": "40 mm",
    "electrics.throttle": {
        "travel": "42 mm",
        "stop": True,
        "springs": 2,
        "returns_to_idle": True,
        "slack_at_full_roll": True,
    },
}


@rule(
    "controls.throttle-cable",
    level="error",
    due="build",
    sources=[
        sheet("engine.throttle.travel"),
        sources.US_ACCELERATORS.giving("limit", "idle with any one spring or the cable off", known="second-hand"),
        CABLE_FIT.giving("limit", "whole travel, slack at idle, two springs"),
    ],
    cautions=["An accelerator that sticks makes the vehicle run away: try it standing, wheels chocked, in neutral."],
    adjust=["electrics.throttle.travel"],
    later={"returns-to-idle": "commission", "slack": "commission"},
    about="electrics.throttle",
    bad=[
        {**BY_CABLE, "electrics.throttle.travel": "30 mm"},
        {**BY_CABLE, "electrics.throttle.returns_to_idle": False},
        {**BY_CABLE, "electrics.throttle.springs": 1},
        {**BY_CABLE, "electrics.throttle.stop": False},
        {**BY_CABLE, "electrics.throttle.slack_at_full_roll": False},
    ],
    good=[BY_CABLE, {**BY_CABLE, "electrics.throttle.travel": "40 mm"}],
)
def throttle_cable(build: Build) -> Verdict:
    """Does the throttle cable work the engine from idle to full, and does the engine come back to idle without it?

    Computes: nothing; compares the travel that the pedal gives with that of the lever on the engine.
    Limit: with any one spring off, and with the cable off, the engine goes to idle (US FMVSS 124): an error. Two
    springs at the lever, each on its own; as much travel as the lever takes, a stop under the pedal that keeps it from
    straining the lever, and slack at idle wherever the engine moves to in its mounts: warnings (common practice).
    Consequence: The engine does not come back to idle, or never gives its full power.
    Remedy: another hole in lever or pedal sets the travel; a second spring; the outer cable held at the engine, so that
    it moves with it.
    Cannot tell: the force on the pedal; rust in the cable; a floor mat.
    """
    if is_fitted(build.engine.pedal):
        return does_not_apply("The engine is worked by a pedal with sensors.")
    lever, cable = build.engine.throttle, build.electrics.throttle
    if not is_fitted(lever):
        return does_not_apply("The engine has no lever for a throttle cable.")
    if not is_fitted(cable):
        says = "The engine is worked by a cable, and none is fitted."
        return all_of(fitted=lambda: holds(False, says, on="electrics.throttle"))
    on = "electrics.throttle"
    return all_of(
        returns_to_idle=lambda: holds(
            cable.returns_to_idle,
            "With any one spring off, and with the cable off, the engine goes to idle."
            if cable.returns_to_idle
            else "With one spring or the cable off the engine does not go to idle: find out why before it is driven.",
            on=f"{on}.returns_to_idle",
        ),
        springs=lambda: at_least(
            cable.springs,
            2,
            f"{cable.springs:g} {'spring brings' if cable.springs == 1 else 'springs bring'} the lever back to "
            "idle; two are "
            "usual, each on its own.",
            level="warning",
            on=f"{on}.springs",
            advice=advice(f"{on}.springs", 2),
        ),
        travel=lambda: at_least(
            cable.travel,
            lever.travel,
            f"The pedal moves the cable {shown(cable.travel)}; from idle to full the lever takes "
            f"{shown(lever.travel)}.",
            level="warning",
            on=f"{on}.travel",
            advice=advice(f"{on}.travel", lever.travel),
        ),
        stop=lambda: holds(
            cable.stop,
            "A stop under the pedal keeps the foot from straining cable and lever."
            if cable.stop
            else "No stop under the pedal keeps the foot from straining cable and lever: fit one.",
            level="warning",
            on=f"{on}.stop",
        ),
        slack=lambda: holds(
            cable.slack_at_full_roll,
            "The cable stays slack at idle while the engine rolls in its mounts."
            if cable.slack_at_full_roll
            else "The cable pulls while the engine rolls in its mounts, and the engine revs by itself: give it "
            "slack, or "
            "hold its outer cable at the engine.",
            level="warning",
            on=f"{on}.slack_at_full_roll",
        ),
    )
