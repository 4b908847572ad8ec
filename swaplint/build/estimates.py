"""Estimates: quantities that stand in for a field which the spec does not state, from what somebody can measure.

Where an old vehicle has no data sheet for a number, a pack declares a quantity that stands in for the field. A view
asks it where the field is read and not stated. What it gives has the basis `calculated` and the tolerance that the pack
declares; without it the field is as unknown as before.
"""

from __future__ import annotations

import functools
from collections.abc import Mapping
from typing import Any, NamedTuple, Protocol

from swaplint.build.reads import Reads
from swaplint.spec.fields import Section
from swaplint.spec.shape import pattern_at


class Estimate(Protocol):
    """What a view asks of a quantity that stands in for a field."""

    id: str
    stands_in_for: str
    """The field, `*` for a part's name and `[]` for an item."""
    tolerance: float
    """Half-width of the tolerance as a share of the value: twice the accuracy of the formula."""
    sources: tuple[Any, ...]
    """What it rests on."""

    @property
    def title(self) -> str:
        """What the number is."""

    @property
    def within(self) -> str:
        """Its tolerance in words."""

    @property
    def from_memory(self) -> bool:
        """Whether nobody looked its formula up."""

    def __call__(self, *arguments: Any) -> float:
        """The value, in SI, for the build and for the part that holds the field where there are several."""


class Estimated(NamedTuple):
    """A field that nobody states, as it was estimated."""

    field: str
    value: float
    """In SI."""
    tol: float
    """Half-width of the tolerance, in SI."""
    by: Estimate
    read: tuple[str, ...]
    """The fields that it was worked out from."""


def estimates_for(model: type[Section], path: str) -> tuple[Estimate, ...]:
    """The quantities that stand in for a field, the closest first."""
    return _at_path(model, path) if model.estimates else ()


@functools.lru_cache(maxsize=8192)
def _at_path(model: type[Section], path: str) -> tuple[Estimate, ...]:
    found: tuple[Estimate, ...] = model.estimates.get(pattern_at(model, path)[0], ())
    return found


def by_field(estimates: list[Estimate]) -> Mapping[str, tuple[Estimate, ...]]:
    """Estimates by the field that they stand in for; of several for one field the closest comes first."""
    out: dict[str, tuple[Estimate, ...]] = {}
    for estimate in sorted(estimates, key=lambda one: (one.tolerance, one.id)):
        out[estimate.stands_in_for] = (*out.get(estimate.stands_in_for, ()), estimate)
    return out


def about_a_part(pattern: str) -> bool:
    """Whether a field stands in one of several parts, so that an estimate is made for each."""
    return "*" in pattern or "[" in pattern


def tried_in_vain(reads: Reads, own: Reads) -> None:
    """Note what an estimate that has no value asked for: whoever states it changes the answer."""
    reads.begun("tried").update({**own.fields, **own.tried})
    reads.begun("listed").update(own.listed)
    reads.begun("circular").update(own.circular)
    reads.all_stated |= own.all_stated
    reads.anything = reads.anything or own.anything
