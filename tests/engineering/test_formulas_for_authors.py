"""Formulas that no rule of the built-in packs asks for, at their edges: worked by hand or searched by scipy."""

from __future__ import annotations

import math

import pytest
from scipy.optimize import minimize_scalar

from swaplint.engineering import hydraulics
from swaplint.engineering import universal_joints as uj
from swaplint.engineering.guards import ImpossibleInput
from swaplint.engineering.pipes import operating_point, pump_pressure
from swaplint.engineering.speedometer import driven_gear_teeth


@pytest.mark.parametrize("degrees", [10.0, 35.0, 60.0, 80.0])
def test_the_peak_of_a_joints_acceleration_is_where_a_search_finds_it(degrees: float) -> None:
    angle = math.radians(degrees)
    found = minimize_scalar(
        lambda turn: -abs(uj.angular_acceleration(turn, angle, 100.0)),
        bounds=(0.0, math.pi / 2),
        method="bounded",
        options={"xatol": 1e-12},
    )
    assert uj.peak_angular_acceleration(angle, 100.0) == pytest.approx(-found.fun, rel=1e-11)


@pytest.mark.parametrize("angle", [math.pi / 2, -math.pi / 2, 1.58, -2.1, 3.5])
def test_a_shaft_is_less_steep_than_upright(angle: float) -> None:
    for name, pair in (("inclination", (angle, 0.0)), ("heading", (0.0, angle))):
        with pytest.raises(ImpossibleInput, match=f"the {name} must be below a right angle"):
            uj.direction_from_inclination(*pair)


def test_a_driven_gear_of_one_tooth() -> None:
    assert (driven_gear_teeth(1, 1.0), driven_gear_teeth(5, 5.0)) == (1, 1)


def test_a_piston_against_no_pressure() -> None:
    assert hydraulics.pressure_for_force(3.0, 2.0) == 1.5


def test_a_pump_whose_pressure_stays_the_same() -> None:
    level = [(0.0, 5.0), (1.0, 5.0), (2.0, 1.0)]
    assert pump_pressure(level, 0.5) == 5.0
    # 2 + q² meets 5 - 4·(q - 1) where q² + 4·q - 7 = 0: q = √11 - 2
    assert operating_point(level, lambda flow: 2.0 + flow**2).flow == pytest.approx(math.sqrt(11.0) - 2.0)
