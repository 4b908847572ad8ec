"""Many things done side by side on all cores, their results in order, a few at a time so that memory does not grow.

Each process does one thing at a time. Where a process ends before its thing is done, or must be stopped, the thing and
what ran are known, and another process takes its place.
"""

from __future__ import annotations

import contextlib
import gc
import os
import pickle
import signal
import sys
import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Generic, NamedTuple, TypeVar

from swaplint.host.overseer import end_with, ending
from swaplint.host.signs import SAYS, SIGNS, Running, Watched
from swaplint.host.strangers import STRANGERS

if TYPE_CHECKING:
    from multiprocessing.connection import Connection
    from multiprocessing.context import BaseContext

T = TypeVar("T")
R = TypeVar("R")

AHEAD = 3
"""How many things each core may be ahead of the one whose result is taken next."""
TICK = 0.1
"""How often the processes are looked at, in seconds, where somebody else's code runs in them."""


class Lost(NamedTuple):
    """What became of a process before its thing was done."""

    why: str
    """What it did, as the end of a sentence."""
    running: Running | None
    """The stranger's code that ran."""


@dataclass(frozen=True, slots=True)
class Again(Generic[T]):
    """Instead of a result: a thing to do in place of the one that was lost."""

    thing: T


def in_order(
    make: Callable[[], Callable[[T], R]],
    things: Sequence[T],
    cores: int | None = None,
    *,
    lost: Callable[[T, Lost], R | Again[T]],
    apart: bool = False,
) -> Iterator[R]:
    """What a job makes of each thing, in the order of the things, shared out over the cores of the machine.

    `make` gives the job; it is called once in each process, and must be a function that another process can import.
    `lost` stands in for what a thing would have come to whose process ended before it was done, or says what to do
    instead. With `apart` even one core's work is done in another process.
    """
    cores = min(cores or os.cpu_count() or 1, len(things))
    if cores < 2 and not (apart and things):
        job = make()
        yield from (job(thing) for thing in things)
        return
    gc.freeze()  # what is there now is shared with the other processes, and is not looked through in each
    crew = _Crew(make, cores)
    waiting: list[tuple[int, T]] = []
    done: dict[int, R] = {}
    left, taken, given = iter(enumerate(things)), 0, 0
    try:
        while True:
            # What was lost is given again however far the others are ahead: they wait for it.
            while crew.idle and (waiting or taken - given < AHEAD * cores):
                one = waiting.pop() if waiting else next(left, None)
                if one is None:
                    break
                taken = max(taken, one[0] + 1)
                crew.give(*one)
            if given in done:
                yield done.pop(given)
                given += 1
            elif crew.busy:
                for number, thing, came in crew.next():
                    result = lost(thing, came) if isinstance(came, Lost) else came
                    if isinstance(result, Again):
                        waiting.append((number, result.thing))
                    else:
                        done[number] = result
            elif not waiting:
                return
    finally:
        crew.end()
        gc.unfreeze()


class _Worker:
    """A process that does one thing after the other."""

    def __init__(self, context: BaseContext, make: Callable[[], Callable[[Any], Any]], others: list[_Worker]) -> None:
        self.way, theirs = context.Pipe()
        copy = context.get_start_method() == "fork"
        inherited = [self.way, *(other.way for other in others)] if copy else []
        arguments = (theirs, make, inherited, os.getpid(), SIGNS.watched, dict(STRANGERS.aside))
        self.process: Any = context.Process(target=_serve, args=arguments, daemon=True)  # type: ignore[attr-defined]
        with _signals_wait():
            self.process.start()
        theirs.close()
        self.watched = Watched(self.process.pid)
        self.number = 0
        self.thing: Any = None

    def end(self) -> None:
        """End it at once: it does nothing that anybody waits for."""
        self.process.kill()
        self.process.join()
        self.way.close()


class _Crew:
    """The processes that share the work."""

    def __init__(self, make: Callable[[], Callable[[Any], Any]], cores: int) -> None:
        self._make, self._cores, self._context = make, cores, _context()
        self.idle: list[_Worker] = []
        self.busy: list[_Worker] = []
        for _ in range(cores):
            self._begin()

    def _begin(self) -> None:
        self.idle.append(_Worker(self._context, self._make, [*self.idle, *self.busy]))

    def give(self, number: int, thing: Any) -> None:
        """Give a thing to a process that has none."""
        worker = self.idle.pop()
        worker.number, worker.thing = number, thing
        with contextlib.suppress(OSError):  # it has ended: that is seen when its result is waited for
            worker.way.send(thing)
        self.busy.append(worker)

    def next(self) -> list[tuple[int, Any, Any]]:
        """What came next: the number of a thing, the thing, and its result or what became of its process."""
        from multiprocessing.connection import wait

        ready = set(wait([end for w in self.busy for end in (w.way, w.process.sentinel)], TICK))
        SIGNS.goes_on()
        out = []
        for worker in list(self.busy):
            came = None
            if worker.way in ready:
                came = self._heard(worker)
            elif worker.process.sentinel in ready:
                came = self._ended(worker)
            elif SIGNS.watched and (wrong := worker.watched.wrong()):
                came = Lost(wrong, worker.watched.running)
            if came is None:
                continue
            self.busy.remove(worker)
            out.append((worker.number, worker.thing, came))
            if isinstance(came, Lost):
                worker.end()
                self._begin()
            else:
                self.idle.append(worker)
        return [(number, thing, came.of() if isinstance(came, _Result) else came) for number, thing, came in out]

    def _heard(self, worker: _Worker) -> _Result | Lost | None:
        try:
            said = worker.way.recv_bytes()
        except (EOFError, OSError):
            return self._ended(worker)
        if said[:1] == SAYS:
            return _Result(said)
        worker.watched.heard(said[:1], said[1:])
        return None

    def _ended(self, worker: _Worker) -> Lost:
        worker.process.join(1.0)
        status = worker.process.exitcode
        why = "closed its process's way to the one that shares out the work" if status is None else ending(status)
        return Lost(why, worker.watched.running)

    def end(self) -> None:
        """End all of them."""
        for worker in (*self.idle, *self.busy):
            worker.end()


class _Result(NamedTuple):
    said: bytes

    def of(self) -> Any:
        """What the job came to; what it raised is raised here."""
        result, error = pickle.loads(memoryview(self.said)[1:])
        if error is not None:
            raise error
        return result


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


# -- in another process ------------------------------------------------------------------------------------------
def _serve(
    way: Connection,
    make: Callable[[], Callable[[Any], Any]],
    inherited: Sequence[Connection],
    above: int,
    watched: bool,
    aside: Mapping[str, str],
) -> None:
    """Do what comes over the way until nothing more comes."""
    for other in inherited:
        other.close()
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # a terminal sends it to all of them
    signal.signal(signal.SIGTERM, signal.SIG_IGN if watched else signal.SIG_DFL)
    if hasattr(signal, "pthread_sigmask"):
        signal.pthread_sigmask(signal.SIG_UNBLOCK, _FOR_THE_FIRST)
    if not end_with(above):
        threading.Thread(target=_end_with_the_first, daemon=True).start()
    SIGNS.to((lambda sign, more: way.send_bytes(sign + more)) if watched else None)
    STRANGERS.aside.update(aside)
    with contextlib.suppress(EOFError, OSError):  # whoever shares out the work has ended, or has had enough
        job = make()
        while True:
            thing = way.recv()
            result, raised = None, None
            try:
                result = job(thing)
            except Exception as error:
                raised = error
            way.send_bytes(SAYS + pickle.dumps((result, raised), pickle.HIGHEST_PROTOCOL))
    os._exit(0)


def _end_with_the_first() -> None:
    """End this process when the one that began it has ended, however that came."""
    from multiprocessing import connection, parent_process

    first = parent_process()
    if first is not None:
        connection.wait([first.sentinel])
        os._exit(1)
