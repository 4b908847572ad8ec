"""Rules and quantities made on the spot, and inspections with nothing but them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from swaplint.api import Build, Rule, practice, rule
from swaplint.host.packs import LoadedPack, RuleBase
from swaplint.host.problems import Problem
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Inspection
from swaplint.spec.job import Stage
from swaplint.spec.loading import load_text

SOURCE = practice("invented for a test")
DOC = """Is it as it should be?

Computes: nothing of use.
Limit: an invented limit.
Consequence: nothing that anybody would notice.
Remedy: change it.
Cannot tell: anything else.
"""


def made(id: str, function: Callable[..., Any], **declared: Any) -> Rule:
    """A rule out of a function."""
    function.__doc__ = DOC
    declared = {"level": "error", "due": "build", "sources": [SOURCE], "about": "engine", **declared}
    return rule(id, **declared)(function)


def base_of(*rules: Rule, model: Any = Build) -> RuleBase:
    """A rule base with one pack."""
    return RuleBase([LoadedPack("made-up", "1", False, list(rules))], [], model)


def inspected(
    toml: str, *rules: Rule, stage: Stage | None = None, model: Any = Build
) -> tuple[Inspection, Sequence[Problem]]:
    """A spec, inspected with some rules."""
    return inspect(base_of(*rules, model=model), load_text(toml, label="s.toml", model=model), stage)
