"""`swaplint checklist`: what is done and measured at a stage of the job, in working order."""

from __future__ import annotations

import argparse

from swaplint.cli.made import add_sheet_options, written
from swaplint.cli.reading import load_the_spec, rule_base
from swaplint.inspecting.inspection import stage_of
from swaplint.making.checklist import STAGES_WITH_STEPS, Checklist, checklist
from swaplint.reports.layout import Sheet

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
    parser.add_argument(
        "--stage",
        choices=STAGES_WITH_STEPS,
        help="only the steps of this stage (default: the stage of the spec; before it, both)",
    )
    add_sheet_options(parser, "markdown", "csv", "json")


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    base = rule_base(options.pack)
    spec, problems = load_the_spec(options.spec, options.sheets, base)
    made = None
    if spec is not None:
        stage = options.stage or stage_of(spec)
        made = checklist(base, spec, [stage] if stage in STAGES_WITH_STEPS else STAGES_WITH_STEPS)
    return written(options, base, problems, made, {"markdown": _markdown, "csv": _csv, "json": _json}, _sheet)


def _markdown(made: Checklist) -> str:
    from swaplint.reports.checklist_markdown import checklist_markdown

    return checklist_markdown(made)


def _csv(made: Checklist) -> str:
    from swaplint.reports.checklist_table import checklist_table

    return checklist_table(made)


def _json(made: Checklist) -> str:
    from swaplint.reports.checklist_json import checklist_json
    from swaplint.reports.json_report import dumps

    return dumps(checklist_json(made))


def _sheet(made: Checklist, width: int) -> Sheet:
    from swaplint.reports.checklist_text import checklist_sheet

    return checklist_sheet(made, width)
