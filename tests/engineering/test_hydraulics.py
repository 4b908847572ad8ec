"""Pumps and steering against the inch and metric shortcut formulas of the fluid-power trade."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.engineering import ImpossibleInput, hydraulics

RPM = 2.0 * math.pi / 60.0
CUBIC_INCH, GALLON, PSI, HORSEPOWER, POUND_FORCE = 0.0254**3, 231 * 0.0254**3, 6894.757293168, 745.6998716, 4.4482216153
LBF_IN = POUND_FORCE * 0.0254

displacements = st.floats(5.0, 60.0)
speeds = st.floats(500.0, 4000.0)


@given(displacements, speeds, st.floats(1.0, 25.0), st.floats(0.5, 1.0))
def test_metric_shortcuts(cc: float, rpm: float, mpa: float, efficiency: float) -> None:
    # Q = D·n·η/1000 L/min, P = Q·p/600 kW with p in bar, T·n/9549 kW at the shaft (common trade formulas).
    flow = hydraulics.pump_flow(cc * 1e-6, rpm * RPM, efficiency)
    litres = flow * 60000.0
    assert litres == pytest.approx(cc * rpm * efficiency / 1000.0)
    assert hydraulics.fluid_power(flow, mpa * 1e6) / 1000.0 == pytest.approx(litres * mpa * 10.0 / 600.0)
    torque = hydraulics.shaft_torque(cc * 1e-6, mpa * 1e6)
    lossless = hydraulics.fluid_power(hydraulics.pump_flow(cc * 1e-6, rpm * RPM), mpa * 1e6)
    assert torque * rpm / 9549.0 == pytest.approx(lossless / 1000.0, rel=1e-4)


def test_inch_example() -> None:
    # Inch shortcuts gpm = in³·rpm/231, hp = gpm·psi/1714, lbf·in = in³·psi/(2π): 1.5 in³, 1800 rpm, 3000 psi,
    # η_v 0.90, η_m 0.85 by hand: 10.52 gpm, 18.41 hp, 842.6 lbf·in.
    flow = hydraulics.pump_flow(1.5 * CUBIC_INCH, 1800.0 * RPM, 0.90)
    assert flow * 60.0 / GALLON == pytest.approx(10.52, abs=0.005)
    assert hydraulics.fluid_power(flow, 3000.0 * PSI) / HORSEPOWER == pytest.approx(18.41, abs=0.01)
    torque = hydraulics.shaft_torque(1.5 * CUBIC_INCH, 3000.0 * PSI, 0.85)
    assert torque / LBF_IN == pytest.approx(842.6, abs=0.1)
    # What the shaft gives is what the fluid takes over both efficiencies.
    assert hydraulics.shaft_power(flow, 3000.0 * PSI, 0.90 * 0.85) == pytest.approx(torque * 1800.0 * RPM)


@given(displacements, speeds, st.floats(0.5, 1.0))
def test_displacement_is_the_inverse(cc: float, rpm: float, efficiency: float) -> None:
    flow = hydraulics.pump_flow(cc * 1e-6, rpm * RPM, efficiency)
    assert hydraulics.displacement_needed(flow, rpm * RPM, efficiency) == pytest.approx(cc * 1e-6)


def test_a_pump_without_losses_is_what_is_meant_where_none_are_said() -> None:
    # ten turns a second: 1e-4 m³/s are 10 cm³ a turn, and 8 MPa on them 12.73 N·m
    assert hydraulics.displacement_needed(1e-4, 20.0 * math.pi) == pytest.approx(10e-6)
    assert hydraulics.pump_flow(10e-6, 20.0 * math.pi) == pytest.approx(1e-4)
    assert hydraulics.shaft_torque(10e-6, 8e6) == pytest.approx(80.0 / (2.0 * math.pi))


def test_cylinder_longhand() -> None:
    # 50 mm bore, 25 mm rod: 1963.5 - 490.9 = 1472.6 mm²; at 10 MPa 14.73 kN; 200 mm stroke 294.5 cm³.
    area = hydraulics.cylinder_area(0.050, 0.025)
    assert area * 1e6 == pytest.approx(1472.6, abs=0.1)
    assert hydraulics.cylinder_volume(0.050, 0.200, 0.025) * 1e6 == pytest.approx(294.5, abs=0.1)
    # without a rod in the chamber: π/4·5²·20 cm³
    assert hydraulics.cylinder_volume(0.050, 0.200) * 1e6 == pytest.approx(392.7, abs=0.1)


def test_what_stands_in_the_return_is_pushed_against_too() -> None:
    # 10 kN on 2000 mm² are 5 MPa; with 0.4 MPa in the return 5.4 MPa
    assert hydraulics.pressure_for_force(10e3, 2e-3) == pytest.approx(5e6)
    assert hydraulics.pressure_for_force(10e3, 2e-3, 0.4e6) == pytest.approx(5.4e6)


def test_steering_flow_longhand() -> None:
    # 160 cm³ in 3.5 turns at 1.5 turns a second: 68.57 cm³/s = 4.114 L/min, with 15 % leakage 4.731.
    assert hydraulics.steering_flow_needed(160e-6, 3.5, 1.5, 1.0) * 60000 == pytest.approx(4.1143, rel=1e-4)
    assert hydraulics.steering_flow_needed(160e-6, 3.5, 1.5) * 60000 == pytest.approx(4.7314, rel=1e-4)


@given(st.floats(80e-6, 900e-6), st.floats(2.5, 6.0), st.floats(0.1, 2.0))
def test_hand_wheel_rate_is_the_inverse(volume: float, turns: float, rate: float) -> None:
    flow = hydraulics.steering_flow_needed(volume, turns, rate)
    assert hydraulics.hand_wheel_rate(flow, volume, turns) == pytest.approx(rate)


def test_parking_torque_longhand() -> None:
    # Gough's (μ/3)·√(F³/p) by hand: 0.7/3·√(5000³/220e3) = 175.9 N·m.
    assert hydraulics.parking_torque(5000.0, 220e3) == pytest.approx(175.9, abs=0.05)


@given(st.floats(1000.0, 40000.0), st.floats(1000.0, 40000.0), st.floats(1.5e5, 9e5))
def test_parking_effort_ratio(load: float, old: float, pressure: float) -> None:
    ratio = hydraulics.parking_torque(load, pressure) / hydraulics.parking_torque(old, pressure)
    assert hydraulics.parking_effort_ratio(load, old) == pytest.approx(ratio)


@given(st.floats(1e-6, 1e-3), st.floats(0.005, 0.05))
def test_line_velocity_fills_the_line(flow: float, bore: float) -> None:
    assert hydraulics.line_velocity(flow, bore) * math.pi * bore**2 / 4 == pytest.approx(flow)


def test_refusals() -> None:
    with pytest.raises(ImpossibleInput):
        hydraulics.displacement_needed(1e-4, 80.0, 0.0)
    with pytest.raises(ImpossibleInput):
        hydraulics.cylinder_area(0.02, 0.02)
    with pytest.raises(ImpossibleInput):
        hydraulics.steering_flow_needed(1e-4, 3.0, 1.0, 0.9)
    with pytest.raises(ImpossibleInput):
        hydraulics.pump_flow(1e-5, 80.0, 1.2)
