"""Which fields rules read: not declared anywhere, but noted while the rules run.

They are run on the sound spec, on one that states everything at its typical value, and on two that state little or
nothing, where they go on with typical values. They are run again with every other word or yes-or-no that they asked
for, because a rule reads other fields for petrol than for diesel.
"""

from __future__ import annotations

import functools
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field

import tomli_w

from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.declare.rule import Rule
from swaplint.host.packs import RuleBase
from swaplint.inspecting.running import RuleBroke, run_rule
from swaplint.kit.edits import sound_text
from swaplint.spec.fields import Section, Stated
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.loading import load_text
from swaplint.spec.paths import path_key
from swaplint.spec.shape import facts_at, members
from swaplint.writing.examples import example_data


@dataclass(slots=True)
class Asked:
    """The fields that one rule reads, as the model writes them, and those that it cannot do without."""

    fields: set[str] = field(default_factory=set)
    needed: set[str] = field(default_factory=set)


def asked_by(
    base: RuleBase,
    rules: Collection[Rule],
    known: Mapping[str, bool | str],
    own: LoadedSpec | None = None,
    *,
    stopped: dict[str, str] | None = None,
) -> dict[str, Asked]:
    """What rules read, by their ids, on specs of several shapes and perhaps another, where some fields are known.

    `stopped` takes the rules that did not come to an end, by id, each with what it did: not all that they read is told.
    """
    asked = {rule.id: Asked() for rule in rules}
    stated: dict[str, Stated | None] = {path: Stated(value) for path, value in known.items()}
    for spec, probing in (*_specs(base.model), *([(own, True)] if own else [])):
        view = View(spec.build, stated, probing=probing)
        if stopped is not None:
            view.set_aside = stopped
        for rule in rules:
            of_rule = asked[rule.id]
            for reads in _all_reads(base.model, rule, view):
                paths = (*reads.fields, *reads.unknown, *reads.optional)
                of_rule.fields.update(filter(None, (pattern(base.model, path) for path in paths)))
                of_rule.needed.update(filter(None, (pattern(base.model, path) for path in reads.unknown)))
    return asked


def _specs(model: type[Section]) -> Iterator[tuple[LoadedSpec, bool]]:
    """The specs to run rules on, and whether to go on with typical values where one states nothing."""
    yield load_text(sound_text(), model=model), False
    yield load_text(tomli_w.dumps(example_data(model)), model=model), False
    yield load_text(tomli_w.dumps(example_data(model, values=False)), model=model), True
    yield load_text("", model=model), True


MOST_ANSWERS = 8
"""Longest list of words that is tried through for what else a rule would read."""


def _all_reads(model: type[Section], rule: Rule, view: View) -> Iterator[Reads]:
    """What a rule reads on a spec, and on the same with each other answer to the words and flags that it asked for."""
    first = _reads(rule, view)
    yield first
    for path in first.fields:
        facts = facts_at(model, path)
        if facts is None or path in view.changes or len(facts.options) > MOST_ANSWERS:
            continue  # a long list of words names things; it is no question that rules turn on
        answers = facts.options if facts.type == "word" else (True, False) if facts.type == "flag" else ()
        for answer in answers:
            yield _reads(rule, view.changed({path: Stated(answer)}))


def _reads(rule: Rule, view: View) -> Reads:
    together = Reads()
    try:
        for outcome in run_rule(rule, view):
            together.add(outcome.reads)
    except RuleBroke:
        pass  # typical values need not fit together
    return together


@functools.lru_cache(maxsize=20_000)
def pattern(model: type[Section], path: str) -> str | None:
    """A field path as the model writes it; None for one that is no plain field or list of plain values.

    >>> from swaplint.spec.model import Build
    >>> pattern(Build, "driveline.axles.rear.ratio"), pattern(Build, "driveline.gearbox.ratios[2]")
    ('driveline.axles.*.ratio', 'driveline.gearbox.ratios')
    """
    shape: type[Section] | None = model
    out, role = "", ""
    for key in path_key(path):
        if role == "parts":
            out, role = f"{out}.*", "part"
        elif isinstance(key, int):
            out += "[]" if role == "items" else ""
        else:
            member = members(shape).get(key) if shape is not None else None
            if member is None:
                return None
            out = f"{out}.{key}" if out else key
            shape, role = member.model, member.role
    return out if role in ("plain", "plain-list") else None
