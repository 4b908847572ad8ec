"""`swaplint inspect`: run the rules over build specs."""

from __future__ import annotations

import argparse
import functools
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import AbstractContextManager, nullcontext

from swaplint import __version__
from swaplint.cli.earlier import earlier_named
from swaplint.cli.inspect_one import Call, Done, specs_inspected
from swaplint.cli.output import (
    complain,
    hush,
    problem_sentence,
    reader_has_gone,
    refuse,
    say,
    say_beside,
    tell,
    with_problems,
    write_out,
    write_sheet,
)
from swaplint.cli.program import (
    add_format_option,
    add_output_option,
    add_pack_options,
    add_selection_options,
    add_stage_option,
    add_terms_options,
    add_units_option,
    from_one,
)
from swaplint.cli.progress import Tell, progress
from swaplint.cli.reading import load_error, read_stdin, rule_base, sheet_folders_of, specs_named
from swaplint.cli.statuses import OK, SHUT, UNREADABLE, status_of
from swaplint.gating.gate import GATE_LEVELS
from swaplint.gating.terms import terms_of
from swaplint.host.packs import RuleBase
from swaplint.host.problems import Problem
from swaplint.host.streams import let_go, report_stream
from swaplint.inspecting.results import Report
from swaplint.inspecting.selection import selection_of
from swaplint.solving.remedies import Wanted
from swaplint.spec.files_read import FILES_READ
from swaplint.spec.loaded import SpecErrors

_DESCRIPTION = """Run every rule over one or several build specs and report what was found, what is allowed, by what
margin, which lines of the spec that rests on, where the limit comes from, and what is still unknown.
"""
_EXAMPLES = """examples:
  swaplint inspect my-swap.toml
  swaplint inspect my-swap.toml --stage build          as strict as the build stage asks
  swaplint inspect my-swap.toml --format json          for a program to read
  swaplint inspect quotes --format jsonl               every spec in a folder, each a line as soon as it is known
  swaplint inspect a.toml b.toml --format sarif -o swaps.sarif
  swaplint inspect my-swap.toml --format html -o my-swap.html
  swaplint inspect my-swap.toml --system fuel --rule gearing.crawl
  swaplint inspect quotes --policy gate.toml --deviations signed.toml
  swaplint inspect - < my-swap.toml                    read the spec from standard input
  swaplint inspect built.toml --earlier planned.toml   what was built otherwise, and whether it matters
  swaplint inspect quotes --earlier accepted.json      shut only by what is new or worse than was accepted
"""


def configure(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description, parser.epilog = _DESCRIPTION, _EXAMPLES
    parser.add_argument(
        "spec",
        nargs="+",
        metavar="SPEC",
        help="a build spec, a folder for every build spec directly in it, or - for standard input",
    )
    parser.add_argument(
        "--gate",
        choices=GATE_LEVELS,
        default="error",
        help="the level of a fail, or of an answer that is due, which shuts the gate (default: error)",
    )
    add_terms_options(parser)
    parser.add_argument(
        "--earlier",
        metavar="OLD",
        help="say what is new, solved, worse or better than in OLD. OLD is a build spec, inspected as this one is, "
        "which the gate takes no notice of; or a JSON or jsonl report that was kept, with each spec under the same "
        "path: what fails there is accepted, and only what is new or worse shuts the gate",
    )
    parser.add_argument(
        "--whole",
        action="store_true",
        help="text and jsonl: every result, with everything that it rests on; html: all of it unfolded, as to print it",
    )
    parser.add_argument(
        "--profile",
        choices=("whole", "code-scanning"),
        help="with --format sarif: everything (as without it), or only what code-scanning services can show",
    )
    parser.add_argument(
        "--without-prices",
        action="store_true",
        help="a customer's copy: leave out prices and what is worked out of them",
    )
    parser.add_argument("--no-remedies", action="store_true", help="do not look for the nearest change that would pass")
    parser.add_argument(
        "--cores", type=from_one, metavar="N", help="how many specs to inspect side by side (default: all)"
    )
    parser.add_argument("--timing", action="store_true", help="say on standard error what each part of the run cost")
    add_stage_option(parser)
    add_selection_options(parser)
    add_format_option(parser, "text", "json", "jsonl", "sarif", "html")
    add_output_option(parser)
    add_pack_options(parser)
    add_units_option(parser)


def _pointless(options: argparse.Namespace) -> str:
    """Which option another makes pointless, as a sentence; empty where each has its use."""
    if options.profile and options.format != "sarif":
        return "--profile is for --format sarif alone"
    if options.whole and options.format == "json":
        return "--format json holds everything as it is: --whole is for text, jsonl and html"
    if options.whole and options.format == "sarif":
        return "--whole is for text, jsonl and html: with --format sarif it is --profile whole, the usual one"
    return ""


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    pointless = _pointless(options)
    if pointless:
        return refuse("inspect", pointless)
    try:
        run = _Run(options)
    except ValueError as error:
        return refuse("inspect", error)
    except SpecErrors as wrong:
        say(load_error(error) for error in wrong.errors)
        tell("Nothing was inspected.")
        return UNREADABLE
    try:
        run.inspect()
    except OSError as error:
        if not reader_has_gone(error):
            raise
        hush()  # whoever reads the report has had enough; the gate is as it is
        for _ in run.results:
            pass
    run.clock("writing the report")
    run.say_problems()
    for notice in run.told:
        tell(notice)
    if options.timing:
        run.say_timing()
    return run.status()


def _remedies_shown(options: argparse.Namespace, specs: int) -> Wanted:
    """The remedies that the report has room for: a short sheet shows the first of each, the table of many none."""
    if options.no_remedies:
        return "none"
    if options.format != "text" or options.whole:
        return "all"
    from swaplint.reports.text import MANY

    if specs >= MANY:
        return "none"
    return "all" if options.system or options.rule else "first"


class _Run:
    """One call: the specs one after another, and what is written of them."""

    def __init__(self, options: argparse.Namespace) -> None:
        self.options = options
        self.ticks = [("start", time.perf_counter())]
        self.base: RuleBase = rule_base(options.pack)
        self.clock("loading the rule packs")
        folders, problems = sheet_folders_of(options.sheets)
        earlier, earlier_spec = earlier_named(options.earlier, folders, self.base)
        self.specs, wrong = specs_named(options.spec, self.base)
        self.report = Report(__version__, self.base.packs, [], [*self.base.problems, *problems, *wrong])
        self.call = Call(
            base=self.base,
            packs=tuple(options.pack),
            folders=tuple(folders),
            stage=options.stage,
            gate=options.gate,
            remedies=_remedies_shown(options, len(self.specs)),
            format=options.format,
            whole=options.whole,
            without_prices=options.without_prices,
            stdin=read_stdin() if "-" in self.specs else None,
            selection=selection_of(self.base, options.system, options.rule),
            terms=terms_of(self.base, options.policy, options.deviations, options.on),
            earlier=earlier,
            earlier_spec=earlier_spec,
        )
        self.report.problems += self.call.terms.problems
        self.report.selection = self.call.selection
        self.gates_open = True
        self.seconds: dict[str, float] = {}
        self.told: dict[str, None] = {}
        self.results = self._results()

    def _results(self) -> Iterator[Done]:
        """What came of each spec, in the order given."""
        with self._progress() as tell:
            for number, done in enumerate(specs_inspected(self.call, self.specs, self.options.cores), 1):
                self._take(done.problems)
                self.told.update(dict.fromkeys(done.told))
                self.gates_open = self.gates_open and done.gate_open
                FILES_READ.note_all(done.files)
                for rule, cost in done.seconds.items():
                    self.seconds[rule] = self.seconds.get(rule, 0.0) + cost
                tell(number)
                yield done

    def _take(self, problems: Sequence[Problem]) -> None:
        """Take the problems of a spec; what shuts every gate alike is told once."""
        if problems:
            told = {problem for problem in self.report.problems if problem.about == "gate"}
            self.report.problems += [problem for problem in problems if problem not in told]

    def _progress(self) -> AbstractContextManager[Tell]:
        """Progress on standard error, unless the lines of the report appear on the same terminal one by one."""
        if self.options.format == "jsonl" and self.options.output is None and report_stream().isatty():
            return nullcontext(lambda done: None)
        return progress("inspecting", len(self.specs) if len(self.specs) > 1 else None)

    def clock(self, what: str) -> None:
        """Note that a part of the run is done."""
        self.ticks.append((what, time.perf_counter()))

    def inspect(self) -> None:
        """Inspect the specs and write the report."""
        write: Callable[[], Problem | None] = {
            "jsonl": self._lines,
            "json": self._json,
            "sarif": self._sarif,
            "html": self._html,
            "text": self._text,
        }[self.options.format]
        failed = write()
        if failed is not None:
            self.report.problems.append(failed)

    def _out(self, text: str | Iterable[str]) -> Problem | None:
        return write_out(text, self.options.output)

    def _lines(self) -> Problem | None:
        from swaplint.reports.json_report import last_line_json, line

        if self.options.output is None:
            for done in self.results:
                report_stream().write(done.line)
                let_go()
            report_stream().write(line(last_line_json(self.report)))
            return None
        lines = [done.line for done in self.results]
        return self._out("".join([*lines, line(last_line_json(self.report))]))

    def _json(self) -> Problem | None:
        from swaplint.reports.json_report import pieces, whole_json

        specs = [done.shown for done in self.results if done.shown is not None]
        self.clock("running the rules, tolerances and remedies")
        return self._out(pieces(whole_json(self.report, specs)))

    def _take_inspections(self) -> None:
        self.report.inspections = [done.inspection for done in self.results if done.inspection is not None]
        self.clock("running the rules, tolerances and remedies")

    def _sarif(self) -> Problem | None:
        from swaplint.reports.sarif import pieces, sarif

        self._take_inspections()
        log, left_out = sarif(self.report, profile=self.options.profile or "whole")
        for words in left_out:
            complain(words + "\n")
        return self._out(pieces(log))

    def _html(self) -> Problem | None:
        from swaplint.reports.html.page import inspection_page

        sheets = [done.page for done in self.results if done.page is not None]
        self.clock("running the rules, tolerances and remedies")
        troubles = map(problem_sentence, self.report.problems)
        return self._out(inspection_page(sheets, troubles, unfolded=self.options.whole))

    def _text(self) -> Problem | None:
        from swaplint.reports.text import inspection_sheet

        self._take_inspections()
        sheet = functools.partial(
            inspection_sheet,
            self.report,
            level=self.options.gate,
            whole=self.options.whole,
            unreadable=len(self.specs) - len(self.report.inspections),
        )
        return write_sheet(lambda width: with_problems(sheet(width=width), self.report.problems), self.options.output)

    def status(self) -> int:
        """The exit status: what could not be read goes before what broke, and that before the gate."""
        status = status_of(self.report.problems)
        return status if status != OK else OK if self.gates_open else SHUT

    def say_problems(self) -> None:
        """Say on standard error what could not be read, loaded or run."""
        if self.options.format == "text":
            say_beside(self.options.output, self.report.problems)
        else:
            say(self.report.problems)

    def say_timing(self) -> None:
        """Say on standard error what each part of the run cost."""
        complain("What the run cost, in milliseconds:\n")
        for (_, before), (name, after) in zip(self.ticks, self.ticks[1:], strict=False):
            complain(f"  {(after - before) * 1000:8.2f}  {name}\n")
        for rule, cost in sorted(self.seconds.items(), key=lambda item: -item[1]):
            complain(f"  {cost * 1000:8.2f}  {rule}\n")
