"""Loading a build spec: the file, the data sheets it names, the values, and where each stands.

A part may name a data sheet. The sheet's fields fill in what the spec leaves out; where both state a field, the spec
wins. Each value remembers the file and line that it came from. Only files in the spec's own folder and in the sheet
folders given by the caller are read.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple

from pydantic import ValidationError

from swaplint.spec.fields import ItemError, Part, Section, Stated, nearest, shown_value
from swaplint.spec.model import FORMAT, Build
from swaplint.spec.paths import path_key, path_text
from swaplint.spec.shape import members, standing_at, stated_at
from swaplint.spec.toml_source import MAX_BYTES, ParsedFiles, PathKey, Place, SpecError, TomlFile, read_bytes

MAX_SHEETS_DEEP = 8
MAX_FILLED = 4 * MAX_BYTES
"""How much sheet text a spec may lay in, counted once for each part that names the sheet: keeps hostile specs quick."""
MAX_ALIKE = 400
"""How many parts, items or values one list or table of alike things may hold: keeps hostile specs quick."""
Origins = dict[PathKey, tuple[TomlFile, PathKey]]
_NAME = re.compile(r"[A-Za-z0-9_-]{1,60}")


class SpecErrors(Exception):
    """A spec that cannot be read: every error that was found in it."""

    def __init__(self, errors: Sequence[SpecError]) -> None:
        """`errors` holds at least one."""
        super().__init__("\n".join(str(error) for error in errors))
        self.errors = tuple(errors)


@dataclass(frozen=True, slots=True)
class SheetDocument:
    """The document behind a data sheet, for citing."""

    title: str
    revision: str
    date: str

    def __str__(self) -> str:
        """As a citation."""
        return ", ".join(
            piece for piece in (self.title, f"revision {self.revision}" if self.revision else "", self.date) if piece
        )


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
    origins: dict[PathKey, tuple[TomlFile, PathKey]] = field(default_factory=dict)
    """For each field or table that came from a sheet: the sheet and the path in it."""
    _stated: dict[str, Stated | None] = field(default_factory=dict, repr=False)
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
        if path not in self._stated:
            self._stated[path] = stated_at(self.build, path)
        return self._stated[path]

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


def load_spec(
    path: str,
    *,
    sheet_folders: Iterable[Path] = (),
    model: type[Section] = Build,
    stdin: bytes | None = None,
    unread: Collection[str] = (),
    parsed: ParsedFiles | None = None,
) -> LoadedSpec:
    """Load a build spec from a file, or from `stdin` where `path` is '-'. Raises `SpecErrors`.

    Sections named in `unread` are passed over: those of rule packs that could not be loaded. `parsed` keeps the files
    that specs have in common; give the same one to each call.
    """
    parsed = parsed or ParsedFiles()
    try:
        file = read_bytes(stdin or b"", "standard input") if path == "-" else parsed.read(Path(path), path)
    except SpecError as error:
        raise SpecErrors([error]) from None
    folder = Path.cwd() if path == "-" else Path(path).parent
    return load(file, folder, sheet_folders=sheet_folders, model=model, unread=unread, parsed=parsed)


def load_text(
    text: str, *, label: str = "spec", folder: Path | None = None, model: type[Section] = Build
) -> LoadedSpec:
    """Load a build spec from text: for tests and tools. Raises `SpecErrors`."""
    try:
        file = read_bytes(text.encode(), label)
    except SpecError as error:
        raise SpecErrors([error]) from None
    return load(file, folder or Path.cwd(), model=model)


def load(
    file: TomlFile,
    folder: Path,
    *,
    sheet_folders: Iterable[Path] = (),
    model: type[Section] = Build,
    unread: Collection[str] = (),
    parsed: ParsedFiles | None = None,
) -> LoadedSpec:
    """Load a build spec that has been read as TOML."""
    merge = _Merge(file, folder, sheet_folders, parsed or ParsedFiles())
    origins: Origins = {}
    stated = {key: value for key, value in file.data.items() if key not in unread}
    data = merge.table(model, stated, _At((), file, (), folder, ()), origins)
    loaded = LoadedSpec(file.label, file, model.model_construct(), merge.used, origins)
    errors = merge.errors
    try:
        loaded.build = model.model_validate(data)
    except ValidationError as error:
        errors.extend(_translate(error, model, loaded))
    errors.extend(_check_format(file))
    if errors:
        raise SpecErrors(sorted(errors, key=lambda e: (e.file != file.label, e.file, e.line, e.column, e.what)))
    return loaded


def _check_format(file: TomlFile) -> list[SpecError]:
    build = file.data.get("build")
    number = build.get("format") if isinstance(build, dict) else None
    if number is None or number == FORMAT or not isinstance(number, int) or isinstance(number, bool):
        return []
    place = file.place_of(("build", "format"))
    what = f"build.format {shown_value(number)} is not known: this version reads format {FORMAT}"
    return [SpecError(what, file.label, place.line, place.column)]


class _At(NamedTuple):
    """Where a table stands: in the spec, and in the file that it is written in."""

    path: PathKey
    file: TomlFile
    file_path: PathKey
    folder: Path
    """The folder of that file: sheets named in it are looked for there first."""
    chain: tuple[Path, ...]
    """The sheets that led here, to notice a circle."""

    def below(self, *keys: str | int) -> _At:
        return _At((*self.path, *keys), self.file, (*self.file_path, *keys), self.folder, self.chain)


class _Merge:
    """Fills a spec's parts from the data sheets that they name."""

    def __init__(self, file: TomlFile, folder: Path, sheet_folders: Iterable[Path], parsed: ParsedFiles) -> None:
        self.file, self.parsed = file, parsed
        self.given = [folder, *sheet_folders]
        self.folders = [given.resolve() for given in self.given]
        self.errors: list[SpecError] = []
        self.used: dict[str, TomlFile] = {}
        self._read: dict[Path, TomlFile | None] = {}
        self._filled = 0

    def table(self, model: type[Section], raw: Any, at: _At, origins: Origins) -> Any:
        """A table with its sheets filled in; what came from a sheet is noted in `origins`."""
        if not isinstance(raw, dict):
            return raw
        out = dict(raw)
        shape = members(model)
        for key, value in raw.items():
            member = shape.get(key)
            if member is None or member.role == "plain":
                continue
            here = at.below(key)
            if member.role != "part" and isinstance(value, dict | list) and len(value) > MAX_ALIKE:
                what = f"{_path_shown(here.path)} has {len(value)} entries; more than {MAX_ALIKE} are not read"
                self._refuse(here, what)
                del out[key]
                continue
            if member.model is None:
                continue
            if member.role == "part":
                out[key] = self.table(member.model, value, here, origins)
            elif member.role == "parts" and isinstance(value, dict):
                self._check_names(value, here)
                out[key] = {k: self.table(member.model, v, here.below(k), origins) for k, v in value.items()}
            elif member.role == "items" and isinstance(value, list):
                out[key] = [self.table(member.model, v, here.below(i), origins) for i, v in enumerate(value)]
        if issubclass(model, Part) and isinstance(raw.get("sheet"), str):
            self._fill(model, out, raw["sheet"], at, origins)
        return out

    def _check_names(self, value: dict[str, Any], at: _At) -> None:
        for name in value:
            if not _NAME.fullmatch(name):
                shown = name if len(name) <= 60 else name[:57] + "..."
                what = (
                    f"{shown!r} is not a name for a part: use up to 60 letters, digits, hyphens and underscores, "
                    "like rear-left"
                )
                self._refuse(at.below(name), what, want_key=True)

    def _refuse(self, at: _At, what: str, *, want_key: bool = False) -> None:
        place = at.file.place_of(at.file_path, want_key=want_key)
        self.errors.append(SpecError(what, at.file.label, place.line, place.column))

    def _fill(self, model: type[Section], out: dict[str, Any], name: str, at: _At, origins: Origins) -> None:
        found = self._find(name, at.below("sheet"))
        if found is None:
            return
        if found in at.chain:
            circle = " → ".join(p.name for p in (*at.chain[at.chain.index(found) :], found))
            self._refuse(at.below("sheet"), f"data sheets name each other in a circle: {circle}")
            return
        if len(at.chain) >= MAX_SHEETS_DEEP:
            self._refuse(at.below("sheet"), f"data sheets are stacked more than {MAX_SHEETS_DEEP} deep")
            return
        sheet = self._sheet(found)
        if sheet is None:
            return
        self._filled += len(sheet.text) + 1000
        if self._filled > MAX_FILLED:
            if self._filled - len(sheet.text) - 1000 <= MAX_FILLED:
                self._refuse(at.below("sheet"), f"the data sheets come to more than {MAX_FILLED // 1000} kB in all")
            return
        inner: Origins = {}
        data = self.table(model, sheet.data, _At(at.path, sheet, (), found.parent, (*at.chain, found)), inner)
        _overlay(out, data, _At(at.path, sheet, (), found.parent, ()), inner, origins)

    def _find(self, name: str, at: _At) -> Path | None:
        if "\0" in name or not 0 < len(name) <= 300:
            self._refuse(at, "is not a file name")
            return None
        outside = False
        for base in (at.folder, *self.folders):
            try:
                path = (base / name).resolve()
                if not any(path.is_relative_to(allowed) for allowed in self.folders):
                    outside = True
                    continue
                if path.exists():
                    return path
            except (OSError, RuntimeError, ValueError):
                continue
        if outside:
            self._refuse(
                at,
                f"the data sheet {name!r} lies outside the spec's folder; "
                "sheets are read from there and from the folders given with --sheets",
            )
        else:
            self._refuse(at, f"there is no data sheet {name!r} in the spec's folder or in a folder given with --sheets")
        return None

    def _sheet(self, path: Path) -> TomlFile | None:
        if path not in self._read:
            label = self._label(path)
            try:
                self.used[label] = self._read[path] = self.parsed.read(path, label)
            except SpecError as error:
                self.errors.append(error)
                self._read[path] = None
        return self._read[path]

    def _label(self, path: Path) -> str:
        """A sheet as seen from where the tool runs: its folder as the caller gave it, and the path below that."""
        for folder, given in zip(self.folders, self.given, strict=True):
            if path.is_relative_to(folder):
                above = Path(self.file.label).parent if folder == self.folders[0] else given
                return (above / path.relative_to(folder)).as_posix()
        return path.name


def _overlay(out: dict[str, Any], data: dict[str, Any], at: _At, inner: Origins, origins: Origins) -> None:
    """Put into `out` what only the sheet states, and note where it came from."""
    for key, value in data.items():
        here = at.below(key)
        if key == "sheet":
            continue
        if key not in out:
            out[key] = value
            origins[here.path] = (at.file, here.file_path)
            depth = len(here.path)
            origins.update({p: o for p, o in inner.items() if p[:depth] == here.path})
        elif isinstance(out[key], dict) and isinstance(value, dict) and "value" not in out[key]:
            out[key] = dict(out[key])
            _overlay(out[key], value, here, inner, origins)


# -- pydantic's errors, as sentences with a place ---------------------------------------------------------------
def _translate(error: ValidationError, model: type[Section], loaded: LoadedSpec) -> list[SpecError]:
    out: list[SpecError] = []
    for entry in error.errors(include_url=False, include_input=True)[:200]:
        path = entry["loc"]
        text = _path_shown(path)
        if entry["type"] == "extra_forbidden":
            place = loaded.place_at(path, want_key=True)
            what = _unknown_key(model, path)
        elif entry["type"] == "value_error":
            problem = entry["ctx"]["error"]
            if isinstance(problem, ItemError):
                path, problem = (*path, problem.index), problem.what
            place = loaded.place_at(path)
            what = f"{_path_shown(path)}: {problem}"
        else:
            place = loaded.place_at(path)
            wanted = "a list" if "list" in entry["type"] else "a table"
            what = f"{text} takes {wanted}, not {shown_value(entry['input'])}"
        out.append(SpecError(what, place.file, place.line, place.column))
    return out


def _path_shown(path: PathKey) -> str:
    """A path for a sentence: a part's name may be anything here, until it is refused."""
    return "".join(c if c.isprintable() else "�" for c in path_text(path)[:200])


def _unknown_key(model: type[Section], path: PathKey) -> str:
    shape: type[Section] | None = model
    named = False  # whether the key is the name of one of several alike parts
    for key in path[:-1]:
        if shape is None or isinstance(key, int) or named:
            named = False
            continue
        member = members(shape).get(key)
        if member is not None:
            shape, named = member.model, member.role == "parts"
    table = _path_shown(path[:-1]) or "the spec"
    known = list(members(shape)) if shape is not None else []
    key = str(path[-1])
    shown = key if len(key) <= 60 else key[:57] + "..."
    near = nearest(key, known)
    if near:
        return f"{table} has no field {shown!r}; did you mean '{near}'?"
    listed = ", ".join(known[:12]) + (" …" if len(known) > 12 else "")
    return f"{table} has no field {shown!r}; it has {listed}"
