"""Could a verdict turn, and turn back again, between two values at which a rule has been asked?

What cannot be seen from both ends of a stretch is told from how the margin moves: it could turn where it comes as near
to zero as it moves there, or in the stretches next to it, for a peak between two values may leave them alike.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from swaplint.inspecting.results import Finding

NEAR = 2.0
"""A verdict could turn if its margin is less than so many times what it moves."""

Judged = Mapping[str, Finding]
"""What a rule finds at one value, by part and demand."""


def moved(one: Judged, other: Judged) -> dict[str, float]:
    """How far each part's margin moves from one value to another.

    Endless where a verdict turns, and where one has no margin, but for a rule that judges neither: it stays with that.
    """
    out = {}
    for part in (*one, *other):
        before, after = one.get(part), other.get(part)
        if before is None or after is None or before.kind != after.kind:
            out[part] = math.inf
        elif before.margin is not None and after.margin is not None:
            out[part] = abs(before.margin - after.margin)
        else:
            judges_neither = before.margin is after.margin and before.kind not in ("pass", "fail")
            out[part] = 0.0 if judges_neither else math.inf
    return out


def may_turn(one: Judged, other: Judged, steps: Sequence[Mapping[str, float]]) -> bool:
    """Whether a verdict could turn between two values, and back again, as its margin moves there and next to them."""
    for part in (*one, *other):
        furthest = max(step.get(part, math.inf) for step in steps)
        margins = [abs(f.margin) for f in (one.get(part), other.get(part)) if f is not None and f.margin is not None]
        if furthest == math.inf or (margins and min(margins) <= NEAR * furthest):
            return True
    return False
