"""What stands at the top and at the end of every sheet: what was inspected, whether the gate is open, what to mind."""

from __future__ import annotations

from collections.abc import Iterable

from swaplint.declare.cautions import CLOSING
from swaplint.declare.verdicts import LEVELS, Level
from swaplint.gating.gate import Gate
from swaplint.host.packs import LoadedPack
from swaplint.inspecting.results import Inspection, Report
from swaplint.reports.layout import Sheet
from swaplint.reports.naming import counted, listed, packs_words, place_words

MOST_NAMED = 6
"""How many rules that shut the gate are named."""


def add_head(sheet: Sheet, report: Report, inspection: Inspection, gate: Gate) -> None:
    """Add what was inspected and how, and whether the gate is open."""
    sheet.blank()
    sheet.wrapped(name_of(inspection), style="bold")
    for words in judged_lines(inspection, report.packs):
        sheet.wrapped(words)
    style = "bold red" if not gate.open else "bold magenta" if gate.reviews else "bold green"
    sheet.wrapped(verdict_words(gate, inspection), style=style)
    for words in deviation_lines(inspection):
        sheet.wrapped(words, indent=2)
    for words in changed_levels(inspection):
        sheet.wrapped(words)
    if inspection.broken:
        sheet.wrapped(broken_words(inspection), style="bold red")


def name_of(inspection: Inspection) -> str:
    """What the build is called."""
    name = inspection.stated("build.name")
    return str(name.value) if name is not None else "Build without a name"


def judged_lines(inspection: Inspection, packs: Iterable[LoadedPack]) -> list[str]:
    """What was inspected, as at which stage, by which rules, on which terms: sentences."""
    stage = f"{inspection.stage} stage" + (", for it states none (build.stage)" if inspection.assumed_stage else "")
    lines = [f"{inspection.spec.label}, judged as at the {stage}, by {packs_words(packs)}"]
    if inspection.selection:
        lines.append(f"Asked for only: {inspection.selection.words}. The gate speaks of these alone.")
    terms = inspection.terms
    if terms.policy is not None:
        lines.append(f"Policy: {terms.policy} ({terms.policy.file})")
    if terms.on:
        lines.append(f"What depends on the day is judged as on {terms.on}.")
    return lines


def verdict_words(gate: Gate, inspection: Inspection) -> str:
    """Whether the gate is open and why, and what it leaves to a person or was signed for."""
    left = "" if inspection.terms.reviews_gate else reviews_words(gate.reviews)
    return f"{gate_words(gate, inspection)[:-1]}{left}{accepted_words(gate.accepted)}."


def deviation_lines(inspection: Inspection) -> list[str]:
    """What is wrong with what was signed, each with its place."""
    lines = []
    wrong = inspection.terms.deviations_wrong
    for problem in wrong[:MOST_NAMED]:
        stop = "" if problem.what.endswith((".", "?")) else "."
        place = place_words(inspection.spec, problem.file or "", problem.line or 0)
        lines.append(f"{place}: {problem.what}{stop}")
    return lines + ([f"and {len(wrong) - MOST_NAMED} more deviations"] if len(wrong) > MOST_NAMED else [])


def broken_words(inspection: Inspection) -> str:
    """Which rules broke."""
    return f"Broke, so that there is no result: {listed(inspection.broken)}. Tell whoever wrote the rule."


def gate_words(gate: Gate, inspection: Inspection) -> str:
    """Whether the gate is open and why, in a sentence; a fail and an answer that is owed are different things."""
    if gate.packs_wanted:
        return f"The gate is shut: the policy asks for the pack {listed(gate.packs_wanted)}."
    if gate.not_run or gate.packs_missing:
        missing = [counted(len(gate.not_run), "rule")] if gate.not_run else []
        missing += [counted(len(gate.packs_missing), "rule pack")] if gate.packs_missing else []
        return f"The gate is shut: {listed(missing)} could not be run."
    if gate.deviations and not gate.shut_by:
        one, several = "deviation accepts nothing, or not as it must", "deviations accept nothing, or not as they must"
        return f"The gate is shut: {counted(gate.deviations, one, several)}."
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
    also = f", and by {counted(gate.deviations, 'deviation')} that must not stand as written" if gate.deviations else ""
    failing = {f.rule.id for f in inspection.findings if f.kind in ("fail", "review") and f.suppression is None}
    if failing.isdisjoint(gate.shut_by):
        rules = counted(len(gate.shut_by), "rule")
        fails = "At this level nothing fails" if failing else "Nothing fails"
        return f"{fails}; the gate is shut by what is still owed to {rules}, like {gate.shut_by[0]}{also}."
    named = list(gate.shut_by[:MOST_NAMED])
    more = len(gate.shut_by) - len(named)
    than = f", new or worse than in {baseline.file}" if baseline is not None and baseline.accepts else ""
    return f"The gate is shut by {listed([*named, *([f'{more} more'] if more else [])])}{than}{also}."


def reviews_words(reviews: int) -> str:
    """What is said beside the gate of the results of error-level rules that it leaves to a person.

    >>> reviews_words(0), reviews_words(1)
    ('', '; 1 review of error-level rules: a person must decide')
    """
    return f"; {counted(reviews, 'review')} of error-level rules: a person must decide" if reviews else ""


def accepted_words(accepted: int) -> str:
    """What is said beside the gate of the fails that somebody signed for.

    >>> accepted_words(0), accepted_words(2)
    ('', '; 2 departures were accepted')
    """
    return f"; {counted(accepted, 'departure was', 'departures were')} accepted" if accepted else ""


def changed_levels(inspection: Inspection) -> list[str]:
    """The rules that weigh otherwise in this shop: those lowered each with the reason."""
    lines = []
    raised: dict[Level, list[str]] = {}
    for id, level in inspection.terms.raised:
        raised.setdefault(level, []).append(id)
    for level, ids in raised.items():
        more = f" and {len(ids) - MOST_NAMED} more" if len(ids) > MOST_NAMED else ""
        lines.append(f"Raised to {level} by the policy: {', '.join(ids[:MOST_NAMED])}{more}.")
    lowered: dict[tuple[Level, str], list[str]] = {}
    for id, level, reason in inspection.terms.lowered:
        lowered.setdefault((level, reason), []).append(id)
    for (to, reason), ids in lowered.items():
        more = f" and {len(ids) - MOST_NAMED} more" if len(ids) > MOST_NAMED else ""
        lines.append(f"Lowered to {to} by the policy: {', '.join(ids[:MOST_NAMED])}{more}: {reason}.")
    return lines


def add_end(sheet: Sheet) -> None:
    """Add what every report ends with."""
    sheet.blank()
    sheet.wrapped(CLOSING, style="italic")
