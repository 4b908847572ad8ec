"""`inspect --earlier` from outside: the gate, every format, and an earlier file that is none."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
import tomli_w
from calling import call

from swaplint.declare.versions import version_key
from swaplint.kit.edits import edited_data, sound_text
from swaplint.kit.trial import rule_base

RULES = ("--rule", "chassis.parking-brake", "--rule", "chassis.vacuum-source")
"""The few that are asked for here, so that a call takes no time."""
GONE = {"vehicle.brakes.parking.state": "gone"}
WORSE = {**GONE, "plumbing.vacuum.supply": "intake-pipe"}


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a sound build, and two that were built otherwise."""
    (tmp_path / "sound.toml").write_text(sound_text(), encoding="utf-8")
    for name, edits in (("gone.toml", GONE), ("worse.toml", WORSE)):
        (tmp_path / name).write_text(tomli_w.dumps(edited_data(edits)), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def kept(*specs: str, format: str = "json") -> str:
    call("inspect", *specs, *RULES, "--format", format, "-o", "accepted.json")
    return "accepted.json"


def test_another_spec_is_compared_with_and_leaves_the_gate_as_it_is() -> None:
    ran = call("inspect", "gone.toml", *RULES, "--earlier", "sound.toml")
    says = ran.out.decode()
    assert ran.status == 1
    assert "COMPARED: 1 new, 0 worse, 0 solved, 0 better" in says
    assert "vehicle.brakes.parking.state: kept → gone; chassis.parking-brake" in says
    solved = call("inspect", "sound.toml", *RULES, "--earlier", "gone.toml")
    assert solved.status == 0
    assert "SOLVED   chassis.parking-brake" in solved.out.decode()


@pytest.mark.parametrize("format", ["json", "jsonl"])
def test_an_accepted_report_leaves_the_gate_to_what_is_new_or_worse(format: str, folder: Path) -> None:
    old = kept("gone.toml", format=format)
    ran = call("inspect", "gone.toml", *RULES, "--earlier", old)
    assert ran.status == 0
    assert "nothing at its level is new or worse than in accepted.json" in ran.out.decode().replace("\n", " ")
    (folder / "gone.toml").write_bytes((folder / "worse.toml").read_bytes())
    ran = call("inspect", "gone.toml", *RULES, "--earlier", old)
    assert ran.status == 1
    assert "shut by chassis.vacuum-source, new or worse than in accepted.json" in ran.out.decode().replace("\n", " ")


def test_specs_in_one_call_are_compared_as_each_is_alone() -> None:
    old = kept("sound.toml", "gone.toml")
    names = ["sound.toml", "gone.toml", "worse.toml"]
    options = (*RULES, "--earlier", old, "--format", "jsonl")
    alone = [call("inspect", name, *options).out.splitlines()[0] for name in names]
    together = call("inspect", *names, *options)
    assert together.out.splitlines()[:3] == alone
    assert together.status == 1
    made = [json.loads(line) for line in alone]
    assert [one["gate"]["open"] for one in made] == [True, True, False]  # the third is not in the report
    assert [one["baseline"]["spec"] for one in made] == ["sound.toml", "gone.toml", None]
    assert made[1]["results"][0]["baseline"]["state"] == "unchanged"


def test_many_specs_have_a_line_each_with_what_is_new() -> None:
    says = call("inspect", "sound.toml", "gone.toml", "worse.toml", *RULES, "--earlier", "sound.toml").out.decode()
    assert "sound.toml: as in sound.toml" in says
    assert "worse.toml: 2 new" in says.replace("\n", " ")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('{"format": 1, "tool": {"name": "swaplint"}, "specs": []}', "format 1"),
        ('{"format": 2, "tool"', "cut off"),
        ('{"$schema": "x", "runs": []}', "SARIF"),
        ("[build]\nname = 3\n", "old, line 2"),
        ("\0\0\0", "old"),
        ("", "old"),
    ],
)
def test_an_earlier_file_that_is_none_is_refused_in_a_sentence(text: str, says: str, folder: Path) -> None:
    (folder / "old").write_text(text, encoding="utf-8")
    ran = call("inspect", "sound.toml", *RULES, "--earlier", "old")
    if text:
        assert (ran.status, ran.out) == (2, b"")
        assert says in ran.err.decode()
        assert len(ran.err.splitlines()) == 1
    else:  # a build spec that states nothing
        assert ran.status == 0


@pytest.mark.parametrize("name", ["-", "", "none.json", ".", "/dev/zero"])
def test_what_is_no_file_is_refused(name: str) -> None:
    ran = call("inspect", "sound.toml", *RULES, "--earlier", name)
    assert (ran.status, ran.out) == (2, b"")
    assert b"--earlier" in ran.err


def test_the_report_never_takes_the_place_of_the_earlier_one(folder: Path) -> None:
    old = kept("gone.toml")
    before = (folder / old).read_bytes()
    assert call("inspect", "gone.toml", *RULES, "--earlier", old, "--format", "json", "-o", old).status == 2
    assert (folder / old).read_bytes() == before


def test_another_spec_is_judged_on_the_same_day() -> None:
    ran = call("inspect", "sound.toml", *RULES, "--earlier", "sound.toml", "--format", "json", "--on", "2026-03-02")
    (spec,) = json.loads(ran.out)["specs"]
    assert spec["baseline"]["fields"] == []
    assert spec["baseline"]["unchanged"] == len(spec["results"])


# -- what changed of the built-in rules --------------------------------------------------------------------------------
def test_a_report_of_the_first_version_is_told_which_rule_changed() -> None:
    earlier = Path(kept("worse.toml"))
    report = json.loads(earlier.read_text("utf-8"))
    for pack in report["tool"]["packs"]:
        pack["version"] = "0.1.0"
    for result in report["specs"][0]["results"]:
        result["kind"], result["level"] = "pass", None  # as if it had passed by the rules as they were
    earlier.write_text(json.dumps(report), "utf-8")
    told = " ".join(call("inspect", "worse.toml", *RULES, "--whole", "--earlier", "accepted.json").out.decode().split())
    assert "NEW chassis.vacuum-source" in told
    assert "Warns where the lamp for low vacuum comes on too late" in told


def test_no_rule_has_changed_in_a_version_that_is_not_there_yet() -> None:
    changed = [(pack, version) for pack, rule in rule_base().rules for version, _ in rule.changed]
    assert len(changed) >= 10
    assert all(version_key("0.1.0") < version_key(version) <= version_key(pack.version) for pack, version in changed)
