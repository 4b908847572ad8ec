"""What differs between two builds: the fields that a rule could read differently in the one and in the other."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import zip_longest

from swaplint.spec.fields import Section
from swaplint.spec.shape import Member, members


def differences(one: Section, other: Section) -> set[str]:
    """The paths of all fields that differ between two builds of one model.

    Of a list of values or parts the list itself is named where the number, the names or their order differ. Of a part
    that only one of the builds states, `fitted` is named: with it everything in that part may read differently.
    """
    if type(one) is not type(other):
        raise TypeError(f"a {type(one).__name__} cannot be compared with a {type(other).__name__}")
    found: set[str] = set()
    _compare(type(one), one, other, "", found)
    return found


def _compare(model: type[Section], one: Section | None, other: Section | None, path: str, found: set[str]) -> None:
    ones, others = _values(one), _values(other)
    for name, member in members(model).items():
        here, there = ones.get(name), others.get(name)
        if here is not there:
            _compare_member(member, here, there, f"{path}.{name}" if path else name, found)


def _compare_member(member: Member, one: object, other: object, path: str, found: set[str]) -> None:
    if member.model is None:
        if one != other:
            found.add(path)
    elif member.role == "part":
        _compare_part(member.model, _section(one), _section(other), path, found)
    elif member.role == "parts":
        ones, others = _mapping(one), _mapping(other)
        if one is None or other is None or list(ones) != list(others):
            found.add(path)
        for name in ones.keys() | others.keys():
            _compare_part(member.model, ones.get(name), others.get(name), f"{path}.{name}", found)
    else:
        rows = list(zip_longest(_sequence(one), _sequence(other)))
        if one is None or other is None or any(None in row for row in rows):
            found.add(path)
        for number, (here, there) in enumerate(rows, 1):
            _compare_part(member.model, here, there, f"{path}[{number}]", found)


def _compare_part(model: type[Section], one: Section | None, other: Section | None, path: str, found: set[str]) -> None:
    if one is None or other is None:
        found.add(f"{path}.fitted")
    _compare(model, one, other, path, found)


def _values(section: Section | None) -> Mapping[str, object]:
    return {} if section is None else section.__dict__


def _section(value: object) -> Section | None:
    return value if isinstance(value, Section) else None


def _mapping(value: object) -> Mapping[str, Section]:
    return value if isinstance(value, Mapping) else {}


def _sequence(value: object) -> Sequence[Section]:
    return value if isinstance(value, list) else ()
