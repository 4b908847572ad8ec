"""Front tyres that are unlike those behind, with both ends driven: what is computed, and by whose limit.

By hand: 830/806 = 1.0298 rolls 2.98 % farther, 808/806 0.25 %; 2200 over 2100 mm 4.76 %. With a ratio of 4.3·830/806 =
4.428 in front both roll alike again.
"""

from __future__ import annotations

from typing import Any

import pytest
from told import Row, by_trial, says

from swaplint.kit.trial import of_part, one, value

FRONT = "driveline.front_tyres"
BASE = "'construction': 'radial', 'speed_symbol': 'Q', 'load_index_single': 114, 'reference_pressure': '550 kPa'"
TALL = f"{FRONT} = {{'overall_diameter': '%s', {BASE}}}"
MEASURED = f"{FRONT} = {{'rolling_circumference': '%s', {BASE}}}; driveline.tyres.rolling_circumference = 2100 mm"
SHEET = "driveline.transfer.axle_difference_max = %s"
PART_TIME = "driveline.axles.front.driven = False; driveline.axles.front.engaged = when-selected"
RULE = "gearing.axles-alike"

ROWS: list[Row] = [
    (RULE, "", "notApplicable", "All tyres are of one size"),
    (RULE, TALL % "808 mm", "pass", "0.25 % farther"),
    (RULE, TALL % "830 mm", "fail warning", "3 % farther than the rear. On hard ground the driveline winds up"),
    (RULE, TALL % "790 mm", "fail warning", "2 % less far than the rear"),
    # a part-time axle, which is engaged on loose ground: within 3 %
    (RULE, f"{TALL % '830 mm'}; {PART_TIME}", "pass", "with both driven"),
    (RULE, f"{TALL % '832 mm'}; {PART_TIME}", "fail warning", "engage it on loose ground only"),
    # the sheet's own limit: an error only where both circumferences were measured
    (RULE, f"{MEASURED % '2200 mm'}; {SHEET % '2 %'}", "fail error", "4.8 % farther"),
    (RULE, f"{MEASURED % '2200 mm'}; {SHEET % '5 %'}", "pass", "4.8 % farther"),
    (RULE, f"{TALL % '830 mm'}; {SHEET % '2 %'}", "fail warning", "3 % farther"),
    (RULE, f"{TALL % '830 mm'}; {SHEET % 'none'}", "fail warning", "3 % farther"),
    # final drives in the ratio of the tyres roll alike, and the ratios are no contradiction then
    (RULE, f"{TALL % '830 mm'}; driveline.axles.front.ratio = 4.428", "pass", "than the rear"),
    (
        RULE,
        f"{TALL % '830 mm'}; driveline.axles.front.driven = False; driveline.axles.front.engaged = None; "
        "driveline.shafts.front = {'fitted': False}",
        "notApplicable",
        "one end only",
    ),
    (RULE, f"{FRONT} = {{'speed_symbol': 'Q'}}", "open", FRONT),
    (RULE, f"{FRONT} = {{'overall_diameter': '830 mm', 'construction': 'diagonal'}}", "review", "must be measured"),
    (RULE, f"{TALL % '830 mm'}; driveline.axles.front.driven_through = hydraulic", "review", "ratio is not fixed"),
    (
        "driveline.axle-torque same-ratio @axles.rear",
        f"{TALL % '830 mm'}; driveline.axles.front.ratio = 4.428",
        "notApplicable",
        "see gearing.axles-alike",
    ),
]


@pytest.mark.parametrize(("rule", "edits", "rows"), by_trial(ROWS))
def test_what_is_said(rule: str, edits: str, rows: tuple[Row, ...]) -> None:
    says(rule.split(".")[0], edits, [(row[0].partition(".")[2], row[1], row[2], row[3]) for row in rows])


def test_speed_goes_by_the_axle_that_is_driven_on_the_road() -> None:
    front: dict[str, Any] = {"overall_diameter": "830 mm", "construction": "radial", "speed_symbol": "Q"}
    part_time = {"driveline.axles.front.driven": False, "driveline.axles.front.engaged": "when-selected"}
    behind = value("gearing.rolling-radius")
    assert value("gearing.rolling-radius", {FRONT: front, **part_time}) == pytest.approx(behind)
    turned = {"driveline.axles.rear.driven": False, "driveline.axles.rear.engaged": "when-selected"}
    assert value("gearing.rolling-radius", {FRONT: front, **turned}) == pytest.approx(behind * 830.0 / 806.0)
    # the front tyres slip at their own radius
    slip = [
        value("driveline.axle-grip-torque", edits, part="front") for edits in (part_time, {FRONT: front, **part_time})
    ]
    assert slip[1] / slip[0] == pytest.approx(830.0 / 806.0)


def test_too_far_apart_is_no_vehicle_to_reckon_with() -> None:
    # 700/806 = 0.868: 13 % less far
    front: dict[str, Any] = {"overall_diameter": "700 mm", "construction": "radial", "speed_symbol": "Q"}
    assert one(RULE, {FRONT: front}).kind == "fail"
    assert one("gearing.startability", {FRONT: front}, demand="solo").kind == "review"


def test_nothing_else_goes_to_a_person_any_more() -> None:
    front: dict[str, Any] = {"overall_diameter": "808 mm", "construction": "radial", "speed_symbol": "Q"}
    assert one("gearing.startability", {FRONT: front}, demand="solo").kind == "pass"
    assert of_part("driveline.shaft-strength", "front", {FRONT: front}, demand="tube").kind == "pass"


@pytest.mark.parametrize(("front", "kind"), [("2204 mm", "pass"), ("2206 mm", "review")])
def test_five_percent_apart_is_the_most_that_has_one_road_speed(front: str, kind: str) -> None:
    # 2204/2100 = 1.0495, 2206/2100 = 1.0505
    edits = {
        FRONT: {"rolling_circumference": front, "construction": "radial", "speed_symbol": "Q"},
        "driveline.tyres.rolling_circumference": "2100 mm",
    }
    assert one("gearing.startability", edits, demand="solo").kind == kind
