"""`swaplint checklist`, run as a user runs it: the list out, the answers back into the spec."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from calling import call

SPEC = """\
[build]
format = 1
name = "Bench rig (invented)"
stage = "commission"

[engine]
fuel_type = "diesel"
speed.idle = "750 r/min"

[driveline]
gearbox.kind = "manual"
transfer.fitted = false

[driveline.axles.rear]
driven = true
"""


@pytest.fixture(autouse=True)
def _folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("rig.toml").write_text(SPEC, encoding="utf-8")


def test_answers_go_back_out_of_the_table_into_the_spec() -> None:
    assert call("checklist", "rig.toml", "--format", "csv", "-o", "walk.csv").status == 0
    rows = list(csv.DictReader(io.StringIO(Path("walk.csv").read_text(encoding="utf-8-sig"))))
    answers = {
        "measured.running.idle_speed": "760 r/min ± 10 r/min, measured",
        "measured.before_start.fuel_bled": "yes",
        "measured.done.driveline-axle-oil-rear.date": "2026-05-30",
        "measured.done.controls-first-start.date": "2026-05-31",
        "measured.bus.active_codes": "none",
        "measured.cooling.air": "21 degC",
    }
    for row in rows:
        row["answer"] = answers.pop(row["field"], "")
    assert not answers, "these have no row"
    with open("filled.csv", "w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, rows[0].keys(), delimiter=";")  # as a spreadsheet of another country saves it
        writer.writeheader()
        writer.writerows(rows)
    ran = call("fill", "rig.toml", "--from", "filled.csv")
    assert ran.status == 0, ran.err
    steps = json.loads(call("checklist", "rig.toml", "--format", "json").out)["steps"]
    found = {step["field"]: step["found"]["value"] for step in steps if step["found"] is not None}
    assert found["measured.running.idle_speed"] == 760
    assert found["measured.before_start.fuel_bled"] is True
    assert found["measured.done.controls-first-start.date"] == "2026-05-31"
    also = {noted["field"]: noted["found"] for step in steps for noted in step["also"]}
    assert also["measured.cooling.air"]["value"] == 21
    assert "active_codes = []" in Path("rig.toml").read_text(encoding="utf-8")
    # a step that is done later has a name that the spec does not know yet
    assert call("fill", "rig.toml", "measured.done.exhaust-bolts.date=2026-06-20").status == 0


def test_no_field_is_asked_for_twice() -> None:
    rows = list(csv.DictReader(io.StringIO(call("checklist", "rig.toml", "--format", "csv").out.decode())))
    fields = [row["field"] for row in rows]
    assert len(fields) == len(set(fields))
    assert all(row["field"] and row["takes"] for row in rows)


def test_the_stage_of_the_spec_chooses_the_steps() -> None:
    def stages(*words: str) -> set[str]:
        return {
            step["stage"] for step in json.loads(call("checklist", "rig.toml", *words, "--format", "json").out)["steps"]
        }

    assert stages() == {"commission"}
    assert stages("--stage", "build") == {"build"}
    Path("rig.toml").write_text(SPEC.replace('"commission"', '"idea"'), encoding="utf-8")
    assert stages() == {"build", "commission"}


def test_a_spec_with_nothing_in_it_has_a_list() -> None:
    Path("rig.toml").write_text("[build]\nformat = 1\n", encoding="utf-8")
    ran = call("checklist", "rig.toml")
    assert (ran.status, ran.err) == (0, b"")
    text = ran.out.decode()
    assert text.startswith("Build without a name\n")
    assert max(map(len, text.splitlines())) <= 80


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("checklist", "rig.toml", "--stage", "plan"), "'plan' is not one of build, commission"),
        (("checklist", "nowhere.toml"), "nowhere.toml"),
        (("checklist", "rig.toml", "-o", "rig.toml"), "is one of the files read"),
    ],
)
def test_what_cannot_be_done_is_said(words: tuple[str, ...], says: str) -> None:
    ran = call(*words)
    assert ran.status == 2
    assert says in ran.err.decode()
