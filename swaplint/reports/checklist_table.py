"""The checklist as a table: one row a step, the answers to be read back by `swaplint fill --from`."""

from __future__ import annotations

from swaplint.declare.steps import MOMENTS
from swaplint.making.checklist import Checklist
from swaplint.reports.checklist_words import inspected, words_of
from swaplint.reports.questions import ANSWER, FIELD
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
        words = words_of(stated, entry)
        rows.append(
            [
                MOMENTS[entry.step.moment].title,
                str(entry.number),
                entry.step.id,
                words.part,
                "; ".join(filter(None, (words.title, words.unsure))),
                words.instrument,
                words.how,
                words.expected,
                words.limit,
                words.stop,
                " ".join(dict.fromkeys(entry.step.cautions)),
                words.answered,
                entry.field,
                words.takes,
                "",
            ]
        )
    return table_text(COLUMNS, rows)
