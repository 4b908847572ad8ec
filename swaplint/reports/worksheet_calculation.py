"""One number of the worksheet as a calculation that a person follows with a pencil, with all that it rests on.

A number stands with its formula, the numbers that go into it and the result; below it, one step further in, stands each
number that was used, in the same way, down to what the spec states.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping

from swaplint.declare.cautions import CLOSING
from swaplint.declare.quantities import symbols_in
from swaplint.inspecting.worksheet import Entry, Gap, Term, Worksheet
from swaplint.reports.layout import Sheet
from swaplint.reports.naming import citations, part_words
from swaplint.reports.worksheet_text import Inputs, add_head, shown_term, used_words, value_words
from swaplint.solving.what_if import matches
from swaplint.units.prose import told

_STEP = 3
_DEEPEST = 8
"""How far further in a calculation is written; what lies deeper stays there."""
_LABEL = 9
_ASIDE = re.compile(r"[;:] |, (?!at (?:most|least) )")
"""Where a formula ends and what explains it begins; a limit of the result belongs to the formula."""
_ELEMENT = re.compile(r"\[\d+\]$")
"""The place in a list of numbers: a symbol stands for one of them where the formula takes just one."""


def calculation_sheet(worksheet: Worksheet, ids: Collection[str], width: int) -> Sheet:
    """The numbers with some ids, each with all beneath it."""
    return _Calculation(worksheet, ids, width).sheet


class _Calculation:
    """Some numbers being written down."""

    def __init__(self, worksheet: Worksheet, ids: Collection[str], width: int) -> None:
        self.sheet = Sheet.of_width(width)
        self.worksheet = worksheet
        self.inputs = Inputs(worksheet)
        self.entries = {(entry.quantity.id, entry.subject): entry for entry in worksheet.entries}
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
        filled = self._filled_in(entry)
        if filled:
            self.sheet.wrapped(filled, label="numbers", indent=inside, hang=_LABEL)
        self._numbers(entry, inside)
        for practice in entry.practices:
            words = f"{told(practice, entry.quantity.id)} (common practice, in place of what is not stated)"
            self.sheet.wrapped(words, label="fallback", indent=inside, hang=_LABEL)
        if entry.stands_in_for:
            words = f"of {entry.stands_in_for}, which is not stated; within {entry.quantity.tolerance * 100:.3g} %"
            self.sheet.wrapped(words, label="estimate", indent=inside, hang=_LABEL)
        result = f"{entry.quantity.id} = {value_words(entry)}"
        self.sheet.wrapped(result, label="gives", indent=inside, hang=_LABEL, style="bold")
        for words in citations(self.inputs.stated, entry.sources, entry.quantity.id):
            self.sheet.wrapped(words, label="source", indent=inside, hang=_LABEL, style="dim")
        for term in entry.terms:
            below = self.entries.get((term.id, term.subject))
            if below is not None:
                self._write(below, depth + 1)

    def _filled_in(self, entry: Entry) -> str:
        """The formula with the numbers in place of its symbols, as far as they are known; empty where none is."""
        formula = entry.quantity.formula
        head, equals, body = formula.partition(" = ") if " = " in formula.split(";")[0] else ("", "", formula)
        # A symbol stays a symbol where it is explained.
        proper = _ASIDE.split(body, maxsplit=1)[0]
        aside = body.removeprefix(proper)
        terms = {term.id: term.id for term in entry.terms}
        filled = self._replaced(entry, proper, terms | entry.quantity.symbols) + self._replaced(entry, aside, terms)
        return f"{head}{equals}{filled}" if filled != body else ""

    def _replaced(self, entry: Entry, text: str, named: Mapping[str, str]) -> str:
        """A text with the numbers in place of what stands for one number."""
        words = {symbol: self._words_for(entry, meaning) for symbol, meaning in named.items()}
        known = [symbol for symbol in words if words[symbol]]
        return symbols_in(known).sub(lambda found: words[found.group()], text) if known else text

    def _words_for(self, entry: Entry, meaning: str) -> str:
        """The one number that a symbol stands for, in brackets where it has a unit; empty where it is not just one."""
        paths = [path for path in entry.inputs if matches(meaning, _ELEMENT.sub("", path))]
        stated = [self.inputs.stated.stated(path) for path in paths]
        words = [value.written for value in stated if value is not None]
        words += [shown_term(term) for term in entry.terms if term.id == meaning or self._stands_in(term, meaning)]
        if len(words) != 1:
            return ""
        return f"({words[0]})" if " " in words[0] or not words[0].isascii() else words[0]

    def _stands_in(self, term: Term, meaning: str) -> bool:
        """Whether a quantity that was used is the estimate of the field that a symbol stands for."""
        below = self.entries.get((term.id, term.subject))
        return below is not None and bool(below.stands_in_for) and matches(meaning, below.stands_in_for)

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
