"""Reading TOML: values, places, and what cannot be read.

The values, the accepted and the refused texts are checked against the public conformance files of TOML 1.0
(toml-test, MIT licence), which stand beside the project where its developers keep reference material; the tests that
need them are skipped where they are absent.
"""

from __future__ import annotations

import contextlib
import datetime
import errno
import json
import math
import os
import threading
import time
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swaplint.spec.toml_source import (
    MAX_BYTES,
    MAX_NESTING,
    ParsedFiles,
    PathKey,
    Place,
    SpecError,
    TomlFile,
    read_bytes,
)

CONFORMANCE = Path(__file__).parents[2].parent / "shared" / "reference" / "toml-test"


def _listed(kind: str) -> list[str]:
    names = CONFORMANCE / "files-toml-1.0.0"
    if not names.is_file():
        return []
    lines = names.read_text(encoding="utf-8").split()
    return [name for name in lines if name.startswith(kind) and name.endswith(".toml")]


VALID, INVALID = _listed("valid/"), _listed("invalid/")
needs_conformance = pytest.mark.skipif(not VALID, reason="the TOML conformance files are not here")


def read(text: str) -> TomlFile:
    return read_bytes(text.encode(), "t.toml")


def refusal(raw: str | bytes) -> SpecError:
    with pytest.raises(SpecError) as caught:
        read_bytes(raw.encode() if isinstance(raw, str) else raw, "t.toml")
    return caught.value


def at(file: TomlFile, *path: str | int, want_key: bool = False) -> str:
    """The text that stands at a path's place."""
    place = file.place_of(path, want_key=want_key)
    return text_of(file, place)


def text_of(file: TomlFile, place: Place) -> str:
    lines = file.text.split("\n")
    if place.line == place.end_line:
        return lines[place.line - 1][place.column - 1 : place.end_column - 1]
    first = lines[place.line - 1][place.column - 1 :]
    last = lines[place.end_line - 1][: place.end_column - 1]
    return "\n".join([first, *lines[place.line : place.end_line - 1], last])


def leaves(value: Any, path: PathKey = ()) -> Iterator[tuple[PathKey, Any]]:
    if isinstance(value, dict):
        for key, child in value.items():
            yield from leaves(child, (*path, key))
    elif isinstance(value, list):
        for index, child in enumerate(value):
            yield from leaves(child, (*path, index))
    else:
        yield path, value


def same(one: Any, other: Any) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return one == other or (math.isnan(one) and math.isnan(other))
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same, one, other))
    return type(one) is type(other) and bool(one == other)


def untagged(node: Any) -> Any:
    """The plain value of toml-test's tagged JSON."""
    if isinstance(node, list):
        return [untagged(child) for child in node]
    if set(node) == {"type", "value"} and isinstance(node["value"], str):
        kind, text = node["type"], node["value"]
        readers: dict[str, Any] = {
            "string": str,
            "integer": int,
            "float": lambda t: float(t.replace("_", "")),
            "bool": lambda t: t == "true",
            "datetime": datetime.datetime.fromisoformat,
            "datetime-local": datetime.datetime.fromisoformat,
            "date-local": datetime.date.fromisoformat,
            "time-local": datetime.time.fromisoformat,
        }
        return readers[kind](text)
    return {key: untagged(child) for key, child in node.items()}


# -- the public conformance files ---------------------------------------------------------------------------------
@needs_conformance
@pytest.mark.parametrize("name", VALID)
def test_valid_conformance_file(name: str) -> None:
    raw = (CONFORMANCE / name).read_bytes()
    file = read_bytes(raw, name)
    expected = json.loads((CONFORMANCE / name).with_suffix(".json").read_text(encoding="utf-8"))
    assert same(file.data, untagged(expected))
    assert same(file.data, tomllib.loads(raw.removeprefix(b"\xef\xbb\xbf").decode()))
    for path, value in leaves(file.data):
        span = file.spans[path].value
        assert span is not None, path
        assert same(tomllib.loads("x = " + file.text[slice(*span)])["x"], value), (path, file.text[slice(*span)])


@needs_conformance
@pytest.mark.parametrize("name", INVALID)
def test_invalid_conformance_file(name: str) -> None:
    raw = (CONFORMANCE / name).read_bytes()
    error = refusal(raw)
    lines = raw.decode("utf-8", "replace").split("\n")
    assert 1 <= error.line <= len(lines)
    assert 1 <= error.column <= len(lines[error.line - 1]) + 1
    assert error.file == "t.toml"
    assert error.what
    assert "\n" not in error.what
    assert not error.what.endswith(".")


# -- where things stand ---------------------------------------------------------------------------------------------
SAMPLE = '''\
# a comment
name = "two"   # another
dotted.inner.deep = 3
list = [1, "two", { three = 3 }]
"quoted key" = true
table = { a = 1, b.c = 2 }
multi = """
first
second"""

[section]
value = "x"
[section.sub]
value = 7

[[lines]]
# [[not this]]
item = "first"

[[lines]]
[[lines.inner]]
deep = 1
[[lines.inner]]
deep = 2

[[lines]]
[lines.part]
item = "third"

[[lines]]
'''


@pytest.mark.parametrize(
    ("path", "text", "line"),
    [
        (("name",), '"two"', 2),
        (("dotted", "inner", "deep"), "3", 3),
        (("list", 1), '"two"', 4),
        (("list", 2, "three"), "3", 4),
        (("quoted key",), "true", 5),
        (("table", "b", "c"), "2", 6),
        (("multi",), '"""\nfirst\nsecond"""', 7),
        (("section", "value"), '"x"', 12),
        (("section", "sub", "value"), "7", 14),
        (("lines", 0), "[[lines]]", 16),
        (("lines", 0, "item"), '"first"', 18),
        (("lines", 1), "[[lines]]", 20),
        (("lines", 1, "inner", 0), "[[lines.inner]]", 21),
        (("lines", 1, "inner", 1), "[[lines.inner]]", 23),
        (("lines", 1, "inner", 1, "deep"), "2", 24),
        (("lines", 2), "[[lines]]", 26),
        (("lines", 2, "part", "item"), '"third"', 28),
    ],
)
def test_value_is_found_where_it_stands(path: PathKey, text: str, line: int) -> None:
    file = read(SAMPLE)
    assert at(file, *path) == text
    assert file.place_of(path).line == line


@pytest.mark.parametrize(
    ("path", "text", "line"),
    [
        (("name",), "name", 2),
        (("quoted key",), '"quoted key"', 5),
        (("section",), "section", 11),
        (("section", "sub"), "sub", 13),
        (("table", "b"), "b", 6),
    ],
)
def test_key_is_found_where_it_stands(path: PathKey, text: str, line: int) -> None:
    file = read(SAMPLE)
    assert at(file, *path, want_key=True) == text
    assert file.place_of(path, want_key=True).line == line


def test_missing_field_is_placed_at_the_nearest_table() -> None:
    file = read(SAMPLE)
    assert at(file, "section", "sub", "nothing") == "sub"
    assert at(file, "section", "no", "thing") == "section"
    assert at(file, "lines", 2, "nothing") == "[[lines]]"
    assert file.place_of(("nowhere", "at", "all")) == Place("t.toml", 1, 1, 1, len("# a comment") + 1)


def test_place_in_an_empty_file_spans_something() -> None:
    assert read("").place_of(("a",)) == Place("t.toml", 1, 1, 1, 2)


def test_crlf_keeps_places() -> None:
    file = read(SAMPLE.replace("\n", "\r\n"))
    assert file.place_of(("section", "sub", "value")) == Place("t.toml", 14, 9, 14, 10)
    assert file.data["multi"] == "first\nsecond"
    for path, value in leaves(file.data):
        span = file.spans[path].value
        assert span is not None
        assert tomllib.loads("x = " + file.text[slice(*span)])["x"] == value


def test_byte_order_mark_does_not_shift_columns() -> None:
    file = read_bytes(b"\xef\xbb\xbfa = 5", "t.toml")
    assert file.place_of(("a",)) == Place("t.toml", 1, 5, 1, 6)


def test_columns_count_characters_not_bytes() -> None:
    file = read('"größe" = "süß" # x\n')
    place = file.place_of(("größe",))
    assert (place.column, place.end_column) == (11, 16)


SCALARS = st.one_of(
    st.booleans(),
    st.integers(-(2**63), 2**63 - 1),
    st.floats(allow_nan=False),
    st.text(max_size=20),
    st.dates(),
)
TREES: st.SearchStrategy[Any] = st.recursive(
    SCALARS,
    lambda children: st.one_of(
        st.lists(children, max_size=4), st.dictionaries(st.text(max_size=6), children, max_size=4)
    ),
    max_leaves=12,
)


@settings(max_examples=60, deadline=None)
@given(st.dictionaries(st.text(max_size=6), TREES, max_size=5), st.sampled_from(["\n", "\r\n"]))
def test_any_written_tree_is_read_back_with_places(tree: dict[str, Any], newline: str) -> None:
    import tomli_w

    text = tomli_w.dumps(tree).replace("\n", newline)
    file = read(text)
    assert same(file.data, tomllib.loads(text))
    for path, value in leaves(file.data):
        span = file.spans[path].value
        assert span is not None
        assert same(tomllib.loads("x = " + file.text[slice(*span)])["x"], value)


# -- what cannot be read, as text -----------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("raw", "line", "column", "part"),
    [
        ("a = 1\na = 2\n", 2, 6, "overwrite"),
        ("[t]\n[t]\n", 2, 3, "twice"),
        ("a = \n", 1, 5, "invalid value"),
        ('a = "open', 1, 10, "unterminated"),
        ("a = 'x\0y'", 1, 7, "character"),
        ("a = 1 b = 2", 1, 7, "newline"),
        ("\n\n  = 3", 3, 3, "statement"),
        ("a = 1979-02-30", 1, 5, "date"),
        (b"ok = 1\nbad = '\xff'\n", 2, 8, "0xff is not valid UTF-8"),
        ("# ü\nbad = 'ü".encode() + b"\xc3\x28'", 2, 9, "0xc3 is not valid UTF-8"),
        (b"\xff\xfea\x00", 1, 1, "UTF-8"),
        ("x = 1\ny = " + "7" * 5000, 2, 5, "thousands of digits"),
    ],
)
def test_syntax_error_has_its_place(raw: str | bytes, line: int, column: int, part: str) -> None:
    error = refusal(raw)
    assert (error.line, error.column) == (line, column)
    assert part in error.what


@pytest.mark.parametrize(
    "text",
    [
        "x = " + "[" * 10_000,
        "x = " + "[" * 10_000 + "]" * 10_000,
        "x = " + "{a = " * 10_000,
        "x = [" + "{a = [" * 5_000 + "]}" * 5_000 + "]",
        ".".join(["a"] * 10_000) + " = 1",
        "[" + " . ".join(['"b\\""'] * 10_000) + "]",
        "x = {" + ".".join(["'c'"] * 10_000) + " = 1}",
        "x = " + "[" * (MAX_NESTING + 1) + "]" * (MAX_NESTING + 1),
    ],
    ids=["open-lists", "lists", "open-tables", "mixed", "dotted", "header", "inline-dotted", "one-too-many"],
)
def test_deep_nesting_is_refused_with_its_place(text: str) -> None:
    error = refusal(text)
    assert str(MAX_NESTING) in error.what
    assert error.line == 1
    assert error.column <= 200


def test_deepest_nesting_that_is_accepted() -> None:
    depth = MAX_NESTING - 1
    assert read("x = " + "[" * depth + "]" * depth).data["x"]
    assert read(".".join(["a"] * depth) + " = 1").data["a"]


def _full(pattern: str, head: str = "", tail: str = "") -> str:
    room = MAX_BYTES - len(head) - len(tail) - 1
    return head + pattern * (room // len(pattern)) + tail


def _numbered(pattern: str) -> str:
    out, size, number = [], 0, 0
    while size < MAX_BYTES - 300:
        out.append(pattern.format(number))
        size += len(out[-1])
        number += 1
    return "".join(out)


HOSTILE = {
    "keys": _numbered("k{} = 1\n"),
    "tables": _numbered("[t{}]\n"),
    "inline-keys": "x = {" + _numbered("k{}=1,")[:-1] + "}",
    "items": _full("[[a]]\n"),
    "items-with-keys": _full("[[a]]\nb=1\n"),
    "items-of-items": _full("[[a.b]]\nc=1\n", "[[a]]\n"),
    "items-with-tables": _full("[[a]]\n[a.b]\nc=1\n"),
    "deep-keys": _numbered("a." * 25 + "c{}=1\n"),
    "deep-headers": _numbered("[" + "a." * 25 + "c{}]\n"),
    "numbers": _full("1,", "x=[", "]"),
    "lists": _full("[],", "x=[", "]"),
    "deep-lists": _full("[" * 27 + "]" * 27 + ",", "x=[", "]"),
    "deep-inline-tables": _full("{a=" * 27 + "1" + "}" * 27 + ",", "x=[", "]"),
    "one-bare-key": _full("a", "", "=1"),
    "one-quoted-key": _full("a", '"', '"=1'),
    "comment-of-letters": _full("a", "# "),
    "comment-of-quotes": _full('"', "# "),
    "comment-of-dots": _full("a . " * 28 + ", ", "# "),
    "comment-of-headers": _full("# [[x\n", "[[a]]\n", "b = 1"),
    "newlines": _full("\n"),
    "crlf": _full("\r\n"),
    "one-string": _full("a", 'x="', '"'),
    "escapes": _full("\\u0041", 'x="', '"'),
    "escaped-quotes": _full('\\"', 'x="', '"'),
    "escaped-backslashes": _full("\\\\", 'x="', '"'),
    "escaped-strings": _full('"\\"",', "x=[", "]"),
    "line-strings": _full("a\n", 'x="""', '"""'),
    "continued-lines": _full("\\\n", 'x="""', '"""'),
    "digits": _full("1", "x="),
    "hexadecimal": _full("f", "x=0x"),
    "decimals": _full("1", "x=0."),
    "exponent": _full("1", "x=1e"),
    "second-fractions": _full("1", "x=1979-05-27T07:32:00."),
    "dates": _full("1979-05-27T07:32:00Z,", "x=[", "]"),
    "million-parts": ("a." * 1_000_000)[: MAX_BYTES - 4] + "a=1",
    "spaces-declared-twice": ('["' + " " * (MAX_BYTES // 2 - 9) + '"]\n') * 2,
    "open-string": _full("a", 'x="'),
    "open-line-string": _full("a\n", 'x="""'),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_text_ends_promptly(name: str) -> None:
    """Nothing that fits into the size limit may take a time that grows with its square."""
    text = HOSTILE[name]
    assert len(text.encode()) <= MAX_BYTES
    started = time.process_time()
    with contextlib.suppress(SpecError):
        read(text)
    assert time.process_time() - started < 6.0  # about 1.5 s on a slow machine; a quadratic one takes minutes


# -- what cannot be read, as a file ---------------------------------------------------------------------------------
def file_refusal(path: Path) -> str:
    with pytest.raises(SpecError) as caught:
        ParsedFiles().read(path, path.name)
    assert (caught.value.line, caught.value.column) == (0, 0)  # about the whole file
    assert str(path.parent) + "/" not in caught.value.what
    return caught.value.what


def test_missing_file(tmp_path: Path) -> None:
    assert "no such file" in file_refusal(tmp_path / "none.toml")
    assert "no such file" in file_refusal(tmp_path / "none" / "none.toml")


def test_folder(tmp_path: Path) -> None:
    folder = tmp_path / "folder.toml"
    folder.mkdir()
    assert "folder" in file_refusal(folder)


def test_file_as_folder(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text("")
    assert "cannot be read" in file_refusal(tmp_path / "a.toml" / "b.toml")


def test_device_and_pipe_are_refused_at_once(tmp_path: Path) -> None:
    if os.path.exists("/dev/zero"):
        assert "not a regular file" in file_refusal(Path("/dev/zero"))
    pipe = tmp_path / "pipe.toml"
    os.mkfifo(pipe)
    assert "not a regular file" in file_refusal(pipe)


def test_pipe_that_replaces_the_file_does_not_hang(tmp_path: Path) -> None:
    """The check and the opening are two steps; a pipe put in between must not block the opening."""
    from swaplint.spec.toml_source import _open_without_blocking

    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    done = threading.Event()

    def attempt() -> None:
        with open(pipe, "rb", opener=_open_without_blocking):
            done.set()

    threading.Thread(target=attempt, daemon=True).start()
    assert done.wait(5)


def test_too_big_a_file(tmp_path: Path) -> None:
    big = tmp_path / "big.toml"
    big.write_bytes(b"# " + b"x" * 10_000_000)
    assert "10000 kB" in file_refusal(big)
    just = tmp_path / "just.toml"
    just.write_bytes(b"#" * MAX_BYTES)
    assert ParsedFiles().read(just, "just").data == {}
    assert "is not read" in refusal(b"#" * (MAX_BYTES + 1)).what


def test_permission_denied(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    secret = tmp_path / "secret.toml"
    secret.write_text("a = 1")
    secret.chmod(0)
    if os.access(secret, os.R_OK):  # an administrator may read everything: let the system call refuse
        real = os.open

        def refuse(name: Any, *more: Any, **named: Any) -> int:
            if Path(name) == secret:
                raise PermissionError(errno.EACCES, "Permission denied")
            return real(name, *more, **named)

        monkeypatch.setattr(os, "open", refuse)
    assert "permission denied" in file_refusal(secret)


def test_name_that_no_file_can_have() -> None:
    with pytest.raises(SpecError):
        ParsedFiles().read(Path("a\0b"), "label")
    with pytest.raises(SpecError):
        ParsedFiles().read(Path("a" * 5000), "label")


def test_link_in_a_circle(tmp_path: Path) -> None:
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    assert "cannot be read" in file_refusal(tmp_path / "a")


def test_a_file_is_parsed_again_only_where_its_bytes_differ(tmp_path: Path) -> None:
    parsed, path = ParsedFiles(), tmp_path / "a.toml"
    path.write_text("a = 1")
    first = parsed.read(path, "a.toml")
    assert parsed.read(path, "a.toml") is first
    path.write_text("a = 2")
    assert parsed.read(path, "a.toml").data == {"a": 2}
    path.unlink()
    with pytest.raises(SpecError, match="no such file"):
        parsed.read(path, "a.toml")
