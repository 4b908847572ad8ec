"""Tables in text: as wide as what stands in them, and no wider than the sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swaplint.reports.layout import Sheet, wrapped_lines

_GAP = 2
_NARROWEST = 6
"""A column is made no narrower than this, or than its longest word, as long as there is room for it."""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of texts under their headings."""

    heads: Sequence[str]
    rows: Sequence[Sequence[str]]
    numeric: Sequence[bool] = ()
    """The columns that hold numbers, which stand at the right of them; none where it says nothing."""


def add_table(sheet: Sheet, table: Table, marks: Sequence[str] = (), *, left: int = 0) -> None:
    """Add a table, with a mark at the left of each row; what has too little room goes on in the line below."""
    marks = marks or [""] * len(table.rows)
    left = max([left, *(len(mark) + 1 for mark in marks if mark)])
    rows = [table.heads, *table.rows]
    widths = _widths(rows, sheet.width - left)
    right = table.numeric or [False] * len(widths)
    for number, (mark, row) in enumerate(zip(["", *marks], rows, strict=True)):
        if not number and not any(row):
            continue
        cells = [wrapped_lines(text, width) for text, width in zip(row, widths, strict=True)]
        for line in range(max(map(len, cells))):
            texts = (cell[line] if line < len(cell) else "" for cell in cells)
            pieces = [
                text.rjust(width) if to_right and number else text.ljust(width)
                for text, width, to_right in zip(texts, widths, right, strict=True)
            ]
            start = (mark if not line else "").ljust(left)
            sheet.line((start, "bold"), ((" " * _GAP).join(pieces).rstrip(), "" if number else "dim"))


def _widths(rows: Sequence[Sequence[str]], room: int) -> list[int]:
    """The width of each column: as wide as what stands in it, the widest ones less where that is too much."""
    columns = list(zip(*rows, strict=True))
    widths = [max(1, *map(len, column)) for column in columns]
    least = [min(w, max(_NARROWEST, _longest_word(column))) for w, column in zip(widths, columns, strict=True)]
    while sum(widths) + _GAP * (len(widths) - 1) > room:
        spare = [width - low for width, low in zip(widths, least, strict=True)]
        if not any(spare):
            if max(least) == 1:
                break
            least = [min(low, _NARROWEST if max(least) > _NARROWEST else max(least) - 1) for low in least]
            continue
        widest = max(range(len(widths)), key=lambda index: (spare[index] > 0, widths[index]))
        widths[widest] -= 1
    return widths


def _longest_word(column: Sequence[str]) -> int:
    return max(len(word) for text in column for word in text.split(" "))
