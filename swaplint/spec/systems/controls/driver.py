"""Fields of what the driver works: pedal, throttle cable, what stops the engine."""

from swaplint.spec.fields import DATA_SHEET, LOOK, TAPE, TRIAL, Part, count, flag, measure, number, text, word


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
