"""Asking a rule "what if": the same rule on a view in which some fields have other values."""

from __future__ import annotations

import functools
import math
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from swaplint.build.nodes import NoLimit, NotFitted, Unknown
from swaplint.build.reads import Reads
from swaplint.build.stated import value_at
from swaplint.build.view import View
from swaplint.declare.rule import Rule
from swaplint.host.packs import RuleBase
from swaplint.inspecting.findings import finding_of, judgement_of
from swaplint.inspecting.outcomes import Outcome, Outcomes, matching
from swaplint.inspecting.results import Finding
from swaplint.inspecting.running import RuleBroke, run_again, run_rule
from swaplint.spec.facts import FieldFacts, Stated, number_text
from swaplint.spec.fields import Part, Section
from swaplint.spec.job import Stage
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.paths import path_key, path_text, without_conditions
from swaplint.spec.schema import example_of
from swaplint.spec.shape import Member, facts_at, members, pattern_at
from swaplint.units.output import from_unit_shown, in_unit_shown, written_as
from swaplint.units.showing import SHOWING

Changes = Mapping[str, Stated | None]

ANYTHING = Reads()
ANYTHING.anything = True
"""What no answer rests on."""
_ANY_VALUE = Stated(0.0)
"""Stands for other values of a field, where nothing reads them."""

MOST_NUMBERS = 256
"""How many whole numbers are tried through: those of bolts or addresses, not those of parameters."""


@dataclass(frozen=True, slots=True)
class WhatIf:
    """A spec, the rules and the stage: all that a question needs."""

    base: RuleBase
    spec: LoadedSpec
    stage: Stage
    view: View
    """The view as stated; what it has computed is used again where a change does not touch it."""

    as_stated: dict[str, Outcomes] = field(default_factory=dict)
    """What rules led to as stated, by id, as far as they were asked."""
    _every_rule: list[Rule] = field(default_factory=list, init=False)

    def findings_on(self, rule: Rule, view: View) -> list[Finding]:
        """What a rule finds on a view. Empty where the rule breaks."""
        return [self.worded(rule, outcome) for outcome in self.outcomes(rule, view)]

    def judgements_on(self, rule: Rule, view: View) -> list[Finding]:
        """The same without the words and the fields that they rest on, for questions asked a hundred times over."""
        return self.judged(rule, self.outcomes(rule, view))

    def judged(self, rule: Rule, outcomes: Iterable[Outcome]) -> list[Finding]:
        """Outcomes of a rule as findings without words."""
        return [judgement_of(rule, outcome, self.stage) for outcome in outcomes]

    def worded(self, rule: Rule, outcome: Outcome) -> Finding:
        """An outcome of a rule as a finding with its words and with the fields that it rests on."""
        return finding_of(rule, outcome, self.spec, self.stage)

    def rests_on_tolerances(self, outcome: Outcome, changes: Changes) -> bool:
        """Whether something that an outcome with some changes rests on may be otherwise."""
        if outcome.reads.estimates or any(new is not None and new.tol for new in changes.values()):
            return True
        return bool(self.spec.toleranced_among(outcome.reads.fields))

    def rules_touched(self, fields: Iterable[str]) -> list[Rule]:
        """The rules that could say something else if some fields had other values, whichever: those that read one.

        A rule that reads none of them as the build stands sees no difference.
        """
        return self.rules_touched_by(self.view.changed(dict.fromkeys(fields, _ANY_VALUE)))

    def rules_touched_by(self, view: View) -> list[Rule]:
        """The rules that read something of the build as stated that could read differently on a view.

        What was measured on the vehicle as it stands says nothing about one that is built otherwise.
        """
        measured = any(path.startswith("measured.") for path in view.changes)
        rules = [rule for rule in self.rules() if measured or not rule.as_built]
        return [rule for rule in rules if view.touches(self._read_by(rule))]

    def rules(self) -> list[Rule]:
        """Every rule, sorted by id."""
        if not self._every_rule:
            self._every_rule.extend(rule for _, rule in self.base.rules)
        return self._every_rule

    def _read_by(self, rule: Rule) -> Reads:
        """All that a rule read as the build stands, whatever part and demand it was for."""
        return self.before(rule).reads

    def finding(self, of: Finding, changes: Changes) -> Finding | None:
        """What a finding becomes with changes; None where its rule has nothing more to say of it."""
        outcome = self._outcome(of, changes)
        return None if outcome is None else finding_of(of.rule, outcome, self.spec, self.stage)

    def findings_of_part(self, of: Finding, changes: Changes) -> list[Finding]:
        """All that a finding's rule has to say of its part with changes, in any demand."""
        outcomes = self._outcomes_of_part(of, changes)
        return [finding_of(of.rule, one, self.spec, self.stage) for one in outcomes if one.part == of.part]

    def judgement(self, of: Finding, changes: Changes, reads: Reads | None = None) -> Finding | None:
        """The same without words. What was read is added to `reads`: all that the answer rests on."""
        outcomes = self._outcomes_of_part(of, changes, of.demand)
        outcome = matching(outcomes, of.part, of.demand)
        if reads is not None:
            # Where it comes to several demands now, the worst of them is meant: that hangs on all.
            hangs_on = [] if outcome is None else [outcome] if of.demand else outcomes
            for one in (one.reads for one in hangs_on) if hangs_on else (ANYTHING,):
                reads.add(one)
        return None if outcome is None else judgement_of(of.rule, outcome, self.stage)

    def estimated(self, path: str, changes: Changes, reads: Reads | None = None) -> float | None:
        """What a field is estimated as with changes, in SI; None where it is not. What it rests on goes to `reads`."""
        view, own = self.view.changed(changes), Reads()
        view.stack.append(own)
        try:
            value_at(view.build, path)
        except (Unknown, NotFitted, NoLimit, ValueError):
            pass
        finally:
            view.stack.pop()
        if reads is not None:
            reads.add(own)
        found = own.estimates.get(path)
        return None if found is None else float(found.value)

    def judgement_of_part(self, of: Finding, changes: Changes) -> Finding | None:
        """The same for what only looks for a pass: what another demand of the rule says, where that fails with changes.

        A demand that the rule makes no more passes where all that it still demands of the part does. A fail is not
        asked which fallback decides it.
        """
        own = matching(self._outcomes_of_part(of, changes, of.demand, over_practice=False), of.part, of.demand)
        if not of.demand or (own is not None and (own.verdict is None or own.verdict.kind != "pass")):
            # There are no others, or what they say would not make it a pass.
            return None if own is None else judgement_of(of.rule, own, self.stage)
        outcomes = self._outcomes_of_part(of, changes, over_practice=False)
        failing = {o.demand for o in self.before(of.rule) if o.part == of.part and _fails(o)}
        for outcome in outcomes:
            if outcome.demand != of.demand and _fails(outcome) and outcome.demand not in failing:
                return judgement_of(of.rule, outcome, self.stage)
        found = matching(outcomes, of.part, of.demand)
        if found is None and all(o.verdict is not None and o.verdict.kind in _FINE for o in outcomes):
            found = next((o for o in outcomes if o.part == of.part), None)
        return None if found is None else judgement_of(of.rule, found, self.stage)

    def _outcome(self, of: Finding, changes: Changes) -> Outcome | None:
        return matching(self._outcomes_of_part(of, changes, of.demand), of.part, of.demand)

    def _outcomes_of_part(
        self, of: Finding, changes: Changes, demand: str = "", *, over_practice: bool = True
    ) -> list[Outcome]:
        view = self.view.changed(changes)
        try:
            return run_rule(of.rule, view, only=(of.part,), demand=demand, over_practice=over_practice)
        except RuleBroke:
            return []

    def outcomes(self, rule: Rule, view: View) -> Outcomes:
        """What a rule leads to on a view: what stays as stated is the same outcome. Empty where the rule breaks."""
        if view is self.view:
            return self.before(rule)
        try:
            return run_again(rule, view, self.before(rule) if view.unchanged is self.view else Outcomes())
        except RuleBroke:
            return Outcomes()

    def before(self, rule: Rule) -> Outcomes:
        """What a rule leads to as stated. Empty where it breaks."""
        if rule.id not in self.as_stated:
            try:
                self.as_stated[rule.id] = run_rule(rule, self.view)
            except RuleBroke:
                self.as_stated[rule.id] = Outcomes()
        return self.as_stated[rule.id]


_FINE = ("pass", "notApplicable", "informational")


def _fails(outcome: Outcome) -> bool:
    return outcome.verdict is not None and outcome.verdict.kind == "fail"


# -- fields that are changed ------------------------------------------------------------------------------------
def fields_like(pattern: str, spec: LoadedSpec, part: str = "") -> tuple[str, ...]:
    """The fields that a pattern names: `*` is the part in question, or every part that the spec has.

    `*[role=starter]` is every part whose field `role` is stated as `starter`. A field that the spec does not state is
    named, too, where its part exists: it may be given a value.
    """
    if "*" not in pattern:
        return (pattern,)
    head, _, tail = pattern.partition(".*")
    condition = re.match(r"\[([a-z_]+)=([^\]=]+)\]", tail)
    inside = part[len(head) + 1 :].split(".", 1)[0].split(" ", 1)[0] if part.startswith(head + ".") else ""
    names = [inside] if inside else part_names(spec, head)
    if condition is not None:
        key, wanted = condition.groups()
        tail = tail[condition.end() :]
        stated = {name: spec.stated(f"{head}.{name}.{key}") for name in names}
        names = [name for name in names if (found := stated[name]) is not None and str(found.value) == wanted]
    return tuple(
        field for name in names for field in fields_like(f"{head}.{name}{tail}", spec, part) if "*" not in field
    )


def fields_read(fields: tuple[str, ...], findings: Iterable[Finding]) -> tuple[str, ...]:
    """Those of the fields alike that some finding reads or asks for; all of them where none does.

    An axle that is not driven has a ratio, but no rule asks for it: a change of every axle's ratio leaves it alone.
    """
    if len(fields) < 2:
        return fields
    read = {path for f in findings for path in (*f.inputs, *f.unknown, *f.optional)}
    return tuple(field for field in fields if field in read) or fields


class NoPlace(ValueError):
    """A field that the spec has no place for, with a sentence that says why."""


def fields_to_change(pattern: str, spec: LoadedSpec, findings: Iterable[Finding]) -> tuple[str, ...]:
    """The fields that a pattern names and that a value can be given to. Raises `NoPlace` where there are none."""
    fields = fields_read(fields_like(pattern, spec), findings)
    wrong = {field: no_place(field, spec) for field in fields}
    if not fields or all(wrong.values()):
        raise NoPlace(next(iter(wrong.values()), f"the spec has no part that {pattern} names"))
    return tuple(field for field in fields if not wrong[field])


def no_place(path: str, spec: LoadedSpec) -> str:
    """Why the spec has no place for a field, as a sentence; empty where it has one.

    A part that has but one place need not be stated yet. Named parts and entries of lists must be there.
    """
    node: Any = spec.build
    shape: type[Section] | None = type(spec.build)
    member: Member | None = None
    walked: tuple[str | int, ...] = ()
    for key in path_key(path):
        if member is not None and member.role in ("parts", "items", "plain-list"):
            names = list(node) if isinstance(node, Mapping) else list(range(len(node or ())))
            if key not in names:
                return _lacks(path_text(walked), key, names)
            node, member = node[key], None
        else:
            if shape is None:
                return f"{path_text(walked)} is one value and no list: leave out what follows its name"
            member = members(shape)[str(key)]
            node, shape = getattr(node, str(key), None), member.model
        walked = (*walked, key)
    is_list = member is not None and member.role == "plain-list"
    return f"{path} is a list: name one of its entries, like {path}[1]" if is_list else ""


def _lacks(collection: str, key: str | int, names: list[Any]) -> str:
    missing = path_text((*path_key(collection), key))
    if not names:
        return f"the spec has no {missing}, for it states no {collection}"
    held = ", ".join(names) if isinstance(key, str) else f"{len(names)} entr{'y' if len(names) == 1 else 'ies'}"
    return f"the spec has no {missing}: {collection} has {held}"


def part_names(spec: LoadedSpec, path: str) -> list[str]:
    """The names of the parts in a table of named parts."""
    node: object = spec.build
    for key in path.split("."):
        node = getattr(node, key, None) if isinstance(node, Section) else None
    return list(node) if isinstance(node, Mapping) else []


def matches(pattern: str, path: str) -> bool:
    """Whether a field path is one that a pattern names."""
    return _named_by(pattern).fullmatch(path) is not None


@functools.lru_cache(maxsize=256)
def _named_by(pattern: str) -> re.Pattern[str]:
    return re.compile(re.escape(without_conditions(pattern)).replace(r"\*", r"[^.\[\]]+"))


def read_value(text: str, facts: FieldFacts) -> Stated:
    """A value as a person writes it on the command line, for one field. Raises `ValueError` with a sentence."""
    text = text.strip().strip("\"'")
    if facts.type in ("number", "count"):
        try:
            return facts.read(int(text) if re.fullmatch(r"[+-]?\d+", text) else float(text))
        except ValueError as error:
            if "could not convert" in str(error):
                raise ValueError(f"'{text}' is not a number, like {facts.example()}") from None
            raise
    if facts.type == "flag":
        if text not in ("true", "false"):
            raise ValueError(f"'{text}' is not true or false")
        return facts.read(text == "true")
    if facts.type == "measure" and re.fullmatch(r"[+-]?[\d.,/]+(e[+-]?\d+)?", text, re.IGNORECASE):
        text = f"{text} {facts.unit}"  # a bare number takes the field's own unit here, as a person at a prompt means it
    return facts.read(text)


def value_in_si(value: float, facts: FieldFacts) -> float:
    """A number in the unit that the field is shown in, as SI."""
    return from_unit_shown(value, facts.kind_name, facts.unit)


def value_shown(value: float, facts: FieldFacts) -> float:
    """An SI number in the unit that the field is shown in."""
    return in_unit_shown(value, facts.kind_name, facts.unit)


def stated_as(value: float, facts: FieldFacts) -> Stated:
    """A number in SI as a value that the spec could state, written in the unit that the field is shown in."""
    shown = float(f"{value_shown(value, facts):.6g}")
    exact = value_in_si(shown, facts)
    if SHOWING.inch_pound and facts.kind is not None:
        written = written_as(exact, facts.kind_name, facts.unit, exact=True)
    else:
        written = f"{number_text(shown)} {facts.unit}".strip()
    return Stated(exact, written=_unmistakable(written, facts))


_THREE_DECIMALS = re.compile(r"[1-9][0-9]{0,2}\.[0-9]{3}(?= )")


def _unmistakable(written: str, facts: FieldFacts) -> str:
    """A value so written that its point cannot be taken for one that parts thousands."""
    found = _THREE_DECIMALS.match(written.lstrip("-"))
    if found is None or facts.type != "measure":
        return written
    try:
        facts.read(written)
    except ValueError:
        number, _, unit = written.partition(" ")
        return f"{number}0 {unit}"
    return written


def short_numbers(value: float, digits: int) -> Iterator[float]:
    """The numbers of so many significant digits next to a value, the one below and the one above."""
    if value == 0:
        return
    step = 10.0 ** (math.floor(math.log10(abs(value))) - digits + 1)
    for rounded in (math.floor(value / step) * step, math.ceil(value / step) * step):
        yield float(f"{rounded:.12g}")


def short_number_between(one: float, other: float, facts: FieldFacts, digits: int) -> Stated | None:
    """The middle one of the numbers of so many significant digits that lie between two, which are given in SI.

    None where there is none, or where the two do not have the same sign: such numbers get ever closer towards zero.
    """
    shown = value_shown(one, facts), value_shown(other, facts)
    if not shown[0] * shown[1] > 0.0:
        return None
    first, last = sorted(_place_among_short(abs(end), digits) for end in shown)
    lowest, highest = math.floor(first + 1e-6) + 1, math.ceil(last - 1e-6) - 1
    if lowest > highest:
        return None
    size = _short_at((lowest + highest) // 2, digits)
    return stated_as(value_in_si(math.copysign(size, shown[0]), facts), facts)


def _place_among_short(size: float, digits: int) -> float:
    """Where a number stands in the row of all that have so many significant digits."""
    decade = math.floor(math.log10(size))
    return (decade * 9 - 1) * 10.0 ** (digits - 1) + size * 10.0 ** (digits - 1 - decade)


def _short_at(place: int, digits: int) -> float:
    """The number at a place in that row."""
    decade, rest = divmod(place, 9 * 10 ** (digits - 1))
    return float(f"{rest + 10 ** (digits - 1)}e{decade - digits + 1}")


def written_shortly(
    edge: float, outside: float, facts: FieldFacts, passes: Callable[[Stated], bool], *, most_digits: int = 6
) -> Stated | None:
    """A passing value as a person would write it: as few digits as still pass, on the passing side of the edge.

    `edge` is the passing value nearest to one `outside`, in SI. None where none of so many digits passes.
    """
    shown = value_shown(edge, facts)
    for digits in range(3, most_digits + 1):
        for candidate in short_numbers(shown, digits):
            value = stated_as(value_in_si(candidate, facts), facts)
            if (float(value.value) - edge) * (edge - outside) >= 0 and passes(value):
                return value
    return None


def candidates(facts: FieldFacts, spec: LoadedSpec) -> list[Stated]:
    """The values to choose from, in order: the builder's own choices, a standard series, words, or whole numbers."""
    offered = spec_choices(facts, spec)
    if offered:
        return offered
    if facts.series:
        return [series_value(entry, facts) for entry in facts.series]
    if facts.type == "word":
        return [Stated(option, written=option) for option in facts.options]
    if facts.type == "flag":
        return [Stated(False, written="false"), Stated(True, written="true")]
    if facts.type == "count" and facts.plausible is not None:
        low, high = (round(end) for end in facts.plausible)
        if high - low <= MOST_NUMBERS:
            return [facts.read(number) for number in range(low, high + 1) if number or facts.may_be_zero]
    return []


def series_value(entry: float | str, facts: FieldFacts) -> Stated:
    """A standard size as a value."""
    if isinstance(entry, str):
        return facts.read(entry)
    if facts.type == "measure":
        return facts.read(f"{number_text(entry)} {facts.unit}")
    return facts.read(entry)


def spec_choices(facts: FieldFacts, spec: LoadedSpec) -> list[Stated]:
    """The choices that the spec offers for a field, where the field says which list holds them."""
    if not facts.choices:
        return []
    node: object = spec.build
    for key in facts.choices.split("."):
        node = getattr(node, key, None) if isinstance(node, Section) else None
    if not isinstance(node, list):
        return []
    return [entry for entry in node if isinstance(entry, Stated)]


def facts_for(base: RuleBase, path: str) -> FieldFacts | None:
    """The facts of a field named by a path or pattern."""
    return facts_at(base.model, path)


def with_what_goes(spec: LoadedSpec, facts: FieldFacts, changes: Changes) -> Changes:
    """Changes of fields alike, with what is of the old choice taken away where the spec states it.

    Another final drive has other teeth: with the old ones beside the new ratio the two would contradict each other.
    """
    if not facts.goes_with:
        return changes
    gone: dict[str, Stated | None] = {}
    for path, new in changes.items():
        if not same(new, spec.stated(path)):
            beside = (f"{path.rpartition('.')[0]}.{name}" for name in facts.goes_with)
            gone.update((other, None) for other in beside if other not in changes and spec.stated(other) is not None)
    return {**changes, **gone}


def fitted_with(spec: LoadedSpec, changes: Changes) -> Changes:
    """Changes of fields, with the parts fitted that hold them and that the spec says are not there.

    What else is to be said of such a part is as it usually is: its typical values, where the spec states none.
    """
    added: dict[str, Stated | None] = {}
    for path, new in changes.items():
        part = path.rpartition(".")[0]
        stated = spec.stated(f"{part}.fitted")
        if new is None or stated is None or stated.value is not False:
            continue
        added[f"{part}.fitted"] = Stated(True, written="true")
        model = pattern_at(type(spec.build), part)[1]
        for name, member in members(model.model if model is not None and model.model is not None else Part).items():
            field = f"{part}.{name}"
            told = member.role == "plain" and name not in members(Part) and spec.stated(field) is None
            if told and field not in changes and member.facts is not None and not member.facts.limit:
                added[field] = member.facts.read(example_of(member.facts))
    return {**changes, **added}


def same(one: Stated | None, other: Stated | None) -> bool:
    """Whether two values are the same for a rule."""
    if one is None or other is None:
        return one is other
    if isinstance(one.value, bool | str) or isinstance(other.value, bool | str):
        return one.value == other.value
    return abs(one.value - other.value) <= 1e-9 * max(1e-12, abs(one.value), abs(other.value))
