"""What stands in a cell of the take-off, and beside a row that may still change, in words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from swaplint.declare.listings import LISTS
from swaplint.host.problems import Problem
from swaplint.making.takeoff import Cell, Doubt, Order, Row, TakeOff
from swaplint.reports.naming import listed
from swaplint.reports.tables import Table
from swaplint.units.output import shown
from swaplint.units.prose import told

NOT_KNOWN = "?"
NONE = "-"
EXACT = 4
AMOUNT = 3
"""The digits of an amount that is cut or poured; all else stands as exactly as it is known."""
MOST_NAMED = 4
"""How many fields or rules of a kind a mark names, before the others are counted."""

WORDS = {
    "assumed": "assumed",
    "estimated": "estimated",
    "fallback": "fallback",
    "fails": "fails",
    "review": "a person must decide",
}
"""Why a row may still change, as its mark begins."""


def cell_words(made: TakeOff, cell: Cell | None, *, digits: int = EXACT) -> str:
    """A cell as people read it: `?` for what nobody has stated yet, empty where there is nothing to say."""
    if cell is None:
        return ""
    if cell.unknown:
        return NOT_KNOWN
    if cell.value is None:
        return NONE if cell.why else ""
    if isinstance(cell.value, bool):
        return "yes" if cell.value else "no"
    if isinstance(cell.value, tuple):
        return ", ".join(cell.value)
    if isinstance(cell.value, str):
        return cell.value
    stated = made.inspection.stated(cell.source) if cell.source else None
    words = shown(cell.value, cell.kind, cell.unit, digits=EXACT if stated else digits, about=cell.source)
    if stated is not None and stated.tol and not cell.kind.startswith("temperature"):
        words += f" ± {shown(stated.tol, cell.kind, cell.unit, digits=2, about=cell.source)}"
    return words


def list_table(made: TakeOff, name: str, *, without: Sequence[str] = ()) -> Table:
    """The rows of a list as people read them, without the columns in which nothing stands."""
    kind, rows = LISTS[name], made.rows[name]
    columns = [
        column
        for column in kind.columns
        if column not in without and any(cell_words(made, row.cells.get(column)) for row in rows)
    ]
    digits = [AMOUNT if column == kind.ordered else EXACT for column in columns]
    texts = [
        [cell_words(made, row.cells.get(c), digits=d) for c, d in zip(columns, digits, strict=True)] for row in rows
    ]
    numeric = [any(isinstance(row.cells[c].value, float) for row in rows if c in row.cells) for c in columns]
    return Table([kind.columns[column] for column in columns], texts, numeric)


def doubts_words(doubts: Iterable[Doubt], part: str = "") -> str:
    """Why a row may still change, in a line; empty where nothing is known that would change it."""
    by_why: dict[str, list[str]] = {}
    for doubt in doubts:
        about = told(doubt.about) if doubt.why == "fallback" else _below(doubt.about, part)
        by_why.setdefault(WORDS[doubt.why], []).append(about)
    return "; ".join(f"{why}: {few(names)}" for why, names in by_why.items())


def unknown_words(row: Row) -> str:
    """The fields that a row lacks, in a line, those of its own part by their names there."""
    return few([_below(path, row.part) for path in row.unknown])


def problem_words(problem: Problem) -> str:
    """What broke or could not be read, with whose it is and where."""
    place = f" ({problem.file}{f', line {problem.line}' if problem.line else ''})" if problem.file else ""
    return f"{f'pack {problem.pack}: ' if problem.pack else ''}{problem.what}{place}"


def few(names: Sequence[str]) -> str:
    """Some names as a line: all, or the first of many and how many more there are.

    >>> few(["a", "b", "c", "d", "e", "f"])
    'a, b, c, d and 2 more'
    """
    more = len(names) - MOST_NAMED
    return listed(list(names)) if more <= 1 else f"{', '.join(names[:MOST_NAMED])} and {more} more"


def _below(path: str, part: str) -> str:
    """A field's name inside the part that a row is about."""
    return path.removeprefix(f"{part}.") if part else path


def order_words(made: TakeOff, name: str, order: Order) -> tuple[str, str]:
    """What is bought together, and how much of it."""
    return thing_words(made, name, order), amount_words(made, order)


def thing_words(made: TakeOff, name: str, order: Order) -> str:
    """What is bought: words as they are, numbers with the heading of their column."""
    columns, pieces = LISTS[name].columns, []
    for column, cell in order.cells:
        if column == "by":
            continue
        words = cell_words(made, cell)
        pieces.append(f"{columns[column]} {words}".strip() if words and isinstance(cell.value, float) else words)
    return ", ".join(filter(None, pieces))


def amount_words(made: TakeOff, order: Order) -> str:
    """How much of it, and of which of its rows nobody knows that."""
    known = cell_words(made, order.amount, digits=AMOUNT)
    if not order.not_known:
        return known
    of = f"{NOT_KNOWN} for {few(order.not_known)}"
    return f"{known} and {of}" if known else of
