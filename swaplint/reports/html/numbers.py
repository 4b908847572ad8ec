"""The numbers of a spec on its page: each once, with formula, what goes into it and source."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

from swaplint.inspecting.results import FEW_INPUTS, MOST_INPUTS, MOST_INPUTS_IN_ALL
from swaplint.inspecting.worksheet import Entry, Gap, Term, Worksheet, system_of
from swaplint.reports.formulas import Formulas
from swaplint.reports.html.elements import (
    EMPTY,
    Html,
    Long,
    Piece,
    around,
    el,
    facts,
    in_pieces,
    joined,
    stated,
    table,
)
from swaplint.reports.html.naming import link_to_number, place
from swaplint.reports.naming import citations, counted, part_words
from swaplint.reports.worksheet_text import Inputs, shown_term, value_words
from swaplint.units.prose import told


def numbers(worksheet: Worksheet) -> Long:
    """Every number by system, and those that have no value."""
    listed = _Numbers(worksheet)
    by_system = groupby(worksheet.entries, key=lambda entry: system_of(entry.quantity.id))
    return in_pieces(
        (_system(listed, system, list(entries)) for system, entries in by_system),
        _gaps("Not known yet", worksheet.unknown),
        _gaps("Outside the formula's range", worksheet.out_of_range),
        _gaps("Not fitted", worksheet.not_fitted),
    )


def _system(listed: _Numbers, system: str, entries: Sequence[Entry]) -> Long:
    quantities = [listed.of(list(alike)) for _, alike in groupby(entries, key=lambda entry: entry.quantity.id)]
    return around(
        "details",
        el("summary", el("h4", system), el("span", counted(len(entries), "value"), cls="sum")),
        quantities,
        cls="system",
    )


class _Numbers:
    """The numbers being written down."""

    def __init__(self, worksheet: Worksheet) -> None:
        self.inputs = Inputs(worksheet)
        self.formulas = Formulas(worksheet, self.inputs)
        self.most = _most(len(entry.inputs) + len(entry.terms) for entry in worksheet.entries)
        """How many of what goes into a number are listed: of many parts alike each may rest on all."""

    def of(self, entries: Sequence[Entry]) -> Html:
        """One quantity, of the build or of each of its parts."""
        quantity = entries[0].quantity
        result = value_words(entries[0]) if len(entries) == 1 else counted(len(entries), "value")
        practices = dict.fromkeys(name for entry in entries for name in entry.practices)
        sources = dict.fromkeys(source for entry in entries for source in entry.sources)
        fields = [entry.stands_in_for for entry in entries if entry.stands_in_for]
        within = f", within {quantity.within}"
        return el(
            "details",
            el(
                "summary",
                el("code", quantity.id),
                el("span", quantity.title, cls="asks"),
                el("span", result, cls="sum"),
            ),
            el(
                "div",
                el("p", quantity.formula, cls="formula", id=place("number", quantity.id)),
                self._worked_out(entries),
                facts(
                    [
                        ("fallback", [el("p", f"{told(name, quantity.id)} (common practice)") for name in practices]),
                        ("estimate", f"of {', '.join(fields)}{within}" if fields else None),
                        ("source", [el("p", words) for words in citations(self.inputs.stated, sources, quantity.id)]),
                    ]
                ),
                cls="inside",
            ),
            cls="line number",
        )

    def _worked_out(self, entries: Sequence[Entry]) -> Html:
        """Each number, with what goes into it alone; once what goes into all of them."""
        terms_of_all = set.intersection(*(set(entry.terms) for entry in entries))
        paths_of_all = set.intersection(*(set(entry.inputs) for entry in entries))
        terms = [term for term in entries[0].terms if term in terms_of_all]
        paths = [path for path in entries[0].inputs if path in paths_of_all]
        return joined(
            [self._one(entry, set(terms), set(paths)) for entry in entries],
            self._goes_in(terms, paths, entries[0]),
        )

    def _one(self, entry: Entry, terms: set[Term], paths: set[str]) -> Html:
        filled = self.formulas.filled_in(entry)
        of = f"{part_words(entry.subject)}: " if entry.subject else ""
        own = [term for term in entry.terms if term not in terms], [path for path in entry.inputs if path not in paths]
        return joined(
            el("p", of, filled, " " if filled else "", el("strong", "= ", value_words(entry)), cls="worked"),
            self._goes_in(*own, entry),
        )

    def _goes_in(self, terms: Sequence[Term], paths: Sequence[str], entry: Entry) -> Html:
        """What goes into a number: what is worked out first, and what the spec states, with its line."""
        rows: list[Piece] = [
            joined(link_to_number(term.id), _of(term.subject, entry.subject), f" = {shown_term(term)}")
            for term in terms[: self.most]
        ]
        rows += stated(self.inputs.rows(paths[: self.most], entry.quantity.id))
        more = max(0, len(terms) - self.most) + max(0, len(paths) - self.most)
        if more:
            rows.append(f"and {more:,} more")
        return el("ul", [el("li", row) for row in rows]) if rows else EMPTY


def _most(lengths: Iterable[int]) -> int:
    """How much of each of some lists is shown."""
    return MOST_INPUTS if sum(min(MOST_INPUTS, one) for one in lengths) <= MOST_INPUTS_IN_ALL else FEW_INPUTS


def _fields(fields: Sequence[str], most: int) -> str:
    more = len(fields) - most
    return ", ".join(fields[:most]) + (f" and {more:,} more" if more > 0 else "")


def _of(subject: str, entry: str) -> str:
    return f" of {part_words(subject)}" if subject and subject != entry else ""


def _gaps(heading: str, gaps: Sequence[Gap]) -> Html:
    if not gaps:
        return EMPTY
    most = _most(len(gap.fields) for gap in gaps)
    rows = [
        [
            joined(
                el("code", gap.quantity.id),
                " ",
                gap.quantity.title,
                f", {part_words(gap.subject)}" if gap.subject else "",
            ),
            "; ".join(piece for piece in (_fields(gap.fields, most), gap.why) if piece),
        ]
        for gap in gaps
    ]
    return el(
        "details",
        el("summary", f"{heading} ({len(gaps)})"),
        el("div", table(heading, ["number", "for want of, or because"], rows, unseen=True), cls="inside"),
        cls="line plain",
    )
