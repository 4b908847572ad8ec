"""Fields of the exhaust: what the engine gives off and asks for, pipes, devices, outlet, heat, reductant."""

from swaplint.spec.systems.exhaust.aftertreatment import PressureLine, ReductantSystem, SensorPlace
from swaplint.spec.systems.exhaust.engine import (
    CertifiedDevice,
    CertifiedSensor,
    EngineAftertreatment,
    EngineExhaust,
    EngineReductant,
    EngineRegeneration,
)
from swaplint.spec.systems.exhaust.pipework import TUBE_OUTSIDES_MM, ExhaustDevice, ExhaustPipe
from swaplint.spec.systems.exhaust.surroundings import HeatGap
from swaplint.spec.systems.exhaust.system import ExhaustSystem

__all__ = [
    "TUBE_OUTSIDES_MM",
    "CertifiedDevice",
    "CertifiedSensor",
    "EngineAftertreatment",
    "EngineExhaust",
    "EngineReductant",
    "EngineRegeneration",
    "ExhaustDevice",
    "ExhaustPipe",
    "ExhaustSystem",
    "HeatGap",
    "PressureLine",
    "ReductantSystem",
    "SensorPlace",
]
