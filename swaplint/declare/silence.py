"""Silence never passes, unless a rule or quantity says why it may: which facts it does without, and what stands in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

NOTHING: Mapping[str, Any] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Silence:
    """The facts that a rule or quantity does without, though a value of them could turn a pass into a fail."""

    without: tuple[tuple[str, str], ...] = ()
    """Each field with the sentence that says why its absence is safe."""
    instead: tuple[tuple[str, tuple[str, ...]], ...] = ()
    """Each field with those of which one, where it is stated, takes its place."""

    @property
    def fields(self) -> Iterator[str]:
        """Every field that is named."""
        for field, _ in self.without:
            yield field
        for field, others in self.instead:
            yield field
            yield from others


NO_SILENCE = Silence()


def silence_of(without: Mapping[str, str], instead: Mapping[str, str | Sequence[str]]) -> Silence:
    """As rules and quantities declare it."""
    others = {field: (other,) if isinstance(other, str) else tuple(other) for field, other in instead.items()}
    return Silence(tuple(without.items()), tuple(others.items()))


def wrong_with_silence(made: Silence) -> str:
    """What is wrong with a declaration, as the end of a sentence; empty where it is sound."""
    for field, why in made.without:
        if not isinstance(why, str) or not _is_sentence(why):
            return f"`without` says of {field!r:.80} in a sentence, with the bound that makes it so, why that is safe"
    if not all(isinstance(field, str) and field for field in made.fields) or not all(o for _, o in made.instead):
        return "`without` and `instead` name fields as texts"
    twice = {field for field, _ in made.without} & {field for field, _ in made.instead}
    return f"{min(twice)} stands in `without` and in `instead`" if twice else ""


def _is_sentence(text: str) -> bool:
    return text[:1].isupper() and text.endswith(".") and text.count(" ") >= 3
