"""The `[[deviations]]` of a build spec, or of a file of the shop's own: departures from rules that were signed for."""

from swaplint.spec.fields import DECISION, RECORD, Section, day, items, text
from swaplint.spec.job import STAGES

ALONE = {"deviations"}
"""What alone stands in a file of the shop's own: no build spec is that."""


class Deviation(Section):
    """A departure from a rule that somebody signed for."""

    rule: str = text("the rule that is departed from, by its id", typical="fit.installed-angle", where=RECORD)
    part: str = text(
        "the part that it is accepted for, as the report names it, where the rule judges several",
        typical="driveline.axles.rear",
        where=RECORD,
    )
    demand: str = text(
        "which of the rule's demands, as the report names it, where it makes several", typical="front-up", where=RECORD
    )
    up_to: str = text(
        "the worst value that is accepted, as text with its unit, where the result has a number",
        typical="34 deg",
        where=DECISION,
    )
    reason: str = text("why it is accepted", typical="the sump has a baffle of its own", where=DECISION)
    by: str = text("who signed for it", typical="A. Example, workshop manager", where=RECORD)
    date: str = day("the day on which it was signed", typical="2026-05-01", where=RECORD)
    until: str = day(
        "the last day, or the last stage of the job, that it holds for",
        *STAGES,
        typical="2026-12-31",
        where=DECISION,
    )


class FiledDeviation(Deviation):
    """A departure from a rule, in a file that the shop keeps for several specs."""

    spec: str = text(
        "the build spec that it is for, as a path from this file; left out, it is for every spec of the call",
        typical="quotes/my-swap.toml",
        where=RECORD,
    )


class DeviationsFile(Section):
    """Departures from rules that somebody signed for, in a file beside the specs."""

    deviations: list[FiledDeviation] = items("the departures, each with who signed for it and until when")
