"""Rules about days: when each part comes, which of them decides the day on which the vehicle is ready."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from typing import NamedTuple

from swaplint.api import Build, Verdict, at_least, does_not_apply, given, path_of, practice, rule
from swaplint.spec.systems.supply import STEPS, SupplyLine

from .. import rounding
from .quoted import NONE, bought_lines, day, days, is_quoted, item_of, lines_saying

IN_TIME = practice("a part is ordered so that it is there when the work needs it")
IN_ORDER = practice("the steps of the work follow each other, and each waits for the last of its parts")

DAY = 86400.0
NAMED = 3
"""How many of the parts that decide the last day are named."""


class Wait(NamedTuple):
    """A line of the quote, the day it is there and the step that waits for it."""

    line: SupplyLine
    lead: int
    comes: datetime.date
    step: int
    """Counted from 0 in the order of the steps."""


def _lead(line: SupplyLine) -> int:
    return int(rounding.up(float(line.lead_time) / DAY, 1.0))


def _ordered(build: Build) -> datetime.date:
    return day(given(lambda: build.quote.ordered_on) or build.build.judged_on)


def _durations(build: Build) -> list[int]:
    work = build.quote.work
    each = (
        work.strip,
        work.trial_fit,
        work.fabricate,
        work.assemble,
        work.first_start,
        work.road_test,
        work.hand_over,
    )
    return [int(rounding.up(float(takes) / DAY, 1.0)) for takes in each]


def _step(name: str) -> int:
    return list(STEPS).index(name)


def _later(date: datetime.date, count: int) -> datetime.date:
    """A date so many days on; the calendar's last where it has none."""
    try:
        return date + datetime.timedelta(days=count)
    except OverflowError:
        return datetime.date.max if count > 0 else datetime.date.min


def _needed_on(build: Build, line: SupplyLine) -> datetime.date:
    """The day that a line is needed on: its own, or the first of its step as planned, or the first of the work."""
    own = given(lambda: line.needed_on)
    if own is not None:
        return day(own)
    step = given(lambda: line.needed_at)
    starts = day(build.quote.work_starts_on)
    return starts if step is None else _later(starts, sum(_durations(build)[: _step(step)]))


# -- each part --------------------------------------------------------------------------------------------------------
def _lines_to_come(build: Build) -> Iterator[SupplyLine]:
    yield from lines_saying(build, "lead_time")


@rule(
    "supply.lead-time",
    level="warning",
    due="quote",
    sources=[IN_TIME.giving("limit", "no later than it is needed")],
    about="supply",
    each=_lines_to_come,
    instead={"supply[].needed_on": "quote.work_starts_on"},
    bad=[
        {"supply[5].lead_time": "20 weeks"},
        {"supply[5].needed_on": "2026-06-05", "supply[5].lead_time": "2 weeks"},
        {"supply[5].needed_at": "trial-fit", "supply[5].lead_time": "126 days"},
    ],
    good=[
        {"supply[5].lead_time": "20 weeks", "supply[5].needed_on": "2026-12-01"},
        {"supply[5].needed_at": "trial-fit", "supply[5].lead_time": "125 days"},
    ],
)
def lead_time(build: Build, line: SupplyLine) -> Verdict:
    """Is each part there on the day on which the work needs it?

    Computes: the day of the order, today where it is not ordered yet, plus the line's lead time, against the day that
    the line is needed on: its own, or the first day of its step of the work, or the start of the work where it states
    neither.
    Limit: no later.
    Consequence: The vehicle stands on the lift, in pieces, and blocks the workshop.
    Remedy: order it by the day that is named, have it sent faster, or begin later.
    Cannot tell: whether the supplier keeps his word; a lead time is often off by a third.
    """
    lead, begins, needed = _lead(line), _ordered(build), _needed_on(build, line)
    ordered = given(lambda: build.quote.ordered_on)
    slack = (needed - begins).days - lead
    says = (
        f"{item_of(line)} takes {days(lead)} from the order, {'on' if ordered else 'if it goes out on'} {begins}, and "
    )
    if slack < 0:
        says += f"is needed on {needed}: it comes {days(-slack)} late. "
        says += "Have it sent faster, or begin later." if ordered else f"It was to be ordered by {_by(needed, lead)}."
    else:
        says += f"is needed on {needed}: {days(slack)} in hand."
        says += "" if ordered else f" Order it by {_by(needed, lead)}."
    on = f"{path_of(line)}.lead_time"
    return at_least(slack * DAY, 0.0, says, on=on, unit=("duration", "days"), scale=max(lead, 1) * DAY)


def _by(needed: datetime.date, lead: int) -> str:
    try:
        return str(needed - datetime.timedelta(days=lead))
    except OverflowError:
        return "a day before the calendar"


# -- all of them ------------------------------------------------------------------------------------------------------
@rule(
    "supply.end-date",
    level="warning",
    due="quote",
    sources=[IN_ORDER.giving("limit", "the day on which the vehicle is promised back")],
    about="quote.ready_on",
    bad=[
        {"quote.ready_on": "2026-11-02"},
        {"quote.work_starts_on": "2026-12-01"},
        {"quote.work.fabricate": "69 days"},
    ],
    good=[{"quote.ready_on": "2026-11-03"}],
)
def end_date(build: Build) -> Verdict:
    """Is the vehicle ready on the day that it is promised for, and which parts decide that?

    Computes: the steps of the work one after the other from its start, each put off until the last part that it waits
    for is there; a part is there after its lead time from the order, today where it is not ordered yet. A part whose
    step is not stated is waited for by the first step.
    Limit: the day on which the vehicle is promised back.
    Consequence: The owner is without his vehicle, and the next job without its place.
    Remedy: order first what is named first, each by its day; begin later; or promise a later day.
    Cannot tell: who is ill, what is found when the vehicle is stripped, and whether suppliers keep their word; a lead
    time is often off by a third.
    """
    if not is_quoted(build):
        return does_not_apply(NONE)
    takes, starts, promised = _durations(build), day(build.quote.work_starts_on), day(build.quote.ready_on)
    waits = list(_waits(build, takes, starts))
    planned = [_later(starts, sum(takes[:step])) for step in range(len(takes) + 1)]
    ready, held_up = starts, False
    for step, length in enumerate(takes):
        last = max((wait.comes for wait in waits if wait.step == step), default=ready)
        held_up = held_up or last > ready
        ready = _later(max(ready, last), length)
    in_hand = (promised - ready).days
    says = f"Begun on {starts}, it is ready on {ready} and promised for {promised}"
    says += f", {days(-in_hand)} too late. " if in_hand < 0 else f": {days(in_hand)} in hand. "
    says += "Parts hold it up. " if held_up else "The work itself decides that; no part holds it up. "
    waits.sort(key=lambda wait: ((planned[wait.step] - wait.comes).days, -wait.lead))
    says += _first(build, waits[:NAMED], planned)
    return at_least(
        in_hand * DAY, 0.0, says.rstrip(), on="quote.ready_on", unit=("duration", "days"), scale=sum(takes) * DAY
    )


def _waits(build: Build, takes: list[int], starts: datetime.date) -> Iterator[Wait]:
    for line in bought_lines(build):
        lead = _lead(line)
        yield Wait(line, lead, _later(_ordered(build), lead), _waiting_step(line, takes, starts))


def _waiting_step(line: SupplyLine, takes: list[int], starts: datetime.date) -> int:
    """The step that waits for a line: its own, or the first that begins on the day it is needed or later."""
    step, needed = given(lambda: line.needed_at), given(lambda: line.needed_on)
    if step is not None:
        return _step(step)
    if needed is None:
        return 0
    begins = (number for number in range(len(takes)) if _later(starts, sum(takes[:number])) >= day(needed))
    return next(begins, len(takes) - 1)


def _first(build: Build, waits: list[Wait], planned: list[datetime.date]) -> str:
    """The parts with the least time in hand, each with the day by which it is to be ordered."""
    if not waits:
        return ""
    named = []
    for wait in waits:
        slack = (planned[wait.step] - wait.comes).days
        when = f"{days(slack)} in hand" if slack >= 0 else f"{days(-slack)} late"
        by = "" if given(lambda: build.quote.ordered_on) else f", order by {_by(planned[wait.step], wait.lead)}"
        named.append(f"{item_of(wait.line)} ({when}{by})")
    return f"Least time in hand: {'; '.join(named)}."
