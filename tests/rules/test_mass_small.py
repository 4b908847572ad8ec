"""Small functions of the mass pack, asked directly: what they give where no rule's verdict tells it apart."""

from __future__ import annotations

import math
from typing import Any

import pytest
from swaplint_rules.mass import engine_place, ledger, quantities  # type: ignore[import-not-found]

from swaplint.build.view import View
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import one, rule_base, trial, value


def build(edits: dict[str, Any]) -> Any:
    return View(sound_spec(rule_base(), edits).build).build


@pytest.mark.parametrize(
    ("edits", "both"),
    [
        ({}, True),
        ({"vehicle.engine_place.x": None}, False),
        ({"engine.centre_of_gravity.x": None}, False),
        ({"vehicle.ledger.engine": None}, False),
        ({"vehicle.ledger": None}, False),
    ],
)
def test_where_the_engine_stands_is_compared_where_ledger_and_drawing_say_it(edits: dict[str, Any], both: bool) -> None:
    assert engine_place.drawn_and_listed(build(edits)) is both


def test_a_new_engine_in_two_items_stands_at_their_middle() -> None:
    # 235 kg at 60 mm and 65 kg at 360 mm: (14 100 + 23 400)/300 = 125 mm; what comes out is no part of it
    made = build({"vehicle.ledger.heads": {"mass": "65 kg", "part": "engine", "x": "360 mm", "y": "0 mm"}})
    new = engine_place.new_engine(made)
    assert len(new) == 2
    assert engine_place._in_the_ledger(made, new) == pytest.approx(0.125)


@pytest.mark.parametrize(
    ("pitch", "faces", "place"),
    [
        # 400 mm behind the block are 400·cos 30° = 346.4 mm along a level vehicle; what lies to a side stays as it is
        ("30 deg", "front", 0.5 + 0.4 * math.sqrt(0.75)),
        ("30 deg", "rear", 0.5 - 0.4 * math.sqrt(0.75)),
        ("30 deg", "left", 0.5 + 0.1),
        ("30 deg", "right", 0.5 - 0.1),
        ("0 deg", "front", 0.9),
        (None, "front", 0.9),
    ],
)
def test_where_a_pitched_engine_has_its_centre_of_gravity(pitch: str | None, faces: str, place: float) -> None:
    edits = {
        "vehicle.engine_place.x": "500 mm",
        "vehicle.engine_place.pitch": pitch,
        "vehicle.engine_place.front_faces": faces,
        "engine.centre_of_gravity": {"x": "400 mm", "y": "100 mm", "z": "200 mm"},
    }
    assert engine_place._drawn(build(edits)) == pytest.approx(place)


def test_the_driven_share_is_that_of_the_load_case_which_is_heaviest_on_all_wheels() -> None:
    # 1500 kg on the front axle; laden has less on all wheels and more on the rear ones
    light, heavy = "vehicle.load_cases.laden", "vehicle.load_cases.driver_only.items"
    edits: dict[str, Any] = {
        "driveline.axles.front": {"driven": False},
        "driveline.shafts.front": {"fitted": False},
        heavy: {"steel": {"mass": "1500 kg", "x": "0 mm", "y": "0 mm"}},
    }
    share = value("mass.driven-share", edits)
    assert share == pytest.approx(value("mass.driven-share", {**edits, light: None}))
    del edits[heavy]
    assert share < 0.9 * value("mass.driven-share", edits)


@pytest.mark.parametrize(
    ("x", "says"), [("0 mm", "0 mm behind"), ("-40 mm", "40 mm ahead of"), ("40 mm", "40 mm behind")]
)
def test_on_which_side_of_the_front_axle_the_ledger_has_the_engine(x: str, says: str) -> None:
    found = one("mass.ledger-sense", {"vehicle.ledger.engine.x": x}, demand="engine-place")
    assert found.message.startswith(f"The mass ledger has the new engine {says} the front axle")


@pytest.mark.parametrize(("together", "judged"), [("2800 kg", {"vehicle"}), ("2801 kg", {"vehicle", "combination"})])
def test_a_calibration_is_held_against_a_trailer_where_one_may_be_towed(together: str, judged: set[str]) -> None:
    # 2800 kg by itself
    findings = trial("mass.calibration-window", {"vehicle.mass.gcwr": together})
    assert {found.demand for found in findings} == judged


@pytest.mark.parametrize(("together", "asked"), [("2800 kg", False), ("2801 kg", True)])
def test_a_towbar_is_asked_for_its_trailer_where_the_plate_leaves_room_for_one(together: str, asked: bool) -> None:
    demands = {found.demand for found in trial("mass.load-cases", {"vehicle.mass.gcwr": together})}
    assert ("trailer-pulled" in demands) is asked


def test_a_battery_that_is_not_fitted_weighs_nothing() -> None:
    made = build({"electrics.batteries.second": {"fitted": False}})
    assert ledger._batteries(made)[0] == pytest.approx(23.0)


def test_twin_tyres_carry_by_their_lower_load_index() -> None:
    # ISO 4000-1 (from memory): load index 114 is 1180 kg, 112 is 1120 kg; 4·1120/(2·1180) = 1.8983
    single = build({"driveline.tyres.load_index_dual": 112})
    twins = build({"driveline.tyres.load_index_dual": 112, "driveline.tyres.count_rear": 4})
    more = quantities.most_at_half(twins, "rear") / quantities.most_at_half(single, "rear")
    assert more == pytest.approx(1.8983, rel=1e-4)
