"""Numbers that are asked for are rounded so that they are enough as they are printed."""

from __future__ import annotations

import math


def up(value: float, step: float) -> float:
    """The next multiple of a step that is no smaller; what is left over from the arithmetic makes no step more."""
    return math.ceil(value / step - 1e-9) * step
