"""One field's values tried on the rules that read it: what each rule says of each value."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from swaplint.build.view import View
from swaplint.declare.rule import Rule
from swaplint.inspecting.outcomes import Outcome
from swaplint.inspecting.results import Finding
from swaplint.solving.tolerance import stays_a_pass
from swaplint.solving.variants import Variants
from swaplint.solving.what_if import Changes, WhatIf, with_what_goes
from swaplint.spec.facts import FieldFacts, Stated

MOST_JUDGED = 40_000
"""How many results are worked out to size one field: several times those that a build of ordinary size takes."""
RESTING_ON_MANY = 4
"""What a result counts for that rests on more fields than anything does on a build of ordinary size."""


class Says(NamedTuple):
    """What a rule says of a value, over all parts that it judges."""

    fails: bool
    silent: bool
    """Whether it cannot judge a part: its formula does not hold there, something else is missing, or it broke."""


class Choice(NamedTuple):
    """One value, tried on the whole build."""

    value: Stated
    passes: bool
    """Whether none of the rules fails, every one could be run, and not all of them are open."""
    fails: tuple[str, ...]
    reviews: tuple[str, ...]
    opens: tuple[str, ...]
    """The rules that cannot judge it or a part of it yet: they do not pass it."""
    broken: tuple[str, ...]
    """The rules that could not be run with it."""
    worst_margin: float | None


class Trial:
    """The rules that read a field, asked about one value after the other."""

    def __init__(self, variants: Variants, fields: tuple[str, ...], facts: FieldFacts, rules: list[Rule]) -> None:
        what_if = variants.what_if
        self.variants, self.fields, self.facts, self.rules = variants, fields, facts, rules
        self._judged: dict[tuple[str, object], list[Finding]] = {}
        self._left: set[str] = set()
        self._last: tuple[Stated, tuple[WhatIf, Changes]] | None = None
        """The value that was asked about last, and its case: all rules are asked about one value after the other."""
        now = {rule.id: what_if.judgements_on(rule, what_if.view) for rule in rules}
        self.failing_now = {id for id, findings in now.items() if any(map(_fails, findings))}
        self.each_value = sum(map(len, now.values()))
        """How many results there are about one value."""
        self._each_value_counts = sum(_counted(what_if.before(rule)) for rule in rules)
        self._still = MOST_JUDGED

    def judgements(self, rule: Rule, value: Stated) -> list[Finding]:
        """What a rule finds with a value, as stated: tolerances make no fail of a pass."""
        key = (rule.id, value.value)
        found = self._judged.get(key)
        if found is None:
            what_if, _, view = self._case(value)
            outcomes = what_if.outcomes(rule, view)
            found = self._judged[key] = what_if.judged(rule, outcomes)
            self._still -= max(1, _counted(outcomes))
        return found

    @property
    def spent(self) -> bool:
        """Whether so much was worked out that no further values are looked for: too much hangs on the field."""
        return self._still <= 0

    def affords(self, values: int) -> int:
        """How many of some values can be asked about, at least one."""
        return max(1, min(values, self._still // max(1, self._each_value_counts)))

    def was_asked(self, value: Stated) -> bool:
        """Whether every rule has been asked about a value."""
        return all((rule.id, value.value) in self._judged for rule in self.rules)

    def let_go(self, value: Stated) -> None:
        """Forget what was worked out on the way to what the rules say of a value, which is kept."""
        self._case(value)[2].let_go()

    def says(self, rule: Rule, value: Stated) -> Says:
        """What a rule says of a value."""
        findings = self.judgements(rule, value)
        silent = not findings or any(_cannot_judge(f) for f in findings)
        return Says(any(map(_fails, findings)), silent)

    def fails(self, value: Stated, among: Sequence[Rule] | None = None) -> list[str]:
        """The rules that fail with a value, errors first."""
        rules = self.rules if among is None else among
        failing = [f for rule in rules for f in self.judgements(rule, value) if _fails(f)]
        return list(dict.fromkeys(f.rule.id for f in sorted(failing, key=lambda f: f.sort_key)))

    def choice(self, value: Stated) -> Choice:
        """A value with all that it passes and fails."""
        fails, judged = tuple(self.fails(value)), {rule.id: self.judgements(rule, value) for rule in self.rules}
        broken = tuple(id for id, findings in judged.items() if not findings)
        opens = tuple(id for id, findings in judged.items() if any(f.kind == "open" for f in findings))
        judges = any(f.kind != "open" for findings in judged.values() for f in findings)
        passes = judges and not fails and not broken
        return Choice(value, passes, fails, self.reviews(value), opens, broken, self.worst_margin(value))

    def worst_margin(self, value: Stated) -> float | None:
        """The least margin that any rule leaves with a value."""
        margins = [f.margin for rule in self.rules for f in self.judgements(rule, value) if f.margin is not None]
        return min(margins) if margins else None

    def reviews(self, value: Stated, enough: int | None = None) -> tuple[str, ...]:
        """The rules that leave a value to a person, as stated or within the tolerances of what else they read.

        Where no more than `enough` of them matter, the others are not looked for: the rules of the last value come
        first, for they are likely to be the same. Nor are they once all is spent.
        """
        found: list[str] = []
        for rule in sorted(self.rules, key=lambda rule: rule.id not in self._left):
            if self.spent or (enough is not None and len(found) >= enough):
                break
            if self._leaves_to_a_person(rule, value):
                found.append(rule.id)
        self._left = set(found)
        self.let_go(value)
        return tuple(sorted(found))

    def _leaves_to_a_person(self, rule: Rule, value: Stated) -> bool:
        judged = self.judgements(rule, value)
        if any(f.kind == "review" for f in judged):
            return True
        if not any(f.kind == "pass" for f in judged):
            return False
        self._still -= len(judged)
        what_if, changes, view = self._case(value)
        return leaves_to_a_person(rule, what_if, changes, what_if.outcomes(rule, view))

    def _case(self, value: Stated) -> tuple[WhatIf, Changes, View]:
        """The question with a value, what is changed for it, and the view in which it is."""
        if self._last is None or self._last[0] != value:
            new = dict.fromkeys(self.fields, value)
            case = self.variants.case(with_what_goes(self.variants.what_if.spec, self.facts, new))
            self._last = value, case
        what_if, changes = self._last[1]
        return what_if, changes, what_if.view.changed(changes)


def _counted(outcomes: Sequence[Outcome]) -> int:
    """What some results count for."""
    return sum(RESTING_ON_MANY if outcome.reads.shared else 1 for outcome in outcomes)


def leaves_to_a_person(rule: Rule, what_if: WhatIf, changes: Changes, outcomes: Sequence[Outcome]) -> bool:
    """Whether a rule passes some part with some changes, but not everywhere inside the tolerances.

    `outcomes` are what it leads to with the changes.
    """
    return not all(
        stays_a_pass(what_if, what_if.worded(rule, outcome), changes)
        for outcome, finding in zip(outcomes, what_if.judged(rule, outcomes), strict=True)
        if finding.kind == "pass" and what_if.rests_on_tolerances(outcome, changes)
    )


def _fails(finding: Finding) -> bool:
    """Whether a value is beyond a limit: also where only a person may call it an error, for nobody chooses that."""
    beyond = finding.margin is not None and finding.margin < 0
    return finding.kind == "fail" or (finding.kind == "review" and beyond)


def _cannot_judge(finding: Finding) -> bool:
    return finding.kind == "review" and finding.found is None and finding.limit is None
