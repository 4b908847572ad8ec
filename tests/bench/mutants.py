"""How much of the rules and formulas the tests really hold: what survives when a number or an operator is changed.

    python tests/bench/mutants.py --limits [--pack fuel]        every limit of the rules, a tenth up and a tenth down
    python tests/bench/mutants.py --sample 500 --seed 1         other small changes in rules/ and swaplint/engineering
    python tests/bench/mutants.py --sample 500 --pack engineering --file "[a-c]*.py"       those in some files
    python tests/bench/mutants.py --again survivors.txt         those alone that an earlier run printed

Each change is made in a copy of the tree in a temporary folder and tried on those tests of the pack or formula that
come to its place, the quickest first, until one fails. A change in a function is made in a process in which the tests
are collected already; one that is met at the import, as of a named constant, is imported anew, and tried on the tests
that come to a function that names the constant. What takes `--seconds` of processor time more than three times what
its tests take counts as killed. Survivors are printed as they
come, with their place; a survivor is a number that nobody has pinned, or a change that makes no difference. Those of
which somebody has shown that they make none stand in `equivalent_mutants.txt`, each with its reason: they are counted
apart and not tried. How far a run has come is told on standard error.
"""

from __future__ import annotations

import argparse
import contextlib
import importlib
import os
import pickle
import queue
import random
import shutil
import signal
import sys
import tempfile
import time
import traceback
from collections.abc import Callable
from dataclasses import dataclass
from multiprocessing import get_context
from multiprocessing.connection import Connection
from pathlib import Path
from types import FrameType
from typing import Any

import pytest
from mutations import ROOT, Mutant, Source, limits, listed, others
from reaching import Block, Living, Named, Reached, block_of, marked, named_by

EQUIVALENT = Path(__file__).with_name("equivalent_mutants.txt")
TOLD_EACH = 25
"""After so many mutants it is told how many have been tried."""
QUIET = ("alone", "silence", "emptied", "missing-fields", "absurd-values", "tied-sources", "loads")
"""Derived tests that no changed number can fail in earnest, and that take long."""
NAMED = "tests/rules/test_practices.py"
SHOWN = {
    "figures.py": ("tests/reports/test_figures.py",),
    "takeoff.py": ("tests/making/test_take_off.py", "tests/making/test_take_off_of_the_sound_spec.py"),
    "steps.py": ("tests/making/test_steps_on_a_list.py",),
    "fluid_service.py": ("tests/making/test_hand_over_lists.py",),
    "papers.py": ("tests/making/test_hand_over_lists.py",),
    "use.py": ("tests/making/test_hand_over_lists.py",),
}
"""What is drawn, bought and done is tested where it is shown."""
LONG = ("test_links.py", "test_extremes.py")
"""Tests across the packs that ask for no number."""
PACKS = tuple(sorted(folder.name for folder in (ROOT / "rules").iterdir() if (folder / "__init__.py").exists()))


# -- the tests that cover a file ---------------------------------------------------------------------------------------
def covering(file: str, only: str = "") -> tuple[str, ...]:
    """What pytest is asked for: the tests of the pack or formula, and those derived from the pack; or `only` some."""
    if only:
        return (*(test for test in covering(file) if test.startswith("tests/")), "-k", only)
    parts = file.split("/")
    if parts[0] == "rules":
        pack = parts[1].removesuffix(".py")
        found = [test for test in (ROOT / "tests/rules").glob("test_*.py") if _is_about(test, pack)]
        derived = (f"--rules-of={pack}",) if (ROOT / "rules" / pack).is_dir() else ()
        found += [ROOT / shown for shown in SHOWN.get(parts[-1], ())]
        return (*derived, NAMED, *(test.relative_to(ROOT).as_posix() for test in sorted(found)))
    module = parts[-1].removesuffix(".py")
    tests = sorted((ROOT / "tests/engineering").glob("test_*.py"))
    named = [test for test in tests if module in test.read_text(encoding="utf-8")]
    return (file, *(test.relative_to(ROOT).as_posix() for test in named))


def _is_about(test: Path, pack: str) -> bool:
    """Whether a file of tests has the pack's name, or no pack's, and asks for rules or quantities of the pack."""
    named = [name for name in PACKS if test.name.startswith((f"test_{name}.", f"test_{name}_"))]
    return pack in named or (not named and test.name not in LONG and f'"{pack}.' in test.read_text(encoding="utf-8"))


class Order:
    """A pytest plugin: leaves out what cannot tell, and notes how each test ends, how long it takes and where it comes.

    `wanted` are the only tests that are done, the quickest first; None, all of them.
    """

    def __init__(self, wanted: list[str] | None = None) -> None:
        self.wanted = wanted
        self.seconds: dict[str, float] = {}
        self.failed: set[str] = set()

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        kept = [item for item in items if not item.name.endswith(QUIET) or "rules-of" not in item.name]
        if self.wanted is not None:
            place = {test: number for number, test in enumerate(self.wanted)}
            kept = [item for item in kept if item.nodeid in place or _text(item)]
            kept.sort(key=lambda item: place.get(item.nodeid, -1))
        items[:] = kept

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        self.seconds[report.nodeid] = self.seconds.get(report.nodeid, 0.0) + report.duration
        if report.failed:
            self.failed.add(report.nodeid)


class Server(Order):
    """A pytest plugin: once the tests are collected, each call is answered by a child that does what it says."""

    def __init__(self, calls: Connection, files: set[str]) -> None:
        super().__init__()
        self.calls, self.files = calls, files
        self.early: set[tuple[str, int]] = set()
        sys.setprofile(self._called)

    def _called(self, frame: FrameType, event: str, _: object) -> None:
        code = frame.f_code
        if event == "call" and code.co_filename in self.files:
            self.early.add((code.co_filename, code.co_firstlineno))

    def called_early(self, limit: float) -> set[tuple[str, int]]:
        """The functions that the import or the collecting has called: other code comes too late for them."""
        return self.early

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        sys.setprofile(None)
        self.items, self.reached = session.items, Reached()
        self.living = Living(self.files)
        while (call := self.calls.recv()) is not None:
            self.calls.send(in_child(lambda call=call: getattr(self, call[0])(*call[1:]), call[-1]))
        return True

    def known(self, sources: list[Source], limit: float) -> dict[str, Known]:
        """Of each test how it ends, how long it takes, and to which blocks of the files it comes."""
        for source in sources:
            file = imported(Path.cwd(), source.name)
            self.living.give(file, marked(source, file))
        reached: dict[str, Known] = {}
        for item in self.items:
            if _text(item):
                continue
            _forget(item)
            self.reached.taken()
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=None)
            ended = item.nodeid not in self.failed
            reached[item.nodeid] = Known(ended, self.seconds.get(item.nodeid, 0.0), self.reached.taken())
        return reached

    def tried(self, file: str, text: bytes, constant: Named | None, tests: list[str], limit: float) -> str:
        """What some tests say of a changed file, in its functions or in a constant."""
        place = imported(Path.cwd(), file)
        code = compile(text, place, "exec")
        items = {item.nodeid: item for item in self.items}
        try:
            if constant is None:
                self.living.give(place, code)
            else:
                changed = self.living.put(place, code, constant)
                tests = [*(test for test, item in items.items() if _text(item) in changed), *tests]
        except Exception:  # what it is, the import says
            return "to be imported"
        for test in tests:
            items[test].config.hook.pytest_runtest_protocol(item=items[test], nextitem=None)
            if self.failed:
                return "fail"
        return "pass"


def _forget(item: pytest.Item) -> None:
    """Forget what files of tests keep from one test to the next: each comes by itself to what it looks at."""
    module = getattr(item, "module", None)
    if module is None:
        return
    tests = Path(module.__file__).parents[1]
    helpers = {sys.modules.get(getattr(kept, "__module__", None) or "") for kept in vars(module).values()}
    for one in {module, *helpers}:
        if one is None or tests not in Path(getattr(one, "__file__", None) or "").parents:
            continue
        for kept in vars(one).values():
            if hasattr(kept, "cache_clear") and kept.__module__ == one.__name__:
                kept.cache_clear()


def _text(item: pytest.Item) -> str:
    """The text of a practice that a test looks at."""
    values = getattr(item, "callspec", None) if item.nodeid.startswith(NAMED) else None
    return str(values.params.get("text", "")) if values else ""


@dataclass(frozen=True)
class Known:
    """A test without any change: whether it passes, how long it takes, to which blocks it comes."""

    passes: bool
    seconds: float
    blocks: frozenset[Block]


def in_child(work: Callable[[], Any], limit: float) -> Any:
    """What a piece of work in a process of its own gives; "too long" after so many seconds of processor time."""
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        signal.signal(signal.SIGPROF, signal.SIG_DFL)
        signal.setitimer(signal.ITIMER_PROF, limit)
        status = 1
        try:
            with os.fdopen(writing, "wb") as answer:
                answer.write(pickle.dumps(work()))
            status = 0
        finally:
            if status:
                traceback.print_exc()
            os._exit(status)
    os.close(writing)
    with os.fdopen(reading, "rb") as answer:
        given = answer.read()
    _, status = os.waitpid(child, 0)
    if status == 0:
        return pickle.loads(given)
    ended = os.waitstatus_to_exitcode(status)
    return "too long" if ended == -signal.SIGPROF else f"broken, {ended}"


def imported(tree: Path, file: str) -> str:
    """The name under which a file of a tree is imported."""
    return str(tree / "path" / file.replace("rules/", "swaplint_rules/", 1))


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

    def pytest(self, asked: tuple[str, ...], plugin: Order) -> int:
        """Run pytest in this process on the copy."""
        os.chdir(self.folder)
        nowhere = os.open(self.folder / "output.txt", os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        os.dup2(nowhere, 1), os.dup2(nowhere, 2)
        sys.path[:0] = [str(self.folder / "path"), str(self.folder)]
        return int(
            pytest.main(["-q", "-x", "--no-header", "-p", "no:cacheprovider", "--rootdir", ".", *asked], [plugin])
        )

    def put(self, file: str, text: bytes) -> None:
        """Write a file, and forget what Python has compiled of it."""
        path = self.folder / file
        path.write_bytes(text)
        for compiled in (path.parent / "__pycache__").glob(f"{path.stem}.*"):
            compiled.unlink()


def _serve(tree: Tree, asked: tuple[str, ...], calls: Connection, files: set[str]) -> None:
    tree.pytest(asked, Server(calls, files))


class Tests:
    """The tests that cover some files: collected once, and asked of one mutant after the other."""

    def __init__(self, tree: Tree, asked: tuple[str, ...], sources: list[Source], seconds: float) -> None:
        self.tree, self.asked, self.sources, self.seconds = tree, asked, sources, seconds
        context = get_context("fork")
        self.calls, theirs = context.Pipe()
        files = {imported(tree.folder, source.name) for source in sources}
        context.Process(target=_serve, args=(tree, asked, theirs, files), daemon=True).start()
        theirs.close()
        known = self.call("known", sources, 3600.0)
        if not isinstance(known, dict):
            raise RuntimeError(f"the tests of {asked} cannot be run: {(tree.folder / 'output.txt').read_text()}")
        for test, told in known.items():
            if not told.passes:
                print(f"left out, it fails without any change: {test}", file=sys.stderr, flush=True)
        self.early = self.call("called_early", seconds)
        passing = {test: told for test, told in known.items() if told.passes}
        self.known = dict(sorted(passing.items(), key=lambda item: item[1].seconds))

    def call(self, *call: object) -> Any:
        """Have something done."""
        self.calls.send(call)
        return self.calls.recv()

    def of(self, mutant: Mutant) -> str:
        """What becomes of a mutant."""
        source = next(source for source in self.sources if source.name == mutant.file)
        block = block_of(source, mutant)
        if block is not None and self._is_early(source, mutant):
            block = None
        constant = named_by(self.sources, mutant) if block is None else None
        blocks = {block} if block else constant.blocks if constant else None
        tests = [test for test, told in self.known.items() if blocks is None or told.blocks & blocks]
        limit = self.seconds + 3 * sum(self.known[test].seconds for test in tests)
        if blocks is not None:
            status = self.call("tried", mutant.file, mutant.apply(source.bytes), constant, tests, limit)
            if status in ("pass", "fail", "too long"):  # else it is to be imported, or the interpreter fell over
                return str(status)
        self.tree.put(mutant.file, mutant.apply(source.bytes))
        files = {test.split("::")[0] for test in tests}
        packs = {test.partition("rules-of::")[2].split("::")[0] for test in tests if "rules-of::" in test}
        derived = [f"--rules-of={pack}" for pack in sorted(packs)]
        named = {NAMED} if mutant.named else set()
        asked = (*derived, *sorted({file for file in files if file.endswith(".py")} | named))
        status = in_child(lambda: self.tree.pytest(asked, Order(tests)), limit) if asked else 0
        self.tree.put(mutant.file, source.bytes)
        return "pass" if status == 0 else "fail" if isinstance(status, int) else str(status)

    def _is_early(self, source: Source, mutant: Mutant) -> bool:
        """Whether the function in which a change stands was called before any test."""
        file, (first, last) = imported(self.tree.folder, source.name), source.rows_of(mutant)
        return any((file, row) in self.early for row in range(first, last + 1))

    def end(self) -> None:
        """Let the process go."""
        self.calls.send(None)
        self.calls.close()


def _worker(mutants: list[Mutant], limit: float, only: str, more: tuple[str, ...], found: object) -> None:
    """Try mutants, all of one pack or formula after the other, and tell what becomes of each."""
    tree = Tree()
    groups: dict[tuple[str, ...], list[Mutant]] = {}
    for mutant in mutants:
        groups.setdefault((*covering(mutant.file, only), *more), []).append(mutant)
    for asked, group in groups.items():
        own = {tree.folder / mutant.file for mutant in group}
        beside = {file for one in own for file in one.parent.glob("*.py") if one.parent.parent.name == "rules"}
        tests = Tests(tree, asked, [Source(file, tree.folder) for file in sorted(own | beside)], limit)
        for mutant in group:
            status = tests.of(mutant) if tests.known else "no test passes as it is"
            told = {"pass": "survived", "fail": "killed", "too long": "killed, too long"}
            found.put((mutant, told.get(status, f"not tried: {status}")))  # type: ignore[attr-defined]
        tests.end()
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
    parser.add_argument(
        "--with", dest="more", action="append", default=[], help="on this file of tests too, as of a pack that uses it"
    )
    parser.add_argument("--pack", action="append", default=[], help="only this pack of rules, or engineering")
    parser.add_argument("--file", action="append", default=[], help="only files of such names: conduct*.py")
    parser.add_argument("--jobs", type=int, default=1, help="so many at a time")
    parser.add_argument("--seconds", type=float, default=15.0, help="processor time for one, beside that of its tests")
    options = parser.parse_args()
    files = [*sorted((ROOT / "rules").glob("*/*.py")), *sorted((ROOT / "swaplint/engineering").glob("*.py"))]
    if options.pack:
        files = [file for file in files if file.parent.name in options.pack]
    if options.file:
        files = [file for file in files if any(file.match(name) for name in options.file)]
    sources = {source.name: source for source in map(Source, files)}
    mutants = drawn(list(sources.values()), options)
    same = listed(EQUIVALENT)
    alike = [m for m in mutants if m.change(sources[m.file].bytes) in same]
    for mutant in alike:
        mutants.remove(mutant)
    for library in (
        "hypothesis",
        "pydantic",
        "pint",
        "tomli",
        "tomli_w",
        "rich",
        "numpy",
        "fluids",
        "ht",
        "scipy",
        "CoolProp",
    ):
        with contextlib.suppress(ImportError):
            importlib.import_module(library)  # once, and not in every copy
    context, started = get_context("fork"), time.monotonic()
    found = context.Queue()
    count = -(-len(mutants) // options.jobs) or 1
    workers: list[Any] = []
    for job in range(options.jobs):
        part = mutants[job * count : (job + 1) * count]
        workers.append(
            context.Process(target=_worker, args=(part, options.seconds, options.only, tuple(options.more), found))
        )
        workers[-1].start()
    tally: dict[str, int] = {"equivalent": len(alike)}
    for number, _ in enumerate(mutants, 1):
        while not (found_one := _next(found)):
            if not any(worker.is_alive() for worker in workers) and found.empty():
                print("the tests could not be run", file=sys.stderr)
                return 1
        mutant, status = found_one
        tally[status] = tally.get(status, 0) + 1
        if status in ("survived",) or status.startswith("not tried"):
            print(f"{status} {mutant.told(sources[mutant.file].bytes)}", flush=True)
        if number % TOLD_EACH == 0:
            took = time.monotonic() - started
            print(f"{number} of {len(mutants)} tried in {took:.0f} s: {tally}", file=sys.stderr, flush=True)
    print(f"{len(mutants) + len(alike)} mutants in {time.monotonic() - started:.0f} s: {tally}")
    return 0


def _next(found: Any) -> Any:
    with contextlib.suppress(queue.Empty):
        return found.get(timeout=5.0)


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
