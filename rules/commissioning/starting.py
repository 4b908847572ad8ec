"""Rules of the first start: what is done before, oil pressure, the starting circuit while the starter turns."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from swaplint.api import (
    Build,
    ImpossibleInput,
    Practice,
    Verdict,
    all_of,
    at_least,
    at_most,
    carried,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    limit_or_none,
    needs_review,
    or_practice,
    practice,
    quantity,
    rule,
    sheet,
    shown,
    use_practice,
)
from swaplint.engineering import batteries

from .. import sources
from ..power import quantities as power
from ..power.starting import J541_LIMIT, nominal_class
from . import compared, documents
from . import electrics_reckoned as reckoned
from .trials import CRANKING, faster_than_governed, joint_limit, warm_copper

Level = Literal["error", "warning", "note"]
PRE = "measured.before_start"
OIL = "measured.oil"

DONE_FIRST = practice(
    "what is done before an engine is cranked for the first time: most damage is done in its first minute"
)
STEPS = {
    "oil_filled": "the engine oil",
    "oil_primed": "priming the oil system",
    "coolant_bled": "filling and bleeding the coolant",
    "fuel_bled": "bleeding the fuel",
    "gearbox_oil_filled": "the oil of gearbox and axles",
    "battery_held": "the batteries",
    "grounds_tight": "the grounds",
    "belts_tight": "the belts",
    "fan_free": "the fan",
    "hoses_tight": "hoses and clamps",
    "shields_fitted": "shields and guards",
    "intake_clean": "the intake",
    "codes_read": "reading the fault codes",
    "stop_tried": "trying the stop control and the main switch",
    "extinguisher_ready": "extinguisher and extraction",
}
"""The steps in working order, as a sentence calls them."""

TELLING_CURRENT = 120.0
"""Current, A, from which a drop tells something (SAE J3053)."""

METERS = 1.03
"""How many times the battery's voltage a second meter may show of it: two that are each off by 1.5 %."""

RISE = Practice("oil pressure within 15 s of the start", 15.0, documents.OIL_PRACTICE)
IDLE = Practice("100 kPa of oil pressure at hot idle", 100e3, documents.OIL_PRACTICE)
LOADED = Practice("250 kPa of oil pressure, hot, at rated speed", 250e3, documents.OIL_PRACTICE)
HOT = 353.15
"""Coldest oil whose pressure stands for that of the hot engine, K."""
HOT_OIL = practice("the oil of a warm engine has 80 to 110 °C").giving("formula", "80 °C, from where oil counts as hot")
_COLD = "Thick cold oil shows more than the hot engine has: read it again with hot oil."
NEAR_RATED = 0.9
"""Share of rated speed from which a reading stands for it."""
READS_ALIKE = Practice(
    "gauge and control unit read the oil pressure within 30 kPa", 30e3, practice("senders and gauges of oil pressure")
)


# -- before the first crank -------------------------------------------------------------------------------------------
@rule(
    "commissioning.pre-start",
    level="error",
    due="commission",
    sources=[DONE_FIRST.giving("limit", "every step done")],
    cautions=[cautions.EXHAUST_GAS, cautions.FUEL_FIRE, cautions.HIGH_PRESSURE_FUEL, cautions.ROTATING],
    about=PRE,
    bad=[{f"{PRE}.{step}": False} for step in ("oil_primed", "fuel_bled", "fan_free", "stop_tried")],
    good=[{f"{PRE}.by": "another invented fitter"}],
    without={"plumbing.belts": "Without a belt there is none to look at; every other step is asked for all the same."},
)
def pre_start(build: Build) -> Verdict:
    """Is all done that must be done before the engine is cranked for the first time?

    Computes: which of the steps are done.
    Limit: all of them, in working order: oil filled and primed, coolant and fuel bled, the other oils, batteries,
    grounds, belts, fan, hoses, shields, intake, fault codes read before any is erased, stop control tried, extinguisher
    and extraction at hand.
    Consequence: Bearings run dry, a fan strikes or fuel leaks in the first minute, before anybody can stop it.
    Remedy: what the sentence names, in that order, before the starter turns.
    Cannot tell: whether what is ticked was seen or assumed.
    """
    done = build.measured.before_start
    undone = [words for step, words in STEPS.items() if _concerns(build, step) and not getattr(done, step)]
    if undone:
        return holds(False, f"Not done before the first crank: {', '.join(undone)}.", on=PRE)
    return holds(True, "All is done that comes before the first crank.", on=PRE)


def _concerns(build: Build, step: str) -> bool:
    """Whether this build has what a step is about."""
    if step == "belts_tight":
        return given(lambda: len(build.plumbing.belts)) != 0
    if step == "fan_free":
        return given(lambda: is_fitted(build.plumbing.cooling.fan)) is not False
    return True


# -- oil pressure -----------------------------------------------------------------------------------------------------
@rule(
    "commissioning.oil-pressure",
    level="error",
    due="commission",
    sources=[
        sheet("engine.oil.rise_time_max").giving("limit", demands=["rise"]),
        sheet("engine.oil.idle_pressure_min").giving("limit", demands=["idle"]),
        sheet("engine.oil.rated_pressure_min").giving("limit", demands=["loaded"]),
        HOT_OIL,
    ],
    cautions=[cautions.HOT, cautions.ROTATING],
    about=OIL,
    fallbacks=[RISE, IDLE, LOADED, READS_ALIKE],
    bad=[
        {f"{OIL}.rise_time": "14 s"},
        {f"{OIL}.idle_pressure": "80 kPa", f"{OIL}.bus_pressure": "85 kPa"},
        {f"{OIL}.loaded_pressure": "200 kPa"},
        {f"{OIL}.bus_pressure": "260 kPa"},
    ],
    good=[{f"{OIL}.rise_time": "9 s"}],
)
def oil_pressure(build: Build) -> Verdict:
    """Does oil pressure show in time after the start, and hold at hot idle and at rated speed?

    Computes: the readings against what the maker asks for; the gauge against what the control unit reads.
    Limit: the engine's data sheet: an error. Without one 15 s, 100 kPa at hot idle and 250 kPa at rated speed, the size
    that three truck engines have: a warning. The two readings within 30 kPa of each other: a warning. What is read with
    oil below 80 °C (common practice) proves nothing: a person decides.
    Consequence: Bearings and turbocharger run without oil, and seize within seconds to hours.
    Remedy: stop at once; then level, filter, relief valve, pick-up and its joint, and the gauge against another.
    Cannot tell: the state of the bearings, a sender that reads high.
    """
    trial, asked = build.measured.oil, build.engine.oil
    idle = trial.idle_pressure

    def rise() -> Verdict:
        limit, level = _asked(lambda: asked.rise_time_max, RISE)
        says = f"Oil pressure showed after {shown(trial.rise_time)}."
        if trial.rise_time > limit:
            says += " Stop at once in such a case, and prime again."
        return at_most(trial.rise_time, limit, says, level=level, on=f"{OIL}.rise_time")

    def at_idle() -> Verdict:
        limit, level = _asked(lambda: asked.idle_pressure_min, IDLE)
        says = f"{shown(idle)} at hot idle, with oil of {shown(trial.oil)}."
        if idle >= limit and trial.oil < HOT:
            return needs_review(f"{says} {_COLD}", on=f"{OIL}.oil", found=idle)
        return at_least(idle, limit, says, level=level, on=f"{OIL}.idle_pressure")

    def loaded() -> Verdict:
        speed, rated = trial.loaded_speed, build.engine.speed.rated
        limit, level = _asked(lambda: asked.rated_pressure_min, LOADED)
        says = f"{shown(trial.loaded_pressure)} at {shown(speed)}, hot."
        if speed < NEAR_RATED * rated:
            says += f" Rated speed is {shown(rated)}: read it there."
            return needs_review(says, on=f"{OIL}.loaded_speed", found=trial.loaded_pressure)
        if faster_than_governed(build, speed):
            says += f" The governor holds the engine at {shown(build.engine.speed.governed_max)}: look the speed up."
            return needs_review(says, on=f"{OIL}.loaded_speed", found=trial.loaded_pressure)
        if trial.loaded_pressure >= limit and trial.oil < HOT:
            return needs_review(f"{says} The oil had {shown(trial.oil)}. {_COLD}", on=f"{OIL}.oil")
        return at_least(trial.loaded_pressure, limit, says, level=level, on=f"{OIL}.loaded_pressure")

    def alike() -> Verdict:
        apart = abs(trial.bus_pressure - idle)
        says = f"The control unit reads {shown(trial.bus_pressure)}, the gauge {shown(idle)}, at hot idle."
        limit = use_practice(build, READS_ALIKE)
        unit = ("pressure_difference", "kPa")
        return at_most(apart, limit, says, level="warning", on=f"{OIL}.bus_pressure", unit=unit)

    demands: dict[str, Callable[[], Verdict]] = {"rise": rise, "idle": at_idle, "loaded": loaded}
    if given(lambda: is_fitted(build.engine.ecm)) is not False:
        demands["reads-alike"] = alike
    return all_of(demands)


def _asked(read: Callable[[], float], fallback: Practice) -> tuple[float, Level]:
    """A limit of the engine's maker, which makes an error; else what is common, which warns."""
    stated = given(read)
    return (or_practice(read, fallback), "warning") if stated is None else (stated, "error")


# -- starting circuit -------------------------------------------------------------------------------------------------
@quantity(
    "commissioning.crank-loop",
    "resistance",
    "mohm",
    formula="R = (U_feed + U_return)/I/(1 + 0.00393·(T − 20 °C))",
    symbols={"U_feed": f"{CRANKING}.feed_drop", "U_return": f"{CRANKING}.return_drop", "I": f"{CRANKING}.current"},
    sources=[
        sources.OHM.giving("formula", "resistance from drop and current"),
        sources.COPPER.giving("formula", "0.00393 more for each K"),
    ],
)
def cranking_loop(build: Build) -> float:
    """Resistance of the starting circuit as it was measured while it was cranked, as cold as resistances are stated."""
    trial = build.measured.cranking
    return (trial.feed_drop + trial.return_drop) / trial.current / warm_copper(trial.air)


@quantity(
    "commissioning.crank-cold",
    "voltage",
    "V",
    formula="U = U_rest − I_crank·(R·factor(coldest)/factor(T) + R_loop), R = (U_rest − U)/I; with a full battery and "
    "with one that is three-quarters charged, the better of both",
    symbols={"I": f"{CRANKING}.current", "T": f"{CRANKING}.air", "I_crank": "engine.starter.cranking_current"},
    sources=[
        sources.OHM.giving("formula", "resistance inside the battery, and what is left behind it"),
        power.COLD_FALL.giving("formula", "resistance of a battery by its temperature"),
    ],
)
def left_in_the_cold(build: Build) -> float:
    """Voltage at the starter that the battery, as it was measured while it cranked, leaves in the coldest start."""
    trial, starter = build.measured.cranking, build.engine.starter
    colder = batteries.resistance_factor(build.build.design.ambient_min) / batteries.resistance_factor(trial.air)
    left = []
    for charge in (1.0, power.CHARGE_AT_START):
        rest = batteries.open_circuit_voltage(charge, power.in_series(build))
        inside = (rest - trial.terminal_voltage) / trial.current
        if inside > 0.0:
            left.append(rest - starter.cranking_current * (inside * colder + power.crank_loop(build)))
    if not left:
        raise ImpossibleInput("the battery is stated as holding more while it cranks than at rest")
    return max(left)


@rule(
    "commissioning.crank-drop",
    level="error",
    due="commission",
    sources=[
        sheet("engine.starter.circuit_resistance_max").giving("limit", demands=["loop"]),
        sources.STARTER_CIRCUITS.giving("fallback", "voltage lost for each 100 A", known="second-hand"),
        sources.STARTER_LOOPS.giving("limit", "120 A, for a drop that tells something", demands=["current"]),
        sheet("engine.ecm.min_voltage_crank").giving("limit", demands=["control-unit", "coldest-start"]),
        power.COLD_FALL.giving("formula", "battery resistance in the cold"),
        documents.STARTING_TEST.giving("formula", "how the drop is measured: the engine kept from starting, 15 s"),
        sources.COPPER.giving("formula", "resistance of copper by its temperature"),
        *compared.sources_of("feed-as-reckoned", "return-as-reckoned"),
    ],
    cautions=[cautions.BATTERY_ARC, cautions.ROTATING],
    about=CRANKING,
    fallbacks=[power.FRAME_RETURN, power.SWITCH, power.BIG_FUSE, compared.READING, compared.THERMOMETER],
    instead={"engine.starter.circuit_resistance_max": "electrics.starting_class"},
    bad=[
        {f"{CRANKING}.feed_drop": "0.45 V"},
        {f"{CRANKING}.feed_drop": "1.1 V", f"{CRANKING}.return_drop": "0.9 V", f"{CRANKING}.unit_voltage": "6 V"},
    ],
    good=[{f"{CRANKING}.feed_drop": {"value": "0.36 V", "tol": "2 %"}}],
    without=dict.fromkeys(
        (
            "electrics.grounds.*.material",
            "electrics.cables.*.joints",
            "electrics.grounds.*.joints",
            "electrics.cables.*.fuse",
        ),
        compared.UNSAID,
    ),
)
def crank_drop(build: Build) -> Verdict:
    """Is the starting circuit as good while the starter turns as the starter needs it?

    Computes: R = (U_feed + U_return)/I, taken back to 20 °C. The drop on either way against what cables, joints, switch
    and frame were reckoned to take at that current and temperature.
    Limit: as for power.crank-loop: the starter's data sheet, else the drop for each 100 A of SAE J541: 2.0 mΩ for a
    light or medium and 1.0 mΩ for a heavy 12 V circuit, 4.0 and 1.7 mΩ for 24 V. A current of at least 120 A, below
    which a drop tells little (SAE J3053): else a person decides. The control unit keeps its least voltage
    meanwhile, and would in the coldest start with the battery as it was measured, at rest full or three-quarters
    charged, whichever is better: a warning.
    Consequence: The starter turns too slowly: hard starting, above all in the cold, and hot joints.
    Remedy: measure each joint in turn while the starter turns: one above 20 mV for each 100 A is cleaned and remade.
    Cannot tell: how full the battery was.
    """
    trial = build.measured.cranking
    current = trial.current

    def loop() -> Verdict:
        found, limit = cranking_loop(build), given(lambda: build.engine.starter.circuit_resistance_max)
        if limit is None:
            limit = J541_LIMIT[nominal_class(build), build.electrics.starting_class]
        says = (
            f"{shown(trial.feed_drop)} on the way to the starter and {shown(trial.return_drop)} on the way back at "
            f"{shown(current)}."
        )
        if found > limit:
            says += f" Measure each joint: one of more than {shown(joint_limit(current), 'voltage', 'mV')} is bad."
        return at_most(found, limit, says, on=f"{CRANKING}.feed_drop")

    def enough_current() -> Verdict:
        says = f"The drops were read at {shown(current)}; from 120 A on they tell something."
        if current < TELLING_CURRENT:
            return needs_review(
                f"{says} Read them again with the engine turning cold.", on=f"{CRANKING}.current", found=current
            )
        return at_least(current, TELLING_CURRENT, says, on=f"{CRANKING}.current")

    def control_unit() -> Verdict:
        least = limit_or_none(lambda: build.engine.ecm.min_voltage_crank)
        if least is None:
            return does_not_apply("The control unit's maker states no least voltage while cranking.")
        says = (
            f"The control unit had {shown(trial.unit_voltage)} while the starter turned, in air of {shown(trial.air)}."
        )
        battery = given(lambda: trial.terminal_voltage)
        if battery is not None and trial.unit_voltage >= max(least, METERS * battery):
            says += f" The battery had {shown(battery)}, and no cable adds to that: one of the two is read wrong, or "
            return needs_review(f"{says}another battery feeds the unit.", on=f"{CRANKING}.unit_voltage")
        return at_least(trial.unit_voltage, least, says, on=f"{CRANKING}.unit_voltage")

    def coldest_start() -> Verdict:
        coldest = build.build.design.ambient_min
        if trial.air <= coldest:
            return does_not_apply("It was cranked as cold as it gets.")
        least = limit_or_none(lambda: build.engine.ecm.min_voltage_crank)
        if least is None:
            return does_not_apply("The control unit's maker states no least voltage while cranking.")
        found = left_in_the_cold(build)
        says = f"A battery that holds {shown(trial.terminal_voltage)} at {shown(current)} in air of {shown(trial.air)} "
        says += f"leaves {shown(found, 'voltage', 'V', digits=3)} in the coldest start, at {shown(coldest)}."
        if found < least:
            says += " It is weak or flat: charge it, try it again, and have it tested."
        # What the cold makes of a battery is known more roughly than any meter reads.
        return carried(at_least(found, least, says, level="warning", on=f"{CRANKING}.terminal_voltage"))

    demands: dict[str, Callable[[], Verdict]] = {
        "loop": loop,
        "current": enough_current,
        "feed-as-reckoned": lambda: reckoned.crank_feed(build),
        "return-as-reckoned": lambda: reckoned.crank_return(build),
    }
    if given(lambda: is_fitted(build.engine.ecm)) is not False:
        demands |= {"control-unit": control_unit, "coldest-start": coldest_start}
    return all_of(demands)
