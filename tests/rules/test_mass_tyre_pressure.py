"""The pressure that tyres are kept at against what they stand."""

from __future__ import annotations

from typing import Any

import pytest

from swaplint.kit.trial import of_part

RULE, TYRES = "mass.tyre-pressure", "driveline.tyres"


@pytest.mark.parametrize(("kept", "kind"), [("550 kPa", "pass"), ("551 kPa", "fail")])
def test_what_the_tyre_stands(kept: str, kind: str) -> None:
    found = of_part(RULE, "rear", {f"{TYRES}.pressure_rear": kept})  # sound spec: 550 kPa at most
    assert (found.kind, found.subject) == (kind, f"{TYRES}.pressure_rear")
    if kind == "fail":
        assert found.level == "error"
        assert [a.value for a in found.advice] == [550e3]


@pytest.mark.parametrize(
    ("category", "kept", "kind"),
    [("N1", "550 kPa", "pass"), ("N1", "551 kPa", "fail"), ("M1", "550 kPa", "pass"), ("M1", "600 kPa", "open")],
)
def test_the_pressure_of_the_load_index_where_no_other_is_stated(category: str, kept: str, kind: str) -> None:
    # A van's tyre is marked with its load "at 550 kPa"; a car's tyre stands more than the 250 kPa of its load index.
    edits: dict[str, Any] = {f"{TYRES}.pressure_max": None, "vehicle.category": category}
    found = of_part(RULE, "front", {**edits, f"{TYRES}.pressure_front": kept})
    assert found.kind == kind
    if kind == "open":
        assert f"{TYRES}.pressure_max" in found.unknown


def test_an_unknown_pressure_names_what_stands_in() -> None:
    found = of_part(RULE, "rear", {f"{TYRES}.pressure_rear": None}, stage="quote")
    assert found.kind == "pass"
    assert "tyres kept at the pressure that their load index is stated for" in found.message
    assert of_part(RULE, "rear", {f"{TYRES}.pressure_rear": None}, stage="commission").kind == "review"
