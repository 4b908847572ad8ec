"""Fields of the fit system: room for engine, gearbox and what moves, tilt, travel of shafts, and water.

Places on the vehicle are measured on level ground: x behind the front axle (ahead of it is negative), y to the left
of the centre line (to the right is negative), z above the ground. Places on the engine unit are measured from the
middle of the crank at the rear face of the block, as in `mounts`.
"""

from swaplint.spec.systems.fit.driveline import DrivelinePlace
from swaplint.spec.systems.fit.moving import FanPlace, ShaftSlip
from swaplint.spec.systems.fit.place import (
    CLEARANCES,
    Bay,
    Clearance,
    EngineEnvelope,
    EnginePlace,
    EngineTilt,
    GroundClearance,
    Reach,
    ServiceItem,
)
from swaplint.spec.systems.fit.wading import Breather, Wading, WetPart

__all__ = [
    "CLEARANCES",
    "Bay",
    "Breather",
    "Clearance",
    "DrivelinePlace",
    "EngineEnvelope",
    "EnginePlace",
    "EngineTilt",
    "FanPlace",
    "GroundClearance",
    "Reach",
    "ServiceItem",
    "ShaftSlip",
    "Wading",
    "WetPart",
]
