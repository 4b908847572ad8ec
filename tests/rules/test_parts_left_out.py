"""A part without which another is not complete: left out it is asked for, or the gap that it leaves is a fail.

Each answer is worked out by hand from what the edits leave of the sound spec: its exhaust runs engine - down - filter -
tail - open air, its two stretches of fuel line hold supply and return, its intake opens in the wing.
"""

from __future__ import annotations

from typing import Any

import pytest
from told import Row, by_trial, says

from swaplint.kit.trial import trial

P, D, R = "plumbing.exhaust.pipes", "plumbing.exhaust.devices", "plumbing.fuel.routes"
EXHAUST: list[Row] = [
    ("exhaust.whole-line joined", "", "pass", "to the open air"),
    ("exhaust.whole-line joined", f"{P}.down.start = Engine; {P}.tail.end = Open-Air", "pass", "to the open air"),
    ("exhaust.whole-line joined", f"{P}.down = None", "fail error", "No pipe starts at the engine"),
    ("exhaust.whole-line joined", f"{P}.down = {{'fitted': False}}", "fail error", "No pipe starts at the engine"),
    ("exhaust.whole-line joined", f"{P}.tail = None", "fail error", "A pipe ends at filter, and none starts there"),
    ("exhaust.whole-line joined", f"{P}.tail.start = flange", "fail error", "No pipe leads to flange, where tail"),
    ("exhaust.whole-line joined", f"{P}.tail.end = filter", "fail error", "in a circle"),
    ("exhaust.whole-line joined", f"{P}.tail.start = open-air", "fail error", "turn it round"),
    ("exhaust.whole-line joined", f"{P}.tail.end = None", "open", f"{P}.tail.end is not stated"),
    ("exhaust.whole-line joined", f"{P} = {{}}", "open", "is empty"),
    ("exhaust.whole-line silencer", f"{D}.silencer = None", "open", f"{D}.silencer is not stated"),
    ("exhaust.whole-line silencer", f"{D}.silencer.kind = None", "open", f"{D}.silencer.kind is not stated"),
    ("exhaust.whole-line silencer", f"{D}.silencer = {{'fitted': False}}", "review", "only filter"),
    (
        "exhaust.whole-line silencer",
        f"{D}.silencer = {{'fitted': False}}; {D}.filter = {{'fitted': False}}",
        "fail warning",
        "no road vehicle may go without",
    ),
    # a catalyst that is said not to be there says nothing of a silencer
    (
        "exhaust.whole-line silencer",
        f"{D}.silencer = None; {D}.catalyst = {{'fitted': False}}",
        "open",
        f"{D}.silencer is not stated",
    ),
]
FUEL: list[Row] = [
    ("fuel.line-routing lines @frame", "", "pass", "supply, return"),
    ("fuel.line-routing lines @frame", f"{R}.frame.lines = None", "open", f"{R}.frame.lines is not stated"),
    ("fuel.line-routing lines @frame", f"{R}.frame.lines = []", "fail note", "name those that do"),
    (
        "fuel.line-routing exhaust-gap @return",
        f"{R}.frame.lines = ['supply']; {R}.engine-bay.lines = ['supply']",
        "open",
        f"{R}.return.gap_to_exhaust",
    ),
    (
        "fuel.line-routing exhaust-gap @supply",
        f"{R}.frame.lines = ['return']; {R}.engine-bay = None",
        "open",
        f"{R}.supply.gap_to_exhaust",
    ),
    ("fuel.line-routing exhaust-gap @tank", f"{R}.tank = None", "open", f"{R}.tank.gap_to_exhaust"),
]

INLET = "plumbing.intake.inlet.place = roof; plumbing.intake.ducts"
INTAKE: list[Row] = [
    ("intake.restriction clean", "plumbing.intake.ducts.inlet = None", "pass", "hood, pre-cleaner and filter"),
    ("intake.restriction clean", f"{INLET}.inlet = None", "open", "plumbing.intake.ducts.inlet"),
    ("intake.restriction clean", f"{INLET}.inlet = {{'fitted': False}}", "pass", "hood, pre-cleaner and filter"),
]

H = "plumbing.exhaust.heat_gaps"
STEERING: list[Row] = [
    ("exhaust.heat-clearance @heat_gaps.steering_shaft", "", "pass", "210 mm from steering shaft"),
    ("exhaust.heat-clearance @heat_gaps.steering_shaft", f"{H}.steering_shaft.gap = 50 mm", "pass", "50 mm or more"),
    (
        "exhaust.heat-clearance @heat_gaps.steering_shaft",
        f"{H}.steering_shaft.gap = 49 mm",
        "fail warning",
        "25 mm would",
    ),
    (
        "exhaust.heat-clearance @heat_gaps.steering_shaft",
        f"{H}.steering_shaft.gap = 25 mm; {H}.steering_shaft.shielded = True",
        "pass",
        "25 mm or more",
    ),
    ("exhaust.heat-clearance @heat_gaps.steering", f"{H}.steering_shaft = None", "open", f"{H}.steering.gap"),
    ("exhaust.heat-clearance @heat_gaps.brake_part", f"{H}.brake_hose = None", "open", f"{H}.brake_part.gap"),
    ("exhaust.heat-clearance @heat_gaps.wiring", f"{H}.starter_cable = None", "open", f"{H}.wiring.gap"),
    ("exhaust.heat-clearance @heat_gaps.floor", f"{H}.floor = None", "open", f"{H}.floor.gap"),
    # 50 mm to a brake part by regulation; beside a turbocharger 150 mm by practice, and an error that says so
    ("exhaust.heat-clearance @brake_hose", f"{H}.brake_hose.gap = 49 mm", "fail error", "needed by regulation"),
    (
        "exhaust.heat-clearance @brake_hose",
        f"{H}.brake_hose.gap = 149 mm; {H}.brake_hose.near_turbocharger = True",
        "fail error",
        "150 mm or more are needed by common practice",
    ),
]

B, BUS = "vehicle.bridges", "electrics.network"
FLUID, CLUTCH, STEER = "vehicle.brakes.fluid", "driveline.clutch.fluid", "vehicle.steering.fluid"
ONE_OF_TWO: list[Row] = [
    ("mounts.flexible-bridges @coolant-and-back", f"{B}.lower_hose = None", "review", "coolant goes back too"),
    ("mounts.flexible-bridges @fuel-and-back", f"{B}.fuel_return = None", "review", "fuel goes back too"),
    # the supply runs through the engine bay to the engine and along the frame from the tank
    ("fuel.line-routing lines @engine-bay", "", "pass", "Here lie: supply, return, up to the engine."),
    ("fuel.line-routing @at_engine", f"{R}.engine-bay = None", "open", f"{R}.at_engine."),
    ("fuel.line-routing @at_engine", f"{R}.engine-bay.lines = ['supply']", "open", f"{R}.at_engine."),
    ("fuel.line-routing @at_tank", f"{R}.frame = None", "open", f"{R}.at_tank."),
    ("fuel.line-routing @at_tank", f"{R}.frame.reaches = []", "open", f"{R}.at_tank."),
    ("fuel.line-routing lines @frame", f"{R}.frame.reaches = None", "open", f"{R}.frame.reaches"),
    # one axle of two, and the brakes of one end
    ("driveline.axle-torque @axles.rear", "driveline.axles.rear = None", "open", "driveline.axles.rear.driven"),
    ("driveline.axle-torque @axles.front", "driveline.axles.front = None", "open", "driveline.axles.front.driven"),
    (
        "chassis.unassisted-stop pedal-force",
        "vehicle.brakes.wheels.front = None",
        "open",
        "vehicle.brakes.wheels.front",
    ),
    ("chassis.unassisted-stop pedal-force", "vehicle.brakes.wheels.rear = None", "open", "vehicle.brakes.wheels.rear"),
    # 37.4 L/min at rated speed, and the gear bears 10: the valve that limits it is not stated
    ("chassis.steering-flow rated-flow", "vehicle.steering.pump.flow_limit = None", "open", "pump.flow_limit"),
    # a paper whose day is past: met or not, nobody says
    (
        "compliance.who-and-when @requirements.inspection",
        "build.places.state.requirements.inspection.met.done = None",
        "open",
        "inspection.met.done",
    ),
    # a whole list that nobody has written yet; written empty it says that there is none
    ("controls.immobiliser-signals @engine", "electrics.signals = None", "open", "electrics.signals is not stated"),
    ("controls.immobiliser-signals @engine", "electrics.signals = {}", "fail error", "which nobody gives"),
    ("network.termination @wires.front", f"{BUS}.terminators = None", "open", "terminators is not stated"),
    ("network.termination @wires.front", f"{BUS}.terminators = {{}}", "fail error", "Terminators at none: 0"),
    # fluids at both ends of their lines
    ("chassis.hydraulic-fluid seals.master @brakes.fluid", f"{FLUID}.parts.master = None", "open", "parts.master"),
    ("chassis.hydraulic-fluid seals.wheels @brakes.fluid", f"{FLUID}.parts.wheels = None", "open", "parts.wheels"),
    ("chassis.hydraulic-fluid seals.slave @clutch.fluid", f"{CLUTCH}.parts.slave = None", "open", "parts.slave"),
    ("chassis.hydraulic-fluid seals.gear @steering.fluid", f"{STEER}.parts.gear = None", "open", "parts.gear"),
    ("chassis.hydraulic-fluid seals.pump @steering.fluid", f"{STEER}.parts.pump = None", "open", "parts.pump"),
    ("fit.wading electrical.starter", "vehicle.wading.electrical.starter = None", "open", "electrical.starter is not"),
    ("fuel.line-routing flexible-end @engine-bay", f"{R}.engine-bay.flexible_to_engine = False", "fail warning", ""),
]


@pytest.mark.parametrize(
    ("edits", "asked"),
    [
        ({f"{B}.lower_hose": {"carries": "coolant", "none_because": "cooled by oil"}}, False),
        ({f"{B}.fuel_return": None, "plumbing.fuel.return_line": {"fitted": False}}, False),
        ({f"{B}.fuel_return": None, f"{B}.lower_hose": None}, True),
    ],
)
def test_one_line_is_enough_where_nothing_flows_back(edits: dict[str, Any], asked: bool) -> None:
    found = trial("mounts.flexible-bridges", edits)
    assert [finding.part for finding in found if "back" in finding.part] == (
        ["coolant-and-back", "fuel-and-back"] if asked else []
    )


def test_a_stretch_that_does_not_reach_the_engine_needs_no_flexible_piece() -> None:
    found = trial("fuel.line-routing", {f"{R}.frame.flexible_to_engine": False})
    assert {finding.kind for finding in found if finding.part == f"{R}.frame"} == {"pass"}


def test_a_steering_shaft_that_is_nowhere_near_is_not_asked_for() -> None:
    found = trial("exhaust.heat-clearance", {f"{H}.steering_shaft": {"fitted": False}})
    assert not [finding for finding in found if "steering" in finding.part]


def test_the_brake_parts_beside_the_exhaust_may_have_any_name_or_be_far_away() -> None:
    for edit in (
        {f"{H}.brake_hose": None, f"{H}.servo": {"what": "brake-part", "gap": "180 mm", "shielded": False,
                                                 "near_turbocharger": False}},
        {f"{H}.brake_hose": None, f"{H}.brake_part": {"fitted": False}},
        {f"{H}.brake_hose": {"fitted": False, "what": "brake-part"}},
    ):  # fmt: skip
        kinds = {finding.part: finding.kind for finding in trial("exhaust.heat-clearance", edit)}
        assert set(kinds.values()) == {"pass"}
        assert len(kinds) == (5 if f"{H}.servo" in edit else 4)


LOADS, COUNTED = "electrics.loads", "power.consumers-counted"
CONSUMERS: list[Row] = [
    (f"{COUNTED} @loads.lamps", f"{LOADS}.lamps = None", "open", f"{LOADS}.lamps.current"),
    (f"{COUNTED} @loads.wipers", f"{LOADS}.fan.stands_for = None", "open", f"{LOADS}.wipers.current"),
    (f"{COUNTED} @loads.control_unit", f"{LOADS}.engine = None", "open", f"{LOADS}.control_unit.current"),
    (f"{COUNTED} @loads.lamps", f"{LOADS}.lamps = {{'fitted': False}}", "fail warning", "at night"),
    (f"{COUNTED} @loads.engine", f"{LOADS}.engine = {{'fitted': False}}", "fail warning", "list it"),
    (
        f"{COUNTED} @loads.engine",
        f"{LOADS}.engine = {{'fitted': False}}; engine.ecm = {{'fitted': False}}",
        "notApplicable",
        "no control unit",
    ),
    # a balance that lacks a consumer of every wet night is none
    ("power.charge-balance idle", f"{LOADS}.lamps = None", "open", f"{LOADS}.lamps.current"),
    ("power.charge-balance cruise", f"{LOADS}.engine = None", "open", f"{LOADS}.control_unit.current"),
    ("power.charge-balance cruise", f"{LOADS}.fan.stands_for = None", "open", f"{LOADS}.wipers.current"),
    (
        "power.charge-balance cruise",
        f"{LOADS}.fan.stands_for = None; {LOADS}.wipers = {{'fitted': False}}",
        "pass",
        "and 32 A are wanted",
    ),
]
ENGINE = {"voltage": "12 V", "current": "12 A", "duty_idle": "100 %", "duty_cruise": "100 %", "essential": True}


@pytest.mark.parametrize(
    ("name", "more", "asked"),
    [
        ("ECU", {}, False),
        ("injection", {"stands_for": ["control-unit"]}, False),
        ("injection", {"fed_by": ["ecm"]}, False),
        ("injection", {"fed_by": ["cab"]}, True),
        ("engine_lamp", {}, True),
    ],
)
def test_the_control_unit_may_be_listed_under_any_name(name: str, more: dict[str, object], asked: bool) -> None:
    found = trial(COUNTED, {f"{LOADS}.engine": None, f"{LOADS}.{name}": {**ENGINE, **more}})
    assert asked == any(finding.part == f"{LOADS}.control_unit" for finding in found)


@pytest.mark.parametrize("name", ["work_lamps", "cab_lights"])
def test_lamps_that_are_not_those_of_the_road_do_not_stand_for_them(name: str) -> None:
    found = trial(COUNTED, {f"{LOADS}.lamps": None, f"{LOADS}.{name}": ENGINE})
    assert [finding.kind for finding in found if finding.part == f"{LOADS}.lamps"] == ["open"]


@pytest.mark.parametrize(
    ("rule", "edits", "rows"), by_trial([*EXHAUST, *FUEL, *INTAKE, *STEERING, *CONSUMERS, *ONE_OF_TWO])
)
def test_left_out(rule: str, edits: str, rows: tuple[Row, ...]) -> None:
    says(rule.split(".")[0], edits, [(about.partition(".")[2], *rest) for about, *rest in rows])  # type: ignore[misc]


def test_no_return_is_asked_for_where_the_engine_sends_none_back() -> None:
    edits = {f"{R}.{name}.lines": ["supply"] for name in ("frame", "engine-bay")}
    found = trial("fuel.line-routing", {**edits, "plumbing.fuel.return_line": {"fitted": False}})
    assert not [finding for finding in found if finding.part.endswith(".return")]
