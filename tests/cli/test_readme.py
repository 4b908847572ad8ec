"""The README and the contributors' guide say what is so: their commands run, and print what they show."""

import re
import shlex
from pathlib import Path

import pytest
from calling import call

from swaplint.cli import main
from swaplint.spec import fields
from swaplint.units import KINDS

README = Path("README.md").read_text(encoding="utf-8")
GUIDE = Path("DEVELOPERS.md").read_text(encoding="utf-8")

SHOWN = [
    (block.group(1), block.group(2))
    for block in re.finditer(r"^```\n\$ swaplint ([^\n]+)\n((?:(?!^```).)+)^```$", README, re.MULTILINE | re.DOTALL)
]


def test_the_readme_shows_output() -> None:
    assert len(SHOWN) >= 4


@pytest.mark.parametrize(("words", "shown"), SHOWN, ids=[words for words, _ in SHOWN])
def test_shown_output_is_real(
    words: str, shown: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every line shown is printed, in that order; a line of dots stands for what is left out."""
    monkeypatch.setenv("COLUMNS", "100")
    assert main(shlex.split(words)) in (0, 1)
    printed = capsys.readouterr().out.split("\n")
    where = 0
    for line in shown.rstrip("\n").split("\n"):
        if line.strip() in ("…", "..."):
            continue
        assert line.rstrip() in printed[where:], f"{words} does not print, after line {where}: {line}"
        where += printed[where:].index(line.rstrip()) + 1


def test_the_way_from_nothing_is_real(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The draft that is shown, and the dialogue, each answer where its question is asked."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "100")
    (draft,) = re.findall(r"^```\n\$ swaplint (draft [^\n]+)\n```$", README, re.MULTILINE)
    (dialogue,) = re.findall(r"^```text\n(.+?)^```$", README, re.MULTILINE | re.DOTALL)
    assert call(*shlex.split(draft)).status == 0
    assert "`swaplint fill my-swap.toml --system gearing`" in README
    lines = dialogue.splitlines()
    field = lines[0].split("   ")[0]
    order = call("fill", "my-swap.toml", "--system", "gearing", stdin=b"\n" * 60).out.decode()
    asked = re.findall(r"^(\S+)   \d+ questions? left", order, re.MULTILINE)
    typed = [""] * asked.index(field) + [line[2:] for line in lines if line.startswith("> ")]
    ran = call("fill", "my-swap.toml", "--system", "gearing", stdin="\n".join([*typed, ""]).encode())
    number = re.compile(r"\d+ questions left")
    printed = iter(number.sub("questions left", ran.out.decode()).splitlines())
    for line in lines:
        assert line == "…" or number.sub("questions left", line) in printed, line
    assert Path("my-swap.toml").read_text(encoding="utf-8").count('value = "728 mm", tol = "1 %"') == 1


def test_first_come_exactly_two_commands_that_set_up_everything() -> None:
    setups = [line for line in README.splitlines() if line.startswith("$ ") and "pip install" in line]
    assert len(setups) == 2
    assert all(line.startswith("$ python3 -m venv .venv && .venv/bin/pip install") for line in setups)
    assert "swaplint inspect specs/" in setups[0]
    assert "pytest" in setups[1]


def test_paths_that_the_texts_name_exist() -> None:
    for text in (README, GUIDE):
        for name in re.findall(r"`((?:swaplint|rules|specs|tests)/[\w./-]+)`", text):
            assert Path(name).exists(), name


def test_the_guide_lists_every_kind_and_every_place() -> None:
    words = " ".join(GUIDE.split())
    assert [kind for kind in KINDS if f"`{kind}`" not in words] == []
    places = {name: value for name, value in vars(fields).items() if name.isupper() and isinstance(value, str)}
    del places["NO_LIMIT"], places["NONE_TOO"]
    assert len(places) > 15
    assert [name for name, value in places.items() if f"`{name}` {value}" not in words] == []
