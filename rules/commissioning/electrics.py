"""Rules of charging, of what is drawn with the key off, and of the data bus."""

from __future__ import annotations

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    all_of,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    needs_review,
    practice,
    quantity,
    rule,
    sheet,
    shown,
    use_practice,
    within,
)

from .. import sources
from ..network.line import PAIR_HIGH, PAIR_LOW
from ..power import quantities as power
from ..power.starting import CHARGE_LEFT, nominal_class
from . import compared, documents
from . import electrics_reckoned as reckoned
from .trials import BUS, CHARGING

LOW, HIGH = 13.5, 14.5
"""Charging voltage of a 12 V system after ten minutes, V; twice that at 24 V (US Army TM 5-3895-382-24)."""
NOT_CHARGED = 12.9
"""Voltage, V, below which no regulator charges, however hot: common practice."""
DISCHARGES = Practice(
    "12.8 V at idle, for each 12 V, where the battery is not being emptied",
    12.8,
    practice("voltage at a battery that is neither charged nor emptied"),
)
DROP = Practice(
    "0.5 V lost there and back at rated current, for each 12 V",
    0.5,
    practice("loss of a charge cable there and back, 0.25 V, or 0.5 V where the alternator senses at the battery"),
)
KEY_OFF = Practice(
    "0.05 A with the key off and all units asleep (0.03 to 0.05 A)",
    0.05,
    documents.KEY_OFF_PRACTICE,
    between=(0.03, 0.05),
)
BEYOND_RATED = 1.15
"""Output of an alternator over its rating: a cold one gives a tenth more than it is rated for."""
ASLEEP = 300.0
"""Time, s, before which no unit is asleep: 5 min, and up to 75 min in some vehicles."""
NO_CODES = practice("a vehicle is handed over without active fault codes, and the stored ones explained")
BUS_LOAD = practice("a bus of vehicle messages is in use for at most half of the time")
MOST_LOAD = 0.5
VOLTS = ("voltage", "V")


# -- charging ---------------------------------------------------------------------------------------------------------
@quantity(
    "commissioning.charge-drop",
    "voltage",
    "V",
    formula="ΔU = (U_out + U_ground)·I_rated/I",
    symbols={
        "U_out": f"{CHARGING}.output_drop",
        "U_ground": f"{CHARGING}.ground_drop",
        "I": f"{CHARGING}.output_current",
        "I_rated": "engine.alternator.rated_current",
    },
    sources=[sources.OHM.giving("formula")],
)
def measured_charge_drop(build: Build) -> float:
    """Voltage lost between alternator and battery, there and back, taken up from the reading to rated current."""
    trial = build.measured.charging
    return (trial.output_drop + trial.ground_drop) * build.engine.alternator.rated_current / trial.output_current


@rule(
    "commissioning.charging-electrics",
    level="warning",
    due="commission",
    sources=[
        documents.CHARGING_TEST.giving("limit", "14.0 ± 0.5 V, 28 ± 1 V", demands=["voltage"]),
        sheet("engine.alternator.cable_drop_max").giving("limit", demands=["drop"]),
        practice("60 % of the charge left after standing").giving("limit", demands=["standing"]),
        *compared.sources_of("charge-as-reckoned", "key-off-as-reckoned"),
    ],
    cautions=[cautions.BATTERY_ARC, cautions.ROTATING],
    about=CHARGING,
    fallbacks=[DISCHARGES, DROP, KEY_OFF, compared.READING],
    bad=[
        {f"{CHARGING}.voltage": "12.6 V"},
        {f"{CHARGING}.voltage": "15.4 V"},
        {f"{CHARGING}.idle_voltage": "12.4 V"},
        {f"{CHARGING}.output_drop": "0.4 V"},
        {f"{CHARGING}.key_off_current": "180 mA"},
    ],
    good=[{f"{CHARGING}.voltage": "14.3 V"}],
)
def charging_electrics(build: Build) -> Verdict:
    """Is the battery charged as it should be, and is nothing drawn that empties it?

    Computes: the loss of the charge cable there and back, taken up to rated current; the charge that is left after the
    longest standing time with the current that was measured.
    Limit: 13.5 to 14.5 V after ten minutes, 27 to 29 V at 24 V (US Army TM 5-3895-382-24); a regulator gives less when
    hot, 12.9 to 14.1 V at 80 °C. Below 12.9 V nothing charges: an error. At idle with the usual consumers 12.8 V and
    no more than 14.5 V for each 12 V; the loss by the alternator's sheet, else 0.5 V; 50 mA with the key off, once all
    units are asleep; 60 % of the charge left after standing (common practice). All else is a warning.
    Consequence: The battery is flat some morning, or it gasses and its electrolyte boils away.
    Remedy: belt and excitation first, then the feed, strap or fuse with the largest drop; pull fuses one by one to find
    what draws current with the key off.
    Cannot tell: drains that come and go; how full the battery was.
    """
    trial = build.measured.charging
    voltage = trial.voltage
    times = nominal_class(build) / 12

    def charged() -> Verdict:
        says = f"{shown(voltage)} at the battery at {shown(trial.speed)}, in air of {shown(trial.air)}."
        if voltage < NOT_CHARGED * times:
            says += " Nothing is charged."
            return within(voltage, LOW * times, HIGH * times, says, level="error", on=f"{CHARGING}.voltage")
        return within(voltage, LOW * times, HIGH * times, says, on=f"{CHARGING}.voltage")

    def at_idle() -> Verdict:
        least = use_practice(build, DISCHARGES) * times
        says = f"{shown(trial.idle_voltage)} at idle with the usual consumers on."
        return within(trial.idle_voltage, least, HIGH * times, says, on=f"{CHARGING}.idle_voltage")

    def drop() -> Verdict:
        rated, read = build.engine.alternator.rated_current, trial.output_current
        if read > BEYOND_RATED * rated:
            says = (
                f"{shown(read)} are read, and the alternator is rated for {shown(rated)}: it gives no more than that."
            )
            return needs_review(f"{says} Read it again, or look the rating up.", on=f"{CHARGING}.output_current")
        found, limit = measured_charge_drop(build), given(lambda: build.engine.alternator.cable_drop_max)
        if limit is None:
            limit = use_practice(build, DROP) * times
        says = (
            f"{shown(trial.output_drop)} on the way out and {shown(trial.ground_drop)} on the way back at "
            f"{shown(trial.output_current)} come to {shown(found, *VOLTS, digits=2)} at rated current."
        )
        return at_most(found, limit, says, on=f"{CHARGING}.output_drop", unit=VOLTS)

    return all_of(
        {"voltage": charged, "idle": at_idle, "drop": drop},
        key_off=lambda: _key_off(build),
        standing=lambda: _standing(build),
        charge_as_reckoned=lambda: reckoned.charge_feed(build),
        key_off_as_reckoned=lambda: reckoned.key_off(build),
    )


def _key_off(build: Build) -> Verdict:
    trial = build.measured.charging
    says = f"{shown(trial.key_off_current)} with the key off, {shown(trial.key_off_wait)} after it was locked."
    limit = use_practice(build, KEY_OFF)
    if trial.key_off_wait < ASLEEP and trial.key_off_current > limit:
        says += " Units fall asleep after 5 to 75 min: read it again then."
        return needs_review(says, on=f"{CHARGING}.key_off_wait", found=trial.key_off_current)
    return at_most(trial.key_off_current, limit, says, on=f"{CHARGING}.key_off_current")


def _standing(build: Build) -> Verdict:
    current = build.measured.charging.key_off_current
    left = power.charge_left_with(build, current)
    says = f"After {power.standing_time(build)} at {shown(current)} {shown(left, 'share', '%')} of the charge is left."
    return at_least(left, CHARGE_LEFT, says, on=f"{CHARGING}.key_off_current", unit=("share", "%"))


# -- bus --------------------------------------------------------------------------------------------------------------
@rule(
    "commissioning.network-check",
    level="error",
    due="commission",
    sources=[
        sources.CAN_LINE.giving("limit", "two terminators of 120 Ω", known="second-hand", demands=["resistance"]),
        sources.BUS_FAST.giving("limit", "120 Ω within 10 %", known="second-hand", demands=["resistance"]),
        NO_CODES.giving("limit", "no active code, stored ones explained", demands=["active", "stored"]),
        BUS_LOAD.giving("limit", "50 %", demands=["load"]),
        *compared.sources_of("resistance-as-reckoned"),
    ],
    cautions=[cautions.LAW],
    about=BUS,
    fallbacks=[compared.READING],
    bad=[
        {f"{BUS}.resistance": "40 ohm"},
        {f"{BUS}.resistance": "121 ohm"},
        {f"{BUS}.active_codes": ["SPN 100 FMI 3"]},
        {f"{BUS}.stored_codes_explained": False},
        {f"{BUS}.load": "62 %"},
    ],
    good=[{f"{BUS}.resistance": "58.5 ohm"}],
)
def network_check(build: Build) -> Verdict:
    """Has the bus both of its terminators, and is the vehicle free of fault codes?

    Computes: nothing; the readings are compared.
    Limit: 54 to 66 Ω between the two wires with the battery off, which is two terminators of 120 Ω within 10 %: an
    error. No active code with the engine running, every stored one explained before it was erased, the bus in use for
    half of the time at most (common practice): warnings.
    Consequence: Gauges flicker, the engine stores faults or cuts its power, and nobody knows why.
    Remedy: 40 Ω: three terminators, take one out; 120 Ω: one is missing; near nothing or endless: the wiring.
    Cannot tell: a crimp that opens when it is shaken: wiggle the harness, and watch the error counters.
    """
    if given(lambda: is_fitted(build.engine.network)) is False:
        return does_not_apply("The engine package is on no data bus.")
    trial = build.measured.bus
    resistance = trial.resistance

    def terminated() -> Verdict:
        says = f"{shown(resistance)} between the two wires with the battery off{_meaning(resistance)}."
        return within(resistance, PAIR_LOW, PAIR_HIGH, says, on=f"{BUS}.resistance")

    def active() -> Verdict:
        codes = list(trial.active_codes)
        says = f"Active with the engine running: {', '.join(codes)}." if codes else "No fault code is active."
        return holds(not codes, says, level="warning", on=f"{BUS}.active_codes")

    def stored() -> Verdict:
        done = trial.stored_codes_explained
        says = "Every stored fault code was explained." if done else "Stored fault codes were not explained yet."
        return holds(done, says, level="warning", on=f"{BUS}.stored_codes_explained")

    def load() -> Verdict:
        says = f"The bus is in use for {shown(trial.load)} of the time at idle."
        return at_most(trial.load, MOST_LOAD, says, level="warning", on=f"{BUS}.load")

    return all_of(
        resistance=terminated,
        active=active,
        stored=stored,
        load=load,
        resistance_as_reckoned=lambda: reckoned.bus(build),
    )


def _meaning(resistance: float) -> str:
    """What an odd resistance of a bus tells."""
    if PAIR_LOW <= resistance <= PAIR_HIGH:
        return ""
    if resistance < 10.0:
        return ": the two wires touch"
    if resistance < PAIR_LOW:
        return ": more than two terminators"
    return ": one terminator is missing" if resistance < 200.0 else ": the wires are open"
