"""More fields to fill in for a spec that exists: as lines that are commented out, each in the table that it belongs to.

Nothing that the file states changes, and no byte of it. A field is left out where it is stated already, in the spec or
in a sheet, where its line is there already, and where a part that it belongs to is not fitted. Lines go behind what
their table states; a section that the file does not have comes at its end, its header commented out, too.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from typing import Any, NamedTuple, cast

from swaplint.spec.editing.commented import commented_lines
from swaplint.spec.editing.scanning import Section as TextSection
from swaplint.spec.editing.scanning import Splice, spliced
from swaplint.spec.editing.tables import Document
from swaplint.spec.facts import Stated
from swaplint.spec.fields import Section
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.paths import path_text
from swaplint.spec.shape import Member, facts_at, members, standing_at
from swaplint.spec.toml_source import PathKey, SpecError, read_bytes
from swaplint.writing.draft import Wanted, Writer

Names = tuple[str, ...]


class More(NamedTuple):
    """A spec with more fields to fill in."""

    text: str
    added: int
    """How many lines with fields there are now that were not there."""
    left_out: tuple[str, ...]
    """Tables in which no line can stand that is commented out, like those within braces."""


def known_of(spec: LoadedSpec) -> dict[str, bool | str]:
    """The words and the yes-or-no that a spec states of single parts: on them hangs what rules read."""
    model = type(spec.build)

    def stated(section: Section, path: str) -> Iterator[tuple[str, bool | str]]:
        for name, member in members(type(section)).items():
            here, value = f"{path}.{name}".lstrip("."), getattr(section, name)
            if isinstance(value, Section) and member.role == "part":
                yield from stated(value, here)
            facts = facts_at(model, here) if isinstance(value, Stated) else None
            if facts is not None and facts.type in ("word", "flag") and isinstance(value.value, bool | str):
                yield here, value.value

    return dict(stated(spec.build, ""))


def with_more(spec: LoadedSpec, wanted: Wanted, why: str) -> More:
    """A spec with the wanted fields to fill in, `why` above those of each table."""
    text = spec.file.raw.decode("utf-8")
    mark = "\ufeff" if text.startswith("\ufeff") else ""
    adding = _Adding(spec, text.removeprefix(mark), wanted, why)
    every = list(adding.hosts())
    hosts = list(_able(adding, every))
    left_out = [*adding.left_out, *(path_text(host.path) for host in every if host not in hosts)]
    return More(mark + adding.with_all(hosts), sum(host.fields for host in hosts), tuple(dict.fromkeys(left_out)))


def _able(adding: _Adding, hosts: Sequence[_Host]) -> Iterator[_Host]:
    """Those whose lines can stand in the file: tried all together first, since nearly always all can."""
    if not hosts or _readable(adding.with_all(hosts, uncommented=True)):
        yield from hosts
    elif len(hosts) > 1:
        half = len(hosts) // 2
        yield from _able(adding, hosts[:half])
        yield from _able(adding, hosts[half:])


def _readable(text: str) -> bool:
    try:
        read_bytes(text.encode("utf-8"), "the text")
    except SpecError:
        return False
    return True


class _Host(NamedTuple):
    """A table of the file, and the lines to put into it."""

    path: Names
    section: TextSection | None
    """Where its header stands; None for one that the file does not have."""
    lines: list[str]
    tables: list[str]
    """Blocks with headers of their own, which stand behind all else of the table."""
    fields: int


class _Adding:
    def __init__(self, spec: LoadedSpec, text: str, wanted: Wanted, why: str) -> None:
        self.spec, self.text, self.wanted, self.why = spec, text, wanted, why
        self.model = type(spec.build)
        self.document = Document(text, spec.file.data)
        self.there = {line.path for line in commented_lines(text)}
        self.sections = {
            cast(Names, section.path): section
            for section in self.document.sections
            if section.path and all(isinstance(key, str) for key in section.path)
        }
        self.left_out: list[str] = []

    # -- which fields go where
    def hosts(self) -> Iterator[_Host]:
        """The tables that get lines, in the order of the model, each part in its place."""
        by_host: dict[Names, set[str]] = {}
        for host, pattern in self._missing(self.model, (), "", ()):
            by_host.setdefault(host, set()).add(pattern)
        for path, patterns in by_host.items():
            writer = Writer(self.model, Wanted(patterns, set(), only_now=True), {})
            shape, pattern = self._shape_of(path)
            writer.section(shape, pattern, path_text(path))
            cut = next((n for n, line in enumerate(writer.lines) if not line), len(writer.lines))
            fields = sum(line.startswith("# ") and " = " in line for line in writer.lines)
            if fields:
                yield _Host(path, self.sections.get(path), writer.lines[:cut], writer.lines[cut:], fields)

    def _missing(self, model: type[Section], path: Names, pattern: str, host: Names) -> Iterator[tuple[Names, str]]:
        """The wanted fields that the spec lacks, as the model writes them, with the table to put each in."""
        for name, member in members(model).items():
            here, like = (*path, name), f"{pattern}.{name}".lstrip(".")
            if not self.wanted.below(like) or self._is_not_fitted(path):
                continue
            own = here if here in self.sections or not path else host
            if member.role in ("plain", "plain-list"):
                if like in self.wanted.fields and not self._has(here):
                    yield host, like
            elif member.role == "part":
                if self._is_within_braces(here):
                    self.left_out.append(path_text(here))
                else:
                    yield from self._missing(cast(type[Section], member.model), here, like, own)
            elif member.role == "parts":
                yield from self._missing_in_parts(member, here, like, own)
            elif not self._has(here):
                yield from ((own if own != here else host, f) for f in self._fields_of(like))

    def _missing_in_parts(self, member: Member, path: Names, like: str, host: Names) -> Iterator[tuple[Names, str]]:
        standing = standing_at(self.spec.build, path_text(path))
        if standing is None:
            if not any(line[: len(path)] == path for line in self.there):
                yield from ((host if host != path else path[:-1], f) for f in self._fields_of(like))
            return
        for name in standing:
            part = (*path, name)
            if part in self.sections:
                yield from self._missing(cast(type[Section], member.model), part, f"{like}.*", part)
            elif self._lacks_any(cast(type[Section], member.model), part, f"{like}.*"):
                self.left_out.append(path_text(part))

    def _lacks_any(self, model: type[Section], path: Names, pattern: str) -> bool:
        return not self._is_not_fitted(path) and any(
            f"{pattern}.{name}" in self.wanted.fields and not self._has((*path, name))
            for name, member in members(model).items()
            if member.role in ("plain", "plain-list")
        )

    def _fields_of(self, like: str) -> list[str]:
        return [field for field in self.wanted.fields if field.startswith((f"{like}.", f"{like}["))]

    def _has(self, path: PathKey) -> bool:
        return path in self.there or standing_at(self.spec.build, path_text(path)) is not None

    def _is_not_fitted(self, path: Names) -> bool:
        stated = self.spec.stated(path_text((*path, "fitted"))) if path else None
        return stated is not None and stated.value is False

    def _is_within_braces(self, path: Names) -> bool:
        node: Any = self.spec.file.data
        for key in path:
            node = node.get(key) if isinstance(node, dict) else None
        return node is not None and not self.document.stated_by_tables(path)

    def _shape_of(self, path: Names) -> tuple[type[Section], str]:
        """The model of a table, and its path as the model writes it."""
        shape, pattern, is_name = self.model, "", False
        for key in path:
            if is_name:
                pattern, is_name = f"{pattern}.*", False
                continue
            member = members(shape)[key]
            pattern = f"{pattern}.{key}".lstrip(".")
            shape, is_name = cast(type[Section], member.model), member.role == "parts"
        return shape, pattern

    # -- the text
    def with_all(self, hosts: Collection[_Host], *, uncommented: bool = False) -> str:
        """The text with the lines of some tables; to see whether they can be read, without their marks."""
        splices: list[Splice] = []
        at_end: list[str] = []
        for host in hosts:
            lines = [f"## {self.why}", *host.lines] if host.lines else []
            if host.section is None:
                description = members(self.model)[host.path[0]].description
                at_end += ["", f"## {description}", f"# [{path_text(host.path)}]", *lines, *host.tables]
                continue
            own_end, next_start = self.document.comments_behind(host.section)
            splices.append((own_end, own_end, self._joined(lines, uncommented)))
            if host.tables:
                splices.append(self._tables_before(next_start, host.tables, uncommented))
        text = spliced(self.text, [splice for splice in splices if splice[2]])
        if at_end:
            text = text.rstrip("\r\n") + self._joined(at_end, uncommented) + self.document.newline
            text = text.removeprefix(self.document.newline)
        return text

    def _tables_before(self, start: int, lines: list[str], uncommented: bool) -> Splice:
        """Blocks with headers of their own, with a blank line on either side."""
        newline = self.document.newline
        block = self._joined(lines[1:], uncommented).removeprefix(newline)
        if start >= len(self.text.rstrip()):
            end = len(self.text.rstrip())
            return end, end, f"{newline}{newline}{block}"
        return start, start, f"{block}{newline}{newline}"

    def _joined(self, lines: list[str], uncommented: bool) -> str:
        if uncommented:
            lines = [line.removeprefix("# ") for line in lines]
        return "".join(self.document.newline + line for line in lines)
