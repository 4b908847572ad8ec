"""The take-off as a sheet to hang on the wall: a table for each list, marked where it may still change."""

from __future__ import annotations

from collections.abc import Sequence

from swaplint.declare.cautions import CLOSING
from swaplint.declare.listings import LISTS, ListKind, lists_on
from swaplint.making.takeoff import Row, TakeOff, orders
from swaplint.reports.layout import Sheet
from swaplint.reports.naming import counted, listed, packs_words
from swaplint.reports.tables import add_table
from swaplint.reports.takeoff_words import doubts_words, few, list_table, order_words, problem_words, unknown_words
from swaplint.units.prose import told

_LEFT = 3
"""Room for the mark of a row that may still change."""


def takeoff_sheet(made: TakeOff, width: int) -> Sheet:
    """The whole sheet."""
    sheet = Sheet.of_width(width)
    _head(sheet, made)
    empty: list[tuple[ListKind, tuple[str, ...]]] = []
    nothing: list[str] = []
    for name, kind in lists_on("take-off").items():
        if made.rows[name]:
            _list(sheet, made, name)
        elif made.gaps[name]:
            empty.append((kind, tuple(dict.fromkeys(path for gap in made.gaps[name] for path in gap.unknown))))
        else:
            nothing.append(kind.title.lower())
    if empty:
        sheet.heading("NOT KNOWN YET")
        for kind, unknown in empty:
            sheet.wrapped(few(unknown), label=f"{kind.title}: ", hang=len(kind.title) + 2, label_style="bold")
    if nothing:
        sheet.blank()
        sheet.wrapped(f"As the spec stands there is nothing to list as {listed(nothing)}.")
    if made.problems:
        sheet.heading("MISSING HERE, FOR IT BROKE OR COULD NOT BE READ")
        for problem in made.problems:
            sheet.wrapped(problem_words(problem), label="-", hang=2)
    sheet.blank()
    sheet.wrapped(CLOSING, style="italic")
    return sheet


def _head(sheet: Sheet, made: TakeOff) -> None:
    spec = made.inspection.spec
    name = spec.stated("build.name")
    sheet.wrapped(str(name.value) if name is not None else "Build without a name", style="bold")
    sheet.wrapped(
        f"Take-off of {spec.label} at the stage {made.inspection.stage}, with {packs_words(made.packs)}: what to buy, "
        "cut and make."
    )
    rows = [row for of_list in made.rows.values() for row in of_list]
    doubtful = sum(bool(row.doubts) for row in rows)
    open_ones = sum(bool(row.unknown) for row in rows)
    if not rows:
        sheet.wrapped("Nothing is stated yet that could be bought or cut.")
    if doubtful:
        sheet.wrapped(
            f"{counted(doubtful, 'row')} of {len(rows)} may still change and {'is' if doubtful == 1 else 'are'} marked "
            "with ! and a number: settle what the note of that number names before you cut, drill or order by it.",
            style="bold",
        )
    if open_ones:
        sheet.wrapped(
            f"{counted(open_ones, 'row lacks', 'rows lack')} something that nobody has stated yet, shown as ?."
        )


# -- one list ------------------------------------------------------------------------------------------------------
def _list(sheet: Sheet, made: TakeOff, name: str) -> None:
    kind, rows = LISTS[name], made.rows[name]
    sheet.heading(f"{kind.title.upper()} ({len(rows)})")
    notes: dict[str, int] = {}
    marks = []
    for row in rows:
        says = doubts_words(row.doubts, row.part if len(rows) == 1 else "")
        marks.append(f"!{notes.setdefault(says, len(notes) + 1)}" if says else "")
    table = list_table(made, name)
    add_table(sheet, table, marks, left=_LEFT)
    _orders(sheet, made, name, kind)
    for says in _practices(made, rows, kind):
        sheet.wrapped(says, indent=_LEFT, style="dim")
    lacking: dict[str, list[str]] = {}
    for row, texts_of in zip(rows, table.rows, strict=True):
        if row.unknown:
            lacking.setdefault(unknown_words(row), []).append(texts_of[0])
    for fields, called in lacking.items():
        sheet.wrapped(f"{few(called)}: {fields}", label="?", hang=_LEFT, label_style="bold")
    unknown = tuple(dict.fromkeys(path for gap in made.gaps[name] for path in gap.unknown))
    if unknown:
        sheet.wrapped(f"whether there are more: {few(unknown)}", label="?", hang=_LEFT, label_style="bold")
    for says, number in notes.items():
        sheet.wrapped(says, label=f"!{number}", hang=max(_LEFT, len(str(number)) + 2), label_style="bold")


def _practices(made: TakeOff, rows: Sequence[Row], kind: ListKind) -> list[str]:
    """What more is bought than is built in, by common practice."""
    used = {row.cells[kind.ordered].source for row in rows if kind.ordered in row.cells}
    sources = (source for pack in made.packs for one in pack.quantities if one.id in used for source in one.sources)
    titles = dict.fromkeys(source.title for source in sources if source.kind == "common-practice")
    return [f"{kind.columns[kind.ordered].capitalize()}: {told(title)} (common practice)." for title in titles]


def _orders(sheet: Sheet, made: TakeOff, name: str, kind: ListKind) -> None:
    """What is bought together, where that is more than its rows say."""
    bought = [order for order in orders(made, name) if order.is_known]
    if not kind.ordered or not any(len(order.parts) > 1 for order in bought):
        return
    sheet.wrapped("Together:", style="dim")
    for order in bought:
        what, amount = order_words(made, name, order)
        sheet.leader(what, amount, indent=_LEFT, right_style="bold")
