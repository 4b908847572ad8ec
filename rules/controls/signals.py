"""Rules of what control units tell each other: immobiliser and body modules, fan, gearbox controller."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
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
    within,
)

from ..power import network as power
from . import wiring

WAITING = practice("control units wait for signals of others: set what each needs against what all give")
FAN_DRIVE = practice("a fan driven by the engine's control unit, that runs when its signal is lost")
FAN_INRUSH = practice("a fan motor draws three to five times its running current as it starts")
SHIFT_MARGIN = practice("a gearbox map that shifts up no later than 100 r/min below rated speed")

SHIFT_RESERVE = 100.0 * 0.10471975511965977
"""100 r/min, in rad/s: what the advice leaves to the engine's rated speed."""


CONTROLLER = "driveline.gearbox.controller"


# -- signals between modules ------------------------------------------------------------------------------------------
def given_signals(build: Build, to: Any) -> dict[str, str]:
    """Every signal that somebody else gives to one that waits for it, and who. Nobody gives himself what he lacks."""
    found: dict[str, str] = {}
    if path_of(to) != path_of(build.engine):
        for signal in given(lambda: tuple(build.engine.outputs.signals)) or ():
            found.setdefault(signal, "the engine")
    for source in _fitted(build, lambda: build.electrics.signals):
        for signal in source.gives:
            found.setdefault(signal, name_of(source))
    for module in _fitted(build, lambda: build.vehicle.modules):
        if path_of(module) == path_of(to):
            continue
        for signal in given(lambda module=module: tuple(module.sends)) or ():  # type: ignore[misc]
            found.setdefault(signal, name_of(module))
    if path_of(to) != CONTROLLER:
        for signal in given(lambda: tuple(build.driveline.gearbox.controller.sends)) or ():
            found.setdefault(signal, "the gearbox controller")
    return found


def _fitted(build: Build, read: Callable[[], Any]) -> list[Any]:
    return [part for part in (given(lambda: list(read().values())) or []) if is_fitted(part)]


def waiting(build: Build) -> list[Any]:
    """Those that wait for signals: the engine, its immobiliser, and the modules that stay."""
    immobiliser = build.engine.immobiliser
    own = [immobiliser] if given(lambda: is_fitted(immobiliser)) is not False else []
    return [build.engine, *own, *(m for m in build.vehicle.modules.values() if is_fitted(m))]


@rule(
    "controls.immobiliser-signals",
    level="error",
    due="quote",
    sources=[
        sheet("engine.inputs_required"),
        sheet("engine.immobiliser.needs"),
        WAITING.giving("limit", "no signal is missing"),
    ],
    cautions=[cautions.LAW],
    about="electrics.signals",
    each=waiting,
    bad=[
        {"electrics.signals.brake_switch.gives": ["something-else"]},
        {
            "vehicle.modules.body.needs": ["engine-running", "old-engine-code"],
            "vehicle.modules.body.blocks_start": True,
        },
        {"engine.immobiliser.needs": ["coded-key", "steering-lock"]},
    ],
    good=[
        {
            "vehicle.modules.body.needs": ["engine-running", "old-engine-code"],
            "electrics.signals.emulator": {"gives": ["old-engine-code"]},
        }
    ],
)
def immobiliser_signals(build: Build, who: Any) -> Verdict:
    """Does everyone get the signals that they wait for: the engine, its immobiliser, and the modules that stay?

    Computes: what each waits for, less what engine, modules and stated sources give.
    Limit: nothing is missing: an error for the engine, its immobiliser and a module that blocks the start, else a
    warning. An emulator or a converter counts as a source once it is stated in electrics.signals.
    Consequence: The engine does not start or limps, or something in the vehicle that waits stays dead.
    Remedy: a switch, sender, converter or emulator for each signal that is missing.
    Cannot tell: what nobody has written down about an old module, and whether software must be paired. Removing an
    immobiliser may end the insurance against theft.
    """
    is_engine = path_of(who) == path_of(build.engine)
    needs = tuple(who.inputs_required if is_engine else who.needs)
    name = "The engine" if is_engine else f"The {name_of(who)}"
    found = given_signals(build, who)
    missing = [signal for signal in needs if signal not in found]
    on = f"{path_of(who)}.{'inputs_required' if is_engine else 'needs'}"
    if not missing:
        listed = ", ".join(f"{signal} from {found[signal]}" for signal in needs)
        return holds(True, f"{name} gets {listed or 'all that it waits for: nothing'}.", on=on)
    len(build.electrics.signals)  # nobody may have listed the switches and senders yet: asked for
    says = f"{name} waits for {', '.join(missing)}, which nobody gives: fit a switch, sender or emulator."
    blocks = is_engine or path_of(who) == path_of(build.engine.immobiliser) or who.blocks_start
    if blocks:
        says += " Without it the vehicle does not start, or does not run right."
    return holds(False, says, level="error" if blocks else "warning", on=on)


# -- fan --------------------------------------------------------------------------------------------------------------
ELECTRIC = {
    "plumbing.cooling.fan.drive": "electric",
    "plumbing.cooling.fan.curve_voltage": "13 V",
    "plumbing.cooling.fan.motor_voltage": "13 V",
    "plumbing.cooling.fan.curve": [{"flow": "0 m3/s", "pressure": "250 Pa"}, {"flow": "1.5 m3/s", "pressure": "0 Pa"}],
    "vehicle.clearances.fan_shroud.gap": "5 mm",
}
TAKES = {"relay": "coil", "clutch": "coil", "pulse-width": "pulse-width"}


@rule(
    "controls.fan-output",
    level="error",
    due="quote",
    sources=[
        sheet("engine.outputs.fan"),
        FAN_DRIVE.giving("limit", "driven by the engine's output, on when the signal is lost"),
        FAN_INRUSH.giving("formula", "making current of the relay that the remedy asks for"),
    ],
    cautions=[cautions.ROTATING],
    adjust=["electrics.cables.*.relay_rating"],
    about="electrics.fan_control",
    bad=[
        {
            **ELECTRIC,
            "engine.outputs.fan.current": "0.1 A",
        },
        {
            **ELECTRIC,
            "electrics.fan_control.takes": "pulse-width",
        },
        {
            **ELECTRIC,
            "electrics.cables.fan.switched_by": ["key-run"],
        },
    ],
    good=[
        {
            **ELECTRIC,
        }
    ],
)
def fan_output(build: Build) -> Verdict:
    """Does the engine's fan output match what runs the electric fan?

    Computes: what closes the relay in the fan's cable; the current of its coil against the engine's output; the fan's
    current against the relay's contact.
    Limit: a cable feeds the fan, and the engine's output drives it, with what the fan's control takes: a coil current
    no higher than the output gives, or pulses of a frequency that the controller takes (errors). A fan that a
    thermo-switch of its own runs beside such an output is a warning, as is a controller for pulses that stops the fan
    when the signal is lost; a plain relay always does. An engine without an output for a fan takes a thermo-switch.
    Consequence: The fan may stand still when the engine needs it, and the engine overheats in traffic.
    Remedy: a relay whose coil takes no more than the output gives, its contact rated above the fan's current; on when
    the signal is lost. As it starts a fan draws three to five times its running current: ask for the contact's making
    capacity.
    Cannot tell: at which temperatures the software switches; a request of the air conditioning; a second speed.
    """
    fan = build.plumbing.cooling.fan
    if not is_fitted(fan) or fan.drive != "electric":
        return does_not_apply("No electric fan is fitted.")
    control, on = build.electrics.fan_control, "electrics.fan_control"
    takes = control.takes
    output = build.engine.outputs.fan
    if not is_fitted(build.engine.ecm) or given(lambda: is_fitted(output)) is False:
        says = "The engine has no output for a fan: it takes a thermo-switch of its own."
        own, on = takes == "own-thermo-switch", f"{on}.takes"
        return all_of(
            match=lambda: holds(own, says, on=on, advice=advice(on, "own-thermo-switch")),
            fed=lambda: _has_cable(build),
            switched=lambda: _own_switch(build),
        )
    if takes == "own-thermo-switch":
        says = "The fan runs on a thermo-switch of its own: the engine can neither ask for it nor know of it."
        return all_of(
            match=lambda: holds(False, says, level="warning", on=f"{on}.takes"), fed=lambda: _has_cable(build)
        )
    match = TAKES[output.kind] == takes
    kind = output.kind.replace("-", " ")
    says = (
        f"The engine's output is made for a {kind}, the fan's control takes "
        f"{_TAKEN.get(takes, takes.replace('-', ' '))}."
    )
    demands: dict[str, Callable[[], Verdict]] = {"match": lambda: holds(match, says, on=f"{on}.takes")}
    if match and takes == "coil":
        demands["coil"] = lambda: _coil(build)
        demands["driven"] = lambda: _driven_by_engine(build)
        if given(lambda: bool(_driven(build))) is not False:
            demands["contact"] = lambda: _contact(build)
    elif match:
        demands["fed"] = lambda: _has_cable(build)
        demands["pulses"] = lambda: _pulses(build)
        demands["on-when-lost"] = lambda: holds(
            control.on_when_lost, "The fan must run when the signal is lost.", level="warning", on=f"{on}.on_when_lost"
        )
    return all_of(demands)


_TAKEN = {"coil": "a coil's current", "pulse-width": "pulses"}
"""What a fan's control takes, in words."""


def _coil(build: Build) -> Verdict:
    coil, most = build.electrics.fan_control.coil_current, build.engine.outputs.fan.current
    says = f"The coil takes {shown(coil)}; the engine's output gives {shown(most)}."
    return at_most(coil, most, says, on="electrics.fan_control.coil_current")


def _driven(build: Build) -> list[Any]:
    """The fan's cables whose relay the engine's output closes."""
    return [cable for cable in power.cables_for(build, "fan") if wiring.FAN_OUTPUT in wiring.closing(cable)]


def _has_cable(build: Build) -> Verdict:
    there = bool(power.cables_for(build, "fan"))
    says = "A cable feeds the fan." if there else "No cable of role fan is stated, and the fan stands still: state it."
    return holds(there, says, on="electrics.cables")


def _own_switch(build: Build) -> Verdict:
    """Whether something closes the circuit of a fan that the engine does not drive, and bears its current."""
    cables = power.cables_for(build, "fan")
    if not cables:
        return does_not_apply("No cable of role fan is stated.")
    cable = min(cables, key=lambda cable: float(cable.relay_rating / cable.current))
    nodes = wiring.closing(cable)
    if wiring.FAN_OUTPUT in nodes and len(nodes) == 1:
        says = (
            f"{wiring.FAN_OUTPUT} closes the relay of the fan, and the engine has no such output: the fan never runs. "
        )
        says += "Let the thermo-switch close it, and name that in switched_by."
        return holds(False, says, on=f"{path_of(cable)}.switched_by")
    return holds(True, "A switch or relay of its own closes the fan's circuit.", on=f"{path_of(cable)}.relay_rating")


def _driven_by_engine(build: Build) -> Verdict:
    cables = power.cables_for(build, "fan")
    closed = sorted({node for cable in cables for node in wiring.closing(cable)})
    says = f"The relay of the fan is closed by {', '.join(closed) or 'nothing'}"
    driven = bool(_driven(build))
    says += "." if driven else f", not by {wiring.FAN_OUTPUT}, the engine's output."
    return holds(driven, says, on=f"{path_of(cables[0])}.switched_by" if cables else "electrics.cables")


def _contact(build: Build) -> Verdict:
    cable = min(_driven(build), key=lambda cable: float(cable.relay_rating / cable.current))
    says = f"The relay contact is rated {shown(cable.relay_rating)}, the fan runs at {shown(cable.current)}."
    on = f"{path_of(cable)}.relay_rating"
    return at_least(cable.relay_rating, cable.current, says, on=on, advice=advice(on, cable.current))


def _pulses(build: Build) -> Verdict:
    control, frequency = build.electrics.fan_control, build.engine.outputs.fan.frequency
    low, high = control.frequency_min, control.frequency_max
    says = f"The engine sends pulses at {shown(frequency)}; the controller takes {shown(low)} to {shown(high)}."
    return within(frequency, low, high, says, on="electrics.fan_control.frequency_max")


# -- gearbox controller -----------------------------------------------------------------------------------------------
AUTOMATIC = {
    "driveline.gearbox.kind": "automatic",
    "driveline.gearbox.oil_heat": "4 kW",
    "plumbing.cooling.coolers.gearbox": {"cools": "gearbox-oil", "place": "elsewhere", "heat": "6 kW"},
    f"{CONTROLLER}.needs": ["engine-torque", "engine-speed"],
    f"{CONTROLLER}.sends": ["gear"],
    f"{CONTROLLER}.limits_torque": True,
    f"{CONTROLLER}.shift_speed_max": "3200 r/min",
    "engine.transmission_messages.sends": ["engine-torque", "engine-speed"],
    "engine.transmission_messages.accepts_torque_limit": True,
    "electrics.start.interlock": "neutral",
}


@rule(
    "controls.transmission-messages",
    level="error",
    due="quote",
    sources=[
        sheet("engine.transmission_messages"),
        sheet(f"{CONTROLLER}.needs"),
        sheet("engine.speed.rated"),
        SHIFT_MARGIN.giving("formula", "shift speed that is advised"),
    ],
    adjust=[f"{CONTROLLER}.shift_speed_max"],
    about=CONTROLLER,
    bad=[
        {**AUTOMATIC, "engine.transmission_messages.sends": ["engine-speed"]},
        {**AUTOMATIC, "engine.transmission_messages.accepts_torque_limit": False},
        {**AUTOMATIC, f"{CONTROLLER}.shift_speed_max": "3900 r/min"},
    ],
    good=[AUTOMATIC],
)
def transmission_messages(build: Build) -> Verdict:
    """Does the gearbox controller get what it needs from the engine, and may it limit the engine's torque?

    Computes: what the controller waits for, less what engine, modules and stated sources give.
    Limit: nothing is missing; the engine accepts a torque limit where the controller asks for one; the map shifts up
    at rated speed at the latest.
    Consequence: The gearbox does not shift, or at the wrong moment, and its clutches slip and burn.
    Remedy: a source for each signal that is missing; a stand-alone controller calibrated for this torque curve;
    shifts no later than 100 r/min below rated speed.
    Cannot tell: which version of software the controller has, and how well it shifts.
    """
    gearbox = build.driveline.gearbox
    if gearbox.kind != "automatic":
        return does_not_apply("The gearbox is shifted by hand.")
    controller = gearbox.controller
    if not is_fitted(controller):
        return does_not_apply("The gearbox has no electronic controller.")
    messages = build.engine.transmission_messages

    def all_there() -> Verdict:
        needs = tuple(controller.needs)
        if not needs:
            return holds(True, "The gearbox controller waits for no signal.", on=f"{CONTROLLER}.needs")
        others = given_signals(build, controller)
        missing = [signal for signal in needs if signal not in others]
        if missing:
            missing = [signal for signal in missing if signal not in tuple(messages.sends)]
        says = "The gearbox controller gets all that it waits for."
        if missing:
            says = f"The gearbox controller waits for {', '.join(missing)}, which nobody gives: find a source for it."
        return holds(not missing, says, on=f"{CONTROLLER}.needs")

    def limited() -> Verdict:
        if not controller.limits_torque:
            return does_not_apply("The controller does not ask the engine for less torque.")
        accepts = messages.accepts_torque_limit
        says = "The controller asks the engine for less torque while it shifts, and the engine "
        says += "gives it." if accepts else "does not accept that: the clutches slip and burn."
        return holds(accepts, says, on="engine.transmission_messages.accepts_torque_limit")

    def shifts_in_time() -> Verdict:
        speed, rated = controller.shift_speed_max, build.engine.speed.rated
        says = f"It shifts up at {shown(speed)} at the latest; the engine is rated at {shown(rated)}."
        on = f"{CONTROLLER}.shift_speed_max"
        return at_most(speed, rated, says, on=on, advice=advice(on, rated - SHIFT_RESERVE))

    demands: dict[str, Callable[[], Verdict]] = {"signals": all_there, "shift-speed": shifts_in_time}
    if given(lambda: controller.limits_torque) is not False:
        demands["torque-limit"] = limited
    return all_of(demands)
