"""What folds open below a result: how it is worked out, what it rests on with the lines, sources and cautions."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from swaplint.inspecting.results import Finding, Inspection
from swaplint.inspecting.worksheet import Entry, Worksheet
from swaplint.reports.finding_words import input_rows, lines_read
from swaplint.reports.formulas import Formulas
from swaplint.reports.html.elements import EMPTY, Html, Piece, el, facts, joined, stated
from swaplint.reports.html.naming import link_to_number
from swaplint.reports.naming import citations, counted, part_words
from swaplint.reports.worksheet_text import Inputs, used_words, value_words
from swaplint.units.prose import told

MOST_PARTS = 12
"""For how many parts a calculation is written out below a result; the numbers' own section has all."""
MOST_ROWS = 40
"""How many rows of what a result rests on are listed."""
MOST_WITH = 8
"""How many numbers of a formula without symbols are named below a result."""

LISTED = ("fail", "review", "open")
"""The kinds of result below which every value that was read stands; of the others it does among the numbers."""

Key = tuple[str, str]
"""A quantity's id, and the part that it is of."""


class Evidence:
    """What the results of one spec rest on."""

    def __init__(self, inspection: Inspection, worksheet: Worksheet) -> None:
        self.inspection = inspection
        self.inputs = Inputs(worksheet)
        self.formulas = Formulas(worksheet, self.inputs)
        self.entries: dict[Key, Entry] = self.formulas.entries

    def of(self, findings: Sequence[Finding]) -> Html:
        """What some results of one rule rest on, together; of what passes only on which lines that stands."""
        rule = findings[0].rule
        sources = dict.fromkeys(source for finding in findings for source in finding.sources)
        cautions = dict.fromkeys(caution for finding in findings for caution in finding.cautions)
        return joined(
            self.calculations(findings),
            self.rests_on(findings) if findings[0].kind in LISTED else self._lines(findings),
            facts(
                [
                    ("source", _each(citations(self.inspection, sources, rule.id))),
                    ("caution", _each(told(caution, rule.id) for caution in cautions)),
                ]
            ),
        )

    # -- how it is worked out --------------------------------------------------------------------------------------
    def calculations(self, findings: Iterable[Finding]) -> Html:
        """The quantities that the results rest on directly, each with formula, numbers and result."""
        by_id: dict[str, dict[Key, Entry]] = {}
        for finding in findings:
            for key in self._roots(finding):
                by_id.setdefault(key[0], {})[key] = self.entries[key]
        return joined([self._calculation(list(entries.values())) for entries in by_id.values()])

    def _roots(self, finding: Finding) -> list[Key]:
        """The quantities of a result of which no other is worked out."""
        known = [key for key in map(_key, finding.quantities) if key in self.entries]
        beneath = {(term.id, term.subject) for key in known for term in self.entries[key].terms}
        return [key for key in known if key not in beneath]

    def _calculation(self, entries: Sequence[Entry]) -> Html:
        quantity = entries[0].quantity
        left = len(entries) - MOST_PARTS
        return el(
            "div",
            el("p", el("b", quantity.title), " ", link_to_number(quantity.id), cls="what"),
            el("p", quantity.formula, cls="formula"),
            [self._worked(entry) for entry in entries[:MOST_PARTS]],
            el("p", f"and {left} more, among the numbers") if left > 0 else None,
            cls="calculation",
        )

    def _worked(self, entry: Entry) -> Html:
        """One number: the formula with the numbers in it, or the numbers that go into it, and what comes out."""
        of = f"{part_words(entry.subject)}: " if entry.subject else ""
        filled = self.formulas.filled_in(entry)
        numbers = filled or self._with(entry)
        return el("p", of, numbers, " " if numbers else "", el("strong", "= ", value_words(entry)), cls="worked")

    def _with(self, entry: Entry) -> str:
        words = [used_words(term, entry.subject) for term in entry.terms]
        words += [left for left, _ in self.inputs.rows(entry.inputs, entry.quantity.id)]
        more = f" and {len(words) - MOST_WITH} more" if len(words) > MOST_WITH else ""
        return f"with {'; '.join(words[:MOST_WITH])}{more}" if words else ""

    # -- the lines of the spec -------------------------------------------------------------------------------------
    def _lines(self, findings: Sequence[Finding]) -> Html:
        paths = dict.fromkeys(path for finding in findings for path in self.inspection.listed_inputs(finding))
        return facts([("rests on", lines_read(self.inspection, paths))])

    def rests_on(self, findings: Sequence[Finding]) -> Html:
        """What is stated and was read, each with its line."""
        paths = dict.fromkeys(path for finding in findings for path in self.inspection.listed_inputs(finding))
        if not paths:
            return EMPTY
        part = findings[0].part if len(findings) == 1 else ""
        rows = input_rows(self.inspection, paths, part)
        more = max(map(self.inspection.more_inputs, findings)) + max(0, len(rows) - MOST_ROWS)
        return el(
            "div",
            el("p", "Rests on", cls="label"),
            el(
                "ul",
                [el("li", row) for row in stated(rows[:MOST_ROWS])],
            ),
            el("p", f"and {counted(more, 'more input')}") if more else None,
            cls="rests",
        )


def _key(name: str) -> Key:
    id, _, subject = name.partition(" ")
    return id, subject


def _each(words: Iterable[str]) -> Piece:
    """Sentences below each other."""
    return [el("p", word) for word in words]
