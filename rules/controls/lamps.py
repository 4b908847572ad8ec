"""The rule of warning lamps: are they there, and can what drives them light them."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    does_not_apply,
    given,
    holds,
    is_fitted,
    name_of,
    path_of,
    practice,
    rule,
    sheet,
    shown,
)
from swaplint.engineering import j1939_numbers

from .. import sources
from . import from_bus

LAMP_CURRENT = practice("a resistor beside a light-emitting diode, R = (U - 1 V)/I, to show the control unit a lamp")
DIODE_DROP = 1.0
"""Volts over a lamp output that has switched through, taken off before the resistor is worked out."""

PARAMETERS = {
    "oil-pressure": 100,
    "coolant-temperature": 110,
    "charge": 167,
    "fuel-level": 96,
    "parking-brake": 70,
    "water-in-fuel": 97,
    "coolant-level": 111,
}
"""Parameters of SAE J1939-71 that light a lamp, where the lamp states no other; the rest have no single one."""
VITAL = ("oil-pressure", "coolant-temperature", "charge", "brake", "vacuum", "brake-assist")
COLOURS = {
    "oil-pressure": ("red",),
    "coolant-temperature": ("red",),
    "charge": ("red",),
    "brake": ("red",),
    "vacuum": ("red",),
    "brake-assist": ("red",),
    "parking-brake": ("red",),
    "stop-engine": ("red",),
    "malfunction": ("amber",),
    "fuel-level": ("amber",),
    "wait-to-start": ("amber",),
}
"""Colours of tell-tales in UN Regulation No. 121, from memory; those that it does not name are left free."""


@rule(
    "controls.warning-lamps",
    level="error",
    due="quote",
    sources=[
        sheet("engine.warnings_required"),
        sheet("engine.outputs.lamp_current_max"),
        sheet("engine.outputs.lamp_current_min"),
        sources.TELL_TALES.giving("limit", "colours of lamps", demands=["colour"]),
        LAMP_CURRENT.giving("formula", "resistor beside a light-emitting diode"),
    ],
    about="electrics.lamps",
    adjust=["electrics.lamps.*.current"],
    without={
        "electrics.lamps.*.parameter": "The parameter that SAE J1939-71 has for the warning stands in; a warning that "
        "has none is asked about."
    },
    bad=[
        {"electrics.lamps.oil": None},
        {"engine.warnings_required": ["oil-pressure", "water-in-fuel"]},
        {"electrics.lamps.malfunction.current": "900 mA"},
        {"electrics.lamps.malfunction.current": "5 mA"},
        {"electrics.lamps.malfunction.colour": "red"},
        {"electrics.lamps.fuel.driven_by": "bus", "electrics.lamps.fuel.parameter": 183},
    ],
    good=[
        {"electrics.lamps.water": {"function": "water-in-fuel", "driven_by": "own-switch", "colour": "amber"}},
        {"electrics.lamps.fuel.driven_by": "bus"},
    ],
)
def warning_lamps(build: Build) -> Verdict:
    """Are all the warnings that engine and law ask for in the driver's view, and can what drives them drive them?

    Computes: which warnings of the engine's data sheet and of the vehicle have no lamp; current of the lamps that the
    engine drives against its outputs; for a lamp that the bus drives, whether there is a bus and a device on it that
    takes the parameter.
    Limit: none is missing: an error for oil, temperature, charge, brakes and vacuum, else a warning; so is a lamp on
    the bus that no device lights. Lamp current at most that of the output, and no less than the control unit needs to
    see the lamp. Colours as UN Regulation No. 121 has them (from memory): a warning.
    Consequence: The driver misses a warning or misreads it, and drives on until the engine or a brake fails.
    Remedy: the lamps that are missing; beside a light-emitting diode a resistor.
    Cannot tell: whether it is seen in the sun; whether the lamps light for a moment as the key is turned on.
    """
    lamps = [lamp for lamp in build.electrics.lamps.values() if is_fitted(lamp)]
    demands: dict[str, Callable[[], Verdict]] = {"complete": lambda: _none_missing(build, lamps)}
    for lamp in lamps:
        name = name_of(lamp)
        if given(lambda lamp=lamp: lamp.function in COLOURS) is not False:  # type: ignore[misc]
            demands[f"colour.{name}"] = lambda lamp=lamp: _colour(lamp)  # type: ignore[misc]
        if given(lambda lamp=lamp: lamp.driven_by == "bus"):  # type: ignore[misc]
            demands[f"bus.{name}"] = lambda lamp=lamp: _on_the_bus(build, lamp)  # type: ignore[misc]
        if given(lambda lamp=lamp: lamp.driven_by == "engine-output") is False:  # type: ignore[misc]
            continue
        demands[f"output.{name}"] = lambda lamp=lamp: _has_output(build, lamp)  # type: ignore[misc]
        if given(lambda lamp=lamp: lamp.function in tuple(build.engine.outputs.lamps)):  # type: ignore[misc]
            demands[f"bears.{name}"] = lambda lamp=lamp: _output_bears(build, lamp)  # type: ignore[misc]
            if given(lambda: build.engine.outputs.lamp_current_min) != 0.0:
                demands[f"seen.{name}"] = lambda lamp=lamp: _seen(build, lamp)  # type: ignore[misc]
    return all_of(demands)


def _none_missing(build: Build, lamps: list[Any]) -> Verdict:
    wanted = dict.fromkeys([*build.engine.warnings_required, *build.vehicle.warnings_required])
    have = {lamp.function for lamp in lamps}
    missing = [function for function in wanted if function not in have]
    if not missing:
        return holds(True, f"Lamps for {', '.join(sorted(have))}.", on="electrics.lamps")
    outputs = given(lambda: tuple(build.engine.outputs.lamps)) or ()
    named = [
        f"{m} ({'from the engine output' if m in outputs else 'from a switch or sender of its own'})" for m in missing
    ]
    level: Any = "error" if any(function in VITAL for function in missing) else "warning"
    return holds(
        False,
        f"No lamp for {', '.join(named)}: fit {'them' if len(missing) > 1 else 'it'}.",
        level=level,
        on="electrics.lamps",
    )


def _colour(lamp: Any) -> Verdict:
    wanted, on = COLOURS[lamp.function], f"{path_of(lamp)}.colour"
    says = f"The lamp for {lamp.function} is {lamp.colour}, "
    right = lamp.colour in wanted
    says += "as it must be." if right else f"and must be {' or '.join(wanted)}."
    return holds(right, says, level="warning", on=on, advice=advice(on, wanted[0]))


def _on_the_bus(build: Build, lamp: Any) -> Verdict:
    """Whether a lamp that a message lights can light: there is a bus, and a device on it that takes the message."""
    level: Any = "error" if lamp.function in VITAL else "warning"
    on, number = f"{path_of(lamp)}.driven_by", PARAMETERS.get(lamp.function)
    if number is None or given(lambda: lamp.parameter) is not None:
        number = int(lamp.parameter)
    dead = from_bus.why_dead(build, number)
    if not dead:
        what = j1939_numbers.parameter_name(number)
        return holds(True, f"A device on the bus takes {what} for the lamp for {lamp.function}.", on=on)
    says = f"The lamp for {lamp.function} is driven by the bus, {dead}: it never lights. State the device that lights "
    says += "it, with what it needs, or give the lamp a switch or sender of its own."
    return holds(False, says, level=level, on=on)


def _has_output(build: Build, lamp: Any) -> Verdict:
    """Whether the engine drives a lamp that is said to be driven by it."""
    if lamp.driven_by != "engine-output":
        return does_not_apply(f"The engine does not drive the lamp for {lamp.function}.")
    there = lamp.function in tuple(build.engine.outputs.lamps)
    says = f"The engine has a lamp output for {lamp.function}."
    if not there:
        says = f"The engine has no lamp output for {lamp.function}: it takes a switch or sender of its own."
    return holds(there, says, on=f"{path_of(lamp)}.driven_by")


def _output_bears(build: Build, lamp: Any) -> Verdict:
    most, on = build.engine.outputs.lamp_current_max, f"{path_of(lamp)}.current"
    says = f"The lamp for {lamp.function} takes {shown(lamp.current)}; the output gives {shown(most)}."
    return at_most(lamp.current, most, says, level="warning", on=on, advice=advice(on, most))


def _seen(build: Build, lamp: Any) -> Verdict:
    least = build.engine.outputs.lamp_current_min
    ohms, on = (build.electrics.nominal_voltage - DIODE_DROP) / least, f"{path_of(lamp)}.current"
    # Rounded down: a smaller resistor lets more current through.
    step = 10.0 ** (math.floor(math.log10(ohms)) - 1) if ohms > 0.0 else 1.0
    resistor = shown(math.floor(ohms / step + 1e-9) * step, "resistance", "ohm", digits=2)
    says = f"The lamp for {lamp.function} takes {shown(lamp.current)}; the control unit sees one from {shown(least)}."
    if lamp.current < least:
        says += f" A resistor of {resistor} or less beside it, not above what the output gives, shows it one."
    return at_least(lamp.current, least, says, level="warning", on=on, advice=advice(on, least))
