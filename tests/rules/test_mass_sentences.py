"""What the rules of masses say in each of their branches, each sentence read for what it says of that build.

The numbers in them, by hand. The ledger puts 66.07 kg on the front and 11.93 kg on the rear axle (an item at x counts
1 - x/2900 mm in front); laden 1086.07 + 102.41 + 77.24 - 18.97 kg stand in front, with the driver alone 1086.07 + 51.2.
46.76 kg off the front are 50 kg moved by 46.76/50 of the wheelbase. Springs of 45 N/mm a side give 66.07·g/90 mm.
Across: 2·(50.4 % - 50 %)·1020 kg, the driver 2·90·0.35·0.569/1.5 kg, the ledger -5.73 kg. Power 94.35 kW over 1858 kg,
85 over 1780. Tyres of index 114 carry 1180 kg each, of 97 730 kg, times (p/550 kPa)^0.8. A pound is 0.45359 kg. Where
"…" stands the range is worked out in its own test.
"""

from __future__ import annotations

import re
from typing import Any

import pytest

from swaplint.kit.trial import trial

MASS, LEDGER, CASES = "vehicle.mass", "vehicle.ledger", "vehicle.load_cases"
LADEN, TYRES, DRIVER = "vehicle.load_cases.laden", "driveline.tyres", "vehicle.load_cases.driver_only"


@pytest.mark.parametrize(
    ("rule", "part", "edits", "demand", "kind", "says"),
    [
        ("as-it-was", "", {}, "brake-energy", "informational",
         "A stop from top speed at the gross rating takes 8.1 % less energy than before."),
        ("as-it-was", "", {}, "front-axle", "informational",
         "Empty the front axle carries 1086 kg; before it was 1020 kg: 6.5 % more."),
        ("as-it-was", "", {}, "power-to-mass", "informational",
         "Power to mass is 50.8 kW/t; it was 47.8 kW/t: 6.3 % more."),
        ("as-it-was", "", {}, "rear-axle", "informational",
         "Empty the rear axle carries 772 kg; before it was 760 kg: 1.6 % more."),
        ("as-it-was", "", {}, "top-speed", "informational",
         "It can reach 134 km/h on the level; before it was 140 km/h: 4.1 % less."),
        ("as-it-was", "", {}, "range", "informational",
         "A tank lasts … km; before it was … km: … % more."),
        ("as-it-was", "",
         {"vehicle.original.power": "70 kW", "vehicle.original.range": "750 km",
          "vehicle.original.top_speed": "120 km/h", f"{LEDGER}.engine.mass": "300 kg"},
         "front-axle", "review",
         "Empty the front axle carries 1150 kg; before it was 1020 kg: 13 % more. Have it looked at by whoever will "
         "examine the vehicle."),
        ("as-it-was", "",
         {"vehicle.original.power": "70 kW", "vehicle.original.range": "750 km",
          "vehicle.original.top_speed": "120 km/h", f"{LEDGER}.engine.mass": "300 kg"},
         "power-to-mass", "review",
         "Power to mass is 49.1 kW/t; it was 39.3 kW/t: 25 % more. Have it looked at by whoever will examine the "
         "vehicle."),
        ("as-it-was", "",
         {"vehicle.original.power": "70 kW", "vehicle.original.range": "750 km",
          "vehicle.original.top_speed": "120 km/h", f"{LEDGER}.engine.mass": "300 kg"},
         "top-speed", "review",
         "It can reach 134 km/h on the level; before it was 120 km/h: 12 % more. Have it looked at by whoever will "
         "examine the vehicle."),
        ("as-it-was", "",
         {"driveline.speed_limiter": {"fitted": True, "speed": "90 km/h"}},
         "brake-energy", "informational",
         "A stop from top speed at the gross rating takes 59 % less energy than before."),
        ("as-it-was", "",
         {"driveline.speed_limiter": {"fitted": True, "speed": "90 km/h"}},
         "top-speed", "informational",
         "It can reach 90 km/h on the level; before it was 140 km/h: 36 % less."),
        ("axle-rating", "laden front", {}, "", "pass",
         "The front axle carries 1247 kg, rated for 1300 kg; empty it carries 1086 kg after the swap, 66.1 kg more "
         "than before."),
        ("axle-rating", "laden front", {f"{MASS}.gawr_front": "1200 kg"}, "", "fail",
         "The front axle carries 1247 kg, rated for 1200 kg; empty it carries 1086 kg after the swap, 66.1 kg more "
         "than before. 46.8 kg must go: 50 kg moved 2720 mm back would do it, or more mass less far."),
        ("axle-rating", "laden rear", {f"{MASS}.gawr_rear": "1350 kg", f"{LEDGER}.tank.mass": "60 kg"}, "", "fail",
         "The rear axle carries 1385 kg, rated for 1350 kg; empty it carries 756.1 kg after the swap, 3.93 kg less "
         "than before. 35.4 kg must go: 50 kg moved 2060 mm forward would do it, or more mass less far."),
        ("calibration-window", "", {}, "combination", "pass",
         "With trailer it is plated at 3600 kg; the calibration was made for 4500 kg at most."),
        ("calibration-window", "", {}, "vehicle", "pass",
         "The calibration was made for vehicles of 1500 kg to 3500 kg laden; this one is plated at 2800 kg."),
        ("calibration-window", "", {"engine.calibration.vehicle_mass_min": "2801 kg"}, "vehicle", "fail",
         "The calibration was made for vehicles of 2801 kg to 3500 kg laden; this one is plated at 2800 kg. It takes "
         "a calibration for lighter vehicles: a higher plate is no remedy."),
        ("calibration-window", "",
         {"engine.calibration.vehicle_mass_max": "2799 kg", "engine.calibration.combination_mass_max": "3599 kg"},
         "vehicle", "fail",
         "The calibration was made for vehicles of 1500 kg to 2799 kg laden; this one is plated at 2800 kg. It takes "
         "a calibration for heavier vehicles."),
        ("calibration-window", "",
         {"engine.calibration.vehicle_mass_max": "2799 kg", "engine.calibration.combination_mass_max": "3599 kg"},
         "combination", "fail",
         "With trailer it is plated at 3600 kg; the calibration was made for 3599 kg at most. It takes a calibration "
         "for heavier combinations."),
        ("calibration-window", "",
         {"engine.calibration.vehicle_mass_max": "2800 kg", "engine.calibration.combination_mass_max": "3600 kg"},
         "combination", "pass",
         "With trailer it is plated at 3600 kg; the calibration was made for 3600 kg at most."),
        ("calibration-window", "",
         {"engine.calibration.vehicle_mass_max": "2800 kg", "engine.calibration.combination_mass_max": "3600 kg"},
         "vehicle", "pass",
         "The calibration was made for vehicles of 1500 kg to 2800 kg laden; this one is plated at 2800 kg."),
        ("gross-rating", "laden", {}, "vehicle", "pass",
         "2648 kg laden, rated for 2800 kg: room for another 152 kg. Empty it weighs 1858 kg, which leaves 942 kg "
         "for people and load."),
        ("gross-rating", "laden", {}, "combination", "pass",
         "With trailer 3398 kg, rated for 3600 kg."),
        ("gross-rating", "laden",
         {f"{LADEN}.items.cargo.mass": "740 kg", f"{LADEN}.trailer_mass": "1100 kg"},
         "combination", "fail",
         "With trailer 3878 kg, rated for 3600 kg: 278 kg too much, tow less."),
        ("gross-rating", "laden",
         {f"{LADEN}.items.cargo.mass": "740 kg", f"{LADEN}.trailer_mass": "1100 kg"},
         "vehicle", "fail",
         "2828 kg laden, rated for 2800 kg: 28 kg too much. Empty it weighs 1858 kg, which leaves 942 kg for people "
         "and load."),
        ("gross-rating", "laden",
         {f"{LADEN}.items.cargo.mass": "712 kg", f"{LADEN}.trailer_mass": "850 kg"},
         "combination", "pass",
         "With trailer 3600 kg, rated for 3600 kg."),
        ("gross-rating", "laden",
         {f"{LADEN}.items.cargo.mass": "712 kg", f"{LADEN}.trailer_mass": "850 kg"},
         "vehicle", "pass",
         "2800 kg laden, rated for 2800 kg: room for another 0 kg. Empty it weighs 1858 kg, which leaves 942 kg for "
         "people and load."),
        ("ledger-sense", "", {}, "entered-once", "pass",
         "No item of the ledger stands there twice."),
        ("ledger-sense", "", {}, "kerb-mass", "pass",
         "The kerb mass is weighed."),
        ("ledger-sense", "", {}, "lines-agree", "pass",
         "No item of the ledger weighs less than the supplied lines that it counts."),
        ("ledger-sense", "", {}, "lines-counted", "pass",
         "Every supplied line over 10 kg that states its mass is counted by the ledger."),
        ("ledger-sense", "", {}, "one-mass", "pass",
         "No mass of the ledger is stated twice."),
        ("ledger-sense", "", {}, "out-when-weighed", "pass",
         "The vehicle was weighed with all its old parts in it."),
        ("ledger-sense", "", {}, "parts", "pass",
         "The ledger says what becomes of engine, radiator, exhaust, tank, battery."),
        ("ledger-sense", "", {}, "tank", "pass",
         "The ledger has 80 kg for the new tank; 85 L of fuel, and what the scope of supply states of the tank, "
         "weigh 80.97 kg."),
        ("ledger-sense", "", {}, "engine", "pass",
         "The ledger has 235 kg for the new engine; its data sheet says 235 kg ready to run. What goes with it, such "
         "as clutch and adapter, is an item of its own."),
        ("ledger-sense", "", {}, "batteries", "pass",
         "The ledger has 26 kg for the new battery; the batteries that the electrics list weigh 23 kg."),
        ("ledger-sense", "",
         {f"{LEDGER}.old_engine": None, f"{LEDGER}.radiator": None, f"{LEDGER}.battery": None,
          f"{LEDGER}.old_battery": None},
         "parts", "fail",
         "In the mass ledger a new engine goes in and nothing says what becomes of the old one; the radiator comes "
         "out and none goes in; nothing says what becomes of the battery."),
        # a new exhaust of half a kilogram is a new exhaust, and half a kilogram taken out is one taken out
        ("ledger-sense", "", {f"{LEDGER}.exhaust.mass": "0.5 kg", f"{LEDGER}.old_exhaust": None}, "parts", "fail",
         "In the mass ledger a new exhaust goes in and nothing says what becomes of the old one."),
        ("ledger-sense", "", {f"{LEDGER}.old_exhaust.mass": "-0.5 kg", f"{LEDGER}.exhaust": None}, "parts", "fail",
         "In the mass ledger the exhaust comes out and none goes in."),
        ("ledger-sense", "", {f"{LEDGER}.exhaust.mass": "0 kg"}, "parts", "fail",
         "In the mass ledger the exhaust is said to stay and to be changed as well."),
        ("ledger-sense", "", {"supply[2].ledger": None}, "lines-counted", "fail",
         "radiator and charge air cooler of 14 kg is supplied and no item of the mass ledger counts it: add one, or "
         "name the one that does with `ledger`."),
        ("ledger-sense", "", {"supply[2].ledger": "nothing"}, "lines-counted", "fail",
         "radiator and charge air cooler is said to be counted by nothing, which the ledger lacks."),
        ("ledger-sense", "", {"supply[2].mass": "19 kg"}, "lines-agree", "fail",
         "The lines of the scope of supply that radiator counts weigh 19 kg together; the ledger has 18 kg for it."),
        ("ledger-sense", "", {f"{LEDGER}.engine.mass": "247 kg"}, "engine", "fail",
         "The ledger has 247 kg for the new engine; its data sheet says 235 kg ready to run. What goes with it, such "
         "as clutch and adapter, is an item of its own."),
        ("ledger-sense", "", {f"{LEDGER}.engine": None}, "engine", "pass",
         "The engine is dealt with by the ledger."),
        ("ledger-sense", "", {f"{LEDGER}.tank.mass": "77 kg"}, "tank", "fail",
         "The ledger has 77 kg for the new tank; 85 L of fuel, and what the scope of supply states of the tank, "
         "weigh 80.97 kg."),
        ("ledger-sense", "", {f"{LEDGER}.battery.mass": "21.9 kg", "supply[5].mass": "15 kg"}, "batteries", "fail",
         "The ledger has 21.9 kg for the new battery; the batteries that the electrics list weigh 23 kg."),
        ("ledger-sense", "", {f"{LEDGER}.battery": None}, "batteries", "pass",
         "The ledger has no new battery that could be counted too light."),
        ("ledger-sense", "", {f"{MASS}.kerb_rear": "760 kg"}, "kerb-mass", "review",
         "The kerb mass on the rear axle, 760 kg, does not say how it is known: every mass rule rests on it. Weigh "
         "it, axle by axle, tank full and nobody in it, and state basis = \"measured\"."),
        ("ledger-sense", "", {f"{MASS}.kerb_front": {"value": "1020 kg", "basis": "assumed"}}, "kerb-mass", "review",
         "The kerb mass on the front axle, 1020 kg, is assumed: every mass rule rests on it. Weigh it, axle by axle, "
         "tank full and nobody in it, and state basis = \"measured\"."),
        ("ledger-sense", "",
         {f"{LEDGER}.more": {"mass": "12 kg", "part": "other", "x": "150 mm", "y": "0 mm"}},
         "entered-once", "review",
         "mounts and more of the mass ledger have the same mass at the same place: where one thing stands there "
         "twice, take one out."),
        ("ledger-sense", "", {f"{LEDGER}.old_engine.out_when_weighed": True}, "out-when-weighed", "pass",
         "Weighed without old_engine, which the sums count as part of it before."),
        ("ledger-sense", "", {f"{LEDGER}.engine.out_when_weighed": True}, "out-when-weighed", "fail",
         "engine does not come out with the swap, so it was not out when the vehicle was weighed. Say so of old "
         "parts only, with a negative mass."),
        ("load-cases", "", {}, "gross-rating-reached", "pass",
         "No load case needs to reach the gross rating: the cargo bed is full with what it holds."),
        ("load-cases", "", {}, "towbar.laden", "pass",
         "In the load case laden a trailer adds 800 kg; the towbar is there."),
        ("load-cases", "", {f"{MASS}.below_gross_because": None}, "gross-rating-reached", "fail",
         "The heaviest load case, laden, comes to 2648 kg of 2800 kg. 152 kg of payload are never put on an axle: "
         "add a case with the vehicle full."),
        ("load-cases", "",
         {f"{MASS}.below_gross_because": None, f"{LADEN}.items.cargo.mass": "660 kg"},
         "gross-rating-reached", "pass",
         "The heaviest load case, laden, comes to 2748 kg of 2800 kg."),
        ("load-cases", "",
         {f"{MASS}.below_gross_because": None, f"{LADEN}.items.cargo.mass": "655 kg"},
         "gross-rating-reached", "fail",
         "The heaviest load case, laden, comes to 2743 kg of 2800 kg. 57 kg of payload are never put on an axle: add "
         "a case with the vehicle full."),
        ("load-cases", "", {"vehicle.towbar": {"fitted": False}}, "towbar.laden", "fail",
         "In the load case laden a trailer adds 800 kg, and there is no towbar."),
        ("load-cases", "",
         {f"{LADEN}.trailer_mass": "0 kg", "vehicle.towbar": {"fitted": False}},
         "towbar.laden", "fail",
         "In the load case laden a trailer adds 50 kg, and there is no towbar."),
        ("load-cases", "", {f"{LADEN}.nose_load": "801 kg"}, "nose-load.laden", "review",
         "In the load case laden the trailer rests 801 kg on the towbar and weighs 800 kg in all, nose load "
         "included: one of the two is wrong."),
        ("plate-sense", "", {}, "approved-mass", "pass",
         "The vehicle was approved for 2800 kg; it is to be plated at 2800 kg."),
        ("plate-sense", "", {}, "axle-ratings", "pass",
         "The axles may carry 3050 kg together; the gross rating is 2800 kg."),
        ("plate-sense", "", {f"{MASS}.gawr_front": "1310 kg", f"{MASS}.gawr_rear": "1490 kg"}, "axle-ratings", "pass",
         "The axles may carry 2800 kg together; the gross rating is 2800 kg."),
        ("plate-sense", "", {}, "combination", "pass",
         "The combination rating is 3600 kg; the vehicle alone may weigh 2800 kg."),
        ("plate-sense", "", {}, "empty", "pass",
         "The finished vehicle weighs 1858 kg empty; its gross rating is 2800 kg."),
        ("plate-sense", "", {f"{MASS}.gvwr": "3051 kg"}, "approved-mass", "fail",
         "The vehicle was approved for 2800 kg; it is to be plated at 3051 kg. Nobody has approved the higher mass "
         "on paper."),
        ("plate-sense", "", {f"{MASS}.gvwr": "3051 kg"}, "axle-ratings", "fail",
         "The axles may carry 3050 kg together; the gross rating is 3051 kg. It cannot be loaded to its plate "
         "without overloading an axle."),
        ("plate-sense", "", {f"{MASS}.gvwr": "2900 kg", f"{MASS}.raised_on_paper": True}, "approved-mass", "pass",
         "The vehicle was approved for 2800 kg; it is to be plated at 2900 kg. The higher mass is approved on paper."),
        ("plate-sense", "", {f"{MASS}.gvwr": "6170 kg"}, "approved-mass", "fail",
         "The vehicle was approved for 2800 kg; it is to be plated at 6170 kg. As pounds the number would be 2799 "
         "kg, which fits: was it read from a plate or scale in pounds? Nobody has approved the higher mass on paper."),
        ("plate-sense", "", {f"{MASS}.gvwr": "6170 kg"}, "axle-ratings", "fail",
         "The axles may carry 3050 kg together; the gross rating is 6170 kg. As pounds the number would be 2799 kg, "
         "which fits: was it read from a plate or scale in pounds? It cannot be loaded to its plate without "
         "overloading an axle."),
        ("plate-sense", "", {f"{MASS}.gawr_front": "2866 kg", f"{MASS}.gawr_rear": "3858 kg"}, "axle-ratings", "review",
         "The axles may carry 6724 kg together; the gross rating is 2800 kg. That is out of proportion. As pounds "
         "the number would be 3050 kg, which fits: was it read from a plate or scale in pounds?"),
        ("plate-sense", "", {f"{MASS}.gvwr": "1800 kg"}, "empty", "fail",
         "The finished vehicle weighs 1858 kg empty; its gross rating is 1800 kg. It may not carry even its driver."),
        ("plate-sense", "", {f"{MASS}.kerb_front": "2250 kg", f"{MASS}.kerb_rear": "1675 kg"}, "empty", "fail",
         "The finished vehicle weighs 4003 kg empty; its gross rating is 2800 kg. As pounds the number would be 1816 "
         "kg, which fits: was it read from a plate or scale in pounds?"),
        ("plate-sense", "", {f"{MASS}.gcwr": "2799 kg"}, "combination", "fail",
         "The combination rating is 2799 kg; the vehicle alone may weigh 2800 kg. Where nothing may be towed the two "
         "are equal."),
        ("plate-sense", "", {f"{MASS}.gcwr": "2800 kg"}, "combination", "pass",
         "The combination rating is 2800 kg; the vehicle alone may weigh 2800 kg."),
        ("ride-height", "front", {}, "travel.laden", "pass",
         "In the load case laden the front has 65.3 mm of bump travel left; before the swap it had 72.5 mm."),
        ("ride-height", "front", {}, "travel.driver_only", "pass",
         "In the load case driver_only the front has 77.2 mm of bump travel left; before the swap it had 84.4 mm."),
        ("ride-height", "front", {}, "height", "pass",
         "The front sinks by 7.2 mm with the swap."),
        ("ride-height", "front", {"vehicle.suspension.front.rate": "20 N/mm"}, "height", "fail",
         "The front sinks by 16.2 mm with the swap. New springs of 21.3 N/mm a side, or spacers, would restore the "
         "height."),
        ("ride-height", "front", {"vehicle.suspension.front.rate": "20 N/mm"}, "travel.laden", "pass",
         "In the load case laden the front has 34.4 mm of bump travel left; before the swap it had 50.6 mm."),
        ("ride-height", "front", {f"{LEDGER}.engine.mass": "100 kg"}, "height", "pass",
         "The front rises by 7.21 mm with the swap."),
        ("ride-height", "front", {"vehicle.suspension.front.bump_clearance": "20 mm"}, "travel.laden", "fail",
         "In the load case laden the front rests on its bump stops, 4.71 mm beyond the travel."),
        ("ride-height", "front", {"vehicle.suspension.front.restored": True}, "", "notApplicable",
         "New springs or spacers restore the height; measure it on the finished vehicle."),
        ("side-balance", "laden front", {}, "", "pass",
         "On the front axle the left side carries 2.43 kg more."),
        ("side-balance", "laden front", {f"{MASS}.kerb_left_share": "54 %"}, "", "fail",
         "On the front axle the left side carries 75.9 kg more. To level it, move 50 kg over that axle 1140 mm to "
         "the right, or more less far."),
        ("side-balance", "laden front", {f"{MASS}.kerb_left_share": "20 %"}, "", "fail",
         "On the front axle the right side carries 618 kg more. To level it, 618 kg over that axle must move 750 mm "
         "to the left."),
        ("steering-axle-share", "laden", {}, "usual-share", "pass",
         "47.08 % of 2648 kg stands on the front axle; 25 % are wanted."),
        ("steering-axle-share", "laden", {}, "lawful-share", "pass",
         "47.08 % of 2648 kg stands on the front axle; 20 % are wanted."),
        ("steering-axle-share", "driver_only", {}, "solo-share-goods", "pass",
         "58.38 % of 1948 kg stands on the front axle; 30 % are wanted."),
        ("steering-axle-share", "driver_only", {}, "usual-share", "pass",
         "58.38 % of 1948 kg stands on the front axle; 25 % are wanted."),
        ("steering-axle-share", "driver_only", {}, "lawful-share", "pass",
         "58.38 % of 1948 kg stands on the front axle; 20 % are wanted."),
        ("steering-axle-share", "driver_only", {"vehicle.category": "M1"}, "solo-share", "pass",
         "58.38 % of 1948 kg stands on the front axle; 30 % are wanted."),
        ("steering-axle-share", "laden", {f"{LADEN}.items.cargo.x": "4 m"}, "usual-share", "pass",
         "36.14 % of 2648 kg stands on the front axle; 25 % are wanted."),
        ("steering-axle-share", "laden", {f"{LADEN}.items.cargo.x": "4 m"}, "lawful-share", "pass",
         "36.14 % of 2648 kg stands on the front axle; 20 % are wanted."),
        ("steering-axle-share", "laden", {f"{LADEN}.items.cargo.x": "9 m"}, "lawful-share", "fail",
         "The load lifts the front axle off the road; 20 % of 2648 kg are wanted on it. 539 kg must come forward: "
         "moving 1080 kg forward by half the wheelbase, or carrying less on that axle."),
        ("tyre-load", "laden front", {}, "", "pass",
         "The front axle carries 1247 kg; its 2 tyres of load index 114 as behind carry 1644 kg at 70 % of their rated "
         "load for the pressure."),
        ("tyre-load", "laden rear", {f"{TYRES}.load_index_single": 97}, "", "fail",
         "The rear axle carries 1401 kg; its 2 tyres of load index 97 carry 1132 kg at 78 % of their rated load for "
         "the pressure."),
        ("tyre-load", "laden rear", {f"{TYRES}.pressure_rear": "550 kPa"}, "", "pass",
         "The rear axle carries 1401 kg; its 2 tyres of load index 114 carry 2360 kg."),
        ("tyre-pressure", "front", {}, "", "pass",
         "The front axle is kept at 350 kPa; its tyres bear 550 kPa."),
        ("tyre-pressure", "front", {f"{TYRES}.pressure_front": "551 kPa"}, "", "fail",
         "The front axle is kept at 551 kPa; its tyres bear 550 kPa."),
        ("tyre-pressure", "front", {f"{TYRES}.pressure_max": None}, "", "pass",
         "The front axle is kept at 350 kPa; its tyres carry their load index at 550 kPa."),
        ("tyre-pressure", "front", {f"{TYRES}.pressure_max": None, f"{TYRES}.pressure_front": "551 kPa"}, "", "fail",
         "The front axle is kept at 551 kPa; its tyres carry their load index at 550 kPa, and no higher pressure is "
         "stated that they bear."),
        ("tyre-pressure", "front", {f"{TYRES}.pressure_front": None}, "", "review",
         "The front axle is taken at the pressure of its tyres' load index."),
        ("axle-rating", "driver_only front", {}, "", "pass",
         "The front axle carries 1137 kg, rated for 1300 kg; empty it carries 1086 kg after the swap, 66.1 kg more "
         "than before."),
        ("axle-rating", "driver_only rear", {f"{LEDGER}.tank.mass": "60 kg"}, "", "pass",
         "The rear axle carries 794.9 kg, rated for 1750 kg; empty it carries 756.1 kg after the swap, 3.93 kg less "
         "than before."),
        ("side-balance", "driver_only front", {f"{MASS}.kerb_left_share": "54 %"}, "", "fail",
         "On the front axle the left side carries 99.8 kg more. To level it, move 50 kg over that axle 1500 mm to "
         "the right, or more less far."),
    ],
)  # fmt: skip
def test_what_is_said(rule: str, part: str, edits: dict[str, Any], demand: str, kind: str, says: str) -> None:
    found = [f for f in trial(f"mass.{rule}", edits) if f.part.endswith(part) and f.demand == demand]
    assert [f.kind for f in found] == [kind]
    told = found[0].message.split(" Common-practice fallback: ")[0]
    assert told == says or re.fullmatch(re.escape(says).replace("…", r"-?\d[\d. ]*"), told), told
