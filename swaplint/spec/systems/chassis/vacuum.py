"""The vacuum that brakes are assisted by: pump, engine, reservoir."""

from typing import Any

from swaplint.spec.fields import COMPONENT_SHEET, DATA_SHEET, LOOK, Part, Section, flag, measure, part, word
from swaplint.spec.systems.chassis.accessories import consumer
from swaplint.spec.where import Nature

RESERVOIRS_L = (2, 3, 5, 8, 10, 15, 20, 30, 40)
"""Vacuum reservoirs as sold (common practice)."""


def depression(description: str, *, typical: float, where: str, settled: Nature | None = None) -> Any:
    """A field for a pressure below that of the air around."""
    return measure(
        description, "pressure_difference", "kPa", typical=typical, plausible=(5, 95), where=where, settled=settled
    )


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
    cut_in: float = depression(
        "depression at which its switch starts it, of an electric pump",
        typical=62,
        where=COMPONENT_SHEET,
        settled="setting",
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
    depression_idle: float = depression(
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


class VacuumConsumer(Part):
    """Something besides the brakes that vacuum works: heater flaps, a hub or axle lock, a boost or exhaust valve."""

    depression: float = depression("depression that it needs to work", typical=40, where=COMPONENT_SHEET)
    after: str = word(
        "what it is worked by after the swap: the booster's source, a source of its own, current or a cable instead, "
        "or nothing",
        "brake-source",
        "own-source",
        "electric",
        "cable",
        "nothing",
        typical="brake-source",
        where=LOOK,
    )
    own_check_valve: bool = flag(
        "whether its line leaves ahead of the booster's check valve, or has a check valve of its own, so that a leak "
        "in it does not empty the booster",
        typical=True,
        where=LOOK,
    )
