"""Fields of the intake: from the opening in the body to the engine, the charge-air pipes, the crankcase breather."""

from swaplint.spec.fields import (
    CALLIPER,
    COMPONENT_SHEET,
    DATA_SHEET,
    DECISION,
    LOOK,
    MARKING,
    METER,
    TAPE,
    TYPICAL,
    Part,
    Section,
    flag,
    measure,
    number,
    part,
    parts,
    word,
)
from swaplint.spec.systems.streams import side_by_side

INTAKE_BORES_MM = (51, 57, 63, 70, 76, 89, 102, 114, 127, 152)
"""Inside diameters of intake and charge-air ducts as sold, mm (common practice)."""


def _duct_bore(what: str, typical: float) -> float:
    return measure(  # type: ignore[no-any-return]
        f"inside diameter of {what}",
        "length",
        "mm",
        typical=typical,
        plausible=(25, 250),
        where=DECISION,
        series=INTAKE_BORES_MM,
    )


def _drop(what: str, typical: float) -> float:
    return measure(  # type: ignore[no-any-return]
        f"pressure that {what} takes at `test_flow`",
        "pressure_difference",
        "kPa",
        typical=typical,
        plausible=(0.02, 8),
        where=COMPONENT_SHEET,
    )


def _test_flow() -> float:
    return measure(  # type: ignore[no-any-return]
        "flow of standard air, 20 °C and 101.3 kPa, at which it takes that pressure",
        "volume_flow",
        "m3/h",
        typical=450,
        plausible=(30, 6000),
        where=COMPONENT_SHEET,
    )


# -- engine package ---------------------------------------------------------------------------------------------------
class EngineFlowSensor(Part):
    """The engine's air-mass sensor, where it has one, and what it asks for."""

    bore: float = measure(
        "inside diameter of the housing that it is calibrated in",
        "length",
        "mm",
        typical=70,
        plausible=(30, 150),
        where=DATA_SHEET,
    )
    straight_up: float = number(
        "straight pipe ahead of it, in diameters of its housing", typical=5, plausible=(0, 20), where=DATA_SHEET
    )
    straight_down: float = number(
        "straight pipe behind it, in diameters of its housing", typical=2, plausible=(0, 10), where=DATA_SHEET
    )
    tested_box_required: bool = flag(
        "whether it may stand only behind the filter box that the engine maker tested", typical=False, where=DATA_SHEET
    )


class EngineAir(Section):
    """What the engine breathes and asks of its intake."""

    mass_flow: float = measure(
        "greatest air flow, at rated power", "mass_flow", "kg/s", typical=0.13, plausible=(0.02, 1.5), where=DATA_SHEET
    )
    restriction_max_clean: float = measure(
        "greatest depression at the turbocharger's or throttle's inlet with a new filter",
        "pressure_difference",
        "kPa",
        typical=3.5,
        plausible=(1, 6),
        where=DATA_SHEET,
        limit=True,
    )
    restriction_max_dirty: float = measure(
        "greatest depression at the turbocharger's or throttle's inlet with a filter due to be changed",
        "pressure_difference",
        "kPa",
        typical=6.2,
        plausible=(2, 10),
        where=DATA_SHEET,
        limit=True,
    )
    temp_rise_max: float = measure(
        "greatest rise of the air that it breathes over the outside air",
        "temperature_difference",
        "K",
        typical=15,
        plausible=(3, 40),
        where=DATA_SHEET,
        limit=True,
    )
    flow_sensor: EngineFlowSensor = part("its air-mass sensor")


class EngineBreather(Section):
    """The engine's crankcase breather."""

    kind: str = word(
        "whether the engine is built and certified to breathe into its own intake, or into the open",
        "closed",
        "open",
        typical="closed",
        where=DATA_SHEET,
    )
    manifold_line: bool = flag(
        "whether a line with a valve draws its gas into the manifold at part load", typical=True, where=DATA_SHEET
    )
    fresh_air: bool = flag(
        "whether a second line brings it clean air from behind the filter", typical=False, where=DATA_SHEET
    )
    flow: float = measure(
        "blow-by of a run-in engine at full load",
        "volume_flow",
        "L/min",
        typical=60,
        plausible=(3, 600),
        where=DATA_SHEET,
    )
    restriction_max: float = measure(
        "greatest pressure that the line from the breather may take",
        "pressure_difference",
        "kPa",
        typical=0.5,
        plausible=(0.05, 5),
        where=DATA_SHEET,
        limit=True,
    )


# -- the intake of the vehicle ----------------------------------------------------------------------------------------
class AirInlet(Section):
    """The opening that the engine breathes through."""

    place: str = word(
        "where it is",
        "under-hood",
        "grille",
        "wing",
        "side",
        "roof",
        typical="wing",
        where=LOOK,
    )
    temp_rise: float = measure(
        "rise of the air there over the outside air, measured at full load",
        "temperature_difference",
        "K",
        typical=5,
        plausible=(0, 70),
        where=METER,
        zero=True,
    )
    height: float = measure(
        "height of its lower edge above the ground", "length", "mm", typical=900, plausible=(200, 3500), where=TAPE
    )
    drained: bool = flag("whether water that gets in runs out ahead of the filter", typical=True, where=LOOK)
    clear_of_exhaust: bool = flag(
        "whether no exhaust gas, and no air from radiator or brakes, reaches it", typical=True, where=LOOK
    )
    ember_screen: bool = flag("whether a fine metal screen keeps embers out", typical=False, where=LOOK)


class IntakeDevice(Part):
    """Something in the intake that takes pressure: a rain hood."""

    side_by_side: float = side_by_side("ones")
    drop: float = _drop("it", 0.3)
    test_flow: float = _test_flow()


class PreCleaner(IntakeDevice):
    """A pre-cleaner, which throws dust out ahead of the filter."""

    efficiency: float = measure(
        "share of the dust, by mass, that it keeps from the filter",
        "share",
        "%",
        typical=80,
        plausible=(20, 98),
        where=COMPONENT_SHEET,
    )


class AirCleaner(Part):
    """The air cleaner: the filter with its housing."""

    medium: str = word(
        "what it filters with",
        "dry",
        "oiled",
        "oil-bath",
        typical="dry",
        where=LOOK,
    )
    side_by_side: float = side_by_side("filters")
    tested_box: bool = flag(
        "whether it is the box that the engine maker tested with the air-mass sensor", typical=True, where=LOOK
    )
    drop_clean: float = _drop("it, new, with its housing,", 1.5)
    test_flow: float = _test_flow()
    change_at: float = measure(
        "depression behind it at which it is changed, as its service indicator is set",
        "pressure_difference",
        "kPa",
        typical=5,
        plausible=(1, 10),
        where=MARKING,
        settled="setting",
    )
    rated_flow: float = measure(
        "air flow that it is rated for",
        "volume_flow",
        "m3/h",
        typical=500,
        plausible=(30, 6000),
        where=COMPONENT_SHEET,
    )
    dust_capacity: float = measure(
        "dust that it takes up before it is due to be changed",
        "mass",
        "g",
        typical=800,
        plausible=(30, 20000),
        where=COMPONENT_SHEET,
    )


class IntakeDuct(Part):
    """A run of duct on the suction side."""

    place: str = word(
        "whether it is ahead of the filter or behind it",
        "before-filter",
        "after-filter",
        typical="after-filter",
        where=LOOK,
    )
    bore: float = _duct_bore("the duct", 102)
    side_by_side: float = side_by_side("ducts")
    length: float = measure("length along its middle line", "length", "m", typical=0.8, plausible=(0.02, 8), where=TAPE)
    bends_k: float = number(
        "sum of the loss coefficients K of its bends, entry and steps; a smooth bend is 0.2 to 0.3, a sharp entry 0.5",
        typical=0.6,
        plausible=(0, 10),
        where=TYPICAL,
        zero=True,
    )


class FlowSensorFitting(Section):
    """How the air-mass sensor is built in."""

    bore: float = measure(
        "inside diameter of the housing that it sits in",
        "length",
        "mm",
        typical=70,
        plausible=(30, 150),
        where=CALLIPER,
    )
    straight_up: float = measure(
        "straight pipe ahead of it", "length", "mm", typical=350, plausible=(0, 2000), where=TAPE, zero=True
    )
    straight_down: float = measure(
        "straight pipe behind it", "length", "mm", typical=140, plausible=(0, 2000), where=TAPE, zero=True
    )
    as_shown: bool = flag(
        "whether it sits the way round and the way up that the engine maker shows", typical=True, where=LOOK
    )


class BreatherLine(Part):
    """The line from the engine's crankcase breather."""

    bore: float = measure("inside diameter", "length", "mm", typical=22, plausible=(6, 60), where=DECISION)
    length: float = measure("length", "length", "m", typical=0.7, plausible=(0.05, 6), where=TAPE)
    fittings_k: float = number(
        "sum of the loss coefficients K of entry, exit, bends and valves; a plain pipe has 1.5",
        typical=2,
        plausible=(0, 30),
        where=TYPICAL,
        zero=True,
    )
    low_point: bool = flag("whether it has a low loop, where oil and water can gather", typical=False, where=LOOK)
    exit: str = word(
        "where it ends: in the pipe between the filter, or the air-mass sensor, and the turbocharger or throttle; "
        "ahead of the air-mass sensor; in a catch can; in the open",
        "clean-air-pipe",
        "before-sensor",
        "catch-can",
        "open-air",
        typical="clean-air-pipe",
        where=LOOK,
    )
    manifold_joined: bool = flag(
        "whether the line to the manifold is joined, with its valve and behind the throttle", typical=True, where=LOOK
    )
    non_return: bool = flag(
        "whether a valve keeps boost out of the crankcase through that line", typical=True, where=LOOK
    )
    fresh_air_joined: bool = flag(
        "whether the line for clean air is joined behind the filter and the air-mass sensor", typical=True, where=LOOK
    )
    separator: bool = flag(
        "whether an oil separator stands in it, in the engine or in the line", typical=True, where=LOOK
    )
    heated: bool = flag("whether it is heated or insulated against frost", typical=False, where=LOOK)


class IntakeSystem(Section):
    """From the opening in the body to the turbocharger or throttle."""

    inlet: AirInlet = part("the opening that the engine breathes through")
    hood: IntakeDevice = part("the rain hood on the opening")
    precleaner: PreCleaner = part("a pre-cleaner ahead of the filter")
    filter: AirCleaner = part("the air filter")
    ducts: dict[str, IntakeDuct] = parts("the runs of duct, each under its name, in the order that the air takes")
    flow_sensor: FlowSensorFitting = part("how the air-mass sensor is built in")
    breather: BreatherLine = part("the line from the crankcase breather")


class ChargePipe(Part):
    """A run of charge-air pipe, with the hoses that join it."""

    place: str = word(
        "whether it is ahead of the charge-air cooler or behind it; without a cooler it is ahead",
        "before-cooler",
        "after-cooler",
        typical="before-cooler",
        where=LOOK,
    )
    bore: float = _duct_bore("the pipe", 63)
    length: float = measure(
        "length of the run with its hoses",
        "length",
        "m",
        typical=0.9,
        plausible=(0.05, 8),
        where=TAPE,
        settled="choice",
    )
    side_by_side: float = side_by_side("pipes")
    beaded: bool = flag("whether every pipe end under a hose has a bead", typical=True, where=LOOK)
    gap: float = measure(
        "gap between the pipe ends inside the hose",
        "length",
        "mm",
        typical=15,
        plausible=(0, 200),
        where=TAPE,
        zero=True,
    )
    hose_pressure: float = measure(
        "working pressure that its hoses are rated for",
        "gauge_pressure",
        "kPa",
        typical=400,
        plausible=(50, 1500),
        where=MARKING,
    )
    hose_temperature: float = measure(
        "hottest air that its hoses are rated for",
        "temperature",
        "degC",
        typical=200,
        plausible=(80, 320),
        where=MARKING,
    )
    clamp: str = word(
        "how its hoses are held",
        "t-bolt",
        "constant-tension",
        "v-band",
        "quick-connector",
        "worm-drive",
        "spring-wire",
        typical="t-bolt",
        where=LOOK,
    )


class ChargeAirPipes(Section):
    """From the turbocharger through the charge-air cooler to the manifold."""

    pipes: dict[str, ChargePipe] = parts(
        "the runs of charge-air pipe, each under its name; an empty table for an engine without a turbocharger"
    )


__all__ = ["ChargeAirPipes", "EngineAir", "EngineBreather", "IntakeSystem"]
