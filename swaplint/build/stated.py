"""What the spec states, whoever asks for it: for rules about the spec itself, such as one about slips of the pen.

A rule about the build reads typed attributes, and each read is a line that its finding rests on. A rule that looks
at every stated value must not rest on all of them: it lists them here, unrecorded, and reads the few that it speaks
of with `value_at`.
"""

from __future__ import annotations

import functools
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, cast

from swaplint.build.added import system_or_none
from swaplint.build.nodes import Parts
from swaplint.build.reading import given, view_of
from swaplint.build.view import View
from swaplint.spec.facts import FieldFacts, Stated
from swaplint.spec.fields import Part, Section
from swaplint.spec.model import Build
from swaplint.spec.paths import path_key
from swaplint.spec.shape import members, stated_at

StatedField = tuple[str, Stated, FieldFacts]
"""A field path, the value stated there and the facts of the field."""


def stated_values(build: Build, system: str) -> Sequence[StatedField]:
    """Every value that the spec and its data sheets state in a system's fields, in the order of the model.

    Nothing is recorded as read, but that all may have been. Parts that are stated as not fitted are left out. `system`
    is one of the systems of the job, or empty for the fields that belong to none: the job, the identity of vehicle and
    engine, the sections of rule packs.
    """
    view = view_of(build)
    fields = _by_system(view).get(system, {})
    reads = view.reads()
    reads.begun("listed").update(dict.fromkeys(fields))
    reads.all_stated |= {system}
    return tuple(fields.values())


def declared_fields(system: str) -> Sequence[tuple[str, FieldFacts]]:
    """Every plain field of a system as the build spec declares it; `*` stands for a part's name, `[]` for an item."""
    return _declared_by_system().get(system, ())


def value_at(build: Build, path: str) -> Any:
    """Read the field at a path as if by its attributes: recorded, in SI. Raises as such a read does."""
    node: Any = build
    for key in path_key(path):
        collection = isinstance(node, Parts | tuple)
        node = cast(Any, node)[key] if collection else getattr(node, str(key))
    return node


def as_stated(build: Build, path: str) -> Stated | None:
    """The value at a path with its tolerance and its basis, where the spec or a sheet states it. It counts as read."""
    if given(lambda: value_at(build, path)) is None:
        return None
    view = view_of(build)
    return view.stated(path, stated_at(view.build_model, path))


@functools.cache
def _declared_by_system() -> dict[str, list[tuple[str, FieldFacts]]]:
    found: dict[str, list[tuple[str, FieldFacts]]] = {}
    _declare(Build, "", found)
    return found


_MARKS = {"parts": ".*", "items": "[]", "plain-list": "[]"}


def _declare(model: type[Section], path: str, found: dict[str, list[tuple[str, FieldFacts]]]) -> None:
    """Add the fields of a section, and of all below it, to those of their systems."""
    own = found.setdefault(system_or_none(model), [])
    for name, member in members(model).items():
        here = f"{path}.{name}" if path else name
        here += _MARKS.get(member.role, "")
        if member.facts is not None:
            own.append((here, member.facts))
        else:
            _declare(cast(type[Section], member.model), here, found)


_BySystem = dict[str, dict[str, StatedField]]
"""The stated fields of each system, by path."""


def _by_system(view: View) -> _BySystem:
    known: _BySystem | None = view.kept.get("stated")
    if known is None:
        known = view.kept["stated"] = _listed(view)
    return known


def _listed(view: View) -> _BySystem:
    if view.unchanged is not None:
        return _after_changes(view, view.unchanged)
    before, now = view.kept.pop("stated before", (None, {}))
    return (_replaced(now, before) if before is not None else None) or _walked(view)


def _after_changes(view: View, before: View) -> _BySystem:
    """The same fields with the values that a view changes, walked again where it may change which fields there are."""
    found = _replaced(view.changes, _by_system(before))
    if found is None and all(view.changes.values()):
        # Fields that get a value: which there are then does not depend on the values, but for whether a part is fitted,
        # and is walked once for all.
        values = {path: new for path, new in view.changes.items() if not path.endswith(".fitted")}
        fitted = {path: new for path, new in view.changes.items() if path not in values}
        key = ("stated", *sorted(values), *sorted(fitted.items()))
        if key not in before.kept:
            before.kept[key] = _walked(view)
        found = _replaced(values, before.kept[key])
    return found or _walked(view)


KEPT_SECTIONS = 100_000
"""How many sections are kept as they were walked: more than any build has, but some were in builds before it."""


def _walked(view: View) -> _BySystem:
    above = frozenset(start for path in view.changes for start in _starts(path))
    known = _as_it_stands(view)
    found = _walk(view, type(view.build_model), view.build_model, "", above, known)
    if len(known) > KEPT_SECTIONS:
        known.clear()
    return found


_Known = dict[str, tuple[Section | None, _BySystem]]
"""What stands in sections in which no view changes anything, by path, each with the section in which it stood there.

Walked once for all views of a build, and for all builds that follow it in what they have in common.
"""


def _as_it_stands(view: View) -> _Known:
    while view.unchanged is not None:
        view = view.unchanged
    if view.changes:
        return {}
    known: _Known = view.kept.setdefault("stated in sections", {})
    return known


def _replaced(changes: Mapping[str, Stated | None], before: _BySystem) -> _BySystem | None:
    """The same fields with other values in some; None where that may change which fields there are."""
    found = dict(before)
    for path, new in changes.items():
        system = next((name for name, fields in before.items() if path in fields), None)
        if system is None or path.endswith(".fitted"):
            return None
        if found[system] is before[system]:
            found[system] = dict(before[system])
        if new is None:
            del found[system][path]
        else:
            found[system][path] = (path, new, before[system][path][2])
    return found


def _starts(path: str) -> Iterator[str]:
    """A path and those of all that stands above it."""
    return (path[:end] for end in (*(at for at, mark in enumerate(path) if mark in ".["), len(path)))


def _walk(
    view: View, model: type[Section], raw: Section | None, path: str, above: frozenset[str], known: _Known
) -> _BySystem:
    """The stated fields of a section and of all below it; `above` is what the view changes, or holds what it does."""
    if not path or path in above:
        return _walk_anew(view, model, raw, path, above, known)
    before = known.get(path)
    if before is None or before[0] is not raw:
        before = known[path] = raw, _walk_anew(view, model, raw, path, above, known)
    return before[1]


def _walk_anew(
    view: View, model: type[Section], raw: Section | None, path: str, above: frozenset[str], known: _Known
) -> _BySystem:
    found: _BySystem = {}
    own = found[system_or_none(model)] = {}
    if issubclass(model, Part):
        fitted = view.stated(f"{path}.fitted", getattr(raw, "fitted", None))
        if fitted is not None and fitted.value is False:
            return found
    for name, member in members(model).items():
        here = f"{path}.{name}" if path else name
        below = getattr(raw, name, None)
        if below is None and here not in above:
            continue
        if member.role == "plain":
            stated = view.stated(here, below)
            if stated is not None:
                own[here] = here, stated, cast(FieldFacts, member.facts)
        elif member.role == "part":
            _add(found, _walk(view, cast(type[Section], member.model), below, here, above, known))
        elif below is not None and view.changes.get(here, below) is not None:
            pairs = below.items() if isinstance(below, dict) else enumerate(below, 1)
            for key, child in pairs:
                at = f"{here}.{key}" if isinstance(below, dict) else f"{here}[{key}]"
                if member.role == "plain-list":
                    stated = view.stated(at, child)
                    if stated is not None:
                        own[at] = at, stated, cast(FieldFacts, member.facts)
                else:
                    _add(found, _walk(view, cast(type[Section], member.model), child, at, above, known))
    return found


def _add(found: _BySystem, below: _BySystem) -> None:
    for system, fields in below.items():
        if fields:
            found.setdefault(system, {}).update(fields)
