"""Where a formula that cannot be turned round gives what is wanted: step by step, or between two ends."""

from __future__ import annotations

from collections.abc import Callable

from swaplint.engineering.guards import ImpossibleInput

MOST_STEPS = 200
"""Steps after which either way has long ended: what leaves seven tenths of the error each time takes a hundred."""

ROUNDING = 1e-15
"""Share of a value that is the last digit of what a computer keeps of it."""


def settled(value: float, nearer: Callable[[float], float]) -> float:
    """Return where a value comes to rest that a function brings nearer again and again.

    For functions of which it is known that they close in on one value.

    >>> round(settled(1.0, lambda x: 1.0 + x / 2.0), 12)
    2.0
    """
    for _ in range(MOST_STEPS):
        before, value = value, nearer(value)
        if _same(value, before):
            break
    return value


def crossing(function: Callable[[float], float], low: float, high: float) -> float:
    """Return where a rising `function` crosses zero between `low` (not above zero) and `high` (not below).

    Raises:
        ImpossibleInput: the function does not change from negative to positive between the two.

    Source: false position, halving the value of an end that stays (the Illinois method, Dowell and Jarratt 1971, from
    memory).

    >>> round(crossing(lambda x: x * x - 2.0, 0.0, 2.0), 12)
    1.414213562373
    """
    below, above = function(low), function(high)
    if below > 0.0 or above < 0.0:
        raise ImpossibleInput(f"no crossing between {low:g} and {high:g}")
    for end, value in ((low, below), (high, above)):
        if value == 0.0:
            return end
    last, low_stays, high_stays = low, False, False
    for _ in range(MOST_STEPS):
        middle = low - below * (high - low) / (above - below)
        if not low < middle < high:
            middle = 0.5 * (low + high)
        if _same(middle, last):
            break
        found, last = function(middle), middle
        if found == 0.0:
            break
        if found < 0.0:
            low, below = middle, found
            above = 0.5 * above if high_stays else above
            low_stays, high_stays = False, True
        else:
            high, above = middle, found
            below = 0.5 * below if low_stays else below
            low_stays, high_stays = True, False
    return last


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= ROUNDING * abs(one)
