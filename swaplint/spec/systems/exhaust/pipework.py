"""The pipes of the exhaust, the devices in them, the flexible piece and what holds them."""

from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DECISION,
    LOOK,
    SCALES,
    TAPE,
    TYPICAL,
    Part,
    Section,
    flag,
    measure,
    number,
    text,
    word,
)
from swaplint.spec.systems.exhaust.engine import DEVICE_KINDS
from swaplint.spec.systems.streams import side_by_side

TUBE_OUTSIDES_MM = (38, 42.4, 45, 48.3, 50.8, 54, 57, 60.3, 63.5, 70, 76.1, 88.9, 101.6, 114.3, 127)
"""Outside diameters of exhaust tube as sold, mm (common practice)."""
ENGINE, OPEN_AIR = "engine", "open-air"
"""What the first pipe starts at, and what the last one ends in."""
MATERIALS = ("mild-steel", "aluminised-steel", "ferritic-stainless", "austenitic-stainless")


class ExhaustPipe(Part):
    """A run of exhaust pipe."""

    start: str = text(
        "what it starts at: engine, or the name of the device or joint ahead of it, the same as the pipe there ends at",
        typical=ENGINE,
        where=LOOK,
    )
    end: str = text(
        "what it ends at: open-air, or the name of the device or joint behind it; a device within the run has no part "
        "in this",
        typical=OPEN_AIR,
        where=LOOK,
    )
    tube_outer: float = measure(
        "outside diameter of the tube",
        "length",
        "mm",
        typical=76.1,
        plausible=(25, 200),
        where=DECISION,
        series=TUBE_OUTSIDES_MM,
    )
    tube_wall: float = measure("wall of the tube", "length", "mm", typical=1.5, plausible=(0.8, 4), where=DECISION)
    side_by_side: float = side_by_side("pipes")
    length: float = measure("length along its middle line", "length", "m", typical=2, plausible=(0.05, 15), where=TAPE)
    bends_k: float = number(
        "sum of the loss coefficients K of its bends and steps; a smooth bend is 0.2 to 0.3, a mitred one 1",
        typical=0.8,
        plausible=(0, 15),
        where=TYPICAL,
        zero=True,
    )


class ExhaustDevice(Part):
    """Catalyst, filter, silencer or the like. One that the engine's sheet names goes under the same name here."""

    kind: str = word("what it is", *DEVICE_KINDS, typical="silencer", where=LOOK)
    side_by_side: float = side_by_side("devices")
    drop: float = measure(
        "pressure that it takes at `test_flow`; of a particulate filter when clean",
        "pressure_difference",
        "kPa",
        typical=3,
        plausible=(0.05, 30),
        where=COMPONENT_SHEET,
    )
    drop_loaded: float = measure(
        "the same of a particulate filter loaded with soot, just before it is burnt clean",
        "pressure_difference",
        "kPa",
        typical=10,
        plausible=(0.5, 50),
        where=COMPONENT_SHEET,
    )
    test_flow: float = measure(
        "gas flow at which it takes that pressure",
        "mass_flow",
        "kg/s",
        typical=0.14,
        plausible=(0.005, 2),
        where=COMPONENT_SHEET,
    )
    test_temp: float = measure(
        "temperature of that gas, at sea-level pressure",
        "temperature",
        "degC",
        typical=500,
        plausible=(0, 1000),
        where=COMPONENT_SHEET,
    )
    distance_from_turbo: float = measure(
        "length of pipe between the turbocharger's outlet and its inlet",
        "length",
        "mm",
        typical=600,
        plausible=(0, 12000),
        where=TAPE,
        zero=True,
    )
    pipe_insulated: bool = flag(
        "whether the pipe between turbocharger and device is insulated", typical=False, where=LOOK
    )
    held_by: str = word(
        "what bears its weight: the engine or gearbox, the frame, or only the pipes on either side",
        "engine",
        "frame",
        "pipes",
        typical="frame",
        where=LOOK,
    )
    as_shown: bool = flag(
        "whether it sits the way round and the way up that the engine maker shows", typical=True, where=LOOK
    )


class FlexSection(Part):
    """The flexible piece of the exhaust."""

    kind: str = word(
        "what it is: bellows or braided, which bend, or interlocked, which also turns",
        "bellows",
        "braided",
        "interlocked",
        typical="braided",
        where=LOOK,
    )
    distance_from_turbo: float = measure(
        "length of pipe between the turbocharger's outlet and its inlet end",
        "length",
        "mm",
        typical=400,
        plausible=(0, 5000),
        where=TAPE,
        zero=True,
    )
    offset_max: float = measure(
        "how far its ends may move against each other from the straight, as its maker states it",
        "length",
        "mm",
        typical=30,
        plausible=(1, 150),
        where=COMPONENT_SHEET,
        limit=True,
    )
    fixed_length: float = measure(
        "length of hot pipe from the turbocharger to the first hanger that holds the pipe lengthwise",
        "length",
        "m",
        typical=1.5,
        plausible=(0.1, 12),
        where=TAPE,
    )
    straight_at_rest: bool = flag(
        "whether it lies straight and without twist when the engine is at rest", typical=True, where=LOOK
    )
    twisted: bool = flag("whether the engine's roll twists it about its own axis", typical=False, where=LOOK)


class TurboSupport(Section):
    """What hangs on the outlet flange ahead of the first support."""

    hung_mass: float = measure(
        "mass of pipe, devices and insulation between the outlet flange and the first support or flexible piece",
        "mass",
        "kg",
        typical=3,
        plausible=(0.2, 100),
        where=SCALES,
    )
    hung_centre: float = measure(
        "distance of its centre of gravity from the flange",
        "length",
        "mm",
        typical=150,
        plausible=(10, 2000),
        where=TAPE,
    )
    support_distance: float = measure(
        "length of pipe from the flange to the first support",
        "length",
        "mm",
        typical=350,
        plausible=(20, 3000),
        where=TAPE,
    )
    support_on: str = word(
        "what the first support is bolted to", "engine", "gearbox", "frame", typical="gearbox", where=LOOK
    )
