"""The calls themselves: help that fits the terminal and says what is so, and sentences for calls that are wrong."""

from __future__ import annotations

import json
import re
import shlex
import shutil
import time
from pathlib import Path

import pytest
import tomli_w
from calling import call

from swaplint.cli import main
from swaplint.cli.program import COMMANDS
from swaplint.cli.statuses import STATUSES
from swaplint.kit.edits import edited_data, sound_text
from swaplint.kit.trial import rule_base

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize("columns", [80, 140])
@pytest.mark.parametrize("command", ["", *COMMANDS])
def test_help_fits_the_terminal(
    command: str, columns: int, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    assert main([*([command] if command else []), "--help"]) == 0
    lines = capsys.readouterr().out.splitlines()
    written = [line for line in lines if "swaplint " not in line and "--vary" not in line]  # a call is never cut
    assert max(map(len, written)) < columns
    assert any("-h, --help" in line for line in lines)


def test_the_help_names_each_command_beside_what_it_does(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    assert main(["--help"]) == 0
    lines = [" ".join(line.split()) for line in capsys.readouterr().out.splitlines()]
    for name, does in COMMANDS.items():
        assert any(line.startswith(f"{name} ") and does.startswith(line.removeprefix(f"{name} ")) for line in lines)


SELECTING = [
    ["inspect", "sound.toml"],
    ["worksheet", "sound.toml"],
    ["size", "sound.toml", "driveline.axles.*.ratio"],
    ["study", "sound.toml", "--vary", "driveline.axles.*.ratio=4,5"],
    ["rulebook"],
    ["draft", "-"],
]
"""The commands that take --system and --rule."""


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["inspct", "x"], "'inspct' is not one of inspect, "),
        (["inspect", "x", "--stage", "bild"], "did you mean 'build'? See 'swaplint inspect --help'.\n"),
        *(
            (
                [*words, "--system", "gearin"],
                f"'gearin' is not a system; did you mean 'gearing'? See 'swaplint {words[0]} --",
            )
            for words in SELECTING
        ),
        *(
            (
                [*words, "--rule", "gearing.crwal"],
                "no loaded rule is called 'gearing.crwal'; did you mean 'gearing.crawl'? ",
            )
            for words in SELECTING
        ),
        (["size", "sound.toml", "axle_ratio"], "has no field axle_ratio; did you mean 'driveline.axles.*.ratio' or"),
        (
            ["size", "sound.toml", "driveline.axles.*.ratio", "--among", ","],
            "--among names no value; one looks like 4.1",
        ),
        (["inspect", "x", "--cores", "0"], "'0' is not a number from 1 on. See"),
        (
            ["inspect", "x", "--profile", "whole"],
            "--profile is for --format sarif alone. See 'swaplint inspect --help'",
        ),
        (["inspect", "x", "--whole", "--format", "json"], "--format json holds everything as it is"),
        (["inspect", "x", "--whole", "--format", "sarif"], "--whole is for text, jsonl and html"),
        (["draft", "-", "--replace"], "--replace is for a file: standard output holds nothing to write over. See"),
        (["study", "x", "--vary", "a=1", "--top", "0"], "'0' is not a number from 1 on. See"),
        (["study", "x", "--vary", "a=1", "--cores", "-1"], "'-1' is not a number from 1 on. See"),
        (["size", "sound.toml", "driveline.axles"], "driveline.axles is no field, but holds several: name one of them"),
        (
            ["size", "sound.toml", "qqqq.xxxx"],
            "swaplint size: the build spec has no field qqqq.xxxx. See 'swaplint size --help'.\n",
        ),
        (
            ["size", "sound.toml", "driveline.axles.rear.ratoi"],
            "did you mean 'driveline.axles.*.ratio'? See 'swaplint size --help'.\n",
        ),
        (
            ["size", "sound.toml", "driveline.axles.tag.ratio"],
            "the spec has no driveline.axles.tag: driveline.axles has ",
        ),
        (["size", "sound.toml", "engine.torque_curve[99].torque"], "the spec has no engine.torque_curve[99]: engine."),
        (["size", "sound.toml", "vehicle.wheelbase[1]"], "vehicle.wheelbase is one value and no list: leave out what "),
        (["study", "sound.toml", "--vary", "driveline.axles.*.ratio=,"], "driveline.axles.*.ratio= names no value; "),
        (["size", "sound.toml", "driveline.gearbox.ratios"], "is a list: name one of its entries, like driveline.gear"),
        (["study", "sound.toml", "--vary", "engine.contains=mounts"], "engine.contains is a list: name one of its ent"),
        (["study", "sound.toml", "--vary", "electrics.cables.*[role=none].size=9 mm2"], "the spec has no part that "),
        (["study", "sound.toml", "--vary", "driveline.gearbox.ratios[2="], "is not FIELD=VALUES, like driveline.ax"),
        (
            ["draft", "sound.toml"],
            "sound.toml is there already; --replace writes over it. See 'swaplint draft --help'.\n",
        ),
        (
            ["schema", "--sheet", "engin"],
            "there is no data sheet of the kind 'engin'; did you mean 'engine'? See 'swaplint schema",
        ),
        (["inspect", "none.toml"], "none.toml: there is no such file.\n"),
        (["schema", "--pack", "none.py", "--list"], "none.py: there is no such file; it was named as a rule pack.\n"),
        (
            ["draft", "-", "--system", "compliance", "--pack", "."],
            ".: is a folder; a rule pack is named by its Python file.\n",
        ),
        (
            ["inspect", "sound.toml", "--output", "sound.toml"],
            "sound.toml: is one of the files read; the report must go to another",
        ),
    ],
)
def test_a_wrong_call_ends_in_a_sentence_and_status_2(
    words: list[str],
    says: str,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("sound.toml").write_text(sound_text(), encoding="utf-8")
    assert main(words) == 2
    said = capsys.readouterr().err
    assert says in said
    assert "?." not in said


@pytest.mark.parametrize(
    "words",
    [
        ["study", "sound.toml", "--vary", "driveline.axles.*.ratio=" + "." * 120_000],
        ["study", "sound.toml", "--vary", "." * 120_000 + "=1"],
        ["study", "sound.toml", "--vary", "driveline.axles.*.ratio=" + ".:" * 60_000],
        ["size", "sound.toml", "." * 120_000],
        ["schema", "--list", "--pack", "9." * 4_000],
        ["inspect", "sound.toml", "--rule", "gearing.crawl", "--sheets", "9." * 4_000],
    ],
)
def test_what_was_pasted_by_mistake_ends_at_once_and_is_not_said_back_whole(
    words: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("sound.toml").write_text(sound_text(), encoding="utf-8")
    started = time.perf_counter()
    assert main(words) == 2
    assert time.perf_counter() - started < 15  # it was minutes; most of this is the inspection of the spec
    said = capsys.readouterr().err
    assert len(said) < 3_000
    assert said.count(".") > 20  # enough of it to know it by


# -- what the help says --------------------------------------------------------------------------------------------
def help_of(command: str, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setenv("COLUMNS", "100")
    ran = call(command, "--help")
    assert (ran.status, ran.err) == (0, b"")
    return ran.out.decode()


SHARED = ["--stage", "--system", "--rule", "--format", "--output", "--pack", "--sheets", "--units"]
"""The options that commands share, in the order in which each lists those that it has, behind its own."""


@pytest.mark.parametrize("command", COMMANDS)
def test_the_options_stand_in_the_same_order(command: str, monkeypatch: pytest.MonkeyPatch) -> None:
    listed = re.findall(r"^  (?:-\w(?: \w+)?, )?(--[a-z-]+)", help_of(command, monkeypatch), re.MULTILINE)
    assert listed[0] == "--help"
    shared = [option for option in listed if option in SHARED]
    assert shared == [option for option in SHARED if option in listed]
    assert listed[len(listed) - len(shared) :] == shared
    assert "--pack" in shared
    if "--output" in shared:
        assert "  -o FILE, --output FILE" in help_of(command, monkeypatch)


@pytest.mark.parametrize("command", COMMANDS)
def test_the_help_states_each_exit_status(command: str, monkeypatch: pytest.MonkeyPatch) -> None:
    said = help_of(command, monkeypatch)
    stated = re.findall(r"^  (\d)  (\S.*)$", said[said.index("\nexit status:\n") :], re.MULTILINE)
    assert {int(status): means for status, means in stated} == STATUSES[command]
    assert (1 in STATUSES[command]) == (command == "inspect")


def examples(command: str, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The example calls of a command's help, as somebody copies them."""
    said = help_of(command, monkeypatch).replace("\\\n", " ")
    lines = re.findall(r"^  (swaplint .*)$", said[said.index("examples:") :], re.MULTILINE)
    return [re.split(r" {3,}(?=\S)(?!-)", line)[0] for line in lines]


SAID = {
    "upgrade": b"my-swap.toml: nothing",
    "--more": b"my-swap.toml: has all",
    "--sheet ": b"wrote six.engine.toml: ",
    "--questions": b"wrote walk.csv: ",
    "--remedy": b"driveline.axles.",
}
"""What calls say on standard error: what was written, or changed."""


SMALL = "build.stage = 'idea'\nengine.cylinders = 4\n"
"""A spec that holds what the matter needs and no more."""


@pytest.mark.parametrize("command", COMMANDS)
def test_the_examples_run(command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As they stand, in a folder with what they name, and without anything on standard error but what was written."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "quotes").mkdir()
    (tmp_path / "sheets").mkdir()
    for name, cylinders in (("six", 6), ("four", 4)):
        for sheet in (f"sheets/{name}.engine.toml", f"{name}.engine.toml", f"{name}.toml"):
            Path(sheet).write_text(f"cylinders = {cylinders}\n")
    for name in ("my-swap.toml", "a.toml", "b.toml", "quotes/one.toml", "built.toml", "planned.toml"):
        Path(name).write_text(SMALL if command == "inspect" else sound_text(), encoding="utf-8")
    Path("gate.toml").write_text('name = "Ours"\nrevision = "1"\ndate = 2026-05-01\n', encoding="utf-8")
    Path("signed.toml").write_text("deviations = []\n", encoding="utf-8")
    if command == "inspect":
        call("inspect", "quotes", "--system", "mass", "--format", "json", "-o", "accepted.json")
    Path("my_rules.py").write_text(
        "from swaplint.api import *\n@hookimpl\ndef swaplint_pack():\n    return Pack('mine', interface=INTERFACE)\n"
    )
    if command == "draft":
        asked = __import__("swaplint.writing.draft").writing.draft.Asked
        for module in ("writing", "cli"):
            name = f"swaplint.{module}.draft.asked_by"
            monkeypatch.setattr(name, lambda base, rules, *known, **more: {rule.id: asked() for rule in rules})
    if command == "fill":
        failing = rule_base().find("gearing.cruise-rpm")
        assert failing is not None
        Path("my-swap.toml").write_text(tomli_w.dumps(edited_data(failing.bad[0])), encoding="utf-8")
    calls = examples(command, monkeypatch)
    assert len(calls) >= 2
    for line in calls:
        if command == "draft" and "--more" not in line:
            for name in ("my-swap.toml", "six.engine.toml"):
                Path(name).unlink(missing_ok=True)
        words = shlex.split(line.split(" < ")[0])
        ran = call(*words[1:], stdin=Path(line.split(" < ")[1]).read_bytes() if " < " in line else None)
        assert ran.status in ((0, 1) if command == "inspect" else (0,)), (line, ran.err)
        said = b"wrote my-swap.toml: " if "draft my" in line else b""
        for word, says in SAID.items():
            said = says if word in line and command in ("draft", "fill", "upgrade") else said
        assert ran.err.startswith(said) if said else ran.err == b"", (line, ran.err)
        assert ran.out or " -o " in line or "--questions" in line or command in ("draft", "upgrade"), line


# -- folders, and data sheets given as specs -----------------------------------------------------------------------
@pytest.fixture
def quotes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with two specs, a data sheet, a hidden file, a note and something else in TOML."""
    monkeypatch.chdir(tmp_path)
    folder = tmp_path / "quotes"
    (folder / "deeper").mkdir(parents=True)
    for name in ("b.toml", "a.TOML", ".hidden.toml", "deeper/c.toml"):
        (folder / name).write_text(sound_text(), encoding="utf-8")
    (folder / "notes.txt").write_text("no spec", encoding="utf-8")
    shutil.copy(ROOT / "specs" / "sheets" / "corriemoor-six.engine.toml", folder)
    return folder


def test_a_folder_stands_for_the_specs_in_it(quotes: Path) -> None:
    (quotes / "tool.toml").write_text("[tool]\nname = 'x'\n", encoding="utf-8")
    (quotes / "broken.toml").write_text("= 1\n", encoding="utf-8")
    ran = call("inspect", "quotes", "--format", "json", "--no-remedies", "--system", "fit")
    assert ran.status == 2
    data = json.loads(ran.out)
    assert [spec["spec"] for spec in data["specs"]] == ["quotes/a.TOML", "quotes/b.toml"]
    assert [problem["file"] for problem in data["problems"]] == ["quotes/broken.toml"]
    said = ran.err.decode()
    assert "quotes/tool.toml has nothing of a build spec in it, and is passed over.\n" in said
    assert "engine.toml" not in said
    assert "hidden" not in said


def test_an_empty_folder_is_said(quotes: Path) -> None:
    ran = call("inspect", "quotes/deeper", "quotes", "--system", "fit")
    assert ran.status == 0
    (quotes / "deeper" / "c.toml").unlink()
    for command in (["inspect"], ["worksheet"]):
        ran = call(*command, "quotes/deeper")
        assert (ran.status, ran.err) == (2, b"quotes/deeper: is a folder without a build spec in it.\n")


@pytest.mark.parametrize(
    "words",
    [["worksheet", "@"], ["size", "@", "driveline.axles.*.ratio"], ["study", "@", "--vary", "engine.cylinders=4,6"]],
    ids=lambda words: words[0],
)
def test_a_folder_for_one_spec_holds_one(words: list[str], quotes: Path) -> None:
    def in_folder(name: str) -> list[str]:
        return [*(name if word == "@" else word for word in words), "--format", "json", "--system", "gearing"]

    ran = call(*in_folder("quotes"))
    assert (ran.status, ran.out) == (2, b"")
    assert ran.err == b"quotes: holds several build specs, name one of them: a.TOML, b.toml.\n"
    ran = call(*in_folder("quotes/deeper"))
    assert (ran.status, ran.err) == (0, b"")
    assert json.loads(ran.out)["spec"] == "quotes/deeper/c.toml"


def test_a_data_sheet_given_as_a_spec_is_recognised(quotes: Path) -> None:
    ran = call("inspect", "quotes/corriemoor-six.engine.toml")
    assert ran.status == 2
    assert ran.err.decode() == (
        "quotes/corriemoor-six.engine.toml: is a data sheet of an engine, not a build spec; "
        'name it in a spec: [engine] sheet = "corriemoor-six.engine.toml".\n'
    )


# -- only some rules -----------------------------------------------------------------------------------------------
@pytest.mark.thorough
def test_size_and_study_judge_by_the_rules_asked_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("s.toml").write_text(sound_text(), encoding="utf-8")
    size = ["size", "s.toml", "driveline.axles.*.ratio", "--format", "json"]
    every = json.loads(call(*size).out)
    some = json.loads(call(*size, "--rule", "gearing.crawl", "--system", "network").out)
    assert some["rules"] == ["gearing.crawl"]
    assert "gearing.crawl" in every["rules"]
    assert len(every["rules"]) > 3
    assert (every["selection"], some["selection"]) == (None, {"systems": ["network"], "rules": ["gearing.crawl"]})
    monkeypatch.setattr("swaplint.solving.study.FEW", 3)  # so that other processes judge
    monkeypatch.setattr("swaplint.solving.study.CHUNK", 4)
    study = ["study", "s.toml", "--vary", "driveline.axles.*.ratio=2..9:8", "--cores", "2", "--rule", "gearing.crawl"]
    rows = json.loads(call(*study, "--format", "json").out)["rows"]
    assert len(rows) == 8
    assert {rule for row in rows for rule in (*row["fails"], *row["reviews"], *row["open"])} <= {"gearing.crawl"}
    assert {row["worst_rule"] for row in rows} == {"gearing.crawl"}
    assert "Judged only by: gearing.crawl." in call(*study).out.decode()


@pytest.mark.thorough
def test_size_names_the_rules_that_judge_in_every_format(capsys: pytest.CaptureFixture[str]) -> None:
    """Not those that merely read the field, or fail wherever it is set because another field must mend them."""
    tender, bore, ratio = "specs/tarnholt-tender.toml", "plumbing.fuel.supply.bore", "driveline.axles.rear.ratio"
    for field in (bore, ratio):
        assert main(["size", tender, field, "--format", "json"]) == 0
        told = json.loads(capsys.readouterr().out)
        assert main(["size", tender, field]) == 0
        judging = " ".join(capsys.readouterr().out.split("CHOICES")[0].split("PASSES")[0].split())
        said = judging.partition("judge it: ")[2].partition(" Set aside")[0].split(" ─")[0].split(", ")
        assert set(said) <= set(told["rules"])
        assert not any(id.endswith(".plausible-value") for id in told["rules"])
    by_rule = {one["rule"]: one["windows"] for one in told["by_rule"]}
    assert by_rule["driveline.axle-torque"]
    assert [id for id, windows in by_rule.items() if not windows] == []
    assert "power.charge-balance" in told["set_aside"]


@pytest.mark.parametrize("columns", [60, 80, 100])
def test_no_row_of_a_study_runs_over(
    columns: int, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    vary = ["--vary", "plumbing.fuel.supply.bore=8 mm,10 mm", "--vary", "driveline.axles.rear.ratio=4.88,5.13"]
    some = ["--system", "fuel", "--system", "driveline", "--cores", "1"]
    for shows in ([], ["fuel.suction-loss"], ["fuel.suction-loss", "mass.laden", "fuel.density"]):
        show = [word for id in shows for word in ("--show", id)]
        assert main(["study", "specs/tarnholt-tender.toml", *vary, *show, *some]) == 0
        lines = capsys.readouterr().out.splitlines()
        assert [line for line in lines if len(line) > columns] == []
        assert sum(max("worst margin" in line, line.count("%")) for line in lines) >= 4
