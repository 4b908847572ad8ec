"""Collections that every such build has something in: written empty they are a gap, and not an answer."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from swaplint.api import Build, at, each_of, value_at

T = TypeVar("T")


def needed(build: Build, collection: str, found: Sequence[T]) -> list[T]:
    """The parts found. Where there is none the collection counts as not stated, and what reads it is open."""
    return list(found) or each_of(value_at(at(build, {collection: None}), collection))
