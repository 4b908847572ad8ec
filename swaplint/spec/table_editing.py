"""Changing values in a table beside a spec: their cells get other texts, and every other byte stays as it is."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from swaplint.spec.editing.values import EditError
from swaplint.spec.facts import FieldFacts
from swaplint.spec.fields import Section
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.nearby import NotThere
from swaplint.spec.paths import path_text
from swaplint.spec.shape import facts_at
from swaplint.spec.table_file import TableFile
from swaplint.spec.table_text import cell_text
from swaplint.spec.tables import collection_at, read_parts
from swaplint.spec.toml_source import PathKey, SpecError

_AS_TEXT = {"utf-8": "", "utf-8-sig": "\ufeff"}
"""The code pages that a table is written in, each with the mark at its beginning."""


def written_in(file: TableFile, value: object) -> str:
    """A value as a cell of a table holds it. Raises `EditError` where it has no room in one.

    >>> table = TableFile("t.csv", "", {}, decimal=",", parting=";")
    >>> written_in(table, "2.5 m"), written_in(table, True), written_in(table, ["kit", "shop"])
    ('"2,5 m"', 'true', '"kit; shop"')
    """
    if isinstance(value, list):
        if any(isinstance(one, list | dict) for one in value) or not value:
            raise EditError("has no room in a cell of a table")
        return cell_text("; ".join(_said(file, one) for one in value))
    if isinstance(value, dict):
        raise EditError("has no room in a cell of a table")
    return cell_text(_said(file, value))


def _said(file: TableFile, value: object) -> str:
    text = str(value).lower() if isinstance(value, bool) else str(value)
    if file.decimal == "," and not isinstance(value, bool):
        return re.sub(r"^([-+]?[0-9]+)\.([0-9]+)", r"\1,\2", text)
    return text


class _Cell(NamedTuple):
    """A cell that gets another value."""

    here: PathKey
    """The value's path in the table."""
    value: object
    start: int
    end: int
    facts: FieldFacts | None


def with_values(spec: LoadedSpec, changes: Mapping[PathKey, object]) -> tuple[TableFile, str]:
    """The table that holds some values, and its text with others in their place. Raises `EditError`.

    The new text is read again: it must hold what the old one held, with those changes.
    """
    tables: dict[tuple[str, PathKey], TableFile] = {}
    cells: list[_Cell] = []
    model = type(spec.build)
    for keys, value in changes.items():
        found = spec.in_table(keys)
        if found is None:
            raise EditError(f"{path_text(keys)} does not stand in a table of the spec")
        file, collection, here = found
        tables[file.label, collection] = file
        span = (file.spans.get((*here, "value")) or file.spans[here]).value
        alone = span is not None and (*here, "tol") not in file.spans and not isinstance(value, dict)
        if span is None or not alone or file.code_page not in _AS_TEXT or len(tables) > 1:
            raise EditError(f"{_stands(spec, keys)}: change it there")
        cells.append(_Cell(here, value, *span, facts_at(model, path_text(keys))))
    (_, collection), file = next(iter(tables.items()))
    text = file.text
    for cell in sorted(cells, key=lambda cell: -cell.start):
        text = f"{text[: cell.start]}{written_in(file, cell.value)}{text[cell.end :]}"
    if not _are_those_changes(file, text, model, collection, cells):
        raise EditError(f"{_stands(spec, next(iter(changes)))}, and only a person can change it there")
    return file, _AS_TEXT[file.code_page] + text


def _stands(spec: LoadedSpec, keys: PathKey) -> str:
    place = spec.place_at(keys)
    return f"{path_text(keys)} stands in {place.file}, line {place.line}"


def _are_those_changes(
    file: TableFile, text: str, model: type[Section], collection: PathKey, cells: Sequence[_Cell]
) -> bool:
    try:
        _, member = collection_at(model, ".".join(map(str, collection)))
        _, before, _ = read_parts(file.raw, file.label, member)
        _, after, wrong = read_parts((_AS_TEXT[file.code_page] + text).encode("utf-8"), file.label, member)
        for cell in cells:
            _taken(before, cell.here)
            if not _alike(cell.facts, _taken(after, cell.here), cell.value):
                return False
    except (NotThere, SpecError, ValueError, LookupError, TypeError):
        return False
    return not wrong and bool(before == after)


def _alike(facts: FieldFacts | None, one: Any, other: Any) -> bool:
    """Whether two cells state the same value: `2.50 m` and `2.5 m` do."""
    if facts is None or isinstance(other, list):
        return bool(one == other)
    return facts.read(one)._replace(written="") == facts.read(other)._replace(written="")


def _taken(parts: Any, here: PathKey) -> Any:
    for key in here[:-1]:
        parts = parts[key]
    value = parts[here[-1]]
    parts[here[-1]] = None
    return value
