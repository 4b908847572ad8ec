"""Trying a rule or a quantity on the sound spec with a few edits: for the tests that an author writes by hand.

found = trial("fuel.suction-loss", {"plumbing.fuel.supply.bore": "5 mm"})
assert found[0].kind == "fail"
assert value("fuel.suction-loss", {"plumbing.fuel.supply.bore": "5 mm"}) == pytest.approx(23.4, rel=0.01)
"""

from __future__ import annotations

import functools
from collections.abc import Mapping
from typing import Any

from swaplint.build.view import View
from swaplint.declare.quantities import subject_text
from swaplint.host.packs import RuleBase, load_rule_base
from swaplint.host.problems import Problem
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Finding
from swaplint.kit.edits import sound_spec
from swaplint.making.steps import Entry
from swaplint.spec.job import Stage
from swaplint.units.output import in_unit


@functools.cache
def rule_base() -> RuleBase:
    """The installed packs, loaded once."""
    return load_rule_base()


def trial(
    rule_id: str, edits: Mapping[str, Any] | None = None, *, stage: Stage | None = None, base: RuleBase | None = None
) -> list[Finding]:
    """What one rule finds on the edited sound spec. The sound spec is at the `commission` stage."""
    base = base or rule_base()
    only = RuleBase(
        [_with_rule(pack, rule_id) for pack in base.packs if any(r.id == rule_id for r in pack.rules)], [], base.model
    )
    if not only.packs:
        raise LookupError(f"no rule {rule_id} is loaded")
    inspection, problems = inspect(only, sound_spec(base, edits), stage)
    if problems:
        raise AssertionError("; ".join(_with_place(problem) for problem in problems))
    return inspection.findings


def _with_place(problem: Problem) -> str:
    """What broke, and in which line of the rule."""
    return f"{problem.what} ({problem.file}, line {problem.line})" if problem.file else problem.what


def one(
    rule_id: str, edits: Mapping[str, Any] | None = None, *, demand: str = "", stage: Stage | None = None
) -> Finding:
    """The finding of a rule that judges the build as a whole: in one of its demands, or in the worst of them."""
    return _only(rule_id, trial(rule_id, edits, stage=stage), demand)


def of_part(
    rule_id: str, part: str, edits: Mapping[str, Any] | None = None, *, demand: str = "", stage: Stage | None = None
) -> Finding:
    """The same about one part, named by the end of its field path."""
    return _only(rule_id, [f for f in trial(rule_id, edits, stage=stage) if f.part.endswith(part)], demand)


def _only(rule_id: str, findings: list[Finding], demand: str) -> Finding:
    """The one finding about one part, or the worst one: findings stand in that order."""
    parts = {finding.part for finding in findings}
    if len(parts) != 1:
        raise AssertionError(f"{rule_id} has findings about {len(parts)} parts: {sorted(parts)}")
    chosen = [finding for finding in findings if not demand or finding.demand == demand]
    if not chosen:
        raise AssertionError(f"{rule_id} makes no demand {demand!r}: {[finding.demand for finding in findings]}")
    return chosen[0]


def value(quantity_id: str, edits: Mapping[str, Any] | None = None, *, part: str = "") -> float:
    """A quantity on the edited sound spec, in the unit that it is shown in. `part` is the end of the part's path."""
    base = rule_base()
    quantity = next((q for _, q in base.quantities if q.id == quantity_id), None)
    if quantity is None:
        raise LookupError(f"no quantity {quantity_id} is loaded")
    view = View(sound_spec(base, edits).build)
    for arguments in quantity.subjects(view):
        if not part or " ".join(subject_text(a) for a in arguments).endswith(part):
            return in_unit(quantity(view.build, *arguments), quantity.kind, quantity.unit)
    raise LookupError(f"{quantity_id} has no part {part}")


def step_of(step_id: str, edits: Mapping[str, Any] | None = None, *, part: str = "") -> Entry:
    """A step as it stands on the checklist of the edited sound spec. `part` is the end of the part's path."""
    from swaplint.kit.steps import entries_of

    found = [entry for entry in entries_of(rule_base(), step_id, edits) if entry.part.endswith(part)]
    if len(found) != 1:
        raise AssertionError(f"{step_id} stands on the list {len(found)} times: {[entry.part for entry in found]}")
    return found[0]


def _with_rule(pack: Any, rule_id: str) -> Any:
    from dataclasses import replace

    return replace(pack, rules=[rule for rule in pack.rules if rule.id == rule_id])
