"""What a verdict is worth: on which limit it rests, how that is known, and what stands in for what nobody states.

One place for all rules, driven by what they declare. A limit that is known from memory alone makes no error: where it
is one of a law the question stays open until somebody looks it up, else a person decides. An error that turns within
what is found in practice for a fallback is none either, and neither is a pass that turns into an error there. A pass on
a fallback is not a plain pass for ever, and one of an error-level rule on an estimate that nobody looked up is none:
a person decides until the build stage, and from then on the field is as missing as without the estimate.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple

from swaplint.build.estimates import Estimated
from swaplint.declare.practices import Practice
from swaplint.declare.rule import Rule
from swaplint.declare.sources import Source
from swaplint.declare.verdicts import Kind, Verdict
from swaplint.inspecting.outcomes import Outcome
from swaplint.spec.job import STAGES, Stage
from swaplint.units.prose import told


class Worth(NamedTuple):
    """The kind that a verdict comes to, and a sentence that says why where that is not its own."""

    kind: Kind
    says: str = ""
    deciding: tuple[str, ...] = ()
    """The fields that would decide, where what stands in for them does not."""
    from_memory: bool = False
    """Whether it would be an error, but its limit is known from memory alone."""
    missing: tuple[str, ...] = ()
    """The fields whose estimate is not enough any more at this stage: asked as if nothing stood in for them."""


def worth_of(rule: Rule, outcome: Outcome, stage: Stage) -> Worth:
    """What an outcome with a verdict comes to at a stage."""
    verdict = outcome.verdict
    assert verdict is not None
    kind: Kind = verdict.kind  # type: ignore[assignment]  # several demands are outcomes of their own
    if verdict.cited is not None and kind in ("pass", "fail", "review"):
        unsure = _on_cited(verdict.cited, kind, is_error(rule, verdict))
        if unsure is not None:
            return unsure
    if kind == "pass":
        guessed = _guessed(outcome) if (verdict.level or rule.level) == "error" else ()
        if guessed:
            return _on_guess(guessed, stage)
        if outcome.turned_by:
            return _turned(rule, outcome, "fails")
        return _pass_on(tuple(outcome.reads.practices.values()), verdict, rule, stage)
    if is_error(rule, verdict):
        if outcome.turned_by:
            return _turned(rule, outcome, "passes")
        if verdict.cited is not None:
            return Worth("fail")
        worth = _on_memory(weighed_sources(rule, outcome))
        guessed = _guessed(outcome)
        return _on_guess(guessed, stage) if worth.kind == "review" and guessed and _late(stage) else worth
    return Worth(kind)


def _late(stage: Stage) -> bool:
    """Whether the vehicle is being built: what was enough to plan with is not any more."""
    return STAGES.index(stage) >= STAGES.index("build")


def _on_guess(guessed: tuple[Estimated, ...], stage: Stage) -> Worth:
    """What would be an error, or a pass of such a rule, on estimates that nobody looked up."""
    fields = tuple(one.field for one in guessed)
    says = f"It rests on an estimate known from memory only ({', '.join(e.by.id for e in guessed)}): "
    if not _late(stage):
        return Worth("review", f"{says}find the real value.", fields)
    says += f"from the build stage on {', '.join(fields)} must be stated."
    return Worth("open", says, missing=fields)


def _turned(rule: Rule, outcome: Outcome, other: str) -> Worth:
    names = " and of ".join(f"'{told(name, rule.id)}'" for name in outcome.turned_by)
    says = f"Within what is found in practice of {names} it {other}: find the real value."
    return Worth("review", says, tuple(outcome.reads.unknown))


def _guessed(outcome: Outcome) -> tuple[Estimated, ...]:
    """The fields that were estimated in a way that nobody looked up: never enough for what would be an error."""
    return tuple(one for one in outcome.reads.estimates.values() if one.by.from_memory)


def is_error(rule: Rule, verdict: Verdict) -> bool:
    """Whether a verdict is a fail of error level."""
    return verdict.kind == "fail" and (verdict.level or rule.level) == "error"


def _pass_on(practices: tuple[Practice, ...], verdict: Verdict, rule: Rule, stage: Stage) -> Worth:
    if any(practice.review for practice in practices):
        return Worth("review", "A pass on this fallback is never enough: find the real value.")
    if practices and (verdict.level or rule.level) == "error" and _late(stage):
        return Worth("review", "From the build stage on a person must accept this fallback.")
    return Worth("pass")


def _on_cited(source: Source, kind: Kind, error: bool) -> Worth | None:
    """What a verdict comes to on a limit that only the build names the source of; None where that is sure enough."""
    if source.known == "from memory":
        says = "What is asked here is known from memory only: look it up, or ask."
        return Worth("open", says, from_memory=error)
    if source.known == "second-hand" and kind == "fail":
        return Worth("review", "That was not read in its own text: a person must find out and decide.")
    return None


def _on_memory(sources: tuple[Source, ...]) -> Worth:
    if not sources or any(source.known != "from memory" for source in sources):
        return Worth("fail")
    titles = "; ".join(dict.fromkeys(source.title for source in sources))
    if any(source.kind == "regulation" for source in sources):
        says = f"What the law asks here is known from memory only ({titles}): look it up."
        return Worth("open", says, from_memory=True)
    says = f"The limit is known from memory only ({titles}): a person must decide, or look it up."
    return Worth("review", says, from_memory=True)


def weighed_sources(rule: Rule, outcome: Outcome) -> tuple[Source, ...]:
    """The sources that give the limit of an outcome's demand.

    Those that name the demand, else those that name none; a data sheet only where the field was read and is stated,
    and where it was estimated what the estimate rests on.
    Where that leaves none, those of the practices that stood in.
    """
    limits = [source for source in rule.sources if source.gives == "limit"]
    sheets = [source for source in limits if source.field and _stated(source.field, outcome)]
    documents = [source for source in limits if not source.field]
    named = [source for source in documents if source.names(outcome.demand)]
    found = [
        *sheets,
        *_of_estimated(limits, outcome),
        *(named or [source for source in documents if not source.demands]),
    ]
    return tuple(found or (practice.cited for practice in outcome.reads.practices.values()))


def _of_estimated(limits: Iterable[Source], outcome: Outcome) -> list[Source]:
    """The sources of the estimates that stood in for a limit from a data sheet."""
    fields = [source.field.replace("*", "one") for source in limits if source.field]
    stood_in = [
        one.by for one in outcome.reads.estimates.values() if any(_like(one.by.stands_in_for, f) for f in fields)
    ]
    return [source for estimate in stood_in for source in estimate.sources]


def _like(pattern: str, path: str) -> bool:
    """Whether a path is one that a pattern names."""
    like = re.escape(pattern).replace(r"\*", r"[^.\[\]]+").replace(r"\[\]", r"\[\d*\]")
    return re.fullmatch(like, path) is not None


def _stated(pattern: str, outcome: Outcome) -> bool:
    reads = outcome.reads
    if "*" not in pattern and "[" not in pattern:
        lacking = (reads.unknown, reads.optional, reads.estimates)
        return reads.has_any({pattern}) and not any(pattern in paths for paths in lacking)
    like = re.compile(re.escape(pattern).replace(r"\*", r"[^.\[\]]+").replace(r"\[\]", r"\[\d+\]"))
    return any(
        like.fullmatch(path)
        for path in reads.fields
        if path not in reads.unknown and path not in reads.optional and path not in reads.estimates
    )
