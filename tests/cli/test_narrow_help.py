"""Help on a narrow terminal: a call and what it does stand below one another."""

import pytest

from swaplint.cli import main


def test_where_there_is_little_room_what_a_call_does_stands_below_it(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", "60")
    assert main(["--help"]) == 0
    lines = capsys.readouterr().out.splitlines()
    at = lines.index("  swaplint inspect my-swap.toml")
    below = lines[at + 1 : lines.index("  swaplint size my-swap.toml FIELD")]
    assert " ".join(line.strip() for line in below) == "see what passes, what fails and what is still unknown"
    assert {len(line) - len(line.lstrip()) for line in below} == {8}
    assert max(map(len, lines)) < 60
