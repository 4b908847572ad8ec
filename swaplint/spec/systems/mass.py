"""Fields of the mass system: ratings, weighed masses, what the swap adds and takes away, and what is carried.

Places on the vehicle are measured on level ground: x behind the front axle (ahead of it is negative), y to the left
of the centre line (to the right is negative), z above the ground.
"""

from swaplint.spec.fields import (
    AUTHORITY,
    DATA_SHEET,
    DECISION,
    LOOK,
    MARKING,
    OWNER,
    PLATE,
    RECORD,
    SCALES,
    TAPE,
    WEIGHBRIDGE,
    Part,
    Section,
    flag,
    measure,
    part,
    parts,
    text,
    word,
    words,
)
from swaplint.spec.systems.compliance import OriginalEngine
from swaplint.spec.systems.fuel import OriginalVehicle

PARTS_OF_THE_SWAP = ("engine", "radiator", "exhaust", "tank", "battery")
"""The heavy parts that a swap replaces as a rule; the mass ledger must say of each what becomes of it."""


# -- vehicle --------------------------------------------------------------------------------------------------------
class VehicleMass(Section):
    """Ratings from the plate, and the masses that the vehicle is found to have."""

    gvwr: float = measure(
        "highest mass that the laden vehicle may have, as it will be plated",
        "mass",
        "kg",
        typical=3000,
        plausible=(500, 40000),
        where=PLATE,
    )
    gcwr: float = measure(
        "highest mass that vehicle and trailer may have together; equal to gvwr where nothing may be towed",
        "mass",
        "kg",
        typical=3000,
        plausible=(500, 80000),
        where=PLATE,
    )
    gawr_front: float = measure(
        "highest mass that the front axle, or the front axles together, may carry: the lowest of axle, springs, wheels "
        "and tyres",
        "mass",
        "kg",
        typical=1400,
        plausible=(300, 16000),
        where=PLATE,
    )
    gawr_rear: float = measure(
        "highest mass that the rear axle, or the rear axles together, may carry: the lowest of axle, springs, wheels "
        "and tyres",
        "mass",
        "kg",
        typical=1800,
        plausible=(300, 26000),
        where=PLATE,
    )
    kerb_front: float = measure(
        "mass on the front axle, or the front axles together, before the swap: tank full, nobody in it, nothing "
        "loaded; what was out already is marked in the ledger",
        "mass",
        "kg",
        typical=1000,
        plausible=(200, 10000),
        where=WEIGHBRIDGE,
    )
    kerb_rear: float = measure(
        "mass on the rear axle, or the rear axles together, before the swap: tank full, nobody in it, nothing "
        "loaded; what was out already is marked in the ledger",
        "mass",
        "kg",
        typical=800,
        plausible=(150, 15000),
        where=WEIGHBRIDGE,
    )
    laden_height: float = measure(
        "height of the laden vehicle's centre of gravity above the ground; about 0.4 of a car's own height",
        "length",
        "mm",
        typical=700,
        plausible=(250, 2500),
        where="a weighing with one axle lifted, or an estimate",
    )
    lift: float = measure(
        "how high one axle is lifted to find the height of the centre of gravity: laden, tank full, suspension "
        "blocked, gearbox in neutral, brakes off, chocked at one axle",
        "length",
        "mm",
        typical=600,
        plausible=(150, 1500),
        where=TAPE,
        settled="measured",
    )
    lift_gain: float = measure(
        "mass by which the reading of the axle that stays down grows",
        "mass",
        "kg",
        typical=80,
        plausible=(2, 3000),
        where=WEIGHBRIDGE,
    )
    lift_mass: float = measure(
        "whole mass of the vehicle as it is lifted: the readings of both axles on the level",
        "mass",
        "kg",
        typical=2800,
        plausible=(400, 40000),
        where=WEIGHBRIDGE,
    )
    lift_radius: float = measure(
        "height of the wheel centres above the ground then",
        "length",
        "mm",
        typical=360,
        plausible=(200, 700),
        where=TAPE,
        settled="measured",
    )
    raised_on_paper: bool = flag(
        "whether the authority has approved, on paper, a gross rating above the one that the vehicle had",
        typical=False,
        where=AUTHORITY,
    )
    below_gross_because: str = text(
        "why no load case reaches the gross rating, where none does",
        typical="the tank and the three seats hold no more",
        where=OWNER,
    )
    kerb_left_share: float = measure(
        "share of the kerb mass that stands on the left wheels before the swap",
        "share",
        "%",
        typical=50,
        plausible=(40, 60),
        where=WEIGHBRIDGE,
    )


class LedgerItem(Section):
    """One entry of the mass ledger: something that the swap puts in, takes out, or leaves as it is."""

    mass: float = measure(
        "mass as fitted, full of its fluids; negative for what is taken out, 0 kg for an old part that stays",
        "mass",
        "kg",
        typical=20,
        plausible=(-3000, 3000),
        where=SCALES,
        signed=True,
    )
    mass_of: list[str] = words(
        "whose mass it is, where its own is not stated: that of the engine in its data sheet, of the batteries in "
        "theirs, of the gearbox in its own, of the lines of the scope of supply that name the item",
        "engine",
        "batteries",
        "gearbox",
        "supply",
        typical="supply",
        where=RECORD,
    )
    part: str = word(
        "which part of the swap it is; what only goes with another part, or is none of them, is other",
        *PARTS_OF_THE_SWAP,
        "other",
        typical="other",
        where=RECORD,
    )
    x: float = measure(
        "distance of its centre of gravity behind the front axle; negative ahead of it",
        "length",
        "mm",
        typical=500,
        plausible=(-2500, 15000),
        where=TAPE,
        signed=True,
    )
    y: float = measure(
        "distance of its centre of gravity to the left of the centre line; negative to the right",
        "length",
        "mm",
        typical=0,
        plausible=(-1300, 1300),
        where=TAPE,
        signed=True,
    )
    z: float = measure(
        "height of its centre of gravity above the ground",
        "length",
        "mm",
        typical=800,
        plausible=(100, 4000),
        where=TAPE,
    )
    out_when_weighed: bool = flag(
        "whether this old part was out already when the vehicle was weighed, so that the kerb mass lacks it",
        typical=False,
        where=RECORD,
    )
    note: str = text("a remark for people; no rule reads it", typical="weighed with oil", where=RECORD)


class LoadItem(Section):
    """Somebody or something that the vehicle carries."""

    mass: float = measure("mass of it", "mass", "kg", typical=90, plausible=(1, 25000), where=OWNER)
    x: float = measure(
        "distance of its centre of gravity behind the front axle; negative ahead of it",
        "length",
        "mm",
        typical=1500,
        plausible=(-2500, 15000),
        where=TAPE,
        signed=True,
    )
    y: float = measure(
        "distance of its centre of gravity to the left of the centre line; negative to the right",
        "length",
        "mm",
        typical=0,
        plausible=(-1300, 1300),
        where=TAPE,
        signed=True,
    )
    z: float = measure(
        "height of its centre of gravity above the ground",
        "length",
        "mm",
        typical=1000,
        plausible=(100, 4000),
        where=TAPE,
    )
    note: str = text("a remark for people; no rule reads it", typical="three people and their kit", where=RECORD)


class LoadCase(Section):
    """One way in which the vehicle is loaded and used."""

    items: dict[str, LoadItem] = parts(
        "who and what is carried, each under a name; an empty table for nothing",
        may_be_empty="a vehicle can stand there with nobody and nothing in it",
    )
    nose_load: float = measure(
        "mass that the trailer rests on the towbar; 0 kg without a trailer",
        "mass",
        "kg",
        typical=50,
        plausible=(0, 3000),
        where=OWNER,
        zero=True,
    )
    trailer_mass: float = measure(
        "whole mass of the laden trailer, nose load included; 0 kg without a trailer",
        "mass",
        "kg",
        typical=1000,
        plausible=(0, 40000),
        where=OWNER,
        zero=True,
    )
    trailer_brakes: str = word(
        "what brakes the trailer: nothing of its own, its push on the towbar, or a line or cable from the vehicle",
        "none",
        "overrun",
        "from-vehicle",
        typical="overrun",
        where=LOOK,
    )
    note: str = text("a remark for people; no rule reads it", typical="on the way to work", where=RECORD)


class Towbar(Part):
    """The towbar with its coupling, and what their plates allow: the lower of the two, where they differ."""

    overhang: float = measure(
        "distance of the coupling behind the rear axle",
        "length",
        "mm",
        typical=1100,
        plausible=(200, 4000),
        where=TAPE,
    )
    trailer_mass_max: float = measure(
        "highest mass of a trailer that it may pull",
        "mass",
        "kg",
        typical=1800,
        plausible=(100, 40000),
        where=MARKING,
        limit=True,
    )
    nose_load_max: float = measure(
        "highest mass that may rest on it, S on its plate",
        "mass",
        "kg",
        typical=75,
        plausible=(20, 3000),
        where=MARKING,
        limit=True,
    )
    d_value: float = measure(
        "force between vehicle and trailer that it is approved for, D on its plate",
        "force",
        "kN",
        typical=10,
        plausible=(2, 250),
        where=MARKING,
        limit=True,
    )


class AxleSprings(Part):
    """The springs of one axle; not fitted where the axle is bolted or pivoted to the frame, as on a tractor."""

    rate: float = measure(
        "spring rate of one side, measured at the wheel, of the springs that the finished vehicle has: added load over "
        "how far it sinks",
        "stiffness",
        "N/mm",
        typical=60,
        plausible=(5, 2000),
        where=TAPE,
    )
    bump_clearance: float = measure(
        "distance from the bump stop at the kerb mass, before the swap, measured at the wheel",
        "length",
        "mm",
        typical=90,
        plausible=(10, 400),
        where=TAPE,
    )
    restored: bool = flag(
        "whether new springs or spacers bring the axle back to the height it had before the swap",
        typical=False,
        where=DECISION,
    )


class Suspension(Section):
    """The suspension of both axles."""

    front: AxleSprings = part("the springs of the front axle")
    rear: AxleSprings = part("the springs of the rear axle")


# -- the vehicle as it was --------------------------------------------------------------------------------------------
class VehicleBefore(OriginalVehicle):
    """The vehicle as it was before the swap. What it weighed is its kerb mass."""

    power: float = measure(
        "highest power of the old engine", "power", "kW", typical=80, plausible=(5, 600), where=PLATE
    )
    engine: OriginalEngine = part("the old engine")
    range: float = measure(
        "distance that it went on a full tank", "length", "km", typical=500, plausible=(50, 2500), where=OWNER
    )


# -- engine ---------------------------------------------------------------------------------------------------------
class EngineMass(Section):
    """What the engine package weighs."""

    wet: float = measure(
        "mass of the engine package ready to run: oil, coolant, flywheel, housing, starter, alternator and turbo "
        "included",
        "mass",
        "kg",
        typical=250,
        plausible=(50, 2500),
        where=DATA_SHEET,
    )


class EngineCalibration(Section):
    """The vehicle that the engine's calibration was made and certified for."""

    vehicle_mass_min: float = measure(
        "lowest laden mass of a vehicle that the calibration was made for",
        "mass",
        "kg",
        typical=1500,
        plausible=(300, 20000),
        where=DATA_SHEET,
        limit=True,
    )
    vehicle_mass_max: float = measure(
        "highest laden mass of a vehicle that the calibration was made for",
        "mass",
        "kg",
        typical=3500,
        plausible=(500, 60000),
        where=DATA_SHEET,
        limit=True,
    )
    combination_mass_max: float = measure(
        "highest mass of vehicle and trailer together that the calibration was made for",
        "mass",
        "kg",
        typical=5500,
        plausible=(500, 100000),
        where=DATA_SHEET,
        limit=True,
    )
