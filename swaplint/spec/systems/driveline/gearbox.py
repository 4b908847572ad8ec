"""Torque converter and gearbox as parts of the chain."""

from swaplint.spec.fields import CALLIPER, COMPONENT_SHEET, DRIVELINE_SHEET, TYPICAL, Part, flag, measure, part, word
from swaplint.spec.systems.driveline.faces import Face, Spline


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
        where=CALLIPER,
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
    speed_max: float = measure(
        "highest speed that its maker allows",
        "rotation",
        "r/min",
        typical=6000,
        plausible=(1500, 15000),
        where=COMPONENT_SHEET,
        limit=True,
    )
    torque_rating: float = measure(
        "highest engine torque that it is rated for",
        "torque",
        "N m",
        typical=450,
        plausible=(50, 8000),
        where=COMPONENT_SHEET,
        limit=True,
    )


class GearboxJoints(Part):
    """The main gearbox as a part of the chain."""

    front_face: Face = part("the front edge of the bell housing")
    rear_face: Face = part("the rear face, where a transfer case is bolted to it")
    output_flange: Face = part("the flange or slip yoke at the output, where a shaft is driven from it")
    input_spline: Spline = part("the spline of the input shaft")
    output_spline: Spline = part("the spline of the output shaft, where a transfer case is bolted to it")
    pilot_required: bool = flag(
        "whether the input shaft's nose must be carried in the crank", typical=True, where=DRIVELINE_SHEET
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
        where=DRIVELINE_SHEET,
        limit=True,
    )
    nose_room_min: float = measure(
        "least room that its sheet wants before the nose's tip or shoulder strikes",
        "length",
        "mm",
        typical=2,
        plausible=(0.2, 10),
        where=DRIVELINE_SHEET,
        limit=True,
    )
    bellhousing_depth: float = measure(
        "distance from the front of the gear case to the front edge of the bell housing",
        "length",
        "mm",
        typical=190,
        plausible=(0, 500),
        where=CALLIPER,
        zero=True,
    )
    input_shaft_length: float = measure(
        "distance from the front of the gear case to the tip of the input shaft's nose",
        "length",
        "mm",
        typical=260,
        plausible=(20, 700),
        where=CALLIPER,
    )
    spline_start: float = measure(
        "distance from the front of the gear case to where the full input spline begins",
        "length",
        "mm",
        typical=120,
        plausible=(0, 600),
        where=CALLIPER,
        zero=True,
    )
    spline_end: float = measure(
        "distance from the front of the gear case to where the full input spline ends, towards the engine",
        "length",
        "mm",
        typical=240,
        plausible=(10, 700),
        where=CALLIPER,
    )
    runout_bore_max: float = measure(
        "greatest runout of the bore that centres it, total indicator reading",
        "length",
        "mm",
        typical=0.20,
        plausible=(0.02, 1),
        where=DRIVELINE_SHEET,
        limit=True,
    )
    runout_face_max: float = measure(
        "greatest runout of the face that it bolts to, total indicator reading",
        "length",
        "mm",
        typical=0.15,
        plausible=(0.02, 1),
        where=DRIVELINE_SHEET,
        limit=True,
    )
    input_torque_rating: float = measure(
        "highest engine torque that it is rated for",
        "torque",
        "N m",
        typical=400,
        plausible=(30, 8000),
        where=DRIVELINE_SHEET,
        limit=True,
    )
    output_torque_rating: float = measure(
        "highest torque at its output shaft, where the sheet gives one",
        "torque",
        "N m",
        typical=1800,
        plausible=(50, 60000),
        where=DRIVELINE_SHEET,
        limit=True,
    )
    rated_behind: str = word(
        "the kind of engine that its torque rating was given for",
        "diesel",
        "petrol",
        typical="diesel",
        where=DRIVELINE_SHEET,
    )
    gcw_rating: float = measure(
        "highest mass of vehicle and trailer that it is rated for",
        "mass",
        "kg",
        typical=4000,
        plausible=(500, 100000),
        where=DRIVELINE_SHEET,
        limit=True,
    )
    input_speed_max: float = measure(
        "highest speed of its input shaft",
        "rotation",
        "r/min",
        typical=4500,
        plausible=(1500, 12000),
        where=DRIVELINE_SHEET,
        limit=True,
    )
    efficiency: float = measure(
        "share of the power that passes through it; 92 to 97 % for a manual one of a car, 90 to 95 % for an automatic",
        "share",
        "%",
        typical=96,
        plausible=(80, 100),
        where=TYPICAL,
    )
