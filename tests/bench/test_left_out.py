"""What leaves facts out tells a pass that came of it from one that is excused."""

from __future__ import annotations

import random
from dataclasses import replace
from typing import Any

import left_out
import pytest

from swaplint.inspecting.results import Finding
from swaplint.kit.trial import rule_base, trial

TEETH, RATIO = "driveline.axles.rear.ring_teeth", "driveline.axles.rear.ratio"


def fail() -> Finding:
    return trial("chassis.parking-brake", {"vehicle.brakes.parking.torque": "100 Nm"})[0]


@pytest.mark.parametrize(
    ("kind", "demand", "facts", "excuses", "told"),
    [
        ("pass", "same", [RATIO], [], "fails, and passes without"),
        ("pass", "other", [RATIO], [], "is not asked for without"),
        ("open", "same", [RATIO], [], ""),
        ("pass", "same", [TEETH], ["driveline.axles.*.ring_teeth"], ""),
        ("pass", "same", ["engine.starter.fitted"], [], ""),
    ],
)
def test_a_pass_by_silence_is_told(
    kind: str, demand: str, facts: list[str], excuses: list[str], told: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = fail()
    answer = replace(found, kind=kind, demand=found.demand if demand == "same" else demand)
    monkeypatch.setattr(left_out, "trial", lambda rule, edits: [answer])
    said = left_out.turned(found.rule, found, {}, facts, excuses)
    assert (told in said) if told else said == ""


def test_what_is_left_out_is_in_no_edit() -> None:
    edit: dict[str, Any] = {"vehicle.brakes.parking.torque": "1 Nm", "vehicle.brakes": {}, "engine.model": "x"}
    left = left_out.without(edit, ["vehicle.brakes.parking"])
    assert left == {"vehicle.brakes": {}, "engine.model": "x", "vehicle.brakes.parking": None}


def test_each_fact_is_taken_away_alone_and_several_at_once() -> None:
    sets = left_out.draws(["a", "b", "c"], 9, random.Random(1))
    assert [each for each in sets if len(each) == 1] == [["a"], ["b"], ["c"]]
    assert ["a", "b", "c"] in sets


def test_a_quantity_that_a_fail_rests_on_says_what_it_does_without() -> None:
    rules = {rule.id: rule for pack in rule_base().packs for rule in pack.rules}
    found = trial("chassis.steering-flow", {"vehicle.steering.pump.displacement": "4 cm3/rev"})
    low = next(finding for finding in found if finding.kind == "fail")
    assert "vehicle.steering.gear.flow_max" in left_out.excused(rules["chassis.steering-flow"], low)
