"""What keeps the aftertreatment working: sensors, the driver's controls, recirculation, reductant."""

from swaplint.spec.fields import (
    COMPONENT_SHEET,
    LOOK,
    METER,
    PROTRACTOR,
    RECORD,
    TAPE,
    Part,
    Section,
    flag,
    measure,
    word,
)
from swaplint.spec.systems.chassis import consumer


class SensorPlace(Section):
    """Where a sensor of the aftertreatment sits."""

    route: float = measure(
        "length of the way that its lead takes to its module or plug",
        "length",
        "mm",
        typical=700,
        plausible=(50, 6000),
        where=TAPE,
    )
    angle: float = measure(
        "angle of the sensor above the horizontal, its tip down; negative where it points up",
        "angle",
        "deg",
        typical=30,
        plausible=(-90, 90),
        where=PROTRACTOR,
        signed=True,
    )


class PressureLine(Part):
    """A line to a differential-pressure sensor."""

    rises: bool = flag("whether it rises all the way from the exhaust to its sensor", typical=True, where=LOOK)


class RegenerationControls(Section):
    """What the driver has to steer the burning clean with."""

    parked_switch: bool = flag(
        "whether a switch is fitted that starts it while the vehicle stands", typical=True, where=LOOK
    )
    inhibit_switch: bool = flag("whether a switch is fitted that forbids it", typical=True, where=LOOK)
    duty_agreed: bool = flag("whether the engine maker has agreed to this duty in writing", typical=False, where=RECORD)


class Recirculation(Part):
    """The exhaust-gas recirculation as the swap leaves it."""

    enters: str = word(
        "where the gas joins the air",
        "behind-charge-cooler",
        "before-compressor",
        "elsewhere",
        typical="behind-charge-cooler",
        where=LOOK,
    )
    coolant_joined: bool = flag(
        "whether its cooler has its coolant feed and return, free of air", typical=True, where=LOOK
    )
    valve_joined: bool = flag(
        "whether valve and sensors are wired, or piped, to the control unit as it expects", typical=True, where=LOOK
    )
    strain_free: bool = flag(
        "whether its hot pipe has a bellows or moves with the engine as a whole, and is gas-tight",
        typical=True,
        where=LOOK,
    )


class ReductantSystem(Section):
    """Tank and lines of the reductant (urea solution)."""

    tank_volume: float = measure(
        "reductant in the full tank", "volume", "L", typical=12, plausible=(2, 200), where=COMPONENT_SHEET
    )
    tank_heated: bool = flag("whether coolant or current thaws the tank", typical=True, where=LOOK)
    tank_temp_max: float = measure(
        "hottest that the tank gets, parked in the sun or beside the exhaust",
        "temperature",
        "degC",
        typical=28,
        plausible=(0, 90),
        where=METER,
    )
    line_length: float = measure(
        "length of line between tank and doser", "length", "m", typical=3, plausible=(0.2, 30), where=TAPE
    )
    lift: float = measure(
        "height of the doser above the bottom of the tank; negative if below",
        "length",
        "m",
        typical=0.5,
        plausible=(-2, 8),
        where=TAPE,
        signed=True,
    )
    heater_power: float = measure(
        "power of the heaters along the lines; 0 where there are none",
        "power",
        "W",
        typical=80,
        plausible=(0, 1000),
        where=COMPONENT_SHEET,
        zero=True,
    )
    load: str = consumer("the line heaters", "reductant_heater")
