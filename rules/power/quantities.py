"""Derived numbers of cables, grounds and the starting circuit."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import Any

from swaplint.api import (
    Build,
    OutsideRange,
    Practice,
    given,
    is_fitted,
    once,
    or_practice,
    path_of,
    practice,
    quantity,
    shown,
)
from swaplint.engineering import batteries, conductors

from .. import sources
from . import network

FRAME_RETURN = Practice(
    "frame as return 0.3 mΩ (0.2 to 0.5 mΩ)",
    0.3e-3,
    practice("resistance of a frame used as return, 0.2 to 0.5 mΩ"),
    between=(0.2e-3, 0.5e-3),
)
SWITCH = Practice(
    "closed main switch 0.1 mΩ (0.05 to 0.1 mΩ)",
    0.1e-3,
    practice("resistance of a main switch, 0.05 to 0.1 mΩ"),
    between=(0.05e-3, 0.1e-3),
)
BIG_FUSE = Practice("fuse in a starter cable 0.2 mΩ", 0.2e-3, practice("resistance of a bolted fuse with holder"))
JOINTS = practice("0.03 mΩ for each good crimped, bolted joint")

ENGINE_SPACE_AIR = Practice(
    "air of 50 °C around cables in an engine space (50 to 70 °C)",
    323.15,
    sources.SMALL_CRAFT_CABLES.giving("fallback", "50 °C in an engine space", known="second-hand"),
    between=(323.15, 343.15),
)
HEAT_BALANCE = practice("a conductor heats up with the square of its current").giving(
    "formula", "factor for the air around a cable"
)

RESISTANCE = sources.CONDUCTOR_RESISTANCE.giving(
    "formula", "resistance of conductors by their size", known="second-hand"
)
"""For rules whose numbers rest on the resistance of cables."""
FACTORS = [
    sources.SMALL_CRAFT_CABLES.giving("formula", "factor for cables in an engine space", known="second-hand"),
    sources.BOAT_BUNDLES.giving("formula", "factors for bundled cables", known="second-hand"),
]
_GAUGES = sources.SMALL_CRAFT_CABLES.giving("formula", "current ratings by gauge", known="published")
_METRIC = sources.SMALL_CRAFT_METRIC.giving("formula", "current ratings of metric sizes", known="from memory")
RATINGS = [_GAUGES, _METRIC, *FACTORS]
"""For rules whose numbers rest on the current rating of cables."""
LIMITING_RATINGS = [
    _GAUGES.giving("limit", "current ratings by gauge, and between two gauges by area", demands=["cable"]),
    _METRIC.giving("limit", demands=["metric-size"]),
    *FACTORS,
]
"""For rules whose limit is the current rating itself."""
DROP_SOURCES = [
    RESISTANCE,
    sources.OHM.giving("formula", "resistances in a row add up, and the drop along them"),
    JOINTS.giving("formula", "0.03 mΩ for each joint"),
]
FEEDERS = practice("a feeder carries what its branches take together").giving("formula")
CHARGE_AT_START = 0.75
"""State of charge that a start must still succeed at: common practice."""
START_CHARGE = practice("a start must succeed with the battery three-quarters charged")
SHARE_LEFT = practice(
    "85 % of the cranking current with the battery three-quarters charged, 75 to 95 % in practice"
).giving("formula", "85 % of the current")
CRANKING_TESTS = [
    sources.CRANKING_TEST_EN.giving("formula", "battery resistance: 7.5 V at its rating, -18 °C", known="second-hand"),
    sources.CRANKING_TEST_SAE.giving("formula", "battery resistance: 7.2 V at its rating, -18 °C", known="second-hand"),
]
"""For rules whose numbers rest on the tests behind cold-cranking ratings."""
COLD_FALL = practice("fall of cranking current with temperature")


# -- cables and grounds -----------------------------------------------------------------------------------------------
def resistance(part: Any, length: float | None = None, size: float | None = None) -> float:
    """Resistance of a conductor at 20 °C with its joints."""
    segment = conductors.Segment(
        part.size if size is None else size,
        part.length if length is None else length,
        material=network.material_of(part),
    )
    return conductors.loop_resistance([segment], network.joints_of(part))


def bare_resistance(part: Any) -> float:
    """Resistance of a conductor at 20 °C without its joints."""
    return conductors.segment_resistance(conductors.Segment(part.size, part.length, material=network.material_of(part)))


@quantity(
    "power.cable-resistance",
    "resistance",
    "mohm",
    formula="R = r(size) · L + joints · 0.03 mΩ at 20 °C, one way",
    symbols={"L": "electrics.cables.*.length", "joints": "electrics.cables.*.joints"},
    sources=DROP_SOURCES,
    each=network.cables,
    without={
        "electrics.cables.*.material": "A cable that is sold by its size alone is of copper, and clad aluminium is "
        "marked so: weigh a length where in doubt."
    },
)
def cable_resistance(build: Build, cable: Any) -> float:
    """Resistance of the cable, one way."""
    return resistance(cable)


@quantity(
    "power.ground-resistance",
    "resistance",
    "mohm",
    formula="R = r(size) · L + joints · 0.03 mΩ at 20 °C",
    symbols={"L": "electrics.grounds.*.length", "joints": "electrics.grounds.*.joints"},
    sources=DROP_SOURCES,
    each=network.grounds,
)
def ground_resistance(build: Build, ground: Any) -> float:
    """Resistance of the ground conductor."""
    return resistance(ground)


def current_in(build: Build, cable: Any) -> float:
    """Current that a consumer's cable carries: that of intake heater and glow plugs stands in the engine's sheet."""
    return float(network.heater_of(build, cable).current if cable.role in network.HEATERS else cable.current)


@quantity(
    "power.feeder-current",
    "current",
    "A",
    formula="the larger of the current stated and of Σ I of the branches behind it · share that runs at one time",
    sources=[FEEDERS],
    each=network.feeders,
)
def feeder_current(build: Build, cable: Any) -> float:
    """Current that a cable which feeds others carries, its branches together."""
    return carried(build, cable)


def carried(build: Build, cable: Any) -> float:
    """Current that a cable carries without a pause: its own, or that of all branches behind it."""
    return max(current_in(build, cable), behind(build, cable))


@once
def behind(build: Build, cable: Any) -> float:
    """Current that the branches behind a cable take together, shared with the cables that lie alongside it."""
    return _behind(build, cable, (), {}, itertools.count(1))[0]


MOST_LOOKS = 1_000
"""How often a cable is looked at to find what hangs behind one: where rings run into rings the ways through them
multiply, and no harness is wired like that."""


def _behind(
    build: Build, cable: Any, passed: tuple[str, ...], known: dict[str, float], looks: Iterator[int]
) -> tuple[float, bool]:
    """The same, and whether a ring of cables led back on the way, which is walked once.

    `known` holds what was found behind cables that no ring leads back from: each is looked at once.
    """
    if next(looks) > MOST_LOOKS:
        raise OutsideRange(f"the cables behind {passed[0]} lead back into one another in too many rings to follow")
    passed = (*passed, path_of(cable))
    found, ring = 0.0, False
    for branch in network.branches(build, cable):
        path = path_of(branch)
        if path in passed:
            ring = True
            continue
        if path not in known:
            current, led_back = _behind(build, branch, passed, known, looks)
            ring = ring or led_back
            if not led_back:
                known[path] = current
        else:
            current = known[path]
        found += max(current_in(build, branch), current)
    if not found:
        return 0.0, ring
    share = given(lambda: cable.branch_share)
    twins = network.consumers_alongside(build, cable)
    return found * (1.0 if share is None else share) / max(1, len(twins)), ring


def standing_time(build: Build) -> str:
    """The longest time that the vehicle stands, for a sentence."""
    days = shown(build.build.duty.standing_days)
    return days if days == "1 day" else f"{days}s"


def main_switch(build: Build) -> float:
    """Resistance of the main switch, Ω; nothing where a stud stands in its place."""
    if given(lambda: is_fitted(build.electrics.isolator)) is False:
        return 0.0
    return or_practice(lambda: build.electrics.isolator.resistance, SWITCH)


def return_too_short(cable: Any) -> bool:
    """Whether a return conductor of the cable's own is stated as shorter than half the way out, which it cannot be."""
    stated = given(lambda: cable.return_length)
    return cable.returns_by == "own-conductor" and stated is not None and stated < 0.5 * cable.length


def return_through(build: Build, node: str) -> float:
    """Resistance of the grounds from a node to the battery, with the main switch and the frame where they use them."""
    path = network.return_path(build, node)
    if path is None:
        raise OutsideRange(f"no ground leads from {node} to {network.NEGATIVE}")
    found = 0.0
    for ground in path:
        twins = network.alongside(network.grounds(build), ground)
        found += conductors.side_by_side([ground_resistance(build, twin) for twin in twins])
    if network.passes(path, network.ISOLATOR):
        found += main_switch(build)
    if node == network.FRAME or network.passes(path, network.FRAME):
        found += or_practice(lambda: build.electrics.frame_resistance, FRAME_RETURN)
    return found


@quantity(
    "power.cable-return",
    "resistance",
    "mohm",
    formula="own conductor: r(size) · L_back, with L_back = L where none is stated; else lead to frame or engine, the "
    "grounds from there to the battery's negative, main switch and frame where they are on the way",
    sources=DROP_SOURCES,
    each=lambda build: [*network.consumer_cables(build), *network.cables_for(build, "alternator")],
    without={
        "electrics.cables.*.return_length": "A return conductor of its own joins the same two places as the way out, "
        "and counts as long as that one."
    },
)
def cable_return(build: Build, cable: Any) -> float:
    """Resistance of the way back from the cable's end to the battery."""
    size = given(lambda: cable.return_size)
    if cable.returns_by == "own-conductor":
        stated = given(lambda: cable.return_length)
        back = cable.length if stated is None or return_too_short(cable) else stated
        return resistance(cable, back, size)
    lead = cable.return_length
    own = resistance(cable, lead, size) if lead > 0.0 else 0.0
    return own + return_through(build, network.FRAME if cable.returns_by == "frame" else network.ENGINE)


@quantity(
    "power.circuit-drop",
    "voltage",
    "V",
    formula="ΔU = I · (R_out + R_back) + Σ I_k · R_k of the cables between battery and this one",
    sources=DROP_SOURCES,
    each=network.consumer_cables,
)
def circuit_drop(build: Build, cable: Any) -> float:
    """Voltage lost on the circuit at its continuous current, there and back; a feeder carries all its branches."""
    before = network.upstream(build, cable)
    if before is None:
        raise OutsideRange(f"no cable leads from a battery to '{cable.start}', where {path_of(cable)} starts")
    own = carried(build, cable)
    found = conductors.voltage_drop(own, cable_resistance(build, cable) + cable_return(build, cable))
    for other in before:
        # Nobody cranks while the consumer works, so a starter cable on the way carries the consumer's current.
        current = own if other.role in network.OWN_RULES else max(carried(build, other), own)
        found += conductors.voltage_drop(current, cable_resistance(build, other))
    return found


@quantity(
    "power.cable-rating",
    "current",
    "A",
    formula="I_z = table(size, insulation) · factor for the air around it · bundle factor; in an engine space "
    "0.85·√((105 - air)/55) with insulation for 105 °C, elsewhere √((105 - air)/75) where the air is stated",
    sources=[*RATINGS, HEAT_BALANCE],
    each=network.cables,
    without={
        "electrics.cables.*.place_temperature": "That of a battery in the same engine space stands in, else 50 °C as a "
        "named practice; outside it the tables hold for 30 °C.",
        "electrics.batteries.*.place_temperature": "The air of an engine space is then 50 °C, as a named practice.",
    },
)
def cable_rating(build: Build, cable: Any) -> float:
    """Current that the cable may carry continuously where it lies."""
    return conductors.ampacity(cable.size, installation(build, cable), network.material_of(cable))


def terminals_while_cranking(build: Build) -> float:
    """Voltage at the battery in the coldest start, V."""
    return crank_voltage(build) + float(build.engine.starter.cranking_current) * crank_loop(build)


def rating_or_none(build: Build, cable: Any) -> float | None:
    """Current that the cable may carry continuously where it lies; None where no table knows it."""
    try:
        return cable_rating(build, cable)
    except OutsideRange:
        return None


def published_rating(build: Build, cable: Any, rating: float) -> float:
    """The most that the published table of gauges has for a cable: no less than its rating by the metric table."""
    if conductors.awg_of(cable.size) is not None or conductors.sae_of(cable.size) is not None:
        return rating
    try:
        between = conductors.ampacity_between_gauges(cable.size, installation(build, cable), network.material_of(cable))
    except OutsideRange:
        return rating
    return max(rating, between)


def installation(build: Build, cable: Any) -> conductors.Installation:
    """How a cable lies."""
    hot = cable.place == "engine-space"
    return conductors.Installation(cable.insulation_temp, hot, 1 + int(cable.bundled_with), air_around(build, cable))


def air_around(build: Build, cable: Any) -> float | None:
    """Temperature of the air in the hottest place of a cable; None where the 30 °C of the tables stand.

    What nobody states of an engine space is what is stated of a battery in there, else common practice.
    """
    own: float | None = given(lambda: cable.place_temperature)
    if own is not None or cable.place != "engine-space":
        return own
    batteries_there = [
        battery
        for battery in build.electrics.batteries.values()
        if is_fitted(battery) and given(lambda battery=battery: battery.place) == "engine-space"  # type: ignore[misc]
    ]
    stated = [given(lambda battery=battery: battery.place_temperature) for battery in batteries_there]  # type: ignore[misc]
    known = [temperature for temperature in stated if temperature is not None]
    return max(known) if known else or_practice(lambda: cable.place_temperature, ENGINE_SPACE_AIR)


def where_it_lies(build: Build, cable: Any) -> str:
    """The place that a cable's current rating holds for, as words."""
    air = air_around(build, cable)
    return "where it lies" if air is None else f"where it lies, in air of {shown(air, 'temperature', 'degC')}"


# -- starting circuit -------------------------------------------------------------------------------------------------
@quantity(
    "power.crank-feed",
    "resistance",
    "mohm",
    formula="starter cables with their joints, in parallel where two join the same nodes, main switch, fuse; battery "
    "links times the square of the share of the current that they carry, 1 for one string of batteries and (n - 1)/n "
    "for n; at 20 °C",
    sources=DROP_SOURCES,
)
def crank_feed(build: Build) -> float:
    """Resistance from the battery to the starter."""
    path = network.starter_feed(build)
    if path is None:
        raise OutsideRange(f"no starter cables lead from {network.POSITIVE} to {network.STARTER}")
    found = sum(length_to_starter(build, cable) for cable in path)
    if network.passes(path, network.ISOLATOR):
        found += main_switch(build)
    links = network.cables_for(build, "battery-link")
    if links:
        found += link_share(build) ** 2 * sum(with_fuse(build, link) for link in links)
    return found


def length_to_starter(build: Build, cable: Any) -> float:
    """Resistance of one length of the way to the starter: the cable, and those that lie alongside it."""
    twins = network.alongside(network.cables_for(build, "starter"), cable)
    return conductors.side_by_side([with_fuse(build, twin) for twin in twins])


def with_fuse(build: Build, cable: Any) -> float:
    """Resistance of a cable that carries the cranking current, with its fuse if it has one."""
    fuse = or_practice(lambda: cable.fuse_resistance, BIG_FUSE) if network.has_fuse(cable) else 0.0
    return cable_resistance(build, cable) + fuse


def link_share(build: Build) -> float:
    """Share of the cranking current that a link between batteries carries: what the strings beyond it give.

    A link's voltage is lost on that share only, so that its resistance counts with the square of it. For two strings
    that is what two equal sources give of which one stands behind the link, and a little more.
    """
    strings = in_parallel(build)
    return 1.0 if strings == 1 else (strings - 1) / strings


@quantity(
    "power.crank-return",
    "resistance",
    "mohm",
    formula="grounds from the engine block to the battery with their joints, in parallel where two join the same "
    "nodes, and the main switch and the frame where they use them; at 20 °C",
    sources=DROP_SOURCES,
)
def crank_return(build: Build) -> float:
    """Resistance from the engine block back to the battery."""
    return return_through(build, network.ENGINE)


@quantity(
    "power.crank-loop",
    "resistance",
    "mohm",
    formula="R = R_feed + R_return",
    symbols={"R_feed": "power.crank-feed", "R_return": "power.crank-return"},
    sources=[sources.OHM.giving("formula")],
)
def crank_loop(build: Build) -> float:
    """Resistance of the starting circuit outside the battery, there and back."""
    return crank_feed(build) + crank_return(build)


# -- battery ----------------------------------------------------------------------------------------------------------
def starting_batteries(build: Build) -> list[Any]:
    """The batteries that start the engine."""
    fitted = [battery for battery in build.electrics.batteries.values() if is_fitted(battery)]
    found = [battery for battery in fitted if given(lambda battery=battery: battery.use) != "auxiliary"]  # type: ignore[misc]
    if not found:
        raise OutsideRange("no battery is stated for starting")
    return found


def in_series(build: Build) -> int:
    """Batteries in series: as many as the vehicle's voltage takes."""
    voltages = {battery.voltage for battery in starting_batteries(build)}
    if len(voltages) > 1:
        raise OutsideRange("the starting batteries have different nominal voltages")
    number = round(float(build.electrics.nominal_voltage / voltages.pop()))
    if number < 1 or len(starting_batteries(build)) % number:
        raise OutsideRange("the starting batteries do not make up the vehicle's nominal voltage")
    return number


def in_parallel(build: Build) -> int:
    """Strings of batteries in parallel."""
    return len(starting_batteries(build)) // in_series(build)


def standard_of(battery: Any) -> batteries.CrankingStandard:
    """The standard that a battery's cold-cranking rating is stated to."""
    return batteries.CrankingStandard(battery.cca_standard)


def refuse_other_than_12_volts(battery: Any) -> None:
    """End the rule with a battery of another voltage than that which the laws of cold cranking are for."""
    if abs(battery.voltage - 12.0) > 0.5:
        raise OutsideRange("the cold-cranking laws used here are for batteries of 12 V")


@quantity(
    "power.battery-resistance",
    "resistance",
    "mohm",
    formula="R = (12.4 V - test voltage)/(0.85 · CCA) at -18 °C · factor(T), of the weakest battery, three-quarters "
    "charged; · in series / in parallel",
    sources=[
        *CRANKING_TESTS,
        SHARE_LEFT,
        practice("battery resistance from its rating test").giving(
            "formula", "resistance from a fall of voltage in the rating test"
        ),
    ],
)
def battery_resistance(build: Build) -> float:
    """Effective internal resistance of the starting batteries at the coldest start, three-quarters charged."""
    return resistance_charged(build, CHARGE_AT_START)


def resistance_charged(build: Build, charge: float) -> float:
    """Effective internal resistance of the starting batteries at the coldest start, at a state of charge."""
    found = 0.0
    for battery in starting_batteries(build):
        refuse_other_than_12_volts(battery)
        cold = build.build.design.ambient_min
        found = max(found, batteries.internal_resistance(battery.cca, standard_of(battery), cold, charge))
    return batteries.bank_resistance(found, in_series(build), in_parallel(build))


@quantity(
    "power.open-circuit-voltage",
    "voltage",
    "V",
    formula="12.4 V for each battery in series, three-quarters charged and rested",
    sources=[START_CHARGE.giving("formula", "a battery three-quarters charged")],
)
def open_circuit_voltage(build: Build) -> float:
    """Voltage of the starting batteries before the start."""
    return batteries.open_circuit_voltage(CHARGE_AT_START, in_series(build))


def heater_while_cranking(build: Build) -> float:
    """Current of heaters of the air while the starter turns, A; it reaches the battery by cables of its own."""
    there = given(lambda: list(network.heaters(build).values())) or []
    return float(sum(heater.current for heater in there if heater.on_while_cranking))


@quantity(
    "power.crank-voltage",
    "voltage",
    "V",
    formula="U = U_oc - I_heater · R_battery - I_crank · (R_battery + R_loop)",
    symbols={"I_crank": "engine.starter.cranking_current", "R_loop": "power.crank-loop"},
    sources=[
        sources.OHM.giving("formula", "drop along resistances in series"),
        START_CHARGE.giving("formula", "a battery three-quarters charged"),
    ],
)
def crank_voltage(build: Build) -> float:
    """Voltage left at the starter in the coldest start, the battery three-quarters charged."""
    return crank_voltage_charged(build, CHARGE_AT_START)


def crank_voltage_charged(build: Build, charge: float) -> float:
    """Voltage left at the starter in the coldest start, at a state of charge: its voltage and its resistance there."""
    inside = resistance_charged(build, charge)
    return batteries.cranking_voltage(
        batteries.open_circuit_voltage(charge, in_series(build)) - heater_while_cranking(build) * inside,
        build.engine.starter.cranking_current,
        inside,
        crank_loop(build),
    )


@quantity(
    "power.bank-rating",
    "current",
    "A",
    formula="rating of the weakest battery · strings in parallel, to the standard that it is stated to",
    sources=[practice("ratings of batteries in parallel add up, as the weakest of them has it").giving("formula")],
)
def bank_rating(build: Build) -> float:
    """Cold-cranking rating of the starting batteries, those in parallel counted together."""
    return float(min(battery.cca for battery in starting_batteries(build)) * in_parallel(build))


@quantity(
    "power.bank-rating-cold",
    "current",
    "A",
    formula="rating · (1 + 0.012/K · (T + 18 °C)) above -18 °C, 0.034/K below",
    sources=[COLD_FALL.giving("formula", "0.012 for each K above -18 °C, 0.034 below")],
)
def bank_rating_cold(build: Build) -> float:
    """What the rating test would find in the coldest air."""
    return batteries.available_cranking_current(bank_rating(build), build.build.design.ambient_min)


@quantity(
    "power.charge-after-standing",
    "share",
    "%",
    formula="1 - I_key-off · t/(C · strings in parallel)",
    sources=[practice("charge taken with the key off").giving("formula")],
)
def charge_after_standing(build: Build) -> float:
    """Charge left in the starting batteries after the longest time between two starts."""
    return charge_left_with(build, build.electrics.parasitic_current)


def charge_left_with(build: Build, current: float) -> float:
    """The same, a share, with a current, A, drawn with the key off."""
    capacity = min(battery.capacity for battery in starting_batteries(build)) * in_parallel(build)
    return batteries.charge_left(capacity, current, build.build.duty.standing_days)


# -- charge cable -----------------------------------------------------------------------------------------------------
@quantity(
    "power.charge-drop",
    "voltage",
    "V",
    formula="ΔU = I_rated · (R of the cables from alternator to battery + R_back)",
    sources=DROP_SOURCES,
    each=lambda build: network.cables_for(build, "alternator"),
)
def charge_drop(build: Build, cable: Any) -> float:
    """Voltage lost between alternator and battery, there and back, at rated current."""
    others = [other for other in network.cables(build) if path_of(other) != path_of(cable)]
    alternator = network.alternator_of(build, cable)
    far = cable.end if cable.start == network.node_of(build, alternator) else cable.start
    ways = [network.path(others, far, battery) for battery in (network.POSITIVE, network.AUXILIARY)]
    onwards = min((way for way in ways if way is not None), key=len, default=None)
    if onwards is None:
        raise OutsideRange(f"no cable leads from '{far}', where {path_of(cable)} ends, to {network.POSITIVE}")
    found = cable_resistance(build, cable) + cable_return(build, cable)
    found += sum(cable_resistance(build, other) for other in onwards)
    if network.passes(onwards, network.ISOLATOR):
        found += main_switch(build)
    return conductors.voltage_drop(alternator.rated_current, found)
