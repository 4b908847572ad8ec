"""Tables as spreadsheets save them: recognised, or refused with what they may be, and never guessed."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.spec.table_text import MOST_ROWS, Table, harmless, read_table, table_text
from swaplint.spec.toml_source import MAX_BYTES, SpecError


def read(raw: bytes | str) -> Table:
    return read_table(raw.encode() if isinstance(raw, str) else raw, "t.csv")


def cells(table: Table) -> list[list[str]]:
    return [[cell.text for cell in row] for row in (table.header, *table.rows)]


def refused(raw: bytes | str) -> SpecError:
    with pytest.raises(SpecError) as caught:
        read(raw)
    return caught.value


ROWS = [["field", "answer"], ["engine.name", "Kühler, groß"], ["engine.heat", "4.5 kW"]]


def test_semicolons_commas_and_tabs_part_columns() -> None:
    assert cells(read("field;answer\na;1\n")) == [["field", "answer"], ["a", "1"]]
    assert cells(read("field,answer\r\na,1\r\n")) == [["field", "answer"], ["a", "1"]]
    assert cells(read("field\tanswer\ra\t1")) == [["field", "answer"], ["a", "1"]]
    assert cells(read("sep=;\r\nfield;answer\r\na;1\r\n")) == [["field", "answer"], ["a", "1"]]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_what_spreadsheets_save_is_read_alike(encoding: str) -> None:
    out = io.StringIO()
    csv.writer(out, delimiter=";").writerows(ROWS)  # another hand's writer of such files
    assert cells(read(out.getvalue().encode(encoding))) == ROWS


def test_bytes_that_may_be_two_texts_are_refused_with_both() -> None:
    # 0xE4 is ä in Windows-1252 and õ in code page 850, both letters of a word
    error = refused("field;answer\nTräger;3\n".encode("cp1252"))
    assert "'Träger' in Windows-1252 or 'Trõger' in the code page 850 of DOS" in error.what
    assert (error.line, error.column) == (2, 3)
    # one more word that only one of them gives decides
    assert cells(read("field;answer\nTräger;3\nKühler;4\n".encode("cp1252")))[1:] == [["Träger", "3"], ["Kühler", "4"]]


@pytest.mark.parametrize("encoding", ["cp850", "mac_roman"])
def test_other_code_pages_are_no_windows(encoding: str) -> None:
    assert "neither UTF-8 nor Windows-1252" in refused("field;answer\nKühler;20 °C\n".encode(encoding)).what


def test_a_first_line_that_two_marks_part_is_decided_by_the_rows_or_refused() -> None:
    assert cells(read("a,b;c\n1;2\n")) == [["a,b", "c"], ["1", "2"]]
    error = refused("a,b;c\n1,5;2\n")
    assert "2 ways" in error.what
    assert "'a,b' and 'c'" in error.what
    assert "'a' and 'b;c'" in error.what


def test_a_row_with_more_cells_than_columns_is_refused_at_its_place() -> None:
    error = refused("field,answer\nx,4,5 kg\n")
    assert (error.line, error.column) == (2, 5)
    assert "double quotes" in error.what


def test_empty_cells_at_the_end_and_blank_rows_count_for_nothing() -> None:
    assert cells(read("a;b;;\n1;2;;\n;;;\n3\n")) == [["a", "b"], ["1", "2"], ["3"]]


@pytest.mark.parametrize(
    ("raw", "line", "column", "says"),
    [
        ('a,b\n1,"2\n3,4\n', 2, 3, "never closed"),
        ('a,b\n1,"2"x\n', 2, 6, "behind the double quote"),
        ("", 1, 1, "empty"),
        ("\n \n", 1, 1, "empty"),
        (b"a,b\n1,\x00\n", 0, 0, "no text"),
        (b"PK\x03\x04\x14\x00\xff\xfe", 0, 0, "no text"),
        (b"\xff\xfea", 0, 0, "UTF-16"),
    ],
)
def test_what_is_no_table_is_refused_with_its_place(raw: bytes | str, line: int, column: int, says: str) -> None:
    error = refused(raw)
    assert says in error.what
    assert (error.line, error.column) == (line, column)


def test_size_is_bounded() -> None:
    assert "not read" in refused(b"a" * (MAX_BYTES + 1)).what
    assert "rows" in refused("a,b\n" + "1,2\n" * (MOST_ROWS + 1)).what
    assert "columns" in refused(",".join("a" * 900)).what


def test_each_cell_has_its_place() -> None:
    text = 'a;b\n"x\ny";z\n'
    table = read(text)
    across, beside = table.rows[0]
    assert (across.line, across.column, across.end_line, across.end_column) == (2, 1, 3, 3)
    assert (beside.line, beside.column) == (3, 4)
    assert table.text[across.start : across.end] == '"x\ny"'
    assert str(table.error("is wrong", beside)) == "t.csv, line 3, column 4: is wrong"


def test_the_decimal_mark_is_that_of_numbers_with_one_reading() -> None:
    commas = read("f;v\na;4,5 kg\nb;1,250 kg\nc;1.250 kg\n")
    assert commas.decimal == ","
    assert [commas.number_text(row[1].text) for row in commas.rows] == ["4.5 kg", "1.2500 kg", "1250 kg"]
    points = read("f;v\na;4.5 kg\nb;1,250 kg\nc;1.250 kg\n")
    assert points.decimal == "."
    assert [points.number_text(row[1].text) for row in points.rows] == ["4.5 kg", "1250 kg", "1.2500 kg"]
    # Nothing decides: what can be read in two ways is left to the field.
    assert read("f;v\nb;1,250 kg\n").number_text("1,250 kg") == "1,250 kg"
    both = read("f;v\na;4.5 kg\nb;4,5 kg\nc;1,250 kg\n")
    assert [both.number_text(row[1].text) for row in both.rows] == ["4.5 kg", "4.5 kg", "1,250 kg"]


def test_what_is_no_number_stays() -> None:
    table = read("f;v\na;4,5 kg\n")
    for text in ("12.05.2026", "2026-05-12", "5/16 in", "1 1/2 in", "2/0 AWG", "M10 x 1,5", "", "yes", "1,2,3", "4,"):
        assert table.number_text(text) == text


RUN = ["=1+1", "+49 30", "-5 degC", "@SUM(A1)", "\tx", "\rx", "'=1", "''-a", "＝1"]


@pytest.mark.parametrize("text", RUN)
def test_a_formula_is_written_harmless_and_read_back_the_same(text: str) -> None:
    written = table_text(["field", "value"], [["a", text]])
    (row,) = list(csv.reader(io.StringIO(written, newline="")))[1:]
    assert row[1] == harmless(text)
    assert row[1][0] == "'"
    assert cells(read(written))[1][1] == text


TEXTS = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"))


@given(st.lists(st.tuples(TEXTS, TEXTS).filter(any), max_size=5))
def test_what_is_written_is_read_back_the_same(rows: list[tuple[str, str]]) -> None:
    back = cells(read(table_text(["field", "value"], rows)))[1:]
    assert [(row[0], row[1] if len(row) > 1 else "") for row in back] == rows


@given(st.binary(max_size=60))
def test_any_bytes_are_a_table_or_refused(raw: bytes) -> None:
    try:
        table = read(b"a,b\n" + raw)
    except SpecError as error:
        said = error.what
    else:
        said = table.text
    assert said
