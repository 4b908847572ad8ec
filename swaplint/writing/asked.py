"""Which fields rules read: not declared anywhere, but noted while the rules run.

They are run on the sound spec, on one that states everything at its typical value, and on two that state little or
nothing, where they go on with typical values. They are run again with every other word or yes-or-no that they asked
for, because a rule reads other fields for petrol than for diesel.
"""

from __future__ import annotations

import functools
from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field

import tomli_w

from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.declare.rule import Rule
from swaplint.host.packs import RuleBase
from swaplint.inspecting.outcomes import Outcomes
from swaplint.inspecting.running import RuleBroke, run_again
from swaplint.kit.edits import sound_text
from swaplint.spec.facts import Stated
from swaplint.spec.fields import Section
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.loading import load_text
from swaplint.spec.paths import path_key
from swaplint.spec.shape import facts_at, members, stated_at
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
        for rule, reads in _all_reads(base.model, rules, view, only_open=spec is own):
            of_rule = asked[rule.id]
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


MOST_ALIKE = 12
"""Of how many parts alike the other answers are tried: what a rule reads is told by kind of part, not by name."""


MOST_LEFT_OPEN = 3
"""The same on the owner's own spec, where rules have what else is stated to go by."""


MOST_RESULTS = 150
"""A rule that leads to more judges hundreds of parts: no other answers are tried on those, but on the other specs."""


def _all_reads(
    model: type[Section], rules: Collection[Rule], view: View, *, only_open: bool
) -> Iterator[tuple[Rule, Reads]]:
    """What rules read on a spec, and on the same with each other answer to the words and flags that they asked for.

    `only_open`: to those alone that the spec leaves open, as its owner's does; what is stated there is not asked again.
    Answers are tried one after another on all rules that asked for them, which have much to work out in common.
    """
    asking: dict[str, list[tuple[Rule, Outcomes]]] = {}
    for rule in rules:
        before = _outcomes(rule, view, Outcomes())
        yield rule, before.reads
        for path in before.reads.fields:
            asking.setdefault(path, []).append((rule, before))
    alike: Counter[tuple[str | None, object]] = Counter()
    for path, of_rules in asking.items():
        facts = facts_at(model, path)
        if facts is None or path in view.changes or len(facts.options) > MOST_ANSWERS:
            continue  # a long list of words names things; it is no question that rules turn on
        answers = facts.options if facts.type == "word" else (True, False) if facts.type == "flag" else ()
        stated = stated_at(view.build_model, path)
        if only_open and stated is not None:
            continue
        kind = pattern(model, path), None if stated is None else stated.value
        alike[kind] += 1
        for answer in answers if alike[kind] <= (MOST_LEFT_OPEN if only_open else MOST_ALIKE) else ():
            if stated is not None and stated.value == answer:
                continue
            other = view.changed({path: Stated(answer)})
            for rule, before in of_rules:
                if len(before) > MOST_RESULTS:
                    continue
                yield rule, _outcomes(rule, other, before).reads


def _outcomes(rule: Rule, view: View, before: Outcomes) -> Outcomes:
    """What a rule leads to, run on the parts alone for which a view changes something that it read before."""
    try:
        return run_again(rule, view, before)
    except RuleBroke:
        return Outcomes()  # typical values need not fit together


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
