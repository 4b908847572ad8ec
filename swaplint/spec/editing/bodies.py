"""Entries put into a table and taken out of it, whether they stand below a header or within braces.

Both kinds of table may hold dotted keys, which state tables of their own: `speed.rated = 5` states the table `speed`.
Such a table can be added to only by further dotted keys beside the others.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Protocol

from swaplint.spec.editing.scanning import Entry, Splice, under
from swaplint.spec.editing.values import emptied, key_text, keys_before_index, wrapped, written
from swaplint.spec.toml_source import PathKey


class Body(Protocol):
    """The entries of one table, and how the text changes where one comes or goes."""

    entries: Sequence[Entry]

    def inserted(self, after: Entry | None, entry: str) -> list[Splice]:
        """The edits that put an entry behind another one, or into a table that has none."""

    def without(self, entries: Sequence[Entry]) -> list[Splice]:
        """The edits that take entries away."""


def put(body: Body, path: PathKey, value: object) -> list[Splice]:
    """The edits that state `value` at `path`, counted from the body's table.

    What stands there is nothing, or a table of dotted keys, in whose place the value comes.
    """
    keys, value = keys_before_index(path, value)
    stated = under(body.entries, keys)
    if stated:
        first, *others = stated
        return [(first.start, first.end, f"{key_text(keys)} = {written(value)}"), *body.without(others)]
    for length in range(len(keys) - 1, 0, -1):
        beside = under(body.entries, keys[:length])
        if beside:
            return body.inserted(beside[-1], f"{key_text(keys)} = {written(value)}")
    last = body.entries[-1] if body.entries else None
    return body.inserted(last, f"{key_text(keys[:1])} = {written(wrapped(keys[1:], value))}")


def dropped(body: Body, path: tuple[str, ...], data: Mapping[str, Any]) -> list[Splice]:
    """The edits that take away what is stated at `path`; `data` is all that the body's table holds.

    A table of dotted keys that loses its last one is written out as an empty table: it is still there.
    """
    stated = under(body.entries, path)
    if not emptied(data, path):
        return body.without(stated)
    first, *others = stated
    return [(first.start, first.end, f"{key_text(path[:-1])} = {{}}"), *body.without(others)]
