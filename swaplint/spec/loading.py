"""Loading a build spec: the file, the data sheets it names, the values, and where each stands.

A part may name a data sheet. The sheet's fields fill in what the spec leaves out; where both state a field, the spec
wins. Each value remembers the file and line that it came from. Only files in the spec's own folder and in the sheet
folders given by the caller are read.
"""

from __future__ import annotations

import copy
from collections.abc import Collection, Iterable, Mapping
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from swaplint.spec.deviations import ALONE
from swaplint.spec.fields import Section
from swaplint.spec.layers import UNKNOWN, At, Stack, without_unknown
from swaplint.spec.loaded import LoadedSpec, Origins, ReadFrom, SpecErrors
from swaplint.spec.model import Build
from swaplint.spec.nearby import Nearby
from swaplint.spec.paths import path_key
from swaplint.spec.refusals import MOST, path_shown, refusals
from swaplint.spec.renamed import STDIN_LABEL, put_at, todays
from swaplint.spec.shape import members
from swaplint.spec.sheets import Filling
from swaplint.spec.toml_source import ParsedFiles, PathKey, SpecError, TomlFile, read_bytes
from swaplint.spec.validating import validated


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

    Sections named in `unread` are passed over: those of rule packs that could not be loaded. `parsed` keeps what does
    not change from one reading to the next, files and sections; give the same one to each call.
    """
    files = parsed or ParsedFiles()
    try:
        file = read_bytes(stdin or b"", STDIN_LABEL) if path == "-" else files.read(Path(path), path)
    except SpecError as error:
        raise SpecErrors([error]) from None
    folder = Path.cwd() if path == "-" else Path(path).parent
    return load(file, folder, sheet_folders=sheet_folders, model=model, unread=unread, parsed=parsed)


def load_text(
    text: str,
    *,
    label: str = "spec",
    folder: Path | None = None,
    model: type[Section] = Build,
    parsed: ParsedFiles | None = None,
) -> LoadedSpec:
    """Load a build spec from text: for tests and tools. Raises `SpecErrors`. For `parsed` see `load_spec`."""
    try:
        file = read_bytes(text.encode(), label)
    except SpecError as error:
        raise SpecErrors([error]) from None
    return load(file, folder or Path.cwd(), model=model, parsed=parsed)


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
    file, sheet_folders = todays(file, model), tuple(sheet_folders)
    if file.data and members(model).keys().isdisjoint(file.data):
        _refuse_data_sheet(file, model)
    if file.data.keys() == ALONE:
        what = "is a file of deviations, not a build spec; name the spec, and this file with --deviations"
        raise SpecErrors([SpecError(what, file.label)])
    nearby = Nearby(file.label, folder, sheet_folders, parsed or ParsedFiles(), model.sheet_folders)
    stack = Stack(model, nearby, unread)
    origins: Origins = {}
    own = (folder / Path(file.label).name).resolve()
    stated = stack.stated(At((), file, (), folder, (own,)), origins)
    merge = Filling(nearby, origins, stack.folders)
    data = merge.table(model, stated, At((), file, (), folder, ()), origins)
    merge.put_strays(data, origins)
    read_from = ReadFrom(folder, tuple(sheet_folders), tuple(unread))
    loaded = LoadedSpec(
        file.label,
        file,
        model.model_construct(),
        sheets=merge.used,
        lower=stack.files,
        tables=frozenset(stack.tables),
        stated_data=stated,
        origins=origins,
        read_from=read_from,
    )
    errors = [*stack.errors, *merge.errors]
    if any(one.mentions(UNKNOWN) for one in loaded.files()):
        data = _without_unknown(data, model, loaded, errors)
    try:
        loaded.build = validated(model, data, None if parsed is None else parsed.sections)
    except ValidationError as error:
        errors.extend(refusals(error, model, loaded))
    if errors:
        raise SpecErrors(sorted(errors, key=lambda e: (e.file != file.label, e.file, e.line, e.column, e.what)))
    return loaded


def with_sheets(spec: LoadedSpec, sheets: Mapping[str, str], parsed: ParsedFiles | None = None) -> LoadedSpec:
    """The same spec with other data sheets, by the path of the field that names each: read as it was itself.

    Raises `SpecErrors`. Places are those of the spec as it stands.
    """
    data = copy.deepcopy(spec.file.data)
    for path, name in sheets.items():
        put_at(data, path_key(path), name)
    # Old names in the spec were dealt with when it was read.
    file = TomlFile(spec.file.label, spec.file.text, data, spec.file.raw, spec.file.spans)
    where = spec.read_from
    return load(
        file,
        where.folder,
        sheet_folders=where.sheet_folders,
        model=type(spec.build),
        unread=where.unread,
        parsed=parsed,
    )


def _refuse_data_sheet(file: TomlFile, model: type[Section]) -> None:
    # Imported here: only a mistake needs it.
    from swaplint.spec.sheet_files import sheet_words, what_it_is

    if what_it_is(file.data, model) == "sheet":
        raise SpecErrors([SpecError(sheet_words(file.data, file.label, model), file.label)])


def _without_unknown(
    data: dict[str, Any], model: type[Section], loaded: LoadedSpec, errors: list[SpecError]
) -> dict[str, Any]:
    """The data without what is said to be unknown."""
    wrong: list[PathKey] = []
    known: dict[str, Any] = without_unknown(model, data, (), wrong)
    for path in wrong[:MOST]:
        place = loaded.place_at(path, want_key=True)
        what = (
            f"{path_shown(path)}: what is not known says that and no more, "
            f"{path_shown(path[-2:-1]) or 'FIELD'} = {{ unknown = true }}"
        )
        errors.append(SpecError(what, place.file, place.line, place.column))
    return known
