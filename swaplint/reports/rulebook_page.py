"""What the rulebook says of a rule: all that it declares, and what it turns out to read when it is run.

The inputs and quantities are found by running the rule on the sound spec and on its own examples, so that a branch
that the sound spec does not take is listed too.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from swaplint.build.view import View
from swaplint.declare.quantities import Quantity
from swaplint.declare.rule import Rule
from swaplint.declare.silence import Silence
from swaplint.host.packs import LoadedPack, RuleBase
from swaplint.host.problems import Problem
from swaplint.inspecting.running import RuleBroke, run_rule
from swaplint.inspecting.ways import Way, measured_for
from swaplint.reports.values import indicated, series_sizes, size_words
from swaplint.spec.facts import FieldFacts, number_text
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.shape import facts_at, pattern_at
from swaplint.spec.systems import SYSTEMS
from swaplint.units.showing import SHOWING


@dataclass(frozen=True, slots=True)
class FieldEntry:
    """A field as the rulebook names it: `*` stands for a part's name, `[]` for an item of a list."""

    path: str
    facts: FieldFacts
    estimates: tuple[Way, ...] = ()
    """What stands in for it where it is not stated, each with what that is worked out from."""


@dataclass(slots=True)
class Page:
    """One rule, whole."""

    pack: LoadedPack
    rule: Rule
    asked: str
    """The id that was asked for: the rule's own, or one that it had before."""
    adjust: list[FieldEntry] = field(default_factory=list)
    inputs: list[FieldEntry] = field(default_factory=list)
    quantities: list[Quantity[Any]] = field(default_factory=list)
    """What is used before what uses it."""
    silence: list[Silence] = field(default_factory=list)
    """What the rule and its quantities say of fields that they do without."""
    problems: list[Problem] = field(default_factory=list)


def page_of(base: RuleBase, pack: LoadedPack, rule: Rule, asked: str, specs: Iterable[LoadedSpec]) -> Page:
    """The page of a rule, its inputs and quantities found by running it on some specs."""
    page = Page(pack, rule, asked)
    for path in rule.adjust:
        facts = facts_at(base.model, path)
        if facts is not None:
            page.adjust.append(FieldEntry(path, facts))
    inputs: dict[str, FieldFacts] = {}
    used: dict[str, None] = {}
    for spec in specs:
        try:
            outcomes = run_rule(rule, View(spec.build))
        except RuleBroke as broke:
            what = f"{broke.what}; its page may lack inputs and quantities"
            page.problems.append(Problem(what, "rule", pack.name, rule.id, broke.file, broke.line))
            break
        for outcome in outcomes:
            used.update(outcome.reads.quantities)
            for path in outcome.reads.fields:
                pattern, member = pattern_at(base.model, path)
                if member is not None and member.facts is not None:
                    inputs[pattern] = member.facts
    page.inputs = [FieldEntry(path, facts, _estimates(base, path)) for path, facts in inputs.items()]
    listed = {quantity.id: quantity for _, quantity in base.quantities}
    page.quantities = [listed[id] for id in used if id in listed]
    page.silence = [rule.silence, *(quantity.silence for quantity in page.quantities)]
    return page


def _estimates(base: RuleBase, path: str) -> tuple[Way, ...]:
    found = base.model.estimates.get(path, ())
    return tuple(Way(estimate, tuple(measured_for(base.model, estimate))) for estimate in found)


def by_system(base: RuleBase) -> list[tuple[str, list[tuple[LoadedPack, Rule]]]]:
    """The rules by system, in the order of a report."""
    groups = [(name, [(pack, rule) for pack, rule in base.rules if rule.system == name]) for name in SYSTEMS]
    return [(name, rules) for name, rules in groups if rules]


def pack_words(pack: LoadedPack) -> str:
    """A pack with its version, and whether it came with the tool."""
    return f"{pack.name} {pack.version}" + ("" if pack.built_in else ", not one of the built-in packs")


def example_words(value: object) -> str:
    """The value of an example's edit as TOML writes it."""
    if value is None:
        return "not stated"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {example_words(inner)}" for key, inner in value.items()) + " }"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(example_words(inner) for inner in value) + "]"
    return str(value)


def choice_words(entry: FieldEntry) -> str:
    """What there is to choose from: a standard series, a few words, or any value."""
    facts = entry.facts
    unit = f" {facts.unit}" if facts.unit else ""
    if facts.kind_name and SHOWING.inch_pound:
        return _in_inch_pound(entry)
    if facts.series:
        return f"standard series {', '.join(number_text(size) for size in facts.series)}{unit}"
    if facts.options:
        return f"one of {', '.join(facts.options)}"
    if facts.plausible is not None:
        low, high = (number_text(end) for end in facts.plausible)
        return f"any value; on real vehicles {low} to {high}{unit}"
    return "any value"


def _in_inch_pound(entry: FieldEntry) -> str:
    """What there is to choose from, where each number is put into another unit."""
    facts = entry.facts
    if facts.series:
        return f"standard series {', '.join(size_words(size, facts, entry.path) for size in series_sizes(facts))}"
    bounds = facts.plausible_si()
    if bounds is None:
        return "any value"
    low, high = (_indicated(end, facts, entry.path) for end in bounds)
    return f"any value; on real vehicles {low} to {high}"


def _indicated(value: float, facts: FieldFacts, about: str) -> str:
    return indicated(value, facts.kind_name, facts.unit, about)


def typical_words(entry: FieldEntry) -> str:
    """A field's typical value as a person writes it; in inch-pound units, as one reads it."""
    facts = entry.facts
    if SHOWING.inch_pound and facts.kind_name:
        value = float(facts.typical_value())
        in_series = facts.series and facts.typical in facts.series
        return (size_words if in_series else _indicated)(value, facts, entry.path)
    return entry.facts.example(entry.path).strip('"')
