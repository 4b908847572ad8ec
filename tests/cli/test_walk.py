"""One build from the idea to the hand-over, as the contributors' guide tells it: every command runs and says that."""

from __future__ import annotations

import re
import shlex
import shutil
from pathlib import Path

import pytest
from calling import call

GUIDE = Path("DEVELOPERS.md").read_text(encoding="utf-8")
SPECS = Path("specs").resolve()
COUNTED = re.compile(r"\d+ (questions|steps|fields|new|worse|solved|better|numbers)")
"""What every other rule would change, and what the walk is not about."""


def commands() -> list[tuple[str, list[str]]]:
    """Each command of the walk with the lines that are shown of what it says."""
    found: list[tuple[str, list[str]]] = []
    for block in re.findall(r"^```walk\n(.*?)^```$", GUIDE, re.MULTILINE | re.DOTALL):
        for line in block.splitlines():
            if line.startswith("$ swaplint "):
                found.append((line.removeprefix("$ swaplint "), []))
            else:
                found[-1][1].append(line)
    return found


def without_counts(line: str) -> str:
    return COUNTED.sub(r"N \1", line.rstrip())


def test_a_build_walked_from_idea_to_hand_over(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shutil.copytree(SPECS, tmp_path / "job")
    monkeypatch.chdir(tmp_path / "job")
    monkeypatch.setenv("COLUMNS", "100")
    walked = commands()
    assert [words.split()[0] for words, _ in walked] == [
        *("draft", "fill", "inspect"),
        *("fill", "fill", "fill", "inspect", "takeoff"),
        *("fill", "checklist"),
        *("fill", "checklist", "fill", "inspect"),
        *("fill", "inspect", "handover"),
    ]
    for words, shown in walked:
        ran = call(*shlex.split(words))
        says = [without_counts(line) for line in (ran.err + ran.out).decode().split("\n")]
        where = 0
        for line in (without_counts(one) for one in shown if one != "…"):
            assert line in says[where:], f"{words} does not say, after line {where}: {line}"
            where += says[where:].index(line) + 1
        assert ran.status == ("--rule" in words), words  # the gate is shut once, by the loose joint
    assert {"order.csv", "planned.json", "walk.csv"} <= {path.name for path in Path().iterdir()}
