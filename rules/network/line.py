"""Rules of the bus as a line: bit rate, trunk, stubs, termination."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
    Source,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    does_not_apply,
    given,
    holds,
    needs_review,
    path_of,
    practice,
    rule,
    shown,
    within,
)
from swaplint.engineering import can_bus, circuits
from swaplint.spec.systems.network import J1939

from .. import sources
from . import quantities as q
from . import topology

N = "electrics.network"
UNSHIELDED = "SAE J1939-15"
"""The document whose length of trunk holds for trunk and stubs together."""
J1939_RATES = (250e3, 500e3)
GENERAL_LENGTH = practice("longest bus of CAN in general, by bit rate: public tables agree up to 500 kbit/s")
GENERAL_DEVICES = practice("30 devices on a bus of CAN in general")
GENERAL_STUB = practice("stub of 1 m up to 500 kbit/s on a bus of CAN in general: some makers' tables allow 5 m")
APART = practice("tees at least 0.1 m apart")
TERMINATOR_POWER = practice("a terminator of 0.25 W or more")
TEE_DISTANCE = 0.1
SINGLE_LOW, SINGLE_HIGH = 108.0, 132.0
"""120 Ω, 10 % less or more."""
PAIR_LOW, PAIR_HIGH = 54.0, 66.0
"""Two of them in parallel."""
GENERAL_STUB_LENGTH, FAST_STUB_LENGTH, FAST_RATE = 1.0, 0.3, 500e3
"""Stub of a bus of CAN in general, m, up to that bit rate, bit/s, and above it."""
LATER_DEVICES = 30
"""Devices on an unshielded bus since 2014: from memory."""


def limits(build: Build, bus: topology.Bus) -> tuple[can_bus.TrunkLimits, str]:
    """The limits of a bus, and the document that they stand in."""
    rate = q.bit_rate(bus)
    if q.protocol(bus) != J1939:
        length = can_bus.practical_bus_length(rate)
        stub = FAST_STUB_LENGTH if rate > FAST_RATE else GENERAL_STUB_LENGTH
        return can_bus.TrunkLimits(length, stub, 30, "common practice"), "CAN in general"
    if rate > 250e3:
        name = "SAE J1939-14"
    else:
        name = "SAE J1939-11" if build.electrics.network.cable == "shielded" else UNSHIELDED
    return can_bus.J1939_TRUNK_LIMITS[name], name


RATES: list[Source] = [
    sources.BUS_SHIELDED.giving("limit", "250 kbit/s", known="second-hand"),
    sources.BUS_FAST.giving("limit", "500 kbit/s", known="second-hand"),
    sources.BUS_UNSHIELDED.giving("limit", "250 kbit/s", known="second-hand"),
]
"""The rates stand in the titles of the documents."""
TRUNKS: list[Source] = [
    sources.BUS_SHIELDED.giving("limit", "40 m of trunk", known="second-hand"),
    sources.BUS_SHIELDED.giving("limit", "30 devices", known="from memory", demands=["devices"]),
    sources.BUS_FAST.giving("limit", "40 m of trunk, 30 devices", known="second-hand"),
    sources.BUS_UNSHIELDED.giving("limit", "40 m of trunk and stubs together", known="second-hand"),
    sources.BUS_UNSHIELDED.giving(
        "limit", "10 devices in editions before 2014", known="second-hand", demands=["devices"]
    ),
    sources.BUS_UNSHIELDED.giving("limit", "30 devices since", known="from memory", demands=["devices"]),
]
STUBS: list[Source] = [
    sources.BUS_SHIELDED.giving("limit", "stub of 1 m", known="second-hand"),
    sources.BUS_FAST.giving("limit", "stub of 1 m", known="second-hand"),
    sources.BUS_UNSHIELDED.giving("limit", "stub of 3 m", known="second-hand"),
    sources.CAN_LINE.giving("limit", "stub of 0.3 m at 1 Mbit/s", known="second-hand"),
]


# -- bit rate ---------------------------------------------------------------------------------------------------------
@rule(
    "network.bit-rate",
    level="error",
    due="quote",
    sources=[*RATES],
    adjust=[f"{N}.nodes.*.bit_rate"],
    about=f"{N}.nodes",
    each=topology.lines,
    bad=[{f"{N}.nodes.cluster.bit_rate": "500 kbit/s"}, {f"{N}.nodes.cluster.protocol": "other-29-bit"}],
    good=[{f"{N}.nodes.*.bit_rate": "500 kbit/s", "engine.network.bit_rate": "500 kbit/s"}],
)
def bit_rate(build: Build, line: Any) -> Verdict:
    """Do all devices on one bus run the same bit rate and speak the same protocol?

    Computes: nothing; it compares the devices that hang on the same trunk.
    Limit: all equal; 250 or 500 kbit/s for SAE J1939. One device with another rate brings the whole bus down.
    Consequence: One odd device brings the whole bus down: dead gauges, stored faults, an engine that limps.
    Remedy: set the device that differs to the rate of the others, or put it behind a gateway on a bus of its own.
    Cannot tell: devices that find the rate by themselves and never send first; the sample point.
    """
    bus = topology.bus_of(build, line)
    devices = bus.devices
    if len(devices) < 2:
        return does_not_apply("Fewer than two devices are wired to this bus.")
    rate = q.bit_rate(bus)
    protocol = q.protocol(bus)
    demands: dict[str, Callable[[], Verdict]] = {}
    for point, device in devices.items():
        demands[f"rate.{point}"] = lambda point=point, device=device: _same_rate(point, device, rate)  # type: ignore[misc]
        demands[f"protocol.{point}"] = lambda point=point, device=device: _same_protocol(point, device, protocol)  # type: ignore[misc]
    if protocol == J1939:
        demands["rate-of-protocol"] = lambda: _known_rate(next(iter(devices.values())), rate)
    return all_of(demands)


def _same_rate(point: str, device: Any, rate: float) -> Verdict:
    same, on, at = bool(device.bit_rate == rate), f"{path_of(device)}.bit_rate", shown(device.bit_rate)
    says = f"{point} runs at {at}, as its bus does."
    if not same:
        says = (
            f"{point} is set to {at}, the others run at {shown(rate, 'bit_rate', 'kbit/s')}: set it, or use a gateway."
        )
    return holds(same, says, on=on, advice=advice(on, rate))


def _same_protocol(point: str, device: Any, protocol: str) -> Verdict:
    same = bool(device.protocol == protocol)
    says = f"{point} speaks {protocol}, as its bus does."
    if not same:
        says = f"{point} speaks {_spoken(device.protocol)}, the others {_spoken(protocol)}: use a gateway."
    return holds(same, says, on=f"{path_of(device)}.protocol")


def _known_rate(first: Any, rate: float) -> Verdict:
    known = rate in J1939_RATES
    says = f"{shown(rate, 'bit_rate', 'kbit/s')} is {'a' if known else 'no'} rate of SAE J1939: 250 or 500 kbit/s."
    return holds(known, says, on=f"{path_of(first)}.bit_rate")


# -- trunk ------------------------------------------------------------------------------------------------------------
@rule(
    "network.trunk-length",
    level="error",
    due="quote",
    changed={
        "0.2.0": "Leaves 11 to 30 devices on an unshielded SAE J1939 bus to a person: the number hangs on the edition. "
        "Counts its stubs in the 40 m.",
    },
    sources=[
        *TRUNKS,
        GENERAL_LENGTH.giving("limit", "length of trunk of other buses"),
        GENERAL_DEVICES.giving("limit", "devices of other buses"),
    ],
    adjust=[f"{N}.wires.*.length"],
    about=f"{N}.wires",
    each=topology.lines,
    bad=[
        {f"{N}.wires.middle.length": "45 m"},
        {f"{N}.wires.spur": {"kind": "trunk", "start": "cluster-tee", "end": "boot", "length": "2 m"}},
    ],
    good=[{f"{N}.wires.middle.length": "20 m"}],
)
def trunk_length(build: Build, line: Any) -> Verdict:
    """Is the trunk one line, short enough, with not too many devices?

    Computes: the length of the trunk from end to end, how many lengths of cable meet at each point, the devices on
    it.
    Limit: one line with two ends: no star, no ring, one stub to a tee. 40 m and 30 devices (SAE J1939-11, -14 and -15;
    on the unshielded -15 the stubs count in the 40 m); other buses by bit rate (common practice). Length and shape are
    errors, the number of devices a warning. Editions of -15 before 2014 allow 10 devices: between 10 and 30 a person
    looks up for which one they are made.
    Consequence: Messages get lost now and then: gauges drop out and come back, and nobody finds the fault.
    Remedy: a shorter run, the branch as a stub, or a second bus behind a gateway.
    Cannot tell: the cable: 120 Ω, less than 70 pF/m; a planned length is 15 % off.
    """
    bus = topology.bus_of(build, line)
    return all_of(
        shape=lambda: _shape(bus),
        length=lambda: _short_enough(build, line, bus),
        devices=lambda: _few_enough(build, bus),
    )


def _short_enough(build: Build, line: Any, bus: topology.Bus) -> Verdict:
    (allowed, name), trunk = limits(build, bus), q.trunk_length(build, line)
    most, stubs = shown(allowed.trunk, "length", "m"), q.stubs_length(bus) if name == UNSHIELDED else 0.0
    if not stubs:
        says = f"The trunk is {shown(trunk)} long; {name} allows {most}."
        return at_most(trunk, allowed.trunk, says, on=f"{path_of(line)}.length")
    found = trunk + stubs
    says = (
        f"Trunk and stubs are {shown(found, 'length', 'm')} long, the trunk {shown(trunk)} of it; {name} allows {most} "
    )
    says += "with the stubs."
    return at_most(found, allowed.trunk, says, on=f"{path_of(line)}.length", unit=("length", "m"))


def _few_enough(build: Build, bus: topology.Bus) -> Verdict:
    (allowed, name), number = limits(build, bus), len(bus.devices)
    says = f"{number} devices hang on this bus; {name} allows {max(allowed.nodes, LATER_DEVICES)}."
    if allowed.nodes < number <= LATER_DEVICES:
        says = f"{number} devices hang on this bus; {name} allows {allowed.nodes} in editions before 2014, more since."
        says += " Ask the makers of the devices for which edition they are made, or put some behind a gateway."
        return needs_review(says, on=f"{N}.nodes")
    most = max(allowed.nodes, LATER_DEVICES)
    return at_most(float(number), float(most), says, level="warning", on=f"{N}.nodes")


def _spoken(protocol: object) -> str:
    """A protocol in a sentence."""
    return f"another protocol ({str(protocol)[6:]})" if str(protocol).startswith("other-") else str(protocol)


def _shape(bus: topology.Bus) -> Verdict:
    trunk = bus.trunk
    pairs = bus.trunk_pairs
    ways = circuits.ways_at(pairs)
    stars = [point for point, number in ways.items() if number > 2]
    if stars:
        last = next(wire for wire in reversed(trunk) if stars[0] in (wire.start, wire.end))
        says = (
            f"Three or more lengths of trunk meet at {', '.join(stars)}: a star. Make it one line, with stubs to "
            "devices."
        )
        return holds(False, says, on=f"{path_of(last)}.kind")
    if not circuits.is_line(pairs):
        return holds(False, "The trunk closes into a ring: open it, and terminate both ends.", on=path_of(trunk[0]))
    stubs = circuits.ways_at(bus.stub_pairs)
    crowded = [point for point in sorted(bus.trunk_points) if stubs.get(point, 0) > 1]
    if crowded:
        return holds(
            False, f"More than one stub starts at {', '.join(crowded)}: give each a tee of its own.", on=f"{N}.wires"
        )
    return holds(True, "The trunk is one line with two ends.")


# -- stubs ------------------------------------------------------------------------------------------------------------
@rule(
    "network.stub-length",
    level="warning",
    due="build",
    changed={
        "0.2.0": "Allows longer stubs up to 500 kbit/s on a bus that is not SAE J1939, and warns there alone.",
    },
    sources=[
        *STUBS,
        GENERAL_STUB.giving("limit", "stub of other buses"),
        APART.giving("limit", "0.1 m between tees"),
    ],
    adjust=[f"{N}.wires.*.length"],
    about=f"{N}.wires",
    each=topology.nodes,
    bad=[
        {f"{N}.wires.cluster.length": "3.2 m"},
        {f"{N}.cable": "shielded", f"{N}.wires.cluster.length": "1.2 m"},
        {f"{N}.wires.middle.length": "0.05 m"},
        {f"{N}.wires.cluster": None},
    ],
    good=[{f"{N}.wires.cluster.length": "2.9 m"}],
)
def stub_length(build: Build, node: Any) -> Verdict:
    """Is the branch to each device short enough?

    Computes: the length of stub cable from the device to the trunk, and from its tee to the next.
    Limit: 1 m on a shielded trunk (SAE J1939-11) and at 500 kbit/s (-14), 3 m on an unshielded one at 250 kbit/s
    (-15; public summaries disagree); an error above twice that. On other buses 0.3 m at 1 Mbit/s (ISO 11898-2) and 1 m
    up to 500 kbit/s (common practice, cautious: tables of bus makers go up to 5 m), a warning. Tees at least 0.1 m
    apart. A device that is not wired to a trunk at all is an error.
    Consequence: The device drops off the bus now and then or never comes up, and may disturb the others.
    Remedy: move the tee along the trunk until the stub is short enough, or loop the trunk through the device's
    connector, which makes the trunk longer.
    Cannot tell: reflections themselves; the harness as built against its drawing.
    """
    point = topology.point_of(build, node)
    bus = topology.bus_with(build, node)
    way = None if bus is None else bus.branch(point)
    if bus is None or way is None:
        says = f"No bus cable joins {point} to a trunk."
        return all_of(wired=lambda: holds(False, says, level="error", on=path_of(node)))
    return all_of(length=lambda: _near_enough(build, node, bus, way), apart=lambda: _apart(bus, point))


def _near_enough(build: Build, node: Any, bus: topology.Bus, way: list[Any]) -> Verdict:
    (allowed, name), found = limits(build, bus), q.stub_length(build, node)
    most = shown(allowed.stub, "length", "m")
    says = f"The stub to {topology.point_of(build, node)} is {shown(found)} long; {name} allows {most}."
    if not way:
        return at_most(found, allowed.stub, says, on=path_of(node))
    excess, longest = found - allowed.stub, max(way, key=lambda wire: wire.length)
    on = f"{path_of(longest)}.length"
    if excess > 0.0:
        looped = q.trunk_length(build, bus.trunk[0]) + 2.0 * excess
        says += " Move its tee nearer, or loop the trunk through its connector: the trunk is then "
        says += f"{shown(looped, 'length', 'm')} long."
    level: Any = "error" if q.protocol(bus) == J1939 and found > 2.0 * allowed.stub else "warning"
    nearer = advice(on, longest.length - excess) if longest.length > excess else None
    return at_most(found, allowed.stub, says, level=level, on=on, advice=nearer)


def _apart(bus: topology.Bus, point: str) -> Verdict:
    tee, ends = bus.joins_at(point), bus.ends()
    for wire, pair in zip(bus.trunk, bus.trunk_pairs, strict=True):
        others = [end for end in pair if end != tee]
        if tee not in pair or not others or others[0] in ends:
            continue
        if wire.length < TEE_DISTANCE and point == _first_at(bus, pair):
            least = shown(TEE_DISTANCE, "length", "m")
            says = f"The tee of {point} is {shown(wire.length)} from the next one; {least} or more are asked for."
            on = f"{path_of(wire)}.length"
            return at_least(wire.length, TEE_DISTANCE, says, on=on, advice=advice(on, TEE_DISTANCE))
    return holds(True, "Its tee stands clear of the next.")


def _first_at(bus: topology.Bus, tees: tuple[str, str]) -> str:
    """Of the devices that join the trunk at two tees the first one, which tells for both that they are too near."""
    return next(device for device in bus.devices if bus.joins_at(device) in tees)


# -- termination ------------------------------------------------------------------------------------------------------
@rule(
    "network.termination",
    level="error",
    due="quote",
    changed={"0.2.0": "Allows 10 % off 120 ohm and off two in parallel, before 110 to 130 and 55 to 65 ohm."},
    sources=[
        sources.CAN_LINE.giving("limit", "two terminators of 120 Ω", known="second-hand"),
        sources.BUS_FAST.giving("limit", "120 Ω within 10 %", known="second-hand"),
        TERMINATOR_POWER.giving("limit", "0.25 W"),
    ],
    fallbacks=[q.TERMINATOR],
    adjust=[f"{N}.nodes.*.terminated"],
    about=f"{N}.terminators",
    each=topology.lines,
    bad=[
        {f"{N}.nodes.cluster.terminated": True},
        {f"{N}.terminators.front": None},
        {f"{N}.terminators.front.at": "cluster-tee"},
        {f"{N}.terminators.front.resistance": "60 ohm"},
    ],
    good=[{f"{N}.terminators.front.resistance": "124 ohm"}],
)
def termination(build: Build, line: Any) -> Verdict:
    """Are there two terminators of 120 Ω, one at each end of the trunk?

    Computes: the resistance of all terminators in parallel, those inside devices included; where each stands along
    the trunk.
    Limit: two, each at an end of the trunk and each of 108 to 132 Ω, which is 120 Ω within 10 %: together 54 to 66 Ω.
    Three give 40 Ω, one 120 Ω; 100 Ω and 150 Ω read 60 Ω as well, and both ends reflect.
    Consequence: Messages come garbled: gauges flicker or stay dead, and the engine stores faults of the bus.
    Remedy: take out the terminator that is too many, or fit one of 120 Ω and 0.25 W or more at the end that has none;
    a meter then reads 60 Ω.
    Cannot tell: a resistor that nobody has stated: measure between the two wires with everything switched off.
    """
    bus = topology.bus_of(build, line)
    if not circuits.is_line(bus.trunk_pairs):
        return does_not_apply("The trunk is not one line with two ends: see network.trunk-length.")
    found = topology.terminators(build, bus)
    stands = [(point, part, bus.joins_at(point)) for point, part in found]
    free = bus.ends()
    right, wrong = [], []
    # What is fixed in the harness keeps its end before what a device brings along.
    for point, part, tee in sorted(stands, key=lambda entry: topology.is_inside(entry[1])):
        if tee in free:
            free.remove(tee)
            right.append((point, part))
        else:
            wrong.append((point, part))
    if free and not wrong:
        len(build.electrics.network.terminators)  # where nobody lists any it is asked for, and no end is bare yet
    total = q.termination(build, line) if found else None
    listed = ", ".join(point for point, _, _ in stands) or "none"
    says = f"Terminators at {listed}: {len(found)}"
    says += f", {shown(total)} together." if total is not None else "."
    if wrong:
        names = " and ".join(
            f"the one {'inside' if topology.is_inside(part) else 'at'} {point}" for point, part in wrong
        )
        several = len(wrong) > 1
        says += f" {names[0].upper()}{names[1:]} stand{'' if several else 's'} at no free end of the trunk: take "
        says += "them out." if several else "it out."
    if free:
        says += f" Fit 120 Ω, 0.25 W or more, at {' and at '.join(free)}."
    odd = [point for point, part in right if not SINGLE_LOW <= _resistance(part) <= SINGLE_HIGH]
    if odd:
        says += f" Put 120 Ω in the place of what is at {' and at '.join(odd)}."
    if wrong or free or odd:
        says += " A meter then reads 60 Ω."
    on, help = f"{N}.terminators", None
    if wrong:
        part = wrong[0][1]
        on = f"{path_of(part)}.{'terminated' if topology.is_inside(part) else 'at'}"
        help = advice(on, False) if topology.is_inside(part) else advice(on, free[0]) if free else None
    if total is None:
        return holds(False, says, on=on)
    if wrong or free:
        inside = PAIR_LOW <= total <= PAIR_HIGH
        if inside:
            return holds(False, says, on=on, advice=help)
        return within(total, PAIR_LOW, PAIR_HIGH, says, on=on, advice=help)
    part = _odd_one(right)
    on = f"{path_of(part)}.{'terminator' if topology.is_inside(part) else 'resistance'}"
    help = advice(on, can_bus.TERMINATOR)
    if odd and PAIR_LOW <= total <= PAIR_HIGH:  # what one has too much the other has too little
        return within(_resistance(part), SINGLE_LOW, SINGLE_HIGH, says, on=on, unit=("resistance", "ohm"), advice=help)
    return within(total, PAIR_LOW, PAIR_HIGH, says, on=on, advice=help)


def _odd_one(parts: list[tuple[str, Any]]) -> Any:
    """The terminator that is furthest from 120 Ω."""
    return max(parts, key=lambda entry: abs(_resistance(entry[1]) - can_bus.TERMINATOR))[1]


def _resistance(part: Any) -> float:
    stated = given(lambda: topology.resistance_of(part))
    return can_bus.TERMINATOR if stated is None else stated
