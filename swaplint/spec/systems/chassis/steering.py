"""Steering gear and the pump that assists it."""

from swaplint.spec.fields import (
    COMPONENT_SHEET,
    LOOK,
    MANUAL,
    MARKING,
    TAPE,
    TYPICAL,
    Part,
    Section,
    measure,
    number,
    part,
    word,
)
from swaplint.spec.systems.chassis.accessories import GearedOrBelted, consumer
from swaplint.spec.systems.supply.fluids import ServiceFluid


class SteeringGear(Part):
    """The steering gear or ram."""

    cylinder_volume: float = measure(
        "oil that its cylinder takes from lock to lock",
        "volume",
        "cc",
        typical=160,
        plausible=(30, 3000),
        where=MANUAL,
    )
    turns: float = number("turns of the hand wheel from lock to lock", typical=3.5, plausible=(1.5, 8), where=LOOK)
    flow_required: float = measure(
        "oil flow that it needs for a brisk turn",
        "volume_flow",
        "L/min",
        typical=6,
        plausible=(2, 40),
        where=MANUAL,
    )
    flow_max: float = measure(
        "highest oil flow that it stands",
        "volume_flow",
        "L/min",
        typical=10,
        plausible=(4, 60),
        where=MANUAL,
        limit=True,
    )
    pressure_required: float = measure(
        "oil pressure that it needs for its full assistance",
        "gauge_pressure",
        "MPa",
        typical=8,
        plausible=(2, 25),
        where=MANUAL,
    )
    pressure_max: float = measure(
        "highest oil pressure that it stands",
        "gauge_pressure",
        "MPa",
        typical=10,
        plausible=(3, 25),
        where=MANUAL,
        limit=True,
    )


class SteeringPump(GearedOrBelted):
    """The hydraulic pump of the steering."""

    displacement: float = measure(
        "oil that it displaces in one turn",
        "displacement_per_turn",
        "cm3/rev",
        typical=10,
        plausible=(2, 60),
        where=COMPONENT_SHEET,
    )
    ratio: float = number("turns of the pump for one turn of the engine", typical=1.1, plausible=(0.4, 3), where=TAPE)
    volumetric_efficiency: float = measure(
        "share of its displacement that it delivers with hot oil at idle",
        "share",
        "%",
        typical=85,
        plausible=(50, 99),
        where=TYPICAL,
    )
    flow_limit: float = measure(
        "flow that its control valve limits it to; the pump's flow at rated speed where it has none",
        "volume_flow",
        "L/min",
        typical=8,
        plausible=(3, 60),
        where=COMPONENT_SHEET,
        settled="setting",
    )
    relief_pressure: float = measure(
        "pressure at which its relief valve opens",
        "gauge_pressure",
        "MPa",
        typical=9,
        plausible=(3, 25),
        where=COMPONENT_SHEET,
        settled="setting",
    )


class Steering(Section):
    """The steering, as far as the swap touches it."""

    assist: str = word("what helps the driver's arms", "hydraulic", "electric", "none", typical="hydraulic", where=LOOK)
    assist_before: str = word(
        "what helped the driver's arms before the swap",
        "hydraulic",
        "electric",
        "none",
        typical="hydraulic",
        where=LOOK,
    )
    load: str = consumer("electric assistance", "steering")
    gear: SteeringGear = part("the steering gear or ram")
    pump: SteeringPump = part("the hydraulic pump")
    fluid: ServiceFluid = part("the fluid of hydraulic assistance")
    hose_rating: float = measure(
        "working pressure that the pressure hose is marked for",
        "gauge_pressure",
        "MPa",
        typical=12,
        plausible=(3, 40),
        where=MARKING,
    )
    effort_before: float = measure(
        "effort at the rim without assistance before the swap, driving slowly into a turn, measured",
        "force",
        "N",
        typical=200,
        plausible=(40, 1000),
        where="a steering test by a qualified person",
    )
    effort: float = measure(
        "the same effort after the swap, measured",
        "force",
        "N",
        typical=220,
        plausible=(40, 1000),
        where="a steering test by a qualified person",
    )
