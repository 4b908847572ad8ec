"""The files that a call has read or named: no output ever takes the place of one of them."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterable


class FilesRead:
    """Files by what they are, not by how they are spelled: links, other spellings and other cases lead to the same."""

    def __init__(self) -> None:
        self._names: dict[str, str] = {}
        self._numbers: dict[tuple[int, int], str] = {}

    def note(self, path: str | os.PathLike[str]) -> None:
        """Note a file that is read, or that the call names, whether or not there is such a file."""
        name = os.fspath(path)
        with contextlib.suppress(OSError, ValueError):  # a name that can be none is nobody's file
            self._names.setdefault(os.path.realpath(name), name)
            facts = os.stat(name)
            self._numbers.setdefault((facts.st_dev, facts.st_ino), name)

    def same_as(self, path: str) -> str | None:
        """The name of the noted file that a path leads to; None where it leads to another, or to none."""
        with contextlib.suppress(OSError, ValueError):
            named = self._names.get(os.path.realpath(path))
            if named is not None:
                return named
            facts = os.stat(path)
            return self._numbers.get((facts.st_dev, facts.st_ino))
        return None

    def names(self) -> list[str]:
        """The files noted, as they were named."""
        return list(self._names.values())

    def note_all(self, paths: Iterable[str]) -> None:
        """Note several files."""
        for path in paths:
            self.note(path)

    def forget(self) -> None:
        """Begin anew: another call reads other files."""
        self._names.clear()
        self._numbers.clear()


FILES_READ = FilesRead()
"""Those of the call that runs in this process."""
