"""`size`: which values of one field pass, what binds at each end, and what a change would break."""

from __future__ import annotations

from dataclasses import dataclass, field

from swaplint.results import Finding, Inspection
from swaplint.rule import Rule
from swaplint.solving.tolerance import judged_inside
from swaplint.solving.what_if import (
    WhatIf,
    candidates,
    facts_for,
    fields_like,
    fields_read,
    matches,
    rules_reading,
    same,
    stated_as,
    written_shortly,
)
from swaplint.spec.fields import FieldFacts, Stated

LOOKED_AT = 240
"""How many values of a continuous field are looked at over its plausible range, before closing in on the ends."""
CLOSING_IN = 30
"""How often the stretch between failing and passing is halved: far beyond the digits that a person writes."""


@dataclass(frozen=True, slots=True)
class Window:
    """A stretch of values that pass, in SI, and the rules that end it; None where the plausible range does.

    Values at which a rule cannot judge, because its formula does not hold there, do not count as passing.
    """

    low: float
    high: float
    bound_low: str | None
    bound_high: str | None


@dataclass(frozen=True, slots=True)
class Choice:
    """One value, tried on the whole build."""

    value: Stated
    passes: bool
    fails: tuple[str, ...]
    reviews: tuple[str, ...]
    worst_margin: float | None


@dataclass(slots=True)
class Sizing:
    """What `size` found about one field."""

    pattern: str
    fields: tuple[str, ...]
    facts: FieldFacts
    now: Stated | None
    rules: list[str]
    """The rules that read the field."""
    set_aside: list[str] = field(default_factory=list)
    """Rules among them that another field must mend: they fail at every value, or they fail now and this field is not
    one that their author names for making them pass."""
    windows: list[Window] = field(default_factory=list)
    """Where no rule that reads the field fails but those set aside."""
    strict_windows: list[Window] = field(default_factory=list)
    """Where no rule that reads the field fails at all."""
    by_rule: list[tuple[str, list[Window]]] = field(default_factory=list)
    """Where each rule passes by itself, for those that do not pass everywhere."""
    choices: list[Choice] = field(default_factory=list)
    best: Stated | None = None
    breaks: list[str] = field(default_factory=list)
    """Rules that do not fail now and would with the best value."""


class NotSizable(ValueError):
    """A field that has no values to choose from."""


def size(what_if: WhatIf, inspection: Inspection, pattern: str, among: list[Stated] | None = None) -> Sizing:
    """Find the values of a field at which no rule that reads it fails. Raises `NotSizable`."""
    facts = facts_for(what_if.base, pattern)
    if facts is None:
        raise NotSizable(f"{pattern} is not a field with a value of its own")
    fields = fields_read(fields_like(pattern, what_if.spec), inspection.findings)
    if not fields:
        raise NotSizable(f"the spec has no part that {pattern} names")
    now = next((s for f in fields if (s := what_if.spec.stated(f)) is not None), None)
    offered = among or candidates(facts, what_if.spec)
    if not offered and facts.plausible_si() is None:
        raise NotSizable(f"{pattern} has no series and no plausible range; name values with --among")
    if not offered and facts.type not in ("measure", "number"):
        raise NotSizable(f"{pattern} takes {facts.example()} and the like; name values with --among")
    rules = _rules_that_read(what_if, inspection, fields, offered or _ends(facts))
    sizing = Sizing(pattern, fields, facts, now, [rule.id for rule in rules])
    tried = _Trial(what_if, fields, rules)
    if offered:
        _choose(sizing, tried, offered)
    else:
        _open_windows(sizing, tried, facts)
    _what_breaks(sizing, tried)
    return sizing


def _ends(facts: FieldFacts) -> list[Stated]:
    plausible = facts.plausible_si()
    assert plausible is not None
    return [stated_as(0.5 * (plausible[0] + plausible[1]), facts)]


def _rules_that_read(
    what_if: WhatIf, inspection: Inspection, fields: tuple[str, ...], values: list[Stated]
) -> list[Rule]:
    """Rules that read the field as stated, or that would once it is stated."""
    ids = set(rules_reading(fields, inspection.findings))
    if any(what_if.spec.stated(f) is None for f in fields):
        view = what_if.view.changed(dict.fromkeys(fields, values[0]))
        for _, rule in what_if.base.rules:
            if rule.id not in ids and any(not set(fields).isdisjoint(reads) for reads in what_if.reads_on(rule, view)):
                ids.add(rule.id)
    return [rule for _, rule in what_if.base.rules if rule.id in ids]


class _Trial:
    """The rules that read a field, run for one value after the other."""

    def __init__(self, what_if: WhatIf, fields: tuple[str, ...], rules: list[Rule]) -> None:
        self.what_if, self.fields, self.rules = what_if, fields, rules
        self._seen: dict[object, list[Finding]] = {}
        self.judging: set[str] = {rule.id for rule in rules}
        """The rules that judge at some value at least: where such a rule cannot, a value does not pass."""
        self.failing_now = {
            f.rule.id for rule in rules for f in what_if.findings_on(rule, what_if.view) if f.kind == "fail"
        }

    def findings(self, value: Stated) -> list[Finding]:
        """What the rules find with a value, as stated: tolerances make no fail of a pass."""
        key = value.value
        if key not in self._seen:
            view = self.what_if.view.changed(dict.fromkeys(self.fields, value))
            self._seen[key] = [f for rule in self.rules for f in self.what_if.findings_on(rule, view)]
        return self._seen[key]

    def judged(self, value: Stated) -> list[Finding]:
        """What the rules find with a value when tolerances are carried."""
        changes: dict[str, Stated | None] = dict.fromkeys(self.fields, value)
        return [
            judged_inside(self.what_if, finding, changes) if finding.kind == "pass" else finding
            for finding in self.findings(value)
        ]

    def fails(self, value: Stated) -> list[str]:
        """The rules that fail with a value, errors first."""
        failing = sorted((f for f in self.findings(value) if f.kind == "fail"), key=lambda f: f.sort_key)
        return list(dict.fromkeys(f.rule.id for f in failing))

    def beyond(self, value: Stated) -> set[str]:
        """The rules that cannot judge a value: their formula does not hold there."""
        return {f.rule.id for f in self.findings(value) if f.kind == "review" and f.found is None and f.limit is None}

    def not_passing(self, value: Stated) -> list[str]:
        """The rules that fail with a value, errors first, and those that cannot judge it and can judge others."""
        return list(dict.fromkeys([*self.fails(value), *sorted(self.beyond(value) & self.judging)]))

    def choice(self, value: Stated) -> Choice:
        """A value with all that it passes and fails."""
        findings = self.judged(value)
        margins = [f.margin for f in findings if f.margin is not None]
        fails = self.fails(value)
        return Choice(
            value,
            not fails,
            tuple(fails),
            tuple(sorted({f.rule.id for f in findings if f.kind == "review"})),
            min(margins) if margins else None,
        )


def _choose(sizing: Sizing, tried: _Trial, offered: list[Stated]) -> None:
    sizing.choices = [tried.choice(value) for value in offered]
    sizing.set_aside = _set_aside(sizing, tried, [set(c.fails) for c in sizing.choices])
    passing = [c for c in sizing.choices if c.passes] or [
        c for c in sizing.choices if set(c.fails) <= set(sizing.set_aside)
    ]
    # Of the sizes that pass, the first of those that leave least to a person.
    sizing.best = min(passing, key=lambda c: len(c.reviews)).value if passing else None


def _set_aside(sizing: Sizing, tried: _Trial, fails: list[set[str]]) -> list[str]:
    chosen_here = {rule.id for rule in tried.rules if any(_names(rule, field) for field in sizing.fields)}
    return sorted(set.intersection(*fails) | (tried.failing_now - chosen_here))


def _names(rule: Rule, field: str) -> bool:
    return any(matches(pattern, field) for pattern in rule.adjust)


def _open_windows(sizing: Sizing, tried: _Trial, facts: FieldFacts) -> None:
    plausible = facts.plausible_si()
    assert plausible is not None
    low, high = plausible
    values = [low + (high - low) * n / LOOKED_AT for n in range(LOOKED_AT + 1)]
    if sizing.now is not None and low < float(sizing.now.value) < high:
        values = sorted({*values, float(sizing.now.value)})
    tried.judging = {id for id in tried.judging if not all(id in tried.beyond(Stated(v)) for v in values)}
    fails = [set(tried.not_passing(Stated(v))) for v in values]
    sizing.set_aside = _set_aside(sizing, tried, fails)
    sizing.windows = _windows(tried, values, fails, set(sizing.set_aside))
    sizing.strict_windows = _windows(tried, values, fails, set()) if sizing.set_aside else sizing.windows
    for rule in tried.rules:
        if any(rule.id in failing for failing in fails):
            alone = _Trial(tried.what_if, tried.fields, [rule])
            by_itself = _windows(alone, values, [failing & {rule.id} for failing in fails], set())
            sizing.by_rule.append((rule.id, by_itself))
    sizing.best = _best(sizing, tried, facts)


def _windows(tried: _Trial, values: list[float], fails: list[set[str]], ignored: set[str]) -> list[Window]:
    out: list[Window] = []
    start: int | None = None
    for index in range(len(values) + 1):
        passes = index < len(values) and not fails[index] - ignored
        if passes and start is None:
            start = index
        elif not passes and start is not None:
            out.append(_window(tried, values, start, index - 1, ignored))
            start = None
    return out


def _window(tried: _Trial, values: list[float], first: int, last: int, ignored: set[str]) -> Window:
    low, high = values[first], values[last]
    bound_low = bound_high = None
    if first > 0:
        low, bound_low = _edge(tried, values[first - 1], low, ignored)
    if last < len(values) - 1:
        high, bound_high = _edge(tried, values[last + 1], high, ignored)
    return Window(low, high, bound_low, bound_high)


def _edge(tried: _Trial, failing: float, passing: float, ignored: set[str]) -> tuple[float, str | None]:
    """Close in on the value where passing ends, and name the rule that ends it."""
    for _ in range(CLOSING_IN):
        middle = 0.5 * (failing + passing)
        if set(tried.not_passing(Stated(middle))) - ignored:
            failing = middle
        else:
            passing = middle
    binding = [id for id in tried.not_passing(Stated(failing)) if id not in ignored]
    return passing, binding[0] if binding else None


def _best(sizing: Sizing, tried: _Trial, facts: FieldFacts) -> Stated | None:
    """The present value if it passes; else one of the nearest window.

    Between two rules that bind, the value with the most margin all round; where only one end binds, the value nearest
    to it, because the margin only grows towards values that nobody wants.
    """
    windows = sizing.windows
    if not windows:
        return None
    if sizing.now is not None:
        here = float(sizing.now.value)
        if any(w.low <= here <= w.high for w in windows):
            return sizing.now
        window = min(windows, key=lambda w: min(abs(w.low - here), abs(w.high - here)))
    else:
        window = max(windows, key=lambda w: w.high - w.low)
    steps = [window.low + (window.high - window.low) * n / 40 for n in range(41)]
    if window.bound_low and window.bound_high:
        choices = [tried.choice(stated_as(v, facts)) for v in steps]
        best = max(
            choices,
            key=lambda c: (-len(c.fails), -len(c.reviews), c.worst_margin if c.worst_margin is not None else -9.0),
        )
        return best.value
    if window.bound_high:
        steps.reverse()
    choices = [tried.choice(Stated(v)) for v in steps]
    first = min(range(len(steps)), key=lambda n: (len(choices[n].fails), len(choices[n].reviews)))
    outside = steps[first] + (steps[0] - steps[1]) * 1e-3
    allowed = set(sizing.set_aside)

    def passes(value: Stated) -> bool:
        return set(tried.not_passing(value)) <= allowed and window.low <= float(value.value) <= window.high

    return written_shortly(steps[first], outside, facts, passes)


def _what_breaks(sizing: Sizing, tried: _Trial) -> None:
    if sizing.best is None or same(sizing.best, sizing.now):
        return
    sizing.breaks = [id for id in tried.fails(sizing.best) if id not in tried.failing_now]
