"""Radiator, its air, and the coolant circuit together."""

from swaplint.spec.fields import MARKING, Section, items, measure, part, parts
from swaplint.spec.systems.cooling.air import AirResistance, CoolingAir, CoolingFan, SecondFan
from swaplint.spec.systems.cooling.circuit import (
    CircuitBranch,
    CoolantHose,
    CoolantVent,
    ElectricPump,
    ExpansionTank,
    HeaterCore,
    Mixture,
)
from swaplint.spec.systems.cooling.oil import GearboxOil
from swaplint.spec.systems.cooling.radiator import ChargeCooler, Cooler, Radiator

CAP_PRESSURES_KPA = (50, 70, 90, 100, 110, 120, 130, 140)
"""Opening pressures that caps are sold with (common practice)."""


class CoolingSystem(Section):
    """Radiator, its air, and the coolant circuit outside the engine."""

    coolant: Mixture = part("the coolant itself")
    cap_pressure: float = measure(
        "opening pressure of the cap",
        "gauge_pressure",
        "kPa",
        typical=100,
        plausible=(10, 200),
        where=MARKING,
        series=CAP_PRESSURES_KPA,
    )
    system_volume: float = measure(
        "coolant in the whole system when cold, as measured by filling it",
        "volume",
        "L",
        typical=18,
        plausible=(3, 150),
        where="a measuring jug at the first fill",
    )
    radiator: Radiator = part("the radiator")
    air: CoolingAir = part("the air through it")
    coolers: dict[str, Cooler] = parts(
        "other coolers, each under its name; an empty table says that there are none",
        may_be_empty="a manual gearbox and plain steering have no coolers",
    )
    gearbox_oil: GearboxOil = part("the cooler circuit of an automatic gearbox")
    charge_cooler: ChargeCooler = part("the charge-air cooler")
    fan: CoolingFan = part("the fan")
    second_fan: SecondFan = part("a second fan, unlike the first or on the other side of the core")
    electric_pump: ElectricPump = part("an electric coolant pump in the place of the engine's own")
    air_path: dict[str, AirResistance] = parts("what the air passes one after another: core, grille, condenser")
    expansion_tank: ExpansionTank = part("the expansion tank")
    vents: dict[str, CoolantVent] = parts("vent lines to the expansion tank, each under the name of its vent")
    hoses: dict[str, CoolantHose] = parts("the hoses between engine and radiator, each under its name")
    heater: HeaterCore = part("the cab heater")
    circuit: list[CircuitBranch] = items("the runs of coolant outside the engine, besides vents and fill line")
