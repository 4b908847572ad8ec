"""The JSON report of `inspect`. Its format is a contract: fields are added, never renamed or dropped."""

from __future__ import annotations

from typing import Any

from swaplint.declare.sources import Source
from swaplint.host.problems import Problem
from swaplint.inspecting.results import Ask, Finding, Inspection, Remedy, Report, sheet_citation
from swaplint.reports.json_text import json_text
from swaplint.reports.naming import asked_for
from swaplint.reports.values import field_tolerance, field_value, limit_value
from swaplint.units.output import in_unit, plain_number

FORMAT = 1


def dumps(data: object) -> str:
    """A report as JSON text: each result, quantity, choice or row on a line of its own."""
    return json_text(data, levels=4)


def inspection_json(report: Report) -> dict[str, Any]:
    """A whole run as plain data."""
    return {
        "format": FORMAT,
        "tool": tool_json(report),
        "specs": [_inspection(inspection) for inspection in report.inspections],
        "problems": [problem_json(problem) for problem in report.problems],
    }


def tool_json(report: Report) -> dict[str, Any]:
    """The tool, its version and the packs that took part."""
    packs = [{"name": pack.name, "version": pack.version} for pack in report.packs]
    return {"name": "swaplint", "version": report.version, "packs": packs}


def problem_json(problem: Problem) -> dict[str, Any]:
    """Something that could not be read, loaded or run."""
    return {
        "what": problem.what,
        "pack": problem.pack,
        "rule": problem.rule,
        "file": problem.file,
        "line": problem.line,
        "column": problem.column,
    }


def _inspection(inspection: Inspection) -> dict[str, Any]:
    return {
        "spec": inspection.spec.label,
        "stage": inspection.stage,
        "counts": inspection.counts(),
        "results": [_finding(inspection, finding) for finding in inspection.findings],
        "ask_next": [_ask(inspection, ask) for ask in inspection.ask_next],
    }


def _ask(inspection: Inspection, ask: Ask) -> dict[str, Any]:
    description, where = asked_for(inspection, ask)
    return {"field": ask.field, "rules": list(ask.rules), "where": where, "description": description}


def _finding(inspection: Inspection, finding: Finding) -> dict[str, Any]:
    found = limit = None
    if finding.found is not None:
        value = in_unit(finding.found, finding.quantity, finding.unit)
        found = {"value": value, "unit": finding.unit or None}
    if finding.limit is not None:
        limit = {
            "relation": finding.limit.relation,
            "value": limit_value(finding.limit, finding.quantity, finding.unit),
            "unit": finding.unit or None,
        }
    suppression = finding.suppression
    return {
        "rule": finding.rule.id,
        "kind": finding.kind,
        "level": finding.level,
        "subject": finding.subject,
        "part": finding.part or None,
        "question": finding.rule.question,
        "message": finding.message,
        "found": found,
        "limit": limit,
        "margin": None if finding.margin is None else plain_number(finding.margin),
        "inputs": [input_json(inspection, path) for path in finding.inputs],
        "unknown": list(finding.unknown),
        "fallbacks": list(finding.practices),
        "deciding": list(finding.deciding),
        "remedies": [_remedy(remedy) for remedy in finding.remedies],
        "sources": [source_json(inspection, source) for source in finding.sources],
        "cautions": list(finding.cautions),
        "suppression": None
        if suppression is None
        else {"justification": suppression.justification, "by": suppression.by, "expires": suppression.expires},
    }


def input_json(inspection: Inspection, path: str) -> dict[str, Any]:
    """A stated field: its value in its unit, and where it is written."""
    stated = inspection.stated(path)
    assert stated is not None
    facts = inspection.facts_of(path)
    place = inspection.spec.place(path)
    return {
        "field": path,
        "value": field_value(stated, facts),
        "unit": facts.unit or None if facts is not None else None,
        "basis": stated.basis,
        "tol": field_tolerance(stated, facts),
        "file": place.file,
        "line": place.line,
        "column": place.column,
    }


def source_json(inspection: Inspection | None, source: Source) -> dict[str, Any]:
    """A cited source; a data sheet is named by the document that this build uses."""
    title = source.title
    if inspection is not None and source.field:
        title, _ = sheet_citation(inspection, source)
    return {
        "kind": source.kind,
        "title": title,
        "clause": source.clause or source.field or None,
        "known": source.known,
    }


def _remedy(remedy: Remedy) -> dict[str, Any]:
    def value(number: float | str | None) -> float | str | None:
        return in_unit(number, remedy.quantity, remedy.unit) if isinstance(number, float) else number

    return {
        "field": remedy.field,
        "from": value(remedy.before),
        "to": value(remedy.after),
        "unit": remedy.unit or None,
        "breaks": list(remedy.breaks),
        "mends": list(remedy.mends),
        "written": remedy.written,
    }
