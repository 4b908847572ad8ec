"""The build as a rule sees it: a view that notices what is read.

A rule gets a `Build` and reads `build.engine.speed.rated` as it would any typed object, in SI. Behind it stands a
`Node`: it records each field that is read, so that findings can cite the lines they rest on, and it ends the rule
with `Unknown` at a field that the spec does not state, with `NotFitted` at a part that the build does not have.

Because rules only read, the same rule can be run again on a view in which some fields have other values
(`View(spec, changes)`), or, to list all unknowns at once, on one that goes on with typical values (`probing`).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, TypeVar, cast

from swaplint.sources import Source
from swaplint.spec.fields import FieldFacts, Part, Section, Stated
from swaplint.spec.shape import Member, members

if TYPE_CHECKING:
    from swaplint.spec.model import Build

T = TypeVar("T")
S = TypeVar("S", bound=Section)


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


@dataclass(slots=True)
class Reads:
    """What was read while a rule or a quantity ran, in order, each once."""

    fields: dict[str, None] = field(default_factory=dict)
    own: dict[str, None] = field(default_factory=dict)
    """Those of the fields that were read directly, and not only by a quantity that was used."""
    quantities: dict[str, None] = field(default_factory=dict)
    """Keys of the quantities that were used, see `swaplint.quantities`."""
    uses: dict[str, Any] = field(default_factory=dict)
    """Those of the quantities that were used directly, each with its `Computed`."""
    unknown: dict[str, None] = field(default_factory=dict)
    """Fields that are not stated: what the rule lacks, or what a fallback stands in for."""
    optional: dict[str, None] = field(default_factory=dict)
    """Fields that the rule asked for and can do without."""
    practices: dict[str, Any] = field(default_factory=dict)
    """The common-practice fallbacks that stood in for a missing value, by name."""

    def add(self, other: Reads) -> None:
        """Take over all that the record of a quantity holds, but for what only that one read directly."""
        self.fields.update(other.fields)
        self.quantities.update(other.quantities)
        self.unknown.update(other.unknown)
        self.optional.update(other.optional)
        self.practices.update(other.practices)

    def add_as_optional(self, other: Reads) -> None:
        """The same for a quantity that has no value and that the rule can do without."""
        unknown = dict(self.unknown)
        self.add(other)
        self.unknown = unknown
        self.optional.update(other.unknown)


_optional_depth = 0  # above 0 while `given` reads: there a missing field is an answer, also when probing


class View:
    """One way of looking at a loaded spec: as stated, with changes, or probing for all unknowns."""

    __slots__ = (
        "_below",
        "_cells",
        "_collections",
        "_nodes",
        "_touched",
        "_unchanged",
        "build_model",
        "changes",
        "imagined",
        "probing",
        "quantity_cache",
        "root",
        "stack",
    )

    def __init__(
        self,
        build_model: Section,
        changes: Mapping[str, Stated | None] | None = None,
        *,
        probing: bool = False,
    ) -> None:
        """`changes` puts other values in the place of fields, or takes them away (None), by path."""
        self.build_model = build_model
        self.changes = dict(changes or {})
        self.probing = probing
        self.stack: list[Reads] = []
        self.quantity_cache: dict[Any, Any] = {}
        self._cells: dict[str, Any] = {}
        self._nodes: dict[str, Any] = {}
        self._collections: dict[str, Any] = {}
        self.imagined: dict[str, float] = {}
        """Parts that a probing view makes up where the spec states none, and what their typical values are times."""
        self._unchanged: View | None = None
        self._touched: set[str] = set()
        self._below: tuple[str, ...] = ()
        self.root = Node(self, type(build_model), build_model, "")

    @property
    def build(self) -> Build:
        """The root, typed as the build spec: what a rule is given."""
        return cast("Build", self.root)

    def changed(self, changes: Mapping[str, Stated | None]) -> View:
        """Another view with changes on top of this one's, which keeps what they do not touch."""
        other = View(self.build_model, {**self.changes, **changes})
        other._unchanged = self
        other._touched = set(changes)
        other._below = tuple(path.removesuffix("fitted") for path in changes if path.endswith(".fitted"))
        for path in changes:  # stating a field says that its part exists
            parts = path.split(".")
            other._touched.update(".".join([*parts[:cut], "fitted"]) for cut in range(1, len(parts)))
        return other

    def computed(self, key: Any) -> Any:
        """What computing a quantity led to before, here or where no change touches what it read; else None."""
        outcome = self.quantity_cache.get(key)
        if outcome is None and self._unchanged is not None:
            outcome = self._unchanged.computed(key)
            if outcome is None or self._touches(outcome.reads.fields):
                return None
            self.quantity_cache[key] = outcome
        return outcome

    def _touches(self, fields: Mapping[str, None]) -> bool:
        if not self._touched.isdisjoint(fields):
            return True
        return bool(self._below) and any(path.startswith(self._below) for path in fields)

    def settle(self) -> None:
        """Forget what was being read: a rule may have been stopped half-way."""
        global _optional_depth
        _optional_depth = 0
        self.stack.clear()

    def record(self, path: str) -> None:
        """Note that a field was read."""
        if self.stack:
            reads = self.stack[-1]
            reads.fields[path] = reads.own[path] = None

    def reads(self) -> Reads:
        """The record being kept now."""
        return self.stack[-1] if self.stack else Reads()

    # -- what stands at a path ---------------------------------------------------------------------------------
    def stated(self, path: str, raw: Any) -> Stated | None:
        """The stated value of a plain field, after changes."""
        if self.changes and path in self.changes:
            return self.changes[path]
        return raw if isinstance(raw, Stated) else None

    def plain(self, path: str, raw: Any, facts: FieldFacts) -> Any:
        """Read a plain field: its value in SI. Raises `Unknown`."""
        self.record(path)
        cell = self._cells.get(path)
        if cell is not None:
            return cell
        stated = self.stated(path, raw)
        if stated is None:
            return self.missing(path, facts)
        cell = _present(stated.value, path, facts)
        self._cells[path] = cell
        return cell

    def missing(self, path: str, facts: FieldFacts | None) -> Any:
        """A field that is not stated: ends the rule, or, when probing, notes it and goes on with the typical value."""
        times = next((f for part, f in self.imagined.items() if path.startswith(part)), None)
        if times is None:
            self.note_missing(path)
        if self.probing and not _optional_depth and facts is not None:
            typical = facts.typical_value()
            return _present(typical * times if times and isinstance(typical, float) else typical, path, facts)
        raise Unknown(path, self)

    def note_missing(self, path: str) -> None:
        """Note a field or part that is not stated: one that is needed, or one that the rule can do without."""
        if any(path.startswith(part) for part in self.imagined):
            return
        reads = self.reads()
        (reads.optional if _optional_depth else reads.unknown)[path] = None


def _present(value: float | bool | str, path: str, facts: FieldFacts) -> Any:
    if isinstance(value, bool | str):
        return value
    return Value.of(value, facts.kind_name, facts.unit, path)


class Node:
    """A part or section of the build, or the place where one would be."""

    __slots__ = ("_above", "_members", "_model", "_off", "_path", "_raw", "_view")

    def __init__(
        self, view: View, model: type[Section], raw: Section | None, path: str, above: Node | None = None
    ) -> None:
        self._above = above
        self._off: str | None = None
        self._view = view
        self._model = model
        self._members = members(model)
        self._raw = raw
        self._path = path

    def __getattr__(self, name: str) -> Any:
        member = self._members.get(name)
        if member is None:
            raise AttributeError(f"{self._model.__name__} has no field {name!r}")
        view = self._view
        path = f"{self._path}.{name}" if self._path else name
        known = view._nodes.get(path)
        if known is not None:
            return known
        raw = getattr(self._raw, name) if self._raw is not None else None
        if member.role == "plain":
            if name != "fitted":
                self._refuse_not_fitted()
            assert member.facts is not None
            return view.plain(path, raw, member.facts)
        if member.role == "part":
            assert member.model is not None
            node = Node(view, member.model, raw, path, self)
            view._nodes[path] = node
            return node
        self._refuse_not_fitted()
        return self._collection(member, path, raw)

    def _collection(self, member: Member, path: str, raw: Any) -> Any:
        view = self._view
        view.record(path)
        if path in view._collections:
            return view._collections[path]
        if path in view.changes and view.changes[path] is None:
            raw = None
        if raw is None:
            view.note_missing(path)
            if view.probing and not _optional_depth:
                if member.role == "plain-list":
                    assert member.facts is not None
                    return (_present(member.facts.typical_value(), f"{path}[1]", member.facts),)
                return self._imagined(member, path)
            raise Unknown(path, view)
        if member.role == "plain-list":
            assert member.facts is not None
            return tuple(view.plain(f"{path}[{index + 1}]", stated, member.facts) for index, stated in enumerate(raw))
        assert member.model is not None
        collection: Any
        if member.role == "parts":
            collection = Parts({k: Node(view, member.model, v, f"{path}.{k}", self) for k, v in raw.items()})
        else:
            collection = tuple(Node(view, member.model, v, f"{path}[{i + 1}]", self) for i, v in enumerate(raw))
        view._collections[path] = collection
        return collection

    def _imagined(self, member: Member, path: str) -> Any:
        """What a probing view goes on with: one part, or two items of which the second is greater, as on a curve."""
        view = self._view
        assert member.model is not None
        names = (f"{path}.example",) if member.role == "parts" else (f"{path}[1]", f"{path}[2]")
        nodes = [Node(view, member.model, None, name, self) for name in names]
        view.imagined.update({f"{name}.": 1.0 + 0.5 * index for index, name in enumerate(names)})
        collection = Parts({"example": nodes[0]}) if member.role == "parts" else tuple(nodes)
        view._collections[path] = collection
        return collection

    def _refuse_not_fitted(self) -> None:
        off = self._not_fitted()
        if off:
            self._view.record(f"{off}.fitted")
            raise NotFitted(off)

    def _not_fitted(self) -> str:
        """The path of the part that is stated as not fitted: this one or one that it belongs to; empty for none."""
        if self._off is None:
            above = self._above._not_fitted() if self._above is not None else ""
            self._off = above or (self._path if self._says_not_fitted() else "")
        return self._off

    def _says_not_fitted(self) -> bool:
        if not issubclass(self._model, Part):
            return False
        raw = self._raw.fitted if isinstance(self._raw, Part) else None
        stated = self._view.stated(f"{self._path}.fitted", raw)
        return stated is not None and stated.value is False

    def __repr__(self) -> str:
        return f"<{self._path or 'build'}>"


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


# -- what a rule author calls -------------------------------------------------------------------------------------
def path_of(thing: object) -> str:
    """The field path of a part, an item or a number that was read: `path_of(cable)` is 'electrics.cables.starter'."""
    if isinstance(thing, Node):
        return thing._path
    if isinstance(thing, Value):
        return thing.path
    raise TypeError(f"{thing!r} is not a part, an item or a number read from the build")


def name_of(part: object) -> str:
    """The name that the spec gives a part: `name_of(cable)` is 'starter'."""
    return path_of(part).rsplit(".", 1)[-1]


def is_fitted(part: object) -> bool:
    """Whether the build has a part. A part that the spec does not mention at all is unknown.

    >>> # if is_fitted(build.driveline.transfer): ratio *= build.driveline.transfer.high
    """
    if not isinstance(part, Node):
        raise TypeError(f"{part!r} is not a part of the build")
    view = part._view
    off = part._not_fitted()
    view.record(f"{off or part._path}.fitted")
    if off:
        return False
    if part._raw is not None or f"{part._path}." in view.imagined:
        return True
    if any(path.startswith(f"{part._path}.") and new is not None for path, new in view.changes.items()):
        return True
    view.note_missing(part._path)
    if view.probing and not _optional_depth:
        return False
    raise Unknown(part._path, view)


def given(read: Callable[[], T]) -> T | None:
    """What `read` returns, or None where a field that it reads is not stated.

    >>> # cruise = given(lambda: build.engine.speed.cruise_low)
    """
    global _optional_depth
    _optional_depth += 1
    try:
        return read()
    except (Unknown, NotFitted):
        return None
    finally:
        _optional_depth -= 1


@dataclass(frozen=True, slots=True)
class Practice:
    """A common-practice fallback for a value that nobody states.

    It is named in the result, and from the `build` stage on a rule that would pass on it asks for a person instead.
    With `review=True` it does so at every stage.
    """

    name: str
    """One line that says what is taken, with its number and unit: 'clutch face coefficient of friction 0.25'."""
    value: float
    """In SI."""
    source: Source
    """Where the practice is described, or common practice."""
    review: bool = False

    def __post_init__(self) -> None:
        """Refuse what is no practice: without a name, a source and a number."""
        if not isinstance(self.name, str) or not isinstance(self.source, Source):
            raise TypeError(f"{self.name!r}: a fallback has a name and a source")
        if not math.isfinite(self.value):
            raise ValueError(f"{self.name}: a fallback must be a finite number")


def or_practice(read: Callable[[], float], practice: Practice) -> float:
    """What `read` returns, or the value of a common-practice fallback where that is not stated.

    >>> # limit = or_practice(lambda: build.engine.fuel.max_return_pressure, RETURN_PRESSURE)
    """
    global _optional_depth
    _optional_depth += 1
    try:
        return read()
    except Unknown as unknown:
        reads = unknown.view.reads()
        reads.unknown[unknown.path] = None
        reads.practices[practice.name] = practice
        return practice.value
    finally:
        _optional_depth -= 1


def use_practice(build: Build, practice: Practice) -> float:
    """The value of a common-practice fallback, noted in the result, where the rule finds by itself that it needs it."""
    view_of(build).reads().practices[practice.name] = practice
    return practice.value


def view_of(build: Build) -> View:
    """The view behind a build."""
    return cast(Node, build)._view


def section_of(build: Build, model: type[S]) -> S:
    """The section that a rule pack adds to the build spec, typed as the pack's own model.

    A pack `acme` whose `Pack(section=Hoist)` adds the fields of `Hoist` reads them as any others. Raises `LookupError`
    where no loaded pack adds that section.

    >>> # at_most(section_of(build, Hoist).load, section_of(build, Hoist).rated_load)
    """
    node = cast(Node, build)
    for name, member in node._members.items():
        if member.role == "part" and member.model is model:
            return cast(S, getattr(node, name))
    raise LookupError(f"no loaded rule pack adds a section {model.__name__} to the build spec")


def reading_optionally() -> bool:
    """Whether a read is one that the rule can do without, inside `given` or `or_practice`."""
    return _optional_depth > 0


def swap_optional_depth(depth: int) -> int:
    """Set how many `given` the next reads stand in; returns what it was."""
    global _optional_depth
    before, _optional_depth = _optional_depth, depth
    return before


def each_of(*collections: Mapping[str, T] | Sequence[T]) -> list[T]:
    """The parts of one or several collections, as a list."""
    out: list[T] = []
    for collection in collections:
        out.extend(collection.values() if isinstance(collection, Mapping) else collection)
    return out
