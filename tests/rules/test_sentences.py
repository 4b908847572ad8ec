"""Sentences that once lost a unit, a side or their sense: each with what it says, worked out by hand."""

from __future__ import annotations

import pytest

from swaplint.kit.trial import of_part, one, trial


def test_the_descent_gear_says_its_limit_as_a_road_speed() -> None:
    # 4200 r/min at the limit, gear 4 of the low range: the sound spec's own ratios make 52.5 km/h, 14.58 m/s.
    said = one("gearing.engine-overspeed", demand="descent-gear").message
    assert said.endswith("it is at its limit at 52.5 km/h.")


def test_the_speedometer_says_true_speed_with_its_unit() -> None:
    # The sound spec shows 3 % too much; above 120 km/h the reading is looked at there: 120·1.03 = 123.6.
    said = one("gearing.speedometer", {"build.design.road_speed_max": "140 km/h"}, demand="never-low").message
    assert said.startswith("At 120 km/h it shows 124 km/h;")


@pytest.mark.parametrize("part", ["driveline.transfer", "driveline.axles.front"])
def test_both_torques_have_their_unit(part: str) -> None:
    said = of_part("driveline.axle-torque", part, demand="torque").message
    assert said.count(" N m") == 2, said


def test_a_bracket_says_the_yield_of_its_steel_in_megapascals() -> None:
    # S235 of EN 10025-2 up to 16 mm: 235 N/mm².
    said = of_part("mounts.bracket-strength", "front_left", demand="bending").message
    assert "its steel yields at 235 MPa" in said


def test_a_mount_that_is_pulled_apart_says_so_without_a_sign() -> None:
    said = of_part("mounts.torque-reaction", "front_left", demand="captive").message
    assert "it presses this mount with up to" in said
    assert "pulls it apart with up to" in said
    assert "-" not in said


def test_the_top_speed_of_the_finished_vehicle_has_a_unit() -> None:
    found = one("mass.as-it-was", demand="top-speed")
    assert (found.quantity, found.unit) == ("speed", "km/h")


def test_a_nose_that_does_not_reach_its_bush_says_by_how_much() -> None:
    # 14 mm stand in the bush of the sound spec; 46 mm more of adapter leave the nose 32 mm short of it.
    edits = {"driveline.adapter.thickness": "66 mm"}
    before = one("driveline.depth-stack", demand="nose-in-pilot").message
    said = one("driveline.depth-stack", edits, demand="nose-in-pilot").message
    assert before.startswith("14 mm of the input shaft's nose stands in the pilot bush.")
    assert said.startswith("The input shaft's nose ends 32 mm short of the pilot bush.")


def test_a_stall_outside_the_band_says_which_way() -> None:
    fast = {"driveline.converter.rated_stall_speed": "2200 r/min"}
    automatic = next(dict(edits) for edits in _bad("driveline.converter-match") if len(edits) > 1)
    assert (
        "a tighter one is needed"
        in one("driveline.converter-match", {**automatic, **fast}, demand="stall-speed").message
    )


def test_a_sensor_lamp_is_never_called_two_colours_at_once() -> None:
    said = [f.message for f in trial("controls.warning-lamps", {"electrics.lamps.malfunction.colour": "red"})]
    assert "The lamp for malfunction is red, and must be amber." in said


def _bad(rule_id: str) -> list[dict[str, object]]:
    from swaplint.kit.trial import rule_base

    return [dict(edits) for _, rule in rule_base().rules if rule.id == rule_id for edits in rule.bad]
