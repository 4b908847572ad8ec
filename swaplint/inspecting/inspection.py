"""Running the rules over a spec.

Rules run one by one, sorted by id, each within a time limit; what one rule does wrong costs only its own results.
"""

from __future__ import annotations

import re
import time
from collections.abc import Container, Iterable
from dataclasses import dataclass
from typing import Any

from swaplint.build.nodes import NotFitted, Unknown
from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.declare.practices import Practice
from swaplint.declare.quantities import Nonsense, subject_text
from swaplint.declare.rule import Rule
from swaplint.declare.sources import Source
from swaplint.declare.verdicts import Verdict, does_not_apply, wrong_with
from swaplint.engineering import ImpossibleInput, OutsideRange
from swaplint.host.packs import LoadedPack, RuleBase, path_exists
from swaplint.host.problems import Problem, code_place, first_line, raised_place
from swaplint.host.watch import TookTooLong, many_limits, time_limit
from swaplint.inspecting.memory import Memory
from swaplint.inspecting.results import Ask, Finding, Inspection, due_passed
from swaplint.spec.fields import Section
from swaplint.spec.job import STAGES, Stage
from swaplint.spec.loading import LoadedSpec

RULE_SECONDS = 3.0
"""Longest time that one rule may take, wide enough for a busy machine: the built-in ones take a few milliseconds."""


@dataclass(slots=True)
class Outcome:
    """What running a rule on one part, or on the whole build, led to."""

    part: Any
    """The part's path or name; empty for the whole build."""
    verdict: Verdict | None
    reads: Reads
    unknown: bool = False
    finding: Finding | None = None
    """What was made of it, where it is kept for the next spec."""


class RuleBroke(Exception):
    """A rule did something that no spec can be blamed for."""

    def __init__(self, what: str, file: str | None, line: int | None) -> None:
        """A sentence and the place in the rule."""
        super().__init__(what)
        self.what, self.file, self.line = what, file, line


# -- one rule -----------------------------------------------------------------------------------------------------
def run_rule(
    rule: Rule, view: View, *, only: Container[str] | None = None, seconds: float = RULE_SECONDS
) -> list[Outcome]:
    """Run a rule on a view, on every part or on some. Raises `RuleBroke` where it raises, hangs or returns nonsense."""
    try:
        with time_limit(seconds):
            return _run(rule, view, only)
    except TookTooLong:
        file, line = code_place(rule.function)
        raise RuleBroke(f"the rule ran longer than {seconds:g} s and was stopped", file, line) from None
    except Nonsense as error:
        file, line = code_place(error.function)
        raise RuleBroke(str(error), file, line) from None
    except RuleBroke:
        raise
    except KeyboardInterrupt:
        raise
    except BaseException as error:
        file, line = raised_place(error.__traceback__, rule.function)
        raise RuleBroke(f"the rule raised {first_line(error)}", file, line) from None
    finally:
        view.settle()


def run_again(rule: Rule, view: View, before: list[Outcome]) -> list[Outcome]:
    """Run a rule on the parts that a view's changes touch; the others keep what it led to before. Raises `RuleBroke`.

    A rule sees nothing of a build but what it reads: where it read nothing that is changed, it would read and say the
    same again. What listed the parts counts among what is read for each, so where one is kept there are no others now.
    """
    kept = {outcome.part: outcome for outcome in before if not view.touches(outcome.reads)}
    touched = {outcome.part for outcome in before} - kept.keys()
    if not kept or len(before) > len(kept) + len(touched):
        return run_rule(rule, view)
    if touched:
        kept.update((outcome.part, outcome) for outcome in run_rule(rule, view, only=touched))
    # A rule that lists other parts each time it is asked keeps no promise, and is taken at its last word.
    return [kept[outcome.part] for outcome in before if outcome.part in kept]


def _run(rule: Rule, view: View, only: Container[str] | None) -> list[Outcome]:
    if rule.each is None:
        return [_judge(rule, view, ())]
    reads = Reads()
    view.stack.append(reads)
    try:
        parts = list(rule.each(view.build))
    except Unknown:
        return [Outcome("", None, reads, unknown=True)]
    except NotFitted as missing:
        return [Outcome("", does_not_apply(f"{missing.path} is not fitted."), reads)]
    except (OutsideRange, ImpossibleInput) as error:
        return [Outcome("", _beyond(error), reads)]
    finally:
        view.stack.pop()
    if not parts:
        return [Outcome("", does_not_apply("The build has no such part."), reads)]
    outcomes = []
    for part in (part if isinstance(part, tuple) else (part,) for part in parts):
        if only is not None and _part_name(part) not in only:
            continue
        outcome = _judge(rule, view, part)
        outcome.reads.fields = {**reads.fields, **outcome.reads.fields}
        outcome.reads.listed = {**reads.listed, **outcome.reads.listed}
        outcome.reads.all_stated = reads.all_stated or outcome.reads.all_stated
        outcomes.append(outcome)
    return outcomes


def _judge(rule: Rule, view: View, part: tuple[Any, ...]) -> Outcome:
    name = _part_name(part)
    reads = Reads()
    view.stack.append(reads)
    try:
        verdict = rule.function(view.build, *part)
    except Unknown:
        return Outcome(name, None, reads, unknown=True)
    except NotFitted as missing:
        return Outcome(name, does_not_apply(f"{missing.path} is not fitted."), reads)
    except (OutsideRange, ImpossibleInput) as error:
        return Outcome(name, _beyond(error), reads)
    finally:
        view.stack.pop()
    wrong = wrong_with(verdict)
    if wrong:
        raise Nonsense(f"the rule returned {wrong}", rule.function)
    return Outcome(name, verdict, reads)


def _part_name(part: tuple[Any, ...]) -> str:
    return " ".join(subject_text(p) for p in part)


def _beyond(error: ValueError) -> Verdict:
    if isinstance(error, OutsideRange):
        return Verdict("review", f"The formula does not hold here: {error}.")
    return Verdict("review", f"The stated values do not fit together: {error}.")


# -- the whole spec -------------------------------------------------------------------------------------------------
@many_limits()
def inspect(
    base: RuleBase,
    spec: LoadedSpec,
    stage: Stage | None = None,
    view: View | None = None,
    memory: Memory | None = None,
) -> tuple[Inspection, list[Problem]]:
    """Run every rule over a spec, as stated. Returns what they found and what broke.

    With a memory, what was found in the last spec stands where nothing that it rests on differs.
    """
    chosen = stage or stage_of(spec)
    inspection = Inspection(spec, chosen)
    problems: list[Problem] = []
    if view is None:
        view = View(spec.build) if memory is None else memory.view_of(base, spec, chosen)
    before = memory.outcomes if memory is not None else {}
    outcomes: dict[str, list[Outcome]] = {}
    probe: View | None = None
    for pack, rule in base.rules:
        started = time.perf_counter()
        try:
            found = run_again(rule, view, before.get(rule.id, []))
            lacking = [outcome for outcome in found if outcome.unknown and outcome.finding is None]
            if lacking:
                probe = probe or View(spec.build, probing=True)
                _list_all_unknowns(rule, lacking, probe)
            inspection.findings.extend(_finding(rule, outcome, spec, chosen) for outcome in found)
            outcomes[rule.id] = found
        except RuleBroke as broke:
            problems.append(_problem(pack, rule, spec, broke))
        inspection.seconds[rule.id] = time.perf_counter() - started
    inspection.findings.sort(key=lambda finding: finding.sort_key)
    inspection.ask_next = ask_next(inspection)
    if memory is not None:
        memory.keep(base, chosen, view, outcomes)
    return inspection, problems


def stage_of(spec: LoadedSpec) -> Stage:
    """The stage that a spec states, else the first."""
    stated: Any = spec.stated("build.stage")
    stage: Stage = stated.value if stated is not None else STAGES[0]
    return stage


def _finding(rule: Rule, outcome: Outcome, spec: LoadedSpec, stage: Stage) -> Finding:
    """An outcome's finding: the one that was made of it for the last spec, or a new one."""
    if outcome.finding is None:
        outcome.finding = finding_of(rule, outcome, spec, stage)
    return outcome.finding


def _problem(pack: LoadedPack, rule: Rule, spec: LoadedSpec, broke: RuleBroke) -> Problem:
    what = f"{broke.what}; its results for {spec.label} are missing"
    return Problem(what, "rule", pack.name, rule.id, broke.file, broke.line)


def _list_all_unknowns(rule: Rule, outcomes: list[Outcome], probe: View) -> None:
    """Run a rule again with typical values in place of the missing ones, to learn of all that it lacks."""
    try:
        seen = {outcome.part: outcome.reads for outcome in run_rule(rule, probe)}
    except RuleBroke:
        return  # typical values need not fit together; the first missing field is known already
    for outcome in outcomes:
        if not outcome.unknown:
            continue
        # Where it is not even known which parts there are, the probe judges one that it makes up.
        for again in [seen[outcome.part]] if outcome.part in seen else seen.values():
            outcome.reads.unknown.update(again.unknown)
            outcome.reads.fields.update(again.fields)


def judgement_of(rule: Rule, outcome: Outcome, stage: Stage) -> Finding:
    """An outcome as a finding with its kind, level and numbers, and without the words and the fields it rests on.

    All that a what-if looks at, at a fraction of the cost.
    """
    if outcome.unknown:
        return _without_answer(rule, outcome, "", (), stage)
    verdict = outcome.verdict
    assert verdict is not None
    kind, _ = _after_practices(verdict, tuple(outcome.reads.practices.values()), rule, stage)
    return Finding(
        rule=rule,
        kind=kind,
        level=(verdict.level or rule.level) if kind == "fail" else None,
        subject="",
        message="",
        found=verdict.found,
        limit=verdict.limit,
        margin=verdict.margin,
        quantity=verdict.quantity,
        unit=verdict.unit,
        part=outcome.part,
    )


def finding_of(rule: Rule, outcome: Outcome, spec: LoadedSpec, stage: Stage) -> Finding:
    """An outcome as a finding: what a missing input, a fallback or an assumption makes of it at this stage."""
    reads = outcome.reads
    inputs = tuple(path for path in reads.fields if spec.stated(path) is not None)
    subject = _subject(rule, outcome, type(spec.build))
    if outcome.unknown:
        return _without_answer(rule, outcome, subject, inputs, stage)
    verdict = outcome.verdict
    assert verdict is not None
    practices: tuple[Practice, ...] = tuple(reads.practices.values())
    kind, says = _after_practices(verdict, practices, rule, stage)
    return Finding(
        rule=rule,
        kind=kind,
        level=(verdict.level or rule.level) if kind == "fail" else None,
        subject=verdict.on or subject,
        message=_message(verdict, says, practices),
        found=verdict.found,
        limit=verdict.limit,
        margin=verdict.margin,
        quantity=verdict.quantity,
        unit=verdict.unit,
        inputs=inputs,
        unknown=tuple(reads.unknown),
        optional=tuple(reads.optional),
        practices=tuple(p.name for p in practices),
        sources=_sources(rule, practices),
        cautions=rule.cautions,
        part=outcome.part,
    )


def _sources(rule: Rule, practices: Iterable[Practice]) -> tuple[Source, ...]:
    return tuple(dict.fromkeys((*rule.sources, *(p.source for p in practices))))


_ALIKE = re.compile(r"\.\*|\[\*?\]")
"""What stands in a path for every part, or for every item."""


def _subject(rule: Rule, outcome: Outcome, model: type[Section]) -> str:
    """The field or part that a finding is about: the part that is judged, else the field that the rule names."""
    part = str(outcome.part).split(" ", 1)[0]
    if "." in part and path_exists(model, part):
        return part
    pieces = _ALIKE.split(rule.subject)
    if len(pieces) == 1:
        return rule.subject
    pattern = re.compile(r"(?:\.[^.\[\]]+|\[\d+\])".join(map(re.escape, pieces)))
    alike = [path for path in outcome.reads.fields if pattern.fullmatch(path)]
    return alike[-1] if alike else pieces[0]


def _without_answer(rule: Rule, outcome: Outcome, subject: str, inputs: tuple[str, ...], stage: Stage) -> Finding:
    unknown = tuple(outcome.reads.unknown)
    due = due_passed(stage, rule.due)
    listed = ", ".join(unknown)
    verb = "is" if len(unknown) == 1 else "are"
    message = f"Cannot be decided: {listed} {verb} not stated."
    if due:
        message += f" The answer is due from the {rule.due} stage on."
    return Finding(
        rule=rule,
        kind="fail" if due else "open",
        level=rule.level if due else None,
        subject=subject or (unknown[0] if unknown else ""),
        message=message,
        inputs=inputs,
        unknown=unknown,
        optional=tuple(outcome.reads.optional),
        practices=tuple(outcome.reads.practices),
        sources=rule.sources,
        cautions=rule.cautions,
        part=outcome.part,
    )


def _after_practices(verdict: Verdict, practices: tuple[Practice, ...], rule: Rule, stage: Stage) -> tuple[Any, str]:
    """A pass that rests on a common-practice fallback is not a plain pass for ever."""
    if verdict.kind != "pass" or not practices:
        return verdict.kind, ""
    if any(p.review for p in practices):
        return "review", "A pass on this fallback is never enough: find the real value."
    if (verdict.level or rule.level) == "error" and STAGES.index(stage) >= STAGES.index("build"):
        return "review", "From the build stage on a person must accept this fallback."
    return "pass", ""


def _message(verdict: Verdict, says: str, practices: tuple[Practice, ...]) -> str:
    pieces = [verdict.says or _plain_words(verdict)]
    if verdict.also:
        pieces.append("Also: " + " ".join(verdict.also))
    if practices:
        pieces.append("Common-practice fallback: " + "; ".join(p.name for p in practices) + ".")
    if says:
        pieces.append(says)
    return " ".join(pieces)


def _plain_words(verdict: Verdict) -> str:
    if verdict.kind == "pass":
        return "Inside the limit." if verdict.limit else "As it should be."
    if verdict.kind == "fail":
        return "Outside the limit." if verdict.limit else "Not as it should be."
    return "See the numbers."


# -- what to find out next ----------------------------------------------------------------------------------------
def ask_next(inspection: Inspection) -> list[Ask]:
    """The fields to find out next, the ones that most verdicts hang on first."""
    waiting: dict[str, dict[str, None]] = {}
    weight: dict[str, float] = {}
    for finding in inspection.findings:
        if finding.kind not in ("open", "fail", "review"):
            continue
        for path in dict.fromkeys((*finding.unknown, *(finding.deciding if finding.kind == "review" else ()))):
            waiting.setdefault(path, {})[finding.rule.id] = None
            step = {"error": 4.0, "warning": 2.0, "note": 1.0}[finding.rule.level]
            weight[path] = weight.get(path, 0.0) + step
    ordered = sorted(waiting, key=lambda path: (-weight[path], path))
    out = []
    for path in ordered:
        facts = inspection.facts_of(path)
        out.append(
            Ask(
                path,
                tuple(sorted(waiting[path])),
                facts.where if facts is not None else "",
                facts.description if facts is not None else "",
            )
        )
    return out
