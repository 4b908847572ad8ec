"""The build as a rule sees it: a view that notices what is read.

A rule gets a `Build` and reads `build.engine.speed.rated` as it would any typed object, in SI. Behind it stands a
`Node`: it records each field that is read, so that findings can cite the lines they rest on, and it ends the rule
with `Unknown` at a field that the spec does not state, with `NotFitted` at a part that the build does not have.

Because rules only read, the same rule can be run again on a view in which some fields have other values
(`View(spec, changes)`), or, to list all unknowns at once, on one that goes on with typical values (`probing`).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from swaplint.build.added import systems_at
from swaplint.build.estimates import Estimate, Estimated, about_a_part, estimates_for, tried_in_vain
from swaplint.build.nodes import ASKING, Node, NoLimit, NotFitted, Tree, Unknown, node_at, present
from swaplint.build.reads import Reads
from swaplint.spec.facts import FieldFacts, Stated
from swaplint.spec.fields import Section
from swaplint.spec.model import Build
from swaplint.spec.shape import stated_at

KEPT_VIEWS = 40
"""How many changed views of a build are kept: the points of one box of tolerances."""
KEPT_IN_VIEW = 1_200
"""How many answers a changed view keeps: of hundreds of parts alike each asks for its own, and none again."""
KEPT_ENDS = 8
"""How many views of a view with other values for its practices: both ends of two, and of both together."""


class View:
    """One way of looking at a loaded spec: as stated, with changes, or probing for all unknowns."""

    __slots__ = (
        "_adds",
        "_below",
        "_changed",
        "_root",
        "_touched",
        "_tree",
        "_tree_with",
        "_with_others",
        "build_model",
        "changes",
        "estimating",
        "imagined",
        "kept",
        "probing",
        "quantity_cache",
        "set_aside",
        "stack",
        "stand_ins",
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
        self.estimating: list[str] = []
        """The fields that are being estimated: an estimate that asks for its own field finds it unknown."""
        self.quantity_cache: dict[Any, Any] = {}
        self.kept: dict[Any, Any] = {}
        """What others work out from the whole view and keep with it, by name."""
        self.stand_ins: Mapping[str, float] = {}
        """What stands in for values that nobody states, in SI and by the name of the practice, where it is not the
        value that the practice takes."""
        self.set_aside: dict[str, str] = {}
        """Rules that are not asked again about this build, by id, and what they did: they did not come to an end."""
        self.unchanged: View | None = None
        """The view that this one changes, if it is one of those."""
        self._changed: dict[Any, View] = {}
        self._with_others: dict[Any, View] = {}
        """Those in which practices stand in with other values, as far as they are kept."""
        self._touched: set[str] = set()
        self._adds: frozenset[str] = frozenset()
        """The systems of which it states fields that the view that it changes or follows does not, or may do so."""
        self._below: tuple[str, ...] = ()
        self._root: Node | None = None
        self._tree = tree or Tree(build_model)
        self.imagined: dict[str, float] = self._tree.imagined if probing else {}
        """Parts that a probing view makes up where the spec states none, and what their typical values are times."""
        self._tree_with: tuple[frozenset[str], Tree] | None = None
        """The fields that some other views last added to this one, and the tree that they share."""

    @classmethod
    def following(cls, before: View, build_model: Section, different: set[str]) -> View:
        """A view of another build as stated, which keeps the quantities of the one before that read nothing different.

        `different` names the fields that differ, as `differences` finds them.
        """
        view = cls(build_model)
        view._touch(different, adds=view._systems(path for path in different if not before._tree.has(path)))
        if not view._adds:
            now = {path: stated_at(build_model, path) for path in different}
            view.kept["stated before"] = before.kept.get("stated"), now
        if before.unchanged is None and not before.changes:
            view.kept["stated in sections"] = before.kept.setdefault("stated in sections", {})
        for key, outcome in before.quantity_cache.items():
            if outcome.problem is None and not view.touches(outcome.reads):
                view.quantity_cache[key] = outcome
        return view

    def going_on(self) -> View:
        """A probing view of the same, which goes on with typical values where this one ends."""
        return View(self.build_model, self.changes, probing=True, tree=self._tree)

    @property
    def root(self) -> Node:
        """The root of what is read. It, and all that is read from it, stays with this view."""
        if self._root is None:
            self._root = node_at(self._tree.root, self)
        return self._root

    @property
    def build(self) -> Build:
        """The root, typed as the build spec: what a rule is given."""
        root: Any = self.root
        build: Build = root
        return build

    def changed(self, changes: Mapping[str, Stated | None]) -> View:
        """Another view with changes on top of this one's, which keeps what they do not touch.

        The last few are kept: rules that rest on the same inputs ask about the same corners of their tolerances.
        """
        key = tuple(changes.items())
        other = self._changed.pop(key, None) or self._with(changes)
        if len(other.kept) + len(other.quantity_cache) > KEPT_IN_VIEW:
            other.let_go()
        self._changed[key] = other
        if len(self._changed) > KEPT_VIEWS:
            self._changed.pop(next(iter(self._changed))).let_go()
        return other

    def let_go(self) -> None:
        """Forget all that was worked out for this view: it and its nodes hold each other, and would stay for long.

        Whoever goes on asking it gets the same answers, worked out again.
        """
        for other in (*self._changed.values(), *self._with_others.values()):
            other.let_go()
        self._changed.clear()
        self._with_others.clear()
        self.quantity_cache.clear()
        self.kept.clear()
        self._root = None

    def with_stand_ins(self, values: Mapping[str, float]) -> View:
        """Another view of the same in which practices stand in with other values, in SI and by their names.

        The last few are kept: a rule asks about the same ends for each of its demands.
        """
        key = tuple(values.items())
        other = self._with_others.pop(key, None)
        if other is None:
            other = View(self.build_model, self.changes, probing=self.probing, tree=self._tree)
            other.stand_ins = {**self.stand_ins, **values}
            other.unchanged, other.set_aside = self, self.set_aside
            other._touch(set(values), adds=frozenset())
        self._with_others[key] = other
        if len(self._with_others) > KEPT_ENDS:
            self._with_others.pop(next(iter(self._with_others))).let_go()
        return other

    def standing_in(self, name: str, value: float) -> float:
        """What stands in for a value that nobody states, by the name of the practice: that value, unless told."""
        return self.stand_ins.get(name, value)

    def _with(self, changes: Mapping[str, Stated | None]) -> View:
        added = frozenset(path for path in changes if not self._tree.has(path))
        shares = not (self.changes or any(self._takes_away(*change) for change in changes.items()))
        tree = self._tree_for(added) if shares else None
        merged = {**self.changes, **changes} if self.changes else changes
        other = View(self.build_model, merged, probing=self.probing, tree=tree)
        if shares and tree is None:
            self._tree_with = (added, other._tree)
        other.stand_ins = self.stand_ins
        other.unchanged, other.set_aside = self, self.set_aside
        other._touch(set(changes), adds=self._systems(path for path in added if not self._is_entry(path)))
        for path in added:  # stating a field says that its part exists
            parts = path.split(".")
            other._touched.update(".".join([*parts[:cut], "fitted"]) for cut in range(1, len(parts)))
        return other

    def _takes_away(self, path: str, new: Stated | None) -> bool:
        """Whether a change can take a part or list away, so that other fields are read differently, too."""
        return (new is None and not self._tree.has(path)) or path.endswith(".fitted")

    def _is_entry(self, path: str) -> bool:
        """Whether a path is that of an entry which its list has: another value there states nothing new."""
        return path.endswith("]") and stated_at(self.build_model, path) is not None

    def _systems(self, added: Iterable[str]) -> frozenset[str]:
        """The systems of which there may be other fields where fields and parts are stated that were not."""
        model = type(self.build_model)
        return frozenset().union(*(systems_at(model, path) for path in added))

    def _touch(self, different: set[str], *, adds: frozenset[str]) -> None:
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

    def keep(self, key: Any, reads: Reads, value: Any) -> None:
        """Keep what a function of the build led to, with what it read, for whoever asks for it again."""
        self.kept[key] = reads, value

    def worked_out(self, key: Any) -> tuple[Reads, Any] | None:
        """What a function of the build led to before: here, or, for plain data, where no change touches what it read.

        Anything else may hold parts as another view sees them.
        """
        known: tuple[Reads, Any] | None = self.kept.get(key)
        if known is None and self.unchanged is not None:
            known = self.unchanged.worked_out(key)
            if known is None or not _is_plain(known[1]) or self.touches(known[0]):
                return None
            self.kept[key] = known
        return known

    def touches(self, reads: Reads) -> bool:
        """Whether what was read of the view that this one changes or follows could read differently here."""
        touched = self._touched
        if reads.anything or not reads.few.keys().isdisjoint(touched):
            return True
        if reads.shared and reads.has_any(touched):
            return True
        if reads.tried and not reads.tried.keys().isdisjoint(touched):
            return True
        if self.stand_ins and not reads.practices.keys().isdisjoint(touched):
            return True
        if not reads.all_stated.isdisjoint(self._adds):
            return True
        if reads.all_stated and not reads.listed.keys().isdisjoint(touched):
            return True
        if not self._below:
            return False
        return any(path.startswith(self._below) for paths in (reads.fields, reads.tried) for path in paths)

    def like(self, reads: Reads) -> bool:
        """Whether what was read of the view that this one changes reads the same here, place by place."""
        before = self.unchanged
        return before is not None and before._tree is self._tree and not self.touches(reads)

    def settle(self) -> None:
        """Forget what was being read: a rule may have been stopped half-way."""
        ASKING.optionally = 0
        self.stack.clear()
        self.estimating.clear()

    def record(self, path: str) -> None:
        """Note that a field was read."""
        if self.stack:
            reads = self.stack[-1]
            reads.few[path] = reads.few_own[path] = None

    def reads(self) -> Reads:
        """The record being kept now."""
        return self.stack[-1] if self.stack else Reads()

    # -- what stands at a path ---------------------------------------------------------------------------------
    def stated(self, path: str, raw: Any) -> Stated | None:
        """The stated value of a plain field, after changes."""
        if self.changes and path in self.changes:
            return self.changes[path]
        return raw if isinstance(raw, Stated) else None

    def missing(self, path: str, facts: FieldFacts | None, part: Node | None = None) -> Any:
        """A field that is not stated: what it is estimated as for the part that holds it, where that can be done.

        Else it ends the rule, or, when probing, is noted, and the typical value taken.
        """
        times = self._imagined_times(path)
        if times is None:
            found = self._estimated(path, facts, part) if part is not None and facts is not None else None
            if found is not None:
                return found
            self.note_missing(path)
        if self.probing and not ASKING.optionally and facts is not None:
            typical = facts.typical_value()
            return present(typical * times if times and isinstance(typical, float) else typical, path, facts, self)
        raise Unknown(path, self)

    def _estimated(self, path: str, facts: FieldFacts, part: Node) -> Any:
        """What a quantity that stands in for a field gives; None where there is none, or none has a value."""
        estimates = estimates_for(type(self.build_model), path)
        if not estimates:
            return None
        if path in self.estimating:
            self.reads().begun("circular")[path] = None
            return None
        for estimate in estimates:
            own = Reads()
            value = self._asked(estimate, path, part, own)
            own.circular.pop(path, None)
            if value is None or (value <= 0.0 and not facts.signed and not (value == 0.0 and facts.may_be_zero)):
                tried_in_vain(self.reads(), own)
                continue
            half = abs(value) * estimate.tolerance
            self.reads().add(own)
            self.reads().uses.update(own.uses)
            self.reads().begun("estimates")[path] = Estimated(path, value, half, estimate, tuple(own.fields))
            return present(value, path, facts, self)
        return None

    def _asked(self, estimate: Estimate, path: str, part: Node, own: Reads) -> float | None:
        """What an estimate gives, noting what it reads; None where it lacks something, or where it does not hold."""
        self.stack.append(own)
        self.estimating.append(path)
        ASKING.optionally += 1  # in a probing view too: no estimate rests on typical values
        try:
            return float(estimate(self.build, *([part] if about_a_part(estimate.stands_in_for) else [])))
        except (Unknown, NotFitted, NoLimit, ValueError):
            return None
        finally:
            ASKING.optionally -= 1
            self.estimating.pop()
            self.stack.pop()

    def note_missing(self, path: str) -> None:
        """Note a field or part that is not stated: one that is needed, or one that the rule can do without."""
        if self._imagined_times(path) is None:
            reads = self.reads()
            if ASKING.optionally:
                reads.note_optional(path)
            else:
                reads.begun("unknown")[path] = None

    def _imagined_times(self, path: str) -> float | None:
        """What a made-up part's typical values are times; None for a path of no such part."""
        end = path.find(".") if self.imagined else -1
        while end >= 0:
            times = self.imagined.get(path[: end + 1])
            if times is not None:
                return times
            end = path.find(".", end + 1)
        return None


def _is_plain(value: Any) -> bool:
    """Whether a value is a number or word, or is made of such alone and cannot be changed: no view stands behind it."""
    if isinstance(value, tuple):
        return all(map(_is_plain, value))
    frozen = getattr(type(value), "__dataclass_params__", None)
    if frozen is not None and frozen.frozen:
        return all(_is_plain(getattr(value, name)) for name in type(value).__dataclass_fields__)
    return value is None or isinstance(value, float | int | str)
