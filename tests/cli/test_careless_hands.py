"""A quick choice of the attacks of `tests/bench/attacks.py`, and what they do not show."""

from __future__ import annotations

import importlib.util
import os
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from swaplint.cli import main
from swaplint.cli.output import write_out
from swaplint.kit.edits import sound_text
from swaplint.spec.files_read import FILES_READ
from tests.cli.calling import call

BENCH = Path(__file__).resolve().parents[1] / "bench"


def _attacks() -> Any:
    path = BENCH / "attacks.py"
    spec = importlib.util.spec_from_file_location("attacks", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["attacks"] = module
    spec.loader.exec_module(module)
    return module


ATTACKS = _attacks()


@pytest.mark.parametrize("group", ["over what is read", "where output goes", "what is typed", "what stands in a spec"])
def test_a_choice_of_calls_holds(group: str) -> None:
    own = [attack for attack in ATTACKS.of_calls() if attack.group == group]
    assert len(own) > 60
    failed = [(attack.name, wrong) for attack in own[:: len(own) // 8] if (wrong := attack.run())]
    assert failed == []


@pytest.mark.parametrize(
    ("cases", "many"), [("reports", 4), ("terms", 3), ("tables", 3), ("words", 1), ("measured", 1)]
)
def test_a_choice_of_hostile_files_holds(cases: str, many: int) -> None:
    own = list(ATTACKS._made(getattr(ATTACKS.attack_files, cases)()))
    assert len(own) > 100
    failed = [(attack.name, wrong) for attack in own[:: len(own) // many] if (wrong := attack.run())]
    assert failed == []


@pytest.mark.parametrize("option", ["--rule", "--system", "--stage", "--gate", "--on", "--units"])
def test_a_value_of_dashes_is_a_value(option: str, tmp_path: Path) -> None:
    (tmp_path / "s.toml").write_text(sound_text())
    ran = call("inspect", str(tmp_path / "s.toml"), f"{option}=--", "--no-remedies")
    assert (ran.status, ran.out) == (2, b"")
    assert b"'--'" in ran.err
    assert b"not foreseen" not in ran.err


def test_a_folder_of_sheets_with_too_long_a_name_is_no_folder(tmp_path: Path) -> None:
    (tmp_path / "s.toml").write_text(sound_text())
    ran = call("inspect", str(tmp_path / "s.toml"), "--sheets", "9" * 300, "--no-remedies")
    assert ran.status == 2
    assert b"there is no folder 999" in ran.err


def test_what_would_run_on_a_page_is_seen() -> None:
    wrong = ATTACKS.attack_files.wrong_in_page
    assert wrong("<p>&lt;script&gt; zqx</p>") == ""
    for page in ("<script>zqx</script>", "<b onclick=x>", "<a href='javascript:x'>", "<p>\u202e</p>", "<!--zqx-->"):
        assert wrong(page)


def test_an_attack_that_succeeds_is_seen() -> None:
    from attack_calls import Case

    over = Case("", "", ["draft", "--replace", "s.toml"], (2,))
    assert ATTACKS.called(over).startswith("exit status 0")
    assert ATTACKS.called(over._replace(ends=(0,))) == "s.toml is changed"
    assert ATTACKS.called(Case("", "", ["draft", "new.toml"], (0,))) == "new.toml is left behind"


@pytest.mark.parametrize("sent", ["SIGINT", "SIGTERM"])
def test_a_signal_ends_the_command_with_one_line_and_leaves_the_old_output(sent: str, tmp_path: Path) -> None:
    import signal

    (tmp_path / "s.toml").write_text(sound_text(), encoding="utf-8")
    (tmp_path / "r.txt").write_text("old")
    # whoever runs the tests may have chosen to ignore the signal, as a shell does for what it puts in the background
    heeds = f"import signal; signal.signal(signal.{sent}, signal.SIG_DFL)"
    code = f"{heeds}; from swaplint.cli import command; import sys; print('ready', flush=True); sys.exit(command())"
    words = ["study", "s.toml", "--vary", "driveline.axles.*.ratio=3..6:100", "-o", "r.txt"]
    ran = subprocess.Popen(
        [sys.executable, "-c", code, *words], cwd=tmp_path, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    assert ran.stdout is not None
    assert ran.stdout.readline() == b"ready\n"
    time.sleep(0.3)
    ran.send_signal(getattr(signal, sent))
    _, err = ran.communicate(timeout=20)
    assert (ran.returncode, err) == ({"SIGINT": 130, "SIGTERM": 143}[sent], b"swaplint: stopped.\n")
    assert (tmp_path / "r.txt").read_text() == "old"
    assert sorted(os.listdir(tmp_path)) == ["r.txt", "s.toml"]


@pytest.mark.parametrize(("fails", "ends", "left"), [(False, 0, "new"), (True, 143, "old")])
def test_once_the_file_is_in_its_place_the_command_ends_as_it_would_have(
    fails: bool, ends: int, left: str, tmp_path: Path
) -> None:
    (tmp_path / "r.txt").write_text("old")
    # the signal comes as the file is put in its place; where that fails, another comes while the command says so
    code = f"""
import os, signal, sys
from swaplint.cli import command, output
put, say = os.replace, sys.stderr.write
def told(one, other):
    os.kill(os.getpid(), signal.SIGTERM)
    if {fails}:
        raise OSError(28, "no space left")
    put(one, other)
def write(text):
    os.kill(os.getpid(), signal.SIGTERM)
    return say(text)
os.replace, sys.stderr.write = told, write
signal.signal(signal.SIGTERM, signal.SIG_DFL)
sys.argv[1:] = ["schema", "--list", "-o", "r.txt"]
sys.exit(command())
"""
    ran = subprocess.run([sys.executable, "-c", code], cwd=tmp_path, capture_output=True, timeout=30)
    assert (ran.returncode, ran.stderr) == (ends, b"swaplint: stopped.\n" if fails else b"")
    assert ((tmp_path / "r.txt").read_text() == "old") is (left == "old")
    assert os.listdir(tmp_path) == ["r.txt"]


def test_what_nobody_foresaw_is_a_sentence(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    def broken(*words: Any, **more: Any) -> Any:
        raise KeyError("\x1b[2Jodd")

    monkeypatch.setattr("swaplint.cli.schema.rule_base", broken)
    assert main(["schema", "--list"]) == 3
    said = capsys.readouterr().err
    assert "KeyError" in said
    assert "please report it" in said
    assert "Traceback" not in said
    assert "\x1b" not in said


def test_a_file_is_known_by_what_it_is(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("a").write_text("kept")
    FILES_READ.forget()
    FILES_READ.note("a")
    FILES_READ.note("not-there-yet")
    os.link("a", "twin")
    os.symlink("a", "link")
    for name in ("a", "./a", "twin", "link", "not-there-yet", str(tmp_path / "a")):
        problem = write_out("new", name)
        assert problem is not None
        assert "must go to another file" in problem.what
    assert write_out("new", "b") is None
    assert write_out("new", "twin", onto="a") is None
    assert (Path("a").read_text(), Path("twin").read_text(), Path("b").read_text()) == ("kept", "new", "new")
    FILES_READ.forget()
    assert write_out("new", "a") is None


@pytest.mark.parametrize("links", [{"r": "r"}, {"r": "s", "s": "r"}], ids=len)
def test_an_output_by_a_link_that_leads_to_itself_is_refused(
    links: dict[str, str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    for name, leads_to in links.items():
        os.symlink(leads_to, name)
    FILES_READ.forget()
    problem = write_out("new", "r")
    assert problem is not None
    assert "cannot be written" in problem.what


def test_what_rests_on_very_many_values_lists_some_and_counts_the_rest() -> None:
    import json

    parts = "".join(f"[vehicle.ledger.part{n}]\nmass = '1 kg'\nx = '100 mm'\n" for n in range(300))
    ran = call("inspect", "-", "--format", "json", "--system", "mass", stdin=parts.encode())
    results = json.loads(ran.out)["specs"][0]["results"]
    most = max(results, key=lambda result: result["more_inputs"])
    assert len(most["inputs"]) == 120
    assert most["more_inputs"] >= 300 - 120
    assert {result["more_inputs"] for result in results if len(result["inputs"]) < 120} == {0}
