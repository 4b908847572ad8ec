"""Where results point, and fixes: spans are exact, a fix applied by offsets changes the value and nothing else."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Any
from urllib.parse import unquote

import pytest
import sarif_world as world
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sarif_checks import RELATIVE, check_log, rule_of, spelled_out

from swaplint.inspecting.results import Remedy
from swaplint.reports.sarif import sarif
from swaplint.reports.sarif.files import Files
from swaplint.reports.sarif.findings import toml_value
from swaplint.spec.fields import LOOK, Part, number, part
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.loading import load_spec, load_text
from swaplint.spec.model import Build
from swaplint.spec.toml_source import Place

Json = dict[str, Any]


DOTTED = world.SPEC.replace("[vehicle.mass]\ngvwr", "[vehicle]\nmass.gvwr").replace("\ngcwr", "\nmass.gcwr")


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A working folder with a spec and its sheet."""
    monkeypatch.chdir(tmp_path)
    world.write_spec(tmp_path)
    return tmp_path


def offsets(text: str, region: Json) -> tuple[int, int]:
    """The offsets of a region, counted as SARIF does: lines and code points from 1, the end one past."""
    lines = text.split("\n")

    def offset(line: int, column: int) -> int:
        assert column <= len(lines[line - 1]) + 1
        return sum(len(before) + 1 for before in lines[: line - 1]) + column - 1

    return offset(region["startLine"], region["startColumn"]), offset(region["endLine"], region["endColumn"])


def read(path: str) -> str:
    """A file's text, line ends as they are."""
    return Path(path).read_bytes().decode("utf-8-sig")


def stretch(where: Json) -> str:
    """The text that a physicalLocation points at."""
    text = read(unquote(where["artifactLocation"]["uri"]))
    start, end = offsets(text, where["region"])
    return text[start:end]


def by_rule(spec: LoadedSpec) -> dict[str, Json]:
    """The last result of each rule."""
    log: Any = sarif(world.report_of(spec))[0]
    check_log(log)
    run = log["runs"][0]
    return {
        rule_of(run, result)["id"]: {
            **result,
            "relatedLocations": [spelled_out(run, one) for one in result.get("relatedLocations", ())],
        }
        for result in run["results"]
    }


# -- results and inputs -------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("rule", "text", "line"),
    [
        pytest.param("mass.plated", '"3,500 kg"', 8, id="a value in the spec"),
        pytest.param("mass.combined", '{ value = "5200 kg", tol = "3 %", basis = "assumed" }', 9, id="with tolerance"),
        pytest.param("gearing.governed", f'"{world.SHEET_NAME}"', 12, id="a value from a sheet, its table in the spec"),
        pytest.param("gearing.altitude", f'"{world.SHEET_NAME}"', 12, id="a value from a sheet, its table too"),
        pytest.param("gearing.overspeed", "speed", 13, id="missing: the header of its table"),
        pytest.param("gearing.fallback", "driveline", 16, id="missing with its table: the header around"),
        pytest.param("gearing.axles", "rear", 18, id="a part: its header"),
        pytest.param("fuel.shop", world.SPEC.split("\n")[0], 1, id="no field at all: the first line"),
    ],
)
def test_results_point_where_the_builder_can_act(rule: str, text: str, line: int) -> None:
    where = by_rule(world.load("spec.toml"))[rule]["locations"][0]["physicalLocation"]
    assert stretch(where) == text
    assert where["region"]["startLine"] == line
    assert where["artifactLocation"]["uri"] == "spec.toml"


def test_inputs_point_where_the_number_is_written() -> None:
    governed, rated = by_rule(world.load("spec.toml"))["gearing.governed"]["relatedLocations"]
    assert governed["message"]["text"] == "engine.speed.governed_max = 2850 r/min"
    assert unquote(governed["physicalLocation"]["artifactLocation"]["uri"]) == world.SHEET_NAME
    assert stretch(governed["physicalLocation"]) == '"2850 r/min"'
    assert rated["message"]["text"] == "engine.speed.rated = 2600 r/min"  # the spec's wins over the sheet's
    assert rated["physicalLocation"]["artifactLocation"]["uri"] == "spec.toml"
    assert stretch(rated["physicalLocation"]) == '"2600 r/min"'


@pytest.mark.parametrize(
    "text",
    [
        pytest.param(world.SPEC.replace("\n", "\r\n"), id="CRLF"),
        pytest.param("\ufeff" + world.SPEC, id="byte-order mark"),
        pytest.param("# 🚙 beyond the basic plane\n" + world.SPEC.replace("gvwr =", "'gvwr' ="), id="emoji"),
        pytest.param(DOTTED, id="dotted keys"),
        pytest.param(world.SPEC.replace('"3,500 kg"', '"""\\\n  3,500 kg"""'), id="several lines"),
    ],
)
def test_spans_are_exact_however_the_file_is_written(folder: Path, text: str) -> None:
    world.write_spec(folder, text=text)
    found = by_rule(world.load("spec.toml"))
    raw = stretch(found["mass.plated"]["locations"][0]["physicalLocation"])
    assert tomllib.loads(f"value = {raw}") == {"value": "3,500 kg"}
    assert stretch(found["gearing.governed"]["relatedLocations"][1]["physicalLocation"]) == '"2600 r/min"'


@pytest.mark.parametrize("text", ["", "\n", "# only a comment\r\n"])
def test_an_empty_spec_has_places_too(folder: Path, text: str) -> None:
    (folder / "spec.toml").write_bytes(text.encode())
    for result in by_rule(world.load("spec.toml")).values():
        assert result["locations"][0]["physicalLocation"]["region"]["startLine"] == 1


# -- act_place ----------------------------------------------------------------------------------------------------
def test_a_stack_of_sheets_leads_to_the_line_in_the_spec(folder: Path) -> None:
    (folder / "gearbox.toml").write_text('sheet = "base.toml"\nratios = [5.1, 2.8]\n')
    (folder / "base.toml").write_text('kind = "manual"\nshift_speed_loss = "150 r/min"\n')
    (folder / "spec.toml").write_text('[driveline]\ngearbox = { sheet = "gearbox.toml", kind = "automatic" }\n')
    spec = load_spec("spec.toml")

    def at(place: Place) -> tuple[str, str]:
        text = read(place.file).split("\n")[place.line - 1]
        return place.file, text[place.column - 1 : place.end_column - 1]

    for path in ("driveline.gearbox.ratios", "driveline.gearbox.ratios[2]", "driveline.gearbox.shift_speed_loss"):
        assert at(spec.act_place(path)) == ("spec.toml", '"gearbox.toml"'), path
    assert at(spec.act_place("driveline.gearbox.kind")) == ("spec.toml", '"automatic"')
    assert at(spec.act_place("driveline.gearbox.note")) == ("spec.toml", "gearbox")
    assert at(spec.act_place("driveline.transfer.low")) == ("spec.toml", "driveline")
    assert at(spec.act_place("engine.speed.rated")) == ("spec.toml", "[driveline]")
    assert at(spec.act_place("")) == ("spec.toml", "[driveline]")
    assert at(spec.place("driveline.gearbox.ratios[2]")) == ("gearbox.toml", "2.8")
    assert at(spec.place("driveline.gearbox.shift_speed_loss")) == ("base.toml", '"150 r/min"')


TANK = '[tank]\nsheet = "tank.toml"\n'


class Pump(Part):
    """A part of a part, invented."""

    size: float = number("size", typical=1, plausible=None, where=LOOK)


class Tank(Part):
    """A part with a part, invented."""

    pump: Pump = part("the pump")


class Spec(Build):
    """A spec with such a part."""

    tank: Tank = part("the tank")


@pytest.mark.parametrize(
    ("text", "at"),
    [
        pytest.param(TANK, ("spec.toml", 2, '"tank.toml"'), id="through both sheets"),
        pytest.param(f'[tank.pump]\nsheet = "pump.toml"\n{TANK}', ("spec.toml", 2, '"pump.toml"'), id="own sheet"),
        pytest.param(f'{TANK}[tank.pump]\nnote = "x"\n', ("spec.toml", 2, '"tank.toml"'), id="own table"),
    ],
)
def test_a_part_of_a_part_leads_to_the_line_in_the_spec(folder: Path, text: str, at: tuple[str, int, str]) -> None:
    (folder / "tank.toml").write_text('[pump]\nsheet = "pump.toml"\n')
    (folder / "pump.toml").write_text("size = 3\n")
    (folder / "spec.toml").write_text(text)
    spec = load_spec("spec.toml", model=Spec)
    stated = spec.stated("tank.pump.size")
    assert stated is not None
    assert stated.value == 3.0
    place = spec.act_place("tank.pump.size")
    line = read(place.file).split("\n")[place.line - 1]
    assert (place.file, place.line, line[place.column - 1 : place.end_column - 1]) == at
    assert spec.place("tank.pump.size") == Place("pump.toml", 1, 8, 1, 9)


def test_an_item_of_a_list_of_tables() -> None:
    spec = load_text('[[supply]]\nitem = "x"\n\n[[supply]]\nitem = "y"\n')
    assert spec.act_place("supply[2].item").line == 5
    assert spec.act_place("supply[2].by") == Place("spec", 4, 1, 4, 11)


# -- fixes --------------------------------------------------------------------------------------------------------
def apply(fix: Json) -> tuple[str, str]:
    """A fix applied by offsets: the text before and after."""
    (change,) = fix["artifactChanges"]
    (made,) = change["replacements"]
    before = read(unquote(change["artifactLocation"]["uri"]))
    start, end = offsets(before, made["deletedRegion"])
    return before, before[:start] + made["insertedContent"]["text"] + before[end:]


@pytest.mark.parametrize(
    ("rule", "old", "new"),
    [
        ("mass.plated", '"3,500 kg" # too much', '"3000 kg" # too much'),
        ("mass.combined", '{ value = "5200 kg", tol', '{ value = "5000 kg", tol'),
        ("gearing.axles", "ratio = 3.9\n", "ratio = 4.1\n"),
    ],
)
def test_a_fix_changes_the_value_and_nothing_else(rule: str, old: str, new: str) -> None:
    (fix,) = by_rule(world.load("spec.toml"))[rule]["fixes"]
    before, after = apply(fix)
    assert before.count(old) == 1
    assert after == before.replace(old, new)


def test_a_fix_says_what_it_does_and_breaks() -> None:
    (fix,) = by_rule(world.load("spec.toml"))["mass.plated"]["fixes"]
    assert fix["description"]["text"] == (
        "Change vehicle.mass.gvwr from '3,500 kg' to '3000 kg'. This newly breaks: fuel.shop."
    )


def test_applying_a_fix_makes_the_rule_pass(folder: Path) -> None:
    _, after = apply(by_rule(world.load("spec.toml"))["mass.plated"]["fixes"][0])
    world.write_spec(folder, text=after)
    assert by_rule(world.load("spec.toml"))["mass.plated"]["kind"] == "pass"


@pytest.mark.parametrize(
    ("field", "written"),
    [
        pytest.param("engine.derate.altitude_free", "1000 m", id="stated in a sheet"),
        pytest.param("engine.speed.idle", "700 r/min", id="not stated"),
        pytest.param("vehicle.mass", "1", id="a table"),
        pytest.param("no field", "1", id="no field"),
        pytest.param("driveline.axles.rear.ratio", "4.1 or so", id="no number"),
        pytest.param("driveline.axles.rear.ratio", '4.1\nsheet = "x"', id="more than a value"),
        pytest.param("vehicle.mass.gvwr", "", id="nothing written"),
    ],
)
def test_no_fix_where_there_is_nothing_to_replace(field: str, written: str) -> None:
    report = world.report_of(world.load("spec.toml"))
    inspection = report.inspections[0]
    remedy = Remedy(field, None, 1.0, "", "", written=written)
    inspection.findings = [replace(finding, remedies=(remedy,)) for finding in inspection.findings]
    log: Any = sarif(report)[0]
    assert log["runs"][0]["results"]
    assert not any("fixes" in result for result in log["runs"][0]["results"])


@given(written=st.text(st.characters(codec="utf-8"), min_size=1, max_size=40))
def test_any_text_becomes_one_toml_text(written: str) -> None:
    made = toml_value(written, like='"9 mm"')
    assert made is not None
    table = tomllib.loads(f"value = {made}\nnext = 1")
    assert table["next"] == 1
    assert set(table) == {"value", "next"}
    assert isinstance(table["value"], str)
    if made != written:
        assert table["value"] == written


# -- URIs ---------------------------------------------------------------------------------------------------------
SEGMENTS = st.text(st.characters(codec="utf-8", exclude_characters="/\0"), min_size=1, max_size=12).filter(
    lambda text: text not in (".", "..")
)


@given(segments=st.lists(SEGMENTS, min_size=1, max_size=4))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_file_name_becomes_a_uri_and_back(segments: list[str]) -> None:
    label = "/".join(segments)
    location = Files([], [label]).location(label)
    assert RELATIVE.fullmatch(location["uri"])
    assert unquote(location["uri"]) == ("standard-input.toml" if label == "standard input" else label)


@pytest.mark.parametrize(
    ("label", "uri"),
    [
        ("./spec.toml", "spec.toml"),
        ("a/../b/spec.toml", "b/spec.toml"),
        ("a b#c%d.toml", "a%20b%23c%25d.toml"),
        ("C:spec.toml", "C%3Aspec.toml"),
        ("bad\udcffbyte.toml", "bad%FFbyte.toml"),
    ],
)
def test_uris(label: str, uri: str) -> None:
    assert Files([], [label]).location(label) == {"uri": uri, "uriBaseId": "SPECROOT", "index": 0}


def test_files_outside_have_a_base_of_their_own(folder: Path) -> None:
    files = Files([], ["../x/a.toml", "../x/y/b.toml", "in.toml"])
    assert [(a["location"]["uriBaseId"], a["location"]["uri"]) for a in files.artifacts] == [
        ("OUTSIDE", "a.toml"),
        ("OUTSIDE", "y/b.toml"),
        ("SPECROOT", "in.toml"),
    ]
    assert set(files.bases()) == {"SPECROOT", "OUTSIDE"}
    assert files.bases()["OUTSIDE"]["properties"] == {"fromSpecRoot": "../x/"}
    # A path that tells of the machine is not shown, so that the way there is not either.
    assert "properties" not in Files([], [f"{folder.parent}/x/a.toml"]).bases()["OUTSIDE"]
    assert files.tidy(f"see {folder}/deep/file.py, 3 km/h, https://example.invalid/x/y and 1/2/3") == (
        "see file.py, 3 km/h, https://example.invalid/x/y and 1/2/3"
    )
