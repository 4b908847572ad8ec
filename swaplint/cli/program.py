"""The command `swaplint`: its help, and the way to each command."""

from __future__ import annotations

import argparse
import importlib
import io
import os
import sys
from collections.abc import Sequence
from typing import NoReturn

from swaplint import __version__

COMMANDS = {
    "inspect": "run the rules over one or several build specs",
    "worksheet": "list every derived number of a build with its formula, inputs and source",
    "size": "find which values of one field pass, and what binds at each end",
    "study": "vary several fields together and rank the combinations",
    "rulebook": "list the rules, or explain one rule whole",
    "schema": "print the JSON Schema of a build spec or of a data sheet, for editors and checkers",
    "draft": "write a new build spec to fill in",
}
"""The commands, each in a module of this package with `configure` and `execute`."""

OK, SHUT, UNREADABLE, BROKEN = 0, 1, 2, 3

_TOP = """Check an engine-swap build spec before money is spent, before steel is cut and before the keys change hands.

A build spec is a TOML file that describes the vehicle, the engine package, the driveline, the electrics and the
plumbing. Write what you know; what you do not know yet, leave out: the report says what to find out next.
"""

_TOP_END = """first steps:
  swaplint draft my-swap.toml            write a spec to fill in
  swaplint inspect my-swap.toml          see what passes, what fails and what is still unknown
  swaplint worksheet my-swap.toml        see every number behind it
  swaplint rulebook gearing.cruise-rpm   see what one rule asks, computes and rests on

exit status of inspect: 0 the gate is open, 1 the gate is shut, 2 a spec or the call could not be read,
3 a rule or plugin broke (its results are missing, everything else is reported)
"""


class Parser(argparse.ArgumentParser):
    """An argument parser whose errors are sentences on standard error, with exit status 2."""

    def error(self, message: str) -> NoReturn:
        """Say what is wrong with the call."""
        printable = "".join(c if c.isprintable() else "�" for c in message)
        self.exit(UNREADABLE, f"{self.prog}: {printable}. See '{self.prog} --help'.\n")


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


def run(arguments: Sequence[str] | None = None) -> int:
    """Parse the call and run its command."""
    arguments = list(sys.argv[1:] if arguments is None else arguments)
    _prepare_streams()
    parser = Parser(
        prog="swaplint",
        description=_TOP,
        epilog=_TOP_END,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"swaplint {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)
    # Only the module of the command that is called is imported; the others show their line of help.
    called = next((word for word in arguments if not word.startswith("-")), "")
    for name, line in COMMANDS.items():
        sub = commands.add_parser(name, help=line, formatter_class=argparse.RawDescriptionHelpFormatter)
        if name == called:
            module = importlib.import_module(f"swaplint.cli.{name}")
            module.configure(sub)
            sub.set_defaults(execute=module.execute)
    try:
        options = parser.parse_args(arguments)
        status = int(options.execute(options))
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else UNREADABLE
    except BrokenPipeError:  # whoever reads the output has had enough; say nothing more
        status = OK
    except KeyboardInterrupt:
        sys.stderr.write("swaplint: stopped.\n")
        return 130
    except OSError as error:
        return _cannot_write(error)
    try:
        sys.stdout.flush()
    except BrokenPipeError:
        _hush()
    except OSError as error:
        return _cannot_write(error)
    return status


def _cannot_write(error: OSError) -> int:
    _hush()
    sys.stderr.write(f"swaplint: standard output cannot be written: {error.strerror or error}.\n")
    return UNREADABLE


def _hush() -> None:
    from swaplint.cli.common import hush

    hush()


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
