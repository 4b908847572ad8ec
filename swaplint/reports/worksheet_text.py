"""The whole worksheet as text: every number with its formula, inputs and source, to be redone from top to bottom."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

from swaplint.declare.cautions import CLOSING
from swaplint.inspecting.results import Inspection
from swaplint.inspecting.worksheet import Entry, Gap, Term, Worksheet, system_of
from swaplint.reports.layout import Sheet
from swaplint.reports.naming import citations, listed, packs_words, part_words, place_words
from swaplint.reports.values import stated_words
from swaplint.reports.worksheet_json import stated_in
from swaplint.units.output import shown
from swaplint.units.prose import told

DIGITS = 5
"""Significant digits: one more than a finding shows, so that rounding does not hide what redoing by hand gives."""
_INDENT = 3
_LABEL = 9


def worksheet_sheet(worksheet: Worksheet, width: int) -> Sheet:
    """The whole sheet."""
    return _Sheet(worksheet, width).sheet


def add_head(sheet: Sheet, worksheet: Worksheet) -> None:
    """What the worksheet is of, and how much is on it."""
    name = worksheet.spec.stated("build.name")
    sheet.wrapped(str(name.value) if name is not None else "Build without a name", style="bold")
    sheet.wrapped(f"Worksheet of {worksheet.spec.label}, computed with {packs_words(worksheet.packs)}")
    if worksheet.selection:
        sheet.wrapped(f"Asked for only: {worksheet.selection.words}.")
    counts = [
        f"{len(entries)} {words}"
        for entries, words in (
            (worksheet.entries, "values"),
            (worksheet.unknown, "not known yet"),
            (worksheet.out_of_range, "outside the range of their formula"),
            (worksheet.not_fitted, "of parts that are not fitted"),
        )
        if entries or words == "values"
    ]
    sheet.wrapped(", ".join(counts))


class Inputs:
    """What the spec states of the numbers that go into a formula, each with where it is written."""

    def __init__(self, worksheet: Worksheet) -> None:
        self.spec = worksheet.spec
        self.stated: Inspection = stated_in(worksheet)
        self.listed: dict[tuple[str, ...], str] = {}
        """Tables of values that stand on the sheet already, with the quantity that they stand under."""

    def rows(self, paths: Sequence[str], id: str) -> list[tuple[str, str]]:
        """Each with its value, and its place; values of one list or table together."""
        return [row for base, group in groupby(paths, key=_collection) for row in self._rows(base, list(group), id)]

    def _rows(self, base: str, paths: list[str], id: str) -> list[tuple[str, str]]:
        if "[" not in paths[0]:
            return [(f"{path} = {stated_words(self.stated, path)}", self.where(path)) for path in paths]
        if "." not in paths[0].removeprefix(base):
            values = ", ".join(stated_words(self.stated, path) for path in paths)
            name = base if len(paths) > 1 else paths[0]
            return [(f"{name} = {values}", self.where(paths[0]))]
        first = self.listed.setdefault(tuple(paths), id)
        if first != id:
            return [(f"{base}, as listed under {first}", self.where(base))]
        points = [list(group) for _, group in groupby(paths, key=lambda path: path.rsplit(".", 1)[0])]
        names = {tuple(path.rsplit(".", 1)[1] for path in point) for point in points}
        if len(names) > 1:
            return [(f"{path} = {stated_words(self.stated, path)}", self.where(path)) for path in paths]
        values = "; ".join(", ".join(stated_words(self.stated, path) for path in point) for point in points)
        return [(f"{base} ({', '.join(names.pop())}): {values}", self.where(base))]

    def where(self, path: str) -> str:
        """The line that states a field."""
        place = self.spec.place(path)
        return place_words(self.spec, place.file, place.line)


class _Sheet:
    """One worksheet being laid out."""

    def __init__(self, worksheet: Worksheet, width: int) -> None:
        self.sheet = Sheet.of_width(width)
        self.worksheet = worksheet
        self.spec = worksheet.spec
        self.inputs = Inputs(worksheet)
        self.stated = self.inputs.stated
        self.above: set[str] = set()
        """The quantities that stand on the sheet already."""
        add_head(self.sheet, worksheet)
        for system, of_system in groupby(worksheet.entries, key=lambda entry: system_of(entry.quantity.id)):
            self.sheet.heading(system.upper())
            for id, group in groupby(of_system, key=lambda entry: entry.quantity.id):
                self._quantity(list(group))
                self.above.add(id)
                self.sheet.blank()
        self._gaps("NOT KNOWN YET", worksheet.unknown)
        self._gaps("OUTSIDE THE FORMULA'S RANGE", worksheet.out_of_range)
        self._gaps("NOT FITTED", worksheet.not_fitted)
        self.sheet.blank()
        self.sheet.wrapped(CLOSING, style="italic")

    # -- one quantity ------------------------------------------------------------------------------------------
    def _quantity(self, entries: Sequence[Entry]) -> None:
        first = entries[0]
        alone = len(entries) == 1 and not first.subject
        if alone:
            self.sheet.leader(first.quantity.title, value_words(first), left_style="bold", right_style="bold")
        else:
            self.sheet.wrapped(first.quantity.title, style="bold")
        self.sheet.wrapped(first.quantity.id, indent=_INDENT, style="dim")
        self._labelled("formula", first.quantity.formula)
        inputs = [path for path in first.inputs if all(path in entry.inputs for entry in entries)]
        terms = [term for term in first.terms if all(term in entry.terms for entry in entries)]
        self._terms(terms)
        judged = dict.fromkeys(path for entry in entries for path in _numbers_judged(entry))
        self._inputs([*judged, *(path for path in inputs if path not in judged)], first.quantity.id)
        if not alone:
            self._parts(entries, {*inputs, *judged}, set(terms))
        for practice in dict.fromkeys(name for entry in entries for name in entry.practices):
            self._labelled("fallback", f"{told(practice, first.quantity.id)} (common practice)")
        fields = [entry.stands_in_for for entry in entries if entry.stands_in_for]
        if fields:
            self._labelled("estimate", f"of {listed(fields)}, within {first.quantity.within}")
        sources = dict.fromkeys(source for entry in entries for source in entry.sources)
        for words in citations(self.stated, sources, first.quantity.id):
            self._labelled("source", words)

    def _labelled(self, label: str, text: str) -> None:
        self.sheet.wrapped(text, label=label, indent=_INDENT, hang=_LABEL)

    def _terms(self, terms: Iterable[Term]) -> None:
        label = "from"
        for term in terms:
            where = "above" if term.id in self.above else "below" if self._on_sheet(term.id) else "not on this sheet"
            self.sheet.leader(used_words(term, ""), where, indent=_INDENT, label=label, hang=_LABEL)
            label = ""

    def _on_sheet(self, id: str) -> bool:
        return any(entry.quantity.id == id for entry in self.worksheet.entries)

    def _inputs(self, paths: Sequence[str], id: str) -> None:
        label = "with"
        for left, right in self.inputs.rows(paths, id):
            self.sheet.leader(left, right, indent=_INDENT, label=label, hang=_LABEL)
            label = ""

    def _parts(self, entries: Sequence[Entry], shared_inputs: set[str], shared_terms: set[Term]) -> None:
        """One line for each part with its value; beside or below it what only this part is computed from."""
        rows = [self._part(entry, shared_inputs, shared_terms) for entry in entries]
        room = self.sheet.width - _INDENT - _LABEL - 5
        fit = all(len("; ".join([left, *own])) + len(value) <= room for left, own, value in rows)
        label = "for"
        for left, own, value in rows:
            beside = "; ".join([left, *own]) if fit else left
            self.sheet.leader(beside, value, indent=_INDENT, label=label, hang=_LABEL, right_style="bold")
            if own and not fit:
                self.sheet.wrapped("; ".join(own), indent=_INDENT + _LABEL + 2, style="dim")
            label = ""

    def _part(self, entry: Entry, shared_inputs: set[str], shared_terms: set[Term]) -> tuple[str, list[str], str]:
        """The part, what only it is computed from, and its value."""
        left = part_words(entry.subject)
        judged = _numbers_judged(entry)
        if judged:
            left += f" = {', '.join(stated_words(self.stated, path) for path in judged)}"
        own = [used_words(term, entry.subject) for term in entry.terms if term not in shared_terms]
        own += [
            f"{_below(path, entry.subject)} = {stated_words(self.stated, path)} ({self.inputs.where(path)})"
            for path in entry.inputs
            if path not in shared_inputs
        ]
        return left, own, value_words(entry)

    # -- what has no value -------------------------------------------------------------------------------------
    def _gaps(self, heading: str, gaps: Sequence[Gap]) -> None:
        if not gaps:
            return
        self.sheet.heading(f"{heading} ({len(gaps)})")
        for gap in gaps:
            of = f", {part_words(gap.subject)}" if gap.subject else ""
            self.sheet.wrapped(f"{gap.quantity.title}{of}")
            self.sheet.wrapped(gap.quantity.id, indent=_INDENT, style="dim")
            if gap.fields:
                self._labelled("lacks", ", ".join(gap.fields))
            if gap.why:
                self._labelled("because", gap.why)


def _numbers_judged(entry: Entry) -> list[str]:
    """The parts that an entry is about, where they are stated numbers: a gear."""
    return [path for path in entry.subject.split(" ") if path in entry.inputs]


def used_words(term: Term, subject: str) -> str:
    """A number that was computed from others, of the part in question where no other is named."""
    name = term.id if term.subject == subject else _name(term)
    return f"{name} = {shown_term(term)}"


def shown_term(term: Term) -> str:
    """The number that was computed from others, with its unit."""
    return shown(term.value, term.kind, term.unit, digits=DIGITS, about=term.id)


def value_words(entry: Entry) -> str:
    """A number with its unit."""
    return shown(entry.value, entry.quantity.kind, entry.quantity.unit, digits=DIGITS, about=entry.quantity.id)


def _name(term: Term) -> str:
    return f"{term.id} of {part_words(term.subject)}" if term.subject else term.id


def _collection(path: str) -> str:
    return path.split("[", 1)[0] if "[" in path else path


def _below(path: str, subject: str) -> str:
    """A field's name inside the part that is spoken of."""
    return path.removeprefix(f"{subject.split(' ')[0]}.") if subject else path
