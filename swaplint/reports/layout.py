"""Laying out text for a terminal, a pipe or paper: styled pieces in, lines out.

The layout is the same with and without colour. rich is imported only to colour a terminal.
"""

from __future__ import annotations

import os
import re
import shutil
import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import IO, TextIO

from swaplint.host.streams import report_stream

PIPE_WIDTH = 100
NARROWEST, WIDEST = 60, 140
WITHOUT_END = 100_000
"""The width of lines that whoever shows them breaks where they will."""

Style = str
Line = list[tuple[str, Style]]


@dataclass(slots=True)
class Sheet:
    """Lines of a text report, each a list of (text, style)."""

    width: int
    lines: list[Line]

    @classmethod
    def of_width(cls, width: int) -> Sheet:
        """An empty sheet."""
        return cls(max(NARROWEST, min(WIDEST, width)), [])

    def line(self, *pieces: tuple[str, Style]) -> None:
        """Add a line as it is."""
        self.lines.append([(safe(text), style) for text, style in pieces])

    def blank(self) -> None:
        """Add an empty line, unless there is one already."""
        if self.lines and self.lines[-1]:
            self.lines.append([])

    def heading(self, text: str, style: Style = "bold") -> None:
        """Add a heading with a rule that fills the width."""
        self.blank()
        text = safe(text)
        self.lines.append([(text + " ", style), ("─" * max(3, self.width - len(text) - 1), "dim")])

    def wrapped(
        self,
        text: str,
        *,
        label: str = "",
        indent: int = 0,
        hang: int = 0,
        style: Style = "",
        label_style: Style = "dim",
    ) -> None:
        """Add a paragraph: a label in a column of `hang` characters, and the text beside it, wrapped."""
        first = " " * indent + label.ljust(hang)
        rest = " " * (indent + hang)
        body = _wrap(text, max(20, self.width - len(rest)))
        self.lines.append([(first, label_style), (body[0], style)])
        self.lines.extend([(rest, ""), (piece, style)] for piece in body[1:])

    def leader(
        self,
        left: str,
        right: str,
        *,
        indent: int = 0,
        label: str = "",
        hang: int = 0,
        left_style: Style = "",
        right_style: Style = "dim",
    ) -> None:
        """Add something at the left and something at the right with dots between; on more lines where one is short."""
        right = safe(right)
        start = " " * indent + label.ljust(hang)
        room = self.width - len(start)
        lines = _wrap(left, max(20, room))
        for text in lines:
            self.lines.append([(start, "dim"), (text, left_style)])
            start = " " * (indent + hang)
        between = room - len(lines[-1]) - len(right)
        if between < 1:
            self.lines.append([(" " * max(0, self.width - len(right)), ""), (right, right_style)])
            return
        dots = f" {'.' * (between - 2)} " if between >= 5 else " " * between
        self.lines[-1] += [(dots, "dim"), (right, right_style)]


def cut(text: str, room: int) -> str:
    """A text that ends with … where it is longer than the room, behind a whole word where one ends not far before.

    >>> cut("a long text", 7), cut("short", 7)
    ('a long…', 'short')
    >>> cut("until it overheats", 14), cut("plumbing.fuel.supply.bore", 14)
    ('until it…', 'plumbing.fuel…')
    """
    text = safe(text)
    if len(text) <= room:
        return text
    kept = text[: max(0, room - 1)]
    if text[len(kept)] != " " and (space := kept.rfind(" ", max(0, len(kept) - _LONGEST_WORD))) > 0:
        kept = kept[:space]
    return kept.rstrip(" ,;:") + "…"


_LONGEST_WORD = 16
"""How far back a text is cut so that no word is."""


def cut_clause(text: str, room: int) -> str:
    """A sentence that ends with … where it is longer than the room, behind a whole clause where that leaves half of it.

    >>> cut_clause("The shaft breaks under load: drive is lost, and the loose end beats at lines.", 40)
    'The shaft breaks under load…'
    """
    text = safe(text)
    if len(text) <= room:
        return text
    ends = [found.start() for found in re.finditer(r"[,;:] ", text[:room])]
    return f"{text[: ends[-1]]}…" if ends and 2 * ends[-1] >= room else cut(text, room)


def wrapped_lines(text: str, width: int) -> list[str]:
    """A text as lines of a width, a number never parted from its unit."""
    return _wrap(text, width)


_TOGETHER = re.compile(
    r"(?<=\d) (?=[%°‰]|[A-Za-zµΩ°]{1,4}[²³]?(?![\w'])|\d{3}(?!\d)|[\w²³]+/)"  # a number and its unit; thousands
    r"|(?<=\d) (?=inH2O\b|US (?:gal|qt|gpm|gph|fl)\b)|(?<=\d US) (?=gal\b|qt\b|gpm\b|gph\b|fl\b)"
    r"|(?<=\bN) (?=m\b)|(?<=[±≈]) (?=\d)|(?<=\bline) (?=\d)|(?<=\blines) (?=\d)"
)
"""The spaces at which a line must not end."""


def _wrap(text: str, width: int) -> list[str]:
    """A text as lines, a number never parted from its unit."""
    if len(text) <= width and text.isprintable():
        return [text.rstrip()]
    kept = _TOGETHER.sub("\N{NO-BREAK SPACE}", safe(text))
    lines = textwrap.wrap(kept, width, break_long_words=True, break_on_hyphens=False) or [""]
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in lines]


def safe(text: str) -> str:
    """Text without characters that could steer a terminal."""
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() else " " if c in "\t\n" else "�" for c in text)


def wants_colour(stream: IO[str]) -> bool:
    """Whether a stream gets colour: a terminal that can show it, or anything with `FORCE_COLOR`; none with `NO_COLOR`.

    Both count where they are set to anything but nothing, and `NO_COLOR` goes before the other.
    """
    if os.environ.get("NO_COLOR"):
        return False
    return bool(os.environ.get("FORCE_COLOR")) or (stream.isatty() and os.environ.get("TERM") != "dumb")


def width_of(stream: IO[str]) -> int:
    """The width to lay out for: that of the terminal or of COLUMNS; a pipe gets a fixed one."""
    columns = os.environ.get("COLUMNS", "")
    if stream.isatty() or columns.isdigit():
        return shutil.get_terminal_size((PIPE_WIDTH, 24)).columns
    return PIPE_WIDTH


def plain(lines: Iterable[Sequence[tuple[str, Style]]]) -> str:
    """The lines as plain text."""
    return "".join("".join(text for text, _ in line).rstrip() + "\n" for line in lines)


def write(sheet: Sheet, stream: TextIO | None = None) -> None:
    """Write a sheet, coloured where that is wanted."""
    stream = stream or report_stream()
    if not wants_colour(stream):
        stream.write(plain(sheet.lines))
        return
    # Imported here: a pipe does not need it.
    from rich.console import Console
    from rich.text import Text

    own = stream.isatty() and os.environ.get("TERM") != "dumb"
    console = Console(
        file=stream,
        width=max(sheet.width, 20),
        highlight=False,
        soft_wrap=True,
        force_terminal=True,
        color_system="auto" if own else "standard",
        legacy_windows=None if own else False,
    )
    for line in sheet.lines:
        console.print(Text.assemble(*line))
