"""Answers put into a file: where a line of it that is commented out is for the field, the answer takes its place.

A draft has such a line for each field, `# wheelbase = "2900 mm"    # where it is found`, below the header of its table
or below one that is commented out itself, `# [driveline.axles.front]`. The answer takes away the #, puts its value in
the place of the example, and leaves the remark behind it where it stands. Where there is no such line, or it is not of
this table, the answer goes where any new value goes.
"""

from __future__ import annotations

import bisect
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import tomli

from swaplint.spec.editing import EditError, edited
from swaplint.spec.editing.scanning import Splice, sections, spliced
from swaplint.spec.editing.values import REMOVED, changed_data, same, value_in, written
from swaplint.spec.toml_source import PathKey, SpecError, read_bytes

_COMMENTED = re.compile(r"^(?P<indent>[ \t]*)(?P<mark>#[ \t]?)(?=[A-Za-z0-9_\"'\[])(?P<says>[^\r\n]*)", re.MULTILINE)


def answered(text: str, changes: Mapping[PathKey, object]) -> str:
    r"""The text with changes, as `edited` makes them, but in the place of lines that are commented out for them.

    >>> answered('[engine]\n# name = "six"  # as delivered\n', {("engine", "name"): "five"})
    '[engine]\nname = "five"   # as delivered\n'
    """
    later: dict[PathKey, object] = {}
    for path, value in changes.items():
        uncommented = None if value is REMOVED else _uncommented(text, path, value)
        if uncommented is not None:
            text = uncommented
        else:
            later[path] = value
            if value is not REMOVED:
                text = edited(text, {path: later.pop(path)})
    return edited(text, later) if later else text


@dataclass(slots=True)
class CommentedLine:
    """A line that is commented out and would be TOML without its #: a header, or a key with its value."""

    start: int
    """Where its # stands."""
    mark: str
    """The # and the space behind it."""
    says: str
    path: PathKey
    """What it would state: a table or a field."""
    header: CommentedLine | None = None
    """The header above it that is commented out too, if it stands below one."""

    @property
    def without_mark(self) -> Splice:
        """The edit that takes away the #."""
        return self.start, self.start + len(self.mark), ""


def commented_lines(text: str) -> Iterator[CommentedLine]:
    """All lines of a TOML text that are commented out, in their order."""
    known = sections(text)
    starts = [section.header_end for section in known]
    spans = [(entry.start, entry.end) for section in known for entry in section.entries]
    beginnings = [start for start, _ in spans]
    header: CommentedLine | None = None
    below = -1
    for found in _COMMENTED.finditer(text):
        start = found.start("mark")
        around = bisect.bisect_right(beginnings, start) - 1
        if around >= 0 and start < spans[around][1]:
            continue  # it stands within a value of several lines
        section = bisect.bisect_right(starts, start) - 1
        if section != below:
            header, below = None, section
        mark, says = found["mark"], found["says"]
        if says.startswith("["):
            path = _header_path(says)
            if path is not None:
                header = CommentedLine(start, mark, says, path)
                if path:
                    yield header
            continue
        keys = _key_of(says)
        table = header.path if header is not None else known[section].path
        if keys and (header is None or header.path):
            yield CommentedLine(start, mark, says, (*table, *keys), header)


def _header_path(says: str) -> PathKey | None:
    """The table that a header is of; empty for an item of a list, which has no name; None where it is no header."""
    try:
        tomli.loads(says)
    except ValueError:
        return None
    return () if says.startswith("[[") else sections(says)[-1].path


_KEY_PART = r"""(?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*')"""
_KEY = re.compile(rf"{_KEY_PART}(?:[ \t]*\.[ \t]*{_KEY_PART})*[ \t]*=")


def _key_of(says: str) -> tuple[str, ...]:
    """The key of a line that states one value; empty for any other."""
    if not _KEY.match(says):
        return ()
    try:
        tomli.loads(says)
    except (ValueError, RecursionError):
        return ()
    return sections(says)[0].entries[0].key


def _uncommented(text: str, path: PathKey, value: object) -> str | None:
    """The text with a value in the place of a line that is commented out; None where there is no such line."""
    name = path[-1]
    if not isinstance(name, str) or f"{name}" not in text:
        return None
    try:
        data = read_bytes(text.encode(), "the text").data
        if value_in(data, path) is not REMOVED:
            return None
        expected = changed_data(data, path, value)
    except (SpecError, EditError, UnicodeEncodeError):
        return None  # the plain edit says what is wrong
    body = text.removeprefix("\ufeff")
    for line in commented_lines(body):
        if line.path != path:
            continue
        splices = [line.header.without_mark] if line.header is not None else []
        is_header = line.says.startswith("[")
        if is_header and value != {}:
            continue
        splices.append(line.without_mark if is_header else _with_answer(body, line, value))
        made = text[: len(text) - len(body)] + spliced(body, splices)
        try:
            if same(read_bytes(made.encode(), "the text").data, expected):
                return made
        except SpecError:
            pass  # its table is written in another way, or stands elsewhere
    return None


def _with_answer(text: str, line: CommentedLine, value: object) -> Splice:
    """The edit that states a value in the place of a line, with the remark behind it where it stood."""
    entry = sections(line.says)[0].entries[0]
    start = line.start + len(line.mark)
    stated = line.says[: entry.value.start] + written(value, line.says[entry.value.start : entry.end])
    rest = line.says[entry.end :]
    remark = rest.lstrip(" \t")
    if remark:
        column = len(line.mark) + len(line.says) - len(remark)
        stated = stated.ljust(column) if len(stated) + 2 <= column else f"{stated}  "
    return line.start, start + len(line.says), stated + remark
