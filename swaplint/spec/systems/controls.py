"""Fields of the control system: key switch, feeds and place of the control unit, its harness, pedal, lamps, signals.

The wiring is that of the power system: cables join nodes. Some nodes have a meaning here. `key` is the supply of the
key switch, `key-run` its terminal `run`; `ecm-main` is where the feed `main` of the engine's data sheet enters the
control unit, and `gearbox-main` or `display-main` the same of another one; `solenoid` is that of the starter,
`stop-solenoid` and `ignition` what stops the engine; `diagnostic` the diagnostic connector. Outputs of the control unit
close relays: `ecm-relay` while the key is in run or crank, `ecm-start` while the engine is cranked, `ecm-fan` for the
fan, `ecm-heater` for heaters of the intake air.
"""

from swaplint.spec.fields import (
    CALLIPER,
    COMPONENT_SHEET,
    DATA_SHEET,
    DECISION,
    DRAWING,
    DRIVELINE_SHEET,
    LOOK,
    MANUAL,
    MARKING,
    METER,
    PROTRACTOR,
    TAPE,
    TRIAL,
    Part,
    Section,
    count,
    flag,
    measure,
    number,
    part,
    parts,
    text,
    word,
    words,
)

KEY_POSITIONS = ("off", "accessory", "run", "crank")

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


# -- feeds of the control unit ----------------------------------------------------------------------------------------
class EcmFeed(Section):
    """One feed that the engine's control unit asks for, by the pin or group of pins it enters at."""

    kind: str = word(
        "constant: live whatever the key says; switched: live while the key says so",
        "constant",
        "switched",
        typical="constant",
        where=DATA_SHEET,
    )
    current: float = measure(
        "highest current that it draws", "current", "A", typical=15, plausible=(0.01, 80), where=DATA_SHEET
    )
    fuse: float = measure(
        "rating of the fuse that the engine maker asks for",
        "current",
        "A",
        typical=20,
        plausible=(1, 100),
        where=DATA_SHEET,
    )
    live_in_crank: bool = flag("whether it must stay live while the engine is cranked", typical=True, where=DATA_SHEET)
    drop_max: float = measure(
        "highest voltage lost on it, there and back, at its highest current",
        "voltage",
        "V",
        typical=0.5,
        plausible=(0.05, 3),
        where=DATA_SHEET,
    )


class ControlUnit(Part):
    """What the data sheet of a control unit asks of the wiring."""

    voltage: float = measure(
        "nominal supply voltage of the control unit", "voltage", "V", typical=12, plausible=(6, 48), where=DATA_SHEET
    )
    min_voltage_crank: float = measure(
        "lowest supply voltage at which it keeps working while the engine is cranked",
        "voltage",
        "V",
        typical=8,
        plausible=(4, 24),
        where=DATA_SHEET,
    )
    after_run_time: float = measure(
        "time that it needs power after the key is turned off",
        "time",
        "s",
        typical=30,
        plausible=(0, 900),
        where=DATA_SHEET,
        zero=True,
    )
    feeds: dict[str, EcmFeed] = parts(
        "the feeds that it asks for, each under the name of its pin or group of pins", needed=True
    )
    hold_up_time: float = measure(
        "longest break in its feeds that it rides through",
        "time",
        "ms",
        typical=50,
        plausible=(1, 2000),
        where=DATA_SHEET,
    )
    ground_pins: float = count("number of its ground pins", typical=3, plausible=(1, 12), where=DATA_SHEET)


class FittedController(ControlUnit):
    """A control unit besides the engine's, and how it is wired in. Its feeds end at nodes such as `gearbox-main`."""

    ground_pins_used: float = count(
        "number of its ground pins that are connected", typical=3, plausible=(0, 12), where=LOOK, zero=True
    )
    wiring_kept: bool = flag(
        "whether its feeds and grounds stay as the maker of the vehicle wired them, fuses included",
        typical=False,
        where=LOOK,
    )


class Controller(FittedController):
    """A control unit that the build adds: display, gateway, shifter, pump controller."""

    essential: bool = flag("whether the vehicle needs it to run, to stop or to be lawful", typical=True, where=DECISION)


class KeyTerminal(Section):
    """One terminal of the key switch. A cable that starts at `key-run` starts at the terminal named `run`."""

    live_in: list[str] = words("positions of the key in which it is live", *KEY_POSITIONS, typical="run", where=METER)
    gap: float = measure(
        "time that it is dead while the key turns from run to crank",
        "time",
        "ms",
        typical=20,
        plausible=(0, 2000),
        where="an oscilloscope on the key switch",
        zero=True,
    )
    rating: float = measure(
        "current that its contact may switch", "current", "A", typical=10, plausible=(0.5, 60), where=COMPONENT_SHEET
    )


class KeySwitch(Part):
    """The key or start switch."""

    terminals: dict[str, KeyTerminal] = parts("its terminals, each under its name", needed=True)


class StartCircuit(Section):
    """What lets the starter turn."""

    interlock: str = word(
        "what must be so before the starter turns",
        "neutral",
        "clutch",
        "none",
        typical="clutch",
        where=LOOK,
    )


class EcmPlace(Section):
    """Where the control unit is mounted, and how its grounds are used."""

    temperature: float = measure(
        "highest temperature of the air where it is mounted",
        "temperature",
        "degC",
        typical=70,
        plausible=(20, 150),
        where=METER,
        signed=True,
    )
    wetting: str = word(
        "the worst water that reaches it: none in a dry cab, spray in an engine space, a pressure washer, immersion",
        "none",
        "spray",
        "pressure-wash",
        "immersion",
        typical="spray",
        where=LOOK,
    )
    height: float = measure(
        "height of its lowest point above the ground", "length", "mm", typical=900, plausible=(200, 2500), where=TAPE
    )
    tilt: float = measure(
        "how far it is turned away from the way up that its maker shows",
        "angle",
        "deg",
        typical=0,
        plausible=(0, 180),
        where=PROTRACTOR,
        zero=True,
    )
    ground_pins_used: float = count(
        "number of its ground pins that are connected", typical=3, plausible=(0, 12), where=LOOK, zero=True
    )


# -- harness ----------------------------------------------------------------------------------------------------------
class ConnectorSize(Section):
    """The outside of a connector, its lock lever as it stands when the harness is pulled through.

    A round one has a diameter, and neither width nor height.
    """

    diameter: float = measure(
        "diameter over the widest part of a round one", "length", "mm", typical=40, plausible=(4, 200), where=CALLIPER
    )
    width: float = measure("width", "length", "mm", typical=40, plausible=(4, 200), where=CALLIPER)
    height: float = measure("height", "length", "mm", typical=25, plausible=(4, 150), where=CALLIPER)


class HarnessLead(Part):
    """One branch of the engine's harness, from where it leaves the engine package to what it plugs into."""

    start: str = text("place that it starts at", typical="ecm", where=DATA_SHEET)
    end: str = text("place that it plugs in at", typical="pedal", where=DATA_SHEET)
    length: float = measure("length of the branch", "length", "m", typical=2.5, plausible=(0.1, 15), where=DATA_SHEET)
    diameter: float = measure(
        "diameter over its covering", "length", "mm", typical=12, plausible=(2, 60), where=CALLIPER
    )
    pre_terminated: bool = flag(
        "whether it comes with its connector on; false where the loose end is finished in the vehicle",
        typical=True,
        where=DATA_SHEET,
    )
    connector: ConnectorSize = part("the connector at its end")


class HarnessRoute(Part):
    """One stretch that a harness can take through the vehicle. Routes join places into ways."""

    start: str = text("place that it starts at", typical="ecm", where=DRAWING)
    end: str = text("place that it ends at", typical="bulkhead", where=DRAWING)
    length: float = measure("length along the real run", "length", "m", typical=1.2, plausible=(0.05, 15), where=TAPE)
    opening: str = text("name of the opening that it passes through", typical="bulkhead", where=DRAWING)
    bend_radius: float = measure(
        "tightest bend on it, inside", "length", "mm", typical=80, plausible=(5, 1000), where=TAPE
    )
    straight_end: float = measure(
        "shortest straight length behind a connector on it",
        "length",
        "mm",
        typical=40,
        plausible=(0, 500),
        where=TAPE,
        zero=True,
    )
    moves_with_engine: bool = flag(
        "whether one end moves with the engine and the other does not", typical=False, where=LOOK
    )


class Opening(Part):
    """A hole that a harness passes through, in a bulkhead or panel."""

    hole: float = measure("diameter of the hole", "length", "mm", typical=60, plausible=(5, 200), where=TAPE)
    grommet: str = word(
        "what lines it: nothing, a grommet that only fits over a loose end, or one that is split",
        "none",
        "plain",
        "split",
        typical="split",
        where=LOOK,
    )


class HarnessExtension(Part):
    """An extension made as a harness of its own, with matching connectors, that lengthens a lead."""

    lead: str = text("name of the lead that it lengthens", typical="pedal", where=DRAWING)
    length: float = measure("length that it adds", "length", "m", typical=1, plausible=(0.05, 10), where=DECISION)


# -- pedal ------------------------------------------------------------------------------------------------------------
class PedalSensor(Part):
    """An accelerator pedal with sensors, as the control unit reads it; not fitted where a cable works the engine."""

    tracks: float = count("number of sensor tracks", typical=2, plausible=(1, 3), where=DATA_SHEET)
    track_ratio: float = number(
        "output of the first track over that of the second", typical=2, plausible=(0.2, 5), where=DATA_SHEET
    )
    inverted: bool = flag("whether the second track falls as the first one rises", typical=False, where=DATA_SHEET)
    supplies: float = count(
        "number of separate supplies, each with a ground of its own", typical=2, plausible=(1, 3), where=DATA_SHEET
    )
    supply_voltage: float = measure(
        "voltage of its supplies", "voltage", "V", typical=5, plausible=(3, 28), where=DATA_SHEET
    )
    idle_switch: bool = flag("whether it has an idle switch", typical=False, where=DATA_SHEET)
    connector: str = text("its connector", typical="Example 6-way (invented)", where=DATA_SHEET)


class EngineThrottle(Part):
    """The lever on the engine or its injection pump that a throttle cable works; not fitted where sensors do."""

    travel: float = measure(
        "travel of the cable from idle to full", "length", "mm", typical=40, plausible=(10, 150), where=DATA_SHEET
    )


class ThrottleCable(Part):
    """The cable or linkage from the accelerator pedal to the lever on the engine."""

    travel: float = measure(
        "travel of the cable that the pedal gives, from rest to floor",
        "length",
        "mm",
        typical=42,
        plausible=(5, 200),
        where=TAPE,
    )
    stop: bool = flag(
        "whether the pedal meets a stop of its own before it can strain cable or lever", typical=True, where=LOOK
    )
    springs: float = count(
        "number of springs that bring the lever back to idle, each on its own",
        typical=2,
        plausible=(0, 4),
        where=LOOK,
        zero=True,
    )
    returns_to_idle: bool = flag(
        "whether the engine goes to idle with any one spring off, and with the cable off", typical=True, where=LOOK
    )
    slack_at_full_roll: bool = flag(
        "whether the cable stays slack at idle while the engine moves in its mounts", typical=True, where=LOOK
    )


class EngineStop(Part):
    """What stops the engine package when it is told to."""

    kind: str = word(
        "what stops it: its control unit; its ignition, whose feed ends at the node ignition; a solenoid that needs "
        "current to run, or one that needs current to stop; a lever that is worked by hand",
        "control-unit",
        "ignition",
        "solenoid-to-run",
        "solenoid-to-stop",
        "lever",
        typical="control-unit",
        where=DATA_SHEET,
    )
    pull_current: float = measure(
        "highest current of the solenoid, as it pulls in",
        "current",
        "A",
        typical=10,
        plausible=(0.2, 60),
        where=DATA_SHEET,
    )
    hold_current: float = measure(
        "current that keeps the solenoid pulled in", "current", "A", typical=1, plausible=(0.05, 10), where=DATA_SHEET
    )


class StopControl(Part):
    """How the driver stops the engine. A stop solenoid's feed ends at the node `stop-solenoid`."""

    cable: bool = flag(
        "whether a pull cable or lever in the cab works the engine's stop lever", typical=False, where=LOOK
    )
    in_reach: bool = flag("whether the driver reaches that cable or lever from the seat", typical=True, where=LOOK)


class FittedPedal(PedalSensor):
    """The accelerator pedal that is built in."""

    returns_to_idle: bool = flag(
        "whether the engine goes to idle with one spring off, and with any one wire off", typical=True, where=TRIAL
    )
    voltages_adapted: bool = flag(
        "whether resistors or a box between pedal and control unit change its voltages", typical=False, where=LOOK
    )


# -- outputs, lamps, gauges -------------------------------------------------------------------------------------------
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
        "highest current of a lamp output", "current", "mA", typical=300, plausible=(5, 3000), where=DATA_SHEET
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


# -- signals between modules ------------------------------------------------------------------------------------------
class EngineImmobiliser(Part):
    """The immobiliser of the engine package."""

    needs: list[str] = words(
        "signals that it waits for before it lets the engine start", typical="coded-key", where=DATA_SHEET
    )


class BodyModule(FittedController):
    """A control unit of the vehicle that stays: cluster, body controller, immobiliser, brakes."""

    needs: list[str] = words("signals that it waits for", typical="engine-running", where=MANUAL)
    sends: list[str] = words("signals that it gives", typical="vehicle-speed", where=MANUAL)
    blocks_start: bool = flag(
        "whether the vehicle will not start, or not move off, while it misses one", typical=False, where=MANUAL
    )


class SignalSource(Part):
    """A switch, sender, converter or emulator that gives signals which modules or the engine wait for."""

    gives: list[str] = words("signals that it gives", typical="brake-switch", where=DRAWING)


class FanControl(Part):
    """The controller or relay that runs an electric fan, or the coil of a fan clutch."""

    takes: str = word(
        "what drives it: a coil current, pulses, or a switch of its own that the engine knows nothing of",
        "coil",
        "pulse-width",
        "own-thermo-switch",
        typical="coil",
        where=COMPONENT_SHEET,
    )
    coil_current: float = measure(
        "current of its coil or coils together",
        "current",
        "A",
        typical=0.16,
        plausible=(0.02, 10),
        where=COMPONENT_SHEET,
    )
    frequency_min: float = measure(
        "lowest frequency that it takes", "frequency", "Hz", typical=50, plausible=(1, 30000), where=COMPONENT_SHEET
    )
    frequency_max: float = measure(
        "highest frequency that it takes", "frequency", "Hz", typical=150, plausible=(5, 50000), where=COMPONENT_SHEET
    )
    on_when_lost: bool = flag("whether the fan runs when the signal is lost", typical=True, where=COMPONENT_SHEET)


class GearboxController(FittedController):
    """The controller of an automatic or automated gearbox."""

    needs: list[str] = words("signals that it waits for", typical="engine-torque", where=DRIVELINE_SHEET)
    sends: list[str] = words("signals that it gives", typical="gear", where=DRIVELINE_SHEET)
    limits_torque: bool = flag(
        "whether it asks the engine for less torque while it shifts", typical=True, where=DRIVELINE_SHEET
    )
    shift_speed_max: float = measure(
        "highest engine speed at which its map shifts up",
        "rotation",
        "r/min",
        typical=3200,
        plausible=(800, 9000),
        where=DRIVELINE_SHEET,
    )


class TransmissionMessages(Section):
    """What the engine package exchanges with a gearbox controller."""

    sends: list[str] = words("signals that it gives to a gearbox controller", typical="engine-torque", where=DATA_SHEET)
    accepts_torque_limit: bool = flag(
        "whether it lets a gearbox controller limit its torque", typical=True, where=DATA_SHEET
    )
