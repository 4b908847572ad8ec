"""The exit statuses, and which of them problems ask for."""

from __future__ import annotations

from collections.abc import Iterable

from swaplint.host.problems import Problem

OK, SHUT, UNREADABLE, BROKEN = 0, 1, 2, 3
"""The gate is open; it is shut; a spec or the call could not be read; a rule or plugin broke."""


def status_of(problems: Iterable[Problem]) -> int:
    """The exit status that problems ask for: whatever could not be read goes before what broke."""
    abouts = {problem.about for problem in problems}
    return UNREADABLE if "input" in abouts else BROKEN if abouts else OK
