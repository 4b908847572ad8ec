"""The rule about the days of the trials: none to come, none with the engine turning before it was made ready."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Verdict, all_of, given, holds, needs_review, path_of, practice, rule, stated_values

from ..supply.quoted import day
from .starting import OIL, PRE
from .trials import BRAKES, CHARGING, CRANKING, FUEL, LOAD, ROAD, RUN, VACUUM
from .vehicle import RUNNING

ORDER = practice("nothing is read on a day to come, and no engine turns before it was made ready")
TURNING = (CRANKING, OIL, FUEL, LOAD, RUN, RUNNING, CHARGING, VACUUM, BRAKES, ROAD)
"""Trials in which the engine turns."""
DATED = {path.rsplit(".", 1)[-1] for path in (PRE, *TURNING, "measured.bus", "measured.weighing")}


def made(build: Build) -> list[Any]:
    """The trials of which something is stated."""
    stated = {path.rsplit(".", 1)[0] for path, _, _ in stated_values(build, "commissioning")}
    trials = [getattr(build.measured, name) for name in sorted(DATED)]
    return [trial for trial in trials if path_of(trial) in stated]


@rule(
    "commissioning.dates",
    level="warning",
    due="commission",
    sources=[ORDER.giving("limit", "the day of judging, and the day of the last look before the first crank")],
    about="measured.before_start.date",
    each=made,
    bad=[{f"{CRANKING}.date": "2026-05-17"}],
    good=[{f"{CRANKING}.date": "2026-05-19"}],
)
def dates(build: Build, trial: Any) -> Verdict:
    """Was every trial made on a day that has been, and none with the engine turning before it was made ready?

    Computes: nothing; the days are compared.
    Limit: the day of judging: on a later one a person looks at both. The day of the last look before the first crank,
    for every trial in which the engine turns (common practice).
    Consequence: A reading of another build, or one that nobody made, is taken for this one's.
    Remedy: the right day, from the job's record; or the trial made again.
    Cannot tell: the hour.
    """
    path, judged = path_of(trial), build.build.judged_on
    written, on = str(trial.date), f"{path_of(trial)}.date"

    def not_to_come() -> Verdict:
        says = f"Made on {written}"
        if day(written) > day(judged):
            return needs_review(f"{says}, after {judged}, the day that it is judged on: look at both days.", on=on)
        return holds(True, f"{says}, judged on {judged}.", on=on)

    demands = {"not-to-come": not_to_come}
    ready = given(lambda: build.measured.before_start.date)
    if path in TURNING and ready is not None:
        says = f"Made on {written}; the engine was made ready for its first crank on {ready}."
        if day(written) < day(ready):
            says += " One of the two days is wrong, or the engine turned before it was ready: look both up."
        demands["after-made-ready"] = lambda: holds(day(written) >= day(ready), says, on=on)
    return all_of(demands)
