"""`swaplint takeoff`: what to buy, cut and make for a build, from its spec."""

from __future__ import annotations

import argparse

from swaplint.cli.made import add_sheet_options, made_of_inspection
from swaplint.cli.program import add_stage_option, add_terms_options
from swaplint.making.takeoff import TakeOff, take_off
from swaplint.reports.layout import Sheet

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
    add_terms_options(parser)
    add_stage_option(parser)
    add_sheet_options(parser, "csv", "json")


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    return made_of_inspection(options, take_off, {"csv": _csv, "json": _json}, _sheet)


def _csv(made: TakeOff) -> str:
    from swaplint.reports.takeoff_csv import takeoff_csv

    return takeoff_csv(made)


def _json(made: TakeOff) -> str:
    from swaplint.reports.json_report import dumps
    from swaplint.reports.takeoff_json import takeoff_json

    return dumps(takeoff_json(made))


def _sheet(made: TakeOff, width: int) -> Sheet:
    from swaplint.reports.takeoff_text import takeoff_sheet

    return takeoff_sheet(made, width)
