"""Fields of the power system: batteries, cables, grounds, loads, and what the engine package asks of them.

Cables and grounds join nodes, each under a word of the builder's choice. Six words have a meaning: `battery-positive`,
`battery-negative`, `auxiliary-positive` (that of batteries that do not start the engine), `engine` (its block), `frame`
and `cab`; so have `starter`, `alternator`, `alternator-excitation`, `ignition`, `stop-solenoid` and `isolator` where
cables or grounds end at them.
"""

from swaplint.spec.systems.power.batteries import Battery
from swaplint.spec.systems.power.conductors import CONDUCTOR_SIZES_MM2, Cable, Ground
from swaplint.spec.systems.power.consumers import Isolator, Load, SplitCharging, VoltageConverter
from swaplint.spec.systems.power.engine import (
    CRANKING_STANDARDS,
    Alternator,
    EngineEcm,
    EngineStarting,
    FurtherAlternator,
    IntakeHeater,
    OutputPoint,
    Starter,
)

__all__ = [
    "CONDUCTOR_SIZES_MM2",
    "CRANKING_STANDARDS",
    "Alternator",
    "Battery",
    "Cable",
    "EngineEcm",
    "EngineStarting",
    "FurtherAlternator",
    "Ground",
    "IntakeHeater",
    "Isolator",
    "Load",
    "OutputPoint",
    "SplitCharging",
    "Starter",
    "VoltageConverter",
]
