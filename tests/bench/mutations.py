"""The small changes that `mutants.py` makes: numbers and operators of rules and formulas, each with its place."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

ROOT = Path(__file__).parents[2]
VERDICTS = ("at_most", "at_least", "within")
SWAPPED = {ast.Add: ("+", "-"), ast.Sub: ("-", "+"), ast.Mult: ("*", "/"), ast.Div: ("/", "*")}
COMPARED = {
    ast.Lt: ("<", "<="), ast.LtE: ("<=", "<"), ast.Gt: (">", ">="), ast.GtE: (">=", ">"),
    ast.Eq: ("==", "!="), ast.NotEq: ("!=", "=="),
}  # fmt: skip


Change: TypeAlias = tuple[str, tuple[str, ...], tuple[str, ...]]
"""A file, rows of it, and what becomes of them."""


@dataclass(frozen=True)
class Mutant:
    """One change: bytes of a file that are replaced."""

    file: str
    line: int
    start: int
    end: int
    new: bytes
    named: bool = False
    """Whether it is in a named practice, whose text is compared with its value."""

    def apply(self, source: bytes) -> bytes:
        """The file's text with the change."""
        return source[: self.start] + self.new + source[self.end :]

    def change(self, source: bytes) -> Change:
        """What becomes of the lines, wherever in the file they stand."""
        first = source.rfind(b"\n", 0, self.start) + 1
        last = (source + b"\n").index(b"\n", self.end)
        old, new = source[first:last], source[first : self.start] + self.new + source[self.end : last]
        return self.file, _rows(old), _rows(new)

    def told(self, source: bytes) -> str:
        """Its place and what becomes of the lines."""
        _, old, new = self.change(source)
        lines = [*(f"    - {row}" for row in old), *(f"    + {row}" for row in new)]
        return "\n".join([f"{self.file}:{self.line}", *lines])


def _rows(text: bytes) -> tuple[str, ...]:
    return tuple(row.strip() for row in text.decode().splitlines())


def listed(file: Path) -> dict[Change, str]:
    """The changes that a file lists as they are printed, each with its reason (rows that start with `=`) if given."""
    found: dict[Change, str] = {}
    name, old, new, why = "", [], [], []
    for row in [*file.read_text(encoding="utf-8").splitlines(), "end"]:
        mark, text = row.strip()[:1], row.strip()[1:].strip()
        if row.startswith(" "):
            {"-": old, "+": new, "=": why}[mark].append(text)
        elif row.strip() and mark != "#":
            if old or new:
                found[name, tuple(old), tuple(new)] = " ".join(why)
            name, old, new, why = row.split()[-1].split(":")[0], [], [], []
    return found


class Source:
    """A file with its syntax tree, and where each node stands in it."""

    def __init__(self, file: Path, root: Path | None = None) -> None:
        self.name = file.relative_to(root or ROOT).as_posix()
        self.bytes = file.read_bytes()
        self.tree = ast.parse(self.bytes)
        self.lines = [0]
        for row in self.bytes.splitlines(keepends=True):
            self.lines.append(self.lines[-1] + len(row))

    def span(self, node: ast.AST) -> tuple[int, int]:
        """Where a node's text starts and ends."""
        place: object = node
        start = self.lines[place.lineno - 1] + place.col_offset  # type: ignore[attr-defined]
        return start, self.lines[place.end_lineno - 1] + place.end_col_offset  # type: ignore[attr-defined]

    def rows_of(self, mutant: Mutant) -> tuple[int, int]:
        """First and last row of the function, class or constant in which a change stands, decorators and all."""
        for node in self.tree.body:
            decorators = getattr(node, "decorator_list", [])
            first = min([node.lineno, *(decorator.lineno for decorator in decorators)])
            if first <= mutant.line <= (node.end_lineno or first):
                return first, node.end_lineno or first
        return mutant.line, mutant.line

    def text(self, node: ast.AST) -> bytes:
        """A node's text."""
        start, end = self.span(node)
        return self.bytes[start:end]

    def replaced(self, node: ast.AST, new: bytes, named: bool = False) -> Mutant:
        """The change that puts another text in a node's place."""
        return Mutant(self.name, node.lineno, *self.span(node), new, named)  # type: ignore[attr-defined]

    def scaled(self, node: ast.AST, named: bool = False) -> Iterator[Mutant]:
        """A number or a product of numbers, a tenth more and a tenth less; a nought stays one."""
        if isinstance(node, ast.Constant) and node.value == 0:
            return
        for factor in (b"1.1", b"0.9"):
            yield self.replaced(node, b"((" + self.text(node) + b") * " + factor + b")", named)

    def between(self, left: ast.AST, right: ast.AST, old: str, new: str) -> Iterator[Mutant]:
        """The change of an operator that stands between two nodes."""
        start, end = self.span(left)[1], self.span(right)[0]
        gap = self.bytes[start:end]
        if b"#" not in gap and gap.count(old.encode()) == 1:
            at = start + gap.index(old.encode())
            yield Mutant(self.name, right.lineno, at, at + len(old), new.encode())  # type: ignore[attr-defined]


def is_number(node: ast.AST) -> bool:
    """Whether a node is a number as it is written."""
    return isinstance(node, ast.Constant) and isinstance(node.value, int | float) and not isinstance(node.value, bool)


def is_amount(node: ast.AST) -> bool:
    """Whether a node is a number, or a sum or product of numbers and names."""
    if isinstance(node, ast.UnaryOp):
        return is_amount(node.operand)
    if isinstance(node, ast.BinOp):
        sides = (node.left, node.right)
        return any(map(is_amount, sides)) and all(
            is_amount(s) or isinstance(s, ast.Name | ast.Attribute) for s in sides
        )
    return is_number(node)


def walked(node: ast.AST) -> Iterator[ast.AST]:
    """What is computed below a node: no decorators, annotations or texts."""
    yield node
    for name, value in ast.iter_fields(node):
        if name in ("decorator_list", "annotation", "returns", "type_comment"):
            continue
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.AST) and not isinstance(
                child, ast.JoinedStr | ast.Raise | ast.Assert | ast.Import
            ):
                yield from walked(child)


def amounts(node: ast.AST) -> Iterator[ast.AST]:
    """The amounts that a constant is made of: the values of a table, what a practice takes and its range."""
    if is_amount(node):
        yield node
    elif isinstance(node, ast.Dict):
        for value in node.values:
            yield from amounts(value)
    elif isinstance(node, ast.Tuple | ast.List | ast.Set):
        for element in node.elts:
            yield from amounts(element)
    elif isinstance(node, ast.Call):
        for argument in (*node.args, *(keyword.value for keyword in node.keywords)):
            yield from amounts(argument)


def limits(source: Source) -> Iterator[Mutant]:
    """Named constants and practices of a module of rules, and numbers that its functions judge or compare by."""
    for node in source.tree.body:
        value = node.value if isinstance(node, ast.Assign | ast.AnnAssign) else None
        targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)]
        names = [name for target in targets for name in getattr(target, "elts", [target])]
        if value is not None and all(isinstance(name, ast.Name) and name.id.isupper() for name in names):
            named = b"Practice(" in source.bytes  # of what such a constant is made, a practice may be made
            for amount in amounts(value):
                yield from source.scaled(amount, named)
        if not isinstance(node, ast.FunctionDef | ast.ClassDef):
            continue
        seen: set[ast.AST] = set()
        for judged in walked(node):
            compared: list[ast.AST] = [judged] if isinstance(judged, ast.Compare) else []
            if isinstance(judged, ast.Call) and isinstance(judged.func, ast.Name) and judged.func.id in VERDICTS:
                compared = [*judged.args[:3]]  # found and limit: what the margin is relative to turns nothing
            for inner in (inner for part in compared for inner in walked(part)):
                if is_number(inner) and inner not in seen and _is_limit(inner.value):  # type: ignore[attr-defined]
                    seen.add(inner)
                    yield from source.scaled(inner)


def _is_limit(number: float) -> bool:
    """Whether a number in a comparison is no mere count, and no room left for arithmetic."""
    size = abs(number)
    return size not in (0, 1, 2) and size > 1e-4 and not 0.99 < size < 1.01


def others(source: Source) -> Iterator[Mutant]:
    """Operators, comparisons, numbers, min and max, dropped terms and negated conditions in a module's functions."""
    for function in (node for node in source.tree.body if isinstance(node, ast.FunctionDef | ast.ClassDef)):
        for node in walked(function):
            if isinstance(node, ast.BinOp) and type(node.op) in SWAPPED:
                yield from source.between(node.left, node.right, *SWAPPED[type(node.op)])
                yield source.replaced(node, b"(" + source.text(node.left) + b")")
                yield source.replaced(node, b"(" + source.text(node.right) + b")")
            elif isinstance(node, ast.Compare) and len(node.ops) == 1 and type(node.ops[0]) in COMPARED:
                yield from source.between(node.left, node.comparators[0], *COMPARED[type(node.ops[0])])
            elif isinstance(node, ast.If | ast.IfExp | ast.While):
                yield source.replaced(node.test, b"(not (" + source.text(node.test) + b"))")
            elif isinstance(node, ast.BoolOp):
                swapped = ("and", "or") if isinstance(node.op, ast.And) else ("or", "and")
                yield from source.between(node.values[0], node.values[1], *swapped)
            elif isinstance(node, ast.Name) and node.id in ("min", "max"):
                yield source.replaced(node, b"max" if node.id == "min" else b"min")
            elif is_number(node):
                number = node.value  # type: ignore[attr-defined]
                yield source.replaced(
                    node, str(number + 1 if isinstance(number, int) or not number else number * 1.1).encode()
                )
