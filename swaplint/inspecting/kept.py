"""What one inspection of a spec leaves for the next, after an edit: where nothing that it rests on differs, it stands.

A rule sees nothing of a build but what it reads. So after an edit a rule need be asked again only about the parts that
read a field which differs. What comes out is the same as afresh. Only the inspection of one spec that is being edited
rests on this (`swaplint.solving.editing`): specs that are inspected in one call have nothing to do with each other.
"""

from __future__ import annotations

import functools
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import NamedTuple

from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.host.packs import RuleBase
from swaplint.inspecting.outcomes import Outcomes, together
from swaplint.inspecting.results import Finding
from swaplint.spec.differences import differences
from swaplint.spec.job import Stage
from swaplint.spec.loaded import LoadedSpec
from swaplint.units.showing import SHOWING


class Carried(NamedTuple):
    """A finding before and after the tolerances were carried, and all that was read for that."""

    before: Finding
    after: Finding
    reads: Reads


class CarriedOfRule(dict[tuple[str, str, str], Carried]):
    """Findings of one rule in which tolerances were carried, by rule, part and demand. Not added to."""

    @functools.cached_property
    def reads(self) -> Reads:
        """All that was read for them together."""
        return together(one.reads for one in self.values())

    def untouched_by(self, view: View) -> CarriedOfRule:
        """Those that rest on nothing that reads differently in a view."""
        if not view.touches(self.reads):
            return self
        return CarriedOfRule({key: one for key, one in self.items() if not view.touches(one.reads)})


@dataclass(slots=True)
class Kept:
    """What is kept of the spec as it was inspected last. Starts empty."""

    outcomes: dict[str, Outcomes] = field(default_factory=dict)
    """What each rule led to, by id."""
    carried: dict[str, CarriedOfRule] = field(default_factory=dict)
    """Findings in which tolerances were carried, by the id of their rule."""
    _base: RuleBase | None = None
    _stage: Stage | None = None
    _inch_pound: bool = False
    """In which units the sentences that are kept show their numbers."""
    _view: View | None = None

    def view_of(self, base: RuleBase, spec: LoadedSpec, stage: Stage) -> View:
        """A view of the spec as it is now, which knows what differs; what rests on that is forgotten."""
        before = self._view
        if before is None or self._base is not base or (self._stage, self._inch_pound) != (stage, SHOWING.inch_pound):
            self.outcomes, self.carried = {}, {}
            view = View(spec.build)
        else:
            view = View.following(before, spec.build, differences(before.build_model, spec.build))
            self.carried = {id: of_rule.untouched_by(view) for id, of_rule in self.carried.items()}
        self._base, self._stage, self._view = base, stage, view
        self._inch_pound = SHOWING.inch_pound
        return view

    def carried_before(self, finding: Finding) -> Finding | None:
        """A finding as tolerances were carried in it before the edit; None where it is not the same one."""
        of_rule = self.carried.get(finding.rule.id)
        known = None if of_rule is None else of_rule.get(finding.key)
        return None if known is None or known.before is not finding else known.after

    def keep_carried(self, carried: Iterable[Carried]) -> None:
        """Keep the findings in which tolerances were carried just now."""
        by_rule: dict[str, dict[tuple[str, str, str], Carried]] = {}
        for one in carried:
            by_rule.setdefault(one.before.rule.id, {})[one.before.key] = one
        for id, of_rule in by_rule.items():
            self.carried[id] = CarriedOfRule({**self.carried.get(id, {}), **of_rule})
