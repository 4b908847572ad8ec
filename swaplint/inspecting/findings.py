"""Outcomes as findings: what a missing input, a fallback or an assumption makes of them at the stage of the job."""

from __future__ import annotations

import re
from collections.abc import Sequence

from swaplint.build.reads import Reads
from swaplint.declare.practices import Practice
from swaplint.declare.rule import Rule
from swaplint.declare.sources import Source
from swaplint.declare.verdicts import Verdict
from swaplint.host.named_fields import path_exists
from swaplint.inspecting.outcomes import Outcome
from swaplint.inspecting.results import Finding, due_passed
from swaplint.inspecting.worth import worth_of
from swaplint.spec.facts import NO_LIMIT
from swaplint.spec.fields import Section
from swaplint.spec.job import Stage
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.shape import facts_at, standing_at
from swaplint.units.output import shown
from swaplint.units.prose import told
from swaplint.units.value import Value


def judgement_of(rule: Rule, outcome: Outcome, stage: Stage) -> Finding:
    """An outcome as a finding with its kind, level and numbers, and without the words and the fields it rests on.

    All that a what-if looks at, at a fraction of the cost.
    """
    verdict = outcome.verdict
    if verdict is None:
        due = due_passed(stage, rule.due_of(outcome.demand))
        return Finding(rule, "open", None, "", "", demand=outcome.demand, due=due, part=outcome.part)
    worth = worth_of(rule, outcome, stage)
    return Finding(
        rule=rule,
        kind=worth.kind,
        level=(verdict.level or rule.level) if worth.kind == "fail" else None,
        subject="",
        message="",
        demand=outcome.demand,
        found=verdict.found,
        limit=verdict.limit,
        margin=verdict.margin,
        quantity=verdict.quantity,
        unit=verdict.unit,
        part=outcome.part,
        carried=verdict.carried,
    )


def finding_of(rule: Rule, outcome: Outcome, spec: LoadedSpec, stage: Stage) -> Finding:
    """An outcome as a finding: what a missing input, a fallback or an assumption makes of it at this stage."""
    reads = outcome.reads
    inputs = _inputs(reads, spec)
    subject = _subject(rule, outcome, type(spec.build))
    verdict = outcome.verdict
    if verdict is None:
        return _without_answer(rule, outcome, subject, inputs, spec, stage)
    practices: tuple[Practice, ...] = tuple(reads.practices.values())
    worth = worth_of(rule, outcome, stage)
    kind = worth.kind
    return Finding(
        rule=rule,
        kind=kind,
        level=(verdict.level or rule.level) if kind == "fail" else None,
        subject=verdict.on or subject,
        message=_message(rule, verdict, worth.says, practices, _estimates_words(outcome, spec)),
        demand=outcome.demand,
        found=None if verdict.found is None else Value.of(verdict.found, verdict.quantity, verdict.unit, rule.id),
        limit=verdict.limit,
        margin=verdict.margin,
        quantity=verdict.quantity,
        unit=verdict.unit,
        inputs=inputs,
        unknown=tuple(dict.fromkeys((*reads.unknown, *worth.missing))),
        optional=tuple(reads.optional),
        quantities=tuple(reads.quantities),
        due=kind == "open" and due_passed(stage, rule.due_of(outcome.demand)),
        why=worth.says,
        from_memory=worth.from_memory,
        practices=tuple(p.name for p in practices),
        estimates=tuple(reads.estimates.values()),
        deciding=worth.deciding,
        advice=verdict.advice if kind in ("fail", "review") else (),
        sources=_sources(rule, outcome.demand, practices, verdict.cited),
        cautions=rule.cautions,
        part=outcome.part,
        carried=verdict.carried,
    )


def _inputs(reads: Reads, spec: LoadedSpec) -> tuple[str, ...]:
    """The stated fields that were read, in order."""
    few = spec.stated_fields(reads.few)
    if not reads.shared:
        return few
    return tuple(dict.fromkeys((*few, *spec.stated_together(reads.shared))))


def _sources(rule: Rule, demand: str, practices: tuple[Practice, ...], cited: Source | None) -> tuple[Source, ...]:
    """The sources of what is said about a demand: none that gives the limit of others only."""
    if cited is not None:
        # It stands in the place of what the rule says of the limits of every build.
        return (cited, *(source for source in _sources(rule, demand, practices, None) if source.gives != "limit"))
    if rule.common_sources is not None and not practices:
        return rule.common_sources
    own = sorted(
        (source for source in rule.sources if not source.demands or source.names(demand)),
        key=lambda source: not source.demands,
    )
    # What is said of the rule as a whole, such as that it does not apply, rests on all that it cites.
    return tuple(dict.fromkeys((*own, *(practice.cited for practice in practices)))) or tuple(rule.sources)


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
    alike = [path for path in outcome.reads.fields if path.startswith(pieces[0]) and pattern.fullmatch(path)]
    return alike[-1] if alike else pieces[0]


def _without_answer(
    rule: Rule, outcome: Outcome, subject: str, inputs: tuple[str, ...], spec: LoadedSpec, stage: Stage
) -> Finding:
    unknown = tuple(outcome.reads.unknown)
    since = rule.due_of(outcome.demand)
    due = due_passed(stage, since)
    message = f"Cannot be decided: {_unknown_words(unknown, spec)}."
    if unknown and all(_is_limit(type(spec.build), path) for path in unknown):
        message += f' A limit that its maker does not state is answered "{NO_LIMIT}".'
    if due:
        message += f" The answer is due from the {since} stage on."
    if outcome.usually_passes:
        message += " As things usually are this passes."
    return Finding(
        rule=rule,
        kind="open",
        level=None,
        subject=subject or (unknown[0] if unknown else ""),
        message=message,
        demand=outcome.demand,
        inputs=inputs,
        unknown=unknown,
        optional=tuple(outcome.reads.optional),
        quantities=tuple(outcome.reads.quantities),
        due=due,
        usually_passes=outcome.usually_passes,
        practices=tuple(outcome.reads.practices),
        sources=rule.sources,
        cautions=rule.cautions,
        part=outcome.part,
    )


def _is_limit(model: type[Section], path: str) -> bool:
    facts = facts_at(model, path)
    return facts is not None and facts.limit


def _unknown_words(unknown: tuple[str, ...], spec: LoadedSpec) -> str:
    """What is not stated, and which tables are written empty that no build can do without."""
    empty = [path for path in unknown if standing_at(spec.build, path) in ({}, [])]
    missing = [path for path in unknown if path not in empty]
    return " and ".join(
        f"{few_of(paths)} {'is' if len(paths) == 1 else 'are'} {how}"
        for paths, how in ((missing, "not stated"), (empty, "empty"))
        if paths
    )


MOST_IN_A_SENTENCE = 40
"""How many fields a sentence names, before the others are counted."""


def few_of(paths: Sequence[str]) -> str:
    """Fields as a sentence names them: all, or the first of very many and how many more there are.

    >>> few_of(["engine.mass", "vehicle.wheelbase"])
    'engine.mass, vehicle.wheelbase'
    """
    more = len(paths) - MOST_IN_A_SENTENCE
    return ", ".join(paths[:MOST_IN_A_SENTENCE]) + (f" and {more} more" if more > 0 else "")


MOST_NAMED = 3
"""How many fields that an estimate rests on are named, before the others are counted."""


def _estimates_words(outcome: Outcome, spec: LoadedSpec) -> list[str]:
    """A sentence for each field that was estimated: as what, and from what."""
    sentences = []
    for one in outcome.reads.estimates.values():
        facts = facts_at(type(spec.build), one.field)
        assert facts is not None
        value = shown(one.value, facts.kind_name, facts.unit, digits=3, about=one.field)
        stated = [path for path in one.read if spec.stated(path) is not None]
        more = f" and {len(stated) - MOST_NAMED} more" if len(stated) > MOST_NAMED else ""
        rests_on = f" from {', '.join(stated[:MOST_NAMED])}{more}" if stated else ""
        sentences.append(f"Estimated: {one.field} {value} ± {one.by.within}{rests_on} ({one.by.id}).")
    return sentences


def _message(rule: Rule, verdict: Verdict, says: str, practices: tuple[Practice, ...], estimates: Sequence[str]) -> str:
    pieces = [verdict.says or _plain_words(verdict), *estimates]
    if practices:
        pieces.append("Common-practice fallback: " + "; ".join(told(p.name, rule.id) for p in practices) + ".")
    if says:
        pieces.append(says)
    return " ".join(pieces)


def _plain_words(verdict: Verdict) -> str:
    if verdict.kind == "pass":
        return "Inside the limit." if verdict.limit else "As it should be."
    if verdict.kind == "fail":
        return "Outside the limit." if verdict.limit else "Not as it should be."
    return "See the numbers."
