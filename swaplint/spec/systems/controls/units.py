"""Fields of control units, their feeds and place, and of the key switch that feeds them."""

from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DATA_SHEET,
    DECISION,
    LOOK,
    METER,
    PROTRACTOR,
    TAPE,
    Part,
    Section,
    count,
    flag,
    measure,
    parts,
    word,
    words,
)

KEY_POSITIONS = ("off", "accessory", "run", "crank")


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
        limit=True,
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
        limit=True,
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
