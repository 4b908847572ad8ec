"""The fields that packs name, in rules, quantities and steps: whether the build spec has them, and by today's names."""

from __future__ import annotations

import functools
import re
from collections.abc import Iterable
from dataclasses import replace
from typing import Any, cast

from pydantic import create_model

from swaplint.build.estimates import by_field
from swaplint.declare.quantities import Quantity
from swaplint.declare.rule import Edits, Rule
from swaplint.declare.silence import Silence
from swaplint.declare.steps import Step
from swaplint.host.rule_base import RuleBase, problem_at
from swaplint.spec.fields import Section
from swaplint.spec.model import Build
from swaplint.spec.paths import path_key, without_conditions
from swaplint.spec.renamed import path_today
from swaplint.spec.shape import facts_at, members


def check_named_fields(base: RuleBase) -> None:
    """Leave out what names a field that no spec can have, as a problem; put the rest into today's names."""
    for pack in base.packs:
        sound = []
        pack.sound = _edits_today(base.model, pack.sound)
        for rule in (_rule_today(base.model, rule) for rule in pack.rules):
            what = _wrong_with_paths(base.model, rule)
            if what:
                base.problems.append(problem_at(rule, what, pack.name))
                base.not_loaded.append((pack.name, rule.id))
            else:
                sound.append(rule)
        pack.rules = sound
        for quantity in pack.quantities:
            quantity.silence = _silence_today(base.model, quantity.silence)
            quantity.stands_in_for = path_today(base.model, quantity.stands_in_for)
            wrong = next((path for path in quantity.silence.fields if not _is_field(base.model, path)), None)
            if wrong is not None:
                what = f"the quantity names the field {wrong:.200}, which the build spec does not have"
                base.problems.append(problem_at(quantity, what, pack.name))
        pack.steps = [_step_today(base.model, step) for step in pack.steps]
        for step in list(pack.steps):
            wrong = next((path for path in _paths_of_step(step) if not _is_field(base.model, path)), None)
            if wrong is not None:
                what = f"the step names the field {wrong:.200}, which the build spec does not have; it was left out"
                base.problems.append(problem_at(step, what, pack.name))
                pack.steps.remove(step)
        wrong_ones = {q.id: what for q in pack.quantities if (what := _wrong_with_field(base.model, q))}
        base.problems += [problem_at(q, wrong_ones[q.id], pack.name) for q in pack.quantities if q.id in wrong_ones]
        pack.quantities = [quantity for quantity in pack.quantities if quantity.id not in wrong_ones]


def _wrong_with_field(model: type[Section], quantity: Quantity[Any]) -> str:
    """What is wrong with the field that an estimate stands in for, as a sentence; empty where nothing is."""
    path = quantity.stands_in_for
    facts = facts_at(model, path) if path and _is_field(model, path) else None
    if path and facts is None:
        return f"the quantity stands in for {path:.200}, which is no field of the build spec"
    if facts is not None and (facts.type not in ("measure", "number") or facts.kind_name != quantity.kind):
        takes = facts.kind.words if facts.kind is not None else "a number without a unit"
        return f"the quantity stands in for {path:.200}, which takes {takes}"
    return ""


def let_estimates_stand_in(base: RuleBase) -> None:
    """Tell the model of the build spec which quantities stand in for its fields: every view of a build asks there."""
    estimates = [quantity for _, quantity in base.quantities if quantity.stands_in_for]
    if estimates:
        _own_model(base).estimates = by_field([*estimates])


def _own_model(base: RuleBase) -> type[Section]:
    """The model of the build spec, which is this rule base's alone."""
    if base.model is Build:
        base.model = cast(type[Section], create_model("Build", __base__=Build))
    return base.model


def let_sheets_be_found(base: RuleBase) -> None:
    """Tell the model of the build spec in which folders the data sheets of packs stand."""
    folders = {f"{pack.name}-sheets": pack.sheets for pack in base.packs if pack.sheets is not None}
    if folders:
        _own_model(base).sheet_folders = folders


_NOT_CHOSEN = {
    "measured": "is measured and follows from what is built",
    "wish": "is the owner's wish",
    "plate": "is on the plate or for the authority to say",
}


def _wrong_with_paths(model: type[Section], rule: Rule) -> str:
    """What is wrong with the fields that a rule names, as a sentence; empty where nothing is."""
    for path in _paths(rule):
        if not _is_field(model, path):
            return f"the rule names the field {path:.200}, which the build spec does not have"
    for path in rule.adjust:
        facts = facts_at(model, without_conditions(path))
        if facts is not None and not facts.chosen:
            return f"the rule's `adjust` names {path:.200}, which {_NOT_CHOSEN[facts.nature]}: no builder chooses it"
    return ""


def _rule_today(model: type[Section], rule: Rule) -> Rule:
    """The rule with today's names of the fields that it names; the rule itself where it uses no others."""
    if all(path_today(model, path) == path for path in _paths(rule)):
        return rule
    return replace(
        rule,
        adjust=tuple(path_today(model, path) for path in rule.adjust),
        about=path_today(model, rule.about),
        sources=tuple(replace(source, field=path_today(model, source.field)) for source in rule.sources),
        bad=tuple(_edits_today(model, edits) for edits in rule.bad),
        good=tuple(_edits_today(model, edits) for edits in rule.good),
        silence=_silence_today(model, rule.silence),
    )


def _step_today(model: type[Section], step: Step) -> Step:
    """The step with today's names of the fields that it names; the step itself where it uses no others."""
    if all(path_today(model, path) == path for path in _paths_of_step(step)):
        return step
    sources = tuple(replace(source, field=path_today(model, source.field)) for source in step.sources)
    example = tuple(_edits_today(model, dict(step.example)).items())
    write, *also = (path_today(model, path) for path in (step.write, *step.also))
    return replace(step, write=write, also=tuple(also), sources=sources, example=example)


def _paths_of_step(step: Step) -> list[str]:
    named = (step.write, *step.also, *(source.field for source in step.sources), *(path for path, _ in step.example))
    return [path for path in named if path]


def _silence_today(model: type[Section], silence: Silence) -> Silence:
    return Silence(
        tuple((path_today(model, path), why) for path, why in silence.without),
        tuple(
            (path_today(model, path), tuple(path_today(model, o) for o in others)) for path, others in silence.instead
        ),
    )


def _edits_today(model: type[Section], edits: Edits) -> Edits:
    return {path_today(model, path): value for path, value in edits.items()}


@functools.lru_cache(maxsize=4096)
def _is_field(model: type[Section], path: str) -> bool:
    try:
        path = without_conditions(path)
        if "[" in path or "]" in path or ".." in path:
            path_key(_ALL_ITEMS.sub("[1]", path))
    except ValueError:
        return False
    return path_exists(model, path)


def _paths(rule: Rule) -> Iterable[str]:
    yield from rule.adjust
    if rule.about:
        yield rule.about
    for source in rule.sources:
        if source.field:
            yield source.field
    for edits in (*rule.bad, *rule.good):
        yield from edits
    yield from rule.silence.fields


_ALL_ITEMS = re.compile(r"\[\*?\]")
_INDEX = re.compile(r"\[(\d+|\*)?\]$")


def path_exists(model: type[Section], path: str) -> bool:
    """Whether a field path exists in a model; `*` or any name stands for a part's name, `[3]` or `[]` for an item."""
    shape: type[Section] | None = model
    want_name = False
    for piece in path.split("."):
        if want_name:
            want_name = False
            continue
        if shape is None:
            return False
        bare = _INDEX.sub("", piece) if piece.endswith("]") else piece
        member = members(shape).get(bare)
        if member is None or (bare != piece and member.role not in ("items", "plain-list")):
            return False
        shape = member.model
        want_name = member.role == "parts"
    return True
