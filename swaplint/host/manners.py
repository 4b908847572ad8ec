"""What a stranger's code must leave as it found it: the process's folder, locale, limits, handlers and modules.

All packs share one interpreter, and a rule is a pure function of the build. What code of a pack changes of these is put
back at once and told: the others are to see nothing of it.
"""

from __future__ import annotations

import contextlib
import os
import signal
import sys
from collections.abc import Callable, Iterator
from types import BuiltinFunctionType, FunctionType, ModuleType
from typing import Any, NamedTuple

_BORROWED = ("builtins", "math", "cmath", "operator", "itertools", "functools", "os", "time", "re", "json")
"""Modules of the language which everybody uses, and whose names nobody else binds anew."""
_OURS = ("swaplint", "swaplint_rules")
_ONE = (signal.SIGINT, signal.SIGTERM, *((signal.SIGALRM,) if hasattr(signal, "SIGALRM") else ()))


class _Kept(NamedTuple):
    """One thing to leave as it was: its name for a sentence, how to look at it and how to put it back."""

    name: str
    look: Callable[[], Any]
    put_back: Callable[[Any], object]


def _handlers() -> tuple[Any, ...]:
    return tuple(signal.getsignal(number) for number in _ONE)


def _put_handlers_back(before: tuple[Any, ...]) -> None:
    for number, handler in zip(_ONE, before, strict=True):
        if handler is not None:
            signal.signal(number, handler)


def _folder() -> str | None:
    try:
        return os.getcwd()
    except OSError:
        return None


def _put_folder_back(before: str | None) -> None:
    if before is not None:
        os.chdir(before)


def _locale() -> Any:
    import _locale as c  # the part of the language's own module that asks the system, and nothing else

    return c.setlocale(c.LC_ALL, None)


def _put_locale_back(before: str) -> None:
    import _locale as c

    c.setlocale(c.LC_ALL, before)


def _put_errors_back(before: Any) -> None:
    sys.stderr = before


def _put_timer_back(before: tuple[float, float]) -> None:
    signal.setitimer(signal.ITIMER_REAL, before[1], before[1])


_ALL = [
    _Kept("the current folder", _folder, _put_folder_back),
    _Kept("the locale", _locale, _put_locale_back),
    _Kept("the recursion limit", sys.getrecursionlimit, sys.setrecursionlimit),
    _Kept("a signal handler", _handlers, _put_handlers_back),
    _Kept("the stream of standard error", lambda: sys.stderr, _put_errors_back),
]
if hasattr(signal, "getitimer"):
    _ALL.append(
        _Kept("the timer of this process", lambda: (0.0, signal.getitimer(signal.ITIMER_REAL)[1]), _put_timer_back)
    )


class Manners:
    """What a piece of code must leave as it is, as it was before."""

    __slots__ = ("_before",)

    def __init__(self) -> None:
        self._before = [kept.look() for kept in _ALL]

    def changed(self) -> str:
        """What the code has changed, for a sentence; all of that is put back. Empty where it changed nothing."""
        found = []
        for kept, before in zip(_ALL, self._before, strict=True):
            now = kept.look()
            if now != before:
                found.append(kept.name)
                with contextlib.suppress(OSError, ValueError, RecursionError, TypeError):
                    kept.put_back(before)
        return " and ".join(found)


class _Modules:
    """What stands in the modules that everybody shares, so that a patch of one is noticed and undone.

    Nobody looks where nobody asked for it: only a process that runs one command and no more knows who binds what.
    """

    def __init__(self) -> None:
        self._seen: dict[str, tuple[Any, list[tuple[Any, str, Any]]]] = {}
        self._asked: set[str] = set()
        self.looks = False

    def begin(self) -> None:
        """From here on look after what is bound now."""
        self.looks = True
        self._look_around()

    def changed_by(self, what: str) -> str:
        """What a piece of code has bound anew: looked for each time that it is the first of its name to end."""
        if not self.looks or what in self._asked:
            return ""
        self._asked.add(what)
        return self.changed()

    def _look_around(self) -> None:
        """Note the modules that have come in: what they hold now is what they are to hold."""
        for name, module in list(sys.modules.items()):
            ours = name.partition(".")[0] in _OURS
            if name not in self._seen and (ours or name in _BORROWED) and isinstance(module, ModuleType):
                self._seen[name] = module, list(_entries(module, ours=ours))

    def changed(self) -> str:
        """What is bound anew, by its name; all of that is put back. Empty where nothing is."""
        found: list[str] = []
        for name, (module, entries) in self._seen.items():
            if sys.modules.get(name) is not module:
                sys.modules[name] = module
                found.append(name)
            for holder, key, value in entries:
                if holder.__dict__.get(key, _GONE) is not value:
                    with contextlib.suppress(AttributeError, TypeError):
                        setattr(holder, key, value)
                    found.append(f"{holder.__name__}.{key}")
        self._look_around()
        shown = found[:3] if len(found) <= 3 else [*found[:3], f"{len(found) - 3} more"]
        return ", ".join(shown)


MODULES = _Modules()
_GONE = object()


def _entries(module: ModuleType, *, ours: bool) -> Iterator[tuple[Any, str, Any]]:
    """What a module binds for good: functions, classes, modules and constants, and the functions of our classes."""
    holds_numbers = module.__name__ in ("math", "cmath")
    for key, value in list(vars(module).items()):
        if key.startswith("__"):
            continue
        if isinstance(value, FunctionType | BuiltinFunctionType | ModuleType | type) or (
            isinstance(value, int | float | str | tuple | frozenset) and (key.isupper() if ours else holds_numbers)
        ):
            yield module, key, value
        if ours and isinstance(value, type) and value.__module__ == module.__name__:
            yield from ((value, name, own) for name, own in vars(value).items() if isinstance(own, FunctionType))
