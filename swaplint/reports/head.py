"""What stands at the top and at the end of every sheet: what was inspected, whether the gate is open, what to mind."""

from __future__ import annotations

from swaplint.declare.cautions import CLOSING
from swaplint.declare.verdicts import LEVELS
from swaplint.gating.gate import Gate
from swaplint.inspecting.results import Inspection, Report
from swaplint.reports.layout import Sheet
from swaplint.reports.naming import counted, listed, packs_words

MOST_NAMED = 6
"""How many rules that shut the gate are named."""


def add_head(sheet: Sheet, report: Report, inspection: Inspection, gate: Gate) -> None:
    """Add what was inspected and how, and whether the gate is open."""
    name = inspection.stated("build.name")
    sheet.blank()
    sheet.wrapped(str(name.value) if name is not None else "Build without a name", style="bold")
    stage = f"{inspection.stage} stage" + (", for it states none (build.stage)" if inspection.assumed_stage else "")
    sheet.wrapped(f"{inspection.spec.label}, judged as at the {stage}, by {packs_words(report.packs)}")
    if inspection.selection:
        sheet.wrapped(f"Asked for only: {inspection.selection.words}. The gate speaks of these alone.")
    style = "bold red" if not gate.open else "bold magenta" if gate.reviews else "bold green"
    sheet.wrapped(f"{gate_words(gate, inspection)[:-1]}{reviews_words(gate.reviews)}.", style=style)
    if inspection.broken:
        names = listed(inspection.broken)
        sheet.wrapped(f"Broke, so that there is no result: {names}. Tell whoever wrote the rule.", style="bold red")


def gate_words(gate: Gate, inspection: Inspection) -> str:
    """Whether the gate is open and why, in a sentence; a fail and an answer that is owed are different things."""
    if gate.not_run or gate.packs_missing:
        missing = [counted(len(gate.not_run), "rule")] if gate.not_run else []
        missing += [counted(len(gate.packs_missing), "rule pack")] if gate.packs_missing else []
        return f"The gate is shut: {listed(missing)} could not be run."
    if gate.level == "never":
        return "No level of fail shuts the gate."
    baseline = inspection.baseline
    if gate.open and gate.taken and baseline is not None:
        rules = counted(len(gate.taken), "rule")
        stands = (
            f"{rules} would shut it, like {gate.taken[0]}, and did so there"
            if len(gate.taken) > 1
            else (f"{gate.taken[0]} would shut it, and did so there")
        )
        return f"The gate is open: nothing at its level is new or worse than in {baseline.file}; {stands}."
    if gate.open and not any(finding.kind in ("fail", "pass", "review") for finding in inspection.findings):
        return "The gate is open: too little is stated to judge anything, and at this stage nothing is owed."
    if gate.open:
        above = "" if gate.level == LEVELS[-1] else " or above"
        return f"The gate is open: nothing fails or is owed at the level {gate.level}{above}."
    failing = {finding.rule.id for finding in inspection.findings if finding.kind == "fail"}
    if failing.isdisjoint(gate.shut_by):
        rules = counted(len(gate.shut_by), "rule")
        fails = "At this level nothing fails" if failing else "Nothing fails"
        return f"{fails}; the gate is shut by what is still owed to {rules}, like {gate.shut_by[0]}."
    named = list(gate.shut_by[:MOST_NAMED])
    more = len(gate.shut_by) - len(named)
    than = f", new or worse than in {baseline.file}" if baseline is not None and baseline.accepts else ""
    return f"The gate is shut by {listed([*named, *([f'{more} more'] if more else [])])}{than}."


def reviews_words(reviews: int) -> str:
    """What is said beside the gate of the results of error-level rules that it leaves to a person.

    >>> reviews_words(0), reviews_words(1)
    ('', '; 1 review of error-level rules: a person must decide')
    """
    return f"; {counted(reviews, 'review')} of error-level rules: a person must decide" if reviews else ""


def add_end(sheet: Sheet) -> None:
    """Add what every report ends with."""
    sheet.blank()
    sheet.wrapped(CLOSING, style="italic")
