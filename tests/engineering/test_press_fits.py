"""Closing of a pressed-in bush against limits of the theory and figures worked out elsewhere."""

import pytest

from swaplint.engineering import ImpossibleInput
from swaplint.engineering.press_fits import (
    BRONZE_MODULUS,
    SINTERED_BRONZE_MODULUS,
    STEEL_MODULUS,
    bore_closing,
)


@pytest.mark.parametrize(
    ("outer", "bronze", "sintered", "steel"),
    # Bore 15 mm in a steel part of 60 mm: figures worked out by somebody else with the thick-cylinder formula
    # (Poisson's ratio of bronze 0.34), two digits. No maker's text with such figures is known.
    [
        (18, 0.91, 0.94, 0.81),
        (20, 0.85, None, None),
        (22, 0.79, None, None),
        (24, 0.73, None, None),
        (28, 0.62, 0.68, 0.45),
    ],
)
def test_share_of_the_interference(outer: int, bronze: float, sintered: float | None, steel: float | None) -> None:
    for modulus, expected in (
        (BRONZE_MODULUS, bronze),
        (SINTERED_BRONZE_MODULUS, sintered),
        (STEEL_MODULUS, steel),
    ):
        if expected is not None:
            share = bore_closing(1e-5, 0.015, outer / 1e3, 0.060, modulus) / 1e-5
            assert share == pytest.approx(expected, abs=0.012)


def test_a_thin_bush_closes_by_all_of_it() -> None:
    # A bush without wall follows the bore that squeezes it.
    assert bore_closing(1e-5, 0.0199, 0.020, 2.0, BRONZE_MODULUS) == pytest.approx(1e-5, rel=0.01)


def test_one_material_throughout() -> None:
    # A bush and a large part of one material: the share is d/D (Lamé, both Poisson terms cancel).
    assert bore_closing(1e-5, 0.015, 0.030, 1e3, STEEL_MODULUS) == pytest.approx(1e-5 * 0.5, rel=1e-6)


def test_refuses_what_does_not_fit() -> None:
    with pytest.raises(ImpossibleInput):
        bore_closing(1e-5, 0.020, 0.015, 0.060, BRONZE_MODULUS)
