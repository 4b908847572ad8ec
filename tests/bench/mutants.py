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
import contextlib
import importlib
import os
import random
import shutil
import signal
import sys
import tempfile
import time
from dataclasses import dataclass, field
from multiprocessing import get_context
from pathlib import Path

import pytest
from mutations import ROOT, Mutant, Source, limits, listed, others

EQUIVALENT = Path(__file__).with_name("equivalent_mutants.txt")
TOLD_EACH = 25
"""After so many mutants it is told how many have been tried."""
QUIET = ("alone", "silence", "emptied", "missing-fields", "absurd-values", "tied-sources", "loads")
"""Derived tests that no changed number can fail in earnest, and that take long."""
NAMED = "tests/rules/test_practices.py"
LONG = ("test_links.py", "test_extremes.py")
"""Tests across the packs that ask for no number."""
PACKS = tuple(sorted(folder.name for folder in (ROOT / "rules").iterdir() if folder.is_dir()))


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
