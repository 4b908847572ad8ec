"""The profile for code-scanning services: fails only, within what they accept; what is left out is said."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import sarif_world as world
from sarif_checks import check_log, rule_of

import swaplint.reports.sarif as module
from swaplint.host.packs import LoadedPack
from swaplint.inspecting.results import Report
from swaplint.reports.sarif import sarif


@pytest.fixture
def report(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Report:
    """One spec, inspected."""
    monkeypatch.chdir(tmp_path)
    return world.report_of(world.load(world.write_spec(tmp_path)))


def scanned(report: Report) -> tuple[dict[str, Any], list[str]]:
    """The run of the profile, and what it says."""
    log: Any
    log, said = sarif(report, profile="code-scanning")
    check_log(log)
    return log["runs"][0], said


def ids(run: dict[str, Any]) -> list[str]:
    """The rules of the results."""
    return sorted(rule_of(run, result)["id"] for result in run["results"])


def test_only_fails_that_nobody_signed_off(report: Report) -> None:
    run, said = scanned(report)
    assert ids(run) == ["gearing.altitude", "gearing.axles", "mass.combined", "mass.plated"]
    assert {result["kind"] for result in run["results"]} == {"fail"}
    assert not any("suppressions" in result for result in run["results"])
    (line,) = said
    assert "1 fail with a signed-off deviation, 1 review, 1 open, 3 pass, 1 notApplicable, 1 informational" in line


def test_all_rules_are_still_described(report: Report) -> None:
    run, _ = scanned(report)
    assert len(run["tool"]["driver"]["rules"]) == len(world.OWN)


def test_every_result_has_all_four_of_its_place(report: Report) -> None:
    run, _ = scanned(report)
    for result in run["results"]:
        assert set(result["locations"][0]["physicalLocation"]["region"]) == {
            "startLine",
            "startColumn",
            "endLine",
            "endColumn",
        }


def test_nothing_left_out_says_nothing() -> None:
    assert scanned(world.report_of())[1] == []


def test_too_many_results_keep_the_most_serious(report: Report, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "MAX_RESULTS", 2)
    run, said = scanned(report)
    # both errors before the warning and the note
    assert ids(run) == ["gearing.axles", "mass.plated"]
    assert any("2 fail, the least serious" in line for line in said)


def test_too_many_packs(report: Report, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "MAX_PACKS", 1)
    fails = world.make("fit.fails", world._mass, about="vehicle.mass.gvwr")
    packs = [*world.packs()[:1], *(LoadedPack(name, "1", False, []) for name in "abc")]
    packs[1].rules, packs[2].rules = [fails], [replace(fails, id="fit.fails-too")]
    made = world.report_of(report.inspections[0].spec, packs_in=packs)
    run, said = scanned(made)
    assert [extension["name"] for extension in run["tool"]["extensions"]] == ["a"]
    assert "fit.fails" in ids(run)
    assert "fit.fails-too" not in ids(run)
    assert any("2 packs" in line for line in said)


def test_too_many_rules_keep_those_with_results(report: Report, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "MAX_RULES", 5)
    run, said = scanned(report)
    assert sorted(rule["id"] for rule in run["tool"]["driver"]["rules"]) == ids(run)
    assert any("8 rules without a result" in line for line in said)


def test_too_many_places(report: Report, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "MAX_LOCATIONS", 1)
    run, said = scanned(report)
    assert all(not result.get("relatedLocations") for result in run["results"])
    assert any("4 inputs" in line for line in said)


def test_too_big_a_file(report: Report, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = len(module.dumps(sarif(report, profile="code-scanning")[0]))
    monkeypatch.setattr(module, "MAX_GZIPPED_BYTES", 5)
    assert whole > 5
    run, said = scanned(report)
    assert run["results"] == []
    assert [line.split(":")[1].split(",")[0] for line in said[1:]] == [" 2 fail", " 1 fail", " 1 fail"]
