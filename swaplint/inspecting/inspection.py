"""Running the rules over a spec.

Rules run one by one, sorted by id, each within a time limit; what one rule does wrong costs only its own results.
"""

from __future__ import annotations

import time
from collections.abc import Collection, Mapping

from swaplint.build.view import View
from swaplint.declare.rule import Rule
from swaplint.host.packs import LoadedPack, RuleBase
from swaplint.host.problems import Problem, code_place
from swaplint.host.watch import many_limits
from swaplint.inspecting.findings import finding_of
from swaplint.inspecting.outcomes import Outcome, Outcomes
from swaplint.inspecting.results import Ask, Finding, Inspection
from swaplint.inspecting.running import RuleBroke, run_again, run_rule
from swaplint.inspecting.selection import EVERYTHING, Selection
from swaplint.spec.job import UNSTATED, Stage
from swaplint.spec.loaded import LoadedSpec

FEW_UNKNOWN = 2
"""How many fields a rule may lack for its report to say what typical values would make of it."""


def inspect(
    base: RuleBase,
    spec: LoadedSpec,
    stage: Stage | None = None,
    view: View | None = None,
    kept: dict[str, Outcomes] | None = None,
    selection: Selection = EVERYTHING,
) -> tuple[Inspection, list[Problem]]:
    """Run every rule over a spec, as stated, or those selected. Returns what they found and what broke.

    For `view` and `kept` see `run_rules`.
    """
    inspection, problems = run_rules(base, spec, stage, view, kept, selection)
    inspection.ask_next = ask_next(inspection)
    return inspection, problems


@many_limits()
def run_rules(
    base: RuleBase,
    spec: LoadedSpec,
    stage: Stage | None = None,
    view: View | None = None,
    kept: dict[str, Outcomes] | None = None,
    selection: Selection = EVERYTHING,
) -> tuple[Inspection, list[Problem]]:
    """The same without what to find out next: that is worked out when all is known of the findings.

    `kept` holds what the rules led to on the build that the view follows: it stands where the view touches nothing, and
    is replaced by what they lead to now.
    """
    assumed = stage is None and _stated_stage(spec) is None
    inspection = Inspection(spec, stage or stage_of(spec), selection, assumed)
    inspection.not_loaded = [named for named in base.not_loaded if named[1] is None or selection.takes_id(named[1])]
    kept = {} if kept is None else kept
    problems: list[Problem] = []
    view = view or View(spec.build)
    probe: View | None = None
    for pack, rule in base.rules:
        if not selection.takes(rule):
            continue
        started = time.perf_counter()
        try:
            found = run_again(rule, view, kept.pop(rule.id, Outcomes()))
            lacking = [outcome for outcome in found if outcome.unknown and outcome.finding is None]
            if lacking:
                probe = probe or view.going_on()
                _list_all_unknowns(rule, lacking, probe)
            inspection.findings.extend(_finding(rule, outcome, inspection) for outcome in found)
            kept[rule.id] = found
        except RuleBroke as broke:
            problems.append(_problem(pack, rule, spec, broke))
            inspection.broken.append(rule.id)
        inspection.seconds[rule.id] = time.perf_counter() - started
    inspection.findings.sort(key=lambda finding: finding.sort_key)
    return inspection, problems


def _finding(rule: Rule, outcome: Outcome, inspection: Inspection) -> Finding:
    """An outcome's finding: the one that was made of it before, or a new one."""
    if outcome.finding is None:
        outcome.finding = finding_of(rule, outcome, inspection.spec, inspection.stage)
    return outcome.finding


def stage_of(spec: LoadedSpec) -> Stage:
    """The stage that a spec states, else the one that it is judged as."""
    return _stated_stage(spec) or UNSTATED


def _stated_stage(spec: LoadedSpec) -> Stage | None:
    stated = spec.stated("build.stage")
    stage: Stage | None = stated.value if stated is not None else None  # type: ignore[assignment]
    return stage


def _problem(pack: LoadedPack, rule: Rule, spec: LoadedSpec, broke: RuleBroke) -> Problem:
    what = f"{broke.what}; its results for {spec.label} are missing"
    return Problem(what, "rule", pack.name, rule.id, broke.file, broke.line)


def broke_later(
    base: RuleBase, inspection: Inspection, set_aside: Mapping[str, str], others: Collection[str] = ()
) -> list[Problem]:
    """What is to be said of rules that ran on the build as it is stated, and not when other values were tried.

    `set_aside` are those that did not come to an end, by id, each with what it did; `others` could not be run either.
    """
    problems = []
    for pack, rule in base.rules if set_aside or others else ():
        if rule.id in inspection.broken or not (rule.id in set_aside or rule.id in others):
            continue
        why = set_aside.get(rule.id, "could not be run")
        what = f"the rule {why} when other values than the stated ones were tried; nobody knows what it makes of them"
        problems.append(Problem(what, "rule", pack.name, rule.id, *code_place(rule.function)))
    return problems


def _list_all_unknowns(rule: Rule, outcomes: list[Outcome], probe: View) -> None:
    """Run a rule again with typical values in place of the missing ones, to learn of all that it lacks."""
    try:
        again = run_rule(rule, probe)
    except RuleBroke:
        # Typical values need not fit together; the first missing field is known already.
        for outcome in outcomes:
            outcome.reads.anything = True  # with other values stated it need not break, and would list more
        return
    for outcome in outcomes:
        # Where it is not even known which parts there are, the probe judges one that it makes up.
        same = [one for one in again if one.part == outcome.part] or again
        # Where it came to no demand, the probe comes to all of them.
        same = [one for one in same if one.demand == outcome.demand] or same if outcome.demand else same
        for one in same:
            outcome.reads.begun("unknown").update(one.reads.unknown)
            outcome.reads.note_fields(one.reads)
            outcome.reads.begun("listed").update(one.reads.listed)
            outcome.reads.all_stated |= one.reads.all_stated
        passing = bool(same) and all(one.verdict is not None and one.verdict.kind == "pass" for one in same)
        outcome.usually_passes = passing and len(outcome.reads.unknown) <= FEW_UNKNOWN


# -- what to find out next ----------------------------------------------------------------------------------------
def ask_next(inspection: Inspection) -> list[Ask]:
    """The fields to find out next: what is due first, then what most verdicts hang on."""
    waiting: dict[str, dict[str, bool]] = {}
    for finding in inspection.findings:
        if finding.kind not in ("open", "fail", "review"):
            continue
        if finding.rule.as_built and finding.kind == "open" and not finding.due:
            continue  # nobody can measure on a vehicle that is not finished
        for path in dict.fromkeys((*finding.unknown, *(finding.deciding if finding.kind == "review" else ()))):
            rules = waiting.setdefault(path, {})
            rules[finding.rule.id] = rules.get(finding.rule.id, False) or finding.due
    weights = {finding.rule.id: _WEIGHT[finding.rule_level] for finding in inspection.findings}

    def weight(path: str) -> tuple[float, float]:
        """What hangs on a field: of what is due, and in all. A rule counts once, however many parts it judges."""
        rules = waiting[path]
        return -sum(weights[id] for id, owed in rules.items() if owed), -sum(weights[id] for id in rules)

    ordered = sorted(waiting, key=lambda path: (*weight(path), path))
    return [_ask(inspection, path, tuple(sorted(waiting[path]))) for path in ordered]


_WEIGHT = {"error": 4.0, "warning": 2.0, "note": 1.0}


def _ask(inspection: Inspection, path: str, rules: tuple[str, ...]) -> Ask:
    facts = inspection.facts_of(path)
    if facts is None:
        return Ask(path, rules, "", "", "")
    return Ask(path, rules, facts.where, facts.description, facts.example(path))
