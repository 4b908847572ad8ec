import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.engineering.gears import (
    belt_pulley_radius,
    chain_wheel_radius,
    crawl_speed,
    engine_speed,
    gear_step,
    largest_usable_step,
    lowest_shift_speed,
    overall_ratio,
    radius_for_engine_speed,
    ratio_for_engine_speed,
    road_speed,
    speed_after_upshift,
)
from swaplint.engineering.guards import ImpossibleInput, OutsideRange

RPM = math.tau / 60.0
RATIO = st.floats(0.5, 100.0)
RADIUS = st.floats(0.2, 1.0)
SPEED = st.floats(1.0, 700.0)


def test_published_rolling_radius_formula():
    # Published rule r[in] = 168·R·mph/rpm with its inputs R = 10, 15 mph, 1680 rpm: 15 in; its constant is
    # 63360/(120·π) = 168.07 rounded, hence 0.1 %.
    radius = 15.0 * 0.0254
    assert engine_speed(15 * 1609.344 / 3600, 10.0, radius) / RPM == pytest.approx(1680.0, rel=1e-3)


def test_road_speed_from_rolling_circumference():
    # v = n/(i_g·i_a)·C: 2000 rpm, 0.75 × 3.73, C = 3.05·0.7335 m gives 95.9646 km/h (worked by hand).
    radius = 3.05 * 0.7335 / math.tau
    assert road_speed(2000 * RPM, overall_ratio([0.75, 3.73]), radius) * 3.6 == pytest.approx(95.9646, rel=5e-5)


def test_revolutions_per_mile_of_the_free_tyre():
    # Without deflection 1609.344 m over π·0.7335 m are 698.391 turns; the loaded tyre turns 3 % more (next test).
    assert engine_speed(1609.344 / 60, 1.0, 0.7335 / 2) / RPM == pytest.approx(698.391, rel=1e-5)


def test_revolutions_per_mile():
    # 1609.344 m over C = 3.05·0.7335 m is 719.364 turns (worked by hand from the ETRTO factor): at one mile
    # per minute and a ratio of 1 that is the engine speed in rpm.
    assert engine_speed(1609.344 / 60, 1.0, 3.05 * 0.7335 / math.tau) / RPM == pytest.approx(719.364, rel=1e-5)


@given(SPEED, RATIO, RADIUS)
def test_engine_and_road_speed_are_inverse(speed, ratio, radius):
    road = road_speed(speed, ratio, radius)
    assert engine_speed(road, ratio, radius) == pytest.approx(speed)
    assert ratio_for_engine_speed(speed, road, radius) == pytest.approx(ratio)
    assert radius_for_engine_speed(speed, road, ratio) == pytest.approx(radius)
    assert crawl_speed(speed, ratio, radius) == road


@given(SPEED, RATIO, RADIUS, st.floats(1.01, 10.0))
def test_a_shorter_ratio_or_a_smaller_tyre_is_slower(speed, ratio, radius, factor):
    road = road_speed(speed, ratio, radius)
    assert road_speed(speed, ratio * factor, radius) == pytest.approx(road / factor)
    assert road_speed(speed, ratio, radius / factor) == pytest.approx(road / factor)


@given(st.lists(RATIO, min_size=1, max_size=5))
def test_the_order_of_the_stages_does_not_matter(ratios):
    assert overall_ratio(ratios) == pytest.approx(overall_ratio(list(reversed(ratios))))
    assert overall_ratio([*ratios, 1.0]) == overall_ratio(ratios)


@given(SPEED, RATIO, st.floats(1.05, 3.0), st.floats(0.0, 20.0))
def test_shift_speed_and_landing_speed_are_inverse(landing, after, step, lost):
    before = after * step
    shift = lowest_shift_speed(landing, before, after, lost)
    assert speed_after_upshift(shift, before, after, lost) == pytest.approx(landing)
    assert largest_usable_step(shift, landing, lost) == pytest.approx(gear_step(before, after))


def test_road_speed_is_the_same_on_both_sides_of_a_shift_without_loss():
    after = speed_after_upshift(250.0, 3.5, 2.0)
    assert road_speed(after, 2.0, 0.4) == pytest.approx(road_speed(250.0, 3.5, 0.4))


def test_the_speed_lost_narrows_the_usable_step():
    # By hand: 2600/1400 = 1.857 without loss; 2600/(1400 + 150) = 1.677 with it.
    assert largest_usable_step(2600.0, 1400.0) == pytest.approx(1.857, abs=5e-4)
    assert largest_usable_step(2600.0, 1400.0, 150.0) == pytest.approx(1.677, abs=5e-4)


@pytest.mark.parametrize("ratios", [(2.0, 2.0), (2.0, 3.0)])
def test_a_shift_that_is_no_upshift_is_refused(ratios):
    with pytest.raises(ImpossibleInput, match="falling"):
        speed_after_upshift(200.0, *ratios)


def test_a_shift_that_leaves_nothing_is_refused():
    with pytest.raises(OutsideRange):
        speed_after_upshift(200.0, 2.0, 1.0, speed_lost=100.0)
    with pytest.raises(OutsideRange):
        largest_usable_step(150.0, 140.0, speed_lost=10.0)


@pytest.mark.parametrize("bad", [0.0, -1.0, math.inf, math.nan])
def test_impossible_ratios_and_radii_are_refused(bad):
    for call in (
        lambda: engine_speed(10.0, bad, 0.4),
        lambda: engine_speed(10.0, 4.0, bad),
        lambda: road_speed(100.0, bad, 0.4),
        lambda: ratio_for_engine_speed(100.0, bad, 0.4),
        lambda: radius_for_engine_speed(bad, 10.0, 4.0),
        lambda: crawl_speed(bad, 40.0, 0.4),
        lambda: overall_ratio([3.0, bad]),
    ):
        with pytest.raises(ImpossibleInput):
            call()
    with pytest.raises(ImpossibleInput):
        overall_ratio([])


def test_standing_still_is_a_speed():
    assert engine_speed(0.0, 4.0, 0.4) == 0.0
    assert road_speed(0.0, 4.0, 0.4) == 0.0


def test_the_smallest_wheels() -> None:
    # six corners at a pitch from each other are a pitch from the middle; 6·10/2π mm for a belt
    assert chain_wheel_radius(0.010, 6) == pytest.approx(0.010)
    assert belt_pulley_radius(0.010, 6) == pytest.approx(0.060 / (2.0 * math.pi))
    for radius in (chain_wheel_radius, belt_pulley_radius):
        with pytest.raises(ImpossibleInput, match="a wheel of 5 teeth"):
            radius(0.010, 5)
