"""What was measured on the finished vehicle, trial by trial, and the oil pressure that the engine's maker asks for.

Each trial is a section of `measured`: the values that were read, what they depend on, and who read them, when and with
what. The tolerance of a value is that of its instrument: `{ value = "0.42 V", tol = "5 %", basis = "measured" }`.
"""

from swaplint.spec.fields import RECORD, Section, day, part, parts, text
from swaplint.spec.systems.commissioning.drive import LadenTrial, LaunchTrial, NoiseTrial, ShiftTrial
from swaplint.spec.systems.commissioning.engine import (
    BeforeStart,
    BusTrial,
    ChargingTrial,
    CrankingTrial,
    EngineOil,
    OilTrial,
    RunningTrial,
)
from swaplint.spec.systems.commissioning.flows import CoolingTrial, FuelTrial, FullLoadTrial
from swaplint.spec.systems.commissioning.vehicle import BrakeTrial, RoadTrial, VacuumTrial, Weighing

__all__ = ["EngineOil", "Measured"]


class StepDone(Section):
    """A step of the checklist that is done and has no reading."""

    date: str = day("when it was done", typical="2026-05-31", where=RECORD)
    by: str = text("who did it", typical="invented fitter", where=RECORD)
    note: str = text("what was seen", typical="dry all over", where=RECORD)


class Measured(Section):
    """What was measured on the finished vehicle, trial by trial."""

    before_start: BeforeStart = part("what is done before the first crank")
    cranking: CrankingTrial = part("the starting circuit while the starter turns")
    oil: OilTrial = part("oil pressure")
    running: RunningTrial = part("the engine without load")
    charging: ChargingTrial = part("charging, and what is drawn with the key off")
    bus: BusTrial = part("the data bus and the fault memory")
    fuel: FuelTrial = part("fuel at the engine's inlet at full flow")
    full_load: FullLoadTrial = part("air and gas at full load")
    cooling: CoolingTrial = part("a hot run under load")
    weighing: Weighing = part("the finished vehicle on the weighbridge")
    vacuum: VacuumTrial = part("the vacuum that helps the brakes")
    brakes: BrakeTrial = part("the brake test")
    road: RoadTrial = part("road speed, speedometer and engine speed")
    launch: LaunchTrial = part("the marks in the gaps around the engine")
    laden: LadenTrial = part("the angles of the propshafts' joints, laden")
    shifting: ShiftTrial = part("an up-shift at full load")
    noise: NoiseTrial = part("the stationary test of noise")
    done: dict[str, StepDone] = parts(
        "steps of the checklist that have no reading and are done, each under its own name",
        may_be_empty="nothing of it is done yet",
        grows=True,
    )
