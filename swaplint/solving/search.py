"""The search for the value of one field at which one finding passes, nearest to the present one."""

from __future__ import annotations

import itertools
import math
from collections.abc import Collection, Iterator, Mapping
from typing import NamedTuple

from swaplint.inspecting.findings import judgement_of
from swaplint.inspecting.results import MOST_INPUTS, Finding, Inspection, Remedy
from swaplint.solving.tolerance import stays_a_pass, worst_corner
from swaplint.solving.turning import Judged, may_turn, moved
from swaplint.solving.what_if import (
    Changes,
    WhatIf,
    candidates,
    fitted_with,
    same,
    short_number_between,
    stated_as,
    with_what_goes,
    written_shortly,
)
from swaplint.spec.facts import FieldFacts, Stated
from swaplint.units.showing import telling_of
from swaplint.units.value import Value

STEPS = 36
"""How many values of a continuous field are looked at over its plausible range."""
STRIDE = 4
"""Every so many of them are looked at first, and those between where one could pass."""
SHORT = 3
"""How many digits a person likes to write."""
CLOSING_IN = 16
"""Where no number of so few passes: how often the stretch is halved, which goes beyond the digits of a person."""
MOST_TRIALS = 1000
"""How often rules are run to find remedies for one spec: where most of a build fails at once, the first matter most.

A rule that rests on very many fields counts several times, and so does a change of a build with very many results."""
MANY_FINDINGS = 1500
"""More results than a build of ordinary size has."""


class Trials:
    """Asks what a rule finds with changes, and counts."""

    def __init__(self, what_if: WhatIf, inspection: Inspection) -> None:
        self.what_if, self.left = what_if, MOST_TRIALS
        self.whole_build = max(0, len(inspection.findings) - MANY_FINDINGS) // 100
        """What it counts for to try a change on the whole build."""
        self._failing: set[tuple[str, str, str]] | None = None

    def failed_before(self, finding: Finding, inspection: Inspection) -> bool:
        """Whether what a finding is about failed before anything was changed."""
        if self._failing is None:
            self._failing = {found.key for found in inspection.findings if found.kind == "fail"}
        return finding.key in self._failing

    def judgement(self, finding: Finding, changes: Changes) -> Finding | None:
        """What the finding's rule finds about the same part with changes."""
        self.left -= 1 + len(finding.inputs) // MOST_INPUTS
        return self.what_if.judgement_of_part(finding, changes)


class Changed(NamedTuple):
    """What a rule says of a part otherwise than as stated."""

    before: Finding | None
    """None where it said nothing of it."""
    after: Finding
    rests_on: Collection[str]
    """The fields that were read for it."""


class Search:
    """The search for one field's nearest value at which one finding passes."""

    def __init__(
        self,
        trials: Trials,
        inspection: Inspection,
        finding: Finding,
        pattern: str,
        fields: tuple[str, ...],
        facts: FieldFacts,
        beside: Mapping[str, Stated] | None = None,
    ) -> None:
        self.beside = beside or {}
        self.trials, self.what_if, self.inspection, self.finding = trials, trials.what_if, inspection, finding
        self.pattern, self.fields, self.facts = pattern, fields, facts
        self.now = next((s for f in fields if (s := self.what_if.spec.stated(f)) is not None), None)
        self.worst = worst_corner(self.what_if, finding, fields)
        self.seen: dict[float | bool | str, Finding | None] = {}
        self._elsewhere: dict[float | bool | str, tuple[list[Changed], Iterator[Changed]]] = {}

    def best(self) -> Remedy | None:
        """The nearest passing value that breaks no error-level rule; else the nearest, which says what it breaks."""
        first: Remedy | None = None
        with telling_of(self.pattern):
            for value in self._passing():
                remedy = self.tried(value)
                if not self._breaks_an_error(remedy):
                    return remedy
                first = first or remedy
        return first

    def _passing(self) -> Iterator[Stated]:
        offered = candidates(self.facts, self.what_if.spec)
        if offered:
            for value in self._nearest_first(offered):
                if not same(value, self.now) and self.passes(value) and self.passes_everywhere(value):
                    yield value
        elif self.facts.type in ("measure", "number") and self.now is not None:
            for direction in (1, -1):
                edge = self._edge(direction)
                if edge is not None and self.passes_everywhere(edge):
                    yield edge

    def _nearest_first(self, offered: list[Stated]) -> list[Stated]:
        if self.now is None or isinstance(self.now.value, bool | str):
            return offered
        here = float(self.now.value)
        # Ratios of sizes matter more than differences: 35 mm² is as far from 25 mm² as 70 from 50.
        return sorted(offered, key=lambda s: abs(math.log(max(1e-12, float(s.value)) / max(1e-12, here))))

    def _edge(self, direction: int) -> Stated | None:
        """The passing value nearest to the present one, going up or down inside the plausible range."""
        assert self.now is not None
        plausible = self.facts.plausible_si()
        if plausible is None:
            return None
        here, end = float(self.now.value), plausible[1] if direction > 0 else plausible[0]
        if (end - here) * direction <= 0:
            return None
        # Small steps first: the nearest value is wanted.
        values = [here + (end - here) * (step / STEPS) ** 2 for step in range(STEPS + 1)]
        for stretch in self._stretches(values):
            for before, value in itertools.pairwise(stretch):
                if self.passes(stated_as(value, self.facts)):
                    return self._rounded(before, value)
        return None

    def _stretches(self, values: list[float]) -> Iterator[list[float]]:
        """The stretches of values in which one could pass, up to the first that ends in one which does."""
        judged: list[Judged] = []
        for value in values[::STRIDE]:
            found = self._at(stated_as(value, self.facts))
            judged.append({} if found is None else {"": found})
            if found is not None and found.kind == "pass":
                break
        steps = [moved(one, other) for one, other in itertools.pairwise(judged)]
        for n, (one, other) in enumerate(itertools.pairwise(judged)):
            if may_turn(one, other, steps[max(0, n - 1) : n + 2]):
                yield values[n * STRIDE : (n + 1) * STRIDE + 1]

    def _rounded(self, failing: float, passing: float) -> Stated:
        """The value next to the failing one that passes, in as few digits as will do."""
        failing, passing = self._between_short_numbers(failing, passing)
        short = written_shortly(passing, failing, self.facts, self.passes, most_digits=SHORT)
        return short or self._closed_in(failing, passing)

    def _between_short_numbers(self, failing: float, passing: float) -> tuple[float, float]:
        """The stretch between failing and passing, narrowed until no number of a few digits lies inside it."""
        while (middle := short_number_between(failing, passing, self.facts, SHORT)) is not None:
            if self.passes(middle):
                passing = float(middle.value)
            else:
                failing = float(middle.value)
        return failing, passing

    def _closed_in(self, failing: float, passing: float) -> Stated:
        for _ in range(CLOSING_IN):
            middle = 0.5 * (failing + passing)
            if self.passes(Stated(middle)):
                passing = middle
            else:
                failing = middle
        edge = written_shortly(passing, failing, self.facts, self.passes)
        return edge or stated_as(passing, self.facts)

    def passes(self, value: Stated) -> bool:
        """Whether the finding passes with a value, and does so at the worst corner of its other inputs' tolerances."""
        found = self._at(value)
        return found is not None and found.kind == "pass"

    def _at(self, value: Stated) -> Finding | None:
        """What the rule finds with a value: the first finding that does not pass, within the tolerances."""
        key = value.value
        if key not in self.seen:
            for changes in self._cases(value):
                found = self.seen[key] = self.trials.judgement(self.finding, changes)
                if found is None or found.kind != "pass":
                    break
        return self.seen[key]

    def _cases(self, value: Stated) -> Iterator[dict[str, Stated | None]]:
        """A value and both ends of its own tolerance, each with the other inputs as stated and at their worst."""
        tol = self._tolerance(value)
        for one in [value] if not tol else [value, *(Stated(float(value.value) + way * tol) for way in (-1, 1))]:
            changes = self.changes(one)
            yield changes
            if self.worst:
                yield {**self.worst, **changes}

    def _tolerance(self, value: Stated) -> float:
        """The tolerance that a value keeps in the file: as wide as now, or grown with it if it is a relative one."""
        if self.now is None or not self.now.tol or isinstance(value.value, bool | str):
            return 0.0
        here = float(self.now.value)
        return self.now.tol * max(1.0, abs(float(value.value) / here)) if here else self.now.tol

    def passes_everywhere(self, value: Stated) -> bool:
        """Whether the finding passes with a value everywhere inside the tolerances."""
        changes = self.changes(value._replace(tol=self._tolerance(value)))
        found = self.what_if.finding(self.finding, changes)
        if found is None:
            # The rule makes this demand no more, as where a part is fitted: what it then demands of it must pass.
            passing = [one for one in self.what_if.findings_of_part(self.finding, changes) if one.kind == "pass"]
            return bool(passing) and all(stays_a_pass(self.what_if, one, changes) for one in passing)
        return found.kind == "pass" and stays_a_pass(self.what_if, found, changes)

    def changes(self, value: Stated) -> dict[str, Stated | None]:
        """A value as changes of the fields that it is for."""
        spec = self.what_if.spec
        wanted = with_what_goes(spec, self.facts, dict.fromkeys(self.fields, value))
        return dict(fitted_with(spec, {**wanted, **self.beside}))

    # -- on the whole build ------------------------------------------------------------------------------------
    def elsewhere(self, value: Stated) -> Iterator[Changed]:
        """What the rules that read the field say otherwise with a value, on the whole build: asked as far as wanted."""
        if value.value not in self._elsewhere:
            self._elsewhere[value.value] = [], self._changed(value)
        found, further = self._elsewhere[value.value]
        for number in itertools.count():
            if number == len(found):
                one = next(further, None)
                if one is None:
                    return
                found.append(one)
            yield found[number]

    def _changed(self, value: Stated) -> Iterator[Changed]:
        what_if = self.what_if
        changes = self.changes(value)
        view = what_if.view.changed(changes)
        self.trials.left -= self.trials.whole_build
        for rule in what_if.rules_touched(changes):
            before = what_if.before(rule)
            as_stated = {(o.part, o.demand): o for o in before}
            kept = set(map(id, before))
            for after in what_if.outcomes(rule, view):
                if id(after) not in kept:
                    was = as_stated.get((after.part, after.demand))
                    now = judgement_of(rule, after, what_if.stage)
                    was_found = None if was is None else judgement_of(rule, was, what_if.stage)
                    yield Changed(was_found, now, after.reads.fields.keys())

    def tried(self, value: Stated, *, advised: bool = False) -> Remedy:
        """A passing value tried on the whole build: what it newly breaks and mends."""
        breaks, mends = [], []
        for before, after, _ in self.elsewhere(value):
            was = before is not None and before.kind == "fail"
            if after.kind == "fail" and (not was or (before is not None and _worse(after, before))):
                breaks.append(after.rule.id)
            elif was and after.kind != "fail" and after.rule.id != self.finding.rule.id:
                mends.append(after.rule.id)
        number, changes = not isinstance(value.value, bool | str), self.changes(value)
        return Remedy(
            self.pattern if len(self.fields) > 1 else self.fields[0],
            (self._number(self.now) if number else self.now.written) if self.now is not None else None,
            self._number(value) if number else value.written,
            self.facts.unit,
            self.facts.kind_name,
            tuple(dict.fromkeys(breaks)),
            tuple(dict.fromkeys(m for m in mends if m not in breaks)),
            value.written,
            self.fields,
            advised,
            tuple(path for path, new in changes.items() if new is None),
            tuple((path, new.written) for path, new in changes.items() if new is not None and path not in self.fields),
            self.facts.of_the_part and self.now is not None and self.now.value != 0.0,
        )

    def _number(self, stated: Stated) -> Value:
        return Value.of(float(stated.value), self.facts.kind_name, self.facts.unit, self.pattern)

    def _breaks_an_error(self, remedy: Remedy) -> bool:
        return any(rule.level == "error" for rule in self.what_if.rules() if rule.id in remedy.breaks)


def _worse(after: Finding, before: Finding) -> bool:
    order = ("note", "warning", "error")
    return after.level is not None and before.level is not None and order.index(after.level) > order.index(before.level)
