"""Edits that a stranger tries in order to get past a rule; what is right is worked out by hand beside each."""

from __future__ import annotations

import pytest
from told import Row, by_trial, says

from swaplint.kit.trial import one, value

ROWS: list[Row] = [
    # The engine has 340 N·m at 2200 r/min and 265 N·m at 3400 r/min: 94.4 kW; 1.25 times that is 117.9 kW
    ("chassis.brake-duty descent", "engine.overrun.braking_power = 117 kW", "pass", ""),
    (
        "chassis.brake-duty descent",
        "engine.overrun.braking_power = 220 kW",
        "review",
        "and gives 94.4 kW",
    ),
    # No manual gearbox has a parking lock
    (
        "chassis.parking-brake there",
        "vehicle.brakes.parking.acts_on = parking-lock; vehicle.brakes.parking.before = parking-lock",
        "fail error",
        "which a manual gearbox has not",
    ),
    ("chassis.steering-flow supply", "vehicle.steering.assist = electric", "open", "vehicle.steering.load"),
    (
        "chassis.steering-flow supply",
        "vehicle.steering.assist = electric; vehicle.steering.load = radio",
        "fail warning",
        "radio feeds the steering and is not stated as essential",
    ),
    (
        "chassis.steering-flow supply",
        "vehicle.steering.assist = electric; vehicle.steering.load = lamps",
        "pass",
        "counts as essential",
    ),
    # 5.6 of 94.4 kW are 5.9 %; a quarter of 94.4 kW is 23.6 kW
    ("cooling.radiator-capacity @rated", "engine.heat.rated.coolant = 5.6 kW", "review", "5.9 % of the engine's power"),
    ("cooling.radiator-capacity @rated", "engine.heat.rated.coolant = 24 kW", "pass", ""),
    ("cooling.radiator-capacity @rated", "engine.heat.rated.coolant = 23 kW", "review", ""),
    # No more of a spline is engaged than there is
    (
        "fit.shaft-plunge-ground slip-out @rear",
        "driveline.shafts.rear.spline_length = 60 mm",
        "review",
        "90 mm of spline are said to be engaged at ride height, and it has 60 mm",
    ),
    ("fit.shaft-plunge-ground slip-out @rear", "driveline.shafts.rear.spline_length = 90 mm", "pass", ""),
    # A towbar that no load case uses
    ("mass.load-cases trailer-pulled", "vehicle.load_cases.laden = None", "review", "no load case pulls a trailer"),
    ("mass.load-cases trailer-pulled", "", "pass", ""),
    # Cables lead to a switch that is said not to be there
    (
        "power.main-switch-rating there",
        "electrics.isolator = {'fitted': False}",
        "review",
        "no main switch is said to be fitted",
    ),
    # A key that takes nothing from the control unit does not stop it
    ("controls.engine-stop told", "engine.ecm.feeds.switched = None", "review", "the key switches none of its feeds"),
    # What the pedals need of the engine runs over a flexible piece
    (
        "mounts.flexible-bridges @clutch",
        "vehicle.bridges.clutch_line = None",
        "review",
        "No line is listed that carries",
    ),
    (
        "mounts.flexible-bridges @brake-vacuum",
        "vehicle.bridges.brake_vacuum = None",
        "review",
        "No line is listed that",
    ),
    # Ten times the plate: 2800 kg
    ("mass.plate-sense approved-mass", "vehicle.original.gvwr = 28000 kg", "review", "seldom plated so far down"),
    ("mass.plate-sense approved-mass", "vehicle.original.gvwr = 7490 kg", "pass", ""),
    # A tenth of 240 N, which no front axle of a tonne turns with
    ("chassis.plausible-value @effort", "vehicle.steering.effort = 24 N", "review", "it would be 240 N"),
    # 38.8 kg at the spring balance are 380 N
    ("chassis.parking-brake control-force", "vehicle.brakes.parking.control_force = 38.8 N", "review", "be 380 N"),
    ("chassis.parking-brake control-force", "vehicle.brakes.parking.control_force = 60 N", "pass", ""),
    (
        "chassis.parking-brake control-force",
        "vehicle.brakes.parking.control_force = 25 N; vehicle.brakes.parking.kind = spring-brake",
        "pass",
        "",
    ),
    # 56 kW and 17.8 kW of coolers warm 9.1 kg/s of air, 1.006 kJ/(kg K), by 8.06 K and 9.3 kg/s by 7.89 K
    ("cooling.radiator-capacity @rated", "plumbing.cooling.air.rated.flow = 9.1 kg/s", "pass", ""),
    ("cooling.radiator-capacity @rated", "plumbing.cooling.air.rated.flow = 9.3 kg/s", "review", "its decimal point"),
    # A rim of 16 inches is 203.2 mm from its middle
    (
        "chassis.unassisted-stop inside-the-rim.front",
        "vehicle.brakes.wheels.front.effective_radius = 204 mm",
        "review",
        "a radius, or the diameter",
    ),
    (
        "chassis.unassisted-stop both-sides.rear",
        "vehicle.brakes.wheels.rear.count_per_axle = 1",
        "review",
        "across the road",
    ),
    # N1 goes up to 3.5 t; one that is plated down keeps its papers
    ("mass.plate-sense category", "vehicle.category = N2", "review", "of category N2"),
    ("mass.plate-sense category", "vehicle.category = N2; vehicle.original.gvwr = 3600 kg", "pass", ""),
    ("mass.plate-sense category", "vehicle.mass.gvwr = 3500 kg", "pass", ""),
    ("mass.plate-sense category", "vehicle.mass.gvwr = 3510 kg", "review", "is a gross rating of N2"),
    # Nothing stated turns the steering pump
    (
        "chassis.accessory-speed driven @steering.pump",
        "plumbing.belts.accessory = None",
        "open",
        "vehicle.steering.pump.driven_by",
    ),
    (
        "chassis.accessory-speed driven @steering.pump",
        "plumbing.belts.accessory = None; vehicle.steering.pump.driven_by = belt",
        "review",
        "no stated belt has a pulley for it",
    ),
    (
        "chassis.accessory-speed driven @steering.pump",
        "plumbing.belts.accessory = None; vehicle.steering.pump.driven_by = gears",
        "pass",
        "",
    ),
    # The valve that opens at 2 kPa decides, and not the bore of 8 mm
    ("fuel.venting pressure", "plumbing.fuel.vent.opening_pressure = 2 kPa", "fail", "most of it to open the valve"),
    (
        "power.system-voltage batteries",
        "electrics.batteries.second = {'voltage': '6 V', 'cca': '600 A', 'capacity': '70 Ah'}",
        "fail error",
        "2 of 12 V and 6 V",
    ),
]


@pytest.mark.parametrize(("rule", "edits", "rows"), by_trial(ROWS))
def test_what_a_stranger_tries(rule: str, edits: str, rows: tuple[Row, ...]) -> None:
    pack = rule.split(".")[0]
    says(pack, edits, [(row[0].removeprefix(f"{pack}."), *row[1:]) for row in rows])


def test_a_trailer_without_brakes_pushes_down_the_hill() -> None:
    # 8 %: the sine is 0.07975. 700 kg · 9.80665 · 0.07975 = 547.4 N, at 11.11 m/s 6083 W; over 2800 kg 2.17 W/kg
    loose = {"vehicle.load_cases.laden.trailer_brakes": "none", "vehicle.load_cases.laden.trailer_mass": "700 kg"}
    more = value("chassis.descent-power", loose) - value("chassis.descent-power")
    assert more == pytest.approx(2.17, abs=0.01)
    braked = {"vehicle.load_cases.laden.trailer_mass": "700 kg"}
    assert value("chassis.descent-power", braked) == pytest.approx(value("chassis.descent-power"))


@pytest.mark.parametrize(
    ("closed_by", "kind"), [(["key-run"], "review"), (["ecm-relay"], "pass"), (["key-run", "impact"], "pass")]
)
def test_a_fuel_pump_that_only_the_key_stops_goes_on_after_a_crash(closed_by: list[str], kind: str) -> None:
    wire = {"role": "fuel-pump", "start": "cab-fuses", "end": "fuel-pump", "switched_by": closed_by}
    pump = {"kind": "in-line-electric", "stops_with_engine": True}
    edits = {"plumbing.fuel.pump": pump, "electrics.cables.fuel_pump": wire}
    assert one("fuel.supply-pump", edits, demand="stops-with-engine").kind == kind
