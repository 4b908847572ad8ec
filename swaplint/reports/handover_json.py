"""The JSON report of `handover`. Its format is a contract: fields are added, never renamed or dropped.

`{"format", "tool", "spec", "stage", "claims", "on", "policy", "files": [{"file", "sha256"}], "gate": {"level", "open",
"shut_by"}, "standing": [finding…], "accepted": [finding and {"by", "date", "until", "up_to", "reason"}…], "measured":
[{"trial", "what", "date", "by", "instrument", "conditions", "readings": [{"field", "part", "what", "value", "unit",
"tol", "judged": [{"kind", "rule"}]}]}], "not_measured": [trial…], "done": [{"step", "field", "date", …}], "lists": as
of `takeoff`, without `together`, "later": [{"step", "moment", "part", "what"}], "cautions", "cannot_tell": [{"rule",
"says"}], "problems"}`, a finding being `{"rule", "demand", "part", "kind", "level", "due", "message", "unknown"}`.
"""

from __future__ import annotations

from typing import Any

from swaplint.inspecting.results import Finding, Suppression
from swaplint.making.handover import HandOver, Reading, Trial
from swaplint.reports.handover_words import NO_APPROVAL
from swaplint.reports.json_report import FORMAT, policy_json, problem_json, tool_json
from swaplint.reports.takeoff_json import list_json
from swaplint.reports.values import field_tolerance, field_value


def handover_json(made: HandOver) -> dict[str, Any]:
    """What is handed over as plain data, in metric units."""
    inspection = made.inspection
    return {
        "format": FORMAT,
        "tool": tool_json(made.packs),
        "spec": inspection.spec.label,
        "stage": inspection.stage,
        "claims": NO_APPROVAL,
        "on": inspection.terms.on or None,
        "policy": policy_json(inspection.terms),
        "files": [
            *({"file": file.label, "sha256": file.sha256} for file in inspection.spec.files()),
            *({"file": file, "sha256": hash} for file, hash in inspection.terms.files.items()),
        ],
        "gate": {"level": made.gate.level, "open": made.gate.open, "shut_by": list(made.gate.shut_by)},
        "standing": [_finding(finding) for finding in made.standing],
        "accepted": [
            {**_finding(finding), **_signed(finding.suppression)}
            for finding in inspection.accepted
            if finding.suppression is not None
        ],
        "measured": [_trial(made, trial) for trial in made.trials],
        "not_measured": [member.name for member in made.not_measured],
        "done": [{"step": done.step, "field": done.field, **dict(done.about)} for done in made.done],
        "lists": {name: list_json(made.lists, name) for name in made.lists.rows},
        "later": [
            {"step": entry.step.id, "moment": entry.step.moment, "part": entry.part or None, "what": entry.step.title}
            for entry in made.later.entries
        ],
        "cautions": list(made.cautions),
        "cannot_tell": [{"rule": one.rule, "says": one.says} for one in made.blind],
        "problems": [problem_json(problem) for problem in made.problems],
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "rule": finding.rule.id,
        "demand": finding.demand or None,
        "part": finding.part or None,
        "kind": finding.kind,
        "level": finding.level,
        "due": finding.due,
        "message": finding.message,
        "unknown": list(finding.unknown),
    }


def _signed(made: Suppression) -> dict[str, Any]:
    return {
        "by": made.by,
        "date": made.date,
        "until": made.expires,
        "up_to": made.up_to or None,
        "reason": made.justification,
    }


def _trial(made: HandOver, trial: Trial) -> dict[str, Any]:
    return {
        "trial": trial.field,
        "what": trial.what,
        **dict.fromkeys(("date", "by", "instrument", "conditions")),
        **dict(trial.about),
        "readings": [_reading(made, reading) for reading in trial.readings],
    }


def _reading(made: HandOver, reading: Reading) -> dict[str, Any]:
    values = [field_value(one, reading.facts) for one in reading.values]
    alone = made.inspection.stated(reading.field) is not None
    return {
        "field": reading.field,
        "part": reading.part or None,
        "what": reading.facts.description,
        "value": values[0] if alone else values,
        "unit": reading.facts.unit or None,
        "tol": field_tolerance(reading.values[0], reading.facts) if alone else None,
        "judged": [{"kind": one.kind, "rule": one.rule} for one in reading.judged],
    }
