"""The build spec as a typed model: which section each system's fields stand in.

The fields themselves are declared per system in `swaplint.spec.systems`.
"""

from swaplint.spec.deviations import Deviation
from swaplint.spec.fields import (
    AUTHORITY,
    DATA_SHEET,
    DECISION,
    LOOK,
    METER,
    PLATE,
    TAPE,
    TYPICAL,
    Part,
    Section,
    count,
    flag,
    items,
    measure,
    part,
    parts,
    text,
    word,
    words,
)
from swaplint.spec.job import Job
from swaplint.spec.systems.brackets import CrossMember
from swaplint.spec.systems.chassis import (
    AirConditioning,
    Belt,
    Brakes,
    CrankNose,
    EngineOverrun,
    EngineVacuum,
    Steering,
    VacuumConsumer,
    VacuumSystem,
)
from swaplint.spec.systems.commissioning import EngineOil, Measured
from swaplint.spec.systems.compliance import ENERGIES, EngineCertificate, VehicleEmissions, VehicleNoise
from swaplint.spec.systems.controls import (
    WARNINGS,
    BodyModule,
    Controller,
    DiagnosticConnector,
    EcmPlace,
    EngineDiagnostics,
    EngineImmobiliser,
    EngineOutputs,
    EngineStop,
    EngineThrottle,
    FanControl,
    FittedPedal,
    HarnessExtension,
    HarnessLead,
    HarnessRoute,
    KeySwitch,
    Opening,
    PedalSensor,
    SignalSource,
    StartCircuit,
    StopControl,
    Tachometer,
    ThrottleCable,
    TransmissionMessages,
    WarningLamp,
)
from swaplint.spec.systems.cooling import (
    CoolingSystem,
    EngineChargeAir,
    EngineCoolant,
    EngineFan,
    EngineHeat,
    EngineThermostat,
)
from swaplint.spec.systems.driveline import (
    Adapter,
    AdapterPiece,
    Alignment,
    Clutch,
    Crank,
    Flywheel,
    FlywheelHousing,
    Pilot,
    PropShaft,
    TorqueOption,
    Torsional,
)
from swaplint.spec.systems.exhaust import (
    EngineAftertreatment,
    EngineExhaust,
    EngineReductant,
    EngineRegeneration,
    ExhaustSystem,
    ReductantSystem,
)
from swaplint.spec.systems.fit import (
    Bay,
    Clearance,
    DrivelinePlace,
    EngineEnvelope,
    EnginePlace,
    EngineTilt,
    GroundClearance,
    ServiceItem,
    Wading,
)
from swaplint.spec.systems.fuel import EngineFuel, FuelSystem
from swaplint.spec.systems.gearing import (
    Aero,
    Axle,
    Converter,
    Drivetrain,
    EngineDerate,
    EngineSpeed,
    EngineTorque,
    Gearbox,
    Rolling,
    SpeedLimiter,
    Speedometer,
    TorquePoint,
    Transfer,
    TyreMake,
    Tyres,
)
from swaplint.spec.systems.hoses import ServiceHose
from swaplint.spec.systems.intake import ChargeAirPipes, EngineAir, EngineBreather, IntakeSystem
from swaplint.spec.systems.mass import (
    EngineCalibration,
    EngineMass,
    LedgerItem,
    LoadCase,
    Suspension,
    Towbar,
    VehicleBefore,
    VehicleMass,
)
from swaplint.spec.systems.mounts import Bridge, EngineCentre, EngineMounting, EngineRearFace, EngineUnit, Mount
from swaplint.spec.systems.network import BusNetwork, BusNode
from swaplint.spec.systems.power import (
    Alternator,
    Battery,
    Cable,
    EngineEcm,
    EngineStarting,
    FurtherAlternator,
    Ground,
    IntakeHeater,
    Isolator,
    Load,
    SplitCharging,
    Starter,
    VoltageConverter,
)
from swaplint.spec.systems.supply import (
    Joint,
    OptionalPart,
    OptionalPartUse,
    Prescribed,
    Quote,
    SupplyLine,
    covered,
)

FORMAT = 1
"""The spec format that this version reads: `[build] format = 1`."""


class Vehicle(Section):
    """The vehicle that receives the engine."""

    name: str = text("what the vehicle is called", typical="Example tender", where=PLATE)
    first_registered: float = count("year of first registration", typical=1995, plausible=(1920, 2030), where=PLATE)
    weight_class: str = word(
        "light or heavy, as the rules of the place divide vehicles",
        "light",
        "heavy",
        typical="light",
        where=PLATE,
    )
    identification: str = text("its identification number, as it is stamped in", typical="invented 000417", where=PLATE)
    category: str = word(
        "category on its papers: M for people, N for goods; N1 up to 3.5 t, N2 up to 12 t",
        "M1",
        "M2",
        "M3",
        "N1",
        "N2",
        "N3",
        typical="N1",
        where=PLATE,
    )
    wheelbase: float = measure(
        "distance from the front to the rear axle; each axle's own x counts where two or more stand in front or behind",
        "length",
        "mm",
        typical=2900,
        plausible=(1500, 7000),
        where=TAPE,
    )
    track_front: float = measure(
        "distance between the middles of the front tyres",
        "length",
        "mm",
        typical=1500,
        plausible=(900, 2300),
        where=TAPE,
    )
    track_rear: float = measure(
        "distance between the middles of the rear tyres, or of the pairs where they are twins",
        "length",
        "mm",
        typical=1500,
        plausible=(900, 2300),
        where=TAPE,
    )
    mass: VehicleMass = part("ratings and masses")
    ledger: dict[str, LedgerItem] = parts(
        "the mass ledger: all that the swap puts in, takes out or leaves", needed=True
    )
    load_cases: dict[str, LoadCase] = parts("the ways in which the vehicle is loaded and used", needed=True)
    towbar: Towbar = part("the towbar")
    suspension: Suspension = part("the suspension")
    aero: Aero = part("resistance of the air")
    rolling_resistance: Rolling = part("resistance of the tyres on the ground")
    original: VehicleBefore = part("the vehicle as it left the factory, and as it was before the swap")
    emissions: VehicleEmissions = part("what it was certified to, and what of that is kept")
    noise: VehicleNoise = part("how loud it is")
    other_energies: list[str] = words(
        "what the finished vehicle is driven by besides petrol and diesel, such as gas fitted to a petrol engine; an "
        "empty list for nothing",
        *ENERGIES,
        typical="lpg",
        where=DECISION,
    )
    brakes: Brakes = part("the service brakes")
    steering: Steering = part("the steering")
    vacuum_consumers: dict[str, VacuumConsumer] = parts(
        "what vacuum works besides the brakes, each under its name; empty where nothing is",
        may_be_empty="many vehicles work nothing but the brakes by vacuum",
    )
    engine_unit: EngineUnit = part("the engine with all that is bolted to it")
    mounts: dict[str, Mount] = parts("the mounts of engine and gearbox, each under its name", needed=True)
    cross_members: dict[str, CrossMember] = parts("made cross-members that mounts sit on, each under its name")
    bridges: dict[str, Bridge] = parts("every hose, lead, cable and pipe from the engine unit to frame or body")
    engine_place: EnginePlace = part("where the engine stands in the vehicle")
    bay: Bay = part("the space for the engine")
    clearances: dict[str, Clearance] = parts("gaps between the engine unit and what stands near it, each under a name")
    ground_clearance: GroundClearance = part("room under the vehicle")
    driveline_place: DrivelinePlace = part("where gearbox, transfer case and levers end up behind the engine")
    wading: Wading = part("what water must not reach when the vehicle wades")
    optional_parts: dict[str, OptionalPartUse] = parts(
        "what is done with each of the engine package's optional parts, under the part's own name"
    )
    modules: dict[str, BodyModule] = parts(
        "control units that stay in the vehicle, each under its name",
        may_be_empty="an old vehicle has none",
    )
    warnings_required: list[str] = words(
        "warnings that the vehicle must give by law or by its maker", *WARNINGS, typical="brake", where=AUTHORITY
    )


class Engine(Part):
    """The engine package."""

    number: str = text("its number, as it is stamped in", typical="invented 88-2041", where=PLATE)
    fuel_type: str = word("what it burns", "diesel", "petrol", typical="diesel", where=DATA_SHEET)
    contains: list[str] = covered(
        "what the package contains, out of the list of functions; what is not named is not in it",
        typical="starter",
        where=DATA_SHEET,
    )
    cylinders: float = count("number of cylinders", typical=4, plausible=(1, 16), where=DATA_SHEET)
    displacement: float = measure(
        "swept volume of all cylinders", "volume", "L", typical=2.8, plausible=(0.2, 20), where=DATA_SHEET
    )
    charged: bool = flag("whether a turbocharger or compressor charges it", typical=True, where=DATA_SHEET)
    strokes: float = count("strokes per working cycle", typical=4, plausible=(2, 4), where=DATA_SHEET)
    rating_standard: str = text(
        "standard that the torque curve is rated to, and net or gross",
        typical="ISO 1585, net",
        where=DATA_SHEET,
    )
    torque_curve: list[TorquePoint] = items("full-load torque curve, lowest speed first", needed=True)
    speed: EngineSpeed = part("the speeds that the engine is built and governed for")
    torque: EngineTorque = part("marks on the torque curve")
    derate: EngineDerate = part("power lost in thin air")
    flywheel_housing: FlywheelHousing = part("the flywheel housing, or the rear face of the block")
    crank: Crank = part("the rear end of the crankshaft")
    flywheel: Flywheel = part("the flywheel or flex-plate")
    torsional: Torsional = part("what it asks of the damping behind it")
    torque_options: list[TorqueOption] = items("calibrations with reduced torque that it can be had with")
    mass: EngineMass = part("what the engine package weighs")
    centre_of_gravity: EngineCentre = part("where it has its centre of gravity")
    rear_face: EngineRearFace = part("what the rear face of its block may be loaded with")
    mounting: EngineMounting = part("what it asks of mounts and brackets")
    envelope: EngineEnvelope = part("the box around it")
    tilt: EngineTilt = part("how far it may lean")
    service: dict[str, ServiceItem] = parts(
        "what must be reached or taken out now and then, each under its name", needed=True
    )
    certificate: EngineCertificate = part("its emission certificate")
    calibration: EngineCalibration = part("the vehicle that its calibration was made and certified for")
    fuel: EngineFuel = part("what the engine asks of the fuel system")
    heat: EngineHeat = part("what the engine gives off at its operating points")
    coolant: EngineCoolant = part("what it asks of its coolant and circuit")
    thermostat: EngineThermostat = part("its thermostat")
    charge_air: EngineChargeAir = part("what it gives to the charge-air cooler and asks of it")
    fan: EngineFan = part("what it allows as a fan")
    air: EngineAir = part("what it breathes and asks of its intake")
    breather: EngineBreather = part("its crankcase breather")
    oil: EngineOil = part("its oil: the pressure that its maker asks for, and what is poured in")
    exhaust: EngineExhaust = part("what leaves it, and what its outlet bears")
    aftertreatment: EngineAftertreatment = part("its certified aftertreatment")
    regeneration: EngineRegeneration = part("how it burns its particulate filter clean")
    reductant: EngineReductant = part("what it asks of its reductant system")
    starter: Starter = part("the starter motor")
    starting: EngineStarting = part("what it asks of the battery for a cold start")
    alternator: Alternator = part("the alternator")
    ecm: EngineEcm = part("the engine's control unit")
    intake_heater: IntakeHeater = part("the intake air heater or glow plugs")
    glow_plugs: IntakeHeater = part("the glow plugs of an engine that has an intake air heater too")
    vacuum: EngineVacuum = part("what vacuum it has to give")
    crank_nose: CrankNose = part("what may be hung on the front end of the crankshaft")
    overrun: EngineOverrun = part("what it does when the vehicle drives it")
    harness: dict[str, HarnessLead] = parts("the leads of its harness, each under its name", needed=True)
    pedal: PedalSensor = part("the accelerator pedal that it expects")
    throttle: EngineThrottle = part("the lever that a throttle cable works")
    stop: EngineStop = part("what stops it")
    outputs: EngineOutputs = part("what it gives to the vehicle by wire")
    warnings_required: list[str] = words(
        "warnings that its maker wants in the driver's view", *WARNINGS, typical="oil-pressure", where=DATA_SHEET
    )
    inputs_required: list[str] = words(
        "signals that it must get from the vehicle", typical="brake-switch", where=DATA_SHEET
    )
    immobiliser: EngineImmobiliser = part("its immobiliser")
    diagnostics: EngineDiagnostics = part("how it is diagnosed")
    transmission_messages: TransmissionMessages = part("what it exchanges with a gearbox controller")
    network: BusNode = part("what it is and does on the data bus")
    optional_parts: dict[str, OptionalPart] = parts(
        "parts of the package that a build may leave unused, each under its name; empty where there are none",
        may_be_empty="every part of a package may be one that each build uses",
    )
    prescribed: Prescribed = part("sizes that its maker asks for")


class Driveline(Section):
    """From the flywheel to the ground."""

    adapter: Adapter = part("the adapter between flywheel housing and gearbox")
    adapter_pieces: dict[str, AdapterPiece] = parts(
        "further pieces between engine and gearbox: rings, crank spacers, spacers ahead of a converter"
    )
    alignment: Alignment = part("what the dial indicator shows at the gearbox's seat")
    pilot: Pilot = part("the pilot bush or bearing")
    clutch: Clutch = part("the clutch")
    gearbox: Gearbox = part("the main gearbox")
    transfer: Transfer = part("the transfer case")
    converter: Converter = part("the torque converter")
    shafts: dict[str, PropShaft] = parts(
        "the propshafts, each piece under a name: front, rear, centre",
        may_be_empty="an axle in the gearbox's housing, or behind a chain, needs none; driveline.housing-match says "
        "where one is missing",
    )
    axles: dict[str, Axle] = parts("the axles, each under its name: front, rear", needed=True)
    tyres: Tyres = part("the tyres")
    front_tyres: TyreMake = part(
        "the front tyres, where they are other than those behind; not fitted where all are alike"
    )
    drivetrain: Drivetrain = part("what the whole chain loses and grips")
    speed_limiter: SpeedLimiter = part("a road speed limiter")
    speedometer: Speedometer = part("the speedometer")


class Electrics(Section):
    """Batteries, cables, loads and the data bus."""

    nominal_voltage: float = measure(
        "nominal voltage of the vehicle",
        "voltage",
        "V",
        typical=12,
        plausible=(6, 48),
        where=LOOK,
        series=(12, 24),
    )
    starting_class: str = word(
        "class of the starting circuit: light and medium duty, or heavy duty",
        "light-medium",
        "heavy",
        typical="light-medium",
        where=DECISION,
    )
    batteries: dict[str, Battery] = parts("the batteries, each under its name", needed=True)
    cables: dict[str, Cable] = parts("the cables on the positive side, each under its name", needed=True)
    grounds: dict[str, Ground] = parts("the conductors on the return side, each under its name", needed=True)
    frame_resistance: float = measure(
        "resistance of the frame between the ground points that current returns through",
        "resistance",
        "mohm",
        typical=0.3,
        plausible=(0.02, 3),
        where=METER,
    )
    frame_drop: float = measure(
        "voltage between those ground points while a known current, `frame_current`, returns through the frame",
        "voltage",
        "V",
        typical=0.02,
        plausible=(0.0005, 3),
        where=METER,
    )
    frame_current: float = measure(
        "that current: headlamps give 8 to 10 A, the starter more",
        "current",
        "A",
        typical=60,
        plausible=(2, 1500),
        where=METER,
    )
    cab_insulated: bool = flag(
        "whether the cab stands on rubber, with no metal joining it to the frame; false for a unitary body",
        typical=True,
        where=LOOK,
    )
    loads: dict[str, Load] = parts("the electrical consumers, each under its name", needed=True)
    battery_recovery: float = measure(
        "charging current that the battery needs to recover from starts, on average",
        "current",
        "A",
        typical=5,
        plausible=(1, 30),
        where=TYPICAL,
    )
    parasitic_current: float = measure(
        "current that the vehicle takes with the key off", "current", "mA", typical=30, plausible=(1, 500), where=METER
    )
    converters: dict[str, VoltageConverter] = parts("converters for consumers of another voltage, each under its name")
    alternators: dict[str, FurtherAlternator] = parts(
        "alternators besides the engine package's, each under its name, which is also the node that its cable starts at"
    )
    split_charging: SplitCharging = part("what charges the auxiliary batteries")
    isolator: Isolator = part("the main switch that cuts the vehicle off its batteries")
    key_switch: KeySwitch = part("the key or start switch")
    start: StartCircuit = part("what lets the starter turn")
    ecm: EcmPlace = part("where the engine's control unit is mounted, and its grounds")
    routes: dict[str, HarnessRoute] = parts("stretches that a harness can take, each under its name", needed=True)
    openings: dict[str, Opening] = parts(
        "holes that a harness passes through, each under its name",
        may_be_empty="a harness may pass through no panel",
    )
    extensions: dict[str, HarnessExtension] = parts("extensions of harness leads, each under its name")
    controllers: dict[str, Controller] = parts("control units that the build adds, each under its name")
    pedal: FittedPedal = part("the accelerator pedal")
    throttle: ThrottleCable = part("the throttle cable")
    stop: StopControl = part("how the driver stops the engine by hand")
    tach: Tachometer = part("the engine speed gauge")
    lamps: dict[str, WarningLamp] = parts("the warning lamps, each under its name")
    diagnostic: DiagnosticConnector = part("the diagnostic connector")
    signals: dict[str, SignalSource] = parts("switches, senders and emulators that give signals, each under its name")
    fan_control: FanControl = part("what runs an electric fan or a fan clutch")
    network: BusNetwork = part("the data bus")


class Plumbing(Section):
    """Fuel, coolant, air, exhaust and vacuum."""

    fuel: FuelSystem = part("from the filler to the engine's fuel inlet, and back")
    cooling: CoolingSystem = part("radiator, its air, and the coolant circuit outside the engine")
    vacuum: VacuumSystem = part("from the source of the vacuum to the brake booster")
    belts: dict[str, Belt] = parts("the belts that the crankshaft drives, each under its name")
    air_conditioning: AirConditioning = part("the air conditioning")
    intake: IntakeSystem = part("from the opening in the body to the turbocharger or throttle")
    charge_air: ChargeAirPipes = part("from the turbocharger through the charge-air cooler to the manifold")
    exhaust: ExhaustSystem = part("from the turbocharger's outlet to the open")
    reductant: ReductantSystem = part("tank and lines of the reductant")
    hoses: dict[str, ServiceHose] = parts(
        "hoses of heater, brake vacuum, steering and air conditioning, each by name", grows=True
    )


class Build(Section):
    """A whole build spec."""

    build: Job = part("the job and the conditions that it is designed for")
    vehicle: Vehicle = part("the vehicle that receives the engine")
    engine: Engine = part("the engine package")
    driveline: Driveline = part("from the flywheel to the ground")
    electrics: Electrics = part("batteries, cables, loads and the data bus")
    plumbing: Plumbing = part("fuel, coolant, air, exhaust and vacuum")
    supply: list[SupplyLine] = items("who supplies what: the scope of supply, line by line", needed=True)
    joints: dict[str, Joint] = parts(
        "where two pieces meet that were not made for each other, each joint under its name",
        may_be_empty="a kit may fit the vehicle as it is",
    )
    quote: Quote = part("the quote that the scope of supply is bought by; not fitted where nothing is quoted")
    measured: Measured = part("what was measured on the finished vehicle, trial by trial")
    deviations: list[Deviation] = items(
        "departures from rules that somebody signed for; no rule reads them", may_be_empty="nothing was departed from"
    )
