"""The checks that follow from a rule's declaration alone.

Each returns the faults that it found, as sentences; none is good.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from typing import Any, TypeVar, cast

from swaplint.build.view import View
from swaplint.declare.quantities import Quantity
from swaplint.declare.rule import Rule
from swaplint.declare.silence import Silence as DeclaredSilence
from swaplint.host.packs import RuleBase
from swaplint.inspecting.inspection import inspect, stage_of
from swaplint.inspecting.outcomes import Outcomes
from swaplint.inspecting.results import Finding
from swaplint.inspecting.running import RuleBroke, run_again, run_rule
from swaplint.kit.edits import sound_spec
from swaplint.kit.silence import Case, Silence, case_of, passes_when_emptied, silences
from swaplint.spec.differences import differences
from swaplint.spec.facts import NO_LIMIT, FieldFacts, Stated
from swaplint.spec.loaded import LoadedSpec, SpecErrors
from swaplint.spec.shape import facts_at

T = TypeVar("T")

GOOD_KINDS = ("pass", "notApplicable", "informational")
KEPT_SPECS = 24
"""How many edited specs are kept: more than one rule has examples."""
ABSURD = (0.0, -1.0, 1e-9, 1e-3, 1e3, 1e9)
"""Factors on a field's value that no rule may stumble over, where the field accepts the value at all."""


_KEPT: dict[tuple[str, int], tuple[RuleBase, Any]] = {}


def _once(name: str, base: RuleBase, make: Callable[[], T]) -> T:
    """What `make` returns, made once for a rule base: every check of every rule starts from the same sound spec."""
    kept = _KEPT.get((name, id(base)))
    if kept is None or kept[0] is not base:
        kept = _KEPT[name, id(base)] = (base, make())
    return cast(T, kept[1])


def _sound(base: RuleBase) -> tuple[LoadedSpec, View]:
    """The sound spec and its view."""
    return _once("view", base, lambda: _sound_view(base))


def _edited(base: RuleBase, edits: Mapping[str, Any]) -> LoadedSpec:
    """The sound spec with an example's edits, kept while the checks of its rule are likely to come."""
    kept = _once("edited", base, dict[str, LoadedSpec])
    key = repr(edits)
    if key not in kept:
        if len(kept) >= KEPT_SPECS:
            del kept[next(iter(kept))]
        kept[key] = sound_spec(base, edits)
    return kept[key]


def _sound_view(base: RuleBase) -> tuple[LoadedSpec, View]:
    spec = sound_spec(base)
    return spec, View(spec.build)


def findings_of(base: RuleBase, edits: Mapping[str, Any], only: Rule | None = None) -> tuple[list[Finding], list[str]]:
    """All findings on the edited sound spec, at its stage, or those of one rule; and what went wrong on the way."""
    if not edits and only is None:
        findings, faults = _once("findings", base, lambda: _inspected(base, edits))
        return findings, list(faults)
    if only is not None:
        packs = [replace(pack, rules=[only]) for pack in base.packs if only in pack.rules]
        return _inspected(replace(base, packs=packs), edits, sound=base)
    return _inspected(base, edits)


def _inspected(
    base: RuleBase, edits: Mapping[str, Any], sound: RuleBase | None = None
) -> tuple[list[Finding], list[str]]:
    try:
        spec = _edited(sound or base, edits)
    except (SpecErrors, ValueError) as error:
        return [], [f"the edit {dict(edits)!r} does not give a spec that can be read: {error}"]
    if sound is not None or stage_of(spec) != stage_of(_sound(base)[0]):
        inspection, problems = inspect(base, spec)
    else:
        # An edit touches few rules: the others say what they say of the sound spec.
        before, kept = _once("outcomes", base, lambda: _sound_outcomes(base))
        view = View.following(before, spec.build, differences(before.build_model, spec.build))
        inspection, problems = inspect(base, spec, view=view, kept=dict(kept))
    return inspection.findings, [f"{broke.what} ({broke.file}, line {broke.line})" for broke in problems]


def _sound_outcomes(base: RuleBase) -> tuple[View, dict[str, Outcomes]]:
    spec, view = _sound_view(base)
    kept: dict[str, Outcomes] = {}
    inspect(base, spec, view=view, kept=kept)
    return view, kept


def check_sound(base: RuleBase, rule: Rule) -> list[str]:
    """On the sound spec the rule passes or does not apply."""
    findings, faults = findings_of(base, {})
    faults += [
        f"on the sound spec {rule.id} says {f.kind} about {f.subject} {f.part}: {f.message}"
        for f in findings
        if f.rule.id == rule.id and f.kind not in GOOD_KINDS
    ]
    if not any(f.rule.id == rule.id for f in findings):
        faults.append(f"{rule.id} has no result on the sound spec")
    return faults


def check_good(base: RuleBase, rule: Rule, edits: Mapping[str, Any]) -> list[str]:
    """With a good example's edits the rule passes, and really judges something."""
    own, faults = findings_of(base, edits, rule)
    faults += [
        f"with {dict(edits)!r} it says {f.kind} about {f.subject} {f.part}: {f.message}"
        for f in own
        if f.kind not in GOOD_KINDS
    ]
    if not faults and not any(f.kind in ("pass", "informational") for f in own):
        faults.append(f"with {dict(edits)!r} it passes nothing")
    return faults


def check_bad(base: RuleBase, rule: Rule, edits: Mapping[str, Any]) -> list[str]:
    """With a bad example's edits this rule fails, on a field that exists, and no other does that is not stricter.

    Where it gives no number its sentence tells a fail from a pass.

    A fail of a limit that is known from memory alone comes to a review or an open question. A rule whose bad examples
    end in review doubts the stated value itself, which other rules may then rightly refuse.
    """
    findings, faults = findings_of(base, edits)
    if faults:
        return faults
    own = [f for f in findings if f.rule.id == rule.id and (f.kind == rule.bad_ends or f.from_memory)]
    if not own:
        kinds = sorted({f.kind for f in findings if f.rule.id == rule.id})
        return [f"with {dict(edits)!r} the rule does not end in {rule.bad_ends}; it says {', '.join(kinds)}"]
    if rule.bad_ends == "review":
        return [f"with {dict(edits)!r} it speaks of {f.subject}" for f in own if f.subject not in edits]
    sound = findings_of(base, {})[0]
    passing = {(f.key, f.message) for f in sound if f.kind == "pass" and f.found is None}
    faults += [
        f"with {dict(edits)!r} it fails with the sentence that it passes with: {f.message}"
        for f in own
        if f.kind == "fail" and (f.key, f.message) in passing
    ]
    # What was measured on the sound vehicle says rightly that an edited one is another.
    measured = any(path.startswith("measured") for path in edits)
    known, loud = {f.key[:2] for f in sound}, {f.key for f in sound if f.kind not in GOOD_KINDS}
    others = sorted(
        {
            f.rule.id
            for f in findings
            if f.rule.id not in (rule.id, *rule.stricter)
            and (measured or not f.rule.as_built)
            and f.kind not in GOOD_KINDS
            and f.key[:2] in known
            and f.key not in loud
        }
    )
    if others:
        faults.append(f"with {dict(edits)!r} other rules speak up too: {', '.join(others)}; make the edit narrower")
    return faults


def check_tied_sources(base: RuleBase, rule: Rule) -> list[str]:
    """Each demand that a source is tied to is made, on the sound spec or on one of the rule's examples."""
    tied = dict.fromkeys(name for source in rule.sources for name in source.demands)
    if not tied:
        return []
    made: set[str] = set()
    for edits in ({}, *rule.bad, *rule.good):
        findings, faults = findings_of(base, edits, rule)
        if faults:
            return faults
        made.update(f.demand for f in findings)
    return [
        f"a source is tied to the demand {name}, which no example makes"
        for name in tied
        if not any(demand == name or demand.startswith(f"{name}.") for demand in made)
    ]


def check_missing_fields(base: RuleBase, rule: Rule) -> list[str]:
    """Each field that the rule reads, taken away, makes it say so; no other field does."""
    spec, view = _sound(base)
    before = run_rule(rule, view)
    faults: list[str] = []
    for path in _stated_of(before, spec):
        try:
            outcomes = run_again(rule, view.changed({path: None}), before)
        except RuleBroke as broke:
            faults.append(f"without {path}: {broke.what} ({broke.file}, line {broke.line})")
            continue
        named = any(path in (*o.reads.unknown, *o.reads.optional, *o.reads.estimates) for o in outcomes)
        if not named and not path.endswith(".fitted"):
            faults.append(f"without {path} nothing says that it is missing")
        if any(o.unknown and not o.reads.unknown for o in outcomes):
            faults.append(f"without {path} the rule is open and does not say why")
    return faults


def check_absurd_values(base: RuleBase, rule: Rule) -> list[str]:
    """Zero, negative and absurd values, and no limit, lead to a verdict or an open question, never to an exception."""
    spec, view = _sound(base)
    before = run_rule(rule, view)
    faults: list[str] = []
    for path in _stated_of(before, spec):
        stated, facts = spec.stated(path), facts_at(base.model, path)
        assert stated is not None
        if facts is None or isinstance(stated.value, bool | str):
            continue
        absurd = [stated.value * factor for factor in ABSURD]
        values: list[float | str] = [value for value in absurd if accepts(facts, value)]
        for value in [*values, NO_LIMIT] if facts.limit else values:
            try:
                run_again(rule, view.changed({path: Stated(value, written=str(value))}), before)
            except RuleBroke as broke:
                faults.append(f"with {path} = {value} (SI): {broke.what} ({broke.file}, line {broke.line})")
    return faults


def check_alone(base: RuleBase, rule: Rule) -> list[str]:
    """The rule says the same whichever rules ran before it."""
    spec, view = _sound(base)
    _once("all run", base, lambda: _run_all(base, view))
    alone = [(o.part, o.demand, o.verdict) for o in run_rule(rule, View(spec.build))]
    after = [(o.part, o.demand, o.verdict) for o in run_rule(rule, view)]
    return [] if alone == after else [f"{rule.id} says something else after other rules have run"]


def check_silence(base: RuleBase, rule: Rule) -> list[str]:
    """No pass rests on a fact that nobody states and a value of which makes the rule fail.

    Unless the rule asks for it, names the practice that stands in, or says with `without` or `instead` why it may.
    """
    unexcused: dict[str, str] = {}
    excused: set[str] = set()
    for silence in _silences(base, rule):
        if _excused(base, rule, silence):
            excused.add(silence.pattern)
        else:
            unexcused.setdefault(silence.pattern, str(silence))
    advice = "Ask for the field, name the practice that stands in, or say with without= or instead= why not."
    excused.update(pattern for pattern in _passes_when_emptied(base, rule) if _without_says_why(rule, pattern))
    return _faults(rule.id, unexcused, advice) + _stale(rule.silence, excused)


def check_silence_of_quantity(base: RuleBase, quantity: Quantity[Any]) -> list[str]:
    """What a quantity says of fields that it does without holds for some rule that uses it."""
    declared = {field for field, _ in (*quantity.silence.without, *quantity.silence.instead)}
    excused: set[str] = set()
    for rule in _users_first(base, quantity):
        if excused == declared:
            break
        for silence in _silences(base, rule):
            if quantity.id in silence.quantities and silence.pattern in declared:
                excused.add(silence.pattern)
    return _stale(quantity.silence, excused)


def _users_first(base: RuleBase, quantity: Quantity[Any]) -> list[Rule]:
    """All rules, those first that use the quantity on the sound spec: what it says is most likely to hold for them."""
    before = _once("outcomes", base, lambda: _sound_outcomes(base))[1]
    using = {
        id for id, outcomes in before.items() if any(quantity.id in outcome.reads.quantities for outcome in outcomes)
    }
    return sorted((rule for _, rule in base.rules), key=lambda rule: rule.id not in using)


def check_emptied(base: RuleBase, rule: Rule) -> list[str]:
    """Each collection of parts that it reads, written empty, makes the rule ask or object.

    Unless the model says that such a build may have none, or the rule says with `without` why that is safe.
    """
    found = {p: text for p, text in _passes_when_emptied(base, rule).items() if not _without_says_why(rule, p)}
    advice = (
        "Make the rule ask or fail then, say at the field, by needed= or may_be_empty=, what that means, "
        "or say with without= why it is safe for this rule."
    )
    return _faults(rule.id, found, advice)


def _passes_when_emptied(base: RuleBase, rule: Rule) -> dict[str, str]:
    """The collections that a rule has no question about once they are empty, with what it then says."""
    try:
        case = case_of(rule, _sound(base)[1], {})
    except RuleBroke:
        return {}  # the other checks say so
    return {
        pattern: f"{pattern}: with {path} written empty it says {', '.join(kinds)}"
        for path, pattern, member, kinds in passes_when_emptied(rule, case)
        if not member.when_empty.fine
    }


def _without_says_why(rule: Rule, pattern: str) -> bool:
    return any(field == pattern for field, _ in rule.silence.without)


def _silences(base: RuleBase, rule: Rule) -> list[Silence]:
    """Every silence of a rule, on the sound spec and on its examples; found once."""
    known = _once("silences", base, dict[str, list[Silence]])
    if rule.id not in known:
        found = known[rule.id] = []
        # Where the rule says of a field why it may be absent, one silence shows it. What a quantity says is looked for
        # in all of them: not each uses it.
        of_quantities = {field for _, quantity in base.quantities for field in quantity.silence.fields}
        once = {field for field, _ in rule.silence.without} - of_quantities
        for case in _cases(base, rule):
            found += silences(rule, case, once & {silence.pattern for silence in found})
            if case.edits:
                case.view.let_go()  # a silence keeps its case, of which only the build is asked again
        for silence in found:
            silence.case.let_go()
    return known[rule.id]


def _cases(base: RuleBase, rule: Rule) -> Iterator[Case]:
    """The sound spec and each example. What is wrong with an example, or with the rule on it, another check says."""
    with contextlib.suppress(RuleBroke):
        sound = case_of(rule, _sound(base)[1], {})
        yield sound
        for edits in (*rule.good, *rule.bad):
            with contextlib.suppress(SpecErrors, ValueError, RuleBroke):
                yield sound.following(rule, _edited(base, edits).build, edits)


def _excused(base: RuleBase, rule: Rule, silence: Silence) -> bool:
    """Whether the rule, or a quantity that it uses, says why a field may be absent, or what takes its place."""
    used = (quantity.silence for _, quantity in base.quantities if quantity.id in silence.quantities)
    for declared in (rule.silence, *used):
        if any(field == silence.pattern for field, _ in declared.without):
            return True
        others = next((others for field, others in declared.instead if field == silence.pattern), ())
        if any(silence.rests_on_stated(other) for other in others):
            return True
    return False


def _faults(id: str, found: Mapping[str, str], advice: str) -> list[str]:
    """What is found, with what to do about it."""
    return [*(f"{id}: {text}" for text in found.values()), *([advice] if found else [])]


def _stale(declared: DeclaredSilence, excused: set[str]) -> list[str]:
    fields = [field for field, _ in (*declared.without, *declared.instead)]
    return [
        f"without= or instead= excuses nothing with {field}: no value turns a pass, or the rule asks for it"
        for field in fields
        if field not in excused
    ]


def _run_all(base: RuleBase, view: View) -> bool:
    """Run every rule on a view, the last one first."""
    for _, other in reversed(base.rules):
        with contextlib.suppress(RuleBroke):
            run_rule(other, view)
    return True


def _stated_of(outcomes: Outcomes, spec: LoadedSpec) -> list[str]:
    """The stated fields that a rule read on a spec."""
    return [path for path in outcomes.reads.fields if spec.stated(path) is not None]


def accepts(facts: FieldFacts, value: float) -> bool:
    """Whether a field takes a value at all."""
    if value < 0 and not facts.signed and facts.kind_name not in ("temperature",):
        return False
    if facts.kind_name == "temperature" and value <= 0:
        return False
    if facts.type == "count" and value != int(value):
        return False
    return value != 0 or facts.may_be_zero
