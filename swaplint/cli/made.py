"""What the commands that make a sheet of one spec have in common: take-off, checklist and hand-over."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping
from typing import Protocol, TypeVar

from swaplint.cli.inspected import inspected_spec
from swaplint.cli.output import say, write_out, write_sheet
from swaplint.cli.program import ONE_SPEC, add_format_option, add_output_option, add_pack_options, add_units_option
from swaplint.cli.reading import rule_base
from swaplint.cli.statuses import status_of
from swaplint.host.packs import RuleBase
from swaplint.host.problems import Problem
from swaplint.inspecting.results import Inspection
from swaplint.reports.layout import Sheet


class Made(Protocol):
    """Something that is made of a spec, with what could not be read or run on the way."""

    problems: list[Problem]


M = TypeVar("M", bound=Made)
Texts = Mapping[str, Callable[[M], str]]
"""How each format but the text sheet is written: imported where it is asked for."""


def add_sheet_options(parser: argparse.ArgumentParser, *formats: str) -> None:
    """The spec, and how and where what is made of it is written."""
    parser.add_argument("spec", metavar="SPEC", help=ONE_SPEC)
    add_format_option(parser, "text", *formats)
    add_output_option(parser)
    add_pack_options(parser)
    add_units_option(parser)


def made_of_inspection(
    options: argparse.Namespace,
    make: Callable[[RuleBase, Inspection], M],
    texts: Texts[M],
    sheet: Callable[[M, int], Sheet],
) -> int:
    """Inspect the spec of a call, make something of what is found and write it. Returns the exit status."""
    base = rule_base(options.pack)
    inspection, problems = inspected_spec(base, options)
    made = None if inspection is None else make(base, inspection)
    return written(options, base, problems, made, texts, sheet)


def written(
    options: argparse.Namespace,
    base: RuleBase,
    problems: list[Problem],
    made: M | None,
    texts: Texts[M],
    sheet: Callable[[M, int], Sheet],
) -> int:
    """Write what was made, with all that went wrong on the way, and say that. Returns the exit status."""
    problems = [*base.problems, *problems]
    if made is not None:
        problems += made.problems
        made.problems = list(problems)
        failed = _write(made, options, texts, sheet)
        if failed is not None:
            problems.append(failed)
    say(problems)
    return status_of(problems)


def _write(made: M, options: argparse.Namespace, texts: Texts[M], sheet: Callable[[M, int], Sheet]) -> Problem | None:
    if options.format == "text":
        return write_sheet(lambda width: sheet(made, width), options.output)
    # Without the mark some spreadsheets take a file for one of an old code page.
    mark = "\ufeff" if options.format == "csv" and options.output is not None else ""
    return write_out(mark + texts[options.format](made), options.output)
