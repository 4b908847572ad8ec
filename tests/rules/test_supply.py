"""The supply pack by hand: counts of who supplies what are small enough to be seen in the specs themselves."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from on_examples import found_on
from swaplint_rules.supply.functions import TABLE

from swaplint.host.named_fields import path_exists
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Finding
from swaplint.kit.edits import edited_data, edited_spec
from swaplint.kit.trial import rule_base, trial
from swaplint.spec.job import Stage
from swaplint.spec.loading import SpecErrors, load_text
from swaplint.spec.model import Build
from swaplint.spec.systems.supply import FUNCTIONS

RULE = "supply.function-coverage"
SPECS = Path(__file__).parents[2] / "specs"


def without(*names: str) -> dict[str, Any]:
    """Edits to the sound spec after which nobody supplies some functions."""
    data = edited_data({})
    edits: dict[str, Any] = {}
    for number, line in enumerate(data["supply"], 1):
        if set(names) & set(line["functions"]):
            edits[f"supply[{number}].functions"] = [name for name in line["functions"] if name not in names] or [
                "other"
            ]
    if set(names) & set(data["engine"]["contains"]):
        edits["engine.contains"] = [name for name in data["engine"]["contains"] if name not in names]
    return edits


def line_of(name: str) -> int:
    """The number of the sound spec's line that names a function."""
    return next(n for n, line in enumerate(edited_data({})["supply"], 1) if name in line["functions"])


def coverage(edits: Mapping[str, Any] | None = None, *, stage: Stage | None = None) -> dict[str, Finding]:
    return {finding.part: finding for finding in trial(RULE, edits, stage=stage)}


# -- the table --------------------------------------------------------------------------------------------------------
def test_every_word_of_the_spec_is_in_the_table_once() -> None:
    assert sorted(function.name for function in TABLE) == sorted(set(FUNCTIONS) - {"other"})


@pytest.mark.parametrize("function", [f for f in TABLE if f.described], ids=str)
def test_what_a_function_must_satisfy_stands_at_a_path_that_exists(function: Any) -> None:
    assert path_exists(Build, function.described)


# -- supplied once ----------------------------------------------------------------------------------------------------
def test_sound_spec_has_every_function_once() -> None:
    found = coverage()
    assert set(found) == {function.name for function in TABLE}
    assert {finding.kind for finding in found.values()} == {"pass"}


def test_a_pass_says_who_and_rests_only_on_the_line_that_names_it() -> None:
    finding = coverage()["fuel-lines"]
    line = f"supply[{line_of('fuel-lines')}]"
    assert "by the shop" in finding.message
    assert "'fuel system'" in finding.message
    assert finding.subject == line
    assert all(path.startswith(line) for path in finding.inputs)
    assert f"{line}.functions[1]" in finding.inputs


def test_what_the_package_contains_is_supplied() -> None:
    finding = coverage()["starter"]
    assert (finding.kind, finding.subject) == ("pass", "engine.contains")
    assert "In the engine package: the starter motor." in finding.message


# -- supplied by nobody -----------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("name", "level", "words"),
    [
        ("heat-shields", "error", ("The heat shields", "the shop makes or buys it", "plumbing.exhaust.heat_gaps")),
        ("starter", "error", ("The starter motor", "it comes with the kit", "engine.starter")),
        ("silencer", "warning", ("The silencer", "the shop makes or buys it", '["silencer"]')),
        ("inspection", "warning", ("The inspection", "the owner arranges it", '["inspection"]')),
    ],
)
def test_missing(name: str, level: str, words: tuple[str, ...]) -> None:
    found = coverage(without(name))
    assert (found[name].kind, found[name].level, found[name].subject) == ("fail", level, "supply")
    assert all(word in found[name].message for word in words)
    assert {part for part, finding in found.items() if finding.kind != "pass"} == {name}


def test_missing_at_the_plan_stage_too() -> None:
    assert coverage(without("heat-shields"), stage="plan")["heat-shields"].kind == "fail"


# name, edit that makes it needed, edit that makes it needless, edit that leaves it unknown, the field that decides
NEEDS: list[tuple[str, dict[str, Any], dict[str, Any], dict[str, Any], str]] = [
    ("clutch", {}, {"driveline.gearbox.kind": "automatic"}, {"driveline.gearbox.kind": None}, "driveline.gearbox.kind"),
    (
        "converter",
        {"driveline.gearbox.kind": "automatic"},
        {},
        {"driveline.gearbox.kind": None},
        "driveline.gearbox.kind",
    ),
    ("pilot-bush", {}, {"driveline.pilot": {"fitted": False}}, {"driveline.pilot": None}, "driveline.pilot"),
    ("adapter", {}, {"driveline.adapter": {"fitted": False}}, {"driveline.adapter": None}, "driveline.adapter"),
    (
        "transfer-case",
        {},
        {"driveline.transfer": {"fitted": False}},
        {"driveline.transfer": None},
        "driveline.transfer",
    ),
    ("propshafts", {}, {"driveline.shafts": {}}, {"driveline.shafts": None}, "driveline.shafts"),
    (
        "axle-gears",
        {"driveline.speedometer.calibrated_axle_ratio": 4.9},
        {},
        {"driveline.axles.*.ratio": None, "driveline.axles.*.ring_teeth": None, "driveline.axles.*.pinion_teeth": None},
        "driveline.axles.front.ratio",
    ),
    (
        "speedometer-drive",
        {"driveline.speedometer.correction": 1.1},
        {},
        {"driveline.speedometer.correction": None},
        "driveline.speedometer.correction",
    ),
    (
        "fuel-filler",
        {"vehicle.original.fuel_type": "petrol"},
        {"vehicle.original.fuel_type": "diesel"},
        {"vehicle.original.fuel_type": None},
        "vehicle.original.fuel_type",
    ),
    (
        "feed-pump",
        {"engine.fuel.feed_pump": "required"},
        {"engine.fuel.feed_pump": "forbidden"},
        {"plumbing.fuel.pump": None},
        "plumbing.fuel.pump",
    ),
    ("control-unit", {}, {"engine.ecm": {"fitted": False}}, {"engine.ecm": None}, "engine.ecm"),
    (
        "charge-air-pipes",
        {},
        {"plumbing.cooling.charge_cooler": {"fitted": False}},
        {"plumbing.cooling.charge_cooler": None},
        "plumbing.cooling.charge_cooler",
    ),
    (
        "oil-coolers",
        {},
        {"plumbing.cooling.coolers": {"return": {"cools": "fuel"}}},
        {"plumbing.cooling.coolers": None},
        "plumbing.cooling.coolers",
    ),
    (
        "reductant-tank",
        {"engine.aftertreatment": {"devices": {"nitrogen": {"kind": "selective-catalyst"}}}},
        {"engine.aftertreatment": {"devices": {"soot": {"kind": "particulate-filter"}}}},
        {"engine.aftertreatment": None},
        "engine.aftertreatment.devices",
    ),
    (
        "aftertreatment",
        {"engine.aftertreatment": {"devices": {"soot": {"kind": "particulate-filter"}}}},
        {"engine.aftertreatment": {"devices": {}}},
        {"engine.aftertreatment": None},
        "engine.aftertreatment.devices",
    ),
    (
        "vacuum-pump",
        {"vehicle.brakes.assist": "vacuum", "engine.vacuum": {"source": "none"}},
        {"vehicle.brakes.assist": "vacuum", "engine.vacuum": {"source": "pump"}},
        {"vehicle.brakes.assist": "vacuum", "engine.vacuum": None},
        "engine.vacuum.source",
    ),
    (
        "vacuum-pump",
        {
            "vehicle.brakes.assist": "vacuum",
            "engine.vacuum": {"source": "manifold"},
            "plumbing.vacuum": {"pump": {"drive": "electric"}},
        },
        {
            "vehicle.brakes.assist": "vacuum",
            "engine.vacuum": {"source": "manifold"},
            "plumbing.vacuum": {"pump": {"fitted": False}},
        },
        {
            "vehicle.brakes.assist": "vacuum",
            "engine.vacuum": {"source": "manifold"},
            "plumbing.vacuum": None,
        },
        "plumbing.vacuum.pump",
    ),
    (
        "vacuum-pump",  # the booster's hose leads to the pump, or to the manifold, which makes vacuum
        {
            "vehicle.brakes.assist": "vacuum",
            "engine.vacuum": {"source": "manifold"},
            "plumbing.vacuum": {"supply": "pump"},
        },
        {
            "vehicle.brakes.assist": "vacuum",
            "engine.vacuum": {"source": "manifold"},
            "plumbing.vacuum": {"supply": "manifold"},
        },
        {"vehicle.brakes.assist": "vacuum", "engine.vacuum": None, "plumbing.vacuum": {"supply": "manifold"}},
        "engine.vacuum.source",
    ),
    (
        "brake-booster",
        {"vehicle.brakes.assist": "hydraulic"},
        {"vehicle.brakes.assist": "none"},
        {"vehicle.brakes.assist": None},
        "vehicle.brakes.assist",
    ),
    (
        "steering-pump",
        {"vehicle.steering.assist": "hydraulic"},
        {"vehicle.steering.assist": "electric"},
        {"vehicle.steering.assist": None},
        "vehicle.steering.assist",
    ),
    ("isolator", {}, {"electrics.isolator": {"fitted": False}}, {"electrics.isolator": None}, "electrics.isolator"),
    (
        "intake-heater-cable",
        {},
        {"engine.intake_heater": {"fitted": False}},
        {"engine.intake_heater": None},
        "engine.intake_heater",
    ),
]


@pytest.mark.parametrize(("name", "needed", "needless", "unknown", "field"), NEEDS, ids=[n[0] for n in NEEDS])
def test_need(name: str, needed: dict[str, Any], needless: dict[str, Any], unknown: dict[str, Any], field: str) -> None:
    bare = without(name)
    missing = coverage({**bare, **needed})[name]
    assert (missing.kind, missing.unknown) == ("fail", ())
    assert coverage({**bare, **needless})[name].kind == "notApplicable"
    open_ = coverage({**bare, **unknown}, stage="plan")[name]
    assert (open_.kind, field in open_.unknown) == ("open", True)
    late = coverage({**bare, **unknown}, stage="quote")[name]
    assert (late.kind, late.due, field in late.unknown) == ("open", True, True)


def test_converters_are_needed_where_the_spec_describes_some() -> None:
    bare = without("voltage-converters")
    assert coverage(bare)["voltage-converters"].kind == "notApplicable"
    radio = {"electrics.converters": {"radio": {"output_voltage": "24 V", "power": "20 W"}}}
    assert coverage({**bare, **radio})["voltage-converters"].kind == "fail"


@pytest.mark.parametrize(
    ("name", "edits"),
    [
        ("propshafts", {"driveline.shafts.front.fitted": False, "driveline.shafts.rear.fitted": False}),
        ("voltage-converters", {"electrics.converters": {"radio": {"fitted": False}}}),
        ("oil-coolers", {"plumbing.cooling.coolers": {"gearbox": {"fitted": False}}}),
        # an axle of another ratio that is not there
        ("axle-gears", {"driveline.axles.front.ratio": 4.1, "driveline.axles.front.fitted": False}),
    ],
)
def test_a_part_that_is_not_fitted_needs_no_supplier(name: str, edits: dict[str, Any]) -> None:
    assert coverage({**edits, **without(name)})[name].kind == "notApplicable"


def test_axle_gears_are_not_needed_where_nobody_says_that_the_ratio_changed() -> None:
    edits = {**without("axle-gears"), "driveline.speedometer.calibrated_axle_ratio": None}
    assert coverage(edits)["axle-gears"].kind == "notApplicable"


# -- supplied more than once ------------------------------------------------------------------------------------------
def test_two_lines() -> None:
    found = coverage({"supply[2].functions": ["radiator", "charge-air-cooler", "cooling-fan", "fan-shroud",
                                              "expansion-tank", "silencer"]})  # fmt: skip
    finding = found["silencer"]
    assert (finding.kind, finding.level, finding.subject) == ("fail", "warning", "supply[3]")
    assert "twice" in finding.message
    assert "(by the kit)" in finding.message
    assert "(by the shop)" in finding.message
    assert [part for part, f in found.items() if f.kind != "pass"] == ["silencer"]


def test_a_second_alternator_beside_the_one_in_the_package() -> None:
    finding = coverage({"supply[5].functions": ["battery", "battery-tray", "alternator"]})["alternator"]
    assert (finding.kind, finding.level, finding.subject) == ("fail", "warning", "supply[5]")
    assert "the engine package and with 'battery'" in finding.message


def test_small_parts_may_come_from_several() -> None:
    assert coverage({"supply[5].functions": ["battery", "battery-tray", "consumables"]})["consumables"].kind == "pass"


def test_named_twice_in_one_line_is_named_once() -> None:
    assert coverage({"supply[5].functions": ["battery", "battery", "battery-tray"]})["battery"].kind == "pass"


# -- already there, and not required ----------------------------------------------------------------------------------
def test_existing_needs_its_condition() -> None:
    line = line_of("gearbox")
    assert "opened, seals and bearings renewed" in coverage()["gearbox"].message
    finding = coverage({f"supply[{line}].condition": None})["gearbox"]
    assert (finding.kind, finding.level, finding.subject) == ("fail", "note", f"supply[{line}]")


def not_required(name: str, reason: str | None) -> dict[str, Any]:
    count = len(edited_data({})["supply"])
    line = {"item": "left out", "by": "not-required", "functions": [name]} | ({"reason": reason} if reason else {})
    return {**without(name), f"supply[{count + 1}]": line}


def test_not_required() -> None:
    # not needed by this build: nothing to argue about
    assert coverage(not_required("converter", "a manual gearbox"))["converter"].kind == "pass"
    # needed, though the vehicle runs without: the reason settles it
    assert coverage(not_required("silencer", "the turbocharger is enough"))["silencer"].kind == "pass"
    # needed and essential: a person looks at the reason
    reviewed = coverage(not_required("heat-shields", "nothing is near"))["heat-shields"]
    assert reviewed.kind == "review"
    assert "nothing is near" in reviewed.message


@pytest.mark.parametrize(("name", "level"), [("heat-shields", "error"), ("silencer", "note"), ("converter", "note")])
def test_not_required_without_a_reason(name: str, level: str) -> None:
    finding = coverage(not_required(name, None))[name]
    assert (finding.kind, finding.level) == ("fail", level)


# -- what is not said -------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("edits", "unknown"),
    [
        ({"supply": None}, "supply"),
        ({"engine.contains": None}, "engine.contains"),
        ({"supply": [{"item": "clutch", "by": "shop"}, {"item": "tank", "by": "shop"}]}, "supply[1].functions"),
    ],
    ids=["no scope of supply", "no list of the package", "no functions"],
)
def test_one_question_at_first(edits: dict[str, Any], unknown: str) -> None:
    (open_,) = trial(RULE, edits, stage="plan")
    assert (open_.kind, open_.unknown[0]) == ("open", unknown)
    (late,) = trial(RULE, edits, stage="quote")
    assert (late.kind, late.due, late.unknown[0]) == ("open", True, unknown)


def test_an_empty_spec_is_asked_for_the_scope_and_the_package_only() -> None:
    base = rule_base()
    inspection, _ = inspect(base, load_text("[build]\nstage = 'plan'\n", model=base.model))
    (finding,) = [f for f in inspection.findings if f.rule.id == RULE]
    assert (finding.kind, finding.unknown[0]) == ("open", "supply")
    assert set(finding.unknown) <= {"supply", "engine.contains"}


def test_a_scope_of_supply_without_a_line_is_a_gap() -> None:
    (found,) = trial(RULE, {"supply": []})
    assert (found.kind, found.unknown) == ("open", ("supply",))
    assert "supply is empty" in found.message


def test_a_bare_engine() -> None:
    found = coverage({"engine.contains": []})
    assert found["alternator"].kind == "fail"
    assert found["clutch"].kind == "pass"


def test_a_line_that_does_not_say_what_it_covers() -> None:
    count = len(edited_data({})["supply"])
    winch = {"item": "front winch", "by": "shop"}
    part = f"supply[{count + 1}]"
    silent = coverage({part: winch}, stage="plan")[part]
    assert (silent.kind, silent.unknown) == ("open", (f"{part}.functions",))
    empty = coverage({part: {**winch, "functions": []}})[part]
    assert (empty.kind, empty.level, empty.subject) == ("fail", "warning", f"{part}.functions")
    assert part not in coverage({part: {**winch, "functions": ["other"]}})


def test_a_line_that_does_not_say_who() -> None:
    finding = coverage({"supply[5].by": None}, stage="plan")["battery"]
    assert (finding.kind, finding.unknown) == ("open", ("supply[5].by",))


def test_a_word_that_is_none_of_the_list() -> None:
    with pytest.raises(SpecErrors, match="did you mean 'adapter'"):
        edited_spec({"supply[5].functions": ["adaptor"]})


# -- the examples -----------------------------------------------------------------------------------------------------
def example(name: str, edits: Mapping[str, Any] | None = None) -> dict[str, Finding]:
    return {finding.part: finding for finding in found_on(name, edits) if finding.rule.id == RULE}


def failing(found: Mapping[str, Finding], level: str) -> set[str]:
    return {part for part, f in found.items() if f.kind == "fail" and f.level == level and not f.unknown}


class TestTender:
    def test_gaps_left_in_it(self) -> None:
        found = example("tarnholt-tender.toml")
        assert failing(found, "error") == set()
        assert failing(found, "warning") == {"engineering-report", "starter-cable"}
        assert failing(found, "note") == {"brake-booster"}
        assert "'two batteries 110 Ah, tray and cables' (by the owner)" in found["starter-cable"].message

    def test_new_axle_ratio_asks_for_gears(self) -> None:
        # 6.17 before, 4.88 now
        gears = "gear sets 4.88 for both axles, and speedometer adapter"
        data = tomllib.loads((SPECS / "tarnholt-tender.toml").read_text(encoding="utf-8"))
        line = next(n for n, entry in enumerate(data["supply"], 1) if entry["item"] == gears)
        found = example("tarnholt-tender.toml", {f"supply[{line}].functions": ["other"]})
        assert "axle-gears" in failing(found, "error")
        assert "speedometer-drive" in failing(found, "warning")

    def test_the_certified_aftertreatment_is_not_in_the_package(self) -> None:
        found = example("tarnholt-tender.toml", {"supply[5].functions": ["exhaust-pipes", "exhaust-flex", "silencer"]})
        assert found["aftertreatment"].kind == "fail"


class TestVan:
    def test_draft_without_the_wiring(self) -> None:
        found = example("skerrivar-van.toml")
        assert {"main-fuse", "ground-straps", "heat-shields"} <= failing(found, "error")
        assert {"start-interlock", "diagnostic-connector", "engineering-report"} <= failing(found, "warning")
        assert {"brake-booster", "vacuum-hose", "key-switch"} <= failing(found, "note")

    def test_what_a_two_wheel_drive_van_does_without(self) -> None:
        found = example("skerrivar-van.toml")
        assert {part for part in ("transfer-case", "converter", "isolator", "fuel-cooler", "intake-heater-cable")
                if found[part].kind == "notApplicable"} == {
            "transfer-case", "converter", "isolator", "fuel-cooler", "intake-heater-cable"}  # fmt: skip
