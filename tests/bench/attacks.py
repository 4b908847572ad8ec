"""Attacks by careless and hostile hands: does the command hold?

    python tests/bench/attacks.py [GROUP ...] [--every N] [--show]

Groups: calls (what is typed, read and written), files (hostile files beside the spec, hostile words in it),
surroundings, interrupts, many (400 parts of every kind), packs.
Each attack runs in a temporary folder of its own, for a bounded time; it follows no link out of that folder and
touches nothing outside it. `--every N` takes each N-th attack of a group. The result is how many held and which
failed, by group; the exit status is 1 where one failed.
"""

from __future__ import annotations

import _thread
import argparse
import contextlib
import copy
import fnmatch
import functools
import hashlib
import io
import os
import re
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time
import tomllib
import traceback
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any, NamedTuple

sys.path.insert(0, str(Path(__file__).resolve().parent))

import attack_files
from attack_calls import RATIO, ROOT, Case, calls, furnish

CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f\x9b\u202a-\u202e\u2066-\u2069]")
UNFORESEEN = "not foreseen"
CALLER = "import sys; from swaplint.cli import command; sys.argv[0] = 'swaplint'; sys.exit(command())"
PARTS, PARTS_SECONDS, PARTS_MEGABYTES = 400, 5.0, 300
SIZE_SECONDS, SIZE_MEGABYTES = 8.0, 300
"""What may be asked of hundreds of parts is more, within a budget that is named."""


class Attack(NamedTuple):
    """One attack: what went wrong, in words, or nothing."""

    group: str
    name: str
    run: Callable[[], str]


@contextlib.contextmanager
def folder_of_its_own() -> Iterator[Path]:
    """A furnished folder, which is the current one meanwhile."""
    before = os.getcwd()
    with tempfile.TemporaryDirectory(prefix="swaplint-attack-") as name:
        folder = Path(name).resolve()
        furnish(folder)
        os.chdir(folder)
        try:
            yield folder
        finally:
            os.chdir(before)


LARGEST_HASHED = 10_000_000


def snapshot(folder: Path) -> dict[str, str]:
    """Every file directly in a folder, by what it holds; links by where they lead, which is not followed."""
    out = {}
    for entry in os.scandir(folder):
        if entry.is_symlink():
            out[entry.name] = f"link to {os.readlink(entry.path)}"
        elif entry.is_file(follow_symlinks=False):
            large = entry.stat(follow_symlinks=False).st_size > LARGEST_HASHED
            out[entry.name] = "large" if large else hashlib.sha256(Path(entry.path).read_bytes()).hexdigest()
        else:
            out[entry.name] = "no file"
    return out


def wrong_with(case: Case, status: int, out: str, err: str, seconds: float) -> str:
    """What is wrong with how a call ended; empty where it held."""
    if "Traceback" in err or "Exception ignored" in err:
        return f"a traceback: {err[-200:]}"
    if UNFORESEEN in err:
        return f"not foreseen: {err[:300]}"
    if status not in case.ends:
        return f"exit status {status}: {err[:160]}"
    if seconds > case.seconds:
        return f"took {seconds:.1f} s"
    if CONTROL.search(err.replace("\n", "")):
        return f"a control character on standard error: {err[:120]!r}"
    if "json" not in case.words and "csv" not in case.words and CONTROL.search(out.replace("\n", "")):
        return "a control character on standard output"
    if status == 2 and (not err.strip() or len(err) > 12_000):
        return f"refused with {len(err)} characters"
    return ""


# -- calls in this process -------------------------------------------------------------------------------------------
@functools.cache
def installed_rules() -> Any:
    """The installed packs: the same for every call, so they are loaded once."""
    from swaplint.cli import reading
    from swaplint.host import packs

    base, load = packs.load_rule_base(), reading.load_rule_base

    def kept(pack_files: Any = (), **rest: Any) -> Any:
        return load(pack_files, **rest) if pack_files else copy.copy(base)

    reading.load_rule_base = kept
    return base


LONGEST_CALL = 120.0
"""Seconds after which a call counts as one that hangs, and is interrupted."""


def called(case: Case) -> str:
    """Make a call, and say what went wrong."""
    from swaplint.cli import main

    installed_rules()
    with folder_of_its_own() as folder:
        if case.before is not None:
            case.before()
        before = snapshot(folder)
        out, err = io.StringIO(), io.StringIO()
        streams = sys.stdin
        sys.stdin = io.TextIOWrapper(io.BytesIO(case.stdin), encoding="utf-8")
        started = time.process_time()
        stop = threading.Timer(LONGEST_CALL, _thread.interrupt_main)
        stop.start()
        try:
            with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
                status = main([word.replace("{folder}", str(folder)) for word in case.words])
        except BaseException:
            return traceback.format_exc(limit=-2)
        finally:
            stop.cancel()
            sys.stdin = streams
        wrong = wrong_with(case, status, out.getvalue(), err.getvalue(), time.process_time() - started)
        wrong = wrong or changed(case, before, snapshot(folder))
        return wrong or (case.after() if case.after is not None else "")


def changed(case: Case, before: dict[str, str], after: dict[str, str]) -> str:
    """Which files are not as they were, though the call was not told to write them; empty where none is."""
    for name in sorted({*before, *after}):
        if before.get(name) != after.get(name) and not any(fnmatch.fnmatch(name, may) for may in case.writes):
            return f"{name} is {'gone' if name not in after else 'changed' if name in before else 'left behind'}"
    return ""


# -- in a process of its own -----------------------------------------------------------------------------------------
MEASURER = """
import resource, subprocess, sys
status = subprocess.run(sys.argv[1:]).returncode
used = resource.getrusage(resource.RUSAGE_CHILDREN)
open("used", "w").write(f"{used.ru_utime + used.ru_stime} {used.ru_maxrss}")
sys.exit(status)
"""
"""Runs a command and notes what it used. A process counts the memory of the one that it was copied from as its own, so
the one that starts it must be small."""


def started(words: Iterable[str], **how: Any) -> subprocess.Popen[bytes]:
    """Start the command in a session of its own."""
    how = {"stdin": subprocess.DEVNULL, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE, **how}
    flags = how.pop("flags", [])
    return subprocess.Popen([sys.executable, *flags, "-c", CALLER, *words], start_new_session=True, **how)


def surroundings() -> Iterator[Attack]:
    """Odd surroundings: each with what the command must end with."""
    group = "surroundings"
    every = {**os.environ, "LC_ALL": "C.UTF-8"}
    plain = ["inspect", "sound.toml", "--no-remedies"]

    def in_shell(line: str, ends: tuple[int, ...], says: str = "") -> Callable[[], str]:
        def run() -> str:
            with folder_of_its_own():
                command = f'swaplint() {{ "{sys.executable}" $FLAGS -c "{CALLER}" "$@"; }}; {line}'
                ran = subprocess.run(
                    ["bash", "-c", command], capture_output=True, timeout=60, env=every, stdin=subprocess.DEVNULL
                )
                err = ran.stderr.decode("utf-8", "replace")
                wrong = wrong_with(Case(group, "", [], ends, seconds=60), ran.returncode, "", err or "-", 0.0)
                return wrong or ("" if says in err else f"does not say {says!r}: {err[:200]}")

        return run

    for name, line, ends, says in (
        ("-O", "FLAGS=-O swaplint inspect sound.toml", (0,), ""),
        ("-OO", "FLAGS=-OO swaplint inspect sound.toml", (2,), "PYTHONOPTIMIZE"),
        ("PYTHONOPTIMIZE=2", "PYTHONOPTIMIZE=2 swaplint worksheet sound.toml", (2,), "PYTHONOPTIMIZE"),
        ("no home", "env -u HOME true; unset HOME; swaplint inspect sound.toml", (0,), ""),
        ("an odd locale", "LC_ALL=xx_YY.odd swaplint inspect sound.toml", (0,), ""),
        ("a plain locale", "LC_ALL=C PYTHONUTF8=0 PYTHONCOERCECLOCALE=0 swaplint inspect sound.toml", (0,), ""),
        ("ascii streams", "PYTHONIOENCODING=ascii swaplint inspect sound.toml", (0,), ""),
        ("no columns", "COLUMNS=0 swaplint inspect sound.toml", (0,), ""),
        ("columns that are none", "COLUMNS=x swaplint inspect sound.toml", (0,), ""),
        ("very many columns", "COLUMNS=99999999999999999999 swaplint inspect sound.toml", (0,), ""),
        ("colour forced", "FORCE_COLOR=1 TERM=odd swaplint rulebook", (0,), ""),
        ("no temporary folder", "TMPDIR=/nowhere swaplint inspect sound.toml -o r.txt", (0,), ""),
        ("standard input closed", "swaplint inspect - <&-", (0, 1), ""),
        ("standard output closed", "swaplint inspect sound.toml >&-", (0,), ""),
        ("standard error closed", "swaplint inspect none.toml 2>&-", (2,), ""),
        ("all closed", "swaplint inspect sound.toml <&- >&- 2>&-", (0,), ""),
        ("a full disk", "swaplint inspect sound.toml >/dev/full", (2,), "standard output cannot be written"),
        ("a full disk for JSON", "swaplint inspect sound.toml --format json >/dev/full", (2,), "cannot be written"),
        ("a full disk for a worksheet", "swaplint worksheet sound.toml >/dev/full", (2,), "standard output cannot be"),
        ("a full disk for help", "swaplint --help >/dev/full", (2,), "standard output cannot be written"),
        ("errors on a full disk", "swaplint inspect none.toml 2>/dev/full", (2,), ""),
        ("a reader that has gone", "swaplint inspect sound.toml --format json | head -c1 >/dev/null", (0,), ""),
        ("a folder that is gone", "mkdir gone; cd gone; rmdir ../gone; swaplint inspect ../sound.toml", (2,), "folder"),
        ("few open files", "ulimit -n 8; swaplint inspect sound.toml", (0, 1, 2, 3), ""),
        ("short files", "ulimit -f 1; swaplint inspect sound.toml --format json -o r.json", (2,), "cannot be written"),
        ("in the background", "swaplint inspect sound.toml & wait $!", (0,), ""),
        ("a pipe that nobody reads", "mkfifo p; swaplint inspect sound.toml -o p", (2,), "nobody read"),
        ("standard output by name", "swaplint inspect sound.toml -o /dev/stdout >r.txt; grep -q gate r.txt", (0,), ""),
        ("added to by name", "echo old >l; swaplint inspect sound.toml -o /dev/stdout >>l; grep -q old l", (0,), ""),
        ("an output that may not be read", "echo old >r; chmod 200 r; swaplint inspect sound.toml -o r", (0,), ""),
        ("a mode that is kept", "echo >r; chmod 640 r; swaplint inspect sound.toml -o r; test $(stat -c %a r) = 640",
         (0,), ""),
    ):  # fmt: skip
        yield Attack(group, name, in_shell(line, ends, says))
    for name, entries, metadata in (
        ("broken entry points", "[swaplint\nx", "Metadata-Version: 2.1\nName: odd\nVersion: 1\n"),
        ("entry points of nothing", "[swaplint]\nodd = \n", "Metadata-Version: 2.1\nName: odd\nVersion: 1\n"),
        ("no metadata", "[swaplint]\nodd = nowhere:pack\n", None),
        ("empty metadata", "[swaplint]\nodd = nowhere:pack\n", ""),
        ("metadata that is no text", "[swaplint]\nodd = nowhere:pack\n", "\udcff\udcfe"),
        ("no name", "[other]\nodd = x:y\n", "Version: 1\n"),
    ):
        yield Attack(group, f"another distribution with {name}", _beside(entries, metadata, plain))


def _beside(entries: str, metadata: str | None, words: list[str]) -> Callable[[], str]:
    def run() -> str:
        with folder_of_its_own() as folder:
            info = folder / "site" / "odd-1.dist-info"
            info.mkdir(parents=True)
            (info / "entry_points.txt").write_text(entries)
            if metadata is not None:
                (info / "METADATA").write_bytes(metadata.encode("utf-8", "surrogateescape"))
            path = os.pathsep.join(filter(None, [str(folder / "site"), os.environ.get("PYTHONPATH", "")]))
            ran = started(words, env={**os.environ, "PYTHONPATH": path})
            _, err = ran.communicate(timeout=60)
            return wrong_with(Case("", "", [], (0, 3), seconds=60), ran.returncode, "", err.decode() or "-", 0.0)

    return run


# -- interrupts ------------------------------------------------------------------------------------------------------
MOMENTS = [0.08 + 0.04 * number for number in range(24)]
"""Seconds after the start: the interpreter itself takes the first few hundredths."""


def interrupts() -> Iterator[Attack]:
    """Ctrl-C and a signal to end, at one moment after the other."""
    specs = [f"m{number}.toml" for number in range(12)]
    study = ["study", "sound.toml", "--vary", f"{RATIO}=3..6:40", "--vary", "engine.speed.rated=2000..3000:20"]
    works = {
        "inspect": ["inspect", "sound.toml"],
        "worksheet": ["worksheet", "sound.toml"],
        "many specs": ["inspect", *specs],
        "study": study,
        "size": ["size", "sound.toml", RATIO],
        "draft": ["draft", "--whole", "--replace", "r.txt"],
        "page": ["inspect", "sound.toml", "--no-remedies", "--format", "html"],
        "takeoff": ["takeoff", "sound.toml", "--format", "csv"],
        "checklist": ["checklist", "sound.toml"],
        "handover": ["handover", "sound.toml", "--format", "markdown"],
        "fill": ["fill", "sound.toml", "--questions", "r.txt", "--replace"],
    }
    for work, words in works.items():
        for number, moment in enumerate(MOMENTS):
            which = (signal.SIGINT, signal.SIGTERM, None)[number % 3]
            words_out = words if work in ("draft", "fill") else [*words, "-o", "r.txt"]
            name = f"{work}, {which.name if which else 'Ctrl-C'} after {moment:.2f} s"
            yield Attack("interrupts", name, _interrupted(words_out, moment, which))


def _interrupted(words: list[str], moment: float, which: signal.Signals | None) -> Callable[[], str]:
    def run() -> str:
        with folder_of_its_own() as folder:
            for word in words:
                if re.fullmatch(r"m\d+\.toml", word):
                    shutil.copy("sound.toml", word)
            Path("r.txt").write_text("old")
            before = snapshot(folder)
            ran = started(words)
            time.sleep(moment)
            if ran.poll() is not None:
                ran.communicate()
                return ""
            if which is None:
                os.killpg(ran.pid, signal.SIGINT)
            else:
                ran.send_signal(which)
            try:
                _, err = ran.communicate(timeout=10)
            except subprocess.TimeoutExpired:
                os.killpg(ran.pid, signal.SIGKILL)
                return "hangs"
            wanted = 143 if which is signal.SIGTERM else 130
            if ran.returncode in (0, 1) and Path("r.txt").read_text() != "old":
                return ""  # it was done
            if ran.returncode not in (wanted, -(wanted - 128)):
                return f"status {ran.returncode}: {err[-200:]!r}"
            if err.count(b"\n") > 1 or b"Traceback" in err:
                return f"says {err[-300:]!r}"
            if snapshot(folder) != before:
                return "files are not as they were"
            return _left(ran.pid)

    return run


def _left(group: int) -> str:
    """Whether a process of a session is left, a moment later."""
    for _ in range(20):
        try:
            os.killpg(group, 0)
        except ProcessLookupError:
            return ""
        time.sleep(0.05)
    os.killpg(group, signal.SIGKILL)
    return "a process is left"


# -- many parts ------------------------------------------------------------------------------------------------------
def collections_of(model: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], Any]]:
    """Every collection that a spec may hold, with what stands in it, by its path, `*` for any part."""
    from swaplint.spec.shape import members

    for name, member in members(model).items():
        here = (*path, name)
        if member.role in ("parts", "items", "plain-list"):
            yield here, member
        if member.role in ("part", "parts", "items"):
            yield from collections_of(member.model, here if member.role == "part" else (*here, "*"))


def grow(data: dict[str, Any], path: tuple[str, ...], every: dict[tuple[str, ...], Any]) -> None:
    """Let a collection hold so many parts, alike to those that it has, or to one that its fields allow."""
    node: Any = data
    for number, key in enumerate(path[:-1]):
        if key == "*":
            node = next(iter(node.values() if isinstance(node, dict) else node))
            continue
        around = every.get(path[: number + 1])
        if around is None:
            node = node.setdefault(key, {})
        else:
            node[key] = node.get(key) or ({"one": {}} if around.role == "parts" else [{}])
            node = node[key]
    member = every[path]
    have = node.get(path[-1]) or one_of(member)
    if isinstance(have, dict):
        alike = list(have.items())
        more = {f"{alike[n % len(alike)][0]}_{n}": copy.deepcopy(alike[n % len(alike)][1]) for n in range(PARTS)}
        node[path[-1]] = dict([*have.items(), *more.items()][:PARTS])
    else:
        node[path[-1]] = [copy.deepcopy(have[n % len(have)]) for n in range(PARTS)]


def one_of(member: Any) -> Any:
    """A collection that holds one part, or value, which its fields allow."""
    import random

    from model_specs import random_spec, value_for

    dice = random.Random(3)
    if member.role == "plain-list":
        return [value_for(member.facts, dice, 0.0, bare=True)]
    part = random_spec(member.model, dice)
    return {"one": part} if member.role == "parts" else [part]


LARGEST = 480_000
"""A spec is no longer: of parts that hold much there are fewer lines each."""


def slim(data: dict[str, Any], path: tuple[str, ...]) -> None:
    """Leave out of a collection's parts what stands deepest, until the spec can be read."""
    import tomli_w

    while len(tomli_w.dumps(data).encode()) > LARGEST:
        node: Any = data
        for key in path:
            node = next(iter(node.values() if isinstance(node, dict) else node)) if key == "*" else node[key]
        for part in node.values() if isinstance(node, dict) else node:
            nested = [key for key, value in part.items() if isinstance(value, dict | list)]
            for key in nested[-1:] or list(part)[-1:]:
                del part[key]


def unlike(part: Any, number: int) -> Any:
    """A part with every measure and number a little greater than in the one before."""
    if isinstance(part, dict):
        return {key: unlike(value, number) for key, value in part.items()}
    if isinstance(part, list):
        return [unlike(value, number) for value in part]
    times = 1.0 + number / 2000.0
    if isinstance(part, float):
        return part * times
    measure = re.fullmatch(r"(\d+(?:\.\d+)?) ((?!AWG|mm2)\D.*)", part) if isinstance(part, str) else None
    return f"{float(measure[1]) * times:.6g} {measure[2]}" if measure is not None else part


SEEN_ON_SHEETS = (
    ("electrics", "cables"), ("vehicle", "load_cases"), ("driveline", "shafts"), ("driveline", "axles"),
    ("electrics", "network", "nodes"), ("vehicle", "ledger"), ("supply",), ("plumbing", "exhaust", "devices"),
)  # fmt: skip
"""What figures, lists and sheets show part by part."""


def many() -> Iterator[Attack]:
    """400 parts of every kind that a spec may have, alike and unlike: inspected with remedies, sized, studied."""
    from swaplint.spec.model import Build

    sound = tomllib.loads((ROOT / "swaplint/kit/sound.toml").read_text(encoding="utf-8"))
    every = dict(collections_of(Build))
    for path in every:
        data = copy.deepcopy(sound)
        grow(data, path, every)
        slim(data, path)
        name = f"{PARTS} of {'.'.join(path)}"
        yield Attack("many", name, _bounded(data, ["inspect", "many.toml", "--format", "json"]))
    for path in ("electrics", "cables"), ("driveline", "axles"), ("vehicle", "load_cases"), ("driveline", "shafts"):
        data = copy.deepcopy(sound)
        grow(data, path, every)
        alike = data[path[0]][path[1]]
        data[path[0]][path[1]] = {name: unlike(part, number) for number, (name, part) in enumerate(alike.items())}
        name = f"{PARTS} unlike of {'.'.join(path)}"
        yield Attack("many", name, _bounded(data, ["inspect", "many.toml", "--format", "json"]))
    data = copy.deepcopy(sound)
    grow(data, ("electrics", "cables"), every)
    for cable in data["electrics"]["cables"].values():
        if cable["role"] not in ("starter", "battery"):
            cable.update(size="12 AWG", gauge="SAE")
    yield Attack("many", f"{PARTS} gauges", _bounded(data, ["inspect", "many.toml", "--format", "json"]))
    data = copy.deepcopy(sound)
    grow(data, ("driveline", "axles"), every)
    vary = ["study", "many.toml", "--vary", f"{RATIO}=3..6:10", "--cores", "1"]
    yield Attack("many", "size on many axles", _bounded(data, ["size", "many.toml", RATIO], "Too much hangs on this"))
    yield Attack("many", "study on many axles", _bounded(data, vary, "combinations"))
    yield Attack("many", "worksheet on many axles", _bounded(data, ["worksheet", "many.toml"]))
    for path in SEEN_ON_SHEETS:
        data = copy.deepcopy(sound)
        grow(data, path, every)
        called = ".".join(path)
        page = ["inspect", "many.toml", "--format", "html", "--no-remedies"]
        yield Attack("many", f"page of {PARTS} {called}", _bounded(data, page, "</html>"))
        for words in ["takeoff"], ["checklist", "--stage", "build"], ["handover"], ["worksheet"]:
            call = [words[0], "many.toml", *words[1:], "--format", "json"]
            yield Attack("many", f"{words[0]} of {PARTS} {called}", _bounded(data, call))


def _bounded(data: dict[str, Any], words: list[str], says: str = "") -> Callable[[], str]:
    most_seconds, most_megabytes = (SIZE_SECONDS, SIZE_MEGABYTES) if says else (PARTS_SECONDS, PARTS_MEGABYTES)

    def run() -> str:
        import tomli_w

        with folder_of_its_own():
            Path("many.toml").write_text(tomli_w.dumps(data), encoding="utf-8")
            with open("out", "wb") as out, open("err", "wb") as err:
                ran = subprocess.Popen(
                    [sys.executable, "-c", MEASURER, sys.executable, "-c", CALLER, *words],
                    start_new_session=True,
                    stdin=subprocess.DEVNULL,
                    stdout=out,
                    stderr=err,
                )
                stop = threading.Timer(60, os.killpg, (ran.pid, signal.SIGKILL))
                stop.start()
                ran.wait()
                stop.cancel()
            said = Path("err").read_text()
            if ran.returncode not in (0, 1) or "Traceback" in said:
                return f"status {ran.returncode}: {said[-200:]}"
            seconds, kibibytes = map(float, Path("used").read_text().split())
            megabytes = kibibytes / 1024
            if seconds > most_seconds or megabytes > most_megabytes:
                return f"{seconds:.1f} s of the processor, {megabytes:.0f} MB"
            if says not in Path("out").read_text():
                return f"does not say {says!r}"
            return ""

    return run


# -- packs -----------------------------------------------------------------------------------------------------------
def packs() -> Iterator[Attack]:
    """Packs that do what no pack should, where they are at hand."""
    try:
        import attack_packs
    except ImportError:
        return
    for name, attack in attack_packs.ALL.items():
        for words in (["inspect", "sound.toml", "--format", "json"], ["worksheet", "sound.toml", "--format", "json"]):
            if words[0] == "inspect" or name.startswith("import"):
                yield Attack("packs", f"{words[0]}: {name}", _with_pack(attack, words, (3,)))
    for name, attack in attack_packs.HARMLESS.items():
        yield Attack("packs", name, _with_pack(attack, ["inspect", "sound.toml", "--format", "json"], (0, 1)))

    sheets = {
        "step": ["checklist", "sound.toml", "--stage", "build", "--format", "json"],
        "listing": ["takeoff", "sound.toml", "--format", "json"],
        "figure": ["inspect", "sound.toml", "--no-remedies", "--format", "html"],
    }
    for name, attack in attack_packs.ON_SHEETS.items():
        yield Attack("packs", name, _with_pack(attack, sheets[name.partition(":")[0]], (3,)))
    for name, attack in attack_packs.HARMLESS_SHEETS.items():
        yield Attack("packs", name, _with_pack(attack, sheets[name.partition(":")[0]], (0, 1, 3)))


def _with_pack(attack: Any, words: list[str], ends: tuple[int, ...]) -> Callable[[], str]:
    def run() -> str:
        import json

        with folder_of_its_own():
            Path("acme.py").write_text(attack.text, encoding="utf-8")
            ran = started([*words, "--pack", "acme.py"])
            try:
                out, err = ran.communicate(timeout=attack.seconds + 30)
            except subprocess.TimeoutExpired:
                os.killpg(ran.pid, signal.SIGKILL)
                return "hangs"
            if ran.returncode not in ends:
                return f"status {ran.returncode}: {err[-200:]!r}"
            if "html" in words:
                text = out.decode("utf-8")
                wrong = attack_files.wrong_in_page(text)
                return wrong or ("" if text.rstrip().endswith("</html>") else "its page is not whole") or _left(ran.pid)
            try:
                json.loads(out)
            except ValueError:
                return "its report is not whole"
            if b"Traceback" in err or UNFORESEEN.encode() in err:
                return f"not foreseen: {err[-300:]!r}"
            return _left(ran.pid)

    return run


def of_calls() -> Iterator[Attack]:
    """The calls that are made in this process."""
    yield from _made(calls())


def of_files() -> Iterator[Attack]:
    """The same with hostile files beside the spec, and hostile words in it."""
    yield from _made(attack_files.cases())


def _made(cases: Iterable[Case]) -> Iterator[Attack]:
    for case in cases:
        yield Attack(case.group, case.name, lambda case=case: called(case))


GROUPS: dict[str, Callable[[], Iterator[Attack]]] = {
    "calls": of_calls,
    "files": of_files,
    "surroundings": surroundings,
    "interrupts": interrupts,
    "many": many,
    "packs": packs,
}


def held(attacks: Iterable[Attack], tell: Callable[[Attack, str], None]) -> dict[str, tuple[int, int]]:
    """How many attacks held and how many failed, by group; `tell` is told of each."""
    out: dict[str, tuple[int, int]] = {}
    for attack in attacks:
        try:
            wrong = attack.run()
        except Exception:
            wrong = traceback.format_exc(limit=-1)
        good, bad = out.get(attack.group, (0, 0))
        out[attack.group] = (good, bad + 1) if wrong else (good + 1, bad)
        tell(attack, wrong)
    return out


def main() -> int:
    """Run the attacks asked for."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("groups", nargs="*", choices=[*GROUPS, []], help="which groups (default: all)")
    parser.add_argument("--every", type=int, default=1, metavar="N", help="only each N-th attack")
    parser.add_argument("--show", action="store_true", help="tell of those that hold, too")
    options = parser.parse_args()
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell has what it puts in the background ignore it

    def tell(attack: Attack, wrong: str) -> None:
        if wrong or options.show:
            print(f"{'FAILED' if wrong else 'held  '} {attack.group}: {attack.name}"[:160], flush=True)
        if wrong:
            print(f"       {' '.join(wrong.split())[:300]!a}", flush=True)

    failed = 0
    for group in options.groups or GROUPS:
        results = held(list(GROUPS[group]())[:: options.every], tell)
        for name, (good, bad) in results.items():
            print(f"{name}: {good} held, {bad} failed", flush=True)
            failed += bad
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
