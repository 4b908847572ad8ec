"""What the cooling rules say in each of their branches, each sentence read for what it says of that build.

Where "…" stands a number that other tests of the pack work out by hand. Engine and radiator hold 8 and 5 L. A fan on
the engine turns 4400 · 1.25 r/min at the highest speed that the engine stands. A system of 12 V has 15 V at most.
"""

from __future__ import annotations

import re
from typing import Any

import pytest

from swaplint.kit.trial import trial

COOL, OIL, FAN = "plumbing.cooling", "plumbing.cooling.gearbox_oil", "plumbing.cooling.fan"
AIR, TANK, ASKS = "engine.charge_air", "plumbing.cooling.expansion_tank", "engine.coolant"
AUTOMATIC: dict[str, Any] = {
    "driveline.gearbox.kind": "automatic",
    "driveline.gearbox.oil_heat": "4 kW",
    f"{COOL}.coolers.gearbox": {"cools": "gearbox-oil", "place": "elsewhere", "heat": "6 kW"},
}
NARROW: dict[str, Any] = {
    **AUTOMATIC,
    f"{OIL}.cooler_flow": "14 L/min",
    f"{OIL}.bore": "7.5 mm",
    f"{OIL}.drop_max": "20 kPa",
    f"{OIL}.hose_for_oil": False,
    f"{OIL}.hose_pressure": "700 kPa",
    f"{OIL}.hose_temperature": "120 degC",
}
ELECTRIC: dict[str, Any] = {
    f"{FAN}.drive": "electric",
    f"{FAN}.curve_voltage": "13 V",
    f"{FAN}.motor_voltage": "13 V",
}
STANDING: dict[str, Any] = {
    "build.duty.stationary_power": "20 kW",
    "build.duty.stationary_speed": "1500 r/min",
}
REMOTE: dict[str, Any] = {
    f"{COOL}.radiator.place": "rear",
    f"{COOL}.radiator.wind_reaches": False,
    f"{COOL}.radiator.runs_bleed": False,
    f"{COOL}.radiator.runs_held": False,
}
AIRLESS: dict[str, Any] = {
    f"{TANK}.above_highest": "-10 mm",
    f"{TANK}.fill_line_bore": "16 mm",
    f"{TANK}.fill_line_to_pump": False,
    f"{COOL}.vents": {"radiator": {"orifice": "5 mm", "rises": False, "own_entry": False}},
}
EXTERNAL: dict[str, Any] = {
    "engine.thermostat.bypass": "external",
    f"{ASKS}.ports.bypass": {"use": "bypass", "bore": "25 mm"},
}


def runs(*joined: str) -> list[dict[str, Any]]:
    """Runs of the circuit, each written from-to; one that a valve can shut ends in a mark."""
    ends = [run.rstrip("!").split("-") for run in joined]
    return [{"start": a, "end": b, "can_shut": run.endswith("!")} for (a, b), run in zip(ends, joined, strict=True)]


ROUND = ("radiator_out-radiator", "radiator-radiator_in", "heater_out-heater", "heater-heater_in")


@pytest.mark.parametrize(
    ("rule", "part", "edits", "demand", "kind", "says"),
    [
        ("added-heat", "", {}, "", "pass",
         "Coolers named besides radiator and charge-air cooler: 1; with a condenser they give 0 kW to the coolant "
         "and 0.8 kW to the radiator's air. The gearbox has no converter to cool."),
        ("added-heat", "", {**AUTOMATIC, "driveline.gearbox.oil_heat": "7 kW"}, "", "fail",
         "The gearbox gives up to 7 kW to its oil, and the coolers for it take 6 kW. Coolers named besides radiator "
         "and charge-air cooler: 2; with a condenser they give 0 kW to the coolant and 0.8 kW to the radiator's air."),
        ("added-heat", "",
         {**AUTOMATIC, f"{COOL}.coolers.engine": {"cools": "engine-oil", "place": "in-coolant", "heat": "3 kW"}},
         "", "pass",
         "The gearbox gives up to 4 kW to its oil, and the coolers for it take 6 kW. Coolers named besides radiator "
         "and charge-air cooler: 3; with a condenser they give 3 kW to the coolant and 0.8 kW to the radiator's air."),
        ("ambient-capability", "rated", {}, "sea-level", "pass",
         "At rated speed, at sea level, the coolant runs … K above the outside air; with … °C allowed it cools up to "
         "… °C, and … °C is wanted; it would boil from … °C."),
        ("ambient-capability", "rated", {}, "highest-place", "pass",
         "At rated speed, in the thin air at … m, the coolant runs … K above the outside air; with … °C allowed it "
         "cools up to … °C, and … °C is wanted; it would boil from … °C."),
        ("ambient-capability", "rated",
         {f"{COOL}.radiator.tests.full.effectiveness": "50 %", "build.design.ambient_max": "50 degC"},
         "sea-level", "fail",
         "At rated speed, at sea level, the coolant runs … K above the outside air; with … °C allowed it cools up to "
         "… °C, and … °C is wanted; it would boil from … °C. It takes a larger core, or coolers out of its air."),
        ("ambient-capability", "rated",
         {f"{COOL}.radiator.tests.full.effectiveness": "50 %", "build.design.ambient_max": "50 degC"},
         "highest-place", "fail",
         "At rated speed, in the thin air at … m, the coolant runs … K above the outside air; with … °C allowed it "
         "cools up to … °C, and … °C is wanted; it would boil from … °C. It takes a larger core, or coolers out of "
         "its air."),
        ("radiator-capacity", "rated", {}, "", "pass",
         "At rated speed with coolant at … °C the radiator gives off … kW; it must give off … kW and … % for dirt, "
         "behind … kW of other coolers in its air."),
        ("radiator-capacity", "rated", {f"{COOL}.radiator.tests.full.effectiveness": "50 %"}, "", "fail",
         "At rated speed with coolant at … °C the radiator gives off … kW; it must give off … kW and … % for dirt, "
         "behind … kW of other coolers in its air. In the same air it would take a core with … % of the conductance."),
        ("radiator-capacity", "rated", {"build.design.ambient_max": "95 degC"}, "", "fail",
         "At rated speed with coolant at … °C the radiator gives off … kW; it must give off … kW and … % for dirt, "
         "behind … kW of other coolers in its air. No core would do in this air: it takes more air, or coolers out "
         "of it."),
        ("stationary-duty", "", {}, "", "notApplicable",
         "The spec states no standing work (build.duty.stationary_power)."),
        ("stationary-duty", "", STANDING, "sea-level", "pass",
         "Standing at … kW and … r/min, with … kg/s of air, the coolant settles at … °C on the hottest day; … °C is "
         "allowed."),
        ("stationary-duty", "", STANDING, "highest-place", "pass",
         "Standing at … kW and … r/min, with … kg/s of air, in the thin air at … m, in … °C the coolant settles at … "
         "°C; … °C is allowed."),
        ("stationary-duty", "", {**STANDING, "build.design.ambient_max": "99 degC"}, "sea-level", "fail",
         "Standing at … kW and … r/min, with … kg/s of air, the coolant settles at … °C on the hottest day; … °C is "
         "allowed. No core would do in this air: it takes more air, or coolers out of it."),
        ("stationary-duty", "", {**STANDING, "build.design.ambient_max": "99 degC"}, "highest-place", "fail",
         "Standing at … kW and … r/min, with … kg/s of air, in the thin air at … m, in … °C the coolant settles at … "
         "°C; … °C is allowed. No core would do in this air: it takes more air, or coolers out of it."),
        ("boil-margin", "", {}, "least-cap", "pass",
         "The cap opens at … kPa; the engine asks for … kPa or more."),
        ("boil-margin", "", {}, "borne.heater-core", "pass",
         "The cap opens at … kPa; the heater core is rated for … kPa."),
        ("boil-margin", "", {}, "borne.expansion-tank", "pass",
         "The cap opens at … kPa; the expansion tank is rated for … kPa."),
        ("boil-margin", "", {}, "borne.radiator", "pass",
         "The cap opens at … kPa; the radiator is rated for … kPa."),
        ("boil-margin", "", {}, "boiling", "pass",
         "Under … kPa at … m the coolant boils at … °C, … K above the … °C that the engine may reach."),
        ("boil-margin", "", {f"{COOL}.cap_pressure": "140 kPa"}, "borne.heater-core", "fail",
         "The cap opens at 140 kPa; the heater core is rated for 130 kPa. It bursts before the cap opens: fit a "
         "stronger one, or a weaker cap if the engine allows it."),
        ("boil-margin", "", {f"{COOL}.cap_pressure": "40 kPa"}, "least-cap", "fail",
         "The cap opens at … kPa; the engine asks for … kPa or more. Fit a cap of that pressure, which every part "
         "must bear."),
        ("boil-margin", "", {f"{COOL}.cap_pressure": "80 kPa"}, "least-cap", "fail",
         "The cap opens at 80 kPa; the engine asks for 90 kPa or more. Fit a cap of that pressure, which every part "
         "must bear."),
        ("boil-margin", "", {f"{COOL}.cap_pressure": "10 kPa"}, "boiling", "fail",
         "Under … kPa at … m the coolant boils at … °C, … K above the … °C that the engine may reach. It takes a cap "
         "of higher pressure, which every part must bear."),
        ("charge-air", "", {}, "rise", "pass",
         "On the hottest day the charge reaches the cooler at … °C and the manifold at … °C, … K above the outside "
         "air."),
        ("charge-air", "", {}, "drop", "pass",
         "Cooler and pipes take … kPa at rated air flow."),
        ("charge-air", "", {}, "temperature", "pass",
         "On the hottest day the charge reaches the cooler at … °C and the manifold at … °C."),
        ("charge-air", "", {f"{COOL}.charge_cooler.effectiveness": "70 %", f"{AIR}.drop_max": "9 kPa"}, "rise", "fail",
         "On the hottest day the charge reaches the cooler at … °C and the manifold at … °C, … K above the outside "
         "air."),
        ("charge-air", "",
         {f"{COOL}.charge_cooler.effectiveness": "70 %", f"{AIR}.drop_max": "9 kPa"},
         "temperature", "fail",
         "On the hottest day the charge reaches the cooler at … °C and the manifold at … °C."),
        ("charge-air", "", {f"{COOL}.charge_cooler.effectiveness": "70 %", f"{AIR}.drop_max": "9 kPa"}, "drop", "fail",
         "Cooler and pipes take … kPa at rated air flow. It takes wider pipes with fewer bends, or a cooler of lower "
         "loss."),
        ("charge-air", "", {f"{COOL}.charge_cooler": {"fitted": False}}, "rise", "fail",
         "There is no charge-air cooler; on the hottest day the charge reaches the manifold at … °C, … K above the "
         "outside air. A cooler with an effectiveness of … % would do."),
        ("charge-air", "", {f"{COOL}.charge_cooler": {"fitted": False}}, "temperature", "fail",
         "There is no charge-air cooler; on the hottest day the charge reaches the manifold at … °C. A cooler with "
         "an effectiveness of … % would do."),
        ("charge-air", "", {f"{AIR}.drop_max": "9.5 kPa"}, "drop", "pass",
         "Cooler and pipes take 9.5 kPa at rated air flow."),
        ("charge-air", "",
         {f"{AIR}.rise_max": "none", f"{AIR}.manifold_temp_max": "none", f"{COOL}.charge_cooler": {"fitted": False}},
         "", "notApplicable",
         "There is no charge-air cooler, and the engine asks for no limit on its manifold air."),
        ("design-places", "", {}, "", "notApplicable",
         "The spec states no places, only the hottest air and the highest place."),
        ("expansion-volume", "", {}, "", "pass",
         "A system of … L grows by … L from … °C to … °C and keeps … L in hand."),
        ("expansion-volume", "", {TANK: {"fitted": False}}, "", "fail",
         "There is no expansion tank, and hot coolant is pushed out: fit one. Where the radiator has a header tank "
         "that is filled with room above the coolant, state that as the expansion tank."),
        ("expansion-volume", "", {f"{COOL}.system_volume": "10 L"}, "", "review",
         "The system is said to hold 10 L, and engine and radiator alone hold 13 L: look up both, for the growth is "
         "reckoned from it."),
        ("external-circuit", "", {}, "hoses", "pass",
         "A hose is stated at every port to and from the radiator."),
        ("external-circuit", "", {}, "port.lower", "pass",
         "The lower hose has … mm, its port … mm."),
        ("external-circuit", "", {}, "port.upper", "pass",
         "The upper hose has … mm, its port … mm."),
        ("external-circuit", "", {}, "shape.lower", "pass",
         "The lower hose is on the suction side and holds its shape."),
        ("external-circuit", "", {}, "speed.lower", "pass",
         "In the lower hose, … mm, the coolant runs at … m/s."),
        ("external-circuit", "", {}, "speed.upper", "pass",
         "In the upper hose, … mm, the coolant runs at … m/s."),
        ("external-circuit", "", {}, "restriction", "pass",
         "At … L/min hoses and radiator take … kPa, of which the radiator … kPa."),
        ("external-circuit", "", {}, "shape.upper", "notApplicable",
         "The upper hose is not on the suction side: nothing draws it flat."),
        ("external-circuit", "",
         {f"{COOL}.hoses.*.bore": "32 mm", f"{COOL}.hoses.lower.holds_shape": False},
         "speed.lower", "fail",
         "In the lower hose, … mm, the coolant runs at … m/s. A wider one would do."),
        ("external-circuit", "",
         {f"{COOL}.hoses.*.bore": "32 mm", f"{COOL}.hoses.lower.holds_shape": False},
         "speed.upper", "fail",
         "In the upper hose, … mm, the coolant runs at … m/s. A wider one would do."),
        ("external-circuit", "",
         {f"{COOL}.hoses.*.bore": "32 mm", f"{COOL}.hoses.lower.holds_shape": False},
         "port.lower", "fail",
         "The lower hose has … mm, its port … mm. It throttles the port: fit one as wide."),
        ("external-circuit", "",
         {f"{COOL}.hoses.*.bore": "32 mm", f"{COOL}.hoses.lower.holds_shape": False},
         "port.upper", "fail",
         "The upper hose has … mm, its port … mm. It throttles the port: fit one as wide."),
        ("external-circuit", "",
         {f"{COOL}.hoses.*.bore": "32 mm", f"{COOL}.hoses.lower.holds_shape": False},
         "shape.lower", "fail",
         "The lower hose is on the suction side and is drawn flat: fit a moulded one, or one with a spring inside."),
        ("external-circuit", "", {f"{COOL}.hoses.lower": None}, "hoses", "fail",
         "No hose is stated at radiator_in: what it loses, and whether it collapses, nobody looks at. State it."),
        ("external-circuit", "", {f"{COOL}.hoses.lower.port": "radiator_out"}, "port.lower", "fail",
         "The lower hose is to lead to the pump, and sits on the port radiator_out (to-radiator): it is crossed."),
        ("external-circuit", "", {f"{COOL}.hoses.upper.port": "radiator_in"}, "port.upper", "fail",
         "The upper hose is to lead away from the engine, and sits on the port radiator_in (from-radiator): it is "
         "crossed."),
        ("external-circuit", "", {f"{COOL}.hoses.upper.port": "nowhere"}, "port.upper", "fail",
         "The engine has no port nowhere for the upper hose."),
        ("external-circuit", "", {f"{COOL}.hoses.upper.port": "nowhere"}, "hoses", "notApplicable",
         "A hose sits on another port: see there."),
        ("external-circuit", "", {f"{COOL}.radiator.coolant_drop": "30 kPa"}, "restriction", "fail",
         "At … L/min hoses and radiator take … kPa, of which the radiator … kPa. The pump moves too little: it takes "
         "wider hoses, fewer bends or a radiator of lower loss."),
        ("external-circuit", "", {f"{ASKS}.flow": "2000 L/min"}, "speed.upper", "fail",
         "In the upper hose, … mm, the coolant runs at … m/s. No usual hose is wide enough."),
        ("fan-flow", "", {}, "fitted", "pass",
         "Where the wind of driving is too little, a fan moves the air."),
        ("fan-flow", "", {}, "flow.peak-torque", "pass",
         "At peak torque the fan moves … kg/s; the radiator is counted on … kg/s."),
        ("fan-flow", "", {}, "shroud", "pass",
         "The shroud covers … % of the core; … % are wanted."),
        ("fan-flow", "", {}, "speed", "pass",
         "At the engine's governed speed the fan turns … r/min; its maker allows … r/min."),
        ("fan-flow", "", {}, "idle-air-conditioning", "pass",
         "Idling in a queue with the air conditioning at work, at sea level in air of … °C, … kg/s of it pass and "
         "the coolant gets to … °C; … °C is allowed."),
        ("fan-flow", "", {}, "idle", "pass",
         "Idling in a queue without air conditioning, at sea level in air of … °C, … kg/s of it pass and the coolant "
         "gets to … °C; … °C is allowed."),
        ("fan-flow", "", {f"{FAN}.fitted": False, f"{COOL}.air.peak_torque.fan_only": False}, "fitted", "fail",
         "There is no fan: in a queue nothing moves air through the radiator, and the engine boils. Fit one."),
        ("fan-flow", "", {f"{FAN}.fitted": False}, "fitted", "fail",
         "At peak torque the fan alone is to move the air, and there is none: fit one."),
        ("fan-flow", "",
         {f"{FAN}.fitted": False, f"{COOL}.air.peak_torque.fan_only": False, f"{COOL}.air.idle.flow": "0.5 kg/s"},
         "fitted", "pass",
         "There is no fan; the spec states the air that passes the core of the idling vehicle."),
        ("fan-flow", "",
         {f"{FAN}.shroud_coverage": "84 %", f"{FAN}.speed_max": "4000 r/min",
          f"{COOL}.air.peak_torque.flow": "1.2 kg/s"},
         "speed", "fail",
         "At the engine's governed speed the fan turns … r/min; its maker allows … r/min. Beyond that it can burst: "
         "gear it slower, or fit one that is made for the speed."),
        ("fan-flow", "",
         {f"{FAN}.shroud_coverage": "84 %", f"{FAN}.speed_max": "4000 r/min",
          f"{COOL}.air.peak_torque.flow": "1.2 kg/s"},
         "flow.peak-torque", "fail",
         "At peak torque the fan moves … kg/s; the radiator is counted on … kg/s. It would have to turn faster, or "
         "be a larger one."),
        ("fan-flow", "",
         {f"{FAN}.shroud_coverage": "84 %", f"{FAN}.speed_max": "4000 r/min",
          f"{COOL}.air.peak_torque.flow": "1.2 kg/s"},
         "shroud", "fail",
         "The shroud covers … % of the core; … % are wanted. The fan draws its air past the core: close the gaps."),
        ("fan-flow", "", {f"{FAN}.drive": "engine", f"{FAN}.speed_max": "5500 r/min"}, "speed", "pass",
         "Driven to the highest speed that the engine stands the fan turns 5500 r/min; its maker allows 5500 r/min."),
        ("fan-flow", "", {f"{FAN}.drive": "engine", f"{FAN}.speed_max": "5499 r/min"}, "speed", "fail",
         "Driven to the highest speed that the engine stands the fan turns 5500 r/min; its maker allows 5499 r/min. "
         "Beyond that it can burst: gear it slower, or fit one that is made for the speed."),
        ("fan-flow", "", {**ELECTRIC, "engine.fan.electric_allowed": False}, "electric", "fail",
         "The fan is electric, which the engine maker does not allow: fit one that the engine drives."),
        ("fan-flow", "", {**ELECTRIC, "engine.fan.electric_allowed": False}, "voltage", "pass",
         "Its flow is reckoned with 13 V at the motor; the vehicle has 15 V at most."),
        ("fan-flow", "", ELECTRIC, "electric", "pass",
         "The fan is electric, which the engine maker allows."),
        ("fan-flow", "", {**ELECTRIC, f"{FAN}.motor_voltage": "15 V"}, "voltage", "pass",
         "Its flow is reckoned with 15 V at the motor; the vehicle has 15 V at most."),
        ("fan-flow", "", {"build.design.ambient_max": "99 degC"}, "idle-air-conditioning", "fail",
         "Idling in a queue with the air conditioning at work, at sea level in air of … °C, … kg/s of it pass and "
         "the coolant gets to … °C; … °C is allowed. It takes a fan that moves more air at idle, or a condenser out "
         "of the radiator's air."),
        ("fan-flow", "", {"build.design.ambient_max": "99 degC"}, "idle", "fail",
         "Idling in a queue without air conditioning, at sea level in air of … °C, … kg/s of it pass and the coolant "
         "gets to … °C; … °C is allowed. It takes a fan that moves more air at idle or a larger core."),
        ("fan-flow", "",
         {"engine.heat.idle.coolant": None, "build.design.ambient_max": "99 degC"},
         "idle-air-conditioning", "review",
         "Idling in a queue with the air conditioning at work, at sea level in air of … °C, … kg/s of it pass and "
         "the coolant gets to … °C; … °C is allowed. It takes a fan that moves more air at idle, or a condenser out "
         "of the radiator's air. The heat itself is a guess: ask the engine maker for its heat at idle."),
        ("fan-flow", "", {"engine.heat.idle.coolant": None, "build.design.ambient_max": "99 degC"}, "idle", "review",
         "Idling in a queue without air conditioning, at sea level in air of … °C, … kg/s of it pass and the coolant "
         "gets to … °C; … °C is allowed. It takes a fan that moves more air at idle or a larger core. The heat "
         "itself is a guess: ask the engine maker for its heat at idle."),
        ("fill-deaeration", "", {}, "entry.cylinder_head", "pass",
         "The vent cylinder_head enters the tank above the coolant through an entry of its own."),
        ("fill-deaeration", "", {}, "entry.radiator", "pass",
         "The vent radiator enters the tank above the coolant through an entry of its own."),
        ("fill-deaeration", "", {}, "fill-line-end", "pass",
         "The fill line ends at the pump's inlet and carries nothing else."),
        ("fill-deaeration", "", {}, "height", "pass",
         "The tank's coolant is 60 mm above the highest coolant in engine and radiator."),
        ("fill-deaeration", "", {}, "rises.cylinder_head", "pass",
         "The vent cylinder_head rises all the way to the tank."),
        ("fill-deaeration", "", {}, "rises.radiator", "pass",
         "The vent radiator rises all the way to the tank."),
        ("fill-deaeration", "", {}, "vents", "pass",
         "Led to the tank: cylinder_head, radiator."),
        ("fill-deaeration", "", {}, "fill-line", "pass",
         "The fill line has a bore of 22 mm; it takes 19 mm or more."),
        ("fill-deaeration", "", {}, "orifice.cylinder_head", "pass",
         "The vent cylinder_head has an orifice of 2.5 mm; 2 to 4 mm are usual."),
        ("fill-deaeration", "", {}, "orifice.radiator", "pass",
         "The vent radiator has an orifice of 3 mm; 2 to 4 mm are usual."),
        ("fill-deaeration", "", AIRLESS, "height", "fail",
         "The tank's coolant is 10 mm below the highest coolant in engine and radiator: air stays there. Raise the "
         "tank, or fill at the highest point by other means."),
        ("fill-deaeration", "", AIRLESS, "orifice.radiator", "fail",
         "The vent radiator has an orifice of 5 mm; 2 to 4 mm are usual."),
        ("fill-deaeration", "", AIRLESS, "fill-line", "fail",
         "The fill line has a bore of 16 mm; it takes 19 mm or more. The pump draws air instead of coolant: fit a "
         "wider line."),
        ("fill-deaeration", "", AIRLESS, "entry.radiator", "fail",
         "The vent radiator does not enter the tank above the coolant through an entry of its own: give it one."),
        ("fill-deaeration", "", AIRLESS, "fill-line-end", "fail",
         "The fill line must end at the pump's inlet and carry nothing else, to keep pressure on the pump."),
        ("fill-deaeration", "", AIRLESS, "rises.radiator", "fail",
         "The vent radiator must rise all the way to the tank."),
        ("fill-deaeration", "", AIRLESS, "vents", "fail",
         "Led to the tank: radiator. The engine also asks for: cylinder_head: lead them there too."),
        ("fill-deaeration", "", {f"{TANK}.above_highest": "-10 mm", f"{TANK}.remote_fill": True}, "height", "pass",
         "The tank is not the highest point, but the system is filled by other means."),
        ("fill-deaeration", "", {f"{TANK}.above_highest": "0 mm"}, "height", "pass",
         "The tank's coolant is 0 mm above the highest coolant in engine and radiator."),
        ("freeze-protection", "", {}, "kind", "pass",
         "The coolant is of the organic-acid family; the engine allows organic-acid, hybrid-organic-acid."),
        ("freeze-protection", "", {}, "share", "pass",
         "The coolant is 50 % glycol; 40 % to 60 % are allowed."),
        ("freeze-protection", "", {f"{COOL}.coolant.glycol": "39 %"}, "share", "fail",
         "The coolant is 39 % glycol; 40 % to 60 % are allowed. It takes more glycol."),
        ("freeze-protection", "", {f"{COOL}.coolant.glycol": "61 %"}, "share", "fail",
         "The coolant is 61 % glycol; 40 % to 60 % are allowed. It takes less glycol."),
        ("freeze-protection", "", {f"{COOL}.coolant.chemistry": "inorganic"}, "kind", "fail",
         "The coolant is of the inorganic family; the engine allows organic-acid, hybrid-organic-acid. Drain it, "
         "flush with water and fill in one of these."),
        ("freeze-protection", "", {"build.design.ambient_min": "-60 degC"}, "protection", "fail",
         "With … % glycol the coolant protects to … °C; the coldest air has … °C. No usual mixture of ethylene "
         "glycol and water protects so far."),
        ("freeze-protection", "", {"build.design.ambient_min": "-35 degC"}, "protection", "fail",
         "With … % glycol the coolant protects to … °C; the coldest air has … °C."),
        ("gearbox-oil", "", {}, "", "notApplicable",
         "The gearbox has no converter whose oil needs a cooler."),
        ("gearbox-oil", "", AUTOMATIC, "cooler", "pass",
         "There is a cooler for the gearbox's oil."),
        ("gearbox-oil", "", AUTOMATIC, "cooler-flow", "pass",
         "The gearbox sends … L/min through its cooler, whose heat is stated at … L/min."),
        ("gearbox-oil", "", AUTOMATIC, "hose", "pass",
         "The hose is made for hot gearbox oil."),
        ("gearbox-oil", "", AUTOMATIC, "hose-temperature", "pass",
         "The hose is rated for … °C; the oil gets up to … °C."),
        ("gearbox-oil", "", AUTOMATIC, "bore", "pass",
         "The lines have … mm; the gearbox asks for … mm."),
        ("gearbox-oil", "", AUTOMATIC, "drop", "pass",
         "Cooler and lines take … kPa at … L/min of hot oil."),
        ("gearbox-oil", "", AUTOMATIC, "hose-pressure", "pass",
         "The hose is rated for … kPa; up to … kPa stand in it."),
        ("gearbox-oil", "", NARROW, "drop", "fail",
         "Cooler and lines take … kPa at … L/min of hot oil. The oil finds its way past the cooler: fit wider lines "
         "or a cooler of lower loss."),
        ("gearbox-oil", "", NARROW, "hose-pressure", "fail",
         "The hose is rated for … kPa; up to … kPa stand in it."),
        ("gearbox-oil", "", NARROW, "hose-temperature", "fail",
         "The hose is rated for … °C; the oil gets up to … °C."),
        ("gearbox-oil", "", NARROW, "bore", "fail",
         "The lines have … mm; the gearbox asks for … mm."),
        ("gearbox-oil", "", NARROW, "hose", "fail",
         "The hose is not made for hot gearbox oil and softens in it: fit one that is, with crimped ends."),
        ("gearbox-oil", "", NARROW, "cooler-flow", "fail",
         "The gearbox sends … L/min through its cooler, whose heat is stated at … L/min. It cools less than its "
         "sheet says: take its heat at the gearbox's flow, or a larger one."),
        ("gearbox-oil", "", {**AUTOMATIC, f"{OIL}.bore_min": "none"}, "bore", "notApplicable",
         "The gearbox's maker asks for no least bore."),
        ("gearbox-oil", "", {**AUTOMATIC, f"{COOL}.coolers.gearbox": None}, "cooler", "fail",
         "There is no cooler for the gearbox's oil: fit one in the coolant or in the air."),
        ("remote-radiator", "", {}, "", "notApplicable",
         "The radiator stands ahead of the engine."),
        ("remote-radiator", "", REMOTE, "fan", "fail",
         "The engine cannot drive a fan at this radiator: fit electric ones."),
        ("remote-radiator", "", REMOTE, "bleed", "fail",
         "Air stays in a high point of its pipes and stops the flow: put a vent or bleed screw there."),
        ("remote-radiator", "", REMOTE, "runs", "fail",
         "Its pipes are not held clear of exhaust and moving parts: clamp them along the frame, with flexible ends."),
        ("remote-radiator", "", REMOTE, "wind", "fail",
         "The air through it counts on the wind of driving, which does not reach it: state the flow of the fan "
         "alone, or fit a duct."),
        ("remote-radiator", "",
         {**REMOTE, **ELECTRIC, f"{COOL}.radiator.wind_reaches": True, f"{COOL}.radiator.runs_bleed": True,
          f"{COOL}.radiator.runs_held": True},
         "bleed", "pass",
         "Every high point of its pipes can be bled."),
        ("remote-radiator", "",
         {**REMOTE, **ELECTRIC, f"{COOL}.radiator.wind_reaches": True, f"{COOL}.radiator.runs_bleed": True,
          f"{COOL}.radiator.runs_held": True},
         "fan", "pass",
         "Its fan has a motor of its own."),
        ("remote-radiator", "",
         {**REMOTE, **ELECTRIC, f"{COOL}.radiator.wind_reaches": True, f"{COOL}.radiator.runs_bleed": True,
          f"{COOL}.radiator.runs_held": True},
         "runs", "pass",
         "Its pipes are held along the frame."),
        ("remote-radiator", "",
         {**REMOTE, **ELECTRIC, f"{COOL}.radiator.wind_reaches": True, f"{COOL}.radiator.runs_bleed": True,
          f"{COOL}.radiator.runs_held": True},
         "wind", "pass",
         "A duct brings it the wind of driving."),
        ("remote-radiator", "", {**REMOTE, FAN: {"fitted": False}, f"{COOL}.air.rated.fan_only": True}, "fan", "fail",
         "No fan moves air through a radiator that the wind of driving hardly reaches: fit electric ones."),
        ("remote-radiator", "", {**REMOTE, FAN: {"fitted": False}, f"{COOL}.air.rated.fan_only": True}, "wind", "pass",
         "Its air is stated as that of the fan alone."),
        ("thermostat-circuit", "", {}, "", "pass",
         "All 4 ports are connected as their use asks."),
        ("thermostat-circuit", "", {f"{COOL}.circuit": runs(*ROUND[:3])}, "", "fail",
         "Nothing is connected to the port heater_in (heater-return), which takes a bore of 16 mm. There is no way "
         "out of heater: the coolant stands still there."),
        ("thermostat-circuit", "", {f"{COOL}.circuit": runs(*ROUND[:2])}, "", "fail",
         "Nothing is connected to the port heater_out (heater-feed), which takes a bore of 16 mm. Nothing is "
         "connected to the port heater_in (heater-return), which takes a bore of 16 mm."),
        ("thermostat-circuit", "", {f"{COOL}.circuit": runs(*ROUND, "heater_out-heater")}, "", "fail",
         "2 runs are connected to the port heater_out (heater-feed)."),
        ("thermostat-circuit", "",
         {f"{COOL}.circuit": runs("radiator-radiator_out", "radiator_in-radiator", *ROUND[2:])},
         "", "fail",
         "The run at the port radiator_out (to-radiator) goes the wrong way: turn it round. The run at the port "
         "radiator_in (from-radiator) goes the wrong way: turn it round."),
        ("thermostat-circuit", "",
         {f"{COOL}.circuit": runs("radiator_out-radiator", "radiator-heater_in", "heater_out-heater",
          "heater-radiator_in")},
         "", "fail",
         "What leaves radiator_out comes back at heater_in and not at radiator_in: the hoses are crossed. What "
         "leaves heater_out comes back at radiator_in and not at heater_in: the hoses are crossed."),
        ("thermostat-circuit", "", {f"{COOL}.circuit": runs("radiator_out-radiator_in", *ROUND[2:])}, "", "fail",
         "What leaves radiator_out comes back at radiator_in without passing the radiator."),
        ("thermostat-circuit", "", {f"{COOL}.circuit": runs(*ROUND, "a-b", "b-a")}, "", "fail",
         "No coolant of the engine gets to a. No coolant of the engine gets to b."),
        ("thermostat-circuit", "",
         {f"{COOL}.circuit": runs("radiator_out-cooler", "cooler-radiator_in", "heater_out-radiator",
          "radiator-heater_in")},
         "", "fail",
         "What leaves radiator_out comes back at radiator_in without passing the radiator. What leaves heater_out "
         "for the heater runs to the radiator: the hoses are crossed."),
        ("thermostat-circuit", "", {"engine.thermostat.bypass": "external"}, "", "fail",
         "The thermostat needs an external bypass, and the engine has no port for one."),
        ("thermostat-circuit", "",
         {**EXTERNAL, f"{COOL}.circuit": runs(*ROUND, "bypass-tee", "tee-radiator_in")},
         "", "fail",
         "2 runs are connected to the port radiator_in (from-radiator)."),
        ("thermostat-circuit", "", {**EXTERNAL, f"{COOL}.circuit": runs(*ROUND, "bypass-radiator")}, "", "fail",
         "The bypass at bypass runs through the radiator instead of round it."),
        ("thermostat-circuit", "", {**EXTERNAL, f"{COOL}.circuit": runs(*ROUND, "bypass-heater!")}, "", "fail",
         "A valve can shut the bypass from bypass to heater."),
        ("thermostat-circuit", "",
         {**EXTERNAL, f"{COOL}.circuit": runs(*ROUND), f"{ASKS}.ports.bypass.may_be_plugged": True},
         "", "fail",
         "The bypass bypass is plugged, and cold coolant has no way round the closed thermostat."),
        ("boil-margin", "",
         {f"{COOL}.cap_pressure": "10 kPa", "build.design.altitude_max": "4500 m"},
         "boiling", "fail",
         "Under … kPa at … m the coolant boils at … °C, … K below the … °C that the engine may reach. It takes a cap "
         "of higher pressure, which every part must bear."),
    ],
)  # fmt: skip
def test_what_is_said(rule: str, part: str, edits: dict[str, Any], demand: str, kind: str, says: str) -> None:
    found = [f for f in trial(f"cooling.{rule}", edits) if f.part.endswith(part) and f.demand == demand]
    assert [f.kind for f in found] == [kind]
    told = found[0].message.split(" Common-practice fallback: ")[0]
    assert told == says or re.fullmatch(re.escape(says).replace("…", r"-?\d[\d. ]*"), told), told
