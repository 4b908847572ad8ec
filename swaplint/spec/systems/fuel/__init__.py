"""Fields of the fuel system: tank, pick-up, lines, pumps, filters, vent, and what the engine asks of them."""

from swaplint.spec.systems.fuel.engine import INJECTIONS, EngineFuel
from swaplint.spec.systems.fuel.system import FuelSystem, OriginalVehicle

__all__ = ["INJECTIONS", "EngineFuel", "FuelSystem", "OriginalVehicle"]
