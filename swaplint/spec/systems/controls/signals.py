"""Fields of what control units tell each other."""

from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DATA_SHEET,
    DRAWING,
    DRIVELINE_SHEET,
    MANUAL,
    Part,
    Section,
    flag,
    measure,
    word,
    words,
)
from swaplint.spec.systems.controls.units import FittedController


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
        settled="setting",
    )


class TransmissionMessages(Section):
    """What the engine package exchanges with a gearbox controller."""

    sends: list[str] = words("signals that it gives to a gearbox controller", typical="engine-torque", where=DATA_SHEET)
    accepts_torque_limit: bool = flag(
        "whether it lets a gearbox controller limit its torque", typical=True, where=DATA_SHEET
    )
