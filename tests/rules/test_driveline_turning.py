"""Half-shafts and what turns with the crank, on the sound spec. The numbers are worked out beside each test."""

import math
from typing import Any

import pytest

from swaplint.kit.trial import of_part, trial, value

G = 9.80665
RADIUS = 3.05 * 0.806 / (2 * math.pi)
# Front axle: 340 N·m · 4.3 · 2.5 · 4.3 · 90 % · 60 % = 8487 N·m from the engine; its tyres slip at
# 0.9 · 1300 kg · g · r.
FRONT_GRIP = 0.9 * 1300 * G * RADIUS  # 4489 N·m
HALF = "driveline.axles.front.half_shafts"


class TestHalfShafts:
    RULE = "driveline.half-shafts"

    def test_torque_of_one_wheel(self) -> None:
        assert value("driveline.half-shaft-torque", part="front") == pytest.approx(FRONT_GRIP / 2)
        locked = {f"{HALF}.differential": "locking"}
        assert value("driveline.half-shaft-torque", locked, part="front") == pytest.approx(FRONT_GRIP)
        hubs = {**locked, "driveline.axles.front.hub_reduction": 1.5}
        assert value("driveline.half-shaft-torque", hubs, part="front") == pytest.approx(FRONT_GRIP / 1.5)

    @pytest.mark.parametrize(
        ("differential", "rating", "kind"),
        [("open", "2250 Nm", "pass"), ("open", "2240 Nm", "fail"), ("locking", "2250 Nm", "fail"),
         ("limited-slip", "4490 Nm", "pass"), ("limited-slip", "4480 Nm", "fail")],
    )  # fmt: skip
    def test_boundary_of_the_torque(self, differential: str, rating: str, kind: str) -> None:
        edits = {f"{HALF}.differential": differential, f"{HALF}.torque_rating": rating}
        finding = of_part(self.RULE, "axles.front", edits, demand="torque")
        assert (finding.kind, finding.subject) == (kind, f"{HALF}.torque_rating")

    @pytest.mark.parametrize(
        ("lock", "slope", "kind"),
        # cos β = cos 35° · cos 20° = 0.81915 · 0.93969 = 0.76975: β = 39.67 degrees; at 40 and 20: 43.96 degrees; at 40
        # and 14 0.76604 · 0.97030 = 0.74329: 41.98 degrees. The stop is at 42.
        [("35 deg", "20 deg", "pass"), ("40 deg", "20 deg", "fail"), ("40 deg", "14 deg", "pass"),
         ("40 deg", "14.2 deg", "fail")],
    )  # fmt: skip
    def test_lock_and_droop_together(self, lock: str, slope: str, kind: str) -> None:
        edits = {f"{HALF}.outer_joint.lock": lock, f"{HALF}.outer_joint.slope": slope}
        finding = of_part(self.RULE, "axles.front", edits, demand="angle.outer")
        assert (finding.kind, finding.subject) == (kind, f"{HALF}.outer_joint")
        assert kind == "pass" or finding.level == "error"

    def test_full_torque_at_full_lock_is_a_warning(self) -> None:
        edits = {f"{HALF}.outer_joint.torque_rating_at_lock": "2240 Nm"}
        finding = of_part(self.RULE, "axles.front", edits, demand="torque-at-lock")
        assert (finding.kind, finding.level) == ("fail", "warning")
        straight = {**edits, f"{HALF}.outer_joint.lock": "0 deg"}
        assert "torque-at-lock" not in {f.demand for f in trial(self.RULE, straight)}

    @pytest.mark.parametrize(("plunge", "kind"), [("12 mm", "pass"), ("11.9 mm", "fail")])
    def test_plunge_of_independent_suspension(self, plunge: str, kind: str) -> None:
        edits = {f"{HALF}.joints": "both", f"{HALF}.plunge": plunge}
        assert of_part(self.RULE, "axles.front", edits, demand="plunge").kind == kind

    def test_inner_joint_by_the_slope_alone(self) -> None:
        edits = {f"{HALF}.joints": "both", f"{HALF}.inner_joint.slope": "22.5 deg"}
        assert of_part(self.RULE, "axles.front", edits, demand="angle.inner").kind == "fail"

    def test_open(self) -> None:
        edits: dict[str, Any] = {f"{HALF}.outer_joint.angle_max": None, f"{HALF}.differential": None}
        assert of_part(self.RULE, "axles.front", edits, demand="angle.outer").unknown == (
            f"{HALF}.outer_joint.angle_max",
        )
        assert of_part(self.RULE, "axles.front", edits, demand="torque").unknown == (f"{HALF}.differential",)
        assert of_part(self.RULE, "axles.front", {HALF: None}).kind == "open"

    def test_does_not_apply(self) -> None:
        rear = "driveline.axles.rear"
        edits = {f"{rear}.half_shafts": {"fitted": False}, f"{rear}.final_drive_on": "axle"}
        assert of_part(self.RULE, "axles.rear", edits).kind == "notApplicable"

    @pytest.mark.parametrize(
        ("axle", "edits", "kind"),
        [
            # who says that there are none says at the same time what turns the wheels, or is asked
            ("rear", {"half_shafts": {"fitted": False}}, "open"),
            ("rear", {"half_shafts": {"fitted": False}, "final_drive_on": "frame"}, "fail"),
            ("rear", {"half_shafts": {"fitted": False}, "integral": True}, "fail"),
            # wheels on springs beside a final drive on the frame: two joints on each side, not none and not one
            ("rear", {"final_drive_on": "frame"}, "fail"),
            ("front", {"final_drive_on": "frame"}, "fail"),
            ("front", {"final_drive_on": "frame", "half_shafts.joints": "both"}, "pass"),
            # a driven front axle steers as a rule, through a joint at each wheel
            ("front", {"half_shafts.joints": "none"}, "review"),
            ("front", {"half_shafts": {"fitted": False}, "final_drive_on": "axle"}, "review"),
        ],
    )
    def test_what_turns_the_wheels(self, axle: str, edits: dict[str, Any], kind: str) -> None:
        placed = {f"driveline.axles.{axle}.{field}": value for field, value in edits.items()}
        found = [finding.kind for finding in trial(self.RULE, placed) if finding.part.endswith(f"axles.{axle}")]
        assert kind in found
        assert kind != "pass" or set(found) == {"pass"}

    def test_without_springs_the_wheels_do_not_move(self) -> None:
        edits = {"driveline.axles.front.final_drive_on": "frame", "vehicle.suspension.front": {"fitted": False}}
        assert of_part(self.RULE, "axles.front", edits).kind == "pass"
        dead = {"driveline.axles.front.driven": False, "driveline.shafts.front": {"fitted": False}}
        assert {f.part for f in trial(self.RULE, dead)} == {"driveline.axles.rear"}


class TestBurstSpeed:
    RULE = "driveline.burst-speed"

    @pytest.mark.parametrize(("most", "kind"), [("4400 r/min", "pass"), ("4390 r/min", "fail")])
    def test_driven_to_4400(self, most: str, kind: str) -> None:
        finding = of_part(self.RULE, "driveline.clutch", {"driveline.clutch.speed_max": most})
        assert (finding.kind, finding.subject) == (kind, "driveline.clutch.speed_max")
        assert of_part(self.RULE, "engine.flywheel", {"engine.flywheel.speed_max": most}).kind == kind

    def test_not_the_governor(self) -> None:
        # 3700 r/min is the governor's; the vehicle may drive the engine to 4400.
        finding = of_part(self.RULE, "driveline.clutch", {"driveline.clutch.speed_max": "4000 r/min"})
        assert (finding.kind, finding.level) == ("fail", "error")

    def test_open(self) -> None:
        finding = of_part(self.RULE, "driveline.clutch", {"driveline.clutch.speed_max": None})
        assert (finding.kind, finding.unknown) == ("open", ("driveline.clutch.speed_max",))
