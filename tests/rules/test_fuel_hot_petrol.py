"""Petrol that boils in the suction line, on the hottest day at the highest place."""

from __future__ import annotations

import math
from typing import Any

import pytest

from swaplint.kit.trial import one, value

RULE = "fuel.suction-loss"
CARBURETTOR: dict[str, Any] = {
    "engine.fuel_type": "petrol",
    "engine.fuel.injection": "carburettor",
    "engine.fuel.return_flow": "0 L/h",
    "plumbing.fuel.grade.vapour_pressure": "60 kPa",
    "plumbing.fuel.grade.viscosity": [
        {"temperature": "-20 degC", "viscosity": "0.9 mm2/s"},
        {"temperature": "20 degC", "viscosity": "0.6 mm2/s"},
        {"temperature": "40 degC", "viscosity": "0.5 mm2/s"},
    ],
    "plumbing.fuel.grade.density": "745 kg/m3",
}
"""The sound build with a petrol engine that sucks its petrol; at 40 °C and 1500 m it still flows."""


def boils_at(celsius: float, reid: float) -> float:
    """US EPA AP-42, chapter 7.1, for petrol (slope 3): kPa from degrees Rankine and psi."""
    rankine, psi = celsius * 1.8 + 491.67, reid / 6.894757
    a = 15.64 - 1.854 * 3**0.5 - (0.8742 - 0.3280 * 3**0.5) * math.log(psi)
    b = 8742 - 1042 * 3**0.5 - (1049 - 179.4 * 3**0.5) * math.log(psi)
    return 6.894757 * math.exp(a - b / rankine)


def air(metres: float) -> float:
    """ISO 2533, kPa."""
    return 101.325 * (1 - 2.25577e-5 * metres) ** 5.2559


def test_vapour_pressure_by_the_formula() -> None:
    # AP-42 lists A = 11.724 and B = 5237.3 for a Reid pressure of 10 psi: 10.66 psi at 100 °F
    assert boils_at(37.78, 68.94757) / 6.894757 == pytest.approx(10.66, abs=0.02)
    assert value("fuel.vapour-pressure", CARBURETTOR) == pytest.approx(boils_at(40.0, 60.0), rel=1e-4)


@pytest.mark.parametrize(("above", "kind"), [(-20.0, "pass"), (20.0, "fail")])
def test_the_height_at_which_it_boils(above: float, kind: str) -> None:
    loss = value("fuel.supply-loss", CARBURETTOR, part="warm")
    least = boils_at(40.0, 60.0) + loss
    height = (1 - (least / 101.325) ** (1 / 5.2559)) / 2.25577e-5
    assert 1500.0 < height < 3000.0
    found = one(RULE, {**CARBURETTOR, "build.design.altitude_max": f"{height + above:.1f} m"})
    assert found.kind == kind
    if kind == "fail":
        assert found.level == "error"
        assert "boils" in found.message
        assert found.limit is not None
        assert found.limit.value == pytest.approx(1e3 * (air(height + above) - boils_at(40.0, 60.0)), rel=1e-3)


def test_diesel_does_not_boil() -> None:
    assert one(RULE, {"build.design.altitude_max": "4000 m", "build.design.ambient_max": "50 degC"}).kind == "pass"


def test_winter_petrol_on_a_hot_day() -> None:
    # 90 kPa at 37.8 °C, EN 228 class D at its most: more than the 84.6 kPa that the air has at 1500 m
    found = one(RULE, {**CARBURETTOR, "plumbing.fuel.grade.vapour_pressure": "90 kPa"})
    assert (found.kind, found.advice) == ("fail", ())


def test_the_fallback_decides_nothing_within_its_range() -> None:
    # 60 kPa boils at 2800 m, 45 kPa does not: a person decides
    edits = {**CARBURETTOR, "plumbing.fuel.grade.vapour_pressure": None}
    high = one(RULE, {**edits, "build.design.altitude_max": "2800 m"}, stage="quote")
    assert high.kind == "review"
    assert any("vapour pressure" in name for name in high.practices)


def test_warm_petrol_from_the_return_counts() -> None:
    warm = {**CARBURETTOR, "engine.fuel.return_flow": "60 L/h", "engine.fuel.return_temp_rise": "20 K"}
    hot = value("fuel.tank-temperature", warm)
    assert hot > 45.0
    assert value("fuel.vapour-pressure", warm) == pytest.approx(boils_at(hot, 60.0), rel=1e-4)


def test_the_bore_that_is_advised_keeps_the_petrol_from_boiling() -> None:
    """It is worked out from what the air has above the vapour pressure, so that it is enough."""
    high = {**CARBURETTOR, "build.design.altitude_max": "2700 m"}
    found = one(RULE, high)
    assert (found.kind, [a.field for a in found.advice]) == ("fail", ["plumbing.fuel.supply.bore"])
    wider = {**high, "plumbing.fuel.supply.bore": f"{1e3 * float(found.advice[0].value):.2f} mm"}
    assert one(RULE, wider).kind == "pass"
