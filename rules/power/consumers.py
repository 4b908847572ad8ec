"""The rule that the list of consumers is whole: every electric device that other systems state is in it."""

from __future__ import annotations

from typing import Any

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    path_of,
    practice,
    rule,
    shown,
)

from . import charging_quantities as c
from . import network

WHOLE = practice("every electric device of the build is in the list of consumers, and its cable carries its current")
AGREES = 1.05
"""Current of a consumer over what its own cables are said to carry: 5 % for rounding."""

FAN, PUMP, HEATER = "plumbing.cooling.fan", "plumbing.fuel.pump", "plumbing.cooling.heater"
FUEL = "plumbing.fuel"
"""Stands for the fuel filters that nobody states."""
STEERING, REDUCTANT, SUPPLY = "vehicle.steering", "plumbing.reductant", "plumbing.fuel.supply"
NAMES = {
    FAN: "the radiator's fan",
    PUMP: "the fuel pump",
    HEATER: "the cab heater's blower",
    STEERING: "the electric steering assistance",
    REDUCTANT: "the heating of the reductant line",
    SUPPLY: "the heating of the fuel line",
}
CABLES = {FAN: "fan", PUMP: "fuel-pump"}
"""Devices whose cables have a role of their own."""


def devices(build: Build) -> list[Any]:
    """What may take current, as other systems state it; pump and booster of the brakes are judged by chassis."""
    plumbing = build.plumbing
    filters = given(lambda: list(plumbing.fuel.filters.values()))
    asked = [plumbing.fuel] if filters is None else filters
    always = [plumbing.cooling.fan, plumbing.cooling.heater, plumbing.fuel.pump, build.vehicle.steering]
    return [*always, plumbing.fuel.supply, *asked, plumbing.reductant]


def takes_current(build: Build, device: Any) -> bool:
    """Whether a device is there and takes current. Raises `Unknown` where nobody says; a heater not named is none."""
    path = path_of(device)
    if path == STEERING:
        return bool(device.assist == "electric")
    if path == REDUCTANT and not is_fitted(build.engine.reductant):
        return False
    if path not in (FAN, HEATER, PUMP):
        return (given(lambda: device.heater_power) or 0.0) > 0.0
    if not is_fitted(device) or path == HEATER:
        return is_fitted(device)
    return bool(device.drive == "electric" if path == FAN else device.kind != "mechanical")


@rule(
    "power.consumers-counted",
    level="warning",
    due="quote",
    sources=[WHOLE.giving("limit", "every device counted, its cable's current to 5 %")],
    cautions=[cautions.FUEL_FIRE],
    about="electrics.loads",
    each=devices,
    bad=[
        {f"{HEATER}.load": "no-such-consumer"},
        {
            f"{FAN}.drive": "electric",
            f"{FAN}.curve_voltage": "13 V",
            f"{FAN}.motor_voltage": "13 V",
            "vehicle.clearances.fan_shroud.gap": "5 mm",
            "electrics.cables.fan.current": "5 A",
        },
    ],
    good=[{f"{HEATER}.load": "lamps"}],
)
def consumers_counted(build: Build, device: Any) -> Verdict:
    """Does the list of consumers count every electric device that the build has?

    Computes: which devices take current by what the other systems say of them: an electric fan, an electric fuel pump,
    the blower of the cab heater, electric steering, heaters of fuel and reductant; the consumer that each names.
    Limit: the consumer is in the list; a fuel pump has a cable; the cables of fan and fuel pump carry its current, to
    5 %.
    Consequence: A consumer that nobody counted flattens the battery, or overheats a cable made for less.
    Remedy: list the consumer with its current and its shares, or name the one that counts it with `load`; state the
    same current for the cable. What is not in the list is in no charge balance.
    Cannot tell: devices that no other part of the spec names, such as work lamps, a winch, a radio. The current of the
    intake heater stands in the engine package's data sheet; vacuum pump and booster are judged by chassis.
    """
    if path_of(device) == FUEL:
        return does_not_apply(f"{len(build.plumbing.fuel.filters)} fuel filters are stated.")  # asks for them
    if not takes_current(build, device):
        return does_not_apply(f"{_what(device).capitalize()} takes no current, or is not there.")
    name, what, on = str(device.load), _what(device), f"{path_of(device)}.load"
    load = build.electrics.loads.get(name)
    if load is None or not is_fitted(load):
        says = f"The electrics list no consumer {name}, which is {what}: its current is not counted."
        return all_of(counted=lambda: holds(False, says, on=on))
    demands = {"counted": lambda: holds(True, f"The consumer {name} counts {what}.", on=on)}
    cables = _cables_of(build, device)
    if cables:
        demands["cable-current"] = lambda: _cables_agree(build, load, cables)
    elif path_of(device) == PUMP:  # of a fan without one controls.fan-output tells
        demands["cable"] = lambda: holds(
            False,
            f"No cable of role {CABLES[PUMP]} is stated, and {what} stands still: state it.",
            on="electrics.cables",
        )
    return all_of(demands)


def _what(device: Any) -> str:
    return NAMES.get(path_of(device), "the heater of a fuel filter")


def _cables_of(build: Build, device: Any) -> list[Any]:
    """The cables that lead to a device and nothing else."""
    role = CABLES.get(path_of(device))
    return network.cables_for(build, role) if role else []


def _cables_agree(build: Build, load: Any, cables: list[Any]) -> Verdict:
    cables = _least_carrying(cables)
    takes, carried = c.vehicle_current(build, load), sum(cable.current for cable in cables)
    return at_most(
        takes,
        AGREES * carried,
        f"The consumer takes {shown(takes, 'current', 'A')}; its cables are said to carry "
        f"{shown(carried, 'current', 'A')}.",
        on=f"{path_of(cables[0])}.current",
        unit=("current", "A"),
    )


def _least_carrying(cables: list[Any]) -> list[Any]:
    """Of cables in series, the ones that leave the source or the ones that arrive, whichever are said to carry less.

    The same current runs through both, so that they must not be added up; cables side by side share it.
    """
    if len(cables) < 2:
        return cables
    leaving = [cable for cable in cables if not any(other.end == cable.start for other in cables)]
    arriving = [cable for cable in cables if not any(other.start == cable.end for other in cables)]
    return min(leaving or cables, arriving or cables, key=lambda some: sum(cable.current for cable in some))
