"""`swaplint takeoff`: what to buy, cut and make for a build, from its spec."""

from __future__ import annotations

import argparse

from swaplint.cli.inspected import inspected_spec
from swaplint.cli.output import say, write_out, write_sheet
from swaplint.cli.program import (
    ONE_SPEC,
    add_format_option,
    add_output_option,
    add_pack_options,
    add_stage_option,
    add_terms_options,
    add_units_option,
)
from swaplint.cli.reading import rule_base
from swaplint.cli.statuses import status_of
from swaplint.host.problems import Problem
from swaplint.making.takeoff import TakeOff, take_off

_DESCRIPTION = """List what a build asks to buy, cut and make: parts that nobody supplies yet, cables with their
lengths, fuses and relays, hose and pipe, fluids, bolts, propshafts, holes, gaps to keep. Every number is one of the
spec or of the worksheet. A row that rests on an assumption, an estimate, a common-practice fallback or a value that a
failing rule, or one that leaves it to a person, may yet change is marked with it: do not cut by that row before it is
settled. What is cut or filled holds more than the run or the system takes: 15 % and 5 %, common practice.
"""
_EXAMPLES = """examples:
  swaplint takeoff my-swap.toml
  swaplint takeoff my-swap.toml --format csv -o order.csv      what is bought together, for a spreadsheet
  swaplint takeoff my-swap.toml --format json -o takeoff.json
"""


def configure(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description, parser.epilog = _DESCRIPTION, _EXAMPLES
    parser.add_argument("spec", metavar="SPEC", help=ONE_SPEC)
    add_terms_options(parser)
    add_stage_option(parser)
    add_format_option(parser, "text", "csv", "json")
    add_output_option(parser)
    add_pack_options(parser)
    add_units_option(parser)


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    base = rule_base(options.pack)
    inspection, problems = inspected_spec(base, options)
    problems = [*base.problems, *problems]
    if inspection is not None:
        made = take_off(base, inspection)
        problems += made.problems
        made.problems = list(problems)
        failed = _write(made, options)
        if failed is not None:
            problems.append(failed)
    say(problems)
    return status_of(problems)


def _write(made: TakeOff, options: argparse.Namespace) -> Problem | None:
    if options.format == "json":
        from swaplint.reports.json_report import dumps
        from swaplint.reports.takeoff_json import takeoff_json

        return write_out(dumps(takeoff_json(made)), options.output)
    if options.format == "csv":
        from swaplint.reports.takeoff_csv import takeoff_csv

        # Without the mark some spreadsheets take a file for one of an old code page.
        mark = "" if options.output is None else "\ufeff"
        return write_out(mark + takeoff_csv(made), options.output)
    from swaplint.reports.takeoff_text import takeoff_sheet

    return write_sheet(lambda width: takeoff_sheet(made, width), options.output)
