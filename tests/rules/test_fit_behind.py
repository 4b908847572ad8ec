"""Where gearbox and lever end up, and the propshafts that follow, worked out by hand from the sound spec.

The engine stands at x = 350 mm, 720 mm high, 3° front up; behind it 110 mm of housing, 20 mm of adapter, 560 mm of
gearbox, and the transfer case with its outputs 320 mm behind and 80 mm ahead of its face.
"""

from __future__ import annotations

import math
from typing import Any, ClassVar

import pytest

from swaplint.kit.trial import of_part, one, trial, value

PLACE, SHAFT = "fit.gearbox-place", "fit.shaft-length"
AT, SHAFTS = "vehicle.driveline_place", "driveline.shafts"
COS, SIN = math.cos(math.radians(3.0)), math.sin(math.radians(3.0))
REAR_OUTPUT = 350.0 + (110.0 + 20.0 + 560.0 + 320.0) * COS
FRONT_OUTPUT = 350.0 + (110.0 + 20.0 + 560.0 - 80.0) * COS


class TestPlaces:
    def test_lever_and_mount(self) -> None:
        assert value("fit.lever-place") == pytest.approx(350.0 + 610.0 * COS, abs=0.01)  # 959.2 mm
        assert value("fit.gearbox-mount-place") == pytest.approx(350.0 + 670.0 * COS, abs=0.01)  # 1019.1 mm
        # without an adapter all of it moves 20 mm forward
        bare = {"driveline.adapter": {"fitted": False}}
        assert value("fit.lever-place", bare) == pytest.approx(350.0 + 590.0 * COS, abs=0.01)

    @pytest.mark.parametrize(
        ("front", "rear", "kind"),
        [("959 mm", "1050 mm", "pass"), ("960 mm", "1050 mm", "fail"), ("900 mm", "959 mm", "fail")],
    )
    def test_lever_in_its_opening(self, front: str, rear: str, kind: str) -> None:
        found = one(PLACE, {f"{AT}.lever_opening_front": front, f"{AT}.lever_opening_rear": rear}, demand="lever")
        assert found.kind == kind
        if kind == "fail":
            assert found.level == "warning"

    def test_says_by_how_much(self) -> None:
        # 100 mm more gearbox up to the lever: 1059.0 mm, 9 mm behind the rear edge of 1050 mm
        found = one(PLACE, {f"{AT}.lever": "580 mm"}, demand="lever")
        assert "too far back" in found.message
        assert found.found == pytest.approx((350.0 + 710.0 * COS) / 1000.0)
        assert found.margin == pytest.approx(1.05 - (0.35 + 0.71 * COS))  # metres: a place has no size of its own

    @pytest.mark.parametrize(("roof", "kind", "level"), [(928.3, "pass", ""), (928.1, "fail", "warning")])
    def test_tunnel_roof(self, roof: float, kind: str, level: str) -> None:
        # top of the bell housing: 720 − 130·sin 3° + 190 = 903.2 mm; with 25 mm 928.2 mm
        assert pytest.approx(903.196, abs=0.001) == 720.0 - 130.0 * SIN + 190.0
        found = one(PLACE, {f"{AT}.tunnel_roof": f"{roof} mm"}, demand="tunnel-roof")
        assert found.kind == kind
        if level:
            assert found.level == level

    def test_strikes_the_tunnel(self) -> None:
        assert one(PLACE, {f"{AT}.tunnel_roof": "900 mm"}, demand="tunnel-roof").level == "error"
        # 110 mm to the right: 290 − 110 − 190 = −10 mm
        found = one(PLACE, {"vehicle.engine_place.y": "-110 mm"}, demand="tunnel-side")
        assert (found.level, found.found) == ("error", pytest.approx(-0.010))

    def test_transfer_case_under_the_floor_and_its_lever(self) -> None:
        # lever 750 mm behind the block: 350 + 750·cos 3° = 1099.0 mm; top of the case 720 − 690·sin 3° + 140 = 823.9 mm
        assert value("fit.transfer-lever-place") == pytest.approx(350.0 + 750.0 * COS, abs=0.01)
        assert value("fit.transfer-floor-gap") == pytest.approx(900.0 - (720.0 - 690.0 * SIN + 140.0), abs=0.01)
        for floor, kind in (("849 mm", "pass"), ("848 mm", "fail")):  # with 25 mm 848.9 mm
            found = one(PLACE, {f"{AT}.floor_over_transfer": floor}, demand="transfer-floor")
            assert found.kind == kind
        assert one(PLACE, {f"{AT}.floor_over_transfer": "820 mm"}, demand="transfer-floor").level == "error"
        assert one(PLACE, {f"{AT}.transfer_opening_rear": "1098 mm"}, demand="transfer-lever").kind == "fail"
        assert one(PLACE, {f"{AT}.transfer_above": None}, demand="transfer-floor").kind == "open"

    def test_transfer_case_between_the_walls_of_the_tunnel(self) -> None:
        # left 260 − 0 − 150 = 110 mm, right 330 + 0 − 270 = 60 mm; 40 mm to the left of the centre line 70 and 100 mm
        assert value("fit.transfer-left-gap") == pytest.approx(110.0)
        assert value("fit.transfer-right-gap") == pytest.approx(60.0)
        moved = {"vehicle.engine_place.y": "40 mm"}
        assert value("fit.transfer-left-gap", moved) == pytest.approx(70.0)
        assert value("fit.transfer-right-gap", moved) == pytest.approx(100.0)

    @pytest.mark.parametrize(
        ("side", "y", "kind", "level"),
        [
            # on the left 110 − y, on the right 60 + y are left; 25 mm are wanted
            ("left", "84.9 mm", "pass", ""),
            ("left", "85.1 mm", "fail", "warning"),
            ("left", "110.1 mm", "fail", "error"),
            ("right", "-34.9 mm", "pass", ""),
            ("right", "-35.1 mm", "fail", "warning"),
            ("right", "-60.1 mm", "fail", "error"),
        ],
    )
    def test_boundary_at_the_walls(self, side: str, y: str, kind: str, level: str) -> None:
        found = one(PLACE, {"vehicle.engine_place.y": y}, demand=f"transfer-{side}")
        assert (found.kind, found.level if level else "") == (kind, level)

    @pytest.mark.parametrize("side", ["left", "right"])
    def test_one_side_unknown_leaves_only_itself_open(self, side: str) -> None:
        other = "right" if side == "left" else "left"
        for field in (f"{AT}.transfer_{side}", f"{AT}.wall_{side}_of_transfer"):
            found = one(PLACE, {field: None}, demand=f"transfer-{side}")
            assert (found.kind, found.unknown) == ("open", (field,))
            assert one(PLACE, {field: None}, demand=f"transfer-{other}").kind == "pass"

    def test_a_transfer_case_of_its_own_place_is_not_asked_for(self) -> None:
        findings = trial(PLACE, {"driveline.transfer": {"fitted": False}})
        assert not any(finding.demand.startswith("transfer") for finding in findings)

    def test_open_and_across(self) -> None:
        found = one(PLACE, {f"{AT}.housing_length": None}, demand="lever")
        assert (found.kind, found.unknown) == ("open", (f"{AT}.housing_length",))
        assert one(PLACE, {"vehicle.engine_place.front_faces": "left"}, demand="mount").kind == "review"


class TestEngineBehindTheAxle:
    """Its front to the rear, 3150 mm behind the front axle: housing and adapter, 130 mm, and gearbox stand ahead."""

    TURNED: ClassVar[dict[str, Any]] = {"vehicle.engine_place.front_faces": "rear", "vehicle.engine_place.x": "3150 mm"}

    def test_the_gearbox_stands_ahead(self) -> None:
        assert value("fit.lever-place", self.TURNED) == pytest.approx(3150.0 - (130.0 + 480.0) * COS, abs=0.01)
        assert value("fit.gearbox-mount-place", self.TURNED) == pytest.approx(3150.0 - (130.0 + 540.0) * COS, abs=0.01)

    def test_levers_elsewhere_have_no_opening_there(self) -> None:
        assert one(PLACE, self.TURNED, demand="lever").kind == "fail"
        demands = {finding.demand for finding in trial(PLACE, {**self.TURNED, f"{AT}.levers": "remote"})}
        assert not demands & {"lever", "transfer-lever"}
        assert {"mount", "tunnel-roof", "transfer-floor"} <= demands


class TestShafts:
    def test_rear_from_the_transfer_case(self) -> None:
        needed = math.hypot(2453.0 - REAR_OUTPUT, 115.0)
        found = of_part(SHAFT, f"{SHAFTS}.rear")
        assert value("fit.shaft-distance", part=f"{SHAFTS}.rear") == pytest.approx(needed, abs=0.01)
        assert "30 mm shorter" in found.message  # 1130 mm before, 1100 mm to order
        assert found.kind == "pass"

    def test_front_to_the_side(self) -> None:
        needed = math.hypot(308.0 - FRONT_OUTPUT, 60.0, 250.0)
        assert value("fit.shaft-distance", part=f"{SHAFTS}.front") == pytest.approx(needed, abs=0.01)

    def test_a_longer_gearbox_shortens_the_rear_and_lengthens_the_front(self) -> None:
        edits = {f"{AT}.gearbox_length": "640 mm"}
        moved = 80.0 * COS
        rear = math.hypot(2453.0 - REAR_OUTPUT - moved, 115.0)
        found = of_part(SHAFT, f"{SHAFTS}.rear", edits)
        assert (found.kind, found.level) == ("fail", "warning")
        assert found.advice[0].value == pytest.approx(round(rear) / 1000.0)
        front = math.hypot(308.0 - FRONT_OUTPUT - moved, 60.0, 250.0)
        assert of_part(SHAFT, f"{SHAFTS}.front", edits).advice[0].value == pytest.approx(round(front) / 1000.0)

    @pytest.mark.parametrize(("off", "kind"), [(4.9, "pass"), (5.1, "fail")])
    def test_boundary(self, off: float, kind: str) -> None:
        needed = math.hypot(2453.0 - REAR_OUTPUT, 115.0)
        assert of_part(SHAFT, f"{SHAFTS}.rear", {f"{SHAFTS}.rear.length": f"{needed + off} mm"}).kind == kind

    def test_a_transfer_case_by_itself_is_measured(self) -> None:
        remote = {"driveline.transfer.mounting": "remote"}
        found = of_part(SHAFT, f"{SHAFTS}.rear", remote)
        assert (found.kind, found.unknown) == ("open", (f"{SHAFTS}.rear.driving_x",))
        measured = {**remote, f"{SHAFTS}.rear.driving_x": "1359 mm"}
        assert value("fit.shaft-distance", measured, part=f"{SHAFTS}.rear") == pytest.approx(
            math.hypot(2453.0 - 1359.0, 115.0), abs=0.01
        )

    def test_unknown_end_is_open(self) -> None:
        assert of_part(SHAFT, f"{SHAFTS}.rear", {f"{SHAFTS}.rear.driven_x": None}).kind == "open"


REAR = f"{SHAFTS}.rear"
# the same rear shaft: its driven flange 47 mm behind the joint's centre, 2500 mm behind the front axle
DRIVEN = {f"{REAR}.driven_x": None, f"{REAR}.driven_flange_x": "2500 mm", f"{REAR}.driven_yoke_depth": "47 mm"}


class TestFlanges:
    """Flange yokes: what an order to the flanges' faces would be too long by."""

    def test_both_yokes_come_off(self) -> None:
        # flange of the transfer case 320 − 55 mm behind its face, with a yoke of 55 mm along the vehicle
        edits = {
            **DRIVEN,
            f"{AT}.transfer_rear": None,
            f"{AT}.transfer_rear_flange": "265 mm",
            f"{REAR}.driving_yoke_depth": "55 mm",
        }
        flange = 350.0 + (110.0 + 20.0 + 560.0 + 265.0) * COS
        needed = math.hypot(2500.0 - flange - 55.0 - 47.0, 115.0)
        assert value("fit.shaft-distance", edits, part=REAR) == pytest.approx(needed, abs=0.01)
        assert of_part(SHAFT, REAR, edits).kind == "pass"
        # taken for joints' centres the same places ask for 102 mm more
        taken = {f"{AT}.transfer_rear": "265 mm", f"{REAR}.driven_x": "2500 mm"}
        found = of_part(SHAFT, REAR, taken)
        assert found.kind == "fail"
        assert found.advice[0].value == pytest.approx(round(math.hypot(2500.0 - flange, 115.0)) / 1000.0)

    def test_a_shaft_that_runs_forwards(self) -> None:
        # the axle's flange stands ahead of the joint: 308 − 45 = 263 mm; the front output's flange behind it: −80 + 50
        front = f"{SHAFTS}.front"
        edits = {
            f"{front}.driven_x": None,
            f"{front}.driven_flange_x": "263 mm",
            f"{front}.driven_yoke_depth": "45 mm",
            f"{AT}.transfer_front": None,
            f"{AT}.transfer_front_flange": "-30 mm",
            f"{front}.driving_yoke_depth": "50 mm",
        }
        flange = 350.0 + (110.0 + 20.0 + 560.0 - 30.0) * COS
        needed = math.hypot(flange - 263.0 - 50.0 - 45.0, 60.0, 250.0)
        assert value("fit.shaft-distance", edits, part=front) == pytest.approx(needed, abs=0.01)

    @pytest.mark.parametrize(("depth", "kind"), [(42.3, "fail"), (42.5, "pass"), (52.4, "pass"), (52.5, "fail")])
    def test_boundary(self, depth: float, kind: str) -> None:
        # 1100 mm are stated, so 1095 to 1105 mm may be needed: √(1105² − 115²) = 1099.0 and √(1095² − 115²) = 1088.9
        # along the vehicle; the output's joint stands at 1358.6: 2500 − 1358.6 − 1099.0 = 42.4, … − 1088.9 = 52.4 mm
        edits = {**DRIVEN, f"{REAR}.driven_yoke_depth": f"{depth} mm"}
        assert of_part(SHAFT, REAR, edits).kind == kind

    def test_behind_the_gearbox_and_behind_another_shaft(self) -> None:
        # two pieces from the gearbox's flange: each meets the face between them with its own yoke
        first = {
            "driveline.transfer": {"fitted": False},
            f"{REAR}.driven_by": "gearbox",
            f"{AT}.gearbox_length": None,
            f"{AT}.gearbox_flange": "580 mm",
            f"{REAR}.driving_yoke_depth": "60 mm",
        }
        flange = 350.0 + (110.0 + 20.0 + 580.0) * COS
        needed = math.hypot(2453.0 - flange - 60.0, 115.0)
        assert value("fit.shaft-distance", first, part=REAR) == pytest.approx(needed, abs=0.01)
        second = {
            f"{SHAFTS}.front.driven_by": "rear",
            **DRIVEN,
            f"{SHAFTS}.front.driven_x": "3200 mm",
            f"{SHAFTS}.front.driving_yoke_depth": "52 mm",
        }
        needed = math.hypot(3200.0 - 2500.0 - 52.0, 60.0, 250.0)
        assert value("fit.shaft-distance", second, part=f"{SHAFTS}.front") == pytest.approx(needed, abs=0.01)

    def test_a_flange_measured_on_the_vehicle(self) -> None:
        edits = {
            "driveline.transfer.mounting": "remote",
            f"{REAR}.driving_flange_x": "1309 mm",
            f"{REAR}.driving_yoke_depth": "50 mm",
        }
        needed = math.hypot(2453.0 - 1309.0 - 50.0, 115.0)
        assert value("fit.shaft-distance", edits, part=REAR) == pytest.approx(needed, abs=0.01)

    def test_a_yoke_of_unknown_depth_is_asked_for(self) -> None:
        found = of_part(SHAFT, REAR, {**DRIVEN, f"{REAR}.driven_yoke_depth": None})
        assert (found.kind, found.unknown) == ("open", (f"{REAR}.driven_yoke_depth",))

    def test_stated_both_ways_is_for_a_person(self) -> None:
        # which of the two holds nobody knows: taking the joint's centre would hide a mistake of a yoke's depth
        found = of_part(SHAFT, REAR, {f"{REAR}.driven_flange_x": "2453 mm"})
        assert found.kind == "review"
        assert "leave out one" in found.message

    def test_yokes_longer_than_the_way(self) -> None:
        near = {**DRIVEN, f"{REAR}.driven_flange_x": "1400 mm"}
        assert of_part(SHAFT, REAR, near).kind == "review"


def test_room_in_the_tunnel_is_not_said_to_be_lacking() -> None:
    said = one("fit.gearbox-place", demand="tunnel-side").message
    # the tunnel's half width less what the gearbox takes of it
    assert said == "100 mm are left beside the gearbox; 25 mm are wanted."


@pytest.mark.parametrize(("before", "told"), [("1100.47 mm", False), ("1100.53 mm", True)])
def test_half_a_millimetre_is_no_other_length(before: str, told: bool) -> None:
    # 1100 mm from joint to joint
    said = of_part("fit.shaft-length", "rear", {"driveline.shafts.rear.length_before": before}).message
    assert ("shorter now" in said) == told


def test_the_length_to_order_is_advised_in_whole_millimetres() -> None:
    # the rear shaft's joints are 1100.4 mm apart
    found = of_part(SHAFT, "rear", {"driveline.shafts.rear.length": "700 mm"})
    assert [(advice.field, advice.value) for advice in found.advice] == [
        ("driveline.shafts.rear.length", pytest.approx(1.100, abs=1e-9))
    ]


def test_the_transfer_case_of_an_engine_that_faces_the_rear_is_turned_round() -> None:
    # the case reaches 150 mm to its own left and 270 mm to its right: turned round 270 mm to the vehicle's left
    turned = {"vehicle.engine_place.front_faces": "rear"}
    left, right = "fit.transfer-left-gap", "fit.transfer-right-gap"
    assert value(left) - value(left, turned) == pytest.approx(120.0)
    assert value(right, turned) - value(right) == pytest.approx(120.0)
    across = {"vehicle.engine_place.front_faces": "left"}
    assert one("fit.gearbox-place", across, demand="transfer-left").kind == "review"
