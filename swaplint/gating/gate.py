"""The gate: one answer for all formats and for the exit status."""

from __future__ import annotations

from typing import Literal, NamedTuple, get_args

from swaplint.declare.verdicts import LEVELS, Level
from swaplint.inspecting.results import Finding, Inspection

GateLevel = Literal["error", "warning", "note", "never"]
GATE_LEVELS: tuple[GateLevel, ...] = get_args(GateLevel)


class Gate(NamedTuple):
    """Whether a build may go on to the next stage of the job."""

    level: GateLevel
    """The lowest level that shuts it."""
    shut_by: tuple[str, ...]
    """The rules that shut it, by a fail or by an answer that is due."""
    not_run: tuple[str, ...]
    """Rules that were asked for and broke, or were not sound: a gate is open only if every rule ran."""
    reviews: int
    """How many results of error-level rules a person must decide on."""
    packs_missing: tuple[str, ...] = ()
    """Packs that could not be loaded: nobody knows which of their rules were asked for."""
    taken: tuple[str, ...] = ()
    """Rules that would shut it, but only as they did in an accepted report."""
    packs_wanted: tuple[str, ...] = ()
    """Packs that the policy asks for and that are not there as it wants them, in words."""
    deviations: int = 0
    """How many deviations are not signed for as they must be, or accept nothing that there is."""
    accepted: int = 0
    """How many results were signed for, and so do not count."""

    @property
    def open(self) -> bool:
        """Whether nothing shuts it."""
        return not (self.shut_by or self.not_run or self.packs_missing or self.packs_wanted or self.deviations)


def gate_of(inspection: Inspection, level: GateLevel) -> Gate:
    """The gate of an inspected spec, for one level."""
    terms, baseline = inspection.terms, inspection.baseline
    shutting = [f for f in inspection.findings if shuts(f, level, reviews=terms.reviews_gate)]
    shut_by = dict.fromkeys(f.rule.id for f in shutting if baseline is None or not baseline.takes(f.key))
    taken = tuple(dict.fromkeys(f.rule.id for f in shutting if f.rule.id not in shut_by))
    not_run = dict.fromkeys((*inspection.broken, *(rule for _, rule in inspection.not_loaded if rule is not None)))
    packs = dict.fromkeys(pack for pack, rule in inspection.not_loaded if rule is None)
    return Gate(
        level,
        tuple(shut_by),
        tuple(not_run),
        reviews_of_error_rules(inspection),
        tuple(packs),
        taken,
        terms.packs_wanted,
        len(terms.deviations_wrong),
        len(inspection.accepted),
    )


def reviews_of_error_rules(inspection: Inspection) -> int:
    """How many results of error-level rules a person must decide on: no gate shuts by them unless a policy says so."""
    return sum(is_review_of_error_rule(finding) and finding.suppression is None for finding in inspection.findings)


def is_review_of_error_rule(finding: Finding) -> bool:
    """Whether a finding is what a person must decide on, of a rule whose fail is an error."""
    return finding.kind == "review" and finding.rule_level == "error"


def shuts(finding: Finding, level: GateLevel, *, reviews: bool = False) -> bool:
    """Whether a finding shuts a gate: a fail or an answer that is due, at its level or above.

    With `reviews` a review of an error-level rule does so as its fail would.
    """
    if level == "never" or finding.suppression is not None:
        return False
    if reviews and is_review_of_error_rule(finding):
        return True
    weighs: Level | None = finding.rule_level if finding.due else finding.level
    return weighs is not None and LEVELS.index(weighs) <= LEVELS.index(level)
