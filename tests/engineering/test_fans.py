"""Fans against textbook examples."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.engineering import ImpossibleInput, OutsideRange, fans
from swaplint.engineering.fans import FanPoint

RATIOS = st.floats(0.2, 5.0)
RESISTANCES = st.floats(0.01, 1e4)

# Fox & McDonald, Introduction to Fluid Mechanics, example 10.11, fan 1: 36 in, 600 rpm, 0.075 lb/ft³.
# Flow in cfm, pressure in inches of water, power in hp.
FOX_FAN_1 = [(0, 3.68), (10000, 3.75), (20000, 3.50), (30000, 2.96), (40000, 2.12), (50000, 1.02), (60000, 0)]


def falling_curves() -> st.SearchStrategy[list[tuple[float, float]]]:
    """Fan curves whose pressure falls all the way to nothing at free flow."""
    steps = st.lists(st.tuples(st.floats(0.05, 2.0), st.floats(1.0, 300.0)), min_size=1, max_size=6)

    def build(parts: list[tuple[float, float]]) -> list[tuple[float, float]]:
        flow, pressure = 0.0, math.fsum(drop for _, drop in parts)
        curve = [(flow, pressure)]
        for width, drop in parts:
            flow, pressure = flow + width, pressure - drop
            curve.append((flow, max(pressure, 0.0)))
        curve[-1] = (curve[-1][0], 0.0)
        return curve

    return steps.map(build)


@pytest.mark.parametrize(
    ("flow", "pressure", "power", "flow2", "pressure2", "power2"),
    [
        # Fan 2 of the example: 42 in, 1150 rpm, 0.045 lb/ft³. Data of fan 1 looked up, results from memory.
        pytest.param(30000.0, 2.96, 21.4, 91300.0, 8.88, 195.0, id="Fox-McDonald 10.11, best efficiency"),
        pytest.param(40000.0, 2.12, 23.1, 122000.0, 6.36, 211.0, id="Fox-McDonald 10.11, higher flow"),
    ],
)
def test_fan_laws_carry_speed_size_and_density(
    flow: float, pressure: float, power: float, flow2: float, pressure2: float, power2: float
) -> None:
    moved = fans.fan_at(FanPoint(flow, pressure, power), 1150 / 600, 0.045 / 0.075, 42 / 36)
    assert moved == pytest.approx((flow2, pressure2, power2), rel=0.005)


def test_density_alone_changes_pressure_and_power_but_not_flow() -> None:
    # Stoecker & Jones, Refrigeration and Air Conditioning, fan problem: 2.4 m³/s, 340 Pa, 1.8 kW with air of
    # 20 °C; with air of 40 °C at the same speed the printed answer is 1.685 kW.
    moved = fans.fan_at(FanPoint(2.4, 340.0, 1800.0), density_ratio=293.15 / 313.15)
    assert moved.power == pytest.approx(1685.0, abs=0.5)
    assert moved.flow == 2.4
    assert moved.pressure == pytest.approx(340.0 * 1685.0 / 1800.0, rel=1e-3)


def test_matching_of_pump_and_system() -> None:
    # White, Fluid Mechanics, example 11.6: pump H = 490 − 0.26·Q² ft, system H = 120 + 0.335·Q² ft, Q in
    # thousand gal/min; printed meeting point 24 900 gal/min (from memory). The static 120 ft is taken off.
    curve = [(0.1 * i, 370.0 - 0.26 * (0.1 * i) ** 2) for i in range(378)]
    point = fans.operating_point(curve, 0.335)
    assert point.flow == pytest.approx(24.9, abs=0.05)
    assert point.pressure == pytest.approx(0.335 * point.flow**2, rel=1e-9)


def test_operating_point_between_curve_points_by_hand() -> None:
    # 1000 − 100·Q = 200·Q²: Q = (−100 + √(100² + 4·200·1000))/400 = 2 exactly.
    assert fans.operating_point([(0.0, 1000.0), (10.0, 0.0)], 200.0) == pytest.approx((2.0, 800.0))


def test_stall_dip_gives_the_point_with_the_least_flow() -> None:
    # Straight from 100 Pa to 20 Pa at 2 m³/s, up again to 90 at 3, down to 0 at 5; the system takes 10·Q².
    # First meeting by hand: 100 − 40·Q = 10·Q², Q = −2 + √14.
    curve = [(0.0, 100.0), (2.0, 20.0), (3.0, 90.0), (5.0, 0.0)]
    assert fans.operating_point(curve, 10.0).flow == pytest.approx(-2.0 + math.sqrt(14.0))


@given(curve=falling_curves(), resistance=RESISTANCES)
def test_fan_and_system_agree_where_they_meet(curve: list[tuple[float, float]], resistance: float) -> None:
    point = fans.operating_point(curve, resistance)
    assert 0.0 < point.flow <= curve[-1][0]
    assert point.pressure == pytest.approx(resistance * point.flow**2, rel=1e-6, abs=1e-6)


@given(curve=falling_curves(), resistance=RESISTANCES, factor=st.floats(1.01, 10.0))
def test_more_resistance_means_less_flow_and_more_pressure(
    curve: list[tuple[float, float]], resistance: float, factor: float
) -> None:
    less, more = (fans.operating_point(curve, k) for k in (resistance, resistance * factor))
    assert more.flow < less.flow
    assert more.pressure >= less.pressure - 1e-6


@given(curve=falling_curves())
def test_without_resistance_the_fan_runs_at_free_flow(curve: list[tuple[float, float]]) -> None:
    assert fans.operating_point(curve, 0.0) == pytest.approx((curve[-1][0], 0.0))


@given(curve=falling_curves(), resistance=RESISTANCES, speed=RATIOS, density=RATIOS)
def test_operating_point_follows_the_fan_laws(
    curve: list[tuple[float, float]], resistance: float, speed: float, density: float
) -> None:
    # The losses of the system go with air density too, so a change of density leaves the flow alone.
    before = fans.operating_point(curve, resistance)
    after = fans.operating_point(fans.curve_at(curve, speed, density), resistance * density)
    assert after.flow == pytest.approx(before.flow * speed, rel=1e-6)
    assert after.pressure == pytest.approx(before.pressure * density * speed**2, rel=1e-6)
    assert fans.speed_ratio_for_flow(before.flow, after.flow) == pytest.approx(speed, rel=1e-6)


@given(n=RATIOS, rho=RATIOS, d=RATIOS)
def test_fan_laws_keep_efficiency_and_undo_themselves(n: float, rho: float, d: float) -> None:
    start = FanPoint(2.0, 150.0, 600.0)
    moved = fans.fan_at(start, n, rho, d)
    assert moved.flow * moved.pressure / moved.power == pytest.approx(0.5)
    assert fans.fan_at(moved, 1 / n, 1 / rho, 1 / d) == pytest.approx(start)


@pytest.mark.parametrize(("speed", "flow", "pressure", "power"), [(2.0, 2, 4, 8), (0.5, 0.5, 0.25, 0.125)])
def test_fan_laws_of_speed(speed: float, flow: float, pressure: float, power: float) -> None:
    # AMCA Publication 201: flow, pressure and power go with the first, second and third power of speed.
    assert fans.fan_at(FanPoint(1.0, 1.0, 1.0), speed) == (flow, pressure, power)


def test_fan_power_matches_the_printed_efficiency() -> None:
    # Fox & McDonald example 10.11, fan 1 at best efficiency: 30 000 cfm, 2.96 in of water, 21.4 hp, 65 %.
    flow, pressure, power = 30000 * 0.3048**3 / 60, 2.96 * 249.09, 21.4 * 745.7
    assert fans.air_power(flow, pressure) / power == pytest.approx(0.65, abs=0.005)
    assert fans.fan_power(flow, pressure, 0.65) == pytest.approx(power, rel=0.01)


def test_fox_curve_meets_a_system_drawn_through_one_of_its_points() -> None:
    k = fans.resistance_coefficient(2.96, 30000.0)
    assert fans.operating_point(FOX_FAN_1, k) == pytest.approx((30000.0, 2.96))


def test_a_fan_by_its_size_or_its_power_by_hand() -> None:
    # 0.1·(π/4·0.5²)·(0.25 m·200 rad/s) = 0.1·0.19635·50; half the speed gives half of it
    assert fans.flow_by_size(0.5, 200.0, 0.1) == pytest.approx(0.98175, rel=1e-5)
    assert fans.flow_by_size(0.5, 100.0, 0.1) == pytest.approx(0.490875, rel=1e-5)
    # 60 W in the air of 0.4 m across: v³ = 2·60/(1.2·0.125664) = 795.77, v = 9.2668 m/s, 1.1645 m³/s
    assert fans.free_flow_by_power(200.0, 0.4, 0.3, 1.2) == pytest.approx(1.1645, rel=1e-4)
    # the same energy in the air by its definition
    flow = fans.free_flow_by_power(150.0, 0.35, 0.4, 1.1)
    speed = flow / (math.pi / 4 * 0.35**2)
    assert 0.5 * 1.1 * flow * speed**2 == pytest.approx(60.0)


def test_a_fan_that_is_not_changed() -> None:
    point = FanPoint(2.0, 300.0, 1200.0)
    assert fans.fan_at(point) == point
    assert fans.curve_at(((0.0, 300.0), (4.0, 0.0))) == ((0.0, 300.0), (4.0, 0.0))
    # twice as large: flow by 8, pressure by 4 (AMCA 201); half as dense: half the pressure; twice as fast: 2 and 4
    assert fans.curve_at(((0.0, 300.0), (4.0, 0.0)), diameter_ratio=2.0) == ((0.0, 1200.0), (32.0, 0.0))
    assert fans.curve_at(((0.0, 300.0), (4.0, 0.0)), 2.0, 0.5) == ((0.0, 600.0), (8.0, 0.0))


def test_a_fan_without_pressure_moves_nothing() -> None:
    assert fans.operating_point([(0.0, 0.0), (1.0, 0.0)], 10.0) == (0.0, 0.0)
    # and one that meets the system just at a point of its curve, and rises again behind it, stays there
    assert fans.operating_point([(0.0, 90.0), (2.0, 40.0), (3.0, 300.0), (6.0, 0.0)], 10.0) == (2.0, 40.0)


def test_numbers_too_small_to_multiply_do_no_harm() -> None:
    least = 5e-324  # the smallest float: four times its product with any coefficient below 0.1 is zero
    assert 0.0 <= fans.operating_point([(0.0, least), (1.0, least)], 1e-30).flow <= 1.0


def test_impossible_input_is_refused() -> None:
    with pytest.raises(ImpossibleInput, match="zero flow"):
        fans.operating_point([(1.0, 100.0), (2.0, 0.0)], 10.0)
    with pytest.raises(ImpossibleInput):
        fans.operating_point([(0.0, 100.0), (2.0, -1.0)], 10.0)
    with pytest.raises(ImpossibleInput):
        fans.operating_point([(0.0, 100.0), (2.0, 0.0)], -1.0)
    with pytest.raises(OutsideRange, match="ends at 7200 m³/h and 80 Pa"):
        fans.operating_point([(0.0, 100.0), (2.0, 80.0)], 1.0)
    with pytest.raises(ImpossibleInput):
        fans.fan_at(FanPoint(1.0, 1.0, 1.0), speed_ratio=0.0)
    with pytest.raises(ImpossibleInput):
        fans.fan_at(FanPoint(-1.0, 1.0, 1.0))
    with pytest.raises(ImpossibleInput):
        fans.fan_power(1.0, 100.0, 0.0)
    with pytest.raises(ImpossibleInput):
        fans.resistance_coefficient(100.0, 0.0)
    with pytest.raises(ImpossibleInput):
        fans.speed_ratio_for_flow(1.0, math.inf)


@pytest.mark.parametrize(
    ("curve", "watts"),
    [
        ([(0.0, 400.0), (2.0, 0.0)], 200.0),  # a straight line has its most in the middle: 1 m³/s of 200 Pa
        ([(0.0, 300.0), (1.0, 300.0), (1.5, 0.0)], 300.0),  # falls steeply from its best point
        ([(0.0, 300.0), (1.0, 300.0), (3.0, 0.0)], 337.5),  # 450 - 150·V from there on: 225 Pa at 1.5 m³/s
        ([(0.2, 100.0), (0.4, 90.0)], 36.0),  # still rises where the curve ends
    ],
)
def test_the_most_power_that_a_curve_gives_to_the_air(curve: list[tuple[float, float]], watts: float) -> None:
    assert fans.greatest_air_power(curve) == pytest.approx(watts)


@pytest.mark.parametrize("curve", [[(-0.1, 100.0), (1.0, 0.0)], [(0.0, 100.0), (1.0, -1.0)], [(0.0, 100.0)]])
def test_a_curve_that_no_fan_has_gives_no_power(curve: list[tuple[float, float]]) -> None:
    with pytest.raises(ImpossibleInput):
        fans.greatest_air_power(curve)
