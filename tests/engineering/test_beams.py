"""Bending and welds against formulas of the handbooks and tables of the standards."""

import math

import pytest

from swaplint.engineering import ImpossibleInput, OutsideRange
from swaplint.engineering.beams import (
    box_modulus,
    greatest_moment,
    plate_modulus,
    weld_strength,
    weld_stress,
    yield_of_steel,
)


@pytest.mark.parametrize(
    ("steel", "thickness", "expected"),
    # EN 10025-2, table 7, least yield in MPa up to 16 and from 16 to 40 mm (read in a page that copies the table).
    [("S235", 16, 235), ("S235", 17, 225), ("S275", 8, 275), ("S275", 30, 265), ("S355", 10, 355), ("S355", 40, 345)],
)
def test_yield(steel: str, thickness: float, expected: float) -> None:
    assert yield_of_steel(steel, thickness / 1e3) == pytest.approx(expected * 1e6)


def test_steel_outside_the_table() -> None:
    with pytest.raises(OutsideRange):
        yield_of_steel("S690", 0.01)
    with pytest.raises(OutsideRange):
        yield_of_steel("S355", 0.041)


def test_weld_strength() -> None:
    # f_u/(√3·β_w·1.25): 360/(1.7321·0.8·1.25) = 207.8 MPa, the figure of EN 1993-1-8 texts for S235.
    assert weld_strength("S235") == pytest.approx(207.8e6, rel=1e-3)
    assert weld_strength("S275") == pytest.approx(410e6 / (math.sqrt(3) * 0.85 * 1.25))
    assert weld_strength("S355") == pytest.approx(470e6 / (math.sqrt(3) * 0.90 * 1.25))


def test_section_moduli() -> None:
    # A box is an outer plate less an inner one, by second moments: (b·h³ - b_i·h_i³)/12 over h/2.
    second = (40 * 60**3 - 32 * 52**3) / 12
    assert box_modulus(0.060, 0.040, 0.004) == pytest.approx(second / 30 * 1e-9)
    assert plate_modulus(0.080, 0.008, 2) == pytest.approx(2 * 8 * 80**2 / 6 * 1e-9)
    with pytest.raises(ImpossibleInput):
        box_modulus(0.060, 0.040, 0.020)


def test_weld_of_a_bracket() -> None:
    # 10 kN at 100 mm on two runs of 4 mm throat and 80 - 8 = 72 mm: W = 2·4·72²/6 = 6912 mm³, 144.7 MPa; A = 576 mm²,
    # 17.4 MPa; together 145.7 MPa.
    bending, shear = 1e6 / 6912, 1e4 / 576
    assert weld_stress(10e3, 0.100, 0.080, 0.004, 2) == pytest.approx(math.hypot(bending, shear) * 1e6)
    # one run alone bears twice as much
    assert weld_stress(10e3, 0.100, 0.080, 0.004, 1) == pytest.approx(2.0 * math.hypot(bending, shear) * 1e6)


def test_a_box_is_welded_at_top_and_bottom_too() -> None:
    # The bracket above as a box 60 mm wide: two welds of 4 mm · 60 mm, each 40 mm from the middle, add
    # 2·4·60·40² mm⁴ over 40 mm = 19 200 mm³ to the 6912 mm³; the shear is borne by the upright ones alone.
    stress = weld_stress(10e3, 0.100, 0.080, 0.004, 2, flange=0.060)
    assert stress == pytest.approx(math.hypot(1e6 / 26112, 1e4 / 576) * 1e6)


@pytest.mark.parametrize(("depth", "runs"), [(0.008, 2), (0.007, 2), (0.080, 0)])
def test_a_weld_that_is_all_ends_holds_nothing(depth: float, runs: int) -> None:
    with pytest.raises(ImpossibleInput, match="a weld is longer than its two ends"):
        weld_stress(10e3, 0.100, depth, 0.004, runs)


def test_plates_and_walls_at_their_ends() -> None:
    # 8 mm · (80 mm)²/6 for one plate, which is what is meant where no number is given
    assert plate_modulus(0.080, 0.008) == pytest.approx(8 * 6400 / 6 * 1e-9)
    with pytest.raises(ImpossibleInput, match="at least one plate, not 0"):
        plate_modulus(0.080, 0.008, 0)
    # a wall a hair below half the smaller side, whichever that is: all but solid, b·h²/6
    for depth, width in ((0.060, 0.040), (0.040, 0.060)):
        assert box_modulus(depth, width, 0.01999) == pytest.approx(width * depth**2 / 6, rel=1e-3)
        with pytest.raises(ImpossibleInput, match="fills a box"):
            box_modulus(depth, width, 0.02)


def test_loads_of_different_size_up_and_down() -> None:
    # 1000 N at 0.25 m and 2000 N at 0.5 m of 1 m: 750 + 1000 = 1750 N on the near support, 437.5 N·m under the first
    # load, 1750·0.5 - 1000·0.25 = 625 N·m under the second
    loads = [(1000.0, 0.25), (2000.0, 0.5)]
    assert greatest_moment(1.0, loads) == greatest_moment(1.0, loads[::-1]) == pytest.approx(625.0)
    assert greatest_moment(1.0, [(-force, place) for force, place in loads]) == pytest.approx(625.0)
    # at the supports themselves loads bend nothing
    assert greatest_moment(1.0, [(1000.0, 0.0), (1000.0, 1.0)]) == pytest.approx(0.0)
    for place in (-0.001, 1.001):
        with pytest.raises(ImpossibleInput, match="does not stand on a beam of 1000 mm"):
            greatest_moment(1.0, [(1000.0, place)])


def test_moments_of_a_beam() -> None:
    # Handbook cases: P·L/4 in the middle, P·a·b/L anywhere, P·a for two alike at a from each end.
    assert greatest_moment(0.8, [(5000.0, 0.4)]) == pytest.approx(5000 * 0.8 / 4)
    assert greatest_moment(0.8, [(5000.0, 0.2)]) == pytest.approx(5000 * 0.2 * 0.6 / 0.8)
    assert greatest_moment(0.8, [(5000.0, 0.2), (5000.0, 0.6)]) == pytest.approx(5000 * 0.2)
    assert greatest_moment(0.8, []) == 0.0
    with pytest.raises(ImpossibleInput):
        greatest_moment(0.8, [(5000.0, 0.9)])
