"""Fields of consumers, what charges other batteries, converters, and the main switch."""

from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DECISION,
    DRAWING,
    LOOK,
    MARKING,
    METER,
    OWNER,
    Part,
    flag,
    measure,
    word,
    words,
)


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
    fed_by: list[str] = words(
        "names of the cables of `electrics.cables` that bring it its current; a feeder for what its old wiring brings. "
        "Of several each takes what it is said to carry and the last all the rest. Where not stated, those that end at "
        "a node of its name",
        typical="lamps",
        where=DRAWING,
    )
    stands_for: list[str] = words(
        "what it counts of that which every such vehicle has, where its name does not say so",
        "lamps",
        "control-unit",
        "wipers",
        typical="wipers",
        where=LOOK,
    )
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
        settled="setting",
    )
    interlock: bool = flag(
        "whether it cannot open before the control unit has finished", typical=False, where=COMPONENT_SHEET
    )
    breaks_field: bool = flag(
        "whether an auxiliary contact stops the engine or opens the alternator's field before the main contact opens",
        typical=True,
        where=COMPONENT_SHEET,
    )
