"""Parts that are marked as not fitted, stand there twice or contradict others; each worked out by hand."""

from __future__ import annotations

from typing import Any

import pytest

from swaplint.kit.trial import of_part, one, trial, value

BELT = "plumbing.belts.accessory"
AWAY = {"fitted": False}
SECOND_TANK: dict[str, Any] = {
    "joined": "valve",
    "reachable": "40 L",
    "capacity": "45 L",
    "own_vent": True,
    "return_follows": True,
}


# -- belts -----------------------------------------------------------------------------------------------------------
def test_a_pulley_that_is_not_fitted_leaves_the_rest_of_its_belt_judged() -> None:
    # Without the compressor the belt carries the 1.5 kW of the steering pump: 1.5 · 1.3/1.6 = 1.2, two ribs.
    without = {f"{BELT}.pulleys.compressor": AWAY, "plumbing.air_conditioning": AWAY}
    assert value("chassis.belt-power", without, part="accessory") == pytest.approx(1.5)
    assert of_part("chassis.belt-drive", "accessory", {**without, f"{BELT}.ribs": 2}, demand="ribs").kind == "pass"
    assert of_part("chassis.belt-drive", "accessory", {**without, f"{BELT}.ribs": 1}, demand="ribs").kind == "fail"
    # 1.5 kW at 3400 r/min are 4.21 N·m, 1.1 kW at 800 r/min 13.13
    assert value("chassis.nose-torque", without) == pytest.approx(13.13, abs=0.01)
    assert {f.kind for f in trial("chassis.crank-nose-load", without)} <= {"pass", "fail"}


@pytest.mark.parametrize(
    ("edits", "part", "speed"),
    [
        # 3700 r/min · 1.1
        ({BELT: AWAY}, "vehicle.steering.pump", 4070.0),
        ({f"{BELT}.pulleys.pump": AWAY}, "vehicle.steering.pump", 4070.0),
        # 3700 r/min · 1.3
        ({f"{BELT}.pulleys.compressor": AWAY}, "plumbing.air_conditioning.compressor", 4810.0),
    ],
)
def test_what_a_pulley_drives_that_is_not_fitted_is_judged_by_its_ratio(
    edits: dict[str, Any], part: str, speed: float
) -> None:
    edits = {**edits, f"{part}.driven_by": "gears"}
    slow, fast = ({**edits, f"{part}.speed_max": f"{speed + more} r/min"} for more in (-10.0, 10.0))
    assert "fail" in {f.kind for f in trial("chassis.accessory-speed", slow) if f.part.endswith(part)}
    assert {f.kind for f in trial("chassis.accessory-speed", fast) if f.part.endswith(part)} == {"pass"}


# -- brakes ----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(("rear", "force"), [(AWAY, "pass"), (None, "open")])
def test_an_axle_without_brakes_is_seen_though_the_others_stop_the_vehicle(rear: Any, force: str) -> None:
    edits = {"vehicle.brakes.wheels.rear": rear}
    assert one("chassis.unassisted-stop", edits, demand="pedal-force").kind == force
    found = one("chassis.unassisted-stop", edits, demand="both-ends")
    assert found.kind == "review"
    assert "Brakes are stated for front alone" in found.message
    assert all(f.demand != "both-ends" for f in trial("chassis.unassisted-stop"))


@pytest.mark.parametrize(("transfer", "kind"), [(True, "pass"), (False, "fail")])
def test_no_parking_brake_acts_on_a_transfer_case_that_is_not_there(transfer: bool, kind: str) -> None:
    parking = "vehicle.brakes.parking"
    edits: dict[str, Any] = {f"{parking}.acts_on": "transfer-output", f"{parking}.before": "transfer-output"}
    found = one("chassis.parking-brake", edits | ({} if transfer else {"driveline.transfer": AWAY}), demand="there")
    assert found.kind == kind


# -- masses ----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(("mass", "kind"), [("-20 kg", "review"), ("-21 kg", "pass")])
def test_one_thing_stands_in_the_ledger_once(mass: str, kind: str) -> None:
    again = {"mass": mass, "part": "exhaust", "x": "1400 mm", "y": "300 mm"}  # the old exhaust has 20 kg there
    assert one("mass.ledger-sense", {"vehicle.ledger.again": again}, demand="entered-once").kind == kind


@pytest.mark.parametrize(
    ("ledger", "kind"),
    # Fuel of 835 kg/m³: 85 L and 45 L are 108.6 kg, with 10 kg of tank 118.6; the ledger may have 5 % less: 112.9
    [("80 kg", "review"), ("112 kg", "review"), ("113 kg", "pass")],
)
def test_the_fuel_of_a_second_tank_is_counted(ledger: str, kind: str) -> None:
    edits = {"plumbing.fuel.second_tank": SECOND_TANK, "vehicle.ledger.tank.mass": ledger}
    assert one("mass.ledger-sense", edits, demand="second-tank").kind == kind


@pytest.mark.parametrize(("trailer", "kinds"), [("50 kg", []), ("49 kg", ["review"]), ("0 kg", [])])
def test_a_trailer_rests_no_more_on_the_towbar_than_it_weighs(trailer: str, kinds: list[str]) -> None:
    # A nose load of 50 kg without a trailer is a carrier on the towbar.
    found = trial("mass.load-cases", {"vehicle.load_cases.laden.trailer_mass": trailer})
    assert [f.kind for f in found if f.demand == "nose-load.laden"] == kinds


# -- fuel ------------------------------------------------------------------------------------------------------------
def test_no_lamp_comes_on_above_a_full_tank() -> None:
    lamp = "plumbing.fuel.tank.low_level_lamp"
    assert one("fuel.tilt-uncovering", {lamp: "86 L"}, demand="low-level-lamp").kind == "review"
    assert one("fuel.tilt-uncovering", {lamp: "84 L"}, demand="low-level-lamp").kind == "pass"


def test_two_tanks_and_the_heat_outside_are_told_in_words_of_the_trade() -> None:
    found = one("fuel.range-reserve", {"plumbing.fuel.second_tank": SECOND_TANK}, demand="range")
    assert "of 85 L and 40 L that the second tank gives" in found.message
    assert "at 40 °C outside the tank" in one("fuel.return-heating").message


# -- room ------------------------------------------------------------------------------------------------------------
def test_no_room_at_all_is_told_as_none() -> None:
    # 100 mm to the right take up all that is beside the gearbox: nothing is left, and nothing lacks.
    found = one("fit.gearbox-place", {"vehicle.engine_place.y": "-100 mm"}, demand="tunnel-side")
    assert (found.kind, found.level) == ("fail", "warning")
    assert found.message.startswith("0 mm are left beside the gearbox")


# -- tyres and shares ------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("designation", "kind"),
    # 215/65R15 is 25.4·15 + 2·215·0.65 = 660.5 mm and 806 mm are stated; 235/85R16 805.9; 265/75R16 803.9
    [("215/65R15", "review"), ("235/85R16", "pass"), ("265/75R16", "pass")],
)
def test_a_stated_diameter_agrees_with_the_sidewall(designation: str, kind: str) -> None:
    edits = {"driveline.tyres.designation": designation}
    assert one("gearing.top-speed", edits, demand="tyre-size").kind == kind


@pytest.mark.parametrize(("rear", "kind"), [("40 %", "pass"), ("39 %", "pass"), ("37 %", "review")])
def test_axles_driven_together_are_given_all_of_the_torque(rear: str, kind: str) -> None:
    # 60 % and 37 % leave 3 % that nobody takes.
    edits = {"driveline.axles.rear.torque_share": rear}
    assert of_part("driveline.axle-torque", "axles.rear", edits, demand="torque").kind == kind


# -- sheets and places that contradict themselves --------------------------------------------------------------------
@pytest.mark.parametrize(
    ("speed", "typed", "kind"),
    [
        ("governed_max", "3300 r/min", "review"),  # rated at 3400
        ("governed_max", "3400 r/min", "pass"),
        ("overspeed_max", "3600 r/min", "review"),  # governed at 3700
        ("idle", "3500 r/min", "review"),
        ("rated", "700 r/min", "review"),  # idles at 800
    ],
)
def test_an_engines_speeds_rise_from_idle_to_the_limit(speed: str, typed: str, kind: str) -> None:
    assert one("gearing.engine-overspeed", {f"engine.speed.{speed}": typed}, demand="in-order").kind == kind


@pytest.mark.parametrize(
    ("field", "flow", "kind"),
    # 90 L/h are drawn, 24 burnt and 60 sent back
    [
        ("return_flow", "91 L/h", "review"),
        ("return_flow", "90 L/h", "pass"),
        ("supply_flow", "59 L/h", "review"),
        ("burn", "91 L/h", "review"),
    ],
)
def test_what_an_engine_burns_and_sends_back_it_has_drawn(field: str, flow: str, kind: str) -> None:
    assert one("fuel.suction-loss", {f"engine.fuel.{field}": flow}).kind == kind


@pytest.mark.parametrize(("x", "kind"), [("2900 mm", "pass"), ("2870 mm", "pass"), ("2500 mm", "review")])
def test_the_only_rear_axle_stands_at_the_wheelbase(x: str, kind: str) -> None:
    edits = {"driveline.axles.rear.x": x}
    assert of_part("mass.axle-rating", "laden rear", edits).kind == kind


def test_one_flange_drives_one_shaft() -> None:
    twice = {"driveline.shafts.front.driven_by": "transfer-rear"}
    found = of_part("driveline.housing-match", "shafts.rear.input_flange", twice, demand="alone")
    assert found.kind == "review"
    assert "The shafts rear and front are said to be driven by transfer-rear" in found.message
    assert all(f.demand != "alone" for f in trial("driveline.housing-match"))
