"""Radiator and the other coolers that stand in its air."""

from swaplint.spec.fields import (
    COMPONENT_SHEET,
    LOOK,
    METER,
    TAPE,
    Part,
    Section,
    flag,
    measure,
    number,
    part,
    parts,
    word,
)


def pressure_rating(part_name: str) -> float:
    """A field for the highest pressure that a part with coolant in it stands."""
    return measure(  # type: ignore[no-any-return]
        f"highest pressure that the {part_name} is rated for",
        "gauge_pressure",
        "kPa",
        typical=150,
        plausible=(30, 400),
        where=COMPONENT_SHEET,
        limit=True,
    )


class RadiatorTest(Section):
    """One tested point of the radiator. Its performance as effectiveness, as conductance, or as heat."""

    air_flow: float = measure(
        "mass flow of air through the core", "mass_flow", "kg/s", typical=2, plausible=(0.1, 20), where=COMPONENT_SHEET
    )
    coolant_flow: float = measure(
        "flow of coolant", "volume_flow", "L/min", typical=140, plausible=(10, 1000), where=COMPONENT_SHEET
    )
    effectiveness: float = measure(
        "heat moved over the most that could be moved between the same inlet temperatures",
        "share",
        "%",
        typical=65,
        plausible=(10, 98),
        where=COMPONENT_SHEET,
    )
    ua: float = measure(
        "overall conductance UA",
        "power_per_temperature",
        "kW/K",
        typical=2.5,
        plausible=(0.1, 30),
        where=COMPONENT_SHEET,
    )
    heat: float = measure("heat moved", "power", "kW", typical=65, plausible=(3, 600), where=COMPONENT_SHEET)
    inlet_difference: float = measure(
        "coolant inlet less air inlet at which that heat was moved",
        "temperature_difference",
        "K",
        typical=50,
        plausible=(10, 100),
        where=COMPONENT_SHEET,
    )


class RadiatorCore(Section):
    """The finned block of the radiator, as a tape measure finds it."""

    kind: str = word(
        "how it is made: brazed aluminium with slit fins and fins 6 to 12 mm high between the tubes, or otherwise",
        "aluminium-slit-fins",
        "other",
        typical="aluminium-slit-fins",
        where=LOOK,
    )
    width: float = measure("width of the finned block", "length", "mm", typical=600, plausible=(150, 2500), where=TAPE)
    height: float = measure(
        "height of the finned block", "length", "mm", typical=400, plausible=(150, 2500), where=TAPE
    )
    depth: float = measure(
        "depth of the finned block, the way that the air takes through it",
        "length",
        "mm",
        typical=32,
        plausible=(10, 120),
        where=TAPE,
    )
    fins_per_inch: float = number(
        "fins in an inch; half of those counted in two inches", typical=14, plausible=(5, 25), where=LOOK
    )


class Radiator(Part):
    """The coolant radiator."""

    place: str = word(
        "where it stands: ahead of the engine in the wind of driving, or elsewhere at the end of long pipes",
        "front",
        "rear",
        "side",
        "roof",
        typical="front",
        where=LOOK,
    )
    wind_reaches: bool = flag(
        "whether a duct or scoop brings it the wind of driving, where it stands elsewhere", typical=False, where=LOOK
    )
    runs_bleed: bool = flag(
        "whether every high point of its pipe runs has a vent or bleed screw", typical=True, where=LOOK
    )
    runs_held: bool = flag(
        "whether its pipes are held along the frame, clear of exhaust and moving parts, with flexible ends",
        typical=True,
        where=LOOK,
    )
    core: RadiatorCore = part("its finned block, for an estimate of its conductance where it was not tested")
    tests: dict[str, RadiatorTest] = parts(
        "tested points, each under a name of its own; of one that was not tested, one point with the flows of air and "
        "coolant that it will have"
    )
    volume: float = measure(
        "coolant inside the radiator", "volume", "L", typical=6, plausible=(0.5, 60), where=COMPONENT_SHEET
    )
    coolant_drop: float = measure(
        "pressure that the radiator takes on the coolant side at `coolant_drop_flow`",
        "pressure_difference",
        "kPa",
        typical=12,
        plausible=(0.5, 60),
        where=COMPONENT_SHEET,
    )
    coolant_drop_flow: float = measure(
        "flow of coolant at which it takes that pressure",
        "volume_flow",
        "L/min",
        typical=140,
        plausible=(10, 1000),
        where=COMPONENT_SHEET,
    )
    pressure_max: float = pressure_rating("radiator")


class Cooler(Part):
    """A cooler for oil or fuel. The condenser stands under `plumbing.air_conditioning`."""

    cools: str = word(
        "what it cools",
        "gearbox-oil",
        "engine-oil",
        "hydraulic-oil",
        "fuel",
        "retarder",
        "other",
        typical="gearbox-oil",
        where=LOOK,
    )
    place: str = word(
        "where its heat goes: into the coolant, into the air in front of the radiator, or elsewhere",
        "in-coolant",
        "before-radiator",
        "elsewhere",
        typical="before-radiator",
        where=LOOK,
    )
    heat: float = measure(
        "most heat that it gives off in hard work",
        "power",
        "kW",
        typical=6,
        plausible=(0.2, 200),
        where=COMPONENT_SHEET,
    )


class ChargeCooler(Part):
    """The charge-air cooler."""

    place: str = word(
        "what cools it: the air in front of the radiator, air of its own elsewhere, the engine's coolant, or water of "
        "its own that has a radiator of its own",
        "before-radiator",
        "elsewhere",
        "engine-coolant",
        "own-water",
        typical="before-radiator",
        where=LOOK,
    )
    water_temp: float = measure(
        "hottest water that enters it on the hottest day, where water cools it",
        "temperature",
        "degC",
        typical=60,
        plausible=(15, 115),
        where=METER,
    )
    water_radiator: str = word(
        "where the radiator of water of its own stands",
        "before-radiator",
        "elsewhere",
        typical="before-radiator",
        where=LOOK,
    )
    effectiveness: float = measure(
        "fall of the charge air's temperature over its difference to the air or water that cools it, at rated air flow",
        "share",
        "%",
        typical=80,
        plausible=(30, 98),
        where=COMPONENT_SHEET,
    )
    drop: float = measure(
        "pressure that it takes on the charge side at rated air flow",
        "pressure_difference",
        "kPa",
        typical=7,
        plausible=(0.5, 30),
        where=COMPONENT_SHEET,
    )
    pipes_drop: float = measure(
        "pressure lost in the pipes from the turbocharger to the cooler and on to the manifold at rated air flow",
        "pressure_difference",
        "kPa",
        typical=2,
        plausible=(0.1, 20),
        where="a calculation, or a pressure gauge at both ends",
    )
