"""Being stopped: Ctrl-C, or a signal to end, ends the command at once, with one line and the usual status.

What is stopped is the process, not some piece of code in it: nothing that runs can swallow the signal, half-written
files beside the old output are removed, and the processes that share the work end with this one.
"""

from __future__ import annotations

import contextlib
import os
import signal
import sys
from collections.abc import Callable, Iterable, Iterator
from types import FrameType

STATUS = 128
"""What a shell adds to the number of the signal that ended a command."""

_ENDING = tuple(
    number
    for name in ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK")
    if (number := getattr(signal, name, None)) is not None
)
_unfinished: set[str] = set()
_wipes = ""


def end_when_told() -> None:
    """From here on end this process at once when it is told to.

    A signal that whoever called has chosen to ignore, as `nohup` does, stays ignored.
    """
    _meet([number for number in _ENDING if signal.getsignal(number) is not signal.SIG_IGN], _end)


def _end(number: int, frame: FrameType | None) -> None:
    _meet(_ENDING, signal.SIG_IGN)
    children = tuple(getattr(sys.modules.get("multiprocessing.process"), "_children", ()))
    for act in ("kill", "join"):
        for child in children:
            with contextlib.suppress(Exception):
                getattr(child, act)()
    overseer = sys.modules.get("swaplint.host.overseer")
    if overseer is not None:
        overseer.stop_all()
    for name in tuple(_unfinished):
        with contextlib.suppress(OSError):
            os.unlink(name)
    with contextlib.suppress(OSError):
        os.write(2, f"{_wipes}swaplint: stopped.\n".encode())
    os._exit(STATUS + number)


@contextlib.contextmanager
def unfinished(name: str) -> Iterator[None]:
    """A file that is not to stay where the block does not end as it should."""
    _unfinished.add(name)
    try:
        yield
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(name)
        raise
    finally:
        _unfinished.discard(name)


@contextlib.contextmanager
def past_stopping() -> Iterator[None]:
    """What ends the work of a command: where it succeeds, the command ends with its own status, told to stop or not."""
    held = [number for number in _ENDING if signal.getsignal(number) is _end]
    _meet(held, signal.SIG_IGN)
    try:
        yield
    except BaseException:
        _meet(held, _end)
        raise


def _meet(numbers: Iterable[int], action: Callable[[int, FrameType | None], None] | signal.Handlers) -> None:
    for number in numbers:
        with contextlib.suppress(OSError, ValueError):  # not on the main thread
            signal.signal(number, action)


def wipe_when_stopped(wipes: str) -> None:
    """What wipes away that which stands on the terminal now, for the case that the command is stopped."""
    global _wipes
    _wipes = wipes
