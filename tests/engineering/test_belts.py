"""Belt drives against worked textbook examples, convex hulls and vector addition."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial import ConvexHull  # type: ignore[import-untyped]

from swaplint.engineering import ImpossibleInput, OutsideRange, belts
from swaplint.engineering.belts import Pulley

RPM = 2.0 * math.pi / 60.0

drives = st.tuples(st.floats(0.05, 0.15), st.floats(1.0, 4.0), st.floats(1.1, 6.0)).map(
    lambda d: (d[0] * d[1], d[0], d[2] * (d[0] * d[1] + d[0]) / 2.0)
)


def test_khurmi_compound_drive() -> None:
    # Khurmi and Gupta, Theory of Machines, ex. 11.1: 150 rpm by 750/450 and 900/150 mm: 1500 rpm, 1440 with
    # 2 % slip.
    for slip, expected in ((0.0, 1500.0), (0.02, 1440.6)):
        middle = belts.driven_speed(150.0, 750.0, 450.0, slip)
        assert belts.driven_speed(middle, 900.0, 150.0, slip) == pytest.approx(expected)


def test_khurmi_flat_belt_power() -> None:
    # Khurmi and Gupta ex. 11.4: 600 mm pulley, 200 rpm, μ 0.25, lap 160°, 2.5 kN: 7.89 kW.
    speed = belts.belt_speed(200.0 * RPM, 0.6)
    ratio = belts.tension_ratio(0.25, math.radians(160.0))
    assert belts.power_capacity(2500.0, speed, ratio) == pytest.approx(7890.0, abs=5.0)
    assert belts.tensions_for_power(belts.power_capacity(2500.0, speed, ratio), speed, ratio)[0] == pytest.approx(2500)


def test_khurmi_rope_on_a_drum() -> None:
    # Khurmi and Gupta ex. 11.5: 9 kN on a drum with 2.5 turns, μ 0.25: 177.33 N at the other end.
    assert 9000.0 / belts.tension_ratio(0.25, 5.0 * math.pi) == pytest.approx(177.33, abs=0.01)


def test_khurmi_crossed_belt() -> None:
    # Khurmi and Gupta ex. 11.6: 450 and 200 mm, 1.95 m apart: 4.975 m by its approximation, 3.473 rad as
    # printed by the worked notebook (sine where arc sine belongs; 3.476 exactly), 2.73 kW at 1 kN, μ 0.25,
    # 200 rpm.
    assert belts.crossed_belt_length(0.45, 0.2, 1.95) == pytest.approx(4.975, rel=5e-4)
    lap = belts.crossed_lap_angle(0.45, 0.2, 1.95)
    assert lap == pytest.approx(3.473, rel=2e-3)
    power = belts.power_capacity(1000.0, belts.belt_speed(200.0 * RPM, 0.45), belts.tension_ratio(0.25, lap))
    assert power == pytest.approx(2730.0, rel=5e-3)


def test_khurmi_belt_stress() -> None:
    # Khurmi and Gupta ex. 11.7: 750/500 mm, 4 m apart, 6 kW at 300 rpm on the small one, μ 0.3, belt 100 x
    # 10 mm: 1.267 MPa open.
    lap = belts.lap_angles(0.75, 0.5, 4.0)[1]
    tight, _ = belts.tensions_for_power(6000.0, belts.belt_speed(300.0 * RPM, 0.5), belts.tension_ratio(0.3, lap))
    assert tight / (100.0 * 10.0) == pytest.approx(1.267, abs=0.001)


def test_khurmi_belt_width_with_centrifugal_tension() -> None:
    # Khurmi and Gupta ex. 11.8: 7.5 kW, 1.2 m pulley, 250 rpm, lap 165°, μ 0.3, 10 mm thick, 1.5 MPa, 1000
    # kg/m³: width 65.9 mm.
    width, thickness = 0.0659, 0.010
    power = belts.power_capacity(
        1.5e6 * width * thickness,
        belts.belt_speed(250.0 * RPM, 1.2),
        belts.tension_ratio(0.3, math.radians(165.0)),
        1000.0 * width * thickness,
    )
    assert power == pytest.approx(7500.0, rel=2e-3)


def test_a_crossed_belt_by_its_triangle() -> None:
    # radii of 0.2 and 0.1 m, 0.5 m apart: each straight piece is the third side of a triangle 0.3, 0.4, 0.5
    arcs = 0.3 * (math.pi + 2.0 * math.asin(0.6))
    assert belts.crossed_belt_length(0.4, 0.2, 0.5) == pytest.approx(0.8 + arcs, rel=1e-12)
    assert belts.crossed_lap_angle(0.4, 0.2, 0.5) == pytest.approx(math.pi + 2.0 * math.asin(0.6), rel=1e-12)
    # an open one: radii of 0.4 and 0.1 m there, a difference of 0.3 m
    laps = math.pi + 2.0 * math.asin(0.6), math.pi - 2.0 * math.asin(0.6)
    assert belts.lap_angles(0.8, 0.2, 0.500001) == pytest.approx(laps, rel=1e-5)
    length = 0.8 + 0.4 * laps[0] + 0.1 * laps[1]
    assert belts.open_belt_length(0.8, 0.2, 0.500001) == pytest.approx(length, rel=1e-5)


def test_lap_angles() -> None:
    # 180° - 2·asin((D - d)/(2·x)) by hand: 300/900 mm at 3 m 168.522°; 200/300 mm at 1 m (published problem
    # at bartleby.com) 174.268°.
    assert math.degrees(belts.lap_angles(0.9, 0.3, 3.0)[1]) == pytest.approx(168.522, rel=5e-6)
    assert math.degrees(belts.lap_angles(0.3, 0.2, 1.0)[1]) == pytest.approx(174.268, rel=5e-6)


def test_open_belt_length() -> None:
    # Published problem (hackmath.net 258): 105 and 393 mm, 697 mm apart; exact geometry 2206.1 mm, printed
    # 2.2 m.
    assert belts.open_belt_length(0.393, 0.105, 0.697) == pytest.approx(2.20611, rel=5e-6)


def test_capstan_ratio() -> None:
    # exp(μ·θ) and exp(μ·θ/sin 20°) by hand for the lap above and μ = 0.3.
    assert belts.tension_ratio(0.3, 2.94126) == pytest.approx(2.41664, rel=5e-5)
    assert belts.tension_ratio(0.3, 2.94126, belts.POLY_V_HALF_GROOVE) == pytest.approx(13.1958, rel=1e-4)


@given(drives)
def test_layout_of_two_pulleys_is_an_open_belt(drive: tuple[float, float, float]) -> None:
    large, small, distance = drive
    layout = belts.belt_layout([Pulley(0.0, 0.0, large), Pulley(0.6 * distance, 0.8 * distance, small)])
    assert layout.laps == pytest.approx(belts.lap_angles(large, small, distance))
    assert layout.length == pytest.approx(belts.open_belt_length(large, small, distance))


def _hull_length(pulleys: list[Pulley], count: int = 3000) -> float:
    turns = np.linspace(0.0, 2.0 * math.pi, count, endpoint=False)
    circles = [
        np.column_stack([p.x + p.diameter / 2 * np.cos(turns), p.y + p.diameter / 2 * np.sin(turns)]) for p in pulleys
    ]
    return float(ConvexHull(np.concatenate(circles)).area)  # the "area" of a plane hull is its perimeter


@given(st.lists(st.floats(0.05, 0.2), min_size=3, max_size=5), st.floats(0.0, 6.0))
def test_layout_against_a_convex_hull(diameters: list[float], start: float) -> None:
    # A belt with no backside idler is the convex hull of its pulleys; here they stand on a circle, in order.
    count = len(diameters)
    pulleys = [
        Pulley(0.5 * math.cos(start + 2 * math.pi * i / count), 0.5 * math.sin(start + 2 * math.pi * i / count), d)
        for i, d in enumerate(diameters)
    ]
    layout = belts.belt_layout(pulleys)
    assert layout.length == pytest.approx(_hull_length(pulleys), rel=1e-4)
    assert sum(layout.laps) == pytest.approx(2.0 * math.pi)


def test_backside_idler_by_hand() -> None:
    # Two 100 mm pulleys 600 mm apart, a 60 mm idler pushing the lower span up. With radii 50 and 30 mm the
    # inner tangent leaves the line of centres by asin(80/D) where D is the distance of centres; by symmetry
    # the idler's lap is twice the rise of that tangent.
    depth = 0.060
    idler = Pulley(0.0, -depth, 0.060, backside=True)
    layout = belts.belt_layout([Pulley(-0.3, 0.0, 0.1), idler, Pulley(0.3, 0.0, 0.1)])
    distance = math.hypot(0.3, depth)
    rise = math.asin(0.080 / distance) - math.atan2(depth, 0.3)
    span = math.sqrt(distance**2 - 0.080**2)
    assert layout.laps == pytest.approx((math.pi + rise, 2.0 * rise, math.pi + rise))
    assert layout.spans == pytest.approx((span, span, 0.6))
    assert layout.length == pytest.approx(2.0 * span + 0.6 + 0.05 * 2.0 * (math.pi + rise) + 0.03 * 2.0 * rise)


def test_idler_that_only_touches_changes_nothing() -> None:
    touching = Pulley(0.0, -0.08 + 1e-9, 0.060, backside=True)
    layout = belts.belt_layout([Pulley(-0.3, 0.0, 0.1), touching, Pulley(0.3, 0.0, 0.1)])
    assert layout.laps[1] == pytest.approx(0.0, abs=1e-6)
    assert layout.length == pytest.approx(belts.open_belt_length(0.1, 0.1, 0.6), abs=1e-6)


@given(drives, st.floats(50.0, 900.0), st.floats(50.0, 900.0))
def test_pull_has_the_size_of_the_shaft_load(
    drive: tuple[float, float, float], arriving: float, leaving: float
) -> None:
    # the law of cosines with the lap of the open belt (Shigley, flexible elements) knows nothing of directions
    large, small, distance = drive
    layout = belts.belt_layout([Pulley(0.0, 0.0, large), Pulley(0.6 * distance, 0.8 * distance, small)])
    for index, lap in enumerate(belts.lap_angles(large, small, distance)):
        x, y = belts.belt_pull(layout, index, arriving, leaving)
        law = math.sqrt(arriving**2 + leaving**2 - 2.0 * arriving * leaving * math.cos(lap))
        assert math.hypot(x, y) == pytest.approx(law)
    # the standing belt pulls along the line of centres, towards the other pulley
    x, y = belts.belt_pull(layout, 0, arriving, arriving)
    assert (0.8 * x - 0.6 * y) == pytest.approx(0.0, abs=1e-9 * arriving)
    assert x > 0.0


def test_pulls_of_one_belt_cancel() -> None:
    # a belt of one tension is a closed system: the pulleys' shafts together feel nothing
    pulleys = [Pulley(0.0, 0.0, 0.18), Pulley(0.35, 0.1, 0.06), Pulley(0.1, 0.3, 0.07, backside=True)]
    pulleys += [Pulley(-0.2, 0.35, 0.12)]
    layout = belts.belt_layout(pulleys)
    pulls = [belts.belt_pull(layout, index, 400.0, 400.0) for index in range(4)]
    assert sum(x for x, _ in pulls) == pytest.approx(0.0, abs=1e-9)
    assert sum(y for _, y in pulls) == pytest.approx(0.0, abs=1e-9)


def test_wrong_order_is_refused() -> None:
    clockwise = [Pulley(0.0, 0.0, 0.1), Pulley(0.0, 1.0, 0.1), Pulley(1.0, 0.0, 0.1)]
    with pytest.raises(ImpossibleInput, match="loop"):
        belts.belt_layout(clockwise)
    with pytest.raises(ImpossibleInput, match="overlap"):
        belts.belt_layout([Pulley(0.0, 0.0, 0.5), Pulley(0.3, 0.0, 0.5)])
    with pytest.raises(ImpossibleInput):
        belts.belt_layout([Pulley(0.0, 0.0, 0.5)])


@given(st.floats(0.0, 3000.0), st.floats(0.0, 3000.0), st.floats(0.0, 2 * math.pi))
def test_shaft_load_is_a_vector_sum(tight: float, slack: float, lap: float) -> None:
    # The two spans leave the pulley at an angle of π - lap to each other.
    vector = tight + slack * np.exp(1j * (math.pi - lap))
    assert belts.shaft_load(tight, slack, lap) == pytest.approx(abs(vector), abs=1e-6)


def test_best_speed_of_a_belt() -> None:
    # Power is greatest where centrifugal tension is a third of the tension allowed (Khurmi and Gupta, ch.
    # 11).
    best = math.sqrt(1200.0 / (3.0 * 0.12))
    powers = [belts.power_capacity(1200.0, best * factor, 5.0, 0.12) for factor in (0.98, 1.0, 1.02)]
    assert max(powers) == powers[1]


@given(st.floats(100.0, 20e3), st.floats(1.0, 40.0), st.floats(1.1, 15.0), st.floats(0.0, 0.2))
def test_tensions_and_power_are_inverse(power: float, speed: float, ratio: float, mass: float) -> None:
    tight, slack = belts.tensions_for_power(power, speed, ratio, mass)
    assert (tight - slack) * speed == pytest.approx(power)
    assert belts.power_capacity(tight, speed, ratio, mass) == pytest.approx(power)


@given(st.floats(0.1, 0.3), st.floats(600.0, 900.0), st.floats(2000.0, 6500.0))
def test_pulley_window_holds_its_speeds(driver: float, idle: float, top: float) -> None:
    smallest, largest = belts.driven_pulley_window(driver, idle, top, 1800.0, 15000.0)
    assert belts.driven_speed(top, driver, smallest) == pytest.approx(15000.0)
    assert belts.driven_speed(idle, driver, largest) == pytest.approx(1800.0)


def test_a_rib_more_for_a_load_and_none_for_rounding() -> None:
    assert 6000.0 * 1.1 / 2200.0 > 3.0  # by the last bit
    assert belts.ribs_needed(6000.0, 1.1, 2200.0) == 3
    assert belts.ribs_needed(6000.0, 1.1001, 2200.0) == 4


@pytest.mark.parametrize(
    ("tight", "speed", "ratio", "mass"),
    [
        # (T1 - m·v²)·(1 - 1/ratio)·v: (1000 - 0.1·400)·0.75·20 = 14.4 kW, and without mass 15 kW
        (1000.0, 20.0, 4.0, 0.1),
        (1000.0, 20.0, 4.0, 0.0),
        (1000.0, 100.0, 4.0, 0.1),  # all of the tension is centrifugal
        (1000.0, 20.0, 1.0, 0.0),  # a belt that does not grip
    ],
)
def test_what_a_belt_carries_by_hand(tight: float, speed: float, ratio: float, mass: float) -> None:
    by_hand = {(20.0, 0.1): 14400.0, (20.0, 0.0): 15000.0, (100.0, 0.1): 0.0}[speed, mass] * (ratio > 1.0)
    assert belts.power_capacity(tight, speed, ratio, mass) == pytest.approx(by_hand, abs=1e-6)


def test_tensions_by_hand() -> None:
    # 15 kW at 20 m/s are 750 N between the spans; at four to one 1000 and 250 N; 0.1 kg/m add 40 N to each
    assert belts.tensions_for_power(15e3, 20.0, 4.0) == pytest.approx((1000.0, 250.0))
    assert belts.tensions_for_power(15e3, 20.0, 4.0, 0.1) == pytest.approx((1040.0, 290.0))


def test_the_last_that_a_belt_can_be() -> None:
    with pytest.raises(OutsideRange, match=r"belt speed of 100\.1 m/s centrifugal force alone"):
        belts.power_capacity(1000.0, 100.1, 4.0, 0.1)
    with pytest.raises(ImpossibleInput, match=r"at least 1, not 0\.999"):
        belts.power_capacity(1000.0, 20.0, 0.999)
    with pytest.raises(ImpossibleInput, match="no power passes"):
        belts.tensions_for_power(15e3, 20.0, 0.999)
    assert belts.tensions_for_power(15e3, 20.0, 1.05)[0] == pytest.approx(15750.0)  # 750 N of 15 750
    assert belts.power_capacity(1050.0, 20.0, 1.05) == pytest.approx(1000.0)  # 50 N at 20 m/s
    # two pulleys alike: half a turn each; touching ones are no drive
    assert belts.lap_angles(0.2, 0.2, 0.3) == pytest.approx((math.pi, math.pi))
    for apart in (0.2, 0.199, 0.19):
        with pytest.raises(ImpossibleInput, match=f"pulleys {apart * 1e3:g} mm apart overlap"):
            belts.belt_layout([Pulley(0.0, 0.0, 0.2), Pulley(apart, 0.0, 0.2)])
        with pytest.raises(ImpossibleInput, match=f"pulleys {apart * 1e3:g} mm apart overlap"):
            belts.lap_angles(0.2, 0.2, apart)
    with pytest.raises(ImpossibleInput, match="at least two pulleys, not 1"):
        belts.belt_layout([Pulley(0.0, 0.0, 0.2)])


def test_ribs() -> None:
    assert belts.ribs_needed(6000.0, 1.0, 1500.0) == 4
    assert belts.ribs_needed(6000.1, 1.0, 1500.0) == 5
    assert belts.ribs_needed(0.0, 1.0, 1500.0) == 1


def test_misalignment() -> None:
    # 3 mm in a metre is 0.17°.
    assert math.degrees(belts.misalignment_angle(-0.003, 1.0)) == pytest.approx(0.1719, rel=1e-3)


def test_refusals() -> None:
    with pytest.raises(OutsideRange):
        belts.power_capacity(100.0, 50.0, 5.0, 0.1)
    with pytest.raises(ImpossibleInput):
        belts.tensions_for_power(1000.0, 10.0, 1.0)
    with pytest.raises(ImpossibleInput):
        belts.lap_angles(0.1, 0.2, 1.0)
    with pytest.raises(ImpossibleInput):
        belts.tension_ratio(0.3, 3.0, 0.0)


def test_pulleys_must_not_overlap() -> None:
    # 0.4 and 0.2 m across touch 0.3 m apart
    assert belts.crossed_lap_angle(0.4, 0.2, 0.3001) == pytest.approx(2.0 * math.pi, abs=0.06)
    for apart in (0.3, 0.29, 0.2):
        with pytest.raises(ImpossibleInput, match="overlap"):
            belts.crossed_lap_angle(0.4, 0.2, apart)


def test_a_half_groove_is_no_more_than_a_right_angle() -> None:
    assert belts.tension_ratio(0.3, 3.0, math.pi / 2) == pytest.approx(math.exp(0.9))
    with pytest.raises(ImpossibleInput, match="right angle"):
        belts.tension_ratio(0.3, 3.0, 1.6)
