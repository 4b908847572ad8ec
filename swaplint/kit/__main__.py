"""`python -m swaplint.kit`: start a new rule pack, or a new rule in one; turn a DBC file into fields of a spec.

python -m swaplint.kit pack acme            makes the folder acme-rules with a pack that installs and passes
python -m swaplint.kit rule acme-rules/acme_rules.py fuel.cap-vent     adds a rule to a pack's file
python -m swaplint.kit dbc vehicle.dbc --engine ENGINE                 prints the devices and messages of a bus as TOML
"""

from __future__ import annotations

import argparse
import ast
import re
import sys
from pathlib import Path

from swaplint.declare.quantities import ID
from swaplint.spec.systems import SYSTEMS

_PROJECT = """[build-system]
requires = ["setuptools>=77"]
build-backend = "setuptools.build_meta"

[project]
name = "{pack}-rules"
version = "0.1.0"
description = "Rules of {pack} for swaplint"
requires-python = ">=3.11"
dependencies = ["swaplint"]

[project.entry-points.swaplint]
{pack} = "{module}"

[tool.setuptools]
py-modules = ["{module}"]

[tool.pytest.ini_options]
swaplint_packs = ["{pack}"]
"""

_PACK = '''"""The rule pack {pack}."""

from swaplint.api import INTERFACE, Pack, hookimpl, quantities_in, rules_in


@hookimpl
def swaplint_pack() -> Pack:
    """Give the host this pack: every rule and quantity that is declared here."""
    return Pack("{pack}", interface=INTERFACE, rules=rules_in(__name__), quantities=quantities_in(__name__))
'''

_RULE = '''

{name}_SOURCE = practice("say here where your numbers come from; cite a document where there is one")
{name}_LIMIT = 2.0
"""Widest step that drivers put up with: common practice. A rule states where each of its numbers comes from."""


@quantity("{id}", formula="first ratio / second ratio", sources=[{name}_SOURCE.giving("formula")])
def {function}_number(build: Build) -> float:
    """Step from first to second gear."""
    ratios = build.driveline.gearbox.ratios
    return ratios[0] / ratios[1]


@rule(
    "{id}",
    level="note",
    due="plan",
    sources=[{name}_SOURCE.giving("limit", "a step of at most 2.0")],
    about="driveline.gearbox.ratios",
    bad=[{{"driveline.gearbox.ratios": [5.0, 2.4, 1.6, 1.15, 0.9]}}],
    good=[{{"driveline.gearbox.ratios": [4.4, 2.6, 1.6, 1.15, 0.9]}}],
)
def {function}(build: Build) -> Verdict:
    """Is the step from first to second gear narrow enough?

    Computes: the ratio of first gear over the ratio of second gear.
    Limit: 2.0, common practice.
    Consequence: The engine falls out of its pull at the change to second: the vehicle bogs down on climbs.
    Remedy: a gearbox with a closer second gear.
    Cannot tell: how the driver likes it.
    """
    step = {function}_number(build)
    return at_most(step, {name}_LIMIT, f"First to second gear is a step of {{shown(step)}}.")
'''
_NEEDS = ("Build", "Verdict", "at_most", "practice", "quantity", "rule", "shown")
"""What such a rule imports from `swaplint.api`."""


def new_pack(pack: str, folder: Path) -> Path:
    """Write a new pack with one rule. Returns its folder. Raises `ValueError` with a sentence."""
    if not re.fullmatch(r"[a-z][a-z0-9-]{0,40}", pack):
        raise ValueError(f"'{pack}' is not a name for a pack: lower-case letters, digits and hyphens, like acme")
    root = folder / f"{pack}-rules"
    if root.exists():
        raise ValueError(f"{root} is there already")
    module = f"{pack.replace('-', '_')}_rules"
    root.mkdir(parents=True)
    (root / "pyproject.toml").write_text(_PROJECT.format(pack=pack, module=module), encoding="utf-8")
    (root / f"{module}.py").write_text(_PACK.format(pack=pack), encoding="utf-8")
    add_rule(root / f"{module}.py", f"gearing.{pack}-first-step")
    return root


def add_rule(file: Path, id: str) -> None:
    """Add a rule and its quantity to a pack's file. Raises `ValueError` with a sentence."""
    if not ID.fullmatch(id) or id.split(".")[0] not in SYSTEMS:
        raise ValueError(f"'{id}' is not a rule id: a system ({', '.join(SYSTEMS)}), a dot and a short name")
    if not file.is_file():
        raise ValueError(f"there is no file {file}")
    text = file.read_text(encoding="utf-8")
    function = id.split(".")[1].replace("-", "_")
    try:
        taken = _names_in(text)
    except SyntaxError as error:
        raise ValueError(f"{file}, line {error.lineno}: is not valid Python: {error.msg}") from None
    if f'"{id}"' in text:
        raise ValueError(f"{file} has a rule {id} already")
    made = (function, f"{function}_number", f"{function.upper()}_SOURCE", f"{function.upper()}_LIMIT")
    clash = next((name for name in made if name in taken), None)
    if clash is not None:
        raise ValueError(f"{file} has something called {clash} already: give the rule another name, or rename that")
    addition = _RULE.format(id=id, name=function.upper(), function=function)
    file.write_text(_with_imports(text).rstrip("\n") + "\n" + addition, encoding="utf-8")


def _names_in(text: str) -> set[str]:
    """Every name that a module gives a meaning to at its top level."""
    found: set[str] = set()
    for node in ast.parse(text).body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            found.add(node.name)
        elif isinstance(node, ast.Import | ast.ImportFrom):
            found.update(alias.asname or alias.name for alias in node.names)
        elif isinstance(node, ast.Assign | ast.AnnAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            found.update(name.id for target in targets for name in ast.walk(target) if isinstance(name, ast.Name))
    return found


def _with_imports(text: str) -> str:
    """A module's text with all that a new rule needs in its import from `swaplint.api`."""
    lines = text.splitlines(keepends=True)
    tree = ast.parse(text)
    imports = [node for node in tree.body if isinstance(node, ast.ImportFrom) and node.module == "swaplint.api"]
    given = {alias.name for node in imports for alias in node.names if alias.asname is None}
    lacking = [name for name in _NEEDS if name not in given]
    if not lacking:
        return text
    if imports:
        node = imports[0]
        names = {f"{a.name} as {a.asname}" if a.asname else a.name for a in node.names} | set(lacking)
        start, end = node.lineno - 1, node.end_lineno or node.lineno
    else:
        others = [n for n in tree.body if isinstance(n, ast.Import | ast.ImportFrom)]
        last = others[-1] if others else tree.body[0] if ast.get_docstring(tree) else None
        start = end = (last.end_lineno or 0) if last is not None else 0
        names = set(lacking)
    ordered = sorted(names, key=lambda name: (not name.isupper(), not name[0].isupper(), name))
    listed = "".join(f"    {name},\n" for name in ordered)
    before = "" if imports or start == 0 else "\n"
    lines[start:end] = [f"{before}from swaplint.api import (\n{listed})\n"]
    return "".join(lines)


def main() -> int:
    """Run the scaffold."""
    parser = argparse.ArgumentParser(
        prog="python -m swaplint.kit", description="Start a rule pack or rule, or convert a DBC file."
    )
    commands = parser.add_subparsers(dest="command", required=True)
    pack = commands.add_parser("pack", help="a new pack with one rule, ready to install")
    pack.add_argument("name", help="the pack's name, like acme")
    pack.add_argument("--folder", default=".", help="where to make it (default: here)")
    rule = commands.add_parser("rule", help="a new rule in a pack's Python file")
    rule.add_argument("file", help="the pack's Python file")
    rule.add_argument("id", help="the rule's id, like fuel.cap-vent")
    bus = commands.add_parser("dbc", help="the devices and messages of a DBC file as fields of a spec")
    bus.add_argument("file", help="the DBC file")
    bus.add_argument("--engine", default="", help="the device that is the engine package")
    options = parser.parse_args()
    try:
        if options.command == "dbc":
            # Imported here: starting a pack needs no bus.
            from swaplint.kit.dbc import as_toml

            sys.stdout.write(as_toml(Path(options.file), options.engine))
        elif options.command == "pack":
            root = new_pack(options.name, Path(options.folder))
            sys.stdout.write(f"{root} is ready. Now: pip install -e {root} && cd {root} && python -m pytest -q\n")
        else:
            add_rule(Path(options.file), options.id)
            sys.stdout.write(f"{options.id} stands at the end of {options.file}. Make it your own, then test it.\n")
    except (ValueError, OSError) as error:
        sys.stderr.write(f"{error}.\n")
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main())
