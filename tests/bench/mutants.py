"""How much of the rules and formulas the tests really hold: what survives when a number or an operator is changed.

    python tests/bench/mutants.py --limits [--pack fuel]        every limit of the rules, a tenth up and a tenth down
    python tests/bench/mutants.py --sample 500 --seed 1         other small changes in rules/ and swaplint/engineering
    python tests/bench/mutants.py --again survivors.txt         those alone that an earlier run printed

Each change is made in a copy of the tree in a temporary folder and tried on the tests that cover the file alone, the
quickest first, until one fails. One that takes longer than `--seconds` counts as killed. Survivors are printed as they
come, with their place; a survivor is a number that nobody has pinned, or a change that makes no difference. Those of
which somebody has shown that they make none stand in `equivalent_mutants.txt`, each with its reason: they are counted
apart and not tried. How far a run has come is told on standard error.
"""

from __future__ import annotations

import argparse
import ast
import contextlib
import importlib
import os
import random
import shutil
import signal
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from multiprocessing import get_context
from pathlib import Path
from typing import TypeAlias

import pytest

ROOT = Path(__file__).parents[2]
EQUIVALENT = Path(__file__).with_name("equivalent_mutants.txt")
TOLD_EACH = 25
"""After so many mutants it is told how many have been tried."""
QUIET = ("alone", "silence", "emptied", "missing-fields", "absurd-values", "tied-sources", "loads")
"""Derived tests that no changed number can fail in earnest, and that take long."""
NAMED = "tests/rules/test_practices.py"
LONG = ("test_links.py", "test_extremes.py")
"""Tests across the packs that ask for no number."""
PACKS = tuple(sorted(folder.name for folder in (ROOT / "rules").iterdir() if folder.is_dir()))
VERDICTS = ("at_most", "at_least", "within")
SWAPPED = {ast.Add: ("+", "-"), ast.Sub: ("-", "+"), ast.Mult: ("*", "/"), ast.Div: ("/", "*")}
COMPARED = {
    ast.Lt: ("<", "<="), ast.LtE: ("<=", "<"), ast.Gt: (">", ">="), ast.GtE: (">=", ">"),
    ast.Eq: ("==", "!="), ast.NotEq: ("!=", "=="),
}  # fmt: skip


Change: TypeAlias = tuple[str, tuple[str, ...], tuple[str, ...]]
"""A file, rows of it, and what becomes of them."""


@dataclass(frozen=True)
class Mutant:
    """One change: bytes of a file that are replaced."""

    file: str
    line: int
    start: int
    end: int
    new: bytes
    named: bool = False
    """Whether it is in a named practice, whose text is compared with its value."""

    def apply(self, source: bytes) -> bytes:
        """The file's text with the change."""
        return source[: self.start] + self.new + source[self.end :]

    def change(self, source: bytes) -> Change:
        """What becomes of the lines, wherever in the file they stand."""
        first = source.rfind(b"\n", 0, self.start) + 1
        last = (source + b"\n").index(b"\n", self.end)
        old, new = source[first:last], source[first : self.start] + self.new + source[self.end : last]
        return self.file, _rows(old), _rows(new)

    def told(self, source: bytes) -> str:
        """Its place and what becomes of the lines."""
        _, old, new = self.change(source)
        lines = [*(f"    - {row}" for row in old), *(f"    + {row}" for row in new)]
        return "\n".join([f"{self.file}:{self.line}", *lines])


def _rows(text: bytes) -> tuple[str, ...]:
    return tuple(row.strip() for row in text.decode().splitlines())


def listed(file: Path) -> dict[Change, str]:
    """The changes that a file lists as they are printed, each with its reason (rows that start with `=`) if given."""
    found: dict[Change, str] = {}
    name, old, new, why = "", [], [], []
    for row in [*file.read_text(encoding="utf-8").splitlines(), "end"]:
        mark, text = row.strip()[:1], row.strip()[1:].strip()
        if row.startswith(" "):
            {"-": old, "+": new, "=": why}[mark].append(text)
        elif row.strip() and mark != "#":
            if old or new:
                found[name, tuple(old), tuple(new)] = " ".join(why)
            name, old, new, why = row.split()[-1].split(":")[0], [], [], []
    return found


class Source:
    """A file with its syntax tree, and where each node stands in it."""

    def __init__(self, file: Path) -> None:
        self.name = file.relative_to(ROOT).as_posix()
        self.bytes = file.read_bytes()
        self.tree = ast.parse(self.bytes)
        self.lines = [0]
        for row in self.bytes.splitlines(keepends=True):
            self.lines.append(self.lines[-1] + len(row))

    def span(self, node: ast.AST) -> tuple[int, int]:
        """Where a node's text starts and ends."""
        place: object = node
        start = self.lines[place.lineno - 1] + place.col_offset  # type: ignore[attr-defined]
        return start, self.lines[place.end_lineno - 1] + place.end_col_offset  # type: ignore[attr-defined]

    def text(self, node: ast.AST) -> bytes:
        """A node's text."""
        start, end = self.span(node)
        return self.bytes[start:end]

    def replaced(self, node: ast.AST, new: bytes, named: bool = False) -> Mutant:
        """The change that puts another text in a node's place."""
        return Mutant(self.name, node.lineno, *self.span(node), new, named)  # type: ignore[attr-defined]

    def scaled(self, node: ast.AST, named: bool = False) -> Iterator[Mutant]:
        """A number or a product of numbers, a tenth more and a tenth less; a nought stays one."""
        if isinstance(node, ast.Constant) and node.value == 0:
            return
        for factor in (b"1.1", b"0.9"):
            yield self.replaced(node, b"((" + self.text(node) + b") * " + factor + b")", named)

    def between(self, left: ast.AST, right: ast.AST, old: str, new: str) -> Iterator[Mutant]:
        """The change of an operator that stands between two nodes."""
        start, end = self.span(left)[1], self.span(right)[0]
        gap = self.bytes[start:end]
        if b"#" not in gap and gap.count(old.encode()) == 1:
            at = start + gap.index(old.encode())
            yield Mutant(self.name, right.lineno, at, at + len(old), new.encode())  # type: ignore[attr-defined]


def is_number(node: ast.AST) -> bool:
    """Whether a node is a number as it is written."""
    return isinstance(node, ast.Constant) and isinstance(node.value, int | float) and not isinstance(node.value, bool)


def is_amount(node: ast.AST) -> bool:
    """Whether a node is a number, or a sum or product of numbers and names."""
    if isinstance(node, ast.UnaryOp):
        return is_amount(node.operand)
    if isinstance(node, ast.BinOp):
        sides = (node.left, node.right)
        return any(map(is_amount, sides)) and all(
            is_amount(s) or isinstance(s, ast.Name | ast.Attribute) for s in sides
        )
    return is_number(node)


def walked(node: ast.AST) -> Iterator[ast.AST]:
    """What is computed below a node: no decorators, annotations or texts."""
    yield node
    for name, value in ast.iter_fields(node):
        if name in ("decorator_list", "annotation", "returns", "type_comment"):
            continue
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.AST) and not isinstance(
                child, ast.JoinedStr | ast.Raise | ast.Assert | ast.Import
            ):
                yield from walked(child)


def amounts(node: ast.AST) -> Iterator[ast.AST]:
    """The amounts that a constant is made of: the values of a table, what a practice takes and its range."""
    if is_amount(node):
        yield node
    elif isinstance(node, ast.Dict):
        for value in node.values:
            yield from amounts(value)
    elif isinstance(node, ast.Tuple | ast.List | ast.Set):
        for element in node.elts:
            yield from amounts(element)
    elif isinstance(node, ast.Call):
        for argument in (*node.args, *(keyword.value for keyword in node.keywords)):
            yield from amounts(argument)


def limits(source: Source) -> Iterator[Mutant]:
    """Named constants and practices of a module of rules, and numbers that its functions judge or compare by."""
    for node in source.tree.body:
        value = node.value if isinstance(node, ast.Assign | ast.AnnAssign) else None
        targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)]
        names = [name for target in targets for name in getattr(target, "elts", [target])]
        if value is not None and all(isinstance(name, ast.Name) and name.id.isupper() for name in names):
            named = b"Practice(" in source.bytes  # of what such a constant is made, a practice may be made
            for amount in amounts(value):
                yield from source.scaled(amount, named)
        if not isinstance(node, ast.FunctionDef | ast.ClassDef):
            continue
        seen: set[ast.AST] = set()
        for judged in walked(node):
            compared: list[ast.AST] = [judged] if isinstance(judged, ast.Compare) else []
            if isinstance(judged, ast.Call) and isinstance(judged.func, ast.Name) and judged.func.id in VERDICTS:
                compared = [*judged.args[:3]]  # found and limit: what the margin is relative to turns nothing
            for inner in (inner for part in compared for inner in walked(part)):
                if is_number(inner) and inner not in seen and _is_limit(inner.value):  # type: ignore[attr-defined]
                    seen.add(inner)
                    yield from source.scaled(inner)


def _is_limit(number: float) -> bool:
    """Whether a number in a comparison is no mere count, and no room left for arithmetic."""
    size = abs(number)
    return size not in (0, 1, 2) and size > 1e-4 and not 0.99 < size < 1.01


def others(source: Source) -> Iterator[Mutant]:
    """Operators, comparisons, numbers, min and max, dropped terms and negated conditions in a module's functions."""
    for function in (node for node in source.tree.body if isinstance(node, ast.FunctionDef | ast.ClassDef)):
        for node in walked(function):
            if isinstance(node, ast.BinOp) and type(node.op) in SWAPPED:
                yield from source.between(node.left, node.right, *SWAPPED[type(node.op)])
                yield source.replaced(node, b"(" + source.text(node.left) + b")")
                yield source.replaced(node, b"(" + source.text(node.right) + b")")
            elif isinstance(node, ast.Compare) and len(node.ops) == 1 and type(node.ops[0]) in COMPARED:
                yield from source.between(node.left, node.comparators[0], *COMPARED[type(node.ops[0])])
            elif isinstance(node, ast.If | ast.IfExp | ast.While):
                yield source.replaced(node.test, b"(not (" + source.text(node.test) + b"))")
            elif isinstance(node, ast.BoolOp):
                swapped = ("and", "or") if isinstance(node.op, ast.And) else ("or", "and")
                yield from source.between(node.values[0], node.values[1], *swapped)
            elif isinstance(node, ast.Name) and node.id in ("min", "max"):
                yield source.replaced(node, b"max" if node.id == "min" else b"min")
            elif is_number(node):
                number = node.value  # type: ignore[attr-defined]
                yield source.replaced(
                    node, str(number + 1 if isinstance(number, int) or not number else number * 1.1).encode()
                )


# -- the tests that cover a file ---------------------------------------------------------------------------------------
def covering(file: str, only: str = "") -> tuple[str, ...]:
    """What pytest is asked for: the tests of the pack or formula, and those derived from the pack; or `only` some."""
    if only:
        return (*(test for test in covering(file) if test.startswith("tests/")), "-k", only)
    parts = file.split("/")
    if parts[0] == "rules":
        pack = parts[1].removesuffix(".py")
        found = [test for test in (ROOT / "tests/rules").glob("test_*.py") if _is_about(test, pack)]
        derived = ("--rules-of", pack) if (ROOT / "rules" / pack).is_dir() else ()
        return (*derived, *(test.relative_to(ROOT).as_posix() for test in sorted(found)))
    module = parts[-1].removesuffix(".py")
    tests = sorted((ROOT / "tests/engineering").glob("test_*.py"))
    named = [test for test in tests if module in test.read_text(encoding="utf-8")]
    return (file, *(test.relative_to(ROOT).as_posix() for test in named))


def _is_about(test: Path, pack: str) -> bool:
    """Whether a file of tests has the pack's name, or no pack's, and asks for rules or quantities of the pack."""
    named = [name for name in PACKS if test.name.startswith((f"test_{name}.", f"test_{name}_"))]
    return pack in named or (not named and test.name not in LONG and f'"{pack}.' in test.read_text(encoding="utf-8"))


class Order:
    """A pytest plugin: leaves out what cannot tell, puts the quickest tests first and notes how long each takes."""

    def __init__(self, seconds: dict[str, float], left_out: frozenset[str]) -> None:
        self.seconds, self.left_out = seconds, left_out
        self.took: dict[str, float] = {}
        self.failed: set[str] = set()

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        kept = [item for item in items if not item.name.endswith(QUIET) or "rules-of" not in item.name]
        kept = [item for item in kept if item.nodeid not in self.left_out]
        items[:] = sorted(kept, key=lambda item: self.seconds.get(item.nodeid, 0.0))

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        self.took[report.nodeid] = self.took.get(report.nodeid, 0.0) + report.duration
        if report.failed:
            self.failed.add(report.nodeid)


@dataclass(frozen=True)
class Baseline:
    """How the tests of a file do without any change: what fails already tells nothing of a mutant, and is left out."""

    seconds: dict[str, float] = field(default_factory=dict)
    failed: frozenset[str] = frozenset()


class Tree:
    """A copy of the tree in which mutants are made, one after the other."""

    def __init__(self) -> None:
        self.folder = Path(tempfile.mkdtemp(prefix="mutants-"))
        for name in ("swaplint", "rules", "tests", "specs"):
            shutil.copytree(ROOT / name, self.folder / name, ignore=shutil.ignore_patterns("__pycache__"))
        for name in ("pyproject.toml", "README.md", "DEVELOPERS.md"):
            shutil.copy(ROOT / name, self.folder)
        path = self.folder / "path"
        path.mkdir()
        (path / "swaplint").symlink_to(self.folder / "swaplint")
        (path / "swaplint_rules").symlink_to(self.folder / "rules")

    def run(
        self, asked: tuple[str, ...], known: Baseline, limit: float, *, whole: bool = False
    ) -> tuple[str, Baseline]:
        """Whether the tests pass, fail or take too long; how long each took, and which failed: `whole`, all of them."""
        context = get_context("fork")
        mine, theirs = context.Pipe(duplex=False)
        child = context.Process(target=self._tested, args=(asked, known, whole, theirs))
        child.start()
        theirs.close()
        done = mine.poll(limit)
        status, noted = -1, Baseline()
        with contextlib.suppress(EOFError):
            status, noted = mine.recv() if done else (status, noted)
        if not done and child.pid:
            with contextlib.suppress(ProcessLookupError):
                os.killpg(child.pid, signal.SIGKILL)
        child.join()
        return ("too long" if not done else "pass" if status == 0 else "fail"), noted

    def _tested(self, asked: tuple[str, ...], known: Baseline, whole: bool, answer: object) -> None:
        os.setpgrp()
        os.chdir(self.folder)
        nowhere = os.open(self.folder / "output.txt", os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        os.dup2(nowhere, 1), os.dup2(nowhere, 2)
        sys.path.insert(0, str(self.folder / "path"))
        order = Order(known.seconds, known.failed)
        how = ["-q", "--no-header", "-p", "no:cacheprovider", "--rootdir", "."]
        status = pytest.main([*how, *([] if whole else ["-x"]), *asked], [order])
        answer.send((int(status), Baseline(order.took, frozenset(order.failed))))  # type: ignore[attr-defined]

    def put(self, file: str, text: bytes) -> None:
        """Write a file, and forget what Python has compiled of it."""
        path = self.folder / file
        path.write_bytes(text)
        for compiled in (path.parent / "__pycache__").glob(f"{path.stem}.*"):
            compiled.unlink()


def _worker(mutants: list[Mutant], limit: float, only: str, found: object) -> None:
    """Try mutants, all of one file after the other, and tell what becomes of each."""
    tree = Tree()
    baseline: dict[tuple[str, ...], Baseline] = {}
    for mutant in mutants:
        asked, source = covering(mutant.file, only), (tree.folder / mutant.file).read_bytes()
        if asked not in baseline:
            _, baseline[asked] = tree.run(asked, Baseline(), 20 * limit, whole=True)
            for test in sorted(baseline[asked].failed):
                print(f"left out, it fails without any change: {test}", file=sys.stderr, flush=True)
        known = baseline[asked]
        if len(known.seconds) <= len(known.failed):
            found.put((mutant, "not tried: no test passes as it is"))  # type: ignore[attr-defined]
            continue
        tree.put(mutant.file, mutant.apply(source))
        status = tree.run((NAMED,), Baseline(), limit)[0] if mutant.named else "pass"
        if status == "pass":
            status, _ = tree.run(asked, known, limit + 3 * sum(known.seconds.values()))
        tree.put(mutant.file, source)
        found.put((mutant, {"pass": "survived", "fail": "killed", "too long": "killed, too long"}[status]))  # type: ignore[attr-defined]
    shutil.rmtree(tree.folder)


def main() -> int:
    """Make the mutants that are asked for, try them and say which survive."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--limits", action="store_true", help="every limit of the rules, a tenth up and down")
    parser.add_argument("--sample", type=int, default=0, help="so many other changes, drawn at random")
    parser.add_argument("--seed", type=int, default=1, help="which ones are drawn")
    parser.add_argument("--again", type=Path, help="those that this file lists, as a run before has printed them")
    parser.add_argument(
        "--only", default="", help="on tests of such names alone (pytest -k), to see what new ones hold"
    )
    parser.add_argument("--pack", action="append", default=[], help="only this pack of rules, or engineering")
    parser.add_argument("--jobs", type=int, default=1, help="so many at a time")
    parser.add_argument("--seconds", type=float, default=60.0, help="longest time for one, beside that of its tests")
    options = parser.parse_args()
    files = [*sorted((ROOT / "rules").glob("*/*.py")), *sorted((ROOT / "swaplint/engineering").glob("*.py"))]
    packs = set(options.pack)
    sources = {source.name: source for source in map(Source, (f for f in files if not packs or f.parent.name in packs))}
    mutants = drawn(list(sources.values()), options)
    same = listed(EQUIVALENT)
    alike = [m for m in mutants if m.change(sources[m.file].bytes) in same]
    for mutant in alike:
        mutants.remove(mutant)
    for library in ("hypothesis", "pydantic", "pint", "tomli", "tomli_w", "rich", "numpy", "fluids", "ht"):
        with contextlib.suppress(ImportError):
            importlib.import_module(library)  # once, and not in every copy
    context, started = get_context("fork"), time.monotonic()
    found = context.Queue()
    count = -(-len(mutants) // options.jobs) or 1
    for job in range(options.jobs):
        part = mutants[job * count : (job + 1) * count]
        context.Process(target=_worker, args=(part, options.seconds, options.only, found)).start()
    tally: dict[str, int] = {"equivalent": len(alike)}
    for number, _ in enumerate(mutants, 1):
        mutant, status = found.get()
        tally[status] = tally.get(status, 0) + 1
        if status in ("survived",) or status.startswith("not tried"):
            print(f"{status} {mutant.told(sources[mutant.file].bytes)}", flush=True)
        if number % TOLD_EACH == 0:
            took = time.monotonic() - started
            print(f"{number} of {len(mutants)} tried in {took:.0f} s: {tally}", file=sys.stderr, flush=True)
    print(f"{len(mutants) + len(alike)} mutants in {time.monotonic() - started:.0f} s: {tally}")
    return 0


def drawn(sources: list[Source], options: argparse.Namespace) -> list[Mutant]:
    """The mutants that are asked for."""
    bounds = [m for source in sources if source.name.startswith("rules/") for m in limits(source)]
    rest = [mutant for source in sources for mutant in others(source)] if options.sample or options.again else []
    mutants = bounds if options.limits else []
    if options.sample:
        mutants = [*mutants, *random.Random(options.seed).sample(rest, min(options.sample, len(rest)))]
    if options.again:
        text, wanted = {source.name: source.bytes for source in sources}, listed(options.again)
        again = {m: m.change(text[m.file]) for m in (*bounds, *rest)}
        mutants = [*mutants, *(m for m, change in again.items() if change in wanted and m not in mutants)]
        for file, old, new in wanted.keys() - set(again.values()):
            print(
                "no longer there:",
                file,
                *(f"\n    - {r}" for r in old),
                *(f"\n    + {r}" for r in new),
                file=sys.stderr,
            )
    return mutants


if __name__ == "__main__":
    sys.exit(main())
