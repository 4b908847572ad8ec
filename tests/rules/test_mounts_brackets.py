"""Made brackets and cross-members on the sound spec. The expected numbers are worked out beside each test."""

import math
from typing import Any

import pytest
from advising import advised

from swaplint.kit.trial import of_part, trial, value

FRONT = "vehicle.mounts.front_left"
BRACKET = f"{FRONT}.bracket"
MEMBER = "vehicle.cross_members.rear"
# Forces worked out in the tests of mounts.bracket-shock: in front 5·1251 + 4162 N, behind 5·553.5 + 1217 N.
FRONT_FORCE, REAR_FORCE = 10417.0, 3985.0


class TestBracketStrength:
    RULE = "mounts.bracket-strength"

    def test_numbers(self) -> None:
        # One plate of 80 by 6 mm: W = 6·80²/6 = 6400 mm³; 10 417 N · 60 mm = 625 N·m: 97.7 MPa, 235/97.7 = 2.41.
        assert value("mounts.bracket-force", part="front_left") == pytest.approx(FRONT_FORCE, rel=1e-3)
        assert value("mounts.bracket-stress", part="front_left") == pytest.approx(FRONT_FORCE * 60 / 6400, rel=1e-3)
        # Two runs of 4 mm throat and 72 mm: W = 2·4·72²/6 = 6912 mm³, 90.4 MPa; A = 576 mm², 18.1 MPa: 92.2 MPa.
        weld = math.hypot(FRONT_FORCE * 60 / 6912, FRONT_FORCE / 576)
        assert value("mounts.bracket-weld-stress", part="front_left") == pytest.approx(weld, rel=1e-3)

    @pytest.mark.parametrize(
        ("wall", "kind", "level"),
        # σ = 625 020·6/(t·80²) = 586/t MPa: 117.5 MPa, safety 2, at 4.987 mm; 235 MPa at 2.493 mm.
        [
            ("5.0 mm", "pass", None),
            ("4.97 mm", "fail", "warning"),
            ("2.5 mm", "fail", "warning"),
            ("2.48 mm", "fail", "error"),
        ],
    )
    def test_boundaries_of_bending(self, wall: str, kind: str, level: str | None) -> None:
        finding = of_part(self.RULE, "front_left", {f"{BRACKET}.wall": wall}, demand="bending")
        assert (finding.kind, finding.level) == (kind, level)

    def test_advises_a_depth_that_passes(self) -> None:
        # Half the wall has a safety of 1.20: 80·√(2/1.203) = 103.2 mm of depth.
        finding = of_part(self.RULE, "front_left", {f"{BRACKET}.wall": "3 mm"}, demand="bending")
        assert advised(finding) == {f"{BRACKET}.depth": pytest.approx(0.1032, rel=2e-3)}

    @pytest.mark.parametrize(
        ("throat", "kind", "level"),
        # f_u/(√3·β_w·γ_M2) = 360/(√3·0.8·1.25) = 207.8 MPa. 3.5 mm: 73 mm, W = 6217 mm³, 100.5 and 20.4 MPa: 102.6 MPa,
        # 2.03; 3.4 mm: 105.4 MPa, 1.97; 1.5 mm: 215.6 MPa, 0.96.
        [("3.5 mm", "pass", None), ("3.4 mm", "fail", "warning"), ("1.5 mm", "fail", "error")],
    )
    def test_boundaries_of_the_weld(self, throat: str, kind: str, level: str | None) -> None:
        finding = of_part(self.RULE, "front_left", {f"{BRACKET}.weld_throat": throat}, demand="weld")
        assert (finding.kind, finding.level, finding.subject) == (kind, level, f"{BRACKET}.weld_throat")

    def test_by_steel_class(self) -> None:
        # Arm of 85 mm: 138.4 MPa; S235 1.70, S275 1.99, S355 2.57.
        for steel, kind in (("S235", "fail"), ("S275", "fail"), ("S355", "pass")):
            edits = {f"{BRACKET}.arm": "85 mm", f"{BRACKET}.steel": steel}
            assert of_part(self.RULE, "front_left", edits, demand="bending").kind == kind

    def test_a_steel_by_its_certificate(self) -> None:
        edits: dict[str, Any] = {f"{BRACKET}.steel": "other", f"{BRACKET}.yield_strength": "420 MPa"}
        assert of_part(self.RULE, "front_left", edits, demand="bending").kind == "pass"
        assert of_part(self.RULE, "front_left", edits, demand="weld").kind == "review"
        del edits[f"{BRACKET}.yield_strength"]
        assert of_part(self.RULE, "front_left", edits, demand="bending").unknown == (f"{BRACKET}.yield_strength",)

    def test_less_grip_less_force(self) -> None:
        # At half the grip the tyres slip at half the torque: 5·1251 + 2081 = 8336 N.
        edits = {"driveline.drivetrain.highest_grip": 0.45}
        expected = (5 * 1251 + 4162 / 2) * 60 / 6400
        assert value("mounts.bracket-stress", edits, part="front_left") == pytest.approx(expected, rel=1e-3)

    def test_who_is_not_judged(self) -> None:
        assert {f.part for f in trial(self.RULE)} == {FRONT, "vehicle.mounts.front_right"}
        unsaid = of_part(self.RULE, "front_left", {BRACKET: None})
        assert (unsaid.kind, unsaid.due) == ("open", True)
        bent = {f"{BRACKET}.welded": False}
        assert "weld" not in {f.demand for f in trial(self.RULE, bent) if f.part == FRONT}


class TestCrossMember:
    RULE = "mounts.cross-member"

    def test_stress(self) -> None:
        # Two mounts 150 mm to each side on 700 mm: 3985 N · 200 mm = 797 N·m; box 60 by 40 by 4 mm: 11 502 mm³.
        assert value("mounts.cross-member-stress", part="rear") == pytest.approx(REAR_FORCE * 200 / 11501.5, rel=1e-3)
        # Its middle 100 mm to the left of the crank: mounts at 400 and 100 mm, support (600 + 300)/700·F;
        # at 400 mm 1.2857·400 - 300 = 214.3 mm times F.
        shifted = {f"{MEMBER}.middle": "100 mm"}
        expected = REAR_FORCE * (900 / 700 * 400 - 300) / 11501.5
        assert value("mounts.cross-member-stress", shifted, part="rear") == pytest.approx(expected, rel=1e-3)

    @pytest.mark.parametrize(
        ("span", "kind", "level"),
        # 117.5 MPa · 11 502 mm³ = 1351 N·m = 3985 N · 339.1 mm: a span of 978 mm.
        [("975 mm", "pass", None), ("982 mm", "fail", "warning")],
    )
    def test_boundary(self, span: str, kind: str, level: str | None) -> None:
        finding = of_part(self.RULE, "rear", {f"{MEMBER}.span": span})
        assert (finding.kind, finding.level) == (kind, level)

    def test_one_that_is_not_described(self) -> None:
        (finding,) = trial(self.RULE, {"vehicle.cross_members": {}})
        assert finding.kind == "review"
        assert "'rear', which is not described" in finding.message

    def test_none_made(self) -> None:
        edits: dict[str, Any] = {"vehicle.cross_members": {}, "vehicle.mounts.*.sits_on": "frame"}
        (finding,) = trial(self.RULE, edits)
        assert finding.kind == "notApplicable"

    def test_open(self) -> None:
        finding = of_part(self.RULE, "rear", {f"{MEMBER}.steel": None})
        assert (finding.kind, finding.unknown) == ("open", (f"{MEMBER}.steel",))


def test_each_plate_brings_two_runs_of_weld() -> None:
    # two plates, four runs of 4 mm throat and 72 mm: W = 4·4·72²/6 = 13 824 mm³, A = 1152 mm²: half of one plate's
    weld = math.hypot(FRONT_FORCE * 60 / 13824, FRONT_FORCE / 1152)
    two = {f"{BRACKET}.plates": 2}
    assert value("mounts.bracket-weld-stress", two, part="front_left") == pytest.approx(weld, rel=1e-3)
