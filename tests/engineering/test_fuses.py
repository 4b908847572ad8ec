"""Fuse-links: the next one up for a load, the next one down for a cable."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.engineering import fuses as f
from swaplint.engineering.guards import ImpossibleInput, OutsideRange


@pytest.mark.parametrize(
    ("load", "share", "rating"),
    [
        (15.0, 0.75, 20.0),  # 15/0.75 = 20 A
        (15.01, 0.75, 25.0),
        (16.0, 0.8, 20.0),  # 16/0.8 = 20 A
        (16.0, 0.75, 25.0),  # 21.3 A
        (2.25, 0.75, 3.0),
        (0.1, 0.75, 3.0),
        (0.1 + 0.2, 0.1, 3.0),  # what arithmetic leaves over 0.3 A is no load
        (375.0, 0.75, 500.0),
        (500.0, 1.0, 500.0),
    ],
)
def test_the_smallest_fuse_for_a_load(load: float, share: float, rating: float) -> None:
    assert f.smallest_fuse(load, share) == rating


def test_a_fuse_carries_three_quarters_of_its_rating() -> None:
    assert (f.smallest_fuse(37.5), f.smallest_fuse(37.6)) == (50.0, 60.0)


@pytest.mark.parametrize(
    ("cable", "rating"),
    [(3.0, 3.0), (7.4, 5.0), (7.5, 7.5), (99.9, 80.0), (100.0, 100.0), (100.0 - 1e-8, 100.0), (600.0, 500.0)],
)
def test_the_largest_fuse_for_a_cable(cable: float, rating: float) -> None:
    assert f.largest_fuse(cable) == rating


def test_the_series_has_ends() -> None:
    with pytest.raises(OutsideRange, match="a load of 376 A needs a fuse-link above the largest, 500 A"):
        f.smallest_fuse(376.0)
    with pytest.raises(OutsideRange, match=r"no fuse-link is small enough for a cable rated 2\.9 A"):
        f.largest_fuse(2.9)
    for load, share in ((0.0, 0.75), (10.0, 0.0), (10.0, 1.01)):
        with pytest.raises(ImpossibleInput):
            f.smallest_fuse(load, share)
    with pytest.raises(ImpossibleInput):
        f.largest_fuse(0.0)


@given(st.floats(0.1, 375.0))
def test_smallest_fuse_is_the_smallest(load: float) -> None:
    fuse = f.smallest_fuse(load)
    assert load <= 0.75 * fuse * (1 + 1e-9)
    smaller = [rating for rating in f.FUSE_LINK_RATINGS if rating < fuse]
    assert not smaller or load > 0.75 * smaller[-1] * (1 - 1e-9)


@given(st.floats(3.0, 1000.0))
def test_largest_fuse_never_exceeds_the_cable(rating: float) -> None:
    assert f.largest_fuse(rating) <= rating * (1 + 1e-9)


def test_fuse_series_rises() -> None:
    assert list(f.FUSE_LINK_RATINGS) == sorted(set(f.FUSE_LINK_RATINGS))
