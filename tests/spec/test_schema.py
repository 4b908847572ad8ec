"""The JSON Schema against the loader: what the one accepts or refuses, the other does too, where a schema can see it.

`jsonschema`, an independent validator, reads the schema.
"""

from __future__ import annotations

import datetime
import functools
import itertools
import json
import tomllib
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.cli.program import run
from swaplint.host.packs import load_rule_base
from swaplint.kit.edits import edited_data, sound_text
from swaplint.spec.facts import FieldFacts, nearest
from swaplint.spec.fields import Section
from swaplint.spec.loading import SpecErrors, load_text
from swaplint.spec.model import Build
from swaplint.spec.schema import build_schema, example_of, sections_below, sheet_kinds, sheet_schema
from swaplint.spec.shape import members
from swaplint.units import KINDS

ROOT = Path(__file__).resolve().parents[2]


@functools.cache
def validator() -> jsonschema.Draft202012Validator:
    schema = build_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def as_json(value: Any) -> Any:
    """TOML data as a validator gets them: dates as text."""
    if isinstance(value, dict):
        return {key: as_json(child) for key, child in value.items()}
    if isinstance(value, list):
        return [as_json(child) for child in value]
    return value.isoformat() if isinstance(value, datetime.date | datetime.time) else value


def faults(data: dict[str, Any]) -> list[str]:
    return [f"{error.json_path}: {error.message[:200]}" for error in validator().iter_errors(as_json(data))]


def loads(data: dict[str, Any]) -> bool:
    import tomli_w

    try:
        load_text(tomli_w.dumps(data))
    except SpecErrors:
        return False
    return True


@pytest.mark.parametrize("file", sorted(ROOT.glob("specs/*.toml")), ids=lambda p: p.stem)
def test_examples_are_valid(file: Path) -> None:
    assert faults(tomllib.loads(file.read_text(encoding="utf-8"))) == []


def test_sound_spec_is_valid() -> None:
    assert faults(tomllib.loads(sound_text())) == []


@pytest.mark.parametrize("file", sorted(ROOT.glob("specs/sheets/*.toml")), ids=lambda p: p.stem)
def test_data_sheets_are_valid_as_what_they_are(file: Path) -> None:
    kind = file.name.removesuffix(".toml").rsplit(".", 1)[-1]
    named = kind if kind in sheet_kinds() else nearest(kind, set(sheet_kinds()))
    data = as_json(tomllib.loads(file.read_text(encoding="utf-8")))
    fitting = [name for name in sheet_kinds() if jsonschema.Draft202012Validator(sheet_schema(name)).is_valid(data)]
    assert fitting, f"{file.name} is valid as no kind of sheet"
    assert named is None or named in fitting


# path, value as TOML has it, whether it is right. The loader is asked as well: it must agree.
MUTATIONS: list[tuple[str, Any, bool]] = [
    ("vehicle.mass.gvwr", "2800 kg", True),
    ("vehicle.mass.gvwr", "4,000 lb", True),
    ("vehicle.mass.gvwr", "2.8e3 kg", True),
    ("vehicle.mass.gvwr", "2800\u00a0kg", True),
    ("vehicle.mass.gvwr", "  +2800kg ", True),
    ("vehicle.mass.gvwr", "2800 kilograms", True),
    ("vehicle.mass.gvwr", 2800, False),
    ("vehicle.mass.gvwr", 2800.0, False),
    ("vehicle.mass.gvwr", "2800", False),
    ("vehicle.mass.gvwr", "kg", False),
    ("vehicle.mass.gvwr", "", False),
    ("vehicle.mass.gvwr", "4,5 t", False),
    ("vehicle.mass.gvwr", "2 800 kg", True),
    ("vehicle.mass.gvwr", "2\u202f800 kg", True),
    ("vehicle.mass.gvwr", "0 800 kg", False),
    ("vehicle.mass.gvwr", "2 80 kg", False),
    ("vehicle.mass.gvwr", {"value": "2800 kg", "tol": "± 3 %"}, True),
    ("vehicle.mass.gvwr", "4,000,00 kg", False),
    ("vehicle.mass.gvwr", "0,500 kg", False),
    ("vehicle.mass.gvwr", "2.800.000 kg", False),
    ("vehicle.mass.gvwr", "2800. kg", False),
    ("vehicle.mass.gvwr", "-2800 kg", False),
    ("vehicle.mass.gvwr", "\u22122800 kg", False),
    ("vehicle.mass.gvwr", "0 kg", False),
    ("vehicle.mass.gvwr", "0.0kg", False),
    ("vehicle.mass.gvwr", "0.5 t", True),
    ("vehicle.mass.gvwr", "nan kg", False),
    ("vehicle.mass.gvwr", "inf kg", False),
    ("vehicle.mass.gvwr", "9**9**9**2 kg", False),
    ("vehicle.mass.gvwr", "2 * 1400 kg", False),
    ("vehicle.mass.gvwr", "2800-2900 kg", False),
    ("vehicle.mass.gvwr", True, False),
    ("vehicle.mass.gvwr", ["2800 kg"], False),
    ("vehicle.mass.gvwr", "2800 kg" + " " * 100, False),
    ("vehicle.mass.gvwr", {"value": "2800 kg", "tol": "3 %", "basis": "measured"}, True),
    ("vehicle.mass.gvwr", {"value": "2800 kg", "tol": "50 kg"}, True),
    ("vehicle.mass.gvwr", {"value": "2800 kg"}, True),
    ("vehicle.mass.gvwr", {"value": 2800, "tol": "3 %"}, False),
    ("vehicle.mass.gvwr", {"value": "2800 kg", "tol": 3}, False),
    ("vehicle.mass.gvwr", {"value": "2800 kg", "tol": "3"}, False),
    ("vehicle.mass.gvwr", {"value": "2800 kg", "tol": "-3 %"}, False),
    ("vehicle.mass.gvwr", {"value": "2800 kg", "basis": "guessed"}, False),
    ("vehicle.mass.gvwr", {"value": "2800 kg", "certainty": "3 %"}, False),
    ("vehicle.mass.gvwr", {"tol": "3 %"}, False),
    ("driveline.tyres.overall_diameter", "31 1/2 in", True),
    ("driveline.tyres.overall_diameter", "31-1/2 in", True),
    ("driveline.tyres.overall_diameter", '31 63/64"', True),
    ("driveline.tyres.overall_diameter", "31 64/64 in", False),
    ("driveline.tyres.overall_diameter", "31 1/3 in", False),
    ("driveline.tyres.overall_diameter", '63/2"', False),
    ("driveline.tyres.overall_diameter", "31½ in", True),
    ("driveline.tyres.overall_diameter", "31 ⅜ in", True),
    ("driveline.tyres.overall_diameter", "0 1/2 in", True),
    ("driveline.tyres.overall_diameter", "1/2/3 in", False),
    ("driveline.tyres.overall_diameter", ".8 m", True),
    ("electrics.cables.starter.size", "AWG 2/0", True),
    ("electrics.cables.starter.size", "2/0 AWG", True),
    ("electrics.cables.starter.size", "SAE 4", True),
    ("electrics.cables.starter.size", "AWG", False),
    ("build.design.altitude_max", "0 m", True),
    ("build.design.altitude_max", "-0 m", True),
    ("build.design.altitude_max", "-0.5 m", False),
    ("build.design.ambient_min", "-15 degC", True),
    ("build.design.ambient_min", "\u221215 °C", True),
    ("build.design.ambient_min", "5 °F", True),
    ("build.design.ambient_min", "\u201315 ℃", True),
    ("build.design.ambient_min", "-15", False),
    ("build.design.grade_max", "30 %", True),
    ("build.design.grade_max", "30", False),
    ("build.design.grade_max", 0.3, False),
    ("build.format", 1, True),
    ("build.format", 2, False),
    ("build.stage", "plan", True),
    ("build.stage", "Plan", False),
    ("build.stage", "dream", False),
    ("build.name", 'Ünïcode, "quoted"\nand two lines', True),
    ("build.name", "bell\x07", False),
    ("build.name", 7, False),
    ("build.name", "x" * 501, False),
    ("build.nmae", "typed wrong", False),
    ("buidl", {}, False),
    ("vehicle", "a van", False),
    ("engine.cylinders", 4, True),
    ("engine.cylinders", 4.5, False),
    ("engine.cylinders", "4", False),
    ("engine.cylinders", 0, False),
    ("engine.cylinders", -4, False),
    ("engine.cylinders", {"value": 4, "basis": "catalogue"}, True),
    ("engine.document", {"title": "Invented", "date": datetime.date(2026, 1, 31)}, True),
    ("engine.document", {"title": "Invented", "date": "2026-01-31"}, True),
    ("engine.document", {"title": "Invented", "date": "20260131"}, True),
    ("engine.document", {"title": "Invented", "date": "31.1.2026"}, False),
    ("engine.document", {"title": "Invented", "date": datetime.datetime(2026, 1, 31, 12)}, False),
    ("engine.document", {"title": "Invented", "invented": "yes"}, False),
    ("driveline.axles.rear.ratio", 4.1, True),
    ("driveline.axles.rear.ratio", "4.1", False),
    ("driveline.axles.rear.ratio", {"value": 4.1, "tol": "2 %"}, True),
    ("driveline.axles.rear.ratio", {"value": 4.1, "tol": 0.1}, True),
    ("driveline.axles.rear.ratio", {"value": 4.1, "tol": "0.1"}, False),
    ("driveline.axles.rear.ratio", {"value": 4.1, "tol": -0.1}, False),
    ("driveline.axles.rear.driven", 1, False),
    ("driveline.axles.rear-left_2", {"ratio": 4.1}, True),
    ("driveline.axles.hinten links", {"ratio": 4.1}, False),
    ("driveline.axles.rear.teeth", 41, False),
    ("driveline.axles", [], False),
    ("driveline.gearbox.ratios", [4.0, 2], True),
    ("driveline.gearbox.ratios", [], False),
    ("driveline.gearbox.ratios", [4.0, "2"], False),
    ("driveline.gearbox.ratios", 4.0, False),
    ("engine.torque_curve", [{"speed": "1000 rpm", "torque": "260 lb·ft"}], True),
    ("engine.torque_curve", [{"speed": 1000, "torque": "260 lb·ft"}], False),
    ("engine.torque_curve", {"speed": "1000 rpm"}, False),
    ("supply", [{"item": "clutch", "by": "shop"}], True),
    ("supply", [{"item": "clutch", "by": "somebody"}], False),
]


@pytest.mark.parametrize(
    ("path", "value", "right"), MUTATIONS, ids=lambda v: str(v)[:40].encode("unicode_escape").decode()
)
def test_agrees_with_the_loader(path: str, value: Any, right: bool) -> None:
    if "hinten" in path:
        data: dict[str, Any] = {"driveline": {"axles": {"hinten links": value}}}
    else:
        data = edited_data({path: value}, base={})
    assert loads(data) is right, "the loader"
    assert (faults(data) == []) is right, f"the schema: {faults(data)}"


def test_conductor_sizes() -> None:
    """Wire gauge is written with a slash and with noughts."""
    facts = FieldFacts("measure", "example", KINDS["conductor"], "mm2", 35, (0.5, 150))
    schema = _schema_of(facts)
    for size in ("2/0 AWG", "0 AWG", "0000 AWG", "10AWG", "35 mm2", "35 mm²", "250 kcmil"):
        assert facts.read(size)
        assert jsonschema.Draft202012Validator(schema).is_valid(size), size
    wrong: list[Any] = ["10", "AWG", "-10 AWG", 35]
    for size in wrong:
        assert not jsonschema.Draft202012Validator(schema).is_valid(size), size


def _schema_of(facts: FieldFacts) -> dict[str, Any]:
    from swaplint.spec.schema import _Writer

    writer = _Writer()
    value = writer._value(facts)
    return {**value, "$defs": writer.definitions()}


ALL_FACTS = list(
    {
        (m.facts.type, m.facts.kind_name, m.facts.signed, m.facts.zero): m.facts
        for section in (Build, *sections_below(Build))
        for m in members(section).values()
        if m.facts is not None
    }.values()
)
SIGNS, SPACES = ("", "+", "-", "\u2212"), ("", " ", "\u00a0", "\u202f ", "\u2009")
NUMBERS = (
    "0",
    "0.0",
    "7",
    "007",
    "1234",
    "1,234",
    "12,345.6",
    ".5",
    "1.5e2",
    "1E-3",
    "5/16",
    "1 1/2",
    "1-1/2",
    "0 1/2",
    "1\u00a01/2",
)
UNITS = sorted({*itertools.chain(*(k.units for k in KINDS.values())), "1/K", "1 /min", '"', "per cent", "µm", "Ω", ""})
written_values = st.builds(
    lambda sign, number, space, unit, end: f"{sign}{number}{space}{unit}{end}",
    st.sampled_from(SIGNS),
    st.one_of(st.sampled_from(NUMBERS), st.floats(0, 1e9).map(repr), st.integers(0, 10**9).map(str)),
    st.sampled_from(SPACES),
    st.sampled_from(UNITS),
    st.sampled_from(("", " ", ".")),
)  # fmt: skip


@given(
    st.sampled_from(ALL_FACTS),
    st.one_of(written_values, st.text(max_size=12), st.floats(), st.integers(), st.booleans()),
)
def test_accepts_all_that_the_reader_accepts(facts: FieldFacts, value: object) -> None:
    try:
        facts.read(value)
    except ValueError:
        return
    assert jsonschema.Draft202012Validator(_schema_of(facts)).is_valid(value)


@pytest.mark.parametrize(
    "facts", [f for f in ALL_FACTS if f.type == "measure"], ids=lambda f: f"{f.kind_name}-{f.zero}"
)
def test_no_measure_without_a_unit(facts: FieldFacts) -> None:
    check = jsonschema.Draft202012Validator(_schema_of(facts))
    for sign, number in itertools.product(SIGNS, NUMBERS):
        assert not check.is_valid(sign + number), sign + number
    for value in (True, None) if facts.bare else (0, 7, 7.5, True, None):
        assert not check.is_valid(value), value
    assert check.is_valid(7.5) == facts.bare  # a field that had no unit once goes on taking numbers


@pytest.mark.parametrize("facts", ALL_FACTS, ids=lambda f: f"{f.type}-{f.kind_name}-{f.signed}-{f.zero}")
def test_every_example_is_valid(facts: FieldFacts) -> None:
    example: Any = example_of(facts)
    assert facts.read(example)
    assert jsonschema.Draft202012Validator(_schema_of(facts)).is_valid(example)


def _reachable(schema: Any) -> set[str]:
    if isinstance(schema, dict):
        own = {schema["$ref"]} if isinstance(schema.get("$ref"), str) else set()
        return own.union(*map(_reachable, schema.values()))
    return set().union(*map(_reachable, schema)) if isinstance(schema, list) else set()


def test_every_section_and_field_is_there_and_every_reference_leads_somewhere() -> None:
    schema = build_schema()
    assert _reachable(schema) == {f"#/$defs/{name}" for name in schema["$defs"]}
    sections = [
        s
        for name, s in schema["$defs"].items()
        if "properties" in s and set(s["properties"]) != {"value", "tol", "basis"} and name != "not-known"
    ]
    models: list[type[Section]] = sections_below(Build)
    assert len(sections) == len(models)
    assert sorted(sorted(s["properties"]) for s in sections) == sorted(sorted(members(m)) for m in models)
    assert set(schema["properties"]) == {*members(Build), "tables"}
    assert all(s["additionalProperties"] is False for s in (schema, *sections))


def test_a_field_says_unit_range_example_and_where() -> None:
    gvwr = build_schema()["$defs"]["VehicleMass"]["properties"]["gvwr"]
    facts = members(Build.model_fields["vehicle"].annotation.model_fields["mass"].annotation)["gvwr"].facts  # type: ignore[union-attr]
    assert facts is not None
    assert facts.plausible is not None
    for piece in ("kg", f"{facts.plausible[0]} to {facts.plausible[1]} kg", facts.where, facts.description[1:]):
        assert piece in gvwr["description"]
    assert gvwr["examples"] == [f"{facts.typical} kg"]


def test_the_section_of_a_pack_is_included(tmp_path: Path) -> None:
    pack = tmp_path / "acme.py"
    pack.write_text(
        "from swaplint.api import INTERFACE, Pack, Section, fields, hookimpl\n"
        "class Own(Section):\n"
        "    '''Fields of the pack.'''\n"
        "    width: float = fields.measure('width', 'length', 'mm', typical=5, plausible=None, where='')\n"
        "@hookimpl\n"
        "def swaplint_pack():\n"
        "    return Pack('acme-width', interface=INTERFACE, section=Own)\n",
        encoding="utf-8",
    )
    base = load_rule_base([str(pack)])
    assert base.problems == []
    own = jsonschema.Draft202012Validator(build_schema(base.model))
    assert own.is_valid({"acme_width": {"width": "5 mm"}})
    assert not own.is_valid({"acme_width": {"width": 5}})
    assert not validator().is_valid({"acme_width": {"width": "5 mm"}})


# -- the command ------------------------------------------------------------------------------------------------
def test_command_prints_the_schema(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["schema"]) == 0
    assert json.loads(capsys.readouterr().out)["properties"].keys() == {*members(Build), "tables"}


def test_command_prints_a_sheet_schema_and_lists_the_kinds(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["schema", "--list"]) == 0
    listed = [line.split("  ")[0] for line in capsys.readouterr().out.splitlines()]
    assert {"engine", "gearbox", "tyres", "axle"} <= set(listed)
    for kind in listed:
        assert run(["schema", "--sheet", kind]) == 0
        schema = json.loads(capsys.readouterr().out)
        jsonschema.Draft202012Validator.check_schema(schema)
        assert "fitted" in schema["properties"]


def test_command_names_the_nearest_kind(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["schema", "--sheet", "gearbocks"]) == 2
    caught = capsys.readouterr()
    assert caught.out == ""
    assert "did you mean 'gearbox'?" in caught.err


def test_command_writes_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "swaplint.schema.json"
    assert run(["schema", "--output", str(target)]) == 0
    assert json.loads(target.read_text(encoding="utf-8")) == build_schema(load_rule_base().model)
    assert capsys.readouterr().out == ""
