"""The JSON report of `checklist`. Its format is a contract: fields are added, never renamed or dropped."""

from __future__ import annotations

from typing import Any

from swaplint.declare.steps import MOMENTS
from swaplint.inspecting.results import Inspection
from swaplint.making.checklist import Checklist
from swaplint.making.steps import Entry, Figure, Noted
from swaplint.reports.checklist_words import inspected
from swaplint.reports.json_report import FORMAT, input_json, problem_json, source_json, tool_json
from swaplint.reports.values import limit_value
from swaplint.units.output import in_unit


def checklist_json(made: Checklist) -> dict[str, Any]:
    """A checklist as plain data."""
    stated = inspected(made)
    return {
        "format": FORMAT,
        "tool": tool_json(made.packs),
        "spec": made.spec.label,
        "stages": list(made.stages),
        "files": [{"file": file.label, "sha256": file.sha256} for file in made.spec.files()],
        "steps": [_step(stated, entry) for entry in made.entries],
        "problems": [problem_json(problem) for problem in made.problems],
    }


def _step(stated: Inspection, entry: Entry) -> dict[str, Any]:
    title, paragraphs = entry.step.texts
    moment = MOMENTS[entry.step.moment]
    return {
        "number": entry.number,
        "step": entry.step.id,
        "pack": entry.pack.name,
        "stage": moment.stage,
        "moment": entry.step.moment,
        "part": entry.part or None,
        "title": title,
        "instrument": entry.step.instrument or None,
        "how": paragraphs["How"],
        "says": entry.says or None,
        "expected": _expected(entry),
        "limit": _limit(entry),
        "no_limit_known": [_gap(figure) for figure in (entry.least, entry.most) if figure and figure.value is None],
        "sources": [source_json(stated, source) for source in (*entry.step.sources, *_stand_in(entry))],
        "stop": paragraphs.get("Stop"),
        "cautions": list(entry.cautions),
        "field": entry.field,
        "unit": entry.unit or None,
        "unsure": list(entry.unsure),
        "found": input_json(stated, entry.field) if entry.answered else None,
        "beyond": entry.beyond,
        "also": [_noted(stated, noted) for noted in entry.also],
    }


def _noted(stated: Inspection, noted: Noted) -> dict[str, Any]:
    """A field that is noted with the answer."""
    found = input_json(stated, noted.field) if noted.answer is not None else None
    unit = noted.facts.unit if noted.facts is not None else ""
    return {"field": noted.field, "unit": unit or None, "found": found}


def _stand_in(entry: Entry) -> list[Any]:
    return [source for source in entry.limit_sources if source not in entry.step.sources]


def _expected(entry: Entry) -> dict[str, Any] | None:
    figure = entry.expected
    if figure is None:
        return None

    def number(value: float | None) -> float | None:
        return None if value is None else in_unit(value, entry.kind, entry.unit)

    return {
        "value": number(figure.value),
        "low": number(entry.low),
        "high": number(entry.high),
        "unit": entry.unit or None,
        "quantity": figure.about or None,
        "accuracy": entry.step.accuracy or None,
        "rests_on": list(figure.rests_on),
        "unknown": list(figure.unknown),
        "why": figure.why or None,
    }


def _limit(entry: Entry) -> dict[str, Any] | None:
    if entry.limit is None:
        return None
    return {
        "relation": entry.limit.relation,
        "value": limit_value(entry.limit, entry.kind, entry.unit),
        "unit": entry.unit or None,
    }


def _gap(figure: Figure) -> dict[str, Any]:
    """Why a limit is not known."""
    return {"unknown": list(figure.unknown), "no_limit": figure.no_limit, "why": figure.why or None}
