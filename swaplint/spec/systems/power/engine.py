"""What the engine package asks of the electrics: starter, alternator, control unit, heaters of the air."""

from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DATA_SHEET,
    DRAWING,
    Part,
    Section,
    count,
    flag,
    items,
    measure,
    number,
    word,
    words,
)
from swaplint.spec.systems.chassis import GearedOrBelted
from swaplint.spec.systems.controls import ControlUnit

CRANKING_STANDARDS = ("EN 50342-1", "SAE J537", "DIN 43539-2")


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
        limit=True,
    )
    min_voltage: float = measure(
        "lowest voltage at the starter while it cranks",
        "voltage",
        "V",
        typical=8,
        plausible=(4, 36),
        where=DATA_SHEET,
        limit=True,
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
        limit=True,
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


class Alternator(GearedOrBelted):
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
    output: list[OutputPoint] = items("output current over rotor speed, cold, slowest first", needed=True)
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
        limit=True,
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
        limit=True,
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
        limit=True,
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
