"""Fields of the power system: batteries, cables, grounds, loads, and what the engine package asks of them.

Cables and grounds join nodes, each under a word of the builder's choice. Six words have a meaning: `battery-positive`,
`battery-negative`, `auxiliary-positive` (that of batteries that do not start the engine), `engine` (its block), `frame`
and `cab`; so have `starter`, `alternator`, `alternator-excitation`, `ignition`, `stop-solenoid` and `isolator` where
cables or grounds end at them.
"""

from swaplint.engineering.fuses import FUSE_LINK_RATINGS
from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DATA_SHEET,
    DECISION,
    DRAWING,
    LOOK,
    MARKING,
    METER,
    OWNER,
    TAPE,
    Part,
    Section,
    count,
    flag,
    items,
    measure,
    number,
    text,
    word,
    words,
)
from swaplint.spec.systems.chassis import DrivenAccessory
from swaplint.spec.systems.controls import ControlUnit

CONDUCTOR_SIZES_MM2 = (0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150)
"""Conductor sizes of IEC 60228 that vehicles use."""

CRANKING_STANDARDS = ("EN 50342-1", "SAE J537", "DIN 43539-2")


# -- engine package ---------------------------------------------------------------------------------------------------
class Starter(Part):
    """The starter motor."""

    voltage: float = measure(
        "nominal voltage of the starter", "voltage", "V", typical=12, plausible=(6, 48), where=DATA_SHEET
    )
    cranking_current: float = measure(
        "current while it cranks the engine at the coldest start",
        "current",
        "A",
        typical=350,
        plausible=(60, 2000),
        where=DATA_SHEET,
    )
    circuit_resistance_max: float = measure(
        "highest resistance of the cables from battery to starter and back, at 20 °C",
        "resistance",
        "mohm",
        typical=2,
        plausible=(0.3, 8),
        where=DATA_SHEET,
    )
    min_voltage: float = measure(
        "lowest voltage at the starter while it cranks", "voltage", "V", typical=8, plausible=(4, 36), where=DATA_SHEET
    )
    solenoid_current: float = measure(
        "current that its solenoid pulls in with", "current", "A", typical=25, plausible=(2, 120), where=DATA_SHEET
    )


class EngineStarting(Section):
    """What the engine package asks of the battery for a cold start."""

    cca_min: float = measure(
        "cold-cranking rating that each battery needs, batteries in parallel counted together",
        "current",
        "A",
        typical=600,
        plausible=(150, 2500),
        where=DATA_SHEET,
    )
    cca_standard: str = word(
        "standard that `cca_min` is stated to", *CRANKING_STANDARDS, typical="EN 50342-1", where=DATA_SHEET
    )
    temperature: float = measure(
        "coldest start that `cca_min` is stated for",
        "temperature",
        "degC",
        typical=-18,
        plausible=(-45, 20),
        where=DATA_SHEET,
        signed=True,
    )


class OutputPoint(Section):
    """One point of the alternator's output curve, at rated voltage and about 23 °C."""

    rotor_speed: float = measure(
        "speed of the rotor", "rotation", "r/min", typical=3000, plausible=(500, 20000), where=COMPONENT_SHEET
    )
    current: float = measure(
        "output current there; 0 A where it begins to charge",
        "current",
        "A",
        typical=60,
        plausible=(0, 500),
        where=COMPONENT_SHEET,
        zero=True,
    )


class Alternator(DrivenAccessory):
    """The alternator."""

    voltage: float = measure(
        "nominal voltage of the system that it charges",
        "voltage",
        "V",
        typical=12,
        plausible=(6, 48),
        where=COMPONENT_SHEET,
    )
    rated_current: float = measure(
        "rated output current", "current", "A", typical=100, plausible=(20, 500), where=COMPONENT_SHEET
    )
    output: list[OutputPoint] = items("output current over rotor speed, cold, slowest first")
    pulley_ratio: float = number(
        "turns of the alternator for one turn of the engine", typical=2.6, plausible=(1, 6), where=DATA_SHEET
    )
    poles: float = count(
        "number of its magnetic poles: twice the pole pairs", typical=12, plausible=(4, 36), where=COMPONENT_SHEET
    )
    excitation: str = word(
        "what first excites its field: itself, its control by the engine or bus, or a wire with the charge lamp in it, "
        "which ends at the node alternator-excitation",
        "own",
        "control",
        "lamp-wire",
        typical="lamp-wire",
        where=COMPONENT_SHEET,
    )
    remote_sense: bool = flag(
        "whether it senses the voltage at the battery through a wire of its own", typical=False, where=COMPONENT_SHEET
    )
    cable_drop_max: float = measure(
        "highest voltage lost between alternator and battery, there and back, at rated current",
        "voltage",
        "V",
        typical=0.25,
        plausible=(0.05, 2),
        where=COMPONENT_SHEET,
    )


class EngineEcm(ControlUnit):
    """The engine's control unit: the power that it takes, and the place that it stands."""

    temperature_max: float = measure(
        "highest temperature of the air around it",
        "temperature",
        "degC",
        typical=105,
        plausible=(50, 150),
        where=DATA_SHEET,
        signed=True,
    )
    ip_codes: list[str] = words("its degrees of protection, each an IP code", typical="IP6K9K", where=DATA_SHEET)
    tilt_max: float = measure(
        "how far it may be turned away from the way up that its maker shows",
        "angle",
        "deg",
        typical=45,
        plausible=(0, 180),
        where=DATA_SHEET,
        zero=True,
    )


class FurtherAlternator(Alternator):
    """An alternator besides that of the engine package."""

    charges: str = word(
        "batteries that it charges: those that start the engine, or the auxiliary ones",
        "starting",
        "auxiliary",
        typical="auxiliary",
        where=DRAWING,
    )


class IntakeHeater(Part):
    """An intake air heater or a set of glow plugs."""

    current: float = measure(
        "current while it heats", "current", "A", typical=100, plausible=(10, 400), where=DATA_SHEET
    )
    on_time: float = measure(
        "longest time that it heats without a pause", "time", "s", typical=30, plausible=(2, 600), where=DATA_SHEET
    )
    on_while_cranking: bool = flag(
        "whether it goes on heating while the starter turns", typical=False, where=DATA_SHEET
    )
    fuse: float = measure(
        "rating of the fuse that the engine maker asks for in its feed",
        "current",
        "A",
        typical=125,
        plausible=(15, 500),
        where=DATA_SHEET,
    )


# -- batteries --------------------------------------------------------------------------------------------------------
class Battery(Part):
    """One battery as it is sold."""

    use: str = word(
        "what it serves: starting, or other loads behind a separator, from the node auxiliary-positive",
        "starting",
        "auxiliary",
        typical="starting",
        where=LOOK,
    )
    voltage: float = measure(
        "nominal voltage of this one battery", "voltage", "V", typical=12, plausible=(6, 24), where=MARKING
    )
    cca: float = measure(
        "cold-cranking rating of this one battery",
        "current",
        "A",
        typical=700,
        plausible=(150, 1600),
        where=MARKING,
    )
    cca_standard: str = word(
        "standard that the rating is stated to", *CRANKING_STANDARDS, typical="EN 50342-1", where=MARKING
    )
    capacity: float = measure("rated capacity", "charge", "Ah", typical=90, plausible=(20, 300), where=MARKING)
    mass: float = measure(
        "mass of this one battery", "mass", "kg", typical=22, plausible=(5, 90), where=COMPONENT_SHEET
    )
    temperature_max: float = measure(
        "highest temperature that its maker allows around it",
        "temperature",
        "degC",
        typical=60,
        plausible=(35, 90),
        where=COMPONENT_SHEET,
        signed=True,
    )
    place: str = word(
        "where it stands",
        "cab",
        "load-space",
        "engine-space",
        "frame",
        typical="engine-space",
        where=LOOK,
    )
    place_temperature: float = measure(
        "highest temperature of the air where it stands",
        "temperature",
        "degC",
        typical=50,
        plausible=(10, 110),
        where=METER,
        signed=True,
    )
    hold_down_bolts: float = count(
        "number of bolts or rods of its hold-down; 0 for none", typical=2, plausible=(0, 8), where=LOOK, zero=True
    )
    hold_down_bolt: str = word("thread of those bolts", "M5", "M6", "M8", "M10", "M12", typical="M8", where=LOOK)
    covered: bool = flag(
        "whether a fixed part of the vehicle or a removable cover protects it, its live terminals insulated",
        typical=True,
        where=LOOK,
    )
    vented_outside: bool = flag(
        "whether its gas goes outside the vehicle: a box with a vent pipe, or a place in the open air",
        typical=True,
        where=LOOK,
    )
    relative_to_tank: str = word(
        "where it stands as seen from the fuel tank, filler or filter",
        "apart",
        "beside",
        "above",
        "below",
        typical="apart",
        where=LOOK,
    )


# -- conductors -------------------------------------------------------------------------------------------------------
def _size(description: str) -> float:
    size: float = measure(
        description,
        "conductor",
        "mm2",
        typical=10,
        plausible=(0.35, 240),
        where=DECISION,
        series=CONDUCTOR_SIZES_MM2,
    )
    return size


def _material() -> str:
    material: str = word(
        "what the conductor is made of; a cable sold by its size alone is copper",
        "copper",
        "copper-clad aluminium",
        typical="copper",
        where=MARKING,
    )
    return material


def _joints(typical: int) -> float:
    joints: float = count(
        "crimped, bolted joints along the cable, its ends included; two where not stated",
        typical=typical,
        plausible=(0, 12),
        where=DRAWING,
        zero=True,
    )
    return joints


def _gauge() -> str:
    gauge: str = word(
        "what a size with a gauge number goes by: AWG, the area of the number, as boat cable has it; SAE, vehicle "
        "cable, which has up to 11 % less copper under the same number",
        "AWG",
        "SAE",
        typical="SAE",
        where=MARKING,
    )
    return gauge


class Cable(Part):
    """One cable on the positive side, from node to node."""

    role: str = word(
        "what it is for; battery-link joins batteries in series, switched-feed is live while the key says so",
        "starter",
        "battery-link",
        "alternator",
        "intake-heater",
        "glow-plugs",
        "ecm-feed",
        "fuel-pump",
        "fan",
        "lamps",
        "cab-feed",
        "switched-feed",
        "other",
        typical="other",
        where=DRAWING,
    )
    start: str = text("node that it starts at, on the side of the source", typical="battery-positive", where=DRAWING)
    end: str = text("node that it ends at", typical="cab-fuses", where=DRAWING)
    size: float = _size("size of the conductor")
    material: str = _material()
    length: float = measure(
        "length along its route, one way", "length", "m", typical=3, plausible=(0.1, 25), where=TAPE
    )
    joints: float = _joints(2)
    gauge: str = _gauge()
    current: float = measure(
        "current that it carries continuously", "current", "A", typical=15, plausible=(0.05, 500), where=COMPONENT_SHEET
    )
    returns_by: str = word(
        "how the current comes back: a conductor of its own, the frame, or the engine that the consumer is bolted to",
        "own-conductor",
        "frame",
        "engine",
        typical="own-conductor",
        where=DRAWING,
    )
    return_length: float = measure(
        "length of the return conductor: all the way back if it is one of its own, else the lead from the consumer to "
        "the frame or engine, 0 m if it is bolted on",
        "length",
        "m",
        typical=3,
        plausible=(0, 25),
        where=TAPE,
        zero=True,
    )
    return_size: float = _size("size of the return conductor, where it differs from `size`")
    drop_max: float = measure(
        "share of the nominal voltage that may be lost there and back, where the consumer's maker states one",
        "share",
        "%",
        typical=3,
        plausible=(0.5, 20),
        where=COMPONENT_SHEET,
    )
    insulation_temp: float = measure(
        "highest conductor temperature that the insulation is rated for",
        "temperature",
        "degC",
        typical=105,
        plausible=(60, 260),
        where=MARKING,
        signed=True,
    )
    place: str = word(
        "hottest place that it runs through", "cab", "engine-space", "frame", typical="engine-space", where=DRAWING
    )
    place_temperature: float = measure(
        "highest temperature of the air in that place; where not stated that of a battery in the same engine space, "
        "else 50 °C in an engine space and 30 °C elsewhere",
        "temperature",
        "degC",
        typical=60,
        plausible=(10, 150),
        where=METER,
        signed=True,
    )
    bundled_with: float = count(
        "number of other loaded conductors in its bundle; 0 for none",
        typical=0,
        plausible=(0, 60),
        where=DRAWING,
        zero=True,
    )
    fused: bool = flag(
        "false where the cable has no fuse of its own; `fuse` says the same as true", typical=True, where=LOOK
    )
    fuse: float = measure(
        "rating of its fuse",
        "current",
        "A",
        typical=20,
        plausible=(1, 600),
        where=MARKING,
        series=FUSE_LINK_RATINGS,
    )
    fuse_resistance: float = measure(
        "resistance of its fuse with holder", "resistance", "mohm", typical=0.2, plausible=(0.02, 20), where=METER
    )
    fuse_distance: float = measure(
        "length of cable between the source and the fuse",
        "length",
        "mm",
        typical=150,
        plausible=(0, 3000),
        where=TAPE,
        zero=True,
    )
    sleeved: bool = flag(
        "whether a sleeve or conduit guards its unfused length against chafing", typical=True, where=LOOK
    )
    switched_by: list[str] = words(
        "nodes that close the relay in it, any one of them; a cable that states none has no relay",
        typical="key-run",
        where=DRAWING,
    )
    relay_rating: float = measure(
        "rating of the relay contact, or of the switch, that switches it",
        "current",
        "A",
        typical=100,
        plausible=(1, 500),
        where=MARKING,
    )
    relay_making: float = measure(
        "highest current that the contact may close on, where its maker states one",
        "current",
        "A",
        typical=150,
        plausible=(1, 2000),
        where=COMPONENT_SHEET,
    )
    coil_current: float = measure(
        "current of that relay's coil", "current", "A", typical=0.15, plausible=(0.02, 10), where=COMPONENT_SHEET
    )
    coil_drop_out: float = measure(
        "voltage of that relay's coil below which it may let go",
        "voltage",
        "V",
        typical=3,
        plausible=(0.5, 20),
        where=COMPONENT_SHEET,
    )
    inrush: float = measure(
        "current that the consumer draws as it is switched on",
        "current",
        "A",
        typical=60,
        plausible=(0.1, 2000),
        where=COMPONENT_SHEET,
    )
    live_in_crank: bool = flag(
        "whether what hangs on it must stay live while the engine is cranked", typical=False, where=DATA_SHEET
    )
    branch_share: float = measure(
        "share of the current of the branches behind it that runs at one time; all of it where not stated",
        "share",
        "%",
        typical=100,
        plausible=(5, 100),
        where=OWNER,
    )
    diode: bool = flag(
        "whether a diode in it lets current through from its start to its end only; none where not stated",
        typical=False,
        where=LOOK,
    )


class Ground(Part):
    """One conductor on the return side, from node to node."""

    start: str = text("node that it comes from", typical="engine", where=DRAWING)
    end: str = text("node that it goes to", typical="battery-negative", where=DRAWING)
    size: float = _size("size of the conductor")
    material: str = _material()
    length: float = measure("length along its route", "length", "m", typical=0.5, plausible=(0.05, 15), where=TAPE)
    joints: float = _joints(2)
    gauge: str = _gauge()


# -- consumers --------------------------------------------------------------------------------------------------------
class Load(Part):
    """One electrical consumer, or a group of them."""

    voltage: float = measure("nominal voltage", "voltage", "V", typical=12, plausible=(5, 48), where=MARKING)
    current: float = measure(
        "current at its own voltage", "current", "A", typical=8, plausible=(0.01, 400), where=METER
    )
    duty_idle: float = measure(
        "share of the time that it is on at idle, at night",
        "share",
        "%",
        typical=100,
        plausible=(0, 100),
        where=OWNER,
        zero=True,
    )
    duty_cruise: float = measure(
        "share of the time that it is on under way, at night",
        "share",
        "%",
        typical=100,
        plausible=(0, 100),
        where=OWNER,
        zero=True,
    )
    duty_stationary: float = measure(
        "share of the time that it is on in standing work, at night",
        "share",
        "%",
        typical=100,
        plausible=(0, 100),
        where=OWNER,
        zero=True,
    )
    essential: bool = flag("whether the vehicle needs it to run or to be lawful", typical=True, where=DECISION)
    bank: str = word(
        "batteries that it hangs on, where there are others than those that start the engine; starting if not stated",
        "starting",
        "auxiliary",
        typical="starting",
        where=DRAWING,
    )


class SplitCharging(Part):
    """What lets the alternator charge the auxiliary batteries, and keeps them from the starting ones at rest."""

    kind: str = word(
        "what it is: a relay that something closes, a relay that the charging voltage closes, a block of diodes, a "
        "converter",
        "relay",
        "voltage-relay",
        "diodes",
        "converter",
        typical="voltage-relay",
        where=LOOK,
    )
    closed_by: list[str] = words(
        "nodes that close the relay or wake the converter, any one of them", typical="key-run", where=DRAWING
    )
    rating: float = measure(
        "current that it may pass without a pause; of a converter what it takes in at most",
        "current",
        "A",
        typical=120,
        plausible=(10, 1000),
        where=COMPONENT_SHEET,
    )
    drop: float = measure(
        "voltage lost over it at that current",
        "voltage",
        "V",
        typical=0.1,
        plausible=(0, 1.5),
        where=COMPONENT_SHEET,
        zero=True,
    )
    output_voltage: float = measure(
        "nominal voltage that a converter gives to the auxiliary batteries",
        "voltage",
        "V",
        typical=12,
        plausible=(5, 48),
        where=COMPONENT_SHEET,
    )
    sense_behind: bool = flag(
        "whether the alternator senses its voltage behind the diodes, or its regulator is set higher by their drop",
        typical=False,
        where=DRAWING,
    )


class VoltageConverter(Part):
    """A converter that feeds consumers of another voltage."""

    output_voltage: float = measure(
        "voltage that it gives", "voltage", "V", typical=12, plausible=(5, 48), where=COMPONENT_SHEET
    )
    power: float = measure(
        "continuous power that it takes in", "power", "W", typical=240, plausible=(10, 5000), where=COMPONENT_SHEET
    )


class Isolator(Part):
    """A main switch that cuts the vehicle off its batteries; cables or grounds lead to and from node `isolator`."""

    resistance: float = measure(
        "resistance of the closed switch", "resistance", "mohm", typical=0.1, plausible=(0.01, 2), where=METER
    )
    rating: float = measure(
        "current that it bears without a pause",
        "current",
        "A",
        typical=200,
        plausible=(20, 1000),
        where=MARKING,
    )
    rating_cranking: float = measure(
        "current that it bears for the few seconds of a start",
        "current",
        "A",
        typical=1000,
        plausible=(100, 5000),
        where=MARKING,
    )
    off_delay: float = measure(
        "time that it keeps the vehicle connected after it is switched off; 0 s for a plain switch",
        "time",
        "s",
        typical=0,
        plausible=(0, 900),
        where=COMPONENT_SHEET,
        zero=True,
    )
    interlock: bool = flag(
        "whether it cannot open before the control unit has finished", typical=False, where=COMPONENT_SHEET
    )
    breaks_field: bool = flag(
        "whether an auxiliary contact stops the engine or opens the alternator's field before the main contact opens",
        typical=True,
        where=COMPONENT_SHEET,
    )
