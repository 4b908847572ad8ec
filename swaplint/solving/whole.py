"""A whole inspection: the rules as stated, tolerances carried, remedies tried."""

from __future__ import annotations

from swaplint.build.view import View
from swaplint.host.packs import RuleBase
from swaplint.host.problems import Problem
from swaplint.host.watch import many_limits
from swaplint.inspecting.inspection import ask_next, inspect, stage_of
from swaplint.inspecting.memory import Memory
from swaplint.inspecting.results import Inspection
from swaplint.solving.remedies import add_remedies
from swaplint.solving.tolerance import carry_tolerances
from swaplint.solving.what_if import WhatIf
from swaplint.spec.job import Stage
from swaplint.spec.loading import LoadedSpec


@many_limits()
def inspect_whole(
    base: RuleBase,
    spec: LoadedSpec,
    stage: Stage | None = None,
    *,
    remedies: bool = True,
    memory: Memory | None = None,
) -> tuple[Inspection, list[Problem]]:
    """Inspect a spec, carry the tolerances of its values, and look for remedies.

    With a memory, what was found in the last spec stands where nothing that it rests on differs.
    """
    chosen = stage or stage_of(spec)
    view = View(spec.build) if memory is None else memory.view_of(base, spec, chosen)
    inspection, problems = inspect(base, spec, chosen, view, memory)
    what_if = WhatIf(base, spec, inspection.stage, view)
    carry_tolerances(what_if, inspection, memory)
    if remedies:
        add_remedies(what_if, inspection)
    inspection.ask_next = ask_next(inspection)
    return inspection, problems
