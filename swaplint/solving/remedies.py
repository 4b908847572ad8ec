"""Remedies: the nearest value of a field that the builder may choose at which a failing rule passes.

Stepped fields are tried along their series or the choices that the spec offers, nearest first; others by looking
outward from the present value over the plausible range and closing in on the edge. Each remedy is tried on the whole
build, and names every rule that it newly breaks or mends.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from swaplint.inspecting.results import Finding, Inspection, Remedy
from swaplint.solving.advice import advised
from swaplint.solving.search import Search, Trials
from swaplint.solving.what_if import WhatIf, candidates, facts_for, fields_like, fields_read, matches
from swaplint.spec.facts import FieldFacts

MOST_FOR_A_REVIEW = 40
"""After how many trials for what a person must decide no further field is searched: measuring is what helps first."""
ALIKE = 0.01
"""How far, relative to the greatest, values of parts alike may differ and still be changed together."""


Wanted = Literal["all", "first", "none"]
"""Which remedies are looked for: all; the first of each error and warning, all that a short sheet shows; or none."""


def add_remedies(what_if: WhatIf, inspection: Inspection, wanted: Wanted = "all") -> None:
    """Look for remedies for every finding that fails, or that asks for a person because of tolerances.

    What the rule's author advises comes first; where that holds, the same field is not searched.
    """
    if wanted == "none":
        return
    trials = Trials(what_if, inspection)
    inspection.findings = [
        _with_remedies(trials, inspection, finding, 1 if wanted == "first" else None)
        if _can_be_mended(finding) and (wanted == "all" or finding.level in ("error", "warning"))
        else finding
        for finding in inspection.findings
    ]


def _with_remedies(trials: Trials, inspection: Inspection, finding: Finding, most: int | None) -> Finding:
    if trials.left <= 0:
        says = "No remedy was looked for: too much fails at once. Mend what is reported first and inspect again."
        return replace(finding, message=f"{finding.message} {says}")
    remedies = tuple(itertools.islice(_remedies(trials, inspection, finding), most))
    if trials.left <= 0 and not remedies:
        says = "The search for a remedy was ended before all was tried: too much hangs on it."
        return replace(finding, message=f"{finding.message} {says}")
    return replace(finding, remedies=remedies)


def _can_be_mended(finding: Finding) -> bool:
    if not finding.rule.adjust and not finding.advice:
        return False
    return finding.kind == "fail" or (finding.kind == "review" and bool(finding.deciding))


def _remedies(trials: Trials, inspection: Inspection, finding: Finding) -> Iterator[Remedy]:
    what_if = trials.what_if
    told: set[str] = set()
    for remedy in advised(trials, inspection, finding):
        told.update(remedy.fields)
        yield remedy
    enough = trials.left - MOST_FOR_A_REVIEW if finding.kind == "review" else 0
    for pattern in finding.rule.adjust:
        if any(matches(pattern, field) for field in told) or trials.left <= enough:
            continue
        facts = facts_for(what_if.base, pattern)
        fields = fields_read(fields_like(pattern, what_if.spec, finding.part), [finding])
        if facts is None or not fields:
            continue
        for together in _changed_together(what_if, fields, facts):
            if trials.left <= enough:
                break
            best = Search(trials, inspection, finding, pattern, together, facts).best()
            if best is not None:
                yield best


def _changed_together(what_if: WhatIf, fields: tuple[str, ...], facts: FieldFacts) -> list[tuple[str, ...]]:
    """Fields alike take one value together, but for numbers that differ now, like two lengths: each by itself."""
    if facts.type not in ("measure", "number") or candidates(facts, what_if.spec):
        return [fields]
    stated = [value for field in fields if (value := what_if.spec.stated(field)) is not None]
    values = [value.value for value in stated if not isinstance(value.value, str)]  # a maker's limit may be "none"
    if not values or max(values) - min(values) <= ALIKE * max(map(abs, values)):
        return [fields]
    return [(field,) for field in fields]
