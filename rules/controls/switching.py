"""Rules of what switches: relays and their coils, and what hangs on the terminals of the key switch."""

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
    or_practice,
    path_of,
    practice,
    quantity,
    rule,
    sheet,
    shown,
)

from ..power import key, unsaid
from ..power import network as power
from ..power import quantities as power_quantities
from . import feeding, wiring

KEY_RATING = Practice("old key switch carries at most 10 A", 10.0, practice("an old key switch carries at most 10 A"))
COIL = Practice(
    "a relay coil takes 0.15 A at 12 V (0.1 to 0.2 A)",
    0.15,
    practice("coil of a small relay, 0.1 to 0.2 A at 12 V"),
    between=(0.1, 0.2),
)
MOTOR_START = Practice(
    "a motor draws four times its running current as it starts",
    4.0,
    practice("a motor of a fan or pump draws three to five times its running current as it starts"),
)
MAKING = Practice(
    "a relay closes on three times its rating", 3.0, practice("a vehicle relay may close on three times its rating")
)
DROP_OUT = Practice(
    "a relay lets go below 3.6 V at the latest (1.2 to 4.8, of a nominal 12 V)",
    3.6,
    practice("a small relay that is closed holds down to a tenth to two fifths of its nominal voltage"),
    between=(1.2, 4.8),
)
RELAY_SIZE = practice("a relay rated at one and a half times the current of a solenoid")
CONTACT = practice("a contact rated for the current that it carries without a pause")
LIVE_IN_CRANK = practice("what the engine needs to start stays live while it is cranked")

RELAY_RESERVE = 1.5
"""Relay rating over a solenoid's current that is advised: common practice."""
MOTORS = ("fan", "fuel-pump")
"""Roles of cables that lead to motors."""


def bears(build: Build, node: str, current: float, what: str) -> Verdict:
    """The verdict on what switches a solenoid: relay or terminal of the key switch, against its pull-in current."""
    ways = feeding.way(build, node)
    relays = [cable for cable in ways if wiring.closing(cable)]
    if relays:
        weakest = min(relays, key=lambda cable: cable.relay_rating)
        rating, on = weakest.relay_rating, f"{path_of(weakest)}.relay_rating"
        says = f"The relay is rated {shown(rating)}, {what} pulls in with {shown(current)}."
        if rating < current:
            says += " Fit one of a higher rating."
        return at_least(rating, current, says, on=on, advice=advice(on, RELAY_RESERVE * current))
    on, terminal = feeding.source_field(build, node), key.terminal_on(ways)
    if terminal is None:
        return holds(False, f"Nothing switches {what}: it takes a relay.", on=on)
    rating = or_practice(lambda: wiring.terminals(build)[terminal].rating, KEY_RATING)
    says = (
        f"{what[0].upper()}{what[1:]} is fed by the key switch itself, rated {shown(rating, 'current', 'A')}, and "
        f"pulls in with {shown(current)}."
    )
    return at_least(rating, current, says, on=on)


# -- relays -----------------------------------------------------------------------------------------------------------
def needed_in_crank(build: Build, cable: Any) -> bool:
    """Whether what hangs on a cable must stay live while the engine is cranked."""
    stated = given(lambda: cable.live_in_crank)
    return cable.role == "fuel-pump" if stated is None else bool(stated)


def switched(build: Build) -> list[Any]:
    """The cables with a relay or switch in them, and those that must stay live in cranking."""
    others = [cable for cable in power.cables(build) if cable.role not in power.HEATERS]
    return [
        cable
        for cable in others
        if wiring.closing(cable)
        or given(lambda cable=cable: cable.relay_rating) is not None  # type: ignore[misc]
        or needed_in_crank(build, cable)
    ]


PUMP = {
    "role": "fuel-pump",
    "start": "cab-fuses",
    "end": "lift-pump",
    "switched_by": ["key-run"],
    "relay_rating": "30 A",
    "size": "2.5 mm2",
    "length": "3 m",
    "current": "5 A",
    "returns_by": "frame",
    "return_length": "0.3 m",
    "insulation_temp": "105 degC",
    "place": "frame",
    "bundled_with": 0,
    "fuse": "10 A",
}


@rule(
    "controls.relay-rating",
    level="error",
    due="quote",
    sources=[
        sheet("electrics.cables.*.relay_rating"),
        sheet("electrics.cables.*.relay_making"),
        CONTACT.giving("limit", "the current without a pause"),
        LIVE_IN_CRANK.giving("limit", "live in crank"),
    ],
    cautions=[cautions.FUEL_FIRE],
    fallbacks=[MOTOR_START, MAKING, DROP_OUT],
    adjust=["electrics.cables.*.relay_rating", "electrics.cables.*.switched_by"],
    each=switched,
    without={
        **unsaid.NO_RELAY,
        "electrics.cables.*.relay_rating": "A cable that names no relay and no switch holds none.",
        "electrics.cables.*.live_in_crank": "Only a fuel pump must stay live by itself; what else must is named by the "
        "engine's sheet or a rule of its own.",
        "electrics.cables.*.inrush": "What is no motor draws no more than its current; a solenoid is judged by what it "
        "pulls in with, in controls.start-interlock.",
    },
    bad=[
        {"electrics.cables.fan.relay_rating": "8 A"},
        {"electrics.cables.fan.inrush": "150 A"},
        {"electrics.cables.fan.relay_making": "30 A"},
        {"electrics.cables.pump": {**PUMP, "switched_by": ["key-accessory"]}},
    ],
    good=[{"electrics.cables.pump": PUMP}],
)
def relay_rating(build: Build, cable: Any) -> Verdict:
    """Does the relay or switch in a cable bear what it carries and closes on, and stay closed in cranking if it must?

    Computes: the cable's current, or that of all branches behind it; what a motor draws as it starts, as stated or four
    times its running current, and of a starter cable the cranking current; whether the cable's end is live while the
    engine is cranked, by what feeds the coil, and the voltage at the battery in the coldest start.
    Limit: the contact's rating (an error); the current that it may close on, three times its rating where its sheet is
    silent (a warning). A fuel pump, and what the spec says must stay live in cranking, do so: an error. Its relay, once
    closed, holds at the voltage of the coldest start, down to 3.6 V of 12 where its sheet is silent: a warning.
    Accessory terminals as a rule die in crank, and the relay that hangs on one opens.
    Consequence: The contact welds shut or burns, or the engine cranks without fuel and does not start.
    Remedy: a relay of the rating that the consumer takes; its coil from a terminal that is live in run and in crank.
    Cannot tell: what the wires to a coil lose; a relay that must close during cranking; lamps, which draw ten times
    their current when cold.
    Solenoid, intake heater and a fan that the engine drives are judged by rules of their own.
    """
    demands: dict[str, Callable[[], Verdict]] = {}
    starts = cable.role in power.STARTING
    lasting = not starts or given(lambda: cable.current) is not None
    if _has_contact(cable) and lasting and not _judged_elsewhere(build, cable):
        demands["contact"] = lambda: _contact(build, cable)
    if _has_contact(cable) and (starts or cable.role in MOTORS or given(lambda: cable.inrush) is not None):
        demands["making"] = lambda: _making(build, cable)
    if needed_in_crank(build, cable):
        demands["live-in-crank"] = lambda: _live_in_crank(build, cable)
        if wiring.closing(cable) and cable.end in wiring.live(build, "crank"):
            demands["coil-holds"] = lambda: _coil_holds(build, cable)
    return all_of(demands) if demands else does_not_apply("Another rule judges what switches it.")


def _has_contact(cable: Any) -> bool:
    return bool(wiring.closing(cable)) or given(lambda: cable.relay_rating) is not None


def _judged_elsewhere(build: Build, cable: Any) -> bool:
    """Whether controls.start-interlock or controls.fan-output judge the contact."""
    if cable.end == key.SOLENOID:
        return True
    fan = given(lambda: is_fitted(build.plumbing.cooling.fan) and build.plumbing.cooling.fan.drive == "electric")
    return cable.role == "fan" and bool(fan) and wiring.FAN_OUTPUT in wiring.closing(cable)


def _contact(build: Build, cable: Any) -> Verdict:
    current, on = power_quantities.carried(build, cable), f"{path_of(cable)}.relay_rating"
    says = f"The contact is rated {shown(cable.relay_rating)}; it carries {shown(current, 'current', 'A')}."
    help = advice(on, current)
    return at_least(cable.relay_rating, current, says, on=on, unit=("current", "A"), advice=help)


def _coil_holds(build: Build, cable: Any) -> Verdict:
    """A relay that closed before the start stays closed while the starter pulls the voltage down."""
    left, on = power_quantities.terminals_while_cranking(build), f"{path_of(cable)}.coil_drop_out"
    stated: float | None = given(lambda: cable.coil_drop_out)
    scale = float(build.electrics.nominal_voltage) / 12.0
    least = stated if stated is not None else or_practice(lambda: cable.coil_drop_out, DROP_OUT) * scale
    says = (
        f"In the coldest start the battery holds {shown(left, 'voltage', 'V')}; the relay to {cable.end} lets go below "
        f"{shown(least, 'voltage', 'V')} at its coil."
    )
    return at_least(left, least, says, level="warning", on=on, unit=("voltage", "V"))


def _making(build: Build, cable: Any) -> Verdict:
    stated, on = given(lambda: cable.inrush), f"{path_of(cable)}.relay_rating"
    if cable.role in power.STARTING:
        stated = build.engine.starter.cranking_current
    drawn = stated if stated is not None else or_practice(lambda: cable.inrush, MOTOR_START) * cable.current
    closes_on = given(lambda: cable.relay_making)
    if closes_on is None:
        closes_on = or_practice(lambda: cable.relay_making, MAKING) * cable.relay_rating
    says = (
        f"As it is switched on the consumer draws {shown(drawn, 'current', 'A')}; the contact may close on "
        f"{shown(closes_on, 'current', 'A')}."
    )
    return at_least(closes_on, drawn, says, level="warning", on=on, unit=("current", "A"))


def _live_in_crank(build: Build, cable: Any) -> Verdict:
    end, coils = cable.end, wiring.closing(cable)
    crank, run = wiring.live(build, "crank"), wiring.live(build, "run")
    on = f"{path_of(cable)}.{'switched_by' if coils else 'start'}"
    if end in crank:
        return holds(True, f"{end} stays live while the engine is cranked.", on=on)
    says = f"{end} is dead while the engine is cranked"
    dropped = [node for node in coils if node in run]
    if dropped:
        says += f": {', '.join(dropped)}, which closes its relay, drops out in crank"
    return holds(False, f"{says}. {feeding.better(build)}", on=on)


# -- terminals of the key switch --------------------------------------------------------------------------------------
def loaded_terminals(build: Build) -> list[Any]:
    """The terminals of the key switch that cables or coils hang on."""
    return [terminal for node, terminal in wiring.terminals(build).items() if _hanging(build, node)]


def _hanging(build: Build, node: str) -> list[Any]:
    cables = [cable for cable in power.cables(build) if cable.start == node and cable.end != key.SOLENOID]
    return cables + _coils(build, node)


def _coils(build: Build, node: str) -> list[Any]:
    return [cable for cable in power.cables(build) if node in wiring.closing(cable)]


def _node(build: Build, terminal: Any) -> str:
    return next(node for node, other in wiring.terminals(build).items() if path_of(other) == path_of(terminal))


@quantity(
    "controls.key-load",
    "current",
    "A",
    formula="Σ I of the cables that start at the terminal, and of the coils of the relays that it closes",
    sources=[practice("a terminal of the key switch carries all that hangs on it").giving("formula")],
    each=loaded_terminals,
)
def key_load(build: Build, terminal: Any) -> float:
    """Current that hangs on a terminal of the key switch, all on together; the starter's solenoid is left out."""
    node = _node(build, terminal)
    cables = [cable for cable in power.cables(build) if cable.start == node and cable.end != key.SOLENOID]
    found = sum(power_quantities.carried(build, cable) for cable in cables)
    scale = 12.0 / build.electrics.nominal_voltage  # a coil of the same power takes half the current at 24 V
    for cable in _coils(build, node):
        stated = given(lambda cable=cable: cable.coil_current)  # type: ignore[misc]
        found += scale * or_practice(lambda cable=cable: cable.coil_current, COIL) if stated is None else stated  # type: ignore[misc]
    return float(found)


@rule(
    "controls.key-load",
    level="error",
    due="quote",
    sources=[
        sheet("electrics.key_switch.terminals.*.rating"),
        CONTACT.giving("limit", "all that hangs on the terminal"),
    ],
    cautions=[cautions.FUEL_FIRE],
    fallbacks=[KEY_RATING, COIL],
    adjust=["electrics.cables.*.start"],
    about="electrics.key_switch",
    each=loaded_terminals,
    bad=[{"electrics.key_switch.terminals.run.rating": "1 A"}],
    good=[{"electrics.key_switch.terminals.run.rating": "5 A"}],
)
def key_terminal_load(build: Build, terminal: Any) -> Verdict:
    """Does each terminal of the key switch bear all that hangs on it: cables, and the coils of relays?

    Computes: the currents of the cables that start at the terminal, added up, and 0.15 A at 12 V for each relay coil
    that it closes where nothing else is stated.
    Limit: the terminal's rating, an error; without one 10 A, a warning.
    Consequence: The key switch runs hot and burns out, and all that hangs on it goes dead under way.
    Remedy: a relay for what takes most, so that the switch carries only its coil.
    Cannot tell: an old switch with worn contacts. The starter's solenoid is judged by controls.start-interlock.
    """
    current, on = key_load(build, terminal), f"{path_of(terminal)}.rating"
    stated = given(lambda: terminal.rating)
    rating = stated if stated is not None else or_practice(lambda: terminal.rating, KEY_RATING)
    says = f"{shown(current)} hang on the terminal, which bears {shown(rating, 'current', 'A')}"
    says += "." if current <= rating else ": put a relay into what takes most."
    level: feeding.Level = "error" if stated is not None and current > rating else "warning"
    return at_most(current, rating, says, level=level, on=on, unit=("current", "A"))
