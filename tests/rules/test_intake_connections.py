"""Exhaust-gas recirculation and the breather's lines on the sound spec."""

from __future__ import annotations

from typing import Any

import pytest

from swaplint.kit.trial import one, trial

EGR = "plumbing.exhaust.recirculation"
LINE = "plumbing.intake.breather"
WITH: dict[str, Any] = {
    "engine.exhaust.recirculation": {"fitted": True, "cooled": True, "enters": "behind-charge-cooler"},
    EGR: {"enters": "behind-charge-cooler", "coolant_joined": True, "valve_joined": True, "strain_free": True},
}
PETROL: dict[str, Any] = {"engine.fuel_type": "petrol", "engine.breather.manifold_line": True}


def test_an_engine_without_recirculation_is_not_asked() -> None:
    assert one("intake.recirculation").kind == "notApplicable"
    assert one("intake.recirculation", {"engine.exhaust.recirculation": None}).kind == "open"


def test_it_stays_whole() -> None:
    assert {f.kind for f in trial("intake.recirculation", WITH)} == {"pass"}
    assert one("intake.recirculation", {**WITH, EGR: None}, demand="there").kind == "open"
    gone = one("intake.recirculation", {**WITH, EGR: {"fitted": False}})
    assert (gone.kind, gone.level, gone.demand) == ("fail", "error", "there")


@pytest.mark.parametrize(
    ("field", "wrong", "demand", "level"),
    [
        ("enters", "before-compressor", "enters", "error"),
        ("coolant_joined", False, "coolant", "error"),
        ("valve_joined", False, "valve", "error"),
        ("strain_free", False, "strain", "warning"),
    ],
)
def test_each_connection(field: str, wrong: Any, demand: str, level: str) -> None:
    found = one("intake.recirculation", {**WITH, f"{EGR}.{field}": wrong}, demand=demand)
    assert (found.kind, found.level, found.subject) == ("fail", level, f"{EGR}.{field}")
    assert one("intake.recirculation", {**WITH, f"{EGR}.{field}": None}, demand=demand).kind == "open"


def test_uncooled_gas_needs_no_coolant() -> None:
    edits = {**WITH, "engine.exhaust.recirculation.cooled": False, f"{EGR}.coolant_joined": False}
    assert one("intake.recirculation", edits, demand="coolant").kind == "notApplicable"


@pytest.mark.parametrize(
    ("edits", "kind"),
    [
        ({f"{LINE}.manifold_joined": True, f"{LINE}.non_return": True}, "pass"),
        ({f"{LINE}.manifold_joined": False, f"{LINE}.non_return": True}, "fail"),
        ({f"{LINE}.manifold_joined": True, f"{LINE}.non_return": False}, "fail"),
        ({f"{LINE}.manifold_joined": True}, "open"),
        ({}, "open"),
    ],
)
def test_the_line_to_the_manifold(edits: dict[str, Any], kind: str) -> None:
    assert one("intake.crankcase-vent", {**PETROL, **edits}, demand="manifold-line").kind == kind


def test_without_boost_no_valve_keeps_it_out() -> None:
    bare = {"plumbing.cooling.charge_cooler": {"fitted": False}, "engine.charge_air": None}
    edits = {**PETROL, **bare, f"{LINE}.manifold_joined": True}
    assert one("intake.crankcase-vent", edits, demand="manifold-line").kind == "pass"


def test_a_petrol_engine_says_which_lines_it_has() -> None:
    unsaid = {**PETROL, "engine.breather.manifold_line": None, "engine.breather.fresh_air": None}
    for demand in ("manifold-line", "fresh-air"):
        assert one("intake.crankcase-vent", unsaid, demand=demand).kind == "open"
    assert {"manifold-line", "fresh-air"}.isdisjoint({f.demand for f in trial("intake.crankcase-vent")})


@pytest.mark.parametrize(("joined", "kind"), [(True, "pass"), (False, "fail"), (None, "open")])
def test_clean_air_for_the_crankcase(joined: bool | None, kind: str) -> None:
    edits = {"engine.breather.fresh_air": True, f"{LINE}.fresh_air_joined": joined}
    assert one("intake.crankcase-vent", edits, demand="fresh-air").kind == kind
