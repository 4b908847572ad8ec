"""The profile for code-scanning services: fails and what is due, within what they accept; what is left out is said."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import sarif_world as world
from sarif_checks import check_log, rule_of

import swaplint.reports.sarif as module
from swaplint.cli import main
from swaplint.host.packs import LoadedPack
from swaplint.inspecting.results import Report, Suppression
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


FAILS = ["gearing.altitude", "gearing.axles", "gearing.demands", "mass.combined", "mass.plated"]


def test_only_what_is_wrong_or_owed_and_nobody_signed_off(report: Report) -> None:
    run, said = scanned(report)
    assert ids(run) == sorted([*FAILS, "gearing.owed"])
    assert {result["kind"] for result in run["results"]} == {"fail"}
    assert not any("suppressions" in result for result in run["results"])
    (line,) = said
    assert "report: 1 with a signed-off deviation, 1 review, 2 open, 3 pass, 1 notApplicable, 1 informational (" in line


# -- what is due --------------------------------------------------------------------------------------------------
def alert(run: dict[str, Any], rule: str) -> dict[str, Any]:
    """The only result of a rule."""
    (made,) = [result for result in run["results"] if rule_of(run, result)["id"] == rule]
    found: dict[str, Any] = made
    return found


def test_what_a_rule_is_owed_is_one_alert_where_its_first_missing_field_belongs(report: Report) -> None:
    """The rule lacks a field of each of two axles: in the whole report these are two open results."""
    run, _ = scanned(report)
    made = alert(run, "gearing.owed")
    assert (made["kind"], made["level"]) == ("fail", "warning")
    assert made["message"]["text"] == (
        "'driveline.axles.front.output_torque_rating': Still owed at the plan stage: "
        "driveline.axles.front.output_torque_rating and driveline.axles.rear.output_torque_rating are not stated."
    )
    (where,) = made["locations"]
    assert where["logicalLocations"] == [{"fullyQualifiedName": "driveline.axles.front.output_torque_rating"}]
    line = where["physicalLocation"]["region"]["startLine"]
    assert world.SPEC.split("\n")[line - 1] == "[driveline.axles.front]"
    assert made["properties"] == {
        "stage": "plan",
        "due": True,
        "usually_passes": True,
        "unknown": ["driveline.axles.front.output_torque_rating", "driveline.axles.rear.output_torque_rating"],
    }


def test_usually_passing_holds_for_all_that_a_rule_is_owed(report: Report) -> None:
    inspection = report.inspections[0]
    first = next(i for i, finding in enumerate(inspection.findings) if finding.rule.id == "gearing.owed")
    inspection.findings[first + 1] = replace(inspection.findings[first + 1], usually_passes=False)
    assert "usually_passes" not in alert(scanned(report)[0], "gearing.owed")["properties"]


def test_each_spec_has_its_own_alert(report: Report) -> None:
    world.write_spec(Path("other"), name="other.toml", text=world.SPEC.replace("ratio = 3.9", "ratio = 3.8"))
    both = world.report_of(world.load("spec.toml"), world.load("other/other.toml"))
    run, _ = scanned(both)
    owed = [result for result in run["results"] if rule_of(run, result)["id"] == "gearing.owed"]
    assert [r["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] for r in owed] == [
        "other/other.toml",
        "spec.toml",
    ]


def test_what_is_due_and_signed_off_is_left_out_and_counted(report: Report) -> None:
    inspection = report.inspections[0]
    signed = Suppression("The axles are stronger than the engine.")
    inspection.findings = [
        replace(finding, suppression=signed) if finding.rule.id == "gearing.owed" else finding
        for finding in inspection.findings
    ]
    run, said = scanned(report)
    assert ids(run) == FAILS
    assert "3 with a signed-off deviation, 1 review, 2 open" in said[0]


def test_the_command_says_on_standard_error_what_it_left_out(
    report: Report, capsys: pytest.CaptureFixture[str]
) -> None:
    """A spec that cannot be read beside one that can: the run is no success, and what was read is reported."""
    Path("broken.toml").write_text("[build\n", encoding="utf-8")
    call = ["inspect", "spec.toml", "broken.toml", "--format", "sarif", "--no-remedies", "--cores", "1"]
    assert main([*call, "--profile", "code-scanning"]) == 2
    captured = capsys.readouterr()
    log = json.loads(captured.out)
    check_log(log)
    (run,) = log["runs"]
    assert run["results"]
    (invocation,) = run["invocations"]
    assert invocation["executionSuccessful"] is False
    (unread,) = invocation["toolConfigurationNotifications"]
    assert unread["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] == "broken.toml"
    assert "Left out of the code-scanning report: " in captured.err
    # In the whole report nothing is left out.
    assert main(call) == 2
    assert "Left out" not in capsys.readouterr().err


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
    # both errors before the warnings and the note
    assert ids(run) == ["gearing.axles", "mass.plated"]
    assert any("4 alerts, the least serious" in line for line in said)
    monkeypatch.setattr(module, "MAX_RESULTS", 4)
    run, said = scanned(report)
    # of one level what fails before what is owed
    assert ids(run) == ["gearing.axles", "gearing.demands", "mass.combined", "mass.plated"]
    assert any("2 alerts, the least serious" in line for line in said)
    monkeypatch.setattr(module, "MAX_RESULTS", 5)
    run, said = scanned(report)
    # and what is owed before what fails at a lower level
    assert sorted(set(FAILS) - set(ids(run))) == ["gearing.altitude"]
    assert any("1 alert, the least serious" in line for line in said)


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
    before = sum(len(result.get("relatedLocations", [])) for result in scanned(report)[0]["results"])
    assert before >= len(FAILS)  # each rests on a value at least
    monkeypatch.setattr(module, "MAX_LOCATIONS", 1)
    run, said = scanned(report)
    assert all(not result.get("relatedLocations") for result in run["results"])
    assert any(f" {before} inputs" in line for line in said)


def test_too_big_a_file(report: Report, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = len(module.dumps(sarif(report, profile="code-scanning")[0]))
    monkeypatch.setattr(module, "MAX_GZIPPED_BYTES", 5)
    assert whole > 5
    run, said = scanned(report)
    assert run["results"] == []
    assert [line.split(":")[1].split(",")[0] for line in said[1:]] == [" 3 alerts", " 2 alerts", " 1 alert"]
