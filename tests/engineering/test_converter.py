"""Converter stall against a numerical root finder and the definition of the capacity factor."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq  # type: ignore[import-untyped]

from swaplint.engineering import ImpossibleInput, OutsideRange, converter

RPM = 2.0 * math.pi / 60.0

# An invented torque curve, rpm and N·m.
CURVE = [
    (rpm * RPM, torque)
    for rpm, torque in (
        (700, 330),
        (800, 380),
        (1000, 480),
        (1200, 560),
        (1400, 600),
        (1900, 600),
        (2200, 560),
        (2600, 485),
        (2850, 0),
    )
]


@given(st.floats(4.0, 25.0), st.floats(0.0, 60.0))
def test_stall_against_a_root_finder(k: float, drag: float) -> None:
    speeds, torques = zip(*CURVE, strict=True)

    def surplus(speed: float) -> float:
        return float(np.interp(speed, speeds, torques)) - drag - (speed / k) ** 2

    assume(surplus(speeds[0]) > 0.0)
    # The first crossing, found by stepping along the curve and then by Brent's method.
    grid = np.linspace(speeds[0], speeds[-1], 4001)
    values = np.array([surplus(float(speed)) for speed in grid])
    first = int(np.argmax(values < 0.0))
    expected = brentq(surplus, grid[first - 1], grid[first])
    assert converter.stall_speed(CURVE, k, drag) == pytest.approx(expected, rel=1e-9)


@given(st.floats(5.0, 20.0), st.floats(50.0, 900.0))
def test_flat_torque_stalls_at_k_times_root_torque(k: float, torque: float) -> None:
    # Definition of the capacity factor K = n/√T (Gillespie, chapter 2, from memory).
    stall = converter.stall_speed([(0.0, torque), (1000.0, torque)], k)
    assert stall == pytest.approx(k * math.sqrt(torque))
    assert converter.absorbed_torque(stall, k) == pytest.approx(torque)
    assert converter.capacity_factor(stall, torque) == pytest.approx(k)


def test_capacity_factor_from_inch_units() -> None:
    # The same converter in rpm per √(lbf·ft): 2000 rpm at 300 lbf·ft is K = 115.47; 1 lbf·ft = 1.3558 N·m.
    k = converter.capacity_factor(2000.0 * RPM, 300.0 * 1.3558179483)
    assert k / RPM * math.sqrt(1.3558179483) == pytest.approx(2000.0 / math.sqrt(300.0))


@given(st.floats(8.0, 11.0), st.floats(1.0, 100.0))
def test_tighter_converter_and_more_drag_stall_lower(k: float, drag: float) -> None:
    assert converter.stall_speed(CURVE, k) < converter.stall_speed(CURVE, k * 1.05)
    assert converter.stall_speed(CURVE, k, drag) < converter.stall_speed(CURVE, k)


def test_stall_by_hand() -> None:
    # rising: 100 N·m at 0, 2 N·m more each rad/s, against (ω/10)²: ω² - 200·ω - 10 000 = 0, ω = 100 + 100·√2;
    # level: 10·√400 = 200; falling from 800 by 4 each rad/s: ω² + 400·ω - 80 000 = 0, ω = -200 + √120 000
    assert converter.stall_speed([(0.0, 100.0), (300.0, 700.0)], 10.0) == pytest.approx(100 + 100 * math.sqrt(2))
    assert converter.stall_speed([(0.0, 400.0), (300.0, 400.0)], 10.0) == pytest.approx(200.0)
    assert converter.stall_speed([(0.0, 800.0), (200.0, 0.0)], 10.0) == pytest.approx(-200 + math.sqrt(120e3))
    # accessories take 44 N·m of 400: 10·√356
    assert converter.stall_speed([(0.0, 400.0), (300.0, 400.0)], 10.0, 44.0) == pytest.approx(10 * math.sqrt(356.0))
    # however weak the engine: 10·√0.0025 = 0.5
    assert converter.stall_speed([(0.0, 0.0025), (10.0, 0.0025)], 10.0) == pytest.approx(0.5)


def test_stall_at_a_corner_of_the_curve() -> None:
    speed, torque = CURVE[4]
    assert converter.stall_speed(CURVE, converter.capacity_factor(speed, torque)) == pytest.approx(speed)


@given(st.floats(50.0, 400.0), st.floats(5.0, 20.0))
def test_all_of_the_engine_power_is_heat_at_stall(speed: float, k: float) -> None:
    assert converter.stall_heat(speed, k) == pytest.approx(converter.absorbed_torque(speed, k) * speed)
    assert converter.stalled_output_torque(speed, k, 2.1) == pytest.approx(2.1 * (speed / k) ** 2)


def test_refusals() -> None:
    with pytest.raises(OutsideRange, match="below"):
        converter.stall_speed(CURVE, 2.0)
    with pytest.raises(OutsideRange, match="past"):
        converter.stall_speed(CURVE[:5], 30.0)
    with pytest.raises(ImpossibleInput):
        converter.stall_speed(CURVE[:1], 10.0)
    with pytest.raises(ImpossibleInput):
        converter.stall_speed([CURVE[1], CURVE[0]], 10.0)
    with pytest.raises(ImpossibleInput, match="must rise, but 700 r/min follows 700 r/min"):
        converter.stall_speed([CURVE[0], CURVE[0]], 10.0)
