"""Layers: files that lie under a build spec and fill in what it leaves out.

A spec may stand on another, its base; the tables of parts beside it are of the spec itself. The base lies under the
spec as a whole, so that what the spec states is laid over what the base states, a list over a list; data sheets are
filled in afterwards, below both. What a lower layer fills in is noted in the origins, so that each value is traced to
its file and line.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple

from swaplint.spec.facts import shown_value
from swaplint.spec.fields import Section
from swaplint.spec.formats import format_unknown
from swaplint.spec.loaded import Origins
from swaplint.spec.nearby import Nearby, NotThere
from swaplint.spec.refusals import path_shown
from swaplint.spec.renamed import TodaysFile, todays
from swaplint.spec.shape import members
from swaplint.spec.toml_source import PathKey, SpecError, TomlFile

MAX_BASES_DEEP = 8
SECTION = "tables"
"""The section of a spec that names its tables of parts; it is of the files, and no rule reads it."""
MOST_TABLES = 100
"""How many tables a spec may name: keeps hostile specs quick."""
NOT_INHERITED: tuple[PathKey, ...] = (("build", "base"), ("build", "stage"), ("measured",), ("deviations",))
"""What a spec states for itself alone: how far its job is, what was measured on it, what was accepted for it."""


class At(NamedTuple):
    """Where a table stands: in the spec, and in the file that it is written in."""

    path: PathKey
    file: TomlFile
    file_path: PathKey
    folder: Path
    """The folder of that file: files named in it are looked for there first."""
    chain: tuple[Path, ...]
    """The files that led here, to notice a circle."""

    def below(self, *keys: str | int) -> At:
        """The same for a table below this one."""
        return At((*self.path, *keys), self.file, (*self.file_path, *keys), self.folder, self.chain)


def overlay(
    model: type[Section],
    out: dict[str, Any],
    data: dict[str, Any],
    at: At,
    inner: Origins,
    origins: Origins,
    *,
    but: str = "",
) -> None:
    """Put into `out`, a section of a model, what only the layer below states, and note where it came from.

    `but` names a field that each part states for itself alone.
    """
    shape = members(model)
    for key, value in data.items():
        if key == but:
            continue
        here = at.below(key)
        if key not in out:
            _lay_whole(out, key, value, here, inner, origins)
            continue
        member = shape.get(key)
        if member is None or member.model is None or not _both_tables(out[key], value):
            continue
        if member.role == "part":
            out[key] = dict(out[key])
            overlay(member.model, out[key], value, here, inner, origins, but=but)
        elif member.role == "parts" and out[key]:  # written empty, a collection says that there is none
            above, out[key] = out[key], {}
            for name, part in value.items():  # in the order of the layer below, what is new behind it
                if name not in above:
                    _lay_whole(out[key], name, part, here.below(name), inner, origins)
                    continue
                out[key][name] = above[name]
                if _both_tables(above[name], part):
                    out[key][name] = dict(above[name])
                    overlay(member.model, out[key][name], part, here.below(name), inner, origins, but=but)
            out[key].update({name: part for name, part in above.items() if name not in value})


def _both_tables(above: object, below: object) -> bool:
    return isinstance(above, dict) and isinstance(below, dict) and not said_unknown(above)


def _lay_whole(out: dict[str, Any], key: str, value: Any, at: At, inner: Origins, origins: Origins) -> None:
    out[key] = value
    depth = len(at.path)
    origins[at.path] = (at.file, at.file_path)
    for cut in range(depth, 0, -1):  # what stands in it may be of another layer as a whole
        if at.path[:cut] in inner:
            file, path = inner[at.path[:cut]]
            origins[at.path] = (file, (*path, *at.path[cut:]))
            break
    origins.update({path: origin for path, origin in inner.items() if path[:depth] == at.path})


# -- making a value unknown again ---------------------------------------------------------------------------------
UNKNOWN = "unknown"


def said_unknown(value: object) -> bool:
    """Whether `{ unknown = true }` stands in the place of a value or part: whatever lies below, it is not known."""
    return isinstance(value, dict) and len(value) == 1 and value.get(UNKNOWN) is True


def without_unknown(model: type[Section], data: Any, path: PathKey, wrong: list[PathKey]) -> Any:
    """The data of a section without what is said to be unknown; where that is said wrongly is put into `wrong`.

    A collection that loses its last part so is unknown too: that is not the same as one that is written empty.
    """
    if not isinstance(data, dict):
        return data
    shape = members(model)
    out: dict[str, Any] = {}
    for key, value in data.items():
        member, here = shape.get(key), (*path, key)
        if member is None:
            if key == UNKNOWN:
                wrong.append(here)
            else:
                out[key] = value
        elif said_unknown(value):
            continue
        elif member.model is None:
            if isinstance(value, dict) and UNKNOWN in value:
                wrong.append((*here, UNKNOWN))
            else:
                out[key] = value
        elif member.role == "part":
            out[key] = without_unknown(member.model, value, here, wrong)
        elif member.role == "parts" and isinstance(value, dict) and value:
            parts = {
                name: without_unknown(member.model, part, (*here, name), wrong)
                for name, part in value.items()
                if not said_unknown(part)
            }
            if parts:
                out[key] = parts
        elif member.role == "items" and isinstance(value, list):
            out[key] = [without_unknown(member.model, item, (*here, i), wrong) for i, item in enumerate(value)]
        else:
            out[key] = value
    return out


# -- one spec on another --------------------------------------------------------------------------------------------
@dataclass(slots=True)
class Stack:
    """Reads the layers of a spec and lays them on each other."""

    model: type[Section]
    nearby: Nearby
    unread: Collection[str] = ()
    """Sections that are passed over."""
    errors: list[SpecError] = field(default_factory=list)
    files: dict[str, TomlFile] = field(default_factory=dict)
    """The files that lie under the spec, by label."""
    folders: dict[str, Path] = field(default_factory=dict)
    """The folder of each."""
    tables: set[str] = field(default_factory=set)
    """The tables of the spec itself, by label."""

    def stated(self, at: At, origins: Origins) -> dict[str, Any]:
        """What a spec and all that it stands on state; what is not from the spec itself is noted in `origins`."""
        file = at.file
        data = {key: value for key, value in file.data.items() if key not in self.unread and key != SECTION}
        if isinstance(file, TodaysFile):
            self.errors += file.errors
        unknown = format_unknown(file)
        if unknown is not None:
            self.errors.append(unknown)
        if SECTION in file.data:
            self._lay_tables(data, at, origins)
        job = data.get("build")
        name = job.get("base") if isinstance(job, dict) else None
        if isinstance(name, str):
            below = self._base(name, at)
            if below is not None:
                inner: Origins = {}
                inherited = _inherited(self.stated(below, inner))
                overlay(self.model, data, inherited, below, inner, origins)
        return data

    def _lay_tables(self, data: dict[str, Any], at: At, origins: Origins) -> None:
        """Put in what the tables of parts beside a spec state."""
        # Imported here: most specs do without it.
        from swaplint.spec.tables import collection_at, lay_beside, read_parts, tables_named

        section = at.below(SECTION)
        if not isinstance(at.file.data[SECTION], dict):
            self.refuse(section, 'tables takes a table, like { "electrics.cables" = "cables.csv" }')
        for number, (keys, name) in enumerate(tables_named(at.file.data[SECTION]), 1):
            line = section.below(*keys)
            if number > MOST_TABLES:
                self.refuse(line, f"more than {MOST_TABLES} tables are not read")
                break
            try:
                collection, member = collection_at(self.model, path_shown(keys))
                if not isinstance(name, str):
                    raise NotThere(f'takes the name of a CSV file, like "cables.csv", not {shown_value(name)}')
                found = self.nearby.find(name, at.folder, "table")
                file, parts, wrong = read_parts(self.nearby.read_raw(found), self.nearby.label(found), member)
                self.nearby.lay_in(file.text, "table")
            except NotThere as error:
                self.refuse(line, str(error))
                continue
            except SpecError as error:
                self.errors.append(error)
                continue
            self.errors += wrong
            self.files[file.label], self.folders[file.label] = file, found.parent
            if len(at.chain) == 1:
                self.tables.add(file.label)
            self.errors += lay_beside(data, collection, parts, file, at.file, origins)

    def _base(self, name: str, at: At) -> At | None:
        """The spec that a spec stands on; None where it cannot be read."""
        line = at.below("build", "base")
        try:
            found = self.nearby.find(name, at.folder, "base spec")
            if found in at.chain:
                circle = " → ".join(path.name for path in (*at.chain[at.chain.index(found) :], found))
                raise NotThere(f"specs stand on each other in a circle: {circle}")
            if len(at.chain) > MAX_BASES_DEEP:
                raise NotThere(f"specs stand on each other more than {MAX_BASES_DEEP} deep")
            file = self.nearby.read(found)
            self.nearby.lay_in(file.text, "base spec")
        except NotThere as error:
            self.refuse(line, str(error))
            return None
        except SpecError as error:
            self.errors.append(error)
            return None
        file = todays(file, self.model)
        if file.data and {SECTION, *members(self.model)}.isdisjoint(file.data):
            self.refuse(line, f"{path_shown((name,))} has no section of a build spec, so that nothing can stand on it")
            return None
        self.files[file.label], self.folders[file.label] = file, found.parent
        return At((), file, (), found.parent, (*at.chain, found))

    def refuse(self, at: At, what: str) -> None:
        """Keep an error at the place that it is about."""
        if what:
            place = at.file.place_of(at.file_path)
            self.errors.append(SpecError(what, at.file.label, place.line, place.column))


def _inherited(data: dict[str, Any]) -> dict[str, Any]:
    """What another spec that stands on this one takes over."""
    out = {key: value for key, value in data.items() if (key,) not in NOT_INHERITED}
    if isinstance(out.get("build"), dict):
        out["build"] = {key: value for key, value in out["build"].items() if ("build", key) not in NOT_INHERITED}
    return out
