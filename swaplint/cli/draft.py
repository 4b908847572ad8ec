"""`swaplint draft`: write a new build spec to fill in."""

from __future__ import annotations

import argparse
import os
import sys

from swaplint.cli.output import refuse, say, write_out
from swaplint.cli.program import add_pack_option, add_units_option
from swaplint.cli.reading import rule_base
from swaplint.cli.statuses import UNREADABLE, status_of
from swaplint.spec.job import STAGES
from swaplint.spec.systems import SYSTEMS
from swaplint.writing.draft import draft

_DESCRIPTION = """Write a new build spec to fill in: every field that the rules of the chosen systems read, each as a
commented line with its unit, a typical value, what it means and where it is found. The file is a valid spec from the
start; delete the # before a field to state it.
"""
_EXAMPLES = """examples:
  swaplint draft my-swap.toml
  swaplint draft my-swap.toml --system gearing --system mass
  swaplint draft my-swap.toml --stage quote --fuel petrol
  swaplint draft -                                      write to standard output
"""


def configure(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description, parser.epilog = _DESCRIPTION, _EXAMPLES
    parser.add_argument("file", metavar="FILE", help="the file to write, or - for standard output")
    parser.add_argument("--stage", choices=STAGES, default="plan", help="how far the job is (default: plan)")
    parser.add_argument(
        "--system",
        action="append",
        default=[],
        choices=SYSTEMS,
        metavar="SYSTEM",
        help=f"a system of the job to write the fields of, may be repeated (default: all): {', '.join(SYSTEMS)}",
    )
    parser.add_argument("--fuel", choices=("diesel", "petrol"), help="what the engine burns")
    parser.add_argument("--replace", action="store_true", help="write over a file that is there already")
    add_pack_option(parser)
    add_units_option(parser)


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    to_file = options.file != "-"
    if to_file and os.path.lexists(options.file) and not options.replace:
        return refuse("draft", f"{options.file} is there already; --replace writes over it")
    base = rule_base(options.pack)
    say(base.problems)
    for system in options.system:
        if not any(rule.system == system for _, rule in base.rules):
            sys.stderr.write(f"swaplint draft: no loaded rule belongs to the system {system}.\n")
    text, _ = draft(base, stage=options.stage, systems=options.system, fuel=options.fuel)
    failed = write_out(text, options.file if to_file else None)
    if failed is not None:
        say([failed])
        return UNREADABLE
    return status_of(base.problems)
