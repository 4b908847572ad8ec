"""Names of places in a page, and the ways to them."""

from __future__ import annotations

import re

from swaplint.reports.html.elements import Html, Piece, el

OF_SPEC = "\ue000"
"""Stands before every name of a place in a spec's part of a page. It becomes nothing, or the spec's number where there
are several; no spec can write it, for text keeps no character of private use."""


def place(kind: str, id: str) -> Html:
    """The name of a place: of a rule or quantity by its id, of a system or a section. Never what a spec states."""
    assert _ID.fullmatch(id), id
    return Html(f"{OF_SPEC}{kind}-{id}")


_ID = re.compile(r"[A-Za-z0-9.-]+")


def link(kind: str, id: str, words: Piece) -> Html:
    """The way to a place in the same page."""
    return el("a", words, href=Html(f"#{place(kind, id)}"))


def link_to_number(id: str) -> Html:
    """The way from where a quantity is used to all that goes into it."""
    return link("number", id, el("code", id))
