"""Advice: what a rule's author would choose instead, tried on the whole build before it is printed.

An advised value is rounded as a person writes it, and must then make the demand pass, inside the tolerances of what
else it rests on, and leave no rule failing that reads the same field and could be mended by it. Where a size of a
standard series does not do, the sizes beyond it are tried. A field of a part that the spec says is not fitted means to
fit it, with what is typical of such a part beside the value: what that breaks is named, and it is no advice where that
is an error.
"""

from __future__ import annotations

from collections.abc import Iterator

from swaplint.declare.verdicts import Advice
from swaplint.inspecting.results import Finding, Inspection, Remedy
from swaplint.solving.search import Search, Trials
from swaplint.solving.what_if import (
    WhatIf,
    facts_for,
    fields_like,
    matches,
    no_place,
    series_value,
    short_numbers,
    stated_as,
    value_in_si,
    value_shown,
)
from swaplint.spec.facts import FieldFacts, Stated
from swaplint.units.showing import telling_of

DIGITS = (3, 4, 6)
"""How many digits of an advised number are tried, the fewest first."""


MOST_SIZES = 12
"""How many sizes of a standard series are tried, the nearest first."""


def advised(trials: Trials, inspection: Inspection, finding: Finding) -> Iterator[Remedy]:
    """The advice of a finding that holds on the build as it is printed."""
    for one in finding.advice:
        remedy = _tried(trials, inspection, finding, one)
        if remedy is not None:
            yield remedy


def _tried(trials: Trials, inspection: Inspection, finding: Finding, advice: Advice) -> Remedy | None:
    what_if = trials.what_if
    facts = facts_for(what_if.base, advice.field)
    fields = fields_like(advice.field, what_if.spec, finding.part)
    if facts is None or not facts.chosen or not fields or any(no_place(field, what_if.spec) for field in fields):
        return None
    search = Search(trials, inspection, finding, advice.field, fields, facts, _beside(what_if, advice))
    with telling_of(advice.field):
        for value in _as_printed(advice.value, facts):
            if trials.left <= 0:
                return None
            if search.passes(value) and search.passes_everywhere(value):
                remedy = search.tried(value, advised=True)
                if not (_newly_wrong if remedy.fits else _fails_elsewhere)(search, value):
                    return remedy
    return None


def _beside(what_if: WhatIf, advice: Advice) -> dict[str, Stated]:
    """What is advised for the other fields of a part that is to be fitted, as it would be written."""
    stated = {}
    for path, number in advice.beside:
        facts = facts_for(what_if.base, path)
        if facts is not None:
            shown = float(f"{value_shown(number, facts):.{DIGITS[1]}g}")
            stated[path] = stated_as(value_in_si(shown, facts), facts)
    return stated


def _as_printed(value: float | bool | str, facts: FieldFacts) -> Iterator[Stated]:
    """An advised value as it would be written, and where that does not do, those next to it."""
    if isinstance(value, bool | str):
        yield facts.read(value)
        return
    if facts.series:
        sizes = [series_value(entry, facts) for entry in facts.series]
        numbers = [size for size in sizes if isinstance(size.value, int | float)]
        yield from sorted(numbers, key=lambda size: abs(float(size.value) - value))[:MOST_SIZES]
        return
    shown = value_shown(value, facts)
    if shown == 0.0:
        yield stated_as(value, facts)
    for digits in DIGITS:
        for short in short_numbers(shown, digits):
            yield stated_as(value_in_si(short, facts), facts)


def _fails_elsewhere(search: Search, value: Stated) -> bool:
    """Whether a rule that reads the field fails with the value: newly, or though it could be mended by this field."""
    fields = set(search.fields)
    for _, after, rests_on in search.elsewhere(value):
        if after.kind == "fail" and not fields.isdisjoint(rests_on):
            mendable = any(matches(pattern, field) for pattern in after.rule.adjust for field in fields)
            if mendable or not search.trials.failed_before(after, search.inspection):
                return True
    return False


def _newly_wrong(search: Search, value: Stated) -> bool:
    """Whether a value makes an error that there is not now."""
    before = {f.key for f in search.inspection.findings if f.kind == "fail" and f.level == "error"}
    return any(after.level == "error" and after.key not in before for _, after, _ in search.elsewhere(value))
