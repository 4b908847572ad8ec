"""The drawings of a page: what packs declare, and the margins of all results, as SVG with words and sources."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swaplint.host.packs import LoadedPack
from swaplint.inspecting.results import Inspection
from swaplint.reports.drawing import canvas
from swaplint.reports.drawing.margins import TITLE, margins_svg, margins_words, with_margins


@dataclass(frozen=True)
class Figure:
    """One drawing for a page."""

    id: str
    """Its id, as of a rule: what an anchor and the drawing's own ids are made of."""
    title: str
    words: str
    """What it shows, with its numbers, for who cannot see it. Plain text, not escaped."""
    svg: str
    """An SVG element for the body of a page, escaped, its colours variables of `figure_style`. Empty where it cannot be
    drawn yet: `words` then says what is missing."""
    source: str
    """What it was computed from and whose limits it shows. Plain text, not escaped."""


def figures(inspected: Inspection, packs: Sequence[LoadedPack] = ()) -> list[Figure]:
    """The drawings of an inspection: the margins first, then those of the packs by system."""
    if not_drawn():
        return []
    out = []
    if with_margins(inspected.findings):
        out.append(
            Figure(
                "host.margins",
                TITLE,
                margins_words(inspected.findings),
                margins_svg(inspected.findings),
                "Every result of this report with a number and a limit; the source of each stands with it.",
            )
        )
    return out


def not_drawn() -> str:
    """Why there are no drawings, as a sentence; empty where there are."""
    return canvas.can_draw()


def figure_style() -> str:
    """The colours of the drawings as CSS for the page: light and dark, light in print."""
    return canvas.style()
