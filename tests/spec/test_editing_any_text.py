"""Random edits of random TOML texts, and edits of the public conformance files.

A tree of data is drawn and written in one of the many ways in which TOML can hold it; every comment in it is numbered
and knows what it is about. Then whatever is edited: the text reads as the data with that one change, and what is not
about the edited value stays as it is.
"""

from __future__ import annotations

import copy
import datetime
import itertools
import re
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from toml_styles import Writer

from swaplint.spec.editing import REMOVED, EditError, edit_bytes, edited, remove, set_value
from swaplint.spec.toml_source import PathKey, read_bytes

CONFORMANCE = Path(__file__).parents[2].parent / "shared" / "reference" / "toml-test"


# -- a tree of data, written somehow --------------------------------------------------------------------------------
KEYS = st.sampled_from(["a", "b", "c", "d-1", "7", "a b", "x.y", "é", "", 'say "so"', "it's", "\\", "#", "[t]", "="])
SCALARS = st.one_of(
    st.sampled_from(["", "12 mm", "# no comment", "[t]\nx = 1\n", "a\\b", "'\"", '"""', "'''", "ü\t", "],}", "\x7f"]),
    st.text(max_size=5),
    st.integers(-(2**63), 2**63 - 1),
    st.sampled_from([0, 1, 255]),
    st.floats(),
    st.booleans(),
    st.dates(),
    st.datetimes(timezones=st.sampled_from([None, datetime.UTC, datetime.timezone(datetime.timedelta(hours=5.5))])).map(
        lambda time: time.replace(fold=0)
    ),
    st.times().map(lambda time: time.replace(fold=0)),
)


def _deeper(children: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    tables = st.dictionaries(KEYS, children, max_size=4)
    return st.one_of(tables, tables, st.lists(tables, min_size=1, max_size=3), st.lists(children, max_size=4))


VALUES = st.recursive(SCALARS, _deeper, max_leaves=6)
FEW_KEYS = st.sampled_from(["a", "b", "c", "a b"])


def _tables(children: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    listed = st.lists(children, min_size=1, max_size=2)
    return st.dictionaries(FEW_KEYS, st.one_of(children, children, listed, SCALARS), min_size=1, max_size=3)


TREES = st.one_of(
    st.dictionaries(KEYS, st.recursive(SCALARS, _deeper, max_leaves=10), max_size=5),
    # Mostly tables in tables, as a spec is.
    _tables(_tables(_tables(st.dictionaries(FEW_KEYS, SCALARS, max_size=2)))),
)


@dataclass
class Written:
    text: str
    tree: dict[str, Any]
    about: list[PathKey | None]


@st.composite
def written_trees(draw: st.DrawFn) -> Written:
    tree = draw(TREES)
    random = draw(st.randoms(use_true_random=False))
    writer = Writer(lambda bound: random.randrange(bound))
    text = writer.text(tree)
    if draw(st.booleans()):
        text = text.replace("\n", "\r\n")
    return Written(text, tree, writer.about)


# -- edits and what is expected of them -----------------------------------------------------------------------------
@dataclass
class Edit:
    path: PathKey
    value: Any
    """What is set; REMOVED where it is taken away."""


def nodes(value: Any, path: PathKey = ()) -> list[tuple[PathKey, Any]]:
    found = [(path, value)] if path else []
    for key, child in value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ():
        found += nodes(child, (*path, key))
    return found


@st.composite
def edits(draw: st.DrawFn, tree: dict[str, Any]) -> Edit:
    """An edit that makes sense of what `tree` holds."""
    there = nodes(tree)
    kind = draw(st.sampled_from(["set", "remove", "add", "append"]))
    lists = [(path, value) for path, value in there if isinstance(value, list)]
    if kind == "append" and lists:
        path, value = draw(st.sampled_from(lists))
        item = draw(st.dictionaries(KEYS, VALUES, max_size=3) if draw(st.booleans()) else VALUES)
        return Edit((*path, len(value)), item)
    if kind in ("set", "remove") and there:
        path, value = draw(st.sampled_from(there))
        if kind == "remove":
            return Edit(path, REMOVED)
        if isinstance(value, dict | list) and draw(st.booleans()):  # nearly the same
            new = copy.deepcopy(value)
            for _ in range(draw(st.integers(1, 3))):
                inner = draw(edits({"": new}))
                if inner.path != ("",) and inner.path[0] == "":
                    new = with_edit({"": new}, inner)[""]
            return Edit(path, new)
        return Edit(path, draw(VALUES))
    path, table = draw(st.sampled_from([((), tree), *((p, v) for p, v in there if isinstance(v, dict))]))
    new_key = draw(KEYS.filter(lambda key: key not in table) if len(table) < 8 else st.just("new"))
    more = draw(st.lists(KEYS, max_size=2))
    index = (0,) if draw(st.integers(0, 5)) == 0 else ()
    return Edit((*path, new_key, *more, *index), draw(VALUES))


def with_edit(tree: dict[str, Any], edit: Edit) -> dict[str, Any]:
    """What the tree is after an edit, said as plainly as can be."""
    new = copy.deepcopy(tree)
    node: Any = new
    for part, following in itertools.pairwise(edit.path):
        if isinstance(node, dict) and part not in node:
            node[part] = [] if isinstance(following, int) else {}
        elif isinstance(node, list) and part == len(node):
            node.append([] if isinstance(following, int) else {})
        node = node[part]
    last = edit.path[-1]
    if edit.value is REMOVED:
        del node[last]
    elif isinstance(node, list) and last == len(node):
        node.append(edit.value)
    else:
        node[last] = edit.value
    return new


def value_at(tree: Any, path: PathKey) -> Any:
    """The value at a path; REMOVED where there is none."""
    for part in path:
        if (part in tree) if isinstance(tree, dict) else (isinstance(tree, list) and part in range(len(tree))):
            tree = tree[part]
        else:
            return REMOVED
    return tree


def same(one: Any, other: Any) -> bool:
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same, one, other))
    return _same_moment(one, other) or (type(one) is type(other) and repr(one) == repr(other))


def _same_moment(one: Any, other: Any) -> bool:
    both = isinstance(one, datetime.datetime) and isinstance(other, datetime.datetime)
    return both and one == other and one.utcoffset() == other.utcoffset()


def read(text: str) -> dict[str, Any]:
    return tomllib.loads(text)


def comments(text: str) -> list[int]:
    return [int(number) for number in re.findall(r"#c(\d+);", text)]


def stretch(old: str, new: str) -> tuple[int, int, int]:
    """Where two texts begin to differ, and where each of them ceases to."""
    start = next((i for i, (a, b) in enumerate(zip(old, new, strict=False)) if a != b), min(len(old), len(new)))
    room = min(len(old), len(new)) - start
    tail = next((i for i in range(room) if old[-1 - i] != new[-1 - i]), room)
    return start, len(old) - tail, len(new) - tail


def in_common(old: list[str], new: list[str]) -> int:
    """How many lines two texts have in common, in the same order."""
    best = [0] * (len(new) + 1)
    for line in old:
        row = [0]
        for i, other in enumerate(new):
            row.append(best[i] + 1 if line == other else max(best[i + 1], row[i]))
        best = row
    return best[-1]


def is_container(value: Any) -> bool:
    return isinstance(value, dict | list)


def check(
    text: str, tree: dict[str, Any], edit: Edit, about: list[PathKey | None] | None
) -> tuple[str, dict[str, Any]]:
    """Make one edit, look at everything that must hold, and give what came of it."""
    old, parent = value_at(tree, edit.path), value_at(tree, edit.path[:-1])
    try:
        new_text = edited(text, {edit.path: edit.value})
    except EditError as error:
        refusal = str(error)
    else:
        refusal = ""
    if refusal:  # a list with headers for its tables can hold nothing else
        assert "is a list of tables" in refusal
        listed = next(value for i in range(len(edit.path)) if isinstance(value := value_at(tree, edit.path[:i]), list))
        assert all(isinstance(item, dict) for item in listed)
        assert not isinstance(edit.value, dict)
        return text, tree
    expected = with_edit(tree, edit)
    assert same(read(new_text), expected)

    lines, new_lines = text.split("\n"), new_text.split("\n")
    if "\r\n" in text:
        assert new_text.count("\n") == new_text.count("\r\n")
    if text and new_text and not is_container(old):
        assert new_text.endswith("\n") == text.endswith("\n")

    kept, were = comments(new_text), comments(text)
    if edit.value is REMOVED or is_container(old):
        assert kept == [number for number in were if number in set(kept)]
        if about is not None:
            for number in set(were) - set(kept):
                subject = about[number]
                assert subject is not None
                assert subject[: len(edit.path)] == edit.path
    else:
        assert kept == were
    if old is REMOVED:
        # Something comes in: at most one line changes, where it comes into what stands on that line.
        assert in_common(lines, new_lines) >= len(lines) - 1
    elif edit.value is REMOVED:
        # Something goes: what is left was there before, but for one line changed or, where it was the last of
        # its table, one that says that the table is empty.
        fresh = len(new_lines) - in_common(lines, new_lines)
        assert fresh <= (4 if len(parent) == 1 else 2 if isinstance(parent, list) else 1)
    elif not is_container(old) and not same(old, edit.value):
        # Something changes: all is confined to the old value.
        span = read_bytes(text.encode(), "t").spans[edit.path].value
        assert span is not None
        start, end, _ = stretch(text, new_text)
        assert span[0] <= start <= end <= span[1]
        back = set_value(new_text, edit.path, old)
        assert same(read(back), tree)
        assert back[: span[0]] == text[: span[0]]
        assert back.endswith(text[span[1] :])
    if old is REMOVED and isinstance(parent, dict) and any(not is_container(value) for value in parent.values()):
        assert remove(new_text, edit.path) == text
    return new_text, expected


@given(st.data())
def test_any_edit_of_any_text(data: st.DataObject) -> None:
    written = data.draw(written_trees())
    assert same(read(written.text), written.tree)
    text, tree = written.text, written.tree
    about: list[PathKey | None] | None = written.about
    for _ in range(data.draw(st.integers(1, 4))):
        text, tree = check(text, tree, data.draw(edits(tree)), about)
        about = None  # the numbers in the paths may have shifted


@given(st.data())
def test_many_edits_at_once_are_the_edits_one_by_one(data: st.DataObject) -> None:
    """Values are set in their order, what goes goes afterwards; a byte-order mark stays."""
    written = data.draw(written_trees())
    tree = written.tree
    changes: dict[PathKey, object] = {}
    scalars = [path for path, value in nodes(tree) if not is_container(value)]
    some = data.draw(st.sets(st.sampled_from(range(len(scalars))), max_size=6)) if scalars else ()
    for index in sorted(some):
        changes[scalars[index]] = data.draw(st.one_of(st.just(REMOVED), SCALARS))
    expected = copy.deepcopy(tree)
    for path, value in changes.items():
        if value is not REMOVED:
            expected = with_edit(expected, Edit(path, value))
    for path in reversed([path for path, value in changes.items() if value is REMOVED]):  # later items first
        expected = with_edit(expected, Edit(path, REMOVED))
    new = edit_bytes(b"\xef\xbb\xbf" + written.text.encode(), changes)
    assert new.startswith(b"\xef\xbb\xbf")
    assert same(read(new[3:].decode()), expected)
    shuffled = data.draw(st.permutations(list(changes.items())))
    assert edit_bytes(b"\xef\xbb\xbf" + written.text.encode(), dict(shuffled)) == new


# -- the public conformance files -----------------------------------------------------------------------------------
def _valid() -> list[str]:
    names = CONFORMANCE / "files-toml-1.0.0"
    if not names.is_file():
        return []
    listed = names.read_text(encoding="utf-8").split()
    return [name for name in listed if name.startswith("valid/") and name.endswith(".toml")]


VALID = _valid()


@pytest.mark.skipif(not VALID, reason="the TOML conformance files are not here")
@pytest.mark.parametrize("name", VALID)
def test_edits_of_a_conformance_file(name: str) -> None:
    text = (CONFORMANCE / name).read_bytes().decode().removeprefix("\ufeff")
    tree = read(text)
    for path, value in [((), tree), *nodes(tree)][:40]:
        if path:
            check(text, tree, Edit(path, REMOVED), None)
            check(text, tree, Edit(path, "new"), None)
        if isinstance(value, dict):
            check(text, tree, Edit((*path, "new"), 5), None)
            check(text, tree, Edit((*path, "new", "newer"), [{"a": 1}]), None)
        if isinstance(value, list):
            check(text, tree, Edit((*path, len(value)), {"new": 5}), None)
