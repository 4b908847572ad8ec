"""Tables as spreadsheets save them: rows of cells with their places, and the way such a file is written.

Half the world parts columns with semicolons because its decimals have commas, old programs save in an old code page,
and some put a mark at the beginning. What a file is, is seen from the file itself:

- The code page: a mark at the beginning, else UTF-8 where the bytes are valid UTF-8. Else Windows-1252 where only that
  gives words and signs as people write them; where the code page of a PC or Mac does so too, it is refused, with what
  the text would be in each.
- What parts the columns: the only one of semicolon, comma and tab that parts the first line, which names the columns;
  where several do, the only one that fits all rows; else it is refused, with both readings.
- The decimal mark: that of numbers which can be read in one way only. A number that can be read in two, `1,250`, is
  left to whoever knows the field where the file does not tell.

A cell that a spreadsheet would run as a formula is written behind an apostrophe, which reading takes away again.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Literal, NamedTuple

from swaplint.spec.toml_source import MAX_BYTES, SpecError

MOST_COLUMNS = 200
MOST_ROWS = 5_000
"""Bounds on what is read: a table of a build has some dozens of each."""

DecimalMark = Literal[".", ",", ""]
_PARTING = {";": "semicolons", ",": "commas", "\t": "tabs"}
_SAYS_WHAT_PARTS = re.compile(r"sep=(.)\r?\n", re.IGNORECASE)
"""The line by which a spreadsheet tells another what parts the columns."""


class Cell(NamedTuple):
    """One cell: what it says, and the stretch of the file that says so, quotes included."""

    text: str
    line: int
    column: int
    end_line: int
    end_column: int
    start: int
    """Offset in the text of the file, as `end` is."""
    end: int


class Table(NamedTuple):
    """A table: its first line, which names the columns, and the rows that are not blank."""

    label: str
    """How the file is named in output."""
    text: str
    """The text without a byte-order mark, line ends as in the file."""
    encoding: str
    """As Python names it; a file that began with a mark has `utf-8-sig` or `utf-16`."""
    parting: str
    """What parts the columns; empty where there is but one."""
    decimal: DecimalMark
    """The decimal mark that its numbers show; empty where they show none, or both."""
    header: tuple[Cell, ...]
    rows: tuple[tuple[Cell, ...], ...]
    """A row may have fewer cells than the header: spreadsheets leave out empty ones at the end."""

    def error(self, what: str, cell: Cell) -> SpecError:
        """What is wrong with a cell, at its place."""
        return SpecError(what, self.label, cell.line, cell.column)

    def number_text(self, text: str) -> str:
        """A number, alone or with its unit, with the decimal point that values have; any other text as it is.

        A number that could be read in two ways follows the rest of the file; where that does not tell, it stays.
        """
        return _with_point(text, self.decimal)


def read_table(raw: bytes, label: str) -> Table:
    """Read a table from the bytes of a file. Raises `SpecError` where it cannot be read in one way only."""
    if len(raw) > MAX_BYTES:
        what = f"is {len(raw) / 1000:.0f} kB; a table of more than {MAX_BYTES // 1000} kB is not read"
        raise SpecError(what, label)
    text, encoding = _decoded(raw, label)
    told = _SAYS_WHAT_PARTS.match(text)
    start = told.end() if told else 0
    if not text[start:].strip():
        raise SpecError("is empty; the first line of a table names its columns", label, 1, 1)
    readings = {told[1]: _read(text, label, told[1], start)} if told else _readings(text, label)
    if len(readings) > 1:
        raise SpecError(_two_readings(readings), label, 1, 1)
    (parting, records), *_ = readings.items()
    if not records:
        raise SpecError("has no text in any cell; the first line of a table names its columns", label, 1, 1)
    header, *rows = records
    return Table(
        label, text, encoding, parting, decimal_mark(cell for row in rows for cell in row), header, tuple(rows)
    )


# -- which code page -----------------------------------------------------------------------------------------------
_OLD = {"cp1252": "Windows-1252", "cp850": "the code page 850 of DOS", "mac_roman": "that of an old Mac"}
_LETTERS = "àáâãäåæçèéêëìíîïñòóôõöøùúûüýÿßœšžÀÁÂÃÄÅÆÇÈÉÊËÌÍÎÏÑÒÓÔÕÖØÙÚÛÜÝŒŠŽŸ"
_SIGNS = "°±²³µ·½¼¾×÷€£§«»º–—’‘“”„…•‰®©™\u00a0"
_WORD = r"[A-Za-z" + _LETTERS + "]"
_ODD = re.compile(
    rf"[^\x00-\x7f{_LETTERS}{_SIGNS}]"  # nothing that stands in a parts list
    rf"|(?<=[a-zà-öø-ÿ])[À-ÖØ-ÞŒŠŽŸ]"  # a capital behind a small letter
    rf"|(?<={_WORD})(?!’|·|(?<=[mnst])[²³])[{_SIGNS}](?={_WORD})"  # a sign within a word
    r"|(?<=[0-9] )[øÝýðþ](?=[CFc]\b)|(?<=mm)[ýüÝ]\b"  # the signs of units, in other code pages
)


def _decoded(raw: bytes, label: str) -> tuple[str, str]:
    """The text of a file and its code page."""
    marks = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
    encoding = next((name for mark, name in marks if raw.startswith(mark)), "utf-8")
    try:
        text = raw.decode(encoding)
    except UnicodeDecodeError:
        if encoding != "utf-8":
            what = f"begins with the mark of {encoding[:6].rstrip('-').upper()} text and is none; save it as UTF-8"
            raise SpecError(what, label) from None
        return _from_old_code_page(raw, label), "cp1252"
    if "\0" in text:
        raise SpecError("is no text; save the table as CSV", label)
    return text, encoding


def _from_old_code_page(raw: bytes, label: str) -> str:
    if b"\0" in raw:
        raise SpecError("is no text; save the table as CSV", label)
    at = next(n for n, byte in enumerate(raw) if byte > 0x7F)
    readings = {name: raw.decode(name, "replace") for name in _OLD}
    sound = [name for name, text in readings.items() if not _ODD.search(text)]
    if sound == ["cp1252"]:
        return readings["cp1252"]
    line = raw.count(b"\n", 0, at) + 1
    column = at - raw.rfind(b"\n", 0, at)
    shown = [f"'{_around(readings[name], at)}' in {_OLD[name]}" for name in sound]
    if len(sound) > 1:
        what = f"is not UTF-8 text; it may be {' or '.join(shown)}"
    else:
        what = f"is neither UTF-8 nor Windows-1252 text{f', but {shown[0]}' if shown else ''}"
    raise SpecError(f"{what}: save it as CSV UTF-8", label, line, column)


def _around(text: str, at: int) -> str:
    """The words around a place in a text, on one line."""
    start = max(text.rfind(mark, max(0, at - 20), at) for mark in ',;\t\r\n"') + 1
    end = min((n for mark in ',;\t\r\n"' if (n := text.find(mark, at)) >= 0), default=len(text))
    return "".join(c if c.isprintable() else "?" for c in text[max(start, at - 20) : min(end, at + 20)])


# -- what parts the columns ----------------------------------------------------------------------------------------
Records = list[tuple[Cell, ...]]


def _readings(text: str, label: str) -> dict[str, Records]:
    """The ways in which a text can be parted into columns: one, unless two of them fit it."""
    first = next(line for line in text.splitlines() if line.strip())
    parting = [mark for mark in _PARTING if mark in first]
    if not parting:
        return {"": _read(text, label, "", 0)}
    found: dict[str, Records] = {}
    wrong: list[SpecError] = []
    for mark in parting:
        try:
            records = _read(text, label, mark, 0)
        except SpecError as error:
            wrong.append(error)
            continue
        if any(len(record) > 1 for record in records[1:]) or len(parting) == 1:
            found[mark] = records
    if not found and wrong:
        raise wrong[0]
    return found or {mark: _read(text, label, mark, 0) for mark in parting}


def _two_readings(readings: dict[str, Records]) -> str:
    shown = [
        f"parted by {_PARTING[mark]} its first columns are "
        + " and ".join(f"'{cell.text[:40]}'" for cell in records[0][:2])
        for mark, records in readings.items()
    ]
    return f"can be read in {len(readings)} ways: {', '.join(shown)}; put names with such a mark in double quotes"


_END_OF_LINE = re.compile(r"\r\n|\r|\n")
_QUOTED = re.compile(r'"(?:[^"]++|"")*+"')


def _read(text: str, label: str, parting: str, start: int) -> Records:
    """All rows that are not blank, parted in one way. Raises `SpecError` where a row does not fit the first."""
    records: Records = []
    for record in _records(text, label, parting, start):
        if not any(cell.text for cell in record):
            continue
        if not records:
            record = record[: max(n for n, cell in enumerate(record, 1) if cell.text)]
            if len(record) > MOST_COLUMNS:
                raise SpecError(f"has more than {MOST_COLUMNS} columns", label, record[0].line, 1)
        elif len(record) > len(records[0]):
            if any(cell.text for cell in record[len(records[0]) :]):
                raise _too_many_cells(label, record, len(records[0]), parting)
            record = record[: len(records[0])]
        records.append(record)
        if len(records) > MOST_ROWS:
            raise SpecError(f"has more than {MOST_ROWS} rows", label, record[0].line, 1)
    return records


def _too_many_cells(label: str, record: tuple[Cell, ...], columns: int, parting: str) -> SpecError:
    mark = _PARTING.get(parting, f"'{parting}'")
    named = "1 column" if columns == 1 else f"{columns} columns"
    hint = f"a cell that holds one of the {mark} that part the columns stands in double quotes"
    cell = record[columns]
    return SpecError(
        f"has {len(record)} cells in this row, and {named} in the first: {hint}", label, cell.line, cell.column
    )


def _records(text: str, label: str, parting: str, start: int) -> Iterator[tuple[Cell, ...]]:
    plain = re.compile(rf"[^\r\n{re.escape(parting)}]*+")
    at, line, line_start = start, text.count("\n", 0, start) + 1, start
    cells: list[Cell] = []
    while True:
        begin, begin_line, begin_column = at, line, at - line_start + 1
        quoted = _QUOTED.match(text, at)
        if quoted is not None:
            at = quoted.end()
            said = quoted.group()[1:-1].replace('""', '"')
            for inside in _END_OF_LINE.finditer(text, begin, at):
                line, line_start = line + 1, inside.end()
        elif text.startswith('"', at):
            raise SpecError("has a double quote that is never closed", label, line, at - line_start + 1)
        else:
            at = plain.match(text, at).end()  # type: ignore[union-attr]  # matches nothing, too
            said = text[begin:at].strip()
        cells.append(Cell(_unharmed(said), begin_line, begin_column, line, at - line_start + 1, begin, at))
        if len(cells) > 4 * MOST_COLUMNS:
            raise SpecError(f"has more than {MOST_COLUMNS} columns", label, begin_line, begin_column)
        if parting and text.startswith(parting, at):
            at += 1
            continue
        end = _END_OF_LINE.match(text, at)
        if end is None and at < len(text):
            what = "has text behind the double quote that closes a cell; a double quote within one is written twice"
            raise SpecError(what, label, line, at - line_start + 1)
        yield tuple(cells)
        cells = []
        if end is None or end.end() == len(text):
            return
        at = line_start = end.end()
        line += 1


# -- the decimal mark ----------------------------------------------------------------------------------------------
_NUMBER = re.compile(r"(?P<sign>[-+−]?)(?P<digits>[0-9][0-9.,]*)(?P<rest>(?:[ \u00a0]*[A-Za-z°µμΩω%‰²³/·].*)?)")
_GROUPS = {",": re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+"), ".": re.compile(r"[1-9][0-9]{0,2}(?:\.[0-9]{3})+")}


def decimal_mark(cells: Iterable[Cell]) -> DecimalMark:
    """The decimal mark of all numbers that can be read in one way only; empty where there is none, or both."""
    shown = {mark for cell in cells if (mark := _mark_shown(cell.text))}
    return "," if shown == {","} else "." if shown == {"."} else ""


def _mark_shown(text: str) -> str:
    """The mark that can only be a decimal one in this number; empty where there is none.

    >>> _mark_shown("4,5 kg"), _mark_shown("1.250,5"), _mark_shown("1,250 kg"), _mark_shown("12")
    (',', ',', '', '')
    """
    found = _NUMBER.fullmatch(text)
    digits = found["digits"] if found else ""
    marks = [c for c in digits if c in ".,"]
    if not marks or digits[-1] in ".,":
        return ""
    last = marks[-1]
    whole, _, decimals = digits.rpartition(last)
    other = "." if last == "," else ","
    if last in whole or (len(marks) > 1 and not _GROUPS[other].fullmatch(whole)):
        return ""  # thousands, or no number
    return last if len(marks) > 1 or len(decimals) != 3 or not re.fullmatch(r"[1-9][0-9]{0,2}", whole) else ""


def _with_point(text: str, decimal: DecimalMark) -> str:
    """A number with a decimal point.

    >>> _with_point("4,5 kg", ""), _with_point("1,250 kg", ","), _with_point("1.250 kg", ",")
    ('4.5 kg', '1.2500 kg', '1250 kg')
    """
    found = _NUMBER.fullmatch(text)
    if found is None:
        return text
    digits = found["digits"]
    mark = _mark_shown(text)
    if not mark:
        alone = [c for c in digits if c in ".,"]
        if not alone or not decimal or digits[-1] in ".,":
            return text
        if _GROUPS["." if decimal == "," else ","].fullmatch(digits):  # parts thousands
            return f"{found['sign']}{re.sub('[.,]', '', digits)}{found['rest']}"
        if decimal not in digits or len(alone) > 1:
            return text
        mark = decimal
    whole, _, decimals = digits.rpartition(mark)
    whole = re.sub(r"[.,]", "", whole)
    if len(decimals) == 3:
        decimals += "0"  # so that nobody takes the point for one that parts thousands
    return f"{found['sign']}{whole}.{decimals}{found['rest']}"


# -- writing -------------------------------------------------------------------------------------------------------
_RUN = re.compile(r"'*[=+\-@\t\r\uff1d\uff0b\uff0d\uff20]")
"""How a text begins that a spreadsheet takes for a formula, or would if the apostrophes before it were taken away."""
_PLAIN_NUMBER = re.compile(r"[-+]?[0-9]+(?:\.[0-9]+)?")


def harmless(text: str) -> str:
    """A text as a cell holds it, so that no spreadsheet runs it as a formula.

    >>> harmless("=1+1"), harmless("-5 degC"), harmless("-5"), harmless("5 mm")
    ("'=1+1", "'-5 degC", '-5', '5 mm')
    """
    return f"'{text}" if _RUN.match(text) and not _PLAIN_NUMBER.fullmatch(text) else text


def _unharmed(text: str) -> str:
    return text[1:] if text.startswith("'") and _RUN.match(text) else text


def table_text(header: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    r"""A table as a file that any spreadsheet opens, columns parted by commas; no text in it is run as a formula.

    Written to a file it begins with a byte-order mark, without which some take it for an old code page.

    >>> table_text(["field", "value"], [["engine.note", 'a "six", new']])
    'field,value\r\nengine.note,"a ""six"", new"\r\n'
    """
    return "".join(",".join(map(cell_text, row)) + "\r\n" for row in (header, *rows))


def cell_text(text: str) -> str:
    """A text as one cell, whatever parts the columns."""
    text = harmless(text)
    if re.search(r'[",;\t\r\n]', text) or text != text.strip():
        text = '"' + text.replace('"', '""') + '"'
    return text
