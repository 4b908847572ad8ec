"""Tables in text: every cell is there, and no line is wider than the sheet."""

import pytest

from swaplint.reports.layout import Sheet, plain
from swaplint.reports.tables import Table, add_table

ROWS = [
    ["starter", "battery-positive to isolator", "70 mm²", "1.8 m"],
    ["pump", "a_name_that_is_longer_than_any_column_can_be", "2.5 mm²", "3 m"],
    ["", "", "", ""],
]
HEADS = ["cable", "from, to", "size", "run"]


@pytest.mark.parametrize("width", [60, 80, 140])
@pytest.mark.parametrize("columns", [1, 4])
def test_a_table_keeps_to_the_sheet(width: int, columns: int) -> None:
    """Side by side four times it takes far more than there is; no letter is lost, if words are in pieces."""
    sheet = Sheet.of_width(width)
    heads, rows = HEADS * columns, [row * columns for row in ROWS]
    add_table(sheet, Table(heads, rows, [False, False, True, True] * columns), ["!1", "", ""], left=3)
    text = plain(sheet.lines)
    assert max(map(len, text.splitlines())) <= width
    letters = "".join("".join(row) for row in (heads, *rows, ["!1"])).replace(" ", "")
    assert sorted("".join(text.split())) == sorted(letters)
    if columns == 1:
        assert "!1 starter" in text
        assert "70 mm²" in text


def test_numbers_stand_at_the_right_and_headings_that_say_nothing_are_left_out() -> None:
    sheet = Sheet.of_width(60)
    add_table(sheet, Table(["", ""], [["run", "1.8 m"], ["cut", "12.07 m"]], [False, True]))
    assert plain(sheet.lines) == "run    1.8 m\ncut  12.07 m\n"
