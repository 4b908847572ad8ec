"""The drawings on the page, each with what it shows in words and what it was computed from."""

from __future__ import annotations

import re
from collections.abc import Sequence

from swaplint.reports.html.elements import EMPTY, Html, drawn, el, joined
from swaplint.reports.html.figures import Figure, not_drawn
from swaplint.reports.html.naming import OF_SPEC, place

MARGINS = "host.margins"
"""The figure of all margins, which belongs to the systems at a glance."""


def margins(figures: Sequence[Figure]) -> Html:
    """The margins of all results on one scale; nothing where they are not drawn."""
    return joined([one_drawing(figure, "margins") for figure in figures if figure.id == MARGINS])


def drawn_below(figures: Sequence[Figure]) -> Html:
    """All other drawings, then those that cannot be drawn yet and why."""
    others = [figure for figure in figures if figure.id != MARGINS]
    missing = [figure for figure in others if not figure.svg]
    return joined(
        el("p", not_drawn()) if not_drawn() else None,
        [one_drawing(figure) for figure in others if figure.svg],
        el("dl", [joined(el("dt", figure.title), el("dd", figure.words)) for figure in missing], cls="not-drawn")
        if missing
        else EMPTY,
    )


def one_drawing(figure: Figure, cls: str = "") -> Html:
    """A drawing with its title, what it shows in words and its source."""
    return el(
        "figure",
        el("h4", figure.title),
        el("div", drawn(_named_apart(figure)), cls="drawing", tabindex="0", role="region", aria_label=figure.title),
        el(
            "figcaption",
            el("details", el("summary", "In words"), el("p", figure.words), cls="fold"),
            el("p", figure.source),
        ),
        cls=cls,
        id=place("drawing", figure.id),
    )


def _named_apart(figure: Figure) -> str:
    """A drawing with names of its own, where a page shows the same of several specs."""
    name = re.sub(r"[^a-z0-9]+", "-", figure.id.lower())
    return figure.svg.replace(f"{name}--", f"{OF_SPEC}{name}--")
