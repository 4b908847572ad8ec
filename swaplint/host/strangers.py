"""Packs that are not built in: found before anything of them is imported, and what of them is set aside in this run.

A stranger's pack is code of somebody else's. A command that loads one runs in a process that is watched over, see
`swaplint.host.overseer`; what ended that process, or would not end itself, is set aside when the command begins again.
"""

from __future__ import annotations

import contextlib
import importlib.metadata
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from swaplint import __version__

PROJECT = "swaplint"
ENTRY_POINTS = "swaplint"
"""The group of entry points by which installed packs are found."""

ALL = "*"
"""Set aside under this name: every pack that is not built in."""


class FoundPack(NamedTuple):
    """An installed pack, not yet imported."""

    entry: importlib.metadata.EntryPoint
    version: str
    built_in: bool


class _Strangers:
    """What this process knows of the packs that are not built in."""

    def __init__(self) -> None:
        self.found: list[FoundPack] | None = None
        """The installed packs, where somebody has looked already."""
        self.aside: dict[str, str] = {}
        """What is not run, and why: `rule ID`, `quantity ID`, `pack NAME`, or `ALL`."""
        self.origin: dict[str, str] = {}
        """Which pack a rule or quantity is from, by `rule ID` or `quantity ID`: only those that are not built in."""

    @contextlib.contextmanager
    def without(self, aside: Iterable[tuple[str, str]]) -> Iterator[None]:
        """Set more aside for a while."""
        before, self.aside = self.aside, {**self.aside, **dict(aside)}
        try:
            yield
        finally:
            self.aside = before

    def why_aside(self, what: str) -> str | None:
        """Why a rule, quantity or pack is set aside, as the end of a sentence; None where it is not."""
        why = self.aside.get(what)
        if why is None and ALL in self.aside and (what in self.origin or what.startswith("pack ")):
            why = self.aside[ALL]
        return why


STRANGERS = _Strangers()


def installed_packs() -> list[FoundPack]:
    """The installed packs, the built-in ones first, so that nobody else can take their ids."""
    found, STRANGERS.found = STRANGERS.found, None
    return _look() if found is None else found


def takes_in_strangers(arguments: Sequence[str]) -> bool:
    """Whether a call may load packs that are not built in: named in it, or installed."""
    if any(word.startswith("--p") for word in arguments):  # --pack and its short forms
        return True
    STRANGERS.found = _look()
    return not all(pack.built_in for pack in STRANGERS.found)


def _look() -> list[FoundPack]:
    found = [pack for one in _distributions() for pack in _packs_of(one)]
    return sorted(found, key=lambda pack: (not pack.built_in, pack.entry.name, pack.entry.value))


def _distributions() -> Iterator[importlib.metadata.Distribution]:
    """Every installed distribution, of several with one name the first: that is the one which is imported."""
    seen: set[str] = set()
    for one in importlib.metadata.distributions():
        # The name as its folder has it: the metadata itself is read of those alone that have a pack.
        folder = getattr(one, "_path", None)
        name = _named_by(getattr(folder, "name", "")) or str(id(one))
        if name not in seen:
            seen.add(name)
            yield one


def _named_by(folder: str) -> str:
    """The name of a distribution by its folder: that of a checkout has no version in it.

    >>> _named_by("acme_rules-1.0.dist-info"), _named_by("acme_rules.egg-info"), _named_by("Acme.Rules-2.egg-info")
    ('acme_rules', 'acme_rules', 'acme_rules')
    """
    stem = folder.removesuffix(".dist-info").removesuffix(".egg-info")
    return stem.partition("-")[0].lower().replace(".", "_")


def _packs_of(one: importlib.metadata.Distribution) -> list[FoundPack]:
    """The packs of a distribution. What nobody can read has none: that is no matter of ours."""
    try:
        text = one.read_text("entry_points.txt")
        if not text or f"[{ENTRY_POINTS}]" not in text.replace(" ", ""):
            return []
        entries = [entry for entry in one.entry_points if entry.group == ENTRY_POINTS]
    except Exception:
        return []
    name, version = "", ""
    with contextlib.suppress(Exception):  # its entry points stand in a file of their own
        name, version = one.metadata["Name"] or "", one.metadata["Version"] or ""
    own = name == PROJECT
    # A checkout that is installed for working on keeps the version of the day on which it was installed.
    return [FoundPack(entry, __version__ if own else version, own) for entry in entries]
