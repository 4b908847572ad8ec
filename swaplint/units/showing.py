"""Which unit system numbers are shown in, and what they are about while they are put into words.

There is one setting for the whole process, metric unless somebody chooses otherwise. What is shown to a program (JSON,
SARIF) is always metric: whoever writes it says so with `showing_in("metric")`.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Literal, get_args

System = Literal["metric", "inch-pound"]
UNIT_SYSTEMS: tuple[System, ...] = get_args(System)
"""The unit systems of a workshop; the first is the one that holds where nobody chooses."""


class _Showing:
    """The setting in force."""

    __slots__ = ("about", "system")

    def __init__(self) -> None:
        self.system: System | None = None
        """None where nobody has chosen."""
        self.about = ""
        """The rule that is being run, or the field that a value is looked for of: some units hang on it."""

    @property
    def inch_pound(self) -> bool:
        """Whether numbers are shown in inch-pound units."""
        return self.system == "inch-pound"


SHOWING = _Showing()


@contextmanager
def showing_in(system: System | None) -> Iterator[None]:
    """Show numbers in a unit system for a while; None where nobody has chosen one.

    >>> from swaplint.units.output import shown
    >>> with showing_in("inch-pound"):
    ...     shown(0.0079375, "length", "mm")
    '5/16 in'
    """
    before = SHOWING.system
    SHOWING.system = system
    try:
        yield
    finally:
        SHOWING.system = before


@contextmanager
def telling_of(what: str) -> Iterator[None]:
    """While this lasts, numbers that do not know where they come from are about a rule, a quantity or a field."""
    before = SHOWING.about
    SHOWING.about = what
    try:
        yield
    finally:
        SHOWING.about = before
