"""Fields of the mounts system: the engine unit, what carries it, and what bridges it to the frame.

Places on the engine unit are measured from the middle of the crank at the rear face of the block: x behind that face
(ahead of it is negative), y to the left of the crank (to the right is negative), z above it. The engine unit is the
engine with all that is bolted to it and hangs on the same mounts.
"""

from typing import Any

from swaplint.spec.fields import (
    AUTHORITY,
    COMPONENT_SHEET,
    DATA_SHEET,
    DECISION,
    DRAWING,
    LOOK,
    PROTRACTOR,
    RECORD,
    SCALES,
    TAPE,
    Part,
    Section,
    count,
    flag,
    measure,
    number,
    part,
    parts,
    text,
    word,
)
from swaplint.spec.systems.brackets import Bracket
from swaplint.spec.systems.fasteners import bolt_class, screwed_in, threads_in, tightening_torque

BOLT_SIZES = ("M6", "M8", "M10", "M12", "M14", "M16", "M20")


def _place(what: str, typical: tuple[float, float, float], where: str = TAPE) -> tuple[Any, Any, Any]:
    x, y, z = typical
    return (
        measure(
            f"distance of {what} behind the rear face of the block; negative ahead of it",
            "length",
            "mm",
            typical=x,
            plausible=(-2000, 2500),
            where=where,
            signed=True,
        ),
        measure(
            f"distance of {what} to the left of the crank; negative to the right",
            "length",
            "mm",
            typical=y,
            plausible=(-900, 900),
            where=where,
            signed=True,
        ),
        measure(
            f"height of {what} above the middle of the crank; negative below it",
            "length",
            "mm",
            typical=z,
            plausible=(-700, 1200),
            where=where,
            signed=True,
        ),
    )


_ENGINE_X, _ENGINE_Y, _ENGINE_Z = _place("the engine package's centre of gravity", (-250, 0, 100), DATA_SHEET)
_PART_X, _PART_Y, _PART_Z = _place("its centre of gravity", (350, 0, 0))
_MOUNT_X, _MOUNT_Y, _MOUNT_Z = _place("the middle of its rubber", (-250, 300, 0))
_, _BRIDGE_Y, _BRIDGE_Z = _place("its end on the engine", (0, 200, 200))


# -- what the engine's sheet says -----------------------------------------------------------------------------------
class EngineCentre(Section):
    """Where the engine package has its centre of gravity."""

    x: float = _ENGINE_X
    y: float = _ENGINE_Y
    z: float = _ENGINE_Z


class EngineRearFace(Section):
    """What the rear face of the block, where the flywheel housing bolts on, may be loaded with."""

    bending_moment_max: float = measure(
        "greatest bending moment at the rear face of the block",
        "torque",
        "N m",
        typical=1000,
        plausible=(50, 20000),
        where=DATA_SHEET,
        limit=True,
    )
    moment_is: str = word(
        "whether that limit is meant for the weight at rest, or for the shocks of the road too",
        "at-rest",
        "with-shocks",
        typical="at-rest",
        where=DATA_SHEET,
    )


class EngineMounting(Section):
    """What the engine maker asks of mounts and brackets."""

    roll_max: float = measure(
        "greatest roll that the engine's own hoses, leads and belts allow",
        "angle",
        "deg",
        typical=4,
        plausible=(0.5, 15),
        where=DATA_SHEET,
        limit=True,
    )
    shock_vertical: float = number(
        "vertical shock that brackets must bear, in times the weight",
        typical=4,
        plausible=(1.5, 12),
        where=DATA_SHEET,
    )
    shock_along: float = number(
        "shock along the vehicle that brackets must bear, in times the weight",
        typical=3,
        plausible=(1, 30),
        where=DATA_SHEET,
    )


# -- the engine unit ------------------------------------------------------------------------------------------------
class UnitPart(Section):
    """Something that is bolted to the engine and hangs on the same mounts."""

    mass: float = measure("mass of it, with its oil", "mass", "kg", typical=60, plausible=(0.5, 1200), where=SCALES)
    ledger: str = text(
        "name of the item of the mass ledger that has its mass, where its own is not stated",
        typical="gearbox",
        where=RECORD,
    )
    x: float = _PART_X
    y: float = _PART_Y
    z: float = _PART_Z
    note: str = text("a remark for people; no rule reads it", typical="with bell housing", where=RECORD)


class EngineUnit(Section):
    """The engine with all that is bolted to it and hangs on the same mounts."""

    attached: dict[str, UnitPart] = parts(
        "what is bolted to the engine: adapter and clutch, gearbox, transfer case; of a gearbox that hangs by itself "
        "the clutch alone",
        needed=True,
    )
    roll_inertia: float = measure(
        "moment of inertia of the whole unit about the line along the vehicle through its centre of gravity",
        "inertia",
        "kg m2",
        typical=10,
        plausible=(0.5, 300),
        where="the engine maker, or a swing test on three ropes",
    )
    swing_radius: float = measure(
        "distance of each of three equally long, upright ropes from the centre of gravity, where the whole unit hangs "
        "from them with the line along the vehicle upright and is swung about it",
        "length",
        "mm",
        typical=350,
        plausible=(100, 1500),
        where=TAPE,
        settled="measured",
    )
    swing_length: float = measure(
        "length of those ropes", "length", "mm", typical=2000, plausible=(500, 8000), where=TAPE, settled="measured"
    )
    swing_period: float = measure(
        "time of one whole swing to and fro, a twentieth of that of twenty",
        "duration",
        "s",
        typical=2.4,
        plausible=(0.3, 15),
        where="a stopwatch",
        settled="measured",
    )
    width: float = measure(
        "overall width of the unit, for an estimate where its moment of inertia is not known",
        "length",
        "mm",
        typical=700,
        plausible=(250, 1600),
        where=TAPE,
    )


# -- mounts -----------------------------------------------------------------------------------------------------------
class MountBolts(Section):
    """The bolts that hold a mount's bracket."""

    pieces: float = count("how many hold the bracket", typical=4, plausible=(1, 12), where=LOOK)
    size: str = word("thread of those bolts", *BOLT_SIZES, typical="M10", where=LOOK)
    property_class: str = bolt_class()
    torque: float = tightening_torque()
    threads_in: str = threads_in()
    engagement: float = screwed_in()
    loaded: str = word(
        "whether the weight acts across the bolts, as on an upright face, or along them",
        "across",
        "along",
        typical="across",
        where=LOOK,
    )
    offset: float = measure(
        "distance of the middle of the mount from the face that the bracket is bolted to",
        "length",
        "mm",
        typical=80,
        plausible=(0, 500),
        where=TAPE,
        zero=True,
    )
    spacing: float = measure(
        "distance between the outer rows of bolts, top to bottom",
        "length",
        "mm",
        typical=80,
        plausible=(20, 500),
        where=TAPE,
    )


class Mount(Part):
    """One mount of the engine or gearbox."""

    kind: str = word(
        "what it is made of, or a torque rod: a level link across the crank that holds the unit against turning and "
        "carries no weight",
        "rubber",
        "hydraulic",
        "rigid",
        "torque-rod",
        typical="rubber",
        where=LOOK,
    )
    insulating: bool = flag(
        "whether rubber or the like keeps engine and frame from touching there, so that no current passes",
        typical=True,
        where=LOOK,
    )
    x: float = _MOUNT_X
    y: float = _MOUNT_Y
    z: float = _MOUNT_Z
    lean: float = measure(
        "how far its axis leans from the upright, its top towards the crank; upright if not stated",
        "angle",
        "deg",
        typical=0,
        plausible=(-70, 70),
        where=PROTRACTOR,
        signed=True,
    )
    axial_stiffness: float = measure(
        "dynamic stiffness along its axis: when it is shaken",
        "stiffness",
        "N/mm",
        typical=300,
        plausible=(30, 6000),
        where=COMPONENT_SHEET,
    )
    shear_stiffness: float = measure(
        "dynamic stiffness across its axis",
        "stiffness",
        "N/mm",
        typical=100,
        plausible=(10, 6000),
        where=COMPONENT_SHEET,
    )
    dynamic_factor: float = number(
        "how many times stiffer it is when shaken than under a load that lasts; of rubber 1.2 to 1.6",
        typical=1.4,
        plausible=(1, 4),
        where=COMPONENT_SHEET,
    )
    sink_load: float = measure(
        "mass that is added on it along its axis between two readings, near the weight that it carries",
        "mass",
        "kg",
        typical=90,
        plausible=(5, 2000),
        where=SCALES,
    )
    sink: float = measure(
        "how much further it sinks along its axis under that mass; less than 3 mm cannot be read well enough",
        "length",
        "mm",
        typical=4,
        plausible=(1, 40),
        where=TAPE,
        settled="measured",
    )
    pull: float = measure(
        "force across its axis by which the second of two readings differs from the first",
        "force",
        "N",
        typical=300,
        plausible=(20, 20000),
        where="a pull scale",
        settled="measured",
    )
    pull_give: float = measure(
        "how much further it gives way across its axis under that force; less than 3 mm cannot be read well enough",
        "length",
        "mm",
        typical=4,
        plausible=(1, 40),
        where=TAPE,
        settled="measured",
    )
    load_min: float = measure(
        "least weight that it works well under",
        "force",
        "N",
        typical=500,
        plausible=(20, 30000),
        where=COMPONENT_SHEET,
        limit=True,
    )
    load_max: float = measure(
        "greatest weight that it is rated for",
        "force",
        "N",
        typical=1500,
        plausible=(50, 50000),
        where=COMPONENT_SHEET,
        limit=True,
    )
    peak_load_max: float = measure(
        "greatest force that it bears for moments: weight and torque together",
        "force",
        "N",
        typical=6000,
        plausible=(200, 200000),
        where=COMPONENT_SHEET,
        limit=True,
    )
    captive: bool = flag(
        "whether it holds the engine when it is pulled apart, or its rubber torn", typical=True, where=COMPONENT_SHEET
    )
    free_travel: float = measure(
        "how far it gives way up or down from rest before a stop holds it; of a torque rod along itself, and of the "
        "mounts beside one across the crank too",
        "length",
        "mm",
        typical=10,
        plausible=(1, 60),
        where=COMPONENT_SHEET,
    )
    bolts: MountBolts = part("the bolts that hold its bracket")
    bracket: Bracket = part("the bracket that holds it, where one is made for the swap")
    sits_on: str = text("name of the made cross-member that it sits on, or frame", typical="frame", where=DRAWING)
    frame_joint: str = word(
        "how its bracket is joined to the frame",
        "existing-holes",
        "drilled-web",
        "drilled-flange",
        "welded",
        typical="existing-holes",
        where=DECISION,
    )
    frame_maker_allows: bool = flag(
        "whether the frame maker's instructions, or a licensed engineer, allow that joint",
        typical=True,
        where=AUTHORITY,
    )


# -- what bridges engine and frame ------------------------------------------------------------------------------------
CARRIED = (
    "fuel",
    "coolant",
    "exhaust",
    "wiring",
    "intake-air",
    "charge-air",
    "brake-vacuum",
    "clutch",
    "oil",
    "refrigerant",
    "shift",
    "ground",
)
"""What a line between engine and frame carries."""


class Bridge(Section):
    """A hose, lead, cable or pipe with one end on the engine unit and the other on frame or body."""

    carries: str = word("what it carries", *CARRIED, typical="coolant", where=LOOK)
    free_length: float = measure(
        "length of its flexible piece that is free between its two ends; 0 for a rigid line",
        "length",
        "mm",
        typical=300,
        plausible=(0, 3000),
        where=TAPE,
        zero=True,
    )
    y: float = _BRIDGE_Y
    z: float = _BRIDGE_Z
    none_because: str = text(
        "where there is no such line: why; the entry then has what it would carry and this alone",
        typical="the engine is cooled by air",
        where=LOOK,
    )
    note: str = text("a remark for people; no rule reads it", typical="upper radiator hose", where=RECORD)
