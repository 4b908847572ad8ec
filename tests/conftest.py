"""Settings that all tests share, and surroundings for those of the command line."""

from __future__ import annotations

import contextlib
import functools
import gc
import os
import sys
import tempfile
from collections.abc import Generator, Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from _pytest.doctest import DoctestModule
from hypothesis import settings

from swaplint.host.packs import RuleBase, load_rule_base

# How long an example takes is a property of the machine, not of the program: a busy one must not fail a test.
# The suite draws the same examples each time, so that a red run is about the change at hand; the profile
# `searching` draws new ones (HYPOTHESIS_PROFILE=searching), and what it finds becomes an @example.
settings.register_profile("steady", deadline=None, derandomize=True)
settings.register_profile("searching", deadline=None, max_examples=1000)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "steady"))


# -- the command line: packs that are loaded once, and surroundings that say nothing -----------------------------------
@functools.cache
def _installed_packs() -> RuleBase:
    return load_rule_base()


def _load(packs: Sequence[str] = ()) -> RuleBase:
    """The installed packs as loaded once, in a base of its own for each call; with a pack file, loaded anew."""
    if packs:
        return load_rule_base(packs)
    base = _installed_packs()
    return replace(base, packs=list(base.packs), problems=list(base.problems), unread=set(base.unread))


WITH_COMMANDS = {"cli", "decisions", "reports", "rules", "solving", "spec", "units", "writing"}
"""Folders of tests that call the command in this process; those of the host and of the kit look at the loading."""


@pytest.fixture(autouse=True)
def _quiet_command_line(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    if request.path.parent.name not in WITH_COMMANDS:
        return
    monkeypatch.setattr("swaplint.cli.reading.load_rule_base", _load)
    for name in ("NO_COLOR", "FORCE_COLOR", "COLUMNS"):
        monkeypatch.delenv(name, raising=False)


# -- collecting: what would cost more than the tests themselves --------------------------------------------------------
gc.disable()  # until all tests are collected, of which none is garbage


def pytest_collection_finish(session: pytest.Session) -> None:
    """Leave the many thousand tests out of what is looked through for garbage again and again: a fifth of the time."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(100_000, 20, 100)
    gc.enable()


@pytest.hookimpl(wrapper=True, tryfirst=True)
def pytest_collection(session: pytest.Session) -> Generator[None, object, object]:
    """Where nothing is compiled yet, one of the processes that share the tests compiles all; the others wait for it."""
    shared = os.environ.get("PYTEST_XDIST_TESTRUNUID")
    if shared is None or sys.dont_write_bytecode or any(Path(__file__).parent.glob("units/__pycache__/*pytest*.pyc")):
        return (yield)
    with _after_the_first(Path(tempfile.gettempdir()) / f"compiled-{shared}"):
        return (yield)


@contextlib.contextmanager
def _after_the_first(lock: Path) -> Iterator[None]:
    """The first process that comes goes on at once, the others once it is done. Where files have no locks, all do."""
    try:
        import fcntl
    except ImportError:
        yield
        return
    with lock.open("wb") as held:
        try:
            fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            fcntl.flock(held, fcntl.LOCK_SH)
        yield
    lock.unlink(missing_ok=True)


@pytest.hookimpl(wrapper=True)
def pytest_collect_file(
    file_path: Path, parent: pytest.Collector
) -> Generator[None, list[pytest.Collector], list[pytest.Collector]]:
    """Look for examples in docstrings in the program alone: the tests have none, and each would be read through."""
    return [found for found in (yield) if not isinstance(found, DoctestModule)]
