"""Fuzzing: specs, data sheets and packs that nobody would write, through every format.

    python tests/bench/fuzz.py 20000 [--seed 1] [--cores 2]

Each case takes the sound spec, an example, or one made from the model alone, and changes it: fields deleted, doubled,
swapped, scaled, retyped, filled with hostile text, sheets and bytes damaged, packs that misbehave. One of the commands
is called on it. It must end with an exit status of 0 to 3, and 3 only with a pack, without a traceback, within two
seconds of processor time; its JSON, SARIF and CSV must parse, a page must hold nothing that runs, what `fill`,
`upgrade` and `draft` write must be a spec that can be read. What fails is printed with what repeats it. The last line
says how many cases there were of each command, and of packs.
"""

from __future__ import annotations

import argparse
import contextlib
import copy
import csv
import functools
import gc
import io
import json
import multiprocessing
import random
import shutil
import sys
import tempfile
import time
import tomllib
import traceback
from collections import Counter
from pathlib import Path
from typing import Any, NamedTuple

import tomli_w
from attack_files import wrong_in_page
from model_specs import random_spec

LIMIT_SECONDS = 2.0
ROOT = Path(__file__).resolve().parents[2]

HOSTILE: list[Any] = [
    "",
    " ",
    "\u0000",
    "\x1b[2J\x1b[31m",
    "\u202e\u2066evil",
    "9**9**9**2 kg",
    "1e400 kg",
    "nan kg",
    "-0 mm",
    "1/0 in",
    "４ kg",
    "1,2,3 kg",
    "A" * 5000,
    "{}{0}%s%n",
    "../../../etc/passwd",
    "/dev/zero",
    "<script>",
    "=1+1",
    "${jndi:x}",
    0,
    -1,
    1e308,
    -1e308,
    float("inf"),
    float("nan"),
    2**62,
    True,
    False,
    [],
    {},
    [[]],
    [1, "a", True],
    {"value": "1 kg"},
    {"value": "1 kg", "tol": "1000 %", "basis": "guessed"},
    {"value": 3, "tol": -1},
    {"fitted": False},
    {"sheet": "tender.toml"},
]


def leaves(node: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every path in the data, tables and lists included."""
    out = [path] if path else []
    if isinstance(node, dict):
        for key, value in node.items():
            out += leaves(value, (*path, key))
    elif isinstance(node, list):
        for index, value in enumerate(node):
            out += leaves(value, (*path, index))
    return out


def at(data: Any, path: tuple[Any, ...]) -> Any:
    """What stands at a path."""
    for key in path:
        data = data[key]
    return data


def put(data: Any, path: tuple[Any, ...], value: Any) -> None:
    """Put a value at a path that is there."""
    at(data, path[:-1])[path[-1]] = value


def thin(data: dict[str, Any], dice: random.Random) -> None:
    """Leave whole tables out, as in a spec that has only been begun."""
    share = dice.random()
    for table in data.values():
        if isinstance(table, dict):
            for key in [key for key in table if dice.random() < share]:
                del table[key]


def mutate(data: Any, dice: random.Random) -> None:
    """Make one change."""
    paths = leaves(data)
    if not paths:
        return
    path = dice.choice(paths)
    kind = dice.randrange(9)
    holder = at(data, path[:-1])
    value = holder[path[-1]]
    if kind == 0:
        del holder[path[-1]]
    elif kind == 1 and isinstance(holder, dict):
        holder[str(path[-1]) + dice.choice(["x", "_2", " ", "\u200b", ".y"])] = copy.deepcopy(value)
    elif kind == 2:
        other = dice.choice(paths)
        if other[: len(path)] != path and path[: len(other)] != other:
            one, two = copy.deepcopy(at(data, path)), copy.deepcopy(at(data, other))
            put(data, path, two)
            put(data, other, one)
    elif kind == 3 and isinstance(value, int | float) and not isinstance(value, bool):
        holder[path[-1]] = value * dice.choice([0, -1, 1e-29, 1e-9, 10, 25.4, 1e6, 1e28, 1e300])
    elif kind == 4 and isinstance(value, str) and " " in value:
        number, _, unit = value.partition(" ")
        factor = dice.choice(["0", "-", "1e9", "1e-9", "1e26", "1e-26", "00"])
        holder[path[-1]] = f"{factor}{number if factor in '-00' else ''} {unit}"
    elif kind == 5 and isinstance(value, str) and " " in value:
        holder[path[-1]] = value.split(" ")[0] + " " + dice.choice(["kg", "m", "degC", "%", "AWG", "psig", "K", "h"])
    elif kind == 6 and isinstance(value, str | int | float):
        holder[path[-1]] = {
            "value": value,
            "tol": dice.choice(["5 %", "100 %", "1 K", 0.5, "2 mm", ""]),
            "basis": dice.choice(["assumed", "measured", "catalogue", "x"]),
        }
    elif kind == 7 and isinstance(value, list):
        holder[path[-1]] = value * dice.choice([0, 2, 30])
    else:
        holder[path[-1]] = copy.deepcopy(dice.choice(HOSTILE))


def damage(raw: bytes, dice: random.Random) -> bytes:
    """Damage bytes, now and then."""
    if dice.random() > 0.15 or not raw:
        return raw
    where = dice.randrange(len(raw))
    junk = dice.choice(
        [b"\xff", b"\x00", b"[", b"]" * 50, b'"', b"'''", b"\r", b"=", b"[" * 500, b"\xef\xbb\xbf", b"#"]
    )
    return raw[:where] + junk + raw[where + dice.randrange(3) :]


def written(data: Any, dice: random.Random) -> bytes:
    """The data as TOML, or the nearest thing to it."""
    try:
        return damage(tomli_w.dumps(data).encode("utf-8", "surrogatepass"), dice)
    except (TypeError, ValueError, AttributeError):
        return damage(repr(data).encode(), dice)


PACK = """
from swaplint.api import *
import math, time
SOURCE = practice("fuzz").giving("limit", "none")
@hookimpl
def swaplint_pack():
    return {pack}
@quantity("gearing.fuzz", {quantity_kind}, formula="x", sources=[SOURCE])
def q(build):
    "A number"
    return {quantity}
@rule("{id}", level={level}, due={due}, sources={sources}, about={about}, bad=[{{}}], good=[{{}}])
def r(build):
    {doc}
    {body}
"""
DOC = '"""Is it so?\n\n    Computes: x\n    Limit: x\n    Consequence: x\n    Remedy: x\n    Cannot tell: x\n    """'


def make_pack(dice: random.Random) -> str:
    """A pack that may be sound or not."""
    pick = dice.choice
    return PACK.format(
        pack=pick(
            ['Pack("fuzz", interface=2, rules=[r], quantities=[q])'] * 4
            + ["None", "42", 'Pack("fuzz", interface=1)', 'Pack("", interface=2)', "1/0", "Pack()"]
        ),
        quantity_kind=pick(['"", ""', '"mass", "kg"', '"mass", "mm"', '"nothing", "kg"', '"", "kg"']),
        quantity=pick(
            ["1.0", "math.nan", "'x'", "None", "build.engine.nothing", "float(build.engine.cylinders)", "q(build)"]
        ),
        id=pick(["gearing.fuzz", "gearing.cruise-rpm", "x", "fuzz.fuzz", "gearing.Fuzz", ""]),
        level=pick(['"error"', '"note"', '"fatal"', "None"]),
        due=pick(['"plan"', '"build"', '"never"']),
        sources=pick(["[SOURCE]", "[]", '["x"]']),
        about=pick(['"engine.cylinders"', '"engine.nothing"', '"*"', '""', '"engine[3].x"']),
        doc=pick([DOC, DOC, '"""No question."""', "pass"]),
        body=pick(
            [
                "return at_most(q(build), 2.0)",
                "return all_of(a=lambda: at_most(q(build), 2.0), b=holds(False, 'no'))",
                "return all_of({'a b': holds(True)})",
                "return all_of(a=lambda: 3)",
                "return all_of(a=lambda: build.engine.nothing)",
                "return holds(False, 'no', advice=advice('engine.cylinders', 6))",
                "return holds(False, 'no', advice=advice('a..b[', math.nan))",
                "return holds(False, 'no', advice=advice('driveline.axles.*.ratio', 'x'))",
                "return at_most(at(build, {'engine.speed.rated': 1.0}).engine.speed.rated, 2.0)",
                "return at_most(1.0, math.inf)",
                "return holds(1)",
                "return None",
                "return [at_most(1, 2)]",
                "raise KeyError('x')",
                "raise SystemExit(3)",
                "raise RecursionError",
                "return r.function(build)",
                "return at_least(float(build.engine.speed.rated), 1.0)",
                "build.engine.cylinders = 3",
                "return at_most(1.0, 2.0, unit=('mass', 'furlong'))",
                "return at_most(1.0, 0.0)",
                "return holds(True, on='no.such.field')",
                "return Verdict('perhaps')",
            ]
        ),
    )


SYSTEMS = ("gearing", "mass", "exhaust", "network", "cooling", "power")
VARIED = (
    "series",
    "1,2,3",
    "1..3:4",
    "true,false",
    "0,1e9",
    "a.toml,tender.toml",
    "10 mm,12 mm",
    "nan",
    "-1..1:3",
    "x",
)
ANSWERS = (
    "1",
    "1 mm",
    "12 kg",
    "not fitted",
    "none",
    "unknown",
    "manual",
    "x",
    "735 mm ± 2 %, measured",
    "1; 2; 3",
    "!",
    "",
)
STAGES = ("idea", "plan", "quote", "build", "commission")
MIX = {
    "inspect": 41.5, "page": 0.5, "worksheet": 7, "size": 9, "study": 7, "draft": 5, "takeoff": 6, "checklist": 6,
    "handover": 6, "fill": 7, "upgrade": 6,
}  # fmt: skip
"""How often each command is called, out of a hundred."""
WITH_PACK = {"inspect": 0.1, "draft": 0.1, "worksheet": 0.1, "takeoff": 0.05, "checklist": 0.05}
"""How often it loads a pack that may not be sound: one case in twenty."""


class Called(NamedTuple):
    """A command line."""

    kind: str
    """Of the mix."""
    words: list[str]
    form: str
    """What its output is written as."""


def made_call(spec: str, data: Any, dice: random.Random) -> Called:
    """A command line."""
    pick, paths = dice.choice, leaves(data)
    kind = dice.choices(list(MIX), list(MIX.values()))[0]

    def field() -> str:
        path = pick(paths) if paths else ("engine",)
        return "".join(f"[{key + 1}]" if isinstance(key, int) else f".{key}" for key in path).removeprefix(".")

    forms = {
        "inspect": ("text", "json", "sarif", "jsonl"),
        "page": ("html",),
        "takeoff": ("text", "csv", "json"),
        "checklist": ("text", "markdown", "csv", "json"),
        "handover": ("text", "markdown", "json"),
        "study": ("text", "json", "csv"),
        "draft": ("toml",),
        "fill": ("text",),
        "upgrade": ("text",),
    }
    form = pick(forms.get(kind, ("text", "json")))
    if kind == "draft":
        fuel = ["--fuel", pick(["diesel", "petrol"])] if dice.random() < 0.5 else []
        return Called(kind, ["draft", "-", "--system", pick(SYSTEMS), *fuel], form)
    if kind == "fill":
        answers = [f"{field()}={pick(ANSWERS)}" for _ in range(pick([1, 1, 3]))]
        asked = ["--questions", "-"] if dice.random() < 0.3 else ["--", *answers]
        return Called(kind, ["fill", spec, "--system", pick(SYSTEMS), *asked], "csv" if "-" in asked else form)
    if kind == "upgrade":
        return Called(kind, ["upgrade", spec, *(["--sheets-too"] if dice.random() < 0.3 else [])], form)
    call = ["inspect" if kind == "page" else kind, spec, "--format", form]
    if kind == "size":
        call += ["--", field()]
    elif kind == "study":
        call += ["--cores", "1", *(f"--vary={field()}={pick(VARIED)}" for _ in range(pick([1, 1, 2])))]
    elif kind == "checklist":
        call += ["--stage", pick(STAGES[3:])]
    elif kind in ("takeoff", "handover"):
        call += ["--stage", pick(STAGES)]
    elif kind in ("inspect", "page"):
        if dice.random() < 0.7 or kind == "page":
            call.append("--no-remedies")
        if kind == "page" and dice.random() < 0.5:
            call += ["--system", pick(SYSTEMS)]
        call += ["--stage", pick(STAGES)]
    return Called(kind, call, form)


@functools.cache
def installed_rules() -> Any:
    """The installed packs: the same for every case, so they are loaded once."""
    from swaplint.host.packs import load_rule_base

    base = load_rule_base()
    gc.collect()
    gc.freeze()  # so that cleaning up before each case is quick
    return base


def rules_once() -> None:
    """Let the commands take the installed packs as they are; a call that names a pack's file loads its own."""
    from swaplint.cli import reading
    from swaplint.host.packs import load_rule_base

    def load(pack_files: Any = (), **rest: Any) -> Any:
        return load_rule_base(pack_files, **rest) if pack_files else installed_rules()

    reading.load_rule_base = load


def one_case(seed: int) -> tuple[str, bool, str | None]:
    """Run one case. Returns which command it called, whether with a pack, and what went wrong, or None."""
    rules_once()
    dice = random.Random(seed)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        which = dice.choice(["sound", "tarnholt-tender", "skerrivar-van", "the model"])
        if which == "the model":
            data = random_spec(installed_rules().model, dice)
        elif which == "sound":
            data = tomllib.loads((ROOT / "swaplint/kit/sound.toml").read_text(encoding="utf-8"))
        else:
            shutil.copytree(ROOT / "specs/sheets", folder / "sheets")
            data = tomllib.loads((ROOT / f"specs/{which}.toml").read_text(encoding="utf-8"))
            if dice.random() < 0.4:
                sheet = dice.choice(sorted((folder / "sheets").glob("*.toml")))
                sheet_data = tomllib.loads(sheet.read_text(encoding="utf-8"))
                for _ in range(dice.randint(1, 4)):
                    mutate(sheet_data, dice)
                sheet.write_bytes(written(sheet_data, dice))
        if dice.random() < 0.5:
            thin(data, dice)
        for _ in range(dice.choice([0, 1, 1, 1, 2, 3, 8])):
            mutate(data, dice)
        spec = folder / "tender.toml"
        spec.write_bytes(written(data, dice))
        called = made_call(str(spec), data, dice)
        pack = dice.random() < WITH_PACK.get(called.kind, 0.0)
        if pack:
            (folder / "pack.py").write_text(make_pack(dice), encoding="utf-8")
            called.words[2:2] = ["--pack", str(folder / "pack.py")]
        wrong = _wrong_with(called, spec, pack=pack)
    return called.kind, pack, None if wrong is None else f"seed {seed}: {called.kind} as {called.form}: {wrong}"


def _wrong_with(called: Called, spec: Path, *, pack: bool) -> str | None:
    from swaplint.cli import main

    out, err = io.StringIO(), io.StringIO()
    gc.collect()  # a case does not pay for what others have left behind
    started = time.process_time()  # what the run costs, however many others share the machine
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            status = main(called.words)
    except BaseException:
        return traceback.format_exc(limit=-4)
    seconds, text, said = time.process_time() - started, out.getvalue(), err.getvalue()
    # A draft runs each rule many times over, and a page is drawn.
    if seconds > LIMIT_SECONDS * {"draft": 2, "page": 4}.get(called.kind, 1):
        return f"took {seconds:.1f} s ({' '.join(called.words[2:])})"
    if status not in (0, 1, 2, 3):
        return f"exit status {status}"
    if "Traceback" in said or "not foreseen" in said:
        return f"on standard error: {said[-400:]}"
    if status == 3 and not pack:
        return f"a built-in rule broke: {said[:300]}"
    if called.form in ("text", "toml", "markdown") and any(ord(c) < 32 and c != "\n" for c in text):
        return "a control character in the output"
    return _unreadable(called, spec, text, status)


def _unreadable(called: Called, spec: Path, text: str, status: int) -> str | None:
    """What cannot be read of what a call has written; None where all can."""
    try:
        if called.form in ("json", "sarif", "jsonl") and (text or called.kind == "inspect"):
            for one in text.splitlines() if called.form == "jsonl" else [text]:
                json.loads(one, parse_constant=_refuse)
        elif called.form == "csv":
            rows = list(csv.reader(io.StringIO(text), strict=True))
            if len({len(row) for row in rows}) > 1:
                return "rows of a table are not as long as its head"
        elif called.form == "toml" and status != 2:
            tomllib.loads(text)
        elif called.form == "html":
            return wrong_in_page(text) or None
        if called.kind in ("fill", "upgrade") and status in (0, 3):
            tomllib.loads(spec.read_text(encoding="utf-8-sig"))
    except ValueError as error:
        return f"does not parse: {error}"
    return None


def _refuse(word: str) -> None:
    raise ValueError(f"{word} in JSON")


CHUNKS = 8
"""How many chunks of cases one process does."""


def _begin() -> None:
    """Begin a process: what it holds all the time is not looked through again after each case."""
    rules_once()
    gc.collect()
    gc.freeze()


def main() -> int:
    """Run the cases."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("cases", type=int, nargs="?", default=2000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--cores", type=int, default=2)
    options = parser.parse_args()
    started, bad = time.perf_counter(), 0
    kinds: Counter[str] = Counter()
    # Each pack with fields of its own makes another model, which stays with its process: a fresh one then goes on.
    with multiprocessing.get_context("spawn").Pool(options.cores, _begin, maxtasksperchild=CHUNKS) as pool:
        seeds = range(options.seed, options.seed + options.cases)
        for number, (kind, pack, wrong) in enumerate(pool.imap_unordered(one_case, seeds, chunksize=20), 1):
            kinds.update([kind, *(["with a pack"] if pack else [])])
            if wrong is not None:
                bad += 1
                print(wrong, flush=True)
            if number % 500 == 0:
                print(f"{number} cases, {bad} bad, {time.perf_counter() - started:.0f} s", file=sys.stderr, flush=True)
    print(f"{options.cases} cases, {bad} bad, {time.perf_counter() - started:.0f} s")
    print(", ".join(f"{count} {kind}" for kind, count in kinds.most_common()))
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
