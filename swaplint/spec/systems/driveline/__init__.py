"""Fields of the driveline system: every joint of the chain from crank to wheels, and what each part of it bears.

`Gearbox`, `Transfer`, `Converter`, `Axle` and `Drivetrain` stand in `gearing`, which gives them their ratios; what the
chain's joints and strength need of them is declared here and inherited there.
"""

from swaplint.spec.systems.driveline.axles import AxleJoints, DrivetrainStrength, TransferJoints
from swaplint.spec.systems.driveline.clutch import (
    ADAPTER_THICKNESSES_MM,
    Adapter,
    AdapterPiece,
    Alignment,
    Clutch,
    Pilot,
)
from swaplint.spec.systems.driveline.engine_end import Crank, Flywheel, FlywheelHousing, TorqueOption, Torsional
from swaplint.spec.systems.driveline.gearbox import ConverterJoints, GearboxJoints
from swaplint.spec.systems.driveline.shafts import PropShaft

__all__ = [
    "ADAPTER_THICKNESSES_MM",
    "Adapter",
    "AdapterPiece",
    "Alignment",
    "AxleJoints",
    "Clutch",
    "ConverterJoints",
    "Crank",
    "DrivetrainStrength",
    "Flywheel",
    "FlywheelHousing",
    "GearboxJoints",
    "Pilot",
    "PropShaft",
    "TorqueOption",
    "Torsional",
    "TransferJoints",
]
