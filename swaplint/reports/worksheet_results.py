"""The worksheet in short: each number with its name, by system, and how to see one of them whole."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from swaplint.declare.cautions import CLOSING
from swaplint.inspecting.worksheet import Entry, Gap, Worksheet, system_of
from swaplint.reports.layout import Sheet
from swaplint.reports.naming import part_words
from swaplint.reports.worksheet_text import add_head, value_words

_WIDEST_ID = 34
"""Widest column of ids; a longer one pushes its title to the right."""


def results_sheet(worksheet: Worksheet, width: int) -> Sheet:
    """One line for each number."""
    sheet = Sheet.of_width(width)
    add_head(sheet, worksheet)
    column = min(_WIDEST_ID, max((len(entry.quantity.id) for entry in worksheet.entries), default=0)) + 2
    for system, of_system in groupby(worksheet.entries, key=lambda entry: system_of(entry.quantity.id)):
        sheet.heading(system.upper())
        for id, group in groupby(of_system, key=lambda entry: entry.quantity.id):
            _add(sheet, id, list(group), column)
    for heading, gaps in (
        ("NOT KNOWN YET", worksheet.unknown),
        ("OUTSIDE THE FORMULA'S RANGE", worksheet.out_of_range),
        ("NOT FITTED", worksheet.not_fitted),
    ):
        _add_gaps(sheet, heading, gaps)
    sheet.blank()
    label = worksheet.spec.label if worksheet.spec.label != "standard input" else "-"
    one = next((entry.quantity.id for entry in reversed(worksheet.entries) if entry.terms), "ID")
    sheet.wrapped(f"One number and all beneath it, to redo by hand: swaplint worksheet {label} {one}")
    sheet.wrapped(f"Every number with its formula, inputs and source: swaplint worksheet {label} --whole")
    sheet.blank()
    sheet.wrapped(CLOSING, style="italic")
    return sheet


def _add(sheet: Sheet, id: str, entries: Sequence[Entry], column: int) -> None:
    first = entries[0]
    if len(entries) == 1:
        of = f", {part_words(first.subject)}" if first.subject else ""
        sheet.leader(f"{first.quantity.title}{of}", value_words(first), label=id, hang=column, right_style="bold")
        return
    sheet.wrapped(first.quantity.title, label=id if len(id) < column else f"{id} ", hang=column)
    for entry in entries:
        sheet.leader(part_words(entry.subject), value_words(entry), indent=column + 2, right_style="bold")


def _add_gaps(sheet: Sheet, heading: str, gaps: Sequence[Gap]) -> None:
    if gaps:
        sheet.heading(f"{heading} ({len(gaps)})")
        sheet.wrapped(", ".join(dict.fromkeys(gap.quantity.id for gap in gaps)), style="dim")
