"""What vacuum works besides the brakes, on the sound spec."""

from __future__ import annotations

import pytest

from swaplint.kit.trial import one, trial

RULE, FLAPS = "chassis.vacuum-consumers", "vehicle.vacuum_consumers.heater_flaps"

# at 1500 m the air has 84.556 kPa (ISO 2533), the pump reaches 10 kPa: 74.556 kPa are left
AVAILABLE = 74.556


@pytest.mark.parametrize(("need", "kind"), [(AVAILABLE - 0.05, "pass"), (AVAILABLE + 0.05, "fail")])
def test_depression(need: float, kind: str) -> None:
    found = one(RULE, {f"{FLAPS}.depression": f"{need} kPa"}, demand="depression")
    assert found.kind == kind
    if kind == "fail":
        assert found.level == "warning"


def test_a_leak_that_empties_the_booster() -> None:
    found = one(RULE, {f"{FLAPS}.own_check_valve": False}, demand="check-valve")
    assert (found.kind, found.level) == ("fail", "error")
    assert one(RULE, {f"{FLAPS}.own_check_valve": None}, demand="check-valve").kind == "open"


@pytest.mark.parametrize(("after", "kind"), [("cable", "pass"), ("electric", "pass"), ("nothing", "fail")])
def test_another_actuator(after: str, kind: str) -> None:
    assert one(RULE, {f"{FLAPS}.after": after}).kind == kind


def test_a_source_that_makes_no_vacuum() -> None:
    # the sound engine is a diesel without a throttle; with a vacuum booster chassis.vacuum-source says that
    edits = {"plumbing.vacuum.supply": "manifold"}
    assert one(RULE, edits, demand="depression").kind == "notApplicable"
    assert one(RULE, {**edits, "vehicle.brakes.assist": "none"}, demand="depression").kind == "fail"


def test_none_and_unknown() -> None:
    assert one(RULE, {"vehicle.vacuum_consumers": {}}).kind == "notApplicable"
    assert {f.kind for f in trial(RULE, {"vehicle.vacuum_consumers": None})} == {"open"}


@pytest.mark.parametrize(("end", "kind"), [("44 kPa", "pass"), ("45 kPa", "fail")])
def test_an_unstated_need_is_taken_as_that_of_most_actuators(end: str, kind: str) -> None:
    # 40 kPa (common practice): at 1500 m the air has 84.56 kPa, of which a pump leaves 40.56 or 39.56
    edits = {f"{FLAPS}.depression": None, "plumbing.vacuum.pump.end_pressure": end}
    found = one(RULE, edits, demand="depression")
    assert found.kind == kind
    assert any("40 kPa" in name for name in found.practices)


@pytest.mark.parametrize(("after", "by"), [("electric", "by current"), ("cable", "by a cable")])
def test_what_works_it_now(after: str, by: str) -> None:
    assert one(RULE, {f"{FLAPS}.after": after}).message == f"heater_flaps is worked {by} now."
