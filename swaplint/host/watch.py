"""A time limit on code that is not ours; what it prints goes to standard error, for standard output is the report's.

On the main thread of a system with interval timers the timer interrupts even a sleep; code that has hardly run yet,
because others hold the machine, is given more time there. Elsewhere a watching thread raises the interruption in the
running one, which reaches pure Python code only.
"""

from __future__ import annotations

import ctypes
import signal
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

PATIENCE = 3.0
"""Times its limit that code may take which has not yet worked for half of it."""


class TookTooLong(BaseException):
    """Raised inside code that runs past its limit. Not an `Exception`, so that the code does not swallow it."""


@contextmanager
def time_limit(seconds: float) -> Iterator[None]:
    """Raise `TookTooLong` in the block if it has not ended after `seconds`."""
    stdout, sys.stdout = sys.stdout, sys.stderr
    try:
        if hasattr(signal, "setitimer") and threading.current_thread() is threading.main_thread():
            yield from _by_timer(seconds)
        else:
            yield from _by_thread(seconds)
    finally:
        sys.stdout = stdout


def _by_timer(seconds: float) -> Iterator[None]:
    running = True
    started, worked = time.monotonic(), time.process_time()

    def interrupt(signum: int, frame: FrameType | None) -> None:
        hardly_ran = time.process_time() - worked < 0.5 * seconds
        if running and not (hardly_ran and time.monotonic() - started < PATIENCE * seconds):
            raise TookTooLong

    before = signal.signal(signal.SIGALRM, interrupt)
    # The timer fires again and again, in case the code swallows the first interruption.
    signal.setitimer(signal.ITIMER_REAL, seconds, 0.2)
    try:
        try:
            yield
        finally:
            running = False
    finally:  # once more: the interruption may have come at the end of the block, just ahead of that line
        running = False
        signal.setitimer(signal.ITIMER_REAL, 0.0)
        signal.signal(signal.SIGALRM, before)


def _by_thread(seconds: float) -> Iterator[None]:
    target = threading.get_ident()
    ended = threading.Event()

    def watch() -> None:
        wait = seconds
        while not ended.wait(wait):
            ctypes.pythonapi.PyThreadState_SetAsyncExc(ctypes.c_ulong(target), ctypes.py_object(TookTooLong))
            wait = 0.2

    watcher = threading.Thread(target=watch, daemon=True)
    watcher.start()
    try:
        yield
    finally:
        ended.set()
        watcher.join()
