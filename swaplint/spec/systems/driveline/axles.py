"""Transfer case and axles as parts of the chain, and what the strength of the whole is judged by."""

from swaplint.spec.fields import (
    CALLIPER,
    COMPONENT_SHEET,
    DATA_SHEET,
    DECISION,
    DRIVELINE_SHEET,
    LOOK,
    MARKING,
    PROTRACTOR,
    RECORD,
    TAPE,
    TURNS_COUNTED,
    TYPICAL,
    Part,
    Section,
    count,
    flag,
    measure,
    number,
    part,
    word,
)
from swaplint.spec.systems.driveline.faces import Face, Spline

ENGAGED = ("always", "when-selected", "low-range")
"""When the engine can drive an axle."""


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
        where=DRIVELINE_SHEET,
        limit=True,
    )
    axle_difference_max: float = measure(
        "greatest difference between what front and rear axle roll for one turn of their shafts, with both driven on "
        "hard ground, that transfer case, centre differential or coupling takes",
        "share",
        "%",
        typical=1,
        plausible=(0.1, 10),
        where=DRIVELINE_SHEET,
        limit=True,
    )
    pump_speed: float = measure(
        "highest speed of the shaft ahead of it while a pump or winch is driven through it at rest; 0 where none is",
        "rotation",
        "r/min",
        typical=2000,
        plausible=(0, 6000),
        where=DECISION,
        zero=True,
    )
    low_torque_limit: float = measure(
        "engine torque that the control unit allows in low range, where it limits it",
        "torque",
        "N m",
        typical=250,
        plausible=(20, 5000),
        where=DATA_SHEET,
    )


class HalfShaftJoint(Section):
    """A joint of a half-shaft."""

    angle_max: float = measure(
        "angle at which it reaches its stop", "angle", "deg", typical=45, plausible=(5, 60), where=COMPONENT_SHEET
    )
    lock: float = measure(
        "angle by which the wheel is turned at full lock; 0 for one that does not steer",
        "angle",
        "deg",
        typical=32,
        plausible=(0, 55),
        where=PROTRACTOR,
        zero=True,
    )
    slope: float = measure(
        "steepest slope of the shaft at the joint over the travel of the suspension, hanging free as a rule",
        "angle",
        "deg",
        typical=12,
        plausible=(0, 40),
        where=PROTRACTOR,
        zero=True,
    )
    torque_rating_at_lock: float = measure(
        "highest torque that it bears at the angle of full lock, peak",
        "torque",
        "N m",
        typical=2500,
        plausible=(100, 60000),
        where=COMPONENT_SHEET,
        limit=True,
    )


class HalfShafts(Part):
    """The two shafts from an axle's final drive to its wheels, alike on both sides."""

    joints: str = word(
        "which joints each has: none in a rigid axle, one at the wheel where that steers, or one at each end",
        "none",
        "outer",
        "both",
        typical="both",
        where=LOOK,
    )
    differential: str = word(
        "whether one wheel can be given more torque than the other",
        "open",
        "limited-slip",
        "locking",
        typical="open",
        where=DRIVELINE_SHEET,
    )
    torque_rating: float = measure(
        "highest torque of one of them with its joints, straight, peak",
        "torque",
        "N m",
        typical=4000,
        plausible=(200, 100000),
        where=COMPONENT_SHEET,
        limit=True,
    )
    smallest_diameter: float = measure(
        "smallest diameter of one of them, mostly at the root of its splines",
        "length",
        "mm",
        typical=32,
        plausible=(10, 120),
        where=CALLIPER,
        settled="measured",
    )
    hardness: float = number(
        "Brinell hardness of its steel, by a portable tester where it is thinnest",
        typical=280,
        plausible=(120, 600),
        where="a portable hardness tester",
    )
    outer_joint: HalfShaftJoint = part("the joint at the wheel")
    inner_joint: HalfShaftJoint = part("the joint at the final drive")
    length_change: float = measure(
        "how much its length must change between bump stop and hanging free",
        "length",
        "mm",
        typical=15,
        plausible=(0, 120),
        where=TAPE,
        zero=True,
    )
    plunge: float = measure(
        "how far its inner joint, or its sliding spline, lets it in and out in all",
        "length",
        "mm",
        typical=45,
        plausible=(0, 200),
        where=COMPONENT_SHEET,
        zero=True,
    )


DRIVEN_THROUGH = ("shaft", "chain", "belt", "hydraulic", "electric")
"""What brings the engine's torque to an axle."""


class FinalChain(Part):
    """The chain or toothed belt that drives an axle, and the wheel that it runs on there."""

    teeth: float = count(
        "teeth of the chain wheel or belt pulley on the axle", typical=45, plausible=(9, 200), where=LOOK
    )
    pitch: float = measure(
        "distance from tooth to tooth: of the chain from pin to pin",
        "length",
        "mm",
        typical=15.875,
        plausible=(5, 80),
        where=MARKING,
    )
    pull_max: float = measure(
        "greatest pull, peak, that its maker allows in such a drive",
        "force",
        "N",
        typical=9000,
        plausible=(200, 500000),
        where=COMPONENT_SHEET,
        limit=True,
    )


class AxleJoints(Part):
    """An axle as a part of the chain."""

    input_flange: Face = part("the flange that its shaft bolts to")
    through_output: Face = part("the flange at its other side that drives a further axle, as in a tandem")
    engaged: str = word(
        "when the engine can drive it: always, when the driver selects it in either range, or in low range only",
        *ENGAGED,
        typical="always",
        where=LOOK,
    )
    freed_by: str = word(
        "what lets its propshaft stand still while it is not driven: free hubs, a disconnected half-shaft, or nothing",
        "nothing",
        "free-hubs",
        "disconnect",
        typical="free-hubs",
        where=LOOK,
    )
    engaged_speed_max: float = measure(
        "highest road speed at which it may be engaged in high range",
        "speed",
        "km/h",
        typical=80,
        plausible=(5, 200),
        where=DRIVELINE_SHEET,
        limit=True,
    )
    final_drive_on: str = word(
        "what its final drive hangs on: the axle, which moves with the wheels, or the frame",
        "axle",
        "frame",
        typical="axle",
        where=LOOK,
    )
    half_shafts: HalfShafts = part("the shafts from its final drive to its wheels")
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
        where=DRIVELINE_SHEET,
        limit=True,
    )
    torque_share: float = measure(
        "largest share of the drive torque that it can be given; 100 % where it can get all of it",
        "share",
        "%",
        typical=60,
        plausible=(10, 100),
        where=DRIVELINE_SHEET,
    )
    ring_teeth: float = count(
        "teeth of the ring gear, or of the chain wheel on the axle", typical=41, plausible=(20, 80), where=LOOK
    )
    pinion_teeth: float = count(
        "teeth of the pinion, or of the chain wheel that drives it", typical=10, plausible=(4, 25), where=LOOK
    )
    hub_reduction: float = number(
        "ratio of the reduction in the hubs; 1 where there is none",
        typical=1.0,
        plausible=(1, 6),
        where=TURNS_COUNTED,
    )
    driven_through: str = word(
        "what brings the torque to it: a propshaft, an open chain, a belt, or motors that a pump or generator feeds; "
        "left out where `integral` says that gears in one housing do",
        *DRIVEN_THROUGH,
        typical="shaft",
        where=LOOK,
    )
    final_chain: FinalChain = part("the chain or belt that drives it")


class DrivetrainStrength(Section):
    """What the strength of the whole chain is judged by."""

    highest_grip: float = number(
        "highest coefficient of friction that the tyres will find: what limits the torque that the ground takes",
        typical=0.8,
        plausible=(0.3, 1.3),
        where=TYPICAL,
    )
    crawl_ratio: float = number(
        "overall ratio in first gear and lowest range, as the papers or somebody's sum state it: checked, not used",
        typical=46,
        plausible=(2, 500),
        where=RECORD,
    )
