"""Old names where they are words and not keys: in signed departures, in `[tables]` and in the columns of a table.

What stands as a key of the spec `swaplint.spec.renamed` puts into today's names. Here a value names a rule, a part or a
collection, or the first line of a table names fields. Each is read under its old name, too; this rewrites the file.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from swaplint.host.packs import RuleBase
from swaplint.spec.editing import edited, rename
from swaplint.spec.fields import Section
from swaplint.spec.paths import path_text
from swaplint.spec.renamed import path_today
from swaplint.spec.table_text import Cell, read_table
from swaplint.spec.tables import column_named, tables_named
from swaplint.spec.toml_source import PathKey, SpecError, TomlFile

SECTION = "tables"


class Told(NamedTuple):
    """A name that was rewritten."""

    line: int
    old: str
    new: str


def in_todays_words(text: str, file: TomlFile, base: RuleBase) -> tuple[str, list[Told]]:
    """The text of a spec with today's names in its departures and in `[tables]`. Raises `EditError`.

    `file` is the spec as it was read, for what it holds and for its lines.
    """
    told: list[Told] = []
    changes: dict[PathKey, object] = {}
    for path, old, new in _in_departures(file, base):
        changes[path] = new
        told.append(Told(file.place_of(path).line, old, new))
    text = edited(text, changes) if changes else text
    for keys, _ in list(tables_named(file.data.get(SECTION))):
        old = ".".join(map(str, keys))
        new = path_today(base.model, old)
        if new != old:
            path = (SECTION, *keys)
            text = rename(text, path, (SECTION, new) if len(keys) == 1 else (SECTION, *new.split(".")))
            told.append(Told(file.place_of(path, want_key=True).line, old, new))
    return text, told


def _in_departures(file: TomlFile, base: RuleBase) -> Iterator[tuple[PathKey, str, str]]:
    """Each word of a departure that is another today: where it stands, the old one and today's."""
    departures = file.data.get("deviations")
    for number, one in enumerate(departures) if isinstance(departures, list) else ():
        for key, today in (("rule", _rule(base)), ("part", _part(base.model))):
            old = one.get(key) if isinstance(one, dict) else None
            if isinstance(old, str) and (new := today(old)) != old:
                yield ("deviations", number, key), old, new


def _rule(base: RuleBase) -> Callable[[str], str]:
    def today(id: str) -> str:
        rule = base.find(id)
        return rule.id if rule is not None else id

    return today


def _part(model: type[Section]) -> Callable[[str], str]:
    def today(part: str) -> str:
        """A part goes by its path, or by two of them."""
        words = part.split(" ")
        return " ".join(path_today(model, word) if "." in word or "[" in word else word for word in words)

    return today


def table_in_todays_names(raw: bytes, label: str, model: type[Section]) -> tuple[str, list[Told]]:
    """The text of a table with today's names in its first line, and no other character changed. Raises `SpecError`.

    `model` is that of a part of the table.
    """
    table = read_table(raw, label)
    mark = {"utf-8": "", "utf-8-sig": "\ufeff"}.get(table.encoding)
    text, told = table.text, []
    for cell in reversed(table.header):
        old = column_named(cell.text)
        new = path_today(model, old)
        if not old or new == old:
            continue
        if mark is None:
            raise table.error(f"{old} is called {new} now: this table is no UTF-8 text, so rename it by hand", cell)
        text = f"{text[: cell.start]}{_with_name(text[cell.start : cell.end], old, new, cell, label)}{text[cell.end :]}"
        told.append(Told(cell.line, old, new))
    return (mark or "") + text, told[::-1]


def _with_name(written: str, old: str, new: str, cell: Cell, label: str) -> str:
    """A column's head as it is written, quotes and unit included, with another name."""
    if written.count(old) < 1:
        raise SpecError(
            f"{old} is called {path_text((new,))} now: rename the column by hand", label, cell.line, cell.column
        )
    return written.replace(old, new, 1)
