"""Giving a key another name, or another table to stand in, with what it holds as it is written.

Within its table a key is renamed wherever the text names it: in headers, dotted keys and inline tables. To another
table a whole one goes with its headers, where they stand; a single value is cut out with the comment on its line and
written there as `swaplint.spec.editing` writes a new key. What is written in several places is written anew.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from swaplint.spec.editing.scanning import (
    Entry,
    Section,
    Splice,
    header_key_start,
    key_spans,
    line_end,
    sections,
    spliced,
)
from swaplint.spec.editing.values import key_text
from swaplint.spec.toml_source import PathKey


def renamed_in_place(text: str, names: Mapping[PathKey, str]) -> str:
    """The text with other names for the keys at some paths, wherever each is named."""
    return spliced(text, ((start, end, key_text((name,))) for start, end, name in _named(text, names)))


def _named(text: str, names: Mapping[PathKey, str]) -> Iterator[Splice]:
    """Where the text names the keys, and what they shall be called."""
    for section in sections(text):
        if section.path:
            spans = iter(key_spans(text, header_key_start(text, section)))
            for depth, key in enumerate(section.path, 1):
                if isinstance(key, str):
                    span = next(spans)
                    if section.path[:depth] in names:
                        yield *span, names[section.path[:depth]]
        yield from _named_in(text, section.entries, section.path, names)


def _named_in(text: str, entries: Iterable[Entry], here: PathKey, names: Mapping[PathKey, str]) -> Iterator[Splice]:
    for index, entry in enumerate(entries):
        below: PathKey = (*here, *(entry.key or (index,)))
        for number in range(len(entry.key)):
            name = names.get((*here, *entry.key[: number + 1]))
            if name is not None:
                yield *key_spans(text, entry.start)[number], name
        yield from _named_in(text, entry.value.items or (), below, names)


def with_headers_moved(text: str, old: PathKey, new: PathKey) -> str | None:
    """The text with a whole table under another path, its headers rewritten; None where it has more than headers."""
    if any(isinstance(key, int) for key in (*old, *new)):
        return None
    splices: list[Splice] = []
    for section in sections(text):
        if section.path[: len(old)] == old:
            spans = key_spans(text, header_key_start(text, section))
            splices.append((spans[0][0], spans[len(old) - 1][1], key_text(tuple(map(str, new)))))
        elif old[: len(section.path)] == section.path and section.under(old[len(section.path) :]):
            return None
    return spliced(text, splices) if splices else None


def written_at(text: str, path: PathKey) -> tuple[int, int, int] | None:
    """Where the value at `path` is written, and where the comment on its line ends (the value, where there is none).

    None for what has no text of its own.
    """
    for section in sections(text):
        depth = len(section.path)
        if section.path == path[:depth]:
            found = _value_in(section.entries, path[depth:])
            if found is not None:
                start, end = found.value.start, found.end
                last = line_end(text, end)
                alone = _own_line(section, found) and text[end:last].strip().startswith("#")
                return start, end, last if alone else end
    return None


def _own_line(section: Section, entry: Entry) -> bool:
    return any(entry is one for one in section.entries)


def _value_in(entries: Iterable[Entry], path: PathKey) -> Entry | None:
    for index, entry in enumerate(entries):
        keys: PathKey = entry.key or (index,)
        if keys == path:
            return entry
        if keys == path[: len(keys)]:
            return _value_in(entry.value.items or (), path[len(keys) :])
    return None


def with_text_at(text: str, path: PathKey, value: str, comment: str) -> str | None:
    """The text with the value at `path` in other words, and a comment behind it if it is the last on its line."""
    found = written_at(text, path)
    if found is None:
        return None
    start, end, _ = found
    if text[end : line_end(text, end)].strip():
        comment = ""
    return spliced(text, [(start, end, value + comment)])


def in_order(one: Any, other: Any) -> bool:
    """Whether two values have their keys in the same order, as deep as they go."""
    if isinstance(one, dict) and isinstance(other, dict):
        return list(one) == list(other) and all(in_order(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(in_order, one, other))
    return True


def renamed_data(data: Any, names: Mapping[PathKey, str], path: PathKey = ()) -> Any:
    """What was read, with other names for the keys at some paths, each in the place of the old one."""
    if isinstance(data, dict):
        return {names.get((*path, key), key): renamed_data(value, names, (*path, key)) for key, value in data.items()}
    if isinstance(data, list):
        return [renamed_data(value, names, (*path, index)) for index, value in enumerate(data)]
    return data
