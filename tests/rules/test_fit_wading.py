"""The wading rule on the sound spec, whose vehicle wades 300 mm. All heights are compared by hand."""

from __future__ import annotations

import pytest

from swaplint.kit.trial import one, trial

RULE, WADING, FAN = "fit.wading", "vehicle.wading", "plumbing.cooling.fan"


class TestBreathers:
    @pytest.mark.parametrize(
        ("height", "kind", "level"),
        [
            ("400 mm", "pass", None),  # 100 mm above the water
            ("399 mm", "fail", "warning"),
            ("300 mm", "fail", "warning"),  # just at the water
            ("299 mm", "fail", "error"),  # below it
        ],
    )
    def test_boundaries(self, height: str, kind: str, level: str | None) -> None:
        found = one(RULE, {f"{WADING}.gearbox_breather.height": height}, demand="gearbox")
        assert found.kind == kind
        if level:
            assert found.level == level
            assert found.advice[0].value == pytest.approx(0.400)

    def test_by_how_much(self) -> None:
        found = one(RULE, {f"{WADING}.axle_breathers.front.height": "220 mm"}, demand="axle.front")
        assert "80 mm below the water" in found.message

    def test_sealed(self) -> None:
        assert one(RULE, {f"{WADING}.gearbox_breather": {"fitted": False}}, demand="gearbox").kind == "notApplicable"

    def test_no_transfer_case_asks_for_none(self) -> None:
        edits = {"driveline.transfer": {"fitted": False}, f"{WADING}.transfer_breather": None}
        assert "transfer" not in {f.demand for f in trial(RULE, edits)}

    def test_an_axle_without_an_entry_is_asked_about(self) -> None:
        assert one(RULE, {f"{WADING}.axle_breathers.rear": None}, demand="axle.rear").kind == "review"
        assert one(RULE, {f"{WADING}.axle_breathers": None}, demand="axle.rear").kind == "open"


class TestElectrical:
    @pytest.mark.parametrize(
        ("codes", "kind"),
        [
            (["IP67"], "pass"),
            (["IP68"], "pass"),
            (["IP6K9K"], "fail"),  # jets and immersion are different tests
            (["IP66"], "fail"),
            ([], "fail"),
        ],
    )
    def test_codes_under_water(self, codes: list[str], kind: str) -> None:
        found = one(RULE, {f"{WADING}.electrical.starter.ip_codes": codes}, demand="electrical.starter")
        assert found.kind == kind

    def test_above_the_water_needs_no_code(self) -> None:
        edits = {f"{WADING}.electrical.starter": {"height": "300 mm"}}
        assert one(RULE, edits, demand="electrical.starter").kind == "pass"

    def test_nothing_stated_is_open_and_an_empty_table_says_there_is_none(self) -> None:
        assert one(RULE, {f"{WADING}.electrical": None}, demand="electrical").kind == "open"
        assert one(RULE, {f"{WADING}.electrical": {}}, demand="electrical").kind == "pass"


class TestFan:
    def test_the_fan_in_the_water(self) -> None:
        wet = {f"{FAN}.lowest_tip": "299 mm"}
        found = one(RULE, {**wet, f"{FAN}.stopped_in_water": False}, demand="fan")
        assert (found.kind, found.level) == ("fail", "warning")
        assert one(RULE, {**wet, f"{FAN}.stopped_in_water": True}, demand="fan").kind == "pass"
        assert one(RULE, {**wet, f"{FAN}.stopped_in_water": None}, demand="fan").kind == "open"
        assert one(RULE, {f"{FAN}.lowest_tip": "300 mm", f"{FAN}.stopped_in_water": None}, demand="fan").kind == "pass"


def test_no_depth_is_a_question_and_a_depth_of_nothing_an_answer() -> None:
    asked = one(RULE, {"build.design.wade_depth": None})
    assert (asked.kind, asked.due, asked.unknown[0]) == ("open", True, "build.design.wade_depth")
    assert one(RULE, {"build.design.wade_depth": "0 mm"}).kind == "notApplicable"


def test_nothing_known_is_open() -> None:
    assert {f.kind for f in trial(RULE, {WADING: None}) if f.demand != "fan"} == {"open"}
