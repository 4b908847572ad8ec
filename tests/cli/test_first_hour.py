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


def test_the_bare_command_says_where_to_begin() -> None:
    ran = call()
    assert (ran.status, ran.out) == (2, b"")
    says = "swaplint: name a command; 'swaplint draft my-swap.toml' begins a spec of your own. See 'swaplint --help'.\n"
    assert ran.err.decode() == says


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


def test_size_and_study_say_where_common_practice_stands_in_for_a_limit() -> None:
    assert "JUDGED BY COMMON PRACTICE" not in said("size", "van.toml", RATIO, "--rule", "gearing.cruise-rpm")
    own = 'speed.cruise_low = "1600 r/min"\nspeed.cruise_high = "2300 r/min"\n'
    usual = 'fuel_type = "diesel"\nspeed.rated = "3600 r/min"\ntorque.plateau_low = "1500 r/min"\n'
    Path("usual.toml").write_text(EARLY.replace(own, usual), encoding="utf-8")
    says = "JUDGED BY COMMON PRACTICE, FOR WANT OF A STATED LIMIT"
    practice = "gearing.cruise-rpm: cruise band of 55 to 80 % of rated speed, not below the torque plateau (diesel)"
    for words in (["size", "usual.toml", RATIO], ["study", "usual.toml", "--vary", f"{RATIO}=4,5"]):
        answer = said(*words, "--rule", "gearing.cruise-rpm")
        assert says in answer
        assert practice in answer
    as_json = json.loads(call("size", "usual.toml", RATIO, "--rule", "gearing.cruise-rpm", "--format", "json").out)
    assert list(as_json["practices"].values()) == [["gearing.cruise-rpm"]]


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


# -- the part is not named yet -------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("field", "table"),
    [
        (RATIO, "driveline.axles.rear"),
        ("driveline.axles.*.ratio", "driveline.axles.front"),
        ("electrics.cables.*[role=starter].size", "electrics.cables.battery"),
    ],
)
def test_says_how_to_name_a_part_that_the_spec_lacks(field: str, table: str) -> None:
    Path("none.toml").write_text("", encoding="utf-8")
    said = [
        call("size", "none.toml", field).err.decode(),
        call("study", "none.toml", "--vary", f"{field}=4").err.decode(),
    ]
    for words in said:
        assert f"; give it one: a table [{table}] with what is known of it. See" in words
    Path("one.toml").write_text(f"[{table}]\n", encoding="utf-8")
    assert b"give it one" not in call("size", "one.toml", field, "--system", "supply").err


def test_does_not_say_how_where_the_spec_has_such_parts() -> None:
    ran = call("size", "van.toml", "driveline.axles.front.ratio")
    assert b"driveline.axles has rear. See" in ran.err


@pytest.mark.parametrize(
    ("path", "like"), [("driveline.axles.rear", RATIO), ("driveline.axles", "driveline.axles.*.ratio")]
)
def test_a_part_named_as_a_field_shows_one_of_its_fields(path: str, like: str) -> None:
    ran = call("size", "van.toml", path)
    assert ran.err.decode().startswith(
        f"swaplint size: {path} is no field, but holds several: name one of them, like {like}. See"
    )


# -- what a report says first ----------------------------------------------------------------------------------------
def test_the_gate_says_whether_anything_fails_or_is_only_owed() -> None:
    words = ["inspect", "van.toml", "--rule", "gearing.gradeability"]
    assert "Nothing fails; the gate is shut by what is still owed to 1 rule, like gearing.gradeability." in said(*words)
    steep = EARLY.replace("driven = true", "driven = true\nratio = 9.1")
    Path("steep.toml").write_text(steep, encoding="utf-8")
    words = ["inspect", "steep.toml", "--system", "gearing", "--gate", "warning"]
    assert "The gate is shut by gearing.cruise-rpm" in said(*words)


def test_an_open_gate_says_where_nothing_could_be_judged() -> None:
    Path("idea.toml").write_text('[build]\nstage = "idea"\n', encoding="utf-8")
    report = said("inspect", "idea.toml")
    assert "The gate is open: too little is stated to judge anything, and at this stage nothing is owed." in report
    Path("idea.toml").write_text(
        EARLY.replace('"plan"', '"idea"').replace("true", "true\nratio = 4.1"), encoding="utf-8"
    )
    assert "The gate is open: nothing fails or is owed at the level error or above." in said("inspect", "idea.toml")


def test_a_window_points_to_what_can_be_bought() -> None:
    hint = "--among VALUE,VALUE tells which passes."
    words = ["size", "van.toml", RATIO, "--rule", "gearing.cruise-rpm"]
    assert hint in said(*words)
    assert hint not in said(*words, "--among", "3.9,4.1")


def test_a_field_that_is_chosen_shows_how() -> None:
    """Of the van's mass and place, which more hangs on, nobody has a choice: with them the axle ratio comes first."""
    assert "Which values work" not in said("inspect", "van.toml")
    place = '[build.places.home]\nname = "Example State (invented)"\n'
    Path("van.toml").write_text(f'{EARLY}{place}[vehicle.mass]\ngvwr = "2800 kg"\n', encoding="utf-8")
    report = said("inspect", "van.toml")
    assert f"Which values work: swaplint size van.toml {RATIO}" in report
    Path("none.toml").write_text("", encoding="utf-8")
    assert "Which values work" not in said("inspect", "none.toml")


def test_a_list_is_not_said_to_be_often_what_one_entry_is() -> None:
    Path("none.toml").write_text("", encoding="utf-8")
    report = said("inspect", "none.toml")
    assert "driveline.gearbox.ratios (" in report
    assert "often 5" not in report


def test_three_specs_take_a_line_each_even_where_one_cannot_be_read() -> None:
    Path("other.toml").write_text(EARLY, encoding="utf-8")
    Path("broken.toml").write_text("[build\n", encoding="utf-8")
    ran = call("inspect", "van.toml", "broken.toml", "other.toml")
    lines = ran.out.decode().splitlines()
    assert ran.status == 2
    assert [line.split()[0] for line in lines[:3]] == ["spec", "van.toml", "other.toml"]
    assert "1 spec more could not be read and judged." in lines
    assert ran.err.startswith(b"broken.toml, line 1, column ")


def test_the_rulebook_knows_a_rule_by_the_word_that_it_is_called() -> None:
    assert b"did you mean 'gearing.crawl'?" in call("rulebook", "crawl").err
    assert b"did you mean 'gearing.cruise-reserve' or 'gearing.cruise-rpm'?" in call("rulebook", "cruise").err


# -- slips of the pen ------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("written", ["weight_class = light", "weight_class = light  # as on its papers"])
def test_a_word_without_quotes_is_told_so_in_a_file_and_on_standard_input(written: str) -> None:
    text = f"[vehicle]\n{written}\n"
    Path("slip.toml").write_text(text, encoding="utf-8")
    says = 'line 2, column 16: is not valid TOML: invalid value; a word stands between quotes: "light".\n'
    assert call("inspect", "slip.toml").err.decode() == f"slip.toml, {says}"
    assert call("inspect", "-", stdin=text.encode()).err.decode() == f"standard input, {says}"
