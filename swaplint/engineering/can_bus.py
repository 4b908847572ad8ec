"""Classical CAN: frame length, bus load, line limits, termination; J1939 identifiers.

Lengths count everything from the start of frame to the end of the interframe space, in bit times.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, NamedTuple

from .guards import ImpossibleInput, OutsideRange, not_negative, positive

UNSTUFFED_TAIL: Final = 13
"""Bits after the CRC sequence that are never stuffed.

CRC delimiter, acknowledge slot and delimiter, 7 of end of frame, 3 of interframe space (ISO 11898-1).
"""

CRC15_POLYNOMIAL: Final = 0x4599
"""x¹⁵ + x¹⁴ + x¹⁰ + x⁸ + x⁷ + x⁴ + x³ + 1 without its leading term (ISO 11898-1)."""

TERMINATOR: Final = 120.0
"""Resistance of one terminator, Ω; one at each end of the trunk (ISO 11898-2, SAE J1939-11 and -14)."""

PRACTICAL_BUS_LENGTHS: Final[tuple[tuple[float, float], ...]] = (
    (20e3, 2500.0),
    (50e3, 1000.0),
    (125e3, 500.0),
    (250e3, 250.0),
    (500e3, 100.0),
    (1e6, 25.0),
)
"""Bit rate, bit/s, to greatest bus length, m, of CAN in general. Common practice, looked up.

Public tables agree up to 500 kbit/s; at 1 Mbit/s they print 20 to 40 m. J1939 networks have their own,
shorter limits.
"""

LINE_DELAY: Final = 5e-9
"""Signal delay of a bus line, s/m, as ISO 11898-2 gives it for its example cable (from memory)."""

LOOP_DELAY: Final = 255e-9
"""Greatest delay of a transceiver from its input over the bus to its output, s (ISO 11898-2, from memory)."""

NULL_ADDRESS: Final = 254
GLOBAL_ADDRESS: Final = 255
"""J1939 addresses that no node may own (SAE J1939-81): not claimed, and to everybody."""


class TrunkLimits(NamedTuple):
    """Limits of one J1939 physical layer: trunk and stub, m; nodes; and how they are known."""

    trunk: float
    stub: float
    nodes: int
    known: str


J1939_TRUNK_LIMITS: Final[dict[str, TrunkLimits]] = {
    "SAE J1939-11": TrunkLimits(40.0, 1.0, 30, "stub looked up as quoted in an installation manual, rest from memory"),
    "SAE J1939-14": TrunkLimits(40.0, 1.0, 30, "looked up in a public summary"),
    "SAE J1939-15": TrunkLimits(40.0, 3.0, 10, "10 nodes up to the 2008 edition looked up, 30 later; stub from memory"),
}
"""Shielded 250 kbit/s (-11), 500 kbit/s (-14), unshielded 250 kbit/s (-15).

Sources disagree on the stub of -15: one summary prints 0.3 m and 1 m instead of 3 m.
"""


class Message(NamedTuple):
    """A periodic message: bytes of data, period s, identifier of 29 bits (else 11).

    More than 8 bytes are sent by the J1939 transport protocol as a broadcast.
    """

    data_bytes: int
    period: float
    extended: bool = True


def unstuffed_frame_length(data_bytes: int, extended: bool) -> int:
    """Length, bits, of a data frame of 0 to 8 bytes without any stuff bit: g + 8·s + 13, g = 34 or 54.

    >>> unstuffed_frame_length(8, extended=True)
    131
    """
    return _stuffable(data_bytes, extended) + UNSTUFFED_TAIL


def worst_case_frame_length(data_bytes: int, extended: bool) -> int:
    """Upper bound of the length, bits, of a data frame of 0 to 8 bytes, stuff bits included.

    g + 8·s + 13 + ⌊(g + 8·s − 1)/4⌋ with g = 34 (11-bit identifier) or 54 (29-bit). Source: Davis, Burns,
    Bril, Lukkien, "Controller Area Network (CAN) schedulability analysis", Real-Time Systems 35 (2007). It
    takes every stuffable bit as free; fixed control bits and the CRC keep real frames a little below it.

    >>> worst_case_frame_length(8, extended=False), worst_case_frame_length(8, extended=True)
    (135, 160)
    """
    stuffable = _stuffable(data_bytes, extended)
    return stuffable + UNSTUFFED_TAIL + (stuffable - 1) // 4


def _stuffable(data_bytes: int, extended: bool) -> int:
    _whole("data bytes", data_bytes, 0, 8)
    return (54 if extended else 34) + 8 * data_bytes


def stuffable_bits(identifier: int, data: bytes, extended: bool) -> list[int]:
    """Bits of a data frame from start of frame to the CRC sequence, before stuffing; 0 is dominant.

    Source: ISO 11898-1 frame formats; reserved bits dominant.

    >>> "".join(map(str, stuffable_bits(0x14, b"", extended=False)[:19]))
    '0000000101000000000'
    """
    _whole("data bytes", len(data), 0, 8)
    _whole("identifier", identifier, 0, 0x1FFFFFFF if extended else 0x7FF)
    bits = [0]
    if extended:
        bits += [*_bits(identifier >> 18, 11), 1, 1, *_bits(identifier & 0x3FFFF, 18), 0, 0, 0]
    else:
        bits += [*_bits(identifier, 11), 0, 0, 0]
    bits += _bits(len(data), 4)
    for byte in data:
        bits += _bits(byte, 8)
    return bits + _bits(crc15(bits), 15)


def crc15(bits: Sequence[int]) -> int:
    """CRC sequence of CAN over bits from the start of frame to the end of the data. Source: ISO 11898-1.

    >>> hex(crc15([int(b) for byte in b"123456789" for b in f"{byte:08b}"]))
    '0x59e'
    """
    register = 0
    for bit in bits:
        feedback = bit ^ (register >> 14)
        register = (register << 1) & 0x7FFF
        if feedback:
            register ^= CRC15_POLYNOMIAL
    return register


def stuff(bits: Sequence[int]) -> list[int]:
    """Bits as sent: after five equal bits in a row, stuff bits included, one opposite bit (ISO 11898-1).

    >>> stuff([0, 0, 0, 0, 0, 1, 1, 1, 1])
    [0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 0]
    """
    sent: list[int] = []
    for bit in bits:
        sent.append(bit)
        if sent[-5:] == [bit] * 5:
            sent.append(1 - bit)
    return sent


def frame_length(identifier: int, data: bytes, extended: bool) -> int:
    """Length, bits, of one particular data frame, its stuff bits and CRC worked out.

    >>> frame_length(0x14, bytes([1]), extended=False)
    58
    """
    return len(stuff(stuffable_bits(identifier, data, extended))) + UNSTUFFED_TAIL


def frames_of(data_bytes: int) -> list[int]:
    """Data bytes of each frame of a J1939 message: itself up to 8 bytes, else announcement and packets.

    Above 8 and up to 1785 bytes: a broadcast announcement of 8 bytes and ⌈n/7⌉ packets of 8. Source: SAE
    J1939-21 transport protocol, from memory; a connection between two nodes has a few frames more.

    >>> frames_of(8), len(frames_of(20))
    ([8], 4)
    """
    _whole("data bytes", data_bytes, 0, 1785)
    return [data_bytes] if data_bytes <= 8 else [8] * (1 + math.ceil(data_bytes / 7))


def bus_load(messages: Sequence[Message], bit_rate: float, *, worst_case: bool = True) -> float:
    """Share of the bus time that periodic messages take at a bit rate, bit/s; may exceed 1.

    Σ frame length / (period · bit rate), with the worst case of stuffing or with none. Errors are not in it.

    >>> round(bus_load([Message(8, 0.010), Message(8, 0.100)], 250e3), 4)
    0.0704
    """
    positive("bit rate", bit_rate)
    length = worst_case_frame_length if worst_case else unstuffed_frame_length
    per_second = 0.0
    for message in messages:
        bits = sum(length(data_bytes, message.extended) for data_bytes in frames_of(message.data_bytes))
        per_second += bits / positive("period", message.period)
    return per_second / bit_rate


def practical_bus_length(bit_rate: float) -> float:
    """Greatest practical bus length, m, at a bit rate, bit/s, for CAN in general: the next faster entry's.

    Common practice, `PRACTICAL_BUS_LENGTHS`; above 1 Mbit/s `OutsideRange`. J1939: `J1939_TRUNK_LIMITS`.

    >>> practical_bus_length(250e3), practical_bus_length(200e3)
    (250.0, 250.0)
    """
    positive("bit rate", bit_rate)
    for rate, length in PRACTICAL_BUS_LENGTHS:
        if bit_rate <= rate:
            return length
    raise OutsideRange(f"a bit rate of {bit_rate / 1e3:g} kbit/s is above 1 Mbit/s, the end of classical CAN")


def round_trip_bits(
    length: float, bit_rate: float, line_delay: float = LINE_DELAY, loop_delay: float = LOOP_DELAY
) -> float:
    """Time there and back between two end nodes in bit times: 2·(length·line delay + loop delay)·bit rate.

    Arbitration needs it before the sample point, about 0.8 of a bit. Source: ISO 11898-1, propagation
    segment.

    >>> round(round_trip_bits(40.0, 500e3), 3)
    0.455
    """
    delay = not_negative("length", length) * not_negative("line delay", line_delay)
    return 2.0 * (delay + not_negative("loop delay", loop_delay)) * positive("bit rate", bit_rate)


def termination_resistance(terminators: Sequence[float]) -> float:
    """Resistance, Ω, between the two bus wires with these terminators in parallel, all nodes unpowered.

    No terminator at all reads as infinite. Source: parallel resistors.

    >>> [round(termination_resistance([120.0] * n), 1) for n in (1, 2, 3)]
    [120.0, 60.0, 40.0]
    """
    conductance = sum(1.0 / positive("terminator", resistance) for resistance in terminators)
    return 1.0 / conductance if conductance > 0.0 else math.inf


class J1939Identifier(NamedTuple):
    """Parts of a J1939 identifier. `destination` is None for a group that is always broadcast."""

    priority: int
    group: int
    source: int
    destination: int | None = None


def compose_identifier(parts: J1939Identifier) -> int:
    """29-bit identifier of priority 0 to 7, parameter group number, source address and destination address.

    A group whose PDU format byte is below 240 is addressed: its lowest byte is 0 and it needs a destination
    (255 for everybody). From 240 it is broadcast and takes none. Source: SAE J1939-21.

    >>> hex(compose_identifier(J1939Identifier(6, 65262, 0)))
    '0x18feee00'
    """
    _whole("priority", parts.priority, 0, 7)
    _whole("parameter group number", parts.group, 0, 0x3FFFF)
    _whole("source address", parts.source, 0, 255)
    group = parts.group
    if _addressed(group):
        if group & 0xFF or parts.destination is None:
            raise ImpossibleInput(f"group {group} is addressed: its lowest byte must be 0 and it needs a destination")
        group |= _whole("destination address", parts.destination, 0, 255)
    elif parts.destination is not None:
        raise ImpossibleInput(f"group {group} is broadcast and takes no destination")
    return parts.priority << 26 | group << 8 | parts.source


def split_identifier(identifier: int) -> J1939Identifier:
    """Parts of a 29-bit J1939 identifier; the inverse of `compose_identifier`. Source: SAE J1939-21.

    >>> split_identifier(0x18FF72E0)
    J1939Identifier(priority=6, group=65394, source=224, destination=None)
    """
    _whole("identifier", identifier, 0, 0x1FFFFFFF)
    group = identifier >> 8 & 0x3FFFF
    priority, source = identifier >> 26, identifier & 0xFF
    if _addressed(group):
        return J1939Identifier(priority, group & 0x3FF00, source, group & 0xFF)
    return J1939Identifier(priority, group, source)


def _addressed(group: int) -> bool:
    return group >> 8 & 0xFF < 240


def _bits(value: int, width: int) -> list[int]:
    return [value >> place & 1 for place in reversed(range(width))]


def _whole(name: str, value: int, low: int, high: int) -> int:
    if not low <= value <= high:
        raise ImpossibleInput(f"{name} must lie between {low} and {high}, not {value}")
    return value
