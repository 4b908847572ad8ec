"""What is cut short, or goes to a file alone, says so."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from calling import terminal

from swaplint.build.reads import MANY, Reads
from swaplint.cli import main


def test_mistakes_that_are_not_named_are_counted(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spec = tmp_path / "s.toml"
    spec.write_text("[engine]\n" + "".join(f"unheard_of_{number} = 1\n" for number in range(1000)))
    assert main(["inspect", str(spec), "--format", "json"]) == 2
    problems = [one["what"] for one in json.loads(capsys.readouterr().out)["problems"]]
    assert len(problems) == 201
    assert problems[0] == "the spec is refused in 1,000 places; the first 200 are named"


@pytest.mark.parametrize("specs", [["broken"], ["sound", "broken"], ["sound", "broken", "sound"]], ids=len)
def test_every_report_says_what_could_not_be_read(
    specs: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """In a file as on standard output, which may be kept without what was said beside it."""
    for name, text in (("broken", "engine = [\n"), ("sound", "[build]\nname = 'x'\n")):
        (tmp_path / name).write_text(text)
    words = ["inspect", *(str(tmp_path / name) for name in specs)]
    assert main([*words, "--output", str(tmp_path / "r.txt")]) == 2
    beside = capsys.readouterr().err
    assert main(words) == 2
    printed = capsys.readouterr()
    assert printed.out == (tmp_path / "r.txt").read_text()
    assert "broken, line 1" in " ".join(printed.out.split())
    assert beside == printed.err
    assert printed.err.startswith(f"{tmp_path / 'broken'}, line 1")


BROKEN_PACK = """
from swaplint.api import INTERFACE, Pack
raise OSError("no such bench")
"""


@pytest.mark.parametrize(
    "words",
    [["inspect"], ["worksheet"], ["size", "vehicle.wheelbase"], ["study", "--vary", "vehicle.wheelbase=2 m,3 m"]],
)
def test_every_text_says_which_pack_could_not_be_loaded(
    words: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "acme.py").write_text(BROKEN_PACK)
    (tmp_path / "s.toml").write_text("[vehicle]\nwheelbase = '2500 mm'\n")
    command, *rest = words
    assert main([command, str(tmp_path / "s.toml"), *rest, "--pack", str(tmp_path / "acme.py")]) == 3
    assert "no such bench" in " ".join(capsys.readouterr().out.split())


def test_what_stands_in_the_sheet_is_not_said_twice_on_a_terminal(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "s.toml").write_text("engine = [\n")
    monkeypatch.chdir(tmp_path)
    assert terminal("inspect", "s.toml").count(b"s.toml, line 1") == 1
    assert terminal("inspect", "s.toml", "-o", "r.txt").count(b"s.toml, line 1") == 1


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full device here")
def test_help_that_cannot_be_written_is_no_success() -> None:
    caller = "import sys; from swaplint.cli import command; sys.exit(command())"
    with open("/dev/full", "w") as full:
        ran = subprocess.run(
            [sys.executable, "-c", caller, "--help"], stdout=full, stderr=subprocess.PIPE, text=True, timeout=60
        )
    assert ran.returncode == 2
    assert "cannot be written" in ran.stderr


def test_what_many_read_alike_is_held_once() -> None:
    together = Reads()
    for part in range(50):
        one, asked = Reads(), Reads()
        one.few = {f"part.{number}": None for number in range(MANY + 1)}
        one.few[f"own.{part % 2}"] = None
        asked.add(one)
        together.add(asked)
    assert len(together.shared) == 2
    assert together.fields.keys() == {*(f"part.{number}" for number in range(MANY + 1)), "own.0", "own.1"}


def test_every_answer_for_a_program_says_which_pack_could_not_be_loaded(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Whoever keeps the answer and not what was said beside it knows that something is missing."""
    monkeypatch.chdir(tmp_path)
    Path("acme.py").write_text(BROKEN_PACK)
    Path("s.toml").write_text("[vehicle]\nwheelbase = '2500 mm'\n")
    for words in (["size", "vehicle.wheelbase"], ["study", "--vary", "vehicle.wheelbase=2 m,3 m"], ["takeoff"]):
        command, *rest = words
        for form in ("json", "csv"):
            if (command, form) == ("size", "csv"):
                continue
            assert main([command, "s.toml", *rest, "--format", form, "--pack", "acme.py", "--pack", "none.py"]) == 2
            out = capsys.readouterr().out
            said = " ".join(one["what"] for one in json.loads(out)["problems"]) if form == "json" else out
            assert "no such bench" in said
            assert "there is no such file" in said
