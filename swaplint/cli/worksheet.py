"""`swaplint worksheet`: every derived number of a build, with what it is computed from."""

from __future__ import annotations

import argparse

from swaplint.cli.output import refuse, say, say_beside, with_problems, write_out, write_sheet
from swaplint.cli.program import (
    ONE_SPEC,
    add_format_option,
    add_output_option,
    add_pack_options,
    add_selection_options,
    add_units_option,
)
from swaplint.cli.reading import load_the_spec, rule_base
from swaplint.cli.statuses import status_of
from swaplint.host.problems import Problem
from swaplint.inspecting.selection import selection_of
from swaplint.inspecting.worksheet import Worksheet, quantity_ids, worksheet
from swaplint.reports.layout import Sheet

_DESCRIPTION = """List every number that is derived from a build spec. With the id of one, or of several: how it is
computed, as a calculation to follow with a pencil, with every number beneath it down to the lines of the spec. With
--whole: every number with its formula, inputs and source, what a number is computed from above it. One build spec at
a time.
"""
_EXAMPLES = """examples:
  swaplint worksheet my-swap.toml
  swaplint worksheet my-swap.toml gearing.cruise-rpm       this number and all beneath it
  swaplint worksheet my-swap.toml --system gearing --system fuel
  swaplint worksheet my-swap.toml --rule gearing.crawl     the numbers that a rule reads
  swaplint worksheet my-swap.toml --format json -o my-swap.worksheet.json
"""


def configure(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description, parser.epilog = _DESCRIPTION, _EXAMPLES
    parser.add_argument("spec", metavar="SPEC", help=ONE_SPEC)
    parser.add_argument("ids", nargs="*", metavar="ID", help="a number to follow from the lines of the spec, by its id")
    parser.add_argument("--whole", action="store_true", help="text: every number with formula, inputs and source")
    add_selection_options(parser, "only the numbers that this rule reads")
    add_format_option(parser, "text", "json")
    add_output_option(parser)
    add_pack_options(parser)
    add_units_option(parser)


def _pointless(options: argparse.Namespace) -> str:
    """Which option another makes pointless, as a sentence; empty where each has its use."""
    if options.ids and (options.system or options.rule):
        return "name numbers by their ids, or choose by --system and --rule, not both"
    if options.whole and options.ids:
        return "a number that is named by its id is shown whole: --whole is for the sheet of all"
    if options.whole and options.format == "json":
        return "--format json holds everything as it is: --whole is for text"
    return ""


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    pointless = _pointless(options)
    if pointless:
        return refuse("worksheet", pointless)
    base = rule_base(options.pack)
    try:
        selection = selection_of(base, options.system, options.rule)
        ids = quantity_ids(base, options.ids)
    except ValueError as error:
        return refuse("worksheet", error)
    spec, problems = load_the_spec(options.spec, options.sheets, base)
    problems = [*base.problems, *problems]
    if spec is not None:
        sheet = worksheet(base, spec, selection, ids)
        problems += sheet.problems
        sheet.problems = list(problems)
        failed = _write(sheet, ids, options)
        if failed is not None:
            problems.append(failed)
    if options.format == "text" and spec is not None:
        say_beside(options.output, problems)
    else:
        say(problems)
    return status_of(problems)


def _write(sheet: Worksheet, ids: list[str], options: argparse.Namespace) -> Problem | None:
    if options.format == "json":
        from swaplint.reports.json_report import pieces
        from swaplint.reports.worksheet_json import worksheet_json

        return write_out(pieces(worksheet_json(sheet)), options.output)

    def text(width: int) -> Sheet:
        if ids:
            from swaplint.reports.worksheet_calculation import calculation_sheet

            return calculation_sheet(sheet, ids, width)
        if options.whole:
            from swaplint.reports.worksheet_text import worksheet_sheet

            return worksheet_sheet(sheet, width)
        from swaplint.reports.worksheet_results import results_sheet

        return results_sheet(sheet, width)

    return write_sheet(lambda width: with_problems(text(width), sheet.problems), options.output)
