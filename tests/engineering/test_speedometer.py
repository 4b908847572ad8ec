import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.engineering.guards import ImpossibleInput
from swaplint.engineering.speedometer import (
    correction_factor,
    driven_gear_teeth,
    indicated_ratio,
    largest_r39_ratio,
    r39_band,
)

RATIO = st.floats(1.0, 20.0)
RADIUS = st.floats(0.2, 1.0)


# UN R39, 0 ≤ V1 - V2 ≤ 0.1·V2 + 4 km/h; rows from 50 km/h on as printed in a public article on the regulation
# (50-59, 70-81, 90-103, 110-125, 130-147 km/h), 80 and 120 worked by hand from the formula.
@pytest.mark.parametrize(
    ("true_speed", "highest"),
    [(0, 4), (50, 59), (70, 81), (80, 92), (90, 103), (110, 125), (120, 136), (130, 147)],
)
def test_r39_band(true_speed, highest):
    low, high = r39_band(true_speed / 3.6)
    assert low * 3.6 == pytest.approx(true_speed)
    assert high * 3.6 == pytest.approx(highest)


def test_a_tyre_five_percent_larger_makes_it_read_low():
    # 100 km/h shown as 100/1.05 = 95.2381 km/h (worked by hand): below the band.
    ratio = indicated_ratio(1.0, 0.35, 1.0, 0.35 * 1.05)
    assert ratio * 100 == pytest.approx(95.2381, abs=1e-4)
    assert ratio * 100 / 3.6 < r39_band(100 / 3.6)[0]


def test_a_shorter_axle_ratio_reads_high_and_a_taller_one_low():
    assert indicated_ratio(4.88, 0.5, 6.17, 0.5) == pytest.approx(6.17 / 4.88)
    assert indicated_ratio(6.17, 0.5, 4.88, 0.5) == pytest.approx(4.88 / 6.17)


def test_a_sender_at_the_wheel_does_not_see_the_axle():
    assert indicated_ratio(1.0, 0.4, 1.0, 0.4) == 1.0


@given(RATIO, RADIUS, RATIO, RADIUS)
def test_reverting_the_change_reverts_the_error(i0, r0, i1, r1):
    there = indicated_ratio(i0, r0, i1, r1)
    assert indicated_ratio(i1, r1, i0, r0, ratio_before=there) == pytest.approx(1.0)


@given(RATIO, RADIUS, RATIO, RADIUS, st.floats(0.1, 10.0))
def test_only_the_quotient_of_reduction_and_radius_counts(i0, r0, i1, r1, factor):
    assert indicated_ratio(i0, r0, i1 * factor, r1 * factor) == pytest.approx(indicated_ratio(i0, r0, i1, r1))


@given(RATIO, RADIUS, RATIO, RADIUS, st.floats(1.0, 1.05))
def test_the_correction_gives_the_aim(i0, r0, i1, r1, aim):
    ratio = indicated_ratio(i0, r0, i1, r1)
    assert ratio * correction_factor(ratio, aim) == pytest.approx(aim)


@given(st.floats(5.0, 60.0), st.floats(0.01, 1.0))
def test_the_largest_ratio_touches_the_band_at_the_highest_speed_only(highest, share):
    ratio = largest_r39_ratio(highest)
    assert ratio * highest == pytest.approx(r39_band(highest)[1])
    slower = share * highest
    assert ratio * slower <= r39_band(slower)[1] * (1.0 + 1e-12)


@given(st.integers(8, 60), st.floats(0.5, 2.0))
def test_a_new_driven_gear_reads_no_lower_than_asked(teeth, correction):
    # The cable turns with 1/N, so the reading changes by N_old/N_new.
    new = driven_gear_teeth(teeth, correction)
    assert teeth / new >= correction * (1.0 - 1e-9)
    assert teeth / (new + 1) < correction


def test_a_speedometer_that_reads_high_needs_more_driven_teeth():
    # By hand: 20 teeth reading 25 % high need 20·1.25 = 25.
    assert driven_gear_teeth(20, correction_factor(1.25)) == 25


def test_aiming_low_is_refused():
    with pytest.raises(ImpossibleInput, match="read low"):
        correction_factor(1.1, aim=0.99)


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan])
def test_impossible_input_is_refused(bad):
    for call in (
        lambda: indicated_ratio(bad, 0.4, 4.0, 0.4),
        lambda: indicated_ratio(4.0, 0.4, 4.0, bad),
        lambda: indicated_ratio(4.0, 0.4, 4.0, 0.4, ratio_before=bad),
        lambda: correction_factor(bad),
        lambda: largest_r39_ratio(bad),
    ):
        with pytest.raises(ImpossibleInput):
            call()
    with pytest.raises(ImpossibleInput):
        r39_band(-1.0)


def test_the_gear_that_the_correction_was_reckoned_from_comes_back():
    # what the division leaves in the last digit takes no tooth away
    pairs = [(teeth, new) for teeth in range(5, 30) for new in range(5, 30)]
    assert [driven_gear_teeth(teeth, teeth / new) for teeth, new in pairs] == [new for _, new in pairs]
