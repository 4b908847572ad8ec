"""The hook by which a pack gives its rules to the host, and what a pack is.

A pack is a module with one function:

    @hookimpl
    def swaplint_pack() -> Pack:
        return Pack("acme", interface=1, rules=[…], quantities=[…])

It is found through the entry-point group `swaplint`, or named as a file on the command line. pluggy collects the
packs; the host runs their rules, one by one.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import pluggy

from swaplint.quantities import Quantity
from swaplint.rule import Rule
from swaplint.spec.fields import Section

PROJECT = "swaplint"
INTERFACE = 1
"""The version of the rule interface: what `swaplint.api` offers. A pack states the one that it was written for."""

hookspec = pluggy.HookspecMarker(PROJECT)
hookimpl = pluggy.HookimplMarker(PROJECT)


@dataclass(frozen=True, slots=True)
class Pack:
    """A pack of rules as its author declares it."""

    name: str
    interface: int
    """The version of the rule interface that the pack was written for: 1."""
    rules: Sequence[Rule] = ()
    quantities: Sequence[Quantity[Any]] = ()
    section: type[Section] | None = None
    """Fields of the pack's own: the spec section under the pack's name, hyphens as underscores."""
    version: str = ""
    """Taken from the installed distribution where empty."""
    info: Mapping[str, str] = field(default_factory=dict)


class Hooks:
    """The hook specifications."""

    @hookspec
    def swaplint_pack(self) -> Pack:
        """Return the pack."""
        raise NotImplementedError
