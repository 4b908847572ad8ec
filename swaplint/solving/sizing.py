"""`size`: which values of one field pass, what binds at each end, and what a change would break."""

from __future__ import annotations

from dataclasses import dataclass, field

from swaplint.declare.rule import Rule
from swaplint.host.watch import many_limits
from swaplint.inspecting.results import Inspection
from swaplint.solving.trial import Choice, Trial
from swaplint.solving.variants import Variants, names_a_sheet
from swaplint.solving.what_if import (
    WhatIf,
    candidates,
    facts_for,
    fields_to_change,
    matches,
    same,
    stated_as,
    written_shortly,
)
from swaplint.solving.windows import Range, Window
from swaplint.spec.facts import FieldFacts, Stated
from swaplint.units.showing import telling_of

STEPS = 40
"""Into how many steps a window is cut to look for its best value."""


@dataclass(slots=True)
class Sizing:
    """What `size` found about one field."""

    pattern: str
    fields: tuple[str, ...]
    facts: FieldFacts
    now: Stated | None
    rules: list[str]
    """The rules that read the field."""
    variants: Variants
    """What can be asked with other values, and other data sheets."""
    set_aside: list[str] = field(default_factory=list)
    """Rules among them that another field must mend: they fail at every value, or they fail now and this field is not
    one that their author names for making them pass."""
    windows: list[Window] = field(default_factory=list)
    """Where no rule that reads the field fails but those set aside."""
    strict_windows: list[Window] = field(default_factory=list)
    """Where no rule that reads the field fails at all."""
    by_rule: list[tuple[str, list[Window]]] = field(default_factory=list)
    """Where each rule passes by itself, for those that this field decides somewhere."""
    choices: list[Choice] = field(default_factory=list)
    best: Stated | None = None
    reviews: list[str] = field(default_factory=list)
    """Rules that leave the best value to a person, as stated or within tolerances."""
    breaks: list[str] = field(default_factory=list)
    """Rules that do not fail now and would with the best value."""
    stated_anyway: list[str] = field(default_factory=list)
    """Where data sheets are compared: the fields that the spec itself states beside them."""
    each_value: int = 0
    """How many results there are about one value."""
    looked_at: int = 0
    """How many values of a continuous field were looked at over its plausible range."""
    cut_short: bool = False
    """Whether not all was looked at that would have been, had less hung on the field."""


class NotSizable(ValueError):
    """A field that has no values to choose from."""


@many_limits()
def size(what_if: WhatIf, inspection: Inspection, pattern: str, among: list[Stated] | None = None) -> Sizing:
    """Find the values of a field at which no rule that reads it fails. Raises `NotSizable`, `NoPlace` or `BadSheet`."""
    variants = Variants(what_if)
    facts = facts_for(what_if.base, pattern)
    if facts is None:
        raise NotSizable(f"{pattern} is not a field with a value of its own")
    fields = fields_to_change(pattern, what_if.spec, inspection.findings)
    now = next((s for f in fields if (s := what_if.spec.stated(f)) is not None), None)
    offered = among or candidates(facts, what_if.spec)
    if not offered and names_a_sheet(what_if.base.model, pattern):
        raise NotSizable(f"{pattern} names a data sheet; say with --among which to compare, like --among a.toml,b.toml")
    if not offered and facts.plausible_si() is None:
        raise NotSizable(f"{pattern} has no series and no plausible range; name values with --among")
    if not offered and facts.type not in ("measure", "number"):
        raise NotSizable(f"{pattern} takes {facts.example()} and the like; name values with --among")
    asked = offered if names_a_sheet(what_if.base.model, pattern) else [Stated(0.0)]
    touched = set[str]().union(*(variants.rules_touched(dict.fromkeys(fields, value)) for value in asked))
    touched.update(inspection.broken)  # nobody knows what these would have read
    rules = [rule for _, rule in what_if.base.rules if rule.id in touched]
    sizing = Sizing(pattern, fields, facts, now, [rule.id for rule in rules], variants)
    if asked is offered:
        sizing.stated_anyway = [path for sheet in fields for path in variants.stated_anyway(sheet)]
    trial = Trial(variants, fields, facts, rules)
    with telling_of(pattern):
        if offered:
            _choose(sizing, trial, offered)
        else:
            _open_windows(sizing, trial, facts)
    _what_breaks(sizing, trial)
    sizing.reviews = list(trial.reviews(sizing.best)) if sizing.best is not None else []
    sizing.each_value, sizing.cut_short = trial.each_value, sizing.cut_short or trial.spent
    return sizing


def _choose(sizing: Sizing, trial: Trial, offered: list[Stated]) -> None:
    sizing.choices = [trial.choice(value) for value in offered]
    sizing.set_aside = _set_aside(sizing, trial, [set(c.fails) for c in sizing.choices])
    passing = [c for c in sizing.choices if c.passes] or [
        c for c in sizing.choices if set(c.fails) <= set(sizing.set_aside) and not c.broken
    ]
    # Of the sizes that pass, the first of those that leave least to a person, and least open.
    sizing.best = min(passing, key=lambda c: len(c.reviews) + len(c.opens)).value if passing else None


def _set_aside(sizing: Sizing, trial: Trial, fails: list[set[str]], *, few: bool = False) -> list[str]:
    """The rules that another field must mend. `few`: not so many values were looked at as there are to look at."""
    sheets = any(names_a_sheet(trial.variants.what_if.base.model, field) for field in sizing.fields)
    chosen_here = {rule.id for rule in trial.rules if sheets or _is_named(rule, sizing)}
    everywhere = set.intersection(*fails)
    if few:
        everywhere -= chosen_here  # it may pass where nobody looked
    return sorted(everywhere | (trial.failing_now - chosen_here))


def _is_named(rule: Rule, sizing: Sizing) -> bool:
    """Whether the author of a rule names this field for making it pass."""
    return any(matches(pattern, field) for pattern in rule.adjust for field in sizing.fields)


def _open_windows(sizing: Sizing, trial: Trial, facts: FieldFacts) -> None:
    plausible = facts.plausible_si()
    assert plausible is not None
    over = Range(trial, *plausible, sizing.now)
    sizing.set_aside = _set_aside(sizing, trial, over.stopped, few=over.spent)
    sizing.windows = over.windows(sizing.set_aside)
    sizing.strict_windows = over.windows() if sizing.set_aside else sizing.windows
    binding = set().union(*over.stopped)
    # A rule that fails wherever this field is set, and that another field must mend, is set aside and no more.
    nowhere = {id for id in sizing.set_aside if all(id in stopping for stopping in over.stopped)}
    binding -= {rule.id for rule in trial.rules if rule.id in nowhere and not _is_named(rule, sizing)}
    sizing.by_rule = [(rule.id, over.windows(only=rule.id)) for rule in trial.rules if rule.id in binding]
    sizing.best = _best(sizing, trial, over, facts)
    sizing.looked_at, sizing.cut_short = len(over.asked), sizing.cut_short or over.spent


def _best(sizing: Sizing, trial: Trial, over: Range, facts: FieldFacts) -> Stated | None:
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
    steps = [window.low + (window.high - window.low) * n / STEPS for n in range(STEPS + 1)]
    if trial.affords(len(steps)) < len(steps):
        sizing.cut_short = True
        inside = [value for value in over.values if window.low <= value <= window.high]
        steps = [value for value in inside if trial.was_asked(Stated(value))] or inside or [window.low]
    if window.bound_low and window.bound_high:
        return _widest([stated_as(value, facts) for value in steps], trial)
    if window.bound_high:
        steps.reverse()
    first = _least_to_mind([Stated(value) for value in steps], trial)
    if sizing.cut_short:
        return _as_printed(first, over, trial, facts)
    outside = float(first.value) + (steps[0] - steps[1]) * 1e-3
    allowed = set(sizing.set_aside)

    def passes(value: Stated) -> bool:
        stopping = over.not_passing(float(value.value), trial.rules)
        return allowed.issuperset(stopping) and window.low <= float(value.value) <= window.high

    return written_shortly(float(first.value), outside, facts, passes) or stated_as(float(first.value), facts)


def _as_printed(value: Stated, over: Range, trial: Trial, facts: FieldFacts) -> Stated:
    """A value as it is written, where that passes as much as the value itself."""
    written = stated_as(float(value.value), facts)
    stopped = set(over.not_passing(float(value.value), trial.rules))
    return written if stopped.issuperset(over.not_passing(float(written.value), trial.rules)) else value


def _widest(values: list[Stated], trial: Trial) -> Stated:
    """The value with the most margin all round, among those that fail least and leave least to a person."""
    fails = [len(trial.fails(value)) for value in values]
    margins = [trial.worst_margin(value) for value in values]
    ordered = sorted(
        (n for n in range(len(values)) if fails[n] == min(fails)),
        key=lambda n: -(margin if (margin := margins[n]) is not None else -9.0),
    )
    return _least_to_mind([values[n] for n in ordered], trial)


def _least_to_mind(values: list[Stated], trial: Trial) -> Stated:
    """The first value of those that fail least and leave least to a person."""
    best, least = values[0], (1_000_000, 0)
    for value in values:
        fails = len(trial.fails(value))
        if (fails, 0) >= least:
            continue
        counted = (fails, len(trial.reviews(value, least[1] if fails == least[0] else None)))
        if counted < least:
            best, least = value, counted
        if least == (0, 0):
            break
    return best


def _what_breaks(sizing: Sizing, trial: Trial) -> None:
    if sizing.best is None or same(sizing.best, sizing.now):
        return
    sizing.breaks = [id for id in trial.fails(sizing.best) if id not in trial.failing_now]
