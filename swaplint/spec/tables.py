"""Tables of parts beside a spec: one row a part, the columns its fields.

`[tables]` names them: `"electrics.cables" = "cables.csv"`. The first column of a table of named parts holds the names;
a list of parts has none. A column names a field as the spec would below the part, `length` or `connector.ways`, with
its unit if the cells have none, `length (m)`; `length.tol` and `length.basis` go with it. An empty cell states nothing.
What a table states is of the spec itself: a field that stands both there and in the spec is stated twice, and refused.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, NamedTuple

from swaplint.spec.facts import FieldFacts, nearest, shown_value
from swaplint.spec.fields import Section
from swaplint.spec.loaded import Origins
from swaplint.spec.nearby import NotThere
from swaplint.spec.paths import path_text
from swaplint.spec.renamed import path_today
from swaplint.spec.shape import Member, members
from swaplint.spec.table_file import TableFile
from swaplint.spec.table_text import Cell, Table, read_table
from swaplint.spec.toml_source import PathKey, Spans, SpecError, TomlFile
from swaplint.units import UnitError, read

MOST_TOLD = 20
"""How many faults of one table are told."""
_BESIDE_VALUE = ("value", "tol", "basis")


class Column(NamedTuple):
    """What one column of a table states."""

    path: PathKey
    """The field's path below the part, with `tol` or `basis` behind it where it states that of the value."""
    facts: FieldFacts
    listed: bool
    unit: str
    """The unit of cells that have none of their own."""
    beside: str
    """`tol` or `basis`, where the column states that of a value."""


# -- which table is of what ----------------------------------------------------------------------------------------
def tables_named(node: Any, path: PathKey = ()) -> Iterator[tuple[PathKey, object]]:
    """Each entry of `[tables]`: its path in the section, and what stands there."""
    for key, value in node.items() if isinstance(node, dict) else ():
        if isinstance(value, dict):
            yield from tables_named(value, (*path, key))
        else:
            yield (*path, key), value


def collection_at(model: type[Section], text: str) -> tuple[PathKey, Member]:
    """The collection of parts of a name. Raises `NotThere` where the model has none."""
    keys: PathKey = tuple(path_today(model, text).split("."))
    shape: type[Section] | None = model
    member, named = None, False
    for key in keys:
        if named:
            named = False
            continue
        member = members(shape).get(str(key)) if shape is not None else None
        if member is None or (member.role == "items" and key != keys[-1]):
            break
        shape, named = member.model, member.role == "parts"
    else:
        if member is not None and member.role in ("parts", "items") and (named or member.role == "items"):
            return keys, member
    near = nearest(text, [known.replace("*", "NAME") for known in _collections(model)])
    hint = f"; did you mean '{near}'?" if near else ", like electrics.cables"
    raise NotThere(f"{shown_value(text)} is no table or list of alike parts{hint}")


def _collections(model: type[Section], prefix: str = "") -> Iterator[str]:
    for name, member in members(model).items():
        if member.model is None:
            continue
        path = f"{prefix}.{name}" if prefix else name
        if member.role != "part":
            yield path
        if member.role != "items":
            yield from _collections(member.model, path + (".*" if member.role == "parts" else ""))


_COLUMN = re.compile(r"(.*?)\s*(?:\(([^()]+)\)|\[([^\[\]]+)\])?", re.DOTALL)


def _column_said(text: str) -> tuple[str, str]:
    """The field that the head of a column names, and its unit."""
    found = _COLUMN.fullmatch(text)
    assert found is not None
    return found[1], (found[2] or found[3] or "").strip()


def column_named(text: str) -> str:
    """The field that the head of a column names: `length` of `length (m)`."""
    return _column_said(text)[0]


# -- reading one ---------------------------------------------------------------------------------------------------
def read_parts(raw: bytes, label: str, member: Member) -> tuple[TableFile, Any, list[SpecError]]:
    """The parts of a table as a spec would hold them, and what is wrong in it. Raises `SpecError`."""
    reading = _Reading(read_table(raw, label), member)
    parts = reading.parts()
    table = reading.table
    starts = [0, *(end.end() for end in re.finditer(r"\r\n|\r|\n", table.text))]
    file = TableFile(label, table.text, {}, raw, reading.spans, starts, table.encoding, table.parting, table.decimal)
    return file, parts, reading.errors


class _Reading:
    """Reads the rows of one table."""

    def __init__(self, table: Table, member: Member) -> None:
        assert member.model is not None
        self.table, self.model, self.named = table, member.model, member.role == "parts"
        self.nameless = False
        self.errors: list[SpecError] = []
        self.spans: dict[PathKey, Spans] = {}

    def parts(self) -> Any:
        """The parts, by name or as a list."""
        columns = self._columns()
        if self.nameless:
            return {}
        named: dict[str, Any] = {}
        lines: dict[str, int] = {}
        listed: list[Any] = []
        for row in self.table.rows:
            if self.named:
                name, first = row[0].text, row[0]
                if not name:
                    self._refuse("has no name for the part of this row", first)
                elif name in named:
                    self._refuse(f"{shown_value(name)} is the part of line {lines[name]} already", first)
                else:
                    self.spans[(name,)] = Spans((first.start, first.end), None)
                    lines[name] = first.line
                    named[name] = self._part(row, columns, (name,))
            else:
                here: PathKey = (len(listed),)
                self.spans[here] = Spans((row[0].start, row[-1].end), None)
                listed.append(self._part(row, columns, here))
        return named if self.named else listed

    def _refuse(self, what: str, cell: Cell) -> None:
        if len(self.errors) < MOST_TOLD:
            self.errors.append(self.table.error(what, cell))

    # -- columns ---------------------------------------------------------------------------------------------------
    def _columns(self) -> list[Column | None]:
        out: list[Column | None] = []
        seen: dict[PathKey, int] = {}
        for number, cell in enumerate(self.table.header):
            if self.named and number == 0:
                self._check_name_column(cell)
                out.append(None)
                continue
            try:
                column = self._column(cell.text)
            except NotThere as error:
                self._refuse(str(error), cell)
                out.append(None)
                continue
            if column.path in seen:
                self._refuse(f"names {path_text(column.path)} a second time, as column {seen[column.path]} does", cell)
                out.append(None)
                continue
            seen[column.path] = number + 1
            out.append(column)
        return out

    def _check_name_column(self, cell: Cell) -> None:
        try:
            known = cell.text != "name" and bool(self._column(cell.text))
        except NotThere:
            return
        if known:
            what = f"the first column holds the names of the parts, and {cell.text!r} is a field of each"
            self._refuse(f"{what}: put a column 'name' before it", cell)
            self.nameless = True

    def _column(self, text: str) -> Column:
        said, unit = _column_said(text)
        if not said:
            raise NotThere("is a column without a name; each names a field of the part")
        keys: PathKey = tuple(path_today(self.model, said).split("."))
        shape: type[Section] | None = self.model
        member, named = None, False
        beside = ""
        for number, key in enumerate(keys):
            if named:
                named = False
                continue
            if member is not None and member.role == "plain" and number == len(keys) - 1 and key in _BESIDE_VALUE:
                beside = str(key)
                break
            member = members(shape).get(str(key)) if shape is not None else None
            if member is None or member.role == "items":
                raise NotThere(self._no_column(said))
            shape, named = member.model, member.role == "parts"
        if member is None or member.facts is None:
            raise NotThere(self._no_column(said))
        if beside and member.facts.type not in ("measure", "number", "count"):
            raise NotThere(f"{shown_value(said)} has no {beside}: only numbers have")
        if beside == "value":
            keys, beside = keys[:-1], ""
        self._check_unit(member.facts, unit, beside, said)
        return Column(keys, member.facts, member.role == "plain-list", unit, beside)

    def _check_unit(self, facts: FieldFacts, unit: str, beside: str, said: str) -> None:
        if not unit or (beside == "tol" and unit == "%"):
            return
        if facts.kind is None or beside == "basis":
            raise NotThere(f"{shown_value(said)} takes no unit, and its column says {shown_value(unit)}")
        try:
            read(f"1 {unit}", facts.kind)
        except UnitError as error:
            raise NotThere(f"the unit of column {shown_value(said)}: {error}") from None

    def _no_column(self, said: str) -> str:
        known = [path for path in _fields(self.model) if path != "sheet"]
        near = nearest(said, known) or nearest(said.rpartition(".")[2].lower(), known)
        hint = f"did you mean '{near}'?" if near else f"a part has {', '.join(known[:8])}{' …' if known[8:] else ''}"
        return f"{shown_value(said)} is no field of {'a part' if self.named else 'an entry'} of this table; {hint}"

    # -- rows ------------------------------------------------------------------------------------------------------
    def _part(self, row: tuple[Cell, ...], columns: list[Column | None], here: PathKey) -> dict[str, Any]:
        part: dict[str, Any] = {}
        for cell, column in zip(row, columns, strict=False):
            if column is None or not cell.text:
                continue
            where = (*here, *column.path)
            span = Spans((cell.start, cell.end), (cell.start, cell.end))
            node = part
            *above, last = (str(key) for key in column.path)
            if column.beside:
                above, last = above[:-1], above[-1]
                value = node_at(node, above).get(last, {})
                value = dict(value) if isinstance(value, dict) else {"value": value}
                value[column.beside] = self._value(cell.text, column)
                self.spans.setdefault(where[:-1], span)
            else:
                value = self._value(cell.text, column)
                beside = node_at(node, above).get(last)
                self.spans[where] = span
                if isinstance(beside, dict):
                    value = {**beside, "value": value}
                where = (*where, "value")
            node_at(node, above)[last] = value
            self.spans[where] = span
        return part

    def _value(self, text: str, column: Column) -> object:
        if column.beside == "basis":
            return text
        if column.listed:
            numbers = column.facts.type in ("measure", "number", "count")
            pieces = re.split(r"\s*[;\n]\s*|,\s+|\s+" if numbers else r"\s*[;,\n]\s*", text)
            return [self._plain(piece, column) for piece in pieces if piece]
        return self._plain(text, column)

    def _plain(self, text: str, column: Column) -> object:
        kind = column.facts.type
        if kind == "flag":
            return {"true": True, "false": False}.get(text.lower(), text)
        if kind not in ("measure", "number", "count"):
            return text
        text = self.table.number_text(text)
        if kind != "measure":
            if column.beside and column.unit and _bare(text):
                return f"{text} {column.unit}"
            if re.fullmatch(r"[-+]?[0-9]{1,15}", text):
                return int(text)
            return float(text) if re.fullmatch(r"[-+]?[0-9]+\.[0-9]+(?:[eE][-+]?[0-9]{1,3})?", text) else text
        return f"{text} {column.unit}" if column.unit and _bare(text) else text


def node_at(node: dict[str, Any], keys: list[str]) -> dict[str, Any]:
    """The table below some keys, made where it is missing."""
    for key in keys:
        node = node.setdefault(key, {})
    return node


def _bare(text: str) -> bool:
    """Whether a number stands without a unit."""
    return re.search(r"[^\W\d_]|[%‰°'\"′″]", text) is None


def _fields(model: type[Section], prefix: str = "") -> Iterator[str]:
    for name, member in members(model).items():
        if member.facts is not None:
            yield f"{prefix}{name}"
        elif member.role == "part" and name != "document":
            assert member.model is not None
            yield from _fields(member.model, f"{prefix}{name}.")


# -- laying it beside the spec -------------------------------------------------------------------------------------
def lay_beside(
    data: dict[str, Any], collection: PathKey, parts: Any, file: TableFile, spec: TomlFile, origins: Origins
) -> list[SpecError]:
    """Put the parts of a table into what the spec states; what both state is stated twice."""
    node = data
    for key in collection[:-1]:
        below = node.get(str(key), {})
        if not isinstance(below, dict):
            return []  # what stands there is no table: that is told of it
        node[str(key)] = node = dict(below)
    last = str(collection[-1])
    if last not in node:
        node[last] = parts
        origins[collection] = (file, ())
        return []
    beside = node[last]
    if not isinstance(beside, dict) or not isinstance(parts, dict) or not beside:
        line = spec.place_of(collection, want_key=True).line
        what = f"{path_text(collection)} stands in line {line} of the spec, too: keep one of them"
        return [SpecError(what, file.label, 1, 1)]
    node[last] = beside = dict(beside)
    wrong: list[SpecError] = []
    for name, part in parts.items():
        if name not in beside:
            beside[name] = part
            origins[(*collection, name)] = (file, (name,))
        elif not isinstance(beside[name], dict):
            wrong.append(_twice((*collection, name), (name,), file, spec))
        else:
            beside[name] = dict(beside[name])
            _lay_part(beside[name], part, (*collection, name), (name,), file, spec, origins, wrong)
    return wrong[:MOST_TOLD]


def _lay_part(
    out: dict[str, Any],
    part: dict[str, Any],
    path: PathKey,
    here: PathKey,
    file: TableFile,
    spec: TomlFile,
    origins: Origins,
    wrong: list[SpecError],
) -> None:
    for key, value in part.items():
        if key not in out:
            out[key] = value
            origins[(*path, key)] = (file, (*here, key))
        elif isinstance(out[key], dict) and isinstance(value, dict) and not ({*out[key], *value} & {*_BESIDE_VALUE}):
            out[key] = dict(out[key])
            _lay_part(out[key], value, (*path, key), (*here, key), file, spec, origins, wrong)
        else:
            wrong.append(_twice((*path, key), (*here, key), file, spec))


def _twice(path: PathKey, here: PathKey, file: TableFile, spec: TomlFile) -> SpecError:
    place = file.place_of(here)
    line = spec.place_of(path, want_key=True).line
    what = f"{path_text(path)} is stated here and in line {line} of the spec: keep one of them"
    return SpecError(what, file.label, place.line, place.column)
