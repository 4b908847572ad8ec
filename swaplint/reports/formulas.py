"""A formula of the worksheet with the numbers in place of its symbols."""

from __future__ import annotations

import re
from collections.abc import Mapping

from swaplint.declare.quantities import symbols_in
from swaplint.inspecting.worksheet import Entry, Term, Worksheet
from swaplint.reports.worksheet_text import Inputs, shown_term
from swaplint.solving.what_if import matches

_ASIDE = re.compile(r"[;:] |, (?!at (?:most|least) )")
"""Where a formula ends and what explains it begins; a limit of the result belongs to the formula."""
_ELEMENT = re.compile(r"\[\d+\]$")
"""The place in a list of numbers: a symbol stands for one of them where the formula takes just one."""


class Formulas:
    """The formulas of a worksheet."""

    def __init__(self, worksheet: Worksheet, inputs: Inputs) -> None:
        self.inputs = inputs
        self.entries = {(entry.quantity.id, entry.subject): entry for entry in worksheet.entries}

    def filled_in(self, entry: Entry) -> str:
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
