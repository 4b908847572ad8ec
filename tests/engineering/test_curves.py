import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import interp1d
from scipy.optimize import minimize_scalar

from swaplint.engineering.curves import (
    checked_curve,
    clipped,
    cut_off,
    interpolate,
    maximum,
    product_maxima,
    scaled,
)
from swaplint.engineering.guards import ImpossibleInput, OutsideRange

# Invented full-load torque: rad/s, N·m.
TORQUE = ((73.0, 330.0), (105.0, 480.0), (147.0, 600.0), (199.0, 600.0), (230.0, 560.0), (272.0, 485.0))


@st.composite
def curves(draw: st.DrawFn) -> tuple[tuple[float, float], ...]:
    steps = draw(st.lists(st.floats(1.0, 100.0), min_size=2, max_size=8))
    values = draw(st.lists(st.floats(0.0, 1000.0), min_size=len(steps), max_size=len(steps)))
    x, points = 0.0, []
    for step, y in zip(steps, values, strict=True):
        x += step
        points.append((x, y))
    return tuple(points)


@given(curves(), st.floats(0.0, 1.0))
def test_interpolation_agrees_with_scipy(curve, share):
    x = min(curve[0][0] + share * (curve[-1][0] - curve[0][0]), curve[-1][0])
    xs, ys = zip(*curve, strict=True)
    assert interpolate(curve, x) == pytest.approx(float(interp1d(xs, ys)(x)), rel=1e-9, abs=1e-9)


@given(curves())
def test_table_points_are_returned_as_given(curve):
    assert [interpolate(curve, x) for x, _ in curve] == pytest.approx([y for _, y in curve], abs=1e-9)


@pytest.mark.parametrize("x", [72.9999, 272.0001, 0.0, 1e6])
def test_nothing_is_extrapolated(x):
    with pytest.raises(OutsideRange, match="from 73 to 272"):
        interpolate(TORQUE, x)


@pytest.mark.parametrize(("x", "y"), [(math.nextafter(73.0, 0.0), 330.0), (math.nextafter(272.0, 1e3), 485.0)])
def test_rounding_does_not_push_an_end_out_of_the_table(x, y):
    assert interpolate(TORQUE, x) == y


@pytest.mark.parametrize(
    "points",
    [
        (),
        ((1.0, 2.0),),
        ((1.0, 2.0), (1.0, 3.0)),
        ((2.0, 2.0), (1.0, 3.0)),
        ((1.0, 2.0), (math.nan, 3.0)),
        ((1.0, 2.0), (2.0, math.inf)),
    ],
)
def test_points_that_make_no_curve_are_refused(points):
    with pytest.raises(ImpossibleInput):
        checked_curve(points)


def test_an_x_that_is_no_number_is_refused():
    with pytest.raises(ImpossibleInput):
        interpolate(TORQUE, math.nan)


@given(curves(), st.floats(0.0, 0.4), st.floats(0.6, 1.0), st.floats(0.0, 1.0))
def test_a_clipped_curve_keeps_its_values(curve, low, high, share):
    first, span = curve[0][0], curve[-1][0] - curve[0][0]
    x0, x1 = first + low * span, min(first + high * span, curve[-1][0])
    part = clipped(curve, x0, x1)
    assert (part[0][0], part[-1][0]) == (x0, x1)
    x = min(x0 + share * (x1 - x0), x1)
    assert interpolate(part, x) == pytest.approx(interpolate(curve, x), rel=1e-6, abs=1e-6)


def test_clipping_beyond_the_table_or_backwards_is_refused():
    with pytest.raises(OutsideRange):
        clipped(TORQUE, 50.0, 200.0)
    with pytest.raises(ImpossibleInput):
        clipped(TORQUE, 200.0, 200.0)


@given(curves(), st.floats(0.0, 2.0))
def test_scaling_a_curve_scales_what_it_gives(curve, factor):
    middle = 0.5 * (curve[0][0] + curve[-1][0])
    assert interpolate(scaled(curve, factor), middle) == pytest.approx(
        factor * interpolate(curve, middle), rel=1e-9, abs=1e-9
    )


def test_the_lowest_of_several_maxima_is_returned():
    assert maximum(TORQUE) == (147.0, 600.0)


def test_power_crest_inside_a_falling_segment():
    # By hand: T = 1000 - 2·ω gives P = 1000·ω - 2·ω², crest at ω = 250 with P = 125 000.
    assert product_maxima(((100.0, 800.0), (400.0, 200.0))) == (pytest.approx((250.0, 125_000.0)),)


def test_every_one_of_several_equal_power_maxima_is_returned():
    # By hand: 100·60 = 150·40 = 6000 with a hollow between; the outer points carry less.
    curve = ((50.0, 60.0), (100.0, 60.0), (120.0, 30.0), (150.0, 40.0), (151.0, 30.0))
    assert product_maxima(curve) == ((100.0, 6000.0), (150.0, 6000.0))


@given(curves())
def test_no_power_on_the_curve_exceeds_the_maximum(curve):
    best = product_maxima(curve)[0][1]
    xs, _ = zip(*curve, strict=True)
    for low, high in pairwise(xs):
        found = minimize_scalar(
            lambda x, low=low, high=high: -x * interpolate(curve, min(max(x, low), high)),
            bounds=(low, high),
            method="bounded",
        )
        assert -found.fun <= best * (1.0 + 1e-9) + 1e-9
    for x, product in product_maxima(curve):
        assert product == pytest.approx(x * interpolate(curve, x), rel=1e-9, abs=1e-9)


@given(curves(), st.floats(0, 1), st.floats(0, 1))
def test_a_curve_cut_off_is_the_lesser_of_both_everywhere(curve, limit, share):
    lowest, highest = min(y for _, y in curve), max(y for _, y in curve)
    limit = lowest + limit * (highest - lowest)
    x = curve[0][0] + share * (curve[-1][0] - curve[0][0])
    expected = min(limit, float(interp1d(*zip(*curve, strict=True))(x)))
    assert interpolate(cut_off(curve, limit), x) == pytest.approx(expected, rel=1e-6, abs=1e-6 * max(1.0, highest))


@pytest.mark.parametrize(
    ("curve", "limit", "cut"),
    [
        # rises through the limit and stays above it; begins above it and falls through it; both
        (((0.0, 0.0), (10.0, 10.0), (20.0, 10.0)), 5.0, ((0.0, 0.0), (5.0, 5.0), (20.0, 5.0))),
        (((0.0, 10.0), (10.0, 10.0), (20.0, 0.0)), 5.0, ((0.0, 5.0), (15.0, 5.0), (20.0, 0.0))),
        (((0.0, 0.0), (8.0, 16.0), (12.0, 8.0), (20.0, 16.0)), 4.0, ((0.0, 0.0), (2.0, 4.0), (20.0, 4.0))),
        # a corner that lies on the limit stays, once
        (((0.0, 0.0), (10.0, 5.0), (20.0, 15.0), (30.0, 0.0)), 5.0,
         ((0.0, 0.0), (10.0, 5.0), (80.0 / 3, 5.0), (30.0, 0.0))),
        # above it all along
        (((0.0, 10.0), (10.0, 12.0), (20.0, 10.0)), 5.0, ((0.0, 5.0), (20.0, 5.0))),
        # a flat part below the limit keeps its points: they are the sheet's own
        (((0.0, 4.0), (10.0, 4.0), (20.0, 4.0)), 5.0, ((0.0, 4.0), (10.0, 4.0), (20.0, 4.0))),
    ],
)  # fmt: skip
def test_where_a_cut_off_curve_bends(curve, limit, cut):
    found = cut_off(curve, limit)
    assert [x for x, _ in found] == pytest.approx([x for x, _ in cut])
    assert [y for _, y in found] == pytest.approx([y for _, y in cut])


def test_a_limit_above_the_curve_leaves_it():
    curve = ((1000.0, 400.0), (1400.0, 600.0), (1900.0, 600.0))
    assert cut_off(curve, 600.0) == curve
