"""Between engine and gearbox: adapter, alignment, pilot bush, clutch."""

from swaplint.spec.fields import (
    CALLIPER,
    COMPONENT_SHEET,
    DRAWING,
    LOOK,
    TAPE,
    TYPICAL,
    Part,
    Section,
    count,
    measure,
    number,
    part,
    text,
    word,
)
from swaplint.spec.systems.driveline.faces import Face, Spline
from swaplint.spec.systems.fasteners import bolt_class, tightening_torque
from swaplint.spec.systems.supply.fluids import ServiceFluid

INDICATOR = "a dial indicator turned with the crank"
ADAPTER_THICKNESSES_MM = (10, 12, 15, 20, 22, 25, 30, 35, 40)


class Fastened(Part):
    """A piece that is located by dowels and held by bolts, between engine and gearbox."""

    dowels: float = count(
        "dowels that locate it; 0 where a bore or spigot does", typical=2, plausible=(0, 6), where=DRAWING, zero=True
    )
    dowel_diameter: float = measure(
        "diameter of those dowels", "length", "mm", typical=12, plausible=(3, 30), where=DRAWING
    )
    dowel_engagement: float = measure(
        "how far a dowel stands in the side where it stands in least",
        "length",
        "mm",
        typical=12,
        plausible=(0, 60),
        where=DRAWING,
        zero=True,
    )
    bolt_diameter: float = measure(
        "thread diameter of the bolts that hold it", "length", "mm", typical=10, plausible=(4, 24), where=DRAWING
    )
    bolt_engagement: float = measure(
        "length of thread of those bolts that is screwed in",
        "length",
        "mm",
        typical=18,
        plausible=(0, 80),
        where=TAPE,
        zero=True,
    )
    thread_depth: float = measure(
        "how far those bolts can be screwed in before they bottom; not stated for holes that go through",
        "length",
        "mm",
        typical=25,
        plausible=(3, 150),
        where=TAPE,
    )
    threads_in: str = word(
        "what the threads are cut in", "steel", "cast-iron", "aluminium", typical="cast-iron", where=LOOK
    )
    bolt_class: str = bolt_class()
    bolt_torque: float = tightening_torque()
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


class AdapterPiece(Fastened):
    """A further piece of the stack: a ring or second adapter, a crank spacer, a spacer ahead of the converter."""

    meets: str = text(
        "what its engine side bolts to: housing, adapter, crank, flywheel (flex-plate too), or another piece by name",
        typical="adapter",
        where=DRAWING,
    )
    engine_side: Face = part("the face towards the engine")
    gearbox_side: Face = part("the face towards the gearbox")
    thickness: float = measure(
        "thickness between its two faces",
        "length",
        "mm",
        typical=10,
        plausible=(0.3, 250),
        where=DRAWING,
        series=ADAPTER_THICKNESSES_MM,
    )


class Adapter(Fastened):
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
    material: str = word(
        "what a bush is made of", "sintered-bronze", "bronze", "steel", typical="sintered-bronze", where=COMPONENT_SHEET
    )
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
        "least clearance of the shaft's nose in the bush, pressed in",
        "length",
        "mm",
        typical=0.03,
        plausible=(0, 0.3),
        where=COMPONENT_SHEET,
        zero=True,
    )
    running_clearance_max: float = measure(
        "greatest clearance of the shaft's nose in the bush, pressed in",
        "length",
        "mm",
        typical=0.10,
        plausible=(0, 0.5),
        where=COMPONENT_SHEET,
        zero=True,
    )


class Clutch(Part):
    """The clutch: cover and disc."""

    worked_by: str = word(
        "what works it from the pedal", "hydraulics", "cable", "rod", typical="hydraulics", where=LOOK
    )
    fluid: ServiceFluid = part("the fluid of its hydraulics")
    filled_from: str = word(
        "which reservoir its hydraulics are filled from: one of their own, or that of the brakes",
        "own",
        "brakes",
        typical="own",
        where=LOOK,
    )
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
        "coefficient of friction of the facings, hot", typical=0.27, plausible=(0.1, 0.6), where=TYPICAL
    )
    torque_capacity: float = measure(
        "torque that the clutch carries, as its maker states it; used instead of the sum from force and friction",
        "torque",
        "N m",
        typical=500,
        plausible=(50, 10000),
        where=COMPONENT_SHEET,
    )
    speed_max: float = measure(
        "highest speed that its maker allows for cover and disc",
        "rotation",
        "r/min",
        typical=6000,
        plausible=(1500, 15000),
        where=COMPONENT_SHEET,
        limit=True,
    )
    safety_factor_min: float = number(
        "lowest ratio of its capacity to the engine's torque that the maker allows in this duty",
        typical=1.5,
        plausible=(1, 4),
        where=COMPONENT_SHEET,
        limit=True,
    )
    launch_energy_max: float = measure(
        "most heat that one start may put into the clutch",
        "energy",
        "kJ",
        typical=60,
        plausible=(2, 2000),
        where=COMPONENT_SHEET,
        limit=True,
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
