"""Masses at their edges, exactly on them, and with two axles in front. Each number with its working."""

from __future__ import annotations

from typing import Any

import pytest
from swaplint_rules.mass.words import up

from swaplint.kit.trial import of_part, one

LEDGER, SENSE = "vehicle.ledger", "mass.ledger-sense"
ITEM: dict[str, Any] = {"mass": "12 kg", "part": "other", "x": "0 mm", "y": "0 mm"}
# Nothing is changed, nobody sits in it: on each axle stands what stood there, to the last digit.
KERB: dict[str, Any] = {LEDGER: {"nothing": ITEM | {"mass": "0 kg"}}, "vehicle.load_cases.driver_only.items": {}}


# -- exactly on the edge ----------------------------------------------------------------------------------------------
def test_as_much_as_the_tyres_carry() -> None:
    # index 114 is 1180 kg, two of them 2360 kg at full pressure; 2361 kg are 1180.5 each, and index 115 carries 1215
    full = KERB | {"driveline.tyres.pressure_front": "550 kPa"}
    just = of_part("mass.tyre-load", "driver_only front", full | {"vehicle.mass.kerb_front": "2360 kg"})
    assert (just.kind, just.advice) == ("pass", ())
    over = of_part("mass.tyre-load", "driver_only front", full | {"vehicle.mass.kerb_front": "2361 kg"})
    assert (over.kind, [(a.field, a.value) for a in over.advice]) == (
        "fail",
        [("driveline.tyres.load_index_single", 115.0)],
    )


def test_the_index_that_carries_the_load_at_less_than_full_pressure() -> None:
    # 1401.24 kg on two tyres at (400/550)^0.8 = 0.77505: 903.97 kg each. Index 104 carries 900 kg, 105 carries 925.
    found = of_part("mass.tyre-load", "laden rear", {"driveline.tyres.load_index_single": 97})
    assert [(a.field, a.value) for a in found.advice] == [("driveline.tyres.load_index_single", 105.0)]


@pytest.mark.parametrize(("front", "kind"), [("1300 kg", "pass"), ("1301 kg", "fail")])
def test_as_much_as_the_axle_is_rated_for(front: str, kind: str) -> None:
    found = of_part("mass.axle-rating", "driver_only front", KERB | {"vehicle.mass.kerb_front": front})
    assert (found.kind, "must go" in found.message) == (kind, kind == "fail")


@pytest.mark.parametrize(("y", "kind"), [("-75 mm", "pass"), ("-76 mm", "fail")])
def test_as_uneven_as_it_may_be(y: str, kind: str) -> None:
    # 1000 kg at 75 mm from the middle, over a track of 1500 mm: 2·1000·75/1500 = 100 of 2000 kg are 5 %
    uneven = KERB | {
        "vehicle.mass.kerb_left_share": "50 %",
        "vehicle.mass.kerb_front": "1000 kg",
        LEDGER: {"heavy": ITEM | {"mass": "1000 kg", "y": y}},
    }
    found = of_part("mass.side-balance", "driver_only front", uneven)
    assert (found.kind, "To level it" in found.message) == (kind, kind == "fail")
    assert "the right side carries 10" in found.message


@pytest.mark.parametrize(("front", "kind"), [("990 kg", "pass"), ("989 kg", "fail")])
def test_as_near_to_the_gross_rating_as_a_case_must_come(front: str, kind: str) -> None:
    # 990 + 960 kg and 10 kg of load are 98 % of 2000 kg
    carried = {"items": {"box": {"mass": "10 kg", "x": "0 mm", "y": "0 mm"}}, "nose_load": "0 kg"}
    edits = KERB | {
        "vehicle.mass.kerb_front": front,
        "vehicle.mass.kerb_rear": "960 kg",
        "vehicle.mass.gvwr": "2000 kg",
        "vehicle.mass.below_gross_because": None,
        "vehicle.load_cases": {"only": carried | {"trailer_mass": "0 kg"}},
    }
    del edits["vehicle.load_cases.driver_only.items"]
    found = one("mass.load-cases", edits, demand="gross-rating-reached")
    assert (found.kind, "never put on an axle" in found.message) == (kind, kind == "fail")


def test_no_bump_travel_left_is_not_yet_beyond_it() -> None:
    # 100 kg on two springs of 40 N/mm: 980.665 N/80 N/mm are 12.2583125 mm
    edits = KERB | {
        "vehicle.load_cases.driver_only.items": {"box": {"mass": "100 kg", "x": "0 mm", "y": "0 mm"}},
        "vehicle.suspension.front.rate": "40 N/mm",
        "vehicle.suspension.front.bump_clearance": "12.2583125 mm",
    }
    found = of_part("mass.ride-height", "front", edits, demand="travel.driver_only")
    assert (found.kind, found.found) == ("pass", 0.0)
    assert "the front has 0 mm of bump travel left" in found.message
    edits["vehicle.suspension.front.bump_clearance"] = "12.2 mm"
    found = of_part("mass.ride-height", "front", edits, demand="travel.driver_only")
    assert found.kind == "fail"
    assert "the front rests on its bump stops, 0.0583 mm beyond the travel" in found.message


def test_bump_travel_is_held_against_what_it_must_be() -> None:
    found = of_part("mass.ride-height", "front", demand="travel.laden")
    # two thirds of the 72.5 mm that there were are 48.3 mm; 65.3 mm are left
    assert found.margin == pytest.approx(65.3 / (72.5 / 1.5) - 1.0, abs=0.002)


def test_plated_at_the_least_that_the_calibration_was_made_for() -> None:
    found = one("mass.calibration-window", {"engine.calibration.vehicle_mass_min": "2800 kg"}, demand="vehicle")
    assert (found.kind, "takes a calibration" in found.message) == ("pass", False)


def test_the_lightest_trailer_needs_a_towbar() -> None:
    light = {"vehicle.load_cases.driver_only.trailer_mass": "0.5 kg", "vehicle.towbar": {"fitted": False}}
    found = one("mass.load-cases", light, demand="towbar.driver_only")
    assert (found.kind, found.level) == ("fail", "error")
    assert "In the load case driver_only a trailer adds 0.5 kg, and there is no towbar." in found.message


# -- the ledger's sense -----------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("mass", "kind"), [("15.75 kg", "pass"), ("15.76 kg", "fail"), ("14.25 kg", "pass"), ("14.24 kg", "fail")]
)
def test_a_mass_in_two_places_agrees_within_a_twentieth(mass: str, kind: str) -> None:
    twice = {f"{LEDGER}.mounts.mass_of": ["gearbox"], f"{LEDGER}.mounts.mass": mass, "driveline.gearbox.mass": "15 kg"}
    found = one(SENSE, twice, demand="one-mass")
    assert found.kind == kind
    assert found.limit is not None
    assert found.limit.value == pytest.approx((14.25, 15.75))


def test_a_mass_that_is_only_named_is_not_stated_twice() -> None:
    named = {f"{LEDGER}.mounts.mass_of": ["gearbox"], f"{LEDGER}.mounts.mass": None, "driveline.gearbox.mass": None}
    assert one(SENSE, named, demand="one-mass").kind == "pass"


def test_lines_that_weigh_a_twentieth_more_than_their_item() -> None:
    # the ledger has 18 kg for the radiator: 18.9 kg at most
    assert one(SENSE, {"supply[2].mass": "18.9 kg"}, demand="lines-agree").kind == "pass"
    found = one(SENSE, {"supply[2].mass": "18.91 kg"}, demand="lines-agree")
    assert found.kind == "fail"
    assert found.limit is not None
    assert found.limit.value == pytest.approx(18.9)


@pytest.mark.parametrize(("part", "demand"), [("engine", "engine"), ("tank", "tank"), ("battery", "batteries")])
def test_what_stays_is_not_new(part: str, demand: str) -> None:
    found = one(SENSE, {f"{LEDGER}.{part}.mass": "0 kg"}, demand=demand)
    assert (found.kind, found.found) == ("pass", None)


def test_the_same_item_twice() -> None:
    def entered(item: dict[str, Any], other: dict[str, Any]) -> str:
        return one(SENSE, {f"{LEDGER}.one": item, f"{LEDGER}.two": other}, demand="entered-once").kind

    assert entered(ITEM, ITEM) == "review"  # at 0 mm, too
    stays = ITEM | {"mass": "0 kg", "x": "150 mm"}
    assert entered(stays, stays) == "pass"  # what stays weighs nothing here
    for differs in ({"mass": "12.1 kg"}, {"x": "1 mm"}, {"y": "1 mm"}, {"part": "exhaust"}):
        assert entered(ITEM, ITEM | differs) == "pass", differs


# -- two axles in front -----------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("part", "left"),
    [
        # At 0 and 1000 mm, evenly: the front carries at 500 mm, 2400 mm ahead of the rear, and of an item at x the
        # share 1 - (x - 500)/2400. Across the ledger has 6 kg of exhaust net (26 at 1300, -20 at 1400 mm) at 300 mm,
        # 15 kg of tank at 2300 mm and -350 mm, 8 kg of battery at -300 mm and -500 mm:
        # in front 300·(26·2/3 - 20·5/8) - 350·15/4 - 500·8·4/3 = 1450 - 1312.5 - 5333.3 = -5195.8 kg·mm,
        # behind 1800 - 5250 - 4000 + 5195.8 = -2254.2 kg·mm. The kerb has 0.8 % of 1020 and of 760 kg more on the left.
        # Laden 1020 + 79.833 + 180·0.6875 + 560/6 - 50·3500/2400 + 50 = 1294 kg stand in front, 1354 kg behind.
        ("laden front", (8.16 - 2 * 5195.833 / 1500) / 1294.0),
        ("laden rear", (6.08 - 2 * 2254.167 / 1500) / 1354.0),
        # The driver, 90 kg at 1250 mm and 350 mm: 0.6875 of him in front, 1020 + 79.833 + 61.875 = 1161.708 kg there.
        ("driver_only front", (8.16 + 2 * (0.6875 * 90 * 350 - 5195.833) / 1500) / 1161.708),
    ],
)
def test_sides_of_a_group_in_front(part: str, left: float) -> None:
    edits = {
        "driveline.axles.front.x": "0 mm",
        "driveline.axles.front.group_share": "50 %",
        "driveline.axles.second": {"x": "1000 mm", "group_share": "50 %", "driven": False, "rating": "1200 kg"},
    }
    assert of_part("mass.side-balance", part, edits).found == pytest.approx(left, rel=1e-5)


# -- numbers that are enough as they are printed ----------------------------------------------------------------------
@pytest.mark.parametrize(
    ("value", "enough"),
    [
        (0.0, 0.0),
        (-3.21, -3.21),
        (123.0, 123.0),
        (123.01, 124.0),
        (1.234, 1.24),
        (0.01001, 0.0101),
        (999.1, 1000.0),
        (1001.0, 1010.0),
        (100 + 0.98e-9, 100.0),  # a billionth of the last digit is what binary fractions leave
        (100 + 1.02e-9, 101.0),
    ],
)
def test_rounded_up_to_three_digits(value: float, enough: float) -> None:
    assert up(value) == pytest.approx(enough, rel=1e-12)
