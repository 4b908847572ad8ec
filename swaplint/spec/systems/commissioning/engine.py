"""Trials of the engine: before the first crank, starting circuit, oil pressure, running, charging, data bus."""

from swaplint.spec.fields import DATA_SHEET, METER, TRIAL, Section, measure, part, text, words
from swaplint.spec.systems.commissioning.trial import Trial, air_then, seen, turning, volts
from swaplint.spec.systems.supply.fluids import EngineOilFill


class BeforeStart(Trial):
    """What must be done before the engine is cranked for the first time."""

    oil_filled: bool = seen("the engine oil is filled to its mark")
    oil_primed: bool = seen("the oil system is primed, as the engine's maker says")
    coolant_bled: bool = seen("the coolant is filled and bled, the heater open")
    fuel_bled: bool = seen("the low-pressure side of the fuel system is bled: no air in a clear hose")
    gearbox_oil_filled: bool = seen("gearbox, transfer case and axles hold their oil")
    battery_held: bool = seen("the batteries are charged and held, their terminals covered")
    grounds_tight: bool = seen("every ground is tight on bare metal")
    belts_tight: bool = seen("every belt is on and tight")
    fan_free: bool = seen("the fan turns freely by hand and touches nothing")
    hoses_tight: bool = seen("every hose and clamp was gone over by hand")
    shields_fitted: bool = seen("heat shields and guards are fitted")
    intake_clean: bool = seen("the intake was looked through as far as the turbocharger: nothing lies in it")
    codes_read: bool = seen("the fault codes with the key on were read and written down before any was erased")
    stop_tried: bool = seen("the stop control and the main switch were tried with the key on")
    extinguisher_ready: bool = seen("an extinguisher stands at hand and the exhaust gas is led outside")


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
    feed_drop: float = volts(
        "voltage from the battery's positive terminal to the starter's while it turns", 0.3, (0.005, 8)
    )
    return_drop: float = volts(
        "voltage from the starter's housing to the battery's negative terminal then", 0.2, (0.005, 8)
    )
    worst_joint: str = text("which single joint of the circuit takes most", typical="starter stud", where=METER)
    worst_joint_drop: float = volts("voltage across that joint alone then", 0.02, (0.0005, 5))
    terminal_voltage: float = volts("voltage at the battery terminals then", 10, (3, 30))
    unit_voltage: float = volts("voltage at the engine control unit's feed pins then", 9.5, (3, 30))
    air: float = air_then()


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
    loaded_speed: float = turning("engine speed of that reading: near rated speed", 2500)
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

    idle_speed: float = turning("engine speed at warm idle", 750)
    governed_speed: float = turning("highest engine speed without load", 2850)
    lamps_tried: bool = seen("every warning lamp was seen to light and to go out")
    stop_tried: bool = seen("the stop control was seen to stop the engine")
    no_leaks_warm: bool = seen("there was no leak after 20 minutes of running")
    no_leaks_cold: bool = seen("there was no leak after the engine had cooled")
    fan_on: float = measure(
        "coolant temperature at which the fan comes on",
        "temperature",
        "degC",
        typical=95,
        plausible=(60, 115),
        where=METER,
    )
    regeneration_watched: bool = seen("one cleaning of the particulate filter was watched, on bare ground")


class ChargingTrial(Trial):
    """Charging and what is drawn with the key off."""

    idle_voltage: float = volts("voltage at the battery at warm idle, usual consumers on", 13.8, (8, 35))
    voltage: float = volts(
        "voltage at the battery at `speed`, usual consumers on, ten minutes after the start", 14.2, (8, 35)
    )
    speed: float = turning("engine speed of that reading", 2000)
    output_current: float = measure(
        "current in the alternator's cable then", "current", "A", typical=40, plausible=(1, 600), where=METER
    )
    output_drop: float = volts(
        "voltage lost then between the alternator's output and the battery's positive", 0.15, (0.001, 5)
    )
    ground_drop: float = volts(
        "voltage between the alternator's housing and the battery's negative then", 0.05, (0.0005, 5)
    )
    air: float = air_then("of the air at the regulator")
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
    stored_codes_explained: bool = seen("every stored fault code was explained and written down before it was erased")
    load: float = measure(
        "share of the bus's time that is in use, a mean over one second at idle",
        "share",
        "%",
        typical=25,
        plausible=(0.5, 100),
        where=METER,
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
