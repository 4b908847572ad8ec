"""Slips that builders make in vehicles unlike the examples: each is told, at the part where it was made.

A van with its gearbox across the nose and petrol without a return, a lorry of 24 V with an automatic gearbox, and a bus
with its engine behind, a mechanical injection and long pipes to its radiator were built, and a slip made in each.
"""

from __future__ import annotations

from typing import Any

import pytest
from swaplint_rules.driveline.interfaces import AUTOMATIC as AUTO

from swaplint.kit.trial import of_part, one, trial


# -- converter --------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("edits", "demand", "kind", "level", "words"),
    [
        ({}, "flex-plate", "pass", None, "bolts to a flex-plate"),
        ({"engine.flywheel.kind": "solid"}, "flex-plate", "fail", "warning", "solid, as for a clutch"),
        ({"engine.flywheel.kind": "dual-mass"}, "flex-plate", "fail", "warning", "dual mass, as for a clutch"),
        ({"driveline.clutch.fitted": True}, "flex-plate", "review", None, "one of the two is not there"),
        # 340 N·m at 6000 r/min: it takes 340·(3400/6000)² = 109 N·m at the curve's last speed, where 265 are given
        (
            {"driveline.converter.rated_stall_speed": "6000 r/min"},
            "stall-speed",
            "fail",
            "warning",
            "more than 3400 r/min",
        ),
        # 340·(3400/3800)² = 272 N·m at 3400 r/min, more than the 265: it stalls before that
        ({"driveline.converter.rated_stall_speed": "3800 r/min"}, "stall-speed", "fail", "warning", "stalls at 33"),
    ],
)
def test_a_converter(edits: dict[str, Any], demand: str, kind: str, level: str | None, words: str) -> None:
    found = one("driveline.converter-match", {**AUTO, **edits}, demand=demand)
    assert (found.kind, found.level) == (kind, level)
    assert words in found.message


def test_a_converter_pressed_into_the_pump() -> None:
    # 42 mm of the converter stand ahead of the bell; 10 mm of adapter and 25 mm of flex-plate leave 35 mm for them
    found = one("driveline.depth-stack", {**AUTO, "driveline.adapter.thickness": "10 mm"}, demand="converter-gap")
    assert (found.kind, found.level) == ("fail", "error")
    assert "There is 7 mm too little room: the converter is pressed into" in found.message


# -- voltage and batteries --------------------------------------------------------------------------------------------
UNIT = {"kind": "switched", "current": "1 A", "fuse": "5 A", "live_in_crank": False}
CONTROLLER: dict[str, Any] = {"essential": False, "wiring_kept": False, "feeds": {"key": UNIT}}


@pytest.mark.parametrize(
    ("unit", "more", "kind", "words"),
    [
        ({"voltage": "12 V"}, {}, "pass", "The control unit display is for 12 V"),
        ({"voltage": "14 V"}, {}, "pass", "The control unit display is for 14 V"),
        (
            {"voltage": "24 V"},
            {},
            "fail",
            "The control unit display is for 24 V, the vehicle has 12 V: fit one for 12 V",
        ),
        (
            {"voltage": "24 V"},
            {"electrics.converters": {"up": {"output_voltage": "24 V", "power": "60 W"}}},
            "pass",
            "A converter gives the control unit display its 24 V",
        ),
    ],
)
def test_a_controller_of_another_voltage(unit: dict[str, Any], more: dict[str, Any], kind: str, words: str) -> None:
    edits = {"electrics.controllers": {"display": {**CONTROLLER, **unit}}, **more}
    found = one("power.system-voltage", edits, demand="controller.display")
    assert found.kind == kind
    assert words in found.message


BATTERY = {
    "voltage": "6 V", "cca": "800 A", "cca_standard": "EN 50342-1", "capacity": "95 Ah", "place": "engine-space",
}  # fmt: skip
LINK = {
    "role": "battery-link", "start": "main-battery", "end": "other-battery", "size": "50 mm2", "length": "0.3 m",
    "insulation_temp": "105 degC", "place": "engine-space", "bundled_with": 0, "fused": False, "sleeved": True,
}  # fmt: skip


def test_batteries_in_series_are_joined() -> None:
    two = {"electrics.batteries": {"main": BATTERY, "other": BATTERY}}
    found = one("power.crank-loop", two)
    assert (found.kind, found.level, found.subject) == ("fail", "error", "electrics.cables")
    assert "2 batteries in series take 1 link between them, and 0 are stated" in found.message
    assert one("power.crank-loop", {**two, "electrics.cables.link": LINK}).kind == "pass"


# -- engine without a control unit ------------------------------------------------------------------------------------
MECHANICAL: dict[str, Any] = {"engine.ecm": {"fitted": False}, "engine.fuel.injection": "mechanical-injection"}


def test_nothing_stops_the_engine() -> None:
    found = one("controls.engine-stop", {**MECHANICAL, "engine.stop": {"fitted": False}})
    assert (found.kind, found.level, found.subject) == ("fail", "error", "engine.stop")
    assert "neither a control unit nor a stop device" in found.message
    # behind a control unit it means that there is no other device
    assert one("controls.engine-stop", {"engine.stop": {"fitted": False}}).kind == "notApplicable"


OWN_SWITCH = {
    **MECHANICAL,
    "plumbing.cooling.fan.drive": "electric",
    "electrics.fan_control.takes": "own-thermo-switch",
}


@pytest.mark.parametrize(
    ("edits", "kind", "subject"),
    [
        ({"electrics.cables.fan.switched_by": ["thermo-switch"]}, "pass", "electrics.cables.fan.relay_rating"),
        ({"electrics.cables.fan.switched_by": None}, "pass", "electrics.cables.fan.relay_rating"),
        ({"electrics.cables.fan.switched_by": ["ecm-fan"]}, "fail", "electrics.cables.fan.switched_by"),
        ({"electrics.cables.fan.relay_rating": None}, "open", "electrics.fan_control"),
    ],
)
def test_what_switches_a_fan_that_the_engine_does_not_drive(edits: dict[str, Any], kind: str, subject: str) -> None:
    found = one("controls.fan-output", {**OWN_SWITCH, **edits}, demand="switched")
    assert (found.kind, found.subject) == (kind, subject)


# -- cooling ----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("current", "kind"),
    # 1.2 m³/s at 300 Pa are 360 W, the most of the curve; 30 A of 12 V are as much
    [("10 A", "review"), ("29.9 A", "review"), ("30.1 A", "pass")],
)
def test_a_fan_takes_in_what_it_gives_to_the_air(current: str, kind: str) -> None:
    edits = {
        "plumbing.cooling.fan.drive": "electric",
        "plumbing.cooling.fan.curve_voltage": "13 V",
        "plumbing.cooling.fan.motor_voltage": "13 V",
        "electrics.loads.fan.current": current,
    }
    found = one("cooling.fan-flow", edits, demand="motor-power")
    assert (found.kind, found.subject) == (kind, "plumbing.cooling.fan.curve")
    assert "the fan gives 360 W to the air" in found.message
    assert ("No motor does that" in found.message) == (kind == "review")


@pytest.mark.parametrize(
    ("length", "kind"),
    # 8 + 5 L and 38 mm of bore, 1.134 L for each metre of two hoses: 16 L are 85 % of 18.82, at 2.57 m each
    [("2.5 m", "pass"), ("2.6 m", "review")],
)
def test_long_pipes_take_more_coolant(length: str, kind: str) -> None:
    edits = {f"plumbing.cooling.hoses.{hose}.length": length for hose in ("upper", "lower")}
    found = one("cooling.expansion-volume", edits)
    assert found.kind == kind
    assert ("long pipes take more coolant" in found.message) == (kind == "review")


# -- tyres and fuel ---------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("index", "kind", "level"),
    # kept at 35 of 550 kPa: at half of it two tyres carry 0.5743 times twice their index, 1180 or 800 kg
    [(114, "review", None), (100, "fail", "error")],
)
def test_a_pressure_below_the_tables(index: int, kind: str, level: str | None) -> None:
    edits = {"driveline.tyres.pressure_front": "35 kPa", "driveline.tyres.load_index_single": index}
    found = of_part("mass.tyre-load", "laden front", edits)
    assert (found.kind, found.level) == (kind, level)
    assert ("carry 919 kg at half of the pressure" in found.message) == (index == 100)


def test_a_return_line_that_the_engine_does_not_use() -> None:
    petrol = {"engine.fuel_type": "petrol", "engine.fuel.injection": "port-petrol", "engine.fuel.return_flow": "0 L/h"}
    found = one("fuel.return-pressure", petrol, demand="line")
    assert (found.kind, found.subject) == ("review", "plumbing.fuel.return_line")
    assert (
        one("fuel.return-pressure", {**petrol, "plumbing.fuel.return_line": {"fitted": False}}).kind == "notApplicable"
    )


def test_who_supplies_the_half_shafts_of_a_front_wheel_drive() -> None:
    edits = {"driveline.axles.front.integral": True, "supply[9].functions[4]": "brackets"}
    found = of_part("supply.function-coverage", "half-shafts", edits)
    assert (found.kind, found.level) == ("fail", "error")


@pytest.mark.parametrize(
    ("source", "low", "kind"),
    [("gearbox-output", 2.5, "review"), ("gearbox-output", 1.0, None), ("transfer-output", 2.5, None)],
)
def test_a_speed_signal_from_ahead_of_the_low_range(source: str, low: float, kind: str | None) -> None:
    found = trial("gearing.speedometer", {"driveline.speedometer.source": source, "driveline.transfer.low": low})
    about = [f for f in found if f.demand == "low-range"]
    assert [f.kind for f in about] == ([kind] if kind else [])
    assert all("in low range it shows 2.50 times the true speed" in f.message for f in about)


TURNED = {"vehicle.engine_place.front_faces": "rear"}
FORWARD = "driveline.drivetrain.turns_forward"


@pytest.mark.parametrize(
    ("edits", "kind", "level"),
    [
        ({}, "notApplicable", None),
        (TURNED, "open", None),
        ({**TURNED, FORWARD: True}, "pass", None),
        # an axle turned round with its engine: as the mirror has it, five gears backwards
        ({**TURNED, FORWARD: False}, "fail", "error"),
        ({FORWARD: False}, "fail", "error"),
    ],
)
def test_an_engine_that_faces_the_rear(edits: dict[str, Any], kind: str, level: str | None) -> None:
    found = one("driveline.sense-of-rotation", edits)
    assert (found.kind, found.level, found.due) == (kind, level, kind == "open")


def test_a_shaft_to_an_axle_that_nobody_named_is_no_crash() -> None:
    found = trial("fit.shaft-plunge-ground", {"driveline.shafts.rear.drives": "back"})
    assert "rise-sense" not in {f.demand for f in found if f.part.endswith("shafts.rear")}


@pytest.mark.parametrize(("capacity", "kind"), [("2000 Nm", "pass"), ("2050 Nm", "review"), ("5600 Nm", "review")])
def test_a_clutch_of_ten_times_the_torque(capacity: str, kind: str) -> None:
    # six times 340 N·m are 2040
    found = one("driveline.clutch-capacity", {"driveline.clutch.torque_capacity": capacity}, demand="capacity")
    assert found.kind == kind
    assert ("look at the decimal point" in found.message) == (kind == "review")
