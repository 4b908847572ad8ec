"""Limits of the chassis pack, each as the rule reports it: the numbers as its source states them."""

from __future__ import annotations

import pytest
from pinned import limit_of

from swaplint.kit.trial import of_part, one, trial

LIMITS = [
    # UN Regulation No. 13 for goods vehicles (from memory): 18 % laden, 12 % with the trailer, 600 N at the hand
    ("chassis.parking-brake", "legal-grade", "", "at least", 0.18),
    ("chassis.parking-brake", "combination", "", "at least", 0.12),
    ("chassis.parking-brake", "control-force", "", "at most", 600.0),
    # common practice: 150 degrees of lap on the crank, pulleys in line to half a degree
    ("chassis.belt-drive", "lap.crank", "belts.accessory", "at least", 2.6179939),
    ("chassis.belt-drive", "alignment", "belts.accessory", "at most", 0.0087266463),
    # common practice: 5 kW/t of lasting brake power on a descent
    ("chassis.brake-duty", "descent", "", "at most", 5000.0 / 1000.0),
    # UN Regulation No. 79 (from memory): 300 N at the rim without assistance
    ("chassis.steering-pressure", "effort", "", "at most", 300.0),
    # 70 % of the vacuum is left after one stop; warned at 27.1 kPa, 8 in of mercury, as the pack's sources have it
    ("chassis.vacuum-reserve", "one-application", "", "at least", 0.70),
    ("chassis.vacuum-source", "warning-level", "", "at least", 27.1e3),
]
"""Rule, demand, part, relation, limit in SI."""


@pytest.mark.parametrize(("rule", "demand", "part", "relation", "limit"), LIMITS)
def test_a_limit_is_what_its_source_says(
    rule: str, demand: str, part: str, relation: str, limit: float | tuple[float, float]
) -> None:
    assert limit_of(rule, demand, part) == (relation, pytest.approx(limit, rel=1e-6))


@pytest.mark.parametrize(
    ("category", "grade", "hand", "foot"),
    # UN Regulations No. 13-H (M1) and No. 13 (all others), from memory
    [
        ("M1", 0.20, 400.0, 500.0),
        ("M2", 0.18, 600.0, 700.0),
        ("M3", 0.18, 600.0, 700.0),
        ("N1", 0.18, 600.0, 700.0),
        ("N2", 0.18, 600.0, 700.0),
        ("N3", 0.18, 600.0, 700.0),
    ],
)
def test_the_parking_brake_of_each_category(category: str, grade: float, hand: float, foot: float) -> None:
    edits = {"vehicle.category": category}
    for control, force in (("hand", hand), ("foot", foot)):
        edits["vehicle.brakes.parking.control"] = control
        assert limit_of("chassis.parking-brake", "legal-grade", edits=edits)[1] == pytest.approx(grade)
        assert limit_of("chassis.parking-brake", "control-force", edits=edits)[1] == pytest.approx(force)


@pytest.mark.parametrize(
    ("category", "effort", "intact"),
    # UN Regulation No. 79, from memory
    [
        ("M1", 300.0, 150.0),
        ("M2", 300.0, 150.0),
        ("M3", 450.0, 200.0),
        ("N1", 300.0, 200.0),
        ("N2", 400.0, 250.0),
        ("N3", 450.0, 200.0),
    ],
)
def test_the_effort_at_the_rim_in_each_category(category: str, effort: float, intact: float) -> None:
    edits = {"vehicle.category": category}
    gone = {**edits, "vehicle.steering.assist": "none", "vehicle.steering.assist_before": "hydraulic"}
    assert limit_of("chassis.steering-pressure", "effort", edits=edits)[1] == pytest.approx(effort)
    assert limit_of("chassis.steering-pressure", "effort", edits=gone)[1] == pytest.approx(intact)


@pytest.mark.parametrize(
    ("category", "force"),
    [("M1", 500.0), ("M2", 700.0), ("M3", 700.0), ("N1", 700.0), ("N2", 700.0), ("N3", 700.0)],
)
def test_the_force_at_the_pedal_in_each_category(category: str, force: float) -> None:
    # UN Regulations No. 13-H and No. 13
    found = limit_of("chassis.unassisted-stop", "pedal-force", edits={"vehicle.category": category})
    assert found == ("at most", pytest.approx(force))


def test_the_belt_laps_the_alternator_by_a_third_of_a_turn() -> None:
    # common practice: 120 degrees
    edits = {"plumbing.belts.accessory.pulleys.compressor.role": "alternator"}
    found = limit_of("chassis.belt-drive", "lap.compressor", "belts.accessory", edits)
    assert found == ("at least", pytest.approx(2.0943951))


@pytest.mark.parametrize("category", ["M2", "M3", "N2", "N3"])
def test_a_pedal_without_assistance_must_do_as_much_in_each_category_of_heavy_vehicle(category: str) -> None:
    # service braking, UN Regulation No. 13: 5.0 m/s² with 700 N at the pedal for all of them and for N1
    gone = {"vehicle.brakes.assist": "none", "vehicle.brakes.assist_before": "vacuum"}
    light = one("chassis.unassisted-stop", {**gone, "vehicle.category": "N1"}, demand="pedal-force")
    found = one("chassis.unassisted-stop", {**gone, "vehicle.category": category}, demand="pedal-force")
    assert light.found is not None
    assert found.found == pytest.approx(light.found)
    assert found.limit is not None
    assert found.limit.value == pytest.approx(700.0)


@pytest.mark.parametrize(
    ("hose", "marked", "kind"),
    [
        ("brake_vacuum", "SAE J1403", "pass"),
        ("brake_vacuum", "sae-j1403 HR", "pass"),
        ("brake_vacuum", "SAE J20 R3", "fail"),  # coolant hose
        ("brake_vacuum", "SAE J30 R7", "fail"),  # fuel hose
        ("steering_pressure", "SAE J189", "fail"),  # the low-pressure side alone
        ("steering_return", "SAE J189", "pass"),
        ("heater_feed", "SAE J2064", "fail"),  # J20 is no beginning of J2064
        ("refrigerant", "SAE J2064", "pass"),
        ("heater_feed", "house brand 7", "review"),
    ],
)
def test_a_hose_carries_what_its_mark_says(hose: str, marked: str, kind: str) -> None:
    found = of_part("chassis.hoses", hose, {f"plumbing.hoses.{hose}.marked": marked})
    assert (found.kind, found.level) == (kind, "warning" if kind == "fail" else None)


def test_a_hose_that_is_needed_and_not_stated_is_asked_for() -> None:
    found = [one for one in trial("chassis.hoses", {"plumbing.hoses.brake_vacuum": None}) if one.kind == "open"]
    assert [(one.unknown, one.due) for one in found] == [(("plumbing.hoses.brake-vacuum.marked",), True)]
    # named for what it carries it needs no more
    named = {"plumbing.hoses.brake_vacuum": None, "plumbing.hoses.brake-vacuum": {"marked": "SAE J1403"}}
    assert of_part("chassis.hoses", "brake-vacuum", named).kind == "pass"


@pytest.mark.parametrize(("relief", "kind"), [("5 MPa", "review"), ("4.99 MPa", "fail")])
def test_half_of_what_the_gear_stands_is_enough_as_far_as_anybody_knows(relief: str, kind: str) -> None:
    # half of 10 MPa is common practice: a person accepts it
    gear = {"vehicle.steering.gear.pressure_required": None, "vehicle.steering.gear.pressure_max": "10 MPa"}
    edits = {**gear, "vehicle.steering.pump.relief_pressure": relief}
    assert one("chassis.steering-pressure", edits, demand="assistance").kind == kind


@pytest.mark.parametrize(("held", "field"), [("16 %", "held_grade"), (None, "torque")])
def test_a_slope_that_was_measured_counts_before_a_torque(held: str | None, field: str) -> None:
    parking = "vehicle.brakes.parking"
    edits = {f"{parking}.held_grade": held, f"{parking}.torque": "300 Nm", f"{parking}.acts_on": "transfer-output"}
    found = one("chassis.parking-brake", edits, demand="legal-grade")
    assert (found.kind, found.subject) == ("fail", f"{parking}.{field}")


@pytest.mark.parametrize(("effort", "kind"), [("300 N", "pass"), ("301 N", "fail")])
def test_a_wheel_as_heavy_as_is_lawful_asks_for_no_other_gear(effort: str, kind: str) -> None:
    found = one("chassis.steering-pressure", {"vehicle.steering.effort": effort}, demand="effort")
    assert (found.kind, "times the reduction" in found.message) == (kind, kind == "fail")
