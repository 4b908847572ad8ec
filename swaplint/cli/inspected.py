"""The one spec of a call, inspected and judged: for the commands that make something of what the rules find."""

from __future__ import annotations

import argparse
from dataclasses import replace

from swaplint.cli.reading import load_error, load_the_spec
from swaplint.gating.terms import judge, terms_of
from swaplint.host.packs import RuleBase
from swaplint.host.problems import Problem
from swaplint.inspecting.results import Inspection
from swaplint.solving.whole import inspect_whole
from swaplint.spec.judged import judge_on
from swaplint.spec.loaded import SpecErrors


def inspected_spec(base: RuleBase, options: argparse.Namespace) -> tuple[Inspection | None, list[Problem]]:
    """Inspect the spec that a call names, by the terms that it names; what cannot be read becomes a problem."""
    try:
        terms = terms_of(base, options.policy, options.deviations, options.on)
    except (SpecErrors, ValueError) as wrong:
        if isinstance(wrong, SpecErrors):
            return None, [load_error(error) for error in wrong.errors]
        return None, [Problem(str(wrong), "input")]
    spec, problems = load_the_spec(options.spec, options.sheets, base)
    if spec is None:
        return None, problems
    terms = replace(terms, on=judge_on(spec, terms.on, named=terms.on_stated))
    inspection, broken = inspect_whole(base, spec, options.stage, remedies="none")
    return inspection, [*problems, *broken, *judge(inspection, base, terms), *terms.problems]
