"""Where functions settle and cross zero: known roots, in few steps, at any scale."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from swaplint.engineering.guards import ImpossibleInput
from swaplint.engineering.roots import crossing, settled


def counted(function: Callable[[float], float], low: float, high: float) -> tuple[float, int]:
    """Where a function crosses zero, and how often it is asked."""
    asked: list[float] = []

    def one(x: float) -> float:
        asked.append(x)
        return function(x)

    return crossing(one, low, high), len(asked)


@pytest.mark.parametrize(
    ("function", "low", "high", "root"),
    [
        (lambda x: x - 1.0, 0.0, 2.0, 1.0),  # 1 at its upper end
        (lambda x: x - 1.0, 0.0, 3.0, 1.0),
        (lambda x: x + 2.0, -3.0, 5.0, -2.0),
        (lambda x: x**3 - 8.0, 0.0, 7.0, 2.0),  # the upper end stays for long
        (lambda x: x**3 - 8.0, 1.0, 70.0, 2.0),
        (lambda x: 0.125 - x**-3, 0.5, 70.0, 2.0),  # the lower one does
        (lambda x: math.exp(x) - 3.0, -3.0, 4.0, math.log(3.0)),
        (lambda x: 3.0 - math.exp(-x), -4.0, 3.0, -math.log(3.0)),
        (lambda x: x**3 - 8e-60, 1e-20, 7e-20, 2e-20),
        (lambda x: x**3 - 8e60, 1e20, 7e20, 2e20),
        (lambda x: 5.0 * (x - 0.3), 0.3, 1.0, 0.3),  # at an end
        (lambda x: 5.0 * (x - 0.3), -1.0, 0.3, 0.3),
    ],
)  # fmt: skip
def test_a_crossing_is_found_in_few_steps(
    function: Callable[[float], float], low: float, high: float, root: float
) -> None:
    found, asked = counted(function, low, high)
    assert found == pytest.approx(root, rel=4e-15, abs=0.0)
    assert asked <= 25  # halving to 1e-15 takes fifty


def test_a_jump_from_minus_one_to_one_is_found_where_it_is() -> None:
    assert crossing(lambda x: 1.0 if x > 1.1 else -1.0, 0.0, 2.0) == pytest.approx(1.1, rel=1e-14)
    assert crossing(lambda x: 1.0 if x > 0.4 else -1.0, 0.0, 2.0) == pytest.approx(0.4, rel=1e-14)


def test_a_jump_from_far_below_is_found_by_halving() -> None:
    assert crossing(lambda x: 1e-10 if x > 1.1 else -1e300, 0.5, 2.0) == pytest.approx(1.1, rel=1e-14)
    assert crossing(lambda x: 1e300 if x > 1.1 else -1e-10, 0.5, 2.0) == pytest.approx(1.1, rel=1e-14)


def test_a_crossing_at_nought() -> None:
    assert abs(crossing(lambda x: math.expm1(x), -1.0, 2.0)) < 1e-15


@pytest.mark.parametrize(("low", "high"), [(0.0, 0.9), (1.1, 2.0)])
def test_where_nothing_crosses(low: float, high: float) -> None:
    with pytest.raises(ImpossibleInput, match=f"^no crossing between {low:g} and {high:g}$"):
        crossing(lambda x: x - 1.0, low, high)


@pytest.mark.parametrize("scale", [1e-20, 1.0, 1e20])
def test_newtons_steps_settle_at_any_scale(scale: float) -> None:
    # the cube root of 27 scale³, from above: each step leaves about the square of the error, so that it takes seven
    asked: list[float] = []

    def nearer(x: float) -> float:
        asked.append(x)
        return (2.0 * x + 27.0 * scale**3 / x**2) / 3.0

    assert settled(9.0 * scale, nearer) == pytest.approx(3.0 * scale, rel=4e-15, abs=0.0)
    assert len(asked) <= 9


def test_steps_that_halve_the_error_settle_too() -> None:
    asked: list[float] = []

    def nearer(x: float) -> float:
        asked.append(x)
        return 0.5 * (x + 5.0)

    # 1e-15 of 5 is 2^-48: from an error of 1 that takes 48 steps
    assert settled(6.0, nearer) == pytest.approx(5.0, rel=2e-15)
    assert 45 <= len(asked) <= 55
