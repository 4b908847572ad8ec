"""The first hour with the tool: from nothing to a chosen axle ratio, and the slips on the way."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from calling import call

RATIO = "driveline.axles.rear.ratio"
EARLY = """\
[build]
stage = "plan"
design.cruise_speed = "85 km/h"
[engine]
speed.cruise_low = "1600 r/min"
speed.cruise_high = "2300 r/min"
[driveline]
gearbox.kind = "manual"
gearbox.ratios = [4.8, 2.6, 1.5, 1.0, 0.78]
transfer.high = 1.0
tyres.overall_diameter = "728 mm"
tyres.construction = "radial"
[driveline.axles.rear]
driven = true
"""
"""An invented van of which only what the cruise speed hangs on is known."""


@pytest.fixture(autouse=True)
def _folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("COLUMNS", raising=False)
    Path("van.toml").write_text(EARLY, encoding="utf-8")


def said(*words: str) -> str:
    """A report as one line, wherever its lines end."""
    return " ".join(call(*words).out.decode().split())


# -- size and study, where little is known -----------------------------------------------------------------------
def test_size_says_which_rules_cannot_judge_and_what_they_wait_for() -> None:
    answer = said("size", "van.toml", RATIO, "--system", "gearing")
    # i = n·2π/60·r/(0.78·v) at both ends of the cruise band, r = 3.05·D/(2π)
    low, high = (n / 60 * 3.05 * 0.728 / (0.78 * 85 / 3.6) for n in (1600, 2300))
    assert f"from {low:.4g} to {high:.4g}" in answer
    assert "now not stated; 1 rule judges it: gearing.cruise-rpm" in answer
    assert "What passes above may fail there: gearing.crawl," in answer
    assert "engine.torque_curve (" in answer
    assert "as far as 1 rule can judge." in answer
    assert "At every plausible value" not in answer  # no rule that is open passes


def test_size_names_no_value_where_no_rule_can_judge() -> None:
    Path("bare.toml").write_text("[driveline.axles.rear]\ndriven = true\n", encoding="utf-8")
    answer = said("size", "bare.toml", RATIO, "--system", "gearing")
    assert "no rule judges it yet" in answer
    assert "PASSES" not in answer
    assert "No value can be named: too little is known yet." in answer
    answer = said("study", "bare.toml", "--vary", f"{RATIO}=3.9,4.1", "--system", "gearing")
    assert "3.9 no number not judged 4.1 no number not judged" in answer
    assert "No value can be named: too little is known yet." in answer
    assert " passes" not in answer


def test_what_is_open_stands_in_the_json_of_size() -> None:
    call_words = ["size", "van.toml", RATIO, "--system", "gearing", "--format", "json", "--among", "3.9,5.5"]
    answer = json.loads(call(*call_words).out)
    assert "gearing.gradeability" in answer["opens"]
    assert "gearing.cruise-rpm" in answer["opens"]  # its other demand: the highest road speed is not stated
    assert "build.design.road_speed_max" in answer["unknown"]
    assert RATIO not in answer["unknown"]
    assert answer["broken"] == []
    assert [choice["fails"] for choice in answer["choices"]] == [[], ["gearing.cruise-rpm"]]
    assert all("gearing.gradeability" in choice["opens"] for choice in answer["choices"])


def test_study_says_once_what_is_open_in_every_combination() -> None:
    answer = said("study", "van.toml", "--vary", f"{RATIO}=3.7,3.9,5.5", "--system", "gearing")
    assert answer.count("gearing.gradeability") == 1
    assert answer.count("gearing.cruise-rpm") == 2  # one row fails it, and it is open in part


@pytest.mark.parametrize("written", ["3.9, 4.1, 4,3", "3,9, 4.1", "3,9, 4,1"])
def test_a_comma_that_may_be_a_decimal_point_is_asked_about(written: str) -> None:
    ran = call("size", "van.toml", RATIO, "--among", written)
    assert ran.status == 2
    assert b"or two values: write " in ran.err


def test_values_with_blanks_or_without_are_read_alike() -> None:
    words = ["size", "van.toml", RATIO, "--rule", "gearing.cruise-rpm", "--format", "json", "--among"]
    assert call(*words, "3.9,4.1").out == call(*words, "3.9, 4.1").out


def test_a_study_of_no_value_is_refused() -> None:
    ran = call("study", "van.toml", "--vary", f"{RATIO}=,")
    assert (ran.status, ran.out) == (2, b"")
    assert b"names no value; one looks like 4.1" in ran.err
