"""What must hold of a step of the checklist, whatever it is about."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from swaplint.build.view import View
from swaplint.declare.steps import Step
from swaplint.host.packs import LoadedPack, RuleBase
from swaplint.kit.derived import accepts
from swaplint.kit.edits import sound_spec
from swaplint.making.asking import Asking, StepBroke
from swaplint.making.checklist import runs_in_circles
from swaplint.making.steps import Entry
from swaplint.spec.facts import NO_LIMIT, Stated
from swaplint.spec.loaded import LoadedSpec, SpecErrors
from swaplint.spec.shape import facts_at
from swaplint.units import KINDS

ABSURD = (0.0, -1.0, 1e-6, 1e6)
"""Factors on a field's value that no step may stumble over."""


def entries_of(base: RuleBase, step_id: str, edits: Mapping[str, Any] | None = None) -> list[Entry]:
    """A step as it stands on the list of the edited sound spec. Raises `LookupError` and `StepBroke`."""
    pack, step = _named(base, step_id)
    spec = sound_spec(base, {**dict(step.example), **(edits or {})})
    return Asking(spec, base.model).entries(pack, step)


def _named(base: RuleBase, step_id: str) -> tuple[LoadedPack, Step]:
    found = next(((pack, step) for pack, step in base.steps if step.id == step_id), None)
    if found is None:
        raise LookupError(f"no step {step_id} is loaded")
    return found


def check_step_of(base: RuleBase, step: Step) -> list[str]:
    """On the sound spec, with the edits of its example, a step is listed, its numbers are known and their limits cited.

    Its answer has a field that takes it; it goes after steps that there are; and none of the fields that it reads
    itself raises anything where it is missing or absurd. Those that a quantity reads are tried with the rules.
    """
    pack, _ = _named(base, step.id)
    try:
        spec = sound_spec(base, dict(step.example))
    except (SpecErrors, ValueError) as error:
        return [f"{step.id}: its example does not give a spec that can be read: {error}"]
    asking = Asking(spec, base.model)
    try:
        entries = asking.entries(pack, step)
    except StepBroke as broke:
        return [f"{step.id} {broke.what} ({broke.file}, line {broke.line})"]
    if not entries:
        return [f"{step.id} is not on the list of the sound spec; say with `example` what a build that has it states"]
    faults = [fault for entry in entries for fault in _wrong_with_entry(entry)]
    return [*dict.fromkeys(faults), *_wrong_order(base, step), *_raises(base, pack, step, spec, list(asking.fields))]


def _wrong_with_entry(entry: Entry) -> list[str]:
    step, faults = entry.step, []
    if entry.unsure:
        faults.append(f"{step.id}: the sound spec does not state {', '.join(entry.unsure)}")
    for name, figure in (("prediction", entry.expected), ("least value", entry.least), ("most", entry.most)):
        if figure is None or figure.no_limit:
            continue
        if figure.value is None:
            faults.append(f"{step.id}: its {name} is not known there: {', '.join(figure.unknown) or figure.why}")
        elif figure.kind and entry.kind and KINDS[figure.kind].dimension != KINDS[entry.kind].dimension:
            faults.append(f"{step.id}: its {name} is {KINDS[figure.kind].words}, and {entry.field} takes another kind")
    if entry.limit is not None and not entry.limit_sources:
        faults.append(f"{step.id} has a limit and cites nothing for it")
    if step.accuracy and entry.kind == "temperature":
        faults.append(f"{step.id}: a share of a temperature is no accuracy; predict a difference")
    faults += [
        f"{step.id}: {noted.field} takes no answer: `write` and `also` name fields with a value"
        for noted in (entry.found, *entry.also)
        if noted.facts is None
    ]
    return faults


def _wrong_order(base: RuleBase, step: Step) -> list[str]:
    moments = {other.id: other.moment for _, other in base.steps}
    faults = [
        f"{step.id} goes after {before}, which is no step of the same moment"
        for before in step.after
        if moments.get(before) != step.moment
    ]
    circle = runs_in_circles(other for _, other in base.steps if other.moment == step.moment)
    if step.id in circle:
        faults.append(f"{step.id} goes after itself: {', '.join(circle)}")
    return faults


def _raises(base: RuleBase, pack: LoadedPack, step: Step, spec: LoadedSpec, fields: list[str]) -> list[str]:
    faults = []
    view = View(spec.build)
    for path in fields:
        stated, facts = spec.stated(path), facts_at(base.model, path)
        cases: list[Stated | None] = [None]
        if stated is not None and facts is not None and not isinstance(stated.value, bool | str):
            cases += [Stated(value) for factor in ABSURD if accepts(facts, value := stated.value * factor)]
            cases += [Stated(NO_LIMIT, written=NO_LIMIT)] if facts.limit else []
        for case in cases:
            try:
                Asking(spec, base.model, view.changed({path: case})).entries(pack, step)
            except StepBroke as broke:
                says = "not stated" if case is None else f"= {case.value} (SI)"
                faults.append(f"{step.id} with {path} {says}: it {broke.what} ({broke.file}, line {broke.line})")
    return faults
