"""What a rule calls to read a build: whether a part is there, what it is called, what it can do without."""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Any, TypeVar, cast

from swaplint.build.nodes import ASKING, Node, NoLimit, NotFitted, Unknown, node_at
from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.spec.facts import Stated
from swaplint.spec.fields import Section
from swaplint.spec.model import Build
from swaplint.units.value import Value

T = TypeVar("T")
S = TypeVar("S", bound=Section)
F = TypeVar("F", bound=Callable[..., Any])


def path_of(thing: object) -> str:
    """The field path of a part, an item or a number that was read: `path_of(cable)` is 'electrics.cables.starter'."""
    if isinstance(thing, Node):
        return thing._spot.path
    if isinstance(thing, Value):
        return thing.path
    raise TypeError(f"{thing!r} is not a part, an item or a number read from the build")


def name_of(part: object) -> str:
    """The name that the spec gives a part: `name_of(cable)` is 'starter'."""
    return path_of(part).rsplit(".", 1)[-1]


def part_named(holder: object, collection: str, name: str) -> Any:
    """The part of a name; where the collection has none of that name, one of which nothing is stated.

    For what stands under the name of another part: `part_named(build.measured.launch, "gaps", name_of(gap)).least` is
    open, with a field of its own, for a gap that nobody marked.
    """
    if not isinstance(holder, Node):
        raise TypeError(f"{holder!r:.60} is no section of the build")
    known = getattr(holder, collection).get(name)
    return node_at(holder._spot.unstated(collection, name), holder._view) if known is None else known


def is_fitted(part: object) -> bool:
    """Whether the build has a part. A part that the spec does not mention at all is unknown.

    >>> # if is_fitted(build.driveline.transfer): ratio *= build.driveline.transfer.high
    """
    if not isinstance(part, Node):
        raise TypeError(f"{part!r} is not a part of the build")
    view: Any = part._view
    spot = part._spot
    off = spot.off if spot.off is not None else part._not_fitted()
    view.record(spot.fitted or part._says_fitted())
    if off:
        return False
    if spot.raw is not None:
        return True
    path = spot.path
    if f"{path}." in view.imagined:
        return True
    if any(field.startswith(f"{path}.") and new is not None for field, new in view.changes.items()):
        return True
    view.note_missing(path)
    if view.probing and not ASKING.optionally:
        return False
    raise Unknown(path, view)


def given(read: Callable[[], T]) -> T | None:
    """What `read` returns, or None where a field that it reads is not stated, or is a limit that no maker sets.

    >>> # cruise = given(lambda: build.engine.speed.cruise_low)
    """
    depth = ASKING.optionally
    ASKING.optionally = depth + 1
    try:
        return read()
    except (Unknown, NotFitted, NoLimit):
        return None
    finally:
        ASKING.optionally = depth


def limit_or_none(read: Callable[[], T]) -> T | None:
    """What `read` returns, or None where the spec or sheet says that the maker states no such limit.

    A limit that nobody has looked up ends the rule as any other field does: it is asked for.

    >>> # rated = limit_or_none(lambda: build.driveline.gearbox.gcw_rating)
    """
    try:
        return read()
    except NoLimit:
        return None


def once(function: F) -> F:
    """Work a function of the build out once for each view, for what many rules and quantities ask.

    What it read counts as read each time that it is asked. Its arguments after the build are parts, words or numbers.
    All who ask are given the same: so a list is handed on as a tuple, and a mapping or set as one that nobody can
    change. What is used up by whoever looks at it first, such as a generator, is refused.

    >>> # @once, on the line above: def driven_axles(build: Build) -> tuple[Axle, ...]
    """

    @functools.wraps(function)
    def asked(build: Build, *arguments: Any) -> Any:
        view = view_of(build)
        optionally = ASKING.optionally
        alone = bool(optionally and view.probing)  # such a read answers otherwise than the same one elsewhere
        key = (function, alone, *map(argument_key, arguments))
        known = view.worked_out(key)
        if known is None:
            reads = Reads()
            view.stack.append(reads)
            ASKING.optionally = 1 if alone else 0
            try:
                known = reads, _lasting(function(build, *arguments), function)
            except (Unknown, NotFitted, NoLimit, ValueError) as problem:
                known = reads, _Failed(problem.with_traceback(None))
            finally:
                view.stack.pop()
                ASKING.optionally = optionally
            if not reads.circular:
                view.keep(key, *known)
        reads, value = known
        if not isinstance(value, _Failed):
            view.reads().take_over(reads)
            return value
        if optionally and not alone and isinstance(value.problem, Unknown):
            view.reads().add_as_optional(reads)
        else:
            view.reads().take_over(reads)
        raise value.anew(view)

    return cast(F, asked)


class _Failed:
    """Why a function that is asked once for all gives nothing: a field is not stated, a part not fitted."""

    __slots__ = ("problem",)

    def __init__(self, problem: Exception) -> None:
        self.problem = problem

    def anew(self, view: View) -> Exception:
        """The same to be raised again, for whoever asks."""
        problem = self.problem
        if isinstance(problem, Unknown | NoLimit):
            return type(problem)(problem.path, view)
        return problem.with_traceback(None)  # else it would hold the frames of all who asked before


def _lasting(value: Any, function: Callable[..., Any]) -> Any:
    """What a function gives, in a form that nobody can change for those who ask after him."""
    if isinstance(value, Iterator):
        raise TypeError(f"{function.__name__} is asked once for all: let it give a tuple, which is not used up")
    if isinstance(value, dict):
        return MappingProxyType({key: _lasting(one, function) for key, one in value.items()})
    if type(value) in (list, tuple):
        return tuple(_lasting(one, function) for one in value)
    return frozenset(value) if isinstance(value, set) else value


def argument_key(argument: object) -> Any:
    """What tells an argument of a quantity or of a function that is asked once from others."""
    if isinstance(argument, Node):
        return argument._spot.path
    return (argument, argument.path) if isinstance(argument, Value) else argument


def only_asking(build: Build) -> bool:
    """Whether a rule is run on typical values, only to learn what else it asks for.

    No verdict comes from that: what is worked out for the words alone, and reads nothing new, can be left out.
    """
    return view_of(build).probing


def view_of(build: Build) -> View:
    """The view behind a build."""
    node: Any = build
    view: View = node._view
    return view


def section_of(build: Build, model: type[S]) -> S:
    """The section that a rule pack adds to the build spec, typed as the pack's own model.

    A pack `acme` whose `Pack(section=Hoist)` adds the fields of `Hoist` reads them as any others. Raises `LookupError`
    where no loaded pack adds that section.

    >>> # at_most(section_of(build, Hoist).load, section_of(build, Hoist).rated_load)
    """
    node = cast(Node, build)
    for name, member in node._spot.members.items():
        if member.role == "part" and member.model is model:
            return cast(S, getattr(node, name))
    raise LookupError(f"no loaded rule pack adds a section {model.__name__} to the build spec")


def at(build: Build, changes: Mapping[str, float | bool | str | None]) -> Build:
    """The same build with other values in some fields, in SI; None takes a field away.

    For a rule or quantity that must look at another case: what it reads there counts as read, as from the build itself.

    >>> # hot = at(build, {"build.design.ambient_max": 318.15})
    """
    view = view_of(build)
    other = view.changed({path: None if new is None else _as_stated(new) for path, new in changes.items()})
    other.stack, other.estimating = view.stack, view.estimating  # one record for both
    if view.probing:  # and one list of parts made up: a rule may be asked about a part that the other view made up
        view.imagined.update(other.imagined)
        other.imagined = view.imagined
    return other.build


def _as_stated(value: float | bool | str) -> Stated:
    return Stated(float(value) if isinstance(value, int) and not isinstance(value, bool) else value, written=str(value))


def each_of(*collections: Mapping[str, T] | Sequence[T]) -> list[T]:
    """The parts of one or several collections, as a list."""
    out: list[T] = []
    for collection in collections:
        out.extend(collection.values() if isinstance(collection, Mapping) else collection)
    return out
