"""The build as a rule sees it: a view that notices what is read.

A rule gets a `Build` and reads `build.engine.speed.rated` as it would any typed object, in SI. Behind it stands a
`Node`: it records each field that is read, so that findings can cite the lines they rest on, and it ends the rule
with `Unknown` at a field that the spec does not state, with `NotFitted` at a part that the build does not have.

Because rules only read, the same rule can be run again on a view in which some fields have other values
(`View(spec, changes)`), or, to list all unknowns at once, on one that goes on with typical values (`probing`).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, TypeVar, cast

from swaplint.nodes import ASKING, Node, NotFitted, Tree, Unknown, Value, present
from swaplint.sources import Source
from swaplint.spec.fields import FieldFacts, Section, Stated
from swaplint.spec.shape import stated_at

if TYPE_CHECKING:
    from swaplint.spec.model import Build

T = TypeVar("T")
S = TypeVar("S", bound=Section)


class Reads:
    """What was read while a rule or a quantity ran, in order, each once."""

    __slots__ = (
        "all_stated",
        "anything",
        "fields",
        "listed",
        "optional",
        "own",
        "practices",
        "quantities",
        "unknown",
        "uses",
    )

    def __init__(self) -> None:
        self.fields: dict[str, None] = {}
        self.own: dict[str, None] = {}
        """Those of the fields that were read directly, and not only by a quantity that was used."""
        self.quantities: dict[str, None] = {}
        """Keys of the quantities that were used, see `swaplint.quantities`."""
        self.uses: dict[str, Any] = {}
        """Those of the quantities that were used directly, each with its `Computed`."""
        self.unknown: dict[str, None] = {}
        """Fields that are not stated: what the rule lacks, or what a fallback stands in for."""
        self.optional: dict[str, None] = {}
        """Fields that the rule asked for and can do without."""
        self.practices: dict[str, Any] = {}
        """The common-practice fallbacks that stood in for a missing value, by name."""
        self.listed: dict[str, None] = {}
        """Fields that were listed with all that a system states, and on whose values the answer may rest, too."""
        self.all_stated = False
        """Whether it matters which fields are stated at all."""
        self.anything = False
        """Whether the answer may rest on any field, because it is not known what was read for it."""

    def add(self, other: Reads) -> None:
        """Take over all that the record of a quantity holds, but for what only that one read directly."""
        self.fields.update(other.fields)
        if other.quantities:
            self.quantities.update(other.quantities)
        if other.unknown:
            self.unknown.update(other.unknown)
        if other.optional:
            self.optional.update(other.optional)
        if other.practices:
            self.practices.update(other.practices)
        if other.listed:
            self.listed.update(other.listed)
        if other.all_stated:
            self.all_stated = True
        if other.anything:
            self.anything = True

    def add_as_optional(self, other: Reads) -> None:
        """The same for a quantity that has no value and that the rule can do without."""
        unknown = dict(self.unknown)
        self.add(other)
        self.unknown = unknown
        self.optional.update(other.unknown)


KEPT_VIEWS = 40
"""How many changed views of a build are kept: the points of one box of tolerances."""


class View:
    """One way of looking at a loaded spec: as stated, with changes, or probing for all unknowns."""

    __slots__ = (
        "_adds",
        "_below",
        "_changed",
        "_touched",
        "_tree",
        "_tree_with",
        "build_model",
        "changes",
        "imagined",
        "kept",
        "probing",
        "quantity_cache",
        "stack",
        "unchanged",
    )

    def __init__(
        self,
        build_model: Section,
        changes: Mapping[str, Stated | None] | None = None,
        *,
        probing: bool = False,
        tree: Tree | None = None,
    ) -> None:
        """`changes` puts other values in the place of fields, or takes them away (None), by path.

        `tree` is that of a view which differs from this one in nothing but values.
        """
        self.build_model = build_model
        self.changes = dict(changes or {})
        self.probing = probing
        self.stack: list[Reads] = []
        self.quantity_cache: dict[Any, Any] = {}
        self.imagined: dict[str, float] = {}
        """Parts that a probing view makes up where the spec states none, and what their typical values are times."""
        self.kept: dict[Any, Any] = {}
        """What others work out from the whole view and keep with it, by name."""
        self.unchanged: View | None = None
        """The view that this one changes, if it is one of those."""
        self._changed: dict[Any, View] = {}
        self._touched: set[str] = set()
        self._adds = False
        """Whether it states fields which the view that it changes or follows does not, or may do so."""
        self._below: tuple[str, ...] = ()
        self._tree = tree or Tree(self)
        self._tree_with: tuple[frozenset[str], Tree] | None = None
        """The fields that some other views last added to this one, and the tree that they share."""

    @classmethod
    def following(cls, before: View, build_model: Section, different: set[str]) -> View:
        """A view of another build as stated, which keeps the quantities of the one before that read nothing different.

        `different` names the fields that differ, as `differences` finds them.
        """
        view = cls(build_model)
        view._touch(different, adds=any(not before._tree.has(path) for path in different))
        if not view._adds:
            now = {path: stated_at(build_model, path) for path in different}
            view.kept["stated before"] = before.kept.get("stated"), now
        for key, outcome in before.quantity_cache.items():
            if outcome.problem is None and not view.touches(outcome.reads):
                view.quantity_cache[key] = outcome
        return view

    @property
    def root(self) -> Node:
        """The root of what is read. Asking for it makes this view the one that is read from.

        Views that differ in nothing but values share their nodes, so reading of one view ends where that of another
        begins.
        """
        self._tree.view = self
        return self._tree.root

    @property
    def build(self) -> Build:
        """The root, typed as the build spec: what a rule is given."""
        return cast("Build", self.root)

    def changed(self, changes: Mapping[str, Stated | None]) -> View:
        """Another view with changes on top of this one's, which keeps what they do not touch.

        The last few are kept: rules that rest on the same inputs ask about the same corners of their tolerances.
        """
        key = tuple(changes.items())
        other = self._changed.pop(key, None) or self._with(changes)
        self._changed[key] = other
        if len(self._changed) > KEPT_VIEWS:
            del self._changed[next(iter(self._changed))]
        return other

    def _with(self, changes: Mapping[str, Stated | None]) -> View:
        added = frozenset(path for path in changes if not self._tree.has(path))
        shares = not (self.changes or self.probing or any(_takes_away(*change) for change in changes.items()))
        tree = self._tree_for(added) if shares else None
        merged = {**self.changes, **changes} if self.changes else changes
        other = View(self.build_model, merged, probing=self.probing, tree=tree)
        if shares and tree is None:
            self._tree_with = (added, other._tree)
        other.unchanged = self
        other._touch(set(changes), adds=bool(added))
        for path in added:  # stating a field says that its part exists
            parts = path.split(".")
            other._touched.update(".".join([*parts[:cut], "fitted"]) for cut in range(1, len(parts)))
        return other

    def _touch(self, different: set[str], *, adds: bool) -> None:
        self._touched, self._adds = different, adds
        self._below = tuple(path.removesuffix("fitted") for path in different if path.endswith(".fitted"))

    def _tree_for(self, added: frozenset[str]) -> Tree | None:
        """The tree for a view that changes values: this one's, or where it adds some the one that others have shared.

        None where there is none yet.
        """
        if not added:
            return self._tree
        return self._tree_with[1] if self._tree_with is not None and self._tree_with[0] == added else None

    def computed(self, key: Any) -> Any:
        """What computing a quantity led to before, here or where no change touches what it read; else None."""
        outcome = self.quantity_cache.get(key)
        if outcome is None and self.unchanged is not None:
            outcome = self.unchanged.computed(key)
            if outcome is None or self.touches(outcome.reads):
                return None
            self.quantity_cache[key] = outcome
        return outcome

    def touches(self, reads: Reads) -> bool:
        """Whether what was read of the view that this one changes or follows could read differently here."""
        if reads.anything or not reads.fields.keys().isdisjoint(self._touched):
            return True
        if reads.all_stated and (self._adds or not reads.listed.keys().isdisjoint(self._touched)):
            return True
        return bool(self._below) and any(path.startswith(self._below) for path in reads.fields)

    def settle(self) -> None:
        """Forget what was being read: a rule may have been stopped half-way."""
        ASKING.optionally = 0
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

    def missing(self, path: str, facts: FieldFacts | None) -> Any:
        """A field that is not stated: ends the rule, or, when probing, notes it and goes on with the typical value."""
        times = self._imagined_times(path)
        if times is None:
            self.note_missing(path)
        if self.probing and not ASKING.optionally and facts is not None:
            typical = facts.typical_value()
            return present(typical * times if times and isinstance(typical, float) else typical, path, facts)
        raise Unknown(path, self)

    def note_missing(self, path: str) -> None:
        """Note a field or part that is not stated: one that is needed, or one that the rule can do without."""
        if self._imagined_times(path) is None:
            reads = self.reads()
            (reads.optional if ASKING.optionally else reads.unknown)[path] = None

    def _imagined_times(self, path: str) -> float | None:
        """What a made-up part's typical values are times; None for a path of no such part."""
        if not self.imagined:
            return None
        return next((times for part, times in self.imagined.items() if path.startswith(part)), None)


def _takes_away(path: str, new: Stated | None) -> bool:
    """Whether a change can take a field or a part away, so that other fields are read differently, too."""
    return new is None or path.endswith(".fitted")


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
    view = part._tree.view
    off = part._not_fitted()
    view.record(part._says_fitted())
    if off:
        return False
    if part._raw is not None or f"{part._path}." in view.imagined:
        return True
    if any(path.startswith(f"{part._path}.") and new is not None for path, new in view.changes.items()):
        return True
    view.note_missing(part._path)
    if view.probing and not ASKING.optionally:
        return False
    raise Unknown(part._path, view)


def given(read: Callable[[], T]) -> T | None:
    """What `read` returns, or None where a field that it reads is not stated.

    >>> # cruise = given(lambda: build.engine.speed.cruise_low)
    """
    depth = ASKING.optionally
    ASKING.optionally = depth + 1
    try:
        return read()
    except (Unknown, NotFitted):
        return None
    finally:
        ASKING.optionally = depth


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
    depth = ASKING.optionally
    ASKING.optionally = depth + 1
    try:
        return read()
    except Unknown as unknown:
        reads = unknown.view.reads()
        reads.unknown[unknown.path] = None
        reads.practices[practice.name] = practice
        return practice.value
    finally:
        ASKING.optionally = depth


def use_practice(build: Build, practice: Practice) -> float:
    """The value of a common-practice fallback, noted in the result, where the rule finds by itself that it needs it."""
    view_of(build).reads().practices[practice.name] = practice
    return practice.value


def view_of(build: Build) -> View:
    """The view behind a build."""
    node: Any = build
    view: View = node._tree.view
    return view


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


def each_of(*collections: Mapping[str, T] | Sequence[T]) -> list[T]:
    """The parts of one or several collections, as a list."""
    out: list[T] = []
    for collection in collections:
        out.extend(collection.values() if isinstance(collection, Mapping) else collection)
    return out
