"""Rules of starting: the cables from battery to starter and back, the voltage that is left, the battery in the cold."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
    OutsideRange,
    Practice,
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
    limit_or_none,
    name_of,
    or_practice,
    path_of,
    practice,
    rule,
    sheet,
    shown,
    use_practice,
)
from swaplint.engineering import batteries, conductors

from .. import sources
from . import network, units
from . import quantities as q
from .charging_quantities import same_voltage

STARTER_SIZE = "electrics.cables.*[role=starter].size"

CRANK_VOLTAGE = practice("8 V in a 12 V system and 16 V in a 24 V system while cranking")
CRANK_12 = Practice("control unit works down to 8 V while cranking (12 V system)", 8.0, CRANK_VOLTAGE)
CRANK_24 = Practice("control unit works down to 16 V while cranking (24 V system)", 16.0, CRANK_VOLTAGE)

RATING_BY_SIZE = practice("cold-cranking rating by engine size, 12 V, EN: rough, with no published source")
SMALL_DIESEL = Practice("350 A of EN rating for each litre of diesel engine, up to 3 L", 350e3, RATING_BY_SIZE)
BIG_DIESEL = Practice("250 A of EN rating for each litre of diesel engine, above 3 L", 250e3, RATING_BY_SIZE)
PETROL = Practice("250 A of EN rating for each litre of petrol engine", 250e3, RATING_BY_SIZE)

J541_LIMIT = {(12, "light-medium"): 2.0e-3, (12, "heavy"): 1.0e-3, (24, "light-medium"): 4.0e-3, (24, "heavy"): 1.7e-3}
"""Highest loop resistance, Ω: the drops for each 100 A of SAE J541, 0.2, 0.1, 0.4 and 0.17 V."""

CHARGE_KEPT = practice("60 % of the charge left after standing")
TOGETHER = practice("batteries that are charged together are of one type, size and age")
ALIKE = 0.9
AGEING = practice("an old battery has about three quarters of its rating")

CHARGE_LEFT = 0.60
"""Charge that must be left after standing: common practice."""


def nominal_class(build: Build) -> int:
    """12 or 24, whichever the vehicle is."""
    voltage = build.electrics.nominal_voltage
    for nominal in (12, 24):
        if abs(voltage / nominal - 1.0) <= 0.1:
            return nominal
    raise OutsideRange(f"limits are known for 12 V and 24 V, not for {shown(voltage)}")


def no_loop(build: Build) -> Verdict | None:
    """The verdict where the engine has no way back to the battery: another rule reports that."""
    if network.return_path(build, network.ENGINE) is None:
        return does_not_apply(
            "No ground leads from the engine to the battery, so there is no circuit to judge: see power.grounding."
        )
    return None


@rule(
    "power.crank-loop",
    level="error",
    due="quote",
    sources=[
        sheet("engine.starter.circuit_resistance_max"),
        sources.STARTER_CIRCUITS.giving("fallback", "voltage lost for each 100 A", known="second-hand"),
        q.RESISTANCE,
        q.JOINTS.giving("formula", "0.03 mΩ for each joint"),
    ],
    cautions=[cautions.BATTERY_ARC],
    fallbacks=[q.FRAME_RETURN, q.SWITCH, q.BIG_FUSE],
    adjust=[STARTER_SIZE, "electrics.cables.*[role=starter].length", "electrics.grounds.*.size"],
    instead={"engine.starter.circuit_resistance_max": "electrics.starting_class"},
    without={"electrics.batteries": "Where there is no battery there is none to join; supply.needed-parts says so."},
    bad=[
        {"electrics.cables.starter.length": "6 m", "supply[13].metres_of_cable[1].length": "10 m"},
        {"electrics.isolator.resistance": "1 mohm"},
    ],
    good=[{"electrics.cables.starter.size": "70 mm2"}],
)
def crank_loop(build: Build) -> Verdict:
    """Is the resistance of the starting circuit, from battery to starter and back, within its limit?

    Computes: R = Σ r(size)·L of the starter cables, battery links and grounds on the shortest way there and back, at
    20 °C, with 0.03 mΩ for each joint, the main switch, a fuse, and the frame where current returns through it. A link
    between batteries in parallel counts with the square of the share of the current that it carries.
    Limit: the starter's data sheet; else the drop for each 100 A of SAE J541, which is 2.0 mΩ for a light or medium
    and 1.0 mΩ for a heavy 12 V circuit, 4.0 mΩ and 1.7 mΩ for 24 V. Newer standards have other classes.
    Consequence: The starter turns too slowly: hard starting, above all in the cold, and hot cables.
    Remedy: a thicker starter cable, or the battery nearer to the starter.
    Cannot tell: a bad crimp, a corroded frame, a cable sold as copper that is not. Measure the drop while cranking.
    """
    nothing = no_loop(build)
    if nothing is not None:
        return nothing
    path = network.starter_feed(build)
    if path is None:
        return holds(
            False,
            f"The cables of role starter do not lead from {network.POSITIVE} to {network.STARTER}: state every one.",
            on="electrics.cables",
        )
    unjoined = _unjoined(build)
    if unjoined is not None:
        return unjoined
    found = q.crank_loop(build)
    limit = given(lambda: build.engine.starter.circuit_resistance_max)
    if limit is None:
        limit = J541_LIMIT[nominal_class(build), build.electrics.starting_class]
    drop = shown(100.0 * found, "voltage", "V")
    says = (
        f"{drop} are lost for each 100 A: {shown(q.crank_feed(build))} on the way to the starter, "
        f"{shown(q.crank_return(build))} on the way back."
    )
    on = f"{path_of(path[-1])}.size"
    if found <= limit:
        return at_most(found, limit, says, on=on)
    size = _starter_size(build, path, found, limit)
    if size is None:
        says += " No size of starter cable passes: shorten the way, thicken the grounds, look at frame and joints."
    # Several change together, which no advice says: the search for remedies sees to that.
    return at_most(found, limit, says, on=on, advice=advice(on, size) if len(path) == 1 else None)


def _unjoined(build: Build) -> Verdict | None:
    """The verdict where batteries that work in series have no cables that join them."""
    try:
        series = given(lambda: q.in_series(build))
    except OutsideRange:  # power.system-voltage speaks of such batteries
        return None
    if series is None:
        return None
    strings = q.in_parallel(build)
    wanted, stated = (series - 1) * strings, len(network.cables_for(build, "battery-link"))
    if stated >= wanted:
        return None
    says = (
        f"{series} batteries in series take {wanted} link{'s' if wanted > 1 else ''} between them, and {stated} "
        f"{'are' if stated != 1 else 'is'} stated: state every cable of the role battery-link."
    )
    return holds(False, says, on="electrics.cables")


def _starter_size(build: Build, path: list[Any], found: float, limit: float) -> float | None:
    """The smallest size of all starter cables alike that passes; None where none does."""
    other = found + sum(
        q.with_fuse(build, cable) - q.bare_resistance(cable) - q.length_to_starter(build, cable) for cable in path
    )
    material = max((network.material_of(cable) for cable in path), key=str)
    length = sum(cable.length for cable in path)
    size = conductors.smallest_size(
        conductors.METRIC_SERIES, length=length, resistance_limit=limit, other=other, material=material
    )
    return size.area if size is not None else None


@rule(
    "power.crank-voltage",
    level="error",
    due="quote",
    sources=[
        sheet("engine.ecm.min_voltage_crank"),
        sheet("engine.starter.min_voltage"),
        *q.CRANKING_TESTS,
        q.COLD_FALL.giving("formula", "battery resistance in the cold"),
        q.START_CHARGE.giving("formula", "12.4 V at rest for each battery of 12 V"),
        q.SHARE_LEFT,
    ],
    cautions=[cautions.BATTERY_ARC],
    fallbacks=[CRANK_12, CRANK_24, q.FRAME_RETURN, q.SWITCH, q.BIG_FUSE],
    adjust=["electrics.batteries.*.cca", STARTER_SIZE],
    about="electrics.batteries",
    bad=[{"engine.starter.cranking_current": "650 A"}, {"engine.ecm.min_voltage_crank": "10.5 V"}],
    good=[{"engine.starter.cranking_current": "300 A"}, {"engine.ecm.fitted": False}],
)
def crank_voltage(build: Build) -> Verdict:
    """Do control unit and starter still see enough volts in the coldest crank?

    Computes: U = U_oc - I·(R_battery + R_loop), each battery three-quarters charged: 12.4 V at rest, and 85 % of its
    cranking current, so that R = (12.4 V - test voltage)/(0.85·CCA) at -18 °C, times a factor for the temperature.
    A fail is an error where a full battery, 12.6 V and (12.6 V - test voltage)/CCA, does not do either, else a warning.
    Limit: the control unit's lowest voltage while cranking, without a sheet 8 V at 12 V and 16 V at 24 V; and the
    starter's, where its maker states one. A control unit fed at the battery sees more than the starter, for which the
    number holds. So must every other control unit that the vehicle needs and that must stay live then, by its sheet.
    Consequence: In the coldest crank the control unit resets or the starter stalls: the engine does not start.
    Remedy: batteries of a higher cold-cranking rating, or less resistance in the starting circuit.
    A control unit of another voltage than the vehicle's is left to power.system-voltage.
    An intake heater that heats on while the starter turns takes its current from the battery as well.
    Cannot tell: an aged battery has three quarters of its rating. What an intake heater takes before the start, under
    1 Ah as a rule, is left out.
    """
    nothing = no_loop(build)
    if nothing is not None:
        return nothing
    demands: dict[str, Callable[[], Verdict]] = {}
    has_ecm = given(lambda: is_fitted(build.engine.ecm))
    odd = given(lambda: not same_voltage(build.engine.ecm.voltage, build.electrics.nominal_voltage))
    if has_ecm is not False and not odd:
        demands["control-unit"] = lambda: _enough_volts(build, control_unit_limit(build), "control unit")
    demands["starter"] = lambda: _starter_volts(build)
    for unit in units.others(build):
        if given(lambda unit=unit: _starts_with(unit)):  # type: ignore[misc]
            demands[f"controller.{name_of(unit)}"] = lambda unit=unit: _enough_volts(  # type: ignore[misc]
                build, unit.min_voltage_crank, units.called(unit).removeprefix("the ")
            )
    return all_of(demands)


def _starter_volts(build: Build) -> Verdict:
    least = limit_or_none(lambda: build.engine.starter.min_voltage)
    if least is None:
        return does_not_apply("The starter's maker states no least voltage: with less it turns more slowly.")
    return _enough_volts(build, least, "starter")


def _starts_with(unit: Any) -> bool:
    """Whether a control unit besides the engine's must work while the engine is cranked."""
    wired = not units.is_kept(unit) and any(feed.live_in_crank for feed in units.feeds_of(unit))
    return wired and units.is_vital(unit)


def control_unit_limit(build: Build) -> float:
    """Least voltage at which the engine's control unit works while the engine is cranked, V."""
    fallback = CRANK_24 if nominal_class(build) == 24 else CRANK_12
    return or_practice(lambda: build.engine.ecm.min_voltage_crank, fallback)


def _enough_volts(build: Build, limit: float, whose: str) -> Verdict:
    found = q.crank_voltage(build)
    terminals = q.terminals_while_cranking(build)
    says = (
        f"At {shown(build.engine.starter.cranking_current)} and {shown(build.build.design.ambient_min)} the battery "
        f"terminals hold {shown(terminals, 'voltage', 'V')} and the starter {shown(found)}; the {whose} needs "
        f"{shown(limit, 'voltage', 'V')}."
    )
    heater = q.heater_while_cranking(build)
    if heater:
        says += f" The intake heater takes {shown(heater, 'current', 'A')} more while the starter turns."
    if found >= limit:
        return at_least(found, limit, says)
    # The error rests on the battery's own test, made with a full one; that it must start with less is a convention.
    full = q.crank_voltage_charged(build, 1.0)
    level: Any = "error" if full < limit else "warning"
    says += f" That is with the battery three-quarters charged, as is usual to reckon; full it holds {_volts(full)}."
    try:
        needed = _rating_needed(build, limit, build.engine.starter.cranking_current + heater)
    except OutsideRange:
        return at_least(found, limit, f"{says} The cables alone take too much: no battery helps.", level=level)
    return at_least(found, limit, says, level=level, advice=[advice(one, needed) for one in _the_battery(build, "cca")])


def _volts(value: float) -> str:
    return shown(value, "voltage", "V")


def _rating_needed(build: Build, limit: float, drawn: float) -> float:
    """The cold-cranking rating that holds a voltage, to the standard of the first battery.

    Raises `OutsideRange` where none does.
    """
    standard = q.standard_of(q.starting_batteries(build)[0])
    needed = batteries.rating_needed(
        limit,
        drawn,
        q.crank_loop(build) * build.engine.starter.cranking_current / drawn,
        standard,
        temperature=build.build.design.ambient_min,
        charge=q.CHARGE_AT_START,
        in_series=q.in_series(build),
    )
    return batteries.next_en_rating(needed) if standard is batteries.CrankingStandard.EN_50342_1 else needed


def _the_battery(build: Build, field: str) -> list[str]:
    """A field of the starting battery; none where there are several: they change together, which no advice says."""
    found = q.starting_batteries(build)
    return [f"{path_of(found[0])}.{field}"] if len(found) == 1 else []


@rule(
    "power.battery-cold",
    level="error",
    due="quote",
    sources=[
        sheet("engine.starting.cca_min"),
        CHARGE_KEPT.giving("limit", "60 % of the charge"),
        q.COLD_FALL.giving("formula", "what a rating test would find in the cold"),
        AGEING.giving("formula", "three quarters of the rating in old age"),
        TOGETHER.giving("limit", "capacities within a tenth of each other"),
    ],
    cautions=[cautions.BATTERY_ARC],
    fallbacks=[SMALL_DIESEL, BIG_DIESEL, PETROL],
    adjust=["electrics.batteries.*.cca", "electrics.batteries.*.capacity"],
    without={
        "engine.starting.cca_min": "A rough EN rating for the size of the engine, a named practice, is then asked of "
        "the battery."
    },
    about="electrics.batteries",
    bad=[
        {"engine.starting.cca_min": "900 A"},
        {"engine.starting.cca_standard": "SAE J537"},
        {"engine.starting.temperature": "-10 degC"},
        {"electrics.parasitic_current": "200 mA"},
    ],
    good=[{"engine.starting.cca_min": "500 A"}, {"electrics.parasitic_current": "10 mA"}],
)
def battery_cold(build: Build) -> Verdict:
    """Is the battery large enough for the coldest start, and for the time that the vehicle stands?

    Computes: the rating of the weakest starting battery times the strings in parallel; the charge left after the
    longest standing time, 1 - I·t/C.
    Limit: the engine's data sheet, to the same rating standard and at its temperature or above it; ratings of
    different standards are never converted into each other. Where the sheet is silent, a rough rating by engine size
    (a warning). 60 % of the charge must be left after standing (a warning). Starting batteries differ
    by a tenth at most in capacity (common practice: a warning).
    Consequence: The engine does not start on a cold morning, or after the vehicle has stood for some time.
    Remedy: a battery with a higher rating or capacity; ask the maker for the rating to the engine sheet's standard
    where they differ.
    Cannot tell: ageing. An old battery has about three quarters of its rating.
    """
    demands: dict[str, Callable[[], Verdict]] = {}
    if given(lambda: build.engine.starting.cca_min) is None:
        demands["rating"] = lambda: _by_size(build)
    else:
        starting = given(lambda: q.starting_batteries(build)) or []
        for battery in starting:
            demands[f"standard.{name_of(battery)}"] = lambda battery=battery: _same_standard(build, battery)  # type: ignore[misc]
        if not any(given(lambda battery=battery: _is_other(build, battery)) for battery in starting):  # type: ignore[misc]
            demands["rating"] = lambda: _rated_enough(build)
        demands["temperature"] = lambda: _asked_so_cold(build)
    demands["charge-left"] = lambda: _after_standing(build)
    if len(given(lambda: q.starting_batteries(build)) or []) > 1:
        demands["alike"] = lambda: _alike(build)
    return all_of(demands)


def _alike(build: Build) -> Verdict:
    """Whether batteries that are charged together are of one size."""
    found = q.starting_batteries(build)
    sizes = [battery.capacity for battery in found]
    small, large = found[sizes.index(min(sizes))], found[sizes.index(max(sizes))]
    says = f"The starting batteries have {shown(small.capacity)} and {shown(large.capacity)}."
    good = min(sizes) >= ALIKE * max(sizes)
    if not good:
        says += " In series the smaller one is overcharged and run flat, side by side the weaker one drains the other: "
        says += "take batteries of one type, size and age."
    return holds(good, says, level="warning", on=f"{path_of(small)}.capacity")


def _is_other(build: Build, battery: Any) -> bool:
    """Whether a battery is rated to another standard than the engine's need."""
    return bool(battery.cca_standard != build.engine.starting.cca_standard)


def _same_standard(build: Build, battery: Any) -> Verdict:
    asked = build.engine.starting.cca_standard
    says = f"The battery is rated to {battery.cca_standard}, as the engine's need is stated."
    if _is_other(build, battery):
        says = (
            f"The battery is rated to {battery.cca_standard}, the engine's need is stated to {asked}: the two tests "
            "differ and the numbers cannot be compared. Ask for the rating to the same standard."
        )
    return holds(not _is_other(build, battery), says, on=f"{path_of(battery)}.cca_standard")


def _rated_enough(build: Build) -> Verdict:
    found, minimum, asked = q.bank_rating(build), build.engine.starting.cca_min, build.engine.starting.cca_standard
    return at_least(
        found,
        minimum,
        f"Rated {shown(found)} to {asked}{_in_the_cold(build)}; the engine asks for {shown(minimum)}. Aged to three "
        f"quarters it would have {shown(batteries.AGED_SHARE * found, 'current', 'A')}.",
        advice=[advice(one, minimum) for one in _the_battery(build, "cca")],
    )


def _asked_so_cold(build: Build) -> Verdict:
    coldest, stated = build.build.design.ambient_min, build.engine.starting.temperature
    says = f"The coldest start is at {shown(coldest)}; the engine's need is stated for {shown(stated)} and above."
    if coldest < stated:
        says += " Ask for its need at the coldest start."
    return holds(bool(coldest >= stated), says, on="engine.starting.temperature")


def _in_the_cold(build: Build) -> str:
    try:
        return f", {shown(q.bank_rating_cold(build))} at the coldest start"
    except OutsideRange:
        return ""  # colder than practice is known for: the rating is compared all the same


def _by_size(build: Build) -> Verdict:
    if any(q.standard_of(b) is not batteries.CrankingStandard.EN_50342_1 for b in q.starting_batteries(build)):
        # The rough rating is an EN one: without the sheet nothing can be said of another standard.
        return at_least(q.bank_rating(build), build.engine.starting.cca_min)
    size = build.engine.displacement
    if build.engine.fuel_type == "petrol":
        needed = use_practice(build, PETROL) * size
    else:
        needed = use_practice(build, SMALL_DIESEL if size <= 3.0e-3 else BIG_DIESEL) * size
    needed /= q.in_series(build)
    found = q.bank_rating(build)
    return at_least(
        found,
        needed,
        f"Without the engine maker's figure a rough one for its size is {shown(needed, 'current', 'A')} for each "
        "battery: ask the maker.",
        # A rough figure only warns; passing it does not make the rule less than an error.
        level="warning" if found < needed else None,
        advice=[advice(one, needed) for one in _the_battery(build, "cca")],
    )


def _after_standing(build: Build) -> Verdict:
    left = q.charge_after_standing(build)
    lost = build.electrics.parasitic_current * build.build.duty.standing_days
    return at_least(
        left,
        CHARGE_LEFT,
        f"After {q.standing_time(build)} at {shown(build.electrics.parasitic_current)} {shown(left)} of the charge is "
        "left.",
        level="warning",
        on="electrics.parasitic_current",
        advice=[advice(one, lost / (1.0 - CHARGE_LEFT)) for one in _the_battery(build, "capacity")],
    )
