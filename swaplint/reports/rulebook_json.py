"""The rulebook as JSON. Its format only grows: fields are added, never renamed or dropped."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from swaplint.declare.quantities import Quantity
from swaplint.declare.rule import Edits, Rule
from swaplint.host.packs import LoadedPack
from swaplint.host.problems import Problem
from swaplint.reports.json_report import FORMAT, problem_json, source_json
from swaplint.reports.rulebook_page import FieldEntry, Page
from swaplint.reports.rulebook_text import Groups
from swaplint.reports.rulebook_topics import newest_first


def list_json(groups: Groups, problems: Sequence[Problem]) -> dict[str, Any]:
    """Every rule, shortly."""
    return {
        "format": FORMAT,
        "rules": [_short(pack, rule) for _, rules in groups for pack, rule in rules],
        "problems": [problem_json(problem) for problem in problems],
    }


def page_json(page: Page, problems: Sequence[Problem]) -> dict[str, Any]:
    """One rule, whole."""
    rule, paragraphs = page.rule, page.rule.texts[1]
    return {
        "format": FORMAT,
        "asked": page.asked,
        "rule": {
            **_short(page.pack, rule),
            "aliases": list(rule.aliases),
            "changed": [{"version": version, "what": what} for version, what in newest_first(rule)],
            "computes": paragraphs["Computes"],
            "limit": paragraphs["Limit"],
            "consequence": rule.consequence,
            "remedy": paragraphs["Remedy"],
            "cannot_tell": paragraphs["Cannot tell"],
            "sources": [{**source_json(None, source), "demands": list(source.demands)} for source in rule.sources],
            "fallbacks": [
                {
                    "name": practice.name,
                    "review": practice.review,
                    "has_range": practice.between is not None,
                    "source": source_json(None, practice.cited),
                }
                for practice in rule.fallbacks
            ],
            "adjust": [_field(entry) for entry in page.adjust],
            "cautions": list(rule.cautions),
            "inputs": [_field(entry) for entry in page.inputs],
            "quantities": [_quantity(quantity) for quantity in page.quantities],
            "without": {field: why for silence in page.silence for field, why in silence.without},
            "instead": {field: list(others) for silence in page.silence for field, others in silence.instead},
            "bad": [_edits(edits) for edits in rule.bad],
            "good": [_edits(edits) for edits in rule.good],
            "bad_ends": rule.bad_ends,
        },
        "problems": [problem_json(problem) for problem in problems],
    }


def _short(pack: LoadedPack, rule: Rule) -> dict[str, Any]:
    return {
        "id": rule.id,
        "system": rule.system,
        "question": rule.question,
        "level": rule.level,
        "due": rule.due,
        "pack": {"name": pack.name, "version": pack.version, "built_in": pack.built_in},
    }


def _field(entry: FieldEntry) -> dict[str, Any]:
    facts = entry.facts
    return {
        "field": entry.path,
        "description": facts.description,
        "unit": facts.unit or None,
        "typical": facts.typical,
        "plausible": list(facts.plausible) if facts.plausible is not None else None,
        "series": list(facts.series),
        "options": list(facts.options),
        "choices": facts.choices or None,
        "none": facts.limit,
        "where": facts.where or None,
        "estimates": [
            {"quantity": way.estimate.id, "tolerance": way.estimate.tolerance, "from": list(way.measure)}
            for way in entry.estimates
        ],
    }


def _quantity(quantity: Quantity[Any]) -> dict[str, Any]:
    return {
        "id": quantity.id,
        "title": quantity.title,
        "unit": quantity.unit or None,
        "formula": quantity.formula,
        "sources": [source_json(None, source) for source in quantity.sources],
    }


def _edits(edits: Edits) -> dict[str, Any]:
    return {path: _plain(value) for path, value in edits.items()}


def _plain(value: Any) -> Any:
    """An example's value as JSON holds it: a date becomes its text."""
    if isinstance(value, Mapping):
        return {str(key): _plain(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(inner) for inner in value]
    return value if value is None or isinstance(value, bool | int | float | str) else str(value)
