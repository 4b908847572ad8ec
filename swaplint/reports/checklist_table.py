"""The checklist as a table: a row for each field that takes what was found, to be read back by `swaplint fill`."""

from __future__ import annotations

from swaplint.declare.steps import MOMENTS
from swaplint.making.checklist import Checklist
from swaplint.reports.checklist_words import inspected, places_of, words_of
from swaplint.reports.questions import ANSWER, FIELD
from swaplint.reports.takeoff_words import problem_words
from swaplint.spec.table_text import table_text

COLUMNS = (
    "moment",
    "number",
    "step",
    "part",
    "what to do",
    "instrument",
    "how",
    "expected",
    "limit",
    "stop if",
    "cautions",
    "stated already",
    FIELD,
    "takes",
    ANSWER,
)
"""Answers are read from the columns `field` and `answer`; an empty one changes nothing."""


def checklist_table(made: Checklist) -> str:
    """The list of one build."""
    stated = inspected(made)
    rows = []
    for entry in made.entries:
        words, (found, *also) = words_of(stated, entry), places_of(stated, entry)
        first = [MOMENTS[entry.step.moment].title, str(entry.number), entry.step.id, words.part]
        says = [
            "; ".join(filter(None, (words.title, words.unsure))),
            words.instrument,
            words.how,
            words.expected,
            f"{words.limit}: {words.whose}" if words.whose else words.limit,
            words.stop,
            " ".join(entry.cautions),
        ]
        rows.append([*first, *says, found.answered, found.field, found.takes, ""])
        for place in also:
            blank = [""] * (len(says) - 1)
            rows.append([*first, f"note with it: {place.what}", *blank, place.answered, place.field, place.takes, ""])
    for problem in made.problems:  # a row without a field: nothing is read back from it
        missing = f"missing here, for it broke or could not be read: {problem_words(problem)}"
        rows.append(["", "", problem.rule or "", "", missing, *[""] * (len(COLUMNS) - 5)])
    return table_text(COLUMNS, rows)
