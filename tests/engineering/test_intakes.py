"""Filters, air-mass sensors and charge-air joints: worked by hand, limiting cases, properties."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.engineering.guards import ImpossibleInput
from swaplint.engineering.intakes import blow_off_force, filter_life, meter_error

some = st.floats(1e-3, 1e3)


def test_filter_life_by_hand() -> None:
    # 1 kg of dust at 1 g/m³ and 100 m³/h: 1000 m³, that is 10 h; half of it kept off: 20 h (balance of masses)
    assert filter_life(1.0, 1e-3, 100 / 3600) == pytest.approx(10 * 3600)
    assert filter_life(1.0, 1e-3, 100 / 3600, 0.5) == pytest.approx(20 * 3600)


@given(some, some, some, st.floats(0.0, 0.99))
def test_filter_life_balances_the_dust(capacity: float, dust: float, flow: float, kept: float) -> None:
    assert filter_life(capacity, dust, flow, kept) * dust * flow * (1 - kept) == pytest.approx(capacity)


@pytest.mark.parametrize(
    "bad", [(0.0, 1.0, 1.0, 0.0), (1.0, 0.0, 1.0, 0.0), (1.0, 1.0, 0.0, 0.0), (1.0, 1.0, 1.0, 1.0)]
)
def test_filter_life_refuses(bad: tuple[float, float, float, float]) -> None:
    with pytest.raises(ImpossibleInput):
        filter_life(*bad)


def test_meter_error_is_twice_the_error_of_the_bore() -> None:
    # d(D²)/D² = 2·dD/D for small changes: 0.1 % of bore is 0.2 % of air
    assert meter_error(70.07, 70.0) == pytest.approx(0.002, rel=1e-3)
    assert meter_error(70.0, 70.0) == 0.0


@given(st.floats(0.02, 0.2), st.floats(0.02, 0.2))
def test_meter_error_turned_round(bore: float, calibrated: float) -> None:
    assert (1 + meter_error(bore, calibrated)) * (1 + meter_error(calibrated, bore)) == pytest.approx(1.0)


def test_blow_off_force_by_hand() -> None:
    # 100 kPa on a bore of 70 mm: 1e5·π/4·0.0049 = 384.8 N
    assert blow_off_force(1e5, 0.07) == pytest.approx(1e5 * math.pi * 0.07**2 / 4)
    assert blow_off_force(0.0, 0.07) == 0.0
    with pytest.raises(ImpossibleInput):
        blow_off_force(-1.0, 0.07)
