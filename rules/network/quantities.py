"""Derived numbers of the data bus."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, OutsideRange, Practice, given, or_practice, practice, quantity
from swaplint.engineering import can_bus

from .. import sources
from . import topology

LINE = sources.CAN_LINE.giving("fallback", "terminator of 120 Ω", known="second-hand")
TERMINATOR = Practice("terminator of 120 Ω", can_bus.TERMINATOR, LINE)
FRAMES = sources.FRAME_LENGTH.giving("formula", "length of a frame, with and without stuff bits", known="from memory")
PACKETS = sources.BUS_PACKETS.giving("formula", "packets of what has more than 8 bytes", known="from memory")
ADDED = practice("lengths along the real run add up")


@quantity(
    "network.trunk-length",
    "length",
    "m",
    formula="Σ L of the lengths of trunk cable",
    sources=[ADDED.giving("formula")],
    each=topology.lines,
)
def trunk_length(build: Build, line: Any) -> float:
    """Length of the trunk from end to end."""
    return float(sum(wire.length for wire in topology.bus_of(build, line).trunk))


def stubs_length(bus: topology.Bus) -> float:
    """Length of all stub cables of a bus together, m."""
    return float(sum(wire.length for wire in bus.stubs))


@quantity(
    "network.stub-length",
    "length",
    "m",
    formula="Σ L of the stub cables from the device to the trunk; 0 where it stands on the trunk",
    sources=[ADDED.giving("formula")],
    each=topology.nodes,
)
def stub_length(build: Build, node: Any) -> float:
    """Length of the branch from the trunk to a device."""
    bus = topology.bus_with(build, node)
    way = None if bus is None else bus.branch(topology.point_of(build, node))
    if way is None:
        raise OutsideRange("the device is not wired to a trunk")
    return float(sum(wire.length for wire in way))


@quantity(
    "network.termination",
    "resistance",
    "ohm",
    formula="R = 1/Σ(1/R_i)",
    sources=[LINE, sources.OHM.giving("formula", "resistances side by side")],
    each=topology.lines,
)
def termination(build: Build, line: Any) -> float:
    """Resistance between the two wires of a bus, measured with everything switched off."""
    found = [
        or_practice(lambda part=part: topology.resistance_of(part), TERMINATOR)  # type: ignore[misc]
        for _, part in topology.terminators(build, topology.bus_of(build, line))
    ]
    if not found:
        raise OutsideRange("the bus has no terminator")
    return can_bus.termination_resistance(found)


def bit_rate(bus: topology.Bus) -> float:
    """Bit rate of a bus: the one that most of its devices are set to, the engine's where they are even."""
    rates = [device.bit_rate for device in bus.devices.values()]
    if not rates:
        raise OutsideRange("no device is wired to the bus")
    return float(max(rates, key=rates.count))


def protocol(bus: topology.Bus) -> str:
    """Protocol of a bus: the one that most of its devices speak, the engine's where they are even."""
    spoken = [str(device.protocol) for device in bus.devices.values()]
    if not spoken:
        raise OutsideRange("no device is wired to the bus")
    return max(spoken, key=spoken.count)


def messages(bus: topology.Bus) -> list[can_bus.Message]:
    """The periodic messages of all devices on a bus."""
    found: list[can_bus.Message] = []
    for device in bus.devices.values():
        for message in device.sends:
            if not given(lambda message=message: message.on_request):  # type: ignore[misc]
                found.append(can_bus.Message(int(message.bytes), message.period, topology.is_extended(device)))
    return found


@quantity(
    "network.bus-load",
    "share",
    "%",
    formula="Σ (g + 8·bytes + 13)/period / bit rate, g = 54, or 34 with 11-bit identifiers; more than 8 bytes count "
    "as an announcement and packets of 8",
    sources=[FRAMES, PACKETS],
    each=topology.lines,
)
def bus_load(build: Build, line: Any) -> float:
    """Share of the time that periodic messages take on a bus, without stuff bits."""
    bus = topology.bus_of(build, line)
    return can_bus.bus_load(messages(bus), bit_rate(bus), worst_case=False)


@quantity(
    "network.worst-bus-load",
    "share",
    "%",
    formula="the same with g + 8·bytes + 13 + ⌊(g + 8·bytes - 1)/4⌋ bits in each frame",
    sources=[FRAMES, PACKETS],
    each=topology.lines,
)
def worst_bus_load(build: Build, line: Any) -> float:
    """Share of the time that periodic messages take on a bus, every frame as long as stuffing can make it."""
    bus = topology.bus_of(build, line)
    return can_bus.bus_load(messages(bus), bit_rate(bus), worst_case=True)
