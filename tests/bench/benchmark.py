"""Benchmark: cold and warm inspections against a schema-only validator of the same file.

    python tests/bench/benchmark.py [--runs 15] [--spec specs/tarnholt-tender.toml]

Prints the median wall time of cold runs of `swaplint inspect` for each format, of `check-jsonschema --schemafile` with
our own schema on the same file, and their ratio; the peak memory; what one more inspection in the same process costs,
afresh and after an edit of one value; and what a hundred specs in one call take, with the peak memory of the processes.
Not a test: a machine's speed is not a property of the program.
"""

from __future__ import annotations

import argparse
import functools
import itertools
import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

BIN = Path(sys.executable).parent


def cold(command: list[str], runs: int) -> tuple[float, float]:
    """Median wall time in seconds, and peak memory in MiB, of a command started afresh."""
    times = []
    for _ in range(runs + 2):
        started = time.perf_counter()
        done = subprocess.run(command, capture_output=True, check=False)
        times.append(time.perf_counter() - started)
        if done.returncode not in (0, 1):
            raise SystemExit(f"{' '.join(command)} ended with {done.returncode}: {done.stderr.decode()[:500]}")
    script = (
        "import resource,subprocess,sys;subprocess.run(sys.argv[1:],capture_output=True);"
        "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)"
    )
    peak = subprocess.run([sys.executable, "-c", script, *command], capture_output=True, check=True, text=True)
    return statistics.median(times[2:]), int(peak.stdout) / 1024


def warm(spec: str) -> dict[str, list[float]]:
    """Milliseconds of inspections in a process that has made some, reading included: afresh, and after an edit."""
    from swaplint.host.packs import load_rule_base
    from swaplint.inspecting.inspection import inspect
    from swaplint.solving.editing import EditedSpec
    from swaplint.solving.whole import inspect_whole
    from swaplint.spec.loading import load_spec
    from swaplint.spec.toml_source import ParsedFiles

    base = load_rule_base()
    runs: dict[str, Callable[..., object]] = {
        "afresh, rules as stated": inspect,
        "afresh, with tolerances": functools.partial(inspect_whole, remedies="none"),
        "afresh, with tolerances and remedies": inspect_whole,
    }
    out = {}
    for name, run in runs.items():
        run(base, load_spec(spec, model=base.model))
        out[name] = _milliseconds(lambda: run(base, load_spec(spec, model=base.model)))  # noqa: B023
    with tempfile.TemporaryDirectory() as folder:
        variants = _with_one_value_changed(Path(spec), Path(folder), and_back=True)
        edited, parsed = EditedSpec(base), ParsedFiles()

        def next_one() -> None:
            edited.inspect(load_spec(str(next(variants)), model=base.model, parsed=parsed))

        next_one()
        out["after an edit of one value, with tolerances"] = _milliseconds(next_one, 10.0)
    return out


def many(spec: str, number: int) -> tuple[float, float]:
    """Seconds that so many specs in one call take, and the peak memory of the greatest process in MiB."""
    with tempfile.TemporaryDirectory() as folder:
        variants = _with_one_value_changed(Path(spec), Path(folder))
        named = []
        for n in range(number):
            copy = next(variants).with_name(f"variant-{n:03}.toml")
            copy.write_bytes(copy.with_name(Path(spec).name).read_bytes())
            named.append(str(copy))
        return cold([str(BIN / "swaplint"), "inspect", *named, "--format", "jsonl"], 1)


def _milliseconds(run: Callable[[], object], seconds: float = 3.0) -> list[float]:
    """What each of many calls takes, the shortest first."""
    end, took = time.perf_counter() + seconds, []
    while time.perf_counter() < end:
        started = time.perf_counter()
        run()
        took.append((time.perf_counter() - started) * 1000)
    return sorted(took)


def _with_one_value_changed(spec: Path, folder: Path, *, and_back: bool = False) -> Iterator[Path]:
    """The spec again and again, each time written with another of its measures one per cent greater.

    With `and_back` it is written as it was in between, so that each differs from the one before in one value alone.
    """
    shutil.copytree(spec.parent, folder / "specs")
    text, copied = spec.read_text(encoding="utf-8"), folder / "specs" / spec.name
    for match in itertools.cycle(re.finditer(r'(?<== ")[0-9]+(\.[0-9]+)?(?= )', text)):
        changed = f"{float(match.group()) * 1.01:.6g}"
        copied.write_text(text[: match.start()] + changed + text[match.end() :], encoding="utf-8")
        yield copied
        if and_back:
            copied.write_text(text, encoding="utf-8")
            yield copied


def main() -> None:
    """Run the benchmark and print it."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--runs", type=int, default=15)
    parser.add_argument("--spec", default="specs/tarnholt-tender.toml")
    parser.add_argument("--many", type=int, default=100, help="how many specs in one call")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        schema = os.path.join(folder, "schema.json")
        subprocess.run([BIN / "swaplint", "schema", "--output", schema], check=True)
        validator = [str(BIN / "check-jsonschema"), "--schemafile", schema, options.spec]
        reference, memory = cold(validator, options.runs)
        print(f"schema-only validator    {reference * 1000:8.1f} ms   1.00   {memory:6.1f} MiB")
        for shape in ("text", "json", "sarif"):
            command = [str(BIN / "swaplint"), "inspect", options.spec, "--format", shape]
            seconds, memory = cold(command, options.runs)
            print(
                f"swaplint inspect {shape:6}  {seconds * 1000:8.1f} ms   {seconds / reference:4.2f}   {memory:6.1f} MiB"
            )
        command = [str(BIN / "swaplint"), "inspect", options.spec, "--no-remedies"]
        seconds, memory = cold(command, options.runs)
        print(f"  without remedies       {seconds * 1000:8.1f} ms   {seconds / reference:4.2f}   {memory:6.1f} MiB")
    for name, took in warm(options.spec).items():
        middle, most = took[len(took) // 2], took[len(took) * 95 // 100]
        ratio = middle / 1000 / reference
        print(f"warm, {name:46} {middle:8.1f} ms in the middle, {most:8.1f} ms for 95 of 100   {ratio:5.3f}")
    seconds, memory = many(options.spec, options.many)
    print(f"{options.many} specs as jsonl: {seconds:.1f} s, {options.many / seconds:.1f} a second, {memory:.1f} MiB")


if __name__ == "__main__":
    main()
