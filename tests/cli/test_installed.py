"""The command as a process of its own: what it gives is what it gives here, whole, and the same each time."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from calling import call

from swaplint.kit.edits import sound_text

ROOT = Path(__file__).parents[2]
TENDER = "specs/tarnholt-tender.toml"
CALLS = [
    ["inspect", TENDER, "--format", "json"],
    *(["inspect", "s.toml", "bare.toml", "--cores", "1", "--format", form] for form in ("text", "jsonl", "sarif")),
    *(["worksheet", "s.toml", "--format", form] for form in ("text", "json")),
    ["worksheet", "s.toml", "gearing.cruise-rpm"],
    ["size", "s.toml", "driveline.axles.*.ratio", "--system", "gearing"],
    ["rulebook", "gearing.startability", "--format", "json"],
    ["schema"],
    ["draft", "-", "--rule", "gearing.crawl"],
]
ALL = "import sys; from swaplint.cli import main; import json; [main(c) for c in json.loads(sys.argv[1])]"


@pytest.fixture(autouse=True)
def _here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("s.toml").write_text(sound_text(), encoding="utf-8")
    Path("bare.toml").write_text("build.stage = 'build'\n", encoding="utf-8")
    os.symlink(ROOT / "specs", "specs")


def process(*words: str, **settings: str) -> subprocess.CompletedProcess[bytes]:
    environment = {**os.environ, "NO_COLOR": "1", **settings}
    return subprocess.run(words, capture_output=True, check=False, env=environment, timeout=60)


def test_the_installed_command_ends_as_the_command_in_this_process_does() -> None:
    """It ends without cleaning up, and yet all of a long report is there."""
    command = shutil.which("swaplint", path=os.path.dirname(sys.executable))
    assert command, "the package is not installed beside this Python"
    arguments = ["inspect", TENDER, "--gate", "note", "--format", "json"]
    done, here = process(command, *arguments), call(*arguments)
    assert (done.returncode, done.stdout, done.stderr) == (here.status, here.out, here.err)
    assert here.status == 1
    assert len(here.out) > 100_000


def test_python_m_swaplint_is_the_same_and_writes_files_whole() -> None:
    module = [sys.executable, "-m", "swaplint"]
    written = process(*module, "inspect", "s.toml", "--format", "json", "-o", "report.json")
    assert (written.returncode, written.stdout, written.stderr) == (0, b"", b"")
    assert Path("report.json").read_bytes() == call("inspect", "s.toml", "--format", "json").out
    wrong, here = process(*module, "inspcet"), call("inspcet")
    assert (wrong.returncode, wrong.stderr) == (here.status, here.err)
    assert here.err.startswith(b"swaplint: ")


@pytest.mark.thorough
def test_the_same_calls_give_the_same_bytes_each_time() -> None:
    """Whatever order sets have in a process."""
    one, other = (process(sys.executable, "-c", ALL, json.dumps(CALLS), PYTHONHASHSEED=seed) for seed in ("1", "2"))
    assert (one.returncode, one.stderr) == (other.returncode, other.stderr) == (0, b"")
    assert one.stdout == other.stdout
    assert one.stdout == b"".join(call(*words).out for words in CALLS)
