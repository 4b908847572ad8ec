"""A remedy that fits a part that is missing, and one that is another part."""

from __future__ import annotations

from typing import Any

import pytest

from swaplint.inspecting.results import Remedy
from swaplint.inspecting.selection import Selection
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import rule_base
from swaplint.reports.finding_words import remedy_words
from swaplint.solving.whole import inspect_whole

GONE: dict[str, Any] = {"fitted": False}


def remedies_of(rule: str, demand: str, edits: dict[str, Any]) -> dict[str, Remedy]:
    base = rule_base()
    inspection, problems = inspect_whole(base, sound_spec(base, edits), None, selection=Selection((), (rule,)))
    assert not problems
    failing = [f for f in inspection.findings if f.kind == "fail" and f.demand == demand]
    return {remedy.field: remedy for finding in failing[:1] for remedy in finding.remedies}


@pytest.mark.parametrize(
    ("rule", "demand", "edits", "field", "written"),
    [
        # 0.9 L of air swept at 84.56 kPa and 74.56 kPa of vacuum: V = (84.56·0.9 + 74.56·0.1)/(0.3·74.56) = 3.74 L
        # beside the booster's 3.5 L: the smallest that is sold, 2 L
        (
            "chassis.vacuum-reserve",
            "one-application",
            {"plumbing.vacuum.reservoir": GONE},
            "plumbing.vacuum.reservoir.volume",
            "2 L",
        ),
        (
            "chassis.vacuum-source",
            "check-valve",
            {"plumbing.vacuum.check_valve": GONE},
            "plumbing.vacuum.check_valve.fitted",
            "true",
        ),
        (
            "gearing.top-speed",
            "tyres",
            {"driveline.tyres.speed_symbol": "J"},  # 100 km/h
            "driveline.speed_limiter.speed",
            "100 km/h",
        ),
        ("fuel.venting", "vent", {"plumbing.fuel.vent": GONE}, "plumbing.fuel.vent.bore", "8 mm"),
        (
            "fuel.tilt-uncovering",
            "covering-share",
            {"plumbing.fuel.tank.pickup_x": "300 mm", "plumbing.fuel.tank.low_level_lamp": "45 L"},
            "plumbing.fuel.tank.swirl_pot.volume",
            "1 L",
        ),
    ],
)
def test_one_part_that_is_missing_is_fitted(
    rule: str, demand: str, edits: dict[str, Any], field: str, written: str
) -> None:
    remedy = remedies_of(rule, demand, edits)[field]
    assert remedy.written == written
    assert not remedy.other_part


@pytest.mark.parametrize(
    ("rule", "demand", "edits", "field", "other"),
    [
        (
            "driveline.gearbox-torque",
            "input-torque",
            {"driveline.gearbox.input_torque_rating": "350 Nm"},
            "driveline.gearbox.input_torque_rating",
            True,
        ),
        ("mass.tyre-load", "", {"driveline.tyres.load_index_single": 97}, "driveline.tyres.load_index_single", True),
        (
            "chassis.steering-pressure",
            "gear-pressure",
            {"vehicle.steering.pump.relief_pressure": "11 MPa"},
            "vehicle.steering.pump.relief_pressure",
            False,  # its relief valve is set
        ),
        (
            "fuel.suction-loss",
            "",
            {"plumbing.fuel.supply.bore": "5 mm", "engine.prescribed.fuel_supply_bore_min": "none"},
            "plumbing.fuel.supply.bore",
            False,
        ),
    ],
)
def test_what_a_part_was_made_as_is_another_part(
    rule: str, demand: str, edits: dict[str, Any], field: str, other: bool
) -> None:
    remedy = remedies_of(rule, demand, edits)[field]
    assert remedy.other_part == other
    assert ("another part" in remedy_words(remedy)) == other
