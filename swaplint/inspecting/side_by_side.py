"""Many things done side by side on all cores, their results in order, a few at a time so that memory does not grow."""

from __future__ import annotations

import contextlib
import gc
import os
import signal
import sys
import threading
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    from multiprocessing.context import BaseContext

T = TypeVar("T")
R = TypeVar("R")

AHEAD = 3
"""How many things each core may be ahead of the one whose result is taken next."""

_job: Callable[[Any], Any] | None = None
"""What a process of its own does with each thing that it is given."""


def in_order(
    make: Callable[[], Callable[[T], R]], things: Sequence[T], cores: int | None = None, *, lost: Callable[[T], R]
) -> Iterator[R]:
    """What a job makes of each thing, in the order of the things, shared out over the cores of the machine.

    `make` gives the job; it is called once in each process, and must be a function that another process can import.
    `lost` stands in for what a thing would have come to whose process ended before it was done.
    """
    cores = min(cores or os.cpu_count() or 1, len(things))
    if cores < 2:
        job = make()
        yield from (job(thing) for thing in things)
        return
    # Imported here: one thing alone does not need it.
    from concurrent.futures import Future, ProcessPoolExecutor
    from concurrent.futures.process import BrokenProcessPool

    gc.freeze()  # what is there now is shared with the other processes, and is not looked through in each
    pool = ProcessPoolExecutor(cores, mp_context=_context(), initializer=_start, initargs=(make,))
    waiting: deque[tuple[T, Future[R] | None]] = deque()
    left = iter(things)
    try:
        while True:
            while len(waiting) < AHEAD * cores and (thing := next(left, _NONE)) is not _NONE:
                waiting.append((thing, _submitted(pool, thing)))  # type: ignore[arg-type]
            if not waiting:
                return
            thing, future = waiting.popleft()
            try:
                yield lost(thing) if future is None else future.result()
            except BrokenProcessPool:
                yield lost(thing)
    finally:
        pool.shutdown(wait=True, cancel_futures=True)
        gc.unfreeze()


_NONE = object()


def _submitted(pool: Any, thing: Any) -> Any:
    from concurrent.futures.process import BrokenProcessPool

    try:
        with _signals_wait():
            return pool.submit(_do, thing)
    except BrokenProcessPool:
        return None


@contextlib.contextmanager
def _signals_wait() -> Iterator[None]:
    """Let signals wait while processes begin: in a new one they would find what is meant for this one."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, _FOR_THE_FIRST)
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


_FOR_THE_FIRST = (signal.SIGINT, signal.SIGTERM)
"""Signals that end the command: they are for the process that shares out the work, which ends the others."""


def _context() -> BaseContext:
    """How other processes begin: as a copy of this one where that is safe, which saves loading everything again."""
    import multiprocessing

    copies = "fork" in multiprocessing.get_all_start_methods() and sys.platform != "darwin"
    return multiprocessing.get_context("fork" if copies and threading.active_count() == 1 else "spawn")


def _start(make: Callable[[], Callable[[Any], Any]]) -> None:
    global _job
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # a terminal sends it to all of them
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    if hasattr(signal, "pthread_sigmask"):
        signal.pthread_sigmask(signal.SIG_UNBLOCK, _FOR_THE_FIRST)
    threading.Thread(target=_end_with_the_first, daemon=True).start()
    _job = make()


def _end_with_the_first() -> None:
    """End this process when the one that began it has ended, however that came."""
    from multiprocessing import connection, parent_process

    first = parent_process()
    if first is not None:
        connection.wait([first.sentinel])
        os._exit(1)


def _do(thing: Any) -> Any:
    assert _job is not None
    return _job(thing)
