"""`swaplint draft`: write a new build spec to fill in."""

from __future__ import annotations

import argparse
import os
import re

from swaplint.cli.output import refuse, say, tell, write_out
from swaplint.cli.program import add_pack_option, add_selection_options, add_units_option
from swaplint.cli.reading import rule_base
from swaplint.cli.statuses import UNREADABLE, status_of
from swaplint.inspecting.selection import selected, selection_of
from swaplint.reports.naming import counted
from swaplint.spec.job import STAGES
from swaplint.writing.draft import draft

_DESCRIPTION = """Write a new build spec to fill in: each field as a commented line with its unit, a typical value, what
it means and where it is found. At the idea stage it holds what the first decision takes, gearbox, axle ratio and tyres,
and later what the stage needs; for the systems or rules that you name it holds all that they read. The file is a valid
spec from the start; delete the # before a field to state it.
"""
_EXAMPLES = """examples:
  swaplint draft my-swap.toml                           the first day: what the axle ratio hangs on
  swaplint draft my-swap.toml --system gearing --system mass
  swaplint draft my-swap.toml --rule gearing.crawl      the fields that one rule reads
  swaplint draft my-swap.toml --stage quote --fuel petrol
  swaplint draft my-swap.toml --whole                   every field that any rule reads: more than a thousand
  swaplint draft -                                      write to standard output
"""


def configure(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description, parser.epilog = _DESCRIPTION, _EXAMPLES
    parser.add_argument("file", metavar="FILE", help="the file to write, or - for standard output")
    parser.add_argument("--fuel", choices=("diesel", "petrol"), help="what the engine burns")
    parser.add_argument("--replace", action="store_true", help="write over a file that is there already")
    parser.add_argument("--whole", action="store_true", help="every field that any rule reads, whatever the stage")
    parser.add_argument("--stage", choices=STAGES, default="idea", help="how far the job is (default: idea)")
    add_selection_options(parser, "only the fields that this rule reads")
    add_pack_option(parser)
    add_units_option(parser)


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    to_file = options.file != "-"
    if options.replace and not to_file:
        return refuse("draft", "--replace is for a file: standard output holds nothing to write over")
    if to_file and os.path.lexists(options.file) and not options.replace:
        return refuse("draft", f"{options.file} is there already; --replace writes over it")
    base = rule_base(options.pack)
    try:
        selection = selection_of(base, options.system, options.rule)
    except ValueError as error:
        return refuse("draft", error)
    say(base.problems)
    for system in selection.systems:
        if not any(rule.system == system for _, rule in base.rules):
            tell(f"swaplint draft: no loaded rule belongs to the system {system}.")
    only_needed = not (selection or options.whole)
    text, _ = draft(selected(base, selection), stage=options.stage, fuel=options.fuel, only_needed=only_needed)
    failed = write_out(text, options.file if to_file else None)
    if failed is not None:
        say([failed])
        return UNREADABLE
    if to_file:
        tell(_done(text, options.file))
    return status_of(base.problems)


def _done(text: str, name: str) -> str:
    """What was written, and what comes next."""
    fields = [line for line in text.splitlines() if re.match(r"# [a-z_.0-9]+ = ", line)]
    marked = sum("  # [now] " in line for line in fields)
    first = f", {marked} of them first, which are marked [now]" if marked else ""
    shown = f'"{name}"' if " " in name else name
    return f"wrote {name}: {counted(len(fields), 'field')} to fill in{first}; next: swaplint inspect {shown}"
