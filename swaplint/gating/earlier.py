"""An earlier inspection to compare with: a report that was kept, or another spec inspected as today's is."""

from __future__ import annotations

import functools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from swaplint.inspecting.baseline import Was
from swaplint.inspecting.results import Finding, Inspection
from swaplint.spec.facts import FieldFacts, Stated
from swaplint.spec.fields import Section
from swaplint.spec.paths import path_key, path_text
from swaplint.spec.shape import facts_at, members
from swaplint.units.output import in_unit


class Value(NamedTuple):
    """A stated value in the unit of its field."""

    value: float | str | bool
    unit: str
    tol: float
    basis: str
    written: str

    def same_as(self, other: Value) -> bool:
        """Whether nothing that a rule reads differs. In another unit nobody can tell, and it counts as the same."""
        if self.unit != other.unit:
            return True
        return _alike(self.value, other.value) and _alike(self.tol, other.tol, 1e-6) and self.basis == other.basis


def _alike(one: float | str | bool, other: float | str | bool, share: float = 1e-9) -> bool:
    if isinstance(one, bool | str) or isinstance(other, bool | str):
        return type(one) is type(other) and one == other
    return abs(one - other) <= share * max(abs(one), abs(other))


@dataclass(slots=True)
class EarlierSpec:
    """What is known of one spec of an earlier inspection."""

    label: str
    stage: str
    results: list[Was] = field(default_factory=list)
    values: Mapping[str, Value] = field(default_factory=dict)
    """The stated fields: all of a spec, those that the results rest on of a report."""
    whole: bool = False
    """Whether those are all stated fields."""
    hashes: frozenset[str] = frozenset()
    """The hashes of the files that it was read from."""
    partial: bool = False
    """Whether results without anything wrong are left out."""


@dataclass(slots=True)
class EarlierReport:
    """A report of `inspect` that was kept."""

    file: str
    version: str = ""
    packs: Mapping[str, str] = field(default_factory=dict)
    """The version of each pack."""
    specs: dict[str, EarlierSpec] = field(default_factory=dict)

    def of(self, label: str) -> tuple[EarlierSpec | None, bool]:
        """What it holds to compare a spec with, and whether that is the same spec by its path.

        The same report may have been made in another folder: the end of a path is enough where it leaves no choice. A
        report of a single spec can be compared with any other.
        """
        here = _pieces(label)
        ends = []
        for one in self.specs.values():
            there = _pieces(one.label)
            if there == here:
                return one, True
            shorter = min(len(here), len(there))
            if here[-shorter:] == there[-shorter:]:
                ends.append(one)
        if len(ends) == 1:
            return ends[0], True
        return (next(iter(self.specs.values())), False) if len(self.specs) == 1 else (None, False)


def _pieces(label: str) -> list[str]:
    return [piece for piece in label.replace("\\", "/").split("/") if piece not in ("", ".")]


# -- another spec ------------------------------------------------------------------------------------------------
def earlier_of(inspection: Inspection) -> EarlierSpec:
    """An inspection as one to compare with."""
    spec = inspection.spec
    return EarlierSpec(
        spec.label,
        inspection.stage,
        [was_of(finding) for finding in inspection.findings],
        values_of(spec.build),
        whole=True,
        hashes=frozenset(file.sha256 for file in spec.files()),
    )


def was_of(finding: Finding) -> Was:
    """A finding as one to compare with."""
    return Was(
        *finding.key,
        kind=finding.kind,
        level=finding.level,
        rule_level=finding.rule_level,
        due=finding.due,
        found=None if finding.found is None else in_unit(finding.found, finding.quantity, finding.unit),
        unit=finding.unit,
        margin=finding.margin,
        subject=finding.subject,
        message=finding.message,
        accepted=finding.suppression is not None,
        inputs=finding.inputs,
        unknown=finding.unknown,
    )


def values_of(build: Section) -> dict[str, Value]:
    """Every field that a build states."""
    return {path: value_of(stated, facts_at(type(build), path)) for path, stated in _stated(build, ())}


def _stated(at: object, keys: tuple[str | int, ...]) -> Iterator[tuple[str, Stated]]:
    if isinstance(at, Stated):
        yield path_text(keys), at
    elif isinstance(at, Section):
        for name in members(type(at)):
            yield from _stated(getattr(at, name), (*keys, name))
    elif isinstance(at, Mapping):
        for name, below in at.items():
            yield from _stated(below, (*keys, name))
    elif isinstance(at, list):
        for index, below in enumerate(at):
            yield from _stated(below, (*keys, index))


def value_of(stated: Stated, facts: FieldFacts | None) -> Value:
    """A stated value in the unit of its field."""
    basis = stated.basis or ""
    if facts is None or facts.kind is None or isinstance(stated.value, bool | str):
        return Value(stated.value, "", stated.tol, basis, stated.written)
    number = in_unit(stated.value, facts.kind_name, facts.unit)
    upper, lower = (in_unit(stated.value + step, facts.kind_name, facts.unit) for step in (stated.tol, -stated.tol))
    return Value(number, facts.unit, (upper - lower) / 2 if stated.tol else 0.0, basis, stated.written)


# -- parts of a kind ---------------------------------------------------------------------------------------------
class Place(NamedTuple):
    """A path as what it is within one of several parts of a kind."""

    collection: str
    name: str
    """The part's name; of an item of a list its number in brackets."""
    field: str
    """What is left of the path below the part."""


@functools.lru_cache(maxsize=16384)
def place_in_collection(model: type[Section], path: str) -> Place | None:
    """The part of several of a kind that a path leads to or into; None where it leads to no such part."""
    try:
        keys = path_key(path)
    except ValueError:
        return None
    shape: type[Section] | None = model
    for depth, key in enumerate(keys):
        member = members(shape).get(str(key)) if shape is not None else None
        if member is None:
            return None
        if member.role in ("parts", "items"):
            if depth + 1 >= len(keys):
                return None
            name = keys[depth + 1]
            below = path_text(keys[depth + 2 :]) if len(keys) > depth + 2 else ""
            return Place(path_text(keys[: depth + 1]), f"[{name + 1}]" if isinstance(name, int) else name, below)
        shape = member.model
    return None


def part_path(collection: str, name: str) -> str:
    """The path of one of several parts of a kind."""
    return f"{collection}{name}" if name.startswith("[") else f"{collection}.{name}"
