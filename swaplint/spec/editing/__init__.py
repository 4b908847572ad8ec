"""Edits of a TOML text that leave every other byte as it is.

A builder's file holds more than values: comments, blank lines, an order, a way of writing. An edit puts new text in
place of one stretch of the old, and all around it stays byte for byte. Where things are put:

- A new key comes behind the last key of its table, indented as that one is; a key of the file itself before the first
  header. Comments straight above a header go with that header.
- A new table gets a header behind the last table of the same parent, else at the end of the file, after a blank line.
  A parent that had no header of its own and now holds a key gets one before its first table.
- A table made of dotted keys gets further dotted keys, an inline table further keys within its braces.
- A new table given as a whole is written inline, as a value with its tolerance is. Directly in the file, or in a table
  whose own tables all have headers, it gets a header, and a list of tables `[[headers]]`. An item added to a list under
  `[[headers]]` gets such a header.
- A table given in place of a table, or a list in place of a list, changes only what differs between them.
- What is taken away goes with the comment on its line, and a table with all comments in it; comments above stay.
  A table or list that loses its last part is still there, empty: silence and "there is none" are different things.
- A key gets another name wherever the text names it, and what it holds stays as it is written, also where it goes to
  another table. The comment on its line goes with it; comments above stay.
- A string is written in double quotes, or in the single quotes of the one that it replaces.

After each edit the new text is read again: it must hold what the old one held, with that one change. Else, and for what
cannot be done, there is an `EditError`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from swaplint.spec.editing.renaming import (
    in_order,
    renamed_data,
    renamed_in_place,
    with_headers_moved,
    with_text_at,
    written_at,
)
from swaplint.spec.editing.tables import Document
from swaplint.spec.editing.values import (
    REMOVED,
    EditError,
    Removed,
    changed_data,
    is_list_of_tables,
    same,
    unlike,
    value_in,
)
from swaplint.spec.paths import path_text
from swaplint.spec.toml_source import PathKey, SpecError, read_bytes

__all__ = ["REMOVED", "EditError", "Removed", "edit_bytes", "edited", "remove", "rename", "rename_keys", "set_value"]

_BOM = "\ufeff"


def set_value(text: str, path: PathKey, value: object) -> str:
    r"""The text with `value` at `path`, in place of what is there or added where it is missing.

    >>> set_value("[engine]\nname = 'six'  # as delivered\n", ("engine", "name"), "five")
    "[engine]\nname = 'five'  # as delivered\n"
    """
    return edited(text, {path: value})


def remove(text: str, path: PathKey) -> str:
    r"""The text without what is at `path`: a key, a table with all that is below it, an item of a list.

    >>> remove("cells = [1, 2, 3]\n", ("cells", 1))
    'cells = [1, 3]\n'
    """
    return edited(text, {path: REMOVED})


def rename(text: str, old: PathKey, new: PathKey) -> str:
    r"""The text with the key at `old` called by the last of `new`, in another table where the two differ in that.

    >>> rename("[engine]\nweight = '410 kg'  # dry\n", ("engine", "weight"), ("engine", "mass"))
    "[engine]\nmass = '410 kg'  # dry\n"
    """
    bom, text = (_BOM, text[1:]) if text.startswith(_BOM) else ("", text)
    data = _read(text)
    value = value_in(data, old) if old else REMOVED
    if value is REMOVED:
        raise EditError(f"there is no '{path_text(old)}' to rename")
    if not new or not isinstance(old[-1], str) or not isinstance(new[-1], str):
        raise EditError("an item of a list has a number, and no name")
    if value_in(data, new) is not REMOVED:
        raise EditError(f"'{path_text(new)}' is there already")
    if new[: len(old)] == old:
        raise EditError(f"'{path_text(old)}' cannot be put into itself")
    if old[:-1] == new[:-1]:
        return bom + rename_keys(text, {old: new[-1]})
    expected = changed_data(changed_data(data, new, value), old, REMOVED)
    for moved in _moved(text, old, new, value):
        if same(_read(moved, "the edited text"), expected):
            return bom + moved
    raise EditError(f"'{path_text(old)}' cannot be renamed here without changing something else")


def rename_keys(text: str, names: Mapping[PathKey, str]) -> str:
    r"""The text with other names for many keys at once; each path speaks of the text as it was given.

    >>> rename_keys("[engine]\nweight = '410 kg'\n", {("engine",): "motor", ("engine", "weight"): "mass"})
    "[motor]\nmass = '410 kg'\n"
    """
    bom, text = (_BOM, text[1:]) if text.startswith(_BOM) else ("", text)
    data = _read(text)
    for path, name in names.items():
        if value_in(data, path) is REMOVED or not path or not isinstance(path[-1], str):
            raise EditError(f"there is no '{path_text(path)}' to rename")
        if value_in(data, (*path[:-1], name)) is not REMOVED:
            raise EditError(f"'{path_text((*path[:-1], name))}' is there already")
    text = renamed_in_place(text, names)
    expected, found = renamed_data(data, names), _read(text, "the edited text")
    if not (same(found, expected) and in_order(found, expected)):
        raise EditError("the keys cannot be renamed here without changing something else")
    return bom + text


def _moved(text: str, old: PathKey, new: PathKey, value: object) -> Iterator[str]:
    """The text with a value in another table: ways to write that, the one that keeps most first."""
    try:
        with_headers = with_headers_moved(text, old, new)
        if with_headers is not None:
            emptied = value_in(_read(with_headers), old[:-1]) is REMOVED
            yield edited(with_headers, {old[:-1]: {}}) if emptied else with_headers
    except EditError:
        pass  # the new table has another way of being written
    anew = edited(text, {new: value, old: REMOVED})
    where = written_at(text, old)
    if where is not None:
        start, end, comment_end = where
        # A number in its place shows where the value comes to stand.
        placed = with_text_at(edited(text, {new: 0, old: REMOVED}), new, text[start:end], text[end:comment_end])
        try:
            if placed is not None:
                _read(placed)
                yield placed
        except EditError:
            pass  # what stands on several lines has no room within braces
    yield anew


def edited(text: str, changes: Mapping[PathKey, object]) -> str:
    """The text with many changes: values to set, or `REMOVED`.

    Values are set in the order given. What is to be removed goes afterwards, the last items of a list first: so every
    path speaks of the text as it was given.
    """
    gone = [path for path, value in changes.items() if value is REMOVED]
    for path in gone:
        if any(one != path and (one == path[: len(one)] or path == one[: len(path)]) for one in changes):
            raise EditError(f"'{path_text(path)}' is to be taken away, and what it stands in or holds is to be changed")
    bom, text = (_BOM, text[1:]) if text.startswith(_BOM) else ("", text)
    data = _read(text)
    for path, value in changes.items():
        if value is not REMOVED:
            text, data = _edit(text, data, path, value)
    for path in sorted(gone, key=_order, reverse=True):
        text, data = _edit(text, data, path, REMOVED)
    return bom + text


def edit_bytes(raw: bytes, changes: Mapping[PathKey, object]) -> bytes:
    """The bytes of a file with changes made, as `edited` makes them. A byte-order mark stays."""
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError:
        raise EditError("the file is not UTF-8 text") from None
    return edited(text, changes).encode("utf-8")


def _edit(text: str, data: dict[str, Any], path: PathKey, value: object) -> tuple[str, dict[str, Any]]:
    """One change, and what the text then holds."""
    if not path:
        raise EditError("a whole file is not one value: name a field")
    expected = changed_data(data, path, value)
    old = value_in(data, path)
    if same(old, value):
        return text, data
    document = Document(text, data)
    if document.stated_by_tables(path):
        if isinstance(old, dict) and isinstance(value, dict):
            return _merge_table(text, data, path, old, value)
        if is_list_of_tables(old) and is_list_of_tables(value):
            return _merge_items(text, data, path, old, value)
    text = document.without(path) if value is REMOVED else document.with_value(path, value)
    found = _read(text, "the edited text")
    if not same(found, expected):
        raise EditError(f"'{path_text(path)}' cannot be changed here without changing something else")
    return text, found


def _merge_table(
    text: str, data: dict[str, Any], path: PathKey, old: dict[str, Any], new: dict[str, Any]
) -> tuple[str, dict[str, Any]]:
    for key, value in new.items():
        text, data = _edit(text, data, (*path, key), value)
    for key in (key for key in old if key not in new):
        text, data = _edit(text, data, (*path, key), REMOVED)
    return text, data


def _merge_items(
    text: str, data: dict[str, Any], path: PathKey, old: list[Any], new: list[Any]
) -> tuple[str, dict[str, Any]]:
    first, old_end, new_end = unlike(old, new)
    if new_end > old_end:  # more items: the new ones come at the end
        old_end, new_end = len(old), len(new)
    for index in range(first, new_end):
        text, data = _edit(text, data, (*path, index), new[index])
    for index in reversed(range(new_end, old_end)):
        text, data = _edit(text, data, (*path, index), REMOVED)
    return text, data


def _read(text: str, label: str = "the text") -> dict[str, Any]:
    if text.startswith(_BOM):
        raise EditError(f"{label} is not valid TOML: it begins with two byte-order marks")
    try:
        return read_bytes(text.encode("utf-8"), label).data
    except UnicodeEncodeError:
        raise EditError(f"{label} holds half a character, which no file can") from None
    except SpecError as error:
        raise EditError(str(error)) from None


def _order(path: PathKey) -> tuple[tuple[int, str], ...]:
    return tuple((part, "") if isinstance(part, int) else (-1, part) for part in path)
