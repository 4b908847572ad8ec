"""Benchmark: cold and warm inspections against a schema-only validator of the same file.

    python tests/bench/benchmark.py [--runs 15] [--spec specs/tarnholt-tender.toml]

Prints the median wall time of cold runs of `swaplint inspect` for each format, of `check-jsonschema --schemafile` with
our own schema on the same file, and their ratio; the peak memory; and what one more inspection in the same process
costs, with nothing kept from the one before and with a memory of it. Not a test: a machine's speed is not a property of
the program.
"""

from __future__ import annotations

import argparse
import functools
import itertools
import os
import re
import resource
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


def warm(spec: str) -> dict[str, float]:
    """Milliseconds for one more inspection in a process that has made some, reading included."""
    from swaplint.inspecting.memory import Memory

    from swaplint.host.packs import load_rule_base
    from swaplint.inspecting.inspection import inspect
    from swaplint.solving.whole import inspect_whole
    from swaplint.spec.loading import load_spec
    from swaplint.spec.toml_source import ParsedFiles

    base = load_rule_base()
    out = {}
    runs: dict[str, Callable[..., object]] = {
        "rules as stated": inspect,
        "with tolerances": functools.partial(inspect_whole, remedies=False),
        "with tolerances and remedies": inspect_whole,
    }
    for name, run in runs.items():
        run(base, load_spec(spec, model=base.model))
        out[f"{name}, nothing kept"] = _milliseconds(lambda: run(base, load_spec(spec, model=base.model)))  # noqa: B023
    with tempfile.TemporaryDirectory() as folder:
        variants = _with_one_value_changed(Path(spec), Path(folder))
        for name, run in list(runs.items())[:2]:
            memory, parsed = Memory(), ParsedFiles()

            def next_one() -> None:
                named = load_spec(str(next(variants)), model=base.model, parsed=parsed)  # noqa: B023
                run(base, named, memory=memory)  # noqa: B023

            next_one()
            out[f"{name}, another value changed each time"] = _milliseconds(next_one)
    return out


def _milliseconds(run: Callable[[], object], seconds: float = 3.0) -> float:
    """The mean of what a call takes."""
    started, count = time.perf_counter(), 0
    while time.perf_counter() - started < seconds:
        run()
        count += 1
    return (time.perf_counter() - started) / count * 1000


def _with_one_value_changed(spec: Path, folder: Path) -> Iterator[Path]:
    """The spec again and again, each time written with another of its measures one per cent greater."""
    shutil.copytree(spec.parent, folder / "specs")
    text, copied = spec.read_text(encoding="utf-8"), folder / "specs" / spec.name
    for match in itertools.cycle(re.finditer(r'(?<== ")[0-9]+(\.[0-9]+)?(?= )', text)):
        changed = f"{float(match.group()) * 1.01:.6g}"
        copied.write_text(text[: match.start()] + changed + text[match.end() :], encoding="utf-8")
        yield copied


def main() -> None:
    """Run the benchmark and print it."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--runs", type=int, default=15)
    parser.add_argument("--spec", default="specs/tarnholt-tender.toml")
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
    for name, milliseconds in warm(options.spec).items():
        ratio = milliseconds / 1000 / reference
        print(
            f"warm, {name:46} {milliseconds:8.1f} ms   {ratio:5.3f}   {1000 / milliseconds:4.0f} a second on one core"
        )
    print(f"this process at its peak {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.1f} MiB")


if __name__ == "__main__":
    main()
