"""`swaplint inspect`: run the rules over build specs."""

from __future__ import annotations

import argparse
import sys
import time

from swaplint import __version__
from swaplint.cli.common import hush, load_specs, overwrites, rule_base, say, status_of, write_out
from swaplint.cli.program import OK, SHUT, add_pack_options
from swaplint.host.problems import Problem
from swaplint.inspecting.memory import Memory
from swaplint.inspecting.results import Report
from swaplint.solving.whole import inspect_whole
from swaplint.spec.job import STAGES

_DESCRIPTION = """Run every rule over one or several build specs and report what was found, what is allowed, by what
margin, which lines of the spec that rests on, where the limit comes from, and what is still unknown.
"""
_EXAMPLES = """examples:
  swaplint inspect my-swap.toml
  swaplint inspect my-swap.toml --stage build          as strict as the build stage asks
  swaplint inspect my-swap.toml --format json          for a program to read
  swaplint inspect a.toml b.toml --format sarif --output swaps.sarif
  swaplint inspect - < my-swap.toml                    read the spec from standard input
"""


def configure(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description, parser.epilog = _DESCRIPTION, _EXAMPLES
    parser.add_argument("spec", nargs="+", metavar="SPEC", help="a build spec, or - for standard input")
    parser.add_argument(
        "--format",
        choices=("text", "json", "sarif"),
        default="text",
        help="what the report is written as (default: text)",
    )
    parser.add_argument("--output", metavar="FILE", help="write the report to a file instead of standard output")
    parser.add_argument("--stage", choices=STAGES, help="judge as for this stage, whatever the spec says")
    parser.add_argument(
        "--gate",
        choices=("error", "warning", "note", "never"),
        default="error",
        help="the level of fail that shuts the gate (default: error)",
    )
    parser.add_argument(
        "--profile",
        choices=("whole", "code-scanning"),
        default="whole",
        help="with --format sarif: everything, or only what code-scanning services can show",
    )
    parser.add_argument(
        "--brief",
        action="store_true",
        help="text: leave out what passes or does not apply, and all but the first twenty fields to find out next",
    )
    parser.add_argument("--no-remedies", action="store_true", help="do not look for the nearest change that would pass")
    parser.add_argument("--timing", action="store_true", help="say on standard error what each part of the run cost")
    add_pack_options(parser)


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    clock = [("start", time.perf_counter())]
    base = rule_base(options.pack)
    clock.append(("loading the rule packs", time.perf_counter()))
    specs, problems = load_specs(options.spec, options.sheets, base)
    clock.append(("reading the specs", time.perf_counter()))
    report = Report(__version__, base.packs, [], [*base.problems, *problems])
    memory = Memory() if len(specs) > 1 else None
    for spec in specs:
        inspection, broken = inspect_whole(base, spec, options.stage, remedies=not options.no_remedies, memory=memory)
        report.inspections.append(inspection)
        report.problems.extend(broken)
    clock.append(("running the rules, tolerances and remedies", time.perf_counter()))
    failed = overwrites(options.output, options.spec, specs)
    if failed is None:
        try:
            failed = _write(report, options)
        except BrokenPipeError:  # whoever reads the report has had enough; the gate is as it is
            hush()
    clock.append(("writing the report", time.perf_counter()))
    if failed is not None:
        report.problems.append(failed)
    say(report.problems)
    if options.timing:
        _say_timing(report, clock)
    return _status(report, options.gate)


def _write(report: Report, options: argparse.Namespace) -> Problem | None:
    if options.format == "json":
        from swaplint.reports.json_report import dumps, inspection_json

        return write_out(dumps(inspection_json(report)), options.output)
    if options.format == "sarif":
        from swaplint.reports.sarif import dumps as sarif_text
        from swaplint.reports.sarif import sarif

        log, left_out = sarif(report, profile=options.profile)
        for line in left_out:
            sys.stderr.write(line + "\n")
        return write_out(sarif_text(log), options.output)
    from swaplint.reports.layout import PIPE_WIDTH, plain, width_of, write
    from swaplint.reports.text import inspection_sheet

    if options.output is not None:
        return write_out(
            plain(inspection_sheet(report, PIPE_WIDTH, options.gate, brief=options.brief).lines), options.output
        )
    write(inspection_sheet(report, width_of(sys.stdout), options.gate, brief=options.brief))
    return None


def _status(report: Report, gate: str) -> int:
    status = status_of(report.problems)
    if status != OK:
        return status
    return SHUT if any(inspection.shuts(gate) for inspection in report.inspections) else OK


def _say_timing(report: Report, clock: list[tuple[str, float]]) -> None:
    sys.stderr.write("What the run cost, in milliseconds:\n")
    for (_, before), (name, after) in zip(clock, clock[1:], strict=False):
        sys.stderr.write(f"  {(after - before) * 1000:8.2f}  {name}\n")
    seconds: dict[str, float] = {}
    for inspection in report.inspections:
        for rule, cost in inspection.seconds.items():
            seconds[rule] = seconds.get(rule, 0.0) + cost
    for rule, cost in sorted(seconds.items(), key=lambda item: -item[1]):
        sys.stderr.write(f"  {cost * 1000:8.2f}  {rule}\n")
