"""The recipes of the README, executed as they are printed: steps of a pipeline, and the hook before a commit."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
import tomli_w

from swaplint import __version__
from swaplint.kit.edits import edited_data

TOP = Path(__file__).parents[2]
README = (TOP / "README.md").read_text(encoding="utf-8")
STEPS = re.findall(r"^```sh\n(.+?)^```$", README, re.MULTILINE | re.DOTALL)
PLAIN, SARIF = (step for step in STEPS if "--stage quote" in step)
(HOOK,) = re.findall(r"^```yaml\n(repos:.+?)^```$", README, re.MULTILINE | re.DOTALL)

WRONG = {"quote.total": 12345.0}


def shop(folder: Path, *edits: dict[str, object]) -> Path:
    """A shop's folder with a quote for each set of edits to the sound spec."""
    (folder / "quotes").mkdir(parents=True)
    for number, edit in enumerate(edits):
        text = tomli_w.dumps(edited_data(edit))
        (folder / "quotes" / f"quote-{number}.toml").write_text(text, encoding="utf-8")
    return folder


def step(script: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """Run a step as a pipeline does, with an uploader that keeps what it is given."""
    upload = folder / "upload"
    upload.write_text('#!/bin/sh\ncp "$1" uploaded.sarif\n', encoding="utf-8")
    upload.chmod(0o755)
    path = f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"
    environment = {**os.environ, "PATH": path, "UPLOAD": str(upload)}
    return subprocess.run(
        ["sh", "-c", script], cwd=folder, env=environment, capture_output=True, text=True, timeout=300, check=False
    )


@pytest.mark.skipif(os.name == "nt", reason="the steps are for a POSIX shell")
def test_the_steps_of_a_pipeline(tmp_path: Path) -> None:
    sound, wrong = shop(tmp_path / "sound", {}), shop(tmp_path / "wrong", {}, WRONG)
    assert step(PLAIN, sound).returncode == 0
    assert step(PLAIN, wrong).returncode == 1
    for folder, status in ((sound, 0), (wrong, 1)):
        assert step(SARIF, folder).returncode == status
        log = json.loads((folder / "uploaded.sarif").read_text(encoding="utf-8"))
        failing = {result["ruleId"] for result in log["runs"][0]["results"] if result.get("level") == "error"}
        assert failing == ({"supply.quote-arithmetic"} if status else set())


@pytest.mark.skipif(shutil.which("pre-commit") is None, reason="pre-commit is not installed")
def test_the_hook_before_a_commit(tmp_path: Path) -> None:
    """The real pre-commit, on a scratch repository; it builds and installs swaplint, which takes a package index."""
    assert f"rev: v{__version__}" in HOOK
    ours = tmp_path / "swaplint"
    ours.mkdir()
    for name in ("swaplint", "rules"):
        shutil.copytree(TOP / name, ours / name, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md", ".pre-commit-hooks.yaml"):
        shutil.copy(TOP / name, ours / name)
    environment = {**os.environ, "PRE_COMMIT_HOME": str(tmp_path / "kept"), "GIT_CONFIG_GLOBAL": os.devnull}

    def run(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            words, cwd=folder, env=environment, capture_output=True, text=True, timeout=500, check=False
        )

    def commit(folder: Path) -> None:
        run(folder, "git", "init", "-q")
        run(folder, "git", "add", "-A")
        who = ("-c", "user.name=example", "-c", "user.email=example@example.org")
        assert run(folder, "git", *who, "commit", "-qm", "example").returncode == 0

    commit(ours)
    run(ours, "git", "tag", f"v{__version__}")
    scratch = shop(tmp_path / "scratch", {}, {})
    config = HOOK.replace("https://example.org/swaplint", ours.as_posix())
    (scratch / ".pre-commit-config.yaml").write_text(config, encoding="utf-8")
    (scratch / "quotes" / "left-alone.engine.toml").write_text("[document]\n", encoding="utf-8")
    commit(scratch)
    if run(scratch, "pre-commit", "install-hooks").returncode != 0:
        pytest.skip("pre-commit cannot install swaplint here: no package index")
    done = run(scratch, "pre-commit", "run", "--all-files")
    assert (done.returncode, "Passed" in done.stdout) == (0, True), done.stdout
    (scratch / "quotes" / "quote-1.toml").write_text(tomli_w.dumps(edited_data(WRONG)), encoding="utf-8")
    done = run(scratch, "pre-commit", "run", "--all-files")
    assert done.returncode == 1
    assert "supply.quote-arithmetic" in done.stdout
