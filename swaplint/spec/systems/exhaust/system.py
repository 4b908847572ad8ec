"""The exhaust of the vehicle as a whole."""

from swaplint.spec.fields import DECISION, LOOK, TAPE, Section, measure, part, parts, word
from swaplint.spec.systems.exhaust.aftertreatment import PressureLine, Recirculation, RegenerationControls, SensorPlace
from swaplint.spec.systems.exhaust.pipework import MATERIALS, ExhaustDevice, ExhaustPipe, FlexSection, TurboSupport
from swaplint.spec.systems.exhaust.surroundings import ExhaustOutlet, HeatGap


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
