"""Belts, their pulleys and the nose of the crank."""

from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DATA_SHEET,
    LOOK,
    SCALES,
    TAPE,
    Part,
    Section,
    count,
    flag,
    measure,
    number,
    parts,
    text,
    word,
    words,
)
from swaplint.spec.systems.chassis.accessories import DrivenAccessory


class BeltPulley(DrivenAccessory):
    """A pulley on a belt; x to the right and y up from the crankshaft, seen from the front of the engine."""

    role: str = word(
        "what it is",
        "crank",
        "alternator",
        "coolant-pump",
        "steering-pump",
        "compressor",
        "vacuum-pump",
        "hydraulic-pump",
        "fan",
        "idler",
        "tensioner",
        "other",
        typical="alternator",
        where=LOOK,
    )
    diameter: float = measure(
        "effective diameter; of alternator, steering pump, compressor and fan it follows from their ratio",
        "length",
        "mm",
        typical=120,
        plausible=(30, 400),
        where=TAPE,
    )
    x: float = measure(
        "place of its middle to the right of the crankshaft, seen from the front",
        "length",
        "mm",
        typical=150,
        plausible=(-800, 800),
        where=TAPE,
        signed=True,
    )
    y: float = measure(
        "place of its middle above the crankshaft",
        "length",
        "mm",
        typical=250,
        plausible=(-400, 1000),
        where=TAPE,
        signed=True,
    )
    offset: float = measure(
        "how far its groove stands ahead of (positive) or behind that of the crankshaft pulley",
        "length",
        "mm",
        typical=0,
        plausible=(-15, 15),
        where=TAPE,
        signed=True,
    )
    drives: str = text(
        "of an alternator's pulley, where there are further ones: the name of that under electrics.alternators, or own "
        "for the engine package's",
        typical="own",
        where=LOOK,
    )
    backside: bool = flag("whether it runs on the smooth back of the belt", typical=False, where=LOOK)
    power: float = measure(
        "most power that it takes at rated engine speed",
        "power",
        "kW",
        typical=2,
        plausible=(0, 60),
        where=COMPONENT_SHEET,
        zero=True,
    )
    power_idle: float = measure(
        "most power that it takes at idle",
        "power",
        "kW",
        typical=0.8,
        plausible=(0, 30),
        where=COMPONENT_SHEET,
        zero=True,
    )


class Belt(Part):
    """One belt that the crankshaft drives."""

    as_supplied: bool = flag(
        "whether it runs as the engine maker built it, with nothing added, moved or changed", typical=True, where=LOOK
    )
    profile: str = word("its profile", "ribbed", "V", typical="ribbed", where=LOOK)
    ribs: float = count("number of ribs, or of V-belts side by side", typical=6, plausible=(1, 14), where=LOOK)
    rib_power: float = measure(
        "power that one rib or V-belt carries on the smallest driven pulley at rated engine speed",
        "power",
        "kW",
        typical=1.5,
        plausible=(0.1, 12),
        where=COMPONENT_SHEET,
    )
    speed_max: float = measure(
        "highest belt speed", "speed", "m/s", typical=50, plausible=(20, 80), where=COMPONENT_SHEET, limit=True
    )
    service_factor: float = number(
        "factor on the power for shocks and uneven running", typical=1.3, plausible=(1, 2.5), where=COMPONENT_SHEET
    )
    tensioner: str = word(
        "how it is kept tight",
        "automatic",
        "adjustable",
        "stretch-belt",
        "none",
        typical="automatic",
        where=LOOK,
    )
    tension: float = measure(
        "tension of the whole belt: as set standing, or as an automatic tensioner holds its slack side",
        "force",
        "N",
        typical=400,
        plausible=(50, 4000),
        where=COMPONENT_SHEET,
        settled="setting",
    )
    overhang: float = measure(
        "distance of the belt's middle ahead of the front main bearing",
        "length",
        "mm",
        typical=120,
        plausible=(20, 500),
        where=TAPE,
    )
    added_mass: float = measure(
        "mass of what the swap hangs on the crankshaft for it: an extra pulley with its bolts",
        "mass",
        "kg",
        typical=1,
        plausible=(0, 30),
        where=SCALES,
        zero=True,
    )
    path: list[str] = words(
        "names of its pulleys in the order of the belt, counter-clockwise seen from the front",
        typical="crank",
        where=LOOK,
    )
    pulleys: dict[str, BeltPulley] = parts("its pulleys, each under its name", needed=True)


class CrankNose(Section):
    """What may be hung on the front end of the crankshaft, besides the engine package's own drives."""

    side_load_max: float = measure(
        "greatest side load at the crankshaft's nose",
        "force",
        "N",
        typical=2000,
        plausible=(100, 30000),
        where=DATA_SHEET,
        limit=True,
    )
    bending_moment_max: float = measure(
        "greatest bending moment about the front main bearing",
        "torque",
        "N m",
        typical=250,
        plausible=(10, 5000),
        where=DATA_SHEET,
        limit=True,
    )
    torque_max: float = measure(
        "greatest torque that may be taken off at the crankshaft's nose",
        "torque",
        "N m",
        typical=100,
        plausible=(10, 3000),
        where=DATA_SHEET,
        limit=True,
    )
