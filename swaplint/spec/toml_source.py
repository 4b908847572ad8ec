"""Reading one TOML file: its values, and where in the text each key and value stands.

`tomli` is the authority for values and syntax errors. Positions come from `spanned_toml`, which reads the same
grammar and keeps the span of every token; it runs only on text that `tomli` has accepted.
"""

from __future__ import annotations

import bisect
import os
import re
import stat
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple

import tomli

from swaplint.spec.files_read import FILES_READ

PathKey = tuple[str | int, ...]
"""A path inside one file: table keys and, for items of a list, their index from 0."""

MAX_BYTES = 500_000
"""Largest file that is read. A full build spec is under 100 kB; the bound keeps hostile input quick."""

MAX_NESTING = 30
"""Deepest nesting of tables and lists that is accepted; a build spec needs eight."""

# A key of very many parts costs tomli a time that grows with their square, so it is looked for beforehand. The
# possessive repetitions (`++`) and the look behind keep the search itself linear.
_KEY_PART = r"""(?:[A-Za-z0-9_-]++|"(?:[^"\\\n]++|\\.)*+"|'[^'\n]*+')"""
_LONG_KEY = re.compile(rf"(?<![A-Za-z0-9_.\\-])(?:{_KEY_PART}[ \t]*+\.[ \t]*+){{{MAX_NESTING}}}")


class SpecError(Exception):
    """Something in a file that stops it from being read: a sentence, and the place that it speaks of."""

    def __init__(self, what: str, file: str, line: int = 0, column: int = 0) -> None:
        """`what` is one sentence; `line` and `column` count from 1, and are 0 where it is about the whole file."""
        place = f", line {line}, column {column}" if line else ""
        super().__init__(f"{file}{place}: {what}")
        self.what = what
        self.file = file
        self.line = line
        self.column = column


class Place(NamedTuple):
    """A stretch of text in a file. Lines and columns count from 1; `end_column` is one past the end."""

    file: str
    line: int
    column: int
    end_line: int
    end_column: int


class Spans(NamedTuple):
    """Offsets in the text of one key and of its value; a table written with a header has no value span."""

    key: tuple[int, int] | None
    value: tuple[int, int] | None


@dataclass(slots=True)
class TomlFile:
    """One TOML file that has been read."""

    label: str
    """How the file is named in output: as given by the user, or relative to the spec's folder."""
    text: str
    """The text without a byte-order mark, line ends as in the file."""
    data: dict[str, Any]
    raw: bytes = b""
    """The file as it was read."""
    _spans: dict[PathKey, Spans] | None = None
    _line_starts: list[int] = field(default_factory=list)

    @property
    def sha256(self) -> str:
        """The hash of the file as it was read, by which a report says what it is about."""
        import hashlib  # here: most reports do without it

        return hashlib.sha256(self.raw).hexdigest()

    @property
    def spans(self) -> dict[PathKey, Spans]:
        """Where each key and value stands; looked for when somebody asks, which takes longer than reading the values.

        Empty for TOML that is newer than the reader of positions: its places are then those of the whole file.
        """
        if self._spans is None:
            self._spans = _collect_spans(self)
        return self._spans

    def mentions(self, word: str) -> bool:
        """Whether the word stands anywhere in it."""
        return word in self.text

    def line_column(self, offset: int) -> tuple[int, int]:
        """Line and column, from 1, of an offset in the text."""
        if not self._line_starts:
            starts = [0]
            starts.extend(m.end() for m in re.finditer("\n", self.text))
            self._line_starts = starts
        line = bisect.bisect_right(self._line_starts, offset)
        return line, offset - self._line_starts[line - 1] + 1

    def place(self, start: int, end: int) -> Place:
        """The place of a stretch of text given by its offsets."""
        line, column = self.line_column(start)
        end_line, end_column = self.line_column(end)
        return Place(self.label, line, column, end_line, end_column)

    def place_of(self, path: PathKey, *, want_key: bool = False) -> Place:
        """Where the value at `path` is written, or its key; else the nearest enclosing table; else line 1."""
        while path:
            spans = self.spans.get(path)
            if spans is not None:
                span = spans.key if want_key or spans.value is None else spans.value
                if span is not None:
                    return self.place(*span)
            path = path[:-1]
            want_key = True
        first_line = self.text.split("\n", 1)[0].rstrip("\r")
        return Place(self.label, 1, 1, 1, max(2, len(first_line) + 1))


class ParsedFiles:
    """TOML files that were parsed before: one that still holds the same bytes is not parsed again."""

    def __init__(self) -> None:
        self._known: dict[str, tuple[bytes, TomlFile]] = {}
        self.sections: dict[Any, Any] = {}
        """The sections of the spec that was read last, see `swaplint.spec.validating`."""

    def read(self, path: Path, label: str) -> TomlFile:
        """Read a file from disk. Raises `SpecError` where it cannot be read."""
        raw = bytes_of(path, label)
        before, file = self._known.get(label, (None, None))
        if file is None or raw != before:
            file = read_bytes(raw, label)
            self._known[label] = raw, file
        return file


SPEC_OR_SHEET = "build spec or data sheet"


def bytes_of(path: Path, label: str, kind: str = "TOML", what: str = "") -> bytes:
    """The bytes of a plain file that is not too big; `what` says what it is, for a sentence. Raises `SpecError`."""
    FILES_READ.note(path)
    what = what or ("table" if kind == "CSV" else SPEC_OR_SHEET)
    try:
        facts = path.stat()
        if stat.S_ISDIR(facts.st_mode):
            raise SpecError(f"is a folder; name a {kind} file", label)
        if not stat.S_ISREG(facts.st_mode):
            raise SpecError(f"is not a regular file; a {what} is a plain {kind} file", label)
        if facts.st_size > MAX_BYTES:
            raise _too_big(label, facts.st_size, what)
        with open(path, "rb", opener=_open_without_blocking) as stream:
            return stream.read(MAX_BYTES + 1)
    except FileNotFoundError:
        raise SpecError("there is no such file", label) from None
    except PermissionError:
        raise SpecError("may not be read: permission denied", label) from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise SpecError(f"cannot be read: {reason}", label) from None


def read_bytes(raw: bytes, label: str, what: str = SPEC_OR_SHEET) -> TomlFile:
    """Read TOML from bytes. Raises `SpecError` with line and column where they are not valid TOML."""
    if len(raw) > MAX_BYTES:
        raise _too_big(label, len(raw), what)
    whole = raw
    if raw.startswith(b"\xef\xbb\xbf"):
        raw = raw[3:]
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise SpecError("is UTF-16 text; save the file as UTF-8 text", label, 1, 1)
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        column = len(raw[raw.rfind(b"\n", 0, error.start) + 1 : error.start].decode("utf-8", "replace")) + 1
        raise SpecError(
            f"the byte 0x{raw[error.start]:02x} is not valid UTF-8; save the file as UTF-8 text",
            label,
            line,
            column,
        ) from None
    file = _parse(text, label)
    file.raw = whole
    return file


def _parse(text: str, label: str) -> TomlFile:
    file = TomlFile(label, text, {})
    # Few lines have so many points: to look for such a key in all of them takes a third of the time to parse them.
    dotted = any(line.count(".") >= MAX_NESTING for line in text.split("\n"))
    long_key = _LONG_KEY.search(text) if dotted else None
    if long_key is not None:
        raise SpecError(
            f"a key of more than {MAX_NESTING} parts: no field of a build spec lies so deep",
            label,
            *file.line_column(long_key.start()),
        )
    try:
        file.data = tomli.loads(text)
        _refuse_deep_nesting(file)
    except tomli.TOMLDecodeError as error:
        raise _syntax_error(file, str(error)) from None
    except RecursionError:
        raise _too_deep(file) from None
    except ValueError as error:  # an integer of thousands of digits
        digits = _MANY_DIGITS.search(text)
        place = file.line_column(digits.start() if digits else 0)
        raise SpecError(f"is not valid TOML: {_sentence(str(error))}", label, *place) from None
    return file


def _refuse_deep_nesting(file: TomlFile) -> None:
    level: list[Any] = [file.data]
    for _ in range(MAX_NESTING):
        level = [
            child
            for node in level
            for child in (node.values() if type(node) is dict else node)
            if type(child) is dict or type(child) is list  # exactly these, as tomli makes them
        ]
        if not level:
            return
    raise _too_deep(file)


def _too_deep(file: TomlFile) -> SpecError:
    depth, offset = 0, 0
    for match in re.finditer(r"[\[{]|[\]}]", file.text):
        depth = depth + 1 if match.group() in "[{" else max(0, depth - 1)
        if depth > MAX_NESTING:
            offset = match.start()
            break
    return SpecError(
        f"tables or lists nested more than {MAX_NESTING} deep: a build spec needs no more than eight levels",
        file.label,
        *file.line_column(offset),
    )


def _too_big(label: str, size: int, what: str) -> SpecError:
    return SpecError(f"is {size / 1000:.0f} kB; a {what} of more than {MAX_BYTES // 1000} kB is not read", label)


_AT = re.compile(r"\(at (?:line (\d+), column (\d+)|end of document)\)$")
_MANY_DIGITS = re.compile(r"(?<![0-9_])[0-9_]{4300,}")


def _syntax_error(file: TomlFile, message: str) -> SpecError:
    match = _AT.search(message)
    what = _sentence(message[: match.start()] if match else message)
    if match and match.group(1):
        line, column = int(match.group(1)), int(match.group(2))
    else:
        line, column = file.line_column(len(file.text.rstrip("\r\n")))
    return SpecError(f"is not valid TOML: {what}", file.label, line, column)


def _sentence(message: str) -> str:
    message = message.strip().rstrip(".")
    if "integer string conversion" in message:
        return "an integer of thousands of digits"
    if len(message) > 200:
        message = f"{message[:150]}...{message[-40:]}"
    return message[:1].lower() + message[1:]


def _open_without_blocking(name: str, flags: int) -> int:
    # A pipe that replaces the file between the check and the opening must not hang the run.
    return os.open(name, flags | getattr(os, "O_NONBLOCK", 0))


def _collect_spans(file: TomlFile) -> dict[PathKey, Spans]:
    # Imported here: only a run that reads a file needs it.
    import spanned_toml

    # The parser asks `key in table` for every key; without this its answer walks through all keys of the table.
    table_class: Any = type(spanned_toml.loads(""))
    if not hasattr(table_class, "__contains__"):
        table_class.__contains__ = lambda self, key: key in self.inner()
    text = file.text
    spans: dict[PathKey, Spans] = {}
    # tomli treats CRLF as one line end; spanned_toml drops the CR before it counts, which would shift offsets.
    # A CR becomes a space in front of the LF, which keeps every offset (it may stand inside a multi-line string,
    # whose value is never read from here).
    try:
        root = spanned_toml.loads(text.replace("\r\n", " \n"))
    except spanned_toml.TOMLDecodeError:  # TOML newer than 1.0, which a later tomli may accept
        return {}

    def span_of(node: Any) -> tuple[int, int] | None:
        start, end = node.span().start, node.span().stop
        if end <= start:
            return None
        if text[end - 1] == '"' and isinstance(node.inner(), str) and not text.startswith('"""', start):
            # The parser gives the start of what follows the last escape; the opening quote is what is wanted.
            start = _opening_quote(text, end - 1)
        return start, end

    def walk(node: Any, path: PathKey) -> None:
        inner = node.inner()
        if isinstance(inner, dict):
            for key, child in inner.items():
                here = (*path, key.inner())
                spans[here] = Spans(span_of(key), span_of(child))
                walk(child, here)
        elif isinstance(inner, list):
            for index, child in enumerate(inner):
                here = (*path, index)
                value = span_of(child)
                key_span = value or _table_header(text, child)
                spans[here] = Spans(key_span, value)
                walk(child, here)

    walk(root, ())
    return spans


def _opening_quote(text: str, closing: int) -> int:
    """Where a string on one line opens: at the last double quote before `closing` that is not escaped."""
    while (opening := text.rfind('"', 0, closing)) >= 0:
        closing = opening
        while text[closing - 1] == "\\":
            closing -= 1
        if (opening - closing) % 2 == 0:
            break
    return opening


def _table_header(text: str, table: Any) -> tuple[int, int] | None:
    """The span of the `[[header]]` that opens an item of an array of tables: the last one before its first key."""
    first: int | None = None
    pending = [table]
    while pending:
        for key, child in pending.pop().inner().items():
            start = key.span().start
            if isinstance(child.inner(), list) and not child.span().stop:
                start = _header_before(text, start)  # the key stands in the header of an inner array of tables
            first = start if first is None else min(first, start)
            if isinstance(child.inner(), dict):
                pending.append(child)
    if first is None:
        return None
    start = _header_before(text, first)
    end = text.find("]]", start)
    return (start, end + 2) if 0 <= start < end else None


def _header_before(text: str, offset: int) -> int:
    """Where the last `[[` that begins a line stands before an offset; -1 where there is none."""
    while (offset := text.rfind("[[", 0, offset)) >= 0:
        if not text[text.rfind("\n", 0, offset) + 1 : offset].strip(" \t"):
            break
    return offset
