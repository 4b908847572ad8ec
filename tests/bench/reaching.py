"""Which tests come to which part of a file, and functions of an imported module that are given other code.

Both are done in a process in which the tests are collected already: what a test tells of a change is then known
without importing and collecting anew, and only the tests that come to the place of the change are asked.
"""

from __future__ import annotations

import ast
import builtins
import gc
import sys
from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass
from pathlib import Path
from types import CodeType, FunctionType
from typing import Any

from mutations import Mutant, Source

MARK = "__reached__"
Key = tuple[str, int]
Block = tuple[str, int]
"""A row of statements in a function: the file, and where in it the first one starts."""


# -- blocks of statements ----------------------------------------------------------------------------------------------
def _functions(tree: ast.AST) -> Iterator[ast.FunctionDef]:
    return (node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef))


def _rows(function: ast.FunctionDef) -> Iterator[list[ast.stmt]]:
    """The rows of statements in a function that are done together or not at all."""
    for node in ast.walk(function):
        for name in ("body", "orelse", "finalbody"):
            row = getattr(node, name, None)
            if isinstance(row, list) and row and not isinstance(node, ast.ClassDef):
                yield row


def _spans(source: Source) -> Iterator[tuple[int, int]]:
    for function in _functions(source.tree):
        for row in _rows(function):
            yield source.span(row[0])[0], source.span(row[-1])[1]


def block_of(source: Source, mutant: Mutant) -> Block | None:
    """The smallest block that a change stands in; None where it stands in no function and is met at the import."""
    spans = [span for span in _spans(source) if span[0] <= mutant.start and mutant.end <= span[1]]
    return (source.name, min(spans, key=lambda span: span[1] - span[0])[0]) if spans else None


@dataclass(frozen=True)
class Named:
    """A constant in which a change stands, with those that are made of it in the same file."""

    names: frozenset[str]
    blocks: frozenset[Block]
    """The first blocks of the functions that name one of them."""
    also_at_import: frozenset[str]
    """Those of them that a decorator or a default asks for, so that it is not enough to put another in their place."""


def named_by(sources: list[Source], mutant: Mutant) -> Named | None:
    """The constant in which a change stands; None where it is none, or where more than functions is made of it."""
    own = next(source for source in sources if source.name == mutant.file)
    named = {name for node in own.tree.body if _holds(own, node, mutant) for name in _assigned(node)}
    for node in [*own.tree.body, *own.tree.body] if named else []:
        named |= _assigned(node) if _names(node) & named else set()
    blocks: set[Block] = set()
    early: set[str] = set()
    for source in sources:
        for node in source.tree.body:
            if not _names(node) & named or (source is own and _assigned(node)):
                continue
            if not isinstance(node, ast.FunctionDef):
                return None
            blocks.add((source.name, source.span(node.body[0])[0]))
            arguments = [*node.args.defaults, *(one for one in node.args.kw_defaults if one)]
            early |= {name for part in (*node.decorator_list, *arguments) for name in _names(part) & named}
    return Named(frozenset(named), frozenset(blocks), frozenset(early)) if named else None


def _holds(source: Source, node: ast.stmt, mutant: Mutant) -> bool:
    start, end = source.span(node)
    return start <= mutant.start and mutant.end <= end


def _assigned(node: ast.stmt) -> set[str]:
    targets = node.targets if isinstance(node, ast.Assign) else [node.target] if isinstance(node, ast.AnnAssign) else []
    return {name.id for target in targets for name in ast.walk(target) if isinstance(name, ast.Name)}


def _names(node: ast.AST) -> set[str]:
    names = {inner.id for inner in ast.walk(node) if isinstance(inner, ast.Name)}
    return names | {inner.attr for inner in ast.walk(node) if isinstance(inner, ast.Attribute)}


def marked(source: Source, name: str) -> CodeType:
    """A module's code with a mark at the start of each block of its functions."""
    tree = ast.parse(source.bytes)
    rows = {id(row): row for function in _functions(tree) for row in _rows(function)}  # one within another comes twice
    for row in rows.values():
        mark = ast.parse(f"{MARK}(({source.name!r}, {source.span(row[0])[0]}))").body[0]
        for node in ast.walk(mark):
            ast.copy_location(node, row[0])
        row.insert(0, mark)
    return compile(tree, name, "exec")


class Reached:
    """The blocks that were come to since it was last asked."""

    def __init__(self) -> None:
        self.blocks: set[Block] = set()
        setattr(builtins, MARK, self.blocks.add)

    def taken(self) -> frozenset[Block]:
        """The blocks since the last time."""
        blocks = frozenset(self.blocks)
        self.blocks.clear()
        return blocks


# -- other code for functions that live --------------------------------------------------------------------------------
def _codes(code: CodeType) -> dict[Key, CodeType]:
    """All code of a module, each by its name and by how many of that name stand before it."""
    found: dict[Key, CodeType] = {}
    counts: dict[str, int] = {}

    def enter(outer: CodeType) -> None:
        for inner in outer.co_consts:
            if isinstance(inner, CodeType):
                name = inner.co_qualname
                found[name, counts.get(name, 0)] = inner
                counts[name] = counts.get(name, 0) + 1
                enter(inner)

    enter(code)
    return found


def _place(code: CodeType) -> tuple[str, int, bytes]:
    """What tells a function from all others of its file, also after it has run."""
    return code.co_qualname, code.co_firstlineno, code.co_linetable


class Living:
    """The functions that an interpreter holds of some files."""

    def __init__(self, files: set[str]) -> None:
        gc.unfreeze()
        self.of: dict[str, list[FunctionType]] = {file: [] for file in files}
        for thing in gc.get_objects():
            if type(thing) is FunctionType and thing.__code__.co_filename in self.of:
                self.of[thing.__code__.co_filename].append(thing)
        gc.freeze()

    def give(self, file: str, code: CodeType) -> None:
        """Give the functions of a file the code of a changed module; ValueError or KeyError where that cannot be."""
        keys = {_place(old): key for key, old in _codes(compile(Path(file).read_bytes(), file, "exec")).items()}
        new = _codes(code)
        if keys and not self.of[file]:
            raise KeyError(f"nothing of {file} has been imported")
        for function in self.of[file]:
            function.__code__ = new[keys[_place(function.__code__)]]

    def put(self, file: str, code: CodeType, named: Named) -> set[str]:
        """Put other constants in the place of a module's, wherever they are held; the texts of practices among them.

        ValueError where some place would go on with the old one.
        """
        module = next(m for m in sys.modules.values() if getattr(m, "__file__", None) == file)
        made: dict[str, Any] = {name: getattr(module, name) for name in ("__name__", "__file__", "__package__")}
        exec(code, made)
        changed: set[str] = set()
        for name in named.names:
            old, new = getattr(module, name), made[name]
            if _become(old, new, changed):
                continue
            if name in named.also_at_import:
                raise ValueError(f"{name} is asked for at the import")
            for other in list(sys.modules.values()):
                if getattr(other, "__dict__", {}).get(name) is old:
                    setattr(other, name, new)
        return changed


def _become(old: Any, new: Any, changed: set[str]) -> bool:
    """Whether a thing could be made like another, so that all who hold it hold the other."""
    if type(old) is not type(new):
        return False
    if is_dataclass(old):
        for part in fields(old):
            before, after = getattr(old, part.name), getattr(new, part.name)
            if before != after and not _become(before, after, changed):
                object.__setattr__(old, part.name, after)
                changed.add(getattr(old, "name", ""))
        return True
    if isinstance(old, dict) and list(old) == list(new):
        for key in old:
            if not _become(old[key], new[key], changed):
                old[key] = new[key]
        return True
    if isinstance(old, tuple) and len(old) == len(new):
        alike = [before == after or _become(before, after, changed) for before, after in zip(old, new, strict=True)]
        return all(alike)
    return bool(old == new)
