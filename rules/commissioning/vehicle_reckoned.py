"""To come."""

from collections.abc import Callable

from swaplint.api import Build, Verdict

COMPARISONS: dict[str, tuple[tuple[str, ...], Callable[[Build], Verdict]]] = {}
