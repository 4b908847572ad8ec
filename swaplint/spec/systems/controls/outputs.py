"""Fields of the engine's outputs, of lamps, gauges and the diagnostic connector."""

from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DATA_SHEET,
    DECISION,
    DRAWING,
    LOOK,
    MARKING,
    Part,
    Section,
    count,
    flag,
    measure,
    number,
    part,
    word,
    words,
)

WARNINGS = (
    "oil-pressure",
    "coolant-temperature",
    "charge",
    "brake",
    "vacuum",
    "brake-assist",
    "parking-brake",
    "fuel-level",
    "malfunction",
    "stop-engine",
    "wait-to-start",
    "water-in-fuel",
    "particulate-filter",
    "coolant-level",
)
"""What a warning lamp can tell the driver."""

DIAGNOSTIC_CONNECTORS = ("SAE J1962", "SAE J1939-13", "other")
DIAGNOSTIC_PROTOCOLS = ("ISO 15765-4", "SAE J1939", "ISO 14230", "other")


class TachOutput(Part):
    """The engine's output for a tachometer."""

    pulses_per_rev: float = number(
        "pulses for each turn of the engine", typical=2, plausible=(0.5, 40), where=DATA_SHEET
    )


class FanOutput(Part):
    """The engine's output for a fan."""

    kind: str = word(
        "what it is made to drive: a relay coil, a controller by pulse width, the coil of a fan clutch",
        "relay",
        "pulse-width",
        "clutch",
        typical="relay",
        where=DATA_SHEET,
    )
    current: float = measure(
        "highest current that it can switch", "current", "A", typical=0.5, plausible=(0.02, 20), where=DATA_SHEET
    )
    frequency: float = measure(
        "frequency of its pulses", "frequency", "Hz", typical=100, plausible=(5, 30000), where=DATA_SHEET
    )


class EngineOutputs(Section):
    """What the control unit gives to the vehicle by wire."""

    tach: TachOutput = part("the output for a tachometer")
    fan: FanOutput = part("the output for the fan")
    lamps: list[str] = words(
        "warnings that it has a lamp output for", *WARNINGS, typical="malfunction", where=DATA_SHEET
    )
    lamp_current_max: float = measure(
        "highest current of a lamp output",
        "current",
        "mA",
        typical=300,
        plausible=(5, 3000),
        where=DATA_SHEET,
        limit=True,
    )
    lamp_current_min: float = measure(
        "lowest current by which it knows that a lamp is there; 0 where it does not look",
        "current",
        "mA",
        typical=20,
        plausible=(0, 500),
        where=DATA_SHEET,
        zero=True,
    )
    signals: list[str] = words(
        "signals that it gives to other modules, by wire or bus", typical="engine-running", where=DATA_SHEET
    )


class WarningLamp(Part):
    """A warning lamp in the driver's view."""

    function: str = word("what it warns of", *WARNINGS, typical="oil-pressure", where=LOOK)
    driven_by: str = word(
        "what lights it: an output of the engine, a switch or sender of its own, a message on the bus",
        "engine-output",
        "own-switch",
        "bus",
        typical="own-switch",
        where=DRAWING,
    )
    current: float = measure("current that it takes", "current", "mA", typical=100, plausible=(1, 3000), where=MARKING)
    colour: str = word("its colour", "red", "amber", "green", "blue", "white", typical="red", where=LOOK)
    parameter: float = count(
        "number of the parameter on the bus that lights it, where it is driven by the bus",
        typical=110,
        plausible=(1, 600000),
        where=COMPONENT_SHEET,
    )


class Tachometer(Part):
    """The engine speed gauge in the dashboard."""

    source: str = word(
        "where its signal comes from",
        "engine-output",
        "alternator",
        "bus",
        typical="engine-output",
        where=DRAWING,
    )
    pulses_per_rev: float = number(
        "pulses for each turn of the engine that it is built for", typical=2, plausible=(0.5, 40), where=COMPONENT_SHEET
    )
    correction: float = number(
        "pulses out for each pulse in of a ratio box between; 1 without one",
        typical=1,
        plausible=(0.1, 10),
        where=DECISION,
    )
    only_guard: bool = flag(
        "whether it is all that keeps the driver from over-speeding the engine", typical=False, where=DATA_SHEET
    )


class EngineDiagnostics(Section):
    """How the engine package is diagnosed."""

    connector: str = word(
        "diagnostic connector that its tool plugs into", *DIAGNOSTIC_CONNECTORS, typical="SAE J1962", where=DATA_SHEET
    )
    protocol: str = word(
        "protocol that its tool speaks", *DIAGNOSTIC_PROTOCOLS, typical="ISO 15765-4", where=DATA_SHEET
    )
    required: bool = flag(
        "whether on-board diagnosis is part of the engine's certificate", typical=True, where=DATA_SHEET
    )


class DiagnosticConnector(Part):
    """The diagnostic connector in the vehicle."""

    connector: str = word("its type", *DIAGNOSTIC_CONNECTORS, typical="SAE J1962", where=LOOK)
    protocol: str = word("protocol that its wires carry", *DIAGNOSTIC_PROTOCOLS, typical="ISO 15765-4", where=DRAWING)
    in_reach: bool = flag("whether it is in reach from the driver's seat", typical=True, where=LOOK)
    needs_tool: bool = flag("whether a tool is needed to get at it", typical=False, where=LOOK)
