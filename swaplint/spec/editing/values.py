"""Values and keys as TOML writes them, what a change makes of read values, and whether two values are the same."""

from __future__ import annotations

import datetime
import re
from collections.abc import Mapping
from enum import Enum
from typing import Any, Final, TypeGuard

from swaplint.spec.paths import path_text
from swaplint.spec.toml_source import MAX_NESTING, PathKey


class EditError(ValueError):
    """A sentence that says why an edit cannot be made."""


class Removed(Enum):
    """What stands for a value that is taken away."""

    REMOVED = "removed"


REMOVED: Final = Removed.REMOVED

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_SPECIAL = re.compile(r'["\\\x00-\x1f\x7f]')
_SHORT = {'"': '\\"', "\\": "\\\\", "\b": "\\b", "\t": "\\t", "\n": "\\n", "\f": "\\f", "\r": "\\r"}
_NOT_LITERAL = re.compile(r"['\x00-\x08\x0a-\x1f\x7f]")


def key_text(key: tuple[str, ...]) -> str:
    """A key as TOML writes it, its parts joined with dots.

    >>> key_text(("engine", "bore x stroke"))
    'engine."bore x stroke"'
    """
    return ".".join(part if _BARE.fullmatch(part) else _string(part) for part in key)


def written(value: object, like: str = "", depth: int = 0) -> str:
    """A value as TOML writes it, on one line. A string takes the quotes of `like`, what stood there, if it can.

    >>> written({"value": "1810 kg", "basis": "measured"})
    '{ value = "1810 kg", basis = "measured" }'
    """
    if depth > MAX_NESTING:
        raise EditError(f"the value is nested more than {MAX_NESTING} deep")
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            literal = like.startswith("'") and not like.startswith("'''") and not _NOT_LITERAL.search(value)
            return f"'{value}'" if literal else _string(value)
        case int():
            if not -(2**63) <= value < 2**63:
                raise EditError("an integer of more than 64 bits is not for a TOML file")
            return str(int(value))
        case float():
            return repr(float(value))
        case datetime.datetime() | datetime.date():
            return value.isoformat()
        case datetime.time():
            if value.tzinfo is not None:
                raise EditError("a time of day without a date has no time zone in TOML")
            return value.isoformat()
        case list():
            return f"[{', '.join(written(item, '', depth + 1) for item in value)}]"
        case dict():
            pairs = [f"{key_text((_name(key),))} = {written(item, '', depth + 1)}" for key, item in value.items()]
            return f"{{ {', '.join(pairs)} }}" if pairs else "{}"
    raise EditError(f"a value of the kind {type(value).__name__} is nothing that TOML can hold")


def _name(key: object) -> str:
    if not isinstance(key, str):
        raise EditError(f"the key {key!r} is no text")
    return key


def _string(text: str) -> str:
    return '"' + _SPECIAL.sub(lambda m: _SHORT.get(m.group()) or f"\\u{ord(m.group()):04X}", text) + '"'


def same(one: object, other: object) -> bool:
    """Whether two values are the same in kind and content. 1, 1.0 and true differ; the order of keys does not count."""
    match one, other:
        case dict(), dict():
            return one.keys() == other.keys() and all(same(one[key], other[key]) for key in one)
        case list(), list():
            return len(one) == len(other) and all(map(same, one, other))
        case (bool(), bool()) | (str(), str()):
            return one == other
        case (bool(), _) | (_, bool()):
            return False
        case int(), int():
            return one == other
        case float(), float():
            return repr(float(one)) == repr(float(other))  # tells 0.0 from -0.0; takes nan for nan
    if isinstance(one, datetime.datetime) and isinstance(other, datetime.datetime):
        return one.isoformat() == other.isoformat()  # not the same instant in another zone
    return type(one) is type(other) and one == other


def unlike(old: list[Any], new: list[Any]) -> tuple[int, int, int]:
    """Where two lists begin to differ, and where each of them ceases to.

    >>> unlike([1, 2, 3, 4], [1, 7, 8, 9, 4])
    (1, 3, 4)
    """
    shorter = min(len(old), len(new))
    first = next((i for i in range(shorter) if not same(old[i], new[i])), shorter)
    alike = next((i for i in range(shorter - first) if not same(old[-1 - i], new[-1 - i])), shorter - first)
    return first, len(old) - alike, len(new) - alike


def value_in(data: object, path: PathKey) -> Any:
    """The value at `path`, or `REMOVED` where there is none."""
    node: Any = data
    for part in path:
        if isinstance(node, dict):
            if part not in node:
                return REMOVED
        elif not (isinstance(node, list) and isinstance(part, int) and 0 <= part < len(node)):
            return REMOVED
        node = node[part]
    return node


def changed_data(data: object, path: PathKey, value: object, done: int = 0) -> Any:
    """`data` with the value at `path` set or taken away, a copy as far as it differs. Refuses what makes no sense."""
    if done == len(path):
        return value
    part, here = path[done], path_text(path[:done]) or "the file"
    if isinstance(part, str):
        if not isinstance(data, dict):
            kind = "a list, whose items have numbers" if isinstance(data, list) else "a single value, no table"
            raise EditError(f"{here} is {kind}: '{part}' cannot stand in it")
        if part in data:
            child = changed_data(data[part], path, value, done + 1)
        elif value is REMOVED:
            raise EditError(f"there is no {path_text(path)} to take away")
        else:
            child = wrapped(path[done + 1 :], value)
        return {k: v for k, v in {**data, part: child}.items() if v is not REMOVED}
    if not isinstance(data, list):
        raise EditError(f"{here} is no list: it has no item {part + 1}")
    if part < 0:
        raise EditError("the items of a list are counted from its beginning")
    if part > len(data) or (part == len(data) and value is REMOVED):
        raise EditError(f"{here} has {len(data)} item{'s' if len(data) != 1 else ''}: there is no item {part + 1}")
    if part == len(data):
        return [*data, wrapped(path[done + 1 :], value)]
    child = changed_data(data[part], path, value, done + 1)
    return [*data[:part], *([] if child is REMOVED else [child]), *data[part + 1 :]]


def wrapped(path: PathKey, value: object) -> Any:
    """What holds nothing but `value` at `path`.

    >>> wrapped(("cables", 0, "size"), "50 mm2")
    {'cables': [{'size': '50 mm2'}]}
    """
    for part in reversed(path):
        if isinstance(part, int) and part != 0:
            raise EditError(f"there is no list yet: its first item comes before item {part + 1}")
        value = [value] if isinstance(part, int) else {part: value}
    return value


def is_list_of_tables(value: object) -> TypeGuard[list[dict[str, Any]]]:
    """Whether a value can be written as `[[headers]]`."""
    return isinstance(value, list) and bool(value) and all(isinstance(item, dict) for item in value)


def keys_before_index(path: PathKey, value: object) -> tuple[tuple[str, ...], Any]:
    """The keys of `path` before its first index, and what then has to stand there."""
    keys: tuple[str, ...] = ()
    for part in path:
        if isinstance(part, int):
            break
        keys += (part,)
    return keys, wrapped(path[len(keys) :], value)


def emptied(data: Mapping[str, Any], path: PathKey) -> bool:
    """Whether the table or list around `path` holds nothing else; never true of `data` itself."""
    return len(path) > 1 and len(value_in(data, path[:-1])) == 1
