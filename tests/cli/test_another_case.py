"""A word typed in another case is refused with the right one, where it stands, by every command that takes it."""

from __future__ import annotations

from pathlib import Path

import pytest
from calling import call

SPEC = """[build]
stage = "idea"
[plumbing.exhaust]
material = "Mild-Steel"
"""
RIGHT = "did you mean 'mild-steel'?"


def test_in_a_spec_it_is_told_at_its_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("a.toml").write_text(SPEC, encoding="utf-8")
    ran = call("inspect", "a.toml")
    assert ran.status == 2
    told = " ".join(ran.err.decode().split())
    assert "a.toml, line 4, column 12: plumbing.exhaust.material: 'Mild-Steel' is not one of" in told
    assert RIGHT in told


@pytest.mark.parametrize(
    "words",
    [
        ["size", "a.toml", "plumbing.exhaust.material", "--among", "Mild-Steel,austenitic-stainless"],
        ["study", "a.toml", "--vary", "plumbing.exhaust.material=Mild-Steel,austenitic-stainless"],
        ["fill", "a.toml", "plumbing.exhaust.material=Mild-Steel"],
    ],
)
def test_in_a_call(words: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    before = SPEC.replace("Mild", "mild").replace("Steel", "steel")
    Path("a.toml").write_text(before, encoding="utf-8")
    ran = call(*words)
    assert ran.status == 2
    assert RIGHT in " ".join((ran.err + ran.out).decode().split())
    assert Path("a.toml").read_text(encoding="utf-8") == before
