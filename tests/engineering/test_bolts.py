"""Stress areas of bolts against the table of ISO 898-1."""

import pytest

from swaplint.engineering import bolts
from swaplint.engineering.guards import ImpossibleInput, OutsideRange


@pytest.mark.parametrize(
    ("millimetres", "area"),
    # ISO 898-1, nominal stress areas of coarse threads, mm²; from memory, printed alike in every bolt table.
    [(5, 14.2), (6, 20.1), (8, 36.6), (10, 58.0), (12, 84.3), (14, 115), (16, 157), (20, 245)],
)
def test_stress_area_agrees_with_the_table(millimetres: float, area: float) -> None:
    assert bolts.stress_area(millimetres / 1000) * 1e6 == pytest.approx(area, rel=0.005)


def test_holding_force_is_proportional_to_bolts() -> None:
    # By hand: 2 · 58.0 mm² · 0.5 · 240 MPa = 13.92 kN
    assert bolts.holding_force(2, 0.010) == pytest.approx(13920, rel=0.002)
    assert bolts.holding_force(4, 0.010) == pytest.approx(2 * bolts.holding_force(2, 0.010))
    assert bolts.holding_force(0, 0.010) == 0.0


def test_what_is_not_in_the_table_is_refused() -> None:
    with pytest.raises(OutsideRange):
        bolts.stress_area(0.009)
    with pytest.raises(ImpossibleInput):
        bolts.stress_area(0.0)
    with pytest.raises(ImpossibleInput):
        bolts.holding_force(-1, 0.008)
