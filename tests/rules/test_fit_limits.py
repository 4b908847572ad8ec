"""Limits of the fit pack, each as the rule reports it: the numbers as its source states them."""

from __future__ import annotations

import math

import pytest
from advising import advised
from pinned import limit_of

from swaplint.kit.trial import one

LIMITS = [
    # common practice: 40 mm ahead of the engine, 25 mm to the rails, 50 mm beside the exhaust, 15 mm elsewhere
    ("fit.bay-box", "room.front", "", "at least", 0.040),
    ("fit.bay-box", "room.left", "", "at least", 0.025),
    ("fit.bay-box", "room.right", "", "at least", 0.050),
    ("fit.bay-box", "room.below", "", "at least", 0.015),
    ("fit.bay-box", "room.above", "", "at least", 0.015),
    # common practice: tips of an engine-driven fan 2.5 % of its diameter and at least 20 mm off, half to two thirds in
    ("fit.fan-gap", "tips-apart", "fan_shroud", "at least", 0.020),
    ("fit.fan-gap", "projection", "fan_shroud", "within", (0.5, 2 / 3)),
    # common practice: 25 mm of room in a tunnel
    ("fit.gearbox-place", "tunnel-roof", "", "at least", 0.025),
    ("fit.gearbox-place", "tunnel-side", "", "at least", 0.025),
    ("fit.gearbox-place", "transfer-floor", "", "at least", 0.025),
    ("fit.gearbox-place", "transfer-left", "", "at least", 0.025),
    ("fit.gearbox-place", "transfer-right", "", "at least", 0.025),
    # common practice: 10 mm left before the spline bottoms, a tenth of the ground clearance lost
    ("fit.shaft-plunge-ground", "slip-in", "shafts.front", "at least", 0.010),
    ("fit.shaft-plunge-ground", "ground-clearance", "ground_clearance", "at most", 0.10),
]
"""Rule, demand, part, relation, limit in SI."""


@pytest.mark.parametrize(("rule", "demand", "part", "relation", "limit"), LIMITS)
def test_a_limit_is_what_its_source_says(
    rule: str, demand: str, part: str, relation: str, limit: float | tuple[float, float]
) -> None:
    assert limit_of(rule, demand, part) == (relation, pytest.approx(limit, rel=1e-6))


@pytest.mark.parametrize(
    ("side", "axis", "moved", "back"),
    # to the rear, to the left and up are positive
    [
        ("front", "x", 290, +1), ("rear", "x", 400, -1), ("left", "y", 40, -1),
        ("right", "y", -25, +1), ("below", "z", 690, +1), ("above", "z", 765, -1),
    ],
)  # fmt: skip
def test_an_engine_too_near_to_a_side_is_moved_back_by_whole_millimetres(
    side: str, axis: str, moved: int, back: int
) -> None:
    found = one("fit.bay-box", {f"vehicle.engine_place.{axis}": f"{moved} mm"}, demand=f"room.{side}")
    assert found.kind == "fail"
    assert found.found is not None
    assert found.limit is not None
    assert isinstance(found.limit.value, float)
    lack = math.ceil((found.limit.value - found.found) * 1000)
    assert 5 < lack < 20
    assert advised(found) == {f"vehicle.engine_place.{axis}": pytest.approx((moved + back * lack) / 1000, abs=1e-6)}
