"""The rule about the days on which readings were taken."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Verdict, does_not_apply, holds, path_of, practice, rule, stated_values, value_at

from .starting import OIL, PRE
from .trials import BRAKES, CHARGING, CRANKING, FUEL, LOAD, ROAD, RUN, VACUUM
from .vehicle import RUNNING

TAKEN = practice("a reading was taken on the day of judging or before")


@rule(
    "commissioning.reading-dates",
    level="warning",
    due="commission",
    sources=[TAKEN.giving("limit", "the day of judging")],
    about="measured",
    bad=[{"measured.oil.date": "2026-06-01"}],
    good=[{"measured.oil.date": "2026-05-31"}],
)
def reading_dates(build: Build) -> Verdict:
    """Was every reading taken by the day on which the vehicle is judged?

    Computes: nothing; the date of each trial and of each step that is done is held against the day of judging.
    Limit: that day.
    Consequence: The vehicle is handed over on a reading that nobody has taken yet, or on one of another vehicle.
    Remedy: put the date right, or take the reading.
    Cannot tell: a reading that has no date; one that was copied from elsewhere.
    """
    judged = build.build.judged_on
    stated = stated_values(build, "commissioning")
    dated = [(str(date.value), path) for path, date, _ in stated if path.endswith(".date")]
    if not dated:
        return does_not_apply("No reading has a date.")
    date, path = max(dated)
    late = [one for one in dated if one[0] > judged]
    if not late:
        return holds(True, f"The last of {len(dated)} dates is {date}; the vehicle is judged on {judged}.")
    _ = value_at(build, path)  # the one that the result rests on
    more = f", and {len(late) - 1} more" if len(late) > 1 else ""
    says = f"Dated after {judged}, the day of judging: {path} = {date}{more}. Put the date right, or take the reading."
    return holds(False, says, on=path)


# -- in which order ---------------------------------------------------------------------------------------------------
READY = practice("no engine turns before it was made ready for its first crank")
TURNING = (CRANKING, OIL, FUEL, LOAD, RUN, RUNNING, CHARGING, VACUUM, BRAKES, ROAD)
"""Trials in which the engine turns."""


def turned(build: Build) -> list[Any]:
    """The trials with the engine turning of which something is stated."""
    stated = {path.rsplit(".", 1)[0] for path, _, _ in stated_values(build, "commissioning")}
    return [value_at(build, path) for path in TURNING if path in stated]


@rule(
    "commissioning.made-ready-first",
    level="warning",
    due="commission",
    sources=[READY.giving("limit", "the day of the last look before the first crank")],
    about=f"{PRE}.date",
    each=turned,
    bad=[{f"{CRANKING}.date": "2026-05-17"}],
    good=[{f"{CRANKING}.date": "2026-05-19"}],
)
def made_ready_first(build: Build, trial: Any) -> Verdict:
    """Was the engine made ready before the first trial in which it turned?

    Computes: nothing; the days are compared.
    Limit: the day of the last look before the first crank, common practice.
    Consequence: Bearings ran dry in a crank that nobody had prepared, or a reading is of another build.
    Remedy: the right day, from the job's record; else look for what the first turns may have hurt.
    Cannot tell: the hour, and whether what is ticked was done on that day.
    """
    written, ready = str(trial.date), str(build.measured.before_start.date)
    says = f"Made on {written}; the engine was made ready for its first crank on {ready}."
    if written < ready:
        says += " One of the two days is wrong, or the engine turned before it was ready: look both up."
    return holds(written >= ready, says, on=f"{path_of(trial)}.date")
