"""Fields of the exhaust: what the engine gives off and asks for, pipes, devices, outlet, heat, reductant."""

from swaplint.spec.fields import (
    AUTHORITY,
    COMPONENT_SHEET,
    DATA_SHEET,
    DECISION,
    LOOK,
    METER,
    PROTRACTOR,
    RECORD,
    SCALES,
    TAPE,
    TYPICAL,
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
from swaplint.spec.systems.chassis import consumer
from swaplint.spec.systems.streams import side_by_side

TUBE_OUTSIDES_MM = (38, 42.4, 45, 48.3, 50.8, 54, 57, 60.3, 63.5, 70, 76.1, 88.9, 101.6, 114.3, 127)
"""Outside diameters of exhaust tube as sold, mm (common practice)."""
DEVICE_KINDS = (
    "oxidation-catalyst",
    "three-way-catalyst",
    "particulate-filter",
    "selective-catalyst",
    "silencer",
    "spark-arrester",
    "valve",
)
MATERIALS = ("mild-steel", "aluminised-steel", "ferritic-stainless", "austenitic-stainless")


# -- engine package ---------------------------------------------------------------------------------------------------
class EngineRecirculation(Part):
    """The exhaust-gas recirculation that the engine is built and certified with."""

    cooled: bool = flag("whether coolant cools the gas on its way", typical=True, where=DATA_SHEET)
    enters: str = word(
        "where the gas joins the air: in the manifold or its pipe behind the charge-air cooler, or ahead of the "
        "compressor",
        "behind-charge-cooler",
        "before-compressor",
        typical="behind-charge-cooler",
        where=DATA_SHEET,
    )


class EngineExhaust(Section):
    """What leaves the engine, and what its outlet bears."""

    mass_flow: float = measure(
        "exhaust gas at rated power", "mass_flow", "kg/s", typical=0.14, plausible=(0.02, 1.6), where=DATA_SHEET
    )
    temp: float = measure(
        "exhaust gas behind the turbocharger, or behind the manifold where there is none, at rated power",
        "temperature",
        "degC",
        typical=520,
        plausible=(250, 1000),
        where=DATA_SHEET,
    )
    back_pressure_max: float = measure(
        "greatest static pressure behind the engine's outlet, with its aftertreatment loaded",
        "pressure_difference",
        "kPa",
        typical=20,
        plausible=(3, 60),
        where=DATA_SHEET,
    )
    outlet_bore: float = measure(
        "inside diameter of the outlet", "length", "mm", typical=65, plausible=(30, 150), where=DATA_SHEET
    )
    outlets: float = count("how many outlets it has for the exhaust", typical=1, plausible=(1, 4), where=DATA_SHEET)
    recirculation: EngineRecirculation = part("its exhaust-gas recirculation")
    load_max: float = measure(
        "greatest force on the outlet flange, shocks of the road included",
        "force",
        "N",
        typical=300,
        plausible=(20, 3000),
        where=DATA_SHEET,
    )
    moment_max: float = measure(
        "greatest bending moment on the outlet flange, shocks of the road included",
        "torque",
        "N m",
        typical=30,
        plausible=(1, 500),
        where=DATA_SHEET,
    )


class CertifiedDevice(Section):
    """A device of the engine's certified aftertreatment, and where it must sit."""

    kind: str = word("what it is", *DEVICE_KINDS, typical="oxidation-catalyst", where=DATA_SHEET)
    distance_min: float = measure(
        "least length of pipe between the turbocharger's outlet and its inlet",
        "length",
        "mm",
        typical=200,
        plausible=(0, 3000),
        where=DATA_SHEET,
        zero=True,
    )
    distance_max: float = measure(
        "greatest length of pipe between the turbocharger's outlet and its inlet",
        "length",
        "mm",
        typical=900,
        plausible=(50, 6000),
        where=DATA_SHEET,
    )
    inlet_temp_min: float = measure(
        "coolest gas at its inlet at rated power that it works with",
        "temperature",
        "degC",
        typical=400,
        plausible=(150, 900),
        where=DATA_SHEET,
    )
    insulation_required: bool = flag("whether the pipe ahead of it must be insulated", typical=False, where=DATA_SHEET)


class CertifiedSensor(Section):
    """A sensor of the aftertreatment, as the engine maker supplies it."""

    lead_length: float = measure(
        "length of its lead, which must not be cut or joined",
        "length",
        "mm",
        typical=900,
        plausible=(100, 5000),
        where=DATA_SHEET,
    )
    angle_min: float = measure(
        "least angle of the sensor above the horizontal, its tip down",
        "angle",
        "deg",
        typical=10,
        plausible=(-90, 90),
        where=DATA_SHEET,
        signed=True,
    )


class EngineAftertreatment(Section):
    """The engine's certified aftertreatment."""

    devices: dict[str, CertifiedDevice] = parts(
        "its devices, each under its name; an empty table for none",
        may_be_empty="an engine without aftertreatment has none",
    )
    sensors: dict[str, CertifiedSensor] = parts(
        "its sensors in the exhaust, each under its name; an empty table for none",
        may_be_empty="an engine without aftertreatment has none",
    )


class EngineRegeneration(Section):
    """How the engine burns its particulate filter clean."""

    parked: bool = flag("whether it can be made to do so while the vehicle stands", typical=True, where=DATA_SHEET)
    run_time: float = measure(
        "time at load, without a break, that it takes while driving",
        "duration",
        "min",
        typical=20,
        plausible=(5, 90),
        where=DATA_SHEET,
    )
    idle_share_max: float = measure(
        "greatest share of idling that it copes with",
        "share",
        "%",
        typical=40,
        plausible=(5, 90),
        where=DATA_SHEET,
    )
    outlet_temp: float = measure(
        "hottest gas at the end of the exhaust while it does so",
        "temperature",
        "degC",
        typical=550,
        plausible=(200, 750),
        where=DATA_SHEET,
    )
    inhibit_switch_required: bool = flag(
        "whether a switch must be fitted that keeps it from doing so", typical=True, where=DATA_SHEET
    )


class EngineReductant(Part):
    """What the engine asks of its reductant (urea solution) system."""

    line_length_max: float = measure(
        "greatest length of line between tank and doser",
        "length",
        "m",
        typical=6,
        plausible=(0.5, 20),
        where=DATA_SHEET,
    )
    lift_max: float = measure(
        "greatest height of the doser above the tank",
        "length",
        "m",
        typical=1.5,
        plausible=(0.1, 6),
        where=DATA_SHEET,
    )
    share: float = measure(
        "reductant used, as a share of the fuel by volume", "share", "%", typical=5, plausible=(1, 12), where=DATA_SHEET
    )
    heating_below: float = measure(
        "air temperature below which its maker asks for a heated tank and heated lines",
        "temperature",
        "degC",
        typical=-11,
        plausible=(-20, 10),
        where=DATA_SHEET,
    )
    heater_power_min: float = measure(
        "least power of the heaters of the lines",
        "power",
        "W",
        typical=60,
        plausible=(5, 500),
        where=DATA_SHEET,
    )


# -- the exhaust of the vehicle ---------------------------------------------------------------------------------------
class ExhaustPipe(Part):
    """A run of exhaust pipe."""

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


class SensorPlace(Section):
    """Where a sensor of the aftertreatment sits."""

    route: float = measure(
        "length of the way that its lead takes to its module or plug",
        "length",
        "mm",
        typical=700,
        plausible=(50, 6000),
        where=TAPE,
    )
    angle: float = measure(
        "angle of the sensor above the horizontal, its tip down; negative where it points up",
        "angle",
        "deg",
        typical=30,
        plausible=(-90, 90),
        where=PROTRACTOR,
        signed=True,
    )


class PressureLine(Part):
    """A line to a differential-pressure sensor."""

    rises: bool = flag("whether it rises all the way from the exhaust to its sensor", typical=True, where=LOOK)


HEATED_KINDS = ("wiring", "brake-part", "rubber", "floor", "combustible", "gas-line")


class HeatGap(Part):
    """Something near the exhaust. Fuel lines and tank stand under `plumbing.fuel.routes`."""

    what: str = word("what it is", *HEATED_KINDS, typical="wiring", where=LOOK)
    clearance: str = text(
        "name of the gap under `vehicle.clearances` that it is, where the engine's movement closes it: then its gap "
        "follows from that one, less the movement",
        typical="starter_cable",
        where=RECORD,
    )
    gap: float = measure(
        "least gap to any exhaust part, with the engine at its stops; left out where `clearance` names it",
        "length",
        "mm",
        typical=150,
        plausible=(0, 2000),
        where=TAPE,
        zero=True,
    )
    shielded: bool = flag("whether a heat shield with air behind it stands between", typical=False, where=LOOK)
    near_turbocharger: bool = flag(
        "whether the nearest exhaust part is the turbocharger, the manifold or the pipe up to the first device",
        typical=False,
        where=LOOK,
    )


class RegenerationControls(Section):
    """What the driver has to steer the burning clean with."""

    parked_switch: bool = flag(
        "whether a switch is fitted that starts it while the vehicle stands", typical=True, where=LOOK
    )
    inhibit_switch: bool = flag("whether a switch is fitted that forbids it", typical=True, where=LOOK)
    duty_agreed: bool = flag("whether the engine maker has agreed to this duty in writing", typical=False, where=RECORD)


class ExhaustOutlet(Section):
    """The end of the exhaust."""

    place: str = word(
        "where it ends",
        "behind-cab",
        "above-roof",
        "beside-cab",
        "under-cab",
        "ahead-of-cab",
        typical="behind-cab",
        where=LOOK,
    )
    clear_of_body: bool = flag(
        "whether it ends beyond the edge of body and load, so that no gas gathers underneath", typical=True, where=LOOK
    )
    distance_to_opening: float = measure(
        "distance to the nearest window, door or vent that opens into a space for people",
        "length",
        "mm",
        typical=800,
        plausible=(0, 12000),
        where=TAPE,
        zero=True,
    )
    points_at: list[str] = words(
        "what the gas meets within a metre",
        "open-air",
        "tyre",
        "fuel-tank",
        "brake-part",
        "ground",
        "load",
        "standing-place",
        typical="open-air",
        where=LOOK,
    )
    spark_protection: str = word(
        "what holds sparks back: a spark arrester, a turbocharger or a filter that the forest authority accepts",
        "arrester",
        "accepted-turbocharger",
        "accepted-filter",
        "none",
        typical="accepted-filter",
        where=AUTHORITY,
    )


class Recirculation(Part):
    """The exhaust-gas recirculation as the swap leaves it."""

    enters: str = word(
        "where the gas joins the air",
        "behind-charge-cooler",
        "before-compressor",
        "elsewhere",
        typical="behind-charge-cooler",
        where=LOOK,
    )
    coolant_joined: bool = flag(
        "whether its cooler has its coolant feed and return, free of air", typical=True, where=LOOK
    )
    valve_joined: bool = flag(
        "whether valve and sensors are wired, or piped, to the control unit as it expects", typical=True, where=LOOK
    )
    strain_free: bool = flag(
        "whether its hot pipe has a bellows or moves with the engine as a whole, and is gas-tight",
        typical=True,
        where=LOOK,
    )


class ExhaustSystem(Section):
    """From the turbocharger's outlet to the open."""

    material: str = word("what the pipes are made of", *MATERIALS, typical="mild-steel", where=DECISION)
    pipes: dict[str, ExhaustPipe] = parts("the runs of pipe, each under its name, in the order that the gas takes")
    devices: dict[str, ExhaustDevice] = parts(
        "catalysts, filters, silencers, each under its name; those of the engine's sheet under the sheet's names"
    )
    hangs_on: str = word(
        "what holds the pipes behind engine and gearbox: rubber all along, so that they move with the engine, or "
        "brackets and hangers that do not let them move",
        "rubber",
        "brackets",
        typical="brackets",
        where=LOOK,
    )
    rubber_travel: float = measure(
        "how far its rubber hangers let it move to every side",
        "length",
        "mm",
        typical=25,
        plausible=(2, 120),
        where=TAPE,
    )
    flex: FlexSection = part("the flexible piece")
    support: TurboSupport = part("what hangs on the outlet flange")
    sensors: dict[str, SensorPlace] = parts("the sensors of the aftertreatment, each under the name in the sheet")
    pressure_lines: dict[str, PressureLine] = parts(
        "lines to differential-pressure sensors, each under its name; an empty table for none",
        may_be_empty="without a particulate filter there is no such sensor",
    )
    heat_gaps: dict[str, HeatGap] = parts("what is near the exhaust, each under a name of its own")
    recirculation: Recirculation = part("the exhaust-gas recirculation as the swap leaves it")
    regeneration: RegenerationControls = part("what the driver has to steer the burning clean with")
    outlet: ExhaustOutlet = part("the end of the exhaust")


class ReductantSystem(Section):
    """Tank and lines of the reductant (urea solution)."""

    tank_volume: float = measure(
        "reductant in the full tank", "volume", "L", typical=12, plausible=(2, 200), where=COMPONENT_SHEET
    )
    tank_heated: bool = flag("whether coolant or current thaws the tank", typical=True, where=LOOK)
    tank_temp_max: float = measure(
        "hottest that the tank gets, parked in the sun or beside the exhaust",
        "temperature",
        "degC",
        typical=28,
        plausible=(0, 90),
        where=METER,
    )
    line_length: float = measure(
        "length of line between tank and doser", "length", "m", typical=3, plausible=(0.2, 30), where=TAPE
    )
    lift: float = measure(
        "height of the doser above the bottom of the tank; negative if below",
        "length",
        "m",
        typical=0.5,
        plausible=(-2, 8),
        where=TAPE,
        signed=True,
    )
    heater_power: float = measure(
        "power of the heaters along the lines; 0 where there are none",
        "power",
        "W",
        typical=80,
        plausible=(0, 1000),
        where=COMPONENT_SHEET,
        zero=True,
    )
    load: str = consumer("the line heaters", "reductant_heater")


__all__ = [
    "EngineAftertreatment",
    "EngineExhaust",
    "EngineReductant",
    "EngineRegeneration",
    "ExhaustSystem",
    "ReductantSystem",
]
