"""What was found in one spec, for the inspection of the next: where nothing that it rests on differs, it stands.

A rule sees nothing of a build but what it reads. So between two specs, or one before and after a change, a rule need
be asked again only about the parts that read a field which differs. What comes out is the same as without a memory.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.host.packs import RuleBase
from swaplint.inspecting.results import Finding
from swaplint.spec.differences import differences
from swaplint.spec.job import Stage
from swaplint.spec.loading import LoadedSpec

if TYPE_CHECKING:
    from swaplint.inspecting.inspection import Outcome


class Carried(NamedTuple):
    """A finding before and after the tolerances were carried, and all that was read for that."""

    before: Finding
    after: Finding
    reads: Reads


@dataclass(slots=True)
class Memory:
    """Remembers the spec that was inspected last; give the same memory to each inspection. Starts empty."""

    outcomes: dict[str, list[Outcome]] = field(default_factory=dict)
    """What each rule led to, by id."""
    carried: dict[tuple[str, str], Carried] = field(default_factory=dict)
    """Findings in which tolerances were carried, by rule and part."""
    _base: RuleBase | None = None
    _stage: Stage | None = None
    _view: View | None = None

    def view_of(self, base: RuleBase, spec: LoadedSpec, stage: Stage) -> View:
        """A view of the next spec, which knows what differs from the last one."""
        if self._view is None or self._base is not base or self._stage != stage:
            self.outcomes, self.carried, self._view = {}, {}, None
            return View(spec.build)
        return View.following(self._view, spec.build, differences(self._view.build_model, spec.build))

    def keep(self, base: RuleBase, stage: Stage, view: View, outcomes: dict[str, list[Outcome]]) -> None:
        """Remember a spec by its view, and what each rule led to on it; forget what does not hold for it any more."""
        self._base, self._stage, self._view, self.outcomes = base, stage, view, outcomes
        self.carried = {key: carried for key, carried in self.carried.items() if not view.touches(carried.reads)}
