"""Fields of the fuel system: tank, pick-up, lines, pumps, filters, vent, and what the engine asks of them."""

from swaplint.engineering.pipes import HOSE_BORES
from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DATA_SHEET,
    DRAWING,
    LOOK,
    METER,
    OWNER,
    PLATE,
    RECORD,
    TAPE,
    Part,
    Section,
    flag,
    items,
    measure,
    number,
    part,
    parts,
    text,
    word,
)
from swaplint.spec.systems.chassis import ApprovedVehicle, consumer

FUEL_BORES_MM = tuple(round(bore * 1e3, 3) for bore in HOSE_BORES if bore <= 0.025)
FUEL_SUPPLIER = "the fuel supplier's specification of the grade"
HOSE_MARK = "the marking on the hose"


# -- engine ---------------------------------------------------------------------------------------------------------
class EngineFuel(Section):
    """What the engine asks of the fuel system."""

    injection: str = word(
        "how the fuel gets into the cylinders",
        "common-rail",
        "mechanical-injection",
        "direct-petrol",
        "port-petrol",
        "carburettor",
        typical="common-rail",
        where=DATA_SHEET,
    )
    feed: str = word(
        "how the engine takes its fuel: its own pump sucks it from the tank, or it must be fed under pressure",
        "suction",
        "pressure",
        typical="suction",
        where=DATA_SHEET,
    )
    supply_flow: float = measure(
        "greatest flow that the engine draws from the tank, burnt or returned",
        "volume_flow",
        "L/h",
        typical=110,
        plausible=(3, 600),
        where=DATA_SHEET,
    )
    return_flow: float = measure(
        "flow that the engine sends back while it draws its supply flow; 0 where nothing returns",
        "volume_flow",
        "L/h",
        typical=80,
        plausible=(0, 550),
        where=DATA_SHEET,
        zero=True,
    )
    burn: float = measure(
        "fuel burnt at rated power", "volume_flow", "L/h", typical=25, plausible=(2, 250), where=DATA_SHEET
    )
    max_inlet_restriction: float = measure(
        "greatest depression allowed at the inlet of the engine's fuel pump, with the filter at its change limit",
        "pressure_difference",
        "kPa",
        typical=20,
        plausible=(2, 60),
        where=DATA_SHEET,
    )
    inlet_pressure_min: float = measure(
        "least feed pressure at the engine's fuel inlet at full flow",
        "gauge_pressure",
        "kPa",
        typical=30,
        plausible=(0, 900),
        where=DATA_SHEET,
        zero=True,
    )
    inlet_pressure_max: float = measure(
        "greatest feed pressure allowed at the engine's fuel inlet",
        "gauge_pressure",
        "kPa",
        typical=60,
        plausible=(5, 1000),
        where=DATA_SHEET,
    )
    feed_pump: str = word(
        "whether the engine maker wants a pump between the tank and the engine's own",
        "required",
        "allowed",
        "forbidden",
        typical="allowed",
        where=DATA_SHEET,
    )
    feed_flow_margin: float = number(
        "flow that a feed pump must be able to give, as a multiple of the engine's need",
        typical=1.2,
        plausible=(1, 2),
        where=DATA_SHEET,
    )
    max_return_pressure: float = measure(
        "greatest pressure allowed where fuel leaves the engine for the tank",
        "pressure_difference",
        "kPa",
        typical=20,
        plausible=(2, 400),
        where=DATA_SHEET,
    )
    inlet_temp_max: float = measure(
        "hottest fuel allowed at the engine's fuel inlet",
        "temperature",
        "degC",
        typical=70,
        plausible=(40, 100),
        where=DATA_SHEET,
    )
    return_temp_rise: float = measure(
        "how much hotter than the supply the fuel comes back",
        "temperature_difference",
        "K",
        typical=30,
        plausible=(1, 60),
        where=DATA_SHEET,
    )
    final_filter_fineness: float = measure(
        "coarsest final filter allowed, as particle size kept back",
        "length",
        "µm",
        typical=5,
        plausible=(1, 60),
        where=DATA_SHEET,
    )
    extra_filter_allowed: bool = flag(
        "whether a filter may stand behind the final one", typical=False, where=DATA_SHEET
    )


# -- the fuel itself --------------------------------------------------------------------------------------------------
class ViscosityPoint(Section):
    """One point of the fuel's viscosity line."""

    temperature: float = measure(
        "fuel temperature", "temperature", "degC", typical=20, plausible=(-50, 100), where=FUEL_SUPPLIER
    )
    viscosity: float = measure(
        "kinematic viscosity there",
        "kinematic_viscosity",
        "mm2/s",
        typical=4.6,
        plausible=(0.3, 60),
        where=FUEL_SUPPLIER,
    )


class FuelGrade(Section):
    """The fuel that goes into the tank."""

    density: float = measure(
        "density at 15 °C", "density", "kg/m3", typical=835, plausible=(700, 900), where=FUEL_SUPPLIER
    )
    viscosity: list[ViscosityPoint] = items("points of the viscosity line, two or more")
    cfpp: float = measure(
        "cold filter plugging point of the grade used in the coldest season",
        "temperature",
        "degC",
        typical=-20,
        plausible=(-50, 10),
        where=FUEL_SUPPLIER,
    )
    biodiesel: float = measure(
        "share of biodiesel (fatty acid methyl ester) in the fuel",
        "share",
        "%",
        typical=7,
        plausible=(0, 100),
        where=FUEL_SUPPLIER,
        zero=True,
    )


# -- tank -------------------------------------------------------------------------------------------------------------
class SwirlPot(Part):
    """A small pot inside the tank that keeps fuel around the pick-up."""

    volume: float = measure(
        "fuel that the pot holds", "volume", "L", typical=1.2, plausible=(0.2, 5), where=COMPONENT_SHEET
    )


class FuelTank(Part):
    """The fuel tank, taken as a box."""

    capacity: float = measure(
        "fuel in the full tank", "volume", "L", typical=80, plausible=(5, 1000), where=COMPONENT_SHEET
    )
    length: float = measure(
        "inside length, along the vehicle", "length", "mm", typical=800, plausible=(200, 3000), where=TAPE
    )
    width: float = measure(
        "inside width, across the vehicle", "length", "mm", typical=450, plausible=(100, 2000), where=TAPE
    )
    height: float = measure("inside height", "length", "mm", typical=240, plausible=(80, 1000), where=TAPE)
    material: str = word(
        "what the tank is made of; terne is steel with a lead and tin coat",
        "steel",
        "stainless-steel",
        "aluminium",
        "galvanised-steel",
        "terne-steel",
        "plastic",
        typical="aluminium",
        where=LOOK,
    )
    reused: bool = flag("whether the tank has held the fuel of the old engine", typical=False, where=RECORD)
    baffled: bool = flag("whether a baffle parts the return from the pick-up", typical=True, where=LOOK)
    pickup_height: float = measure(
        "height of the pick-up's mouth above the tank floor",
        "length",
        "mm",
        typical=20,
        plausible=(2, 100),
        where=TAPE,
        zero=True,
    )
    pickup_x: float = measure(
        "place of the pick-up ahead of the tank's middle, negative behind it",
        "length",
        "mm",
        typical=0,
        plausible=(-1500, 1500),
        where=TAPE,
        signed=True,
    )
    pickup_y: float = measure(
        "place of the pick-up to the left of the tank's middle, negative to the right",
        "length",
        "mm",
        typical=0,
        plausible=(-1000, 1000),
        where=TAPE,
        signed=True,
    )
    swirl_pot: SwirlPot = part("a swirl pot around the pick-up")
    inner_hose: str = word(
        "class of the hose inside the tank, at an in-tank pump",
        "SAE J30R10",
        "other",
        "none",
        typical="SAE J30R10",
        where=HOSE_MARK,
    )
    low_level_lamp: float = measure(
        "fuel left in the tank when the low-fuel lamp comes on",
        "volume",
        "L",
        typical=12,
        plausible=(1, 200),
        where=RECORD,
    )
    filler_breather: bool = flag(
        "whether the air leaves through a breather of its own while the tank is filled", typical=True, where=LOOK
    )
    filling_rate: float = measure(
        "flow of the filling nozzle, where its air leaves through the vent",
        "volume_flow",
        "L/min",
        typical=40,
        plausible=(5, 150),
        where=OWNER,
    )


# -- lines ------------------------------------------------------------------------------------------------------------
class FuelLine(Part):
    """A run of fuel line."""

    bore: float = measure(
        "inside diameter of the line",
        "length",
        "mm",
        typical=10,
        plausible=(3, 38),
        where=TAPE,
        series=FUEL_BORES_MM,
    )
    length: float = measure("length of the line", "length", "m", typical=4, plausible=(0.2, 25), where=TAPE)
    fittings_k: float = number(
        "sum of the loss coefficients K of elbows, couplings, valves and entry; a hose elbow is 0.9 to 1.5",
        typical=4,
        plausible=(0, 40),
        where=DRAWING,
        zero=True,
    )
    lift: float = measure(
        "how far the line's outlet end is above the fuel or port that it starts from, at the worst fuel level",
        "length",
        "m",
        typical=0.3,
        plausible=(-2, 3),
        where=TAPE,
        signed=True,
    )
    material: str = word(
        "what most of the line is made of",
        "hose",
        "steel",
        "stainless-steel",
        "aluminium",
        "polyamide",
        "copper",
        "brass",
        "galvanised-steel",
        typical="hose",
        where=LOOK,
    )
    hose_class: str = word(
        "class marked on the hose, of the line itself or of its flexible ends",
        "SAE J30R6",
        "SAE J30R7",
        "SAE J30R9",
        "SAE J30R10",
        "SAE J30R11",
        "SAE J30R13",
        "ISO 19013-1",
        "ISO 19013-2",
        "unmarked",
        typical="SAE J30R13",
        where=HOSE_MARK,
    )
    hose_pressure: float = measure(
        "working pressure that the hose is rated for",
        "gauge_pressure",
        "kPa",
        typical=300,
        plausible=(50, 2500),
        where=HOSE_MARK,
    )
    hose_temperature: float = measure(
        "hottest surroundings that the hose is rated for",
        "temperature",
        "degC",
        typical=125,
        plausible=(60, 200),
        where=HOSE_MARK,
    )
    surroundings_max: float = measure(
        "hottest air along the line", "temperature", "degC", typical=90, plausible=(20, 200), where=METER
    )
    clamps: str = word(
        "how the hose ends are held",
        "fuel-injection-clamp",
        "crimped",
        "quick-connector",
        "spring-clamp",
        "worm-drive",
        typical="fuel-injection-clamp",
        where=LOOK,
    )
    heater_power: float = measure(
        "electric heater along the line; 0 where there is none",
        "power",
        "W",
        typical=0,
        plausible=(0, 1000),
        where=COMPONENT_SHEET,
        zero=True,
    )
    load: str = consumer("its heater", "fuel_heater")


class ReturnLine(FuelLine):
    """The line that takes fuel back from the engine."""

    ends_in: str = word(
        "what the return line ends in: the tank, a tee in the supply line, the filler neck",
        "tank",
        "supply-tee",
        "filler-neck",
        typical="tank",
        where=LOOK,
    )
    outlet: str = word(
        "how the fuel leaves the line in the tank",
        "submerged",
        "on-wall",
        "free-fall",
        typical="submerged",
        where=LOOK,
    )
    to_pickup: float = measure(
        "distance in the tank between the return's end and the pick-up",
        "length",
        "mm",
        typical=400,
        plausible=(0, 2500),
        where=TAPE,
        zero=True,
    )
    check_valve_drop: float = measure(
        "pressure that a check valve in the line takes; 0 where there is none",
        "pressure_difference",
        "kPa",
        typical=0,
        plausible=(0, 50),
        where=COMPONENT_SHEET,
        zero=True,
    )


class FuelCooler(Part):
    """A cooler in the return line."""

    duty: float = measure(
        "heat that it takes from the return on the hottest day",
        "power",
        "kW",
        typical=0.8,
        plausible=(0.1, 10),
        where=COMPONENT_SHEET,
    )
    drop: float = measure(
        "pressure that it takes at the return flow",
        "pressure_difference",
        "kPa",
        typical=2,
        plausible=(0, 30),
        where=COMPONENT_SHEET,
        zero=True,
    )


# -- pumps and filters ------------------------------------------------------------------------------------------------
class PumpPoint(Section):
    """One point of a pump's delivery curve."""

    pressure: float = measure(
        "pressure at the pump's outlet",
        "gauge_pressure",
        "kPa",
        typical=300,
        plausible=(0, 1200),
        where=COMPONENT_SHEET,
        zero=True,
    )
    flow: float = measure(
        "flow that the pump gives there",
        "volume_flow",
        "L/h",
        typical=150,
        plausible=(0, 800),
        where=COMPONENT_SHEET,
        zero=True,
    )


class FuelPump(Part):
    """A pump between tank and engine."""

    load: str = consumer("an electric pump", "fuel_pump")
    kind: str = word(
        "what drives it and where it sits",
        "in-tank-electric",
        "in-line-electric",
        "mechanical",
        typical="in-tank-electric",
        where=LOOK,
    )
    pressure: float = measure(
        "pressure that its regulator, or the pump itself without flow, holds",
        "gauge_pressure",
        "kPa",
        typical=50,
        plausible=(5, 1200),
        where=COMPONENT_SHEET,
    )
    curve: list[PumpPoint] = items("delivery curve, lowest pressure first")
    curve_voltage: float = measure(
        "voltage at the pump that the curve was taken at",
        "voltage",
        "V",
        typical=13.5,
        plausible=(6, 30),
        where=COMPONENT_SHEET,
    )
    stops_with_engine: bool = flag(
        "whether the pump stops by itself when the engine stops or the vehicle crashes", typical=True, where=LOOK
    )


class FuelFilter(Part):
    """A fuel filter."""

    stage: str = word(
        "which filter it is: the first one, the last one ahead of the injection pump, or one behind that",
        "primary",
        "final",
        "extra",
        typical="primary",
        where=LOOK,
    )
    place: str = word(
        "where it stands: between tank and pump, between feed pump and engine, or inside the engine package",
        "suction",
        "feed",
        "engine",
        typical="suction",
        where=LOOK,
    )
    fineness: float = measure(
        "size of particle that it keeps back",
        "length",
        "µm",
        typical=10,
        plausible=(1, 200),
        where=COMPONENT_SHEET,
    )
    rated_flow: float = measure(
        "flow that it is rated for", "volume_flow", "L/h", typical=150, plausible=(5, 1000), where=COMPONENT_SHEET
    )
    water_separator: bool = flag("whether it parts water off and has a bowl for it", typical=True, where=LOOK)
    water_sensor: bool = flag("whether a water sensor is fitted and wired", typical=True, where=LOOK)
    drop_dirty: float = measure(
        "pressure that it takes at the engine's supply flow in warm fuel, when due to be changed",
        "pressure_difference",
        "kPa",
        typical=3,
        plausible=(0.1, 40),
        where=COMPONENT_SHEET,
    )
    drop_cold: float = measure(
        "the same in the coldest fuel that the vehicle meets, where its maker states it",
        "pressure_difference",
        "kPa",
        typical=6,
        plausible=(0.1, 80),
        where=COMPONENT_SHEET,
    )
    heater_power: float = measure(
        "power of its heater; 0 where there is none",
        "power",
        "W",
        typical=0,
        plausible=(0, 1500),
        where=COMPONENT_SHEET,
        zero=True,
    )
    load: str = consumer("its heater", "fuel_heater")


# -- vent, canister, routes -------------------------------------------------------------------------------------------
class TankVent(Part):
    """The vent of the tank."""

    path: str = word(
        "which way the tank breathes",
        "own-line",
        "canister",
        "cap-only",
        typical="own-line",
        where=LOOK,
    )
    bore: float = measure("inside diameter of the vent line", "length", "mm", typical=8, plausible=(2, 25), where=TAPE)
    length: float = measure("length of the vent line", "length", "m", typical=1, plausible=(0.1, 8), where=TAPE)
    opening_pressure: float = measure(
        "pressure that opens its valve; 0 where the vent is always open",
        "pressure_difference",
        "kPa",
        typical=0.2,
        plausible=(0, 10),
        where=COMPONENT_SHEET,
        zero=True,
    )
    rollover_valve: bool = flag("whether it closes when the vehicle rolls over", typical=True, where=LOOK)
    end_height: float = measure(
        "height of its open end above the ground", "length", "mm", typical=900, plausible=(100, 3500), where=TAPE
    )
    clear_of_heat: bool = flag(
        "whether its open end is away from exhaust, sparks and the cab's air", typical=True, where=LOOK
    )


class Canister(Part):
    """The canister that takes up petrol vapour."""

    purged: bool = flag("whether the engine purges it, as its control unit expects", typical=True, where=LOOK)


class FuelRoute(Part):
    """A stretch of fuel line, or the tank, and what is around it."""

    carries: str = word("what lies there", "line", "tank", typical="line", where=LOOK)
    clearance: str = text(
        "name of the gap under `vehicle.clearances` that is its gap to the exhaust, where the engine's movement closes "
        "it: then it follows from that one, less the movement",
        typical="fuel_line",
        where=DRAWING,
    )
    gap_to_exhaust: float = measure(
        "least gap to any exhaust part, with the engine at its stops; left out where `clearance` names it",
        "length",
        "mm",
        typical=200,
        plausible=(0, 5000),
        where=TAPE,
        zero=True,
    )
    shielded: bool = flag("whether a heat shield stands between", typical=False, where=LOOK)
    near_turbocharger: bool = flag(
        "whether the nearest exhaust part is the turbocharger or the manifold", typical=False, where=LOOK
    )
    clear_of_moving_parts: bool = flag(
        "whether nothing that turns or moves can touch it, with the suspension at its stops", typical=True, where=LOOK
    )
    through_cab: bool = flag("whether it passes through the space for people", typical=False, where=LOOK)
    ahead_of_front_axle: bool = flag("whether any of it is ahead of the front axle", typical=False, where=LOOK)
    beyond_width: bool = flag("whether any of it is outside the vehicle's sides", typical=False, where=LOOK)
    guarded: bool = flag("whether frame or guard protects it from blows from below", typical=True, where=LOOK)
    below_tank: float = measure(
        "how far it hangs below the tank's underside",
        "length",
        "mm",
        typical=0,
        plausible=(0, 300),
        where=TAPE,
        zero=True,
    )
    clip_spacing: float = measure(
        "greatest distance between two clips", "length", "mm", typical=400, plausible=(50, 2000), where=TAPE
    )
    flexible_to_engine: bool = flag(
        "whether a flexible piece takes up the engine's movement, where it ends there", typical=True, where=LOOK
    )


# -- the work ---------------------------------------------------------------------------------------------------------
class FuelConversion(Section):
    """What a change from one kind of fuel to the other asks for."""

    tank_cleaned: bool = flag(
        "whether a specialist has cleaned and dried the tank that is kept", typical=True, where=RECORD
    )
    pickup_renewed: bool = flag("whether pick-up and strainer are new", typical=True, where=RECORD)
    seals_suit_fuel: bool = flag(
        "whether all seals that are kept suit the new fuel", typical=True, where=COMPONENT_SHEET
    )
    filler_suits_nozzle: bool = flag(
        "whether the filler takes the nozzle of the new fuel, and for petrol refuses the diesel one",
        typical=True,
        where=LOOK,
    )
    labelled: bool = flag("whether the filler says which fuel goes in", typical=True, where=LOOK)
    sender_matched: bool = flag("whether gauge and level sender read right together", typical=True, where=METER)
    papers_asked: bool = flag(
        "whether the registration authority was asked about the change of fuel", typical=True, where=RECORD
    )
    vapour_tight: bool = flag("whether tank and cap hold petrol vapour", typical=True, where=RECORD)
    filler_conductive: bool = flag(
        "whether filler neck and hose lead static charge to the bonded tank", typical=True, where=METER
    )


class HighPressureSide(Section):
    """The injection side: whether it was opened, and how it was closed."""

    opened: bool = flag(
        "whether any high-pressure line, rail or injector was loosened or moved", typical=False, where=RECORD
    )
    home_made_line: bool = flag(
        "whether any high-pressure line was made or bent in the workshop", typical=False, where=LOOK
    )
    lines_renewed: bool = flag("whether every line that was loosened is new", typical=True, where=RECORD)
    washers_renewed: bool = flag("whether every sealing washer that was loosened is new", typical=True, where=RECORD)
    tightened_to_sheet: bool = flag(
        "whether torque and sequence of the engine maker were used and written down", typical=True, where=RECORD
    )
    leak_off_connected: bool = flag("whether the injectors' leak-off is complete and free", typical=True, where=LOOK)


class FuelSystem(Section):
    """From the filler to the engine's fuel inlet, and back."""

    grade: FuelGrade = part("the fuel that goes into the tank")
    tank: FuelTank = part("the fuel tank")
    vent: TankVent = part("the vent of the tank")
    canister: Canister = part("the canister for petrol vapour")
    supply: FuelLine = part(
        "the line from the tank to the engine's fuel inlet; its lift counts from the lowest fuel level"
    )
    return_line: ReturnLine = part("the line back to the tank")
    cooler: FuelCooler = part("a cooler in the return line")
    pump: FuelPump = part("the pump that feeds the engine's own: a lift pump or an in-tank pump")
    old_pump: FuelPump = part("a pump of the old engine that still stands in the supply line")
    filters: dict[str, FuelFilter] = parts("the filters, each under its name: primary, final")
    routes: dict[str, FuelRoute] = parts("stretches of line, and the tank, each under a name of its own")
    conversion: FuelConversion = part("what was done about the change of fuel")
    high_pressure: HighPressureSide = part("what was done on the injection side")
    consumption: float = measure(
        "mixed consumption on the road", "distance_consumption", "L/100 km", typical=14, plausible=(4, 90), where=RECORD
    )
    stationary_burn: float = measure(
        "fuel burnt in standing work", "volume_flow", "L/h", typical=8, plausible=(0.5, 150), where=RECORD
    )


class OriginalVehicle(ApprovedVehicle):
    """The vehicle as it left the factory."""

    fuel_type: str = word("what the old engine burnt", "diesel", "petrol", typical="petrol", where=PLATE)


__all__ = ["EngineFuel", "FuelSystem", "OriginalVehicle"]
