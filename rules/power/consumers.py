"""Rules of the list of consumers: every electric device that other systems state is in it, and a cable feeds each."""

from __future__ import annotations

from functools import partial
from typing import Any

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    name_of,
    needs_review,
    path_of,
    practice,
    rule,
    shown,
)

from . import charging_quantities as c
from . import hanging, network
from . import quantities as q

WHOLE = practice("every electric device of the build is in the list of consumers, and its cable carries its current")
AGREES = 1.05
"""Current of a consumer over what its own cables are said to carry: 5 % for rounding."""
FED = practice("a consumer of 5 A and more hangs on a cable of the drawing, which carries the current of all on it")
SMALL = 5.0
"""Amperes below which nobody asks on which cable a consumer hangs: common practice."""

FAN, PUMP, HEATER = "plumbing.cooling.fan", "plumbing.fuel.pump", "plumbing.cooling.heater"
SECOND_FAN, COOLANT_PUMP = "plumbing.cooling.second_fan", "plumbing.cooling.electric_pump"
FUEL = "plumbing.fuel"
"""Stands for the fuel filters that nobody states."""
STEERING, REDUCTANT, SUPPLY = "vehicle.steering", "plumbing.reductant", "plumbing.fuel.supply"
NAMES = {
    FAN: "the radiator's fan",
    SECOND_FAN: "the radiator's second fan",
    COOLANT_PUMP: "the electric coolant pump",
    PUMP: "the fuel pump",
    HEATER: "the cab heater's blower",
    STEERING: "the electric steering assistance",
    REDUCTANT: "the heating of the reductant line",
    SUPPLY: "the heating of the fuel line",
}
NEVER_OFF = ("lamps", c.UNIT)
"""Consumers that are on whenever the vehicle is under way at night."""
MOST_OF_NIGHT = 0.5
"""Share of the night below which what is never off is doubted."""
LEAST_LIGHT = 40.0
"""Lamps of a road vehicle, front and rear, W: two dipped beams of diodes and the rear lamps, by common practice."""
FAR_BELOW = 0.25
"""Average current of a control unit over the highest currents of its feeds below which one of them is doubted."""
CABLES = {FAN: "fan", PUMP: "fuel-pump"}
"""Devices whose cables have a role of their own."""


def devices(build: Build) -> list[Any]:
    """What may take current, as other systems state it; pump and booster of the brakes are judged by chassis."""
    plumbing = build.plumbing
    filters = given(lambda: list(plumbing.fuel.filters.values()))
    asked = [plumbing.fuel] if filters is None else filters
    always = [plumbing.cooling.fan, plumbing.cooling.heater, plumbing.fuel.pump, build.vehicle.steering]
    seldom: list[Any] = [plumbing.cooling.second_fan, plumbing.cooling.electric_pump]
    there = [device for device in seldom if given(partial(is_fitted, device))]
    every = [*always, plumbing.fuel.supply, *asked, plumbing.reductant, *there, *c.left_out(build)]
    return every + [load for load in _listed(build) if path_of(load) not in map(path_of, every)]


def _listed(build: Build) -> list[Any]:
    """The consumers that every vehicle has, as listed: lamps and control unit; also what is said not to be fitted."""
    some = [load for load in build.electrics.loads.values() if any(c.is_always(load, kind) for kind in c.ALWAYS)]
    return [load for load in some if not is_fitted(load) or any(c.is_always(load, kind) for kind in NEVER_OFF)]


def takes_current(build: Build, device: Any) -> bool:
    """Whether a device is there and takes current. Raises `Unknown` where nobody says; a heater not named is none."""
    path = path_of(device)
    if path == STEERING:
        return bool(device.assist == "electric")
    if path in (SECOND_FAN, COOLANT_PUMP):
        return is_fitted(device)
    if path == REDUCTANT and not is_fitted(build.engine.reductant):
        return False
    if path not in (FAN, HEATER, PUMP):
        return bool(given(lambda: device.heater_power))
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
    without={
        "engine.ecm.feeds": "What a control unit's feeds are made for is asked by controls.ecm-feed.",
        "plumbing.fuel.filters.*.heater_power": "A filter that states no heater has none; fuel.cold-flow says where "
        "the cold asks for one.",
        "plumbing.reductant.heater_power": "The heating of the reductant's line is asked by exhaust.reductant.",
    },
    bad=[
        {f"{HEATER}.load": "no-such-consumer"},
        {
            f"{FAN}.drive": "electric",
            f"{FAN}.curve_voltage": "13 V",
            f"{FAN}.motor_voltage": "13 V",
            f"{FAN}.curve": [{"flow": "0 m3/s", "pressure": "250 Pa"}, {"flow": "1.5 m3/s", "pressure": "0 Pa"}],
            "vehicle.clearances.fan_shroud.gap": "5 mm",
            "electrics.cables.fan.current": "5 A",
        },
    ],
    good=[{f"{HEATER}.load": "lamps"}],
)
def consumers_counted(build: Build, device: Any) -> Verdict:
    """Does the list of consumers count every electric device that the build has?

    Computes: which devices take current by what the other systems say of them: an electric fan, an electric fuel pump,
    the blower of the cab heater, electric steering, heaters of fuel and reductant; the consumer that each names. Lamps,
    wipers and the engine's control unit are looked for by the consumers' own names, by `stands_for`, and the control
    unit by a cable of its feeds, too.
    Limit: the consumer is in the list; lamps, wipers and a control unit that the engine has are asked for, and
    `fitted = false` says that there are none: of lamps and control unit that is a fail. A person decides where these
    two are said to be off for half of the night, lamps to take less than 40 W, or a control unit less than a quarter
    of what its feeds are made for. Heaters of fuel and reductant take no more than the consumer that they name, to 5 %.
    A fuel pump has a cable; the cables of fan and fuel pump carry its current, to 5 %.
    Consequence: A consumer that nobody counted flattens the battery, or overheats a cable made for less.
    Remedy: list the consumer with its current and its shares, or name the one that counts it with `load`; state the
    same current for the cable. What is not in the list is in no charge balance.
    Cannot tell: other devices that no part of the spec names, such as work lamps, a winch, a radio. The current of the
    intake heater stands in the engine package's data sheet; vacuum pump and booster are judged by chassis.
    """
    if path_of(device) == FUEL:
        return does_not_apply(f"{len(build.plumbing.fuel.filters)} fuel filters are stated.")  # asks for them
    if path_of(device).startswith("electrics.loads."):
        return _always_there(build, device)
    if not takes_current(build, device):
        return does_not_apply(f"{_what(device).capitalize()} takes no current, or is not there.")
    name, what, on = str(device.load), _what(device), f"{path_of(device)}.load"
    load = build.electrics.loads.get(name)
    if load is None or not is_fitted(load):
        says = f"The electrics list no consumer {name}, which is {what}: its current is not counted."
        return all_of(counted=lambda: holds(False, says, on=on))
    demands = {"counted": lambda: holds(True, f"The consumer {name} counts {what}.", on=on)}
    if _is_heater(device) and path_of(_heaters_on(build, name)[0]) == path_of(device):  # once for all that it counts
        demands["heats"] = lambda: _heats(build, load)
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


def _always_there(build: Build, load: Any) -> Verdict:
    """What is said of a consumer that no other part of the spec names: asked for, or said not to be there."""
    if path_of(load) in map(path_of, c.left_out(build)):
        return all_of(counted=lambda: holds(bool(load.current), "It is counted."))  # asks for it
    if is_fitted(load):
        return all_of(never_off=lambda: _never_off(build, load))
    name, on = name_of(load), f"{path_of(load)}.fitted"
    fitted, kinds = c.loads(build), [kind for kind in c.ALWAYS if c.is_always(load, kind)]
    if all(any(c.is_always(other, kind) for other in fitted) for kind in kinds):
        return does_not_apply("Another consumer counts it.")
    if c.UNIT in kinds:
        if any(c.feeds_unit(build, other) for other in fitted):
            return does_not_apply("Another consumer counts it.")
        if not is_fitted(build.engine.ecm):
            return does_not_apply("The engine has no control unit.")
        says = f"The engine has a control unit, which takes current, and {name} is said not to be there: list it."
        return all_of(counted=lambda: holds(False, says, on=on))
    if "lamps" in kinds:
        says = f"The consumer {name} is said not to be there: without lamps no vehicle may be on a road at night."
        return all_of(counted=lambda: holds(False, says, on=on))
    return does_not_apply(f"No {name} are fitted.")


def _never_off(build: Build, load: Any) -> Verdict:
    """Whether what is on all night is said to be on, and takes about what its feeds are made for."""
    name = name_of(load)
    for duty in ("duty_idle", "duty_cruise"):
        if getattr(load, duty) < MOST_OF_NIGHT:
            says = f"The consumer {name} is said to be on for {shown(getattr(load, duty))} of the night, for which the "
            says += "charge balance is reckoned: it is on all the time."
            return needs_review(says, on=f"{path_of(load)}.{duty}")
    if c.is_always(load, "lamps") and load.current * load.voltage < LEAST_LIGHT:
        watts = shown(load.current * load.voltage, "power", "W", digits=2)
        says = f"The lamps take {shown(load.current)}, {watts}: those of a road vehicle, front and rear, take 40 W "
        says += "and more. Look up the number and its unit."
        return needs_review(says, on=f"{path_of(load)}.current", found=load.current)
    takes, feeds = load.current, 0.0
    if c.is_always(load, c.UNIT) and not c.is_odd(build, load):
        feeds = given(lambda: sum(feed.current for feed in build.engine.ecm.feeds.values())) or 0.0
    if takes < FAR_BELOW * feeds:
        says = f"The consumer {name} takes {shown(takes)}, and the feeds of the control unit are made for "
        return needs_review(f"{says}{shown(feeds, 'current', 'A')}: look up both.", on=f"{path_of(load)}.current")
    return holds(True, f"The consumer {name} is counted for the night.", on=f"{path_of(load)}.current")


def _heats(build: Build, load: Any) -> Verdict:
    """Whether a consumer takes the current of all heaters that name it."""
    power = sum(device.heater_power for device in _heaters_on(build, name_of(load)))
    wanted, on = power / load.voltage, f"{path_of(load)}.current"
    says = f"The heaters that name {name_of(load)} have {shown(power, 'power', 'W')}, at {shown(load.voltage)} "
    says += f"{shown(wanted, 'current', 'A')}; the consumer takes {shown(load.current)}."
    if wanted > AGREES * load.current:
        says += " What is counted too low overheats its cable and flattens the battery: put it right."
    return at_most(wanted, AGREES * load.current, says, on=on, unit=("current", "A"), advice=advice(on, wanted))


def _heaters_on(build: Build, name: str) -> list[Any]:
    """The heaters that a consumer counts."""
    return [device for device in devices(build) if given(partial(_heater_of, build, device)) == name]


def _heater_of(build: Build, device: Any) -> str:
    """The consumer that counts a heater, and that device is one which takes current."""
    heats = _is_heater(device) and takes_current(build, device)
    return str(device.load) if heats else ""


def _is_heater(device: Any) -> bool:
    path = path_of(device)
    return path in (SUPPLY, REDUCTANT) or path.startswith(f"{FUEL}.filters.")


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


def fed(build: Build) -> list[Any]:
    """The consumers, and the cables that consumers hang on."""
    every: list[Any] = c.loads(build)
    return every + [cable for cable in network.cables(build) if hanging.on_cable(build, cable)]


def _compared_elsewhere(build: Build, cable: Any) -> bool:
    """Whether all that hangs on a cable is the consumer of a device that power.consumers-counted compares with it."""
    on_it = {name_of(load) for load in hanging.on_cable(build, cable)}
    for device in (build.plumbing.cooling.fan, build.plumbing.fuel.pump):
        if cable.role != CABLES[path_of(device)] or not given(lambda device=device: takes_current(build, device)):  # type: ignore[misc]
            continue
        on_it.discard(given(lambda device=device: str(device.load)) or "")  # type: ignore[misc]
    return not on_it


@rule(
    "power.consumers-fed",
    level="warning",
    due="build",
    sources=[FED.giving("limit", "consumers of 5 A and more, the cable's current to 5 %")],
    cautions=[cautions.FUEL_FIRE],
    about="electrics.loads",
    each=fed,
    without={
        "electrics.loads.*.fed_by": "Asked of every consumer of 5 A and more that no cable ends at; smaller ones leave "
        "room on whatever feeds them.",
    },
    bad=[
        {"electrics.loads.lamps.fed_by": []},
        {"electrics.loads.lamps.fed_by": ["no-such-cable"]},
        {"electrics.cables.tail_lamps.current": "5 A"},
    ],
    good=[{"electrics.loads.lamps.current": "12.3 A"}],
)
def consumers_fed(build: Build, part: Any) -> Verdict:
    """Does a cable of the drawing feed every consumer, and carry the current of all that hang on it?

    Computes: the cables that each consumer names with `fed_by`, else those that end at a node of its name; for each
    such cable the sum of its consumers and branches. Of several cables each takes what it is said to carry and the last
    one the rest. Through a converter the smaller of the two currents counts.
    Limit: a consumer of 5 A and more hangs on a cable that is listed; its consumers take no more than the cable is said
    to carry, to 5 % (common practice). Fuse, size and voltage drop are judged by what it is said to carry.
    Consequence: Cable and fuse are chosen for less than what hangs on them: it goes dark on the road.
    Remedy: list the cable and name it with `fed_by`, or name the feeder where the old wiring is kept; state as the
    cable's current what the clamp reads with everything on, or lead some consumers elsewhere.
    Cannot tell: many small consumers on one cable that nobody names.
    """
    if path_of(part).startswith("electrics.cables."):
        if _compared_elsewhere(build, part):
            return does_not_apply("power.consumers-counted compares it with its consumer.")
        return all_of(current=lambda: _carries_all(build, part))
    names, on = hanging.feeding(build, part), f"{path_of(part)}.fed_by"
    if names is None and part.current < SMALL:
        return does_not_apply(f"It takes {shown(part.current)}, less than {shown(SMALL, 'current', 'A')}.")
    if names is None:
        len(part.fed_by)  # asks for it
    if not names:
        return all_of(fed=lambda: holds(False, "No cable feeds it: list its cable and name that in fed_by.", on=on))
    lacking = hanging.missing(build, part)
    says = f"It is fed by {', '.join(names)}."
    if lacking:
        says = f"It names {', '.join(lacking)}, and no fitted cable of electrics.cables is called so: list it there."
    return all_of(fed=lambda: holds(not lacking, says, on=on))


def _carries_all(build: Build, cable: Any) -> Verdict:
    on, stated = f"{path_of(cable)}.current", q.current_in(build, cable)
    if cable.role in network.HEATERS:
        on = f"{path_of(network.heater_of(build, cable))}.current"
    share, twins = given(lambda: cable.branch_share), network.consumers_alongside(build, cable)
    own = hanging.hung(build, cable) * (1.0 if share is None else share) / max(1, len(twins))
    found = q.behind(build, cable) + own
    says = f"Consumers and branches on it take {shown(found, 'current', 'A')} together; it is said to carry "
    says += f"{shown(stated, 'current', 'A')}."
    if found > AGREES * stated:
        says += " State the whole of it, so that size and fuse are judged by it, or lead some of them elsewhere."
    return at_most(found, AGREES * stated, says, on=on, unit=("current", "A"))
