"""What all tests of the command line share: packs that are loaded once, and surroundings that say nothing."""

from __future__ import annotations

import functools
from collections.abc import Sequence
from dataclasses import replace

import pytest

from swaplint.host.packs import RuleBase, load_rule_base


@functools.cache
def _installed_packs() -> RuleBase:
    return load_rule_base()


def _load(packs: Sequence[str] = ()) -> RuleBase:
    """The installed packs as loaded once, in a base of its own for each call; with a pack file, loaded anew."""
    if packs:
        return load_rule_base(packs)
    base = _installed_packs()
    return replace(base, packs=list(base.packs), problems=list(base.problems), unread=set(base.unread))


@pytest.fixture(autouse=True)
def _packs_loaded_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("swaplint.cli.reading.load_rule_base", _load)


@pytest.fixture(autouse=True)
def _plain_surroundings(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("NO_COLOR", "FORCE_COLOR", "COLUMNS"):
        monkeypatch.delenv(name, raising=False)
