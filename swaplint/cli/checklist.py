"""`swaplint checklist`: what is done and measured at a stage of the job, in working order."""

from __future__ import annotations

import argparse

from swaplint.cli.output import say, write_out, write_sheet
from swaplint.cli.program import (
    ONE_SPEC,
    add_format_option,
    add_output_option,
    add_pack_options,
    add_units_option,
)
from swaplint.cli.reading import load_the_spec, rule_base
from swaplint.cli.statuses import status_of
from swaplint.host.problems import Problem
from swaplint.inspecting.inspection import stage_of
from swaplint.making.checklist import STAGES_WITH_STEPS, Checklist, checklist

_DESCRIPTION = """List what is done and measured on the vehicle, in working order, and only what this build has: before
lifting, before the battery is connected, before the first crank, at the first start, in the first hour, on the first
drive, in the first hundred hours and every year. Each step says with which instrument, how, what to expect by the
spec's own numbers, what is allowed and whose limit that is, when to stop at once, and which field of the spec takes the
answer.

As a table (csv) its last column takes the answers, and 'swaplint fill SPEC --from FILE' puts them into the spec.
"""
_EXAMPLES = """examples:
  swaplint checklist my-swap.toml                          the steps of the stage that the spec is at
  swaplint checklist my-swap.toml --stage commission       from the last look before the first crank on
  swaplint checklist my-swap.toml --format csv -o walk.csv
  swaplint fill my-swap.toml --from walk.csv               the answers back out of it
"""


def configure(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description, parser.epilog = _DESCRIPTION, _EXAMPLES
    parser.add_argument("spec", metavar="SPEC", help=ONE_SPEC)
    parser.add_argument(
        "--stage",
        choices=STAGES_WITH_STEPS,
        help="only the steps of this stage (default: the stage of the spec; before it, both)",
    )
    add_format_option(parser, "text", "markdown", "csv", "json")
    add_output_option(parser)
    add_pack_options(parser)
    add_units_option(parser)


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    base = rule_base(options.pack)
    spec, problems = load_the_spec(options.spec, options.sheets, base)
    problems = [*base.problems, *problems]
    if spec is not None:
        stage = options.stage or stage_of(spec)
        made = checklist(base, spec, [stage] if stage in STAGES_WITH_STEPS else STAGES_WITH_STEPS)
        problems += made.problems
        made.problems = list(problems)
        failed = _write(made, options.format, options.output)
        if failed is not None:
            problems.append(failed)
    say(problems)
    return status_of(problems)


def _write(made: Checklist, form: str, output: str | None) -> Problem | None:
    if form == "json":
        from swaplint.reports.checklist_json import checklist_json
        from swaplint.reports.json_report import dumps

        return write_out(dumps(checklist_json(made)), output)
    if form == "csv":
        from swaplint.reports.checklist_table import checklist_table

        # Without the mark some spreadsheets take a file for an old code page.
        return write_out(("\ufeff" if output is not None else "") + checklist_table(made), output)
    if form == "markdown":
        from swaplint.reports.checklist_markdown import checklist_markdown

        return write_out(checklist_markdown(made), output)
    from swaplint.reports.checklist_text import checklist_sheet

    return write_sheet(lambda width: checklist_sheet(made, width), output)
