"""Fields of the cooling system: what the engine gives off and asks for, radiator, air, charge-air cooler, circuit.

The engine works at three operating points: at rated speed, at peak torque, and in standing work. What it gives off
there stands under `engine.heat`, the air that the vehicle moves through the radiator under `plumbing.cooling.air`.
"""

from swaplint.spec.systems.cooling.air import AirResistance, DrivingAirFlow
from swaplint.spec.systems.cooling.circuit import CircuitBranch, CoolantHose
from swaplint.spec.systems.cooling.engine import (
    CoolantPort,
    EngineChargeAir,
    EngineCoolant,
    EngineFan,
    EngineHeat,
    EngineThermostat,
    HeatPoint,
)
from swaplint.spec.systems.cooling.radiator import Cooler, RadiatorTest
from swaplint.spec.systems.cooling.system import CoolingSystem

__all__ = [
    "AirResistance",
    "CircuitBranch",
    "CoolantHose",
    "CoolantPort",
    "Cooler",
    "CoolingSystem",
    "DrivingAirFlow",
    "EngineChargeAir",
    "EngineCoolant",
    "EngineFan",
    "EngineHeat",
    "EngineThermostat",
    "HeatPoint",
    "RadiatorTest",
]
