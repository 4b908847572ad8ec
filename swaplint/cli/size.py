"""`swaplint size`: which values of one field pass."""

from __future__ import annotations

import argparse
import sys
from typing import Any

from swaplint.build.view import View
from swaplint.cli.output import refuse, say, write_out
from swaplint.cli.program import add_pack_options, add_units_option
from swaplint.cli.reading import load_specs, rule_base
from swaplint.cli.statuses import UNREADABLE, status_of
from swaplint.host.packs import RuleBase
from swaplint.host.problems import Problem
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.outcomes import Outcome
from swaplint.solving.sizing import NotSizable, size
from swaplint.solving.what_if import WhatIf, facts_for, read_value
from swaplint.spec.fields import FieldFacts, Part, nearest
from swaplint.spec.job import STAGES
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.shape import every_field, members

_DESCRIPTION = """Find out which values of one field pass: the window from lowest to highest for a continuous field, the
table of sizes for one with a standard series; which rule binds at each end, and what a change would break.
A star stands for all alike parts: 'driveline.axles.*.ratio' changes every axle together, and
'electrics.cables.*[role=starter].size' every cable whose role is starter.
"""
_EXAMPLES = """examples:
  swaplint size my-swap.toml 'driveline.axles.*.ratio'
  swaplint size my-swap.toml plumbing.fuel.supply.bore
  swaplint size my-swap.toml 'driveline.axles.*.ratio' --among 4.1,4.56,4.88
"""


def configure(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description, parser.epilog = _DESCRIPTION, _EXAMPLES
    parser.add_argument("spec", metavar="SPEC", help="a build spec, or - for standard input")
    parser.add_argument("field", metavar="FIELD", help="the field to choose, by its path")
    parser.add_argument("--among", metavar="VALUES", help="your own choices, with commas between them")
    parser.add_argument("--stage", choices=STAGES, help="judge as for this stage, whatever the spec says")
    parser.add_argument("--format", choices=("text", "json"), default="text", help="(default: text)")
    parser.add_argument("--output", metavar="FILE", help="write to a file instead of standard output")
    add_pack_options(parser)
    add_units_option(parser)


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    base = rule_base(options.pack)
    specs, problems = load_specs([options.spec], options.sheets, base)
    problems = [*base.problems, *problems]
    say(problems)
    if not specs:
        return UNREADABLE
    what_if, inspection, broken = question(base, specs[0], options.stage)
    try:
        facts = field_facts(base, options.field)
        among = [read_value(text, facts) for text in split_values(options.among)] if options.among else None
        sizing = size(what_if, inspection, options.field, among)
    except (NotSizable, ValueError) as error:
        return refuse("size", error)
    from swaplint.reports import sizing as report

    if options.format == "json":
        from swaplint.reports.json_report import dumps

        failed = write_out(dumps(report.sizing_json(specs[0].label, sizing)), options.output)
    else:
        failed = write_sheet(lambda width: report.sizing_sheet(specs[0], sizing, width), options.output)
    if failed is not None:
        say([failed])
        return UNREADABLE
    return status_of([*problems, *broken])


def question(base: RuleBase, spec: LoadedSpec, stage: Any) -> tuple[WhatIf, Any, list[Problem]]:
    """An inspected spec, ready to be asked "what if"."""
    view = View(spec.build)
    outcomes: dict[str, list[Outcome]] = {}
    inspection, broken = inspect(base, spec, stage, view, outcomes)
    say(broken)
    return WhatIf(base, spec, inspection.stage, view, outcomes), inspection, broken


def field_facts(base: RuleBase, path: str) -> FieldFacts:
    """The facts of a field named on the command line. Raises `ValueError` with the nearest known path."""
    facts = facts_for(base, path)
    if facts is None:
        known = [name for name, _ in every_field(base.model)]
        own = [name for name in known if name.startswith((f"{path}.", f"{path}[]."))]
        if own:
            below = [name for name in own if name.split(".")[-1] not in members(Part)] or own
            raise ValueError(f"{path} is no field, but holds several: name one of them, like {below[0]}")
        near = nearest(path, known)
        alike = near is not None and near.split(".")[-1][:3] == path.split(".")[-1][:3]
        raise ValueError(f"the build spec has no field {path}" + (f"; did you mean '{near}'?" if alike else ""))
    return facts


def split_values(text: str) -> list[str]:
    """Values with commas between them; a comma never parts thousands here."""
    return [piece.strip() for piece in text.split(",") if piece.strip()]


def write_sheet(make: Any, output: str | None) -> Any:
    """Write a text sheet to the terminal, the pipe or a file."""
    from swaplint.reports.layout import PIPE_WIDTH, plain, width_of, write

    if output is not None:
        return write_out(plain(make(PIPE_WIDTH).lines), output)
    write(make(width_of(sys.stdout)))
    return None
