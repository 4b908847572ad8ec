"""Propshafts and their joints."""

from swaplint.engineering.shafts import TUBE_DIAMETERS
from swaplint.spec.fields import (
    CALLIPER,
    COMPONENT_SHEET,
    LOOK,
    PROTRACTOR,
    TAPE,
    TYPICAL,
    Section,
    measure,
    part,
    text,
    word,
)
from swaplint.spec.systems.driveline.faces import Face
from swaplint.spec.systems.fit import ShaftSlip

TUBE_DIAMETERS_MM = tuple(round(diameter * 1e3, 3) for diameter in TUBE_DIAMETERS)
TUBE_WALLS_MM = (1.65, 2.1, 2.4, 3.0)


class ShaftJoint(Section):
    """One joint of a propshaft."""

    kind: str = word(
        "how it is built: a single universal joint, two of them in one centred joint, or another kind",
        "universal",
        "double-cardan",
        "constant-velocity",
        "flexible",
        typical="universal",
        where=LOOK,
    )
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
        "change of direction at the joint in plan view, to the left positive seen along the drive; 0 if straight",
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
        limit=True,
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
        limit=True,
    )


class PropShaft(ShaftSlip):
    """A propshaft, or one piece of it up to a centre bearing."""

    driven_by: str = text(
        "what drives it: gearbox, transfer-front, transfer-rear, the name of the shaft ahead of it, or the name of the "
        "axle through which it is driven",
        typical="transfer-rear",
        where=LOOK,
    )
    drives: str = text(
        "what it drives: transfer, or the name of an axle; left out where another shaft follows at a centre bearing",
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
        where=PROTRACTOR,
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
        "yield strength of the tube in shear; 0.58 of that in tension",
        "stress",
        "MPa",
        typical=250,
        plausible=(50, 700),
        where=TYPICAL,
    )
    speed_max: float = measure(
        "highest speed that the shaft's maker allows",
        "rotation",
        "r/min",
        typical=5000,
        plausible=(500, 12000),
        where=COMPONENT_SHEET,
        limit=True,
    )
