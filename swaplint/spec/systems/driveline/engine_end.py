"""The engine's rear end: flywheel housing, crank, flywheel, and what the engine asks of the damping behind it."""

from swaplint.spec.fields import DATA_SHEET, Section, flag, measure, part, text, word
from swaplint.spec.systems.driveline.faces import Face
from swaplint.spec.systems.fasteners import JointBolts


class FlywheelHousing(Face):
    """The engine's flywheel housing, or the rear face of the block where the gearbox bolts to that."""

    bolts: JointBolts = part("the bolts that hold the gearbox to it, where no adapter stands between them")
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
    speed_max: float = measure(
        "highest speed that its maker allows",
        "rotation",
        "r/min",
        typical=5500,
        plausible=(1500, 15000),
        where=DATA_SHEET,
        limit=True,
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
        limit=True,
    )


class TorqueOption(Section):
    """A calibration with reduced torque that the engine can be had with."""

    name: str = text("what it is called", typical="reduced torque A", where=DATA_SHEET)
    torque: float = measure(
        "highest torque with this calibration", "torque", "N m", typical=280, plausible=(20, 5000), where=DATA_SHEET
    )
