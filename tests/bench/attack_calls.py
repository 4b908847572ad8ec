"""Calls that careless and hostile hands make, as cases of `attacks.py`: each is a call in a folder of its own.

Whatever is called, the command ends within its time with an exit status from 0 to 3, says what is wrong in sentences,
shows no traceback and no control character, and leaves every file that it was not told to write as it is.
"""

from __future__ import annotations

import itertools
import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]
SHEET = '[document]\ntitle = "Invented"\nrevision = "1"\ndate = 2026-01-01\n'
PACK = "from swaplint.api import *\n@hookimpl\ndef swaplint_pack():\n    return Pack('mine', interface=INTERFACE)\n"


class Case(NamedTuple):
    """One call."""

    group: str
    name: str
    words: list[str]
    ends: tuple[int, ...] = (0, 1, 2, 3)
    """The exit statuses that it may end with."""
    writes: tuple[str, ...] = ()
    """The files that it may write or change."""
    before: Callable[[], object] | None = None
    """What is done in the folder beforehand."""
    stdin: bytes = b""
    seconds: float = 5.0
    after: Callable[[], str] | None = None
    """What looks at what was written: what is wrong with it, empty where nothing is."""


def furnish(folder: Path) -> None:
    """A folder as somebody works in: a spec with a data sheet, a base and a table, a pack, an older report."""
    sound = (ROOT / "swaplint/kit/sound.toml").read_text(encoding="utf-8")
    (folder / "sound.toml").write_text(sound, encoding="utf-8")
    (folder / "s.toml").write_text(
        "[build]\nbase = 'base.toml'\n[tables]\n'vehicle.ledger' = 'ledger.csv'\n[engine]\nsheet = 'e.engine.toml'\n"
        "[engine.speed]\nrated = '2600 r/min'\n[driveline.gearbox]\nratios = [5.1, 2.8, 1.6, 1.0, 0.8]\n",
        encoding="utf-8",
    )
    (folder / "base.toml").write_text("[build]\nstage = 'plan'\n[driveline.axles.rear]\nratio = 4.1\n")
    (folder / "ledger.csv").write_text("name,mass\nbattery,18 kg\n")
    (folder / "e.engine.toml").write_text("cylinders = 4\n" + SHEET)
    (folder / "mine.py").write_text(PACK)
    (folder / "gate.toml").write_text("name = 'Invented gate'\ngate_on_reviews = false\n")
    (folder / "signed.toml").write_text(
        "[[deviations]]\nrule = 'gearing.crawl'\nreason = 'invented'\nby = 'A. Example'\ndate = 2026-01-01\n"
        "until = 'commission'\n"
    )
    (folder / "old.json").write_text('{"format": 2, "tool": {"name": "swaplint"}, "specs": []}')
    (folder / "deeper").mkdir()
    os.symlink(".", folder / "here")


RATIO, BORE = "driveline.axles.*.ratio", "plumbing.fuel.supply.bore"
WRITERS = {
    "inspect": ["inspect", "s.toml", "--no-remedies", "-o"],
    "inspect-json": ["inspect", "s.toml", "--no-remedies", "--format", "json", "--output"],
    "inspect-jsonl": ["inspect", "s.toml", "sound.toml", "--no-remedies", "--format", "jsonl", "-o"],
    "inspect-sarif": ["inspect", "s.toml", "--no-remedies", "--format", "sarif", "-o"],
    "worksheet": ["worksheet", "s.toml", "-o"],
    "worksheet-json": ["worksheet", "s.toml", "--format", "json", "-o"],
    "size": ["size", "s.toml", RATIO, "--rule", "gearing.crawl", "-o"],
    "study": ["study", "s.toml", "--vary", f"{RATIO}=4,5", "--rule", "gearing.crawl", "-o"],
    "study-csv": ["study", "s.toml", "--vary", f"{RATIO}=4,5", "--rule", "gearing.crawl", "--format", "csv", "-o"],
    "upgrade": ["upgrade", "s.toml", "-o"],
    "questions": ["fill", "s.toml", "--replace", "--questions"],
    "takeoff": ["takeoff", "s.toml", "-o"],
    "takeoff-csv": ["takeoff", "s.toml", "--format", "csv", "-o"],
    "takeoff-json": ["takeoff", "s.toml", "--format", "json", "-o"],
    "checklist": ["checklist", "s.toml", "-o"],
    "checklist-csv": ["checklist", "s.toml", "--format", "csv", "-o"],
    "checklist-markdown": ["checklist", "s.toml", "--format", "markdown", "-o"],
    "handover": ["handover", "s.toml", "-o"],
    "handover-json": ["handover", "s.toml", "--format", "json", "-o"],
    "page": ["inspect", "s.toml", "--no-remedies", "--rule", "gearing.crawl", "--format", "html", "-o"],
    "size-page": ["size", "s.toml", RATIO, "--rule", "gearing.crawl", "--format", "html", "-o"],
    "study-page": ["study", "s.toml", "--vary", f"{RATIO}=4,5", "--rule", "gearing.crawl", "--format", "html", "-o"],
}
VICTIMS = ("s.toml", "base.toml", "ledger.csv", "e.engine.toml", "mine.py")
NAMED = {"mine.py": "--pack", "gate.toml": "--policy", "signed.toml": "--deviations", "old.json": "--earlier"}
"""What is read because an option names it."""


def _spelled(victim: str) -> dict[str, tuple[str, Callable[[], object] | None]]:
    return {
        "plainly": (victim, None),
        "with a dot": (f"./{victim}", None),
        "by a way round": (f"deeper/../{victim}", None),
        "through a linked folder": (f"here/{victim}", None),
        "from the root": (os.path.join("{folder}", victim), None),
        "by a link": ("link", lambda: os.symlink(victim, "link")),
        "by a link to a link": ("link", lambda: (os.symlink(victim, "one"), os.symlink("one", "link"))),
        "by a second name": ("twin", lambda: os.link(victim, "twin")),
        "by an open handle": ("/proc/self/fd/77", lambda: os.dup2(os.open(victim, os.O_RDWR), 77)),
        "by another open handle": ("/dev/fd/77", lambda: os.dup2(os.open(victim, os.O_RDWR), 77)),
        "by a link to an open handle": (
            "link",
            lambda: (os.dup2(os.open(victim, os.O_RDWR), 77), os.symlink("/dev/fd/77", "link")),
        ),
    }


def over_inputs() -> Iterator[Case]:
    """Every command that writes, told to write over each file that it reads, in every spelling."""
    group = "over what is read"
    for (writer, words), victim in itertools.product(WRITERS.items(), VICTIMS):
        for number, (how, (name, before)) in enumerate(_spelled(victim).items()):
            if number and (hash_of(writer + victim) + number) % 3:
                continue  # every spelling for each victim, not for each command
            if writer == "upgrade" and victim == "s.toml":
                continue  # that is what it is for
            named = [NAMED[victim], victim] if victim in NAMED else []
            yield Case(group, f"{writer} over {victim} {how}", [*words, name, *named], (2,), before=before)
    for writer, victim in itertools.product(WRITERS, ("gate.toml", "signed.toml", "old.json")):
        takes = ("inspect", "takeoff", "handover") if victim != "old.json" else ("inspect",)
        if WRITERS[writer][0] in takes:
            for how, (name, before) in list(_spelled(victim).items())[:: 2 if "page" in writer else 1]:
                call = [*WRITERS[writer], name, NAMED[victim], victim]
                yield Case(group, f"{writer} over {victim} {how}", call, (2,), before=before)
    for words in (
        ["rulebook", "-o", "mine.py"],
        ["rulebook", "gearing", "--format", "markdown", "-o", "mine.py"],
        ["schema", "-o", "./mine.py"],
        ["schema", "--list", "-o", "mine.py"],
        ["draft", "--replace", "mine.py"],
        ["draft", "--replace", "--sheet", "engine", "mine.py"],
        ["draft", "--more", "mine.py"],
        ["rulebook", "--format", "json", "-o", "here/mine.py"],
        ["schema", "--policy", "-o", "/proc/self/cwd/mine.py"],
        ["schema", "--deviations", "-o", "deeper/../mine.py"],
        ["schema", "--sheet", "engine", "-o", "mine.py"],
    ):
        yield Case(group, " ".join(words), [*words, "--pack", "mine.py"], (2,))
    answers = ["fill", "s.toml", "--from", "ledger.csv", "--pack", "mine.py"]
    yield Case(group, "answers out of a table that is none", answers, (2,))
    sheets = ["upgrade", "s.toml", "--sheets-too", "-o", "x.toml"]
    yield Case(group, "upgrade of sheets to one file", sheets, (2,))


def hash_of(text: str) -> int:
    """A number that hangs on nothing but the text."""
    return sum(number * ord(letter) for number, letter in enumerate(text, 1))


def places() -> Iterator[Case]:
    """Places for output that are none, or odd ones."""
    group = "where output goes"
    makes: dict[str, tuple[str, Callable[[], object] | None, tuple[int, ...]]] = {
        "nowhere": ("", None, (2,)),
        "a folder that is not there": ("new/", None, (2,)),
        "in a folder that is not there": ("new/r.txt", None, (2,)),
        "a folder": ("deeper", None, (2,)),
        "this folder": (".", None, (2,)),
        "below a file": ("s.toml/r.txt", None, (2,)),
        "a link to nothing": ("r", lambda: os.symlink("r.txt", "r"), (0, 1)),
        "a link to itself": ("loop", lambda: os.symlink("loop", "loop"), (2,)),
        "a full device": ("/dev/full", None, (2,)),
        "the null device": ("/dev/null", None, (0, 1)),
        "a name too long": ("x" * 300, None, (2,)),
        "a name as long as may be": ("r" * 255, None, (0, 1)),
        "a name with an escape": ("r\x1b[2J", None, (0, 1)),
        "a name with a line end": ("r\nr", None, (0, 1)),
        "a name with a null": ("r\0", None, (2,)),
        "a name that is no text": ("r\udcff", None, (0, 1, 2)),
        "a name like an option": ("--", None, (2,)),
    }
    for command in ("inspect", "worksheet", "size", "study-csv", "questions"):
        for name, (output, before, ends) in makes.items():
            ends = ends if command.startswith("inspect") or 1 not in ends else (0,)
            yield Case(group, f"{command}: {name}", [*WRITERS[command], output], ends, ("r*",), before)
    for name, (output, before, _) in makes.items():
        if output != "--":
            yield Case(group, f"draft: {name}", ["draft", output], (0, 2), ("r*",), before)
            yield Case(group, f"schema: {name}", ["schema", "-o", output], (0, 2), ("r*",), before)


ODD = (
    "", " ", ".", "..", "...", "[", "]", "[]", "[1]", "[0]", "[-1]", "[99999999999999999999]", "*", "*.*", "**",
    "a..b", "vehicle", "vehicle.", ".vehicle", "vehicle.wheelbase[1]", "vehicle.wheelbase.x", "driveline.axles",
    "driveline.axles.*", "driveline.axles.*[", "driveline.axles.*[role", "driveline.axles.*[role=",
    "driveline.axles.*[role=x]", "driveline.axles.*[=x].ratio", "driveline.axles.nope.ratio",
    "driveline.gearbox.ratios", "driveline.gearbox.ratios[0]", "driveline.gearbox.ratios[99]",
    "driveline.gearbox.ratios[x]", "engine.sheet", "build.format", "build.stage", "build.name", "build.base",
    "engine.fuel_type", "\x1b[31m", "\u202e", "\0", "é" * 50, "a" * 5000, "a." * 2000, "[" * 2000, "*." * 500,
    "{}{0}%s", "--", "-x", "__class__", "engine.__class__", "_sa_", "tables", "deviations", "measured",
    "supply[1].functions", "vehicle.ledger.*.mass",
)  # fmt: skip
VALUES = (
    ",", ",,", "", " ", "x", "1e999", "nan", "inf", "-1", "0", "1,2,x", "1..2", "1..2:0", "1..2:1",
    "1..2:99999", "..:", "1..", "..2:3", "2..1:5", "1..2:1e3", "1..2:-3", "9" * 5000, "1 kg,2 kg", "1 mm,2 m",
    "true", "a.toml", "/dev/zero,/dev/zero", "../../etc/passwd", "series", "\x1b[2J", "\0", "9**9**9", "1/0",
    "4,5", "4, 5,6", "'4.1'", '"4.1"', "=1+1", "4.1=4.2",
)  # fmt: skip


def typed() -> Iterator[Case]:
    """What is typed for a field, a value, an id, a spec."""
    group = "what is typed"
    judged = ["--rule", "gearing.crawl"]
    for odd in ODD:
        yield Case(group, f"size {odd[:40]!r}", ["size", "sound.toml", *judged, "--", odd])
        yield Case(group, f"study {odd[:40]!r}", ["study", "sound.toml", *judged, f"--vary={odd}=1,2"])
        yield Case(group, f"rulebook {odd[:40]!r}", ["rulebook", "--", odd])
        yield Case(group, f"worksheet id {odd[:40]!r}", ["worksheet", "s.toml", "--", odd])
        yield Case(group, f"fill {odd[:40]!r}", ["fill", "s.toml", "--", f"{odd}=1"], writes=("s.toml",))
        yield Case(group, f"inspect {odd[:40]!r}", ["inspect", "--no-remedies", "--", odd], (0, 1, 2))
        yield Case(group, f"--rule {odd[:40]!r}", ["inspect", "s.toml", f"--rule={odd}"], (0, 1, 2))
    for value in VALUES:
        for field in (RATIO, BORE, "engine.sheet"):
            yield Case(group, f"--among {value[:30]!r} {field}", ["size", "s.toml", field, *judged, f"--among={value}"])
            yield Case(
                group, f"--vary {field}={value[:30]!r}", ["study", "s.toml", *judged, "--vary", f"{field}={value}"]
            )
        yield Case(group, f"--show {value[:30]!r}", ["study", "s.toml", "--vary", f"{RATIO}=4,5", f"--show={value}"])
        yield Case(group, f"--stage {value[:30]!r}", ["inspect", "s.toml", f"--stage={value}"], (2,))
        yield Case(group, f"--pack {value[:30]!r}", ["schema", "--list", f"--pack={value}"], (2, 3))
        yield Case(group, f"--sheets {value[:30]!r}", ["inspect", "s.toml", f"--sheets={value}"], (2,))
        yield Case(
            group, f"fill ratio {value[:30]!r}", ["fill", "s.toml", f"engine.cylinders={value}"], writes=("s.toml",)
        )
    for command in ("inspect", "worksheet", "size", "study", "rulebook", "schema", "draft", "upgrade", "fill", "", "x"):
        for words in ([], ["--nope"], ["--help", "x"], ["", ""], ["-"], ["--", "-"], ["--output"], ["@x"]):
            yield Case(group, f"{command} {words}", [command, *words], writes=("@x",))
    huge = ",".join(f"{number / 100:.2f}" for number in range(300, 900))
    for words in (
        ["study", "sound.toml", *judged, "--vary", f"{RATIO}={'.' * 120_000}"],
        ["size", "sound.toml", RATIO, *judged, "--among", huge],
        ["size", "sound.toml", RATIO, *judged, "--among", "x," * 60_000],
        ["study", "sound.toml", *judged, "--vary", f"{RATIO}=1..9:10000", "--vary", f"{BORE}=1 mm..9 mm:10000"],
        ["size", "sound.toml", "." * 120_000],
    ):
        yield Case(group, f"{words[0]}: {words[-1][:30]} and so on", words, seconds=15.0)


def files() -> Iterator[Case]:
    """Specs that are no specs, and what stands in them."""
    group = "what stands in a spec"
    texts: dict[str, bytes] = {
        "nothing": b"",
        "a byte-order mark": b"\xef\xbb\xbf",
        "UTF-16": "a = 1".encode("utf-16"),
        "nulls": b"\0" * 100,
        "no UTF-8": b'a = "\xff"',
        "half a line": b"[engine",
        "deep tables": b"[" + b"a." * 500 + b"a]\n",
        "deep lists": b"a = " + b"[" * 500 + b"]" * 500,
        "a thousand unknown keys": b"".join(b"[engine.x%d]\na = 1\n" % n for n in range(1000)),
        "ten thousand lines": b"a = 1\n" * 10_000,
        "a megabyte": b"#" * 1_000_000,
        "many digits": b"a = " + b"9" * 5000,
        "an escape as a name": b'"\\u001b[2J" = 1\n',
        "an escape as a value": b'[build]\nname = "\\u001b[2J\\u0007"\n[driveline.axles."\\u001b[31m"]\nratio = 4\n',
        "a formula as a name": b'[build]\nname = "=1+1"\n[driveline.axles."=HYPERLINK(1)"]\nratio = 4.1\n',
        "itself as a sheet": b"[engine]\nsheet = 'odd.toml'\n",
        "itself as a base": b"[build]\nbase = 'odd.toml'\n",
        "a sheet outside": b"[engine]\nsheet = '../../../../../etc/passwd'\n",
        "a base outside": b"[build]\nbase = '/etc/passwd'\n",
        "a table outside": b"[tables]\n'vehicle.ledger' = '/etc/passwd'\n",
        "a table of itself": b"[tables]\n'vehicle.ledger' = 'odd.toml'\n",
        "a device as a sheet": b"[engine]\nsheet = '/dev/zero'\n",
        "a folder as a sheet": b"[engine]\nsheet = 'deeper'\n",
        "wrong kinds": b"engine = 3\nvehicle = [1]\ndriveline = 'x'\nsupply = {}\n",
        "wrong kinds of values": b"[engine]\ncylinders = 'x'\nfuel_type = 3\n[engine.speed]\nrated = 5\nidle = true\n",
        "endless ledger": b"".join(b"[vehicle.ledger.p%d]\nmass = '1 kg'\n" % n for n in range(2000)),
    }
    for name, text in texts.items():

        def write(text: bytes = text) -> None:
            Path("odd.toml").write_bytes(text)

        for words in (
            ["inspect", "odd.toml", "--no-remedies"],
            ["inspect", "odd.toml", "--format", "json", "--no-remedies"],
            ["inspect", "odd.toml", "--format", "sarif"],
            ["worksheet", "odd.toml"],
            ["size", "odd.toml", RATIO],
            ["study", "odd.toml", "--vary", f"{RATIO}=4,5", "--format", "csv"],
            ["upgrade", "odd.toml"],
            ["fill", "odd.toml", "engine.cylinders=4"],
        ):
            yield Case(group, f"{words[0]} {' '.join(words[2:4])}: {name}", words, writes=("odd.toml",), before=write,
                       seconds=8.0)  # fmt: skip
        yield Case(group, f"from standard input: {name}", ["inspect", "-", "--no-remedies"], stdin=text, seconds=8.0)
    kinds: dict[str, Callable[[], object]] = {
        "a pipe": lambda: os.mkfifo("odd.toml"),
        "a folder": lambda: os.mkdir("odd.toml"),
        "a link to itself": lambda: os.symlink("odd.toml", "odd.toml"),
        "a link to nothing": lambda: os.symlink("none.toml", "odd.toml"),
        "a device": lambda: os.symlink("/dev/zero", "odd.toml"),
        "the null device": lambda: os.symlink("/dev/null", "odd.toml"),
    }
    for name, make in kinds.items():
        for command in (["inspect"], ["worksheet"], ["upgrade"], ["fill"]):
            yield Case(group, f"{command[0]}: {name}", [*command, "odd.toml"], (2,), before=make)
        yield Case(group, f"as a pack: {name}", ["schema", "--list", "--pack", "odd.toml"], (2, 3), before=make)
        yield Case(group, f"as a table of answers: {name}", ["fill", "s.toml", "--from", "odd.toml"], (2,), before=make)


def later_places() -> Iterator[Case]:
    """Odd places for what the later commands write."""
    group = "where output goes"
    for command in ("takeoff-csv", "checklist", "handover-json", "page", "study-page"):
        for output, ends in (
            ("", (2,)), ("new/", (2,)), ("new/r", (2,)), ("deeper", (2,)), ("s.toml/r", (2,)), ("/dev/full", (2,)),
            ("/dev/null", (0, 1)), ("x" * 300, (2,)), ("r\x1b[2J", (0, 1)), ("r\0", (2,)), ("r\udcff", (0, 1, 2)),
            ("/proc/self/mem", (2,)), ("/proc/self/fd/999", (2,)), ("/dev/fd/-1", (2,)),
        ):  # fmt: skip
            yield Case(group, f"{command}: {output!r:.30}", [*WRITERS[command], output], ends, ("r*",))


def calls() -> list[Case]:
    """All of them."""
    return [*over_inputs(), *places(), *later_places(), *typed(), *files()]
