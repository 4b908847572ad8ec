"""The air through the radiator: its flow, the fan, and what it passes."""

from swaplint.spec.fields import (
    AIR_MEASURED,
    COMPONENT_SHEET,
    LOOK,
    METER,
    RECORD,
    TAPE,
    Part,
    Section,
    count,
    flag,
    items,
    measure,
    number,
    part,
    word,
    words,
)
from swaplint.spec.systems.chassis import consumer
from swaplint.spec.systems.fit import FanPlace


class AirFlow(Section):
    """The air through the radiator at one operating point."""

    flow: float = measure(
        "mass flow of air through the core, at sea level on the hottest day; a fan moves "
        "2 to 2.5 times as much in free air",
        "mass_flow",
        "kg/s",
        typical=2,
        plausible=(0.1, 20),
        where=AIR_MEASURED,
        settled="measured",
    )


class DrivingAirFlow(AirFlow):
    """The air through the radiator at an operating point of the driving vehicle."""

    fan_only: bool = flag("whether the fan alone moves it, without the wind of driving", typical=False, where=RECORD)


class CoolingAir(Section):
    """The air through the radiator at the operating points."""

    rated: DrivingAirFlow = part("full load at rated speed")
    peak_torque: DrivingAirFlow = part("full load at the lowest speed of greatest torque")
    standing: AirFlow = part("standing work, with the fan alone")
    idle: AirFlow = part("warm idle in a queue; left out where the fan's curve gives it")


class FanPoint(Section):
    """One point of the fan's curve, all fans together."""

    flow: float = measure(
        "air moved there", "volume_flow", "m3/s", typical=1, plausible=(0, 20), where=COMPONENT_SHEET, zero=True
    )
    pressure: float = measure(
        "pressure rise across the fan there, in standard air of 1.2 kg/m3",
        "pressure_difference",
        "Pa",
        typical=200,
        plausible=(0, 2000),
        where=COMPONENT_SHEET,
        zero=True,
    )


class CoolingFan(FanPlace):
    """The radiator's fan, or several alike."""

    side_by_side: float = count(
        "how many alike fans stand side by side, each before its own part of the core; their diameter is that of each, "
        "and the consumer that they are all of them together",
        typical=1,
        plausible=(1, 4),
        where=LOOK,
    )
    load: str = consumer("an electric fan", "fan")
    drive: str = word(
        "what drives it: the engine directly or by belt, the engine through a viscous coupling, or a motor of its own",
        "engine",
        "viscous",
        "electric",
        typical="viscous",
        where=LOOK,
    )
    curve: list[FanPoint] = items("curve with its shroud, from no flow to free flow", needed=True)
    curve_speed: float = measure(
        "fan speed of the curve, for one driven by the engine",
        "rotation",
        "r/min",
        typical=2500,
        plausible=(500, 8000),
        where=COMPONENT_SHEET,
    )
    ratio: float = number(
        "turns of the fan's drive for one turn of the engine", typical=1.1, plausible=(0.5, 2.5), where=TAPE
    )
    slip: float = measure(
        "how far a closed viscous coupling lags behind its drive; 0 for a rigid drive",
        "share",
        "%",
        typical=8,
        plausible=(0, 30),
        where=COMPONENT_SHEET,
        zero=True,
    )
    speed_max: float = measure(
        "highest fan speed that its maker allows",
        "rotation",
        "r/min",
        typical=4500,
        plausible=(1000, 12000),
        where=COMPONENT_SHEET,
        limit=True,
    )
    curve_voltage: float = measure(
        "voltage at the motor that the curve was taken at",
        "voltage",
        "V",
        typical=13,
        plausible=(6, 30),
        where=COMPONENT_SHEET,
    )
    motor_voltage: float = measure(
        "voltage at the motor while it runs in the vehicle", "voltage", "V", typical=13, plausible=(6, 30), where=METER
    )
    shroud_coverage: float = measure(
        "share of the core that the shroud covers; 0 without one",
        "share",
        "%",
        typical=95,
        plausible=(0, 100),
        where=TAPE,
        zero=True,
    )


class SecondFan(Part):
    """A second fan that is unlike the first or on the other side of the core: a pusher ahead of it, a puller behind."""

    place: str = word(
        "where it stands: ahead of the core and pushing, behind it and drawing, or beside the first fan",
        "pusher",
        "puller",
        "beside",
        typical="pusher",
        where=LOOK,
    )
    load: str = consumer("the second fan", "second_fan")
    air: float = measure(
        "air that both fans together move through the core of the standing vehicle, its engine idling, on the hottest "
        "day; two curves do not tell it",
        "mass_flow",
        "kg/s",
        typical=1.2,
        plausible=(0.05, 20),
        where=AIR_MEASURED,
        settled="measured",
    )


class AirResistance(Part):
    """Something in the path of the cooling air: core, grille, condenser, charge_cooler, each by that name."""

    stands_for: list[str] = words(
        "what its pressure was measured of, where its name does not say it or several were measured together",
        "core",
        "grille",
        "condenser",
        "charge-cooler",
        typical="core",
        where=COMPONENT_SHEET,
    )
    drop: float = measure(
        "pressure that it takes from the air at `flow`, in standard air of 1.2 kg/m3",
        "pressure_difference",
        "Pa",
        typical=100,
        plausible=(1, 2000),
        where=COMPONENT_SHEET,
    )
    flow: float = measure(
        "air flow at which it takes that pressure",
        "volume_flow",
        "m3/s",
        typical=1.5,
        plausible=(0.05, 20),
        where=COMPONENT_SHEET,
    )
