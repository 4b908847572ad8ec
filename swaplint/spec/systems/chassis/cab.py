"""Cab heater and air conditioning."""

from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DATA_SHEET,
    LOOK,
    MANUAL,
    MARKING,
    METER,
    OWNER,
    RECORD,
    TAPE,
    TYPICAL,
    Part,
    Section,
    flag,
    measure,
    number,
    part,
    word,
    words,
)
from swaplint.spec.systems.chassis.accessories import GearedOrBelted, consumer

REFRIGERANTS = ("R134a", "R1234yf", "R12", "R744", "other")


class HeaterCore(Section):
    """The finned block of the cab heater, as a tape measure finds it."""

    kind: str = word(
        "how it is made: brazed aluminium with slit fins and fins 6 to 12 mm high between the tubes, or otherwise",
        "aluminium-slit-fins",
        "other",
        typical="aluminium-slit-fins",
        where=LOOK,
    )
    width: float = measure("width of the finned block", "length", "mm", typical=200, plausible=(60, 800), where=TAPE)
    height: float = measure("height of the finned block", "length", "mm", typical=180, plausible=(60, 800), where=TAPE)
    depth: float = measure(
        "depth of the finned block, the way that the air takes through it",
        "length",
        "mm",
        typical=32,
        plausible=(10, 100),
        where=TAPE,
    )
    fins_per_inch: float = number(
        "fins in an inch; half of those counted in two inches", typical=16, plausible=(5, 25), where=LOOK
    )


class CabHeater(Part):
    """The cab heater."""

    load: str = consumer("its blower", "blower")
    core: HeaterCore = part("its finned block, for an estimate of its effectiveness where nobody tested it")
    effectiveness: float = measure(
        "heat that its core moves over the most that could be moved, at the flows stated here",
        "share",
        "%",
        typical=60,
        plausible=(20, 95),
        where=TYPICAL,
    )
    air_flow: float = measure(
        "air that the blower drives through the core, on its highest setting",
        "volume_flow",
        "m3/h",
        typical=300,
        plausible=(50, 1500),
        where=COMPONENT_SHEET,
    )
    coolant_flow: float = measure(
        "coolant through the core with the engine at idle",
        "volume_flow",
        "L/min",
        typical=8,
        plausible=(0.5, 60),
        where=DATA_SHEET,
    )
    coolant_temp: float = measure(
        "coolant at the heater feed at idle in the cold",
        "temperature",
        "degC",
        typical=80,
        plausible=(40, 110),
        where=DATA_SHEET,
    )
    output_before: float = measure(
        "heat that the heater gave at idle before the swap, or that the cab needs on the coldest day",
        "power",
        "kW",
        typical=4,
        plausible=(0.5, 40),
        where=METER,
    )
    aux_power: float = measure(
        "heat of an auxiliary heater in the coolant circuit; 0 where there is none",
        "power",
        "kW",
        typical=0,
        plausible=(0, 40),
        where=COMPONENT_SHEET,
        zero=True,
    )


class OriginalCompressor(Part):
    """The refrigerant compressor as it ran before the swap."""

    displacement: float = measure(
        "what it swept in one turn",
        "displacement_per_turn",
        "cm3/rev",
        typical=150,
        plausible=(50, 500),
        where=MANUAL,
    )
    ratio: float = number("its turns for one turn of the old engine", typical=1.3, plausible=(0.5, 3), where=TAPE)
    cruise_speed: float = measure(
        "speed of the old engine when cruising", "rotation", "r/min", typical=2600, plausible=(800, 6000), where=OWNER
    )


class Compressor(GearedOrBelted):
    """The refrigerant compressor."""

    displacement: float = measure(
        "what it sweeps in one turn",
        "displacement_per_turn",
        "cm3/rev",
        typical=150,
        plausible=(50, 500),
        where=COMPONENT_SHEET,
    )
    ratio: float = number("its turns for one turn of the engine", typical=1.3, plausible=(0.5, 3), where=TAPE)
    power: float = measure(
        "power that it takes at full cooling", "power", "kW", typical=2.5, plausible=(0.5, 15), where=COMPONENT_SHEET
    )
    refrigerants: list[str] = words(
        "refrigerants that it and its oil are made for",
        *REFRIGERANTS,
        typical="R134a",
        where=COMPONENT_SHEET,
    )


class AirConditioning(Part):
    """The air conditioning."""

    compressor: Compressor = part("the refrigerant compressor")
    original: OriginalCompressor = part("the compressor before the swap")
    refrigerant: str = word("refrigerant in the circuit", *REFRIGERANTS, typical="R134a", where=MARKING)
    charge: float = measure(
        "refrigerant of a whole fill", "mass", "kg", typical=0.7, plausible=(0.1, 10), where=MARKING, settled="plate"
    )
    cooling_power: float = measure(
        "cooling power of the evaporator", "power", "kW", typical=5, plausible=(1, 40), where=COMPONENT_SHEET
    )
    condenser_heat: float = measure(
        "heat that the condenser can give off on the hottest day",
        "power",
        "kW",
        typical=9,
        plausible=(1, 80),
        where=COMPONENT_SHEET,
    )
    condenser_place: str = word(
        "where the condenser's heat goes: into the air in front of the radiator, or elsewhere",
        "before-radiator",
        "elsewhere",
        typical="before-radiator",
        where=LOOK,
    )
    high_pressure_switch: bool = flag(
        "whether a switch stops the compressor at too high a pressure", typical=True, where=LOOK
    )
    idle_raised: bool = flag(
        "whether the engine's idle is raised or held when the compressor cuts in", typical=True, where=DATA_SHEET
    )
    certified_person: bool = flag(
        "whether a certified person with recovery equipment handles the refrigerant", typical=True, where=RECORD
    )
