"""Each common-practice limit of cooling, intake and exhaust, just inside and just outside; its number typed here."""

from __future__ import annotations

from typing import Any, NamedTuple

import pytest

from swaplint.kit.trial import one

COOLING, CHARGE, OIL = "plumbing.cooling", "plumbing.cooling.charge_cooler", "plumbing.cooling.gearbox_oil"
COOLANT, INTAKE, EXHAUST = "engine.coolant", "plumbing.intake", "plumbing.exhaust"
SENSOR, FILTER = f"{INTAKE}.flow_sensor", f"{INTAKE}.filter"
SEA = {"build.design.altitude_max": "0 m"}
AUTOMATIC: dict[str, Any] = {
    "driveline.gearbox.kind": "automatic",
    "driveline.gearbox.oil_heat": "4 kW",
    f"{COOLING}.coolers.gearbox": {"cools": "gearbox-oil", "place": "elsewhere", "heat": "6 kW"},
}


class Edge(NamedTuple):
    """A limit of a demand: what makes the sheet silent, the field, and its values inside and outside."""

    what: str
    rule: str
    demand: str
    silent: dict[str, Any]
    field: str
    inside: str
    outside: str
    level: str


EDGES = [
    # 423.15·313.15/298.15 = 444.44 K ahead of the cooler: 131.29 K above 40 °C; 30 K are left by 77.15 %
    Edge("charge air 30 K", "cooling.charge-air", "rise",
         {"engine.charge_air.rise_max": None, "engine.charge_air.manifold_temp_max": None},
         f"{CHARGE}.effectiveness", "77.2 %", "77.1 %", "warning"),
    # and 2.5 kPa of pipes
    Edge("charge air 12 kPa", "cooling.charge-air", "drop", {"engine.charge_air.drop_max": None},
         f"{CHARGE}.drop", "9.5 kPa", "9.6 kPa", "warning"),
    Edge("cap 90 kPa", "cooling.boil-margin", "least-cap", {f"{COOLANT}.cap_pressure_min": None},
         f"{COOLING}.cap_pressure", "90 kPa", "89 kPa", "error"),
    Edge("glycol 40 %", "cooling.freeze-protection", "share", {f"{COOLANT}.glycol_min": None},
         f"{COOLING}.coolant.glycol", "40 %", "39 %", "warning"),
    Edge("glycol 60 %", "cooling.freeze-protection", "share", {f"{COOLANT}.glycol_max": None},
         f"{COOLING}.coolant.glycol", "60 %", "61 %", "warning"),
    Edge("vent 2 mm", "cooling.fill-deaeration", "orifice.radiator", {},
         f"{COOLING}.vents.radiator.orifice", "2 mm", "1.9 mm", "warning"),
    Edge("vent 4 mm", "cooling.fill-deaeration", "orifice.radiator", {},
         f"{COOLING}.vents.radiator.orifice", "4 mm", "4.1 mm", "warning"),
    Edge("fill line 19 mm", "cooling.fill-deaeration", "fill-line", {f"{COOLANT}.fill_line_bore_min": None},
         f"{COOLING}.expansion_tank.fill_line_bore", "19 mm", "18.9 mm", "warning"),
    # 160 L/min: 2.5 m/s in a bore of √(4·0.0026667/(π·2.5)) = 36.85 mm, 3 m/s in one of 33.64 mm
    Edge("suction 2.5 m/s", "cooling.external-circuit", "speed.lower", {},
         f"{COOLING}.hoses.lower.bore", "36.9 mm", "36.8 mm", "warning"),
    Edge("delivery 3 m/s", "cooling.external-circuit", "speed.upper", {},
         f"{COOLING}.hoses.upper.bore", "33.7 mm", "33.6 mm", "warning"),
    Edge("gearbox hose 2.07 MPa", "cooling.gearbox-oil", "hose-pressure", {**AUTOMATIC, f"{OIL}.pressure_max": None},
         f"{OIL}.hose_pressure", "2070 kPa", "2060 kPa", "warning"),
    Edge("gearbox hose 150 °C", "cooling.gearbox-oil", "hose-temperature", {**AUTOMATIC, f"{OIL}.temp_max": None},
         f"{OIL}.hose_temperature", "150 degC", "149 degC", "warning"),
    Edge("shroud 85 %", "cooling.fan-flow", "shroud", {},
         f"{COOLING}.fan.shroud_coverage", "85 %", "84.9 %", "warning"),
    Edge("straight 5 diameters", "intake.flow-sensor-run", "straight-up", {"engine.air.flow_sensor.straight_up": None},
         f"{SENSOR}.straight_up", "350 mm", "349 mm", "warning"),
    Edge("straight 2 diameters", "intake.flow-sensor-run", "straight-down",
         {"engine.air.flow_sensor.straight_down": None}, f"{SENSOR}.straight_down", "140 mm", "139 mm", "warning"),
    Edge("inlet 15 K", "intake.inlet-air", "temperature", {"engine.air.temp_rise_max": None},
         f"{INTAKE}.inlet.temp_rise", "15 K", "15.1 K", "warning"),
    Edge("flexible piece 600 mm", "exhaust.flex-section", "place", {},
         f"{EXHAUST}.flex.distance_from_turbo", "600 mm", "601 mm", "warning"),
    Edge("support 500 mm", "exhaust.turbo-load", "support-distance",
         {"engine.exhaust.load_max": None, "engine.exhaust.moment_max": None},
         f"{EXHAUST}.support.support_distance", "500 mm", "501 mm", "warning"),
    Edge("opening 300 mm", "exhaust.outlet", "distance-to-opening", {},
         f"{EXHAUST}.outlet.distance_to_opening", "300 mm", "299 mm", "error"),
    Edge("20 min at load", "exhaust.regeneration", "run",
         {"engine.regeneration.run_time": None, "engine.regeneration.parked": False},
         "build.duty.loaded_run", "20 min", "19 min", "error"),
    Edge("reductant 30 °C", "exhaust.reductant", "tank-temperature", {},
         "plumbing.reductant.tank_temp_max", "30 degC", "30.5 degC", "warning"),
]  # fmt: skip


@pytest.mark.parametrize("edge", EDGES, ids=[edge.what for edge in EDGES])
def test_a_limit_of_common_practice(edge: Edge) -> None:
    # before the build stage, from which on a pass of an error-level rule on a fallback is for a person
    inside = one(edge.rule, {**edge.silent, edge.field: edge.inside}, demand=edge.demand, stage="quote")
    assert inside.kind == "pass", inside.message
    outside = one(edge.rule, {**edge.silent, edge.field: edge.outside}, demand=edge.demand, stage="quote")
    assert (outside.kind, outside.level) == ("fail", edge.level), outside.message


@pytest.mark.parametrize(
    ("fuel", "name", "limit"),
    [
        ("diesel", "clean", 3000.0),
        ("diesel", "dirty", 6200.0),
        ("petrol", "clean", 2000.0),
        ("petrol", "dirty", 3700.0),
    ],
)
def test_intake_restriction_without_a_sheet(fuel: str, name: str, limit: float) -> None:
    edits: dict[str, Any] = {"engine.fuel_type": fuel, f"engine.air.restriction_max_{name}": None}
    found = one("intake.restriction", edits, demand=name, stage="quote")
    assert found.limit is not None
    assert found.limit.value == pytest.approx(limit)


@pytest.mark.parametrize(
    ("fuel", "filter_kind", "limit"),
    [("diesel", "particulate-filter", 20e3), ("diesel", "silencer", 10e3), ("petrol", "silencer", 30e3)],
)
def test_back_pressure_without_a_sheet(fuel: str, filter_kind: str, limit: float) -> None:
    edits: dict[str, Any] = {"engine.fuel_type": fuel, "engine.exhaust.back_pressure_max": None}
    edits[f"{EXHAUST}.devices.filter.kind"] = filter_kind
    found = one("exhaust.back-pressure", edits, demand="pressure", stage="quote")
    assert found.limit is not None
    assert found.limit.value == pytest.approx(limit)


@pytest.mark.parametrize(("coldest", "kind"), [("-15 degC", None), ("-15.5 degC", "fail")])
def test_a_breather_is_kept_from_frost(coldest: str, kind: str | None) -> None:
    edits = {"build.design.ambient_min": coldest, f"{INTAKE}.breather.heated": False}
    if kind is None:
        assert one("intake.crankcase-vent", edits).kind == "pass"
    else:
        assert one("intake.crankcase-vent", edits, demand="frost").kind == kind


@pytest.mark.parametrize(("volume", "kind"), [("1.73 L", "pass"), ("1.72 L", "fail")])
def test_coolant_in_hand_of_a_light_vehicle(volume: str, kind: str) -> None:
    # 16 L grow by 5.80442 % from 20 to 110 °C (ASHRAE: 67.08/63.40 lb/ft³): 0.9287 L, and 5 % are 0.8 L
    edits = {"engine.coolant.reserve": None, f"{COOLING}.expansion_tank.volume": volume}
    assert one("cooling.expansion-volume", edits, stage="quote").kind == kind
