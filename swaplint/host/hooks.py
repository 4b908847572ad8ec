"""The hook by which a pack gives its rules to the host, and what a pack is.

A pack is a module with one function:

    @hookimpl
    def swaplint_pack() -> Pack:
        return Pack("acme", interface=2, rules=rules_in(__name__), quantities=quantities_in(__name__))

It is found through the entry-point group `swaplint`, or named as a file on the command line. pluggy collects the
packs; the host runs their rules, one by one.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass, field
from types import ModuleType
from typing import Any, TypeVar

import pluggy

from swaplint.declare.quantities import Quantity
from swaplint.declare.rule import Edits, Rule
from swaplint.spec.fields import Section

PROJECT = "swaplint"
INTERFACE = 2
"""The version of the rule interface: what `swaplint.api` offers. A pack states the one that it was written for."""

T = TypeVar("T")

hookspec = pluggy.HookspecMarker(PROJECT)
hookimpl = pluggy.HookimplMarker(PROJECT)


@dataclass(frozen=True, slots=True)
class Pack:
    """A pack of rules as its author declares it."""

    name: str
    interface: int
    """The version of the rule interface that the pack was written for: 2."""
    rules: Sequence[Rule] = ()
    quantities: Sequence[Quantity[Any]] = ()
    section: type[Section] | None = None
    """Fields of the pack's own: the spec section under the pack's name, hyphens as underscores."""
    version: str = ""
    """Taken from the installed distribution where empty."""
    sound: Edits = field(default_factory=dict)
    """Edits that complete the shared sound spec with the pack's own fields, for its derived tests."""


def rules_in(*modules: ModuleType | str) -> list[Rule]:
    """Every rule declared in some modules, in the order of declaration: `rules_in(__name__)` for a pack of one file."""
    return _declared_in(modules, Rule)


def quantities_in(*modules: ModuleType | str) -> list[Quantity[Any]]:
    """Every quantity declared in some modules, in the order of declaration."""
    return _declared_in(modules, Quantity)


def _declared_in(modules: Sequence[ModuleType | str], wanted: type[T]) -> list[T]:
    out: list[T] = []
    for entry in modules:
        module = sys.modules[entry] if isinstance(entry, str) else entry
        for thing in vars(module).values():
            declared_here = isinstance(thing, wanted) and thing.function.__module__ == module.__name__  # type: ignore[attr-defined]
            if declared_here and not any(thing is other for other in out):
                out.append(thing)
    return out


class Hooks:
    """The hook specifications."""

    @hookspec
    def swaplint_pack(self) -> Pack:
        """Return the pack."""
        raise NotImplementedError
