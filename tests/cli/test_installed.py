"""The installed command: its exit status and output, whole, although it ends without cleaning up."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from swaplint.cli import main

ROOT = Path(__file__).parents[2]
TENDER = "specs/tarnholt-tender.toml"


def installed(*arguments: str) -> subprocess.CompletedProcess[str]:
    command = shutil.which("swaplint", path=os.path.dirname(sys.executable))
    assert command, "the package is not installed beside this Python"
    environment = {**os.environ, "NO_COLOR": "1"}
    return subprocess.run(
        [command, *arguments], capture_output=True, text=True, check=False, cwd=ROOT, env=environment, encoding="utf-8"
    )


@pytest.mark.parametrize(
    ("arguments", "status"),
    [
        (["inspect", TENDER, "--gate", "never", "--format", "sarif"], 0),
        (["inspect", TENDER, "--gate", "note", "--format", "json"], 1),
        (["inspect", "specs/no-such-spec.toml"], 2),
    ],
)
def test_it_ends_as_the_command_in_this_process_does(
    arguments: list[str], status: int, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(ROOT)
    done = installed(*arguments)
    assert main(arguments) == done.returncode == status
    here = capsys.readouterr()
    assert (done.stdout, done.stderr) == (here.out, here.err)


def test_a_file_is_written_whole(tmp_path: Path) -> None:
    report = tmp_path / "report.json"
    assert installed("inspect", TENDER, "--gate", "never", "--format", "json", "--output", str(report)).returncode == 0
    assert report.read_text(encoding="utf-8").endswith("}\n")
