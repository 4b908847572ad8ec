"""`swaplint worksheet`: every derived number of a build, with what it is computed from."""

from __future__ import annotations

import argparse
import sys

from swaplint.cli.output import say, write_out
from swaplint.cli.program import add_pack_options, add_units_option
from swaplint.cli.reading import load_specs, rule_base
from swaplint.cli.statuses import status_of
from swaplint.host.problems import Problem
from swaplint.inspecting.worksheet import Worksheet, worksheet
from swaplint.spec.fields import nearest
from swaplint.spec.systems import SYSTEMS

_DESCRIPTION = """List every number that is derived from a build spec, as a calculation sheet: its value, its formula,
what goes into it and where that is written, and the source of the formula. What a number is computed from stands
above it, so that the sheet can be redone by hand from top to bottom. One build spec at a time.
"""
_EXAMPLES = """examples:
  swaplint worksheet my-swap.toml
  swaplint worksheet my-swap.toml --system gearing fuel
  swaplint worksheet my-swap.toml --format json --output my-swap.worksheet.json

exit status: 0 the sheet was written, 2 the spec or the call could not be read, 3 a quantity or a plugin broke
(its numbers are missing, everything else is on the sheet)
"""


def configure(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description, parser.epilog = _DESCRIPTION, _EXAMPLES
    parser.add_argument("spec", metavar="SPEC", help="a build spec, or - for standard input")
    parser.add_argument("--format", choices=("text", "json"), default="text", help="(default: text)")
    parser.add_argument("--output", metavar="FILE", help="write to a file instead of standard output")
    parser.add_argument(
        "--system",
        action="extend",
        nargs="+",
        default=[],
        type=_system,
        metavar="SYSTEM",
        help="only the quantities of these systems; write it behind SPEC",
    )
    add_pack_options(parser)
    add_units_option(parser)


def _system(word: str) -> str:
    if word in SYSTEMS:
        return word
    near = nearest(word, SYSTEMS)
    hint = f"; did you mean '{near}'?" if near else f"; systems are {', '.join(SYSTEMS)}"
    raise argparse.ArgumentTypeError(f"{word!r} is not a system{hint}")


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    base = rule_base(options.pack)
    specs, problems = load_specs([options.spec], options.sheets, base)
    problems = [*base.problems, *problems]
    if specs:
        sheet = worksheet(base, specs[0], options.system)
        problems += sheet.problems
        sheet.problems = list(problems)
        failed = _write(sheet, options)
        if failed is not None:
            problems.append(failed)
    say(problems)
    return status_of(problems)


def _write(sheet: Worksheet, options: argparse.Namespace) -> Problem | None:
    if options.format == "json":
        from swaplint.reports.json_report import dumps
        from swaplint.reports.worksheet_json import worksheet_json

        return write_out(dumps(worksheet_json(sheet)), options.output)
    from swaplint.reports.layout import PIPE_WIDTH, plain, width_of, write
    from swaplint.reports.worksheet_text import worksheet_sheet

    if options.output is not None:
        return write_out(plain(worksheet_sheet(sheet, PIPE_WIDTH).lines), options.output)
    write(worksheet_sheet(sheet, width_of(sys.stdout)))
    return None
