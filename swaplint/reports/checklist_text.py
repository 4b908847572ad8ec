"""The checklist as text to hang on the wall: eighty columns, a box to tick and a line to write on for each step."""

from __future__ import annotations

from swaplint.declare.cautions import CLOSING
from swaplint.declare.steps import MOMENTS
from swaplint.making.checklist import Checklist, Entry
from swaplint.reports.checklist_words import Cautions, Words, head_words, inspected, words_of
from swaplint.reports.layout import Sheet
from swaplint.reports.naming import counted

WIDTH = 80
"""A sheet of paper: whatever the terminal, it is no wider."""
_INDENT = 8
_LABEL = 9
_LINE = "_" * 14


def checklist_sheet(made: Checklist, width: int) -> Sheet:
    """The list of one build."""
    sheet = Sheet.of_width(min(width, WIDTH))
    name, what = head_words(made)
    sheet.wrapped(name, style="bold")
    sheet.wrapped(what)
    answered = sum(entry.answer is not None for entry in made.entries)
    sheet.wrapped(f"{counted(len(made.entries), 'step')}, {answered} answered in the spec already")
    stated, cautions = inspected(made), Cautions()
    for moment, entries in made.moments():
        sheet.heading(MOMENTS[moment].title.upper())
        for entry in entries:
            for number, caution in cautions.new_in(entry):
                sheet.wrapped(caution, label=f"Caution {number}:", hang=12, style="bold", label_style="bold")
            _add(sheet, entry, words_of(stated, entry), cautions.numbers(entry))
            sheet.blank()
    if not made.entries:
        sheet.wrapped("No rule pack has a step for this build at this stage.")
    sheet.blank()
    label = made.spec.label if made.spec.label != "standard input" else "SPEC"
    if made.entries:
        sheet.wrapped(
            f"What was found goes into the spec: swaplint fill {label} FIELD=VALUE, or the whole list by a table: "
            f"swaplint checklist {label} --format csv -o walk.csv, its last column filled in, then "
            f"swaplint fill {label} --from walk.csv"
        )
        sheet.blank()
    sheet.wrapped(CLOSING, style="italic")
    return sheet


def _add(sheet: Sheet, entry: Entry, words: Words, cautions: str) -> None:
    box = "[x]" if entry.answer is not None else "[ ]"
    title = f"{words.title}, {words.part}" if words.part else words.title
    sheet.wrapped(title, label=f"{entry.number:3d} {box}", hang=_INDENT, style="bold", label_style="bold")
    for label, text in (
        ("", words.unsure),
        ("with", words.instrument),
        ("how", words.how),
        ("expect", words.expected),
        ("limit", words.limit),
        ("stop if", words.stop),
        ("caution", cautions),
    ):
        if text:
            sheet.wrapped(text, label=label, indent=_INDENT, hang=_LABEL, style="bold" if label == "stop if" else "")
    if words.answered:
        sheet.wrapped(f"{entry.field} = {words.answered}", label="found", indent=_INDENT, hang=_LABEL)
    else:
        takes = f" {words.takes}" if words.takes else ""
        sheet.wrapped(f"{_LINE}{takes}   {entry.field}".rstrip(), label="found", indent=_INDENT, hang=_LABEL)
