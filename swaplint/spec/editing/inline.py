"""Edits within one value: in a list or an inline table, as deep as it goes.

Every function takes the text of the value alone, and gives that text with the edit made.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from swaplint.spec.editing.bodies import dropped, put
from swaplint.spec.editing.scanning import Entry, Splice, Value, indent_at, line_start, newline_of, spliced, value_at
from swaplint.spec.editing.values import REMOVED, changed_data, same, unlike, value_in, wrapped, written
from swaplint.spec.toml_source import PathKey

_REST_OF_LINE = re.compile(r"[ \t]*+(?:#[^\r\n]*+)?(?=\r?\n)")
_INDENT = "    "


def changed(text: str, old: Any, path: PathKey, new: object) -> str:
    """The text of the value `old` with `new` at `path` within it, or without what is there where `new` is REMOVED."""
    if not path:
        return _replaced(text, old, new)
    value = value_at(text, 0)
    if isinstance(old, dict):
        return _changed_table(text, value, old, path, new)
    index, rest = path[0], path[1:]
    assert isinstance(index, int)
    if index == len(old):
        return spliced(text, _item_inserted(text, value, index, written(wrapped(rest, new))))
    if new is REMOVED and not rest:
        return spliced(text, _item_removed(text, value, index))
    assert value.items is not None
    return _changed_inside(text, value.items[index], old[index], rest, new)


def _changed_inside(text: str, entry: Entry, old: Any, path: PathKey, new: object) -> str:
    start, end = entry.value.start, entry.end
    return spliced(text, [(start, end, changed(text[start:end], old, path, new))])


def _changed_table(text: str, value: Value, old: dict[str, Any], path: PathKey, new: object) -> str:
    body = _Braces(value)
    for entry in body.entries:
        rest = path[len(entry.key) :]
        if entry.key == path[: len(entry.key)] and (rest or new is not REMOVED):
            return _changed_inside(text, entry, value_in(old, entry.key), rest, new)
    if new is REMOVED:
        return spliced(text, dropped(body, tuple(map(str, path)), old))
    before = value_in(old, path)
    if isinstance(before, dict) and isinstance(new, dict):
        return _merged_table(text, old, path, before, new)
    return spliced(text, put(body, path, new))


def _replaced(text: str, old: Any, new: object) -> str:
    """One value in place of another. What both tables or both lists hold stays as it is written."""
    if same(old, new):
        return text
    if isinstance(old, dict) and isinstance(new, dict):
        return _merged_table(text, old, (), old, new)
    if isinstance(old, list) and isinstance(new, list):
        return _merged_list(text, old, new)
    return written(new, text)


def _merged_table(text: str, data: Any, path: PathKey, old: dict[str, Any], new: dict[str, Any]) -> str:
    for key in [*new, *(key for key in old if key not in new)]:
        value = new.get(key, REMOVED)
        if key not in old or not same(old[key], value):
            text = changed(text, data, (*path, key), value)
            data = changed_data(data, (*path, key), value)
    return text


def _merged_list(text: str, old: list[Any], new: list[Any]) -> str:
    first, old_end, new_end = unlike(old, new)
    both = min(old_end, new_end)
    items = value_at(text, 0).items or []
    text = spliced(
        text,
        [
            (item.start, item.end, _replaced(text[item.start : item.end], old[i], new[i]))
            for i, item in enumerate(items[first:both], first)
        ],
    )
    for index in reversed(range(both, old_end)):
        text = spliced(text, _item_removed(text, value_at(text, 0), index))
    for index in range(both, new_end):
        text = spliced(text, _item_inserted(text, value_at(text, 0), index, written(new[index])))
    return text


class _Braces:
    """The entries of an inline table."""

    def __init__(self, value: Value) -> None:
        self.entries: Sequence[Entry] = value.items or []
        self._inside = value.start + 1, value.end - 1

    def inserted(self, after: Entry | None, entry: str) -> list[Splice]:
        if after is None:
            return [(*self._inside, f" {entry} ")]
        return [(after.end, after.end, f", {entry}")]

    def without(self, entries: Sequence[Entry]) -> list[Splice]:
        if len(entries) == len(self.entries):
            return [(*self._inside, "")]
        gone = {entry.start for entry in entries}
        splices: list[Splice] = []
        behind_kept = False
        for index, entry in enumerate(self.entries):
            if entry.start not in gone:
                behind_kept = True
            elif behind_kept:
                splices.append((self.entries[index - 1].end, entry.end, ""))
            else:
                splices.append((entry.start, self.entries[index + 1].start, ""))
        return splices


def _item_inserted(text: str, value: Value, index: int, new: str) -> list[Splice]:
    """The edits that put an item into a list, laid out as the item before it is."""
    items = value.items or []
    inside, closing = value.start + 1, value.end - 1
    newline = newline_of(text)
    if not items:
        if "\n" not in text:
            space = " " if text[inside:closing] else ""
            return [(inside, closing, f"{space}{new}{space}")]
        last_line = line_start(text, closing)
        return [(last_line, last_line, f"{text[last_line:closing]}{_INDENT}{new},{newline}")]
    if index == 0:
        opening, indent = _REST_OF_LINE.match(text, inside), indent_at(text, items[0].start)
        if opening and indent is not None:
            return [(opening.end(), opening.end(), f"{newline}{indent}{new},")]
        return [(items[0].start, items[0].start, f"{new}, ")]
    before = items[index - 1]
    comma = [] if before.comma is not None else [(before.end, before.end, ",")]
    behind = before.end if before.comma is None else before.comma + 1
    tail = "" if comma else ","
    rest, indent = _REST_OF_LINE.match(text, behind), indent_at(text, before.start)
    if indent is None or "\n" not in text[: before.start] or not (rest or index == len(items)):
        return [*comma, (behind, behind, f" {new}{tail}")]
    end = rest.end() if rest else behind
    return [*comma, (end, end, f"{newline}{indent}{new}{tail}")]


def _item_removed(text: str, value: Value, index: int) -> list[Splice]:
    """The edits that take an item out of a list, with the comment that stands behind it on a line of its own."""
    items = value.items or []
    item = items[index]
    before = items[index - 1] if index else None
    after = items[index + 1] if index + 1 < len(items) else None
    end = item.end if item.comma is None else item.comma + 1
    rest = _REST_OF_LINE.match(text, end)
    comma: list[Splice] = []  # the one before, which would be left over
    if before is not None and before.comma is not None and item.comma is None:
        comma = [(before.comma, before.comma + 1, "")]
    own_line = indent_at(text, item.start) is not None and "\n" in text[: item.start]
    if own_line and rest:
        return [*comma, (line_start(text, item.start), text.index("\n", rest.end()) + 1, "")]
    if after is not None and "\n" not in text[end : after.start]:
        return [(item.start, after.start, "")]
    if after is None and before is not None and before.comma is not None and "#" not in text[before.end : item.start]:
        return [(before.end if comma else before.comma + 1, end, "")]
    if len(items) == 1 and not (text[value.start + 1 : item.start] + text[end : value.end - 1]).strip():
        return [(value.start + 1, value.end - 1, "")]
    start = item.start
    while text[start - 1] in " \t":
        start -= 1
    return [*comma, (start, end, "")]
