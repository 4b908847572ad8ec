"""Rules of cables: voltage drop, and the cables of alternator and intake heater."""

from __future__ import annotations

from typing import Any

from swaplint.api import (
    Build,
    OutsideRange,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    informs,
    limit_or_none,
    needs_review,
    path_of,
    practice,
    rule,
    sheet,
    shown,
)
from swaplint.engineering import conductors, fuses

from .. import sources
from . import key, network, unsaid
from . import quantities as q
from .protection import smallest_carrying

CHARGE_CABLE = practice("0.25 V from a 12 V alternator to the battery and back, twice that with remote sensing")
CHARGE_FUSE = practice("fuse of the charge cable of at least 1.25 times the alternator's rated current")
SHORT_DUTY = practice("1.3 times the continuous current rating for less than 60 s")
DROP = practice("voltage drop of 3 % for control unit, fuel pump, fan and lamps, 10 % for other circuits")

CHARGE_FUSE_SHARE = 1.25
CHARGE_DROP = 0.25
"""Volts lost in a 12 V charge circuit."""

TIGHT = ("ecm-feed", "fuel-pump", "fan", "lamps")
TIGHT_DROP = 0.03
LOOSE_DROP = 0.10
VITAL = ("ecm-feed", "fuel-pump")


def no_way_back(build: Build, cable: Any) -> Verdict | None:
    """The verdict where the current of a cable has no ground to return by: another rule reports that."""
    if cable.returns_by == "own-conductor":
        return None
    node = network.FRAME if cable.returns_by == "frame" else network.ENGINE
    if network.return_path(build, node) is None:
        return does_not_apply(
            f"No ground leads from the {node} to the battery, so there is no circuit to judge: see power.grounding."
        )
    return None


@rule(
    "power.circuit-drop",
    level="error",
    due="quote",
    sources=[
        sources.SMALL_CRAFT_METRIC.giving("limit", "3 % for critical circuits", known="second-hand"),
        sources.BOAT_BUNDLES.giving("limit", "10 % for other circuits", known="second-hand"),
        DROP.giving("limit", "which circuits of a vehicle are critical"),
        q.RESISTANCE,
        q.JOINTS.giving("formula", "0.03 mΩ for each joint"),
    ],
    cautions=[cautions.FUEL_FIRE],
    fallbacks=[q.FRAME_RETURN, q.SWITCH],
    adjust=["electrics.cables.*.size", "electrics.cables.*.length"],
    each=network.consumer_cables,
    without={
        "electrics.cables.*.drop_max": "Control unit and fuel pump, whose fail is an error, are asked what they bear; "
        "for what only warns 3 % or 10 % of the nominal voltage stand in."
    },
    bad=[
        {"electrics.cables.lamps.length": "12 m"},
        {"electrics.cables.ecm.return_length": "0 m"},
    ],
    good=[{"electrics.cables.lamps.length": "2 m"}],
)
def circuit_drop(build: Build, cable: Any) -> Verdict:
    """Is the voltage lost on the circuit small enough, there and back?

    Computes: ΔU = I·(R_out + R_back) at 20 °C with 0.03 mΩ for each joint, and what the cables between battery and
    this one lose. A feeder carries what its branches take together, times the share that runs at one time. The way
    back is a conductor of its own, as long as the way out where nothing else is stated, or the lead to frame or engine,
    the grounds from there to the battery, and the frame.
    Limit: what the consumer's maker states; else 3 % of the nominal voltage for control unit, fuel pump, fan and lamps,
    10 % for the rest. An error for control unit and fuel pump, a warning otherwise. A return conductor of its own
    shorter than half the way out cannot be: both join the same two places, so the length counts both ways. What a
    feed of the control unit that the engine's data sheet names may lose is judged by controls.ecm-feed.
    Consequence: What hangs on the circuit is starved: dim lamps, a weak pump, a control unit that drops out.
    Remedy: a thicker conductor or a shorter way; look at power.fuse-cable-match too.
    Cannot tell: connectors. A hot conductor has a quarter more resistance at 85 °C. Real routes are longer than
    planned ones, by 15 % as a rule.
    """
    nothing = no_way_back(build, cable)
    if nothing is not None:
        return nothing
    demands = {"drop": lambda: _little_lost(build, cable)}
    if given(lambda: cable.returns_by == "own-conductor" and cable.return_length is not None):
        demands["return-length"] = lambda: _long_enough(cable)
    return all_of(demands)


def _level(cable: Any) -> Any:
    return "error" if cable.role in VITAL else "warning"


def _little_lost(build: Build, cable: Any) -> Verdict:
    level, nominal = _level(cable), build.electrics.nominal_voltage
    found, current, own = q.circuit_drop(build, cable), q.carried(build, cable), _own_way(cable)
    stated = given(lambda: cable.drop_max)
    share = stated if stated is not None else TIGHT_DROP if cable.role in TIGHT else LOOSE_DROP
    limit = share * nominal
    says = (
        f"{shown(found)} are lost at {shown(current, 'current', 'A')}, {shown(found / nominal, 'share', '%')} of "
        f"{shown(nominal)}, "
        f"over {shown(own, 'length', 'm')} of cable there and back."
    )
    if network.is_engine_feed(build, cable):
        return informs(f"{says} See controls.ecm-feed for what it may lose.", found=found)
    if found <= limit:
        network.ask_whether_engine_feed(build, cable)  # its sheet may allow less
        if cable.role in VITAL and not network.may_end_at_a_pin(build, cable):
            limit_or_none(lambda: cable.drop_max)  # and so may the consumer's own
        return at_most(found, limit, says, level=level)
    size = _size_that_loses(build, cable, found / current, limit / current, own, current)
    help = advice(f"{path_of(cable)}.size", size)
    return at_most(found, limit, f"{says}{_no_size(size)}", level=level, advice=help)


def _long_enough(cable: Any) -> Verdict:
    on, short = f"{path_of(cable)}.return_length", q.return_too_short(cable)
    says = f"The way out is {shown(cable.length)}, its return conductor {shown(cable.return_length)}."
    if short:
        says += f" The length counts both ways: taken as {shown(_own_way(cable), 'length', 'm')} there and back."
    return holds(not short, says, level=_level(cable), on=on, advice=advice(on, float(cable.length)))


def _own_way(cable: Any) -> float:
    """Length of the cable and of the return conductor that belongs to it."""
    back = given(lambda: cable.return_length)
    if cable.returns_by == "own-conductor" and (back is None or q.return_too_short(cable)):
        back = cable.length
    return float(cable.length + (back or 0.0))


def _size_that_loses(build: Build, cable: Any, found: float, limit: float, own: float, current: float) -> float | None:
    """The smallest size of a cable that passes, and that bears its current and its fuse where that can be told.

    `found` and `limit` are the resistances of the circuit.
    """
    length = cable.length if given(lambda: cable.return_size) is not None else own
    material = network.material_of(cable)
    mine = conductors.resistance_per_metre(cable.size, material=material) * length
    size = conductors.smallest_size(
        conductors.METRIC_SERIES,
        length=length,
        resistance_limit=limit,
        other=max(0.0, found - mine),
        material=material,
        current=max(current, given(lambda: cable.fuse) or current),
        installation=given(lambda: q.installation(build, cable)),
    )
    return size.area if size is not None else None


def _no_size(size: float | None) -> str:
    return "" if size is not None else " No size passes: shorten the way, or look at what lies before and after it."


@rule(
    "power.alternator-cable",
    level="error",
    due="quote",
    sources=[
        sheet("engine.alternator.rated_current"),
        sheet("engine.alternator.cable_drop_max"),
        CHARGE_CABLE.giving("fallback", "0.25 V at 12 V, 0.5 V at 24 V, twice that with remote sensing"),
        CHARGE_FUSE.giving("limit", "fuse of 1.25 times the rated current"),
        *q.RATINGS,
        q.RESISTANCE,
        q.JOINTS.giving("formula", "0.03 mΩ for each joint"),
    ],
    cautions=[cautions.FUEL_FIRE, cautions.BATTERY_ARC],
    fallbacks=[q.FRAME_RETURN, q.SWITCH, q.ENGINE_SPACE_AIR],
    adjust=["electrics.cables.*.size", "electrics.cables.*.fuse"],
    each=network.alternator_cables,
    without={
        "engine.alternator.output": "Its rated current is asked for; power.charge-balance asks for the curve.",
        "engine.alternator.cable_drop_max": "Where its sheet states none, 0.25 V of 12 V stand in, twice that with "
        "remote sensing.",
    },
    bad=[
        {"electrics.cables.alternator.fuse": "100 A"},
        {"electrics.cables.alternator.length": "9 m"},
    ],
    good=[{"electrics.cables.alternator.size": "35 mm2"}],
)
def alternator_cable(build: Build, cable: Any) -> Verdict:
    """Can the charge cable carry the alternator's full output, with little drop and a fuse that stands it?

    Computes: the cable's current rating where it lies; ΔU at rated current from alternator to battery and back.
    Limit: the current rating at least the rated current, the fuse at least 1.25 times it: errors. The drop by the
    sheet, else 0.25 V at 12 V and 0.5 V at 24 V, twice that where the alternator senses at the battery: a warning.
    Consequence: The charge cable overheats or its fuse blows at full output, or the battery never gets full.
    Remedy: a thicker conductor, the next fuse of the series. The cable is live with the engine stopped.
    Cannot tell: an ammeter wired in series in an old dashboard; the drop of the fuse itself; hot conductors, which have
    a quarter more resistance at 85 °C.
    """
    if not path_of(cable).startswith("electrics.cables."):
        says = "The alternator is fitted, and no cable of role alternator starts at its node, "
        says += f"{network.node_of(build, cable)}: state it, with its fuse."
        return all_of(stated=lambda: holds(False, says, on="electrics.cables"))
    nothing = no_way_back(build, cable)
    if nothing is not None:
        return nothing
    demands = {"rating": lambda: _carries_output(build, cable), "drop": lambda: _charge_drop(build, cable)}
    if given(lambda: network.has_fuse(cable)) is not False:
        demands["fuse"] = lambda: _fuse_stands_output(build, cable)
    return all_of(demands)


ABOVE_RATED = 1.25
"""How far above its rated current a cold alternator's curve may go; the fuse of its cable has as much in hand."""


def _carries_output(build: Build, cable: Any) -> Verdict:
    rated, on = network.alternator_of(build, cable).rated_current, f"{path_of(cable)}.size"
    rating = q.cable_rating(build, cable)
    lies = q.where_it_lies(build, cable)
    says = f"The {shown(cable.size)} cable may carry {shown(rating)} {lies}; the alternator gives {shown(rated)}."
    help = advice(on, smallest_carrying(build, cable, rated))
    curve = given(lambda: [point.current for point in network.alternator_of(build, cable).output]) or []
    most = max(curve, default=0.0)
    if rating >= rated and most > ABOVE_RATED * rated:
        says += f" Its output curve goes up to {shown(most, 'current', 'A')}: one of the two is of another alternator."
        return needs_review(says, on=f"{path_of(network.alternator_of(build, cable))}.rated_current", found=rating)
    return at_least(rating, rated, says, on=on, advice=help)


def _fuse_stands_output(build: Build, cable: Any) -> Verdict:
    if not network.has_fuse(cable):
        return does_not_apply("It has no fuse of its own.")
    rated, on = network.alternator_of(build, cable).rated_current, f"{path_of(cable)}.fuse"
    says = f"A fuse of {shown(cable.fuse)} for an alternator of {shown(rated)}: it may blow at full output."
    if cable.fuse >= CHARGE_FUSE_SHARE * rated:
        says = f"A fuse of {shown(cable.fuse)} for an alternator of {shown(rated)}."
    return at_least(cable.fuse, CHARGE_FUSE_SHARE * rated, says, on=on, advice=advice(on, _charge_fuse(rated)))


def _charge_fuse(rated: float) -> float | None:
    try:
        return fuses.smallest_fuse(CHARGE_FUSE_SHARE * rated, 1.0)
    except OutsideRange:
        return None


def _charge_drop(build: Build, cable: Any) -> Verdict:
    found = q.charge_drop(build, cable)
    limit = given(lambda: network.alternator_of(build, cable).cable_drop_max)
    if limit is None:
        limit = CHARGE_DROP * build.electrics.nominal_voltage / 12.0
        if network.alternator_of(build, cable).remote_sense:
            limit *= 2.0
    rated, on = network.alternator_of(build, cable).rated_current, f"{path_of(cable)}.size"
    says = f"{shown(found)} are lost between alternator and battery, there and back, at {shown(rated)}."
    if found <= limit:
        return at_most(found, limit, says, level="warning", on=on)
    size = _size_that_loses(build, cable, found / rated, limit / rated, _own_way(cable), rated)
    return at_most(found, limit, f"{says}{_no_size(size)}", level="warning", on=on, advice=advice(on, size))


@rule(
    "power.intake-heater",
    level="error",
    due="quote",
    sources=[
        sheet("engine.intake_heater.fuse"),
        sheet("engine.intake_heater.current"),
        *q.RATINGS,
        SHORT_DUTY.giving("formula", "rating for a short time"),
    ],
    cautions=[cautions.FUEL_FIRE],
    fallbacks=[q.ENGINE_SPACE_AIR],
    adjust=["electrics.cables.*.size", "electrics.cables.*.fuse", "electrics.cables.*.relay_rating"],
    each=network.heater_cables,
    without=unsaid.NO_RELAY,
    bad=[
        {"electrics.cables.heater.relay_rating": "70 A"},
        {"electrics.cables.heater.fuse": "80 A"},
        {"electrics.cables.heater.switched_by": ["key-start"]},
    ],
    good=[{"electrics.cables.heater.size": "35 mm2"}],
)
def intake_heater(build: Build, cable: Any) -> Verdict:
    """Are cable, fuse and relay of the intake heater or glow plugs made for its current?

    Computes: the cable's current rating where it lies, times 1.3 where the heater is on for less than 60 s; whether
    what closes its relay is live when it must heat, and not as long as the key stays in run.
    Limit: the heater's current for every cable and the relay contact; the fuse that the engine maker asks for. A fuse
    too large for the cable is reported by power.fuse-cable-match.
    Consequence: Cable or relay overheats, or the heater stays cold and the engine does not start in frost.
    Remedy: conductor and relay made for the heater's current, the fuse that its maker asks for. The engine's control
    unit switches the heater, never a driver's switch alone.
    Cannot tell: how often the control unit repeats it; what the heating takes from the battery before the start. Never
    use starting fluid with an intake heater: it explodes.
    """
    role = next((role for role, heater in network.heaters(build).items() if path_of(heater) == path_of(cable)), None)
    if role is not None:
        says = f"The heater is fitted, and no cable of role {role} is stated."
        return all_of(stated=lambda: holds(False, says, on="electrics.cables"))
    demands = {"rating": lambda: _carries_heater(build, cable)}
    alike = [other for other in network.cables(build) if other.role == cable.role]
    if _has_relay(cable) or not any(_has_relay(other) for other in alike):
        demands["relay"] = lambda: _relay_bears(build, cable)
    if key.closing(cable):
        demands["closed"] = lambda: _closed(build, cable)
    if given(lambda: network.has_fuse(cable) and not cable.fuse > q.cable_rating(build, cable)) is not False:
        demands["fuse"] = lambda: _makers_fuse(build, cable)
    return all_of(demands)


def _carries_heater(build: Build, cable: Any) -> Verdict:
    heater, on = network.heater_of(build, cable), f"{path_of(cable)}.size"
    current, rating = heater.current, conductors.short_time_ampacity(q.cable_rating(build, cable), heater.on_time)
    says = (
        f"For {shown(heater.on_time)} the {shown(cable.size)} cable may carry {shown(rating, 'current', 'A')} "
        f"{q.where_it_lies(build, cable)}; the heater takes {shown(current)}."
    )
    if rating >= current:
        return at_least(rating, current, says, on=on, unit=("current", "A"))
    longer = conductors.short_time_ampacity(1.0, heater.on_time)
    size = smallest_carrying(build, cable, current / longer)
    return at_least(rating, current, says, on=on, unit=("current", "A"), advice=advice(on, size))


def _relay_bears(build: Build, cable: Any) -> Verdict:
    current, on = network.heater_of(build, cable).current, f"{path_of(cable)}.relay_rating"
    says = f"The relay contact is rated {shown(cable.relay_rating)}; the heater takes {shown(current)}."
    return at_least(cable.relay_rating, current, says, on=on, advice=advice(on, current))


def _closed(build: Build, cable: Any) -> Verdict:
    """The heater's relay is closed by the engine's control unit, or by what is live when the heater must heat."""
    coils, on = key.closing(cable), f"{path_of(cable)}.switched_by"
    named, terminals = ", ".join(coils), key.terminals(build)
    if set(coils) & set(key.ENGINE_OUTPUTS):
        return holds(True, f"The heater's relay is closed by {named}, an output of the control unit.", on=on)
    positions = ["run", "crank"] if network.heater_of(build, cable).on_while_cranking else ["run"]
    dead = [position for position in positions if key.live(build, position).isdisjoint(coils)]
    says = f"The heater's relay is closed by {named}"
    says += f", which is dead in {' and '.join(dead)}: it opens while it should heat." if dead else "."
    for_ever = not dead and any("run" in terminals[coil].live_in for coil in coils if coil in terminals)
    if for_ever:
        says += " It heats as long as the key stays in run, and its maker allows "
        says += f"{shown(network.heater_of(build, cable).on_time)}: let the control unit or a timer close the relay, "
        says += "and name that in switched_by."
        return holds(False, says, level="warning", on=on)
    return holds(not dead, says, on=on)


def _makers_fuse(build: Build, cable: Any) -> Verdict:
    if not network.has_fuse(cable):
        return does_not_apply("It has no fuse of its own.")
    heater, on = network.heater_of(build, cable), f"{path_of(cable)}.fuse"
    says = f"The fuse is {shown(cable.fuse)}; the engine maker asks for {shown(heater.fuse)}."
    return holds(bool(cable.fuse == heater.fuse), says, on=on, advice=advice(on, heater.fuse))


def _has_relay(cable: Any) -> bool:
    """Whether a cable of the heater is said to hold its relay; of several in a row only one does."""
    return given(lambda: cable.relay_rating) is not None
