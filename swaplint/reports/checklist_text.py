"""The checklist as text to hang on the wall: eighty columns, a box to tick and a line to write on for each step."""

from __future__ import annotations

from collections.abc import Sequence

from swaplint.declare.cautions import CLOSING
from swaplint.declare.steps import MOMENTS
from swaplint.inspecting.results import Inspection
from swaplint.making.checklist import Checklist
from swaplint.making.steps import Entry
from swaplint.reports.checklist_words import NO_RANGE, Cautions, Place, head_words, inspected, places_of, words_of
from swaplint.reports.layout import Sheet
from swaplint.reports.naming import counted
from swaplint.reports.takeoff_words import problem_words

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
    answered = sum(entry.answered for entry in made.entries)
    sheet.wrapped(f"{counted(len(made.entries), 'step')}, {answered} answered in the spec already")
    if any(entry.expected is not None and entry.low is None for entry in made.entries):
        sheet.wrapped(NO_RANGE, style="dim")
    stated, cautions = inspected(made), Cautions()
    for moment, steps in made.moments():
        sheet.heading(MOMENTS[moment].title.upper())
        for entries in steps:
            for number, caution in cautions.new_in(entries[0]):
                sheet.wrapped(caution, label=f"Caution {number}:", hang=12, style="bold", label_style="bold")
            _add(sheet, stated, entries, cautions.numbers(entries[0]))
            sheet.blank()
    if made.problems:
        sheet.heading("MISSING HERE, FOR IT BROKE OR COULD NOT BE READ")
        for problem in made.problems:
            sheet.wrapped(problem_words(problem), label="-", hang=2)
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


def _add(sheet: Sheet, stated: Inspection, entries: Sequence[Entry], cautions: str) -> None:
    """A step, and what is found with it: of one that is done on several parts, part by part."""
    several = len(entries) > 1 or bool(entries[0].part)
    all_words = [words_of(stated, entry) for entry in entries]
    first = all_words[0]
    if several:
        sheet.wrapped(first.title, hang=_INDENT, style="bold")
    else:
        _head(sheet, entries[0], first.title)
    whose = first.whose if all(words.whose == first.whose for words in all_words) else ""
    for label, text in (
        ("with", first.instrument),
        ("how", first.how),
        ("stop if", first.stop),
        ("caution", cautions),
        ("limit by", whose if several else ""),
    ):
        _labelled(sheet, label, text)
    for entry, words in zip(entries, all_words, strict=True):
        if several:
            _head(sheet, entry, words.part)
        limit = f"{words.limit}: {words.whose}" if words.whose and not (several and whose) else words.limit
        for label, text in (("", words.unsure), ("expect", words.expected), ("limit", limit)):
            _labelled(sheet, label, text)
        _places(sheet, places_of(stated, entry))


def _head(sheet: Sheet, entry: Entry, text: str) -> None:
    box = "[x]" if entry.answered else "[ ]"
    sheet.wrapped(text, label=f"{entry.number:3d} {box}", hang=_INDENT, style="bold", label_style="bold")


def _labelled(sheet: Sheet, label: str, text: str) -> None:
    if text:
        style = "bold" if label == "stop if" else ""
        sheet.wrapped(text, label=label, indent=_INDENT, hang=_LABEL, style=style)


def _places(sheet: Sheet, places: Sequence[Place]) -> None:
    for number, place in enumerate(places):
        done = "done" if place.field.startswith("measured.done.") else "found"
        label = done if not number else "note" if number == 1 else ""
        if place.answered:
            text = f"{place.field} = {place.answered}"
        else:
            text = f"{_LINE}{' ' if place.takes else ''}{place.takes}   {place.field}"
        sheet.wrapped(text, label=label, indent=_INDENT, hang=_LABEL)
