"""Fields of the chassis system: vacuum, brakes, steering, belts, cab heater and air conditioning."""

from typing import Any

from swaplint.spec.fields import (
    AUTHORITY,
    COMPONENT_SHEET,
    DATA_SHEET,
    DRAWING,
    LOOK,
    OWNER,
    PLATE,
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
    words,
)

MASTER_BORES_MM = (15.87, 17.46, 19.05, 20.64, 22.2, 23.81, 25.4, 26.99, 28.57, 31.75, 34.93, 38.1)
"""Bores that master cylinders are sold with, sixteenths of an inch (common practice)."""
RESERVOIRS_L = (2, 3, 5, 8, 10, 15, 20, 30, 40)
"""Vacuum reservoirs as sold (common practice)."""

REFRIGERANTS = ("R134a", "R1234yf", "R12", "R744", "other")

WORKSHOP_MANUAL = "the vehicle maker's workshop manual, or the part itself"
VACUUM_GAUGE = "a vacuum gauge on the vehicle"
BRAKE_TEST = "a brake test by a qualified person"


def _depression(description: str, *, typical: float, where: str) -> Any:
    """A field for a pressure below that of the air around."""
    return measure(description, "pressure_difference", "kPa", typical=typical, plausible=(5, 95), where=where)


def consumer(what: str, typical: str) -> Any:
    """A field that names the electrical consumer that a part is."""
    return text(f"name under which the electrics list {what} as a consumer", typical=typical, where=DRAWING)


class DrivenAccessory(Part):
    """What the engine drives through a belt or a gear: the speeds that it stands."""

    speed_max: float = measure(
        "highest continuous speed of its shaft",
        "rotation",
        "r/min",
        typical=15000,
        plausible=(1000, 25000),
        where=COMPONENT_SHEET,
    )
    speed_min: float = measure(
        "lowest speed of its shaft at which it does its work",
        "rotation",
        "r/min",
        typical=1800,
        plausible=(200, 5000),
        where=COMPONENT_SHEET,
    )


# -- vacuum -----------------------------------------------------------------------------------------------------------
class VacuumPump(Part):
    """A vacuum pump for the brake booster."""

    drive: str = word("what turns it", "engine", "electric", typical="electric", where=LOOK)
    free_flow: float = measure(
        "air that it draws with its inlet open; of an engine-driven pump, with the engine at idle",
        "volume_flow",
        "L/min",
        typical=60,
        plausible=(5, 400),
        where=COMPONENT_SHEET,
    )
    end_pressure: float = measure(
        "lowest absolute pressure that it reaches",
        "pressure",
        "kPa",
        typical=12,
        plausible=(1, 50),
        where=COMPONENT_SHEET,
    )
    cut_in: float = _depression(
        "depression at which its switch starts it, of an electric pump", typical=62, where=COMPONENT_SHEET
    )
    load: str = consumer("the electric pump", "vacuum_pump")
    oil_fed: bool = flag("whether it is lubricated by the engine's oil", typical=False, where=COMPONENT_SHEET)
    oil_return_free: bool = flag(
        "whether its oil feed is connected and its oil runs back to the sump downhill and freely",
        typical=True,
        where=LOOK,
    )


class EngineVacuum(Section):
    """What vacuum the engine package has to give."""

    source: str = word(
        "where the engine itself makes vacuum: behind its throttle, with a pump of its own, or nowhere",
        "manifold",
        "pump",
        "none",
        typical="none",
        where=DATA_SHEET,
    )
    depression_idle: float = _depression(
        "depression in the manifold at warm idle, at sea level", typical=62, where=DATA_SHEET
    )
    boosted: bool = flag(
        "whether a turbocharger or compressor can press the manifold above the air around it",
        typical=True,
        where=DATA_SHEET,
    )
    pump: VacuumPump = part("the pump that the engine package has built in")


class VacuumReservoir(Part):
    """A vacuum reservoir between source and booster."""

    volume: float = measure(
        "its volume",
        "volume",
        "L",
        typical=10,
        plausible=(0.5, 80),
        where=COMPONENT_SHEET,
        series=RESERVOIRS_L,
    )


class CheckValve(Part):
    """The valve that keeps the vacuum in booster and reservoir when the source stops."""


class VacuumSystem(Part):
    """From the source of the vacuum to the booster."""

    supply: str = word(
        "what the booster's hose leads to: the manifold behind the throttle, a vacuum pump, "
        "or the intake or charge pipe ahead of the engine",
        "manifold",
        "pump",
        "intake-pipe",
        typical="pump",
        where=LOOK,
    )
    pump: VacuumPump = part("the vacuum pump that the swap adds")
    reservoir: VacuumReservoir = part("the vacuum reservoir")
    check_valve: CheckValve = part("the check valve between source and booster")
    hose_holds_shape: bool = flag(
        "whether the hose is made for brake vacuum and does not collapse", typical=True, where=LOOK
    )


# -- brakes -----------------------------------------------------------------------------------------------------------
class Booster(Part):
    """The brake booster."""

    volume: float = measure(
        "volume of both chambers of a vacuum booster",
        "volume",
        "L",
        typical=5,
        plausible=(1, 30),
        where=WORKSHOP_MANUAL,
    )
    swept_volume: float = measure(
        "volume that its diaphragm sweeps in one full application",
        "volume",
        "L",
        typical=0.8,
        plausible=(0.1, 6),
        where=WORKSHOP_MANUAL,
    )
    dead_volume: float = measure(
        "volume of its working chamber at rest",
        "volume",
        "L",
        typical=0.1,
        plausible=(0, 2),
        where=WORKSHOP_MANUAL,
        zero=True,
    )
    diaphragm_area: float = measure(
        "effective area of its diaphragm or diaphragms",
        "area",
        "cm2",
        typical=400,
        plausible=(80, 1500),
        where=WORKSHOP_MANUAL,
    )
    flow_required: float = measure(
        "oil flow that a hydraulic booster needs for a quick application",
        "volume_flow",
        "L/min",
        typical=5,
        plausible=(0.5, 20),
        where=COMPONENT_SHEET,
    )
    pressure_required: float = measure(
        "oil pressure that a hydraulic booster needs for full assistance",
        "gauge_pressure",
        "MPa",
        typical=7,
        plausible=(2, 20),
        where=COMPONENT_SHEET,
    )
    pressure_max: float = measure(
        "highest oil pressure that a hydraulic booster stands",
        "gauge_pressure",
        "MPa",
        typical=12,
        plausible=(3, 30),
        where=COMPONENT_SHEET,
    )
    stored_applications: float = count(
        "assisted applications that its accumulator, or its stored electric energy, gives after its supply has failed",
        typical=2,
        plausible=(0, 20),
        where=COMPONENT_SHEET,
        zero=True,
    )
    load: str = consumer("an electric booster", "brake_booster")
    min_voltage: float = measure(
        "lowest supply voltage at which an electric booster gives full assistance",
        "voltage",
        "V",
        typical=9.5,
        plausible=(6, 40),
        where=COMPONENT_SHEET,
    )


class WheelBrakes(Part):
    """The brakes of one axle, all alike."""

    count_per_axle: float = count("how many of them the axle has", typical=2, plausible=(1, 4), where=LOOK)
    piston_area: float = measure(
        "area of the pistons on one side of one caliper, or of one end of a drum's wheel cylinder",
        "area",
        "cm2",
        typical=25,
        plausible=(1, 80),
        where=WORKSHOP_MANUAL,
    )
    brake_factor: float = number(
        "drag over piston force: twice the friction coefficient for a disc; 2 to 5 for a drum, by its design",
        typical=0.76,
        plausible=(0.5, 7),
        where=WORKSHOP_MANUAL,
    )
    effective_radius: float = measure(
        "radius at which the drag acts: middle of the pads, or the drum's inside radius",
        "length",
        "mm",
        typical=130,
        plausible=(60, 300),
        where=TAPE,
    )
    push_out_pressure: float = measure(
        "line pressure that is used up before the linings touch",
        "gauge_pressure",
        "kPa",
        typical=100,
        plausible=(0, 800),
        where=WORKSHOP_MANUAL,
        zero=True,
    )


class UnassistedTest(Part):
    """A stop without assistance, driven and measured by a qualified person, laden."""

    pedal_force: float = measure(
        "pedal force of the test", "force", "N", typical=500, plausible=(50, 1500), where=BRAKE_TEST
    )
    deceleration: float = measure(
        "mean deceleration that was reached", "acceleration", "m/s2", typical=3, plausible=(0.2, 9), where=BRAKE_TEST
    )


class Brakes(Section):
    """The service brakes."""

    assist: str = word(
        "what helps the driver's foot",
        "vacuum",
        "hydraulic",
        "electric",
        "air",
        "none",
        typical="vacuum",
        where=LOOK,
    )
    vacuum_required: float = _depression(
        "depression that the vacuum booster needs for its full assistance, at any height above the sea",
        typical=60,
        where=WORKSHOP_MANUAL,
    )
    vacuum_warning: float = _depression(
        "depression below which the warning lamp comes on", typical=35, where=WORKSHOP_MANUAL
    )
    booster: Booster = part("the brake booster")
    pedal_ratio: float = number(
        "travel of the foot over that of the push rod", typical=4.0, plausible=(2, 9), where=TAPE
    )
    master_bore: float = measure(
        "bore of the master cylinder",
        "length",
        "mm",
        typical=23.81,
        plausible=(12, 60),
        where=WORKSHOP_MANUAL,
        series=MASTER_BORES_MM,
    )
    wheels: dict[str, WheelBrakes] = parts("the wheel brakes, axle by axle: front, rear")
    unassisted_test: UnassistedTest = part("a measured stop without assistance")


class ApprovedVehicle(Section):
    """What the vehicle was approved for as it left the factory."""

    gvwr: float = measure(
        "highest laden mass that it was approved for", "mass", "kg", typical=3000, plausible=(500, 40000), where=PLATE
    )
    top_speed: float = measure(
        "highest speed that it reached or was approved for",
        "speed",
        "km/h",
        typical=120,
        plausible=(20, 260),
        where=PLATE,
    )


class EngineOverrun(Section):
    """What the engine does when the vehicle drives it."""

    braking_power: float = measure(
        "power that it takes up at its governed speed without fuel, an exhaust brake included where one is fitted",
        "power",
        "kW",
        typical=25,
        plausible=(2, 500),
        where=DATA_SHEET,
    )


# -- steering ---------------------------------------------------------------------------------------------------------
class SteeringGear(Part):
    """The steering gear or ram."""

    cylinder_volume: float = measure(
        "oil that its cylinder takes from lock to lock",
        "volume",
        "cc",
        typical=160,
        plausible=(30, 3000),
        where=COMPONENT_SHEET,
    )
    turns: float = number("turns of the hand wheel from lock to lock", typical=3.5, plausible=(1.5, 8), where=LOOK)
    flow_required: float = measure(
        "oil flow that it needs for a brisk turn",
        "volume_flow",
        "L/min",
        typical=6,
        plausible=(2, 40),
        where=COMPONENT_SHEET,
    )
    flow_max: float = measure(
        "highest oil flow that it stands", "volume_flow", "L/min", typical=10, plausible=(4, 60), where=COMPONENT_SHEET
    )
    pressure_max: float = measure(
        "highest oil pressure that it stands",
        "gauge_pressure",
        "MPa",
        typical=10,
        plausible=(3, 25),
        where=COMPONENT_SHEET,
    )


class SteeringPump(DrivenAccessory):
    """The hydraulic pump of the steering."""

    displacement: float = measure(
        "oil that it displaces in one turn",
        "displacement_per_turn",
        "cm3/rev",
        typical=10,
        plausible=(2, 60),
        where=COMPONENT_SHEET,
    )
    ratio: float = number("turns of the pump for one turn of the engine", typical=1.1, plausible=(0.4, 3), where=LOOK)
    volumetric_efficiency: float = measure(
        "share of its displacement that it delivers with hot oil at idle",
        "share",
        "%",
        typical=85,
        plausible=(50, 99),
        where=COMPONENT_SHEET,
    )
    flow_limit: float = measure(
        "flow that its control valve limits it to",
        "volume_flow",
        "L/min",
        typical=8,
        plausible=(3, 60),
        where=COMPONENT_SHEET,
    )
    relief_pressure: float = measure(
        "pressure at which its relief valve opens",
        "gauge_pressure",
        "MPa",
        typical=9,
        plausible=(3, 25),
        where=COMPONENT_SHEET,
    )


class Steering(Section):
    """The steering, as far as the swap touches it."""

    assist: str = word("what helps the driver's arms", "hydraulic", "electric", "none", typical="hydraulic", where=LOOK)
    load: str = consumer("electric assistance", "steering")
    gear: SteeringGear = part("the steering gear or ram")
    pump: SteeringPump = part("the hydraulic pump")
    hose_rating: float = measure(
        "working pressure that the pressure hose is marked for",
        "gauge_pressure",
        "MPa",
        typical=12,
        plausible=(3, 40),
        where=LOOK,
    )
    effort_before: float = measure(
        "effort at the rim without assistance before the swap, driving slowly into a turn, measured",
        "force",
        "N",
        typical=200,
        plausible=(20, 1000),
        where=AUTHORITY,
    )
    effort: float = measure(
        "the same effort after the swap, measured",
        "force",
        "N",
        typical=220,
        plausible=(20, 1000),
        where=AUTHORITY,
    )


# -- belts ------------------------------------------------------------------------------------------------------------
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
        where=DRAWING,
        signed=True,
    )
    y: float = measure(
        "place of its middle above the crankshaft",
        "length",
        "mm",
        typical=250,
        plausible=(-400, 1000),
        where=DRAWING,
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
    backside: bool = flag("whether it runs on the smooth back of the belt", typical=False, where=DRAWING)
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
        "highest belt speed", "speed", "m/s", typical=50, plausible=(20, 80), where=COMPONENT_SHEET
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
    )
    overhang: float = measure(
        "distance of the belt's middle ahead of the front main bearing",
        "length",
        "mm",
        typical=120,
        plausible=(20, 500),
        where=DRAWING,
    )
    added_mass: float = measure(
        "mass of what the swap hangs on the crankshaft for it: an extra pulley with its bolts",
        "mass",
        "kg",
        typical=1,
        plausible=(0, 30),
        where=COMPONENT_SHEET,
        zero=True,
    )
    path: list[str] = words(
        "names of its pulleys in the order of the belt, counter-clockwise seen from the front",
        typical="crank",
        where=DRAWING,
    )
    pulleys: dict[str, BeltPulley] = parts("its pulleys, each under its name")


class CrankNose(Section):
    """What may be hung on the front end of the crankshaft, besides the engine package's own drives."""

    side_load_max: float = measure(
        "greatest side load at the crankshaft's nose",
        "force",
        "N",
        typical=2000,
        plausible=(100, 30000),
        where=DATA_SHEET,
    )
    bending_moment_max: float = measure(
        "greatest bending moment about the front main bearing",
        "torque",
        "N m",
        typical=250,
        plausible=(10, 5000),
        where=DATA_SHEET,
    )
    torque_max: float = measure(
        "greatest torque that may be taken off at the crankshaft's nose",
        "torque",
        "N m",
        typical=100,
        plausible=(10, 3000),
        where=DATA_SHEET,
    )


# -- cab heater and air conditioning ----------------------------------------------------------------------------------
class CabHeater(Part):
    """The cab heater."""

    load: str = consumer("its blower", "blower")
    effectiveness: float = measure(
        "heat that its core moves over the most that could be moved, at the flows stated here",
        "share",
        "%",
        typical=60,
        plausible=(20, 95),
        where=COMPONENT_SHEET,
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
        where=COMPONENT_SHEET,
    )
    coolant_temp: float = measure(
        "coolant at the heater feed at idle in the cold",
        "temperature",
        "degC",
        typical=80,
        plausible=(40, 110),
        where=OWNER,
    )
    output_before: float = measure(
        "heat that the heater gave at idle before the swap, or that the cab needs on the coldest day",
        "power",
        "kW",
        typical=4,
        plausible=(0.5, 40),
        where=WORKSHOP_MANUAL,
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


class OriginalCompressor(Section):
    """The refrigerant compressor as it ran before the swap."""

    displacement: float = measure(
        "what it swept in one turn",
        "displacement_per_turn",
        "cm3/rev",
        typical=150,
        plausible=(50, 500),
        where=WORKSHOP_MANUAL,
    )
    ratio: float = number("its turns for one turn of the old engine", typical=1.3, plausible=(0.5, 3), where=TAPE)
    cruise_speed: float = measure(
        "speed of the old engine when cruising", "rotation", "r/min", typical=2600, plausible=(800, 6000), where=OWNER
    )


class Compressor(DrivenAccessory):
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
    refrigerant: str = word("refrigerant in the circuit", *REFRIGERANTS, typical="R134a", where=LOOK)
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
        "whether a certified person with recovery equipment handles the refrigerant", typical=True, where=OWNER
    )
