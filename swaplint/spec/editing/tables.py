"""Edits of a whole TOML text: which table's header or entry an edit belongs to, and the lines that change.

The text and what was read from it go together; every function here takes both.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import tomli

from swaplint.spec.editing import inline
from swaplint.spec.editing.bodies import dropped, put
from swaplint.spec.editing.scanning import (
    Entry,
    Section,
    Splice,
    indent_at,
    line_end,
    line_start,
    newline_of,
    next_line,
    sections,
    spliced,
)
from swaplint.spec.editing.values import (
    REMOVED,
    EditError,
    is_list_of_tables,
    key_text,
    keys_before_index,
    value_in,
    wrapped,
    written,
)
from swaplint.spec.paths import path_text
from swaplint.spec.toml_source import PathKey


class Document:
    """A TOML text, the data read from it, and where its tables stand."""

    def __init__(self, text: str, data: Mapping[str, Any], newline: str = "") -> None:
        """`newline` is the line end that the file uses, where `text` is what an edit has left of it."""
        self.text = text
        self.data = data
        self.newline = newline or newline_of(text)
        self.sections = sections(text)

    def stated_by_tables(self, path: PathKey) -> bool:
        """Whether headers or dotted keys make up what is at `path`, so that it has no text of its own to replace."""
        return self._value_around(path) is None

    def with_value(self, path: PathKey, value: object) -> str:
        """The text with `value` at `path`."""
        around = self._value_around(path)
        if around is not None:
            return self._changed_inside(*around, path, value)
        if value_in(self.data, path) is REMOVED:
            return self._with_new(path, value)
        if isinstance(path[-1], int):
            raise _no_table(path[:-1])
        section = self._section_of_dotted(path)
        if section is not None and not self._sections_under(path):
            return spliced(self.text, put(_Lines(self, section), path[len(section.path) :], value))
        return self._without_tables(path)._with_new(path, value)

    def without(self, path: PathKey) -> str:
        """The text without what is at `path`. A table or list that loses its last part is written out as empty."""
        around = self._value_around(path)
        if around is not None and len(around[0].path) + len(around[1].key) < len(path):
            return self._changed_inside(*around, path, REMOVED)
        section = around[0] if around else self._section_of_dotted(path)
        if section is not None and not self._sections_under(path):
            keys = tuple(map(str, path[len(section.path) :]))
            return spliced(self.text, dropped(_Lines(self, section), keys, value_in(self.data, section.path)))
        rest, parent = self._without_tables(path), path[:-1]
        before, after = value_in(self.data, parent), value_in(rest.data, parent)
        if after is not REMOVED:
            return rest.text
        if isinstance(before, list):
            return rest._with_new(parent, [])
        return rest._with_tables([(f"[{_header(parent)}]", {})], rest._last_beside(parent))

    # -- finding -----------------------------------------------------------------------------------------------------
    def _value_around(self, path: PathKey) -> tuple[Section, Entry] | None:
        """The entry whose value is what stands at `path`, or holds it."""
        for section in self.sections:
            depth = len(section.path)
            if section.path == path[:depth]:
                for entry in section.entries:
                    if entry.key == path[depth : depth + len(entry.key)]:
                        return section, entry
        return None

    def _changed_inside(self, section: Section, entry: Entry, path: PathKey, value: object) -> str:
        here = (*section.path, *entry.key)
        start, end = entry.value.start, entry.end
        old = value_in(self.data, here)
        return spliced(self.text, [(start, end, inline.changed(self.text[start:end], old, path[len(here) :], value))])

    def _sections_under(self, path: PathKey) -> list[Section]:
        return [section for section in self.sections if section.path[: len(path)] == path]

    def _section_of_dotted(self, path: PathKey) -> Section | None:
        """The section whose dotted keys state the table at `path`."""
        for section in self.sections:
            depth = len(section.path)
            if depth < len(path) and section.path == path[:depth] and section.under(path[depth:]):
                return section
        return None

    def _last_beside(self, path: PathKey) -> Section | None:
        """The last section of the nearest table or list around `path` that has a header; None: there is none."""
        while path:
            beside = self._sections_under(path)
            if beside:
                return beside[-1]
            path = path[:-1]
        return None

    # -- adding ------------------------------------------------------------------------------------------------------
    def _with_new(self, path: PathKey, value: object) -> str:
        """The text with a value at a path where nothing is stated."""
        known = len(path) - 1
        while (parent := value_in(self.data, path[:known])) is REMOVED:
            known -= 1
        here, missing = path[:known], path[known:]
        around = self._value_around(here) if here else None
        if around is not None:
            return self._changed_inside(*around, path, value)
        if isinstance(parent, list):
            return self._with_item(here, wrapped(missing[1:], value))
        dotted = self._section_of_dotted(here) if here else None
        if dotted is not None:
            return spliced(self.text, put(_Lines(self, dotted), path[len(dotted.path) :], value))
        keys, value = keys_before_index(missing, value)
        own = next((section for section in self.sections if section.path == here), None)
        name, beside = _header((*here, *keys)), self._last_beside(here)
        if len(keys) > 1:
            return self._with_tables([(f"[{_header((*here, *keys[:-1]))}]", {keys[-1]: value})], beside)
        if own is None or not here:  # all tables in it have headers
            if isinstance(value, dict):
                return self._with_tables([(f"[{name}]", value)], beside)
            if is_list_of_tables(value):
                return self._with_tables([(f"[[{name}]]", item) for item in value], beside)
        if own is None:
            return self._with_header_before(self._sections_under(here)[0], f"[{_header(here)}]", {keys[-1]: value})
        return spliced(self.text, put(_Lines(self, own), keys, value))

    def _with_item(self, path: PathKey, item: object) -> str:
        if not isinstance(item, dict):
            raise _no_table(path)
        return self._with_tables([(f"[[{_header(path)}]]", item)], self._sections_under(path)[-1])

    def _with_tables(self, tables: Sequence[tuple[str, Mapping[str, Any]]], beside: Section | None) -> str:
        """The text with headers and what is below them, behind a section or at the end, after a blank line."""
        blank = self.newline * 2
        new = blank.join(self._table(header, entries, beside) for header, entries in tables)
        if beside is None:
            return self._with_at_end(new, blank)
        end = self._end_with_comments(beside)
        return spliced(self.text, [(end, end, blank + new)])

    def _table(self, header: str, entries: Mapping[str, Any], like: Section | None) -> str:
        indent = inner = ""
        if like is not None and like.path:
            indent = inner = self.indent(like.header_end)
            if like.entries:
                inner = self.indent(like.entries[-1].start)
        lines = [f"{inner}{key_text((key,))} = {written(value)}" for key, value in entries.items()]
        return self.newline.join([indent + header, *lines])

    def _with_at_end(self, new: str, between: str) -> str:
        end = _end_of_stated(self.text, len(self.text))
        if not end:
            return new + (self.text or self.newline)
        return spliced(self.text, [(end, end, between + new)])

    def _with_header_before(self, section: Section, header: str, entries: Mapping[str, Any]) -> str:
        """The text with the header of a table that had none, before the first of the tables in it."""
        start = self._start_with_comments(section)
        blank = "" if not self.text[:start].strip() or self._blank_before(start) else self.newline
        return spliced(self.text, [(start, start, blank + self._table(header, entries, section) + self.newline * 2)])

    # -- removing ----------------------------------------------------------------------------------------------------
    def _without_tables(self, path: PathKey) -> Document:
        """What is left without all headers and dotted keys that state what is at `path`."""
        dotted = self._section_of_dotted(path)
        if dotted is not None:
            lines = _Lines(self, dotted).without(dotted.under(path[len(dotted.path) :]))
            return Document(spliced(self.text, lines), {}, self.newline)._without_tables(path)
        text = self.text
        joined: list[tuple[int, int]] = []
        for section in self._sections_under(path):
            start, end = section.start, next_line(text, self._end_with_comments(section))
            if joined and not text[joined[-1][1] : start].strip():
                start = joined.pop()[0]
            joined.append((start, end))
        text = spliced(text, [self._table_lines(start, end) for start, end in joined])
        return Document(text, tomli.loads(text), self.newline)

    def _table_lines(self, start: int, end: int) -> Splice:
        """The edit that takes out whole tables, with the blank lines that would then be too many."""
        text = self.text
        if not text[end:].strip():
            before = _end_of_stated(text, start)
            return before, line_end(text, len(text.rstrip())) if before else len(text), ""
        if not text[:start].strip() or self._blank_before(start):
            while not text[end : next_line(text, end)].strip():
                end = next_line(text, end)
        return start, end, ""

    # -- lines -------------------------------------------------------------------------------------------------------
    def indent(self, offset: int) -> str:
        """The space at the beginning of the line of `offset`."""
        line = self.text[line_start(self.text, offset) : offset]
        return line[: len(line) - len(line.lstrip(" \t"))]

    def _blank_before(self, start: int) -> bool:
        return start > 0 and not self.text[line_start(self.text, start - 1) : start].strip()

    def end(self, section: Section) -> int:
        """Where the line of a section's last entry, or of its header, ends."""
        return line_end(self.text, section.entries[-1].end if section.entries else section.header_end)

    def comments_behind(self, section: Section) -> tuple[int, int]:
        """Between a section's last entry and the next header: where its own comments end, and the next one's begin.

        Comments straight above a header are about its table. Else, comments straight below an entry go with it.
        """
        text, index = self.text, self.sections.index(section)
        is_last = index + 1 == len(self.sections)
        end = self.end(section) if section.entries or section.path else 0
        limit = len(text) if is_last else self.sections[index + 1].start
        start = limit
        first_line = next_line(text, end) if end else 0
        while not is_last and start > first_line and text[line_start(text, start - 1) : start].strip():
            start = line_start(text, start - 1)
        while end and (line := next_line(text, end)) < start and text[line : next_line(text, line)].strip():
            end = line_end(text, line)
        return end, start

    def _end_with_comments(self, section: Section) -> int:
        return self.comments_behind(section)[0]

    def _start_with_comments(self, section: Section) -> int:
        return self.comments_behind(self.sections[self.sections.index(section) - 1])[1]

    def first_entry(self, section: Section, entry: str) -> list[Splice]:
        """The edits that put an entry into a section that has none."""
        if section.path:
            end = self.end(section)
            return [(end, end, f"{self.newline}{self.indent(section.header_end)}{entry}")]
        if len(self.sections) == 1:
            return [(0, len(self.text), self._with_at_end(entry, self.newline))]
        start = self._start_with_comments(self.sections[1])
        return [(start, start, entry + self.newline * 2)]


class _Lines:
    """The entries of one section, each on lines of its own."""

    def __init__(self, document: Document, section: Section) -> None:
        self._document = document
        self._section = section
        self.entries: Sequence[Entry] = section.entries

    def inserted(self, after: Entry | None, entry: str) -> list[Splice]:
        document = self._document
        if after is None:
            return document.first_entry(self._section, entry)
        end = line_end(document.text, after.end)
        return [(end, end, f"{document.newline}{indent_at(document.text, after.start) or ''}{entry}")]

    def without(self, entries: Sequence[Entry]) -> list[Splice]:
        text = self._document.text
        joined: list[tuple[int, int]] = []
        for entry in entries:
            start, end = line_start(text, entry.start), next_line(text, entry.end)
            if joined and joined[-1][1] == start:
                start = joined.pop()[0]
            joined.append((start, end))
        if joined and not text.endswith("\n") and joined[-1][1] == len(text):
            # The last line of a file that ends without a line end: what is then the last one has none either.
            start = _end_of_stated(text, joined.pop()[0])
            while joined and start < joined[-1][1]:
                start = _end_of_stated(text, joined.pop()[0])
            joined.append((start, len(text)))
        return [(start, end, "") for start, end in joined]


def _header(path: PathKey) -> str:
    return key_text(tuple(part for part in path if isinstance(part, str)))


def _end_of_stated(text: str, offset: int) -> int:
    """Where the last line before `offset` ends that is not blank; 0 where there is none."""
    stated = len(text[:offset].rstrip())
    return line_end(text, stated) if stated else 0


def _no_table(path: PathKey) -> EditError:
    return EditError(f"{path_text(path)} is a list of tables: an item of it is a table, no single value")
