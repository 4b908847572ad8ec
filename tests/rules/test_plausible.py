"""The pack of plausible values, on hand-worked slips.

Conversion factors in the comments: NIST SP 811, Appendix B. The plausible ranges are the project's own, read from the
fields, so the tests state values on either side of whatever they are.
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from swaplint_rules.plausible import slips  # type: ignore[import-not-found]

from swaplint.api import SYSTEMS, declared_fields, stated_values, value_at
from swaplint.build.view import View
from swaplint.host.packs import load_rule_base
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Finding
from swaplint.inspecting.running import run_rule
from swaplint.kit.edits import edited_data, edited_spec
from swaplint.kit.trial import rule_base, trial
from swaplint.spec.facts import FieldFacts
from swaplint.spec.loading import load_spec, load_text
from swaplint.units import KINDS, from_unit


def doubts(system: str, edits: dict[str, Any]) -> list[Finding]:
    found = trial(f"{system}.plausible-value", edits)
    assert all(f.kind in ("review", "pass") for f in found)
    return [f for f in found if f.kind == "review"]


# field, value as stated, what the message must name as the value that was meant
SLIPS = [
    # 88 000 lb = 88 000 × 0.453 592 37 kg = 39 916.1 kg
    ("mass", "vehicle.mass.gvwr", "88000 kg", "in pounds it would be 39 916 kg"),
    # 31 in = 787.4 mm
    ("gearing", "driveline.tyres.overall_diameter", "31 mm", "In inches it would be 787.4 mm"),
    # a circumference of 2240 mm written with the sign of inches
    ("gearing", "driveline.tyres.rolling_circumference", "2240 in", "In millimetres it would be 2240 mm"),
    # 9000 ft = 2743.2 m
    ("compliance", "build.design.altitude_max", "9000 m", "in feet it would be 2743 m"),
    # (104 − 32)/1.8 = 40
    ("compliance", "build.design.ambient_max", "104 degC", "In degrees Fahrenheit it would be 40 °C"),
    # atan(0.6) = 30.96 deg
    ("compliance", "build.design.tilt_side", "60 deg", "as a grade in per cent it would be 30.96°"),
    # 12 mph = 12 × 1.609 344 = 19.31 km/h
    ("compliance", "build.design.cruise_speed", "12 km/h", "in miles an hour it would be 19.31 km/h"),
    # 5300 lb ft = 5300 × 1.355 818 = 7186 N m is out of the range: only the decimal place is named
    ("gearing", "engine.torque.launch", "5300 Nm", "With the decimal point one place to the left it would be 530 N m"),
    # 15 lb ft = 20.34 N m
    ("gearing", "engine.torque.launch", "15 Nm", "in pound-feet it would be 20.34 N m"),
    ("gearing", "driveline.axles.rear.ratio", 41.0, "one place to the left it would be 4.1"),
    ("gearing", "driveline.gearbox.ratios[1]", 430.0, "two places to the left it would be 4.3"),
    ("gearing", "driveline.drivetrain.efficiency", "0.9 %", "two places to the right it would be 90 %"),
    # 5 and 50 kW are both possible; 50 is nearer to the typical 30
    ("compliance", "build.duty.stationary_power", "0.5 kW", "two places to the right it would be 50 kW"),
    # 380 hp = 283.4 kW
    ("compliance", "build.duty.stationary_power", "380 kW", "in horsepower it would be 283.4 kW"),
]


@pytest.mark.parametrize(("system", "path", "written", "meant"), SLIPS)
def test_names_the_slip(system: str, path: str, written: object, meant: str) -> None:
    (found,) = doubts(system, {path: written})
    assert found.subject == path
    assert meant in found.message
    assert path in found.inputs
    assert found.limit is not None
    assert found.level is None


# What the slip table makes of a number, for kinds of which no field may exist yet. SI values.
@pytest.mark.parametrize(
    ("kind", "unit", "plausible", "typical", "written", "meant"),
    [
        # 36 psi = 36 × 6.894 757 kPa = 248.2 kPa
        ("gauge_pressure", "kPa", (100, 500), 250, "36 kPa", 248211.3),
        # 250 bar for 250 kPa
        ("gauge_pressure", "kPa", (100, 500), 250, "250 bar", 250e3),
        # 2.5 kPa for 2.5 bar
        ("gauge_pressure", "kPa", (100, 500), 250, "2.5 kPa", 250e3),
        # 16 imp gal = 16 × 4.546 09 L = 72.74 L
        ("volume", "L", (40, 300), 73, "16 L", 0.07273744),
        # 20 US gal = 20 × 3.785 411 784 L = 75.71 L
        ("volume", "L", (40, 300), 75.7, "20 L", 0.07570823568),
        # 70 L written as 70 US gal = 264.98 L
        ("volume", "L", (40, 200), 70, "70 US gal", 0.07),
        # 2 L/min = 120 L/h
        ("volume_flow", "L/h", (50, 600), 120, "2 L/h", 0.120 / 3600),
        ("temperature", "degC", (60, 120), 90, "195 degC", 273.15 + 163 / 1.8),
        ("temperature", "degC", (60, 120), 90, "90 degF", 273.15 + 90),
        ("temperature", "degC", (60, 120), 90, "9 degC", 273.15 + 90),
        # 90 °C by the unit and 19.4 °C by the decimal point are both possible; 19.4 is nearer to the typical 20
        ("temperature", "degC", (0, 120), 20, "194 degC", 273.15 + 19.4),
        # 12 deg as a grade: tan 12° = 0.212 557
        ("grade", "%", (20, 60), 25, "12 %", 0.2125566),
        ("length", "m", (2, 4), 2.8, "9.2 m", 9.2 * 0.3048),
        # 85 per cent as an angle: tan 85° = 11.43
        ("grade", "%", (1100, 1200), 1143, "85 %", math.tan(math.radians(85))),
        # written in the one and meant in the other
        ("mass", "kg", (1400, 1600), 1500, "1500 lb", 1500),
        ("length", "mm", (2000, 2500), 2240, "2240 in", 2.240),
        ("length", "mm", (700, 800), 787, "31 mm", 31 * 0.0254),
        ("length", "m", (2.7, 2.9), 2.8, "2.8 ft", 2.8),
        ("length", "km", (150, 170), 160, "100 km", 100 * 1609.344),
        ("length", "km", (95, 105), 100, "100 mi", 100e3),
        ("gauge_pressure", "kPa", (240, 260), 250, "250 psi", 250e3),
        ("gauge_pressure", "kPa", (240, 260), 248, "36 bar", 36 * 6894.757),
        ("gauge_pressure", "kPa", (240, 260), 250, "2.5 psi", 250e3),
        ("gauge_pressure", "bar", (2.45, 2.55), 2.5, "250 bar", 250e3),
        ("gauge_pressure", "kPa", (245, 255), 250, "2.5 kPa", 250e3),
        ("torque", "N m", (290, 310), 300, "300 lb ft", 300),
        ("speed", "km/h", (85, 95), 90, "90 mph", 25.0),
        ("power", "kW", (95, 105), 100, "100 hp", 100e3),
        ("volume_flow", "L/h", (110, 130), 120, "120 L/min", 0.120 / 3600),
        # the decimal point, three places away
        ("length", "m", (2.7, 2.9), 2.8, "2.8 mm", 2.8),
        ("length", "m", (2.7, 2.9), 2.8, "2800 m", 2.8),
    ],
)
def test_slip_table(
    kind: str, unit: str, plausible: tuple[float, float], typical: float, written: str, meant: float
) -> None:
    facts = FieldFacts("measure", "example", KINDS[kind], unit, typical, plausible)
    found = slips.explain(float(facts.read(written).value), written, facts)
    assert found[0].value == pytest.approx(meant, rel=1e-5)


def test_a_share_is_not_taken_for_an_angle() -> None:
    # 12 degrees are a grade of 21 %, and a share has no degrees
    for kind, read in (("grade", 1), ("share", 0)):
        facts = FieldFacts("measure", "example", KINDS[kind], "%", 25.0, (20.0, 60.0))
        assert len(slips.explain(0.12, "12 %", facts)) == read


def test_a_rule_is_shown_on_a_field_that_needs_no_part_of_its_own() -> None:
    for _, each in rule_base().rules:
        if each.id.endswith(".plausible-value"):
            owners = ("compliance", "") if each.id.startswith("compliance") else (each.id.split(".")[0],)
            paths = [p for owner in owners for p, f in declared_fields(owner) if f.plausible and f.typical is not None]
            plain = [path for path in paths if not set("*[") & set(path)]
            assert not plain or set(each.bad[0]) <= set(plain)


def test_unit_as_written_decides() -> None:
    # 88 t is as implausible as 88 000 kg, but nobody writes pounds with the sign of a tonne.
    (found,) = doubts("mass", {"vehicle.mass.gvwr": "88 t"})
    assert "pounds" not in found.message
    assert "8800 kg" in found.message


def test_no_slip_explains_it() -> None:
    facts = FieldFacts("number", "example", typical=2.0, plausible=(1.9, 2.1))
    assert slips.explain(7.0, "7", facts) == []


@pytest.mark.parametrize("end", [0, 1])
def test_boundary(end: int) -> None:
    facts = dict(declared_fields("mass"))["vehicle.mass.gvwr"]
    assert facts.plausible is not None
    bound = facts.plausible[end]
    outward = 1 if end else -1
    assert doubts("mass", {"vehicle.mass.gvwr": f"{bound} kg"}) == []
    assert doubts("mass", {"vehicle.mass.gvwr": f"{bound - outward} kg"}) == []
    assert len(doubts("mass", {"vehicle.mass.gvwr": f"{bound + outward} kg"})) == 1


def test_bound_survives_conversion() -> None:
    # 1 lb = 0.453 592 37 kg exactly: 500 kg in pounds, to the digits that a person would copy.
    assert doubts("mass", {"vehicle.mass.gvwr": f"{500 / 0.45359237!r} lb"}) == []


def test_each_field_has_its_own_finding() -> None:
    found = doubts("gearing", {"driveline.axles.rear.ratio": 41.0, "driveline.tyres.overall_diameter": "31 mm"})
    assert {f.subject for f in found} == {"driveline.axles.rear.ratio", "driveline.tyres.overall_diameter"}


def test_pass_says_how_many_and_rests_on_none() -> None:
    (found,) = trial("mass.plausible-value")
    looked_at = [
        f for f in stated_values(View(edited_spec({}, rule_base().model).build).build, "mass") if f[2].plausible
    ]
    assert found.kind == "pass"
    assert found.inputs == ()
    assert found.message.startswith(f"{len(looked_at)} stated values looked at")


def test_a_field_of_which_only_one_value_is_known_has_no_range() -> None:
    # the format of a spec is 1 and nothing else: no measure of a vehicle
    facts = dict(declared_fields(""))["build.format"]
    assert facts.plausible == (1, 1)
    view = View(edited_spec({}, rule_base().model).build).build
    stated = [entry for owner in ("compliance", "") for entry in stated_values(view, owner) if entry[2].plausible]
    (found,) = trial("compliance.plausible-value")
    assert found.message.startswith(f"{len(stated) - 1} stated values looked at")


def test_part_that_is_not_fitted_is_left_out() -> None:
    edits = {"driveline.converter.fitted": False, "driveline.converter.stall_ratio": 20.0}
    assert doubts("gearing", edits) == []
    assert len(doubts("gearing", {**edits, "driveline.converter.fitted": True})) == 1


def test_a_value_from_a_data_sheet_is_placed_in_the_sheet(tmp_path: Any) -> None:
    (tmp_path / "box.toml").write_text("ratios = [43.0, 2.0]\n", encoding="utf-8")
    (tmp_path / "spec.toml").write_text('[driveline.gearbox]\nsheet = "box.toml"\n', encoding="utf-8")
    spec = load_spec(str(tmp_path / "spec.toml"), model=rule_base().model)
    inspection, problems = inspect(rule_base(), spec)
    assert not problems
    (found,) = [f for f in inspection.findings if f.rule.id == "gearing.plausible-value"]
    assert (found.kind, found.subject) == ("review", "driveline.gearbox.ratios[1]")
    place = spec.place(found.subject)
    assert (place.file.rsplit("/", 1)[-1], place.line, place.column) == ("box.toml", 1, 11)


def test_every_system_with_ranges_has_its_rule() -> None:
    ids = {rule.id for _, rule in load_rule_base().rules}
    for system in SYSTEMS:
        ranged = [f for _, f in declared_fields(system) if f.plausible and f.plausible[0] < f.plausible[1]]
        if ranged:
            assert f"{system}.plausible-value" in ids
    assert declared_fields("")
    assert "compliance.plausible-value" in ids


def test_empty_spec_has_nothing_to_doubt() -> None:
    inspection, problems = inspect(rule_base(), load_text("", model=rule_base().model))
    own = [f for f in inspection.findings if f.rule.id.endswith(".plausible-value")]
    assert not problems
    assert own
    assert all(f.kind == "notApplicable" and f.message.startswith("The spec states no value") for f in own)
    said = {f.rule.id: f.message for f in own}
    assert "no value of the cooling system that" in said["cooling.plausible-value"]
    assert "no value of the job, the vehicle and the engine as such that" in said["compliance.plausible-value"]


def test_listing_records_nothing_and_changes_are_seen() -> None:
    spec = edited_spec({})
    heavier = edited_spec({"vehicle.mass.gvwr": "3100 kg"}).stated("vehicle.mass.gvwr")
    view = View(spec.build, {"vehicle.mass.gvwr": heavier, "driveline.tyres.rolling_circumference": heavier})
    before = list(view.reads().fields)
    listed = {
        path: stated for path, stated, _ in (*stated_values(view.build, "mass"), *stated_values(view.build, "gearing"))
    }
    assert list(view.reads().fields) == before
    assert listed["vehicle.mass.gvwr"] is heavier
    assert listed["driveline.tyres.rolling_circumference"] is heavier


def test_value_at_reads_like_attributes() -> None:
    build = View(edited_spec({}).build).build
    assert value_at(build, "driveline.axles.rear.ratio") == build.driveline.axles["rear"].ratio
    assert value_at(build, "driveline.gearbox.ratios[5]") == build.driveline.gearbox.ratios[4]
    assert value_at(build, "engine.torque_curve[2].torque") == build.engine.torque_curve[1].torque


ALL_RANGED = [
    (p, f) for s in ("", *SYSTEMS) for p, f in declared_fields(s) if f.plausible and f.plausible[0] < f.plausible[1]
]


@given(st.sampled_from(ALL_RANGED), st.floats(1e-6, 1e7))
def test_any_explanation_is_plausible(field: tuple[str, FieldFacts], number: float) -> None:
    _, facts = field
    value = from_unit(number, facts.unit, facts.kind) if facts.kind else number
    low, high = facts.plausible_si() or (0.0, 0.0)
    for slip in slips.explain(value, f"{number!r} {facts.unit}", facts):
        assert math.isfinite(slip.value)
        assert slips.inside(slip.value, low, high)


def test_every_typical_value_is_plausible() -> None:
    for path, facts in ALL_RANGED:
        low, high = facts.plausible_si() or (0.0, 0.0)
        assert slips.inside(float(facts.typical_value()), low, high), path


def test_never_breaks_on_a_field_of_another_kind() -> None:
    view = View(edited_spec({}).build)
    for _, rule in rule_base().rules:
        if rule.id.endswith(".plausible-value"):
            assert run_rule(rule, view)


def test_an_edit_can_add_an_item_to_a_list() -> None:
    """The example of a system whose only fields stand in a list adds an item to it."""
    data = edited_data({"lines[1].mass": "5 kg", "lines[2].mass": "6 kg"}, {})
    assert data == {"lines": [{"mass": "5 kg"}, {"mass": "6 kg"}]}
    with pytest.raises(ValueError, match="nothing there to edit"):
        edited_data({"lines[3].mass": "5 kg"}, {"lines": [{}]})


@pytest.mark.parametrize(
    ("unit", "plausible", "written", "how"),
    [("bar", (2.45, 2.55), "250 bar", "in kPa"), ("kPa", (245, 255), "2.5 kPa", "in bar")],
)
def test_a_unit_is_named_beside_the_decimal_point_that_says_the_same(
    unit: str, plausible: tuple[float, float], written: str, how: str
) -> None:
    facts = FieldFacts("measure", "example", KINDS["gauge_pressure"], unit, plausible[0], plausible)
    found = {one.how: one.value for one in slips.explain(float(facts.read(written).value), written, facts)}
    assert found[how] == pytest.approx(250e3)


# -- which slip is the nearest -----------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("typical", "stated", "millimetres"),
    # the decimal point may go one, two or three places to the left; the nearest to the typical value is named
    [
        (190, 2000, 200),
        (21, 2000, 20),
        (-100, 2000, 2),  # of places on either side of nought the distance counts, and not the ratio
        (100, -2000, -2),
        (-190, -2000, -200),
    ],
)
def test_the_nearest_place_of_the_decimal_point_is_named(typical: float, stated: float, millimetres: float) -> None:
    facts = FieldFacts("measure", "example", KINDS["length"], "mm", typical, (-300, 300))
    found = slips.explain(stated / 1000, f"{stated} mm", facts)
    assert [one.value for one in found] == [pytest.approx(millimetres / 1000)]


def test_the_nearer_of_a_unit_and_a_decimal_point_comes_first() -> None:
    # 10 m are 3.048 m if they are feet, and 1 m with the point one place to the left: by ratio 3 and 1.02, 2 and 1.5
    for typical, first in ((3.0, 3.048), (1.5, 1.0)):
        facts = FieldFacts("measure", "example", KINDS["length"], "m", typical, (0.9, 4.0))
        found = slips.explain(10.0, "10 m", facts)
        assert [one.value for one in found] == pytest.approx([first, 4.048 - first])


@pytest.mark.parametrize(
    ("value", "low", "high", "inside"),
    # a thousand-millionth of the larger bound is left to rounding, at either end
    [
        (100.0 * (1 + 5e-10), 0.0, 100.0, True),
        (100.0 * (1 + 2e-9), 0.0, 100.0, False),
        (-5e-8, 0.0, 100.0, True),
        (-2e-7, 0.0, 100.0, False),
        (-100.0 * (1 + 5e-10), -100.0, 1.0, True),
        (-100.0 * (1 + 2e-9), -100.0, 1.0, False),
        (1.0 + 5e-8, -100.0, 1.0, True),
        (1.0 + 2e-7, -100.0, 1.0, False),
    ],
)
def test_rounding_puts_nothing_out_of_its_range(value: float, low: float, high: float, inside: bool) -> None:
    assert slips.inside(value, low, high) is inside


def test_how_far_a_value_lies_from_what_is_usual() -> None:
    # twice the usual is as far as half of it; what has no ratio to it is measured in widths of the range
    facts = dict(declared_fields("mass"))["vehicle.mass.gvwr"]
    typical = float(facts.typical_value())
    for value in (2.0 * typical, 0.5 * typical):
        assert slips._distance(value, facts, 500.0, 4500.0) == pytest.approx(math.log(2.0))
    half_a_metre = FieldFacts("measure", "example", KINDS["length"], "m", 2.0, (1.0, 4.0))
    assert slips._distance(0.5, half_a_metre, 1.0, 4.0) == pytest.approx(math.log(4.0))
    near_nothing = FieldFacts("measure", "example", KINDS["length"], "m", 0.5, (0.2, 4.0))
    assert slips._distance(0.25, near_nothing, 0.2, 4.0) == pytest.approx(math.log(2.0))
    nothing = FieldFacts("measure", "example", KINDS["length"], "m", 0.0, (-1.0, 3.0))
    assert slips._distance(2.0, nothing, -1.0, 3.0) == pytest.approx(0.5)
    for value in (0.0, -0.5 * typical):
        assert slips._distance(value, facts, 500.0, 4500.0) == pytest.approx((typical - value) / 4000.0)


def test_a_temperature_is_far_out_by_the_width_of_its_range() -> None:
    facts = dict(declared_fields(""))["build.design.ambient_max"]
    assert facts.plausible is not None
    low, high = facts.plausible
    (found,) = doubts("compliance", {"build.design.ambient_max": f"{high + 7} degC"})
    assert found.margin == pytest.approx(-7 / (high - low))
    # a mass by its share of the bound
    high = (dict(declared_fields("mass"))["vehicle.mass.gvwr"].plausible or (0, 0))[1]
    (found,) = doubts("mass", {"vehicle.mass.gvwr": f"{1.5 * high} kg"})
    assert found.margin == pytest.approx(-0.5)
