"""The JSON report of `inspect`: the contract, key by key, and values in the unit beside them."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
import small_world
from hypothesis import given
from hypothesis import strategies as st

from swaplint.host.problems import Problem
from swaplint.inspecting.results import Remedy, Report, Suppression
from swaplint.reports.json_report import dumps, inspection_json


@pytest.fixture
def report(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Report:
    monkeypatch.chdir(tmp_path)
    return small_world.report(tmp_path)


def data_of(report: Report) -> Any:
    return json.loads(dumps(inspection_json(report)))


def result_of(report: Report, rule: str, part: str | None = None) -> Any:
    found = [r for r in data_of(report)["specs"][0]["results"] if r["rule"] == rule and part in (None, r["part"])]
    assert len(found) == 1
    return found[0]


# -- the contract ----------------------------------------------------------------------------------------------
def test_every_key_of_the_contract_is_there(report: Report) -> None:
    data = data_of(report)
    assert data["format"] == 1
    assert set(data) >= {"format", "tool", "specs", "problems"}
    assert data["tool"] == {
        "name": "swaplint",
        "version": "0.0",
        "packs": [{"name": "small", "version": "7"}, {"name": "other", "version": "7"}],
    }
    (spec,) = data["specs"]
    assert set(spec) >= {"spec", "stage", "counts", "results", "ask_next"}
    assert (spec["spec"], spec["stage"]) == ("small.toml", "plan")
    for result in spec["results"]:
        assert set(result) >= {
            "rule", "kind", "level", "subject", "message", "found", "limit", "margin", "inputs", "unknown",
            "deciding", "remedies", "sources", "cautions", "suppression",
        }  # fmt: skip
        for entry in result["inputs"]:
            assert set(entry) >= {"field", "value", "unit", "basis", "tol", "file", "line", "column"}
        for source in result["sources"]:
            assert set(source) >= {"kind", "title", "clause", "known"}
            assert source["kind"] in ("standard", "regulation", "handbook", "data-sheet", "common-practice")
            assert source["known"] in ("published", "data-sheet", "common-practice", "from memory")
        assert (result["level"] is not None) == (result["kind"] == "fail")
    for ask in spec["ask_next"]:
        assert set(ask) >= {"field", "rules"}


def test_counts_are_those_of_the_results(report: Report) -> None:
    (spec,) = data_of(report)["specs"]
    counts, results = spec["counts"], spec["results"]
    assert set(counts) >= {"fail", "review", "open", "pass", "notApplicable", "informational"}
    for level in ("error", "warning", "note"):
        assert counts["fail"][level] == sum(r["level"] == level for r in results)
    for kind in ("review", "open", "pass", "notApplicable", "informational"):
        assert counts[kind] == sum(r["kind"] == kind for r in results)


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
    assert result["deciding"] == ["x.y"]
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
