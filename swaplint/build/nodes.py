"""The nodes of a build: what stands behind `build.engine.speed.rated` when a rule reads it.

A `Node` records each field that is read with the view that it is read for, ends the rule with `Unknown` at a field that
the spec does not state and with `NotFitted` at a part that the build does not have. Each view has nodes of its own, so
a node always answers for the view that it came from; what does not depend on the view, a `Spot` of the build with the
values that were read there once, is shared by views that differ in nothing but values.
"""

from __future__ import annotations

import functools
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Protocol

from swaplint.build.reads import Reads
from swaplint.spec.facts import NO_LIMIT, FieldFacts, Stated
from swaplint.spec.fields import Part, Section
from swaplint.spec.shape import Member, members, stated_at
from swaplint.units.value import Value


class Noticing(Protocol):
    """What a node asks of the view that it is read for."""

    changes: dict[str, Stated | None]
    imagined: dict[str, float]
    probing: bool
    stack: list[Reads]

    def reads(self) -> Reads:
        """The record being kept now."""

    def record(self, path: str) -> None:
        """Note that a field was read."""

    def stated(self, path: str, raw: Any) -> Stated | None:
        """The stated value of a plain field, after changes."""

    def missing(self, path: str, facts: FieldFacts | None, part: Any = None) -> Any:
        """A field that is not stated: estimated for the part that holds it, or unknown, or, when probing, typical."""

    def note_missing(self, path: str) -> None:
        """Note a field or part that is not stated."""

    def standing_in(self, name: str, value: float) -> float:
        """What stands in for a value that nobody states, by the name of the practice: that value, unless told."""


class Unknown(Exception):
    """A field that the rule needs is not stated."""

    def __init__(self, path: str, view: Noticing) -> None:
        """`path` names the field or part, `view` the view that was read."""
        super().__init__(path)
        self.path = path
        self.view = view


class NotFitted(Exception):
    """A part that the rule asks about is stated as not fitted."""

    def __init__(self, path: str) -> None:
        """`path` names the part."""
        super().__init__(path)
        self.path = path


class NoLimit(Exception):
    """A limit that the rule asks for, and of which the spec or sheet says that its maker states none."""

    def __init__(self, path: str, view: Noticing) -> None:
        """`path` names the field, `view` the view that was read."""
        super().__init__(path)
        self.path = path
        self.view = view


_NOT_STATED = object()
"""Stands for the value of a field that the spec does not state."""


class _Asking:
    """How the present read is meant."""

    __slots__ = ("optionally",)

    def __init__(self) -> None:
        self.optionally = 0


ASKING = _Asking()
"""`optionally` says in how many `given` or `or_practice` the present read stands: above 0 the rule can do without it,
and a missing field is an answer, also when probing."""


def present(value: float | bool | str, path: str, facts: FieldFacts, view: Noticing) -> Any:
    """A stated value as it is read: a number that knows its field, or the flag or word itself.

    Raises `NoLimit` at a maker's limit of which it is said that there is none.
    """
    if isinstance(value, bool | str):
        if facts.limit and value == NO_LIMIT:
            raise NoLimit(path, view)
        return value
    return Value.of(value, facts.kind_name, facts.unit, path)


class Spot:
    """A place in the build where a section or part stands or could stand, and what was read there once.

    Shared by views that differ in nothing but values: whatever is kept here is the same for all of them.
    """

    __slots__ = (
        "above",
        "below",
        "fitted",
        "groups",
        "imagined",
        "lists",
        "members",
        "model",
        "off",
        "path",
        "raw",
        "values",
    )

    def __init__(self, model: type[Section], raw: Section | None, path: str, above: Spot | None = None) -> None:
        self.model, self.raw, self.path, self.above = model, raw, path, above
        self.members: dict[str, Member] = members(model)
        self.below: dict[str, Spot] = {}
        """Parts below, by the name of their field."""
        self.values: dict[str, tuple[str, Any]] = {}
        """Plain values with their paths."""
        self.lists: dict[str, tuple[dict[str, None], Any]] = {}
        """Lists of plain values with the paths that count as read."""
        self.groups: dict[str, tuple[str, dict[str, Spot] | tuple[Spot, ...]]] = {}
        """Collections of parts with their paths."""
        self.imagined: dict[str, dict[str, Spot] | tuple[Spot, ...]] = {}
        """Collections of parts that a probing view makes up."""
        self.fitted = ""
        """The field that says whether the part is fitted, or one that it belongs to; empty until it is known."""
        self.off: str | None = None
        """The part that is stated as not fitted, this one or one above; empty for none, None until it is known."""

    def unstated(self, collection: str, name: str) -> Spot:
        """The place where a part of a collection would stand that nobody states."""
        model = self.members[collection].model
        assert model is not None
        path = f"{self.path}.{collection}" if self.path else collection
        return Spot(model, None, f"{path}.{name}", self)


class Tree:
    """The spots of a build: as stated, or with some fields added or taken away."""

    __slots__ = ("_has", "imagined", "root")

    def __init__(self, build: Section) -> None:
        """`build` holds the stated values."""
        self.root = Spot(type(build), build, "")
        self.imagined: dict[str, float] = {}
        """The parts among them that probing views make up, and what their typical values are times."""
        self._has: dict[str, bool] = {}

    def has(self, path: str) -> bool:
        """Whether a path is that of a stated value which is read in its place: no `fitted`, no list's entry."""
        known = self._has.get(path)
        if known is None:
            in_place = not path.endswith(("]", ".fitted"))
            known = self._has[path] = in_place and stated_at(self.root.raw, path) is not None
        return known


class Node:
    """A part or section of the build, or the place where one would be, as one view sees it.

    The nodes of each model have a class with a property for each value, list and collection, which Python finds at
    once, unlike what `__getattr__` reads. A part below becomes an attribute of its own when it is read first.
    """

    _spot: Spot
    _view: Noticing

    def __init__(self, spot: Spot, view: Noticing) -> None:
        own = self.__dict__
        own["_spot"], own["_view"] = spot, view

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"{self._spot.path or 'the build'}.{name} cannot be set: a rule only reads the build")

    def __getattr__(self, name: str) -> Any:
        """Read a part below for the first time; all else is read by the properties of the node's own class."""
        return self._first(name)

    def _other(self, name: str, path: str) -> Any:
        """What the view has in the place of the value which is kept."""
        stated, facts = self._view.changes[path], self._spot.members[name].facts
        assert facts is not None
        if stated is None:
            return self._view.missing(path, facts, self)
        return present(stated.value, path, facts, self._view)

    def _first(self, name: str) -> Any:
        """Read a member that was not read before."""
        spot, view = self._spot, self._view
        member = spot.members.get(name)
        if member is None:
            raise AttributeError(f"{spot.model.__name__} has no field {name!r}")
        path = f"{spot.path}.{name}" if spot.path else name
        raw = getattr(spot.raw, name) if spot.raw is not None else None
        if member.role == "part":
            below = spot.below.get(name)
            if below is None:
                assert member.model is not None
                below = spot.below[name] = Spot(member.model, raw, path, spot)
            self.__dict__[name] = node = node_at(below, view)
            return node
        if name != "fitted":
            self._refuse_not_fitted()
        view.record(path)
        if member.role != "plain":
            return self._collection(member, path, raw)
        assert member.facts is not None
        stated = view.stated(path, raw)
        value = _NOT_STATED if stated is None else present(stated.value, path, member.facts, view)
        if path not in view.changes:
            spot.values[name] = (path, value)
        return view.missing(path, member.facts, self) if stated is None else value

    def _collection(self, member: Member, path: str, raw: Any) -> Any:
        spot, view = self._spot, self._view
        if path in view.changes and view.changes[path] is None:
            raw = None
        if raw is None or (not raw and member.when_empty.gap):
            return self._missing_collection(member, path)
        if member.role == "plain-list":
            assert member.facts is not None
            return self._plain_list(member.name, member.facts, path, raw)
        assert member.model is not None
        model = member.model
        spots: dict[str, Spot] | tuple[Spot, ...]
        if member.role == "parts":
            spots = {key: Spot(model, one, f"{path}.{key}", spot) for key, one in raw.items()}
        else:
            spots = tuple(Spot(model, one, f"{path}[{index + 1}]", spot) for index, one in enumerate(raw))
        spot.groups[member.name] = (path, spots)
        return self._group(member.name, spots)

    def _group(self, name: str, spots: dict[str, Spot] | tuple[Spot, ...]) -> Any:
        """A collection of parts as this view's nodes."""
        key = f"_parts_{name}"  # beside the parts below, under a name that no field can have
        known = self.__dict__.get(key)
        if known is None:
            view = self._view
            known = self.__dict__[key] = (
                Parts({key: node_at(spot, view) for key, spot in spots.items()})
                if isinstance(spots, dict)
                else tuple(node_at(spot, view) for spot in spots)
            )
        return known

    def _plain_list(self, name: str, facts: FieldFacts, path: str, raw: Sequence[Any]) -> tuple[Any, ...]:
        view = self._view
        paths: dict[str, None] = {path: None}
        values, complete = [], True
        for number, one in enumerate(raw, 1):
            at = f"{path}[{number}]"
            view.record(at)
            paths[at] = None
            stated = view.stated(at, one)
            values.append(view.missing(at, facts) if stated is None else present(stated.value, at, facts, view))
            complete = complete and stated is not None and at not in view.changes
        if complete:
            self._spot.lists[name] = (paths, tuple(values))
        return tuple(values)

    def _missing_collection(self, member: Member, path: str) -> Any:
        view = self._view
        view.note_missing(path)
        if not view.probing or ASKING.optionally:
            raise Unknown(path, view)
        if member.role == "plain-list":
            assert member.facts is not None
            return (present(member.facts.typical_value(), f"{path}[1]", member.facts, view),)
        return self._imagined(member, path)

    def _imagined(self, member: Member, path: str) -> Any:
        """What a probing view goes on with: one part, or two items of which the second is greater, as on a curve."""
        spot = self._spot
        spots = spot.imagined.get(member.name)
        if spots is None:
            model = member.model
            assert model is not None
            names = (f"{path}.*",) if member.role == "parts" else (f"{path}[1]", f"{path}[2]")
            made = tuple(Spot(model, None, name, spot) for name in names)
            self._view.imagined.update({f"{name}.": 1.0 + 0.5 * index for index, name in enumerate(names)})
            spots = spot.imagined[member.name] = {"*": made[0]} if member.role == "parts" else made
        return self._group(member.name, spots)

    def _refuse_not_fitted(self) -> None:
        off = self._not_fitted()
        if off:
            self._view.record(f"{off}.fitted")
            raise NotFitted(off)

    def _not_fitted(self) -> str:
        """The path of the part that is stated as not fitted: this one or one that it belongs to; empty for none."""
        return _off(self._spot, self._view)

    def _says_fitted(self) -> str:
        """The field that says whether the part is fitted."""
        spot = self._spot
        if not spot.fitted:
            spot.fitted = f"{self._not_fitted() or spot.path}.fitted"
        return spot.fitted

    def __repr__(self) -> str:
        return f"<{self._spot.path or 'build'}>"


def _off(spot: Spot, view: Noticing) -> str:
    off = spot.off
    if off is None:
        above = _off(spot.above, view) if spot.above is not None else ""
        off = spot.off = above or (spot.path if _says_not_fitted(spot, view) else "")
    return off


def _says_not_fitted(spot: Spot, view: Noticing) -> bool:
    if not issubclass(spot.model, Part):
        return False
    raw = spot.raw.fitted if isinstance(spot.raw, Part) else None
    stated = view.stated(f"{spot.path}.fitted", raw)
    return stated is not None and stated.value is False


@functools.cache
def _class_for(model: type[Section]) -> type[Node]:
    """The class of the nodes that stand for parts of one model."""
    reading = {"plain": _value, "parts": _parts, "items": _parts, "plain-list": _values}
    return type(
        model.__name__,
        (Node,),
        {name: reading[member.role](member) for name, member in members(model).items() if member.role in reading},
    )


def node_at(spot: Spot, view: Noticing) -> Node:
    """A view's node for a spot, of the class for its model."""
    return _class_for(spot.model)(spot, view)


def in_view(thing: Any, view: Noticing) -> Any:
    """A part that was read for one view as another sees it which shares its spots; anything else as it is."""
    return node_at(thing._spot, view) if isinstance(thing, Node) and thing._view is not view else thing


def _value(member: Member) -> property:
    """A property that reads a value: it records the field and takes what is kept."""
    name, facts = member.name, member.facts

    def read(node: Node) -> Any:
        known = node._spot.values.get(name)
        if known is None:
            return node._first(name)
        path, value = known
        view = node._view
        if view.stack:
            reads = view.stack[-1]
            reads.few[path] = reads.few_own[path] = None
        if path in view.changes:
            return node._other(name, path)
        return view.missing(path, facts, node) if value is _NOT_STATED else value

    return property(read, doc=member.description)


def _parts(member: Member) -> property:
    """A property that reads a collection of parts: it records the collection and takes the view's own nodes."""
    name = member.name
    key = f"_parts_{name}"

    def read(node: Node) -> Any:
        known = node._spot.groups.get(name)
        if known is None:
            return node._first(name)
        path, spots = known
        node._view.record(path)
        made = node.__dict__.get(key)
        return made if made is not None else node._group(name, spots)

    return property(read, doc=member.description)


def _values(member: Member) -> property:
    """A property that reads a list of plain values: it records the list and each of its entries."""
    name = member.name

    def read(node: Node) -> Any:
        known = node._spot.lists.get(name)
        if known is None:
            return node._first(name)
        paths, value = known
        view = node._view
        if not view.changes.keys().isdisjoint(paths):
            return node._first(name)
        if view.stack:
            view.stack[-1].few.update(paths)
            view.stack[-1].few_own.update(paths)
        return value

    return property(read, doc=member.description)


class Parts(Mapping[str, Any]):
    """Named parts: a read-only mapping from name to part."""

    __slots__ = ("_parts",)

    def __init__(self, parts: dict[str, Any]) -> None:
        self._parts = parts

    def __getitem__(self, name: str) -> Any:
        return self._parts[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._parts)

    def __len__(self) -> int:
        return len(self._parts)
