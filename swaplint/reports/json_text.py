"""Data as JSON text: the outer levels one entry a line, what lies deeper on the line of its entry.

So a result can be found, compared and counted line by line, and the text is half as long as one that is indented to the
bottom. The same data give the same bytes.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple


class Rendered(NamedTuple):
    """JSON text that is ready, to stand where its data would; as bytes, for they take half the room or a quarter.

    In pieces: text of many megabytes is never put together, nor copied.
    """

    pieces: list[bytes]


class Making(NamedTuple):
    """A list whose things are made one by one as they are written, each let go with its text; laid out, never empty."""

    things: Iterable[object]


class Shared(list[Any]):
    """A list of things that stand in many lists, each the same object there: the text of each is made once."""


def json_text(
    data: object, *, levels: int, sort_keys: bool = False, unicode_only: bool = False, start: str = "\n"
) -> str:
    """JSON text of data, its first `levels` levels laid out, with a newline at the end.

    What is not printable is escaped, so it cannot steer a terminal, and the text can be encoded in UTF-8 whatever it
    holds. With `unicode_only` a byte of a file's name that is no Unicode becomes a question mark instead of an escape.
    `start` begins each line, for data that stand deeper. Raises `ValueError` for a number that is not finite.

    >>> print(json_text({"a": [{"b": 1}, {"b": [2, 3]}], "c": {}}, levels=2), end="")
    {
      "a": [
        {"b": 1},
        {"b": [2, 3]}
      ],
      "c": {}
    }
    """
    return "".join(json_pieces(data, levels=levels, sort_keys=sort_keys, unicode_only=unicode_only, start=start))


def json_pieces(
    data: object,
    *,
    levels: int,
    sort_keys: bool = False,
    unicode_only: bool = False,
    start: str = "\n",
    compact: bool = False,
) -> Iterator[str]:
    """The same piece by piece, for text of which there need not be a whole; `compact` without spaces in a line."""
    yield from _Writer(sort_keys, unicode_only, compact).pieces(data, levels, start)
    yield "\n"


class _Writer:
    def __init__(self, sort_keys: bool, unicode_only: bool, compact: bool) -> None:
        self.sort_keys, self.unicode_only = sort_keys, unicode_only
        self.comma, self.colon = (",", ":") if compact else (", ", ": ")
        self.encode = json.JSONEncoder(
            ensure_ascii=False, allow_nan=False, sort_keys=sort_keys, separators=(self.comma, self.colon)
        ).encode
        self.known: dict[int, tuple[object, str]] = {}
        """The text of what is shared, by identity, with the thing itself: so that it stays as long."""

    def pieces(self, data: object, levels: int, start: str) -> Iterator[str]:
        if isinstance(data, Rendered):
            yield from (piece.decode() for piece in data.pieces)
            return
        if not levels or not data or not isinstance(data, dict | list | Making):
            yield self.on_one_line(data)
            return
        inner = f"{start}  "
        if isinstance(data, list | Making):
            for number, item in enumerate(data if isinstance(data, list) else data.things):
                yield f",{inner}" if number else f"[{inner}"
                yield from self.pieces(item, levels - 1, inner)
            yield f"{start}]"
            return
        for number, key in enumerate(sorted(data) if self.sort_keys else data):
            yield (f",{inner}" if number else f"{{{inner}") + self.on_one_line(key) + self.colon
            yield from self.pieces(data[key], levels - 1, inner)
        yield f"{start}}}"

    def on_one_line(self, data: object) -> str:
        if isinstance(data, dict) and any(type(value) is Shared for value in data.values()):
            return f"{{{self.comma.join(self.entries(data))}}}"
        return self.plain(data)

    def entries(self, data: dict[str, Any]) -> Iterator[str]:
        """The entries of a table that holds shared things, many on end as one text."""
        others: dict[str, Any] = {}
        for key in sorted(data) if self.sort_keys else data:
            value = data[key]
            if type(value) is Shared:
                if others:
                    yield self.plain(others)[1:-1]
                    others = {}
                yield f"{self.plain(key)}{self.colon}[{self.comma.join(map(self.once, value))}]"
            else:
                others[key] = value
        if others:
            yield self.plain(others)[1:-1]

    def once(self, data: object) -> str:
        """The text of a shared thing."""
        known = self.known.get(id(data))
        if known is None:
            known = self.known[id(data)] = data, self.plain(data)
        return known[1]

    def plain(self, data: object) -> str:
        """The text of data by itself."""
        text = self.encode(data)
        if text.isprintable():
            return text
        if self.unicode_only:
            text = text.encode("utf-8", "replace").decode("utf-8")
        return "".join(map(_printable, text))


def _printable(character: str) -> str:
    if character.isprintable():
        return character
    units = character.encode("utf-16-be", "surrogatepass")
    return "".join(f"\\u{units[i]:02x}{units[i + 1]:02x}" for i in range(0, len(units), 2))
