"""Running the command in this process as a person runs it: its own streams, in bytes, and its exit status.

A process of its own is started only where the matter is the process: the installed command, the locale, the shell.
"""

from __future__ import annotations

import contextlib
import io
import os
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from swaplint.cli import main


@dataclass(frozen=True)
class Ran:
    """What came of a call."""

    status: int
    out: bytes
    err: bytes


def call(*arguments: str, stdin: bytes | None = None) -> Ran:
    """Run the command on streams of its own."""
    out, err = stream(), stream()
    with streams(stream(stdin or b""), out, err):
        return Ran(main(arguments), written(out), written(err))


def stream(holds: bytes = b"") -> io.TextIOWrapper:
    """A stream that is no terminal, in an encoding that takes hardly anything until somebody sees to that."""
    return io.TextIOWrapper(io.BytesIO(holds), "ascii")


def written(out: io.TextIOWrapper) -> bytes:
    """What was written to such a stream."""
    out.flush()
    assert isinstance(out.buffer, io.BytesIO)
    return out.buffer.getvalue()


@contextlib.contextmanager
def streams(stdin: Any, stdout: Any, stderr: Any) -> Iterator[None]:
    """Stand these in for the three standard streams; None for one that whoever called has closed."""
    before = sys.stdin, sys.stdout, sys.stderr
    sys.stdin, sys.stdout, sys.stderr = stdin, stdout, stderr
    try:
        yield
    finally:
        sys.stdin, sys.stdout, sys.stderr = before


def terminal(*arguments: str, work: Callable[[Sequence[str]], Any] = main) -> bytes:
    """What a terminal is sent, output and errors together."""
    import pty

    parent, child = pty.openpty()
    seen: list[bytes] = []

    def read() -> None:
        with contextlib.suppress(OSError):
            while piece := os.read(parent, 65536):
                seen.append(piece)

    reader = threading.Thread(target=read, daemon=True)
    reader.start()
    with open(child, "w", encoding="utf-8") as screen, streams(None, screen, screen):
        work(arguments)
        screen.flush()
    reader.join(30)
    os.close(parent)
    return b"".join(seen)
