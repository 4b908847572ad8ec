"""Fields of the driveline system: every joint of the chain from crank to wheels, and what each part of it bears.

`Gearbox`, `Transfer`, `Converter`, `Axle` and `Drivetrain` stand in `gearing`, which gives them their ratios; what the
chain's joints and strength need of them is declared here and inherited there.
"""

from swaplint.engineering.shafts import TUBE_DIAMETERS
from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DATA_SHEET,
    DRAWING,
    LOOK,
    OWNER,
    RECORD,
    TAPE,
    Part,
    Section,
    count,
    flag,
    measure,
    number,
    part,
    text,
    word,
)
from swaplint.spec.systems.fit import ShaftSlip

CALLIPER = "a calliper or micrometer on the part"
PROTRACTOR = "a digital protractor on gearbox, shaft and axle, laden"
INDICATOR = "a dial indicator turned with the crank"
TUBE_DIAMETERS_MM = tuple(round(diameter * 1e3, 3) for diameter in TUBE_DIAMETERS)
TUBE_WALLS_MM = (1.65, 2.1, 2.4, 3.0)
ADAPTER_THICKNESSES_MM = (10, 12, 15, 20, 22, 25, 30, 35, 40)


# -- what both sides of a joint have ----------------------------------------------------------------------------------
class Face(Section):
    """One side of a bolted joint: the face of a housing, a flywheel or a flange."""

    pattern: str = text(
        "SAE number such as 'SAE 3', or the name of the maker's own pattern; 'own pattern' where it has no name",
        typical="SAE 3",
        where=COMPONENT_SHEET,
    )
    centred_by: str = word(
        "what centres this side: a bore, a spigot that enters one, or dowels alone",
        "bore",
        "spigot",
        "dowels",
        typical="bore",
        where=LOOK,
    )
    pilot: float = measure(
        "diameter of the bore or spigot, as measured or drawn",
        "length",
        "mm",
        typical=409.6,
        plausible=(10, 900),
        where=CALLIPER,
    )
    bolt_circle: float = measure(
        "diameter of the bolt circle", "length", "mm", typical=428.6, plausible=(20, 1000), where=CALLIPER
    )
    holes: float = count("number of bolt holes", typical=12, plausible=(2, 24), where=LOOK)


class Spline(Section):
    """A spline, on a shaft or in a hub."""

    teeth: float = count("number of teeth", typical=10, plausible=(4, 60), where=LOOK)
    outer_diameter: float = measure(
        "major diameter: over the teeth of the shaft, at the root of the hub",
        "length",
        "mm",
        typical=35,
        plausible=(10, 120),
        where=CALLIPER,
    )
    standard: str = text(
        "form of the teeth: standard and pressure angle, or 'straight'", typical="straight", where=COMPONENT_SHEET
    )


# -- the engine's rear end --------------------------------------------------------------------------------------------
class FlywheelHousing(Face):
    """The engine's flywheel housing, or the rear face of the block where the gearbox bolts to that."""

    runout_bore: float = measure(
        "runout of the locating bore against the crank, total indicator reading",
        "length",
        "mm",
        typical=0.10,
        plausible=(0, 2),
        where=DATA_SHEET,
        zero=True,
    )
    runout_face: float = measure(
        "runout of the face against the crank, total indicator reading",
        "length",
        "mm",
        typical=0.08,
        plausible=(0, 2),
        where=DATA_SHEET,
        zero=True,
    )


class Crank(Section):
    """The rear end of the crankshaft."""

    flange: Face = part("the flange that the flywheel bolts to")
    pilot_bore: float = measure(
        "bore that takes the pilot bush or bearing, or the converter's spigot, in crank or flywheel",
        "length",
        "mm",
        typical=28,
        plausible=(8, 120),
        where=DATA_SHEET,
    )
    pilot_depth: float = measure(
        "how far the open end of the pilot bush lies ahead of the housing face, towards the engine",
        "length",
        "mm",
        typical=40,
        plausible=(-100, 200),
        where=DATA_SHEET,
        signed=True,
    )
    pilot_hole_depth: float = measure(
        "free depth for the input shaft's nose, from the open end of the pilot bush to the bottom of the hole",
        "length",
        "mm",
        typical=30,
        plausible=(5, 150),
        where=DATA_SHEET,
    )


class Flywheel(Section):
    """The flywheel, or the flex-plate of an automatic."""

    kind: str = word("how it is built", "solid", "dual-mass", "flex-plate", typical="solid", where=DATA_SHEET)
    crank_side: Face = part("the face that bolts to the crank")
    clutch_side: Face = part("the face that the clutch cover or the converter bolts to")
    depth: float = measure(
        "how far the clutch's friction face, or the flex-plate's converter face, lies ahead of the housing face",
        "length",
        "mm",
        typical=40,
        plausible=(-150, 150),
        where=DATA_SHEET,
        signed=True,
    )
    damper_stop_torque: float = measure(
        "torque at which a dual-mass flywheel reaches its stops",
        "torque",
        "N m",
        typical=500,
        plausible=(50, 10000),
        where=DATA_SHEET,
    )


class Torsional(Section):
    """What the engine asks of the damping behind it."""

    dual_mass_required: bool = flag(
        "whether the engine maker asks for a dual-mass flywheel", typical=False, where=DATA_SHEET
    )
    damper_stop_torque_min: float = measure(
        "lowest stop torque that the engine maker allows for the clutch disc's damper",
        "torque",
        "N m",
        typical=400,
        plausible=(50, 10000),
        where=DATA_SHEET,
    )


class TorqueOption(Section):
    """A calibration with reduced torque that the engine can be had with."""

    name: str = text("what it is called", typical="reduced torque A", where=DATA_SHEET)
    torque: float = measure(
        "highest torque with this calibration", "torque", "N m", typical=280, plausible=(20, 5000), where=DATA_SHEET
    )


# -- between engine and gearbox ---------------------------------------------------------------------------------------
class Adapter(Part):
    """The adapter plate or ring between flywheel housing and gearbox."""

    engine_side: Face = part("the face towards the engine")
    gearbox_side: Face = part("the face towards the gearbox")
    thickness: float = measure(
        "thickness between its two faces",
        "length",
        "mm",
        typical=22,
        plausible=(3, 250),
        where=DRAWING,
        series=ADAPTER_THICKNESSES_MM,
    )
    runout_bore: float = measure(
        "runout that its two locating diameters add, total indicator reading",
        "length",
        "mm",
        typical=0.05,
        plausible=(0, 2),
        where=DRAWING,
        zero=True,
    )
    runout_face: float = measure(
        "runout that its faces add by not being parallel, total indicator reading",
        "length",
        "mm",
        typical=0.04,
        plausible=(0, 2),
        where=DRAWING,
        zero=True,
    )


class Alignment(Section):
    """What the dial indicator shows at the gearbox's seat with housing and adapter bolted up."""

    bore_runout: float = measure(
        "runout of the bore that centres the gearbox, total indicator reading",
        "length",
        "mm",
        typical=0.12,
        plausible=(0, 3),
        where=INDICATOR,
        zero=True,
    )
    face_runout: float = measure(
        "runout of the face that the gearbox bolts to, total indicator reading",
        "length",
        "mm",
        typical=0.10,
        plausible=(0, 3),
        where=INDICATOR,
        zero=True,
    )


class Pilot(Part):
    """The pilot bush or bearing that carries the nose of the gearbox's input shaft in the crank."""

    kind: str = word("what it is", "bush", "needle", "ball", typical="bush", where=COMPONENT_SHEET)
    outer: float = measure("outside diameter", "length", "mm", typical=28.04, plausible=(8, 120), where=CALLIPER)
    inner: float = measure(
        "inside diameter, before it is pressed in", "length", "mm", typical=15.06, plausible=(5, 80), where=CALLIPER
    )
    length: float = measure("length of the bush", "length", "mm", typical=20, plausible=(5, 80), where=CALLIPER)
    press_fit_min: float = measure(
        "least interference of the bush in the bore",
        "length",
        "mm",
        typical=0.02,
        plausible=(0, 0.2),
        where=COMPONENT_SHEET,
        zero=True,
    )
    press_fit_max: float = measure(
        "greatest interference of the bush in the bore",
        "length",
        "mm",
        typical=0.06,
        plausible=(0, 0.3),
        where=COMPONENT_SHEET,
        zero=True,
    )
    running_clearance_min: float = measure(
        "least clearance of the shaft's nose in the bush",
        "length",
        "mm",
        typical=0.03,
        plausible=(0, 0.3),
        where=COMPONENT_SHEET,
        zero=True,
    )
    running_clearance_max: float = measure(
        "greatest clearance of the shaft's nose in the bush",
        "length",
        "mm",
        typical=0.10,
        plausible=(0, 0.5),
        where=COMPONENT_SHEET,
        zero=True,
    )


class Clutch(Part):
    """The clutch: cover and disc."""

    cover: Face = part("the side of the cover that bolts to the flywheel")
    hub_spline: Spline = part("the spline in the disc's hub")
    hub_front: float = measure(
        "how far the front end of the disc's hub lies behind the flywheel's friction face",
        "length",
        "mm",
        typical=5,
        plausible=(-60, 100),
        where=CALLIPER,
        signed=True,
    )
    hub_rear: float = measure(
        "how far the rear end of the disc's hub lies behind the flywheel's friction face",
        "length",
        "mm",
        typical=40,
        plausible=(-20, 200),
        where=CALLIPER,
        signed=True,
    )
    wear_travel: float = measure(
        "how far the hub moves towards the engine until the facings are worn out",
        "length",
        "mm",
        typical=2,
        plausible=(0, 10),
        where=COMPONENT_SHEET,
        zero=True,
    )
    clamp_load: float = measure(
        "clamping force of the cover with the facings worn",
        "force",
        "N",
        typical=7000,
        plausible=(500, 60000),
        where=COMPONENT_SHEET,
    )
    friction_outer: float = measure(
        "outside diameter of the facings", "length", "mm", typical=250, plausible=(100, 500), where=CALLIPER
    )
    friction_inner: float = measure(
        "inside diameter of the facings", "length", "mm", typical=160, plausible=(50, 350), where=CALLIPER
    )
    faces: float = count("number of friction faces; two for a single disc", typical=2, plausible=(1, 8), where=LOOK)
    facing: str = word("what the facings are", "organic", "sintered", typical="organic", where=COMPONENT_SHEET)
    friction_coefficient: float = number(
        "coefficient of friction of the facings, hot", typical=0.27, plausible=(0.1, 0.6), where=COMPONENT_SHEET
    )
    torque_capacity: float = measure(
        "torque that the clutch carries, as its maker states it; used instead of the sum from force and friction",
        "torque",
        "N m",
        typical=500,
        plausible=(50, 10000),
        where=COMPONENT_SHEET,
    )
    safety_factor_min: float = number(
        "lowest ratio of its capacity to the engine's torque that the maker allows in this duty",
        typical=1.5,
        plausible=(1, 4),
        where=COMPONENT_SHEET,
    )
    launch_energy_max: float = measure(
        "most heat that one start may put into the clutch",
        "energy",
        "kJ",
        typical=60,
        plausible=(2, 2000),
        where=COMPONENT_SHEET,
    )
    hub: str = word("whether the disc's hub has a torsional damper", "damped", "rigid", typical="damped", where=LOOK)
    damper_stop_torque: float = measure(
        "torque at which the disc's damper reaches its stops",
        "torque",
        "N m",
        typical=450,
        plausible=(50, 10000),
        where=COMPONENT_SHEET,
    )
    damper_for: str = word(
        "the kind of engine that the disc's damper was tuned for",
        "diesel",
        "petrol",
        typical="diesel",
        where=COMPONENT_SHEET,
    )


# -- what gearing's parts have of the chain ---------------------------------------------------------------------------
class ConverterJoints(Part):
    """The torque converter as a part of the chain."""

    flex_plate_side: Face = part("the side that bolts to the flex-plate")
    hub_spline: Spline = part("the spline that the gearbox's input shaft enters")
    spigot_diameter: float = measure(
        "diameter of the spigot that centres it in the crank",
        "length",
        "mm",
        typical=45,
        plausible=(8, 120),
        where=CALLIPER,
    )
    seating_depth: float = measure(
        "how far its bolting pads lie behind the front edge of the bell housing when it is fully seated in the pump",
        "length",
        "mm",
        typical=20,
        plausible=(-100, 150),
        where=TAPE,
        signed=True,
    )
    gap_min: float = measure(
        "least gap by which it is pulled forward to the flex-plate",
        "length",
        "mm",
        typical=2,
        plausible=(0, 20),
        where=COMPONENT_SHEET,
        zero=True,
    )
    gap_max: float = measure(
        "greatest gap by which it is pulled forward to the flex-plate",
        "length",
        "mm",
        typical=5,
        plausible=(0, 30),
        where=COMPONENT_SHEET,
        zero=True,
    )
    rated_stall_speed: float = measure(
        "speed at which it stalls when driven with `rated_stall_torque`",
        "rotation",
        "r/min",
        typical=1800,
        plausible=(500, 6000),
        where=COMPONENT_SHEET,
    )
    rated_stall_torque: float = measure(
        "engine torque that its stall speed is stated for",
        "torque",
        "N m",
        typical=300,
        plausible=(20, 5000),
        where=COMPONENT_SHEET,
    )
    torque_rating: float = measure(
        "highest engine torque that it is rated for",
        "torque",
        "N m",
        typical=450,
        plausible=(50, 8000),
        where=COMPONENT_SHEET,
    )


class GearboxJoints(Part):
    """The main gearbox as a part of the chain."""

    front_face: Face = part("the front edge of the bell housing")
    rear_face: Face = part("the rear face, where a transfer case is bolted to it")
    output_flange: Face = part("the flange or slip yoke at the output, where a shaft is driven from it")
    input_spline: Spline = part("the spline of the input shaft")
    output_spline: Spline = part("the spline of the output shaft, where a transfer case is bolted to it")
    pilot_required: bool = flag(
        "whether the input shaft's nose must be carried in the crank", typical=True, where=COMPONENT_SHEET
    )
    nose_diameter: float = measure(
        "diameter of the input shaft's nose", "length", "mm", typical=15, plausible=(5, 80), where=CALLIPER
    )
    nose_length: float = measure(
        "length of the nose up to its shoulder", "length", "mm", typical=20, plausible=(5, 100), where=CALLIPER
    )
    nose_engagement_min: float = measure(
        "least length of nose that must stand in the pilot bush",
        "length",
        "mm",
        typical=10,
        plausible=(3, 60),
        where=COMPONENT_SHEET,
    )
    bellhousing_depth: float = measure(
        "distance from the front of the gear case to the front edge of the bell housing",
        "length",
        "mm",
        typical=190,
        plausible=(0, 500),
        where=TAPE,
        zero=True,
    )
    input_shaft_length: float = measure(
        "distance from the front of the gear case to the tip of the input shaft's nose",
        "length",
        "mm",
        typical=260,
        plausible=(20, 700),
        where=TAPE,
    )
    spline_start: float = measure(
        "distance from the front of the gear case to where the full input spline begins",
        "length",
        "mm",
        typical=120,
        plausible=(0, 600),
        where=TAPE,
        zero=True,
    )
    spline_end: float = measure(
        "distance from the front of the gear case to where the full input spline ends, towards the engine",
        "length",
        "mm",
        typical=240,
        plausible=(10, 700),
        where=TAPE,
    )
    runout_bore_max: float = measure(
        "greatest runout of the bore that centres it, total indicator reading",
        "length",
        "mm",
        typical=0.20,
        plausible=(0.02, 1),
        where=COMPONENT_SHEET,
    )
    runout_face_max: float = measure(
        "greatest runout of the face that it bolts to, total indicator reading",
        "length",
        "mm",
        typical=0.15,
        plausible=(0.02, 1),
        where=COMPONENT_SHEET,
    )
    input_torque_rating: float = measure(
        "highest engine torque that it is rated for",
        "torque",
        "N m",
        typical=400,
        plausible=(30, 8000),
        where=COMPONENT_SHEET,
    )
    output_torque_rating: float = measure(
        "highest torque at its output shaft, where the sheet gives one",
        "torque",
        "N m",
        typical=1800,
        plausible=(50, 60000),
        where=COMPONENT_SHEET,
    )
    rated_behind: str = word(
        "the kind of engine that its torque rating was given for",
        "diesel",
        "petrol",
        typical="diesel",
        where=COMPONENT_SHEET,
    )
    gcw_rating: float = measure(
        "highest mass of vehicle and trailer that it is rated for",
        "mass",
        "kg",
        typical=4000,
        plausible=(500, 100000),
        where=COMPONENT_SHEET,
    )
    input_speed_max: float = measure(
        "highest speed of its input shaft",
        "rotation",
        "r/min",
        typical=4500,
        plausible=(1500, 12000),
        where=COMPONENT_SHEET,
    )
    efficiency: float = measure(
        "share of the power that passes through it",
        "share",
        "%",
        typical=96,
        plausible=(80, 100),
        where=COMPONENT_SHEET,
    )


class TransferJoints(Part):
    """The transfer case as a part of the chain."""

    mounting: str = word(
        "bolted to the gearbox, or standing by itself behind a shaft", "bolted", "remote", typical="bolted", where=LOOK
    )
    front_face: Face = part("the face that bolts to the gearbox")
    input_spline: Spline = part("the spline that takes the gearbox's output shaft, where it is bolted to it")
    input_flange: Face = part("the input flange, where a shaft drives it")
    front_output: Face = part("the flange or slip yoke towards the front axle")
    rear_output: Face = part("the flange or slip yoke towards the rear axle")
    output_torque_rating: float = measure(
        "highest torque that it passes to its outputs together",
        "torque",
        "N m",
        typical=3500,
        plausible=(200, 100000),
        where=COMPONENT_SHEET,
    )
    low_torque_limit: float = measure(
        "engine torque that the control unit allows in low range, where it limits it",
        "torque",
        "N m",
        typical=250,
        plausible=(20, 5000),
        where=DATA_SHEET,
    )


class AxleJoints(Part):
    """An axle as a part of the chain."""

    input_flange: Face = part("the flange that its shaft bolts to")
    integral: bool = flag(
        "whether its final drive stands in the housing of gearbox or transfer case, so that no shaft drives it",
        typical=False,
        where=LOOK,
    )
    output_torque_rating: float = measure(
        "highest torque at its two wheels together, peak",
        "torque",
        "N m",
        typical=9000,
        plausible=(500, 200000),
        where=COMPONENT_SHEET,
    )
    torque_share: float = measure(
        "largest share of the drive torque that it can be given; 100 % where it can get all of it",
        "share",
        "%",
        typical=60,
        plausible=(10, 100),
        where=COMPONENT_SHEET,
    )
    ring_teeth: float = count("teeth of the ring gear", typical=41, plausible=(20, 80), where=LOOK)
    pinion_teeth: float = count("teeth of the pinion", typical=10, plausible=(4, 25), where=LOOK)
    hub_reduction: float = number(
        "ratio of the reduction in the hubs; 1 where there is none",
        typical=1.0,
        plausible=(1, 6),
        where=COMPONENT_SHEET,
    )


class DrivetrainStrength(Section):
    """What the strength of the whole chain is judged by."""

    highest_grip: float = number(
        "highest coefficient of friction that the tyres will find: what limits the torque that the ground takes",
        typical=0.8,
        plausible=(0.3, 1.3),
        where=OWNER,
    )
    crawl_ratio: float = number(
        "overall ratio in first gear and lowest range, as the papers or somebody's sum state it: checked, not used",
        typical=46,
        plausible=(2, 500),
        where=RECORD,
    )


# -- shafts -----------------------------------------------------------------------------------------------------------
class ShaftJoint(Section):
    """One joint of a propshaft."""

    kind: str = word("how it is built", "universal", "constant-velocity", "flexible", typical="universal", where=LOOK)
    ride: float = measure(
        "change of direction at the joint in side view at laden ride height, upwards positive seen along the drive",
        "angle",
        "deg",
        typical=3,
        plausible=(-25, 25),
        where=PROTRACTOR,
        signed=True,
    )
    bump: float = measure(
        "the same with the suspension on its bump stop",
        "angle",
        "deg",
        typical=5,
        plausible=(-45, 45),
        where=PROTRACTOR,
        signed=True,
    )
    droop: float = measure(
        "the same with the suspension hanging free",
        "angle",
        "deg",
        typical=-8,
        plausible=(-45, 45),
        where=PROTRACTOR,
        signed=True,
    )
    plan: float = measure(
        "change of direction at the joint in plan view, to the left positive seen along the drive; none if not stated",
        "angle",
        "deg",
        typical=0,
        plausible=(-25, 25),
        where=PROTRACTOR,
        signed=True,
    )
    running_angle_max: float = measure(
        "greatest angle that it may run at",
        "angle",
        "deg",
        typical=7,
        plausible=(1, 50),
        where=COMPONENT_SHEET,
    )
    angle_max: float = measure(
        "angle at which it reaches its stop", "angle", "deg", typical=20, plausible=(2, 60), where=COMPONENT_SHEET
    )
    torque_rating: float = measure(
        "highest torque that it bears at its running angle, peak",
        "torque",
        "N m",
        typical=2000,
        plausible=(100, 60000),
        where=COMPONENT_SHEET,
    )


class PropShaft(ShaftSlip):
    """A propshaft, or one piece of it up to a centre bearing."""

    driven_by: str = text(
        "what drives it: gearbox, transfer-front, transfer-rear, or the name of the shaft ahead of it",
        typical="transfer-rear",
        where=LOOK,
    )
    drives: str = text(
        "what it drives: transfer, or the name of an axle; left out where another shaft follows",
        typical="rear",
        where=LOOK,
    )
    input_flange: Face = part("its flange at the driving end")
    output_flange: Face = part("its flange at the driven end")
    input_joint: ShaftJoint = part("the joint at its driving end")
    output_joint: ShaftJoint = part("the joint at its driven end; left out where another shaft follows")
    yoke_offset: float = measure(
        "how far its two yokes are turned against each other, in the sense of rotation from the input; 0 in phase",
        "angle",
        "deg",
        typical=0,
        plausible=(-90, 90),
        where=LOOK,
        signed=True,
    )
    length: float = measure(
        "length from joint centre to joint centre, or to the centre bearing",
        "length",
        "mm",
        typical=1200,
        plausible=(100, 3000),
        where=TAPE,
    )
    tube_outer: float = measure(
        "outside diameter of the tube",
        "length",
        "mm",
        typical=76.2,
        plausible=(25, 200),
        where=CALLIPER,
        series=TUBE_DIAMETERS_MM,
    )
    tube_wall: float = measure(
        "wall of the tube", "length", "mm", typical=2.1, plausible=(1, 20), where=COMPONENT_SHEET, series=TUBE_WALLS_MM
    )
    material: str = word("what the tube is made of", "steel", "aluminium", typical="steel", where=LOOK)
    shear_yield: float = measure(
        "yield strength of the tube in shear",
        "stress",
        "MPa",
        typical=250,
        plausible=(50, 700),
        where=COMPONENT_SHEET,
    )
    speed_max: float = measure(
        "highest speed that the shaft's maker allows",
        "rotation",
        "r/min",
        typical=5000,
        plausible=(500, 12000),
        where=COMPONENT_SHEET,
    )
