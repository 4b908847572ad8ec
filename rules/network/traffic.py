"""Rules of what goes over the bus: addresses, load, and whether everyone gets what they need."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_most,
    does_not_apply,
    given,
    holds,
    path_of,
    practice,
    rule,
    sheet,
    shown,
)
from swaplint.engineering import can_bus, j1939_numbers

from .. import sources
from . import quantities as q
from . import topology

N = "electrics.network"
LOAD = practice("bus load of 40 % on average")
LOAD_AVERAGE = 0.40
ONE_SENDER = practice("two devices that send under one address collide, and one that listens to nobody hears nothing")
REALLY_SENT = practice("a gauge shows what some device really fills into its message, and nothing else")
VITAL = (100, 110, 175)
"""Parameters whose dead gauge hides a failing engine: oil pressure, coolant and oil temperature."""


HEARS = {
    f"{N}.nodes.*.listens_to": "A device that names no addresses takes messages from anybody on its bus.",
    "engine.network.listens_to": "An engine that names no addresses takes messages from anybody on its bus.",
}
"""Why it may stay unsaid whom a device listens to."""


# -- addresses --------------------------------------------------------------------------------------------------------
@rule(
    "network.addresses",
    level="error",
    due="build",
    sources=[
        ONE_SENDER.giving("limit", "no two alike, and somebody to listen to", demands=["own", "listens-to"]),
        sources.BUS_ADDRESSES.giving("limit", "addresses that no device may own", demands=["allowed"]),
    ],
    about=f"{N}.nodes",
    each=topology.nodes,
    without=HEARS,
    bad=[
        {f"{N}.nodes.cluster.address": 0},
        {f"{N}.nodes.cluster.address": 255},
        {f"{N}.nodes.cluster.listens_to": [1]},
    ],
    good=[{f"{N}.nodes.cluster.address": 40}],
)
def addresses(build: Build, node: Any) -> Verdict:
    """Has each device an address of its own, and does it listen to one that exists?

    Computes: the addresses of the devices on the same bus.
    Limit: no two are the same: two devices fight for it and both fall off the bus (common practice). An error; a
    warning where one of the two takes another by itself. 254 means none and 255 everybody: no device may own them
    (SAE J1939-81, from memory: a person decides).
    Consequence: Devices fall off the bus or listen to nobody: gauges stay dead, functions are missing.
    Remedy: a free address. The list of preferred addresses has the engine at 0, a second one at 1,
    the gearbox at 3, brakes at 11, instruments at 23, a body controller at 33, service tools at 249 and 250 (from
    memory).
    Cannot tell: which address a device takes by itself when it starts.
    """
    if not topology.speaks_j1939(node):
        return does_not_apply("Only SAE J1939 gives devices addresses.")
    bus = topology.bus_with(build, node)
    if bus is None:
        return does_not_apply("No bus cable joins it to a trunk: see network.stub-length.")
    others = {
        name: device
        for name, device in bus.devices.items()
        if name != topology.point_of(build, node) and topology.speaks_j1939(device)
    }
    demands: dict[str, Callable[[], Verdict]] = {"own": lambda: _own_address(build, node, bus, others)}
    if given(lambda: int(node.address) >= can_bus.NULL_ADDRESS):
        demands = {"allowed": lambda: _nobodys(build, node, others)}
    heard = given(lambda: tuple(node.listens_to))
    if heard:
        demands["listens-to"] = lambda: _hears_somebody(build, node, others)
    return all_of(demands)


def _own_address(build: Build, node: Any, bus: topology.Bus, others: dict[str, Any]) -> Verdict:
    """Whether a device has an address, and whether it shares it with one that stands before it."""
    point, on, own = topology.point_of(build, node), f"{path_of(node)}.address", int(node.address)
    help = advice(on, _free(others))
    earlier = list(bus.devices)
    same = [
        name
        for name, device in others.items()
        if int(device.address) == own and earlier.index(name) < earlier.index(point)
    ]
    if same:
        mild = bool(given(lambda: node.self_configurable)) or bool(given(lambda: others[same[0]].self_configurable))
        says = f"{point} has the same address {own} as {same[0]}: give it another."
        return holds(False, says, level="warning" if mild else "error", on=on, advice=help)
    preferred = j1939_numbers.PREFERRED_ADDRESSES.get(own)
    says = f"{point} has address {own}" + (f", the preferred one of: {preferred}." if preferred else ".")
    return holds(True, says, on=on)


def _free(others: dict[str, Any]) -> float | None:
    """An address that no other device on the bus has."""
    free = j1939_numbers.free_address({int(device.address) for device in others.values()})
    return float(free) if free is not None else None


def _nobodys(build: Build, node: Any, others: dict[str, Any]) -> Verdict:
    """That a device has one of the addresses that none may own."""
    point, on = topology.point_of(build, node), f"{path_of(node)}.address"
    says = f"{point} has address {int(node.address)}: 254 means none and 255 everybody, no device may own them."
    return holds(False, says, on=on, advice=advice(on, _free(others)))


def _hears_somebody(build: Build, node: Any, others: dict[str, Any]) -> Verdict:
    taken = {int(device.address) for device in others.values()}
    nobody = [int(address) for address in node.listens_to if int(address) not in taken]
    point, on = topology.point_of(build, node), f"{path_of(node)}.listens_to"
    if not nobody:
        return holds(True, f"{point} listens to addresses that its bus has.", on=on)
    has = ", ".join(f"{name} {int(device.address)}" for name, device in others.items())
    listed = ", ".join(str(address) for address in nobody)
    return holds(False, f"{point} listens to address {listed}, which nobody on its bus has ({has}).", on=on)


BODY = [
    {"group": 65265, "period": "100 ms", "bytes": 8, "parameters": [84]},
    {"group": 65276, "period": "1 s", "bytes": 8, "parameters": [96]},
]
MANY = [
    {"group": 65280 + number, "period": "10 ms", "bytes": 8, "parameters": [520192 + number]} for number in range(9)
]
"""Messages of an example, in groups that makers use as they like."""


# -- load -------------------------------------------------------------------------------------------------------------
@rule(
    "network.bus-load",
    level="warning",
    due="build",
    sources=[q.FRAMES, q.PACKETS, LOAD.giving("limit", "40 %")],
    about=f"{N}.nodes",
    each=topology.lines,
    bad=[{f"{N}.nodes.body.sends": [*BODY, *MANY]}],
    good=[{f"{N}.nodes.body.sends": [*BODY, MANY[0]]}],
)
def bus_load(build: Build, line: Any) -> Verdict:
    """Is the traffic low enough for every message to come in time?

    Computes: the length of every periodic frame over its period and the bit rate, without stuff bits and with the
    most that stuffing can add; what has more than 8 bytes is counted as an announcement and packets.
    Limit: 40 % without stuff bits (common practice); stuffing adds a quarter at the most, so that it is then half.
    Consequence: Messages come late: gauges lag, and controllers that wait for each other store faults.
    Remedy: longer periods for what need not be quick, or a second bus behind a gateway.
    Cannot tell: bursts of several packets at once, messages on request, and frames repeated after errors.
    """
    worst, average = q.worst_bus_load(build, line), q.bus_load(build, line)
    bus = topology.bus_of(build, line)
    number, rate = len(q.messages(bus)), shown(q.bit_rate(bus), "bit_rate", "kbit/s")
    busiest = max(bus.devices.values(), key=_frames_per_second, default=None)
    on = f"{path_of(busiest)}.sends" if busiest is not None else f"{N}.nodes"
    says = (
        f"{number} periodic messages take {shown(average)} of the time at {rate}, {shown(worst)} with the most "
        "stuff bits."
    )
    return at_most(average, LOAD_AVERAGE, says, on=on)


def _frames_per_second(device: Any) -> float:
    return sum(1.0 / message.period for message in device.sends if not given(lambda m=message: m.on_request))  # type: ignore[misc]


# -- who needs what ---------------------------------------------------------------------------------------------------
def readers(build: Build) -> list[Any]:
    """The devices that need something from the bus."""
    return [node for node in topology.nodes(build) if given(lambda node=node: tuple(node.needs)) != ()]  # type: ignore[misc]


@rule(
    "network.signal-availability",
    level="error",
    due="quote",
    sources=[
        sheet("engine.network.sends"),
        sources.BUS_PARAMETERS.giving("formula", "parameters and the groups that carry them", known="second-hand"),
        REALLY_SENT.giving("limit", "nothing is missing"),
    ],
    about=f"{N}.nodes",
    each=readers,
    without={
        f"{N}.nodes.*.listens_to": HEARS[f"{N}.nodes.*.listens_to"],
        "engine.network.sends[].on_request": "A message comes by itself unless its maker says that it waits to be "
        "asked.",
    },
    bad=[
        {f"{N}.nodes.cluster.needs": [190, 110, 175]},
        {"engine.network.sends[4].parameters": [94]},
        {f"{N}.nodes.body.sends[2]": None},
        {
            "engine.network.sends[7]": {"group": 65253, "bytes": 8, "parameters": [247], "on_request": True},
            f"{N}.nodes.cluster.needs": [190, 110, 247],
            f"{N}.nodes.cluster.requests": False,
        },
    ],
    good=[{f"{N}.nodes.cluster.needs": [190, 175], f"{N}.nodes.cluster.own_sensors": [175]}],
)
def signal_availability(build: Build, node: Any) -> Verdict:
    """Is every gauge, lamp and controller that reads the bus really sent its signal?

    Computes: the parameters that the device needs, less those that the devices on the same bus really fill and those
    that it measures by a sender of its own. A device that takes messages from stated addresses only hears no others.
    Limit: nothing is missing: an error for oil pressure, coolant and oil temperature, else a warning. What is sent on
    request only must be asked for. A parameter counts in the group that carries it. A group that is sent with the
    parameter as 'not available' does not count.
    Consequence: A gauge, lamp or controller stays dead, and the driver does not see what it should have told.
    Remedy: a sender of its own for the gauge, or a converter that measures and sends the parameter in its
    group. An engine knows neither fuel level nor road speed: tank sender and wheel sensor do.
    Cannot tell: what a sheet calls supported; how good the value is.
    """
    bus = topology.bus_with(build, node)
    if bus is None:
        return does_not_apply(
            f"No bus cable joins {topology.point_of(build, node)} to a trunk: see network.stub-length."
        )
    numbers = [int(number) for number in node.needs]
    return all_of({f"gets.{number}": lambda number=number: _gets(build, node, bus, number) for number in numbers})  # type: ignore[misc]


def _gets(build: Build, node: Any, bus: topology.Bus, number: int) -> Verdict:
    """Whether a device gets one parameter."""
    point, on = topology.point_of(build, node), f"{path_of(node)}.needs"
    what, level = j1939_numbers.parameter_name(number), _level(number)
    if number in {int(own) for own in given(lambda: tuple(node.own_sensors)) or ()}:
        return holds(True, f"{point} measures {what} by a sender of its own.", on=on)
    others = {name: device for name, device in bus.devices.items() if name != point}
    unheard = _unheard(node, others)
    sent = _sent_by({name: device for name, device in others.items() if name not in unheard}, number)
    if sent is None:
        deaf_to = _sender_of(number, {name: others[name] for name in others if name in unheard})
        if deaf_to:
            says = f"{what} comes from {deaf_to}, address {others[deaf_to].address:g}, and {point} takes no messages "
            return holds(False, f"{says}from there: set it to do so.", level=level, on=f"{path_of(node)}.listens_to")
        says = f"{point} needs {what}, which no device on its bus sends{_misplaced(others, number)}. "
        says += _help(build, number)
        return holds(False, says, level=level, on=on)
    if sent and not node.requests:
        says = f"{what} is sent on request only, and {point} never asks for it."
        return holds(False, says, level=level, on=on, advice=advice(f"{path_of(node)}.requests", True))
    return holds(True, f"{point} gets {what}.", on=on)


def _unheard(node: Any, others: dict[str, Any]) -> set[str]:
    """The devices that a device takes no messages from: it names addresses, or none at all, and theirs is not there."""
    named = given(lambda: tuple(node.listens_to))
    if named is None:
        return set()
    heard = {int(address) for address in named}
    addresses = {name: given(lambda device=device: int(device.address)) for name, device in others.items()}  # type: ignore[misc]
    if not heard <= set(addresses.values()):
        return set()  # an address that nobody has: network.addresses tells that
    return {name for name, address in addresses.items() if address is not None and address not in heard}


def _sender_of(number: int, senders: dict[str, Any]) -> str:
    return next((name for name, device in senders.items() if _sent_by({name: device}, number) is False), "")


def _level(number: int) -> Any:
    return "error" if number in VITAL else "warning"


def _sent_by(senders: dict[str, Any], number: int) -> bool | None:
    """Whether a parameter comes on request only; None where nobody sends it."""
    known = j1939_numbers.PARAMETERS.get(number)
    on_request: bool | None = None
    for device in senders.values():
        for message in device.sends:
            carries_it = known is None or int(message.group) == known.group
            stated = given(lambda message=message: tuple(message.parameters))  # type: ignore[misc]
            if stated is None and carries_it:
                stated = tuple(message.parameters)  # not known whether it is in there: ends the rule
            if carries_it and number in {int(n) for n in stated or ()}:
                if not given(lambda message=message: message.on_request):  # type: ignore[misc]
                    return False
                on_request = True
    return on_request


def _misplaced(senders: dict[str, Any], number: int) -> str:
    """Where a parameter is said to be sent in a group that does not carry it; empty where it is not sent at all."""
    for name, device in senders.items():
        for message in device.sends:
            if number in {int(n) for n in given(lambda message=message: tuple(message.parameters)) or ()}:  # type: ignore[misc]
                return f" where it is looked for: {name} is said to send it in group {int(message.group)}"
    return ""


LAMP_FOR = {100: "oil-pressure", 110: "coolant-temperature", 97: "water-in-fuel", 111: "coolant-level"}


def _help(build: Build, number: int) -> str:
    """What gives a device the parameter, as words."""
    known = j1939_numbers.PARAMETERS.get(number)
    pieces = []
    if LAMP_FOR.get(number) in (given(lambda: tuple(build.engine.outputs.lamps)) or ()):
        pieces.append("The engine has a lamp output only for it, which is no value.")
    if known is not None and known.known_by == "vehicle":
        pieces.append("It is for the vehicle to know, not the engine.")
    group = f" in group {known.group}" if known is not None else ""
    pieces.append(f"Give it a sender of its own, or fit a converter that sends {number}{group}.")
    return " ".join(pieces)
