"""Rules of the circuit outside the engine: filling and venting, hoses, thermostat."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    each_of,
    given,
    holds,
    is_fitted,
    name_of,
    or_practice,
    path_of,
    practice,
    rule,
    sheet,
    shown,
    told,
    use_practice,
    within,
)
from swaplint.engineering import pipes
from swaplint.spec.systems.cooling import CircuitBranch, CoolantHose, CoolantPort
from swaplint.spec.systems.cooling.circuit import CoolantVent

from .. import sources
from ..needed import needed
from . import circuit_quantities as q
from . import heater, pump
from .walk import followed

TANK_HEIGHT = practice("the expansion tank's coolant stands above the highest coolant in engine and radiator").giving(
    "limit", "height of the tank"
)
VENT_RUN = practice("a vent rises all the way and enters above the coolant alone, a fill line ends at the pump").giving(
    "limit", "way of vents and fill line"
)
HOSE_FIT = practice("a hose is as wide as its port, and on the suction side it does not collapse").giving(
    "limit", "bore of the port, shape of the hose"
)
CONNECTED = practice("every port in use once, and a bypass that nothing can shut").giving(
    "limit", "one run to each port, an open bypass"
)
VENT_SIZE = practice("vent orifices of 2 to 4 mm: smaller ones block, larger ones pass the radiator by")
VENT_SMALLEST = Practice("vent orifice of at least 2 mm", 2e-3, VENT_SIZE)
VENT_LARGEST = Practice("vent orifice of at most 4 mm", 4e-3, VENT_SIZE)
FILL_LINE = Practice(
    "fill line of at least 19 mm", 19e-3, practice("a fill line of at least 19 mm to the pump's inlet")
)
RESTRICTION = Practice("hoses and radiator at most 35 kPa", 35e3, practice("an external circuit of at most 35 kPa"))
HOSE_SPEED = practice("coolant at most 2.5 m/s on the suction side and 3 m/s on the delivery side")
SUCTION_SPEED = Practice("coolant at most 2.5 m/s on the suction side", 2.5, HOSE_SPEED)
DELIVERY_SPEED = Practice("coolant at most 3 m/s on the delivery side", 3.0, HOSE_SPEED)


@rule(
    "cooling.fill-deaeration",
    level="warning",
    due="build",
    sources=[sheet("engine.coolant.vents"), sheet("engine.coolant.fill_line_bore_min"), TANK_HEIGHT, VENT_RUN],
    cautions=[cautions.HOT],
    about="plumbing.cooling.expansion_tank",
    adjust=["plumbing.cooling.expansion_tank.above_highest", "plumbing.cooling.expansion_tank.fill_line_bore"],
    fallbacks=[VENT_SMALLEST, VENT_LARGEST, FILL_LINE],
    bad=[
        {"plumbing.cooling.expansion_tank.above_highest": "-60 mm"},
        {"plumbing.cooling.expansion_tank.fill_line_bore": "12 mm"},
        {"plumbing.cooling.vents.cylinder_head": None},
        {"plumbing.cooling.vents.radiator.rises": False},
    ],
    good=[
        {"plumbing.cooling.expansion_tank.above_highest": "-60 mm", "plumbing.cooling.expansion_tank.remote_fill": True}
    ],
)
def fill_deaeration(build: Build) -> Verdict:
    """Can the system be filled without trapped air, and does it purge air while it runs?

    Computes: nothing; it looks at the height of the expansion tank over engine and radiator, at every vent that the
    engine's data sheet names, and at the line from the tank to the pump.
    Limit: the lowest coolant in the tank stands at least level with the highest coolant in engine and radiator, or the
    system is filled at its highest point by other means; else it is an error. Each vent of the data sheet is led to the
    tank, rises all the way and enters above the coolant through an entry of its own, with an orifice of 2 to 4 mm. A
    fill line of the sheet's bore, else 19 mm, alone to the pump's inlet (common practice).
    Consequence: Air stays in the engine: hot spots, a cold heater, in the end a cracked head.
    Remedy: raise the tank; add the vents that are missing.
    Cannot tell: the rate at which it really fills, and where air collects on a slope: fill it level and watch it.
    """
    tank = build.plumbing.cooling.expansion_tank
    here = path_of(tank)

    def height() -> Verdict:
        above = tank.above_highest
        if above < 0.0 and given(lambda: tank.remote_fill) is True:
            return holds(True, "The tank is not the highest point, but the system is filled by other means.")
        says = f"The tank's coolant is {shown(above)} above the highest coolant in engine and radiator."
        if above < 0.0:
            up = shown(-above, "length", "mm")
            says = (
                f"The tank's coolant is {up} below the highest coolant in engine and radiator: air stays there. Raise "
                f"the tank, or fill at the highest point by other means."
            )
        field = f"{here}.above_highest"
        level_with = advice(field, 0.0)
        return at_least(above, 0.0, says, level="error", on=field, unit=("length", "mm"), advice=level_with)

    def all_vents() -> Verdict:
        fitted = {name for name, vent in build.plumbing.cooling.vents.items() if is_fitted(vent)}
        missing = [str(name) for name in build.engine.coolant.vents if str(name) not in fitted]
        says = f"Led to the tank: {', '.join(sorted(fitted)) or 'no vent'}."
        if missing:
            says += f" The engine also asks for: {', '.join(missing)}: lead them there too."
        return holds(not missing, says, on="plumbing.cooling.vents")

    def fill_line() -> Verdict:
        bore = tank.fill_line_bore
        least = or_practice(lambda: build.engine.coolant.fill_line_bore_min, FILL_LINE)
        says = f"The fill line has a bore of {shown(bore)}; it takes {shown(least, 'length', 'mm')} or more."
        if bore < least:
            says += " The pump draws air instead of coolant: fit a wider line."
        field = f"{here}.fill_line_bore"
        return at_least(bore, least, says, on=field, advice=advice(field, least))

    def to_pump() -> Verdict:
        says = (
            "The fill line ends at the pump's inlet and carries nothing else."
            if tank.fill_line_to_pump
            else "The fill line must end at the pump's inlet and carry nothing else, to keep pressure on the pump."
        )
        return holds(tank.fill_line_to_pump, says, on=f"{here}.fill_line_to_pump")

    def rises(vent: CoolantVent) -> Verdict:
        says = f"The vent {name_of(vent)} {'rises' if vent.rises else 'must rise'} all the way to the tank."
        return holds(vent.rises, says, on=f"{path_of(vent)}.rises")

    def own_entry(vent: CoolantVent) -> Verdict:
        enters = f"The vent {name_of(vent)} {{}} the tank above the coolant through an entry of its own"
        says = f"{enters.format('enters')}." if vent.own_entry else f"{enters.format('does not enter')}: give it one."
        return holds(vent.own_entry, says, on=f"{path_of(vent)}.own_entry")

    def orifice(vent: CoolantVent) -> Verdict:
        low, high, field = (
            use_practice(build, VENT_SMALLEST),
            use_practice(build, VENT_LARGEST),
            f"{path_of(vent)}.orifice",
        )
        says = f"The vent {name_of(vent)} has an orifice of {shown(vent.orifice)}; {told('2 to 4 mm')} are usual."
        nearest = advice(field, low if vent.orifice < low else high)
        return within(vent.orifice, low, high, says, on=field, advice=nearest)

    demands: dict[str, Callable[[], Verdict]] = {
        "height": height,
        "vents": all_vents,
        "fill-line": fill_line,
        "fill-line-end": to_pump,
    }
    for vent in given(lambda: each_of(build.plumbing.cooling.vents)) or []:
        if is_fitted(vent):
            demands[f"rises.{name_of(vent)}"] = partial(rises, vent)
            demands[f"entry.{name_of(vent)}"] = partial(own_entry, vent)
            demands[f"orifice.{name_of(vent)}"] = partial(orifice, vent)
    return all_of(demands)


STARTS = {"to-radiator", "heater-feed"}
ENDS = {"from-radiator", "heater-return"}
"""Uses of the ports that coolant leaves the engine by, and comes back to."""


@rule(
    "cooling.external-circuit",
    level="warning",
    due="build",
    sources=[
        sheet("engine.coolant.external_restriction_max"),
        sheet("plumbing.cooling.electric_pump.pressure"),
        sheet("engine.coolant.flow").giving("limit", "flow of the engine's own pump", demands=["electric-pump"]),
        sheet("engine.coolant.ports"),
        sources.PIPE_FLOW.giving("formula", "pressure loss of pipe flow"),
        sources.FITTINGS.giving("formula", "pressure loss of bends and fittings"),
        HOSE_FIT,
    ],
    cautions=[cautions.HOT],
    about="plumbing.cooling.hoses",
    adjust=["plumbing.cooling.hoses.*.bore"],
    fallbacks=[RESTRICTION, SUCTION_SPEED, DELIVERY_SPEED],
    bad=[
        {"plumbing.cooling.hoses.*.bore": "28 mm", "supply[10].metres_of_hose": []},
        {"plumbing.cooling.radiator.coolant_drop": "40 kPa"},
        {"plumbing.cooling.hoses.lower.holds_shape": False},
        {"plumbing.cooling.hoses.upper.port": "radiator_in"},
    ],
    good=[
        {"plumbing.cooling.hoses.*.bore": "42 mm"},
        {pump.ELECTRIC_PUMP: {"flow": "160 L/min", "pressure": "40 kPa", "load": "fan"}},
    ],
    without={
        "plumbing.hoses.*.carries": "What a hose carries is asked by chassis.hoses.",
        "plumbing.hoses": "The hoses to the cab heater are asked by chassis.hoses.",
        f"{pump.ELECTRIC_PUMP}.fitted": "Every engine has a pump of its own; an electric one in its place is a part "
        "that somebody buys and wires, and stands among the consumers.",
    },
)
def external_circuit(build: Build) -> Verdict:
    """Are hoses and radiator free enough for the engine's pump, and is the suction side safe from collapse?

    Computes: the loss of the radiator and of each hose at rated flow, Δp = (f·L/d + ΣK)·ρ·v²/2, coolant at 80 °C; and
    the speed of the coolant in each hose. Ports of one use, as an engine with two thermostats has, share the flow
    evenly.
    Limit: the engine's greatest external restriction, else 35 kPa; of an electric pump in place of the engine's own the
    pressure that it has left, and the flow of the engine's own at rated speed; 2.5 m/s on the suction side and 3 m/s on
    the delivery side (common practice). No hose narrower than the port that it is on, and none on a port of the other
    side: an error. A hose of the cab heater as wide as its port, to 1 mm, where no joint for coolant is listed (common
    practice). A hose at every port to and from the radiator. A suction hose that holds its shape.
    Consequence: Too little coolant flows, or a hose collapses, and the engine overheats under load.
    Remedy: a wider hose; fewer bends; a moulded or sprung suction hose.
    Cannot tell: kinks, and hoses that soften with age.
    """
    demands: dict[str, Callable[[], Verdict]] = {
        "restriction": lambda: _restriction(build),
        "hoses": lambda: _every_port(build),
    }
    if pump.is_electric(build):
        demands["electric-pump"] = lambda: _as_much(build)
    for hose in given(lambda: heater.hoses(build)) or []:
        demands[f"heater.{name_of(hose).replace('_', '-')}"] = partial(heater.judged, build, hose)
    for hose in q.hoses(build):
        name = name_of(hose)
        demands[f"speed.{name}"] = partial(_hose_speed, build, hose)
        demands[f"port.{name}"] = partial(_hose_port, build, hose)
        demands[f"shape.{name}"] = partial(_hose_shape, hose)
    return all_of(demands)


def _restriction(build: Build) -> Verdict:
    if pump.is_electric(build):
        most = build.plumbing.cooling.electric_pump.pressure
    else:
        most = or_practice(lambda: build.engine.coolant.external_restriction_max, RESTRICTION)
    whole, core, flow = q.external_restriction(build), q.radiator_drop(build), pump.rated_flow(build)
    says = f"At {shown(flow)} hoses and radiator take {shown(whole)}, of which the radiator {shown(core)}."
    if whole > most:
        says += " The pump moves too little: it takes wider hoses, fewer bends or a radiator of lower loss."
    return at_most(whole, most, says)


def _as_much(build: Build) -> Verdict:
    """Whether an electric pump moves what the engine's own pump does at rated speed."""
    found, wanted = pump.rated_flow(build), build.engine.coolant.flow
    says = f"The electric pump moves {shown(found)}; the engine's own one moves {shown(wanted)} at rated speed."
    if found < wanted:
        says += " Heads and liners may boil at full load where the radiator alone would do: ask the engine maker, or "
        says += "fit a larger one."
    return at_least(found, wanted, says, on=f"{pump.ELECTRIC_PUMP}.flow")


def _every_port(build: Build) -> Verdict:
    """Whether a hose is stated at each port between engine and radiator: what is left out loses no pressure here."""
    hoses, ports = q.hoses(build), build.engine.coolant.ports
    to_and_from = [name for name, port in ports.items() if port.use in ("to-radiator", "from-radiator")]
    named = {str(hose.port) for hose in hoses}
    bare = [name for name in to_and_from if name not in named and not _may_be_plugged(ports[name])]
    if bare and any(name not in to_and_from for name in named):
        return does_not_apply("A hose sits on another port: see there.")
    says = "A hose is stated at every port to and from the radiator."
    if bare:
        says = f"No hose is stated at {' and '.join(bare)}: what it loses, and whether it collapses, nobody looks at. "
        says += "State it."
    return holds(not bare, says, on="plumbing.cooling.hoses")


def _port_of(build: Build, hose: CoolantHose) -> CoolantPort | None:
    port: CoolantPort | None = build.engine.coolant.ports.get(str(hose.port))
    return port


def _hose_speed(build: Build, hose: CoolantHose) -> Verdict:
    most = use_practice(build, SUCTION_SPEED if hose.side == "suction" else DELIVERY_SPEED)
    speed, field, wider = q.hose_velocity(build, hose), f"{path_of(hose)}.bore", None
    says = f"In the {name_of(hose)} hose, {shown(hose.bore)}, the coolant runs at {shown(speed)}."
    if speed > most:
        port, flow = given(lambda: _port_of(build, hose)), q.flow_in(build, hose)
        bores = [width for width in pipes.HOSE_BORES if port is None or width >= port.bore]
        bore = next((width for width in bores if pipes.mean_velocity(flow, width) <= most), None)
        says += " A wider one would do." if bore else " No usual hose is wide enough."
        wider = advice(field, bore) if bore else None
    return at_most(speed, most, says, on=field, advice=wider)


def _hose_port(build: Build, hose: CoolantHose) -> Verdict:
    port, name, at = _port_of(build, hose), name_of(hose), path_of(hose)
    if port is None:
        return holds(False, f"The engine has no port {hose.port} for the {name} hose.", on=f"{at}.port")
    if port.use in (STARTS if hose.side == "suction" else ENDS):
        way = "to the pump" if hose.side == "suction" else "away from the engine"
        says = f"The {name} hose is to lead {way}, and sits on the port {hose.port} ({port.use}): it is crossed."
        return holds(False, says, level="error", on=f"{at}.port")
    says, field = f"The {name} hose has {shown(hose.bore)}, its port {shown(port.bore)}.", f"{at}.bore"
    if hose.bore < port.bore:
        says += " It throttles the port: fit one as wide."
    return holds(hose.bore >= port.bore, says, on=field, advice=advice(field, port.bore))


def _hose_shape(hose: CoolantHose) -> Verdict:
    if hose.side != "suction":
        return does_not_apply(f"The {name_of(hose)} hose is not on the suction side: nothing draws it flat.")
    says = f"The {name_of(hose)} hose is on the suction side and "
    says += "holds its shape." if hose.holds_shape else "is drawn flat: fit a moulded one, or one with a spring inside."
    return holds(hose.holds_shape, says, on=f"{path_of(hose)}.holds_shape")


@rule(
    "cooling.thermostat-circuit",
    level="error",
    due="quote",
    sources=[sheet("engine.coolant.ports"), sheet("engine.thermostat.bypass"), CONNECTED],
    cautions=[cautions.HOT],
    about="plumbing.cooling.circuit",
    bad=[
        {"plumbing.cooling.circuit[4]": None},
        {"engine.thermostat.bypass": "external"},
        {"plumbing.cooling.circuit[1].start": "heater_out"},
    ],
    good=[{"engine.coolant.ports.heater_out.may_be_plugged": True}],
    without={
        "plumbing.cooling.circuit[].can_shut": "A run that names no valve has none: the drawing shows those that do.",
    },
)
def thermostat_circuit(build: Build) -> Verdict:
    """Are thermostat, bypass, heater and oil-cooler circuits connected as the engine needs?

    Computes: nothing; it follows the coolant along the runs of the spec from each port of the engine back to it.
    Limit: the engine's data sheet. Each port has exactly one run, or is one that may be plugged; feeds start runs and
    returns end them; every part between has a way in and a way out. What leaves for the radiator passes it and comes
    back where the engine takes it from the radiator, and the heater's coolant where it takes that. A thermostat with an
    external bypass has one, open and round the radiator, and no valve anywhere along it can shut it.
    Consequence: The engine overheats or never gets warm, or the heater stays cold.
    Remedy: the missing run, named with its port and bore. A heater valve that can shut needs a bypass that it does not
    shut.
    Cannot tell: a valve that the runs do not name, a radiator that they do not call radiator; how the flow divides, and
    passages inside the engine that no drawing shows: ask for its drawing.
    """
    ports, runs = build.engine.coolant.ports, build.plumbing.cooling.circuit
    needed(build, "engine.coolant.ports", list(ports))
    needed(build, "plumbing.cooling.circuit", list(runs))
    starts, ends = [str(run.start) for run in runs], [str(run.end) for run in runs]
    wrong: list[str] = []
    for name, port in ports.items():
        out, back = starts.count(name), ends.count(name)
        called = f"the port {name} ({port.use})"
        if out + back == 0 and not _may_be_plugged(port):
            wrong.append(f"Nothing is connected to {called}, which takes a bore of {shown(port.bore)}.")
        elif out + back > 1:
            wrong.append(f"{out + back} runs are connected to {called}.")
        elif (back and port.use in STARTS) or (out and port.use in ENDS):
            wrong.append(f"The run at {called} goes the wrong way: turn it round.")
    for part in dict.fromkeys(starts + ends):
        if part not in ports and not (part in starts and part in ends):
            way = "way out of" if part in ends else "way into"
            wrong.append(f"There is no {way} {part}: the coolant stands still there.")
    wrong += _no_port(build)
    wrong += _crossed(build) if not wrong else []
    wrong += _shut_off(build)
    if build.engine.thermostat.bypass == "external":
        wrong += _bypass(build)
    return holds(not wrong, " ".join(wrong) or f"All {len(ports)} ports are connected as their use asks.")


def _no_port(build: Build) -> list[str]:
    """What is wrong with an engine that has a radiator, and no port that coolant leaves for it or comes back at."""
    uses = {str(port.use) for port in build.engine.coolant.ports.values()}
    ways = {"to-radiator": "leaves for the radiator", "from-radiator": "comes back from the radiator"}
    return [
        f"No port of the engine is one where coolant {way}: put its use right ({use}), or take the right sheet."
        for use, way in ways.items()
        if use not in uses
    ]


def _shut_off(build: Build) -> list[str]:
    """The valves by which somebody can shut the radiator off, which no such circuit has."""
    ports, runs = build.engine.coolant.ports, build.plumbing.cooling.circuit
    leaving = [name for name, port in ports.items() if port.use == "to-radiator"]
    way = [run for name in leaving for run in followed(name, runs, ports).runs if _can_shut(run)]
    return [f"A valve can shut the way of the radiator, from {run.start} to {run.end}: take it out." for run in way]


COMES_BACK = {"to-radiator": "from-radiator", "heater-feed": "heater-return"}
"""Where the coolant of a port comes back."""
RADIATOR = "radiator"
"""What the radiator is called among the runs."""


def _crossed(build: Build) -> list[str]:
    """What is wrong with the ways from the engine's ports back to it, where each end by itself looks right."""
    ports, runs = build.engine.coolant.ports, build.plumbing.cooling.circuit
    names = {name for run in runs for name in (str(run.start), str(run.end))}
    wrong: list[str] = []
    touched: set[str] = set()
    for name, port in ports.items():
        way = followed(name, runs, ports)
        touched |= way.parts
        if port.use not in COMES_BACK or not way.runs:
            continue
        homes = [other for other, back in ports.items() if back.use == COMES_BACK[str(port.use)] and other in names]
        arrives = " and ".join(sorted(way.ports))
        if homes and not way.ports & set(homes):
            gets = f"comes back at {arrives}" if arrives else "never comes back"
            wrong.append(f"What leaves {name} {gets} and not at {' or '.join(homes)}: the hoses are crossed.")
        elif port.use == "to-radiator" and (not way.parts or (RADIATOR in names and RADIATOR not in way.parts)):
            wrong.append(f"What leaves {name} comes back at {arrives} without passing the radiator.")
        elif port.use == "heater-feed" and any(str(r.start) == name and r.end == RADIATOR for r in runs):
            wrong.append(f"What leaves {name} for the heater runs to the radiator: the hoses are crossed.")
    lost = sorted(names - set(ports) - touched)
    wrong += [f"No coolant of the engine gets to {part}." for part in lost]
    return wrong


def _bypass(build: Build) -> list[str]:
    """What is wrong with an external bypass: it is there, open, and leads round the radiator back to the engine."""
    ports, runs = build.engine.coolant.ports, build.plumbing.cooling.circuit
    bypasses = [name for name, port in ports.items() if port.use == "bypass"]
    if not bypasses:
        return ["The thermostat needs an external bypass, and the engine has no port for one."]
    wrong: list[str] = []
    for name in bypasses:
        onward, back = followed(name, runs, ports), followed(name, runs, ports, upstream=True)
        way = onward if onward.runs else back
        if not way.runs:
            if _may_be_plugged(ports[name]):
                wrong.append(f"The bypass {name} is plugged, and cold coolant has no way round the closed thermostat.")
            continue
        if RADIATOR in way.parts:
            wrong.append(f"The bypass at {name} runs through the radiator instead of round it.")
        if not way.ports - {name}:
            wrong.append(f"The bypass at {name} does not lead from the engine back to the engine.")
        wrong += [f"A valve can shut the bypass from {run.start} to {run.end}." for run in way.runs if _can_shut(run)]
    return wrong


def _may_be_plugged(port: CoolantPort) -> bool:
    return given(lambda: port.may_be_plugged) is True


def _can_shut(run: CircuitBranch) -> bool:
    return given(lambda: run.can_shut) is True
