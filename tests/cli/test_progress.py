"""Progress on standard error: after a second, on a terminal, and gone at the end."""

from __future__ import annotations

import contextlib
import io
import threading
import time
from pathlib import Path

import pytest
from calling import call, streams, terminal

import swaplint.cli.progress as module
from swaplint.cli import main
from swaplint.cli.progress import progress
from swaplint.kit.edits import sound_text


@pytest.fixture(autouse=True)
def _here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("TERM", "xterm-256color")
    for name in ("a.toml", "b.toml"):
        Path(name).write_text(sound_text(), encoding="utf-8")


def work(seconds: float, total: int | None) -> None:
    with progress("weighing", total) as tell:
        for number in range(1, 4):
            time.sleep(seconds / 3)
            tell(number)


@pytest.mark.parametrize("total", [3, None])
def test_quick_work_shows_nothing(total: int | None) -> None:
    assert terminal(work=lambda _: work(0.01, total)) == b""


@pytest.mark.parametrize("total", [3, None])
def test_longer_work_is_shown_and_wiped_away(total: int | None, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "PATIENCE", 0.05)
    shown = terminal(work=lambda _: work(0.6, total))
    assert b"weighing" in shown
    assert (b"/3" in shown) == (total == 3)
    assert shown.rstrip().endswith(b"\x1b[2K")  # the line is wiped
    assert shown.count(b"\x1b[?25l") == shown.count(b"\x1b[?25h") == 1  # the cursor is there again


@pytest.mark.parametrize("setting", [("TERM", "dumb"), ("NO_COLOR", "1")], ids=lambda setting: setting[0])
def test_a_plain_terminal_shows_nothing(setting: tuple[str, str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "PATIENCE", 0.0)
    monkeypatch.setenv(*setting)
    assert terminal(work=lambda _: work(0.3, 3)) == b""


def test_a_pipe_shows_nothing_even_where_colour_is_forced(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "PATIENCE", 0.0)
    monkeypatch.setenv("FORCE_COLOR", "1")
    err = io.StringIO()
    with streams(None, err, err):
        work(0.3, 3)
    assert err.getvalue() == ""


def test_work_that_ends_badly_leaves_nothing_behind(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "PATIENCE", 0.0)

    def broken(_: object) -> None:
        with contextlib.suppress(ZeroDivisionError), progress("weighing", 3) as tell:
            tell(1)
            time.sleep(0.2)
            tell(1 // 0)

    assert terminal(work=broken).rstrip().endswith(b"\x1b[2K")


def test_what_the_clock_and_the_work_both_ask_for_is_shown_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """On a busy machine both come at once; a second line would never be taken away, and go on beneath what follows."""
    monkeypatch.setattr(module, "PATIENCE", 3600.0)
    before = set(threading.enumerate())  # of which those of tests before may end meanwhile

    def begun_since() -> set[threading.Thread]:
        return set(threading.enumerate()) - before

    def both_ask(_: object) -> None:
        shown = module._Shown("weighing", None)
        for asked in (shown.begin, shown.begin):
            asker = threading.Thread(target=asked)
            asker.start()
            asker.join()
        assert len(begun_since()) == 2  # what reads the terminal, and what shows the line
        shown.end()

    assert b"weighing" in terminal(work=both_ask)
    for ending in begun_since():  # it has been told to end, and does so when it gets its turn
        ending.join(30)
    assert begun_since() == set()


CALLS = [
    ["inspect", "a.toml"],
    ["inspect", "a.toml", "b.toml", "--cores", "1"],
    ["size", "a.toml", "driveline.axles.*.ratio"],
    ["study", "a.toml", "--vary", "driveline.axles.*.ratio=3..6:40", "--rule", "gearing.crawl"],
]


@pytest.mark.thorough
@pytest.mark.parametrize("words", CALLS, ids=lambda words: " ".join(words[:3]))
def test_each_command_that_may_take_long_uses_it(words: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "PATIENCE", 0.0)
    shown = terminal(*words, "-o", "report.txt")
    assert b"\x1b[?25h" in shown
    assert Path("report.txt").read_bytes() == call(*words).out


def test_lines_that_appear_one_by_one_are_not_disturbed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "PATIENCE", 0.0)
    words = ["inspect", "a.toml", "b.toml", "--cores", "1", "--format", "jsonl"]
    assert terminal(*words, work=lambda arguments: main(arguments)).replace(b"\r\n", b"\n") == call(*words).out
