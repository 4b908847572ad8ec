"""Names of today for what an older build spec or data sheet calls otherwise.

A field that got another name within its section says so where it is declared (`was=("old_name",)`). One that went to
another section stands in `MOVED`. A file that is read is put into today's names first, so that nothing else needs to
know of the old ones; each place in it is still that of the key as it stands in the file.
"""

from __future__ import annotations

import copy
import functools
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from swaplint.spec.facts import FormerNames
from swaplint.spec.fields import Section
from swaplint.spec.paths import path_text
from swaplint.spec.refusals import MOST
from swaplint.spec.shape import Member, members
from swaplint.spec.toml_source import PathKey, Place, Spans, SpecError, TomlFile

MOVED: dict[str, str] = {}
"""Fields and parts that went to another section: the old path, and today's. Oldest first, so that one that went on from
there is taken on. `*` stands for a part's name or an item's number, the same in both."""

MOST_TOLD = 5
"""How many old names of one file are told."""

_PIECES = re.compile(r"\*(?:\[[^\]]*\])?|\[[^\]]*\]|[^.\[\]]+")
_ANY = ("*", "[]")


class Step(NamedTuple):
    """One change of a name, in a file in which the steps before it have been taken."""

    old: PathKey
    new: PathKey | None
    """None for a table that moves have left empty and that is known no more."""
    declared: object
    """What tells alike steps: the same field of many parts is told once."""


class Stray(NamedTuple):
    """A value in a data sheet whose field lies outside the part that the sheet is of."""

    new: PathKey
    """The path in the spec."""
    old: PathKey
    """The path in the sheet."""
    value: Any


@dataclass(slots=True)
class TodaysFile(TomlFile):
    """A file with its values under today's names. Text and places are those of the file as it stands."""

    as_read: TomlFile = field(default_factory=lambda: TomlFile("", "", {}))
    of_part: bool = False
    """Whether it is the data sheet of a part, and no spec."""
    steps: list[Step] = field(default_factory=list)
    strays: list[Stray] = field(default_factory=list)
    errors: list[SpecError] = field(default_factory=list)

    @property
    def spans(self) -> dict[PathKey, Spans]:
        """Where each key and value stands, under today's names."""
        if self._spans is None:
            taken = {s.old: (number, s.new) for number, s in enumerate(self.steps) if s.new is not None}
            self._spans = {_path_after(taken, path): spans for path, spans in self.as_read.spans.items()}
        return self._spans

    def told(self, *, every: bool = False) -> list[tuple[int, str, str]]:
        """The old names in the file, each with its line and today's name; of many alike the first, or every one."""
        out: list[tuple[int, str, str]] = []
        seen: set[object] = set()
        for number, step in enumerate(self.steps):
            if step.new is not None and (every or step.declared not in seen):
                seen.add(step.declared)
                old = path_before(self.steps[:number], step.old)
                out.append((self._line(old), path_text(old), path_text(step.new)))
        return out

    def told_of_strays(self) -> list[tuple[int, str, str]]:
        """The same for what is of the spec now, and no more of the part that the data sheet is of."""
        return [(self._line(stray.old), path_text(stray.old), path_text(stray.new)) for stray in self.strays]

    def _line(self, old: PathKey) -> int:
        return self.as_read.place_of(old, want_key=True).line


def todays(file: TomlFile, model: type[Section], part: PathKey = ()) -> TomlFile:
    """The file under today's names; the file itself where it has no others.

    `part` is the path in the spec of the part that a data sheet fills, and `model` that part's.
    """
    if not MOVED and not _has_former_names(model):
        return file
    renaming = _Renaming(file, model, part)
    data = renaming.in_sections(model, renaming.data, ())
    if not (renaming.steps or renaming.strays or renaming.errors):
        return file
    return TodaysFile(
        file.label,
        file.text,
        data,
        file.raw,
        as_read=file,
        of_part=bool(part),
        steps=renaming.steps,
        strays=renaming.strays,
        errors=renaming.errors,
    )


def notices(files: Sequence[TomlFile]) -> list[str]:
    """What is told of old names in a spec, the first of `files`, and in the others that it was read from."""
    out: list[str] = []
    for file in files:
        if not isinstance(file, TodaysFile):
            continue
        spec = "-" if files[0].label == STDIN_LABEL else files[0].label
        called = spec if file is files[0] or file.of_part else file.label
        call = f"swaplint upgrade {called}{' --sheets-too' if file.of_part else ''}"
        told = [(line, f"{old} is called {new} now; '{call}' rewrites it") for line, old, new in file.told()]
        told += [(line, stray_words(old, new)) for line, old, new in file.told_of_strays()]
        out += [f"{file.label}, line {line}: {what}." for line, what in told[:MOST_TOLD]]
        if len(told) > MOST_TOLD:
            out.append(f"{file.label}: {len(told) - MOST_TOLD} more old names.")
    return out


def stray_words(old: str, new: str) -> str:
    """What is said of a value in a data sheet whose field is now outside the part."""
    return f"{old} is {new} of the spec now, which this data sheet is not of: move it into the spec by hand"


STDIN_LABEL = "standard input"
"""How a spec is called that is read from there."""


def path_today(model: type[Section], path: str) -> str:
    """Today's name of a field or a pattern of fields.

    >>> from swaplint.spec.model import Build
    >>> path_today(Build, "driveline.axles.*[driven=true].ratio")
    'driveline.axles.*[driven=true].ratio'
    """
    if not MOVED and not _has_former_names(model):
        return path
    pieces = _PIECES.findall(path)
    if _joined(pieces) != path:
        return path
    for old, new in MOVED.items():
        pieces = _moved_pieces(pieces, _PIECES.findall(old), _PIECES.findall(new))
    shape: type[Section] | None = model
    named = False  # whether the piece is the name of one of several alike parts
    for index, piece in enumerate(pieces):
        if shape is None:
            break
        if named or piece.startswith("["):
            condition = re.fullmatch(r"\*\[([a-z_]+)(=.+)\]", piece)
            if condition is not None:
                pieces[index] = f"*[{former_names(shape).get(condition[1], condition[1])}{condition[2]}]"
            named = False
            continue
        pieces[index] = former_names(shape).get(piece, piece)
        member = members(shape).get(pieces[index])
        shape, named = (member.model, member.role == "parts") if member is not None else (None, False)
    return _joined(pieces)


@functools.cache
def former_names(model: type[Section]) -> dict[str, str]:
    """The names that fields of a section had before, and what each is called now."""
    out: dict[str, str] = {}
    for name, info in model.model_fields.items():
        for entry in info.metadata:
            if isinstance(entry, FormerNames):
                out.update(dict.fromkeys(entry.names, name))
    return {old: name for old, name in out.items() if old not in model.model_fields}


@functools.cache
def _has_former_names(model: type[Section]) -> bool:
    """Whether a field of a section, or of one below it, had another name."""
    seen: set[type[Section]] = set()
    pending = [model]
    while pending:
        section = pending.pop()
        if section in seen:
            continue
        seen.add(section)
        if former_names(section):
            return True
        pending += [member.model for member in members(section).values() if member.model is not None]
    return False


class _Renaming:
    """Puts the values of one file under today's names, and keeps what it changed."""

    def __init__(self, file: TomlFile, model: type[Section], part: PathKey) -> None:
        self.file, self.model, self.part = file, model, part
        self.steps: list[Step] = []
        self.strays: list[Stray] = []
        self.errors: list[SpecError] = []
        self.data: Any = file.data
        for old, new in MOVED.items():
            self._move(_PIECES.findall(old), _PIECES.findall(new))

    # -- fields with another name in the same section ------------------------------------------------------------
    def in_sections(self, model: type[Section], raw: Any, path: PathKey) -> Any:
        """A section's values under today's names, with all that is below them."""
        if not isinstance(raw, dict):
            return raw
        shape, former = members(model), former_names(model)
        out: dict[str, Any] = {}
        key: str
        for key, value in raw.items():
            name: str = former.get(key, key)
            if name != key:
                if name in raw or name in out:
                    self._refuse((*path, key), (*path, name))
                    continue
                self.steps.append(Step((*path, key), (*path, name), (model, key)))
            member = shape.get(name)
            out[name] = value if member is None else self._below(member, value, (*path, name))
        return out

    def _below(self, member: Member, value: Any, path: PathKey) -> Any:
        model = member.model
        if model is None:
            return value
        if member.role == "part":
            return self.in_sections(model, value, path)
        if member.role == "parts" and isinstance(value, dict):
            return {key: self.in_sections(model, below, (*path, key)) for key, below in value.items()}
        if member.role == "items" and isinstance(value, list):
            return [self.in_sections(model, below, (*path, index)) for index, below in enumerate(value)]
        return value

    # -- fields that went to another section ---------------------------------------------------------------------
    def _move(self, old: list[str], new: list[str]) -> None:
        """Move what stands at a pattern, counted from the spec."""
        depth = len(self.part)
        if len(old) <= depth or not all(
            want in _ANY or want == have for want, have in zip(old, self.part, strict=False)
        ):
            return
        named = [have for want, have in zip(old, self.part, strict=False) if want in _ANY]
        for found, names in list(_found(self.data, old[depth:])):
            every = iter([*named, *names])
            target: PathKey = tuple(next(every) if piece in _ANY else piece for piece in new)
            if self.data is self.file.data:
                self.data = copy.deepcopy(self.data)
            if target[:depth] != self.part:
                self.strays.append(Stray(target, found, _taken(self.data, found)))
            elif not self._put(found, target[depth:], ".".join(old)):
                continue
            self._drop_emptied(found[:-1])

    def _put(self, old: PathKey, new: PathKey, declared: str) -> bool:
        """Take a value to its new path; whether it is taken away from the old one."""
        node: Any = self.data
        for key in new[:-1]:
            if isinstance(node, dict):
                node = node.get(key, {})
            else:
                node = node[key] if isinstance(node, list) and isinstance(key, int) and key < len(node) else None
        if not isinstance(node, dict):
            return False  # what holds it is no table: that is told of the new name
        value = _taken(self.data, old)
        if new[-1] in node:
            self._refuse(old, new)
            return True
        put_at(self.data, new, value)
        self.steps.append(Step(old, new, declared))
        return True

    def _drop_emptied(self, path: PathKey) -> None:
        while path and not _known(self.model, path) and _at(self.data, path) == {}:
            _taken(self.data, path)
            self.steps.append(Step(path, None, path))
            path = path[:-1]

    def _refuse(self, old: PathKey, new: PathKey) -> None:
        """Say that a field is stated under both names, at the second of them."""
        if len(self.errors) >= MOST:
            return
        before = path_before(self.steps, old)
        places = self._place(before), self._place(path_before(self.steps, new))
        first, second = sorted(places, key=lambda place: (place.line, place.column))
        what = (
            f"{path_text(before)} is what {path_text(new)} was called before, and both are stated, "
            f"here and in line {first.line}: keep one of them"
        )
        self.errors.append(SpecError(what, second.file, second.line, second.column))

    def _place(self, path: PathKey) -> Place:
        return self.file.place_of(path, want_key=True)


def path_before(steps: Sequence[Step], path: PathKey) -> PathKey:
    """Where what stands at a path after some steps stood before them."""
    for step in reversed(steps):
        if step.new is not None and path[: len(step.new)] == step.new:
            path = (*step.old, *path[len(step.new) :])
    return path


def names_before(steps: Sequence[Step]) -> dict[PathKey, str]:
    """What is called otherwise after steps within tables: the path of each key before them, and its new name."""
    before: dict[PathKey, str | int] = {}
    out: dict[PathKey, str] = {}
    for step in steps:
        if step.new is not None:
            path = tuple(before.get(step.old[: depth + 1], key) for depth, key in enumerate(step.old))
            before[step.new] = path[-1]
            out[path] = str(step.new[-1])
    return out


def _path_after(taken: Mapping[PathKey, tuple[int, PathKey]], path: PathKey) -> PathKey:
    """Where what stands at a path of the file stands after all steps."""
    at: PathKey = ()
    last = -1
    for key in path:
        at = (*at, key)
        while at in taken and taken[at][0] > last:
            last, at = taken[at]
    return at


def put_at(data: Any, path: PathKey, value: Any) -> None:
    """Put a value at a path, with the tables that lead there."""
    for key in path[:-1]:
        data = data.setdefault(key, {}) if isinstance(data, dict) else data[key]
    data[path[-1]] = value


def _found(node: Any, pattern: list[str], path: PathKey = ()) -> Iterator[tuple[PathKey, list[str | int]]]:
    """What stands at a pattern: each path, and what the stars in it stand for."""
    if not pattern:
        yield path, []
        return
    head, *rest = pattern
    keys: Iterable[str | int] = ()
    if head not in _ANY:
        keys = [head] if isinstance(node, dict) and head in node else ()
    elif isinstance(node, dict | list):
        keys = node.keys() if isinstance(node, dict) else range(len(node))
    for key in keys:
        for found, names in _found(node[key], rest, (*path, key)):
            yield found, [key, *names] if head in _ANY else names


def _taken(data: Any, path: PathKey) -> Any:
    """What stands at a path, taken away from there."""
    holder = _at(data, path[:-1])
    value = holder[path[-1]]
    del holder[path[-1]]
    return value


def _at(data: Any, path: PathKey) -> Any:
    for key in path:
        data = data[key]
    return data


def _known(model: type[Section], path: PathKey) -> bool:
    """Whether there is still such a table."""
    shape: type[Section] | None = model
    named = False
    for key in path:
        if named:
            named = False
            continue
        member = members(shape).get(str(key)) if shape is not None else None
        if member is None:
            return False
        shape, named = member.model, member.role in ("parts", "items")
    return True


def _moved_pieces(pieces: list[str], old: list[str], new: list[str]) -> list[str]:
    """The pieces of a path, moved where it begins with an old pattern."""
    head, rest = pieces[: len(old)], pieces[len(old) :]
    if len(head) < len(old) or not all(w in _ANY or w == have for w, have in zip(old, head, strict=True)):
        return pieces
    names = iter([have for want, have in zip(old, head, strict=True) if want in _ANY])
    return [*(next(names) if piece in _ANY else piece for piece in new), *rest]


def _joined(pieces: Iterable[str]) -> str:
    return re.sub(r"\.\[", "[", ".".join(pieces))
