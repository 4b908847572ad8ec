"""Saying what went wrong, and writing output whole or not at all."""

from __future__ import annotations

import contextlib
import errno
import os
import stat
import sys
from collections.abc import Callable, Iterable
from pathlib import Path

from swaplint.cli.statuses import UNREADABLE
from swaplint.host.problems import Problem
from swaplint.host.streams import report_stream
from swaplint.reports.layout import PIPE_WIDTH, Sheet, plain, safe, width_of, write

MOST_ERRORS_SHOWN = 30


def say(problems: Iterable[Problem]) -> None:
    """Say on standard error what could not be read, loaded or run."""
    shown = list(problems)
    for problem in shown[:MOST_ERRORS_SHOWN]:
        sys.stderr.write(problem_sentence(problem) + "\n")
    if len(shown) > MOST_ERRORS_SHOWN:
        sys.stderr.write(f"and {len(shown) - MOST_ERRORS_SHOWN} more\n")


def problem_sentence(problem: Problem) -> str:
    """A problem as one sentence with its place."""
    where = ""
    if problem.file:
        where = problem.file + (f", line {problem.line}" if problem.line else "")
        where += f", column {problem.column}" if problem.column else ""
    who = " ".join(
        piece
        for piece in (
            f"pack {problem.pack}" if problem.pack else "",
            f"rule {problem.rule}" if problem.rule else "",
        )
        if piece
    )
    head = ": ".join(piece for piece in (who, where) if piece)
    return as_sentence(safe(f"{head}: {problem.what}" if head else problem.what))


LONGEST_REFUSAL = 2_000
"""How much of a sentence that repeats what was typed is said: what was pasted by mistake is not said back whole."""


def refuse(command: str, what: object) -> int:
    """Say on standard error why a command cannot do what it was called for. Returns the exit status for that."""
    return refused(f"swaplint {command}", what)


def refused(program: str, what: object) -> int:
    """The same for a command by its whole name, with the way to its help."""
    text = str(what)
    if len(text) > LONGEST_REFUSAL:
        text = f"{text[: LONGEST_REFUSAL // 2]} … {text[-LONGEST_REFUSAL // 2 :]}"
    sys.stderr.write(f"{program}: {as_sentence(safe(text))} See '{program} --help'.\n")
    return UNREADABLE


def tell(what: object) -> None:
    """Say on standard error what was done, where the output does not say it."""
    sys.stderr.write(f"{safe(str(what))}\n")


def as_sentence(text: str) -> str:
    """A text with a full stop, unless it ends a sentence already."""
    return text if text.endswith((".", "?")) else text + "."


def write_out(text: str | Iterable[str], output: str | None) -> Problem | None:
    """Write text, or its pieces, to standard output, or to a file whole or not at all."""
    pieces = (text,) if isinstance(text, str) else text
    if output is None:
        report_stream().writelines(pieces)
        return None
    try:
        if os.path.exists(output) and not os.path.isfile(output) and not os.path.isdir(output):
            with open(output, "w", encoding="utf-8", newline="\n") as stream:  # a device or pipe is not replaced
                stream.writelines(pieces)
            return None
        import tempfile  # here: what goes to standard output does without it

        target = Path(os.path.realpath(output))
        handle, temporary = tempfile.mkstemp(dir=target.parent or Path(), prefix=f".{target.name}.")
        try:
            with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as stream:
                stream.writelines(pieces)
            os.chmod(temporary, _mode_for(target))
            os.replace(temporary, target)
        except BaseException:
            with contextlib.suppress(OSError):
                os.unlink(temporary)
            raise
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        return Problem(f"cannot be written: {reason}", "input", file=output)
    return None


def _mode_for(target: Path) -> int:
    """The permissions of a report: those of the file that it replaces, or those that any new file would get."""
    if target.exists():
        return stat.S_IMODE(target.stat().st_mode)
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def overwrites(output: str | None, read: Iterable[str]) -> Problem | None:
    """A problem where the output file would take the place of a file that was read."""
    if output is None or not os.path.exists(output):
        return None
    for name in read:
        if os.path.exists(name) and os.path.samefile(name, output):
            same = "one of the files read" if name == output else f"the same file as {name}"
            return Problem(f"is {same}; the report must go to another file", "input", file=output)
    return None


def write_sheet(make: Callable[[int], Sheet], output: str | None) -> Problem | None:
    """Write a text sheet, made for a width, to the terminal, the pipe or a file."""
    if output is not None:
        return write_out(plain(make(PIPE_WIDTH).lines), output)
    write(make(width_of(report_stream())))
    return None


def reader_has_gone(error: OSError) -> bool:
    """Whether standard output cannot be written because whoever read it has had enough."""
    # Windows has no signal or error of its own for a pipe that nobody reads any more.
    return isinstance(error, BrokenPipeError) or (sys.platform == "win32" and error.errno == errno.EINVAL)


def hush() -> None:
    """Send the rest of standard output nowhere: whoever read it has had enough, or it cannot be written."""
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), report_stream().fileno())
