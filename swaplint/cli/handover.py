"""`swaplint handover`: the sheet for the owner, and for the engineer who signs."""

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
from swaplint.making.handover import HandOver, hand_over

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
    parser.add_argument("spec", metavar="SPEC", help=ONE_SPEC)
    add_terms_options(parser)
    add_stage_option(parser)
    add_format_option(parser, "text", "markdown", "json")
    add_output_option(parser)
    add_pack_options(parser)
    add_units_option(parser)


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    base = rule_base(options.pack)
    inspection, problems = inspected_spec(base, options)
    problems = [*base.problems, *problems]
    if inspection is not None:
        made = hand_over(base, inspection)
        problems += made.problems
        made.problems = list(problems)
        failed = _write(made, options)
        if failed is not None:
            problems.append(failed)
    say(problems)
    return status_of(problems)


def _write(made: HandOver, options: argparse.Namespace) -> Problem | None:
    if options.format == "json":
        from swaplint.reports.handover_json import handover_json
        from swaplint.reports.json_report import dumps

        return write_out(dumps(handover_json(made)), options.output)
    if options.format == "markdown":
        from swaplint.reports.handover_markdown import handover_markdown

        return write_out(handover_markdown(made), options.output)
    from swaplint.reports.handover_text import handover_sheet

    return write_sheet(lambda width: handover_sheet(made, width), options.output)
