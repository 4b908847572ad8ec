"""The layer of data sheets: a part may name a sheet, whose fields fill in what the spec leaves out.

Only files in the spec's own folder and in the sheet folders given by the caller are read.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from swaplint.spec.fields import Part, Section
from swaplint.spec.layers import At, overlay
from swaplint.spec.loaded import Origins
from swaplint.spec.nearby import Nearby, NotThere
from swaplint.spec.refusals import path_shown
from swaplint.spec.renamed import TodaysFile, put_at, todays
from swaplint.spec.shape import members
from swaplint.spec.toml_source import PathKey, SpecError, TomlFile

MAX_SHEETS_DEEP = 8
MAX_ALIKE = 400
"""How many parts, items or values one list or table of alike things may hold: keeps hostile specs quick."""
_NAME = re.compile(r"[A-Za-z0-9_-]{1,60}")


def _holds_more(value: object) -> bool:
    return isinstance(value, (dict, list))  # asked of every value


class Filling:
    """Fills a spec's parts from the data sheets that they name."""

    def __init__(
        self, nearby: Nearby, origins: Origins | None = None, folders: Mapping[str, Path] | None = None
    ) -> None:
        """`origins` tells what of the spec is from files that lie under it, `folders` the folder of each by label."""
        self.nearby = nearby
        self._lower, self._folders = dict(origins or {}), folders or {}
        self.errors: list[SpecError] = []
        self.used: dict[str, TomlFile] = {}
        self.paths: dict[str, Path] = {}
        """Where each of them was read."""
        self.filled: dict[str, tuple[type[Section], PathKey]] = {}
        """The part that each fills: its model and its path in the spec; of several the last."""
        self._read: dict[Path, TomlFile | None] = {}
        self._strays: list[tuple[PathKey, Any, TomlFile, PathKey]] = []

    def table(self, model: type[Section], raw: Any, at: At, origins: Origins) -> Any:
        """A table with its sheets filled in; what came from a sheet is noted in `origins`."""
        if not isinstance(raw, dict):
            return raw
        out = dict(raw)
        shape = members(model)
        for key, value in raw.items():
            member = shape.get(key)
            if member is None or member.role == "plain":
                continue
            if member.role != "part" and isinstance(value, dict | list) and len(value) > MAX_ALIKE:
                here = at.below(key)
                what = f"{path_shown(here.path)} has {len(value)} entries; more than {MAX_ALIKE} are not read"
                self._refuse(here, what)
                del out[key]
                continue
            if member.model is None:
                continue
            if member.role == "part":
                out[key] = self._below(member.model, value, at, (key,), origins)
            elif member.role == "parts" and isinstance(value, dict):
                self._check_names(value, at, key)
                out[key] = {k: self._below(member.model, v, at, (key, k), origins) for k, v in value.items()}
            elif member.role == "items" and isinstance(value, list):
                out[key] = [self._below(member.model, v, at, (key, i), origins) for i, v in enumerate(value)]
        if issubclass(model, Part) and isinstance(raw.get("sheet"), str):
            self._fill(model, out, raw["sheet"], at, origins)
        return out

    def _below(self, model: type[Section], value: Any, at: At, keys: PathKey, origins: Origins) -> Any:
        """The same for a table below another: one of plain values without a sheet, as most are, has nothing to fill."""
        if isinstance(value, dict) and "sheet" not in value and not any(map(_holds_more, value.values())):
            return dict(value)
        return self.table(model, value, at.below(*keys), origins)

    def _check_names(self, value: dict[str, Any], at: At, key: str) -> None:
        for name in value:
            if not _NAME.fullmatch(name):
                shown = name if len(name) <= 60 else name[:57] + "..."
                what = (
                    f"{shown!r} is not a name for a part: use up to 60 letters, digits, hyphens and underscores, "
                    "like rear-left"
                )
                self._refuse(at.below(key, name), what, want_key=True)

    def _written(self, at: At) -> At:
        """Where what stands in the spec is written, which may be in a file that lies under it."""
        for cut in range(len(at.path), 0, -1):
            origin = None if at.chain else self._lower.get(at.path[:cut])
            if origin is not None:
                file, path = origin
                return At(at.path, file, (*path, *at.path[cut:]), self._folders.get(file.label, at.folder), ())
        return at

    def _refuse(self, at: At, what: str, *, want_key: bool = False) -> None:
        at = self._written(at)
        place = at.file.place_of(at.file_path, want_key=want_key)
        self.errors.append(SpecError(what, at.file.label, place.line, place.column))

    def _fill(self, model: type[Section], out: dict[str, Any], name: str, at: At, origins: Origins) -> None:
        line = at.below("sheet")
        try:
            found = self.nearby.find(name, self._written(line).folder, "data sheet")
            if found in at.chain:
                circle = " → ".join(p.name for p in (*at.chain[at.chain.index(found) :], found))
                raise NotThere(f"data sheets name each other in a circle: {circle}")
            if len(at.chain) >= MAX_SHEETS_DEEP:
                raise NotThere(f"data sheets are stacked more than {MAX_SHEETS_DEEP} deep")
            sheet = self._sheet(found)
            if sheet is None:
                return
            self.nearby.lay_in(sheet.text, "data sheet")
        except NotThere as error:
            if str(error):
                self._refuse(line, str(error))
            return
        sheet = self._todays(sheet, model, at)
        inner: Origins = {}
        data = self.table(model, sheet.data, At(at.path, sheet, (), found.parent, (*at.chain, found)), inner)
        overlay(model, out, data, At(at.path, sheet, (), found.parent, ()), inner, origins, but="sheet")

    def _todays(self, sheet: TomlFile, model: type[Section], at: At) -> TomlFile:
        """A sheet under today's names; what it states of fields that are the part's no more is laid aside."""
        sheet = todays(sheet, model, at.path)
        self.filled[sheet.label] = model, at.path
        if isinstance(sheet, TodaysFile):
            self.used[sheet.label] = sheet
            known = {(error.line, error.column, error.what) for error in self.errors if error.file == sheet.label}
            self.errors += [e for e in sheet.errors if (e.line, e.column, e.what) not in known]
            self._strays += [(stray.new, stray.value, sheet.as_read, stray.old) for stray in sheet.strays]
        return sheet

    def put_strays(self, data: Any, origins: Origins) -> None:
        """Put what sheets state of fields that are now elsewhere in the spec where nothing else states them."""
        for path, value, file, file_path in self._strays:
            node = data
            for key in path:
                node = node.get(key, {}) if isinstance(node, dict) else None
            if node == {}:
                put_at(data, path, value)
                origins[path] = (file, file_path)

    def _sheet(self, path: Path) -> TomlFile | None:
        if path not in self._read:
            try:
                sheet = self._read[path] = self.nearby.read(path)
                self.used[sheet.label], self.paths[sheet.label] = sheet, path
            except SpecError as error:
                self.errors.append(error)
                self._read[path] = None
        return self._read[path]
