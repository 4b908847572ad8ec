"""Fields of the gearing system: what drives the wheels, at which ratios, against which resistance."""

from swaplint.spec.fields import (
    AUTHORITY,
    COMPONENT_SHEET,
    DATA_SHEET,
    DECISION,
    DRIVELINE_SHEET,
    LOOK,
    MANUAL,
    MARKING,
    OWNER,
    PLATE,
    TAPE,
    TRIAL,
    TURNS_COUNTED,
    TYPICAL,
    TYRE,
    WEIGHBRIDGE,
    Part,
    Section,
    count,
    flag,
    measure,
    number,
    numbers,
    part,
    text,
    word,
)
from swaplint.spec.systems.controls import GearboxController
from swaplint.spec.systems.driveline import (
    AxleJoints,
    ConverterJoints,
    DrivetrainStrength,
    GearboxJoints,
    TransferJoints,
)
from swaplint.spec.systems.supply.fluids import GearOil

LOAD_INDICES = tuple(range(60, 181))
RIM_SIZES_IN = (13, 14, 15, 16, 17, 17.5, 18, 19, 19.5, 20, 22, 22.5)


# -- engine ---------------------------------------------------------------------------------------------------------
class TorquePoint(Section):
    """One point of the full-load torque curve."""

    speed: float = measure("engine speed", "rotation", "r/min", typical=1500, plausible=(300, 10000), where=DATA_SHEET)
    torque: float = measure("torque at full load", "torque", "N m", typical=300, plausible=(20, 5000), where=DATA_SHEET)


class EngineSpeed(Section):
    """The speeds that the engine is built and governed for."""

    idle: float = measure("idle speed, warm", "rotation", "r/min", typical=750, plausible=(400, 1300), where=DATA_SHEET)
    rated: float = measure(
        "speed at rated power", "rotation", "r/min", typical=2600, plausible=(1200, 9000), where=DATA_SHEET
    )
    governed_max: float = measure(
        "highest speed that the governor or limiter allows, no load",
        "rotation",
        "r/min",
        typical=2850,
        plausible=(1400, 9500),
        where=DATA_SHEET,
    )
    overspeed_max: float = measure(
        "speed that the engine must never exceed, even when driven by the vehicle",
        "rotation",
        "r/min",
        typical=3200,
        plausible=(1500, 11000),
        where=DATA_SHEET,
        limit=True,
    )
    cruise_low: float = measure(
        "lower end of the recommended cruise band",
        "rotation",
        "r/min",
        typical=1500,
        plausible=(800, 4000),
        where=DATA_SHEET,
    )
    cruise_high: float = measure(
        "upper end of the recommended cruise band",
        "rotation",
        "r/min",
        typical=2200,
        plausible=(1200, 6000),
        where=DATA_SHEET,
    )
    stall_low: float = measure(
        "lowest speed at which a torque converter may hold it at full load",
        "rotation",
        "r/min",
        typical=1400,
        plausible=(500, 5000),
        where=DATA_SHEET,
        limit=True,
    )
    stall_high: float = measure(
        "highest speed at which a torque converter may hold it at full load",
        "rotation",
        "r/min",
        typical=1700,
        plausible=(600, 6000),
        where=DATA_SHEET,
        limit=True,
    )


class EngineTorque(Section):
    """Marks on the torque curve."""

    plateau_low: float = measure(
        "speed at which the torque plateau begins",
        "rotation",
        "r/min",
        typical=1400,
        plausible=(800, 5000),
        where=DATA_SHEET,
    )
    plateau_high: float = measure(
        "speed at which the torque plateau ends",
        "rotation",
        "r/min",
        typical=1900,
        plausible=(1000, 7000),
        where=DATA_SHEET,
    )
    limit: float = measure(
        "torque that the calibration cuts the full-load curve off at, where it is set below the curve's highest",
        "torque",
        "N m",
        typical=500,
        plausible=(50, 4000),
        where=DATA_SHEET,
    )
    launch: float = measure(
        "torque that can be used to move off, off boost, at `launch_speed`",
        "torque",
        "N m",
        typical=250,
        plausible=(20, 4000),
        where=DATA_SHEET,
    )
    launch_speed: float = measure(
        "engine speed at which the vehicle moves off",
        "rotation",
        "r/min",
        typical=900,
        plausible=(500, 3000),
        where=DATA_SHEET,
    )


class EngineDerate(Section):
    """Power lost in thin air."""

    altitude_free: float = measure(
        "altitude up to which the engine keeps its rated torque",
        "length",
        "m",
        typical=1000,
        plausible=(0, 5000),
        where=DATA_SHEET,
        zero=True,
    )
    altitude_step: float = measure(
        "altitude step that `altitude_loss` is stated for",
        "length",
        "m",
        typical=300,
        plausible=(50, 1000),
        where=DATA_SHEET,
    )
    altitude_loss: float = measure(
        "share of torque lost for each step of altitude",
        "share",
        "%",
        typical=3,
        plausible=(0, 12),
        where=DATA_SHEET,
        zero=True,
    )


# -- driveline --------------------------------------------------------------------------------------------------------
class Gearbox(GearboxJoints):
    """The main gearbox."""

    kind: str = word("how it is shifted", "manual", "automatic", typical="manual", where=LOOK)
    mass: float = measure(
        "mass with its oil and its bell housing, and with its converter where it has one",
        "mass",
        "kg",
        typical=70,
        plausible=(10, 600),
        where=DRIVELINE_SHEET,
    )
    controller: GearboxController = part("the controller of an automatic or automated gearbox")
    ratios: list[float] = numbers(
        "ratio of each forward gear, first gear first; engine turns for one turn of the output",
        typical=(5.0, 2.8, 1.6, 1.0, 0.8),
        plausible=(0.4, 15),
        where=TURNS_COUNTED,
    )
    reverse_ratio: float = number(
        "ratio of the reverse gear, written without a sign",
        typical=4.5,
        plausible=(0.5, 20),
        where=TURNS_COUNTED,
    )
    shift_speed: float = measure(
        "engine speed at which it is shifted up at full load, where that is not the rated speed",
        "rotation",
        "r/min",
        typical=2700,
        plausible=(600, 8000),
        where=DECISION,
    )
    shift_speed_loss: float = measure(
        "engine speed lost while the clutch is open in an up-shift",
        "rotation",
        "r/min",
        typical=150,
        plausible=(0, 600),
        where=TYPICAL,
        zero=True,
    )
    oil_heat: float = measure(
        "heat that it gives to its oil in slow, hard work, with its converter where it has one",
        "power",
        "kW",
        typical=12,
        plausible=(0.2, 150),
        where=DRIVELINE_SHEET,
    )
    oil: GearOil = part("its oil")


class Transfer(TransferJoints):
    """A transfer case, which may have a low range."""

    high: float = number("ratio in high range", typical=1.0, plausible=(0.6, 2), where=TURNS_COUNTED)
    low: float = number(
        "ratio in low range; that of the high range where it has none",
        typical=2.0,
        plausible=(1, 6),
        where=TURNS_COUNTED,
    )
    oil: GearOil = part("its oil")


class Converter(ConverterJoints):
    """A hydrodynamic torque converter."""

    stall_ratio: float = number(
        "torque multiplication at stall", typical=2.0, plausible=(1.2, 4), where=COMPONENT_SHEET
    )


class Axle(AxleJoints):
    """One axle."""

    driven: bool = flag("whether the engine drives it in road use", typical=True, where=LOOK)
    ratio: float = number(
        "ratio of the final drive, hub reduction included",
        typical=4.1,
        plausible=(1.5, 15),
        where=TURNS_COUNTED,
        goes_with=["ring_teeth", "pinion_teeth"],
    )
    x: float = measure(
        "distance of the axle behind the foremost axle; 0 mm for the foremost itself",
        "length",
        "mm",
        typical=2900,
        plausible=(0, 15000),
        where=TAPE,
        zero=True,
    )
    rating: float = measure(
        "highest mass that this one axle may carry, where the plate or its maker states one for it",
        "mass",
        "kg",
        typical=1800,
        plausible=(300, 16000),
        where=PLATE,
    )
    group_share: float = measure(
        "share of its group's load that it carries, where two axles or more stand in front or behind: 50 % of a "
        "balanced pair",
        "share",
        "%",
        typical=50,
        plausible=(15, 85),
        where=MANUAL,
    )
    tyre_count: float = count("tyres on this axle; four where they are twins", typical=2, plausible=(2, 4), where=LOOK)
    oil: GearOil = part("the oil of its final drive")


class TyreMake(Part):
    """Tyres of one size and make."""

    designation: str = text(
        "size as the sidewall shows it, like 265/75R16 or 31x10.50R15", typical="235/75R15", where=TYRE
    )
    overall_diameter: float = measure(
        "outside diameter of the unloaded tyre",
        "length",
        "mm",
        typical=735,
        plausible=(450, 1600),
        where=TAPE,
    )
    rolling_circumference: float = measure(
        "distance rolled in one turn, measured with the vehicle laden",
        "length",
        "mm",
        typical=2240,
        plausible=(1300, 5000),
        where=TAPE,
    )
    construction: str = word("carcass", "radial", "diagonal", "bias-belted", typical="radial", where=TYRE)
    speed_symbol: str = text("speed symbol on the sidewall", typical="S", where=TYRE)
    load_index_single: float = count(
        "load index on the sidewall for a wheel with one tyre",
        typical=110,
        plausible=(60, 180),
        where=TYRE,
        series=LOAD_INDICES,
    )
    load_index_dual: float = count(
        "load index on the sidewall for twin tyres, behind the stroke",
        typical=108,
        plausible=(60, 180),
        where=TYRE,
        series=LOAD_INDICES,
    )
    reference_pressure: float = measure(
        "pressure at which the tyre carries the mass of its load index",
        "gauge_pressure",
        "kPa",
        typical=550,
        plausible=(150, 1000),
        where=TYRE,
    )
    pressure_max: float = measure(
        "highest pressure that the tyre may be pumped up to, cold",
        "gauge_pressure",
        "kPa",
        typical=550,
        plausible=(150, 1100),
        where=TYRE,
        limit=True,
    )


class Tyres(TyreMake):
    """The tyres: all of them, or those behind where the front tyres are stated by themselves."""

    count_front: float = count("tyres on the front axle, or on each of them", typical=2, plausible=(2, 4), where=LOOK)
    count_rear: float = count(
        "tyres on the rear axle, or on each of them; four where they are twins", typical=2, plausible=(2, 4), where=LOOK
    )
    pressure_front: float = measure(
        "pressure that the front tyres are kept at, cold",
        "gauge_pressure",
        "kPa",
        typical=350,
        plausible=(100, 1000),
        where=OWNER,
        settled="choice",
    )
    pressure_rear: float = measure(
        "pressure that the rear tyres are kept at, cold",
        "gauge_pressure",
        "kPa",
        typical=400,
        plausible=(100, 1000),
        where=OWNER,
        settled="choice",
    )


class SpeedLimiter(Part):
    """A device that limits road speed."""

    speed: float = measure(
        "road speed that it is set to",
        "speed",
        "km/h",
        typical=90,
        plausible=(20, 200),
        where=MARKING,
        settled="setting",
    )


class Speedometer(Part):
    """The speedometer and what it was calibrated for."""

    source: str = word(
        "where the speed signal is taken: ahead of the final drive, or at a wheel",
        "gearbox-output",
        "transfer-output",
        "wheel",
        typical="gearbox-output",
        where=LOOK,
    )
    calibrated_axle_ratio: float = number(
        "final drive ratio that the speedometer was last right with",
        typical=4.1,
        plausible=(1.5, 15),
        where=DRIVELINE_SHEET,
    )
    calibrated_tyre_diameter: float = measure(
        "outside diameter of the tyres that the speedometer was last right with",
        "length",
        "mm",
        typical=735,
        plausible=(450, 1600),
        where=TAPE,
    )
    calibrated_reading: float = number(
        "indicated over true speed when it was last right; 1.02 reads two per cent high",
        typical=1.02,
        plausible=(0.9, 1.15),
        where=TRIAL,
    )
    rule: str = word(
        "which rule the reading is held to: never below the true speed, as UN Regulation No. 39 has it, or 8 km/h "
        "(5 mph) either way at 80 km/h, as the United States have it for buses and trucks",
        "never-below",
        "either-way",
        typical="never-below",
        where=AUTHORITY,
    )
    correction: float = number(
        "factor of the gear, adapter or setting put in to correct the reading; 1 for none",
        typical=1.0,
        plausible=(0.5, 2),
        where=DECISION,
    )


class Drivetrain(DrivetrainStrength):
    """What the whole chain loses and grips."""

    efficiency: float = measure(
        "share of the engine's power that reaches the wheels: those of gearbox, transfer case, joints and axles "
        "multiplied",
        "share",
        "%",
        typical=90,
        plausible=(65, 99),
        where=TYPICAL,
    )
    turns_forward: bool = flag(
        "whether the wheels turn forwards in first gear with engine, gearbox and axle standing as planned: by the "
        "drawing, or with the crank turned by hand in its own sense",
        typical=True,
        where=LOOK,
    )
    traction_coefficient: float = number(
        "friction between tyre and ground on the design grade", typical=0.7, plausible=(0.1, 1.1), where=TYPICAL
    )
    driven_mass_share: float = measure(
        "share of the laden mass that stands on driven wheels",
        "share",
        "%",
        typical=100,
        plausible=(25, 100),
        where=WEIGHBRIDGE,
    )


# -- vehicle ----------------------------------------------------------------------------------------------------------
BODIES = (
    "saloon",
    "old-saloon",
    "sports",
    "light-van",
    "pick-up",
    "off-road",
    "off-road-open",
    "bus",
    "truck",
)
"""Shapes of body for which the resistance of the air is known roughly."""


class Aero(Section):
    """Resistance of the air."""

    body: str = word(
        "shape of the body; old-saloon is one of the 1960s, off-road an upright closed wagon",
        *BODIES,
        typical="off-road",
        where=LOOK,
    )
    height: float = measure(
        "height of the vehicle, without aerials and loads on the roof",
        "length",
        "mm",
        typical=1850,
        plausible=(900, 4200),
        where=TAPE,
    )
    width: float = measure(
        "width of the body, without mirrors", "length", "mm", typical=1750, plausible=(1100, 2600), where=TAPE
    )
    drag_coefficient: float = number(
        "drag coefficient; 0.34 to 0.5 for an older saloon, 0.35 to 0.5 for a light van, 0.6 to 1 for a truck",
        typical=0.45,
        plausible=(0.15, 1.4),
        where="a table of typical values by body type",
    )
    frontal_area: float = measure(
        "frontal area, the shadow of the vehicle on a wall",
        "area",
        "m2",
        typical=3.0,
        plausible=(0.8, 12),
        where="an estimate from width times height",
    )


class Rolling(Section):
    """Resistance of the tyres on the ground."""

    road: float = number(
        "rolling resistance coefficient on a good road; 0.010 to 0.015 for car tyres, 0.006 to 0.010 for truck tyres",
        typical=0.012,
        plausible=(0.005, 0.04),
        where=TYPICAL,
    )
    off_road: float = number(
        "the same where the design grade is climbed; 0.02 on rolled gravel, 0.04 to 0.08 on loose ground, "
        "0.2 to 0.4 on sand",
        typical=0.06,
        plausible=(0.015, 0.4),
        where=TYPICAL,
    )
