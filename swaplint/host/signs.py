"""Signs of life: what a process tells whoever watches over it, and how that one judges them.

The process says which piece of a stranger's code it begins and how long that may take, that it goes on with its own
work, that it waits for somebody else, what it has written, and that it has ended. Whoever watches looks at the clock
and at the process's memory, from outside: a loop in C, a signal that is ignored or a lock that is never let go cannot
keep it from that.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from typing import NamedTuple

from swaplint.host.strangers import ALL, STRANGERS

BEGINS, GOES_ON, WAITS, WRITES, LETS_GO, ENDS, SAYS = b"B", b"G", b"W", b"O", b"R", b"E", b"S"
"""The signs: a stranger's code begins; own work goes on; it waits; a piece of output; what was written so far may go
out; the last word; what a worker came to."""

GRACE = 1.0
"""How long past its limit code is given to be stopped from inside, in seconds."""
OWN_SECONDS = 60.0
"""Longest time without a sign while a process does its own work, in seconds."""
PATIENCE = 3.0
"""Times its limit that code may take which has hardly run, because others hold the machine."""
CODE_BYTES = 1 << 30
"""How much memory a process may come to have more while one piece of a stranger's code runs."""
ALL_BYTES = 4 << 30
"""How much memory a process in which a stranger's code has run may have in all."""
SELDOM = 0.5
"""How often a process that does its own work says so at most, in seconds."""


class Running(NamedTuple):
    """A piece of a stranger's code that has begun."""

    what: str
    """`rule ID`, `quantity ID` or `pack NAME`."""
    origin: str
    """The pack that it is from, as `pack NAME`."""
    seconds: float


class _Signs:
    """What this process tells of itself. Nothing, where nobody watches over it."""

    def __init__(self) -> None:
        self._send: Callable[[bytes, bytes], None] | None = None
        self._process = 0
        self._last = 0.0
        self._open: list[Running] = []

    @property
    def watched(self) -> bool:
        """Whether somebody watches over this process."""
        return self._send is not None

    def to(self, send: Callable[[bytes, bytes], None] | None) -> None:
        """From here on tell it by this function."""
        self._send, self._process, self._open = send, os.getpid(), []

    def tell(self, sign: bytes, more: bytes = b"") -> None:
        """Give a sign."""
        if self._send is None:
            return
        if os.getpid() != self._process:
            os._exit(1)  # a copy of this process that a pack has made: it must not go on with our work
        self._last = time.monotonic()
        self._send(sign, more)

    def begins(self, running: Running) -> None:
        """A piece of a stranger's code begins."""
        self._open.append(running)
        self.tell(BEGINS, _packed(running))

    def ends(self) -> None:
        """The piece that began last has ended."""
        self._open.pop()
        if self._open:
            self.tell(BEGINS, _packed(self._open[-1]))
        else:
            self.tell(GOES_ON)

    def goes_on(self) -> None:
        """Own work goes on: said now and then."""
        if self._send is not None and not self._open and time.monotonic() - self._last > SELDOM:
            self.tell(GOES_ON)

    def waits(self) -> None:
        """It waits for somebody else, however long that takes, until its next sign."""
        self.tell(WAITS)


SIGNS = _Signs()


def _packed(running: Running) -> bytes:
    return f"{running.seconds}\0{running.what}\0{running.origin}".encode("utf-8", "replace")


def _unpacked(more: bytes) -> Running:
    seconds, what, origin = more.decode("utf-8").split("\0")
    return Running(what, origin, float(seconds))


def stops(error: BaseException) -> bool:
    """Whether an exception means that a person stops the run: none, where nobody but a pack could have raised it."""
    return isinstance(error, KeyboardInterrupt) and not SIGNS.watched


def begin_without_packs() -> None:
    """Leave what nobody foresaw to whoever watches over this process: without the strangers' packs it may go well."""
    if SIGNS.watched and ALL not in STRANGERS.aside:
        os._exit(1)


def begin_without(running: Running) -> None:
    """Leave it to whoever watches over this process to begin again without some code: it has ended another process."""
    if SIGNS.watched:
        SIGNS.begins(running)
        os._exit(1)


class Watched:
    """A process that gives signs, as whoever watches over it sees it."""

    def __init__(self, process: int) -> None:
        self.process = process
        self.running: Running | None = None
        """The stranger's code that it runs now."""
        self._waits = False
        self._since = time.monotonic()
        self._over: float | None = None
        self._before = facts_of(process)

    def heard(self, sign: bytes, more: bytes) -> None:
        """It gave a sign."""
        self.running = _unpacked(more) if sign == BEGINS else None
        self._waits = sign == WAITS
        self._since, self._over = time.monotonic(), None
        self._before = facts_of(self.process)

    def wrong(self) -> str:
        """Why it must be stopped, as the end of a sentence; empty where it need not."""
        facts = facts_of(self.process)
        if facts is not None and self._before is not None:
            more = facts.memory - self._before.memory if self.running else 0
            if more > CODE_BYTES or facts.memory > ALL_BYTES:
                most = CODE_BYTES if more > CODE_BYTES else ALL_BYTES
                return f"took more than {most >> 30} GiB of memory and was stopped with its process"
        limit = self.running.seconds if self.running else OWN_SECONDS
        if self._waits or not self._is_over(limit, facts):
            self._over = None
            return ""
        self._over = self._over or time.monotonic()
        if time.monotonic() - self._over < GRACE:
            return ""
        return f"ran longer than {limit:g} s, could not be interrupted, and was stopped with its process"

    def _is_over(self, limit: float, facts: Facts | None) -> bool:
        """Whether it has gone past its limit, and had the time to get so far."""
        took = time.monotonic() - self._since
        if facts is not None and self._before is not None and took < PATIENCE * limit:
            hardly_ran = facts.worked - self._before.worked < 0.5 * limit
            if facts.state in "RD" and hardly_ran:  # ready to run: others hold the machine
                return False
        return took >= limit


class Facts(NamedTuple):
    """What the system tells of a process."""

    state: str
    """R: it runs or is ready to, D: it waits for a disk; else it sleeps or is stopped."""
    worked: float
    """Processor time, in seconds."""
    memory: int
    """In bytes."""


def facts_of(process: int) -> Facts | None:
    """What the system tells of a process; None where it does not tell."""
    try:
        with open(f"/proc/{process}/stat", "rb") as file:
            words = file.read().rpartition(b")")[2].split()
        ticks, page = os.sysconf("SC_CLK_TCK"), os.sysconf("SC_PAGE_SIZE")
        return Facts(words[0].decode(), (int(words[11]) + int(words[12])) / ticks, int(words[21]) * page)
    except (OSError, ValueError, IndexError, AttributeError):
        return None
