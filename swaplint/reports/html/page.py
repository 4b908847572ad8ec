"""The page itself: one file with all that it needs, and nothing that runs in it or is fetched."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from importlib.resources import files

from swaplint.declare.cautions import CLOSING
from swaplint.reports.html.elements import Html, Long, Piece, around, el, in_pieces, scrolled, table
from swaplint.reports.html.figures import figure_style
from swaplint.reports.html.naming import OF_SPEC
from swaplint.reports.html.sheet import SpecSheet

NOTHING_ELSE = "default-src 'none'; style-src 'unsafe-inline'"
"""What a browser may load or run for the page: its own style sheet."""
FOLDED = "Not printed: what folds open on the screen below every result and every number. Written with --whole it is."
_HEADS = ("spec", "build", "stage", "gate", "errors", "warnings", "notes", "owed", "review")


def inspection_page(
    sheets: Sequence[SpecSheet], troubles: Iterable[str] = (), *, unfolded: bool = False
) -> Iterator[str]:
    """The page of a call, in pieces: each spec's sheet, below a table of all where there are several."""
    several = len(sheets) > 1
    title = f"{len(sheets)} build specs" if several else "".join(f"{one.name}: {one.gate.lower()}" for one in sheets)
    parts = [
        [Html(piece.replace(OF_SPEC, f"spec-{number}-" if several else "")) for piece in one.body]
        for number, one in enumerate(sheets, 1)
    ]
    articles = [around("article", part, cls="spec", id=f"spec-{n}") for n, part in enumerate(parts, 1)]
    return page_in_pieces(
        title or "Nothing was inspected",
        "Inspection sheet",
        in_pieces(_all(sheets) if several else None, articles),
        troubles,
        unfolded=unfolded,
    )


def page(title: str, kind: str, content: Html, troubles: Iterable[str] = ()) -> str:
    """A whole document, of which nothing is the same for all that folds."""
    return "".join(page_in_pieces(title, kind, [content], troubles))


def page_in_pieces(
    title: str, kind: str, content: Long, troubles: Iterable[str] = (), *, unfolded: bool | None = None
) -> Iterator[str]:
    """A whole document: what kind of sheet it is stands above its content, what broke and what to mind below.

    What folds is closed on paper too, unless all is `unfolded`; None where a page cannot be had in both ways.
    """
    wrong = [el("li", words) for words in troubles]
    head = el(
        "head",
        el("meta", charset="utf-8"),
        el("meta", name="viewport", content="width=device-width, initial-scale=1"),
        el("meta", http_equiv="Content-Security-Policy", content=NOTHING_ELSE),
        el("meta", name="color-scheme", content="light dark"),
        el("title", title),
        el("style", Html(_style())),
    )
    body = around(
        "body",
        el("a", "To the sheet", href="#sheet", cls="unseen skip"),
        el("header", el("h1", kind), cls="letterhead"),
        around(
            "main",
            el("section", el("h2", "What could not be read or run"), el("ul", wrong), cls="troubles")
            if wrong
            else None,
            content,
            id="sheet",
        ),
        el("footer", el("p", FOLDED, cls="on-paper") if unfolded is False else None, el("p", CLOSING)),
    )
    yield "<!DOCTYPE html>\n"
    for piece in around("html", head, body, lang="en"):
        shown = piece.replace("<details", "<details open") if unfolded else piece  # text cannot hold a tag
        yield shown.replace(OF_SPEC, "")
    yield "\n"


def _style() -> str:
    return figure_style() + files("swaplint.reports.html").joinpath("page.css").read_text("utf-8")


def _all(sheets: Sequence[SpecSheet]) -> Html:
    rows: list[list[Piece]] = [
        [
            el("a", one.label, href=f"#spec-{number}"),
            one.name,
            one.stage,
            one.gate.removeprefix("Gate ").lower(),
            *map(str, one.counts),
        ]
        for number, one in enumerate(sheets, 1)
    ]
    return scrolled("Every spec of this call", table("Every spec of this call", _HEADS, rows, cls="specs"))
