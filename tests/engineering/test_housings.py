"""Housing and flywheel tables against published dimensions in millimetres."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.engineering import ImpossibleInput, OutsideRange, housings
from swaplint.engineering.housings import Flange

# SAE J617-2020 by way of a secondary page (tnlab.org): pilot bore, bolt circle, holes.
J617_METRIC = [
    ("6", 266.70, 285.75, 8),
    ("4", 361.95, 381.00, 12),
    ("2", 447.68, 466.72, 12),
    ("1", 511.18, 530.22, 12),
    ("0", 647.70, 679.45, 16),
    ("00", 787.40, 850.90, 16),
]

# Bore range of an engine builder's public shop manual: lower and upper limit, mm.
BORE_RANGES = [
    ("00", 787.40, 787.65),
    ("0", 647.70, 647.95),
    ("1/2", 584.20, 584.40),
    ("1", 511.18, 511.30),
    ("2", 447.68, 447.80),
    ("3", 409.58, 409.70),
]

# SAE J620d by way of a public extract (studylib.net): pilot, bolt circle, holes, face depth.
J620_METRIC = [
    ("6.5", 215.90, 200.02, 6, 30.2),
    ("7.5", 241.30, 222.25, 8, 30.2),
    ("8", 263.52, 244.48, 6, 62.0),
    ("10", 314.32, 295.28, 8, 53.8),
    ("11.5", 352.42, 333.38, 8, 39.6),
    ("14", 466.72, 438.15, 8, 25.4),
    ("16", 517.52, 488.95, 8, 15.7),
    ("18", 571.50, 542.92, 6, 15.7),
]


@pytest.mark.parametrize(("number", "pilot", "circle", "holes"), J617_METRIC)
def test_housing_dimensions(number: str, pilot: float, circle: float, holes: int) -> None:
    flange = housings.housing(number).flange
    # Printed to 0.01 mm from inch sizes.
    assert flange.pilot * 1000 == pytest.approx(pilot, abs=0.006)
    assert flange.bolt_circle * 1000 == pytest.approx(circle, abs=0.006)
    assert flange.holes == holes


@pytest.mark.parametrize(("number", "low", "high"), BORE_RANGES)
def test_housing_bores_against_a_shop_manual(number: str, low: float, high: float) -> None:
    assert low - 0.006 <= housings.housing(number).flange.pilot * 1000 <= high


def test_runout_ends() -> None:
    # SAE J617-2020 by way of a secondary page: 0.18 mm for No. 6 to 0.48 mm for No. 00; nothing known
    # between.
    assert housings.housing("6").runout == pytest.approx(0.18e-3)
    assert housings.housing("00").runout == pytest.approx(0.48e-3)
    assert housings.housing("3").runout is None


@pytest.mark.parametrize(("size", "pilot", "circle", "holes", "depth"), J620_METRIC)
def test_flywheel_dimensions(size: str, pilot: float, circle: float, holes: int, depth: float) -> None:
    flywheel = housings.flywheel(size)
    assert flywheel.flange.pilot * 1000 == pytest.approx(pilot, abs=0.006)
    assert flywheel.flange.bolt_circle * 1000 == pytest.approx(circle, abs=0.006)
    assert flywheel.flange.holes == holes
    assert flywheel.face_depth * 1000 == pytest.approx(depth)


def test_tables_are_in_order() -> None:
    bores = [size.flange.pilot for size in housings.HOUSINGS.values()]
    assert bores == sorted(bores)
    for size in housings.HOUSINGS.values():
        assert size.flange.bolt_circle > size.flange.pilot, size.number
        assert "looked up" in size.source
    for wheel in housings.FLYWHEELS.values():
        # The bolt circle of a flywheel lies inside the recess that centres the clutch.
        assert wheel.flange.bolt_circle < wheel.flange.pilot, wheel.size


@pytest.mark.parametrize(("written", "number"), [("SAE 3", "3"), ("2M", "2"), ("sae no. 1/2", "1/2"), (" 00 ", "00")])
def test_ways_to_write_a_housing(written: str, number: str) -> None:
    assert housings.housing(written).number == number


@pytest.mark.parametrize(("written", "size"), [("SAE 11 1/2", "11.5"), ("6-1/2", "6.5"), ("10", "10")])
def test_ways_to_write_a_flywheel(written: str, size: str) -> None:
    assert housings.flywheel(written).size == size


@pytest.mark.parametrize("number", ["7", "", "M", "three"])
def test_unknown_sizes(number: str) -> None:
    with pytest.raises(OutsideRange):
        housings.housing(number)
    with pytest.raises(OutsideRange):
        housings.flywheel("9 " + number)


@given(st.floats(0.2, 0.8), st.floats(-0.0005, 0.0005))
def test_pilot_fit(bore: float, play: float) -> None:
    match = housings.match_flanges(Flange(bore, bore + 0.02, 12), Flange(bore - play, bore + 0.02, 12))
    assert match.pilot_clearance == pytest.approx(play, abs=1e-9)
    assert match.bolts_up
    if play < 0.0:
        assert not match.enters
    if play > 0.0002:
        assert match.enters
        assert not match.fits


@pytest.mark.parametrize("bore", [0.40958, 0.36195, 0.26670, 0.51118, 0.64770])
def test_play_just_within_what_centres(bore: float) -> None:
    """0.02 mm of play go in, 0.15 mm still centre; a hundredth of a millimetre less or more does not."""

    def play(play: float) -> housings.FlangeMatch:
        return housings.match_flanges(housings.Flange(bore, 0.7, 12), housings.Flange(bore - play, 0.7, 12))

    assert [play(size).enters for size in (0.00001, 0.00002, 0.00015, 0.00016)] == [False, True, True, True]
    assert [play(size).centres for size in (0.00001, 0.00002, 0.00015, 0.00016)] == [False, True, True, False]


@pytest.mark.parametrize("circle", [0.42863, 0.38100, 0.28575, 0.53023, 0.67945])
def test_bolt_circles_just_near_enough(circle: float) -> None:
    """0.3 mm apart to either side they bolt up, 0.31 mm apart they do not."""
    for apart, meet in ((0.0003, True), (-0.0003, True), (0.00031, False), (-0.00031, False)):
        other = housings.Flange(0.3, circle + apart, 12)
        assert housings.match_flanges(housings.Flange(0.3, circle, 12), other).bolts_up is meet


def test_holes_and_bolt_circles_must_meet() -> None:
    bore = Flange(0.40960, 0.428625, 12)
    assert housings.match_flanges(bore, Flange(0.40955, 0.428625, 12)).fits
    assert not housings.match_flanges(bore, Flange(0.40955, 0.428625, 8)).fits
    assert not housings.match_flanges(bore, Flange(0.40955, 0.429625, 12)).fits


def test_two_nominal_sizes_do_not_prove_a_fit() -> None:
    flange = housings.housing("3").flange
    assert not housings.match_flanges(flange, flange).centres


def test_stack() -> None:
    # By hand: bell 190 + adapter 22 - flex plate 38 - converter 170 = 4 mm.
    assert housings.stack_gap(0.190, 0.022, -0.038, -0.170) == pytest.approx(0.004)


def test_refusals() -> None:
    with pytest.raises(ImpossibleInput):
        Flange(0.0, 0.4, 12)
    with pytest.raises(ImpossibleInput):
        Flange(0.3, 0.4, 0)
    assert Flange(0.3, 0.4, 1).holes == 1


def test_no_number_is_both_a_housing_and_a_flywheel() -> None:
    # J617 runs 6 to 00, J620 from 6.5 to 18 inches: `named_flange` needs no word that says which is meant.
    assert not set(housings.HOUSINGS) & set(housings.FLYWHEELS)


@pytest.mark.parametrize(
    ("written", "plain", "pilot_mm"),
    [
        ("SAE 4", "SAE 4", 361.95),  # SAE J617-2020 by way of a secondary page (tnlab.org)
        ("sae no. 4", "SAE 4", 361.95),
        ("SAE 4M", "SAE 4", 361.95),
        ("SAE 1/2", "SAE 1/2", 584.20),  # an engine builder's public shop manual: 584.20 to 584.40
        ("SAE 10", "SAE 10", 314.32),  # SAE J620d extract
        ("SAE 11 1/2", "SAE 11.5", 352.42),  # SAE J620d extract
    ],
)
def test_named_flange(written: str, plain: str, pilot_mm: float) -> None:
    found = housings.named_flange(written)
    assert found is not None
    assert found[0] == plain
    assert found[1].pilot * 1000 == pytest.approx(pilot_mm, abs=0.01)


@pytest.mark.parametrize("name", ["", "SAE", "SAE 9", "own pattern", "3", "SAE 3 x"])
def test_other_names_have_no_flange(name: str) -> None:
    assert housings.named_flange(name) is None
