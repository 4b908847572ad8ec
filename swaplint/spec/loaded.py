"""A build spec as loaded: typed values, and the place of each in its file."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple

from swaplint.spec.fields import Section, Stated
from swaplint.spec.paths import path_key
from swaplint.spec.shape import standing_at, stated_at
from swaplint.spec.toml_source import PathKey, Place, SpecError, TomlFile

Origins = dict[PathKey, tuple[TomlFile, PathKey]]
"""For each field or table that came from another file than the spec: the file and the path in it."""


class SpecErrors(Exception):
    """A spec that cannot be read: every error that was found in it."""

    def __init__(self, errors: Sequence[SpecError]) -> None:
        """`errors` holds at least one."""
        super().__init__("\n".join(str(error) for error in errors))
        self.errors = tuple(errors)


class SheetDocument(NamedTuple):
    """The document behind a data sheet, for citing."""

    title: str
    revision: str
    date: str

    def __str__(self) -> str:
        """As a citation."""
        return ", ".join(
            piece for piece in (self.title, f"revision {self.revision}" if self.revision else "", self.date) if piece
        )


class ReadFrom(NamedTuple):
    """The folders that a spec's data sheets may stand in, and the sections of it that were passed over."""

    folder: Path = Path()
    sheet_folders: tuple[Path, ...] = ()
    unread: tuple[str, ...] = ()


class _StatedFields(dict[str, Stated | None]):
    """What a build states in its plain fields, by path, as far as somebody asked."""

    def __init__(self, build: Section) -> None:
        self.build = build

    def __missing__(self, path: str) -> Stated | None:
        found = self[path] = stated_at(self.build, path)
        return found


@dataclass(slots=True)
class LoadedSpec:
    """A build spec as loaded: typed values, and the place of each in its file."""

    label: str
    """How the spec is named in output: as the user named it."""
    file: TomlFile
    build: Section
    """The values: an instance of the `Build` model, or of one that packs have added their sections to."""
    sheets: dict[str, TomlFile] = field(default_factory=dict)
    """The data sheets in use, by label."""
    origins: Origins = field(default_factory=dict)
    """For each field or table that came from a sheet: the sheet and the path in it."""
    read_from: ReadFrom = field(default_factory=lambda: ReadFrom(), repr=False)
    """Where data sheets may be read from, for reading the spec with others."""
    _stated: _StatedFields | None = field(default=None, repr=False)
    _places: dict[str, Place] = field(default_factory=dict, repr=False)

    def place(self, path: str, *, want_key: bool = False) -> Place:
        """Where the value of a field is written, in the spec or in a sheet; else its nearest enclosing table."""
        if want_key:
            return self.place_at(path_key(path) if path else (), want_key=True)
        if path not in self._places:
            self._places[path] = self.place_at(path_key(path) if path else ())
        return self._places[path]

    def place_at(self, keys: PathKey, *, want_key: bool = False) -> Place:
        """The same for a path given by its keys, which need not be ones that a field path can name."""
        for cut in range(len(keys), 0, -1):
            origin = self.origins.get(keys[:cut])
            if origin is not None:
                file, base = origin
                return file.place_of((*base, *keys[cut:]), want_key=want_key)
        return self.file.place_of(keys, want_key=want_key)

    def act_place(self, path: str) -> Place:
        """Where the builder can act on a field: its place in the spec, or the line that names the sheet it is from.

        A field that nobody states points at the nearest enclosing table: its header, or the line of the sheet that
        the table is from; without one, at the first line of the spec.
        """
        keys = path_key(path) if path else ()
        for cut in range(len(keys), 0, -1):
            origin = self.origins.get(keys[:cut])
            if origin is None:
                continue
            # A sheet's paths start at the part that it fills, which may itself be described in another sheet.
            part = keys[: cut - len(origin[1])]
            for up in range(len(part), -1, -1):
                line = (*part[:up], "sheet")
                if line in self.file.spans:
                    return self.file.place_of(line)
        return self.file.place_of(keys)

    def stated(self, path: str) -> Stated | None:
        """The stated value of a plain field, or None where it is not stated or is not a plain field."""
        return self._stated_fields()[path]

    def stated_among(self, paths: Iterable[str]) -> tuple[str, ...]:
        """Those of some paths at which a plain field is stated."""
        stated = self._stated_fields()
        return tuple([path for path in paths if stated[path] is not None])

    def toleranced_among(self, paths: Iterable[str]) -> tuple[str, ...]:
        """Those of some paths at which a number with a tolerance is stated."""
        stated = self._stated_fields()
        return tuple([path for path in paths if (one := stated[path]) is not None and one.tol])

    def _stated_fields(self) -> _StatedFields:
        if self._stated is None or self._stated.build is not self.build:
            self._stated = _StatedFields(self.build)
        return self._stated

    def files(self) -> list[TomlFile]:
        """The files that it was read from: the spec, then its data sheets by name."""
        return [self.file, *(self.sheets[label] for label in sorted(self.sheets))]

    def has(self, path: str) -> bool:
        """Whether the spec or a sheet states anything at a path: a value, a list or a part."""
        return standing_at(self.build, path) is not None

    def document(self, path: str) -> SheetDocument | None:
        """The document behind the sheet that states a field; None where the spec itself states it."""
        keys = path_key(path)
        for cut in range(len(keys), 0, -1):
            origin = self.origins.get(keys[:cut])
            if origin is not None:
                about = origin[0].data.get("document")
                about = about if isinstance(about, dict) else {}
                return SheetDocument(
                    str(about.get("title", origin[0].label)),
                    str(about.get("revision", "")),
                    str(about.get("date", "")),
                )
        return None
