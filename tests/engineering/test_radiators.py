"""Conductance of a radiator between and beyond its tested points.

The film exponents are those of the published correlations: air over louvred fins j ∝ Re^-0.49, so h ∝ flow^0.51
(Chang & Wang 1997), turbulent tube flow Nu ∝ Re^0.8 (Dittus-Boelter, in Incropera & DeWitt).
"""

from __future__ import annotations

import math

import ht
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.engineering import ImpossibleInput, OutsideRange
from swaplint.engineering.heat_exchangers import FlowArrangement, effectiveness_from_ua
from swaplint.engineering.radiators import RadiatorTest, conductance, core_conductance

ONE = [RadiatorTest(2.0, 0.003, 3000.0)]
THREE = [RadiatorTest(1.0, 0.003, 2100.0), RadiatorTest(3.0, 0.003, 3500.0), RadiatorTest(2.0, 0.003, 3000.0)]


def test_tested_points_come_back() -> None:
    for test in THREE:
        assert conductance(THREE, test.air_flow, test.coolant_flow) == pytest.approx(test.ua)


def test_half_the_air_by_hand() -> None:
    # films in series: 1/UA = (0.8·0.5^-0.51 + 0.2)/3000 = (0.8·1.42405 + 0.2)/3000, UA = 3000/1.33924 = 2240.1
    assert conductance(ONE, 1.0, 0.003) == pytest.approx(2240.1, rel=1e-4)


def test_half_the_coolant_by_hand() -> None:
    # (0.8 + 0.2·0.5^-0.8) = 0.8 + 0.2·1.74110 = 1.14822, UA = 3000/1.14822 = 2612.7
    assert conductance(ONE, 2.0, 0.0015) == pytest.approx(2612.7, rel=1e-4)


def test_between_tests_by_straight_line() -> None:
    # halfway between 2 kg/s (3000) and 3 kg/s (3500)
    assert conductance(THREE, 2.5, 0.003) == pytest.approx(3250.0)


def test_effectiveness_falls_with_more_air_and_agrees_with_a_reference_library() -> None:
    coolant_rate = 11000.0
    low, high = (
        effectiveness_from_ua(
            conductance(THREE, air, 0.003), coolant_rate, air * 1006.0, FlowArrangement.CROSSFLOW_UNMIXED
        )
        for air in (1.0, 3.0)
    )
    assert low > high
    # ht: crossflow, both unmixed (exact series); C_min = 3018 W/K, NTU = 3500/3018
    assert high == pytest.approx(
        ht.effectiveness_from_NTU(  # type: ignore[no-untyped-call]
            NTU=3500 / 3018, Cr=3018 / 11000, subtype="crossflow"
        ),
        rel=1e-6,
    )


@given(st.floats(0.5, 6.0), st.floats(0.5, 6.0), st.floats(0.001, 0.01))
def test_more_air_never_lowers_the_conductance(one: float, other: float, coolant: float) -> None:
    low, high = sorted((one, other))
    assert conductance(THREE, low, coolant) <= conductance(THREE, high, coolant) * (1 + 1e-9)


@given(st.floats(0.5, 6.0), st.floats(0.001, 0.01))
def test_never_more_than_tested_and_order_does_not_matter(air: float, coolant: float) -> None:
    found = conductance(THREE, air, coolant)
    assert found <= 3500.0 * (1 + 1e-9)
    assert found == conductance(THREE[::-1], air, coolant)


@pytest.mark.parametrize("air", [0.0, -1.0, math.nan, math.inf])
def test_impossible_air(air: float) -> None:
    with pytest.raises(ImpossibleInput):
        conductance(ONE, air, 0.003)


def test_no_tests_and_twice_the_same_air() -> None:
    with pytest.raises(ImpossibleInput):
        conductance([], 1.0, 0.003)
    with pytest.raises(ImpossibleInput):
        conductance([ONE[0], ONE[0]._replace(ua=1.0)], 1.0, 0.003)


def test_too_far_from_the_tests() -> None:
    with pytest.raises(OutsideRange):
        conductance(ONE, 0.3, 0.003)


def test_a_core_gives_off_more_with_depth_fins_and_air() -> None:
    # the exponents of the fit: 1.5^0.80 = 1.3831, 1.5^0.83 = 1.4001, 2^0.41 = 1.3287
    core = core_conductance(0.24, 0.032, 14.0, 4.0)
    assert core_conductance(0.48, 0.032, 14.0, 4.0) == pytest.approx(2.0 * core)
    assert core_conductance(0.24, 0.048, 14.0, 4.0) == pytest.approx(1.3831 * core, rel=1e-4)
    few = core_conductance(0.24, 0.032, 12.0, 4.0)
    assert core_conductance(0.24, 0.032, 18.0, 4.0) == pytest.approx(1.4001 * few, rel=1e-4)
    assert core_conductance(0.24, 0.032, 14.0, 8.0) == pytest.approx(1.3287 * core, rel=1e-4)
