"""Numbers as a person writes them: where a search closes in on the edge of what passes."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.solving.what_if import short_number_between, value_in_si, value_shown
from swaplint.spec.facts import FieldFacts
from swaplint.units import KINDS

LENGTH = FieldFacts("measure", "a length", kind=KINDS["length"], unit="mm", typical=100)
WARMTH = FieldFacts("measure", "a temperature", kind=KINDS["temperature"], unit="degC", typical=90)

# A whole number of ten-thousandths keeps clear of ends that differ from a short number by rounding alone.
ENDS = st.integers(min_value=1, max_value=10**9).map(lambda n: n / 1e4)


def short_numbers_strictly_between(low: float, high: float) -> bool:
    """Whether a number of three digits lies between: the first one above the lower end is the one to look at."""
    exact = Decimal(repr(low))
    step = Decimal(1).scaleb(exact.adjusted() - 2)
    following = (exact // step + 1) * step
    return following < Decimal(repr(high))


def between(low: float, high: float, facts: FieldFacts = LENGTH) -> float | None:
    found = short_number_between(value_in_si(low, facts), value_in_si(high, facts), facts, 3)
    return None if found is None else value_shown(float(found.value), facts)


@pytest.mark.parametrize(
    ("low", "high", "middle"),
    [
        (12.34, 12.38, None),
        (12.34, 12.45, 12.4),
        (12.3, 12.5, 12.4),  # the ends do not count
        (12.3, 12.4, None),
        (99.95, 101.5, 100.0),
        (998.6, 1025.0, 1000.0),
        (0.0999, 0.1011, 0.1),
        (100.0, 200.0, 150.0),
    ],
)
def test_a_number_of_three_digits_between_two(low: float, high: float, middle: float | None) -> None:
    expected = None if middle is None else pytest.approx(middle, rel=1e-9)
    assert between(low, high) == expected
    assert between(high, low) == expected


@given(ENDS, ENDS)
def test_it_lies_between_and_is_found_where_there_is_one(one: float, other: float) -> None:
    low, high = sorted((one, other))
    middle = between(low, high)
    assert (middle is not None) == short_numbers_strictly_between(low, high)
    if middle is not None:
        assert low < middle < high
        assert len(Decimal(f"{middle:.9g}").normalize().as_tuple().digits) <= 3


@given(ENDS, ENDS)
def test_negative_numbers_are_the_mirror_image(one: float, other: float) -> None:
    middle = between(one, other)
    assert between(-one, -other) == (None if middle is None else pytest.approx(-middle, rel=1e-12))


def test_there_is_none_across_zero() -> None:
    assert between(-1.0, 1.0) is None
    assert between(0.0, 1.0) is None
    assert between(-5.0, 5.0, WARMTH) is None  # the sign is that of what is shown, not of the kelvin


def test_a_search_by_middles_ends_at_the_first_short_number_that_passes() -> None:
    failing, passing, asked = value_in_si(231.0, LENGTH), value_in_si(912.0, LENGTH), 0
    while (middle := short_number_between(failing, passing, LENGTH, 3)) is not None:
        asked += 1
        if value_shown(float(middle.value), LENGTH) >= 310.0:
            passing = float(middle.value)
        else:
            failing = float(middle.value)
    assert value_shown(passing, LENGTH) == pytest.approx(310.0)
    assert asked <= 10  # 680 numbers lie between
