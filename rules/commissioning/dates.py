"""The rule about the days on which readings were taken."""

from __future__ import annotations

from swaplint.api import Build, Verdict, does_not_apply, holds, practice, rule, stated_values, value_at

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
