"""The JSON report of `inspect`: the contract, key by key, and values in the unit beside them."""

from __future__ import annotations

import copy
import hashlib
import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]
import pytest
import small_world
from hypothesis import given
from hypothesis import strategies as st
from report_schema import LAST_LINE, LEVELS, REPORT, SPEC, check, check_report, check_sums

import swaplint
from swaplint.cli import main
from swaplint.gating.gate import GateLevel
from swaplint.host.problems import Problem
from swaplint.inspecting.results import MOST_INPUTS, Remedy, Report, Suppression
from swaplint.reports.json_report import dumps, inspection_json
from swaplint.reports.sarif import sarif

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def report(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Report:
    monkeypatch.chdir(tmp_path)
    return small_world.report(tmp_path, more=[small_world.DEMANDS])


def data_of(report: Report, gate: GateLevel = "error") -> Any:
    data = json.loads(dumps(inspection_json(report, gate)))
    check_report(data)
    return data


def result_of(report: Report, rule: str, part: str | None = None, demand: str | None = None) -> Any:
    results = data_of(report)["specs"][0]["results"]
    found = [r for r in results if r["rule"] == rule and part in (None, r["part"]) and r["demand"] == demand]
    assert len(found) == 1
    return found[0]


# -- the contract ----------------------------------------------------------------------------------------------
def test_every_key_of_the_contract_is_there(report: Report) -> None:
    data = data_of(report)
    assert list(data) == ["format", "tool", "specs", "problems"]
    assert data["format"] == 2
    assert data["tool"] == {
        "name": "swaplint",
        "version": swaplint.__version__,
        "packs": [{"name": "small", "version": "7"}, {"name": "other", "version": "7"}],
    }
    (spec,) = data["specs"]
    assert (spec["spec"], spec["stage"], spec["stage_stated"]) == ("small.toml", "plan", False)
    assert spec["baseline"] is None
    assert {r["kind"] for r in spec["results"]} == {
        "fail", "review", "open", "pass", "notApplicable", "informational"
    }  # fmt: skip


@pytest.mark.parametrize("schema", [REPORT, LAST_LINE, SPEC])
def test_the_schema_is_one(schema: Any) -> None:
    jsonschema.Draft202012Validator.check_schema(schema)


def _every_key(node: Any, way: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    inner = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for key, child in inner:
        yield from ([(*way, key)] if isinstance(node, dict) else [])
        yield from _every_key(child, (*way, key))


BEYOND = {
    "stage_stated", "not_run", "packs_missing", "reviews_of_error_rules", "rule_level", "question", "fallbacks", "what",
    "description", "mends", "written", "advised", "drops", "fits", "other_part", "estimates", "more_inputs",
    "more_unknown", "more_deciding", "taken",
}  # fmt: skip
"""What this version says beyond the contract."""


def test_no_key_of_the_contract_can_be_missing(report: Report) -> None:
    """Each key of a report with all that there is in it, taken away by itself, is missed."""
    remedy = Remedy("vehicle.mass.gvwr", 3100.0, 2900.0, "kg", "mass", ("fit.none",), (), '"2900 kg"')
    made = small_world.with_finding(report, 0, remedies=(remedy,))
    made = small_world.with_finding(made, 1, suppression=Suppression("signed", "somebody", "2027-01-01"))
    made.problems.append(Problem("it broke", "rule", "small", "fit.broken", "a.py", 3))
    data = data_of(made)
    seen: set[Any] = set()
    for way in _every_key(data):
        name = tuple(key for key in way if isinstance(key, str))
        if name in seen or way[-1] in BEYOND or name[-2:-1] == ("suppression",):
            continue
        seen.add(name)
        damaged = copy.deepcopy(data)
        node = damaged
        for step in way[:-1]:
            node = node[step]
        del node[way[-1]]
        with pytest.raises(jsonschema.ValidationError):
            check_report(damaged)
    assert {("specs", "results", "remedies", "from"), ("specs", "results", "sources", "gives")} <= seen
    assert len(seen) > 60


def _set(*way: Any, to: Any) -> Callable[[Any], None]:
    def change(spec: Any) -> None:
        node = spec
        for step in way[:-1]:
            node = node[step]
        node[way[-1]] = to

    return change


@pytest.mark.parametrize(
    "damage",
    [
        pytest.param(_set("results", 0, "level", to=None), id="a fail without a level"),
        pytest.param(_set("results", 0, "due", to=True), id="a fail that is due"),
        pytest.param(_set("results", 0, "usually_passes", to=True), id="a fail that usually passes"),
        pytest.param(_set("results", 0, "found", to=None), id="a limit without what was found"),
        pytest.param(_set("results", -1, "level", to="note"), id="a level of what is no fail"),
        pytest.param(_set("results", 0, "demand", to="Two words"), id="no name for a demand"),
        pytest.param(_set("results", 0, "sources", to=[]), id="no source"),
        pytest.param(_set("results", 0, "kind", to="failed"), id="another word"),
        pytest.param(_set("files", 0, "sha256", to="0"), id="no hash"),
        pytest.param(_set("files", to=[]), id="no files"),
        pytest.param(_set("gate", "open", to=True), id="a gate open in spite of a fail"),
        pytest.param(_set("gate", "shut_by", to=[]), id="a gate shut by nothing"),
        pytest.param(_set("counts", "due", "warning", to=0), id="what is due not counted"),
        pytest.param(_set("counts", "open", to=1), id="what is open not counted"),
        pytest.param(_set("counts", "suppressed", to=1), id="something suppressed that is not"),
        pytest.param(_set("ask_next", to=[]), id="nothing asked for"),
        pytest.param(lambda spec: spec["results"].append(spec["results"][0]), id="a result twice"),
    ],
)
def test_the_check_notices_damage(report: Report, damage: Callable[[Any], None]) -> None:
    data = data_of(report)
    damage(data["specs"][0])
    with pytest.raises((jsonschema.ValidationError, AssertionError)):
        check_report(data)


def test_counts_and_what_is_due(report: Report) -> None:
    """Counted by hand: the plate and the rear axle are checked by error-level rules, the spread by a warning."""
    (spec,) = data_of(report)["specs"]
    assert spec["counts"] == {
        "fail": {"error": 1, "warning": 1, "note": 0},
        "due": {"error": 0, "warning": 1, "note": 0},
        "review": 1,
        "open": 2,  # the rear axle's ratio and the idle speed
        "pass": 4,
        "notApplicable": 2,
        "informational": 1,
        "suppressed": 0,
    }


@pytest.mark.parametrize(
    ("gate", "shut_by"),
    [
        ("never", []),
        ("error", ["mass.plate"]),
        ("warning", ["mass.plate", "gearing.ratios", "power.demands"]),
        ("note", ["mass.plate", "gearing.ratios", "power.demands"]),
    ],
)
def test_the_gate_is_shut_by_fails_and_by_what_is_due(report: Report, gate: GateLevel, shut_by: list[str]) -> None:
    (spec,) = data_of(report, gate)["specs"]
    assert (spec["gate"]["level"], spec["gate"]["open"]) == (gate, not shut_by)
    assert spec["gate"]["shut_by"] == shut_by


def test_what_is_suppressed_is_counted_apart_and_shuts_no_gate(report: Report) -> None:
    inspection = report.inspections[0]
    assert inspection.findings[0].rule.id == "mass.plate"
    made = small_world.with_finding(report, 0, suppression=Suppression("signed"))
    (spec,) = data_of(made)["specs"]
    assert spec["counts"]["fail"]["error"] == 0
    assert spec["counts"]["suppressed"] == 1
    assert spec["gate"]["open"]


def test_a_gate_is_shut_where_a_rule_broke(report: Report) -> None:
    report.inspections[0].broken.append("fit.broken")
    gate = data_of(report, "never")["specs"][0]["gate"]
    assert (gate["open"], gate["shut_by"], gate["not_run"]) == (False, [], ["fit.broken"])


def test_a_selection_stands_beside_the_gate(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    name = _company(tmp_path)[0]
    data = json.loads(_out(capsys, name, "--format", "json", "--system", "mass", "--rule", "gearing.crawl"))
    check_report(data)
    (spec,) = data["specs"]
    assert spec["selection"] == {"systems": ["mass"], "rules": ["gearing.crawl"]}
    assert {r["rule"] for r in spec["results"] if not r["rule"].startswith("mass.")} == {"gearing.crawl"}
    assert json.loads(_out(capsys, name, "--format", "json"))["specs"][0]["selection"] is None


def test_each_demand_stands_by_itself(report: Report) -> None:
    rated = result_of(report, "power.demands", demand="rated")
    assert (rated["kind"], rated["found"]["value"], rated["limit"]["value"]) == ("pass", 3400.0, 4400.0)
    assert rated["margin"] == pytest.approx(1000 / 4400)
    idle = result_of(report, "power.demands", demand="idle-speed")
    assert (idle["kind"], idle["level"], idle["rule_level"]) == ("open", None, "warning")
    assert (idle["due"], idle["usually_passes"]) == (True, True)  # a usual idle speed is well above 573 r/min
    assert idle["unknown"] == ["engine.speed.idle"]
    assert idle["consequence"] == rated["consequence"] == "it wears out early."
    assert result_of(report, "mass.plate")["consequence"] == "nothing happens."


def test_what_to_find_out_next_says_where_and_what_is_usual(report: Report) -> None:
    asks = data_of(report)["specs"][0]["ask_next"]
    assert asks[0]["field"] == "engine.speed.idle"  # what is due comes first
    assert asks[0]["rules"] == ["power.demands"]
    assert asks[0]["where"] == "the engine package's data sheet"
    assert asks[0]["typical"] == '"750 r/min"'
    assert asks[1]["field"] == "driveline.axles.rear.ratio"
    assert asks[1]["rules"] == ["gearing.axles"]
    assert asks[1]["typical"] == "4.1"
    # What a pass did without is not asked for.
    assert len(asks) == 2


def test_a_source_says_which_number_it_gives_and_how_it_is_known(report: Report) -> None:
    (source,) = result_of(report, "power.demands", demand="rated")["sources"]
    assert source == {
        "kind": "handbook",
        "title": "Invented handbook",
        "clause": "table 1",
        "known": "second-hand",
        "gives": "limit",
        "what": "least idle speed",
    }
    plain, fallback = result_of(report, "cooling.ambient")["sources"]
    assert (plain["gives"], plain["what"], plain["known"]) == (None, None, "from memory")
    assert (fallback["gives"], fallback["what"]) == ("fallback", "an invented limit of 50 °C")


# -- files, and several specs -----------------------------------------------------------------------------------
def test_files_are_named_by_the_bytes_that_were_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A byte-order mark and line ends count: whoever hashes the file gets the same."""
    monkeypatch.chdir(tmp_path)
    made = small_world.report(tmp_path, spec="\ufeff" + small_world.SPEC.replace("\n", "\r\n"))
    (spec,) = data_of(made)["specs"]
    raw = (tmp_path / "small.toml").read_bytes()
    assert raw.startswith(b"\xef\xbb\xbf")
    assert b"\r\n" in raw
    assert spec["files"] == [
        {"file": "small.toml", "sha256": hashlib.sha256(raw).hexdigest()},
        {"file": "engine.toml", "sha256": hashlib.sha256((tmp_path / "engine.toml").read_bytes()).hexdigest()},
    ]


def _company(folder: Path) -> list[str]:
    """Three specs: two alike but for a value, and one that says next to nothing."""
    (folder / "engine.toml").write_text(small_world.SHEET, encoding="utf-8")
    (folder / "a.toml").write_text(small_world.SPEC, encoding="utf-8")
    (folder / "b.toml").write_text(small_world.SPEC.replace("3100 kg", "2900 kg"), encoding="utf-8")
    (folder / "c.toml").write_text('[build]\nstage = "idea"\n', encoding="utf-8")
    return ["a.toml", "b.toml", "c.toml"]


def _out(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    capsys.readouterr()
    assert main(["inspect", *arguments, "--no-remedies"]) in (0, 1, 2)
    return capsys.readouterr().out


@pytest.mark.parametrize("cores", ["1", "2"])
def test_a_spec_reads_the_same_alone_and_in_company(
    cores: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Byte for byte, in a report and as a line; and a line holds what the report holds."""
    monkeypatch.chdir(tmp_path)
    names = _company(tmp_path)
    some = ("--system", "mass", "--system", "gearing", "--system", "cooling")
    together = _out(capsys, *names, *some, "--format", "json", "--cores", cores)
    check_report(json.loads(together))
    lines = _out(capsys, *names, *some, "--format", "jsonl", "--whole", "--cores", cores).splitlines(keepends=True)
    assert len(lines) == len(names) + 1
    for number, name in enumerate(names):
        alone = _out(capsys, name, *some, "--format", "json")
        object_of_it = alone[alone.index('  "specs": [') :].split("\n", 1)[1].split("\n  ],\n", 1)[0]
        assert json.loads(object_of_it) == json.loads(alone)["specs"][0]
        assert f"\n{object_of_it}{',' if number + 1 < len(names) else ''}\n" in together
        line_alone, _ = _out(capsys, name, *some, "--format", "jsonl", "--whole").splitlines(keepends=True)
        assert lines[number] == line_alone
        assert json.loads(line_alone) == json.loads(alone)["specs"][0]
    last = json.loads(lines[-1])
    check(LAST_LINE, last)
    whole = json.loads(together)
    assert last == {key: whole[key] for key in ("format", "tool", "problems")}


def test_lines_hold_what_fails_is_due_or_asks_for_a_person(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """And the last one what could not be read."""
    monkeypatch.chdir(tmp_path)
    names = _company(tmp_path)
    (tmp_path / "broken.toml").write_text("[build\n", encoding="utf-8")
    call = (*names[:2], "broken.toml", names[2], "--stage", "build", "--format", "jsonl")
    *few, last = map(json.loads, _out(capsys, *call).splitlines())
    *every, last_of_all = map(json.loads, _out(capsys, *call, "--whole").splitlines())
    assert [spec["spec"] for spec in few] == [spec["spec"] for spec in every] == names
    check(LAST_LINE, last)
    assert last == last_of_all
    assert [(problem["file"], problem["line"]) for problem in last["problems"]] == [("broken.toml", 1)]
    for short, whole in zip(few, every, strict=True):
        check(SPEC, short)
        check_sums(whole)
        wanted = [r for r in whole["results"] if r["kind"] in ("fail", "review") or r["due"]]
        assert short == {**whole, "results": wanted}
        assert 0 < len(wanted) < len(whole["results"])
    assert any(r["due"] for r in few[2]["results"])


@pytest.mark.parametrize("spec", ["day-one-idea", "skerrivar-van", "tarnholt-tender"])
def test_the_reports_of_the_examples_keep_the_contract(
    spec: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(ROOT)
    data = json.loads(_out(capsys, f"specs/{spec}.toml", "--format", "json"))
    check_report(data)
    assert data["problems"] == []
    assert sum(data["specs"][0]["counts"]["due"][level] for level in LEVELS) == sum(
        result["due"] for result in data["specs"][0]["results"]
    )


# -- values ------------------------------------------------------------------------------------------------------
def test_values_stand_in_the_unit_beside_them(report: Report) -> None:
    result = result_of(report, "mass.plate")
    assert result["found"] == {"value": 3100.0, "unit": "kg"}
    assert result["limit"] == {"relation": "at most", "value": 3000.0, "unit": "kg"}
    assert result["margin"] == pytest.approx(-100 / 3000)
    assert result["inputs"] == [
        {
            "field": "vehicle.mass.gvwr",
            "value": 3100.0,
            "unit": "kg",
            "basis": "assumed",
            "tol": 62.0,
            "file": "small.toml",
            "line": 5,
            "column": 8,
        }
    ]


def test_a_temperature_and_its_tolerance(report: Report) -> None:
    result = result_of(report, "cooling.ambient")
    assert result["found"] == {"value": 40.0, "unit": "degC"}
    assert result["limit"] == {"relation": "at most", "value": 50.0, "unit": "degC"}
    assert result["margin"] == pytest.approx(0.1)
    (entry,) = result["inputs"]
    assert (entry["value"], entry["unit"], entry["tol"], entry["basis"]) == (40.0, "degC", 5.0, "measured")
    assert result["unknown"] == ["build.design.ambient_min"]
    assert result["fallbacks"] == ["an invented limit of 50 °C"]
    assert [source["title"] for source in result["sources"]] == ["Invented handbook", "an invented practice"]


def test_a_value_from_a_sheet_stands_in_the_sheet(report: Report) -> None:
    result = result_of(report, "gearing.speeds")
    assert [(e["field"], e["value"], e["unit"], e["file"], e["line"]) for e in result["inputs"]] == [
        ("engine.speed.overspeed_max", 4400.0, "r/min", "engine.toml", 7),
        ("engine.speed.rated", 3400.0, "r/min", "engine.toml", 6),
    ]
    (source,) = result["sources"]
    assert (source["kind"], source["title"]) == ("data-sheet", "Invented engine, data, revision 2")
    assert source["clause"] == "engine.speed.overspeed_max"


def test_pure_numbers_have_no_unit_and_counts_are_whole(report: Report) -> None:
    ratios = result_of(report, "gearing.ratios")
    assert ratios["found"] == {"value": 4.3, "unit": None}
    assert ratios["limit"] == {"relation": "within", "value": [3.0, 4.0], "unit": None}
    assert ratios["inputs"][0]["field"] == "driveline.gearbox.ratios[1]"
    (entry,) = result_of(report, "supply.count")["inputs"]
    assert entry["value"] == 4
    assert isinstance(entry["value"], int)


def test_what_has_no_numbers_says_null(report: Report) -> None:
    for rule in ("fuel.look", "fit.none", "driveline.transfer"):
        result = result_of(report, rule)
        assert (result["found"], result["limit"], result["margin"]) == (None, None, None)
    assert [e["value"] for e in result_of(report, "driveline.transfer")["inputs"]] == [False]


def test_very_many_fields_that_decide_are_cut_and_counted(report: Report) -> None:
    """Those that weigh most stay; SARIF says the same."""
    many = tuple(f"x.part{number}" for number in range(400))
    made = small_world.with_finding(report, 0, kind="review", level=None, deciding=many)
    result = result_of(made, "mass.plate")
    assert result["deciding"] == list(many[:MOST_INPUTS])
    assert result["more_deciding"] == 400 - MOST_INPUTS
    log: Any = sarif(made)[0]
    told = next(found["properties"] for found in log["runs"][0]["results"] if "deciding" in found["properties"])
    assert (told["deciding"], told["moreDeciding"]) == (result["deciding"], result["more_deciding"])


def test_parts_remedies_suppression_deciding_and_problems(report: Report) -> None:
    assert result_of(report, "gearing.axles", "driveline.axles.rear")["kind"] == "open"
    remedy = Remedy("vehicle.mass.gvwr", 3100.0, 2900.0, "kg", "mass", ("fit.none",), (), '"2900 kg"')
    made = small_world.with_finding(
        report, 0, remedies=(remedy,), suppression=Suppression("signed", "somebody", "2027-01-01"), deciding=("x.y",)
    )
    made.problems.append(Problem("it broke", "rule", "small", "fit.broken", "a.py", 3))
    result = result_of(made, "mass.plate")
    assert {key: result["remedies"][0][key] for key in ("field", "from", "to", "unit", "breaks")} == {
        "field": "vehicle.mass.gvwr",
        "from": 3100.0,
        "to": 2900.0,
        "unit": "kg",
        "breaks": ["fit.none"],
    }
    assert result["suppression"]["justification"] == "signed"
    assert (result["deciding"], result["more_deciding"]) == (["x.y"], 0)
    assert data_of(made)["problems"] == [
        {"what": "it broke", "pack": "small", "rule": "fit.broken", "file": "a.py", "line": 3, "column": None}
    ]


# -- text ---------------------------------------------------------------------------------------------------------
@given(st.recursive(st.text(), lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner), max_leaves=8))
def test_any_text_is_valid_json_that_steers_no_terminal(data: Any) -> None:
    text = dumps({"data": data})
    assert json.loads(text) == {"data": data}
    text.encode("utf-8")
    assert text.replace("\n", "").isprintable()
    assert text.endswith("}\n")


@pytest.mark.parametrize("text", ["\x1b[31m", "\x9b", "\x7f", "\u202e", "\u2028", "\ud800", "\U000e0001", "\ufeff"])
def test_what_could_steer_a_terminal_is_escaped(text: str) -> None:
    assert json.loads(dumps([text])) == [text]
    assert text not in dumps([text])


def test_a_number_that_is_none_is_never_written() -> None:
    for number in (float("nan"), float("inf")):
        with pytest.raises(ValueError, match="not JSON compliant"):
            dumps([number])
