"""The nodes of a build: what stands behind `build.engine.speed.rated` when a rule reads it.

A `Node` records each field that is read with the view that it is read for, ends the rule with `Unknown` at a field that
the spec does not state and with `NotFitted` at a part that the build does not have.
"""

from __future__ import annotations

import functools
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from swaplint.spec.fields import FieldFacts, Part, Section
from swaplint.spec.shape import Member, members, stated_at

if TYPE_CHECKING:
    from swaplint.view import View


class Unknown(Exception):
    """A field that the rule needs is not stated."""

    def __init__(self, path: str, view: View) -> None:
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


class Value(float):
    """A number that knows where it comes from and which unit of the trade it is shown in. Otherwise a float, in SI."""

    __slots__ = ("kind", "path", "unit")
    unit: str
    kind: str
    path: str

    @classmethod
    def of(cls, number: float, kind: str, unit: str, path: str) -> Value:
        """A value with its kind of quantity, the unit it is shown in and the field or quantity it is."""
        self = cls(number)
        self.kind, self.unit, self.path = kind, unit, path
        return self


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


def present(value: float | bool | str, path: str, facts: FieldFacts) -> Any:
    """A stated value as it is read: a number that knows its field, or the flag or word itself."""
    if isinstance(value, bool | str):
        return value
    return Value.of(value, facts.kind_name, facts.unit, path)


class Tree:
    """The nodes of a build, and the view that they are read for: as stated, or with other values in some fields."""

    __slots__ = ("_has", "root", "view")

    def __init__(self, view: View) -> None:
        self.view = view
        self.root = _node(self, type(view.build_model), view.build_model, "")
        self._has: dict[str, bool] = {}

    def has(self, path: str) -> bool:
        """Whether a path is that of a stated value which is read in its place: no `fitted`, no list's entry."""
        known = self._has.get(path)
        if known is None:
            in_place = not path.endswith(("]", ".fitted"))
            known = self._has[path] = in_place and stated_at(self.root._raw, path) is not None
        return known


class Node:
    """A part or section of the build, or the place where one would be.

    What was read once is kept: a part below as an attribute of its own, so that reading it again costs nothing, and
    a value or collection, or that there is none, with the fields to be recorded at each reading. The nodes of each
    model have a class with a property for each of these, which Python finds at once, unlike what `__getattr__` reads.
    """

    _above: Node | None
    _fitted: str
    """The field that says whether the part is fitted, or one that it belongs to; empty where it is not known yet."""
    _off: str | None
    """The part that is stated as not fitted, this one or one above; empty for none, None where it is not known yet."""
    _tree: Tree
    _model: type[Section]
    _members: dict[str, Member]
    _raw: Section | None
    _path: str
    _values: dict[str, tuple[str, Any]]
    _lists: dict[str, tuple[dict[str, None], Any]]
    _imagined_before: dict[str, Any]

    def __init__(
        self, tree: Tree, model: type[Section], raw: Section | None, path: str, above: Node | None = None
    ) -> None:
        self.__dict__.update(
            _above=above,
            _off=None,
            _fitted="",
            _tree=tree,
            _model=model,
            _members=members(model),
            _raw=raw,
            _path=path,
            _values={},
            _lists={},
            _imagined_before={},
        )

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"{self._path or 'the build'}.{name} cannot be set: a rule only reads the build")

    def __getattr__(self, name: str) -> Any:
        """Read a part below for the first time; all else is read by the properties of the node's own class."""
        return self._first(name)

    def _other(self, name: str, path: str) -> Any:
        """The value that the view has in the place of the one which is kept."""
        stated, facts = self._tree.view.changes[path], self._members[name].facts
        assert stated is not None
        assert facts is not None
        return present(stated.value, path, facts)

    def _first(self, name: str) -> Any:
        """Read a member that was not read before."""
        member = self._members.get(name)
        if member is None:
            raise AttributeError(f"{self._model.__name__} has no field {name!r}")
        view = self._tree.view
        path = f"{self._path}.{name}" if self._path else name
        raw = getattr(self._raw, name) if self._raw is not None else None
        if member.role == "part":
            assert member.model is not None
            node = _node(self._tree, member.model, raw, path, self)
            self.__dict__[name] = node
            return node
        if name != "fitted":
            self._refuse_not_fitted()
        view.record(path)
        if member.role != "plain":
            return self._collection(member, path, raw)
        assert member.facts is not None
        stated = view.stated(path, raw)
        value = _NOT_STATED if stated is None else present(stated.value, path, member.facts)
        if path not in view.changes:
            self._values[name] = (path, value)
        return view.missing(path, member.facts) if stated is None else value

    def _collection(self, member: Member, path: str, raw: Any) -> Any:
        view = self._tree.view
        if path in view.changes and view.changes[path] is None:
            raw = None
        if raw is None:
            return self._missing_collection(member, path)
        if member.role == "plain-list":
            assert member.facts is not None
            return self._plain_list(member.name, member.facts, path, raw)
        assert member.model is not None
        collection: Any
        if member.role == "parts":
            collection = Parts({k: _node(self._tree, member.model, v, f"{path}.{k}", self) for k, v in raw.items()})
        else:
            collection = tuple(_node(self._tree, member.model, v, f"{path}[{i + 1}]", self) for i, v in enumerate(raw))
        self._values[member.name] = (path, collection)
        return collection

    def _plain_list(self, name: str, facts: FieldFacts, path: str, raw: Sequence[Any]) -> tuple[Any, ...]:
        view = self._tree.view
        paths: dict[str, None] = {path: None}
        values, complete = [], True
        for number, one in enumerate(raw, 1):
            at = f"{path}[{number}]"
            view.record(at)
            paths[at] = None
            stated = view.stated(at, one)
            values.append(view.missing(at, facts) if stated is None else present(stated.value, at, facts))
            complete = complete and stated is not None and at not in view.changes
        if complete:
            self._lists[name] = (paths, tuple(values))
        return tuple(values)

    def _missing_collection(self, member: Member, path: str) -> Any:
        view = self._tree.view
        view.note_missing(path)
        if not view.probing or ASKING.optionally:
            raise Unknown(path, view)
        if member.role == "plain-list":
            assert member.facts is not None
            return (present(member.facts.typical_value(), f"{path}[1]", member.facts),)
        return self._imagined(member, path)

    def _imagined(self, member: Member, path: str) -> Any:
        """What a probing view goes on with: one part, or two items of which the second is greater, as on a curve."""
        view = self._tree.view
        known = self._imagined_before.get(member.name)
        if known is not None:
            return known
        assert member.model is not None
        names = (f"{path}.*",) if member.role == "parts" else (f"{path}[1]", f"{path}[2]")
        nodes = [_node(self._tree, member.model, None, name, self) for name in names]
        view.imagined.update({f"{name}.": 1.0 + 0.5 * index for index, name in enumerate(names)})
        collection = Parts({"*": nodes[0]}) if member.role == "parts" else tuple(nodes)
        self._imagined_before[member.name] = collection
        return collection

    def _refuse_not_fitted(self) -> None:
        off = self._not_fitted()
        if off:
            self._tree.view.record(f"{off}.fitted")
            raise NotFitted(off)

    def _not_fitted(self) -> str:
        """The path of the part that is stated as not fitted: this one or one that it belongs to; empty for none."""
        off = self._off
        if off is None:
            above = self._above._not_fitted() if self._above is not None else ""
            off = self.__dict__["_off"] = above or (self._path if self._says_not_fitted() else "")
        return off

    def _says_fitted(self) -> str:
        """The field that says whether the part is fitted."""
        if not self._fitted:
            self.__dict__["_fitted"] = f"{self._not_fitted() or self._path}.fitted"
        return self._fitted

    def _says_not_fitted(self) -> bool:
        if not issubclass(self._model, Part):
            return False
        raw = self._raw.fitted if isinstance(self._raw, Part) else None
        stated = self._tree.view.stated(f"{self._path}.fitted", raw)
        return stated is not None and stated.value is False

    def __repr__(self) -> str:
        return f"<{self._path or 'build'}>"


@functools.cache
def _class_for(model: type[Section]) -> type[Node]:
    """The class of the nodes that stand for parts of one model."""
    reading = {"plain": _value, "parts": _value, "items": _value, "plain-list": _values}
    return type(
        model.__name__,
        (Node,),
        {name: reading[member.role](member) for name, member in members(model).items() if member.role in reading},
    )


def _node(tree: Tree, model: type[Section], raw: Section | None, path: str, above: Node | None = None) -> Node:
    """A node of the class for its model."""
    return _class_for(model)(tree, model, raw, path, above)


def _value(member: Member) -> property:
    """A property that reads a value or a collection of parts: it records the field and takes what is kept."""
    name, facts = member.name, member.facts

    def read(node: Node) -> Any:
        known = node._values.get(name)
        if known is None:
            return node._first(name)
        path, value = known
        view = node._tree.view
        if view.stack:
            reads = view.stack[-1]
            reads.fields[path] = reads.own[path] = None
        if path in view.changes:
            return node._other(name, path)
        return view.missing(path, facts) if value is _NOT_STATED else value

    return property(read, doc=member.description)


def _values(member: Member) -> property:
    """A property that reads a list of plain values: it records the list and each of its entries."""
    name = member.name

    def read(node: Node) -> Any:
        known = node._lists.get(name)
        if known is None:
            return node._first(name)
        paths, value = known
        stack = node._tree.view.stack
        if stack:
            stack[-1].fields.update(paths)
            stack[-1].own.update(paths)
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
