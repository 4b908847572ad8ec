"""Vacuum against the gas law worked by hand, numerical integration and a mass balance."""

from __future__ import annotations

import math

import fluids
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad  # type: ignore[import-untyped]

from swaplint.engineering.atmosphere import standard_pressure
from swaplint.engineering.guards import ImpossibleInput, OutsideRange
from swaplint.engineering.vacuum import (
    applications_left,
    available_depression,
    depression_after,
    pressure_after_pumping,
    pump_down_time,
    pump_speed_needed,
    volume_for_reserve,
)

AMBIENT = 101325.0
volumes = st.floats(1e-3, 50e-3)
speeds = st.floats(1e-4, 1e-2)
end_pressures = st.floats(0.0, 20e3)
targets = st.floats(25e3, 100e3)

RESERVE = {"ambient_pressure": AMBIENT, "volume": 29e-3, "swept_volume": 2.2e-3, "dead_volume": 0.25e-3}


# Pump-down


@pytest.mark.parametrize(
    ("volume", "speed", "start", "target", "seconds"),
    [
        (5e-3, 1e-3, 101.325e3, 30e3, 6.08568),
        (1000.0, 162.235 / 60, 1013e2, 200e2, 600.0),
    ],
    ids=["5 l at 1 l/s to 30 kPa", "1000 m³ in 10 min to 200 mbar"],
)
def test_gas_law_by_hand(volume: float, speed: float, start: float, target: float, seconds: float) -> None:
    # Textbook derivation t = (V/S)·ln(p0/p), arithmetic by hand.
    assert pump_down_time(volume, speed, start, target) == pytest.approx(seconds, rel=5e-4)


def test_gas_removed_from_750_cubic_feet() -> None:
    # Vacuum handbook arithmetic (public page): 750 ft³ from 760 to 150 Torr: 750·1.62 = 1215 ft³ at the inlet.
    torr = 133.322
    assert pump_down_time(750.0, 1.0, 760 * torr, 150 * torr) == pytest.approx(1215, rel=0.003)


@given(volumes, speeds, targets, end_pressures)
def test_time_against_integrating_the_falling_speed(v: float, s: float, target: float, end: float) -> None:
    """dt = V·dp/(p·S·(1 - pe/p)): the pump's speed falls to nothing at its end pressure."""
    expected, _ = quad(lambda p: v / (s * p * (1 - end / p)), target, AMBIENT)
    assert pump_down_time(v, s, AMBIENT, target, end) == pytest.approx(expected, rel=1e-7)


@given(volumes, speeds, targets, end_pressures)
def test_time_speed_and_pressure_undo_each_other(v: float, s: float, target: float, end: float) -> None:
    time = pump_down_time(v, s, AMBIENT, target, end)
    assert pressure_after_pumping(time, v, s, AMBIENT, end) == pytest.approx(target, rel=1e-9)
    assert pump_speed_needed(v, time, AMBIENT, target, end) == pytest.approx(s, rel=1e-9)


def test_a_pump_of_which_no_end_pressure_is_said_goes_down_to_nothing() -> None:
    # 1 m³ at 1 m³/s from 100 to 25 kPa: ln 4 seconds, and 2 m³/s for it in half of that
    seconds = math.log(4.0)
    assert pump_down_time(1.0, 1.0, 100e3, 25e3) == pytest.approx(seconds, rel=1e-9)
    assert pump_speed_needed(1.0, 0.5 * seconds, 100e3, 25e3) == pytest.approx(2.0, rel=1e-9)
    assert pressure_after_pumping(seconds, 1.0, 1.0, 100e3) == pytest.approx(25e3, rel=1e-9)


@given(volumes, speeds, targets, st.floats(100.0, 20e3))
def test_a_pump_with_an_end_pressure_is_slower(v: float, s: float, target: float, end: float) -> None:
    assert pump_down_time(v, s, AMBIENT, target, end) > pump_down_time(v, s, AMBIENT, target)


@given(volumes, speeds, st.floats(25e3, 90e3), st.floats(1.01, 3.0))
def test_time_goes_with_volume_and_against_speed(v: float, s: float, target: float, factor: float) -> None:
    time = pump_down_time(v, s, AMBIENT, target)
    assert pump_down_time(v * factor, s * factor, AMBIENT, target) == pytest.approx(time)
    assert pump_down_time(v * factor, s, AMBIENT, target) == pytest.approx(time * factor)


def test_limits_of_pumping() -> None:
    assert pump_down_time(5e-3, 1e-3, 30e3, 30e3) == 0.0
    assert pump_down_time(5e-3, 1e-3, 30e3, 40e3) == 0.0
    assert pressure_after_pumping(1e6, 5e-3, 1e-3, AMBIENT, 12e3) == pytest.approx(12e3)
    assert pressure_after_pumping(0.0, 5e-3, 1e-3, AMBIENT, 12e3) == AMBIENT
    with pytest.raises(OutsideRange):
        pump_down_time(5e-3, 1e-3, AMBIENT, 12e3, 12e3)
    with pytest.raises(ImpossibleInput):
        pressure_after_pumping(1.0, 5e-3, 1e-3, 10e3, 12e3)


@pytest.mark.parametrize(
    "arguments",
    [
        (0.0, 1e-3, AMBIENT, 30e3, 0.0),
        (5e-3, 0.0, AMBIENT, 30e3, 0.0),
        (5e-3, 1e-3, 0.0, 30e3, 0.0),
        (5e-3, 1e-3, AMBIENT, 0.0, 0.0),
        (5e-3, 1e-3, AMBIENT, 30e3, -1.0),
    ],
)
def test_refuses_impossible_pumping(arguments: tuple[float, float, float, float, float]) -> None:
    with pytest.raises(ImpossibleInput):
        pump_down_time(*arguments)
    with pytest.raises(ImpossibleInput):
        pump_speed_needed(*arguments)


# Altitude


@pytest.mark.parametrize("altitude", [0.0, 1200.0, 3000.0])
def test_depression_at_altitude_loses_what_the_atmosphere_loses(altitude: float) -> None:
    # U.S. Standard Atmosphere 1976 as in fluids.
    ambient = fluids.ATMOSPHERE_1976(altitude).P
    found = available_depression(standard_pressure(altitude), 12e3)
    assert found == pytest.approx(ambient - 12e3, rel=1e-3)


def test_a_pump_that_ends_above_ambient_holds_nothing() -> None:
    assert available_depression(60e3, 70e3) == 0.0
    with pytest.raises(ImpossibleInput):
        available_depression(0.0, 10e3)


# Reserve


def test_half_a_litre_of_air_into_four_litres() -> None:
    # Isothermal ideal gas by hand: (30·4 + 101.325·0.5)/4 = 42.6656 kPa; 82.2 % of the depression is left.
    left = depression_after(1, depression=AMBIENT - 30e3, ambient_pressure=AMBIENT, volume=4e-3, swept_volume=0.5e-3)
    assert AMBIENT - left == pytest.approx(42.6656e3, rel=1e-5)
    assert left / (AMBIENT - 30e3) == pytest.approx(0.822, abs=5e-4)


def mass_balance(pressure: float, ambient: float, volume: float, swept: float, dead: float) -> float:
    """One application as amounts of gas, p·V at constant temperature: close, admit, stroke, release."""
    vacuum_side = pressure * (volume - dead)  # the front chamber and reservoir; the stroke only compresses it
    working_side = ambient * (swept + dead)
    return (vacuum_side + working_side) / volume


@given(st.floats(1e3, 95e3), volumes, st.floats(0.01, 0.2), st.floats(0.0, 0.1), st.integers(min_value=0, max_value=12))
def test_reserve_against_a_mass_balance(
    depression: float, volume: float, swept_share: float, dead_share: float, applications: int
) -> None:
    swept, dead = swept_share * volume, dead_share * volume
    pressure = AMBIENT - depression
    for _ in range(applications):
        pressure = min(AMBIENT, mass_balance(pressure, AMBIENT, volume, swept, dead))
    left = depression_after(
        applications,
        depression=depression,
        ambient_pressure=AMBIENT,
        volume=volume,
        swept_volume=swept,
        dead_volume=dead,
    )
    assert left == pytest.approx(AMBIENT - pressure, abs=1e-6 * AMBIENT)


@given(st.floats(40e3, 95e3), st.floats(1e3, 60e3))
def test_count_is_the_last_application_that_holds(depression: float, required: float) -> None:
    count = applications_left(depression=depression, required_depression=required, **RESERVE)
    assert count == 0 or depression_after(count, depression=depression, **RESERVE) >= required
    assert depression_after(count + 1, depression=depression, **RESERVE) < required


@given(st.floats(20e3, 95e3), st.integers(min_value=1, max_value=5), st.floats(1.05, 3.0))
def test_a_larger_reservoir_keeps_more(depression: float, applications: int, factor: float) -> None:
    small = depression_after(applications, depression=depression, **RESERVE)
    assume(small > 0.0)
    large = {**RESERVE, "volume": RESERVE["volume"] * factor}
    assert depression_after(applications, depression=depression, **large) > small


@given(st.floats(10e3, 95e3), st.floats(0.3, 0.95), st.floats(0.2e-3, 4e-3), st.floats(0.0, 0.5e-3))
def test_volume_for_reserve_keeps_that_share(depression: float, share: float, swept: float, dead: float) -> None:
    volume = volume_for_reserve(
        share, depression=depression, ambient_pressure=AMBIENT, swept_volume=swept, dead_volume=dead
    )
    left = depression_after(
        1,
        depression=depression,
        ambient_pressure=AMBIENT,
        volume=volume,
        swept_volume=swept,
        dead_volume=dead,
    )
    assert left / depression == pytest.approx(share, rel=1e-9)


def test_reserve_limits() -> None:
    assert depression_after(0, depression=70e3, **RESERVE) == 70e3
    assert depression_after(1000, depression=70e3, **RESERVE) == 0.0
    assert applications_left(depression=30e3, required_depression=60e3, **RESERVE) == 0
    huge = {**RESERVE, "volume": 1e9}
    with pytest.raises(OutsideRange):
        applications_left(depression=70e3, required_depression=1e3, **huge)


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("depression", -1.0),
        ("depression", 102e3),
        ("depression", math.nan),
        ("ambient_pressure", 0.0),
        ("volume", 0.0),
        ("volume", 2e-3),
        ("swept_volume", 0.0),
        ("dead_volume", -1e-4),
    ],
)
def test_refuses_impossible_reserves(name: str, value: float) -> None:
    case = {"depression": 70e3, **RESERVE, name: value}
    with pytest.raises(ImpossibleInput):
        depression_after(1, **case)
    with pytest.raises(ImpossibleInput):
        applications_left(required_depression=10e3, **case)


def test_refuses_impossible_counts_and_shares() -> None:
    with pytest.raises(ImpossibleInput):
        depression_after(-1, depression=70e3, **RESERVE)
    with pytest.raises(OutsideRange):
        volume_for_reserve(1.0, depression=70e3, ambient_pressure=AMBIENT, swept_volume=2e-3)
    with pytest.raises(ImpossibleInput):
        volume_for_reserve(0.7, depression=0.0, ambient_pressure=AMBIENT, swept_volume=2e-3)


def test_a_pump_whose_end_is_not_stated_reaches_the_whole_vacuum() -> None:
    # V/t·ln(p0/p): 5 L in 6.0857 s from 101.325 to 30 kPa take 0.99999654 L/s
    needed = pump_speed_needed(5e-3, 6.0857, 101325.0, 30e3)
    assert needed == pytest.approx(5e-3 / 6.0857 * math.log(101325.0 / 30e3), rel=1e-9)


def test_a_target_at_the_start_or_at_the_end() -> None:
    # there already: no time, however far the pump goes; at its end the speed is nothing, and it never comes there
    assert pump_down_time(5e-3, 1e-3, 20e3, 20e3, 30e3) == 0.0
    with pytest.raises(OutsideRange, match="never reaches 20 kPa"):
        pump_down_time(5e-3, 1e-3, 100e3, 20e3, 20e3)
    assert pump_down_time(5e-3, 1e-3, 100e3, 60e3, 20e3) == pytest.approx(5.0 * math.log(2.0))
    assert pressure_after_pumping(10.0, 5e-3, 1e-3, 20e3, 20e3) == 20e3
    with pytest.raises(ImpossibleInput, match="below the pump's end pressure"):
        pressure_after_pumping(10.0, 5e-3, 1e-3, 19.9e3, 20e3)


def test_applications_counted_one_by_one() -> None:
    # a sixteenth of the volume: each takes 100 kPa/16 = 6.25 kPa, 75, 68.75, 62.5, 56.25 ... 12.5, 6.25, 0
    reserve = {"depression": 75e3, "ambient_pressure": 100e3, "volume": 16.0, "swept_volume": 1.0}
    for count, left in ((0, 75e3), (1, 68.75e3), (2, 62.5e3), (11, 6.25e3), (12, 0.0), (13, 0.0)):
        assert depression_after(count, **reserve) == pytest.approx(left, abs=1e-6)
    for required, count in ((75.1e3, 0), (70e3, 0), (62.5e3, 2), (62.6e3, 1), (1.0, 11), (0.0, 11)):
        assert applications_left(required_depression=required, **reserve) == count
    # 1/4 of it dead: three quarters of the depression stay, less 6.25 kPa
    assert depression_after(1, **reserve, dead_volume=4.0) == pytest.approx(0.75 * 75e3 - 6.25e3)


def test_a_chamber_as_large_as_all_there_is() -> None:
    chamber = {"depression": 75e3, "ambient_pressure": 100e3, "volume": 4.0, "swept_volume": 1.0}
    assert depression_after(1, **chamber, dead_volume=3.0) == 0.0
    with pytest.raises(ImpossibleInput, match="more than booster and reservoir together"):
        depression_after(1, **chamber, dead_volume=3.01)
    # as deep as the air is heavy, and no deeper
    assert depression_after(0, **{**chamber, "depression": 100e3}) == 100e3
    with pytest.raises(ImpossibleInput, match="more than the pressure of the air"):
        depression_after(0, **{**chamber, "depression": 100.1e3})


def test_a_volume_that_keeps_nearly_all() -> None:
    # (100·2 + 70·1)/(0.01·70) = 385.7 L; all of it no volume keeps
    reserve = {"depression": 70e3, "ambient_pressure": 100e3, "swept_volume": 2e-3, "dead_volume": 1e-3}
    assert volume_for_reserve(0.99, **reserve) == pytest.approx(0.385714, rel=1e-5)
    assert volume_for_reserve(0.0, **reserve) == pytest.approx(270.0 / 70e3, rel=1e-9)
    with pytest.raises(OutsideRange, match="keeps the whole depression"):
        volume_for_reserve(1.0, **reserve)
