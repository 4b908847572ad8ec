"""Service brakes with their booster, what the vehicle was approved for, and what the engine holds back."""

from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DATA_SHEET,
    LOOK,
    MANUAL,
    PLATE,
    TAPE,
    TYPICAL,
    Part,
    Section,
    count,
    measure,
    number,
    part,
    parts,
    word,
)
from swaplint.spec.systems.chassis.accessories import consumer
from swaplint.spec.systems.chassis.parking import ParkingBrake
from swaplint.spec.systems.chassis.vacuum import depression
from swaplint.spec.systems.supply.fluids import ServiceFluid

MASTER_BORES_MM = (15.87, 17.46, 19.05, 20.64, 22.2, 23.81, 25.4, 26.99, 28.57, 31.75, 34.93, 38.1)
"""Bores that master cylinders are sold with, sixteenths of an inch (common practice)."""
BOOSTER_SIZE = "an estimate from the booster's diameter and stroke"
BRAKE_TEST = "a brake test by a qualified person"


class Booster(Part):
    """The brake booster."""

    volume: float = measure(
        "volume of both chambers of a vacuum booster: area of its shell times its depth",
        "volume",
        "L",
        typical=5,
        plausible=(1, 30),
        where=BOOSTER_SIZE,
    )
    swept_volume: float = measure(
        "volume that its diaphragm sweeps in one full application: effective area times stroke",
        "volume",
        "L",
        typical=0.8,
        plausible=(0.1, 6),
        where=BOOSTER_SIZE,
    )
    dead_volume: float = measure(
        "volume of its working chamber at rest",
        "volume",
        "L",
        typical=0.1,
        plausible=(0, 2),
        where=BOOSTER_SIZE,
        zero=True,
    )
    diaphragm_area: float = measure(
        "effective area of its diaphragm or diaphragms",
        "area",
        "cm2",
        typical=400,
        plausible=(80, 1500),
        where=COMPONENT_SHEET,
    )
    shell_diameter: float = measure(
        "diameter across the shell of a vacuum booster",
        "length",
        "mm",
        typical=230,
        plausible=(120, 330),
        where=TAPE,
        settled="measured",
    )
    diaphragms: float = count(
        "how many diaphragms stand behind one another; two in a tandem booster", typical=1, plausible=(1, 2), where=LOOK
    )
    stroke: float = measure(
        "way of its push rod in one full application",
        "length",
        "mm",
        typical=35,
        plausible=(15, 60),
        where=TAPE,
        settled="measured",
    )
    flow_required: float = measure(
        "oil flow that a hydraulic booster needs for a quick application",
        "volume_flow",
        "L/min",
        typical=5,
        plausible=(0.5, 20),
        where=COMPONENT_SHEET,
    )
    pressure_required: float = measure(
        "oil pressure that a hydraulic booster needs for full assistance",
        "gauge_pressure",
        "MPa",
        typical=7,
        plausible=(2, 20),
        where=COMPONENT_SHEET,
    )
    pressure_max: float = measure(
        "highest oil pressure that a hydraulic booster stands",
        "gauge_pressure",
        "MPa",
        typical=12,
        plausible=(3, 30),
        where=COMPONENT_SHEET,
        limit=True,
    )
    stored_applications: float = count(
        "assisted applications that its accumulator, or its stored electric energy, gives after its supply has failed",
        typical=2,
        plausible=(0, 20),
        where=COMPONENT_SHEET,
        zero=True,
    )
    load: str = consumer("an electric booster", "brake_booster")
    min_voltage: float = measure(
        "lowest supply voltage at which an electric booster gives full assistance",
        "voltage",
        "V",
        typical=9.5,
        plausible=(6, 40),
        where=COMPONENT_SHEET,
    )


class WheelBrakes(Part):
    """The brakes of one axle, all alike."""

    count_per_axle: float = count("how many of them the axle has", typical=2, plausible=(1, 4), where=LOOK)
    piston_area: float = measure(
        "area of the pistons on one side of one caliper, or of one end of a drum's wheel cylinder",
        "area",
        "cm2",
        typical=25,
        plausible=(1, 80),
        where=MANUAL,
    )
    brake_factor: float = number(
        "drag over piston force: twice the friction coefficient for a disc; 2 to 5 for a drum, by its design",
        typical=0.76,
        plausible=(0.5, 7),
        where=TYPICAL,
    )
    effective_radius: float = measure(
        "radius at which the drag acts: middle of the pads, or the drum's inside radius",
        "length",
        "mm",
        typical=130,
        plausible=(60, 300),
        where=TAPE,
    )
    push_out_pressure: float = measure(
        "line pressure that is used up before the linings touch",
        "gauge_pressure",
        "kPa",
        typical=100,
        plausible=(0, 800),
        where=TYPICAL,
        zero=True,
    )


class UnassistedTest(Part):
    """A stop without assistance, driven and measured by a qualified person, laden."""

    pedal_force: float = measure(
        "pedal force of the test", "force", "N", typical=500, plausible=(50, 1500), where=BRAKE_TEST
    )
    deceleration: float = measure(
        "mean deceleration that was reached", "acceleration", "m/s2", typical=3, plausible=(0.2, 9), where=BRAKE_TEST
    )


class Brakes(Section):
    """The service brakes, and the parking brake."""

    assist: str = word(
        "what helps the driver's foot",
        "vacuum",
        "hydraulic",
        "electric",
        "air",
        "none",
        typical="vacuum",
        where=LOOK,
    )
    vacuum_required: float = depression(
        "depression that the vacuum booster needs for its full assistance, at any height above the sea",
        typical=60,
        where=MANUAL,
    )
    vacuum_warning: float = depression("depression below which the warning lamp comes on", typical=35, where=MANUAL)
    booster: Booster = part("the brake booster")
    pedal_ratio: float = number(
        "travel of the foot over that of the push rod", typical=4.0, plausible=(2, 9), where=TAPE
    )
    master_bore: float = measure(
        "bore of the master cylinder",
        "length",
        "mm",
        typical=23.81,
        plausible=(12, 60),
        where=MANUAL,
        series=MASTER_BORES_MM,
    )
    wheels: dict[str, WheelBrakes] = parts("the wheel brakes, axle by axle: front, rear", needed=True)
    unassisted_test: UnassistedTest = part("a measured stop without assistance")
    assist_before: str = word(
        "what helped the driver's foot before the swap",
        "vacuum",
        "hydraulic",
        "electric",
        "air",
        "none",
        typical="vacuum",
        where=LOOK,
    )
    parking: ParkingBrake = part("the parking brake")
    fluid: ServiceFluid = part("its fluid")


class ApprovedVehicle(Section):
    """What the vehicle was approved for as it left the factory."""

    gvwr: float = measure(
        "highest laden mass that it was approved for", "mass", "kg", typical=3000, plausible=(500, 40000), where=PLATE
    )
    top_speed: float = measure(
        "highest speed that it reached or was approved for",
        "speed",
        "km/h",
        typical=120,
        plausible=(20, 260),
        where=PLATE,
    )


class EngineOverrun(Section):
    """What the engine does when the vehicle drives it."""

    braking_power: float = measure(
        "power that it takes up at its governed speed without fuel, an exhaust brake included where one is fitted",
        "power",
        "kW",
        typical=25,
        plausible=(2, 500),
        where=DATA_SHEET,
    )
