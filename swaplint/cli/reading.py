"""Reading what a call names: rule packs, specs, folders of data sheets."""

from __future__ import annotations

import datetime
import os
from collections.abc import Sequence
from pathlib import Path

from swaplint.cli.output import tell
from swaplint.host.packs import RuleBase, load_rule_base, section_name
from swaplint.host.problems import Problem
from swaplint.host.signs import SIGNS
from swaplint.host.streams import input_stream
from swaplint.reports.values import units_for
from swaplint.spec.files_read import FILES_READ
from swaplint.spec.judged import judge_on
from swaplint.spec.loaded import LoadedSpec, SpecErrors
from swaplint.spec.loading import load_spec
from swaplint.spec.renamed import STDIN_LABEL, notices, todays
from swaplint.spec.toml_source import MAX_BYTES, SpecError, bytes_of, read_bytes
from swaplint.units.showing import SHOWING

MOST_LISTED = 10
"""How many specs a sentence about a folder names."""


def rule_base(pack_files: list[str]) -> RuleBase:
    """Load the installed packs and those in the files named. A name that is no Python file is a fault of the call.

    Such names are taken out of `pack_files`.
    """
    FILES_READ.note_all(pack_files)
    wrong = {name: why for name in pack_files if (why := _no_pack_file(name))}
    pack_files[:] = [name for name in pack_files if name not in wrong]
    base = load_rule_base(pack_files)
    base.problems.extend(Problem(why, "input", file=name) for name, why in wrong.items())
    base.unread.update({section_name(Path(name).stem) for name in wrong} - set(base.model.model_fields))
    return base


def _no_pack_file(name: str) -> str:
    """Why a file cannot be a rule pack, as the rest of a sentence; empty where it may be one."""
    if not name:
        return "the name of a rule pack's file is empty"
    if os.path.isdir(name):
        return "is a folder; a rule pack is named by its Python file"
    if not os.path.exists(name):
        return "there is no such file; it was named as a rule pack"
    return "" if name.endswith(".py") else "is not a Python file; it was named as a rule pack"


def show_units_of(spec: LoadedSpec) -> None:
    """Show numbers in the units that the one spec of a call asks for, where the call asks for none."""
    SHOWING.system = units_for(spec)  # until the call ends, see `swaplint.cli.program`


def load_the_spec(path: str, sheet_folders: Sequence[str], base: RuleBase) -> tuple[LoadedSpec | None, list[Problem]]:
    """Load the one spec that a call names; what cannot be read becomes a problem."""
    folders, problems = sheet_folders_of(sheet_folders)
    named, wrong = the_spec_named(path, base)
    problems += wrong
    if named is None:
        return None, problems
    spec, wrong = load_one(named, folders, base)
    if spec is not None:
        judge_on(spec, datetime.date.today().isoformat())
        show_units_of(spec)
        for notice in notices(spec.files()):
            tell(notice)
    return spec, [*problems, *wrong]


def the_spec_named(path: str, base: RuleBase) -> tuple[str | None, list[Problem]]:
    """The one spec that a call names, by itself or by its folder; and what is wrong with the call."""
    named, problems = specs_named([path], base)
    if len(named) > 1:
        listed = ", ".join(Path(name).name for name in named[:MOST_LISTED])
        more = f" and {len(named) - MOST_LISTED} more" if len(named) > MOST_LISTED else ""
        problems.append(Problem(f"holds several build specs, name one of them: {listed}{more}", "input", file=path))
    return named[0] if len(named) == 1 else None, problems


def specs_named(paths: Sequence[str], base: RuleBase) -> tuple[list[str], list[Problem]]:
    """The specs that a call names, a folder standing for those directly in it; and what is wrong with others."""
    named: list[str] = []
    problems: list[Problem] = []
    for path in paths:
        if not path:
            problems.append(Problem("the name of a build spec is empty", "input"))
            continue
        if path == "-" or not os.path.isdir(path):
            if path != "-":
                FILES_READ.note(path)
            named.append(path)
            continue
        try:
            inside = _specs_in(path, base)
        except OSError as error:
            problems.append(Problem(f"cannot be read: {error.strerror or error}", "input", file=path))
            continue
        if not inside:
            problems.append(Problem("is a folder without a build spec in it", "input", file=path))
        named += inside
    return named, problems


def _specs_in(folder: str, base: RuleBase) -> list[str]:
    """The build specs directly in a folder, by name. What cannot be read may be one, and is left to be told."""
    from swaplint.spec.sheet_files import What, plainly_a_spec, what_it_is

    found = []
    for name in sorted(os.listdir(folder)):
        path = Path(folder, name).as_posix()
        if name.startswith(".") or not name.lower().endswith(".toml") or os.path.isdir(path):
            continue
        try:
            what: What = "spec"
            raw = bytes_of(Path(path), path)
            if not plainly_a_spec(raw):
                what = what_it_is(todays(read_bytes(raw, path), base.model).data, base.model)
        except SpecError:
            what = "spec"
        if what == "spec":
            found.append(path)
        elif what == "other":
            tell(f"{path} has nothing of a build spec in it, and is passed over.")
    return found


def sheet_folders_of(names: Sequence[str]) -> tuple[list[Path], list[Problem]]:
    """The folders named for data sheets, and what is wrong with the others."""
    there = {name: bool(name) and os.path.isdir(name) for name in names}
    wrong = [name for name in names if not there[name]]
    problems = [
        Problem(f"there is no folder {name or repr(name)} for data sheets", "input", file=name) for name in wrong
    ]
    return [Path(name) for name in names if there[name]], problems


def load_one(
    path: str, folders: Sequence[Path], base: RuleBase, stdin: bytes | None = None
) -> tuple[LoadedSpec | None, list[Problem]]:
    """Load one spec, from nothing but its own files; what cannot be read becomes a problem."""
    if path == "-" and stdin is None:
        stdin = read_stdin()
    try:
        spec = load_spec(path, sheet_folders=folders, model=base.model, stdin=stdin, unread=base.unread)
    except SpecErrors as errors:
        return None, [load_error(error, _meant(error, path, stdin)) for error in errors.errors]
    return spec, []


def load_error(error: SpecError, meant: str = "") -> Problem:
    """Why a file cannot be read, as a problem of the call."""
    what = error.what + meant
    return Problem(what, "input", None, None, error.file, error.line or None, error.column or None)


def _meant(error: SpecError, path: str, stdin: bytes | None) -> str:
    """What the line of a spec that is no TOML should say; empty where that cannot be told."""
    if not error.what.startswith("is not valid TOML") or error.file != (STDIN_LABEL if path == "-" else path):
        return ""
    # Imported here: only a mistake needs it.
    from swaplint.spec.hints import value_meant

    try:
        raw = stdin if stdin is not None and path == "-" else Path(path).read_bytes()[:MAX_BYTES]
    except OSError:
        return ""
    lines = raw.decode("utf-8", "replace").split("\n")
    return value_meant(lines[error.line - 1]) if 0 < error.line <= len(lines) else ""


def read_stdin() -> bytes:
    """What stands on standard input, as far as a spec may go."""
    SIGNS.waits()
    stream = input_stream()
    return stream.buffer.read(MAX_BYTES + 1) if stream is not None else b""
