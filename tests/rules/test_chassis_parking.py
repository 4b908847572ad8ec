"""The parking brake's rule, worked out by hand from the sound spec."""

from __future__ import annotations

import math

import pytest

from swaplint.kit.trial import one, trial, value

RULE, PARKING = "chassis.parking-brake", "vehicle.brakes.parking"
G = 9.80665
TYRE = 3.05 * 0.806 / (2.0 * math.pi)
"""Rolling radius of the sound spec's radial tyres, m."""
UNMEASURED = {f"{PARKING}.held_grade": None, f"{PARKING}.control_force": None}
ON_THE_OUTPUT = {**UNMEASURED, f"{PARKING}.acts_on": "transfer-output", f"{PARKING}.state": "replaced"}


def slope(share: float) -> float:
    """Grade, in per cent, on which a share of the weight pulls downhill: sin to tan."""
    return 100.0 * math.tan(math.asin(share))


class TestWhatItHolds:
    def test_on_the_transfer_output(self) -> None:
        # 900 N·m on the propshaft, times 4.3 in the axle, over the tyre, against 2800 kg: about 38.6 %
        share = 900.0 * 4.3 / TYRE / (2800.0 * G)
        grade = value("chassis.parking-grade", {**ON_THE_OUTPUT, f"{PARKING}.torque": "900 Nm"})
        assert grade == pytest.approx(slope(share), rel=1e-4)
        assert grade == pytest.approx(38.6, abs=0.1)

    def test_the_low_range_does_not_count_on_the_gearbox_output(self) -> None:
        high = {**ON_THE_OUTPUT, f"{PARKING}.acts_on": "gearbox-output", "driveline.transfer.high": 1.2}
        share = 500.0 * 4.3 * 1.2 / TYRE / (2800.0 * G)
        assert value("chassis.parking-grade", {**high, f"{PARKING}.torque": "500 Nm"}) == pytest.approx(
            slope(share), rel=1e-4
        )

    def test_kept_in_the_wheels(self) -> None:
        # as approved: 18 % at 2800 kg; at 3500 kg sin falls to four fifths, and larger tyres take their share
        assert value("chassis.parking-grade", UNMEASURED) == pytest.approx(18.0, rel=1e-4)
        heavier = {**UNMEASURED, "vehicle.mass.gvwr": "3500 kg", "driveline.tyres.overall_diameter": "900 mm"}
        share = math.sin(math.atan(0.18)) * 2800.0 / 3500.0 * 806.0 / 900.0
        assert value("chassis.parking-grade", heavier) == pytest.approx(slope(share), rel=1e-4)

    def test_the_trailer(self) -> None:
        # 22 % measured at 2800 kg is a force of 0.2149 of that weight; with 3600 kg it holds 16.95 %
        share = math.sin(math.atan(0.22)) * 2800.0 / 3600.0
        found = one(RULE, demand="combination")
        assert (found.kind, found.found) == ("pass", pytest.approx(slope(share) / 100.0, rel=1e-4))


class TestVerdicts:
    def test_gone_with_the_gearbox(self) -> None:
        found = one(RULE, {f"{PARKING}.before": "gearbox-output", f"{PARKING}.state": "gone"})
        assert (found.kind, found.level, found.demand) == ("fail", "error", "there")
        assert "on the gearbox's output" in found.message
        assert "licensed engineer" in found.cautions[0]

    def test_none_at_all(self) -> None:
        found = one(RULE, {PARKING: {"fitted": False}})
        assert (found.kind, found.level) == ("fail", "error")

    def test_kept_on_a_gearbox_that_is_replaced(self) -> None:
        there = {f"{PARKING}.before": "gearbox-output", f"{PARKING}.acts_on": "gearbox-output"}
        assert one(RULE, there, demand="there").kind == "pass"
        bought = {**there, "supply": [{"item": "gearbox", "by": "shop", "functions": ["gearbox"]}]}
        found = one(RULE, bought, demand="there")
        assert (found.kind, found.level) == ("fail", "error")
        assert one(RULE, {**bought, f"{PARKING}.state": "replaced"}, demand="there").kind == "pass"

    def test_kept_and_moved_contradict(self) -> None:
        assert one(RULE, {f"{PARKING}.before": "transfer-output"}, demand="there").kind == "fail"

    def test_a_parking_lock_is_none(self) -> None:
        lock = {
            f"{PARKING}.acts_on": "parking-lock",
            f"{PARKING}.state": "replaced",
            "driveline.gearbox.kind": "automatic",
        }
        found = one(RULE, lock, demand="there")
        assert (found.kind, found.level) == ("fail", "warning")

    @pytest.mark.parametrize(("grade", "kind"), [("18 %", "pass"), ("17.9 %", "fail")])
    def test_boundary_of_the_usual_rule(self, grade: str, kind: str) -> None:
        found = one(RULE, {f"{PARKING}.held_grade": grade}, demand="legal-grade")
        assert found.kind == kind
        if kind == "fail":
            assert found.level == "warning"  # the number is known from memory alone

    def test_cars_are_held_on_20(self) -> None:
        car = {"vehicle.category": "M1", f"{PARKING}.held_grade": "19 %"}
        assert one(RULE, car, demand="legal-grade").kind == "fail"
        assert one(RULE, {**car, f"{PARKING}.control_force": "410 N"}, demand="control-force").kind == "fail"

    @pytest.mark.parametrize(("grade", "kind"), [("22 %", "pass"), ("22.1 %", "fail")])
    def test_the_slope_it_stands_on(self, grade: str, kind: str) -> None:
        found = one(RULE, {f"{PARKING}.parked_grade": grade}, demand="stated-grade")
        assert found.kind == kind
        if kind == "fail":
            assert found.level == "error"

    def test_advice_of_torque_passes(self) -> None:
        weak = {**ON_THE_OUTPUT, f"{PARKING}.torque": "300 Nm"}
        found = one(RULE, weak, demand="legal-grade")
        # 2800 kg on 18 %, over 4.3, at the tyre
        need = 2800.0 * G * math.sin(math.atan(0.18)) * TYRE / 4.3
        assert found.kind == "fail"
        assert found.advice[0].value == pytest.approx(need, rel=0.01)

    def test_on_the_output_and_not_measured_is_open(self) -> None:
        found = one(RULE, ON_THE_OUTPUT, demand="legal-grade")
        assert found.kind == "open"
        assert f"{PARKING}.held_grade" in found.unknown

    def test_nothing_stated_is_open(self) -> None:
        assert {f.kind for f in trial(RULE, {PARKING: None})} == {"open"}


@pytest.mark.parametrize(
    ("category", "control", "force", "kind"),
    [
        ("N1", "hand", "600 N", "pass"),
        ("N1", "hand", "601 N", "fail"),
        ("N1", "foot", "700 N", "pass"),
        ("N1", "foot", "701 N", "fail"),
        ("M1", "hand", "401 N", "fail"),
        ("M1", "foot", "500 N", "pass"),
    ],
)
def test_force_at_the_control(category: str, control: str, force: str, kind: str) -> None:
    # UN Regulations No. 13 and 13-H (from memory): a warning
    edits = {"vehicle.category": category, f"{PARKING}.control": control, f"{PARKING}.control_force": force}
    found = one(RULE, edits, demand="control-force")
    assert found.kind == kind
    assert found.level in (None, "warning")


@pytest.mark.parametrize(("more", "kind"), [(-1.0, "pass"), (1.0, "fail")])
def test_the_combination_on_twelve_per_cent(more: float, kind: str) -> None:
    # held on 22 % at 2800 kg: the same force holds m on 12 % with m·sin(atan 0.12) = 2800·sin(atan 0.22)
    heaviest = 2800.0 * math.sin(math.atan(0.22)) / math.sin(math.atan(0.12))
    assert one(RULE, {"vehicle.mass.gcwr": f"{heaviest + more:.1f} kg"}, demand="combination").kind == kind


def test_a_towbar_asks_for_the_mass_of_the_combination() -> None:
    assert one(RULE, {"vehicle.mass.gcwr": None}, demand="combination").kind == "open"


def test_a_torque_at_the_wheels_is_not_multiplied() -> None:
    # 2000 N m at the wheels over the rolling radius of the sound spec, 3.05·0.806/(2π) = 0.39125 m: 5.1118 kN
    edits = {f"{PARKING}.held_grade": None, f"{PARKING}.torque": "2000 Nm"}
    assert value("chassis.parking-force", edits) == pytest.approx(2.0 * 2 * math.pi / (3.05 * 0.806), rel=1e-6)


def test_the_grade_with_a_trailer_is_said() -> None:
    # 22 % alone: sin 0.21486; 2800 of 3600 kg: 0.16712, which is 16.95 %, rounded down
    said = one(RULE, {f"{PARKING}.held_grade": "22 %"}, demand="combination").message
    assert "3600 kg in all, it holds 16.9 %;" in said
