"""What is said where two stated numbers are equal: at the limit itself a rule passes, and asks for nothing more."""

from __future__ import annotations

import pytest
from advising import advised
from told import Row, told

COOL, TOW, SHEET = "plumbing.cooling", "vehicle.towbar", "engine.calibration"
CATALYST, WANTED = "plumbing.exhaust.devices.catalyst", "engine.aftertreatment.devices.catalyst"

WATER = f"{COOL}.charge_cooler.place = own-water; {COOL}.charge_cooler.water_temp"
ELECTRIC = f"{COOL}.fan.drive = electric; {COOL}.fan.curve_voltage = 13 V; {COOL}.fan.motor_voltage"
GAPS = "plumbing.exhaust.heat_gaps"

AT_THE_LIMIT: list[Row] = [
    # a cap of 100 kPa: what the engine asks for, and what the weakest part bears
    ("cooling.boil-margin least-cap", "engine.coolant.cap_pressure_min = 100 kPa", "pass", "!Fit a cap"),
    ("cooling.boil-margin least-cap", "engine.coolant.cap_pressure_min = 101 kPa", "fail", "Fit a cap of that"),
    ("cooling.boil-margin borne.radiator", f"{COOL}.radiator.pressure_max = 100 kPa", "pass", "!It bursts"),
    ("cooling.boil-margin borne.radiator", f"{COOL}.radiator.pressure_max = 99 kPa", "fail", "It bursts before"),
    ("cooling.fan-flow shroud", f"{COOL}.fan.shroud_coverage = 85 %", "pass", "!draws its air past"),
    ("cooling.fan-flow shroud", f"{COOL}.fan.shroud_coverage = 84 %", "fail", "draws its air past the core"),
    ("cooling.external-circuit port.lower", "", "pass", "!It throttles"),
    ("cooling.external-circuit port.lower", f"{COOL}.hoses.lower.bore = 37.9 mm", "fail", "It throttles the port"),
    ("cooling.charge-air temperature", f"{WATER} = 40 degC", "pass", "Water of 40 °C cools it."),
    ("cooling.charge-air temperature", f"{WATER} = 39.9 degC", "review", "colder than the hottest air around it"),
    # a vehicle of 12 V charges with 15 at most
    ("cooling.fan-flow voltage", f"{ELECTRIC} = 15 V", "pass", "!Measure at"),
    ("cooling.fan-flow voltage", f"{ELECTRIC} = 15.1 V", "review", "Measure at the motor while it runs."),
    # a bore that runs out by as much as is allowed
    ("driveline.runout bore", "driveline.alignment.bore_runout = 0.20 mm", "pass", "!Dowels offset"),
    # exhaust: wiring beside the turbocharger 100 mm by practice and 50 by law, the floor 75 and a gas line 150
    ("exhaust.heat-clearance @starter_cable", f"{GAPS}.starter_cable.gap = 100 mm", "pass", "!Behind a shield"),
    ("exhaust.heat-clearance @starter_cable", f"{GAPS}.starter_cable.gap = 99 mm", "fail warning",
     "Behind a shield 50 mm would do."),
    ("exhaust.heat-clearance @starter_cable", f"{GAPS}.starter_cable.gap = 50 mm", "fail warning", ""),
    ("exhaust.heat-clearance @starter_cable", f"{GAPS}.starter_cable.gap = 49 mm", "fail error", ""),
    ("exhaust.heat-clearance @floor", f"{GAPS}.floor.gap = 75 mm", "pass", "!Behind a shield"),
    ("exhaust.heat-clearance @floor", f"{GAPS}.floor.gap = 74 mm", "fail warning", "Behind a shield 37.5 mm would do."),
    ("exhaust.heat-clearance @floor", f"{GAPS}.floor.what = gas-line; {GAPS}.floor.gap = 149 mm", "fail error",
     "!Behind a shield"),
    ("exhaust.flex-section place", "plumbing.exhaust.flex.distance_from_turbo = 600 mm", "pass", "!What is ahead"),
    ("exhaust.flex-section place", "plumbing.exhaust.flex.distance_from_turbo = 601 mm", "fail", "What is ahead of it"),
    ("exhaust.device-position distance-min @catalyst", f"{WANTED}.distance_min = 500 mm", "pass", "!Elsewhere"),
    ("exhaust.device-position distance-min @catalyst", f"{WANTED}.distance_min = 501 mm", "fail", "Elsewhere the"),
    ("exhaust.device-position distance-max @catalyst", f"{WANTED}.distance_max = 500 mm", "pass", "!Elsewhere"),
    ("exhaust.device-position distance-max @catalyst", f"{WANTED}.distance_max = 499 mm", "fail", "Elsewhere the"),
    ("exhaust.regeneration run", "engine.regeneration.run_time = 45 min", "pass", "!block"),
    ("exhaust.outlet distance-to-opening", "plumbing.exhaust.outlet.distance_to_opening = 300 mm", "pass", "!Lead the"),
    ("exhaust.outlet distance-to-opening", "plumbing.exhaust.outlet.distance_to_opening = 299 mm", "fail", "Lead the"),
    ("exhaust.reductant line-length", "engine.reductant.line_length_max = 3 m", "pass", "!Put tank"),
    ("exhaust.reductant line-length", "engine.reductant.line_length_max = 2.9 m", "fail", "Put tank and doser"),
    ("exhaust.reductant lift", "engine.reductant.lift_max = 0.6 m", "pass", "!Put the tank"),
    ("exhaust.reductant lift", "engine.reductant.lift_max = 0.5 m", "fail", "Put the tank higher."),
    ("exhaust.reductant tank-temperature", "plumbing.reductant.tank_temp_max = 30 degC", "pass", "!Shield it"),
    ("exhaust.reductant tank-temperature", "plumbing.reductant.tank_temp_max = 31 degC", "fail", "Shield it"),
    ("exhaust.reductant line-heating", "engine.reductant.heater_power_min = 80 W", "pass", "!stay frozen"),
    ("exhaust.reductant line-heating", "engine.reductant.heater_power_min = 81 W", "fail", "The lines stay frozen"),
    ("exhaust.reductant tank-heating", "engine.reductant.heating_below = -15 degC", "pass", "and it is."),
    # an inlet at the height of the water is wet, and no error yet
    ("intake.inlet-air height", "plumbing.intake.inlet.height = 300 mm", "fail", "0 mm above the top of"),
    # as heavy with a trailer as alone: nothing may be towed, and nothing is asked of a start with one
    ("gearing.startability solo", "vehicle.mass.gcwr = 2800 kg", "pass", ""),
    # gearing and mass
    ("gearing.engine-overspeed in-order", "engine.speed.governed_max = 3400 r/min", "pass", ""),
    ("gearing.engine-overspeed in-order", "engine.speed.governed_max = 3399 r/min", "review", "of the two is wrong"),
    ("mass.calibration-window vehicle", f"{SHEET}.vehicle_mass_min = 2800 kg", "pass", "!lighter vehicles"),
    ("mass.calibration-window vehicle", f"{SHEET}.vehicle_mass_min = 2801 kg", "fail", "for lighter vehicles"),
    ("mass.calibration-window vehicle", f"{SHEET}.vehicle_mass_max = 2800 kg", "pass", "!heavier vehicles"),
    ("mass.calibration-window vehicle", f"{SHEET}.vehicle_mass_max = 2799 kg", "fail", "for heavier vehicles"),
    ("mass.calibration-window combination", f"{SHEET}.combination_mass_max = 3600 kg", "pass", "!heavier comb"),
    ("mass.calibration-window combination", f"{SHEET}.combination_mass_max = 3599 kg", "fail", "heavier combinations"),
    ("mass.plate-sense approved-mass", "", "pass", "!on paper"),
    ("mass.plate-sense approved-mass", "vehicle.mass.gvwr = 2801 kg", "fail", "Nobody has approved the higher"),
    ("mass.plate-sense combination", "vehicle.mass.gcwr = 2800 kg", "pass", "!may be towed"),
    ("mass.plate-sense combination", "vehicle.mass.gcwr = 2799 kg", "fail", "Where nothing may be towed the two"),
    ("mass.towbar trailer @laden", f"{TOW}.trailer_mass_max = 800 kg", "pass", "!Tow"),
    ("mass.towbar trailer @laden", f"{TOW}.trailer_mass_max = 790 kg", "fail", "Tow 10 kg less"),
    ("mass.towbar nose-load @laden", f"{TOW}.nose_load_max = 50 kg", "pass", "!Move the"),
    ("mass.towbar nose-load @laden", f"{TOW}.nose_load_max = 49 kg", "fail", "Move the trailer's load back"),
    ("mass.tyre-pressure @front",
     "driveline.tyres.pressure_max = None; driveline.tyres.reference_pressure = 350 kPa", "pass", "!no higher"),
    ("mass.tyre-pressure @front",
     "driveline.tyres.pressure_max = None; driveline.tyres.reference_pressure = 349 kPa", "fail", "no higher pressure"),
    ("mass.ledger-sense lines-counted", "supply[4].ledger = None; supply[4].mass = 10 kg", "pass", ""),
    ("mass.ledger-sense lines-counted", "supply[4].ledger = None; supply[4].mass = 10.1 kg", "fail", "add one"),
    # supply: what is paid ahead, what is left of the days
    ("supply.quote-arithmetic down-payment", "quote.down_payment = 17984", "pass", "!more than there is"),
    ("supply.quote-arithmetic down-payment", "quote.down_payment = 17985", "fail", "more than there is to pay."),
    ("supply.validity offer", "quote.valid_until = 2026-05-31", "fail warning", "0 days from 2026-05-31: accept"),
    ("supply.validity offer", "quote.valid_until = 2026-06-14", "pass", "14 days from 2026-05-31."),
    ("supply.validity offer", "quote.ordered_on = 2026-06-30; build.judged_on = 2026-06-30", "pass", "!too late"),
    ("supply.sheet-age", "engine.document.date = 2026-05-31", "pass", "0 days before 2026-05-31."),
    ("supply.sheet-age", "engine.document.date = 2026-06-01", "review", "1 day after 2026-05-31"),
    ("supply.sheet-age", "engine.document.date = 2024-05-31", "pass", "730 days before 2026-05-31."),
    ("supply.sheet-age", "engine.document.date = 2024-05-30", "fail", "ask its maker whether a later one is out."),
    ("supply.validity certificate", "engine.certificate.valid_until = 2026-12-31", "pass", "!later"),
    ("supply.validity certificate", "engine.certificate.valid_until = 2026-12-30", "fail", "1 day later: ask"),
    # the work begins 122 days after 2026-05-31, its second step three days later
    ("supply.lead-time @supply[5]", "supply[5].lead_time = 122 days", "pass", "on 2026-09-30: 0 days in hand."),
    ("supply.lead-time @supply[5]", "supply[5].lead_time = 123 days", "fail", "it comes 1 day late."),
    ("supply.end-date", "supply[5].lead_time = 122 days", "pass", "no part holds it up"),
    ("supply.end-date", "supply[5].lead_time = 123 days", "pass", "Parts hold it up."),
    ("supply.end-date", "supply[5].needed_on = 2026-10-03; supply[5].lead_time = 125 days", "pass",
     "'battery' (0 days in hand, order by 2026-05-31)"),
    ("supply.fluids volume @coolant", f"{COOL}.coolant.glycol = 0 %", "review", "has no glycol"),
    ("supply.fluids volume @engine-oil", "engine.oil.fill.volume = 10 L; supply[14].fills[1].volume = 10.5 L", "pass",
     "!Buy"),
    ("supply.end-date", "quote.ready_on = 2026-11-03", "pass", ": 0 days in hand. "),
    ("supply.end-date", "quote.ready_on = 2026-11-02", "fail", "1 day too late"),
]  # fmt: skip


@pytest.mark.parametrize(("rule", "edits", "kind", "words"), AT_THE_LIMIT, ids=lambda value: str(value)[:50])
def test_at_the_limit(rule: str, edits: str, kind: str, words: str) -> None:
    found = told(rule, edits)
    assert f"{found.kind} {found.level or ''}".startswith(kind), (found.kind, found.level, found.message)
    assert (words.lstrip("!") in found.message) is not words.startswith("!"), found.message


@pytest.mark.parametrize(("gap", "shield"), [("37.5 mm", True), ("37.4 mm", False)])
def test_a_shield_is_advised_where_the_gap_is_wide_enough_behind_it(gap: str, shield: bool) -> None:
    # 75 mm to the floor, half of that behind a shield
    found = told("exhaust.heat-clearance @floor", f"{GAPS}.floor.gap = {gap}")
    assert (f"{GAPS}.floor.shielded" in advised(found)) is shield
