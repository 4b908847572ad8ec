"""Answers put into generated files: none changes another byte or value; and a `fill` that is killed leaves it whole.

    python tests/bench/edits.py [5000] [--seed 1] [--kills 200]

Each file is a spec made from the model, written in one of the many ways in which TOML can hold it, some of its lines
commented out as in a draft. Each answer goes to a field of the model, stated or not, of a part that is there or of a
new one, as a person types it. What is read from the new text must be what was read before with that one change; every
line must stay, in its order, but those that hold the old value or were commented out for the field; line ends and the
byte-order mark stay. What does not hold is printed.
"""

from __future__ import annotations

import argparse
import copy
import os
import random
import re
import signal
import sys
import tempfile
import time
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE), str(HERE.parent / "spec")]

from model_specs import random_spec, value_for  # noqa: E402
from toml_styles import Writer  # noqa: E402

from swaplint.kit.trial import rule_base  # noqa: E402
from swaplint.spec.editing.commented import answered, commented_lines  # noqa: E402
from swaplint.spec.editing.scanning import sections  # noqa: E402
from swaplint.spec.fields import Section  # noqa: E402
from swaplint.spec.loaded import LoadedSpec, SpecErrors  # noqa: E402
from swaplint.spec.loading import load_text  # noqa: E402
from swaplint.spec.shape import Member, members  # noqa: E402
from swaplint.spec.toml_source import read_bytes  # noqa: E402
from swaplint.writing.answers import RefusedError, changes_of  # noqa: E402

MOST_SHOWN = 20


@dataclass
class Case:
    """A file, and what one answer to it must make of it."""

    text: str
    path: str
    answer: str


# -- files -----------------------------------------------------------------------------------------------------------
def some_file(dice: random.Random, model: type[Section]) -> str:
    """A spec, written somehow, as it might stand on a disk."""
    while True:
        tree = _few(random_spec(model, dice), dice)
        text = Writer(dice.randrange).text(tree)
        text = _some_commented_out(text, dice)
        if dice.random() < 0.3:
            text = text.replace("\n", "\r\n")
        if dice.random() < 0.1:
            text = "\ufeff" + text
        try:
            load_text(text, model=model)
        except SpecErrors:
            continue  # a value that the model does not take, or two of one list that it does not take together
        return text


def _few(tree: dict[str, Any], dice: random.Random) -> dict[str, Any]:
    """A part of a spec: a large one takes long, and shows nothing more."""
    out = {}
    for key, value in tree.items():
        if isinstance(value, dict) and len(value) > 4:
            value = {name: value[name] for name in dice.sample(sorted(value), 4)}
        if isinstance(value, dict):
            value = _few(value, dice)
        out[key] = value[:2] if isinstance(value, list) else value
    return out


_LINE = re.compile(r"^(?=[A-Za-z0-9_\"'.-]+ ?[ \t]*=)|^(?=\[[^\[\]]+\]\s*$)", re.MULTILINE)


def _some_commented_out(text: str, dice: random.Random) -> str:
    """Some lines of a file with a # before them, where it can still be read then."""
    out = text
    for place in sorted((found.start() for found in _LINE.finditer(text)), reverse=True):
        if dice.random() < 0.15:
            tried = f"{out[:place]}# {out[place:]}"
            try:
                tomllib.loads(tried)
            except tomllib.TOMLDecodeError:
                continue
            out = tried
    return out


# -- answers ---------------------------------------------------------------------------------------------------------
def some_answer(dice: random.Random, model: type[Section], spec: LoadedSpec) -> tuple[str, str]:
    """A field of the model and an answer to it, as a person types it."""
    shape, path = model, ""
    standing: Any = spec.build
    while True:
        member = members(shape)[dice.choice(sorted(members(shape)))]
        path = f"{path}.{member.name}".lstrip(".")
        standing = getattr(standing, member.name, None) if standing is not None else None
        if member.role in ("plain", "plain-list"):
            return path, _typed(member, dice)
        if member.role == "part" and dice.random() < 0.05:
            return path, dice.choice(["not fitted", "fitted"])
        if member.role == "parts":
            if dice.random() < 0.2:
                return path, "new_one, new-two"
            name = dice.choice(sorted(standing) if standing else ["d"])
            path = f"{path}.{name}"
            standing = standing.get(name) if standing else None
        if member.role == "items":
            return path, "[{}]" if member.when_empty.gap else "none"  # of some every build has one
        shape = member.model  # type: ignore[assignment]


def _typed(member: Member, dice: random.Random) -> str:
    facts = member.facts
    assert facts is not None
    count = dice.randint(1, 4) if member.role == "plain-list" else 1
    values = [value_for(facts, dice, 0.0, bare=member.role == "plain-list") for _ in range(count)]
    return "; ".join(map(_as_typed, values))


def _as_typed(value: Any) -> str:
    if isinstance(value, dict):
        pieces = [str(value["value"]), f"± {value['tol']}" if "tol" in value else "", str(value.get("basis", ""))]
        return " ".join(filter(None, pieces))
    return {True: "yes", False: "no"}.get(value, str(value)) if isinstance(value, bool) else str(value)


# -- what must hold --------------------------------------------------------------------------------------------------
def faults(case: Case, model: type[Section]) -> list[str] | None:
    """What does not hold of an answer; None where it is one that is refused."""
    spec = load_text(case.text.removeprefix("\ufeff"), model=model)
    try:
        changes = changes_of(spec, case.path, case.answer + (" !" if "not fitted" not in case.answer else ""))
    except RefusedError:
        try:
            changes = changes_of(spec, case.path, case.answer)
        except RefusedError:
            return None
    new = answered(case.text, changes)
    found = []
    before = tomllib.loads(case.text.removeprefix("\ufeff").replace("\r\n", "\n"))
    expected = with_changes(before, changes)
    if tomllib.loads(new.removeprefix("\ufeff").replace("\r\n", "\n")) != expected:
        found.append("another value differs")
    if new.startswith("\ufeff") != case.text.startswith("\ufeff"):
        found.append("the byte-order mark differs")
    ends = "\r\n" if "\r\n" in case.text else "\n"
    if "\n" in case.text and new.count("\n") != new.count(ends):
        found.append("a line end differs")
    free = lines_that_may_change(case.text, changes)
    kept = [line for number, line in enumerate(case.text.removeprefix("\ufeff").split("\n"), 1) if number not in free]
    if not _in_order(kept, new.removeprefix("\ufeff").split("\n")):
        found.append("a line changed that is not about the field")
    return found


def with_changes(data: dict[str, Any], changes: Any) -> dict[str, Any]:
    """What a file holds with changes, said as plainly as can be."""
    new = copy.deepcopy(data)
    for path, value in changes.items():
        node: Any = new
        for key in path[:-1]:
            node = node.setdefault(key, {}) if isinstance(node, dict) else node[key]
        node[path[-1]] = value
    return new


def lines_that_may_change(text: str, changes: Any) -> set[int]:
    """The lines that hold an old value or the table within braces that gets a new one, or are commented out for it."""
    body = text.removeprefix("\ufeff")
    file = read_bytes(body.encode(), "x")
    free: set[int] = set()
    for path in changes:
        for cut in range(len(path), 0, -1):
            spans = file.spans.get(path[:cut])
            if spans is not None and spans.value is not None:
                free.update(_lines(body, spans.key or spans.value, spans.value))
                break
        else:  # an old value that is written as a table, or as a list of them
            below = [spans for at, spans in file.spans.items() if at[: len(path)] == path]
            free.update(*(_lines(body, spans.key or spans.value, spans.value or spans.key) for spans in below))
            headers = [section for section in sections(body) if section.path[: len(path)] == path]
            ends = [max([one.header_end, *(entry.end for entry in one.entries)]) for one in headers]
            free.update(*(_lines(body, (one.start, end)) for one, end in zip(headers, ends, strict=True)))
            # what is commented out in such a table goes with it
            ends_below = [line for line in commented_lines(body) if line.path[: len(path)] == path]
            free.update(body.count("\n", 0, line.start) + 1 for line in ends_below)
        for line in commented_lines(body):
            if line.path == path:
                free.update(body.count("\n", 0, one.start) + 1 for one in (line, line.header) if one is not None)
    return free


def _lines(text: str, *spans: tuple[int, int] | None) -> range:
    """The numbers of the lines from the first of some stretches of text to the last."""
    known = [span for span in spans if span is not None]
    if not known:
        return range(0)
    first, last = min(start for start, _ in known), max(end for _, end in known)
    return range(text.count("\n", 0, first) + 1, text.count("\n", 0, last) + 2)


def _in_order(kept: list[str], lines: list[str]) -> bool:
    rest = iter(line.rstrip("\r") for line in lines)
    return all(line.rstrip("\r") in rest for line in kept if line.strip())


def cases(seed: int, model: type[Section]) -> Iterator[Case]:
    """Files and answers without end; each file gets several."""
    dice = random.Random(seed)
    while True:
        text = some_file(dice, model)
        spec = load_text(text.removeprefix("\ufeff"), model=model)
        for _ in range(10):
            path, answer = some_answer(dice, model, spec)
            yield Case(text, path, answer)


def edits(number: int, seed: int) -> tuple[int, list[str]]:
    """So many answers taken: how many were refused on the way, and what does not hold."""
    model = rule_base().model
    taken = refused = 0
    wrong: list[str] = []
    for case in cases(seed, model):
        if taken == number:
            break
        try:
            found = faults(case, model)
        except Exception as error:
            found = [f"{type(error).__name__}: {error}"]
        if found is None:
            refused += 1
            continue
        taken += 1
        wrong += [f"{case.path} = {case.answer[:60]!r}: {why}; --seed {seed}" for why in found]
    return refused, wrong


# -- killed ----------------------------------------------------------------------------------------------------------
def kills(number: int, seed: int) -> tuple[int, list[str]]:
    """A `fill` killed again and again at random moments: how many were caught in the midst, and what does not hold."""
    dice = random.Random(seed)
    lengths = [f"{2000 + n} mm" for n in range(1, 400)]
    caught, wrong = 0, []
    base = rule_base()
    with tempfile.TemporaryDirectory() as folder:
        spec = Path(folder, "van.toml")
        first = '[vehicle]\n# wheelbase = "2900 mm"    # with a remark\n' + "# and many lines more\n" * 400
        for _ in range(number):
            spec.write_text(first, encoding="utf-8")
            ready, tells = os.pipe()
            child = os.fork()
            if child == 0:
                _answer_without_end(spec, lengths, base, tells)
            os.close(tells)
            os.read(ready, 1)
            os.close(ready)
            time.sleep(dice.random() * 0.2)
            os.kill(child, signal.SIGKILL)
            os.waitpid(child, 0)
            text = spec.read_text(encoding="utf-8")
            stated = re.search(r'^wheelbase = "(\d+ mm)" +# with a remark$', text, re.MULTILINE)
            caught += stated is not None
            whole = first if stated is None else answered(first, {("vehicle", "wheelbase"): stated[1]})
            if text != whole:
                wrong.append(f"not whole: {text!r}")
            for left in Path(folder).glob(".van.toml.*"):
                left.unlink()  # what a killed process could not take away
    return caught, wrong


def _answer_without_end(spec: Path, answers: list[str], base: Any, tells: int) -> None:
    """In a process of its own: one answer after the other, until it is killed."""
    from swaplint.cli.answering import Given, Session
    from swaplint.inspecting.selection import Selection
    from swaplint.writing.filling import Filling

    sys.stdout = sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115
    try:
        session = Session(Filling(str(spec), base, [], None), base, Selection())
        os.write(tells, b"!")
        while True:
            for answer in answers:
                session.answer_all([Given("vehicle.wheelbase", answer)])
    finally:
        os._exit(1)


def main() -> int:
    """Run as a command."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("number", nargs="?", type=int, default=5000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--kills", type=int, default=200)
    options = parser.parse_args()
    refused, wrong = edits(options.number, options.seed)
    print(f"{options.number} answers put into files, {refused} refused; {len(wrong)} faults")
    caught, broken = kills(options.kills, options.seed) if hasattr(os, "fork") else (0, [])
    print(f"{options.kills} kills, {caught} of them behind a first answer; {len(broken)} files not whole")
    for fault in (wrong + broken)[:MOST_SHOWN]:
        print(fault, end="\n\n")
    return 1 if wrong or broken else 0


if __name__ == "__main__":
    sys.exit(main())
