"""The command `swaplint`: its help, and the way to each command."""

from __future__ import annotations

import argparse
import contextlib
import datetime
import importlib
import io
import os
import re
import shutil
import sys
import textwrap
from collections.abc import Sequence
from typing import Any, NoReturn

from swaplint import __version__
from swaplint.cli.output import cannot_be_written, complain, failed_to_write, hush, reader_has_gone, refused
from swaplint.cli.statuses import BROKEN, OK, UNREADABLE, statuses_of
from swaplint.host.signs import begin_without_packs
from swaplint.host.streams import report_stream
from swaplint.reports.layout import NARROWEST, PIPE_WIDTH
from swaplint.spec.files_read import FILES_READ
from swaplint.spec.job import STAGES
from swaplint.spec.systems import SYSTEMS
from swaplint.units.showing import UNIT_SYSTEMS, System, showing_in

COMMANDS = {
    "inspect": "run the rules over one or several build specs",
    "worksheet": "list every derived number of a build with its formula, inputs and source",
    "size": "find which values of one field pass, and what binds at each end",
    "study": "vary several fields together and rank the combinations",
    "takeoff": "list what to buy, cut and make: parts, cables, fuses, hose, fluids, bolts, shafts, gaps",
    "handover": "write the sheet for the owner and for the engineer who signs",
    "rulebook": "list the rules, or explain one rule whole",
    "schema": "print the JSON Schema of a build spec or of a data sheet, for editors and checkers",
    "draft": "write a new build spec to fill in",
    "fill": "answer what a build spec leaves open, into the file",
    "checklist": "list what is done and measured on the vehicle at a stage, in working order",
    "upgrade": "put a build spec into today's names of fields and parts",
}
"""The commands, each in a module of this package with `configure` and `execute`."""

_TOP = """Check an engine-swap build spec before money is spent, before steel is cut and before the keys change hands.

A build spec is a TOML file that describes the vehicle, the engine package, the driveline, the electrics and the
plumbing. Write what you know; what you do not know yet, leave out: the report says what to find out next.
"""

_TOP_END = """first steps:
  swaplint draft my-swap.toml            write a spec to fill in: what an axle ratio hangs on
  swaplint fill my-swap.toml             answer its questions, what most hangs on first
  swaplint inspect my-swap.toml          see what passes, what fails and what is still unknown
  swaplint size my-swap.toml FIELD       see which values of a field work, like an axle ratio
  swaplint worksheet my-swap.toml        see every number behind it
  swaplint rulebook gearing.cruise-rpm   see what one rule asks, computes and rests on

'swaplint COMMAND --help' says more of each, with examples and what its exit status means.
"""


class Help(argparse.RawDescriptionHelpFormatter):
    """Lays help out for the width at hand: paragraphs are filled, examples and other indented lines stay lines."""

    def __init__(self, prog: str) -> None:
        """A formatter for the terminal's width, within bounds."""
        columns = shutil.get_terminal_size((PIPE_WIDTH, 24)).columns
        super().__init__(prog, max_help_position=26, width=max(NARROWEST, min(PIPE_WIDTH, columns)) - 1)

    def _fill_text(self, text: str, width: int, indent: str) -> str:
        paragraphs = [self._paragraph(paragraph, width) for paragraph in text.strip("\n").split("\n\n")]
        return "\n\n".join(paragraphs)

    def _paragraph(self, text: str, width: int) -> str:
        lines = text.split("\n")
        if not any(line.startswith(" ") for line in lines):
            return textwrap.fill(" ".join(lines), width, break_on_hyphens=False)
        calls = [re.fullmatch(r"( +\S.*?)(?: {2,}(\S.*))?", line) for line in lines]
        column = max(len(call.group(1)) for call in calls if call) + 3
        if all(len(line) <= width for line in lines):
            return text
        pairs = zip(calls, lines, strict=True)
        return "\n".join(
            self._call(call.group(1), call.group(2), column, width) if call else line for call, line in pairs
        )

    def _call(self, call: str, does: str | None, column: int, width: int) -> str:
        """A call with what it does beside it, or below it where there is little room."""
        if does is None:
            return call
        if column > width - 24:
            return f"{call}\n" + textwrap.fill(does, width, initial_indent=" " * 8, subsequent_indent=" " * 8)
        return textwrap.fill(does, width, initial_indent=call.ljust(column), subsequent_indent=" " * column)

    def add_argument(self, action: argparse.Action) -> None:
        """Make room for the names of the commands, which stand further in."""
        super().add_argument(action)
        if isinstance(action, argparse._SubParsersAction):
            self._action_max_length += 2

    def _split_lines(self, text: str, width: int) -> list[str]:
        return textwrap.wrap(" ".join(text.split()), width, break_on_hyphens=False)


class Parser(argparse.ArgumentParser):
    """An argument parser whose errors are sentences on standard error, with exit status 2."""

    def error(self, message: str) -> NoReturn:
        """Say what is wrong with the call."""
        self.exit(refused(self.prog, message))

    def _print_message(self, message: str, file: Any = None) -> None:
        """Help is what the call asks for, and goes where a report goes."""
        if file is None or file is sys.stdout:
            report_stream().write(message)  # which may fail, and then says so
        else:
            super()._print_message(message, file)

    def _get_values(self, action: argparse.Action, arg_strings: list[str]) -> Any:
        """The value of an option, which argparse takes for none where it is written `--rule=--`."""
        if arg_strings == ["--"] and action.option_strings and action.nargs is None:
            value = self._get_value(action, "--")
            self._check_value(action, value)
            return value
        return super()._get_values(action, arg_strings)

    def _check_value(self, action: argparse.Action, value: object) -> None:
        if action.choices is None or value in action.choices:
            return
        # Imported here: only a mistake needs it.
        from swaplint.spec.facts import nearest

        choices = [str(choice) for choice in action.choices]
        near = nearest(str(value), choices)
        hint = f"; did you mean '{near}'?" if near else ""
        raise argparse.ArgumentError(action, f"{str(value)[:60]!r} is not one of {', '.join(choices)}{hint}")


ONE_SPEC = "a build spec, a folder with one in it, or - for standard input"
"""What the commands for one spec take."""


# -- options that commands share; each command adds its own first, then these in this order ----------------------------
def add_stage_option(parser: argparse.ArgumentParser) -> None:
    """The option by which a spec is judged as for another stage than its own."""
    parser.add_argument("--stage", choices=STAGES, help="judge as for this stage, whatever the spec says")


def add_selection_options(parser: argparse.ArgumentParser, what: str = "only this rule") -> None:
    """The options by which one looks at a part of the job: the same in every command."""
    parser.add_argument(
        "--system",
        action="append",
        default=[],
        metavar="NAME",
        help=f"only this system of the job; may be given again: {', '.join(SYSTEMS)}",
    )
    parser.add_argument("--rule", action="append", default=[], metavar="ID", help=f"{what}; may be given again")


def from_one(text: str) -> int:
    """A whole number from 1 on, for an option that takes one."""
    if not re.fullmatch(r"[0-9]{1,6}", text) or int(text) < 1:
        raise argparse.ArgumentTypeError(f"{text!r} is not a number from 1 on")
    return int(text)


def add_on_option(parser: argparse.ArgumentParser) -> None:
    """The option by which the day is chosen that a spec is judged on."""
    parser.add_argument(
        "--on",
        type=_day,
        metavar="DATE",
        help="judge what depends on the day as on this one, year-month-day (default: today)",
    )


def add_terms_options(parser: argparse.ArgumentParser) -> None:
    """The options by which one names what the shop judges by besides the rules."""
    parser.add_argument(
        "--policy", metavar="FILE", help="the shop's policy, for every spec ('swaplint schema --policy' describes it)"
    )
    parser.add_argument(
        "--deviations",
        action="append",
        default=[],
        metavar="FILE",
        help="departures that the shop signed for, in a file of its own, besides those in the spec; may be given again",
    )
    add_on_option(parser)


def _day(text: str) -> datetime.date:
    if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
        with contextlib.suppress(ValueError):
            return datetime.date.fromisoformat(text)
    raise argparse.ArgumentTypeError(f"{text[:40]!r} is not a date; one looks like 2026-05-31")


def add_format_option(parser: argparse.ArgumentParser, *formats: str) -> None:
    """The option by which the format is chosen, text unless told otherwise."""
    parser.add_argument("--format", choices=formats, default="text", help="what it is written as (default: text)")


def add_output_option(parser: argparse.ArgumentParser) -> None:
    """The option by which the output goes to a file."""
    parser.add_argument("-o", "--output", metavar="FILE", help="write to this file instead of standard output")


def add_pack_option(parser: argparse.ArgumentParser) -> None:
    """The option by which rule packs are named."""
    parser.add_argument(
        "--pack",
        action="append",
        default=[],
        metavar="FILE",
        help="a Python file with a rule pack to load besides the installed ones",
    )


def add_pack_options(parser: argparse.ArgumentParser) -> None:
    """The options by which rule packs and sheet folders are named."""
    add_pack_option(parser)
    parser.add_argument(
        "--sheets",
        action="append",
        default=[],
        metavar="FOLDER",
        help="a folder with data sheets, besides the spec's own",
    )


def add_units_option(parser: argparse.ArgumentParser) -> None:
    """The option by which the units of a report are chosen."""
    parser.add_argument(
        "--units",
        choices=UNIT_SYSTEMS,
        help="the units that numbers are shown in (default: build.units of the spec, else metric); "
        "json and sarif are always metric",
    )


FOR_PROGRAMS = ("json", "jsonl", "sarif")
"""The formats whose numbers stand in the units named beside them, whatever people read."""


def _units_asked_for(options: argparse.Namespace) -> System | None:
    """The units that a call asks for; None where it leaves that to the spec."""
    if getattr(options, "format", "") in FOR_PROGRAMS:
        return "metric"
    units: System | None = getattr(options, "units", None)
    return units


def run(arguments: Sequence[str] | None = None) -> int:
    """Parse the call and run its command."""
    arguments = list(sys.argv[1:] if arguments is None else arguments)
    _prepare_streams()
    FILES_READ.forget()
    wrong = _wrong_around()
    if wrong:
        complain(f"swaplint: {wrong}\n")
        return UNREADABLE
    parser = Parser(
        prog="swaplint",
        description=_TOP,
        epilog=_TOP_END,
        formatter_class=Help,
    )
    if not arguments:
        return refused("swaplint", "name a command; 'swaplint draft my-swap.toml' begins a spec of your own")
    parser.add_argument(
        "--version", action="version", version=f"swaplint {__version__}", help="say which version this is, and stop"
    )
    commands = parser.add_subparsers(title="commands", dest="command", metavar="COMMAND", required=True)
    # Only the module of the command that is called is imported; the others show their line of help.
    called = next((word for word in arguments if not word.startswith("-")), "")
    for name, line in COMMANDS.items():
        sub = commands.add_parser(name, help=line, formatter_class=Help)
        if name == called:
            module = importlib.import_module(f"swaplint.cli.{name}")
            module.configure(sub)
            sub.epilog = f"{sub.epilog}\n{statuses_of(name)}"
            sub.set_defaults(execute=module.execute)
    try:
        status = _executed(parser, arguments)
    except SystemExit as stop:
        status = stop.code if isinstance(stop.code, int) else UNREADABLE
    except KeyboardInterrupt:
        complain("swaplint: stopped.\n")
        return 130
    except Exception as error:
        status = _ended_by(error)
    return _written(status)


def _executed(parser: Parser, arguments: list[str]) -> int:
    options, left = parser.parse_known_args(arguments)
    if left:
        _take_what_is_left(parser, options, left)
    with showing_in(_units_asked_for(options)):
        return int(options.execute(options))


def _ended_by(error: Exception) -> int:
    """The status of a command that an exception ended, which is said in a sentence."""
    wrong = error if isinstance(error, OSError) and failed_to_write(error) else None
    if wrong is None:
        begin_without_packs()
        # Imported here: this is not to happen.
        from swaplint.cli.unforeseen import sentence

        complain(sentence(error))
        return BROKEN
    hush()
    # Whoever reads the output has had enough: nothing more is said.
    return OK if reader_has_gone(wrong) else _cannot_write(wrong)


def _written(status: int) -> int:
    """The status of a command, once all that it wrote has left the process."""
    wrong = cannot_be_written(report_stream())
    if wrong is not None:
        hush()
        status = status if reader_has_gone(wrong) else _cannot_write(wrong)
    if cannot_be_written(sys.stderr) is not None:
        hush(sys.stderr)
    return status


def _wrong_around() -> str:
    """What of the surroundings lets no command work, as a sentence; empty where they are sound."""
    if not __doc__:
        return (
            "Python was started with -OO or PYTHONOPTIMIZE=2, which takes away the texts that rules are made of: "
            "start it without."
        )
    try:
        os.getcwd()
    except OSError:
        return "the current folder is not there any more: change to another and call again."
    return ""


def _take_what_is_left(parser: Parser, options: argparse.Namespace, left: list[str]) -> None:
    """Take ids that stand behind an option: the parser looks for them only before it."""
    if "ids" not in options or any(word.startswith("-") for word in left):
        parser.error(f"unrecognized arguments: {' '.join(left)}")
    options.ids = [*options.ids, *left]


def _cannot_write(error: OSError) -> int:
    complain(f"swaplint: standard output cannot be written: {error.strerror or error}.\n")
    return UNREADABLE


def _prepare_streams() -> None:
    """Make standard output and error take any text: in UTF-8 wherever they are not a terminal with ways of its own."""
    if sys.stdout is None or sys.stderr is None:  # closed by whoever called
        nowhere = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115
        sys.stdout, sys.stderr = sys.stdout or nowhere, sys.stderr or nowhere
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            if stream.isatty():
                stream.reconfigure(errors="replace")
            else:
                stream.reconfigure(encoding="utf-8", errors="replace", newline="\n")
