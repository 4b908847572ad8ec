"""Fuse-links: the smallest that carries a load, the largest that protects a cable.

A fuse-link protects its cable: its rating must not exceed the cable's current rating where the cable lies.
"""

from __future__ import annotations

from typing import Final

from .guards import OutsideRange, positive, reaches, share

FUSE_LINK_RATINGS: Final[tuple[float, ...]] = (
    3.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 60.0, 70.0, 80.0, 100.0, 125.0, 150.0, 175.0,
    200.0, 225.0, 250.0, 300.0, 400.0, 500.0,
)  # fmt: skip
"""Rated currents, A, commonly sold as blade, cartridge and strip fuse-links for road vehicles.

ISO 8820 parts 3, 4 and 5; the list from memory, not every rating exists in every type. The end of the range,
500 A for strip fuse-links, is in the published scope of ISO 8820-5:2015 (looked up).
"""

FUSE_LOAD_SHARE: Final = 0.75
"""Share of a fuse-link's rating that a continuous load may take. Common practice, 0.70 to 0.80."""


def smallest_fuse(load: float, load_share: float = FUSE_LOAD_SHARE) -> float:
    """Smallest fuse-link rating, A, that carries a continuous load, A, with the share of its rating allowed.

    Series after ISO 8820, 3 to 500 A; above it `OutsideRange`. The share is common practice.

    >>> smallest_fuse(15.0), smallest_fuse(15.1)
    (20.0, 25.0)
    """
    needed = positive("load", load) / positive("load share", share("load share", load_share))
    fuse = next((rating for rating in FUSE_LINK_RATINGS if reaches(rating, needed)), None)
    if fuse is None:
        raise OutsideRange(f"a load of {load:g} A needs a fuse-link above the largest, {FUSE_LINK_RATINGS[-1]:g} A")
    return fuse


def largest_fuse(cable_rating: float) -> float:
    """Largest fuse-link rating, A, that still protects a cable: not above the cable's current rating, A.

    Below the smallest fuse-link of the series `OutsideRange`.

    >>> largest_fuse(101.0)
    100.0
    """
    positive("cable rating", cable_rating)
    fitting = [rating for rating in FUSE_LINK_RATINGS if reaches(cable_rating, rating)]
    if not fitting:
        raise OutsideRange(f"no fuse-link is small enough for a cable rated {cable_rating:g} A")
    return fitting[-1]
