"""Benchmark: cold and warm inspections against a schema-only validator of the same file.

    python tests/bench/benchmark.py [--runs 15] [--spec specs/tarnholt-tender.toml]

Prints the median wall time of cold runs of `swaplint inspect` for each format, of `check-jsonschema --schemafile` with
our own schema on the same file, and their ratio; the peak memory; warm inspections per second in one process; and the
rate for many specs. Not a test: a machine's speed is not a property of the program.
"""

from __future__ import annotations

import argparse
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
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


def warm(spec: str, seconds: float = 3.0) -> tuple[float, float]:
    """Milliseconds for a warm inspection: reading and rules as stated, and with tolerances and remedies."""
    from swaplint.host.packs import load_rule_base
    from swaplint.inspection import inspect
    from swaplint.solving.whole import inspect_whole
    from swaplint.spec.loading import load_spec

    base = load_rule_base()
    out = []
    for run in (inspect, inspect_whole):
        run(base, load_spec(spec, model=base.model))
        started, count = time.perf_counter(), 0
        while time.perf_counter() - started < seconds:
            run(base, load_spec(spec, model=base.model))
            count += 1
        out.append((time.perf_counter() - started) / count * 1000)
    return out[0], out[1]


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
    stated, whole = warm(options.spec)
    print(f"warm, rules as stated    {stated:8.1f} ms   {1000 / stated:6.0f} a second on one core")
    print(f"warm, with tolerances and remedies {whole:8.1f} ms")
    print(f"this process at its peak {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.1f} MiB")


if __name__ == "__main__":
    main()
