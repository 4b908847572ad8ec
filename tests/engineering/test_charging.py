"""Alternator output, charge balance, converters."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.engineering import charging as g
from swaplint.engineering.charging import Load
from swaplint.engineering.guards import ImpossibleInput, OutsideRange

RPM = math.pi / 30
# Invented table of an invented 80 A alternator.
TABLE = [
    (n * RPM, amps) for n, amps in ((1500, 0.0), (2000, 32.0), (2500, 45.0), (3000, 56.0), (4000, 68.0), (6000, 80.0))
]


@given(st.floats(0.0, 9000.0))
def test_output_agrees_with_a_reference_interpolation(rpm: float) -> None:
    # numpy.interp, flat beyond both ends; below the first point this table has 0 A there.
    reference = np.interp(rpm * RPM, [n for n, _ in TABLE], [amps for _, amps in TABLE])
    assert g.alternator_output(rpm * RPM, TABLE) == pytest.approx(float(reference), abs=1e-9)


@given(st.floats(0.0, 9000.0), st.floats(0.01, 100.0))
def test_output_does_not_depend_on_the_unit_of_speed(rpm: float, unit: float) -> None:
    other = [(n * unit, amps) for n, amps in TABLE]
    assert g.alternator_output(rpm * RPM * unit, other) == pytest.approx(
        g.alternator_output(rpm * RPM, TABLE), abs=1e-6
    )


def test_output_below_a_silent_table_is_refused() -> None:
    with pytest.raises(OutsideRange, match="32 A at 2000 r/min"):
        g.alternator_output(1950 * RPM, TABLE[1:])
    assert g.alternator_output(2000 * RPM, TABLE[1:]) == 32.0


@pytest.mark.parametrize(
    "table",
    [[], [(200.0, 10.0), (100.0, 5.0)], [(100.0, 5.0), (100.0, 6.0)], [(100.0, -5.0)], [(math.nan, 5.0)]],
)
def test_impossible_table_is_refused(table: list[tuple[float, float]]) -> None:
    with pytest.raises(ImpossibleInput):
        g.alternator_output(150.0, table)
    with pytest.raises(ImpossibleInput):
        g.balance_speed(2.6, table, 10.0)


def test_balance_by_hand() -> None:
    # 750 min⁻¹ × 2.6 = 1950 min⁻¹; 32 A × 450/500 = 28.8 A; × 0.85 = 24.48 A; less 44 A.
    assert g.charge_balance(750 * RPM, 2.6, TABLE, 44.0) == pytest.approx(-19.52)
    assert g.charge_balance(750 * RPM, 2.6, TABLE, 0.0, hot_share=1.0) == pytest.approx(28.8)


def test_balance_speed_by_hand() -> None:
    # 44 A / 0.85 = 51.765 A: 2500 + 500·(51.765 − 45)/11 = 2807.5 min⁻¹ at the rotor, 1079.8 at the engine.
    speed = g.balance_speed(2.6, TABLE, 44.0)
    assert speed is not None
    assert speed / RPM == pytest.approx(1079.8, abs=0.05)


@given(st.floats(0.1, 67.9), st.floats(1.0, 4.0))
def test_balance_speed_is_where_the_balance_turns(demand: float, ratio: float) -> None:
    speed = g.balance_speed(ratio, TABLE, demand)
    assert speed is not None
    assert g.charge_balance(speed, ratio, TABLE, demand) == pytest.approx(0.0, abs=1e-6)
    assert (
        g.charge_balance(0.999 * speed, ratio, TABLE, demand)
        < 0.0
        < g.charge_balance(1.001 * speed, ratio, TABLE, demand)
    )


@given(st.floats(0.0, 68.0), st.floats(0.0, 68.0))
def test_more_demand_never_needs_less_speed(one: float, other: float) -> None:
    low, high = sorted((one, other))
    slow, fast = g.balance_speed(2.6, TABLE, low), g.balance_speed(2.6, TABLE, high)
    assert slow is not None
    assert fast is not None
    assert slow <= fast


def test_balance_speed_limits() -> None:
    assert g.balance_speed(2.6, TABLE, 0.0) == 0.0
    assert g.balance_speed(2.6, TABLE, 80.0 * 0.85 + 0.01) is None
    assert g.balance_speed(2.0, TABLE[1:], 10.0) == pytest.approx(1000 * RPM)  # first point of a silent table
    dip = [(100.0, 0.0), (200.0, 40.0), (300.0, 30.0), (400.0, 60.0)]
    assert g.balance_speed(1.0, dip, 35.0, hot_share=1.0) == pytest.approx(187.5)  # lowest of three crossings


@pytest.mark.parametrize("demand", [0.001, 0.5, 0.999, 27.2])
def test_the_first_point_of_a_table_covers_any_smaller_demand(demand: float) -> None:
    # 32 A at 2000 min⁻¹ of the rotor, 27.2 A of them hot; nothing at all is covered by an engine that stands
    assert g.balance_speed(2.0, TABLE[1:], demand) == pytest.approx(1000 * RPM)
    assert g.balance_speed(2.0, TABLE[1:], 0.0) == 0.0


def test_average_current() -> None:
    # 12·1 + 30·0.5 + 8·0.25 = 29 A.
    assert g.average_current([Load(12.0), Load(30.0, 0.5), Load(8.0, 0.25)]) == pytest.approx(29.0)
    assert g.average_current([]) == 0.0
    with pytest.raises(ImpossibleInput):
        g.average_current([Load(12.0, 1.5)])
    with pytest.raises(ImpossibleInput):
        g.average_current([Load(-12.0)])


def test_converter_power() -> None:
    # (5 A·12 V + 2.5 A·12 V) / 0.9 = 100 W; duty does not lower it.
    assert g.converter_power([Load(5.0, 0.1, 12.0), Load(2.5, voltage=12.0)]) == pytest.approx(100.0)
    assert g.converter_power([Load(5.0, voltage=12.0)], efficiency=1.0) == pytest.approx(60.0)
    with pytest.raises(ImpossibleInput, match="voltage"):
        g.converter_power([Load(5.0)])
    with pytest.raises(ImpossibleInput):
        g.converter_power([Load(5.0, voltage=12.0)], efficiency=0.0)
