"""Files that hostile hands hand over beside a spec, and hostile words in one, as cases of `attacks.py`.

An older report, a policy, a file of deviations, a table, a trial that was measured: whatever stands in one, the command
ends with a sentence, never with status 3, and what it writes carries nothing that a browser, a terminal or a
spreadsheet would run.
"""

from __future__ import annotations

import copy
import functools
import json
import os
import re
import tomllib
from collections.abc import Callable, Iterator, Sequence
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

from attack_calls import RATIO, ROOT, Case

ENDS = (0, 1, 2)
"""Of data alone no rule breaks."""


def write(name: str, data: bytes) -> Callable[[], object]:
    """What puts a file into the folder."""
    return lambda: Path(name).write_bytes(data)


# -- an older report --------------------------------------------------------------------------------------------------
WRONG: tuple[Any, ...] = (
    None,
    True,
    0,
    -1,
    1e308,
    "",
    "x" * 5000,
    "\x1b[2J\u202e",
    [],
    {},
    [[]],
    [None],
    {"a": 1},
    [1],
)


@functools.cache
def older() -> dict[str, Any]:
    """A report of the sound spec as it is written."""
    import contextlib
    import io
    import tempfile

    from swaplint.cli import main

    with tempfile.TemporaryDirectory() as folder:
        spec = Path(folder, "sound.toml")
        spec.write_text(
            (ROOT / "swaplint/kit/sound.toml").read_text(encoding="utf-8") + "[driveline.axles.extra]\nratio = 9.0\n"
        )
        out = io.StringIO()
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(io.StringIO()):
            main(["inspect", str(spec), "--format", "json", "--rule", "gearing.crawl", "--no-remedies"])
    data: dict[str, Any] = json.loads(out.getvalue())
    data["specs"][0]["spec"] = "sound.toml"
    return data


def _spots(node: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Every place in a report, the first of each list standing for all."""
    yield path
    if isinstance(node, dict):
        for key, value in node.items():
            yield from _spots(value, (*path, key))
    elif isinstance(node, list) and node:
        yield from _spots(node[0], (*path, 0))


def _some(values: Sequence[Any], number: int, many: int) -> Sequence[Any]:
    """So many of some values, other ones for each number, so that all of them take part."""
    return tuple(values[(number * many + n) % len(values)] for n in range(min(many, len(values))))


def _with(data: Any, path: tuple[Any, ...], value: Any) -> Any:
    if not path:
        return value
    data = copy.deepcopy(data)
    at = data
    for key in path[:-1]:
        at = at[key]
    at[path[-1]] = value
    return data


def reports() -> Iterator[Case]:
    """Older reports that are none."""
    group = "an older report"
    words = ["inspect", "sound.toml", "--no-remedies", "--rule", "gearing.crawl", "--earlier", "old.json", "--format"]
    forms = ("text", "json", "jsonl", "sarif")
    whole = json.dumps(older()).encode()
    number = 0
    for place, path in enumerate(_spots(older())):
        for wrong in _some(WRONG, place, 5):
            number += 1
            raw = json.dumps(_with(older(), path, wrong)).encode()
            name = f"{'.'.join(map(str, path))} is {json.dumps(wrong)[:30]}"
            yield Case(group, name, [*words, forms[number % 4]], ENDS, before=write("old.json", raw))
    one = json.dumps(older()["specs"][0]).encode()
    tail = json.dumps({"format": 2, "tool": older()["tool"], "problems": []}).encode()
    texts: dict[str, bytes] = {
        "nothing but a brace": b"{",
        "an empty object": b"{}",
        "deep lists": b'{"specs":' + b"[" * 100_000 + b"]" * 100_000 + b"}",
        "deep objects": b'{"a":' * 50_000 + b"1" + b"}" * 50_000,
        "deep in a stream": b'{"results":' + b"[" * 100_000 + b"\n" + tail,
        "not a number": whole.replace(b'"margin": ', b'"margin": NaN, "m": '),
        "no end": whole.replace(b'"margin": ', b'"margin": 1e999, "m": '),
        "digits": whole.replace(b'"margin": ', b'"margin": ' + b"9" * 5000 + b', "m": '),
        "many digits": whole.replace(b'"margin": ', b'"margin": ' + b"9" * 400 + b', "m": '),
        "keys twice": whole.replace(b'"kind": ', b'"kind": "pass", "kind": '),
        "the spec twice": json.dumps({**older(), "specs": older()["specs"] * 2}).encode(),
        "half a surrogate": whole.replace(b"sound.toml", b"\\ud800"),
        "a null in a name": whole.replace(b"gearing.crawl", b"gearing.\\u0000crawl"),
        "cut off": whole[: len(whole) // 2],
        "cut off at the end": whole[:-1],
        "more behind it": whole + b"x",
        "twice": whole + whole,
        "a mark": b"\xef\xbb\xbf" + whole,
        "UTF-16": b"{" + whole.decode().encode("utf-16"),
        "bytes": b"{\xff\xfe\x00",
        "nulls": b"{" + b"\0" * 100_000,
        "a stream": one + b"\n" + tail + b"\n",
        "a stream without its end": one + b"\n",
        "a stream that goes on": one + b"\n" + tail + b"\n" + one + b"\n",
        "a stream with a blank line": one + b"\n\n" + tail,
        "a stream of lists": one + b"\n[]\n" + tail,
        "a hundred thousand specs": b'{"format":2,"tool":{"name":"swaplint"},"specs":[' + b"{}," * 100_000 + b"{}]}",
        "a hundred thousand results": json.dumps(
            {**older(), "specs": [{**older()["specs"][0], "results": older()["specs"][0]["results"][:1] * 30_000}]}
        ).encode(),
        "blanks": b" " * 5000 + whole,
    }
    for name, raw in texts.items():
        for form in ("text", "json"):
            case = Case(group, f"{form}: {name}", [*words, form], ENDS, before=write("old.json", raw))
            yield case._replace(seconds=8.0)

    def large(size: int) -> Callable[[], object]:
        def make() -> None:
            Path("odd.json").write_bytes(b"{")
            os.truncate("odd.json", size)  # it takes no room on the disk

        return make

    for size in (101_000_000, 5_000_000_000):
        yield Case(group, f"is {size} bytes long", [*words[:-2], "odd.json"], (2,), before=large(size))
    kinds: dict[str, Callable[[], object]] = {
        "a pipe": lambda: os.mkfifo("odd.json"),
        "a folder": lambda: os.mkdir("odd.json"),
        "a link to itself": lambda: os.symlink("odd.json", "odd.json"),
        "a device": lambda: os.symlink("/dev/zero", "odd.json"),
        "nothing": lambda: None,
    }
    for name, make in kinds.items():
        yield Case(group, f"is {name}", [*words[:-2], "odd.json"], (2,), before=make)


# -- a policy, and departures -----------------------------------------------------------------------------------------
POLICY = {
    "name": "Invented gate", "revision": "1", "date": "2026-01-01", "gate_on_reviews": True,
    "deviations_in_spec": False, "never_deviate": ["chassis"],
    "raised": [{"rule": "gearing.crawl", "to": "error"}],
    "lowered": [{"system": "gearing", "to": "note", "reason": "x"}],
    "packs": [{"name": "fuel", "at_least": "0.0.1"}], "signers": [{"name": "A. Example", "levels": ["error"]}],
}  # fmt: skip
DEVIATION = {
    "rule": "gearing.crawl", "part": "", "demand": "", "reason": "invented", "by": "A. Example", "date": "2026-01-01",
    "until": "2027-01-01",
}  # fmt: skip
VALUES: tuple[Any, ...] = (
    True, 0, -1.5, float("nan"), float("inf"), "", " ", "\u202e\u2066", "\x1b[2J", "*", "gearing.*", "[", "x" * 3000,
    "2026-13-45", "0000-00-00", "9999-12-31", "1 kg", [], {}, [{}], ["x"], [["x"]], "<script>", "{0}%s", "..", "a.b.c",
)  # fmt: skip


def terms() -> Iterator[Case]:
    """Policies and files of deviations that are none, and what stands in them."""
    import tomli_w

    group = "a policy or departure"
    works = (
        ["inspect", "sound.toml", "--no-remedies", "--rule", "gearing.crawl"],
        ["inspect", "sound.toml", "--no-remedies", "--rule", "gearing.crawl", "--format", "json"],
        ["inspect", "sound.toml", "--no-remedies", "--rule", "gearing.crawl", "--format", "sarif"],
    )
    number = 0
    for option, data in (("--policy", POLICY), ("--deviations", {"deviations": [DEVIATION]})):
        for place, path in enumerate(_spots(data)):
            for value in _some(VALUES, place, 10):
                made = _with(data, path, value)
                if not isinstance(made, dict):
                    continue
                number += 1
                raw = tomli_w.dumps(made).encode()
                words = [*works[number % 3], option, "terms.toml"]
                name = f"{option}: {'.'.join(map(str, path))} is {value!r:.30}"
                yield Case(group, name, words, ENDS, before=write("terms.toml", raw))
    texts: dict[str, bytes] = {
        "nothing": b"",
        "a build spec": (ROOT / "swaplint/kit/sound.toml").read_bytes(),
        "no TOML": b"[[[",
        "no UTF-8": b'name = "\xff"',
        "a mark": b"\xef\xbb\xbf" + tomli_w.dumps(POLICY).encode(),
        "nulls": b"\0" * 1000,
        "deep": b"a = " + b"[" * 5000 + b"]" * 5000,
        "a megabyte": b"#" * 1_000_000,
        "ten thousand": b"[[deviations]]\nrule = 'gearing.crawl'\n" * 10_000,
        "a thousand signed": tomli_w.dumps(
            {"deviations": [{**DEVIATION, "reason": f"r{n}"} for n in range(1000)]}
        ).encode(),
        "a thousand raised": tomli_w.dumps({"raised": POLICY["raised"] * 1000}).encode(),  # type: ignore[operator]
        "unknown keys": b"".join(b"x%d = 1\n" % n for n in range(1000)),
    }
    for name, raw in texts.items():
        for option in ("--policy", "--deviations"):
            for words in (*works[:2], ["takeoff", "sound.toml"], ["handover", "sound.toml"]):
                call = [*words, option, "terms.toml"]
                yield Case(
                    group, f"{words[0]} {option}: {name}", call, ENDS, before=write("terms.toml", raw), seconds=8.0
                )
    for option in ("--policy", "--deviations"):
        for name in ("", ".", "/dev/zero", "/dev/null", "none.toml", "-", "s.toml", "\0", "x" * 300, "mine.py"):
            yield Case(group, f"{option} {name!r:.20}", [*works[0], option, name], ENDS)
        yield Case(group, f"{option} a pipe", [*works[0], option, "p"], (2,), before=lambda: os.mkfifo("p"))


# -- tables -----------------------------------------------------------------------------------------------------------
def tables() -> Iterator[Case]:
    """Tables beside the spec that are none, and what stands in them."""
    group = "a table"
    texts: dict[str, bytes] = {
        "nothing": b"",
        "a head alone": b"name,mass\n",
        "no name": b"mass\n1 kg\n",
        "an open quote": b'name,mass\n"a,1 kg\n',
        "a quote within": b'name,mass\na"b,1 kg\n',
        "nulls": b"name,mass\n\0\0,1 kg\n",
        "no UTF-8": b"name,mass\n\xff\xfe\x81,1 kg\n",
        "UTF-16": "name,mass\nbattery,18 kg\n".encode("utf-16"),
        "UTF-32": "name,mass\nbattery,18 kg\n".encode("utf-32"),
        "other line ends": b"name,mass\rbattery,18 kg\r",
        "a formula": b"name,mass\n=1+1,18 kg\n+x,1 kg\n@y,1 kg\n-z,1 kg\n",
        "escapes": b"name,mass\n\x1b[2J,18 kg\n",
        "turned round": "name,mass\n\u202eyrettab,18 kg\n".encode(),
        "the same name twice": b"name,mass\na,1 kg\na,2 kg\n",
        "the same column twice": b"name,mass,mass\na,1 kg,2 kg\n",
        "names with dots": b"name,mass\na.b,1 kg\na[1],1 kg\n..,1 kg\n",
        "a column of nothing": b"name,\na,1 kg\n",
        "a column that is none": b"name,colour\na,red\n",
        "too many cells": b"name,mass\na,1 kg,2,3,4\n",
        "a thousand columns": b"name" + b",x" * 1000 + b"\na" + b",1" * 1000 + b"\n",
        "ten thousand rows": b"name,mass\n" + b"".join(b"p%d,1 kg\n" % n for n in range(10_000)),
        "two thousand rows": b"name,mass,x,y\n" + b"".join(b"p%d,1 kg,1 m,0 mm\n" % n for n in range(2000)),
        "a long cell": b"name,mass\n" + b"a" * 400_000 + b",1 kg\n",
        "a megabyte": b"name,mass\n" + b"," * 1_000_000,
        "semicolons": b"name;mass\na;1,5 kg\n",
        "tabs": b"name\tmass\na\t1 kg\n",
        "both": b"name;mass,x\na;1 kg,1\n",
        "which says what parts it": b"sep=|\nname|mass\na|1 kg\n",
        "quotes alone": b'"""""""\n' * 100,
        "TOML": b"[battery]\nmass = '18 kg'\n",
        "wrong values": b"name,mass\na,heavy\nb,-5 kg\nc,1e999 kg\nd,nan kg\ne,9**9 kg\n",
    }
    for name, raw in texts.items():
        for words in (
            ["inspect", "s.toml", "--no-remedies", "--system", "mass", "--format", "json"],
            ["worksheet", "s.toml", "--system", "mass"],
            ["upgrade", "s.toml", "--sheets-too"],
            ["fill", "s.toml", "vehicle.ledger.battery.mass=19 kg"],
            ["fill", "sound.toml", "--from", "ledger.csv"],
        ):
            may = ("s.toml", "ledger.csv", "sound.toml", "base.toml", "e.engine.toml") if words[0] != "inspect" else ()
            before = write("ledger.csv", raw)
            yield Case(group, f"{' '.join(words[:3])}: {name}", words, ENDS, may, before, seconds=8.0)
    for where in (
        "vehicle.ledger", "vehicle", "vehicle.ledger.battery", "electrics.cables", "supply", "engine.speed", "x", "",
        "build.told", "deviations", "measured", "build.places", "vehicle.load_cases", "vehicle.load_cases.laden.items",
    ):  # fmt: skip
        for file in (
            "'ledger.csv'",
            "'../x.csv'",
            "'/etc/passwd'",
            "''",
            "3",
            "[]",
            "'s.toml'",
            "'deeper'",
            '"\\u0000"',
        ):
            text = f'[tables]\n"{where}" = {file}\n'.encode()
            call = ["inspect", "odd.toml", "--no-remedies", "--system", "mass"]
            yield Case(group, f"{where!r} = {file}", call, ENDS, ("odd.toml",), write("odd.toml", text))


# -- hostile words ----------------------------------------------------------------------------------------------------
MARK = "zqx"
WORDS = {
    "a script": f"<script>{MARK}()</script>",
    "the end of a script": f"</script></style></title><img src={MARK} onerror={MARK}>",
    "out of an attribute": f"\"'><b onmouseover={MARK} x='",
    "an address": f"javascript:{MARK}",
    "a comment": f"--><!--{MARK}-->]]><![CDATA[{MARK}",
    "entities": f"&lt;{MARK}&gt;&#60;b {MARK}&#62;&amp;",
    "mathematics": rf"$x^{{2}}$ \frac{{{MARK}}}{{0}} $ % # _ ^ \end{{x}}",
    "half of mathematics": f"$\\frac{{{MARK}",
    "per cent": f"%s %(x)s %n {{0}} {{x!r}} {MARK}",
    "escapes": f"\x1b[2J\x1b]0;{MARK}\x07\x9b31m",
    "turned round": f"\u202e\u2066{MARK}\u2069\u200b\ufeff",
    "line ends": f"{MARK}\r\n\u2028\u2029\x0b\x0c\x85",
    "a formula": f"=HYPERLINK(\"{MARK}\")",
    "markdown": f"[{MARK}](javascript:x) ![x](x) `` ` `` | a | <b> # x\n# y",
    "beyond": "\U0001f697" + "\u0301" * 300 + f"{MARK}\uffff\ufffe",
    "long": MARK * 160,
    "blanks": " " * 400,
}  # fmt: skip
SHEETS = (
    ["inspect", "odd.toml", "--format", "html", "--no-remedies", "-o", "r.html"],
    ["inspect", "odd.toml", "--no-remedies", "--whole"],
    ["inspect", "odd.toml", "--format", "json", "--no-remedies"],
    ["inspect", "odd.toml", "--format", "sarif", "--no-remedies"],
    ["takeoff", "odd.toml", "--format", "csv"],
    ["takeoff", "odd.toml"],
    ["checklist", "odd.toml", "--format", "markdown", "--stage", "commission"],
    ["checklist", "odd.toml", "--format", "csv"],
    ["checklist", "odd.toml"],
    ["handover", "odd.toml", "--format", "markdown"],
    ["handover", "odd.toml"],
    ["worksheet", "odd.toml", "--whole"],
    ["size", "odd.toml", RATIO, "--rule", "gearing.crawl", "--format", "html", "-o", "r.html"],
    ["study", "odd.toml", "--vary", f"{RATIO}=4,5", "--rule", "gearing.crawl", "--format", "csv"],
    ["fill", "odd.toml", "--questions", "r.csv"],
    ["upgrade", "odd.toml"],
    ["draft", "--more", "odd.toml", "--stage", "build"],
)


def hostile(word: str, *, everywhere: bool) -> dict[str, bytes]:
    """The sound spec and a data sheet with a hostile text wherever one fits, or only in some places."""
    import tomli_w

    from swaplint.spec.model import Build
    from swaplint.spec.shape import members

    def dressed(data: dict[str, Any], model: Any) -> dict[str, Any]:
        out = dict(data)
        for name, member in members(model).items():
            value = data.get(name)
            if member.role == "plain" and member.facts is not None and member.facts.type == "text":
                if name not in ("sheet", "base"):
                    out[name] = word
            elif member.role == "part" and value:
                out[name] = dressed(value, member.model)
            elif member.role == "parts" and value:
                out[name] = {key: dressed(one, member.model) for key, one in value.items()}
            elif member.role == "items" and value:
                out[name] = [dressed(one, member.model) for one in value]
        return out

    sound = tomllib.loads((ROOT / "swaplint/kit/sound.toml").read_text(encoding="utf-8"))
    sound["deviations"] = [{**DEVIATION, "rule": "gearing.crawl", "part": "x"}]
    made = dressed(sound, Build) if everywhere else sound
    made["build"]["name"] = word
    made["deviations"][0].update(rule="gearing.crawl", until="2027-01-01", reason=word, by=word)
    made["engine"]["sheet"] = "odd.engine.toml"
    del made["engine"]["cylinders"]
    sheet = {"cylinders": 4, "document": {"title": word, "revision": word, "date": "2026-01-01"}}
    return {"odd.toml": tomli_w.dumps(made).encode(), "odd.engine.toml": tomli_w.dumps(sheet).encode()}


REFUSED = ("escapes", "line ends")
"""Words that no text of a spec may hold."""


class _Page(HTMLParser):
    """What of a page a browser would take for more than words."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.wrong: list[str] = []
        self.inside = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.inside = tag
        for key, value in attrs:
            if MARK in tag or MARK in key or key.startswith("on"):
                self.wrong.append(f"<{tag} {key}>")
            if key in ("href", "src", "xlink:href", "action", "style") and re.match(r"\s*javascript:", value or ""):
                self.wrong.append(f"{key} of {tag}")
        if tag in ("script", "img", "iframe", "object"):
            self.wrong.append(f"<{tag}>")

    def handle_comment(self, data: str) -> None:
        if MARK in data:
            self.wrong.append("a comment")

    def handle_decl(self, decl: str) -> None:
        if MARK in decl:
            self.wrong.append("a declaration")

    def handle_data(self, data: str) -> None:
        if MARK in data and self.inside in ("style", "script"):
            self.wrong.append(f"in {self.inside}")


def wrong_on_page(path: str) -> str:
    """What of a page would run, or cannot be read; empty where there is nothing."""
    return wrong_in_page(Path(path).read_text(encoding="utf-8")) if os.path.exists(path) else ""


def wrong_in_page(text: str) -> str:
    """The same of its text."""
    if re.search(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", text):
        return "a control character on the page"
    page = _Page()
    page.feed(text)
    page.close()
    return ", ".join(page.wrong[:3])


def words() -> Iterator[Case]:
    """Hostile words wherever the spec takes words."""
    group = "hostile words"
    for place, (name, word) in enumerate(WORDS.items()):

        def before(word: str = word) -> None:
            for file, raw in hostile(word, everywhere=len(word) < 200).items():
                Path(file).write_bytes(raw)

        for call in _some(SHEETS, place, 7):
            ends = (2,) if name in REFUSED and call[0] != "upgrade" else (0, 1)
            yield Case(
                group, f"{' '.join(call[:4])}: {name}", call, ends, ("odd.toml", "odd.engine.toml", "r.html", "r.csv"),
                before, seconds=20.0, after=lambda: wrong_on_page("r.html"),
            )  # fmt: skip


# -- what was measured ------------------------------------------------------------------------------------------------
def measured() -> Iterator[Case]:
    """What was measured, as nobody could have read it."""
    import tomli_w

    group = "what was measured"
    sound = tomllib.loads((ROOT / "swaplint/kit/sound.toml").read_text(encoding="utf-8"))
    odd: tuple[Any, ...] = (
        0,
        -1,
        1e300,
        "nan kPa",
        "-5 kPa",
        "0 kPa",
        "1e30 kPa",
        "0 degC",
        "-300 degC",
        "1e-30 r/min",
        {},
    )
    works = (
        [
            "inspect",
            "odd.toml",
            "--no-remedies",
            "--system",
            "commissioning",
            "--format",
            "json",
            "--stage",
            "commission",
        ],
        ["checklist", "odd.toml", "--stage", "commission", "--format", "json"],
        ["handover", "odd.toml", "--format", "json"],
    )
    number = 0
    for place, path in enumerate(_spots(sound["measured"])):
        at = sound["measured"]
        for key in path:
            at = at[key]
        if not path or isinstance(at, dict):
            continue
        for value in _some(odd if isinstance(at, str) else odd[:4], place, 3):
            number += 1
            if isinstance(at, str) and isinstance(value, str) and " " in at:  # in the unit that the field takes
                value = f"{value.split(' ')[0]} {at.split(' ', 1)[1]}"

            def before(path: tuple[Any, ...] = path, value: Any = value) -> None:
                made = {**sound, "measured": _with(sound["measured"], path, value)}
                Path("odd.toml").write_text(tomli_w.dumps(made), encoding="utf-8")

            call = works[0] if number % 6 else works[1 + number // 6 % 2]
            name = f"{call[0]}: {'.'.join(map(str, path))} is {value!r:.30}"
            yield Case(group, name, call, ENDS, ("odd.toml",), before, seconds=8.0)


def cases() -> list[Case]:
    """All of them."""
    return [*reports(), *terms(), *tables(), *words(), *measured()]
