"""The parking brake: where it acts, what became of it, and what it holds."""

from swaplint.spec.fields import COMPONENT_SHEET, LOOK, OWNER, Part, flag, measure, word

PLACES = ("wheels", "gearbox-output", "transfer-output", "parking-lock")
"""Where a parking brake acts; parking-lock is the pawl in an automatic gearbox."""
PARKING_TEST = "a parking brake test by a qualified person"


class ParkingBrake(Part):
    """The parking brake."""

    before: str = word(
        "where it acted before the swap: in the wheels, on the output of the gearbox or the transfer case, or only by "
        "the parking lock of an automatic",
        *PLACES,
        typical="wheels",
        where=LOOK,
    )
    state: str = word(
        "what became of it: kept as it was, replaced or moved, or gone with the parts that were taken out",
        "kept",
        "replaced",
        "gone",
        typical="kept",
        where=LOOK,
    )
    acts_on: str = word("where it acts after the swap", *PLACES, typical="wheels", where=LOOK)
    kind: str = word("how it is built", "drum", "disc", "band", "spring-brake", typical="drum", where=LOOK)
    control: str = word("what the driver sets it with", "hand", "foot", "switch", typical="hand", where=LOOK)
    locked_mechanically: bool = flag(
        "whether it stays set by a catch, a screw or a spring alone, without oil, air or current",
        typical=True,
        where=LOOK,
    )
    parked_grade: float = measure(
        "steepest slope that the vehicle is left standing on",
        "grade",
        "%",
        typical=15,
        plausible=(1, 60),
        where=OWNER,
    )
    held_grade: float = measure(
        "slope that it holds after the swap, laden, uphill and downhill, measured",
        "grade",
        "%",
        typical=20,
        plausible=(1, 60),
        where=PARKING_TEST,
    )
    control_force: float = measure(
        "force at the lever or pedal at which it held that slope",
        "force",
        "N",
        typical=350,
        plausible=(20, 1500),
        where=PARKING_TEST,
    )
    torque: float = measure(
        "torque that it holds where it acts, in the weaker direction; of brakes in the wheels, all of them together",
        "torque",
        "N m",
        typical=900,
        plausible=(50, 60000),
        where=COMPONENT_SHEET,
    )
