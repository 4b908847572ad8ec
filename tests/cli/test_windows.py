"""What a Windows machine does differently, as far as another one can show it: paths, line ends, marks, pipes."""

from __future__ import annotations

import errno
import ntpath
import os
from pathlib import Path, PureWindowsPath
from types import SimpleNamespace
from typing import Any

import pytest
from calling import call

from swaplint.cli.output import reader_has_gone
from swaplint.cli.size import unquoted
from swaplint.kit.edits import sound_text
from swaplint.reports.sarif import files
from swaplint.spec.loaded import SpecErrors
from swaplint.spec.loading import load_text
from swaplint.spec.model import Build
from swaplint.spec.sheet_files import sheet_words
from swaplint.spec.toml_source import SpecError, read_bytes


@pytest.fixture
def on_windows(monkeypatch: pytest.MonkeyPatch) -> None:
    """Paths in SARIF are made as on Windows, in the folder C:\\Work."""
    monkeypatch.setattr(os, "getcwd", lambda: "C:\\Work")
    windows: Any = SimpleNamespace(path=ntpath, sep="\\", getcwd=os.getcwd, fsencode=os.fsencode)
    monkeypatch.setattr(files, "os", windows)


@pytest.mark.usefixtures("on_windows")
@pytest.mark.parametrize(
    ("label", "path"),
    [
        ("swap.toml", "swap.toml"),
        ("specs\\swap.toml", "specs/swap.toml"),
        ("specs/sheets/x.engine.toml", "specs/sheets/x.engine.toml"),
        ("C:\\Work\\specs\\swap.toml", "specs/swap.toml"),
        ("c:\\WORK\\specs\\swap.toml", "specs/swap.toml"),
        (".\\specs\\..\\swap.toml", "swap.toml"),
    ],
)
def test_places_below_the_folder_of_the_call_have_forward_slashes(label: str, path: str) -> None:
    paths, outside = files._relative([label])
    assert paths == {label: (files.ROOT, path)}
    assert outside == ""


@pytest.mark.usefixtures("on_windows")
def test_places_elsewhere_and_on_other_drives() -> None:
    paths, outside = files._relative(["..\\other\\a.toml", "..\\other\\sheets\\b.toml"])
    assert [path for _, path in paths.values()] == ["a.toml", "sheets/b.toml"]
    assert outside == "../other"
    paths, outside = files._relative(["D:\\jobs\\a.toml", "E:\\sheets\\b.toml"])
    assert [path for _, path in paths.values()] == ["a.toml", "b.toml"]
    assert outside == ""
    paths, outside = files._relative(["D:a.toml"])  # as seen from the folder that is current on that drive
    assert outside == ""
    for base, path in paths.values():
        assert base == files.OUTSIDE
        assert not PureWindowsPath(path).drive
        assert "\\" not in files._uri(path)


def test_line_ends_and_mark_of_a_windows_editor_change_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """But what the values of several lines hold, and the file's hash."""
    monkeypatch.chdir(tmp_path)
    text = sound_text()
    Path("s.toml").write_bytes(text.encode())
    plain = call("inspect", "s.toml", "--format", "text", "--whole")
    Path("s.toml").write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode())
    windows = call("inspect", "s.toml", "--format", "text", "--whole")
    assert windows == plain
    assert windows.status == 0


def test_places_and_hints_in_a_file_with_windows_line_ends() -> None:
    with pytest.raises(SpecErrors) as raised:
        load_text("[engine]\r\nname = 'x'\r\n# [engine.speed]\r\nidle = '800 r/min'\r\n", label="s.toml")
    wrong = [(error.line, error.column, error.what) for error in raised.value.errors]
    assert (
        4,
        1,
        "engine has no field 'idle': the header in line 3 is still commented out: '# [engine.speed]'",
    ) in wrong
    with pytest.raises(SpecError) as syntax:
        read_bytes(b"a = 1\r\nb = [1,\r\n", "s.toml")
    assert (syntax.value.line, syntax.value.column) == (2, 8)


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-be", "cp1252"])
def test_other_encodings_are_named_or_pointed_at(encoding: str) -> None:
    text = "build.name = 'Zürich'\n"
    raw = text.encode(encoding)
    raw = b"\xfe\xff" + raw if encoding == "utf-16-be" else raw
    with pytest.raises(SpecError) as raised:
        read_bytes(raw, "s.toml")
    assert raised.value.what.endswith("save the file as UTF-8 text")
    assert raised.value.what.startswith("is UTF-16 text" if "16" in encoding else "the byte 0xfc is not valid UTF-8")
    assert (raised.value.line, raised.value.column) == ((1, 1) if "16" in encoding else (1, 16))


def test_a_sheet_is_named_without_its_folder() -> None:
    words = sheet_words({"document": {}}, "specs\\sheets\\x.engine.toml", Build)
    assert words.endswith('[engine] sheet = "x.engine.toml"')


def test_quotes_that_the_command_line_leaves_are_taken_off() -> None:
    assert unquoted("'driveline.axles.*.ratio'") == "driveline.axles.*.ratio"
    assert unquoted("driveline.axles.*.ratio") == "driveline.axles.*.ratio"
    assert unquoted("'") == "'"


def test_a_pipe_that_nobody_reads_any_more(monkeypatch: pytest.MonkeyPatch) -> None:
    assert reader_has_gone(BrokenPipeError())
    assert not reader_has_gone(OSError(errno.EINVAL, "Invalid argument"))
    monkeypatch.setattr("swaplint.cli.output.sys.platform", "win32")
    assert reader_has_gone(OSError(errno.EINVAL, "Invalid argument"))
    assert not reader_has_gone(OSError(errno.ENOSPC, "No space left on device"))


def test_signs_of_one_character_in_a_file_of_a_windows_editor() -> None:
    """Fractions, degrees and dashes as a keyboard or a word processor there makes them, behind a mark and CRLF."""
    toml = (
        '[build.design]\r\nambient_min = "–20 ℃"\r\n[plumbing.fuel.supply]\r\nbore = "½ in"\r\nlength = "2.700 m"\r\n'
    )
    with pytest.raises(SpecErrors) as caught:
        load_text(toml.replace("2.700 m", "5–6 m"), model=Build)
    (error,) = caught.value.errors
    assert (error.line, error.column) == (5, 10)
    assert "is a range" in error.what
    spec = load_text(read_bytes(b"\xef\xbb\xbf" + toml.encode(), "my.toml").text, model=Build)
    assert spec.build.build.design.ambient_min.value == 253.15
