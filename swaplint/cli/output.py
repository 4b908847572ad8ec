"""Saying what went wrong, and writing output whole or not at all."""

from __future__ import annotations

import contextlib
import errno
import os
import stat
import sys
import time
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TextIO

from swaplint.cli.statuses import UNREADABLE
from swaplint.cli.stopping import past_stopping, unfinished
from swaplint.host.problems import Problem
from swaplint.host.streams import report_stream
from swaplint.reports.layout import PIPE_WIDTH, Sheet, plain, safe, width_of, write
from swaplint.spec.files_read import FILES_READ

MOST_ERRORS_SHOWN = 30


def complain(text: str) -> None:
    """Write on standard error, where that can be written: a command does what it is for without it."""
    with contextlib.suppress(OSError, ValueError):
        sys.stderr.write(text)
        sys.stderr.flush()


def say(problems: Iterable[Problem]) -> None:
    """Say on standard error what could not be read, loaded or run."""
    for sentence in _sentences(problems):
        complain(sentence + "\n")


def say_beside(sheet_on: str | None, problems: Iterable[Problem]) -> None:
    """The same beside a text sheet that says it, too: not where both appear on the terminal.

    `sheet_on` is the file that the sheet goes to, None for standard output.
    """
    if sheet_on is not None or not (report_stream().isatty() and sys.stderr.isatty()):
        say(problems)


def with_problems(sheet: Sheet, problems: Iterable[Problem]) -> Sheet:
    """A text sheet with what could not be read, loaded or run at its end: whoever keeps it sees no standard error."""
    for sentence in _sentences(problems):
        sheet.wrapped(sentence, label="!", hang=2)
    return sheet


def _sentences(problems: Iterable[Problem]) -> list[str]:
    shown = list(problems)
    more = [f"and {len(shown) - MOST_ERRORS_SHOWN} more"] if len(shown) > MOST_ERRORS_SHOWN else []
    return [*map(problem_sentence, shown[:MOST_ERRORS_SHOWN]), *more]


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
    return as_sentence(safe(_cut(f"{head}: {problem.what}" if head else problem.what)))


LONGEST_SAID = 2_000
"""How much of a sentence that repeats what was typed is said: what was pasted by mistake is not said back whole."""


def _cut(text: str) -> str:
    """A sentence without its middle where that is long."""
    return text if len(text) <= LONGEST_SAID else f"{text[: LONGEST_SAID // 2]} … {text[-LONGEST_SAID // 2 :]}"


def refuse(command: str, what: object) -> int:
    """Say on standard error why a command cannot do what it was called for. Returns the exit status for that."""
    return refused(f"swaplint {command}", what)


def refused(program: str, what: object) -> int:
    """The same for a command by its whole name, with the way to its help."""
    complain(f"{program}: {as_sentence(safe(_cut(str(what))))} See '{program} --help'.\n")
    return UNREADABLE


def tell(what: object) -> None:
    """Say on standard error what was done, where the output does not say it."""
    complain(f"{safe(str(what))}\n")


def as_sentence(text: str) -> str:
    """A text with a full stop, unless it ends a sentence already."""
    return text if text.endswith((".", "?")) else text + "."


def write_out(
    text: str | Iterable[str], output: str | None, *, onto: str | None = None, goes_on: bool = False
) -> Problem | None:
    """Write text, or its pieces, to standard output, or to a file whole or not at all.

    Never over a file that the call has read or named, but for the one that the command is there to change: `onto`.
    Once the file is in its place the command has done its work, unless it `goes_on`, and cannot be stopped any more.
    """
    pieces = (text,) if isinstance(text, str) else text
    if output is None:
        report_stream().writelines(pieces)
        return None
    wrong = _no_place_for_output(output, onto)
    if wrong:
        return Problem(wrong, "input", file=output or None)
    try:
        if _is_handed_on(output):
            _hand_on(pieces, output)
        else:
            _replace(Path(os.path.realpath(output)), pieces, goes_on)
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        return Problem(f"cannot be written: {reason}", "input", file=output)
    return None


def _no_place_for_output(output: str, onto: str | None) -> str:
    """Why a file cannot be written to, as the rest of a sentence; empty where nothing speaks against it."""
    if not output:
        return "the name of the file to write is empty"
    if os.path.isdir(output):
        return "cannot be written: it is a folder; name a file in it"
    if output.endswith(_SEPARATORS):
        return "cannot be written: there is no such folder"
    read = FILES_READ.same_as(output)
    if read is None or (onto is not None and _is_same(onto, output)):
        return ""
    same = "one of the files read" if read == output else f"the same file as {read}"
    return f"is {same}; the report must go to another file"


_SEPARATORS = tuple(filter(None, (os.sep, os.altsep)))


def _is_same(one: str, other: str) -> bool:
    with contextlib.suppress(OSError, ValueError):
        return os.path.realpath(one) == os.path.realpath(other) or os.path.samefile(one, other)
    return False


def _is_handed_on(output: str) -> bool:
    """Whether a name leads to a device, a pipe or an open file of this process: none of these is replaced."""
    folder = os.path.dirname(os.path.abspath(output))
    for _ in range(MOST_LINKS):  # a link may lead back to itself
        if not os.path.islink(output) or folder in _OPEN_FILES:
            break
        output = os.path.join(folder, os.readlink(output))
        folder = os.path.dirname(os.path.abspath(output))
    return folder in _OPEN_FILES or (os.path.exists(output) and not os.path.isfile(output))


_OPEN_FILES = ("/dev/fd", "/proc/self/fd", f"/proc/{os.getpid()}/fd")
MOST_LINKS = 40
"""How many links in a row are followed, as the system does."""
WAIT_FOR_READER = 10.0
"""How long, in seconds, a named pipe is given until somebody reads it."""


def _hand_on(pieces: Iterable[str], output: str) -> None:
    flags = os.O_WRONLY | os.O_APPEND | getattr(os, "O_NONBLOCK", 0)
    until = time.monotonic() + WAIT_FOR_READER
    while True:
        try:
            number = os.open(output, flags)
            break
        except OSError as error:
            if error.errno != errno.ENXIO or not _is_pipe(output):
                raise
            if time.monotonic() > until:
                raise OSError(errno.ENXIO, f"nobody read from this pipe for {WAIT_FOR_READER:g} s") from None
            time.sleep(0.02)
    if hasattr(os, "set_blocking"):
        os.set_blocking(number, True)
    with open(number, "w", encoding="utf-8", newline="\n") as stream:
        stream.writelines(pieces)


def _is_pipe(output: str) -> bool:
    return stat.S_ISFIFO(os.stat(output).st_mode)


def _replace(target: Path, pieces: Iterable[str], goes_on: bool) -> None:
    """Write a file beside the target and put it in its place, so that nobody ever sees half of it."""
    import tempfile  # here: what goes to standard output does without it

    if target.is_symlink():
        raise OSError(errno.ELOOP, "it is a link that leads to itself")
    handle, temporary = tempfile.mkstemp(dir=target.parent, prefix=".swaplint-")
    with unfinished(temporary):
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as stream:
            stream.writelines(pieces)
        os.chmod(temporary, _mode_for(target))
        with contextlib.nullcontext() if goes_on else past_stopping():
            os.replace(temporary, target)


def _mode_for(target: Path) -> int:
    """The permissions of a report: those of the file that it replaces, or those that any new file would get."""
    if target.exists():
        return stat.S_IMODE(target.stat().st_mode)
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


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


def failed_to_write(error: OSError) -> bool:
    """Whether an error is that of a stream which takes no more: one about a file names it."""
    return error.filename is None and (error.errno in _NO_MORE or reader_has_gone(error))


_NO_MORE = {getattr(errno, name, None) for name in ("ENOSPC", "EIO", "EBADF", "EFBIG", "EDQUOT", "EAGAIN", "ENXIO")} - {
    None
}
"""A full disk or quota, a terminal that has gone, a closed handle, a file that grew too long, a full pipe."""


def hush(stream: TextIO | None = None) -> None:
    """Send the rest of standard output nowhere: whoever read it has had enough, or it cannot be written."""
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), (stream or report_stream()).fileno())


def cannot_be_written(stream: TextIO) -> OSError | None:
    """Why a stream cannot be written; None where it can."""
    try:
        stream.flush()
    except OSError as error:
        return error
    except ValueError:  # closed by somebody: nothing is left to write
        return None
    return None
