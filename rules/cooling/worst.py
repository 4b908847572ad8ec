"""One verdict over several places: the worst counts."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from swaplint.api import Verdict, given


def worst_place(judged: Sequence[Callable[[], Verdict]]) -> Verdict:
    """The verdict at the worst place. One that cannot be judged leaves it open, unless another fails."""
    known = [verdict for verdict in (given(judge) for judge in judged) if verdict is not None]
    if len(known) < len(judged) and not any(verdict.kind == "fail" for verdict in known):
        known = [judge() for judge in judged]  # reads again what is missing at a place, and so asks for it
    return min(known, key=lambda verdict: verdict.margin or 0.0)
