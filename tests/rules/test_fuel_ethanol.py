"""Petrol with much ethanol, and refitted pipes of mechanical injection, on the sound spec."""

from __future__ import annotations

from typing import Any

import pytest
from fuel_numbers import FED, PUMP

from swaplint.kit.trial import one, value

GRADE = "plumbing.fuel.grade"
HIGH_PRESSURE = "plumbing.fuel.high_pressure"
PETROL: dict[str, Any] = {"engine.fuel_type": "petrol", "engine.fuel.injection": "port-petrol"}
E85: dict[str, Any] = {
    **PETROL,
    f"{GRADE}.ethanol": "85 %",
    "engine.fuel.ethanol_max": "85 %",
    "plumbing.fuel.tank.material": "stainless-steel",
}


def test_diesel_is_not_asked() -> None:
    assert one("fuel.ethanol").kind == "notApplicable"
    assert one("fuel.ethanol", {**PETROL, f"{GRADE}.ethanol": None}).kind == "open"


@pytest.mark.parametrize(
    ("share", "most", "kind", "level"),
    [
        ("85 %", "85 %", "pass", None),
        ("85 %", "10 %", "fail", "error"),
        ("10 %", "10 %", "pass", None),
        ("10 %", None, "pass", None),
        ("11 %", None, "fail", "warning"),
    ],
)
def test_share_against_the_engine(share: str, most: str | None, kind: str, level: str | None) -> None:
    found = one("fuel.ethanol", {**E85, f"{GRADE}.ethanol": share, "engine.fuel.ethanol_max": most}, demand="engine")
    assert found.kind == kind
    if kind == "fail":
        assert found.level == level


def test_the_pump_must_give_more() -> None:
    # petrol 31.8, ethanol 21.2 MJ/L: 31.8/(0.85·21.2 + 0.15·31.8) = 1.395; margin 1.2, burn 24 L/h: 40.18 L/h
    fed = {"engine.fuel.feed": "pressure"}
    assert value("fuel.feed-flow-needed", {**E85, **fed}) == pytest.approx(1.2 * 24 * 1.3953, rel=1e-4)
    ordinary = {**E85, **fed, f"{GRADE}.ethanol": "10 %"}
    assert value("fuel.feed-flow-needed", ordinary) == pytest.approx(1.2 * 24)
    assert "40 % more" in one("fuel.ethanol", E85, demand="engine").message


@pytest.mark.parametrize(
    ("edits", "demand", "level"),
    [
        ({f"{GRADE}.parts_for_ethanol": False}, "parts", "error"),
        ({"plumbing.fuel.tank.material": "terne-steel"}, "tank", "warning"),
        ({"plumbing.fuel.tank.material": "aluminium"}, "tank", "warning"),
        ({"plumbing.fuel.supply.material": "polyamide"}, "supply-line", "warning"),
        ({"plumbing.fuel.return_line.material": "aluminium"}, "return-line", "warning"),
    ],
)
def test_what_ethanol_eats(edits: dict[str, Any], demand: str, level: str) -> None:
    found = one("fuel.ethanol", {**E85, **edits}, demand=demand)
    assert (found.kind, found.level) == ("fail", level)
    assert one("fuel.ethanol", E85, demand=demand).kind == "pass"


def test_no_return_line_is_judged_where_there_is_none() -> None:
    gone = {**E85, "plumbing.fuel.return_line": {"fitted": False}}
    assert one("fuel.ethanol", gone).kind == "pass"


# -- mechanical injection ----------------------------------------------------------------------------------------------
REFITTED: dict[str, Any] = {"engine.fuel.injection": "mechanical-injection", f"{HIGH_PRESSURE}.lines_renewed": False}


@pytest.mark.parametrize(("sound", "kind"), [(True, "pass"), (False, "fail"), (None, "open")])
def test_pipes_of_mechanical_injection_may_be_refitted(sound: bool | None, kind: str) -> None:
    found = one("fuel.high-pressure", {**REFITTED, f"{HIGH_PRESSURE}.pipes_sound": sound}, demand="lines-renewed")
    assert found.kind == kind


def test_pipes_of_a_common_rail_may_not() -> None:
    edits = {f"{HIGH_PRESSURE}.lines_renewed": False, f"{HIGH_PRESSURE}.pipes_sound": True}
    assert one("fuel.high-pressure", edits, demand="lines-renewed").kind == "fail"
    new = {**REFITTED, f"{HIGH_PRESSURE}.lines_renewed": True}
    assert one("fuel.high-pressure", new, demand="lines-renewed").kind == "pass"


@pytest.mark.parametrize(("pressure", "kind"), [(None, "pass"), ("99 kPa", "pass"), ("100 kPa", "fail")])
@pytest.mark.parametrize("injection", ["mechanical-injection", "common-rail"])
def test_low_pressure_hose_for_diesel(injection: str, pressure: str | None, kind: str) -> None:
    # SAE J30, June 1998: 30R6 to R8 are low-pressure hose, 30R9 is for medium pressure. What is sucked is low pressure.
    edits: dict[str, Any] = {"engine.fuel.injection": injection, "plumbing.fuel.supply.hose_class": "SAE J30R7"}
    if pressure is not None:
        edits |= {**FED, f"{PUMP}.pressure": pressure}
    assert one("fuel.materials", edits, demand="hose-class").kind == kind


def test_low_pressure_hose_takes_diesel_back_but_not_injected_petrol() -> None:
    edits = {"plumbing.fuel.return_line.hose_class": "SAE J30R7"}
    assert one("fuel.materials", edits, demand="return-hose-class").kind == "pass"
    petrol = {**edits, "engine.fuel_type": "petrol", "engine.fuel.injection": "port-petrol"}
    assert one("fuel.materials", petrol, demand="return-hose-class").kind == "fail"
