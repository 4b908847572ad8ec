"""Parts that got another name or number between two builds and are otherwise what they were, where that is certain."""

from __future__ import annotations

from collections.abc import Mapping

from swaplint.gating.earlier import Place, Value, part_path, place_in_collection
from swaplint.spec.fields import Section

LEAST_ALIKE = 2
"""From how many alike values on a part is known again."""

Contents = dict[str, Value]
Parts = dict[str, dict[str, Contents]]
"""The parts of each collection by name, each with its values."""


class Renamed:
    """Which parts of before are which of today."""

    def __init__(self, model: type[Section], before: Mapping[str, Value], now: Mapping[str, Value], *, whole: bool):
        """`before` and `now` are the values that two builds state; `whole` says whether the first are all of them."""
        self._model = model
        self._now: dict[tuple[str, str], str] = {}
        then, today = _parts(model, before), _parts(model, now)
        for collection, parts in then.items():
            found = _matched(parts, today.get(collection, {}), whole=whole)
            for old in parts:
                # An item that went must not be taken for the one that has its number now.
                if old in found or old in found.values():
                    self._now[collection, old] = found.get(old, f"(then {old.strip('[]')})")

    @property
    def pairs(self) -> list[tuple[str, str]]:
        """The paths of the parts that have another name or number now: before, and today."""
        moved = [(c, old, new) for (c, old), new in self._now.items() if old != new and not new.startswith("(")]
        return sorted((part_path(c, old), part_path(c, new)) for c, old, new in moved)

    def __call__(self, path: str) -> str:
        """Today's path of what stood at a path before."""
        place = place_in_collection(self._model, path)
        if place is None or (name := self._now.get(place[:2])) is None:
            return path
        return part_path(place.collection, name) + (f".{place.field}" if place.field else "")


def _parts(model: type[Section], values: Mapping[str, Value]) -> Parts:
    parts: Parts = {}
    for path, value in values.items():
        place: Place | None = place_in_collection(model, path)
        if place is not None:
            parts.setdefault(place.collection, {}).setdefault(place.name, {})[place.field] = value
    return parts


def _matched(then: Mapping[str, Contents], today: Mapping[str, Contents], *, whole: bool) -> dict[str, str]:
    """The name of today of each part of before that is one for certain.

    A name stands for the same part; the number of an item only where the same stands there, or where nothing else is
    left that the item could be.
    """
    found: dict[str, str] = {}
    for old, contents in then.items():
        same = old in today and (not old.startswith("[") or _same(contents, today[old], whole=whole))
        if same:
            found[old] = old
    left = {name: contents for name, contents in then.items() if name not in found}
    came = {name: contents for name, contents in today.items() if name not in found.values()}
    candidates = {old: [new for new in came if _same(left[old], came[new], whole=whole)] for old in left}
    for old, names in candidates.items():
        sought = [other for other in candidates if names and names[0] in candidates[other]]
        if len(names) == 1 and len(sought) == 1:
            found[old] = names[0]
    for old in left:
        if old.startswith("[") and old not in found and old in came and old not in found.values():
            found[old] = old
    return found


def _same(then: Contents, today: Contents, *, whole: bool) -> bool:
    if len(then) < LEAST_ALIKE or (whole and then.keys() != today.keys()):
        return False
    return all(field in today and value.same_as(today[field]) for field, value in then.items())
