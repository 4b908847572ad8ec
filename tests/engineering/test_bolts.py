"""Stress areas of bolts against the table of ISO 898-1."""

from typing import Any

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


@pytest.mark.parametrize(
    ("property_class", "megapascal"),
    # ISO 898-1: nominal yield that the designation means (8.8: 800 MPa, eight tenths of it); from memory.
    [("4.6", 240), ("5.8", 400), ("8.8", 640), ("10.9", 900), ("12.9", 1080)],
)
def test_yield_from_the_designation(property_class: str, megapascal: float) -> None:
    assert bolts.yield_of_class(property_class) == pytest.approx(megapascal * 1e6)


def test_group_safety_by_hand() -> None:
    # Four M10 of 58.0 mm². 10 kN across them at no offset: 43.1 MPa of shear each, von Mises 74.7 MPa; 640/74.7 = 8.57.
    group: dict[str, Any] = {"force": 10e3, "bolts": 4, "diameter": 0.010, "yield_strength": 640e6}
    assert bolts.group_safety(**group, offset=0.0, spacing=0.060, in_shear=True) == pytest.approx(8.57, rel=0.003)
    # At 80 mm with 60 mm between the rows: 10 kN · 80/60 = 13.33 kN on two bolts, 114.9 MPa;
    # √(114.9² + 3·43.1²) = 137.1 MPa; 640/137.1 = 4.67. Along the bolts 114.9 + 43.1 = 158.0 MPa: 4.05.
    arm: dict[str, Any] = {"offset": 0.080, "spacing": 0.060}
    assert bolts.group_safety(**group, **arm, in_shear=True) == pytest.approx(4.67, rel=0.003)
    assert bolts.group_safety(**group, **arm, in_shear=False) == pytest.approx(4.05, rel=0.003)


def test_two_bolts_are_the_fewest_that_hold_a_bracket() -> None:
    # 10 kN along two M10 of 58.0 mm²: 86.2 MPa; 640/86.2 = 7.42
    pair: dict[str, Any] = {"force": 10e3, "bolts": 2, "diameter": 0.010, "yield_strength": 640e6}
    assert bolts.group_safety(**pair, in_shear=False, offset=0.0, spacing=0.1) == pytest.approx(7.42, rel=0.003)


def test_half_of_what_the_weakest_bolts_yield_at() -> None:
    # one M8 of class 4.6, 36.6 mm² · 240 MPa = 8.784 kN; half of it unless another share is said
    assert bolts.holding_force(1, 0.008) == pytest.approx(4392, rel=0.001)
    assert bolts.holding_force(1, 0.008, used=1.0) == pytest.approx(8784, rel=0.001)
    assert bolts.holding_force(1, 0.008, 640e6, 0.25) == pytest.approx(5856, rel=0.001)


def test_preload_by_hand() -> None:
    # 80 N·m on M12 with K = 0.2: 80/(0.2·0.012) = 33.3 kN, with 0.15 a third more
    assert bolts.preload(80.0, 0.012, 0.2) == pytest.approx(33333.3, abs=0.1)
    assert bolts.preload(80.0, 0.012, 0.15) == pytest.approx(44444.4, abs=0.1)


def test_group_safety_scales_with_the_force() -> None:
    once = bolts.group_safety(5e3, 3, 0.012, 640e6, in_shear=True, offset=0.05, spacing=0.05)
    assert bolts.group_safety(10e3, 3, 0.012, 640e6, in_shear=True, offset=0.05, spacing=0.05) == pytest.approx(
        once / 2
    )


def test_group_refusals() -> None:
    with pytest.raises(ImpossibleInput):
        bolts.group_safety(1e3, 1, 0.010, 640e6, in_shear=True, offset=0.0, spacing=0.06)
    with pytest.raises(OutsideRange):
        bolts.yield_of_class("8.9")
