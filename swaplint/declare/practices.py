"""Common-practice fallbacks: what stands in for a value that nobody states, named in the result."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from swaplint.build.nodes import ASKING, NoLimit, Noticing, Unknown
from swaplint.build.reading import view_of
from swaplint.declare.sources import Source
from swaplint.spec.model import Build


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
    between: tuple[float, float] | None = None
    """In SI, from where to where it is found in practice, where that is known: an error that turns within it is none,
    nor is a pass that turns into an error, and a person decides."""

    def __post_init__(self) -> None:
        """Refuse what is no practice: without a name, a source and a number."""
        if not isinstance(self.name, str) or not isinstance(self.source, Source):
            raise TypeError(f"{self.name!r}: a fallback has a name and a source")
        if not math.isfinite(self.value):
            raise ValueError(f"{self.name}: a fallback must be a finite number")
        low, high = self.between or (self.value, self.value)
        if not -math.inf < low <= self.value <= high < math.inf:
            raise ValueError(f"{self.name}: what is found in practice lies on both sides of what is taken")

    @property
    def cited(self) -> Source:
        """Its source as that of the number that stands in."""
        return self.source if self.source.gives else self.source.giving("fallback", self.name)


def with_fallbacks(sources: Iterable[Source], practices: Iterable[Practice]) -> tuple[Source, ...]:
    """Sources, and those of the fallbacks that stood in beside them, where they do not cite these as such already.

    >>> from swaplint.declare.sources import practice
    >>> rubber = practice("engine mounts of rubber")
    >>> stood_in = [Practice("a dynamic factor of 1.4", 1.4, rubber)]
    >>> [source.what for source in with_fallbacks([rubber.giving("formula", "what rubber does")], stood_in)]
    ['what rubber does', 'a dynamic factor of 1.4']
    >>> [source.what for source in with_fallbacks([rubber.giving("fallback", "1.2 to 1.6")], stood_in)]
    ['1.2 to 1.6']
    """
    own = tuple(sources)
    named = {source.title for source in own if source.gives == "fallback"}
    return tuple(dict.fromkeys((*own, *(each.cited for each in practices if each.source.title not in named))))


def or_practice(read: Callable[[], float], practice: Practice) -> float:
    """What `read` returns, or the value of a common-practice fallback where that is not stated.

    The same where it is a limit of which is said that its maker states none: then nothing is missing.

    >>> # limit = or_practice(lambda: build.engine.fuel.max_return_pressure, RETURN_PRESSURE)
    """
    depth = ASKING.optionally
    ASKING.optionally = depth + 1
    try:
        return read()
    except Unknown as unknown:
        unknown.view.reads().begun("unknown")[unknown.path] = None
        return _standing_in(unknown.view, practice)
    except NoLimit as none:
        return _standing_in(none.view, practice)
    finally:
        ASKING.optionally = depth


def use_practice(build: Build, practice: Practice) -> float:
    """The value of a common-practice fallback, noted in the result, where the rule finds by itself that it needs it."""
    return _standing_in(view_of(build), practice)


def _standing_in(view: Noticing, practice: Practice) -> float:
    view.reads().begun("practices")[practice.name] = practice
    return view.standing_in(practice.name, practice.value)
