"""One number of the worksheet as a calculation that a person follows with a pencil, with all that it rests on.

A number stands with its formula, the numbers that go into it and the result; below it, one step further in, stands each
number that was used, in the same way, down to what the spec states.
"""

from __future__ import annotations

from collections.abc import Collection

from swaplint.declare.cautions import CLOSING
from swaplint.inspecting.worksheet import Entry, Gap, Worksheet
from swaplint.reports.formulas import Formulas
from swaplint.reports.layout import Sheet
from swaplint.reports.naming import citations, part_words
from swaplint.reports.worksheet_text import Inputs, add_head, used_words, value_words
from swaplint.units.prose import told

_STEP = 3
_DEEPEST = 8
"""How far further in a calculation is written; what lies deeper stays there."""
_LABEL = 9


def calculation_sheet(worksheet: Worksheet, ids: Collection[str], width: int) -> Sheet:
    """The numbers with some ids, each with all beneath it."""
    return _Calculation(worksheet, ids, width).sheet


class _Calculation:
    """Some numbers being written down."""

    def __init__(self, worksheet: Worksheet, ids: Collection[str], width: int) -> None:
        self.sheet = Sheet.of_width(width)
        self.worksheet = worksheet
        self.inputs = Inputs(worksheet)
        self.formulas = Formulas(worksheet, self.inputs)
        self.entries = self.formulas.entries
        self.written: set[tuple[str, str]] = set()
        add_head(self.sheet, worksheet)
        for id in ids:
            self.sheet.heading(id.upper())
            for entry in worksheet.entries:
                if entry.quantity.id == id:
                    self._write(entry, 0)
            for gap in (*worksheet.unknown, *worksheet.out_of_range, *worksheet.not_fitted):
                if gap.quantity.id == id:
                    self._write_gap(gap)
        self.sheet.blank()
        words = "A formula without a line of numbers below it names no symbols: what goes into it stands beside `with`."
        self.sheet.wrapped(words, style="dim")
        self.sheet.blank()
        self.sheet.wrapped(CLOSING, style="italic")

    def _write(self, entry: Entry, depth: int) -> None:
        key = entry.quantity.id, entry.subject
        if key in self.written:
            return
        self.written.add(key)
        indent = _STEP * min(depth, _DEEPEST)
        of = f", {part_words(entry.subject)}" if entry.subject else ""
        self.sheet.blank()
        self.sheet.wrapped(f"{entry.quantity.title}{of}", indent=indent, style="bold")
        inside = indent + _STEP
        self.sheet.wrapped(entry.quantity.formula, label="formula", indent=inside, hang=_LABEL)
        filled = self.formulas.filled_in(entry)
        if filled:
            self.sheet.wrapped(filled, label="numbers", indent=inside, hang=_LABEL)
        self._numbers(entry, inside)
        for practice in entry.practices:
            words = f"{told(practice, entry.quantity.id)} (common practice, in place of what is not stated)"
            self.sheet.wrapped(words, label="fallback", indent=inside, hang=_LABEL)
        if entry.stands_in_for:
            words = f"of {entry.stands_in_for}, which is not stated; within {entry.quantity.within}"
            self.sheet.wrapped(words, label="estimate", indent=inside, hang=_LABEL)
        result = f"{entry.quantity.id} = {value_words(entry)}"
        self.sheet.wrapped(result, label="gives", indent=inside, hang=_LABEL, style="bold")
        for words in citations(self.inputs.stated, entry.sources, entry.quantity.id):
            self.sheet.wrapped(words, label="source", indent=inside, hang=_LABEL, style="dim")
        for term in entry.terms:
            below = self.entries.get((term.id, term.subject))
            if below is not None:
                self._write(below, depth + 1)

    def _numbers(self, entry: Entry, indent: int) -> None:
        """The numbers that go into the formula: what the spec states, with its line, and what is computed first."""
        rows = self.inputs.rows(entry.inputs, entry.quantity.id)
        for term in entry.terms:
            there = (term.id, term.subject)
            where = "above" if there in self.written else "below" if there in self.entries else "not on this sheet"
            rows.append((used_words(term, entry.subject), where))
        for number, (left, right) in enumerate(rows):
            self.sheet.leader(left, right, indent=indent, label="" if number else "with", hang=_LABEL)

    def _write_gap(self, gap: Gap) -> None:
        of = f", {part_words(gap.subject)}" if gap.subject else ""
        self.sheet.blank()
        self.sheet.wrapped(f"{gap.quantity.title}{of}: {'not known yet' if gap.fields else 'no value'}", style="bold")
        self.sheet.wrapped(gap.quantity.formula, label="formula", indent=_STEP, hang=_LABEL)
        if gap.fields:
            self.sheet.wrapped(", ".join(gap.fields), label="lacks", indent=_STEP, hang=_LABEL)
        if gap.why:
            self.sheet.wrapped(gap.why, label="because", indent=_STEP, hang=_LABEL)
