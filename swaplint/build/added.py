"""Of which systems there may be more or fewer stated fields where something else stands at a path."""

from __future__ import annotations

import functools

from swaplint.spec.fields import Section
from swaplint.spec.shape import members, pattern_at, system_of
from swaplint.spec.systems import SYSTEMS

EVERY_SYSTEM = frozenset((*SYSTEMS, ""))
"""The systems of the job, and what belongs to none of them."""


@functools.cache
def system_or_none(model: type[Section]) -> str:
    """The system that a section's own fields belong to; empty for none."""
    system = system_of(model)
    return system if system in SYSTEMS else ""


@functools.lru_cache(maxsize=8192)
def systems_at(model: type[Section], path: str) -> frozenset[str]:
    """The system of a plain field; those of all in and below a part or collection, and where `fitted` speaks of it."""
    member = pattern_at(model, path)[1]
    if member is None:
        return EVERY_SYSTEM
    if member.facts is None:
        return EVERY_SYSTEM if member.model is None else _below(member.model)
    holder = path.rpartition(".")[0]
    above = pattern_at(model, holder)[1] if holder else None
    if holder and (above is None or above.model is None):
        return EVERY_SYSTEM
    section = above.model if above is not None and above.model is not None else model
    return _below(section) if path.endswith(".fitted") else frozenset({system_or_none(section)})


@functools.cache
def _below(model: type[Section]) -> frozenset[str]:
    """The systems of a section's own fields and of all below it."""
    parts = [_below(member.model) for member in members(model).values() if member.model is not None]
    return frozenset({system_or_none(model)}).union(*parts)
