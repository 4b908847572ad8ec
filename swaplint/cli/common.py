"""What several commands share: reading specs, saying what went wrong, writing output whole or not at all."""

from __future__ import annotations

import contextlib
import os
import stat
import sys
import tempfile
from collections.abc import Iterable, Sequence
from pathlib import Path

from swaplint.cli.program import BROKEN, OK, UNREADABLE
from swaplint.host.packs import RuleBase, load_rule_base, section_name
from swaplint.host.problems import Problem
from swaplint.reports.layout import safe
from swaplint.spec.loading import LoadedSpec, SpecErrors, load_spec
from swaplint.spec.toml_source import MAX_BYTES, ParsedFiles

MOST_ERRORS_SHOWN = 30


def rule_base(pack_files: list[str]) -> RuleBase:
    """Load the installed packs and those in the files named. A name that is no Python file is a fault of the call.

    Such names are taken out of `pack_files`.
    """
    wrong = {name: why for name in pack_files if (why := _no_pack_file(name))}
    pack_files[:] = [name for name in pack_files if name not in wrong]
    base = load_rule_base(pack_files)
    base.problems.extend(Problem(why, "input", file=name) for name, why in wrong.items())
    base.unread.update({section_name(Path(name).stem) for name in wrong} - set(base.model.model_fields))
    return base


def _no_pack_file(name: str) -> str:
    """Why a file cannot be a rule pack, as the rest of a sentence; empty where it may be one."""
    if os.path.isdir(name):
        return "is a folder; a rule pack is named by its Python file"
    if not os.path.exists(name):
        return "there is no such file; it was named as a rule pack"
    return "" if name.endswith(".py") else "is not a Python file; it was named as a rule pack"


def status_of(problems: Iterable[Problem]) -> int:
    """The exit status that problems ask for: whatever could not be read goes before what broke."""
    abouts = {problem.about for problem in problems}
    return UNREADABLE if "input" in abouts else BROKEN if abouts else OK


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
    parsed = ParsedFiles()
    stdin: bytes | None = None
    for path in paths:
        if path == "-" and stdin is None:
            stdin = sys.stdin.buffer.read(MAX_BYTES + 1) if sys.stdin is not None else b""
        try:
            specs.append(
                load_spec(
                    path, sheet_folders=folders, model=base.model, stdin=stdin, unread=base.unread, parsed=parsed
                ),
            )
        except SpecErrors as errors:
            problems.extend(
                Problem(error.what, "input", None, None, error.file, error.line or None, error.column or None)
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
    return as_sentence(safe(f"{head}: {problem.what}" if head else problem.what))


def refuse(command: str, what: object) -> int:
    """Say on standard error why a command cannot do what it was called for. Returns the exit status for that."""
    sys.stderr.write(f"swaplint {command}: {as_sentence(safe(str(what)))}\n")
    return UNREADABLE


def as_sentence(text: str) -> str:
    """A text with a full stop, unless it ends a sentence already."""
    return text if text.endswith((".", "?")) else text + "."


def write_out(text: str, output: str | None) -> Problem | None:
    """Write text to standard output, or to a file whole or not at all."""
    if output is None:
        sys.stdout.write(text)
        return None
    try:
        if os.path.exists(output) and not os.path.isfile(output) and not os.path.isdir(output):
            with open(output, "w", encoding="utf-8", newline="\n") as stream:  # a device or pipe is not replaced
                stream.write(text)
            return None
        target = Path(os.path.realpath(output))
        handle, temporary = tempfile.mkstemp(dir=target.parent or Path(), prefix=f".{target.name}.")
        try:
            with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as stream:
                stream.write(text)
            os.chmod(temporary, _mode_for(target))
            os.replace(temporary, target)
        except BaseException:
            with contextlib.suppress(OSError):
                os.unlink(temporary)
            raise
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        return Problem(f"cannot be written: {reason}", "input", file=output)
    return None


def _mode_for(target: Path) -> int:
    """The permissions of a report: those of the file that it replaces, or those that any new file would get."""
    if target.exists():
        return stat.S_IMODE(target.stat().st_mode)
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def overwrites(output: str | None, specs: Iterable[str], loaded: Iterable[LoadedSpec]) -> Problem | None:
    """A problem where the output file would take the place of a spec or data sheet that was read."""
    if output is None or not os.path.exists(output):
        return None
    for name in (*specs, *(label for spec in loaded for label in spec.sheets)):
        if os.path.exists(name) and os.path.samefile(name, output):
            same = "one of the files read" if name == output else f"the same file as {name}"
            return Problem(f"is {same}; the report must go to another file", "input", file=output)
    return None


def hush() -> None:
    """Send the rest of standard output nowhere: whoever read it has had enough, or it cannot be written."""
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
