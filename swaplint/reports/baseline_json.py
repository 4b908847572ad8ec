"""How a spec's results stand to an earlier inspection, as plain data for the JSON report."""

from __future__ import annotations

from typing import Any

from swaplint.inspecting.baseline import Baseline, Was
from swaplint.inspecting.results import Finding
from swaplint.units.output import in_unit, plain_number


def baseline_json(baseline: Baseline) -> dict[str, Any]:
    """The counts that the contract names, and what stands beside no result of today."""
    return {
        **baseline.counts(),
        "file": baseline.file,
        "spec": baseline.spec or None,
        "stage": baseline.stage or None,
        "kind": "report" if baseline.is_report else "spec",
        "version": baseline.version or None,
        "accepts": baseline.accepts,
        "partial": baseline.partial,
        "moved": sum(one.found_before is not None for one in baseline.compared.values()),
        "added": sum(one.state == "added" for one in baseline.compared.values()),
        "gone": baseline.gone,
        "solved_results": [_was(was) for was in baseline.solved],
        "not_judged": [_was(was) for was in baseline.not_judged],
        "renamed": [{"from": old, "to": new} for old, new in baseline.renamed],
        "fields": [
            {"field": one.field, "from": one.before or None, "to": one.now or None, "rules": list(one.rules)}
            for one in baseline.fields
        ],
    }


def compared_json(baseline: Baseline, finding: Finding) -> dict[str, Any]:
    """How one result stands to the earlier one about the same."""
    one = baseline.compared[finding.key]
    return {
        "state": one.state,
        "because": one.because,
        "fields": list(one.fields),
        "was": None
        if one.was is None
        else {
            "kind": one.was.kind,
            "level": one.was.level,
            "due": one.was.due,
            "found": None
            if one.found_before is None
            else {
                "value": in_unit(one.found_before, finding.quantity, finding.unit),
                "unit": finding.unit or None,
            },
            "margin": None if one.was.margin is None else plain_number(one.was.margin),
        },
        "rule_changes": [{"version": version, "what": what} for version, what in one.notes],
    }


def _was(was: Was) -> dict[str, Any]:
    return {
        "rule": was.rule,
        "part": was.part or None,
        "demand": was.demand or None,
        "kind": was.kind,
        "level": was.level,
        "due": was.due,
        "subject": was.subject,
        "message": was.message,
        "found": None if was.found is None else {"value": plain_number(was.found), "unit": was.unit or None},
        "margin": None if was.margin is None else plain_number(was.margin),
    }
