"""A whole inspection: the rules as stated, tolerances carried, remedies tried."""

from __future__ import annotations

from swaplint.host.packs import RuleBase
from swaplint.host.problems import Problem
from swaplint.host.watch import many_limits
from swaplint.inspection import ask_next, inspect
from swaplint.results import Inspection
from swaplint.rule import Stage
from swaplint.solving.remedies import add_remedies
from swaplint.solving.tolerance import carry_tolerances
from swaplint.solving.what_if import WhatIf
from swaplint.spec.loading import LoadedSpec
from swaplint.view import View


@many_limits()
def inspect_whole(
    base: RuleBase, spec: LoadedSpec, stage: Stage | None = None, *, remedies: bool = True
) -> tuple[Inspection, list[Problem]]:
    """Inspect a spec, carry the tolerances of its values, and look for remedies."""
    view = View(spec.build)
    inspection, problems = inspect(base, spec, stage, view)
    what_if = WhatIf(base, spec, inspection.stage, view)
    carry_tolerances(what_if, inspection)
    if remedies:
        add_remedies(what_if, inspection)
    inspection.ask_next = ask_next(inspection)
    return inspection, problems
