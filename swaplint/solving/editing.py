"""The one door to what is kept between two inspections: for a spec that is being edited, as in an editor."""

from __future__ import annotations

from swaplint.host.packs import RuleBase
from swaplint.host.problems import Problem
from swaplint.inspecting.kept import Kept
from swaplint.inspecting.results import Inspection
from swaplint.solving.whole import inspect_whole
from swaplint.spec.job import Stage
from swaplint.spec.loaded import LoadedSpec


class EditedSpec:
    """One spec, inspected again after each edit: a rule is asked only about what the edit could change.

    What comes out is the same as from an inspection afresh, however often and in whatever way the spec was edited.
    """

    def __init__(self, base: RuleBase, stage: Stage | None = None) -> None:
        """`stage` overrides the one that the spec states."""
        self._base, self._stage, self._kept = base, stage, Kept()

    def inspect(self, spec: LoadedSpec, *, remedies: bool = False) -> tuple[Inspection, list[Problem]]:
        """Inspect the spec as it is now."""
        return inspect_whole(self._base, spec, self._stage, remedies="all" if remedies else "none", kept=self._kept)
