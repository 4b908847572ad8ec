"""A time limit on code that is not ours; what it prints goes to standard error, for standard output is the report's.

On the main thread of a system with interval timers a timer looks at the running block again and again, and interrupts
even a sleep; code that has hardly run yet, because others hold the machine, is given more time there. Elsewhere a
watching thread raises the interruption in the running one, which reaches pure Python code only.
"""

from __future__ import annotations

import signal
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from types import CodeType, FrameType

from swaplint.host.manners import MODULES, Manners
from swaplint.host.signs import SIGNS, Running
from swaplint.host.strangers import STRANGERS

PATIENCE = 3.0
"""Times its limit that code may take which has not yet worked for half of it."""
OWN_PATIENCE = 20.0
"""The same for built-in code that has not yet worked for all of it: that never waits, so others hold the machine."""
TICK = 0.1
"""How often the timer looks at the running block, in seconds. A block is stopped up to two ticks late."""


class TookTooLong(BaseException):
    """Raised inside code that runs past its limit. Not an `Exception`, so that the code does not swallow it."""


class time_limit:  # noqa: N801 - reads as a statement: with time_limit(3.0)
    """Raises `TookTooLong` in its block if that has not ended after so many seconds."""

    __slots__ = ("_first", "_outer", "_own", "_stdout", "_timed", "patience", "seconds", "work")

    def __init__(self, seconds: float, *, own: bool = False) -> None:
        """`seconds` of wall time. `own` is for code that is built in."""
        self.seconds = seconds
        self.work, self.patience = (seconds, OWN_PATIENCE) if own else (0.5 * seconds, PATIENCE)
        self._first: tuple[float, float] | None = None
        self._own: AbstractContextManager[None] | None = None

    def __enter__(self) -> None:
        self._stdout, sys.stdout = sys.stdout, sys.stderr
        self._timed = _by_timer()
        if not self._timed:
            self._own = _watched_by_thread(self.seconds)
        else:
            self._outer, _watched.block = _watched.block, self
            if not _watched.ticking:
                self._own = _timer(min(TICK, self.seconds))
        if self._own is not None:
            self._own.__enter__()

    def __exit__(self, *error: object) -> None:
        if self._timed:
            _watched.block = self._outer
        sys.stdout = self._stdout
        if self._own is not None:
            self._own.__exit__(None, None, None)

    def is_over(self) -> bool:
        """Whether the block has run past its limit, counted from when it was first asked."""
        now, worked = time.monotonic(), time.process_time()
        if self._first is None:
            self._first = now, worked
            return False
        took, worked = now - self._first[0], worked - self._first[1]
        return took >= self.seconds and (worked >= self.work or took >= self.patience * self.seconds)


class BadManners(Exception):
    """Code of a pack has changed what is not its own."""


class code_of:  # noqa: N801 - reads as a statement: with code_of("rule fit.x", 3.0)
    """Runs the code of a rule, quantity or pack within a time limit.

    Where its pack is not built in, whoever watches over this process is told of it, and what it changes that is not its
    own is put back: then `BadManners` is raised.
    """

    __slots__ = ("_limit", "_manners", "_running")

    def __init__(self, what: str, seconds: float) -> None:
        """`what` is `rule ID`, `quantity ID` or `pack NAME`."""
        origin = what if what.startswith("pack ") else STRANGERS.origin.get(what)
        self._running = Running(what, origin, seconds) if origin is not None else None
        self._limit = time_limit(seconds, own=origin is None)

    def __enter__(self) -> None:
        if self._running is None:
            SIGNS.goes_on()
        else:
            self._manners = Manners()
            SIGNS.begins(self._running)
        self._limit.__enter__()

    def __exit__(self, kind: object, error: object, traceback: object) -> None:
        self._limit.__exit__(kind, error, traceback)
        if self._running is None:
            return
        SIGNS.ends()
        changed = self._manners.changed() or MODULES.changed_by(self._running.what)
        if changed and error is None:
            raise BadManners(f"changed {changed}, which is not its own and was put back")


class _Watched:
    """What the timer of the main thread looks at."""

    def __init__(self) -> None:
        self.ticking = False
        self.block: time_limit | None = None


_watched = _Watched()
_EDGES: tuple[CodeType, ...] = (time_limit.__enter__.__code__, time_limit.__exit__.__code__)
"""Code in which nothing is interrupted, so that every block that begins ends, too."""


@contextmanager
def many_limits() -> Iterator[None]:
    """Keep the timer running over many blocks with a time limit each: to start it costs more than a short block."""
    if not _by_timer() or _watched.ticking:
        yield
        return
    with _timer(TICK):
        yield


def _by_timer() -> bool:
    return hasattr(signal, "setitimer") and threading.current_thread() is threading.main_thread()


@contextmanager
def _timer(tick: float) -> Iterator[None]:
    before = signal.signal(signal.SIGALRM, _look)
    _watched.ticking = True
    signal.setitimer(signal.ITIMER_REAL, tick, tick)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0.0)
        _watched.ticking = False
        signal.signal(signal.SIGALRM, before)


def _look(signum: int, frame: FrameType | None) -> None:
    """Interrupt the running block if it is over its limit: again and again, in case the code swallows it."""
    block = _watched.block
    if block is not None and frame is not None and frame.f_code not in _EDGES and block.is_over():
        raise TookTooLong


@contextmanager
def _watched_by_thread(seconds: float) -> Iterator[None]:
    import ctypes  # here: only where there are no alarms

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
