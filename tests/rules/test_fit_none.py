"""A gap that there is none of: an entry of its kind says why, and the rules about it do not apply."""

from __future__ import annotations

import pytest

from swaplint.kit.trial import of_part, trial

GAPS = "vehicle.clearances"
WHY = "the engine stands behind the rear axle"


@pytest.mark.parametrize(
    ("rule", "kind", "named"),
    [
        ("fit.sump-axle", "axle", "sump_axle"),
        ("fit.hood-clearance", "hood", "hood"),
        ("fit.fan-gap", "fan-core", "fan_core"),
        ("fit.steering-shaft-clearance", "steering", "steering_shaft"),
    ],
)
def test_says_why_there_is_none(rule: str, kind: str, named: str) -> None:
    asked = of_part(rule, kind, {f"{GAPS}.{named}": None})
    assert asked.kind == "review"
    assert "none_because" in asked.message
    edits = {f"{GAPS}.{named}": {"kind": kind, "none_because": WHY}}
    found = of_part(rule, f"{GAPS}.{named}", edits)
    assert found.kind == "notApplicable"
    assert WHY in found.message


def test_the_movement_of_the_engine_does_not_ask_for_it() -> None:
    fixed = {"kind": "fixed", "none_because": WHY}
    path = f"{GAPS}.nothing_near"
    found = [f for f in trial("mounts.movement-envelope", {path: fixed}) if f.part == path]
    assert [f.kind for f in found] == ["notApplicable"]
