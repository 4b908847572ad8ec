"""Coolant, filling, hoses and thermostat of the cooling pack, on hand-worked numbers and reference libraries.

Outside sources: ISO 2533 (pressure at altitude), ASHRAE tables of ethylene glycol, fluids (friction factor), CoolProp
(steam tables IAPWS-95).
"""

from __future__ import annotations

import math
from typing import Any

import fluids
import pytest
from advising import advised

from swaplint.kit.trial import one, trial, value

COOLING = "plumbing.cooling"
SEA = {"build.design.altitude_max": "0 m"}
PRESSURE_1500 = 84_556.0  # Pa, ISO 2533 at 1500 m

# x_water of half and half by volume: equal volumes of 1113.5 and 998.2 kg/m³ (CRC Handbook) are 52.73 % glycol by mass,
# (0.4727/18.015)/(0.4727/18.015 + 0.5273/62.068) = 0.75542
WATER_MOLES = 0.75542


# -- boiling ---------------------------------------------------------------------------------------------------------
LOW_CAP = {"engine.coolant.cap_pressure_min": "20 kPa"}


def test_boiling_point_by_a_reference_library() -> None:
    coolprop = pytest.importorskip("CoolProp.CoolProp")
    boils = coolprop.PropsSI("T", "P", (PRESSURE_1500 + 100e3) / WATER_MOLES, "Q", 0, "Water") - 273.15
    assert value("cooling.boiling-point") == pytest.approx(boils, abs=0.05)
    assert value("cooling.boil-margin") == pytest.approx(boils - 105, abs=0.05)


def test_boil_margin_at_its_limit() -> None:
    coolprop = pytest.importorskip("CoolProp.CoolProp")
    needed = (WATER_MOLES * coolprop.PropsSI("P", "T", 113 + 273.15, "Q", 0, "Water") - PRESSURE_1500) / 1e3
    enough = {**LOW_CAP, f"{COOLING}.cap_pressure": f"{needed + 0.3} kPa"}
    short = {**LOW_CAP, f"{COOLING}.cap_pressure": f"{needed - 0.3} kPa"}
    assert one("cooling.boil-margin", enough).kind == "pass"
    found = one("cooling.boil-margin", short, demand="boiling")
    assert (found.kind, found.level, found.subject) == ("fail", "warning", f"{COOLING}.cap_pressure")
    assert found.advice[0].value == pytest.approx(needed * 1e3, rel=1e-3)
    asked = one("cooling.boil-margin", {**short, "engine.coolant.cap_pressure_min": "90 kPa"}, demand="boiling")
    assert asked.advice[0].value == 90e3  # no cap that only keeps it from boiling


def test_boiling_at_the_limit_temperature_is_an_error() -> None:
    # (84.556 + 10)/0.75542 = 125.2 kPa: water boils at 106 °C (steam tables), the engine may reach 112 °C
    edits = {**LOW_CAP, f"{COOLING}.cap_pressure": "10 kPa", "engine.coolant.top_tank_max": "112 degC"}
    found = one("cooling.boil-margin", {**edits, "engine.coolant.cap_pressure_min": "10 kPa"})
    assert (found.kind, found.level) == ("fail", "error")


def test_altitude_changes_the_verdict_on_boiling() -> None:
    # 0 m: (101.3 + 40)/0.75542 = 187.1 kPa, 118 °C; 3000 m: (70.1 + 40)/0.75542 = 145.8 kPa, 110.4 °C; 113 are wanted
    cap = {**LOW_CAP, f"{COOLING}.cap_pressure": "40 kPa"}
    assert one("cooling.boil-margin", {**cap, **SEA}).kind == "pass"
    assert one("cooling.boil-margin", {**cap, "build.design.altitude_max": "3000 m"}).kind == "fail"


@pytest.mark.parametrize(("cap", "kind"), [("90 kPa", "pass"), ("89 kPa", "fail")])
def test_cap_against_the_sheet(cap: str, kind: str) -> None:
    assert one("cooling.boil-margin", {f"{COOLING}.cap_pressure": cap}).kind == kind


@pytest.mark.parametrize("part", ["radiator", "expansion_tank", "heater"])
def test_cap_against_what_parts_stand(part: str) -> None:
    assert one("cooling.boil-margin", {f"{COOLING}.{part}.pressure_max": "100 kPa"}).kind == "pass"
    found = one("cooling.boil-margin", {f"{COOLING}.{part}.pressure_max": "99 kPa"})
    assert (found.kind, found.level, found.subject) == ("fail", "error", f"{COOLING}.cap_pressure")


def test_a_fail_is_said_while_something_else_is_unknown() -> None:
    edits = {f"{COOLING}.cap_pressure": "80 kPa", "build.design.altitude_max": None}
    assert one("cooling.boil-margin", edits, stage="plan").kind == "fail"
    assert one("cooling.boil-margin", {"build.design.altitude_max": None}, stage="plan").kind == "open"


# -- expansion -------------------------------------------------------------------------------------------------------
def test_expansion_by_hand() -> None:
    # ASHRAE densities 67.08 lb/ft³ at 68 °F and 63.40 at 230 °F: growth 5.80 %; 16·(0.0580 + 0.06) = 1.889 L
    assert value("cooling.expansion-need") == pytest.approx(16 * (67.08 / 63.40 - 1 + 0.06), rel=2e-3)


@pytest.mark.parametrize(("tank", "kind"), [("1.90 L", "pass"), ("1.88 L", "fail")])
def test_expansion_tank_at_its_limit(tank: str, kind: str) -> None:
    found = one("cooling.expansion-volume", {f"{COOLING}.expansion_tank.volume": tank})
    assert (found.kind, found.subject) == (kind, f"{COOLING}.expansion_tank.volume")


def test_reserve_by_common_practice() -> None:
    gone = {"engine.coolant.reserve": None}
    assert value("cooling.expansion-need", gone) == pytest.approx(16 * (0.0580 + 0.05), rel=2e-3)
    heavy = {**gone, "vehicle.weight_class": "heavy"}
    assert value("cooling.expansion-need", heavy) == pytest.approx(16 * (0.0580 + 0.10), rel=2e-3)


def test_system_volume_from_its_parts() -> None:
    # 8 + 5 L and two hoses of π/4·38²·700 mm³ = 0.7939 L each
    assert value("cooling.system-volume", {f"{COOLING}.system_volume": None}) == pytest.approx(14.588, rel=1e-4)


def test_expansion_without_a_tank_volume_is_open() -> None:
    assert one("cooling.expansion-volume", {f"{COOLING}.expansion_tank.volume": None}, stage="plan").kind == "open"


# -- filling ---------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(("height", "kind"), [("0 mm", "pass"), ("-1 mm", "fail")])
def test_tank_height_at_its_limit(height: str, kind: str) -> None:
    found = one("cooling.fill-deaeration", {f"{COOLING}.expansion_tank.above_highest": height})
    assert found.kind == kind
    if kind == "fail":
        assert (found.level, found.subject) == ("error", f"{COOLING}.expansion_tank.above_highest")
        assert advised(found) == {f"{COOLING}.expansion_tank.above_highest": 0.0}


def test_a_tank_too_low_is_filled_by_other_means() -> None:
    low = {f"{COOLING}.expansion_tank.above_highest": "-60 mm"}
    assert one("cooling.fill-deaeration", {**low, f"{COOLING}.expansion_tank.remote_fill": True}).kind == "pass"
    high = {f"{COOLING}.expansion_tank.above_highest": "10 mm", f"{COOLING}.expansion_tank.remote_fill": True}
    assert "10 mm above the highest" in one("cooling.fill-deaeration", high, demand="height").message
    assert one("cooling.fill-deaeration", {**low, f"{COOLING}.expansion_tank.remote_fill": False}).kind == "fail"


@pytest.mark.parametrize(
    ("field", "bad", "good"),
    [
        ("expansion_tank.fill_line_bore", "18 mm", "19 mm"),
        ("expansion_tank.fill_line_to_pump", False, True),
        ("vents.radiator.orifice", "4.1 mm", "4 mm"),
        ("vents.radiator.orifice", "1.9 mm", "2 mm"),
        ("vents.cylinder_head.rises", False, True),
        ("vents.cylinder_head.own_entry", False, True),
    ],
)
def test_vents_and_fill_line(field: str, bad: Any, good: Any) -> None:
    assert one("cooling.fill-deaeration", {f"{COOLING}.{field}": good}).kind == "pass"
    found = one("cooling.fill-deaeration", {f"{COOLING}.{field}": bad})
    assert (found.kind, found.level, found.subject) == ("fail", "warning", f"{COOLING}.{field}")


def test_missing_vent_is_named() -> None:
    found = one("cooling.fill-deaeration", {"engine.coolant.vents": ["cylinder_head", "exhaust_gas_cooler"]})
    assert (found.kind, found.subject) == ("fail", f"{COOLING}.vents")
    assert "exhaust_gas_cooler" in found.message
    assert one("cooling.fill-deaeration", {"engine.coolant.vents": None}, stage="plan").kind == "open"


# -- freezing --------------------------------------------------------------------------------------------------------
def test_freezing_point_against_a_public_table() -> None:
    # public coolant tables: 40 % −24 °C, 50 % −37 °C, 60 % −52 °C
    for glycol, freezes in ((40, -24), (50, -37), (60, -52)):
        found = value("cooling.freezing-point", {f"{COOLING}.coolant.glycol": f"{glycol} %"})
        assert found == pytest.approx(freezes, abs=1.0)


@pytest.mark.parametrize(
    ("coldest", "kind", "level"),
    [("-32 degC", "pass", None), ("-33 degC", "fail", "warning"), ("-38 degC", "fail", "error")],
)
def test_cold_changes_the_verdict_on_freezing(coldest: str, kind: str, level: str | None) -> None:
    # half glycol freezes at −37.1 °C; 5 K of distance are wanted
    found = one("cooling.freeze-protection", {"build.design.ambient_min": coldest})
    assert (found.kind, found.level) == (kind, level)


@pytest.mark.parametrize(
    ("glycol", "kind"), [("40 %", "pass"), ("39 %", "fail"), ("60 %", "pass"), ("61 %", "fail"), ("100 %", "fail")]
)
def test_share_of_glycol_against_the_sheet(glycol: str, kind: str) -> None:
    found = one("cooling.freeze-protection", {f"{COOLING}.coolant.glycol": glycol}, demand="share")
    assert (found.kind, found.subject) == (kind, f"{COOLING}.coolant.glycol")


def test_kind_of_coolant() -> None:
    found = one("cooling.freeze-protection", {f"{COOLING}.coolant.chemistry": "inorganic"})
    assert (found.kind, found.level, found.subject) == ("fail", "warning", f"{COOLING}.coolant.chemistry")
    assert one("cooling.freeze-protection", {"engine.coolant.chemistries": None}, stage="plan").kind == "open"


# -- hoses -----------------------------------------------------------------------------------------------------------
def test_hose_drop_by_a_reference_library() -> None:
    speed = 160 / 60000 / (math.pi / 4 * 0.038**2)
    density, viscosity = 1038.46, 0.992795e-3 / 1038.46  # CoolProp 8.0.0, INCOMP::AEG[0.5], 80 °C
    friction = fluids.friction_factor(Re=speed * 0.038 / viscosity, eD=1.5e-6 / 0.038)
    expected = (friction * 0.7 / 0.038 + 1.5) * density * speed**2 / 2
    assert value("cooling.hose-drop", part="upper") == pytest.approx(expected / 1e3, rel=5e-3)
    assert value("cooling.external-restriction") == pytest.approx(2 * expected / 1e3 + 10, rel=5e-3)


@pytest.mark.parametrize(("flow", "kind"), [("170 L/min", "pass"), ("171 L/min", "fail")])
def test_suction_speed_at_its_limit(flow: str, kind: str) -> None:
    # 2.5 m/s · π/4·38² mm² = 170.1 L/min
    found = one("cooling.external-circuit", {"engine.coolant.flow": flow}, demand="speed.lower")
    assert (found.kind, found.subject) == (kind, f"{COOLING}.hoses.lower.bore")
    if kind == "fail":
        assert found.advice[0].value == 0.042


def test_restriction_at_its_limit() -> None:
    whole = value("cooling.external-restriction")
    for limit, kind in ((whole + 0.1, "pass"), (whole - 0.1, "fail")):
        edits = {"engine.coolant.external_restriction_max": f"{limit} kPa"}
        assert one("cooling.external-circuit", edits).kind == kind
    # without a sheet value 35 kPa: the radiator alone takes 36
    unstated: dict[str, Any] = {
        "engine.coolant.external_restriction_max": None,
        f"{COOLING}.radiator.coolant_drop": "36 kPa",
    }
    assert one("cooling.external-circuit", unstated).kind == "fail"


def test_hose_and_port() -> None:
    narrow = one("cooling.external-circuit", {"engine.coolant.ports.radiator_out.bore": "40 mm"})
    assert (narrow.kind, narrow.subject) == ("fail", f"{COOLING}.hoses.upper.bore")
    nowhere = one("cooling.external-circuit", {f"{COOLING}.hoses.upper.port": "top"})
    assert (nowhere.kind, nowhere.subject) == ("fail", f"{COOLING}.hoses.upper.port")
    soft = one("cooling.external-circuit", {f"{COOLING}.hoses.lower.holds_shape": False})
    assert (soft.kind, soft.subject) == ("fail", f"{COOLING}.hoses.lower.holds_shape")
    assert one("cooling.external-circuit", {f"{COOLING}.hoses.upper.holds_shape": False}).kind == "pass"
    assert one("cooling.external-circuit", {f"{COOLING}.hoses": None}, stage="plan").kind == "open"


# -- thermostat ------------------------------------------------------------------------------------------------------
EXTERNAL = {
    "engine.thermostat.bypass": "external",
    "engine.coolant.ports.bypass_out": {"use": "bypass", "bore": "22 mm"},
}


@pytest.mark.parametrize(
    ("edits", "says"),
    [
        (EXTERNAL, "Nothing is connected to the port bypass_out (bypass), which takes a bore of 22 mm"),
        ({"engine.thermostat.bypass": "external"}, "the engine has no port for one"),
        ({f"{COOLING}.circuit[4]": None}, "Nothing is connected to the port heater_in"),
        ({f"{COOLING}.circuit[4].end": "radiator_in"}, "2 runs are connected to the port radiator_in"),
        # one that leaves it and one that comes back: the heater's
        ({f"{COOLING}.circuit[4].end": "heater_out"}, "2 runs are connected to the port heater_out"),
        (
            {f"{COOLING}.circuit[3].start": "heater_in", f"{COOLING}.circuit[4].end": "heater_out"},
            "The run at the port heater_in (heater-return) goes the wrong way",
        ),
        ({f"{COOLING}.circuit[1].end": "radiater"}, "There is no way out of radiater"),
        (
            {**EXTERNAL, f"{COOLING}.circuit[5]": {"start": "bypass_out", "end": "heater", "can_shut": True}},
            "A valve can shut the bypass",
        ),
    ],
)
def test_wrong_circuits(edits: dict[str, Any], says: str) -> None:
    found = one("cooling.thermostat-circuit", edits)
    assert (found.kind, found.level, found.subject) == ("fail", "error", f"{COOLING}.circuit")
    assert says in found.message


def test_right_circuits() -> None:
    bypass = {"start": "bypass_out", "end": "thermostat_housing"}
    back = {"start": "thermostat_housing", "end": "bypass_in"}
    ports = {"engine.coolant.ports.bypass_in": {"use": "bypass", "bore": "22 mm"}}
    edits = {**EXTERNAL, **ports, f"{COOLING}.circuit[5]": bypass, f"{COOLING}.circuit[6]": back}
    assert one("cooling.thermostat-circuit", edits).kind == "pass"
    plugged = {f"{COOLING}.circuit[4]": None, f"{COOLING}.circuit[3]": None}
    plugs = {f"engine.coolant.ports.{port}.may_be_plugged": True for port in ("heater_in", "heater_out")}
    assert one("cooling.thermostat-circuit", {**plugged, **plugs}).kind == "pass"
    assert one("cooling.thermostat-circuit", {"engine.coolant.ports": None}, stage="plan").kind == "open"


RUNS = [("radiator_out", "radiator"), ("radiator", "radiator_in"), ("heater_out", "heater"), ("heater", "heater_in")]


def circuit(*runs: tuple[str, str], shut: tuple[str, str] | None = None) -> dict[str, Any]:
    """The runs of coolant, one of which a valve can shut."""
    return {f"{COOLING}.circuit": [{"start": a, "end": b, "can_shut": (a, b) == shut} for a, b in runs]}


@pytest.mark.parametrize(
    ("runs", "says"),
    [
        # each port has one run, each part a way in and out, and yet the returns are crossed
        (
            [
                ("radiator_out", "radiator"),
                ("radiator", "heater_in"),
                ("heater_out", "heater"),
                ("heater", "radiator_in"),
            ],
            "comes back at heater_in and not at radiator_in",
        ),
        # the feeds are crossed: hot coolant through the heater only, the radiator fed by the heater's port
        (
            [
                ("radiator_out", "heater"),
                ("radiator", "radiator_in"),
                ("heater_out", "radiator"),
                ("heater", "heater_in"),
            ],
            "comes back at heater_in and not at radiator_in",
        ),
        # parts exchanged: the radiator hangs on the heater's ports
        (
            [
                ("radiator_out", "heater"),
                ("heater", "radiator_in"),
                ("heater_out", "radiator"),
                ("radiator", "heater_in"),
            ],
            "without passing the radiator",
        ),
        # a ring without the engine beside a circuit that is right
        ([*RUNS, ("pre_heater", "tank"), ("tank", "pre_heater")], "No coolant of the engine gets to pre_heater"),
        # a ring that nothing leaves
        (
            [("radiator_out", "loop"), ("loop", "elbow"), ("elbow", "loop"), ("radiator", "radiator_in"), *RUNS[2:]],
            "There is no way into radiator",
        ),
    ],
)
def test_crossed_hoses(runs: list[tuple[str, str]], says: str) -> None:
    found = one("cooling.thermostat-circuit", circuit(*runs))
    assert (found.kind, found.level) == ("fail", "error")
    assert says in found.message


def test_ordinary_circuits_are_not_crossed() -> None:
    # the heater returns through a tee in the lower hose, or into the radiator; a thermostat housing stands in the way
    no_return = {"engine.coolant.ports.heater_in": None}
    tee = [RUNS[0], ("radiator", "tee"), ("tee", "radiator_in"), RUNS[2], ("heater", "tee")]
    assert one("cooling.thermostat-circuit", {**circuit(*tee), **no_return}).kind == "pass"
    tank = [*RUNS[:3], ("heater", "radiator")]
    assert one("cooling.thermostat-circuit", {**circuit(*tank), **no_return}).kind == "pass"
    housing = [("radiator_out", "housing"), ("housing", "radiator"), *RUNS[1:]]
    assert one("cooling.thermostat-circuit", circuit(*housing)).kind == "pass"


BYPASS: dict[str, Any] = {
    "engine.thermostat.bypass": "external",
    "engine.coolant.ports.bypass_out": {"use": "bypass", "bore": "22 mm"},
    "engine.coolant.ports.bypass_in": {"use": "bypass", "bore": "22 mm"},
}


@pytest.mark.parametrize(
    ("runs", "shut", "says"),
    [
        ([("bypass_out", "radiator"), ("radiator", "bypass_in")], None, "runs through the radiator"),
        ([("bypass_out", "valve"), ("valve", "bypass_in")], ("valve", "bypass_in"), "A valve can shut the bypass"),
        # the middle of three runs: neither end of it is a port
        (
            [("bypass_out", "pipe"), ("pipe", "tap"), ("tap", "bypass_in")],
            ("pipe", "tap"),
            "A valve can shut the bypass from pipe to tap",
        ),
        ([("bypass_out", "bypass_in")], None, ""),
        ([("bypass_out", "cooler"), ("cooler", "bypass_in")], None, ""),
    ],
)
def test_the_bypass_is_walked(runs: list[tuple[str, str]], shut: tuple[str, str] | None, says: str) -> None:
    found = one("cooling.thermostat-circuit", {**BYPASS, **circuit(*RUNS, *runs, shut=shut)})
    assert found.kind == ("fail" if says else "pass")
    assert says in found.message


def test_an_external_bypass_may_not_be_plugged() -> None:
    plugged = {"use": "bypass", "bore": "22 mm", "may_be_plugged": True}
    ports = {f"engine.coolant.ports.{name}": plugged for name in ("bypass_in", "bypass_out")}
    found = one("cooling.thermostat-circuit", {"engine.thermostat.bypass": "external", **ports})
    assert found.kind == "fail"
    assert "is plugged" in found.message
    assert one("cooling.thermostat-circuit", {"engine.thermostat.bypass": "internal", **ports}).kind == "pass"


def test_a_hose_is_named_that_fits_its_port() -> None:
    # 160 L/min at 3 m/s take 33.6 mm, so 35 mm of the series; the port has 38 mm
    found = one("cooling.external-circuit", {"plumbing.cooling.hoses.*.bore": "32 mm"}, demand="speed.upper")
    assert (found.kind, found.advice[0].value) == ("fail", 0.038)


# -- what nobody states ------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("rule", "collection", "empty"),
    [
        ("cooling.external-circuit", "plumbing.cooling.hoses", {}),
        ("cooling.thermostat-circuit", "plumbing.cooling.circuit", []),
        ("cooling.thermostat-circuit", "engine.coolant.ports", {}),
        ("cooling.radiator-capacity", "plumbing.cooling.radiator.tests", {}),
    ],
)
def test_a_collection_written_empty_is_a_gap(rule: str, collection: str, empty: Any) -> None:
    for found in trial(rule, {collection: empty}):
        assert (found.kind, found.due) == ("open", True)
        assert collection in found.unknown


def test_hoses_that_are_all_left_out_are_a_gap_too() -> None:
    gone = {f"plumbing.cooling.hoses.{name}": {"fitted": False} for name in ("upper", "lower")}
    assert one("cooling.external-circuit", gone).kind == "open"


@pytest.mark.parametrize(
    ("demand", "field"),
    [
        ("borne.radiator", "plumbing.cooling.radiator.pressure_max"),
        ("borne.expansion-tank", "plumbing.cooling.expansion_tank.pressure_max"),
        ("borne.heater-core", "plumbing.cooling.heater.pressure_max"),
    ],
)
def test_a_part_whose_rating_nobody_knows_is_asked_about(demand: str, field: str) -> None:
    found = one("cooling.boil-margin", {field: None}, demand=demand)
    assert (found.kind, found.due, found.unknown) == ("open", True, (field,))
    for rating, kind in (("100 kPa", "pass"), ("99 kPa", "fail")):  # the cap opens at 100 kPa
        assert one("cooling.boil-margin", {field: rating}, demand=demand).kind == kind


def test_a_part_that_is_not_fitted_need_not_stand_the_cap() -> None:
    gone = {"plumbing.cooling.heater": {"fitted": False}}
    assert "borne.heater-core" not in {found.demand for found in trial("cooling.boil-margin", gone)}


def test_boiling_is_judged_at_the_highest_of_the_places() -> None:
    # as test_boiling_point does at 1500 m, by places
    points = {"build.design.points": {"hut": {"altitude": "3000 m", "ambient": "15 degC"}}}
    there = value("cooling.boil-margin", {"build.design.altitude_max": "3000 m"})
    assert value("cooling.boil-margin", points) == pytest.approx(there)
    assert there < value("cooling.boil-margin")


# -- crossed hoses ----------------------------------------------------------------------
@pytest.mark.parametrize(
    ("hose", "port", "demand"), [("upper", "radiator_in", "port.upper"), ("lower", "radiator_out", "port.lower")]
)
def test_a_hose_on_a_port_of_the_other_side_is_crossed(hose: str, port: str, demand: str) -> None:
    found = one("cooling.external-circuit", {f"plumbing.cooling.hoses.{hose}.port": port}, demand=demand)
    assert (found.kind, found.level, found.subject) == ("fail", "error", f"plumbing.cooling.hoses.{hose}.port")


def test_where_a_hose_on_the_wrong_port_was_to_lead() -> None:
    swapped = {f"{COOLING}.hoses.lower.port": "radiator_out", f"{COOLING}.hoses.upper.port": "radiator_in"}
    said = {found.demand: found.message for found in trial("cooling.external-circuit", swapped)}
    assert said["port.lower"].startswith("The lower hose is to lead to the pump, and sits on the port radiator_out")
    assert said["port.upper"].startswith("The upper hose is to lead away from the engine, and sits on the port")
