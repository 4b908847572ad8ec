"""Clutch capacity and heat against worked textbook examples and numerical integration."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate  # type: ignore[import-untyped]

from swaplint.engineering import ImpossibleInput, OutsideRange, clutch

RPM = 2.0 * math.pi / 60.0
rings = st.tuples(st.floats(0.03, 0.12), st.floats(0.005, 0.1)).map(lambda pair: (pair[0] + pair[1], pair[0]))


def test_khurmi_single_plate_power() -> None:
    # Khurmi and Gupta, Theory of Machines, ex. 10.23: 300/200 mm, 0.1 MPa at the inner radius, μ = 0.3,
    # both sides, 2500 rpm: 61.685 kW with uniform wear.
    clamp = 2.0 * math.pi * 0.1e6 * 0.100 * (0.150 - 0.100)
    assert clutch.peak_pressure_uniform_wear(clamp, 0.150, 0.100) == pytest.approx(0.1e6)
    torque = clutch.torque_capacity(0.3, clamp, 2, clutch.effective_radius_uniform_wear(0.150, 0.100))
    assert torque * 2500.0 * RPM == pytest.approx(61685.0, rel=1e-4)


def test_khurmi_clamp_force() -> None:
    # Khurmi and Gupta ex. 10.24: 25 kW at 3000 rpm, μ = 0.255, radii 120/96 mm (rounded), thrust 1446 N.
    radius = clutch.effective_radius_uniform_wear(0.120, 0.096)
    force = clutch.clamp_force_needed(25e3 / (3000.0 * RPM), 0.255, 2, radius)
    assert force == pytest.approx(1446.0, rel=5e-3)


def test_khurmi_multi_plate_pressure() -> None:
    # Khurmi and Gupta ex. 10.29: 4 pairs, 240/120 mm, μ = 0.3, 25 kW at 1575 rpm: 0.062 N/mm².
    radius = clutch.effective_radius_uniform_wear(0.120, 0.060)
    force = clutch.clamp_force_needed(25e3 / (1575.0 * RPM), 0.3, 4, radius)
    assert clutch.peak_pressure_uniform_wear(force, 0.120, 0.060) == pytest.approx(0.062e6, abs=0.0005e6)


def test_khurmi_coupling_of_two_rotors() -> None:
    # Khurmi and Gupta ex. 10.27: 800 kg at 0.2 m and 1300 kg at 0.18 m radius of gyration, 1250 rpm: common
    # speed 56.51 rad/s after 62.8 s of slip, 156 kJ lost; clutch 220/160 mm, 570 N, μ = 0.35, two faces.
    j1, j2 = 800.0 * 0.2**2, 1300.0 * 0.18**2
    assert clutch.coupling_slip_energy(j1, j2, 1250.0 * RPM) == pytest.approx(156e3, rel=5e-3)
    torque = clutch.torque_capacity(0.35, 570.0, 2, clutch.effective_radius_uniform_wear(0.110, 0.080))
    assert clutch.launch_slip_time(j2, 56.51, torque) == pytest.approx(62.8, abs=0.05)


@given(rings)
def test_effective_radii_against_integration(ring: tuple[float, float]) -> None:
    outer, inner = ring

    def mean_radius(power: float) -> float:
        moment = integrate.quad(lambda r: r**power * r * r, inner, outer)[0]
        force = integrate.quad(lambda r: r**power * r, inner, outer)[0]
        return float(moment / force)

    wear = clutch.effective_radius_uniform_wear(outer, inner)
    pressure = clutch.effective_radius_uniform_pressure(outer, inner)
    assert wear == pytest.approx(mean_radius(-1.0))
    assert pressure == pytest.approx(mean_radius(0.0))
    assert inner < wear <= pressure < outer


def test_thin_ring_limit() -> None:
    assert clutch.effective_radius_uniform_pressure(0.1000001, 0.1) == pytest.approx(0.1, rel=1e-6)


@given(st.floats(50.0, 2000.0), st.floats(0.2, 0.5), st.integers(1, 6), st.floats(0.05, 0.2))
def test_clamp_force_is_the_inverse(torque: float, friction: float, faces: int, radius: float) -> None:
    force = clutch.clamp_force_needed(torque, friction, faces, radius)
    capacity = clutch.torque_capacity(friction, force, faces, radius)
    assert capacity == pytest.approx(torque)
    assert clutch.safety_factor(capacity, torque) == pytest.approx(1.0)


@given(st.floats(0.5, 10.0), st.floats(80.0, 300.0), st.floats(200.0, 900.0), st.floats(0.0, 0.9))
def test_launch_heat_against_integration(inertia: float, speed: float, torque: float, share: float) -> None:
    load = share * torque
    time = clutch.launch_slip_time(inertia, speed, torque, load)
    power = integrate.quad(lambda t: torque * (speed - (torque - load) / inertia * t), 0.0, time)[0]
    heat = clutch.launch_slip_energy(inertia, speed, torque, load)
    assert heat == pytest.approx(power)
    # A load only adds heat to the ½·J·ω² of a launch on the level.
    assert heat >= 0.5 * inertia * speed**2 * (1.0 - 1e-12)


def test_very_heavy_driver_is_a_launch_at_constant_speed() -> None:
    assert clutch.coupling_slip_energy(1e12, 2.0, 150.0) == pytest.approx(clutch.launch_slip_energy(2.0, 150.0, 400.0))


@given(st.floats(800.0, 40000.0), st.floats(0.25, 0.6), st.floats(5.0, 100.0))
def test_reflected_inertia_keeps_kinetic_energy(mass: float, radius: float, ratio: float) -> None:
    speed = 120.0
    vehicle_speed = speed / ratio * radius
    assert 0.5 * clutch.reflected_inertia(mass, radius, ratio) * speed**2 == pytest.approx(
        0.5 * mass * vehicle_speed**2
    )


def test_one_face_and_a_new_lining_by_hand() -> None:
    # 0.3·5000 N·0.1 m = 150 N·m on one face; two thirds of (0.2³ - 0.1³)/(0.2² - 0.1²) = 2/3·0.007/0.03 = 0.15556 m
    assert clutch.torque_capacity(0.3, 5000.0, 1, 0.1) == pytest.approx(150.0)
    assert clutch.effective_radius_uniform_pressure(0.2, 0.1) == pytest.approx(0.155556, rel=1e-5)
    # 10 kN over 2π·0.1·0.1 m² = 159.2 kPa
    assert clutch.peak_pressure_uniform_wear(10e3, 0.2, 0.1) == pytest.approx(159155.0, rel=1e-5)


def test_a_launch_by_hand() -> None:
    # 2 kg·m²·100 rad/s over 400 N·m is half a second, over 400 - 200 N·m a whole one; ½·400·100·t is the heat
    assert (clutch.launch_slip_time(2.0, 100.0, 400.0), clutch.launch_slip_time(2.0, 100.0, 400.0, 200.0)) == (0.5, 1.0)
    assert clutch.launch_slip_energy(2.0, 100.0, 400.0) == 10e3
    assert clutch.launch_slip_energy(2.0, 100.0, 400.0, 200.0) == 20e3
    # 10 kJ into 4 kg of iron at 500 J/(kg·K): 5 K; into steel at 460: 5.43 K
    assert clutch.temperature_rise(10e3, 4.0) == 5.0
    assert clutch.temperature_rise(10e3, 4.0, 460.0) == pytest.approx(5.4348, rel=1e-4)
    # a slope helps downhill: -100 N·m of load
    assert clutch.launch_slip_time(2.0, 100.0, 400.0, -100.0) == pytest.approx(0.4)


def test_refusals() -> None:
    with pytest.raises(OutsideRange):
        clutch.launch_slip_time(2.0, 150.0, 300.0, 300.0)
    with pytest.raises(ImpossibleInput):
        clutch.effective_radius_uniform_wear(0.1, 0.1)
    with pytest.raises(ImpossibleInput):
        clutch.torque_capacity(0.3, 5000.0, 0, 0.1)
