"""What a call judges by besides the rules: the day, the shop's policy, and the shop's own file of deviations."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

from swaplint.gating.deviations import DeviationsRead, accept, read_deviations
from swaplint.gating.policy import Policy, read_policy, weigh
from swaplint.host.packs import RuleBase
from swaplint.host.problems import Problem
from swaplint.inspecting.results import Inspection
from swaplint.spec.loaded import SpecErrors
from swaplint.spec.toml_source import SpecError


@dataclass(frozen=True, slots=True)
class CallTerms:
    """What a call judges every spec by."""

    on: str
    """The day, year-month-day: the same for all of a call."""
    on_stated: bool = False
    """Whether the call states it."""
    policy: Policy | None = None
    deviations: tuple[DeviationsRead, ...] = ()

    @property
    def problems(self) -> list[Problem]:
        """What shuts every gate of the call."""
        if self.policy is None:
            return []
        file, wanted = self.policy.cited.file, self.policy.packs_wanted
        return [Problem(f"the policy asks for the pack {words}", "gate", file=file) for words in wanted]


def terms_of(base: RuleBase, policy: str | None, deviations: Sequence[str], on: datetime.date | None) -> CallTerms:
    """What a call judges by; without a day, by today. Raises `SpecErrors` for the files that cannot be read."""
    errors: list[SpecError] = []
    read: list[DeviationsRead] = []
    made: Policy | None = None
    for path in dict.fromkeys(deviations):
        try:
            read.append(read_deviations(path))
        except SpecErrors as wrong:
            errors += wrong.errors
    if policy is not None:
        try:
            made = read_policy(policy, base)
        except SpecErrors as wrong:
            errors += wrong.errors
    if errors:
        raise SpecErrors(errors)
    return CallTerms((on or datetime.date.today()).isoformat(), on is not None, made, tuple(read))


def judge(inspection: Inspection, base: RuleBase, terms: CallTerms) -> list[Problem]:
    """Judge an inspection by the terms of its call. Returns what is wrong with deviations."""
    if terms.policy is not None:
        weigh(inspection, terms.policy)
    problems = accept(inspection, base, terms.deviations, terms.on, terms.policy)
    if terms.on_stated or any("build.judged_on" in finding.inputs for finding in inspection.findings):
        inspection.terms.on = terms.on
    return problems
