"""What was measured on the finished vehicle, trial by trial, and the oil pressure that the engine's maker asks for.

Each trial is a section of `measured`: the values that were read, what they depend on, and who read them, when and with
what. The tolerance of a value is that of its instrument: `{ value = "0.42 V", tol = "5 %", basis = "measured" }`.
"""

from typing import Any

from swaplint.spec.fields import (
    DATA_SHEET,
    METER,
    RECORD,
    TRIAL,
    WEIGHBRIDGE,
    Section,
    count,
    day,
    flag,
    measure,
    part,
    parts,
    text,
    word,
    words,
)
from swaplint.spec.systems.supply.fluids import EngineOilFill


def _air(what: str = "of the air around") -> Any:
    return measure(
        f"temperature {what} then",
        "temperature",
        "degC",
        typical=18,
        plausible=(-40, 60),
        where=METER,
        signed=True,
    )


def _height() -> Any:
    return measure(
        "height above the sea of the place of the trial",
        "length",
        "m",
        typical=150,
        plausible=(0, 5500),
        where=RECORD,
        zero=True,
        settled="measured",
    )


def _speed(what: str, typical: float) -> Any:
    return measure(what, "rotation", "r/min", typical=typical, plausible=(100, 12000), where=METER)


def _done(what: str) -> Any:
    return flag(f"whether {what}", typical=True, where=TRIAL)


def _volts(what: str, typical: float, plausible: tuple[float, float]) -> Any:
    return measure(what, "voltage", "V", typical=typical, plausible=plausible, where=METER)


class Trial(Section):
    """A trial of the finished vehicle, or a reading on it."""

    date: str = day("when it was made", typical="2026-05-31", where=RECORD)
    by: str = text("who made it", typical="invented fitter", where=RECORD)
    instrument: str = text("what it was read with", typical="multimeter no. 4, checked in January", where=RECORD)
    conditions: str = text("what else the values depend on", typical="half a tank, windows shut", where=RECORD)


class BeforeStart(Trial):
    """What must be done before the engine is cranked for the first time."""

    oil_filled: bool = _done("the engine oil is filled to its mark")
    oil_primed: bool = _done("the oil system is primed, as the engine's maker says")
    coolant_bled: bool = _done("the coolant is filled and bled, the heater open")
    fuel_bled: bool = _done("the low-pressure side of the fuel system is bled: no air in a clear hose")
    gearbox_oil_filled: bool = _done("gearbox, transfer case and axles hold their oil")
    battery_held: bool = _done("the batteries are charged and held, their terminals covered")
    grounds_tight: bool = _done("every ground is tight on bare metal")
    belts_tight: bool = _done("every belt is on and tight")
    fan_free: bool = _done("the fan turns freely by hand and touches nothing")
    hoses_tight: bool = _done("every hose and clamp was gone over by hand")
    shields_fitted: bool = _done("heat shields and guards are fitted")
    intake_clean: bool = _done("the intake was looked through as far as the turbocharger: nothing lies in it")
    codes_read: bool = _done("the fault codes with the key on were read and written down before any was erased")
    stop_tried: bool = _done("the stop control and the main switch were tried with the key on")
    extinguisher_ready: bool = _done("an extinguisher stands at hand and the exhaust gas is led outside")


class CrankingTrial(Trial):
    """The starting circuit, measured while the starter turns and the engine is kept from starting."""

    current: float = measure(
        "current that the starter takes while it turns",
        "current",
        "A",
        typical=400,
        plausible=(30, 3000),
        where=METER,
    )
    feed_drop: float = _volts(
        "voltage from the battery's positive terminal to the starter's while it turns", 0.3, (0.005, 8)
    )
    return_drop: float = _volts(
        "voltage from the starter's housing to the battery's negative terminal then", 0.2, (0.005, 8)
    )
    worst_joint: str = text("which single joint of the circuit takes most", typical="starter stud", where=METER)
    worst_joint_drop: float = _volts("voltage across that joint alone then", 0.02, (0.0005, 5))
    terminal_voltage: float = _volts("voltage at the battery terminals then", 10, (3, 30))
    unit_voltage: float = _volts("voltage at the engine control unit's feed pins then", 9.5, (3, 30))
    air: float = _air()


class OilTrial(Trial):
    """Oil pressure at the first start, and hot."""

    rise_time: float = measure(
        "time from the first turning of the engine until its oil pressure shows",
        "time",
        "s",
        typical=5,
        plausible=(0.2, 120),
        where=TRIAL,
    )
    idle_pressure: float = measure(
        "oil pressure at hot idle",
        "gauge_pressure",
        "kPa",
        typical=180,
        plausible=(5, 900),
        where=TRIAL,
    )
    loaded_pressure: float = measure(
        "oil pressure, hot, at `loaded_speed`",
        "gauge_pressure",
        "kPa",
        typical=380,
        plausible=(10, 1200),
        where=TRIAL,
    )
    loaded_speed: float = _speed("engine speed of that reading: near rated speed", 2500)
    bus_pressure: float = measure(
        "oil pressure at hot idle as the engine control unit reads it",
        "gauge_pressure",
        "kPa",
        typical=180,
        plausible=(5, 900),
        where=METER,
    )
    oil: float = measure(
        "oil temperature of the hot readings", "temperature", "degC", typical=90, plausible=(20, 150), where=METER
    )


class RunningTrial(Trial):
    """The engine running without load, and what is looked at then and after."""

    idle_speed: float = _speed("engine speed at warm idle", 750)
    governed_speed: float = _speed("highest engine speed without load", 2850)
    lamps_tried: bool = _done("every warning lamp was seen to light and to go out")
    stop_tried: bool = _done("the stop control was seen to stop the engine")
    no_leaks_warm: bool = _done("there was no leak after 20 minutes of running")
    no_leaks_cold: bool = _done("there was no leak after the engine had cooled")
    fan_on: float = measure(
        "coolant temperature at which the fan comes on",
        "temperature",
        "degC",
        typical=95,
        plausible=(60, 115),
        where=METER,
    )
    regeneration_watched: bool = _done("one cleaning of the particulate filter was watched, on bare ground")


class ChargingTrial(Trial):
    """Charging and what is drawn with the key off."""

    idle_voltage: float = _volts("voltage at the battery at warm idle, usual consumers on", 13.8, (8, 35))
    voltage: float = _volts(
        "voltage at the battery at `speed`, usual consumers on, ten minutes after the start", 14.2, (8, 35)
    )
    speed: float = _speed("engine speed of that reading", 2000)
    output_current: float = measure(
        "current in the alternator's cable then", "current", "A", typical=40, plausible=(1, 600), where=METER
    )
    output_drop: float = _volts(
        "voltage lost then between the alternator's output and the battery's positive", 0.15, (0.001, 5)
    )
    ground_drop: float = _volts(
        "voltage between the alternator's housing and the battery's negative then", 0.05, (0.0005, 5)
    )
    air: float = _air("of the air at the regulator")
    key_off_current: float = measure(
        "current drawn with the key off, after `key_off_wait`",
        "current",
        "mA",
        typical=25,
        plausible=(0.1, 20000),
        where=METER,
    )
    key_off_wait: float = measure(
        "time between locking the vehicle and that reading: units fall asleep after 5 to 75 min",
        "duration",
        "min",
        typical=75,
        plausible=(0.1, 1440),
        where=METER,
    )


class BusTrial(Trial):
    """The data bus and the fault memory."""

    resistance: float = measure(
        "resistance between the two wires of the bus, battery off",
        "resistance",
        "ohm",
        typical=60,
        plausible=(0.1, 100000),
        where=METER,
    )
    active_codes: list[str] = words(
        "fault codes that are active with the engine running; empty where there are none",
        typical="SPN 100 FMI 3",
        where=METER,
    )
    stored_codes_explained: bool = _done("every stored fault code was explained and written down before it was erased")
    load: float = measure(
        "share of the bus's time that is in use, a mean over one second at idle",
        "share",
        "%",
        typical=25,
        plausible=(0.5, 100),
        where=METER,
    )


class FuelTrial(Trial):
    """The low-pressure side of the fuel system at full flow."""

    inlet_depression: float = measure(
        "depression at the engine's fuel inlet at rated speed and full load",
        "pressure_difference",
        "kPa",
        typical=8,
        plausible=(0.1, 95),
        where=TRIAL,
    )
    inlet_pressure: float = measure(
        "pressure at the engine's fuel inlet then, where a feed pump presses the fuel there",
        "gauge_pressure",
        "kPa",
        typical=40,
        plausible=(0.5, 1000),
        where=TRIAL,
    )
    filter_drop: float = measure(
        "pressure that the filters ahead of the inlet take of it",
        "pressure_difference",
        "kPa",
        typical=2,
        plausible=(0.05, 60),
        where=TRIAL,
    )
    suction_loss: float = measure(
        "depression lost in one minute of 50 to 70 kPa that a hand pump made in the supply line, its ends closed",
        "pressure_difference",
        "kPa",
        typical=0.1,
        plausible=(0, 70),
        where=TRIAL,
        zero=True,
    )
    return_pressure: float = measure(
        "pressure in the return line at the engine then",
        "gauge_pressure",
        "kPa",
        typical=8,
        plausible=(0.1, 300),
        where=TRIAL,
    )
    temperature: float = measure(
        "temperature of the fuel at the inlet then",
        "temperature",
        "degC",
        typical=30,
        plausible=(-40, 90),
        where=METER,
        signed=True,
    )
    no_air: bool = _done("a clear hose in the supply line showed no air")
    no_leaks: bool = _done("the outside of tank, lines and joints stayed dry")


class FullLoadTrial(Trial):
    """Air and gas at full load."""

    speed: float = _speed("engine speed of the readings: near rated speed", 2600)
    torque_share: float = measure(
        "share of the full-load torque at that speed that was reached",
        "share",
        "%",
        typical=98,
        plausible=(5, 110),
        where=METER,
    )
    air: float = _air()
    altitude: float = _height()
    intake_restriction: float = measure(
        "depression ahead of the turbocharger or throttle",
        "pressure_difference",
        "kPa",
        typical=2.5,
        plausible=(0.05, 30),
        where=TRIAL,
    )
    filter_drop: float = measure(
        "pressure that the air cleaner takes of it",
        "pressure_difference",
        "kPa",
        typical=1.5,
        plausible=(0.02, 30),
        where=TRIAL,
    )
    back_pressure: float = measure(
        "pressure behind the turbocharger or in the manifold's outlet",
        "gauge_pressure",
        "kPa",
        typical=7,
        plausible=(0.05, 100),
        where=TRIAL,
    )
    charge_leak: float = measure(
        "pressure lost in 15 s of 207 kPa of air pumped into charge pipes and cooler, engine stopped, ends closed",
        "pressure_difference",
        "kPa",
        typical=10,
        plausible=(0, 200),
        where=TRIAL,
        zero=True,
    )
    boost: float = measure(
        "pressure in the inlet manifold",
        "gauge_pressure",
        "kPa",
        typical=140,
        plausible=(1, 500),
        where=TRIAL,
    )
    manifold_air: float = measure(
        "temperature of the air in the inlet manifold",
        "temperature",
        "degC",
        typical=45,
        plausible=(-30, 200),
        where=METER,
        signed=True,
    )


class CoolingTrial(Trial):
    """A hot run under load until no temperature moves any more."""

    point: str = word(
        "load of the run: full load at rated speed, full load at peak torque, or the standing work",
        "rated",
        "peak_torque",
        "standing",
        typical="rated",
        where=TRIAL,
    )
    power_share: float = measure(
        "share of that load's power that was held",
        "share",
        "%",
        typical=98,
        plausible=(20, 110),
        where=METER,
    )
    air: float = _air("of the outside air, in the shade and clear of the vehicle,")
    altitude: float = _height()
    top_tank: float = measure(
        "coolant temperature where it leaves the engine, at the end of the run",
        "temperature",
        "degC",
        typical=90,
        plausible=(20, 140),
        where=METER,
    )
    radiator_outlet: float = measure(
        "coolant temperature where it leaves the radiator, at the end of the run",
        "temperature",
        "degC",
        typical=82,
        plausible=(10, 140),
        where=METER,
    )
    core_air: float = measure(
        "air that enters the first core, a mean over centre and corners, at the end of the run",
        "temperature",
        "degC",
        typical=20,
        plausible=(-30, 90),
        where=METER,
        signed=True,
    )
    drift: float = measure(
        "how far the coolant temperature moved in the last three minutes",
        "temperature_difference",
        "K",
        typical=0.5,
        plausible=(0, 30),
        where=METER,
        zero=True,
    )
    thermostat_open: bool = _done("the thermostat was fully open, or blocked open")
    fan_locked: bool = _done("the fan's drive was locked, or the fan at its full speed")


class Weighing(Trial):
    """The finished vehicle on the weighbridge: nobody in it, nothing loaded, engine off, brakes off."""

    front: float = measure(
        "reading of the front axle, or of the front axles together",
        "mass",
        "kg",
        typical=1200,
        plausible=(150, 12000),
        where=WEIGHBRIDGE,
    )
    rear: float = measure(
        "reading of the rear axle, or of the rear axles together",
        "mass",
        "kg",
        typical=1100,
        plausible=(150, 30000),
        where=WEIGHBRIDGE,
    )
    whole: float = measure(
        "reading of the whole vehicle on one plate",
        "mass",
        "kg",
        typical=2300,
        plausible=(400, 40000),
        where=WEIGHBRIDGE,
    )
    fuel_share: float = measure(
        "share of a full tank that was aboard",
        "share",
        "%",
        typical=50,
        plausible=(0, 100),
        where=TRIAL,
        zero=True,
    )


class VacuumTrial(Trial):
    """The vacuum that helps the brakes."""

    altitude: float = _height()
    idle: float = measure(
        "depression that is reached at idle",
        "pressure_difference",
        "kPa",
        typical=75,
        plausible=(5, 100),
        where=TRIAL,
    )
    recovery_time: float = measure(
        "time from empty until the brake warning goes out, engine at idle",
        "time",
        "s",
        typical=15,
        plausible=(0.2, 600),
        where=TRIAL,
    )
    applications_left: float = count(
        "full applications of the pedal with the engine stopped, from that depression, before the warning comes on",
        typical=2,
        plausible=(0, 30),
        where=TRIAL,
        zero=True,
    )
    hold_loss: float = measure(
        "depression lost in `hold_time` after the engine was stopped, pedal free",
        "pressure_difference",
        "kPa",
        typical=1,
        plausible=(0, 100),
        where=TRIAL,
        zero=True,
    )
    hold_time: float = measure("time of that wait", "time", "s", typical=60, plausible=(5, 3600), where=TRIAL)


class BrakeTrial(Trial):
    """The brake test before the vehicle goes on the road; `by` is the qualified person."""

    efficiency: float = measure(
        "sum of the braking forces over the weight of the vehicle, service brake",
        "share",
        "%",
        typical=60,
        plausible=(1, 120),
        where=TRIAL,
    )
    imbalance: float = measure(
        "difference of the forces of the two wheels of an axle over the larger, the worst axle",
        "share",
        "%",
        typical=10,
        plausible=(0, 100),
        where=TRIAL,
        zero=True,
    )
    report: str = text("number of the test's report", typical="invented 2026-114", where=TRIAL)


class RoadTrial(Trial):
    """Road speed: by satellite, by the speedometer and by the engine's speed, held steady."""

    true_speed: float = measure(
        "true road speed that was held",
        "speed",
        "km/h",
        typical=80,
        plausible=(10, 200),
        where=TRIAL,
    )
    indicated_speed: float = measure(
        "what the speedometer showed then", "speed", "km/h", typical=83, plausible=(5, 250), where=TRIAL
    )
    engine_speed: float = _speed("engine speed then, in top gear and high range", 2000)


class StepDone(Section):
    """A step of the checklist that is done and has no reading."""

    date: str = day("when it was done", typical="2026-05-31", where=RECORD)
    by: str = text("who did it", typical="invented fitter", where=RECORD)
    note: str = text("what was seen", typical="dry all over", where=RECORD)


class Measured(Section):
    """What was measured on the finished vehicle, trial by trial."""

    before_start: BeforeStart = part("what is done before the first crank")
    cranking: CrankingTrial = part("the starting circuit while the starter turns")
    oil: OilTrial = part("oil pressure")
    running: RunningTrial = part("the engine without load")
    charging: ChargingTrial = part("charging, and what is drawn with the key off")
    bus: BusTrial = part("the data bus and the fault memory")
    fuel: FuelTrial = part("fuel at the engine's inlet at full flow")
    full_load: FullLoadTrial = part("air and gas at full load")
    cooling: CoolingTrial = part("a hot run under load")
    weighing: Weighing = part("the finished vehicle on the weighbridge")
    vacuum: VacuumTrial = part("the vacuum that helps the brakes")
    brakes: BrakeTrial = part("the brake test")
    road: RoadTrial = part("road speed, speedometer and engine speed")
    done: dict[str, StepDone] = parts(
        "steps of the checklist that have no reading and are done, each under its own name",
        may_be_empty="nothing of it is done yet",
        grows=True,
    )


class EngineOil(Section):
    """The engine's oil: the pressure that its maker asks for, and what is poured in."""

    idle_pressure_min: float = measure(
        "least oil pressure at hot idle",
        "gauge_pressure",
        "kPa",
        typical=100,
        plausible=(20, 500),
        where=DATA_SHEET,
        limit=True,
    )
    rated_pressure_min: float = measure(
        "least oil pressure, hot, at rated speed",
        "gauge_pressure",
        "kPa",
        typical=250,
        plausible=(50, 900),
        where=DATA_SHEET,
        limit=True,
    )
    rise_time_max: float = measure(
        "longest time until oil pressure shows after a start",
        "time",
        "s",
        typical=10,
        plausible=(1, 60),
        where=DATA_SHEET,
        limit=True,
    )
    fill: EngineOilFill = part("what is poured in")
