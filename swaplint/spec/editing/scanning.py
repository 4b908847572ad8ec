"""Where everything stands in a TOML text: tables, keys, values, the items of lists.

The text has been accepted as TOML before it comes here. So this only finds where each thing begins and ends, and judges
nothing; what follows from it is checked by reading the edited text again.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field

import tomli

from swaplint.spec.toml_source import PathKey

Splice = tuple[int, int, str]
"""A stretch of text, from one offset to another, and what is to stand there."""

_GAP = re.compile(r"(?:[ \t\r\n]++|#[^\n]*+)*+")
_SPACE = re.compile(r"[ \t]*+")
_BARE = re.compile(r"[A-Za-z0-9_-]++")
_BASIC = r'"(?:[^"\\\n]++|\\.)*+"'
_LITERAL = r"'[^'\n]*+'"
_QUOTED = re.compile(f"{_BASIC}|{_LITERAL}")
_PLAIN_VALUE = re.compile(
    r'"""(?:[^"\\]++|\\[\s\S]|"{1,2}(?!"))*+"{3,5}'
    r"|'''(?:[^']++|'{1,2}(?!'))*+'{3,5}"
    rf"|{_BASIC}|{_LITERAL}"
    r"|\d{4}-\d\d-\d\d \d\d:[^\s,\]}#]++"  # a day and a time may have a space between them
    r"|[^\s,\]}#]++"
)


@dataclass(slots=True)
class Value:
    """One value: where it stands, and what a list or an inline table holds (nothing for any other value)."""

    start: int
    end: int
    items: list[Entry] | None = None


@dataclass(slots=True)
class Entry:
    """One `key = value`, or one item of a list, which has no key."""

    key: tuple[str, ...]
    """The parts of the key as written: more than one for a dotted key."""
    start: int
    """Where it begins: at its key, or for an item at its value."""
    value: Value
    comma: int | None = None
    """Where the comma behind it stands."""

    @property
    def end(self) -> int:
        """Where it ends, before any comma."""
        return self.value.end


@dataclass(slots=True, eq=False)
class Section:
    """A header and the entries below it, down to the next header; or what stands before the first header."""

    path: PathKey
    """The table that it fills; with the index of the item where it is one of a list of tables."""
    start: int
    """Where the line of the header begins."""
    header_end: int
    """Where the header ends, after its last bracket."""
    entries: list[Entry] = field(default_factory=list)

    def under(self, path: PathKey) -> list[Entry]:
        """The entries that state the value at `path` (counted from this table), or something within it."""
        return under(self.entries, path)


def under(entries: Iterable[Entry], path: PathKey) -> list[Entry]:
    """The entries whose key is `path` or begins with it."""
    return [entry for entry in entries if entry.key[: len(path)] == path]


def spliced(text: str, splices: Iterable[Splice]) -> str:
    """The text with each stretch replaced. Of two at the same place the one given first comes first."""
    out, done = [], 0
    for start, end, new in sorted(splices, key=lambda splice: splice[0]):
        if start < done:
            raise AssertionError(f"two edits of the text overlap at {start}")
        out += [text[done:start], new]
        done = end
    return "".join(out) + text[done:]


def line_start(text: str, offset: int) -> int:
    """Where the line begins on which `offset` lies."""
    return text.rfind("\n", 0, offset) + 1


def line_end(text: str, offset: int) -> int:
    """Where the line ends on which `offset` lies, before its line end."""
    end = text.find("\n", offset)
    if end < 0:
        return len(text)
    return end - 1 if end > offset and text[end - 1] == "\r" else end


def next_line(text: str, offset: int) -> int:
    """Where the line after the one of `offset` begins; the end of the text where there is none."""
    return text.find("\n", offset) + 1 or len(text)


def indent_at(text: str, offset: int) -> str | None:
    """What stands before `offset` on its line where that is only space; else None."""
    before = text[line_start(text, offset) : offset]
    return None if before.strip(" \t") else before


def newline_of(text: str) -> str:
    """The line end that a text uses: that of its first line."""
    first = text.find("\n")
    return "\r\n" if first > 0 and text[first - 1] == "\r" else "\n"


def sections(text: str) -> list[Section]:
    """All sections in the order of the text; the first is what stands before any header."""
    found = [Section((), 0, 0)]
    counts: dict[PathKey, int] = {}

    def in_last_items(key: tuple[str, ...]) -> PathKey:
        path: PathKey = ()
        for part in key:
            path += (part,)
            if path in counts:
                path += (counts[path] - 1,)
        return path

    at = _after(_GAP, text, 0)
    while at < len(text):
        if text[at] != "[":
            entry = _entry(text, at)
            found[-1].entries.append(entry)
            at = entry.end
        else:
            start = line_start(text, at)
            is_item = text[at + 1] == "["
            key, at = _key(text, _after(_SPACE, text, at + 1 + is_item))
            if is_item:
                table = (*in_last_items(key[:-1]), key[-1])
                counts[table] = counts.get(table, 0) + 1
            at = text.index("]", at) + 1 + is_item
            found.append(Section(in_last_items(key), start, at))
        at = _after(_GAP, text, at)
    return found


def value_at(text: str, at: int) -> Value:
    """The value that begins at an offset."""
    opening = text[at]
    if opening not in "[{":
        match = _PLAIN_VALUE.match(text, at)
        assert match is not None
        return Value(at, match.end())
    closing = "]" if opening == "[" else "}"
    items: list[Entry] = []
    where = _after(_GAP, text, at + 1)
    while text[where] != closing:
        if opening == "{":
            items.append(_entry(text, where))
        else:
            items.append(Entry((), where, value_at(text, where)))
        where = _after(_GAP, text, items[-1].end)
        if text[where] == ",":
            items[-1].comma = where
            where = _after(_GAP, text, where + 1)
    return Value(at, where + 1, items)


def _entry(text: str, at: int) -> Entry:
    key, after = _key(text, at)
    return Entry(key, at, value_at(text, _after(_SPACE, text, after + 1)))


def _key(text: str, at: int) -> tuple[tuple[str, ...], int]:
    """The parts of a key, and where what follows it stands."""
    spans = key_spans(text, at)
    return tuple(_plain(text[start:end]) for start, end in spans), _after(_SPACE, text, spans[-1][1])


def key_spans(text: str, at: int) -> list[tuple[int, int]]:
    """Where each part of the key that begins at an offset stands."""
    spans: list[tuple[int, int]] = []
    while True:
        match = _BARE.match(text, at) or _QUOTED.match(text, at)
        assert match is not None
        spans.append(match.span())
        at = _after(_SPACE, text, match.end())
        if text[at : at + 1] != ".":
            return spans
        at = _after(_SPACE, text, at + 1)


def header_key_start(text: str, section: Section) -> int:
    """Where the key in a section's header begins."""
    at = text.index("[", section.start) + 1
    return _after(_SPACE, text, at + (text[at] == "["))


def _plain(part: str) -> str:
    if part[0] == "'" or (part[0] == '"' and "\\" not in part):
        return part[1:-1]
    return str(tomli.loads(f"x = {part}")["x"]) if part[0] == '"' else part


def _after(pattern: re.Pattern[str], text: str, at: int) -> int:
    match = pattern.match(text, at)
    return match.end() if match else at
