"""What several commands share: reading specs, saying what went wrong, writing output whole or not at all."""

from __future__ import annotations

import contextlib
import os
import sys
import tempfile
from collections.abc import Iterable, Sequence
from pathlib import Path

from swaplint.host.packs import RuleBase
from swaplint.host.problems import Problem
from swaplint.spec.loading import LoadedSpec, SpecErrors, load_spec

MOST_ERRORS_SHOWN = 30


def load_specs(
    paths: Sequence[str], sheet_folders: Sequence[str], base: RuleBase
) -> tuple[list[LoadedSpec], list[Problem]]:
    """Load specs in the order given; what cannot be read becomes a problem."""
    problems: list[Problem] = []
    folders = []
    for name in sheet_folders:
        if Path(name).is_dir():
            folders.append(Path(name))
        else:
            problems.append(Problem(f"there is no folder {name} for data sheets", "input", file=name))
    specs = []
    stdin: bytes | None = None
    for path in paths:
        if path == "-" and stdin is None:
            stdin = sys.stdin.buffer.read(3_000_000)
        try:
            specs.append(load_spec(path, sheet_folders=folders, model=base.model, stdin=stdin))
        except SpecErrors as errors:
            problems.extend(
                Problem(error.what, "input", None, None, error.file, error.line, error.column)
                for error in errors.errors
            )
    return specs, problems


def say(problems: Iterable[Problem]) -> None:
    """Say on standard error what could not be read, loaded or run."""
    shown = list(problems)
    for problem in shown[:MOST_ERRORS_SHOWN]:
        sys.stderr.write(problem_sentence(problem) + "\n")
    if len(shown) > MOST_ERRORS_SHOWN:
        sys.stderr.write(f"and {len(shown) - MOST_ERRORS_SHOWN} more\n")


def problem_sentence(problem: Problem) -> str:
    """A problem as one sentence with its place."""
    where = ""
    if problem.file:
        where = problem.file + (f", line {problem.line}" if problem.line else "")
        where += f", column {problem.column}" if problem.column else ""
    who = " ".join(
        piece
        for piece in (
            f"pack {problem.pack}" if problem.pack else "",
            f"rule {problem.rule}" if problem.rule else "",
        )
        if piece
    )
    head = ": ".join(piece for piece in (who, where) if piece)
    what = "".join(c if c.isprintable() else "�" for c in problem.what)
    text = f"{head}: {what}" if head else what
    return text if text.endswith((".", "?")) else text + "."


def write_out(text: str, output: str | None) -> Problem | None:
    """Write text to standard output, or to a file whole or not at all."""
    if output is None:
        sys.stdout.write(text)
        return None
    target = Path(output)
    try:
        handle, temporary = tempfile.mkstemp(dir=target.parent or Path(), prefix=f".{target.name}.")
        try:
            with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as stream:
                stream.write(text)
            # mkstemp makes the file private; a report gets the permissions that any new file would.
            mask = os.umask(0)
            os.umask(mask)
            os.chmod(temporary, 0o666 & ~mask)
            os.replace(temporary, target)
        except BaseException:
            with contextlib.suppress(OSError):
                os.unlink(temporary)
            raise
    except OSError as error:
        return Problem(f"cannot be written: {error.strerror or error}", "input", file=output)
    return None
