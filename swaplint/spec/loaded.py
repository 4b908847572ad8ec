"""A build spec as loaded: typed values, and the place of each in its file."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple, Protocol

from swaplint.spec.facts import Stated
from swaplint.spec.fields import Section
from swaplint.spec.paths import path_key
from swaplint.spec.shape import standing_at, stated_at, stated_below
from swaplint.spec.table_file import TableFile
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


class _Fields(Protocol):
    """A record of fields that were read together."""

    fields: dict[str, None]


class _StatedFields(dict[str, Stated]):
    """What a build states in its plain fields, by path."""

    def __init__(self, build: Section) -> None:
        self.build = build
        super().__init__(stated_below(build))


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
    lower: dict[str, TomlFile] = field(default_factory=dict)
    """The files that lie under the spec as a whole, by label: the specs that it stands on, the tables of its parts."""
    tables: frozenset[str] = frozenset()
    """Those of them that are tables of the spec itself."""
    stated_data: dict[str, Any] = field(default_factory=dict, repr=False)
    """What the spec and the files under it state, as TOML holds it, without what data sheets fill in."""
    origins: Origins = field(default_factory=dict)
    """For each field or table that came from another file: that file and the path in it."""
    read_from: ReadFrom = field(default_factory=lambda: ReadFrom(), repr=False)
    """Where data sheets may be read from, for reading the spec with others."""
    _stated: _StatedFields | None = field(default=None, repr=False)
    _stated_together: dict[tuple[_Fields, ...], tuple[str, ...]] = field(default_factory=dict, repr=False)
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

    def act_place(self, path: str, *, own: bool = False) -> Place:
        """Where the builder can act on a field: where it is stated, or the line that names the data sheet it is from.

        With `own` it is always in the spec or a table of it: for what a spec under it states, the line that names that.
        A field that nobody states points at the nearest enclosing table: its header, or the line of the sheet that
        the table is from; without one, at the first line of the spec.
        """
        place = self._act_place(path_key(path) if path else ())
        inherited = place.file != self.label and place.file not in self.tables
        return self.file.place_of(("build", "base")) if own and inherited else place

    def _act_place(self, keys: PathKey) -> Place:
        for cut in range(len(keys), 0, -1):
            origin = self.origins.get(keys[:cut])
            if origin is None:
                continue
            if origin[0].label in self.sheets:
                # A sheet's paths start at the part that it fills, which may itself be described in another sheet.
                part = keys[: cut - len(origin[1])]
                for up in range(len(part), -1, -1):
                    place = self._stated_at((*part[:up], "sheet"))
                    if place is not None:
                        return place
                return self.file.place_of(keys)
            return self.place_at(keys)
        return self.file.place_of(keys)

    def _stated_at(self, keys: PathKey) -> Place | None:
        """Where the spec, or one under it, states a value; None where none does."""
        file, path = self.file, keys
        for cut in range(len(keys), 0, -1):
            origin = self.origins.get(keys[:cut])
            if origin is not None:
                file, path = origin[0], (*origin[1], *keys[cut:])
                break
        return None if file.label in self.sheets or path not in file.spans else file.place_of(path)

    def in_table(self, keys: PathKey) -> tuple[TableFile, PathKey, PathKey] | None:
        """The spec's own table in which a value stands, the collection that it holds, and the value's path in it."""
        for cut in range(len(keys), 0, -1):
            origin = self.origins.get(keys[:cut])
            if origin is not None:
                file, path = origin
                here = (*path, *keys[cut:])
                own = isinstance(file, TableFile) and file.label in self.tables and here in file.spans
                return (file, keys[: cut - len(path)], here) if own and isinstance(file, TableFile) else None
        return None

    def stated(self, path: str) -> Stated | None:
        """The stated value of a plain field, or None where it is not stated or is not a plain field."""
        known = self._known().get(path)
        return known if known is not None else stated_at(self.build, path)

    def stated_fields(self, paths: Iterable[str]) -> tuple[str, ...]:
        """Those of some paths at which a plain field is stated."""
        stated = self._known()
        return tuple([path for path in paths if path in stated])

    def toleranced_among(self, paths: Iterable[str]) -> tuple[str, ...]:
        """Those of some paths at which a number with a tolerance is stated."""
        stated = self._known()
        return tuple([path for path in paths if (one := stated.get(path)) is not None and one.tol])

    def assumed_among(self, paths: Iterable[str]) -> tuple[str, ...]:
        """Those of some paths at which an assumed value without a tolerance is stated."""
        stated = self._known()
        return tuple(
            [p for p in paths if (one := stated.get(p)) is not None and one.basis == "assumed" and not one.tol]
        )

    def _known(self) -> _StatedFields:
        if self._stated is None or self._stated.build is not self.build:
            self._stated = _StatedFields(self.build)
        return self._stated

    def stated_together(self, several: tuple[_Fields, ...]) -> tuple[str, ...]:
        """Those fields of several records that are stated: looked up once for all that rests on the same records."""
        if several not in self._stated_together:
            paths = dict.fromkeys(itertools.chain.from_iterable(one.fields for one in several))
            self._stated_together[several] = self.stated_fields(paths)
        return self._stated_together[several]

    def files(self) -> list[TomlFile]:
        """The files that it was read from: the spec, then those under it and its data sheets by name."""
        others = {**self.lower, **self.sheets}
        return [self.file, *(others[label] for label in sorted(others))]

    def has(self, path: str) -> bool:
        """Whether the spec or a sheet states anything at a path: a value, a list or a part."""
        return standing_at(self.build, path) is not None

    def document(self, path: str) -> SheetDocument | None:
        """The document behind the sheet that states a field; None where the spec, or what it stands on, does."""
        keys = path_key(path)
        for cut in range(len(keys), 0, -1):
            origin = self.origins.get(keys[:cut])
            if origin is not None:
                if origin[0].label not in self.sheets:
                    return None
                about = origin[0].data.get("document")
                about = about if isinstance(about, dict) else {}
                return SheetDocument(
                    str(about.get("title", origin[0].label)),
                    str(about.get("revision", "")),
                    str(about.get("date", "")),
                )
        return None
