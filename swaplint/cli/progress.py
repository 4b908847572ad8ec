"""Progress on standard error, for work that takes longer than a moment and only where a person watches a terminal."""

from __future__ import annotations

import os
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from swaplint.cli.stopping import wipe_when_stopped
from swaplint.reports.layout import wants_colour

PATIENCE = 1.0
"""How long work may take before anything is shown, in seconds."""

LINE_WIPED = "\r\x1b[2K\x1b[?25h"
"""Wipes the line of progress away and shows the cursor again."""

Tell = Callable[[int], None]


@contextmanager
def progress(what: str, total: int | None = None) -> Iterator[Tell]:
    """Show how far some work is, once it has taken a second. The block is given what to tell how many are done.

    Without a `total` only that the work goes on is shown. Nothing is shown in a pipe, nor on a terminal that takes
    plain text only; when the work ends, what was shown is wiped away. Work that is counted is shared out among
    processes, which begin as quick copies only where no other thread runs: it waits for the first that is done.
    """
    if not sys.stderr.isatty() or os.environ.get("TERM") == "dumb" or not wants_colour(sys.stderr):
        yield lambda done: None
        return
    shown = _Shown(what, total)
    waiting = threading.Timer(PATIENCE, shown.begin)
    waiting.daemon = True
    if total is None:
        waiting.start()
    try:
        yield shown.tell
    finally:
        waiting.cancel()
        shown.end()


class _Shown:
    """What is shown of one piece of work."""

    def __init__(self, what: str, total: int | None) -> None:
        self.what, self.total = what, total
        self.done = 0
        self.began = time.monotonic()
        self.ended = False
        self.lock = threading.Lock()
        self.bar: Any = None
        self.task: Any = None

    def begin(self) -> None:
        """Show it, unless it has ended or been shown in the meantime: the clock and the work itself may both ask."""
        # Imported here: quick work does without it.
        from rich.console import Console
        from rich.progress import BarColumn, MofNCompleteColumn, Progress, SpinnerColumn, TextColumn, TimeElapsedColumn

        counted = [] if self.total is None else [BarColumn(), MofNCompleteColumn()]
        with self.lock:
            if self.ended or self.bar is not None:
                return
            # What others write meanwhile is none of its business: reports go where they always go.
            self.bar = Progress(
                SpinnerColumn(),
                TextColumn("{task.description}"),
                *counted,
                TimeElapsedColumn(),
                console=Console(stderr=True),
                transient=True,
                redirect_stdout=False,
                redirect_stderr=False,
            )
            self.task = self.bar.add_task(self.what, total=self.total, completed=self.done)
            wipe_when_stopped(LINE_WIPED)
            self.bar.start()

    def tell(self, done: int) -> None:
        """Note how many are done."""
        self.done = done
        if self.bar is not None:
            self.bar.update(self.task, completed=done)
        elif time.monotonic() - self.began > PATIENCE:
            self.begin()

    def end(self) -> None:
        """Wipe away what is shown."""
        with self.lock:
            self.ended = True
            if self.bar is not None:
                self.bar.stop()
                wipe_when_stopped("")
