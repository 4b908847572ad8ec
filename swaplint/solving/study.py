"""`study`: several fields varied together, every combination judged, the best by worst margin first.

Only the rules and quantities that read a varied field are run again. The combinations are shared out over all cores.
"""

from __future__ import annotations

import functools
import itertools
import math
import os
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from typing import Any

from swaplint.build.nodes import NoLimit, NotFitted, Unknown
from swaplint.build.view import View
from swaplint.declare.quantities import Quantity, quantity_key
from swaplint.declare.rule import Rule
from swaplint.host.packs import RuleBase, load_rule_base
from swaplint.host.signs import begin_without
from swaplint.host.watch import many_limits
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.outcomes import Outcomes
from swaplint.inspecting.results import Finding, Inspection
from swaplint.inspecting.selection import EVERYTHING, Selection, selected
from swaplint.inspecting.side_by_side import Lost, in_order
from swaplint.inspecting.travelling import packed, unpacked
from swaplint.solving.trial import leaves_to_a_person
from swaplint.solving.variants import Variants, names_a_sheet
from swaplint.solving.what_if import WhatIf, facts_for, fields_to_change, with_what_goes
from swaplint.spec.facts import FieldFacts, Stated, nearest
from swaplint.spec.job import Stage
from swaplint.spec.loaded import LoadedSpec

MOST_COMBINATIONS = 200_000
MOST_WITHIN_TOLERANCES = 2_000
"""Up to this many combinations each is looked at within the tolerances, too."""
MOST_JUDGED_WITHIN_TOLERANCES = 200_000
"""And up to so many results of all combinations together: a build of ordinary size has a hundred about each."""
MOST_JUDGED = 50_000_000
"""How many results of all combinations together are worked out at most."""
FEW = 300
"""Up to this many combinations one core does it all: starting others costs more."""
CHUNK = 100

Combination = tuple[Stated, ...]


class BadStudy(ValueError):
    """A study that cannot be made, with a sentence that says why."""


@dataclass(frozen=True, slots=True)
class Varied:
    """One field that is varied: its path or pattern, and the values to try."""

    pattern: str
    fields: tuple[str, ...]
    facts: FieldFacts
    values: Combination


@dataclass(frozen=True, slots=True)
class Row:
    """One combination and what came of it."""

    values: Combination
    fails: tuple[str, ...]
    reviews: tuple[str, ...]
    opens: tuple[str, ...]
    broken: tuple[str, ...]
    """The rules that could not be run."""
    worst_margin: float | None
    worst_rule: str | None
    shown: tuple[float | None, ...]

    @property
    def sort_key(self) -> tuple[int, int, float]:
        """The best first: fewest fails, then fewest undecided, then the widest worst margin."""
        margin = self.worst_margin if self.worst_margin is not None else -math.inf
        return len(self.fails) + len(self.broken), len(self.reviews) + len(self.opens), -margin


@dataclass(slots=True)
class Study:
    """A question: which combinations of some fields' values pass?"""

    what_if: WhatIf
    varied: list[Varied]
    show: list[str]
    """Ids of quantities to show, or of rules, whose margin is then shown; behind that of a quantity of several parts
    the part."""
    rules: list[Rule]
    """The rules that read a varied field."""
    unmoved: list[str]
    """Rules that fail now and read no varied field: no combination mends them."""
    variants: Variants
    """What can be asked with other values, and other data sheets."""
    stated_anyway: list[str]
    """Where data sheets are varied: the fields that the spec itself states beside them."""
    each: int
    """How many results there are about one combination."""

    @property
    def within_tolerances(self) -> bool:
        """Whether each combination is looked at within the tolerances, too."""
        return self.count <= MOST_WITHIN_TOLERANCES and self.count * self.each <= MOST_JUDGED_WITHIN_TOLERANCES

    @property
    def count(self) -> int:
        """How many combinations there are."""
        return math.prod(len(v.values) for v in self.varied)

    def combinations(self) -> list[Combination]:
        """Every combination, the last field varying fastest."""
        return list(itertools.product(*(v.values for v in self.varied)))

    def judge(self, combination: Combination) -> Row:
        """Judge one combination."""
        changes: dict[str, Stated | None] = {}
        for varied, value in zip(self.varied, combination, strict=True):
            own = dict.fromkeys(varied.fields, value)
            gone = with_what_goes(self.what_if.spec, varied.facts, own)
            changes = {**gone, **changes, **own}
        what_if, rest = self.variants.case(changes)
        view = what_if.view.changed(rest)
        found: dict[str, list[Finding]] = {}
        left = []
        for rule in self.rules:
            outcomes = what_if.outcomes(rule, view)
            found[rule.id] = what_if.judged(rule, outcomes)
            if self.within_tolerances and _passes(found[rule.id]) and leaves_to_a_person(rule, what_if, rest, outcomes):
                left.append(rule.id)
        findings = [f for of_rule in found.values() for f in of_rule]
        worst = min((f for f in findings if f.margin is not None), key=_margin, default=None)
        shown = tuple(self._shown(name, view, findings) for name in self.show)
        view.let_go()  # no other combination asks for the same
        return Row(
            combination,
            _ids(findings, "fail"),
            tuple(sorted({*_ids(findings, "review"), *left})),
            _ids(findings, "open"),
            tuple(id for id, of_rule in found.items() if not of_rule),
            worst.margin if worst is not None else None,
            worst.rule.id if worst is not None else None,
            shown,
        )

    def _shown(self, name: str, view: View, findings: list[Finding]) -> float | None:
        quantity = quantity_named(self.what_if.base, name)
        part = name.partition(" ")[2]
        if quantity is None:
            margins = [f.margin for f in findings if f.rule.id == name and f.margin is not None]
            return min(margins) if margins else None
        try:
            subjects = [one for one in quantity.subjects(view) if not part or _part_of(one) == part]
            return float(quantity(view.build, *subjects[0])) if subjects else None
        except (Unknown, NotFitted, NoLimit, ValueError):
            return None


def _passes(findings: list[Finding]) -> bool:
    kinds = {finding.kind for finding in findings}
    return "pass" in kinds and "review" not in kinds


def _margin(finding: Finding) -> float:
    return finding.margin if finding.margin is not None else math.inf


def _ids(findings: list[Finding], kind: str) -> tuple[str, ...]:
    return tuple(sorted({f.rule.id for f in findings if f.kind == kind}))


def quantity_named(base: RuleBase, name: str) -> Quantity[Any] | None:
    """The quantity with an id, behind which a part may stand; or None."""
    id = name.partition(" ")[0]
    return next((q for _, q in base.quantities if q.id == id), None)


MOST_PARTS = 12
"""Of how many parts a quantity is shown without that one is named."""


def _columns(what_if: WhatIf, name: str, rules: Collection[str]) -> list[str]:
    """What is shown for a name of a call: the quantity or rule; of a quantity of several parts each, or one."""
    quantity = quantity_named(what_if.base, name)
    id, _, part = name.partition(" ")
    if quantity is None:
        if name in rules:
            return [name]
        near = nearest(id, [*rules, *(one.id for _, one in what_if.base.quantities)])
        hint = f"; did you mean '{near}'?" if near else "; 'swaplint worksheet' lists the quantities of a build"
        raise BadStudy(f"'{name}' is neither a quantity nor a rule{hint}")
    try:
        parts = [_part_of(one) for one in quantity.subjects(what_if.view)]
    except (Unknown, NotFitted, NoLimit, ValueError):
        parts = []
    if part and parts and part not in parts:
        near = nearest(part, parts)
        hint = f"did you mean '{id} {near}'?" if near else f"it is of {', '.join(parts[:MOST_PARTS])}"
        raise BadStudy(f"{id} is of no '{part}'; {hint}")
    if part or len(parts) < 2:
        return [name]
    if len(parts) > MOST_PARTS:
        raise BadStudy(f"{id} is of {len(parts)} parts; name one of them behind it, like --show '{id} {parts[0]}'")
    return [f"{id} {one}" for one in parts]


def _part_of(arguments: tuple[Any, ...]) -> str:
    """What a quantity is of, by name."""
    return quantity_key("", arguments).strip()


def make_study(
    what_if: WhatIf, inspection: Inspection, vary: Sequence[tuple[str, Sequence[Stated]]], show: Sequence[str]
) -> Study:
    """Put a study together. Raises `BadStudy` or `NoPlace`."""
    varied = []
    for pattern, values in vary:
        facts = facts_for(what_if.base, pattern)
        if facts is None:
            raise BadStudy(f"{pattern} is not a field with a value of its own")
        fields = fields_to_change(pattern, what_if.spec, inspection.findings)
        varied.append(Varied(pattern, fields, facts, tuple(values)))
    touched = [f for v in varied for f in v.fields]
    for one, other in itertools.combinations(varied, 2):
        shared = set(one.fields) & set(other.fields)
        if shared:
            raise BadStudy(f"{sorted(shared)[0]} is varied twice")
    variants, model = Variants(what_if), what_if.base.model
    of_sheets = [v for v in varied if names_a_sheet(model, v.pattern)]
    ids = {rule.id for rule in what_if.rules_touched(touched)} | set(inspection.broken)
    for one_sheet in of_sheets:
        for value in one_sheet.values:
            others = {field: v.values[0] for v in varied if v not in of_sheets for field in v.fields}
            ids |= variants.rules_touched({**others, **dict.fromkeys(one_sheet.fields, value)})
    known = {rule.id for _, rule in what_if.base.rules}
    show = list(dict.fromkeys(column for name in show for column in _columns(what_if, name, known)))
    # The number that a rule judges is shown where a quantity has the same id: say so for the rest with the margin.
    ids |= {name for name in show if name in known and quantity_named(what_if.base, name) is None}
    rules = [rule for _, rule in what_if.base.rules if rule.id in ids]
    unmoved = sorted({f.rule.id for f in inspection.findings if f.kind == "fail" and f.rule.id not in ids})
    stated = [path for v in of_sheets for field in v.fields for path in variants.stated_anyway(field)]
    each = sum(len(what_if.before(rule)) for rule in rules)
    study = Study(what_if, varied, list(show), rules, unmoved, variants, stated, each)
    if study.count * study.each > MOST_JUDGED:
        most = max(1, MOST_JUDGED // study.each)
        says = f"{study.each:,} results hang on what is varied, so that {most:,} combinations are the most"
        raise BadStudy(f"{study.count:,} combinations are too many: {says}; vary less at a time, or name a --rule")
    if study.count > MOST_COMBINATIONS:
        raise BadStudy(f"{study.count} combinations are more than {MOST_COMBINATIONS}; vary less at a time")
    return study


# -- running it -----------------------------------------------------------------------------------------------------
def run(
    study: Study,
    *,
    cores: int | None = None,
    pack_files: Sequence[str] = (),
    progress: Callable[[int], None],
    selection: Selection = EVERYTHING,
) -> list[Row]:
    """Judge every combination, best first. `progress` is told how many are done.

    `pack_files` and `selection` are those that the rules of the study come from.
    """
    combinations = study.combinations()
    cores = cores or os.cpu_count() or 1
    if len(combinations) <= FEW or cores < 2:
        rows = []
        with many_limits():
            for number, combination in enumerate(combinations, 1):
                rows.append(study.judge(combination))
                progress(number)
    else:
        rows = _on_all_cores(study, combinations, cores, pack_files, progress, selection)
    return sorted(rows, key=lambda row: row.sort_key)


def _on_all_cores(
    study: Study,
    combinations: list[Combination],
    cores: int,
    pack_files: Sequence[str],
    progress: Callable[[int], None],
    selection: Selection,
) -> list[Row]:
    vary = [(v.pattern, v.values) for v in study.varied]
    chunks = [combinations[n : n + CHUNK] for n in range(0, len(combinations), CHUNK)]
    make = functools.partial(
        _judging_chunks, packed(study.what_if.spec), study.what_if.stage, tuple(pack_files), selection, vary, study.show
    )
    broken = tuple(rule.id for rule in study.rules)

    def lost(chunk: list[Combination], came: Lost) -> list[Row]:
        if came.running is not None:
            begin_without(came.running)
        shown = (None,) * len(study.show)
        return [Row(combination, (), (), (), broken, None, None, shown) for combination in chunk]

    global _here
    rows: list[Row] = []
    _here = study
    try:
        for done in in_order(make, chunks, cores, lost=lost):
            rows.extend(done)
            progress(len(rows))
    finally:
        _here = None
    return rows


_here: Study | None = None
"""The study of this process, which one that begins as its copy has, too."""


def _judging_chunks(
    spec: bytes,
    stage: Stage,
    pack_files: Sequence[str],
    selection: Selection,
    vary: list[tuple[str, Combination]],
    show: list[str],
) -> Callable[[list[Combination]], list[Row]]:
    """What judges combinations in another process: rules do not travel, so one that is no copy loads them itself."""
    return functools.partial(_judge_chunk, _here or _made_again(spec, stage, pack_files, selection, vary, show))


def _made_again(
    spec: bytes,
    stage: Stage,
    pack_files: Sequence[str],
    selection: Selection,
    vary: list[tuple[str, Combination]],
    show: list[str],
) -> Study:
    base = selected(load_rule_base(pack_files), selection)
    loaded: LoadedSpec = unpacked(spec, base)
    view = View(loaded.build)
    outcomes: dict[str, Outcomes] = {}
    inspection, _ = inspect(base, loaded, stage, view, outcomes)
    return make_study(WhatIf(base, loaded, stage, view, outcomes), inspection, vary, show)


@many_limits()
def _judge_chunk(study: Study, chunk: list[Combination]) -> list[Row]:
    return [study.judge(combination) for combination in chunk]
