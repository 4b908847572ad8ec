"""The shape of a section: what stands under each of its keys. Worked out once per model and kept."""

from __future__ import annotations

import functools
import typing
from collections.abc import Iterator, Mapping
from typing import Any, Literal, NamedTuple

from swaplint.spec.facts import FieldFacts, ListOf, Stated, WhenEmpty
from swaplint.spec.fields import Section
from swaplint.spec.paths import path_key, without_conditions

Role = Literal["plain", "plain-list", "part", "parts", "items"]


NOT_SAID = WhenEmpty()


class Member(NamedTuple):
    """What stands under one key of a section."""

    name: str
    role: Role
    description: str
    facts: FieldFacts | None = None
    """For plain values and lists of them."""
    model: type[Section] | None = None
    """For a part, named parts and items: the model of each."""
    when_empty: WhenEmpty = NOT_SAID
    """For named parts and items: what it means that there are none."""


@functools.cache
def members(model: type[Section]) -> dict[str, Member]:
    """The members of a section by key, in the order of declaration."""
    out: dict[str, Member] = {}
    for name, info in model.model_fields.items():
        description = info.description or ""
        entry = next((m for m in info.metadata if isinstance(m, FieldFacts | ListOf)), None)
        if isinstance(entry, FieldFacts):
            out[name] = Member(name, "plain", description, entry)
        elif isinstance(entry, ListOf):
            out[name] = Member(name, "plain-list", description, entry.item)
        else:
            when_empty = next((m for m in info.metadata if isinstance(m, WhenEmpty)), NOT_SAID)
            out[name] = _nested(name, info.annotation, description, when_empty)
    return out


def _nested(name: str, annotation: object, description: str, when_empty: WhenEmpty) -> Member:
    if isinstance(annotation, type) and issubclass(annotation, Section):
        return Member(name, "part", description, model=annotation)
    origin, arguments = typing.get_origin(annotation), typing.get_args(annotation)
    if origin is dict and issubclass(arguments[1], Section):
        return Member(name, "parts", description, model=arguments[1], when_empty=when_empty)
    if origin is list and issubclass(arguments[0], Section):
        return Member(name, "items", description, model=arguments[0], when_empty=when_empty)
    raise TypeError(f"{name}: {annotation!r} is not a Section, dict[str, Section] or list[Section], and has no facts")


def every_field(model: type[Section], prefix: str = "") -> Iterator[tuple[str, Member]]:
    """Every plain field below a section, with its path; `*` stands for a part's name, `[]` for an item's number."""
    for name, member in members(model).items():
        path = f"{prefix}.{name}" if prefix else name
        if member.role in ("plain", "plain-list"):
            yield path, member
        else:
            assert member.model is not None
            yield from every_field(member.model, path + {"part": "", "parts": ".*", "items": "[]"}[member.role])


def standing_at(section: Section | None, path: str) -> Any:
    """What a section states at a path below it: a value, a list or a part; None where it states nothing there."""
    at: Any = section
    for key in path_key(path):
        if isinstance(at, Section):
            at = getattr(at, str(key), None)
        elif isinstance(at, Mapping):
            at = at.get(key)
        else:
            at = at[key] if isinstance(at, list) and isinstance(key, int) and key < len(at) else None
    return at


def stated_at(section: Section | None, path: str) -> Stated | None:
    """The value of a plain field that a section states at a path below it."""
    at = standing_at(section, path)
    return at if isinstance(at, Stated) else None


def stated_below(section: Section) -> dict[str, Stated]:
    """The values of all plain fields that a section states, at whatever depth, by their paths below it."""
    found: dict[str, Stated] = {}
    _gather(section, "", found)
    return found


def _gather(at: Any, path: str, found: dict[str, Stated]) -> None:
    if isinstance(at, Stated):
        found[path] = at
    elif isinstance(at, Section):
        for name, below in vars(at).items():
            if below is not None:
                _gather(below, f"{path}.{name}" if path else name, found)
    elif isinstance(at, Mapping):
        for key, below in at.items():
            _gather(below, f"{path}.{key}", found)
    elif isinstance(at, list):
        for number, below in enumerate(at, 1):
            _gather(below, f"{path}[{number}]", found)


@functools.lru_cache(maxsize=8192)
def facts_at(model: type[Section], path: str) -> FieldFacts | None:
    """The facts of the plain field at a path or pattern; None for a part or a path that does not exist."""
    shape: type[Section] | None = model
    facts: FieldFacts | None = None
    named = False
    for piece in without_conditions(path).split("."):
        if named:
            named = False
            continue
        member = members(shape).get(piece.partition("[")[0]) if shape is not None else None
        if member is None:
            return None
        shape, facts, named = member.model, member.facts, member.role == "parts"
    return facts


def pattern_at(model: type[Section], path: str) -> tuple[str, Member | None]:
    """A path for every part alike, `*` for a part's name and `[]` for an item, and what stands there; None for nothing.

    >>> from swaplint.spec.model import Build
    >>> pattern_at(Build, "driveline.axles.rear.ratio")[0], pattern_at(Build, "driveline.gearbox.ratios[2]")[0]
    ('driveline.axles.*.ratio', 'driveline.gearbox.ratios[]')
    """
    shape: type[Section] | None = model
    pieces: list[str] = []
    member = None
    want_name = False
    for key in path_key(path):
        if isinstance(key, int):
            continue
        if want_name:
            want_name = False
            continue
        member = members(shape).get(key) if shape is not None else None
        if member is None:
            return path, None
        pieces.append(key + {"parts": ".*", "items": "[]", "plain-list": "[]"}.get(member.role, ""))
        shape, want_name = member.model, member.role == "parts"
    return ".".join(pieces), member


_SYSTEMS_PACKAGE = "swaplint.spec.systems."


def system_of(model: type[Section]) -> str:
    """The system whose module declares a section; empty for the job itself and for sections of rule packs.

    >>> from swaplint.spec.systems.gearing import Gearbox
    >>> system_of(Gearbox)
    'gearing'
    """
    module = model.__module__
    return module.removeprefix(_SYSTEMS_PACKAGE).split(".", 1)[0] if module.startswith(_SYSTEMS_PACKAGE) else ""
