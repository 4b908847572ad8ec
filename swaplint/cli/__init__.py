"""The command line: one module per command."""

from __future__ import annotations

import atexit
import contextlib
import gc
import os
import sys
import threading
from collections.abc import Sequence

_SELDOM = (500_000, 20, 50)
"""A run makes much, and little of it in circles, which are let go where they are many: to look for them once takes a
tenth of the time. The inspection of a spec of the usual size makes 300 000 things, and never comes to it."""


def command() -> int:
    """The installed command. Returns the exit status of the process that is about to end."""
    from swaplint.cli.stopping import end_when_told

    end_when_told()
    gc.set_threshold(*_SELDOM)  # for good: to go back to the usual would mean to look through all that the run has made
    status = _of_process(sys.argv[1:])
    if threading.active_count() > 1:
        return status  # what still runs ends as it would
    # What is left goes with the process: to take all of it apart first, piece by piece, takes a twentieth of a run.
    atexit._run_exitfuncs()
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(OSError, ValueError):  # what can be said of that has been said
            stream.flush()
    os._exit(status)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the `swaplint` command. Returns the exit status."""
    usual = gc.get_threshold()
    gc.set_threshold(*_SELDOM)
    try:
        return _of_process(sys.argv[1:]) if arguments is None else _run(arguments)
    finally:
        gc.set_threshold(*usual)


def _of_process(arguments: Sequence[str]) -> int:
    """The command of this process: watched over from outside where code of strangers is to run in it."""
    from swaplint.host.strangers import takes_in_strangers

    if not takes_in_strangers(arguments):
        return _run(arguments)
    from swaplint.host.overseer import oversee

    return oversee(_run, arguments)


def watched_over() -> None:
    """What a process does that another one began to watch over it, where none begins as a copy."""
    from swaplint.host.overseer import begun_fresh

    gc.set_threshold(*_SELDOM)
    begun_fresh(_run)


def _run(arguments: Sequence[str]) -> int:
    try:
        from swaplint.cli.program import run

        return run(arguments)
    except ImportError as error:  # of the command called, too, and of what it is made of
        sys.stderr.write(f"swaplint: its installation is not whole: {error}. Install it again.\n")
        return 3
