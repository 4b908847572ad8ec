"""The record of what a rule or a quantity read."""

from __future__ import annotations

from collections.abc import Set
from typing import Any, Literal
from weakref import WeakValueDictionary

MANY = 200
"""From how many fields on they are held by several records together, rather than by each: on a build of ordinary size
nothing reads so many."""


class Many:
    """Many fields that were read together: there is one for all records that read the same."""

    __slots__ = ("__weakref__", "fields")

    def __init__(self, fields: dict[str, None]) -> None:
        self.fields = fields

    @staticmethod
    def of(fields: dict[str, None]) -> Many:
        """The one that holds some fields, which are not added to from now on."""
        key = hash(frozenset(fields))
        known = _KNOWN.get(key)
        if known is None or known.fields != fields:
            known = _KNOWN[key] = Many(fields)
        return known


_KNOWN: WeakValueDictionary[int, Many] = WeakValueDictionary()


class _Held(dict[str, None]):
    """Many fields that can be done without: one for all records that hold the same, and never added to."""

    __slots__ = ("__weakref__",)


_ALL_HELD: WeakValueDictionary[int, _Held] = WeakValueDictionary()


def _held_once(fields: dict[str, None]) -> _Held:
    key = hash(frozenset(fields))
    known = _ALL_HELD.get(key)
    if known is None or known.keys() != fields.keys():
        known = _ALL_HELD[key] = _Held(fields)
    return known


def _with(held: tuple[Many, ...], more: tuple[Many, ...]) -> tuple[Many, ...]:
    """What is held, and what more there is: of 400 parts each may have asked all 400 the same."""
    if held is more or not held:
        return more
    there = set(held)
    new = [many for many in more if many not in there]
    return (*held, *new) if new else held


_Seldom = Literal["unknown", "practices", "estimates", "tried", "circular", "listed"]


class _Nothing(dict[str, Any]):
    """Nothing noted yet: the same for all records, and never added to."""

    def __setitem__(self, key: str, value: Any) -> None:
        raise TypeError("what is noted here is begun first")

    def update(self, *more: Any, **named: Any) -> None:
        """Refuse."""
        raise TypeError("what is noted here is begun first")


_NOTHING = _Nothing()


class Reads:
    """What was read while a rule or a quantity ran, in order, each once."""

    __slots__ = (
        "all_stated",
        "anything",
        "circular",
        "estimates",
        "few",
        "few_own",
        "lent",
        "listed",
        "optional",
        "practices",
        "quantities",
        "shared",
        "shared_own",
        "tried",
        "unknown",
        "uses",
    )

    def __init__(self) -> None:
        self.few: dict[str, None] = {}
        """The fields that were read, but for those that stand in `shared`."""
        self.shared: tuple[Many, ...] = ()
        """Fields that were read together with other records, which hold the same: all parts of a kind, say."""
        self.few_own: dict[str, None] = {}
        """Those of the fields that were read directly, and not only by a quantity that was used: some of them."""
        self.shared_own: tuple[Many, ...] = ()
        """The others."""
        self.quantities: dict[str, None] = {}
        """The ids of the quantities that were used, directly or by others."""
        self.uses: dict[str, Any] = {}
        """Those of the quantities that were used directly, each with its `Computed`."""
        self.unknown: dict[str, None] = _NOTHING
        """Fields that are not stated: what the rule lacks, or what a fallback stands in for."""
        self.optional: dict[str, None] = _NOTHING
        """Fields that the rule asked for and can do without, in no order. Added to by `note_optional` alone."""
        self.lent = True
        """Whether other records hold the same, and it must not be added to: of many parts alike each asks for all."""
        self.practices: dict[str, Any] = _NOTHING
        """The common-practice fallbacks that stood in for a missing value, by name."""
        self.estimates: dict[str, Any] = _NOTHING
        """The fields that an estimate stood in for, each with its `Estimated`, those that another rests on first."""
        self.tried: dict[str, None] = _NOTHING
        """What estimates that have no value asked for: whoever states it changes the answer."""
        self.circular: dict[str, None] = _NOTHING
        """Fields that count as unknown because they are being estimated: what was read so holds nowhere else."""
        self.listed: dict[str, None] = _NOTHING
        """Fields that were listed with all that a system states, and on whose values the answer may rest, too."""
        self.all_stated: frozenset[str] = frozenset()
        """The systems of which it matters which fields are stated at all."""
        self.anything = False
        """Whether the answer may rest on any field, because it is not known what was read for it."""

    def begun(self, name: _Seldom) -> dict[str, Any]:
        """What is noted of one kind, to be added to: most records have nothing of it, and hold none of their own."""
        notes: dict[str, Any] = getattr(self, name)
        if notes is _NOTHING:
            notes = {}
            setattr(self, name, notes)
        return notes

    @property
    def fields(self) -> dict[str, None]:
        """The fields that were read. To be looked at only: what is read is noted in `few`."""
        if not self.shared:
            return self.few
        fields = dict(self.few)
        for many in self.shared:
            fields.update(many.fields)
        return fields

    @property
    def own(self) -> dict[str, None]:
        """Those of the fields that were read directly, and not only by a quantity that was used."""
        own = dict(self.few_own)
        for many in self.shared_own:
            own.update(many.fields)
        return own

    def has_any(self, paths: Set[str]) -> bool:
        """Whether one of some fields was read."""
        if not self.few.keys().isdisjoint(paths):
            return True
        return bool(self.shared) and not all(many.fields.keys().isdisjoint(paths) for many in self.shared)

    def note_fields(self, other: Reads) -> None:
        """Note that all fields of another record were read here, too."""
        if other.shared or len(other.few) > MANY:
            if len(other.few) > MANY:  # from now on held by both, and added to by neither
                other.few, other.shared = {}, _with(other.shared, (Many.of(other.few),))
            self.shared = _with(self.shared, other.shared)
        self.few.update(other.few)

    def begin_with(self, other: Reads) -> None:
        """Note the fields of another record as those that were read first."""
        if len(other.few) <= MANY and not other.shared:
            self.few = {**other.few, **self.few}
        else:
            self.note_fields(other)

    def note_optional(self, path: str) -> None:
        """Note a field that can be done without."""
        if path in self.optional:
            return
        if self.lent:
            self.optional, self.lent = dict(self.optional), False
        self.optional[path] = None

    def _note_all_optional(self, other: Reads) -> None:
        held, theirs = self.optional, other.optional
        if not held:
            self.optional, self.lent, other.lent = theirs, True, True
        elif not self.lent and len(theirs) <= MANY:
            held.update(theirs)
        elif theirs.keys() <= held.keys():
            return
        elif held.keys() <= theirs.keys():
            self.optional, self.lent, other.lent = theirs, True, True
        else:
            both = {**held, **theirs}
            many = len(both) > MANY
            self.optional, self.lent = _held_once(both) if many else both, many

    def add(self, other: Reads) -> None:
        """Take over all that the record of a quantity holds, but for what only that one read directly."""
        if other.shared or len(other.few) > MANY:
            self.note_fields(other)
        else:
            self.few.update(other.few)
        if other.quantities:
            self.quantities.update(other.quantities)
        if other.unknown:
            self.begun("unknown").update(other.unknown)
        if other.optional and other.optional is not self.optional:
            self._note_all_optional(other)
        if other.practices:
            self.begun("practices").update(other.practices)
        if other.estimates:
            self.begun("estimates").update(other.estimates)
        if other.tried:
            self.begun("tried").update(other.tried)
        if other.circular:
            self.begun("circular").update(other.circular)
        if other.listed:
            self.begun("listed").update(other.listed)
        if other.all_stated:
            self.all_stated |= other.all_stated
        if other.anything:
            self.anything = True

    def take_over(self, other: Reads) -> None:
        """Take over another record whole, as if all of it had been read here."""
        self.add(other)
        if len(other.few_own) > MANY:
            other.few_own, other.shared_own = {}, _with(other.shared_own, (Many.of(other.few_own),))
        self.few_own.update(other.few_own)
        if other.shared_own:
            self.shared_own = _with(self.shared_own, other.shared_own)
        if other.uses:
            self.uses.update(other.uses)

    def add_as_optional(self, other: Reads) -> None:
        """The same for a quantity that has no value and that the rule can do without."""
        unknown = dict(self.unknown)
        self.add(other)
        self.unknown = unknown
        for path in other.unknown:
            self.note_optional(path)
