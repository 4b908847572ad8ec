"""Chains of unlike specs: what one inspection leaves for the next must change nothing of what is found.

    python tests/bench/chains.py 600 [seed] [--edits] [--cores 2] [--no-files] [--files-only [--shortest]]

Each chain takes an example, the sound spec with the edits of some rule's examples, or a spec made from the model
alone, and goes on to others: parts, sections and items of lists come from another spec, go, change their names, stand
in another order, are not fitted, come back with other values; numbers change; an earlier spec returns, or a wholly
other one follows. With `--edits` each chain is one spec, one random edit of it, and the spec as it was.

Every spec of a chain goes through one `EditedSpec` and must give what it gives afresh: all findings with all their
fields, what to ask next, what broke. Written to files, all specs in one call must give, on one core and on all, byte
for byte the lines that each gives alone. What differs is printed with the seed that repeats it.
"""

from __future__ import annotations

import argparse
import contextlib
import copy
import dataclasses
import functools
import io
import multiprocessing
import random
import re
import shutil
import sys
import tempfile
import time
import tomllib
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import Any

import tomli_w

sys.path.insert(0, str(Path(__file__).parent))  # another process knows nothing of where this one was started

from model_specs import random_spec

from swaplint.cli import inspect as inspect_command
from swaplint.cli import main as swaplint
from swaplint.host.packs import RuleBase, load_rule_base
from swaplint.host.problems import Problem
from swaplint.inspecting.results import Finding, Inspection
from swaplint.kit.edits import edited_data
from swaplint.solving.editing import EditedSpec
from swaplint.solving.whole import inspect_whole
from swaplint.spec.job import STAGES
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.loading import SpecErrors, load_text
from swaplint.spec.toml_source import ParsedFiles

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = ("tarnholt-tender", "skerrivar-van", "day-one-idea")
LENGTHS = (3, 4, 5, 6)
"""How many specs a chain has."""
TRIES = 12
"""How often changes are drawn for a spec that can be read, before the one before stands for it."""
WITH_REMEDIES = 0.05
"""The share of chains in which remedies are looked for, too: they cost ten times the rest."""

Data = dict[str, Any]
Path_ = tuple[Any, ...]


@functools.cache
def installed() -> RuleBase:
    """The installed packs."""
    return load_rule_base()


# -- specs to start from ----------------------------------------------------------------------------------------
@functools.cache
def _example(name: str) -> Data:
    return tomllib.loads((ROOT / f"specs/{name}.toml").read_text(encoding="utf-8"))


def some_spec(dice: random.Random) -> Data:
    """A spec that has nothing to do with another."""
    kind = dice.random()
    if kind < 0.35:
        return copy.deepcopy(_example(dice.choice(EXAMPLES)))
    if kind < 0.55:
        return random_spec(installed().model, dice)
    edits: Data = {path: value for pack in installed().packs for path, value in pack.sound.items()}
    for _ in range(dice.randint(0, 3)):
        _, rule = dice.choice(installed().rules)
        edits.update(dice.choice([*rule.bad, *rule.good]))
    try:
        return edited_data(edits)
    except ValueError:  # the edits of one rule took away what those of another change
        return edited_data({})


def loaded(data: Data, parsed: ParsedFiles | None = None) -> LoadedSpec | None:
    """The data as a spec; None where it cannot be read."""
    try:
        return load_text(tomli_w.dumps(data), folder=ROOT / "specs", model=installed().model, parsed=parsed)
    except SpecErrors:
        return None


# -- changes ----------------------------------------------------------------------------------------------------
def places(node: Any, path: Path_ = ()) -> list[Path_]:
    """Every path in the data, tables and lists included."""
    found = [path] if path else []
    children = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for key, child in children:
        found += places(child, (*path, key))
    return found


def standing(data: Any, path: Path_) -> Any:
    """What stands at a path."""
    for key in path:
        data = data[key]
    return data


def is_table(value: Any) -> bool:
    """Whether something is a section or part, or a table of named parts, rather than a value."""
    return isinstance(value, dict) and "value" not in value


def is_items(value: Any) -> bool:
    """Whether something is a list of items."""
    return isinstance(value, list) and bool(value) and all(isinstance(one, dict) for one in value)


def holds_parts(value: Any) -> bool:
    """Whether something is a table of named parts, or of sections."""
    return is_table(value) and bool(value) and all(is_table(one) for one in value.values())


def graft(data: Data, donor: Data, dice: random.Random) -> None:
    """A part, section, list or item as another spec has it: new, or in the place of this spec's own."""
    found = [path for path in places(donor) if is_table(v := standing(donor, path)) or isinstance(v, list)]
    if not found:
        return
    path = dice.choice(found)
    path = path[: dice.randint(1, len(path))]
    here: Any = data
    for cut, key in enumerate(path[:-1], 1):
        if isinstance(here, dict) and key not in here:
            here[key] = [] if isinstance(standing(donor, path[:cut]), list) else {}
        there = isinstance(here, dict) or (isinstance(here, list) and isinstance(key, int) and key < len(here))
        if not there:
            return
        here = here[key]
    taken = copy.deepcopy(standing(donor, path))
    if isinstance(here, dict) and isinstance(path[-1], str):
        here[path[-1]] = taken
    elif isinstance(here, list) and isinstance(path[-1], int):
        here.insert(dice.randint(0, len(here)), taken)


def drop(data: Data, dice: random.Random) -> None:
    """A value, part, section or item goes; tables more often than there are of them."""
    found = places(data)
    tables = [path for path in found if isinstance(standing(data, path), dict | list)]
    path = dice.choice(tables if tables and dice.random() < 0.6 else found)
    del standing(data, path[:-1])[path[-1]]


def rename(data: Data, dice: random.Random) -> None:
    """A part gets another name, in its place or as the last; sometimes it is there twice then."""
    found = [path for path in places(data) if len(path) > 1 and holds_parts(standing(data, path))]
    if not found:
        return
    parts = standing(data, dice.choice(found))
    old = dice.choice(list(parts))
    new = dice.choice([f"{old}-two", "another", *parts])
    if dice.random() < 0.3:
        parts[new] = copy.deepcopy(parts[old])
        return
    pairs = [(new if name == old else name, part) for name, part in parts.items() if name != new or name == old]
    parts.clear()
    parts.update(pairs)


def reorder(data: Data, dice: random.Random) -> None:
    """Parts or items stand in another order; an item may be there twice then."""
    found = [p for p in places(data) if holds_parts(v := standing(data, p)) or (isinstance(v, list) and v)]
    if not found:
        return
    many = standing(data, dice.choice(found))
    if isinstance(many, list):
        if dice.random() < 0.3:
            many.append(copy.deepcopy(dice.choice(many)))
        dice.shuffle(many)
        return
    pairs = list(many.items())
    dice.shuffle(pairs)
    many.clear()
    many.update(pairs)


def fit(data: Data, dice: random.Random) -> None:
    """A part is stated as not fitted, or as fitted again."""
    found = [path for path in places(data) if is_table(standing(data, path))]
    off = [path for path in found if standing(data, path).get("fitted") is False]
    if off and dice.random() < 0.5:
        part = standing(data, dice.choice(off))
        del part["fitted"]
    elif found:
        standing(data, dice.choice(found))["fitted"] = dice.random() < 0.2


def revalue(data: Data, dice: random.Random) -> None:
    """One value changes: its number, its tolerance and basis, a flag, or only how it is written."""
    found = [path for path in places(data) if not is_table(v := standing(data, path)) and not isinstance(v, list)]
    if not found:
        return
    path = dice.choice(found)
    holder, value = standing(data, path[:-1]), standing(data, path)
    if isinstance(value, dict):
        holder[path[-1]] = value["value"]
    elif isinstance(value, bool):
        holder[path[-1]] = not value
    elif isinstance(value, float):
        holder[path[-1]] = value * dice.choice([0.5, 0.8, 1.1, 2.0])
    elif isinstance(value, int):
        holder[path[-1]] = max(1, value + dice.choice([-1, 1, 3]))
    elif isinstance(value, str) and (number := re.match(r"-?\d+(\.\d+)?(?= )", value)):
        text = f"{float(number.group()) * dice.choice([0.5, 0.9, 1.0, 1.01, 1.3, 4.0]):g}{value[number.end() :]}"
        with_tolerance = {"value": text, "tol": dice.choice(["1 %", "4 %", "30 %"]), "basis": "assumed"}
        holder[path[-1]] = with_tolerance if dice.random() < 0.35 else text


def scale(data: Data, dice: random.Random) -> None:
    """All numbers of one part or section change, as when another one is fitted in its place."""
    found = [path for path in places(data) if is_table(standing(data, path))]
    if not found:
        return
    part = standing(data, dice.choice(found))
    for _ in range(len(places(part))):
        revalue(part, dice)


def stage(data: Data, dice: random.Random) -> None:
    """The job goes on to another stage."""
    if isinstance(data.setdefault("build", {}), dict):
        data["build"]["stage"] = dice.choice(STAGES)


def change(data: Data, dice: random.Random, earlier: Sequence[Data]) -> None:
    """One change. What comes from another spec may come from an earlier one of the chain: it comes back."""
    kind = dice.random()
    if kind < 0.20:
        graft(data, dice.choice(earlier), dice)
    elif kind < 0.30:
        graft(data, some_spec(dice), dice)
    elif kind < 0.99 and data:
        dice.choice([drop, drop, rename, reorder, fit, revalue, revalue, revalue, scale])(data, dice)
    else:
        stage(data, dice)


def following(chain: Sequence[Data], dice: random.Random) -> Data:
    """The spec that comes after those of a chain."""
    kind = dice.random()
    if kind < 0.2:
        data = some_spec(dice)
    elif kind < 0.45:
        data = copy.deepcopy(dice.choice(chain))  # an earlier one returns, mostly with something changed
    else:
        data = copy.deepcopy(chain[-1])
    before = copy.deepcopy(data)
    for _ in range(TRIES):
        for _ in range(dice.choice([0, 1, 1, 2, 3, 6])):
            if data:
                change(data, dice, chain)
        if loaded(data) is not None:
            return data
        data = copy.deepcopy(before)
    return before


def _first(dice: random.Random) -> Data:
    while loaded(data := some_spec(dice)) is None:
        pass
    return data


def chain_of(dice: random.Random, lengths: Sequence[int] = LENGTHS) -> list[Data]:
    """A chain of unlike specs, each of which can be read."""
    chain = [_first(dice)]
    for _ in range(dice.choice(lengths) - 1):
        after = following(chain, dice)
        chain.append(after if loaded(after) is not None else chain[0])
    return chain


def single_edit(dice: random.Random) -> list[Data]:
    """A spec, the same with one edit, and the spec as it was."""
    data = _first(dice)
    while True:
        edited = copy.deepcopy(data)
        if edited:
            change(edited, dice, [data])
        if edited != data and loaded(edited) is not None:
            return [data, edited, data]
        if not data:
            data = _first(dice)


# -- what must be the same --------------------------------------------------------------------------------------
Outcome = tuple[Inspection, list[Problem]]


def unlike(kept: Outcome, afresh: Outcome) -> str:
    """What differs between two inspections of one spec, as a sentence; empty where nothing does."""
    here, there = kept[0], afresh[0]
    for one, other in zip(here.findings, there.findings, strict=False):
        if one != other:
            return f"kept {_told(one, other)}; afresh {_told(other, one)}"
    if len(here.findings) != len(there.findings):
        return f"kept {len(here.findings)} findings, afresh {len(there.findings)}"
    for name in ("stage", "assumed_stage", "ask_next", "broken"):
        if getattr(here, name) != getattr(there, name):
            return f"kept {name} {getattr(here, name)!r:.300}; afresh {getattr(there, name)!r:.300}"
    return "" if kept[1] == afresh[1] else f"kept problems {kept[1]!r:.300}; afresh {afresh[1]!r:.300}"


def _told(one: Finding, other: Finding) -> str:
    names = [field.name for field in dataclasses.fields(Finding)]
    different = {name: getattr(one, name) for name in names if getattr(one, name) != getattr(other, name)}
    different.pop("rule", None)
    return f"{one.rule.id} {one.part} {one.demand}: {different!r:.600}"


def kept_and_afresh(
    chain: Sequence[Data],
    *,
    remedies: bool = False,
    base: RuleBase | None = None,
    found: list[Inspection] | None = None,
) -> Iterator[str]:
    """What differs where a chain goes through one `EditedSpec`, a sentence for each spec that differs.

    It is read with what the reading of the specs before left, too, as an editor reads it. What is found so is added to
    `found`. A spec that comes back as it was must say what it said afresh the first time.
    """
    base = base or installed()
    edited, parsed = EditedSpec(base), ParsedFiles()
    known: dict[str, Outcome] = {}
    for number, data in enumerate(chain, 1):
        again = loaded(data, parsed)
        assert again is not None
        text = repr(data)  # in which the order counts, too
        if text not in known:
            spec = loaded(data)
            assert spec is not None
            known[text] = inspect_whole(base, spec, remedies="all" if remedies else "none")
        kept = edited.inspect(again, remedies=remedies)
        if found is not None:
            found.append(kept[0])
        wrong = unlike(kept, known[text])
        if wrong:
            yield f"spec {number} of {len(chain)}: {wrong}"


def together_and_alone(chain: Sequence[Data], folder: Path, *, remedies: bool = False) -> Iterator[str]:
    """What differs where the specs of a chain stand in files and are inspected in one call, and each in its own."""
    if not (folder / "sheets").exists():
        shutil.copytree(ROOT / "specs/sheets", folder / "sheets")
    names = []
    for number, data in enumerate(chain, 1):
        path = folder / f"{number}.toml"
        path.write_text(tomli_w.dumps(data), encoding="utf-8")
        names.append(str(path))
    more = [] if remedies else ["--no-remedies"]
    alone = [lines_of([name, *more])[:-1] for name in names]
    for cores in ("1", "2"):
        *lines, _ = lines_of([*names, "--cores", cores, *more])
        for number, (line, own) in enumerate(zip(lines, alone, strict=False), 1):
            if [line] != own:
                yield f"spec {number} of {len(chain)} has another line on {cores} cores than alone"
        if len(lines) != len(chain):
            yield f"{len(lines)} lines for {len(chain)} specs on {cores} cores"


def lines_of(call: Sequence[str]) -> list[str]:
    """The lines that `inspect` writes in one call, with its own standing for `problems` last."""
    out = io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(io.StringIO()):
        status = swaplint(["inspect", *call, "--format", "jsonl", "--whole"])
    if status not in (0, 1):
        raise AssertionError(f"exit status {status} from {call}: {out.getvalue()[-300:]}")
    return out.getvalue().splitlines()


# -- the command ------------------------------------------------------------------------------------------------
def packs_once() -> None:
    """Let the command take the installed packs as they are, which saves loading them for each call."""
    inspect_command.rule_base = lambda packs: installed()  # type: ignore[attr-defined]


def one_case(
    seed: int, *, edits: bool = False, kept: bool = True, files: bool = True, lengths: Sequence[int] = LENGTHS
) -> list[str]:
    """Go through one chain. Returns what differs."""
    dice = random.Random(seed)
    chain = single_edit(dice) if edits else chain_of(dice, lengths)
    remedies = dice.random() < WITH_REMEDIES
    try:
        wrong = list(kept_and_afresh(chain, remedies=remedies)) if kept else []
        if files:
            packs_once()
            with tempfile.TemporaryDirectory() as name:
                wrong += together_and_alone(chain, Path(name), remedies=remedies)
    except Exception as error:
        wrong = [f"{type(error).__name__}: {error}"]
    return [f"seed {seed}: {one}" for one in wrong]


def main() -> int:
    """Run the chains."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("chains", type=int, metavar="N", help="how many chains")
    parser.add_argument("seed", type=int, nargs="?", default=1, help="the seed of the first one (default: 1)")
    parser.add_argument("--edits", action="store_true", help="single edits instead of chains")
    parser.add_argument("--no-files", action="store_true", help="through `EditedSpec` only, not through files")
    parser.add_argument("--files-only", action="store_true", help="through files only, not through `EditedSpec`")
    parser.add_argument("--shortest", action="store_true", help="three specs a chain: what one leaves for the third")
    parser.add_argument("--cores", type=int, default=2, help="how many chains side by side (default: 2)")
    options = parser.parse_args()
    started, bad = time.perf_counter(), 0
    case = functools.partial(
        one_case,
        edits=options.edits,
        kept=not options.files_only,
        files=not options.no_files,
        lengths=LENGTHS[:1] if options.shortest else LENGTHS,
    )
    seeds = range(options.seed, options.seed + options.chains)
    # Workers of an executor may start others, as the command on all cores does.
    with ProcessPoolExecutor(options.cores, mp_context=multiprocessing.get_context("spawn")) as pool:
        for number, wrong in enumerate(pool.map(case, seeds, chunksize=4), 1):
            bad += bool(wrong)
            for one in wrong:
                print(one, flush=True)
            if number % 50 == 0:
                told = f"{number} chains, {bad} differ, {time.perf_counter() - started:.0f} s"
                print(told, file=sys.stderr, flush=True)
    print(f"{options.chains} chains, {bad} differ, {time.perf_counter() - started:.0f} s")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
