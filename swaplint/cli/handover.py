"""`swaplint handover`: the sheet for the owner, and for the engineer who signs."""

from __future__ import annotations

import argparse

from swaplint.cli.made import add_sheet_options, made_of_inspection
from swaplint.cli.program import add_stage_option, add_terms_options
from swaplint.making.handover import HandOver, hand_over
from swaplint.reports.layout import Sheet

_DESCRIPTION = """Write the sheet that goes with the finished vehicle, for the owner and for the engineer who signs:
what still stands, which departures were accepted and by whom, what was measured and what the rules make of it, fluids
and their volumes, fuses, what is to be looked after and when, cautions, what no spec can show, and the hashes of the
files that say so. It claims no approval.
"""
_EXAMPLES = """examples:
  swaplint handover my-swap.toml
  swaplint handover my-swap.toml --deviations signed.toml --on 2026-06-15
  swaplint handover my-swap.toml --format markdown -o hand-over.md
"""


def configure(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description, parser.epilog = _DESCRIPTION, _EXAMPLES
    add_terms_options(parser)
    add_stage_option(parser)
    add_sheet_options(parser, "markdown", "json")


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    return made_of_inspection(options, hand_over, {"markdown": _markdown, "json": _json}, _sheet)


def _markdown(made: HandOver) -> str:
    from swaplint.reports.handover_markdown import handover_markdown

    return handover_markdown(made)


def _json(made: HandOver) -> str:
    from swaplint.reports.handover_json import handover_json
    from swaplint.reports.json_report import dumps

    return dumps(handover_json(made))


def _sheet(made: HandOver, width: int) -> Sheet:
    from swaplint.reports.handover_text import handover_sheet

    return handover_sheet(made, width)
