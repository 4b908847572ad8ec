"""Keys that get another name, or another table to stand in: the value goes along as written, all else stays."""

from __future__ import annotations

import re
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from test_editing_any_text import KEYS, Written, comments, nodes, read, same, value_at, with_edit, written_trees
from test_editing_any_text import Edit as AnEdit
from toml_styles import basic

from swaplint.spec.editing import REMOVED, EditError, edited, rename, rename_keys
from swaplint.spec.editing.renaming import in_order
from swaplint.spec.toml_source import PathKey

NEW = "zz9"
"""A name that no drawn text holds."""

IN_PLACE = [
    ("weight = '410 kg'  # dry\n", ("weight",), "mass = '410 kg'  # dry\n"),
    ("[a]\r\n  old  =  1 # c\r\nb = 2", ("a", "old"), "[a]\r\n  mass  =  1 # c\r\nb = 2"),
    ("[a.old]\nx = 1\n[a . 'old' . b]\ny = 1\n", ("a", "old"), "[a.mass]\nx = 1\n[a . mass . b]\ny = 1\n"),
    ("[[old]]\nx = 1\n\n[[old]]\nx = 2\n", ("old",), "[[mass]]\nx = 1\n\n[[mass]]\nx = 2\n"),
    ("[[s]]\nold = 1\n[[s]]\nold = 2\n", ("s", 1, "old"), "[[s]]\nold = 1\n[[s]]\nmass = 2\n"),
    ("old.x = 1\n# between\nold.y = 2\n", ("old",), "mass.x = 1\n# between\nmass.y = 2\n"),
    ("a = { old = { value = 1 }, b = 2 }\n", ("a", "old"), "a = { mass = { value = 1 }, b = 2 }\n"),
    (
        "l = [\n  { old = 1 }, # one\n  { old = 2 },\n]\n",
        ("l", 1, "old"),
        "l = [\n  { old = 1 }, # one\n  { mass = 2 },\n]\n",
    ),
    ('\ufeff"ol\\u0064" = 1\n', ("old",), "\ufeffmass = 1\n"),
]


@pytest.mark.parametrize(("text", "path", "expected"), IN_PLACE)
def test_a_key_is_renamed_where_it_stands(text: str, path: PathKey, expected: str) -> None:
    assert rename(text, path, (*path[:-1], "mass")) == expected


def test_many_keys_are_renamed_at_once() -> None:
    text = "[a.b]\nc = 1 # c\n[[l]]\nc = { d.e = 1 }\n[a]\nb2 = 1\n"
    names: dict[PathKey, str] = {("a",): "z", ("a", "b"): "y", ("a", "b", "c"): "x", ("l", 0, "c", "d", "e"): "w"}
    assert rename_keys(text, names) == "[z.y]\nx = 1 # c\n[[l]]\nc = { d.w = 1 }\n[z]\nb2 = 1\n"
    for wrong in ({("q",): "z"}, {("a",): "l"}, {("l", 0): "z"}, {("a", "b"): "k", ("a", "b2"): "k"}):
        with pytest.raises(EditError):
            rename_keys(text, wrong)  # type: ignore[arg-type]


MOVES = [
    # A value goes with the comment on its line; a list on several lines stays as it is written.
    (
        "[a]\nx = 1\nl = [ # one\n  0x1, # two\n] # three\n\n[b]\ny = 2 # why\n",
        (("a", "l"), ("b", "k")),
        "[a]\nx = 1\n\n[b]\ny = 2 # why\nk = [ # one\n  0x1, # two\n] # three\n",
    ),
    # A whole table goes with its headers, comments and place in the file.
    (
        "[a]\nx = 1\n\n# about it\n[a.old]  # here\ny = '2'\n[a.old.c]\n\n[b]\nz = 1\n",
        (("a", "old"), ("b", "new")),
        "[a]\nx = 1\n\n# about it\n[b.new]  # here\ny = '2'\n[b.new.c]\n\n[b]\nz = 1\n",
    ),
    # The table that it leaves is still there, empty.
    ("[a.old]\ny = 2\n", (("a", "old"), ("b", "new")), "[b.new]\ny = 2\n\n[a]\n"),
    # Within braces.
    ("a = { l = '1', x = 1 }\nb = {}\n", (("a", "l"), ("b", "k")), "a = { x = 1 }\nb = { k = '1' }\n"),
    # A table that is not there yet.
    ("[a]\nl = '1' # c\nx = 1\n", (("a", "l"), ("b", "k")), "[a]\nx = 1\n\n[b]\nk = '1' # c\n"),
]


@pytest.mark.parametrize(("text", "paths", "expected"), MOVES)
def test_a_key_goes_to_another_table(text: str, paths: tuple[PathKey, PathKey], expected: str) -> None:
    assert rename(text, *paths) == expected


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        (("b",), ("c",), "there is no 'b'"),
        ((), ("c",), "there is no ''"),
        (("a",), ("d",), "'d' is there already"),
        (("a",), ("a", "b"), "cannot be put into itself"),
        (("l", 0), ("l", 1), "an item of a list has a number"),
        (("a",), ("d", "x"), "no table"),
    ],
)
def test_what_cannot_be_renamed_is_refused(old: PathKey, new: PathKey, says: str) -> None:
    with pytest.raises(EditError, match=re.escape(says)):
        rename("a = { x = 1 }\nd = 2\nl = [3]\n", old, new)


# -- random texts ---------------------------------------------------------------------------------------------------
def spelled(key: str) -> str:
    """A pattern for the ways in which the drawn texts spell a key."""
    return "(?:" + "|".join(re.escape(one) for one in (basic(key), f"'{key}'", key)) + ")"


def with_name(tree: Any, path: PathKey, name: str) -> Any:
    """The tree with another name for one key, said as plainly as can be."""
    if not path:
        return tree
    pairs = tree.items() if isinstance(tree, dict) else enumerate(tree)
    made = [
        (name if key == path[0] and len(path) == 1 else key, with_name(v, path[1:], name) if key == path[0] else v)
        for key, v in pairs
    ]
    return dict(made) if isinstance(tree, dict) else [v for _, v in made]


@given(written_trees(), st.data())
@settings(max_examples=300)
def test_nothing_but_the_name_changes(written: Written, data: st.DataObject) -> None:
    keys = [path for path, _ in nodes(written.tree) if isinstance(path[-1], str)]
    if not keys:
        return
    path = data.draw(st.sampled_from(keys))
    text = rename(written.text, path, (*path[:-1], NEW))
    expected = with_name(read(written.text), path, NEW)
    assert same(read(text), expected)
    assert in_order(read(text), expected)
    pieces = [re.escape(piece) for piece in text.split(NEW)]
    assert len(pieces) > 1
    assert re.fullmatch(spelled(str(path[-1])).join(pieces), written.text)


@given(written_trees(), st.data())
@settings(max_examples=300)
def test_a_move_is_that_and_no_more(written: Written, data: st.DataObject) -> None:
    there = nodes(written.tree)
    keys = [path for path, _ in there if isinstance(path[-1], str)]
    if not keys:
        return
    old = data.draw(st.sampled_from(keys))
    tables = [(), *(path for path, value in there if isinstance(value, dict) and path[: len(old)] != old)]
    new = (*data.draw(st.sampled_from(tables)), *data.draw(st.lists(KEYS, max_size=1)), NEW)
    if (
        new[: len(old)] == old
        or new[:-1] == old[:-1]
        or not isinstance(value_at(written.tree, new[:-1]), dict | type(REMOVED))
    ):
        return
    value = value_at(read(written.text), old)
    try:
        text = rename(written.text, old, new)
    except EditError:
        with pytest.raises(EditError):
            edited(written.text, {new: value, old: REMOVED})
        return
    expected = with_edit(with_edit(read(written.text), AnEdit(new, value)), AnEdit(old, REMOVED))
    assert same(read(text), expected)
    kept = [n for n in comments(written.text) if (about := written.about[n]) is None or about[: len(old)] != old]
    assert set(kept) <= set(comments(text))
