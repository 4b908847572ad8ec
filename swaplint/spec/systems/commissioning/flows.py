"""Trials of what flows: fuel, air and gas at full load, coolant in a hot run."""

from swaplint.spec.fields import METER, TRIAL, measure, word
from swaplint.spec.systems.commissioning.trial import Trial, air_then, place_height, seen, turning


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
    no_air: bool = seen("a clear hose in the supply line showed no air")
    no_leaks: bool = seen("the outside of tank, lines and joints stayed dry")


class FullLoadTrial(Trial):
    """Air and gas at full load."""

    speed: float = turning("engine speed of the readings: near rated speed", 2600)
    torque_share: float = measure(
        "share of the full-load torque at that speed that was reached",
        "share",
        "%",
        typical=98,
        plausible=(5, 110),
        where=METER,
    )
    air: float = air_then()
    altitude: float = place_height()
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
    air: float = air_then("of the outside air, in the shade and clear of the vehicle,")
    altitude: float = place_height()
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
    thermostat_open: bool = seen("the thermostat was fully open, or blocked open")
    fan_locked: bool = seen("the fan's drive was locked, or the fan at its full speed")
