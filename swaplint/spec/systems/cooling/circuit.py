"""The coolant and its circuit outside the engine."""

from swaplint.engineering.pipes import HOSE_BORES
from swaplint.spec.fields import (
    CALLIPER,
    COMPONENT_SHEET,
    DECISION,
    DRAWING,
    LOOK,
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
from swaplint.spec.systems.chassis import CabHeater, consumer
from swaplint.spec.systems.cooling.engine import CHEMISTRIES
from swaplint.spec.systems.cooling.radiator import pressure_rating
from swaplint.spec.systems.supply.fluids import Changed

COOLANT_BORES_MM = tuple(round(bore * 1e3, 3) for bore in HOSE_BORES if bore >= 0.006)


class Mixture(Changed):
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
        where=DECISION,
    )
    fill_line_bore: float = measure(
        "inside diameter of the line from the tank to the pump's inlet",
        "length",
        "mm",
        typical=22,
        plausible=(6, 50),
        where=DECISION,
        series=COOLANT_BORES_MM,
    )
    fill_line_length: float = measure(
        "length of that line", "length", "m", typical=0.9, plausible=(0.05, 8), where=TAPE, settled="choice"
    )
    fill_line_to_pump: bool = flag(
        "whether that line ends at the pump's inlet and carries nothing else", typical=True, where=LOOK
    )
    pressure_max: float = pressure_rating("expansion tank")


class CoolantVent(Part):
    """A vent line to the expansion tank."""

    orifice: float = measure("narrowest bore in the line", "length", "mm", typical=3, plausible=(1, 15), where=CALLIPER)
    rises: bool = flag("whether the line rises all the way to the tank", typical=True, where=LOOK)
    own_entry: bool = flag(
        "whether it enters the tank above the coolant through an entry of its own", typical=True, where=LOOK
    )


class ElectricPump(Part):
    """An electric coolant pump that works in the place of the engine's own."""

    load: str = consumer("the electric coolant pump", "coolant_pump")
    flow: float = measure(
        "coolant that it moves through engine and radiator, thermostat open, whatever the engine's speed",
        "volume_flow",
        "L/min",
        typical=110,
        plausible=(10, 600),
        where=COMPONENT_SHEET,
    )
    pressure: float = measure(
        "pressure that it has left for hoses and radiator at that flow, behind what the engine itself takes",
        "pressure_difference",
        "kPa",
        typical=30,
        plausible=(1, 150),
        where=COMPONENT_SHEET,
        limit=True,
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
        where=DECISION,
        series=COOLANT_BORES_MM,
    )
    length: float = measure("length", "length", "m", typical=0.8, plausible=(0.05, 12), where=TAPE)
    fittings_k: float = number(
        "sum of the loss coefficients K of its bends, entry and exit; a smooth bend is 0.2 to 0.3",
        typical=2,
        plausible=(0, 30),
        where=TYPICAL,
        zero=True,
    )
    holds_shape: bool = flag(
        "whether it is moulded with reinforcement, or has a spring inside, so that suction cannot flatten it",
        typical=True,
        where=LOOK,
    )


class HeaterCore(CabHeater):
    """The cab heater and its core."""

    pressure_max: float = pressure_rating("heater core")


class CircuitBranch(Section):
    """One run of coolant from a port or part to another.

    Ports of the engine go by their names there; the radiator is called radiator.
    """

    start: str = text(
        "where the coolant comes from: a port of the engine by its name, or a part; the radiator is called radiator",
        typical="radiator_out",
        where=DRAWING,
    )
    end: str = text("where it goes", typical="radiator", where=DRAWING)
    can_shut: bool = flag("whether a valve can shut it, as that of a cab heater", typical=False, where=LOOK)
