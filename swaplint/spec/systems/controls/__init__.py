"""Fields of the control system: key switch, feeds and place of the control unit, its harness, pedal, lamps, signals.

The wiring is that of the power system: cables join nodes. Some nodes have a meaning here. `key` is the supply of the
key switch, `key-run` its terminal `run`; `ecm-main` is where the feed `main` of the engine's data sheet enters the
control unit, and `gearbox-main` or `display-main` the same of another one; `solenoid` is that of the starter,
`stop-solenoid` and `ignition` what stops the engine; `diagnostic` the diagnostic connector. Outputs of the control unit
close relays: `ecm-relay` while the key is in run or crank, `ecm-start` while the engine is cranked, `ecm-fan` for the
fan, `ecm-heater` for heaters of the intake air.
"""

from swaplint.spec.systems.controls.driver import (
    EngineStop,
    EngineThrottle,
    FittedPedal,
    PedalSensor,
    StopControl,
    ThrottleCable,
)
from swaplint.spec.systems.controls.harness import ConnectorSize, HarnessExtension, HarnessLead, HarnessRoute, Opening
from swaplint.spec.systems.controls.outputs import (
    DIAGNOSTIC_CONNECTORS,
    DIAGNOSTIC_PROTOCOLS,
    WARNINGS,
    DiagnosticConnector,
    EngineDiagnostics,
    EngineOutputs,
    FanOutput,
    Tachometer,
    TachOutput,
    WarningLamp,
)
from swaplint.spec.systems.controls.signals import (
    BodyModule,
    EngineImmobiliser,
    FanControl,
    GearboxController,
    SignalSource,
    TransmissionMessages,
)
from swaplint.spec.systems.controls.units import (
    KEY_POSITIONS,
    Controller,
    ControlUnit,
    EcmFeed,
    EcmPlace,
    FittedController,
    KeySwitch,
    KeyTerminal,
    StartCircuit,
)

__all__ = [
    "DIAGNOSTIC_CONNECTORS",
    "DIAGNOSTIC_PROTOCOLS",
    "KEY_POSITIONS",
    "WARNINGS",
    "BodyModule",
    "ConnectorSize",
    "ControlUnit",
    "Controller",
    "DiagnosticConnector",
    "EcmFeed",
    "EcmPlace",
    "EngineDiagnostics",
    "EngineImmobiliser",
    "EngineOutputs",
    "EngineStop",
    "EngineThrottle",
    "FanControl",
    "FanOutput",
    "FittedController",
    "FittedPedal",
    "GearboxController",
    "HarnessExtension",
    "HarnessLead",
    "HarnessRoute",
    "KeySwitch",
    "KeyTerminal",
    "Opening",
    "PedalSensor",
    "SignalSource",
    "StartCircuit",
    "StopControl",
    "TachOutput",
    "Tachometer",
    "ThrottleCable",
    "TransmissionMessages",
    "WarningLamp",
]
