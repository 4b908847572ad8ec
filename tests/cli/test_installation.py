"""An installation that lacks a library is a sentence, whatever command is called."""

import sys

import pytest

from swaplint.cli import main


@pytest.mark.parametrize("command", ["schema", "inspect"])
def test_a_library_that_is_missing_is_said(
    command: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.delitem(sys.modules, f"swaplint.cli.{command}", raising=False)
    monkeypatch.setitem(sys.modules, "swaplint.cli.reading", None)  # as if it could not be imported
    assert main([command, "no.toml"]) == 3
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("swaplint: its installation is not whole: ")
    assert err.endswith(" Install it again.\n")
