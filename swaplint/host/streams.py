"""Where the report goes and the spec may come from: handles of their own where a stranger's code runs in the process.

There the usual handles lead elsewhere: whatever a pack, a thread of it or a process that it starts writes to standard
output goes to standard error, so that the report is the report alone, and from standard input it reads nothing.
"""

from __future__ import annotations

import contextlib
import io
import os
import sys
from typing import TextIO

from swaplint.host.signs import LETS_GO, SIGNS, WRITES

PIECE = 1 << 16
"""How many bytes of the report go out at once."""

_moved: TextIO | None = None
_moved_in: TextIO | None = None


def report_stream() -> TextIO:
    """The stream that the report is written to."""
    return sys.stdout if _moved is None else _moved


def input_stream() -> TextIO | None:
    """The stream that a spec or an answer is read from, standard input; None where whoever called has closed it."""
    return sys.stdin if _moved is None else _moved_in


def let_go(*, dialogue: bool = False) -> None:
    """What is written so far is whole in itself, and may reach whoever reads it: lines, or a piece of a dialogue."""
    report_stream().flush()
    SIGNS.tell(LETS_GO, b"dialogue" if dialogue else b"")


class _Handed(io.RawIOBase):
    """Hands what is written to whoever watches over this process, and looks like what that one writes it to."""

    def __init__(self, terminal: bool, number: int | None) -> None:
        self._terminal, self._number = terminal, number

    def writable(self) -> bool:
        return True

    def isatty(self) -> bool:
        return self._terminal

    def fileno(self) -> int:
        if self._number is None:
            raise io.UnsupportedOperation("fileno")
        return self._number

    def write(self, data: bytes) -> int:  # type: ignore[override]
        SIGNS.tell(WRITES, bytes(data))
        return len(data)


def move_streams(terminal: bool, encoding: str, number: int | None = None) -> None:
    """Give the report a handle of its own, and everybody else's standard output to standard error.

    `number` is the file that the report goes to in the end, where it is open in this process too.
    """
    global _moved, _moved_in
    raw = io.BufferedWriter(_Handed(terminal, number), PIECE)  # type: ignore[type-var]
    _moved = io.TextIOWrapper(raw, encoding, errors="replace", newline=None if terminal else "\n")
    try:
        os.dup2(2, 1)
    except OSError:  # standard error is closed
        _to_nowhere(1, os.O_WRONLY)
    sys.stdout = open(1, "w", encoding="utf-8", errors="replace", buffering=1, closefd=False)  # noqa: SIM115
    sys.__stdout__ = _moved  # type: ignore[misc]  # whose width a terminal's report takes
    with contextlib.suppress(OSError, ValueError):
        _moved_in = open(os.dup(0), encoding="utf-8")  # noqa: SIM115
    _to_nowhere(0, os.O_RDONLY)
    sys.stdin = open(0, encoding="utf-8", closefd=False)  # noqa: SIM115


def _to_nowhere(number: int, how: int) -> None:
    nowhere = os.open(os.devnull, how)
    if nowhere != number:
        os.dup2(nowhere, number)
        os.close(nowhere)
