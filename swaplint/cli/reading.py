"""Reading what a call names: rule packs, specs, folders of data sheets."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from pathlib import Path

from swaplint.host.packs import RuleBase, load_rule_base, section_name
from swaplint.host.problems import Problem
from swaplint.spec.loaded import LoadedSpec, SpecErrors
from swaplint.spec.loading import load_spec
from swaplint.spec.toml_source import MAX_BYTES
from swaplint.units.showing import SHOWING, UNIT_SYSTEMS


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


def show_units_of(spec: LoadedSpec) -> None:
    """Show numbers in the units that the one spec of a call asks for, where the call asks for none."""
    asked = spec.stated("build.units")
    if SHOWING.system is None and asked is not None and asked.value in UNIT_SYSTEMS:
        SHOWING.system = asked.value  # until the call ends, see `swaplint.cli.program`


def load_specs(
    paths: Sequence[str], sheet_folders: Sequence[str], base: RuleBase
) -> tuple[list[LoadedSpec], list[Problem]]:
    """Load specs in the order given; what cannot be read becomes a problem."""
    folders, problems = sheet_folders_of(sheet_folders)
    specs: list[LoadedSpec] = []
    for spec, wrong in (load_one(path, folders, base) for path in paths):
        specs += [spec] if spec is not None else []
        problems += wrong
    if len(paths) == 1 and specs:
        show_units_of(specs[0])
    return specs, problems


def sheet_folders_of(names: Sequence[str]) -> tuple[list[Path], list[Problem]]:
    """The folders named for data sheets, and what is wrong with the others."""
    there = {name: Path(name).is_dir() for name in names}
    wrong = [name for name in names if not there[name]]
    problems = [Problem(f"there is no folder {name} for data sheets", "input", file=name) for name in wrong]
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
        return None, [
            Problem(error.what, "input", None, None, error.file, error.line or None, error.column or None)
            for error in errors.errors
        ]
    return spec, []


def read_stdin() -> bytes:
    """What stands on standard input, as far as a spec may go."""
    return sys.stdin.buffer.read(MAX_BYTES + 1) if sys.stdin is not None else b""
