"""The calls themselves: help that fits the terminal, and sentences for calls that are wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from swaplint.cli import main
from swaplint.cli.program import COMMANDS
from swaplint.kit.edits import sound_text


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


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (["inspct", "x"], "'inspct' is not one of inspect, worksheet, size, study, rulebook, schema, draft; did you "),
        (["inspect", "x", "--stage", "bild"], "did you mean 'build'? See 'swaplint inspect --help'.\n"),
        (["worksheet", "x", "--system", "gearin"], "did you mean 'gearing'? See 'swaplint worksheet --help'.\n"),
        (["study", "x", "--vary", "a=1", "--top", "0"], "'0' is not a number from 1 on. See"),
        (["study", "x", "--vary", "a=1", "--cores", "-1"], "'-1' is not a number from 1 on. See"),
        (["size", "sound.toml", "driveline.axles"], "driveline.axles is no field, but holds several: name one of them"),
        (["size", "sound.toml", "nope.field"], "swaplint size: the build spec has no field nope.field.\n"),
        (["size", "sound.toml", "driveline.axles.rear.ratoi"], "did you mean 'driveline.axles.*.ratio'?\n"),
        (
            ["size", "sound.toml", "driveline.axles.tag.ratio"],
            "the spec has no driveline.axles.tag: driveline.axles has ",
        ),
        (["size", "sound.toml", "engine.torque_curve[99].torque"], "the spec has no engine.torque_curve[99]: engine."),
        (["size", "sound.toml", "driveline.gearbox.ratios"], "is a list: name one of its entries, like driveline.gear"),
        (["study", "sound.toml", "--vary", "engine.contains=mounts"], "engine.contains is a list: name one of its ent"),
        (["study", "sound.toml", "--vary", "electrics.cables.*[role=none].size=9 mm2"], "the spec has no part that "),
        (["study", "sound.toml", "--vary", "driveline.gearbox.ratios[2="], "is not FIELD=VALUES, like driveline.ax"),
        (["draft", "sound.toml"], "swaplint draft: sound.toml is there already; --replace writes over it.\n"),
        (["schema", "--sheet", "engin"], "there is no data sheet of the kind 'engin'; did you mean 'engine'?\n"),
        (["inspect", "none.toml"], "none.toml: there is no such file.\n"),
        (["schema", "--pack", "none.py", "--list"], "none.py: there is no such file; it was named as a rule pack.\n"),
        (["draft", "-", "--pack", "."], ".: is a folder; a rule pack is named by its Python file.\n"),
        (
            ["inspect", "sound.toml", "--output", "sound.toml"],
            "is one of the files read; the report must go to another",
        ),
    ],
)
def test_a_wrong_call_ends_in_a_sentence_and_status_2(
    call: list[str],
    says: str,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("sound.toml").write_text(sound_text(), encoding="utf-8")
    assert main(call) == 2
    said = capsys.readouterr().err
    assert says in said
    assert "?." not in said
