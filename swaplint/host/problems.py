"""Trouble with the tool, its packs or its input: never a finding about the build."""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import Any, Literal, NamedTuple

from swaplint.host.watch import TookTooLong

Where = Literal["input", "pack", "rule", "gate"]


class Problem(NamedTuple):
    """Something that could not be read, loaded or run."""

    what: str
    """One sentence."""
    about: Where
    """`input`: a spec, sheet or the call (exit status 2); `pack` or `rule`: a plugin (exit status 3); `gate`: what
    shuts the gate and is no finding, such as a deviation that accepts nothing (exit status 1)."""
    pack: str | None = None
    rule: str | None = None
    file: str | None = None
    line: int | None = None
    column: int | None = None


def code_place(function: Callable[..., Any]) -> tuple[str | None, int | None]:
    """File and first line of a function, the file named from its package's folder."""
    code = getattr(function, "__code__", None)
    if code is None:
        return None, None
    return short_file(code.co_filename), code.co_firstlineno


def raised_place(traceback: TracebackType | None, function: Callable[..., Any]) -> tuple[str | None, int | None]:
    """File and line of the last frame inside the function's own file, where an exception passed through it."""
    code = getattr(function, "__code__", None)
    wanted = code.co_filename if code is not None else None
    place: tuple[str | None, int | None] = code_place(function)
    while traceback is not None:
        if traceback.tb_frame.f_code.co_filename == wanted:
            place = short_file(traceback.tb_frame.f_code.co_filename), traceback.tb_lineno
        traceback = traceback.tb_next
    return place


def short_file(name: str) -> str:
    """A file's name without the folders of this machine: from its package, from here, or its last part."""
    path = Path(name)
    roots = [Path.cwd(), *(Path(p) for p in sys.path if p)]
    inside = [path.relative_to(r).as_posix() for r in roots if path.is_relative_to(r)]
    return min(inside, key=len) if inside else path.name


def first_line(error: BaseException) -> str:
    """An exception as part of a sentence, on one line, without this machine's folders."""
    try:
        text = " ".join(str.split(str(error)))
    except TookTooLong:
        raise
    except BaseException:  # the error's own words are a pack's code, too
        text = ""
    with contextlib.suppress(OSError):
        text = text.replace(os.getcwd() + os.sep, "")
    return f"{type(error).__name__}: {text[:300]}" if text else type(error).__name__
