"""`swaplint draft` for what exists already: more fields for a spec, and a data sheet to fill in."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from calling import Ran, call

from swaplint.kit.trial import rule_base
from swaplint.spec.editing.commented import commented_lines
from swaplint.spec.loading import load_text
from swaplint.spec.paths import path_text
from swaplint.spec.schema import sheet_kinds
from swaplint.spec.shape import every_field
from swaplint.writing.profile import Profile

SPECS = Path(__file__).parents[2] / "specs"
SPEC = """\
# my own remark
[build]
stage = "idea"
[vehicle]
name = "a van"

[driveline]
gearbox.kind = "manual"
transfer.fitted = false
# tyres.construction = "radial"
converter = { fitted = false }

[driveline.axles.rear]
driven = true

[driveline.axles.front]
fitted = false
"""


@pytest.fixture(autouse=True)
def _folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("van.toml").write_bytes(SPEC.encode())


def more(*words: str, spec: str = "van.toml") -> Ran:
    return call("draft", "--more", spec, *words)


def added(before: str, after: str) -> list[str]:
    """The lines that are new; those that were there stand in the same order, and nothing else differs."""
    old, new = iter(before.splitlines()), []
    waiting = next(old, None)
    for line in after.splitlines():
        if line == waiting:
            waiting = next(old, None)
        else:
            new.append(line)
    assert waiting is None
    return new


def test_adds_lines_that_are_commented_out_and_nothing_else() -> None:
    assert more("--system", "gearing").status == 0
    text = Path("van.toml").read_text(encoding="utf-8")
    new = added(SPEC, text)
    assert all(not line or line.startswith("#") for line in new)
    assert tomllib.loads(text) == tomllib.loads(SPEC)
    assert max(map(len, new)) <= 120


def test_asks_for_nothing_that_is_stated_there_already_or_does_not_apply() -> None:
    more("--system", "gearing")
    lines = [path_text(line.path) for line in commented_lines(Path("van.toml").read_text(encoding="utf-8"))]
    assert len(lines) == len(set(lines))
    assert "driveline.axles.rear.ratio" in lines
    assert "driveline.gearbox.ratios" in lines
    assert "driveline.gearbox.kind" not in lines  # is stated
    assert "driveline.tyres.construction" in lines  # was there, once
    assert not [line for line in lines if line.startswith(("driveline.transfer", "driveline.axles.front"))]
    assert not [line for line in lines if "converter" in line]


def test_a_second_call_finds_nothing_more() -> None:
    more("--system", "gearing")
    text = Path("van.toml").read_bytes()
    assert b"has all of it already" in more("--system", "gearing").err
    assert Path("van.toml").read_bytes() == text


def test_each_added_line_can_be_uncommented_and_fill_takes_its_place() -> None:
    more("--system", "gearing")
    text = Path("van.toml").read_text(encoding="utf-8")
    load_text(re.sub(r"^# (?=[a-z_.0-9]+ = |\[)", "", text, flags=re.MULTILINE), model=rule_base().model)
    assert call("fill", "van.toml", "driveline.axles.rear.ratio=4.1", "engine.speed.idle=750 r/min").status == 0
    after = Path("van.toml").read_text(encoding="utf-8")
    assert len(after.splitlines()) == len(text.splitlines())
    assert re.search(r"^ratio = 4\.1 +# ratio of the final drive", after, re.MULTILINE)
    assert re.search(r"^\[engine\]$", after, re.MULTILINE)


@pytest.mark.parametrize("end", ["\r\n", "\n"])
def test_line_ends_the_byte_order_mark_and_a_missing_last_line_end_stay(end: str) -> None:
    text = "\ufeff" + SPEC.rstrip("\n").replace("\n", end)
    Path("van.toml").write_bytes(text.encode())
    assert more("--rule", "gearing.cruise-rpm").status == 0
    after = Path("van.toml").read_bytes().decode()
    assert after.startswith("\ufeff# my own remark")
    assert after.count("\n") == after.count(end)
    added(text, after)


def test_a_whole_vehicle_keeps_all_its_lines() -> None:
    for name in ("skerrivar-van.toml",):
        before = (SPECS / name).read_bytes()
        Path("sheets").symlink_to(SPECS / "sheets") if (SPECS / "sheets").exists() else None
        Path(name).write_bytes(before)
        ran = more(
            "--rule", "driveline.critical-speed", "--rule", "mounts.roll-mode", "--sheets", str(SPECS), spec=name
        )
        assert ran.status == 0, ran.err
        after = Path(name).read_bytes()
        added(before.decode(), after.decode())
        assert tomllib.loads(after.decode()) == tomllib.loads(before.decode())


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--more", "-"], "name its file"),
        (["--more", "none.toml"], "there is no such file"),
        (["--more", "van.toml", "--fuel", "diesel"], "takes what is known from the spec itself; --fuel"),
        (["--more", "van.toml", "--replace"], "--replace does not go with it"),
        (["--sheet", "gearbx", "x.toml"], "did you mean 'gearbox'?"),
        (["--sheet", "engine", "x.toml", "--stage", "plan"], "--stage does not go with --sheet"),
        (["--sheet", "engine", "van.toml"], "is there already"),
        (["--more", "--sheet", "engine", "van.toml"], "not allowed with"),
    ],
)
def test_a_wrong_call_ends_in_a_sentence(words: list[str], says: str) -> None:
    ran = call("draft", *words)
    assert ran.status == 2
    assert says in ran.err.decode()
    assert Path("van.toml").read_text(encoding="utf-8") == SPEC


@pytest.mark.parametrize("kind", sorted(sheet_kinds(rule_base().model)))
def test_a_data_sheet_of_each_kind_can_be_read_with_everything_uncommented(kind: str) -> None:
    ran = call("draft", "--sheet", kind, "-")
    assert ran.status == 0
    text = ran.out.decode()
    assert max(map(len, text.splitlines())) <= 120
    data = tomllib.loads(re.sub(r"^# (?=[a-z_.0-9]+ = |\[)", "", text, flags=re.MULTILINE))
    model = sheet_kinds(rule_base().model)[kind]
    model.model_validate(data)
    top = {path.split(".")[0].split("[")[0] for path, _ in every_field(model)} - {"fitted", "sheet"}
    assert set(data) == top


# -- a profile -------------------------------------------------------------------------------------------------------
def test_what_a_profile_says_is_stated_and_what_does_not_apply_is_not_asked() -> None:
    words = ["--fuel", "petrol", "--gearbox", "manual", "--driven", "rear", "--brakes", "none", "--bus", "no"]
    text = call("draft", "-", "--system", "gearing", *words).out.decode()
    data = tomllib.loads(text)
    assert data["engine"]["fuel_type"] == "petrol"
    assert data["driveline"]["gearbox"] == {"kind": "manual"}
    assert data["driveline"]["transfer"] == {"fitted": False}
    assert data["driveline"]["converter"] == {"fitted": False}
    assert data["driveline"]["axles"] == {"front": {"driven": False}, "rear": {"driven": True}}
    assert data["vehicle"]["brakes"] == {"assist": "none", "booster": {"fitted": False}}
    assert data["electrics"]["network"] == data["engine"]["network"] == {"fitted": False}
    asked_for = [path_text(line.path) for line in commented_lines(text)]
    assert not [path for path in asked_for if path.startswith(("driveline.transfer.", "driveline.converter."))]
    assert {"driveline.axles.front.ratio", "driveline.axles.rear.ratio"} <= set(asked_for)


def test_a_profile_in_words_and_in_fields() -> None:
    assert Profile().stated() == {}
    assert Profile(driven="all").stated() == {
        "driveline.axles.front.driven": True,
        "driveline.axles.rear.driven": True,
    }
    assert Profile(bus="yes").stated() == {"engine.network.fitted": True, "electrics.network.fitted": True}
    assert Profile(gearbox="automatic").stated()["driveline.clutch.fitted"] is False
    assert Profile(brakes="hydraulic").stated() == {"vehicle.brakes.assist": "hydraulic"}
