"""Facts that contradict each other, each true by itself: a person is asked which is wrong. Worked out by hand."""

from __future__ import annotations

import pytest
from told import Row, by_trial, says

from swaplint.kit.trial import trial

LOADS, COUNTED = "electrics.loads", "power.consumers-counted"
C, X, M = "plumbing.cooling", "plumbing.exhaust", "measured"
DEVICES = "engine.aftertreatment.devices"
BATTERY = "electrics.batteries.second"
ROWS: list[Row] = [
    ("cooling.fan-flow drive", f"{C}.fan.motor_voltage = 13 V", "review", "said to be viscous"),
    ("cooling.charge-air", "engine.charged = False", "review", "not to be charged"),
    ("cooling.charge-air rise", "engine.charged = None", "pass", ""),
    # the heater's ports have 16 mm; a joint of 19 and 16 mm is listed, and none of 12
    ("cooling.external-circuit", "plumbing.hoses.heater_feed.bore = 17 mm", "pass", ""),
    (
        "cooling.external-circuit heater.heater-feed",
        "plumbing.hoses.heater_feed.bore = 12 mm",
        "fail warning",
        "port for it 16 mm",
    ),
    (
        "cooling.external-circuit heater.heater-return",
        "plumbing.hoses.heater_return.bore = 19 mm; joints.heater_stub = None",
        "fail warning",
        "leaks hot coolant",
    ),
    (
        "cooling.external-circuit heater.heater-return",
        "plumbing.hoses.heater_return.bore = 19 mm",
        "pass",
        "joint of these sizes",
    ),
    ("intake.flow-sensor-run", "engine.air.flow_sensor = {'fitted': False}", "review", "contains an air-mass sensor"),
    (
        "intake.flow-sensor-run",
        "engine.air.flow_sensor = {'fitted': False}; engine.contains = ['starter']",
        "notApplicable",
        "",
    ),
    (
        "exhaust.device-position order @catalyst",
        f"{X}.devices.catalyst.distance_from_turbo = 950 mm; {DEVICES}.catalyst.distance_max = 1200 mm",
        "review",
        "belongs ahead of it",
    ),
    # 0.136 kg/s in air of 1.13 to 0.94 kg/m3 are 7.2 to 8.7 m3/min, of which 0.2 % are 14 to 17 L/min
    ("intake.crankcase-vent blow-by", "engine.breather.flow = 7 L/min", "review", "about 1 %"),
    ("intake.crankcase-vent pressure", "engine.breather.flow = 20 L/min", "pass", ""),
    # 0.136 kg/s of air and 3 to 7 % of fuel: 0.140 to 0.146 kg/s
    ("exhaust.back-pressure gas-flow", "engine.exhaust.mass_flow = 0.134 kg/s", "review", "with 3 to 7 % of fuel"),
    ("exhaust.back-pressure pressure", "engine.exhaust.mass_flow = 0.14 kg/s", "pass", ""),
    ("exhaust.back-pressure gas-flow", "engine.exhaust.mass_flow = 0.157 kg/s", "review", "another rating"),
    # what the engine's control unit does not know it does not burn clean
    ("exhaust.device-position present @devices.filter", f"{DEVICES}.filter = None", "review", "names none"),
    ("exhaust.regeneration", f"{DEVICES}.filter = None", "review", "names none"),
    ("exhaust.regeneration", f"{DEVICES}.filter = None; {X}.devices.filter = None", "notApplicable", ""),
    (
        "exhaust.sensor-lines @pressure_lines.filter",
        f"{X}.pressure_lines.filter = {{'fitted': False}}",
        "fail warning",
        "how full that is",
    ),
    ("fuel.return-pressure", "engine.fuel.return_flow = 0 L/h", "review", "leak some off"),
    # 90 L/h drawn less 24 burnt are 66: half of that is 33
    ("fuel.return-pressure accounted-for", "engine.fuel.return_flow = 32 L/h", "review", "must go somewhere"),
    ("fuel.return-pressure pressure", "engine.fuel.return_flow = 33 L/h", "pass", ""),
    # 265 N·m at 356.05 rad/s are 94.4 kW; of 820 kg/m3 20.7 L/h are 180 g/kWh
    ("fuel.supply-pump burn", "engine.fuel.burn = 20.5 L/h", "review", "g/kWh"),
    ("fuel.supply-pump feed-pump", "engine.fuel.burn = 21 L/h", "pass", ""),
    # and 57.5 L/h are 500 g/kWh
    ("fuel.supply-pump burn", "engine.fuel.burn = 58 L/h", "review", "180 g/kWh to 500 g/kWh"),
    ("fuel.supply-pump feed-pump", "engine.fuel.burn = 57 L/h", "pass", ""),
    ("fuel.filtration injection", "engine.fuel_type = petrol", "review", "burn petrol, and its injection"),
    ("fuel.filtration injection", "engine.fuel.injection = port-petrol", "review", "No diesel engine has that"),
    ("controls.ecm-feed ground-pins @engine.ecm", "electrics.ecm.ground_pins_used = 4", "review", "sheet has 3"),
    # lamps and control unit run all night; its feeds are made for 15 and 2 A, a quarter of that is 4.25
    (f"{COUNTED} never-off @loads.lamps", f"{LOADS}.lamps.duty_cruise = 49 %", "review", "on for 49 % of the night"),
    (f"{COUNTED} never-off @loads.lamps", f"{LOADS}.lamps.duty_cruise = 50 %", "pass", ""),
    # its port has 16 mm; a millimetre is nothing
    ("cooling.external-circuit heater.heater-feed", "plumbing.hoses.heater_feed.bore = 17.1 mm", "fail warning", ""),
    (f"{COUNTED} never-off @loads.lamps", f"{LOADS}.lamps.current = 3.3 A", "review", "40 W and more"),
    (f"{COUNTED} never-off @loads.lamps", f"{LOADS}.lamps.current = 3.4 A", "pass", ""),
    (f"{COUNTED} never-off @loads.engine", f"{LOADS}.engine.duty_idle = 0 %", "review", "on for 0 % of the night"),
    (f"{COUNTED} never-off @loads.engine", f"{LOADS}.engine.current = 4.2 A", "review", "made for 17 A"),
    (f"{COUNTED} never-off @loads.engine", f"{LOADS}.engine.current = 4.3 A", "pass", ""),
    # 200 and 80 W at 12 V are 23.33 A, less 5 % 22.22
    (f"{COUNTED} heats @filters.primary", f"{LOADS}.heaters.current = 22.3 A", "pass", "280 W"),
    (f"{COUNTED} heats @filters.primary", f"{LOADS}.heaters.current = 22.2 A", "fail warning", "23.33 A"),
    (f"{COUNTED} heats @reductant", "plumbing.reductant.load = fan", "pass", "have 80 W"),
    ("power.split-charging there", f"{LOADS}.radio.bank = auxiliary", "fail error", "none is stated"),
    # 10 mm2 feed the cab, and the same cable returns by the frame
    ("power.grounding thickness.cab", "electrics.grounds.cab.size = 6 mm2", "fail warning", "it burns first"),
    ("power.grounding thickness.cab", "electrics.grounds.cab.size = 10 mm2", "pass", ""),
    ("power.grounding thickness.frame", "electrics.grounds.frame.size = 6 mm2", "fail warning", "10 mm²"),
    ("power.grounding thickness.frame", "electrics.grounds.frame.size = 10 mm2", "pass", ""),
    # 0.9 of 95 Ah are 85.5
    ("power.battery-cold alike", f"{BATTERY} = {{'voltage': '12 V', 'capacity': '86 Ah'}}", "pass", ""),
    ("power.battery-cold alike", f"{BATTERY} = {{'voltage': '12 V', 'capacity': '85 Ah'}}", "fail warning", "one type"),
    # 115 % of 100 A
    ("commissioning.charging-electrics drop", f"{M}.charging.output_current = 116 A", "review", "rated for 100 A"),
    ("commissioning.charging-electrics drop", f"{M}.charging.output_current = 114 A", "pass", ""),
    (
        "commissioning.cooling-trial steady",
        f"{M}.cooling.radiator_outlet = 77 degC",
        "review",
        "left the radiator hotter",
    ),
    ("commissioning.cooling-trial steady", f"{M}.cooling.radiator_outlet = 76 degC", "pass", ""),
    (
        "supply.consumables coolant-hose",
        "supply[10].metres_of_hose = [{'carries': 'coolant', 'inner': '32 mm', 'length': '2 m'}]",
        "fail warning",
        "no coolant hose of that size, but 38 mm",
    ),
]


@pytest.mark.parametrize(("rule", "edits", "rows"), by_trial(ROWS))
def test_contradictory(rule: str, edits: str, rows: tuple[Row, ...]) -> None:
    says(rule.split(".")[0], edits, [(about.partition(".")[2], *rest) for about, *rest in rows])  # type: ignore[misc]


def test_a_place_that_is_said_not_to_be_there_is_no_place() -> None:
    found = trial("compliance.engine-age", {"build.places.state": {"fitted": False}})
    assert [(finding.kind, finding.unknown) for finding in found] == [("open", ("build.places",))]
