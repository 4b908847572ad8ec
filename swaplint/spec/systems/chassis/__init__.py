"""Fields of the chassis system: vacuum, brakes, steering, belts, cab heater and air conditioning."""

from swaplint.spec.systems.chassis.accessories import DrivenAccessory, GearedOrBelted, consumer
from swaplint.spec.systems.chassis.belts import Belt, BeltPulley, CrankNose
from swaplint.spec.systems.chassis.brakes import ApprovedVehicle, Brakes, EngineOverrun
from swaplint.spec.systems.chassis.cab import AirConditioning, CabHeater
from swaplint.spec.systems.chassis.parking import ParkingBrake
from swaplint.spec.systems.chassis.steering import Steering
from swaplint.spec.systems.chassis.vacuum import EngineVacuum, VacuumConsumer, VacuumSystem

__all__ = [
    "AirConditioning",
    "ApprovedVehicle",
    "Belt",
    "BeltPulley",
    "Brakes",
    "CabHeater",
    "CrankNose",
    "DrivenAccessory",
    "EngineOverrun",
    "EngineVacuum",
    "GearedOrBelted",
    "ParkingBrake",
    "Steering",
    "VacuumConsumer",
    "VacuumSystem",
    "consumer",
]
