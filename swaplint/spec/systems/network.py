"""Fields of the network system: the data bus, what hangs on it, and who sends what.

Wires join points, each under a word of the builder's choice: a tee, a node, an end. A node stands at the point of its
own name; the engine package is the node `engine`, and what it does on the bus stands in `engine.network`. A device that
joins two buses is two nodes. `python -m swaplint.kit dbc` turns the messages of a DBC file into these fields.
"""

from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DRAWING,
    LOOK,
    METER,
    TAPE,
    Part,
    Section,
    count,
    counts,
    flag,
    items,
    measure,
    parts,
    text,
    word,
)

J1939 = "SAE J1939"


class BusMessage(Section):
    """One message that a node sends."""

    group: float = count(
        "parameter group number; the identifier where the protocol has no groups",
        typical=61444,
        plausible=(0, 0x1FFFFFFF),
        where=COMPONENT_SHEET,
        zero=True,
    )
    name: str = text(
        "what it is called; no rule reads it", typical="electronic engine controller 1", where=COMPONENT_SHEET
    )
    period: float = measure(
        "time from one to the next", "time", "ms", typical=100, plausible=(5, 60000), where=COMPONENT_SHEET
    )
    bytes: float = count("bytes of data", typical=8, plausible=(0, 1785), where=COMPONENT_SHEET, zero=True)
    parameters: list[float] = counts(
        "numbers of the parameters in it that are really filled, and not sent as 'not available'",
        typical=190,
        plausible=(1, 600000),
        where=COMPONENT_SHEET,
    )
    on_request: bool = flag("whether it is sent only to those who ask for it", typical=False, where=COMPONENT_SHEET)


class BusNode(Part):
    """A device on the bus."""

    protocol: str = word(
        "protocol that it speaks",
        J1939,
        "other-29-bit",
        "other-11-bit",
        typical=J1939,
        where=COMPONENT_SHEET,
    )
    bit_rate: float = measure(
        "bit rate that it is set to",
        "bit_rate",
        "kbit/s",
        typical=250,
        plausible=(20, 1000),
        where=COMPONENT_SHEET,
        series=(250, 500),
    )
    address: float = count("address that it claims", typical=23, plausible=(0, 253), where=COMPONENT_SHEET, zero=True)
    self_configurable: bool = flag(
        "whether it takes another address by itself when its own is in use", typical=False, where=COMPONENT_SHEET
    )
    terminated: bool = flag("whether it has a terminator inside", typical=False, where=COMPONENT_SHEET)
    terminator: float = measure(
        "resistance of the terminator inside it",
        "resistance",
        "ohm",
        typical=120,
        plausible=(30, 1000),
        where=COMPONENT_SHEET,
    )
    sends: list[BusMessage] = items("what it sends", may_be_empty="a display may only listen")
    needs: list[float] = counts(
        "numbers of the parameters that it needs from the bus",
        typical=190,
        plausible=(1, 600000),
        where=COMPONENT_SHEET,
    )
    own_sensors: list[float] = counts(
        "numbers of those of its parameters that it measures by a sender of its own",
        typical=96,
        plausible=(1, 600000),
        where=DRAWING,
    )
    requests: bool = flag(
        "whether it asks for messages that are sent on request only", typical=True, where=COMPONENT_SHEET
    )
    listens_to: list[float] = counts(
        "addresses that it takes messages from; not stated where it takes them from anybody",
        typical=0,
        plausible=(0, 253),
        where=COMPONENT_SHEET,
    )


class BusWire(Part):
    """One length of bus cable, from point to point."""

    kind: str = word(
        "trunk: the line from end to end; stub: a branch from it to a node",
        "trunk",
        "stub",
        typical="trunk",
        where=DRAWING,
    )
    start: str = text("point that it starts at", typical="engine", where=DRAWING)
    end: str = text("point that it ends at", typical="cluster-tee", where=DRAWING)
    length: float = measure("length along its route", "length", "m", typical=2, plausible=(0.02, 40), where=TAPE)


class BusTerminator(Part):
    """A terminator in the wiring, not inside a device."""

    at: str = text("point that it stands at", typical="front-end", where=LOOK)
    resistance: float = measure("its resistance", "resistance", "ohm", typical=120, plausible=(30, 1000), where=METER)


class BusNetwork(Part):
    """The data bus, or several."""

    cable: str = word("kind of its cable", "shielded", "unshielded", typical="unshielded", where=LOOK)
    wires: dict[str, BusWire] = parts("its lengths of cable, each under its name", needed=True)
    nodes: dict[str, BusNode] = parts("the devices on it besides the engine package, each under its name", needed=True)
    terminators: dict[str, BusTerminator] = parts("terminators in the wiring, each under its name")
