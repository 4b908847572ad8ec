"""The take-off as a table for ordering: a row for what is bought together, amounts as numbers with the unit beside."""

from __future__ import annotations

from swaplint.declare.listings import LISTS, lists_on
from swaplint.making.takeoff import Order, TakeOff, orders
from swaplint.reports.takeoff_words import cell_words, doubts_words, problem_words, thing_words
from swaplint.spec.table_text import table_text
from swaplint.units.output import in_unit_shown, unit_shown

HEADER = ("list", "what", "amount", "unit", "by", "rows", "for", "not known", "may still change")
MOST_DIGITS = 6
MISSING = "missing here, for it broke or could not be read"


def takeoff_csv(made: TakeOff) -> str:
    """The table; no text in it is run as a formula. What is all unknown is left out: nobody can order it."""
    every = ((name, order) for name in lists_on("take-off") for order in orders(made, name))
    rows = [_row(made, name, order) for name, order in every if order.is_known]
    missing = [[MISSING, problem_words(problem), *[""] * (len(HEADER) - 2)] for problem in made.problems]
    return table_text(HEADER, [*rows, *missing])


def _row(made: TakeOff, name: str, order: Order) -> list[str]:
    amount = order.amount
    number, unit = "", ""
    if isinstance(amount.value, float):
        unit = unit_shown(amount.kind, amount.unit) or "pieces"
        number = f"{in_unit_shown(amount.value, amount.kind, amount.unit):.{MOST_DIGITS}g}"
    open_cells = [f"{column}: {', '.join(cell.unknown)}" for column, cell in order.cells if cell.unknown]
    missing = [*open_cells, *(f"amount for {part}" for part in order.not_known)]
    return [
        LISTS[name].title,
        thing_words(made, name, order),
        number,
        unit,
        cell_words(made, dict(order.cells).get("by")),
        str(len(order.parts)),
        "; ".join(order.parts),
        "; ".join(missing),
        doubts_words(order.doubts),
    ]
