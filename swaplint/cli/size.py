"""`swaplint size`: which values of one field pass."""

from __future__ import annotations

import argparse
from typing import Any

from swaplint.build.view import View
from swaplint.cli.output import refuse, say, write_out, write_sheet
from swaplint.cli.program import (
    ONE_SPEC,
    add_format_option,
    add_output_option,
    add_pack_options,
    add_selection_options,
    add_stage_option,
    add_units_option,
)
from swaplint.cli.progress import progress
from swaplint.cli.reading import load_the_spec, rule_base
from swaplint.cli.statuses import UNREADABLE, status_of
from swaplint.host.packs import RuleBase
from swaplint.host.problems import Problem
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.outcomes import Outcome
from swaplint.inspecting.selection import selected, selection_of
from swaplint.solving.sizing import NotSizable, size
from swaplint.solving.what_if import WhatIf, facts_for, read_value
from swaplint.spec.fields import FieldFacts, Part, Stated, nearest
from swaplint.spec.hints import did_you_mean, fields_meant
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
    parser.add_argument("spec", metavar="SPEC", help=ONE_SPEC)
    parser.add_argument("field", metavar="FIELD", type=unquoted, help="the field to choose, by its path")
    parser.add_argument("--among", metavar="VALUES", help="your own choices, with commas between them")
    add_stage_option(parser)
    add_selection_options(parser, "judge by this rule only")
    add_format_option(parser, "text", "json")
    add_output_option(parser)
    add_pack_options(parser)
    add_units_option(parser)


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    base = rule_base(options.pack)
    try:
        selection = selection_of(base, options.system, options.rule)
    except ValueError as error:
        return refuse("size", error)
    base = selected(base, selection)
    spec, problems = load_the_spec(options.spec, options.sheets, base)
    problems = [*base.problems, *problems]
    say(problems)
    if spec is None:
        return UNREADABLE
    try:
        with progress("looking for what passes"):
            what_if, inspection, broken = question(base, spec, options.stage)
            facts = field_facts(base, options.field)
            among = None if options.among is None else _choices(options.among, facts)
            sizing = size(what_if, inspection, options.field, among)
    except (NotSizable, ValueError) as error:
        return refuse("size", error)
    say(broken)
    from swaplint.reports import sizing as report

    if options.format == "json":
        from swaplint.reports.json_report import dumps

        failed = write_out(dumps(report.sizing_json(spec.label, sizing, selection)), options.output)
    else:
        failed = write_sheet(lambda width: report.sizing_sheet(spec, sizing, width, selection), options.output)
    if failed is not None:
        say([failed])
        return UNREADABLE
    return status_of([*problems, *broken])


def _choices(text: str, facts: FieldFacts) -> list[Stated]:
    values = [read_value(piece, facts) for piece in split_values(text)]
    if not values:
        raise ValueError(f"--among names no value; one looks like {facts.example()}")
    return values


def question(base: RuleBase, spec: LoadedSpec, stage: Any) -> tuple[WhatIf, Any, list[Problem]]:
    """An inspected spec, ready to be asked "what if"."""
    view = View(spec.build)
    outcomes: dict[str, list[Outcome]] = {}
    inspection, broken = inspect(base, spec, stage, view, outcomes)
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
        meant = [near] if near and alike else fields_meant(base.model, path.split(".")[-1], path.rpartition(".")[0])
        hint = did_you_mean(name.replace("NAME", "*") for name in meant)
        raise ValueError(f"the build spec has no field {path}{hint}")
    return facts


def unquoted(text: str) -> str:
    """A word of the call without the quotes around it, which some command lines leave to the program."""
    return text[1:-1] if len(text) > 1 and text[0] == text[-1] and text[0] in "'\"" else text


def split_values(text: str) -> list[str]:
    """Values with commas between them; a comma never parts thousands here."""
    return [piece.strip() for piece in text.split(",") if piece.strip()]
