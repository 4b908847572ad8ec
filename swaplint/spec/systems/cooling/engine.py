"""What the engine package gives off and asks for."""

from swaplint.spec.fields import DATA_SHEET, Part, Section, flag, measure, part, parts, word, words

CHEMISTRIES = ("inorganic", "organic-acid", "hybrid-organic-acid", "phosphated-organic-acid", "nitrited-organic-acid")
"""Families of corrosion inhibitors in coolants."""


class HeatPoint(Section):
    """What the engine gives off at one operating point."""

    coolant: float = measure(
        "heat given to the coolant", "power", "kW", typical=60, plausible=(1, 600), where=DATA_SHEET
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


class EngineCoolant(Part):
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
        limit=True,
    )
    cap_pressure_min: float = measure(
        "least opening pressure of the cap",
        "gauge_pressure",
        "kPa",
        typical=90,
        plausible=(10, 200),
        where=DATA_SHEET,
        limit=True,
    )
    external_restriction_max: float = measure(
        "greatest pressure that hoses and radiator may take at rated flow",
        "pressure_difference",
        "kPa",
        typical=35,
        plausible=(5, 150),
        where=DATA_SHEET,
        limit=True,
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
        "least share of glycol by volume", "share", "%", typical=40, plausible=(20, 60), where=DATA_SHEET, limit=True
    )
    glycol_max: float = measure(
        "greatest share of glycol by volume", "share", "%", typical=60, plausible=(40, 70), where=DATA_SHEET, limit=True
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
        limit=True,
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
        limit=True,
    )
    manifold_temp_max: float = measure(
        "hottest manifold air allowed",
        "temperature",
        "degC",
        typical=65,
        plausible=(30, 110),
        where=DATA_SHEET,
        limit=True,
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
        limit=True,
    )


class EngineFan(Section):
    """What the engine allows as a fan."""

    electric_allowed: bool = flag(
        "whether the engine maker allows an electric fan as the only one", typical=True, where=DATA_SHEET
    )
