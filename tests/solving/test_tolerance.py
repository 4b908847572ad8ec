"""Tolerances carried through to the verdict."""

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swaplint.spec.facts import Stated

from .worlds import asked, gearing_only, only, whole

RADIUS = 3.05 * 0.806 / (2 * math.pi)
RPM = 60 / (2 * math.pi)


def test_a_pass_that_holds_everywhere_stays_a_pass() -> None:
    found = only(
        whole({"driveline.tyres.overall_diameter": {"value": "806 mm", "tol": "1 %"}}),
        "gearing.cruise-rpm",
        "cruise-band",
    )
    assert found.kind == "pass"
    assert found.deciding == ()


def test_a_pass_that_straddles_asks_for_a_person_and_names_the_turning_value() -> None:
    # cruise: n = v·i/(2π·r) = 2099 r/min at 806 mm; with a band up to 2120 r/min the verdict turns where
    # D = 806·2099.05/2120 = 798.0 mm, inside ±3 % (782 to 830 mm)
    edits = {
        "driveline.tyres.overall_diameter": {"value": "806 mm", "tol": "3 %"},
        "engine.speed.cruise_high": "2120 r/min",
    }
    found = only(whole(edits), "gearing.cruise-rpm", "cruise-band")
    turning = 80 / 3.6 * 3.87 * 2 * math.pi / (3.05 * 2120 / RPM) * 1000
    assert found.kind == "review"
    assert found.level is None
    assert found.deciding == ("driveline.tyres.overall_diameter",)
    stated = re.search(r"down to driveline.tyres.overall_diameter = ([\d.]+) mm", found.message)
    assert stated
    assert float(stated.group(1)) == pytest.approx(turning, abs=0.06)


def test_a_fail_says_whether_any_corner_passes() -> None:
    edits = {
        "driveline.tyres.overall_diameter": {"value": "806 mm", "tol": "3 %"},
        "engine.speed.cruise_high": "2080 r/min",
    }
    found = only(whole(edits), "gearing.cruise-rpm", "cruise-band")
    assert found.kind == "fail"
    assert found.deciding == ("driveline.tyres.overall_diameter",)
    assert "can pass" in found.message
    firm = only(whole(edits | {"engine.speed.cruise_high": "1800 r/min"}), "gearing.cruise-rpm", "cruise-band")
    assert (firm.kind, firm.deciding) == ("fail", ())


def test_the_most_influential_input_comes_first() -> None:
    edits = {
        "vehicle.aero.drag_coefficient": {"value": 0.45, "tol": "20 %"},
        "driveline.tyres.overall_diameter": {"value": "806 mm", "tol": "3 %"},
        "driveline.drivetrain.efficiency": {"value": "90 %", "tol": "1 pp"},
        "engine.speed.overspeed_max": "3705 r/min",
    }
    found = only(whole(edits), "gearing.engine-overspeed", "top-gear")
    # The limit is 1.05 times the top speed. Drag moves the top speed by a little (the governor line is steep), the
    # tyre moves both sides alike.
    assert found.kind == "review"
    assert found.deciding[0] == "vehicle.aero.drag_coefficient"


def test_the_same_field_moves_together_wherever_it_is_read() -> None:
    # The speedometer compares the tyre now with the tyre then: both uncertain by 3 % they can disagree, but the tyre
    # now alone enters rolling radius and diameter as one.
    edits = {
        "driveline.tyres.overall_diameter": {"value": "806 mm", "tol": "2 %"},
        "driveline.speedometer.calibrated_reading": 1.05,
    }
    for demand in ("never-low", "not-too-high"):
        assert only(whole(edits), "gearing.speedometer", demand).kind == "pass"
    both = edits | {"driveline.speedometer.calibrated_tyre_diameter": {"value": "806 mm", "tol": "4 %"}}
    found = only(whole(both), "gearing.speedometer", "never-low")
    assert found.kind == "review"
    assert set(found.deciding) <= {
        "driveline.tyres.overall_diameter",
        "driveline.speedometer.calibrated_tyre_diameter",
    }


def test_an_assumed_value_asks_for_a_person_from_the_build_stage_on() -> None:
    edits = {"driveline.tyres.overall_diameter": {"value": "806 mm", "basis": "assumed"}}
    for stage, kind in (("plan", "pass"), ("quote", "pass"), ("build", "review"), ("commission", "review")):
        found = only(whole(edits, stage), "gearing.cruise-rpm", "cruise-band")  # type: ignore[arg-type]
        assert found.kind == kind
    assert "only assumed" in found.message
    measured = {"driveline.tyres.overall_diameter": {"value": "806 mm", "basis": "measured"}}
    assert only(whole(measured, "build"), "gearing.cruise-rpm", "cruise-band").kind == "pass"


def test_deciding_fields_are_asked_for_next() -> None:
    edits = {
        "driveline.tyres.overall_diameter": {"value": "806 mm", "tol": "3 %"},
        "engine.speed.cruise_high": "2120 r/min",
    }
    asks = {ask.field: ask for ask in whole(edits).ask_next}
    assert "gearing.cruise-rpm" in asks["driveline.tyres.overall_diameter"].rules
    assert asks["driveline.tyres.overall_diameter"].where


FIELDS = {
    "driveline.tyres.overall_diameter": 0.806,
    "vehicle.mass.gvwr": 2800.0,
    "vehicle.aero.drag_coefficient": 0.45,
    "engine.speed.governed_max": 3700 / RPM,
    "driveline.drivetrain.traction_coefficient": 0.7,
}


@pytest.mark.thorough
@settings(max_examples=25, deadline=None)
@given(
    tolerances=st.fixed_dictionaries({path: st.floats(0.002, 0.12) for path in FIELDS}),
    points=st.lists(st.lists(st.floats(-1, 1), min_size=5, max_size=5), min_size=4, max_size=4),
)
def test_no_point_inside_the_tolerance_contradicts_a_plain_pass(
    tolerances: dict[str, float], points: list[list[float]]
) -> None:
    written = {
        "driveline.tyres.overall_diameter": "806 mm",
        "vehicle.mass.gvwr": "2800 kg",
        "vehicle.aero.drag_coefficient": 0.45,
        "engine.speed.governed_max": "3700 r/min",
        "driveline.drivetrain.traction_coefficient": 0.7,
    }
    edits = {path: {"value": written[path], "tol": f"{100 * share:.4f} %"} for path, share in tolerances.items()} | {
        "engine.speed.cruise_high": "2300 r/min",
        "build.design.grade_max": "60 %",
    }
    plain = {f.key for f in whole(edits).findings if f.kind == "pass"}
    what_if, _ = asked(edits)
    rules = {rule.id: rule for _, rule in gearing_only().rules}
    for point in points:
        changes = {
            path: Stated(FIELDS[path] * (1 + where * tolerances[path] * 0.9999))
            for where, path in zip(point, FIELDS, strict=True)
        }
        view = what_if.view.changed(changes)
        for id in {rule for rule, _, _ in plain}:
            found = {f.key: f for f in what_if.findings_on(rules[id], view)}
            for key in (key for key in plain if key[0] == id):
                assert found[key].kind in ("pass", "review"), (key, point, found[key].message)
