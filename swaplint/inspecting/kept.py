"""What one inspection of a spec leaves for the next, after an edit: where nothing that it rests on differs, it stands.

A rule sees nothing of a build but what it reads. So after an edit a rule need be asked again only about the parts that
read a field which differs. What comes out is the same as afresh. Only the inspection of one spec that is being edited
rests on this (`swaplint.solving.editing`): specs that are inspected in one call have nothing to do with each other.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.host.packs import RuleBase
from swaplint.inspecting.outcomes import Outcome
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


@dataclass(slots=True)
class Kept:
    """What is kept of the spec as it was inspected last. Starts empty."""

    outcomes: dict[str, list[Outcome]] = field(default_factory=dict)
    """What each rule led to, by id."""
    carried: dict[tuple[str, str, str], Carried] = field(default_factory=dict)
    """Findings in which tolerances were carried, by rule, part and demand."""
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
            self.carried = {key: one for key, one in self.carried.items() if not view.touches(one.reads)}
        self._base, self._stage, self._view = base, stage, view
        self._inch_pound = SHOWING.inch_pound
        return view

    def carried_before(self, finding: Finding) -> Finding | None:
        """A finding as tolerances were carried in it before the edit; None where it is not the same one."""
        known = self.carried.get(finding.key)
        return None if known is None or known.before is not finding else known.after
