"""Fields of the cooling system: what the engine gives off and asks for, radiator, air, charge-air cooler, circuit.

The engine works at three operating points: at rated speed, at peak torque, and in standing work. What it gives off
there stands under `engine.heat`, the air that the vehicle moves through the radiator under `plumbing.cooling.air`.
"""

from swaplint.engineering.pipes import HOSE_BORES
from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DATA_SHEET,
    DRAWING,
    LOOK,
    METER,
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
    words,
)
from swaplint.spec.systems.chassis import CabHeater, consumer
from swaplint.spec.systems.fit import FanPlace

COOLANT_BORES_MM = tuple(round(bore * 1e3, 3) for bore in HOSE_BORES if bore >= 0.006)
CAP_PRESSURES_KPA = (50, 70, 90, 100, 110, 120, 130, 140)
"""Opening pressures that caps are sold with (common practice)."""
CHEMISTRIES = ("inorganic", "organic-acid", "hybrid-organic-acid", "phosphated-organic-acid", "nitrited-organic-acid")
"""Families of corrosion inhibitors in coolants."""
AIR_MEASURED = "a calculation with the fan curve, or a measurement over the core"


# -- engine package ---------------------------------------------------------------------------------------------------
class HeatPoint(Section):
    """What the engine gives off at one operating point."""

    coolant: float = measure(
        "heat given to the coolant", "power", "kW", typical=60, plausible=(3, 600), where=DATA_SHEET
    )
    charge_air: float = measure(
        "heat to be taken from the charge air by its cooler; 0 where nothing is to be taken",
        "power",
        "kW",
        typical=15,
        plausible=(0, 250),
        where=DATA_SHEET,
        zero=True,
    )


class StandingHeatPoint(HeatPoint):
    """What the engine gives off in standing work."""

    power: float = measure(
        "engine power at which that heat is given off",
        "power",
        "kW",
        typical=30,
        plausible=(1, 400),
        where=DATA_SHEET,
    )


class EngineHeat(Section):
    """What the engine gives off at its operating points."""

    rated: HeatPoint = part("full load at rated speed")
    peak_torque: HeatPoint = part("full load at the lowest speed of greatest torque")
    standing: StandingHeatPoint = part("standing work")
    idle: HeatPoint = part("warm idle, which keeps the cab warm")


class CoolantPort(Section):
    """A coolant port of the engine."""

    use: str = word(
        "what the port is for",
        "to-radiator",
        "from-radiator",
        "bypass",
        "heater-feed",
        "heater-return",
        "oil-cooler",
        "other",
        typical="to-radiator",
        where=DATA_SHEET,
    )
    bore: float = measure(
        "inside diameter of the port", "length", "mm", typical=38, plausible=(5, 80), where=DATA_SHEET
    )
    may_be_plugged: bool = flag("whether the engine runs with this port plugged", typical=False, where=DATA_SHEET)


class EngineCoolant(Section):
    """What the engine asks of its coolant and circuit."""

    flow: float = measure(
        "flow of its pump through the radiator at rated speed, thermostat open",
        "volume_flow",
        "L/min",
        typical=140,
        plausible=(20, 1000),
        where=DATA_SHEET,
    )
    volume: float = measure("coolant inside the engine", "volume", "L", typical=8, plausible=(1, 60), where=DATA_SHEET)
    top_tank_max: float = measure(
        "hottest coolant allowed where it leaves the engine",
        "temperature",
        "degC",
        typical=105,
        plausible=(80, 120),
        where=DATA_SHEET,
    )
    cap_pressure_min: float = measure(
        "least opening pressure of the cap", "gauge_pressure", "kPa", typical=90, plausible=(10, 200), where=DATA_SHEET
    )
    external_restriction_max: float = measure(
        "greatest pressure that hoses and radiator may take at rated flow",
        "pressure_difference",
        "kPa",
        typical=35,
        plausible=(5, 150),
        where=DATA_SHEET,
    )
    reserve: float = measure(
        "coolant that the expansion tank holds in hand against loss, as a share of the whole system",
        "share",
        "%",
        typical=10,
        plausible=(2, 25),
        where=DATA_SHEET,
    )
    glycol_min: float = measure(
        "least share of glycol by volume", "share", "%", typical=40, plausible=(20, 60), where=DATA_SHEET
    )
    glycol_max: float = measure(
        "greatest share of glycol by volume", "share", "%", typical=60, plausible=(40, 70), where=DATA_SHEET
    )
    chemistries: list[str] = words(
        "families of corrosion inhibitors that the engine allows",
        *CHEMISTRIES,
        typical="organic-acid",
        where=DATA_SHEET,
    )
    vents: list[str] = words(
        "vents of the engine that must be led to the expansion tank, each by its name",
        typical="cylinder_head",
        where=DATA_SHEET,
    )
    fill_line_bore_min: float = measure(
        "least inside diameter of the line from the expansion tank to the pump",
        "length",
        "mm",
        typical=19,
        plausible=(8, 40),
        where=DATA_SHEET,
    )
    ports: dict[str, CoolantPort] = parts("its coolant ports besides vents and fill line, each under its name")


class EngineThermostat(Section):
    """The engine's thermostat."""

    bypass: str = word(
        "whether the coolant that passes a closed thermostat runs inside the engine or through a hose",
        "internal",
        "external",
        typical="internal",
        where=DATA_SHEET,
    )


class EngineChargeAir(Section):
    """What the engine gives to the charge-air cooler and asks of it."""

    compressor_outlet: float = measure(
        "charge air behind the compressor at rated speed, in outside air of `stated_at`",
        "temperature",
        "degC",
        typical=160,
        plausible=(60, 260),
        where=DATA_SHEET,
    )
    stated_at: float = measure(
        "outside air that `compressor_outlet` is stated for",
        "temperature",
        "degC",
        typical=25,
        plausible=(0, 50),
        where=DATA_SHEET,
    )
    rise_max: float = measure(
        "greatest rise of the manifold air over the outside air",
        "temperature_difference",
        "K",
        typical=25,
        plausible=(5, 60),
        where=DATA_SHEET,
    )
    manifold_temp_max: float = measure(
        "hottest manifold air allowed", "temperature", "degC", typical=65, plausible=(30, 110), where=DATA_SHEET
    )
    pressure_max: float = measure(
        "greatest boost pressure behind the compressor",
        "gauge_pressure",
        "kPa",
        typical=150,
        plausible=(20, 400),
        where=DATA_SHEET,
    )
    drop_max: float = measure(
        "greatest pressure that cooler and pipes together may take at rated air flow",
        "pressure_difference",
        "kPa",
        typical=12,
        plausible=(2, 30),
        where=DATA_SHEET,
    )


class EngineFan(Section):
    """What the engine allows as a fan."""

    electric_allowed: bool = flag(
        "whether the engine maker allows an electric fan as the only one", typical=True, where=DATA_SHEET
    )


# -- radiator and what stands in its air ------------------------------------------------------------------------------
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


def _pressure_rating(part_name: str) -> float:
    return measure(  # type: ignore[no-any-return]
        f"highest pressure that the {part_name} is rated for",
        "gauge_pressure",
        "kPa",
        typical=150,
        plausible=(30, 400),
        where=COMPONENT_SHEET,
    )


class Radiator(Part):
    """The coolant radiator."""

    tests: dict[str, RadiatorTest] = parts("tested points, each under a name of its own")
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
    pressure_max: float = _pressure_rating("radiator")


class AirFlow(Section):
    """The air through the radiator at one operating point."""

    flow: float = measure(
        "mass flow of air through the core, at sea level on the hottest day",
        "mass_flow",
        "kg/s",
        typical=2,
        plausible=(0.1, 20),
        where=AIR_MEASURED,
    )


class DrivingAirFlow(AirFlow):
    """The air through the radiator at an operating point of the driving vehicle."""

    fan_only: bool = flag(
        "whether the fan alone moves it, without the wind of driving", typical=False, where=AIR_MEASURED
    )


class CoolingAir(Section):
    """The air through the radiator at the operating points."""

    rated: DrivingAirFlow = part("full load at rated speed")
    peak_torque: DrivingAirFlow = part("full load at the lowest speed of greatest torque")
    standing: AirFlow = part("standing work, with the fan alone")


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
        "whether it stands in the air in front of the radiator, or has air of its own",
        "before-radiator",
        "elsewhere",
        typical="before-radiator",
        where=LOOK,
    )
    effectiveness: float = measure(
        "fall of the charge air's temperature over the most possible, at rated air flow",
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


class FanPoint(Section):
    """One point of the fan's curve, all fans together."""

    flow: float = measure(
        "air moved there", "volume_flow", "m3/s", typical=1, plausible=(0, 20), where=COMPONENT_SHEET, zero=True
    )
    pressure: float = measure(
        "pressure rise across the fan there, in standard air of 1.2 kg/m3",
        "pressure_difference",
        "Pa",
        typical=200,
        plausible=(0, 2000),
        where=COMPONENT_SHEET,
        zero=True,
    )


class CoolingFan(FanPlace):
    """The radiator's fan, or several alike."""

    load: str = consumer("an electric fan", "fan")
    drive: str = word(
        "what drives it: the engine directly or by belt, the engine through a viscous coupling, or a motor of its own",
        "engine",
        "viscous",
        "electric",
        typical="viscous",
        where=LOOK,
    )
    curve: list[FanPoint] = items("curve with its shroud, from no flow to free flow")
    curve_speed: float = measure(
        "fan speed of the curve, for one driven by the engine",
        "rotation",
        "r/min",
        typical=2500,
        plausible=(500, 8000),
        where=COMPONENT_SHEET,
    )
    ratio: float = number(
        "turns of the fan's drive for one turn of the engine", typical=1.1, plausible=(0.5, 2.5), where=COMPONENT_SHEET
    )
    slip: float = measure(
        "how far a closed viscous coupling lags behind its drive; 0 for a rigid drive",
        "share",
        "%",
        typical=8,
        plausible=(0, 30),
        where=COMPONENT_SHEET,
        zero=True,
    )
    speed_max: float = measure(
        "highest fan speed that its maker allows",
        "rotation",
        "r/min",
        typical=4500,
        plausible=(1000, 12000),
        where=COMPONENT_SHEET,
    )
    curve_voltage: float = measure(
        "voltage at the motor that the curve was taken at",
        "voltage",
        "V",
        typical=13,
        plausible=(6, 30),
        where=COMPONENT_SHEET,
    )
    motor_voltage: float = measure(
        "voltage at the motor while it runs in the vehicle", "voltage", "V", typical=13, plausible=(6, 30), where=METER
    )
    shroud_coverage: float = measure(
        "share of the core that the shroud covers; 0 without one",
        "share",
        "%",
        typical=95,
        plausible=(0, 100),
        where=TAPE,
        zero=True,
    )


class AirResistance(Part):
    """Something in the path of the cooling air: core, grille, condenser."""

    drop: float = measure(
        "pressure that it takes from the air at `flow`, in standard air of 1.2 kg/m3",
        "pressure_difference",
        "Pa",
        typical=100,
        plausible=(1, 2000),
        where=COMPONENT_SHEET,
    )
    flow: float = measure(
        "air flow at which it takes that pressure",
        "volume_flow",
        "m3/s",
        typical=1.5,
        plausible=(0.05, 20),
        where=COMPONENT_SHEET,
    )


# -- circuit ----------------------------------------------------------------------------------------------------------
class Mixture(Section):
    """The coolant itself."""

    glycol: float = measure(
        "share of ethylene glycol by volume",
        "share",
        "%",
        typical=50,
        plausible=(25, 65),
        where="a refractometer or hydrometer on the coolant",
    )
    chemistry: str = word(
        "family of its corrosion inhibitors", *CHEMISTRIES, typical="organic-acid", where=COMPONENT_SHEET
    )


class ExpansionTank(Part):
    """The expansion tank."""

    volume: float = measure(
        "inside volume above its outlet, with the air in it",
        "volume",
        "L",
        typical=3,
        plausible=(0.3, 40),
        where=COMPONENT_SHEET,
    )
    above_highest: float = measure(
        "how far its lowest coolant level is above the highest coolant in engine and radiator; negative if below",
        "length",
        "mm",
        typical=50,
        plausible=(-800, 1500),
        where=TAPE,
        signed=True,
    )
    remote_fill: bool = flag(
        "whether the system is filled at its highest point by other means: a filler there, or under vacuum",
        typical=False,
        where=RECORD,
    )
    fill_line_bore: float = measure(
        "inside diameter of the line from the tank to the pump's inlet",
        "length",
        "mm",
        typical=22,
        plausible=(6, 50),
        where=TAPE,
        series=COOLANT_BORES_MM,
    )
    fill_line_to_pump: bool = flag(
        "whether that line ends at the pump's inlet and carries nothing else", typical=True, where=LOOK
    )
    pressure_max: float = _pressure_rating("expansion tank")


class CoolantVent(Part):
    """A vent line to the expansion tank."""

    orifice: float = measure("narrowest bore in the line", "length", "mm", typical=3, plausible=(1, 15), where=TAPE)
    rises: bool = flag("whether the line rises all the way to the tank", typical=True, where=LOOK)
    own_entry: bool = flag(
        "whether it enters the tank above the coolant through an entry of its own", typical=True, where=LOOK
    )


class CoolantHose(Part):
    """A hose between engine and radiator, with the fittings in it."""

    side: str = word(
        "whether it leads to the pump's inlet, or away from the engine",
        "suction",
        "delivery",
        typical="delivery",
        where=LOOK,
    )
    port: str = text("the engine's port that it is on, by its name", typical="radiator_out", where=LOOK)
    bore: float = measure(
        "inside diameter",
        "length",
        "mm",
        typical=38,
        plausible=(10, 90),
        where=TAPE,
        series=COOLANT_BORES_MM,
    )
    length: float = measure("length", "length", "m", typical=0.8, plausible=(0.05, 12), where=TAPE)
    fittings_k: float = number(
        "sum of the loss coefficients K of its bends, entry and exit; a smooth bend is 0.2 to 0.3",
        typical=2,
        plausible=(0, 30),
        where=DRAWING,
        zero=True,
    )
    holds_shape: bool = flag(
        "whether it is moulded with reinforcement, or has a spring inside, so that suction cannot flatten it",
        typical=True,
        where=LOOK,
    )


class HeaterCore(CabHeater):
    """The cab heater and its core."""

    pressure_max: float = _pressure_rating("heater core")


class CircuitBranch(Section):
    """One run of coolant from a port or part to another. Ports of the engine go by their names there."""

    start: str = text("where the coolant comes from", typical="radiator_out", where=DRAWING)
    end: str = text("where it goes", typical="radiator", where=DRAWING)
    can_shut: bool = flag("whether a valve can shut it, as that of a cab heater", typical=False, where=LOOK)


class CoolingSystem(Section):
    """Radiator, its air, and the coolant circuit outside the engine."""

    coolant: Mixture = part("the coolant itself")
    cap_pressure: float = measure(
        "opening pressure of the cap",
        "gauge_pressure",
        "kPa",
        typical=100,
        plausible=(10, 200),
        where=LOOK,
        series=CAP_PRESSURES_KPA,
    )
    system_volume: float = measure(
        "coolant in the whole system when cold, as measured by filling it",
        "volume",
        "L",
        typical=18,
        plausible=(3, 150),
        where=RECORD,
    )
    radiator: Radiator = part("the radiator")
    air: CoolingAir = part("the air through it")
    coolers: dict[str, Cooler] = parts("other coolers, each under its name; an empty table says that there are none")
    charge_cooler: ChargeCooler = part("the charge-air cooler")
    fan: CoolingFan = part("the fan")
    air_path: dict[str, AirResistance] = parts("what the air passes one after another: core, grille, condenser")
    expansion_tank: ExpansionTank = part("the expansion tank")
    vents: dict[str, CoolantVent] = parts("vent lines to the expansion tank, each under the name of its vent")
    hoses: dict[str, CoolantHose] = parts("the hoses between engine and radiator, each under its name")
    heater: HeaterCore = part("the cab heater")
    circuit: list[CircuitBranch] = items("the runs of coolant outside the engine, besides vents and fill line")


__all__ = ["CoolingSystem", "EngineChargeAir", "EngineCoolant", "EngineFan", "EngineHeat", "EngineThermostat"]
