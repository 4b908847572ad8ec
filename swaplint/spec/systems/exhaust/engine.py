"""What leaves the engine, and what the engine package asks of its exhaust."""

from swaplint.spec.fields import DATA_SHEET, Part, Section, count, flag, measure, part, parts, word

DEVICE_KINDS = (
    "oxidation-catalyst",
    "three-way-catalyst",
    "particulate-filter",
    "selective-catalyst",
    "silencer",
    "spark-arrester",
    "valve",
)


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
        limit=True,
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
        limit=True,
    )
    moment_max: float = measure(
        "greatest bending moment on the outlet flange, shocks of the road included",
        "torque",
        "N m",
        typical=30,
        plausible=(1, 500),
        where=DATA_SHEET,
        limit=True,
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
        limit=True,
    )
    distance_max: float = measure(
        "greatest length of pipe between the turbocharger's outlet and its inlet",
        "length",
        "mm",
        typical=900,
        plausible=(50, 6000),
        where=DATA_SHEET,
        limit=True,
    )
    inlet_temp_min: float = measure(
        "coolest gas at its inlet at rated power that it works with",
        "temperature",
        "degC",
        typical=400,
        plausible=(150, 900),
        where=DATA_SHEET,
        limit=True,
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
        limit=True,
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
        limit=True,
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
        limit=True,
    )
    lift_max: float = measure(
        "greatest height of the doser above the tank",
        "length",
        "m",
        typical=1.5,
        plausible=(0.1, 6),
        where=DATA_SHEET,
        limit=True,
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
        limit=True,
    )
