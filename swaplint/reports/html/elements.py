"""Elements of a page. Text is escaped wherever it does not come from here: no spec can write a tag.

el("p", "a < b", cls="quiet")  →  <p class="quiet">a &lt; b</p>
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from html import escape
from itertools import groupby

from swaplint.reports.layout import Line, safe


class Html(str):
    """Text that is HTML already, to stand as it is: what this module made, and names of places."""

    __slots__ = ()


Piece = str | None | Iterable["Piece"]
"""What stands in an element: text, elements, nothing, or several of these."""

Long = list[Html]
"""HTML in pieces, one after another: what may be of many megabytes is never put together, nor copied."""

EMPTY = Html("")
_VOID = {"br", "meta", "col", "hr"}


def el(name: str, /, *inside: Piece, cls: str = "", **attributes: str | bool | None) -> Html:
    """An element. An attribute that is None or False is left out, one that is True stands without a value.

    >>> el("a", "R & D", href="#x", cls="link")
    '<a class="link" href="#x">R &amp; D</a>'
    """
    parts = [f' class="{_quoted(cls)}"'] if cls else []
    for key, value in attributes.items():
        if value is True:
            parts.append(f" {_attribute(key)}")
        elif isinstance(value, str):
            parts.append(f' {_attribute(key)}="{_quoted(value)}"')
    head = f"<{name}{''.join(parts)}>"
    return Html(head if name in _VOID else f"{head}{joined(*inside)}</{name}>")


def around(name: str, /, *inside: Piece, cls: str = "", **attributes: str | bool | None) -> Long:
    """An element in pieces.

    >>> around("p", ["a", Html("<br>")], cls="quiet")
    ['<p class="quiet">', 'a', '<br>', '</p>']
    """
    end = f"</{name}>"
    return [Html(el(name, cls=cls, **attributes).removesuffix(end)), *in_pieces(*inside), Html(end)]


def in_pieces(*pieces: Piece) -> Long:
    """Pieces one after another, not put together; those that hold nothing are left out."""
    return [text for text in _texts(pieces) if text]


def _texts(piece: Piece) -> Iterator[Html]:
    if piece is None or isinstance(piece, str):
        yield piece if isinstance(piece, Html) else Html(_text(piece))
        return
    for one in piece:
        yield from _texts(one)


def joined(*pieces: Piece) -> Html:
    """Pieces one after another, without an element around them.

    >>> joined("<b>", [Html("<i>"), None])
    '&lt;b&gt;<i>'
    """
    return Html("".join(map(_text, pieces)))


def drawn(svg: str) -> Html:
    """A drawing that the host made and escaped."""
    return Html(svg)


def _text(piece: Piece) -> str:
    if isinstance(piece, Html):
        return piece
    if isinstance(piece, str):
        return escape(safe(piece), quote=False)
    return "" if piece is None else "".join(map(_text, piece))


def _attribute(key: str) -> str:
    return key.rstrip("_").replace("_", "-")


def _quoted(value: str) -> str:
    return value if isinstance(value, Html) else escape(safe(value), quote=True)


# -- tables ----------------------------------------------------------------------------------------------------------
def table(
    caption: str, heads: Iterable[Piece], rows: Iterable[Iterable[Piece]], *, cls: str = "", unseen: bool = False
) -> Html:
    """A table whose first column names its rows. `unseen` leaves the caption to who hears the page read."""
    return el(
        "table",
        el("caption", caption, cls="unseen" if unseen else ""),
        el("thead", el("tr", [el("th", head, scope="col") for head in heads])),
        el("tbody", [_row(row) for row in rows]),
        cls=cls,
    )


def _row(cells: Iterable[Piece]) -> Html:
    first, *rest = cells
    return el("tr", el("th", first, scope="row"), [el("td", cell) for cell in rest])


def scrolled(name: str, inside: Html) -> Html:
    """What is wider than a phone, to be moved sideways by finger or keyboard."""
    return el("div", inside, cls="wide", tabindex="0", role="region", aria_label=name)


def facts(pairs: Iterable[tuple[str, Piece]], cls: str = "facts") -> Html:
    """Named facts below each other; those that are empty are left out."""
    return el("dl", [el("div", el("dt", name), el("dd", value)) for name, value in pairs if value], cls=cls)


def stated(rows: Iterable[tuple[str, str]]) -> list[Html]:
    """What the spec states, each with where, as items of a list: those of one part together.

    >>> stated([("tyres.width = 255 mm", "line 3"), ("tyres.load = 9 kN", "line 4")])[0]
    '<b>tyres</b> width = 255 mm <i>line 3</i>; load = 9 kN <i>line 4</i>'
    """
    parts: dict[str, list[Html]] = {}
    for words, where in rows:
        path = words.split(" ", 1)[0]
        part = path.rpartition(".")[0]
        name = words.removeprefix(f"{part}.") if part else words
        parts.setdefault(part, []).append(joined(name, " ", el("i", where)))
    return [
        joined([el("b", part), " "] if part else None, [["; " if n else "", one] for n, one in enumerate(inside)])
        for part, inside in parts.items()
    ]


# -- text sheets -----------------------------------------------------------------------------------------------------
def laid_out(lines: Iterable[Line]) -> Html:
    """Lines of a text sheet without end: headings, paragraphs, what stands further in as a list, labels beside text.

    >>> laid_out([[("PASSES ", "bold"), ("───", "dim")], [("", ""), ("from 1", "bold")], [("   ", ""), ("why", "")]])
    '<h3>Passes</h3><p><strong>from 1</strong></p><ul><li>why</li></ul>'
    """
    return joined([_block(kind, list(of_kind)) for kind, of_kind in groupby(filter(None, lines), key=_kind)])


_RULE = re.compile("─+")


def _kind(line: Line) -> str:
    first, last = line[0][0], line[-1][0]
    if _RULE.fullmatch(last.strip()):
        return "heading"
    if len(line) > 1 and first.strip():
        return "label"
    return "inside" if first.startswith(" ") else "paragraph"


def _block(kind: str, lines: list[Line]) -> Piece:
    if kind == "heading":
        return [el("h3", line[0][0].strip().capitalize()) for line in lines]
    if kind == "label":
        rows = [(line[0][0].strip(), _pieces(line[1:])) for line in lines]
        return el("dl", [el("div", el("dt", name), el("dd", words)) for name, words in rows], cls="facts labelled")
    if kind == "inside":
        return el("ul", [el("li", _pieces(line)) for line in lines])
    return [el("p", _pieces(line)) for line in lines]


def _pieces(line: Line) -> Html:
    shown = [(text.strip(), style) for text, style in line if text.strip()]
    inside = [el("strong", text) if "bold" in style else text for text, style in shown]
    return joined([joined(" " if number else None, piece) for number, piece in enumerate(inside)])
