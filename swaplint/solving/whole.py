"""A whole inspection: the rules as stated, tolerances carried, remedies tried."""

from __future__ import annotations

from swaplint.build.view import View
from swaplint.host.packs import RuleBase
from swaplint.host.problems import Problem
from swaplint.host.watch import many_limits
from swaplint.inspecting.inspection import ask_next, broke_later, run_rules, stage_of
from swaplint.inspecting.kept import Kept
from swaplint.inspecting.results import Inspection
from swaplint.inspecting.selection import EVERYTHING, Selection
from swaplint.solving.remedies import Wanted, add_remedies
from swaplint.solving.tolerance import carry_tolerances
from swaplint.solving.what_if import WhatIf
from swaplint.spec.job import Stage
from swaplint.spec.loaded import LoadedSpec


@many_limits()
def inspect_whole(
    base: RuleBase,
    spec: LoadedSpec,
    stage: Stage | None = None,
    *,
    remedies: Wanted = "all",
    kept: Kept | None = None,
    selection: Selection = EVERYTHING,
) -> tuple[Inspection, list[Problem]]:
    """Inspect a spec, carry the tolerances of its values, and look for remedies.

    `kept` is what the inspection of the same spec before an edit left, see `swaplint.solving.editing`.
    """
    view = View(spec.build) if kept is None else kept.view_of(base, spec, stage or stage_of(spec))
    outcomes = kept.outcomes if kept is not None else {}
    inspection, problems = run_rules(base, spec, stage, view, outcomes, selection)
    what_if = WhatIf(base, spec, inspection.stage, view, outcomes)
    carry_tolerances(what_if, inspection, kept)
    add_remedies(what_if, inspection, remedies)
    inspection.ask_next = ask_next(inspection)
    problems += broke_later(base, inspection, view.set_aside)
    if kept is None:
        view.let_go()  # nobody asks it again, and the report is written in the place that it held
    return inspection, problems
