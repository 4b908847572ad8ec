"""The command `inspect` from outside: exit status, streams, files, and hostile input."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import unicodedata
from pathlib import Path
from typing import Any

import pytest
import tomli_w
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from swaplint.cli import main
from swaplint.kit.edits import edited_data, sound_text
from swaplint.kit.trial import rule_base
from swaplint.spec.toml_source import read_bytes

ROOT = Path(__file__).parents[2]
SPECS = ROOT / "specs"
PACK = '''
from swaplint.api import *

@rule("fit.{id}", level="{level}", due="build", sources=[practice("invented")], about="engine",
      bad=[{{"engine.cylinders": 5}}], good=[{{"engine.cylinders": 4}}])
def made(build):
    """Is it as it should be?

    Computes: nothing of use.
    Limit: an invented limit.
    Remedy: change it.
    Cannot tell: anything else.
    """
    {body}

@hookimpl
def swaplint_pack():
    return Pack("{id}", 1, rules=[made])
'''


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder with the sound spec in it."""
    (tmp_path / "sound.toml").write_text(sound_text(), encoding="utf-8")
    (tmp_path / "bad.toml").write_text("engine = 3\n")
    monkeypatch.chdir(tmp_path)
    for name in ("NO_COLOR", "COLUMNS"):
        monkeypatch.delenv(name, raising=False)
    return tmp_path


@pytest.fixture
def loaded_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Spare a test of many calls the loading of the packs at each."""
    monkeypatch.setattr("swaplint.cli.common.load_rule_base", lambda packs: rule_base())


def add_pack(id: str, body: str, level: str = "error") -> str:
    name = f"{id}.py"
    Path(name).write_text(PACK.format(id=id, level=level, body=body), encoding="utf-8")
    return name


def run(*arguments: str, stdin: bytes | None = None, **environment: str) -> subprocess.CompletedProcess[bytes]:
    code = "import sys; from swaplint.cli import main; sys.exit(main())"
    return subprocess.run(
        [sys.executable, "-c", code, *arguments],
        input=stdin,
        stdin=subprocess.DEVNULL if stdin is None else None,
        env={**os.environ, **environment},
        capture_output=True,
        timeout=60,
        check=False,
    )


def shell(line: str) -> subprocess.CompletedProcess[bytes]:
    code = "import sys; from swaplint.cli import main; sys.exit(main())"
    command = f"swaplint() {{ '{sys.executable}' -c '{code}' \"$@\"; }}; {line}"
    return subprocess.run(["bash", "-c", command], capture_output=True, timeout=60, check=False)


def json_of(capsys: pytest.CaptureFixture[str], *arguments: str) -> Any:
    main(["inspect", *arguments, "--format", "json"])
    return json.loads(capsys.readouterr().out)


# -- exit status ---------------------------------------------------------------------------------------------
def test_the_sound_spec_opens_the_gate(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["inspect", "sound.toml"]) == 0
    captured = capsys.readouterr()
    assert captured.err == ""
    assert "The gate is open" in captured.out


@pytest.mark.parametrize("level", ["error", "warning", "note"])
@pytest.mark.parametrize("gate", ["error", "warning", "note", "never"])
def test_each_gate_with_each_level_of_fail(level: str, gate: str) -> None:
    pack = add_pack("acme", "return holds(False, 'no')", level)
    order = ["error", "warning", "note"]
    shut = gate != "never" and order.index(level) <= order.index(gate)
    assert main(["inspect", "sound.toml", "--pack", pack, "--gate", gate]) == (1 if shut else 0)


def test_a_fail_shuts_the_gate_unless_told_otherwise() -> None:
    assert main(["inspect", "sound.toml", "--pack", add_pack("acme", "return holds(False)", "error")]) == 1
    assert main(["inspect", "sound.toml", "--pack", add_pack("other", "return holds(False)", "warning")]) == 0


@pytest.mark.parametrize(
    ("arguments", "status"),
    [
        (["sound.toml"], 0),
        (["sound.toml", "--pack", "fails.py"], 1),
        (["bad.toml"], 2),
        (["none.toml"], 2),
        (["."], 2),
        (["sound.toml", "--sheets", "none"], 2),
        (["sound.toml", "--pack", "raises.py"], 3),
        (["sound.toml", "--pack", "none.py"], 2),
        (["sound.toml", "--pack", "."], 2),
        (["sound.toml", "--pack", "sound.toml"], 2),
        (["sound.toml", "--pack", "none.py", "--pack", "raises.py"], 2),
        (["sound.toml", "--pack", "fails.py", "--pack", "raises.py"], 3),
        (["sound.toml", "bad.toml", "--pack", "fails.py"], 2),
        (["bad.toml", "sound.toml", "--pack", "raises.py"], 2),
        (["sound.toml", "--output", "none/report.txt"], 2),
        (["sound.toml", "--output", "."], 2),
        (["sound.toml", "--format", "yaml"], 2),
        (["sound.toml", "--stage", "someday"], 2),
        (["sound.toml", "--gate", "fatal"], 2),
        (["sound.toml", "--nonsense"], 2),
        ([], 2),
        (["--help"], 0),
    ],
)
def test_exit_status(arguments: list[str], status: int) -> None:
    add_pack("fails", "return holds(False, 'no')")
    add_pack("raises", "raise RuntimeError('no')")
    assert main(["inspect", *arguments]) == status


@pytest.mark.parametrize("arguments", [[], ["--help"], ["--version"], ["nonsense"], ["inspect"], ["\x1b[31m"]])
def test_calls_without_a_command(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(arguments) == (0 if arguments and arguments[0].startswith("--") else 2)
    captured = capsys.readouterr()
    assert "\x1b" not in captured.out + captured.err
    assert "Traceback" not in captured.err


# -- several specs, standard input, the stage ----------------------------------------------------------------
def test_specs_are_reported_in_the_order_given(capsys: pytest.CaptureFixture[str]) -> None:
    shutil.copy("sound.toml", "a.toml")
    data = json_of(capsys, "sound.toml", "bad.toml", "a.toml", "sound.toml")
    assert [spec["spec"] for spec in data["specs"]] == ["sound.toml", "a.toml", "sound.toml"]
    (problem,) = data["problems"]
    assert (problem["file"], problem["line"], problem["column"]) == ("bad.toml", 1, 10)
    assert (problem["pack"], problem["rule"]) == (None, None)


def test_standard_input() -> None:
    ran = run("inspect", "-", "--format", "json", stdin=sound_text().encode())
    assert ran.returncode == 0
    (spec,) = json.loads(ran.stdout)["specs"]
    assert spec["spec"] == "standard input"
    assert {entry["file"] for result in spec["results"] for entry in result["inputs"]} == {"standard input"}
    ran = run("inspect", "-", stdin=b"engine = 3")
    assert ran.returncode == 2
    assert b"standard input, line 1, column 10" in ran.stderr
    assert run("inspect", "-", stdin=b"").returncode in (0, 1)


def test_standard_input_that_never_ends() -> None:
    ran = shell("swaplint inspect - < /dev/zero")
    assert ran.returncode == 2
    assert b"is not read" in ran.stderr


def test_streams_that_are_closed() -> None:
    assert shell("swaplint inspect - <&-").returncode in (0, 1)
    assert shell("swaplint inspect sound.toml >&-").returncode == 0
    assert shell("swaplint inspect bad.toml 2>&-").returncode == 2


def test_the_stage_on_the_command_line_wins(capsys: pytest.CaptureFixture[str]) -> None:
    Path("s.toml").write_text("build.stage = 'plan'\n")
    assert json_of(capsys, "s.toml")["specs"][0]["stage"] == "plan"
    data = json_of(capsys, "s.toml", "--stage", "commission")["specs"][0]
    assert data["stage"] == "commission"
    assert data["counts"]["fail"]["error"] > 0
    assert data["counts"]["open"] == 0


# -- output --------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("form", ["text", "json", "sarif"])
def test_the_same_input_gives_the_same_bytes(form: str) -> None:
    names = [str(path) for path in sorted(SPECS.glob("*.toml"))]
    assert len(names) >= 2
    more = [] if form == "json" else ["--no-remedies"]
    runs = [run("inspect", *names, "--format", form, *more, PYTHONHASHSEED=seed) for seed in ("1", "2")]
    assert runs[0].stdout == runs[1].stdout
    assert runs[0].stderr == runs[1].stderr == b""
    assert runs[0].returncode == runs[1].returncode == 1


@pytest.mark.parametrize("form", ["text", "json", "sarif"])
def test_a_file_holds_what_standard_output_would(form: str) -> None:
    shown = run("inspect", "sound.toml", "--format", form)
    written = run("inspect", "sound.toml", "--format", form, "--output", "report.out")
    assert (written.returncode, written.stdout, written.stderr) == (0, b"", b"")
    assert Path("report.out").read_bytes() == shown.stdout
    assert b"\r" not in shown.stdout
    assert b"\x1b" not in shown.stdout


def test_output_is_written_whole_or_not_at_all(monkeypatch: pytest.MonkeyPatch) -> None:
    Path("report.txt").write_text("the report from before")

    def full(fd: int, *more: Any, **named: Any) -> Any:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("swaplint.cli.common.os.replace", full)
    before = sorted(os.listdir())
    assert main(["inspect", "sound.toml", "--output", "report.txt"]) == 2
    assert Path("report.txt").read_text() == "the report from before"
    assert sorted(os.listdir()) == before


def test_output_into_a_folder_that_may_not_be_written(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    locked = folder / "locked"
    locked.mkdir()
    locked.chmod(0o500)
    try:
        if os.access(locked, os.W_OK):
            pytest.skip("this user may write anywhere")
        assert main(["inspect", "sound.toml", "--output", "locked/report.txt"]) == 2
        assert "cannot be written: Permission denied" in capsys.readouterr().err
    finally:
        locked.chmod(0o700)


@pytest.mark.parametrize("name", ["none/report.txt", ".", "sound.toml/report.txt", "x" * 5000])
def test_output_that_cannot_be_written_is_said(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    before = sorted(os.listdir())
    assert main(["inspect", "sound.toml", "--output", name]) == 2
    assert "cannot be written" in capsys.readouterr().err
    assert sorted(os.listdir()) == before


def test_output_never_takes_the_place_of_what_was_read(capsys: pytest.CaptureFixture[str]) -> None:
    Path("sheet.toml").write_text("cylinders = 4\n")
    Path("s.toml").write_text('[engine]\nsheet = "sheet.toml"\n')
    os.symlink("s.toml", "link.toml")
    for name in ("s.toml", "link.toml", "sheet.toml", "./s.toml"):
        assert main(["inspect", "s.toml", "--output", name]) == 2
        assert "must go to another file" in capsys.readouterr().err
    assert Path("sheet.toml").read_text() == "cylinders = 4\n"
    assert Path("s.toml").read_text().startswith("[engine]")


def test_output_through_a_link_keeps_the_link_and_the_permissions() -> None:
    Path("target.txt").write_text("old")
    os.chmod("target.txt", 0o640)
    os.symlink("target.txt", "link.txt")
    assert main(["inspect", "sound.toml", "--output", "link.txt"]) == 0
    assert os.path.islink("link.txt")
    assert "TOTALS" in Path("target.txt").read_text(encoding="utf-8")
    assert os.stat("target.txt").st_mode & 0o777 == 0o640


def test_output_to_a_device_does_not_replace_it() -> None:
    os.mkfifo("pipe")
    ran = shell("cat pipe > seen.txt & swaplint inspect sound.toml --output pipe; echo $?; wait")
    assert ran.stdout == b"0\n"
    assert "TOTALS" in Path("seen.txt").read_text(encoding="utf-8")
    assert not Path("pipe").is_file()
    assert run("inspect", "sound.toml", "--output", "/dev/null").returncode == 0
    assert not os.path.isfile("/dev/null")


def test_a_reader_that_has_had_enough_does_not_open_the_gate() -> None:
    tender = SPECS / "tarnholt-tender.toml"
    for form in ("text", "json", "sarif"):
        line = f"swaplint inspect {tender} {tender} --no-remedies --format {form} | head -1; echo ${{PIPESTATUS[0]}}"
        ran = shell(line)
        assert ran.stdout.split(b"\n")[-2] == b"1", form
        assert ran.stderr == b""


def test_a_full_disk_is_said() -> None:
    if not os.path.exists("/dev/full"):
        pytest.skip("no such device here")
    for form in ("text", "json"):
        ran = shell(f"swaplint inspect {SPECS / 'tarnholt-tender.toml'} --no-remedies --format {form} > /dev/full")
        assert ran.returncode == 2
        assert ran.stderr == b"swaplint: standard output cannot be written: No space left on device.\n"


def test_what_packs_print_never_reaches_the_report() -> None:
    Path("loud.py").write_text(
        "print('loud')\n" + PACK.format(id="loud", level="note", body="print('!'); return holds(True)")
    )
    ran = run("inspect", "sound.toml", "--pack", "loud.py", "--format", "json")
    assert ran.returncode == 0
    assert json.loads(ran.stdout)["problems"] == []
    assert b"loud\n" in ran.stderr


def test_any_locale(folder: Path) -> None:
    Path("ü.toml").write_text("build.name = 'Zürich – 你好'\n", encoding="utf-8")
    shown = run("inspect", "ü.toml", PYTHONIOENCODING="utf-8")
    for ran in (
        run("inspect", "ü.toml", PYTHONIOENCODING="ascii"),
        run("inspect", "ü.toml", LC_ALL="C", PYTHONUTF8="0", PYTHONCOERCECLOCALE="0"),
    ):
        assert b"Traceback" not in ran.stderr
        assert ran.stdout.splitlines()[0] == shown.stdout.splitlines()[0]


def terminal(*arguments: str, **environment: str) -> bytes:
    """What a terminal would be sent."""
    import pty

    code = "import sys; from swaplint.cli import main; sys.exit(main())"
    parent, child = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-c", code, *arguments],
        stdout=child,
        stderr=child,
        stdin=subprocess.DEVNULL,
        env={**os.environ, "TERM": "xterm-256color", **environment},
    )
    os.close(child)
    out = b""
    while True:
        try:
            piece = os.read(parent, 65536)
        except OSError:
            break
        if not piece:
            break
        out += piece
    process.wait(30)
    os.close(parent)
    return out


def test_colour_on_a_terminal_only_and_never_with_no_color() -> None:
    coloured = terminal("inspect", "sound.toml")
    plain = terminal("inspect", "sound.toml", NO_COLOR="1")
    assert b"\x1b[" in coloured
    assert b"\x1b" not in plain
    assert b"\x1b" not in terminal("inspect", "sound.toml", TERM="dumb")
    without = __import__("re").sub(rb"\x1b\[[0-9;]*m", b"", coloured)
    assert [line.rstrip() for line in without.splitlines()] == [line.rstrip() for line in plain.splitlines()]


# -- hostile strings -----------------------------------------------------------------------------------------
STEERING = {
    "escape": "\x1b[2J\x1b[31m",
    "c1": "\x9b31m",
    "turned": "a\u202eb\u2066c",
    "bell": "\a\b\r",
    "lines": "one\ntwo\u2028",
}


def steers(text: str) -> list[str]:
    """The characters that could steer a terminal."""
    return [c for c in text if c != "\n" and unicodedata.category(c) in ("Cc", "Cf", "Cs", "Zl", "Zp")]


def hostile_specs() -> dict[str, bytes]:
    out: dict[str, bytes] = {}
    for name, text in STEERING.items():
        quoted = json.dumps(text)
        out[f"{name}-name"] = f"build.name = {quoted}\nvehicle.name = {quoted}\n".encode()
        out[f"{name}-key"] = f"{quoted} = 1\n[engine]\n{quoted} = 2\n".encode()
        out[f"{name}-part"] = f"[driveline.axles.{quoted}]\nratio = 4\n".encode()
        out[f"{name}-word"] = f"build.stage = {quoted}\n".encode()
        out[f"{name}-measure"] = f"vehicle.mass.gvwr = {quoted}\n".encode()
        out[f"{name}-sheet"] = f"engine.sheet = {quoted}\n".encode()
        out[f"{name}-raw"] = f"build.name = '{text}'\n".encode()
        out[f"{name}-item"] = f"[[supply]]\nitem = {quoted}\nby = {quoted}\n".encode()
    long = "x" * 100_000
    out["long-key"] = f"{long} = 1\n".encode()
    out["long-name"] = f"build.name = '{long}'\n".encode()
    out["long-part"] = f"[driveline.axles.{long}]\nratio = 'x'\n".encode()
    out["long-word"] = f"build.stage = '{long}'\n".encode()
    out["names"] = b"[driveline.axles.__class__]\nratio = 4\n[driveline.axles.items]\nratio = 3\n"
    out["markup"] = b"build.name = '[bold red]x[/] {0} %s <b>'\n"
    return out


@pytest.mark.usefixtures("loaded_once")
@pytest.mark.parametrize("form", ["text", "json", "sarif"])
def test_hostile_strings_steer_nothing(form: str, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name, raw in hostile_specs().items():
        path = folder / "s.toml"
        path.write_bytes(raw)
        assert main(["inspect", "s.toml", "--format", form]) in (0, 1, 2), name
        captured = capsys.readouterr()
        assert not steers(captured.err), name
        assert not steers(captured.out), name
        assert len(captured.err) < 20_000, name
        if form != "text":
            json.loads(captured.out)
        else:
            assert max(map(len, captured.out.splitlines()), default=0) <= 100, name


@pytest.mark.parametrize("form", ["text", "json", "sarif"])
@pytest.mark.parametrize(
    "name", [b"\x1b[31m.toml", b"a\nb.toml", "a\u202eb.toml".encode(), b"\xff\xfe.toml", b"-x.toml"]
)
def test_hostile_file_names(name: bytes, form: str, folder: Path) -> None:
    try:
        shutil.copy(b"sound.toml", name)
    except OSError:
        pytest.skip("no such name on this file system")
    ran = run("inspect", "./" + os.fsdecode(name), "--format", form)
    assert ran.returncode == 0, ran.stderr
    assert not steers(ran.stdout.decode("utf-8"))
    if form != "text":
        json.loads(ran.stdout)
    missing = run("inspect", "./no" + os.fsdecode(name), "--format", form)
    assert missing.returncode == 2
    assert not steers((missing.stdout + missing.stderr).decode("utf-8"))


# -- random edits --------------------------------------------------------------------------------------------
BASES = [sound_text(), *(path.read_text(encoding="utf-8") for path in sorted(SPECS.glob("*.toml")))]
ODD_VALUES = st.one_of(
    st.sampled_from(
        [0, -1, 1e9, True, "", "x", "0 kg", "-5 mm", "1e30 kg", "1 kg", "9 mm", [], {}, [1], {"a": 1},
         {"value": "1 kg"}, {"value": 3, "tol": "5 %"}, {"fitted": False}, "\x1b[31m", "a\u202eb", "x" * 600,
         float("nan"), 10**30]
    ),
    st.text(max_size=8),
    st.integers(-5, 10**6),
    st.floats(),
)  # fmt: skip


def all_paths(node: Any, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    out = [path] if path else []
    if isinstance(node, dict):
        for key, child in node.items():
            out += all_paths(child, (*path, key))
    elif isinstance(node, list):
        for index, child in enumerate(node):
            out += all_paths(child, (*path, index))
    return out


def scaled(value: Any, factor: float) -> Any:
    if isinstance(value, int | float) and not isinstance(value, bool):
        return value * factor
    if isinstance(value, str) and value[:1].isdigit() and " " in value:
        number, unit = value.split(" ", 1)
        try:
            return f"{float(number.replace(',', '')) * factor:.6g} {unit}"
        except ValueError:
            return value
    return value


@st.composite
def edited_specs(draw: st.DrawFn) -> str:
    """One of the whole specs with a few random edits."""
    data = edited_data({}, read_bytes(draw(st.sampled_from(BASES)).encode(), "base").data)
    for _ in range(draw(st.integers(1, 5))):
        paths = all_paths(data)
        if not paths:
            break
        *above, last = draw(st.sampled_from(paths))
        holder: Any = data
        for key in above:
            holder = holder[key]
        how = draw(st.sampled_from(["delete", "double", "retype", "scale", "scale", "swap", "unfit"]))
        if how == "delete":
            del holder[last]
        elif how == "double" and isinstance(holder, dict):
            holder[f"{last}{draw(st.sampled_from(['2', '_', '.x', ' ']))}"] = holder[last]
        elif how == "retype":
            holder[last] = draw(ODD_VALUES)
        elif how == "scale":
            holder[last] = scaled(holder[last], draw(st.sampled_from([0, -1, 1e-6, 0.01, 0.5, 2, 100, 1e6])))
        elif how == "swap":
            *other_above, other = draw(st.sampled_from(paths))
            node: Any = data
            for key in other_above:
                node = node[key]
            holder[last] = edited_data({}, {"x": node[other]})["x"]
        elif isinstance(holder[last], dict):
            holder[last] = {"fitted": False}
    return tomli_w.dumps(data)


@pytest.mark.usefixtures("loaded_once")
@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
)
@given(edited_specs(), st.sampled_from(["text", "json", "sarif"]), st.sampled_from(["plan", "commission", None]))
def test_random_edits_end_in_a_report(
    capsys: pytest.CaptureFixture[str], folder: Path, toml: str, form: str, stage: str | None
) -> None:
    shutil.copytree(SPECS / "sheets", folder / "sheets", dirs_exist_ok=True)
    (folder / "s.toml").write_text(toml, encoding="utf-8")
    status = main(["inspect", "s.toml", "--format", form, "--no-remedies", *(["--stage", stage] if stage else [])])
    captured = capsys.readouterr()
    assert status in (0, 1, 2), captured.err  # no rule may break: 3 would be a fault of a built-in rule
    assert not steers(captured.out + captured.err)
    if form != "text":
        json.loads(captured.out)


def test_specs_in_one_call_say_what_each_says_by_itself(
    folder: Path, capsys: pytest.CaptureFixture[str], loaded_once: None
) -> None:
    """What the specs have in common is worked out once: nothing of that shows."""
    text = (folder / "sound.toml").read_text(encoding="utf-8")
    variants = {
        "a.toml": text,
        "b.toml": tomli_w.dumps(edited_data({"engine.speed.rated": "2300 r/min"})),
        "c.toml": tomli_w.dumps(edited_data({"driveline.gearbox.ratios": [5.1, 2.9, 1.7, 1.0]})),
        "d.toml": text,
    }
    for name, changed in variants.items():
        (folder / name).write_text(changed, encoding="utf-8")
    by_themselves = []
    for name in variants:
        main(["inspect", name, "--format", "json"])
        by_themselves += json.loads(capsys.readouterr().out)["specs"]
    main(["inspect", *variants, "--format", "json"])
    assert json.loads(capsys.readouterr().out)["specs"] == by_themselves
    assert by_themselves[0]["results"] != by_themselves[1]["results"]
