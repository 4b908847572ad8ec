"""The wiring of the controls, walked: what is live in which position of the key, and which way it is fed.

The network of cables is the one that the power pack walks. Relays conduct while a node that closes them is live, the
key switch as its terminals say.
"""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, OutsideRange, Practice, given, is_fitted, name_of, or_practice, practice, quantity
from swaplint.engineering import circuits, conductors

from .. import sources
from ..power import network as power
from ..power import quantities as power_quantities

SOLENOID = "solenoid"
DIAGNOSTIC = "diagnostic"
FAN_OUTPUT = "ecm-fan"
OUTPUTS_LIVE = {"run": ("ecm-relay",), "crank": ("ecm-relay", "ecm-start")}
"""Outputs of the control unit that close relays, by the position of the key."""

FEED_DROP = Practice(
    "0.5 V lost on a 12 V control unit feed at its highest current",
    0.5,
    practice("0.5 V lost on a feed of a 12 V control unit, there and back"),
)


def terminals(build: Build) -> dict[str, Any]:
    """The terminals of the key switch, by the node that each is."""
    return {f"{power.KEY}-{name}": terminal for name, terminal in build.electrics.key_switch.terminals.items()}


def closing(cable: Any) -> tuple[str, ...]:
    """The nodes that close the relay in a cable; none where it has no relay."""
    return tuple(given(lambda: cable.switched_by) or ())


def cables_at(build: Build, node: str) -> list[Any]:
    """The cables that end or start at a node."""
    return [cable for cable in power.cables(build) if node in (cable.start, cable.end)]


def live(build: Build, position: str) -> frozenset[str]:
    """The nodes that are live in one position of the key."""
    parts = power.cables(build)
    joints = [(cable.start, cable.end) for cable in parts]
    coils = [closing(cable) for cable in parts]
    closed = [node for node, terminal in terminals(build).items() if position in tuple(terminal.live_in)]
    live_from = {power.POSITIVE, *OUTPUTS_LIVE.get(position, ())}
    if any(power.KEY in pair for pair in joints):
        joints += [(power.KEY, node) for node in closed]
        coils += [()] * len(closed)
    else:
        live_from |= set(closed)  # nobody states what feeds the key switch
    return circuits.live_nodes(joints, live_from, coils)


def feeding(build: Build, node: str) -> list[Any] | None:
    """The cables from the battery, or else from a terminal of the key switch, to a node; None where none lead there."""
    parts = power.cables(build)
    found = power.path(parts, power.POSITIVE, node)
    if found is not None:
        return found
    touching = {end for cable in parts for end in (cable.start, cable.end) if end.startswith(f"{power.KEY}-")}
    ways = [power.path(parts, terminal, node) for terminal in sorted(touching)]
    return min((way for way in ways if way is not None), key=len, default=None)


def direct(build: Build, node: str) -> bool:
    """Whether a node is joined to the battery with no relay and no key switch between."""
    parts = [cable for cable in power.cables(build) if not closing(cable)]
    joints = [(cable.start, cable.end) for cable in parts]
    return circuits.route(joints, power.POSITIVE, node) is not None


def feeds(build: Build) -> list[Any]:
    """The feeds that the engine's control unit asks for."""
    return list(build.engine.ecm.feeds.values()) if is_fitted(build.engine.ecm) else []


def fed(build: Build) -> list[Any]:
    """Those of the feeds that a cable leads to."""
    return [feed for feed in feeds(build) if cables_at(build, pin_of(feed))]


def pin_of(feed: Any) -> str:
    """The node where a feed enters the control unit."""
    return power.engine_pin(name_of(feed))


@quantity(
    "controls.feed-drop",
    "voltage",
    "V",
    formula="ΔU = I_max · (Σ R of the cables from battery or key to the pin + R_back), at 20 °C",
    sources=[sources.CONDUCTOR_RESISTANCE, sources.OHM],
    each=fed,
)
def feed_drop(build: Build, feed: Any) -> float:
    """Voltage lost on a feed of the control unit at its highest current, there and back."""
    way = feeding(build, pin_of(feed))
    if not way:
        raise OutsideRange(f"no cable leads from {power.POSITIVE} or from the key switch to {pin_of(feed)}")
    out = sum(power_quantities.cable_resistance(build, cable) for cable in way)
    return conductors.voltage_drop(feed.current, out + power_quantities.cable_return(build, way[-1]))


def drop_limit(build: Build, feed: Any) -> float:
    """Voltage that may be lost on a feed: the sheet's, else common practice in proportion to the system's voltage."""
    stated = given(lambda: feed.drop_max)
    if stated is not None:
        return float(stated)
    return or_practice(lambda: feed.drop_max, FEED_DROP) * float(build.electrics.nominal_voltage) / 12.0
