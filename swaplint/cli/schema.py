"""`swaplint schema`: print the JSON Schema of a build spec, a data sheet, a policy or a file of deviations."""

from __future__ import annotations

import argparse
import json

from swaplint.cli.output import refuse, say, write_out
from swaplint.cli.program import add_output_option, add_pack_option
from swaplint.cli.reading import rule_base
from swaplint.cli.statuses import UNREADABLE, status_of
from swaplint.gating.policy import PolicyFile
from swaplint.host.problems import Problem
from swaplint.spec.deviations import DeviationsFile
from swaplint.spec.facts import nearest
from swaplint.spec.schema import Json, build_schema, file_schema, sheet_kinds, sheet_schema

_DESCRIPTION = """Print the JSON Schema (draft 2020-12) of a build spec, or of a data sheet: every field with its
meaning, unit, typical value, the range that real vehicles have and where the value is found.

An editor that knows TOML schemas then completes, explains and checks the file as you write. Store the schema beside
the spec and name it in the first line of the spec:

  #:schema ./swaplint.schema.json
"""
_EXAMPLES = """examples:
  swaplint schema -o swaplint.schema.json               of a build spec
  swaplint schema --list                                the kinds of data sheet
  swaplint schema --sheet engine -o engine.schema.json
  swaplint schema --policy -o policy.schema.json        of a shop's policy
  swaplint schema --pack my_rules.py                    with the fields that a rule pack adds
"""


def configure(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description, parser.epilog = _DESCRIPTION, _EXAMPLES
    what = parser.add_mutually_exclusive_group()
    what.add_argument("--sheet", metavar="KIND", help="of the data sheet of this kind of part, instead of a build spec")
    what.add_argument("--policy", action="store_true", help="of a shop's policy, for 'swaplint inspect --policy'")
    what.add_argument(
        "--deviations", action="store_true", help="of a shop's file of deviations, for 'swaplint inspect --deviations'"
    )
    what.add_argument("--list", action="store_true", help="list the kinds of data sheet")
    add_output_option(parser)
    add_pack_option(parser)


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    base = rule_base(options.pack)
    say(base.problems)
    kinds = sheet_kinds(base.model)
    if options.list:
        width = max(map(len, kinds))
        lines = [f"{kind:<{width}}  {(part.__doc__ or '').strip()}" for kind, part in kinds.items()]
        failed = write_out("\n".join(lines) + "\n", options.output)
    elif options.policy:
        failed = _write(file_schema("Policy", PolicyFile), options.output)
    elif options.deviations:
        failed = _write(file_schema("File of deviations", DeviationsFile), options.output)
    elif options.sheet is None:
        failed = _write(build_schema(base.model), options.output)
    elif options.sheet in kinds:
        failed = _write(sheet_schema(options.sheet, base.model), options.output)
    else:
        near = nearest(options.sheet, set(kinds))
        hint = f"did you mean '{near}'?" if near else "'swaplint schema --list' lists them"
        return refuse("schema", f"there is no data sheet of the kind '{options.sheet}'; {hint}")
    if failed is not None:
        say([failed])
        return UNREADABLE
    return status_of(base.problems)


def _write(schema: Json, output: str | None) -> Problem | None:
    return write_out(json.dumps(schema, indent=1, ensure_ascii=False) + "\n", output)
