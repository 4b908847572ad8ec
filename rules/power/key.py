"""What the key does to the wiring: which nodes are live in which of its positions, and which way a node is fed.

The network of cables is walked as everywhere in this pack. Relays conduct while a node that closes them is live, the
key switch as its terminals say, and a diode one way only.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from swaplint.api import Build, given, is_fitted, path_of
from swaplint.engineering import circuits

from . import network

SOLENOID = network.SOLENOID
EXCITATION = "alternator-excitation"
"""The terminal of the alternator that the charge lamp is wired to; live while the alternator turns."""
FAN = "fan"
ENGINE_OUTPUTS = ("ecm-relay", "ecm-fan", "ecm-heater")
"""Outputs of the engine's control unit that may be live as long as it is awake."""
OUTPUTS_LIVE = {"run": ("ecm-relay",), "crank": ("ecm-relay", "ecm-start")}
"""Outputs of the control unit that close relays, by the position of the key."""


def terminals(build: Build) -> dict[str, Any]:
    """The terminals of the key switch, by the node that each is."""
    return {f"{network.KEY}-{name}": terminal for name, terminal in build.electrics.key_switch.terminals.items()}


def closing(cable: Any) -> tuple[str, ...]:
    """The nodes that close the relay in a cable; none where it has no relay."""
    return tuple(given(lambda: cable.switched_by) or ())


def cables_at(build: Build, node: str) -> list[Any]:
    """The cables that end or start at a node."""
    return [cable for cable in network.cables(build) if node in (cable.start, cable.end)]


def one_way(cable: Any) -> bool:
    """Whether a diode lets current through a cable from its start to its end only."""
    return given(lambda: cable.diode) is True


def live(build: Build, position: str) -> frozenset[str]:
    """The nodes that are live in one position of the key.

    Outputs of the control unit are live once something else than they themselves has woken it.
    """
    joints, coils, diodes = _wiring(build, position)
    asleep = circuits.live_nodes(joints, _sources(build, position), coils, diodes)
    outputs = OUTPUTS_LIVE.get(position, ())
    if not any(output in coil for output in outputs for coil in (*coils, *joints)) or not _is_awake(build, asleep):
        return asleep
    return circuits.live_nodes(joints, _sources(build, position).union(outputs), coils, diodes)


def _is_awake(build: Build, asleep: frozenset[str]) -> bool:
    """Whether the control unit is awake where these nodes are live without it.

    One with no switched feed, or with none wired so far, which is told elsewhere, is taken to be woken otherwise.
    """
    wired = [pin for pin in awake_pins(build) if cables_at(build, pin)]
    return not wired or not asleep.isdisjoint(wired)


def held(build: Build, also: frozenset[str] = frozenset(), without: str = "") -> frozenset[str]:
    """The nodes that stay live as the key is turned from run to off; `also` are sources besides the battery.

    `without` is the path of a cable that is thought away.
    A relay that was closed stays closed while its coil is fed, even from what it feeds itself. The outputs of the
    control unit stay live while one of its switched feeds does.
    """
    joints, coils, diodes = _wiring(build, "run", without=without)
    asleep = circuits.live_nodes(joints, _sources(build, "run") | also, coils, diodes)
    # A feed that only the control unit's own relay closes keeps nothing awake: the unit lets go of it.
    pins = [pin for pin in awake_pins(build) if pin in asleep]
    outputs = OUTPUTS_LIVE["run"] if _is_awake(build, asleep) else ()
    joints, coils, diodes = _wiring(build, "run", pins, without)
    before = circuits.live_nodes(joints, (_sources(build, "run") | also).union(outputs), coils, diodes)
    joints, coils, diodes = _wiring(build, "off", pins, without)
    return circuits.held_nodes(joints, _sources(build, "off") | also, before, coils, diodes)


def awake_pins(build: Build) -> list[str]:
    """The nodes that keep the engine's control unit awake: where its switched feeds enter it."""
    unit = build.engine.ecm
    if not is_fitted(unit):
        return []
    return [network.engine_pin(name) for name, feed in unit.feeds.items() if feed.kind == "switched"]


def _wiring(
    build: Build, position: str, awake: Sequence[str] = (), without: str = ""
) -> tuple[list[tuple[str, str]], list[tuple[str, ...]], list[bool]]:
    """Cables and closed contacts of the key: the nodes that each joins, what closes it, whether it is one-way.

    From the nodes that keep the control unit awake its outputs are live.
    """
    parts = [cable for cable in network.cables(build) if path_of(cable) != without]
    joints = [(cable.start, cable.end) for cable in parts]
    coils = [closing(cable) for cable in parts]
    diodes = [one_way(cable) for cable in parts]
    if _key_is_fed(joints):
        joints += [(network.KEY, node) for node in _closed(build, position)]
    diodes += [False] * (len(joints) - len(diodes))
    joints += [(pin, output) for pin in awake for output in ENGINE_OUTPUTS]
    diodes += [True] * (len(joints) - len(diodes))
    coils += [()] * (len(joints) - len(coils))
    return joints, coils, diodes


def _closed(build: Build, position: str) -> list[str]:
    return [node for node, terminal in terminals(build).items() if position in tuple(terminal.live_in)]


def _key_is_fed(joints: list[tuple[str, str]]) -> bool:
    return any(network.KEY in pair for pair in joints)


def _sources(build: Build, position: str) -> frozenset[str]:
    found = {network.POSITIVE, network.AUXILIARY}
    if not _key_is_fed([(cable.start, cable.end) for cable in network.cables(build)]):
        found |= set(_closed(build, position))  # nobody states what feeds the key switch
    return frozenset(found)


def feeding(build: Build, node: str) -> list[Any] | None:
    """The cables from the nearest battery, or else from a terminal of the key switch, to a node; None without any."""
    parts = network.cables(build)
    from_batteries = [network.path(parts, source, node) for source in (network.POSITIVE, network.AUXILIARY)]
    found = min((way for way in from_batteries if way is not None), key=len, default=None)
    if found is not None:
        return found
    touching = {end for cable in parts for end in (cable.start, cable.end) if end.startswith(f"{network.KEY}-")}
    ways = [network.path(parts, terminal, node) for terminal in sorted(touching)]
    return min((way for way in ways if way is not None), key=len, default=None)


def direct(build: Build, node: str) -> bool:
    """Whether a node is joined to a battery with no relay and no key switch between."""
    parts = [cable for cable in network.cables(build) if not closing(cable)]
    joints = [(cable.start, cable.end) for cable in parts]
    batteries = (network.POSITIVE, network.AUXILIARY)
    return any(circuits.route(joints, source, node) is not None for source in batteries)


def terminal_on(way: list[Any]) -> str | None:
    """The terminal of the key switch that a way of cables takes its current from; None where none."""
    for cable in way:
        for end in (cable.start, cable.end):
            if end.startswith(f"{network.KEY}-"):
                return str(end)
    return None
