"""The hook by which a pack gives its rules to the host, and what a pack is.

A pack is a module with one function:

    @hookimpl
    def swaplint_pack() -> Pack:
        return Pack("acme", interface=2, rules=rules_in(__name__), quantities=quantities_in(__name__))

A pack may have steps for the checklist, too: `steps=steps_in(__name__)`.

It is found through the entry-point group `swaplint`, or named as a file on the command line. pluggy collects the
packs; the host runs their rules, one by one.
"""

from __future__ import annotations

import importlib
import pkgutil
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from types import ModuleType
from typing import Any, TypeVar

import pluggy

from swaplint.declare.figures import DeclaredFigure
from swaplint.declare.listings import Listing
from swaplint.declare.quantities import Quantity
from swaplint.declare.rule import Edits, Rule
from swaplint.declare.steps import Step
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
    sheets: Path | None = None
    """A folder of data sheets that the pack brings: a spec names them as those that stand beside it."""
    sound: Edits = field(default_factory=dict)
    """Edits that complete the shared sound spec with the pack's own fields, for its derived tests."""
    steps: Sequence[Step] = ()
    """What the pack adds to the checklist."""
    figures: Sequence[DeclaredFigure] = ()
    listings: Sequence[Listing] = ()
    """What it adds to the take-off."""


def rules_in(*modules: ModuleType | str) -> list[Rule]:
    """Every rule declared in some modules: `rules_in(__name__)`. Of a package, in all modules that lie in it."""
    return _declared_in(modules, Rule)


def quantities_in(*modules: ModuleType | str) -> list[Quantity[Any]]:
    """Every quantity declared in some modules, and in all that lie in a package."""
    return _declared_in(modules, Quantity)


def steps_in(*modules: ModuleType | str) -> list[Step]:
    """Every step declared in some modules, and in all that lie in a package."""
    return _declared_in(modules, Step)


def figures_in(*modules: ModuleType | str) -> list[DeclaredFigure]:
    """Every figure declared in some modules, and in all that lie in a package."""
    return _declared_in(modules, DeclaredFigure)


def listings_in(*modules: ModuleType | str) -> list[Listing]:
    """Every listing declared in some modules, and in all that lie in a package."""
    return _declared_in(modules, Listing)


def _declared_in(modules: Sequence[ModuleType | str], wanted: type[T]) -> list[T]:
    out: list[T] = []
    for module in (inner for entry in modules for inner in _with_inner(entry)):
        for thing in vars(module).values():
            declared_here = isinstance(thing, wanted) and thing.function.__module__ == module.__name__  # type: ignore[attr-defined]
            if declared_here and not any(thing is other for other in out):
                out.append(thing)
    return out


def _with_inner(entry: ModuleType | str) -> Iterator[ModuleType]:
    """A module, and the modules that lie in it if it is a package."""
    module = sys.modules[entry] if isinstance(entry, str) else entry
    yield module
    if hasattr(module, "__path__"):
        for inner in pkgutil.iter_modules(module.__path__):
            yield from _with_inner(importlib.import_module(f"{module.__name__}.{inner.name}"))


class Hooks:
    """The hook specifications."""

    @hookspec
    def swaplint_pack(self) -> Pack:
        """Return the pack."""
        raise NotImplementedError
