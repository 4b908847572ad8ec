"""The logs of the example specs, with every built-in rule, as the command writes them."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]
import pytest
from sarif_checks import check_log, rule_of

from swaplint.cli import main

ROOT = Path(__file__).resolve().parents[2]
SCHEMA = ROOT.parent / "shared" / "reference" / "sarif-schema-2.1.0.json"
SPECS = ["day-one-idea", "skerrivar-van", "tarnholt-tender"]


def log_of(spec: str, profile: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Any:
    """The log of an example."""
    monkeypatch.chdir(ROOT)
    status = main(["inspect", f"specs/{spec}.toml", "--format", "sarif", "--profile", profile, "--no-remedies"])
    assert status in (0, 1)
    return json.loads(capsys.readouterr().out)


@pytest.mark.parametrize("spec", SPECS)
def test_the_logs_hold_what_checkers_miss(
    spec: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """And what the one profile says is due the other has as one alert a rule, at the rule's level."""
    whole = log_of(spec, "whole", capsys, monkeypatch)
    check_log(whole)
    (run,) = whole["runs"]
    due = {rule_of(run, r)["id"] for r in run["results"] if r["properties"].get("due")}
    fails = [r["partialFingerprints"] for r in run["results"] if r["kind"] == "fail"]
    alerts = log_of(spec, "code-scanning", capsys, monkeypatch)
    check_log(alerts)
    (run,) = alerts["runs"]
    assert sorted(rule_of(run, r)["id"] for r in run["results"] if r["properties"].get("due")) == sorted(due)
    found = [r["partialFingerprints"] for r in run["results"] if not r["properties"].get("due")]
    assert sorted(map(str, found)) == sorted(map(str, fails))
    assert len(run["results"]) == len(due) + len(fails) > 0


@pytest.mark.skipif(not SCHEMA.exists(), reason="the OASIS schema is not beside the project")
@pytest.mark.parametrize(("spec", "profile"), [("day-one-idea", "whole"), ("skerrivar-van", "code-scanning")])
def test_the_logs_are_valid_against_the_oasis_schema(
    spec: str, profile: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    log = log_of(spec, profile, capsys, monkeypatch)
    jsonschema.Draft4Validator(json.loads(SCHEMA.read_text())).validate(log)
