"""The rule about the age of the papers that the numbers come from."""

from __future__ import annotations

import datetime

from swaplint.api import Build, Verdict, at_most, given, needs_review, practice, rule

from .quoted import day, days

CURRENT = practice("a data sheet older than two years is asked for again before money is spent")

DAY = 86400.0
YEARS = 2


@rule(
    "supply.sheet-age",
    level="warning",
    due="quote",
    sources=[CURRENT.giving("limit", "24 months")],
    about="engine.document.date",
    bad=[{"engine.document.date": "2024-05-30"}],
    good=[{"engine.document.date": "2024-05-31"}],
)
def sheet_age(build: Build) -> Verdict:
    """Is the engine package's data sheet still the current one?

    Computes: the days from the date on its title page to the day of the order, to today where nothing is ordered yet.
    Limit: two years.
    Consequence: Limits, connections or the certificate are those of another year's engine.
    Remedy: ask its maker, with the revision that you have, whether a later one is out.
    Cannot tell: whether the sheet changed since, or is of this very engine: compare its number and revision.
    """
    written = day(build.engine.document.date)
    judged = day(given(lambda: build.quote.ordered_on) or build.build.judged_on)
    revision = given(lambda: build.engine.document.revision)
    sheet = f"The data sheet{f', revision {revision},' if revision else ''} is of {written}"
    old = (judged - written).days
    if old < 0:
        return needs_review(f"{sheet}, {days(-old)} after {judged}, the day that it is judged on: look at the date.")
    allowed = (_years_later(written) - written).days
    says = f"{sheet}, {days(old)} before {judged}"
    says += ": ask its maker whether a later one is out." if old > allowed else "."
    return at_most(old * DAY, allowed * DAY, says, unit=("duration", "days"))


def _years_later(date: datetime.date) -> datetime.date:
    """The same day two years later; the 28th where there is no 29th of February."""
    year = min(date.year + YEARS, datetime.MAXYEAR)
    try:
        return date.replace(year=year)
    except ValueError:
        return date.replace(year=year, day=28)
