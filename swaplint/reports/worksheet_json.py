"""The JSON report of `worksheet`. Its format is a contract: fields are added, never renamed or dropped."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from swaplint.inspecting.results import FEW_INPUTS, MOST_INPUTS, MOST_INPUTS_IN_ALL, Inspection, first_of
from swaplint.inspecting.worksheet import Entry, Gap, Term, Worksheet
from swaplint.reports import json_report
from swaplint.reports.json_report import FORMAT, input_json, problem_json, source_json
from swaplint.reports.json_text import Making
from swaplint.spec.job import STAGES
from swaplint.units.output import in_unit


def worksheet_json(sheet: Worksheet) -> dict[str, Any]:
    """A worksheet as plain data, its lines made one by one as they are written.

    What rests on all parts of a kind, however many, lists the first of them and how many more there are.
    """
    stated, most = stated_in(sheet), _most(sheet)
    return {
        "format": FORMAT,
        "tool": json_report.tool_json(sheet.packs),
        "spec": sheet.spec.label,
        "quantities": Making(_entry(stated, entry, most) for entry in sheet.entries) if sheet.entries else [],
        "unknown": [
            {**_gap(gap), "fields": list(gap.fields[:most]), "more_fields": _more(gap.fields, most)}
            for gap in sheet.unknown
        ],
        "out_of_range": [{**_gap(gap), "why": gap.why} for gap in sheet.out_of_range],
        "not_fitted": [{**_gap(gap), "why": gap.why} for gap in sheet.not_fitted],
        "problems": [problem_json(problem) for problem in sheet.problems],
    }


def stated_in(sheet: Worksheet) -> Inspection:
    """What the spec states, in the shape that the words for inputs and sources of an inspection take."""
    return Inspection(sheet.spec, STAGES[0])


def _most(sheet: Worksheet) -> int:
    """How many inputs, quantities and unknown fields each line lists."""
    lists: list[Sequence[object]] = [entry.inputs for entry in sheet.entries]
    lists += [entry.terms for entry in sheet.entries]
    lists += [gap.fields for gap in sheet.unknown]
    in_all = sum(min(MOST_INPUTS, len(paths)) for paths in lists)
    return MOST_INPUTS if in_all <= MOST_INPUTS_IN_ALL else FEW_INPUTS


def _more(paths: Sequence[object], most: int) -> int:
    return max(0, len(paths) - most)


def _entry(stated: Inspection, entry: Entry, most: int) -> dict[str, Any]:
    quantity = entry.quantity
    inputs = first_of(entry.inputs, most, entry.subject)
    return {
        "id": quantity.id,
        "subject": entry.subject or None,
        "value": in_unit(entry.value, quantity.kind, quantity.unit),
        "unit": quantity.unit or None,
        "title": quantity.title,
        "formula": quantity.formula,
        "inputs": [input_json(stated, path) for path in inputs],
        "more_inputs": _more(entry.inputs, most),
        "uses": list(dict.fromkeys(term.id for term in entry.terms)),
        "terms": [_term(term) for term in entry.terms[:most]],
        "more_terms": _more(entry.terms, most),
        "fallbacks": list(entry.practices),
        "sources": [source_json(stated, source) for source in entry.sources],
        "stands_in_for": entry.stands_in_for or None,
        "tolerance": quantity.tolerance or None,
    }


def _term(term: Term) -> dict[str, Any]:
    """A quantity that was used, with the value that it had."""
    return {
        "id": term.id,
        "subject": term.subject or None,
        "value": in_unit(term.value, term.kind, term.unit),
        "unit": term.unit or None,
    }


def _gap(gap: Gap) -> dict[str, Any]:
    return {"id": gap.quantity.id, "subject": gap.subject or None}
