"""How results stand to an earlier inspection, as SARIF says it (3.27.24): a state for every result, or for none."""

from __future__ import annotations

from typing import Literal

from swaplint.declare.rule import Rule
from swaplint.inspecting.baseline import Compared, Was
from swaplint.inspecting.results import Finding, Inspection, Report

BaselineState = Literal["new", "unchanged", "updated", "absent"]

ABSENT: BaselineState = "absent"


def compares(report: Report) -> bool:
    """Whether the results of a report stand beside earlier ones."""
    return any(inspection.baseline is not None for inspection in report.inspections)


def baseline_state(finding: Finding, inspection: Inspection) -> BaselineState:
    """The state of a result; of one alert for all that a rule is owed, the newest of theirs."""
    baseline = inspection.baseline
    if baseline is None:
        return "new"
    key = finding.key
    keys = [key] if key in baseline.compared else [f.key for f in inspection.findings if f.rule.id == key[0] and f.due]
    states = {_state(baseline.compared[one]) for one in keys}
    return "new" if "new" in states or not states else "updated" if "updated" in states else "unchanged"


def _state(one: Compared) -> BaselineState:
    if one.state in ("new", "added"):
        return "new"
    return "updated" if one.changed else "unchanged"


def absent(report: Report) -> list[tuple[Inspection, Finding]]:
    """What an earlier inspection found and is solved, as the results that it was then."""
    rules = {rule.id: rule for pack in report.packs for rule in pack.rules}
    return [
        (inspection, _as_finding(was, rules[was.rule]))
        for inspection in report.inspections
        if inspection.baseline is not None
        for was in inspection.baseline.solved
        if was.rule in rules
    ]


def _as_finding(was: Was, rule: Rule) -> Finding:
    kind, level = was.kind, was.level
    return Finding(
        rule=rule,
        kind=kind,  # type: ignore[arg-type]  # a report is read with these kinds and levels, or not at all
        level=level,  # type: ignore[arg-type]
        subject=was.subject,
        message=was.message,
        demand=was.demand,
        margin=was.margin,
        unknown=was.unknown,
        due=was.due,
        part=was.part,
    )
