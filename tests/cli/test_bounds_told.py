"""What is cut short, or goes to a file alone, says so."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from swaplint.build.reads import MANY, Reads
from swaplint.cli import main


def test_mistakes_that_are_not_named_are_counted(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spec = tmp_path / "s.toml"
    spec.write_text("[engine]\n" + "".join(f"unheard_of_{number} = 1\n" for number in range(1000)))
    assert main(["inspect", str(spec), "--format", "json"]) == 2
    problems = [one["what"] for one in json.loads(capsys.readouterr().out)["problems"]]
    assert len(problems) == 201
    assert problems[0] == "the spec is refused in 1,000 places; the first 200 are named"


def test_a_report_in_a_file_says_what_could_not_be_read(tmp_path: Path) -> None:
    spec, report = tmp_path / "s.toml", tmp_path / "r.txt"
    spec.write_text("engine = [\n")
    assert main(["inspect", str(spec), "--output", str(report)]) == 2
    assert "s.toml, line 1" in report.read_text()


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
