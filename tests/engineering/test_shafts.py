"""Tubular shafts against textbook examples, numerical integration and a numerical eigenproblem."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate  # type: ignore[import-untyped]

from swaplint.engineering import ImpossibleInput, OutsideRange, shafts

RPM = 2.0 * math.pi / 60.0
INCH, PSI = 0.0254, 6894.757293168

diameters = st.floats(0.03, 0.15)
walls = st.floats(0.001, 0.014)


def test_shigley_solid_shaft() -> None:
    # Shigley, example 7-5(f): steel, 1 in diameter, 31 in span, E = 30 Mpsi, 0.282 lbf/in³, g = 386 in/s²;
    # the printed 520.4 rad/s is from memory, the arithmetic (π/31)²·√(386·30e6·0.04909/(0.7854·0.282))
    # gives 520.30.
    density = 0.282 / 386.0 * PSI / INCH**2  # lbf·s²/in⁴ to kg/m³
    speed = shafts.critical_speed(31.0 * INCH, INCH, INCH / 2.0, 30e6 * PSI, density)
    assert speed == pytest.approx(520.304, rel=1e-3)


@pytest.mark.parametrize(
    ("diameter", "rpm"),
    # n = (30·π/L²)·√(E/ρ·(D² + d²)/16), evaluated by hand for 206 GPa and 7850 kg/m³.
    [(0.0762, 5657.13), (0.0889, 6620.42)],
)
def test_thin_tubes(diameter: float, rpm: float) -> None:
    assert shafts.critical_speed(1.5, diameter, 0.00165) / RPM == pytest.approx(rpm, rel=1e-3)


def test_aluminium_and_steel_whirl_nearly_alike() -> None:
    # Published problem (tutorsglobe.com) prints 5800 rpm for steel (29 Mpsi, 0.00883 slug/in³) and 5795 rpm
    # for aluminium (10 Mpsi, 0.00305 slug/in³) of the same geometry: ratio 0.9991.
    def speed(msi: float, slug: float) -> float:
        return shafts.critical_speed(1.2, 0.07, 0.002, msi * 1e6 * PSI, slug * 14.5939029 / INCH**3)

    assert speed(10.0, 0.00305) / speed(29.0, 0.00883) == pytest.approx(5795.0 / 5800.0, rel=1e-3)


def test_whirl_against_a_numerical_eigenproblem() -> None:
    # Independent oracle: E·I·w'''' = ρ·A·ω²·w between hinges by finite differences, lowest eigenvalue by
    # numpy.
    length, diameter, wall, points = 1.3, 0.0762, 0.0021, 200
    step = length / (points + 1)
    second = (np.diag(np.full(points - 1, 1.0), 1) + np.diag(np.full(points - 1, 1.0), -1) - 2.0 * np.eye(points)) / (
        step**2
    )
    eigenvalue = np.linalg.eigvalsh(second @ second)[0]
    inner = diameter - 2 * wall
    area, inertia = math.pi / 4 * (diameter**2 - inner**2), math.pi / 64 * (diameter**4 - inner**4)
    expected = math.sqrt(eigenvalue * 206e9 * inertia / (7850.0 * area))
    assert shafts.critical_speed(length, diameter, wall) == pytest.approx(expected, rel=1e-3)


def test_speed_from_own_weight_deflection() -> None:
    # Uniform beam on two hinges: δ = 5·q·L⁴/(384·E·I) (any strength table); both routes must agree.
    length, diameter, wall = 1.5, 0.0762, 0.0021
    inertia, area = shafts.tube_second_moment(diameter, wall), shafts.tube_area(diameter, wall)
    load = 7850.0 * area * 9.80665
    deflection = 5.0 * load * length**4 / (384.0 * 206e9 * inertia)
    assert shafts.critical_speed_from_deflection(deflection) == pytest.approx(
        shafts.critical_speed(length, diameter, wall), rel=1e-9
    )
    # Sarkar, Theory of Machines, ch. 11: δ is divided by 1.27 for a uniform shaft; 1.2683 before rounding.
    plain = shafts.critical_speed_from_deflection(deflection, uniform=False)
    assert (shafts.critical_speed_from_deflection(deflection) / plain) ** 2 == pytest.approx(1.27, rel=2e-3)


def test_shaft_with_mid_mass() -> None:
    # Machine-design example 9.6 (published deflection formula δ = 3·W·L³/(256·E·I)); arithmetic by hand with
    # g = 9.81: 3383.85 rpm.
    deflection = 3.0 * 400.0 * 1.0**3 / (256.0 * 200e9 * 0.3e-6)
    assert shafts.critical_speed_from_deflection(deflection, uniform=False) / RPM == pytest.approx(3383.85, rel=1e-3)


def test_khurmi_solid_shaft_stress() -> None:
    # Khurmi and Gupta, Machine Design, torsion chapter (from memory): 7458 N·m at 70 MPa needs 81.5 mm.
    assert shafts.torsional_stress(7458.0, 0.0815, 0.04075) == pytest.approx(70e6, rel=5e-3)


@given(diameters, walls)
def test_moments_against_integration(diameter: float, wall: float) -> None:
    inner = diameter / 2 - wall
    area = integrate.quad(lambda r: 2 * math.pi * r, inner, diameter / 2)[0]
    polar = integrate.quad(lambda r: 2 * math.pi * r**3, inner, diameter / 2)[0]
    assert shafts.tube_area(diameter, wall) == pytest.approx(area, rel=1e-9)
    assert 2.0 * shafts.tube_second_moment(diameter, wall) == pytest.approx(polar, rel=1e-9)
    # Torque is the integral of stress (rising with radius to the skin) times radius.
    stress = shafts.torsional_stress(1000.0, diameter, wall)
    torque = integrate.quad(lambda r: stress * r / (diameter / 2) * r * 2 * math.pi * r, inner, diameter / 2)[0]
    assert torque == pytest.approx(1000.0, rel=1e-9)


@given(diameters, walls, st.floats(10.0, 5000.0))
def test_torque_at_stress_is_the_inverse(diameter: float, wall: float, torque: float) -> None:
    stress = shafts.torsional_stress(torque, diameter, wall)
    assert shafts.torque_at_stress(stress, diameter, wall) == pytest.approx(torque)
    # Twist of a skin fibre: τ/G·L/r.
    angle = shafts.twist(torque, diameter, wall, 1.2)
    assert angle == pytest.approx(stress / shafts.STEEL_SHEAR_MODULUS * 1.2 / (diameter / 2))


@given(diameters, walls, st.floats(100.0, 700.0), st.floats(0.5, 0.9))
def test_longest_shaft_runs_at_the_allowed_share(diameter: float, wall: float, speed: float, allowed: float) -> None:
    length = shafts.longest_shaft(speed, diameter, wall, allowed)
    assert speed / shafts.critical_speed(length, diameter, wall) == pytest.approx(allowed)


@given(diameters, walls, st.floats(1.0, 1.9))
def test_longer_shafts_whirl_sooner(diameter: float, wall: float, length: float) -> None:
    assert shafts.critical_speed(length * 1.1, diameter, wall) == pytest.approx(
        shafts.critical_speed(length, diameter, wall) / 1.21
    )


@given(st.floats(0.3, 2.0), st.floats(-0.05, 0.05), st.floats(-0.2, 0.2))
def test_length_change(length: float, along: float, across: float) -> None:
    moved = shafts.length_change(length, along, across)
    assert (length + moved) ** 2 == pytest.approx((length + along) ** 2 + across**2)
    assert shafts.length_change(length, along, -across) == moved


def test_ranges() -> None:
    with pytest.raises(ImpossibleInput):
        shafts.tube_area(0.05, 0.026)
    with pytest.raises(ImpossibleInput, match="next to nothing"):  # 1e30⁴ and the same less a wall are one number
        shafts.torsional_stress(1000.0, 1e30, 0.0021)
    # five diameters of 0.08 m are 0.4 m
    assert shafts.critical_speed(0.4, 0.08, 0.002) > 0.0
    with pytest.raises(OutsideRange, match=r"^a length of 399 mm is below 5 diameters: the formula is for slender"):
        shafts.critical_speed(0.399, 0.08, 0.002)
    # a shaft of 0.41 m may run at half of what makes it whirl; a shorter one would be no slender shaft
    fastest = 0.5 * shafts.critical_speed(0.41, 0.08, 0.002)
    assert shafts.longest_shaft(fastest, 0.08, 0.002, allowed_share=0.5) == pytest.approx(0.41)
    with pytest.raises(OutsideRange, match=r"the formula is for slender shafts$"):
        shafts.longest_shaft(1.1 * fastest, 0.08, 0.002, allowed_share=0.5)
    with pytest.raises(ImpossibleInput):
        shafts.longest_shaft(300.0, 0.0762, 0.002, allowed_share=0.0)


def test_aluminium_and_steel_tubes_whirl_at_about_the_same_speed() -> None:
    # A published exercise prints 5800 r/min for a steel and 5795 r/min for an aluminium shaft of the same shape
    # (tutorsglobe.com, critical speed of a shaft): the ratio depends on E/rho alone. Handbook moduli spread by 2 %.
    steel = shafts.critical_speed(1.5, 0.0762, 0.0021)
    aluminium = shafts.critical_speed(1.5, 0.0762, 0.0021, shafts.ALUMINIUM_ELASTIC_MODULUS, shafts.ALUMINIUM_DENSITY)
    assert aluminium / steel == pytest.approx(5795 / 5800, rel=0.02)


def test_plunge_by_hand() -> None:
    # 3-4-5 triangles: 500 mm long, 300 mm down, 400 mm along. Axle up by 300 mm: level, 400 mm, 100 mm shorter. Axle
    # back by 320 mm and nothing else: 720 mm along, 300 mm down: 780 mm (5-12-13 by 60), 280 mm longer.
    assert shafts.plunge(0.5, drop=0.3, rise=0.3, shift=0.0) == pytest.approx(-0.1)
    assert shafts.plunge(0.5, drop=0.3, rise=0.0, shift=0.32) == pytest.approx(0.28)


@given(st.floats(0.5, 2.0), st.floats(-0.2, 0.2), st.floats(-0.2, 0.2))
def test_plunge_of_a_level_shaft_is_the_change_of_length(length: float, rise: float, shift: float) -> None:
    assert shafts.plunge(length, 0.0, rise, shift) == pytest.approx(
        shafts.length_change(length, shift, rise), abs=1e-12
    )


def test_plunge_refuses_an_upright_shaft() -> None:
    with pytest.raises(ImpossibleInput):
        shafts.plunge(0.5, 0.5, 0.0, 0.0)


@given(st.floats(0.4, 2.0), st.floats(-0.3, 0.3), st.floats(-0.3, 0.3), st.floats(-0.1, 0.1))
def test_plunge_range_against_every_place_on_the_way(length: float, drop: float, rise: float, shift: float) -> None:
    # Plane geometry at 500 places on the straight way; between two of them the length changes by less than 1 mm.
    share = np.linspace(0.0, 1.0, 501)
    way = np.hypot(math.sqrt(length**2 - drop**2) + shift * share, rise * share - drop) - length
    least, greatest = shafts.plunge_range(length, drop, rise, shift)
    assert way.min() - 1e-3 < least <= way.min() + 1e-12
    assert greatest == pytest.approx(max(way[0], way[-1]), abs=1e-12)


def test_an_axle_that_stops_just_short_of_the_shortest_place_never_gets_there() -> None:
    # 315 mm below, up by 300 mm: the shortest place would be 15 mm further on, at 1.05 of the way
    least, greatest = shafts.plunge_range(0.5, drop=0.315, rise=0.3, shift=0.0)
    assert least == pytest.approx(math.sqrt(0.5**2 - 0.315**2 + 0.015**2) - 0.5, rel=1e-9)
    assert greatest == 0.0


def test_the_thinnest_wall() -> None:
    # a billionth of the diameter: π·D·t, as near as D² - d² is kept
    assert shafts.tube_area(1.0, 1e-9) == pytest.approx(math.pi * 1e-9, rel=1e-6)
    with pytest.raises(ImpossibleInput, match="next to nothing"):
        shafts.tube_area(1.0, 0.999e-9)
